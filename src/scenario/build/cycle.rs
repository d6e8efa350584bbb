//! The refrigerant's cycle, and how its heat gets into the water.

use super::super::checker::{Checker, Section};
use super::super::codes;
use super::super::keys::quoted;
use crate::heat_pump::Cycle;

/// How the key `exchanger` names a coil around or in the tank.
const TANK_COIL: &str = "tank coil";

/// The cycle that the household's words name.
pub(super) fn of(at: &mut Checker, section: &Section<'_>) -> Cycle {
    let refrigerant = at.word(section, "refrigerant").unwrap_or("R744");
    let way = way(at, section, refrigerant);
    match (refrigerant, way, tank_coil(at, section, refrigerant, way)) {
        ("R744", "suction exchanger", _) => Cycle::R744SuctionExchanger,
        ("R744", "110 bar", _) => Cycle::R744Low,
        ("R744", ..) => Cycle::R744,
        ("R134a", _, true) => Cycle::R134aTankCoil,
        ("R134a", "deep subcooling", _) => Cycle::R134aDeep,
        ("R134a", ..) => Cycle::R134a,
        ("R290", _, true) => Cycle::R290TankCoil,
        ("R290", "deep subcooling", _) => Cycle::R290Deep,
        ("R290", ..) => Cycle::R290,
        ("R1234yf", _, true) => Cycle::R1234yfTankCoil,
        ("R1234yf", "deep subcooling", _) => Cycle::R1234yfDeep,
        ("R1234yf", ..) => Cycle::R1234yf,
        ("R32", _, true) => Cycle::R32TankCoil,
        ("R32", "deep subcooling", _) => Cycle::R32Deep,
        ("R32", ..) => Cycle::R32,
        (_, _, true) => Cycle::R410ATankCoil,
        (_, "deep subcooling", _) => Cycle::R410ADeep,
        _ => Cycle::R410A,
    }
}

/// The way of running the cycle, as said or as usual for the refrigerant.
fn way(at: &mut Checker, section: &Section<'_>, refrigerant: &str) -> &'static str {
    let (usual, ways): (&str, &[&str]) = match refrigerant {
        "R744" => ("plain", &["plain", "suction exchanger", "110 bar"]),
        _ => ("ordinary", &["ordinary", "deep subcooling"]),
    };
    let way = at.word(section, "cycle").unwrap_or_else(|| {
        let reason =
            "Common practice, no source: the plain cycle of its refrigerant, unless its papers say more";
        at.assume(section.path_of("cycle"), usual.to_owned(), reason);
        usual
    });
    let path = section.path_of("cycle");
    if !ways.contains(&way) && !at.is_tainted(&section.path_of("refrigerant")) && !at.is_tainted(&path) {
        let what = format!("`{path}` of `{way}` does not belong to {refrigerant}");
        at.fault(&path, codes::UNKNOWN_WORD, what, Some(quoted(ways.iter().copied())), None);
    }
    way
}

/// Whether the water is heated by a coil at the tank; noted as a fault where that does not go with the rest.
fn tank_coil(at: &mut Checker, section: &Section<'_>, refrigerant: &str, way: &str) -> bool {
    if at.word(section, "exchanger") != Some(TANK_COIL) {
        return false;
    }
    let path = section.path_of("exchanger");
    let tainted = ["refrigerant", "cycle"].iter().any(|name| at.is_tainted(&section.path_of(name)));
    if !tainted && (refrigerant == "R744" || way == "deep subcooling") {
        let other = if refrigerant == "R744" { refrigerant } else { way };
        let what = format!("`{path}` of `{TANK_COIL}` does not go with {other}");
        let help = "carbon dioxide and deep subcooling need water that passes in counterflow: a coil at a tank that warms as a whole \
                    does not give it";
        at.fault(&path, "S113", what, Some("`plate`".to_owned()), Some(help.to_owned()));
        return false;
    }
    if section.has("single_pass") {
        let what = format!("`{path}` of `{TANK_COIL}` does not go with `single_pass`");
        let help = "a coil warms the tank's water a little at a time: take `single_pass` out, or the coil is a plate exchanger";
        at.fault(&path, "S145", what, None, Some(help.to_owned()));
        return false;
    }
    true
}

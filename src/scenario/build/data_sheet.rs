//! Size and efficiency of the heat pump: lines of its data sheet, or its nominal heat.

use super::super::checker::{Checker, Section};
use super::super::codes;
use crate::heat_pump::Cycle;
use crate::household::{SheetPoint, UnitSize, coil_freezes};
use crate::units::{Kind, celsius, kelvin, plain, watts};

/// How far a COP and the power beside it may disagree: both are rounded on a sheet, power to 0.05 kW of 1 kW at worst.
/// Common practice, no source.
const COP_AGREES_FRAC: f64 = 0.05;

/// What is known of the unit's size and efficiency.
pub(super) fn size(at: &mut Checker, pump: &Section<'_>, cycle: Cycle) -> UnitSize {
    match at.one_of(pump, &["data_sheet", "nominal_heat"], true) {
        Some("nominal_heat") => {
            let reason = "Derived here: COP of the cycle calculated for its refrigerant, and the heat at room air 7 °C, water 10 to 55 °C; the unit's own data sheet would be better";
            at.assume(pump.path_of("data_sheet"), "from the cycle".to_owned(), reason);
            UnitSize::Nominal(watts(at.value(pump, "nominal_heat")))
        }
        _ => UnitSize::DataSheet(points(at, pump, cycle)),
    }
}

/// The lines of the sheet; where there is none, or none can be read, one that stands for it while the rest is checked.
fn points(at: &mut Checker, pump: &Section<'_>, cycle: Cycle) -> Vec<SheetPoint> {
    let sections = at.list(pump, "data_sheet");
    let path = pump.path_of("data_sheet");
    if sections.is_empty() {
        if pump.has("data_sheet") && !at.is_tainted(&path) {
            let help = "give one line of the sheet, or `nominal_heat` in its place";
            at.fault(&path, codes::MISSING, format!("`{path}` has no line"), None, Some(help.to_owned()));
        }
        return vec![stand_in()];
    }
    sections.iter().map(|section| point(at, section, cycle)).collect()
}

/// A line that is never run: there is a fault beside it.
fn stand_in() -> SheetPoint {
    SheetPoint {
        room_air: celsius(7.0),
        water_in: celsius(10.0),
        water_out: celsius(55.0),
        heat_output: watts(4500.0),
        power: None,
        defrost_included: false,
    }
}

fn point(at: &mut Checker, section: &Section<'_>, cycle: Cycle) -> SheetPoint {
    let room_air = at.value(section, "room_air");
    let heat_output = at.value(section, "heat_output");
    SheetPoint {
        room_air: kelvin(room_air),
        water_in: kelvin(at.value(section, "water_in")),
        water_out: kelvin(at.value(section, "water_out")),
        heat_output: watts(heat_output),
        power: power(at, section, heat_output).map(watts),
        defrost_included: defrost_included(at, section, coil_freezes(cycle, room_air)),
    }
}

/// Power drawn, W, from `power`, from `cop`, or from neither.
fn power(at: &mut Checker, section: &Section<'_>, heat_w: f64) -> Option<f64> {
    let power = at.optional(section, "power");
    let cop = at.number(section, "cop");
    match (power, cop) {
        (Some(power), Some(cop)) => {
            agree(at, section, (heat_w, power), cop);
            Some(power)
        }
        (None, Some(cop)) => Some(heat_w / cop),
        (power, None) => {
            if power.is_none() {
                let reason = "Derived here: COP of the cycle calculated for its refrigerant; the unit's own data sheet would be better";
                at.assume(section.path_of("cop"), "from the cycle".to_owned(), reason);
            }
            power
        }
    }
}

/// Notes a COP that is not the quotient of heat and power.
fn agree(at: &mut Checker, section: &Section<'_>, (heat_w, power_w): (f64, f64), cop: f64) {
    let faulty = |name| at.is_tainted(&section.path_of(name));
    if ["cop", "power", "heat_output"].into_iter().any(faulty) {
        return;
    }
    let quotient = heat_w / power_w;
    if (quotient / cop - 1.0).abs() > COP_AGREES_FRAC {
        let path = section.path_of("cop");
        let power = Kind::Power.units()[0].write(power_w);
        let heat = Kind::Power.units()[0].write(heat_w);
        let what = format!(
            "`{path}` of {} is not the {} that {heat} of heat from {power} of power make",
            plain(cop, 3),
            plain(quotient, 3)
        );
        let allowed = format!(
            "{} to {}, or leave one of the two out",
            plain(quotient * (1.0 - COP_AGREES_FRAC), 3),
            plain(quotient * (1.0 + COP_AGREES_FRAC), 3)
        );
        let help = "take all values from the same line; a COP over a season, or one with the circulator in it, is another number";
        at.fault(&path, "S150", what, Some(allowed), Some(help.to_owned()));
    }
}

/// Whether defrosting is in the line's numbers: only where the coil freezes, and there unless the scenario says otherwise.
fn defrost_included(at: &mut Checker, section: &Section<'_>, freezes: bool) -> bool {
    match at.word(section, "defrost") {
        Some(word) => freezes && word == "included",
        None => {
            if freezes && !at.is_tainted(&section.path_of("room_air")) {
                let reason = "Common practice, no source: test standards average over frosting and defrosting in air as cold as that";
                at.assume(section.path_of("defrost"), "included".to_owned(), reason);
            }
            freezes
        }
    }
}

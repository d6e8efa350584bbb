//! Surfaces of the room: what they are made of and what lies beyond.

use super::super::checker::{Checker, Place, Section};
use super::super::codes;
use super::super::keys::si_of;
use super::HOUR_S;
use crate::household::{Beyond, RoomSurface};
use crate::room::{
    BasementWall, Framing, GroundFloor, Layer, Lies, MOST_FRAMED_LAYERS, MOST_LIMITS_RATIO, Material,
    OUTDOOR_FILM_M2_K_PER_W, OtherSide, ResistanceLimits, SLAB_LAG_MONTHS, Soil, films_m2_k_per_w,
};
use crate::sun::{SunnySide, absorptance_of};
use crate::units::{Kind, conductance, fraction, interval, metres, plain, seconds, square_metres, u_value};

/// Seconds in a mean month of the year.
const MONTH_S: f64 = 365.0 * 24.0 * HOUR_S / 12.0;
/// Lowest U value of a surface, as for the key `u_value`.
const LEAST_U_VALUE: &str = "0.01 W/m2K";
/// Where the U value of layers comes from.
const LAYERS_U_SOURCE: &str = "Derived here: from its layers by ISO 6946 with films of 0.13 m2K/W across, 0.17 down, 0.10 up and 0.04 outdoors (second hand: public copies), framing by its combined method (from memory); what else passes through is left out";
/// Where the U value of a floor or wall in the ground comes from.
const IN_GROUND_U_SOURCE: &str = "Derived here: by ISO 13370 (second hand: public calculation sources naming it), from the room to the outdoor air";
/// Where the share of the sun that a color takes up comes from.
const ABSORPTANCE_SOURCE: &str = "Derived here: 0.15 (light) and 0.30 (dark) h ft2 °F/Btu times 3.0 Btu/(h ft2 °F), ASHRAE Handbook Fundamentals, sol-air temperature (second hand; the 3.0 from memory); medium lies halfway; dark if no color is said";
/// Where its share in the seasons comes from.
const IN_GROUND_SWING_SOURCE: &str = "From memory, to be verified: external periodic coefficient and lag of ISO 13370, annex A; where the share is wrong the gain moves between summer and winter, not over the year";

/// Where a basement wall's share in the seasons comes from.
const WALL_SWING_SOURCE: &str = "Derived here: the soil's swing by depth, weighted by what each depth lets through; a month late as ISO 13370, annex A, has it (from memory, to be verified)";

pub(super) fn room_surface(at: &mut Checker, section: &Section<'_>) -> RoomSurface {
    let name = at.text(section, "name");
    let area = square_metres(at.value(section, "area"));
    let described = at.one_of(section, &["u_value", "r_value", "layers", "slab", "basement_wall"], true);
    let in_ground = described.filter(|described| ["slab", "basement_wall"].contains(described));
    let (u, faces) = match in_ground {
        Some("slab") => slab(at, section, area.value),
        Some(_) => basement_wall(at, section),
        None => {
            let faces = faces(at, section);
            let u = match described {
                Some("layers") => layered(at, section, faces),
                Some("r_value") => 1.0 / at.value(section, "r_value"),
                _ => at.value(section, "u_value"),
            };
            (u, faces)
        }
    };
    if !section.has("layers") {
        only_where(at, section, &["lies"], "a surface with `layers`", "give its `layers`");
    }
    let bridges = conductance(bridges_w_per_k(at, section));
    if let Some(described) = in_ground {
        let passed = ["bridges", "penetrations"];
        let surface = format!("a surface without `{described}`");
        only_where(at, section, &passed, &surface, "give them to the wall beside it");
    }
    let sun = at.optional_section(section, "sun").map(|sun| sunny_side(at, &sun));
    if faces != Beyond::Outdoors {
        only_where(at, section, &["sun"], "a surface that faces `outdoors`", "let it face `outdoors`");
    }
    RoomSurface { name, area, u_value: u_value(u), bridges, sun, faces }
}

fn sunny_side(at: &mut Checker, section: &Section<'_>) -> SunnySide {
    let absorptance_frac = match at.one_of(section, &["color", "absorptance"], false) {
        Some("absorptance") => at.value(section, "absorptance"),
        _ => {
            let color = at.word(section, "color").unwrap_or("dark");
            let absorptance = absorptance_of(color).expect("the table of keys has the same colors");
            at.assume(
                section.path_of("absorptance"),
                format!("{} %", plain(100.0 * absorptance, 3)),
                ABSORPTANCE_SOURCE,
            );
            absorptance
        }
    };
    let slope_deg = at.number(section, "slope").unwrap_or_else(|| {
        at.assume(section.path_of("slope"), "90".to_owned(), "Common practice, no source: an upright wall");
        90.0
    });
    if slope_deg > 0.0 && !section.has("azimuth") {
        at.need(section, "azimuth");
    }
    SunnySide {
        // A flat roof looks nowhere.
        azimuth_deg: at.number(section, "azimuth").unwrap_or(0.0),
        slope_deg,
        absorptance_frac,
        ground_reflects_frac: at.value(section, "ground_reflects"),
        shade_frac: at.value(section, "shade"),
        film_m2_k_per_w: at.value(section, "film"),
    }
}

/// What seams and single things carry past the insulation, W/K: `sum l psi + sum chi`.
///
/// # Source
/// From memory, to be verified: ISO 13789, direct transmission with linear and point thermal transmittances.
fn bridges_w_per_k(at: &mut Checker, surface: &Section<'_>) -> f64 {
    let bridge = |at: &mut Checker, one: &Section<'_>| {
        at.text(one, "name");
        at.value(one, "length") * at.value(one, "per_length")
    };
    let penetration = |at: &mut Checker, one: &Section<'_>| {
        at.text(one, "name");
        at.number(one, "count").unwrap_or(1.0) * at.value(one, "each")
    };
    let along: f64 = at.list(surface, "bridges").iter().map(|one| bridge(at, one)).sum();
    let through: f64 = at.list(surface, "penetrations").iter().map(|one| penetration(at, one)).sum();
    along + through
}

/// The table that describes a surface in the ground, by its key, and the soil that it names.
fn in_ground<'a>(at: &mut Checker, surface: &Section<'a>, key: &str) -> (Section<'a>, Soil) {
    if let Some(Place::Outdoors | Place::Space(_) | Place::ColdRoom) = at.beyond(surface, "faces") {
        let path = surface.path_of(key);
        let what = format!("`{path}` has a meaning only for a surface that faces the ground");
        let help = "let it face `ground`, or give its `layers` instead".to_owned();
        at.fault(&path, codes::ONE_OF, what, None, Some(help));
    }
    let (meant, mend) = (format!("ground without a `{key}`"), format!("describe it without `{key}`"));
    only_where(at, surface, &["depth", "warmer_by"], &meant, &mend);
    let section = at.section(surface, key);
    let soil = match at.word(&section, "soil") {
        Some("clay") => Soil::Clay,
        Some("rock") => Soil::Rock,
        _ => Soil::Sand,
    };
    (section, soil)
}

/// What is told of a surface in the ground, and its surroundings.
fn felt(
    at: &mut Checker,
    path: &str,
    u_path: String,
    u: f64,
    (swing_frac, source): (f64, &'static str),
) -> Beyond {
    at.assume(u_path, format!("{u:.3} W/m2K"), IN_GROUND_U_SOURCE);
    let felt = format!("{:.0} % of the outdoor air's yearly swing, a month late", 100.0 * swing_frac);
    at.assume(path.to_owned(), felt, source);
    refuse_too_little(at, path, "has", u);
    Beyond::GroundSlab { swing: fraction(swing_frac), lag: seconds(SLAB_LAG_MONTHS * MONTH_S) }
}

/// U value (W/(m2 K)) and surroundings of a floor on the ground.
fn slab(at: &mut Checker, surface: &Section<'_>, area_m2: f64) -> (f64, Beyond) {
    let (section, soil) = in_ground(at, surface, "slab");
    let layers: Vec<_> = at.list(&section, "layers").iter().map(|part| layer(at, part)).collect();
    let films = Lies::Floor.film_m2_k_per_w() + OUTDOOR_FILM_M2_K_PER_W;
    let resistance = resistance(at, &section.path_of("layers"), &layers, films);
    let floor = GroundFloor {
        area_m2,
        perimeter_m: at.value(&section, "perimeter"),
        wall_m: at.value(&section, "wall_thickness"),
        depth_m: at.value(&section, "below"),
        soil_w_per_m_k: soil.conductivity_w_per_m_k(),
        resistance_m2_k_per_w: resistance,
    };
    let swing_frac = floor.swing_iso_13370_frac(soil.penetration_m());
    let u = floor.u_value_iso_13370_w_per_m2_k();
    (
        u,
        felt(
            at,
            &surface.path_of("slab"),
            surface.path_of("u_value"),
            u,
            (swing_frac, IN_GROUND_SWING_SOURCE),
        ),
    )
}

/// U value (W/(m2 K)) and surroundings of a basement's wall below ground.
fn basement_wall(at: &mut Checker, surface: &Section<'_>) -> (f64, Beyond) {
    let (section, soil) = in_ground(at, surface, "basement_wall");
    let layers: Vec<_> = at.list(&section, "layers").iter().map(|part| layer(at, part)).collect();
    let films = Lies::Wall.film_m2_k_per_w() + OUTDOOR_FILM_M2_K_PER_W;
    let resistance = resistance(at, &section.path_of("layers"), &layers, films);
    let soil_w_per_m_k = soil.conductivity_w_per_m_k();
    let floor = at.optional(&section, "floor").unwrap_or(resistance);
    let wall = BasementWall {
        depth_m: at.value(&section, "below"),
        resistance_m2_k_per_w: resistance,
        floor_equivalent_m: soil_w_per_m_k * floor,
        soil_w_per_m_k,
    };
    let swing_frac = wall.swing_frac(soil.penetration_m());
    let u = wall.u_value_iso_13370_w_per_m2_k();
    (
        u,
        felt(
            at,
            &surface.path_of("basement_wall"),
            surface.path_of("u_value"),
            u,
            (swing_frac, WALL_SWING_SOURCE),
        ),
    )
}

fn refuse_too_little(at: &mut Checker, path: &str, has: &str, u: f64) {
    if u < si_of(Kind::UValue, LEAST_U_VALUE) {
        let what = format!("`{path}` {has} a U value of {u:.4} W/m2K");
        let help = Some("look at the units of lengths and conductivity".to_owned());
        at.fault(path, codes::RANGE, what, Some(format!("{LEAST_U_VALUE} or more")), help);
    }
}

fn faces(at: &mut Checker, section: &Section<'_>) -> Beyond {
    match at.beyond(section, "faces") {
        Some(Place::Ground) => {
            if !section.has("depth") {
                at.need(section, "depth");
            }
            let depth = metres(at.value(section, "depth"));
            Beyond::Ground { depth, warmer_by: interval(at.value(section, "warmer_by")) }
        }
        Some(other) => {
            let ground = ["depth", "warmer_by"];
            only_where(at, section, &ground, "a surface that faces the ground", "let it face `ground`");
            beyond(other)
        }
        None => {
            // Whether they have a meaning is not known, but what is written there can be read.
            for name in ["depth", "warmer_by"] {
                at.optional(section, name);
            }
            Beyond::Outdoors
        }
    }
}

/// Keys that mean nothing for this surface.
fn only_where(at: &mut Checker, section: &Section<'_>, names: &[&str], surface: &str, mend: &str) {
    for name in names.iter().filter(|name| section.has(name)) {
        let path = section.path_of(name);
        let what = format!("`{path}` has a meaning only for {surface}");
        at.fault(&path, codes::ONE_OF, what, None, Some(format!("leave out `{name}`, or {mend}")));
    }
}

/// U value of a surface that is described by its layers, W/(m2 K).
fn layered(at: &mut Checker, section: &Section<'_>, faces: Beyond) -> f64 {
    if !section.has("lies") {
        at.need(section, "lies");
    }
    let lies = match at.word(section, "lies") {
        Some("ceiling") => Lies::Ceiling,
        Some("floor") => Lies::Floor,
        _ => Lies::Wall,
    };
    let beyond = match faces {
        Beyond::Outdoors => OtherSide::Outdoors,
        Beyond::Space(_) | Beyond::ColdRoom => OtherSide::Space,
        Beyond::Ground { .. } | Beyond::GroundSlab { .. } => OtherSide::Ground,
    };
    let path = section.path_of("layers");
    let layers: Vec<_> = at.list(section, "layers").iter().map(|part| layer(at, part)).collect();
    if layers.is_empty() && !at.is_tainted(&path) {
        let help = "name what it is made of, or give its `u_value`".to_owned();
        at.fault(&path, codes::MISSING, format!("`{path}` holds no layer"), None, Some(help));
    }
    let u = 1.0 / resistance(at, &path, &layers, films_m2_k_per_w(lies, beyond));
    at.assume(section.path_of("u_value"), format!("{u:.3} W/m2K"), LAYERS_U_SOURCE);
    refuse_too_little(at, &path, "together have", u);
    u
}

/// Resistance of layers and films, m2 K/W; framing that the method is not made for is a fault.
fn resistance(at: &mut Checker, path: &str, layers: &[Layer], films: f64) -> f64 {
    let framed = layers.iter().filter(|layer| layer.framing.is_some()).count();
    if framed > MOST_FRAMED_LAYERS {
        let what = format!("{framed} of `{path}` have framing");
        let help = "name the framing of the insulating layers alone".to_owned();
        at.fault(path, codes::RANGE, what, Some(format!("at most {MOST_FRAMED_LAYERS}")), Some(help));
        return films;
    }
    let limits = ResistanceLimits::iso_6946(layers, films);
    if !limits.hold() {
        let what = format!(
            "the framing of `{path}` conducts so much better than what is beside it that the resistance may be {} or {} m2K/W",
            plain(limits.lower_m2_k_per_w, 3),
            plain(limits.upper_m2_k_per_w, 3)
        );
        let allowed = format!("limits that differ by a factor of {MOST_LIMITS_RATIO} or less");
        let help = "metal through insulation needs a tested value: give `u_value`, or the layers without framing and the metal as `bridges`";
        at.fault(path, codes::RANGE, what, Some(allowed), Some(help.to_owned()));
    }
    limits.mean_m2_k_per_w()
}

fn layer(at: &mut Checker, section: &Section<'_>) -> Layer {
    let thickness_m = at.value(section, "thickness");
    let conductivity_w_per_m_k = conductivity(at, section);
    let framing = at.optional_section(section, "framing").map(|framing| Framing {
        share_frac: at.value(&framing, "share"),
        conductivity_w_per_m_k: conductivity(at, &framing),
    });
    Layer { thickness_m, conductivity_w_per_m_k, framing }
}

/// Conductivity of a material by name or by number, W/(m K).
fn conductivity(at: &mut Checker, section: &Section<'_>) -> f64 {
    match at.one_of(section, &["material", "conductivity"], true) {
        Some("material") => material_conductivity(at, section),
        _ => at.value(section, "conductivity"),
    }
}

fn material_conductivity(at: &mut Checker, section: &Section<'_>) -> f64 {
    match at.word(section, "material").and_then(Material::by_name) {
        Some(material) => {
            let conductivity = material.conductivity_w_per_m_k;
            let path = section.path_of("conductivity");
            at.assume(path, format!("{conductivity} W/mK"), material.source);
            conductivity
        }
        // Not asked for: a fault about it is noted already.
        None => at.value(section, "conductivity"),
    }
}

pub(super) fn beyond(place: Place) -> Beyond {
    match place {
        Place::Space(index) => Beyond::Space(index),
        Place::ColdRoom => Beyond::ColdRoom,
        // Ground without a depth is asked for nowhere: only surfaces may face it, and they read the depth.
        Place::Outdoors | Place::Ground => Beyond::Outdoors,
    }
}

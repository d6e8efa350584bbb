//! Surfaces of the room: what they are made of and what lies beyond.

use super::super::checker::{Checker, Place, Section};
use super::super::codes;
use super::super::keys::si_of;
use super::HOUR_S;
use crate::household::{Beyond, RoomSurface};
use crate::room::{
    GroundFloor, Layer, Lies, Material, OUTDOOR_FILM_M2_K_PER_W, OtherSide, SLAB_LAG_MONTHS, Soil,
    resistance_m2_k_per_w, u_value_iso_6946_w_per_m2_k,
};
use crate::units::{Kind, fraction, interval, metres, seconds, square_metres, u_value};

/// Seconds in a mean month of the year.
const MONTH_S: f64 = 365.0 * 24.0 * HOUR_S / 12.0;
/// Lowest U value of a surface, as for the key `u_value`.
const LEAST_U_VALUE: &str = "0.01 W/m2K";
/// Where the U value of layers comes from.
const LAYERS_U_SOURCE: &str = "Derived here: from its layers by ISO 6946 with films of 0.13 m2K/W across, 0.17 down, 0.10 up and 0.04 outdoors (second hand: public copies); bridges through the layers are left out";
/// Where the U value of a floor on the ground comes from.
const SLAB_U_SOURCE: &str = "Derived here: by ISO 13370 (second hand: public calculation sources naming it), from the room to the outdoor air";
/// Where its share in the seasons comes from.
const SLAB_SWING_SOURCE: &str = "From memory, to be verified: external periodic coefficient and lag of ISO 13370, annex A; where the share is wrong the floor's gain moves between summer and winter, not over the year";

pub(super) fn room_surface(at: &mut Checker, section: &Section<'_>) -> RoomSurface {
    let name = at.text(section, "name");
    let area = square_metres(at.value(section, "area"));
    let described = at.one_of(section, &["u_value", "r_value", "layers", "slab"], true);
    let (u, faces) = if described == Some("slab") {
        slab(at, section, area.value)
    } else {
        let faces = faces(at, section);
        let u = match described {
            Some("layers") => layered(at, section, faces),
            Some("r_value") => 1.0 / at.value(section, "r_value"),
            _ => at.value(section, "u_value"),
        };
        (u, faces)
    };
    if !section.has("layers") {
        only_where(at, section, &["lies"], "a surface with `layers`", "give its `layers`");
    }
    RoomSurface { name, area, u_value: u_value(u), faces }
}

/// U value (W/(m2 K)) and surroundings of a floor on the ground.
fn slab(at: &mut Checker, surface: &Section<'_>, area_m2: f64) -> (f64, Beyond) {
    if let Some(Place::Outdoors | Place::Space(_) | Place::ColdRoom) = at.beyond(surface, "faces") {
        let what =
            format!("`{}` has a meaning only for a surface that faces the ground", surface.path_of("slab"));
        let help = "let it face `ground`, or give its `layers` instead".to_owned();
        at.fault(&surface.path_of("slab"), codes::ONE_OF, what, None, Some(help));
    }
    let at_depth = ["depth", "warmer_by"];
    only_where(at, surface, &at_depth, "ground without a `slab`", "describe it without `slab`");
    let section = at.section(surface, "slab");
    let soil = match at.word(&section, "soil") {
        Some("clay") => Soil::Clay,
        Some("rock") => Soil::Rock,
        _ => Soil::Sand,
    };
    let layers: Vec<_> = at.list(&section, "layers").iter().map(|part| layer(at, part)).collect();
    let films = Lies::Floor.film_m2_k_per_w() + OUTDOOR_FILM_M2_K_PER_W;
    let floor = GroundFloor {
        area_m2,
        perimeter_m: at.value(&section, "perimeter"),
        wall_m: at.value(&section, "wall_thickness"),
        depth_m: at.value(&section, "below"),
        soil_w_per_m_k: soil.conductivity_w_per_m_k(),
        resistance_m2_k_per_w: films + resistance_m2_k_per_w(&layers),
    };
    let swing_frac = floor.swing_iso_13370_frac(soil.penetration_m());
    let u = floor.u_value_iso_13370_w_per_m2_k();
    at.assume(surface.path_of("u_value"), format!("{u:.3} W/m2K"), SLAB_U_SOURCE);
    let felt = format!("{:.0} % of the outdoor air's yearly swing, a month late", 100.0 * swing_frac);
    at.assume(surface.path_of("slab"), felt, SLAB_SWING_SOURCE);
    refuse_too_little(at, &surface.path_of("slab"), "has", u);
    (u, Beyond::GroundSlab { swing: fraction(swing_frac), lag: seconds(SLAB_LAG_MONTHS * MONTH_S) })
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
    let u = u_value_iso_6946_w_per_m2_k(&layers, lies, beyond);
    at.assume(section.path_of("u_value"), format!("{u:.3} W/m2K"), LAYERS_U_SOURCE);
    refuse_too_little(at, &path, "together have", u);
    u
}

fn layer(at: &mut Checker, section: &Section<'_>) -> Layer {
    let thickness_m = at.value(section, "thickness");
    let conductivity_w_per_m_k = match at.one_of(section, &["material", "conductivity"], true) {
        Some("material") => material_conductivity(at, section),
        _ => at.value(section, "conductivity"),
    };
    Layer { thickness_m, conductivity_w_per_m_k }
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

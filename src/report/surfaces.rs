//! What comes through each wall, floor and ceiling in the year.

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::household::{Beyond, Household, RoomSurface, UnitSystem};
use crate::plant::{Boundary, Cause, Plant};
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::units::Kind;
use crate::year::Year;

/// Joules in a kilowatt hour.
const J_PER_KWH: f64 = 3.6e6;
/// Significant digits of what was measured by the household.
const DIGITS: usize = 3;

/// A surface of the room and its year.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SurfaceYear {
    /// Its name.
    pub surface: String,
    /// What lies on its other side.
    pub faces: String,
    /// Heat that passes for each kelvin, seams and penetrations included, W/K.
    pub ua_w_per_k: f64,
    /// Mean of the year on its other side, with sun and night sky where they are reckoned, degC.
    pub beyond_mean_degc: f64,
    /// Warmest hour there, degC.
    pub beyond_max_degc: f64,
    /// Heat that came through it into the room, kWh; negative where it went out.
    pub gain_kwh: f64,
    /// The part of it that sun and night sky make, kWh; `None` where they are not reckoned.
    pub sun_kwh: Option<f64>,
    /// The same other side, for the text in the household's units.
    #[serde(skip)]
    pub beyond: Beyond,
}

/// Every surface of the room.
///
/// What lies beyond is linear between hours and the heat follows the difference, so means of both sides give the year's heat exactly.
pub(super) fn surfaces(household: &Household, plant: &Plant, year: &Year) -> Vec<SurfaceYear> {
    let total = &year.total;
    let room_k = total.air_k_s / total.duration_s;
    let outdoors_k = mean_k(&plant.boundaries[0]);
    let of = |(surface, described): (&crate::plant::Surface, &RoomSurface)| {
        let beyond = &plant.boundaries[surface.boundary];
        let beyond_k = mean_k(beyond);
        let kwh = |difference_dk: f64| surface.ua_w_per_k * difference_dk * total.duration_s / J_PER_KWH;
        // What faces outdoors and is not the outdoor air itself has the sun on it.
        let in_the_sun = surface.cause == Cause::OutdoorSurfaces && surface.boundary != 0;
        SurfaceYear {
            surface: surface.name.clone(),
            faces: beyond.name.clone(),
            ua_w_per_k: surface.ua_w_per_k,
            beyond_mean_degc: beyond_k - ZERO_CELSIUS_K,
            beyond_max_degc: beyond.temperature_k.iter().copied().fold(f64::MIN, f64::max) - ZERO_CELSIUS_K,
            gain_kwh: kwh(beyond_k - room_k),
            sun_kwh: in_the_sun.then(|| kwh(beyond_k - outdoors_k)),
            beyond: described.faces,
        }
    };
    plant.room.surfaces.iter().zip(&household.room.surfaces).map(of).collect()
}

/// Mean of the year: the first instant is also the last.
fn mean_k(boundary: &Boundary) -> f64 {
    let stamps_k = &boundary.temperature_k[1..];
    stamps_k.iter().sum::<f64>() / stamps_k.len() as f64
}

/// By how much the ground beyond differs from undisturbed soil, K.
fn warmed_dk(beyond: Beyond) -> f64 {
    match beyond {
        Beyond::Ground { warmer_by, .. } => warmer_by.value,
        Beyond::Outdoors | Beyond::GroundSlab { .. } | Beyond::Space(_) | Beyond::ColdRoom => 0.0,
    }
}

/// What lies beyond a surface, in the household's units.
fn beyond_words(surface: &SurfaceYear, units: UnitSystem) -> String {
    let written = |kind: Kind, si: f64| kind.report_unit(units).write_rounded(si, DIGITS);
    let Beyond::Ground { depth, .. } = surface.beyond else { return surface.faces.clone() };
    if units == UnitSystem::Metric {
        return surface.faces.clone();
    }
    let at = format!("ground at {}", written(Kind::Length, depth.value));
    match warmed_dk(surface.beyond) {
        0.0 => at,
        warmer_dk => {
            let sign = if warmer_dk > 0.0 { "+" } else { "-" };
            format!("{at}, {sign}{}", written(Kind::Difference, warmer_dk.abs()))
        }
    }
}

/// The surfaces as a table.
pub(super) fn table(surfaces: &[SurfaceYear], units: UnitSystem) -> Vec<Block> {
    let sunny = surfaces.iter().any(|surface| surface.sun_kwh.is_some());
    let degrees = |degc| Measure::Temperature.rounded(degc, units).to_string();
    let energy = |kwh| Measure::Energy.rounded(kwh, units).to_string();
    let row = |surface: &SurfaceYear| {
        let mut cells = vec![
            surface.surface.clone(),
            beyond_words(surface, units),
            degrees(surface.beyond_mean_degc),
            degrees(surface.beyond_max_degc),
            energy(surface.gain_kwh),
        ];
        if sunny {
            cells.push(surface.sun_kwh.map_or_else(String::new, energy));
        }
        cells
    };
    let degree = Measure::Temperature.unit(units);
    let mut columns = vec![
        Column::words("surface"),
        Column::words("beyond it"),
        Column::number("mean", degree),
        Column::number("warmest", degree),
        Column::number("heat in", Measure::Energy.unit(units)),
    ];
    let mut notes = Vec::new();
    if surfaces.iter().any(|surface| warmed_dk(surface.beyond) != 0.0) {
        notes.push(
            "With + or -: so much warmer or colder than undisturbed soil, as the scenario says.".to_owned(),
        );
    }
    if surfaces.iter().any(|surface| matches!(surface.beyond, Beyond::GroundSlab { .. })) {
        notes.push(
            "With a swing: soil reckoned to the outdoor air (ISO 13370), of whose yearly swing so much comes through, a month late."
                .to_owned(),
        );
    }
    if sunny {
        columns.push(Column::number("by the sun", Measure::Energy.unit(units)));
        notes.push(
            "Where the sun is reckoned the outdoor air is given as warm as it would have to be to bring the heat of sun and air together; a clear \
             night sky takes from it. Under cloud a flat roof loses less to the sky than is reckoned here."
                .to_owned(),
        );
    }
    vec![
        Block::Heading("Walls, floor and ceiling".to_owned()),
        Block::Table(Table {
            title: "What comes through them in the year".to_owned(),
            columns,
            rows: surfaces.iter().map(row).collect(),
            year: None,
            notes,
        }),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::units::{interval, metres};
    use approx::assert_relative_eq;

    #[test]
    fn the_sun_is_told_where_it_shines_and_left_out_where_not() {
        let (household, mut plant) = (example::household(), example::plant());
        let year = example::year();
        let [shady] = &surfaces(&household, &plant, &year)[..] else { panic!("one surface") };
        assert_eq!(shady.sun_kwh, None);
        let Block::Table(table_without) = &table(std::slice::from_ref(shady), UnitSystem::Metric)[1] else {
            panic!("a table")
        };
        assert_eq!((table_without.columns.len(), table_without.notes.len()), (5, 0));

        let mut warmer = plant.boundaries[0].clone();
        warmer.temperature_k.iter_mut().for_each(|k| *k += 2.0);
        plant.boundaries.push(warmer);
        plant.room.surfaces[0].boundary = plant.boundaries.len() - 1;
        let [sunny] = &surfaces(&household, &plant, &year)[..] else { panic!("one surface") };
        // 6.07 W/K times 2 K over the year.
        let brought = 6.07 * 2.0 * year.total.duration_s / 3.6e6;
        assert_relative_eq!(sunny.sun_kwh.expect("in the sun"), brought, max_relative = 1e-9);
        assert_relative_eq!(sunny.gain_kwh - shady.gain_kwh, brought, max_relative = 1e-9);
        let Block::Table(table_with) = &table(std::slice::from_ref(sunny), UnitSystem::Us)[1] else {
            panic!("a table")
        };
        assert_eq!((table_with.columns.len(), table_with.notes.len()), (6, 1));
    }
    /// 1.3 m are 4.27 ft, 2 K are 3.6 °F.
    #[test]
    fn the_ground_is_told_in_the_household_s_units() {
        let (mut household, mut plant) = (example::household(), example::plant());
        plant.boundaries[0].name = "ground at 1.30 m, +2.0 K".to_owned();
        household.room.surfaces[0].faces = Beyond::Ground { depth: metres(1.3), warmer_by: interval(2.0) };
        let told = surfaces(&household, &plant, &example::year());
        let rows = |units| match &table(&told, units)[1] {
            Block::Table(table) => (table.rows[0][1].clone(), table.notes.len()),
            other => panic!("{other:?}"),
        };
        assert_eq!(rows(UnitSystem::Metric), ("ground at 1.30 m, +2.0 K".to_owned(), 1));
        assert_eq!(rows(UnitSystem::Us), ("ground at 4.27 ft, +3.6 degF".to_owned(), 1));
    }
}

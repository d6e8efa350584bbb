//! The dump and what takes its water from the household's description.

use crate::constants::WATER_DENSITY_KG_M3;
use crate::household::{DumpLine, Household, Takes, WaterTaker};
use crate::irrigation::drying_mm;
use crate::plant::{Calendar, DailyWindow, Dump, Taker};
use crate::water;

/// Millimetres of water on a square metre are kilograms, and this many metres.
const MM_M: f64 = 0.001;
const DAY_H: usize = 24;

/// The dump; its flow is turned into mass at the temperature at which it opens.
pub(super) fn dump(line: &DumpLine, household: &Household, calendar: &Calendar) -> Dump {
    Dump {
        opens_k: line.opens_at.value,
        closes_k: line.closes_at.value,
        probe: line.probe.value,
        probe_lag_s: line.probe_lag.value,
        min_open_s: line.min_open.value,
        timer: line.timer.map(|timer| DailyWindow { from_s: timer.from.value, lasts_s: timer.lasts.value }),
        longest_open_s: line.longest_open.map_or(f64::INFINITY, |longest| longest.value),
        flow_kg_s: line.flow.value * water::density_kg_m3(line.opens_at.value),
        port: line.port.value,
        months: std::array::from_fn(|month| line.may_open(month)),
        takers: line.destinations.iter().map(|place| taker(place, household, calendar)).collect(),
    }
}

/// A barrel starts empty, the ground as wet as it holds.
fn taker(place: &WaterTaker, household: &Household, calendar: &Calendar) -> Taker {
    let days = calendar.hours() / DAY_H;
    let (holds_kg, start_kg, freed_kg) = match &place.takes {
        Takes::All => (f64::INFINITY, f64::INFINITY, Vec::new()),
        Takes::Barrel { volume, used_per_day } => {
            let kg = |m3: f64| m3 * WATER_DENSITY_KG_M3;
            (kg(volume.value), kg(volume.value), vec![kg(used_per_day.value); days])
        }
        Takes::Ground { area, soil, plants, watering, .. } => {
            // What is given is more than what the roots get.
            let given_kg_per_mm = area.value / watering.used_frac;
            let holds_mm = soil.holds_frac * plants.root_depth_m * plants.readily_frac / MM_M;
            let rain = household.site.rain.map(|rain| rain.map(|month| month.value / MM_M));
            let dries_mm =
                drying_mm(&household.weather, calendar.month_starts_h, rain, plants.crop_coefficient);
            let freed = dries_mm.iter().map(|mm| mm * given_kg_per_mm).collect();
            (holds_mm * given_kg_per_mm, 0.0, freed)
        }
    };
    Taker {
        months: place.months,
        temper_k: place.temper_to.map_or(f64::INFINITY, |wanted| wanted.value),
        holds_kg,
        start_kg,
        freed_kg,
    }
}

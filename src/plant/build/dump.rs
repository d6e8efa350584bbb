//! The dump and what takes its water from the household's description.

use crate::constants::WATER_DENSITY_KG_M3;
use crate::household::{DumpLine, Household, Takes, WaterTaker};
use crate::irrigation::{effective_rain_mm, extraterrestrial_mj_m2, reference_et_hargreaves_mm};
use crate::plant::{Calendar, Dump, Taker};
use crate::water;
use crate::weather::WeatherYear;

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
        Takes::Ground { area, soil, plants, watering } => {
            // What is given is more than what the roots get.
            let given_kg_per_mm = area.value / watering.used_frac;
            let holds_mm = soil.holds_frac * plants.root_depth_m * plants.readily_frac / MM_M;
            let rain = household.site.rain.map(|rain| rain.map(|month| month.value / MM_M));
            let dries_mm = drying_mm(&household.weather, calendar, rain, plants.crop_coefficient);
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

/// How much drier roots become each day of the year, mm: what plants and sun take less the rain that roots can use, which is
/// spread evenly over its month.
pub(super) fn drying_mm(
    weather: &WeatherYear,
    calendar: &Calendar,
    rain_mm: Option<[f64; 12]>,
    crop_coefficient: f64,
) -> Vec<f64> {
    let rain_mm_day = |month: usize| {
        let days = (calendar.month_starts_h[month + 1] - calendar.month_starts_h[month]) / DAY_H;
        rain_mm.map_or(0.0, |rain_mm| effective_rain_mm(rain_mm[month]) / days as f64)
    };
    let day = |(index, hours): (usize, &[crate::weather::WeatherHour])| {
        let degrees = hours.iter().map(|hour| hour.dry_bulb_k);
        let (lowest_k, highest_k) = degrees
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), k| (f64::min(low, k), f64::max(high, k)));
        let radiation = extraterrestrial_mj_m2(weather.latitude_deg, (index + 1) as f64);
        let meadow_mm = reference_et_hargreaves_mm(highest_k, lowest_k, radiation);
        crop_coefficient * meadow_mm - rain_mm_day(calendar.month_of_hour(index * DAY_H))
    };
    weather.hours.chunks(DAY_H).enumerate().map(day).collect()
}

//! The plant from the household's description: quantities with units become plain SI numbers.
//!
//! `value` of a quantity is its number in the SI base unit: kelvin, metre, second, kilogram, watt.

mod boundaries;
mod day;
mod dump;
#[cfg(test)]
pub(crate) mod example;
mod machine;
mod room;
mod taps;
mod water_side;

use boundaries::{Boundaries, seasonal_k};

use crate::household::{CoolerUnit, Household, Mains, Site};
use crate::mains::{MainsAir, MainsError, MainsYear};
use crate::plant::{Calendar, Plant};
use crate::weather::WeatherYear;

impl Plant {
    /// The plant of a checked household.
    ///
    /// # Panics
    /// Only for a household that its own check refuses.
    pub fn new(household: &Household) -> Self {
        let weather = &household.weather;
        let calendar = Calendar::new(weather.leap_year);
        let pressure_pa = weather.mean_pressure_pa();
        let boundaries = Boundaries::new(household, &calendar, pressure_pa);
        let mains_k = mains_year(&household.site, weather)
            .expect("the household's check refuses mains water that cannot be calculated")
            .daily_k;
        let use_k = household.hot_water.use_at.value;
        let (days, day_kinds) = day::days(household, &calendar);
        let set_k = household.thermostat.set.value;
        let CoolerUnit::HeatPump(unit) = &household.cooler;
        Self {
            pressure_pa,
            room: room::room(&household.room, &boundaries, &calendar, set_k, pressure_pa),
            thermostat: machine::thermostat(&household.thermostat),
            cooler: machine::cooler(&household.cooler),
            fans: None,
            tank: water_side::tank(&household.tank, unit, &boundaries, start_k(&mains_k, use_k)),
            days,
            day_kinds,
            use_k,
            valve_k: household.hot_water.mixing_valve.map(|valve| valve.value),
            element: household.element.as_ref().map(water_side::element),
            booster: household.booster.as_ref().map(water_side::booster),
            dump: household.dump.as_ref().map(|line| dump::dump(line, household, &calendar)),
            boundaries: boundaries.into_list(),
            mains_k,
            calendar,
        }
    }
}

/// Temperature of the tank before the warm-up month, K: half-way between mains and what the taps
/// want. A month of warm-up forgets it.
fn start_k(mains_k: &[f64], use_k: f64) -> f64 {
    let mean_mains_k = mains_k.iter().sum::<f64>() / mains_k.len() as f64;
    0.5 * (mean_mains_k + use_k)
}

/// Mains water of the year, one value a day; given monthly values are taken at noon.
///
/// # Errors
/// [`MainsError`] when the year's outdoor air is outside the formula or measured values cannot be.
pub fn mains_year(site: &Site, weather: &WeatherYear) -> Result<MainsYear, MainsError> {
    let calendar = Calendar::new(weather.leap_year);
    let days = calendar.hours() / 24;
    let air =
        || MainsAir::new(weather.mean_dry_bulb_k(), &weather.monthly_mean_dry_bulb_k(), weather.latitude_deg);
    let given = |daily_k| MainsYear { daily_k, days_held_at_freezing: 0 };
    match &site.mains {
        Mains::FromWeather => air().burch_christensen(days),
        Mains::Measured { coldest, warmest } => air().measured(coldest.value, warmest.value, days).map(given),
        Mains::Given(seasonal) => {
            let noon_k = |day| seasonal_k(seasonal, &calendar, (24 * day) as f64 + 12.0);
            Ok(given((0..days).map(noon_k).collect()))
        }
    }
}

#[cfg(test)]
mod tests;

//! Means, extremes and instants of a weather year.

use crate::plant::Calendar;

use super::{WeatherHour, WeatherYear};

impl WeatherYear {
    /// The year's calendar.
    pub fn calendar(&self) -> Calendar {
        Calendar::new(self.leap_year)
    }

    /// Mean dry bulb of the year, K.
    pub fn mean_dry_bulb_k(&self) -> f64 {
        mean(&self.hours, |hour| hour.dry_bulb_k)
    }

    /// Mean dry bulb of each month, K. An hour belongs to the month that it ends in or with.
    pub fn monthly_mean_dry_bulb_k(&self) -> [f64; 12] {
        let starts = self.calendar().month_starts_h;
        std::array::from_fn(|month| {
            mean(&self.hours[starts[month]..starts[month + 1]], |hour| hour.dry_bulb_k)
        })
    }

    /// Mean dry bulb of each day, K.
    pub fn daily_mean_dry_bulb_k(&self) -> Vec<f64> {
        self.hours.chunks_exact(24).map(|day| mean(day, |hour| hour.dry_bulb_k)).collect()
    }

    /// Coldest and warmest dry bulb, K.
    pub fn dry_bulb_extremes_k(&self) -> (f64, f64) {
        let dry_bulbs = || self.hours.iter().map(|hour| hour.dry_bulb_k);
        (dry_bulbs().fold(f64::INFINITY, f64::min), dry_bulbs().fold(f64::NEG_INFINITY, f64::max))
    }

    /// Mean pressure at the station, Pa.
    pub fn mean_pressure_pa(&self) -> f64 {
        mean(&self.hours, |hour| hour.pressure_pa)
    }

    /// Dry bulb at each full hour, K: one entry more than hours, entry i the instant i:00, entry 0 equal to the last.
    pub fn dry_bulb_instants_k(&self) -> Vec<f64> {
        self.instants(|hour| hour.dry_bulb_k)
    }

    /// Humidity ratio at each full hour, kg/kg, as [`WeatherYear::dry_bulb_instants_k`].
    pub fn humidity_ratio_instants(&self) -> Vec<f64> {
        self.instants(|hour| hour.humidity_ratio)
    }

    fn instants(&self, value: impl Fn(&WeatherHour) -> f64) -> Vec<f64> {
        self.hours.last().into_iter().chain(&self.hours).map(value).collect()
    }
}

fn mean(hours: &[WeatherHour], value: impl Fn(&WeatherHour) -> f64) -> f64 {
    hours.iter().map(value).sum::<f64>() / hours.len() as f64
}

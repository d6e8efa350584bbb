//! Temperature of undisturbed ground from the year's own outdoor air.
//!
//! The form of Kusuda and Achenbach: the surface swings with the first harmonic of the air through
//! the year; below it the swing decays and lags. The ground temperatures in the header of a weather
//! file are not used: they are averages from the surface to the depth, and some files have them a
//! month off.

use std::f64::consts::PI;

use crate::plant::{Calendar, DAY_S};

/// What the surface of the ground follows: mean and first harmonic of the outdoor air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroundClimate {
    /// Mean of the year, K.
    pub mean_k: f64,
    /// Amplitude of the yearly wave, K, 0 or more.
    pub amplitude_dk: f64,
    /// When the surface is coldest, days since 1 January 0:00, from 0 to the length of the year.
    pub coldest_day: f64,
    /// Length of the year, days: the wave's period, so that every year closes on itself.
    pub year_days: f64,
}

impl GroundClimate {
    /// Mean and first harmonic of a year of daily means, K. Each mean stands for the noon of its day.
    ///
    /// The sums of a discrete Fourier series: with days evenly spaced they are the least-squares wave.
    ///
    /// # Arguments
    /// daily_mean_k: one value a day, in order, K; at least three.
    ///
    /// # Panics
    /// With fewer than three days: they fix no wave. A weather year has 365 or 366.
    pub fn from_daily_means(daily_mean_k: &[f64]) -> Self {
        assert!(daily_mean_k.len() >= 3, "{} days fix no yearly wave", daily_mean_k.len());
        let year_days = daily_mean_k.len() as f64;
        let mean_k = daily_mean_k.iter().sum::<f64>() / year_days;
        let (mut cosine, mut sine) = (0.0, 0.0);
        for (day, temperature_k) in daily_mean_k.iter().enumerate() {
            let angle = 2.0 * PI * (day as f64 + 0.5) / year_days;
            cosine += (temperature_k - mean_k) * libm::cos(angle);
            sine += (temperature_k - mean_k) * libm::sin(angle);
        }
        // mean + c cos + s sin = mean - A cos(angle - coldest) with A cos(coldest) = -c, A sin(coldest) = -s.
        let coldest_angle = libm::atan2(-sine, -cosine);
        Self {
            mean_k,
            amplitude_dk: 2.0 / year_days * libm::hypot(cosine, sine),
            coldest_day: (coldest_angle / (2.0 * PI)).rem_euclid(1.0) * year_days,
            year_days,
        }
    }

    /// Temperature of the ground at a depth and time, K.
    ///
    /// `T = Tm - A exp(-z/d) cos(2 pi/P (t - t0) - z/d)`, d = sqrt(P a/pi): z depth, a diffusivity, P length of
    /// the year, t0 day of the coldest surface. The published lag, z/2 sqrt(P/(pi a)) days, is z/d as an angle.
    ///
    /// # Arguments
    /// - depth_m: below the surface, m, 0 or more.
    /// - diffusivity_m2_s: thermal diffusivity of the soil, m2/s, above 0; clay 0.5e-6, sand 1.0e-6.
    /// - day: days since 1 January 0:00, continuous.
    ///
    /// # Source
    /// T. Kusuda and P. R. Achenbach, Earth temperature and thermal diffusivity at selected stations
    /// in the United States, ASHRAE Transactions 71(1), 1965. Second hand: the form as given in two public
    /// soil-temperature libraries. Diffusivities: ISO 13370 soils, Derived here: conductivity over heat capacity.
    pub fn temperature_kusuda_achenbach_k(&self, depth_m: f64, diffusivity_m2_s: f64, day: f64) -> f64 {
        let depths = depth_m / self.damping_depth_m(diffusivity_m2_s);
        let angle = 2.0 * PI / self.year_days * (day - self.coldest_day) - depths;
        self.mean_k - self.amplitude_dk * libm::exp(-depths) * libm::cos(angle)
    }

    /// Outdoor air as a floor on the ground feels it, K, at every hour of the year: `hours + 1` instants, the last equal to the first.
    ///
    /// `Tm - s A cos(2 pi/P (t - t0 - lag))`: the mean of the year, and of its first harmonic a share that comes late.
    ///
    /// # Arguments
    /// share of the swing (0 to 1), lag (days).
    pub fn hourly_late_swing_k(&self, share: f64, lag_days: f64, calendar: &Calendar) -> Vec<f64> {
        let hours = calendar.hours();
        let late = |instant: usize| {
            let day = (instant % hours) as f64 / 24.0;
            let angle = 2.0 * PI / self.year_days * (day - self.coldest_day - lag_days);
            self.mean_k - share * self.amplitude_dk * libm::cos(angle)
        };
        (0..=hours).map(late).collect()
    }

    /// Warmest ground of the year at a depth, K: the crest of [`Self::temperature_kusuda_achenbach_k`], with its arguments.
    pub fn warmest_k(&self, depth_m: f64, diffusivity_m2_s: f64) -> f64 {
        self.mean_k + self.amplitude_dk * libm::exp(-depth_m / self.damping_depth_m(diffusivity_m2_s))
    }

    /// Depth at which the yearly wave has shrunk to 1/e, m: `sqrt(P a/pi)`.
    pub fn damping_depth_m(&self, diffusivity_m2_s: f64) -> f64 {
        (self.year_days * DAY_S * diffusivity_m2_s / PI).sqrt()
    }

    /// Temperature of the ground at every hour of the year, K: `hours + 1` instants, the last equal to the first.
    ///
    /// Arguments as for [`GroundClimate::temperature_kusuda_achenbach_k`].
    pub fn hourly_instants_k(&self, depth_m: f64, diffusivity_m2_s: f64, calendar: &Calendar) -> Vec<f64> {
        let hours = calendar.hours();
        (0..=hours)
            .map(|instant| (instant % hours) as f64 / 24.0)
            .map(|day| self.temperature_kusuda_achenbach_k(depth_m, diffusivity_m2_s, day))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const CLIMATE: GroundClimate =
        GroundClimate { mean_k: 283.15, amplitude_dk: 12.0, coldest_day: 35.0, year_days: 365.0 };

    #[test]
    fn a_pure_wave_is_found_again_whatever_its_phase() {
        for year_days in [365.0, 366.0] {
            for coldest_day in [0.25, 35.0, 200.0, 364.0] {
                let wave = GroundClimate { coldest_day, year_days, ..CLIMATE };
                let noons: Vec<f64> = (0..year_days as usize)
                    .map(|day| wave.temperature_kusuda_achenbach_k(0.0, 1e-6, day as f64 + 0.5))
                    .collect();
                let found = GroundClimate::from_daily_means(&noons);
                // Rounding of 365 sums of numbers near 280.
                assert_relative_eq!(found.mean_k, wave.mean_k, max_relative = 1e-12);
                assert_relative_eq!(found.amplitude_dk, wave.amplitude_dk, max_relative = 1e-10);
                assert_relative_eq!(found.coldest_day, wave.coldest_day, max_relative = 1e-9);
            }
        }
    }

    #[test]
    fn higher_harmonics_and_noise_of_other_periods_leave_the_wave_alone() {
        let wave = CLIMATE;
        let daily: Vec<f64> = (0..365)
            .map(|day| f64::from(day) + 0.5)
            .map(|day| {
                wave.temperature_kusuda_achenbach_k(0.0, 1e-6, day)
                    + 3.0 * libm::cos(4.0 * PI * day / 365.0 + 1.0)
                    + 5.0 * libm::sin(2.0 * PI * 52.0 * day / 365.0)
            })
            .collect();
        let found = GroundClimate::from_daily_means(&daily);
        // Harmonics are orthogonal over whole days.
        assert_relative_eq!(found.amplitude_dk, 12.0, max_relative = 1e-9);
        assert_relative_eq!(found.coldest_day, 35.0, max_relative = 1e-9);
    }

    #[test]
    fn the_hourly_series_closes_on_itself_in_both_kinds_of_year() {
        for leap_year in [false, true] {
            let calendar = Calendar::new(leap_year);
            let climate = GroundClimate { year_days: calendar.hours() as f64 / 24.0, ..CLIMATE };
            let series = climate.hourly_instants_k(1.2, 0.8e-6, &calendar);
            assert_eq!(series.len(), calendar.hours() + 1);
            assert_eq!(series[0], series[calendar.hours()]);
            let largest_step_dk = series.windows(2).map(|pair| (pair[1] - pair[0]).abs()).fold(0.0, f64::max);
            // Steepest hour of a wave of amplitude 12 K or less: 12 x 2 pi/8760. No step at the year's end.
            assert!(largest_step_dk <= 12.0 * 2.0 * PI / 8760.0);
        }
    }

    #[test]
    fn the_wave_decays_and_lags_with_depth() {
        let d = CLIMATE.damping_depth_m(0.8e-6);
        let swing_dk = |depth_m: f64| {
            let days = || (0..365).map(f64::from);
            let at = |day| CLIMATE.temperature_kusuda_achenbach_k(depth_m, 0.8e-6, day);
            days().map(at).fold(f64::MIN, f64::max) - days().map(at).fold(f64::MAX, f64::min)
        };
        let warmest_k = (0..365).map(|day| CLIMATE.temperature_kusuda_achenbach_k(d, 0.8e-6, f64::from(day)));
        assert_relative_eq!(
            CLIMATE.warmest_k(d, 0.8e-6),
            warmest_k.fold(f64::MIN, f64::max),
            max_relative = 1e-6
        );
        // Whole days miss the crest by up to half a day: (pi/365)^2/2 of the amplitude.
        assert_relative_eq!(swing_dk(d), swing_dk(0.0) / std::f64::consts::E, max_relative = 1e-4);
        assert_relative_eq!(swing_dk(20.0), 24.0 * libm::exp(-20.0 / d), max_relative = 1e-4);
    }
}

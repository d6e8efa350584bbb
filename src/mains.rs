//! Temperature of the water that comes out of the street, one value a day.
//!
//! Burch and Christensen: the water is warmer than the year's mean air by 6 °F, swings with a share of the
//! air's swing and follows it with a lag of a month. The formula is written in °F and degrees of
//! angle; it is evaluated that way here and turned back at the exit.

use crate::constants::ZERO_CELSIUS_K;

/// The outdoor air that rules the mains.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MainsAir {
    /// Mean of the year, K.
    pub mean_k: f64,
    /// Warmest less coldest monthly mean, K.
    pub monthly_range_dk: f64,
    /// South of the equator: the year is turned by half.
    pub southern: bool,
}

/// A year of mains water.
#[derive(Debug, Clone, PartialEq)]
pub struct MainsYear {
    /// One value for each day of the year, K.
    pub daily_k: Vec<f64>,
    /// Days on which the formula went below 0 °C and the water was held there. A caller that finds
    /// any has to tell the household: the formula does not fit its climate, measured water does.
    pub days_held_at_freezing: usize,
}

/// Why there is no mains temperature.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MainsError {
    /// The formula's share of the air's swing leaves 0 to 1.
    #[error(
        "a mean outdoor air of {mean_degc:.1} degC is outside the mains water formula; \
         allowed: {coldest_degc:.1} to {warmest_degc:.1} degC; give measured mains water instead"
    )]
    MeanAir {
        /// Mean outdoor air, °C.
        mean_degc: f64,
        /// Coldest mean that the formula takes, °C.
        coldest_degc: f64,
        /// Warmest mean that the formula takes, °C.
        warmest_degc: f64,
    },
    /// Coldest and warmest water are not in order, or not liquid.
    #[error(
        "measured mains water from {coldest_degc} degC (coldest) to {warmest_degc} degC (warmest) is not possible; \
         allowed: {lowest_degc} degC <= coldest <= warmest <= {highest_degc} degC"
    )]
    Measured {
        /// Coldest water given, °C.
        coldest_degc: f64,
        /// Warmest water given, °C.
        warmest_degc: f64,
        /// Lowest allowed, °C.
        lowest_degc: f64,
        /// Highest allowed, °C.
        highest_degc: f64,
    },
}

/// Coldest and warmest mains water that can be measured, °C: liquid, and no warmer than a pipe in
/// hot desert ground. Common practice, no source: 45 °C; a higher figure is rather a slip of the unit.
pub const MEASURED_RANGE_DEGC: [f64; 2] = [0.0, 45.0];

/// Mean air at which the share of the air's swing is 0, and at which it is 1, °F.
///
/// Derived here: 0.4 + 0.01 (T - 44) = 0 and 1.
const MEAN_AIR_RANGE_DEGF: [f64; 2] = [4.0, 104.0];

/// A temperature of the absolute scale in °F.
fn degf(temperature_k: f64) -> f64 {
    (temperature_k - ZERO_CELSIUS_K) * 1.8 + 32.0
}

/// °F in kelvin.
fn kelvin(degf: f64) -> f64 {
    (degf - 32.0) / 1.8 + ZERO_CELSIUS_K
}

/// Phase of a day in the formula as a number from -1 (coldest) to 1 (warmest):
/// `sin(0.986 (d - 15 - lag) - 90)` in degrees, +90 south of the equator.
fn season(day_of_year: usize, mean_degf: f64, southern: bool) -> f64 {
    let lag_days = 35.0 - 1.0 * (mean_degf - 44.0);
    let quarter_deg = if southern { 90.0 } else { -90.0 };
    let angle_deg = 0.986 * (day_of_year as f64 - 15.0 - lag_days) + quarter_deg;
    libm::sin(angle_deg.to_radians())
}

impl MainsAir {
    /// From the twelve monthly means and the mean of the year; `latitude_deg` is negative in the south.
    pub fn new(mean_k: f64, monthly_means_k: &[f64; 12], latitude_deg: f64) -> Self {
        let warmest_k = monthly_means_k.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let coldest_k = monthly_means_k.iter().copied().fold(f64::INFINITY, f64::min);
        Self { mean_k, monthly_range_dk: warmest_k - coldest_k, southern: latitude_deg < 0.0 }
    }

    /// Mains water by Burch and Christensen for each of the year's `days`.
    ///
    /// `Tm = (Tavg + 6) + r (dTmax/2) sin(0.986 (d - 15 - lag) - 90)`, r = 0.4 + 0.01 (Tavg - 44), lag = 35 - (Tavg - 44) days:
    /// °F, degrees of angle, d day of the year from 1, Tavg mean air, dTmax warmest less coldest monthly
    /// mean. dTmax is halved once; 44 is °F.
    ///
    /// # Errors
    /// [`MainsError::MeanAir`] where r leaves 0 to 1 (mean air below -15.6 or above 40 °C).
    ///
    /// # Returns
    /// Water is never below 0 °C: days on which the formula is are held there and counted.
    ///
    /// # Source
    /// J. Burch and C. Christensen, Towards Development of an Algorithm for Mains Water Temperature, Solar 2007
    /// (OSTI 981988). Checked: original read, of the abstract only (offset, share, linear phase). Second hand:
    /// coefficients as given in public copies of the Building America House Simulation Protocols, NREL/TP-550-49426 (2010).
    pub fn burch_christensen(&self, days: usize) -> Result<MainsYear, MainsError> {
        let mean_degf = degf(self.mean_k);
        let [coldest, warmest] = MEAN_AIR_RANGE_DEGF;
        if !(coldest..=warmest).contains(&mean_degf) {
            return Err(MainsError::MeanAir {
                mean_degc: self.mean_k - ZERO_CELSIUS_K,
                coldest_degc: kelvin(coldest) - ZERO_CELSIUS_K,
                warmest_degc: kelvin(warmest) - ZERO_CELSIUS_K,
            });
        }
        let share = 0.4 + 0.01 * (mean_degf - 44.0);
        let amplitude_degf = share * self.monthly_range_dk * 1.8 / 2.0;
        let water_k = |day| kelvin(mean_degf + 6.0 + amplitude_degf * season(day, mean_degf, self.southern));
        Ok(held_liquid((1..=days).map(water_k).collect()))
    }

    /// Mains water that swings between a coldest and a warmest measured value, with the phase of
    /// [`MainsAir::burch_christensen`], for each of the year's `days`. Its lag is taken from any mean air,
    /// also where the formula's swing has left its range: measured water is the way out there.
    ///
    /// # Errors
    /// [`MainsError::Measured`] unless 0 °C <= coldest <= warmest <= 45 °C.
    pub fn measured(&self, coldest_k: f64, warmest_k: f64, days: usize) -> Result<Vec<f64>, MainsError> {
        let [lowest_degc, highest_degc] = MEASURED_RANGE_DEGC;
        let allowed_k = lowest_degc + ZERO_CELSIUS_K..=highest_degc + ZERO_CELSIUS_K;
        let possible =
            allowed_k.contains(&coldest_k) && allowed_k.contains(&warmest_k) && coldest_k <= warmest_k;
        if !possible {
            return Err(MainsError::Measured {
                coldest_degc: coldest_k - ZERO_CELSIUS_K,
                warmest_degc: warmest_k - ZERO_CELSIUS_K,
                lowest_degc,
                highest_degc,
            });
        }
        let mean_degf = degf(self.mean_k);
        let (middle_k, half_dk) = (0.5 * (coldest_k + warmest_k), 0.5 * (warmest_k - coldest_k));
        Ok((1..=days).map(|day| middle_k + half_dk * season(day, mean_degf, self.southern)).collect())
    }
}

/// Holds what would be ice at 0 °C and counts those days.
fn held_liquid(mut daily_k: Vec<f64>) -> MainsYear {
    let mut days_held_at_freezing = 0;
    for water_k in &mut daily_k {
        if *water_k < ZERO_CELSIUS_K {
            *water_k = ZERO_CELSIUS_K;
            days_held_at_freezing += 1;
        }
    }
    MainsYear { daily_k, days_held_at_freezing }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn air(mean_degc: f64, monthly_range_dk: f64) -> MainsAir {
        MainsAir { mean_k: mean_degc + ZERO_CELSIUS_K, monthly_range_dk, southern: false }
    }

    #[test]
    fn a_climate_too_cold_for_the_formula_holds_the_water_at_freezing_and_says_how_long() {
        let year = air(-8.0, 45.0).burch_christensen(365).expect("inside the formula");
        let held = year.daily_k.iter().filter(|&&water_k| water_k == ZERO_CELSIUS_K).count();
        assert_eq!(year.days_held_at_freezing, held);
        assert!(held > 300, "mean water is below freezing, only {held} days held");
        assert!(year.daily_k.iter().all(|&water_k| water_k >= ZERO_CELSIUS_K));
        let mild = air(10.0, 25.0).burch_christensen(365).expect("inside the formula");
        assert_eq!(mild.days_held_at_freezing, 0);
    }

    #[test]
    fn a_mean_outside_the_formula_is_refused_with_the_range() {
        for mean_degc in [-15.7, 40.1, f64::NAN] {
            assert!(air(mean_degc, 20.0).burch_christensen(365).is_err(), "{mean_degc}");
        }
        let refused = air(-20.0, 20.0).burch_christensen(365).expect_err("r is below 0");
        assert_eq!(
            refused.to_string(),
            "a mean outdoor air of -20.0 degC is outside the mains water formula; \
             allowed: -15.6 to 40.0 degC; give measured mains water instead"
        );
    }

    #[test]
    fn measured_water_reaches_both_of_its_ends_in_phase_with_the_formula() {
        let climate = air(10.0, 25.0);
        let (coldest_k, warmest_k) = (278.15, 290.15);
        let measured = climate.measured(coldest_k, warmest_k, 365).expect("in order");
        let formula = climate.burch_christensen(365).expect("inside the formula").daily_k;
        let coldest_day = |year: &[f64]| {
            (0..year.len()).min_by(|&a, &b| year[a].total_cmp(&year[b])).expect("a year has days")
        };
        assert_eq!(coldest_day(&measured), coldest_day(&formula));
        // Whole days miss the crest by up to half a day: 1 - cos(0.493 deg) = 4e-5 of 6 K.
        assert_abs_diff_eq!(measured.iter().copied().fold(f64::MAX, f64::min), coldest_k, epsilon = 3e-4);
        assert_abs_diff_eq!(measured.iter().copied().fold(f64::MIN, f64::max), warmest_k, epsilon = 3e-4);
    }

    #[test]
    fn measured_water_out_of_order_or_not_liquid_is_refused() {
        let climate = air(10.0, 25.0);
        for (coldest_degc, warmest_degc) in
            [(-0.1, 10.0), (12.0, 11.0), (10.0, 45.1), (f64::NAN, 10.0), (5.0, f64::INFINITY)]
        {
            let given = (coldest_degc + ZERO_CELSIUS_K, warmest_degc + ZERO_CELSIUS_K);
            assert!(climate.measured(given.0, given.1, 365).is_err(), "{coldest_degc} {warmest_degc}");
        }
    }

    #[test]
    fn the_south_has_its_cold_water_half_a_year_later() {
        let months = [290.0; 12];
        assert!(MainsAir::new(285.0, &months, -33.0).southern);
        assert!(!MainsAir::new(285.0, &months, 0.0).southern);
        let north = air(10.0, 25.0);
        let south = MainsAir { southern: true, ..north };
        let (north, south) = (
            north.burch_christensen(365).expect("inside").daily_k,
            south.burch_christensen(365).expect("inside").daily_k,
        );
        for (north_k, south_k) in north.iter().zip(&south) {
            // The two waves mirror each other about Tavg + 6 degF.
            assert_abs_diff_eq!(north_k + south_k, 2.0 * kelvin(56.0), epsilon = 1e-9);
        }
    }

    #[test]
    fn every_day_of_a_leap_year_has_water() {
        let climate = air(10.0, 25.0);
        assert_eq!(climate.burch_christensen(366).expect("inside").daily_k.len(), 366);
        assert_eq!(climate.measured(278.0, 290.0, 366).expect("in order").len(), 366);
    }
}

//! The one place that says how many decimals a quantity is printed with.
//!
//! The rule for tables: every month is rounded, and what is summed in the year's row is the rounded
//! months, so that the row is exactly the sum of what is shown above it. Against the year's own
//! total it can be off by at most six of the last digit. Means, extremes and quotients of the year's row come from the year
//! itself.

use std::fmt;
use std::iter::Sum;

use crate::report::measure::Measure;

impl Measure {
    /// Decimals that the measure is printed with, in either system of units.
    pub fn decimals(self) -> u32 {
        match self {
            Measure::Power | Measure::Volume | Measure::Count | Measure::Percent => 0,
            Measure::Energy
            | Measure::EnergyPerDay
            | Measure::VolumePerDay
            | Measure::VolumePerMinute
            | Measure::Mass
            | Measure::Temperature
            | Measure::Difference
            | Measure::Duration
            | Measure::Minutes
            | Measure::PerDay
            | Measure::Fraction
            | Measure::HoursPerDay => 1,
            Measure::Cop | Measure::PerCold | Measure::PumpFlow => 2,
        }
    }
}

/// A number rounded to a fixed count of decimals, kept as a whole number of its last digit so that
/// sums of rounded numbers are exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rounded {
    last_digits: i64,
    decimals: u32,
}

impl Rounded {
    /// Rounds half away from zero.
    pub fn new(value: f64, decimals: u32) -> Self {
        let scaled = value * 10i64.pow(decimals) as f64;
        Self { last_digits: scaled.round() as i64, decimals }
    }
}

impl Sum for Rounded {
    /// The exact sum of numbers with equal decimals.
    fn sum<I: Iterator<Item = Self>>(numbers: I) -> Self {
        numbers.fold(Self { last_digits: 0, decimals: 0 }, |sum, number| Self {
            last_digits: sum.last_digits + number.last_digits,
            decimals: number.decimals,
        })
    }
}

impl fmt::Display for Rounded {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.last_digits < 0 { "-" } else { "" };
        let digits = self.last_digits.unsigned_abs();
        let one = 10u64.pow(self.decimals);
        write!(f, "{sign}{}", digits / one)?;
        if self.decimals > 0 {
            write!(f, ".{:0width$}", digits % one, width = self.decimals as usize)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_rounded_half_away_from_zero_and_nothing_is_minus_zero() {
        let shown = |value, decimals| Rounded::new(value, decimals).to_string();
        assert_eq!(shown(2.5, 0), "3");
        assert_eq!(shown(-2.5, 0), "-3");
        assert_eq!(shown(-0.04, 1), "0.0");
        assert_eq!(shown(-0.05, 1), "-0.1");
        assert_eq!(shown(1234.567, 2), "1234.57");
    }

    #[test]
    fn a_sum_is_that_of_the_numbers_shown() {
        let months = [0.14, 0.14, 0.14].map(|month| Rounded::new(month, 1));
        assert_eq!(months.into_iter().sum::<Rounded>().to_string(), "0.3");
    }
}

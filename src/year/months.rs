//! The sink that keeps twelve months, and the day of each with the heaviest load.

use super::{Interval, Sink};
use crate::plant::Cause;

/// Hours of a day.
const DAY_H: usize = 24;

/// A day and the heat that had to be cooled away on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayLoad {
    /// Day of the year, from 0.
    pub day: usize,
    /// Heat to be cooled away, J: see [`Interval::to_be_cooled_j`].
    pub load_j: f64,
    /// Heat into the room by cause, J: with what the resting machine gave off it is the load.
    pub gain_j: [f64; Cause::COUNT],
}

/// The day on which most water ran off the coil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WetDay {
    /// Day of the year, from 0.
    pub day: usize,
    /// Water, kg.
    pub condensate_kg: f64,
}

/// Sums the intervals by month, and those of the day that runs.
#[derive(Debug, Clone)]
pub struct Months {
    /// The sums of the twelve months.
    pub sums: Vec<Interval>,
    /// The day of each month with the heaviest load, the earlier one of equals; `None` for a month without a whole day.
    pub heaviest_days: [Option<DayLoad>; 12],
    /// The day of the year with most water off the coil, the earlier one of equals.
    pub wettest_day: Option<WetDay>,
    today_j: f64,
    today_gain_j: [f64; Cause::COUNT],
    today_condensate_kg: f64,
}

impl Default for Months {
    fn default() -> Self {
        Self {
            sums: vec![Interval::default(); 12],
            heaviest_days: [None; 12],
            wettest_day: None,
            today_j: 0.0,
            today_gain_j: [0.0; Cause::COUNT],
            today_condensate_kg: 0.0,
        }
    }
}

impl Months {
    /// Keeps the day that is over if none of the month was heavier.
    fn end_day(&mut self, month: usize, day: usize) {
        let heaviest = &mut self.heaviest_days[month];
        let load_j = std::mem::take(&mut self.today_j);
        let gain_j = std::mem::take(&mut self.today_gain_j);
        let condensate_kg = std::mem::take(&mut self.today_condensate_kg);
        if self.wettest_day.is_none_or(|wettest| condensate_kg > wettest.condensate_kg) {
            self.wettest_day = Some(WetDay { day, condensate_kg });
        }
        if heaviest.is_none_or(|heaviest| load_j > heaviest.load_j) {
            *heaviest = Some(DayLoad { day, load_j, gain_j });
        }
    }
}

impl Sink for Months {
    fn take(&mut self, interval: &Interval) {
        self.sums[interval.month].add(interval);
        self.today_j += interval.to_be_cooled_j();
        self.today_condensate_kg += interval.condensate_kg;
        for (today_j, gain_j) in self.today_gain_j.iter_mut().zip(interval.gain_j) {
            *today_j += gain_j;
        }
        let (day, hour) = (interval.first_hour / DAY_H, interval.first_hour % DAY_H);
        if hour == DAY_H - 1 {
            self.end_day(interval.month, day);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plant::HOUR_S;

    #[test]
    fn the_heaviest_day_of_a_month_is_kept() {
        let mut months = Months::default();
        for hour in 0..31 * 24 + 2 * 24 {
            let day = hour / 24;
            let mut interval = Interval { first_hour: hour, duration_s: HOUR_S, ..Interval::default() };
            interval.month = usize::from(day >= 31);
            // Days of 24, 48, ... J; the 8th is the heaviest of January, the 32nd equals the 33rd.
            interval.gain_j[Cause::Doors as usize] = match day {
                7 => 100.0,
                31 | 32 => 3.0,
                day => day as f64,
            };
            months.take(&interval);
        }
        assert_eq!(months.heaviest_days[0].map(|day| (day.day, day.load_j)), Some((7, 2400.0)));
        assert_eq!(months.heaviest_days[1].map(|day| (day.day, day.load_j)), Some((31, 72.0)));
        assert_eq!(months.heaviest_days[2], None);
    }
}

//! What was dumped, day by day.

use super::Interval;

/// Hours of a day.
const DAY_H: usize = 24;

/// One day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DumpedDay {
    /// Month, 0 to 11.
    pub month: usize,
    /// Day of the year, from 0.
    pub day: usize,
    /// Water dumped, m3, at the temperature dumped.
    pub m3: f64,
    /// The most of it in one hour of the clock, m3.
    pub most_in_hour_m3: f64,
}

/// The days of the months that were run, in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DumpedDays(pub Vec<DumpedDay>);

impl DumpedDays {
    /// Takes the next hour.
    pub fn take(&mut self, hour: &Interval) {
        let day = hour.first_hour / DAY_H;
        if self.0.last().is_none_or(|last| last.day != day) {
            self.0.push(DumpedDay { month: hour.month, day, m3: 0.0, most_in_hour_m3: 0.0 });
        }
        if let Some(today) = self.0.last_mut() {
            today.m3 += hour.dump_m3;
            today.most_in_hour_m3 = today.most_in_hour_m3.max(hour.dump_m3);
        }
    }

    /// Days of a month, or of the year with `None`.
    fn of(&self, month: Option<usize>) -> impl Iterator<Item = &DumpedDay> {
        self.0.iter().filter(move |day| month.is_none_or(|month| day.month == month))
    }

    /// What no more than one day in `days` dumped more than, m3; `None` without a day.
    ///
    /// The day of rank `ceil(n (1 - 1/days))` of n in order of size.
    ///
    /// # Source
    /// The inverse of the empirical distribution: as [`super::UsableDays::lean_m3`].
    pub fn exceeded_one_day_in_m3(&self, month: Option<usize>, days: usize) -> Option<f64> {
        let mut sorted: Vec<f64> = self.of(month).map(|day| day.m3).collect();
        sorted.sort_by(f64::total_cmp);
        let rank = sorted.len() - sorted.len() / days;
        sorted.get(rank.checked_sub(1)?).copied()
    }

    /// The day that dumped most, the earlier one of equals; `None` where none dumped anything.
    pub fn worst(&self, month: Option<usize>) -> Option<&DumpedDay> {
        let larger =
            |worst: Option<&'_ DumpedDay>, day: &DumpedDay| worst.is_none_or(|worst| day.m3 > worst.m3);
        let mut worst = None;
        for day in self.of(month).filter(|day| day.m3 > 0.0) {
            if larger(worst, day) {
                worst = Some(day);
            }
        }
        worst
    }

    /// Most water dumped in one hour of the clock, m3.
    pub fn worst_hour_m3(&self, month: Option<usize>) -> f64 {
        self.of(month).map(|day| day.most_in_hour_m3).fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn days(hours_m3: &[f64]) -> DumpedDays {
        let mut days = DumpedDays::default();
        for (hour, m3) in hours_m3.iter().enumerate() {
            let month = usize::from(hour >= 24 * 31);
            days.take(&Interval { first_hour: hour, month, dump_m3: *m3, ..Interval::default() });
        }
        days
    }

    #[test]
    fn hours_add_up_to_days() {
        let mut hours = vec![0.0; 24 * 32];
        (hours[3], hours[23], hours[24], hours[24 * 31]) = (0.1, 0.2, 0.25, 0.7);
        let days = days(&hours);
        assert_eq!(days.0.len(), 32);
        assert_relative_eq!(days.0[0].m3, 0.3, max_relative = 1e-12);
        assert_eq!(days.worst(Some(0)).map(|day| day.day), Some(0));
        assert_eq!(days.worst(None).map(|day| (day.day, day.month)), Some((31, 1)));
        assert_eq!((days.worst_hour_m3(Some(0)), days.worst_hour_m3(None)), (0.25, 0.7));
    }

    /// Derived here: percentile 95 of 1 to 20, to 31 and to 365 with a general numerical library (numpy 2, method `inverted_cdf`) is 19, 30 and 347.
    #[test]
    fn one_day_in_twenty_has_more() {
        for (count, expected) in [(20, 19.0), (31, 30.0), (365, 347.0)] {
            let day = |day: usize| DumpedDay { month: 0, day, m3: (day + 1) as f64, most_in_hour_m3: 0.0 };
            let days = DumpedDays((0..count).map(day).collect());
            assert_eq!(days.exceeded_one_day_in_m3(None, 20), Some(expected), "{count}");
        }
        assert_eq!(DumpedDays::default().exceeded_one_day_in_m3(None, 20), None);
    }
}

//! How much water of the household's use temperature the tank alone could give, twice a day.

/// Moments at which it is looked at, h after midnight on the clock of draws and weather: before the morning's showers and before the
/// evening's. Common practice, no source.
pub const USABLE_AT_H: [usize; 2] = [7, 18];

/// The lean day is such that no more than one day in so many has less. Common practice, no source.
pub const LEAN_ONE_DAY_IN: usize = 10;

/// Hours of a day.
const DAY_H: usize = 24;

/// One day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UsableDay {
    /// Month, 0 to 11.
    pub month: usize,
    /// Mixed water of the use temperature at each of [`USABLE_AT_H`], m3; `None` where cold water is as warm.
    pub m3: [Option<f64>; USABLE_AT_H.len()],
}

/// The days of the months that were run, in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct UsableDays(pub Vec<UsableDay>);

impl UsableDays {
    /// Notes what the tank could give at the end of an hour of the year, if that is one of the moments.
    pub fn at_end_of(&mut self, hour: usize, month: usize, usable_m3: impl FnOnce() -> Option<f64>) {
        let Some(moment) = USABLE_AT_H.iter().position(|&at_h| at_h == hour % DAY_H + 1) else { return };
        if moment == 0 {
            self.0.push(UsableDay { month, m3: [None; USABLE_AT_H.len()] });
        }
        if let Some(today) = self.0.last_mut() {
            today.m3[moment] = usable_m3();
        }
    }

    /// What there was on the days of a month, or of the year, in order of size, m3.
    fn sorted_m3(&self, month: Option<usize>, moment: usize) -> Vec<f64> {
        let days = self.0.iter().filter(|day| month.is_none_or(|month| day.month == month));
        let mut sorted: Vec<f64> = days.filter_map(|day| day.m3[moment]).collect();
        sorted.sort_by(f64::total_cmp);
        sorted
    }

    /// Mean of the days, m3; `None` without a day.
    ///
    /// # Arguments
    /// - `month`: 0 to 11, or `None` for the year
    /// - `moment`: index into [`USABLE_AT_H`]
    pub fn mean_m3(&self, month: Option<usize>, moment: usize) -> Option<f64> {
        let days = self.sorted_m3(month, moment);
        (!days.is_empty()).then(|| days.iter().sum::<f64>() / days.len() as f64)
    }

    /// What all but the leanest tenth of the days had at least, m3; `None` without a day.
    ///
    /// The day of rank `ceil(n/10)` of n in order of size: no more than one day in ten had less.
    ///
    /// # Source
    /// The inverse of the empirical distribution. Second hand: Hyndman and Fan, The American Statistician 50 (1996), definition 1, as given in the
    /// documentation of a general numerical library (numpy, `quantile`).
    pub fn lean_m3(&self, month: Option<usize>, moment: usize) -> Option<f64> {
        let days = self.sorted_m3(month, moment);
        let rank = days.len().div_ceil(LEAN_ONE_DAY_IN);
        days.get(rank.saturating_sub(1)).copied()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn days(m3: impl IntoIterator<Item = f64>) -> UsableDays {
        UsableDays(m3.into_iter().map(|m3| UsableDay { month: 0, m3: [Some(m3), None] }).collect())
    }

    /// Derived here: percentile 10 of 0, 1, ... n - 1 with a general numerical library (numpy 2, method `inverted_cdf`).
    #[test]
    fn the_lean_day_is_the_tenth_percentile() {
        for (count, lean) in [(1, 0.0), (9, 0.0), (10, 0.0), (11, 1.0), (28, 2.0), (30, 2.0), (31, 3.0)] {
            // Out of order: seven has no factor in common with any of the counts but 28.
            let shuffled = (0..count).map(|index| f64::from(index * if count == 28 { 9 } else { 7 } % count));
            assert_eq!(days(shuffled).lean_m3(Some(0), 0), Some(lean), "{count}");
        }
    }

    #[test]
    fn months_and_moments_are_kept_apart() {
        let mut year = UsableDays::default();
        for hour in 0..48 {
            year.at_end_of(hour, hour / 24, || Some(hour as f64));
        }
        // The hours from 6:00 to 7:00 and from 17:00 to 18:00.
        assert_eq!(year.0.len(), 2);
        assert_eq!((year.mean_m3(Some(0), 0), year.mean_m3(Some(1), 1)), (Some(6.0), Some(41.0)));
        assert_relative_eq!(year.mean_m3(None, 0).expect("two days"), 18.0, max_relative = 1e-12);
        assert_eq!(year.mean_m3(Some(2), 0), None);
        assert_eq!(year.lean_m3(Some(2), 0), None);
    }

    #[test]
    fn a_day_of_warm_mains_does_not_count() {
        let mut year = days([0.1, 0.3]);
        year.0.push(UsableDay { month: 0, m3: [None; 2] });
        assert_relative_eq!(year.mean_m3(None, 0).expect("two days"), 0.2, max_relative = 1e-12);
        assert_eq!(year.mean_m3(None, 1), None);
    }
}

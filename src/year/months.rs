//! The sink that keeps twelve months.

use super::{Interval, Sink};

/// Sums the intervals by month.
#[derive(Debug, Clone)]
pub struct Months(pub Vec<Interval>);

impl Default for Months {
    fn default() -> Self {
        Self(vec![Interval::default(); 12])
    }
}

impl Sink for Months {
    fn take(&mut self, interval: &Interval) {
        self.0[interval.month].add(interval);
    }
}

//! What a simulated year leaves behind: intervals, their sums by month, and the ledgers.

mod clock;
mod dumped;
mod interval;
mod layers;
mod months;
mod usable;

pub use clock::BoughtByClock;
pub use dumped::{DumpedDay, DumpedDays};
pub use interval::{Extremes, Interval, OutsideMap};
pub use layers::{GROWS_K, HOT_K, LAYER_FRAC, Layers, STORE_AT_K};
pub use months::{DayLoad, Months, WetDay};
pub use usable::{LEAN_ONE_DAY_IN, USABLE_AT_H, UsableDay, UsableDays};

use crate::plant::Calendar;

/// Receives every interval of the year, in order of time, an hour each.
///
/// The engine is generic over it: [`Months`] keeps twelve sums, a closure or a writer can keep the
/// hours, `()` keeps nothing.
pub trait Sink {
    /// Takes one finished interval.
    fn take(&mut self, interval: &Interval);
}

impl Sink for () {
    fn take(&mut self, _interval: &Interval) {}
}

impl<A: Sink, B: Sink> Sink for (A, B) {
    fn take(&mut self, interval: &Interval) {
        self.0.take(interval);
        self.1.take(interval);
    }
}

impl<S: Sink> Sink for &mut S {
    fn take(&mut self, interval: &Interval) {
        (**self).take(interval);
    }
}

/// How well the books of a year close: residual over throughput (or over what is held, where that is more), dimensionless.
///
/// Inflows, outflows and stored energy are accumulated independently of each other: the room side
/// from the forcing of the room's own equations, the electric side from the powers, the water side
/// from the water that was taken and returned, the stored energy from the state at both ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ledger {
    /// Gains of the room less heat taken from it less what it stored.
    pub room: f64,
    /// Heat into the tank less heat out of it less what it stored.
    pub tank: f64,
    /// Heat to water less electricity less heat from the room (less what the casing gives to the outside).
    pub machine: f64,
    /// The whole house: everything that came in less everything that left less everything stored.
    pub house: f64,
    /// Vapour into the room's air less water out of it less vapour stored (by mass).
    pub moisture: f64,
}

impl Ledger {
    /// The largest residual by size.
    pub fn worst(&self) -> f64 {
        [self.room, self.tank, self.machine, self.house, self.moisture]
            .into_iter()
            .fold(0.0, |worst: f64, residual| worst.max(residual.abs()))
    }
}

/// A simulated year.
#[derive(Debug, Clone)]
pub struct Year {
    /// Hours of the year by month.
    pub calendar: Calendar,
    /// The twelve months.
    pub months: Vec<Interval>,
    /// Their sum.
    pub total: Interval,
    /// The day of each month on which most heat had to be cooled away.
    pub heaviest_days: [Option<DayLoad>; 12],
    /// The day of the year on which most water ran off the coil; `None` without a whole day.
    pub wettest_day: Option<WetDay>,
    /// What the tank alone could give, morning and evening of every day.
    pub usable: UsableDays,
    /// What was dumped every day.
    pub dumped: DumpedDays,
    /// What was bought by the hour of the clock.
    pub bought: BoughtByClock,
    /// How well the books close.
    pub ledger: Ledger,
}

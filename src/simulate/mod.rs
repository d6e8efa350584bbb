//! The year: room, pump, tank, taps and dump solved together, event by event.
//!
//! Every step has constant switches and flows. It ends at the hour, where taps, doors, people or
//! lights change, where a clock of the pump or of the dump valve runs out, where a probe reaches its
//! switching point, where other water arrives at a port or probe, or at a cap of
//! [`Resolution`]. Within a step the room is solved in closed form together with the pump
//! (`step`), then the tank's water is moved (`water`). The equations are in `docs/MODEL.md`, the
//! numerics in `docs/NUMERICS.md`.

mod books;
mod circling;
mod coil_probe;
mod control;
mod dump;
mod element;
mod engine;
mod frost;
mod hour;
mod larder;
mod layers;
mod respiration;
mod solve;
mod step;
mod stirring;
mod sums;
mod water;

use crate::plant::Plant;
use crate::resolution::Resolution;
use crate::year::{BoughtByClock, DumpedDays, Months, Sink, UsableDays, Year};
use engine::Engine;

/// Why a year could not be calculated.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SimulationError {
    /// The clock no longer advanced.
    #[error("hour {hour} of the year needed more than {steps} steps: the calculation makes no progress")]
    NoProgress {
        /// Hour of the year.
        hour: usize,
        /// Steps taken in it.
        steps: usize,
    },
    /// A state left what can be.
    #[error("the {what} came to {value}, which cannot be, in hour {hour} of the year")]
    Runaway {
        /// Hour of the year.
        hour: usize,
        /// Which state.
        what: &'static str,
        /// Its value, K or kg/kg.
        value: f64,
    },
}

/// Calculates the year of a plant, after a month of warm-up, and gives every hour to `sink`.
///
/// # Errors
/// [`SimulationError`] if the clock stops advancing or a state leaves what can be; neither is known to
/// happen with a plant made from a checked household.
pub fn simulate<S: Sink>(
    plant: &Plant,
    resolution: &Resolution,
    sink: &mut S,
) -> Result<Year, SimulationError> {
    simulate_months(plant, resolution, 0, 11, sink)
}

/// Calculates the months `first` to `last` (0 to 11) after a warm-up through the month before `first`.
///
/// # Errors
/// As [`simulate`].
///
/// # Panics
/// When the months are not in order or beyond December.
pub fn simulate_months<S: Sink>(
    plant: &Plant,
    resolution: &Resolution,
    first: usize,
    last: usize,
    sink: &mut S,
) -> Result<Year, SimulationError> {
    assert!(first <= last && last < 12, "months {first} to {last} are not in order");
    let calendar = &plant.calendar;
    let before = (first + 11) % 12;
    let mut engine = Engine::new(plant, resolution, before);
    for hour in calendar.month_starts_h[before]..calendar.month_starts_h[before + 1] {
        engine.run_hour(hour)?;
    }
    let mut months = Months::default();
    let mut days = (UsableDays::default(), DumpedDays::default(), BoughtByClock::default());
    let opening = engine.open_books();
    engine.layers.begin_year();
    for month in first..=last {
        for hour in calendar.month_starts_h[month]..calendar.month_starts_h[month + 1] {
            let interval = engine.run_hour(hour)?;
            days.0.at_end_of(hour, month, || engine.usable_m3());
            months.take(&interval);
            days.1.take(&interval);
            days.2.take(&interval);
            sink.take(&interval);
        }
    }
    Ok(engine.close_books(opening, months, days))
}

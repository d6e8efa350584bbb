//! A cold room whose heat pump warms the household's hot-water tank, through a real weather year.
//!
//! One flow: a scenario in YAML is read and checked into a [`household::Household`] (quantities with units), made into a
//! [`plant::Plant`] (plain numbers in SI), run through [`simulate::simulate`] into a [`year::Year`], and told as
//! [`finding`]s, [`caution`]s and a [`report`].
//!
//! ```
//! use larderloop::{plant::Plant, resolution::Resolution, scenario, simulate::simulate};
//! use std::path::Path;
//!
//! let household = scenario::read(Path::new("scenarios/couple-no-dump.yaml"))
//!     .unwrap_or_else(|failure| panic!("{}", failure.render(false)));
//! let year = simulate(&Plant::new(&household), &Resolution::default(), &mut ())?;
//! // The books of the year close, and the pump gives the water more heat than it draws electricity.
//! assert!(year.ledger.worst() < 1e-9);
//! assert!(year.total.cop().is_some_and(|cop| cop > 1.0));
//! # Ok::<(), larderloop::simulate::SimulationError>(())
//! ```

pub mod air;
pub mod alternatives;
pub mod balance;
pub mod caution;
pub mod change;
pub mod choose;
pub mod cli;
pub mod constants;
pub mod cost;
pub mod diagnostic;
pub mod draw;
pub mod explanation;
pub mod finding;
pub mod ground;
pub mod heat_pump;
pub mod house_heat;
pub mod household;
pub mod irrigation;
pub mod lime;
pub mod load_cut;
pub mod mains;
pub mod other_tank;
pub mod overflow;
pub mod page;
pub mod pipe;
pub mod plant;
pub mod report;
pub mod resolution;
pub mod room;
pub mod root;
pub mod scald;
pub mod scenario;
pub mod simulate;
pub mod size;
pub mod stored;
pub mod sun;
pub mod tank;
pub mod tap;
pub mod units;
pub mod water;
pub mod weather;
pub mod wording;
pub mod year;

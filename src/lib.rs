//! A cold room whose heat pump warms the household's hot-water tank, through a real weather year.

pub mod air;
pub mod balance;
pub mod caution;
pub mod change;
pub mod cli;
pub mod constants;
pub mod diagnostic;
pub mod draw;
pub mod finding;
pub mod ground;
pub mod heat_pump;
pub mod household;
pub mod mains;
pub mod plant;
pub mod report;
pub mod resolution;
pub mod room;
pub mod scenario;
pub mod simulate;
pub mod tank;
pub mod tap;
pub mod units;
pub mod water;
pub mod weather;
pub mod wording;
pub mod year;

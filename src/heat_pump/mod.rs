//! The heat pump: cycle maps and what a unit of a given size does with them.

mod map;
mod unit;

pub use map::{Cycle, CycleMap, MapPoint, Outside};
pub use unit::{Operation, compressor_power_w, frosted};

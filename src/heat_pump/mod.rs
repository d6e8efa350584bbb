//! The heat pump: cycle maps and what a unit of a given size does with them.

mod map;
mod running;
mod unit;

pub use map::{Cycle, CycleMap, MapPoint, Node, Outside, ROOM_AIR_DEGC, WATER_IN_DEGC, WATER_RISE_DK};
pub use running::{Running, inlet_below};
pub use unit::{CoilState, Operation, coil_below_air_dk, compressor_power_w, frosted};

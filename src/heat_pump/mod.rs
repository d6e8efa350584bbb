//! The heat pump: cycle maps, anchored at a data sheet, and what a unit of a given size does with them.

mod air_cooled;
mod anchor;
mod band;
mod lorenz;
mod map;
mod running;
mod unit;

pub use air_cooled::{
    AirCooledPoint, AirOnBothSides, CYCLE as AIR_CONDITIONER_CYCLE, NoSuchUnit, RATED_INDOOR_K,
    RATED_OUTDOOR_K, RATED_WET_BULB_K, RatedUnit, Rating,
};
pub use anchor::{AnchorPoint, Anchored, Anchoring, Correction};
pub use band::{Band, Evidence, Narrower};
pub use lorenz::{cop_lorenz, log_mean_k};
pub use map::{
    Cycle, CycleMap, Discharge, MapPoint, Node, Outside, ROOM_AIR_DEGC, WATER_IN_DEGC, WATER_RISE_DK,
};
pub use running::{Running, inlet_below};
pub use unit::{CoilState, Operation, compressor_power_w, frosted};

//! Checks against published tables, worked examples and figures, one module for each source or theme. Each
//! block is headed by its source, the place in it, and why its tolerance is what it is.

mod anchoring;
mod door;
mod draw_patterns;
mod envelope;
mod ground;
mod heat_pump_curve;
mod heat_pump_map;
mod irrigation;
mod mains;
mod moist_air;
mod other_cooling;
mod people;
mod pipe;
mod produce;
mod sun;
mod water;
mod water_mixing;
mod weather;
mod whole_room;

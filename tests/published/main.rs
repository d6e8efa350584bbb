//! Numbers printed by others: standards, handbook tables, worked examples, open data sets.
//!
//! One module per subject; each block is headed by its source, the place in it, and why its tolerance is what it is.

mod ground;
mod mains;
mod moist_air;
mod water;
mod weather;

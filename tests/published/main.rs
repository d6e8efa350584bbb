//! Checks against published tables, worked examples and figures, one module for each source or theme. Each
//! block is headed by its source, the place in it, and why its tolerance is what it is.

mod draw_patterns;
mod ground;
mod mains;
mod moist_air;
mod produce;
mod water;
mod weather;

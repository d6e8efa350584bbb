//! What has to hold for every year: properties of random households, exact limits, hard cases, resolution, repeatability.

mod cases;
mod climate;
mod limits;
mod overflow;
mod random;
mod repeat;
mod resolution;
mod shipped;
mod size;
mod taps;
mod ways;
mod years;

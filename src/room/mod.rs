//! The cold room: what is stored in it, and how its air, contents and moisture move.

mod crop;

pub use crop::Crop;

//! The cold room: crops, doors, and the closed-form response of air, contents and probe.

mod crop;
mod door;
mod response;

pub use crop::Crop;
pub use door::exchange_gosney_olama_kg_s;
pub use response::{Forcing, Modes, Propagator, Temperatures, Trajectory};

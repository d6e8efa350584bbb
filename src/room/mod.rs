//! The cold room: crops, doors, and the closed-form response of air, contents and probe.

mod crop;
mod door;
mod response;

pub use crop::{
    Crop, CropSources, RESPIRATION_HEAT_J_PER_MG, StorageAdvice, respiration_heat_w_per_kg,
    specific_heat_siebel_j_per_kg_k,
};
pub use door::exchange_gosney_olama_kg_s;
pub use response::{Forcing, Modes, Propagator, Temperatures, Trajectory};

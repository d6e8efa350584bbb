//! The cold room: crops, doors, what its envelope is made of, and the closed-form response of air, contents and probe.

mod air_changes;
mod crop;
mod door;
mod envelope;
mod materials;
mod response;

pub use air_changes::commercial_air_changes_per_day;
pub use crop::{
    Crop, CropSources, Ethylene, RESPIRATION_HEAT_J_PER_MG, RespirationLevel, StorageAdvice,
    respiration_heat_w_per_kg, specific_heat_siebel_j_per_kg_k,
};
pub use door::exchange_gosney_olama_kg_s;
pub use envelope::{
    BasementWall, Framing, GroundFloor, Layer, Lies, MOST_FRAMED_LAYERS, MOST_LIMITS_RATIO,
    OUTDOOR_FILM_M2_K_PER_W, OtherSide, ResistanceLimits, SLAB_LAG_MONTHS, Soil, films_m2_k_per_w,
    u_value_iso_6946_w_per_m2_k,
};
pub use materials::{MATERIAL_NAMES, MATERIALS, Material};
pub use response::{Forcing, Modes, Propagator, Temperatures, Trajectory};

//! The cold room: what is stored in it, and how its air, contents and moisture move.

mod crop;

pub use crop::{
    Crop, CropSources, RESPIRATION_HEAT_J_PER_MG, StorageAdvice, respiration_heat_w_per_kg,
    specific_heat_siebel_j_per_kg_k,
};

//! The stratified tank as parcels of water.

mod conduction;
mod parcels;

pub use parcels::Parcels;

//! The stratified tank as parcels of water, and what it loses.

mod conduction;
pub mod loss;
mod parcels;

pub use parcels::Parcels;

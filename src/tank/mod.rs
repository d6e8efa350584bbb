//! The stratified tank as parcels of water, and what it loses.

mod conduction;
pub mod jet;
pub mod loss;
mod parcels;
mod series;

pub use parcels::Parcels;
pub use series::Series;

//! Other ways of cooling the same room, as far as the household says something about them.

use uom::si::f64::{Mass, Power, TemperatureInterval, ThermodynamicTemperature, VolumeRate};

/// What the household says about other ways of cooling; what it leaves out is sized by its year.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Alternatives {
    /// Years over which investments are counted.
    pub years: Option<f64>,
    /// What the heat pump with tank, pipes and dump costs to build, in the currency of the prices.
    pub heat_pump_investment: Option<f64>,
    /// Fans that blow in outdoor air.
    pub fans: FansTold,
    /// A room air conditioner.
    pub conditioner: ConditionerTold,
}

/// What is said about outdoor-air fans.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct FansTold {
    /// Air that they move.
    pub flow: Option<VolumeRate>,
    /// Electric power.
    pub power: Option<Power>,
    /// How much colder than the room the outdoor air has to be.
    pub margin: Option<TemperatureInterval>,
    /// Coldest air that may be blown in.
    pub coldest: Option<ThermodynamicTemperature>,
    /// Colder outdoor air is mixed with the room's own; else the fans rest in it.
    pub mixes: Option<bool>,
    /// The cooler helps from so far above its switching-on point.
    pub helped_from: Option<TemperatureInterval>,
    /// What they cost to build.
    pub investment: Option<f64>,
}

/// What is said about a room air conditioner.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ConditionerTold {
    /// Rated cooling.
    pub cooling: Option<Power>,
    /// Rated power.
    pub power: Option<Power>,
    /// Power of its fans.
    pub fans: Option<Power>,
    /// Frost that its coil bears until its probe stops it.
    pub frost: Option<Mass>,
    /// What it costs to build in.
    pub investment: Option<f64>,
}

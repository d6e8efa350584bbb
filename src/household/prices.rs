//! What energy and water cost the household.

/// Prices, in a currency that is only ever printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Prices {
    /// The currency, as it is printed.
    pub currency: String,
    /// Electricity in each hour of the day, for each joule.
    pub electricity_per_j: [f64; 24],
    /// What the booster burns, for each joule bought; `None` where it burns nothing or is not said.
    pub fuel_per_j: Option<f64>,
    /// Heat of the house, for each joule; `None` where no heated space is told of.
    pub house_heat_per_j: Option<f64>,
    /// Cold water, for each cubic metre.
    pub water_per_m3: f64,
    /// Water down a drain, for each cubic metre.
    pub sewer_per_m3: f64,
}

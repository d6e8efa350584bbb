//! The year's lime as the JSON document tells it.

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::lime::{Lime, WaterClass};

/// Litres in a cubic metre.
const LITRES: f64 = 1000.0;
/// A hundred mg/L in kg/m3.
const HUNDRED_MG_PER_L_KG_M3: f64 = 0.1;

/// Lime that the year's cold water carries into the tank, at most.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimeReport {
    /// Hardness as calcium carbonate, mg/L; `None` where it is not said, and then so is all that follows from it.
    pub hardness_mg_per_l: Option<f64>,
    /// Class of the water.
    pub water_class: Option<WaterClass>,
    /// Cold water that entered the tank for the taps, L.
    pub used_l: f64,
    /// Cold water that entered it in the place of what was dumped, L.
    pub dumped_l: f64,
    /// Most lime, kg.
    pub lime_kg: Option<f64>,
    /// The part of it that the water used brings, kg.
    pub lime_with_used_kg: Option<f64>,
    /// The part of it that comes in the place of what was dumped, kg.
    pub lime_with_dumped_kg: Option<f64>,
    /// Most lime for each 100 mg/L of hardness, kg.
    pub lime_for_100_mg_per_l_kg: f64,
    /// Hottest water that left the pump, degC; `None` where it never ran.
    pub hottest_made_degc: Option<f64>,
    /// Hottest water in the tank, degC; `None` of no time at all.
    pub hottest_in_tank_degc: Option<f64>,
}

impl LimeReport {
    /// Of a year's lime.
    pub fn of(lime: &Lime) -> Self {
        Self {
            hardness_mg_per_l: lime.hardness_kg_m3.map(|kg_m3| 1000.0 * kg_m3),
            water_class: lime.class(),
            used_l: LITRES * lime.used_m3,
            dumped_l: LITRES * lime.dumped_m3,
            lime_kg: lime.carried_kg(lime.water_m3()),
            lime_with_used_kg: lime.carried_kg(lime.used_m3),
            lime_with_dumped_kg: lime.carried_kg(lime.dumped_m3),
            lime_for_100_mg_per_l_kg: HUNDRED_MG_PER_L_KG_M3 * lime.water_m3(),
            hottest_made_degc: lime.made_k.map(|made_k| made_k - ZERO_CELSIUS_K),
            hottest_in_tank_degc: lime.tank_k.is_finite().then_some(lime.tank_k - ZERO_CELSIUS_K),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn litres_kilograms_and_milligrams() {
        let lime = Lime {
            hardness_kg_m3: Some(0.25),
            used_m3: 60.0,
            dumped_m3: 20.0,
            made_k: None,
            tank_k: ZERO_CELSIUS_K + 50.0,
        };
        let told = LimeReport::of(&lime);
        assert_relative_eq!(told.hardness_mg_per_l.expect("it is said"), 250.0, max_relative = 1e-12);
        assert_relative_eq!(told.lime_kg.expect("it is said"), 20.0, max_relative = 1e-12);
        assert_relative_eq!(told.lime_for_100_mg_per_l_kg, 8.0, max_relative = 1e-12);
        assert_eq!((told.used_l, told.water_class), (60_000.0, Some(WaterClass::VeryHard)));
        let unknown = LimeReport::of(&Lime { hardness_kg_m3: None, ..lime });
        assert_eq!((unknown.lime_kg, unknown.hottest_made_degc), (None, None));
        assert_relative_eq!(unknown.lime_for_100_mg_per_l_kg, 8.0, max_relative = 1e-12);
    }
}

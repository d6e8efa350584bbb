//! What is known of the heat pump's size and efficiency: lines of its own data sheet, or only the heat it is sold under.

use uom::si::f64::{Power, ThermodynamicTemperature};

use super::{CoolerUnit, DefrostMethod, HeatPumpUnit, Household, WaterCircuit};
use crate::constants::ZERO_CELSIUS_K;
use crate::heat_pump::{AnchorPoint, Anchoring, Cycle, CycleMap, Evidence};

/// Room air, water in and water out, K, at which a nominal heat output is taken. Source: air-source water heaters are rated
/// at air of 7 °C in the average climate (Regulation (EU) 812/2013, Annex VII, Table 6; Checked: original read); the water:
/// Common practice, no source.
pub const NOMINAL_AT_K: (f64, f64, f64) =
    (ZERO_CELSIUS_K + 7.0, ZERO_CELSIUS_K + 10.0, ZERO_CELSIUS_K + 55.0);

/// How large and how good the unit is.
#[derive(Debug, Clone, PartialEq)]
pub enum UnitSize {
    /// Lines of its data sheet, one or more.
    DataSheet(Vec<SheetPoint>),
    /// The heat output that it is sold under; its efficiency is that of the cycle calculated for its refrigerant.
    Nominal(Power),
}

/// One line of the unit's data sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetPoint {
    /// Air at the evaporator.
    pub room_air: ThermodynamicTemperature,
    /// Water in.
    pub water_in: ThermodynamicTemperature,
    /// Water out.
    pub water_out: ThermodynamicTemperature,
    /// Heat to the water.
    pub heat_output: Power,
    /// Compressor, fan and controls; `None`: the map's own COP is used.
    pub power: Option<Power>,
    /// Whether heat and power are means over frosting and defrosting; false where the coil is not below freezing.
    pub defrost_included: bool,
}

impl SheetPoint {
    /// Heat over power as the sheet has it.
    pub fn cop(&self) -> Option<f64> {
        self.power.map(|power| self.heat_output.value / power.value)
    }

    /// The point as plain numbers, for a unit that keeps `frost_factor` of its output with a frosted coil and defrosts so.
    ///
    /// The year runs the unit with a frosted coil and stops it for each defrosting, so the time and the power of defrosting are
    /// taken out of a mean over both: of a time `every + takes` the unit heats for `every` and draws the defrosting's power for the rest.
    pub fn anchor(&self, frost_factor: f64, defrost: Option<DefrostMethod>) -> AnchorPoint {
        let (heat_w, power_w) = (self.heat_output.value, self.power.map(|power| power.value));
        let (heat_w, power_w) = match defrost {
            Some(method) if self.defrost_included => {
                let heating = method.every.value / (method.every + method.takes).value;
                let power = |mean_w: f64| (mean_w - (1.0 - heating) * method.power.value) / heating;
                (heat_w / heating, power_w.map(power))
            }
            _ => (heat_w, power_w),
        };
        AnchorPoint {
            room_air_k: self.room_air.value,
            water_in_k: self.water_in.value,
            water_out_k: self.water_out.value,
            heat_w,
            power_w,
            frost_factor: if self.defrost_included { frost_factor } else { 1.0 },
        }
    }
}

/// Whether a coil in this air, K, is below freezing at full output.
pub fn coil_freezes(cycle: Cycle, room_air_k: f64) -> bool {
    room_air_k - cycle.coil_below_air_dk() < ZERO_CELSIUS_K
}

impl UnitSize {
    /// Heat, W, and COP of the first line, or of the nominal heat; the cycle's own COP where none is said.
    pub fn first_heat_and_cop(&self, cycle: Cycle) -> (f64, f64) {
        let (point, cop) = match self {
            UnitSize::DataSheet(points) => (points[0].anchor(1.0, None), points[0].cop()),
            UnitSize::Nominal(heat_output) => (nominal(*heat_output), None),
        };
        let rise_dk = point.water_out_k - point.water_in_k;
        let calculated = || CycleMap::of(cycle).at(point.room_air_k, point.water_in_k, rise_dk).cop;
        (point.heat_w, cop.unwrap_or_else(calculated))
    }

    /// The largest heat output that is said.
    pub fn heat_output(&self) -> Power {
        match self {
            UnitSize::DataSheet(points) => {
                points.iter().map(|point| point.heat_output).fold(Power::default(), Power::max)
            }
            UnitSize::Nominal(heat_output) => *heat_output,
        }
    }

    /// Lines of the data sheet; none where only the nominal heat is known.
    pub fn sheet(&self) -> &[SheetPoint] {
        match self {
            UnitSize::DataSheet(points) => points,
            UnitSize::Nominal(_) => &[],
        }
    }

    /// Makes the unit this many times as large at the same COP.
    pub fn scale(&mut self, factor: f64) {
        match self {
            UnitSize::DataSheet(points) => {
                for point in points {
                    point.heat_output *= factor;
                    point.power = point.power.map(|power| power * factor);
                }
            }
            UnitSize::Nominal(heat_output) => *heat_output *= factor,
        }
    }
}

/// The nominal heat as a point without power.
fn nominal(heat_output: Power) -> AnchorPoint {
    let (room_air_k, water_in_k, water_out_k) = NOMINAL_AT_K;
    AnchorPoint {
        room_air_k,
        water_in_k,
        water_out_k,
        heat_w: heat_output.value,
        power_w: None,
        frost_factor: 1.0,
    }
}

impl HeatPumpUnit {
    /// The points that the map is anchored at: those of the data sheet, or the nominal one.
    pub fn anchor_points(&self) -> Vec<AnchorPoint> {
        match &self.size {
            UnitSize::DataSheet(points) => {
                points.iter().map(|point| point.anchor(self.frosted_output.value, self.defrost)).collect()
            }
            UnitSize::Nominal(heat_output) => vec![nominal(*heat_output)],
        }
    }

    /// The map of its cycle, anchored at what is known of it.
    pub fn anchoring(&self) -> Anchoring {
        Anchoring::of(&CycleMap::of(self.cycle), &self.anchor_points())
    }
}

impl Household {
    /// What the calculated heat pump rests on.
    pub fn evidence(&self) -> Evidence {
        let CoolerUnit::HeatPump(unit) = &self.cooler;
        let place = |point: &SheetPoint| (point.room_air.value, point.water_in.value);
        let sheet = unit.size.sheet();
        Evidence {
            transcritical: unit.cycle.carbon_dioxide(),
            cycle_given: unit.cycle_given,
            multi_pass: matches!(unit.circuit, WaterCircuit::MultiPass { .. }),
            room_k: self.thermostat.set.value,
            warmest_inlet_k: unit.inlet_stop.value,
            cop_at: sheet.iter().filter(|point| point.power.is_some()).map(place).collect(),
            heat_at: sheet.iter().map(place).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plant::example;
    use crate::units::{celsius, seconds, watts};
    use approx::assert_relative_eq;

    fn line(room_air: f64, defrost_included: bool) -> SheetPoint {
        SheetPoint {
            room_air: celsius(room_air),
            water_in: celsius(15.0),
            water_out: celsius(60.0),
            heat_output: watts(3000.0),
            power: Some(watts(1000.0)),
            defrost_included,
        }
    }

    /// In 60 minutes of heating and 15 of defrosting at 400 W a unit that heats with 3750 W from 1150 W has a mean of 3000 W and
    /// 1000 W. Derived here: 3750 x 60/75, (1150 x 60 + 400 x 15)/75.
    #[test]
    fn the_mean_over_defrosting_is_turned_into_heating() {
        let method = DefrostMethod { every: seconds(3600.0), takes: seconds(900.0), power: watts(400.0) };
        let point = line(2.0, true).anchor(0.9, Some(method));
        assert_relative_eq!(point.heat_w, 3750.0, max_relative = 1e-12);
        assert_relative_eq!(point.power_w.expect("a power is given"), 1150.0, max_relative = 1e-12);
        assert_eq!(point.frost_factor, 0.9);
        let still = line(2.0, true).anchor(0.9, None);
        assert_eq!((still.heat_w, still.power_w, still.frost_factor), (3000.0, Some(1000.0), 0.9));
        let dry = line(2.0, false).anchor(0.9, Some(method));
        assert_eq!((dry.heat_w, dry.power_w, dry.frost_factor), (3000.0, Some(1000.0), 1.0));
    }

    #[test]
    fn a_coil_freezes_below_7_degrees_of_air_and_behind_a_tank_coil_below_10() {
        assert!(coil_freezes(Cycle::R134a, celsius(6.99).value));
        assert!(!coil_freezes(Cycle::R134a, celsius(7.01).value));
        assert!(coil_freezes(Cycle::R134aTankCoil, celsius(9.99).value));
        assert!(!coil_freezes(Cycle::R134aTankCoil, celsius(10.01).value));
    }

    #[test]
    fn the_largest_heat_of_a_sheet_counts_and_all_of_it_is_scaled() {
        let larger = SheetPoint { heat_output: watts(4000.0), ..line(7.0, true) };
        let mut size = UnitSize::DataSheet(vec![line(7.0, true), larger, line(2.0, true)]);
        assert_eq!(size.heat_output(), watts(4000.0));
        size.scale(0.5);
        assert_eq!(size.heat_output(), watts(2000.0));
        assert!(size.sheet().iter().all(|point| point.power == Some(watts(500.0))));
        let mut nominal = UnitSize::Nominal(watts(3000.0));
        nominal.scale(2.0);
        assert_eq!((nominal.heat_output(), nominal.sheet().len()), (watts(6000.0), 0));
    }

    /// A nominal heat is that of air of 7 °C and water of 10 to 55 °C, with the cycle's own COP. 1e-12: rounding.
    #[test]
    fn a_nominal_heat_is_met_at_its_condition() {
        let mut household = example::household();
        let CoolerUnit::HeatPump(unit) = &mut household.cooler;
        unit.size = UnitSize::Nominal(watts(3000.0));
        let anchored = unit.anchoring();
        let point = anchored.map.at(celsius(7.0).value, celsius(10.0).value, 45.0);
        assert_relative_eq!(anchored.capacity_w * point.capacity, 3000.0, max_relative = 1e-12);
        assert_eq!(anchored.cop_factor, 1.0);
        assert!(household.evidence().heat_at.is_empty());
    }
}

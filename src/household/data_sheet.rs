//! What is known of the heat pump's size and efficiency: lines of its own data sheet, or only the heat it is sold under.

use uom::si::f64::{Power, ThermodynamicTemperature};

use super::{CoolerUnit, DefrostMethod, DefrostStart, HeatPumpUnit, Household, WaterCircuit};
use crate::air::{humidity_ratio_from_relative_humidity, saturation_humidity_ratio};
use crate::constants::{DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K, LATENT_HEAT_J_PER_KG, ZERO_CELSIUS_K};
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
    /// taken out of a mean over both: the unit heats for a share of the time and draws the defrosting's power for the rest.
    pub fn anchor(&self, cycle: Cycle, frost_factor: f64, defrost: Option<DefrostMethod>) -> AnchorPoint {
        let (heat_w, power_w) = (self.heat_output.value, self.power.map(|power| power.value));
        let (heat_w, power_w) = match defrost {
            Some(method) if self.defrost_included => {
                let heating = self.heating_frac(cycle, &method);
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

/// Relative humidity of the air in which units are tested. Source: the conditions of Regulation (EU) 812/2013, Annex VII, Table 6
/// (Checked: original read) are air of 7 °C with a wet bulb of 6 °C, or of 2 and 1 °C: 87 and 84 %.
const TEST_HUMIDITY_FRAC: f64 = 0.86;

/// Pressure of that air, Pa: the standard atmosphere.
const TEST_PRESSURE_PA: f64 = 101_325.0;

/// COP of a line that tells no power. Common practice, no source: 2.5 to 4 in such air; a half more or less moves the share of time
/// by less than a hundredth.
const SOME_COP: f64 = 3.0;

impl SheetPoint {
    /// Share of the time in which a unit with this way of defrosting heated while the line was measured; 0 or less where it would not.
    ///
    /// Of running between two defrosts: `every/(every + takes)`. By the clock: `1 - takes/every`. On demand the frost `m` settles
    /// at `k` kg for each joule that the coil takes up, in the air of the tests, so that `1 - d = k takes (Q - P)/(m - k takes P_defrost)`
    /// with the line's mean heat Q and power P.
    pub fn heating_frac(&self, cycle: Cycle, method: &DefrostMethod) -> f64 {
        let takes_s = method.takes.value;
        match method.begins {
            DefrostStart::Running(every) => every.value / (every.value + takes_s),
            DefrostStart::Clock(every) => 1.0 - takes_s / every.value,
            DefrostStart::Frost(frost) => {
                let melted = frost_kg_per_j(self.room_air.value, cycle.coil_below_air_dk()) * takes_s;
                let power_w = self.power.map_or(self.heat_output.value / SOME_COP, |power| power.value);
                let spare_kg = frost.value - melted * method.power.value;
                if spare_kg <= 0.0 {
                    return 0.0;
                }
                1.0 - melted * (self.heat_output.value - power_w) / spare_kg
            }
        }
    }
}

/// Frost for each joule that a coil takes from the air of the tests, kg/J: section 2 of `docs/MODEL.md`.
fn frost_kg_per_j(air_k: f64, coil_below_dk: f64) -> f64 {
    let pressure_pa = TEST_PRESSURE_PA;
    let air = humidity_ratio_from_relative_humidity(air_k, TEST_HUMIDITY_FRAC, pressure_pa);
    let coil = saturation_humidity_ratio(air_k - coil_below_dk, pressure_pa);
    let settles = (air - coil).max(0.0);
    settles / (DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K * coil_below_dk + LATENT_HEAT_J_PER_KG * settles)
}

/// Whether a coil in this air, K, is below freezing at full output.
pub fn coil_freezes(cycle: Cycle, room_air_k: f64) -> bool {
    room_air_k - cycle.coil_below_air_dk() < ZERO_CELSIUS_K
}

impl UnitSize {
    /// Heat, W, and COP of the first line, or of the nominal heat; the cycle's own COP where none is said.
    pub fn first_heat_and_cop(&self, cycle: Cycle) -> (f64, f64) {
        let (point, cop) = match self {
            UnitSize::DataSheet(points) => (points[0].anchor(cycle, 1.0, None), points[0].cop()),
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
            UnitSize::DataSheet(points) => points
                .iter()
                .map(|point| point.anchor(self.cycle, self.frosted_output.value, self.defrost))
                .collect(),
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

    fn method(begins: DefrostStart, takes_s: f64, power_w: f64) -> DefrostMethod {
        DefrostMethod { begins, takes: seconds(takes_s), power: watts(power_w), thaws_in: seconds(takes_s) }
    }

    /// Of an hour by the clock 15 minutes are defrosting.
    #[test]
    fn the_clock_leaves_what_defrosting_does_not_take() {
        let clock = method(DefrostStart::Clock(seconds(3600.0)), 900.0, 0.0);
        assert_relative_eq!(line(2.0, true).heating_frac(Cycle::R744, &clock), 0.75, max_relative = 1e-12);
    }

    /// Frost that settles, by hand: at 2 °C and 86 % the air holds 3.77 g/kg, over ice of -5 °C 2.48 g/kg (ASHRAE Handbook of
    /// Fundamentals, psychrometric tables: saturation 4.38 and 2.48 g/kg), so 1.29 g settle for each 7042 + 3214 J: 0.126 g/kJ. The time to
    /// the next defrost then holds the frost that its mean cooling leaves: `d takes/(1 - d)` of heating.
    #[test]
    fn on_demand_the_frost_of_the_tests_decides() {
        let point = line(2.0, true);
        let demand = method(DefrostStart::Frost(crate::units::kilograms(1.0)), 600.0, 300.0);
        let heating = point.heating_frac(Cycle::R744, &demand);
        assert!((0.5..1.0).contains(&heating), "{heating}");
        let anchor = point.anchor(Cycle::R744, 1.0, Some(demand));
        let cooling_w = anchor.heat_w - anchor.power_w.expect("the line has a power");
        let heats_s = 600.0 * heating / (1.0 - heating);
        assert_relative_eq!(cooling_w * heats_s * 1.26e-7, 1.0, max_relative = 0.02);
    }

    /// In 60 minutes of heating and 15 of defrosting at 400 W a unit that heats with 3750 W from 1150 W has a mean of 3000 W and
    /// 1000 W. Derived here: 3750 x 60/75, (1150 x 60 + 400 x 15)/75.
    #[test]
    fn the_mean_over_defrosting_is_turned_into_heating() {
        let method = method(DefrostStart::Running(seconds(3600.0)), 900.0, 400.0);
        let point = line(2.0, true).anchor(Cycle::R744, 0.9, Some(method));
        assert_relative_eq!(point.heat_w, 3750.0, max_relative = 1e-12);
        assert_relative_eq!(point.power_w.expect("a power is given"), 1150.0, max_relative = 1e-12);
        assert_eq!(point.frost_factor, 0.9);
        let still = line(2.0, true).anchor(Cycle::R744, 0.9, None);
        assert_eq!((still.heat_w, still.power_w, still.frost_factor), (3000.0, Some(1000.0), 0.9));
        let dry = line(2.0, false).anchor(Cycle::R744, 0.9, Some(method));
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

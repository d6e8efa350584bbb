//! What is known of the heat pump's size and efficiency: lines of its own data sheet, or only the heat it is sold under.

use uom::si::f64::{Power, ThermodynamicTemperature};

use super::{CoolerUnit, HeatPumpUnit, Household, WaterCircuit};
use crate::constants::{COIL_BELOW_AIR_DK, ZERO_CELSIUS_K};
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
    /// Whether heat and power are means over frosting and defrosting, where the coil is below freezing.
    pub defrost_included: bool,
}

impl SheetPoint {
    /// The point as plain numbers.
    pub fn anchor(&self) -> AnchorPoint {
        AnchorPoint {
            room_air_k: self.room_air.value,
            water_in_k: self.water_in.value,
            water_out_k: self.water_out.value,
            heat_w: self.heat_output.value,
            power_w: self.power.map(|power| power.value),
            frosted: self.defrost_included && coil_freezes(self.room_air.value),
        }
    }
}

/// Whether a coil in this air, K, is below freezing.
pub fn coil_freezes(room_air_k: f64) -> bool {
    room_air_k - COIL_BELOW_AIR_DK < ZERO_CELSIUS_K
}

impl UnitSize {
    /// The points that the map is anchored at: those of the data sheet, or the nominal one.
    pub fn anchor_points(&self) -> Vec<AnchorPoint> {
        match self {
            UnitSize::DataSheet(points) => points.iter().map(SheetPoint::anchor).collect(),
            UnitSize::Nominal(heat_output) => {
                let (room_air_k, water_in_k, water_out_k) = NOMINAL_AT_K;
                let heat_w = heat_output.value;
                vec![AnchorPoint {
                    room_air_k,
                    water_in_k,
                    water_out_k,
                    heat_w,
                    power_w: None,
                    frosted: false,
                }]
            }
        }
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

impl HeatPumpUnit {
    /// The map of its cycle, anchored at what is known of it.
    pub fn anchoring(&self) -> Anchoring {
        Anchoring::of(&CycleMap::of(self.cycle), &self.size.anchor_points())
    }
}

impl Household {
    /// What the calculated heat pump rests on.
    pub fn evidence(&self) -> Evidence {
        let CoolerUnit::HeatPump(unit) = &self.cooler;
        let place = |point: &SheetPoint| (point.room_air.value, point.water_in.value);
        let sheet = unit.size.sheet();
        Evidence {
            transcritical: matches!(unit.cycle, Cycle::R744 | Cycle::R744SuctionExchanger | Cycle::R744Low),
            cycle_given: unit.cycle_given,
            multi_pass: matches!(unit.circuit, WaterCircuit::MultiPass { .. }),
            room_k: self.thermostat.set.value,
            warmest_inlet_k: unit.inlet_stop.value,
            cop_at: sheet.iter().filter(|point| point.power.is_some()).map(place).collect(),
            heat_at: sheet.iter().map(place).collect(),
        }
    }
}

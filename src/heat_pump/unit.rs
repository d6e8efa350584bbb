//! A unit of a given size at an operating point.

use crate::constants::{
    FAN_PER_EVAPORATOR_FRAC, SHELL_LOSS_FRAC, WATER_SPECIFIC_HEAT_J_PER_KG_K, ZERO_CELSIUS_K,
};
use crate::heat_pump::{Discharge, Outside};
use crate::plant::{Circuit, CoilProbe, HeatPump};

/// Passes of the fixed point between water rise and capacity in a multi-pass circuit.
/// The rise moves capacity by well under 1 % a kelvin, so each pass shrinks the error about a hundredfold.
const RISE_PASSES: usize = 3;

/// What the unit does at an operating point once started up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Operation {
    /// Refrigerant heat to the water, W.
    pub heat_w: f64,
    /// Compressor, fan and controls, W.
    pub power_w: f64,
    /// Water rise at full capacity, K.
    pub rise_dk: f64,
    /// Edges of the map that were passed.
    pub outside: Outside,
    /// Whether the discharge gas may be too hot or at the highest pressure.
    pub strained: bool,
}

/// The state in which the unit works.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoilState {
    /// Whether the coil is frosted.
    pub frosted: bool,
    /// Share of full output.
    pub output_frac: f64,
}

/// Whether the coil gathers frost: its surface is below freezing and the air holds more vapour than
/// saturation there.
pub fn frosted(coil_k: f64, humidity_ratio: f64, coil_saturation_ratio: f64) -> bool {
    coil_k < ZERO_CELSIUS_K && humidity_ratio > coil_saturation_ratio
}

/// Electric input of the compressor alone, W, from heat to water and compressor-plus-fan power.
///
/// `Q = Q_e + (1 - f) w` and `P = w + k Q_e` with shell loss f and fan share k of the maps give
/// `w = (P - k Q)/(1 - k (1 - f))`. Source: the energy balance of the cycle maps. Derived here: two equations, two unknowns.
pub fn compressor_power_w(heat_w: f64, power_w: f64) -> f64 {
    (power_w - FAN_PER_EVAPORATOR_FRAC * heat_w) / (1.0 - FAN_PER_EVAPORATOR_FRAC * (1.0 - SHELL_LOSS_FRAC))
}

impl HeatPump {
    /// How far the evaporator's surface is below the room air, K, at a share of full output: with the same surface and fan the
    /// difference follows the heat that passes.
    pub fn coil_below_air_dk(&self, output_frac: f64) -> f64 {
        self.map.cycle().coil_below_air_dk() * output_frac
    }

    /// Temperature that a probe on the coil of the running pump comes to, K, at room air (K) and a share of full output.
    pub fn coil_probe_runs_at_k(&self, probe: &CoilProbe, room_air_k: f64, output_frac: f64) -> f64 {
        room_air_k - probe.below_air_frac * self.coil_below_air_dk(output_frac)
    }

    /// The gas that leaves the compressor at room air and inlet, K, and a rise, K, by the calculated cycle of full output.
    pub fn discharge(&self, room_air_k: f64, inlet_k: f64, rise_dk: f64) -> Discharge {
        self.map.discharge_at(room_air_k, inlet_k, rise_dk)
    }

    /// The unit started up, at full output, at room air and water inlet (K).
    pub fn operate(&self, room_air_k: f64, inlet_k: f64, frosted: bool) -> Operation {
        self.operate_in(room_air_k, inlet_k, CoilState { frosted, output_frac: 1.0 })
    }

    /// The unit started up, in a given state, at room air and water inlet (K).
    pub fn operate_in(&self, room_air_k: f64, inlet_k: f64, state: CoilState) -> Operation {
        let rated_rise_dk = match self.circuit {
            Circuit::SinglePass { .. } | Circuit::OutdoorAir(_) => 0.0,
            Circuit::MultiPass { flow_kg_s, .. } => {
                (state.output_frac * self.capacity_w + self.circulator_w)
                    / (flow_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K)
            }
        };
        self.operate_near(room_air_k, inlet_k, state, rated_rise_dk, RISE_PASSES)
    }

    /// Factor on the COP at a share of full output.
    fn part_load_factor(&self, output_frac: f64) -> f64 {
        self.slow_running.map_or(1.0, |slow| 1.0 + slow.gain_at_half_frac * 2.0 * (1.0 - output_frac))
    }

    /// As [`HeatPump::operate`], in a given state; in a multi-pass circuit the rise is sought from a known one near it.
    pub fn operate_near(
        &self,
        room_air_k: f64,
        inlet_k: f64,
        state: CoilState,
        near_rise_dk: f64,
        passes: usize,
    ) -> Operation {
        let frost_factor = if state.frosted { self.frosted_factor } else { 1.0 };
        let capacity_w = self.capacity_w * frost_factor * state.output_frac;
        let cop_factor = self.cop_factor * frost_factor * self.part_load_factor(state.output_frac);
        let at_rise = |rise_dk: f64| {
            let point = self.map.at(room_air_k, inlet_k, rise_dk);
            let heat_w = capacity_w * point.capacity;
            let power_w = heat_w / (cop_factor * point.cop);
            Operation { heat_w, power_w, rise_dk, outside: point.outside, strained: point.strained }
        };
        match self.circuit {
            Circuit::SinglePass { outlet_k, min_rise_dk, .. } => {
                at_rise((outlet_k - inlet_k).max(min_rise_dk))
            }
            Circuit::MultiPass { flow_kg_s, .. } => {
                let stream_w_per_k = flow_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K;
                let mut operation = at_rise(near_rise_dk);
                for _ in 1..passes {
                    operation = at_rise((operation.heat_w + self.circulator_w) / stream_w_per_k);
                }
                operation
            }
            Circuit::OutdoorAir(_) => at_rise(near_rise_dk),
        }
    }

    /// Inlet of the pump while the tank's water at its outlet has this temperature, K, by the rise of its rated heat in a multi-pass
    /// circuit and by its target in a single-pass one; the same where no closed loop lies between.
    pub fn inlet_from_tank_k(&self, tank_k: f64) -> f64 {
        match self.circuit {
            Circuit::SinglePass { outlet_k, min_rise_dk, .. } => {
                // inlet = tank + gap x rise and rise = outlet - inlet.
                let rise_dk = ((outlet_k - tank_k) / (1.0 + self.loop_gap)).max(min_rise_dk);
                tank_k + self.loop_gap * rise_dk
            }
            Circuit::MultiPass { flow_kg_s, .. } => {
                let stream_w_per_k = flow_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K;
                tank_k + self.loop_gap * (self.capacity_w + self.circulator_w) / stream_w_per_k
            }
            Circuit::OutdoorAir(_) => tank_k,
        }
    }

    /// The tank's water at which the pump's inlet is this warm, K: the other way round.
    pub fn tank_at_inlet_k(&self, inlet_k: f64) -> f64 {
        let rise_dk = match self.circuit {
            Circuit::SinglePass { outlet_k, min_rise_dk, .. } => (outlet_k - inlet_k).max(min_rise_dk),
            Circuit::MultiPass { flow_kg_s, .. } => {
                (self.capacity_w + self.circulator_w) / (flow_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K)
            }
            Circuit::OutdoorAir(_) => return inlet_k,
        };
        inlet_k - self.loop_gap * rise_dk
    }

    /// Inlet at which the water leaves as hot as the unit allows, K.
    pub fn inlet_at_outlet_stop_k(&self) -> f64 {
        match self.circuit {
            Circuit::SinglePass { min_rise_dk, outlet_stop_k, .. } => outlet_stop_k - min_rise_dk,
            Circuit::MultiPass { flow_kg_s, outlet_stop_k } => {
                let stream_w_per_k = flow_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K;
                outlet_stop_k - (self.capacity_w + self.circulator_w) / stream_w_per_k
            }
            Circuit::OutdoorAir(_) => f64::INFINITY,
        }
    }

    /// Water flow, kg/s, while the refrigerant gives `heat_w` to it (less than full capacity after a start).
    pub fn water_flow_kg_s(&self, heat_w: f64, rise_dk: f64) -> f64 {
        match self.circuit {
            Circuit::SinglePass { .. } => {
                (heat_w + self.circulator_w) / (WATER_SPECIFIC_HEAT_J_PER_KG_K * rise_dk)
            }
            Circuit::MultiPass { flow_kg_s, .. } => flow_kg_s,
            Circuit::OutdoorAir(_) => 0.0,
        }
    }
}

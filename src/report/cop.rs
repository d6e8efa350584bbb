//! COP and room cooling against the water that the pump takes in.

use serde::Serialize;

use crate::constants::{COIL_BELOW_AIR_DK, SHELL_LOSS_FRAC, WATER_SPECIFIC_HEAT_J_PER_KG_K, ZERO_CELSIUS_K};
use crate::heat_pump::{Operation, compressor_power_w};
use crate::household::UnitSystem;
use crate::plant::{Cooler, HeatPump, Plant};
use crate::report::Assessment;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;

/// Coldest inlet of the table, °C: the coldest of the cycle maps.
const COLDEST_INLET_DEGC: f64 = 5.0;
/// Step of the table, K.
const INLET_STEP_DK: f64 = 5.0;

/// What the pump does at one water inlet, started up, at the room's set point.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct InletPoint {
    /// Room air, degC.
    pub room_air_degc: f64,
    /// Water into the pump: the water at the tank's pump-out port, degC.
    pub water_in_degc: f64,
    /// Water out of the pump, degC.
    pub water_out_degc: f64,
    /// Heat to water over running and circulator power.
    pub cop: f64,
    /// Heat to the water, circulator included, W.
    pub heat_to_water_w: f64,
    /// Heat taken from the room, less everything the machine returns to it, W.
    pub heat_from_room_w: f64,
    /// Running and circulator power, W.
    pub electricity_w: f64,
    /// Whether the coil is taken as frosted.
    pub frosted: bool,
    /// Whether the nearest edge of the cycle map had to be used.
    pub outside_map: bool,
}

/// The pump at the room's set point, from the coldest inlet of the cycle maps to the one that locks it out.
///
/// The coil is taken as frosted whenever its surface is below freezing: the air of a cold room practically always
/// holds more vapour than saturation there.
pub fn cop_by_inlet(plant: &Plant) -> Vec<InletPoint> {
    let Cooler::HeatPump(pump) = &plant.cooler;
    let room_air_k = 0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k);
    inlets_degc(pump.inlet_stop_k - ZERO_CELSIUS_K)
        .into_iter()
        .map(|inlet_degc| inlet_point(pump, room_air_k, inlet_degc))
        .collect()
}

/// Every step below the lock-out, and the lock-out itself.
fn inlets_degc(lock_out_degc: f64) -> Vec<f64> {
    let mut inlets: Vec<f64> = (0..)
        .map(|step| COLDEST_INLET_DEGC + f64::from(step) * INLET_STEP_DK)
        .take_while(|&inlet| inlet < lock_out_degc)
        .collect();
    inlets.push(lock_out_degc);
    inlets
}

fn inlet_point(pump: &HeatPump, room_air_k: f64, inlet_degc: f64) -> InletPoint {
    let frosted = room_air_k - COIL_BELOW_AIR_DK < ZERO_CELSIUS_K;
    let operation = pump.operate(room_air_k, inlet_degc + ZERO_CELSIUS_K, frosted);
    let heat_to_water_w = operation.heat_w + pump.circulator_w;
    let electricity_w = operation.power_w + pump.circulator_w;
    let stream_w_per_k =
        pump.water_flow_kg_s(operation.heat_w, operation.rise_dk) * WATER_SPECIFIC_HEAT_J_PER_KG_K;
    let outside = operation.outside;
    InletPoint {
        room_air_degc: room_air_k - ZERO_CELSIUS_K,
        water_in_degc: inlet_degc,
        water_out_degc: inlet_degc + heat_to_water_w / stream_w_per_k,
        cop: heat_to_water_w / electricity_w,
        heat_to_water_w,
        heat_from_room_w: heat_from_room_w(pump, &operation),
        electricity_w,
        frosted,
        outside_map: outside.room_air || outside.inlet || outside.rise || outside.unreachable,
    }
}

/// Net heat taken from the room while running, W: docs/MODEL.md, section 2.
fn heat_from_room_w(pump: &HeatPump, operation: &Operation) -> f64 {
    let shell_w = SHELL_LOSS_FRAC * compressor_power_w(operation.heat_w, operation.power_w);
    operation.heat_w - operation.power_w - pump.standby_w + pump.shell_outside_frac * shell_w
}

/// The table, and which water it speaks of.
pub(super) fn table(assessment: &Assessment, units: UnitSystem) -> Vec<Block> {
    let points = &assessment.cop_by_inlet;
    let Some(first) = points.first() else {
        return Vec::new();
    };
    let mut notes = vec![
        "The pump sees the water at the tank's pump-out port, near the bottom, and not what the thermometer \
         at the top shows. Running COP: heat to water over the power of pump and circulator."
            .to_owned(),
        "The last row is the inlet that locks the pump out.".to_owned(),
    ];
    if first.frosted {
        notes.push("The coil is below freezing at this room temperature and taken as frosted.".to_owned());
    }
    if points.iter().any(|point| point.outside_map) {
        notes.push("* outside the cycle map: its nearest edge is used.".to_owned());
    }
    let room = Measure::Temperature.words(first.room_air_degc, units);
    vec![
        Block::Heading("The pump against the water it takes in".to_owned()),
        Block::Table(Table {
            title: format!("Room air {room}, pump started up"),
            columns: vec![
                Column::number("water\nin", Measure::Temperature.unit(units)),
                Column::number("water\nout", Measure::Temperature.unit(units)),
                Column::number("running\nCOP", ""),
                Column::number("heat to\nwater", Measure::Power.unit(units)),
                Column::number("heat from\nroom", Measure::Power.unit(units)),
                Column::words(""),
            ],
            rows: points.iter().map(|point| row(point, units)).collect(),
            year: None,
            notes,
        }),
    ]
}

fn row(point: &InletPoint, units: UnitSystem) -> Vec<String> {
    let cell = |measure: Measure, value: f64| measure.rounded(value, units).to_string();
    vec![
        cell(Measure::Temperature, point.water_in_degc),
        cell(Measure::Temperature, point.water_out_degc),
        cell(Measure::Cop, point.cop),
        cell(Measure::Power, point.heat_to_water_w),
        cell(Measure::Power, point.heat_from_room_w),
        if point.outside_map { "*" } else { "" }.to_owned(),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::heat_pump::{Cycle, CycleMap};
    use crate::plant::{Caller, Circuit, HotPipe};
    use approx::assert_relative_eq;

    fn pump() -> HeatPump {
        HeatPump {
            map: CycleMap::of(Cycle::R744),
            capacity_w: 4500.0,
            cop_factor: 1.0,
            caller: Caller::Room,
            slow_running: None,
            frosted_factor: 0.95,
            defrost: None,
            frost_guard: None,
            circuit: Circuit::SinglePass { outlet_k: 328.15, min_rise_dk: 5.0, outlet_stop_k: 363.15 },
            circulator_w: 40.0,
            standby_w: 10.0,
            resting_fan_w: 0.0,
            start_lag_s: 30.0,
            shell_outside_frac: 0.0,
            airflow_m3_s: 0.4,
            inlet_stop_k: 313.15,
            inlet_restart_k: 308.15,
            air_stop_low_k: 271.15,
            air_stop_high_k: 303.15,
            air_restart_dk: 1.0,
            hot_pipe: HotPipe { loss_w_per_k: 0.0, capacity_j_per_k: 0.0 },
        }
    }

    #[test]
    fn inlets_run_to_the_lock_out() {
        assert_eq!(inlets_degc(20.0), [5.0, 10.0, 15.0, 20.0]);
        assert_eq!(inlets_degc(22.0), [5.0, 10.0, 15.0, 20.0, 22.0]);
    }

    /// Energy balance of a machine that stands wholly in the room: what leaves with the water came from
    /// the room and from the mains. First law, Derived here.
    #[test]
    fn heat_to_water_is_heat_from_room_and_electricity() {
        let pump = pump();
        for inlet in [5.0, 20.0, 40.0] {
            let point = inlet_point(&pump, 277.15, inlet);
            // 1e-12: sums of a few numbers of the same size.
            assert_relative_eq!(
                point.heat_to_water_w,
                point.heat_from_room_w + point.electricity_w + pump.standby_w,
                max_relative = 1e-12
            );
        }
    }

    #[test]
    fn a_warmer_bottom_costs_cop_and_cooling() {
        let points: Vec<_> = [10.0, 25.0, 40.0].map(|inlet| inlet_point(&pump(), 277.15, inlet)).into();
        assert!(points.windows(2).all(|pair| pair[1].cop < pair[0].cop));
        assert!(points.windows(2).all(|pair| pair[1].heat_from_room_w < pair[0].heat_from_room_w));
    }

    #[test]
    fn the_outlet_of_a_single_pass_is_its_target() {
        // 1e-9: the target divided into a flow and multiplied back.
        assert_relative_eq!(inlet_point(&pump(), 277.15, 15.0).water_out_degc, 55.0, epsilon = 1e-9);
    }
}

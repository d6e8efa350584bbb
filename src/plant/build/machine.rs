//! Thermostat and heat pump from the household's description.

use crate::constants::{FAN_PER_EVAPORATOR_FRAC, WATER_DENSITY_KG_M3};
use crate::household::{
    self, CalledBy, CoolerUnit, DefrostMethod, DefrostStart, GuardMeans, HeatPumpUnit, RoomThermostat,
    WaterCircuit,
};
use crate::plant::{
    Caller, Circuit, CoilProbe, Cooler, Defrost, DefrostBegins, FrostGuard, HeatPump, HotPipe, SlowRunning,
    TankThermostat, Thermostat,
};

/// Differential of the limits on room air, K. Common practice, no source: 1 to 3 K; wider keeps the
/// pump out longer after each lock-out.
const AIR_LIMIT_DIFFERENTIAL_DK: f64 = 2.0;

pub(super) fn thermostat(unit: &RoomThermostat) -> Thermostat {
    let half_band_dk = 0.5 * unit.band.value;
    Thermostat {
        on_at_k: unit.set.value + half_band_dk,
        off_at_k: unit.set.value - half_band_dk,
        probe_lag_s: unit.probe_lag.value,
        min_run_s: unit.min_run.value,
        min_rest_s: unit.min_rest.value,
        off_in: unit.off_in,
    }
}

pub(super) fn cooler(unit: &CoolerUnit) -> Cooler {
    match unit {
        CoolerUnit::HeatPump(unit) => Cooler::HeatPump(heat_pump(unit)),
    }
}

fn heat_pump(unit: &HeatPumpUnit) -> HeatPump {
    let anchored = unit.anchoring();
    HeatPump {
        map: anchored.map,
        capacity_w: anchored.capacity_w,
        cop_factor: anchored.cop_factor,
        caller: caller(unit),
        slow_running: unit.slow_running.map(|slow| SlowRunning {
            least_frac: slow.least.value,
            gain_at_half_frac: slow.gain_at_half.value,
        }),
        frosted_factor: unit.frosted_output.value,
        defrost: unit.defrost.map(defrost),
        coil_probe: unit.coil_probe.map(|probe| coil_probe(&probe, anchored.capacity_w)),
        frost_guard: unit.frost_guard.map(|guard| frost_guard(&guard, unit)),
        circuit: circuit(unit.circuit),
        loop_gap: unit.closed_loop.map_or(0.0, |closed| 1.0 / closed.effectiveness.value - 1.0),
        circulator_w: unit.circulator.value,
        standby_w: unit.standby.value,
        resting_fan_w: unit.resting_fan.value,
        start_lag_s: unit.start_lag.value,
        shell_outside_frac: unit.shell_outside.value,
        airflow_m3_s: unit.airflow.value,
        inlet_stop_k: unit.inlet_stop.value,
        inlet_restart_k: unit.inlet_stop.value - unit.inlet_differential.value,
        air_stop_low_k: unit.lowest_air.value,
        air_stop_high_k: unit.highest_air.value,
        air_restart_dk: AIR_LIMIT_DIFFERENTIAL_DK,
        hot_pipe: hot_pipe(unit),
    }
}

fn circuit(circuit: WaterCircuit) -> Circuit {
    match circuit {
        WaterCircuit::SinglePass { outlet, min_rise, outlet_stop } => Circuit::SinglePass {
            outlet_k: outlet.value,
            min_rise_dk: min_rise.value,
            outlet_stop_k: outlet_stop.value,
        },
        WaterCircuit::MultiPass { flow, outlet_stop } => Circuit::MultiPass {
            flow_kg_s: flow.value * WATER_DENSITY_KG_M3,
            outlet_stop_k: outlet_stop.value,
        },
    }
}

fn defrost(method: DefrostMethod) -> Defrost {
    Defrost {
        begins: match method.begins {
            DefrostStart::Running(every) => DefrostBegins::Running(every.value),
            DefrostStart::Clock(every) => DefrostBegins::Clock(every.value),
            DefrostStart::Frost(frost) => DefrostBegins::Frost(frost.value),
        },
        takes_s: method.takes.value,
        power_w: method.power.value,
        thaws_s: method.thaws_in.value,
    }
}

/// The probe on the coil. The fan that turns while it holds the pump is that of the cycle maps at full output.
fn coil_probe(probe: &household::CoilProbe, capacity_w: f64) -> CoilProbe {
    CoilProbe {
        below_air_frac: probe.on.below_air_frac(),
        stop_k: probe.stops_below.value,
        restart_k: probe.starts_above.value,
        lag_s: probe.follows_in.value,
        fan_w: FAN_PER_EVAPORATOR_FRAC * capacity_w,
    }
}

fn hot_pipe(unit: &HeatPumpUnit) -> HotPipe {
    let length_m = unit.hot_pipe_length.value;
    HotPipe {
        loss_w_per_k: length_m * unit.hot_pipe_loss.value + unit.exchanger_loss.value,
        capacity_j_per_k: length_m * unit.hot_pipe_capacity_j_per_m_k + unit.exchanger_capacity.value,
    }
}

fn caller(unit: &HeatPumpUnit) -> Caller {
    let thermostat = TankThermostat {
        calls_k: unit.tank_sensor.calls_at.value,
        enough_k: unit.tank_sensor.enough_at.value,
        sensor: unit.tank_sensor.height.value,
    };
    match unit.called_by {
        CalledBy::Room => Caller::Room,
        CalledBy::Tank => Caller::Tank(thermostat),
        CalledBy::Both => Caller::Both(thermostat),
    }
}

fn frost_guard(guard: &household::FrostGuard, unit: &HeatPumpUnit) -> FrostGuard {
    let below_k = guard.below.value;
    match guard.by {
        GuardMeans::Heater { power } => {
            FrostGuard { below_k, heater_w: power.value, circulator_w: 0.0, flow_kg_s: 0.0 }
        }
        GuardMeans::Circulator { share, flow } => FrostGuard {
            below_k,
            heater_w: 0.0,
            circulator_w: share.value * unit.circulator.value,
            flow_kg_s: share.value * flow.value * WATER_DENSITY_KG_M3,
        },
    }
}

//! The heat pump: its circuit, pipes, limits and air.

use super::super::checker::{Checker, Section};
use super::super::keys::si_of;
use super::super::machine;
use super::{HOUR_S, cycle, data_sheet};
use crate::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K;
use crate::heat_pump::Cycle;
use crate::household::{ClosedLoop, HeatPumpUnit, UnitSize, WaterCircuit};
use crate::units::{
    Kind, celsius, conductance, conductivity, flow, fraction, interval, joules_per_kelvin, kelvin, kilograms,
    metres, plain, seconds, watts,
};

/// Air over the evaporator for each watt taken from the room, m3/(s W): 450 m3/h for a kilowatt.
/// Common practice, no source: 350 to 600.
const AIRFLOW_M3_S_PER_W: f64 = 450.0 / HOUR_S / 1000.0;
/// Length of the hot pipe inside the room.
const PIPE_LENGTH: (&str, &str) =
    ("3 m", "Common practice, no source: from the unit through the wall to the tank");
/// Heat that a plate exchanger loses to the room.
const EXCHANGER_LOSS: (&str, &str) = ("0.2 W/K", "Derived here: 0.1 m2 behind 20 mm of foam of 0.040 W/mK");
/// What the water around a coil at the tank is taken to warm by in a pass, K. Common practice, no source.
const PASS_RISE_DK: f64 = 5.0;

pub(super) fn heat_pump(at: &mut Checker, cooler: &Section<'_>) -> HeatPumpUnit {
    let section = at.section(cooler, "heat_pump");
    let cycle = cycle::of(at, &section);
    let size = data_sheet::size(at, &section, cycle);
    let carbon_dioxide = cycle.carbon_dioxide();
    let circuit = circuit(at, &section, cycle, &size);
    let circulator = circulator(at, &section, circuit, cycle);
    let airflow = airflow(at, &section, cycle, &size);
    let inlet_stop = inlet_stop(at, &section, carbon_dioxide);
    let called_by = machine::called_by(at, &section);
    let (tank_sensor, sensor_place) = machine::tank_sensor(at, &section, circuit, inlet_stop);
    let pipe = at.section(&section, "hot_pipe");
    HeatPumpUnit {
        cycle,
        cycle_given: section.has("cycle"),
        size,
        nameplate_power: at.optional(&section, "nameplate_power").map(watts),
        called_by,
        tank_sensor,
        sensor_place,
        slow_running: machine::slow_running(at, &section),
        frosted_output: fraction(at.value(&section, "frosted_output")),
        defrost: machine::defrost(at, &section),
        coil_probe: machine::coil_probe(at, &section),
        frost_guard: machine::frost_guard(at, &section, circuit),
        circuit,
        circulator: watts(circulator),
        closed_loop: closed_loop(at, &section, cycle),
        standby: watts(at.value(&section, "standby")),
        resting_fan: watts(at.value(&section, "resting_fan")),
        start_lag: seconds(at.value(&section, "start_lag")),
        shell_outside: fraction(at.value(&section, "shell_outside")),
        airflow: flow(airflow),
        inlet_stop: kelvin(inlet_stop),
        inlet_differential: interval(at.value(&section, "inlet_differential")),
        lowest_air: kelvin(at.value(&section, "lowest_air")),
        highest_air: kelvin(at.value(&section, "highest_air")),
        hot_pipe_length: metres(hot_pipe(at, &pipe, cycle, "length", Kind::Length, PIPE_LENGTH)),
        hot_pipe_loss: conductivity(at.value(&pipe, "loss")),
        hot_pipe_capacity_j_per_m_k: at.value(&pipe, "heat_capacity"),
        exchanger_capacity: joules_per_kelvin(at.value(&pipe, "exchanger_capacity")),
        exchanger_loss: conductance(hot_pipe(
            at,
            &pipe,
            cycle,
            "exchanger_loss",
            Kind::Conductance,
            EXCHANGER_LOSS,
        )),
        charge: at.optional(&section, "charge").map(kilograms),
        listed_for_room: at.word(&section, "listed_for_room").map(|word| word == "yes"),
    }
}

fn circuit(at: &mut Checker, pump: &Section<'_>, cycle: Cycle, size: &UnitSize) -> WaterCircuit {
    let carbon_dioxide = cycle.carbon_dioxide();
    match at.one_of(pump, &["single_pass", "multi_pass"], !cycle.tank_coil()) {
        Some("multi_pass") => multi_pass(at, pump, cycle, size),
        None if cycle.tank_coil() => multi_pass(at, pump, cycle, size),
        Some(_) => {
            let section = at.section(pump, "single_pass");
            let outlet_k = at.value(&section, "outlet");
            WaterCircuit::SinglePass {
                outlet: kelvin(outlet_k),
                min_rise: interval(at.value(&section, "least_rise")),
                outlet_stop: kelvin(outlet_stop(at, &section, outlet_k, carbon_dioxide)),
            }
        }
        None => WaterCircuit::SinglePass {
            outlet: celsius(60.0),
            min_rise: interval(5.0),
            outlet_stop: celsius(90.0),
        },
    }
}

fn multi_pass(at: &mut Checker, pump: &Section<'_>, cycle: Cycle, size: &UnitSize) -> WaterCircuit {
    let section = at.section(pump, "multi_pass");
    let kg_s = size.heat_output().value / (PASS_RISE_DK * WATER_SPECIFIC_HEAT_J_PER_KG_K);
    let by_itself_m3_s = kg_s / 1000.0;
    let flow_m3_s = match at.optional(&section, "flow") {
        Some(flow_m3_s) => flow_m3_s,
        None if cycle.tank_coil() => {
            let reason = "Common practice, no source: water rises along the coil by itself and is taken to warm by 5 K at full output";
            at.assume(section.path_of("flow"), Kind::Flow.units()[0].write(by_itself_m3_s), reason);
            by_itself_m3_s
        }
        None => {
            at.need(&section, "flow");
            by_itself_m3_s
        }
    };
    WaterCircuit::MultiPass {
        flow: flow(flow_m3_s),
        outlet_stop: kelvin(at.value(&section, "highest_outlet")),
    }
}

/// Outlet that stops a single-pass unit, K.
fn outlet_stop(at: &mut Checker, single_pass: &Section<'_>, outlet_k: f64, carbon_dioxide: bool) -> f64 {
    at.optional(single_pass, "highest_outlet").unwrap_or_else(|| {
        let (text, reason) = if carbon_dioxide {
            ("90 degC", "Checked: original read (summary), Neksa and others, International Journal of Refrigeration 21(3) 1998: water up to 90 °C")
        } else {
            ("65 degC", "Common practice, no source: high-pressure limits act at 60 to 65 °C of leaving water")
        };
        let stop_k = si_of(Kind::Temperature, text).max(outlet_k);
        at.assume(single_pass.path_of("highest_outlet"), Kind::Temperature.units()[0].write(stop_k), reason);
        stop_k
    })
}

/// A quantity of the hot pipe: as given, else as usual, else nothing where only refrigerant passes between unit and tank.
fn hot_pipe(
    at: &mut Checker,
    pipe: &Section<'_>,
    cycle: Cycle,
    name: &str,
    kind: Kind,
    (usual, usual_reason): (&str, &'static str),
) -> f64 {
    at.optional(pipe, name).unwrap_or_else(|| {
        let (value, reason) = if cycle.tank_coil() {
            (0.0, "Common practice, no source: the water stays at the tank, and only refrigerant lines pass through the room")
        } else {
            (si_of(kind, usual), usual_reason)
        };
        at.assume(pipe.path_of(name), kind.units()[0].write(value), reason);
        value
    })
}

/// Effectiveness of the exchanger of a closed loop, where there is one.
/// Effectiveness of a plate exchanger, and of a coil in the tank, where it is not said.
const EXCHANGERS_DO: [(&str, &str); 2] = [
    (
        "75 %",
        "Common practice, no source: brazed plate exchangers are chosen for some 70 to 90 % where both flows are alike",
    ),
    (
        "50 %",
        "Common practice, no source: smooth or finned coils in a tank reach some 30 to 70 % at the flows of small heat pumps",
    ),
];

fn closed_loop(at: &mut Checker, section: &Section<'_>, cycle: Cycle) -> Option<ClosedLoop> {
    if cycle.tank_coil() && section.has("closed_loop") {
        let path = section.path_of("closed_loop");
        let what = format!("`{path}` does not go with a tank coil");
        let help = "with a coil at the tank the refrigerant itself goes there and no water passes the unit: take `closed_loop` out, or the \
                    unit's exchanger is a `plate`";
        at.fault(&path, "S146", what, None, Some(help.to_owned()));
        return None;
    }
    section.has("closed_loop").then(|| {
        let closed = at.section(section, "closed_loop");
        let coil_from = at.optional(&closed, "coil_from").map(fraction);
        let effectiveness = at.optional(&closed, "effectiveness").unwrap_or_else(|| {
            let (share, reason) = EXCHANGERS_DO[usize::from(coil_from.is_some())];
            at.assume(closed.path_of("effectiveness"), share.to_owned(), reason);
            si_of(Kind::Share, share)
        });
        ClosedLoop { effectiveness: fraction(effectiveness), coil_from }
    })
}

fn circulator(at: &mut Checker, section: &Section<'_>, circuit: WaterCircuit, cycle: Cycle) -> f64 {
    at.optional(section, "circulator").unwrap_or_else(|| {
        let small =
            "Common practice, no source: small circulators draw 3 to 45 W, the more the greater the flow";
        let (text, reason) = match circuit {
            _ if cycle.tank_coil() => {
                ("0 W", "Common practice, no source: a coil at the tank needs no circulator")
            }
            WaterCircuit::SinglePass { .. } => ("10 W", small),
            WaterCircuit::MultiPass { .. } => ("40 W", small),
        };
        at.assume(section.path_of("circulator"), text.to_owned(), reason);
        si_of(Kind::Power, text)
    })
}

/// Air over the evaporator, m3/s: given, or from what it takes from the room at the first line of its data sheet.
fn airflow(at: &mut Checker, section: &Section<'_>, cycle: Cycle, size: &UnitSize) -> f64 {
    at.optional(section, "airflow").unwrap_or_else(|| {
        let (heat_w, cop) = size.first_heat_and_cop(cycle);
        let power_w = heat_w / cop;
        let airflow = AIRFLOW_M3_S_PER_W * (heat_w - power_w).max(0.0);
        let text = format!("{} m3/h", plain(airflow * HOUR_S, 3));
        let reason = "Common practice, no source: 450 m3/h for each kilowatt taken from the room, 350 to 600";
        at.assume(section.path_of("airflow"), text, reason);
        airflow
    })
}

fn inlet_stop(at: &mut Checker, section: &Section<'_>, carbon_dioxide: bool) -> f64 {
    at.optional(section, "highest_inlet").unwrap_or_else(|| {
        let (text, reason) = if carbon_dioxide {
            ("45 degC", "Common practice, no source: trade guidance for R744 accepts spells of 35 to 45 °C of returning water")
        } else {
            ("55 degC", "Common practice, no source: high-pressure limits act at 60 to 65 °C of leaving water")
        };
        at.assume(section.path_of("highest_inlet"), text.to_owned(), reason);
        si_of(Kind::Temperature, text)
    })
}

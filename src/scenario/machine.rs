//! The heat pump's own ways: who calls it, how slowly it runs, how it deals with frost.

use super::checker::{Checker, Section};
use super::keys::si_of;
use crate::household::{
    CalledBy, CoilProbe, Contact, DefrostMethod, DefrostStart, FrostGuard, GuardMeans, ProbedPart,
    SensorPlace, SlowRunning, TankSensor, WaterCircuit,
};
use crate::units::{Kind, flow, fraction, kelvin, kilograms, seconds, watts};

/// Highest temperature at which the tank's thermostat has enough unless it is said.
const ENOUGH: &str = "50 degC";
/// How far it stays below the hottest water that the pump can make or take, and below which it calls again, K.
/// Common practice, no source: 3 to 8 K.
const SENSOR_DIFFERENTIAL_DK: f64 = 5.0;

pub(super) fn called_by(at: &mut Checker, pump: &Section<'_>) -> CalledBy {
    match at.word(pump, "called_by") {
        Some("tank") => CalledBy::Tank,
        Some("both") => CalledBy::Both,
        _ => CalledBy::Room,
    }
}

pub(super) fn contact(at: &mut Checker, thermostat: &Section<'_>) -> Option<Contact> {
    at.word(thermostat, "contact").map(|word| match word {
        "permits" => Contact::Permits,
        _ => Contact::Calls,
    })
}

/// The thermostat at the tank, and what the unit's input for its sensor is wired to.
pub(super) fn tank_sensor(
    at: &mut Checker,
    pump: &Section<'_>,
    circuit: WaterCircuit,
    inlet_stop_k: f64,
) -> (TankSensor, Option<SensorPlace>) {
    let section = at.section(pump, "tank_sensor");
    let hottest_k = match circuit {
        WaterCircuit::SinglePass { outlet, .. } => outlet.value,
        WaterCircuit::MultiPass { outlet_stop, .. } => outlet_stop.value.min(inlet_stop_k),
    };
    let enough_k = at.optional(&section, "enough_at").unwrap_or_else(|| {
        let enough_k = si_of(Kind::Temperature, ENOUGH).min(hottest_k - SENSOR_DIFFERENTIAL_DK);
        let reason = "Common practice, no source: tanks are kept at 45 to 55 °C, and no hotter than the pump can make them";
        at.assume(section.path_of("enough_at"), Kind::Temperature.units()[0].write(enough_k), reason);
        enough_k
    });
    let calls_k = at.optional(&section, "calls_at").unwrap_or_else(|| {
        let calls_k = enough_k - SENSOR_DIFFERENTIAL_DK;
        let reason = "Common practice, no source: a differential of 5 K";
        at.assume(section.path_of("calls_at"), Kind::Temperature.units()[0].write(calls_k), reason);
        calls_k
    });
    let sensor = TankSensor {
        height: fraction(at.value(&section, "height")),
        calls_at: kelvin(calls_k),
        enough_at: kelvin(enough_k),
    };
    let place = at.word(&section, "unit_reads").map(|word| match word {
        "fixed resistor" => SensorPlace::Resistor,
        _ => SensorPlace::Tank,
    });
    (sensor, place)
}

pub(super) fn slow_running(at: &mut Checker, pump: &Section<'_>) -> Option<SlowRunning> {
    let section = at.optional_section(pump, "slow_running")?;
    Some(SlowRunning {
        least: fraction(at.value(&section, "least_output")),
        gain_at_half: fraction(at.value(&section, "gain_at_half")),
    })
}

pub(super) fn defrost(at: &mut Checker, pump: &Section<'_>) -> Option<DefrostMethod> {
    let Some(section) = at.optional_section(pump, "defrost") else {
        let reason = "Common practice, no source: frost melts in the room's air while it rests; its manual may say that it defrosts after so much running, by the clock or on demand";
        at.assume(pump.path_of("defrost"), "none".to_owned(), reason);
        return None;
    };
    let (takes_s, power_w) = (at.value(&section, "takes"), at.value(&section, "power"));
    Some(DefrostMethod {
        begins: defrost_start(at, &section),
        takes: seconds(takes_s),
        power: watts(power_w),
        thaws_in: seconds(thaws_in_s(at, &section, takes_s, power_w)),
    })
}

fn defrost_start(at: &mut Checker, section: &Section<'_>) -> DefrostStart {
    match at.one_of(section, &["every", "by_clock", "at_frost"], false) {
        Some("by_clock") => DefrostStart::Clock(seconds(at.optional(section, "by_clock").unwrap_or_default())),
        Some("at_frost") => {
            DefrostStart::Frost(kilograms(at.optional(section, "at_frost").unwrap_or_default()))
        }
        _ => DefrostStart::Running(seconds(at.optional(section, "every").unwrap_or_else(|| {
            let text = "60 min";
            let reason = "Common practice, no source: a timer that counts 30 to 90 min of running; others go by the clock or wait for frost: see its manual";
            at.assume(section.path_of("every"), text.to_owned(), reason);
            si_of(Kind::Time, text)
        }))),
    }
}

/// Rest after which the frost has thawed by itself, s.
fn thaws_in_s(at: &mut Checker, section: &Section<'_>, takes_s: f64, power_w: f64) -> f64 {
    at.optional(section, "thaws_in").unwrap_or_else(|| {
        if power_w == 0.0 {
            // The unit does nothing but rest then: its own time is the thaw's.
            return takes_s;
        }
        let text = "30 min";
        let reason = "Common practice, no source: coolers that defrost by resting are given 20 to 45 min in air of some degrees";
        at.assume(section.path_of("thaws_in"), text.to_owned(), reason);
        si_of(Kind::Time, text)
    })
}

pub(super) fn coil_probe(at: &mut Checker, pump: &Section<'_>) -> Option<CoilProbe> {
    let section = at.optional_section(pump, "coil_probe")?;
    Some(CoilProbe {
        on: match at.word(&section, "on") {
            Some("refrigerant pipe") => ProbedPart::Pipe,
            _ => ProbedPart::Fins,
        },
        stops_below: kelvin(at.value(&section, "stops_below")),
        starts_above: kelvin(at.value(&section, "starts_above")),
        follows_in: seconds(at.value(&section, "follows_in")),
    })
}

pub(super) fn frost_guard(at: &mut Checker, pump: &Section<'_>, circuit: WaterCircuit) -> Option<FrostGuard> {
    let Some(section) = at.optional_section(pump, "frost_protection") else {
        let reason = "Common practice, no source: many units protect their water below 3 to 5 °C of air, which in a cold room is always: see its manual";
        at.assume(pump.path_of("frost_protection"), "none".to_owned(), reason);
        return None;
    };
    let below = kelvin(at.value(&section, "below"));
    let by = match at.one_of(&section, &["heater", "circulation"], true) {
        Some("circulation") => {
            let circulation = at.section(&section, "circulation");
            GuardMeans::Circulator {
                share: fraction(at.value(&circulation, "share")),
                flow: flow(guard_flow(at, &circulation, circuit)),
            }
        }
        _ => GuardMeans::Heater { power: watts(at.optional(&section, "heater").unwrap_or_default()) },
    };
    Some(FrostGuard { below, by })
}

/// Flow while the circulator turns against frost, m3/s.
fn guard_flow(at: &mut Checker, section: &Section<'_>, circuit: WaterCircuit) -> f64 {
    at.optional(section, "flow").unwrap_or_else(|| match circuit {
        WaterCircuit::MultiPass { flow, .. } => flow.value,
        WaterCircuit::SinglePass { .. } => {
            let text = "1.5 L/min";
            let reason = "Common practice, no source: about the flow of a small unit while it heats";
            at.assume(section.path_of("flow"), text.to_owned(), reason);
            si_of(Kind::Flow, text)
        }
    })
}

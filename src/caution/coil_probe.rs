//! C021, a probe on the coil that stops the unit.

use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::{CoolerUnit, Household, ProbedPart};
use crate::plant::{Cooler, Plant};
use crate::wording::{Wording, count};
use crate::year::Year;

const SOURCE: &str = "Temperatures of fins and pipe: the refrigerant 7 K below the air (10 K with a coil at the tank), the fins seven tenths of that: \
    Common practice, no source. That a stop above the running coil's temperature breaks off every run: Derived here.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C021",
    title: "A probe on the coil that stops the unit",
    says: "Whether the coil's own probe breaks off runs that should go on, or does not let the unit run again while the room wants cooling.",
    why: "Set above what the running coil comes to, the probe stops the unit a few minutes after each start; set to release it only in air warmer than \
        the thermostat's, it keeps it off until the food is too warm. Fins and refrigerant differ by degrees: a setting meant for the one is wrong on the other.",
    what_to_do: "Find out what the probe is fixed to. Set its stop some degrees below the running coil, and its release below the thermostat's switching-on \
        point. Whoever has the licence for the unit and its wiring sets it, as the maker's papers and the local code allow.",
    silent: Some(
        "Without such a probe, and when it stops below the running coil and lets the unit go at or below the thermostat's switching-on point.",
    ),
    source: Some(SOURCE),
};

/// C021, a probe on the coil that stops the unit.
///
/// Limits: what the probe comes to in a run at the thermostat's two switching points, and the upper one of these.
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let Cooler::HeatPump(pump) = &plant.cooler;
    let (told, probe) = (unit.coil_probe?, pump.coil_probe?);
    let say = Wording(household.units);
    let thermostat = &plant.thermostat;
    let runs_at_k = |air_k: f64| pump.coil_probe_runs_at_k(&probe, air_k, 1.0);
    let mut texts = Vec::new();
    let mut severity = Severity::Know;
    if probe.restart_k > thermostat.on_at_k {
        severity = Severity::FixFirst;
        texts.push(format!(
            "Once it has stopped, the probe on the coil lets it run again only at {}, and the fan warms it no further than the room's air: the room \
             has to become that warm first, above the {} at which the thermostat asks for cooling.",
            say.temperature(probe.restart_k),
            say.temperature(thermostat.on_at_k)
        ));
    }
    let place = match told.on {
        ProbedPart::Fins => "fins come",
        ProbedPart::Pipe => "refrigerant pipe comes",
    };
    let [at_start_k, at_end_k] = [thermostat.on_at_k, thermostat.off_at_k].map(runs_at_k);
    if probe.stop_k >= at_start_k {
        severity = Severity::FixFirst;
        texts.push(format!(
            "In a run the {place} to {} when the room is at the switching-on point already, and the probe stops the unit at {}: every run is \
             broken off within minutes.",
            say.temperature(at_start_k),
            say.temperature(probe.stop_k)
        ));
    } else if probe.stop_k >= at_end_k {
        texts.push(format!(
            "Towards the end of a run the {place} to {}, and the probe stops the unit at {}: it breaks runs off before the room is cold enough.",
            say.temperature(at_end_k),
            say.temperature(probe.stop_k)
        ));
    }
    if texts.is_empty() {
        return None;
    }
    let pipe_k = thermostat.off_at_k - pump.coil_below_air_dk(1.0);
    let fins_k = thermostat.off_at_k - ProbedPart::Fins.below_air_frac() * pump.coil_below_air_dk(1.0);
    texts.push(format!(
        "It did so {} in the year. With the room at its coldest the refrigerant evaporates at about {} and the fins are at about {}: set the stop below the \
         one that the probe is fixed to, the release below {}. A licensed technician sets it, as the maker's papers and your local code allow.",
        count(year.total.coil_stops, "time"),
        say.temperature(pipe_k),
        say.temperature(fins_k),
        say.temperature(thermostat.on_at_k)
    ));
    Some(EXPLANATION.raised(severity, texts.join(" ")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::household::CoilProbe;
    use crate::units::{kelvin, seconds};

    fn raised(stop_k: f64, restart_k: f64) -> Option<Caution> {
        let mut household = example::household();
        let CoolerUnit::HeatPump(unit) = &mut household.cooler;
        unit.coil_probe = Some(CoilProbe {
            on: ProbedPart::Pipe,
            stops_below: kelvin(stop_k),
            starts_above: kelvin(restart_k),
            follows_in: seconds(180.0),
        });
        let mut plant = example::plant();
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.coil_probe = Some(crate::plant::CoilProbe {
            below_air_frac: 1.0,
            stop_k,
            restart_k,
            lag_s: 180.0,
            fan_w: 50.0,
        });
        caution(&household, &plant, &example::year())
    }

    /// Switching points of the example, less 7 K for the pipe.
    fn marks_k() -> (f64, f64, f64) {
        let plant = example::plant();
        (plant.thermostat.on_at_k, plant.thermostat.on_at_k - 7.0, plant.thermostat.off_at_k - 7.0)
    }

    #[test]
    fn without_a_probe_nothing_is_said() {
        assert_eq!(caution(&example::household(), &example::plant(), &example::year()), None);
    }

    #[test]
    fn a_release_above_the_thermostat_keeps_the_unit_off() {
        let (on_k, _, end_k) = marks_k();
        for (restart_k, told) in [(on_k - 0.1, false), (on_k, false), (on_k + 0.1, true)] {
            let caution = raised(end_k - 5.0, restart_k);
            assert_eq!(
                caution.as_ref().is_some_and(|one| one.severity == Severity::FixFirst),
                told,
                "{restart_k}"
            );
        }
    }

    #[test]
    fn a_stop_above_the_running_coil_breaks_runs_off() {
        let (on_k, start_k, end_k) = marks_k();
        let of = |stop_k: f64| raised(stop_k, on_k).map(|caution| caution.severity);
        assert_eq!(
            (of(end_k - 0.1), of(end_k), of(end_k + 0.1)),
            (None, Some(Severity::Know), Some(Severity::Know))
        );
        assert_eq!(
            (of(start_k - 0.1), of(start_k), of(start_k + 0.1)),
            (Some(Severity::Know), Some(Severity::FixFirst), Some(Severity::FixFirst))
        );
    }
}

//! Frost on the coil and the unit's own ways of getting rid of it.

use super::control::SAME_INSTANT_S;
use super::engine::{Engine, PumpClock, SHORTEST_STEP_S};
use crate::constants::ZERO_CELSIUS_K;
use crate::plant::{DefrostBegins, HeatPump};

/// A defrost under way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Melting {
    /// Its end, on the clock of the rest that it is part of, s.
    pub ends_s: f64,
    /// It broke off a run: cooling was still wanted.
    pub resumes: bool,
}

/// The frost on the coil, as far as what begins a defrost looks at it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Frost {
    /// Time that the pump ran with a frosted coil since the frost was last gone, s.
    pub running_s: f64,
    /// Frost that has settled since then, kg.
    pub kg: f64,
    /// How fast it settled in the last step of running, kg/s.
    pub kg_s: f64,
    /// Time until the clock begins the next defrost, s; infinite where it begins none.
    pub clock_s: f64,
}

impl Frost {
    pub fn none(pump: &HeatPump) -> Self {
        let clock_s = match pump.defrost.map(|defrost| defrost.begins) {
            Some(DefrostBegins::Clock(every_s)) => every_s,
            _ => f64::INFINITY,
        };
        Self { running_s: 0.0, kg: 0.0, kg_s: 0.0, clock_s }
    }

    /// The coil is free of it.
    pub fn gone(&mut self) {
        (self.running_s, self.kg) = (0.0, 0.0);
    }
}

impl Engine<'_> {
    /// Ends the defrost whose time is over: if nothing wants the pump then, a rest like any other goes on. Returns whether it had
    /// broken off a run.
    pub(super) fn end_defrost(&mut self) -> bool {
        let over = |melting: &Melting| self.clock.since_s >= melting.ends_s - SHORTEST_STEP_S;
        let Some(melting) = self.clock.melting.filter(over) else { return false };
        self.clock.melting = None;
        self.frost.gone();
        melting.resumes
    }

    /// Whether a defrost has to begin now. Running time and frost are looked at while the pump runs, the clock always.
    pub(super) fn defrost_is_due(&self) -> bool {
        let Some(defrost) = self.pump.defrost.filter(|_| self.clock.melting.is_none()) else { return false };
        match defrost.begins {
            DefrostBegins::Running(every_s) => {
                self.clock.running && self.frost.running_s >= every_s - SAME_INSTANT_S
            }
            DefrostBegins::Frost(kg) => {
                self.clock.running && self.frost.kg + self.frost.kg_s * SHORTEST_STEP_S >= kg
            }
            DefrostBegins::Clock(_) => self.frost.clock_s <= SHORTEST_STEP_S,
        }
    }

    /// Begins a defrost, of a running pump or within a rest.
    pub(super) fn begin_defrost(&mut self) {
        let Some(defrost) = self.pump.defrost else { return };
        let resumes = self.clock.running;
        if resumes {
            self.clock = PumpClock::resting(0.0, self.resolution.first_step_s);
        }
        self.clock.melting = Some(Melting { ends_s: self.clock.since_s + defrost.takes_s, resumes });
        if let DefrostBegins::Clock(every_s) = defrost.begins {
            self.frost.clock_s += every_s;
        }
        self.sums.defrosts += 1.0;
    }

    /// Longest time until a step has to end for the sake of the next defrost, s: until it begins, or half of that where only the frost's
    /// rate of the last step tells.
    pub(super) fn defrost_cuts_in_s(&self) -> f64 {
        match self.pump.defrost.map(|defrost| defrost.begins) {
            Some(DefrostBegins::Running(every_s)) if self.clock.running => {
                let left_s = every_s - self.frost.running_s;
                // A coil that is free of frost now does not come nearer to it.
                if self.frost.kg_s > 0.0 { left_s } else { left_s.max(self.resolution.first_step_s) }
            }
            Some(DefrostBegins::Frost(kg)) if self.clock.running && self.frost.kg_s > 0.0 => {
                let left_s = (kg - self.frost.kg) / self.frost.kg_s;
                if left_s > self.resolution.first_step_s { 0.5 * left_s } else { left_s }
            }
            Some(DefrostBegins::Clock(_)) => self.frost.clock_s,
            _ => f64::INFINITY,
        }
    }

    /// Frost is gone by itself once air above freezing has acted on the resting coil for long enough.
    pub(super) fn thaw(&mut self, step_s: f64, air_mean_k: f64) {
        let Some(defrost) = self.pump.defrost else { return };
        if air_mean_k > ZERO_CELSIUS_K {
            self.clock.thawed_s += step_s;
        }
        if self.clock.thawed_s >= defrost.thaws_s - SHORTEST_STEP_S {
            self.frost.gone();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::plant::{Cooler, Defrost, Plant};
    use crate::resolution::Resolution;
    use crate::simulate::engine::Lockouts;

    const TAKES_S: f64 = 300.0;
    const REST_S: f64 = 600.0;

    fn plant(begins: DefrostBegins) -> Plant {
        let mut plant = example::plant();
        plant.thermostat.min_rest_s = REST_S;
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.defrost = Some(Defrost { begins, takes_s: TAKES_S, power_w: 100.0, thaws_s: 1800.0 });
        plant
    }

    /// An engine whose pump runs and whose probe stands at a share of the thermostat's band.
    fn running<'a>(plant: &'a Plant, resolution: &'a Resolution) -> Engine<'a> {
        let mut engine = Engine::new(plant, resolution, 0);
        engine.clock = PumpClock::started(resolution.first_step_s, 1.0);
        engine.lockouts = Lockouts::default();
        probe_at(&mut engine, 0.5);
        engine
    }

    fn probe_at(engine: &mut Engine<'_>, share: f64) {
        let thermostat = &engine.plant.thermostat;
        engine.room.probe_k = thermostat.off_at_k + share * (thermostat.on_at_k - thermostat.off_at_k);
    }

    /// A run that has been broken off by a defrost which ends now.
    fn melted<'a>(plant: &'a Plant, resolution: &'a Resolution) -> Engine<'a> {
        let mut engine = running(plant, resolution);
        engine.frost.running_s = 3600.0;
        engine.switch_pump(false);
        assert!(!engine.clock.running && engine.clock.melting.is_some());
        engine.clock.since_s = TAKES_S;
        engine
    }

    #[test]
    fn a_run_that_was_broken_off_goes_on_before_the_shortest_rest() {
        let (plant, resolution) = (plant(DefrostBegins::Running(3600.0)), Resolution::default());
        let mut engine = melted(&plant, &resolution);
        engine.switch_pump(false);
        assert!(engine.clock.running && engine.clock.melting.is_none());
        assert_eq!((engine.sums.starts, engine.sums.defrosts, engine.frost.running_s), (1.0, 1.0, 0.0));
    }

    /// A hair before the next defrost the coil is free of frost for hours: the steps stay long.
    #[test]
    fn a_defrost_that_does_not_come_nearer_shortens_no_step() {
        let (plant, resolution) = (plant(DefrostBegins::Running(3600.0)), Resolution::default());
        let mut engine = running(&plant, &resolution);
        engine.frost.running_s = 3600.0 - 0.002;
        engine.frost.kg_s = 0.0;
        assert_eq!(engine.defrost_cuts_in_s(), resolution.first_step_s);
        engine.frost.kg_s = 1e-6;
        assert!((engine.defrost_cuts_in_s() - 0.002).abs() < 1e-9);
    }

    /// The room has become cold enough meanwhile: the rest is then one like any other, which only the switching-on point ends,
    /// and not before the shortest rest.
    #[test]
    fn a_defrost_may_end_without_a_start() {
        let (plant, resolution) = (plant(DefrostBegins::Running(3600.0)), Resolution::default());
        let mut engine = melted(&plant, &resolution);
        probe_at(&mut engine, -0.1);
        engine.switch_pump(false);
        assert!(!engine.clock.running && engine.clock.melting.is_none());
        assert_eq!((engine.frost.running_s, engine.idle().melting_w), (0.0, 0.0));
        engine.clock.since_s = REST_S;
        probe_at(&mut engine, 0.9);
        engine.switch_pump(false);
        assert!(!engine.clock.running, "the wish of before the defrost is forgotten");
        probe_at(&mut engine, 1.1);
        engine.clock.since_s = REST_S - 1.0;
        engine.switch_pump(false);
        assert!(!engine.clock.running, "the shortest rest is not over");
        engine.clock.since_s = REST_S;
        engine.switch_pump(false);
        assert!(engine.clock.running);
        assert_eq!(engine.sums.defrosts, 1.0);
    }

    #[test]
    fn a_lock_out_at_the_end_of_a_defrost_forgets_the_run() {
        let (plant, resolution) = (plant(DefrostBegins::Running(3600.0)), Resolution::default());
        let mut engine = melted(&plant, &resolution);
        engine.lockouts.air_low = true;
        engine.switch_pump(false);
        assert!(!engine.clock.running && engine.clock.melting.is_none());
        engine.lockouts.air_low = false;
        engine.clock.since_s = REST_S;
        engine.switch_pump(false);
        assert!(!engine.clock.running);
    }

    #[test]
    fn the_clock_defrosts_within_a_rest_and_the_rest_goes_on() {
        let (plant, resolution) = (plant(DefrostBegins::Clock(21_600.0)), Resolution::default());
        let mut engine = running(&plant, &resolution);
        engine.clock = PumpClock::resting(REST_S - 100.0, resolution.first_step_s);
        engine.frost.clock_s = 0.0;
        engine.switch_pump(false);
        assert_eq!((engine.clock.since_s, engine.least_rest_s()), (REST_S - 100.0, REST_S + 200.0));
        assert_eq!((engine.frost.clock_s, engine.idle().melting_w), (21_600.0, 100.0));
        // Cooling is wanted meanwhile: it has to wait.
        probe_at(&mut engine, 1.1);
        engine.clock.since_s = REST_S;
        engine.switch_pump(true);
        assert!(!engine.clock.running);
        engine.clock.since_s = REST_S + 200.0;
        engine.switch_pump(false);
        assert!(engine.clock.running);
    }

    /// Within the band nothing was wanted before such a defrost, and nothing is after it.
    #[test]
    fn the_clocks_defrost_of_a_rest_starts_no_run() {
        let (plant, resolution) = (plant(DefrostBegins::Clock(21_600.0)), Resolution::default());
        let mut engine = running(&plant, &resolution);
        engine.clock = PumpClock::resting(REST_S, resolution.first_step_s);
        engine.frost.clock_s = 0.0;
        engine.switch_pump(false);
        engine.clock.since_s = REST_S + TAKES_S;
        engine.switch_pump(false);
        assert!(!engine.clock.running && engine.clock.melting.is_none());
    }

    #[test]
    fn frost_begins_a_defrost_at_its_mark_and_only_while_the_pump_runs() {
        let (plant, resolution) = (plant(DefrostBegins::Frost(0.5)), Resolution::default());
        for (kg, begins) in [(0.499, false), (0.5, true), (0.501, true)] {
            let mut engine = running(&plant, &resolution);
            engine.frost.kg = kg;
            engine.switch_pump(false);
            assert_eq!(engine.clock.melting.is_some(), begins, "{kg}");
        }
        let mut engine = running(&plant, &resolution);
        engine.clock = PumpClock::resting(0.0, resolution.first_step_s);
        engine.frost.kg = 0.6;
        engine.switch_pump(false);
        assert!(engine.clock.melting.is_none());
    }

    #[test]
    fn frost_thaws_by_itself_in_air_above_freezing_only() {
        let (plant, resolution) = (plant(DefrostBegins::Frost(0.5)), Resolution::default());
        let mut engine = running(&plant, &resolution);
        engine.clock = PumpClock::resting(0.0, resolution.first_step_s);
        (engine.frost.kg, engine.frost.running_s) = (0.3, 900.0);
        engine.thaw(3600.0, ZERO_CELSIUS_K - 0.1);
        engine.thaw(1799.0, ZERO_CELSIUS_K + 0.1);
        assert_eq!((engine.frost.kg, engine.frost.running_s), (0.3, 900.0));
        engine.thaw(1.0, ZERO_CELSIUS_K + 0.1);
        assert_eq!((engine.frost.kg, engine.frost.running_s), (0.0, 0.0));
    }
}

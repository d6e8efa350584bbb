//! The probe on the coil: a lock-out that follows the coil, not the room.

use super::control::SAME_TEMPERATURE_DK;
use super::engine::Engine;

/// Longest step while the probe nears a switching point, share of its time constant: in it the air moves by a few tenths of a kelvin at most.
const LONGEST_STEP_OF_LAG: f64 = 0.1;

/// Distance from what it nears at which the probe has come up with it, K.
const COME_UP_DK: f64 = 0.05;
/// Step that is always allowed then, s.
const LONGEST_DRIFT_S: f64 = 60.0;
/// Step that is always allowed before, s.
const SHORTEST_FOLLOWING_S: f64 = 2.0;

impl Engine<'_> {
    /// Sets and releases the lock-out of the probe on the coil.
    pub(super) fn sense_coil(&mut self) {
        let Some(probe) = self.pump.coil_probe else { return };
        let held = self.lockouts.coil;
        self.lockouts.coil = if held {
            self.coil_probe_k < probe.restart_k - SAME_TEMPERATURE_DK
        } else {
            self.coil_probe_k <= probe.stop_k + SAME_TEMPERATURE_DK
        };
        if self.lockouts.coil && !held {
            self.sums.coil_stops += 1.0;
        }
    }

    /// What the probe nears in air of a temperature, K: the coil's while the pump runs, else the air's.
    fn coil_probe_nears_k(&self, air_k: f64) -> f64 {
        match self.pump.coil_probe {
            Some(probe) if self.clock.running => {
                self.pump.coil_probe_runs_at_k(&probe, air_k, self.clock.output_frac)
            }
            _ => air_k,
        }
    }

    /// Longest step that keeps the probe, s: until, in air of its present temperature, it stops or releases the pump; while the air itself moves, a share of its time
    /// constant.
    pub(super) fn coil_probe_step_s(&self) -> f64 {
        let Some(probe) = self.pump.coil_probe else { return f64::INFINITY };
        let nears_k = self.coil_probe_nears_k(self.room.air_k);
        let mark_k = if self.lockouts.coil { probe.restart_k } else { probe.stop_k };
        let passes = if self.lockouts.coil { nears_k > mark_k } else { nears_k < mark_k };
        let ratio = (nears_k - self.coil_probe_k) / (nears_k - mark_k);
        let switches_s = if passes && ratio > 1.0 { probe.lag_s * libm::log(ratio) } else { f64::INFINITY };
        let moves = self.clock.running || self.lockouts.coil;
        if !moves {
            return switches_s;
        }
        // Where it has come up with what it nears, the air drifts no faster than that in a time constant.
        let apart_dk = (nears_k - self.coil_probe_k).abs();
        let longest_s = if apart_dk < COME_UP_DK {
            probe.lag_s.max(LONGEST_DRIFT_S)
        } else {
            (LONGEST_STEP_OF_LAG * probe.lag_s).max(SHORTEST_FOLLOWING_S)
        };
        switches_s.min(longest_s)
    }

    /// Lets the probe follow through a step in air of a mean temperature.
    pub(super) fn lag_coil_probe(&mut self, step_s: f64, air_mean_k: f64) {
        let Some(probe) = self.pump.coil_probe else { return };
        let nears_k = self.coil_probe_nears_k(air_mean_k);
        self.coil_probe_k = nears_k + (self.coil_probe_k - nears_k) * libm::exp(-step_s / probe.lag_s);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::plant::{CoilProbe, Cooler, Plant};
    use crate::resolution::Resolution;
    use crate::simulate::engine::PumpClock;
    use approx::assert_relative_eq;

    const LAG_S: f64 = 180.0;

    fn plant(stop_below_air_dk: f64) -> Plant {
        let mut plant = example::plant();
        let air_k = 0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k);
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.coil_probe = Some(CoilProbe {
            below_air_frac: 1.0,
            stop_k: air_k - stop_below_air_dk,
            restart_k: air_k - 1.0,
            lag_s: LAG_S,
            fan_w: 50.0,
        });
        plant
    }

    fn running<'a>(plant: &'a Plant, resolution: &'a Resolution) -> Engine<'a> {
        let mut engine = Engine::new(plant, resolution, 0);
        engine.clock = PumpClock::started(resolution.first_step_s, 1.0);
        engine
    }

    /// Follows the probe to its next switch in air that stays as it is, and returns how long that took, s.
    fn until_it_switches_s(engine: &mut Engine<'_>) -> f64 {
        let (held, mut took_s) = (engine.lockouts.coil, 0.0);
        while engine.lockouts.coil == held {
            let step_s = engine.coil_probe_step_s();
            engine.lag_coil_probe(step_s, engine.room.air_k);
            engine.sense_coil();
            took_s += step_s;
        }
        took_s
    }

    /// Exactly: the coil is 7 K below the air; at 3.5 K, half of it, the probe is after ln 2 of its time constant. At rest it nears the air: from 3.5 to 1 K
    /// below it takes ln 3.5.
    #[test]
    fn it_stops_the_pump_when_half_the_way_is_gone() {
        let (plant, resolution) = (plant(3.5), Resolution::default());
        let mut engine = running(&plant, &resolution);
        let stops_s = until_it_switches_s(&mut engine);
        assert_relative_eq!(stops_s, LAG_S * std::f64::consts::LN_2, max_relative = 1e-6);
        assert!(engine.lockouts.any());
        assert_eq!(engine.sums.coil_stops, 1.0);
        engine.clock = PumpClock::resting(0.0, resolution.first_step_s);
        assert_eq!(engine.idle().fan_w, 50.0);
        let releases_s = until_it_switches_s(&mut engine);
        assert_relative_eq!(releases_s, LAG_S * libm::log(3.5), max_relative = 1e-6);
        assert_eq!(engine.idle().fan_w, 0.0);
    }

    /// Its stop lies below all that the coil comes to, or its release above the air: it never switches.
    #[test]
    fn what_lies_beyond_is_never_reached() {
        let (mut plant, resolution) = (plant(7.5), Resolution::default());
        assert!(running(&plant, &resolution).coil_probe_step_s() == LONGEST_STEP_OF_LAG * LAG_S);
        let mut far = running(&plant, &resolution);
        far.lag_coil_probe(1e6, far.room.air_k);
        far.sense_coil();
        assert!(!far.lockouts.coil);
        let air_k = 0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k);
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.coil_probe.as_mut().expect("it has one").restart_k = air_k + 1.0;
        let mut engine = running(&plant, &resolution);
        engine.clock = PumpClock::resting(0.0, resolution.first_step_s);
        engine.lockouts.coil = true;
        engine.lag_coil_probe(1e6, engine.room.air_k);
        engine.sense_coil();
        assert!(engine.lockouts.coil);
    }
}

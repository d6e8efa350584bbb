//! On and off: thermostat and lock-outs. Every transition states its inequality.

use super::engine::{Engine, PumpClock};
use crate::plant::Caller;

/// How often a unit that can run slowly looks at its output, s. Common practice, no source: such units change speed over minutes,
/// so that oil and pressures settle.
pub(super) const OUTPUT_REVIEW_S: f64 = 300.0;

/// Most change of output in one look, share of full. Common practice, no source; half an hour from least to most keeps the
/// room's quick air from swinging.
const OUTPUT_STEP_FRAC: f64 = 0.1;

/// Two instants closer than this are one, s.
pub(super) const SAME_INSTANT_S: f64 = 1e-6;

/// Two temperatures closer than this are one where a probe is held against its switching point, K.
pub(super) const SAME_TEMPERATURE_DK: f64 = 1e-7;

impl Engine<'_> {
    /// Water at the tank's outlet to the pump at which it locks out, K, and at which it is released.
    pub(super) fn inlet_limits_k(&self) -> (f64, f64) {
        let pump = self.pump;
        let stop_k = pump.tank_stop_k();
        (stop_k, stop_k - (pump.inlet_stop_k - pump.inlet_restart_k))
    }

    /// Sets and releases the lock-outs and the tank's call from what their sensors see now.
    pub(super) fn sense_limits(&mut self) {
        let pump = self.pump;
        let port_kg = self.position_kg(self.plant.tank.pump_out);
        let (stop_k, restart_k) = self.inlet_limits_k();
        let held = self.lockouts;
        // A sliver at the port releases no pump that the water behind it would stop at once.
        let stops = self.tank.sensed_k(port_kg) >= stop_k || (self.clock.running && self.taken_k >= stop_k);
        self.lockouts.inlet = stops || (held.inlet && self.tank.at_k(port_kg) > restart_k);
        let air_k = self.room.air_k;
        self.lockouts.air_low =
            air_k < pump.air_stop_low_k + if held.air_low { pump.air_restart_dk } else { 0.0 };
        self.lockouts.air_high =
            air_k > pump.air_stop_high_k - if held.air_high { pump.air_restart_dk } else { 0.0 };
        self.sense_coil();
        if let Some(thermostat) = pump.caller.tank() {
            let water_k = self.tank.at_k(self.position_kg(thermostat.sensor));
            self.tank_calls =
                if self.tank_calls { water_k < thermostat.enough_k } else { water_k <= thermostat.calls_k };
        }
    }

    /// Whether the cooler is switched off in this month.
    pub(super) fn is_switched_off(&self) -> bool {
        self.plant.thermostat.off_in[self.hour.month]
    }

    /// Whether the running pump has to stop now.
    fn must_stop(&self, probe_arrived: bool) -> bool {
        let thermostat = &self.plant.thermostat;
        let cold = probe_arrived || self.room.probe_k <= thermostat.off_at_k + SAME_TEMPERATURE_DK;
        let satisfied = (self.pump.caller.asks_room() && cold) || !self.tank_calls;
        let held = self.lockouts.any() || self.is_switched_off();
        held || (satisfied && self.clock.since_s >= thermostat.min_run_s - SAME_INSTANT_S)
    }

    /// Whether the resting pump may start now. `resumes`: a defrost that broke off a run is over this instant; cooling that was
    /// wanted before goes on, whatever the shortest rest.
    fn may_start(&self, probe_arrived: bool, resumes: bool) -> bool {
        let thermostat = &self.plant.thermostat;
        let probe_k = self.room.probe_k;
        let called_at_k = self.called_at_k();
        // What the probe has arrived at may be a switching point of the fans: then it is well below the pump's.
        let below_k = if self.fans_on { thermostat.on_at_k } else { thermostat.off_at_k };
        let warm = (probe_arrived && probe_k > 0.5 * (below_k + called_at_k))
            || probe_k >= called_at_k - SAME_TEMPERATURE_DK
            || (resumes && probe_k > thermostat.off_at_k);
        let called =
            (warm || !self.pump.caller.asks_room()) && self.tank_calls && self.pump.caller != Caller::Nobody;
        let rested = resumes || self.clock.since_s >= self.least_rest_s() - SAME_INSTANT_S;
        called && rested && !self.lockouts.any() && !self.is_switched_off()
    }

    /// Earliest end of the present rest, s: of a defrost its own end, of other rests the shortest one.
    pub(super) fn least_rest_s(&self) -> f64 {
        self.clock.melting.map_or(self.plant.thermostat.min_rest_s, |melting| melting.ends_s)
    }

    /// Switches the pump. `probe_arrived`: the last step ended where the probe met its switching point.
    pub(super) fn switch_pump(&mut self, probe_arrived: bool) {
        let resumes = self.end_defrost();
        if self.clock.running && self.must_stop(probe_arrived) {
            self.clock = PumpClock::resting(0.0, self.resolution.first_step_s);
        }
        if self.defrost_is_due() {
            self.begin_defrost();
        } else if !self.clock.running
            && self.clock.melting.is_none()
            && self.may_start(probe_arrived, resumes)
        {
            let slowest = self.pump.slow_running.map_or(1.0, |slow| slow.least_frac);
            let output_frac = if self.pump.caller.asks_room() { slowest } else { 1.0 };
            self.clock = PumpClock::started(self.resolution.first_step_s, output_frac);
            self.taken_k = f64::NEG_INFINITY;
            self.sums.starts += 1.0;
            self.settle_tank();
        }
    }

    /// Switches the fans that blow in outdoor air: they come before the cooler and go on until the room is cold enough or the
    /// outdoor air no longer is. `probe_arrived` as of [`Engine::switch_pump`].
    pub(super) fn switch_fans(&mut self, probe_arrived: bool) {
        let Some(fans) = &self.plant.fans else { return };
        let thermostat = &self.plant.thermostat;
        let probe_k = self.room.probe_k;
        let called = if self.fans_on {
            let cold = probe_k <= thermostat.off_at_k + SAME_TEMPERATURE_DK;
            let arrived = probe_arrived && probe_k < 0.5 * (thermostat.on_at_k + thermostat.off_at_k);
            !(cold || arrived)
        } else {
            !self.clock.running && (probe_arrived || probe_k >= thermostat.on_at_k - SAME_TEMPERATURE_DK)
        };
        let outdoor_k = self.hour.boundary_k(self.plant, 0, self.offset_s);
        let blows =
            called && !self.is_switched_off() && fans.may_blow(self.room.air_k, outdoor_k, self.fans_on);
        self.sums.fan_starts += if blows && !self.fans_on { 1.0 } else { 0.0 };
        self.fans_on = blows;
    }

    /// Probe temperature from which the resting pump is called, K: a little higher while fans do its work.
    pub(super) fn called_at_k(&self) -> f64 {
        let helped_dk =
            self.plant.fans.as_ref().filter(|_| self.fans_on).map_or(0.0, |fans| fans.helped_from_dk);
        self.plant.thermostat.on_at_k + helped_dk
    }

    /// Switches the room's heater by the air; while the pump runs it stays off.
    pub(super) fn switch_heater(&mut self) {
        let air_k = self.room.air_k;
        self.heater_on = !self.clock.running
            && self.plant.room.heater.is_some_and(|heater| {
                if self.heater_on { air_k < heater.off_at_k } else { air_k <= heater.on_at_k }
            });
    }

    /// Looks at the share of full output now and then while the pump runs: more where the probe is over the middle of the
    /// thermostat's band, less where it is below.
    pub(super) fn review_output(&mut self) {
        let Some(slow) = self.pump.slow_running.filter(|_| self.pump.caller.asks_room()) else { return };
        if !self.clock.running || self.clock.reviewed_s < OUTPUT_REVIEW_S - SAME_INSTANT_S {
            return;
        }
        let thermostat = &self.plant.thermostat;
        let half_band_dk = 0.5 * (thermostat.on_at_k - thermostat.off_at_k);
        let middle_k = thermostat.off_at_k + half_band_dk;
        let over = ((self.room.probe_k - middle_k) / half_band_dk).clamp(-1.0, 1.0);
        self.clock.output_frac =
            (self.clock.output_frac + OUTPUT_STEP_FRAC * over).clamp(slow.least_frac, 1.0);
        self.clock.reviewed_s = 0.0;
    }
}

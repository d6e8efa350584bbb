//! One step: how long it may be, when within it the probe switches, and taking it.

use super::control::OUTPUT_REVIEW_S;
use super::engine::{Engine, SHORTEST_STEP_S};
use super::solve::Solved;
use super::water::Streams;
use crate::constants::ZERO_CELSIUS_K;
use crate::plant::{DAY_S, HOUR_S};
use crate::room::Temperatures;
use crate::root::{self, Near};

/// The search for a switching instant stops when the probe is this close, K.
const PROBE_TOLERANCE_DK: f64 = 1e-6;

/// The room's air counts as past a limit once it is this far beyond it, K: the next look at the limits then sees it.
const PAST_LIMIT_DK: f64 = 1e-3;

impl Engine<'_> {
    /// Takes one step.
    pub(super) fn step(&mut self) {
        self.follow_segment();
        self.sense_limits();
        self.switch_fans(false);
        self.switch_pump(false);
        self.switch_heater();
        self.review_output();
        self.switch_dump();
        self.switch_element();
        self.larder.follow(self.plant, self.room.contents_k);
        let streams = self.streams();
        let step_s = self.longest_step_s(&streams);
        let mut solved = self.solve(step_s, &streams);
        let probe_s = self.probe_arrives_s(&solved).unwrap_or(f64::INFINITY);
        let air_s = self.air_passes_limit_s(&solved).unwrap_or(f64::INFINITY);
        let arrival_s = probe_s.min(air_s);
        if arrival_s.is_finite() {
            solved = self.solve(self.to_the_hour_s(arrival_s.min(step_s)), &streams);
        }
        self.book_step(&solved);
        self.move_water(&solved, &streams);
        self.take_step(&solved);
        if arrival_s.is_finite() && probe_s <= air_s {
            self.sense_limits();
            self.switch_fans(true);
            self.switch_pump(true);
        }
    }

    /// Moves on to the segment of the day that holds now.
    fn follow_segment(&mut self) {
        let now_s = self.hour.day_s + self.offset_s + SHORTEST_STEP_S;
        while self.segment + 1 < self.today.len() && self.today[self.segment + 1].start_s <= now_s {
            self.segment += 1;
            self.shut_doors();
            if self.today[self.segment].tap_kg_s > self.today[self.segment - 1].tap_kg_s {
                self.settle_tank();
            }
        }
    }

    /// Clears the counters of the doors that are shut now.
    pub(super) fn shut_doors(&mut self) {
        let open = &self.today[self.segment].doors_open;
        for (exchanged_kg, open) in self.door_exchanged_kg.iter_mut().zip(open) {
            if !open {
                *exchanged_kg = 0.0;
            }
        }
    }

    /// The longest step that keeps switches, schedules and the water at ports and probes constant.
    fn longest_step_s(&self, streams: &Streams) -> f64 {
        let now_s = self.hour.day_s + self.offset_s;
        let segment_end_s = self.today.get(self.segment + 1).map_or(DAY_S, |next| next.start_s);
        let interval_s = self.tank_interval_s();
        let mut step_s = (HOUR_S - self.offset_s)
            .min(segment_end_s - now_s)
            .min(interval_s - self.tank_clock.elapsed_s)
            .min(streams.longest_step_s);
        if self.tank_clock.to_room_left_s > 0.0 {
            step_s = step_s.min(self.tank_clock.to_room_left_s);
        }
        step_s = step_s.min(self.coil_probe_step_s());
        step_s = step_s.min(if self.clock.running {
            self.longest_run_step_s()
        } else {
            self.longest_rest_step_s()
        });
        if self.today[self.segment].doors_open.contains(&true) {
            step_s = step_s.min(self.resolution.door_step_s);
        }
        if self.plant.fans.is_some() {
            // Whether they may blow is looked at once in each step.
            step_s = step_s.min(self.resolution.run_step_s);
        }
        self.to_the_hour_s(step_s)
    }

    /// The longest step that keeps the running pump's clocks.
    fn longest_run_step_s(&self) -> f64 {
        let mut step_s = self.clock.next_step_s;
        let mut until = |left_s: f64| {
            if left_s > SHORTEST_STEP_S {
                step_s = step_s.min(left_s);
            }
        };
        until(self.plant.thermostat.min_run_s - self.clock.since_s);
        if self.pump.slow_running.is_some() {
            until(OUTPUT_REVIEW_S - self.clock.reviewed_s);
        }
        until(self.defrost_cuts_in_s());
        step_s
    }

    /// The longest step that keeps the resting pump's clock.
    fn longest_rest_step_s(&self) -> f64 {
        let mut step_s = self.resolution.rest_step_s;
        if self.pump.frost_guard.is_some() {
            step_s = step_s.min(self.resolution.run_step_s);
        }
        for left_s in [self.least_rest_s() - self.clock.since_s, self.defrost_cuts_in_s()] {
            if left_s > SHORTEST_STEP_S {
                step_s = step_s.min(left_s);
            }
        }
        step_s
    }

    /// A step not too short to matter, and to the very end of the hour where less than the shortest would be left: the hour's
    /// integrals cover all of it.
    fn to_the_hour_s(&self, step_s: f64) -> f64 {
        let left_s = HOUR_S - self.offset_s;
        if left_s - step_s < SHORTEST_STEP_S { left_s } else { step_s.max(SHORTEST_STEP_S) }
    }

    /// When within a solved step the thermostat's probe meets a switching point of pump or fans, s.
    fn probe_arrives_s(&self, solved: &Solved) -> Option<f64> {
        let of_pump_s = self.pump_is_switched_s(solved);
        let of_fans_s = self.fans_are_switched_s(solved);
        [of_pump_s, of_fans_s].into_iter().flatten().reduce(f64::min)
    }

    fn pump_is_switched_s(&self, solved: &Solved) -> Option<f64> {
        let thermostat = &self.plant.thermostat;
        let (falling, mark_k, clock_s) = if self.clock.running {
            (true, thermostat.off_at_k, thermostat.min_run_s)
        } else {
            (false, self.called_at_k(), self.least_rest_s())
        };
        let held = !self.clock.running && (self.lockouts.any() || !self.tank_calls || self.is_switched_off());
        if self.clock.since_s < clock_s - SHORTEST_STEP_S || held || !self.pump.caller.asks_room() {
            return None;
        }
        self.probe_meets_s(solved, falling, mark_k)
    }

    fn fans_are_switched_s(&self, solved: &Solved) -> Option<f64> {
        let fans = self.plant.fans.as_ref()?;
        let thermostat = &self.plant.thermostat;
        if self.fans_on {
            return self.probe_meets_s(solved, true, thermostat.off_at_k);
        }
        let outdoor_k = self.hour.boundary_k(self.plant, 0, self.offset_s);
        let may = !self.clock.running
            && !self.is_switched_off()
            && fans.may_blow(self.room.air_k, outdoor_k, false);
        if may { self.probe_meets_s(solved, false, thermostat.on_at_k) } else { None }
    }

    /// When within a solved step the probe falls, or rises, to a switching point, s.
    fn probe_meets_s(&self, solved: &Solved, falling_to: bool, mark_k: f64) -> Option<f64> {
        // Signed so that the switching point is met from above in both cases.
        let sign = if falling_to { 1.0 } else { -1.0 };
        let gap = |state: &Temperatures| sign * (state.probe_k - mark_k);
        let falling = |state: &Temperatures| sign * (state.air_k - state.probe_k);
        let end = &solved.trajectory.end;
        let mut bracket_s = solved.step_s;
        if gap(end) > 0.0 {
            if !(falling(&self.room) < 0.0 && falling(end) > 0.0) {
                return None;
            }
            // The probe turned round inside the step: look at its turning point.
            let turn_s = self.find_s(solved, solved.step_s, |state| -falling(state), 1e-4);
            if gap(&self.room_after(solved, turn_s)) > 0.0 {
                return None;
            }
            bracket_s = turn_s;
        }
        Some(self.find_s(solved, bracket_s, gap, PROBE_TOLERANCE_DK))
    }

    /// When within a solved step the room's air first passes a limit of the pump, s.
    fn air_passes_limit_s(&self, solved: &Solved) -> Option<f64> {
        let pump = self.pump;
        let low_k = pump.air_stop_low_k + if self.lockouts.air_low { pump.air_restart_dk } else { 0.0 };
        let high_k = pump.air_stop_high_k - if self.lockouts.air_high { pump.air_restart_dk } else { 0.0 };
        let limit_s = [
            self.air_passes_s(solved, low_k, !self.lockouts.air_low),
            self.air_passes_s(solved, high_k, self.lockouts.air_high),
        ];
        let resting = !self.clock.running;
        let thaw_s = pump
            .defrost
            .filter(|_| resting && self.frost.running_s > 0.0)
            .and_then(|_| self.air_passes_s(solved, ZERO_CELSIUS_K, self.room.air_k > ZERO_CELSIUS_K));
        // A heater that holds the air at its own limit would be switched without end: each turn lasts a moment.
        let guard_s = pump
            .frost_guard
            .filter(|_| resting)
            .and_then(|guard| self.air_passes_s(solved, guard.below_k, self.room.air_k >= guard.below_k))
            .map(|passes_s| passes_s.max(self.resolution.first_step_s));
        let heater_s = self.plant.room.heater.filter(|_| resting).and_then(|heater| {
            if self.heater_on {
                self.air_passes_s(solved, heater.off_at_k, false)
            } else {
                self.air_passes_s(solved, heater.on_at_k, true)
            }
        });
        limit_s.into_iter().chain([thaw_s, guard_s, heater_s]).flatten().reduce(f64::min)
    }

    /// When within a solved step the room's air passes a limit, falling or rising, s.
    fn air_passes_s(&self, solved: &Solved, limit_k: f64, falling: bool) -> Option<f64> {
        let sign = if falling { 1.0 } else { -1.0 };
        let gap = |state: &Temperatures| sign * (state.air_k - limit_k) + PAST_LIMIT_DK;
        (gap(&solved.trajectory.end) <= 0.0)
            .then(|| self.find_s(solved, solved.step_s, gap, PROBE_TOLERANCE_DK))
    }

    /// The room at a time within a solved step.
    fn room_after(&self, solved: &Solved, time_s: f64) -> Temperatures {
        solved.modes.over(time_s).advance(&self.room, &solved.forcing).end
    }

    /// Time at which `value` falls through 0 between now and `bracket_s`.
    fn find_s(
        &self,
        solved: &Solved,
        bracket_s: f64,
        value: impl Fn(&Temperatures) -> f64,
        tolerance: f64,
    ) -> f64 {
        let near = Near { value: tolerance, width: self.resolution.instant_s };
        root::falling(0.0, bracket_s, near, |time_s| {
            if time_s == 0.0 { value(&self.room) } else { value(&self.room_after(solved, time_s)) }
        })
    }

    /// Makes the solved step the present.
    fn take_step(&mut self, solved: &Solved) {
        let step_s = solved.step_s;
        let middle_s = self.offset_s + 0.5 * step_s;
        for index in 0..self.door_exchanged_kg.len() {
            if self.today[self.segment].doors_open[index] {
                let kg_s = self.door_flow_kg_s(index, self.room.air_k, self.humidity, middle_s, step_s);
                self.door_exchanged_kg[index] += kg_s * step_s;
            }
        }
        self.lag_coil_probe(step_s, solved.air_mean_k());
        self.room = solved.trajectory.end;
        self.larder.cooling_k = solved.cooling_end_k;
        self.humidity = solved.humidity_end;
        self.clock.since_s += step_s;
        match &solved.machine {
            Some(machine) => {
                self.clock.next_step_s = (2.0 * self.clock.next_step_s).min(self.resolution.run_step_s);
                self.clock.reviewed_s += step_s;
                let frost_kg = if machine.frosted { solved.condensate_kg } else { 0.0 };
                self.frost.running_s += if machine.frosted { step_s } else { 0.0 };
                self.frost.kg += frost_kg;
                self.frost.kg_s = frost_kg / step_s;
            }
            None => self.thaw(step_s, solved.air_mean_k()),
        }
        self.frost.clock_s -= step_s;
        self.offset_s += step_s;
        if HOUR_S - self.offset_s < SHORTEST_STEP_S {
            self.offset_s = HOUR_S;
        }
    }
}

//! One step: how long it may be, the room and the pump solved together, the probe's switching instant.

use super::engine::{Engine, SHORTEST_STEP_S};
use super::hour::moist_specific_heat;
use super::respiration::Respiration;
use super::water::Streams;
use crate::air;
use crate::constants::{
    COIL_BELOW_AIR_DK, DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K, LATENT_HEAT_J_PER_KG, SHELL_LOSS_FRAC,
    WATER_SPECIFIC_HEAT_J_PER_KG_K, ZERO_CELSIUS_K,
};
use crate::heat_pump::{Operation, compressor_power_w, frosted};
use crate::plant::{Cause, Circuit, DAY_S, HOUR_S, Load};
use crate::room::{Forcing, Modes, Temperatures, Trajectory, exchange_gosney_olama_kg_s};

/// Passes of the fixed point between the step's means and what depends on them while the pump runs.
/// Each pass shrinks the error about thirtyfold (a kelvin of air moves capacity by 2 to 4 %).
const RUNNING_PASSES: usize = 2;

/// How much the coil's cooling grows with the room air, per kelvin, roughly (R744 3 %, R134a 4 %): it only speeds
/// the passes up.
const COOLING_PER_K: f64 = 0.03;

/// The same while it rests: only respiration, transpiration and the hot pipe depend on the means.
const RESTING_PASSES: usize = 2;

/// More passes while the room's air is saturated and condensation on the walls is sought.
const SATURATED_PASSES: usize = 6;

/// Water at a port that differs by less than this passes within one step, K.
pub(super) const WATER_JUMP_DK: f64 = 0.5;

/// The search for a switching instant stops when the probe is this close, K.
const PROBE_TOLERANCE_DK: f64 = 1e-6;

/// Most iterations of that search: bisection alone would need forty for an hour.
const MOST_ROOT_STEPS: usize = 60;

/// Heat of a person at work, W: `PERSON_W - PERSON_W_PER_K t`, t in degrees Celsius.
/// Source: ASHRAE Handbook Refrigeration, "Refrigerated-Facility Loads". Second hand: values within 2 W in a public vocational course; the formula From memory, to be verified.
const PERSON_W: f64 = 272.0;
const PERSON_W_PER_K: f64 = 6.0;

/// Air exchanged through the open doors.
#[derive(Debug, Clone, Copy, Default)]
struct DoorAir {
    /// Dry air, kg/s.
    kg_s: f64,
    /// Conductance, W/K.
    w_per_k: f64,
    /// Conductance times outside temperature, W.
    w: f64,
    /// Dry air times its humidity ratio, kg/s.
    vapour_kg_s: f64,
}

/// The running pump in a step.
#[derive(Debug, Clone, Copy)]
pub(super) struct Machine {
    pub operation: Operation,
    /// Share of full capacity on average over the step, after a start below 1.
    pub started_frac: f64,
    /// Heat to the water including the circulator, W.
    pub water_w: f64,
    pub flow_kg_s: f64,
    pub inlet_k: f64,
    /// Cooling of the air at the coil, sensible and latent, net of everything in the casing, W.
    coil_w: f64,
    /// Shell loss that goes outside, W.
    casing_outside_w: f64,
    frosted: bool,
}

/// A step that was solved but not yet taken.
#[derive(Debug, Clone, Copy)]
pub(super) struct Solved {
    pub step_s: f64,
    trajectory: Trajectory,
    forcing: Forcing,
    humidity_end: f64,
    humidity_mean: f64,
    condensate_kg: f64,
    wall_kg: f64,
    transpired_kg: f64,
    respiration_w: f64,
    people_w: f64,
    door: DoorAir,
    pub machine: Option<Machine>,
    pub pipe_end_k: f64,
    pub pipe_loss_w: f64,
    /// Net cooling applied to the air, sensible, W (negative: a gain).
    sensible_w: f64,
}

impl Solved {
    /// Mean room air over the step, K.
    pub(super) fn air_mean_k(&self) -> f64 {
        self.trajectory.air_mean_k
    }
}

impl Engine<'_> {
    /// Takes one step.
    pub(super) fn step(&mut self) {
        self.follow_segment();
        self.sense_limits();
        self.switch_pump(false);
        self.switch_dump();
        if !self.respiration.holds(self.hour.month, self.room.contents_k) {
            self.respiration = Respiration::of(self.plant, self.hour.month, self.room.contents_k);
        }
        let streams = self.streams();
        let step_s = self.longest_step_s(&streams);
        let mut solved = self.solve(step_s, &streams);
        let arrival_s = self.probe_arrives_s(&solved);
        if let Some(arrival_s) = arrival_s {
            solved = self.solve(arrival_s.max(SHORTEST_STEP_S).min(step_s), &streams);
        }
        self.book_step(&solved);
        self.move_water(&solved, &streams);
        self.take_step(&solved);
        if arrival_s.is_some() {
            self.sense_limits();
            self.switch_pump(true);
        }
    }

    /// Moves on to the segment of the day that holds now.
    fn follow_segment(&mut self) {
        let now_s = self.hour.day_s + self.offset_s + SHORTEST_STEP_S;
        while self.segment + 1 < self.plant.day.len() && self.plant.day[self.segment + 1].start_s <= now_s {
            self.segment += 1;
            self.shut_doors();
            if self.plant.day[self.segment].tap_kg_s > self.plant.day[self.segment - 1].tap_kg_s {
                self.settle_tank();
            }
        }
    }

    /// Clears the counters of the doors that are shut now.
    pub(super) fn shut_doors(&mut self) {
        let open = &self.plant.day[self.segment].doors_open;
        for (exchanged_kg, open) in self.door_exchanged_kg.iter_mut().zip(open) {
            if !open {
                *exchanged_kg = 0.0;
            }
        }
    }

    /// The longest step that keeps switches, schedules and the water at ports and probes constant.
    fn longest_step_s(&self, streams: &Streams) -> f64 {
        let now_s = self.hour.day_s + self.offset_s;
        let segment_end_s = self.plant.day.get(self.segment + 1).map_or(DAY_S, |next| next.start_s);
        let interval_s = self.tank_interval_s();
        let mut step_s = (HOUR_S - self.offset_s)
            .min(segment_end_s - now_s)
            .min(interval_s - self.tank_clock.elapsed_s)
            .min(streams.longest_step_s);
        if self.tank_clock.to_room_left_s > 0.0 {
            step_s = step_s.min(self.tank_clock.to_room_left_s);
        }
        let thermostat = &self.plant.thermostat;
        let least_s = if self.clock.running { thermostat.min_run_s } else { thermostat.min_rest_s };
        if self.clock.since_s < least_s - SHORTEST_STEP_S {
            step_s = step_s.min(least_s - self.clock.since_s);
        }
        step_s =
            step_s.min(if self.clock.running { self.clock.next_step_s } else { self.resolution.rest_step_s });
        if self.plant.day[self.segment].doors_open.contains(&true) {
            step_s = step_s.min(self.resolution.door_step_s);
        }
        step_s.max(SHORTEST_STEP_S).min(HOUR_S - self.offset_s)
    }

    /// Air through the open doors at the given state of the room.
    fn door_air(&self, air_k: f64, humidity: f64, offset_s: f64, step_s: f64) -> DoorAir {
        let mut sum = DoorAir::default();
        for (index, open) in self.plant.day[self.segment].doors_open.iter().enumerate() {
            if !open {
                continue;
            }
            let boundary = self.plant.room.doors[index].boundary;
            let outside_humidity = self.hour.boundary_humidity(self.plant, boundary, offset_s);
            let kg_s = self.door_flow_kg_s(index, air_k, humidity, offset_s, step_s);
            let w_per_k = kg_s * moist_specific_heat(outside_humidity);
            sum.kg_s += kg_s;
            sum.w_per_k += w_per_k;
            sum.w += w_per_k * self.hour.boundary_k(self.plant, boundary, offset_s);
            sum.vapour_kg_s += kg_s * outside_humidity;
        }
        sum
    }

    /// Dry air through one open door, kg/s; never more in one opening than the room holds below the door's head.
    fn door_flow_kg_s(&self, index: usize, air_k: f64, humidity: f64, offset_s: f64, step_s: f64) -> f64 {
        let (door, pressure_pa) = (&self.plant.room.doors[index], self.plant.pressure_pa);
        let outside_k = self.hour.boundary_k(self.plant, door.boundary, offset_s);
        let outside_humidity = self.hour.boundary_humidity(self.plant, door.boundary, offset_s);
        let inside = air::moist_air_density_kg_m3(air_k, humidity, pressure_pa);
        let outside = air::moist_air_density_kg_m3(outside_k, outside_humidity, pressure_pa);
        let full_kg_s =
            exchange_gosney_olama_kg_s(door.area_m2, door.height_m, inside, outside) / (1.0 + humidity);
        let left_kg = (door.most_exchange_kg - self.door_exchanged_kg[index]).max(0.0);
        (full_kg_s * door.open_frac).min(left_kg / step_s)
    }

    /// Solves room, humidity, pump and hot pipe for a step of the given length.
    fn solve(&self, step_s: f64, streams: &Streams) -> Solved {
        let room = &self.plant.room;
        let segment = &self.plant.day[self.segment];
        let hour = &self.hour;
        let middle_s = self.offset_s + 0.5 * step_s;
        let door = self.door_air(self.room.air_k, self.humidity, middle_s, step_s);
        let exchange_w_per_k = room.exchange_w_per_k[hour.month];
        let people_w_per_k = PERSON_W_PER_K * segment.people;
        let modes = Modes::new(
            room.air_capacity_j_per_k,
            self.contents_j_per_k,
            hour.outside_w_per_k + door.w_per_k + people_w_per_k,
            exchange_w_per_k,
            self.plant.thermostat.probe_lag_s,
        );
        let propagator = modes.over(step_s);
        let people_at_zero_w = segment.people * (PERSON_W + PERSON_W_PER_K * ZERO_CELSIUS_K);
        let outside_w = hour.outside_w
            + hour.outside_w_per_s * self.offset_s
            + door.w
            + people_at_zero_w
            + segment.lights_w;

        let started_frac = started_frac(self.clock.since_s, step_s, self.pump.start_lag_s);
        let mut means = (self.room.air_k, self.room.contents_k, self.humidity);
        let mut wall_kg_s = 0.0;
        let mut near_rise_dk = None;
        let passes = if self.clock.running { RUNNING_PASSES } else { RESTING_PASSES };
        let mut pass = 0;
        loop {
            let (air_k, contents_k, humidity) = means;
            let coil = saturation_ratio(air_k - COIL_BELOW_AIR_DK, self.plant.pressure_pa);
            let frosted = frosted(air_k, humidity, coil);
            let machine = self
                .clock
                .running
                .then(|| self.machine(step_s, air_k, frosted, started_frac, near_rise_dk, streams));
            near_rise_dk = machine.map(|machine| machine.operation.rise_dk);
            let moisture = self.moisture(step_s, means, wall_kg_s, &door, machine.as_ref(), coil, middle_s);
            let (sensible_w, coil_humidity_kg_s) = match &machine {
                Some(machine) => {
                    let net_w = machine.coil_w - self.pump.standby_w;
                    (net_w - LATENT_HEAT_J_PER_KG * moisture.condensate_kg_s, moisture.condensate_kg_s)
                }
                None => (-(self.pump.standby_w + self.pump.resting_fan_w), 0.0),
            };
            let pipe = self.pipe(step_s, air_k, machine.as_ref());
            let respiration_w = self.respiration.heat_w(contents_k);
            let forcing = Forcing {
                air_w: outside_w - sensible_w
                    + pipe.loss_w
                    + self.tank_clock.to_room_w
                    + LATENT_HEAT_J_PER_KG * wall_kg_s,
                air_w_per_s: hour.outside_w_per_s,
                contents_w: respiration_w - LATENT_HEAT_J_PER_KG * moisture.transpired_kg_s,
            };
            let trajectory = propagator.advance(&self.room, &forcing);
            // Cooling follows the air's temperature, which follows the cooling: the expected echo is taken out beforehand.
            let echo = machine.map_or(0.0, |machine| {
                propagator.air_mean_per_watt() * COOLING_PER_K * machine.coil_w.max(0.0)
            });
            let air_guess_k = air_k + (trajectory.air_mean_k - air_k) / (1.0 + echo);
            means = (air_guess_k, trajectory.contents_mean_k, moisture.mean);
            pass += 1;
            if pass < passes {
                continue;
            }
            let saturation = saturation_ratio_over_water(trajectory.end.air_k, self.plant.pressure_pa);
            let over = moisture.end - saturation;
            let settled = over <= 0.0 && wall_kg_s == 0.0;
            if settled || pass >= passes + SATURATED_PASSES {
                return Solved {
                    step_s,
                    trajectory,
                    forcing,
                    humidity_end: moisture.end,
                    humidity_mean: moisture.mean,
                    condensate_kg: coil_humidity_kg_s * step_s,
                    wall_kg: wall_kg_s * step_s,
                    transpired_kg: moisture.transpired_kg_s * step_s,
                    respiration_w,
                    people_w: people_at_zero_w - people_w_per_k * trajectory.air_mean_k,
                    door,
                    machine,
                    pipe_end_k: pipe.end_k,
                    pipe_loss_w: pipe.loss_w,
                    sensible_w,
                };
            }
            // Newton: one more kg/s on the walls dries the end of the step and warms it, which lets it hold more.
            // Saturation rises about 7 % a kelvin near 4 °C; a rough slope only costs a pass.
            let slope = moisture.end_per_wall_kg_s
                + 0.07 * saturation * LATENT_HEAT_J_PER_KG * propagator.air_end_per_watt();
            wall_kg_s = (wall_kg_s + over / slope).max(0.0);
        }
    }

    /// The running pump at the step's mean air and the water it will take.
    fn machine(
        &self,
        step_s: f64,
        air_k: f64,
        frosted: bool,
        started_frac: f64,
        near_rise_dk: Option<f64>,
        streams: &Streams,
    ) -> Machine {
        let pump = self.pump;
        let mut inlet_k = streams.inlet_k;
        let mut rise_dk = near_rise_dk;
        let (mut operation, mut flow_kg_s);
        let mut looked = 0;
        loop {
            operation = match rise_dk {
                Some(rise_dk) => pump.operate_near(air_k, inlet_k, frosted, rise_dk, 2),
                None => pump.operate(air_k, inlet_k, frosted),
            };
            rise_dk = Some(operation.rise_dk);
            flow_kg_s = pump.water_flow_kg_s(operation.heat_w * started_frac, operation.rise_dk);
            looked += 1;
            let taken_k = self.arriving_at_pump_k(flow_kg_s * step_s, streams.mains_kg_s * step_s);
            if looked == 3 || (taken_k - inlet_k).abs() < 1e-9 {
                break;
            }
            inlet_k = taken_k;
        }
        let heat_w = operation.heat_w * started_frac;
        let casing_outside_w = if pump.shell_outside_frac > 0.0 {
            pump.shell_outside_frac
                * SHELL_LOSS_FRAC
                * compressor_power_w(operation.heat_w, operation.power_w)
        } else {
            0.0
        };
        Machine {
            operation,
            started_frac,
            water_w: heat_w + pump.circulator_w,
            flow_kg_s,
            inlet_k,
            coil_w: heat_w - operation.power_w + casing_outside_w,
            casing_outside_w,
            frosted,
        }
    }

    /// Humidity over the step for given means, exactly for constant coefficients.
    fn moisture(
        &self,
        step_s: f64,
        (_, contents_k, humidity): (f64, f64, f64),
        wall_kg_s: f64,
        door: &DoorAir,
        machine: Option<&Machine>,
        coil_humidity: f64,
        middle_s: f64,
    ) -> Moisture {
        let (room, pressure_pa) = (&self.plant.room, self.plant.pressure_pa);
        let leaking = self.hour.leakage_humidity + self.hour.leakage_humidity_per_s * middle_s;
        let mut gain_kg_s = room.leakage_kg_s * leaking + door.vapour_kg_s - wall_kg_s;
        let mut loss_kg_s = room.leakage_kg_s + door.kg_s;
        // Vapour pressure as a chord through the mean: pv = w p/(0.622 + w).
        let pressure_per_humidity = air::vapour_pressure_pa(humidity, pressure_pa) / humidity;
        let transpires = self.transpiration_kg_s_pa();
        let produce_pa = air::saturation_pressure_over_water_fast_pa(contents_k);
        let transpiring = transpires > 0.0 && produce_pa > pressure_per_humidity * humidity;
        if transpiring {
            gain_kg_s += transpires * produce_pa;
            loss_kg_s += transpires * pressure_per_humidity;
        }
        let mut coil = (0.0, 0.0);
        if let Some(machine) = machine
            && machine.coil_w > 0.0
        {
            if humidity > coil_humidity {
                let sensible = DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K * COIL_BELOW_AIR_DK;
                let air_kg_s =
                    machine.coil_w / (sensible + LATENT_HEAT_J_PER_KG * (humidity - coil_humidity));
                coil = (air_kg_s, coil_humidity);
                gain_kg_s += air_kg_s * coil_humidity;
                loss_kg_s += air_kg_s;
            }
        }
        let rate = loss_kg_s / room.air_mass_kg;
        let (decay, integral_s) = decay(rate, step_s);
        let start = self.humidity;
        let source = gain_kg_s / room.air_mass_kg;
        let end = start * decay + source * integral_s;
        let remainder_s2 = ramp_integral(rate, step_s, integral_s);
        let mean = (start * integral_s + source * remainder_s2) / step_s;
        let transpired_kg_s =
            if transpiring { transpires * (produce_pa - pressure_per_humidity * mean) } else { 0.0 };
        Moisture {
            end,
            mean,
            condensate_kg_s: coil.0 * (mean - coil.1),
            transpired_kg_s,
            end_per_wall_kg_s: integral_s / room.air_mass_kg,
        }
    }

    /// Transpiration of everything stored per pascal of deficit, kg/(s Pa).
    fn transpiration_kg_s_pa(&self) -> f64 {
        let month = self.hour.month;
        self.plant.room.produce.iter().map(|p| p.transpiration_per_s_pa * p.mass_kg[month]).sum()
    }

    /// The hot pipe over the step.
    fn pipe(&self, step_s: f64, air_k: f64, machine: Option<&Machine>) -> Pipe {
        let pipe = &self.pump.hot_pipe;
        if pipe.loss_w_per_k <= 0.0 {
            return Pipe { end_k: self.pipe_k, loss_w: 0.0 };
        }
        let (stream_w_per_k, outlet_k) = match machine {
            Some(machine) => {
                let stream = machine.flow_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K;
                (stream, if stream > 0.0 { machine.inlet_k + machine.water_w / stream } else { self.pipe_k })
            }
            None => (0.0, self.pipe_k),
        };
        let conductance = stream_w_per_k + pipe.loss_w_per_k;
        let towards_k = (stream_w_per_k * outlet_k + pipe.loss_w_per_k * air_k) / conductance;
        let (decay, integral_s) = decay(conductance / pipe.capacity_j_per_k, step_s);
        let end_k = towards_k + (self.pipe_k - towards_k) * decay;
        let mean_k = towards_k + (self.pipe_k - towards_k) * integral_s / step_s;
        Pipe { end_k, loss_w: pipe.loss_w_per_k * (mean_k - air_k) }
    }

    /// When within a solved step the thermostat's probe meets its switching point, s.
    fn probe_arrives_s(&self, solved: &Solved) -> Option<f64> {
        let thermostat = &self.plant.thermostat;
        // Signed so that the switching point is met from above in both cases.
        let (sign, mark_k, clock_s) = if self.clock.running {
            (1.0, thermostat.off_at_k, thermostat.min_run_s)
        } else {
            (-1.0, thermostat.on_at_k, thermostat.min_rest_s)
        };
        if self.clock.since_s < clock_s - SHORTEST_STEP_S || (!self.clock.running && self.lockouts.any()) {
            return None;
        }
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

    /// The room at a time within a solved step.
    fn room_after(&self, solved: &Solved, time_s: f64) -> Temperatures {
        let room = &self.plant.room;
        Modes::new(
            room.air_capacity_j_per_k,
            self.contents_j_per_k,
            self.hour.outside_w_per_k
                + solved.door.w_per_k
                + PERSON_W_PER_K * self.plant.day[self.segment].people,
            room.exchange_w_per_k[self.hour.month],
            self.plant.thermostat.probe_lag_s,
        )
        .over(time_s)
        .advance(&self.room, &solved.forcing)
        .end
    }

    /// Time at which `value` falls through 0 between now and `bracket_s`, by regula falsi with the Illinois rule.
    fn find_s(
        &self,
        solved: &Solved,
        bracket_s: f64,
        value: impl Fn(&Temperatures) -> f64,
        tolerance: f64,
    ) -> f64 {
        let (mut low_s, mut high_s) = (0.0, bracket_s);
        let (mut low, mut high) = (value(&self.room), value(&self.room_after(solved, bracket_s)));
        if low <= 0.0 {
            return 0.0;
        }
        let mut side = 0;
        for _ in 0..MOST_ROOT_STEPS {
            let time_s = (low_s * high - high_s * low) / (high - low);
            let here = value(&self.room_after(solved, time_s));
            if here.abs() < tolerance || high_s - low_s < self.resolution.instant_s {
                return time_s;
            }
            if here > 0.0 {
                (low_s, low) = (time_s, here);
                if side == 1 {
                    high *= 0.5;
                }
                side = 1;
            } else {
                (high_s, high) = (time_s, here);
                if side == -1 {
                    low *= 0.5;
                }
                side = -1;
            }
        }
        high_s
    }

    /// Books what the step did on the room's and the electric side.
    fn book_step(&mut self, solved: &Solved) {
        let (step_s, thermostat) = (solved.step_s, &self.plant.thermostat);
        let trajectory = &solved.trajectory;
        let pump = self.pump;
        let sums = &mut self.sums;
        sums.air_k_s += trajectory.air_mean_k * step_s;
        sums.contents_k_s += trajectory.contents_mean_k * step_s;
        self.humidity_s += solved.humidity_mean * step_s;
        sums.gain_j[Cause::People as usize] += solved.people_w * step_s;
        sums.gain_j[Cause::Lights as usize] += self.plant.day[self.segment].lights_w * step_s;
        sums.gain_j[Cause::Respiration as usize] += solved.respiration_w * step_s;
        sums.gain_j[Cause::HotWater as usize] += (solved.pipe_loss_w + self.tank_clock.to_room_w) * step_s;
        let door_vapour_kg = (solved.door.vapour_kg_s - solved.door.kg_s * solved.humidity_mean) * step_s;
        sums.gain_j[Cause::Doors as usize] += (solved.door.w - solved.door.w_per_k * trajectory.air_mean_k)
            * step_s
            + LATENT_HEAT_J_PER_KG * door_vapour_kg;
        sums.vapour_in_kg += door_vapour_kg + solved.transpired_kg;
        sums.wall_condensate_kg += solved.wall_kg;
        sums.heat_from_room_j += solved.sensible_w * step_s + LATENT_HEAT_J_PER_KG * solved.condensate_kg;
        sums.electricity_j[Load::Standby as usize] += pump.standby_w * step_s;
        if let Some(machine) = &solved.machine {
            sums.electricity_j[Load::Running as usize] += machine.operation.power_w * step_s;
            sums.electricity_j[Load::Circulator as usize] += pump.circulator_w * step_s;
        } else {
            sums.electricity_j[Load::RestingFan as usize] += pump.resting_fan_w * step_s;
            if self.lockouts.any() {
                sums.locked_out_s += step_s;
                if self.room.probe_k >= thermostat.on_at_k {
                    sums.missed_s += step_s;
                }
            }
        }
        self.book_machine(solved);
        self.book_state(solved);
    }

    /// Books the running pump's own figures.
    fn book_machine(&mut self, solved: &Solved) {
        let Some(machine) = &solved.machine else { return };
        let (step_s, sums) = (solved.step_s, &mut self.sums);
        sums.run_s += step_s;
        sums.inlet_k_s += machine.inlet_k * step_s;
        sums.running_air_k_s += solved.trajectory.air_mean_k * step_s;
        sums.start_loss_j += machine.operation.heat_w * (1.0 - machine.started_frac) * step_s;
        sums.casing_outside_j += machine.casing_outside_w * step_s;
        sums.condensate_kg += solved.condensate_kg;
        if solved.trajectory.air_mean_k - COIL_BELOW_AIR_DK < ZERO_CELSIUS_K {
            sums.frost_kg += solved.condensate_kg;
        }
        if machine.frosted {
            sums.frosted_s += step_s;
        }
        if let Circuit::SinglePass { outlet_k, min_rise_dk } = self.pump.circuit
            && machine.inlet_k + min_rise_dk > outlet_k
        {
            sums.over_outlet_s += step_s;
        }
        let outside = machine.operation.outside;
        for (count_s, is_outside) in [
            (&mut sums.outside_map.room_air_s, outside.room_air),
            (&mut sums.outside_map.inlet_s, outside.inlet),
            (&mut sums.outside_map.rise_s, outside.rise),
            (&mut sums.outside_map.unreachable_s, outside.unreachable),
        ] {
            if is_outside {
                *count_s += step_s;
            }
        }
        let sensible_w = machine.coil_w - LATENT_HEAT_J_PER_KG * solved.condensate_kg / step_s;
        let density = self.plant.room.air_mass_kg / self.plant.room.volume_m3;
        let stream_w_per_k = self.pump.airflow_m3_s * density * DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K;
        let blown_k = solved.trajectory.end.air_k - sensible_w / stream_w_per_k;
        sums.blown_k.see(blown_k);
        if blown_k < self.plant.room.freezing_k {
            sums.frozen_blown_s += step_s;
        }
    }

    /// Books the state of room and contents.
    fn book_state(&mut self, solved: &Solved) {
        let (start, end, step_s) = (&self.room, &solved.trajectory.end, solved.step_s);
        let room = &self.plant.room;
        let sums = &mut self.sums;
        for state in [start, end] {
            sums.air_k.see(state.air_k);
            sums.contents_k.see(state.contents_k);
        }
        sums.over_band_s += step_s * share_above(start.contents_k, end.contents_k, room.warm_limit_k);
        sums.frozen_contents_s +=
            step_s * (1.0 - share_above(start.contents_k, end.contents_k, room.freezing_k));
        sums.frozen_air_s += step_s * (1.0 - share_above(start.air_k, end.air_k, room.freezing_k));
    }

    /// Makes the solved step the present.
    fn take_step(&mut self, solved: &Solved) {
        let step_s = solved.step_s;
        let middle_s = self.offset_s + 0.5 * step_s;
        for index in 0..self.door_exchanged_kg.len() {
            if self.plant.day[self.segment].doors_open[index] {
                let kg_s = self.door_flow_kg_s(index, self.room.air_k, self.humidity, middle_s, step_s);
                self.door_exchanged_kg[index] += kg_s * step_s;
            }
        }
        self.room = solved.trajectory.end;
        self.humidity = solved.humidity_end;
        self.clock.since_s += step_s;
        if self.clock.running {
            self.clock.next_step_s = (2.0 * self.clock.next_step_s).min(self.resolution.run_step_s);
        }
        self.offset_s += step_s;
        if HOUR_S - self.offset_s < SHORTEST_STEP_S {
            self.offset_s = HOUR_S;
        }
    }
}

/// Saturated humidity ratio over water above freezing and over ice below, in the fast form.
fn saturation_ratio(temperature_k: f64, pressure_pa: f64) -> f64 {
    air::humidity_ratio_from_vapour_pressure(air::saturation_pressure_fast_pa(temperature_k), pressure_pa)
}

/// Saturated humidity ratio over water, in the fast form.
fn saturation_ratio_over_water(temperature_k: f64, pressure_pa: f64) -> f64 {
    air::humidity_ratio_from_vapour_pressure(
        air::saturation_pressure_over_water_fast_pa(temperature_k),
        pressure_pa,
    )
}

struct Moisture {
    end: f64,
    mean: f64,
    condensate_kg_s: f64,
    transpired_kg_s: f64,
    /// How much drier the end is for one more kg/s on the walls.
    end_per_wall_kg_s: f64,
}

struct Pipe {
    end_k: f64,
    loss_w: f64,
}

/// Mean of `1 - exp(-t/lag)` from `since_s` on over a step.
fn started_frac(since_s: f64, step_s: f64, lag_s: f64) -> f64 {
    if lag_s <= 0.0 {
        return 1.0;
    }
    let begin = libm::exp(-since_s / lag_s);
    1.0 + begin * lag_s * libm::expm1(-step_s / lag_s) / step_s
}

/// `exp(-r t)` and its integral over the time t.
fn decay(rate: f64, time_s: f64) -> (f64, f64) {
    let x = -rate * time_s;
    let gone = libm::expm1(x);
    (1.0 + gone, if x == 0.0 { time_s } else { -gone / rate })
}

/// Integral over the step of the integral of `exp(-r s)`: `(t - integral)/r`, by series where that cancels.
fn ramp_integral(rate: f64, time_s: f64, integral_s: f64) -> f64 {
    let x = rate * time_s;
    if x < 1e-3 {
        time_s * time_s * (0.5 - x / 6.0 + x * x / 24.0 - x * x * x / 120.0)
    } else {
        (time_s - integral_s) / rate
    }
}

/// Share of a straight line from `start` to `end` that lies above a limit.
fn share_above(start: f64, end: f64, limit: f64) -> f64 {
    match (start > limit, end > limit) {
        (true, true) => 1.0,
        (false, false) => 0.0,
        (true, false) => (start - limit) / (start - end),
        (false, true) => (end - limit) / (end - start),
    }
}

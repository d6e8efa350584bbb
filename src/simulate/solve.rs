//! Room, humidity, pump and hot pipe of one step, solved together.

use super::engine::Engine;
use super::hour::moist_specific_heat;
use super::water::Streams;
use crate::air;
use crate::constants::{
    DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K, LATENT_HEAT_J_PER_KG, SHELL_LOSS_FRAC, WATER_SPECIFIC_HEAT_J_PER_KG_K,
    ZERO_CELSIUS_K,
};
use crate::heat_pump::{AirOnBothSides, CoilState, Operation, Outside, compressor_power_w, frosted};
use crate::plant::{AirCooled, Circuit};
use crate::room::{Forcing, Modes, Trajectory, exchange_gosney_olama_kg_s};

/// Passes of the fixed point between the step's means and what depends on them while the pump runs.
/// Each pass shrinks the error about thirtyfold (a kelvin of air moves capacity by 2 to 4 %).
const RUNNING_PASSES: usize = 2;

/// Most looks at the water that the pump will take. One or two do unless the taps run: then flow and inlet hang together, and
/// each look shrinks the error by the share of the rise that the mix of mains and warm water makes up.
const MOST_LOOKS: usize = 24;

/// Looks before only half the way to what was seen is taken.
const LOOKS_AHEAD: usize = 4;

/// How much the coil's cooling grows with the room air, per kelvin, roughly (R744 3 %, R134a 4 %): it only speeds
/// the passes up.
const COOLING_PER_K: f64 = 0.03;

/// The same while it rests: only respiration, transpiration and the hot pipe depend on the means.
const RESTING_PASSES: usize = 2;

/// A resting step whose means are this close to what they were taken for needs no second pass: vapour pressure by its chord is
/// then right to 1e-5, respiration to 1e-3 of itself.
const FORESEEN_REL: f64 = 1e-3;
const FORESEEN_DK: f64 = 0.01;

/// More passes while the room's air is saturated and condensation on the walls is sought.
const SATURATED_PASSES: usize = 6;

/// Heat of a person at work, W: `PERSON_W - PERSON_W_PER_K t`, t in degrees Celsius.
/// Source: ASHRAE Handbook Refrigeration, "Refrigerated-Facility Loads". Second hand: values within 2 W in a public vocational course; the formula From memory, to be verified.
const PERSON_W: f64 = 272.0;
const PERSON_W_PER_K: f64 = 6.0;

/// Air exchanged with the outside: through open doors, or by fans.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct DoorAir {
    /// Dry air, kg/s.
    pub(super) kg_s: f64,
    /// Conductance, W/K.
    pub(super) w_per_k: f64,
    /// Conductance times outside temperature, W.
    pub(super) w: f64,
    /// Dry air times its humidity ratio, kg/s.
    pub(super) vapour_kg_s: f64,
}

/// Outdoor air that fans blow in.
#[derive(Debug, Clone, Copy)]
pub(super) struct BlownIn {
    pub(super) air: DoorAir,
    /// Power of the fans, W; all of it ends in the room's air.
    pub(super) power_w: f64,
}

impl DoorAir {
    fn with(&self, other: &Self) -> Self {
        Self {
            kg_s: self.kg_s + other.kg_s,
            w_per_k: self.w_per_k + other.w_per_k,
            w: self.w + other.w,
            vapour_kg_s: self.vapour_kg_s + other.vapour_kg_s,
        }
    }
}

/// The running pump in a step.
#[derive(Debug, Clone, Copy)]
pub(super) struct Machine {
    pub(super) operation: Operation,
    /// Share of full capacity on average over the step, after a start below 1.
    pub(super) started_frac: f64,
    /// Heat to the water including the circulator, W.
    pub(super) water_w: f64,
    /// Heat that a condenser outdoors gives to the outdoor air, W.
    pub(super) rejected_w: f64,
    pub(super) flow_kg_s: f64,
    /// Water that enters the pump, K.
    pub(super) inlet_k: f64,
    /// Water that is taken from the tank, K; the same, where no closed loop lies between.
    pub(super) taken_k: f64,
    /// Cooling of the air at the coil, sensible and latent, net of everything in the casing, W.
    pub(super) coil_w: f64,
    /// What the coil's surface takes out of the air, W.
    pub(super) surface_w: f64,
    /// Shell loss that goes outside, W.
    pub(super) casing_outside_w: f64,
    pub(super) frosted: bool,
    /// Surface of the coil, K.
    pub(super) coil_k: f64,
}

/// Water that passes the pump in a step, running or not.
#[derive(Debug, Clone, Copy)]
pub(super) struct Passing {
    pub(super) flow_kg_s: f64,
    /// As it enters the pump, K.
    pub(super) inlet_k: f64,
    /// As it is taken from the tank, K.
    pub(super) taken_k: f64,
    /// Heat that it takes up, W.
    pub(super) water_w: f64,
}

/// What the resting pump draws.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Idle {
    /// Evaporator fan, W.
    pub(super) fan_w: f64,
    /// Melting frost, W.
    pub(super) melting_w: f64,
    /// Heater of the room, W.
    pub(super) room_heater_w: f64,
    /// Heater against freezing water, W.
    pub(super) guard_heater_w: f64,
    /// Circulator against freezing water, W; all of it ends in the water.
    pub(super) guard_circulator_w: f64,
    /// Flow that it moves, kg/s.
    pub(super) guard_flow_kg_s: f64,
}

impl Idle {
    /// What stays in the room's air, W.
    pub(super) fn room_heat_w(&self) -> f64 {
        self.fan_w + self.melting_w + self.room_heater_w + self.guard_heater_w
    }
}

/// A step that was solved but not yet taken.
#[derive(Debug, Clone, Copy)]
pub(super) struct Solved {
    pub(super) step_s: f64,
    pub(super) trajectory: Trajectory,
    /// The room's modes through the step.
    pub(super) modes: Modes,
    pub(super) forcing: Forcing,
    pub(super) humidity_end: f64,
    pub(super) humidity_mean: f64,
    pub(super) condensate_kg: f64,
    pub(super) wall_kg: f64,
    pub(super) transpired_kg: f64,
    pub(super) respiration_w: f64,
    /// Temperature of what still cools down at the end, K.
    pub(super) cooling_end_k: f64,
    pub(super) people_w: f64,
    pub(super) door: DoorAir,
    /// What the fans blow in, while they do.
    pub(super) fans: Option<BlownIn>,
    pub(super) machine: Option<Machine>,
    /// What the resting pump draws; nothing while it runs.
    pub(super) idle: Idle,
    pub(super) passing: Option<Passing>,
    pub(super) pipe_end_k: f64,
    pub(super) pipe_loss_w: f64,
    /// Heat that water circling through the resting pump's pipes took out of the tank, J.
    pub(super) circled_j: f64,
    /// Net cooling applied to the air, sensible, W (negative: a gain).
    pub(super) sensible_w: f64,
}

impl Machine {
    fn passing(&self) -> Option<Passing> {
        let Self { flow_kg_s, inlet_k, taken_k, water_w, .. } = *self;
        (flow_kg_s > 0.0).then_some(Passing { flow_kg_s, inlet_k, taken_k, water_w })
    }
}

impl Solved {
    /// Mean room air over the step, K.
    pub(super) fn air_mean_k(&self) -> f64 {
        self.trajectory.air_mean_k
    }
}

impl Engine<'_> {
    /// Air through the open doors at the given state of the room.
    fn door_air(&self, air_k: f64, humidity: f64, offset_s: f64, step_s: f64) -> DoorAir {
        let mut sum = DoorAir::default();
        for (index, open) in self.today[self.segment].doors_open.iter().enumerate() {
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

    /// What the fans blow in at the given air of the room, if they do.
    fn blown_in(&self, air_k: f64, offset_s: f64) -> Option<BlownIn> {
        let fans = self.plant.fans.as_ref().filter(|_| self.fans_on)?;
        let outdoor_k = self.hour.boundary_k(self.plant, 0, offset_s);
        let humidity = self.hour.boundary_humidity(self.plant, 0, offset_s);
        let density = air::dry_air_density_kg_m3(outdoor_k, humidity, self.plant.pressure_pa);
        let kg_s = fans.flow_m3_s * density * fans.outdoor_share(air_k, outdoor_k);
        let w_per_k = kg_s * moist_specific_heat(humidity);
        let air = DoorAir { kg_s, w_per_k, w: w_per_k * outdoor_k, vapour_kg_s: kg_s * humidity };
        Some(BlownIn { air, power_w: fans.power_w })
    }

    /// Dry air through one open door, kg/s; never more in one opening than the room holds below the door's head.
    pub(super) fn door_flow_kg_s(
        &self,
        index: usize,
        air_k: f64,
        humidity: f64,
        offset_s: f64,
        step_s: f64,
    ) -> f64 {
        let (door, pressure_pa) = (&self.plant.room.doors[index], self.plant.pressure_pa);
        let outside_k = self.hour.boundary_k(self.plant, door.boundary, offset_s);
        let outside_humidity = self.hour.boundary_humidity(self.plant, door.boundary, offset_s);
        let inside = air::moist_air_density_kg_m3(air_k, humidity, pressure_pa);
        let outside = air::moist_air_density_kg_m3(outside_k, outside_humidity, pressure_pa);
        let full_kg_s =
            exchange_gosney_olama_kg_s(door.area_m2, door.height_m, inside, outside) / (1.0 + humidity);
        let let_through_kg_s = full_kg_s * door.open_frac[self.hour.month];
        if self.today[self.segment].doors_propped[index] {
            return let_through_kg_s;
        }
        let left_kg = (door.most_exchange_kg - self.door_exchanged_kg[index]).max(0.0);
        let_through_kg_s.min(left_kg / step_s)
    }

    /// Solves room, humidity, pump and hot pipe for a step of the given length.
    pub(super) fn solve(&self, step_s: f64, streams: &Streams) -> Solved {
        let room = &self.plant.room;
        let segment = &self.today[self.segment];
        let hour = &self.hour;
        let middle_s = self.offset_s + 0.5 * step_s;
        let door = self.door_air(self.room.air_k, self.humidity, middle_s, step_s);
        let fans = self.blown_in(self.room.air_k, middle_s);
        let (exchanged, fans_w) =
            fans.as_ref().map_or((door, 0.0), |fans| (door.with(&fans.air), fans.power_w));
        let cooling_w_per_k = self.larder.cooling_w_per_k(self.plant);
        let people_w_per_k = PERSON_W_PER_K * segment.people;
        let modes = Modes::new(
            room.air_capacity_j_per_k,
            self.larder.contents_j_per_k,
            hour.outside_w_per_k + exchanged.w_per_k + people_w_per_k + cooling_w_per_k,
            self.larder.exchange_w_per_k,
            self.plant.thermostat.probe_lag_s,
        );
        let propagator = modes.over(step_s);
        let people_at_zero_w = segment.people * (PERSON_W + PERSON_W_PER_K * ZERO_CELSIUS_K);
        let outside_w = hour.outside_w
            + hour.outside_w_per_s * self.offset_s
            + exchanged.w
            + people_at_zero_w
            + segment.lights_w;

        let started_frac = started_frac(self.clock.since_s, step_s, self.pump.start_lag_s);
        let mut means =
            Means { air_k: self.room.air_k, contents_k: self.room.contents_k, humidity: self.humidity };
        let idle = self.idle();
        let idle_passing = self.idle_passing(step_s, &idle, streams);
        let mut wall_kg_s = 0.0;
        let mut near_rise_dk = None;
        let passes = if self.clock.running { RUNNING_PASSES } else { RESTING_PASSES };
        let mut pass = 0;
        loop {
            let Means { air_k, contents_k, humidity } = means;
            let (mut machine, mut coil) = (None, None);
            if self.clock.running {
                let running = match &self.pump.circuit {
                    Circuit::OutdoorAir(unit) => self.air_conditioner(unit, &means, started_frac, middle_s),
                    Circuit::SinglePass { .. } | Circuit::MultiPass { .. } => {
                        let coil_k = air_k - self.pump.coil_below_air_dk(self.clock.output_frac);
                        let coil_humidity = saturation_ratio(coil_k, self.plant.pressure_pa);
                        let frosted = frosted(coil_k, humidity, coil_humidity);
                        let around = Around { air_k, coil_k, frosted, started_frac };
                        self.machine(step_s, &around, near_rise_dk, streams)
                    }
                };
                near_rise_dk = Some(running.operation.rise_dk);
                let coil_humidity = saturation_ratio(running.coil_k, self.plant.pressure_pa);
                coil = Coil::of(running.surface_w, air_k - running.coil_k, humidity, coil_humidity);
                machine = Some(running);
            }
            let passing = machine.and_then(|machine: Machine| machine.passing()).or(idle_passing);
            let moisture = self.moisture(step_s, &means, wall_kg_s, &exchanged, coil, middle_s);
            let (sensible_w, coil_humidity_kg_s) = match &machine {
                Some(machine) => {
                    let net_w = machine.coil_w - self.pump.standby_w - fans_w;
                    (net_w - LATENT_HEAT_J_PER_KG * moisture.condensate_kg_s, moisture.condensate_kg_s)
                }
                None => (-(self.pump.standby_w + fans_w + idle.room_heat_w()), 0.0),
            };
            let pipe = self.pipe(step_s, air_k, passing, streams.circling_k);
            let respiration_w = self.larder.respiration.heat_w(contents_k);
            let cooling_down = self.larder.cooling_down(self.plant, air_k, step_s);
            let forcing = Forcing {
                air_w: outside_w + cooling_w_per_k * cooling_down.mean_k - sensible_w
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
            means =
                Means { air_k: air_guess_k, contents_k: trajectory.contents_mean_k, humidity: moisture.mean };
            pass += 1;
            let rests_as_foreseen = machine.is_none()
                && (means.humidity - humidity).abs() < FORESEEN_REL * humidity
                && (means.contents_k - contents_k).abs() < FORESEEN_DK;
            if pass < passes && !rests_as_foreseen {
                continue;
            }
            let saturation = saturation_ratio_over_water(trajectory.end.air_k, self.plant.pressure_pa);
            let over = moisture.end - saturation;
            let settled = over <= 0.0 && wall_kg_s == 0.0;
            if settled || pass >= passes + SATURATED_PASSES {
                return Solved {
                    step_s,
                    trajectory,
                    modes,
                    forcing,
                    humidity_end: moisture.end,
                    humidity_mean: moisture.mean,
                    condensate_kg: coil_humidity_kg_s * step_s,
                    wall_kg: wall_kg_s * step_s,
                    transpired_kg: moisture.transpired_kg_s * step_s,
                    respiration_w: respiration_w + cooling_down.respiration_w,
                    cooling_end_k: self.larder.cooled_to_k(
                        self.plant,
                        &cooling_down,
                        trajectory.air_mean_k,
                        step_s,
                    ),
                    people_w: people_at_zero_w - people_w_per_k * trajectory.air_mean_k,
                    door,
                    fans,
                    machine,
                    idle,
                    passing,
                    pipe_end_k: pipe.end_k,
                    pipe_loss_w: pipe.loss_w,
                    circled_j: pipe.circled_j,
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

    /// What the pump draws while it rests; nothing while it runs.
    pub(super) fn idle(&self) -> Idle {
        let pump = self.pump;
        if self.clock.running {
            return Idle::default();
        }
        let melting_w =
            pump.defrost.filter(|_| self.clock.melting.is_some()).map_or(0.0, |defrost| defrost.power_w);
        let room_heater_w =
            self.plant.room.heater.filter(|_| self.heater_on).map_or(0.0, |heater| heater.power_w);
        let coil_fan_w = pump.coil_probe.filter(|_| self.lockouts.coil).map_or(0.0, |probe| probe.fan_w);
        let mut idle =
            Idle { fan_w: pump.resting_fan_w.max(coil_fan_w), melting_w, room_heater_w, ..Idle::default() };
        if let Some(guard) = pump.frost_guard.filter(|guard| self.room.air_k < guard.below_k) {
            idle.guard_heater_w = guard.heater_w;
            idle.guard_circulator_w = guard.circulator_w;
            idle.guard_flow_kg_s = guard.flow_kg_s;
        }
        idle
    }

    /// The water that the resting pump's circulator moves in a step, if it does.
    fn idle_passing(&self, step_s: f64, idle: &Idle, streams: &Streams) -> Option<Passing> {
        let pump_kg = idle.guard_flow_kg_s * step_s;
        (pump_kg > 0.0).then(|| {
            let mains_kg = self.mains_let_in_kg(step_s, streams, pump_kg, self.pipe_k);
            let taken_k = self.arriving_at_pump_k(pump_kg, mains_kg);
            Passing {
                flow_kg_s: idle.guard_flow_kg_s,
                inlet_k: taken_k,
                taken_k,
                water_w: idle.guard_circulator_w,
            }
        })
    }

    /// The running pump at the step's mean air and the water it will take.
    fn machine(&self, step_s: f64, around: &Around, near_rise_dk: Option<f64>, streams: &Streams) -> Machine {
        let Around { air_k, coil_k, frosted, started_frac } = *around;
        let pump = self.pump;
        let state = CoilState { frosted, output_frac: self.clock.output_frac };
        let mut inlet_k = match pump.circuit {
            Circuit::SinglePass { .. } | Circuit::OutdoorAir(_) => streams.inlet_k,
            Circuit::MultiPass { flow_kg_s, .. } => {
                let pump_kg = flow_kg_s * step_s;
                let mains_kg = self.mains_let_in_kg(step_s, streams, pump_kg, streams.inlet_k);
                self.arriving_at_pump_k(pump_kg, mains_kg)
            }
        };
        // What follows is the tank's water; the pump gets what a closed loop between them makes of it.
        inlet_k += pump.loop_gap * near_rise_dk.unwrap_or(pump.inlet_from_tank_k(inlet_k) - inlet_k);
        let mut rise_dk = near_rise_dk;
        let (mut operation, mut flow_kg_s, mut gap_dk);
        let mut looked = 0;
        loop {
            operation = match rise_dk {
                // A rise from the pass before, for air that has moved by some hundredths of a kelvin, is good to 0.01 K.
                Some(rise_dk) if looked == 0 => pump.operate_near(air_k, inlet_k, state, rise_dk, 1),
                Some(rise_dk) => pump.operate_near(air_k, inlet_k, state, rise_dk, 2),
                None => match streams.first_look {
                    // The step begins with this very air and water.
                    Some((seen_k, seen)) if !frosted && seen_k == inlet_k && air_k == self.room.air_k => seen,
                    _ => pump.operate_in(air_k, inlet_k, state),
                },
            };
            rise_dk = Some(operation.rise_dk);
            flow_kg_s = pump.water_flow_kg_s(operation.heat_w * started_frac, operation.rise_dk);
            looked += 1;
            let pump_kg = flow_kg_s * step_s;
            let water_w = operation.heat_w * started_frac + pump.circulator_w;
            let warmed_dk = water_w / (WATER_SPECIFIC_HEAT_J_PER_KG_K * flow_kg_s);
            gap_dk = pump.loop_gap * warmed_dk;
            let return_k = inlet_k - gap_dk + warmed_dk;
            let mains_kg = self.mains_let_in_kg(step_s, streams, pump_kg, return_k);
            let arriving_k = self.arriving_at_pump_k(pump_kg, mains_kg) + gap_dk;
            if looked > MOST_LOOKS || (arriving_k - inlet_k).abs() < 1e-9 {
                break;
            }
            // Where flow and inlet chase each other, half the way at a time; where no inlet is its own answer (a booster that
            // goes on and off with the mix), the warmer is foretold, so that the outlet falls short of its target, not over it.
            inlet_k = match looked {
                MOST_LOOKS => inlet_k.max(arriving_k),
                LOOKS_AHEAD.. => 0.5 * (inlet_k + arriving_k),
                _ => arriving_k,
            };
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
            taken_k: inlet_k - gap_dk,
            rejected_w: 0.0,
            coil_w: heat_w - operation.power_w + casing_outside_w,
            surface_w: heat_w - operation.power_w + casing_outside_w,
            casing_outside_w,
            frosted,
            coil_k,
        }
    }

    /// The running air conditioner at the step's mean air.
    fn air_conditioner(&self, unit: &AirCooled, means: &Means, started_frac: f64, middle_s: f64) -> Machine {
        let air = AirOnBothSides {
            room_k: means.air_k,
            humidity: means.humidity,
            outdoor_k: self.hour.boundary_k(self.plant, 0, middle_s),
            pressure_pa: self.plant.pressure_pa,
        };
        let clean = unit.operate(self.pump, &air, 1.0);
        let frosted = frosted(clean.coil_k, means.humidity, saturation_ratio(clean.coil_k, air.pressure_pa));
        let point = if frosted { unit.operate(self.pump, &air, self.pump.frosted_factor) } else { clean };
        let surface_w = point.cooling_w * started_frac;
        let coil_w = surface_w - unit.fan_inside_w;
        Machine {
            operation: Operation {
                heat_w: coil_w + point.power_w,
                power_w: point.power_w,
                rise_dk: 0.0,
                outside: Outside::default(),
                strained: false,
            },
            started_frac,
            water_w: 0.0,
            rejected_w: coil_w + point.power_w,
            flow_kg_s: 0.0,
            inlet_k: air.outdoor_k,
            taken_k: f64::NEG_INFINITY,
            coil_w,
            surface_w,
            casing_outside_w: 0.0,
            frosted,
            coil_k: point.coil_k,
        }
    }

    /// Humidity over the step for given means, exactly for constant coefficients.
    fn moisture(
        &self,
        step_s: f64,
        means: &Means,
        wall_kg_s: f64,
        door: &DoorAir,
        coil: Option<Coil>,
        middle_s: f64,
    ) -> Moisture {
        let (room, pressure_pa) = (&self.plant.room, self.plant.pressure_pa);
        let leaking = self.hour.leakage_humidity + self.hour.leakage_humidity_per_s * middle_s;
        let mut gain_kg_s = room.leakage_kg_s * leaking + door.vapour_kg_s - wall_kg_s;
        let mut loss_kg_s = room.leakage_kg_s + door.kg_s;
        // Vapour pressure as a chord through the mean: pv = w p/(0.622 + w).
        let pressure_per_humidity = air::vapour_pressure_pa(means.humidity, pressure_pa) / means.humidity;
        let transpires = self.larder.transpiration_kg_s_pa;
        let produce_pa = air::saturation_pressure_over_water_fast_pa(means.contents_k);
        let transpiring = transpires > 0.0 && produce_pa > pressure_per_humidity * means.humidity;
        if transpiring {
            gain_kg_s += transpires * produce_pa;
            loss_kg_s += transpires * pressure_per_humidity;
        }
        let air = |coil: Option<Coil>| {
            let (dry_kg_s, brought_kg_s) =
                coil.map_or((0.0, 0.0), |coil| (coil.air_kg_s, coil.air_kg_s * coil.humidity));
            let rate = (loss_kg_s + dry_kg_s) / room.air_mass_kg;
            let (decay, integral_s) = decay(rate, step_s);
            let source = (gain_kg_s + brought_kg_s) / room.air_mass_kg;
            let end = self.humidity * decay + source * integral_s;
            let mean =
                (self.humidity * integral_s + source * ramp_integral(rate, step_s, integral_s)) / step_s;
            (end, mean, integral_s)
        };
        // A coil that the air would be drier than on the mean takes nothing from it.
        let with_coil = air(coil);
        let (dries, (end, mean, integral_s)) = match coil {
            Some(coil) if with_coil.1 <= coil.humidity => (None, air(None)),
            _ => (coil, with_coil),
        };
        let transpired_kg_s =
            if transpiring { transpires * (produce_pa - pressure_per_humidity * mean) } else { 0.0 };
        Moisture {
            end,
            mean,
            condensate_kg_s: dries.map_or(0.0, |coil| coil.air_kg_s * (mean - coil.humidity)),
            transpired_kg_s,
            end_per_wall_kg_s: integral_s / room.air_mass_kg,
        }
    }

    /// The hot pipe over the step. Water that circles through it while the pump rests holds it at `circling_k`, once it has cooled to that.
    fn pipe(&self, step_s: f64, air_k: f64, passing: Option<Passing>, circling_k: Option<f64>) -> Pipe {
        let pipe = &self.pump.hot_pipe;
        if pipe.loss_w_per_k <= 0.0 {
            return Pipe { end_k: self.pipe_k, loss_w: 0.0, circled_j: 0.0 };
        }
        let (stream_w_per_k, outlet_k) = match passing {
            Some(Passing { flow_kg_s, inlet_k, water_w, .. }) => {
                let stream = flow_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K;
                (stream, if stream > 0.0 { inlet_k + water_w / stream } else { self.pipe_k })
            }
            None => (0.0, self.pipe_k),
        };
        let conductance = stream_w_per_k + pipe.loss_w_per_k;
        let towards_k = (stream_w_per_k * outlet_k + pipe.loss_w_per_k * air_k) / conductance;
        let (decay, integral_s) = decay(conductance / pipe.capacity_j_per_k, step_s);
        let end_k = towards_k + (self.pipe_k - towards_k) * decay;
        if let Some(held_k) =
            circling_k.filter(|held_k| passing.is_none() && end_k < *held_k && air_k < *held_k)
        {
            // A warmer pipe cools by itself first; a colder one is warmed up by the tank's water.
            let over_j = pipe.capacity_j_per_k * (self.pipe_k - held_k);
            let held_dk = held_k - air_k;
            let cooling_s = if over_j > 0.0 {
                pipe.capacity_j_per_k / pipe.loss_w_per_k * libm::log((self.pipe_k - air_k) / held_dk)
            } else {
                0.0
            };
            let held_j = pipe.loss_w_per_k * held_dk * (step_s - cooling_s);
            let loss_w = (held_j + over_j.max(0.0)) / step_s;
            return Pipe { end_k: held_k, loss_w, circled_j: held_j - over_j.min(0.0) };
        }
        let mean_k = towards_k + (self.pipe_k - towards_k) * integral_s / step_s;
        Pipe { end_k, loss_w: pipe.loss_w_per_k * (mean_k - air_k), circled_j: 0.0 }
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

/// What the running pump finds around it.
#[derive(Debug, Clone, Copy)]
struct Around {
    air_k: f64,
    coil_k: f64,
    frosted: bool,
    /// Share of full capacity on average over the step, after a start below 1.
    started_frac: f64,
}

/// The step's means, as far as they are known.
#[derive(Debug, Clone, Copy)]
struct Means {
    air_k: f64,
    contents_k: f64,
    humidity: f64,
}

/// Air that passes a coil colder than its dew point.
#[derive(Debug, Clone, Copy)]
struct Coil {
    /// Dry air brought to the coil's surface, kg/s.
    air_kg_s: f64,
    /// Saturated humidity ratio there.
    humidity: f64,
}

impl Coil {
    /// The coil, colder than the air by `below_dk`, that takes `cooling_w` from air of the given humidity; none where it stays dry.
    fn of(cooling_w: f64, below_dk: f64, humidity: f64, coil_humidity: f64) -> Option<Self> {
        let sensible = DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K * below_dk;
        let per_kg = sensible + LATENT_HEAT_J_PER_KG * (humidity - coil_humidity);
        (cooling_w > 0.0 && humidity > coil_humidity)
            .then(|| Self { air_kg_s: cooling_w / per_kg, humidity: coil_humidity })
    }
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
    /// Heat that the tank's water brought while the pump rested, J.
    circled_j: f64,
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

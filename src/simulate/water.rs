//! The water side of a step: what flows, for how long it may, and the move itself.

use super::engine::{Engine, TankClock};
use super::step::{Solved, WATER_JUMP_DK};
use crate::constants::{WATER_DENSITY_KG_M3, WATER_SPECIFIC_HEAT_J_PER_KG_K};
use crate::plant::{HOUR_S, Surroundings};
use crate::tap;
use crate::water;

/// Passes between the temperature drawn and the flow that it asks for, where the pump's return goes to the taps.
const DRAW_PASSES: usize = 12;

/// Flows and port temperatures at the start of a step.
#[derive(Debug, Clone, Copy)]
pub(super) struct Streams {
    /// Water wanted at the taps, kg/s at use temperature.
    tap_kg_s: f64,
    /// Flow to the dump, kg/s.
    dump_kg_s: f64,
    /// Water at the pump-out port, K.
    pub inlet_k: f64,
    /// Longest step for which the water at ports and probes stays as it is, s.
    pub longest_step_s: f64,
}

impl Engine<'_> {
    /// Flows of the coming step, estimated at its start.
    pub(super) fn streams(&self) -> Streams {
        let (plant, tank, resolution) = (self.plant, &self.tank, self.resolution);
        let tap_kg_s = plant.day[self.segment].tap_kg_s;
        let dump_kg_s = match (&plant.dump, &self.aquastat) {
            (Some(dump), Some(aquastat)) if aquastat.open => dump.flow_kg_s,
            _ => 0.0,
        };
        let out_kg = self.position_kg(plant.tank.pump_out);
        let inlet_k = tank.at_k(out_kg);
        let mut longest_step_s = f64::INFINITY;
        let mut limit = |mass_kg: Option<f64>, flow_kg_s: f64| {
            if let Some(mass_kg) = mass_kg
                && flow_kg_s > 0.0
            {
                longest_step_s = longest_step_s.min(mass_kg / flow_kg_s);
            }
        };
        let pump_kg_s = if self.clock.running {
            let operation = self.pump.operate(self.room.air_k, inlet_k, false);
            self.pump.water_flow_kg_s(operation.heat_w, operation.rise_dk)
        } else {
            0.0
        };
        limit(Some(resolution.pumped_frac * plant.tank.mass_kg), pump_kg_s);
        if pump_kg_s > 0.0 {
            let (stop_k, _) = self.inlet_limits_k();
            limit(tank.mass_to_change_kg(out_kg, true, WATER_JUMP_DK, &[stop_k]), pump_kg_s);
        }
        let draw_kg = self.position_kg(plant.tank.draw);
        let mixed = tap::mix(tap_kg_s, plant.use_k, self.hour.mains_k, tank.mean_k(draw_kg, draw_kg), plant.booster.as_ref());
        let drawn_kg_s = mixed.tank_kg_s + dump_kg_s;
        limit(Some(resolution.drawn_frac * plant.tank.mass_kg), drawn_kg_s);
        if mixed.tank_kg_s > 0.0 {
            let mut marks_k = [plant.use_k; 2];
            if let Some(booster) = &plant.booster {
                marks_k[1] = booster.set_k;
            }
            limit(tank.mass_to_change_kg(draw_kg, false, WATER_JUMP_DK, &marks_k), mixed.tank_kg_s);
        }
        if dump_kg_s > 0.0
            && let Some(dump) = &plant.dump
        {
            limit(tank.mass_to_change_kg(self.position_kg(dump.port), false, WATER_JUMP_DK, &[]), dump_kg_s);
        }
        if let (Some(dump), Some(_)) = (&plant.dump, &self.aquastat) {
            let probe_kg = self.position_kg(dump.probe);
            let net_kg_s = pump_kg_s - drawn_kg_s;
            let marks_k = [dump.opens_k, dump.closes_k];
            limit(tank.mass_to_change_kg(probe_kg, net_kg_s > 0.0, WATER_JUMP_DK, &marks_k), net_kg_s.abs());
            if let Some(switch_s) = self.dump_switches_in_s(tank.at_k(probe_kg)) {
                longest_step_s = longest_step_s.min(switch_s);
            }
        }
        Streams { tap_kg_s, dump_kg_s, inlet_k, longest_step_s }
    }

    /// Moves the water of a solved step: pump, taps, dump, mains; then the aquastat and the tank's own clock.
    pub(super) fn move_water(&mut self, solved: &Solved, streams: &Streams) {
        let (plant, step_s) = (self.plant, solved.step_s);
        self.lag_aquastat(step_s);
        self.book_tank_state(step_s);

        let mut returning = (0.0, 0.0);
        let mut taken_below_kg = 0.0;
        let pipe_change_j = self.pump.hot_pipe.capacity_j_per_k * (solved.pipe_end_k - self.pipe_k);
        let pipe_loss_j = solved.pipe_loss_w * step_s;
        if let Some(machine) = &solved.machine {
            let taken = self.tank.take(self.position_kg(plant.tank.pump_out), machine.flow_kg_s * step_s);
            taken_below_kg = taken.mass_kg;
            let heat_j = machine.water_w * step_s;
            let returned_k = taken.temperature_k
                + (heat_j - pipe_loss_j - pipe_change_j) / (taken.mass_kg * WATER_SPECIFIC_HEAT_J_PER_KG_K);
            returning = (taken.mass_kg, returned_k);
            self.sums.heat_to_water_j += WATER_SPECIFIC_HEAT_J_PER_KG_K
                * taken.mass_kg
                * (returned_k - taken.temperature_k)
                + pipe_loss_j
                + pipe_change_j;
        }
        self.sums.pipe_loss_j += pipe_loss_j;
        self.pipe_k = solved.pipe_end_k;

        let to_taps_kg = self.draw(step_s, streams, taken_below_kg, &mut returning);
        let dumped_kg = self.dump(step_s, streams, taken_below_kg, to_taps_kg);
        let mains_kg = to_taps_kg.total + dumped_kg;
        if mains_kg > 0.0 {
            let cold_in = plant.tank.cold_in;
            let below_kg = if cold_in > plant.tank.pump_out { taken_below_kg } else { 0.0 };
            self.tank.insert((self.position_kg(cold_in) - below_kg).max(0.0), mains_kg, self.hour.mains_k);
            self.sums.mains_kg += mains_kg;
        }
        if returning.0 > 0.0 {
            let above_kg = (1.0 - plant.tank.pump_return) * plant.tank.mass_kg;
            let position_kg = (plant.tank.mass_kg - returning.0 - above_kg).max(0.0);
            self.tank.insert(position_kg, returning.0, returning.1);
        }
        self.advance_tank_clock(step_s, solved.air_mean_k());
    }

    /// Lets the taps draw. The pump's return serves them first where both share a port.
    fn draw(&mut self, step_s: f64, streams: &Streams, taken_below_kg: f64, returning: &mut (f64, f64)) -> Drawn {
        let (plant, mains_k) = (self.plant, self.hour.mains_k);
        if streams.tap_kg_s <= 0.0 {
            return Drawn::default();
        }
        let booster = plant.booster.as_ref();
        let shared = returning.0 > 0.0 && plant.tank.pump_return == plant.tank.draw;
        let (return_kg, return_k) = if shared { *returning } else { (0.0, 0.0) };
        let below_kg = if plant.tank.draw > plant.tank.pump_out { taken_below_kg } else { 0.0 };
        let port_kg = self.position_kg(plant.tank.draw) - below_kg;
        let mut mixed = tap::mix(streams.tap_kg_s, plant.use_k, mains_k, self.tank.mean_k(port_kg, port_kg), booster);
        let mut hot_k = f64::NAN;
        for _ in 0..DRAW_PASSES {
            let wanted_kg = mixed.tank_kg_s * step_s;
            let from_tank_kg = wanted_kg - return_kg;
            let seen_k = if from_tank_kg > 0.0 {
                let tank_k = self.tank.mean_k((port_kg - from_tank_kg).max(0.0), port_kg);
                (return_kg * return_k + from_tank_kg * tank_k) / wanted_kg
            } else if shared {
                return_k
            } else {
                self.tank.mean_k(port_kg, port_kg)
            };
            if seen_k == hot_k {
                break;
            }
            hot_k = seen_k;
            mixed = tap::mix(streams.tap_kg_s, plant.use_k, mains_k, hot_k, booster);
        }
        let wanted_kg = mixed.tank_kg_s * step_s;
        let bypass_kg = wanted_kg.min(return_kg);
        returning.0 -= bypass_kg;
        let taken = self.tank.take((port_kg - (wanted_kg - bypass_kg)).max(0.0), wanted_kg - bypass_kg);
        let total = taken.mass_kg + bypass_kg;
        if total > 0.0 {
            hot_k = (taken.mass_kg * taken.temperature_k + bypass_kg * return_k) / total;
            self.sums.hottest_drawn_k = self.sums.hottest_drawn_k.max(hot_k);
        }
        self.book_draw(step_s, streams.tap_kg_s, total, hot_k, &mixed);
        Drawn { total, from_tank: taken.mass_kg }
    }

    fn book_draw(&mut self, step_s: f64, tap_kg_s: f64, drawn_kg: f64, hot_k: f64, mixed: &tap::Mixed) {
        let (plant, mains_k) = (self.plant, self.hour.mains_k);
        let sums = &mut self.sums;
        let c = WATER_SPECIFIC_HEAT_J_PER_KG_K;
        let tap_kg = tap_kg_s * step_s;
        let booster_j = mixed.booster_w * step_s;
        // Mixing at the tap: what comes from the tank (through the booster) and the rest from the mains.
        let tap_k = (drawn_kg * hot_k + booster_j / c + (tap_kg - drawn_kg) * mains_k) / tap_kg;
        let (tap_k, wanted_j) =
            if drawn_kg > 0.0 { (tap_k, tap_kg * c * (plant.use_k - mains_k)) } else { (mains_k, 0.0) };
        let delivered_j = tap_kg * c * (tap_k - mains_k);
        sums.tap_s += step_s;
        sums.demand_kg += tap_kg;
        sums.demand_j += wanted_j;
        sums.delivered_j += delivered_j;
        if drawn_kg > 0.0 {
            sums.drawn_kg += drawn_kg;
            sums.drawn_m3 += drawn_kg / water::density_kg_m3(hot_k);
            sums.drawn_j += drawn_kg * c * (hot_k - mains_k);
        }
        sums.booster_j += booster_j;
        if let Some(booster) = &plant.booster {
            sums.booster_bought_j += booster_j / booster.efficiency;
        }
        if mixed.short {
            sums.shortfall_s += step_s;
            sums.shortfall_j += (wanted_j - delivered_j).max(0.0);
        }
    }

    /// Lets the dump run.
    fn dump(&mut self, step_s: f64, streams: &Streams, taken_below_kg: f64, drawn: Drawn) -> f64 {
        let Some(dump) = self.plant.dump.as_ref().filter(|_| streams.dump_kg_s > 0.0) else { return 0.0 };
        let tank = &self.plant.tank;
        let wanted_kg = streams.dump_kg_s * step_s;
        let mut port_kg = self.position_kg(dump.port);
        if dump.port > tank.pump_out {
            port_kg -= taken_below_kg;
        }
        if dump.port >= tank.draw {
            port_kg -= drawn.from_tank;
        }
        let taken = self.tank.take((port_kg - wanted_kg).max(0.0), wanted_kg);
        let sums = &mut self.sums;
        sums.dump_open_s += step_s;
        sums.dump_kg += taken.mass_kg;
        sums.dump_m3 += taken.mass_kg / water::density_kg_m3(taken.temperature_k);
        sums.dump_j += taken.mass_kg * WATER_SPECIFIC_HEAT_J_PER_KG_K * (taken.temperature_k - self.hour.mains_k);
        taken.mass_kg
    }

    /// The aquastat's probe follows the water at its height.
    fn lag_aquastat(&mut self, step_s: f64) {
        let Some(dump) = &self.plant.dump else { return };
        let water_k = self.tank.at_k(dump.probe * self.plant.tank.mass_kg);
        if let Some(aquastat) = &mut self.aquastat {
            aquastat.since_s += step_s;
            let kept = if dump.probe_lag_s > 0.0 { libm::exp(-step_s / dump.probe_lag_s) } else { 0.0 };
            aquastat.probe_k = water_k + (aquastat.probe_k - water_k) * kept;
        }
    }

    fn book_tank_state(&mut self, step_s: f64) {
        let (top_k, bottom_k) = (self.tank.top_k(), self.tank.bottom_k());
        let sums = &mut self.sums;
        sums.tank_top_k_s += top_k * step_s;
        sums.tank_top_k.see(top_k);
        sums.tank_bottom_k_s += bottom_k * step_s;
    }

    /// Time between two applications of loss and conduction: a whole number of them make an hour.
    pub(super) fn tank_interval_s(&self) -> f64 {
        HOUR_S / (HOUR_S / self.resolution.tank_interval_s).round().max(1.0)
    }

    /// Applies loss and conduction when their time has come.
    fn advance_tank_clock(&mut self, step_s: f64, room_air_k: f64) {
        let surroundings_k = match self.plant.tank.surroundings {
            Surroundings::Boundary(boundary) => {
                self.hour.boundary_k(self.plant, boundary, self.offset_s + 0.5 * step_s)
            }
            Surroundings::ColdRoom => room_air_k,
        };
        let clock = &mut self.tank_clock;
        clock.elapsed_s += step_s;
        clock.surroundings_k_s += surroundings_k * step_s;
        let interval_s = self.tank_interval_s();
        if self.tank_clock.elapsed_s < interval_s - super::engine::SHORTEST_STEP_S {
            return;
        }
        let (tank, elapsed_s) = (&self.plant.tank, self.tank_clock.elapsed_s);
        let heat_capacity = tank.mass_kg * WATER_SPECIFIC_HEAT_J_PER_KG_K;
        let kept = libm::exp(-tank.loss_w_per_k * elapsed_s / heat_capacity);
        self.sums.tank_mean_k_s += self.tank.mass_temperature_kg_k() / tank.mass_kg * elapsed_s;
        let lost_j = WATER_SPECIFIC_HEAT_J_PER_KG_K
            * self.tank.lose(self.tank_clock.surroundings_k_s / elapsed_s, kept);
        self.sums.tank_loss_j += lost_j;
        let area_m2 = tank.mass_kg / (WATER_DENSITY_KG_M3 * tank.height_m);
        let spread = tank.conductivity_w_per_m_k * area_m2 * tank.mass_kg
            / (tank.height_m * WATER_SPECIFIC_HEAT_J_PER_KG_K);
        self.tank.conduct(spread, elapsed_s);
        let to_room_w = match tank.surroundings {
            Surroundings::ColdRoom => lost_j / interval_s,
            Surroundings::Boundary(_) => 0.0,
        };
        self.tank_clock = TankClock { to_room_w, ..TankClock::default() };
    }
}

/// Water that went to the taps, kg.
#[derive(Debug, Clone, Copy, Default)]
struct Drawn {
    total: f64,
    from_tank: f64,
}

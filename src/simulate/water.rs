//! The water side of a step: what flows, for how long it may, and the move itself.

use super::engine::{Engine, TankClock};
use super::solve::Solved;
use crate::constants::{WATER_DENSITY_KG_M3, WATER_SPECIFIC_HEAT_J_PER_KG_K};
use crate::draw::TapShare;
use crate::heat_pump::{CoilState, Operation};
use crate::plant::{Circuit, DaySegment, HOUR_S, Surroundings, Vessel};
use crate::scald::HOTTEST_AT_TAP_K;
use crate::tap::{self, Fittings, Source};
use crate::water;

/// Passes between the temperature of the layers drawn and the flow that they are asked for.
const DRAW_PASSES: usize = 12;

/// Water at a port that differs by less than this passes within one step, K.
const WATER_JUMP_DK: f64 = 0.5;

/// How many times as often loss and conduction are applied while the inlet locks the pump out.
const LOCKED_OUT_OFTENER: f64 = 6.0;

/// Pump and taps that start find the tank's loss and conduction applied if more than this share of their interval has
/// passed since the last time.
const SETTLE_FRAC: f64 = 1.0 / 6.0;

/// Flows and port temperatures at the start of a step.
#[derive(Debug, Clone, Copy)]
pub(super) struct Streams {
    /// Water wanted at the taps, kg/s at use temperature.
    tap_kg_s: f64,
    /// Flow to the dump, kg/s.
    dump_kg_s: f64,
    /// Water at the pump-out port, K.
    pub inlet_k: f64,
    /// Water at the pump's inlet, K, and what the pump makes of it with a coil free of frost and the air at the start, where the flow hangs on it.
    pub first_look: Option<(f64, Operation)>,
    /// Temperature at which water that circles through the resting pump's pipes holds them, K, if it does.
    pub circling_k: Option<f64>,
    /// Longest step for which the water at ports and probes stays as it is, s.
    pub longest_step_s: f64,
}

impl Engine<'_> {
    /// Flows of the coming step, estimated at its start.
    pub(super) fn streams(&self) -> Streams {
        let (plant, tank, resolution) = (self.plant, &self.tank, self.resolution);
        let tap_kg_s = self.today[self.segment].tap_kg_s;
        let dump_kg_s = self.dump_kg_s();
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
        let mut first_look = None;
        let pump_kg_s = match self.pump.circuit {
            _ if !self.clock.running => self.idle().guard_flow_kg_s,
            Circuit::OutdoorAir(_) => 0.0,
            Circuit::MultiPass { flow_kg_s, .. } => flow_kg_s,
            Circuit::SinglePass { .. } => {
                let state = CoilState { frosted: false, output_frac: self.clock.output_frac };
                let pump_inlet_k = self.pump.inlet_from_tank_k(inlet_k);
                let operation = self.pump.operate_in(self.room.air_k, pump_inlet_k, state);
                first_look = Some((pump_inlet_k, operation));
                self.pump.water_flow_kg_s(operation.heat_w, operation.rise_dk)
            }
        };
        let above_out_kg = (1.0 - plant.tank.pump_out) * self.full_kg;
        limit(Some(above_out_kg.min(resolution.pumped_frac * self.full_kg)), pump_kg_s);
        let draw_kg = self.position_kg(plant.tank.draw);
        let drawn_kg_s =
            if tap_kg_s > 0.0 { self.mix(Source::tank(tank.at_k(draw_kg))).tank_kg_s } else { 0.0 };
        let mains_kg_s = drawn_kg_s + dump_kg_s;
        limit(Some(resolution.drawn_frac * self.full_kg), mains_kg_s);
        let rising_kg_s = if plant.tank.cold_in <= plant.tank.pump_out { mains_kg_s } else { 0.0 };
        if pump_kg_s > 0.0 && plant.tank.cold_in > plant.tank.pump_out && self.hour.mains_k < inlet_k {
            // What sinks to the pump's outlet cools all that lies below the cold inlet.
            let below_kg = self.position_kg(plant.tank.cold_in) - out_kg;
            let sunk_kg = below_kg * WATER_JUMP_DK / (inlet_k - self.hour.mains_k);
            limit(Some(sunk_kg.max(resolution.smallest_parcel_frac * self.full_kg)), mains_kg_s);
        }
        if pump_kg_s > 0.0 || rising_kg_s > 0.0 {
            let (stop_k, restart_k) = self.inlet_limits_k();
            let from_above = pump_kg_s >= rising_kg_s;
            let flow_kg_s = (pump_kg_s - rising_kg_s).abs();
            limit(tank.mass_to_change_kg(out_kg, from_above, WATER_JUMP_DK, &[stop_k, restart_k]), flow_kg_s);
        }
        if let Some(thermostat) = self.pump.caller.tank() {
            let sensor_kg = self.position_kg(thermostat.sensor);
            let net_kg_s = pump_kg_s - mains_kg_s;
            let marks_k = [thermostat.calls_k, thermostat.enough_k];
            let change_kg = tank.mass_to_change_kg(sensor_kg, net_kg_s > 0.0, WATER_JUMP_DK, &marks_k);
            limit(change_kg, net_kg_s.abs());
        }
        if let Some(element) = &plant.element {
            let net_kg_s = pump_kg_s - mains_kg_s;
            let marks_k = [element.on_at_k, element.off_at_k];
            let at_kg = self.position_kg(element.height);
            limit(tank.mass_to_change_kg(at_kg, net_kg_s > 0.0, WATER_JUMP_DK, &marks_k), net_kg_s.abs());
        }
        if drawn_kg_s > 0.0 {
            let mut marks_k = [self.today[self.segment].hottest_use_k(); 3];
            if let Some(booster) = &plant.booster {
                (marks_k[1], marks_k[2]) = (booster.set_k, booster.highest_inlet_k);
            }
            limit(tank.mass_to_change_kg(draw_kg, false, WATER_JUMP_DK, &marks_k), drawn_kg_s);
            // Cold water of this very step must not come past the inlet and reach the taps unseen.
            // Nor must mains water that is warmer than the tank, which rises to the top.
            let floats = self.hour.mains_k > tank.at_k(draw_kg);
            let apart = if floats { 0.0 } else { plant.tank.draw - plant.tank.cold_in };
            let between = apart.max(resolution.smallest_parcel_frac);
            limit(Some(between * self.full_kg), mains_kg_s);
        }
        if dump_kg_s > 0.0
            && let Some(dump) = &plant.dump
        {
            limit(tank.mass_to_change_kg(self.position_kg(dump.port), false, WATER_JUMP_DK, &[]), dump_kg_s);
            limit(self.dump_room_kg(), dump_kg_s);
        }
        if let Some(dump) = plant.dump.as_ref().filter(|dump| dump.months[self.hour.month]) {
            let probe_kg = self.position_kg(dump.probe);
            let net_kg_s = pump_kg_s - mains_kg_s;
            if net_kg_s != 0.0 {
                let marks_k = [dump.opens_k, dump.closes_k];
                let change_kg = tank.mass_to_change_kg(probe_kg, net_kg_s > 0.0, WATER_JUMP_DK, &marks_k);
                limit(change_kg, net_kg_s.abs());
            }
            longest_step_s = longest_step_s.min(self.dump_is_held_in_s(dump));
            if let Some(switch_s) = self.dump_switches_in_s(tank.at_k(probe_kg)) {
                longest_step_s = longest_step_s.min(switch_s);
            }
        }
        longest_step_s = longest_step_s.min(self.longest_element_step_s());
        let circling_k = self.circling_k(pump_kg_s);
        Streams { tap_kg_s, dump_kg_s, inlet_k, first_look, circling_k, longest_step_s }
    }

    /// Moves the water of a solved step: pump, taps, dump, mains; then the aquastat and the tank's own clock.
    pub(super) fn move_water(&mut self, solved: &Solved, streams: &Streams) {
        let (plant, step_s) = (self.plant, solved.step_s);
        self.lag_aquastat(step_s);
        self.book_tank_state(step_s);

        let pump_kg = solved.passing.map_or(0.0, |passing| passing.flow_kg_s * step_s);
        let pipe_change_j = self.pump.hot_pipe.capacity_j_per_k * (solved.pipe_end_k - self.pipe_k);
        let pipe_loss_j = solved.pipe_loss_w * step_s;
        let heat_j = solved.passing.map_or(0.0, |passing| passing.water_w * step_s);
        let kept_dk =
            |kg: f64| (heat_j - pipe_loss_j - pipe_change_j) / (kg * WATER_SPECIFIC_HEAT_J_PER_KG_K);
        self.sums.pipe_loss_j += pipe_loss_j;
        self.take_circled(solved.circled_j, self.room.air_k);
        self.pipe_k = solved.pipe_end_k;

        // What the taps take follows from what they see; where the return serves them, from the return expected.
        let expected_k = solved.passing.map_or(0.0, |passing| passing.taken_k + kept_dk(pump_kg));
        let plan = self.plan_draw(step_s, streams, pump_kg, expected_k);
        let dump_kg = streams.dump_kg_s * step_s;
        let mains_kg = plan.total_kg + dump_kg;
        self.sums.mains_kg += mains_kg;

        // What the mains pushes up, the pump takes as it passes; only the rest becomes part of a layer.
        let mut cold_in_kg = self.position_kg(plant.tank.cold_in);
        let mut returned_k = 0.0;
        let mut fresh_kg = 0.0;
        let mut above_draw_kg = 0.0;
        if pump_kg > 0.0 {
            let arriving = self.arriving_at_pump(pump_kg, mains_kg);
            fresh_kg = arriving.fresh_kg;
            // What leaves above the taps' port is not missing below it.
            let draw_kg = self.position_kg(plant.tank.draw);
            above_draw_kg = (arriving.from_kg + arriving.stored_kg - draw_kg).clamp(0.0, arriving.stored_kg);
            // Above the pump's outlet, mains water that sinks mixes with what is left below.
            cold_in_kg -= (cold_in_kg - arriving.from_kg).clamp(0.0, arriving.stored_kg);
            let stored = self.tank.take(arriving.from_kg, arriving.stored_kg);
            let taken_k = (stored.mass_kg * stored.temperature_k + fresh_kg * self.hour.mains_k) / pump_kg;
            self.taken_k = taken_k;
            returned_k = taken_k + kept_dk(pump_kg);
            self.sums.heat_to_water_j += WATER_SPECIFIC_HEAT_J_PER_KG_K * pump_kg * (returned_k - taken_k)
                + pipe_loss_j
                + pipe_change_j;
        }
        self.tank.insert(cold_in_kg, mains_kg - fresh_kg, self.hour.mains_k);
        self.draw(step_s, streams, &plan, returned_k, above_draw_kg);
        let return_kg = pump_kg - plan.bypass_kg;
        if return_kg > 0.0 {
            let above_kg = (1.0 - plant.tank.pump_return) * self.full_kg;
            let position_kg = (self.tank.mass_kg() - above_kg).max(0.0);
            self.tank.insert(position_kg, return_kg, returned_k);
        }
        self.dump(step_s, dump_kg, heat_j);
        self.stir_cold_inlet(mains_kg, step_s);
        self.stir_return(return_kg, returned_k, step_s);
        self.heat_by_element(step_s);
        self.advance_tank_clock(step_s, solved.air_mean_k());
    }

    /// Temperature of the water that arrives at the pump's outlet in a step, on average, K.
    pub(super) fn arriving_at_pump_k(&self, pump_kg: f64, mains_kg: f64) -> f64 {
        let Arriving { from_kg, stored_kg, fresh_kg } = self.arriving_at_pump(pump_kg, mains_kg);
        let stored_k = self.tank.mean_k(from_kg, from_kg + stored_kg);
        if fresh_kg <= 0.0 {
            return stored_k;
        }
        (stored_kg * stored_k + fresh_kg * self.hour.mains_k) / pump_kg
    }

    /// What arrives at the pump's outlet in a step: first what the mains pushes up, and of that first what lay below, then
    /// the mains water itself; the rest comes down from above.
    fn arriving_at_pump(&self, pump_kg: f64, mains_kg: f64) -> Arriving {
        let tank = &self.plant.tank;
        let out_kg = self.position_kg(tank.pump_out);
        // Stirred, cold water is part of the tank before it gets to the outlet.
        let stirs = tank.cold_in_stirs > 0.0 || tank.cold_in_bore_m.is_some();
        let rises = tank.cold_in <= tank.pump_out && !stirs;
        let risen_kg = if rises { mains_kg.min(pump_kg) } else { 0.0 };
        let below_kg = risen_kg.min((out_kg - self.position_kg(tank.cold_in)).max(0.0));
        let fresh_kg = risen_kg - below_kg;
        let stored_kg = pump_kg - fresh_kg;
        // Where the outlet is so high that there is less above it, the rest comes from below.
        let from_kg = (out_kg - below_kg).min(self.full_kg - stored_kg).max(0.0);
        Arriving { from_kg, stored_kg, fresh_kg }
    }

    /// Mains water that a step lets in for taps and dump, kg.
    pub(super) fn mains_let_in_kg(&self, step_s: f64, streams: &Streams, pump_kg: f64, return_k: f64) -> f64 {
        self.plan_draw(step_s, streams, pump_kg, return_k).total_kg + streams.dump_kg_s * step_s
    }

    /// What the taps take in a step. The pump's return serves them first where both share a port.
    fn plan_draw(&self, step_s: f64, streams: &Streams, pump_kg: f64, return_k: f64) -> DrawPlan {
        let plant = self.plant;
        if streams.tap_kg_s <= 0.0 {
            return DrawPlan::default();
        }
        let shared = pump_kg > 0.0 && plant.tank.pump_return == plant.tank.draw;
        let return_kg = if shared { pump_kg } else { 0.0 };
        let port_kg = self.position_kg(plant.tank.draw);
        let mut source = Source::tank(self.tank.mean_k(port_kg, port_kg));
        if shared {
            (source.return_kg_s, source.return_k) = (pump_kg / step_s, return_k);
        }
        let mut mixed = self.mix(source);
        for _ in 0..DRAW_PASSES {
            let from_tank_kg = mixed.tank_kg_s * step_s - return_kg;
            if from_tank_kg <= 0.0 {
                break;
            }
            let tank_k = self.tank.mean_k((port_kg - from_tank_kg).max(0.0), port_kg);
            if tank_k == source.tank_k {
                break;
            }
            source.tank_k = tank_k;
            mixed = self.mix(source);
        }
        let total_kg = mixed.tank_kg_s * step_s;
        DrawPlan { total_kg, bypass_kg: total_kg.min(return_kg), mixed }
    }

    /// What the taps that run now take from the water where they draw.
    fn mix(&self, source: Source) -> tap::Mixed {
        let (plant, segment) = (self.plant, &self.today[self.segment]);
        let fittings = Fittings { valve_k: plant.valve_k, booster: plant.booster.as_ref() };
        if segment.taps_at_once().next().is_some() {
            return tap::mix_at_once(segment.tap_kg_s, &segment.at_once, self.hour.mains_k, source, fittings);
        }
        tap::mix(segment.tap_kg_s, segment.use_k, self.hour.mains_k, source, fittings)
    }

    /// Lets the taps draw what was planned, at the temperature it really has; `pumped_above_kg` is what the pump has taken above their port.
    fn draw(
        &mut self,
        step_s: f64,
        streams: &Streams,
        plan: &DrawPlan,
        returned_k: f64,
        pumped_above_kg: f64,
    ) {
        if streams.tap_kg_s <= 0.0 {
            self.booster_lit = false;
            return;
        }
        let mut hot_k = returned_k;
        let from_tank_kg = plan.total_kg - plan.bypass_kg;
        if from_tank_kg > 0.0 {
            let above_kg = (1.0 - self.plant.tank.draw) * self.full_kg;
            let port_kg = self.tank.mass_kg() - above_kg + pumped_above_kg;
            let taken = self.tank.take((port_kg - from_tank_kg).max(0.0), from_tank_kg);
            hot_k = (from_tank_kg * taken.temperature_k + plan.bypass_kg * returned_k) / plan.total_kg;
        }
        if plan.total_kg > 0.0 {
            self.sums.hottest_drawn_k = self.sums.hottest_drawn_k.max(hot_k);
        }
        let segment = &self.today[self.segment];
        self.book_draw(step_s, segment, plan.total_kg, hot_k, &plan.mixed);
        if plan.total_kg > 0.0 {
            self.book_hot_side(step_s, segment, hot_k, &plan.mixed);
        }
        self.book_fire(step_s, hot_k, &plan.mixed);
    }

    fn book_draw(
        &mut self,
        step_s: f64,
        segment: &DaySegment,
        drawn_kg: f64,
        hot_k: f64,
        mixed: &tap::Mixed,
    ) {
        let mains_k = self.hour.mains_k;
        let sums = &mut self.sums;
        let c = WATER_SPECIFIC_HEAT_J_PER_KG_K;
        let tap_kg = segment.tap_kg_s * step_s;
        let booster_j = mixed.booster_w * step_s;
        // Mixing at the tap: what comes from the tank (through the booster) and the rest from the mains.
        let tap_k = (drawn_kg * hot_k + booster_j / c + (tap_kg - drawn_kg) * mains_k) / tap_kg;
        let (tap_k, wanted_j) =
            if drawn_kg > 0.0 { (tap_k, tap_kg * c * segment.wanted_dk(mains_k)) } else { (mains_k, 0.0) };
        let delivered_j = tap_kg * c * (tap_k - mains_k);
        let unused_frac = segment.waiting_kg_s / segment.tap_kg_s;
        let used_frac = 1.0 - unused_frac;
        sums.tap_s += step_s;
        sums.demand_kg += tap_kg * used_frac;
        sums.demand_j += wanted_j * used_frac;
        sums.delivered_j += delivered_j * used_frac;
        sums.unused_kg += tap_kg * unused_frac;
        sums.unused_j += delivered_j * unused_frac;
        if drawn_kg > 0.0 {
            sums.drawn_kg += drawn_kg;
            sums.drawn_m3 += drawn_kg / water::density_kg_m3(hot_k);
            sums.drawn_j += drawn_kg * c * (hot_k - mains_k);
        }
        if mixed.short && used_frac > 0.0 {
            sums.shortfall_s += step_s;
            let short = |tap: &&TapShare| tap.use_k > mixed.hot_side_k;
            let at_once = segment.taps_at_once().next().is_some();
            let short_frac: f64 = segment.taps_at_once().filter(short).map(|tap| tap.frac).sum();
            let coldest_short_k = if at_once { mixed.hot_side_k } else { tap_k };
            sums.shortfall_kg += tap_kg * used_frac * if at_once { short_frac } else { 1.0 };
            sums.shortfall_j += ((wanted_j - delivered_j) * used_frac).max(0.0);
            sums.shortfall_most_dk = sums.shortfall_most_dk.max(segment.hottest_use_k() - coldest_short_k);
        }
    }

    /// Books how hot the water is that somebody gets who opens the hot side alone: as fitted, and without the mixing valve.
    fn book_hot_side(&mut self, step_s: f64, segment: &DaySegment, hot_k: f64, mixed: &tap::Mixed) {
        let sums = &mut self.sums;
        let without_valve_k = hot_k.max(mixed.hot_side_k);
        let hot_side_k = if segment.past_valve { without_valve_k } else { mixed.hot_side_k };
        sums.hottest_at_tap_k = sums.hottest_at_tap_k.max(hot_side_k);
        sums.hottest_without_valve_k = sums.hottest_without_valve_k.max(without_valve_k);
        sums.scalding_s += if hot_side_k > HOTTEST_AT_TAP_K { step_s } else { 0.0 };
        sums.scalding_without_valve_s += if without_valve_k > HOTTEST_AT_TAP_K { step_s } else { 0.0 };
    }

    /// Books the booster's fire.
    fn book_fire(&mut self, step_s: f64, hot_k: f64, mixed: &tap::Mixed) {
        let Some(booster) = &self.plant.booster else { return };
        let sums = &mut self.sums;
        let booster_j = mixed.booster_w * step_s;
        sums.booster_j += booster_j;
        sums.booster_bought_j += booster_j / booster.efficiency;
        sums.booster_most_w = sums.booster_most_w.max(mixed.booster_w);
        let lit = mixed.booster_w > 0.0;
        if lit {
            sums.booster_s += step_s;
            sums.booster_fires += if self.booster_lit { 0.0 } else { 1.0 };
        }
        sums.booster_unlit_s += if mixed.unlit { step_s } else { 0.0 };
        let entering_k = self.plant.valve_k.map_or(hot_k, |valve_k| hot_k.min(valve_k));
        sums.booster_too_hot_s += if entering_k > booster.highest_inlet_k { step_s } else { 0.0 };
        self.booster_lit = lit;
    }

    fn book_tank_state(&mut self, step_s: f64) {
        let (top_k, bottom_k, coldest_k) = (self.tank.top_k(), self.tank.bottom_k(), self.tank.coldest_k());
        let mean_k = self.tank.mass_temperature_kg_k() / self.full_kg;
        let sums = &mut self.sums;
        sums.tank_top_k_s += top_k * step_s;
        sums.tank_top_k.see(top_k);
        sums.tank_bottom_k_s += bottom_k * step_s;
        sums.tank_coldest_k.see(coldest_k);
        sums.tank_mean_k_s += mean_k * step_s;
    }

    /// Time between two applications of loss and conduction: a whole number of them make an hour. While the water at its
    /// inlet locks the pump out, conduction decides when it may run again, and is applied oftener.
    pub(super) fn tank_interval_s(&self) -> f64 {
        let oftener = if self.lockouts.inlet { LOCKED_OUT_OFTENER } else { 1.0 };
        HOUR_S / (oftener * HOUR_S / self.resolution.tank_interval_s).round().max(1.0)
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
        clock.to_room_left_s -= step_s;
        if clock.to_room_left_s < super::engine::SHORTEST_STEP_S {
            clock.left_over_j += clock.to_room_w * clock.to_room_left_s;
            clock.to_room_w = 0.0;
            clock.to_room_left_s = 0.0;
        }
        // At the hour too, so that an hour's loss is booked in it and not in the next.
        let hour_ends = HOUR_S - self.offset_s - step_s < super::engine::SHORTEST_STEP_S;
        let due = self.tank_clock.elapsed_s >= self.tank_interval_s() - super::engine::SHORTEST_STEP_S;
        if due || hour_ends {
            self.apply_loss_and_conduction();
        }
    }

    /// Applies loss and conduction before pump or taps take the water they acted on, if they have not been for a while.
    pub(super) fn settle_tank(&mut self) {
        if self.tank_clock.elapsed_s > SETTLE_FRAC * self.tank_interval_s() {
            self.apply_loss_and_conduction();
        }
    }

    fn apply_loss_and_conduction(&mut self) {
        let (tank, elapsed_s) = (&self.plant.tank, self.tank_clock.elapsed_s);
        let kept = |vessel: &Vessel| {
            libm::exp(-vessel.loss_w_per_k * elapsed_s / (vessel.mass_kg * WATER_SPECIFIC_HEAT_J_PER_KG_K))
        };
        let surroundings_k = self.tank_clock.surroundings_k_s / elapsed_s;
        let lost_kg_k =
            self.tank.lose(surroundings_k, kept(&tank.first), tank.second.as_ref().map_or(1.0, kept));
        let lost_j = WATER_SPECIFIC_HEAT_J_PER_KG_K * lost_kg_k;
        self.sums.tank_loss_j += lost_j;
        let spread_kg2_s = |vessel: &Vessel| {
            let area_m2 = vessel.mass_kg / (WATER_DENSITY_KG_M3 * vessel.height_m);
            tank.conductivity_w_per_m_k * area_m2 * vessel.mass_kg
                / (vessel.height_m * WATER_SPECIFIC_HEAT_J_PER_KG_K)
        };
        let second_kg2_s = tank.second.as_ref().map_or(0.0, spread_kg2_s);
        self.tank.conduct(spread_kg2_s(&tank.first), second_kg2_s, elapsed_s);
        self.look_at_layers(elapsed_s);
        // A tank in the cold room warms it: what it lost is given to the air evenly over the next interval.
        let mut next = TankClock::default();
        if tank.surroundings == Surroundings::ColdRoom {
            next.to_room_left_s = self.tank_interval_s();
            let waiting_j =
                self.tank_clock.left_over_j + self.tank_clock.to_room_w * self.tank_clock.to_room_left_s;
            next.to_room_w = (lost_j + waiting_j) / next.to_room_left_s;
        }
        self.tank_clock = next;
    }
}

/// The water that arrives at the pump's outlet in a step.
#[derive(Debug, Clone, Copy)]
struct Arriving {
    /// Lowest position of what was stored, kg from the bottom.
    from_kg: f64,
    /// What was stored, kg.
    stored_kg: f64,
    /// Mains water that passes, kg.
    fresh_kg: f64,
}

/// What the taps take in a step.
#[derive(Debug, Clone, Copy, Default)]
struct DrawPlan {
    /// Water for the taps from tank and return together, kg.
    total_kg: f64,
    /// The part that comes straight from the pump's return, kg.
    bypass_kg: f64,
    mixed: tap::Mixed,
}

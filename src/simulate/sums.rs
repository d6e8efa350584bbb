//! What a step adds to the sums of its hour.

use super::engine::Engine;
use super::solve::Solved;
use crate::constants::{
    DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K, LATENT_HEAT_J_PER_KG, WATER_SPECIFIC_HEAT_J_PER_KG_K, ZERO_CELSIUS_K,
};
use crate::plant::{Cause, Circuit, Load};

impl Engine<'_> {
    /// Books what the step did on the room's and the electric side.
    pub(super) fn book_step(&mut self, solved: &Solved) {
        let step_s = solved.step_s;
        let trajectory = &solved.trajectory;
        let pump = self.pump;
        let sums = &mut self.sums;
        sums.air_k_s += trajectory.air_mean_k * step_s;
        sums.contents_k_s += trajectory.contents_mean_k * step_s;
        self.humidity_s += solved.humidity_mean * step_s;
        sums.gain_j[Cause::People as usize] += solved.people_w * step_s;
        sums.gain_j[Cause::Lights as usize] += self.today[self.segment].lights_w * step_s;
        sums.gain_j[Cause::Respiration as usize] += solved.respiration_w * step_s;
        sums.gain_j[Cause::HotWater as usize] += (solved.pipe_loss_w + self.tank_clock.to_room_w) * step_s;
        let door_vapour_kg = (solved.door.vapour_kg_s - solved.door.kg_s * solved.humidity_mean) * step_s;
        sums.gain_j[Cause::Doors as usize] += (solved.door.w - solved.door.w_per_k * trajectory.air_mean_k)
            * step_s
            + LATENT_HEAT_J_PER_KG * door_vapour_kg;
        sums.door_air_kg += solved.door.kg_s * step_s;
        sums.vapour_in_kg += door_vapour_kg + solved.transpired_kg;
        sums.wall_condensate_kg += solved.wall_kg;
        sums.heat_from_room_j += solved.sensible_w * step_s + LATENT_HEAT_J_PER_KG * solved.condensate_kg;
        sums.electricity_j[Load::Standby as usize] += pump.standby_w * step_s;
        if let Some(machine) = &solved.machine {
            sums.electricity_j[Load::Running as usize] += machine.operation.power_w * step_s;
            sums.electricity_j[Load::Circulator as usize] += pump.circulator_w * step_s;
        } else {
            let idle = &solved.idle;
            sums.resting_machine_j += (pump.standby_w + idle.room_heat_w()) * step_s;
            sums.electricity_j[Load::RestingFan as usize] += idle.fan_w * step_s;
            sums.electricity_j[Load::Defrost as usize] += idle.melting_w * step_s;
            sums.electricity_j[Load::RoomHeater as usize] += idle.room_heater_w * step_s;
            sums.electricity_j[Load::FrostGuard as usize] +=
                (idle.guard_heater_w + idle.guard_circulator_w) * step_s;
            self.book_rest(step_s);
        }
        self.book_fans(solved);
        self.book_machine(solved);
        self.book_state(solved);
    }

    /// Books what the fans blew in.
    fn book_fans(&mut self, solved: &Solved) {
        let Some(fans) = &solved.fans else { return };
        let (step_s, air, sums) = (solved.step_s, &fans.air, &mut self.sums);
        let vapour_kg = (air.vapour_kg_s - air.kg_s * solved.humidity_mean) * step_s;
        sums.aired_j +=
            (air.w_per_k * solved.trajectory.air_mean_k - air.w) * step_s - LATENT_HEAT_J_PER_KG * vapour_kg;
        sums.vapour_in_kg += vapour_kg;
        sums.fans_s += step_s;
        sums.electricity_j[Load::OutdoorFans as usize] += fans.power_w * step_s;
    }

    /// Books why the pump rests.
    fn book_rest(&mut self, step_s: f64) {
        let wants_cooling = self.room.probe_k >= self.plant.thermostat.on_at_k && !self.is_switched_off();
        let melts = self.clock.melting.is_some();
        let (lockouts, sums) = (&self.lockouts, &mut self.sums);
        if lockouts.any() {
            sums.locked_out_s += step_s;
            sums.missed_s += if wants_cooling { step_s } else { 0.0 };
            sums.locked_by_inlet_s += if lockouts.inlet { step_s } else { 0.0 };
            sums.locked_by_cold_air_s += if lockouts.air_low { step_s } else { 0.0 };
            sums.locked_by_coil_s += if lockouts.coil { step_s } else { 0.0 };
            sums.locked_by_warm_air_s += if lockouts.air_high { step_s } else { 0.0 };
        } else if !self.tank_calls && wants_cooling {
            sums.uncalled_s += step_s;
        }
        sums.defrost_s += if melts { step_s } else { 0.0 };
    }

    /// Books the running pump's own figures.
    fn book_machine(&mut self, solved: &Solved) {
        let Some(machine) = &solved.machine else { return };
        let (step_s, sums) = (solved.step_s, &mut self.sums);
        sums.run_s += step_s;
        sums.output_frac_s += self.clock.output_frac * step_s;
        sums.inlet_k_s += machine.inlet_k * step_s;
        sums.running_air_k_s += solved.trajectory.air_mean_k * step_s;
        sums.start_loss_j += machine.operation.heat_w * (1.0 - machine.started_frac) * step_s;
        sums.casing_outside_j += machine.casing_outside_w * step_s;
        sums.rejected_j += machine.rejected_w * step_s;
        sums.condensate_kg += solved.condensate_kg;
        if machine.coil_k < ZERO_CELSIUS_K {
            sums.frost_kg += solved.condensate_kg;
        }
        if machine.frosted {
            sums.frosted_s += step_s;
        }
        if let Some(passing) = solved.passing {
            let rise_dk = passing.water_w / (passing.flow_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K);
            sums.hottest_made_k = sums.hottest_made_k.max(passing.inlet_k + rise_dk);
        }
        if let Circuit::SinglePass { outlet_k, min_rise_dk, .. } = self.pump.circuit
            && machine.inlet_k + min_rise_dk > outlet_k
        {
            sums.over_outlet_s += step_s;
        }
        if machine.operation.strained {
            let cycle = self.pump.map.cycle();
            let air_k = solved.trajectory.air_mean_k;
            let gas = self.pump.discharge(air_k, machine.inlet_k, machine.operation.rise_dk);
            sums.hot_discharge_s +=
                if gas.temperature_k > cycle.hottest_discharge_k() { step_s } else { 0.0 };
            sums.highest_pressure_s +=
                if gas.pressure_pa > cycle.near_highest_pressure_pa() { step_s } else { 0.0 };
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
        let given_up = self.is_switched_off() && self.larder.is_empty();
        let sums = &mut self.sums;
        for state in [start, end] {
            sums.air_k.see(state.air_k);
            sums.contents_k.see(state.contents_k);
        }
        if given_up {
            // It holds nothing that could spoil.
            return;
        }
        for state in [start, end] {
            sums.food_k.see(state.contents_k);
        }
        sums.over_band_s += step_s * share_above(start.contents_k, end.contents_k, room.warm_limit_k);
        sums.frozen_contents_s +=
            step_s * (1.0 - share_above(start.contents_k, end.contents_k, room.freezing_k));
        sums.frozen_air_s += step_s * (1.0 - share_above(start.air_k, end.air_k, room.freezing_k));
    }
}

/// Share of a straight line from `start` to `end` that lies above a limit.
pub(super) fn share_above(start: f64, end: f64, limit: f64) -> f64 {
    match (start > limit, end > limit) {
        (true, true) => 1.0,
        (false, false) => 0.0,
        (true, false) => (start - limit) / (start - end),
        (false, true) => (end - limit) / (end - start),
    }
}

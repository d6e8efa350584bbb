//! The dump: its aquastat, its valve, and the places that take its water.

use super::control::{SAME_INSTANT_S, SAME_TEMPERATURE_DK};
use super::engine::{Aquastat, Engine, SHORTEST_STEP_S};
use crate::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K;
use crate::plant::{Dump, Taker};
use crate::water;

/// Room in a place that is none any more, kg: a thimble.
const NO_ROOM_KG: f64 = 1e-3;

impl<'a> Engine<'a> {
    /// Switches the dump valve.
    pub(super) fn switch_dump(&mut self) {
        let (Some(dump), Some(aquastat)) = (&self.plant.dump, &mut self.aquastat) else { return };
        let in_season = dump.months[self.hour.month];
        if aquastat.open {
            let cold = aquastat.probe_k <= dump.closes_k + SAME_TEMPERATURE_DK;
            if !in_season || (cold && aquastat.since_s >= dump.min_open_s - SAME_INSTANT_S) {
                *aquastat = Aquastat { open: false, guarded: false, ..*aquastat };
            } else if aquastat.flowed_s >= dump.longest_open_s - SAME_INSTANT_S {
                self.sums.dump_guarded += 1.0;
                *aquastat = Aquastat { flowed_s: 0.0, guarded: true, ..*aquastat };
            }
        } else if in_season && aquastat.probe_k >= dump.opens_k - SAME_TEMPERATURE_DK {
            *aquastat = Aquastat { open: true, since_s: 0.0, ..*aquastat };
        }
        let flows = self.dump_kg_s() > 0.0;
        if flows && !self.dump_ran {
            self.sums.dump_openings += 1.0;
        }
        self.dump_ran = flows;
    }

    /// Whether the timer lets the dump run now, and how long that stays so, s.
    fn timer_lets(&self, dump: &Dump) -> (bool, f64) {
        // A step that ends at a turn of the timer may end a moment before it.
        let now_s = self.hour.day_s + self.offset_s + SHORTEST_STEP_S;
        dump.timer.map_or((true, f64::INFINITY), |timer| timer.at(now_s))
    }

    /// Time until the timer turns or the guard shuts the running dump, s.
    pub(super) fn dump_is_held_in_s(&self, dump: &Dump) -> f64 {
        let (_, turns_s) = self.timer_lets(dump);
        match &self.aquastat {
            Some(aquastat) if self.dump_ran => turns_s.min(dump.longest_open_s - aquastat.flowed_s),
            _ => turns_s,
        }
    }

    /// Time until the aquastat's probe, in water of its present temperature, switches the valve, s.
    pub(super) fn dump_switches_in_s(&self, water_k: f64) -> Option<f64> {
        let (dump, aquastat) = (self.plant.dump.as_ref()?, self.aquastat.as_ref()?);
        if !dump.months[self.hour.month] {
            return None;
        }
        let (mark_k, reaches) = if aquastat.open {
            (dump.closes_k, water_k < dump.closes_k && aquastat.probe_k > dump.closes_k)
        } else {
            (dump.opens_k, water_k > dump.opens_k && aquastat.probe_k < dump.opens_k)
        };
        let clock_s = (aquastat.open && aquastat.since_s < dump.min_open_s - SAME_INSTANT_S)
            .then_some(dump.min_open_s - aquastat.since_s);
        let probe_s = (reaches && dump.probe_lag_s > 0.0)
            .then(|| dump.probe_lag_s * libm::log((water_k - aquastat.probe_k) / (water_k - mark_k)));
        match (clock_s, probe_s) {
            (Some(clock_s), _) => Some(clock_s),
            (None, probe_s) => probe_s,
        }
    }

    /// The places that take its water make room, or fill by themselves, over night.
    pub(super) fn make_room_for_dump(&mut self, day: usize) {
        let Some(dump) = &self.plant.dump else { return };
        for (taker, left_kg) in dump.takers.iter().zip(&mut self.dump_left_kg) {
            *left_kg = taker.room_kg(*left_kg, day);
        }
    }

    /// The place that takes dumped water now: the first that does in this month and has room.
    fn taker(&self) -> Option<(usize, &'a Taker)> {
        let dump = self.plant.dump.as_ref()?;
        let takes = |(index, taker): &(usize, &Taker)| {
            taker.months[self.hour.month] && self.dump_left_kg[*index] > NO_ROOM_KG
        };
        dump.takers.iter().enumerate().find(takes)
    }

    /// Flow to the dump, kg/s.
    pub(super) fn dump_kg_s(&self) -> f64 {
        match (&self.plant.dump, &self.aquastat) {
            (Some(dump), Some(aquastat))
                if aquastat.open
                    && !aquastat.guarded
                    && self.timer_lets(dump).0
                    && self.taker().is_some() =>
            {
                dump.flow_kg_s
            }
            _ => 0.0,
        }
    }

    /// Water out of the tank that the place which takes it now has room for, kg.
    pub(super) fn dump_room_kg(&self) -> Option<f64> {
        let (dump, (index, taker)) = (self.plant.dump.as_ref()?, self.taker()?);
        let water_k = self.tank.at_k(self.position_kg(dump.port));
        Some(self.dump_left_kg[index] / taker.mixed(water_k, self.hour.mains_k))
    }

    /// Lets the dump run. `heat_j` is what the pump gives the water in the step.
    pub(super) fn dump(&mut self, step_s: f64, dump_kg: f64, heat_j: f64) {
        let Some(dump) = &self.plant.dump else { return };
        if dump_kg <= 0.0 {
            if self.aquastat.is_some_and(|aquastat| aquastat.open) {
                self.sums.dump_held_s += step_s;
                self.sums.dump_held_j += heat_j;
            }
            return;
        }
        self.let_out(dump, step_s, dump_kg);
    }

    fn let_out(&mut self, dump: &Dump, step_s: f64, dump_kg: f64) {
        let above_kg = (1.0 - dump.port) * self.full_kg;
        let taken = self.tank.take((self.tank.mass_kg() - above_kg - dump_kg).max(0.0), dump_kg);
        let mains_k = self.hour.mains_k;
        if let Some((index, taker)) = self.taker() {
            let placed_kg = dump_kg * taker.mixed(taken.temperature_k, mains_k);
            self.dump_left_kg[index] = (self.dump_left_kg[index] - placed_kg).max(0.0);
            self.sums.dump_placed_kg[index] += placed_kg;
            self.sums.dump_tempering_kg += placed_kg - dump_kg;
        }
        let sums = &mut self.sums;
        sums.dump_open_s += step_s;
        if let Some(aquastat) = &self.aquastat {
            sums.dump_longest_s = sums.dump_longest_s.max(aquastat.flowed_s);
        }
        sums.dump_kg += dump_kg;
        sums.dump_m3 += dump_kg / water::density_kg_m3(taken.temperature_k);
        sums.dump_j += dump_kg * WATER_SPECIFIC_HEAT_J_PER_KG_K * (taken.temperature_k - mains_k);
    }

    /// The aquastat's probe follows the water at its height.
    pub(super) fn lag_aquastat(&mut self, step_s: f64) {
        let Some(dump) = &self.plant.dump else { return };
        let water_k = self.tank.at_k(dump.probe * self.full_kg);
        if let Some(aquastat) = &mut self.aquastat {
            aquastat.since_s += step_s;
            aquastat.flowed_s = if self.dump_ran { aquastat.flowed_s + step_s } else { 0.0 };
            let kept = if dump.probe_lag_s > 0.0 { libm::exp(-step_s / dump.probe_lag_s) } else { 0.0 };
            aquastat.probe_k = water_k + (aquastat.probe_k - water_k) * kept;
        }
    }
}

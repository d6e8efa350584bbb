//! When the tank's loss and conduction are applied, and applying them.

use super::engine::{Engine, SHORTEST_STEP_S, TankClock};
use super::water::Streams;
use crate::constants::{WATER_DENSITY_KG_M3, WATER_SPECIFIC_HEAT_J_PER_KG_K};
use crate::plant::{HOUR_S, Surroundings, Vessel};

/// How many times as often they are applied while the inlet locks the pump out and water comes in, or may be released within their usual interval.
const LOCKED_OUT_OFTENER: f64 = 4.0;

/// The same where it may be released within that shorter time; and the part of their usual interval for which, at most, they wait for water that stops
/// the pump.
const RELEASE_OFTENER: f64 = 24.0;

/// What one look ahead may miss of the cooling, share of it: its slices are as coarse as its time is long.
const FORESEEN_LATE_FRAC: f64 = 0.75;

/// Pump and taps that start find the tank's loss and conduction applied if more than this share of their interval has
/// passed since the last time.
const SETTLE_FRAC: f64 = 1.0 / 6.0;

impl Engine<'_> {
    /// Usual time between two applications of loss and conduction, s: a whole number of them make an hour.
    fn tank_interval_s(&self) -> f64 {
        HOUR_S / (HOUR_S / self.resolution.tank_interval_s).round().max(1.0)
    }

    /// How long after the last application the next one is due, s. Where the pump is locked out by its inlet, conduction decides when it may run again: it
    /// is applied oftener while water comes in, and in resting water while it may release the pump.
    pub(super) fn wind_tank_clock(&mut self, streams: &Streams) {
        let usual_s = self.tank_interval_s();
        if !self.lockouts.inlet {
            (self.tank_clock.due_s, self.tank_clock.release_foreseen) = (usual_s, false);
        } else if streams.draw() {
            (self.tank_clock.due_s, self.tank_clock.release_foreseen) = (usual_s / LOCKED_OUT_OFTENER, false);
        } else if !self.tank_clock.release_foreseen {
            self.tank_clock.release_foreseen = true;
            self.tank_clock.due_s = if !self.may_be_released(usual_s) {
                usual_s
            } else if !self.may_be_released(usual_s / LOCKED_OUT_OFTENER) {
                usual_s / LOCKED_OUT_OFTENER
            } else {
                usual_s / RELEASE_OFTENER
            };
        }
    }

    /// Whether conduction and loss over a time, or somewhat more than they are foreseen to do, cool the resting water at the pump's outlet so far
    /// that the pump is released.
    fn may_be_released(&mut self, time_s: f64) -> bool {
        let (_, restart_k) = self.inlet_limits_k();
        let out_kg = self.position_kg(self.plant.tank.pump_out);
        let spread_kg2_s = self.spreads_kg2_s();
        let now_k = self.tank.at_k(out_kg);
        let conducted_k = self.tank.conducted_at_k(out_kg, spread_kg2_s, time_s);
        let lost_dk = (now_k - self.surroundings_of_tank_k(0.0, self.room.air_k))
            * (1.0 - kept_frac(&self.plant.tank.first, time_s));
        let foreseen_k = conducted_k - lost_dk;
        foreseen_k - FORESEEN_LATE_FRAC * (now_k - foreseen_k) <= restart_k
    }

    /// Applies loss and conduction before the pump draws down water that stops it, if they have not been for a while: afterwards they would act for all that
    /// time on hot water above the cold that lies below the pump's outlet, and release the pump at once. Returns whether it did.
    pub(super) fn settle_before_hot_water(&mut self, streams: &Streams) -> bool {
        let time_s = self.tank_interval_s() / RELEASE_OFTENER;
        if streams.pump_kg_s <= 0.0 || self.tank_clock.elapsed_s < time_s {
            return false;
        }
        let (stop_k, _) = self.inlet_limits_k();
        let comes_kg = self.position_kg(self.plant.tank.pump_out) + streams.pump_kg_s * time_s;
        let stops = self.tank.at_k(comes_kg.min(self.full_kg)) >= stop_k;
        if stops {
            self.apply_loss_and_conduction();
        }
        stops
    }

    /// Temperature around the tank so long from now, K.
    fn surroundings_of_tank_k(&self, in_s: f64, room_air_k: f64) -> f64 {
        match self.plant.tank.surroundings {
            Surroundings::Boundary(boundary) => {
                self.hour.boundary_k(self.plant, boundary, self.offset_s + in_s)
            }
            Surroundings::ColdRoom => room_air_k,
        }
    }

    /// Applies loss and conduction when their time has come.
    pub(super) fn advance_tank_clock(&mut self, step_s: f64, room_air_k: f64) {
        let surroundings_k = self.surroundings_of_tank_k(0.5 * step_s, room_air_k);
        let clock = &mut self.tank_clock;
        clock.elapsed_s += step_s;
        clock.surroundings_k_s += surroundings_k * step_s;
        clock.to_room_left_s -= step_s;
        if clock.to_room_left_s < SHORTEST_STEP_S {
            clock.left_over_j += clock.to_room_w * clock.to_room_left_s;
            clock.to_room_w = 0.0;
            clock.to_room_left_s = 0.0;
        }
        // At the hour too, so that an hour's loss is booked in it and not in the next.
        let hour_ends = HOUR_S - self.offset_s - step_s < SHORTEST_STEP_S;
        let due = self.tank_clock.elapsed_s >= self.tank_clock.due_s - SHORTEST_STEP_S;
        if due || hour_ends {
            self.apply_loss_and_conduction();
            if hour_ends || self.layers.unseen_s >= self.tank_interval_s() / LOCKED_OUT_OFTENER {
                self.look_at_layers();
            }
        }
    }

    /// Applies loss and conduction before pump or taps take the water they acted on, if they have not been for a while.
    pub(super) fn settle_tank(&mut self) {
        let oftener = if self.lockouts.inlet { LOCKED_OUT_OFTENER } else { 1.0 };
        if self.tank_clock.elapsed_s > SETTLE_FRAC * self.tank_interval_s() / oftener {
            self.apply_loss_and_conduction();
        }
    }

    /// Square of the mass across which conduction evens out in a second, kg2/s: of the first tank and of the second.
    fn spreads_kg2_s(&self) -> [f64; 2] {
        let tank = &self.plant.tank;
        let spread_kg2_s = |vessel: &Vessel| {
            let area_m2 = vessel.mass_kg / (WATER_DENSITY_KG_M3 * vessel.height_m);
            tank.conductivity_w_per_m_k * area_m2 * vessel.mass_kg
                / (vessel.height_m * WATER_SPECIFIC_HEAT_J_PER_KG_K)
        };
        [spread_kg2_s(&tank.first), tank.second.as_ref().map_or(0.0, spread_kg2_s)]
    }

    fn apply_loss_and_conduction(&mut self) {
        let (tank, elapsed_s) = (&self.plant.tank, self.tank_clock.elapsed_s);
        let surroundings_k = self.tank_clock.surroundings_k_s / elapsed_s;
        let kept = |vessel: &Vessel| kept_frac(vessel, elapsed_s);
        let lost_kg_k =
            self.tank.lose(surroundings_k, kept(&tank.first), tank.second.as_ref().map_or(1.0, kept));
        let lost_j = WATER_SPECIFIC_HEAT_J_PER_KG_K * lost_kg_k;
        self.sums.tank_loss_j += lost_j;
        let spread_kg2_s = self.spreads_kg2_s();
        self.tank.conduct(spread_kg2_s, elapsed_s);
        self.layers.unseen_s += elapsed_s;
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

/// Share of its difference to the surroundings that a vessel's water keeps over a time.
fn kept_frac(vessel: &Vessel, time_s: f64) -> f64 {
    libm::exp(-vessel.loss_w_per_k * time_s / (vessel.mass_kg * WATER_SPECIFIC_HEAT_J_PER_KG_K))
}

//! Sums over a stretch of the year.

use super::Layers;
use crate::plant::{Cause, Load, MOST_TAKERS};

/// Smallest and largest value of a quantity in an interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extremes {
    /// Smallest.
    pub min: f64,
    /// Largest.
    pub max: f64,
}

impl Default for Extremes {
    /// Nothing seen yet: the smallest is above every number, the largest below.
    fn default() -> Self {
        Self { min: f64::INFINITY, max: f64::NEG_INFINITY }
    }
}

impl Extremes {
    /// Whether nothing was seen.
    pub fn is_empty(&self) -> bool {
        self.min > self.max
    }

    /// Widens to include `value`.
    pub fn see(&mut self, value: f64) {
        self.min = self.min.min(value);
        self.max = self.max.max(value);
    }

    /// Widens to include everything the other saw.
    pub fn join(&mut self, other: &Self) {
        self.min = self.min.min(other.min);
        self.max = self.max.max(other.max);
    }
}

/// Seconds of running in which the cycle map was left and its nearest edge used.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct OutsideMap {
    /// Room air outside the map.
    pub room_air_s: f64,
    /// Water inlet outside the map.
    pub inlet_s: f64,
    /// Water rise outside the map.
    pub rise_s: f64,
    /// A node the cycle cannot reach (outlet too hot, or its highest pressure too low): the last reachable rise was used.
    pub unreachable_s: f64,
}

/// Everything that happened between two instants: energies in J, masses in kg, durations in s,
/// and time integrals (`_k_s`: kelvin times seconds) of the state.
///
/// Heat into the thing named is positive; electricity drawn is positive. Intervals add with
/// [`Interval::add`]; integrals divided by [`Interval::duration_s`] are time means.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Interval {
    /// First hour of the interval, counted from the start of the year.
    pub first_hour: usize,
    /// Month 0 to 11 of its first hour.
    pub month: usize,
    /// Duration, s.
    pub duration_s: f64,

    // Water side.
    /// Heat that the pump (and its circulator) gave the water, J.
    pub heat_to_water_j: f64,
    /// Heat that the hot pipe lost to the room, J.
    pub pipe_loss_j: f64,
    /// The part that water brought which circled through it while the pump rested, and that warmed it up, J.
    pub circled_j: f64,
    /// Heat wanted at the taps over mains temperature, J.
    pub demand_j: f64,
    /// Water wanted at the taps, at use temperature, kg.
    pub demand_kg: f64,
    /// Heat delivered at the taps over mains temperature, J.
    pub delivered_j: f64,
    /// Water drawn from the tank by the taps, kg.
    pub drawn_kg: f64,
    /// The same as volume, m3, measured at the temperature drawn.
    pub drawn_m3: f64,
    /// Heat over mains temperature that it carried, J.
    pub drawn_j: f64,
    /// Heat that the booster gave the water, J.
    pub booster_j: f64,
    /// Energy that the booster bought, J.
    pub booster_bought_j: f64,
    /// Most heat that the booster gave at any time, W.
    pub booster_most_w: f64,
    /// Time it fired, s.
    pub booster_s: f64,
    /// Times it was lit.
    pub booster_fires: f64,
    /// Time it stayed off because less was wanted of it than its smallest fire, s.
    pub booster_unlit_s: f64,
    /// Time in which water hotter than it allows entered it, s.
    pub booster_too_hot_s: f64,
    /// Heat, and electricity, of the element in the tank, J.
    pub element_j: f64,
    /// Time it heated, s.
    pub element_s: f64,
    /// Heat missing at the taps, J, and for how long, s.
    pub shortfall_j: f64,
    /// Time with water at the taps colder than wanted, s.
    pub shortfall_s: f64,
    /// Water that came out colder than wanted, kg.
    pub shortfall_kg: f64,
    /// How much too cold it was at most, K.
    pub shortfall_most_dk: f64,
    /// Mixed water that ran before it was warm and that nobody used, kg.
    pub unused_kg: f64,
    /// Heat over mains temperature that it carried, J: what the pipes to the taps had lost.
    pub unused_j: f64,
    /// Time in which the taps ran with water on their hot side that scalds, s.
    pub scalding_s: f64,
    /// The same if there were no mixing valve, s.
    pub scalding_without_valve_s: f64,
    /// Hottest water on the hot side of a tap, K; 0 where none was taken.
    pub hottest_at_tap_k: f64,
    /// The same if there were no mixing valve, K.
    pub hottest_without_valve_k: f64,
    /// Time in which the taps ran, s.
    pub tap_s: f64,
    /// Heat that the tank lost to its surroundings, J.
    pub tank_loss_j: f64,
    /// Water dumped, kg.
    pub dump_kg: f64,
    /// The same as volume, m3, measured at the temperature dumped.
    pub dump_m3: f64,
    /// Heat over mains temperature that it carried, J.
    pub dump_j: f64,
    /// Times the dump opened.
    pub dump_openings: f64,
    /// Time it stood open, s.
    pub dump_open_s: f64,
    /// Dumped water that each place took, with the cold water that tempered it, kg.
    pub dump_placed_kg: [f64; MOST_TAKERS],
    /// Cold water that tempered it, kg.
    pub dump_tempering_kg: f64,
    /// Longest time for which it ran without a break, s.
    pub dump_longest_s: f64,
    /// Times its guard shut it.
    pub dump_guarded: f64,
    /// Time in which the aquastat called and no water could leave: no place had room, or timer or guard held the dump, s.
    pub dump_held_s: f64,
    /// Heat that the pump gave the water in that time, J: it stays in the tank.
    pub dump_held_j: f64,
    /// Mains water into the tank, kg.
    pub mains_kg: f64,
    /// The same, each kilogram times the share of all the tank's water that its jet stirred, kg; 0 where no jet is reckoned.
    pub cold_in_stirred_kg: f64,
    /// Water that came back from the pump into the tank where its jet is reckoned, kg.
    pub returned_kg: f64,
    /// The same, each kilogram times the share that its jet stirred, kg.
    pub return_stirred_kg: f64,

    // Electric side.
    /// Electricity by load, J, indexed by `Load as usize`.
    pub electricity_j: [f64; Load::COUNT],

    // Room side.
    /// Heat taken from the room, net of everything the pump returns to it, J.
    pub heat_from_room_j: f64,
    /// Heat that the resting machine gave to the room, J: standby, fan, melting frost, frost protection.
    pub resting_machine_j: f64,
    /// Heat into the room by cause, sensible and latent, J, indexed by `Cause as usize`.
    pub gain_j: [f64; Cause::COUNT],
    /// Dry air that the doors exchanged, kg.
    pub door_air_kg: f64,
    /// Water vapour into the room's air (doors, leakage, produce), kg.
    pub vapour_in_kg: f64,
    /// Water that ran off the coil, kg.
    pub condensate_kg: f64,
    /// The part of it that was caught as frost first, kg.
    pub frost_kg: f64,
    /// Water that condensed on walls and produce because the air was saturated, kg.
    pub wall_condensate_kg: f64,
    /// Heat that the casing gave to the outside of the room, J.
    pub casing_outside_j: f64,
    /// Heat that a condenser outdoors gave to the outdoor air, J.
    pub rejected_j: f64,
    /// Heat that outdoor air blown in by fans carried out of the room, sensible and latent, J.
    pub aired_j: f64,
    /// Time in which they blew, s.
    pub fans_s: f64,
    /// Times they started.
    pub fan_starts: f64,

    // The machine's time.
    /// Starts.
    pub starts: f64,
    /// Time running, s.
    pub run_s: f64,
    /// Time in which a lock-out held, s.
    pub locked_out_s: f64,
    /// The part of it in which the thermostat wanted cooling, s.
    pub missed_s: f64,
    /// The part of the lock-outs in which the water at the inlet was too warm, s.
    pub locked_by_inlet_s: f64,
    /// The part in which the room's air was too cold for the pump, s.
    pub locked_by_cold_air_s: f64,
    /// The part in which the probe on the coil held it, s.
    pub locked_by_coil_s: f64,
    /// Times it did.
    pub coil_stops: f64,
    /// The part in which the room's air was too warm for the pump, s.
    pub locked_by_warm_air_s: f64,
    /// Time in which the room wanted cooling and the tank's thermostat did not call, s.
    pub uncalled_s: f64,
    /// Time spent on melting frost off the coil, s.
    pub defrost_s: f64,
    /// Times it was begun.
    pub defrosts: f64,
    /// Integral of the share of full output over the running time, s.
    pub output_frac_s: f64,
    /// Heat to water that starting cost, J.
    pub start_loss_j: f64,
    /// Integral of the water inlet temperature over the running time, K s.
    pub inlet_k_s: f64,
    /// Integral of the room air temperature over the running time, K s.
    pub running_air_k_s: f64,
    /// Time running with the coil frosted, s.
    pub frosted_s: f64,
    /// Time running with the outlet above its target, s.
    pub over_outlet_s: f64,
    /// Time running with the discharge gas hotter than it should be, by the calculated cycle, s.
    pub hot_discharge_s: f64,
    /// Time running at the highest discharge pressure of the calculated cycle, s.
    pub highest_pressure_s: f64,
    /// Time running outside the cycle map, s.
    pub outside_map: OutsideMap,

    // The state.
    /// Room air: integral, K s.
    pub air_k_s: f64,
    /// Room air: extremes, K.
    pub air_k: Extremes,
    /// Contents: integral, K s.
    pub contents_k_s: f64,
    /// Contents: extremes, K.
    pub contents_k: Extremes,
    /// Contents while the room is not given up: extremes, K.
    pub food_k: Extremes,
    /// Air blown from the coil: extremes while running, K.
    pub blown_k: Extremes,
    /// Room humidity: integral of the relative humidity (over water), fraction times s.
    pub humidity_frac_s: f64,
    /// Tank top: integral, K s.
    pub tank_top_k_s: f64,
    /// Tank top: extremes, K.
    pub tank_top_k: Extremes,
    /// Coldest water in the tank: extremes, K.
    pub tank_coldest_k: Extremes,
    /// Tank bottom: integral, K s.
    pub tank_bottom_k_s: f64,
    /// Tank mean: integral, K s.
    pub tank_mean_k_s: f64,
    /// The tank's layers.
    pub layers: Layers,
    /// Hottest water that the taps took from the tank, K.
    pub hottest_drawn_k: f64,
    /// Hottest water that left the running pump, K; 0 where it never ran.
    pub hottest_made_k: f64,
    /// Contents above the warm limit, s.
    pub over_band_s: f64,
    /// Contents below the highest freezing point stored, s.
    pub frozen_contents_s: f64,
    /// Room air below it, s.
    pub frozen_air_s: f64,
    /// Blown air below it (while running), s.
    pub frozen_blown_s: f64,
}

impl Interval {
    /// All electricity, J.
    pub fn electricity_total_j(&self) -> f64 {
        self.electricity_j.iter().sum()
    }

    /// All heat into the room, J.
    pub fn gain_total_j(&self) -> f64 {
        self.gain_j.iter().sum()
    }

    /// Heat that the running pump has to take out of the room, J: all that comes in, and what the resting machine gives off.
    pub fn to_be_cooled_j(&self) -> f64 {
        self.gain_total_j() + self.resting_machine_j
    }

    /// Heat to water over all electricity; `None` where no electricity was drawn.
    pub fn cop(&self) -> Option<f64> {
        let electricity_j = self.electricity_total_j();
        (electricity_j > 0.0).then(|| self.heat_to_water_j / electricity_j)
    }

    /// Time mean of one of the integrals of this interval.
    pub fn mean(&self, integral: f64) -> f64 {
        integral / self.duration_s
    }

    /// Mean water inlet while running, K; `None` where the pump never ran.
    pub fn mean_inlet_k(&self) -> Option<f64> {
        (self.run_s > 0.0).then(|| self.inlet_k_s / self.run_s)
    }

    /// Adds a later interval. `first_hour` and `month` stay those of the first.
    pub fn add(&mut self, later: &Self) {
        if self.duration_s == 0.0 {
            self.first_hour = later.first_hour;
            self.month = later.month;
        }
        macro_rules! sum {
            ($($field:ident),* $(,)?) => { $( self.$field += later.$field; )* };
        }
        sum!(
            duration_s,
            heat_to_water_j,
            pipe_loss_j,
            circled_j,
            demand_j,
            demand_kg,
            delivered_j,
            drawn_kg,
            drawn_m3,
            drawn_j,
            booster_j,
            booster_bought_j,
            booster_s,
            booster_fires,
            booster_unlit_s,
            booster_too_hot_s,
            element_j,
            element_s,
            shortfall_j,
            shortfall_s,
            shortfall_kg,
            unused_kg,
            unused_j,
            scalding_s,
            scalding_without_valve_s,
            tap_s,
            tank_loss_j,
            dump_kg,
            dump_m3,
            dump_j,
            dump_openings,
            dump_open_s,
            dump_tempering_kg,
            dump_held_s,
            dump_guarded,
            dump_held_j,
            mains_kg,
            cold_in_stirred_kg,
            returned_kg,
            return_stirred_kg,
            heat_from_room_j,
            resting_machine_j,
            vapour_in_kg,
            door_air_kg,
            condensate_kg,
            frost_kg,
            wall_condensate_kg,
            casing_outside_j,
            rejected_j,
            aired_j,
            fans_s,
            fan_starts,
            starts,
            run_s,
            locked_out_s,
            missed_s,
            locked_by_inlet_s,
            locked_by_cold_air_s,
            locked_by_warm_air_s,
            locked_by_coil_s,
            coil_stops,
            uncalled_s,
            defrost_s,
            defrosts,
            output_frac_s,
            start_loss_j,
            inlet_k_s,
            running_air_k_s,
            frosted_s,
            over_outlet_s,
            hot_discharge_s,
            highest_pressure_s,
            air_k_s,
            contents_k_s,
            humidity_frac_s,
            tank_top_k_s,
            tank_bottom_k_s,
            tank_mean_k_s,
            over_band_s,
            frozen_contents_s,
            frozen_air_s,
            frozen_blown_s,
        );
        for (sum, part) in self.electricity_j.iter_mut().zip(&later.electricity_j) {
            *sum += part;
        }
        for (sum, part) in self.gain_j.iter_mut().zip(&later.gain_j) {
            *sum += part;
        }
        for (sum, part) in self.dump_placed_kg.iter_mut().zip(&later.dump_placed_kg) {
            *sum += part;
        }
        self.outside_map.room_air_s += later.outside_map.room_air_s;
        self.outside_map.inlet_s += later.outside_map.inlet_s;
        self.outside_map.rise_s += later.outside_map.rise_s;
        self.outside_map.unreachable_s += later.outside_map.unreachable_s;
        self.layers.add(&later.layers);
        self.air_k.join(&later.air_k);
        self.contents_k.join(&later.contents_k);
        self.food_k.join(&later.food_k);
        self.blown_k.join(&later.blown_k);
        self.tank_top_k.join(&later.tank_top_k);
        self.tank_coldest_k.join(&later.tank_coldest_k);
        macro_rules! most {
            ($($field:ident),* $(,)?) => { $( self.$field = self.$field.max(later.$field); )* };
        }
        most!(
            hottest_drawn_k,
            hottest_made_k,
            dump_longest_s,
            hottest_at_tap_k,
            hottest_without_valve_k,
            booster_most_w,
            shortfall_most_dk,
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn joining_an_hour_that_saw_nothing_changes_no_extreme() {
        let mut seen = Extremes { min: 271.0, max: 280.0 };
        seen.join(&Extremes::default());
        assert_eq!(seen, Extremes { min: 271.0, max: 280.0 });
        let mut empty = Extremes::default();
        empty.join(&Extremes::default());
        assert!(empty.is_empty());
        empty.join(&seen);
        assert_eq!(empty, seen);
    }
}

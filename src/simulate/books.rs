//! The books: what an hour adds that only its means are needed for, and how well the year closes.

use super::engine::Engine;
use crate::air;
use crate::constants::{LATENT_HEAT_J_PER_KG, WATER_SPECIFIC_HEAT_J_PER_KG_K, ZERO_CELSIUS_K};
use crate::plant::{Cause, HOUR_S, Surroundings, Tank};
use crate::year::{BoughtByClock, DumpedDays, Interval, Ledger, Months, UsableDays, Year};

/// What is stored, from the state alone.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stored {
    /// Air, contents, what cools down, and vapour, J.
    room_j: f64,
    /// Water in the tank, J.
    tank_j: f64,
    /// Hot pipe, J.
    pipe_j: f64,
    /// Heat that the tank lost and the cold room has not received yet, J.
    on_its_way_j: f64,
    /// Vapour in the air, kg.
    vapour_kg: f64,
    /// Energy carried by produce so far, J.
    produce_transfer_j: f64,
}

impl Engine<'_> {
    /// Books the flows through surfaces and leaks: their conductances are constant, so the hour's means suffice.
    pub(super) fn book_hour(&mut self) {
        let (plant, hour) = (self.plant, &self.hour);
        let air_k_s = self.sums.air_k_s;
        let middle_s = 0.5 * HOUR_S;
        for surface in &plant.room.surfaces {
            let outside_k_s = hour.boundary_k(plant, surface.boundary, middle_s) * HOUR_S;
            self.sums.gain_j[surface.cause as usize] += surface.ua_w_per_k * (outside_k_s - air_k_s);
        }
        let outside_k_s = hour.boundary_k(plant, plant.room.leakage_from, middle_s) * HOUR_S;
        let vapour_kg = plant.room.leakage_kg_s
            * (hour.boundary_humidity(plant, plant.room.leakage_from, middle_s) * HOUR_S - self.humidity_s);
        self.sums.gain_j[Cause::Leakage as usize] +=
            hour.leakage_w_per_k * (outside_k_s - air_k_s) + LATENT_HEAT_J_PER_KG * vapour_kg;
        self.sums.vapour_in_kg += vapour_kg;
        self.sums.humidity_frac_s +=
            air::relative_humidity_frac(air_k_s / HOUR_S, self.humidity_s / HOUR_S, plant.pressure_pa)
                * HOUR_S;
    }

    fn stored(&self) -> Stored {
        let room = &self.plant.room;
        let above = |temperature_k: f64| temperature_k - ZERO_CELSIUS_K;
        let vapour_kg = room.air_mass_kg * self.humidity;
        Stored {
            room_j: room.air_capacity_j_per_k * above(self.room.air_k)
                + self.larder.contents_j_per_k * above(self.room.contents_k)
                + self.larder.cooling_j_per_k * above(self.larder.cooling_k)
                + LATENT_HEAT_J_PER_KG * vapour_kg,
            tank_j: WATER_SPECIFIC_HEAT_J_PER_KG_K
                * (self.tank.mass_temperature_kg_k() - self.tank.mass_kg() * ZERO_CELSIUS_K),
            pipe_j: self.pump.hot_pipe.capacity_j_per_k * above(self.pipe_k),
            on_its_way_j: self.tank_clock.left_over_j
                + self.tank_clock.to_room_w * self.tank_clock.to_room_left_s,
            vapour_kg,
            produce_transfer_j: self.produce_transfer_j,
        }
    }

    /// What is stored at the start of the year.
    pub(super) fn open_books(&self) -> Stored {
        self.stored()
    }

    /// Sums the months and closes the books.
    pub(super) fn close_books(
        self,
        opening: Stored,
        months: Months,
        (usable, dumped, bought): (UsableDays, DumpedDays, BoughtByClock),
    ) -> Year {
        let mut total = Interval::default();
        for month in &months.sums {
            if month.duration_s > 0.0 {
                total.add(month);
            }
        }
        let ledger = ledger(&total, opening, self.stored(), &self.plant.tank);
        let Months { sums, heaviest_days, wettest_day, .. } = months;
        Year {
            calendar: self.plant.calendar.clone(),
            months: sums,
            total,
            heaviest_days,
            wettest_day,
            usable,
            dumped,
            bought,
            ledger,
        }
    }
}

/// Residuals over throughput.
fn ledger(total: &Interval, opening: Stored, closing: Stored, tank: &Tank) -> Ledger {
    // Where hardly anything flows, what is held is the measure: a still room's vapour would be divided by its rounding. Of a tank at 0 °C,
    // from which heat is counted, it is one kelvin.
    let tank_j = opening.tank_j.abs().max(WATER_SPECIFIC_HEAT_J_PER_KG_K * tank.mass_kg());
    let closes = |came: &[f64], went: &[f64], held: f64| {
        let flows: f64 = came.iter().chain(went).map(|flow| flow.abs()).sum::<f64>() * 0.5;
        let throughput = flows.max(held.abs());
        let residual = came.iter().sum::<f64>() - went.iter().sum::<f64>();
        if throughput > 0.0 { residual / throughput } else { residual }
    };
    let electricity_j = total.electricity_total_j();
    let room_change_j = closing.room_j - opening.room_j;
    let tank_change_j = closing.tank_j - opening.tank_j;
    let pipe_change_j = closing.pipe_j - opening.pipe_j;
    let on_its_way_j = closing.on_its_way_j - opening.on_its_way_j;
    let carried_j = closing.produce_transfer_j - opening.produce_transfer_j;
    let hot_water_j = total.gain_j[Cause::HotWater as usize];
    let room_gain_j = total.gain_total_j();
    let tank_loss_outside_j = match tank.surroundings {
        Surroundings::Boundary(_) => total.tank_loss_j,
        Surroundings::ColdRoom => 0.0,
    };
    Ledger {
        room: closes(
            &[room_gain_j, carried_j],
            &[total.heat_from_room_j, total.aired_j, room_change_j],
            opening.room_j,
        ),
        tank: closes(
            &[total.heat_to_water_j, total.element_j],
            &[
                total.pipe_loss_j,
                pipe_change_j,
                total.drawn_j,
                total.dump_j,
                total.tank_loss_j,
                tank_change_j,
            ],
            tank_j,
        ),
        machine: closes(
            &[electricity_j, total.heat_from_room_j],
            &[total.heat_to_water_j, total.casing_outside_j, total.rejected_j],
            0.0,
        ),
        house: closes(
            &[room_gain_j - hot_water_j, carried_j, electricity_j, total.booster_j, total.element_j],
            &[
                total.delivered_j,
                total.unused_j,
                total.dump_j,
                tank_loss_outside_j,
                total.casing_outside_j,
                total.rejected_j,
                total.aired_j,
                room_change_j,
                tank_change_j,
                pipe_change_j,
                on_its_way_j,
            ],
            opening.room_j.abs() + tank_j,
        ),
        moisture: closes(
            &[total.vapour_in_kg],
            &[total.condensate_kg, total.wall_condensate_kg, closing.vapour_kg - opening.vapour_kg],
            opening.vapour_kg,
        ),
    }
}

//! What is stored, crop by crop: what has settled at the room's temperature, and what was carried in and still cools down.

use super::engine::Engine;
use super::respiration::Respiration;
use crate::constants::ZERO_CELSIUS_K;
use crate::plant::{Cause, DAY_S, Plant, SETTLED_AFTER_HALVINGS, Stock};

/// The stored produce.
pub(super) struct Larder {
    settled_kg: Vec<f64>,
    cooling_kg: Vec<f64>,
    /// Whole days since something was last carried in.
    cooling_days: usize,
    /// Heat capacity of the contents: everything heavy and the settled produce, J/K.
    pub contents_j_per_k: f64,
    /// Heat exchange between air and contents, W/K.
    pub exchange_w_per_k: f64,
    /// Transpiration of everything stored, kg for each second and pascal of deficit.
    pub transpiration_kg_s_pa: f64,
    /// Heat capacity of what still cools down, J/K; 0 where nothing does.
    pub cooling_j_per_k: f64,
    /// Its temperature, K.
    pub cooling_k: f64,
    /// Respiration of the settled produce.
    pub respiration: Respiration,
    /// Respiration of what still cools down.
    pub cooling_respiration: Respiration,
}

/// What cools down, over one step in which the air is taken at its mean.
#[derive(Debug, Clone, Copy)]
pub(super) struct CoolingDown {
    /// Mean temperature, K.
    pub mean_k: f64,
    /// Respiration, W.
    pub respiration_w: f64,
}

impl Larder {
    /// Everything that is there on a day, settled.
    pub fn settled(plant: &Plant, day: usize, at_k: f64) -> Self {
        let produce = &plant.room.produce;
        let mut larder = Self {
            settled_kg: produce.iter().map(|one| one.mass_on_kg(day)).collect(),
            cooling_kg: vec![0.0; produce.len()],
            cooling_days: 0,
            contents_j_per_k: 0.0,
            exchange_w_per_k: 0.0,
            transpiration_kg_s_pa: 0.0,
            cooling_j_per_k: 0.0,
            cooling_k: at_k,
            respiration: Respiration::none(at_k),
            cooling_respiration: Respiration::none(at_k),
        };
        larder.reckon(plant, at_k);
        larder
    }

    /// Whether nothing is stored.
    pub fn is_empty(&self) -> bool {
        self.settled_kg.iter().chain(&self.cooling_kg).all(|&mass_kg| mass_kg == 0.0)
    }

    /// Everything that follows from what is where.
    fn reckon(&mut self, plant: &Plant, contents_k: f64) {
        let room = &plant.room;
        let capacity = |masses: &[f64]| -> f64 {
            room.produce.iter().zip(masses).map(|(one, mass_kg)| mass_kg * one.specific_heat_j_per_kg_k).sum()
        };
        self.contents_j_per_k = room.fixed_capacity_j_per_k + capacity(&self.settled_kg);
        self.cooling_j_per_k = capacity(&self.cooling_kg);
        self.exchange_w_per_k =
            room.exchange_w_per_k + room.exchange_w_per_kg_k * self.settled_kg.iter().sum::<f64>();
        let stored_kg =
            self.settled_kg.iter().zip(&self.cooling_kg).map(|(settled, cooling)| settled + cooling);
        self.transpiration_kg_s_pa = room
            .produce
            .iter()
            .zip(stored_kg)
            .map(|(one, mass_kg)| one.transpiration_per_s_pa * mass_kg)
            .sum();
        self.respiration = Respiration::of(plant, &self.settled_kg, contents_k);
        self.cooling_respiration = Respiration::of(plant, &self.cooling_kg, self.cooling_k);
    }

    /// Draws the tangents of respiration anew where they no longer serve.
    pub fn follow(&mut self, plant: &Plant, contents_k: f64) {
        if !self.respiration.holds(contents_k) {
            self.respiration = Respiration::of(plant, &self.settled_kg, contents_k);
        }
        if self.cooling_j_per_k > 0.0 && !self.cooling_respiration.holds(self.cooling_k) {
            self.cooling_respiration = Respiration::of(plant, &self.cooling_kg, self.cooling_k);
        }
    }

    /// Conductance between the air and what cools down, W/K.
    pub fn cooling_w_per_k(&self, plant: &Plant) -> f64 {
        plant.room.cooling_per_s() * self.cooling_j_per_k
    }

    /// What cools down over a step, exactly for air at its mean and the respiration of the step's start.
    pub fn cooling_down(&self, plant: &Plant, air_mean_k: f64, step_s: f64) -> CoolingDown {
        let w_per_k = self.cooling_w_per_k(plant);
        if w_per_k <= 0.0 {
            return CoolingDown { mean_k: self.cooling_k, respiration_w: 0.0 };
        }
        let respiration_w = self.cooling_respiration.heat_w(self.cooling_k);
        let towards_k = air_mean_k + respiration_w / w_per_k;
        let x = plant.room.cooling_per_s() * step_s;
        let mean_k = towards_k + (self.cooling_k - towards_k) * (-libm::expm1(-x) / x);
        CoolingDown { mean_k, respiration_w }
    }

    /// Temperature of what cools down after a step, K: it has given exactly what the air received.
    pub fn cooled_to_k(
        &self,
        plant: &Plant,
        cooling_down: &CoolingDown,
        air_mean_k: f64,
        step_s: f64,
    ) -> f64 {
        if self.cooling_j_per_k <= 0.0 {
            return self.cooling_k;
        }
        let given_w = self.cooling_w_per_k(plant) * (cooling_down.mean_k - air_mean_k);
        self.cooling_k + (cooling_down.respiration_w - given_w) * step_s / self.cooling_j_per_k
    }
}

impl Engine<'_> {
    /// The first instant of a day: what has cooled down settles, and produce is carried in and out.
    pub(super) fn begin_day(&mut self, day: usize) {
        if self.larder.cooling_j_per_k > 0.0 {
            self.larder.cooling_days += 1;
            let cooled_s = self.larder.cooling_days as f64 * DAY_S;
            if cooled_s >= SETTLED_AFTER_HALVINGS * self.plant.room.half_cooling_s {
                self.settle();
            }
        }
        let plant = self.plant;
        for (index, one) in plant.room.produce.iter().enumerate() {
            for stock in one.stock.iter().filter(|stock| stock.day == day) {
                self.carry(index, stock);
            }
        }
    }

    /// Takes what has cooled down into the contents.
    fn settle(&mut self) {
        let larder = &mut self.larder;
        let (settled, cooled) = (larder.contents_j_per_k, larder.cooling_j_per_k);
        self.room.contents_k =
            (settled * self.room.contents_k + cooled * larder.cooling_k) / (settled + cooled);
        for (settled_kg, cooling_kg) in larder.settled_kg.iter_mut().zip(&mut larder.cooling_kg) {
            *settled_kg += std::mem::take(cooling_kg);
        }
        larder.reckon(self.plant, self.room.contents_k);
    }

    /// Brings one crop to a mass. What is carried in goes to what cools down; what is carried out leaves the contents first.
    fn carry(&mut self, index: usize, stock: &Stock) {
        let specific_heat = self.plant.room.produce[index].specific_heat_j_per_kg_k;
        let contents_k = self.room.contents_k;
        let larder = &mut self.larder;
        let (settled_kg, cooling_kg) = (larder.settled_kg[index], larder.cooling_kg[index]);
        let change_kg = stock.mass_kg - (settled_kg + cooling_kg);
        let above = |temperature_k: f64| temperature_k - ZERO_CELSIUS_K;
        if change_kg > 0.0 {
            let arriving = change_kg * specific_heat;
            self.sums.gain_j[Cause::ProduceIn as usize] += arriving * (stock.arrives_k - contents_k);
            self.produce_transfer_j += arriving * above(contents_k);
            // Without anything else that holds heat the contents would be nothing until the first of it has cooled.
            if self.plant.room.fixed_capacity_j_per_k > 0.0 {
                let cooling = larder.cooling_j_per_k;
                larder.cooling_k =
                    (cooling * larder.cooling_k + arriving * stock.arrives_k) / (cooling + arriving);
                larder.cooling_kg[index] = stock.mass_kg - settled_kg;
                larder.cooling_days = 0;
            } else {
                let contents = larder.contents_j_per_k;
                self.room.contents_k =
                    (contents * contents_k + arriving * stock.arrives_k) / (contents + arriving);
                larder.settled_kg[index] = stock.mass_kg - cooling_kg;
            }
        } else if change_kg < 0.0 {
            let from_settled_kg = (-change_kg).min(settled_kg);
            let from_cooling_kg = -change_kg - from_settled_kg;
            self.produce_transfer_j -= specific_heat
                * (from_settled_kg * above(contents_k) + from_cooling_kg * above(larder.cooling_k));
            larder.settled_kg[index] = settled_kg - from_settled_kg;
            larder.cooling_kg[index] = cooling_kg - from_cooling_kg;
        } else {
            return;
        }
        larder.reckon(self.plant, self.room.contents_k);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::plant::Produce;
    use approx::assert_relative_eq;

    fn apples(respiration_w_per_kg: f64) -> Plant {
        let mut plant = example::plant();
        plant.room.half_cooling_s = 8.0 * 3600.0;
        plant.room.produce = vec![Produce {
            name: "apple".to_owned(),
            stock: vec![Stock { day: 0, mass_kg: 100.0, arrives_k: ZERO_CELSIUS_K + 20.0 }],
            specific_heat_j_per_kg_k: 3640.0,
            respiration_w_per_kg: [respiration_w_per_kg; 5],
            transpiration_per_s_pa: 0.0,
        }];
        plant
    }

    /// 100 kg that come at 20 °C and nothing else.
    fn carried_in(plant: &Plant) -> Larder {
        let mut larder = Larder::settled(plant, 0, ZERO_CELSIUS_K + 4.0);
        std::mem::swap(&mut larder.settled_kg, &mut larder.cooling_kg);
        larder.cooling_k = ZERO_CELSIUS_K + 20.0;
        larder.reckon(plant, ZERO_CELSIUS_K + 4.0);
        larder
    }

    fn cooled_degc(plant: &Plant, larder: &mut Larder, hours: f64, steps: usize) -> f64 {
        let (air_k, step_s) = (ZERO_CELSIUS_K + 2.0, 3600.0 * hours / steps as f64);
        for _ in 0..steps {
            larder.follow(plant, ZERO_CELSIUS_K + 4.0);
            let cooling_down = larder.cooling_down(plant, air_k, step_s);
            larder.cooling_k = larder.cooled_to_k(plant, &cooling_down, air_k, step_s);
        }
        larder.cooling_k - ZERO_CELSIUS_K
    }

    /// Half-cooling time (Dinçer, heat transfer in food cooling, chapter 6, abstract read): of air at 2 and apples at 20 °C with 8 h the
    /// worked values are 11.0, 6.5 and 4.25 °C after 8, 16 and 24 h, and 4 °C after 25.36 h. Derived from the definition; exact in any steps.
    #[test]
    fn apples_come_half_the_way_in_every_half_cooling_time() {
        let plant = apples(0.0);
        for steps in [1, 7, 200] {
            for (hours, degc) in [(8.0, 11.0), (16.0, 6.5), (24.0, 4.25), (25.36, 4.0)] {
                // 25.36 is rounded: 0.005 h are 0.001 K.
                let cooled = cooled_degc(&plant, &mut carried_in(&plant), hours, steps);
                assert_relative_eq!(cooled, degc, epsilon = 0.001);
            }
        }
    }

    /// The first watts of those apples: 157.7 W, 66.4 W on the mean of the first 24 h (derived from the same definition, against 4 °C: the
    /// heat that leaves until 4.25 °C is reached is 100 kg x 3.64 kJ/(kg K) x 15.75 K over 24 h).
    #[test]
    fn the_heat_that_leaves_is_the_heat_that_is_missing() {
        let plant = apples(0.0);
        let larder = carried_in(&plant);
        let first_w = larder.cooling_w_per_k(&plant) * 18.0;
        assert_relative_eq!(first_w, 157.7, epsilon = 0.05);
        let day = larder.cooling_down(&plant, ZERO_CELSIUS_K + 2.0, 86_400.0);
        let mean_w = larder.cooling_w_per_k(&plant) * (day.mean_k - ZERO_CELSIUS_K - 2.0);
        assert_relative_eq!(mean_w, 66.4, epsilon = 0.05);
    }

    #[test]
    fn what_breathes_stays_above_the_air_by_its_heat_over_the_conductance() {
        let plant = apples(0.05);
        let larder = &mut carried_in(&plant);
        let cooled = cooled_degc(&plant, larder, 400.0, 400);
        let above = 100.0 * 0.05 / larder.cooling_w_per_k(&plant);
        assert_relative_eq!(cooled, 2.0 + above, epsilon = 1e-6);
    }

    #[test]
    fn masses_of_months_become_stock_only_where_they_change() {
        let calendar = crate::plant::Calendar::new(false);
        let mut mass_kg = [50.0; 12];
        assert_eq!(Stock::of_months(&calendar, &mass_kg, 280.0).len(), 1);
        mass_kg[2] = 20.0;
        let produce = Produce {
            stock: Stock::of_months(&calendar, &mass_kg, 280.0),
            ..apples(0.0).room.produce[0].clone()
        };
        let days: Vec<usize> = produce.stock.iter().map(|stock| stock.day).collect();
        assert_eq!(days, [59, 90]);
        assert_eq!(
            [0, 58, 59, 89, 90, 364].map(|day| produce.mass_on_kg(day)),
            [50.0, 50.0, 20.0, 20.0, 50.0, 50.0]
        );
        let changes: Vec<f64> = produce.changes().map(|(_, change_kg)| change_kg).collect();
        assert_eq!(changes, [-30.0, 30.0]);
    }
}

//! Looking at the tank's layers: how much water is lukewarm, how hot top and bottom are, and since when the tank was not
//! hot throughout.

use super::engine::Engine;
use super::sums::share_above;
use crate::plant::Plant;
use crate::tank::Series;
use crate::water::density_kg_m3;
use crate::year::{GROWS_K, HOT_K, LAYER_FRAC, STORE_AT_K};

/// The tank at one look: means of its uppermost, middle and lowest tenth.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Look {
    top_k: f64,
    middle_k: f64,
    bottom_k: f64,
    /// The lowest litre: the coldest there is.
    coldest_k: f64,
    /// Share of the water in the range in which Legionella grows.
    lukewarm_frac: f64,
}

impl Look {
    fn at(tank: &Series, mass_kg: f64) -> Self {
        let part_kg = LAYER_FRAC * mass_kg;
        let middle_kg = 0.5 * (mass_kg - part_kg);
        Self {
            top_k: tank.mean_k(mass_kg - part_kg, mass_kg),
            middle_k: tank.mean_k(middle_kg, middle_kg + part_kg),
            bottom_k: tank.mean_k(0.0, part_kg),
            coldest_k: tank.coldest_k(),
            lukewarm_frac: tank.mass_between_kg(GROWS_K) / mass_kg,
        }
    }
}

/// What the last look at the layers saw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LayerWatch {
    last: Look,
    /// Time since the whole tank was at [`STORE_AT_K`], or since the start of the year, s.
    cool_s: f64,
}

impl LayerWatch {
    pub fn new(tank: &Series, plant: &Plant) -> Self {
        Self { last: Look::at(tank, plant.tank.mass_kg()), cool_s: 0.0 }
    }

    /// Counts from now on.
    pub fn begin_year(&mut self) {
        self.cool_s = 0.0;
    }
}

impl Engine<'_> {
    /// Mixed water of the use temperature that the tank alone could give now at the draw port, m3: see docs/MODEL.md, section 4.
    /// `None` where cold water is as warm as that.
    pub(super) fn usable_m3(&self) -> Option<f64> {
        let (tank, use_k, mains_k) = (&self.plant.tank, self.plant.use_k, self.hour.mains_k);
        let over_mains_kg_k = || {
            let (from_kg, to_kg) = (self.position_kg(tank.cold_in), self.position_kg(tank.draw));
            self.tank.warm_kg_k(from_kg, to_kg, use_k, mains_k)
        };
        (use_k > mains_k).then(|| over_mains_kg_k() / (use_k - mains_k) / density_kg_m3(use_k))
    }

    /// Books the layers since the last look, as straight lines between the two.
    pub(super) fn look_at_layers(&mut self, elapsed_s: f64) {
        let now = Look::at(&self.tank, self.full_kg);
        let before = std::mem::replace(&mut self.layers.last, now);
        let sums = &mut self.sums.layers;
        sums.middle_k_s += 0.5 * (before.middle_k + now.middle_k) * elapsed_s;
        sums.lukewarm_s += 0.5 * (before.lukewarm_frac + now.lukewarm_frac) * elapsed_s;
        for (index, &hot_k) in HOT_K.iter().enumerate() {
            sums.top_hot_s[index] += share_above(before.top_k, now.top_k, hot_k) * elapsed_s;
            sums.bottom_hot_s[index] += share_above(before.bottom_k, now.bottom_k, hot_k) * elapsed_s;
        }
        self.layers.cool_s = if now.coldest_k >= STORE_AT_K { 0.0 } else { self.layers.cool_s + elapsed_s };
        sums.longest_cool_s = sums.longest_cool_s.max(self.layers.cool_s);
    }
}

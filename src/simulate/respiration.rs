//! Respiration heat of everything stored, as a tangent that is drawn anew when the contents have moved.

use crate::plant::{Plant, RESPIRATION_AT_K};

/// The tangent is used this far from where it touches, K. Respiration grows by about 8 % a kelvin, so it errs
/// by less than (0.08 x 0.1)^2/2 = 0.003 % there.
const TANGENT_HOLDS_DK: f64 = 0.1;

/// Tangent to the respiration heat against the contents' temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Respiration {
    at_k: f64,
    heat_w: f64,
    heat_w_per_k: f64,
}

impl Respiration {
    /// Nothing that breathes.
    pub fn none(at_k: f64) -> Self {
        Self { at_k, heat_w: 0.0, heat_w_per_k: 0.0 }
    }

    /// The tangent at a temperature, for so much of each crop.
    pub fn of(plant: &Plant, masses_kg: &[f64], at_k: f64) -> Self {
        let width_dk = RESPIRATION_AT_K[1] - RESPIRATION_AT_K[0];
        let position = (at_k - RESPIRATION_AT_K[0]) / width_dk;
        let cell = position.clamp(0.0, 3.0) as usize;
        let share = position - cell as f64;
        let inside = (0.0..=1.0).contains(&share);
        let (mut heat_w, mut heat_w_per_k) = (0.0, 0.0);
        for (produce, &mass_kg) in plant.room.produce.iter().zip(masses_kg) {
            // A crop whose respiration no source gives breathes nothing.
            if mass_kg <= 0.0 || produce.respiration_w_per_kg[0] <= 0.0 {
                continue;
            }
            let (low, high) = (produce.respiration_w_per_kg[cell], produce.respiration_w_per_kg[cell + 1]);
            let growth = libm::log(high / low);
            let here_w = mass_kg * low * libm::exp(growth * share.clamp(0.0, 1.0));
            heat_w += here_w;
            if inside {
                heat_w_per_k += here_w * growth / width_dk;
            }
        }
        Self { at_k, heat_w, heat_w_per_k }
    }

    /// Whether the tangent still serves.
    pub fn holds(&self, contents_k: f64) -> bool {
        (contents_k - self.at_k).abs() <= TANGENT_HOLDS_DK
    }

    /// Respiration heat at a temperature near the tangent's, W.
    pub fn heat_w(&self, contents_k: f64) -> f64 {
        self.heat_w + self.heat_w_per_k * (contents_k - self.at_k)
    }
}

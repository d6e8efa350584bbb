//! Water that circles through the pipes of the resting pump.

use super::engine::Engine;
use crate::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K;

/// Water circles through the pipes of a resting pump while the tank is by more than this warmer than the room, K: less drives nothing.
const CIRCLES_FROM_DK: f64 = 0.5;

impl Engine<'_> {
    /// Temperature at which water that circles through the resting pump's pipes holds them, K: the tank's mean, where that is warmer than the
    /// room's air. See docs/MODEL.md, section 4.
    pub(super) fn circling_k(&self, pump_kg_s: f64) -> Option<f64> {
        if !self.plant.tank.circles || pump_kg_s > 0.0 || self.clock.running {
            return None;
        }
        let mean_k = self.tank.mass_temperature_kg_k() / self.tank.mass_kg();
        (mean_k > self.room.air_k + CIRCLES_FROM_DK).then_some(mean_k)
    }

    /// Takes out of the tank what water circled into the pipes: from each layer by how much warmer it is than the room's air.
    pub(super) fn take_circled(&mut self, circled_j: f64, air_k: f64) {
        if circled_j <= 0.0 {
            return;
        }
        let (kg_k, kg) = (self.tank.mass_temperature_kg_k(), self.tank.mass_kg());
        // The air may have warmed since the step began.
        let towards_k = air_k.min(kg_k / kg - CIRCLES_FROM_DK);
        let kept = 1.0 - circled_j / (WATER_SPECIFIC_HEAT_J_PER_KG_K * (kg_k - kg * towards_k));
        self.tank.lose(towards_k, kept, kept);
        self.sums.circled_j += circled_j;
    }
}

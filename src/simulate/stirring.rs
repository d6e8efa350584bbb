//! What the jets stir that enter the tank.

use super::engine::Engine;
use crate::constants::WATER_DENSITY_KG_M3;
use crate::plant::Vessel;
use crate::tank::jet::Jet;

impl Engine<'_> {
    /// The jet of cold water mixes what lies at its inlet.
    pub(super) fn stir_cold_inlet(&mut self, mains_kg: f64, step_s: f64) {
        let tank = &self.plant.tank;
        if mains_kg <= 0.0 {
            return;
        }
        if let Some(bore_m) = tank.cold_in_bore_m {
            let from_kg = self.position_kg(tank.cold_in);
            let flow_m3_s = mains_kg / step_s / WATER_DENSITY_KG_M3;
            let jet = Jet { flow_m3_s, bore_m, temperature_k: self.hour.mains_k, upward: true };
            let room_kg = self.position_kg(tank.first_frac()) - from_kg;
            let mean_k = |kg: f64| self.tank.mean_k(from_kg, from_kg + kg);
            let stirred_kg = jet.stirs_kg(room_kg, kg_per_m(&tank.first), mean_k);
            self.sums.cold_in_stirred_kg += mains_kg * stirred_kg / self.full_kg;
            self.tank.stir(from_kg, stirred_kg);
        } else if tank.cold_in_stirs > 0.0 {
            let lowest = tank.cold_in.min(tank.first_frac() - tank.cold_in_stirs);
            self.tank.stir(self.position_kg(lowest), self.position_kg(tank.cold_in_stirs));
        }
    }

    /// The jet of what comes back from the pump mixes what lies below its opening.
    pub(super) fn stir_return(&mut self, return_kg: f64, returned_k: f64, step_s: f64) {
        let tank = &self.plant.tank;
        let Some(bore_m) = tank.return_bore_m else { return };
        if return_kg <= 0.0 {
            return;
        }
        let to_kg = self.position_kg(tank.pump_return);
        let first_kg = self.position_kg(tank.first_frac());
        let (vessel, least_kg) = match &tank.second {
            Some(second) if to_kg > first_kg => (second, first_kg),
            _ => (&tank.first, 0.0),
        };
        let flow_m3_s = return_kg / step_s / WATER_DENSITY_KG_M3;
        let jet = Jet { flow_m3_s, bore_m, temperature_k: returned_k, upward: false };
        let mean_k = |kg: f64| self.tank.mean_k(to_kg - kg, to_kg);
        let stirred_kg = jet.stirs_kg(to_kg - least_kg, kg_per_m(vessel), mean_k);
        self.sums.returned_kg += return_kg;
        self.sums.return_stirred_kg += return_kg * stirred_kg / self.full_kg;
        self.tank.stir(to_kg - stirred_kg, stirred_kg);
    }
}

/// Water in a vessel per height, kg/m.
fn kg_per_m(vessel: &Vessel) -> f64 {
    vessel.mass_kg / vessel.height_m
}

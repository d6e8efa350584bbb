//! The electric element in the tank: its thermostat, its steps and its heat.

use super::engine::Engine;
use crate::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K;

/// Shortest step that the electric element is given, s: in it the water above the element warms by some hundredths of a kelvin.
const SHORTEST_ELEMENT_STEP_S: f64 = 1.0;

impl Engine<'_> {
    /// Switches the electric element by the water at its height.
    pub(super) fn switch_element(&mut self) {
        let Some(element) = &self.plant.element else { return };
        // A sliver of cold water there is warmed with what lies above it.
        let water_k = self.tank.sensed_k(self.position_kg(element.height));
        self.element_on =
            if self.element_on { water_k < element.off_at_k } else { water_k <= element.on_at_k };
    }

    /// The longest step that the element may heat without looking at its thermostat, s.
    pub(super) fn longest_element_step_s(&self) -> f64 {
        let Some(element) = self.plant.element.as_ref().filter(|_| self.element_on) else {
            return f64::INFINITY;
        };
        let at_kg = self.position_kg(element.height);
        let above_kg = self.tank.above_in_tank_kg(at_kg);
        // What it has to warm: the water above it that is not as warm already.
        let zone_kg = self
            .tank
            .mass_to_change_kg(at_kg, true, f64::INFINITY, &[element.off_at_k])
            .map_or(above_kg, |kg| kg.min(above_kg));
        let missing_dk = element.off_at_k - self.tank.mean_k(at_kg, at_kg + zone_kg);
        let missing_s = missing_dk * zone_kg * WATER_SPECIFIC_HEAT_J_PER_KG_K / element.power_w;
        missing_s.clamp(SHORTEST_ELEMENT_STEP_S, self.resolution.run_step_s)
    }

    /// The element's heat: what it warms rises until it meets water that is warmer.
    pub(super) fn heat_by_element(&mut self, step_s: f64) {
        let Some(element) = self.plant.element.as_ref().filter(|_| self.element_on) else { return };
        let heat_j = element.power_w * step_s;
        let plume_kg = self.resolution.smallest_parcel_frac * self.full_kg;
        let at_kg = self.position_kg(element.height);
        let from_kg = at_kg.min(at_kg + self.tank.above_in_tank_kg(at_kg) - plume_kg);
        let taken = self.tank.take(from_kg, plume_kg);
        let warmed_k = taken.temperature_k + heat_j / (taken.mass_kg * WATER_SPECIFIC_HEAT_J_PER_KG_K);
        self.tank.insert(from_kg, taken.mass_kg, warmed_k);
        self.sums.element_j += heat_j;
        self.sums.element_s += step_s;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::plant::Element;
    use crate::resolution::Resolution;

    #[test]
    fn a_sliver_of_cold_water_does_not_keep_it_on() {
        let mut plant = example::plant();
        plant.element = Some(Element { power_w: 3000.0, height: 0.5, on_at_k: 320.0, off_at_k: 330.0 });
        let resolution = Resolution::default();
        // Cold up to the element and so much further, hot above.
        let on_with = |sliver_of_smallest: f64| {
            let mut engine = Engine::new(&plant, &resolution, 0);
            let full_kg = plant.tank.mass_kg();
            let from_kg = (0.5 + sliver_of_smallest * resolution.smallest_parcel_frac) * full_kg;
            let hot = engine.tank.take(from_kg, full_kg - from_kg);
            engine.tank.insert(from_kg, hot.mass_kg, 340.0);
            engine.element_on = true;
            engine.switch_element();
            engine.element_on
        };
        assert_eq!([0.01, 10.0].map(on_with), [false, true]);
    }
}

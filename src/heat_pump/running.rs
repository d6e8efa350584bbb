//! What the household sees of the running unit: water, cooling and power at an operating point, and the inlets at which
//! they pass a limit.

use super::{Operation, Outside, compressor_power_w};
use crate::constants::{SHELL_LOSS_FRAC, WATER_SPECIFIC_HEAT_J_PER_KG_K};
use crate::plant::HeatPump;

/// Step in which an inlet is looked for at which a limit is passed, K: less than the distance of two nodes of the maps.
const SEARCH_STEP_DK: f64 = 1.0;
/// How closely such an inlet is found, K.
const FOUND_WITHIN_DK: f64 = 1e-6;

/// The unit started up, at full output, at an operating point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Running {
    /// Room air, K.
    pub room_air_k: f64,
    /// Water in, K.
    pub inlet_k: f64,
    /// Water out, K.
    pub outlet_k: f64,
    /// Water flow, kg/s.
    pub flow_kg_s: f64,
    /// Heat to the water, circulator included, W.
    pub heat_to_water_w: f64,
    /// Compressor, fan, controls and circulator, W; without standby.
    pub power_w: f64,
    /// Heat taken from the room, less everything that the running unit returns to it, standby included, W; negative where
    /// it warms the room.
    pub heat_from_room_w: f64,
    /// Edges of the map that were passed.
    pub outside: Outside,
}

impl Running {
    /// Running COP: heat to water over the power of pump and circulator.
    pub fn cop(&self) -> f64 {
        self.heat_to_water_w / self.power_w
    }

    /// Whether the nearest edge of the cycle map had to be used.
    pub fn outside_map(&self) -> bool {
        let Outside { room_air, inlet, rise, unreachable } = self.outside;
        room_air || inlet || rise || unreachable
    }

    /// Heat to water for each joule of cold; `None` where the unit does not cool.
    ///
    /// For a unit that stands wholly in the room and draws no standby it is `1/(1 - 1/COP)`. Source: energy balance of the
    /// unit. Derived here: `Q_room = Q_water - P`.
    pub fn hot_per_cold(&self) -> Option<f64> {
        (self.heat_from_room_w > 0.0).then(|| self.heat_to_water_w / self.heat_from_room_w)
    }
}

impl HeatPump {
    /// The unit started up, at full output, at room air and inlet (K), with a clean or a frosted coil.
    pub fn running(&self, room_air_k: f64, inlet_k: f64, frosted: bool) -> Running {
        let operation = self.operate(room_air_k, inlet_k, frosted);
        let flow_kg_s = self.water_flow_kg_s(operation.heat_w, operation.rise_dk);
        let heat_to_water_w = operation.heat_w + self.circulator_w;
        Running {
            room_air_k,
            inlet_k,
            outlet_k: inlet_k + heat_to_water_w / (flow_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K),
            flow_kg_s,
            heat_to_water_w,
            power_w: operation.power_w + self.circulator_w,
            heat_from_room_w: self.cooling_w(&operation) - self.standby_w,
            outside: operation.outside,
        }
    }

    /// What the running unit takes out of the room, W: heat to water less its power, and the casing's loss that stays outside.
    pub fn cooling_w(&self, operation: &Operation) -> f64 {
        let compressor_w = compressor_power_w(operation.heat_w, operation.power_w);
        operation.heat_w - operation.power_w + self.shell_outside_frac * SHELL_LOSS_FRAC * compressor_w
    }

    /// Inlet at or above which the unit locks out, K: its own limit, or the inlet whose outlet reaches the outlet's limit.
    pub fn lock_out_inlet_k(&self) -> f64 {
        self.inlet_stop_k.min(self.inlet_at_outlet_stop_k())
    }

    /// Water at the tank's outlet to the pump at or above which the unit locks out, K: with a closed loop between them it is colder than the
    /// pump's inlet.
    pub fn tank_stop_k(&self) -> f64 {
        self.tank_at_inlet_k(self.lock_out_inlet_k())
    }
}

/// Lowest inlet of a range (K) from which a quantity is below a limit: the range's own start where it is below already,
/// `None` where it stays at or above it.
pub fn inlet_below(quantity: impl Fn(f64) -> f64, limit: f64, (low_k, high_k): (f64, f64)) -> Option<f64> {
    let below = |inlet_k: f64| quantity(inlet_k) < limit;
    if below(low_k) {
        return Some(low_k);
    }
    let steps = libm::ceil((high_k - low_k) / SEARCH_STEP_DK).max(0.0) as usize;
    let inlet_k = |step: usize| (low_k + step as f64 * SEARCH_STEP_DK).min(high_k);
    let passed = (1..=steps).find(|&step| below(inlet_k(step)))?;
    let (mut kept_k, mut below_k) = (inlet_k(passed - 1), inlet_k(passed));
    while below_k - kept_k > FOUND_WITHIN_DK {
        let middle_k = 0.5 * (kept_k + below_k);
        if below(middle_k) {
            below_k = middle_k;
        } else {
            kept_k = middle_k;
        }
    }
    Some(below_k)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn an_inlet_is_found_where_a_quantity_falls_below_its_limit() {
        let falling = |inlet_k: f64| 330.0 - inlet_k;
        // 1e-6: the width of the last interval.
        assert_abs_diff_eq!(inlet_below(falling, 12.3, (278.0, 320.0)).unwrap(), 317.7, epsilon = 1e-6);
        assert_eq!(inlet_below(falling, 60.0, (278.0, 320.0)), Some(278.0));
        assert_eq!(inlet_below(falling, 10.0, (278.0, 320.0)), None);
        assert_eq!(inlet_below(falling, 10.1, (278.0, 319.0)), None);
        assert_eq!(inlet_below(falling, 10.1, (278.0, 277.0)), None);
    }
}

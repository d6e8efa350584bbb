//! What does not change, or changes linearly, through one hour.

use crate::constants::{DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K, VAPOUR_SPECIFIC_HEAT_J_PER_KG_K};
use crate::plant::{HOUR_S, Plant};

/// Boundary conditions of one hour.
#[derive(Debug, Clone)]
pub(super) struct Hour {
    pub index: usize,
    pub month: usize,
    /// Seconds after midnight at its start.
    pub day_s: f64,
    pub mains_k: f64,
    /// Conductance from the room's air to everything that is always there, W/K.
    pub outside_w_per_k: f64,
    /// Sum of conductance times outside temperature at the start of the hour, W, and its change, W/s.
    pub outside_w: f64,
    pub outside_w_per_s: f64,
    /// Conductance of the leakage, W/K.
    pub leakage_w_per_k: f64,
    /// Humidity ratio of the leaking air at the start of the hour and its change per second.
    pub leakage_humidity: f64,
    pub leakage_humidity_per_s: f64,
}

impl Hour {
    pub fn of(plant: &Plant, index: usize) -> Self {
        let room = &plant.room;
        let (mut outside_w_per_k, mut start_w, mut end_w) = (0.0, 0.0, 0.0);
        for surface in &room.surfaces {
            let temperature_k = &plant.boundaries[surface.boundary].temperature_k;
            outside_w_per_k += surface.ua_w_per_k;
            start_w += surface.ua_w_per_k * temperature_k[index];
            end_w += surface.ua_w_per_k * temperature_k[index + 1];
        }
        let leak = &plant.boundaries[room.leakage_from];
        let (humidity, next_humidity) = (leak.humidity_ratio[index], leak.humidity_ratio[index + 1]);
        let leakage_w_per_k = room.leakage_kg_s * moist_specific_heat(0.5 * (humidity + next_humidity));
        outside_w_per_k += leakage_w_per_k;
        start_w += leakage_w_per_k * leak.temperature_k[index];
        end_w += leakage_w_per_k * leak.temperature_k[index + 1];
        Self {
            index,
            month: plant.calendar.month_of_hour(index),
            day_s: (index % 24) as f64 * HOUR_S,
            mains_k: plant.mains_k[index / 24],
            outside_w_per_k,
            outside_w: start_w,
            outside_w_per_s: (end_w - start_w) / HOUR_S,
            leakage_w_per_k,
            leakage_humidity: humidity,
            leakage_humidity_per_s: (next_humidity - humidity) / HOUR_S,
        }
    }

    /// Temperature of a boundary at a time in the hour, K.
    pub fn boundary_k(&self, plant: &Plant, boundary: usize, offset_s: f64) -> f64 {
        linear(&plant.boundaries[boundary].temperature_k, self.index, offset_s)
    }

    /// Humidity ratio of a boundary at a time in the hour.
    pub fn boundary_humidity(&self, plant: &Plant, boundary: usize, offset_s: f64) -> f64 {
        linear(&plant.boundaries[boundary].humidity_ratio, self.index, offset_s)
    }
}

/// Specific heat of moist air per kilogram of dry air, J/(kg K).
pub(super) fn moist_specific_heat(humidity_ratio: f64) -> f64 {
    DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K + VAPOUR_SPECIFIC_HEAT_J_PER_KG_K * humidity_ratio
}

fn linear(instants: &[f64], index: usize, offset_s: f64) -> f64 {
    instants[index] + (instants[index + 1] - instants[index]) * (offset_s / HOUR_S)
}

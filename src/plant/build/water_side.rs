//! Tank, booster and element from the household's description.

use super::boundaries::Boundaries;
use crate::constants::WATER_DENSITY_KG_M3;
use crate::household::{Beyond, BoosterUnit, ElectricElement, HeatPumpUnit, HotWaterTank, Storage};
use crate::plant::{Booster, Element, Surroundings, Tank, Vessel};

/// The tank; it starts at `start_k` throughout.
pub(super) fn tank(tank: &HotWaterTank, unit: &HeatPumpUnit, boundaries: &Boundaries, start_k: f64) -> Tank {
    let (pump_out, pump_return) = tank.pump_ports(unit);
    let vessel = |one: &Storage| Vessel {
        mass_kg: one.volume.value * WATER_DENSITY_KG_M3,
        height_m: one.height.value,
        loss_w_per_k: one.loss.value + one.heat_bridges.value,
    };
    Tank {
        first: vessel(&tank.storage),
        second: tank.followed_by.as_ref().map(vessel),
        surroundings: match tank.stands_in {
            Beyond::ColdRoom => Surroundings::ColdRoom,
            other => Surroundings::Boundary(boundaries.index_of(other)),
        },
        conductivity_w_per_m_k: tank.conductivity.value,
        cold_in: tank.cold_in.value,
        cold_in_stirs: tank.cold_in_stirs.value,
        cold_in_bore_m: tank.cold_in_bore.map(|bore| bore.value),
        return_bore_m: tank.return_bore.map(|bore| bore.value),
        pump_out: pump_out.value,
        pump_return: pump_return.value,
        draw: tank.draw.value,
        circles: tank.circles(unit),
        start_k,
    }
}

pub(super) fn booster(unit: &BoosterUnit) -> Booster {
    Booster {
        set_k: unit.set.value,
        most_w: unit.most.value,
        least_w: unit.least.value,
        efficiency: unit.efficiency.value,
        highest_inlet_k: unit.highest_inlet.map_or(f64::INFINITY, |inlet| inlet.value),
    }
}

pub(super) fn element(element: &ElectricElement) -> Element {
    Element {
        power_w: element.power.value,
        height: element.height.value,
        on_at_k: element.set.value - element.differential.value,
        off_at_k: element.set.value,
    }
}

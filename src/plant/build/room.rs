//! The cold room from the household's description.

use super::boundaries::Boundaries;
use crate::air;
use crate::constants::DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K;
use crate::household::{Beyond, ColdRoom, RoomDoor, RoomSurface, StoredProduce};
use crate::plant::{Cause, Door, HOUR_S, Produce, Room, Surface};
use crate::room::RespirationLevel;

/// Surface through which stored produce exchanges heat with the air, m2 for each kilogram.
///
/// Common practice, no source: crates and heaps with gaps. With the produce's surface and the room's own left out almost
/// wholly (12 instead of 52 m2) one basement room used 15 % more electricity and dumped 91 % more water.
const CONTENTS_SURFACE_M2_PER_KG: f64 = 0.04;

/// The room; its air has the density of dry air at set point and mean pressure.
pub(super) fn room(room: &ColdRoom, boundaries: &Boundaries, set_k: f64, pressure_pa: f64) -> Room {
    let density_kg_m3 = air::dry_air_density_kg_m3(set_k, 0.0, pressure_pa);
    let volume_m3 = room.volume().value;
    let air_mass_kg = density_kg_m3 * volume_m3;
    Room {
        volume_m3,
        air_mass_kg,
        air_capacity_j_per_k: air_mass_kg * DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K + room.shelving.value,
        fixed_capacity_j_per_k: room.crates.value + room.inner_skin_j_per_m2_k * room.inner_surface().value,
        exchange_w_per_k: exchange_w_per_k(room),
        surfaces: room.surfaces.iter().map(|part| surface(part, boundaries)).collect(),
        leakage_kg_s: room.leakage_changes_per_hour * air_mass_kg / HOUR_S,
        leakage_from: boundaries.index_of(room.leakage_from),
        doors: room.doors.iter().map(|part| door(part, room, boundaries, density_kg_m3)).collect(),
        produce: room.produce.iter().map(|kind| produce(kind, room.respiration)).collect(),
        warm_limit_k: room.warm_limit.value,
        freezing_k: room.cold_limit.value,
    }
}

/// Heat exchange between air and contents, W/K, by month.
fn exchange_w_per_k(room: &ColdRoom) -> [f64; 12] {
    std::array::from_fn(|month| {
        let stored_kg: f64 = room.produce.iter().map(|kind| kind.mass[month].value).sum();
        let surface_m2 = room.inner_surface().value + CONTENTS_SURFACE_M2_PER_KG * stored_kg;
        room.exchange.value * room.exchange_area.map_or(surface_m2, |area| area.value)
    })
}

fn surface(surface: &RoomSurface, boundaries: &Boundaries) -> Surface {
    Surface {
        name: surface.name.clone(),
        ua_w_per_k: surface.area.value * surface.u_value.value,
        boundary: boundaries.index_of(surface.faces),
        cause: match surface.faces {
            Beyond::Outdoors => Cause::OutdoorSurfaces,
            Beyond::Ground { .. } | Beyond::GroundSlab { .. } => Cause::GroundSurfaces,
            Beyond::Space(_) | Beyond::ColdRoom => Cause::NeighbourSurfaces,
        },
    }
}

fn door(door: &RoomDoor, room: &ColdRoom, boundaries: &Boundaries, density_kg_m3: f64) -> Door {
    let floor_m2 = (room.length * room.width).value;
    let head_m = door.height.value.min(room.height.value);
    Door {
        boundary: boundaries.index_of(door.opens_to),
        area_m2: (door.width * door.height).value,
        height_m: door.height.value,
        open_frac: door.flow_factor.value * (1.0 - door.curtain.value),
        most_exchange_kg: density_kg_m3 * floor_m2 * head_m,
    }
}

fn produce(kind: &StoredProduce, level: RespirationLevel) -> Produce {
    Produce {
        name: kind.crop.name().to_owned(),
        mass_kg: kind.mass.map(|mass| mass.value),
        specific_heat_j_per_kg_k: kind.crop.specific_heat_j_per_kg_k(),
        arrives_k: kind.arrives_at.value,
        respiration_w_per_kg: kind.crop.respiration_w_per_kg(level),
        transpiration_per_s_pa: kind.crop.transpiration_per_s_pa(),
    }
}

//! The cold room from the household's description.

use super::boundaries::Boundaries;
use crate::air;
use crate::constants::DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K;
use crate::household::{Beyond, Carried, ColdRoom, RoomDoor, RoomSurface, StoredProduce};
use crate::plant::{Calendar, Cause, Door, HOUR_S, Produce, Room, RoomHeater, Stock, Surface};
use crate::room::RespirationLevel;

/// Surface through which stored produce exchanges heat with the air, m2 for each kilogram.
///
/// Common practice, no source: crates and heaps with gaps. With the produce's surface and the room's own left out almost
/// wholly (12 instead of 52 m2) one basement room used 15 % more electricity and dumped 91 % more water.
const CONTENTS_SURFACE_M2_PER_KG: f64 = 0.04;

/// The room; its air has the density of dry air at set point and mean pressure.
pub(super) fn room(
    room: &ColdRoom,
    boundaries: &Boundaries,
    calendar: &Calendar,
    set_k: f64,
    pressure_pa: f64,
) -> Room {
    let density_kg_m3 = air::dry_air_density_kg_m3(set_k, 0.0, pressure_pa);
    let volume_m3 = room.volume().value;
    let air_mass_kg = density_kg_m3 * volume_m3;
    Room {
        volume_m3,
        air_mass_kg,
        air_capacity_j_per_k: air_mass_kg * DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K + room.shelving.value,
        fixed_capacity_j_per_k: room.crates.value + room.inner_skin_j_per_m2_k * room.inner_surface().value,
        exchange_w_per_k: room.exchange.value * room.exchange_area.unwrap_or(room.inner_surface()).value,
        exchange_w_per_kg_k: room
            .exchange_area
            .map_or(room.exchange.value * CONTENTS_SURFACE_M2_PER_KG, |_| 0.0),
        half_cooling_s: room.half_cooling.value,
        surfaces: room.surfaces.iter().map(|part| surface(part, boundaries)).collect(),
        leakage_kg_s: room.leakage_changes_per_hour * air_mass_kg / HOUR_S,
        leakage_from: boundaries.index_of(room.leakage_from),
        doors: room.doors.iter().map(|part| door(part, room, boundaries, density_kg_m3)).collect(),
        produce: room.produce.iter().map(|kind| produce(kind, calendar, room.respiration)).collect(),
        warm_limit_k: room.warm_limit.value,
        freezing_k: room.cold_limit.value,
        heater: room.heater.map(|heater| RoomHeater {
            power_w: heater.power.value,
            on_at_k: heater.on_below.value,
            off_at_k: heater.on_below.value + heater.differential.value,
        }),
    }
}

fn surface(surface: &RoomSurface, boundaries: &Boundaries) -> Surface {
    Surface {
        name: surface.name.clone(),
        ua_w_per_k: surface.area.value * surface.u_value.value + surface.bridges.value,
        boundary: boundaries.index_of_surface(surface),
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
        open_frac: std::array::from_fn(|month| {
            let stopped = if door.curtain_months[month] { door.curtain.value } else { 0.0 };
            door.flow_factor.value * (1.0 - stopped)
        }),
        most_exchange_kg: density_kg_m3 * floor_m2 * head_m,
    }
}

fn produce(kind: &StoredProduce, calendar: &Calendar, level: RespirationLevel) -> Produce {
    Produce {
        name: kind.crop.name().to_owned(),
        stock: stock(kind, calendar),
        specific_heat_j_per_kg_k: kind.crop.specific_heat_j_per_kg_k(),
        respiration_w_per_kg: kind.crop.respiration_w_per_kg(level),
        transpiration_per_s_pa: kind.crop.transpiration_per_s_pa(),
    }
}

/// What is stored, by months or by days: the mass at the turn of the year and what is carried in and out.
fn stock(kind: &StoredProduce, calendar: &Calendar) -> Vec<Stock> {
    if kind.carried.is_empty() {
        return Stock::of_months(calendar, &kind.mass.map(|mass| mass.value), kind.arrives_at.value);
    }
    let mut carried: Vec<_> = kind.carried.iter().collect();
    // What leaves on a day leaves before anything is carried in.
    let date = |one: &Carried| (one.on.month, one.on.day);
    carried.sort_by(|one, other| {
        date(one).cmp(&date(other)).then(one.change.value.total_cmp(&other.change.value))
    });
    let (turn_kg, last) = (kind.mass[0].value, carried.len() - 1);
    let mut mass_kg = turn_kg;
    let entry = |(index, one): (usize, &Carried)| {
        // The checked calendar closes within rounding; the last entry closes it wholly, and no sum is left below nothing.
        mass_kg = if index == last { turn_kg } else { (mass_kg + one.change.value).max(0.0) };
        Stock { day: one.on.day_of_year(calendar), mass_kg, arrives_k: one.arrives_at.value }
    };
    carried.into_iter().enumerate().map(entry).collect()
}

//! Heat that the cold room takes out of heated rooms: somebody has paid for it once already.

use crate::household::{Beyond, Household};
use crate::plant::{Cause, Plant};
use crate::year::Year;

/// Heat that each month brings out of heated spaces in their heated months, J; `None` where no space is heated.
///
/// Through surfaces `UA (T_space - T_room) t` with the month's means, which is exact: both are linear between instants. With leaking air all of it, where it comes from such a
/// space; through doors all of it, where every door opens to one.
pub fn months_j(household: &Household, plant: &Plant, year: &Year) -> Option<[f64; 12]> {
    let heated = |place: Beyond, month: usize| match place {
        Beyond::Space(index) => household.spaces[index].heated[month],
        Beyond::Outdoors | Beyond::Ground { .. } | Beyond::GroundSlab { .. } | Beyond::ColdRoom => false,
    };
    if !household.spaces.iter().any(|space| space.heated.contains(&true)) {
        return None;
    }
    let room = &household.room;
    let of_month = |month: usize| {
        let interval = &year.months[month];
        if interval.duration_s <= 0.0 {
            return 0.0;
        }
        let hours = year.calendar.month_starts_h[month]..year.calendar.month_starts_h[month + 1];
        let air_k = interval.mean(interval.air_k_s);
        let through = |(surface, described): (&crate::plant::Surface, &crate::household::RoomSurface)| {
            if !heated(described.faces, month) {
                return 0.0;
            }
            let stamps_k = &plant.boundaries[surface.boundary].temperature_k;
            let sum_k: f64 = hours.clone().map(|hour| 0.5 * (stamps_k[hour] + stamps_k[hour + 1])).sum();
            surface.ua_w_per_k * (sum_k / hours.len() as f64 - air_k) * interval.duration_s
        };
        let mut heat_j: f64 = plant.room.surfaces.iter().zip(&room.surfaces).map(through).sum();
        if heated(room.leakage_from, month) {
            heat_j += interval.gain_j[Cause::Leakage as usize];
        }
        if room.doors.iter().all(|door| heated(door.opens_to, month)) {
            heat_j += interval.gain_j[Cause::Doors as usize];
        }
        heat_j
    };
    Some(std::array::from_fn(of_month))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plant::example::household;
    use crate::resolution::Resolution;
    use crate::simulate::simulate_months;
    use approx::assert_relative_eq;

    #[test]
    fn without_a_heated_space_nothing_is_counted() {
        let household = household();
        let plant = Plant::new(&household);
        let year = simulate_months(&plant, &Resolution::default(), 0, 0, &mut ()).expect("it can be run");
        assert_eq!(months_j(&household, &plant, &year), None);
    }

    /// Where every space is heated, and surfaces, doors and leaks face spaces alone, what comes from them is what the year books for those causes.
    #[test]
    fn what_comes_from_heated_spaces_is_what_the_year_books() {
        let mut household = household();
        for space in &mut household.spaces {
            space.heated[0] = true;
        }
        household.room.leakage_from = Beyond::Space(0);
        for door in &mut household.room.doors {
            door.opens_to = Beyond::Space(0);
        }
        let plant = Plant::new(&household);
        let year = simulate_months(&plant, &Resolution::default(), 0, 0, &mut ()).expect("it can be run");
        let months = months_j(&household, &plant, &year).expect("they are heated");
        let gain = |cause: Cause| year.months[0].gain_j[cause as usize];
        let booked = gain(Cause::NeighbourSurfaces) + gain(Cause::Leakage) + gain(Cause::Doors);
        assert_relative_eq!(months[0], booked, max_relative = 1e-9);
        assert_eq!(months[6], 0.0);
    }
}

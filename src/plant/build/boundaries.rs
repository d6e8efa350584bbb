//! What the room and the tank exchange heat with, hour by hour.

use crate::air;
use crate::ground::GroundClimate;
use crate::household::{Beyond, Household, RoomSurface, Seasonal, Space};
use crate::plant::{Boundary, Calendar, DAY_S};
use crate::sun::SunnySide;
use crate::weather::WeatherYear;

/// Boundaries of a plant and the way to find them: outdoor air, then each neighbour space, then each
/// distinct ground, then each distinct outer side with sun on it.
pub(super) struct Boundaries {
    list: Vec<Boundary>,
    spaces: usize,
    /// In the order of their boundaries.
    grounds: Vec<Ground>,
    /// In the order of their boundaries.
    sunny: Vec<SunnySide>,
}

/// A ground that something touches.
#[derive(Clone, Copy, PartialEq)]
enum Ground {
    /// Soil at a depth (m), warmer than undisturbed (K).
    Depth { depth_m: f64, warmer_dk: f64 },
    /// Soil under a floor or beside a wall, as ISO 13370 has it: share of the outdoor swing, and lag in days.
    Slab { share: f64, lag_days: f64 },
}

impl Ground {
    fn of(beyond: Beyond) -> Option<Self> {
        match beyond {
            Beyond::Ground { depth, warmer_by } => {
                Some(Ground::Depth { depth_m: depth.value, warmer_dk: warmer_by.value })
            }
            Beyond::GroundSlab { swing, lag } => {
                Some(Ground::Slab { share: swing.value, lag_days: lag.value / DAY_S })
            }
            Beyond::Outdoors | Beyond::Space(_) | Beyond::ColdRoom => None,
        }
    }

    fn name(self) -> String {
        match self {
            Ground::Depth { depth_m, warmer_dk: 0.0 } => format!("ground at {depth_m:.2} m"),
            Ground::Depth { depth_m, warmer_dk } => format!("ground at {depth_m:.2} m, {warmer_dk:+.1} K"),
            Ground::Slab { share, .. } => {
                format!("ground, {:.0} % swing", 100.0 * share)
            }
        }
    }

    fn hourly_k(self, climate: &GroundClimate, diffusivity_m2_s: f64, calendar: &Calendar) -> Vec<f64> {
        match self {
            Ground::Depth { depth_m, warmer_dk } => {
                let undisturbed_k = climate.hourly_instants_k(depth_m, diffusivity_m2_s, calendar);
                undisturbed_k.into_iter().map(|temperature_k| temperature_k + warmer_dk).collect()
            }
            Ground::Slab { share, lag_days } => climate.hourly_late_swing_k(share, lag_days, calendar),
        }
    }
}

impl Boundaries {
    /// All boundaries of a household; air humidity at the mean pressure where no hour's own is known.
    pub fn new(household: &Household, calendar: &Calendar, pressure_pa: f64) -> Self {
        let grounds = distinct_grounds(household);
        let diffusivity_m2_s = household.site.soil_diffusivity.value;
        let climate = GroundClimate::from_daily_means(&household.weather.daily_mean_dry_bulb_k());
        let outdoors = outdoor_air(&household.weather);
        let spaces: Vec<_> =
            household.spaces.iter().map(|space| neighbour(space, calendar, pressure_pa, &outdoors)).collect();
        let ground = |ground: &Ground| Boundary {
            name: ground.name(),
            temperature_k: ground.hourly_k(&climate, diffusivity_m2_s, calendar),
            humidity_ratio: Vec::new(),
        };
        let sunny = distinct_sunny_sides(household);
        let in_the_sun = sunny.iter().map(|side| Boundary {
            name: side.name(),
            temperature_k: sol_air_k(side, &household.weather),
            humidity_ratio: Vec::new(),
        });
        let list = [outdoors]
            .into_iter()
            .chain(spaces)
            .chain(grounds.iter().map(ground))
            .chain(in_the_sun)
            .collect();
        Self { list, spaces: household.spaces.len(), grounds, sunny }
    }

    /// Place of what a surface of the room exchanges heat with: what it faces, or the sol-air temperature of its outer side.
    pub fn index_of_surface(&self, surface: &RoomSurface) -> usize {
        match surface.sun {
            None => self.index_of(surface.faces),
            Some(side) => {
                let place = self.sunny.iter().position(|known| *known == side);
                1 + self.spaces
                    + self.grounds.len()
                    + place.expect("every sunny side of the household was collected")
            }
        }
    }

    /// Place of what lies beyond a surface, door, leak or the tank's insulation.
    ///
    /// # Panics
    /// For the cold room itself, which is no boundary of its own, and for ground or spaces of another household.
    pub fn index_of(&self, beyond: Beyond) -> usize {
        match beyond {
            Beyond::Outdoors => 0,
            Beyond::Space(space) => 1 + space,
            Beyond::Ground { .. } | Beyond::GroundSlab { .. } => {
                let wanted = Ground::of(beyond);
                let ground = self.grounds.iter().position(|ground| Some(*ground) == wanted);
                1 + self.spaces + ground.expect("every ground of the household was collected")
            }
            Beyond::ColdRoom => {
                unreachable!("the household's check lets nothing but the tank stand in the cold room")
            }
        }
    }

    /// The boundaries themselves, in the order of [`Boundaries::index_of`].
    pub fn into_list(self) -> Vec<Boundary> {
        self.list
    }
}

/// Every ground that something touches, once, in order of first use.
fn distinct_grounds(household: &Household) -> Vec<Ground> {
    let room = &household.room;
    let surfaces = room.surfaces.iter().map(|surface| surface.faces);
    let doors = room.doors.iter().map(|door| door.opens_to);
    let mut grounds = Vec::new();
    for beyond in surfaces.chain(doors).chain([room.leakage_from, household.tank.stands_in]) {
        if let Some(ground) = Ground::of(beyond)
            && !grounds.contains(&ground)
        {
            grounds.push(ground);
        }
    }
    grounds
}

/// Every outer side with sun on it, once, in order of first use.
fn distinct_sunny_sides(household: &Household) -> Vec<SunnySide> {
    let mut sides = Vec::new();
    for side in household.room.surfaces.iter().filter_map(|surface| surface.sun) {
        if !sides.contains(&side) {
            sides.push(side);
        }
    }
    sides
}

/// Outdoor air and what sun and night sky add to it, K, hourly instants.
fn sol_air_k(side: &SunnySide, weather: &WeatherYear) -> Vec<f64> {
    let rise_dk = side
        .hourly_rise_instants_dk(weather)
        .expect("the household's check refuses sun where the weather has no radiation");
    weather.dry_bulb_instants_k().iter().zip(rise_dk).map(|(air_k, rise_dk)| air_k + rise_dk).collect()
}

fn outdoor_air(weather: &WeatherYear) -> Boundary {
    Boundary {
        name: "outdoors".to_owned(),
        temperature_k: weather.dry_bulb_instants_k(),
        humidity_ratio: weather.humidity_ratio_instants(),
    }
}

/// Air of a neighbour space: that of the house, mixed with as much outdoor air as its share says.
///
/// `T = T_house + s (T_out - T_house)`, the humidity ratio likewise; what is above saturation then has condensed.
///
/// # Source
/// From memory, to be verified: ISO 13789, the share is its adjustment factor for an unheated space.
fn neighbour(space: &Space, calendar: &Calendar, pressure_pa: f64, outdoors: &Boundary) -> Boundary {
    let (share, humidity_frac) = (space.outdoor_share.value, space.humidity.value);
    let mixed = |house: f64, outdoors: f64| house + share * (outdoors - house);
    let at = |instant: usize| {
        let house_k = seasonal_k(&space.temperature, calendar, instant as f64);
        let house = air::humidity_ratio_from_relative_humidity(house_k, humidity_frac, pressure_pa);
        if share == 0.0 {
            return (house_k, house);
        }
        let air_k = mixed(house_k, outdoors.temperature_k[instant]);
        let saturated = air::saturation_humidity_ratio_over_water(air_k, pressure_pa);
        (air_k, mixed(house, outdoors.humidity_ratio[instant]).min(saturated))
    };
    let (temperature_k, humidity_ratio) = (0..=calendar.hours()).map(at).unzip();
    Boundary { name: space.name.clone(), temperature_k, humidity_ratio }
}

/// Temperature, K, at an hour of the year from 0 to its length (not necessarily whole).
///
/// Monthly means stand for the middle of their month; between them it is linear, and the year closes on itself.
pub(super) fn seasonal_k(seasonal: &Seasonal, calendar: &Calendar, hour: f64) -> f64 {
    let months = match seasonal {
        Seasonal::Constant(temperature) => return temperature.value,
        Seasonal::Monthly(months) => months,
    };
    let begins = &calendar.month_starts_h;
    let middle_h = |month: usize| 0.5 * (begins[month] + begins[month + 1]) as f64;
    let passed = (0..12).filter(|&month| middle_h(month) <= hour).count();
    let (before, after) = ((passed + 11) % 12, passed % 12);
    let year_h = calendar.hours() as f64;
    let since_h = (hour - middle_h(before)).rem_euclid(year_h);
    let apart_h = (middle_h(after) - middle_h(before)).rem_euclid(year_h);
    let share = since_h / apart_h;
    months[before].value + share * (months[after].value - months[before].value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use uom::si::f64::ThermodynamicTemperature;
    use uom::si::thermodynamic_temperature::kelvin;

    fn monthly() -> Seasonal {
        Seasonal::Monthly(std::array::from_fn(|month| {
            ThermodynamicTemperature::new::<kelvin>(280.0 + (month * month) as f64)
        }))
    }

    #[test]
    fn a_month_has_its_mean_at_its_middle() {
        for leap_year in [false, true] {
            let calendar = Calendar::new(leap_year);
            for month in 0..12 {
                let begins = &calendar.month_starts_h;
                let middle_h = 0.5 * (begins[month] + begins[month + 1]) as f64;
                let value_k = seasonal_k(&monthly(), &calendar, middle_h);
                assert_eq!(value_k, 280.0 + (month * month) as f64);
            }
        }
    }

    #[test]
    fn between_mid_months_it_is_linear_and_the_year_closes() {
        let calendar = Calendar::new(false);
        // Middles of February and March: hours 1080 and 1788 of the year.
        assert_relative_eq!(seasonal_k(&monthly(), &calendar, 1434.0), 282.5, max_relative = 1e-12);
        let year_h = calendar.hours() as f64;
        // January and December have 31 days each, so New Year lies half-way: (280 + 401)/2.
        assert_relative_eq!(seasonal_k(&monthly(), &calendar, 0.0), 340.5, max_relative = 1e-12);
        assert_eq!(seasonal_k(&monthly(), &calendar, 0.0), seasonal_k(&monthly(), &calendar, year_h));
    }
}

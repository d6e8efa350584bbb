//! How much water a planted piece of ground takes: evapotranspiration, plants, soils, ways of watering.

use crate::constants::ZERO_CELSIUS_K;
use crate::weather::{WeatherHour, WeatherYear};
use std::f64::consts::PI;

/// Solar constant, MJ/(m2 min). Source: as [`extraterrestrial_mj_m2`].
const SOLAR_MJ_M2_MIN: f64 = 0.0820;
/// Depth of water that a megajoule on a square metre evaporates, mm. Source: as [`reference_et_hargreaves_mm`].
const MM_PER_MJ_M2: f64 = 0.408;

/// Radiation of a day on level ground above the air, MJ/m2.
///
/// `24 60/pi Gsc dr (ws sin(lat) sin(d) + cos(lat) cos(d) sin(ws))`; 0 in polar night, the whole day in polar day.
///
/// # Arguments
/// - `latitude_deg`: -90 to 90, north positive
/// - `day_of_year`: 1 to 366
///
/// # Source
/// FAO Irrigation and Drainage Paper 56, equations 21 to 25. Second hand: constants and worked examples as given in the tests of open programs; the form of the declination
/// From memory, to be verified (it gives the examples).
pub fn extraterrestrial_mj_m2(latitude_deg: f64, day_of_year: f64) -> f64 {
    let angle = 2.0 * PI * day_of_year / 365.0;
    let nearer = 1.0 + 0.033 * libm::cos(angle);
    let declination = 0.409 * libm::sin(angle - 1.39);
    let latitude = latitude_deg.to_radians();
    let cos_sunset = -libm::tan(latitude) * libm::tan(declination);
    let sunset = libm::acos(cos_sunset.clamp(-1.0, 1.0));
    let through_the_day = sunset * libm::sin(latitude) * libm::sin(declination)
        + libm::cos(latitude) * libm::cos(declination) * libm::sin(sunset);
    24.0 * 60.0 / PI * SOLAR_MJ_M2_MIN * nearer * through_the_day
}

/// Water that a meadow which lacks none evaporates in a day, mm, after Hargreaves: `0.0023 (Tmean + 17.8) sqrt(Tmax - Tmin) Ra`.
///
/// 0 where the mean is below -17.8 °C.
///
/// # Arguments
/// - `highest_k`, `lowest_k`: of the day's air; their mean is taken as the day's
/// - `extraterrestrial_mj_m2`: radiation above the air, see [`extraterrestrial_mj_m2`]
///
/// # Source
/// FAO Irrigation and Drainage Paper 56, equation 52. Second hand: as given in the tests of open programs. Against the combination method it may err by a fifth for a single place.
pub fn reference_et_hargreaves_mm(highest_k: f64, lowest_k: f64, extraterrestrial_mj_m2: f64) -> f64 {
    let mean_degc = 0.5 * (highest_k + lowest_k) - ZERO_CELSIUS_K;
    let range_dk = (highest_k - lowest_k).max(0.0);
    (0.0023 * (mean_degc + 17.8) * range_dk.sqrt() * MM_PER_MJ_M2 * extraterrestrial_mj_m2).max(0.0)
}

/// Part of a month's rain that roots can use, mm: 0.6 P - 10 up to 70 mm, 0.8 P - 24 above.
///
/// # Source
/// FAO's formula of dependable rain. From memory, to be verified. It counts 4 rainy years in 5.
pub fn effective_rain_mm(month_mm: f64) -> f64 {
    let used = if month_mm <= 70.0 { 0.6 * month_mm - 10.0 } else { 0.8 * month_mm - 24.0 };
    used.max(0.0)
}

/// How much drier roots become each day of the year, mm: what plants and sun take less the rain that roots can use, which is
/// spread evenly over its month. Negative where it rains more.
///
/// # Arguments
/// - `month_starts_h`: hour at which each month starts, and the end of the year
/// - `rain_mm`: rain of each month; `None` counts none
/// - `crop_coefficient`: see [`Plants`]
pub fn drying_mm(
    weather: &WeatherYear,
    month_starts_h: [usize; 13],
    rain_mm: Option<[f64; 12]>,
    crop_coefficient: f64,
) -> Vec<f64> {
    const DAY_H: usize = 24;
    let rain_mm_day = |day: usize| {
        let month = (1..12).take_while(|&month| month_starts_h[month] <= day * DAY_H).count();
        let days = (month_starts_h[month + 1] - month_starts_h[month]) / DAY_H;
        rain_mm.map_or(0.0, |rain_mm| effective_rain_mm(rain_mm[month]) / days as f64)
    };
    let day = |(index, hours): (usize, &[WeatherHour])| {
        let [lowest_k, highest_k] =
            hours.iter().fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], hour| {
                [low.min(hour.dry_bulb_k), high.max(hour.dry_bulb_k)]
            });
        let radiation = extraterrestrial_mj_m2(weather.latitude_deg, (index + 1) as f64);
        crop_coefficient * reference_et_hargreaves_mm(highest_k, lowest_k, radiation) - rain_mm_day(index)
    };
    weather.hours.chunks(DAY_H).enumerate().map(day).collect()
}

/// What grows there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plants {
    /// Its word in a scenario.
    pub name: &'static str,
    /// Evapotranspiration in full leaf over that of the meadow.
    pub crop_coefficient: f64,
    /// Depth from which roots take water, m.
    pub root_depth_m: f64,
    /// Share of the soil's water that may be used up before the plants suffer.
    pub readily_frac: f64,
}

/// Plants that a scenario may name.
///
/// # Source
/// Crop coefficient of lawns: FAO 56, table 12, middle of the season. Second hand: two pages. Other coefficients, depths and shares: FAO 56, tables 12 and 22, From memory, to
/// be verified; depths at the shallow end.
pub const PLANTS: [Plants; 5] = [
    Plants { name: "cool-season lawn", crop_coefficient: 0.95, root_depth_m: 0.3, readily_frac: 0.40 },
    Plants { name: "warm-season lawn", crop_coefficient: 0.85, root_depth_m: 0.3, readily_frac: 0.50 },
    Plants { name: "vegetable beds", crop_coefficient: 1.05, root_depth_m: 0.3, readily_frac: 0.35 },
    Plants { name: "berry bushes", crop_coefficient: 1.05, root_depth_m: 0.6, readily_frac: 0.50 },
    Plants { name: "fruit trees", crop_coefficient: 0.95, root_depth_m: 1.0, readily_frac: 0.50 },
];

/// A kind of soil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Soil {
    /// Its word in a scenario.
    pub name: &'static str,
    /// Water that it holds for roots, share of its volume.
    pub holds_frac: f64,
    /// Slowest rate at which it takes in water for long, mm/h.
    pub intake_mm_h: f64,
}

/// Soils that a scenario may name, the coarse ones first.
///
/// # Source
/// Intake: lower ends of FAO's Irrigation Water Management training manual, annex 2 (sand 30, sandy loam 20, loam 10, clay loam 5, clay 1 mm/h). Second hand: two pages. What they hold: FAO
/// 56, table 19, middle of the ranges, From memory, to be verified.
pub const SOILS: [Soil; 5] = [
    Soil { name: "sand", holds_frac: 0.08, intake_mm_h: 30.0 },
    Soil { name: "sandy loam", holds_frac: 0.13, intake_mm_h: 20.0 },
    Soil { name: "loam", holds_frac: 0.155, intake_mm_h: 10.0 },
    Soil { name: "clay loam", holds_frac: 0.155, intake_mm_h: 5.0 },
    Soil { name: "clay", holds_frac: 0.16, intake_mm_h: 1.0 },
];

/// Share of a soil's intake rate that is left on a slope.
///
/// # Arguments
/// slope_frac: rise over run, 0 or more.
///
/// # Source
/// Steps of irrigation handbooks for the rate at which sprinklers may give water on slopes of 5, 8, 12 and 20 %: a fifth, two fifths, three fifths and three quarters less.
/// From memory, to be verified.
pub fn intake_left_on_slope(slope_frac: f64) -> f64 {
    const STEPS: [(f64, f64); 4] = [(0.05, 1.0), (0.08, 0.8), (0.12, 0.6), (0.20, 0.4)];
    const STEEPER: f64 = 0.25;
    STEPS.iter().find(|(to, _)| slope_frac <= *to).map_or(STEEPER, |(_, left)| *left)
}

/// A way of watering.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Watering {
    /// Its word in a scenario.
    pub name: &'static str,
    /// Share of the water that reaches the roots.
    pub used_frac: f64,
}

/// Ways of watering that a scenario may name.
///
/// # Source
/// Data of a national irrigation-advice service. Second hand.
pub const WATERINGS: [Watering; 4] = [
    Watering { name: "open hose", used_frac: 0.60 },
    Watering { name: "sprinkler", used_frac: 0.75 },
    Watering { name: "micro-sprinkler", used_frac: 0.80 },
    Watering { name: "drip", used_frac: 0.90 },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn polar_night_has_no_radiation_and_polar_day_is_finite() {
        assert!(extraterrestrial_mj_m2(80.0, 355.0).abs() < 1e-12);
        let noon_all_day = extraterrestrial_mj_m2(90.0, 172.0);
        assert!((40.0..46.0).contains(&noon_all_day), "{noon_all_day}");
    }

    #[test]
    fn steeper_ground_never_takes_in_more() {
        let left: Vec<f64> =
            (0..60).map(|percent| intake_left_on_slope(f64::from(percent) / 100.0)).collect();
        assert!(left.windows(2).all(|pair| pair[1] <= pair[0]), "{left:?}");
        assert_eq!((left[5], left[6], left[20], left[21]), (1.0, 0.8, 0.4, 0.25));
    }

    #[test]
    fn deep_frost_evaporates_nothing() {
        assert_eq!(reference_et_hargreaves_mm(250.0, 240.0, 10.0), 0.0);
    }

    #[test]
    fn effective_rain_is_continuous_and_never_more_than_fell() {
        assert!((effective_rain_mm(70.0) - effective_rain_mm(70.0 + 1e-9)).abs() < 1e-8);
        for step in 0..400 {
            let rain = f64::from(step);
            assert!((0.0..=rain).contains(&effective_rain_mm(rain)));
        }
    }
}

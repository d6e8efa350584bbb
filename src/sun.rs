//! Sun and night sky on the outer side of a wall or roof, as a rise of the outdoor air that would bring the same heat.
//!
//! Direct and diffuse radiation come from the weather year; where the sun stands comes from the crate `solar-positioning`. All of it is
//! calculated once, when the plant is made.

use std::f64::consts::PI;

use solar_positioning::time::JulianDate;
use solar_positioning::{Location, SolarPositions, delta_t};

use crate::weather::{WeatherHour, WeatherYear};

/// Share of the sun that outer sides of a color take up.
///
/// # Source
/// Derived here: absorptance over the outer coefficient is 0.15 (light) and 0.30 (dark) h ft2 °F/Btu, ASHRAE Handbook Fundamentals, sol-air
/// temperature (second hand: a public slide set); the coefficient there is 3.0 Btu/(h ft2 °F) (from memory, to be verified). Medium is halfway.
pub const ABSORPTANCES: [(&str, f64); 3] = [("light", 0.45), ("medium", 0.675), ("dark", 0.90)];

/// Share of the sun that a color takes up, fraction; `None` for a color without one.
pub fn absorptance_of(color: &str) -> Option<f64> {
    ABSORPTANCES.iter().find(|(name, _)| *name == color).map(|(_, absorptance)| *absorptance)
}

/// Heat that a level surface loses to a clear sky over what it exchanges with the air, W/m2.
///
/// # Source
/// ASHRAE Handbook Fundamentals, sol-air temperature: 63 W/m2, or 4 K at 17 W/m2K; 0 for an upright wall, before which warm ground makes up for it.
/// Second hand: a public text that cites it. Under cloud it is less.
pub const SKY_LOSS_LEVEL_W_M2: f64 = 63.0;

/// Radiation of the sun outside the air on a plane square to it, at the mean distance, W/m2.
///
/// # Source
/// Kopp and Lean 2011: 1361. From memory, to be verified. It only splits the diffuse light.
const SOLAR_CONSTANT_W_M2: f64 = 1361.0;
/// By what share it is more in January and less in July.
///
/// # Source
/// Duffie and Beckman, Solar Engineering of Thermal Processes, equation 1.4.1a: 0.033. From memory, to be verified.
const DISTANCE_SWING_FRAC: f64 = 0.033;
/// Lowest cosine of the zenith angle that light around the sun is turned with: the sun 1° above the horizon.
///
/// # Source
/// Second hand: as in an open solar library.
const LEAST_COS_ZENITH: f64 = 0.01745;

/// Equal parts of an hour in the middle of which the sun is looked up.
const PARTS_OF_AN_HOUR: u32 = 4;
/// Julian dates of 1 January 0:00 universal time of the years that stand for a common and for a leap year: 2011 and 2012.
/// A typical year has months of many years; from year to year the sun stands up to 0.2° otherwise on the same day.
const JULIAN_NEW_YEAR: [f64; 2] = [2_455_562.5, 2_455_927.5];
/// The middle of those years.
const YEAR_OF_DELTA_T: f64 = 2012.0;

/// Direction, color and surroundings of an outer side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunnySide {
    /// Compass direction that it looks to, degrees clockwise from north, 0 to 360.
    pub azimuth_deg: f64,
    /// Slope from level, degrees: 90 an upright wall, 0 a flat roof.
    pub slope_deg: f64,
    /// Share of the sun that it takes up, fraction.
    pub absorptance_frac: f64,
    /// Share of the sun that the ground before it throws back, fraction.
    pub ground_reflects_frac: f64,
    /// Share of the direct beam that is kept off, fraction.
    pub shade_frac: f64,
    /// Resistance of the air at it, m2 K/W.
    pub film_m2_k_per_w: f64,
}

/// Where the sun stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunPosition {
    /// Angle from straight up, degrees.
    pub zenith_deg: f64,
    /// Compass direction, degrees clockwise from north.
    pub azimuth_deg: f64,
}

/// Where the sun stands over a place.
///
/// # Arguments
/// - latitude_deg, longitude_deg: north and east positive.
/// - leap_year: whether the year has 366 days.
/// - hour_ut: universal time since 1 January 0:00, h; a day before the year or after it does no harm.
/// # Panics
/// With coordinates that are none: the readers of weather files and tables let none through.
/// # Source
/// R. Grena, Five new algorithms for the computation of sun position from 2010 to 2110, Solar Energy 86, 2012: within 0.01°. Second hand: the crate
/// that carries it out. Without refraction.
pub fn sun_position_grena(
    latitude_deg: f64,
    longitude_deg: f64,
    leap_year: bool,
    hour_ut: f64,
) -> SunPosition {
    let delta_t_s =
        delta_t::estimate(YEAR_OF_DELTA_T).expect("the year is one that the estimate is made for");
    let julian = JULIAN_NEW_YEAR[usize::from(leap_year)] + hour_ut / 24.0;
    let place = Location { latitude: latitude_deg, longitude: longitude_deg };
    let position = JulianDate::new(julian, delta_t_s)
        .and_then(|time| SolarPositions::grena3().at_from_julian(time, place, 0.0, None))
        .expect("coordinates were checked when they were read, and the years are within the formula's");
    SunPosition { zenith_deg: position.zenith_angle(), azimuth_deg: position.azimuth() }
}

/// Radiation of an hour and the sun's cosines over its sunlit part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunlitHour {
    /// Direct radiation square to the sun, W/m2.
    pub direct_w_m2: f64,
    /// Diffuse radiation on level ground, W/m2.
    pub diffuse_w_m2: f64,
    /// Radiation square to the sun outside the air, W/m2, above 0.
    pub outside_air_w_m2: f64,
    /// Mean cosine of the zenith angle; 0 while the sun is down.
    pub cos_zenith: f64,
    /// Mean cosine of the angle at which the sun meets the plane; 0 where it is behind it or down.
    pub cos_incidence: f64,
}

impl SunnySide {
    /// Cosine of the angle at which the sun meets the plane, 0 where it is behind it.
    ///
    /// `cos Z cos s + sin Z sin s cos(A - A_plane)`. Derived here: the product of two unit vectors.
    pub fn cos_incidence(&self, sun: SunPosition) -> f64 {
        let (zenith, slope) = (sun.zenith_deg.to_radians(), self.slope_deg.to_radians());
        let turned = (sun.azimuth_deg - self.azimuth_deg).to_radians();
        let level = libm::cos(zenith) * libm::cos(slope);
        (level + libm::sin(zenith) * libm::sin(slope) * libm::cos(turned)).max(0.0)
    }

    /// Radiation on the plane, W/m2.
    ///
    /// Direct `b cos i`, sky `d (a r + (1 - a)(1 + cos s)/2)` with a = b over the radiation outside the air and r = cos i/cos Z, ground
    /// `rho (b cos Z + d)(1 - cos s)/2`. Shade takes its share of the direct beam and of the light around the sun (`a r`).
    ///
    /// # Source
    /// J. E. Hay and J. A. Davies, Calculations of the solar radiation incident on an inclined surface, 1980; the ground after Liu and Jordan 1963. Second
    /// hand: an open solar library.
    pub fn radiation_hay_davies_w_m2(&self, hour: &SunlitHour) -> f64 {
        let cos_slope = libm::cos(self.slope_deg.to_radians());
        let (direct, diffuse) = (hour.direct_w_m2, hour.diffuse_w_m2);
        // A file's direct light may pass that outside the air by its rounding; the diffuse light has no negative part.
        let around_sun = if hour.cos_zenith > 0.0 { (direct / hour.outside_air_w_m2).min(1.0) } else { 0.0 };
        let turned = hour.cos_incidence / hour.cos_zenith.max(LEAST_COS_ZENITH);
        let beam = direct * hour.cos_incidence + diffuse * around_sun * turned;
        let dome = diffuse * (1.0 - around_sun) * 0.5 * (1.0 + cos_slope);
        let level = direct * hour.cos_zenith + diffuse;
        let ground = self.ground_reflects_frac * level * 0.5 * (1.0 - cos_slope);
        (1.0 - self.shade_frac) * beam + dome + ground
    }

    /// How much warmer the outdoor air would have to be to bring the same heat, K; negative under a clear night sky.
    ///
    /// `R_se (a E - 63 W/m2 cos s)`: sol-air less outdoor temperature; the sky's part goes from level to upright with the cosine.
    ///
    /// # Arguments
    /// radiation on the plane, W/m2.
    /// # Source
    /// ASHRAE Handbook Fundamentals, sol-air temperature `t_o + a E/h_o - e dR/h_o`. Second hand: a public text that cites it. Derived here: the cosine between its two values.
    pub fn sol_air_rise_dk(&self, radiation_w_m2: f64) -> f64 {
        let sky_w_m2 = SKY_LOSS_LEVEL_W_M2 * libm::cos(self.slope_deg.to_radians());
        self.film_m2_k_per_w * (self.absorptance_frac * radiation_w_m2 - sky_w_m2)
    }

    /// [`SunnySide::sol_air_rise_dk`] at every hour of the year: `hours + 1` instants, the last equal to the first; `None` if an hour has no direct or
    /// diffuse radiation.
    ///
    /// A file's radiation is the mean of an hour. An instant takes the mean of the hours before and after it, so that the year keeps its sum.
    pub fn hourly_rise_instants_dk(&self, weather: &WeatherYear) -> Option<Vec<f64>> {
        let means: Vec<f64> = self
            .hourly_radiation_w_m2(weather)?
            .into_iter()
            .map(|radiation| self.sol_air_rise_dk(radiation))
            .collect();
        let hours = means.len();
        let instant = |at: usize| 0.5 * (means[(at + hours - 1) % hours] + means[at % hours]);
        Some((0..=hours).map(instant).collect())
    }

    /// Mean radiation on the plane of every hour of the year, W/m2; `None` if an hour has no direct or diffuse radiation.
    pub fn hourly_radiation_w_m2(&self, weather: &WeatherYear) -> Option<Vec<f64>> {
        let mean_of_hour = |(hour, air): (usize, &WeatherHour)| {
            let sunlit = self.sunlit_hour(weather, hour, air.direct_w_m2?, air.diffuse_w_m2?);
            Some(self.radiation_hay_davies_w_m2(&sunlit))
        };
        weather.hours.iter().enumerate().map(mean_of_hour).collect()
    }

    fn sunlit_hour(
        &self,
        weather: &WeatherYear,
        hour: usize,
        direct_w_m2: f64,
        diffuse_w_m2: f64,
    ) -> SunlitHour {
        let days = weather.hours.len() as f64 / 24.0;
        let season = libm::cos(2.0 * PI * (hour as f64 / 24.0) / days);
        let outside_air_w_m2 = SOLAR_CONSTANT_W_M2 * (1.0 + DISTANCE_SWING_FRAC * season);
        let (mut sunlit, mut cos_zenith, mut cos_incidence) = (0.0, 0.0, 0.0);
        // Most hours without light are night.
        if direct_w_m2 > 0.0 || diffuse_w_m2 > 0.0 {
            for part in 0..PARTS_OF_AN_HOUR {
                let middle_h = (f64::from(part) + 0.5) / f64::from(PARTS_OF_AN_HOUR);
                let hour_ut = hour as f64 + middle_h - weather.utc_offset_h;
                let sun = sun_position_grena(
                    weather.latitude_deg,
                    weather.longitude_deg,
                    weather.leap_year,
                    hour_ut,
                );
                if sun.zenith_deg < 90.0 {
                    sunlit += 1.0;
                    cos_zenith += libm::cos(sun.zenith_deg.to_radians());
                    cos_incidence += self.cos_incidence(sun);
                }
            }
        }
        // The hour's direct light fell while the sun was up: its cosines are the means over that part.
        let mean = |sum: f64| if sunlit > 0.0 { sum / sunlit } else { 0.0 };
        SunlitHour {
            direct_w_m2,
            diffuse_w_m2,
            outside_air_w_m2,
            cos_zenith: mean(cos_zenith),
            cos_incidence: mean(cos_incidence),
        }
    }

    /// What it is called beside other surroundings.
    pub fn name(&self) -> String {
        if self.slope_deg == 0.0 {
            return "sun and sky from above".to_owned();
        }
        format!("sun from {:.0}°, slope {:.0}°", self.azimuth_deg, self.slope_deg)
    }
}

impl WeatherYear {
    /// Hours without direct or without diffuse radiation.
    pub fn hours_without_radiation(&self) -> usize {
        self.hours.iter().filter(|air| air.direct_w_m2.is_none() || air.diffuse_w_m2.is_none()).count()
    }
}

//! Moist air: saturation, humidity ratio, enthalpy and density.
//!
//! Temperatures are kelvin, pressures pascal, humidity ratios kg of water per kg of dry air, relative
//! humidities fractions over liquid water at every temperature (the convention of weather stations).
//! Air and vapour are ideal gases; without the enhancement factor of real air the humidity ratio at
//! saturation comes out 0.4 to 0.5 % low between -5 and 25 °C, against the handbook's table of saturated air.
//!
//! # Source
//! ASHRAE Handbook Fundamentals 2017, chapter 1: saturation pressures equations 5 and 6 (the
//! Hyland and Wexler 1983 formulation), standard atmosphere equation 3, humidity ratio equation 20,
//! specific volume equation 26, enthalpy equation 30. Second hand: the equations as given in an open
//! psychrometric library that numbers them.

use crate::constants::{DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K, VAPOUR_SPECIFIC_HEAT_J_PER_KG_K, ZERO_CELSIUS_K};

/// Molar mass of water over that of dry air. Source: as the module, 18.015268/28.966.
pub const VAPOUR_TO_AIR_MOLAR_MASS: f64 = 0.621_945;

/// Gas constant of dry air, J/(kg K). Source: as the module, 8314.472/28.966.
pub const DRY_AIR_GAS_CONSTANT_J_PER_KG_K: f64 = 287.042;

/// Enthalpy of vapour at 0 °C over liquid water at 0 °C, J/kg. Source: as the module, equation 30.
pub const VAPOUR_ENTHALPY_AT_ZERO_J_PER_KG: f64 = 2.501e6;

/// Pressure of the standard atmosphere at sea level, Pa. Source: as the module, equation 3.
pub const SEA_LEVEL_PRESSURE_PA: f64 = 101_325.0;

/// Lowest temperature of the formulation over ice, K (-100 °C). The one over water, published for
/// 0 to 200 °C, is used below 0 °C for undercooled water, as weather stations do.
pub const COLDEST_SATURATION_K: f64 = ZERO_CELSIUS_K - 100.0;

/// Highest temperature of the formulation over water, K (200 °C).
pub const WARMEST_SATURATION_K: f64 = ZERO_CELSIUS_K + 200.0;

/// Elevations of the standard-atmosphere equation, m.
pub const STANDARD_ELEVATIONS_M: [f64; 2] = [-5000.0, 11_000.0];

/// Pressure of vapour in equilibrium with a flat surface of what is there at that temperature: ice
/// below 0 °C, water from 0 °C up, Pa.
///
/// Between the two forms lies a step of 0.01 % at 0 °C.
///
/// # Valid for
/// [`COLDEST_SATURATION_K`] to [`WARMEST_SATURATION_K`].
///
/// # Source
/// Module head, equations 5 and 6. Second hand: as given there.
pub fn saturation_pressure_pa(temperature_k: f64) -> f64 {
    if temperature_k < ZERO_CELSIUS_K {
        saturation_pressure_over_ice_pa(temperature_k)
    } else {
        saturation_pressure_over_water_pa(temperature_k)
    }
}

/// Pressure of vapour in equilibrium with liquid water, undercooled below 0 °C, Pa.
///
/// `ln p = C8/T + C9 + C10 T + C11 T2 + C12 T3 + C13 ln T`
///
/// # Valid for
/// 0 to 200 °C as published; below 0 °C by extension, as dew points of weather stations are meant.
///
/// # Source
/// Module head, equation 6. Second hand: as given there.
pub fn saturation_pressure_over_water_pa(temperature_k: f64) -> f64 {
    const C8: f64 = -5.800_220_6e3;
    const C9: f64 = 1.391_499_3;
    const C10: f64 = -4.864_023_9e-2;
    const C11: f64 = 4.176_476_8e-5;
    const C12: f64 = -1.445_209_3e-8;
    const C13: f64 = 6.545_967_3;
    let t = temperature_k;
    libm::exp(C8 / t + C9 + t * (C10 + t * (C11 + t * C12)) + C13 * libm::log(t))
}

/// Pressure of vapour in equilibrium with ice, Pa.
///
/// `ln p = C1/T + C2 + C3 T + C4 T2 + C5 T3 + C6 T4 + C7 ln T`
///
/// # Valid for
/// -100 to 0 °C.
///
/// # Source
/// Module head, equation 5. Second hand: as given there.
pub fn saturation_pressure_over_ice_pa(temperature_k: f64) -> f64 {
    const C1: f64 = -5.674_535_9e3;
    const C2: f64 = 6.392_524_7;
    const C3: f64 = -9.677_843e-3;
    const C4: f64 = 6.221_570_1e-7;
    const C5: f64 = 2.074_782_5e-9;
    const C6: f64 = -9.484_024e-13;
    const C7: f64 = 4.163_501_9;
    let t = temperature_k;
    libm::exp(C1 / t + C2 + t * (C3 + t * (C4 + t * (C5 + t * C6))) + C7 * libm::log(t))
}

/// [`saturation_pressure_pa`] by polynomials in °C where they hold, Pa: a few multiplications instead
/// of a logarithm and an exponential.
///
/// Errs by at most 0.001 % over water (0 to 45 °C) and 0.006 % over ice (-30 to 0 °C) against the
/// published forms, which are used outside those ranges.
///
/// # Source
/// Derived here: polynomials of least greatest relative error through the published forms.
pub fn saturation_pressure_fast_pa(temperature_k: f64) -> f64 {
    const ICE: [f64; 6] = [
        611.120_204_671_913_4,
        50.273_132_334_112_88,
        1.870_048_325_898_453_5,
        4.031_237_095_621_026e-2,
        5.109_354_277_964_155e-4,
        3.019_745_142_603_322_6e-6,
    ];
    const COLDEST_K: f64 = ZERO_CELSIUS_K - 30.0;
    if temperature_k >= ZERO_CELSIUS_K {
        saturation_pressure_over_water_fast_pa(temperature_k)
    } else if temperature_k >= COLDEST_K {
        polynomial(&ICE, temperature_k - ZERO_CELSIUS_K)
    } else {
        saturation_pressure_over_ice_pa(temperature_k)
    }
}

/// [`saturation_pressure_over_water_pa`] by a polynomial in °C from -20 to 45 °C, Pa.
///
/// Errs by at most 0.001 % against the published form, which is used outside that range.
///
/// # Source
/// Derived here: polynomial of least greatest relative error through the published form.
pub fn saturation_pressure_over_water_fast_pa(temperature_k: f64) -> f64 {
    const WATER: [f64; 7] = [
        611.216_826_114_974_9,
        44.401_193_846_161_93,
        1.430_144_296_843_977_3,
        2.649_245_521_708_457_8e-2,
        3.036_653_195_026_167_5e-4,
        2.071_094_525_606_536e-6,
        5.596_290_723_642_435e-9,
    ];
    const COLDEST_K: f64 = ZERO_CELSIUS_K - 20.0;
    const WARMEST_K: f64 = ZERO_CELSIUS_K + 45.0;
    if (COLDEST_K..=WARMEST_K).contains(&temperature_k) {
        polynomial(&WATER, temperature_k - ZERO_CELSIUS_K)
    } else {
        saturation_pressure_over_water_pa(temperature_k)
    }
}

/// Sum of `coefficients[i] x^i`.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, coefficient| sum * x + coefficient)
}

/// Humidity ratio of air in which the vapour has a pressure, kg/kg.
///
/// `W = 0.621945 pv/(p - pv)`. The vapour's pressure must be below that of the air.
///
/// # Source
/// Module head, equation 20. Second hand: as given there.
pub fn humidity_ratio_from_vapour_pressure(vapour_pa: f64, pressure_pa: f64) -> f64 {
    VAPOUR_TO_AIR_MOLAR_MASS * vapour_pa / (pressure_pa - vapour_pa)
}

/// Pressure of the vapour in air of a humidity ratio, Pa: the inverse of
/// [`humidity_ratio_from_vapour_pressure`].
///
/// # Source
/// As there.
pub fn vapour_pressure_pa(humidity_ratio: f64, pressure_pa: f64) -> f64 {
    humidity_ratio * pressure_pa / (VAPOUR_TO_AIR_MOLAR_MASS + humidity_ratio)
}

/// Humidity ratio of air saturated over ice (below 0 °C) or water, kg/kg.
pub fn saturation_humidity_ratio(temperature_k: f64, pressure_pa: f64) -> f64 {
    humidity_ratio_from_vapour_pressure(saturation_pressure_pa(temperature_k), pressure_pa)
}

/// Humidity ratio of air saturated over liquid water at any temperature, kg/kg.
pub fn saturation_humidity_ratio_over_water(temperature_k: f64, pressure_pa: f64) -> f64 {
    humidity_ratio_from_vapour_pressure(saturation_pressure_over_water_pa(temperature_k), pressure_pa)
}

/// Humidity ratio of air of a temperature and a relative humidity (fraction, over water), kg/kg.
pub fn humidity_ratio_from_relative_humidity(
    temperature_k: f64,
    relative_humidity_frac: f64,
    pressure_pa: f64,
) -> f64 {
    let vapour_pa = relative_humidity_frac * saturation_pressure_over_water_pa(temperature_k);
    humidity_ratio_from_vapour_pressure(vapour_pa, pressure_pa)
}

/// Humidity ratio of air of a dew point over water, kg/kg; what weather files give below 0 °C too.
pub fn humidity_ratio_from_dew_point(dew_point_k: f64, pressure_pa: f64) -> f64 {
    saturation_humidity_ratio_over_water(dew_point_k, pressure_pa)
}

/// Relative humidity over water of air of a temperature and a humidity ratio, fraction; above 1 when
/// the air is oversaturated.
pub fn relative_humidity_frac(temperature_k: f64, humidity_ratio: f64, pressure_pa: f64) -> f64 {
    vapour_pressure_pa(humidity_ratio, pressure_pa) / saturation_pressure_over_water_pa(temperature_k)
}

/// Temperature of a surface at which vapour begins to settle, as frost below 0 °C, K.
///
/// The inverse of [`saturation_pressure_pa`]; a pressure inside that function's step at 0 °C gives 0 °C.
///
/// # Returns
/// `None` where no such temperature lies within -100 to 200 °C: dry air has no dew point.
pub fn dew_point_k(vapour_pa: f64) -> Option<f64> {
    if vapour_pa >= saturation_pressure_over_water_pa(ZERO_CELSIUS_K) {
        return dew_point_over_water_k(vapour_pa);
    }
    if vapour_pa >= saturation_pressure_over_ice_pa(ZERO_CELSIUS_K) {
        return Some(ZERO_CELSIUS_K);
    }
    saturation_temperature_k(vapour_pa, saturation_pressure_over_ice_pa)
}

/// Dew point over water at any temperature, K: the dew point that weather stations report.
///
/// The inverse of [`saturation_pressure_over_water_pa`].
///
/// # Returns
/// `None` where no such temperature lies within -100 to 200 °C.
pub fn dew_point_over_water_k(vapour_pa: f64) -> Option<f64> {
    saturation_temperature_k(vapour_pa, saturation_pressure_over_water_pa)
}

/// Temperature at which a rising saturation curve has a pressure, K, by bisection.
///
/// Fifty halvings of 300 K leave nothing that a double could show; the inverse is not for the loop
/// over the year, so certainty is worth more than speed.
fn saturation_temperature_k(vapour_pa: f64, saturation_pa: fn(f64) -> f64) -> Option<f64> {
    const HALVINGS: usize = 50;
    let (mut low_k, mut high_k) = (COLDEST_SATURATION_K, WARMEST_SATURATION_K);
    if !(saturation_pa(low_k)..=saturation_pa(high_k)).contains(&vapour_pa) {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle_k = 0.5 * (low_k + high_k);
        if saturation_pa(middle_k) < vapour_pa {
            low_k = middle_k;
        } else {
            high_k = middle_k;
        }
    }
    Some(0.5 * (low_k + high_k))
}

/// Enthalpy of moist air per kg of dry air, J/kg, zero for dry air and liquid water at 0 °C.
///
/// `h = 1.006 t + W (2501 + 1.86 t)` in kJ/kg and °C.
///
/// # Source
/// Module head, equation 30. Second hand: as given there.
pub fn enthalpy_j_per_kg(temperature_k: f64, humidity_ratio: f64) -> f64 {
    let t = temperature_k - ZERO_CELSIUS_K;
    DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K * t
        + humidity_ratio * (VAPOUR_ENTHALPY_AT_ZERO_J_PER_KG + VAPOUR_SPECIFIC_HEAT_J_PER_KG_K * t)
}

/// Humidity ratio of air whose dry and thermodynamic wet bulb are known, kg per kg dry air; wet bulb at or above 0 °C.
///
/// `W = ((2501 - 2.326 t*) Ws* - 1.006 (t - t*))/(2501 + 1.86 t - 4.186 t*)` in kJ/kg and °C.
///
/// # Source
/// Module head, equation 33. Second hand: as given there.
pub fn humidity_ratio_from_wet_bulb(dry_bulb_k: f64, wet_bulb_k: f64, pressure_pa: f64) -> f64 {
    let (dry, wet) = (dry_bulb_k - ZERO_CELSIUS_K, wet_bulb_k - ZERO_CELSIUS_K);
    let saturated = saturation_humidity_ratio_over_water(wet_bulb_k, pressure_pa);
    ((2501.0 - 2.326 * wet) * saturated - 1.006 * (dry - wet)) / (2501.0 + 1.86 * dry - 4.186 * wet)
}

/// Mass of dry air in a cubic metre of moist air, kg/m3.
///
/// `p/(R T (1 + W/0.621945))`, the inverse of the handbook's specific volume.
///
/// # Source
/// Module head, equation 26. Second hand: as given there.
pub fn dry_air_density_kg_m3(temperature_k: f64, humidity_ratio: f64, pressure_pa: f64) -> f64 {
    pressure_pa
        / (DRY_AIR_GAS_CONSTANT_J_PER_KG_K
            * temperature_k
            * (1.0 + humidity_ratio / VAPOUR_TO_AIR_MOLAR_MASS))
}

/// Mass of a cubic metre of moist air, vapour included, kg/m3.
pub fn moist_air_density_kg_m3(temperature_k: f64, humidity_ratio: f64, pressure_pa: f64) -> f64 {
    (1.0 + humidity_ratio) * dry_air_density_kg_m3(temperature_k, humidity_ratio, pressure_pa)
}

/// Air pressure of the standard atmosphere at an elevation above sea level, Pa.
///
/// `p = 101325 (1 - 2.25577e-5 z)^5.2559`
///
/// # Returns
/// `None` outside [`STANDARD_ELEVATIONS_M`].
///
/// # Source
/// Module head, equation 3. Second hand: as given there.
pub fn standard_pressure_pa(elevation_m: f64) -> Option<f64> {
    let [lowest_m, highest_m] = STANDARD_ELEVATIONS_M;
    (lowest_m..=highest_m)
        .contains(&elevation_m)
        .then(|| SEA_LEVEL_PRESSURE_PA * libm::pow(1.0 - 2.25577e-5 * elevation_m, 5.2559))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::{assert_abs_diff_eq, assert_relative_eq};

    fn kelvin(degc: f64) -> f64 {
        degc + ZERO_CELSIUS_K
    }

    #[test]
    fn the_fast_forms_keep_their_stated_error() {
        for tenth in -600..=900 {
            let t = kelvin(f64::from(tenth) * 0.1);
            let (fast, full) = (saturation_pressure_fast_pa(t), saturation_pressure_pa(t));
            let allowed = if t < ZERO_CELSIUS_K { 6e-5 } else { 1e-5 };
            assert_relative_eq!(fast, full, max_relative = allowed);
            assert_relative_eq!(
                saturation_pressure_over_water_fast_pa(t),
                saturation_pressure_over_water_pa(t),
                max_relative = 1e-5
            );
        }
    }

    #[test]
    fn every_saturation_form_rises_with_temperature() {
        let forms = [
            saturation_pressure_pa,
            saturation_pressure_fast_pa,
            saturation_pressure_over_water_pa,
            saturation_pressure_over_water_fast_pa,
        ];
        for form in forms {
            for hundredth in -10_000..20_000 {
                let t = f64::from(hundredth) * 0.01;
                assert!(form(kelvin(t)) < form(kelvin(t + 0.01)), "not rising at {t}");
            }
        }
    }

    #[test]
    fn dew_points_invert_the_saturation_pressures() {
        // Fifty halvings leave 3e-13 K; the rest is rounding.
        for t in [-99.0, -40.0, -12.3, -0.001, 0.0, 2.511, 35.0, 150.0].map(kelvin) {
            let dew_point = dew_point_k(saturation_pressure_pa(t)).expect("inside the range");
            assert_abs_diff_eq!(dew_point, t, epsilon = 1e-9);
            let over_water = dew_point_over_water_k(saturation_pressure_over_water_pa(t)).expect("inside");
            assert_abs_diff_eq!(over_water, t, epsilon = 1e-9);
        }
        let within_the_step = 611.18;
        assert_eq!(dew_point_k(within_the_step), Some(ZERO_CELSIUS_K));
    }

    #[test]
    fn what_has_no_dew_point_says_so() {
        for vapour_pa in [0.0, -1.0, 1e-9, 2e6, f64::NAN, f64::INFINITY] {
            assert_eq!(dew_point_k(vapour_pa), None, "{vapour_pa} Pa");
            assert_eq!(dew_point_over_water_k(vapour_pa), None, "{vapour_pa} Pa");
        }
    }

    #[test]
    fn humidity_ratio_vapour_pressure_and_relative_humidity_agree() {
        let (t, p) = (kelvin(25.0), 95_000.0);
        let w = humidity_ratio_from_relative_humidity(t, 0.37, p);
        // Rounding alone.
        assert_relative_eq!(relative_humidity_frac(t, w, p), 0.37, max_relative = 1e-14);
        let dew_point = dew_point_over_water_k(vapour_pressure_pa(w, p)).expect("moist air");
        assert_relative_eq!(humidity_ratio_from_dew_point(dew_point, p), w, max_relative = 1e-12);
    }

    #[test]
    fn elevations_outside_the_standard_atmosphere_have_no_pressure() {
        for elevation_m in [-5001.0, 11_001.0, f64::NAN] {
            assert_eq!(standard_pressure_pa(elevation_m), None);
        }
        assert!(standard_pressure_pa(-5000.0).is_some() && standard_pressure_pa(11_000.0).is_some());
    }
}

//! Liquid water from 0 to 100 °C at 0.3 MPa, the pressure of a house's pipes.
//!
//! The polynomials stand for IAPWS-IF97 region 1. Between 0.1 and 0.6 MPa density moves by 0.02 %
//! and enthalpy by 0.4 kJ/kg, so one pressure serves.
//!
//! # Source
//! IAPWS R7-97 (revised release on the industrial formulation 1997). Derived here: polynomials of least greatest
//! error through 401 points of the formulation, evaluated with an open library; the residuals stand
//! with each function.

use crate::constants::ZERO_CELSIUS_K;

/// Temperatures the polynomials hold for, K: 0 and 100 °C.
pub const LIQUID_RANGE_K: [f64; 2] = [ZERO_CELSIUS_K, ZERO_CELSIUS_K + 100.0];

/// Enthalpy, J/kg, against °C.
const ENTHALPY: [f64; 7] = [
    264.549_843_136_046_55,
    4_217.021_522_867_007,
    -1.489_549_589_045_166_2,
    3.029_835_397_682_165e-2,
    -3.645_568_720_350_44e-4,
    2.546_587_892_884_307_5e-6,
    -7.132_636_793_629_238e-9,
];

/// Density, kg/m3, against °C.
const DENSITY: [f64; 7] = [
    999.946_753_829_663_2,
    6.531_525_352_808_032e-2,
    -8.811_770_267_640_254e-3,
    8.540_930_020_731_847e-5,
    -7.971_022_855_329_757e-7,
    4.607_025_500_184_583e-9,
    -1.168_395_603_564_217_5e-11,
];

/// Density of water, kg/m3.
///
/// # Arguments
/// temperature_k: kelvin, [`LIQUID_RANGE_K`].
///
/// # Source
/// Module head. Residual 0.0015 kg/m3.
pub fn density_kg_m3(temperature_k: f64) -> f64 {
    let t = temperature_k - ZERO_CELSIUS_K;
    DENSITY.iter().rev().fold(0.0, |sum, coefficient| sum * t + coefficient)
}

/// Enthalpy of water, J/kg, zero near the triple point (saturated liquid).
///
/// # Arguments
/// temperature_k: kelvin, [`LIQUID_RANGE_K`].
///
/// # Source
/// Module head. Residual 1.2 J/kg.
pub fn enthalpy_j_per_kg(temperature_k: f64) -> f64 {
    let t = temperature_k - ZERO_CELSIUS_K;
    ENTHALPY.iter().rev().fold(0.0, |sum, coefficient| sum * t + coefficient)
}

/// Specific heat of water at constant pressure, J/(kg K): the slope of [`enthalpy_j_per_kg`], so that
/// the two agree exactly.
///
/// # Arguments
/// temperature_k: kelvin, [`LIQUID_RANGE_K`].
///
/// # Source
/// Module head. Residual 1.5 J/(kg K), at the ends of the range; 0.6 J/(kg K) from 2 to 98 °C.
pub fn specific_heat_j_per_kg_k(temperature_k: f64) -> f64 {
    let t = temperature_k - ZERO_CELSIUS_K;
    (1..ENTHALPY.len()).rev().fold(0.0, |sum, power| sum * t + power as f64 * ENTHALPY[power])
}

/// Dynamic viscosity of liquid water at the pressure of the air, Pa s.
///
/// `1e-6 (280.68 T^-1.9 + 511.45 T^-7.7 + 61.131 T^-19.6 + 0.45903 T^-40)` with T in units of 300 K.
///
/// # Arguments
/// temperature_k: kelvin, 253 to 383 K. The pressure of a house changes it by less than 0.1 %.
///
/// # Source
/// IAPWS SR6-08(2011), liquid water at 0.1 MPa, equation for the viscosity. From memory, to be verified: the eight constants; what they give was held against the
/// values of IAPWS R12-08 at four temperatures.
pub fn viscosity_pa_s(temperature_k: f64) -> f64 {
    const TERMS: [(f64, f64); 4] = [(280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0)];
    let t = temperature_k / 300.0;
    1e-6 * TERMS.iter().map(|&(factor, power)| factor * libm::pow(t, power)).sum::<f64>()
}

/// Rise of pressure per degree of water that cannot expand, Pa/K: thermal expansion over isothermal compressibility.
///
/// `dp/dT = -(drho/dT)/(rho kappa)`; the expansion is the slope of [`density_kg_m3`]. Negative below 4 °C.
///
/// # Arguments
/// temperature_k: kelvin, [`LIQUID_RANGE_K`].
///
/// # Source
/// Module head. Residual of the compressibility 0.0007e-9 1/Pa, 0.15 %.
pub fn pressure_rise_closed_pa_per_k(temperature_k: f64) -> f64 {
    /// Isothermal compressibility, 1e-9/Pa, against °C.
    const COMPRESSIBILITY: [f64; 5] = [
        0.507_850_131_053_931_8,
        -3.575_279_154_777_87e-3,
        6.243_816_698_232_215e-5,
        -4.372_137_434_065_529_5e-7,
        1.517_523_693_839_089e-9,
    ];
    let t = temperature_k - ZERO_CELSIUS_K;
    let kappa = 1e-9 * COMPRESSIBILITY.iter().rev().fold(0.0, |sum, coefficient| sum * t + coefficient);
    let slope = (1..DENSITY.len()).rev().fold(0.0, |sum, power| sum * t + power as f64 * DENSITY[power]);
    -slope / (density_kg_m3(temperature_k) * kappa)
}

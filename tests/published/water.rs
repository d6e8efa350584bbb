//! Liquid water against IAPWS-IF97.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use larderloop::constants::{WATER_SPECIFIC_HEAT_J_PER_KG_K, ZERO_CELSIUS_K};
use larderloop::water;

/// °C, density kg/m3, specific heat kJ/(kg K), enthalpy kJ/kg at 0.3 MPa.
///
/// IAPWS R7-97, region 1. Derived here: evaluated with the open library iapws 1.5.5, whose check points are the
/// release's table 5.
const IF97: [(f64, f64, f64, f64); 21] = [
    (0.0, 999.95, 4.2184, 0.263),
    (5.0, 1000.06, 4.2041, 21.317),
    (10.0, 999.80, 4.1947, 42.312),
    (15.0, 999.19, 4.1884, 63.269),
    (20.0, 998.30, 4.1842, 84.200),
    (25.0, 997.14, 4.1813, 105.113),
    (30.0, 995.74, 4.1795, 126.015),
    (35.0, 994.13, 4.1784, 146.909),
    (40.0, 992.31, 4.1781, 167.800),
    (45.0, 990.31, 4.1783, 188.691),
    (50.0, 988.13, 4.1791, 209.584),
    (55.0, 985.79, 4.1804, 230.483),
    (60.0, 983.30, 4.1823, 251.390),
    (65.0, 980.65, 4.1847, 272.307),
    (70.0, 977.87, 4.1877, 293.238),
    (75.0, 974.94, 4.1911, 314.184),
    (80.0, 971.89, 4.1951, 335.150),
    (85.0, 968.71, 4.1996, 356.136),
    (90.0, 965.41, 4.2046, 377.146),
    (95.0, 961.99, 4.2101, 398.183),
    (100.0, 958.45, 4.2162, 419.248),
];

/// Tolerances: the stated residuals and half of the last printed digit: 0.0065 kg/m3, 1.5 (at both ends) or 0.6 J/(kg K) and
/// 0.05, 1.7 J/kg.
#[test]
fn density_specific_heat_and_enthalpy() {
    for (degc, density, specific_heat_kj, enthalpy_kj) in IF97 {
        let t = degc + ZERO_CELSIUS_K;
        assert_abs_diff_eq!(water::density_kg_m3(t), density, epsilon = 0.0065);
        let allowed = if !(2.0..=98.0).contains(&degc) { 1.55 } else { 0.65 };
        assert_abs_diff_eq!(water::specific_heat_j_per_kg_k(t), specific_heat_kj * 1e3, epsilon = allowed);
        assert_abs_diff_eq!(water::enthalpy_j_per_kg(t), enthalpy_kj * 1e3, epsilon = 1.7);
    }
}

/// Water at 55 °C and 0.3 MPa: 985.79 kg/m3 and 4.1804 kJ/(kg K), IAPWS-IF97 as above.
/// Tolerance 0.02 kg/m3 and 0.5 J/(kg K): the difference between IAPWS-IF97 and IAPWS-95 in density.
#[test]
fn hot_tank_water() {
    let t = 55.0 + ZERO_CELSIUS_K;
    assert_abs_diff_eq!(water::density_kg_m3(t), 985.79, epsilon = 0.02);
    assert_abs_diff_eq!(water::specific_heat_j_per_kg_k(t), 4180.4, epsilon = 0.5);
}

/// IAPWS R7-97, table 5: at 300 K and 3 MPa v = 1.00215168e-3 m3/kg, h = 115.331273 kJ/kg, cp = 4.17301218 kJ/(kg K).
/// Second hand: as given in the tests of several open libraries. The table's pressure is ten times the pipes': water is compressed by 0.12 %, its
/// enthalpy raised by v (1 - T beta) dp = 2.5 kJ/kg and its specific heat lowered by 0.2 %. So the table bounds the polynomials to one side.
#[test]
fn release_table_5_at_a_higher_pressure() {
    let lighter = water::density_kg_m3(300.0) * 1.002_151_68e-3;
    assert!((0.9985..1.0).contains(&lighter), "density over that at 3 MPa is {lighter}");
    let lower_j_per_kg = 115_331.273 - water::enthalpy_j_per_kg(300.0);
    assert_abs_diff_eq!(lower_j_per_kg, 2500.0, epsilon = 50.0);
    let higher = water::specific_heat_j_per_kg_k(300.0) / 4_173.012_18;
    assert!((1.0..1.003).contains(&higher), "specific heat over that at 3 MPa is {higher}");
}

/// The densest water lies near 4 °C with 1000.07 kg/m3 at 0.3 MPa: IAPWS-IF97 as above. Tolerance: 0.005 kg/m3 of print and 0.0015 of residual; a tenth of a
/// kelvin, since the maximum is flat.
#[test]
fn densest_water() {
    let (mut densest_k, mut densest) = (0.0, 0.0);
    for hundredth in 0..1000 {
        let t = ZERO_CELSIUS_K + f64::from(hundredth) * 0.01;
        if water::density_kg_m3(t) > densest {
            (densest_k, densest) = (t, water::density_kg_m3(t));
        }
    }
    assert_abs_diff_eq!(densest, 1000.07, epsilon = 0.0065);
    assert_abs_diff_eq!(densest_k, ZERO_CELSIUS_K + 4.0, epsilon = 0.2);
}

/// The one specific heat of the year's loop is the mean between 10 and 60 °C of the same table.
#[test]
fn specific_heat_of_the_loop() {
    let rise_j =
        water::enthalpy_j_per_kg(60.0 + ZERO_CELSIUS_K) - water::enthalpy_j_per_kg(10.0 + ZERO_CELSIUS_K);
    // Residuals of two enthalpies over 50 K: 0.05 J/(kg K), and the constant's own rounding.
    assert_relative_eq!(rise_j / 50.0, WATER_SPECIFIC_HEAT_J_PER_KG_K, epsilon = 0.1);
}

/// IAPWS-IF97 at 0.3 MPa: thermal expansion over isothermal compressibility. Derived here: evaluated with the `iapws` library
/// 1.5.5. 1.5 % for the slope of the density's polynomial.
#[test]
fn closed_in_water_gains_pressure_as_the_steam_tables_say() {
    for (t_degc, expansion, compressibility) in [
        (10.0, 0.088_623e-3, 0.477_653e-9),
        (25.0, 0.257_141e-3, 0.451_350e-9),
        (40.0, 0.385_008e-3, 0.440_781e-9),
        (60.0, 0.523_033e-3, 0.443_180e-9),
        (80.0, 0.641_431e-3, 0.459_828e-9),
    ] {
        let rise_pa_per_k = larderloop::water::pressure_rise_closed_pa_per_k(273.15 + t_degc);
        approx::assert_relative_eq!(rise_pa_per_k, expansion / compressibility, max_relative = 0.015);
    }
}

/// The same two ways: water shut in at constant volume from 55 to 56 °C gains 1.12 MPa, from 10 to 11 °C 0.20 MPa, solved with the
/// `iapws` library 1.5.5 for the pressure. 3 %, as the rise grows on the way.
#[test]
fn shut_in_water_gains_what_the_formulation_gives_for_a_constant_volume() {
    for (middle_degc, rise_pa) in [(10.5, 0.2004e6), (55.5, 1.1210e6)] {
        let rise_pa_per_k = larderloop::water::pressure_rise_closed_pa_per_k(273.15 + middle_degc);
        approx::assert_relative_eq!(rise_pa_per_k, rise_pa, max_relative = 0.03);
    }
}

//! Friction, valves and tubes against worked examples and printed tables.

use approx::assert_relative_eq;
use larderloop::constants::ZERO_CELSIUS_K;
use larderloop::pipe::{
    KV_PER_CV, Material, TUBES, friction_factor_colebrook, friction_pa, valve_drop_pa, velocity_m_s,
};
use larderloop::water::{density_kg_m3, viscosity_pa_s};

const L_MIN: f64 = 1.0 / 60_000.0;
const FOOT_M: f64 = 0.3048;

/// Viscosity of liquid water, °C and 1e-6 Pa s.
/// Source: IAPWS R12-08 at 0.3 MPa. Derived here: evaluated with the open library iapws 1.5.5. Tolerance 0.1 %: pressure (0.02 %), the
/// simpler equation (0.06 %) and the last printed digit.
#[test]
fn viscosity_of_water() {
    for (degc, micro) in [
        (5.0, 1517.9),
        (10.0, 1305.7),
        (20.0, 1001.5),
        (40.0, 652.8),
        (55.0, 503.7),
        (60.0, 466.1),
        (75.0, 377.5),
        (90.0, 314.2),
    ] {
        assert_relative_eq!(viscosity_pa_s(ZERO_CELSIUS_K + degc), micro * 1e-6, max_relative = 1e-3);
    }
}

/// Source: the solution of Colebrook's equation for Re 1e5 and a relative roughness of 1e-4, in six digits. Derived here.
/// Source: F. M. White, Fluid Mechanics, example of an asphalted cast-iron pipe: 6 in, 200 ft, 6 ft/s, roughness 0.0008, Re 2.7e5: f 0.0198, loss about 4.5 ft.
/// From memory, to be verified. Tolerances: the printed digits.
#[test]
fn friction_factors() {
    assert_relative_eq!(friction_factor_colebrook(1e5, 1e-4), 0.018_514, epsilon = 5e-7);
    let factor = friction_factor_colebrook(2.7e5, 8e-4);
    assert_relative_eq!(factor, 0.0198, epsilon = 5e-5);
    let loss_ft = factor * 200.0 / 0.5 * 36.0 / (2.0 * 32.174);
    assert_relative_eq!(loss_ft, 4.5, epsilon = 0.1);
}

/// Straight tube at 55 °C, Pa/m, with 985.79 kg/m3 and 5.1093e-7 m2/s.
/// Source: Darcy-Weisbach with Colebrook. Derived here: solved with a general numerical library. Tolerance: the printed digits.
/// The formula of Hazen and Williams with C 150 (Second hand) gives 431, 1110, 187.7 and 1959 Pa/m, within 7 %.
#[test]
fn friction_in_common_tubes() {
    let water = (985.79, 985.79 * 5.1093e-7);
    let (copper, plastic) = (Material::Copper.roughness_m(), Material::Pex.roughness_m());
    for (tube, roughness, flow, pa, digit, williams) in [
        ("copper 1/2 in", copper, 6.0, 421.0, 0.5, 431.0),
        ("copper 1/2 in", copper, 10.0, 1038.0, 0.5, 1110.0),
        ("copper 3/4 in", copper, 10.0, 181.7, 0.05, 187.7),
        ("PEX 1/2 in", plastic, 10.0, 1909.0, 0.5, 1959.0),
    ] {
        let bore = TUBES.iter().find(|known| known.name == tube).expect("a known tube").bore_m;
        let drop = friction_pa(flow * L_MIN, bore, 1.0, roughness, water);
        // The bores have three digits: half of the last moves the loss by 0.5 %; here they are the same ones.
        assert_relative_eq!(drop, pa, epsilon = digit);
        assert_relative_eq!(drop, williams, max_relative = 0.07);
    }
}

/// Flow at 5 ft/s, L/min. Source: bores of ASTM B88 type L and ASTM F876. Second hand: makers' tables. Derived here: area times speed. Tolerance: the printed digits.
#[test]
fn flow_at_a_limit_of_speed() {
    for (tube, l_min, digit) in [
        ("copper 3/8 in", 8.57, 5e-3),
        ("copper 1/2 in", 13.76, 5e-3),
        ("copper 3/4 in", 28.55, 5e-3),
        ("copper 1 in", 48.68, 5e-3),
        ("PEX 3/8 in", 6.00, 5e-3),
        ("PEX 1/2 in", 10.90, 5e-3),
        ("PEX 3/4 in", 21.49, 5e-3),
        ("PEX 1 in", 35.47, 5e-3),
    ] {
        let bore = TUBES.iter().find(|known| known.name == tube).expect("a known tube").bore_m;
        assert_relative_eq!(5.0 * FOOT_M / velocity_m_s(L_MIN, bore), l_min, epsilon = digit);
    }
}

/// Source: IEC 60534-2-1:2011, worked example 1: water of 363 K, 965.4 kg/m3, 680 to 220 kPa, 360 m3/h: Kv 165 m3/h. Second hand: inputs and 164.995 as given in the tests of an
/// open library of fluid mechanics. Tolerance 0.1 %: the example's own correction for fittings.
#[test]
fn a_valve_of_the_standard_s_example() {
    let drop = valve_drop_pa(360.0 / 3600.0, 165.0 / 3600.0, 965.4);
    assert_relative_eq!(drop, 460.0e3, max_relative = 1e-3);
}

/// 10 L/min of water at 55 °C with 1 bar: Kv 0.596; with 0.5 bar 0.842. Kv 1.0 at 2 bar: 1.424 m3/h. Source: the definition. Derived here. Tolerance: the printed digits.
#[test]
fn valve_coefficients() {
    let density = density_kg_m3(ZERO_CELSIUS_K + 55.0);
    for (flow_m3_h, kv, bar, digits) in
        [(0.6, 0.596, 1.0, 2e-3), (0.6, 0.842, 0.5, 2e-3), (1.424, 1.0, 2.0, 1e-3)]
    {
        assert_relative_eq!(
            valve_drop_pa(flow_m3_h / 3600.0, kv / 3600.0, density) / 1e5,
            bar,
            max_relative = digits
        );
    }
    assert_relative_eq!(KV_PER_CV, 0.865, epsilon = 5e-4);
}

//! Mixing at the tap and the booster's limits: heat balances of two streams.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use larderloop::constants::{WATER_SPECIFIC_HEAT_J_PER_KG_K, ZERO_CELSIUS_K};
use larderloop::plant::Booster;
use larderloop::tap::{Fittings, Mixed, Source, mix};
use larderloop::water;

fn kelvin(degc: f64) -> f64 {
    degc + ZERO_CELSIUS_K
}

const BARE: Fittings<'static> = Fittings { valve_k: None, booster: None };

fn boosted(booster: &Booster) -> Fittings<'_> {
    Fittings { valve_k: None, booster: Some(booster) }
}

/// Cold water for each kilogram of hot.
fn cold_per_hot(hot_degc: f64, mixed_degc: f64, cold_degc: f64) -> f64 {
    let mixed = mix(1.0, kelvin(mixed_degc), kelvin(cold_degc), Source::tank(kelvin(hot_degc)), BARE);
    assert!(!mixed.short);
    (1.0 - mixed.tank_kg_s) / mixed.tank_kg_s
}

/// Tempering water of 60 °C to 40 °C with 15 °C takes 0.800 kg cold for each kilogram hot; 75 to 60 °C (the drain limit of 40 CFR 403.5, 140 °F, is
/// 60 °C) 0.333 kg. Derived here: heat balance. 1e-12 with one specific heat; 1 % with the enthalpies of IAPWS-IF97.
#[test]
fn tempering() {
    for (hot, mixed, cold, kg) in [(60.0, 40.0, 15.0, 0.800), (75.0, 60.0, 15.0, 1.0 / 3.0)] {
        assert_relative_eq!(cold_per_hot(hot, mixed, cold), kg, max_relative = 1e-12);
        let h = |degc| water::enthalpy_j_per_kg(kelvin(degc));
        assert_relative_eq!((h(hot) - h(mixed)) / (h(mixed) - h(cold)), kg, max_relative = 0.01);
    }
}

/// A tap of 40 °C from 60 °C hot and 10 °C cold: 60.0 % hot, 0.5 %. Derived here: heat balance; by enthalpies of IAPWS-IF97
/// (167.800 - 42.312)/(251.390 - 42.312) = 0.6002.
#[test]
fn share_of_hot_water_at_the_tap() {
    let mixed = mix(1.0, kelvin(40.0), kelvin(10.0), Source::tank(kelvin(60.0)), BARE);
    assert_relative_eq!(mixed.tank_kg_s, 0.600, max_relative = 1e-12);
    assert_relative_eq!(mixed.tank_kg_s, (167.800 - 42.312) / (251.390 - 42.312), max_relative = 5e-3);
}

/// Water no warmer than what is wanted is passed on as it is, and a tap that wants no more than mains water takes none from the tank.
#[test]
fn limits_of_the_tap() {
    let lukewarm = mix(0.1, kelvin(40.0), kelvin(10.0), Source::tank(kelvin(35.0)), BARE);
    assert_eq!(lukewarm, Mixed { tank_kg_s: 0.1, short: true, hot_side_k: kelvin(35.0), ..Mixed::default() });
    let just = mix(0.1, kelvin(40.0), kelvin(10.0), Source::tank(kelvin(40.0)), BARE);
    assert_eq!(just, Mixed { tank_kg_s: 0.1, hot_side_k: kelvin(40.0), ..Mixed::default() });
    for wanted in [10.0, 8.0] {
        let none = mix(0.1, kelvin(wanted), kelvin(10.0), Source::tank(kelvin(60.0)), BARE);
        assert_eq!(none, Mixed::default());
    }
}

/// A tankless heater of 24 kW: 8 kg/min of tap water at 40 °C from mains of 10 °C want 16.73 kW. Derived here: heat balance with the
/// specific heat of the year's loop.
const BOOSTER: Booster = Booster {
    set_k: 50.0 + ZERO_CELSIUS_K,
    most_w: 24_000.0,
    least_w: 3_000.0,
    efficiency: 0.85,
    highest_inlet_k: f64::INFINITY,
};
const TAP_KG_S: f64 = 8.0 / 60.0;

/// Heat at the tap over mains of 10 °C, W.
fn delivered_w(mixed: Mixed, tank_degc: f64) -> f64 {
    mixed.tank_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K * (tank_degc - 10.0) + mixed.booster_w
}

/// The heater lifts what it passes to its set point and the tap mixes it down: from 25 °C 0.1 kg/s by 25 K, 10.454 kW. The heat balance closes.
#[test]
fn a_booster_within_its_power() {
    let mixed = mix(TAP_KG_S, kelvin(40.0), kelvin(10.0), Source::tank(kelvin(25.0)), boosted(&BOOSTER));
    assert_relative_eq!(mixed.tank_kg_s, 0.1, max_relative = 1e-12);
    assert_abs_diff_eq!(mixed.booster_w, 10_454.0, epsilon = 1e-6);
    assert_relative_eq!(delivered_w(mixed, 25.0), TAP_KG_S * 4181.6 * 30.0, max_relative = 1e-12);
    assert!(!mixed.short);
}

/// Never more than its most: 16 kg/min from 12 °C would take 31.78 kW at the set point; with 24 kW all of the tap's water
/// passes it and the tap gets 24 kW and what the tank's 2 K bring, 33.5 instead of 40 °C.
#[test]
fn a_booster_beyond_its_power() {
    let mixed =
        mix(2.0 * TAP_KG_S, kelvin(40.0), kelvin(10.0), Source::tank(kelvin(12.0)), boosted(&BOOSTER));
    assert_eq!(mixed.booster_w, 24_000.0);
    assert!(mixed.short);
    assert_relative_eq!(mixed.tank_kg_s, 2.0 * TAP_KG_S, max_relative = 1e-12);
    let tap_degc = 10.0 + delivered_w(mixed, 12.0) / (2.0 * TAP_KG_S * 4181.6);
    assert_abs_diff_eq!(tap_degc, 12.0 + 24_000.0 / (16.0 / 60.0 * 4181.6), epsilon = 1e-9);
}

/// At full fire with a warm tank the tap can still be met by drawing more from the tank: 16 kg/min from 30 °C at the set point would take 16.7 kW with 24 kW
/// at hand, with 15 kW the tank gives (33.453 - 15)/(4.1816 x 20) kg/s and the tap wants for nothing.
#[test]
fn a_full_fire_and_a_warm_tank() {
    let small = Booster { most_w: 15_000.0, ..BOOSTER };
    let tap_kg_s = 2.0 * TAP_KG_S;
    let mixed = mix(tap_kg_s, kelvin(40.0), kelvin(10.0), Source::tank(kelvin(30.0)), boosted(&small));
    assert_eq!(mixed.booster_w, 15_000.0);
    assert!(!mixed.short);
    let want_w = tap_kg_s * 4181.6 * 30.0;
    assert_relative_eq!(mixed.tank_kg_s, (want_w - 15_000.0) / (4181.6 * 20.0), max_relative = 1e-12);
    assert_relative_eq!(delivered_w(mixed, 30.0), want_w, max_relative = 1e-12);
}

/// Below its smallest fire it stays off and the tap takes the tank's water as it is: 2 kg/min from 45 °C would want 0.52 kW.
#[test]
fn a_booster_below_its_smallest_fire() {
    let mixed = mix(2.0 / 60.0, kelvin(40.0), kelvin(10.0), Source::tank(kelvin(45.0)), boosted(&BOOSTER));
    assert_eq!(mixed.booster_w, 0.0);
    assert_relative_eq!(mixed.tank_kg_s, 2.0 / 60.0 * 30.0 / 35.0, max_relative = 1e-12);
    assert!(!mixed.short);
    // A tank at or above the set point needs no booster at all, however large the flow.
    let hot = mix(2.0, kelvin(40.0), kelvin(10.0), Source::tank(kelvin(55.0)), boosted(&BOOSTER));
    assert_eq!((hot.booster_w, hot.short), (0.0, false));
}

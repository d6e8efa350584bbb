//! Open doors: worked values of the equation of Gosney and Olama.

use std::path::Path;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use larderloop::air;
use larderloop::constants::ZERO_CELSIUS_K;
use larderloop::household::Household;
use larderloop::plant::Plant;
use larderloop::room::exchange_gosney_olama_kg_s;
use larderloop::scenario;
use larderloop::units::fraction;

/// Opening of 0.9 x 2.0 m.
const AREA_M2: f64 = 1.8;
const HEIGHT_M: f64 = 2.0;
const SEA_LEVEL_PA: f64 = 101_325.0;
/// ASHRAE Handbook Fundamentals 2017, chapter 1, table 1.
const AT_1000_M_PA: f64 = 89_875.0;

/// Air at a temperature and relative humidity.
struct State {
    density_kg_m3: f64,
    enthalpy_j_per_kg: f64,
}

fn state(degc: f64, humidity: f64, pressure_pa: f64) -> State {
    let t = degc + ZERO_CELSIUS_K;
    let w = air::humidity_ratio_from_relative_humidity(t, humidity, pressure_pa);
    State {
        density_kg_m3: air::moist_air_density_kg_m3(t, w, pressure_pa),
        enthalpy_j_per_kg: air::enthalpy_j_per_kg(t, w),
    }
}

fn flow_kg_s(inside: &State, outside: &State) -> f64 {
    exchange_gosney_olama_kg_s(AREA_M2, HEIGHT_M, inside.density_kg_m3, outside.density_kg_m3)
}

/// Heat carried in through the opening, W; negative when it leaves.
fn gain_w(inside: &State, outside: &State) -> f64 {
    flow_kg_s(inside, outside) * (outside.enthalpy_j_per_kg - inside.enthalpy_j_per_kg)
}

/// W. B. Gosney and H. A.-L. Olama, Proceedings of the Institute of Refrigeration 72, 1975, as used in ASHRAE Handbook Refrigeration, "Refrigerated-Facility
/// Loads": room 4 °C and 90 %. Second hand: form and exponents. Derived here: the values, with an independent library's densities and
/// enthalpies. 1 %; densities per kilogram of dry instead of moist air would give 3.8 % more.
#[test]
fn worked_openings() {
    for (outside_degc, humidity, pressure_pa, volume_m3_s, gain_kw) in [
        (25.0, 0.60, SEA_LEVEL_PA, 0.4717, 24.01),
        (15.0, 0.70, SEA_LEVEL_PA, 0.3481, 8.164),
        (25.0, 0.60, AT_1000_M_PA, 0.4732, 22.68),
    ] {
        let (inside, outside) = (state(4.0, 0.9, pressure_pa), state(outside_degc, humidity, pressure_pa));
        let volume = flow_kg_s(&inside, &outside) / inside.density_kg_m3;
        assert_relative_eq!(volume, volume_m3_s, max_relative = 0.01);
        assert_relative_eq!(gain_w(&inside, &outside), 1000.0 * gain_kw, max_relative = 0.01);
    }
}

/// The same equation's density factor for 1.2702 and 1.1756 kg/m3 is 0.98071, and (1 - 1.1756/1.2702)^0.5 is 0.27295:
/// 0.221 x 1.8 x (9.81 x 2)^0.5 x 0.27295 x 0.98071 = 0.4717 m3/s. Derived here. 0.05 %: densities of five digits.
#[test]
fn factors_of_the_worked_opening() {
    let by_hand = 0.221 * 1.8 * (9.81_f64 * 2.0).sqrt() * 0.27295 * 0.98071;
    assert_abs_diff_eq!(by_hand, 0.4717, epsilon = 5e-5);
    let volume = exchange_gosney_olama_kg_s(AREA_M2, HEIGHT_M, 1.2702, 1.1756) / 1.2702;
    assert_relative_eq!(volume, by_hand, max_relative = 5e-4);
}

/// Limits of the equation: nothing moves between equal densities, and the denser side may be either. The flow grows
/// with the area and with the root of the height.
#[test]
fn limits_and_mirror() {
    assert_eq!(exchange_gosney_olama_kg_s(AREA_M2, HEIGHT_M, 1.27, 1.27), 0.0);
    let flow = exchange_gosney_olama_kg_s(AREA_M2, HEIGHT_M, 1.27, 1.18);
    assert!(flow > 0.0);
    assert_eq!(exchange_gosney_olama_kg_s(AREA_M2, HEIGHT_M, 1.18, 1.27), flow);
    let larger = exchange_gosney_olama_kg_s(2.0 * AREA_M2, 4.0 * HEIGHT_M, 1.27, 1.18);
    assert_relative_eq!(larger, 4.0 * flow, max_relative = 1e-14);
    let (warm, cold) = (state(10.0, 0.9, SEA_LEVEL_PA), state(-5.0, 0.8, SEA_LEVEL_PA));
    assert!(gain_w(&warm, &cold) < 0.0);
    assert_relative_eq!(gain_w(&warm, &cold), -gain_w(&cold, &warm), max_relative = 1e-14);
    let same = state(4.0, 0.9, SEA_LEVEL_PA);
    assert_eq!(gain_w(&same, &state(4.0, 0.9, SEA_LEVEL_PA)), 0.0);
}

fn household() -> Household {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/basement-chicago.yaml");
    scenario::open(&file).expect("a scenario of the project").household
}

/// Eight openings of 15 s a day with a door-flow factor of 0.8 are 26.7 W in the mean; a strip curtain that stops 93 % (Pham and Oliver, 16th
/// International Congress of Refrigeration 1983, abstract read) leaves 1.68 kW of 24.01 kW while the door stands open. 1 %.
#[test]
fn openings_of_a_day_and_a_strip_curtain() {
    let (inside, outside) = (state(4.0, 0.9, SEA_LEVEL_PA), state(25.0, 0.60, SEA_LEVEL_PA));
    let open_w = gain_w(&inside, &outside);
    let open_frac = |flow_factor, curtain| {
        let mut household = household();
        household.room.doors[0].flow_factor = fraction(flow_factor);
        household.room.doors[0].curtain = fraction(curtain);
        Plant::new(&household).room.doors[0].open_frac[0]
    };
    let share_of_day = 8.0 * 15.0 / 86_400.0;
    assert_relative_eq!(open_w * open_frac(0.8, 0.0) * share_of_day, 26.7, max_relative = 0.01);
    assert_relative_eq!(open_w * open_frac(1.0, 0.93), 1680.0, max_relative = 0.01);
}

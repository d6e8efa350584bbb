//! Tapping patterns against the tables that they come from, with water by IAPWS-IF97 at 0.3 MPa.
//!
//! Load profiles: Commission Regulation (EU) No 814/2013, Annex III, Table 1 (every cell read in the consolidated text). Patterns in gallons: 10 CFR 430
//! Subpart B Appendix E, Tables III.1 to III.4 (totals second hand, single draws from memory). Hourly shares: ASHRAE 90.2, Table
//! 4.6.1.1(1) (second hand: public code that quotes it).

use approx::assert_relative_eq;
use larderloop::constants::ZERO_CELSIUS_K;
use larderloop::draw::{HOURLY_SHARES, Pattern, TapFlow, tap_flows};
use larderloop::water;

/// The load profiles.
const PROFILES: [Pattern; 4] = [Pattern::S, Pattern::M, Pattern::L, Pattern::Xl];

/// Kilograms that carry the pattern's energy of a day from cold to hot.
fn daily_kg(pattern: Pattern, cold_degc: f64, hot_degc: f64) -> f64 {
    let enthalpy = |degc: f64| water::enthalpy_j_per_kg(degc + ZERO_CELSIUS_K);
    pattern.reference_energy_kwh() * 3.6e6 / (enthalpy(hot_degc) - enthalpy(cold_degc))
}

fn litre_kg(degc: f64) -> f64 {
    water::density_kg_m3(degc + ZERO_CELSIUS_K) / 1000.0
}

/// The pattern's own day as flows of water of a temperature.
fn flows(pattern: Pattern, degc: f64) -> Vec<TapFlow> {
    let use_k = degc + ZERO_CELSIUS_K;
    let daily_kg = daily_kg(pattern, 10.0, degc);
    tap_flows(&pattern.taps(daily_kg, litre_kg(degc), use_k), daily_kg, use_k)
}

/// The regulation prints Qref and the draws; 1e-9: decimal fractions that are no binary ones.
#[test]
fn the_draws_add_up_to_the_printed_reference_energy_and_number() {
    let printed = [(2.1, 11), (5.845, 23), (11.655, 24), (19.07, 30)];
    for (pattern, (reference_kwh, draws)) in PROFILES.into_iter().zip(printed) {
        let sum_kwh: f64 = pattern.draws().iter().map(|draw| draw.energy_kwh).sum();
        assert_relative_eq!(sum_kwh, reference_kwh, max_relative = 1e-9);
        assert_eq!(pattern.draws().len(), draws);
    }
}

/// Litres measured hot that carry Qref from 10 °C: derived from IAPWS-IF97 enthalpies and densities evaluated
/// with an open library, printed to 0.1 L, hence 0.06 L. A household's own amount is the same.
#[test]
fn the_pattern_s_energy_is_so_many_litres() {
    let printed = [
        [36.8, 40.8, 52.2, 60.7],
        [102.4, 113.4, 145.2, 169.0],
        [204.1, 226.2, 289.4, 336.9],
        [333.9, 370.1, 473.6, 551.3],
    ];
    for (pattern, litres) in PROFILES.into_iter().zip(printed) {
        for (hot_degc, expected_l) in [60.0, 55.0, 45.0, 40.0].into_iter().zip(litres) {
            let hot_l = daily_kg(pattern, 10.0, hot_degc) / litre_kg(hot_degc);
            assert_relative_eq!(hot_l, expected_l, epsilon = 0.06);
            let own_m3 =
                pattern.own_daily_m3(hot_degc + ZERO_CELSIUS_K).expect("a load profile has an amount");
            assert_relative_eq!(1000.0 * own_m3, hot_l, max_relative = 1e-12);
        }
    }
    assert_relative_eq!(daily_kg(Pattern::L, 10.0, 60.0), 200.7, epsilon = 0.06);
}

/// The bath of L: 3.605 kWh at 10 L/min from 10 to 40 °C. From the same enthalpies: 103.42 kg, 104.22 L, 10.42 min;
/// printed to 0.01 min.
#[test]
fn the_bath_runs_its_minutes() {
    let flows = flows(Pattern::L, 40.0);
    for bath_s in [8.0 * 3600.0 + 300.0, 21.0 * 3600.0] {
        let begins = flows.iter().position(|flow| flow.start_s == bath_s).expect("the bath begins on time");
        assert_relative_eq!(flows[begins].kg_s * 60.0, 10.0 * litre_kg(40.0), max_relative = 1e-9);
        assert_relative_eq!((flows[begins + 1].start_s - bath_s) / 60.0, 10.42, epsilon = 0.005);
    }
}

/// No draw of the load profiles lies between midnight and 7:00.
#[test]
fn the_night_is_quiet() {
    for pattern in PROFILES {
        let flows = flows(pattern, 45.0);
        assert_eq!((flows[0].start_s, flows[0].kg_s, flows[1].start_s), (0.0, 0.0, 7.0 * 3600.0));
    }
}

/// What a load profile calls its peak, 55 °C for dishes, is a condition of its test: the household mixes all of its water to the
/// temperature that it uses.
#[test]
fn no_draw_wants_the_peak_of_the_test() {
    assert!(Pattern::M.draws().iter().any(|draw| draw.peak_degc == Some(55.0)));
    assert!(flows(Pattern::M, 40.0).iter().all(|flow| flow.use_k == ZERO_CELSIUS_K + 40.0));
}

/// 10, 38, 55 and 84 gal in 9, 11, 12 and 14 draws; 1e-9. Heat of those gallons, measured at 125 °F, over 58 °F: 1.616, 6.139, 8.886 and 13.571
/// kWh by IAPWS enthalpies, printed to 1 Wh; as mixed water of 125 °F the gallons themselves.
#[test]
fn the_patterns_in_gallons_add_up() {
    let patterns = [Pattern::VerySmall, Pattern::Low, Pattern::Medium, Pattern::High];
    let hot_k = (125.0 - 32.0) / 1.8 + ZERO_CELSIUS_K;
    let printed = [(10.0, 9, 1.616), (38.0, 11, 6.139), (55.0, 12, 8.886), (84.0, 14, 13.571)];
    for (pattern, (gal, draws, kwh)) in patterns.into_iter().zip(printed) {
        assert_relative_eq!(pattern.reference_gal(), gal, max_relative = 1e-9);
        assert_eq!(pattern.gallon_draws().len(), draws);
        let own_m3 = pattern.own_daily_m3(hot_k).expect("it has an amount");
        assert_relative_eq!(own_m3, gal * 3.785_411_784e-3, max_relative = 1e-9);
        let cold_k = (58.0 - 32.0) / 1.8 + ZERO_CELSIUS_K;
        let heat_j = own_m3
            * water::density_kg_m3(hot_k)
            * (water::enthalpy_j_per_kg(hot_k) - water::enthalpy_j_per_kg(cold_k));
        assert_relative_eq!(heat_j / 3.6e6, kwh, epsilon = 0.0006);
    }
}

/// The hourly shares add up to 1; of 240 L a day 18.0 L fall into the hour that ends at 7:00; 1e-9.
#[test]
fn hourly_shares_fill_the_day() {
    assert_relative_eq!(HOURLY_SHARES.iter().sum::<f64>(), 1.0, max_relative = 1e-9);
    let use_k = ZERO_CELSIUS_K + 40.0;
    let flows = tap_flows(&Pattern::Hourly.taps(240.0, 1.0, use_k), 240.0, use_k);
    let ends = flows.iter().skip(1).map(|flow| flow.start_s).chain([86_400.0]);
    let seventh: f64 = flows
        .iter()
        .zip(ends)
        .filter(|(flow, _)| (6.0 * 3600.0..7.0 * 3600.0).contains(&flow.start_s))
        .map(|(flow, end_s)| flow.kg_s * (end_s - flow.start_s))
        .sum();
    assert_relative_eq!(seventh, 18.0, max_relative = 1e-9);
    assert_eq!(Pattern::Hourly.own_daily_m3(ZERO_CELSIUS_K + 40.0), None);
}

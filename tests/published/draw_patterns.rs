//! Tapping patterns against Commission Regulation (EU) No 814/2013, Annex III, Table 1 (every cell read in the
//! consolidated text), with water by IAPWS-IF97 at 0.3 MPa.

use approx::assert_relative_eq;
use larderloop::constants::ZERO_CELSIUS_K;
use larderloop::draw::{Pattern, tap_flows};
use larderloop::water;

/// Kilograms that carry the pattern's energy of a day from cold to hot.
fn daily_kg(pattern: Pattern, cold_degc: f64, hot_degc: f64) -> f64 {
    let enthalpy = |degc: f64| water::enthalpy_j_per_kg(degc + ZERO_CELSIUS_K);
    pattern.reference_energy_kwh() * 3.6e6 / (enthalpy(hot_degc) - enthalpy(cold_degc))
}

fn litre_kg(degc: f64) -> f64 {
    water::density_kg_m3(degc + ZERO_CELSIUS_K) / 1000.0
}

/// The regulation prints Qref and the draws; 1e-9: decimal fractions that are no binary ones.
#[test]
fn the_draws_add_up_to_the_printed_reference_energy_and_number() {
    for (pattern, reference_kwh, draws) in [(Pattern::M, 5.845, 23), (Pattern::L, 11.655, 24)] {
        let sum_kwh: f64 = pattern.draws().iter().map(|draw| draw.energy_kwh).sum();
        assert_relative_eq!(sum_kwh, reference_kwh, max_relative = 1e-9);
        assert_eq!(pattern.draws().len(), draws);
    }
}

/// Litres measured hot that carry Qref from 10 °C: derived from IAPWS-IF97 enthalpies and densities evaluated
/// with an open library, printed to 0.1 L, hence 0.06 L.
#[test]
fn the_pattern_s_energy_is_so_many_litres() {
    for (pattern, litres) in
        [(Pattern::M, [102.4, 113.4, 145.2, 169.0]), (Pattern::L, [204.1, 226.2, 289.4, 336.9])]
    {
        for (hot_degc, expected_l) in [60.0, 55.0, 45.0, 40.0].into_iter().zip(litres) {
            let hot_l = daily_kg(pattern, 10.0, hot_degc) / litre_kg(hot_degc);
            assert_relative_eq!(hot_l, expected_l, epsilon = 0.06);
        }
    }
    assert_relative_eq!(daily_kg(Pattern::L, 10.0, 60.0), 200.7, epsilon = 0.06);
}

/// The bath of L: 3.605 kWh at 10 L/min from 10 to 40 °C. From the same enthalpies: 103.42 kg, 104.22 L, 10.42 min;
/// printed to 0.01 min.
#[test]
fn the_bath_runs_its_minutes() {
    let flows = tap_flows(Pattern::L, daily_kg(Pattern::L, 10.0, 40.0), litre_kg(40.0));
    for bath_s in [8.0 * 3600.0 + 300.0, 21.0 * 3600.0] {
        let begins = flows.iter().position(|flow| flow.0 == bath_s).expect("the bath begins on time");
        assert_relative_eq!(flows[begins].1 * 60.0, 10.0 * litre_kg(40.0), max_relative = 1e-9);
        assert_relative_eq!((flows[begins + 1].0 - bath_s) / 60.0, 10.42, epsilon = 0.005);
    }
}

/// No draw of the regulation's patterns lies between midnight and 7:00.
#[test]
fn the_night_is_quiet() {
    for pattern in Pattern::ALL {
        let flows = tap_flows(pattern, daily_kg(pattern, 10.0, 45.0), litre_kg(45.0));
        assert_eq!((flows[0], flows[1].0), ((0.0, 0.0), 7.0 * 3600.0));
    }
}

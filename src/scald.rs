//! How hot the water at a tap may be, and how fast hotter water burns.

use crate::constants::ZERO_CELSIUS_K;

/// Hottest water at a tap in a dwelling, K (49 °C, 120 °F).
///
/// Source: Ontario Building Code 7.6.5.1, dwellings; the same 120 °F in IRC P2708 and UPC 408.3 for
/// showers and tub-showers. Checked: Ontario text read; second hand: the other two as given in pages that reproduce them.
pub const HOTTEST_AT_TAP_K: f64 = ZERO_CELSIUS_K + 49.0;

/// Water temperature (°F), the time (s) in which it burns most adults to the third degree, and that time in words.
///
/// Source: US Consumer Product Safety Commission, Document 5098. Second hand: the row as given in pages that quote it.
pub const BURN_AFTER: [(f64, f64, &str); 4] = [
    (120.0, 300.0, "5 minutes"),
    (130.0, 30.0, "30 seconds"),
    (140.0, 6.0, "6 seconds"),
    (150.0, 2.0, "2 seconds"),
];

/// Water temperatures that the fit of [`burn_time_feldman_s`] holds for, °C.
const FIT_DEGC: [f64; 2] = [45.0, 71.0];

/// Just below the ends of the fit's pieces after which it gives a longer time, K.
const FIT_JUMPS_AT_K: [f64; 2] = [ZERO_CELSIUS_K + 51.299, ZERO_CELSIUS_K + 58.299];

/// Time in which water burns an adult's skin through its full thickness, s; `None` outside 45 to 71 °C.
///
/// Below 51.3 °C `ln t = 34.58 (ln T)^2 - 294.8 ln T + 629.2`; to 52.1 `t = 2675 - 50 T`; to 58.3
/// `t = 1.441 T^2 - 168.2 T + 4917`; to 71 `t = 0.05322 T^2 - 7.437 T + 262.4`, T in °C.
///
/// # Source
/// Feldman and others, a fit to Moritz and Henriques, American Journal of Pathology 23, 1947. Second hand: an abstract that gives the
/// equations. Between 140 and 150 °F it is 1 to 2 s longer than [`BURN_AFTER`], which is the warning.
pub fn burn_time_feldman_s(temperature_k: f64) -> Option<f64> {
    let t = temperature_k - ZERO_CELSIUS_K;
    let [least, most] = FIT_DEGC;
    if !(least..=most).contains(&t) {
        return None;
    }
    let ln = libm::log(t);
    Some(match t {
        t if t < 51.3 => libm::exp(34.58 * ln * ln - 294.8 * ln + 629.2),
        t if t < 52.1 => 2675.0 - 50.0 * t,
        t if t < 58.3 => 1.441 * t * t - 168.2 * t + 4917.0,
        t => 0.05322 * t * t - 7.437 * t + 262.4,
    })
}

/// Row of [`BURN_AFTER`] that water of a temperature has reached: its temperature in K, time in s and in words. Water that
/// has reached none is told the first.
pub fn burn_row(temperature_k: f64) -> (f64, f64, &'static str) {
    let degf = (temperature_k - ZERO_CELSIUS_K) * 1.8 + 32.0;
    // A temperature that was written in °F comes back with a rounding error.
    let reached = |row: &&(f64, f64, &str)| row.0 <= degf + 1e-9;
    let (row_degf, time_s, words) = BURN_AFTER.iter().rfind(reached).unwrap_or(&BURN_AFTER[0]);
    ((row_degf - 32.0) / 1.8 + ZERO_CELSIUS_K, *time_s, words)
}

/// Shortest time in which water burns that is known of it, s: that of its row or of the fit, whichever is less. `None` for water
/// no hotter than a tap's may be.
pub fn shortest_burn_s(temperature_k: f64) -> Option<f64> {
    (temperature_k > HOTTEST_AT_TAP_K).then(|| {
        let (_, row_s, _) = burn_row(temperature_k);
        let fit_s = |temperature_k: f64| burn_time_feldman_s(temperature_k).unwrap_or(f64::INFINITY);
        // The fit jumps up by a tenth where one of its pieces ends; hotter water does not burn later.
        let before = FIT_JUMPS_AT_K.into_iter().filter(|jump_k| *jump_k < temperature_k).map(fit_s);
        before.fold(row_s.min(fit_s(temperature_k)), f64::min)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn kelvin(degf: f64) -> f64 {
        (degf - 32.0) / 1.8 + ZERO_CELSIUS_K
    }

    /// The fit at the printed °F: 301, 102, 91.7, 30.9, 25.0, 7.8 and 3.6 s. Derived here: evaluated by hand from the equations; 3 % to those
    /// numbers, 5 % to the 300 and 30 s of CPSC 5098 (its 6 and 2 s are shorter than the fit).
    #[test]
    fn the_fit_gives_the_printed_times() {
        for (degf, seconds) in [
            (120.0, 301.0),
            (124.0, 102.0),
            (125.0, 91.7),
            (130.0, 30.9),
            (131.0, 25.0),
            (140.0, 7.8),
            (150.0, 3.6),
        ] {
            let fit_s = burn_time_feldman_s(kelvin(degf)).expect("inside the fit");
            assert_relative_eq!(fit_s, seconds, max_relative = 0.03);
        }
        for (degf, row_s, _) in &BURN_AFTER[..2] {
            let fit_s = burn_time_feldman_s(kelvin(*degf)).expect("inside the fit");
            assert_relative_eq!(fit_s, *row_s, max_relative = 0.05);
        }
        assert_eq!((burn_time_feldman_s(kelvin(100.0)), burn_time_feldman_s(kelvin(170.0))), (None, None));
    }

    #[test]
    fn the_shorter_of_both_is_told_and_hotter_water_never_burns_later() {
        assert_eq!(shortest_burn_s(HOTTEST_AT_TAP_K), None);
        let times: Vec<f64> = (491..=900)
            .map(|tenth| shortest_burn_s(ZERO_CELSIUS_K + 0.1 * f64::from(tenth)).expect("it scalds"))
            .collect();
        assert!(times.windows(2).all(|pair| pair[1] <= pair[0]), "{times:?}");
        // 60 °C is 140 °F: 6 s by the row, 7.8 s by the fit.
        assert_eq!(shortest_burn_s(kelvin(140.0)), Some(6.0));
        assert_eq!(burn_row(ZERO_CELSIUS_K + 60.0).2, "6 seconds");
    }
}

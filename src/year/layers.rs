//! What the tank's layers were over a stretch of the year: the figures that tell a clean tank from a lukewarm one.

use crate::constants::ZERO_CELSIUS_K;

/// Coolest and warmest water in which Legionella grows well, K.
/// Source: WHO, Legionella and the prevention of legionellosis, 2007, chapter 2. Second hand: 25-45 °C as given in texts that quote it.
pub const GROWS_K: [f64; 2] = [ZERO_CELSIUS_K + 25.0, ZERO_CELSIUS_K + 45.0];

/// Temperatures whose hours are counted at the tank's top and bottom, K.
///
/// - 49 °C: the most that codes allow at showers and bathtubs. Source: Ontario Building Code 7.6.5.1. Checked: text read.
/// - 50 °C: above it the bacteria die. Source: Schulze-Robbecke, Rödder and Exner 1987. Checked: abstract read.
/// - 55 °C: hot water at the outlet in health care; 60 °C: the store. Source: UK HSE HSG274 Part 2 (2014), introduction.
///   Second hand: exact quotation seen.
pub const HOT_K: [f64; 4] = [ZERO_CELSIUS_K + 49.0, ZERO_CELSIUS_K + 50.0, ZERO_CELSIUS_K + 55.0, STORE_AT_K];

/// Store temperature that guidance asks for, K.
/// Source: UK HSE HSG274 Part 2 (2014), introduction. Second hand: exact quotation seen.
pub const STORE_AT_K: f64 = ZERO_CELSIUS_K + 60.0;

/// Share of the tank that counts as its top, middle or bottom: what a thermometer in a pocket there feels. The last litre alone would hang on how the
/// water came in last. Common practice, no source.
pub const LAYER_FRAC: f64 = 0.1;

/// The tank's layers over a stretch of time. They are looked at where loss and conduction are applied.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Layers {
    /// Middle: integral, K s.
    pub middle_k_s: f64,
    /// Share of the water in the range [`GROWS_K`]: integral, s.
    pub lukewarm_s: f64,
    /// Uppermost tenth above each of [`HOT_K`], s.
    pub top_hot_s: [f64; HOT_K.len()],
    /// Lowest tenth above each of [`HOT_K`], s.
    pub bottom_hot_s: [f64; HOT_K.len()],
    /// Longest time, up to the end of the stretch and from the start of the year on, for which the whole tank had not
    /// been at [`STORE_AT_K`], s.
    pub longest_cool_s: f64,
}

impl Layers {
    /// Adds a later stretch.
    pub fn add(&mut self, later: &Self) {
        self.middle_k_s += later.middle_k_s;
        self.lukewarm_s += later.lukewarm_s;
        for (sum, part) in self.top_hot_s.iter_mut().zip(&later.top_hot_s) {
            *sum += part;
        }
        for (sum, part) in self.bottom_hot_s.iter_mut().zip(&later.bottom_hot_s) {
            *sum += part;
        }
        self.longest_cool_s = self.longest_cool_s.max(later.longest_cool_s);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_add_up_and_the_longest_span_is_kept() {
        let mut year = Layers::default();
        for (lukewarm_s, longest_cool_s) in [(10.0, 100.0), (20.0, 700.0), (0.0, 300.0)] {
            let stretch =
                Layers { lukewarm_s, longest_cool_s, top_hot_s: [4.0, 3.0, 2.0, 1.0], ..Layers::default() };
            year.add(&stretch);
        }
        assert_eq!((year.lukewarm_s, year.longest_cool_s), (30.0, 700.0));
        assert_eq!(year.top_hot_s, [12.0, 9.0, 6.0, 3.0]);
    }
}

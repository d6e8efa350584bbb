//! Mixing at the tap and the booster behind the tank.

use crate::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K;
use crate::plant::Booster;

/// What one flow at the tap takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mixed {
    /// Water from the tank, kg/s.
    pub tank_kg_s: f64,
    /// Heat from the booster, W.
    pub booster_w: f64,
    /// Whether the tap gets less heat than wanted.
    pub short: bool,
}

/// Flow from the tank and heat from the booster for a tap that wants `tap_kg_s` at `use_k`.
///
/// Hot water is mixed with mains water at the tap: `m = f (T_use - T_mains)/(T_hot - T_mains)`. The booster lifts the
/// tank's flow to its set point, unless that needs less than its smallest fire; beyond its power it lifts as far as it can.
///
/// # Arguments
/// tap flow (kg/s, 0 or more), use, mains and tank temperatures (K).
/// # Source
/// Derived here: heat balance of two streams, docs/MODEL.md section 5.
pub fn mix(tap_kg_s: f64, use_k: f64, mains_k: f64, hot_k: f64, booster: Option<&Booster>) -> Mixed {
    let rise_dk = use_k - mains_k;
    if tap_kg_s <= 0.0 || rise_dk <= 0.0 {
        return Mixed { tank_kg_s: 0.0, booster_w: 0.0, short: false };
    }
    if let Some(booster) = booster
        && hot_k < booster.set_k
    {
        let tank_kg_s = tap_kg_s * rise_dk / (booster.set_k - mains_k);
        let wanted_w = tank_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K * (booster.set_k - hot_k);
        if wanted_w > booster.most_w {
            return at_full_fire(tap_kg_s, rise_dk, hot_k - mains_k, booster.most_w);
        }
        if wanted_w >= booster.least_w {
            return Mixed { tank_kg_s, booster_w: wanted_w, short: false };
        }
    }
    if hot_k > use_k {
        Mixed { tank_kg_s: tap_kg_s * rise_dk / (hot_k - mains_k), booster_w: 0.0, short: false }
    } else {
        Mixed { tank_kg_s: tap_kg_s, booster_w: 0.0, short: hot_k < use_k }
    }
}

fn at_full_fire(tap_kg_s: f64, rise_dk: f64, tank_rise_dk: f64, most_w: f64) -> Mixed {
    let missing_kg_k_s = tap_kg_s * rise_dk - most_w / WATER_SPECIFIC_HEAT_J_PER_KG_K;
    if tank_rise_dk > 0.0 && missing_kg_k_s < tap_kg_s * tank_rise_dk {
        Mixed { tank_kg_s: missing_kg_k_s / tank_rise_dk, booster_w: most_w, short: false }
    } else {
        Mixed { tank_kg_s: tap_kg_s, booster_w: most_w, short: true }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const BOOSTER: Booster = Booster { set_k: 318.15, most_w: 20_000.0, least_w: 2_000.0, efficiency: 0.9 };

    /// Heat at the tap over mains for what `mix` says, W.
    fn delivered_w(mixed: Mixed, mains_k: f64, hot_k: f64) -> f64 {
        mixed.tank_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K * (hot_k - mains_k) + mixed.booster_w
    }

    #[test]
    fn a_tap_at_40_from_60_hot_and_10_cold_takes_six_tenths_hot() {
        // Heat balance of two streams: (40 - 10)/(60 - 10) = 0.600.
        let mixed = mix(0.1, 313.15, 283.15, 333.15, None);
        assert_relative_eq!(mixed.tank_kg_s, 0.06, max_relative = 1e-14);
    }

    #[test]
    fn whatever_is_not_short_gets_exactly_what_it_wants() {
        for hot_k in [284.0, 300.0, 313.0, 313.15, 316.0, 318.0, 330.0] {
            for tap_kg_s in [0.02, 0.1, 0.2] {
                for booster in [None, Some(&BOOSTER)] {
                    let mixed = mix(tap_kg_s, 313.15, 283.15, hot_k, booster);
                    let want_w = tap_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K * 30.0;
                    let got_w = delivered_w(mixed, 283.15, hot_k);
                    assert!(mixed.tank_kg_s <= tap_kg_s * (1.0 + 1e-12));
                    if mixed.short {
                        assert!(got_w < want_w);
                    } else {
                        assert_relative_eq!(got_w, want_w, max_relative = 1e-12);
                    }
                }
            }
        }
    }

    #[test]
    fn the_smallest_fire_leaves_a_lukewarm_tap() {
        // 0.02 kg/s from 312.5 K needs 0.02 x 30/35 x 4181.6 x 5.65 = 405 W: below the smallest fire.
        let mixed = mix(0.02, 313.15, 283.15, 312.5, Some(&BOOSTER));
        assert_eq!(mixed, Mixed { tank_kg_s: 0.02, booster_w: 0.0, short: true });
    }
}

//! From the tank to the tap: mixing valve, booster, and the mixing at the tap itself.

use crate::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K;
use crate::draw::TapShare;
use crate::plant::Booster;

/// Halvings of the hot flow of taps of different temperatures: to the last digit.
const HALVINGS: usize = 60;

/// What stands between tank and taps.
#[derive(Debug, Clone, Copy)]
pub struct Fittings<'a> {
    /// Set point of the mixing valve after the tank, K, if there is one.
    pub valve_k: Option<f64>,
    /// Booster after the valve, if there is one.
    pub booster: Option<&'a Booster>,
}

/// Water where the taps draw: first what comes back from the pump, where it returns at their height, then the tank's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Source {
    /// Stream that comes back there, kg/s; 0 where none does.
    pub return_kg_s: f64,
    /// Its temperature, K.
    pub return_k: f64,
    /// Water of the tank, K.
    pub tank_k: f64,
}

impl Source {
    /// The tank's water alone.
    pub fn tank(tank_k: f64) -> Self {
        Self { return_kg_s: 0.0, return_k: tank_k, tank_k }
    }

    /// Temperature of a flow taken, K.
    fn mixed_k(&self, kg_s: f64) -> f64 {
        if self.return_kg_s <= 0.0 {
            self.tank_k
        } else if kg_s <= self.return_kg_s {
            self.return_k
        } else {
            (self.return_kg_s * self.return_k + (kg_s - self.return_kg_s) * self.tank_k) / kg_s
        }
    }

    /// The flow that carries `kg_k_s` (mass flow times temperature over mains), at most `most_kg_s`.
    fn carrying_kg_s(&self, kg_k_s: f64, mains_k: f64, most_kg_s: f64) -> f64 {
        let (return_dk, tank_dk) = (self.return_k - mains_k, self.tank_k - mains_k);
        if self.return_kg_s > 0.0 && return_dk > 0.0 && kg_k_s <= self.return_kg_s * return_dk {
            return (kg_k_s / return_dk).min(most_kg_s);
        }
        if tank_dk <= 0.0 {
            return most_kg_s;
        }
        (self.return_kg_s + (kg_k_s - self.return_kg_s * return_dk) / tank_dk).min(most_kg_s)
    }
}

/// What one flow at the tap takes.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mixed {
    /// Water from tank and return, kg/s.
    pub tank_kg_s: f64,
    /// Heat from the booster, W.
    pub booster_w: f64,
    /// Whether the tap gets less heat than wanted.
    pub short: bool,
    /// Whether the booster stays off because less is wanted of it than its smallest fire.
    pub unlit: bool,
    /// Water on the hot side of the tap, behind valve and booster, K; 0 where none is taken.
    pub hot_side_k: f64,
}

/// A tap that runs, what it draws from, and what stands between.
struct Tap<'a> {
    kg_s: f64,
    use_k: f64,
    mains_k: f64,
    source: Source,
    fittings: Fittings<'a>,
}

/// Flow from the tank and heat from the booster for a tap that wants `tap_kg_s` at `use_k`.
///
/// The mixing valve lets through no more than its set point: `T_v = min(T_tank, T_set)`, with mains water mixed in. The booster lifts
/// that flow to its own set point, unless that needs less than its smallest fire or the water is hotter than it allows; beyond its power
/// it lifts as far as it can. At the tap mains water is mixed in: `m = f (T_use - T_mains)/(T_hot - T_mains)`.
///
/// # Arguments
/// tap flow (kg/s, 0 or more), use and mains temperatures (K), the water drawn from.
/// # Source
/// Derived here: heat balance of the streams, docs/MODEL.md section 5.
pub fn mix(tap_kg_s: f64, use_k: f64, mains_k: f64, source: Source, fittings: Fittings<'_>) -> Mixed {
    if tap_kg_s <= 0.0 || use_k <= mains_k {
        return Mixed::default();
    }
    Tap { kg_s: tap_kg_s, use_k, mains_k, source, fittings }.mix()
}

/// As [`mix`], for taps of different temperatures that run at once behind one valve and one booster: each mixes the water of their hot side to
/// its own temperature, and takes it alone where it is not hotter than that.
///
/// # Arguments
/// all their flow (kg/s, 0 or more), their shares of it and temperatures (K), mains temperature (K), the water drawn from.
/// # Source
/// Derived here: heat balance of the streams, docs/MODEL.md section 5.
pub fn mix_at_once(
    tap_kg_s: f64,
    taps: &[TapShare],
    mains_k: f64,
    source: Source,
    fittings: Fittings<'_>,
) -> Mixed {
    let wanting = || taps.iter().filter(|tap| tap.frac > 0.0 && tap.use_k > mains_k);
    let kg_s = tap_kg_s * wanting().map(|tap| tap.frac).sum::<f64>();
    if kg_s <= 0.0 {
        return Mixed::default();
    }
    let hottest_k = wanting().map(|tap| tap.use_k).fold(mains_k, f64::max);
    AtOnce { tap_kg_s, taps, one: Tap { kg_s, use_k: hottest_k, mains_k, source, fittings } }.mix()
}

/// Taps that run at once.
struct AtOnce<'a> {
    /// Flow of all taps, kg/s.
    tap_kg_s: f64,
    taps: &'a [TapShare],
    /// Those that want hot water, as one tap of the hottest.
    one: Tap<'a>,
}

impl AtOnce<'_> {
    /// Flow that they take from a hot side of this temperature, kg/s.
    fn hot_kg_s(&self, hot_k: f64) -> f64 {
        let hot_dk = hot_k - self.one.mains_k;
        let part = |tap: &TapShare| match tap.use_k - self.one.mains_k {
            ..=0.0 => 0.0,
            wanted_dk if hot_dk > wanted_dk => tap.frac * wanted_dk / hot_dk,
            _ => tap.frac,
        };
        self.tap_kg_s * self.taps.iter().map(part).sum::<f64>()
    }

    /// The flow that they take from a hot side whose temperature hangs on the flow, kg/s.
    fn flow_kg_s(&self, hot_k: impl Fn(f64) -> f64) -> f64 {
        let (mut low_kg_s, mut high_kg_s) = (0.0, self.one.kg_s);
        for _ in 0..HALVINGS {
            let middle_kg_s = 0.5 * (low_kg_s + high_kg_s);
            if self.hot_kg_s(hot_k(middle_kg_s)) > middle_kg_s {
                low_kg_s = middle_kg_s;
            } else {
                high_kg_s = middle_kg_s;
            }
        }
        high_kg_s
    }

    fn mixed(&self, kg_s: f64, hot_side_k: f64, booster_w: f64) -> Mixed {
        let short = hot_side_k < self.one.use_k;
        Mixed { tank_kg_s: self.one.tank_part_kg_s(kg_s), booster_w, short, unlit: false, hot_side_k }
    }

    fn mix(&self) -> Mixed {
        let one = &self.one;
        let unaided_kg_s = self.flow_kg_s(|kg_s| one.passes_k(kg_s));
        let unaided = self.mixed(unaided_kg_s, one.passes_k(unaided_kg_s), 0.0);
        let Some(booster) = one.fittings.booster else { return unaided };
        if unaided.hot_side_k >= booster.set_k || unaided.hot_side_k > booster.highest_inlet_k {
            return unaided;
        }
        let kg_s = self.hot_kg_s(booster.set_k);
        let lifts_w =
            |kg_s: f64, to_k: f64| kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K * (to_k - one.passes_k(kg_s));
        let wanted_w = lifts_w(kg_s, booster.set_k);
        if wanted_w < booster.least_w {
            return Mixed { unlit: true, ..unaided };
        }
        if wanted_w <= booster.most_w {
            return self.mixed(kg_s, booster.set_k, wanted_w);
        }
        let fired_k =
            |kg_s: f64| one.passes_k(kg_s) + booster.most_w / (kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K);
        let kg_s = self.flow_kg_s(fired_k);
        // Where less than its full fire is enough for all the water, the hottest tap is what it is for.
        let hot_side_k = fired_k(kg_s).min(one.use_k.max(booster.set_k));
        self.mixed(kg_s, hot_side_k, lifts_w(kg_s, hot_side_k).min(booster.most_w))
    }
}

impl Tap<'_> {
    fn mix(&self) -> Mixed {
        let unaided = self.unaided();
        let Some(booster) = self.fittings.booster else { return unaided };
        if unaided.hot_side_k >= booster.set_k || unaided.hot_side_k > booster.highest_inlet_k {
            return unaided;
        }
        let kg_s = self.wanted_kg_k_s() / (booster.set_k - self.mains_k);
        let wanted_w = kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K * (booster.set_k - self.passes_k(kg_s));
        if wanted_w > booster.most_w {
            self.at_full_fire(booster.most_w)
        } else if wanted_w >= booster.least_w {
            let hot_side_k = booster.set_k;
            Mixed {
                tank_kg_s: self.tank_part_kg_s(kg_s),
                booster_w: wanted_w,
                hot_side_k,
                ..Mixed::default()
            }
        } else {
            Mixed { unlit: true, ..unaided }
        }
    }

    /// What is wanted over mains, kg K/s.
    fn wanted_kg_k_s(&self) -> f64 {
        self.kg_s * (self.use_k - self.mains_k)
    }

    /// Set point of the valve, K; never below mains, infinite without one.
    fn valve_k(&self) -> f64 {
        self.fittings.valve_k.map_or(f64::INFINITY, |valve_k| valve_k.max(self.mains_k))
    }

    /// Temperature of a flow behind the valve, K.
    fn passes_k(&self, kg_s: f64) -> f64 {
        self.source.mixed_k(kg_s).min(self.valve_k())
    }

    /// What of a flow behind the valve comes from tank and return, kg/s; the rest is mains water.
    fn tank_part_kg_s(&self, kg_s: f64) -> f64 {
        let valve_k = self.valve_k();
        if self.source.mixed_k(kg_s) > valve_k {
            self.source.carrying_kg_s(kg_s * (valve_k - self.mains_k), self.mains_k, kg_s)
        } else {
            kg_s
        }
    }

    /// Without the booster.
    fn unaided(&self) -> Mixed {
        let (wanted_kg_k_s, valve_k) = (self.wanted_kg_k_s(), self.valve_k());
        let valve_short = valve_k < self.use_k;
        let let_through = if valve_short { self.kg_s * (valve_k - self.mains_k) } else { wanted_kg_k_s };
        let tank_kg_s = self.source.carrying_kg_s(let_through, self.mains_k, self.kg_s);
        let all_short = tank_kg_s >= self.kg_s && self.source.mixed_k(self.kg_s) < self.use_k;
        let hot_side_k = self.passes_k(tank_kg_s);
        Mixed { tank_kg_s, short: valve_short || all_short, hot_side_k, ..Mixed::default() }
    }

    fn at_full_fire(&self, most_w: f64) -> Mixed {
        let c = WATER_SPECIFIC_HEAT_J_PER_KG_K;
        let missing_kg_k_s = (self.wanted_kg_k_s() - most_w / c).max(0.0);
        let all_dk = self.passes_k(self.kg_s) - self.mains_k;
        if all_dk > 0.0 && missing_kg_k_s < self.kg_s * all_dk {
            let tank_kg_s = self.source.carrying_kg_s(missing_kg_k_s, self.mains_k, self.kg_s);
            let through_k = self.passes_k(tank_kg_s);
            let through_dk = through_k - self.mains_k;
            // What passes the booster: the tank's water, and the mains water of the valve.
            let kg_s = if through_dk > 0.0 { missing_kg_k_s / through_dk } else { tank_kg_s };
            let hot_side_k = if kg_s > 0.0 { through_k + most_w / (c * kg_s) } else { self.use_k };
            return Mixed { tank_kg_s, booster_w: most_w, hot_side_k, ..Mixed::default() };
        }
        // All of the tap's water passes the booster; from a tank colder than the mains the full fire may still suffice.
        let wanted_w = self.kg_s * c * (self.use_k - self.mains_k - all_dk);
        let booster_w = most_w.min(wanted_w);
        let hot_side_k = self.passes_k(self.kg_s) + booster_w / (c * self.kg_s);
        let tank_kg_s = self.tank_part_kg_s(self.kg_s);
        Mixed { tank_kg_s, booster_w, short: wanted_w > most_w, hot_side_k, ..Mixed::default() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const BOOSTER: Booster = Booster {
        set_k: 318.15,
        most_w: 20_000.0,
        least_w: 2_000.0,
        efficiency: 0.9,
        highest_inlet_k: f64::INFINITY,
    };

    const BARE: Fittings<'static> = Fittings { valve_k: None, booster: None };

    /// Heat at the tap over mains for what `mix` says, W.
    fn delivered_w(mixed: Mixed, mains_k: f64, hot_k: f64) -> f64 {
        mixed.tank_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K * (hot_k - mains_k) + mixed.booster_w
    }

    #[test]
    fn a_tap_at_40_from_60_hot_and_10_cold_takes_six_tenths_hot() {
        // Heat balance of two streams: (40 - 10)/(60 - 10) = 0.600.
        let mixed = mix(0.1, 313.15, 283.15, Source::tank(333.15), BARE);
        assert_relative_eq!(mixed.tank_kg_s, 0.06, max_relative = 1e-14);
    }

    #[test]
    fn whatever_is_not_short_gets_exactly_what_it_wants() {
        let capped = Booster { highest_inlet_k: 316.5, ..BOOSTER };
        for hot_k in [284.0, 300.0, 313.0, 313.15, 316.0, 317.0, 318.0, 330.0] {
            for tap_kg_s in [0.02, 0.1, 0.2] {
                for booster in [None, Some(&BOOSTER), Some(&capped)] {
                    for valve_k in [None, Some(312.0), Some(314.0), Some(320.0)] {
                        let fittings = Fittings { valve_k, booster };
                        let mixed = mix(tap_kg_s, 313.15, 283.15, Source::tank(hot_k), fittings);
                        let want_w = tap_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K * 30.0;
                        let got_w = delivered_w(mixed, 283.15, hot_k);
                        assert!(mixed.tank_kg_s <= tap_kg_s * (1.0 + 1e-12));
                        if mixed.short {
                            assert!(got_w < want_w, "{fittings:?} {mixed:?}");
                        } else {
                            assert_relative_eq!(got_w, want_w, max_relative = 1e-12);
                        }
                        // What is on the hot side carries what the tap gets.
                        assert!(mixed.hot_side_k >= 283.15 + got_w / (tap_kg_s * 4181.6) - 1e-9);
                    }
                }
            }
        }
    }

    /// Taps of one temperature that are told apart are one tap: each of the ways of valve and booster, 1e-9.
    #[test]
    fn taps_at_once_of_one_temperature_are_one_tap() {
        let taps = [0.25, 0.75].map(|frac| TapShare { frac, use_k: 313.15 });
        let capped = Booster { highest_inlet_k: 316.5, ..BOOSTER };
        for hot_k in [284.0, 300.0, 313.0, 316.0, 317.0, 318.0, 330.0] {
            for tap_kg_s in [0.02, 0.1, 0.2] {
                for booster in [None, Some(&BOOSTER), Some(&capped)] {
                    for valve_k in [None, Some(312.0), Some(314.0), Some(320.0)] {
                        for return_kg_s in [0.0, 0.05] {
                            let fittings = Fittings { valve_k, booster };
                            let source = Source { return_kg_s, return_k: 308.0, tank_k: hot_k };
                            let one = mix(tap_kg_s, 313.15, 283.15, source, fittings);
                            let several = mix_at_once(tap_kg_s, &taps, 283.15, source, fittings);
                            assert_relative_eq!(several.tank_kg_s, one.tank_kg_s, max_relative = 1e-9);
                            assert_relative_eq!(several.booster_w, one.booster_w, max_relative = 1e-9);
                            assert_relative_eq!(several.hot_side_k, one.hot_side_k, max_relative = 1e-9);
                            assert_eq!(several.unlit, one.unlit);
                        }
                    }
                }
            }
        }
    }

    /// A shower of 40 °C and a sink of 55 °C from 45 °C and 10 °C: the shower takes 30/35 of its flow, the sink all of its own, and is short.
    #[test]
    fn a_hot_tap_beside_a_shower_is_short_alone() {
        let taps = [TapShare { frac: 2.0 / 3.0, use_k: 313.15 }, TapShare { frac: 1.0 / 3.0, use_k: 328.15 }];
        let mixed = mix_at_once(0.15, &taps, 283.15, Source::tank(318.15), BARE);
        assert_relative_eq!(mixed.tank_kg_s, 0.1 * 30.0 / 35.0 + 0.05, max_relative = 1e-12);
        assert!(mixed.short);
        // From 60 °C both get what they want, as one tap of 45 °C does.
        let enough = mix_at_once(0.15, &taps, 283.15, Source::tank(333.15), BARE);
        assert_relative_eq!(enough.tank_kg_s, 0.15 * 35.0 / 50.0, max_relative = 1e-12);
        assert!(!enough.short);
        // Beside a tap that wants less than mains water, which takes nothing hot, be the tank warm or cold.
        let cold = [taps[0], TapShare { frac: 1.0 / 3.0, use_k: 278.15 }];
        for (tank_k, hot_kg_s) in [(333.15, 0.1 * 30.0 / 50.0), (280.0, 0.1)] {
            let mixed = mix_at_once(0.15, &cold, 283.15, Source::tank(tank_k), BARE);
            assert_relative_eq!(mixed.tank_kg_s, hot_kg_s, max_relative = 1e-12);
        }
    }

    #[test]
    fn the_smallest_fire_leaves_a_lukewarm_tap() {
        // 0.02 kg/s from 312.5 K needs 0.02 x 30/35 x 4181.6 x 5.65 = 405 W: below the smallest fire.
        let mixed =
            mix(0.02, 313.15, 283.15, Source::tank(312.5), Fittings { booster: Some(&BOOSTER), ..BARE });
        let off = Mixed { tank_kg_s: 0.02, short: true, unlit: true, hot_side_k: 312.5, booster_w: 0.0 };
        assert_eq!(mixed, off);
    }

    #[test]
    fn a_valve_below_the_booster_s_set_point_makes_it_heat_again_what_was_hot() {
        // Tank 60 °C, valve 42 °C, booster 45 °C: 0.1 x 30/35 kg/s lifted by 3 K, 1075 W, below a smallest fire of 2 kW but not of 1 kW.
        let eager = Booster { least_w: 1_000.0, ..BOOSTER };
        let with_valve = Fittings { valve_k: Some(315.15), booster: Some(&eager) };
        let mixed = mix(0.1, 313.15, 283.15, Source::tank(333.15), with_valve);
        assert_relative_eq!(mixed.booster_w, 0.1 * 30.0 / 35.0 * 4181.6 * 3.0, max_relative = 1e-12);
        // The valve takes 32/50 of its flow from the tank.
        assert_relative_eq!(mixed.tank_kg_s, 0.1 * 30.0 / 35.0 * 32.0 / 50.0, max_relative = 1e-12);
        assert_eq!(
            mix(0.1, 313.15, 283.15, Source::tank(333.15), Fittings { valve_k: None, ..with_valve })
                .booster_w,
            0.0
        );
    }

    #[test]
    fn water_hotter_than_the_booster_allows_passes_it_cold() {
        let capped = Booster { highest_inlet_k: 308.15, ..BOOSTER };
        let at = |hot_k: f64| {
            mix(0.1, 313.15, 283.15, Source::tank(hot_k), Fittings { booster: Some(&capped), ..BARE })
        };
        assert!(at(308.15).booster_w > 0.0 && !at(308.15).short);
        assert_eq!((at(308.2).booster_w, at(308.2).short), (0.0, true));
    }

    #[test]
    fn the_hot_side_shows_what_a_tap_without_cold_water_would_give() {
        let at = |hot_k: f64, fittings| mix(0.1, 313.15, 283.15, Source::tank(hot_k), fittings).hot_side_k;
        assert_eq!(at(333.15, BARE), 333.15);
        assert_eq!(at(333.15, Fittings { valve_k: Some(321.15), ..BARE }), 321.15);
        assert_eq!(at(293.15, Fittings { booster: Some(&BOOSTER), ..BARE }), 318.15);
        assert_eq!(mix(0.0, 313.15, 283.15, Source::tank(333.15), BARE).hot_side_k, 0.0);
    }

    /// The return serves the taps first, however cold it is; the tank makes up what it lacks. Heat balance, 1e-12.
    #[test]
    fn a_cold_return_is_made_up_for_by_the_tank() {
        let source = Source { return_kg_s: 0.16, return_k: 289.15, tank_k: 314.15 };
        for (booster, most_w) in
            [(None, 0.0), (Some(Booster { least_w: 0.0, most_w: 7_000.0, ..BOOSTER }), 7_000.0)]
        {
            let fittings = Fittings { booster: booster.as_ref(), ..BARE };
            let mixed = mix(0.26, 304.0, 290.75, source, fittings);
            let drawn_w = 4181.6 * mixed.tank_kg_s * (source.mixed_k(mixed.tank_kg_s) - 290.75);
            assert!(mixed.tank_kg_s > 0.16 && mixed.booster_w <= most_w);
            let wanted_w = 0.26 * 4181.6 * 13.25;
            if mixed.short {
                assert!(mixed.tank_kg_s == 0.26 && drawn_w + mixed.booster_w < wanted_w, "{mixed:?}");
            } else {
                assert_relative_eq!(drawn_w + mixed.booster_w, wanted_w, max_relative = 1e-12);
            }
            assert_eq!(mixed.short, booster.is_none());
        }
    }
}

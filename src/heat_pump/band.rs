//! How sure an anchored map is, by which lines of the data sheet it rests on.
//!
//! The figures are those of a trial: seven units that differ from what the maps assume (poorer exchangers, another compressor, a
//! suction exchanger, a lower pressure cap, deep subcooling) are anchored at a few of their own points, and the rest of their points
//! in rooms of 0 to 10 °C is compared. A band holds nine tenths of the points of every unit that may be meant.

use crate::constants::ZERO_CELSIUS_K;

/// Bands are not narrower than this, whatever the trial says. Common practice, no source: data sheets are rounded, and units of a
/// series differ.
const LEAST_FRAC: f64 = 0.05;
/// Band of the heat where only a nominal value is known. Derived here: a heat given for air of 20 °C, as on labels, is 25 to 36 %
/// less at 7 °C by the maps.
const NOMINAL_HEAT_FRAC: f64 = 0.35;
/// Inlets this far apart, K, tell how the unit takes warm water: the trial's are 30 to 40 K apart.
const BOTH_INLETS_DK: f64 = 25.0;
/// Inlet above which a single line counts as one with warm water, K.
const WARM_INLET_K: f64 = ZERO_CELSIUS_K + 30.0;
/// Room air further than this from the set point, K, says little about the room: the trial's is 10 to 20 K away.
const FAR_AIR_DK: f64 = 10.0;
/// A narrower band than this much narrower is worth asking for.
const WORTH_ASKING_FRAC: f64 = 0.02;
/// Room air of the line that is asked for, K.
const ASKED_AIR_K: f64 = ZERO_CELSIUS_K + 7.0;

/// What a band rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// Carbon dioxide.
    pub transcritical: bool,
    /// Whether the scenario names the cycle (pressure cap, suction exchanger, subcooling) or it was assumed.
    pub cycle_given: bool,
    /// Whether the water is heated in many passes.
    pub multi_pass: bool,
    /// The room's set point, K.
    pub room_k: f64,
    /// Warmest water that may enter, K.
    pub warmest_inlet_k: f64,
    /// Room air and water inlet, K, of the lines that say a COP.
    pub cop_at: Vec<(f64, f64)>,
    /// Room air and water inlet, K, of the lines that say a heat output.
    pub heat_at: Vec<(f64, f64)>,
}

/// How far COP and heat of the real unit may be from the calculated ones, either side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Of the COP.
    pub cop_frac: f64,
    /// Of the heat.
    pub heat_frac: f64,
}

/// One more line of the data sheet, and the band that it would leave.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Narrower {
    /// Room air of the line, K.
    pub room_air_k: f64,
    /// Water entering, K.
    pub water_in_k: f64,
    /// The band with it.
    pub band: Band,
}

/// Half widths of COP and heat, per cent, by the lines there are.
struct Trial {
    /// COP without any line; heat is [`NOMINAL_HEAT_FRAC`] then.
    none: f64,
    /// Lines near the room's air: with cold water, with warm water, with both.
    near: [(f64, f64); 3],
    /// The same where all lines are far from the room's air.
    far: [(f64, f64); 3],
}

/// Results of the trial, rounded up to whole per cents. `tests/published/anchoring.rs` repeats it. In many passes a line with
/// cold water in warm air has hardly any lift and tells nothing: it counts like none.
/// Derived here: from units calculated with a general fluid-property library, `tests/data/true_units.py`.
fn trial(evidence: &Evidence) -> &'static Trial {
    match (evidence.transcritical, evidence.multi_pass, evidence.cycle_given) {
        (true, false, true) => &Trial {
            none: 25.0,
            near: [(14.0, 14.0), (11.0, 13.0), (6.0, 10.0)],
            far: [(22.0, 17.0), (15.0, 14.0), (15.0, 14.0)],
        },
        (true, false, false) => &Trial {
            none: 25.0,
            near: [(14.0, 25.0), (11.0, 16.0), (6.0, 14.0)],
            far: [(22.0, 25.0), (15.0, 15.0), (15.0, 14.0)],
        },
        (true, true, true) => &Trial {
            none: 36.0,
            near: [(30.0, 18.0), (22.0, 12.0), (7.0, 8.0)],
            far: [(36.0, 27.0), (18.0, 15.0), (18.0, 17.0)],
        },
        (true, true, false) => &Trial {
            none: 36.0,
            near: [(30.0, 26.0), (22.0, 38.0), (7.0, 27.0)],
            far: [(36.0, 27.0), (18.0, 49.0), (18.0, 35.0)],
        },
        (false, false, true) => &Trial {
            none: 20.0,
            near: [(5.0, 5.0), (5.0, 5.0), (5.0, 5.0)],
            far: [(5.0, 5.0), (9.0, 5.0), (6.0, 5.0)],
        },
        (false, false, false) => &Trial {
            none: 27.0,
            near: [(18.0, 22.0), (24.0, 29.0), (6.0, 7.0)],
            far: [(18.0, 21.0), (24.0, 29.0), (7.0, 8.0)],
        },
        (false, true, _) => &Trial {
            none: 32.0,
            near: [(20.0, 5.0), (16.0, 5.0), (6.0, 5.0)],
            far: [(32.0, 5.0), (12.0, 5.0), (17.0, 5.0)],
        },
    }
}

/// Which column of the trial the lines belong to: cold, warm, both; `None` without a line.
fn inlets(at: &[(f64, f64)]) -> Option<usize> {
    let (coldest, warmest) = at.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (_, inlet)| {
        (low.min(*inlet), high.max(*inlet))
    });
    match () {
        () if at.is_empty() => None,
        // Celsius written in kelvin loses its last digits.
        () if warmest - coldest >= BOTH_INLETS_DK - 1e-6 => Some(2),
        () if 0.5 * (coldest + warmest) < WARM_INLET_K => Some(0),
        () => Some(1),
    }
}

impl Evidence {
    /// Whether no line is near the room's air.
    pub fn far_air(at: &[(f64, f64)], room_k: f64) -> bool {
        !at.is_empty() && at.iter().all(|(air_k, _)| (air_k - room_k).abs() > FAR_AIR_DK)
    }

    /// The band of these lines.
    pub fn band(&self) -> Band {
        let trial = trial(self);
        let cell = |at: &[(f64, f64)]| {
            let rows = if Self::far_air(at, self.room_k) { &trial.far } else { &trial.near };
            inlets(at).map(|column| rows[column])
        };
        let at_least = |percent: f64| (0.01 * percent).max(LEAST_FRAC);
        Band {
            cop_frac: at_least(cell(&self.cop_at).map_or(trial.none, |(cop, _)| cop)),
            heat_frac: cell(&self.heat_at).map_or(NOMINAL_HEAT_FRAC, |(_, heat)| at_least(heat)),
        }
    }

    /// The line that would narrow the band most, if one does so by much: with cold or with warm water, in air of 7 °C.
    pub fn narrower(&self) -> Option<Narrower> {
        let band = self.band();
        let width = |band: Band| band.cop_frac + band.heat_frac;
        self.asked_inlets_k()
            .map(|water_in_k| {
                let mut more = self.clone();
                more.cop_at.push((ASKED_AIR_K, water_in_k));
                more.heat_at.push((ASKED_AIR_K, water_in_k));
                Narrower { room_air_k: ASKED_AIR_K, water_in_k, band: more.band() }
            })
            .into_iter()
            .filter(|asked| width(asked.band) <= width(band) - WORTH_ASKING_FRAC)
            .min_by(|a, b| width(a.band).total_cmp(&width(b.band)))
    }

    /// The band, were the cycle named, if it is not and that would narrow it by much.
    pub fn with_cycle_named(&self) -> Option<Band> {
        let (open, named) = (self.band(), Self { cycle_given: true, ..self.clone() }.band());
        let narrower = |open: f64, named: f64| named <= open - WORTH_ASKING_FRAC;
        (narrower(open.cop_frac, named.cop_frac) || narrower(open.heat_frac, named.heat_frac))
            .then_some(named)
    }

    /// Water entering of the lines that are asked for, K: warm water, as warm as the unit takes, and cold.
    fn asked_inlets_k(&self) -> [f64; 2] {
        let warm_degc = if self.multi_pass { 50.0 } else { 45.0 };
        // Just at its limit no sheet shows a line; sheets go in steps of 5 K.
        let most_degc = 5.0 * ((self.warmest_inlet_k - ZERO_CELSIUS_K - 1.0) / 5.0).floor();
        let warm_k = ZERO_CELSIUS_K + f64::clamp(warm_degc, 10.0, most_degc.max(10.0));
        [warm_k, ZERO_CELSIUS_K + 10.0]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn degc(celsius: f64) -> f64 {
        ZERO_CELSIUS_K + celsius
    }

    fn evidence(lines: &[(f64, f64)]) -> Evidence {
        let at: Vec<_> = lines.iter().map(|(air, inlet)| (degc(*air), degc(*inlet))).collect();
        Evidence {
            transcritical: true,
            cycle_given: true,
            multi_pass: false,
            room_k: degc(4.0),
            warmest_inlet_k: degc(50.0),
            cop_at: at.clone(),
            heat_at: at,
        }
    }

    #[test]
    fn a_second_line_with_warm_water_narrows_the_band() {
        let (one, two) = (evidence(&[(7.0, 10.0)]), evidence(&[(7.0, 10.0), (7.0, 45.0)]));
        assert!(two.band().cop_frac < one.band().cop_frac && two.band().heat_frac < one.band().heat_frac);
        let asked = one.narrower().expect("a warm line helps");
        assert_eq!((asked.room_air_k, asked.water_in_k), (degc(7.0), degc(45.0)));
        assert_eq!(asked.band, two.band());
        assert_eq!(two.narrower(), None);
    }

    #[test]
    fn a_line_with_warm_water_asks_for_cold_water() {
        let asked = evidence(&[(7.0, 45.0)]).narrower().expect("a cold line helps");
        assert_eq!(asked.water_in_k, degc(10.0));
    }

    #[test]
    fn no_warmer_line_is_asked_for_than_the_unit_takes() {
        let of = |stop: f64| Evidence { warmest_inlet_k: degc(stop), ..evidence(&[(7.0, 10.0)]) }.narrower();
        assert_eq!(of(45.0).map(|asked| asked.water_in_k), Some(degc(40.0)));
        assert_eq!(of(46.0).map(|asked| asked.water_in_k), Some(degc(45.0)));
        assert_eq!(of(30.0), None);
    }

    #[test]
    fn inlets_are_both_from_25_k_on() {
        assert_eq!(inlets(&[(0.0, degc(10.0)), (0.0, degc(34.9))]), Some(0));
        assert_eq!(inlets(&[(0.0, degc(10.0)), (0.0, degc(35.1))]), Some(2));
        assert_eq!(inlets(&[(0.0, degc(29.9))]), Some(0));
        assert_eq!(inlets(&[(0.0, degc(30.1))]), Some(1));
        assert_eq!(inlets(&[]), None);
    }

    #[test]
    fn a_line_far_from_the_room_s_air_tells_less() {
        let (near, far) = (evidence(&[(13.9, 10.0)]), evidence(&[(14.1, 10.0)]));
        assert!(near.band().cop_frac < far.band().cop_frac);
        assert!(Evidence::far_air(&far.cop_at, degc(4.0)) && !Evidence::far_air(&near.cop_at, degc(4.0)));
    }

    #[test]
    fn without_a_line_the_band_is_widest_and_any_line_is_asked_for() {
        let none = evidence(&[]);
        assert_eq!(none.band(), Band { cop_frac: 0.25, heat_frac: 0.35 });
        assert!(none.narrower().is_some_and(|asked| asked.band.cop_frac < 0.25));
        let heat_only = Evidence { cop_at: Vec::new(), ..evidence(&[(7.0, 10.0)]) };
        assert_eq!(heat_only.band(), Band { cop_frac: 0.25, heat_frac: 0.14 });
    }

    #[test]
    fn what_is_not_known_of_the_cycle_widens_the_band() {
        for multi_pass in [false, true] {
            for transcritical in [false, true] {
                let given = Evidence { transcritical, multi_pass, ..evidence(&[(7.0, 10.0)]) };
                let open = Evidence { cycle_given: false, ..given.clone() };
                assert!(open.band().cop_frac >= given.band().cop_frac);
                assert!(open.band().heat_frac >= given.band().heat_frac);
            }
        }
    }
}

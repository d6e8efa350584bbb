//! How a day's hot water is spread over the day: tapping patterns and the flow at the taps.

use crate::plant::DAY_S;

/// Edges of the day closer than this are one edge, s. It only has to be wider than the rounding of
/// a time of day (about 1e-11 s); it bounds the relative error of a day's water at some 1e-13.
const SAME_EDGE_S: f64 = 1e-9;

/// One draw of a tapping pattern.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draw {
    /// Start, s after midnight.
    pub start_s: f64,
    /// Useful energy of the draw in the pattern, kWh.
    pub energy_kwh: f64,
    /// Flow at the tap, L/min.
    pub flow_l_per_min: f64,
    /// Temperature from which on the pattern counts the heat as useful, °C. Not used for the flow.
    pub useful_degc: f64,
    /// Temperature that the pattern wants to be reached during the draw, °C; `None`: nothing wanted.
    /// Not used for the flow.
    pub peak_degc: Option<f64>,
}

const fn draw(hour: u32, minute: u32, energy_kwh: f64, flow: f64, useful: f64, peak: Option<f64>) -> Draw {
    Draw {
        start_s: (hour * 3600 + minute * 60) as f64,
        energy_kwh,
        flow_l_per_min: flow,
        useful_degc: useful,
        peak_degc: peak,
    }
}

/// The small draw that both patterns repeat all day.
const fn small(hour: u32, minute: u32) -> Draw {
    draw(hour, minute, 0.105, 3.0, 25.0, None)
}

/// Load profile M. Source: Commission Regulation (EU) No 814/2013, Annex III, Table 1. Checked: original read, every cell.
const PROFILE_M: [Draw; 23] = [
    small(7, 0),
    draw(7, 5, 1.4, 6.0, 40.0, None),
    small(7, 30),
    small(8, 1),
    small(8, 15),
    small(8, 30),
    small(8, 45),
    small(9, 0),
    small(9, 30),
    draw(10, 30, 0.105, 3.0, 10.0, Some(40.0)),
    small(11, 30),
    small(11, 45),
    draw(12, 45, 0.315, 4.0, 10.0, Some(55.0)),
    small(14, 30),
    small(15, 30),
    small(16, 30),
    small(18, 0),
    draw(18, 15, 0.105, 3.0, 40.0, None),
    draw(18, 30, 0.105, 3.0, 40.0, None),
    small(19, 0),
    draw(20, 30, 0.735, 4.0, 10.0, Some(55.0)),
    small(21, 15),
    draw(21, 30, 1.4, 6.0, 40.0, None),
];

/// Load profile L. Source: Commission Regulation (EU) No 814/2013, Annex III, Table 1. Checked: original read, every cell.
const PROFILE_L: [Draw; 24] = [
    small(7, 0),
    draw(7, 5, 1.4, 6.0, 40.0, None),
    small(7, 30),
    small(7, 45),
    draw(8, 5, 3.605, 10.0, 10.0, Some(40.0)),
    small(8, 25),
    small(8, 30),
    small(8, 45),
    small(9, 0),
    small(9, 30),
    draw(10, 30, 0.105, 3.0, 10.0, Some(40.0)),
    small(11, 30),
    small(11, 45),
    draw(12, 45, 0.315, 4.0, 10.0, Some(55.0)),
    small(14, 30),
    small(15, 30),
    small(16, 30),
    small(18, 0),
    draw(18, 15, 0.105, 3.0, 40.0, None),
    draw(18, 30, 0.105, 3.0, 40.0, None),
    small(19, 0),
    draw(20, 30, 0.735, 4.0, 10.0, Some(55.0)),
    draw(21, 0, 3.605, 10.0, 10.0, Some(40.0)),
    small(21, 30),
];

/// A tapping pattern: when in the day hot water is drawn, and in which shares.
///
/// Both are load profiles of Commission Regulation (EU) No 814/2013, Annex III, Table 1. A pattern
/// gives the shape of the day alone; how much is drawn is the household's own figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pattern {
    /// 23 draws, two of them showers; no bath.
    M,
    /// 24 draws with two baths, morning and evening.
    L,
}

impl Pattern {
    /// Every pattern.
    pub const ALL: [Pattern; 2] = [Pattern::M, Pattern::L];

    /// The pattern's name in the regulation.
    pub fn name(self) -> &'static str {
        match self {
            Pattern::M => "M",
            Pattern::L => "L",
        }
    }

    /// The pattern of that name, if there is one.
    pub fn by_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|pattern| pattern.name() == name)
    }

    /// The names of all patterns.
    pub fn names() -> Vec<&'static str> {
        Self::ALL.into_iter().map(Self::name).collect()
    }

    /// The draws in order of time.
    pub fn draws(self) -> &'static [Draw] {
        match self {
            Pattern::M => &PROFILE_M,
            Pattern::L => &PROFILE_L,
        }
    }

    /// Energy of the pattern's whole day, kWh: the regulation's Qref.
    pub fn reference_energy_kwh(self) -> f64 {
        self.draws().iter().map(|draw| draw.energy_kwh).sum()
    }
}

/// A stretch of the day that may pass midnight and is repeated every day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct DaySpan {
    /// Start, s after midnight.
    pub start_s: f64,
    /// Length, s; longer than a day is allowed and then overlaps itself.
    pub length_s: f64,
}

impl DaySpan {
    /// Start and end as times of day.
    pub fn edges(self) -> [f64; 2] {
        [self.start_s.rem_euclid(DAY_S), (self.start_s + self.length_s).rem_euclid(DAY_S)]
    }

    /// How many times the daily repeated stretch covers a time of day: 0 or 1, more when it is longer than a day.
    pub fn cover(self, time_s: f64) -> f64 {
        let since_start_s = (time_s - self.start_s).rem_euclid(DAY_S);
        ((self.length_s - since_start_s) / DAY_S).ceil().max(0.0)
    }
}

/// Cuts the day from 0:00 to 24:00 at all edges: pairs of start and end, s, without gap.
pub(crate) fn cut_day(edges: impl IntoIterator<Item = f64>) -> Vec<(f64, f64)> {
    let mut cuts: Vec<f64> =
        edges.into_iter().filter(|edge| *edge > SAME_EDGE_S && *edge < DAY_S - SAME_EDGE_S).collect();
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|later, earlier| *later - *earlier <= SAME_EDGE_S);
    let ends = cuts.iter().copied().chain([DAY_S]);
    [0.0].into_iter().chain(cuts.iter().copied()).zip(ends).collect()
}

/// Flow at the taps through the day, at use temperature: pairs of start (s after midnight) and flow
/// (kg/s), constant until the next start, the last until midnight. The first starts at 0:00.
///
/// Every draw has the share of the day's water that it has of the pattern's energy; its flow is the
/// pattern's, and its length follows. So the draws are **volume-limited**: the same water runs
/// however warm it comes. Draws that overlap add, a draw past midnight goes on the next morning.
/// Flow times length, summed over the day, is `daily_kg`.
///
/// # Arguments
/// - `daily_kg`: water a day at the tap, kg, 0 or more
/// - `litre_kg`: mass of a litre at use temperature, kg, above 0
pub fn tap_flows(pattern: Pattern, daily_kg: f64, litre_kg: f64) -> Vec<(f64, f64)> {
    let day_kwh = pattern.reference_energy_kwh();
    let draws: Vec<(DaySpan, f64)> = pattern
        .draws()
        .iter()
        .map(|draw| {
            let kg_s = draw.flow_l_per_min * litre_kg / 60.0;
            let length_s = daily_kg * draw.energy_kwh / day_kwh / kg_s;
            (DaySpan { start_s: draw.start_s, length_s }, kg_s)
        })
        .collect();
    let mut flows: Vec<(f64, f64)> = cut_day(draws.iter().flat_map(|(span, _)| span.edges()))
        .into_iter()
        .map(|(start_s, end_s)| {
            let middle_s = 0.5 * (start_s + end_s);
            (start_s, draws.iter().map(|(span, kg_s)| span.cover(middle_s) * kg_s).sum())
        })
        .collect();
    flows.dedup_by(|later, earlier| later.1 == earlier.1);
    // Times of day are rounded at 1e-11 s, which a short draw feels; the flow makes good for it.
    let drawn_kg = day_sum_kg(&flows);
    if drawn_kg > 0.0 {
        flows.iter_mut().for_each(|flow| flow.1 *= daily_kg / drawn_kg);
    }
    flows
}

/// Water that the flows carry in a day, kg.
fn day_sum_kg(flows: &[(f64, f64)]) -> f64 {
    let ends = flows.iter().skip(1).map(|flow| flow.0).chain([DAY_S]);
    flows.iter().zip(ends).map(|(flow, end_s)| flow.1 * (end_s - flow.0)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn the_day_holds_the_water_asked_for() {
        // From a cup to draws that overlap, run past midnight and run longer than a day.
        for pattern in Pattern::ALL {
            for daily_kg in [0.2, 40.0, 160.0, 350.0, 2_000.0, 20_000.0, 300_000.0] {
                let flows = tap_flows(pattern, daily_kg, 0.992);
                // 1e-12: some fifty products and sums of rounded times of day.
                assert_relative_eq!(day_sum_kg(&flows), daily_kg, max_relative = 1e-12);
                assert_eq!(flows[0].0, 0.0);
                assert!(flows.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 != pair[1].1));
            }
        }
    }

    #[test]
    fn no_water_is_one_still_day() {
        assert_eq!(tap_flows(Pattern::L, 0.0, 0.992), vec![(0.0, 0.0)]);
    }

    #[test]
    fn between_draws_the_taps_are_shut_exactly() {
        let flows = tap_flows(Pattern::M, 160.0, 0.99);
        let shut = flows.iter().filter(|flow| flow.1 == 0.0).count();
        // Before the first draw, after the last one, and between draws, of which some overlap.
        assert!(shut > 15, "{flows:?}");
        assert_eq!(flows[0], (0.0, 0.0));
        assert_eq!(flows.last().map(|flow| flow.1), Some(0.0));
    }

    #[test]
    fn a_draw_past_midnight_goes_on_in_the_morning() {
        // Of 20 000 L the evening bath is 6186 L: at 10 L/min it runs ten hours and twenty minutes from 21:00 on.
        let flows = tap_flows(Pattern::L, 20_000.0, 1.0);
        assert!(flows[0].1 > 0.0);
        let bath_end_s = (21.0 * 3600.0 + 20_000.0 * 3.605 / 11.655 / 10.0 * 60.0) - DAY_S;
        assert!(
            flows.iter().any(|flow| (flow.0 - bath_end_s).abs() < 1e-6),
            "no edge at {bath_end_s} s: {flows:?}"
        );
    }

    #[test]
    fn overlapping_draws_add() {
        // Both the draw of 7:00 (3 L/min) and that of 7:05 (6 L/min) run at 7:06 when the first lasts longer than 6 minutes.
        let flows = tap_flows(Pattern::M, 2_000.0, 1.0);
        let at = 7.0 * 3600.0 + 360.0;
        let flow = flows.iter().rev().find(|flow| flow.0 <= at).expect("the first flow starts at midnight");
        assert_relative_eq!(flow.1, 9.0 / 60.0, max_relative = 1e-12);
    }

    #[test]
    fn a_span_covers_its_own_time_and_no_other() {
        let night = DaySpan { start_s: 23.0 * 3600.0, length_s: 7200.0 };
        assert_eq!(night.cover(0.5 * 3600.0), 1.0);
        assert_eq!(night.cover(1.5 * 3600.0), 0.0);
        assert_eq!(night.cover(23.5 * 3600.0), 1.0);
        let long = DaySpan { start_s: 0.0, length_s: 1.5 * DAY_S };
        assert_eq!((long.cover(10.0), long.cover(0.75 * DAY_S)), (2.0, 1.0));
    }

    #[test]
    fn names_lead_back_to_their_patterns() {
        for pattern in Pattern::ALL {
            assert_eq!(Pattern::by_name(pattern.name()), Some(pattern));
        }
        assert_eq!(Pattern::by_name("XXL"), None);
        assert_eq!(Pattern::names(), ["M", "L"]);
    }

    #[test]
    fn every_row_is_in_order_and_in_range() {
        for pattern in Pattern::ALL {
            assert!(pattern.draws().windows(2).all(|pair| pair[0].start_s < pair[1].start_s));
            for draw in pattern.draws() {
                assert!((7.0 * 3600.0..22.0 * 3600.0).contains(&draw.start_s), "{draw:?}");
                assert!((0.1..4.0).contains(&draw.energy_kwh), "{draw:?}");
                assert!((3.0..=10.0).contains(&draw.flow_l_per_min), "{draw:?}");
                assert!([10.0, 25.0, 40.0].contains(&draw.useful_degc), "{draw:?}");
                // A draw that must reach a peak counts its heat from the cold water on.
                assert_eq!(draw.peak_degc.is_some(), draw.useful_degc == 10.0, "{draw:?}");
            }
        }
    }
}

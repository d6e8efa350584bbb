//! Hot water through the day: draws at the taps, the patterns of standards, what studies counted, and chance.

mod chance;
mod pattern;
mod study;

pub use chance::{Chance, DaySpread, MOST_SPREAD_FRAC};
pub use pattern::{Draw, GallonDraw, HOURLY_SHARES, Pattern, hourly_taps};
pub use study::{Study, range_of_studies_m3};

use crate::plant::DAY_S;

/// Edges of the day closer than this are one edge, s. It only has to be wider than the rounding of
/// a time of day (about 1e-11 s); it bounds the relative error of a day's water at some 1e-13.
const SAME_EDGE_S: f64 = 1e-9;

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

/// One draw of a household's day.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TapDraw {
    /// Start, s after midnight.
    pub start_s: f64,
    /// How long it runs, s, 0 or more.
    pub length_s: f64,
    /// Flow at the tap, kg/s.
    pub kg_s: f64,
    /// Temperature wanted, K.
    pub use_k: f64,
    /// For how long at its beginning nobody uses the water, because what stood in the pipe is still cold, s.
    pub waiting_s: f64,
    /// Whether its tap is fed from before the mixing valve.
    pub past_valve: bool,
}

/// Taps of different temperatures that are told apart while they run at once; of more, what comes last is taken as one.
pub const MOST_AT_ONCE: usize = 4;

/// One of several taps that run at once and want water of different temperatures.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TapShare {
    /// Its share of the flow, fraction; 0 where there is none.
    pub frac: f64,
    /// Temperature that it wants, K.
    pub use_k: f64,
}

/// The taps of different temperatures among draws that run at once, each kg/s and K; none where all want the same.
fn taps_at_once(running: impl Iterator<Item = (f64, f64)>) -> [TapShare; MOST_AT_ONCE] {
    let mut taps: Vec<TapShare> = Vec::new();
    let mut all_kg_s = 0.0;
    for (kg_s, use_k) in running.filter(|(kg_s, _)| *kg_s > 0.0) {
        all_kg_s += kg_s;
        match taps.iter_mut().find(|tap| tap.use_k == use_k) {
            Some(tap) => tap.frac += kg_s,
            None => taps.push(TapShare { frac: kg_s, use_k }),
        }
    }
    while taps.len() > MOST_AT_ONCE {
        let last = taps.pop().expect("there are several");
        let one = taps.last_mut().expect("there are several");
        let frac = one.frac + last.frac;
        *one = TapShare { frac, use_k: one.use_k + (last.use_k - one.use_k) * last.frac / frac };
    }
    let mut told = [TapShare::default(); MOST_AT_ONCE];
    if taps.len() > 1 {
        for (share, tap) in told.iter_mut().zip(taps) {
            *share = TapShare { frac: tap.frac / all_kg_s, ..tap };
        }
    }
    told
}

/// What the taps take from a time of the day on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TapFlow {
    /// Start, s after midnight.
    pub start_s: f64,
    /// Flow of mixed water, kg/s.
    pub kg_s: f64,
    /// Temperature that it should have on the mean of its taps, K; that of the household where nothing runs.
    pub use_k: f64,
    /// Its taps, where they want different temperatures; else empty.
    pub at_once: [TapShare; MOST_AT_ONCE],
    /// The part of the flow that nobody uses, kg/s.
    pub waiting_kg_s: f64,
    /// Whether some of it runs at a tap that is fed from before the mixing valve.
    pub past_valve: bool,
}

/// What the taps take through the day: flows that are constant from their start to the next, the last until midnight. The
/// first starts at 0:00.
///
/// Draws that overlap add, those that want the same temperature as one tap; a draw past midnight goes on in the morning of
/// the same day. Flow times length, summed over the day, is what the draws hold.
///
/// # Arguments
/// - `draws`: the day's draws
/// - `wanted_kg`: the water that they hold, kg
/// - `idle_k`: temperature that is noted where nothing runs, K
pub fn tap_flows(draws: &[TapDraw], wanted_kg: f64, idle_k: f64) -> Vec<TapFlow> {
    let spans: Vec<_> = draws
        .iter()
        .map(|draw| {
            let waiting = DaySpan { start_s: draw.start_s, length_s: draw.waiting_s.min(draw.length_s) };
            (draw, DaySpan { start_s: draw.start_s, length_s: draw.length_s }, waiting)
        })
        .collect();
    let edges = spans.iter().flat_map(|(_, whole, waiting)| whole.edges().into_iter().chain(waiting.edges()));
    let mut flows: Vec<TapFlow> = cut_day(edges)
        .into_iter()
        .map(|(start_s, end_s)| {
            let middle_s = 0.5 * (start_s + end_s);
            let running =
                spans.iter().map(|(draw, whole, _)| (whole.cover(middle_s) * draw.kg_s, draw.use_k));
            let mut flow = TapFlow {
                start_s,
                kg_s: 0.0,
                use_k: idle_k,
                at_once: taps_at_once(running),
                waiting_kg_s: 0.0,
                past_valve: false,
            };
            for (draw, whole, waiting) in &spans {
                let kg_s = whole.cover(middle_s) * draw.kg_s;
                if kg_s <= 0.0 {
                    continue;
                }
                flow.kg_s += kg_s;
                // Written as a step towards the newcomer: equal temperatures stay equal to the bit.
                let of_it = kg_s / flow.kg_s;
                flow.use_k =
                    if of_it >= 1.0 { draw.use_k } else { flow.use_k + (draw.use_k - flow.use_k) * of_it };
                flow.waiting_kg_s += waiting.cover(middle_s) * draw.kg_s;
                flow.past_valve |= draw.past_valve;
            }
            flow
        })
        .collect();
    flows.dedup_by(|later, earlier| TapFlow { start_s: earlier.start_s, ..*later } == *earlier);
    // Times of day are rounded at 1e-11 s, which a short draw feels; the flow makes good for it.
    let drawn_kg = day_sum_kg(&flows);
    if drawn_kg > 0.0 {
        for flow in &mut flows {
            flow.kg_s *= wanted_kg / drawn_kg;
            flow.waiting_kg_s *= wanted_kg / drawn_kg;
        }
    }
    flows
}

/// Water that the flows carry in a day, kg.
fn day_sum_kg(flows: &[TapFlow]) -> f64 {
    let ends = flows.iter().skip(1).map(|flow| flow.start_s).chain([DAY_S]);
    flows.iter().zip(ends).map(|(flow, end_s)| flow.kg_s * (end_s - flow.start_s)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const USE_K: f64 = 313.15;

    fn flows_of(pattern: Pattern, daily_kg: f64, litre_kg: f64) -> Vec<TapFlow> {
        tap_flows(&pattern.taps(daily_kg, litre_kg, USE_K), daily_kg, USE_K)
    }

    #[test]
    fn the_day_holds_the_water_asked_for() {
        // From a cup to draws that overlap, run past midnight and run longer than a day.
        for pattern in Pattern::ALL {
            for daily_kg in [0.2, 40.0, 160.0, 350.0, 2_000.0, 20_000.0, 300_000.0] {
                let flows = flows_of(pattern, daily_kg, 0.992);
                // 1e-12: some fifty products and sums of rounded times of day.
                assert_relative_eq!(day_sum_kg(&flows), daily_kg, max_relative = 1e-12);
                assert_eq!(flows[0].start_s, 0.0);
                let changes = |pair: &[TapFlow]| {
                    pair[0].start_s < pair[1].start_s
                        && (pair[0].kg_s, pair[0].use_k) != (pair[1].kg_s, pair[1].use_k)
                };
                assert!(flows.windows(2).all(changes));
            }
        }
    }

    #[test]
    fn no_water_is_one_still_day() {
        let still = TapFlow {
            start_s: 0.0,
            kg_s: 0.0,
            use_k: USE_K,
            at_once: Default::default(),
            waiting_kg_s: 0.0,
            past_valve: false,
        };
        assert_eq!(flows_of(Pattern::L, 0.0, 0.992), vec![still]);
        assert_eq!(tap_flows(&[], 0.0, USE_K), vec![still]);
    }

    #[test]
    fn between_draws_the_taps_are_shut_exactly() {
        let flows = flows_of(Pattern::M, 160.0, 0.99);
        let shut = flows.iter().filter(|flow| flow.kg_s == 0.0).count();
        // Before the first draw, after the last one, and between draws, of which some overlap.
        assert!(shut > 15, "{flows:?}");
        assert_eq!((flows[0].start_s, flows[0].kg_s), (0.0, 0.0));
        assert_eq!(flows.last().map(|flow| flow.kg_s), Some(0.0));
    }

    #[test]
    fn a_draw_past_midnight_goes_on_in_the_morning() {
        // Of 20 000 L the evening bath is 6186 L: at 10 L/min it runs ten hours and twenty minutes from 21:00 on.
        let flows = flows_of(Pattern::L, 20_000.0, 1.0);
        assert!(flows[0].kg_s > 0.0);
        let bath_end_s = (21.0 * 3600.0 + 20_000.0 * 3.605 / 11.655 / 10.0 * 60.0) - DAY_S;
        assert!(
            flows.iter().any(|flow| (flow.start_s - bath_end_s).abs() < 1e-6),
            "no edge at {bath_end_s} s: {flows:?}"
        );
    }

    /// The flow at a time of day.
    fn at(flows: &[TapFlow], time_s: f64) -> TapFlow {
        *flows.iter().rev().find(|flow| flow.start_s <= time_s).expect("the first flow starts at midnight")
    }

    #[test]
    fn overlapping_draws_add() {
        // Both the draw of 7:00 (3 L/min) and that of 7:05 (6 L/min) run at 7:06 when the first lasts longer than 6 minutes.
        let flows = flows_of(Pattern::M, 2_000.0, 1.0);
        let flow = at(&flows, 7.0 * 3600.0 + 360.0);
        assert_relative_eq!(flow.kg_s, 9.0 / 60.0, max_relative = 1e-12);
        assert_eq!(flow.use_k, USE_K);
    }

    #[test]
    fn draws_of_two_temperatures_are_told_apart() {
        let draw = |kg_s: f64, use_k: f64| TapDraw {
            start_s: 0.0,
            length_s: 60.0,
            kg_s,
            use_k,
            ..TapDraw::default()
        };
        let flow = tap_flows(&[draw(0.1, 310.0), draw(0.3, 330.0)], 24.0, USE_K)[0];
        assert_relative_eq!(flow.kg_s, 0.4, max_relative = 1e-15);
        assert_relative_eq!(flow.use_k, 325.0, max_relative = 1e-15);
        let told: Vec<_> = flow.at_once.iter().map(|tap| (tap.frac, tap.use_k)).collect();
        assert_relative_eq!(told[0].0, 0.25, max_relative = 1e-15);
        assert_relative_eq!(told[1].0, 0.75, max_relative = 1e-15);
        assert_eq!((told[0].1, told[1].1, told[2].0), (310.0, 330.0, 0.0));
        // Of one temperature they are one tap; of six temperatures the last three are taken as one.
        let alike = tap_flows(&[draw(0.1, 310.0), draw(0.3, 310.0)], 24.0, USE_K)[0];
        assert_eq!(alike.at_once, [TapShare::default(); MOST_AT_ONCE]);
        let six: Vec<_> = (0..6).map(|tap| draw(0.1, 310.0 + f64::from(tap))).collect();
        let six = tap_flows(&six, 36.0, USE_K)[0].at_once;
        assert_relative_eq!(six[3].frac, 0.5, max_relative = 1e-12);
        assert_relative_eq!(six[3].use_k, 314.0, max_relative = 1e-12);
        assert_relative_eq!(six.iter().map(|tap| tap.frac).sum::<f64>(), 1.0, max_relative = 1e-12);
    }

    #[test]
    fn what_runs_before_it_is_warm_is_the_beginning_of_the_draw() {
        let draw = TapDraw {
            start_s: 100.0,
            length_s: 60.0,
            kg_s: 0.1,
            use_k: USE_K,
            waiting_s: 20.0,
            past_valve: true,
        };
        let flows = tap_flows(&[draw], 6.0, USE_K);
        let told: Vec<_> =
            flows.iter().map(|flow| (flow.start_s, flow.kg_s, flow.waiting_kg_s, flow.past_valve)).collect();
        assert_eq!(
            told,
            [
                (0.0, 0.0, 0.0, false),
                (100.0, 0.1, 0.1, true),
                (120.0, 0.1, 0.0, true),
                (160.0, 0.0, 0.0, false)
            ]
        );
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
}

//! The draws of each day of the year from the household's own words.

use crate::draw::{Chance, TapDraw, TapFlow, hourly_taps, tap_flows};
use crate::household::{HotWater, TapPipes};
use crate::plant::{Calendar, DAY_S};
use crate::water;

/// What makes one day different from another.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct DayOrder {
    /// Factor on the day's water.
    factor: f64,
    /// Weekday, 0 for Monday, where it matters which it is.
    weekday: Option<usize>,
    /// Nobody is at home.
    pub away: bool,
    /// Chance of a day that is like no other, to shift its draws.
    chance: Option<Chance>,
}

/// What each day of the year is like.
pub(super) fn day_orders(water: &HotWater, calendar: &Calendar) -> Vec<DayOrder> {
    let days = calendar.hours() / 24;
    let by_weekday = water.uses.iter().any(|one| one.days.contains(&false));
    let (mut streams, mut spread) = (Vec::new(), vec![1.0; days]);
    if let Some(chance) = &water.calendar.spread {
        streams = chance.streams(days);
        spread = chance.factors(&mut streams);
    }
    let mut streams = streams.into_iter();
    let order = |day: usize| {
        let chance = streams.next();
        if water.calendar.is_away(day, calendar) {
            return DayOrder { factor: 0.0, weekday: None, away: true, chance: None };
        }
        DayOrder {
            factor: water.calendar.factor(day, calendar, water.people) * spread[day],
            weekday: by_weekday.then(|| water.calendar.weekday(day)),
            away: false,
            chance,
        }
    };
    (0..days).map(order).collect()
}

/// What the taps take on a day.
pub(super) fn taps(water: &HotWater, order: &DayOrder) -> Vec<TapFlow> {
    let (mut draws, mut wanted_kg) = if order.away { (Vec::new(), 0.0) } else { draws(water, order) };
    if let (Some(spread), Some(chance)) = (&water.calendar.spread, &order.chance) {
        let mut chance = chance.clone();
        for draw in &mut draws {
            draw.start_s += spread.time_s * chance.deviation();
        }
    }
    if let Some(pipes) = &water.pipes {
        wait(&mut draws, pipes);
        wanted_kg = sum_kg(&draws);
    }
    tap_flows(&draws, wanted_kg, water.use_at.value)
}

/// The draws of a day and the water that they hold, kg.
fn draws(water: &HotWater, order: &DayOrder) -> (Vec<TapDraw>, f64) {
    if water.uses.is_empty() {
        let use_k = water.use_at.value;
        let density_kg_m3 = water::density_kg_m3(use_k);
        let daily_kg = water.daily.value * density_kg_m3 * order.factor;
        let litre_kg = density_kg_m3 / 1000.0;
        let mut draws = match &water.by_hour {
            Some(shares) => hourly_taps(&shares.map(|share| share.value), daily_kg, litre_kg, use_k),
            None => water.pattern.taps(daily_kg, litre_kg, use_k),
        };
        draws.iter_mut().for_each(|draw| draw.past_valve = water.past_valve);
        return (draws, daily_kg);
    }
    let factor = water.uses_factor() * order.factor;
    let today = |days: &[bool]| order.weekday.is_none_or(|weekday| days[weekday]);
    let uses = water.uses.iter().filter(|one| today(&one.days));
    let draws: Vec<_> = uses
        .flat_map(|one| {
            let use_k = one.wanted_at.value;
            one.at.iter().map(move |at| TapDraw {
                start_s: at.value,
                length_s: factor * one.water.value / one.flow.value,
                kg_s: one.flow.value * water::density_kg_m3(use_k),
                use_k,
                waiting_s: 0.0,
                past_valve: one.past_valve,
            })
        })
        .filter(|draw| draw.length_s > 0.0)
        .collect();
    let wanted_kg = sum_kg(&draws);
    (draws, wanted_kg)
}

fn sum_kg(draws: &[TapDraw]) -> f64 {
    draws.iter().map(|draw| draw.length_s * draw.kg_s).sum()
}

/// Lengthens each draw by the water that runs before it is warm: `W (1 - exp(-rest/time constant))`, W after a long rest.
///
/// The rest before the day's first draw counts from the last of the same day, as if yesterday had been like today.
fn wait(draws: &mut [TapDraw], pipes: &TapPipes) {
    draws.sort_by(|a, b| a.start_s.total_cmp(&b.start_s));
    let end_s = |draw: &TapDraw| draw.start_s + draw.length_s;
    let mut warm_until_s = draws.iter().map(|draw| end_s(draw) - DAY_S).fold(f64::NEG_INFINITY, f64::max);
    for draw in draws {
        let rest_s = (draw.start_s - warm_until_s).max(0.0);
        let cold_frac = -libm::expm1(-rest_s / pipes.cools_in.value);
        let cold_kg = pipes.runs_before_warm.value * water::density_kg_m3(draw.use_k) * cold_frac;
        draw.waiting_s = cold_kg / draw.kg_s;
        draw.length_s += draw.waiting_s;
        warm_until_s = warm_until_s.max(draw.start_s + draw.length_s);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::DaySpread;
    use crate::household::{Date, Guests, Period, TapUse};
    use crate::plant::example::household;
    use crate::units::{celsius, cubic_metres, flow, fraction, seconds};
    use approx::assert_relative_eq;

    /// Water of a day, kg, the unused included.
    fn day_kg(flows: &[TapFlow]) -> f64 {
        let ends = flows.iter().skip(1).map(|flow| flow.start_s).chain([DAY_S]);
        flows.iter().zip(ends).map(|(flow, end_s)| flow.kg_s * (end_s - flow.start_s)).sum()
    }

    /// Litres at the taps on each day of the year.
    fn litres(water: &HotWater) -> Vec<f64> {
        let orders = day_orders(water, &Calendar::new(false));
        let density = water::density_kg_m3(water.use_at.value);
        orders.iter().map(|order| 1000.0 * day_kg(&taps(water, order)) / density).collect()
    }

    fn shower(days: [bool; 7]) -> TapUse {
        TapUse {
            name: "shower".to_owned(),
            water: cubic_metres(0.040),
            wanted_at: celsius(42.0),
            flow: flow(8.0 / 60_000.0),
            at: vec![seconds(6.5 * 3600.0), seconds(21.0 * 3600.0)],
            days,
            past_valve: false,
        }
    }

    #[test]
    fn months_weekends_guests_and_absences_change_single_days() {
        let mut water = household().hot_water;
        let date = |month, day| Date { month, day };
        water.people = Some(3);
        water.calendar.weekend = fraction(1.2);
        water.calendar.months[6] = fraction(0.7);
        water.calendar.guests =
            vec![Guests { period: Period { first: date(1, 3), last: date(1, 4) }, people: 3 }];
        water.calendar.absences = vec![Period { first: date(7, 1), last: date(7, 14) }];
        let days = litres(&water);
        // 1 January is a Monday: the 6th a Saturday; 3 February (day 33) a Saturday too.
        for (day, expected) in [
            (0, 180.0),
            (5, 216.0),
            (33, 432.0),
            (34, 432.0),
            (35, 180.0),
            (182, 126.0),
            (212, 0.0),
            (226, 180.0),
        ] {
            assert_relative_eq!(days[day], expected, max_relative = 1e-12);
        }
        assert_eq!(days.iter().filter(|litres| **litres == 0.0).count(), 14);
    }

    /// The hourly row of ASHRAE 90.2, Table 4.6.1.1(1), given as a household's own (Second hand: public code that quotes it): the same day
    /// as by its name.
    #[test]
    fn own_shares_of_the_hours_stand_in_for_a_pattern() {
        let mut water = household().hot_water;
        water.daily = cubic_metres(0.24);
        let first_day = |water: &HotWater| taps(water, &day_orders(water, &Calendar::new(false))[0]);
        water.pattern = crate::draw::Pattern::Hourly;
        let named = first_day(&water);
        water.pattern = crate::draw::Pattern::M;
        water.by_hour = Some(crate::draw::HOURLY_SHARES.map(fraction));
        assert_eq!(first_day(&water), named);
        // Twice as much in the evening as in the morning, nothing else: two draws, at half past six and at half past seven in the evening.
        let mut shares = [0.0; 24];
        (shares[6], shares[19]) = (1.0 / 3.0, 2.0 / 3.0);
        water.by_hour = Some(shares.map(fraction));
        let flows = first_day(&water);
        let ends = flows.iter().skip(1).map(|flow| flow.start_s).chain([DAY_S]);
        let litre_kg = water::density_kg_m3(water.use_at.value) / 1000.0;
        let drawn: Vec<(f64, f64)> = flows
            .iter()
            .zip(ends)
            .filter(|(flow, _)| flow.kg_s > 0.0)
            .map(|(flow, end_s)| (flow.start_s, flow.kg_s * (end_s - flow.start_s) / litre_kg))
            .collect();
        assert_eq!(drawn.len(), 2);
        for ((start_s, litres), expected) in drawn.into_iter().zip([(6.5, 80.0), (19.5, 160.0)]) {
            assert_eq!(start_s, expected.0 * 3600.0);
            assert_relative_eq!(litres, expected.1, max_relative = 1e-9);
        }
    }

    #[test]
    fn uses_run_on_their_days_at_their_times() {
        let mut water = household().hot_water;
        let mut weekend = [false; 7];
        weekend[5..].fill(true);
        water.uses = vec![shower([true; 7]), TapUse { water: cubic_metres(0.14), ..shower(weekend) }];
        water.daily = crate::household::mean_of_uses(&water.uses);
        // Seven times 80 L and twice 280 L a week.
        assert_relative_eq!(water.daily.value, (7.0 * 0.08 + 2.0 * 0.28) / 7.0, max_relative = 1e-12);
        let days = litres(&water);
        for (day, expected) in [(0, 80.0), (4, 80.0), (5, 360.0), (6, 360.0), (7, 80.0)] {
            assert_relative_eq!(days[day], expected, max_relative = 1e-12);
        }
        let flows = taps(&water, &day_orders(&water, &Calendar::new(false))[0]);
        let begins: Vec<_> = flows.iter().filter(|flow| flow.kg_s > 0.0).map(|flow| flow.start_s).collect();
        assert_eq!(begins, [6.5 * 3600.0, 21.0 * 3600.0]);
        // 40 L at 8 L/min: five minutes.
        assert_relative_eq!(flows[2].start_s - flows[1].start_s, 300.0, max_relative = 1e-9);
        water.daily *= 2.0;
        assert_relative_eq!(litres(&water)[5], 720.0, max_relative = 1e-12);
    }

    #[test]
    fn chance_moves_days_and_times_and_keeps_the_year() {
        let mut water = household().hot_water;
        water.calendar.spread = Some(DaySpread { seed: 1, daily_frac: 0.3, time_s: 1200.0 });
        let days = litres(&water);
        assert_relative_eq!(days.iter().sum::<f64>(), 365.0 * 180.0, max_relative = 1e-9);
        let mean_square =
            days.iter().map(|litres| (litres / 180.0 - 1.0) * (litres / 180.0 - 1.0)).sum::<f64>() / 365.0;
        // 30 % wanted; the standard error of a spread from 365 days of this law is 3 % of it.
        assert_relative_eq!(mean_square.sqrt(), 0.3, max_relative = 0.1);
        let firsts: Vec<f64> = day_orders(&water, &Calendar::new(false))
            .iter()
            .filter_map(|order| {
                taps(&water, order).iter().find(|flow| flow.kg_s > 0.0).map(|flow| flow.start_s)
            })
            .collect();
        assert!(firsts.windows(2).filter(|pair| pair[0] == pair[1]).count() < 5);
        assert_eq!(days, litres(&water));
    }

    #[test]
    fn water_in_the_pipe_is_lost_again_after_each_rest() {
        let mut water = household().hot_water;
        water.uses = vec![shower([true; 7])];
        water.uses[0].at.push(seconds(6.5 * 3600.0 + 600.0));
        water.daily = crate::household::mean_of_uses(&water.uses);
        water.pipes = Some(TapPipes { runs_before_warm: cubic_metres(0.002), cools_in: seconds(1800.0) });
        let flows = taps(&water, &day_orders(&water, &Calendar::new(false))[0]);
        let ends = flows.iter().skip(1).map(|flow| flow.start_s).chain([DAY_S]);
        let lost_kg: f64 =
            flows.iter().zip(ends).map(|(flow, end_s)| flow.waiting_kg_s * (end_s - flow.start_s)).sum();
        let density = water::density_kg_m3(celsius(42.0).value);
        // After hours 2 L and again 2 L; the second shower begins 600 - 315 s after the first, which took 15 s longer for the 2 L.
        let expected_l = 2.0 + 2.0 + 2.0 * (1.0 - libm::exp(-(600.0 - 315.0) / 1800.0));
        // 1e-3: nine hours and more of rest leave 1e-8; what is left is the rounding of the expected lengths.
        assert_relative_eq!(1000.0 * lost_kg / density, expected_l, max_relative = 1e-3);
        assert_relative_eq!(1000.0 * day_kg(&flows) / density, 120.0 + expected_l, max_relative = 1e-3);
    }
}

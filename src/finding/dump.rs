//! What has to be dumped, how fast, where?

use super::remedy::{keep_the_tank_open, less_air, raise_aquastat, remedies, setting, use_to_balance};
use super::{
    Answer, BARELY_FRAC, Case, Finding, HOURS_SOURCE, ONE_EVENT_S, Question, at_least, at_most,
    refused_by_water_s, sentences, tank_stays_open,
};
use crate::change::Change;
use crate::constants::WATER_DENSITY_KG_M3;
use crate::household::{Destination, DumpLine, Takes, WaterTaker};
use crate::overflow::{FLOW_MARGIN, line_with_reserve, new_line, port_k, required_kg_s, warmest_mains_k};
use crate::plant::{DAY_S, HOUR_S};
use crate::water::density_kg_m3;
use crate::wording::{MONTHS, count, list, months};
use crate::year::{Interval, Year};
use uom::si::volume::cubic_meter;
use uom::si::volume_rate::cubic_meter_per_second;

/// Litres in a cubic metre and seconds in a minute, for the numbers of a finding.
const L_PER_M3: f64 = 1000.0;
const MINUTE_S: f64 = 60.0;
/// Dumped water that nobody minds, share of the household's daily hot water in the worst month. Common practice, no source.
const LITTLE_FRAC: f64 = 0.1;
/// Dumped water that is as much as the household uses. Common practice, no source.
const AS_MUCH_FRAC: f64 = 1.0;
/// Flows smaller than the one with a reserve that are tried for a household without a dump, share of what carries away
/// the pump's whole heat.
const TRIED_FLOW_FRAC: [f64; 4] = [0.1, 0.2, 0.4, 0.7];

pub(super) const LITRES_SOURCE: &str =
    "A tenth of the hot water used as little, as much again as too much: Common practice, no source.";
pub(super) const FLOW_SOURCE: &str = "Heat balance of the full-running pump over the warmest mains water: Derived here. A margin of a \
    quarter: Common practice, no source.";

pub(super) fn findings(case: &Case<'_>) -> Vec<Finding> {
    if case.plant.dump.is_some() {
        let first =
            if tank_stays_open(&case.year.total) == Answer::No { too_little(case) } else { litres(case) };
        [first, flow(case)].into_iter().chain(room(case)).collect()
    } else {
        vec![without(case)]
    }
}

fn per_day_m3(month: &Interval) -> f64 {
    month.dump_m3 / month.duration_s * DAY_S
}

fn worst_per_day_l(year: &Year) -> f64 {
    year.months.iter().map(per_day_m3).fold(0.0, f64::max) * L_PER_M3
}

/// F401 where the dump leaves the tank so full that the pump is refused.
fn too_little(case: &Case<'_>) -> Finding {
    let (say, total) = (case.say, &case.year.total);
    let refused = |month: &Interval| refused_by_water_s(month);
    let worst = case.worst_month(refused);
    let text = format!(
        "More has to be dumped, or sooner: {} leave the tank in the year, and still water too warm for the pump refuses it for {}, most in {}. Whether \
         flow, aquastat or what holds the dump is at fault stands in F402, F404 and F502.",
        say.volume(total.dump_m3),
        say.hours(refused_by_water_s(total)),
        MONTHS[worst]
    );
    Finding {
        code: "F401",
        question: Question::Dump,
        answer: Answer::No,
        value: refused_by_water_s(total) / HOUR_S,
        unit: "h",
        limit: Some(ONE_EVENT_S / HOUR_S),
        text,
        source: HOURS_SOURCE,
        remedies: remedies(case, keep_the_tank_open(case), |year| refused_by_water_s(&year.total) / HOUR_S),
    }
}

/// F401: litres a day in the worst month.
fn litres(case: &Case<'_>) -> Finding {
    let (say, total) = (case.say, &case.year.total);
    let worst = case.worst_month(per_day_m3);
    let daily_m3 = case.household.hot_water.daily.get::<cubic_meter>();
    let worst_m3 = per_day_m3(&case.year.months[worst]);
    let answer = at_most(worst_m3, LITTLE_FRAC * daily_m3, AS_MUCH_FRAC * daily_m3);
    let text = if total.dump_m3 == 0.0 {
        "Nothing has to be dumped: the dump does not open in this year.".to_owned()
    } else {
        let hottest = say.temperature(port_k(case.plant, case.year));
        sentences(&[
            format!(
                "{} a year have to be dumped: {} a day on the mean of the year and {} a day in the worst month, {}.",
                say.volume(total.dump_m3),
                say.volume(total.dump_m3 / total.duration_s * DAY_S),
                say.volume(worst_m3),
                MONTHS[worst]
            ),
            format!(
                "The dump opens in {}, {} in all, and the water leaves at about {hottest}.",
                months(|month| case.year.months[month].dump_m3 > 0.0),
                count(total.dump_openings, "time")
            ),
            places_words(case),
        ])
    };
    let mut changes = Vec::new();
    if answer != Answer::Yes {
        changes.extend(less_air(case));
        changes.extend(use_to_balance(case));
        changes.extend(raise_aquastat(case, 5.0));
    }
    Finding {
        code: "F401",
        question: Question::Dump,
        answer,
        value: worst_m3 * L_PER_M3,
        unit: "l/day",
        limit: Some(LITTLE_FRAC * daily_m3 * L_PER_M3),
        text,
        source: LITRES_SOURCE,
        remedies: remedies(case, changes, worst_per_day_l),
    }
}

/// What the places that take the water have to bear, and what they took.
fn places_words(case: &Case<'_>) -> String {
    let Some(line) = &case.household.dump else { return String::new() };
    let (say, total) = (case.say, &case.year.total);
    let mut words = Vec::new();
    if let [only] = &line.destinations[..]
        && matches!(only.takes, Takes::All)
    {
        words.push(match only.kind {
            Destination::Irrigation => "The garden has to take in that much on such a day.".to_owned(),
            Destination::Barrel => "A barrel has to hold a day of it or have an overflow.".to_owned(),
            Destination::Drain => String::new(),
        });
    } else {
        let took = |(index, taker): (usize, &WaterTaker)| {
            format!(
                "\"{}\" takes {}",
                taker.name,
                say.volume(total.dump_placed_kg[index] / WATER_DENSITY_KG_M3)
            )
        };
        let took: Vec<String> = line.destinations.iter().enumerate().map(took).collect();
        words.push(format!("Of the water, with what tempers it, {} a year.", list(&took)));
    }
    sentences(&words)
}

/// F404: whether the water can leave whenever the aquastat calls, where places, timer or guard may hold it.
fn room(case: &Case<'_>) -> Option<Finding> {
    let (say, total, line) = (case.say, &case.year.total, case.household.dump.as_ref()?);
    let endless = |month: usize| {
        let takes_all = |taker: &WaterTaker| matches!(taker.takes, Takes::All) && taker.months[month];
        !line.months[month] || line.destinations.iter().any(takes_all)
    };
    let roomy = (0..12).all(endless);
    if roomy && line.timer.is_none() && line.longest_open.is_none() {
        return None;
    }
    // A tank that has room for what waits harms nobody.
    let refused = total.missed_s > ONE_EVENT_S;
    let answer = match at_most(total.dump_held_s, ONE_EVENT_S, BARELY_FRAC * total.duration_s) {
        Answer::No if !refused => Answer::Barely,
        answer => answer,
    };
    let then = if refused {
        "it climbs until the pump is refused"
    } else {
        "it takes them until the water may leave, and the pump is not refused for it"
    };
    let text = if total.dump_held_s == 0.0 {
        "Whenever the aquastat calls, the water can leave: the places that the dump leads to have room for it, all year.".to_owned()
    } else {
        let why = [
            (!roomy).then_some("no place has room"),
            line.timer.map(|_| "its timer holds it"),
            (total.dump_guarded > 0.0).then_some("its guard has shut it"),
        ];
        let why: Vec<&str> = why.into_iter().flatten().collect();
        let shut = if total.dump_guarded > 0.0 {
            format!(
                "The guard shuts the dump {}: it is set too short for this tank.",
                count(total.dump_guarded, "time")
            )
        } else {
            String::new()
        };
        sentences(&[
            format!(
                "In {} the aquastat calls while {}, for {} in all, and {} that the pump makes then stay in the tank: {then}.",
                months(|month| case.year.months[month].dump_held_s > 0.0),
                why.join(" or "),
                say.hours(total.dump_held_s),
                say.energy(total.dump_held_j)
            ),
            shut,
        ])
    };
    let mut changes = Vec::new();
    if answer != Answer::Yes {
        let listed = line.destinations.len() < crate::plant::MOST_TAKERS;
        changes.extend((line.timer.is_some() || total.dump_guarded > 0.0).then_some(Change::DumpUnhindered));
        changes
            .extend((!roomy && listed && !line.leads_to(Destination::Drain)).then_some(Change::DumpToDrain));
        changes.extend(less_air(case));
        changes.extend(use_to_balance(case));
    }
    Some(Finding {
        code: "F404",
        question: Question::Dump,
        answer,
        value: total.dump_held_s / HOUR_S,
        unit: "h",
        limit: Some(ONE_EVENT_S / HOUR_S),
        text,
        source: HOURS_SOURCE,
        remedies: remedies(case, changes, |year| year.total.dump_held_s / HOUR_S),
    })
}

/// F402: whether the dump's flow carries away what the pump makes in its worst hour.
fn flow(case: &Case<'_>) -> Finding {
    let say = case.say;
    let given_kg_s = case.plant.dump.as_ref().map_or(0.0, |dump| dump.flow_kg_s);
    let required_kg_s = required_kg_s(case.plant, case.year);
    let hot_k = port_k(case.plant, case.year);
    // As the plant was made from the valve's flow, so that the flow is told as it was given.
    let opens_k = case.plant.dump.as_ref().map_or(hot_k, |dump| dump.opens_k);
    let m3_s = |kg_s: f64| kg_s / density_kg_m3(opens_k);
    if !required_kg_s.is_finite() {
        return cold_port(case, m3_s(given_kg_s) * L_PER_M3 * MINUTE_S);
    }
    let answer = at_least(given_kg_s, FLOW_MARGIN * required_kg_s, required_kg_s);
    let figures = format!(
        "in the worst hour the pump runs without a rest, and to carry its heat away as water of {} with mains water of {} coming \
         after takes {}; the dump gives {}",
        say.temperature(hot_k),
        say.temperature(warmest_mains_k(case.plant)),
        say.flow(m3_s(required_kg_s)),
        say.flow(m3_s(given_kg_s))
    );
    let text = match answer {
        Answer::Yes => format!("The dump's flow is large enough: {figures}."),
        Answer::Barely => {
            format!("The dump's flow is only just large enough: {figures}, a reserve of less than a quarter.")
        }
        _ => format!(
            "The dump's flow is too small: {figures}. In such an hour the tank fills faster than it is emptied and the pump \
             may be stopped by warm water."
        ),
    };
    let l_min = |kg_s: f64| m3_s(kg_s) * L_PER_M3 * MINUTE_S;
    let wanted_kg_s = FLOW_MARGIN * required_kg_s;
    let larger = case.household.dump.as_ref().filter(|_| answer != Answer::Yes).and_then(|line| {
        let change = Change::DumpFlow(wanted_kg_s / given_kg_s * line.flow);
        setting(case, &change, l_min(given_kg_s), l_min(wanted_kg_s))
    });
    Finding {
        code: "F402",
        question: Question::Dump,
        answer,
        value: l_min(given_kg_s),
        unit: "l/min",
        limit: Some(l_min(wanted_kg_s)),
        text,
        source: FLOW_SOURCE,
        remedies: larger.into_iter().collect(),
    }
}

/// F402 where the port is no warmer than mains: nothing can be said of a flow.
fn cold_port(case: &Case<'_>, given_l_min: f64) -> Finding {
    Finding {
        code: "F402",
        question: Question::Dump,
        answer: Answer::Unknown,
        value: given_l_min,
        unit: "l/min",
        limit: None,
        text: format!(
            "The water at the dump's port is about {}, no warmer than mains water, so no flow of it carries heat away.",
            case.say.temperature(port_k(case.plant, case.year))
        ),
        source: FLOW_SOURCE,
        remedies: Vec::new(),
    }
}

/// F403: no dump. What goes wrong, when, and the dump that would mend it.
fn without(case: &Case<'_>) -> Finding {
    let total = &case.year.total;
    let answer = at_most(total.missed_s, ONE_EVENT_S, BARELY_FRAC * total.duration_s);
    let change = if answer == Answer::Yes {
        None
    } else {
        line_with_reserve(case.plant, case.year).map(Change::AddDump)
    };
    let remedies = remedies(case, change, refused_h);
    let smallest = if remedies.is_empty() { String::new() } else { smallest_words(case) };
    Finding {
        code: "F403",
        question: Question::Dump,
        answer,
        value: refused_h(case.year),
        unit: "h",
        limit: Some(ONE_EVENT_S / HOUR_S),
        text: sentences(&[without_words(case, answer), smallest]),
        source: HOURS_SOURCE,
        remedies,
    }
}

/// What a year without a dump comes to.
fn without_words(case: &Case<'_>, answer: Answer) -> String {
    let (say, total) = (case.say, &case.year.total);
    if total.missed_s == 0.0 {
        return "No dump is needed: the tank takes the heat all year, and the pump is never refused."
            .to_owned();
    }
    if answer == Answer::Yes {
        return format!(
            "No dump is needed: the tank took the heat all year, and the pump was refused for {} in all.",
            say.hours(total.missed_s)
        );
    }
    let worst = case.worst_month(|month| month.missed_s);
    let warm = months(|month| case.year.months[month].over_band_s > 0.0);
    sentences(&[
        format!(
            "Without a dump the tank fills up: in {} the pump is refused, for {} in the year and {} in {} alone.",
            months(|month| case.year.months[month].missed_s > 0.0),
            say.hours(total.missed_s),
            say.hours(case.year.months[worst].missed_s),
            MONTHS[worst]
        ),
        if warm.is_empty() {
            "The food still stays within its limit.".to_owned()
        } else {
            format!(
                "The food is then above its limit in {warm}, {} in all, and reaches {}.",
                say.hours(total.over_band_s),
                say.temperature(total.food_k.max)
            )
        },
    ])
}

fn refused_h(year: &Year) -> f64 {
    year.total.missed_s / HOUR_S
}

/// A smaller dump than the one with a reserve that would just have done in this year, as a sentence.
fn smallest_words(case: &Case<'_>) -> String {
    let flow_of = |line: &DumpLine| line.flow.get::<cubic_meter_per_second>();
    let reserve_m3_s = line_with_reserve(case.plant, case.year).as_ref().map_or(0.0, flow_of);
    smallest_flow_m3_s(case).filter(|flow| *flow < reserve_m3_s).map_or(String::new(), |flow| {
        format!(
            "In this year's weather a dump of {} would just have done; the one named below carries the pump's whole heat in its worst hour and a quarter \
             more, rounded up to half a litre a minute.",
            case.say.flow(flow)
        )
    })
}

/// The smallest of the tried flows with which the pump is refused for no more than one event.
fn smallest_flow_m3_s(case: &Case<'_>) -> Option<f64> {
    let required_kg_s = required_kg_s(case.plant, case.year);
    TRIED_FLOW_FRAC.iter().find_map(|share| {
        let line = new_line(case.plant, case.year, share * required_kg_s)?;
        let flow = line.flow.get::<cubic_meter_per_second>();
        let year = (case.trial)(&Change::AddDump(line))?;
        (year.total.missed_s <= ONE_EVENT_S).then_some(flow)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::finding::tests::{all, found, one, year_with};
    use approx::assert_relative_eq;

    #[test]
    fn a_dump_that_leaves_the_tank_full_is_not_enough() {
        // 0.9 and 1.1 % of the year refused by warm water; by cold air it is no matter of the dump.
        for (by_water, share, enough) in [(true, 0.009, true), (true, 0.011, false), (false, 0.5, true)] {
            let year = year_with(|_, month| {
                month.missed_s = share * month.duration_s;
                month.locked_by_inlet_s = if by_water { month.missed_s } else { 0.0 };
            });
            let findings = found(&example::plant(), &year);
            let (dumped, used) = (one(&findings, "F401"), one(&findings, "F301"));
            assert_eq!(dumped.unit, if enough { "l/day" } else { "h" }, "{share}");
            assert_eq!(used.unit, if enough { "frac" } else { "h" }, "{share}");
            assert!(enough || (dumped.answer, used.answer) == (Answer::No, Answer::No));
        }
    }

    #[test]
    fn litres_around_a_tenth_and_all_of_the_households_use() {
        // 200 L a day are used.
        for (litres, answer) in [
            (19.9, Answer::Yes),
            (20.0, Answer::Yes),
            (20.1, Answer::Barely),
            (199.0, Answer::Barely),
            (201.0, Answer::No),
        ] {
            let year = year_with(|index, month| {
                if index == 6 {
                    month.dump_m3 = litres / 1000.0 * 31.0;
                    month.dump_kg = month.dump_m3 * 988.0;
                    month.dump_j = month.dump_kg * 4181.6 * 40.0;
                    month.dump_openings = 31.0;
                }
            });
            let finding = one(&found(&example::plant(), &year), "F401");
            assert_eq!(finding.answer, answer, "{litres}");
            assert_relative_eq!(finding.value, litres, max_relative = 1e-12);
            // Mains 10 °C, dumped 40 K warmer.
            assert!(
                finding.text.contains("July, 31 times in all, and the water leaves at about 50 °C"),
                "{}",
                finding.text
            );
        }
    }

    #[test]
    fn room_is_asked_of_places_that_fill_and_answered_by_the_hours_without() {
        let year_of = |held_h: f64| {
            let held = move |index: usize, month: &mut Interval| {
                if index == 6 {
                    (month.dump_held_s, month.missed_s) = (held_h * HOUR_S, 5.0 * HOUR_S);
                }
            };
            year_with(held)
        };
        let (mut household, plant) = (example::household(), example::plant());
        let codes = |household: &crate::household::Household| {
            all(household, &plant, &year_of(50.0), &|_| None).iter().filter(|one| one.code == "F404").count()
        };
        assert_eq!(codes(&household), 0);
        let place = &mut household.dump.as_mut().unwrap().destinations[0];
        place.kind = Destination::Barrel;
        place.takes = Takes::Barrel {
            volume: crate::units::cubic_metres(0.3),
            used_per_day: crate::units::cubic_metres(0.02),
        };
        let drained = example::year();
        let trial = |change: &Change| matches!(change, Change::DumpToDrain).then(|| drained.clone());
        for (held_h, answer) in
            [(4.0, Answer::Yes), (4.1, Answer::Barely), (87.0, Answer::Barely), (88.0, Answer::No)]
        {
            let finding = one(&all(&household, &plant, &year_of(held_h), &trial), "F404");
            assert_eq!(finding.answer, answer, "{held_h}");
            assert_eq!(finding.remedies.len(), usize::from(answer != Answer::Yes));
        }
        // A timer holds it too; where the tank takes it all the same and nothing is refused, that is borne.
        let line = household.dump.as_mut().unwrap();
        line.destinations[0].takes = Takes::All;
        line.timer = Some(crate::household::DailyTimer {
            from: crate::units::seconds(0.0),
            lasts: crate::units::seconds(HOUR_S),
        });
        let mut calm = year_of(500.0);
        assert_eq!(one(&all(&household, &plant, &calm, &trial), "F404").answer, Answer::No);
        calm.total.missed_s = 4.0 * HOUR_S;
        let finding = one(&all(&household, &plant, &calm, &trial), "F404");
        assert_eq!(finding.answer, Answer::Barely);
        assert!(
            finding.text.contains("its timer holds it") && finding.text.contains("not refused"),
            "{}",
            finding.text
        );
    }

    #[test]
    fn the_flow_around_what_is_required() {
        let required = {
            let (plant, year) = (example::plant(), example::year());
            required_kg_s(&plant, &year)
        };
        for (factor, answer) in [
            (1.26, Answer::Yes),
            (1.25, Answer::Yes),
            (1.24, Answer::Barely),
            (1.0, Answer::Barely),
            (0.99, Answer::No),
        ] {
            let mut plant = example::plant();
            plant.dump.as_mut().unwrap().flow_kg_s = factor * required;
            let finding = one(&found(&plant, &example::year()), "F402");
            assert_eq!(finding.answer, answer, "{factor}");
            assert_relative_eq!(finding.value / finding.limit.unwrap(), factor / 1.25, max_relative = 1e-9);
        }
    }

    #[test]
    fn a_small_flow_is_raised_to_what_is_required_and_a_quarter_more() {
        let mut plant = example::plant();
        plant.dump.as_mut().unwrap().flow_kg_s = 0.005;
        let mended = example::year();
        let trial = |change: &Change| matches!(change, Change::DumpFlow(_)).then(|| mended.clone());
        let finding = one(&all(&example::household(), &plant, &example::year(), &trial), "F402");
        assert_eq!(finding.answer, Answer::No);
        assert_eq!(
            (finding.remedies[0].before, Some(finding.remedies[0].after)),
            (finding.value, finding.limit)
        );
    }

    #[test]
    fn a_port_as_cold_as_mains_carries_nothing_away() {
        let year = year_with(|_, month| month.tank_top_k_s = 283.15 * month.duration_s);
        assert_eq!(one(&found(&example::plant(), &year), "F402").answer, Answer::Unknown);
    }

    fn refused_without_dump() -> (crate::household::Household, crate::plant::Plant, Year) {
        let (mut household, mut plant) = (example::household(), example::plant());
        household.dump = None;
        plant.dump = None;
        let year = year_with(|index, month| {
            if (5..=7).contains(&index) {
                month.missed_s = 60.0 * HOUR_S;
                month.over_band_s = 30.0 * HOUR_S;
            }
        });
        (household, plant, year)
    }

    #[test]
    fn without_a_dump_the_months_that_go_wrong_are_named() {
        let (household, plant, year) = refused_without_dump();
        let finding = one(&all(&household, &plant, &year, &|_| None), "F403");
        assert_eq!((finding.answer, finding.value), (Answer::No, 180.0));
        assert!(
            finding.text.contains("in June to August the pump is refused, for 180 hours"),
            "{}",
            finding.text
        );
        assert!(
            finding.text.contains("above its limit in June to August, 90 hours in all"),
            "{}",
            finding.text
        );
    }

    #[test]
    fn the_dump_has_a_reserve_and_the_smallest_that_would_do_is_told() {
        let (household, plant, year) = refused_without_dump();
        let flow_of = |line: &DumpLine| line.flow.get::<cubic_meter_per_second>() * 60_000.0;
        // Refused hours fall with the flow and are gone from this on.
        let told = |enough_l_min: f64| {
            let trial = |change: &Change| match change {
                Change::AddDump(line) => {
                    let left = (1.0 - flow_of(line) / enough_l_min).max(0.0);
                    Some(year_with(|index, month| {
                        month.missed_s = if index == 6 { 180.0 * left * HOUR_S } else { 0.0 }
                    }))
                }
                _ => None,
            };
            one(&all(&household, &plant, &year, &trial), "F403")
        };
        // The example's pump asks for 1.2 L/min (as `the_dump_flow_is_sized_by_the_water_at_its_port`), 1.6 with a quarter more:
        // the next valve has 2. Half a litre a minute is the smallest valve there is that gives 0.4 L/min.
        let finding = told(0.4);
        assert_eq!((finding.remedies.len(), finding.remedies[0].after), (1, 0.0));
        assert!(finding.text.contains("a dump of 0.5 L/min would just have done"), "{}", finding.text);
        let offered = &finding.remedies[0].change;
        assert!(offered.contains(": 2 L/min"), "{offered}");
        let finding = told(1.9);
        assert!(!finding.text.contains("would just have done"), "{}", finding.text);
        assert_eq!(&finding.remedies[0].change, offered);
    }

    #[test]
    fn a_tank_that_takes_all_heat_needs_no_dump() {
        let (household, plant, _) = refused_without_dump();
        let finding = one(&all(&household, &plant, &example::year(), &|_| None), "F403");
        assert_eq!(finding.answer, Answer::Yes);
        assert!(finding.text.starts_with("No dump is needed"));
    }
}

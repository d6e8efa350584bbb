//! Is there enough hot water?

use super::remedy::{remedies, turn_aquastat};
use super::{Answer, Case, Finding, Question, at_least, at_most, sentences};
use crate::change::Change;
use crate::constants::{WATER_SPECIFIC_HEAT_J_PER_KG_K, ZERO_CELSIUS_K};
use crate::plant::{DaySegment, HOUR_S};
use crate::scald::HOTTEST_AT_TAP_K;
use crate::water::density_kg_m3;
use crate::wording::{MONTHS, months, number, percent};
use crate::year::{Interval, Year};
use uom::si::f64::ThermodynamicTemperature;
use uom::si::thermodynamic_temperature::kelvin;

/// Share of the heat wanted at the taps whose absence nobody notices. Common practice, no source.
const UNNOTICED_FRAC: f64 = 0.001;
/// Share whose absence is borne. Common practice, no source.
const BORNE_FRAC: f64 = 0.02;
/// Share of the hot water that the cold room should supply for the pair to be worth its trouble. Common practice, no source.
const WELL_SUPPLIED_FRAC: f64 = 0.8;
/// Share below which the booster does most of the work. Common practice, no source.
const HALF_FRAC: f64 = 0.5;

/// By how much the booster's set point is raised in a trial, K.
const BOOSTER_STEP_DK: f64 = 5.0;

pub(super) const SHORTFALL_SOURCE: &str =
    "0.1 % of the heat wanted as unnoticed, 2 % as borne: Common practice, no source.";
pub(super) const FIRE_SOURCE: &str =
    "The hottest water that may enter the booster is its maker's figure: Common practice, no source.";
pub(super) const SUPPLY_SOURCE: &str =
    "80 % as well supplied, half as the least: Common practice, no source.";

pub(super) fn findings(case: &Case<'_>) -> Vec<Finding> {
    [shortfall(case), supply(case)].into_iter().chain(fire(case)).collect()
}

/// A part of the heat wanted at the taps; 0 where nothing is wanted.
fn of_demand(total: &Interval, part_j: f64) -> f64 {
    if total.demand_j > 0.0 { part_j / total.demand_j } else { 0.0 }
}

fn shortfall_frac(year: &Year) -> f64 {
    of_demand(&year.total, year.total.shortfall_j)
}

/// Water that came out of the taps colder than wanted, m3.
fn cold_water_m3(case: &Case<'_>) -> f64 {
    case.year.total.shortfall_kg / density_kg_m3(case.plant.use_k)
}

/// F601: water at the taps colder than wanted.
fn shortfall(case: &Case<'_>) -> Finding {
    let (say, total) = (case.say, &case.year.total);
    let share = shortfall_frac(case.year);
    let answer = at_most(share, UNNOTICED_FRAC, BORNE_FRAC);
    let wanted = if case.household.hot_water.uses.is_empty() {
        say.temperature(case.plant.use_k)
    } else {
        "you want".to_owned()
    };
    let text = if total.shortfall_s == 0.0 {
        format!("There is enough hot water: the taps never run colder than {wanted}.")
    } else if answer == Answer::Yes {
        format!(
            "There is enough hot water: the taps run colder than {wanted} for {} in the whole year.",
            say.duration(total.shortfall_s)
        )
    } else {
        let opening = if answer == Answer::Barely {
            "Hot water is short now and then"
        } else {
            "There is not enough hot water"
        };
        let worst = case.worst_month(|month| month.shortfall_j);
        sentences(&[
            format!(
                "{opening}: in {} the taps run colder than {wanted}, for {} and about {} in the year, by up to {}, the most in {}.",
                months(|month| case.year.months[month].shortfall_j > 0.0),
                say.duration(total.shortfall_s),
                say.volume(cold_water_m3(case)),
                say.difference(total.shortfall_most_dk),
                MONTHS[worst]
            ),
            why_short(case),
        ])
    };
    let mut changes = Vec::new();
    if answer != Answer::Yes {
        changes.extend(hotter_booster(case));
        changes.extend([Change::tank_volume_times(&case.household.tank, 1.5), Change::HotWaterTimes(0.8)]);
    }
    Finding {
        code: "F601",
        question: Question::EnoughHotWater,
        answer,
        value: share,
        unit: "frac",
        limit: Some(UNNOTICED_FRAC),
        text,
        source: SHORTFALL_SOURCE,
        remedies: remedies(case, changes, shortfall_frac),
    }
}

/// Why hot water is short.
fn why_short(case: &Case<'_>) -> String {
    match case.plant.booster {
        None => {
            "The cold room gives only as much heat as it takes in, and there is no booster, a small heater after the tank, for \
             the rest."
                .to_owned()
        }
        Some(booster) if booster.most_w < most_tap_heat_w(case) => format!(
            "The booster, the heater after the tank, gives {} at most; the largest flow at the taps takes {} when the tank is \
             cold.",
            case.say.heat_rate(booster.most_w),
            case.say.heat_rate(most_tap_heat_w(case))
        ),
        Some(booster) => format!(
            "The booster, the heater after the tank, is strong enough, but its smallest fire is {}: where the water needs less \
             than that it stays off. One with a smaller fire would not.",
            case.say.heat_rate(booster.least_w)
        ),
    }
}

/// Heat that the largest flow at the taps takes with the coldest mains water and a tank no warmer, W.
fn most_tap_heat_w(case: &Case<'_>) -> f64 {
    let coldest_k = case.plant.mains_k.iter().copied().fold(f64::INFINITY, f64::min);
    let heat_w = |segment: &DaySegment| {
        segment.tap_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K * segment.wanted_dk(coldest_k)
    };
    case.plant.days.iter().flatten().map(heat_w).fold(0.0, f64::max)
}

/// A booster that stays off for want of heat to give starts sooner when it is set higher, as far as no tap scalds.
fn hotter_booster(case: &Case<'_>) -> Option<Change> {
    let booster = case.plant.booster.filter(|booster| booster.most_w >= most_tap_heat_w(case))?;
    let set_k = (booster.set_k + BOOSTER_STEP_DK).min(HOTTEST_AT_TAP_K);
    (set_k > booster.set_k).then(|| Change::BoosterSet(ThermodynamicTemperature::new::<kelvin>(set_k)))
}

/// Share of the hot water that came from the cold room.
fn supplied_frac(year: &Year) -> f64 {
    let total = &year.total;
    let drawn_for_j = total.demand_j + total.unused_j;
    let own_j = (total.delivered_j + total.unused_j - total.booster_j - total.element_j).max(0.0);
    if drawn_for_j > 0.0 { own_j / drawn_for_j } else { 0.0 }
}

/// F602: how much of the hot water the cold room supplied.
fn supply(case: &Case<'_>) -> Finding {
    let (say, total) = (case.say, &case.year.total);
    let share = supplied_frac(case.year);
    let answer = at_least(share, WELL_SUPPLIED_FRAC, HALF_FRAC);
    let lowest = case.worst_month(|month| of_demand(month, month.booster_j + month.shortfall_j));
    let booster = match (&case.household.booster, total.booster_bought_j > 0.0) {
        (Some(booster), true) => format!(
            "The booster, the heater after the tank, adds {} and buys {} of {} for it, the largest share in {}.",
            say.energy(total.booster_j),
            say.energy(total.booster_bought_j),
            booster.energy,
            MONTHS[lowest]
        ),
        (Some(_), false) => "The booster, the heater after the tank, is not needed all year.".to_owned(),
        (None, _) => String::new(),
    };
    let element = if total.element_j > 0.0 {
        format!("The electric element adds {} to the tank.", say.energy(total.element_j))
    } else {
        String::new()
    };
    let cold_aquastat = match (&case.plant.dump, answer) {
        (Some(dump), Answer::Barely | Answer::No)
            if dump.opens_k < case.plant.use_k && total.dump_j > 0.0 && dumped_lukewarm(case) =>
        {
            format!(
                "A dump that opens at {} keeps the tank colder than the {} you use.",
                say.temperature(dump.opens_k),
                say.temperature(case.plant.use_k)
            )
        }
        _ => String::new(),
    };
    let changes = match (&case.household.dump, answer) {
        (_, Answer::Yes | Answer::Unknown) => vec![],
        (Some(line), _) if total.dump_j > 0.0 => {
            vec![turn_aquastat(line, 5.0), turn_aquastat(line, 10.0)]
        }
        _ => vec![Change::tank_volume_times(&case.household.tank, 1.5)],
    };
    // The missing share is what has to fall; it is told as the share supplied.
    let mut tried = remedies(case, changes, |year| 1.0 - supplied_frac(year));
    for remedy in &mut tried {
        (remedy.before, remedy.after) = (1.0 - remedy.before, 1.0 - remedy.after);
    }
    let hottest = if total.hottest_drawn_k > ZERO_CELSIUS_K {
        format!("The hottest water drawn from the tank is {}.", say.temperature(total.hottest_drawn_k))
    } else {
        String::new()
    };
    Finding {
        code: "F602",
        question: Question::EnoughHotWater,
        answer,
        value: share,
        unit: "frac",
        limit: Some(WELL_SUPPLIED_FRAC),
        text: sentences(&[
            format!("The cold room supplies {} of the heat you want at the taps.", percent(share)),
            booster,
            element,
            cold_aquastat,
            hottest,
        ]),
        source: SUPPLY_SOURCE,
        remedies: tried,
    }
}

/// F603: how the booster burns.
fn fire(case: &Case<'_>) -> Option<Finding> {
    let (say, total) = (case.say, &case.year.total);
    let booster = case.plant.booster?;
    let burns = if total.booster_fires > 0.0 {
        format!(
            "The booster, the heater after the tank, is lit {} times in the year, for {} each time on average, and gives {} at \
             most of the {} that it can.",
            number(total.booster_fires),
            say.duration(total.booster_s / total.booster_fires),
            say.heat_rate(total.booster_most_w),
            say.heat_rate(booster.most_w)
        )
    } else {
        "The booster, the heater after the tank, is never lit.".to_owned()
    };
    let unlit = if total.booster_unlit_s > 0.0 {
        format!(
            "For {} the taps run with water of which so little heat is wanted that its smallest fire of {} would be too much, and it \
             stays off.",
            say.duration(total.booster_unlit_s),
            say.heat_rate(booster.least_w)
        )
    } else {
        String::new()
    };
    let too_hot = if !booster.highest_inlet_k.is_finite() {
        "Look in its papers for the hottest water that may enter it: not every booster may be fed from a hot tank.".to_owned()
    } else if total.booster_too_hot_s > 0.0 {
        format!(
            "For {} water hotter than the {} that it allows enters it: set a mixing valve before it to that or less, or \
             lead hot water past it.",
            say.duration(total.booster_too_hot_s),
            say.temperature(booster.highest_inlet_k)
        )
    } else {
        format!(
            "No water hotter than the {} that it allows enters it.",
            say.temperature(booster.highest_inlet_k)
        )
    };
    Some(Finding {
        code: "F603",
        question: Question::EnoughHotWater,
        answer: if total.booster_too_hot_s > 0.0 { Answer::No } else { Answer::Yes },
        value: total.booster_too_hot_s / HOUR_S,
        unit: "h",
        limit: Some(0.0),
        text: sentences(&[burns, unlit, too_hot]),
        source: FIRE_SOURCE,
        remedies: Vec::new(),
    })
}

/// Whether the tank's top is colder than what is used in every month that dumps.
fn dumped_lukewarm(case: &Case<'_>) -> bool {
    let mut dumps = case.year.months.iter().filter(|month| month.dump_j > 0.0);
    dumps.all(|month| month.mean(month.tank_top_k_s) < case.plant.use_k)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::finding::tests::{all, found, one, year_with};
    use approx::assert_relative_eq;

    fn short_by(share: f64) -> Year {
        year_with(|_, month| {
            month.shortfall_j = share * month.demand_j;
            month.delivered_j = month.demand_j - month.shortfall_j;
            month.shortfall_s = share * month.tap_s;
            month.shortfall_kg = share * month.demand_kg;
            month.shortfall_most_dk = 4.0;
        })
    }

    #[test]
    fn shortfall_around_its_limits() {
        for (share, answer) in [
            (0.00099, Answer::Yes),
            (0.00101, Answer::Barely),
            (0.0199, Answer::Barely),
            (0.0201, Answer::No),
        ] {
            assert_eq!(one(&found(&example::plant(), &short_by(share)), "F601").answer, answer, "{share}");
        }
    }

    #[test]
    fn a_shortfall_names_litres_and_the_missing_booster() {
        let mut plant = example::plant();
        plant.booster = None;
        let text = one(&found(&plant, &short_by(0.1)), "F601").text;
        // A tenth of 200 kg a day for a year: 7300 kg, 7357 L at 40 °C (992.3 kg/m3, IAPWS-IF97).
        assert!(text.contains("about 7,360 L in the year, by up to 4 degrees C"), "{text}");
        assert!(text.contains("no booster"), "{text}");
    }

    #[test]
    fn a_booster_is_called_weak_or_coarse_by_the_largest_flow() {
        // Example: 200 kg a day evenly, 0.002315 kg/s from 10 to 40 °C: 290.4 W with 4181.6 J/(kg K).
        for (most_w, weak) in [(290.3, true), (290.5, false)] {
            let mut plant = example::plant();
            plant.booster.as_mut().unwrap().most_w = most_w;
            let text = one(&found(&plant, &short_by(0.1)), "F601").text;
            assert_eq!(text.contains("at most"), weak, "{text}");
            assert_eq!(text.contains("smallest fire"), !weak, "{text}");
        }
    }

    #[test]
    fn water_too_hot_for_the_booster_is_told_at_once() {
        for (seconds, answer) in [(0.0, Answer::Yes), (1.0, Answer::No)] {
            let mut plant = example::plant();
            plant.booster.as_mut().unwrap().highest_inlet_k = ZERO_CELSIUS_K + 45.0;
            let year = year_with(|index, month| {
                (month.booster_fires, month.booster_s, month.booster_most_w) = (100.0, 6_000.0, 12_000.0);
                month.booster_too_hot_s = if index == 6 { seconds } else { 0.0 };
            });
            let finding = one(&found(&plant, &year), "F603");
            assert_eq!(finding.answer, answer);
            // 1200 fires of 60 s.
            assert!(
                finding.text.contains("lit 1,200 times in the year, for 1 minute each time"),
                "{}",
                finding.text
            );
        }
        let mut plant = example::plant();
        plant.booster = None;
        assert!(found(&plant, &example::year()).iter().all(|finding| finding.code != "F603"));
    }

    #[test]
    fn supply_around_its_limits() {
        for (share, answer) in
            [(0.801, Answer::Yes), (0.799, Answer::Barely), (0.501, Answer::Barely), (0.499, Answer::No)]
        {
            let year = year_with(|_, month| {
                month.booster_j = (1.0 - share) * month.demand_j;
                month.booster_bought_j = month.booster_j / 0.9;
            });
            let finding = one(&found(&example::plant(), &year), "F602");
            assert_eq!(finding.answer, answer, "{share}");
            assert_relative_eq!(finding.value, share, max_relative = 1e-12);
        }
    }

    #[test]
    fn a_low_aquastat_is_raised_and_the_share_supplied_is_told() {
        let boosted = |share: f64| {
            year_with(|_, month| {
                month.booster_j = share * month.demand_j;
                month.booster_bought_j = month.booster_j / 0.9;
                month.dump_j = 0.1 * month.heat_to_water_j;
                month.tank_top_k_s = 310.0 * month.duration_s;
            })
        };
        let mended = boosted(0.1);
        let trial = |change: &Change| matches!(change, Change::Aquastat { .. }).then(|| mended.clone());
        let finding = one(&all(&example::household(), &example::plant(), &boosted(0.4), &trial), "F602");
        assert!(
            finding.text.contains("of gas") && finding.text.contains("opens at 35 °C"),
            "{}",
            finding.text
        );
        // A tank whose top is hot enough is not kept cold by a low probe.
        let mut hot = boosted(0.4);
        hot.months[6].tank_top_k_s = 330.0 * hot.months[6].duration_s;
        let finding_of_hot = one(&all(&example::household(), &example::plant(), &hot, &trial), "F602");
        assert!(!finding_of_hot.text.contains("opens at 35 °C"), "{}", finding_of_hot.text);
        assert_relative_eq!(finding.remedies[0].before, 0.6, max_relative = 1e-9);
        assert_relative_eq!(finding.remedies[0].after, 0.9, max_relative = 1e-9);
    }
}

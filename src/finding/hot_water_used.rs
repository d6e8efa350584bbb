//! Do we use the hot water it makes?

use super::remedy::{balance_factor, keep_the_tank_open, less_air, remedies, use_to_balance};
use super::{
    Answer, BARELY_FRAC, Case, Finding, HOURS_SOURCE, ONE_EVENT_S, Question, at_most, sentences,
    tank_stays_open,
};
use crate::change::Change;
use crate::plant::{DAY_S, HOUR_S};
use crate::water::density_kg_m3;
use crate::wording::{MONTHS, decimals, list, months, percent};
use crate::year::{Interval, Year};
use uom::si::volume::cubic_meter;

/// Share of the heat made that may be dumped without a thought. Common practice, no source.
const LITTLE_DUMPED_FRAC: f64 = 0.05;
/// Share that is still borne. Common practice, no source.
const BORNE_DUMPED_FRAC: f64 = 0.20;
/// Share of the month's demand from which what is dumped makes it a month of surplus, and what is bought or missed a
/// month of deficit. Common practice, no source.
const SEASON_FROM_FRAC: f64 = 0.05;

/// Share of the year from which the time in which the pump was refused is told beside what it made. Common practice, no source.
const NOT_MADE_FROM_FRAC: f64 = 0.01;

pub(super) const DUMPED_SOURCE: &str = "5 % as little, 20 % as borne: Common practice, no source.";

pub(super) fn findings(case: &Case<'_>) -> Vec<Finding> {
    // A dump that leaves the tank full is none.
    let relieved = case.plant.dump.is_some() && tank_stays_open(&case.year.total) != Answer::No;
    vec![if relieved { dumped(case) } else { refused(case) }]
}

fn dumped_frac(total: &Interval) -> f64 {
    let made_j = total.heat_to_water_j + total.element_j;
    if made_j > 0.0 { total.dump_j / made_j } else { 0.0 }
}

/// The use at balance, in litres a day and people, as a sentence.
fn balance_words(case: &Case<'_>) -> String {
    let Some(factor) = balance_factor(&case.year.total) else {
        return String::new();
    };
    let daily_m3 = case.household.hot_water.daily.get::<cubic_meter>();
    let people = case.household.hot_water.people.map_or(String::new(), |people| {
        format!(", as {} people like you do", decimals(factor * f64::from(people), 1))
    });
    let refused = if case.year.total.missed_s > NOT_MADE_FROM_FRAC * case.year.total.duration_s {
        " What the pump did not make while it was refused is not in it: with a dump, or with more use, it makes more."
    } else {
        ""
    };
    format!(
        "Made and used would be even over the year at about {} a day{people}; you use {}.{refused}{}",
        case.say.volume(factor * daily_m3),
        case.say.volume(daily_m3),
        balance_by_month(case)
    )
}

/// Between which months the use at balance lies, and where all of them are, as a sentence; empty where no month has one.
fn balance_by_month(case: &Case<'_>) -> String {
    let people = case.household.hot_water.people;
    let told: Vec<(usize, f64)> = case
        .year
        .months
        .iter()
        .filter_map(|month| {
            let used_kg = month.demand_kg + month.unused_kg;
            let used_m3 = used_kg / density_kg_m3(case.plant.use_k) / (month.duration_s / DAY_S);
            let each = people.map_or(used_m3, f64::from);
            balance_factor(month).map(|factor| (month.month, factor * each))
        })
        .collect();
    let order = |one: &&(usize, f64), other: &&(usize, f64)| one.1.total_cmp(&other.1);
    let (Some(least), Some(most)) = (told.iter().min_by(order), told.iter().max_by(order)) else {
        return String::new();
    };
    let say = |amount: f64| match people {
        Some(_) => format!("{} people", decimals(amount, 1)),
        None => format!("{} a day", case.say.volume(amount)),
    };
    format!(
        " In {} all of it would do for {}, in {} for {} (by month under \"How much hot water there is\").",
        MONTHS[least.0],
        say(least.1),
        MONTHS[most.0],
        say(most.1)
    )
}

/// Whether a month dumps more than a little of what is wanted, or refuses cooling.
fn too_much(month: &Interval) -> bool {
    month.dump_j > SEASON_FROM_FRAC * month.demand_j || month.missed_s > ONE_EVENT_S
}

/// Whether more than a little of a month's hot water is bought or missed.
fn too_little(month: &Interval) -> bool {
    month.booster_j + month.shortfall_j > SEASON_FROM_FRAC * month.demand_j
}

/// Which months have too much, which too little and which both, as a sentence; no month is named twice.
fn seasons(case: &Case<'_>) -> String {
    let of = |much: bool, little: bool| {
        months(|month| {
            let month = &case.year.months[month];
            (too_much(month), too_little(month)) == (much, little)
        })
    };
    let parts = [
        ("too much", of(true, false)),
        ("too little", of(false, true)),
        ("too much at one time and too little at another", of(true, true)),
    ];
    let told: Vec<_> = parts
        .iter()
        .filter(|(_, when)| !when.is_empty())
        .map(|(what, when)| format!("{what} in {when}"))
        .collect();
    if told.is_empty() { String::new() } else { format!("There is {}.", list(&told)) }
}

/// What became of the heat that the pump gave the water, as a sentence.
fn whereabouts(case: &Case<'_>) -> String {
    let (say, total) = (case.say, &case.year.total);
    let dumped = if case.plant.dump.is_some() {
        format!(", {} were dumped", say.energy(total.dump_j))
    } else {
        String::new()
    };
    let pipe = if total.pipe_loss_j > 0.0 {
        format!(", {} went from the hot pipe back into the room", say.energy(total.pipe_loss_j))
    } else {
        String::new()
    };
    let element = if total.element_j > 0.0 {
        format!(" by the pump and {} by the electric element", say.energy(total.element_j))
    } else {
        String::new()
    };
    format!(
        "Of {} of heat given to the water{element} in the year {} came to the taps, {} were lost from the tank{pipe}{dumped}.",
        say.energy(total.heat_to_water_j),
        say.energy(total.drawn_j),
        say.energy(total.tank_loss_j),
    )
}

fn more_use(case: &Case<'_>) -> Vec<Change> {
    let mut changes = less_air(case);
    changes.extend(use_to_balance(case));
    changes
}

/// F301 with a dump: the share that goes down it.
fn dumped(case: &Case<'_>) -> Finding {
    let total = &case.year.total;
    let share = dumped_frac(total);
    let answer = at_most(share, LITTLE_DUMPED_FRAC, BORNE_DUMPED_FRAC);
    let worst = &case.year.months[case.worst_month(|month| month.dump_j)];
    let opening = match answer {
        Answer::Yes => "You use nearly all the hot water the pump makes.".to_owned(),
        Answer::Barely => format!(
            "You use most of the hot water, but {} of the heat is dumped, most of it in {}.",
            percent(share),
            MONTHS[worst.month]
        ),
        _ => format!(
            "Much of the hot water is not used: {} of the heat is dumped; in {} {} were made, {} used and {} dumped.",
            percent(share),
            MONTHS[worst.month],
            case.say.energy(worst.heat_to_water_j),
            case.say.energy(worst.drawn_j),
            case.say.energy(worst.dump_j)
        ),
    };
    let changes = if answer == Answer::Yes { Vec::new() } else { more_use(case) };
    Finding {
        code: "F301",
        question: Question::HotWaterUsed,
        answer,
        value: share,
        unit: "frac",
        limit: Some(LITTLE_DUMPED_FRAC),
        text: sentences(&[opening, whereabouts(case), seasons(case), balance_words(case)]),
        source: DUMPED_SOURCE,
        remedies: remedies(case, changes, |year: &Year| dumped_frac(&year.total)),
    }
}

/// F301 without a dump, or with one that is not enough: heat that cannot leave the tank shows as cooling refused.
fn refused(case: &Case<'_>) -> Finding {
    let total = &case.year.total;
    let answer = at_most(total.missed_s, ONE_EVENT_S, BARELY_FRAC * total.duration_s);
    let opening = if answer == Answer::Yes {
        "You use the hot water as it is made, without a dump.".to_owned()
    } else {
        format!(
            "Much of the heat comes when the tank is full and has nowhere to go: the pump was refused for {}.",
            case.say.hours(total.missed_s)
        )
    };
    let mut changes = Vec::new();
    if answer != Answer::Yes {
        changes = more_use(case);
        changes.extend(keep_the_tank_open(case));
    }
    Finding {
        code: "F301",
        question: Question::HotWaterUsed,
        answer,
        value: total.missed_s / HOUR_S,
        unit: "h",
        limit: Some(ONE_EVENT_S / HOUR_S),
        text: sentences(&[opening, whereabouts(case), seasons(case), balance_words(case)]),
        source: HOURS_SOURCE,
        remedies: remedies(case, changes, |year| year.total.missed_s / HOUR_S),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::finding::tests::{found, one, year_with};
    use approx::assert_relative_eq;

    #[test]
    fn dumped_shares_around_their_limits() {
        for (share, answer) in
            [(0.0499, Answer::Yes), (0.0501, Answer::Barely), (0.1999, Answer::Barely), (0.2001, Answer::No)]
        {
            let year = year_with(|_, month| month.dump_j = share * month.heat_to_water_j);
            assert_eq!(one(&found(&example::plant(), &year), "F301").answer, answer, "{share}");
        }
    }

    /// What an element heats may be dumped too: never more than all.
    #[test]
    fn heat_of_the_element_is_heat_that_can_be_dumped() {
        let mut total = example::year().total;
        (total.heat_to_water_j, total.element_j, total.dump_j) = (1.0e9, 3.0e9, 2.0e9);
        assert_eq!(dumped_frac(&total), 0.5);
        (total.heat_to_water_j, total.element_j) = (0.0, 0.0);
        assert_eq!(dumped_frac(&total), 0.0);
    }

    #[test]
    fn without_a_dump_the_refused_hours_decide() {
        let mut plant = example::plant();
        plant.dump = None;
        for (hours, answer) in [(4.0, Answer::Yes), (4.1, Answer::Barely), (88.0, Answer::No)] {
            let year = year_with(|index, month| {
                if index == 6 {
                    month.missed_s = hours * HOUR_S;
                }
            });
            let finding = one(&found(&plant, &year), "F301");
            assert_eq!((finding.answer, finding.unit), (answer, "h"), "{hours}");
        }
    }

    #[test]
    fn the_balance_is_what_is_made_less_what_is_lost() {
        // 8 kWh a day made, 1 lost, 7 wanted with 200 L by 4 people: even. With 10 made: 9/7 of it, 257 L, 5.1 people.
        let year = year_with(|_, month| month.heat_to_water_j *= 10.0 / 8.0);
        assert_relative_eq!(balance_factor(&year.total).unwrap(), 9.0 / 7.0, max_relative = 1e-12);
        let text = one(&found(&example::plant(), &year), "F301").text;
        assert!(text.contains("about 257 L a day, as 5.1 people like you do; you use 200 L"), "{text}");
    }

    #[test]
    fn what_a_refused_pump_did_not_make_is_told_from_a_hundredth_of_the_year_on() {
        let told = |share: f64| {
            let year = year_with(|_, month| month.missed_s = share * month.duration_s);
            one(&found(&example::plant(), &year), "F301").text.contains("What the pump did not make")
        };
        assert_eq!([0.0099, 0.0101].map(told), [false, true]);
    }

    #[test]
    fn what_the_hot_pipe_gives_back_is_told_only_where_there_is_one() {
        let told = |pipe_j: f64| {
            let year = year_with(|_, month| month.pipe_loss_j = pipe_j);
            one(&found(&example::plant(), &year), "F301").text
        };
        assert!(!told(0.0).contains("hot pipe"));
        // 12 months of 36 MJ: 120 kWh.
        assert!(
            told(36.0e6).contains("120 kWh went from the hot pipe back into the room"),
            "{}",
            told(36.0e6)
        );
    }

    #[test]
    fn a_month_may_have_too_much_and_too_little() {
        let year = year_with(|index, month| {
            if index == 3 {
                month.dump_j = 0.1 * month.heat_to_water_j;
                month.booster_j = 0.2 * month.demand_j;
            }
        });
        let text = one(&found(&example::plant(), &year), "F301").text;
        assert!(text.contains("There is too much at one time and too little at another in April."), "{text}");
    }

    #[test]
    fn months_of_surplus_and_deficit_are_named() {
        let year = year_with(|index, month| {
            if (5..=8).contains(&index) {
                month.dump_j = 0.3 * month.heat_to_water_j;
            }
            if index <= 1 {
                month.booster_j = 0.051 * month.demand_j;
            }
            if index == 2 {
                month.booster_j = 0.049 * month.demand_j;
            }
        });
        let text = one(&found(&example::plant(), &year), "F301").text;
        assert!(
            text.contains("too much in June to September and too little in January and February."),
            "{text}"
        );
    }

    #[test]
    fn no_month_is_named_twice() {
        let year = year_with(|index, month| {
            (month.dump_j, month.booster_j) = (0.0, 0.0);
            if (5..=8).contains(&index) {
                month.dump_j = 0.3 * month.demand_j;
            }
            if !(7..=9).contains(&index) {
                month.booster_j = 0.06 * month.demand_j;
            }
            if index == 9 {
                (month.dump_j, month.booster_j) = (0.049 * month.demand_j, 0.049 * month.demand_j);
            }
        });
        let text = one(&found(&example::plant(), &year), "F301").text;
        assert!(
            text.contains(
                "There is too much in August and September, too little in November to May and too much at one time and \
                 too little at another in June and July."
            ),
            "{text}"
        );
    }
}

//! The hot water used: how much, when, and on which days.

use crate::draw::{DaySpread, Pattern, Study, range_of_studies_m3};
use crate::household::{Guests, HotWater, Period, TapPipes, TapUse, UseCalendar, mean_of_uses};
use crate::scenario::checker::{Checker, Section};
use crate::scenario::codes;
use crate::scenario::keys::{HOURS, MIDDLE_STUDY, WEEKDAYS};
use crate::units::{DIGITS, Kind, cubic_metres, flow, fraction, kelvin, plain, seconds};
use uom::si::f64::Ratio;

/// How far the shares of the hours together may be from the whole day: 24 of them, rounded to a ten-thousandth each.
const SHARES_OFF_FRAC: f64 = 24.0 * 0.5e-4;

pub(super) fn hot_water(at: &mut Checker, top: &Section<'_>) -> HotWater {
    let section = at.section(top, "hot_water");
    let use_k = at.value(&section, "use_at");
    let people = at.number(&section, "people").map(|people| people as u32);
    let mixing_valve = at.optional(&section, "mixing_valve").map(kelvin);
    // Where there is no valve none is passed; the assumption is listed only where it is one.
    let past_valve = (mixing_valve.is_some() || section.has("past_valve"))
        && at.word(&section, "past_valve") == Some("yes");
    let told = at.one_of(&section, &["daily", "study", "uses"], !section.has("pattern"));
    let uses = uses(at, &section, use_k, past_valve);
    // More than one way of saying when is a fault.
    let when = at.one_of(&section, &["pattern", "by_hour", "uses"], false);
    let pattern = if matches!(when, Some("by_hour" | "uses")) { Pattern::M } else { pattern(at, &section) };
    let by_hour = if section.has("by_hour") { by_hour(at, &section) } else { None };
    let daily_m3 = match told {
        Some("study") => by_study_m3(at, &section, people, use_k),
        Some("uses") => mean_of_uses(&uses).value,
        Some(_) => at.value(&section, "daily"),
        None => own_amount_m3(at, &section, pattern, use_k),
    };
    HotWater {
        daily: cubic_metres(daily_m3),
        use_at: kelvin(use_k),
        pattern,
        by_hour,
        calendar: calendar(at, &section, people, &uses),
        uses,
        people,
        mixing_valve,
        past_valve,
        pipes: pipes(at, &section),
    }
}

fn pattern(at: &mut Checker, section: &Section<'_>) -> Pattern {
    at.word(section, "pattern").and_then(Pattern::by_name).unwrap_or(Pattern::M)
}

/// The household's own shares of the hours; a fault where they do not make a whole day.
fn by_hour(at: &mut Checker, section: &Section<'_>) -> Option<[Ratio; HOURS]> {
    let path = section.path_of("by_hour");
    let shares = at.quantities(section, "by_hour");
    if at.is_tainted(&path) {
        return None;
    }
    let sum: f64 = shares.iter().sum();
    if (sum - 1.0).abs() > SHARES_OFF_FRAC {
        let what = format!("the shares of `{path}` add up to {} %", plain(100.0 * sum, DIGITS));
        let help = if sum > 0.0 {
            "divide each by that sum, or count again which hours have how much"
        } else {
            "say in which hours water is used; a household that uses none says so in `daily`"
        };
        at.fault(&path, "S183", what, Some("together 100 %, or 1".to_owned()), Some(help.to_owned()));
        return None;
    }
    let shares: Vec<Ratio> = shares.into_iter().map(fraction).collect();
    shares.try_into().ok()
}

/// Mixed water a day by a study or by the middle of all, m3.
fn by_study_m3(at: &mut Checker, section: &Section<'_>, people: Option<u32>, use_k: f64) -> f64 {
    let word = at.word(section, "study");
    let Some(people) = people else {
        at.need(section, "people");
        return 0.0;
    };
    let [least, middle, most] = range_of_studies_m3(people, use_k);
    let study = Study::ALL.into_iter().find(|study| Some(study.name()) == word);
    let daily_m3 = study.map_or(middle, |study| study.daily_m3(people, use_k));
    let whole = |m3: f64| (1000.0 * m3).round();
    let source = study.map_or(
        "Second hand: the middle of five studies, each as given in texts that quote it",
        Study::source,
    );
    let reason = format!(
        "{source}; as mixed water of the temperature used. Five studies from as many countries lie between {} and {} L/day",
        whole(least),
        whole(most)
    );
    at.assume(section.path_of("daily"), Kind::DailyVolume.units()[0].write_rounded(daily_m3, 3), &reason);
    debug_assert!(study.is_some() || word == Some(MIDDLE_STUDY));
    daily_m3
}

/// The pattern's own amount of mixed water a day, m3; a fault where it has none.
fn own_amount_m3(at: &mut Checker, section: &Section<'_>, pattern: Pattern, use_k: f64) -> f64 {
    if !section.has("pattern") || at.is_tainted(&section.path_of("pattern")) {
        return 0.0;
    }
    let Some(daily_m3) = pattern.own_daily_m3(use_k) else {
        let path = section.path_of("pattern");
        let what = format!("`{path}` of `{}` has no amount of its own", pattern.name());
        at.fault(&path, codes::ONE_OF, what, None, Some("give `daily` or `study` beside it".to_owned()));
        return 0.0;
    };
    let reason = "Derived here: mixed water that carries the heat of the pattern's own day, cold water as in its standard (from memory, to be verified: 10 °C of EN 16147, 58 °F of Appendix E)";
    at.assume(section.path_of("daily"), Kind::DailyVolume.units()[0].write_rounded(daily_m3, 3), reason);
    daily_m3
}

fn uses(at: &mut Checker, section: &Section<'_>, use_k: f64, past_valve: bool) -> Vec<TapUse> {
    let list = at.list(section, "uses");
    if list.is_empty() && section.has("uses") && !at.is_tainted(&section.path_of("uses")) {
        let path = section.path_of("uses");
        let what = format!("`{path}` is an empty list");
        at.fault(&path, codes::UNREADABLE, what, Some("one use or more".to_owned()), None);
    }
    list.iter()
        .map(|one| TapUse {
            name: at.text(one, "name"),
            water: cubic_metres(at.value(one, "water")),
            wanted_at: kelvin(at.optional(one, "temperature").unwrap_or(use_k)),
            flow: flow(at.value(one, "flow")),
            at: at.times(one, "at").into_iter().map(seconds).collect(),
            days: at.weekdays(one, "days"),
            past_valve: at.word(one, "past_valve").map_or(past_valve, |word| word == "yes"),
        })
        .collect()
}

fn calendar(at: &mut Checker, section: &Section<'_>, people: Option<u32>, uses: &[TapUse]) -> UseCalendar {
    let usual = UseCalendar::default();
    let weekend = at.optional(section, "weekend").map_or(usual.weekend, fraction);
    let months = if section.has("by_month") {
        let shares = at.quantities(section, "by_month");
        super::twelve(&shares).map(fraction)
    } else {
        usual.months
    };
    let weekdays_matter = section.has("weekend") || uses.iter().any(|one| one.days.contains(&false));
    let first_weekday = if weekdays_matter || section.has("first_weekday") {
        let word = at.word(section, "first_weekday");
        WEEKDAYS.iter().position(|day| Some(*day) == word).unwrap_or(0)
    } else {
        usual.first_weekday
    };
    let guests = at.list(section, "guests");
    if !guests.is_empty() && people.is_none() {
        at.need(section, "people");
    }
    let guests = guests
        .iter()
        .map(|one| Guests {
            period: period(at, one),
            people: at.number(one, "people").map_or(1, |people| people as u32),
        })
        .collect();
    let absences = at.list(section, "absences").iter().map(|one| period(at, one)).collect();
    let spread = at.optional_section(section, "day_to_day").map(|chance| DaySpread {
        seed: at.number(&chance, "seed").map_or(1, |seed| seed as u32),
        daily_frac: at.value(&chance, "spread"),
        time_s: at.value(&chance, "times"),
    });
    UseCalendar { first_weekday, weekend, months, guests, absences, spread }
}

fn period(at: &mut Checker, section: &Section<'_>) -> Period {
    Period { first: at.date(section, "from"), last: at.date(section, "to") }
}

fn pipes(at: &mut Checker, section: &Section<'_>) -> Option<TapPipes> {
    let pipes = at.optional_section(section, "pipes")?;
    Some(TapPipes {
        runs_before_warm: cubic_metres(at.value(&pipes, "runs_before_warm")),
        cools_in: seconds(at.value(&pipes, "cools_in")),
    })
}

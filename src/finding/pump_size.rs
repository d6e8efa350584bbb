//! Is the pump the right size?

use super::remedy::{
    bottle, effects, keep_the_tank_open, less_air, remedies, slower, spares_the_food, wider_band,
};
use super::{Answer, Case, Finding, ONE_EVENT_S, Question, Remedy, at_most, sentences, tank_stays_open};
use crate::change::Change;
use crate::household::CoolerUnit;
use crate::overflow::line_with_reserve;
use crate::plant::{Calendar, DAY_S};
use crate::size::{RESERVE_H_PER_DAY, Size, Verdict, start_loss_frac};
use crate::wording::{MONTHS, count, number, percent};
use crate::year::{Interval, Year};

/// Mean run below which a pump hardly comes to work, s. Common practice, no source: compressors are kept running for 5 minutes at least for the return of their oil.
const SHORT_RUN_S: f64 = 300.0;
/// Share of the shortest run below which the mean run is called cut short. Common practice, no source.
const CUT_SHORT_FRAC: f64 = 0.9;
/// Starts a day at 3 an hour all day: what is called normal for heat pumps. Second hand: trade pages, 2-3 cycles an hour.
const NORMAL_STARTS_PER_DAY: f64 = 3.0 * 24.0;
/// Starts a day at 6 an hour all day: the most that a compressor should make. Common practice, no source; 3-6 in
/// commercial-refrigeration notes (second hand).
const MOST_STARTS_PER_DAY: f64 = 6.0 * 24.0;
/// Share of the heat lost to starting that does not matter: the lower end of what very short cycles cost.
/// Source: International Energy Agency heat pump conference 2011, 2-5 %. Checked: abstract read.
const SMALL_START_LOSS_FRAC: f64 = 0.02;
/// Its upper end. Source: as [`SMALL_START_LOSS_FRAC`].
const LARGE_START_LOSS_FRAC: f64 = 0.05;

pub(super) const SIZE_SOURCE: &str = "16 to 18 hours on the day of the heaviest load: Common practice, no source. Half and a quarter of \
    that, where half and a quarter of the pump would do: Derived here.";
pub(super) const STARTS_SOURCE: &str = "3 starts an hour as normal: trade pages (Second hand); 6 an hour at most, 5 minutes as the shortest good run: Common practice, no source.";
pub(super) const LOSS_SOURCE: &str = "2 to 5 % for very short cycles: International Energy Agency heat pump conference, 2011 (Checked: \
    abstract read).";

pub(super) fn findings(case: &Case<'_>) -> Vec<Finding> {
    let starts = starts(case);
    let start_loss = start_loss(case, starts.answer);
    let short_runs = [&starts, &start_loss].into_iter().find(|finding| finding.answer != Answer::Yes);
    vec![size(case, short_runs.map(|finding| finding.code)), starts, start_loss]
}

fn starts_per_day(month: &Interval) -> f64 {
    month.starts / month.duration_s * DAY_S
}

/// The largest of a monthly figure in a year.
fn worst(year: &Year, of: fn(&Interval) -> f64) -> f64 {
    year.months.iter().map(of).fold(f64::NEG_INFINITY, f64::max)
}

/// Heat lost to starting in a year, as a share of what would have been made without.
fn lost_frac(year: &Year) -> f64 {
    start_loss_frac(&year.total).unwrap_or(0.0)
}

/// F201: the pump against the heaviest day. `short_runs`: the finding that tells what each remedy against short runs does, if they
/// need one.
fn size(case: &Case<'_>, short_runs: Option<&'static str>) -> Finding {
    if tank_stays_open(&case.year.total) == Answer::No {
        return hidden_size(case);
    }
    let size = Size::of(case.year);
    let needed_h = size.needed_h();
    Finding {
        code: "F201",
        question: Question::PumpSize,
        answer: answer_of(size.verdict),
        value: needed_h.unwrap_or(0.0),
        unit: "h/day",
        limit: Some(RESERVE_H_PER_DAY),
        text: sentences(&[
            verdict_words(size.verdict),
            softened_words(case, size.verdict, short_runs),
            heaviest_words(case, &size),
            refused_words(case, &size),
            band_words(case),
        ]),
        source: SIZE_SOURCE,
        remedies: match size.verdict {
            Verdict::TooSmall | Verdict::OnlyJust => remedies(case, against_the_load(case), needed_or_all),
            Verdict::TooBig => smaller_units(case, &[0.5]),
            Verdict::FarTooBig => smaller_units(case, &[0.5, 0.25]),
            Verdict::Right | Verdict::NothingToCool | Verdict::Unknown => Vec::new(),
        },
    }
}

fn answer_of(verdict: Verdict) -> Answer {
    match verdict {
        Verdict::Right | Verdict::NothingToCool => Answer::Yes,
        Verdict::OnlyJust | Verdict::TooBig => Answer::Barely,
        Verdict::TooSmall | Verdict::FarTooBig => Answer::No,
        Verdict::Unknown => Answer::Unknown,
    }
}

/// F201 where warm water refuses the pump: the room is then warmer than its thermostat asks for, and its load and the pump's capacity are those of a
/// warm room. The pump is judged in a year in which the tank takes its heat, by a remedy or, where none does, by a dump for all of it; no other size is
/// offered before.
fn hidden_size(case: &Case<'_>) -> Finding {
    let dump_for_all = || line_with_reserve(case.plant, case.year).map(Change::AddDump);
    let relieved = keep_the_tank_open(case)
        .into_iter()
        .chain(std::iter::once_with(dump_for_all).flatten())
        .find_map(|change| {
            let year = (case.trial)(&change)?;
            (tank_stays_open(&year.total) != Answer::No).then(|| (change, Size::of(&year)))
        });
    let told = relieved.as_ref().map_or_else(
        || {
            "Whether the pump has the right size is not seen in a year in which warm water refuses it: the room it leaves warm lets less heat in, and a smaller \
             pump would look enough. Put F104 right first."
                .to_owned()
        },
        |(change, size)| {
            sentences(&[
                verdict_words(size.verdict),
                format!(
                    "So it is with the tank relieved, as when you {}. As it stands, warm water refuses the pump, and the room it leaves warm lets less heat in, so \
                     that any pump looks larger than it is.",
                    change.words_in(case.household.units)
                ),
                heaviest_words(case, size),
                "Change nothing of the pump before that is done.".to_owned(),
            ])
        },
    );
    let size = relieved.map(|(_, size)| size);
    Finding {
        code: "F201",
        question: Question::PumpSize,
        answer: size.as_ref().map_or(Answer::Unknown, |size| answer_of(size.verdict)),
        value: size.as_ref().and_then(Size::needed_h).unwrap_or(0.0),
        unit: "h/day",
        limit: Some(RESERVE_H_PER_DAY),
        text: sentences(&[told, band_words(case)]),
        source: SIZE_SOURCE,
        remedies: Vec::new(),
    }
}

fn verdict_words(verdict: Verdict) -> String {
    match verdict {
        Verdict::TooSmall => "The pump is too small or the room too leaky.",
        Verdict::OnlyJust => {
            "The pump is only just strong enough: little is left for much warm produce at once or a coil that ices."
        }
        Verdict::Right => "The pump is the right size.",
        Verdict::TooBig => {
            "The pump is too big: half of it would do. That harms no food; what it costs in starts and heat is told in F202 and \
             F203."
        }
        Verdict::FarTooBig => {
            "The pump is far too big: a quarter of it would do. That harms no food; what it costs in starts and heat is told in \
             F202 and F203."
        }
        Verdict::NothingToCool => "The pump never ran: the room asked for no cooling all year.",
        Verdict::Unknown => "What the pump can do is not known: it was never allowed to run.",
    }
    .to_owned()
}

/// How a pump that is too big is borne without another one: by slow running that it has, and by band and probe together. What each of
/// these does alone is told elsewhere.
fn softened_words(case: &Case<'_>, verdict: Verdict, short_runs: Option<&'static str>) -> String {
    if !matches!(verdict, Verdict::TooBig | Verdict::FarTooBig) {
        return String::new();
    }
    let slow = slow_running_words(case);
    match short_runs {
        None if slow.is_empty() => "Its runs are long enough as it is.".to_owned(),
        None => slow,
        Some(told_in) => sentences(&[slow, kept_words(case, told_in)]),
    }
}

/// What the unit's slow running does for it.
fn slow_running_words(case: &Case<'_>) -> String {
    let CoolerUnit::HeatPump(unit) = &case.household.cooler;
    let full = unit.slow_running.and_then(|_| (case.trial)(&Change::FullOutput));
    match full {
        Some(full) if helps(&full, case.year) => format!(
            "That it can run slowly softens this: at full output alone it would start {} times a day at most instead of {}, and lose {} of its heat to starting instead of {}.",
            number(worst(&full, starts_per_day)),
            number(worst(case.year, starts_per_day)),
            percent(lost_frac(&full)),
            percent(lost_frac(case.year))
        ),
        _ => String::new(),
    }
}

/// What a wider band and a probe in water do together for the unit that is there.
fn kept_words(case: &Case<'_>, told_in: &str) -> String {
    let Some(bottle) = bottle(case) else {
        let wider = (case.trial)(&wider_band(case)).filter(|changed| helps(case.year, changed));
        return wider.map_or(String::new(), |_| {
            format!("To keep this unit, a wider band of the thermostat makes fewer and longer runs: see {told_in}.")
        });
    };
    let together = Change::Together(vec![wider_band(case), bottle]);
    let changed = (case.trial)(&together)
        .filter(|changed| helps(case.year, changed) && spares_the_food(case.year, changed));
    changed.map_or(String::new(), |changed| {
        format!(
            "To keep this unit, {}: together that makes {} starts a day at most instead of {}, and {} of its heat lost to starting instead of {}; each alone is tried in {told_in}.",
            together.words_in(case.household.units),
            number(worst(&changed, starts_per_day)),
            number(worst(case.year, starts_per_day)),
            percent(lost_frac(&changed)),
            percent(lost_frac(case.year))
        )
    })
}

/// Whether the starts of the busiest month become clearly fewer.
fn helps(before: &Year, after: &Year) -> bool {
    const CLEARLY_FEWER: f64 = 0.95;
    worst(after, starts_per_day) < CLEARLY_FEWER * worst(before, starts_per_day)
}

/// Load and capacity of the day that decides.
fn heaviest_words(case: &Case<'_>, size: &Size) -> String {
    let Some((month, needed_h)) = size.hardest().zip(size.needed_h()) else { return String::new() };
    let (Some(day), Some(load_w), Some(capacity_w)) =
        (month.heaviest_day, month.heaviest_w(), month.capacity_w)
    else {
        return String::new();
    };
    let rate = |w: f64| case.say.heat_rate(w);
    format!(
        "On the heaviest day, {}, {} comes into the room on the mean and the pump at full output takes out {}: it would need \
         {} of the 24 hours.",
        date(&case.year.calendar, day.day),
        rate(load_w),
        rate(capacity_w),
        number(needed_h)
    )
}

/// A day of the year as "3 August".
fn date(calendar: &Calendar, day: usize) -> String {
    let month = calendar.month_of_hour(24 * day);
    format!("{} {}", day - calendar.month_starts_h[month] / 24 + 1, MONTHS[month])
}

/// That a bigger pump is refused by a full tank too, where that is what happens.
fn refused_words(case: &Case<'_>, size: &Size) -> String {
    let refused = case.year.total.missed_s > ONE_EVENT_S && size.verdict != Verdict::Unknown;
    if refused {
        "In the hours in which it was refused (F104) a bigger one would be refused as well.".to_owned()
    } else {
        String::new()
    }
}

/// Hours needed on the heaviest day; all of a day where that is not known.
fn needed_or_all(year: &Year) -> f64 {
    Size::of(year).needed_h().unwrap_or(24.0)
}

/// What lowers the load, and a bigger unit.
fn against_the_load(case: &Case<'_>) -> Vec<Change> {
    let mut changes = less_air(case);
    changes.extend([Change::SurfaceUTimes { surface: None, factor: 0.5 }, Change::RatedOutputTimes(1.5)]);
    changes
}

/// Smaller units that leave a reserve, and what they do to starts and heat.
fn smaller_units(case: &Case<'_>, factors: &[f64]) -> Vec<Remedy> {
    let smaller = |&factor: &f64| {
        let change = Change::RatedOutputTimes(factor);
        let changed = (case.trial)(&change)?;
        let after = Size::of(&changed).needed_h()?;
        (after <= RESERVE_H_PER_DAY && spares_the_food(case.year, &changed)).then(|| Remedy {
            change: change.words_in(case.household.units),
            before: Size::of(case.year).needed_h().unwrap_or(0.0),
            after,
            text: format!(
                "Starts a day at most {} instead of {}; heat lost to starting {} instead of {}. {}",
                number(worst(&changed, starts_per_day)),
                number(worst(case.year, starts_per_day)),
                percent(lost_frac(&changed)),
                percent(lost_frac(case.year)),
                effects(case.year, &changed, case.say)
            ),
            effort: change.effort(),
        })
    };
    factors.iter().filter_map(smaller).collect()
}

/// How far the real pump may be from the calculated one.
fn band_words(case: &Case<'_>) -> String {
    let band = case.household.evidence().band();
    format!(
        "The real unit's heat may differ by {} and its COP by {} either side, by what is known of it.",
        percent(band.heat_frac),
        percent(band.cop_frac)
    )
}

/// What makes longer runs.
fn against_short_runs(case: &Case<'_>) -> Vec<Change> {
    let mut changes = vec![wider_band(case)];
    changes.extend(bottle(case));
    changes.extend(slower(case));
    changes
}

fn mean_run_words(case: &Case<'_>, month: &Interval) -> String {
    if month.starts > 0.0 { case.say.duration(month.run_s / month.starts) } else { case.say.duration(0.0) }
}

/// F202: starts a day in the month with most of them.
fn starts(case: &Case<'_>) -> Finding {
    let busiest = case.worst_month(starts_per_day);
    let month = &case.year.months[busiest];
    let per_day = starts_per_day(month);
    let often = at_most(per_day, NORMAL_STARTS_PER_DAY, MOST_STARTS_PER_DAY);
    let run_s = if month.starts > 0.0 { month.run_s / month.starts } else { f64::INFINITY };
    let answer = match often {
        Answer::Yes if run_s < SHORT_RUN_S => Answer::Barely,
        often => often,
    };
    let figures = format!(
        "{} a day in {}, {} long on the mean",
        count(per_day, "run"),
        MONTHS[busiest],
        mean_run_words(case, month)
    );
    let text = match answer {
        Answer::Yes => format!("The pump does not start too often: {figures}."),
        Answer::Barely if often == Answer::Yes => format!(
            "The pump's runs are short: {figures}. In less than {} oil and refrigerant hardly come round before it stops.",
            case.say.duration(SHORT_RUN_S)
        ),
        Answer::Barely => format!(
            "The pump starts often: {figures}. More than 3 starts an hour wear compressor and relay more than a heat pump \
             normally has to bear."
        ),
        _ => format!(
            "The pump starts far too often: {figures}. More than 6 starts an hour wear a compressor out; the pump is too big \
             for the room, or the thermostat's band too narrow."
        ),
    };
    let changes = if answer == Answer::Yes { Vec::new() } else { against_short_runs(case) };
    Finding {
        code: "F202",
        question: Question::PumpSize,
        answer,
        value: per_day,
        unit: "1/day",
        limit: Some(NORMAL_STARTS_PER_DAY),
        text,
        source: STARTS_SOURCE,
        remedies: remedies(case, changes, |year| worst(year, starts_per_day)),
    }
}

/// F203: heat lost to starting. What makes longer runs is told once: by F202 where that has something to mend.
fn start_loss(case: &Case<'_>, starts: Answer) -> Finding {
    let total = &case.year.total;
    let share = lost_frac(case.year);
    let answer = at_most(share, SMALL_START_LOSS_FRAC, LARGE_START_LOSS_FRAC);
    let run = mean_run_words(case, total);
    let opening = match answer {
        Answer::Yes => format!("Starting costs little: {} of the pump's heat.", percent(share)),
        _ => format!(
            "Starting costs {} of the pump's heat, because a run lasts only {run} on the mean and each begins with half a minute \
             or so of full power and little heat.",
            percent(share)
        ),
    };
    let clock = if answer != Answer::Yes && runs_cut_short(case) {
        "Runs end before the shortest time that the thermostat asks for: a limit of the pump, most often warm water, breaks them off.".to_owned()
    } else if answer != Answer::Yes && runs_by_the_clock(case) {
        format!(
            "The runs end as soon as their shortest time of {} is over: the pump is large for this room.",
            case.say.duration(case.plant.thermostat.min_run_s)
        )
    } else {
        String::new()
    };
    let told = answer == Answer::Yes || starts != Answer::Yes;
    let changes = if told { Vec::new() } else { against_short_runs(case) };
    let elsewhere =
        if told && answer != Answer::Yes { "What makes longer runs is told in F202." } else { "" };
    Finding {
        code: "F203",
        question: Question::PumpSize,
        answer,
        value: share,
        unit: "frac",
        limit: Some(SMALL_START_LOSS_FRAC),
        text: sentences(&[opening, clock, elsewhere.to_owned()]),
        source: LOSS_SOURCE,
        remedies: remedies(case, changes, lost_frac),
    }
}

/// Whether limits end the mean run before its shortest time.
fn runs_cut_short(case: &Case<'_>) -> bool {
    let total = &case.year.total;
    total.run_s < CUT_SHORT_FRAC * case.plant.thermostat.min_run_s * total.starts
}

/// Whether the mean run is hardly longer than the shortest one allowed.
fn runs_by_the_clock(case: &Case<'_>) -> bool {
    const HARDLY_LONGER: f64 = 1.2;
    let total = &case.year.total;
    total.run_s <= HARDLY_LONGER * case.plant.thermostat.min_run_s * total.starts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::finding::tests::{all, found, one, year_with};
    use crate::year::DayLoad;
    use approx::assert_relative_eq;

    /// The example year with the heaviest day of August, of which the example needs ten hours, made to need so many.
    fn needing(hours: f64) -> Year {
        let mut year = example::year();
        let load_j = year.heaviest_days[7].map_or(0.0, |day| day.load_j) * hours / 10.0;
        year.heaviest_days = [None; 12];
        year.heaviest_days[7] = Some(DayLoad { day: 214, load_j, gain_j: Default::default() });
        year
    }

    /// Refused by warm water for a little less and a little more than a hundredth of the year; relieved by a lower aquastat or by nothing.
    #[test]
    fn the_size_is_not_told_while_warm_water_refuses_the_pump() {
        let refused = |share: f64| {
            year_with(|_, month| {
                month.missed_s = share * month.duration_s;
                month.locked_by_inlet_s = month.missed_s;
            })
        };
        assert_ne!(one(&found(&example::plant(), &refused(0.0099)), "F201").answer, Answer::Unknown);
        let lost = one(&found(&example::plant(), &refused(0.0101)), "F201");
        assert!(
            lost.answer == Answer::Unknown && lost.text.contains("Put F104 right first"),
            "{}",
            lost.text
        );
        let open = example::year();
        let trial = |change: &Change| matches!(change, Change::Aquastat { .. }).then(|| open.clone());
        let told = one(&all(&example::household(), &example::plant(), &refused(0.0101), &trial), "F201");
        // Where no remedy relieves the tank, a dump for all of the pump's heat shows its size.
        let line = line_with_reserve(&example::plant(), &refused(0.0101)).map(|line| line.flow);
        let by_dump = |change: &Change| {
            matches!(change, Change::AddDump(dump) if Some(dump.flow) == line).then(|| open.clone())
        };
        let judged = one(&all(&example::household(), &example::plant(), &refused(0.0101), &by_dump), "F201");
        assert_eq!(judged.answer, told.answer);
        assert!(judged.text.contains("as when you fit an overflow dump"), "{}", judged.text);
        assert_eq!(told.answer, answer_of(Size::of(&open).verdict));
        assert!(told.answer != Answer::Unknown && told.remedies.is_empty());
        assert!(
            told.text.contains("with the tank relieved, as when you let the aquastat open"),
            "{}",
            told.text
        );
        assert_eq!(told.value, Size::of(&open).needed_h().unwrap_or(0.0));
    }

    #[test]
    fn the_heaviest_day_around_its_limits() {
        for (hours, answer, words) in [
            (4.49, Answer::No, "far too big"),
            (4.51, Answer::Barely, "too big"),
            (8.99, Answer::Barely, "too big"),
            (9.01, Answer::Yes, "right size"),
            (17.99, Answer::Yes, "right size"),
            (18.01, Answer::Barely, "only just"),
            (21.99, Answer::Barely, "only just"),
            (22.01, Answer::No, "too small"),
        ] {
            let finding = one(&found(&example::plant(), &needing(hours)), "F201");
            assert_eq!(finding.answer, answer, "{hours}");
            assert_relative_eq!(finding.value, hours, max_relative = 1e-12);
            assert!(finding.text.contains(words) && finding.text.contains("3 August"), "{}", finding.text);
        }
    }

    #[test]
    fn a_pump_that_never_ran_is_right_only_where_nothing_asked_for_it() {
        let still = |missed_s: f64| {
            let mut year =
                year_with(|_, month| (month.run_s, month.output_frac_s, month.starts) = (0.0, 0.0, 0.0));
            year.total.missed_s = missed_s;
            one(&found(&example::plant(), &year), "F201").answer
        };
        assert_eq!((still(0.0), still(1.0)), (Answer::Yes, Answer::Unknown));
    }

    #[test]
    fn a_small_pump_is_offered_less_load_and_a_bigger_unit() {
        let trial = |change: &Change| {
            let hours = match change {
                Change::SurfaceUTimes { .. } => 20.0,
                Change::RatedOutputTimes(factor) => 24.0 / factor,
                _ => return None,
            };
            Some(needing(hours))
        };
        let finding = one(&all(&example::household(), &example::plant(), &needing(24.0), &trial), "F201");
        let after: Vec<f64> = finding.remedies.iter().map(|remedy| remedy.after).collect();
        assert_eq!((finding.answer, after.len()), (Answer::No, 2));
        assert_relative_eq!(after[0], 16.0, max_relative = 1e-12);
    }

    #[test]
    fn a_big_pump_is_offered_smaller_ones_that_leave_a_reserve() {
        let trial = |change: &Change| match change {
            Change::RatedOutputTimes(factor) => {
                let mut year = needing(4.0 / factor);
                year.total.start_loss_j = 0.01 * year.total.heat_to_water_j;
                Some(year)
            }
            _ => None,
        };
        let found = all(&example::household(), &example::plant(), &needing(4.0), &trial);
        let remedies = one(&found, "F201").remedies;
        assert_eq!(remedies.len(), 2);
        assert_relative_eq!(remedies[1].after, 16.0, max_relative = 1e-12);
        assert!(
            remedies[1].text.contains("heat lost to starting 1 % instead of 0 %"),
            "{}",
            remedies[1].text
        );
        // A unit of a quarter would need 20 hours: no reserve.
        let found = all(&example::household(), &example::plant(), &needing(4.4), &|change| match change {
            Change::RatedOutputTimes(factor) => Some(needing(5.0 / factor)),
            _ => None,
        });
        assert_eq!(one(&found, "F201").remedies.len(), 1);
    }

    /// A year that needs so many hours and starts so often.
    fn starting(hours: f64, factor: f64) -> Year {
        let mut year = needing(hours);
        year.months.iter_mut().for_each(|month| month.starts = factor * month.run_s / 90.0);
        year.total.starts = factor * year.total.run_s / 90.0;
        year.total.start_loss_j = 0.1 * factor * year.total.heat_to_water_j;
        year
    }

    #[test]
    fn a_big_pump_that_starts_often_is_told_what_band_and_probe_do_together() {
        let trial = |change: &Change| match change {
            Change::Together(changes) if changes.len() == 2 => Some(starting(4.0, 0.2)),
            _ => None,
        };
        let told =
            |year: &Year| one(&all(&example::household(), &example::plant(), year, &trial), "F201").text;
        let text = told(&starting(4.0, 1.0));
        assert!(text.contains("To keep this unit, give the room thermostat a band of"), "{text}");
        assert!(text.contains("in a bottle of water: together") && text.contains("tried in F202"), "{text}");
        let mut in_water = example::household();
        in_water.thermostat.probe_lag = crate::units::seconds(1800.0);
        let band = |change: &Change| matches!(change, Change::ThermostatBand(_)).then(|| starting(4.0, 0.4));
        let text = one(&all(&in_water, &example::plant(), &starting(4.0, 1.0), &band), "F201").text;
        assert!(
            text.contains("a wider band of the thermostat makes fewer and longer runs: see F202"),
            "{text}"
        );
        // Neither a pump with long runs nor one of the right size needs it.
        assert!(told(&needing(4.0)).contains("Its runs are long enough as it is."));
        assert!(!told(&starting(12.0, 1.0)).contains("To keep this unit"));
    }

    #[test]
    fn a_big_pump_that_runs_slowly_is_told_what_that_saves() {
        let mut household = example::household();
        let CoolerUnit::HeatPump(unit) = &mut household.cooler;
        unit.slow_running = Some(crate::household::SlowRunning {
            least: crate::units::fraction(0.3),
            gain_at_half: crate::units::fraction(0.0),
        });
        let trial = |full: f64| {
            move |change: &Change| matches!(change, Change::FullOutput).then(|| starting(4.0, full))
        };
        let year = starting(4.0, 0.05);
        let told = |full: f64| one(&all(&household, &example::plant(), &year, &trial(full)), "F201").text;
        assert!(told(0.4).contains("at full output alone it would start"), "{}", told(0.4));
        assert!(!told(0.05).contains("at full output alone"));
    }

    #[test]
    fn starts_around_three_and_six_an_hour() {
        for (per_day, answer) in [
            (71.0, Answer::Yes),
            (72.0, Answer::Yes),
            (73.0, Answer::Barely),
            (144.0, Answer::Barely),
            (145.0, Answer::No),
        ] {
            let year = year_with(|index, month| {
                if index == 7 {
                    month.starts = per_day * month.duration_s / DAY_S;
                    month.run_s = 400.0 * month.starts;
                }
            });
            assert_eq!(one(&found(&example::plant(), &year), "F202").answer, answer, "{per_day}");
        }
        // Few starts of runs shorter than five minutes are not well either.
        for (run_s, answer) in [(299.0, Answer::Barely), (300.0, Answer::Yes), (301.0, Answer::Yes)] {
            let year = year_with(|index, month| {
                if index == 7 {
                    month.starts = 40.0 * month.duration_s / DAY_S;
                    month.run_s = run_s * month.starts;
                }
            });
            let finding = one(&found(&example::plant(), &year), "F202");
            assert_eq!(
                (finding.answer, finding.text.contains("runs are short")),
                (answer, answer != Answer::Yes)
            );
        }
    }

    #[test]
    fn start_loss_around_two_and_five_per_cent() {
        for (share, answer) in
            [(0.0199, Answer::Yes), (0.0201, Answer::Barely), (0.0499, Answer::Barely), (0.0501, Answer::No)]
        {
            let year =
                year_with(|_, month| month.start_loss_j = share / (1.0 - share) * month.heat_to_water_j);
            let finding = one(&found(&example::plant(), &year), "F203");
            assert_eq!(finding.answer, answer, "{share}");
            assert_relative_eq!(finding.value, share, max_relative = 1e-12);
        }
    }

    #[test]
    fn short_runs_are_offered_a_wider_band_a_bottle_and_a_slower_unit_once() {
        for (run_s, told_by, silent) in [(300.0, "F203", "F202"), (90.0, "F202", "F203")] {
            let short = year_with(|_, month| {
                month.starts = month.run_s / run_s;
                month.start_loss_j = 0.1 * month.heat_to_water_j;
            });
            let trial = |change: &Change| {
                let factor = match change {
                    Change::ThermostatBand(_) => 0.6,
                    Change::ProbeLag(_) => 0.3,
                    Change::SlowRunning(_) => 0.5,
                    _ => return None,
                };
                let mut year = short.clone();
                year.total.start_loss_j *= factor;
                year.months.iter_mut().for_each(|month| month.starts *= factor);
                Some(year)
            };
            let found = all(&example::household(), &example::plant(), &short, &trial);
            assert_eq!(one(&found, told_by).remedies.len(), 3);
            assert_eq!(one(&found, silent).remedies, []);
            let loss = one(&found, "F203");
            assert_eq!((loss.answer, loss.text.contains("told in F202")), (Answer::No, told_by == "F202"));
            // Runs of 90 s do not reach the shortest of five minutes: something else ends them.
            let why = if run_s < 270.0 { "breaks them off" } else { "large for this room" };
            assert!(loss.text.contains(why), "{}", loss.text);
        }
    }
}

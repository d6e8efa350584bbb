//! Is the pump the right size?

use super::remedy::{bottle, less_air, remedies, wider_band};
use super::{Answer, Case, Finding, Question, at_most, sentences};
use crate::change::Change;
use crate::plant::DAY_S;
use crate::wording::{MONTHS, count, number, percent};
use crate::year::{Interval, Year};

/// Running time a day that leaves a reserve for hot days, h. Common practice, no source: rooms above freezing are laid out for
/// 16 to 18 hours.
const RESERVE_H_PER_DAY: f64 = 18.0;
/// Running time a day from which nothing is left, h. Common practice, no source.
const FULL_H_PER_DAY: f64 = 22.0;
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
/// Duty below which half the pump would do with room to spare.
const HALF_WOULD_DO_FRAC: f64 = 0.35;

pub(super) const DUTY_SOURCE: &str = "16 to 18 hours a day: Common practice, no source.";
pub(super) const STARTS_SOURCE: &str =
    "3 starts an hour as normal: trade pages (Second hand); 6 an hour at most: Common practice, no source.";
pub(super) const LOSS_SOURCE: &str = "2 to 5 % for very short cycles: International Energy Agency heat pump conference, 2011 (Checked: \
    abstract read).";

pub(super) fn findings(case: &Case<'_>) -> Vec<Finding> {
    vec![duty(case), starts(case), start_loss(case)]
}

fn run_frac(month: &Interval) -> f64 {
    month.run_s / month.duration_s
}

fn starts_per_day(month: &Interval) -> f64 {
    month.starts / month.duration_s * DAY_S
}

/// The largest of a monthly figure in a year.
fn worst(year: &Year, of: fn(&Interval) -> f64) -> f64 {
    year.months.iter().map(of).fold(f64::NEG_INFINITY, f64::max)
}

/// Heat lost to starting as a share of what would have been made without.
fn start_loss_frac(total: &Interval) -> f64 {
    let whole_j = total.heat_to_water_j + total.start_loss_j;
    if whole_j > 0.0 { total.start_loss_j / whole_j } else { 0.0 }
}

/// F201: hours a day in the busiest month.
fn duty(case: &Case<'_>) -> Finding {
    let busiest = case.worst_month(run_frac);
    let hours = 24.0 * run_frac(&case.year.months[busiest]);
    let answer = at_most(hours, RESERVE_H_PER_DAY, FULL_H_PER_DAY);
    let month = MONTHS[busiest];
    let hours_said = number(hours);
    let text = match answer {
        Answer::Yes => format!(
            "The pump is strong enough: in its busiest month, {month}, it runs {hours_said} hours a day, which leaves a reserve \
             for hot spells."
        ),
        Answer::Barely => format!(
            "The pump is only just strong enough: in {month} it runs {hours_said} hours a day. That leaves little for a hot \
             spell, much warm produce at once, or a coil that ices."
        ),
        _ => format!(
            "The pump is too small or the room too leaky: in {month} the pump runs {hours_said} hours a day and has no reserve."
        ),
    };
    let changes = if answer == Answer::Yes {
        vec![]
    } else {
        let mut changes = less_air(case);
        changes.extend([Change::SurfaceUTimes { surface: None, factor: 0.5 }, Change::RatedOutputTimes(1.5)]);
        changes
    };
    Finding {
        code: "F201",
        question: Question::PumpSize,
        answer,
        value: hours,
        unit: "h/day",
        limit: Some(RESERVE_H_PER_DAY),
        text,
        source: DUTY_SOURCE,
        remedies: remedies(case, changes, |year| 24.0 * worst(year, run_frac)),
    }
}

/// What makes longer runs.
fn against_short_runs(case: &Case<'_>) -> Vec<Change> {
    let mut changes = vec![wider_band(case)];
    changes.extend(bottle(case));
    if worst(case.year, run_frac) < HALF_WOULD_DO_FRAC {
        changes.push(Change::RatedOutputTimes(0.5));
    }
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
    let answer = at_most(per_day, NORMAL_STARTS_PER_DAY, MOST_STARTS_PER_DAY);
    let figures = format!(
        "{} a day in {}, {} long on the mean",
        count(per_day, "run"),
        MONTHS[busiest],
        mean_run_words(case, month)
    );
    let text = match answer {
        Answer::Yes => format!("The pump does not start too often: {figures}."),
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

/// F203: heat lost to starting.
fn start_loss(case: &Case<'_>) -> Finding {
    let total = &case.year.total;
    let share = start_loss_frac(total);
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
    let clock = if answer != Answer::Yes && runs_by_the_clock(case) {
        format!(
            "The runs end as soon as their shortest time of {} is over: the pump is large for this room.",
            case.say.duration(case.plant.thermostat.min_run_s)
        )
    } else {
        String::new()
    };
    let changes = if answer == Answer::Yes { Vec::new() } else { against_short_runs(case) };
    Finding {
        code: "F203",
        question: Question::PumpSize,
        answer,
        value: share,
        unit: "frac",
        limit: Some(SMALL_START_LOSS_FRAC),
        text: sentences(&[opening, clock]),
        source: LOSS_SOURCE,
        remedies: remedies(case, changes, |year| start_loss_frac(&year.total)),
    }
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
    use approx::assert_relative_eq;

    #[test]
    fn running_time_around_its_limits() {
        for (hours, answer) in [
            (17.9, Answer::Yes),
            (18.0, Answer::Yes),
            (18.1, Answer::Barely),
            (22.0, Answer::Barely),
            (22.1, Answer::No),
        ] {
            let year = year_with(|index, month| {
                if index == 7 {
                    month.run_s = hours / 24.0 * month.duration_s;
                }
            });
            let finding = one(&found(&example::plant(), &year), "F201");
            assert_eq!(finding.answer, answer, "{hours}");
            assert_relative_eq!(finding.value, hours, max_relative = 1e-12);
            assert!(finding.text.contains("August"), "{}", finding.text);
        }
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
                }
            });
            assert_eq!(one(&found(&example::plant(), &year), "F202").answer, answer, "{per_day}");
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
    fn a_big_pump_is_offered_a_wider_band_a_bottle_and_half_its_size() {
        let short = year_with(|_, month| {
            month.starts = month.run_s / 300.0;
            month.start_loss_j = 0.1 * month.heat_to_water_j;
        });
        let trial = |change: &Change| {
            let factor = match change {
                Change::ThermostatBand(_) => 0.6,
                Change::ProbeLag(_) => 0.3,
                Change::RatedOutputTimes(_) => 0.5,
                _ => return None,
            };
            let mut year = short.clone();
            year.total.start_loss_j *= factor;
            Some(year)
        };
        let finding = one(&all(&example::household(), &example::plant(), &short, &trial), "F203");
        assert_eq!((finding.answer, finding.remedies.len()), (Answer::No, 3));
        assert!(
            finding.text.contains("5 minutes") && finding.text.contains("large for this room"),
            "{}",
            finding.text
        );
    }
}

//! The household's questions, answered from a simulated year.

mod confidence;
mod crops;
mod dump;
mod enough_hot_water;
mod explanations;
mod food;
mod frost_protection;
mod harm;
mod hot_water_used;
mod pump_size;
mod remedy;
mod settings;

pub use confidence::{Confidence, confidence};
pub use explanations::EXPLANATIONS;
pub(crate) use remedy::balance_factor;

use std::cell::RefCell;

use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use serde::Serialize;

use crate::change::{Change, Effort};
use crate::household::Household;
use crate::plant::{Caller, Cooler, Plant};
use crate::wording::Wording;
use crate::year::{Interval, Year};

/// The household's questions, in the order in which they are answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Question {
    /// Will the food hold?
    Food,
    /// Is the pump the right size?
    PumpSize,
    /// Do we use the hot water it makes?
    HotWaterUsed,
    /// What has to be dumped, how fast, where?
    Dump,
    /// Where do dials, probes and ports go?
    Settings,
    /// Is there enough hot water?
    EnoughHotWater,
    /// Can someone be hurt?
    Harm,
}

/// A plain answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// Yes.
    Yes,
    /// Only just.
    Barely,
    /// No.
    No,
    /// The scenario does not say enough.
    Unknown,
}

/// One answered question, or part of one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// Code, `F` and three digits; stable.
    pub code: &'static str,
    /// The question it belongs to.
    pub question: Question,
    /// The answer.
    pub answer: Answer,
    /// The number that decides.
    pub value: f64,
    /// Its unit, as in the JSON keys (`h`, `1/day`, `kwh`, `l/day`, `degc`).
    pub unit: &'static str,
    /// The number it is held against, if there is one.
    pub limit: Option<f64>,
    /// Answer and reason in words.
    pub text: String,
    /// Where the limit comes from, with its trust word.
    pub source: &'static str,
    /// What would change the answer, found by running the changed year.
    pub remedies: Vec<Remedy>,
}

/// A change of the installation and what the changed year came to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Remedy {
    /// What to change, in words.
    pub change: String,
    /// The deciding number before.
    pub before: f64,
    /// The deciding number after.
    pub after: f64,
    /// Further effects in words (electricity, litres).
    pub text: String,
    /// What it takes to make it.
    pub effort: Effort,
}

/// Time above a limit that no single event can have exceeded where the whole year does not, s: perishable food is to be
/// thrown out when above 4.4 °C for more than 4 hours. Source: US federal advice on food without power. Checked: original
/// read, a county public-health page that gives the rule; the federal text itself second hand.
pub(crate) const ONE_EVENT_S: f64 = 4.0 * 3600.0;
/// Share of the year that is still "only just": 1 %, some 88 hours. Common practice, no source.
const BARELY_FRAC: f64 = 0.01;

/// Whether the food stays within the household's limit on the warm side in a stretch of time, as F101 answers it.
pub fn stays_cold(interval: &Interval) -> Answer {
    at_most(interval.over_band_s, ONE_EVENT_S, BARELY_FRAC * interval.duration_s)
}

/// Whether the food stays unfrozen in a stretch of time: not where it freezes itself, only just where air or blown air does, as F102
/// answers it.
pub fn stays_unfrozen(interval: &Interval) -> Answer {
    if interval.frozen_contents_s > 0.0 {
        Answer::No
    } else if interval.frozen_air_s > 0.0 || interval.frozen_blown_s > 0.0 {
        Answer::Barely
    } else {
        Answer::Yes
    }
}

/// Time in which the room wanted cooling and the water that the pump would take was too warm for it, s.
fn refused_by_water_s(interval: &Interval) -> f64 {
    interval.missed_s.min(interval.locked_by_inlet_s)
}

/// Whether the tank takes the pump's heat whenever the room asks for cooling.
fn tank_stays_open(interval: &Interval) -> Answer {
    at_most(refused_by_water_s(interval), ONE_EVENT_S, BARELY_FRAC * interval.duration_s)
}

const HOURS_SOURCE: &str = "4 hours: food-safety advice for perishable food above 4.4 °C (40 °F) (Checked: original read, a \
    county public-health page); 1 % of the year as \"only just\": Common practice, no source.";

/// The year of the household with a change made; `None` where the change is refused.
type Trial<'a> = dyn Fn(&Change) -> Option<Year> + 'a;

/// What the answers are found from.
struct Case<'a> {
    household: &'a Household,
    plant: &'a Plant,
    year: &'a Year,
    trial: &'a Trial<'a>,
    say: Wording,
}

impl Case<'_> {
    /// Whether the tank's thermostat alone calls the pump, so that the room's has no say.
    fn tank_alone_calls(&self) -> bool {
        let Cooler::HeatPump(pump) = &self.plant.cooler;
        matches!(pump.caller, Caller::Tank(_))
    }

    /// The month with the largest of a quantity, the earlier one of equals.
    fn worst_month(&self, of: impl Fn(&Interval) -> f64) -> usize {
        let months = &self.year.months;
        (1..months.len()).fold(
            0,
            |worst, month| {
                if of(&months[month]) > of(&months[worst]) { month } else { worst }
            },
        )
    }
}

/// Every answer, in the order of the questions.
///
/// `trial` runs the household with one change made through the year (`None` if the change is refused); the effect of
/// each remedy is computed so. Which changes are worth a trial may depend on trials before: the questions are answered
/// with the trials known so far, the changes that were missing are tried side by side, and so on until none is missing.
/// The last answers rest on known trials alone, so they are the same for any number of threads.
///
/// # Errors
/// The error of the first change, in the order in which they are asked for, whose trial failed.
pub fn findings<E: Send>(
    household: &Household,
    plant: &Plant,
    year: &Year,
    trial: &(dyn Fn(&Change) -> Result<Option<Year>, E> + Sync),
) -> Result<Vec<Finding>, E> {
    let mut tried = Tried::default();
    loop {
        let missing = RefCell::new(Vec::new());
        let known = |change: &Change| tried.look_up(change, &missing);
        let say = Wording(household.units);
        let answers = answers(&Case { household, plant, year, trial: &known, say });
        let missing = missing.into_inner();
        if missing.is_empty() {
            return Ok(answers);
        }
        tried.run(&missing, trial)?;
    }
}

fn answers(case: &Case<'_>) -> Vec<Finding> {
    [
        food::findings,
        crops::findings,
        pump_size::findings,
        hot_water_used::findings,
        dump::findings,
        settings::findings,
        enough_hot_water::findings,
        harm::findings,
    ]
    .iter()
    .flat_map(|question| question(case))
    .collect()
}

/// The trials that were run, each once though several findings ask for it: what the change is, written out, and its year.
#[derive(Default)]
struct Tried(Vec<(String, Option<Year>)>);

impl Tried {
    /// The year of a change; one that was not tried yet counts as refused and is noted among the missing.
    fn look_up(&self, change: &Change, missing: &RefCell<Vec<Change>>) -> Option<Year> {
        let name = name(change);
        if let Some((_, year)) = self.0.iter().find(|(known, _)| *known == name) {
            return year.clone();
        }
        let mut missing = missing.borrow_mut();
        if !missing.iter().any(|other| self::name(other) == name) {
            missing.push(change.clone());
        }
        None
    }

    fn run<E: Send>(
        &mut self,
        changes: &[Change],
        trial: &(dyn Fn(&Change) -> Result<Option<Year>, E> + Sync),
    ) -> Result<(), E> {
        let years: Vec<Result<Option<Year>, E>> = changes.par_iter().map(trial).collect();
        for (change, year) in changes.iter().zip(years) {
            self.0.push((name(change), year?));
        }
        Ok(())
    }
}

/// What tells one change from another: all its values.
fn name(change: &Change) -> String {
    format!("{change:?}")
}

/// The answer for a quantity that should be small.
fn at_most(value: f64, yes: f64, barely: f64) -> Answer {
    match value {
        value if value <= yes => Answer::Yes,
        value if value <= barely => Answer::Barely,
        value if value.is_nan() => Answer::Unknown,
        _ => Answer::No,
    }
}

/// The answer for a quantity that should be large.
fn at_least(value: f64, yes: f64, barely: f64) -> Answer {
    at_most(-value, -yes, -barely)
}

/// Joins sentences, leaving out the empty ones.
fn sentences(parts: &[String]) -> String {
    parts.iter().filter(|part| !part.is_empty()).cloned().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
pub(crate) mod tests {
    use std::convert::Infallible;
    use std::sync::Mutex;

    use super::*;
    use crate::caution::example;

    /// Findings where no trial fails.
    pub(super) fn all(
        household: &Household,
        plant: &Plant,
        year: &Year,
        trial: &(dyn Fn(&Change) -> Option<Year> + Sync),
    ) -> Vec<Finding> {
        let trial = |change: &Change| Ok::<_, Infallible>(trial(change));
        findings(household, plant, year, &trial).unwrap_or_else(|never| match never {})
    }

    /// Findings of a year with the example household; every change is refused.
    pub(super) fn found(plant: &Plant, year: &Year) -> Vec<Finding> {
        all(&example::household(), plant, year, &|_| None)
    }

    /// The finding of a code.
    pub(super) fn one(findings: &[Finding], code: &str) -> Finding {
        findings
            .iter()
            .find(|finding| finding.code == code)
            .unwrap_or_else(|| panic!("no finding {code}"))
            .clone()
    }

    /// A year in which each month was edited.
    pub(super) fn year_with(edit: impl Fn(usize, &mut Interval)) -> Year {
        let mut months = example::year().months;
        for (index, month) in months.iter_mut().enumerate() {
            edit(index, month);
        }
        example::year_of(months)
    }

    #[test]
    fn findings_come_in_the_order_of_the_questions_and_stand_alone() {
        let found = found(&example::plant(), &example::year());
        assert!(found.windows(2).all(|pair| pair[0].question <= pair[1].question));
        let mut codes: Vec<_> = found.iter().map(|finding| finding.code).collect();
        codes.dedup();
        assert_eq!(codes.len(), found.len());
        for finding in &found {
            let ends = finding.text.matches(". ").count() + usize::from(finding.text.ends_with('.'));
            assert!((1..=5).contains(&ends), "{}: {}", finding.code, finding.text);
            assert!(!finding.text.contains("NaN") && !finding.text.contains("inf "), "{}", finding.text);
            assert!(finding.value.is_finite(), "{}", finding.code);
            assert!(
                ["Checked", "Second hand", "Common practice", "Derived here"]
                    .iter()
                    .any(|word| finding.source.contains(word)),
                "{}",
                finding.source
            );
        }
    }

    #[test]
    fn a_quiet_year_is_answered_with_yes() {
        for finding in found(&example::plant(), &example::year()) {
            // The carrots want it 4 K colder than the contents are.
            let expected = if finding.code == "F106" { Answer::Barely } else { Answer::Yes };
            if finding.question != Question::Harm {
                assert_eq!(finding.answer, expected, "{}: {}", finding.code, finding.text);
                assert!(finding.remedies.is_empty());
            }
        }
    }

    /// A year that asks for many remedies.
    fn bad_year() -> Year {
        year_with(|_, month| (month.over_band_s, month.missed_s) = (1.0e6, 1.0e6))
    }

    #[test]
    fn a_change_that_several_findings_try_is_run_once() {
        let runs = Mutex::new(Vec::new());
        let trial = |change: &Change| {
            runs.lock().unwrap().push(name(change));
            None
        };
        all(&example::household(), &example::plant(), &bad_year(), &trial);
        let mut once = runs.lock().unwrap().clone();
        once.sort();
        once.dedup();
        assert_eq!(once.len(), runs.lock().unwrap().len());
        assert!(once.len() > 1);
    }

    #[test]
    fn a_trial_that_fails_is_no_refusal_and_the_first_failure_is_told() {
        let trial = |change: &Change| match change {
            Change::ThermostatSet(_) => Ok(None),
            other => Err(name(other)),
        };
        let failed = findings(&example::household(), &example::plant(), &bad_year(), &trial).unwrap_err();
        let asked = RefCell::new(Vec::new());
        let (household, plant, year) = (example::household(), example::plant(), bad_year());
        let trial = |change: &Change| Tried::default().look_up(change, &asked);
        let say = Wording(household.units);
        answers(&Case { household: &household, plant: &plant, year: &year, trial: &trial, say });
        let first =
            asked.borrow().iter().find(|change| !matches!(change, Change::ThermostatSet(_))).map(name);
        assert_eq!(Some(failed), first);
    }

    #[test]
    fn the_answers_do_not_depend_on_the_number_of_threads() {
        let mut mended = bad_year();
        mended.total.over_band_s *= 0.5;
        mended.total.missed_s *= 0.5;
        let told = |threads: usize| {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            let trial = |_: &Change| Some(mended.clone());
            pool.install(|| all(&example::household(), &example::plant(), &bad_year(), &trial))
        };
        let one = told(1);
        assert!(one.iter().any(|finding| !finding.remedies.is_empty()));
        assert_eq!(one, told(3));
    }

    #[test]
    fn a_limit_belongs_to_the_better_answer() {
        assert_eq!(at_most(1.0, 1.0, 2.0), Answer::Yes);
        assert_eq!(at_most(1.1, 1.0, 2.0), Answer::Barely);
        assert_eq!(at_most(2.0, 1.0, 2.0), Answer::Barely);
        assert_eq!(at_most(2.1, 1.0, 2.0), Answer::No);
        assert_eq!(at_most(f64::NAN, 1.0, 2.0), Answer::Unknown);
        assert_eq!(at_least(0.8, 0.8, 0.5), Answer::Yes);
        assert_eq!(at_least(0.49, 0.8, 0.5), Answer::No);
    }
}

//! `larderloop check`: a household's year, its questions answered.

use std::fs;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use rayon::iter::{IntoParallelIterator, IntoParallelRefIterator, ParallelIterator};

use crate::balance;
use crate::caution::{self, Caution, Severity};
use crate::change::{Change, ChangeError};
use crate::cli::color::Color;
use crate::cli::exit::Exit;
use crate::cli::failure::Failure;
use crate::cli::output::print;
use crate::cli::progress::Progress;
use crate::cli::reading::{self, Asked};
use crate::constants::ZERO_CELSIUS_K;
use crate::finding;
use crate::heat_pump::Band;
use crate::household::{CalledBy, CoolerUnit, Household};
use crate::load_cut;
use crate::other_tank;
use crate::overflow;
use crate::page::page;
use crate::plant::Plant;
use crate::report::hourly::Hourly;
use crate::report::{
    Assessment, Beside, CallerYear, Course, DumpYear, ENDS, Hours, LeftOut, LoadCut, OtherTanks, Report,
    TankYear, WholeFile, ends, first_not_finite, json::Document, text,
};
use crate::resolution::Resolution;
use crate::simulate::simulate;
use crate::year::{Sink, Year};

/// Examples under `larderloop check --help`.
const EXAMPLES: &str = "\
Examples:
  larderloop check scenarios/basement-chicago.yaml
  larderloop check cellar.yaml --units us | less
  larderloop check cellar.yaml --json > cellar.json
  larderloop check cellar.yaml --hourly cellar.csv
  larderloop check cellar.yaml --html cellar.html
  larderloop check cellar.yaml --fail-on fix-first && echo safe";

/// What `larderloop check` is told.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    #[command(flatten)]
    asked: Asked,
    /// Write the year hour by hour as CSV to FILE, whole or not at all
    #[arg(long, value_name = "FILE")]
    hourly: Option<PathBuf>,
    /// Write the report as one page of HTML to FILE, whole or not at all
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// End with code 1 if a caution of this urgency or above is raised
    #[arg(long, value_name = "URGENCY")]
    fail_on: Option<FailOn>,
}

/// Urgency of cautions that make the command fail.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum FailOn {
    /// Somebody qualified has to look first
    StopWork,
    /// To be put right first
    FixFirst,
    /// Anything worth knowing
    Know,
}

impl From<FailOn> for Severity {
    fn from(urgency: FailOn) -> Self {
        match urgency {
            FailOn::StopWork => Severity::StopWork,
            FailOn::FixFirst => Severity::FixFirst,
            FailOn::Know => Severity::Know,
        }
    }
}

/// Checks the scenario, runs its year and prints what came out.
///
/// # Errors
/// [`Failure`]; nothing has been written then, except to a pipe or file that failed half-way.
pub fn run(arguments: &Arguments, color: Color) -> Result<Exit, Failure> {
    let household = reading::household(&arguments.asked, color)?;
    let scenario = &arguments.asked.scenario;
    for path in [&arguments.hourly, &arguments.html].into_iter().flatten() {
        not_the_scenario(path, scenario)?;
    }
    let mut hourly = arguments.hourly.as_deref().map(Hourly::create).transpose()?;
    let html = arguments.html.as_deref().map(WholeFile::create).transpose()?;
    let assessment = assess(&arguments.asked.scenario, &household, hourly.as_mut())?;
    let text = if arguments.asked.json {
        Document::of(&assessment).text()?
    } else {
        text::render(&Report::of(&assessment, household.units))
    };
    hourly.map(Hourly::keep).transpose()?;
    if let Some(html) = html {
        html.keep_with(&page(&assessment, &household))?;
    }
    print(&text, color)?;
    Ok(exit(arguments.fail_on, &assessment.cautions))
}

fn not_the_scenario(path: &Path, scenario: &Path) -> Result<(), Failure> {
    let real = |path: &Path| fs::canonicalize(path).ok();
    if real(path).is_some_and(|target| Some(target) == real(scenario)) {
        return Err(Failure::OutputIsInput { path: path.to_owned() });
    }
    Ok(())
}

fn assess(
    scenario: &Path,
    household: &Household,
    hourly: Option<&mut Hourly>,
) -> Result<Assessment, Failure> {
    let plant = Plant::new(household);
    let mut hours = Hours::default();
    let year = match hourly {
        Some(hourly) => finite_year(&plant, &mut (hourly, &mut hours))?,
        None => finite_year(&plant, &mut hours)?,
    };
    let course = Course::of(&hours, &year.calendar, household.room.warm_limit.value - ZERO_CELSIUS_K);
    let progress = Progress::new();
    let trial = |change: &Change| {
        progress.step();
        changed_year(change, household)
    };
    let band = household.evidence().band();
    let (findings, ends) = rayon::join(
        || finding::findings(household, &plant, &year, &trial),
        || years_at_the_ends(&plant, band),
    );
    let (findings, ends) = (findings?, ends?);
    let caller_years = caller_years(household, &year, &trial)?;
    let other_tanks = other_tanks(household, &year, &progress)?;
    let dump_years = (
        dump_years(overflow::sizes(household, &plant, &year), &trial)?,
        dump_years(overflow::other_changes(household, &year), &trial)?,
    );
    let load_cuts = load_cuts(household, &year, &trial)?;
    drop(progress);
    let cautions = caution::cautions(household, &plant, &year);
    let confidence =
        finding::confidence(household, &findings, crate::report::ends(&plant, band).iter().zip(&ends));
    let hand = balance::hand_balance(&plant);
    let differences = balance::compare(&plant, &hand, &year);
    Ok(Assessment::new(
        scenario.display().to_string(),
        household,
        &plant,
        year,
        Beside {
            hand: &hand,
            differences: &differences,
            caller_years,
            other_tanks,
            dump_years,
            load_cuts,
            course,
            ends: &ends,
            confidence,
        },
        (findings, cautions),
    ))
}

/// The year with COP and heat of the pump at the ends of their band.
fn years_at_the_ends(plant: &Plant, band: Band) -> Result<[Year; ENDS], Failure> {
    let plants = ends(plant, band);
    let year = |plant: &Plant| {
        finite_year(plant, &mut ()).map_err(|failure| {
            let change = "take COP and heat of the pump at an end of their band".to_owned();
            Failure::Trial { change, source: Box::new(failure) }
        })
    };
    let years: Vec<Result<Year, Failure>> = plants.par_iter().map(year).collect();
    let years: Vec<Year> = years.into_iter().collect::<Result<_, _>>()?;
    Ok(years.try_into().expect("one year for each of the plants"))
}

/// The year under each thermostat that may call the pump; one that the household's check refuses is left out.
fn caller_years(
    household: &Household,
    own: &Year,
    trial: &(dyn Fn(&Change) -> Result<Option<Year>, Failure> + Sync),
) -> Result<Vec<CallerYear>, Failure> {
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let year = |caller: CalledBy| {
        let year =
            if unit.called_by == caller { Some(own.clone()) } else { trial(&Change::CalledBy(caller))? };
        Ok(year.map(|year| CallerYear::of(caller, household, &year)))
    };
    let years: Result<Vec<_>, Failure> = CalledBy::ALL.into_par_iter().map(year).collect();
    Ok(years?.into_iter().flatten().collect())
}

/// The year with another tank, or with its ports and the aquastat in other places; what the household's check refuses is left out with its reasons.
fn other_tanks(household: &Household, own: &Year, progress: &Progress) -> Result<OtherTanks, Failure> {
    let tried = |change: Change| match change.apply(household) {
        Ok(changed) => {
            progress.step();
            let year = year_after(&change, &changed)?;
            Ok(Ok(TankYear::of(Some(change), &year)))
        }
        Err(ChangeError::Refused { faults, .. }) => Ok(Err(LeftOut { change, reasons: faults })),
        Err(impossible) => Err(Failure::Remedy(impossible)),
    };
    let tried: Result<Vec<_>, Failure> = other_tank::changes(household).into_par_iter().map(tried).collect();
    let mut told = OtherTanks { years: vec![TankYear::of(None, own)], left_out: Vec::new() };
    for one in tried? {
        match one {
            Ok(year) => told.years.push(year),
            Err(left_out) => told.left_out.push(left_out),
        }
    }
    Ok(told)
}

/// The year after each measure against the room's load; one that the household's check refuses is left out.
fn load_cuts(
    household: &Household,
    own: &Year,
    trial: &(dyn Fn(&Change) -> Result<Option<Year>, Failure> + Sync),
) -> Result<Vec<LoadCut>, Failure> {
    let cut =
        |change: Change| Ok(trial(&change)?.map(|changed| LoadCut::of(&change, household, own, &changed)));
    let cuts: Result<Vec<_>, Failure> = load_cut::changes(household).into_par_iter().map(cut).collect();
    Ok(cuts?.into_iter().flatten().collect())
}

/// The year after each change of the dump; one that the household's check refuses is left out.
fn dump_years(
    changes: Vec<Change>,
    trial: &(dyn Fn(&Change) -> Result<Option<Year>, Failure> + Sync),
) -> Result<Vec<DumpYear>, Failure> {
    let year = |change: Change| Ok(trial(&change)?.map(|year| DumpYear::of(change, &year)));
    let years: Result<Vec<_>, Failure> = changes.into_par_iter().map(year).collect();
    Ok(years?.into_iter().flatten().collect())
}

/// The year of the changed household; `None` where it would be refused. A year that fails is no refusal: the changed
/// household was checked like any other. Nor is a change that finds nothing to act on: no remedy should think of it.
fn changed_year(change: &Change, household: &Household) -> Result<Option<Year>, Failure> {
    match change.apply(household) {
        Ok(changed) => year_after(change, &changed).map(Some),
        Err(ChangeError::Refused { .. }) => Ok(None),
        Err(impossible) => Err(Failure::Remedy(impossible)),
    }
}

/// The year of a household after a change.
fn year_after(change: &Change, changed: &Household) -> Result<Year, Failure> {
    finite_year(&Plant::new(changed), &mut ())
        .map_err(|failure| Failure::Trial { change: change.words(), source: Box::new(failure) })
}

fn finite_year(plant: &Plant, sink: &mut impl Sink) -> Result<Year, Failure> {
    let year = simulate(plant, &Resolution::default(), sink)?;
    match first_not_finite(year.months.iter().chain([&year.total])) {
        Some(key) => Err(Failure::NotFinite { key }),
        None => Ok(year),
    }
}

fn exit(fail_on: Option<FailOn>, cautions: &[Caution]) -> Exit {
    let raised = |least: Severity| cautions.iter().any(|caution| caution.severity >= least);
    match fail_on {
        Some(urgency) if raised(urgency.into()) => Exit::Cautions,
        _ => Exit::Done,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plant::example::household;

    #[test]
    fn a_refused_change_is_no_remedy_and_one_without_anything_to_act_on_is_a_bug() {
        let mut household = household();
        household.dump = None;
        let refused = changed_year(&Change::Leakage(1.0e3), &household);
        assert!(matches!(refused, Ok(None)), "{refused:?}");
        for impossible in [Change::RemoveDump, Change::HotWaterTimes(f64::NAN)] {
            let failure = changed_year(&impossible, &household).expect_err("nothing to act on");
            assert_eq!(failure.exit(), Exit::Bug, "{failure}");
        }
    }

    #[test]
    fn only_a_caution_at_or_above_the_asked_urgency_fails() {
        let raised = [Caution {
            code: "C001",
            title: "title",
            severity: Severity::FixFirst,
            text: String::new(),
            source: "source",
        }];
        assert_eq!(exit(None, &raised), Exit::Done);
        assert_eq!(exit(Some(FailOn::StopWork), &raised), Exit::Done);
        assert_eq!(exit(Some(FailOn::FixFirst), &raised), Exit::Cautions);
        assert_eq!(exit(Some(FailOn::Know), &raised), Exit::Cautions);
        assert_eq!(exit(Some(FailOn::Know), &[]), Exit::Done);
    }
}

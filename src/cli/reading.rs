//! A household from its scenario, as the commands that report about one read it.

use std::io::{self, Write};
use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::cli::color::Color;
use crate::cli::failure::Failure;
use crate::diagnostic::render_all;
use crate::household::{Household, UnitSystem};
use crate::scenario;

/// What every command that reports about a household is told.
#[derive(Debug, Args)]
pub struct Asked {
    /// The household's scenario, a YAML file
    pub scenario: PathBuf,
    /// Print one JSON document instead of the report; it is always metric
    #[arg(long)]
    pub json: bool,
    /// Units of the report, instead of those that the scenario asks for
    #[arg(long, value_name = "SYSTEM")]
    units: Option<Units>,
}

/// Unit systems of the report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Units {
    /// °C, L, kWh, W
    Metric,
    /// °F, US gallons, kWh, BTU/h
    Us,
}

impl From<Units> for UnitSystem {
    fn from(units: Units) -> Self {
        match units {
            Units::Metric => UnitSystem::Metric,
            Units::Us => UnitSystem::Us,
        }
    }
}

/// The checked household, with the units to report in: those asked for, else its own; a JSON document is metric, words
/// included. What is probably not meant is told on standard error.
///
/// # Errors
/// [`Failure::Scenario`].
pub fn household(asked: &Asked, color: Color) -> Result<Household, Failure> {
    let scenario = scenario::open(&asked.scenario)?;
    warn(&scenario, color);
    let mut household = scenario.household;
    household.units = match asked.units {
        _ if asked.json => UnitSystem::Metric,
        Some(units) => units.into(),
        None => household.units,
    };
    Ok(household)
}

/// A closed standard error is no failure.
fn warn(scenario: &scenario::Scenario, color: Color) {
    if !scenario.warnings.is_empty() {
        let stderr = io::stderr();
        let words = render_all(&scenario.warnings, &scenario.source, color.wanted(&stderr));
        let _ = writeln!(stderr.lock(), "{words}");
    }
}

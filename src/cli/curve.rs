//! `larderloop curve`: COP and cooling of the household's unit against water inlet and room air.

use clap::Args;

use crate::cli::color::Color;
use crate::cli::exit::Exit;
use crate::cli::failure::Failure;
use crate::cli::output::print;
use crate::cli::reading::{self, Asked};
use crate::plant::Plant;
use crate::report::json::CurveDocument;
use crate::report::{Curve, Report, text};

/// Examples under `larderloop curve --help`.
const EXAMPLES: &str = "\
Examples:
  larderloop curve scenarios/basement-chicago.yaml
  larderloop curve cellar.yaml --units us
  larderloop curve cellar.yaml --json > curve.json";

/// What `larderloop curve` is told.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    #[command(flatten)]
    asked: Asked,
}

/// Checks the scenario and prints what its pump does; no year is run.
///
/// # Errors
/// [`Failure`]; nothing has been written then, except to a pipe that failed half-way.
pub fn run(arguments: &Arguments, color: Color) -> Result<Exit, Failure> {
    let household = reading::household(&arguments.asked, color)?;
    let name = arguments.asked.scenario.display().to_string();
    let curve = Curve::of_household(&household, &Plant::new(&household));
    let text = if arguments.asked.json {
        CurveDocument::of(&name, &household.name, &curve).text()?
    } else {
        text::render(&Report::of_curve(&name, &household.name, &curve, household.units))
    };
    print(&text, color)?;
    Ok(Exit::Done)
}

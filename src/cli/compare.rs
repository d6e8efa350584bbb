//! `larderloop compare`: the same room under other ways of cooling.

use clap::Args;

use crate::alternatives::{Way, compare};
use crate::cli::color::Color;
use crate::cli::exit::Exit;
use crate::cli::failure::Failure;
use crate::cli::output::print;
use crate::cli::progress::years;
use crate::cli::reading::{self, Asked};
use crate::report::{Report, WaysDocument, text};

/// Examples under `larderloop compare --help`.
const EXAMPLES: &str = "\
Examples:
  larderloop compare scenarios/basement-chicago.yaml
  larderloop compare cellar.yaml --units us
  larderloop compare cellar.yaml --json > ways.json";

/// What `larderloop compare` is told.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    #[command(flatten)]
    asked: Asked,
}

/// Runs every way of cooling through the year and prints them side by side.
///
/// # Errors
/// [`Failure`]; nothing has been written then, except to a pipe that failed half-way.
pub fn run(arguments: &Arguments, color: Color) -> Result<Exit, Failure> {
    let household = reading::household(&arguments.asked, color)?;
    let progress = years(Way::ALL.len());
    let ways = compare(&household, &|| progress.inc(1))?;
    progress.finish_and_clear();
    let name = arguments.asked.scenario.display().to_string();
    let text = if arguments.asked.json {
        WaysDocument::of(&name, &household, &ways).text()?
    } else {
        text::render(&Report::of_ways(&name, &household, &ways))
    };
    print(&text, color)?;
    Ok(Exit::Done)
}

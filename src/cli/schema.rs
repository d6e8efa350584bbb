//! `larderloop schema`: the scenario's JSON Schema, for editors.

use clap::Args;

use crate::cli::color::Color;
use crate::cli::exit::Exit;
use crate::cli::failure::Failure;
use crate::cli::output::print;
use crate::scenario::schema::schema;

/// Examples under `larderloop schema --help`.
const EXAMPLES: &str = "\
Examples:
  larderloop schema > larderloop.schema.json
An editor that knows YAML language servers finds it by the first line of a scenario from `larderloop new`.";

/// What `larderloop schema` is told.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {}

/// Prints the schema.
///
/// # Errors
/// A failure to print.
pub fn run(color: Color) -> Result<Exit, Failure> {
    print(&format!("{}\n", serde_json::to_string_pretty(&schema())?), color)?;
    Ok(Exit::Done)
}

//! `larderloop choose`: values that are left open, tried through whole years.

use clap::{ArgAction, Args};

use crate::choose::{MOST_VARIABLES, choose};
use crate::cli::color::Color;
use crate::cli::exit::Exit;
use crate::cli::failure::Failure;
use crate::cli::output::print;
use crate::cli::progress::years;
use crate::cli::reading::{self, Asked};
use crate::report::{ChoicesDocument, Report, text};
use crate::scenario::{Variable, Workbench};

/// Examples under `larderloop choose --help`.
const EXAMPLES: &str = "\
Examples:
  larderloop choose scenarios/grower-po-plain.yaml
  larderloop choose cellar.yaml --open 'tank.volume=200 L, 300 L, 450 L'
  larderloop choose cellar.yaml --open 'dump.opens_at=45 degC to 60 degC in 6' --open 'thermostat.band=1 K to 4 K in 4'";

/// What `larderloop choose` is told.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    #[command(flatten)]
    asked: Asked,
    /// Leave this key open instead of those under `choices` in the scenario: `KEY=VALUE, VALUE` or `KEY=FROM to TO in NUMBER`
    #[arg(long, value_name = "KEY=VALUES", action = ArgAction::Append)]
    open: Vec<String>,
    /// Most years that are tried; where there are more combinations, a coarse grid and then what lies around the best
    #[arg(long, value_name = "NUMBER", default_value_t = 400, value_parser = clap::value_parser!(u32).range(1..=100_000))]
    most: u32,
}

/// Tries what is left open and prints what to choose.
///
/// # Errors
/// [`Failure`]; nothing has been written then, except to a pipe that failed half-way.
pub fn run(arguments: &Arguments, color: Color) -> Result<Exit, Failure> {
    let household = reading::household(&arguments.asked, color)?;
    let variables = variables(&arguments.open, &household.choices)?;
    let most = arguments.most as usize;
    let combinations =
        variables.iter().fold(1_usize, |product, one| product.saturating_mul(one.values.len()));
    let progress = years(combinations.min(most));
    let bench = Workbench::open(&arguments.asked.scenario)?;
    let choices = choose(&bench, variables, most, &|| progress.inc(1))?;
    progress.finish_and_clear();
    let name = arguments.asked.scenario.display().to_string();
    let text = if arguments.asked.json {
        ChoicesDocument::of(&name, &household, &choices).text()?
    } else {
        text::render(&Report::of_choices(&name, &household, &choices))
    };
    print(&text, color)?;
    Ok(Exit::Done)
}

fn variables(open: &[String], of_scenario: &[Variable]) -> Result<Vec<Variable>, Failure> {
    let wrong = |what: String, allowed: Option<String>| Failure::NoChoice { what, allowed };
    let read = |given: &String| {
        let Some((key, values)) = given.split_once('=') else {
            let what = format!("`{given}` has no `=` between key and values");
            return Err(wrong(what, Some("`KEY=VALUE, VALUE` or `KEY=FROM to TO in NUMBER`".to_owned())));
        };
        let values: Vec<&str> = values.split(',').map(str::trim).collect();
        Variable::read(key, &values).map_err(|none| wrong(none.what, none.allowed))
    };
    let variables = if open.is_empty() {
        of_scenario.to_vec()
    } else {
        open.iter().map(read).collect::<Result<Vec<_>, _>>()?
    };
    if variables.is_empty() {
        return Err(Failure::NothingOpen);
    }
    if variables.len() > MOST_VARIABLES {
        let what = format!("{} keys are left open", variables.len());
        return Err(wrong(what, Some(format!("1 to {MOST_VARIABLES} keys"))));
    }
    for (index, one) in variables.iter().enumerate() {
        if variables[..index].iter().any(|other| other.key == one.key) {
            let allowed = Some("each key once".to_owned());
            return Err(wrong(format!("`{}` is left open twice", one.key), allowed));
        }
    }
    Ok(variables)
}

//! `larderloop explain`: what a code means.

use clap::Args;

use crate::cli::color::Color;
use crate::cli::exit::Exit;
use crate::cli::failure::Failure;
use crate::cli::output::print;
use crate::explanation::{Explanation, all};

/// Examples under `larderloop explain --help`.
const EXAMPLES: &str = "\
Examples:
  larderloop explain            every code with its title
  larderloop explain C001       a caution
  larderloop explain F101       a finding
  larderloop explain scald      all whose title has the word
  larderloop explain S108       a fault of a scenario
  larderloop explain --json > codes.json";

/// Letters of a word that is looked for in titles.
const SHORTEST_WORD: usize = 4;
/// Columns of the text.
const WIDTH: usize = 80;

/// What `larderloop explain` is told.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    /// A code as the report or a message prints it, such as C001, or a word of a title; without one all are listed
    code: Option<String>,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// Prints what the code means, or the list of all.
///
/// # Errors
/// [`Failure::UnknownCode`], or a failure to print.
pub fn run(arguments: &Arguments, color: Color) -> Result<Exit, Failure> {
    let chosen = match &arguments.code {
        None => all(),
        Some(code) => find(code)?,
    };
    let text = match (arguments.json, &arguments.code) {
        (true, _) => format!("{}\n", serde_json::to_string_pretty(&chosen)?),
        (false, None) => chosen.iter().map(|one| format!("{}  {}\n", one.code, one.title)).collect(),
        (false, Some(_)) => chosen.iter().map(words).collect::<Vec<_>>().join("\n"),
    };
    print(&text, color)?;
    Ok(Exit::Done)
}

/// The explanation of a code, else all whose title has the word.
fn find(code: &str) -> Result<Vec<Explanation>, Failure> {
    let wanted = code.trim().to_uppercase();
    let all = all();
    if let Some(one) = all.iter().find(|one| one.code == wanted) {
        return Ok(vec![*one]);
    }
    let titled: Vec<Explanation> = all
        .iter()
        .filter(|one| wanted.len() >= SHORTEST_WORD && one.title.to_uppercase().contains(&wanted))
        .copied()
        .collect();
    if titled.is_empty() {
        Err(Failure::UnknownCode { code: code.to_owned(), nearest: nearest(&wanted, &all) })
    } else {
        Ok(titled)
    }
}

/// The most similar code, the first of equals; `None` where none is near: one slip, or two behind the right letter.
fn nearest(wanted: &str, all: &[Explanation]) -> Option<&'static str> {
    let slips = |code: &str| strsim::damerau_levenshtein(code, wanted);
    let near = |code: &str| slips(code) <= if wanted.starts_with(&code[..1]) { 2 } else { 1 };
    all.iter().map(|one| one.code).filter(|code| near(code)).min_by_key(|code| slips(code))
}

fn words(one: &Explanation) -> String {
    let mut text = format!("{}: {}\n", one.code, one.title);
    let indented = textwrap::Options::new(WIDTH).initial_indent("  ").subsequent_indent("  ");
    for (heading, part) in one.parts() {
        text.push_str(&format!("\n{heading}\n{}\n", textwrap::fill(part, &indented)));
    }
    text
}

//! `larderloop completions` and `larderloop man`: for the shell and its manual.

use clap::{Args, CommandFactory};
use clap_complete::Shell;

use crate::cli::color::Color;
use crate::cli::exit::Exit;
use crate::cli::failure::Failure;
use crate::cli::output::print;

/// Name of the command.
const NAME: &str = "larderloop";

/// Examples under `larderloop completions --help`.
const COMPLETIONS: &str = "\
Examples:
  larderloop completions bash > ~/.local/share/bash-completion/completions/larderloop
  larderloop completions fish > ~/.config/fish/completions/larderloop.fish";

/// Examples under `larderloop man --help`.
const MAN: &str = "\
Examples:
  larderloop man > larderloop.1
  larderloop man | man -l -";

/// What `larderloop completions` is told.
#[derive(Debug, Args)]
#[command(after_help = COMPLETIONS)]
pub struct Completions {
    /// The shell
    shell: Shell,
}

/// What `larderloop man` is told.
#[derive(Debug, Args)]
#[command(after_help = MAN)]
pub struct Man {}

/// Prints the shell's completion script.
///
/// # Errors
/// A failure to print.
pub fn completions(arguments: &Completions, color: Color) -> Result<Exit, Failure> {
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut super::Arguments::command(), NAME, &mut script);
    print(&String::from_utf8_lossy(&script), color)?;
    Ok(Exit::Done)
}

/// Prints the manual page of the whole command in roff; each command's own words are in its `--help`.
///
/// # Errors
/// A failure to print.
pub fn man(color: Color) -> Result<Exit, Failure> {
    let mut page = Vec::new();
    clap_mangen::Man::new(super::Arguments::command()).render(&mut page).map_err(Failure::Output)?;
    print(&String::from_utf8_lossy(&page), color)?;
    Ok(Exit::Done)
}

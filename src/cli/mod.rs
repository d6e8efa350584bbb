//! The command line: what is asked, what is printed, and the code it ends with. Only this layer
//! prints, and only it looks at the environment.

mod check;
mod choose;
mod color;
mod compare;
mod curve;
mod exit;
mod explain;
mod failure;
mod new;
mod output;
mod progress;
mod reading;
mod schema;
mod shell;

use std::ffi::OsString;
use std::io::{self, Write};
use std::panic;

use clap::{Parser, Subcommand};

use color::Color;
use exit::EXIT_CODES;
pub use exit::Exit;
use failure::{Failure, bug_words};

/// The command line.
#[derive(Debug, Parser)]
#[command(version, about, after_help = EXIT_CODES, arg_required_else_help = true)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
    /// Colour of what is printed
    #[arg(long, global = true, value_name = "WHEN", value_enum, default_value_t)]
    color: Color,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Run a household's cold room, heat pump and hot water through its weather year and answer its questions
    Check(check::Arguments),
    /// Try the values that are left open through whole years, and say which to take
    Choose(choose::Arguments),
    /// Run the same room under other ways of cooling (fans, air conditioner, nothing) and set them side by side
    Compare(compare::Arguments),
    /// Show the pump's COP and cooling against the water it takes in and against the room's air, without running a year
    Curve(curve::Arguments),
    /// Write a commented scenario to start from, which runs at once
    New(new::Arguments),
    /// Say what a code of a report or message means, why it matters and what to do
    Explain(explain::Arguments),
    /// Print the JSON Schema of scenarios, for editors
    Schema(schema::Arguments),
    /// Print a completion script for a shell
    Completions(shell::Completions),
    /// Print the manual page
    Man(shell::Man),
}

/// Does what the command line says and tells how it went.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> Exit {
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    panic::catch_unwind(|| obey(arguments)).unwrap_or_else(|_| {
        tell(&bug_words("larderloop has stopped at a point that it should never reach"));
        Exit::Bug
    })
}

fn obey(arguments: Vec<OsString>) -> Exit {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(answer) => return parser_answer(&answer),
    };
    let done = match &arguments.command {
        Command::Check(check) => check::run(check, arguments.color),
        Command::Choose(choose) => choose::run(choose, arguments.color),
        Command::Compare(compare) => compare::run(compare, arguments.color),
        Command::Curve(curve) => curve::run(curve, arguments.color),
        Command::New(new) => new::run(new, arguments.color),
        Command::Explain(explain) => explain::run(explain, arguments.color),
        Command::Schema(_) => schema::run(arguments.color),
        Command::Completions(completions) => shell::completions(completions, arguments.color),
        Command::Man(_) => shell::man(arguments.color),
    };
    done.unwrap_or_else(|failure| report_failure(&failure, arguments.color))
}

/// Help and version go to standard output and are no failure; everything else is.
fn parser_answer(answer: &clap::Error) -> Exit {
    match answer.print() {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Exit::WriteFailed,
        _ if answer.use_stderr() => Exit::Usage,
        _ => Exit::Done,
    }
}

fn report_failure(failure: &Failure, color: Color) -> Exit {
    tell(&failure.words(color.wanted(&io::stderr())));
    failure.exit()
}

/// Writes to standard error; when that is closed there is nobody left to tell.
fn tell(words: &str) {
    let _ = writeln!(io::stderr().lock(), "{words}");
}

//! Why a command could not do its work.

use std::io;
use std::path::PathBuf;

use thiserror::Error;

use crate::change::ChangeError;
use crate::cli::exit::Exit;
use crate::report::FileError;
use crate::scenario;
use crate::simulate::SimulationError;

/// Why a command could not do its work.
#[derive(Debug, Error)]
pub enum Failure {
    /// The scenario gives no household.
    #[error(transparent)]
    Scenario(#[from] scenario::Failure),
    /// A file cannot be written.
    #[error(transparent)]
    File(#[from] FileError),
    /// The output would overwrite an input.
    #[error("cannot create `{}`: it is the scenario itself", .path.display())]
    OutputIsInput {
        /// The path as given.
        path: PathBuf,
    },
    /// A file is there already.
    #[error("cannot create `{}`: it exists; `--force` overwrites it", .path.display())]
    Exists {
        /// The path as given.
        path: PathBuf,
    },
    /// A file cannot be created.
    #[error("cannot create `{}`: {source}", .path.display())]
    NotCreatable {
        /// The path as given.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// Writing a file failed.
    #[error("cannot write `{}`: {source}", .path.display())]
    NotWritten {
        /// The path as given.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// The weather file to refer to cannot be read.
    #[error("cannot read the weather file `{}`: {source}", .path.display())]
    WeatherUnreadable {
        /// The path as given.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// A code that nothing has.
    #[error("no code `{code}` is known; {}`larderloop explain` lists all", meant(*.nearest))]
    UnknownCode {
        /// As it was given.
        code: String,
        /// The most similar one, if one is near.
        nearest: Option<&'static str>,
    },
    /// A key cannot be left open as it was asked.
    #[error("{what}{}", allowed.as_ref().map_or(String::new(), |allowed| format!("; allowed: {allowed}")))]
    NoChoice {
        /// What is wrong.
        what: String,
        /// What is allowed.
        allowed: Option<String>,
    },
    /// There is nothing to choose.
    #[error(
        "nothing is left open: name keys and their values under `choices` in the scenario, or give `--open 'tank.volume=200 L, 300 L'`"
    )]
    NothingOpen,
    /// The year could not be calculated.
    #[error(transparent)]
    Simulation(#[from] SimulationError),
    /// The year holds a number that is none.
    #[error("`{key}` of the year is not a finite number")]
    NotFinite {
        /// The quantity.
        key: &'static str,
    },
    /// The year of a household with a remedy tried could not be calculated.
    #[error("with a remedy tried ({change}): {source}")]
    Trial {
        /// The remedy in words.
        change: String,
        /// Why.
        source: Box<Failure>,
    },
    /// A remedy was thought of that this household has nothing for.
    #[error("with a remedy thought of: {0}")]
    Remedy(ChangeError),
    /// The JSON document could not be made.
    #[error("the JSON document could not be made: {0}")]
    Json(#[from] serde_json::Error),
    /// The report could not be printed.
    #[error("cannot write to standard output: {0}")]
    Output(io::Error),
}

impl Failure {
    /// The code to end with.
    pub fn exit(&self) -> Exit {
        match self {
            Self::Scenario(failure) if failure.is_unreadable_input() => Exit::NoInput,
            Self::Scenario(_) => Exit::Scenario,
            Self::File(FileError::NotAFile { .. } | FileError::NotCreatable { .. })
            | Self::OutputIsInput { .. }
            | Self::Exists { .. }
            | Self::NotCreatable { .. } => Exit::CannotCreate,
            Self::File(FileError::NotWritten { .. }) | Self::NotWritten { .. } | Self::Output(_) => {
                Exit::WriteFailed
            }
            Self::WeatherUnreadable { .. } => Exit::NoInput,
            Self::UnknownCode { .. } | Self::NoChoice { .. } | Self::NothingOpen => Exit::Usage,
            Self::Simulation(_)
            | Self::NotFinite { .. }
            | Self::Trial { .. }
            | Self::Remedy(_)
            | Self::Json(_) => Exit::Bug,
        }
    }

    /// What to tell the household.
    pub fn words(&self, styled: bool) -> String {
        match self {
            Self::Scenario(failure) => failure.render(styled),
            other if other.exit() == Exit::Bug => bug_words(&other.to_string()),
            other => format!("error: {other}"),
        }
    }
}

fn meant(nearest: Option<&str>) -> String {
    nearest.map_or(String::new(), |code| format!("is `{code}` meant? "))
}

/// What to say about a fault of the program: what is known of it, and what to send along.
pub fn bug_words(what: &str) -> String {
    let command: Vec<_> = std::env::args_os().map(|word| word.to_string_lossy().into_owned()).collect();
    format!(
        "error: {what}\nThis is a fault of larderloop {}, not of the scenario. Please report it with the scenario \
         and this command:\n  {}",
        env!("CARGO_PKG_VERSION"),
        command.join(" ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_remedy_whose_year_fails_is_a_bug_that_names_the_remedy() {
        let failure = Failure::Trial {
            change: "fit a strip curtain".to_owned(),
            source: Box::new(SimulationError::NoProgress { hour: 17, steps: 9 }.into()),
        };
        assert_eq!(failure.exit(), Exit::Bug);
        let words = failure.words(false);
        assert!(
            words.starts_with(
                "error: with a remedy tried (fit a strip curtain): hour 17 of the year needed more than 9 steps"
            ),
            "{words}"
        );
        assert!(words.contains("This is a fault of larderloop"), "{words}");
    }
}

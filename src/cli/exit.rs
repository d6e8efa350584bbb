//! How the command ends.

use std::process::ExitCode;

/// The codes that the command ends with; 64 and above follow the `sysexits.h` of BSD systems.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// Done.
    Done = 0,
    /// Done, and a caution was raised that is at or above `--fail-on`.
    Cautions = 1,
    /// The command line was not understood.
    Usage = 64,
    /// The scenario or its weather file has faults.
    Scenario = 65,
    /// The scenario or its weather file cannot be read.
    NoInput = 66,
    /// A fault of this program.
    Bug = 70,
    /// An output file cannot be created.
    CannotCreate = 73,
    /// Writing failed.
    WriteFailed = 74,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        ExitCode::from(exit as u8)
    }
}

/// The codes as `--help` lists them.
pub const EXIT_CODES: &str = "\
Exit codes:
   0  done
   1  done, with a caution at or above --fail-on (only if that is given)
  64  the command line was not understood, or names an unknown code
  65  the scenario or its weather file has faults
  66  the scenario or its weather file cannot be read
  70  a fault of larderloop itself
  73  an output file cannot be created, or is there already
  74  writing failed
A reader that closes the pipe early is no failure.";

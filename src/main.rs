//! The command `larderloop`: see [`larderloop::cli`].

use std::process::ExitCode;

fn main() -> ExitCode {
    larderloop::cli::run(std::env::args_os()).into()
}

//! Standard output.

use std::io::{self, Write};

use crate::cli::color::Color;
use crate::cli::failure::Failure;

/// Prints to standard output. A reader that has seen enough is no failure.
pub fn print(text: &str, color: Color) -> Result<(), Failure> {
    let stdout = io::stdout().lock();
    let printed = if color.wanted(&stdout) {
        written(stdout, text)
    } else {
        written(stdout, &anstream::adapter::strip_str(text).to_string())
    };
    match printed {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(Failure::Output(error)),
        _ => Ok(()),
    }
}

fn written(mut out: impl Write, text: &str) -> io::Result<()> {
    out.write_all(text.as_bytes())?;
    out.flush()
}

//! One line on standard error about what is being tried, in a terminal only.

use std::cell::Cell;
use std::io::{self, IsTerminal, Write};

/// Counts the years that are tried for remedies; its line is wiped out when it goes.
#[derive(Debug)]
pub struct Progress {
    shown: bool,
    tried: Cell<usize>,
}

impl Progress {
    /// Shows something only where standard error is a terminal.
    pub fn new() -> Self {
        Self { shown: io::stderr().is_terminal(), tried: Cell::new(0) }
    }

    /// One more year is about to be tried.
    pub fn step(&self) {
        self.tried.set(self.tried.get() + 1);
        self.write(&format!("\rtrying remedies: year {} ...", self.tried.get()));
    }

    /// A closed or full standard error is no reason to stop.
    fn write(&self, words: &str) {
        if self.shown {
            let mut stderr = io::stderr().lock();
            let _ = stderr.write_all(words.as_bytes()).and_then(|()| stderr.flush());
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.tried.get() > 0 {
            self.write(&format!("\r{:40}\r", ""));
        }
    }
}

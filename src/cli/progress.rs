//! One line on standard error about what is being tried, in a terminal only.

use std::io::{self, IsTerminal, Write};
use std::sync::atomic::{AtomicUsize, Ordering};

/// Counts the years that are tried for remedies; its line is wiped out when it goes.
#[derive(Debug)]
pub struct Progress {
    shown: bool,
    tried: AtomicUsize,
}

impl Progress {
    /// Shows something only where standard error is a terminal.
    pub fn new() -> Self {
        Self { shown: io::stderr().is_terminal(), tried: AtomicUsize::new(0) }
    }

    /// One more year is about to be tried.
    pub fn step(&self) {
        let tried = self.tried.fetch_add(1, Ordering::Relaxed) + 1;
        self.write(&format!("\rtrying remedies: year {tried} ..."));
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
        if *self.tried.get_mut() > 0 {
            self.write(&format!("\r{:40}\r", ""));
        }
    }
}

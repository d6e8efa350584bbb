//! What is being tried, on standard error, in a terminal only.

use std::io::{self, IsTerminal, Write};
use std::sync::atomic::{AtomicUsize, Ordering};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

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

/// Years done, years in all and the time left, in a terminal only.
pub fn years(years: usize) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(Some(years as u64), ProgressDrawTarget::stderr());
    match ProgressStyle::with_template("trying year {pos} of {len} {wide_bar} {eta} left") {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}

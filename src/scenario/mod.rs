//! A scenario file: read, checked as a whole, and turned into a [`Household`].
//!
//! All faults are collected and reported together, sorted by place. [`check`] is pure; only [`open`] and
//! [`read`] touch the file system.

mod bench;
mod brackets;
mod build;
mod checker;
mod choices;
pub mod codes;
mod fault;
pub mod keys;
mod machine;
pub mod schema;
mod tree;

use std::io::{self, Read};
use std::path::{Path, PathBuf};

use thiserror::Error;

use crate::diagnostic::{Diagnostic, Severity, render_all, sort_by_place};
use crate::household::{Household, Mains, Parts};
use crate::plant::mains_year;
use crate::weather::WeatherYear;
pub use bench::Workbench;
use build::WeatherSource;
use checker::Checker;
pub use choices::{NoChoice, Variable};
use fault::Note;

/// A checked scenario.
#[derive(Debug, Clone)]
pub struct Scenario {
    /// The household.
    pub household: Household,
    /// What is probably not meant, but can be run.
    pub warnings: Vec<Diagnostic>,
    /// The text of the file, to draw warnings with.
    pub source: String,
}

/// Why a scenario gives no household.
#[derive(Debug, Error)]
pub enum Failure {
    /// The scenario file could not be read.
    #[error("cannot read `{}`: {reason}", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// The system's reason.
        reason: io::Error,
    },
    /// Its content has faults.
    #[error("{}", counted(diagnostics))]
    Content {
        /// The text of the file.
        source_text: String,
        /// Its faults, sorted by place.
        diagnostics: Vec<Diagnostic>,
    },
}

impl Failure {
    /// Whether an input could not be read at all (exit code 66), as against faults of content (65).
    pub fn is_unreadable_input(&self) -> bool {
        match self {
            Self::Unreadable { .. } => true,
            Self::Content { diagnostics, .. } => {
                errors(diagnostics).all(|one| one.code == codes::WEATHER_UNREADABLE)
            }
        }
    }

    /// Everything there is to say, with the places drawn; `styled` adds colour for a terminal.
    pub fn render(&self, styled: bool) -> String {
        match self {
            Self::Unreadable { .. } => format!("error: {self}"),
            Self::Content { source_text, diagnostics } => {
                format!("{}\n\n{self}", render_all(diagnostics, source_text, styled))
            }
        }
    }
}

fn errors(diagnostics: &[Diagnostic]) -> impl Iterator<Item = &Diagnostic> {
    diagnostics.iter().filter(|one| one.severity == Severity::Error)
}

/// `3 errors in cellar.yaml`.
fn counted(diagnostics: &[Diagnostic]) -> String {
    let count = errors(diagnostics).count();
    let file = diagnostics.first().map_or("the scenario", |one| one.file.as_str());
    format!("{count} error{} in {file}", if count == 1 { "" } else { "s" })
}

/// Reads a scenario file and its weather file.
///
/// # Errors
/// A file that cannot be read, or faults of content: [`Failure`].
pub fn read(path: &Path) -> Result<Household, Failure> {
    open(path).map(|scenario| scenario.household)
}

/// Reads a scenario file and its weather file, and keeps the warnings.
///
/// # Errors
/// As [`read`].
pub fn open(path: &Path) -> Result<Scenario, Failure> {
    let unreadable = |reason| Failure::Unreadable { path: path.to_owned(), reason };
    let (bytes, more) = read_up_to(path, tree::LARGEST_FILE).map_err(unreadable)?;
    let folder = path.parent().unwrap_or(Path::new(""));
    let file_name = path.display().to_string();
    let source = match String::from_utf8(bytes) {
        Ok(source) => source,
        // Cut inside a letter: that the file is too large is said below.
        Err(error) if more => String::from_utf8_lossy(error.as_bytes()).into_owned(),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let source_text = String::from_utf8_lossy(error.as_bytes()).into_owned();
            let note = Note::error(codes::YAML_FEATURE, at..at, "the file is not UTF-8 text".to_owned())
                .helped(Some("save it as UTF-8".to_owned()));
            let diagnostics = vec![note.in_file(&file_name, &source_text)];
            return Err(Failure::Content { source_text, diagnostics });
        }
    };
    match examine(&source, &file_name, |file| read_weather(&folder.join(file))) {
        (Some(household), warnings) => Ok(Scenario { household, warnings, source }),
        (None, diagnostics) => Err(Failure::Content { source_text: source, diagnostics }),
    }
}

/// Largest weather file, bytes: an hourly year has some 2 MB.
const LARGEST_WEATHER_FILE: usize = 64 << 20;

/// The file's bytes, at most one more than `most`, and whether there are more than `most`.
fn read_up_to(path: &Path, most: usize) -> io::Result<(Vec<u8>, bool)> {
    let mut bytes = Vec::new();
    std::fs::File::open(path)?.take(most as u64 + 1).read_to_end(&mut bytes)?;
    let more = bytes.len() > most;
    Ok((bytes, more))
}

fn read_weather(path: &Path) -> io::Result<Vec<u8>> {
    let (bytes, more) = read_up_to(path, LARGEST_WEATHER_FILE)?;
    let too_large = || io::Error::new(io::ErrorKind::FileTooLarge, "larger than 64 MiB");
    if more { Err(too_large()) } else { Ok(bytes) }
}

/// Checks the text of a scenario. `weather` gives the bytes of the weather file that it names.
///
/// # Errors
/// All faults, and then also all warnings, sorted by place.
pub fn check(
    text: &str,
    file_name: &str,
    weather: impl FnOnce(&Path) -> Result<Vec<u8>, io::Error>,
) -> Result<Household, Vec<Diagnostic>> {
    match examine(text, file_name, weather) {
        (Some(household), _) => Ok(household),
        (None, diagnostics) => Err(diagnostics),
    }
}

/// The household, unless there is an error, and everything noted, sorted by place.
pub fn examine(
    text: &str,
    file_name: &str,
    weather: impl FnOnce(&Path) -> Result<Vec<u8>, io::Error>,
) -> (Option<Household>, Vec<Diagnostic>) {
    let mut at = Checker::default();
    let household = household(text, &mut at, weather);
    let mut diagnostics: Vec<_> = at.notes.into_iter().map(|note| note.in_file(file_name, text)).collect();
    sort_by_place(&mut diagnostics);
    let household = household.filter(|_| errors(&diagnostics).next().is_none());
    (household, diagnostics)
}

fn household(
    text: &str,
    at: &mut Checker,
    weather: impl FnOnce(&Path) -> Result<Vec<u8>, io::Error>,
) -> Option<Household> {
    if text.len() > tree::LARGEST_FILE {
        let what = format!("the file is larger than {} KiB", tree::LARGEST_FILE / 1024);
        at.notes.push(Note::error(codes::YAML_FEATURE, 0..0, what));
        return None;
    }
    let root = tree::read(text, &mut at.notes);
    if root.is_none() && at.notes.is_empty() {
        at.notes.push(Note::error(codes::MISSING, 0..0, "the file holds no scenario".to_owned()));
    }
    household_of(&mut root?, at, |at, source| match source {
        WeatherSource::File(file) => weather_year(at, file, weather),
        WeatherSource::Months(table) => Some(WeatherYear::from_monthly_table(table)),
    })
}

/// The household of a tree; `weather` gives the year of the source that it names.
fn household_of(
    root: &mut tree::Node,
    at: &mut Checker,
    weather: impl FnOnce(&mut Checker, &WeatherSource) -> Option<WeatherYear>,
) -> Option<Household> {
    at.correct_keys(root);
    let top = at.open(root);
    let draft = build::draft(at, &top);
    compare(at, &draft.parts());
    let weather = weather(at, draft.weather.as_ref()?)?;
    let defaults = std::mem::take(&mut at.defaults);
    let household = draft.with(weather, defaults);
    check_mains(at, &household);
    check_sun(at, &household);
    Some(household)
}

/// Notes mains water that cannot be reckoned from the year's outdoor air. Measured water is compared by [`compare`].
fn check_mains(at: &mut Checker, household: &Household) {
    if !matches!(household.site.mains, Mains::FromWeather) || at.is_tainted("site.mains_water") {
        return;
    }
    if let Err(error) = mains_year(&household.site, &household.weather) {
        let help = "measure the water at the tap in its coldest and warmest month: `site.mains_water`";
        at.fault("weather.file", "S144", error.to_string(), None, Some(help.to_owned()));
    }
}

/// Notes a side in the sun where the weather year does not say how much sun there is.
fn check_sun(at: &mut Checker, household: &Household) {
    let without = household.weather.hours_without_radiation();
    let in_the_sun = household.room.surfaces.iter().position(|surface| surface.sun.is_some());
    let Some(surface) = in_the_sun.filter(|_| without > 0) else { return };
    let path = format!("room.surfaces[{}].sun", surface + 1);
    if !at.is_tainted(&path) {
        let hours = household.weather.hours.len();
        let what =
            format!("{without} of the weather year's {hours} hours have no direct or no diffuse radiation");
        let help = "take a weather file that has both, or leave out `sun`".to_owned();
        at.fault(&path, codes::NO_RADIATION, what, Some("radiation in every hour".to_owned()), Some(help));
    }
}

/// Notes what does not belong together, unless one of the values is faulty itself.
fn compare(at: &mut Checker, parts: &Parts<'_>) {
    for fault in parts.faults() {
        if std::iter::once(&fault.key).chain(&fault.with).any(|key| at.is_tainted(key)) {
            continue;
        }
        let span = at.place(&fault.key);
        let mut note = Note::error(fault.code, span, fault.what).allowed(fault.allowed).helped(fault.help);
        note.severity = fault.severity;
        at.notes.push(note);
    }
}

fn weather_year(
    at: &mut Checker,
    file: &str,
    weather: impl FnOnce(&Path) -> Result<Vec<u8>, io::Error>,
) -> Option<WeatherYear> {
    const KEY: &str = "weather.file";
    if at.is_tainted(KEY) {
        return None;
    }
    match weather(Path::new(file)) {
        Err(reason) => {
            let what = format!("the weather file `{file}` cannot be read: {reason}");
            let help = "its path is taken from the folder of the scenario file";
            at.fault(KEY, codes::WEATHER_UNREADABLE, what, None, Some(help.to_owned()));
            None
        }
        Ok(bytes) => match WeatherYear::read(file, &bytes) {
            Ok(year) => Some(year),
            Err(error) => {
                let what = format!("the weather file `{file}` does not hold a year of weather: {error}");
                at.fault(KEY, codes::WEATHER_CONTENT, what, None, None);
                None
            }
        },
    }
}

//! `larderloop new`: a scenario to start from.

use std::fs::{self, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use tempfile::NamedTempFile;

use crate::cli::color::Color;
use crate::cli::exit::Exit;
use crate::cli::failure::Failure;
use crate::cli::output::print;
use crate::scenario;
use crate::units::Kind;

/// Examples under `larderloop new --help`.
const EXAMPLES: &str = "\
Examples:
  larderloop new cellar.yaml && larderloop check cellar.yaml
  larderloop new cellar.yaml --people 3 --tank '80 gal' --units us
  larderloop new cellar.yaml --weather town.epw --refrigerant R290 --no-dump
Without --weather the year of an example place is written beside the scenario.";

/// The scenario, with `<<metric|us>>` where the units differ and `@NAME@` where a flag decides.
const STARTER: &str = include_str!("starter.yaml");
/// Its dump.
const STARTER_DUMP: &str = include_str!("starter-dump.yaml");
/// The example year, see `scenarios/weather/README.md`, and its name beside the scenario.
const EXAMPLE_WEATHER: &[u8] = include_bytes!("../../scenarios/weather/chicago-tmy3.epw");
const EXAMPLE_WEATHER_NAME: &str = "chicago-tmy3.epw";

/// Letters before the comments of the scenario, and the blank before each.
const COMMENT_COLUMN: usize = 39;

/// Mixed water for each person and day, litres and US gallons. Common practice, no source: 30 to 60 L.
const DAILY_PER_PERSON_L: u32 = 40;
const DAILY_PER_PERSON_GAL: u32 = 10;

/// What `larderloop new` is told.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    /// The scenario to write
    file: PathBuf,
    /// People in the household
    #[arg(long, value_name = "N", default_value_t = 2, value_parser = clap::value_parser!(u32).range(1..=200))]
    people: u32,
    /// An EPW or TMY3 file that the scenario refers to; without it an example year is written beside the scenario
    #[arg(long, value_name = "FILE")]
    weather: Option<PathBuf>,
    /// Refrigerant on the heat pump's nameplate
    #[arg(long, value_enum, default_value_t = Refrigerant::Unknown)]
    refrigerant: Refrigerant,
    /// Volume of the tank with its unit, such as '300 L'
    #[arg(long, value_name = "VOLUME", value_parser = tank_volume)]
    tank: Option<String>,
    /// Leave out the overflow dump
    #[arg(long)]
    no_dump: bool,
    /// Units of the scenario's numbers and of its report
    #[arg(long, value_enum, default_value_t = Units::Metric)]
    units: Units,
    /// Overwrite what is there
    #[arg(long)]
    force: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Units {
    /// Metres, litres, degC
    Metric,
    /// Feet, US gallons, degF
    Us,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Refrigerant {
    #[value(name = "R744")]
    R744,
    #[value(name = "R134a")]
    R134a,
    #[value(name = "R290")]
    R290,
    #[value(name = "R32")]
    R32,
    #[value(name = "R410A")]
    R410a,
    #[value(name = "R1234yf")]
    R1234yf,
    /// Not known yet: the starter says how to find out
    #[value(name = "unknown")]
    Unknown,
}

impl Refrigerant {
    /// As it stands in the scenario, with its comment.
    fn line(self) -> &'static str {
        match self {
            Self::R744 => "R744                   # carbon dioxide: from the nameplate",
            Self::R134a => "R134a                  # from the nameplate",
            Self::R290 => "R290                   # propane: from the nameplate",
            Self::R32 => "R32                    # from the nameplate",
            Self::R410a => "R410A                  # from the nameplate",
            Self::R1234yf => "R1234yf                # from the nameplate",
            Self::Unknown => {
                "R134a                  # A GUESS: the nameplate says which (R744, R134a, R290, R1234yf, R32 or R410A)"
            }
        }
    }
}

/// Takes the volumes that a scenario takes, as they are written.
fn tank_volume(text: &str) -> Result<String, String> {
    let volume = Kind::Volume.read(text).map_err(|error| match error.allowed() {
        Some(allowed) => format!("{error}: {allowed}"),
        None => error.to_string(),
    })?;
    let (least, most) = scenario::keys::tank_volume_limits_m3();
    if (least..=most).contains(&volume.si) {
        Ok(text.trim().to_owned())
    } else {
        Err(format!("a tank has {} to {}", volume.unit.write(least), volume.unit.write(most)))
    }
}

/// Writes the scenario, and the example year beside it if no weather is named.
///
/// # Errors
/// [`Failure`]; an existing file is left as it was.
pub fn run(arguments: &Arguments, color: Color) -> Result<Exit, Failure> {
    let folder = match arguments.file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let weather = match &arguments.weather {
        Some(weather) => reference(weather, folder)?,
        None => EXAMPLE_WEATHER_NAME.to_owned(),
    };
    let text = starter(arguments, &weather);
    let file = Output::open(&arguments.file, text.as_bytes(), arguments.force)?;
    let beside = folder.join(EXAMPLE_WEATHER_NAME);
    let year = match &arguments.weather {
        None if !holds(&beside, EXAMPLE_WEATHER) => {
            Some(Output::open(&beside, EXAMPLE_WEATHER, arguments.force)?)
        }
        _ => None,
    };
    year.map(Output::keep).transpose()?;
    file.keep()?;
    print(&next_step(arguments), color)?;
    Ok(Exit::Done)
}

fn next_step(arguments: &Arguments) -> String {
    let file = arguments.file.display();
    let weather = match arguments.weather {
        None => format!(
            "Its weather is an example, {EXAMPLE_WEATHER_NAME} beside it: put your own in its place.\n"
        ),
        Some(_) => String::new(),
    };
    format!(
        "Wrote {file}. Its numbers are examples: put your own in their place.\n{weather}Next: larderloop check {file}\n"
    )
}

/// The weather file as seen from the scenario's folder; its whole path where it lies elsewhere.
fn reference(weather: &Path, folder: &Path) -> Result<String, Failure> {
    let unreadable = |source| Failure::WeatherUnreadable { path: weather.to_owned(), source };
    let whole = fs::canonicalize(weather).map_err(unreadable)?;
    fs::File::open(&whole).map_err(unreadable)?;
    let from_folder = fs::canonicalize(folder)
        .ok()
        .and_then(|folder| whole.strip_prefix(folder).ok().map(Path::to_owned))
        .unwrap_or(whole);
    Ok(from_folder.display().to_string())
}

fn starter(arguments: &Arguments, weather: &str) -> String {
    let us = arguments.units == Units::Us;
    let (per_person, unit, tank) =
        if us { (DAILY_PER_PERSON_GAL, "gal/day", "80 gal") } else { (DAILY_PER_PERSON_L, "L/day", "300 L") };
    let dump = if arguments.no_dump { "" } else { STARTER_DUMP };
    let text = in_units(&format!("{STARTER}{dump}"), us)
        .replace("@REFRIGERANT@", arguments.refrigerant.line())
        .replace("@TANK@", arguments.tank.as_deref().unwrap_or(tank))
        .replace("@DAILY@", &format!("{} {unit}", per_person * arguments.people))
        .replace("@PEOPLE@", &arguments.people.to_string());
    // The name of the weather file last: whatever stands in it stays.
    text.lines().map(aligned).collect::<String>().replace("@WEATHER@", &quoted(weather))
}

/// A line with the comment behind its value, if it has one, where the others have theirs.
fn aligned(line: &str) -> String {
    match line.split_once("  # ") {
        Some((value, comment)) if !value.trim().is_empty() => {
            format!("{:COMMENT_COLUMN$} # {comment}\n", value.trim_end())
        }
        _ => format!("{line}\n"),
    }
}

/// In single quotes, in which YAML takes every other sign as it is.
fn quoted(text: &str) -> String {
    format!("'{}'", text.replace('\'', "''"))
}

/// Takes one side of every `<<metric|us>>`.
fn in_units(text: &str, us: bool) -> String {
    let mut parts = text.split("<<");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |mut done, part| {
        let (choice, rest) = part.split_once(">>").unwrap_or((part, ""));
        let (metric, other) = choice.split_once('|').unwrap_or((choice, choice));
        done.push_str(if us { other } else { metric });
        done.push_str(rest);
        done
    })
}

fn holds(path: &Path, bytes: &[u8]) -> bool {
    fs::read(path).is_ok_and(|there| there == bytes)
}

/// A file beside its target, which it becomes only when it is whole.
struct Output<'a> {
    path: &'a Path,
    file: NamedTempFile,
    force: bool,
}

impl<'a> Output<'a> {
    fn open(path: &'a Path, bytes: &[u8], force: bool) -> Result<Self, Failure> {
        let failed = |source| Failure::NotCreatable { path: path.to_owned(), source };
        if fs::symlink_metadata(path).is_ok() && !force {
            return Err(Failure::Exists { path: path.to_owned() });
        }
        if path.is_dir() {
            return Err(failed(io::ErrorKind::IsADirectory.into()));
        }
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let mut builder = tempfile::Builder::new();
        if let Some(permissions) = permissions() {
            builder.permissions(permissions);
        }
        let mut file = builder.tempfile_in(folder).map_err(failed)?;
        file.write_all(bytes)
            .and_then(|()| file.flush())
            .map_err(|source| Failure::NotWritten { path: path.to_owned(), source })?;
        Ok(Self { path, file, force })
    }

    fn keep(self) -> Result<(), Failure> {
        let kept =
            if self.force { self.file.persist(self.path) } else { self.file.persist_noclobber(self.path) };
        kept.map(drop).map_err(|error| match error.error.kind() {
            io::ErrorKind::AlreadyExists => Failure::Exists { path: self.path.to_owned() },
            _ => Failure::NotWritten { path: self.path.to_owned(), source: error.error },
        })
    }
}

/// As any new file has them, less the user's mask.
#[cfg(unix)]
fn permissions() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn permissions() -> Option<Permissions> {
    None
}

//! From the rows of a file to the hours of a year: order, pressure, humidity.

use crate::air;
use crate::constants::ZERO_CELSIUS_K;
use crate::plant::Calendar;

use super::error::{SequenceFault, Stamp, WeatherError};
use super::field::{self, Dropped, Kind};
use super::text::Record;
use super::{WeatherHour, WeatherYear};

/// Most hours in a row whose humidity is bridged by a straight line. Common practice, no source:
/// humidity follows the weather over hours, not minutes; beyond that a guess would be a made-up day.
const MOST_BRIDGED_H: usize = 3;

/// A dew point this far above the dry bulb is rounding or a wet sensor, K. Common practice, no source.
const DEW_POINT_EXCESS_DK: f64 = 1.0;

/// Dew point and relative humidity that disagree by more than this do not belong together. Common
/// practice, no source: whole per cents and tenths of a kelvin make 2 points.
const HUMIDITY_DISAGREEMENT_FRAC: f64 = 0.1;

/// Share of the year in which they may. Where the months of a typical year meet, publishers smooth
/// every column by itself over half a day, and the two disagree there. Derived here: of 12 seams in three
/// published years 10, 0 and 11 hours do; a column in another convention does in thousands.
const MOST_DISAGREEING_FRAC: f64 = 0.01;

/// A mean pressure this far from the standard atmosphere is worth a note. Common practice, no source:
/// yearly means stay within 1 %; a pressure reduced to sea level is 2.4 % off at 200 m.
const PRESSURE_DISAGREEMENT_FRAC: f64 = 0.02;

const FIX_SEQUENCE: &str = "a weather year runs from 1 January hour 1 to 31 December hour 24 without holes";
const FIX_HUMIDITY: &str = "fill them in the file, or take another year or station";
const FIX_DEW_POINT: &str = "correct the file, or take another year or station";

/// Everything of a file but its rows.
#[derive(Debug, Clone)]
pub(super) struct Header {
    /// Words that name the place, some of them empty or saying that they are unknown.
    pub place_words: Vec<String>,
    /// Name of the file.
    pub file: String,
    /// Kind of file.
    pub kind: &'static str,
    /// Data set and station, as far as named.
    pub source_words: Vec<String>,
    /// Latitude, degrees.
    pub latitude_deg: f64,
    /// Longitude, degrees.
    pub longitude_deg: f64,
    /// Local standard time less universal time, h.
    pub utc_offset_h: f64,
    /// Elevation, m.
    pub elevation_m: f64,
    /// Last line of the header.
    pub last_line: usize,
    /// Notes on the header.
    pub notes: Vec<String>,
}

/// Where the numbers of an hour stand in its line, columns from 1, and how its pressure is written.
#[derive(Debug, Clone, Copy)]
pub(super) struct Columns {
    pub dry_bulb: usize,
    pub dew_point: usize,
    pub relative_humidity: usize,
    pub pressure: usize,
    pub global: usize,
    pub direct: usize,
    pub diffuse: usize,
    pub pressure_kind: Kind,
    pub pascal_per_unit: f64,
}

/// A row as read.
#[derive(Debug, Clone)]
pub(super) struct Row {
    line: usize,
    stamp: Stamp,
    year: usize,
    dry_bulb_degc: f64,
    dew_point_degc: Option<f64>,
    relative_humidity_frac: Option<f64>,
    pressure_pa: Option<f64>,
    /// Global, direct, diffuse.
    radiation_w_m2: [Result<Option<f64>, Dropped>; 3],
}

impl Row {
    /// Reads the numbers of one line.
    pub fn read(record: &Record, stamp: Stamp, year: usize, columns: &Columns) -> Result<Self, WeatherError> {
        let relative_humidity = field::RELATIVE_HUMIDITY.read(record, columns.relative_humidity)?;
        let pressure = columns.pressure_kind.read(record, columns.pressure)?;
        Ok(Self {
            line: record.line,
            stamp,
            year,
            dry_bulb_degc: field::DRY_BULB.require(record, columns.dry_bulb)?,
            dew_point_degc: field::DEW_POINT.read(record, columns.dew_point)?,
            relative_humidity_frac: relative_humidity.map(|percent| percent / 100.0),
            pressure_pa: pressure.map(|value| value * columns.pascal_per_unit),
            radiation_w_m2: [
                field::GLOBAL.read_or_drop(record, columns.global)?,
                field::DIRECT.read_or_drop(record, columns.direct)?,
                field::DIFFUSE.read_or_drop(record, columns.diffuse)?,
            ],
        })
    }
}

/// Makes the year of a header and its rows.
pub(super) fn assemble(header: Header, rows: &[Row], columns: &Columns) -> Result<WeatherYear, WeatherError> {
    let leap_year = check_order(rows, header.last_line)?;
    let mut notes = header.notes.clone();
    let pressures = pressures_pa(rows, header.elevation_m, &mut notes);
    let humidity = humidity_ratios(rows, &pressures, columns, &mut notes)?;
    note_radiation(rows, &mut notes);
    let hours = rows.iter().zip(pressures).zip(humidity).map(|((row, pressure_pa), humidity_ratio)| {
        let [global_w_m2, direct_w_m2, diffuse_w_m2] = row.radiation_w_m2.map(Result::unwrap_or_default);
        WeatherHour {
            dry_bulb_k: row.dry_bulb_degc + ZERO_CELSIUS_K,
            humidity_ratio,
            pressure_pa,
            global_w_m2,
            direct_w_m2,
            diffuse_w_m2,
        }
    });
    Ok(WeatherYear {
        place: place(&header),
        origin: origin(&header, rows),
        latitude_deg: header.latitude_deg,
        longitude_deg: header.longitude_deg,
        utc_offset_h: header.utc_offset_h,
        elevation_m: header.elevation_m,
        leap_year,
        hours: hours.collect(),
        notes,
    })
}

/// Checks that the rows are the hours of one year; returns whether it is a leap year.
fn check_order(rows: &[Row], last_header_line: usize) -> Result<bool, WeatherError> {
    let leap_year = rows.iter().any(|row| (row.stamp.month, row.stamp.day) == (2, 29));
    let calendar = Calendar::new(leap_year);
    for (hour, row) in rows.iter().enumerate() {
        if hour == calendar.hours() {
            return Err(WeatherError::TooLong {
                line: row.line,
                value: row.stamp,
                allowed: hour,
                fix: FIX_SEQUENCE,
            });
        }
        let expected = stamp_of(hour, &calendar);
        if row.stamp != expected {
            let previous = hour.checked_sub(1).map(|before| rows[before].stamp);
            return Err(WeatherError::Sequence {
                line: row.line,
                fault: sequence_fault(row.stamp, expected, previous),
                value: row.stamp,
                allowed: expected,
                fix: FIX_SEQUENCE,
            });
        }
    }
    if rows.len() < calendar.hours() {
        return Err(WeatherError::TooShort {
            line: rows.last().map_or(last_header_line, |row| row.line),
            value: rows.len(),
            allowed: "8760 hours, or 8784 with a 29 February",
            fix: FIX_SEQUENCE,
        });
    }
    Ok(leap_year)
}

fn sequence_fault(found: Stamp, expected: Stamp, previous: Option<Stamp>) -> SequenceFault {
    if previous == Some(found) {
        SequenceFault::Repeated
    } else if found < expected {
        SequenceFault::OutOfOrder
    } else {
        SequenceFault::Gap
    }
}

/// The stamp of the hour that begins `hour` hours after the start of the year.
fn stamp_of(hour: usize, calendar: &Calendar) -> Stamp {
    let month = calendar.month_of_hour(hour);
    let hour_of_month = hour - calendar.month_starts_h[month];
    Stamp { month: month + 1, day: hour_of_month / 24 + 1, hour: hour_of_month % 24 + 1 }
}

/// Station pressures, with the standard atmosphere where one is missing.
fn pressures_pa(rows: &[Row], elevation_m: f64, notes: &mut Vec<String>) -> Vec<f64> {
    let standard_pa = air::standard_pressure_pa(elevation_m)
        .expect("elevations were checked to lie inside the standard atmosphere");
    let missing = rows.iter().filter(|row| row.pressure_pa.is_none()).count();
    if missing > 0 {
        notes.push(format!(
            "{missing} of {} hours have no station pressure: the standard atmosphere at {elevation_m} m \
             ({standard_pa:.0} Pa) is used",
            rows.len()
        ));
    }
    let pressures: Vec<f64> = rows.iter().map(|row| row.pressure_pa.unwrap_or(standard_pa)).collect();
    let mean_pa = pressures.iter().sum::<f64>() / pressures.len() as f64;
    if (mean_pa / standard_pa - 1.0).abs() > PRESSURE_DISAGREEMENT_FRAC {
        notes.push(format!(
            "the mean pressure {mean_pa:.0} Pa does not fit the elevation {elevation_m} m (standard atmosphere {standard_pa:.0} Pa): \
             is the elevation right, or is the pressure reduced to sea level?"
        ));
    }
    pressures
}

/// Humidity ratios, from the dew point or else the relative humidity; short holes are bridged.
fn humidity_ratios(
    rows: &[Row],
    pressures: &[f64],
    columns: &Columns,
    notes: &mut Vec<String>,
) -> Result<Vec<f64>, WeatherError> {
    let mut counts = HumidityCounts::default();
    let vapour: Vec<Option<f64>> =
        rows.iter().map(|row| vapour_pa(row, columns, &mut counts)).collect::<Result<_, _>>()?;
    check_humidity_gaps(rows, &vapour)?;
    let bridged = bridged(&vapour);
    counts.bridged = vapour.iter().filter(|pressure| pressure.is_none()).count();
    counts.note(rows.len(), notes);
    Ok(rows
        .iter()
        .zip(bridged)
        .zip(pressures)
        .map(|((row, vapour_pa), &pressure_pa)| {
            let most_pa = saturation_pa(row.dry_bulb_degc);
            air::humidity_ratio_from_vapour_pressure(vapour_pa.min(most_pa), pressure_pa)
        })
        .collect())
}

/// How many hours needed what.
#[derive(Debug, Default)]
struct HumidityCounts {
    from_relative_humidity: usize,
    held_at_saturation: usize,
    disagreeing: usize,
    bridged: usize,
}

impl HumidityCounts {
    fn note(&self, hours: usize, notes: &mut Vec<String>) {
        let mut note = |count: usize, text: String| {
            if count > 0 {
                notes.push(format!("{count} of {hours} hours {text}"));
            }
        };
        note(
            self.from_relative_humidity,
            "have no dew point: their humidity is from the relative humidity".into(),
        );
        note(
            self.held_at_saturation,
            "have air moister than saturated over water: it is held at saturation".into(),
        );
        let many = self.disagreeing as f64 > MOST_DISAGREEING_FRAC * hours as f64;
        note(
            if many { self.disagreeing } else { 0 },
            format!(
                "have a dew point and a relative humidity that disagree by more than {:.0} points: \
                 the dew point is used",
                100.0 * HUMIDITY_DISAGREEMENT_FRAC
            ),
        );
        note(
            self.bridged,
            format!(
                "have neither dew point nor relative humidity: vapour pressure is bridged by a straight \
                 line (no more than {MOST_BRIDGED_H} hours in a row)"
            ),
        );
    }
}

fn saturation_pa(degc: f64) -> f64 {
    air::saturation_pressure_over_water_pa(degc + ZERO_CELSIUS_K)
}

/// Vapour pressure of a row, Pa; may be above saturation (it is held there later, and counted here).
fn vapour_pa(row: &Row, columns: &Columns, counts: &mut HumidityCounts) -> Result<Option<f64>, WeatherError> {
    let saturated_pa = saturation_pa(row.dry_bulb_degc);
    let by_relative_humidity = row.relative_humidity_frac.map(|frac| frac * saturated_pa);
    let Some(dew_point_degc) = row.dew_point_degc else {
        counts.from_relative_humidity += usize::from(by_relative_humidity.is_some());
        counts.held_at_saturation += usize::from(by_relative_humidity > Some(saturated_pa));
        return Ok(by_relative_humidity);
    };
    if dew_point_degc > row.dry_bulb_degc + DEW_POINT_EXCESS_DK {
        return Err(WeatherError::DewPointAboveDryBulb {
            line: row.line,
            column: columns.dew_point,
            field: field::DEW_POINT.name,
            value: dew_point_degc,
            dry_bulb: row.dry_bulb_degc,
            allowed: DEW_POINT_EXCESS_DK,
            fix: FIX_DEW_POINT,
        });
    }
    counts.held_at_saturation += usize::from(dew_point_degc > row.dry_bulb_degc);
    let vapour_pa = saturation_pa(dew_point_degc);
    counts.disagreeing +=
        usize::from(by_relative_humidity.is_some_and(|other_pa| {
            (other_pa - vapour_pa).abs() > HUMIDITY_DISAGREEMENT_FRAC * saturated_pa
        }));
    Ok(Some(vapour_pa))
}

/// Refuses a hole longer than [`MOST_BRIDGED_H`], also one that runs over the end of the year.
fn check_humidity_gaps(rows: &[Row], vapour: &[Option<f64>]) -> Result<(), WeatherError> {
    let hours = vapour.len();
    let gap_from =
        |first: usize| (0..hours).take_while(|offset| vapour[(first + offset) % hours].is_none()).count();
    let begins_gap = |&hour: &usize| vapour[hour].is_none() && (hour == 0 || vapour[hour - 1].is_some());
    match (0..hours)
        .filter(begins_gap)
        .map(|hour| (hour, gap_from(hour)))
        .find(|&(_, length)| length > MOST_BRIDGED_H)
    {
        Some((hour, value)) => Err(WeatherError::HumidityGap {
            line: rows[hour].line,
            value,
            allowed: MOST_BRIDGED_H,
            fix: FIX_HUMIDITY,
        }),
        None => Ok(()),
    }
}

/// Fills holes by a straight line between their neighbours around the year. There is at least one value.
fn bridged(values: &[Option<f64>]) -> Vec<f64> {
    let hours = values.len();
    let neighbour = |from: usize, step: usize| {
        (1..=hours)
            .find_map(|distance| {
                let value = values[(from + distance * step) % hours]?;
                Some((distance as f64, value))
            })
            .expect("gaps were checked to be shorter than the year")
    };
    (0..hours)
        .map(|hour| {
            values[hour].unwrap_or_else(|| {
                let (after, next) = neighbour(hour, 1);
                let (before, last) = neighbour(hour, hours - 1);
                (last * after + next * before) / (before + after)
            })
        })
        .collect()
}

fn note_radiation(rows: &[Row], notes: &mut Vec<String>) {
    for (index, kind) in [field::GLOBAL, field::DIRECT, field::DIFFUSE].iter().enumerate() {
        let dropped = rows.iter().filter(|row| row.radiation_w_m2[index] == Err(Dropped)).count();
        if dropped > 0 {
            notes.push(format!(
                "{dropped} of {} hours have a {} outside {} to {} {}: it is left out",
                rows.len(),
                kind.name,
                kind.lowest,
                kind.highest,
                kind.unit
            ));
        }
    }
}

/// Whether a word of a header says something.
fn says_something(word: &str) -> bool {
    !matches!(word.to_lowercase().as_str(), "" | "-" | "unknown" | "n/a" | "na")
}

fn joined(words: &[String]) -> String {
    let said: Vec<&str> = words.iter().map(String::as_str).filter(|word| says_something(word)).collect();
    said.join(", ")
}

/// Name of the place, or its coordinates where the file has no name.
fn place(header: &Header) -> String {
    let named = joined(&header.place_words);
    if !named.is_empty() {
        return named;
    }
    let north_south = if header.latitude_deg < 0.0 { 'S' } else { 'N' };
    let east_west = if header.longitude_deg < 0.0 { 'W' } else { 'E' };
    let (latitude, longitude) = (header.latitude_deg.abs(), header.longitude_deg.abs());
    format!("{latitude:.2} {north_south}, {longitude:.2} {east_west}")
}

fn origin(header: &Header, rows: &[Row]) -> String {
    let years = || rows.iter().map(|row| row.year);
    let years = match (years().min(), years().max()) {
        (Some(first), Some(last)) if first != last => format!("months of {first} to {last}"),
        (Some(only), _) => format!("year {only}"),
        (None, _) => String::new(),
    };
    let file = format!("{} file {}", header.kind, header.file);
    joined(&[file, joined(&header.source_words), years])
}

//! EPW: eight lines of header, then one line of 35 comma-separated fields an hour.
//!
//! The layout is that of the file format's public description; columns are the format's own, from 1.
//! Second hand: the columns as given in an open solar library and in the files themselves.

use super::error::{Stamp, WeatherError};
use super::field::{self, whole_number};
use super::hours::{Columns, Header, Row, assemble};
use super::text::{Record, records};
use super::{WeatherYear, field::PRESSURE_PA};

const COLUMNS: Columns = Columns {
    dry_bulb: 7,
    dew_point: 8,
    relative_humidity: 9,
    pressure: 10,
    global: 14,
    direct: 15,
    diffuse: 16,
    pressure_kind: PRESSURE_PA,
    pascal_per_unit: 1.0,
};

/// Fields that every hour needs: up to the last one that is read.
const LEAST_FIELDS: usize = COLUMNS.diffuse;

const FIX_HEADER: &str = "fetch the file again, or correct its header";
const FIX_LINE: &str = "fetch the file again: a line is cut";

/// Whether the text is an EPW file.
pub(super) fn recognises(text: &str) -> bool {
    records(text).next().is_some_and(|first| first.field(1).eq_ignore_ascii_case("LOCATION"))
}

/// Reads the file.
pub(super) fn read(name: &str, text: &str) -> Result<WeatherYear, WeatherError> {
    let mut records = records(text);
    let header = read_header(name, &mut records)?;
    let mut rows = Vec::with_capacity(8784);
    let mut least_fields = LEAST_FIELDS;
    for record in records {
        check_length(&record, least_fields)?;
        least_fields = least_fields.max(record.fields.len());
        let (stamp, year) = read_stamp(&record)?;
        rows.push(Row::read(&record, stamp, year, &COLUMNS)?);
    }
    assemble(header, &rows, &COLUMNS)
}

/// A line shorter than one before it was cut, and its last field may have lost digits.
pub(super) fn check_length(record: &Record, least: usize) -> Result<(), WeatherError> {
    if record.fields.len() >= least {
        return Ok(());
    }
    Err(WeatherError::ShortLine {
        line: record.line,
        value: record.fields.len(),
        allowed: least,
        fix: FIX_LINE,
    })
}

/// Reads lines up to `DATA PERIODS`.
fn read_header(name: &str, records: &mut impl Iterator<Item = Record>) -> Result<Header, WeatherError> {
    let location = records.next().expect("a recognised file has a first line");
    let mut header = read_location(name, &location)?;
    for record in records {
        header.last_line = record.line;
        let title = record.field(1).to_ascii_uppercase();
        if title == "DATA PERIODS" {
            check_data_periods(&record)?;
            return Ok(header);
        }
        if title.starts_with("HOLIDAYS") {
            header.notes.extend(daylight_saving_note(&record));
        }
        if title.parse::<f64>().is_ok() {
            break;
        }
    }
    Err(WeatherError::MissingHeader {
        line: header.last_line,
        field: "DATA PERIODS",
        allowed: "the line before the first hour",
        fix: FIX_HEADER,
    })
}

fn read_location(name: &str, record: &Record) -> Result<Header, WeatherError> {
    const ELEVATION_COLUMN: usize = 10;
    check_length(record, ELEVATION_COLUMN)?;
    let word = |column| record.field(column).to_owned();
    let station = word(6);
    let station = match station.as_str() {
        "" | "unknown" | "-" => String::new(),
        _ => format!("station {station}"),
    };
    Ok(Header {
        place_words: vec![word(2), word(3), word(4)],
        file: name.to_owned(),
        kind: "EPW",
        source_words: vec![word(5), station],
        latitude_deg: field::LATITUDE.require(record, 7)?,
        longitude_deg: field::LONGITUDE.require(record, 8)?,
        utc_offset_h: field::UTC_OFFSET.require(record, 9)?,
        elevation_m: field::ELEVATION.require(record, ELEVATION_COLUMN)?,
        last_line: record.line,
        notes: Vec::new(),
    })
}

/// One period of one record an hour; anything else is not a year of hours.
fn check_data_periods(record: &Record) -> Result<(), WeatherError> {
    for (column, name) in [(2, "number of data periods"), (3, "records per hour")] {
        let number = whole_number(record, column, name, record.field(column), 0..=usize::MAX)?;
        if number != 1 {
            return Err(WeatherError::OutOfRange {
                line: record.line,
                column,
                field: name,
                value: number.to_string(),
                allowed: "1".to_owned(),
                fix: "take a file with one period of hourly records",
            });
        }
    }
    Ok(())
}

/// Some files name a daylight saving period. By the format's description the hours are standard time all the
/// same.
fn daylight_saving_note(record: &Record) -> Option<String> {
    let (first, last) = (record.field(3), record.field(4));
    let named = |day: &str| !matches!(day, "" | "0");
    (named(first) && named(last)).then(|| {
        format!(
            "the header names daylight saving from {first} to {last}: the hours are taken as standard time, \
             as the format has them"
        )
    })
}

/// Month, day and hour of a line, and its year. Minute 0 or 60 means the end of the hour, both occur.
fn read_stamp(record: &Record) -> Result<(Stamp, usize), WeatherError> {
    let number = |column, name, range| whole_number(record, column, name, record.field(column), range);
    let year = number(1, "year", 1..=9999)?;
    let stamp = Stamp {
        month: number(2, "month", 1..=12)?,
        day: number(3, "day", 1..=31)?,
        hour: number(4, "hour", 1..=24)?,
    };
    let minute = number(5, "minute", 0..=60)?;
    if !matches!(minute, 0 | 60) {
        return Err(WeatherError::OutOfRange {
            line: record.line,
            column: 5,
            field: "minute",
            value: minute.to_string(),
            allowed: "0 or 60".to_owned(),
            fix: "take a file with hourly records at full hours",
        });
    }
    Ok((stamp, year))
}

//! TMY3 CSV: a line for the station, a line of column names, then one line an hour.
//!
//! Columns are found by their names, because files of 68 and of 71 columns are about. Dates are
//! `MM/DD/YYYY`, times `01:00` to `24:00` of local standard time, the hour's end.
//! Second hand: names and order as given in an open solar library and in the files themselves.

use super::WeatherYear;
use super::epw::check_length;
use super::error::{Stamp, WeatherError};
use super::field::{self, whole_number};
use super::hours::{Columns, Header, Row, assemble};
use super::text::{Record, records, shortened};

const DATE: &str = "Date (MM/DD/YYYY)";
const TIME: &str = "Time (HH:MM)";
const PASCAL_PER_MBAR: f64 = 100.0;
const FIX_HEADER: &str = "fetch the file again, or correct its header";
const FIX_DATE: &str =
    "write dates as MM/DD/YYYY and times as 01:00 to 24:00; spreadsheets change them on saving";

/// Whether the text is a TMY3 CSV file.
pub(super) fn recognises(text: &str) -> bool {
    records(text).nth(1).is_some_and(|second| second.field(1).eq_ignore_ascii_case(DATE))
}

/// Reads the file.
pub(super) fn read(name: &str, text: &str) -> Result<WeatherYear, WeatherError> {
    let mut records = records(text);
    let station = records.next().expect("a recognised file has a first line");
    let names = records.next().expect("a recognised file has a second line");
    let mut header = read_station(name, &station)?;
    header.last_line = names.line;
    let columns = find_columns(&names)?;
    let (date, time) = (find_column(&names, DATE)?, find_column(&names, TIME)?);
    let mut rows = Vec::with_capacity(8784);
    for record in records {
        check_length(&record, names.fields.len())?;
        let (month, day, year) = read_date(&record, date)?;
        let stamp = Stamp { month, day, hour: read_time(&record, time)? };
        rows.push(Row::read(&record, stamp, year, &columns)?);
    }
    assemble(header, &rows, &columns)
}

fn read_station(name: &str, record: &Record) -> Result<Header, WeatherError> {
    const ELEVATION_COLUMN: usize = 7;
    check_length(record, ELEVATION_COLUMN)?;
    let word = |column| record.field(column).to_owned();
    Ok(Header {
        place_words: vec![word(2), word(3)],
        file: name.to_owned(),
        kind: "TMY3",
        source_words: vec![format!("station {}", word(1))],
        latitude_deg: field::LATITUDE.require(record, 5)?,
        longitude_deg: field::LONGITUDE.require(record, 6)?,
        utc_offset_h: field::UTC_OFFSET.require(record, 4)?,
        elevation_m: field::ELEVATION.require(record, ELEVATION_COLUMN)?,
        last_line: record.line,
        notes: Vec::new(),
    })
}

fn find_columns(names: &Record) -> Result<Columns, WeatherError> {
    Ok(Columns {
        dry_bulb: find_column(names, "Dry-bulb (C)")?,
        dew_point: find_column(names, "Dew-point (C)")?,
        relative_humidity: find_column(names, "RHum (%)")?,
        pressure: find_column(names, "Pressure (mbar)")?,
        global: find_column(names, "GHI (W/m^2)")?,
        direct: find_column(names, "DNI (W/m^2)")?,
        diffuse: find_column(names, "DHI (W/m^2)")?,
        pressure_kind: field::PRESSURE_MBAR,
        pascal_per_unit: PASCAL_PER_MBAR,
    })
}

/// Column of a name, from 1.
fn find_column(names: &Record, name: &'static str) -> Result<usize, WeatherError> {
    names.fields.iter().position(|field| field.eq_ignore_ascii_case(name)).map(|index| index + 1).ok_or(
        WeatherError::MissingHeader {
            line: names.line,
            field: name,
            allowed: "a column name of the second line",
            fix: FIX_HEADER,
        },
    )
}

/// Month, day and year.
fn read_date(record: &Record, column: usize) -> Result<(usize, usize, usize), WeatherError> {
    let number = |name, text, range| whole_number(record, column, name, text, range);
    match record.field(column).split('/').collect::<Vec<_>>()[..] {
        [month, day, year] => Ok((
            number("month", month, 1..=12)?,
            number("day", day, 1..=31)?,
            number("year", year, 1..=9999)?,
        )),
        _ => Err(WeatherError::NotANumber {
            line: record.line,
            column,
            field: "date",
            value: shortened(record.field(column)),
            allowed: "MM/DD/YYYY".to_owned(),
            fix: FIX_DATE,
        }),
    }
}

/// Hour 1 to 24.
fn read_time(record: &Record, column: usize) -> Result<usize, WeatherError> {
    let number = |name, text, range| whole_number(record, column, name, text, range);
    match record.field(column).split(':').collect::<Vec<_>>()[..] {
        [hour, minute] => {
            number("minute", minute, 0..=0)?;
            number("hour", hour, 1..=24)
        }
        _ => Err(WeatherError::NotANumber {
            line: record.line,
            column,
            field: "time",
            value: shortened(record.field(column)),
            allowed: "HH:MM".to_owned(),
            fix: FIX_DATE,
        }),
    }
}

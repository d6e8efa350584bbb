//! Kinds of numbers in a weather file: their names, ranges and marks for "missing".

use super::WeatherError;
use super::text::{Record, shortened};

const FIX_NUMBER: &str = "correct the file, or take another year or station";

/// A kind of number.
#[derive(Debug, Clone, Copy)]
pub(super) struct Kind {
    /// Name.
    pub name: &'static str,
    /// Unit in the file.
    pub unit: &'static str,
    /// Lowest value.
    pub lowest: f64,
    /// Highest value.
    pub highest: f64,
    /// Marks for a missing value. None of them may be a value that occurs.
    pub missing: &'static [f64],
}

/// Marks below zero that mean "missing" in every column.
///
/// Source: the TMY3 user's manual (NREL/TP-581-43156) has -9900. From memory, to be verified; the other marks: Common practice, no source.
const NEGATIVE_MARKS: [f64; 5] = [-99.0, -99.9, -999.0, -9900.0, -9999.0];

const TEMPERATURE_MARKS: &[f64] = &[99.0, 99.9, 999.0, 999.9, 9999.0, 99_999.0];
const RADIATION_MARKS: &[f64] = &[9999.0, 99_999.0, 999_999.0];

/// Dry bulb. Range: the weather records of the Earth, -89.2 and 56.7 °C, rounded outward.
/// From memory, to be verified: World Meteorological Organization, archive of weather and climate extremes.
pub(super) const DRY_BULB: Kind =
    Kind { name: "dry bulb", unit: "degC", lowest: -90.0, highest: 60.0, missing: TEMPERATURE_MARKS };

/// Dew point. Range: down to the coldest of the saturation formulas.
pub(super) const DEW_POINT: Kind = Kind { name: "dew point", lowest: -100.0, ..DRY_BULB };

/// Relative humidity; 99.9 is a value. Range: the EPW description's 0 to 110 %. From memory, to be verified.
pub(super) const RELATIVE_HUMIDITY: Kind = Kind {
    name: "relative humidity",
    unit: "%",
    lowest: 0.0,
    highest: 110.0,
    missing: &[999.0, 999.9, 9999.0, 99_999.0],
};

/// Station pressure; 99 999 is a value. Range: the EPW description's. From memory, to be verified.
pub(super) const PRESSURE_PA: Kind = Kind {
    name: "station pressure",
    unit: "Pa",
    lowest: 31_000.0,
    highest: 120_000.0,
    missing: &[999_999.0, 9_999_999.0],
};

/// The same in mbar; 999 is a value.
pub(super) const PRESSURE_MBAR: Kind = Kind {
    unit: "mbar",
    lowest: 310.0,
    highest: 1200.0,
    missing: &[9999.0, 99_999.0, 999_999.0],
    ..PRESSURE_PA
};

/// Global horizontal radiation; 999 is a value. Range: the sun outside the atmosphere gives 1361 W/m2,
/// and bright clouds may add to it. Common practice, no source: 1600.
pub(super) const GLOBAL: Kind = Kind {
    name: "global horizontal radiation",
    unit: "Wh/m2",
    lowest: 0.0,
    highest: 1600.0,
    missing: RADIATION_MARKS,
};

/// Direct normal radiation, as [`GLOBAL`].
pub(super) const DIRECT: Kind = Kind { name: "direct normal radiation", ..GLOBAL };

/// Diffuse horizontal radiation, as [`GLOBAL`].
pub(super) const DIFFUSE: Kind = Kind { name: "diffuse horizontal radiation", ..GLOBAL };

/// Latitude.
pub(super) const LATITUDE: Kind =
    Kind { name: "latitude", unit: "degrees", lowest: -90.0, highest: 90.0, missing: &[] };

/// Longitude.
pub(super) const LONGITUDE: Kind =
    Kind { name: "longitude", unit: "degrees", lowest: -180.0, highest: 180.0, missing: &[] };

/// Offset of local standard time.
pub(super) const UTC_OFFSET: Kind =
    Kind { name: "UTC offset", unit: "h", lowest: -12.0, highest: 14.0, missing: &[] };

/// Elevation: below the shore of the Dead Sea to the highest summit.
pub(super) const ELEVATION: Kind =
    Kind { name: "elevation", unit: "m", lowest: -500.0, highest: 9000.0, missing: &[] };

impl Kind {
    fn allowed(&self) -> String {
        format!("{} to {} {}", self.lowest, self.highest, self.unit)
    }

    fn contains(&self, value: f64) -> bool {
        (self.lowest..=self.highest).contains(&value)
    }

    /// A blank, or a mark outside the range.
    fn is_missing(&self, value: f64) -> bool {
        !self.contains(value) && (self.missing.contains(&value) || NEGATIVE_MARKS.contains(&value))
    }

    /// A number that may be absent: `None` for a blank or a mark.
    ///
    /// # Errors
    /// Anything that is neither a finite number nor blank, and numbers out of range.
    pub fn read(&self, record: &Record, column: usize) -> Result<Option<f64>, WeatherError> {
        match self.read_unbounded(record, column)? {
            Some(value) if !self.contains(value) => Err(WeatherError::OutOfRange {
                line: record.line,
                column,
                field: self.name,
                value: shortened(record.field(column)),
                allowed: self.allowed(),
                fix: FIX_NUMBER,
            }),
            value => Ok(value),
        }
    }

    /// As [`Kind::read`], for a number that is not used where it is out of range: `Err` of the inner result
    /// then, to be counted.
    pub fn read_or_drop(
        &self,
        record: &Record,
        column: usize,
    ) -> Result<Result<Option<f64>, Dropped>, WeatherError> {
        let value = self.read_unbounded(record, column)?;
        Ok(match value {
            // Files write -0.00 at night.
            Some(value) if self.contains(value) => Ok(Some(value + 0.0)),
            Some(_) => Err(Dropped),
            None => Ok(None),
        })
    }

    /// A number that has to be there.
    ///
    /// # Errors
    /// As [`Kind::read`], and blanks and marks.
    pub fn require(&self, record: &Record, column: usize) -> Result<f64, WeatherError> {
        self.read(record, column)?.ok_or_else(|| WeatherError::Missing {
            line: record.line,
            column,
            field: self.name,
            value: shortened(record.field(column)),
            allowed: self.allowed(),
            fix: FIX_NUMBER,
        })
    }

    fn read_unbounded(&self, record: &Record, column: usize) -> Result<Option<f64>, WeatherError> {
        let text = record.field(column);
        if text.is_empty() {
            return Ok(None);
        }
        match text.parse::<f64>() {
            Ok(value) if value.is_finite() => Ok((!self.is_missing(value)).then_some(value)),
            _ => Err(WeatherError::NotANumber {
                line: record.line,
                column,
                field: self.name,
                value: shortened(text),
                allowed: self.allowed(),
                fix: FIX_NUMBER,
            }),
        }
    }
}

/// A number out of range that is left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Dropped;

/// A whole number from 0 for dates and hours.
///
/// # Errors
/// [`WeatherError::NotANumber`] for anything else, [`WeatherError::OutOfRange`] beyond the range.
pub(super) fn whole_number(
    record: &Record,
    column: usize,
    field: &'static str,
    text: &str,
    range: std::ops::RangeInclusive<usize>,
) -> Result<usize, WeatherError> {
    const FIX: &str = "correct the file: dates and times are whole numbers, hours run from 1 to 24";
    let told = || (shortened(text), format!("{} to {}", range.start(), range.end()));
    let line = record.line;
    match text.trim().parse::<usize>() {
        Ok(number) if range.contains(&number) => Ok(number),
        Ok(_) => {
            let (value, allowed) = told();
            Err(WeatherError::OutOfRange { line, column, field, value, allowed, fix: FIX })
        }
        Err(_) => {
            let (value, allowed) = told();
            Err(WeatherError::NotANumber { line, column, field, value, allowed, fix: FIX })
        }
    }
}

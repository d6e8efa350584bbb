//! Why a weather file cannot be used.

/// Why a weather file cannot be used. Lines and columns count from 1; a column is a comma-separated field.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WeatherError {
    /// Nothing in it, or blanks alone.
    #[error("the weather file is empty; {fix}")]
    Empty {
        /// What to do.
        fix: &'static str,
    },
    /// Not a text file.
    #[error("line {line}: the weather file is not a text file; allowed: {allowed}; {fix}")]
    NotText {
        /// Line of the first byte that no text has.
        line: usize,
        /// What is read.
        allowed: &'static str,
        /// What to do.
        fix: &'static str,
    },
    /// Neither of the two kinds.
    #[error("line 1: the weather file begins with `{value}`; allowed: {allowed}; {fix}")]
    UnknownKind {
        /// Start of its first line.
        value: String,
        /// What is read.
        allowed: &'static str,
        /// What to do.
        fix: &'static str,
    },
    /// A line of the header is not there.
    #[error("line {line}: the header's `{field}` is missing; allowed: {allowed}; {fix}")]
    MissingHeader {
        /// Where it was looked for last.
        line: usize,
        /// Name of the line or column.
        field: &'static str,
        /// Where it has to be.
        allowed: &'static str,
        /// What to do.
        fix: &'static str,
    },
    /// A line has too few fields.
    #[error("line {line}: the line has {value} {}; allowed: {allowed} or more; {fix}", fields(*.value))]
    ShortLine {
        /// Line.
        line: usize,
        /// Fields it has.
        value: usize,
        /// Fields it needs.
        allowed: usize,
        /// What to do.
        fix: &'static str,
    },
    /// Not a number where one belongs.
    #[error("line {line}, column {column} ({field}): `{value}` is not a number; allowed: {allowed}; {fix}")]
    NotANumber {
        /// Line.
        line: usize,
        /// Column.
        column: usize,
        /// Name of the column.
        field: &'static str,
        /// What stands there.
        value: String,
        /// What may stand there.
        allowed: String,
        /// What to do.
        fix: &'static str,
    },
    /// A number that the weather on Earth does not have.
    #[error("line {line}, column {column} ({field}): `{value}` is out of range; allowed: {allowed}; {fix}")]
    OutOfRange {
        /// Line.
        line: usize,
        /// Column.
        column: usize,
        /// Name of the column.
        field: &'static str,
        /// What stands there.
        value: String,
        /// Range.
        allowed: String,
        /// What to do.
        fix: &'static str,
    },
    /// A mark for a missing value, or a blank, where the value is needed.
    #[error(
        "line {line}, column {column} ({field}): the value is missing (`{value}`); allowed: {allowed}; {fix}"
    )]
    Missing {
        /// Line.
        line: usize,
        /// Column.
        column: usize,
        /// Name of the column.
        field: &'static str,
        /// The mark.
        value: String,
        /// Range.
        allowed: String,
        /// What to do.
        fix: &'static str,
    },
    /// The dew point stands above the air's temperature by more than rounding.
    #[error(
        "line {line}, column {column} ({field}): the dew point {value} degC is above the dry bulb {dry_bulb} degC; \
         allowed: at most {allowed} K above, which is taken as saturated; {fix}"
    )]
    DewPointAboveDryBulb {
        /// Line.
        line: usize,
        /// Column.
        column: usize,
        /// Name of the column.
        field: &'static str,
        /// Dew point, °C.
        value: f64,
        /// Dry bulb, °C.
        dry_bulb: f64,
        /// Most that is held at saturation, K.
        allowed: f64,
        /// What to do.
        fix: &'static str,
    },
    /// Too many hours in a row have neither dew point nor relative humidity.
    #[error(
        "line {line}: {value} hours in a row have neither dew point nor relative humidity; \
         allowed: {allowed}; {fix}"
    )]
    HumidityGap {
        /// First line of the gap.
        line: usize,
        /// Hours.
        value: usize,
        /// Most hours that are bridged.
        allowed: usize,
        /// What to do.
        fix: &'static str,
    },
    /// An hour stands where another belongs.
    #[error("line {line}: {fault} `{value}`; allowed: {allowed}; {fix}")]
    Sequence {
        /// Line.
        line: usize,
        /// What is wrong with it.
        fault: SequenceFault,
        /// The hour found.
        value: Stamp,
        /// The hour that belongs there.
        allowed: Stamp,
        /// What to do.
        fix: &'static str,
    },
    /// The year goes on after its last hour.
    #[error("line {line}: `{value}` follows the last hour of the year; allowed: {allowed} hours; {fix}")]
    TooLong {
        /// Line.
        line: usize,
        /// The hour found.
        value: Stamp,
        /// Hours of the year.
        allowed: usize,
        /// What to do.
        fix: &'static str,
    },
    /// The file ends before the year does.
    #[error("line {line}: the file ends after {value} {}; allowed: {allowed}; {fix}", hours(*.value))]
    TooShort {
        /// Last line.
        line: usize,
        /// Hours read.
        value: usize,
        /// Lengths of a year.
        allowed: &'static str,
        /// What to do.
        fix: &'static str,
    },
}

impl WeatherError {
    /// Line that the error points at, from 1, where it points at one.
    pub fn line(&self) -> Option<usize> {
        match self {
            Self::Empty { .. } => None,
            Self::UnknownKind { .. } => Some(1),
            Self::NotText { line, .. }
            | Self::MissingHeader { line, .. }
            | Self::ShortLine { line, .. }
            | Self::NotANumber { line, .. }
            | Self::OutOfRange { line, .. }
            | Self::Missing { line, .. }
            | Self::DewPointAboveDryBulb { line, .. }
            | Self::HumidityGap { line, .. }
            | Self::Sequence { line, .. }
            | Self::TooLong { line, .. }
            | Self::TooShort { line, .. } => Some(*line),
        }
    }

    /// Comma-separated field that the error points at, from 1, where it points at one.
    pub fn column(&self) -> Option<usize> {
        match self {
            Self::NotANumber { column, .. }
            | Self::OutOfRange { column, .. }
            | Self::Missing { column, .. }
            | Self::DewPointAboveDryBulb { column, .. } => Some(*column),
            _ => None,
        }
    }
}

/// What is wrong with an hour's place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SequenceFault {
    /// Hours before it are missing.
    Gap,
    /// The same hour stands on the line before.
    Repeated,
    /// It is earlier than the line before.
    OutOfOrder,
}

impl std::fmt::Display for SequenceFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Gap => "hours are missing before",
            Self::Repeated => "repeated hour",
            Self::OutOfOrder => "hour out of order",
        })
    }
}

/// Month, day and hour ending, as weather files count them: the first of the year is 1/1 hour 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stamp {
    /// 1 to 12.
    pub month: usize,
    /// 1 to 31.
    pub day: usize,
    /// 1 to 24; the instant at which the hour ends.
    pub hour: usize,
}

impl std::fmt::Display for Stamp {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "month {} day {} hour {}", self.month, self.day, self.hour)
    }
}

fn fields(count: usize) -> &'static str {
    if count == 1 { "field" } else { "fields" }
}

fn hours(count: usize) -> &'static str {
    if count == 1 { "hour" } else { "hours" }
}

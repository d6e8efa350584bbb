//! From bytes to lines and fields.

use std::borrow::Cow;

use csv::StringRecord;

use super::WeatherError;

const FIX_WHOLE_FILE: &str = "fetch the file again";

/// Text of a file: UTF-8 without its byte-order mark, or else Latin-1, in which old headers are written.
pub(super) fn decode(bytes: &[u8]) -> Result<Cow<'_, str>, WeatherError> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    if let Some(at) = bytes.iter().position(|&byte| byte == 0) {
        return Err(WeatherError::NotText {
            line: 1 + bytes[..at].iter().filter(|&&byte| byte == b'\n').count(),
            allowed: "UTF-8 or Latin-1 text",
            fix: "unpack the file, or save it as plain text",
        });
    }
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => Cow::Borrowed(text),
        Err(_) => Cow::Owned(bytes.iter().map(|&byte| char::from(byte)).collect()),
    };
    if text.trim().is_empty() {
        return Err(WeatherError::Empty { fix: FIX_WHOLE_FILE });
    }
    Ok(text)
}

/// The error for a text that is neither kind of file.
pub(super) fn unknown_kind(text: &str) -> WeatherError {
    let first_line = text.lines().next().unwrap_or_default();
    WeatherError::UnknownKind {
        value: shortened(first_line),
        allowed: "an EPW file (first line `LOCATION,...`) or a TMY3 CSV file \
                  (second line `Date (MM/DD/YYYY),Time (HH:MM),...`)",
        fix: "give the hourly file itself, not a summary, design-day or zip file",
    }
}

/// At most 40 characters of what stands in a file, for an error text; control characters become `?`.
pub(super) fn shortened(value: &str) -> String {
    const MOST: usize = 40;
    let shown = value.chars().take(MOST).map(|c| if c.is_control() { '?' } else { c });
    let rest = if value.chars().nth(MOST).is_some() { "..." } else { "" };
    shown.chain(rest.chars()).collect()
}

/// Non-blank lines of a text with their numbers from 1, split into fields with blanks around them cut off.
///
/// Every line is a record of its own, so that a stray quote spoils that line and not the rest of the
/// file.
pub(super) fn records(text: &str) -> impl Iterator<Item = Record> + '_ {
    text.lines()
        .enumerate()
        .filter(|(_, line)| !line.trim().is_empty())
        .map(|(index, line)| Record { line: index + 1, fields: fields(line) })
}

/// One line.
#[derive(Debug, Clone)]
pub(super) struct Record {
    /// Its number, from 1.
    pub line: usize,
    /// Its fields.
    pub fields: StringRecord,
}

impl Record {
    /// Field by its column from 1; blank where the line is shorter.
    pub fn field(&self, column: usize) -> &str {
        self.fields.get(column - 1).unwrap_or_default()
    }
}

fn fields(line: &str) -> StringRecord {
    // Hours have no quotes, and a CSV reader made anew for each of 8760 lines costs more than the rest.
    if !line.contains('"') {
        return line.split(',').map(str::trim).collect();
    }
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .buffer_capacity(line.len().max(1))
        .from_reader(line.as_bytes());
    let mut record = StringRecord::new();
    // Reading UTF-8 from memory with a flexible number of fields has no way to fail.
    reader.read_record(&mut record).expect("a line of text in memory is always a record");
    record
}

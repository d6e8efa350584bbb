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
    let mut quoted = QuotedLines::default();
    text.lines()
        .enumerate()
        .filter(|(_, line)| !line.trim().is_empty())
        .map(move |(index, line)| Record { line: index + 1, fields: quoted.fields(line) })
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

/// Splits lines with quotes in them; the parser is kept from line to line, because making it costs as much as hundreds of
/// fields.
#[derive(Default)]
struct QuotedLines {
    parser: Option<csv_core::Reader>,
    text: Vec<u8>,
    ends: Vec<usize>,
}

impl QuotedLines {
    fn fields(&mut self, line: &str) -> StringRecord {
        // Most hours have no quotes.
        if !line.contains('"') {
            return line.split(',').map(str::trim).collect();
        }
        let parser = self.parser.get_or_insert_with(csv_core::Reader::new);
        parser.reset();
        // No more text than in the line, and no more fields than commas and one.
        self.text.resize(line.len(), 0);
        self.ends.resize(line.len() + 1, 0);
        let (_, _, written, ended) = parser.read_record(line.as_bytes(), &mut self.text, &mut self.ends);
        // The end of the line, told to the parser, ends the last field.
        let (_, _, last, ended_last) =
            parser.read_record(&[], &mut self.text[written..], &mut self.ends[ended..]);
        let text = str::from_utf8(&self.text[..written + last])
            .expect("text stays text where only ASCII signs are taken out");
        let starts = std::iter::once(0).chain(self.ends.iter().copied());
        let ends = self.ends[..ended + ended_last].iter();
        starts.zip(ends).map(|(start, &end)| text[start..end].trim()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn by_a_reader_of_its_own(line: &str) -> StringRecord {
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(line.as_bytes());
        let mut record = StringRecord::new();
        reader.read_record(&mut record).expect("text in memory");
        record
    }

    #[test]
    fn a_comma_in_quotes_stays_in_its_field() {
        let lines = "a,\"b, c\", d\n\n\"x\"\"y\",\"\nz,\"w\"";
        let read: Vec<Vec<String>> =
            records(lines).map(|record| record.fields.iter().map(str::to_owned).collect()).collect();
        assert_eq!(read, [vec!["a", "b, c", "d"], vec!["x\"y", ""], vec!["z", "w"]]);
        let numbers: Vec<_> = records(lines).map(|record| record.line).collect();
        assert_eq!(numbers, [1, 3, 4]);
    }

    proptest! {
        /// Line after line the kept parser gives what a reader made anew for each line gives.
        #[test]
        fn the_parser_keeps_nothing_from_one_line_to_the_next(
            lines in proptest::collection::vec("[ab\", é#]{1,20}", 1..6)
        ) {
            let mut quoted = QuotedLines::default();
            for line in lines.iter().filter(|line| !line.trim().is_empty()) {
                prop_assert_eq!(quoted.fields(line), by_a_reader_of_its_own(line), "{}", line);
            }
        }
    }
}

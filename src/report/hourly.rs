//! The year hour by hour as CSV, written whole or not at all.
//!
//! The columns are the quantities of the JSON document, in full precision, after `hour` (0 for the
//! hour that begins the year) and `month` (1 to 12). A cell is empty where a quantity has no meaning.

use std::io;
use std::path::Path;

use crate::report::quantity;
use crate::report::whole_file::{FileError, WholeFile};
use crate::year::{Interval, Sink};

/// Collects the hours in a file beside the target, which takes the target's place only when it is whole.
#[derive(Debug)]
pub struct Hourly {
    rows: csv::Writer<WholeFile>,
    failure: Option<io::Error>,
}

impl Hourly {
    /// Opens the file, so that a path that cannot be written is known before the year is run.
    ///
    /// # Errors
    /// [`FileError::NotAFile`] and [`FileError::NotCreatable`].
    pub fn create(path: &Path) -> Result<Self, FileError> {
        let mut hourly = Self { rows: csv::Writer::from_writer(WholeFile::create(path)?), failure: None };
        hourly.write(["hour", "month"].map(str::to_owned), |quantity| quantity.key.to_owned());
        Ok(hourly)
    }

    /// Puts the finished file in its place.
    ///
    /// # Errors
    /// [`FileError::NotWritten`] when anything since [`Hourly::create`] could not be written; then the
    /// target is as it was before.
    pub fn keep(self) -> Result<(), FileError> {
        let Self { rows, failure } = self;
        if let Some(source) = failure {
            return Err(FileError::NotWritten { path: rows.get_ref().path().to_owned(), source });
        }
        let path = rows.get_ref().path().to_owned();
        rows.into_inner().map_err(|error| FileError::NotWritten { path, source: error.into_error() })?.keep()
    }

    fn write(&mut self, first: [String; 2], cell: impl Fn(&quantity::Quantity) -> String) {
        if self.failure.is_some() {
            return;
        }
        let row = first.into_iter().chain(quantity::ALL.iter().map(cell));
        if let Err(error) = self.rows.write_record(row) {
            self.failure = Some(error.into());
        }
    }
}

impl Sink for Hourly {
    /// Writes a row. A failure is kept until [`Hourly::keep`].
    fn take(&mut self, interval: &Interval) {
        let first = [interval.first_hour.to_string(), (interval.month + 1).to_string()];
        self.write(first, |quantity| {
            quantity.of(interval).map(|value| format!("{value:?}")).unwrap_or_default()
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    fn interval(first_hour: usize, dump_m3: f64) -> Interval {
        Interval { first_hour, duration_s: 3600.0, dump_m3, ..Interval::default() }
    }

    #[test]
    fn hours_are_written_in_full_precision_and_without_meaning_left_empty() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("hours.csv");
        let mut hourly = Hourly::create(&path).expect("a file can be created in a new folder");
        hourly.take(&interval(0, 1.0 / 3.0));
        hourly.take(&interval(1, 0.25));
        assert!(!path.exists(), "nothing is at the path before the file is whole");
        hourly.keep().expect("it can be kept");
        let mut rows = csv::Reader::from_path(&path).expect("it can be read");
        let headers = rows.headers().expect("a heading").clone();
        let column = |key| headers.iter().position(|header| header == key).expect(key);
        let rows: Vec<_> = rows.records().collect::<Result<_, _>>().expect("rows of equal length");
        assert_eq!(rows.len(), 2);
        assert_eq!(rows[0][column("dump_l")].parse::<f64>().expect("a number"), 1.0 / 3.0 * 1000.0);
        assert_eq!(&rows[0][column("cop")], "");
        assert_eq!((&rows[1][column("hour")], &rows[1][column("month")]), ("1", "1"));
    }

    #[test]
    fn an_unfinished_table_leaves_the_old_file_and_nothing_else() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("hours.csv");
        fs::write(&path, "old").expect("a file");
        let mut hourly = Hourly::create(&path).expect("it can be replaced");
        hourly.take(&interval(0, 0.0));
        drop(hourly);
        assert_eq!(fs::read_to_string(&path).expect("the old file"), "old");
        assert_eq!(fs::read_dir(folder.path()).expect("the folder").count(), 1);
    }

    #[test]
    fn a_folder_or_a_missing_folder_is_refused_at_once() {
        let folder = tempfile::tempdir().expect("a folder");
        assert!(matches!(Hourly::create(folder.path()), Err(FileError::NotAFile { .. })));
        let missing = folder.path().join("no/such/folder.csv");
        assert!(matches!(Hourly::create(&missing), Err(FileError::NotCreatable { .. })));
    }
}

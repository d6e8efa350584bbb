//! What the two weather targets have in common.

use std::sync::atomic::{AtomicUsize, Ordering};

use larderloop::weather::{WeatherError, WeatherYear};

/// Days of the months in a common year.
const DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Of the inputs in which nothing but the number of hours is wrong, one in so many is grown to a year: a year
/// takes some hundred times as long to read as a day.
const ONE_IN: u32 = 128;

/// How a kind of weather file is laid out.
pub struct Layout {
    /// A name for the file.
    pub name: &'static str,
    /// Lines before the first hour.
    pub header_lines: fn(&[&[u8]]) -> usize,
    /// Fields of a line's date and time.
    pub stamp_fields: usize,
    /// Writes date and time of a month, a day and an hour.
    pub stamp: fn(usize, usize, usize) -> String,
}

impl Layout {
    /// Reads an input as it is, and once more grown to a year: its header stays, and its hours are repeated
    /// under the dates of 365 days.
    ///
    /// A whole year is too long to be mutated line by line.
    pub fn examine(&self, bytes: &[u8]) {
        if !lacks_only_hours(&self.read(bytes)) || !sum(bytes).is_multiple_of(ONE_IN) {
            return;
        }
        if let Some(year) = self.grown(bytes) {
            count_year(self.read(&year).is_ok());
        }
    }

    fn read(&self, bytes: &[u8]) -> Result<WeatherYear, WeatherError> {
        let read = WeatherYear::read(self.name, bytes);
        match &read {
            Ok(year) => {
                assert!(year.hours.len() == 8760 || year.hours.len() == 8784);
                for hour in &year.hours {
                    assert!(hour.dry_bulb_k.is_finite() && hour.dry_bulb_k > 0.0);
                    assert!(hour.humidity_ratio.is_finite() && hour.humidity_ratio >= 0.0);
                    assert!(hour.pressure_pa.is_finite() && hour.pressure_pa > 0.0);
                }
            }
            Err(error) => assert!(!error.to_string().is_empty()),
        }
        read
    }

    /// The input's hours over a whole year; `None` where there are none.
    fn grown(&self, bytes: &[u8]) -> Option<Vec<u8>> {
        let lines: Vec<_> = bytes.split(|&byte| byte == b'\n').collect();
        let (header, hours) = lines.split_at_checked((self.header_lines)(&lines))?;
        let hours: Vec<_> = hours.iter().filter_map(|line| self.values(line)).collect();
        let mut next = hours.iter().cycle();
        let mut year = header.join(&b'\n');
        for (month, days) in DAYS.iter().enumerate() {
            for day in 1..=*days {
                for hour in 1..=24 {
                    year.push(b'\n');
                    year.extend_from_slice((self.stamp)(month + 1, day, hour).as_bytes());
                    year.extend_from_slice(next.next()?);
                }
            }
        }
        Some(year)
    }

    /// What follows the date and time of a line, with its comma.
    fn values<'line>(&self, line: &'line [u8]) -> Option<&'line [u8]> {
        let mut commas = line.iter().enumerate().filter(|(_, byte)| **byte == b',');
        let (at, _) = commas.nth(self.stamp_fields - 1)?;
        Some(&line[at..])
    }
}

/// Whether every line was read and only the dates are not those of a year.
fn lacks_only_hours(read: &Result<WeatherYear, WeatherError>) -> bool {
    matches!(read, Err(WeatherError::TooShort { .. } | WeatherError::Sequence { .. }))
}

/// A sum that scatters over the inputs (FNV-1a, 32 bits), so that the same input is always treated alike.
fn sum(bytes: &[u8]) -> u32 {
    bytes.iter().fold(0x811c_9dc5, |sum, &byte| (sum ^ u32::from(byte)).wrapping_mul(0x0100_0193))
}

/// Tells at 1, 2, 4, 8, ... inputs grown to a year how many of them were read without a fault.
fn count_year(whole: bool) {
    static GROWN: AtomicUsize = AtomicUsize::new(0);
    static WHOLE: AtomicUsize = AtomicUsize::new(0);
    let whole = WHOLE.fetch_add(usize::from(whole), Ordering::Relaxed) + usize::from(whole);
    let grown = GROWN.fetch_add(1, Ordering::Relaxed) + 1;
    if grown.is_power_of_two() {
        eprintln!("grown to a year: {grown}, read as a whole year: {whole}");
    }
}

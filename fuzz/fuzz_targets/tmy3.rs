//! Any bytes as TMY3 weather: a year of finite numbers, or an error that can be told.
//!
//! A whole year is too long to be mutated line by line. The input is read as it is, and once more grown to a
//! year: its header stays, and its hours are repeated under the dates of 365 days.
#![no_main]

use larderloop::weather::WeatherYear;
use libfuzzer_sys::fuzz_target;

/// Lines before the first hour.
const HEADER_LINES: usize = 2;
/// Days of the months in a common year.
const DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

fuzz_target!(|bytes: &[u8]| {
    examine(bytes);
    if let Some(year) = grown(bytes) {
        examine(&year);
    }
});

fn examine(bytes: &[u8]) {
    match WeatherYear::read("any.tmy3", bytes) {
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
}

/// The input's hours over a whole year; `None` where there are none.
fn grown(bytes: &[u8]) -> Option<Vec<u8>> {
    let lines: Vec<_> = bytes.split(|&byte| byte == b'\n').collect();
    let (header, hours) = lines.split_at_checked(HEADER_LINES)?;
    let hours: Vec<_> = hours.iter().filter_map(|line| values(line)).collect();
    let mut next = hours.iter().cycle();
    let mut year = header.join(&b'\n');
    for (month, days) in DAYS.iter().enumerate() {
        for day in 1..=*days {
            for hour in 1..=24 {
                year.push(b'\n');
                year.extend_from_slice(stamp(month + 1, day, hour).as_bytes());
                year.extend_from_slice(next.next()?);
            }
        }
    }
    Some(year)
}

/// What follows the date and time of a line, with its comma.
fn values(line: &[u8]) -> Option<&[u8]> {
    let commas = line.iter().enumerate().filter(|(_, byte)| **byte == b',');
    let (at, _) = commas.clone().nth(1)?;
    Some(&line[at..])
}

fn stamp(month: usize, day: usize, hour: usize) -> String {
    format!("{month:02}/{day:02}/1999,{hour:02}:00")
}

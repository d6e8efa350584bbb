//! Any bytes as EPW weather: a year of finite numbers, or an error that can be told.
#![no_main]

use larderloop_fuzz::Layout;
use libfuzzer_sys::fuzz_target;

const EPW: Layout = Layout {
    name: "any.epw",
    header_lines,
    stamp_fields: 5,
    stamp: |month, day, hour| format!("1999,{month},{day},{hour},0"),
};

fuzz_target!(|bytes: &[u8]| EPW.examine(bytes));

/// Up to the line that names the data periods.
fn header_lines(lines: &[&[u8]]) -> usize {
    const LAST: &[u8] = b"DATA PERIODS";
    let last = lines
        .iter()
        .position(|line| line.get(..LAST.len()).is_some_and(|title| title.eq_ignore_ascii_case(LAST)));
    last.map_or(0, |last| last + 1)
}

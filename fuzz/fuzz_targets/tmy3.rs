//! Any bytes as TMY3 weather: a year of finite numbers, or an error that can be told.
#![no_main]

use larderloop_fuzz::Layout;
use libfuzzer_sys::fuzz_target;

const TMY3: Layout = Layout {
    name: "any.tmy3",
    header_lines: |_| 2,
    stamp_fields: 2,
    stamp: |month, day, hour| format!("{month:02}/{day:02}/1999,{hour:02}:00"),
};

fuzz_target!(|bytes: &[u8]| TMY3.examine(bytes));

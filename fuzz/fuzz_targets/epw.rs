//! Any bytes as EPW weather: a year of finite numbers, or an error that can be told.
#![no_main]

use larderloop_fuzz::Layout;
use libfuzzer_sys::fuzz_target;

const EPW: Layout = Layout {
    name: "any.epw",
    header_lines: 8,
    stamp_fields: 5,
    stamp: |month, day, hour| format!("1999,{month},{day},{hour},0"),
};

fuzz_target!(|bytes: &[u8]| EPW.examine(bytes));

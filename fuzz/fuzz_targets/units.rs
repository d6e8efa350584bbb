//! Any text as a quantity of every kind: a finite number, or an error that can be told.
#![no_main]

use larderloop::units::Kind;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    for kind in Kind::ALL {
        match kind.read(text) {
            Ok(reading) => {
                assert!(reading.si.is_finite());
                let written = reading.unit.write(reading.si);
                assert!(!written.is_empty());
            }
            Err(error) => assert!(!error.to_string().is_empty()),
        }
    }
});

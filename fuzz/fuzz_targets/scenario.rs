//! Any text as a scenario: a household or faults, each with a place in the text, and every fault can be drawn.
#![no_main]

use std::io;

use larderloop::diagnostic::render_all;
use larderloop::scenario::examine;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let (household, diagnostics) = examine(text, "any.yaml", |_| Err(io::ErrorKind::NotFound.into()));
    assert!(household.is_some() || !diagnostics.is_empty());
    for one in &diagnostics {
        assert!(one.span.end <= text.len() && text.get(one.span.clone()).is_some());
    }
    render_all(&diagnostics, text, false);
});

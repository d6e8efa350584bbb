//! The scenarios that ship with the program, as text to be edited.

use std::path::{Path, PathBuf};

use larderloop::household::Household;
use larderloop::plant::Plant;
use larderloop::resolution::Resolution;
use larderloop::scenario;
use larderloop::simulate::simulate;
use larderloop::year::Year;

/// Names of the shipped scenarios.
pub const SCENARIOS: [&str; 6] = [
    "basement-chicago",
    "cider-shed",
    "couple-no-dump",
    "family-own-uses",
    "grower-po-plain",
    "market-garden",
];

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios")
}

/// The text of a shipped scenario.
pub fn text(name: &str) -> String {
    std::fs::read_to_string(folder().join(format!("{name}.yaml")))
        .expect("the scenarios are part of the project")
}

/// The text with one line replaced; the line is found by how it begins, after its indent.
pub fn edited(text: &str, begins: &str, new: &str) -> String {
    let found = text.lines().filter(|line| line.trim_start().starts_with(begins)).count();
    assert_eq!(found, 1, "`{begins}` begins {found} lines");
    let lines = text.lines().map(|line| {
        let bare = line.trim_start();
        if bare.starts_with(begins) {
            format!("{}{new}\n", &line[..line.len() - bare.len()])
        } else {
            format!("{line}\n")
        }
    });
    lines.collect()
}

/// The text without a top-level section.
pub fn without(text: &str, section: &str) -> String {
    let mut inside = false;
    let mut found = false;
    let kept: Vec<_> = text
        .lines()
        .filter(|line| {
            if !line.starts_with([' ', '#']) && !line.is_empty() {
                inside = line.starts_with(&format!("{section}:"));
                found |= inside;
            }
            !inside
        })
        .collect();
    assert!(found, "there is no section `{section}`");
    kept.join("\n") + "\n"
}

/// The household of a scenario; its weather is the shipped file that it names, or the text given.
pub fn household(text: &str, weather: Option<String>) -> Household {
    let bytes = |file: &Path| match weather {
        Some(weather) => Ok(weather.into_bytes()),
        None => std::fs::read(folder().join(file)),
    };
    scenario::check(text, "edited.yaml", bytes).unwrap_or_else(|faults| {
        let faults: Vec<_> = faults.iter().map(|fault| fault.render(text, false)).collect();
        panic!("{}", faults.join("\n\n"))
    })
}

/// The year of a household.
pub fn year(household: &Household) -> Year {
    simulate(&Plant::new(household), &Resolution::default(), &mut ()).expect("a checked household can be run")
}

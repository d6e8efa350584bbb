//! The pump's curve.

use serde_json::Value;

use crate::{SCENARIO, folder_with, larderloop, utf8};

fn printed(arguments: &[&str]) -> String {
    let done = larderloop().args(arguments).assert().code(0).stderr("");
    utf8(&done.get_output().stdout).to_owned()
}

fn json(arguments: &[&str]) -> Value {
    serde_json::from_str(&printed(arguments)).expect("one JSON document")
}

/// The words as they stand. Numbers of the program's own: what makes them true is in `tests/published/heat_pump_curve.rs`.
#[test]
fn pinned_curve_in_metric_units() {
    insta::assert_snapshot!("curve_metric", printed(&["curve", SCENARIO]));
}

#[test]
fn pinned_curve_in_us_units() {
    insta::assert_snapshot!("curve_us", printed(&["curve", SCENARIO, "--units", "us"]));
}

#[test]
fn the_curve_fits_80_columns_without_colour_in_both_systems() {
    for scenario in ["basement-chicago", "cider-shed", "couple-no-dump", "grower-po-plain"] {
        for units in ["metric", "us"] {
            let path = format!("scenarios/{scenario}.yaml");
            let text = printed(&["curve", &path, "--units", units]);
            assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
            assert!(!text.contains('\u{1b}'));
            let foreign = if units == "us" { ["°C", " W", "L/min"] } else { ["°F", "BTU/h", "gal/min"] };
            assert!(foreign.iter().all(|unit| !text.contains(unit)), "{text}");
        }
    }
}

/// The report of the year has the same section, and its document the same keys.
#[test]
fn the_report_holds_the_curve() {
    let curve = printed(&["curve", SCENARIO]);
    let (_, section) = curve.split_once("\n\n").expect("a title and the section");
    let report = printed(&["check", SCENARIO]);
    assert!(report.contains(section), "{section}");
    let (alone, whole) = (json(&["curve", SCENARIO, "--json"]), json(&["check", SCENARIO, "--json"]));
    for key in ["schema", "version", "scenario", "household", "cop_by_inlet", "cop_by_room", "cop_limits"] {
        assert!(!alone[key].is_null(), "{key}");
        assert_eq!(alone[key], whole[key], "{key}");
    }
    assert_eq!(alone, json(&["curve", SCENARIO, "--json", "--units", "us"]));
}

/// What is wrong with a scenario is told in the same words and codes as by `check`.
#[test]
fn faults_are_told_as_by_check() {
    let (_folder, path) = folder_with("tank:\n  volume: 300 bananas\n");
    let path = path.to_string_lossy().into_owned();
    for (scenario, code) in [("no-such.yaml", 66), (path.as_str(), 65)] {
        let told = |command: &str| {
            let done = larderloop().args([command, scenario]).assert().code(code).stdout("");
            utf8(&done.get_output().stderr).to_owned()
        };
        assert_eq!(told("curve"), told("check"));
    }
    larderloop().args(["curve"]).assert().code(64).stdout("");
}

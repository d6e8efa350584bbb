//! `larderloop choose`, against `check` on edited files.

use std::fs;

use serde_json::Value;

use crate::larderloop;

const GROWER: &str = "scenarios/grower-po-plain.yaml";

fn run(arguments: &[&str]) -> Vec<u8> {
    let output = larderloop().args(arguments).assert().code(0);
    output.get_output().stdout.clone()
}

fn document(arguments: &[&str]) -> Value {
    serde_json::from_slice(&run(arguments)).expect("a JSON document")
}

/// The grower's year with one text put for another in the file.
fn check_edited(from: &str, to: &str) -> Value {
    let text = fs::read_to_string(GROWER).unwrap();
    assert!(text.contains(from), "{from}");
    let weather = fs::canonicalize("scenarios/weather").unwrap();
    let text = text.replacen(from, to, 1).replacen("weather/", &format!("{}/", weather.display()), 1);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("edited.yaml");
    fs::write(&path, text).unwrap();
    document(&["check", &path.display().to_string(), "--json"])
}

fn close(one: &Value, other: &Value) {
    let (one, other) = (one.as_f64().expect("a number"), other.as_f64().expect("a number"));
    assert!((one - other).abs() <= 1e-9 * one.abs().max(1.0), "{one} and {other}");
}

/// Each choice is the year of a file with its values in it, and the recommended one is the cheapest of those that hold.
#[test]
fn choices_are_the_years_of_edited_files() {
    let told = document(&["choose", GROWER, "--json", "--open", "dump.opens_at=50 degC, 56 degC"]);
    let ranked = told["ranked"].as_array().unwrap();
    assert_eq!(ranked.len(), 2);
    let mut cheapest = (f64::INFINITY, String::new());
    for choice in ranked {
        let at = choice["settings"]["dump.opens_at"].as_str().unwrap();
        let year = check_edited("opens_at: 50 degC", &format!("opens_at: {at}"));
        close(&choice["cost"], &year["costs"]["year"]["total"]);
        close(&choice["dump_l"], &year["year"]["dump_l"]);
        close(&choice["over_band_h"], &year["year"]["over_band_h"]);
        close(&choice["starts"], &year["year"]["starts"]);
        let cost = year["costs"]["year"]["total"].as_f64().unwrap();
        if cost < cheapest.0 {
            cheapest = (cost, at.to_owned());
        }
    }
    assert_eq!(told["recommended"]["settings"]["dump.opens_at"], cheapest.1);
}

/// The scenario's own `choices` are taken; the same bytes come out for any number of threads.
#[test]
fn any_number_of_threads_says_the_same() {
    let said = |threads: &str| {
        let mut command = larderloop();
        let arguments = ["choose", "scenarios/family-own-uses.yaml", "--json"];
        let output = command.env("RAYON_NUM_THREADS", threads).args(arguments).assert().success();
        output.get_output().stdout.clone()
    };
    assert_eq!(said("1"), said("3"));
}

/// With a limit on the years a coarse grid and the neighbours of the best find what all years find.
#[test]
fn few_years_find_what_all_years_find() {
    let open = [
        "--open",
        "cooler.heat_pump.single_pass.outlet=48 degC to 62 degC in 8",
        "--open",
        "tank.volume=200 L to 400 L in 5",
    ];
    let told = |most: &str| {
        let arguments = ["choose", "scenarios/family-own-uses.yaml", "--json", "--most", most];
        document(&[&arguments[..], &open[..]].concat())
    };
    let (all, few) = (told("40"), told("24"));
    assert_eq!((all["years_run"].as_u64(), all["combinations"].as_u64()), (Some(40), Some(40)));
    assert!(few["years_run"].as_u64().unwrap() <= 24);
    assert_eq!(all["recommended"], few["recommended"]);
}

#[test]
fn what_cannot_be_chosen_from_is_told() {
    for (arguments, words) in [
        (vec!["--open", "tank.size=1 L, 2 L"], "`tank.size` is not the path of a key"),
        (vec!["--open", "tank.volume"], "`tank.volume` has no `=` between key and values"),
        (vec!["--open", "tank.volume=200 L"], "`200 L` does not leave `tank.volume` open"),
        (vec!["--open", "tank.volume=200 L,300 L", "--open", "tank.volume=200 L,300 L"], "left open twice"),
    ] {
        let mut command = larderloop();
        let output = command.args(["choose", GROWER]).args(&arguments).assert().code(64);
        let said = String::from_utf8_lossy(&output.get_output().stderr).into_owned();
        assert!(said.contains(words), "{said}");
        assert!(output.get_output().stdout.is_empty());
    }
}

/// Both systems of units keep within the width; every key that is left open stands in the report.
#[test]
fn the_report_fits_its_width() {
    for units in ["metric", "us"] {
        let said = run(&["choose", "scenarios/family-own-uses.yaml", "--units", units, "--color", "never"]);
        let said = String::from_utf8(said).unwrap();
        assert!(said.lines().all(|line| line.chars().count() <= 80), "{said}");
        // It has no prices: nothing is recommended by kilowatt hours.
        for key in ["tank.volume", "cooler.heat_pump.single_pass.outlet", "least energy", "give `prices`"] {
            assert!(said.contains(key), "{said}");
        }
    }
}

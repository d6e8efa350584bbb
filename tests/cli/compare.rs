//! `larderloop compare`: every way of cooling, on every scenario.

use serde_json::Value;

use crate::{larderloop, utf8};

const WAYS: [&str; 6] = [
    "nothing",
    "outdoor_fans",
    "air_conditioner",
    "fans_and_air_conditioner",
    "heat_pump",
    "fans_and_heat_pump",
];

fn document(arguments: &[&str]) -> Value {
    let output = larderloop().args(arguments).assert().code(0);
    serde_json::from_slice(&output.get_output().stdout).expect("a JSON document")
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

/// Each scenario is compared in all ways; the heat pump's is the year that `check` tells of.
#[test]
fn every_scenario_is_compared_and_its_own_way_is_the_year_of_check() {
    for name in ["basement-chicago", "cider-shed", "couple-no-dump", "family-own-uses", "grower-po-plain"] {
        let scenario = format!("scenarios/{name}.yaml");
        let told = document(&["compare", &scenario, "--json"]);
        let ways = told["ways"].as_array().expect("ways");
        assert_eq!(ways.iter().map(|one| one["way"].as_str().expect("a word")).collect::<Vec<_>>(), WAYS);
        let checked = document(&["check", &scenario, "--json"]);
        let (own, year) = (&ways[4], &checked["year"]);
        for (key, of_check) in [
            ("electricity_kwh", "electricity_kwh"),
            ("booster_bought_kwh", "booster_bought_kwh"),
            ("over_band_h", "over_band_h"),
            ("dump_l", "dump_l"),
            ("condensate_l", "condensate_l"),
            ("machine_starts", "starts"),
        ] {
            let (one, other) = (number(&own[key]), number(&year[of_check]));
            assert!((one - other).abs() <= 1e-9 * other.abs(), "{name} {key}: {one} and {other}");
        }
        if !checked["costs"].is_null() {
            assert_eq!(own["costs"], checked["costs"]["year"], "{name}");
        }
        // A way with fans carries heat out by them, one without does not; only the pump heats water.
        for one in ways {
            let way = one["way"].as_str().expect("a word");
            assert_eq!(number(&one["fans_h"]) > 0.0, way.contains("fans"), "{name} {way}");
            assert_eq!(number(&one["heat_to_water_kwh"]) > 0.0, way.contains("heat_pump"), "{name} {way}");
        }
    }
}

/// What the scenario says of machines and money is what is taken.
#[test]
fn the_scenario_says_how_large_and_how_dear() {
    let told = document(&["compare", "scenarios/basement-chicago.yaml", "--json"]);
    assert_eq!(told["air_conditioner"]["cooling_from"], "scenario");
    // 6000 BTU/h and 140 cubic feet a minute. Derived here: 0.29307107 W and 1.6990108 m3/h.
    assert!((number(&told["air_conditioner"]["cooling_w"]) - 1758.426).abs() < 0.01);
    assert!((number(&told["outdoor_fans"]["flow_m3_h"]) - 237.8615).abs() < 0.01);
    let ways = told["ways"].as_array().expect("ways");
    let investments: Vec<f64> = ways.iter().map(|one| number(&one["investment"])).collect();
    assert_eq!(investments, [0.0, 480.0, 560.0, 1040.0, 5200.0, 5680.0]);
    for one in ways {
        let over = number(&one["investment"]) + 15.0 * number(&one["costs"]["total"]);
        assert!((number(&one["cost_over_years"]) - over).abs() < 1e-6);
    }
    let (unit, pump) = (&ways[2], &ways[4]);
    let saved = number(&unit["costs"]["total"]) - number(&pump["costs"]["total"]);
    match unit["heat_pump_pays_back_years"].as_f64() {
        Some(years) => assert!((years * saved - 4640.0).abs() < 1e-6),
        None => assert!(saved <= 0.0),
    }
}

#[test]
fn any_number_of_threads_says_the_same() {
    let said = |threads: &str| {
        let mut command = larderloop();
        let arguments = ["compare", "scenarios/couple-no-dump.yaml", "--json"];
        let output = command.env("RAYON_NUM_THREADS", threads).args(arguments).assert().success();
        output.get_output().stdout.clone()
    };
    assert_eq!(said("1"), said("3"));
}

#[test]
fn the_report_reads_well() {
    for (scenario, units) in [("couple-no-dump", "us"), ("grower-po-plain", "metric")] {
        let path = format!("scenarios/{scenario}.yaml");
        let output = larderloop().args(["compare", &path, "--units", units]).assert().code(0);
        insta::assert_snapshot!(format!("compare-{scenario}-{units}"), utf8(&output.get_output().stdout));
    }
}

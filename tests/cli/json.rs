//! The JSON document.

use serde_json::Value;

use crate::{SCENARIO, larderloop};

fn document() -> Value {
    let done = larderloop().args(["check", SCENARIO, "--json"]).assert().code(0);
    serde_json::from_slice(&done.get_output().stdout).expect("one JSON document")
}

fn keys(value: &Value) -> Vec<&str> {
    value.as_object().expect("an object").keys().map(String::as_str).collect()
}

fn has_keys(value: &Value, promised: &[&str]) {
    let present = keys(value);
    for key in promised {
        assert!(present.contains(key), "{key} is missing among {present:?}");
    }
}

/// Keys of the year and of every month that are promised to other programs.
const YEAR: &[&str] = &[
    "heat_from_room_kwh",
    "heat_to_water_kwh",
    "electricity_kwh",
    "cop",
    "demand_kwh",
    "drawn_l",
    "drawn_kwh",
    "booster_kwh",
    "tank_loss_kwh",
    "dump_l",
    "dump_kwh",
    "starts",
    "run_h",
    "locked_out_h",
    "over_band_h",
    "room_mean_degc",
    "room_min_degc",
    "room_max_degc",
    "contents_min_degc",
    "contents_max_degc",
    "tank_top_mean_degc",
    "tank_bottom_mean_degc",
    "condensate_l",
];

#[test]
fn the_document_has_exactly_the_promised_parts() {
    let document = document();
    assert_eq!(
        keys(&document),
        [
            "schema",
            "version",
            "scenario",
            "household",
            "weather",
            "year",
            "months",
            "delivery",
            "tank",
            "tank_year",
            "lime",
            "dump",
            "costs",
            "commissioning",
            "food_band_degc",
            "course",
            "room",
            "surfaces",
            "stored",
            "summary",
            "hand_balance",
            "hand_balance_differences",
            "cop_by_inlet",
            "cop_by_room",
            "cop_limits",
            "anchors",
            "certainty",
            "size",
            "limits",
            "called_by",
            "other_tanks",
            "ledger",
            "findings",
            "cautions",
            "defaults",
        ]
    );
    assert_eq!(document["schema"], 2);
    assert_eq!(document["scenario"], SCENARIO);
    assert_eq!(keys(&document["weather"]), ["place", "hours", "mean_degc", "min_degc", "max_degc"]);
    assert_eq!(keys(&document["ledger"]), ["room", "tank", "machine", "house", "moisture"]);
}

#[test]
fn year_and_months_have_the_promised_quantities() {
    let document = document();
    has_keys(&document["year"], YEAR);
    let months = document["months"].as_array().expect("months");
    assert_eq!(months.len(), 12);
    for (index, month) in months.iter().enumerate() {
        assert_eq!(month["month"], index + 1);
        let mut same: Vec<&str> = keys(month);
        same.retain(|key| *key != "month");
        assert_eq!(same, keys(&document["year"]));
    }
}

/// As much cold water as is drawn and dumped, and the scenario's 140 mg/L of it.
#[test]
fn the_lime_is_that_of_the_water_drawn_and_dumped() {
    let document = document();
    let (lime, year) = (&document["lime"], &document["year"]);
    let number = |part: &Value, key: &str| part[key].as_f64().unwrap_or_else(|| panic!("{key}: {part}"));
    assert_eq!((&lime["water_class"], number(lime, "hardness_mg_per_l").round()), (&"hard".into(), 140.0));
    // Litres are counted cold here and at the temperature drawn or dumped there: up to 1.7 % more at 60 degC (IAPWS-IF97).
    for (cold, warm) in [("used_l", "drawn_l"), ("dumped_l", "dump_l")] {
        let ratio = number(year, warm) / number(lime, cold);
        assert!((0.9999..1.018).contains(&ratio), "{cold}: {ratio}");
    }
    let water_l = number(lime, "used_l") + number(lime, "dumped_l");
    approx::assert_relative_eq!(number(lime, "lime_kg"), 140e-6 * water_l, max_relative = 1e-9);
    approx::assert_relative_eq!(
        number(lime, "lime_for_100_mg_per_l_kg"),
        100e-6 * water_l,
        max_relative = 1e-9
    );
    let parts = number(lime, "lime_with_used_kg") + number(lime, "lime_with_dumped_kg");
    approx::assert_relative_eq!(parts, number(lime, "lime_kg"), max_relative = 1e-9);
    assert_eq!(lime["hottest_in_tank_degc"], year["tank_top_max_degc"]);
    // Its single pass aims at 60 degC.
    approx::assert_relative_eq!(number(lime, "hottest_made_degc"), 60.0, epsilon = 1e-6);
}

#[test]
fn the_tank_is_told_by_month_with_the_same_numbers() {
    let document = document();
    let tank = document["tank"].as_array().expect("the tank by month");
    assert_eq!(tank.len(), 12);
    for (told, month) in tank.iter().zip(document["months"].as_array().expect("months")) {
        has_keys(
            told,
            &["tank_middle_mean_degc", "tank_25_to_45_h", "tank_top_over_49_h", "tank_top_over_60_h"],
        );
        let of_months = keys(told).into_iter().filter(|key| !key.starts_with("usable_"));
        of_months.for_each(|key| assert_eq!(told[key], month[key], "{key}"));
        let hours = |key: &str| told[key].as_f64().expect("hours");
        assert!(hours("tank_25_to_45_h") <= month["duration_h"].as_f64().expect("hours") * (1.0 + 1e-9));
        for pair in ["49", "50", "55", "60"].windows(2) {
            let top = |over: &str| hours(&format!("tank_top_over_{over}_h"));
            assert!(top(pair[0]) >= top(pair[1]), "{pair:?}");
        }
        for over in ["50", "55", "60"] {
            let [top, bottom] = ["top", "bottom"].map(|end| hours(&format!("tank_{end}_over_{over}_h")));
            assert!(top >= bottom, "{over}");
        }
    }
}

/// 300 L of 60 °C, the most that this unit's water has, over the coldest mains of 4 °C are 300 x 56/36 L of 40 °C. A lean day has less than the
/// mean; the year's mean is between those of its months.
#[test]
fn what_the_tank_alone_gives_is_within_what_it_holds() {
    let document = document();
    let litres = |of: &Value, key: &str| of[key].as_f64().unwrap_or_else(|| panic!("{key} is a number"));
    for at in ["7", "18"] {
        let [mean_key, lean_key] = ["mean", "lean_day"].map(|what| format!("usable_at_{at}_{what}_l"));
        let months = document["tank"].as_array().expect("the tank by month");
        let means: Vec<f64> = months.iter().map(|month| litres(month, &mean_key)).collect();
        for (month, mean) in months.iter().zip(&means) {
            let lean = litres(month, &lean_key);
            assert!(0.0 <= lean && lean <= *mean && *mean <= 300.0 * 56.0 / 36.0, "{month}");
        }
        let year = litres(&document["tank_year"], &mean_key);
        let [least, most] =
            [f64::min, f64::max].map(|of| means.iter().copied().reduce(of).expect("12 months"));
        assert!(least < year && year < most, "{year} {means:?}");
        // A full summer tank gives its own volume and less than all that it could hold; a winter's gives less than it.
        assert!(means[6] > 150.0 && means[0] < 50.0, "{means:?}");
    }
}

#[test]
fn the_use_at_balance_is_told_by_month() {
    let document = document();
    let delivery = &document["delivery"];
    let number = |of: &Value, key: &str| of[key].as_f64().unwrap_or_else(|| panic!("{key} is a number"));
    for (month, sums) in delivery["months"]
        .as_array()
        .expect("months")
        .iter()
        .zip(document["months"].as_array().expect("months"))
    {
        // The example has no heat in pipes: made less lost, over what is wanted.
        let left_kwh =
            number(sums, "heat_to_water_kwh") - number(sums, "tank_loss_kwh") - number(sums, "pipe_loss_kwh");
        let times = number(month, "use_at_balance_times");
        let wanted_kwh = number(sums, "demand_kwh") + number(month, "unused_kwh");
        approx::assert_relative_eq!(times, left_kwh / wanted_kwh, max_relative = 1e-9);
        approx::assert_relative_eq!(number(month, "people_at_balance"), 4.0 * times, max_relative = 1e-9);
        let litres = number(month, "use_at_balance_l_per_day");
        approx::assert_relative_eq!(litres, times * number(month, "used_l_per_day"), max_relative = 1e-9);
        approx::assert_relative_eq!(number(month, "used_l_per_day"), 220.0, max_relative = 1e-6);
    }
}

/// The household as it is stands first, with the numbers of its own year; more tank dumps less, a dump from lower down dumps more water.
#[test]
fn other_tanks_are_compared_with_the_own_year() {
    let document = document();
    let years = document["other_tanks"]["years"].as_array().expect("years").clone();
    let dumped = |year: &Value| year["dump_l"].as_f64().expect("a number");
    assert!(years[0]["change"].is_null());
    for key in ["dump_l", "booster_bought_kwh", "shortfall_kwh", "electricity_kwh", "over_band_h"] {
        assert_eq!(years[0][key], document["year"][key], "{key}");
    }
    assert_eq!(years[0]["refused_h"], document["year"]["missed_h"]);
    assert_eq!(years[0]["usable_at_7_lean_day_l"], document["tank_year"]["usable_at_7_lean_day_l"]);
    let after = |words: &str| {
        let found =
            years.iter().find(|year| year["change"].as_str().is_some_and(|change| change.contains(words)));
        dumped(found.unwrap_or_else(|| panic!("no year with {words}: {years:?}")))
    };
    assert!(after("a tank of 600 L") < dumped(&years[0]) && dumped(&years[0]) < after("a tank of 150 L"));
    assert!(after("dump's port to 30 %") > dumped(&years[0]));
    assert!(document["other_tanks"]["left_out"].as_array().expect("a list").is_empty());
}

#[test]
fn lists_have_the_promised_keys() {
    let document = document();
    let all = |name: &str| document[name].as_array().unwrap_or_else(|| panic!("{name} is a list")).clone();
    let hand = [
        "month",
        "room_load_kwh",
        "heat_to_water_kwh",
        "cop",
        "demand_kwh",
        "tank_loss_kwh",
        "surplus_kwh",
        "dump_l",
    ];
    assert_eq!(all("hand_balance").len(), 12);
    all("hand_balance").iter().for_each(|month| has_keys(month, &hand));
    let point = [
        "room_air_degc",
        "water_in_degc",
        "water_out_degc",
        "flow_l_min",
        "cop",
        "cop_band_frac",
        "heat_to_water_w",
        "heat_to_water_band_frac",
        "heat_from_room_w",
        "electricity_w",
        "hot_per_cold",
        "marks",
    ];
    for table in ["cop_by_inlet", "cop_by_room"] {
        assert!(all(table).len() > 2);
        all(table).iter().for_each(|one| assert_eq!(keys(one), point));
    }
    let finding = [
        "code",
        "question",
        "answer",
        "value",
        "unit",
        "limit",
        "text",
        "source",
        "remedies",
        "firm",
        "answers_at_the_ends",
    ];
    assert!(!all("findings").is_empty());
    let mut remedies = 0;
    for one in all("findings").iter() {
        assert_eq!(keys(one), finding);
        assert!(one["firm"].is_boolean() && !one["answers_at_the_ends"].as_array().unwrap().is_empty());
        for remedy in one["remedies"].as_array().unwrap() {
            assert_eq!(keys(remedy), ["change", "before", "after", "text", "effort"]);
            remedies += 1;
        }
    }
    assert!(remedies > 0);
    all("cautions")
        .iter()
        .for_each(|one| assert_eq!(keys(one), ["code", "title", "severity", "text", "source"]));
    all("defaults").iter().for_each(|one| assert_eq!(keys(one), ["key", "value", "reason"]));
}

/// The scenario has two lines of a data sheet with cold and with warm water: both come back nearly, and no further one is asked for.
#[test]
fn the_data_sheet_and_how_sure_the_year_is_are_told() {
    let done = larderloop().args(["check", "scenarios/grower-po-plain.yaml", "--json"]).assert().code(0);
    let document: Value = serde_json::from_slice(&done.get_output().stdout).expect("one JSON document");
    let anchors = document["anchors"].as_array().expect("a list");
    assert_eq!(anchors.len(), 2);
    for (line, heat_w) in anchors.iter().zip([7000.0, 7900.0]) {
        let number = |key: &str| line[key].as_f64().unwrap_or_else(|| panic!("{key} is a number"));
        assert_eq!(number("sheet_heat_w"), heat_w);
        assert!(number("cop_residual_percent").abs() < 1.0 && number("heat_residual_percent").abs() < 1.0);
        let off = 100.0 * (number("anchored_cop") / number("sheet_cop") - 1.0);
        approx::assert_abs_diff_eq!(off, number("cop_residual_percent"), epsilon = 1e-9);
        assert!(number("map_cop") > 1.0 && number("map_heat_w") > 1000.0);
    }
    let certainty = &document["certainty"];
    assert_eq!(certainty["rests_on"], "data_sheet");
    assert_eq!(certainty["cop_band_percent"], 6.0);
    assert_eq!(certainty["narrower"], Value::Null);
    let ranges = certainty["ranges"].as_array().expect("a list");
    let told: Vec<_> = ranges.iter().map(|range| range["quantity"].as_str().expect("a name")).collect();
    assert_eq!(told, ["electricity_kwh", "dump_l", "over_band_h"]);
    for range in ranges {
        let number = |key: &str| range[key].as_f64().expect("a number");
        let name = range["quantity"].as_str().expect("a name");
        assert_eq!(document["year"][name].as_f64(), Some(number("calculated")));
        assert!(number("low") <= number("calculated") && number("calculated") <= number("high"), "{range}");
    }
    // A COP that is 5 % lower takes more electricity for the same cold: 1/(COP - 1) by the first law, some 7 % at COP 3.5,
    // and the same the other way.
    let electricity = &ranges[0];
    let spread =
        electricity["high"].as_f64().expect("a number") / electricity["low"].as_f64().expect("a number");
    assert!((1.05..1.3).contains(&spread), "{spread}");
}

/// What the taps got, in minutes, degrees and litres; what scalds with and without the valve; people at balance. The months add up to
/// the year, and agree with the quantities.
#[test]
fn the_taps_are_told_by_month_and_year() {
    let document = document();
    let delivery = &document["delivery"];
    let of = |part: &Value, key: &str| part[key].as_f64().unwrap_or_else(|| panic!("{key} of {part}"));
    assert_eq!((of(delivery, "use_degc"), of(delivery, "mixing_valve_degc")), (40.0, 49.0));
    let months = delivery["months"].as_array().expect("months");
    assert_eq!(months.len(), 12);
    for key in [
        "shortfall_min",
        "shortfall_l",
        "shortfall_kwh",
        "scalding_min",
        "scalding_without_valve_min",
        "booster_kwh",
        "booster_fires",
        "booster_unlit_min",
        "unused_l",
        "element_kwh",
    ] {
        let sum: f64 = months.iter().map(|month| of(month, key)).sum();
        approx::assert_relative_eq!(sum, of(delivery, key), max_relative = 1e-9, epsilon = 1e-9);
    }
    for key in ["shortfall_most_k", "booster_peak_w", "hottest_without_valve_degc"] {
        let most = months.iter().map(|month| of(month, key)).fold(0.0, f64::max);
        assert_eq!(most, of(delivery, key), "{key}");
    }
    let year = &document["year"];
    approx::assert_relative_eq!(
        of(delivery, "shortfall_min"),
        60.0 * of(year, "shortfall_h"),
        max_relative = 1e-12
    );
    // The largest flow of load profile M is 6 L/min: 0.0992 kg/s x 4181.6 J/(kg K) x at most 33 K over the coldest mains.
    assert!((3_000.0..13_700.0).contains(&of(delivery, "booster_peak_w")), "{delivery}");
    // The valve of 49 °C lets nothing hotter through; without it the tank's nearly 60 °C burn in some 6 to 10 s: between 130 °F, 30 s, and 140 °F,
    // 6 s (CPSC 5098).
    assert_eq!((of(delivery, "scalding_min"), of(delivery, "hottest_degc")), (0.0, 49.0));
    assert!(of(delivery, "scalding_without_valve_min") > 0.0);
    assert!(
        delivery["burns_in_s"].is_null() && (6.0..10.0).contains(&of(delivery, "burns_without_valve_in_s"))
    );
    let litres_each = of(delivery, "use_at_balance_l_per_day") / of(delivery, "people_at_balance");
    approx::assert_relative_eq!(litres_each, 220.0 / 4.0, max_relative = 1e-9);
    let studies = &delivery["studies"];
    assert!(of(studies, "least_l_per_day") < 220.0 && 220.0 < of(studies, "most_l_per_day"), "{studies}");
}

/// The weather in short is that of the file. Source: scenarios/weather/README.md, counted from the file's 8760 rows by
/// another program; the tolerance is the last printed digit.
#[test]
fn the_weather_in_short_is_that_of_the_file() {
    let weather = &document()["weather"];
    assert_eq!(weather["hours"], 8760);
    for (key, published, tolerance) in
        [("mean_degc", 9.988, 5e-4), ("min_degc", -22.8, 1e-9), ("max_degc", 35.0, 1e-9)]
    {
        approx::assert_abs_diff_eq!(weather[key].as_f64().expect("a number"), published, epsilon = tolerance);
    }
}

/// COP and sums follow from the document's own numbers.
#[test]
fn the_document_agrees_with_itself() {
    let document = document();
    let number =
        |value: &Value, key: &str| value[key].as_f64().unwrap_or_else(|| panic!("{key} is a number"));
    let year = &document["year"];
    let cop = number(year, "heat_to_water_kwh") / number(year, "electricity_kwh");
    // 1e-12: one division of the same two numbers in other units.
    approx::assert_relative_eq!(number(year, "cop"), cop, max_relative = 1e-12);
    for key in ["heat_to_water_kwh", "electricity_kwh", "dump_l", "drawn_l", "starts", "room_load_kwh"] {
        let sum: f64 =
            document["months"].as_array().expect("months").iter().map(|month| number(month, key)).sum();
        // 1e-9: twelve sums of a few thousand terms each, in another order.
        approx::assert_relative_eq!(sum, number(year, key), max_relative = 1e-9);
    }
}

#[test]
fn the_books_of_the_example_close() {
    let document = document();
    for account in ["room", "tank", "machine", "house", "moisture"] {
        let residual = document["ledger"][account].as_f64().expect("a number");
        assert!(residual.abs() < 1e-9, "{account}: {residual}");
    }
}

/// The document is metric, words included, whatever the units of the report.
#[test]
fn units_do_not_change_the_document() {
    let us = larderloop().args(["check", SCENARIO, "--json", "--units", "us"]).assert().code(0);
    let us: Value = serde_json::from_slice(&us.get_output().stdout).expect("one JSON document");
    assert_eq!(us, document());
}

/// The months of the dump add up to the year's, and its places took all of it with the water that tempered it.
#[test]
fn the_dump_s_months_and_places_add_up() {
    let document = document();
    let (dump, year) = (&document["dump"], &document["year"]);
    let number = |value: &serde_json::Value| value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
    let months = dump["months"].as_array().expect("months");
    let days = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];
    let litres: f64 =
        months.iter().zip(days).map(|(month, days)| days * number(&month["l_per_day_mean"])).sum();
    assert!((litres - number(&year["dump_l"])).abs() < 1e-6 * litres, "{litres}");
    let placed: f64 = months.iter().map(|month| number(&month["placed_l"]["lawn"])).sum();
    let tempering: f64 = months.iter().map(|month| number(&month["tempering_l"])).sum();
    // Litres as they left the tank are some per cent more than those of the same water as it arrives, cooler.
    assert!(
        (placed - tempering - litres).abs() < 0.02 * placed && tempering > 0.0,
        "{placed} {tempering} {litres}"
    );
    for month in months {
        assert!(number(&month["l_per_day_p95"]) <= number(&month["l_worst_day"]) + 1e-9, "{month}");
        assert!(number(&month["l_worst_hour"]) <= number(&month["l_worst_day"]) + 1e-9, "{month}");
    }
    // Pressure is what the flow asks for: the measured flow a little less than what the supply drives.
    let drops = dump["pressure_drop_kpa"].as_array().expect("a list");
    let taken: f64 = drops.iter().map(|drop| number(&drop["kpa"])).sum();
    assert!(taken < 350.0 && taken > 300.0 && number(&dump["line_flow_l_min"]) > number(&dump["flow_l_min"]));
    assert!(!dump["sizes"].as_array().expect("a list").is_empty());
    // A tank twice as large dumps less.
    let changed = dump["changes"].as_array().expect("a list");
    let larger =
        changed.iter().find(|one| one["change"].as_str().is_some_and(|words| words.contains("tank of")));
    assert!(number(&larger.expect("a larger tank is tried")["dump_l"]) < number(&year["dump_l"]));
}

/// Causes add up to the month's load, and the litres of the days to the year's.
#[test]
fn the_room_s_causes_and_water_add_up() {
    let document = document();
    let (room, months) = (&document["room"], document["months"].as_array().expect("months"));
    let number = |value: &serde_json::Value| value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
    let list = |key: &str| -> Vec<f64> {
        room[key].as_array().unwrap_or_else(|| panic!("{key} is no list")).iter().map(number).collect()
    };
    let days = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];
    for (index, month) in months.iter().enumerate() {
        let causes = room["load_breakdown"][index].as_object().expect("causes");
        let sum: f64 = causes.values().map(number).sum();
        let load = number(&month["room_load_kwh"]);
        assert!((sum - load).abs() < 1e-9 * load.abs().max(1.0), "month {index}: {sum} and {load}");
        assert!((list("humidity_mean_pct")[index] - number(&month["humidity_mean_percent"])).abs() < 1e-9);
        assert!((list("frost_h")[index] - number(&month["frosted_h"])).abs() < 1e-9);
    }
    let litres: f64 = list("condensate_l_per_day").iter().zip(days).map(|(l, days)| l * days).sum();
    let year = number(&document["year"]["condensate_l"]);
    assert!((litres - year).abs() < 1e-9 * year, "{litres} and {year}");
    let worst = &room["worst_day"];
    let by_cause: f64 = worst["by_cause"].as_object().expect("causes").values().map(number).sum();
    assert!(by_cause <= number(&worst["load_kwh"]) && by_cause > 0.8 * number(&worst["load_kwh"]), "{worst}");
}

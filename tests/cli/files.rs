//! The hourly table.

use std::fs;

use serde_json::Value;

use crate::{SCENARIO, folder_with, larderloop, root};

/// What the heading of the table says of a column: a sum over time (`_kwh`, `_l`, `_kg`, `_h` and counts) or not.
fn is_summed(key: &str) -> bool {
    let counted = ["starts", "dump_openings"];
    let units = ["_kwh", "_l", "_kg", "_h"];
    let longest = key.contains("longest");
    counted.contains(&key) || !longest && units.iter().any(|unit| key.ends_with(unit))
}

/// Adds up the table as another program would, knowing nothing but its heading.
#[test]
fn the_hours_add_up_to_the_months() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("hours.csv");
    let done = larderloop().args(["check", SCENARIO, "--json", "--hourly"]).arg(&path).assert().code(0);
    let document: Value = serde_json::from_slice(&done.get_output().stdout).expect("one JSON document");

    let mut table = csv::Reader::from_path(&path).expect("the table is there");
    let keys: Vec<String> = table.headers().expect("a heading").iter().map(str::to_owned).collect();
    let mut sums = vec![vec![0.0; keys.len()]; 12];
    let mut rows = 0;
    for row in table.records() {
        let row = row.expect("rows of equal length");
        assert_eq!(row[0], rows.to_string());
        let month: usize = row[1].parse().expect("a month");
        for (sum, cell) in sums[month - 1].iter_mut().zip(&row).skip(2) {
            *sum += cell.parse().unwrap_or(0.0);
        }
        rows += 1;
    }
    assert_eq!(document["weather"]["hours"], rows);
    let summed: Vec<_> = keys.iter().enumerate().skip(2).filter(|(_, key)| is_summed(key)).collect();
    assert!(summed.len() > 40, "only {} columns are sums", summed.len());
    for (month, sums) in sums.iter().enumerate() {
        for (column, key) in &summed {
            let of_month = document["months"][month][key.as_str()].as_f64().expect("sums are numbers");
            // 1e-9: some 700 terms in full precision, added in another order.
            approx::assert_relative_eq!(sums[*column], of_month, max_relative = 1e-9, epsilon = 1e-9);
        }
    }
}

#[test]
fn an_unwritable_path_is_73_before_anything_is_printed() {
    let folder = tempfile::tempdir().expect("a folder");
    for path in [folder.path().join("no/such/hours.csv"), folder.path().to_owned()] {
        larderloop().args(["check", SCENARIO, "--hourly"]).arg(path).assert().code(73).stdout("");
    }
}

#[test]
fn a_scenario_is_not_overwritten_by_its_hours() {
    let example = fs::read_to_string(root().join(SCENARIO)).expect("the example is there");
    let weather = format!("{}/scenarios/weather/", root().display());
    let (_folder, path) = folder_with(&example.replace("weather/", &weather));
    let before = fs::read(&path).expect("the copy");
    larderloop().arg("check").arg(&path).arg("--hourly").arg(&path).assert().code(73).stdout("");
    assert_eq!(fs::read(&path).expect("the copy"), before);
}

#[test]
fn a_failed_run_leaves_no_file() {
    let (folder, path) = folder_with("tank:\n  volume: 300 bananas\n");
    let hours = folder.path().join("hours.csv");
    larderloop().arg("check").arg(&path).arg("--hourly").arg(&hours).assert().code(65);
    let left: Vec<_> = fs::read_dir(folder.path())
        .expect("the folder")
        .map(|entry| entry.expect("an entry").file_name())
        .collect();
    assert_eq!(left, ["cellar.yaml"]);
}

#[test]
fn a_whole_run_leaves_the_table_and_nothing_beside_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let hours = folder.path().join("hours.csv");
    fs::write(&hours, "an older table").expect("a file");
    larderloop().args(["check", SCENARIO, "--hourly"]).arg(&hours).assert().code(0);
    let left: Vec<_> = fs::read_dir(folder.path())
        .expect("the folder")
        .map(|entry| entry.expect("an entry").file_name())
        .collect();
    assert_eq!(left, ["hours.csv"]);
    assert!(fs::read_to_string(&hours).expect("the table").starts_with("hour,month,heat_from_room_kwh,"));
}

//! The commands around `check`: a scenario to start from, its schema, codes, completions, the manual page.

use std::fs;
use std::path::Path;
use std::process::{Command as StdCommand, Stdio};

use serde_json::Value;

use crate::{larderloop, root, utf8};

const FILES: [&str; 2] = ["cellar.yaml", "chicago-tmy3.epw"];

fn in_folder(folder: &Path, arguments: &[&str]) -> assert_cmd::assert::Assert {
    larderloop().current_dir(folder).args(arguments).assert()
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<_> = fs::read_dir(folder)
        .expect("the folder")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

fn as_json(path: &Path) -> Value {
    let text = fs::read_to_string(path).expect("the scenario");
    serde_saphyr::from_str(&text).expect("YAML")
}

fn validator() -> jsonschema::Validator {
    let done = larderloop().arg("schema").assert().code(0).stderr("");
    let schema: Value = serde_json::from_slice(&done.get_output().stdout).expect("JSON");
    assert!(jsonschema::draft202012::meta::is_valid(&schema));
    jsonschema::draft202012::new(&schema).expect("a schema")
}

fn fits(validator: &jsonschema::Validator, scenario: &Value) {
    let faults: Vec<_> =
        validator.iter_errors(scenario).map(|fault| format!("{}: {fault}", fault.instance_path())).collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn a_new_scenario_runs_at_once_with_nothing_but_the_program() {
    let folder = tempfile::tempdir().expect("a folder");
    let done = in_folder(folder.path(), &["new", "cellar.yaml"]).code(0).stderr("");
    assert!(utf8(&done.get_output().stdout).contains("larderloop check cellar.yaml"));
    assert_eq!(names(folder.path()), FILES);
    in_folder(folder.path(), &["check", "cellar.yaml"]).code(0).stderr("");
}

#[test]
fn every_choice_gives_a_scenario_without_faults_that_fits_the_schema() {
    let validator = validator();
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("cellar.yaml");
    for refrigerant in ["R744", "R134a", "R290", "R32", "R410A", "R1234yf", "unknown"] {
        for more in [&["--units", "us"][..], &["--no-dump", "--people", "7", "--tank", "80 gal"], &[]] {
            let first = ["new", "cellar.yaml", "--force", "--refrigerant", refrigerant];
            in_folder(folder.path(), &[&first[..], more].concat()).code(0).stderr("");
            let scenario =
                larderloop::scenario::open(&path).unwrap_or_else(|fault| panic!("{}", fault.render(false)));
            assert!(scenario.warnings.is_empty(), "{refrigerant} {more:?}: {:?}", scenario.warnings);
            let choices = (scenario.household.dump.is_none(), scenario.household.hot_water.people);
            let no_dump = more.contains(&"--no-dump");
            assert_eq!(choices, (no_dump, Some(if no_dump { 7 } else { 2 })));
            fits(&validator, &as_json(&path));
            assert!(!scenario.source.contains('@') && !scenario.source.contains("<<"));
        }
    }
}

/// What the starter only mentions, behind a mark, is written as it has to be: without the marks it is read too.
#[test]
fn what_the_starter_mentions_can_be_taken_as_it_is() {
    let mentioned = [
        "site:",
        "hardness:",
        "supply_pressure:",
        "mains_water:",
        "charge:",
        "listed_for_room:",
        "called_by:",
        "tank_sensor:",
        "frost_protection:",
        "contact:",
        "standing_loss:",
        "built_as:",
        "circling_stopped_by:",
        "ports:",
        "pattern:",
    ];
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("cellar.yaml");
    for units in ["metric", "us"] {
        in_folder(folder.path(), &["new", "cellar.yaml", "--force", "--units", units]).code(0);
        let text = std::fs::read_to_string(&path).expect("it was written");
        let mut taken = 0;
        let lines: Vec<_> = text
            .lines()
            .map(|line| match line.trim_start().strip_prefix("# ") {
                Some(rest) if mentioned.iter().any(|key| rest.trim_start().starts_with(key)) => {
                    taken += 1;
                    line.replacen("# ", "", 1)
                }
                _ => line.to_owned(),
            })
            .collect();
        assert_eq!(taken, mentioned.len(), "{text}");
        std::fs::write(&path, lines.join("\n")).expect("written");
        let scenario =
            larderloop::scenario::open(&path).unwrap_or_else(|fault| panic!("{}", fault.render(false)));
        let household = scenario.household;
        assert!(household.site.hardness.is_some() && household.tank.built_as.is_some(), "{units}");
        let tank = &household.tank;
        assert!(tank.circling_stopped_by.is_some() && tank.cold_in_bore.is_some(), "{units}");
    }
}

#[test]
fn nothing_is_overwritten_without_being_asked() {
    for there in FILES {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join(there), "mine").expect("a file");
        in_folder(folder.path(), &["new", "cellar.yaml"]).code(73).stdout("");
        assert_eq!(names(folder.path()), [there]);
        assert_eq!(fs::read_to_string(folder.path().join(there)).expect("the file"), "mine");
        in_folder(folder.path(), &["new", "cellar.yaml", "--force"]).code(0);
        assert_eq!(names(folder.path()), FILES);
    }
}

#[test]
fn a_scenario_that_cannot_be_written_leaves_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    in_folder(folder.path(), &["new", "no/such/cellar.yaml"]).code(73).stdout("");
    in_folder(folder.path(), &["new", "cellar.yaml", "--weather", "none.epw"]).code(66).stdout("");
    for wrong in [["--tank", "300 bananas"], ["--tank", "3 L"], ["--people", "0"], ["--refrigerant", "R0"]] {
        in_folder(folder.path(), &[&["new", "cellar.yaml"][..], &wrong].concat()).code(64).stdout("");
    }
    assert!(names(folder.path()).is_empty());
}

#[test]
fn a_weather_file_of_ones_own_is_referred_to_from_the_scenario_s_folder() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir_all(folder.path().join("house/it's weather")).expect("folders");
    let weather = "house/it's weather/town.epw";
    fs::copy(root().join("scenarios/weather/po-plain-45n8e.epw"), folder.path().join(weather))
        .expect("copied");
    for target in ["house/cellar.yaml", "cellar.yaml"] {
        in_folder(folder.path(), &["new", target, "--weather", weather]).code(0);
        larderloop::scenario::open(&folder.path().join(target))
            .unwrap_or_else(|fault| panic!("{}", fault.render(false)));
    }
    assert_eq!(as_json(&folder.path().join("house/cellar.yaml"))["weather"]["file"], "it's weather/town.epw");
    assert!(!folder.path().join("chicago-tmy3.epw").exists());
}

#[test]
fn every_example_fits_the_schema() {
    let validator = validator();
    let mut seen = 0;
    for entry in fs::read_dir(root().join("scenarios")).expect("the folder") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|end| end == "yaml") {
            fits(&validator, &as_json(&path));
            seen += 1;
        }
    }
    assert!(seen >= 3);
}

#[test]
fn broken_scenarios_do_not_fit_the_schema() {
    let validator = validator();
    let good = fs::read_to_string(root().join("scenarios/basement-chicago.yaml")).expect("the example");
    for (right, wrong) in [
        ("volume: 300 L", "volume: 300 bananas"),
        ("volume: 300 L", "volume: 300"),
        ("volume: 300 L", "volume: [300 L]"),
        ("volume: 300 L", "volum: 300 L"),
        ("refrigerant: R744 ", "refrigerant: R7 "),
        ("set: 4 degC", "set: 4 kg"),
        ("probe_height: 30 %", "probe_height: 30"),
        ("cop: 3.9", "cop: 39"),
        ("people: 4", "people: 4.5"),
        ("first: \"07:00\"", "first: \"07:60\""),
        ("crop: carrot", "crop: karrot"),
        ("stands_in: basement\n", "\n"),
        ("[Apr, ", "[April, "),
    ] {
        assert!(good.contains(right), "{right}");
        let broken: Value = serde_saphyr::from_str(&good.replacen(right, wrong, 1)).expect("YAML");
        assert!(!validator.is_valid(&broken), "{wrong}");
    }
}

#[test]
fn a_code_is_explained_in_fixed_parts_whatever_its_case() {
    let done = larderloop().args(["explain", "c001"]).assert().code(0).stderr("");
    let text = utf8(&done.get_output().stdout);
    assert!(text.starts_with("C001: Scalding water\n"));
    for part in ["What it says", "Why it matters", "What to do", "When it stays silent", "Source"] {
        assert!(text.lines().any(|line| line == part), "{part}");
    }
    assert!(text.lines().all(|line| line.chars().count() <= 80));
}

#[test]
fn all_codes_are_listed_and_each_of_a_report_is_among_them() {
    let listed = larderloop().arg("explain").assert().code(0).stderr("");
    let listed = utf8(&listed.get_output().stdout).to_owned();
    let report = larderloop().args(["check", crate::SCENARIO, "--json"]).assert().code(0);
    let report: Value = serde_json::from_slice(&report.get_output().stdout).expect("JSON");
    for list in ["findings", "cautions"] {
        for one in report[list].as_array().expect("a list") {
            let code = one["code"].as_str().expect("a code");
            assert!(listed.lines().any(|line| line.starts_with(&format!("{code}  "))), "{code}");
        }
    }
    let json = larderloop().args(["explain", "--json"]).assert().code(0);
    let json: Value = serde_json::from_slice(&json.get_output().stdout).expect("JSON");
    assert_eq!(json.as_array().expect("a list").len(), listed.lines().count());
}

#[test]
fn an_unknown_code_is_64_and_answered_with_a_near_one() {
    let done = larderloop().args(["explain", "legionella"]).assert().code(0).stderr("");
    assert!(String::from_utf8_lossy(&done.get_output().stdout).starts_with("C002: Legionella"));
    let done = larderloop().args(["explain", "F1O1"]).assert().code(64).stdout("");
    assert!(utf8(&done.get_output().stderr).contains("is `F101` meant?"));
    for nothing_near in ["zzz", "42", "S", ""] {
        let done = larderloop().args(["explain", nothing_near]).assert().code(64).stdout("");
        let said = format!("error: no code `{nothing_near}` is known; `larderloop explain` lists all\n");
        assert_eq!(utf8(&done.get_output().stderr), said);
    }
}

#[test]
fn completions_and_the_manual_page_name_every_command() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let done = larderloop().args(["completions", shell]).assert().code(0).stderr("");
        assert!(utf8(&done.get_output().stdout).contains("fail-on"), "{shell}");
    }
    larderloop().args(["completions", "abacus"]).assert().code(64).stdout("");
    let done = larderloop().arg("man").assert().code(0).stderr("");
    let page = utf8(&done.get_output().stdout);
    assert!(page.contains(".TH larderloop"));
    for command in ["check", "curve", "new", "explain", "schema", "completions", "man"] {
        assert!(page.contains(&format!("larderloop\\-{command}(1)")), "{command}");
        assert!(page.contains(&format!(".TH larderloop-{command}")), "{command}");
    }
}

#[test]
fn every_command_shows_examples() {
    for command in ["check", "curve", "new", "explain", "schema", "completions", "man"] {
        let help = larderloop().args([command, "--help"]).assert().code(0).stderr("");
        let help = utf8(&help.get_output().stdout);
        assert!(help.contains(&format!("Examples:\n  larderloop {command}")), "{command}");
    }
}

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    for command in ["schema", "explain", "man"] {
        let mut child = StdCommand::new(env!("CARGO_BIN_EXE_larderloop"))
            .arg(command)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("it starts");
        drop(child.stdout.take());
        let done = child.wait_with_output().expect("it ends");
        assert!(done.status.success() && done.stderr.is_empty(), "{command}");
    }
}

/// Standard error is no terminal here: nothing is said of the years that are tried.
#[test]
fn progress_is_for_terminals() {
    larderloop().args(["check", crate::SCENARIO]).assert().code(0).stderr("");
}

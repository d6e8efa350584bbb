//! The report as text, the help, and the exit codes.

use std::process::{Command as StdCommand, Stdio};

use crate::{SCENARIO, folder_with, larderloop, root, utf8};

#[test]
fn the_report_goes_to_standard_output_within_80_columns_and_without_colour() {
    let done = larderloop().args(["check", SCENARIO]).assert().code(0);
    let report = utf8(&done.get_output().stdout);
    for line in report.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    assert!(!report.contains('\u{1b}'));
    for question in 1..=7 {
        assert!(report.lines().any(|line| line.starts_with(&format!("{question}. "))), "question {question}");
    }
}

#[test]
fn the_same_scenario_gives_the_same_bytes() {
    let run = || larderloop().args(["check", SCENARIO]).assert().get_output().stdout.clone();
    assert_eq!(run(), run());
}

#[test]
fn us_units_turn_every_number_but_those_of_sources() {
    let done = larderloop().args(["check", SCENARIO, "--units", "us"]).assert().code(0);
    let report = utf8(&done.get_output().stdout);
    assert!(report.contains("°F") && report.contains("gal"));
    for line in without_sources(report) {
        for unit in ["°C", "L/day", "L/min", " kg"] {
            assert!(!line.contains(unit), "{line}");
        }
    }
}

/// The report without the sources, which stay as they were published, and without the reasons for what was assumed.
fn without_sources(report: &str) -> Vec<&str> {
    let (answered, _) = report.split_once("Assumed, because").unwrap_or((report, ""));
    let mut in_source = false;
    let kept = answered.lines().filter(|line| {
        let begins = line.starts_with("  - ") || !line.starts_with("    ");
        in_source = if begins { line.starts_with("  - Source:") } else { in_source };
        !in_source
    });
    kept.collect()
}

#[test]
fn colour_is_only_emphasis() {
    let plain = larderloop().args(["check", SCENARIO, "--color", "never"]).assert().code(0);
    let coloured = larderloop().args(["check", SCENARIO, "--color", "always"]).assert().code(0);
    let coloured = utf8(&coloured.get_output().stdout);
    assert!(coloured.contains('\u{1b}'));
    assert_eq!(without_sequences(coloured), utf8(&plain.get_output().stdout));
}

/// Drops `ESC [ ... m`, the only sequences that emphasis is made of (ECMA-48, 8.3.117 SGR. From memory, to be verified.).
fn without_sequences(text: &str) -> String {
    let mut parts = text.split("\u{1b}[");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |mut plain, part| {
        plain.push_str(part.split_once('m').map_or(part, |(_, rest)| rest));
        plain
    })
}

#[test]
fn help_and_version_are_no_failure_and_list_the_exit_codes() {
    let help = larderloop().arg("--help").assert().code(0).stderr("");
    let words = utf8(&help.get_output().stdout).to_owned();
    for code in ["0", "1", "64", "65", "66", "70", "73", "74"] {
        assert!(words.lines().any(|line| line.trim_start().starts_with(&format!("{code}  "))), "{code}");
    }
    let check = larderloop().args(["check", "--help"]).assert().code(0).stderr("");
    assert!(utf8(&check.get_output().stdout).contains("Examples:"));
    larderloop()
        .arg("--version")
        .assert()
        .code(0)
        .stdout(format!("larderloop {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn a_command_line_that_is_not_understood_is_64() {
    for arguments in [&["chekc"][..], &["check"], &["check", SCENARIO, "--units", "imperial"], &[]] {
        let done = larderloop().args(arguments).assert().code(64).stdout("");
        assert!(!done.get_output().stderr.is_empty());
    }
}

#[test]
fn a_missing_scenario_is_66() {
    let done = larderloop().args(["check", "no-such.yaml"]).assert().code(66).stdout("");
    assert!(utf8(&done.get_output().stderr).contains("no-such.yaml"));
}

/// Monthly means of Edmonton International Airport (Canadian Climate Normals 1971-2000) in the place of the file.
#[test]
fn a_year_from_monthly_means_runs_and_says_what_it_cannot_show() {
    let table = "months:
    place: Edmonton
    latitude: 53.3
    elevation: 715 m
    mean: [-13.5 degC, -10.5 degC, -4.5 degC, 4.3 degC, 10.4 degC, 14.1 degC, 15.9 degC, 15.1 degC, 10.1 degC, 4.3 degC, -5.7 degC, -11.3 degC]
    daily_range: [11.1 K, 11.6 K, 10.9 K, 12.9 K, 14 K, 12.8 K, 12.7 K, 13.4 K, 13.6 K, 13.3 K, 10.6 K, 10.8 K]
    humidity: 70 %";
    let example = std::fs::read_to_string(crate::root().join(SCENARIO)).expect("the example is there");
    let (before, after) = example.split_once("\n  file: ").expect("the example names a weather file");
    let (_, after) = after.split_once('\n').expect("more lines follow");
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("edmonton.yaml");
    std::fs::write(&path, format!("{before}\n  {table}\n{after}")).expect("the folder can be written to");
    let done = larderloop().arg("check").arg(&path).assert().code(0);
    let text = String::from_utf8_lossy(&done.get_output().stdout).into_owned();
    // Day-weighted mean of the printed months: 2.46 °C.
    assert!(
        text.contains("Weather: Edmonton, from monthly means, 8760 hours") && text.contains("mean 2.5 °C"),
        "{text}"
    );
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("no cold or hot spells"), "{text}");
}

#[test]
fn a_missing_weather_file_is_66() {
    let text = std::fs::read_to_string(root().join(SCENARIO)).expect("the example is there");
    let (_folder, path) = folder_with(&text);
    larderloop().arg("check").arg(path).assert().code(66).stdout("");
}

#[test]
fn a_scenario_with_faults_is_65_and_names_file_and_line() {
    let (_folder, path) = folder_with("tank:\n  volume: 300 bananas\n");
    let done = larderloop().arg("check").arg(&path).assert().code(65).stdout("");
    let words = utf8(&done.get_output().stderr);
    assert!(words.contains("cellar.yaml:2:"), "{words}");
    assert!(!words.contains('\u{1b}'));
}

#[test]
fn cautions_fail_only_when_asked() {
    larderloop().args(["check", SCENARIO]).assert().code(0);
    let json = larderloop().args(["check", SCENARIO, "--json", "--fail-on", "know"]).assert();
    let output = json.get_output();
    let document: serde_json::Value =
        serde_json::from_slice(&output.stdout).expect("the document is whole even then");
    let raised = document["cautions"].as_array().expect("cautions are a list").len();
    assert_eq!(output.status.code(), Some(if raised > 0 { 1 } else { 0 }));
    assert!(raised > 0, "the example is expected to raise something worth knowing");
}

/// A reader that is gone before the first byte.
#[test]
fn a_closed_pipe_is_silent_and_no_failure() {
    let mut child = StdCommand::new(env!("CARGO_BIN_EXE_larderloop"))
        .args(["check", SCENARIO])
        .env_clear()
        .current_dir(root())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("the command ends");
    assert_eq!((output.status.code(), utf8(&output.stderr)), (Some(0), ""));
}

/// Writing to a full device fails with 74.
#[cfg(target_os = "linux")]
#[test]
fn a_full_device_is_74() {
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full").expect("Linux has a full device");
    let output = StdCommand::new(env!("CARGO_BIN_EXE_larderloop"))
        .args(["check", SCENARIO])
        .env_clear()
        .current_dir(root())
        .stdout(full)
        .output()
        .expect("the command runs");
    assert_eq!(output.status.code(), Some(74));
    assert!(utf8(&output.stderr).contains("standard output"));
}

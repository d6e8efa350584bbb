//! Pages made from the program, and the README's example. `UPDATE_DOCS=1 cargo test --test pages` writes the pages.

use std::path::{Path, PathBuf};
use std::process::Command;

use larderloop::explanation::page;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn text_of(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_default().replace("\r\n", "\n")
}

fn is_current(name: &str, wanted: &str) {
    let path: PathBuf = root().join("docs").join(name);
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(&path, wanted).expect("the page can be written");
    }
    assert!(text_of(&path) == wanted, "docs/{name} is out of date: run with UPDATE_DOCS=1");
}

const MADE: &str = "Made from the program (`larderloop explain CODE` prints the same).";

#[test]
fn the_page_of_cautions_is_up_to_date() {
    is_current("CAUTIONS.md", &format!("# Cautions\n\n{MADE} Cautions are no permit.\n{}", page('C')));
}

#[test]
fn the_page_of_codes_is_up_to_date() {
    let findings = page('F');
    let faults = page('S');
    is_current("CODES.md", &format!("# Codes of findings and faults\n\n{MADE}\n{findings}{faults}"));
}

/// The text of the first fenced block after `mark`.
fn block<'a>(text: &'a str, mark: &str) -> &'a str {
    let (_, after) = text.split_once(mark).unwrap_or_else(|| panic!("{mark} is missing"));
    let (_, after) = after.split_once("```").expect("a block opens");
    let (_, after) = after.split_once('\n').expect("its first line ends");
    after.split_once("```").expect("the block closes").0
}

/// Every line of the README's excerpt is printed for the README's scenario, in this order; `...` stands for what is left out.
#[test]
fn the_readme_s_scenario_prints_the_readme_s_report() {
    let readme = text_of(&root().join("README.md"));
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("pantry.yaml"), block(&readme, "<!-- scenario -->")).expect("written");
    std::fs::copy(root().join("scenarios/weather/chicago-tmy3.epw"), folder.path().join("chicago-tmy3.epw"))
        .expect("copied");
    let done = Command::new(env!("CARGO_BIN_EXE_larderloop"))
        .env_clear()
        .current_dir(folder.path())
        .args(["check", "pantry.yaml"])
        .output()
        .expect("it runs");
    let report = String::from_utf8(done.stdout).expect("UTF-8");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let mut printed = report.lines();
    let excerpt: Vec<_> = block(&readme, "<!-- report -->").lines().filter(|line| *line != "...").collect();
    assert!(excerpt.len() >= 8);
    for line in excerpt {
        assert!(printed.any(|one| one == line), "not printed, or not in this order: {line}\n{report}");
    }
}

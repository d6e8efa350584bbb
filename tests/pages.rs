//! Pages made from the program, and the README's example. `UPDATE_DOCS=1 cargo test --test pages` writes both.

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

/// An excerpt with the lines that are printed now: its parts lie between `...`, each as many paragraphs as before, from the line
/// that begins with the same word.
fn excerpt_of(report: &str, old: &str) -> String {
    let parts = old.split("...\n").filter(|part| !part.trim().is_empty()).map(|part| {
        let word = part.split_whitespace().next().expect("a part has words");
        let from = report.lines().skip_while(|line| line.split_whitespace().next() != Some(word));
        let mut paragraphs = part.trim_end().split("\n\n").count();
        let lines = from.take_while(|line| {
            paragraphs -= usize::from(line.is_empty());
            paragraphs > 0
        });
        lines.map(|line| format!("{line}\n")).collect::<String>()
    });
    parts.map(|part| part + "...\n").collect()
}

/// The README shows what its scenario prints; `...` stands for what is left out.
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
    let shown = block(&readme, "<!-- report -->");
    let wanted = excerpt_of(&report, shown);
    assert!(wanted.lines().count() >= 20, "{wanted}");
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(root().join("README.md"), readme.replace(shown, &wanted)).expect("written");
    } else {
        assert!(shown == wanted, "README.md is out of date: run with UPDATE_DOCS=1. It prints\n{wanted}");
    }
}

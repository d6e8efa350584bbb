//! The command from outside: what it prints where, the code it ends with, the files it leaves.
//!
//! Every run has a cleared environment and, where it writes, a folder of its own.

mod choose;
mod compare;
mod curve;
mod files;
mod front;
mod json;
mod text;

use std::path::{Path, PathBuf};

use assert_cmd::Command;

/// The example that most tests run.
pub const SCENARIO: &str = "scenarios/basement-chicago.yaml";

/// The command, at the root of the repository, in an empty environment.
pub fn larderloop() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_larderloop"));
    command.env_clear().current_dir(root());
    command
}

/// The root of the repository.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A folder with a scenario of the given text; weather is found beside the examples.
pub fn folder_with(text: &str) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder can be made");
    let path = folder.path().join("cellar.yaml");
    std::fs::write(&path, text).expect("a file can be written into a new folder");
    (folder, path)
}

/// What was printed, as text.
pub fn utf8(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).expect("all output is UTF-8")
}

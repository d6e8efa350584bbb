//! The tables in `docs/SCENARIO.md` are those of the program. `UPDATE_DOCS=1 cargo test --test scenario_docs` writes them.

use std::path::Path;

use larderloop::scenario::{codes, keys};

/// The text with what stands between the marks of `name` replaced.
fn with_table(text: &str, name: &str, table: &str) -> String {
    let (open, close) = (format!("<!-- {name} -->\n"), format!("<!-- /{name} -->"));
    let start = text.find(&open).expect("the opening mark") + open.len();
    let end = text.find(&close).expect("the closing mark");
    format!("{}{table}{}", &text[..start], &text[end..])
}

#[test]
fn the_tables_of_keys_and_codes_are_up_to_date() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/SCENARIO.md");
    let text = std::fs::read_to_string(&path).expect("the page is part of the project").replace("\r\n", "\n");
    let current = with_table(&with_table(&text, "keys", &keys::table()), "codes", &codes::table());
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(&path, &current).expect("the page can be written");
    }
    assert!(text == current, "docs/SCENARIO.md is out of date: run with UPDATE_DOCS=1");
}

//! What a code of this program means: for `larderloop explain` and `docs/CODES.md`, from the same words.

use serde::Serialize;

use crate::{caution, finding, scenario};

/// Everything there is to say about a code.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Explanation {
    /// Code; stable.
    pub code: &'static str,
    /// Short title.
    pub title: &'static str,
    /// What it says.
    pub says: &'static str,
    /// Why it matters.
    pub why: &'static str,
    /// What to do.
    pub what_to_do: &'static str,
    /// When it stays silent; `None` for faults of a scenario, which are told whenever they are there.
    pub silent: Option<&'static str>,
    /// Source of its limits with trust words; `None` where it has no limit of its own.
    pub source: Option<&'static str>,
}

impl Explanation {
    /// Its parts with their headings, those that it has.
    pub fn parts(&self) -> Vec<(&'static str, &'static str)> {
        [
            ("What it says", Some(self.says)),
            ("Why it matters", Some(self.why)),
            ("What to do", Some(self.what_to_do)),
            ("When it stays silent", self.silent),
            ("Source", self.source),
        ]
        .into_iter()
        .filter_map(|(heading, text)| text.map(|text| (heading, text)))
        .collect()
    }
}

/// Every explanation: cautions, findings, then faults of scenarios, each in the order of their codes.
pub fn all() -> Vec<Explanation> {
    [caution::EXPLANATIONS, finding::EXPLANATIONS, scenario::codes::EXPLANATIONS].concat()
}

/// The page of all codes whose first letter is `letter`, as Markdown below a level-one heading.
pub fn page(letter: char) -> String {
    let mut text = String::new();
    for one in all().iter().filter(|one| one.code.starts_with(letter)) {
        text.push_str(&format!("\n## {}: {}\n", one.code, one.title));
        for (heading, part) in one.parts() {
            text.push_str(&format!("\n**{heading}.** {part}\n"));
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_unique_in_order_and_wholly_explained() {
        let all = all();
        for letter in ['C', 'F', 'S'] {
            let codes: Vec<_> =
                all.iter().map(|one| one.code).filter(|one| one.starts_with(letter)).collect();
            assert!(codes.len() >= 8 && codes.windows(2).all(|pair| pair[0] < pair[1]), "{codes:?}");
        }
        for one in &all {
            assert!(one.parts().iter().all(|(_, text)| text.ends_with('.')), "{one:?}");
            assert_eq!(one.silent.is_none(), one.code.starts_with('S'), "{}", one.code);
            assert_eq!(one.source.is_none(), one.code.starts_with('S'), "{}", one.code);
        }
    }
}

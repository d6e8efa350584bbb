//! Who has to act on a caution.

use super::EXPLANATIONS;

/// Somebody who acts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Who {
    /// A licensed plumber.
    Plumber,
    /// A licensed electrician.
    Electrician,
    /// A technician with a licence for refrigerants.
    Refrigeration,
    /// The household itself.
    Household,
}

impl Who {
    /// Everybody, in the order of the page.
    pub const ALL: [Who; 4] = [Who::Plumber, Who::Electrician, Who::Refrigeration, Who::Household];

    /// What they are called.
    pub fn name(self) -> &'static str {
        match self {
            Who::Plumber => "The plumber",
            Who::Electrician => "The electrician",
            Who::Refrigeration => "The refrigeration technician",
            Who::Household => "You yourself",
        }
    }
}

/// Who acts on the caution of a code, the one to call first at the front. By what each caution says is to be done.
const ACTS: [(&str, &[Who]); EXPLANATIONS.len()] = [
    ("C001", &[Who::Plumber, Who::Household]),
    ("C002", &[Who::Plumber, Who::Household]),
    ("C003", &[Who::Electrician]),
    ("C004", &[Who::Refrigeration]),
    ("C005", &[Who::Plumber]),
    ("C006", &[Who::Plumber]),
    ("C007", &[Who::Household, Who::Plumber]),
    ("C008", &[Who::Household, Who::Plumber]),
    ("C009", &[Who::Electrician]),
    ("C010", &[Who::Plumber]),
    ("C011", &[Who::Plumber, Who::Electrician]),
    ("C012", &[Who::Plumber]),
    ("C013", &[Who::Plumber]),
    ("C014", &[Who::Refrigeration, Who::Electrician]),
    ("C015", &[Who::Household, Who::Plumber]),
    ("C016", &[Who::Household]),
    ("C017", &[Who::Household, Who::Electrician]),
    ("C018", &[Who::Household]),
    ("C019", &[Who::Household]),
    ("C020", &[Who::Household]),
    ("C021", &[Who::Refrigeration, Who::Electrician]),
];

/// Who acts on the caution of a code; the household for a code that is none.
pub fn who_acts(code: &str) -> &'static [Who] {
    ACTS.iter().find(|(known, _)| *known == code).map_or(&[Who::Household], |(_, who)| who)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn somebody_acts_on_every_caution() {
        let codes: Vec<_> = ACTS.iter().map(|(code, _)| *code).collect();
        assert_eq!(codes, EXPLANATIONS.iter().map(|one| one.code).collect::<Vec<_>>());
        assert!(ACTS.iter().all(|(_, who)| !who.is_empty()));
    }
}

//! Whether an answer stays what it is where the pump does what it may do at worst and at best.

use serde::Serialize;

use super::{Answer, Case, Finding, answers};
use crate::household::Household;
use crate::plant::Plant;
use crate::wording::Wording;
use crate::year::Year;

/// What becomes of an answer with COP and heat of the pump at the ends of their band.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Confidence {
    /// Code of the finding.
    pub code: &'static str,
    /// Whether it is the same in every one of those years.
    pub firm: bool,
    /// The answers there, each once, in the order of the ends.
    pub at_the_ends: Vec<Answer>,
}

impl Confidence {
    /// Whether a finding's answer is not known at an end, where no change is tried, though it is told by one here.
    pub fn is_untried(&self, finding: &Finding) -> bool {
        finding.answer != Answer::Unknown && self.at_the_ends.contains(&Answer::Unknown)
    }
}

/// The confidence of each finding, in their order. `ends` are the plants and years at the ends of the band; what was found in them is
/// found without any trial.
pub fn confidence<'a>(
    household: &Household,
    findings: &[Finding],
    ends: impl IntoIterator<Item = (&'a Plant, &'a Year)>,
) -> Vec<Confidence> {
    let untried = |_: &crate::change::Change| None;
    let told: Vec<Vec<Finding>> = ends
        .into_iter()
        .map(|(plant, year)| {
            answers(&Case { household, plant, year, trial: &untried, say: Wording(household.units) })
        })
        .collect();
    let of = |finding: &Finding| {
        let mut at_the_ends: Vec<Answer> = Vec::new();
        for other in told.iter().flatten().filter(|other| other.code == finding.code) {
            if !at_the_ends.contains(&other.answer) {
                at_the_ends.push(other.answer);
            }
        }
        Confidence {
            code: finding.code,
            firm: at_the_ends.iter().all(|answer| *answer == finding.answer),
            at_the_ends,
        }
    };
    findings.iter().map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::finding::tests::{found, one};

    #[test]
    fn an_answer_that_turns_at_an_end_is_not_firm() {
        let (household, plant) = (example::household(), example::plant());
        let year = example::year();
        let mut hot = year.clone();
        hot.total.over_band_s = 0.1 * hot.total.duration_s;
        let findings = found(&plant, &year);
        let warm = one(&findings, "F101");
        let of = |years: [&Year; 2]| {
            let told = confidence(&household, std::slice::from_ref(&warm), years.map(|year| (&plant, year)));
            told.into_iter().next().expect("one for the finding")
        };
        assert_eq!(
            of([&year, &year]),
            Confidence { code: "F101", firm: true, at_the_ends: vec![Answer::Yes] }
        );
        // Refused by warm water, the pump's size is told by a trial, and there is none at the ends.
        let mut refused = year.clone();
        (refused.total.missed_s, refused.total.locked_by_inlet_s) =
            (0.1 * year.total.duration_s, 0.1 * year.total.duration_s);
        let size = one(&findings, "F201");
        let told = confidence(&household, std::slice::from_ref(&size), [(&plant, &refused)]);
        assert!(told[0].is_untried(&size) && !told[0].firm);
        assert!(!told[0].is_untried(&Finding { answer: Answer::Unknown, ..size.clone() }));
        let told = confidence(&household, std::slice::from_ref(&size), [(&plant, &year)]);
        assert!(!told[0].is_untried(&size));
        let turned = of([&year, &hot]);
        assert_eq!((turned.firm, turned.at_the_ends), (false, vec![Answer::Yes, Answer::No]));
    }
}

//! Can someone be hurt?

use super::{Answer, Case, Finding, Question, sentences};
use crate::caution::{Caution, Severity, cautions};
use crate::wording::{count, list};

pub(super) const SOURCE: &str = "The cautions, each with its own source. What needs stopping or putting right is counted: Common practice, no source.";

pub(super) fn findings(case: &Case<'_>) -> Vec<Finding> {
    vec![harm(&cautions(case.household, case.plant, case.year))]
}

/// F701: what the cautions come to.
fn harm(raised: &[Caution]) -> Finding {
    let titles = |severity: Severity| {
        let words: Vec<String> = raised
            .iter()
            .filter(|caution| caution.severity == severity)
            .map(|caution| format!("{} ({})", caution.title.to_lowercase(), caution.code))
            .collect();
        list(&words)
    };
    let (stop, fix, know) = (titles(Severity::StopWork), titles(Severity::FixFirst), titles(Severity::Know));
    let answer = if !stop.is_empty() {
        Answer::No
    } else if !fix.is_empty() {
        Answer::Barely
    } else {
        Answer::Yes
    };
    let opening = match answer {
        Answer::No => format!(
            "As described it is not safe: {stop}. Do nothing further before somebody qualified has looked at it."
        ),
        Answer::Barely => "It can be made safe, but something has to be put right first.".to_owned(),
        _ => "Nothing in the description is dangerous in itself.".to_owned(),
    };
    let urgent = raised.iter().filter(|caution| caution.severity > Severity::Know).count();
    Finding {
        code: "F701",
        question: Question::Harm,
        answer,
        value: urgent as f64,
        unit: "1",
        limit: Some(0.0),
        text: sentences(&[
            opening,
            if fix.is_empty() { fix } else { format!("To be put right first: {fix}.") },
            if know.is_empty() { know } else { format!("To know: {know}.") },
            if raised.is_empty() {
                String::new()
            } else {
                format!(
                    "Read the {} before anything is built; they do not replace your local code.",
                    count(raised.len() as f64, "caution")
                )
            },
        ]),
        source: SOURCE,
        remedies: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn caution(severity: Severity, code: &'static str) -> Caution {
        Caution { code, title: "Scalding water", severity, text: String::new(), source: "" }
    }

    #[test]
    fn the_most_urgent_caution_decides() {
        let know = caution(Severity::Know, "C003");
        let fix = caution(Severity::FixFirst, "C002");
        let stop = caution(Severity::StopWork, "C001");
        assert_eq!(harm(&[]).answer, Answer::Yes);
        assert_eq!(harm(std::slice::from_ref(&know)).answer, Answer::Yes);
        assert_eq!(harm(&[fix.clone(), know.clone()]).answer, Answer::Barely);
        let all = harm(&[stop, fix, know]);
        assert_eq!((all.answer, all.value), (Answer::No, 2.0));
        assert!(all.text.contains("not safe: scalding water (C001)"), "{}", all.text);
        assert!(all.text.contains("Read the 3 cautions"), "{}", all.text);
    }
}

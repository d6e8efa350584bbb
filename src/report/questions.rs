//! The household's questions and their answers.

use crate::constants::ZERO_CELSIUS_K;
use crate::finding::{Answer, Confidence, Finding, Question, Remedy};
use crate::household::UnitSystem;
use crate::report::block::{Block, Entry, Tone};
use crate::report::measure::Measure;
use crate::units::either;
use crate::wording::{Wording, number, percent};

/// The questions in the order in which they are answered.
pub(super) const QUESTIONS: [Question; 7] = [
    Question::Food,
    Question::PumpSize,
    Question::HotWaterUsed,
    Question::Dump,
    Question::Settings,
    Question::EnoughHotWater,
    Question::Harm,
];

/// A question as it is asked.
pub(super) fn words(question: Question) -> &'static str {
    match question {
        Question::Food => "Will the food hold?",
        Question::PumpSize => "Is the pump the right size?",
        Question::HotWaterUsed => "Do we use the hot water it makes?",
        Question::Dump => "What has to be dumped, how fast, where?",
        Question::Settings => "Where do dials, probes and ports go?",
        Question::EnoughHotWater => "Is there enough hot water?",
        Question::Harm => "Can someone be hurt?",
    }
}

/// Every question with its findings; a question without a finding says so.
pub(super) fn answered(findings: &[Finding], confidence: &[Confidence], units: UnitSystem) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (index, question) in QUESTIONS.into_iter().enumerate() {
        blocks.push(Block::Heading(format!("{}. {}", index + 1, words(question))));
        let of_question = findings.iter().filter(|finding| finding.question == question);
        let entries: Vec<_> =
            of_question.map(|finding| Block::Entry(entry(finding, confidence, units))).collect();
        if entries.is_empty() {
            blocks.push(Block::Paragraph("Nothing to say about it for this household.".to_owned()));
        }
        blocks.extend(entries);
    }
    blocks
}

fn entry(finding: &Finding, confidence: &[Confidence], units: UnitSystem) -> Entry {
    let (verdict, tone) = verdict(finding);
    let mut details = vec![numbers(finding, units)];
    details.extend(
        confidence.iter().find(|one| one.code == finding.code).and_then(|one| how_sure(finding, one)),
    );
    details.push(format!("Source: {}", finding.source));
    details.extend(finding.remedies.iter().map(|remedy| remedy_words(remedy, finding.unit, units)));
    Entry {
        mark: finding.code.to_owned(),
        verdict: verdict.to_owned(),
        tone,
        text: finding.text.clone(),
        details,
    }
}

/// What becomes of the answer where the pump is better or worse than calculated; nothing where that has no bearing on it.
fn how_sure(finding: &Finding, confidence: &Confidence) -> Option<String> {
    if confidence.at_the_ends.is_empty() {
        return None;
    }
    if confidence.is_untried(finding) {
        return Some("Not tried at the ends of what the pump may do.".to_owned());
    }
    if confidence.firm {
        return Some("Sure: the same at both ends of what the pump may do.".to_owned());
    }
    let others: Vec<String> = confidence
        .at_the_ends
        .iter()
        .filter(|answer| **answer != finding.answer)
        .map(|answer| format!("\"{}\"", verdict_of(finding.question, *answer).0))
        .collect();
    Some(format!(
        "Unsure: with the pump at an end of what it may do the answer would be {}.",
        either(&others)
    ))
}

/// The answer as a word. [`Answer::Yes`] is always the good answer, but the last question asks for harm, so that its
/// good answer in words is no.
fn verdict(finding: &Finding) -> (&'static str, Tone) {
    verdict_of(finding.question, finding.answer)
}

/// An answer to a question as a word, and how it is to be taken.
pub(super) fn verdict_of(question: Question, answer: Answer) -> (&'static str, Tone) {
    let asks_for_harm = question == Question::Harm;
    let barely = match question {
        Question::Harm => "yes, until put right",
        Question::PumpSize => "not quite",
        _ => "only just",
    };
    match answer {
        Answer::Yes => (if asks_for_harm { "no" } else { "yes" }, Tone::Good),
        Answer::Barely => (barely, Tone::Attention),
        Answer::No => (if asks_for_harm { "yes" } else { "no" }, Tone::Bad),
        Answer::Unknown => ("not known", Tone::Attention),
    }
}

fn numbers(finding: &Finding, units: UnitSystem) -> String {
    match finding.limit {
        Some(limit) => {
            let (value, limit) = amounts((finding.value, limit), finding.unit, units);
            format!("Number: {value}; limit: {limit}")
        }
        None => format!("Number: {}", as_said(finding.value, finding.unit, units)),
    }
}

fn remedy_words(remedy: &Remedy, unit: &str, units: UnitSystem) -> String {
    let (before, after) = amounts((remedy.before, remedy.after), unit, units);
    let effect = format!("Remedy: {}: {before} -> {after}; {}", remedy.change, remedy.effort.words());
    if remedy.text.is_empty() { effect } else { format!("{effect}. {}", remedy.text) }
}

/// Two numbers that are held against each other, rounded as in the sentences; where that would make them look alike, as
/// in the tables.
fn amounts((one, other): (f64, f64), unit: &str, units: UnitSystem) -> (String, String) {
    let said = (as_said(one, unit, units), as_said(other, unit, units));
    if said.0 == said.1 && one != other {
        (as_in_tables(one, unit, units), as_in_tables(other, unit, units))
    } else {
        said
    }
}

/// A number with the unit that a finding names, rounded as the finding's sentences round it.
fn as_said(value: f64, unit: &str, units: UnitSystem) -> String {
    let Some(measure) = Measure::of_unit(unit) else { return as_in_tables(value, unit, units) };
    match measure {
        Measure::Temperature => Wording(units).temperature(value + ZERO_CELSIUS_K),
        Measure::Fraction => percent(value),
        _ => match measure.unit(units) {
            "" => number(measure.convert(value, units)),
            unit => format!("{} {unit}", number(measure.convert(value, units))),
        },
    }
}

/// The same rounded as in the tables; a unit that has no rounding rule is printed with one decimal.
fn as_in_tables(value: f64, unit: &str, units: UnitSystem) -> String {
    match Measure::of_unit(unit) {
        Some(measure) => measure.words(value, units),
        None => format!("{value:.1} {unit}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn finding() -> Finding {
        Finding {
            code: "F401",
            question: Question::Dump,
            answer: Answer::No,
            value: 100.0,
            unit: "l/day",
            limit: Some(40.0),
            text: "more is dumped than the drain takes".to_owned(),
            source: "Common practice, no source: example",
            remedies: vec![Remedy {
                change: "hang a strip curtain".to_owned(),
                before: 100.0,
                after: 60.0,
                text: "Electricity falls as well.".to_owned(),
                effort: crate::change::Effort::SmallParts,
            }],
        }
    }

    #[test]
    fn every_question_is_asked_in_order_and_answered() {
        let headings: Vec<_> = answered(&[], &[], UnitSystem::Metric)
            .into_iter()
            .filter_map(|block| if let Block::Heading(words) = block { Some(words) } else { None })
            .collect();
        assert_eq!(headings.len(), QUESTIONS.len());
        assert_eq!(headings[0], "1. Will the food hold?");
        assert_eq!(headings[6], "7. Can someone be hurt?");
    }

    #[test]
    fn an_answer_has_number_limit_source_and_remedies() {
        let entry = entry(&finding(), &[], UnitSystem::Metric);
        assert_eq!((entry.mark.as_str(), entry.verdict.as_str(), entry.tone), ("F401", "no", Tone::Bad));
        assert_eq!(
            entry.details,
            [
                "Number: 100 L/day; limit: 40 L/day",
                "Source: Common practice, no source: example",
                "Remedy: hang a strip curtain: 100 L/day -> 60 L/day; costs small parts and an afternoon. Electricity falls as well.",
            ]
        );
    }

    #[test]
    fn what_was_not_tried_at_the_ends_is_not_called_unsure() {
        let told = |at_the_ends: &[Answer]| {
            let firm = at_the_ends.iter().all(|answer| *answer == Answer::No);
            how_sure(&finding(), &Confidence { code: "F401", firm, at_the_ends: at_the_ends.to_vec() })
                .unwrap_or_default()
        };
        assert!(told(&[Answer::No]).starts_with("Sure"));
        assert!(told(&[Answer::No, Answer::Unknown]).starts_with("Not tried"));
        assert!(told(&[Answer::No, Answer::Yes]).starts_with("Unsure"));
        assert_eq!(told(&[]), "");
    }

    #[test]
    fn us_units_turn_number_limit_and_remedy() {
        let entry = entry(&finding(), &[], UnitSystem::Us);
        assert_eq!(entry.details[0], "Number: 26 gal/day; limit: 11 gal/day");
        assert!(entry.details[2].contains("26 gal/day -> 16 gal/day"));
    }

    #[test]
    fn numbers_are_rounded_as_in_the_sentences_but_never_made_alike() {
        let pair = |one, other, unit| amounts((one, other), unit, UnitSystem::Metric);
        let said = |one: &str, other: &str| (one.to_owned(), other.to_owned());
        assert_eq!(pair(4787.7, 4.0, "h"), said("4,790 h", "4 h"));
        assert_eq!(pair(0.987, 0.8, "frac"), said("99 %", "80 %"));
        assert_eq!(pair(0.052, 0.05, "frac"), said("5.2 %", "5 %"));
        assert_eq!(pair(118.2, 117.9, "l/day"), said("118.2 L/day", "117.9 L/day"));
        assert_eq!(pair(38.0, 38.0, "degc"), said("38 °C", "38 °C"));
        assert_eq!(amounts((48.9, 4.0), "degc", UnitSystem::Us), said("120 °F", "39.2 °F"));
    }

    #[test]
    fn that_nobody_can_be_hurt_is_the_good_answer() {
        let harm = |answer| Finding { question: Question::Harm, answer, ..finding() };
        assert_eq!(verdict(&harm(Answer::Yes)), ("no", Tone::Good));
        assert_eq!(verdict(&harm(Answer::No)), ("yes", Tone::Bad));
    }
}

//! The report in short: an answer to each question, what would help most, the dials, and whom to call.

use serde::Serialize;

use crate::caution::{Caution, Severity, Who, who_acts};
use crate::change::Effort;
use crate::finding::{Answer, Confidence, Finding, Question};
use crate::household::{CoolerUnit, Household, WaterCircuit};
use crate::report::block::{Block, Entry};
use crate::report::questions::{QUESTIONS, verdict_of, words};
use crate::wording::{Wording, count, percent};

/// Steps that are told.
const STEPS: usize = 4;
/// Findings whose first sentence is told of a question.
const SENTENCES: usize = 3;

/// The report in short.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Summary {
    /// Each question's answer.
    pub answers: Vec<ShortAnswer>,
    /// What helps most of the answers that are not good, each tried alone.
    pub steps: Vec<Step>,
    /// The dials as the scenario has them.
    pub dials: Vec<String>,
    /// Who has to act on which cautions.
    pub call: Vec<Call>,
}

/// The answer to a question.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ShortAnswer {
    /// The question.
    pub question: Question,
    /// The worst of its answers; of the food, of those about its temperature.
    pub answer: Answer,
    /// The first sentences of the leading finding and of what is not good.
    pub text: String,
    /// Codes of these findings.
    pub findings: Vec<&'static str>,
    /// Whether the answer is the same with the pump at the ends of what it may do; `None` where that has no bearing on it.
    pub firm: Option<bool>,
}

/// A change that helps several answers.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// What to change, in words.
    pub change: String,
    /// What it takes.
    pub effort: Effort,
    /// The findings that it mends or lessens.
    pub helps: Vec<&'static str>,
}

/// Who is to be called first, and for what.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Call {
    /// Who.
    pub who: &'static str,
    /// Cautions that have to be put right before anything runs.
    pub first: Vec<&'static str>,
    /// Cautions to know of.
    pub know: Vec<&'static str>,
}

impl Summary {
    /// Of the findings and cautions of a household.
    pub fn of(
        household: &Household,
        findings: &[Finding],
        confidence: &[Confidence],
        cautions: &[Caution],
    ) -> Self {
        let of = |question: Question| -> Vec<&Finding> {
            findings.iter().filter(|finding| finding.question == question).collect()
        };
        Self {
            answers: QUESTIONS
                .into_iter()
                .filter_map(|question| short_answer(question, &of(question), confidence))
                .collect(),
            steps: steps(findings),
            dials: dials(household),
            call: Who::ALL.into_iter().filter_map(|who| call(who, cautions)).collect(),
        }
    }
}

/// How far an answer is from good.
fn badness(answer: Answer) -> usize {
    match answer {
        Answer::Yes => 0,
        Answer::Unknown => 1,
        Answer::Barely => 2,
        Answer::No => 3,
    }
}

/// Whether a finding has a say in the answer of its question. Humidity, and what one room cannot serve together, are told beside it: the food holds all the same.
fn decides(finding: &Finding) -> bool {
    !["F105", "F106", "F107"].contains(&finding.code)
}

fn short_answer(question: Question, findings: &[&Finding], confidence: &[Confidence]) -> Option<ShortAnswer> {
    let (&leading, others) = findings.split_first()?;
    let worst =
        findings.iter().copied().filter(|finding| decides(finding)).max_by_key(|one| badness(one.answer))?;
    // The leading one always; of the others those that are not good, the worst first.
    let mut told: Vec<&Finding> =
        others.iter().copied().filter(|finding| badness(finding.answer) > 0).collect();
    told.sort_by_key(|finding| (!decides(finding), std::cmp::Reverse(badness(finding.answer))));
    told.insert(0, leading);
    told.truncate(SENTENCES);
    let sure = |finding: &&Finding| {
        let one = confidence.iter().find(|one| one.code == finding.code)?;
        (!one.at_the_ends.is_empty() && !one.is_untried(finding)).then_some(one.firm)
    };
    Some(ShortAnswer {
        question,
        answer: worst.answer,
        text: told.iter().map(|finding| first_sentence(&finding.text)).collect::<Vec<_>>().join(" "),
        findings: told.iter().map(|finding| finding.code).collect(),
        firm: told.iter().filter_map(sure).reduce(|one, other| one && other),
    })
}

/// A text up to the end of its first sentence. A full stop within a number ends none.
fn first_sentence(text: &str) -> &str {
    text.find(". ").map_or(text, |end| &text[..=end])
}

/// A step while it is looked for.
struct Found {
    /// How many bad answers it helps.
    bads: usize,
    /// The bad answers of whose remedies it helps most.
    best_for: Vec<&'static str>,
    step: Step,
}

/// The remedies of all answers that are not good, those first that help most of the bad ones, then of all, then what takes least.
fn steps(findings: &[Finding]) -> Vec<Step> {
    let mut found: Vec<Found> = Vec::new();
    for finding in findings.iter().filter(|finding| finding.answer != Answer::Yes) {
        for (place, remedy) in finding.remedies.iter().enumerate() {
            let known = found.iter().position(|found| found.step.change == remedy.change);
            let index = known.unwrap_or_else(|| {
                let (change, effort) = (remedy.change.clone(), remedy.effort);
                found.push(Found {
                    bads: 0,
                    best_for: Vec::new(),
                    step: Step { change, effort, helps: Vec::new() },
                });
                found.len() - 1
            });
            let of = &mut found[index];
            of.step.helps.push(finding.code);
            if finding.answer == Answer::No {
                of.bads += 1;
                of.best_for.extend((place == 0).then_some(finding.code));
            }
        }
    }
    let rank =
        |of: &Found| (std::cmp::Reverse(of.bads), std::cmp::Reverse(of.step.helps.len()), of.step.effort);
    found.sort_by_key(rank);
    let mut kept: Vec<Found> = Vec::new();
    for of in found {
        // What helps no answer that a step before does not help for as little, and helps no bad one most, is another way to the same.
        let covers = |known: &Found| {
            known.step.effort <= of.step.effort
                && of.step.helps.iter().all(|code| known.step.helps.contains(code))
                && of.best_for.iter().all(|code| known.best_for.contains(code))
        };
        if !kept.iter().any(covers) {
            kept.push(of);
        }
    }
    kept.truncate(STEPS);
    kept.into_iter().map(|of| of.step).collect()
}

fn dials(household: &Household) -> Vec<String> {
    let say = Wording(household.units);
    let thermostat = &household.thermostat;
    let half_k = 0.5 * thermostat.band.value;
    let mut dials = vec![format!(
        "room thermostat {}: on at {}, off at {}",
        say.temperature(thermostat.set.value),
        say.temperature(thermostat.set.value + half_k),
        say.temperature(thermostat.set.value - half_k)
    )];
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    if let WaterCircuit::SinglePass { outlet, .. } = unit.circuit {
        dials.push(format!("pump's outlet {}", say.temperature(outlet.value)));
    }
    if let Some(dump) = &household.dump {
        dials.push(format!(
            "aquastat opens at {} and closes at {}, its probe at {} of the tank's height; dump {}",
            say.temperature(dump.opens_at.value),
            say.temperature(dump.closes_at.value),
            percent(dump.probe.value),
            say.flow(dump.flow.value)
        ));
    }
    if let Some(valve) = household.hot_water.mixing_valve {
        dials.push(format!("mixing valve {}", say.temperature(valve.value)));
    }
    if let Some(booster) = &household.booster {
        dials.push(format!("booster {}", say.temperature(booster.set.value)));
    }
    dials
}

fn call(who: Who, cautions: &[Caution]) -> Option<Call> {
    let of = |urgent: bool| -> Vec<&'static str> {
        cautions
            .iter()
            .filter(|caution| who_acts(caution.code).first() == Some(&who))
            .filter(|caution| (caution.severity != Severity::Know) == urgent)
            .map(|caution| caution.code)
            .collect()
    };
    let (first, know) = (of(true), of(false));
    (!first.is_empty() || !know.is_empty()).then(|| Call { who: who.name(), first, know })
}

/// The section.
pub(super) fn section(summary: &Summary) -> Vec<Block> {
    let mut blocks = vec![Block::Heading("In short".to_owned())];
    blocks.extend(summary.answers.iter().map(|short| Block::Entry(answer_entry(short))));
    if !summary.steps.is_empty() {
        blocks.push(Block::Paragraph(
            "What helps most, each tried alone through the whole year; together they may do more or less:"
                .to_owned(),
        ));
        blocks.push(Block::List(summary.steps.iter().map(step_words).collect()));
    }
    blocks.push(Block::Paragraph(format!("The dials as described: {}.", summary.dials.join("; "))));
    blocks.push(Block::Paragraph(
        "Whether it pays: `larderloop compare` sets this room beside outdoor-air fans, an air conditioner and nothing, with what each costs to build (`alternatives`) and to run."
            .to_owned(),
    ));
    if !summary.call.is_empty() {
        blocks.push(Block::Paragraph("Who has to act, by the cautions:".to_owned()));
        blocks.push(Block::List(summary.call.iter().map(call_words).collect()));
    }
    blocks
}

fn answer_entry(short: &ShortAnswer) -> Entry {
    let (verdict, tone) = verdict_of(short.question, short.answer);
    let unsure = if short.firm == Some(false) { " (Unsure: it hangs on the pump.)" } else { "" };
    Entry {
        mark: String::new(),
        verdict: verdict.to_owned(),
        tone,
        text: format!("{} {} [{}]{unsure}", words(short.question), short.text, short.findings.join(", ")),
        details: Vec::new(),
    }
}

fn step_words(step: &Step) -> String {
    let (change, effort) = (&step.change, step.effort.words());
    format!(
        "{change}: helps {} ({}); {effort}",
        count(step.helps.len() as f64, "answer"),
        step.helps.join(", ")
    )
}

fn call_words(call: &Call) -> String {
    let part =
        |what: &str, codes: &[&str]| (!codes.is_empty()).then(|| format!("{what} {}", codes.join(", ")));
    let parts: Vec<String> =
        [part("first", &call.first), part("to know", &call.know)].into_iter().flatten().collect();
    format!("{}: {}", call.who, parts.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::finding::Remedy;
    use crate::report::{Report, text};

    fn finding(code: &'static str, question: Question, answer: Answer, remedies: &[&str]) -> Finding {
        Finding {
            code,
            question,
            answer,
            value: 1.0,
            unit: "h",
            limit: None,
            text: format!("{code} is told, at 11.5 of 20. More of it."),
            source: "Common practice, no source: example",
            remedies: remedies
                .iter()
                .map(|change| Remedy {
                    change: (*change).to_owned(),
                    before: 1.0,
                    after: 0.0,
                    text: String::new(),
                    effort: Effort::SmallParts,
                })
                .collect(),
        }
    }

    fn summary() -> Summary {
        let findings = [
            finding("F101", Question::Food, Answer::Yes, &[]),
            finding("F102", Question::Food, Answer::Barely, &["seal"]),
            finding("F104", Question::Food, Answer::No, &["dump"]),
            finding("F105", Question::Food, Answer::No, &[]),
            finding("F201", Question::PumpSize, Answer::Yes, &["never told"]),
            finding("F401", Question::Dump, Answer::Barely, &["seal", "dump"]),
        ];
        let confidence = [Confidence { code: "F104", firm: false, at_the_ends: vec![Answer::Yes] }];
        Summary::of(&example::household(), &findings, &confidence, &[])
    }

    #[test]
    fn the_leading_answer_comes_first_and_the_worst_that_decides_is_the_verdict() {
        let summary = summary();
        let [food, size, dump] = &summary.answers[..] else { panic!("three questions") };
        assert_eq!(
            (food.answer, &food.findings[..], food.firm),
            (Answer::No, &["F101", "F104", "F102"][..], Some(false))
        );
        assert!(
            food.text.starts_with("F101 is told, at 11.5 of 20. F104 is told, at 11.5 of 20."),
            "{}",
            food.text
        );
        assert_eq!((size.answer, &size.findings[..], size.firm), (Answer::Yes, &["F201"][..], None));
        assert_eq!(dump.answer, Answer::Barely);
    }

    #[test]
    fn what_helps_a_bad_answer_comes_before_what_helps_as_many_others() {
        let steps = summary().steps;
        let told: Vec<_> = steps.iter().map(|step| (step.change.as_str(), step.helps.as_slice())).collect();
        assert_eq!(told, [("dump", &["F104", "F401"][..]), ("seal", &["F102", "F401"][..])]);
        // Another way to the same answers for no less is left out.
        let twice = [finding("F101", Question::Food, Answer::No, &["one", "another"])];
        assert_eq!(super::steps(&twice).len(), 1);
        // The dearer that helps a bad answer most is told after the cheaper that helps more of them.
        let both = [
            finding("F101", Question::Food, Answer::No, &["cure", "dial"]),
            finding("F104", Question::Food, Answer::No, &["dial"]),
        ];
        let told: Vec<String> = super::steps(&both).into_iter().map(|step| step.change).collect();
        assert_eq!(told, ["dial", "cure"]);
    }

    #[test]
    fn who_acts_is_told_with_what_comes_first() {
        let (household, plant, year) = (example::household(), example::plant(), example::year());
        let cautions = crate::caution::cautions(&household, &plant, &year);
        let summary = Summary::of(&household, &[], &[], &cautions);
        let told: usize = summary.call.iter().map(|call| call.first.len() + call.know.len()).sum();
        assert_eq!(told, cautions.len());
        let text = text::plain(&Report { blocks: section(&summary) });
        assert!(
            text.contains("The plumber: ") && text.lines().all(|line| line.chars().count() <= text::WIDTH)
        );
    }
}

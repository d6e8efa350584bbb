//! The household's questions, answered from a simulated year.

use serde::Serialize;

/// The household's questions, in the order in which they are answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Question {
    /// Will the food hold?
    Food,
    /// Is the pump the right size?
    PumpSize,
    /// Do we use the hot water it makes?
    HotWaterUsed,
    /// What has to be dumped, how fast, where?
    Dump,
    /// Where do dials, probes and ports go?
    Settings,
    /// Is there enough hot water?
    EnoughHotWater,
    /// Can someone be hurt?
    Harm,
}

/// A plain answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// Yes.
    Yes,
    /// Only just.
    Barely,
    /// No.
    No,
    /// The scenario does not say enough.
    Unknown,
}

/// One answered question, or part of one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// Code, `F` and three digits; stable.
    pub code: &'static str,
    /// The question it belongs to.
    pub question: Question,
    /// The answer.
    pub answer: Answer,
    /// The number that decides.
    pub value: f64,
    /// Its unit, as in the JSON keys (`h`, `1/day`, `kwh`, `l/day`, `degc`).
    pub unit: &'static str,
    /// The number it is held against, if there is one.
    pub limit: Option<f64>,
    /// Answer and reason in words.
    pub text: String,
    /// Where the limit comes from, with its trust word.
    pub source: &'static str,
    /// What would change the answer, found by running the changed year.
    pub remedies: Vec<Remedy>,
}

/// A change of the installation and what the changed year came to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Remedy {
    /// What to change, in words.
    pub change: String,
    /// The deciding number before.
    pub before: f64,
    /// The deciding number after.
    pub after: f64,
    /// Further effects in words (electricity, litres).
    pub text: String,
}

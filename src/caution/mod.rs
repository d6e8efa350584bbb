//! Cautions: what can hurt somebody, from which threshold on, and what to do about it.

use serde::Serialize;

/// How urgent a caution is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Severity {
    /// Worth knowing.
    Know,
    /// To be put right first.
    FixFirst,
    /// Nothing further before somebody qualified has looked.
    StopWork,
}

/// A caution raised for this household.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Caution {
    /// Code, `C` and three digits; stable.
    pub code: &'static str,
    /// Short title.
    pub title: &'static str,
    /// How urgent.
    pub severity: Severity,
    /// The household's number, why it matters, what to do, who does it.
    pub text: String,
    /// Source of the threshold, with its trust word.
    pub source: &'static str,
}

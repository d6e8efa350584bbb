//! Cautions: what can hurt somebody or the installation, from which threshold on, and what to do about it.

mod backflow;
mod coil_probe;
mod cold_place;
mod converted_tank;
mod dead_legs;
mod dump_heat;
mod electricity;
#[cfg(test)]
pub(crate) mod example;
mod freezing;
mod idle_loop;
mod legionella;
mod own_control;
mod perishable;
mod permits;
mod pressure;
mod refrigerant;
mod room_alarm;
mod scald;
mod scale;
mod shut_in;
mod spent_air;
mod wet_floor;
mod who;

pub use who::{Who, who_acts};

use std::cmp::Reverse;

use serde::Serialize;

use crate::explanation::Explanation;
use crate::household::Household;
use crate::plant::Plant;
use crate::year::Year;

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

impl Explanation {
    /// The caution that it explains, raised for a household.
    fn raised(&self, severity: Severity, text: String) -> Caution {
        Caution {
            code: self.code,
            title: self.title,
            severity,
            text,
            source: self.source.unwrap_or_default(),
        }
    }
}

/// Raises one caution, or stays silent.
type Raise = fn(&Household, &Plant, &Year) -> Option<Caution>;

/// Every caution of this tool, in the order of their codes.
const ALL: [Raise; 21] = [
    scald::caution,
    legionella::caution,
    electricity::caution,
    refrigerant::caution,
    backflow::caution,
    pressure::caution,
    dump_heat::caution,
    freezing::caution,
    own_control::caution,
    dead_legs::caution,
    converted_tank::caution,
    scale::caution,
    idle_loop::caution,
    cold_place::caution,
    wet_floor::caution,
    shut_in::caution,
    room_alarm::caution,
    perishable::caution,
    permits::caution,
    spent_air::caution,
    coil_probe::caution,
];

/// What every caution means, in the order of their codes.
pub const EXPLANATIONS: &[Explanation] = &[
    scald::EXPLANATION,
    legionella::EXPLANATION,
    electricity::EXPLANATION,
    refrigerant::EXPLANATION,
    backflow::EXPLANATION,
    pressure::EXPLANATION,
    dump_heat::EXPLANATION,
    freezing::EXPLANATION,
    own_control::EXPLANATION,
    dead_legs::EXPLANATION,
    converted_tank::EXPLANATION,
    scale::EXPLANATION,
    idle_loop::EXPLANATION,
    cold_place::EXPLANATION,
    wet_floor::EXPLANATION,
    shut_in::EXPLANATION,
    room_alarm::EXPLANATION,
    perishable::EXPLANATION,
    permits::EXPLANATION,
    spent_air::EXPLANATION,
    coil_probe::EXPLANATION,
];

/// The cautions that this household has to be told, the most urgent first, then by code.
pub fn cautions(household: &Household, plant: &Plant, year: &Year) -> Vec<Caution> {
    let mut raised: Vec<_> = ALL.iter().filter_map(|caution| caution(household, plant, year)).collect();
    raised.sort_by_key(|caution| (Reverse(caution.severity), caution.code));
    raised
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cautions_come_most_urgent_first_and_then_by_code() {
        let mut year = example::year();
        year.total.tank_top_k.max = 333.15;
        let raised = cautions(&example::household(), &example::plant(), &year);
        assert!(raised.len() >= 4);
        assert_eq!(raised[0].code, "C001");
        assert!(raised.windows(2).all(|pair| {
            pair[0].severity > pair[1].severity
                || (pair[0].severity == pair[1].severity && pair[0].code < pair[1].code)
        }));
    }

    #[test]
    fn every_caution_defers_to_somebody_and_names_its_source() {
        for caution in cautions(&example::household(), &example::plant(), &example::year()) {
            assert!(
                caution.text.contains("local code") || caution.text.contains("licensed"),
                "{}",
                caution.text
            );
            assert!(
                ["Checked", "Second hand", "Common practice"]
                    .iter()
                    .any(|word| caution.source.contains(word)),
                "{}",
                caution.source
            );
        }
    }
}

//! Other ways of cooling the same room.

use super::super::checker::{Checker, Section};
use crate::household::{Alternatives, ConditionerTold, FansTold};
use crate::units::{flow, interval, kelvin, kilograms, watts};

/// What is said about them; nothing where the section is left out.
pub(super) fn alternatives(at: &mut Checker, top: &Section<'_>) -> Alternatives {
    let Some(section) = at.optional_section(top, "alternatives") else { return Alternatives::default() };
    let heat_pump = at.optional_section(&section, "heat_pump");
    Alternatives {
        years: at.number(&section, "years"),
        heat_pump_investment: heat_pump.and_then(|section| at.number(&section, "investment")),
        fans: at
            .optional_section(&section, "outdoor_fans")
            .map_or_else(FansTold::default, |section| fans(at, &section)),
        conditioner: at
            .optional_section(&section, "air_conditioner")
            .map_or_else(ConditionerTold::default, |section| conditioner(at, &section)),
    }
}

fn fans(at: &mut Checker, section: &Section<'_>) -> FansTold {
    FansTold {
        flow: at.optional(section, "flow").map(flow),
        power: at.optional(section, "power").map(watts),
        margin: at.optional(section, "margin").map(interval),
        coldest: at.optional(section, "coldest").map(kelvin),
        mixes: at.word(section, "in_colder_air").map(|word| word == "mix"),
        helped_from: at.optional(section, "helped_from").map(interval),
        investment: at.number(section, "investment"),
    }
}

fn conditioner(at: &mut Checker, section: &Section<'_>) -> ConditionerTold {
    ConditionerTold {
        cooling: at.optional(section, "cooling").map(watts),
        power: at.optional(section, "power").map(watts),
        fans: at.optional(section, "fans").map(watts),
        frost: at.optional(section, "frost").map(kilograms),
        investment: at.number(section, "investment"),
    }
}

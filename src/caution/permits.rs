//! C019, permits and insurance.

use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::{CoolerUnit, Destination, Household};
use crate::plant::Plant;
use crate::wording::list;
use crate::year::Year;

const SOURCE: &str = "Which work needs a permit is a matter of local code. That insurers ask for permits and for the maker's limits after a fire or a flood: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C019",
    title: "Permits and insurance",
    says: "Which parts of this installation commonly need a permit, an inspection or a word with the insurer.",
    why: "After a fire, a flood or a poisoning the insurer asks who did the work, by which permit, and whether the machine was used as its papers allow. A sale of the house asks again.",
    what_to_do: "Ask the building office before cutting pipe, and the insurer in writing. Have licensed trades do what your local code leaves to them, and keep their papers, the \
        permits and this report together.",
    silent: Some("Never: no scenario can tell what your local code asks."),
    source: Some(SOURCE),
};

/// C019, permits and insurance.
pub fn caution(household: &Household, _plant: &Plant, _year: &Year) -> Option<Caution> {
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let mut parts = vec![
        "the heat pump's circuit (electrical)".to_owned(),
        "the connection of pump, tank and relief line to drinking water (plumbing)".to_owned(),
    ];
    if household.element.is_some() || household.booster.as_ref().is_some_and(|booster| booster.is_electric())
    {
        parts.push("the electric heater of the water (electrical)".to_owned());
    }
    if household.booster.as_ref().is_some_and(|booster| !booster.is_electric()) {
        parts.push("the booster with its fuel and flue (gas or fuel)".to_owned());
    }
    if let Some(dump) = &household.dump {
        let drained = dump.destinations.iter().any(|place| place.kind == Destination::Drain);
        let watered = dump.destinations.iter().any(|place| place.kind != Destination::Drain);
        if drained {
            parts.push(
                "the dump into a drain (plumbing; the sewer's owner may limit heat and flow)".to_owned(),
            );
        }
        if watered {
            parts.push(
                "the dump line outdoors with its backflow preventer (plumbing; some are tested every year)"
                    .to_owned(),
            );
        }
    }
    if unit.charge.is_some() {
        parts.push("refrigerant in a closed room (refrigeration)".to_owned());
    }
    let text = format!(
        "Commonly under permit or inspection here: {}. Ask the building office before cutting pipe; your local code decides, and licensed trades do what it leaves to them. Tell the \
         insurer in writing of a machine that is used otherwise than its papers say, and keep all papers together.",
        list(&parts)
    );
    Some(EXPLANATION.raised(Severity::Know, text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;

    fn text(change: impl Fn(&mut Household)) -> String {
        let mut household = example::household();
        change(&mut household);
        caution(&household, &example::plant(), &example::year()).expect("always told").text
    }

    #[test]
    fn only_what_there_is_is_named() {
        let all = text(|_| ());
        assert!(all.contains("dump") && all.contains("refrigerant"), "{all}");
        let bare = text(|household| {
            household.dump = None;
            household.booster = None;
            let CoolerUnit::HeatPump(unit) = &mut household.cooler;
            unit.charge = None;
        });
        assert!(!bare.contains("dump") && !bare.contains("refrigerant") && !bare.contains("flue"), "{bare}");
    }

    #[test]
    fn it_is_worth_knowing_and_never_more() {
        let caution =
            caution(&example::household(), &example::plant(), &example::year()).expect("always told");
        assert_eq!(caution.severity, Severity::Know);
    }

    #[test]
    fn each_kind_of_booster_has_its_own_trade() {
        let fuel = text(|_| ());
        let none = text(|household| household.booster = None);
        assert!(fuel.len() > none.len());
    }
}

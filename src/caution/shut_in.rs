//! C016, somebody shut in.

use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::{CoolerUnit, Household};
use crate::plant::Plant;
use crate::wording::Wording;
use crate::year::Year;

const SOURCE: &str = "Doors of cold rooms that can be opened from inside at any time, and an alarm from inside: EN 378-1 (From memory, to be verified); \
    exit doors that open from inside without keys or tools: 29 CFR 1910.36(d) (From memory, to be verified). That children climb in: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C016",
    title: "Somebody shut in",
    says: "Whether every door of the room opens from inside, locked or not.",
    why: "A room that can be walked into can shut somebody in: in the cold, in the dark, with refrigerant or the carbon dioxide of the produce in the air.",
    what_to_do: "A release inside that opens the door even when it is locked, a light that can be switched on inside, and a way to be heard. Take off \
        latches that work from outside alone. A licensed trade and your local code say what else.",
    silent: Some("When `room.opens_from_inside` is `yes`."),
    source: Some(SOURCE),
};

/// C016, somebody shut in.
pub fn caution(household: &Household, _plant: &Plant, _year: &Year) -> Option<Caution> {
    let say = Wording(household.units);
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let refrigerant = if unit.charge.is_some() { " with a refrigerant unit in it" } else { "" };
    let room = format!("a room of {}{refrigerant}", say.space(household.room.volume().value));
    let (severity, text) = match household.safeguards.opens_from_inside {
        Some(true) => return None,
        Some(false) => (
            Severity::StopWork,
            format!(
                "The door of {room} does not open from inside: whoever it shuts in cannot get out. Let nobody work in there, nor a child near it, before it has a release \
                 inside that opens it even when it is locked. Your local code says what else such a door needs."
            ),
        ),
        None => (
            Severity::Know,
            format!(
                "It is not said whether every door of {room} opens from inside, locked or not (`room.opens_from_inside`). Try it with somebody outside. A release inside, a \
                 light switch inside and a way to be heard belong to every room that can be walked into; your local code says what else."
            ),
        ),
    };
    Some(EXPLANATION.raised(severity, text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;

    fn with(opens: Option<bool>) -> Option<Caution> {
        let mut household = example::household();
        household.safeguards.opens_from_inside = opens;
        caution(&household, &example::plant(), &example::year())
    }

    #[test]
    fn a_door_that_opens_from_inside_is_left_alone() {
        assert_eq!(with(Some(true)), None);
    }

    #[test]
    fn a_door_that_nobody_has_tried_is_asked_about() {
        let open = with(None).expect("not said");
        assert!(open.severity == Severity::Know && open.text.contains("opens_from_inside"), "{}", open.text);
    }

    #[test]
    fn a_door_that_shuts_people_in_stops_work() {
        assert_eq!(with(Some(false)).expect("told").severity, Severity::StopWork);
    }
}

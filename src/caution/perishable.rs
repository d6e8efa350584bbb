//! C018, food that needs more cold than produce.

use super::{Caution, Severity};
use crate::constants::ZERO_CELSIUS_K;
use crate::explanation::Explanation;
use crate::household::Household;
use crate::plant::Plant;
use crate::wording::{MONTHS, Wording};
use crate::year::Year;

/// Warmest that perishable food may be, K: 40 °F.
const WARMEST_K: f64 = ZERO_CELSIUS_K + 40.0 / 9.0;

const SOURCE: &str = "4.4 °C (40 °F) for milk, meat, fish, eggs and cooked food, thrown out after more than 4 hours above it: US federal food-safety advice (Second hand: county \
    and press copies). 5 °C (41 °F) in shops: FDA Food Code 3-501.16 (From memory, to be verified). Toxin in sealed or oiled vegetables: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C018",
    title: "Food that needs more cold than produce",
    says: "Whether the room is cold enough for milk, meat, fish, eggs and cooked food, and whether any is kept there.",
    why: "Produce that is too warm rots and is seen to. Milk, meat, fish and cooked food that are too warm look and smell as before and make people ill; pregnant, old and \
        very young people first. Garlic or herbs in oil and home-sealed vegetables can grow a deadly toxin without a sign.",
    what_to_do: "Keep such food in a refrigerator of its own with a thermometer in it, or keep this room below the limit with an alarm. Raw meat and fish lowest and covered, never above \
        what is eaten raw. Who sells or serves food asks the local health department first: local code rules there.",
    silent: Some(
        "When the food in the room never gets warmer than 4.4 °C, or `room.food.perishable` is `no`.",
    ),
    source: Some(SOURCE),
};

/// C018, food that needs more cold than produce.
pub fn caution(household: &Household, _plant: &Plant, year: &Year) -> Option<Caution> {
    let say = Wording(household.units);
    let warmest_k = year.total.food_k.max;
    if warmest_k <= WARMEST_K || household.safeguards.perishable == Some(false) {
        return None;
    }
    let worst = (0..12)
        .max_by(|&one, &other| year.months[one].food_k.max.total_cmp(&year.months[other].food_k.max))
        .unwrap_or(0);
    let reached = format!(
        "What lies in the room gets as warm as {} in {}; milk, meat, fish, eggs and cooked food have to stay at {} or below.",
        say.temperature(warmest_k),
        MONTHS[worst],
        say.temperature(WARMEST_K)
    );
    let (severity, rest) = if household.safeguards.perishable == Some(true) {
        (
            Severity::FixFirst,
            "Some of it is kept here: move it to a refrigerator with a thermometer of its own, or keep the room colder with an alarm. It makes people ill before it smells. Who sells \
             food asks the local health department; local code rules.",
        )
    } else {
        (
            Severity::Know,
            "Keep none of it here, nor garlic or herbs in oil; say so with `room.food.perishable`. It makes people ill before it smells. Who sells food asks the local health \
             department; local code rules.",
        )
    };
    Some(EXPLANATION.raised(severity, format!("{reached} {rest}")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;

    fn with(warmest_k: f64, perishable: Option<bool>) -> Option<Caution> {
        let mut household = example::household();
        household.safeguards.perishable = perishable;
        let mut year = example::year();
        year.total.food_k.max = warmest_k;
        caution(&household, &example::plant(), &year)
    }

    #[test]
    fn a_room_as_cold_as_that_is_left_alone() {
        assert_eq!(with(WARMEST_K - 0.01, Some(true)), None);
        assert_eq!(with(WARMEST_K, Some(true)), None);
    }

    #[test]
    fn above_it_such_food_has_to_go_and_where_nothing_is_said_none_may_come() {
        assert_eq!(with(WARMEST_K + 0.01, Some(true)).expect("told").severity, Severity::FixFirst);
        let unsaid = with(WARMEST_K + 0.01, None).expect("told");
        assert!(
            unsaid.severity == Severity::Know && unsaid.text.contains("room.food.perishable"),
            "{}",
            unsaid.text
        );
    }

    #[test]
    fn produce_alone_needs_no_word() {
        assert_eq!(with(WARMEST_K + 5.0, Some(false)), None);
    }
}

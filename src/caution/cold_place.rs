//! C014, a unit in a colder place than it may be made for.

use super::{Caution, Severity};
use crate::constants::ZERO_CELSIUS_K;
use crate::explanation::Explanation;
use crate::household::{CoolerUnit, Household};
use crate::plant::{Cooler, Plant};
use crate::wording::Wording;
use crate::year::Year;

/// Coldest place that advice for indoor heat-pump water heaters allows, K: 40 °F.
const COLDEST_ADVISED_K: f64 = ZERO_CELSIUS_K + 40.0 / 9.0;

const SOURCE: &str = "4.4 to 32.2 °C (40 to 90 °F) all year for units that stand indoors: consumer checklist of a US federal \
    efficiency programme (Checked: original read). That units without defrost stop between 5 and 8 °C: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C014",
    title: "A unit in a colder place than it is made for",
    says: "Whether the unit's papers allow air as cold as the room's, and a place such as the room.",
    why: "Many units that stand indoors are made for air above 4.4 °C (40 °F): in a cold room they ice up or stop, and the food warms. A unit \
        listed for outdoors is not listed for a closed room: its electrical safety and its refrigerant were judged for another place.",
    what_to_do: "Read the lowest air and the place of use in the unit's papers and say them in the scenario. Otherwise ask the maker; a licensed \
        electrician and your local code decide about a unit that is not listed for its place.",
    silent: Some(
        "When `lowest_air` and `listed_for_room: yes` are given and the unit never stops in the year for air that is too cold.",
    ),
    source: Some(SOURCE),
};

/// C014, a unit in a colder place than it may be made for.
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let Cooler::HeatPump(pump) = &plant.cooler;
    let say = Wording(household.units);
    let assumed = household.defaults.iter().any(|one| one.key == "cooler.heat_pump.lowest_air");
    let coldest_kept_k = plant.thermostat.off_at_k;
    let mut told = Vec::new();
    let mut severity = Severity::Know;
    if year.total.locked_by_cold_air_s > 0.0 {
        severity = Severity::FixFirst;
        told.push(format!(
            "The unit stops for {} of the year because the room's air is colder than its {}: it needs another unit, a warmer room, or its \
             maker's word that it may run colder.",
            say.hours(year.total.locked_by_cold_air_s),
            say.temperature(pump.air_stop_low_k)
        ));
    }
    if assumed && coldest_kept_k < COLDEST_ADVISED_K {
        told.push(format!(
            "The room is kept as cold as {}, and it is not said how cold the unit's air may be (`lowest_air`); this year assumes {}. Advice for \
             units that stand indoors asks for {} and more all year, and units without a defrost ice up or stop.",
            say.temperature(coldest_kept_k),
            say.temperature(pump.air_stop_low_k),
            say.temperature(COLDEST_ADVISED_K)
        ));
    }
    match unit.listed_for_room {
        Some(true) => {}
        Some(false) => {
            severity = Severity::FixFirst;
            told.push(
                "The unit's papers do not allow it in this room. A unit listed for outdoors was judged for rain and open air, not for a closed \
                 damp room."
                    .to_owned(),
            );
        }
        None => told.push(
            "It is not said whether the unit's papers allow it in such a room (`listed_for_room`)."
                .to_owned(),
        ),
    }
    if told.is_empty() {
        return None;
    }
    told.push(
        "Read its papers or ask the maker; a licensed electrician and your local code decide about a unit that is not listed for its \
         place."
            .to_owned(),
    );
    Some(EXPLANATION.raised(severity, told.join(" ")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::household::DefaultUsed;

    fn with(off_at_k: f64, assumed: bool, listed: Option<bool>, locked_s: f64) -> Option<Caution> {
        let mut household = example::household();
        household.defaults.clear();
        if assumed {
            household.defaults.push(DefaultUsed {
                key: "cooler.heat_pump.lowest_air".to_owned(),
                value: "-5 degC".to_owned(),
                reason: "Common practice, no source".to_owned(),
            });
        }
        let CoolerUnit::HeatPump(unit) = &mut household.cooler;
        unit.listed_for_room = listed;
        let mut plant = example::plant();
        plant.thermostat.off_at_k = off_at_k;
        let mut year = example::year();
        year.total.locked_by_cold_air_s = locked_s;
        caution(&household, &plant, &year)
    }

    #[test]
    fn a_unit_whose_papers_are_known_and_kept_to_is_left_alone() {
        assert_eq!(with(ZERO_CELSIUS_K + 1.0, false, Some(true), 0.0), None);
    }

    #[test]
    fn below_40_degrees_fahrenheit_the_unit_s_lowest_air_is_asked_for() {
        let below = with(COLDEST_ADVISED_K - 0.01, true, Some(true), 0.0).expect("below");
        assert_eq!(below.severity, Severity::Know);
        assert!(below.text.contains("`lowest_air`"), "{}", below.text);
        assert_eq!(with(COLDEST_ADVISED_K, true, Some(true), 0.0), None);
        assert_eq!(with(COLDEST_ADVISED_K + 0.01, true, Some(true), 0.0), None);
    }

    #[test]
    fn a_unit_that_stops_in_its_own_cold_is_to_be_put_right() {
        let stops = with(ZERO_CELSIUS_K + 3.0, false, Some(true), 7200.0).expect("it stops");
        assert_eq!(stops.severity, Severity::FixFirst);
        assert!(stops.text.contains("colder than its"), "{}", stops.text);
    }

    #[test]
    fn a_unit_that_is_not_listed_for_the_room_is_to_be_put_right_and_an_unknown_one_asked_for() {
        assert_eq!(with(280.0, false, Some(false), 0.0).expect("not listed").severity, Severity::FixFirst);
        let unknown = with(280.0, false, None, 0.0).expect("not known");
        assert_eq!(unknown.severity, Severity::Know);
        assert!(unknown.text.contains("`listed_for_room`"), "{}", unknown.text);
    }
}

//! C017, a room that fails unheard.

use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::finding::ONE_EVENT_S;
use crate::household::{Household, RoomAlarm};
use crate::plant::{HOUR_S, Plant};
use crate::wording::Wording;
use crate::year::Year;

const SOURCE: &str = "4 hours above the limit as what perishable food bears: US food-safety advice (Checked: original read, a county public-health page). An alarm that \
    does not depend on what it watches: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C017",
    title: "A room that fails unheard",
    says: "Whether alarms of their own tell that the room gets too warm or too cold, and how fast it warms without its machine.",
    why: "A tripped breaker, a lock-out, a stuck contact or a thermostat's dead probe spoil a winter's food in a weekend, and nobody hears it.",
    what_to_do: "Two thermometers with alarms, one too warm and one too cold, with batteries and a probe of their own between the food, and a signal where somebody lives. \
        Test them every season with warm water and with ice. An alarm wired to the mains is for a licensed electrician, by your local code.",
    silent: Some("When `room.alarm` is `both`."),
    source: Some(SOURCE),
};

/// C017, a room that fails unheard.
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let say = Wording(household.units);
    let alarm = household.safeguards.alarm;
    if alarm == Some(RoomAlarm::Both) {
        return None;
    }
    let total = &year.total;
    let too_warm = total.over_band_s > ONE_EVENT_S;
    let freezes = total.frozen_contents_s > 0.0;
    let deaf_to = |known: fn(RoomAlarm) -> bool| alarm.is_some_and(|alarm| !known(alarm));
    let severity = if (too_warm && deaf_to(RoomAlarm::warm)) || (freezes && deaf_to(RoomAlarm::cold)) {
        Severity::FixFirst
    } else {
        Severity::Know
    };
    let has = match alarm {
        None => "It is not said whether the room has alarms of its own (`room.alarm`).".to_owned(),
        Some(RoomAlarm::TooWarm) => {
            "The room has an alarm when it gets too warm, and none when it gets too cold.".to_owned()
        }
        Some(RoomAlarm::TooCold) => {
            "The room has an alarm when it gets too cold, and none when it gets too warm.".to_owned()
        }
        Some(RoomAlarm::None | RoomAlarm::Both) => "The room has no alarm of its own.".to_owned(),
    };
    let mut told = vec![has];
    if too_warm || freezes {
        told.push(format!(
            "Even as planned the food is too warm for {} and freezes for {} of the year.",
            say.hours(total.over_band_s),
            say.hours(total.frozen_contents_s)
        ));
    }
    if let Some(hours) = hours_to_limit(plant, year) {
        told.push(format!(
            "If the machine stops on the day with the most load, the food is at {} after about {}.",
            say.temperature(plant.room.warm_limit_k),
            say.hours(hours * HOUR_S)
        ));
    }
    told.push(
        "Keep two thermometers with alarms between the food, one too warm, one too cold, that need neither the thermostat nor the mains, and try them every season. An alarm \
         wired to the mains is for a licensed electrician."
            .to_owned(),
    );
    Some(EXPLANATION.raised(severity, told.join(" ")))
}

/// Hours in which the heaviest day's load brings what is stored from the set point to the warm limit. Derived here: heat capacity of the room and its produce
/// times the difference, over the day's mean load; as the room warms the load falls, so it is on the short side.
fn hours_to_limit(plant: &Plant, year: &Year) -> Option<f64> {
    let heaviest =
        year.heaviest_days.iter().flatten().max_by(|one, other| one.load_j.total_cmp(&other.load_j))?;
    let load_w = heaviest.load_j / 86_400.0;
    let produce = plant.room.produce.iter();
    let produce_j_per_k: f64 =
        produce.map(|crop| crop.mass_on_kg(heaviest.day) * crop.specific_heat_j_per_kg_k).sum();
    let capacity_j_per_k =
        plant.room.fixed_capacity_j_per_k + plant.room.air_capacity_j_per_k + produce_j_per_k;
    let set_k = 0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k);
    let to_go_dk = plant.room.warm_limit_k - set_k;
    (load_w > 0.0 && to_go_dk > 0.0).then(|| capacity_j_per_k * to_go_dk / load_w / HOUR_S)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use approx::assert_relative_eq;

    fn with(alarm: Option<RoomAlarm>, over_s: f64, frozen_s: f64) -> Option<Caution> {
        let mut household = example::household();
        household.safeguards.alarm = alarm;
        let mut year = example::year();
        (year.total.over_band_s, year.total.frozen_contents_s) = (over_s, frozen_s);
        caution(&household, &example::plant(), &year)
    }

    #[test]
    fn alarms_on_both_sides_are_left_alone() {
        assert_eq!(with(Some(RoomAlarm::Both), 1e6, 1e6), None);
    }

    #[test]
    fn the_missing_alarm_is_to_be_fixed_where_the_year_needs_it() {
        for (over_s, severity) in [
            (ONE_EVENT_S - 1.0, Severity::Know),
            (ONE_EVENT_S, Severity::Know),
            (ONE_EVENT_S + 1.0, Severity::FixFirst),
        ] {
            assert_eq!(
                with(Some(RoomAlarm::None), over_s, 0.0).expect("told").severity,
                severity,
                "{over_s}"
            );
        }
        assert_eq!(with(Some(RoomAlarm::TooWarm), 1e6, 0.0).expect("told").severity, Severity::Know);
        assert_eq!(with(Some(RoomAlarm::TooWarm), 0.0, 1.0).expect("told").severity, Severity::FixFirst);
        assert_eq!(with(Some(RoomAlarm::TooCold), 0.0, 1.0).expect("told").severity, Severity::Know);
        assert!(with(None, 0.0, 0.0).expect("told").text.contains("`room.alarm`"));
    }

    /// Hand calculation: (2.8e5 + 2.7e4) J/K and no produce, 2 K to go, at 1000 W: 614 s.
    #[test]
    fn a_stopped_room_warms_by_its_load() {
        let plant = example::plant();
        let mut year = example::year();
        for day in year.heaviest_days.iter_mut().flatten() {
            day.load_j = 86.4e6;
        }
        assert_relative_eq!(
            hours_to_limit(&plant, &year).expect("it warms") * 3600.0,
            614.0,
            max_relative = 1e-6
        );
    }
}

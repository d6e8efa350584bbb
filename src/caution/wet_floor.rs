//! C015, water and ice underfoot.

use super::{Caution, Severity};
use crate::constants::ZERO_CELSIUS_K;
use crate::explanation::Explanation;
use crate::household::Household;
use crate::plant::Plant;
use crate::wording::{MONTHS, Wording, months};
use crate::year::Year;

/// Water on walls and produce in a year from which it may stand on the floor, kg. Common practice, no source.
const WET_FLOOR_KG: f64 = 10.0;
/// Water at less than a kilogram a litre: what a bucket of a cubic metre holds, kg.
const KG_PER_M3: f64 = 1000.0;

const SOURCE: &str = "0 °C: the freezing point of water. 10 kg a year as what reaches the floor: Common practice, no source. Dry floors and walking \
    surfaces free of ice are asked for at work places: 29 CFR 1910.22(a) (From memory, to be verified).";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C015",
    title: "Water and ice underfoot",
    says: "How much water runs off the coil and the walls, whether its bucket holds a day's worth, and whether it may freeze on the floor.",
    why: "Somebody with a crate in their arms slips on a wet or icy floor; an overflowing bucket or a blocked drain soaks insulation and food.",
    what_to_do: "Lead the coil's water to a drain with a trap, or into a bucket that holds more than the wettest day, with a float that stops the unit. \
        Slope the floor to a drain, keep a mat that grips at the door. A licensed plumber connects the drain as your local code asks.",
    silent: Some(
        "When no bucket overflows in a day, the room's air never falls below 0 °C while water runs, and hardly any water condenses on the walls.",
    ),
    source: Some(SOURCE),
};

/// C015, water and ice underfoot.
pub fn caution(household: &Household, _plant: &Plant, year: &Year) -> Option<Caution> {
    let say = Wording(household.units);
    let mut told = Vec::new();
    let mut severity = Severity::Know;
    let wettest = year.wettest_day;
    if let (Some(bucket), Some(day)) = (household.room.condensate_bucket, wettest)
        && day.condensate_kg > bucket.value * KG_PER_M3
    {
        severity = Severity::FixFirst;
        told.push(format!(
            "On the wettest day {} run off the coil, more than the bucket's {}: it overflows before a day is over.",
            say.volume(day.condensate_kg / KG_PER_M3),
            say.volume(bucket.value)
        ));
    }
    let freezes = |month: usize| {
        let interval = &year.months[month];
        interval.air_k.min < ZERO_CELSIUS_K && interval.condensate_kg + interval.wall_condensate_kg > 0.0
    };
    let when = months(freezes);
    if !when.is_empty() {
        told.push(format!(
            "In {when} water runs off the coil or the walls while the room's air falls below {}: what is spilt or drips turns to ice on the floor and in the drain.",
            say.temperature(ZERO_CELSIUS_K)
        ));
    }
    if year.total.wall_condensate_kg > WET_FLOOR_KG {
        let most = (0..12)
            .max_by(|&one, &other| {
                year.months[one].wall_condensate_kg.total_cmp(&year.months[other].wall_condensate_kg)
            })
            .unwrap_or(0);
        told.push(format!(
            "{} of water condense on walls and produce in the year, most of it in {}: the floor under them is wet.",
            say.mass(year.total.wall_condensate_kg),
            MONTHS[most]
        ));
    }
    if told.is_empty() {
        return None;
    }
    told.push(
        "Lead the water to a drain, keep a mat that grips at the door, and look at the floor before you carry anything in; a licensed plumber connects \
         the drain as your local code asks."
            .to_owned(),
    );
    Some(EXPLANATION.raised(severity, told.join(" ")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::units::cubic_metres;
    use crate::year::WetDay;

    fn bucket(litres: f64) -> Option<Caution> {
        let mut household = example::household();
        household.room.condensate_bucket = Some(cubic_metres(litres / 1000.0));
        let mut year = example::year();
        year.wettest_day = Some(WetDay { day: 200, condensate_kg: 8.0 });
        caution(&household, &example::plant(), &year)
    }

    #[test]
    fn a_bucket_that_holds_the_wettest_day_is_left_alone() {
        assert_eq!(bucket(8.001), None);
        assert_eq!(bucket(8.0), None);
        let small = bucket(7.999).expect("it overflows");
        assert_eq!(small.severity, Severity::FixFirst);
        assert!(small.text.contains("overflows"), "{}", small.text);
    }

    fn at_air(air_k: f64) -> Option<Caution> {
        let mut year = example::year();
        for month in &mut year.months {
            month.condensate_kg = 3.0;
        }
        year.months[0].air_k.min = air_k;
        caution(&example::household(), &example::plant(), &year)
    }

    #[test]
    fn water_in_air_below_freezing_turns_to_ice() {
        assert_eq!(at_air(ZERO_CELSIUS_K + 0.01), None);
        assert_eq!(at_air(ZERO_CELSIUS_K), None);
        let ice = at_air(ZERO_CELSIUS_K - 0.01).expect("it freezes");
        assert!(ice.severity == Severity::Know && ice.text.contains("ice on the floor"), "{}", ice.text);
    }

    #[test]
    fn wet_walls_are_told_from_their_limit_on() {
        for (kg, told) in [(WET_FLOOR_KG - 0.01, false), (WET_FLOOR_KG, false), (WET_FLOOR_KG + 0.01, true)] {
            let mut year = example::year();
            year.total.wall_condensate_kg = kg;
            assert_eq!(caution(&example::household(), &example::plant(), &year).is_some(), told, "{kg}");
        }
    }
}

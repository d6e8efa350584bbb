use super::{Caution, Severity};
use crate::constants::ZERO_CELSIUS_K;
use crate::explanation::Explanation;
use crate::household::{Destination, Household, WaterTaker};
use crate::plant::{Plant, Surroundings};
use crate::wording::{Wording, months};
use crate::year::Year;

/// Temperature at which water in a pipe freezes, K. Source: the freezing point of water at one atmosphere, 0 °C.
const WATER_FREEZES_K: f64 = ZERO_CELSIUS_K;

const SOURCE: &str = "0 °C: the freezing point of water. What bursts first: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C008",
    title: "Freezing pipes",
    says: "That the room, the tank, the place it stands in, or the line outdoors goes below 0 °C, and when.",
    why: "Ice bursts pipes, the pump's water side and valves, and a line blocked by ice cannot \
        relieve the tank.",
    what_to_do: "Set point up, slope the outdoor line so that it drains by itself, a licensed plumber for \
        the drain-down valve.",
    silent: Some(
        "When contents and air, the tank and the place it stands in stay at or above 0 °C and no dump line leads outdoors in a month \
        with frost.",
    ),
    source: Some(SOURCE),
};

/// C008, water freezing in pipes.
///
/// Limits: [`WATER_FREEZES_K`].
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let say = Wording(household.units);
    let parts = [tank(plant, year, say), room(year, say), outdoor_line(household, plant, say)];
    let severity = parts.iter().flatten().map(|(severity, _)| *severity).max()?;
    let text = parts.into_iter().flatten().map(|(_, text)| text).collect::<Vec<_>>().join(" ");
    Some(EXPLANATION.raised(severity, text))
}

fn room(year: &Year, say: Wording) -> Option<(Severity, String)> {
    let (air_k, contents_k) = (year.total.air_k.min, year.total.contents_k.min);
    if contents_k < WATER_FREEZES_K {
        let when = months(|month| year.months[month].contents_k.min < WATER_FREEZES_K);
        let text = format!(
            "Everything in the room goes down to {} in {when}: water standing in pipes, in the pump and in its drain \
             freezes and bursts them. Keep the room above {} or have a licensed plumber protect and drain these pipes.",
            say.temperature(contents_k),
            say.temperature(WATER_FREEZES_K),
        );
        Some((Severity::FixFirst, text))
    } else if air_k < WATER_FREEZES_K {
        let when = months(|month| year.months[month].air_k.min < WATER_FREEZES_K);
        let text = format!(
            "The room's air dips below {} in {when}, to {} at the coldest, while what is stored stays above freezing. \
             Insulate the water pipes in the room and see that the condensate drain stays open.",
            say.temperature(WATER_FREEZES_K),
            say.temperature(air_k),
        );
        Some((Severity::Know, text))
    } else {
        None
    }
}

fn outdoor_line(household: &Household, plant: &Plant, say: Wording) -> Option<(Severity, String)> {
    let dump = household.dump.as_ref()?;
    let outdoors = |month: usize| {
        let led = |taker: &WaterTaker| taker.kind != Destination::Drain && taker.months[month];
        dump.months[month] && dump.destinations.iter().any(led)
    };
    let coldest_k: Vec<f64> = (0..12).map(|month| plant.coldest_outdoors_k(month)).collect();
    let frost = |month: usize| outdoors(month) && coldest_k[month] < WATER_FREEZES_K;
    let when = months(frost);
    if when.is_empty() {
        return None;
    }
    let coldest_k =
        (0..12).filter(|&month| frost(month)).map(|month| coldest_k[month]).fold(f64::INFINITY, f64::min);
    let text = format!(
        "The dump line leads outdoors and may open in {when}, when the outdoor air goes down to {}. It must slope so that it \
         empties by itself after each opening, with its valve in the warm; a line that stays full freezes and then \
         cannot relieve the tank.",
        say.temperature(coldest_k),
    );
    Some((Severity::FixFirst, text))
}

/// The tank itself, and the place in which it stands.
fn tank(plant: &Plant, year: &Year, say: Wording) -> Option<(Severity, String)> {
    let freezes = months(|month| year.months[month].tank_coldest_k.min <= WATER_FREEZES_K);
    if !freezes.is_empty() {
        let text = format!(
            "Water in the tank goes down to {} in {freezes}: it freezes, and ice bursts the tank and its pipes. The year reckons it as water all the \
             same, so nothing it says of these months holds. Put the tank where it stays warm, or drain it before the frost.",
            say.temperature(year.total.tank_coldest_k.min)
        );
        return Some((Severity::FixFirst, text));
    }
    let Surroundings::Boundary(boundary) = plant.tank.surroundings else { return None };
    let coldest_k = |month: usize| plant.coldest_k(boundary, month);
    let when = months(|month| coldest_k(month) < WATER_FREEZES_K);
    if when.is_empty() {
        return None;
    }
    let text = format!(
        "The tank stands where it goes down to {} in {when}: its pipes and valves freeze long before its water does, and so does the relief valve's \
         outlet, which then cannot let the pressure out. Let it stand in the warm, or have a licensed plumber insulate and heat every pipe and valve \
         there and lead the relief valve's drain so that no ice closes it.",
        say.temperature((0..12).map(coldest_k).fold(f64::INFINITY, f64::min))
    );
    Some((Severity::FixFirst, text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};

    fn with(contents_degc: f64, air_degc: f64, outdoor_degc: f64) -> Option<Caution> {
        let (mut household, mut plant, mut year) = (household(), plant(), year());
        household.dump.as_mut().unwrap().destinations[0].kind = Destination::Irrigation;
        plant.boundaries[0].temperature_k.fill(outdoor_degc + ZERO_CELSIUS_K);
        plant.tank.surroundings = Surroundings::ColdRoom;
        for month in year.months.iter_mut().chain([&mut year.total]) {
            month.contents_k.min = contents_degc + ZERO_CELSIUS_K;
            month.air_k.min = air_degc + ZERO_CELSIUS_K;
        }
        caution(&household, &plant, &year)
    }

    fn severity(contents_degc: f64, air_degc: f64, outdoor_degc: f64) -> Option<Severity> {
        with(contents_degc, air_degc, outdoor_degc).map(|caution| caution.severity)
    }

    #[test]
    fn just_above_freezing_it_is_silent() {
        assert_eq!(severity(0.1, 0.1, 0.1), None);
    }

    #[test]
    fn at_freezing_it_is_silent() {
        assert_eq!(severity(0.0, 0.0, 0.0), None);
    }

    #[test]
    fn below_freezing_each_place_speaks_for_itself() {
        assert_eq!(severity(-0.1, -0.1, 5.0), Some(Severity::FixFirst));
        assert_eq!(severity(1.0, -0.1, 5.0), Some(Severity::Know));
        assert_eq!(severity(1.0, 1.0, -0.1), Some(Severity::FixFirst));
        assert!(with(-0.5, -0.6, -8.0).unwrap().text.contains("-8 °C"));
    }

    /// The place in which the tank stands around freezing, and its water: just above, at, just below.
    #[test]
    fn a_tank_in_the_frost_is_told_and_one_that_freezes_first() {
        let told = |around_degc: f64, water_degc: f64| {
            let (household, mut plant, mut year) = (household(), plant(), year());
            plant.boundaries.push(plant.boundaries[0].clone());
            plant.boundaries[1].temperature_k.fill(around_degc + ZERO_CELSIUS_K);
            plant.tank.surroundings = Surroundings::Boundary(1);
            for month in year.months.iter_mut().chain([&mut year.total]) {
                month.tank_coldest_k.see(water_degc + ZERO_CELSIUS_K);
            }
            caution(&household, &plant, &year)
        };
        assert_eq!([0.1, 0.0].map(|around| told(around, 5.0)), [None, None]);
        let frosty = told(-0.1, 5.0).expect("it is told");
        assert!(frosty.severity == Severity::FixFirst && frosty.text.contains("relief valve"), "{frosty:?}");
        assert_eq!(told(3.0, 0.1), None);
        for water_degc in [0.0, -0.1] {
            let frozen = told(3.0, water_degc).expect("it is told");
            assert!(frozen.text.contains("ice bursts the tank"), "{frozen:?}");
        }
    }

    #[test]
    fn the_coldest_air_is_not_said_of_every_month() {
        let (household, plant, mut year) = (household(), plant(), year());
        for (month, air_degc) in [(0, -0.4), (6, -2.0)] {
            year.months[month].air_k.min = air_degc + ZERO_CELSIUS_K;
        }
        year.total.air_k.min = ZERO_CELSIUS_K - 2.0;
        let text = caution(&household, &plant, &year).unwrap().text;
        assert!(text.contains("below 0 °C in January and July, to -2 °C at the coldest"), "{text}");
    }

    #[test]
    fn a_dump_closed_in_the_months_of_frost_needs_no_slope() {
        let (mut household, mut plant, year) = (household(), plant(), year());
        household.dump.as_mut().unwrap().destinations[0].kind = Destination::Irrigation;
        household.dump.as_mut().unwrap().months = std::array::from_fn(|month| (4..9).contains(&month));
        plant.tank.surroundings = Surroundings::ColdRoom;
        let april_end = plant.calendar.month_starts_h[4];
        plant.boundaries[0].temperature_k[..april_end].fill(ZERO_CELSIUS_K - 5.0);
        assert_eq!(caution(&household, &plant, &year), None);
    }
}

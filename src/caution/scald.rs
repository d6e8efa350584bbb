use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::Household;
use crate::plant::Plant;
use crate::scald::{HOTTEST_AT_TAP_K, burn_row};
use crate::wording::Wording;
use crate::year::Year;
use uom::si::thermodynamic_temperature::kelvin;

const SOURCE: &str = "49 °C (120 °F): Ontario Building Code 7.6.5.1 (Checked: original read), IRC P2708 and UPC 408.3 \
    (Second hand: pages that reproduce them). Time to burn: US CPSC Document 5098 (Second hand: pages that quote it).";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C001",
    title: "Scalding water",
    says: "Water hotter than 49 °C can reach a tap, or only a mixing valve prevents it.",
    why: "Seconds decide: at 60 °C six of them burn most adults to the third degree, children \
        sooner. The tank of this installation may climb above what anybody set, because the pump \
        follows the room's thermostat.",
    what_to_do: "A thermostatic mixing valve between tank and taps, set to 49 °C or less, fitted by a \
        licensed plumber; a booster after it set no higher.",
    silent: Some("When the tank never passes 49 °C and neither the valve nor the booster is set above it."),
    source: Some(SOURCE),
};

/// C001, water hot enough to scald.
///
/// Limits: [`HOTTEST_AT_TAP_K`] and the table beside it.
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let say = Wording(household.units);
    let tank_k = year.total.tank_top_k.max.max(year.total.hottest_drawn_k);
    let booster_k = plant.booster.map(|booster| booster.set_k).filter(|&set_k| set_k > HOTTEST_AT_TAP_K);
    let valve_k = household.hot_water.mixing_valve.map(|valve| valve.get::<kelvin>());
    let limit = say.temperature(HOTTEST_AT_TAP_K);
    // A valve before the booster leaves that as hot as it is.
    let again = booster_k.map_or(String::new(), |booster_k| {
        format!(
            " The booster after it, set to {}, heats the water again: set it to {limit} or less too, or have the valve fitted after it.",
            say.temperature(booster_k)
        )
    });
    let (severity, text) = match valve_k {
        None if tank_k > HOTTEST_AT_TAP_K => (
            Severity::StopWork,
            format!(
                "The water in the tank reaches {}, and no mixing valve stands between it and the taps. {} {}\
                 Codes allow {limit} at a tap. Let nobody use these taps before a licensed plumber has fitted a \
                 thermostatic mixing valve of the kind your local code asks for, set to {limit} or less; a lower \
                 setting of the pump does not replace it.{again}",
                say.temperature(tank_k),
                burn(tank_k, say),
                exposure(year.total.scalding_s, "", say),
            ),
        ),
        Some(_) if tank_k > HOTTEST_AT_TAP_K && passed_by(household) => (
            Severity::FixFirst,
            format!(
                "The water in the tank reaches {}, and some taps are fed from before the mixing valve. {} {}Codes allow {limit} at a tap \
                 in a dwelling, and more only at dishwashers and washing machines: have a licensed plumber lead those taps behind the \
                 valve or give them one of their own.{again}",
                say.temperature(tank_k),
                burn(tank_k, say),
                exposure(year.total.scalding_s, "", say),
            ),
        ),
        Some(valve_k) if valve_k > HOTTEST_AT_TAP_K => (
            Severity::FixFirst,
            format!(
                "The mixing valve is set to {}. {} Codes allow {limit} at a tap: have the valve set to {limit} or less.{again}",
                say.temperature(valve_k),
                burn(valve_k, say),
            ),
        ),
        _ => match (booster_k, valve_k) {
            (Some(booster_k), _) => (
                Severity::FixFirst,
                format!(
                    "The booster is set to {} and heats the water after the tank, so water of that temperature can \
                     reach the taps. {} Codes allow {limit} there: set the booster to {limit} or less, or have a \
                     licensed plumber fit a thermostatic mixing valve after it.",
                    say.temperature(booster_k),
                    burn(booster_k, say),
                ),
            ),
            (None, Some(valve_k)) if tank_k > HOTTEST_AT_TAP_K => (
                Severity::Know,
                format!(
                    "The water in the tank reaches {}; the mixing valve, set to {}, is all that keeps it from the \
                     taps. {} {}Measure the hottest tap after fitting and once a year, and have the valve serviced \
                     when it no longer holds its setting.",
                    say.temperature(tank_k),
                    say.temperature(valve_k),
                    burn(tank_k, say),
                    exposure(year.total.scalding_without_valve_s, "without the valve ", say),
                ),
            ),
            _ => return None,
        },
    };
    Some(EXPLANATION.raised(severity, text))
}

/// Whether some taps are fed from before the mixing valve.
fn passed_by(household: &Household) -> bool {
    let water = &household.hot_water;
    if water.uses.is_empty() { water.past_valve } else { water.uses.iter().any(|one| one.past_valve) }
}

/// For how long the taps run with such water on their hot side, as a sentence with a space after it; nothing where they do not.
fn exposure(scalding_s: f64, how: &str, say: Wording) -> String {
    if scalding_s <= 0.0 {
        return String::new();
    }
    let mut words = format!(
        "{how}the taps run for {} of the year with water above {} at hand. ",
        say.duration(scalding_s),
        say.temperature(HOTTEST_AT_TAP_K)
    );
    words[..1].make_ascii_uppercase();
    words
}

/// How fast water of at least this temperature burns, as a sentence.
fn burn(k: f64, say: Wording) -> String {
    let (row_k, _, time) = burn_row(k);
    format!(
        "Water of {} burns most adults to the third degree in {time}, children and the old sooner.",
        say.temperature(row_k)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};
    use crate::constants::ZERO_CELSIUS_K;
    use uom::si::f64::ThermodynamicTemperature;
    use uom::si::thermodynamic_temperature::degree_celsius;

    fn with(tank_degc: f64, valve_degc: Option<f64>, booster_degc: Option<f64>) -> Option<Caution> {
        let (mut household, mut plant, mut year) = (household(), plant(), year());
        household.hot_water.mixing_valve = valve_degc.map(ThermodynamicTemperature::new::<degree_celsius>);
        match (booster_degc, &mut plant.booster) {
            (Some(degc), Some(booster)) => booster.set_k = degc + ZERO_CELSIUS_K,
            _ => plant.booster = None,
        }
        year.total.tank_top_k.max = tank_degc + ZERO_CELSIUS_K;
        year.total.hottest_drawn_k = 0.0;
        caution(&household, &plant, &year)
    }

    #[test]
    fn below_49_degc_it_is_silent() {
        assert_eq!(with(48.9, None, Some(48.9)), None);
    }

    #[test]
    fn at_49_degc_it_is_silent() {
        assert_eq!(with(49.0, Some(49.0), Some(49.0)), None);
    }

    /// A valve before it leaves a booster above 49 °C as hot as it is, whatever else is told.
    #[test]
    fn a_booster_that_heats_again_is_never_left_out() {
        for (tank_degc, valve_degc) in [(60.0, None), (60.0, Some(55.0)), (40.0, Some(55.0))] {
            for (booster_degc, told) in [(60.0, true), (49.0, false)] {
                let text = with(tank_degc, valve_degc, Some(booster_degc)).expect("it is raised").text;
                assert_eq!(text.contains("heats the water again"), told, "{text}");
            }
        }
    }

    #[test]
    fn above_49_degc_without_a_valve_nobody_uses_the_taps() {
        let caution = with(49.1, None, None).unwrap();
        assert_eq!(caution.severity, Severity::StopWork);
        assert!(
            caution.text.contains("reaches 49.1 °C") && caution.text.contains("5 minutes"),
            "{}",
            caution.text
        );
    }

    #[test]
    fn a_valve_that_is_there_is_not_advised_again() {
        let caution = with(60.0, Some(45.0), None).unwrap();
        assert_eq!(caution.severity, Severity::Know);
        assert!(!caution.text.contains("fitted a"), "{}", caution.text);
        // 140 °F (60 °C): 6 s, CPSC 5098.
        assert!(caution.text.contains("60 °C") && caution.text.contains("6 seconds"), "{}", caution.text);
    }

    #[test]
    fn taps_before_the_valve_are_to_be_led_behind_it() {
        let (mut household, plant, mut year) = (household(), plant(), year());
        household.hot_water.mixing_valve = Some(ThermodynamicTemperature::new::<degree_celsius>(45.0));
        household.hot_water.past_valve = true;
        let mut told = |tank_degc: f64| {
            year.total.tank_top_k.max = tank_degc + ZERO_CELSIUS_K;
            (year.total.hottest_drawn_k, year.total.scalding_s) = (0.0, 7200.0);
            caution(&household, &plant, &year)
        };
        let caution = told(49.1).unwrap();
        assert_eq!(caution.severity, Severity::FixFirst);
        assert!(caution.text.contains("The taps run for 2 hours of the year"), "{}", caution.text);
        assert_eq!(told(49.0), None);
    }

    #[test]
    fn a_valve_or_a_booster_set_above_49_degc_is_to_be_put_right() {
        assert_eq!(with(40.0, Some(49.1), None).unwrap().severity, Severity::FixFirst);
        assert_eq!(with(40.0, Some(45.0), Some(49.1)).unwrap().severity, Severity::FixFirst);
        assert_eq!(with(40.0, None, Some(49.1)).unwrap().severity, Severity::FixFirst);
    }
}

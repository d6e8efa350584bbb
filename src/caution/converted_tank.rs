use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::{BuiltAs, Household};
use crate::plant::Plant;
use crate::year::Year;

const SOURCE: &str = "Relief valve with its sensor in the top 6 inches, full-size drain without trap or thread: IRC P2804.3 and \
    P2804.4 (Second hand). Elements disconnected and labelled, anode, heat traps, a flue through the tank: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C011",
    title: "An old water heater as the tank",
    says: "What has to stay and what has to go when the tank once was an electric or gas water heater.",
    why: "An element that is switched on in a tank that is drained, or that sits in a lukewarm one unknown to the next owner, \
        can burn or kill. A tank without its relief valve bursts. Without an anode it rusts through; a heat trap in the pump's \
        return throttles the pump.",
    what_to_do: "A licensed electrician disconnects and labels; a licensed plumber keeps the relief valve and its port, and \
        looks at the anode every few years. What the tank was built as goes into `tank.built_as`.",
    silent: Some("When `tank.built_as` is `storage tank`."),
    source: Some(SOURCE),
};

/// C011, a tank made from a water heater.
///
/// Limit: none; it is told of every tank that was a water heater or may have been one.
pub fn caution(household: &Household, _plant: &Plant, _year: &Year) -> Option<Caution> {
    let heater = match household.tank.built_as {
        Some(BuiltAs::StorageTank) => return None,
        Some(BuiltAs::ElectricHeater) => {
            format!("The tank was built as an electric water heater: {}.", elements(household))
        }
        Some(BuiltAs::GasHeater) => format!("The tank was built as a gas water heater: {GAS}."),
        None => format!(
            "It is not said what the tank was built as (`tank.built_as`). If it once was an electric water heater, {}. If it once was a \
             gas water heater, {GAS}.",
            elements(household)
        ),
    };
    Some(EXPLANATION.raised(Severity::Know, format!("{heater} {KEPT}")))
}

/// What becomes of its elements.
fn elements(household: &Household) -> &'static str {
    if household.element.is_some() {
        "a licensed electrician sees that the element still in use keeps its thermostat and its safety cut-out, cuts any other off at the board, \
         takes the wires off it and labels the tank with what is live and what is not"
    } else {
        "a licensed electrician cuts its elements off at the board, takes the wires off them and labels the tank \"elements disconnected\""
    }
}

/// What becomes of burner and flue.
const GAS: &str = "its burner, flue and gas line are for a licensed fitter to take out as your local code asks; the flue's way through the water \
    is closed and insulated at both ends, or it cools the tank";

/// What stays, and what has no place at the pump, whatever the heater.
const KEPT: &str = "The relief valve stays, with the sensor in the top 6 inches (15 cm); no pipe of pump or dump may take its port: for a \
    licensed plumber to see to. Look at the anode every few years, and replace it when it is used up. Heat traps and check balls belong in no pipe of \
    the pump's: they throttle it.";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};
    use crate::household::ElectricElement;
    use crate::units::{celsius, fraction, interval, watts};

    fn told(built_as: Option<BuiltAs>, element: bool) -> Option<String> {
        let mut household = household();
        household.tank.built_as = built_as;
        household.element = element.then(|| ElectricElement {
            power: watts(2000.0),
            height: fraction(0.6),
            set: celsius(46.0),
            differential: interval(5.0),
        });
        caution(&household, &plant(), &year()).map(|caution| caution.text)
    }

    #[test]
    fn a_storage_tank_needs_none_of_it() {
        assert_eq!(told(Some(BuiltAs::StorageTank), false), None);
        assert_eq!(told(Some(BuiltAs::StorageTank), true), None);
    }

    #[test]
    fn elements_relief_port_anode_and_heat_traps_are_named() {
        let text = told(Some(BuiltAs::ElectricHeater), false).expect("it is told");
        for word in
            ["elements disconnected", "relief valve stays", "anode", "Heat traps", "licensed electrician"]
        {
            assert!(text.contains(word), "{word}: {text}");
        }
        assert!(!text.contains(" if ") && !text.contains("gas") && !text.contains("built_as"), "{text}");
    }

    #[test]
    fn an_element_in_use_is_not_cut_off() {
        let text = told(Some(BuiltAs::ElectricHeater), true).expect("it is told");
        assert!(text.contains("safety cut-out") && !text.contains("elements disconnected"), "{text}");
    }

    #[test]
    fn a_gas_heater_loses_burner_and_flue() {
        let text = told(Some(BuiltAs::GasHeater), false).expect("it is told");
        assert!(text.contains("burner, flue and gas line") && !text.contains("electrician"), "{text}");
        assert!(text.contains("relief valve stays"), "{text}");
    }

    #[test]
    fn where_it_is_not_said_it_says_if() {
        let text = told(None, false).expect("it is told");
        for word in ["`tank.built_as`", "If it once was an electric", "If it once was a gas"] {
            assert!(text.contains(word), "{word}: {text}");
        }
    }
}

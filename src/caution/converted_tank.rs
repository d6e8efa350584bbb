use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::Household;
use crate::plant::Plant;
use crate::year::Year;

const SOURCE: &str = "Relief valve with its sensor in the top 6 inches, full-size drain without trap or thread: IRC P2804.3 and \
    P2804.4 (Second hand). Elements disconnected and labelled, anode, heat traps: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C011",
    title: "An old water heater as the tank",
    says: "What has to stay and what has to go when the tank without power once was an electric or gas water heater.",
    why: "An element that is switched on in a tank that is drained, or that sits in a lukewarm one unknown to the next owner, \
        can burn or kill. A tank without its relief valve bursts. Without an anode it rusts through; a heat trap in the pump's \
        return throttles the pump.",
    what_to_do: "A licensed electrician disconnects and labels; a licensed plumber keeps the relief valve and its port, and \
        looks at the anode every few years.",
    silent: Some("Never: the scenario does not say where the tank comes from."),
    source: Some(SOURCE),
};

/// C011, a tank made from a water heater.
///
/// Limit: none; every tank of this kind of plant is without power of its own.
pub fn caution(_household: &Household, _plant: &Plant, _year: &Year) -> Option<Caution> {
    Some(Caution {
        code: EXPLANATION.code,
        title: EXPLANATION.title,
        severity: Severity::Know,
        text: "If the tank once was an electric water heater, a licensed electrician cuts its elements off at the board, takes \
             the wires off them and labels the tank \"elements disconnected\". Its relief valve stays, with the sensor in the \
             top 6 inches (15 cm); no pipe of pump or dump may take its port. Look at the anode every few years, and replace \
             it when it is used up. Heat traps and check balls belong in no pipe of the pump's: they throttle it. A gas heater's burner, flue and gas line are for a licensed \
             fitter to take out as your local code asks."
            .to_owned(),
        source: SOURCE,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};

    #[test]
    fn elements_relief_port_anode_and_heat_traps_are_named() {
        let text = caution(&household(), &plant(), &year()).expect("it is always said").text;
        for word in
            ["elements disconnected", "relief valve stays", "anode", "Heat traps", "licensed electrician"]
        {
            assert!(text.contains(word), "{word}: {text}");
        }
    }
}

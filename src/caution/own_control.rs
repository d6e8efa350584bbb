use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::{Contact, CoolerUnit, Household, SensorPlace};
use crate::plant::{Cooler, Plant};
use crate::wording::Wording;
use crate::year::Year;

const SOURCE: &str = "A limit on temperature beside the thermostat: NEC 422.47 (From memory, to be verified). That a contact may \
    call or only permit: Common practice, no source: units differ, see the manual.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C009",
    title: "The unit's own control",
    says: "What the room thermostat's contact does to the unit, and what its input for a tank sensor is wired to.",
    why: "A unit that is only permitted to run stops when its own tank sensor has enough, and the food warms. A unit whose \
        sensor is replaced by a resistor does not know how hot the tank is and does not stop for it.",
    what_to_do: "Read the manual for the contact's meaning and say it in the scenario. Keep the unit's sensor and its limits \
        connected. Where a resistor stands in for the sensor, a licensed electrician wires a limit switch at the top of the \
        tank in series with the room's contact.",
    silent: Some("When `thermostat.contact` is `calls` and `tank_sensor.unit_reads` is `tank`."),
    source: Some(SOURCE),
};

/// C009, the unit's own control.
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let (severity, text) = match (unit.sensor_place, household.thermostat.contact) {
        (Some(SensorPlace::Resistor), _) => (Severity::FixFirst, resistor_words(household, plant, year)),
        (Some(SensorPlace::Tank), Some(Contact::Calls)) => return None,
        (Some(SensorPlace::Tank), Some(Contact::Permits)) => (
            Severity::Know,
            "The room's contact only permits the unit to run: it stops when its own tank sensor has enough, and then \
             nothing cools the room. Keep the tank below that point with the overflow dump, or ask the maker whether the unit \
             can be called from outside; wiring is for a licensed electrician."
                .to_owned(),
        ),
        (sensor, contact) => (Severity::Know, question_words(sensor, contact)),
    };
    Some(EXPLANATION.raised(severity, text))
}

fn resistor_words(household: &Household, plant: &Plant, year: &Year) -> String {
    let Cooler::HeatPump(pump) = &plant.cooler;
    let say = Wording(household.units);
    format!(
        "A fixed resistor stands in for the unit's tank sensor: the unit does not know how hot the tank is and does not stop for \
         it. In this year the top of the tank reaches {}; only the limit on the water at its inlet, {}, and the unit's own \
         pressure limits stop it. Have a licensed electrician wire a limit switch at the top of the tank in series with the \
         room's contact, keep the relief valve, and ask what this does to the warranty and to your local code.",
        say.temperature(year.total.tank_top_k.max),
        say.temperature(pump.inlet_stop_k)
    )
}

fn question_words(sensor: Option<SensorPlace>, contact: Option<Contact>) -> String {
    let mut open = Vec::new();
    if contact.is_none() {
        open.push("whether the room thermostat's contact makes the unit run or only permits it to (`thermostat.contact`)");
    }
    if sensor.is_none() {
        open.push("whether the unit's own tank sensor stays connected (`tank_sensor.unit_reads`)");
    }
    format!(
        "It is not said {}. This year holds only if the unit really runs when the room's thermostat closes. Its manual says so, and \
         a licensed electrician can tell from its terminals. Leave the unit's own sensors and limits connected.",
        open.join(", nor ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;

    fn with(sensor: Option<SensorPlace>, contact: Option<Contact>) -> Option<Caution> {
        let mut household = example::household();
        household.thermostat.contact = contact;
        let CoolerUnit::HeatPump(unit) = &mut household.cooler;
        unit.sensor_place = sensor;
        let mut year = example::year();
        year.total.tank_top_k.max = 273.15 + 71.0;
        caution(&household, &example::plant(), &year)
    }

    #[test]
    fn a_unit_that_is_called_and_keeps_its_sensor_is_left_alone() {
        assert_eq!(with(Some(SensorPlace::Tank), Some(Contact::Calls)), None);
    }

    #[test]
    fn a_resistor_is_to_be_put_right_whatever_the_contact_does() {
        for contact in [None, Some(Contact::Calls), Some(Contact::Permits)] {
            let caution = with(Some(SensorPlace::Resistor), contact).expect("a resistor is told");
            assert_eq!(caution.severity, Severity::FixFirst);
            assert!(caution.text.contains("71 °C") && caution.text.contains("40 °C"), "{}", caution.text);
        }
    }

    #[test]
    fn a_contact_that_only_permits_is_told() {
        let caution = with(Some(SensorPlace::Tank), Some(Contact::Permits)).expect("it is told");
        assert!(caution.severity == Severity::Know && caution.text.contains("permits"), "{}", caution.text);
    }

    #[test]
    fn only_what_is_open_is_asked() {
        let both = with(None, None).expect("both are open").text;
        assert!(both.contains("thermostat.contact") && both.contains("unit_reads"), "{both}");
        let sensor = with(None, Some(Contact::Calls)).expect("the sensor is open").text;
        assert!(!sensor.contains("thermostat.contact") && sensor.contains("unit_reads"), "{sensor}");
    }
}

use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::Household;
use crate::plant::{Cooler, Plant};
use crate::wording::Wording;
use crate::year::Year;

/// Appliance above which a means to cut it off must be in sight or lockable, VA.
/// Source: NEC 422.31(B), 300 VA or 1/8 hp. Second hand: as given in code commentary.
const DISCONNECT_ABOVE_W: f64 = 300.0;

const SOURCE: &str = "Conductor and breaker by the nameplate: NEC 440.4(B), 440.35; disconnect: NEC 440.14, 422.31(B), \
    CEC 28-604; residual current: IEC 60364-4-41 415.1, NEC 210.8 (all Second hand: code commentary; editions differ). \
    Damp place, relay, restart: Common practice, no source. Bonding of metal water pipes: NEC 250.104 (From memory, to be verified).";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C003",
    title: "Electricity in a damp room",
    says: "What the unit draws and what its circuit has to satisfy.",
    why: "A cold room drips and its floor is wet; a fault that trips nothing can kill there.",
    what_to_do: "A licensed electrician makes a circuit of its own by the nameplate, with protection against leaking current, and sees that metal pipes stay bonded. A plug-in \
        controller switches a relay, never the compressor itself. Try what the unit does when the power comes back.",
    silent: Some("When the unit draws nothing. Up to 300 VA the disconnect is left out."),
    source: Some(SOURCE),
};

/// C003, electricity in a damp room.
///
/// Limits: [`DISCONNECT_ABOVE_W`] and the articles named in the caution.
pub fn caution(household: &Household, plant: &Plant, _year: &Year) -> Option<Caution> {
    let power_w = most_power_w(plant);
    if power_w <= 0.0 {
        return None;
    }
    let say = Wording(household.units);
    let disconnect = disconnect_words(power_w);
    Some(EXPLANATION.raised(Severity::Know, format!(
            "The unit draws up to about {} while it runs, in a room that is cold and wet. It needs a circuit of its \
             own, made by a licensed electrician: wire at least for the minimum circuit ampacity on the nameplate \
             (which already holds the 25 % margin; do not add it twice), breaker no larger than the maximum on the \
             nameplate, fittings listed for damp places, and protection against leaking current (a GFCI, called RCD \
             elsewhere) wherever your local code asks for it.{disconnect} Plastic pipe or insulating unions at the tank break the bond of metal water pipes: it has to be made again. A plug-in thermostat \
             or controller is no switch for a compressor: it works a relay that is rated for it. Try once with somebody at the breaker whether the unit starts again by itself when the \
             power comes back, and that it waits some minutes before it does.",
            say.electric_power(power_w),
        )))
}

/// What is asked for to cut it off, as a sentence with a leading blank; nothing for small units.
fn disconnect_words(power_w: f64) -> &'static str {
    if power_w > DISCONNECT_ABOVE_W {
        " A switch that cuts it off belongs in sight of the unit, or its breaker must be lockable."
    } else {
        ""
    }
}

/// Most that the unit draws running, W: at its warmest water and the room's set point.
fn most_power_w(plant: &Plant) -> f64 {
    let Cooler::HeatPump(pump) = &plant.cooler;
    let room_k = 0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k);
    [plant.mains_k.iter().copied().fold(f64::INFINITY, f64::min), pump.inlet_stop_k]
        .into_iter()
        .map(|inlet_k| pump.operate(room_k, inlet_k, false).power_w)
        .fold(0.0, f64::max)
        + pump.circulator_w
        + pump.standby_w
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};

    /// The unit scaled so that it draws `power_w` at most, nothing else drawing.
    fn with(power_w: f64) -> Option<Caution> {
        let mut plant = plant();
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        (pump.circulator_w, pump.standby_w) = (0.0, 0.0);
        let unscaled = most_power_w(&plant);
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.capacity_w *= power_w / unscaled;
        caution(&household(), &plant, &year())
    }

    #[test]
    fn just_below_300_va_no_disconnect_is_asked_for() {
        assert!(!with(299.0).unwrap().text.contains("lockable"));
    }

    #[test]
    fn at_300_va_no_disconnect_is_asked_for() {
        assert_eq!(disconnect_words(300.0), "");
    }

    #[test]
    fn above_300_va_the_disconnect_is_named() {
        assert!(with(301.0).unwrap().text.contains("lockable"));
    }

    #[test]
    fn a_unit_that_draws_nothing_needs_no_circuit() {
        assert_eq!(with(0.0), None);
    }

    #[test]
    fn the_households_number_is_said() {
        assert!(with(1243.1).unwrap().text.contains("1.2 kW"));
    }
}

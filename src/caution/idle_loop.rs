use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::{CirclingStop, Household};
use crate::plant::{Cooler, Plant};
use crate::wording::Wording;
use crate::year::Year;

/// Mean heat of the resting pipes from which on it is told, W: half of a usual standby power.
/// Common practice, no source.
const HEAT_FROM_W: f64 = 5.0;

const SOURCE: &str = "How much circling water can bring into the room: Derived here, see docs/MODEL.md, section 4. Check valve, heat \
    trap, and 5 W as too little to matter: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C013",
    title: "Warm water that circles while the pump rests",
    says: "How much heat the tank's water can carry into the cold room through the pump's pipes while the pump rests.",
    why: "Water in the pipes cools in the cold room, grows heavier and sinks to the bottom of the tank; warm water from its top \
        follows. It takes heat from the tank, warms the room that the pump has just cooled, and needs no electricity to do so. \
        The year contains it where `tank.circling_stopped_by` is `nothing` and no closed loop lies between.",
    what_to_do: "A check valve that closes by spring, in the pipe from the tank's bottom to the pump, fitted by a licensed plumber so \
        that no relief valve or expansion vessel is cut off. Insulate the pipes. Then say so in `tank.circling_stopped_by`.",
    silent: Some(
        "When `tank.circling_stopped_by` is `check valve`, and where the pipes could bring less than 5 W on average.",
    ),
    source: Some(SOURCE),
};

/// C013, warm water that circles while the pump rests.
///
/// Limit: [`HEAT_FROM_W`].
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let stop = household.tank.circling_stopped_by;
    if stop == Some(CirclingStop::CheckValve) {
        return None;
    }
    let counted = plant.tank.circles;
    let heat_j = if counted { year.total.circled_j } else { most_heat_j(plant, year) };
    if heat_j < HEAT_FROM_W * year.total.duration_s {
        return None;
    }
    let say = Wording(household.units);
    let (brings, up_to, contains) = if counted {
        ("brings", "", "The year contains this heat, reckoned without friction in the pipes.")
    } else {
        ("can bring", "up to ", "The year does not contain this heat.")
    };
    let most = format!(
        "{up_to}{} a year, {} on average",
        say.energy(heat_j),
        say.heat_rate(heat_j / year.total.duration_s)
    );
    let asks = match stop {
        None => format!(
            "It is not said what keeps warm water from circling from the tank through the resting pump's pipes \
             (`tank.circling_stopped_by`). Without a check valve it can bring {most}, into the cold room"
        ),
        Some(CirclingStop::HeatTrap) => format!(
            "A heat trap slows warm water that circles from the tank through the resting pump's pipes, but does not surely stop it: \
             it can bring {most}, into the cold room"
        ),
        Some(_) => format!(
            "Nothing keeps warm water from circling from the tank through the resting pump's pipes: it {brings} {most}, into \
             the cold room"
        ),
    };
    Some(EXPLANATION.raised(Severity::Know, format!(
            "{asks}, and the pump has to take it out again. {contains} Have a licensed plumber fit a \
             check valve that closes by spring, where it cuts off no relief valve or expansion vessel, as your local code asks."
        )))
}

/// Most heat that circling water can bring into the room in the year, J: the pipes' loss at the tank's mean temperature for as long
/// as the pump rests. In wide pipes the water stands at that temperature, whatever its flow: else their column and the tank's would
/// not weigh the same. Friction leaves the pipes colder.
fn most_heat_j(plant: &Plant, year: &Year) -> f64 {
    let Cooler::HeatPump(pump) = &plant.cooler;
    let total = &year.total;
    let warmer_dk = (total.tank_mean_k_s - total.air_k_s) / total.duration_s;
    let rest_s = total.duration_s - total.run_s;
    (pump.hot_pipe.loss_w_per_k * warmer_dk * rest_s).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use approx::assert_relative_eq;

    /// A year of a tank at 30 °C and a room at 4 °C in which the pump rests 22 of 24 hours.
    fn with(stop: Option<CirclingStop>, loss_w_per_k: f64) -> Option<Caution> {
        let mut household = example::household();
        household.tank.circling_stopped_by = stop;
        caution(&household, &plant(loss_w_per_k), &example::year())
    }

    fn plant(loss_w_per_k: f64) -> Plant {
        let mut plant = example::plant();
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.hot_pipe.loss_w_per_k = loss_w_per_k;
        plant
    }

    #[test]
    fn the_pipes_stand_at_the_tanks_mean() {
        let heat_j = most_heat_j(&plant(0.9), &example::year());
        // 0.9 W/K x 26 K x 22 h x 365 days.
        assert_relative_eq!(heat_j, 0.9 * 26.0 * 22.0 * 365.0 * 3600.0, max_relative = 1e-9);
        let mut cold = example::year();
        cold.total.tank_mean_k_s = cold.total.air_k_s - 1.0;
        assert_eq!(most_heat_j(&plant(0.9), &cold), 0.0);
    }

    #[test]
    fn where_the_year_contains_it_its_own_number_is_told() {
        let mut household = example::household();
        household.tank.circling_stopped_by = Some(CirclingStop::Nothing);
        let mut plant = plant(0.9);
        plant.tank.circles = true;
        let mut year = example::year();
        year.total.circled_j = 4.999 * year.total.duration_s;
        assert_eq!(caution(&household, &plant, &year), None);
        year.total.circled_j = 12.0 * year.total.duration_s;
        let told = caution(&household, &plant, &year).expect("it is told").text;
        assert!(
            told.contains("12 W") && !told.contains("up to") && told.contains("The year contains"),
            "{told}"
        );
    }

    #[test]
    fn around_five_watts() {
        let at_limit = HEAT_FROM_W / (26.0 * 22.0 / 24.0);
        assert_eq!(with(None, at_limit * 0.999), None);
        assert!(with(None, at_limit * (1.0 + 1e-9)).is_some());
        assert!(with(None, at_limit * 1.001).is_some());
    }

    #[test]
    fn a_check_valve_silences_it_and_a_trap_does_not() {
        assert_eq!(with(Some(CirclingStop::CheckValve), 5.0), None);
        let asked = with(None, 0.9).expect("it is asked").text;
        assert!(asked.contains("circling_stopped_by") && asked.contains("21 W"), "{asked}");
        for (stop, word) in [(CirclingStop::HeatTrap, "heat trap"), (CirclingStop::Nothing, "Nothing")] {
            let told = with(Some(stop), 0.9).expect("it is told").text;
            assert!(told.contains(word) && !told.contains("circling_stopped_by"), "{told}");
            assert!(told.contains("does not contain"), "{told}");
        }
    }
}

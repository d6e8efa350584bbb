//! What keeping the resting unit's water from freezing costs.

use super::remedy::remedies;
use super::{Answer, Case, Finding, Question, at_most, sentences};
use crate::change::Change;
use crate::household::{CoolerUnit, FrostGuard, GuardMeans, HeatPumpUnit, WaterCircuit};
use crate::plant::{HOUR_S, Load};
use crate::units::{celsius, flow, fraction};
use crate::wording::percent;
use crate::year::Year;

/// Share of the electricity that frost protection may take without a thought. Common practice, no source.
const LITTLE_FRAC: f64 = 0.02;
/// Share that is still borne. Common practice, no source.
const BORNE_FRAC: f64 = 0.10;
/// Room air below which a unit can be asked to protect itself, degrees Celsius. Common practice, no source: water freezes at 0, and
/// a sensor may be wrong by 1 to 2 degrees.
const LOWER_BELOW_DEGC: f64 = 2.0;
/// Share of the time in which a circulator turns against frost. Common practice, no source: a few minutes of each hour or two.
const TURNS_FRAC: f64 = 0.05;
/// Flow of a single-pass unit then, m3/s: that of the key `circulation.flow`.
const SINGLE_PASS_FLOW_M3_S: f64 = 1.5e-3 / 60.0;
/// Joules in a kilowatt hour.
const J_PER_KWH: f64 = 3.6e6;

pub(super) const SOURCE: &str =
    "2 % of the electricity as little, 10 % as borne: Common practice, no source.";

fn guard_j(year: &Year) -> f64 {
    year.total.electricity_j[Load::FrostGuard as usize]
}

/// F504: frost protection against the electricity of the year; nothing for a unit without one.
pub(super) fn finding(case: &Case<'_>) -> Option<Finding> {
    let CoolerUnit::HeatPump(unit) = &case.household.cooler;
    let guard = unit.frost_guard?;
    let (guard_j, total_j) = (guard_j(case.year), case.year.total.electricity_total_j());
    let share = if total_j > 0.0 { guard_j / total_j } else { 0.0 };
    let answer = at_most(share, LITTLE_FRAC, BORNE_FRAC);
    let changes = if answer == Answer::Yes { Vec::new() } else { gentler(unit, &guard) };
    let saves = |change: &Change| {
        (case.trial)(change).is_none_or(|changed| changed.total.electricity_total_j() < total_j)
    };
    Some(Finding {
        code: "F504",
        question: Question::Settings,
        answer,
        value: guard_j / J_PER_KWH,
        unit: "kwh",
        limit: Some(LITTLE_FRAC * total_j / J_PER_KWH),
        text: words(case, unit, &guard, answer, share),
        source: SOURCE,
        remedies: remedies(case, changes.into_iter().filter(saves), |year| self::guard_j(year) / J_PER_KWH),
    })
}

fn words(case: &Case<'_>, unit: &HeatPumpUnit, guard: &FrostGuard, answer: Answer, share: f64) -> String {
    let (say, guard_j) = (case.say, guard_j(case.year));
    let below = say.temperature(guard.below.value);
    if guard_j == 0.0 {
        return format!(
            "The unit's own frost protection costs nothing: it acts below {below} of room air, and whenever the pump rests the \
             room is warmer."
        );
    }
    let (means, power_w, why) = match guard.by {
        GuardMeans::Heater { power } => (
            format!("a heater of {}", say.electric_power(power.value)),
            power.value,
            "That heat stays in the room, and the pump has to take it out again.",
        ),
        GuardMeans::Circulator { share, .. } => (
            format!("its circulator for {} of the time", percent(share.value)),
            share.value * unit.circulator.value,
            "The water that it turns brings the tank's warmth into the room, and the pump has to take that out again.",
        ),
    };
    let opening = format!(
        "While it rests in room air below {below}, the unit keeps its water from freezing with {means}"
    );
    // A circulator may draw nothing that is known: its hours are then not known either.
    let figures = if power_w > 0.0 {
        format!(
            "{opening}: {} of the year, {}, {} of the electricity.",
            say.hours(HOUR_S * (guard_j / power_w / HOUR_S).round()),
            say.energy(guard_j),
            percent(share)
        )
    } else {
        format!("{opening}.")
    };
    let advice = if answer == Answer::Yes {
        String::new()
    } else {
        let circulate = match guard.by {
            GuardMeans::Heater { .. } => {
                ", or whether there is a type that circulates the water in the place of heating it"
            }
            GuardMeans::Circulator { .. } => "",
        };
        format!(
            "Ask the maker whether it can be set to act in colder air only{circulate}. Never switch it off or take it out: water \
             that freezes in the resting unit bursts it."
        )
    };
    sentences(&[figures, why.to_owned(), advice])
}

/// Protections that the maker may allow in the place of this one.
fn gentler(unit: &HeatPumpUnit, guard: &FrostGuard) -> Vec<Change> {
    let lower = celsius(LOWER_BELOW_DEGC);
    let mut changes = Vec::new();
    if guard.below > lower {
        changes.push(Change::FrostProtection(FrostGuard { below: lower, ..*guard }));
    }
    if matches!(guard.by, GuardMeans::Heater { .. }) {
        let flow = match unit.circuit {
            WaterCircuit::MultiPass { flow, .. } => flow,
            WaterCircuit::SinglePass { .. } => flow(SINGLE_PASS_FLOW_M3_S),
        };
        let by = GuardMeans::Circulator { share: fraction(TURNS_FRAC), flow };
        changes.push(Change::FrostProtection(FrostGuard { by, ..*guard }));
    }
    changes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::finding::tests::{all, found, year_with};
    use crate::household::Household;
    use crate::units::watts;

    fn guarded(below_degc: f64, by: GuardMeans) -> Household {
        let mut household = example::household();
        let CoolerUnit::HeatPump(unit) = &mut household.cooler;
        unit.frost_guard = Some(FrostGuard { below: celsius(below_degc), by });
        household
    }

    const HEATER: fn() -> GuardMeans = || GuardMeans::Heater { power: watts(60.0) };

    /// A year in which the frost protection takes this share of all electricity.
    fn taking(share: f64) -> Year {
        year_with(|_, month| {
            let others_j = month.electricity_total_j() - month.electricity_j[Load::FrostGuard as usize];
            month.electricity_j[Load::FrostGuard as usize] = share / (1.0 - share) * others_j;
        })
    }

    fn f504(household: &Household, year: &Year, trial: &(dyn Fn(&Change) -> Option<Year> + Sync)) -> Finding {
        let found = all(household, &example::plant(), year, trial);
        found.into_iter().find(|finding| finding.code == "F504").expect("the unit has a frost protection")
    }

    #[test]
    fn a_unit_without_frost_protection_is_not_told_of_it() {
        let found = found(&example::plant(), &taking(0.2));
        assert!(found.iter().all(|finding| finding.code != "F504"));
    }

    #[test]
    fn its_share_around_two_and_ten_per_cent() {
        for (share, answer) in [
            (0.0, Answer::Yes),
            (0.0199, Answer::Yes),
            (0.0201, Answer::Barely),
            (0.0999, Answer::Barely),
            (0.1001, Answer::No),
        ] {
            let finding = f504(&guarded(4.0, HEATER()), &taking(share), &|_| None);
            assert_eq!(finding.answer, answer, "{share}");
            assert_eq!(finding.text.contains("Ask the maker"), answer != Answer::Yes, "{}", finding.text);
            assert_eq!(finding.text.contains("costs nothing"), share == 0.0, "{}", finding.text);
        }
    }

    /// By hand: 60 W for 8000 hours are 480 kWh.
    #[test]
    fn the_hours_of_a_heater_are_told_and_nobody_is_told_to_defeat_it() {
        let mut year = taking(0.5);
        year.total.electricity_j[Load::FrostGuard as usize] = 480.0 * J_PER_KWH;
        let finding = f504(&guarded(4.0, HEATER()), &year, &|_| None);
        approx::assert_relative_eq!(finding.value, 480.0, max_relative = 1e-12);
        assert!(
            finding.text.contains("a heater of 60 W: 8,000 hours of the year, 480 kWh"),
            "{}",
            finding.text
        );
        assert!(finding.text.contains("Never switch it off or take it out"), "{}", finding.text);
    }

    #[test]
    fn a_lower_limit_and_circulation_are_tried_and_kept_where_they_save() {
        let year = taking(0.3);
        let trial = |change: &Change| match change {
            Change::FrostProtection(_) => Some(taking(0.05)),
            _ => None,
        };
        assert_eq!(f504(&guarded(4.0, HEATER()), &year, &trial).remedies.len(), 2);
        assert_eq!(f504(&guarded(2.0, HEATER()), &year, &trial).remedies.len(), 1);
        let turning = GuardMeans::Circulator { share: fraction(0.2), flow: flow(SINGLE_PASS_FLOW_M3_S) };
        let finding = f504(&guarded(4.0, turning), &year, &trial);
        assert_eq!(finding.remedies.len(), 1);
        assert!(finding.remedies[0].change.contains("act") || finding.remedies[0].change.contains("turn"));
        // Warm water turned through the room may cost more at the compressor than it saves.
        let dearer = |change: &Change| match change {
            Change::FrostProtection(_) => {
                let mut dearer = taking(0.05);
                dearer.total.electricity_j[Load::Running as usize] *= 3.0;
                Some(dearer)
            }
            _ => None,
        };
        assert_eq!(f504(&guarded(4.0, HEATER()), &year, &dearer).remedies, []);
    }
}

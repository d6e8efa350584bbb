//! C020, air that produce has breathed.

use super::refrigerant::{CARBON_DIOXIDE_DAY_FRAC, CARBON_DIOXIDE_SHORT_FRAC, carbon_dioxide_density_kg_m3};
use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::Household;
use crate::plant::{Cause, Plant};
use crate::room::respiration_heat_w_per_kg;
use crate::wording::{MONTHS, percent};
use crate::year::Year;

/// How long the room is reckoned to stay shut, h. Common practice, no source: a weekend.
const SHUT_H: f64 = 48.0;
/// Milligrams in a kilogram.
const MG_PER_KG: f64 = 1e6;

const SOURCE: &str = "Carbon dioxide 0.5 % for a working day and 3 % for a quarter of an hour: 30 CFR 75.321 (Checked: original read). 10.7 kJ of respiration for each gram of it: Becker and \
    Fricke 1996 (From memory, to be verified; USDA Agriculture Handbook 66 has 0.6 % less). A weekend as the time that a room stays shut: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C020",
    title: "Air that produce has breathed",
    says: "How much carbon dioxide the produce gives off, and what that makes of the air after a weekend with the door shut.",
    why: "Produce breathes like people: it takes oxygen and leaves carbon dioxide, which lies low and has no smell. Much of it in a tight room makes dizzy, and then unconscious.",
    what_to_do: "Prop the door open for some minutes before longer work, after days without anybody most of all. Never work alone in a tight full room. A detector low in the room \
        with its alarm outside tells; local code may ask for it.",
    silent: Some("When the air after a weekend stays below 0.5 % of carbon dioxide."),
    source: Some(SOURCE),
};

/// C020, air that produce has breathed.
pub fn caution(_household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let mean_w = |month: usize| {
        let interval = &year.months[month];
        interval.mean(interval.gain_j[Cause::Respiration as usize])
    };
    let worst = (0..12).max_by(|&one, &other| mean_w(one).total_cmp(&mean_w(other)))?;
    let kg_h = mean_w(worst) / respiration_heat_w_per_kg(1.0) / MG_PER_KG;
    let room_k = 0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k);
    let gas_m3_h = kg_h / carbon_dioxide_density_kg_m3(plant.pressure_pa, room_k);
    let room = &plant.room;
    let changes_per_h = room.leakage_kg_s * 3600.0 / room.air_mass_kg;
    let share = shut_share(gas_m3_h / room.volume_m3, changes_per_h, SHUT_H);
    if share < CARBON_DIOXIDE_DAY_FRAC {
        return None;
    }
    let severity = if share >= CARBON_DIOXIDE_SHORT_FRAC { Severity::FixFirst } else { Severity::Know };
    let danger = if severity == Severity::FixFirst {
        format!("bearable for minutes only ({})", percent(CARBON_DIOXIDE_SHORT_FRAC))
    } else {
        format!("more than may be breathed for a working day ({})", percent(CARBON_DIOXIDE_DAY_FRAC))
    };
    Some(EXPLANATION.raised(severity, format!(
            "In {} the produce gives off about {:.1} kg of carbon dioxide a day: after a weekend with the door shut the air holds {} of it, {danger}. Prop the door open for some \
             minutes before work, do not work alone in there, and ask whether your local code wants a detector.",
            MONTHS[worst],
            24.0 * kg_h,
            percent(share)
        )))
}

/// Share of a gas in the air after some hours, by volume: `g/n (1 - exp(-n t))` with g given off by the hour over the room's volume and n air changes an hour.
fn shut_share(given_per_h: f64, changes_per_h: f64, hours: f64) -> f64 {
    if changes_per_h <= 0.0 {
        return given_per_h * hours;
    }
    -given_per_h / changes_per_h * libm::expm1(-changes_per_h * hours)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use approx::assert_relative_eq;

    /// A month whose respiration leaves this share of carbon dioxide after a weekend in the tight example room.
    fn with(share: f64) -> Option<Caution> {
        let plant = example::plant();
        let mut year = example::year();
        let room_k = 0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k);
        let kg_h =
            share * plant.room.volume_m3 * carbon_dioxide_density_kg_m3(plant.pressure_pa, room_k) / SHUT_H;
        let month = &mut year.months[9];
        month.gain_j[Cause::Respiration as usize] =
            kg_h * MG_PER_KG * respiration_heat_w_per_kg(1.0) * month.duration_s;
        caution(&example::household(), &plant, &year)
    }

    #[test]
    fn below_half_a_per_cent_it_is_silent_and_above_it_tells() {
        assert_eq!(with(0.999 * CARBON_DIOXIDE_DAY_FRAC), None);
        let told = with(1.001 * CARBON_DIOXIDE_DAY_FRAC).expect("told");
        assert!(told.severity == Severity::Know && told.text.contains("October"), "{}", told.text);
    }

    #[test]
    fn from_three_per_cent_on_it_is_to_be_put_right() {
        assert_eq!(with(0.999 * CARBON_DIOXIDE_SHORT_FRAC).expect("told").severity, Severity::Know);
        assert_eq!(with(1.001 * CARBON_DIOXIDE_SHORT_FRAC).expect("told").severity, Severity::FixFirst);
    }

    /// Hand calculation: 0.001 an hour for 48 hours is 0.048 in a tight room; with one air change an hour it settles at 0.001.
    #[test]
    fn leaks_carry_it_away() {
        assert_relative_eq!(shut_share(0.001, 0.0, 48.0), 0.048, max_relative = 1e-12);
        assert_relative_eq!(shut_share(0.001, 1.0, 48.0), 0.001, max_relative = 1e-9);
    }
}

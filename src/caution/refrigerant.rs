use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::heat_pump::Cycle;
use crate::household::{CoolerUnit, Household};
use crate::plant::Plant;
use crate::wording::{Wording, percent};
use crate::year::Year;
use uom::si::mass::kilogram;

/// What a refrigerant does when all of it leaks into a closed room.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Refrigerant {
    /// Number by ISO 817.
    name: &'static str,
    /// Safety group by ISO 817.
    group: &'static str,
    /// Highest concentration in an occupied space that leaves no harm, kg/m3.
    practical_limit_kg_m3: f64,
    /// Lower flammability limit, kg/m3; `None` where it does not burn.
    flammable_from_kg_m3: Option<f64>,
}

// Practical limits and flammability limits: EN 378-1:2016 Annex E. Second hand: columns of the Spanish decree
// RD 552/2019, IF-02 Appendix 1 Table A, as given in a public data table; two copies agree.
const R744: Refrigerant = Refrigerant {
    name: "R744 (carbon dioxide)",
    group: "A1",
    practical_limit_kg_m3: 0.10,
    flammable_from_kg_m3: None,
};
const R134A: Refrigerant =
    Refrigerant { name: "R134a", group: "A1", practical_limit_kg_m3: 0.25, flammable_from_kg_m3: None };
const R410A: Refrigerant =
    Refrigerant { name: "R410A", group: "A1", practical_limit_kg_m3: 0.44, flammable_from_kg_m3: None };
const R32: Refrigerant = Refrigerant {
    name: "R32",
    group: "A2L",
    practical_limit_kg_m3: 0.061,
    flammable_from_kg_m3: Some(0.307),
};
const R1234YF: Refrigerant = Refrigerant {
    name: "R1234yf",
    group: "A2L",
    practical_limit_kg_m3: 0.058,
    flammable_from_kg_m3: Some(0.289),
};
const R290: Refrigerant = Refrigerant {
    name: "R290 (propane)",
    group: "A3",
    practical_limit_kg_m3: 0.008,
    flammable_from_kg_m3: Some(0.038),
};

/// Carbon dioxide in the air that may be breathed a working day long, by volume: 0.5 %.
/// Source: 30 CFR 75.321(a)(2). Checked: original read. The same 5000 ppm in 29 CFR 1910.1000 Table Z-1 (Second hand: a crosswalk data set).
pub(super) const CARBON_DIOXIDE_DAY_FRAC: f64 = 0.005;
/// Carbon dioxide bearable for a quarter of an hour, by volume: 3 %. Source: 30 CFR 75.321(a)(2). Checked: original read.
pub(super) const CARBON_DIOXIDE_SHORT_FRAC: f64 = 0.03;
/// Carbon dioxide immediately dangerous to life, by volume: 4 %. Source: NIOSH IDLH documentation 1994. Second hand: four texts that cite it.
const CARBON_DIOXIDE_DANGEROUS_FRAC: f64 = 0.04;
/// Molar mass of carbon dioxide, kg/mol, from the atomic weights C 12.011, O 15.999.
/// Second hand: Span and Wagner 1996 have 44.0098 g/mol, as given in the data of a general fluid-property library; 0.002 % off.
const CARBON_DIOXIDE_KG_PER_MOL: f64 = 0.044_009;
/// Molar gas constant, J/(mol K), exact by definition (BIPM, The International System of Units, 9th edition).
const GAS_CONSTANT_J_PER_MOL_K: f64 = 8.314_462_618;

const SOURCE: &str = "Practical and flammability limits: EN 378-1:2016 Annex E (Second hand: RD 552/2019 table as given in a \
    public data table). Carbon dioxide 0.5 and 3 %: 30 CFR 75.321 (Checked: original read); 4 %: NIOSH IDLH (Second hand: \
    texts that cite it).";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C004",
    title: "Refrigerant in a closed room",
    says: "How dense the refrigerant gets when all of the charge leaks into the shut room, against \
        the limits for people and for fire.",
    why: "Propane burns and explodes; R32 and R1234yf burn; carbon dioxide suffocates and poisons, \
        and a room that passes the charge rule (0.10 kg/m3, 5.1 % by volume at 4 °C) is still \
        above what is immediately dangerous to life.",
    what_to_do: "Read charge and listing on the nameplate; a licensed refrigeration technician judges the \
        room; a detector and ventilation before entry.",
    silent: Some(
        "When charge and, for a flammable refrigerant, listing are given and the concentration is \
        at or below the practical limit (for carbon dioxide: below 0.5 % by volume).",
    ),
    source: Some(SOURCE),
};

/// C004, refrigerant in a small closed room.
///
/// Limits: The tables and constants in this file.
pub fn caution(household: &Household, plant: &Plant, _year: &Year) -> Option<Caution> {
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let fluid = refrigerant(unit.cycle);
    let room = Room {
        volume_m3: plant.room.volume_m3,
        carbon_dioxide_kg_m3: carbon_dioxide_density_kg_m3(
            plant.pressure_pa,
            0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k),
        ),
    };
    let charge_kg = unit.charge.map(|charge| charge.get::<kilogram>());
    let say = Wording(household.units);
    let (severity, text) = match (fluid.flammable_from_kg_m3, charge_kg) {
        (Some(_), None) => stop_unknown(&fluid, "charge", &room, say),
        (Some(_), Some(_)) if unit.listed_for_room.is_none() => stop_unknown(&fluid, "listing", &room, say),
        (Some(_), Some(_)) if unit.listed_for_room == Some(false) => stop_unlisted(&fluid),
        (Some(burns_from), Some(charge)) => flammable(&fluid, burns_from, charge, &room, say)?,
        (None, charge) if fluid == R744 => carbon_dioxide(charge, &room, say)?,
        (None, charge) => suffocating(&fluid, charge, &room, say)?,
    };
    Some(EXPLANATION.raised(severity, text))
}

/// The shut room that a leak fills.
struct Room {
    volume_m3: f64,
    carbon_dioxide_kg_m3: f64,
}

fn refrigerant(cycle: Cycle) -> Refrigerant {
    match cycle {
        Cycle::R744 | Cycle::R744SuctionExchanger | Cycle::R744Low => R744,
        Cycle::R134a | Cycle::R134aDeep | Cycle::R134aTankCoil => R134A,
        Cycle::R290 | Cycle::R290Deep | Cycle::R290TankCoil => R290,
        Cycle::R1234yf | Cycle::R1234yfDeep | Cycle::R1234yfTankCoil => R1234YF,
        Cycle::R32 | Cycle::R32Deep | Cycle::R32TankCoil => R32,
        Cycle::R410A | Cycle::R410ADeep | Cycle::R410ATankCoil => R410A,
    }
}

/// Density of carbon dioxide as an ideal gas, kg/m3: 0.7 % below the real gas at 4 °C, so its share of the air is overstated by as much.
pub(super) fn carbon_dioxide_density_kg_m3(pressure_pa: f64, temperature_k: f64) -> f64 {
    pressure_pa * CARBON_DIOXIDE_KG_PER_MOL / (GAS_CONSTANT_J_PER_MOL_K * temperature_k)
}

fn stop_unknown(fluid: &Refrigerant, missing: &str, room: &Room, say: Wording) -> (Severity, String) {
    let text = format!(
        "{} burns (safety group {}), the unit stands in a closed room of {}, and its {missing} was not given. Do \
         not run it there before a licensed refrigeration technician has read charge and listing on the nameplate \
         and found both fit for this room; {} spread through it is the most that people may be exposed to.",
        fluid.name,
        fluid.group,
        say_room(room, say),
        say.mass(fluid.practical_limit_kg_m3 * room.volume_m3),
    );
    (Severity::StopWork, text)
}

fn stop_unlisted(fluid: &Refrigerant) -> (Severity, String) {
    let text = format!(
        "{} burns (safety group {}) and the unit is not listed for standing in this room. Do not run it there; a \
         licensed refrigeration technician can say which unit, or which place, your local code allows.",
        fluid.name, fluid.group,
    );
    (Severity::StopWork, text)
}

fn flammable(
    fluid: &Refrigerant,
    burns_from_kg_m3: f64,
    charge_kg: f64,
    room: &Room,
    say: Wording,
) -> Option<(Severity, String)> {
    let concentration = charge_kg / room.volume_m3;
    let leak = leak_words(fluid, charge_kg, concentration, room, say);
    if concentration >= burns_from_kg_m3 {
        let text = format!(
            "{leak}, which is {} of the concentration from which it burns or explodes ({}). Do not run the unit \
             in this room before a licensed refrigeration technician has looked, listing or not.",
            percent(concentration / burns_from_kg_m3),
            say.concentration(burns_from_kg_m3),
        );
        Some((Severity::StopWork, text))
    } else if concentration > fluid.practical_limit_kg_m3 {
        let text = format!(
            "{leak}, above the practical limit of {} for people in a room, and it is flammable from {}. \
             Have a licensed refrigeration technician confirm that the listing covers this charge in this volume, and \
             keep switches, heaters and flames out of the room.",
            say.concentration(fluid.practical_limit_kg_m3),
            say.concentration(burns_from_kg_m3),
        );
        Some((Severity::FixFirst, text))
    } else {
        None
    }
}

fn carbon_dioxide(charge_kg: Option<f64>, room: &Room, say: Wording) -> Option<(Severity, String)> {
    let Some(charge_kg) = charge_kg else {
        let text = format!(
            "The unit's charge of {} was not given. In this room of {}, {} of it leaking brings the air to {}, which \
             is bearable for minutes only, and {} to {}, immediately dangerous to life. Read the charge on the \
             nameplate or have a licensed refrigeration technician tell it; until then air the room before entering.",
            R744.name,
            say_room(room, say),
            say.mass(CARBON_DIOXIDE_SHORT_FRAC * room.volume_m3 * room.carbon_dioxide_kg_m3),
            percent(CARBON_DIOXIDE_SHORT_FRAC),
            say.mass(CARBON_DIOXIDE_DANGEROUS_FRAC * room.volume_m3 * room.carbon_dioxide_kg_m3),
            percent(CARBON_DIOXIDE_DANGEROUS_FRAC),
        );
        return Some((Severity::FixFirst, text));
    };
    let concentration = charge_kg / room.volume_m3;
    let share = concentration / room.carbon_dioxide_kg_m3;
    let leak = leak_words(&R744, charge_kg, concentration, room, say);
    let by_volume = format!("{leak}, {} of the air by volume", percent(share));
    if concentration > R744.practical_limit_kg_m3 {
        let text = format!(
            "{by_volume}: above the charge rule of {} and immediately dangerous to life ({}). Do not run the unit \
             in this room before a licensed refrigeration technician has planned a detector, an alarm outside the door \
             and ventilation, or a place outside the room.",
            say.concentration(R744.practical_limit_kg_m3),
            percent(CARBON_DIOXIDE_DANGEROUS_FRAC),
        );
        Some((Severity::StopWork, text))
    } else if share >= CARBON_DIOXIDE_SHORT_FRAC {
        let danger = if share >= CARBON_DIOXIDE_DANGEROUS_FRAC {
            format!("immediately dangerous to life (from {})", percent(CARBON_DIOXIDE_DANGEROUS_FRAC))
        } else {
            format!("bearable for minutes only (from {})", percent(CARBON_DIOXIDE_SHORT_FRAC))
        };
        let text = format!(
            "{by_volume}: {danger}, although it passes the charge rule of {}. Put a carbon dioxide detector low \
             in the room with its alarm outside, air the room before entering when it sounds, and never shut anybody \
             in; breathing produce adds to it. A licensed refrigeration technician knows what your local code asks for.",
            say.concentration(R744.practical_limit_kg_m3),
        );
        Some((Severity::FixFirst, text))
    } else if share >= CARBON_DIOXIDE_DAY_FRAC {
        let text = format!(
            "{by_volume}: more than may be breathed for a working day ({}), less than what harms in minutes ({}). Air \
             the room before longer work in it, and ask a licensed refrigeration technician for a detector.",
            percent(CARBON_DIOXIDE_DAY_FRAC),
            percent(CARBON_DIOXIDE_SHORT_FRAC),
        );
        Some((Severity::Know, text))
    } else {
        None
    }
}

fn suffocating(
    fluid: &Refrigerant,
    charge_kg: Option<f64>,
    room: &Room,
    say: Wording,
) -> Option<(Severity, String)> {
    let limit = fluid.practical_limit_kg_m3;
    match charge_kg {
        None => {
            let text = format!(
                "The unit's charge of {} was not given. In this room of {} no more than {} may be able to leak (practical \
                 limit {}). Read the charge on the nameplate and ask a licensed refrigeration technician if it is more.",
                fluid.name,
                say_room(room, say),
                say.mass(limit * room.volume_m3),
                say.concentration(limit),
            );
            Some((Severity::FixFirst, text))
        }
        Some(charge_kg) if charge_kg / room.volume_m3 > limit => {
            let leak = leak_words(fluid, charge_kg, charge_kg / room.volume_m3, room, say);
            let text = format!(
                "{leak}, above the practical limit of {}: whoever is shut in with the leak may lose consciousness. \
                 Have a licensed refrigeration technician plan a detector and ventilation, or another place for the unit.",
                say.concentration(limit),
            );
            Some((Severity::FixFirst, text))
        }
        Some(_) => None,
    }
}

fn leak_words(
    fluid: &Refrigerant,
    charge_kg: f64,
    concentration_kg_m3: f64,
    room: &Room,
    say: Wording,
) -> String {
    format!(
        "If all {} of {} leaks into the shut room of {}, its air holds {}",
        say.mass(charge_kg),
        fluid.name,
        say_room(room, say),
        say.concentration(concentration_kg_m3),
    )
}

fn say_room(room: &Room, say: Wording) -> String {
    say.space(room.volume_m3)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};
    use approx::assert_relative_eq;
    use uom::si::f64::Mass;

    fn with(cycle: Cycle, charge_kg: Option<f64>, listed: Option<bool>) -> Option<Caution> {
        let (mut household, mut plant) = (household(), plant());
        let CoolerUnit::HeatPump(unit) = &mut household.cooler;
        unit.cycle = cycle;
        unit.charge = charge_kg.map(Mass::new::<kilogram>);
        unit.listed_for_room = listed;
        plant.room.volume_m3 = 8.0;
        caution(&household, &plant, &year())
    }

    fn severity(cycle: Cycle, charge_kg: Option<f64>, listed: Option<bool>) -> Option<Severity> {
        with(cycle, charge_kg, listed).map(|caution| caution.severity)
    }

    #[test]
    fn flammable_without_charge_or_listing_stops_work() {
        for cycle in [Cycle::R290, Cycle::R32Deep, Cycle::R1234yf] {
            assert_eq!(severity(cycle, None, Some(true)), Some(Severity::StopWork));
            assert_eq!(severity(cycle, Some(0.01), None), Some(Severity::StopWork));
            assert_eq!(severity(cycle, Some(0.01), Some(false)), Some(Severity::StopWork));
        }
    }

    #[test]
    fn propane_at_its_practical_and_flammability_limits() {
        // EN 378-1:2016 Annex E: 0.008 and 0.038 kg/m3; in 8 m3 0.064 and 0.304 kg.
        assert_eq!(severity(Cycle::R290, Some(0.0639), Some(true)), None);
        assert_eq!(severity(Cycle::R290, Some(0.064), Some(true)), None);
        assert_eq!(severity(Cycle::R290, Some(0.0641), Some(true)), Some(Severity::FixFirst));
        assert_eq!(severity(Cycle::R290, Some(0.3039), Some(true)), Some(Severity::FixFirst));
        assert_eq!(severity(Cycle::R290, Some(0.304), Some(true)), Some(Severity::StopWork));
        assert_eq!(severity(Cycle::R290, Some(0.3041), Some(true)), Some(Severity::StopWork));
    }

    #[test]
    fn carbon_dioxide_at_its_limits_by_volume_and_by_the_charge_rule() {
        // Ideal gas at 4 °C and 101 325 Pa: 1.9352 kg/m3; 0.5, 3 and 4 % of 8 m3 are 0.0774, 0.4644 and 0.6193 kg.
        let one = 8.0 * carbon_dioxide_density_kg_m3(101_325.0, 277.15);
        for (share, below, at) in [
            (0.005, None, Some(Severity::Know)),
            (0.03, Some(Severity::Know), Some(Severity::FixFirst)),
            (0.04, Some(Severity::FixFirst), Some(Severity::FixFirst)),
        ] {
            assert_eq!(severity(Cycle::R744, Some(one * (share - 1e-6)), None), below);
            assert_eq!(severity(Cycle::R744, Some(one * (share + 1e-12)), None), at);
            assert_eq!(severity(Cycle::R744, Some(one * (share + 1e-6)), None), at);
        }
        // 0.10 kg/m3, EN 378-1:2016 Annex E.
        assert_eq!(severity(Cycle::R744, Some(0.799), None), Some(Severity::FixFirst));
        assert_eq!(severity(Cycle::R744, Some(0.8), None), Some(Severity::FixFirst));
        assert_eq!(severity(Cycle::R744, Some(0.801), None), Some(Severity::StopWork));
    }

    #[test]
    fn seven_hundred_grams_of_carbon_dioxide_pass_the_rule_and_are_dangerous() {
        // 0.7 kg in 8 m3 at 4 °C is 4.5 % by volume with the real gas's 1.948 kg/m3 (Span and Wagner's equation of state,
        // evaluated with a property library); the ideal gas is 0.7 % lighter.
        assert_relative_eq!(carbon_dioxide_density_kg_m3(101_325.0, 277.15), 1.948, max_relative = 0.008);
        let text = with(Cycle::R744, Some(0.7), None).unwrap().text;
        assert!(text.contains("4.5 %") && text.contains("immediately dangerous"), "{text}");
    }

    #[test]
    fn refrigerants_that_do_not_burn_at_their_practical_limit() {
        for (cycle, limit) in [(Cycle::R134a, 0.25), (Cycle::R410ADeep, 0.44)] {
            assert_eq!(severity(cycle, Some(limit * 8.0 - 0.001), None), None);
            assert_eq!(severity(cycle, Some(limit * 8.0), None), None);
            assert_eq!(severity(cycle, Some(limit * 8.0 + 0.001), None), Some(Severity::FixFirst));
            assert_eq!(severity(cycle, None, None), Some(Severity::FixFirst));
        }
    }

    #[test]
    fn practical_limits_of_flammables_are_a_fifth_of_their_flammability_limit() {
        // ISO 817 sets them so; 5 % for the printed digits.
        for fluid in [R32, R1234YF, R290] {
            let burns = fluid.flammable_from_kg_m3.unwrap();
            assert_relative_eq!(fluid.practical_limit_kg_m3, 0.2 * burns, max_relative = 0.06);
        }
    }
}

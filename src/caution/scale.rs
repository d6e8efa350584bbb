use super::{Caution, Severity};
use crate::constants::ZERO_CELSIUS_K;
use crate::explanation::Explanation;
use crate::household::{CoolerUnit, Household};
use crate::lime::{Lime, SOFT_UP_TO_KG_M3, STAYED_FRAC, WaterClass};
use crate::plant::Plant;
use crate::wording::{Wording, percent};
use crate::year::Year;

/// Temperature from about which on lime settles much faster, K: 60 °C (140 °F).
/// Source: trade pages and a plumbing engineers' chart at 10 grains per gallon, which is moderate up to 140 °F and steep from 150 °F.
/// Second hand, weak: no standard was found.
const STRONG_FROM_K: f64 = ZERO_CELSIUS_K + 60.0;
/// Half of the last digit in which a temperature is told, K: a pump that aims at 60 °C makes water of 60 °C.
const AS_TOLD_DK: f64 = 0.05;
/// Hardness for which the lime is told where the water's own is not known, kg/m3.
const EACH_KG_M3: f64 = 0.100;

const SOURCE: &str = "Classes of hardness: US Geological Survey (Second hand: three pages). Lime carried in: Derived here, hardness times cold \
    water, docs/MODEL.md, section 9. Strong from about 60 °C (140 °F): trade pages and an engineers' chart (Second hand, weak; no standard was \
    found). What stayed of it: a test paid for by a water-treatment association (Second hand, weak). That valves clog, strainer, flush \
    ports, descaling, closed loop, what a softener brings: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C012",
    title: "Lime in the water",
    says: "How much lime the year's cold water carries into the tank at most, how much of it the dump brings on top, how hard the water is, \
        and how hot it becomes.",
    why: "Lime settles where water is hottest: in the narrow passages of the pump's exchanger, on an element, in mixing and relief valves. The \
        pump then makes less heat with more electricity, and a valve that sticks can scald or burst something. A dump lets water go that has \
        left its lime behind, and brings fresh lime in.",
    what_to_do: "A licensed plumber fits a strainer before the pump and a flush port on each side of its exchanger, and descales it once a \
        year; or a closed loop with an exchanger that can be cleaned. A lower outlet and less dumping help. A softener takes the lime out but \
        adds sodium, uses salt and water, and has to be looked after. Hardness goes into `site.hardness`.",
    silent: Some(
        "When the water is soft, 60 mg/L (3.5 grains per gallon) or less, and when no cold water enters the tank.",
    ),
    source: Some(SOURCE),
};

/// C012, lime in the water.
///
/// Limits: [`SOFT_UP_TO_KG_M3`]; to be put right first in very hard water from [`STRONG_FROM_K`] on.
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let lime = Lime::of(household, plant, year);
    let class = lime.class();
    if class == Some(WaterClass::Soft) || lime.water_m3() <= 0.0 || year.total.tank_top_k.is_empty() {
        return None;
    }
    let say = Wording(household.units);
    let hot = lime.hottest_k() >= STRONG_FROM_K - AS_TOLD_DK;
    let urgent = hot && class == Some(WaterClass::VeryHard);
    let carried = match (lime.hardness_kg_m3, class) {
        (Some(hardness_kg_m3), Some(class)) => known(&lime, hardness_kg_m3, class, say),
        _ => unknown(&lime, say),
    };
    let if_hard = if class.is_none() {
        format!("If the water has more than {}, have", say.hardness(SOFT_UP_TO_KG_M3))
    } else if urgent {
        "In such water exchanger, mixing valve and relief valve can clog: before the pump is first run, have"
            .to_owned()
    } else {
        "Have".to_owned()
    };
    Some(EXPLANATION.raised(
        if urgent { Severity::FixFirst } else { Severity::Know },
        format!("{carried} {} {}", how_hot(&lime, hot, household, say), what_to_do(&if_hard, household)),
    ))
}

/// The household's numbers where its hardness is known.
fn known(lime: &Lime, hardness_kg_m3: f64, class: WaterClass, say: Wording) -> String {
    let all_kg = hardness_kg_m3 * lime.water_m3();
    let parts = parts(lime, hardness_kg_m3, say);
    format!(
        "Water of {} is {} on the scale of the US Geological Survey. The {} that enter the tank in a year carry up to {} of lime in{parts}. \
         How much of it stays cannot be told beforehand: in one published test, a weak one paid for by a water-treatment association, about {} \
         stayed; here that would be {} a year.",
        say.hardness(hardness_kg_m3),
        class.name(),
        say.volume(lime.water_m3()),
        say.mass_in_tenths(all_kg),
        percent(STAYED_FRAC),
        say.mass(STAYED_FRAC * all_kg),
    )
}

/// What to ask, and the numbers for a hardness of [`EACH_KG_M3`].
fn unknown(lime: &Lime, say: Wording) -> String {
    format!(
        "It is not said how hard the water is (`site.hardness`). Ask the water supplier for its total hardness, as calcium carbonate, in \
         mg/L, mmol/L, German degrees or grains per gallon; of a well a laboratory or a test strip tells it. For each {} the {} that enter the \
         tank in a year carry up to {} of lime in{}.",
        say.hardness(EACH_KG_M3),
        say.volume(lime.water_m3()),
        say.mass_in_tenths(EACH_KG_M3 * lime.water_m3()),
        parts(lime, EACH_KG_M3, say),
    )
}

/// What of the lime comes with the water used and what with the water dumped.
fn parts(lime: &Lime, hardness_kg_m3: f64, say: Wording) -> String {
    if lime.dumped_m3 <= 0.0 {
        return String::new();
    }
    format!(
        ": {} with the hot water used, {} on top with the fresh water that replaces what is dumped",
        say.mass_in_tenths(hardness_kg_m3 * lime.used_m3),
        say.mass_in_tenths(hardness_kg_m3 * lime.dumped_m3),
    )
}

/// How hot the water becomes, against the temperature from which on scaling is strong.
fn how_hot(lime: &Lime, hot: bool, household: &Household, say: Wording) -> String {
    let strong = say.temperature(STRONG_FROM_K);
    let reached = match lime.made_k {
        Some(made_k) => format!(
            "The pump makes water of up to {}, the tank reaches {}",
            say.temperature(made_k),
            say.temperature(lime.tank_k)
        ),
        None => format!("The tank reaches {}", say.temperature(lime.tank_k)),
    };
    let against = if hot {
        format!("; from about {strong} on lime settles much faster, as trade pages say, a weak source")
    } else {
        format!(
            ", below the {strong} or so from which on lime settles much faster, as trade pages say, a weak source"
        )
    };
    let wall = if heated_by_coil(household) { "The wall at the coil" } else { "The exchanger's wall" };
    let hotter = if household.element.is_some() { "and the element's skin are" } else { "is" };
    format!("{reached}{against}. {wall} {hotter} hotter than the water.")
}

/// Whether the refrigerant heats the tank itself, so that no water passes through the unit.
fn heated_by_coil(household: &Household) -> bool {
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    unit.cycle.tank_coil()
}

/// What to fit and who does it.
fn what_to_do(opening: &str, household: &Household) -> String {
    let fit = if heated_by_coil(household) {
        "a licensed plumber see to it that the tank can be flushed from its lowest point, and its coil, if it lies inside, be cleaned through a \
         hand hole, once a year"
    } else {
        "a licensed plumber fit a strainer before the pump and a stop valve with a flush port on each side of its exchanger, to descale it once \
         a year by what its papers allow; or a closed loop with an exchanger that can be taken apart: what that costs in warmer water stands in the table of other tanks"
    };
    format!(
        "{opening} {fit}. The descaler must be kept off eyes and skin and be rinsed out before water is drawn again; nothing that holds it stays joined \
         to drinking water. A softener takes the lime out, but adds sodium to the water, uses salt and water, and has to be looked after. Your \
         local code says what may be fitted."
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::household::UnitSystem;
    use crate::units::kilograms_per_cubic_metre;

    /// 73 m3 a year for the taps and 20 m3 for the dump, of a hardness in mg/L, heated to a temperature.
    fn with(mg_per_l: Option<f64>, hottest_degc: f64) -> Option<Caution> {
        let (household, year) = described(mg_per_l, hottest_degc);
        caution(&household, &example::plant(), &year)
    }

    fn described(mg_per_l: Option<f64>, hottest_degc: f64) -> (Household, Year) {
        let (mut household, mut year) = (example::household(), example::year());
        household.site.hardness = mg_per_l.map(|mg_per_l| kilograms_per_cubic_metre(1e-3 * mg_per_l));
        year.total.mains_kg = 93_000.0;
        year.total.dump_kg = 20_000.0;
        year.total.hottest_made_k = ZERO_CELSIUS_K + hottest_degc;
        (household, year)
    }

    #[test]
    fn around_soft_water() {
        assert_eq!(with(Some(59.9), 70.0), None);
        assert_eq!(with(Some(60.0), 70.0), None);
        assert_eq!(with(Some(60.1), 70.0).expect("no longer soft").severity, Severity::Know);
    }

    #[test]
    fn around_very_hard_water() {
        let severity = |mg_per_l| with(Some(mg_per_l), 70.0).expect("it is hard").severity;
        assert_eq!([179.9, 180.0, 180.1].map(severity), [Severity::Know, Severity::Know, Severity::FixFirst]);
    }

    #[test]
    fn around_60_degc() {
        let severity = |degc| with(Some(300.0), degc).expect("it is hard").severity;
        assert_eq!(
            [59.9, 60.0, 60.1].map(severity),
            [Severity::Know, Severity::FixFirst, Severity::FixFirst]
        );
        let (mut household, year) = described(Some(300.0), 50.0);
        assert!(with(Some(300.0), 50.0).expect("it is hard").text.contains(", below the 60 °C or so"));
        // What the element makes counts as what the pump makes.
        let mut hot = year.clone();
        hot.total.tank_top_k.max = ZERO_CELSIUS_K + 62.0;
        household.element = Some(crate::household::ElectricElement {
            power: crate::units::watts(2000.0),
            height: crate::units::fraction(0.6),
            set: crate::units::celsius(62.0),
            differential: crate::units::interval(5.0),
        });
        let told = caution(&household, &example::plant(), &hot).expect("it is hard");
        assert_eq!(told.severity, Severity::FixFirst);
        assert!(told.text.contains("the element's skin"), "{}", told.text);
    }

    /// By hand: 300 g/m3 in 73 and 20 m3 (93 t of water at 999.8 kg/m3) are 21.9 and 6 kg.
    #[test]
    fn the_household_s_numbers_are_told() {
        let text = with(Some(300.0), 60.0).expect("it is hard").text;
        for part in [
            "300 mg/L is very hard",
            "93,000 L",
            "27.9 kg of lime in: 21.9 kg",
            "6 kg on top",
            "3 % stayed",
            "0.84 kg",
        ] {
            assert!(text.contains(part), "{part}: {text}");
        }
    }

    #[test]
    fn without_a_hardness_it_asks_and_invents_none() {
        let told = with(None, 70.0).expect("it asks");
        assert_eq!(told.severity, Severity::Know);
        for part in [
            "`site.hardness`",
            "For each 100 mg/L",
            "9.3 kg of lime in: 7.3 kg",
            "2 kg on top",
            "more than 60 mg/L",
        ] {
            assert!(told.text.contains(part), "{part}: {}", told.text);
        }
        let (mut household, mut year) = described(None, 70.0);
        household.units = UnitSystem::Us;
        let text = caution(&household, &example::plant(), &year).expect("it asks").text;
        assert!(text.contains("5.8 grains per gallon (100 mg/L)") && text.contains("140 °F"), "{text}");
        (year.total.mains_kg, year.total.dump_kg) = (0.0, 0.0);
        assert_eq!(caution(&household, &example::plant(), &year), None);
    }

    #[test]
    fn what_is_advised_suits_the_unit() {
        let (mut household, mut year) = described(Some(150.0), 55.0);
        year.total.dump_kg = 0.0;
        let text = caution(&household, &example::plant(), &year).expect("it is hard").text;
        assert!(text.contains("strainer before the pump") && !text.contains("dumped"), "{text}");
        let CoolerUnit::HeatPump(unit) = &mut household.cooler;
        unit.cycle = crate::heat_pump::Cycle::R134aTankCoil;
        let text = caution(&household, &example::plant(), &year).expect("it is hard").text;
        assert!(text.contains("hand hole") && !text.contains("strainer"), "{text}");
    }
}

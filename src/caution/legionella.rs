use super::{Caution, Severity};
use crate::constants::ZERO_CELSIUS_K;
use crate::explanation::Explanation;
use crate::household::Household;
use crate::plant::Plant;
use crate::wording::{Wording, months};
use crate::year::{Interval, Year};

/// Coolest water in which Legionella grows well, K.
/// Source: WHO, Legionella and the prevention of legionellosis, 2007, chapter 2. Second hand: 25-45 °C as given in texts that quote it.
const GROWS_FROM_K: f64 = ZERO_CELSIUS_K + 25.0;
/// Warmest water in which it grows, K. Source: as [`GROWS_FROM_K`].
const GROWS_TO_K: f64 = ZERO_CELSIUS_K + 45.0;
/// Store temperature that guidance asks for, K.
/// Source: UK HSE HSG274 Part 2 (2014), introduction. Second hand: exact quotation seen.
const STORE_AT_K: f64 = ZERO_CELSIUS_K + 60.0;

const SOURCE: &str = "Growth at 25 to 45 °C: WHO, Legionella and the prevention of legionellosis, 2007, chapter 2 \
    (Second hand: texts that quote it). Store at 60 °C: HSE HSG274 Part 2, 2014 (Second hand: quotation seen). \
    Layers judged by monthly means: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C002",
    title: "Legionella",
    says: "In which months a layer of the tank stands at 25 to 45 °C, where the bacteria grow.",
    why: "Every stratified tank fed from its cold end has such a layer, and a dump opened by the \
        tank's lower part keeps it there. Breathing the spray of such water can cause a \
        pneumonia that kills, above all the old and the ill.",
    what_to_do: "Ask what the local code wants for stored hot water; a licensed plumber sets up and \
        maintains what it asks for. No time at a temperature is printed as reassurance: field \
        water survives laboratory figures.",
    silent: Some(
        "When no month has a layer between 25 and 45 °C on average: the whole tank colder, or the \
        whole tank hotter.",
    ),
    source: Some(SOURCE),
};

/// C002, Legionella in lukewarm layers.
///
/// Limits: [`GROWS_FROM_K`], [`GROWS_TO_K`], [`STORE_AT_K`].
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let lukewarm = |month: usize| has_lukewarm_layer(&year.months[month]);
    let when = months(lukewarm);
    if when.is_empty() {
        return None;
    }
    let say = Wording(household.units);
    let hot_enough = (0..12).all(|month| mean_top_k(&year.months[month]) >= STORE_AT_K);
    let severity = if hot_enough { Severity::Know } else { Severity::FixFirst };
    let booster = plant.booster.map(|booster| booster_words(booster.set_k, say)).unwrap_or_default();
    Some(Caution {
        code: EXPLANATION.code,
        title: EXPLANATION.title,
        severity,
        text: format!(
            "A layer of the tank stands between {} and {} in {when} (monthly means), where Legionella bacteria grow; \
             breathing the spray of such water can cause a deadly pneumonia. {booster}Guidance asks for stores kept at \
             {} or more, which this tank {}. Ask what your local code wants for stored hot water, tell the \
             licensed plumber about people in the house who are old, ill or smoke, and do not spray stored water.",
            say.temperature(GROWS_FROM_K),
            say.temperature(GROWS_TO_K),
            say.temperature(STORE_AT_K),
            if hot_enough { "reaches at its top only" } else { "does not hold all year round" },
        ),
        source: SOURCE,
    })
}

/// Whether somewhere between bottom and top the month's mean passes through the range of growth.
fn has_lukewarm_layer(month: &Interval) -> bool {
    mean_top_k(month) >= GROWS_FROM_K && month.mean(month.tank_bottom_k_s) <= GROWS_TO_K
}

fn mean_top_k(month: &Interval) -> f64 {
    month.mean(month.tank_top_k_s)
}

fn booster_words(set_k: f64, say: Wording) -> String {
    format!(
        "The booster, set to {}, does not disinfect what the tank has grown: {}. ",
        say.temperature(set_k),
        if set_k <= GROWS_TO_K { "that is a temperature of growth" } else { "water passes it in seconds" },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};

    /// A year whose tank has the given monthly mean top and bottom.
    fn with(top_degc: f64, bottom_degc: f64) -> Option<Caution> {
        let mut year = year();
        for month in &mut year.months {
            month.tank_top_k_s = (top_degc + ZERO_CELSIUS_K) * month.duration_s;
            month.tank_bottom_k_s = (bottom_degc + ZERO_CELSIUS_K) * month.duration_s;
        }
        caution(&household(), &plant(), &year)
    }

    #[test]
    fn just_outside_the_range_of_growth_it_is_silent() {
        assert_eq!(with(24.9, 10.0), None);
        assert_eq!(with(65.0, 45.1), None);
    }

    #[test]
    fn at_the_edges_of_the_range_it_speaks() {
        assert!(with(25.0, 10.0).is_some());
        assert!(with(65.0, 45.0).is_some());
    }

    #[test]
    fn inside_the_range_it_names_the_months_and_what_the_booster_does_not_do() {
        let caution = with(50.0, 12.0).unwrap();
        assert_eq!(caution.severity, Severity::FixFirst);
        assert!(caution.text.contains("every month"), "{}", caution.text);
        assert!(caution.text.contains("set to 45 °C, does not disinfect"), "{}", caution.text);
        assert!(caution.text.contains("local code"), "{}", caution.text);
    }

    #[test]
    fn a_store_at_60_degc_is_worth_knowing_only() {
        assert_eq!(with(59.9, 12.0).unwrap().severity, Severity::FixFirst);
        assert_eq!(with(60.0, 12.0).unwrap().severity, Severity::Know);
        assert_eq!(with(60.1, 12.0).unwrap().severity, Severity::Know);
    }

    #[test]
    fn no_kill_time_is_printed() {
        let text = with(60.1, 12.0).unwrap().text;
        assert!(!text.contains("minute") && !text.contains("log"), "{text}");
    }
}

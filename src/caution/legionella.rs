use super::{Caution, Severity};
use crate::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K;
use crate::explanation::Explanation;
use crate::household::Household;
use crate::plant::{Cooler, DAY_S, Plant};
use crate::wording::{MONTHS, Wording, count, percent};
use crate::year::{GROWS_K, HOT_K, STORE_AT_K, Year};

/// Time between two heatings of the whole tank, where they are asked for, s.
/// Common practice, no source: codes that ask for it say a day or a week.
const HOT_CYCLE_EVERY_S: f64 = 7.0 * DAY_S;

const SOURCE: &str = "Growth at 25 to 45 °C: WHO, Legionella and the prevention of legionellosis, 2007, chapter 2 \
    (Second hand: texts that quote it). Store at 60 °C: HSE HSG274 Part 2, 2014 (Second hand: quotation seen). \
    Heat of a hot cycle: Derived here, from the tank's monthly means. Once a week: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C002",
    title: "Legionella",
    says: "How much of the tank's water stands at 25 to 45 °C, where the bacteria grow, how long its uppermost and lowest tenth are \
        hot, how long the whole tank goes without 60 °C, and what heating it through once a week would take.",
    why: "Every stratified tank fed from its cold end has such a layer, and a dump opened by the \
        tank's lower part keeps it there. Breathing the spray of such water can cause a \
        pneumonia that kills, above all the old and the ill.",
    what_to_do: "Let the taps' water pass through a coil or plate exchanger in the tank, so that none that is drunk or showered is stored, or keep the tank's top hot \
        with an element. Ask what the local code wants for stored hot water; a licensed plumber sets up and maintains what it asks for. No time at a temperature is printed as reassurance: field \
        water survives laboratory figures.",
    silent: Some(
        "When no water of the tank was between 25 and 45 °C all year: the whole tank colder, or the \
        whole tank hotter.",
    ),
    source: Some(SOURCE),
};

/// C002, Legionella in lukewarm layers.
///
/// Limits: [`GROWS_K`], [`STORE_AT_K`].
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    if year.total.layers.lukewarm_s <= 0.0 {
        return None;
    }
    let say = Wording(household.units);
    let hot_enough = year.total.tank_top_k.min >= STORE_AT_K;
    let severity = if hot_enough { Severity::Know } else { Severity::FixFirst };
    let booster = plant.booster.map(|booster| booster_words(booster.set_k, say)).unwrap_or_default();
    let first = if hot_enough {
        "Do not spray stored water."
    } else {
        "To be put right with a licensed plumber: either let the taps' water pass through a coil or plate exchanger in the tank, so that none that is drunk or \
         showered is stored, or keep the tank's top hot with an element; until then do not spray stored water (Common practice, no source)."
    };
    Some(EXPLANATION.raised(severity, format!(
            "{first} {}, where Legionella bacteria grow; breathing the spray of such water can cause a deadly pneumonia. {} \
             {booster}Guidance asks for stores kept at {} or more, which this tank {}. {} Ask what your local code wants \
             for stored hot water, tell the licensed plumber about people in the house who are old, ill or smoke, and do \
             not spray stored water.",
            lukewarm_words(year, say),
            hot_words(year, say),
            say.temperature(STORE_AT_K),
            if hot_enough { "reaches at its top only" } else { "does not hold all year round" },
            cycle_words(plant, year, say),
        )))
}

/// How much of the water stands in the range of growth, and in which month most of it.
fn lukewarm_words(year: &Year, say: Wording) -> String {
    let share = |month: usize| year.months[month].mean(year.months[month].layers.lukewarm_s);
    let worst = (0..12).max_by(|&a, &b| share(a).total_cmp(&share(b))).unwrap_or(0);
    format!(
        "Averaged over the year {} of the tank's water stands between {} and {} (in {} {})",
        percent(year.total.mean(year.total.layers.lukewarm_s)),
        say.temperature(GROWS_K[0]),
        say.temperature(GROWS_K[1]),
        MONTHS[worst],
        percent(share(worst)),
    )
}

/// How long top and bottom were hot, and for how long the whole tank was not.
fn hot_words(year: &Year, say: Wording) -> String {
    let layers = &year.total.layers;
    let hot = |hot_s: &[f64; HOT_K.len()], index: usize| percent(hot_s[index] / year.total.duration_s);
    let whole = if layers.longest_cool_s >= year.total.duration_s {
        format!("the whole tank never reaches {}", say.temperature(STORE_AT_K))
    } else {
        format!(
            "the whole tank goes up to {} without {}",
            count(layers.longest_cool_s / DAY_S, "day"),
            say.temperature(STORE_AT_K)
        )
    };
    format!(
        "The uppermost tenth of the tank is over {} for {} of the year and over {} for {}, the lowest tenth for {} and {}; \
         {whole}.",
        say.temperature(HOT_K[1]),
        hot(&layers.top_hot_s, 1),
        say.temperature(HOT_K[3]),
        hot(&layers.top_hot_s, 3),
        hot(&layers.bottom_hot_s, 1),
        hot(&layers.bottom_hot_s, 3),
    )
}

fn booster_words(set_k: f64, say: Wording) -> String {
    format!(
        "The booster, set to {}, does not disinfect what the tank has grown: {}. ",
        say.temperature(set_k),
        if set_k <= GROWS_K[1] { "that is a temperature of growth" } else { "water passes it in seconds" },
    )
}

/// What heating the whole tank through once a week would take.
fn cycle_words(plant: &Plant, year: &Year, say: Wording) -> String {
    let Cooler::HeatPump(pump) = &plant.cooler;
    let cycle = HotCycle::of(plant, year);
    let refuses = if pump.tank_stop_k() < STORE_AT_K {
        format!(
            " The pump cannot do it, as it stops at {} of the tank's water: it would take an element, and while the tank is hot to \
             its bottom the room is not cooled.",
            say.temperature(pump.tank_stop_k())
        )
    } else {
        String::new()
    };
    format!(
        "Heating the whole tank to {} once a week, where a code asks for it, takes {} each time from its mean of {}, {} a \
         year, besides what it then loses more.{refuses}{}",
        say.temperature(STORE_AT_K),
        say.energy(cycle.once_j),
        say.temperature(year.total.mean(year.total.tank_mean_k_s)),
        say.energy(cycle.year_j),
        dumped_words(plant, say),
    )
}

/// That the dump would let the hot cycle's water out, where it opens below it.
fn dumped_words(plant: &Plant, say: Wording) -> String {
    let early = plant.dump.as_ref().filter(|dump| dump.opens_k < STORE_AT_K);
    early.map_or(String::new(), |dump| {
        format!(
            " The dump opens at {} and would let that water out: it has to be kept shut while the cycle runs and opened again after it, or the element \
             has to sit above the dump's probe and heat only what is above it.",
            say.temperature(dump.opens_k)
        )
    })
}

/// Heat that brings the whole tank to [`STORE_AT_K`].
#[derive(Debug, Clone, Copy, PartialEq)]
struct HotCycle {
    /// From the mean of the year, J.
    once_j: f64,
    /// All year, every [`HOT_CYCLE_EVERY_S`], each from the mean of its month, J.
    year_j: f64,
}

impl HotCycle {
    fn of(plant: &Plant, year: &Year) -> Self {
        let heat_j = |mean_k: f64| {
            plant.tank.mass_kg() * WATER_SPECIFIC_HEAT_J_PER_KG_K * (STORE_AT_K - mean_k).max(0.0)
        };
        let once_j = heat_j(year.total.mean(year.total.tank_mean_k_s));
        let months = year.months.iter().filter(|month| month.duration_s > 0.0);
        let year_j = months
            .map(|month| heat_j(month.mean(month.tank_mean_k_s)) * (month.duration_s / HOT_CYCLE_EVERY_S))
            .sum();
        Self { once_j, year_j }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};
    use crate::constants::ZERO_CELSIUS_K;
    use approx::assert_relative_eq;

    /// A year in which so much of the tank's water is lukewarm, and whose top is never colder than given.
    fn with(lukewarm_frac: f64, coldest_top_degc: f64) -> Option<Caution> {
        let mut year = year();
        for month in year.months.iter_mut().chain([&mut year.total]) {
            month.layers.lukewarm_s = lukewarm_frac * month.duration_s;
            month.layers.longest_cool_s = year_s();
        }
        year.total.tank_top_k.min = coldest_top_degc + ZERO_CELSIUS_K;
        caution(&household(), &plant(), &year)
    }

    fn year_s() -> f64 {
        365.0 * DAY_S
    }

    /// A dump that opens below 60 °C lets a hot cycle's water out; one that opens there does not.
    #[test]
    fn the_dump_would_end_a_hot_cycle() {
        let told = |opens_k: f64| {
            let mut plant = crate::caution::example::plant();
            plant.dump.as_mut().unwrap().opens_k = opens_k;
            !dumped_words(&plant, Wording(crate::household::UnitSystem::Metric)).is_empty()
        };
        assert_eq!([STORE_AT_K - 0.1, STORE_AT_K].map(told), [true, false]);
    }

    #[test]
    fn without_lukewarm_water_it_is_silent() {
        assert_eq!(with(0.0, 48.0), None);
    }

    #[test]
    fn any_lukewarm_water_makes_it_speak() {
        assert!(with(1e-6, 48.0).is_some());
    }

    #[test]
    fn it_tells_how_much_water_for_how_long_and_what_the_booster_does_not_do() {
        let caution = with(0.32, 48.0).unwrap();
        assert_eq!(caution.severity, Severity::FixFirst);
        assert!(caution.text.contains("32 % of the tank's water"), "{}", caution.text);
        assert!(caution.text.contains("never reaches 60 °C"), "{}", caution.text);
        assert!(caution.text.contains("set to 45 °C, does not disinfect"), "{}", caution.text);
        assert!(caution.text.contains("stops at 40 °C of the tank's water"), "{}", caution.text);
        assert!(caution.text.contains("local code"), "{}", caution.text);
    }

    #[test]
    fn a_top_always_at_60_degc_is_worth_knowing_only() {
        assert_eq!(with(0.1, 59.9).unwrap().severity, Severity::FixFirst);
        assert_eq!(with(0.1, 60.0).unwrap().severity, Severity::Know);
        assert_eq!(with(0.1, 60.1).unwrap().severity, Severity::Know);
    }

    /// 299 kg from 30 to 60 °C: 251.390 less 126.015 kJ/kg, the enthalpies of IAPWS-IF97 at 0.3 MPa, evaluated with an
    /// open library, are 10.41 kWh; the constant specific heat of the tank is within 0.2 %.
    #[test]
    fn a_hot_cycle_takes_the_heat_of_the_steam_tables() {
        let cycle = HotCycle::of(&plant(), &year());
        assert_relative_eq!(cycle.once_j, 299.0 * (251_390.0 - 126_015.0), max_relative = 2e-3);
        assert_relative_eq!(cycle.year_j, cycle.once_j * 365.0 / 7.0, max_relative = 1e-9);
    }

    #[test]
    fn no_kill_time_is_printed() {
        let text = with(0.1, 60.1).unwrap().text;
        assert!(!text.contains("minute") && !text.contains("log"), "{text}");
    }
}

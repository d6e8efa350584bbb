use super::{Caution, Severity};
use crate::constants::ZERO_CELSIUS_K;
use crate::explanation::Explanation;
use crate::household::{Destination, Household};
use crate::plant::Plant;
use crate::scald::HOTTEST_AT_TAP_K;
use crate::wording::{Wording, number};
use crate::year::Year;

/// Hottest water into a building drain, K (60 °C, 140 °F).
/// Source: UMC 2024 1001.4; UPC has the same rule. Second hand: code training pages. Some places ask for less.
const DRAIN_K: f64 = ZERO_CELSIUS_K + 60.0;
/// Hottest water in polyethylene irrigation pipe, K (38 °C).
/// Source: AWWA Manual M55, Table 4-6: rated to 38 °C, "above ask the maker". Second hand: pages that reproduce it.
const IRRIGATION_PIPE_K: f64 = ZERO_CELSIUS_K + 38.0;
/// Water that harms leaves, K (43 °C). Second hand: gardening pages, no scholarly source found.
const LEAVES_K: f64 = ZERO_CELSIUS_K + 43.0;

const SOURCE: &str = "Drain 60 °C (140 °F): UMC 2024 1001.4 (Second hand: training page). Pipe 38 °C: AWWA M55 Table 4-6 (Second \
    hand: pages that reproduce it). Leaves 43 °C: gardening pages (Second hand, weak). Skin 49 °C: Ontario Building Code \
    7.6.5.1 (Checked: original read).";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C007",
    title: "Hot water in the dump line",
    says: "How hot the dumped water gets, against what drain, pipe, plants and skin bear.",
    why: "Plastic drains soften, irrigation pipe bursts, plants and children are scalded.",
    what_to_do: "Temper the water with cold before it gets there, let it cool in a buffer, or choose \
        another path.",
    silent: Some(
        "Without a dump, when it never opened, and at or below the limit of the place it leads \
        to.",
    ),
    source: Some(SOURCE),
};

/// C007, hot water in the dump line.
///
/// Limits: [`DRAIN_K`], [`IRRIGATION_PIPE_K`], [`LEAVES_K`] and the limit at a tap.
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let dump = household.dump.as_ref()?;
    let hottest_k = year.total.tank_top_k.max;
    let limit_k = match dump.leads_to {
        Destination::Drain => DRAIN_K,
        Destination::Irrigation => IRRIGATION_PIPE_K,
        Destination::Barrel => HOTTEST_AT_TAP_K,
    };
    if year.total.dump_openings == 0.0 || hottest_k <= limit_k {
        return None;
    }
    let say = Wording(household.units);
    let warmest_mains_k = plant.mains_k.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let hot = format!(
        "The tank's top reaches {}, and water as hot as that may leave by the dump line",
        say.temperature(hottest_k)
    );
    let (severity, text) = match dump.leads_to {
        Destination::Drain => (
            Severity::FixFirst,
            format!(
                "{hot}. Drains may be given {} at most, in some places less. {} Ask your local code for its figure and a \
                 licensed plumber for the tempering valve.",
                say.temperature(limit_k),
                tempering(hottest_k, limit_k, warmest_mains_k),
            ),
        ),
        Destination::Irrigation => (
            if hottest_k > LEAVES_K { Severity::FixFirst } else { Severity::Know },
            format!(
                "{hot}. Plastic irrigation pipe is rated to about {}, leaves suffer from about {}. {} Drip it or let \
                 it seep rather than spray it, with the outlets where no child plays.",
                say.temperature(limit_k),
                say.temperature(LEAVES_K),
                tempering(hottest_k, limit_k, warmest_mains_k),
            ),
        ),
        Destination::Barrel => (
            Severity::FixFirst,
            format!(
                "{hot}. Water above {} scalds: the barrel needs a lid that a child cannot lift, a stand that bears the \
                 weight, and walls rated for the heat.",
                say.temperature(limit_k),
            ),
        ),
    };
    Some(Caution { code: EXPLANATION.code, title: EXPLANATION.title, severity, text, source: SOURCE })
}

/// How much mains water brings hot water down to a temperature, as a sentence.
fn tempering(hot_k: f64, wanted_k: f64, mains_k: f64) -> String {
    if mains_k >= wanted_k {
        return "Your mains water is too warm in summer to temper it.".to_owned();
    }
    format!(
        "Each part of it needs {} parts of cold mains water (at its warmest) mixed in.",
        number((hot_k - wanted_k) / (wanted_k - mains_k))
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};

    fn with(leads_to: Destination, hottest_degc: f64) -> Option<Caution> {
        let (mut household, mut plant, mut year) = (household(), plant(), year());
        household.dump.as_mut().unwrap().leads_to = leads_to;
        plant.mains_k = vec![ZERO_CELSIUS_K + 15.0; 365];
        year.total.dump_openings = 3.0;
        year.total.tank_top_k.max = hottest_degc + ZERO_CELSIUS_K;
        caution(&household, &plant, &year)
    }

    #[test]
    fn just_below_and_at_the_limit_it_is_silent() {
        for (leads_to, limit) in
            [(Destination::Drain, 60.0), (Destination::Irrigation, 38.0), (Destination::Barrel, 49.0)]
        {
            assert_eq!(with(leads_to, limit - 0.1), None);
            assert_eq!(with(leads_to, limit), None);
            assert!(with(leads_to, limit + 0.1).is_some());
        }
    }

    #[test]
    fn a_drain_gets_its_share_of_cold_water() {
        // 75 °C to 60 °C with 15 °C water: 15/45 = 0.333 kg cold for each kilogram hot, heat balance.
        let text = with(Destination::Drain, 75.0).unwrap().text;
        assert!(text.contains("0.33 parts"), "{text}");
    }

    #[test]
    fn leaves_decide_how_urgent_irrigation_is() {
        assert_eq!(with(Destination::Irrigation, 43.0).unwrap().severity, Severity::Know);
        assert_eq!(with(Destination::Irrigation, 43.1).unwrap().severity, Severity::FixFirst);
    }

    #[test]
    fn a_dump_that_never_opened_is_silent() {
        let (household, plant, mut year) = (household(), plant(), year());
        year.total.dump_openings = 0.0;
        year.total.tank_top_k.max = ZERO_CELSIUS_K + 70.0;
        assert_eq!(caution(&household, &plant, &year), None);
    }

    #[test]
    fn mains_water_warmer_than_the_limit_cannot_temper() {
        assert!(tempering(320.0, 300.0, 300.0).contains("too warm"));
    }
}

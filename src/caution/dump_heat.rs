use super::{Caution, Severity};
use crate::constants::ZERO_CELSIUS_K;
use crate::explanation::Explanation;
use crate::household::{Destination, DumpLine, Household};
use crate::pipe::Run;
use crate::plant::Plant;
use crate::scald::HOTTEST_AT_TAP_K;
use crate::wording::{Wording, list, number};
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
    hand: pages that reproduce it). PVC 60 °C: Machinery's Handbook, 31st edition, plastic pipe, table 14; PEX and CPVC 82 °C: IRC P2904.5, ASTM D2846 (Second hand). Leaves 43 °C: gardening pages (Second hand, weak). Skin 49 °C: Ontario Building Code \
    7.6.5.1 (Checked: original read).";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C007",
    title: "Hot water in the dump line",
    says: "How hot the dumped water gets, against what drain, pipes, plants and skin bear.",
    why: "Plastic drains soften, irrigation pipe bursts, plants and children are scalded.",
    what_to_do: "Temper the water with cold before it gets there, let it cool in a buffer, or choose \
        another path.",
    silent: Some(
        "Without a dump, when it never opened, and at or below the limits of the places it leads \
        to and of the pipes that were described.",
    ),
    source: Some(SOURCE),
};

/// C007, hot water in the dump line.
///
/// Limits: [`DRAIN_K`], [`IRRIGATION_PIPE_K`], [`LEAVES_K`], the limit at a tap, and what the pipes of the line bear.
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let dump = household.dump.as_ref()?;
    let tank_k = year.total.tank_top_k.max;
    if year.total.dump_openings == 0.0 {
        return None;
    }
    let say = Wording(household.units);
    let warmest_mains_k = plant.mains_k.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mut told: Vec<(Severity, String)> =
        [Destination::Irrigation, Destination::Drain, Destination::Barrel]
            .into_iter()
            .filter_map(|kind| of_kind(kind, dump.hottest_at_k(Some(kind), tank_k)?, warmest_mains_k, say))
            .collect();
    if let Some(text) = soft_pipes(dump, dump.hottest_at_k(None, tank_k)?, say) {
        told.push((Severity::FixFirst, text));
    }
    let severity = told.iter().map(|(severity, _)| *severity).max()?;
    let mut text = format!(
        "The tank's top reaches {}, and water as hot as that may leave it by the dump line.",
        say.temperature(tank_k)
    );
    for (_, one) in told {
        text.push(' ');
        text.push_str(&one);
    }
    Some(EXPLANATION.raised(severity, text))
}

fn of_kind(kind: Destination, hottest_k: f64, mains_k: f64, say: Wording) -> Option<(Severity, String)> {
    let limit_k = match kind {
        Destination::Drain => DRAIN_K,
        Destination::Irrigation => IRRIGATION_PIPE_K,
        Destination::Barrel => HOTTEST_AT_TAP_K,
    };
    if hottest_k <= limit_k {
        return None;
    }
    Some(match kind {
        Destination::Drain => (
            Severity::FixFirst,
            format!(
                "Drains may be given {} at most, in some places less. {} Ask your local code for its figure and a \
                 licensed plumber for the tempering valve.",
                say.temperature(limit_k),
                tempering(hottest_k, limit_k, mains_k),
            ),
        ),
        Destination::Irrigation => (
            if hottest_k > LEAVES_K { Severity::FixFirst } else { Severity::Know },
            format!(
                "Plastic irrigation pipe is rated to about {}, leaves suffer from about {}. {} Drip it or let \
                 it seep rather than spray it, with the outlets where no child plays.",
                say.temperature(limit_k),
                say.temperature(LEAVES_K),
                tempering(hottest_k, limit_k, mains_k),
            ),
        ),
        Destination::Barrel => (
            Severity::FixFirst,
            format!(
                "Water above {} scalds: the barrel needs a lid that a child cannot lift, a stand that bears the \
                 weight, and walls rated for the heat.",
                say.temperature(limit_k),
            ),
        ),
    })
}

/// The runs of the line that are too soft for the water.
fn soft_pipes(dump: &DumpLine, hottest_k: f64, say: Wording) -> Option<String> {
    let runs = &dump.line.as_ref()?.runs;
    let soft = |run: &&Run| run.material.hottest_k().is_some_and(|limit_k| hottest_k > limit_k);
    let names: Vec<String> = runs
        .iter()
        .filter(soft)
        .map(|run| {
            let limit = run.material.hottest_k().map_or(String::new(), |limit_k| say.temperature(limit_k));
            format!("\"{}\" ({}, to {limit})", run.name, run.material.name())
        })
        .collect();
    (!names.is_empty()).then(|| {
        format!(
            "In your line water of {} is too hot for {}: such pipe loses its strength and bursts. Take a tube for hot water \
             up to where the water is tempered.",
            say.temperature(hottest_k),
            list(&names)
        )
    })
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
        household.dump.as_mut().unwrap().destinations[0].kind = leads_to;
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

    #[test]
    fn tempered_water_is_told_by_its_own_temperature() {
        let (mut household, plant, mut year) = (household(), plant(), year());
        year.total.dump_openings = 3.0;
        year.total.tank_top_k.max = ZERO_CELSIUS_K + 65.0;
        let raised = |household: &Household| caution(household, &plant, &year).is_some();
        let place = |household: &mut Household, temper_degc: f64| {
            let taker = &mut household.dump.as_mut().unwrap().destinations[0];
            (taker.kind, taker.temper_to) =
                (Destination::Irrigation, Some(crate::units::celsius(temper_degc)));
        };
        for (temper_degc, told) in [(37.9, false), (38.0, false), (38.1, true)] {
            place(&mut household, temper_degc);
            assert_eq!(raised(&household), told, "{temper_degc}");
        }
    }

    #[test]
    fn a_run_of_pipe_is_told_of_above_what_it_bears() {
        let (mut household, plant, mut year) = (household(), plant(), year());
        year.total.dump_openings = 3.0;
        let run = Run {
            name: "garden".to_owned(),
            material: crate::pipe::Material::Pe,
            bore_m: 0.016,
            length_m: 10.0,
            bends: 0.0,
            buried_m: None,
        };
        household.dump.as_mut().unwrap().line = Some(crate::pipe::Line {
            supply_pa: 4.0e5,
            rise_m: 0.0,
            runs: vec![run],
            valves: Vec::new(),
            emitters: None,
        });
        for (degc, told) in [(37.9, false), (38.0, false), (38.1, true)] {
            year.total.tank_top_k.max = ZERO_CELSIUS_K + degc;
            let text = caution(&household, &plant, &year).map(|caution| caution.text);
            assert_eq!(text.is_some_and(|text| text.contains("\"garden\" (PE, to 38 °C)")), told, "{degc}");
        }
    }
}

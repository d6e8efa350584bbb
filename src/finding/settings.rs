//! Where do dials, probes and ports go?

use super::remedy::{AQUASTAT_MARGIN_DK, LOWERED_BY_DK, raise_aquastat, remedies, setting, turn_aquastat};
use super::{Answer, Case, Finding, Question, at_most, frost_protection, stays_cold, stays_unfrozen};
use crate::constants::ZERO_CELSIUS_K;
use crate::plant::{Cooler, Dump};
use crate::wording::months;
use crate::year::{Interval, Year};

/// Distance of a dial from what it must not reach, K. Common practice, no source: half the usual error of a dial and its probe.
const DIAL_MARGIN_DK: f64 = 1.0;
/// Share of the hot water wanted that may be dumped and boosted in the same month without a thought. Common practice, no source.
const LITTLE_WASTE_FRAC: f64 = 0.01;
/// Share that is still borne. Common practice, no source.
const BORNE_WASTE_FRAC: f64 = 0.05;
/// Joules in a kilowatt hour.
const J_PER_KWH: f64 = 3.6e6;

pub(super) const DIAL_SOURCE: &str = "Limits: what the household gave or the crop table (Second hand); a margin of 1 degree C: Common practice, \
    no source.";
pub(super) const AQUASTAT_SOURCE: &str = "What stops the unit: its own highest inlet or outlet, through the closed loop if there is one. A margin of 2 degrees C: Common practice, no source.";
pub(super) const WASTE_SOURCE: &str =
    "1 % of the hot water wanted as little, 5 % as borne: Common practice, no source.";

pub(super) fn findings(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = vec![thermostat(case)];
    if let Some(dump) = &case.plant.dump {
        findings.push(aquastat(case, dump));
        if case.plant.booster.is_some() || case.plant.element.is_some() {
            findings.push(dumped_and_boosted(case, dump));
        }
    }
    findings.extend(frost_protection::finding(case));
    findings
}

/// F501 where the room's thermostat has no say.
fn dial_without_a_say(case: &Case<'_>) -> Finding {
    let total = &case.year.total;
    let harmed = [stays_cold(total), stays_unfrozen(total)].contains(&Answer::No);
    Finding {
        code: "F501",
        question: Question::Settings,
        answer: if harmed { Answer::No } else { Answer::Barely },
        value: case.plant.thermostat.on_at_k - ZERO_CELSIUS_K,
        unit: "degc",
        limit: Some(case.plant.room.warm_limit_k - ZERO_CELSIUS_K),
        text: "The room's thermostat has no say: the tank's alone calls the pump, and the room gets as cold or as warm as that leaves it. Let the room \
               call too (`called_by`); \"Who rules the pump\" sets the ways side by side."
            .to_owned(),
        source: DIAL_SOURCE,
        remedies: Vec::new(),
    }
}

/// F501: the thermostat's band between the warm and the freezing limit.
fn thermostat(case: &Case<'_>) -> Finding {
    if case.tank_alone_calls() {
        return dial_without_a_say(case);
    }
    let (say, dial, room) = (case.say, &case.plant.thermostat, &case.plant.room);
    let short_above_dk = dial.on_at_k - room.warm_limit_k;
    let short_below_dk = room.freezing_k - dial.off_at_k;
    let too_warm = short_above_dk >= short_below_dk;
    let answer = at_most(short_above_dk.max(short_below_dk), -DIAL_MARGIN_DK, 0.0);
    let band = format!(
        "The thermostat calls for cooling at {} and is satisfied at {}",
        say.temperature(dial.on_at_k),
        say.temperature(dial.off_at_k)
    );
    let (warm, cold) = (say.temperature(room.warm_limit_k), say.temperature(room.freezing_k));
    let text = match (answer, too_warm) {
        (Answer::Yes, _) => format!(
            "The thermostat is set well. It calls for cooling at {} and is satisfied at {}, between your limit of {warm} and \
             {cold}, where the first of what you store freezes.",
            say.temperature(dial.on_at_k),
            say.temperature(dial.off_at_k)
        ),
        (Answer::Barely, true) => {
            format!(
                "{band}; that is less than {} below your limit of {warm}, so a small error of the dial is too much.",
                say.difference(DIAL_MARGIN_DK)
            )
        }
        (Answer::Barely, false) => format!(
            "{band}; that is less than {} above {cold}, where the first of what you store freezes.",
            say.difference(DIAL_MARGIN_DK)
        ),
        (_, true) => format!(
            "{band}: it lets the room go above your limit of {warm} before it does anything. Turn it down."
        ),
        (_, false) => {
            format!(
                "{band}: it cools below {cold}, where the first of what you store freezes. Turn it up or narrow its band."
            )
        }
    };
    let (value_k, limit_k) =
        if too_warm { (dial.on_at_k, room.warm_limit_k) } else { (dial.off_at_k, room.freezing_k) };
    Finding {
        code: "F501",
        question: Question::Settings,
        answer,
        value: value_k - ZERO_CELSIUS_K,
        unit: "degc",
        limit: Some(limit_k - ZERO_CELSIUS_K),
        text,
        source: DIAL_SOURCE,
        remedies: Vec::new(),
    }
}

/// F502: the aquastat against the water that stops the pump.
fn aquastat(case: &Case<'_>, dump: &Dump) -> Finding {
    let Cooler::HeatPump(pump) = &case.plant.cooler;
    let say = case.say;
    let stops_k = pump.tank_stop_k();
    let answer = at_most(dump.opens_k - stops_k, -AQUASTAT_MARGIN_DK, 0.0);
    let (opens, stops) = (say.temperature(dump.opens_k), say.temperature(stops_k));
    let text = match answer {
        Answer::Yes => format!(
            "The aquastat, the switch on the tank that opens the dump, opens at {opens}, safely below the {stops} at which the \
             water stops the pump."
        ),
        Answer::Barely => format!(
            "The aquastat, the switch on the tank that opens the dump, opens at {opens}. The water stops the pump at {stops}, so \
             near that the pump may stop first."
        ),
        _ => format!(
            "The aquastat, the switch on the tank that opens the dump, opens at {opens}, but the water stops the pump at {stops} \
             already. The room can then go without cooling while the dump stays shut: set the aquastat lower, or its probe higher \
             in the tank."
        ),
    };
    let opens_degc = dump.opens_k - ZERO_CELSIUS_K;
    let lower_dk = stops_k - LOWERED_BY_DK - dump.opens_k;
    let lowered =
        case.household.dump.as_ref().filter(|_| answer != Answer::Yes).and_then(|line| {
            setting(case, &turn_aquastat(line, lower_dk), opens_degc, opens_degc + lower_dk)
        });
    Finding {
        code: "F502",
        question: Question::Settings,
        answer,
        value: opens_degc,
        unit: "degc",
        limit: Some(stops_k - ZERO_CELSIUS_K),
        text,
        source: AQUASTAT_SOURCE,
        remedies: lowered.into_iter().collect(),
    }
}

/// Heat that was dumped and bought, from booster or element, in the same month, J.
fn waste_j(month: &Interval) -> f64 {
    month.dump_j.min(month.booster_j + month.element_j)
}

fn year_waste_j(year: &Year) -> f64 {
    year.months.iter().map(waste_j).sum()
}

/// F503: dumping and boosting in the same month.
fn dumped_and_boosted(case: &Case<'_>, dump: &Dump) -> Finding {
    let (say, total) = (case.say, &case.year.total);
    let wasted_j = year_waste_j(case.year);
    let answer = at_most(wasted_j, LITTLE_WASTE_FRAC * total.demand_j, BORNE_WASTE_FRAC * total.demand_j);
    let litres_m3: f64 = case
        .year
        .months
        .iter()
        .filter(|month| month.dump_j > 0.0)
        .map(|month| month.dump_m3 * waste_j(month) / month.dump_j)
        .sum();
    let when = months(|month| waste_j(&case.year.months[month]) > 0.0);
    let buyer = if total.element_j > total.booster_j { "electric element" } else { "booster" };
    let text = if answer == Answer::Yes {
        format!(
            "Hot water is hardly ever dumped and bought again in the same month: {} in the year.",
            say.energy(wasted_j)
        )
    } else {
        let cold_dump = if dump.opens_k < case.plant.use_k {
            format!(
                " The aquastat, the switch on the tank that opens the dump, opens at {}, below the {} you use: it throws water \
                 away before it is hot enough.",
                say.temperature(dump.opens_k),
                say.temperature(case.plant.use_k)
            )
        } else {
            String::new()
        };
        format!(
            "In {when} the dump throws heat away and the {buyer} buys heat in the same month: {} a year, with {} of \
             water.{cold_dump}",
            say.energy(wasted_j),
            say.volume(litres_m3)
        )
    };
    let mut changes = Vec::new();
    if answer != Answer::Yes {
        changes.extend([5.0, 10.0].into_iter().filter_map(|dk| raise_aquastat(case, dk)));
    }
    Finding {
        code: "F503",
        question: Question::Settings,
        answer,
        value: wasted_j / J_PER_KWH,
        unit: "kwh",
        limit: Some(LITTLE_WASTE_FRAC * total.demand_j / J_PER_KWH),
        text,
        source: WASTE_SOURCE,
        remedies: remedies(case, changes, |year| year_waste_j(year) / J_PER_KWH),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::change::Change;
    use crate::finding::tests::{all, found, one, year_with};
    use crate::plant::{Circuit, HeatPump};

    #[test]
    fn the_thermostat_around_its_limits() {
        // Limits 6 °C and -1.4 °C, margin 1 K.
        for (on, off, answer) in [
            (4.9, 0.0, Answer::Yes),
            (5.1, 0.0, Answer::Barely),
            (5.9, 0.0, Answer::Barely),
            (6.1, 0.0, Answer::No),
            (4.0, -0.3, Answer::Yes),
            (4.0, -0.5, Answer::Barely),
            (4.0, -1.5, Answer::No),
        ] {
            let mut plant = example::plant();
            plant.thermostat.on_at_k = ZERO_CELSIUS_K + on;
            plant.thermostat.off_at_k = ZERO_CELSIUS_K + off;
            let finding = one(&found(&plant, &example::year()), "F501");
            assert_eq!(finding.answer, answer, "{on} {off}");
        }
    }

    #[test]
    fn the_aquastat_around_the_water_that_stops_the_pump() {
        // The pump stops at 40 °C, margin 2 K.
        for (opens, answer) in [
            (37.9, Answer::Yes),
            (38.0, Answer::Yes),
            (38.1, Answer::Barely),
            (40.0, Answer::Barely),
            (40.1, Answer::No),
        ] {
            let mut plant = example::plant();
            plant.dump.as_mut().unwrap().opens_k = ZERO_CELSIUS_K + opens;
            let Cooler::HeatPump(pump) = &mut plant.cooler;
            pump.inlet_stop_k = ZERO_CELSIUS_K + 40.0;
            assert_eq!(one(&found(&plant, &example::year()), "F502").answer, answer, "{opens}");
        }
    }

    /// Where the hottest outlet or a closed loop stops the pump before its highest inlet does, that is what the aquastat is held against.
    #[test]
    fn the_aquastat_is_held_against_what_really_stops_the_pump() {
        let answer = |edit: &dyn Fn(&mut HeatPump)| {
            let mut plant = example::plant();
            plant.dump.as_mut().unwrap().opens_k = ZERO_CELSIUS_K + 36.0;
            let Cooler::HeatPump(pump) = &mut plant.cooler;
            pump.inlet_stop_k = ZERO_CELSIUS_K + 40.0;
            edit(pump);
            one(&found(&plant, &example::year()), "F502").answer
        };
        assert_eq!(answer(&|_| ()), Answer::Yes);
        // 5 K of rise at least below an outlet of 40 °C: it stops at 35 °C.
        assert_eq!(
            answer(&|pump| {
                let Circuit::SinglePass { min_rise_dk, outlet_stop_k, .. } = &mut pump.circuit else {
                    panic!("the example is single pass")
                };
                (*min_rise_dk, *outlet_stop_k) = (5.0, ZERO_CELSIUS_K + 40.0);
            }),
            Answer::No
        );
        // A loop that keeps a quarter of the rise back: 40 °C at the inlet is colder than 36 °C in the tank.
        assert_eq!(answer(&|pump| pump.loop_gap = 0.25), Answer::No);
    }

    #[test]
    fn a_late_aquastat_is_lowered_below_the_water_that_stops_the_pump() {
        let mut plant = example::plant();
        plant.dump.as_mut().unwrap().opens_k = ZERO_CELSIUS_K + 45.0;
        let mended = example::year();
        let trial = |change: &Change| matches!(change, Change::Aquastat { .. }).then(|| mended.clone());
        let finding = one(&all(&example::household(), &plant, &example::year(), &trial), "F502");
        assert_eq!(finding.answer, Answer::No);
        // The pump stops at 40 °C.
        let remedy = &finding.remedies[0];
        assert!((remedy.before - 45.0).abs() < 1e-9 && (remedy.after - 35.0).abs() < 1e-9, "{remedy:?}");
    }

    fn wasteful(share: f64) -> Year {
        year_with(|index, month| {
            if index == 3 {
                let year_demand_j = month.demand_j * 365.0 / 30.0;
                month.booster_j = share * year_demand_j;
                month.dump_j = 2.0 * month.booster_j;
                month.dump_m3 = 1.0;
            }
        })
    }

    #[test]
    fn dumping_and_boosting_around_one_and_five_per_cent() {
        for (share, answer) in
            [(0.0099, Answer::Yes), (0.0101, Answer::Barely), (0.0499, Answer::Barely), (0.0501, Answer::No)]
        {
            assert_eq!(one(&found(&example::plant(), &wasteful(share)), "F503").answer, answer, "{share}");
        }
    }

    #[test]
    fn the_waste_names_its_month_litres_and_a_higher_aquastat() {
        let mended = example::year();
        let trial = |change: &Change| matches!(change, Change::Aquastat { .. }).then(|| mended.clone());
        // A pump that bears water of 48 °C leaves room for both; at 40 °C neither may be offered.
        let mut plant = example::plant();
        assert!(one(&all(&example::household(), &plant, &wasteful(0.1), &trial), "F503").remedies.is_empty());
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.inlet_stop_k = ZERO_CELSIUS_K + 48.0;
        let finding = one(&all(&example::household(), &plant, &wasteful(0.1), &trial), "F503");
        // Half of the cubic metre carried the heat that the booster bought again.
        assert!(finding.text.starts_with("In April") && finding.text.contains("500 L"), "{}", finding.text);
        assert!(finding.text.contains("opens at 35 °C, below the 40 °C you use"), "{}", finding.text);
        assert_eq!(finding.remedies.len(), 2);
        assert_eq!(finding.remedies[0].after, 0.0);
    }

    #[test]
    fn without_dump_or_booster_there_is_nothing_to_waste() {
        let mut plant = example::plant();
        plant.booster = None;
        assert!(found(&plant, &example::year()).iter().all(|finding| finding.code != "F503"));
        plant.dump = None;
        assert!(found(&plant, &example::year()).iter().all(|finding| finding.code != "F502"));
    }
}

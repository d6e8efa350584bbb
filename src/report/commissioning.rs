//! What to measure once it runs, and what it should read.

use serde::Serialize;

use crate::caution::Caution;
use crate::household::{CoolerUnit, Household, UnitSystem, WaterCircuit};
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::report::{Assessment, MONTHS};
use crate::wording::Wording;

/// One line of the pump's curve in so many is printed.
const EVERY: usize = 2;

/// What to look at, in words.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Commissioning {
    /// In the first week.
    pub first_week: Vec<String>,
    /// Every year.
    pub every_year: Vec<String>,
    /// Whether the refrigerant gives its heat in a coil at the tank, so that no water passes the unit.
    pub coil_at_tank: bool,
    /// Whether the food stays cold in this year: only then is it one to be built by.
    pub stays_cold: bool,
}

impl Commissioning {
    /// For a household, in its own units.
    pub fn of(household: &Household, cautions: &[Caution], stays_cold: bool) -> Self {
        let CoolerUnit::HeatPump(unit) = &household.cooler;
        Self {
            first_week: first_week(household, stays_cold),
            every_year: every_year(household, cautions),
            coil_at_tank: unit.cycle.tank_coil(),
            stays_cold,
        }
    }
}

/// The checks of the first week and of every year. What the lists name is common practice, no source; the numbers are the year's.
pub(super) fn section(assessment: &Assessment, units: UnitSystem) -> Vec<Block> {
    let mut blocks = vec![Block::Heading("The first week, and every year".to_owned())];
    if !assessment.commissioning.stays_cold {
        blocks.push(Block::Paragraph(
            "This is the year of a design that does not keep the food cold: put that right first (F101). The numbers below show what it would do, not what it should."
                .to_owned(),
        ));
    }
    blocks.extend([
        Block::Paragraph(
            "Common practice, no source for the lists; the numbers are this year's, as calculated. Write down what you read beside them: a number \
             that is off by more than a fifth has a reason worth finding."
                .to_owned(),
        ),
        Block::Table(pump(assessment, units)),
        Block::Table(months(assessment, units)),
        Block::Paragraph("In the first week:".to_owned()),
        Block::List(assessment.commissioning.first_week.clone()),
        Block::Paragraph("Every year:".to_owned()),
        Block::List(assessment.commissioning.every_year.clone()),
    ]);
    blocks
}

fn pump(assessment: &Assessment, units: UnitSystem) -> Table {
    let coil = assessment.commissioning.coil_at_tank;
    let cell = |measure: Measure, value: f64| measure.rounded(value, units).to_string();
    let row = |point: &crate::report::OperatingPoint| {
        vec![
            cell(Measure::Temperature, point.water_in_degc),
            cell(Measure::Temperature, point.water_out_degc),
            cell(Measure::PumpFlow, point.flow_l_min),
            cell(Measure::Power, point.electricity_w),
            cell(Measure::Cop, point.cop),
        ]
    };
    // Electric power is in watts on every meter.
    let watts = |point: &crate::report::OperatingPoint, mut row: Vec<String>| {
        row[3] = format!("{:.0}", point.electricity_w);
        if coil {
            // No water passes the unit.
            row.drain(1..3);
        }
        row
    };
    let points = assessment.curve.cop_by_inlet.iter().step_by(EVERY);
    Table {
        title: "What the pump should show after ten minutes of running, the room at its set point".to_owned(),
        columns: if coil {
            vec![
                Column::number("water at the coil", Measure::Temperature.unit(units)),
                Column::number("power", "W"),
                Column::number("COP", ""),
            ]
        } else {
            vec![
                Column::number("water in", Measure::Temperature.unit(units)),
                Column::number("water out", Measure::Temperature.unit(units)),
                Column::number("flow", Measure::PumpFlow.unit(units)),
                Column::number("power", "W"),
                Column::number("COP", ""),
            ]
        },
        rows: points.map(|point| watts(point, row(point))).collect(),
        year: None,
        notes: vec![if coil {
            "Water at the coil by a thermometer pressed to the tank there, under its insulation; power by a meter at the plug or the breaker; COP is the water's heat over the power."
                .to_owned()
        } else {
            "Flow by a water meter or by a bucket at a drain cock, power by a meter at the plug or the breaker; COP is the water's heat over the power."
                .to_owned()
        }],
    }
}

fn months(assessment: &Assessment, units: UnitSystem) -> Table {
    let year = &assessment.year;
    let days = |hours: f64| hours / 24.0;
    let row = |(month, interval): (usize, &crate::year::Interval)| {
        let hours = interval.duration_s / 3600.0;
        let mean = |integral: f64| interval.mean(integral) - crate::constants::ZERO_CELSIUS_K;
        vec![
            MONTHS[month].to_owned(),
            Measure::PerDay.rounded(interval.starts / days(hours), units).to_string(),
            Measure::HoursPerDay.rounded(interval.run_s / 3600.0 / days(hours), units).to_string(),
            Measure::Temperature.rounded(mean(interval.tank_top_k_s), units).to_string(),
            Measure::Temperature.rounded(mean(interval.tank_bottom_k_s), units).to_string(),
            Measure::VolumePerDay.rounded(1000.0 * interval.dump_m3 / days(hours), units).to_string(),
        ]
    };
    Table {
        title: "What a mean day of each month comes to, as calculated".to_owned(),
        columns: vec![
            Column::words("Month"),
            Column::number("starts", "a day"),
            Column::number("runs", "h/day"),
            Column::number("tank\ntop", Measure::Temperature.unit(units)),
            Column::number("tank\nbottom", Measure::Temperature.unit(units)),
            Column::number("dumped", Measure::VolumePerDay.unit(units)),
        ],
        rows: year.months.iter().enumerate().map(row).collect(),
        year: None,
        notes: Vec::new(),
    }
}

fn first_week(household: &Household, stays_cold: bool) -> Vec<String> {
    let say = Wording(household.units);
    let room = &household.room;
    let mut list = vec![
        format!(
            "Food: a thermometer in a bottle of water beside it, read morning and evening. It has to stay between {} and {}{}",
            say.temperature(room.cold_limit.value),
            say.temperature(room.warm_limit.value),
            if stays_cold { "; where it does not, compare starts and water below before you turn a dial." } else { ", which this design does not hold (F101)." }
        ),
        "Air: hold a thermometer in the blown air after ten minutes of running; nothing that freezes stands where it is below its freezing point.".to_owned(),
        "Starts: count those of one day and compare them with its month in the table above.".to_owned(),
        "Leaks: close all taps, keep pump and dump off and look at the water meter for an hour. It must stand still.".to_owned(),
        "Power cut: switch the breaker off and on. The pump has to come back by itself after its rest, and no valve may stand open.".to_owned(),
    ];
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    if let WaterCircuit::SinglePass { outlet, .. } = &unit.circuit {
        list.push(format!(
            "Outlet: the water that leaves the running pump settles at {}, unless the water going in is too warm for that.",
            say.temperature(outlet.value)
        ));
    }
    if let Some(dump) = &household.dump {
        list.push(format!(
            "Aquastat: turn its dial down until the valve opens and back up until it closes. Set, it opens at {} and closes at {} of the water at its \
             probe; a probe that is strapped on follows the water by minutes.",
            say.temperature(dump.opens_at.value),
            say.temperature(dump.closes_at.value)
        ));
        let tempered = dump.destinations.iter().any(|place| place.temper_to.is_some());
        list.push(format!(
            "Dump: bucket and watch {}. It gives {}. Mind: the water can scald.",
            if tempered {
                "between the valve and where the cold water that tempers it joins"
            } else {
                "at its end"
            },
            say.flow(dump.flow.value)
        ));
    }
    if let Some(valve) = &household.hot_water.mixing_valve {
        let booster_off = if household.booster.is_some() { ", the booster off" } else { "" };
        list.push(format!(
            "Mixing valve: let the hottest tap run for two minutes into a cup with a thermometer{booster_off}: {} or less.",
            say.temperature(valve.value)
        ));
    }
    list
}

fn every_year(household: &Household, cautions: &[Caution]) -> Vec<String> {
    let mut list = vec![
        "Coil and its filter brushed, the condensate's trap and pipe rinsed.".to_owned(),
        "Relief valves and backflow preventers tested by whoever your local code asks for.".to_owned(),
        "The residual-current device (GFCI, RCD) tested with its button; the alarms for a room too warm and too cold tested with ice and a warm hand.".to_owned(),
        "The tank's anode looked at, its bottom flushed, the strainer cleaned.".to_owned(),
        "The door's seal and its handle inside: it has to open from within.".to_owned(),
    ];
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    if cautions.iter().any(|caution| caution.code == "C012") && !unit.cycle.tank_coil() {
        list.push("The pump's water side descaled, as caution C012 says.".to_owned());
    }
    if household.dump.is_some() {
        list.push("The dump's valve worked by hand, its line drained and left open before the first frost where part of it lies outdoors.".to_owned());
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::assessment::sample;
    use crate::report::{Report, text};

    fn told(edit: impl Fn(&mut Commissioning)) -> String {
        let mut assessment = sample::assessment();
        edit(&mut assessment.commissioning);
        text::plain(&Report { blocks: section(&assessment, UnitSystem::Metric) })
    }

    #[test]
    fn of_a_coil_at_the_tank_no_water_is_measured() {
        let pipes = told(|_| ());
        assert!(pipes.contains("water out") && pipes.contains("drain cock"), "{pipes}");
        let coil = told(|commissioning| commissioning.coil_at_tank = true);
        assert!(coil.contains("water at the coil") && !coil.contains("drain cock"), "{coil}");
    }

    /// Cold water that tempers the dump would be measured at its end, and a booster heats again after the mixing valve.
    #[test]
    fn what_would_spoil_a_measurement_is_kept_out_of_it() {
        let told = |tempered: bool, boosted: bool| {
            let mut household = crate::caution::example::household();
            let line = household.dump.as_mut().expect("it has a dump");
            line.destinations[0].temper_to = tempered.then(|| crate::units::celsius(37.0));
            household.hot_water.mixing_valve = Some(crate::units::celsius(49.0));
            household.booster = household.booster.filter(|_| boosted);
            let list = first_week(&household, true).join(" ");
            [list.contains("the cold water that tempers it joins"), list.contains("the booster off")]
        };
        assert!(crate::caution::example::household().booster.is_some());
        assert_eq!(told(true, false), [true, false]);
        assert_eq!(told(false, true), [false, true]);
    }

    #[test]
    fn a_design_that_fails_is_not_told_as_a_target() {
        assert!(!told(|_| ()).contains("does not keep the food cold"));
        assert!(
            told(|commissioning| commissioning.stays_cold = false).contains("does not keep the food cold")
        );
    }
}

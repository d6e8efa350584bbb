//! The hand balance beside the simulated year.

use serde::Serialize;

use crate::household::UnitSystem;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::report::quantity::{self, Quantity};
use crate::report::rounding::Rounded;
use crate::report::{Assessment, MONTHS};

/// One month of the hand balance.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HandMonth {
    /// Month 1 to 12.
    pub month: usize,
    /// Heat into the room, kWh.
    pub room_load_kwh: f64,
    /// Heat to the water, kWh.
    pub heat_to_water_kwh: f64,
    /// COP that it was calculated with; `None` where nothing is to be cooled.
    pub cop: Option<f64>,
    /// Heat wanted at the taps over mains temperature, kWh.
    pub demand_kwh: f64,
    /// Heat that the tank loses, kWh.
    pub tank_loss_kwh: f64,
    /// Heat to the water that nobody uses, kWh.
    pub surplus_kwh: f64,
    /// Water to be dumped, L.
    pub dump_l: f64,
}

/// A column pair: what is compared, how, and where the two numbers come from.
struct Pair {
    name: &'static str,
    measure: Measure,
    by_hand: fn(&HandMonth) -> f64,
    simulated: Quantity,
}

const PAIRS: [Pair; 3] = [
    Pair {
        name: "room\nload",
        measure: Measure::Energy,
        by_hand: |month| month.room_load_kwh,
        simulated: quantity::ROOM_LOAD,
    },
    Pair {
        name: "heat to\nwater",
        measure: Measure::Energy,
        by_hand: |month| month.heat_to_water_kwh,
        simulated: quantity::HEAT_TO_WATER,
    },
    Pair {
        name: "dumped",
        measure: Measure::Volume,
        by_hand: |month| month.dump_l,
        simulated: quantity::DUMP,
    },
];

/// Hand balance and simulation month by month, and why they differ.
pub(super) fn hand_balance(assessment: &Assessment, units: UnitSystem) -> Vec<Block> {
    let mut columns = vec![Column::words("Month")];
    for pair in &PAIRS {
        let unit = pair.measure.unit(units);
        columns.push(Column::number(&format!("{}\nby hand", pair.name), unit));
        columns.push(Column::number(&format!("{}\nsimul.", pair.name), unit));
    }
    columns.push(Column::number("COP\nby hand", ""));
    columns.push(Column::number("COP\nsimul.", ""));
    let mut blocks = vec![
        Block::Heading("The same year by hand".to_owned()),
        Block::Table(Table {
            title: "Monthly balance on paper beside the simulation".to_owned(),
            columns,
            rows: rows(assessment, units),
            year: Some(year(assessment, units)),
            notes: Vec::new(),
        }),
    ];
    if !assessment.differences.is_empty() {
        blocks.push(Block::List(assessment.differences.clone()));
    }
    blocks
}

fn rows(assessment: &Assessment, units: UnitSystem) -> Vec<Vec<String>> {
    let months = assessment.hand_balance.iter().zip(&assessment.year.months).zip(MONTHS);
    months
        .map(|((hand, month), name)| {
            let mut cells = vec![name.to_owned()];
            for pair in &PAIRS {
                cells.push(pair.measure.rounded((pair.by_hand)(hand), units).to_string());
                cells.push(dash_or(pair.simulated.of(month), pair.measure, units));
            }
            cells.push(dash_or(hand.cop, Measure::Cop, units));
            cells.push(dash_or(quantity::COP.of(month), Measure::Cop, units));
            cells
        })
        .collect()
}

/// Sums of the rows shown; no COP by hand, because it is not a sum.
fn year(assessment: &Assessment, units: UnitSystem) -> Vec<String> {
    let mut cells = vec!["Year".to_owned()];
    for pair in &PAIRS {
        let by_hand = assessment.hand_balance.iter().map(|hand| (pair.by_hand)(hand));
        let simulated = assessment.year.months.iter().filter_map(|month| pair.simulated.of(month));
        cells.push(by_hand.map(|value| pair.measure.rounded(value, units)).sum::<Rounded>().to_string());
        cells.push(simulated.map(|value| pair.measure.rounded(value, units)).sum::<Rounded>().to_string());
    }
    cells.push(String::new());
    cells.push(dash_or(quantity::COP.of(&assessment.year.total), Measure::Cop, units));
    cells
}

fn dash_or(value: Option<f64>, measure: Measure, units: UnitSystem) -> String {
    value.map_or_else(|| "-".to_owned(), |value| measure.rounded(value, units).to_string())
}

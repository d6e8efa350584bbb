//! The hand balance beside the simulated year.

use serde::Serialize;

use crate::balance::{self, Difference, Reason};
use crate::constants::ZERO_CELSIUS_K;
use crate::household::UnitSystem;
use crate::plant::{Cooler, HOUR_S, HeatPump, Plant};
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::report::quantity::{self, CUBIC_METRE_L, KILOWATT_HOUR_J, Quantity};
use crate::report::rounding::Rounded;
use crate::report::{Assessment, MONTHS};

/// Reasons below this share of the difference are not mentioned.
const MENTIONED_FROM_FRAC: f64 = 0.05;

/// One month of the hand balance.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HandMonth {
    /// Month 1 to 12.
    pub month: usize,
    /// Heat into the room, without what the resting machine gives off, kWh.
    pub room_load_kwh: f64,
    /// Standby and resting fan, which the room has to be rid of as well, kWh.
    pub resting_machine_kwh: f64,
    /// Water that the pump is expected to take in, degC.
    pub inlet_degc: f64,
    /// Heat to the water, kWh.
    pub heat_to_water_kwh: f64,
    /// COP that it was calculated with: refrigerant heat over the pump's power; `None` where nothing is to be cooled.
    pub cop: Option<f64>,
    /// Heat to water over the power of pump and circulator; `None` where nothing is to be cooled.
    pub running_cop: Option<f64>,
    /// Heat wanted at the taps over mains temperature, kWh.
    pub demand_kwh: f64,
    /// Heat that the tank loses, kWh.
    pub tank_loss_kwh: f64,
    /// Heat to the water that nobody uses, kWh.
    pub surplus_kwh: f64,
    /// Water to be dumped, L.
    pub dump_l: f64,
}

impl HandMonth {
    /// A month of the hand balance in the units of the report.
    pub fn of(index: usize, hand: &balance::HandMonth, plant: &Plant) -> Self {
        let Cooler::HeatPump(pump) = &plant.cooler;
        let kwh = |energy_j: f64| energy_j / KILOWATT_HOUR_J;
        let starts_h = &plant.calendar.month_starts_h;
        let month_s = (starts_h[index + 1] - starts_h[index]) as f64 * HOUR_S;
        let resting_machine_j = (pump.standby_w + pump.resting_fan_w) * month_s;
        let runs = hand.heat_to_water_j > 0.0;
        Self {
            month: index + 1,
            room_load_kwh: kwh(hand.room_load_j - resting_machine_j),
            resting_machine_kwh: kwh(resting_machine_j),
            inlet_degc: hand.inlet_k - ZERO_CELSIUS_K,
            heat_to_water_kwh: kwh(hand.heat_to_water_j),
            cop: runs.then_some(hand.cop),
            running_cop: runs.then(|| running_cop(hand, pump, month_s)),
            demand_kwh: kwh(hand.demand_j),
            tank_loss_kwh: kwh(hand.tank_loss_j),
            surplus_kwh: kwh(hand.surplus_j),
            dump_l: hand.dump_m3 * CUBIC_METRE_L,
        }
    }
}

/// The month's heat to water over the power of pump and circulator, the circulator in both as in the simulation.
fn running_cop(hand: &balance::HandMonth, pump: &HeatPump, month_s: f64) -> f64 {
    let circulator_j = pump.circulator_w * hand.run_frac * month_s;
    let power_j = (hand.heat_to_water_j - circulator_j) / hand.cop;
    hand.heat_to_water_j / (power_j + circulator_j)
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
    columns.push(Column::number("running\nCOP\nby hand", ""));
    columns.push(Column::number("running\nCOP\nsimul.", ""));
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
            cells.push(dash_or(hand.running_cop, Measure::Cop, units));
            cells.push(dash_or(quantity::RUNNING_COP.of(month), Measure::Cop, units));
            cells
        })
        .collect()
}

/// Why a month differs, in words: `Jul: simulated heat to water 12.0 kWh above ...`.
pub fn difference_words(difference: &Difference) -> String {
    let kwh = |energy_j: f64| Measure::Energy.words(energy_j / KILOWATT_HOUR_J, UnitSystem::Metric);
    let total_j = difference.simulated_j - difference.hand_j;
    let side = if total_j > 0.0 { "above" } else { "below" };
    let mut parts: Vec<String> = difference
        .parts
        .iter()
        .filter(|part| part.heat_j.abs() >= MENTIONED_FROM_FRAC * total_j.abs())
        .map(|part| format!("{} {}", reason_words(part.reason), kwh(part.heat_j)))
        .collect();
    if difference.flagged {
        parts.push(format!("NOT EXPLAINED {}", kwh(difference.unexplained_j)));
    }
    if difference.missed_s > 0.0 {
        let missed = Measure::Duration.words(difference.missed_s / HOUR_S, UnitSystem::Metric);
        parts.push(format!("(locked out although cooling was wanted: {missed})"));
    }
    format!(
        "{}: simulated heat to water {} {side} the hand's: {}",
        MONTHS[difference.month],
        kwh(total_j.abs()),
        parts.join(", ")
    )
}

fn reason_words(reason: Reason) -> &'static str {
    match reason {
        Reason::RoomTemperature => "room off its set point",
        Reason::Load => "load of the hours against that of the means",
        Reason::Inlet => "other water and air at the pump",
        Reason::HotWater => "hot pipe and tank in the room",
        Reason::Frost => "frost on the coil",
        Reason::Starting => "starting",
        Reason::Circulator => "circulator",
    }
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
    cells.push(dash_or(quantity::RUNNING_COP.of(&assessment.year.total), Measure::Cop, units));
    cells
}

fn dash_or(value: Option<f64>, measure: Measure, units: UnitSystem) -> String {
    value.map_or_else(|| "-".to_owned(), |value| measure.rounded(value, units).to_string())
}

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

/// A month in which the simulated heat to water differs from the hand's by more than the balance lets pass, and why: each
/// reason with the heat it adds to the month by hand.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HandDifference {
    /// Month 1 to 12.
    pub month: usize,
    /// Simulated heat to water less that by hand, kWh.
    pub difference_kwh: f64,
    /// The room was not at its set point, kWh.
    pub room_temperature_kwh: f64,
    /// The load of the hours against that of monthly means, kWh.
    pub load_kwh: f64,
    /// Hot pipe and tank in the room, kWh.
    pub hot_water_kwh: f64,
    /// Other water and air at the pump than expected, kWh.
    pub inlet_kwh: f64,
    /// Frost on the coil, kWh.
    pub frost_kwh: f64,
    /// Starting, kWh.
    pub starting_kwh: f64,
    /// The circulator ran longer or shorter, kWh.
    pub circulator_kwh: f64,
    /// What the reasons leave, kWh.
    pub unexplained_kwh: f64,
    /// Time locked out while cooling was wanted, h: what stands behind a warm room.
    pub missed_h: f64,
    /// Whether too much stays unexplained.
    pub flagged: bool,
}

impl HandDifference {
    /// A difference in the units of the report.
    pub fn of(difference: &Difference) -> Self {
        let kwh = |energy_j: f64| energy_j / KILOWATT_HOUR_J;
        let part = |reason: Reason| {
            let of_reason = difference.parts.iter().filter(|part| part.reason == reason);
            kwh(of_reason.map(|part| part.heat_j).sum())
        };
        Self {
            month: difference.month + 1,
            difference_kwh: kwh(difference.simulated_j - difference.hand_j),
            room_temperature_kwh: part(Reason::RoomTemperature),
            load_kwh: part(Reason::Load),
            hot_water_kwh: part(Reason::HotWater),
            inlet_kwh: part(Reason::Inlet),
            frost_kwh: part(Reason::Frost),
            starting_kwh: part(Reason::Starting),
            circulator_kwh: part(Reason::Circulator),
            unexplained_kwh: kwh(difference.unexplained_j),
            missed_h: difference.missed_s / HOUR_S,
            flagged: difference.flagged,
        }
    }
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
        blocks.push(Block::Table(differences(&assessment.differences, units)));
    }
    blocks
}

/// Heading and heat of a reason.
type ReasonColumn = (&'static str, fn(&HandDifference) -> f64);

const REASONS: [ReasonColumn; 9] = [
    ("differ-\nence", |one| one.difference_kwh),
    ("room\noff set\npoint", |one| one.room_temperature_kwh),
    ("hourly\nload", |one| one.load_kwh),
    ("pipe,\ntank", |one| one.hot_water_kwh),
    ("water,\nair at\npump", |one| one.inlet_kwh),
    ("frost", |one| one.frost_kwh),
    ("start-\ning", |one| one.starting_kwh),
    ("circu-\nlator", |one| one.circulator_kwh),
    ("not\nexpl.", |one| one.unexplained_kwh),
];

/// The months that differ, and what each reason adds to the month by hand.
fn differences(differences: &[HandDifference], units: UnitSystem) -> Table {
    let mut columns = vec![Column::words("Month")];
    columns.extend(REASONS.iter().map(|(name, _)| Column::number(name, Measure::Energy.unit(units))));
    let row = |one: &HandDifference| {
        let mark = if one.flagged { "*" } else { "" };
        let mut cells = vec![format!("{}{mark}", MONTHS[one.month - 1])];
        cells.extend(REASONS.iter().map(|(_, heat)| Measure::Energy.rounded(heat(one), units).to_string()));
        cells
    };
    let mut notes = vec![
        "Months whose heat to water differs by more than 10 %. The reasons add up to the difference; a room off its \
         set point is warm because the pump was locked out or too small, or cold in winter."
            .to_owned(),
    ];
    if differences.iter().any(|one| one.flagged) {
        notes.push("* NOT EXPLAINED by more than 10 % of the month by hand.".to_owned());
    }
    Table {
        title: "Why the simulated heat to water differs".to_owned(),
        columns,
        rows: differences.iter().map(row).collect(),
        year: None,
        notes,
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::balance::Part;
    use approx::assert_relative_eq;

    #[test]
    fn the_reasons_and_what_they_leave_add_up_to_the_difference() {
        let parts = [
            Reason::RoomTemperature,
            Reason::Load,
            Reason::HotWater,
            Reason::Inlet,
            Reason::Frost,
            Reason::Starting,
            Reason::Circulator,
        ]
        .iter()
        .enumerate()
        .map(|(index, &reason)| Part { reason, heat_j: 3.6e6 * (index as f64 - 2.0) })
        .collect();
        let difference = HandDifference::of(&Difference {
            month: 9,
            hand_j: 360e6,
            simulated_j: 360e6 + 3.6e6 * 9.5,
            parts,
            unexplained_j: 3.6e6 * 2.5,
            missed_s: 7200.0,
            flagged: false,
        });
        assert_eq!((difference.month, difference.missed_h), (10, 2.0));
        let sum: f64 = REASONS[1..].iter().map(|(_, heat)| heat(&difference)).sum();
        // 1e-12: sums of a few small numbers.
        assert_relative_eq!(sum, difference.difference_kwh, max_relative = 1e-12);
    }
}

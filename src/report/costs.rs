//! What the year costs.

use serde::Serialize;

use crate::cost::{Bill, Bills};
use crate::household::Household;
use crate::plant::Plant;
use crate::report::MONTHS;
use crate::report::block::{Block, Column, Table};
use crate::report::rounding::Rounded;
use crate::year::Year;

/// From a year's total of so much on, money is told in whole units.
const WHOLE_FROM: f64 = 10_000.0;

/// Money for a stretch of time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Costs {
    /// Electricity of the cooler.
    pub cooler_electricity: f64,
    /// Electricity of the element in the tank.
    pub element_electricity: f64,
    /// Energy of the booster.
    pub booster_energy: f64,
    /// Cold water for what was dumped.
    pub dump_water: f64,
    /// Dumped water down a drain.
    pub sewer: f64,
    /// Heat taken out of heated rooms.
    pub house_heat: f64,
    /// All of it.
    pub total: f64,
}

impl Costs {
    /// A bill.
    pub fn of(bill: &Bill) -> Self {
        Self {
            cooler_electricity: bill.cooler,
            element_electricity: bill.element,
            booster_energy: bill.booster,
            dump_water: bill.dump_water,
            sewer: bill.sewer,
            house_heat: bill.house_heat,
            total: bill.total(),
        }
    }

    fn parts(&self) -> [f64; PARTS.len()] {
        let Self {
            cooler_electricity,
            element_electricity,
            booster_energy,
            dump_water,
            sewer,
            house_heat,
            ..
        } = *self;
        [cooler_electricity, element_electricity, booster_energy, dump_water, sewer, house_heat]
    }
}

/// Headings of [`Costs::parts`].
const PARTS: [&str; 6] =
    ["heat pump", "electric\nelement", "booster", "water\ndumped", "sewer", "house's\nheat"];

/// What the year costs, in a currency.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CostReport {
    /// The currency.
    pub currency: String,
    /// The year.
    pub year: Costs,
    /// The months.
    pub months: [Costs; 12],
}

impl CostReport {
    /// The year's costs; `None` where no prices were given.
    pub fn of(household: &Household, plant: &Plant, year: &Year) -> Option<Self> {
        let bills = Bills::of(household, plant, year)?;
        let currency = household.prices.as_ref()?.currency.clone();
        Some(Self { currency, year: Costs::of(&bills.year()), months: bills.0.map(|bill| Costs::of(&bill)) })
    }
}

/// Decimals that money of this size is told with.
pub fn decimals(year_total: f64) -> u32 {
    if year_total.abs() < WHOLE_FROM { 2 } else { 0 }
}

/// The section.
pub(super) fn section(costs: Option<&CostReport>) -> Vec<Block> {
    let heading = Block::Heading("What the year costs".to_owned());
    let Some(costs) = costs else {
        let words = "The scenario names no `prices`, so nothing is told in money. With what electricity, fuel and water cost you, this \
                     section says what the year costs and where the money goes.";
        return vec![heading, Block::Paragraph(words.to_owned())];
    };
    vec![heading, Block::Table(table(costs))]
}

/// A column for everything that costs something in the year, and all of it.
fn table(costs: &CostReport) -> Table {
    let decimals = decimals(costs.year.total);
    let shown: Vec<usize> = (0..PARTS.len())
        .filter(|&part| costs.months.iter().any(|month| month.parts()[part] != 0.0))
        .collect();
    let cells = |month: &Costs| -> Vec<Rounded> {
        let mut cells: Vec<_> =
            shown.iter().map(|&part| Rounded::new(month.parts()[part], decimals)).collect();
        cells.push(cells.iter().copied().sum());
        cells
    };
    let rows: Vec<Vec<Rounded>> = costs.months.iter().map(cells).collect();
    let written = |name: &str, cells: &[Rounded]| -> Vec<String> {
        std::iter::once(name.to_owned()).chain(cells.iter().map(Rounded::to_string)).collect()
    };
    let sums: Vec<Rounded> =
        (0..=shown.len()).map(|column| rows.iter().map(|row| row[column]).sum()).collect();
    let mut columns = vec![Column::words("Month")];
    columns.extend(shown.iter().map(|&part| Column::number(PARTS[part], "")));
    columns.push(Column::number("all of it", ""));
    Table {
        title: format!("Costs, {}", costs.currency),
        columns,
        rows: rows.iter().zip(MONTHS).map(|(row, name)| written(name, row)).collect(),
        year: Some(written("Year", &sums)),
        notes: vec![
            "At the scenario's prices, without standing charges, and without the cold water used at the taps, which is paid in any case. \
             House's heat: what the cold room takes out of heated rooms in the months in which they are heated. A column without any cost is left out."
                .to_owned(),
        ],
    }
}

//! The report: one typed description of it, rendered as text, and the JSON document and the hourly
//! table made from the same numbers.

mod assessment;
mod bars;
mod block;
mod callers;
mod certainty;
mod choices;
mod closing;
mod commissioning;
mod costs;
mod course;
mod curve;
mod delivery;
mod dump;
mod hot_water;
pub mod hourly;
pub mod json;
mod lime;
mod limits;
mod measure;
mod months;
mod other_tanks;
mod quantity;
mod questions;
mod room;
mod rounding;
mod side_by_side;
mod size;
mod stored;
mod summary;
mod surfaces;
pub mod text;
mod ways;
mod whole_file;

pub use assessment::{Assessment, Beside, Climate};
pub use block::{Align, Block, Chart, Column, Entry, Report, Series, Table, Tone};
pub use callers::CallerYear;
pub use certainty::{AnchorLine, Certainty, ENDS, anchor_lines, ends};
pub use choices::ChoicesDocument;
pub use commissioning::Commissioning;
pub use costs::{CostReport, Costs};
pub use course::{Course, Days, Duration, HardWeek, Hours};
pub use curve::{Curve, CurveLimits, Mark, OperatingPoint};
pub use delivery::{Delivered, Delivery, DeliveryMonth, Studies};
pub use dump::{DumpMonth, DumpReport, DumpYear, FrostFree, PartDrop, WorstDay};
pub use hot_water::Usable;
pub use lime::LimeReport;
pub use limits::{Limit, LimitKind};
pub use measure::Measure;
pub use other_tanks::{LeftOut, OtherTanks, TankYear};
pub use quantity::{ALL as QUANTITIES, Over, Quantity, first_not_finite};
pub use room::{HeavyDay, LoadCut, RoomReport, SupplyAir, WettestDay};
pub use rounding::Rounded;
pub use side_by_side::{HandDifference, HandMonth};
pub use size::{SizeLimits, SizeMonth, SizeReport};
pub use stored::{CropMonthReport, CropReport, StoredReport};
pub use summary::{Call, ShortAnswer, Step, Summary};
pub use surfaces::SurfaceYear;
pub use ways::{WayFigures, WaysDocument};
pub use whole_file::{FileError, WholeFile};

use crate::household::UnitSystem;
pub(crate) use crate::wording::SHORT_MONTHS as MONTHS;

impl Report {
    /// Everything there is to say about a household's year, in the order in which it is read.
    pub fn of(assessment: &Assessment, units: UnitSystem) -> Self {
        let Sections { lead, short, answers, to_do, tables, cautions, closing } =
            Sections::of(assessment, units);
        Self { blocks: [lead, short, answers, tables, to_do, cautions, closing].concat() }
    }

    /// The pump alone, against the water it takes in and against the room's air.
    pub fn of_curve(scenario: &str, household: &str, curve: &Curve, units: UnitSystem) -> Self {
        let mut blocks = vec![Block::Line(format!("{household} ({scenario})"))];
        blocks.extend(curve::blocks(curve, units));
        Self { blocks }
    }
}

/// The parts of a report, each to be read by itself.
#[derive(Debug, Clone, Default)]
pub struct Sections {
    /// What stops work, household, weather, and how sure the year is.
    pub lead: Vec<Block>,
    /// The answers in short, what helps most, the dials, and whom to call.
    pub short: Vec<Block>,
    /// The questions with their answers.
    pub answers: Vec<Block>,
    /// What to measure in the first week and every year.
    pub to_do: Vec<Block>,
    /// The tables.
    pub tables: Vec<Block>,
    /// The cautions.
    pub cautions: Vec<Block>,
    /// What was assumed, and the books.
    pub closing: Vec<Block>,
}

impl Sections {
    /// The parts of the report about a household's year.
    pub fn of(assessment: &Assessment, units: UnitSystem) -> Self {
        let mut lead = closing::stop_work(&assessment.cautions);
        lead.extend(closing::opening(assessment, units));
        lead.extend(certainty::headline(&assessment.certainty, units));
        let mut blocks = Vec::new();
        blocks.extend(months::tables(&assessment.year, assessment.first_tank_frac, units));
        blocks.extend(room::section(&assessment.room, units));
        blocks.extend(stored::section(&assessment.stored, units));
        blocks.extend(surfaces::table(&assessment.surfaces, units));
        blocks.extend(hot_water::section(&assessment.year, &assessment.delivery, units));
        blocks.extend(delivery::table(&assessment.delivery, units));
        blocks.extend(dump::section(&assessment.dump, units));
        blocks.extend(costs::section(assessment.costs.as_ref()));
        blocks.extend(size::table(&assessment.year, units));
        blocks.extend(side_by_side::hand_balance(assessment, units));
        blocks.extend(certainty::section(assessment, units));
        blocks.extend(curve::blocks(&assessment.curve, units));
        blocks.extend(limits::table(assessment, units));
        blocks.extend(callers::table(assessment, units));
        blocks.extend(other_tanks::table(&assessment.other_tanks, units));
        let mut closing = closing::defaults(&assessment.defaults, units);
        closing.extend(closing::books(&assessment.year, units));
        Self {
            lead,
            short: summary::section(&assessment.summary),
            answers: questions::answered(&assessment.findings, &assessment.confidence, units),
            to_do: commissioning::section(assessment, units),
            tables: blocks,
            cautions: closing::cautions(&assessment.cautions),
            closing,
        }
    }
}

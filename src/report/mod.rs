//! The report: one typed description of it, rendered as text, and the JSON document and the hourly
//! table made from the same numbers.

mod assessment;
mod bars;
mod block;
mod callers;
mod certainty;
mod choices;
mod closing;
mod costs;
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
mod surfaces;
pub mod text;

pub use assessment::{Assessment, Beside, Climate};
pub use block::{Align, Block, Chart, Column, Entry, Report, Series, Table, Tone};
pub use callers::CallerYear;
pub use certainty::{AnchorLine, Certainty, ENDS, anchor_lines, ends};
pub use choices::ChoicesDocument;
pub use costs::{CostReport, Costs};
pub use curve::{Curve, CurveLimits, Mark, OperatingPoint};
pub use delivery::{Delivered, Delivery, DeliveryMonth, Studies};
pub use dump::{DumpMonth, DumpReport, DumpYear, FrostFree, PartDrop, WorstDay};
pub use hot_water::Usable;
pub use lime::LimeReport;
pub use limits::{Limit, LimitKind};
pub use measure::Measure;
pub use other_tanks::{LeftOut, OtherTanks, TankYear};
pub use quantity::{ALL as QUANTITIES, Over, Quantity, first_not_finite};
pub use room::{HeavyDay, RoomReport, SupplyAir, WettestDay};
pub use rounding::Rounded;
pub use side_by_side::{HandDifference, HandMonth};
pub use size::{SizeLimits, SizeMonth, SizeReport};
pub use stored::{CropMonthReport, CropReport, StoredReport};
pub use surfaces::SurfaceYear;

use crate::household::UnitSystem;

impl Report {
    /// Everything there is to say about a household's year, in the order in which it is read.
    pub fn of(assessment: &Assessment, units: UnitSystem) -> Self {
        let mut blocks = closing::stop_work(&assessment.cautions);
        blocks.extend(closing::opening(assessment, units));
        blocks.extend(certainty::headline(&assessment.certainty, units));
        blocks.extend(questions::answered(&assessment.findings, units));
        blocks.extend(months::tables(&assessment.year, assessment.first_tank_frac, units));
        blocks.extend(room::section(&assessment.room, units));
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
        blocks.extend(closing::cautions(&assessment.cautions));
        blocks.extend(closing::defaults(&assessment.defaults, units));
        blocks.extend(closing::books(&assessment.year, units));
        Self { blocks }
    }

    /// The pump alone, against the water it takes in and against the room's air.
    pub fn of_curve(scenario: &str, household: &str, curve: &Curve, units: UnitSystem) -> Self {
        let mut blocks = vec![Block::Line(format!("{household} ({scenario})"))];
        blocks.extend(curve::blocks(curve, units));
        Self { blocks }
    }
}

/// Short names of the months.
pub(crate) const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

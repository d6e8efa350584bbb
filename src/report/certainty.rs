//! How sure the year is: the lines of the data sheet beside what was made of them, the band that they leave, and the year at
//! both of its ends.

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::heat_pump::{Anchored, Band, Evidence, Narrower};
use crate::household::{CoolerUnit, Household, UnitSize, UnitSystem};
use crate::plant::{Cooler, Plant};
use crate::report::Assessment;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::report::quantity::{self, Quantity};
use crate::wording::count;
use crate::year::Year;

/// The quantities whose range is told.
const TOLD: [Quantity; 3] = [quantity::ELECTRICITY, quantity::DUMP, quantity::OVER_BAND];

/// How sure the year is, and why.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Certainty {
    /// `data_sheet` or `nominal_heat`.
    pub rests_on: &'static str,
    /// Band of the COP, either side, per cent.
    pub cop_band_percent: f64,
    /// Band of the heat, either side, per cent.
    pub heat_band_percent: f64,
    /// One more line that would narrow the band.
    pub narrower: Option<Asked>,
    /// The year with COP and heat at the low and at the high end of the band.
    pub ranges: Vec<Range>,
    /// What there is to say about lines that are far from the room's air. For the text report.
    #[serde(skip)]
    pub far: Option<FarAir>,
}

/// A line of the data sheet that would help.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Asked {
    /// Room air, degC.
    pub room_air_degc: f64,
    /// Water entering, degC.
    pub water_in_degc: f64,
    /// Band of the COP with it, per cent.
    pub cop_band_percent: f64,
    /// Band of the heat with it, per cent.
    pub heat_band_percent: f64,
}

/// A quantity of the year at both ends of the band.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Range {
    /// Its key in the document.
    pub quantity: &'static str,
    /// As calculated.
    pub calculated: f64,
    /// Smallest of the three years.
    pub low: f64,
    /// Largest of the three years.
    pub high: f64,
}

/// The first line of the sheet and the same water at the room's set point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FarAir {
    /// Air of the line, degC.
    pub sheet_air_degc: f64,
    /// The room's set point, degC.
    pub room_air_degc: f64,
    /// Calculated COP at the line and in the room.
    pub cop: (f64, f64),
    /// Calculated heat at the line and in the room, W.
    pub heat_w: (f64, f64),
}

/// A line of the data sheet, the map as calculated for the refrigerant, and the anchored map.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct AnchorLine {
    /// Air at the evaporator, degC.
    pub room_air_degc: f64,
    /// Water entering, degC.
    pub water_in_degc: f64,
    /// Water leaving, degC.
    pub water_out_degc: f64,
    /// Whether defrosting is in the line's numbers and the coil below freezing.
    pub frosted: bool,
    /// COP of the sheet.
    pub sheet_cop: Option<f64>,
    /// COP of the map.
    pub map_cop: f64,
    /// COP of the anchored map.
    pub anchored_cop: f64,
    /// Anchored over sheet, per cent off.
    pub cop_residual_percent: Option<f64>,
    /// Heat of the sheet, W.
    pub sheet_heat_w: f64,
    /// Heat of the map sized by the first line, W.
    pub map_heat_w: f64,
    /// Heat of the anchored map, W.
    pub anchored_heat_w: f64,
    /// Anchored over sheet, per cent off.
    pub heat_residual_percent: f64,
}

impl AnchorLine {
    fn of(line: &Anchored) -> Self {
        let sheet = &line.sheet;
        Self {
            room_air_degc: sheet.room_air_k - ZERO_CELSIUS_K,
            water_in_degc: sheet.water_in_k - ZERO_CELSIUS_K,
            water_out_degc: sheet.water_out_k - ZERO_CELSIUS_K,
            frosted: sheet.frosted,
            sheet_cop: sheet.cop(),
            map_cop: line.raw_cop,
            anchored_cop: line.cop,
            cop_residual_percent: line.cop_residual_frac().map(|frac| 100.0 * frac),
            sheet_heat_w: sheet.heat_w,
            map_heat_w: line.raw_heat_w,
            anchored_heat_w: line.heat_w,
            heat_residual_percent: 100.0 * line.heat_residual_frac(),
        }
    }
}

/// The lines of the household's data sheet; none where only the nominal heat is known.
pub fn anchor_lines(household: &Household) -> Vec<AnchorLine> {
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    match unit.size {
        UnitSize::DataSheet(_) => unit.anchoring().points.iter().map(AnchorLine::of).collect(),
        UnitSize::Nominal(_) => Vec::new(),
    }
}

/// The plant with COP and heat of the pump at the low and at the high end of the band.
pub fn ends(plant: &Plant, band: Band) -> [Plant; 2] {
    [-1.0, 1.0].map(|sign| {
        let mut plant = plant.clone();
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.cop_factor *= 1.0 + sign * band.cop_frac;
        pump.capacity_w *= 1.0 + sign * band.heat_frac;
        plant
    })
}

impl Certainty {
    /// How sure the year is, from the years at both ends of the band.
    pub fn of(household: &Household, year: &Year, ends: &[Year; 2]) -> Self {
        let CoolerUnit::HeatPump(unit) = &household.cooler;
        let evidence = household.evidence();
        let band = evidence.band();
        Self {
            rests_on: match unit.size {
                UnitSize::DataSheet(_) => "data_sheet",
                UnitSize::Nominal(_) => "nominal_heat",
            },
            cop_band_percent: 100.0 * band.cop_frac,
            heat_band_percent: 100.0 * band.heat_frac,
            narrower: evidence.narrower().map(Asked::of),
            ranges: TOLD.iter().filter_map(|told| Range::of(told, year, ends)).collect(),
            far: far_air(household, &evidence),
        }
    }
}

impl Asked {
    fn of(asked: Narrower) -> Self {
        Self {
            room_air_degc: asked.room_air_k - ZERO_CELSIUS_K,
            water_in_degc: asked.water_in_k - ZERO_CELSIUS_K,
            cop_band_percent: 100.0 * asked.band.cop_frac,
            heat_band_percent: 100.0 * asked.band.heat_frac,
        }
    }
}

impl Range {
    fn of(told: &Quantity, year: &Year, ends: &[Year; 2]) -> Option<Self> {
        let calculated = told.of(&year.total)?;
        let others = [told.of(&ends[0].total)?, told.of(&ends[1].total)?];
        Some(Self {
            quantity: told.key,
            calculated,
            low: others.into_iter().fold(calculated, f64::min),
            high: others.into_iter().fold(calculated, f64::max),
        })
    }
}

/// The first line against the room, where no line is near the room's air.
fn far_air(household: &Household, evidence: &Evidence) -> Option<FarAir> {
    if !Evidence::far_air(&evidence.heat_at, evidence.room_k) {
        return None;
    }
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let anchored = unit.anchoring();
    let line = anchored.points.first()?;
    let sheet = &line.sheet;
    let room = anchored.map.at(evidence.room_k, sheet.water_in_k, sheet.water_out_k - sheet.water_in_k);
    Some(FarAir {
        sheet_air_degc: sheet.room_air_k - ZERO_CELSIUS_K,
        room_air_degc: evidence.room_k - ZERO_CELSIUS_K,
        cop: (line.cop, anchored.cop_factor * room.cop),
        heat_w: (line.heat_w, anchored.capacity_w * room.capacity),
    })
}

/// The section of the report.
pub(super) fn section(assessment: &Assessment, units: UnitSystem) -> Vec<Block> {
    let certainty = &assessment.certainty;
    let mut blocks = vec![
        Block::Heading("How sure the year is".to_owned()),
        Block::Paragraph(how_sure(certainty, assessment.anchors.len())),
        Block::Table(ranges(certainty, units)),
    ];
    blocks.extend(certainty.far.map(|far| Block::Paragraph(far_words(&far, units))));
    blocks.extend(certainty.narrower.map(|asked| Block::Paragraph(asked_words(&asked, units))));
    if !assessment.anchors.is_empty() {
        blocks.push(Block::Table(lines(&assessment.anchors, units)));
    }
    blocks
}

fn whole(percent: f64) -> String {
    format!("{percent:.0} %")
}

fn how_sure(certainty: &Certainty, lines: usize) -> String {
    let rests_on = match certainty.rests_on {
        "data_sheet" => format!("{} of its data sheet", count(lines as f64, "line")),
        _ => {
            "the heat it is sold under, without a data sheet; the unit's own sheet would be better".to_owned()
        }
    };
    format!(
        "How sure: COP within {} and heat within {}, either side. The pump is reckoned from {rests_on}. In a trial with units that \
         differ from the cycle calculated, nine tenths of all conditions lay within that.",
        whole(certainty.cop_band_percent),
        whole(certainty.heat_band_percent),
    )
}

fn name_of(range: &Range) -> &'static str {
    match range.quantity {
        "electricity_kwh" => "electricity",
        "dump_l" => "water dumped",
        _ => "food too warm",
    }
}

fn ranges(certainty: &Certainty, units: UnitSystem) -> Table {
    let row = |range: &Range| {
        let measure = TOLD.iter().find(|told| told.key == range.quantity).map(|told| told.measure);
        let cell = |value| measure.map_or(String::new(), |measure| measure.words(value, units));
        vec![name_of(range).to_owned(), cell(range.calculated), cell(range.low), cell(range.high)]
    };
    Table {
        title: "The year at both ends of that".to_owned(),
        columns: vec![
            Column::words(""),
            Column::number("as\ncalculated", ""),
            Column::number("between", ""),
            Column::number("and", ""),
        ],
        rows: certainty.ranges.iter().map(row).collect(),
        year: None,
        notes: vec!["COP and heat both low, and both high, all else as it is.".to_owned()],
    }
}

fn far_words(far: &FarAir, units: UnitSystem) -> String {
    let degrees = |value| Measure::Temperature.words(value, units);
    let (heat, cop) = (|value| Measure::Power.words(value, units), |value| Measure::Cop.words(value, units));
    format!(
        "The data sheet speaks of air of {}, as labels do, and says little about a room of {}. With the same water the unit is \
         reckoned there with a COP of {} in the place of {}, and with {} of heat in the place of {}; nothing of that was measured.",
        degrees(far.sheet_air_degc),
        degrees(far.room_air_degc),
        cop(far.cop.1),
        cop(far.cop.0),
        heat(far.heat_w.1),
        heat(far.heat_w.0),
    )
}

fn asked_words(asked: &Asked, units: UnitSystem) -> String {
    let degrees = |value| Measure::Temperature.words(value, units);
    format!(
        "One more line of the data sheet, with water entering at about {} and room air of about {}, would narrow it to {} for COP \
         and {} for heat.",
        degrees(asked.water_in_degc),
        degrees(asked.room_air_degc),
        whole(asked.cop_band_percent),
        whole(asked.heat_band_percent),
    )
}

fn lines(anchors: &[AnchorLine], units: UnitSystem) -> Table {
    let (degrees, watts) = (Measure::Temperature.unit(units), Measure::Power.unit(units));
    let mut notes = vec![
        "Cycle: calculated for the refrigerant, its heat sized by the first line. Used: the cycle bent to the lines.".to_owned(),
    ];
    if anchors.iter().any(|line| line.frosted) {
        notes.push("* taken as the mean over frosting and defrosting.".to_owned());
    }
    Table {
        title: "The lines of the data sheet".to_owned(),
        columns: vec![
            Column::number("air", degrees),
            Column::number("water\nin", degrees),
            Column::number("water\nout", degrees),
            Column::number("COP\nsheet", ""),
            Column::number("COP\ncycle", ""),
            Column::number("COP\nused", ""),
            Column::number("off", "%"),
            Column::number("heat\nsheet", watts),
            Column::number("heat\ncycle", watts),
            Column::number("heat\nused", watts),
            Column::number("off", "%"),
        ],
        rows: anchors.iter().map(|line| row(line, units)).collect(),
        year: None,
        notes,
    }
}

fn row(line: &AnchorLine, units: UnitSystem) -> Vec<String> {
    let cell = |measure: Measure, value: f64| measure.rounded(value, units).to_string();
    let some = |value: Option<f64>, of: &dyn Fn(f64) -> String| value.map_or("-".to_owned(), of);
    let off = |percent: f64| format!("{:.1}", if percent.abs() < 0.05 { 0.0 } else { percent });
    let star = if line.frosted { "*" } else { "" };
    vec![
        format!("{star}{}", cell(Measure::Temperature, line.room_air_degc)),
        cell(Measure::Temperature, line.water_in_degc),
        cell(Measure::Temperature, line.water_out_degc),
        some(line.sheet_cop, &|cop| cell(Measure::Cop, cop)),
        cell(Measure::Cop, line.map_cop),
        cell(Measure::Cop, line.anchored_cop),
        some(line.cop_residual_percent, &off),
        cell(Measure::Power, line.sheet_heat_w),
        cell(Measure::Power, line.map_heat_w),
        cell(Measure::Power, line.anchored_heat_w),
        off(line.heat_residual_percent),
    ]
}

//! How sure the year is: the lines of the data sheet beside what was made of them, the band that they leave, and the year at
//! its ends.

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::finding::ONE_EVENT_S;
use crate::heat_pump::{Anchored, Band, Evidence, Narrower};
use crate::household::{CoolerUnit, Household, UnitSize, UnitSystem};
use crate::plant::{Cooler, HOUR_S, Plant};
use crate::report::Assessment;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::report::quantity::{self, KILOWATT_HOUR_J, Quantity};
use crate::wording::MONTHS;
use crate::wording::{Wording, count};
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
    /// The band, were the cycle named, if that would narrow it.
    pub with_cycle_named: Option<Named>,
    /// The year with COP and heat at the ends of the band, one low with the other high included.
    pub ranges: Vec<Range>,
    /// The end at which food is too warm for longest, where it stays cold as calculated.
    pub warmest_end: Option<WarmestEnd>,
    /// What there is to say about lines that are far from the room's air. For the text report.
    #[serde(skip)]
    pub far: Option<FarAir>,
}

/// A pump at the ends of its band with which food gets too warm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WarmestEnd {
    /// Whether its COP is that of the upper end.
    pub cop_high: bool,
    /// Whether its heat is.
    pub heat_high: bool,
    /// Month, from 1, in which most of the warm hours lie.
    pub month: usize,
    /// Time too warm, h.
    pub over_band_h: f64,
    /// How much of it the pump was refused while the room asked, h in the year.
    pub refused_h: f64,
}

impl WarmestEnd {
    fn of(year: &Year, ends: &[Year; ENDS]) -> Option<Self> {
        let warm_s = |year: &Year| year.total.over_band_s;
        let (index, end) =
            ends.iter().enumerate().max_by(|one, other| warm_s(one.1).total_cmp(&warm_s(other.1)))?;
        let month = (0..12).fold(0, |worst, month| {
            if end.months[month].over_band_s > end.months[worst].over_band_s { month } else { worst }
        });
        let (cop_sign, heat_sign) = SIGNS[index];
        (warm_s(year) <= ONE_EVENT_S && warm_s(end) > ONE_EVENT_S).then(|| Self {
            cop_high: cop_sign > 0.0,
            heat_high: heat_sign > 0.0,
            month: month + 1,
            over_band_h: warm_s(end) / HOUR_S,
            refused_h: end.total.missed_s / HOUR_S,
        })
    }
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

/// The band with the cycle named in the scenario.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Named {
    /// Band of the COP, per cent.
    pub cop_band_percent: f64,
    /// Band of the heat, per cent.
    pub heat_band_percent: f64,
}

/// A quantity of the year over the ends of the band.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Range {
    /// Its key in the document.
    pub quantity: &'static str,
    /// As calculated.
    pub calculated: f64,
    /// Smallest of this year and those at the ends.
    pub low: f64,
    /// Largest of them.
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
            frosted: sheet.frost_factor < 1.0,
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

/// On which side COP and heat are at each of the ends.
const SIGNS: [(f64, f64); ENDS] = [(-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (1.0, -1.0)];

/// Number of years at the ends of the band.
pub const ENDS: usize = 4;

/// The plant with COP and heat of the pump at the ends of the band: both low, both high, and one low with the other high.
///
/// The mixed ends are no less likely than the plain ones: a poor COP with much heat makes the warmest tank for each kWh of cold, a
/// good one with little heat the longest runs.
pub fn ends(plant: &Plant, band: Band) -> [Plant; ENDS] {
    SIGNS.map(|(cop_sign, heat_sign)| {
        let mut plant = plant.clone();
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.cop_factor *= 1.0 + cop_sign * band.cop_frac;
        pump.capacity_w *= 1.0 + heat_sign * band.heat_frac;
        plant
    })
}

impl Certainty {
    /// How sure the year is, from the years at the ends of the band, in the order of [`ends`].
    pub fn of(household: &Household, year: &Year, ends: &[Year; ENDS]) -> Self {
        let CoolerUnit::HeatPump(unit) = &household.cooler;
        let evidence = household.evidence();
        let band = evidence.band();
        Self {
            rests_on: match unit.size {
                UnitSize::DataSheet(_) => "data_sheet",
                UnitSize::Nominal(_) => "nominal_heat",
            },
            cop_band_percent: whole_percent(band.cop_frac),
            heat_band_percent: whole_percent(band.heat_frac),
            narrower: evidence.narrower().map(Asked::of),
            with_cycle_named: evidence.with_cycle_named().map(|band| Named {
                cop_band_percent: whole_percent(band.cop_frac),
                heat_band_percent: whole_percent(band.heat_frac),
            }),
            ranges: TOLD.iter().filter_map(|told| Range::of(told, year, ends)).collect(),
            warmest_end: WarmestEnd::of(year, ends),
            far: far_air(household, &evidence),
        }
    }
}

impl Asked {
    fn of(asked: Narrower) -> Self {
        Self {
            room_air_degc: asked.room_air_k - ZERO_CELSIUS_K,
            water_in_degc: asked.water_in_k - ZERO_CELSIUS_K,
            cop_band_percent: whole_percent(asked.band.cop_frac),
            heat_band_percent: whole_percent(asked.band.heat_frac),
        }
    }
}

impl Range {
    fn of(told: &Quantity, year: &Year, ends: &[Year; ENDS]) -> Option<Self> {
        let calculated = told.of(&year.total)?;
        let (mut low, mut high) = (calculated, calculated);
        for end in ends {
            let value = told.of(&end.total)?;
            (low, high) = (low.min(value), high.max(value));
        }
        Some(Self { quantity: told.key, calculated, low, high })
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

/// The range of the year's electricity, for the beginning of the report.
pub(super) fn headline(certainty: &Certainty, units: UnitSystem) -> Option<Block> {
    let range = certainty.ranges.iter().find(|range| range.quantity == quantity::ELECTRICITY.key)?;
    let energy = |kwh: f64| Wording(units).energy(kwh * KILOWATT_HOUR_J);
    let words = format!(
        "How sure: {} of electricity a year as calculated, between {} and {} by what is known of the heat pump.",
        energy(range.calculated),
        energy(range.low),
        energy(range.high),
    );
    Some(Block::Paragraph([words, food_words(certainty, units)].concat()))
}

/// That the food may get too warm at one end where it does not as calculated: with what pump, when and why.
fn food_words(certainty: &Certainty, units: UnitSystem) -> String {
    let Some(end) = certainty.warmest_end else { return String::new() };
    let side = |high: bool| if high { "more" } else { "less" };
    let refused = if end.refused_h > 0.5 * end.over_band_h {
        ", refused by warm water: look at what lets heat out of the tank in that month"
    } else {
        ""
    };
    format!(
        " The food stays cold as calculated; with a pump of {} heat and {} COP than calculated it would be too warm for {}, most of them in {}{refused}.",
        side(end.heat_high),
        side(end.cop_high),
        Wording(units).hours(end.over_band_h * HOUR_S),
        MONTHS[end.month - 1]
    )
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
    blocks.extend(certainty.with_cycle_named.map(|named| Block::Paragraph(named_words(&named))));
    if !assessment.anchors.is_empty() {
        blocks.push(Block::Table(lines(&assessment.anchors, units)));
    }
    blocks
}

/// Bands are whole per cents: what the trial was rounded to.
fn whole_percent(frac: f64) -> f64 {
    (100.0 * frac).round()
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
        title: "The year at the ends of that".to_owned(),
        columns: vec![
            Column::words(""),
            Column::number("as\ncalculated", ""),
            Column::number("between", ""),
            Column::number("and", ""),
        ],
        rows: certainty.ranges.iter().map(row).collect(),
        year: None,
        notes: vec![
            "COP and heat both low, both high, and one low with the other high, all else as it is."
                .to_owned(),
        ],
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

fn named_words(named: &Named) -> String {
    format!(
        "The scenario does not name the unit's `cycle` (pressure limit, suction exchanger or subcooling, from its papers); naming it \
         would narrow that to {} for COP and {} for heat.",
        whole(named.cop_band_percent),
        whole(named.heat_band_percent),
    )
}

fn asked_words(asked: &Asked, units: UnitSystem) -> String {
    let temperature = Measure::Temperature;
    let degrees = |value| format!("{:.0} {}", temperature.convert(value, units), temperature.unit(units));
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
        notes.push(
            "* frosted coil: the sheet's mean over frosting and defrosting, less the defrosting itself where `defrost` tells of it."
                .to_owned(),
        );
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::household::SheetPoint;
    use crate::report::text;
    use crate::units::{celsius, watts};

    fn line(air: f64, water_in: f64, heat_w: f64, cop: Option<f64>) -> SheetPoint {
        SheetPoint {
            room_air: celsius(air),
            water_in: celsius(water_in),
            water_out: celsius(60.0),
            heat_output: watts(heat_w),
            power: cop.map(|cop| watts(heat_w / cop)),
            defrost_included: air < 7.0,
        }
    }

    fn household(size: UnitSize) -> Household {
        let mut household = example::household();
        let CoolerUnit::HeatPump(unit) = &mut household.cooler;
        unit.size = size;
        household
    }

    /// The section for a household whose years at the ends have half to double the electricity.
    fn words(size: UnitSize, units: UnitSystem) -> String {
        let household = household(size);
        let ends = [2.0, 0.5, 1.2, 0.8].map(|factor| {
            let mut year = example::year();
            year.total.electricity_j = year.total.electricity_j.map(|load_j| factor * load_j);
            year
        });
        let mut assessment = crate::report::assessment::sample::assessment();
        assessment.anchors = anchor_lines(&household);
        assessment.certainty = Certainty::of(&household, &example::year(), &ends);
        let text = text::plain(&crate::report::Report { blocks: section(&assessment, units) });
        assert!(text.lines().all(|line| line.chars().count() <= text::WIDTH), "{text}");
        text.replace("\n", " ")
    }

    #[test]
    fn one_line_is_said_to_be_one_and_a_warm_one_is_asked_for() {
        let said = words(UnitSize::DataSheet(vec![line(7.0, 10.0, 4500.0, Some(3.9))]), UnitSystem::Metric);
        assert!(said.contains("COP within 14 % and heat within 14 %, either side"), "{said}");
        assert!(said.contains("reckoned from 1 line of its data sheet"), "{said}");
        assert!(said.contains("water entering at about 35 °C and room air of about 7 °C"), "{said}");
        assert!(said.contains("would narrow it to 6 % for COP and 10 % for heat"), "{said}");
        assert!(!said.contains("as labels do"), "{said}");
    }

    #[test]
    fn a_cycle_that_is_not_named_is_asked_for() {
        let mut household = household(UnitSize::DataSheet(vec![line(7.0, 10.0, 4500.0, Some(3.9))]));
        let named = |household: &Household| {
            Certainty::of(household, &example::year(), &[(); ENDS].map(|()| example::year())).with_cycle_named
        };
        assert_eq!(named(&household), None);
        let CoolerUnit::HeatPump(unit) = &mut household.cooler;
        unit.cycle_given = false;
        let told = named(&household).expect("the pressure limit matters for the heat");
        assert_eq!((told.cop_band_percent, told.heat_band_percent), (14.0, 14.0));
        assert!(named_words(&told).contains("narrow that to 14 % for COP and 14 % for heat"));
    }

    #[test]
    fn two_lines_need_no_further_one() {
        let points = vec![line(7.0, 10.0, 4500.0, Some(3.9)), line(7.0, 38.0, 3200.0, Some(2.1))];
        let said = words(UnitSize::DataSheet(points), UnitSystem::Us);
        assert!(said.contains("2 lines of its data sheet") && !said.contains("One more line"), "{said}");
        assert!(said.contains("BTU/h") && !said.contains("°C"), "{said}");
    }

    #[test]
    fn a_label_s_warm_air_is_told_with_what_is_reckoned_for_the_room() {
        let said = words(UnitSize::DataSheet(vec![line(20.0, 10.0, 4500.0, Some(5.0))]), UnitSystem::Metric);
        assert!(
            said.contains("speaks of air of 20.0 °C, as labels do, and says little about a room of 4.0 °C"),
            "{said}"
        );
        // COP and heat of the R744 map at 4 and 20 °C of air, water 10 to 60 °C: 3.62 to 5.54 and 1.01 to 1.45.
        // Derived here: the maps' own table; to its printed digits and what interpolation adds.
        let far = Certainty::of(
            &household(UnitSize::DataSheet(vec![line(20.0, 10.0, 4500.0, Some(5.0))])),
            &example::year(),
            &[(); ENDS].map(|()| example::year()),
        )
        .far
        .expect("20 °C is far from 4 °C");
        approx::assert_relative_eq!(far.cop.1 / far.cop.0, 3.62 / 5.54, max_relative = 0.015);
        approx::assert_relative_eq!(far.heat_w.1 / far.heat_w.0, 1.01 / 1.45, max_relative = 0.02);
    }

    #[test]
    fn a_line_without_power_has_no_cop_of_the_sheet() {
        let size = UnitSize::DataSheet(vec![line(2.0, 10.0, 4500.0, None)]);
        let anchors = anchor_lines(&household(size.clone()));
        assert_eq!((anchors[0].sheet_cop, anchors[0].cop_residual_percent), (None, None));
        let said = words(size, UnitSystem::Metric);
        assert!(said.contains("COP within 25 % and heat within 14 %") && said.contains("*2.0"), "{said}");
    }

    #[test]
    fn without_a_sheet_the_report_asks_for_one() {
        let said = words(UnitSize::Nominal(watts(4500.0)), UnitSystem::Metric);
        assert!(said.contains("the unit's own sheet would be better"), "{said}");
        assert!(
            said.contains("COP within 25 % and heat within 35 %") && said.contains("One more line"),
            "{said}"
        );
        assert!(!said.contains("The lines of the data sheet"), "{said}");
    }

    #[test]
    fn a_range_holds_the_calculated_year_and_all_ends() {
        let year = example::year();
        let mut ends = [year.clone(), year.clone(), year.clone(), year.clone()];
        for (end, factor) in ends.iter_mut().zip([1.2, 1.1, 1.5, 0.9]) {
            end.total.electricity_j = year.total.electricity_j.map(|load_j| factor * load_j);
        }
        let range = Range::of(&quantity::ELECTRICITY, &year, &ends).expect("there is electricity");
        approx::assert_relative_eq!(range.low, 0.9 * range.calculated, max_relative = 1e-12);
        approx::assert_relative_eq!(range.high, 1.5 * range.calculated, max_relative = 1e-12);
        assert_eq!(range.quantity, "electricity_kwh");
    }

    #[test]
    fn the_report_begins_with_the_range_of_the_electricity() {
        let household = household(UnitSize::Nominal(watts(4500.0)));
        let certainty = Certainty::of(&household, &example::year(), &[(); ENDS].map(|()| example::year()));
        let Some(Block::Paragraph(words)) = headline(&certainty, UnitSystem::Metric) else {
            panic!("no line")
        };
        assert!(words.starts_with("How sure: ") && words.matches("kWh").count() == 3, "{words}");
    }

    #[test]
    fn food_that_is_too_warm_at_one_end_alone_is_told_at_once() {
        let household = household(UnitSize::Nominal(watts(4500.0)));
        let told = |calculated_h: f64, end_h: f64| {
            let mut year = example::year();
            year.total.over_band_s = 3600.0 * calculated_h;
            let mut ends = [(); ENDS].map(|()| year.clone());
            ends[ENDS - 1].total.over_band_s = 3600.0 * end_h;
            food_words(&Certainty::of(&household, &year, &ends), UnitSystem::Metric)
        };
        assert_eq!(told(1.0, 4.0), "");
        assert_eq!(told(4.1, 50.0), "");
        assert!(told(4.0, 28.7).contains("too warm for 29 hours"), "{}", told(4.0, 28.7));
    }

    #[test]
    fn the_ends_have_cop_and_heat_low_and_high_together_and_apart() {
        let plant = example::plant();
        let band = Band { cop_frac: 0.2, heat_frac: 0.1 };
        let pump = |plant: &Plant| {
            let Cooler::HeatPump(pump) = &plant.cooler;
            (pump.cop_factor, pump.capacity_w)
        };
        let (cop, heat_w) = pump(&plant);
        assert_eq!(
            ends(&plant, band).each_ref().map(pump),
            [
                (cop * 0.8, heat_w * 0.9),
                (cop * 1.2, heat_w * 1.1),
                (cop * 0.8, heat_w * 1.1),
                (cop * 1.2, heat_w * 0.9)
            ]
        );
    }
}

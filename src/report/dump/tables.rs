//! The dump in the text report.

use super::{DumpMonth, DumpReport, DumpYear, FrostFree, is_us};
use crate::constants::ZERO_CELSIUS_K;
use crate::household::UnitSystem;
use crate::report::MONTHS;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::units::{Kind, write};
use crate::wording::{Wording, count, decimals, percent};

const FOOT_M: f64 = 0.3048;
const KPA_PA: f64 = 1000.0;

/// The section.
pub fn section(dump: &DumpReport, units: UnitSystem) -> Vec<Block> {
    let ever = dump.flow_l_min.is_some();
    if !ever && dump.sizes.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::Heading("The overflow dump".to_owned())];
    if ever {
        blocks.push(months(dump, units));
        blocks.extend(places(dump, units));
        blocks.extend(well(dump, units));
        blocks.extend(frost(dump, units));
        blocks.extend(line(dump, units));
    }
    blocks.extend(sizes(dump, units));
    blocks.extend(changes(dump, units));
    if !dump.parts.is_empty() {
        blocks.push(Block::Paragraph(
            "What it takes, for the plumber and the electrician to check:".to_owned(),
        ));
        blocks.push(Block::List(dump.parts.clone()));
    }
    blocks
}

fn months(dump: &DumpReport, units: UnitSystem) -> Block {
    let cell = |measure: Measure, value: f64| measure.rounded(value, units).to_string();
    let volume = |value: f64| cell(Measure::Volume, value);
    let row = |month: &DumpMonth| {
        vec![
            MONTHS[month.month - 1].to_owned(),
            volume(month.l_per_day_mean),
            volume(month.l_per_day_p95),
            volume(month.l_worst_day),
            volume(month.l_worst_hour),
            cell(Measure::Count, month.openings),
            cell(Measure::Minutes, month.open_min_per_day),
            cell(Measure::Energy, month.heat_kwh),
            month.lawn_m2.map_or_else(|| "-".to_owned(), |m2| area(m2, units)),
        ]
    };
    let unit = Measure::Volume.unit(units);
    let mut notes = vec![
        "Heavy day: one day in twenty has more. Hour: of the clock. Lawn: a cool-season lawn watered by drip that would take all of \
         the month's water, by the weather's own temperatures (Hargreaves) and the rain that the scenario tells."
            .to_owned(),
    ];
    if let Some(worst) = &dump.worst_day {
        notes.push(format!(
            "The worst day is {}, with {}.",
            day_words([worst.month, worst.day]),
            Measure::Volume.words(worst.l, units)
        ));
    }
    Block::Table(Table {
        title: "What it lets go, by the day".to_owned(),
        columns: vec![
            Column::words("Month"),
            Column::number("mean\nday", unit),
            Column::number("heavy\nday", unit),
            Column::number("worst\nday", unit),
            Column::number("worst\nhour", unit),
            Column::number("open-\nings", ""),
            Column::number("open\na day", Measure::Minutes.unit(units)),
            Column::number("heat", Measure::Energy.unit(units)),
            Column::number("lawn", if is_us(units) { "ft2" } else { "m2" }),
        ],
        rows: dump.months.iter().map(row).collect(),
        year: None,
        notes,
    })
}

fn area(m2: f64, units: UnitSystem) -> String {
    let value = if is_us(units) { m2 / (FOOT_M * FOOT_M) } else { m2 };
    decimals(value, if value < 10.0 { 1 } else { 0 })
}

/// What each place took, where there is more than one or water was left over.
fn places(dump: &DumpReport, units: UnitSystem) -> Option<Block> {
    let names: Vec<&String> = dump.months[0].placed_l.keys().collect();
    let held = dump.months.iter().any(|month| month.unplaced_h > 0.0);
    let tempered = dump.months.iter().any(|month| month.tempering_l > 0.0);
    if names.len() < 2 && !held && !tempered {
        return None;
    }
    let volume = |value: f64| Measure::Volume.rounded(value, units).to_string();
    let row = |month: &DumpMonth| {
        let mut cells = vec![MONTHS[month.month - 1].to_owned()];
        cells.extend(names.iter().map(|name| volume(month.placed_l[*name])));
        if tempered {
            cells.push(volume(month.tempering_l));
        }
        if held {
            cells.push(Measure::Duration.rounded(month.unplaced_h, units).to_string());
            cells.push(Measure::Energy.rounded(month.unplaced_kwh, units).to_string());
        }
        cells
    };
    let unit = Measure::Volume.unit(units);
    let mut columns = vec![Column::words("Month")];
    columns.extend(names.iter().map(|name| Column::number(&name.replace(' ', "\n"), unit)));
    if tempered {
        columns.push(Column::number("of that\ncold, to\ntemper", unit));
    }
    let mut notes = Vec::new();
    if held {
        columns.push(Column::number("nowhere\nto go", Measure::Duration.unit(units)));
        columns.push(Column::number("made\nmean-\nwhile", Measure::Energy.unit(units)));
        notes.push(
            "Nowhere to go: the aquastat calls and no place has room, or timer or guard holds the dump; the heat that the pump makes meanwhile stays in the tank, which \
             climbs until the pump is refused. That time hangs on minutes where a place is only just large enough: take it as a rough \
             figure."
                .to_owned(),
        );
    }
    Some(Block::Table(Table {
        title: "Where the water goes".to_owned(),
        columns,
        rows: dump.months.iter().map(row).collect(),
        year: None,
        notes,
    }))
}

fn day_words([month, day]: [usize; 2]) -> String {
    format!("{day} {}", MONTHS[month - 1])
}

fn well(dump: &DumpReport, units: UnitSystem) -> Option<Block> {
    dump.well.as_ref().map(|well| Block::Paragraph(well.words(Wording(units))))
}

fn frost(dump: &DumpReport, units: UnitSystem) -> Option<Block> {
    let FrostFree { first, last, dumps_outside, dumped_outside_l } = dump.frost_free.as_ref()?;
    let outside = if *dumps_outside == 0 {
        "In this year nothing had to be dumped in the other time.".to_owned()
    } else {
        format!(
            "In this year {} were dumped on {} of the other time: such a day needs another place, a drain indoors, or \
             a line that empties itself after each opening.",
            Measure::Volume.words(*dumped_outside_l, units),
            count(*dumps_outside as f64, "day")
        )
    };
    Some(Block::Paragraph(format!(
        "Frost: from {} to {} this weather has none. Shut the outdoor line off before, drain it and leave it open at both ends. {outside}",
        day_words(*first),
        day_words(*last)
    )))
}

/// Where the pressure goes.
fn line(dump: &DumpReport, units: UnitSystem) -> Vec<Block> {
    if dump.pressure_drop_kpa.is_empty() {
        return Vec::new();
    }
    let pressure = |kpa: f64| write(Kind::Pressure, kpa * KPA_PA, units);
    let rows: Vec<Vec<String>> = dump
        .pressure_drop_kpa
        .iter()
        .map(|drop| vec![drop.part.clone(), pressure((10.0 * drop.kpa).round() / 10.0)])
        .collect();
    let flow = |l_min: Option<f64>| {
        l_min.map_or_else(String::new, |l_min| Measure::VolumePerMinute.words(l_min, units))
    };
    let mut notes = vec![format!(
        "At the dump's {}; the house's pressure drives {} through this line, with no other tap running.",
        flow(dump.flow_l_min),
        flow(dump.line_flow_l_min)
    )];
    if let (Some(velocity), Some(limit)) = (dump.velocity_m_s, dump.velocity_limit_m_s) {
        let speed = |m_s: f64| {
            if is_us(units) {
                format!("{} ft/s", decimals(m_s / FOOT_M, 1))
            } else {
                format!("{} m/s", decimals(m_s, 2))
            }
        };
        let verdict = if velocity <= limit {
            "within"
        } else {
            "above: it wears the tube and hammers; take a wider one, or throttle it below"
        };
        notes.push(format!(
            "Fastest water: {}, {verdict} the limit of {} (copper: Copper Tube Handbook, Second hand; plastics: Common practice, no \
             source). The line holds {} that stand in it between openings.",
            speed(velocity),
            speed(limit),
            Measure::Volume.words(dump.line_holds_l.unwrap_or_default(), units)
        ));
    }
    if let Some(arrives_degc) = dump.line_arrives_degc {
        notes.push(format!(
            "In the ground the water cools on its way: at its hottest (tempered, where it is) it comes to the end of the line with {} in the \
             year's warmest ground (soil of 1 W/mK, Common practice, no source). That is after it has run for a while; before, it is cooler.",
            Wording(units).temperature(arrives_degc + ZERO_CELSIUS_K)
        ));
    }
    vec![Block::Table(Table {
        title: "Where the pressure goes".to_owned(),
        columns: vec![Column::words("part"), Column::number("takes", "")],
        rows,
        year: None,
        notes,
    })]
}

fn sizes(dump: &DumpReport, units: UnitSystem) -> Option<Block> {
    let head = if dump.flow_l_min.is_some() { "Other flows" } else { "If a dump were fitted" };
    let required = dump.required_flow_l_min.map_or_else(String::new, |l_min| {
        format!(
            " The pump's whole heat in its worst hour takes {}; a reserve of a quarter belongs to it.",
            Measure::VolumePerMinute.words(l_min, units)
        )
    });
    trials(
        &dump.sizes,
        head,
        "flow",
        format!("Enough: food too warm and pump refused for no more than four hours a year each.{required}"),
        units,
    )
}

fn changes(dump: &DumpReport, units: UnitSystem) -> Option<Block> {
    let note = "One thing is changed at a time. Write the change into the scenario and check it again before anything is built.";
    trials(&dump.changes, "What else would change it", "changed", note.to_owned(), units)
}

fn trials(years: &[DumpYear], title: &str, head: &str, note: String, units: UnitSystem) -> Option<Block> {
    if years.is_empty() {
        return None;
    }
    let cell = |measure: Measure, value: f64| measure.rounded(value, units).to_string();
    let row = |year: &DumpYear| {
        vec![
            label(year, units),
            cell(Measure::Volume, year.dump_l),
            cell(Measure::Volume, year.worst_month_l_per_day),
            cell(Measure::Minutes, year.open_min_per_day),
            cell(Measure::Duration, year.over_band_h),
            cell(Measure::Duration, year.refused_h),
            cell(Measure::Energy, year.electricity_kwh),
            cell(Measure::Energy, year.booster_bought_kwh),
            if year.enough { "yes" } else { "no" }.to_owned(),
        ]
    };
    let volume = Measure::Volume.unit(units);
    let (hours, energy) = (Measure::Duration.unit(units), Measure::Energy.unit(units));
    Some(Block::Table(Table {
        title: title.to_owned(),
        columns: vec![
            Column::words(head),
            Column::number("dumped\na year", volume),
            Column::number("worst\nmonth\na day", volume),
            Column::number("open\na day", Measure::Minutes.unit(units)),
            Column::number("food\ntoo\nwarm", hours),
            Column::number("cool-\ning re-\nfused", hours),
            Column::number("elec-\ntri-\ncity", energy),
            Column::number("boost-\ner\nbuys", energy),
            Column::words("enough"),
        ],
        rows: years.iter().map(row).collect(),
        year: None,
        notes: vec![note],
    }))
}

/// The months, short.
fn months_of(months: &[bool; 12]) -> String {
    let short: Vec<&str> = (0..12).filter(|&month| months[month]).map(|month| MONTHS[month]).collect();
    short.join(", ")
}

fn label(year: &DumpYear, units: UnitSystem) -> String {
    use crate::change::Change;
    let say = Wording(units);
    match &year.change {
        Change::DumpFlow(flow) => say.flow(flow.value),
        Change::AddDump(line) => say.flow(line.flow.value),
        Change::Aquastat { opens_at, .. } => format!("opens at {}", say.temperature(opens_at.value)),
        Change::ThermostatBand(band) => format!("band of {}", write(Kind::Difference, band.value, units)),
        Change::TankVolume(volume) | Change::TankPairVolume(volume) => {
            format!("tank of {}", write(Kind::Volume, volume.value, units))
        }
        Change::CoolerOffIn(off) => format!("off in {}", months_of(off)),
        Change::DumpPort(height) => format!("port at {}", percent(height.value)),
        Change::HotWaterTimes(times) => format!("use times {}", decimals(*times, 2)),
        other => other.words_in(units),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::report::assessment::sample;
    use crate::report::{Report, text};

    #[test]
    fn the_section_fits_the_width_in_both_systems() {
        let (household, plant, year) = (example::household(), example::plant(), sample::year());
        let tried = |changes: Vec<crate::change::Change>| -> Vec<DumpYear> {
            changes.into_iter().map(|change| DumpYear::of(change, &year)).collect()
        };
        let sizes = tried(crate::overflow::sizes(&household, &plant, &year));
        let changes = tried(crate::overflow::other_changes(&household, &year));
        let report = DumpReport::of(&household, &plant, &year, (sizes, changes));
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            let text = text::plain(&Report { blocks: section(&report, units) });
            assert!(text.lines().all(|line| line.chars().count() <= text::WIDTH), "{text}");
            assert!(text.contains("What it lets go") && text.contains("Other flows"), "{text}");
        }
    }
}

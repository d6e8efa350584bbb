//! What comes before the answers and after the tables: household and weather, cautions, what was
//! assumed, and how well the books close.

use crate::caution::{Caution, Severity};
use crate::household::{DefaultUsed, UnitSystem};
use crate::report::Assessment;
use crate::report::block::{Block, Column, Entry, Table, Tone};
use crate::report::measure::Measure;
use crate::report::quantity;
use crate::units::{Kind, written_in};
use crate::year::Year;

/// The line that comes before everything else, if somebody qualified has to look first.
pub(super) fn stop_work(cautions: &[Caution]) -> Vec<Block> {
    let stops: Vec<String> = cautions
        .iter()
        .filter(|caution| caution.severity == Severity::StopWork)
        .map(|caution| format!("{} {}", caution.code, caution.title))
        .collect();
    if stops.is_empty() {
        return Vec::new();
    }
    vec![Block::Alarm(format!("STOP WORK until somebody qualified has looked: {}.", stops.join("; ")))]
}

/// Household and weather in two lines, and what has to be known about the weather.
pub(super) fn opening(assessment: &Assessment, units: UnitSystem) -> Vec<Block> {
    let climate = &assessment.climate;
    let degrees = |value| Measure::Temperature.words(value, units);
    let lines = [
        Block::Line(format!("{} ({})", assessment.household, assessment.scenario)),
        Block::Line(format!(
            "Weather: {}, {} hours, outdoor air {} to {}, mean {}",
            climate.place,
            climate.hours,
            degrees(climate.min_degc),
            degrees(climate.max_degc),
            degrees(climate.mean_degc),
        )),
    ];
    let notes = climate.notes.iter().map(|note| Block::Paragraph(format!("Note on the weather: {note}.")));
    lines.into_iter().chain(notes).collect()
}

/// All cautions, the most urgent first.
pub(super) fn cautions(cautions: &[Caution]) -> Vec<Block> {
    let mut sorted: Vec<_> = cautions.iter().collect();
    sorted.sort_by_key(|caution| (std::cmp::Reverse(caution.severity), caution.code));
    let mut blocks = vec![Block::Heading("Cautions".to_owned())];
    if sorted.is_empty() {
        blocks.push(Block::Paragraph("None was raised.".to_owned()));
    }
    blocks.extend(sorted.into_iter().map(|caution| Block::Entry(caution_entry(caution))));
    blocks
}

fn caution_entry(caution: &Caution) -> Entry {
    let (verdict, tone) = match caution.severity {
        Severity::StopWork => ("stop work", Tone::Bad),
        Severity::FixFirst => ("fix first", Tone::Attention),
        Severity::Know => ("know", Tone::Neutral),
    };
    Entry {
        mark: caution.code.to_owned(),
        verdict: verdict.to_owned(),
        tone,
        text: caution.title.to_owned(),
        details: vec![caution.text.clone(), format!("Source: {}", caution.source)],
    }
}

/// Everything that the scenario did not say.
pub(super) fn defaults(defaults: &[DefaultUsed], units: UnitSystem) -> Vec<Block> {
    if defaults.is_empty() {
        return Vec::new();
    }
    let items = defaults
        .iter()
        .map(|default| format!("{}: {} ({})", default.key, value_in(&default.value, units), default.reason));
    vec![
        Block::Heading("Assumed, because the scenario does not say".to_owned()),
        Block::Paragraph("Key and value as they would stand in the scenario.".to_owned()),
        Block::List(items.collect()),
    ]
}

/// A value of the scenario in the units of the report; words, and what both systems measure alike, stay as they are.
///
/// A value with "deg" in its unit is a temperature, one in kelvin a difference.
fn value_in(value: &str, units: UnitSystem) -> String {
    let kinds = Kind::ALL.into_iter().filter(|&kind| match kind {
        Kind::Temperature => value.contains("deg"),
        Kind::Difference => !value.contains("deg"),
        _ => true,
    });
    let turned = kinds.map(|kind| written_in(kind, value, units)).find(|turned| turned != value);
    turned.unwrap_or_else(|| value.to_owned())
}

/// The ledgers, and the hours outside the cycle map if there were any.
pub(super) fn books(year: &Year, units: UnitSystem) -> Vec<Block> {
    let ledger = &year.ledger;
    let accounts = [
        ("room", ledger.room),
        ("tank", ledger.tank),
        ("machine", ledger.machine),
        ("whole house", ledger.house),
        ("moisture", ledger.moisture),
    ];
    let mut blocks = vec![
        Block::Heading("Energy ledger".to_owned()),
        Block::Table(Table {
            title: "What the books of the year do not account for, as a share of what went through"
                .to_owned(),
            columns: vec![Column::words("Account"), Column::number("residual", "")],
            rows: accounts
                .iter()
                .map(|(name, residual)| vec![(*name).to_owned(), format!("{residual:.1e}")])
                .collect(),
            year: None,
            notes: Vec::new(),
        }),
    ];
    let outside = outside_map(year, units);
    if !outside.is_empty() {
        blocks.push(Block::Heading("Running outside the cycle map".to_owned()));
        blocks.push(Block::Paragraph("There the map's nearest edge was used.".to_owned()));
        blocks.push(Block::List(outside));
    }
    blocks
}

/// Least that prints as more than nothing with one decimal, h.
const LEAST_PRINTED_H: f64 = 0.05;

fn outside_map(year: &Year, units: UnitSystem) -> Vec<String> {
    [
        ("room air", quantity::MAP_ROOM_AIR),
        ("water inlet", quantity::MAP_INLET),
        ("water rise", quantity::MAP_RISE),
        ("outlet too hot for the cycle", quantity::MAP_UNREACHABLE),
    ]
    .into_iter()
    .filter_map(|(name, quantity)| {
        let hours = quantity.of(&year.total).filter(|&hours| hours >= LEAST_PRINTED_H)?;
        Some(format!("{name}: {}", Measure::Duration.words(hours, units)))
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn caution(code: &'static str, severity: Severity) -> Caution {
        Caution { code, title: "title", severity, text: "text".to_owned(), source: "source" }
    }

    #[test]
    fn the_stop_work_line_is_there_only_if_something_stops_work() {
        assert_eq!(stop_work(&[caution("C001", Severity::FixFirst)]), []);
        assert_eq!(
            stop_work(&[caution("C001", Severity::Know), caution("C002", Severity::StopWork)]),
            [Block::Alarm("STOP WORK until somebody qualified has looked: C002 title.".to_owned())]
        );
    }

    /// The scales by their definitions; the gallon by NIST Handbook 44, appendix C. From memory, to be verified.
    #[test]
    fn assumed_values_are_turned_into_us_units_and_words_stay() {
        let us = |value| value_in(value, UnitSystem::Us);
        assert_eq!(us("35 degC"), "95 degF");
        assert_eq!(us("5 K"), "9 degF");
        assert_eq!(us("100 L"), "26.42 gal");
        // 1 cfm is 0.0283168 m3 a minute, 1.69901 m3/h (NIST Special Publication 811, appendix B. From memory, to be verified).
        assert_eq!(us("169.901 m3/h"), "100 cfm");
        assert_eq!(us("60 W"), "60 W");
        assert_eq!(us("90 s"), "90 s");
        assert_eq!(us("from the weather"), "from the weather");
        assert_eq!(us("80 %"), "80 %");
        assert_eq!(value_in("35 degC", UnitSystem::Metric), "35 degC");
    }

    #[test]
    fn the_most_urgent_caution_comes_first() {
        let raised = [
            caution("C001", Severity::Know),
            caution("C003", Severity::StopWork),
            caution("C002", Severity::FixFirst),
        ];
        let marks: Vec<_> = cautions(&raised)
            .into_iter()
            .filter_map(|block| if let Block::Entry(entry) = block { Some(entry.mark) } else { None })
            .collect();
        assert_eq!(marks, ["C003", "C002", "C001"]);
    }
}

//! The report as text of 80 columns.
//!
//! Emphasis is written as ANSI sequences; whoever prints the text strips them where they are not
//! wanted. No meaning hangs on them: what is coloured is always a word that says the same.

use anstyle::{AnsiColor, Style};
use tabled::builder::Builder;
use tabled::settings::formatting::AlignmentStrategy;
use tabled::settings::object::{Columns, Object, Rows};
use tabled::settings::style::HorizontalLine;
use tabled::settings::{Alignment, Padding};

use crate::report::bars;
use crate::report::block::{Align, Block, Chart, Column, Entry, Report, Table, Tone};

/// Width of the report in columns of the terminal.
pub const WIDTH: usize = 80;
/// Indent of what belongs to an entry.
const INDENT: &str = "  ";

/// Renders the report with emphasis.
pub fn render(report: &Report) -> String {
    let mut text = String::new();
    let mut previous = None;
    for block in &report.blocks {
        if previous.is_some_and(|previous| apart(previous, block)) {
            text.push('\n');
        }
        text.push_str(&block_text(block));
        previous = Some(block);
    }
    text
}

/// Renders the report without emphasis.
pub fn plain(report: &Report) -> String {
    anstream::adapter::strip_str(&render(report)).to_string()
}

/// Whether an empty line stands between two blocks.
fn apart(previous: &Block, next: &Block) -> bool {
    match (previous, next) {
        (_, Block::Heading(_)) => true,
        (Block::Heading(_), _) | (Block::Line(_), Block::Line(_)) => false,
        _ => true,
    }
}

fn block_text(block: &Block) -> String {
    match block {
        Block::Alarm(words) => emphasised(&wrapped(words, "", ""), tone_style(Tone::Bad).bold()),
        Block::Line(words) | Block::Paragraph(words) => wrapped(words, "", ""),
        Block::Heading(words) => emphasised(&wrapped(words, "", ""), Style::new().bold()),
        Block::List(items) => items.iter().map(|item| wrapped(item, "- ", INDENT)).collect(),
        Block::Entry(entry) => entry_text(entry),
        Block::Table(table) => table_text(table),
        Block::Chart(chart) => chart_text(chart),
    }
}

/// Units that stay on the line of their number.
const KEPT_UNITS: &[&str] = &[
    "°C", "°F", "K", "degC", "degF", "%", "kWh", "W", "kW", "BTU/h", "L", "L/min", "gal", "gal/min", "gpm",
    "kg", "lb", "m³", "ft³", "g/m³", "h", "min", "s", "hours", "hour", "minutes", "minute", "seconds", "kPa",
    "mm", "m2", "psi",
];

/// A space at which no line is broken.
const KEPT_SPACE: char = '\u{a0}';

/// The words with the space between a number and its unit made one at which no line is broken.
pub(crate) fn kept_together(words: &str) -> String {
    let mut kept = String::with_capacity(words.len());
    let mut after_number = false;
    for (index, word) in words.split(' ').enumerate() {
        let unit = word.trim_end_matches(['.', ',', ';', ':', ')']);
        if index > 0 {
            kept.push(if after_number && KEPT_UNITS.contains(&unit) { KEPT_SPACE } else { ' ' });
        }
        kept.push_str(word);
        after_number = word.ends_with(|last: char| last.is_ascii_digit());
    }
    kept
}

/// Words broken into lines of the report's width, each ended; a number stays with its unit.
fn wrapped(words: &str, first: &str, rest: &str) -> String {
    let options = textwrap::Options::new(WIDTH)
        .initial_indent(first)
        .subsequent_indent(rest)
        .wrap_algorithm(textwrap::WrapAlgorithm::FirstFit)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    let mut text = textwrap::fill(&kept_together(words), options).replace(KEPT_SPACE, " ");
    text.push('\n');
    text
}

/// Every line of the text in the style.
fn emphasised(text: &str, style: Style) -> String {
    text.lines().map(|line| format!("{style}{line}{style:#}\n")).collect()
}

fn tone_style(tone: Tone) -> Style {
    match tone {
        Tone::Neutral => Style::new(),
        Tone::Good => AnsiColor::Green.on_default(),
        Tone::Attention => AnsiColor::Yellow.on_default(),
        Tone::Bad => AnsiColor::Red.on_default(),
    }
}

/// `MARK verdict: text`, the verdict in its tone, everything below indented.
fn entry_text(entry: &Entry) -> String {
    let words: Vec<&str> =
        [entry.mark.as_str(), entry.verdict.as_str()].into_iter().filter(|word| !word.is_empty()).collect();
    let head = words.join(" ");
    let mut text = wrapped(&format!("{head}: {}", entry.text), "", INDENT);
    if !entry.verdict.is_empty() && text.starts_with(&head) {
        let style = tone_style(entry.tone).bold();
        let verdict = &entry.verdict;
        text.replace_range(head.len() - verdict.len()..head.len(), &format!("{style}{verdict}{style:#}"));
    }
    for detail in &entry.details {
        text.push_str(&wrapped(detail, "  - ", "    "));
    }
    text
}

fn table_text(table: &Table) -> String {
    titled(&table.title, &grid(table), &table.notes)
}

fn chart_text(chart: &Chart) -> String {
    titled(&chart.title, &bars::drawn(chart, WIDTH), &chart.notes)
}

/// A title, lines as they are, and notes under them.
fn titled(title: &str, lines: &str, notes: &[String]) -> String {
    let mut text = emphasised(&wrapped(title, "", ""), Style::new().bold());
    for line in lines.lines() {
        text.push_str(line.trim_end());
        text.push('\n');
    }
    for note in notes {
        text.push_str(&wrapped(note, INDENT, INDENT));
    }
    text
}

fn grid(table: &Table) -> String {
    let mut builder = Builder::default();
    builder.push_record(headings(&table.columns));
    for row in table.rows.iter().chain(&table.year) {
        builder.push_record(row.iter().map(String::as_str));
    }
    let mut grid = builder.build();
    let rule = HorizontalLine::new('-');
    let style = tabled::settings::Style::empty();
    match table.year {
        Some(_) => grid.with(style.horizontals([(1, rule), (table.rows.len() + 1, rule)])),
        None => grid.with(style.horizontals([(1, rule)])),
    };
    grid.with(AlignmentStrategy::PerLine);
    grid.with(Padding::new(0, 2, 0, 0));
    let last = table.columns.len().saturating_sub(1);
    grid.modify(Columns::one(last), Padding::zero());
    for (index, column) in table.columns.iter().enumerate() {
        let alignment = match column.align {
            Align::Left => Alignment::left(),
            Align::Right => Alignment::right(),
        };
        grid.modify(Columns::one(index), alignment);
    }
    grid.modify(Rows::first().intersect(Columns::new(..)), Alignment::bottom());
    grid.to_string()
}

/// Name over unit; all headings end on the same line.
fn headings(columns: &[Column]) -> Vec<String> {
    columns
        .iter()
        .map(|column| match column.unit {
            "" => column.name.clone(),
            unit => format!("{}\n{unit}", column.name),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbers() -> Table {
        Table {
            title: "Numbers".to_owned(),
            columns: vec![Column::words("Month"), Column::number("room\nload", "kWh")],
            rows: vec![vec!["Jan".to_owned(), "1.5".to_owned()], vec!["Feb".to_owned(), "10.0".to_owned()]],
            year: Some(vec!["Year".to_owned(), "11.5".to_owned()]),
            notes: vec!["A note.".to_owned()],
        }
    }

    #[test]
    fn numbers_stand_right_and_words_left() {
        let report = Report { blocks: vec![Block::Table(numbers())] };
        let expected = "Numbers\n       room\n       load\nMonth   kWh\n-----------\nJan     1.5\nFeb    10.0\n-----------\nYear   11.5\n  A note.\n";
        assert_eq!(plain(&report), expected);
    }

    #[test]
    fn long_text_stays_within_the_width() {
        let words = "contents ".repeat(40);
        let entry = Entry {
            mark: "F101".into(),
            verdict: "no".into(),
            text: words.clone(),
            details: vec![words.clone()],
            ..Entry::default()
        };
        let report = Report { blocks: vec![Block::Paragraph(words), Block::Entry(entry)] };
        assert!(plain(&report).lines().all(|line| line.chars().count() <= WIDTH));
    }

    #[test]
    fn the_verdict_is_emphasised_and_still_a_word_without_emphasis() {
        let entry = Entry {
            mark: "F101".into(),
            verdict: "no".into(),
            tone: Tone::Bad,
            text: "too warm".into(),
            ..Entry::default()
        };
        let report = Report { blocks: vec![Block::Entry(entry)] };
        assert_eq!(plain(&report), "F101 no: too warm\n");
        assert!(render(&report).contains("\u{1b}[31m"));
    }
}

//! Blocks of a report as HTML.

use maud::{Markup, html};

use crate::report::text::kept_together;
use crate::report::{Align, Block, Chart, Column, Entry, Table, Tone};

/// Letters from which a row's name is broken into lines, and does not stay at the edge while the rest is scrolled.
const LONG: usize = 24;

/// What stands before the first heading, and one part: nothing to choose from, so it stands open.
const ONE_PART: usize = 2;

/// Blocks under their headings: a heading opens a part that can be folded, what stands before the first heading stands free.
pub fn sections(blocks: &[Block]) -> Markup {
    let mut parts: Vec<(Option<&str>, Vec<&Block>)> = vec![(None, Vec::new())];
    for block in blocks {
        match block {
            Block::Heading(words) => parts.push((Some(words), Vec::new())),
            other => parts.last_mut().expect("there is one from the start").1.push(other),
        }
    }
    html! {
        @for (heading, blocks) in &parts {
            @match heading {
                Some(words) => details.part open[parts.len() == ONE_PART] { summary { h3 { (words) } } @for block in blocks { (one(block)) } },
                None => @for block in blocks { (one(block)) },
            }
        }
    }
}

/// A block.
pub fn one(block: &Block) -> Markup {
    match block {
        Block::Alarm(words) => html! { p.alarm role="alert" { (words) } },
        Block::Line(words) | Block::Paragraph(words) => html! { p { (with_code(words)) } },
        Block::Heading(words) => html! { h3 { (words) } },
        Block::List(items) => html! { ul { @for item in items { li { (with_code(item)) } } } },
        Block::Entry(entry) => self::entry(entry),
        Block::Table(table) => self::table(table),
        Block::Chart(chart) => table(&as_table(chart)),
    }
}

/// Class of a tone.
pub fn tone(tone: Tone) -> &'static str {
    match tone {
        Tone::Neutral => "neutral",
        Tone::Good => "good",
        Tone::Attention => "attention",
        Tone::Bad => "bad",
    }
}

/// An entry: verdict and text to be seen at once, what belongs to it to be unfolded.
pub fn entry(entry: &Entry) -> Markup {
    let (remedies, rest): (Vec<_>, Vec<_>) =
        entry.details.iter().partition(|detail| detail.starts_with("Remedy: "));
    html! {
        article.entry.(tone(entry.tone)) {
            p {
                @if !entry.verdict.is_empty() { strong.verdict { (entry.verdict) } " " }
                (with_code(&entry.text)) " "
                span.mark { (entry.mark) }
            }
            @if !remedies.is_empty() {
                ul.remedies { @for remedy in &remedies { li { (with_code(remedy.trim_start_matches("Remedy: "))) } } }
            }
            @if !rest.is_empty() {
                details { summary { "Number, limit, source" } ul { @for detail in &rest { li { (with_code(detail)) } } } }
            }
        }
    }
}

/// Words with what stands in backticks as code.
pub fn with_code(words: &str) -> Markup {
    html! {
        @for (index, part) in kept_together(words).split('`').enumerate() {
            @if index % 2 == 1 { code { (part) } } @else { (part) }
        }
    }
}

fn heading(column: &Column) -> Markup {
    html! {
        (column.name.replace("-\n", "").replace('\n', " "))
        @if !column.unit.is_empty() { " " span.unit { (column.unit) } }
    }
}

/// A table in a frame of its own that scrolls where the screen is narrow.
pub fn table(table: &Table) -> Markup {
    let class = |column: &Column| match column.align {
        Align::Left => "words",
        Align::Right => "number",
    };
    let head_class = |cell: &str, column: &Column| match class(column) {
        class if cell.chars().count() > LONG => format!("{class} long"),
        class => class.to_owned(),
    };
    let row = |cells: &[String]| {
        html! {
            tr {
                @for (index, (cell, column)) in cells.iter().zip(&table.columns).enumerate() {
                    @if index == 0 { th scope="row" class=(head_class(cell, column)) { (with_code(cell)) } } @else { td class=(class(column)) { (cell) } }
                }
            }
        }
    };
    html! {
        figure.table {
            figcaption { (table.title) }
            div.scroll role="region" aria-label=(table.title) tabindex="0" {
                table {
                    thead { tr { @for column in &table.columns { th scope="col" class=(class(column)) { (heading(column)) } } } }
                    tbody { @for cells in &table.rows { (row(cells)) } }
                    @if let Some(year) = &table.year { tfoot { (row(year)) } }
                }
            }
            @for note in &table.notes { p.note { (with_code(note)) } }
        }
    }
}

/// Bars are drawn among the plots; here their numbers stand.
fn as_table(chart: &Chart) -> Table {
    let mut columns = vec![Column::number(&chart.label, "")];
    columns.extend(chart.series.iter().map(|series| Column::number(&series.name, "")));
    let row = |(index, label): (usize, &String)| {
        let cells = chart.series.iter().map(|series| series.shown.get(index).cloned().unwrap_or_default());
        std::iter::once(label.clone()).chain(cells).collect()
    };
    Table {
        title: chart.title.clone(),
        columns,
        rows: chart.labels.iter().enumerate().map(row).collect(),
        year: None,
        notes: chart.notes.clone(),
    }
}

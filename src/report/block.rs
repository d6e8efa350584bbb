//! What a report is made of, without saying how it looks.

/// A report.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Report {
    /// Its parts, in the order in which they are read.
    pub blocks: Vec<Block>,
}

/// A part of a report.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// The first thing to read, before everything else.
    Alarm(String),
    /// A line that stands alone.
    Line(String),
    /// The heading of a section.
    Heading(String),
    /// Running text.
    Paragraph(String),
    /// An answer, a caution, a default: a mark, a text and what belongs to it.
    Entry(Entry),
    /// Short items.
    List(Vec<String>),
    /// Numbers in rows and columns.
    Table(Table),
    /// Numbers as bars.
    Chart(Chart),
}

/// A marked text with paragraphs and items of its own.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Entry {
    /// Code or key that it is found by.
    pub mark: String,
    /// The word that sums it up (`yes`, `no`, `fix first`), if there is one. The tone never says more than this word.
    pub verdict: String,
    /// How the verdict is to be taken.
    pub tone: Tone,
    /// Its text.
    pub text: String,
    /// What belongs to it, a line each.
    pub details: Vec<String>,
}

/// How a verdict is to be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tone {
    /// Neither good nor bad.
    #[default]
    Neutral,
    /// As it should be.
    Good,
    /// To be looked at.
    Attention,
    /// Not as it should be.
    Bad,
}

/// A table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// What it shows.
    pub title: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, a cell for every column.
    pub rows: Vec<Vec<String>>,
    /// The row that sums up the others, if there is one.
    pub year: Option<Vec<String>>,
    /// What has to be known to read it.
    pub notes: Vec<String>,
}

/// Bars in rows, a row for each label, one or more series side by side.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Chart {
    /// What it shows.
    pub title: String,
    /// What the labels are.
    pub label: String,
    /// The label of each row.
    pub labels: Vec<String>,
    /// The series, each from 0 to its own largest number.
    pub series: Vec<Series>,
    /// What has to be known to read it.
    pub notes: Vec<String>,
}

/// A series of bars, a number for each label.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Series {
    /// Heading.
    pub name: String,
    /// The numbers; below 0 there is no bar.
    pub values: Vec<f64>,
    /// The numbers as they are printed.
    pub shown: Vec<String>,
    /// A number that is marked across all bars.
    pub limit: Option<f64>,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Heading; line breaks are kept.
    pub name: String,
    /// Unit, printed under the heading; empty for none.
    pub unit: &'static str,
    /// Alignment of its cells.
    pub align: Align,
}

impl Column {
    /// A column of numbers.
    pub fn number(name: &str, unit: &'static str) -> Self {
        Self { name: name.to_owned(), unit, align: Align::Right }
    }

    /// A column of words.
    pub fn words(name: &str) -> Self {
        Self { name: name.to_owned(), unit: "", align: Align::Left }
    }
}

/// Alignment of the cells of a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

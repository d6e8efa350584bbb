//! The scenario file as a tree of tables, lists and raw texts, each with its place.
//!
//! The parser's events are read directly. A typed reader stops at its first fault and resolves scalars:
//! it makes `on` true and `012` twelve. Here a value stays as it was written, for [`crate::units`] to read.

use std::ops::Range;

use serde_saphyr::granit_parser::{Event, Parser, ScalarStyle, Span, options};

use super::fault::Note;
use super::{brackets, codes};

/// Largest scenario file, bytes.
pub const LARGEST_FILE: usize = 1 << 20;
/// Deepest nesting of tables and lists.
pub const DEEPEST: usize = 32;

/// A value with its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Node {
    /// Bytes of the file.
    pub span: Range<usize>,
    /// What it is.
    pub shape: Shape,
}

/// What a value is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shape {
    /// Raw text; `None` where nothing is written after the key.
    Text(Option<String>),
    /// A list.
    List(Vec<Node>),
    /// A table.
    Table(Vec<Entry>),
    /// Something that is already refused, such as an alias.
    Refused,
}

/// A key and its value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The key.
    pub key: String,
    /// Bytes of the key.
    pub span: Range<usize>,
    /// The value.
    pub value: Node,
}

impl Shape {
    /// What it is, with an article.
    pub fn name(&self) -> &'static str {
        match self {
            Shape::Text(None) => "nothing",
            Shape::Text(Some(_)) => "a single value",
            Shape::List(_) => "a list",
            Shape::Table(_) => "a table of keys",
            Shape::Refused => "not taken",
        }
    }
}

/// Reads the text into a tree. Faults that leave the tree whole (a key given twice, an anchor) are added to
/// `notes`; `None` if there is no tree to go on with.
pub fn read(text: &str, notes: &mut Vec<Note>) -> Option<Node> {
    let mut builder = Builder { open: Vec::new(), root: None, notes };
    let mut documents = 0;
    let options = options! { emit_comments: false, emit_unresolved_aliases: true };
    for event in Parser::new_from_str_with_options(text, options) {
        match event {
            Err(error) => {
                let at = error.marker().byte_offset().unwrap_or(text.len());
                builder.notes.push(not_yaml(text, at.min(text.len()), &error.info()));
                return None;
            }
            Ok((Event::DocumentStart(..), span)) => {
                documents += 1;
                if documents > 1 {
                    builder.refuse(bytes(&span), "a second document begins here", "one scenario a file");
                    return None;
                }
            }
            Ok((event, span)) => builder.take(event, &span)?,
        }
    }
    builder.root
}

fn not_yaml(text: &str, at: usize, reason: &str) -> Note {
    let tab =
        text[line_start(text, at)..at].contains('\t').then(|| "indent with spaces, not tabs".to_owned());
    let help = tab.or_else(|| brackets::help(text, at)).or_else(|| uneven_indent(text, at));
    Note::error(codes::NOT_YAML, at..at, format!("this is not YAML: {reason}")).helped(help)
}

/// A line that stands less deep than the one before it and yet in the middle of its table: most often one of the two has a blank too many or too few.
fn uneven_indent(text: &str, at: usize) -> Option<String> {
    let start = line_start(text, at);
    let here = text[start..at].chars().all(|blank| blank == ' ').then_some(at - start)?;
    let before = text[..start].lines().rev().find(|line| {
        let bare = line.trim_start();
        !bare.is_empty() && !bare.starts_with('#')
    })?;
    let deeper = (before.len() - before.trim_start_matches(' ').len())
        .checked_sub(here)
        .filter(|&deeper| deeper > 0)?;
    let blanks = if deeper == 1 { "1 blank" } else { &format!("{deeper} blanks") };
    Some(format!("the line before stands {blanks} deeper: the keys of one table begin in the same column"))
}

fn line_start(text: &str, at: usize) -> usize {
    text.as_bytes()[..at].iter().rposition(|&byte| byte == b'\n').map_or(0, |newline| newline + 1)
}

fn bytes(span: &Span) -> Range<usize> {
    span.byte_range().unwrap_or(0..0)
}

/// A table or list that is not closed yet.
struct Open {
    start: usize,
    shape: OpenShape,
}

enum OpenShape {
    List(Vec<Node>),
    Table { entries: Vec<Entry>, key: Option<(String, Range<usize>)> },
}

struct Builder<'a> {
    open: Vec<Open>,
    root: Option<Node>,
    notes: &'a mut Vec<Note>,
}

impl Builder<'_> {
    /// Takes one event; `None` where the tree cannot go on.
    fn take(&mut self, event: Event<'_>, span: &Span) -> Option<()> {
        let place = bytes(span);
        match event {
            Event::Scalar(text, style, anchor, tag) => {
                self.refuse_extras(&place, anchor, tag.is_some());
                // The parser gives `~` for a value that is not there; then its span is empty.
                let empty = place.is_empty() && style == ScalarStyle::Plain;
                let shape = Shape::Text((!empty).then(|| text.into_owned()));
                self.add(Node { span: place, shape })
            }
            Event::SequenceStart(_, anchor, tag) => {
                self.refuse_extras(&place, anchor, tag.is_some());
                self.begin(place, OpenShape::List(Vec::new()))
            }
            Event::MappingStart(_, anchor, tag) => {
                self.refuse_extras(&place, anchor, tag.is_some());
                self.begin(place, OpenShape::Table { entries: Vec::new(), key: None })
            }
            Event::SequenceEnd | Event::MappingEnd => self.end(place.end),
            Event::Alias(_) | Event::UnresolvedAlias(_) => {
                self.refuse(
                    place.clone(),
                    "an alias (`*`) is not taken in a scenario",
                    "write the value out",
                );
                self.add(Node { span: place, shape: Shape::Refused })
            }
            _ => Some(()),
        }
    }

    fn refuse(&mut self, span: Range<usize>, what: &str, help: &str) {
        self.notes
            .push(Note::error(codes::YAML_FEATURE, span, what.to_owned()).helped(Some(help.to_owned())));
    }

    fn refuse_extras(&mut self, span: &Range<usize>, anchor: usize, tag: bool) {
        if anchor > 0 {
            self.refuse(span.clone(), "an anchor (`&`) is not taken in a scenario", "leave it out");
        }
        if tag {
            self.refuse(span.clone(), "a tag (`!`) is not taken in a scenario", "leave it out");
        }
    }

    fn begin(&mut self, span: Range<usize>, shape: OpenShape) -> Option<()> {
        if let Some(Open { shape: OpenShape::Table { key: None, .. }, .. }) = self.open.last() {
            self.refuse(span, "a key has to be a word", "put `key: value` on each line");
            return None;
        }
        if self.open.len() == DEEPEST {
            self.refuse(span, "the nesting is too deep", "no part of a scenario is nested so deeply");
            return None;
        }
        self.open.push(Open { start: span.start, shape });
        Some(())
    }

    fn end(&mut self, end: usize) -> Option<()> {
        let open = self.open.pop()?;
        let (shape, last) = match open.shape {
            OpenShape::List(items) => {
                let last = items.last().map(|item| item.span.end);
                (Shape::List(items), last)
            }
            OpenShape::Table { entries, .. } => {
                let last = entries.last().map(|entry| entry.value.span.end.max(entry.span.end));
                (Shape::Table(entries), last)
            }
        };
        // A block ends, for the parser, where the next one begins: its last value ends it for the reader.
        let end = last.unwrap_or(end).max(open.start);
        self.add(Node { span: open.start..end, shape })
    }

    fn add(&mut self, node: Node) -> Option<()> {
        match self.open.last_mut().map(|open| &mut open.shape) {
            None => self.root = Some(node),
            Some(OpenShape::List(items)) => items.push(node),
            Some(OpenShape::Table { entries, key }) => match key.take() {
                Some((key, span)) => entries.push(Entry { key, span, value: node }),
                None => return self.add_key(node),
            },
        }
        Some(())
    }

    fn add_key(&mut self, node: Node) -> Option<()> {
        let Shape::Text(text) = node.shape else { return None };
        let Some(text) = text else {
            self.refuse(node.span, "a key has to be a word", "put `key: value` on each line");
            return None;
        };
        if let Some(Open { shape: OpenShape::Table { entries, key }, .. }) = self.open.last_mut() {
            if entries.iter().any(|entry| entry.key == text) {
                self.notes.push(
                    Note::error(
                        codes::KEY_TWICE,
                        node.span.clone(),
                        format!("the key `{text}` is given twice"),
                    )
                    .helped(Some("keep one of them".to_owned())),
                );
            }
            *key = Some((text, node.span));
        }
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tree(text: &str) -> (Option<Node>, Vec<&'static str>) {
        let mut notes = Vec::new();
        let root = read(text, &mut notes);
        (root, notes.iter().map(|note| note.code).collect())
    }

    fn entry<'a>(node: &'a Node, key: &str) -> &'a Entry {
        match &node.shape {
            Shape::Table(entries) => entries.iter().find(|entry| entry.key == key).expect("the key is there"),
            other => panic!("{} has no keys", other.name()),
        }
    }

    #[test]
    fn values_keep_their_own_text() {
        let text = "a: on\nb: 012\nc: 1e3\nd: ~\ne:\nf: \"07:00\"\ng: 10:30\n";
        let (root, faults) = tree(text);
        let root = root.expect("a tree");
        assert!(faults.is_empty());
        for (key, expected) in [
            ("a", Some("on")),
            ("b", Some("012")),
            ("c", Some("1e3")),
            ("d", Some("~")),
            ("e", None),
            ("f", Some("07:00")),
            ("g", Some("10:30")),
        ] {
            assert_eq!(entry(&root, key).value.shape, Shape::Text(expected.map(str::to_owned)), "{key}");
        }
    }

    #[test]
    fn every_value_knows_its_bytes() {
        let text = "größe: 3 m\nliste:\n  - {a: 1, b: [2, 3]}\nnext: x\n";
        let (root, _) = tree(text);
        let root = root.expect("a tree");
        let slice = |span: &Range<usize>| &text[span.clone()];
        assert_eq!(slice(&entry(&root, "größe").span), "größe");
        assert_eq!(slice(&entry(&root, "größe").value.span), "3 m");
        let Shape::List(items) = &entry(&root, "liste").value.shape else { panic!("a list") };
        assert_eq!(slice(&entry(&items[0], "b").value.span), "[2, 3");
        assert_eq!(slice(&entry(&root, "next").value.span), "x");
    }

    #[test]
    fn what_is_not_taken_is_refused() {
        for (text, code) in [
            ("a: *b\n", codes::YAML_FEATURE),
            ("a: &b 1\nc: *b\n", codes::YAML_FEATURE),
            ("a: !!str 1\n", codes::YAML_FEATURE),
            ("a: 1\n---\nb: 2\n", codes::YAML_FEATURE),
            ("[a]: 1\n", codes::YAML_FEATURE),
            ("a: 1\na: 2\n", codes::KEY_TWICE),
            ("a: [1\n", codes::NOT_YAML),
            ("a:\n\tb: 1\n", codes::NOT_YAML),
        ] {
            assert_eq!(tree(text).1.first(), Some(&code), "{text}");
        }
    }

    #[test]
    fn nesting_is_limited() {
        let nested = |depth: usize| format!("{}{}", "[".repeat(depth), "]".repeat(depth));
        assert!(tree(&nested(DEEPEST)).0.is_some());
        assert_eq!(tree(&nested(DEEPEST + 1)), (None, vec![codes::YAML_FEATURE]));
        assert_eq!(tree(&nested(100_000)).0, None);
    }
}

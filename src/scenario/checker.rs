//! Takes values out of the tree one by one, notes every fault and every default, and never stops.
//!
//! Where a value is missing or cannot be read, the reader goes on with the lower limit of its range so that
//! the rest is checked too. Such a value never leaves this module's callers: with a fault there is no household.

mod days;

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::choices::Variable;
use super::codes;
use super::fault::Note;
use super::keys::{
    Absent, COLD_ROOM, FORMER_KEYS, FormerKey, GROUND, HOURS, Key, MONTHS, OTHER_NAMES, OUTDOORS, SCENARIO,
    Takes, quoted, si_of,
};
use super::tree::{Entry, Node, Shape};
use crate::household::{DefaultUsed, UnitSystem};
use crate::room::Crop;
use crate::units::{Kind, Reading, Unit};

/// A suggestion is made for one slip in every so many letters.
const LETTERS_A_SLIP: usize = 3;

/// A table of the scenario, or one that was left out.
#[derive(Debug, Clone)]
pub struct Section<'a> {
    /// Its path, for example `room.doors[1]`.
    pub path: String,
    keys: &'static [Key],
    entries: &'a [Entry],
    /// Where a missing key is reported.
    span: Range<usize>,
    /// Faults inside it are already reported as one: nothing more is said.
    silent: bool,
}

impl Section<'_> {
    fn key(&self, name: &str) -> &'static Key {
        self.keys
            .iter()
            .find(|key| key.name == name)
            .expect("the reader asks for keys of the table only: tests read every one of them")
    }

    /// Whether the key stands there.
    pub fn has(&self, name: &str) -> bool {
        self.entries.iter().any(|entry| entry.key == name)
    }

    /// The path of one of its keys.
    pub fn path_of(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) }
    }
}

/// A place beyond a surface, door, leak or the tank's insulation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Outdoor air.
    Outdoors,
    /// The ground.
    Ground,
    /// The cold room.
    ColdRoom,
    /// A space by its position.
    Space(usize),
}

enum Found<'a> {
    /// A value of the right shape.
    Given(&'a Node),
    /// Left out.
    Absent,
    /// A fault about it is already noted.
    Bad,
}

/// The walk through a scenario.
#[derive(Debug, Default)]
pub struct Checker {
    /// Faults so far.
    pub notes: Vec<Note>,
    /// Defaults used so far.
    pub defaults: Vec<DefaultUsed>,
    /// Names of the neighbour spaces, in order.
    pub spaces: Vec<String>,
    /// Units of the report, and of the limits in messages.
    pub units: UnitSystem,
    places: BTreeMap<String, Range<usize>>,
    headers: BTreeMap<String, Range<usize>>,
    tainted: BTreeSet<String>,
}

impl Checker {
    /// Checks keys and shapes of the whole tree and opens its outermost table.
    pub fn open<'a>(&mut self, root: &'a Node) -> Section<'a> {
        let entries = table_entries(root);
        self.units = units_of(entries);
        self.walk_table(root, SCENARIO, "");
        Section {
            path: String::new(),
            keys: SCENARIO,
            entries,
            span: 0..0,
            silent: !matches!(root.shape, Shape::Table(_)),
        }
    }

    /// Whether a fault about this key, or about a part it belongs to, is already noted.
    pub fn is_tainted(&self, path: &str) -> bool {
        self.tainted.iter().any(|bad| {
            path.strip_prefix(bad.as_str())
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        })
    }

    /// Whether a fault is already noted about a key whose path begins so.
    pub fn has_fault_within(&self, path: &str) -> bool {
        self.tainted.iter().any(|bad| bad.starts_with(path))
    }

    /// The place of a key's value, or of the part that it would belong to.
    pub fn place(&self, path: &str) -> Range<usize> {
        let mut path = path;
        if let Some(span) = self.places.get(path) {
            return span.clone();
        }
        while let Some(cut) = path.rfind(['.', '[']) {
            path = &path[..cut];
            if let Some(span) = self.headers.get(path).or_else(|| self.places.get(path)) {
                return span.clone();
            }
        }
        0..0
    }

    /// Notes an error about a key.
    pub fn fault(
        &mut self,
        path: &str,
        code: &'static str,
        what: String,
        allowed: Option<String>,
        help: Option<String>,
    ) {
        let span = self.place(path);
        self.tainted.insert(path.to_owned());
        self.notes.push(Note::error(code, span, what).allowed(allowed).helped(help));
    }

    /// Notes a value that was assumed.
    pub fn assume(&mut self, path: String, value: String, reason: &str) {
        self.defaults.push(DefaultUsed { key: path, value, reason: reason.to_owned() });
    }

    // Shapes and keys, over the whole tree.

    /// Takes each misspelt key for the nearest key that its table lacks, and notes it: what stands under it is
    /// then checked with the rest.
    pub fn correct_keys(&mut self, root: &mut Node) {
        self.correct_table(root, SCENARIO, "");
    }

    fn correct_table(&mut self, node: &mut Node, keys: &'static [Key], path: &str) {
        let Shape::Table(entries) = &mut node.shape else { return };
        for index in 0..entries.len() {
            let known = |name: &str| keys.iter().find(|key| key.name == name);
            if self.take_former_key(entries, index, path) {
                // It is checked with the rest, under its name of today.
            } else if known(&entries[index].key).is_none() {
                let near = nearest(&entries[index].key, keys.iter().map(|key| key.name));
                let Some(near) = near.filter(|near| entries.iter().all(|entry| entry.key != *near)) else {
                    continue;
                };
                self.unknown_key(&entries[index], keys, path);
                entries[index].key = near.to_owned();
            }
            let Entry { key, value, .. } = &mut entries[index];
            if let Some(known) = known(key) {
                self.correct_value(value, &known.takes, &join(path, key));
            }
        }
    }

    /// Takes a key of a former version for the list it has become, and notes it.
    fn take_former_key(&mut self, entries: &mut [Entry], index: usize, path: &str) -> bool {
        let is = |former: &&FormerKey| former.table == path && former.name == entries[index].key;
        let Some(former) = FORMER_KEYS.iter().find(is) else { return false };
        if entries.iter().any(|entry| entry.key == former.now) {
            return false;
        }
        let entry = &mut entries[index];
        let what = format!("`{}` is no longer a key of `{path}`", entry.key);
        let note = Note::error(codes::UNKNOWN_KEY, entry.span.clone(), what);
        self.notes
            .push(note.allowed(Some(quoted([former.now].into_iter()))).helped(Some(former.help.to_owned())));
        entry.key = former.now.to_owned();
        if let Shape::Table(_) = entry.value.shape {
            let item = entry.value.clone();
            entry.value.shape = Shape::List(vec![item]);
        }
        true
    }

    fn correct_value(&mut self, node: &mut Node, takes: &'static Takes, path: &str) {
        match (takes, &mut node.shape) {
            (Takes::Table(keys), _) => self.correct_table(node, keys, path),
            (Takes::List(keys), Shape::List(items)) => {
                for (index, item) in items.iter_mut().enumerate() {
                    self.correct_table(item, keys, &format!("{path}[{}]", index + 1));
                }
            }
            (Takes::Named(keys), Shape::Table(entries)) => {
                for entry in entries {
                    self.correct_table(&mut entry.value, keys, &join(path, &entry.key));
                }
            }
            _ => {}
        }
    }

    fn walk_table(&mut self, node: &Node, keys: &'static [Key], path: &str) {
        if node.shape == Shape::Refused {
            self.tainted.insert(path.to_owned());
            return;
        }
        let Shape::Table(entries) = &node.shape else {
            let name = if path.is_empty() { "the scenario".to_owned() } else { format!("`{path}`") };
            return self.wrong_shape(
                path,
                &node.span,
                format!("{name} is {}", node.shape.name()),
                keys_of(keys),
            );
        };
        for entry in entries {
            let inner = join(path, &entry.key);
            match keys.iter().find(|key| key.name == entry.key) {
                Some(key) => {
                    self.remember(&inner, entry);
                    self.walk_value(&entry.value, &key.takes, &inner);
                }
                None => self.unknown_key(entry, keys, path),
            }
        }
    }

    /// Remembers the first of equal keys: the reader takes that one.
    fn remember(&mut self, path: &str, entry: &Entry) {
        self.places.entry(path.to_owned()).or_insert_with(|| {
            if entry.value.span.is_empty() { entry.span.clone() } else { entry.value.span.clone() }
        });
        self.headers.entry(path.to_owned()).or_insert_with(|| entry.span.clone());
    }

    fn unknown_key(&mut self, entry: &Entry, keys: &'static [Key], path: &str) {
        let near = nearest(&entry.key, keys.iter().map(|key| key.name));
        let what = match path {
            "" => format!("`{}` is not a key of a scenario", entry.key),
            _ => format!("`{}` is not a key of `{path}`", entry.key),
        };
        let note = Note::error(codes::UNKNOWN_KEY, entry.span.clone(), what);
        self.notes.push(
            note.allowed(Some(keys_of(keys))).helped(near.map(|near| format!("did you mean `{near}`?"))),
        );
    }

    fn wrong_shape(&mut self, path: &str, span: &Range<usize>, what: String, allowed: String) {
        let span = if span.is_empty() { self.place(path) } else { span.clone() };
        self.tainted.insert(path.to_owned());
        self.notes.push(Note::error(codes::SHAPE, span, what).allowed(Some(allowed)));
    }

    fn walk_value(&mut self, node: &Node, takes: &'static Takes, path: &str) {
        let units = self.units;
        let allowed = || takes.words_in(units);
        match (takes, &node.shape) {
            (_, Shape::Refused) => {
                self.tainted.insert(path.to_owned());
            }
            (_, Shape::Text(None)) => {
                self.wrong_shape(path, &node.span, format!("`{path}` has no value"), allowed())
            }
            (Takes::Table(keys), _) => self.walk_table(node, keys, path),
            (Takes::Named(keys), Shape::Table(entries)) => self.walk_named(entries, keys, path),
            (Takes::List(keys), Shape::List(items)) => {
                for (index, item) in items.iter().enumerate() {
                    let inner = format!("{path}[{}]", index + 1);
                    self.headers.insert(inner.clone(), head(item));
                    self.walk_table(item, keys, &inner);
                }
            }
            (Takes::List(_), Shape::Table(_)) => self.table_for_list(node, path),
            (Takes::Named(_) | Takes::List(_), shape) => {
                self.wrong_shape(path, &node.span, format!("`{path}` is {}", shape.name()), allowed());
            }
            (Takes::Monthly(..) | Takes::Twelve(..), Shape::List(items)) => {
                self.walk_so_many(node, items, MONTHS.len(), "one value for each of the twelve months", path);
            }
            (Takes::Hours(..), Shape::List(items)) => {
                self.walk_so_many(node, items, HOURS, "one value for each of the 24 hours", path);
            }
            (Takes::Choices, Shape::Table(entries)) => self.walk_choices(entries, path),
            (Takes::Choices, shape) => {
                self.wrong_shape(path, &node.span, format!("`{path}` is {}", shape.name()), allowed());
            }
            (Takes::Months | Takes::Times | Takes::Weekdays, Shape::List(items)) => {
                self.walk_texts(items, path)
            }
            (Takes::Twelve(..) | Takes::Hours(..), shape)
            | (_, shape @ (Shape::List(_) | Shape::Table(_))) => {
                self.wrong_shape(path, &node.span, format!("`{path}` is {}", shape.name()), allowed());
            }
            (_, Shape::Text(Some(_))) => {}
        }
    }

    fn table_for_list(&mut self, node: &Node, path: &str) {
        self.tainted.insert(path.to_owned());
        let what = format!("`{path}` is {}", node.shape.name());
        let note =
            Note::error(codes::SHAPE, node.span.clone(), what).allowed(Some("a list of tables".to_owned()));
        self.notes.push(note.helped(Some("put `- ` before the first key of each item".to_owned())));
    }

    fn walk_named(&mut self, entries: &[Entry], keys: &'static [Key], path: &str) {
        for entry in entries {
            let inner = join(path, &entry.key);
            self.remember(&inner, entry);
            if [OUTDOORS, GROUND, COLD_ROOM].contains(&entry.key.as_str()) {
                let span = entry.span.clone();
                let what = format!("`{}` has a meaning of its own and cannot name a space", entry.key);
                self.notes.push(
                    Note::error(codes::UNKNOWN_WORD, span, what)
                        .helped(Some("choose another name".to_owned())),
                );
            }
            self.walk_table(&entry.value, keys, &inner);
        }
    }

    fn walk_so_many(&mut self, node: &Node, items: &[Node], count: usize, allowed: &str, path: &str) {
        if items.len() == count {
            return self.walk_texts(items, path);
        }
        let what = format!("`{path}` has {} value{}", items.len(), if items.len() == 1 { "" } else { "s" });
        self.wrong_shape(path, &node.span, what, allowed.to_owned());
    }

    fn walk_texts(&mut self, items: &[Node], path: &str) {
        for item in items {
            if !matches!(item.shape, Shape::Text(Some(_))) {
                let what = format!("`{path}` has {} in its list", item.shape.name());
                self.wrong_shape(path, &item.span, what, "single values".to_owned());
            }
        }
    }

    /// Each entry has to hold single values.
    fn walk_choices(&mut self, entries: &[Entry], path: &str) {
        for entry in entries {
            let inner = format!("{path}.{}", entry.key);
            self.remember(&inner, entry);
            match &entry.value.shape {
                Shape::List(items) => self.walk_texts(items, &inner),
                Shape::Text(Some(_)) => {}
                shape => {
                    let what = format!("`{inner}` is {}", shape.name());
                    self.wrong_shape(
                        &inner,
                        &entry.value.span,
                        what,
                        "a list of values, or a range".to_owned(),
                    );
                }
            }
        }
    }

    // Values.

    fn find<'a>(&mut self, section: &Section<'a>, key: &'static Key) -> Found<'a> {
        let path = section.path_of(key.name);
        if section.silent || self.is_tainted(&path) {
            return Found::Bad;
        }
        match section.entries.iter().find(|entry| entry.key == key.name) {
            Some(entry) => Found::Given(&entry.value),
            None if matches!(key.absent, Absent::Needed) => {
                self.missing(section, key, &path);
                Found::Bad
            }
            None => Found::Absent,
        }
    }

    fn missing(&mut self, section: &Section<'_>, key: &'static Key, path: &str) {
        self.tainted.insert(path.to_owned());
        let note = Note::error(codes::MISSING, section.span.clone(), format!("`{path}` is missing"));
        let allowed = match key.takes {
            Takes::Table(keys) => format!("a table with {}", keys_of(keys)),
            _ => key.takes.words_in(self.units),
        };
        self.notes
            .push(note.allowed(Some(allowed)).helped(Some(format!("add `{}`: {}", key.name, key.meaning))));
    }

    /// Notes that a key is missing which is needed here though not everywhere.
    pub fn need(&mut self, section: &Section<'_>, name: &str) {
        if !section.silent && !self.is_tainted(&section.path_of(name)) {
            self.missing(section, section.key(name), &section.path_of(name));
        }
    }

    /// A table inside a table; one that was left out has all its keys left out.
    pub fn section<'a>(&mut self, parent: &Section<'a>, name: &str) -> Section<'a> {
        let key = parent.key(name);
        let path = parent.path_of(name);
        let found = self.find(parent, key);
        let (entries, silent): (&[Entry], bool) = match found {
            Found::Given(node) => (table_entries(node), false),
            Found::Absent => (&[], false),
            Found::Bad => (&[], true),
        };
        let span = self.headers.get(&path).cloned().unwrap_or_else(|| parent.span.clone());
        Section { path, keys: key.takes.keys(), entries, span, silent }
    }

    /// A table that may be left out as a whole.
    pub fn optional_section<'a>(&mut self, parent: &Section<'a>, name: &str) -> Option<Section<'a>> {
        parent.has(name).then(|| self.section(parent, name))
    }

    /// The tables of a list.
    pub fn list<'a>(&mut self, parent: &Section<'a>, name: &str) -> Vec<Section<'a>> {
        let key = parent.key(name);
        let path = parent.path_of(name);
        let Found::Given(node) = self.find(parent, key) else { return Vec::new() };
        let Shape::List(items) = &node.shape else { return Vec::new() };
        let item = |(index, item): (usize, &'a Node)| {
            let path = format!("{path}[{}]", index + 1);
            let silent = self.is_tainted(&path);
            Section { path, keys: key.takes.keys(), entries: table_entries(item), span: head(item), silent }
        };
        items.iter().enumerate().map(item).collect()
    }

    /// The named tables of a table, in the order of the file.
    pub fn named<'a>(&mut self, parent: &Section<'a>, name: &str) -> Vec<(String, Section<'a>)> {
        let key = parent.key(name);
        let path = parent.path_of(name);
        let Found::Given(node) = self.find(parent, key) else { return Vec::new() };
        let section = |entry: &'a Entry| {
            let path = join(&path, &entry.key);
            let silent = self.is_tainted(&path);
            let section = Section {
                path,
                keys: key.takes.keys(),
                entries: table_entries(&entry.value),
                span: entry.span.clone(),
                silent,
            };
            (entry.key.clone(), section)
        };
        table_entries(node).iter().map(section).collect()
    }

    /// A quantity that is needed or has a default, in SI.
    pub fn value(&mut self, section: &Section<'_>, name: &str) -> f64 {
        let (kind, low, _) = limits(section.key(name));
        match self.optional(section, name) {
            Some(si) => si,
            None => self.default_of(section, name).map_or(si_of(kind, low), |text| si_of(kind, text)),
        }
    }

    /// A quantity that may be left out, in SI.
    pub fn optional(&mut self, section: &Section<'_>, name: &str) -> Option<f64> {
        let key = section.key(name);
        let (kind, low, high) = limits(key);
        match self.find(section, key) {
            Found::Given(node) => {
                let path = section.path_of(name);
                Some(self.quantity(&path, node, kind, low, high).unwrap_or_else(|| si_of(kind, low)))
            }
            Found::Absent => None,
            Found::Bad => matches!(key.absent, Absent::Otherwise(_))
                .then(|| si_of(kind, low))
                .filter(|_| section.has(name)),
        }
    }

    /// The default of a key that was left out, noted as used.
    fn default_of(&mut self, section: &Section<'_>, name: &str) -> Option<&'static str> {
        let Absent::Default(value, reason) = section.key(name).absent else { return None };
        if !section.silent && !section.has(name) {
            self.assume(section.path_of(name), value.to_owned(), reason);
        }
        Some(value)
    }

    /// A quantity, or as many as its key takes.
    pub fn quantities(&mut self, section: &Section<'_>, name: &str) -> Vec<f64> {
        let key = section.key(name);
        let (kind, low, high) = limits(key);
        let path = section.path_of(name);
        let placeholder = si_of(kind, low);
        match self.find(section, key) {
            Found::Given(Node { shape: Shape::List(items), .. }) => items
                .iter()
                .map(|item| self.quantity(&path, item, kind, low, high).unwrap_or(placeholder))
                .collect(),
            Found::Given(node) => vec![self.quantity(&path, node, kind, low, high).unwrap_or(placeholder)],
            Found::Absent | Found::Bad => {
                vec![self.default_of(section, name).map_or(placeholder, |text| si_of(kind, text))]
            }
        }
    }

    fn quantity(
        &mut self,
        path: &str,
        node: &Node,
        kind: Kind,
        low: &'static str,
        high: &'static str,
    ) -> Option<f64> {
        let text = text_of(node);
        match kind.read(text) {
            Ok(reading) => {
                self.in_range(path, node, kind, &reading, (si_of(kind, low), si_of(kind, high)));
                Some(reading.si)
            }
            Err(error) => {
                self.tainted.insert(path.to_owned());
                let note = Note::error(codes::UNREADABLE, node.span.clone(), format!("`{path}`: {error}"));
                self.notes.push(note.allowed(error.allowed()).helped(error.help()));
                None
            }
        }
    }

    fn in_range(&mut self, path: &str, node: &Node, kind: Kind, reading: &Reading, (low, high): (f64, f64)) {
        let side = match reading.si {
            // Limits are written in one unit and values in another: leave out the last digits.
            si if si < low - 1e-9 * low.abs() => "below",
            si if si > high + 1e-9 * high.abs() => "above",
            _ => return,
        };
        self.tainted.insert(path.to_owned());
        let what = format!("`{path}` of `{}` is {side} the allowed range", text_of(node));
        let note = Note::error(codes::RANGE, node.span.clone(), what);
        let allowed = format!("{} to {}", reading.unit.write(low), reading.unit.write(high));
        self.notes.push(note.allowed(Some(allowed)).helped(other_unit(kind, reading, low, high)));
    }

    /// Keys left open with their values; what is no choice is noted and left out.
    pub fn choices(&mut self, section: &Section<'_>, name: &str) -> Vec<Variable> {
        let Found::Given(node) = self.find(section, section.key(name)) else { return Vec::new() };
        let mut variables = Vec::new();
        for entry in table_entries(node) {
            let path = format!("{name}.{}", entry.key);
            if self.is_tainted(&path) {
                continue;
            }
            let values: Vec<&str> = match &entry.value.shape {
                Shape::List(items) => items.iter().map(text_of).collect(),
                _ => vec![text_of(&entry.value)],
            };
            match Variable::read(&entry.key, &values) {
                Ok(variable) => variables.push(variable),
                Err(none) => self.fault(&path, codes::NO_CHOICE, none.what, none.allowed, None),
            }
        }
        variables
    }

    /// A plain number.
    pub fn number(&mut self, section: &Section<'_>, name: &str) -> Option<f64> {
        let key = section.key(name);
        let (low, high) = match key.takes {
            Takes::Number(low, high) => (low, high),
            Takes::Count(low, high) => (f64::from(low), f64::from(high)),
            _ => unreachable!("only keys that take numbers are asked for one"),
        };
        let path = section.path_of(name);
        let Found::Given(node) = self.find(section, key) else { return None };
        let text = text_of(node);
        let value = text.trim().parse::<f64>().ok().filter(|value| value.is_finite());
        let whole = !matches!(key.takes, Takes::Count(..)) || value.is_some_and(|value| value.fract() == 0.0);
        match value {
            Some(value) if whole && (low..=high).contains(&value) => Some(value),
            Some(_) if whole => {
                let what = format!("`{path}` of `{text}` is outside the allowed range");
                self.fault(&path, codes::RANGE, what, Some(format!("{low} to {high}")), None);
                Some(low)
            }
            _ => {
                let what = format!(
                    "`{path}`: `{text}` is not {}",
                    if whole { "a number" } else { "a whole number" }
                );
                self.fault(&path, codes::UNREADABLE, what, Some(key.takes.words_in(self.units)), None);
                Some(low)
            }
        }
    }

    /// Free text.
    pub fn text(&mut self, section: &Section<'_>, name: &str) -> String {
        match self.find(section, section.key(name)) {
            Found::Given(node) => {
                let text = text_of(node).trim().to_owned();
                if text.is_empty() {
                    let path = section.path_of(name);
                    self.fault(
                        &path,
                        codes::UNREADABLE,
                        format!("`{path}` is empty"),
                        Some("text".to_owned()),
                        None,
                    );
                }
                text
            }
            Found::Absent | Found::Bad => self.default_of(section, name).unwrap_or_default().to_owned(),
        }
    }

    /// One of the words of a key; `None` if it was left out and has no default.
    pub fn word(&mut self, section: &Section<'_>, name: &str) -> Option<&'static str> {
        let key = section.key(name);
        let Takes::Words(words) = key.takes else {
            unreachable!("only keys that take words are asked for one")
        };
        match self.find(section, key) {
            Found::Given(node) => Some(self.choose(section, name, text_of(node), words).unwrap_or(words[0])),
            Found::Absent => self.default_of(section, name),
            Found::Bad => Some(words[0]),
        }
    }

    fn choose(
        &mut self,
        section: &Section<'_>,
        name: &str,
        text: &str,
        words: &[&'static str],
    ) -> Option<&'static str> {
        let found = words.iter().copied().find(|word| word.eq_ignore_ascii_case(text.trim()));
        if found.is_none() {
            self.not_one_of(&section.path_of(name), text, words);
        }
        found
    }

    fn not_one_of(&mut self, path: &str, text: &str, words: &[&str]) {
        // Refrigerants that differ by a digit are other gases, not slips of the pen.
        let is_refrigerant =
            |word: &str| word.starts_with('R') && word[1..].starts_with(|next: char| next.is_ascii_digit());
        let guess = || nearest(text, words.iter().copied()).filter(|word| !is_refrigerant(word));
        let meant = other_name(text, words).or_else(guess);
        let near = meant.map(|near| format!("did you mean `{near}`?"));
        let allowed = quoted(words.iter().copied());
        self.fault(
            path,
            codes::UNKNOWN_WORD,
            format!("`{path}` of `{text}` is not known"),
            Some(allowed),
            near,
        );
    }

    /// How a probe is mounted, as its time constant in seconds.
    pub fn probe(&mut self, section: &Section<'_>, name: &str) -> f64 {
        let key = section.key(name);
        let Takes::Probe(words, low, high) = key.takes else {
            unreachable!("only probes are asked for a time constant")
        };
        let text = match self.find(section, key) {
            Found::Given(node) => match text_of(node) {
                text if text.starts_with(|sign: char| sign.is_ascii_digit()) => {
                    let seconds = self.quantity(&section.path_of(name), node, Kind::Time, low, high);
                    return seconds.unwrap_or_else(|| si_of(Kind::Time, low));
                }
                text => text,
            },
            Found::Absent | Found::Bad => self.default_of(section, name).unwrap_or(low),
        };
        let mounted = words.iter().find(|(word, _)| word.eq_ignore_ascii_case(text.trim()));
        match mounted {
            Some((_, time)) => si_of(Kind::Time, time),
            None => Kind::Time.read(text).map(|reading| reading.si).unwrap_or_else(|_| {
                let known: Vec<_> = words.iter().map(|(word, _)| *word).collect();
                let near = nearest(text, known.iter().copied()).map(|near| format!("did you mean `{near}`?"));
                let path = section.path_of(name);
                let what = format!("`{path}` of `{text}` is not known");
                self.fault(&path, codes::UNKNOWN_WORD, what, Some(key.takes.words_in(self.units)), near);
                si_of(Kind::Time, low)
            }),
        }
    }

    /// What lies beyond; `None` if it was left out.
    pub fn beyond(&mut self, section: &Section<'_>, name: &str) -> Option<Place> {
        let key = section.key(name);
        let Takes::Beyond(fixed) = key.takes else {
            unreachable!("only places are asked for what lies beyond")
        };
        let Found::Given(node) = self.find(section, key) else { return None };
        let text = text_of(node).trim();
        if let Some(index) = self.spaces.iter().position(|space| space == text) {
            return Some(Place::Space(index));
        }
        match fixed.iter().find(|place| place.eq_ignore_ascii_case(text)) {
            Some(&OUTDOORS) => Some(Place::Outdoors),
            Some(&GROUND) => Some(Place::Ground),
            Some(_) => Some(Place::ColdRoom),
            None => {
                let spaces = self.spaces.clone();
                let known: Vec<_> = fixed.iter().copied().chain(spaces.iter().map(String::as_str)).collect();
                let near = nearest(text, known.iter().copied());
                let help = match near {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("describe `{text}` under `spaces`, with its temperature"),
                };
                let path = section.path_of(name);
                let what = format!("`{path}` of `{text}` is not known");
                self.fault(&path, codes::UNKNOWN_WORD, what, Some(quoted(known.into_iter())), Some(help));
                None
            }
        }
    }

    /// The crop of a key.
    pub fn crop(&mut self, section: &Section<'_>, name: &str) -> Option<Crop> {
        let Found::Given(node) = self.find(section, section.key(name)) else { return None };
        let text = text_of(node).trim();
        let crop = Crop::by_name(text).or_else(|| Crop::by_name(&text.to_lowercase()));
        if crop.is_none() {
            let names = Crop::names();
            self.not_one_of(&section.path_of(name), text, &names);
        }
        crop
    }

    /// Which one of several keys is given. More than one is a fault; so is none where one is needed.
    pub fn one_of(
        &mut self,
        section: &Section<'_>,
        names: &[&'static str],
        needed: bool,
    ) -> Option<&'static str> {
        let given: Vec<_> = names.iter().copied().filter(|name| section.has(name)).collect();
        let all = quoted(names.iter().copied());
        if let [first, second, ..] = given[..] {
            let path = section.path_of(second);
            let what = format!("`{path}` is given beside `{}`", section.path_of(first));
            let span = self.headers.get(&path).cloned().unwrap_or_else(|| section.span.clone());
            self.tainted.insert(path);
            self.notes.push(
                Note::error(codes::ONE_OF, span, what)
                    .allowed(Some(format!("one of {all}")))
                    .helped(Some("keep one of them".to_owned())),
            );
        }
        if given.is_empty() && needed && !section.silent {
            self.tainted.extend(names.iter().map(|name| section.path_of(name)));
            let what = format!("`{}` has none of {}", section.path, all.replace(" or ", " and "));
            self.notes.push(
                Note::error(codes::ONE_OF, section.span.clone(), what).allowed(Some(format!("one of {all}"))),
            );
        }
        given.first().copied()
    }
}

fn join(path: &str, name: &str) -> String {
    if path.is_empty() { name.to_owned() } else { format!("{path}.{name}") }
}

fn keys_of(keys: &'static [Key]) -> String {
    quoted(keys.iter().map(|key| key.name))
}

/// The word of these that goes by another name.
fn other_name<'a>(text: &str, words: &[&'a str]) -> Option<&'a str> {
    let (_, word) = OTHER_NAMES.iter().find(|(name, _)| name.eq_ignore_ascii_case(text.trim()))?;
    words.iter().copied().find(|known| known == word)
}

/// The units that the scenario asks for; a word that is none is told when it is read.
fn units_of(entries: &[Entry]) -> UnitSystem {
    let us = |entry: &Entry| entry.key == "units" && text_of(&entry.value).trim().eq_ignore_ascii_case("us");
    if entries.iter().any(us) { UnitSystem::Us } else { UnitSystem::Metric }
}

fn table_entries(node: &Node) -> &[Entry] {
    match &node.shape {
        Shape::Table(entries) => entries,
        _ => &[],
    }
}

fn text_of(node: &Node) -> &str {
    match &node.shape {
        Shape::Text(Some(text)) => text,
        _ => "",
    }
}

/// Where a missing key of a list's item is reported: its first key.
fn head(item: &Node) -> Range<usize> {
    match &item.shape {
        Shape::Table(entries) if !entries.is_empty() => entries[0].span.clone(),
        _ => item.span.clone(),
    }
}

fn limits(key: &'static Key) -> (Kind, &'static str, &'static str) {
    match key.takes {
        Takes::Value(kind, low, high)
        | Takes::Monthly(kind, low, high)
        | Takes::Twelve(kind, low, high)
        | Takes::Hours(kind, low, high) => (kind, low, high),
        _ => unreachable!("only keys that take quantities are asked for one"),
    }
}

/// The unit with which the same number would lie in the range: the likely slip.
fn other_unit(kind: Kind, reading: &Reading, low: f64, high: f64) -> Option<String> {
    let number = reading.unit.value(reading.si);
    let fits = |unit: &&'static Unit| {
        let si = unit.si(number);
        !std::ptr::eq(*unit, reading.unit) && unit.symbol != "K" && low <= si && si <= high
    };
    let unit = kind.units().iter().find(fits)?;
    Some(format!("if {} is meant, write `{}`", unit.symbol, unit.write(unit.si(number))))
}

/// The known word nearest to a misspelt one; among equals the first in the alphabet; none if all are far off.
pub fn nearest<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.trim().to_lowercase();
    let letters = word.chars().count();
    // Two letters are no longer a misspelt word; from three on one slip is always forgiven.
    let allowed = if letters < LETTERS_A_SLIP { 0 } else { ((letters - 1) / LETTERS_A_SLIP).max(1) };
    known
        .map(|other| (strsim::damerau_levenshtein(&word, &other.to_lowercase()), other))
        .filter(|(distance, _)| *distance <= allowed)
        .min()
        .map(|(_, other)| other)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_words_are_suggested_and_far_ones_are_not() {
        let known = ["height", "width", "length"];
        assert_eq!(nearest("lenght", known.into_iter()), Some("length"));
        assert_eq!(nearest("Hight", known.into_iter()), Some("height"));
        assert_eq!(nearest("colour", known.into_iter()), None);
        assert_eq!(nearest("colour", ["cooler"].into_iter()), None);
        assert_eq!(nearest("abc", ["abd", "abb"].into_iter()), Some("abb"));
        assert_eq!(nearest("m", ["w"].into_iter()), None);
    }

    #[test]
    fn taint_covers_what_belongs_to_a_part_and_nothing_else() {
        let mut checker = Checker::default();
        checker.tainted.insert("room.doors".to_owned());
        assert!(checker.is_tainted("room.doors"));
        assert!(checker.is_tainted("room.doors[2].width"));
        assert!(!checker.is_tainted("room.doorstep"));
        assert!(!checker.is_tainted("room"));
    }
}

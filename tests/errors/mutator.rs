//! Whole scenarios broken in many places at once: every broken place is told in one run, at its line and column.
//!
//! Shipped scenarios are read into a tree, which is written anew with slips at chosen places; where each slip
//! comes to stand is known from the writing, not from the reader under test.

use std::collections::{BTreeMap, BTreeSet};

use larderloop::diagnostic::{Severity, line_and_column};
use larderloop::scenario::keys::{Absent, HOURS, Key, SCENARIO, Takes};
use larderloop::units::Kind;
use proptest::prelude::*;
use proptest::sample::Index;
use serde_json::{Map, Value};

use super::{CELLAR, cellar_with, examine, render_all};

const SCENARIOS: [&str; 6] = [
    CELLAR,
    include_str!("../../scenarios/basement-chicago.yaml"),
    include_str!("../../scenarios/couple-no-dump.yaml"),
    include_str!("../../scenarios/grower-po-plain.yaml"),
    include_str!("../../fuzz/corpus/scenario/machine.yaml"),
    include_str!("../../fuzz/corpus/scenario/machine-clock.yaml"),
];

/// What can be done wrong at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Slip {
    /// A unit of another kind of quantity.
    OtherUnit,
    /// A number without its unit; for a share, a percentage without its sign.
    Bare,
    /// A decimal comma.
    Comma,
    /// Far above the range.
    Above,
    /// Far below the range.
    Below,
    /// A word that is not known.
    OtherWord,
    /// A word where a number belongs.
    NoNumber,
    /// Nothing after the key.
    NoValue,
    /// A list or a single value where a single value or a table belongs.
    OtherShape,
    /// One month or hour too few.
    OneShort,
    /// One bad month or hour among all.
    BadMonth,
    /// The key with a letter too many.
    Misspelt,
    /// Another key after this one, of which nobody has heard.
    Stray,
    /// The key twice.
    Twice,
    /// The key left out though it is needed.
    LeftOut,
}

use Slip::*;

/// Slips that are possible at a key with this value.
fn slips(key: &Key, value: &Value) -> Vec<Slip> {
    let list = value.is_array();
    let mut slips = match key.takes {
        Takes::Value(..) => vec![OtherUnit, Bare, Comma, Above, Below, NoValue, OtherShape],
        Takes::Monthly(..) | Takes::Twelve(..) if list => vec![OneShort, BadMonth, NoValue],
        Takes::Monthly(..) => vec![OtherUnit, Bare, Comma, Above, Below, NoValue, OtherShape],
        Takes::Hours(..) if list => vec![OneShort, BadMonth, NoValue],
        Takes::Twelve(..) | Takes::Hours(..) => vec![NoValue],
        Takes::Number(..) | Takes::Count(..) => vec![Above, Below, NoNumber, NoValue, OtherShape],
        Takes::Words(_) | Takes::Beyond(_) | Takes::Crop => vec![OtherWord, NoValue, OtherShape],
        Takes::Probe(..) => vec![OtherUnit, Bare, Comma, Above, OtherWord, NoValue, OtherShape],
        Takes::Months if list => vec![BadMonth, NoValue],
        Takes::Weekdays if list => vec![BadMonth, NoValue],
        Takes::Months | Takes::Weekdays => vec![OtherWord, NoValue],
        Takes::Times if list => vec![NoValue],
        Takes::Times => vec![Bare, NoValue],
        Takes::Date => vec![Bare, NoValue, OtherShape],
        Takes::Text | Takes::Named(_) | Takes::List(_) | Takes::Choices => vec![NoValue],
        Takes::Table(_) => vec![OtherShape],
    };
    slips.extend([Misspelt, Stray, Twice]);
    if matches!(key.absent, Absent::Needed) {
        slips.push(LeftOut);
    }
    slips
}

/// What is written instead of a single value, and the code of that fault.
fn wrong(slip: Slip, takes: &Takes) -> (String, &'static str) {
    let (kind, limit) = match *takes {
        Takes::Value(kind, low, _) | Takes::Monthly(kind, low, _) => (kind, low),
        Takes::Probe(_, low, _) => (Kind::Time, low),
        _ => (Kind::Share, ""),
    };
    let unit = limit.trim_start_matches(|sign: char| sign.is_ascii_digit() || "-.".contains(sign));
    match (slip, kind) {
        (OtherUnit, _) => ("5 kWh".to_owned(), "S107"),
        (Bare, Kind::Share) => ("30".to_owned(), "S107"),
        (Bare, _) => ("4".to_owned(), "S107"),
        (Comma, _) => (format!("2,5{unit}"), "S107"),
        (Above, Kind::Clock) => ("25:00".to_owned(), "S107"),
        (Below, Kind::Clock) => ("-1:00".to_owned(), "S107"),
        (Above, _) => (format!("999999999{unit}"), "S108"),
        (Below, _) => (format!("-999999999{unit}"), "S108"),
        (OtherWord, _) => ("nowhere near".to_owned(), "S109"),
        (NoNumber, _) => ("three".to_owned(), "S107"),
        (OtherShape, _) => ("[4 K, 5 K]".to_owned(), "S105"),
        (other, _) => panic!("{other:?} is no slip of a single value"),
    }
}

static NO_SLIPS: BTreeMap<String, Slip> = BTreeMap::new();

/// A place of a scenario.
struct Place {
    path: String,
    slips: Vec<Slip>,
}

/// All keys of a table that are given, and of the tables in it.
fn places(table: &Map<String, Value>, keys: &'static [Key], path: &str, all: &mut Vec<Place>) {
    for (name, value) in table {
        let key = keys.iter().find(|key| key.name == name).expect("the scenario has no fault");
        let path = join(path, name);
        all.push(Place { path: path.clone(), slips: slips(key, value) });
        match (&key.takes, value) {
            (Takes::Table(keys), Value::Object(table)) => places(table, keys, &path, all),
            (Takes::Named(keys), Value::Object(tables)) => {
                for (name, table) in tables {
                    places(as_table(table), keys, &join(&path, name), all);
                }
            }
            (Takes::List(keys), Value::Array(tables)) => {
                for (index, table) in tables.iter().enumerate() {
                    places(as_table(table), keys, &format!("{path}[{}]", index + 1), all);
                }
            }
            _ => {}
        }
    }
}

fn join(path: &str, name: &str) -> String {
    if path.is_empty() { name.to_owned() } else { format!("{path}.{name}") }
}

fn as_table(value: &Value) -> &Map<String, Value> {
    value.as_object().expect("a table stands there")
}

/// A fault that has to be told.
#[derive(Debug)]
struct Told {
    code: &'static str,
    byte: usize,
    /// The key that has to be named: of several that are left out all are told at one place.
    names: Option<String>,
    why: String,
}

/// Writes a scenario with slips.
struct Writer<'a> {
    text: String,
    slips: &'a BTreeMap<String, Slip>,
    told: Vec<Told>,
    /// Whether tables in lists are written in braces, on one line.
    braces: bool,
    strays: usize,
}

/// Where entries of a table go: each on a line with this indent, or within braces.
#[derive(Clone, Copy)]
enum Layout {
    Lines(usize),
    Braces,
}

impl<'a> Writer<'a> {
    fn write(
        scenario: &Map<String, Value>,
        slips: &'a BTreeMap<String, Slip>,
        braces: bool,
    ) -> (String, Vec<Told>) {
        let mut writer = Writer { text: String::new(), slips, told: Vec::new(), braces, strays: 0 };
        writer.table(scenario, SCENARIO, "", Layout::Lines(0), Some(0));
        (writer.text, writer.told)
    }

    fn tell(&mut self, code: &'static str, byte: usize, path: &str, slip: Slip) {
        let names = (slip == LeftOut).then(|| path.to_owned());
        self.told.push(Told { code, byte, names, why: format!("{slip:?} at {path}") });
    }

    /// Entries of a table. What is left out is told at `head`, or at the table's first key if there is none.
    fn table(
        &mut self,
        table: &Map<String, Value>,
        keys: &'static [Key],
        path: &str,
        layout: Layout,
        head: Option<usize>,
    ) {
        let slip_of = |name: &str| self.slips.get(&join(path, name)).copied();
        let (out, kept): (Vec<_>, Vec<_>) =
            table.iter().partition(|(name, _)| slip_of(name) == Some(LeftOut));
        let braces = matches!(layout, Layout::Braces) || kept.is_empty();
        if braces {
            self.text.push_str(" {");
        }
        let first = self.text.len() - usize::from(kept.is_empty());
        for (index, (name, value)) in kept.into_iter().enumerate() {
            let key = keys.iter().find(|key| key.name == name).expect("the scenario has no fault");
            let path = join(path, name);
            let slip = self.slips.get(&path).copied();
            // The first entry of a list's item follows its dash.
            let begin = if index > 0 || head.is_some() { Begin::Next(index > 0) } else { Begin::Here };
            self.entry(key, value, &path, slip, layout, begin);
            match slip {
                Some(Twice) => {
                    // Of the second one nothing is read: it has no slips of its own.
                    let slips = std::mem::replace(&mut self.slips, &NO_SLIPS);
                    let byte = self.entry(key, value, &path, None, layout, Begin::Next(true));
                    self.slips = slips;
                    self.tell("S103", byte, &path, Twice);
                }
                Some(Stray) => {
                    self.begin(layout, Begin::Next(true));
                    self.tell("S104", self.text.len(), &path, Stray);
                    self.strays += 1;
                    self.text.push_str(&format!("jukebox{}: 4 K", self.strays));
                }
                _ => {}
            }
        }
        if braces {
            self.text.push('}');
        }
        for (name, _) in out {
            self.tell("S106", head.unwrap_or(first), &join(path, name), LeftOut);
        }
    }

    fn begin(&mut self, layout: Layout, begin: Begin) {
        match (layout, begin) {
            (_, Begin::Here) | (Layout::Braces, Begin::Next(false)) => {}
            (Layout::Braces, Begin::Next(true)) => self.text.push_str(", "),
            (Layout::Lines(indent), Begin::Next(_)) => {
                if !self.text.is_empty() {
                    self.text.push('\n');
                }
                self.text.push_str(&" ".repeat(indent));
            }
        }
    }

    /// One entry; where its key begins.
    fn entry(
        &mut self,
        key: &'static Key,
        value: &Value,
        path: &str,
        slip: Option<Slip>,
        layout: Layout,
        begin: Begin,
    ) -> usize {
        self.begin(layout, begin);
        let byte = self.text.len();
        self.text.push_str(key.name);
        if slip == Some(Misspelt) {
            self.text.push('x');
            self.tell("S104", byte, path, Misspelt);
        }
        self.text.push(':');
        match slip {
            Some(NoValue) => self.tell("S105", byte, path, NoValue),
            Some(OtherShape) if matches!(key.takes, Takes::Table(_)) => {
                self.text.push(' ');
                self.tell("S105", self.text.len(), path, OtherShape);
                self.text.push_str("4 K");
            }
            Some(slip @ (OneShort | BadMonth)) => self.months(value, path, slip),
            None | Some(Misspelt | Stray | Twice) => self.value(&key.takes, value, path, layout, byte),
            Some(slip) => {
                self.text.push(' ');
                let (text, code) = wrong(slip, &key.takes);
                self.tell(code, self.text.len(), path, slip);
                self.text.push_str(&text);
            }
        }
        byte
    }

    fn months(&mut self, value: &Value, path: &str, slip: Slip) {
        let mut items: Vec<_> = value.as_array().expect("a list of months").iter().map(scalar).collect();
        self.text.push_str(" [");
        if slip == OneShort {
            self.tell("S105", self.text.len() - 1, path, slip);
            items.pop();
        } else {
            // Twelve quantities are read as such, a list of names is looked up.
            let quantities = items[0].starts_with(|sign: char| sign.is_ascii_digit() || sign == '-');
            let code = if quantities { "S107" } else { "S109" };
            let middle = items.len() / 2;
            items[middle] = if quantities { "30" } else { "Brumaire" }.to_owned();
            let before: usize = items[..middle].iter().map(|item| item.len() + 2).sum();
            self.tell(code, self.text.len() + before, path, slip);
        }
        self.text.push_str(&items.join(", "));
        self.text.push(']');
    }

    fn value(&mut self, takes: &'static Takes, value: &Value, path: &str, layout: Layout, head: usize) {
        let deeper = match layout {
            Layout::Lines(indent) => Layout::Lines(indent + 2),
            Layout::Braces => Layout::Braces,
        };
        match (takes, value) {
            (Takes::Table(keys), Value::Object(table)) => self.table(table, keys, path, deeper, Some(head)),
            (Takes::Named(keys), Value::Object(tables)) => {
                for (name, table) in tables {
                    self.begin(deeper, Begin::Next(true));
                    let head = self.text.len();
                    self.text.push_str(&format!("{name}:"));
                    let inner = Layout::Lines(6);
                    self.table(as_table(table), keys, &join(path, name), inner, Some(head));
                }
            }
            (Takes::List(keys), Value::Array(tables)) => {
                for (index, table) in tables.iter().enumerate() {
                    self.begin(deeper, Begin::Next(true));
                    let path = format!("{path}[{}]", index + 1);
                    let inner = match deeper {
                        Layout::Lines(indent) if !self.braces => Layout::Lines(indent + 2),
                        _ => Layout::Braces,
                    };
                    self.text.push_str(if self.braces { "-" } else { "- " });
                    self.table(as_table(table), keys, &path, inner, None);
                }
            }
            (_, Value::Array(items)) => {
                let items: Vec<_> = items.iter().map(scalar).collect();
                self.text.push_str(&format!(" [{}]", items.join(", ")));
            }
            (_, value) => {
                let text = scalar(value);
                self.text.push_str(&format!(" {text}"));
            }
        }
    }
}

/// Where an entry begins: after the dash of a list, or on its own, after another one or not.
#[derive(Clone, Copy)]
enum Begin {
    Here,
    Next(bool),
}

fn scalar(value: &Value) -> String {
    match value {
        Value::String(text) if text.contains([':', ',', '#', '\'', '"', '{', '[']) => format!("\"{text}\""),
        Value::String(text) => text.clone(),
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        other => other.to_string(),
    }
}

fn read(scenario: &str) -> Map<String, Value> {
    let value: Value = serde_saphyr::from_str(scenario).expect("the shipped scenario is YAML");
    as_table(&value).clone()
}

/// Slips at some of the places, one at each.
fn chosen(all: &[Place], picks: &[(Index, Index)]) -> BTreeMap<String, Slip> {
    let mut slips = BTreeMap::new();
    for (place, slip) in picks {
        let place = place.get(all);
        slips.entry(place.path.clone()).or_insert(*slip.get(&place.slips));
    }
    slips
}

/// What is not told of the slips, and what is told beyond them.
fn untold(text: &str, told: &[Told]) -> Vec<String> {
    let (household, diagnostics) = examine(text, "broken.yaml", |_| Err(std::io::ErrorKind::NotFound.into()));
    assert!(household.is_none());
    told.iter()
        .filter(|fault| {
            let place = line_and_column(text, fault.byte);
            !diagnostics.iter().any(|one| {
                one.code == fault.code
                    && one.severity == Severity::Error
                    && (one.line, one.column) == place
                    && fault.names.as_ref().is_none_or(|name| one.what.contains(&format!("`{name}`")))
            })
        })
        .map(|fault| format!("{}: {} {:?}", fault.why, fault.code, line_and_column(text, fault.byte)))
        .collect()
}

#[test]
fn a_scenario_written_anew_without_a_slip_has_no_fault() {
    for scenario in SCENARIOS {
        for braces in [false, true] {
            let (text, told) = Writer::write(&read(scenario), &BTreeMap::new(), braces);
            assert!(told.is_empty());
            let (_, diagnostics) = examine(&text, "same.yaml", |_| Ok(super::weather()));
            let (_, original) = examine(scenario, "same.yaml", |_| Ok(super::weather()));
            assert_eq!(
                diagnostics.len(),
                original.len(),
                "{text}\n{}",
                render_all(&diagnostics, &text, false)
            );
        }
    }
}

/// Each slip alone, at every place of every scenario where it can be made.
#[test]
fn every_slip_is_told_at_every_place() {
    let mut silent = Vec::new();
    for scenario in SCENARIOS {
        let tree = read(scenario);
        let mut all = Vec::new();
        places(&tree, SCENARIO, "", &mut all);
        for place in &all {
            for (index, slip) in place.slips.iter().enumerate() {
                let slips = BTreeMap::from([(place.path.clone(), *slip)]);
                let (text, told) = Writer::write(&tree, &slips, index % 2 == 0);
                assert_eq!(told.len(), 1, "{} {slip:?}\n{text}", place.path);
                silent.extend(untold(&text, &told));
            }
        }
    }
    assert!(silent.is_empty(), "{} are not told:\n{}", silent.len(), silent.join("\n"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    /// One to twelve slips at once.
    #[test]
    fn every_one_of_many_slips_is_told_in_one_run(
        scenario in 0..SCENARIOS.len(),
        picks in prop::collection::vec((any::<Index>(), any::<Index>()), 1..=12),
        braces in any::<bool>(),
    ) {
        let tree = read(SCENARIOS[scenario]);
        let mut all = Vec::new();
        places(&tree, SCENARIO, "", &mut all);
        let (text, told) = Writer::write(&tree, &chosen(&all, &picks), braces);
        let silent = untold(&text, &told);
        prop_assert!(silent.is_empty(), "not told:\n{}\n{text}", silent.join("\n"));
    }
}

#[test]
fn twelve_seeded_faults_are_named_at_line_and_column() {
    let text = cellar_with(&[
        ("{coldest: 6 degC, warmest: 18 degC}", "{coldest: 6 degC, warmest: 180 degC}"),
        ("{temperature: 20 degC, humidity: 45 %}", "{temperature: 20 degC, humidity: 45}"),
        ("  length: 3 m\n", "  lenght: 3 m\n"),
        ("  width: 2.5 m\n", "  width: 2,5 m\n"),
        ("r_value: R-30, faces: kitchen", "r_value: R-30, faces: kichen"),
        ("{crop: carrot, mass: 60 kg}", "{crop: carot, mass: 60 L}"),
        ("warmest: 7 degC, coldest: 0 degC", "warmest: 7, coldest: 0 degC"),
        ("    refrigerant: R744\n", "    refrigerant: R744\n    colour: green\n"),
        ("  volume: 300 L\n", "  volume: 300 L\n  volume: 300 L\n"),
        ("{set: 45 degC, most: 24 kW}", "{set: 45 degC}"),
        ("  leads_to: drain\n", "  leads_to:\n"),
    ]);
    let (household, diagnostics) = examine(&text, "cellar.yaml", |_| Ok(super::weather()));
    assert!(household.is_none());
    let found: Vec<_> = diagnostics.iter().map(|one| (one.line, one.column, one.code)).collect();
    let seeded = [
        (5, 43, "S108"),
        (7, 45, "S107"),
        (9, 3, "S104"),
        (10, 10, "S107"),
        (15, 59, "S109"),
        (19, 14, "S109"),
        (19, 27, "S107"),
        (20, 19, "S107"),
        (24, 5, "S104"),
        (32, 3, "S103"),
        (37, 1, "S106"),
        (42, 3, "S105"),
    ];
    assert_eq!(found, seeded, "{}", render_all(&diagnostics, &text, false));
}

// Ranges.

/// Where a value of the key table's ranges is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum At {
    Below,
    Lowest,
    Highest,
    Above,
}

/// The first number of a text shifted by a thousandth of itself, and its unit.
fn shifted(limit: &str, up: bool) -> String {
    let end = limit.find(|sign: char| !sign.is_ascii_digit() && !"-.".contains(sign)).unwrap_or(limit.len());
    let number: f64 = limit[..end].parse().expect("a limit begins with a number");
    let step = if number == 0.0 { 0.001 } else { number.abs() * 0.001 };
    format!("{}{}", if up { number + step } else { number - step }, &limit[end..])
}

/// A value at, below or above limits.
fn ranged(at: At, takes: &Takes) -> Option<String> {
    let (low, high) = match takes {
        Takes::Value(Kind::Clock, low, high) => {
            return Some(match at {
                At::Below => "-00:01".to_owned(),
                At::Lowest => format!("'{low}'"),
                At::Highest => format!("'{high}'"),
                At::Above => "24:01".to_owned(),
            });
        }
        Takes::Value(Kind::DailyCount, ..) | Takes::Count(..) => {
            let (low, high, unit) = match takes {
                Takes::Count(low, high) => (i64::from(*low), i64::from(*high), ""),
                Takes::Value(_, low, high) => (whole(low), whole(high), " per day"),
                _ => unreachable!("only whole numbers come here"),
            };
            let number = match at {
                At::Below => low - 1,
                At::Lowest => low,
                At::Highest => high,
                At::Above => high + 1,
            };
            return Some(format!("{number}{unit}"));
        }
        Takes::Value(_, low, high)
        | Takes::Monthly(_, low, high)
        | Takes::Twelve(_, low, high)
        | Takes::Hours(_, low, high) => ((*low).to_owned(), (*high).to_owned()),
        Takes::Probe(_, low, high) => ((*low).to_owned(), (*high).to_owned()),
        Takes::Number(low, high) => (low.to_string(), high.to_string()),
        _ => return None,
    };
    Some(match at {
        At::Below => shifted(&low, false),
        At::Lowest => low,
        At::Highest => high,
        At::Above => shifted(&high, true),
    })
}

fn whole(limit: &str) -> i64 {
    let number = limit.split(' ').next().expect("a limit begins with a number");
    number.parse().expect("a limit of a count is a whole number")
}

/// A scenario with every key but `without`; where values with ranges stand: path and byte.
struct Ranges<'a> {
    at: At,
    without: &'a [&'a str],
    text: String,
    found: Vec<(String, usize)>,
}

impl Ranges<'_> {
    fn table(&mut self, keys: &'static [Key], path: &str) {
        self.text.push('{');
        let left_out = |name: &str| {
            let path = join(path, name);
            self.without.iter().any(|out| *out == name || path.ends_with(&format!(".{out}")))
        };
        let keys: Vec<_> = keys.iter().filter(|key| !left_out(key.name)).collect();
        for key in keys {
            self.text.push_str(&format!("{}: ", key.name));
            self.value(key, &join(path, key.name));
            self.text.push_str(",\n");
        }
        self.text.push('}');
    }

    fn value(&mut self, key: &'static Key, path: &str) {
        match &key.takes {
            Takes::Table(keys) => self.table(keys, path),
            Takes::List(keys) => {
                self.text.push('[');
                self.table(keys, &format!("{path}[1]"));
                self.text.push(']');
            }
            Takes::Named(keys) => {
                self.text.push_str("{attic: ");
                self.table(keys, &format!("{path}.attic"));
                self.text.push('}');
            }
            Takes::Words(words) => self.text.push_str(words[0]),
            Takes::Beyond(_) if key.name == "faces" => self.text.push_str("ground"),
            Takes::Beyond(_) => self.text.push_str("attic"),
            Takes::Crop => self.text.push_str("carrot"),
            Takes::Months => self.text.push_str("all"),
            Takes::Times => self.text.push_str("'07:00'"),
            Takes::Weekdays => self.text.push_str("every day"),
            Takes::Date => self.text.push_str("24 Dec"),
            Takes::Text => self.text.push_str("text"),
            Takes::Choices => self.text.push_str("{}"),
            takes => {
                let value = ranged(self.at, takes).expect("every other key has a range");
                // A value for each month or hour has its range too.
                let count = match takes {
                    Takes::Hours(..) => HOURS,
                    Takes::Twelve(..) => 12,
                    Takes::Monthly(..) if self.without.contains(&"layers") => 12,
                    _ => 0,
                };
                self.found.push((path.to_owned(), self.text.len() + usize::from(count > 0)));
                let text =
                    if count > 0 { format!("[{}]", vec![value.as_str(); count].join(", ")) } else { value };
                self.text.push_str(&text);
            }
        }
    }
}

/// Paths of all keys with a range.
fn with_ranges(keys: &'static [Key], path: &str, all: &mut BTreeSet<String>) {
    for key in keys {
        let path = join(path, key.name);
        match &key.takes {
            Takes::List(keys) => with_ranges(keys, &format!("{path}[1]"), all),
            Takes::Named(keys) => with_ranges(keys, &format!("{path}.attic"), all),
            Takes::Table(keys) => with_ranges(keys, &path, all),
            takes => {
                if ranged(At::Lowest, takes).is_some() {
                    all.insert(path);
                }
            }
        }
    }
}

/// Every key with a range: below and above it is told at that key, at its limits it is taken.
#[test]
fn every_range_of_the_key_table_is_kept() {
    let mut tried = BTreeSet::new();
    // Of keys that exclude each other one is kept in each round.
    for without in [
        "r_value layers lies slab loss insulation constant monthly months multi_pass power heater nominal_heat by_clock at_frost study uses by_hour energy_class bare_connections color leads_to bore cv electricity basement_wall cold_in_bore",
        "u_value layers lies slab standing_loss insulation coldest warmest monthly months single_pass cop circulation nominal_heat every at_frost daily study pattern by_hour energy_class heat_bridges absorptance leads_to tube kv electricity_by_hour basement_wall cold_in_stirs",
        "u_value r_value material slab standing_loss loss coldest warmest constant file single_pass heater data_sheet every by_clock daily pattern uses energy_class bare_connections color destinations bore cv electricity basement_wall cold_in_bore",
        "u_value r_value surfaces[1].layers material lies depth warmer_by loss insulation constant monthly months multi_pass power circulation nominal_heat by_clock at_frost study uses by_hour energy_class heat_bridges absorptance leads_to bore kv electricity_by_hour basement_wall cold_in_stirs",
        "u_value r_value surfaces[1].layers surfaces[1].slab material lies depth warmer_by loss insulation constant monthly months multi_pass power circulation nominal_heat by_clock at_frost study uses by_hour energy_class heat_bridges absorptance leads_to bore kv electricity_by_hour cold_in_bore",
    ] {
        let without: Vec<_> = without.split(' ').collect();
        for at in [At::Below, At::Lowest, At::Highest, At::Above] {
            let mut ranges = Ranges { at, without: &without, text: String::new(), found: Vec::new() };
            ranges.table(SCENARIO, "");
            let Ranges { text, found, .. } = ranges;
            let (_, diagnostics) =
                examine(&text, "ranges.yaml", |_| Err(std::io::ErrorKind::NotFound.into()));
            for (path, byte) in found {
                let place = line_and_column(&text, byte);
                let faults: Vec<_> = diagnostics
                    .iter()
                    .filter(|one| matches!(one.code, "S107" | "S108"))
                    .filter(|one| one.what.starts_with(&format!("`{path}`")))
                    .collect();
                if matches!(at, At::Lowest | At::Highest) {
                    assert!(faults.is_empty(), "{at:?} `{path}`: {}", faults[0].what);
                } else {
                    let told = faults.iter().any(|one| (one.line, one.column) == place);
                    assert!(told, "{at:?} `{path}` {place:?}: {faults:?}");
                }
                tried.insert(path);
            }
        }
    }
    let mut all = BTreeSet::new();
    with_ranges(SCENARIO, "", &mut all);
    assert_eq!(tried, all);
}

/// What stands under a misspelt key is checked with the rest, in the same run.
#[test]
fn faults_inside_a_misspelt_section_are_told() {
    let text = cellar_with(&[
        ("booster: {set: 45 degC, most: 24 kW}", "boosters: {set: 45, most: 24 kW}"),
        ("  single_pass: {outlet: 60 degC}", "  single_pas: {outlet: 600 degC}"),
    ]);
    let (_, diagnostics) = examine(&text, "cellar.yaml", |_| Ok(super::weather()));
    let found: Vec<_> = diagnostics.iter().map(|one| (one.line, one.column, one.code)).collect();
    assert_eq!(found, [(26, 5, "S104"), (26, 26, "S108"), (35, 1, "S104"), (35, 17, "S107")]);
}

/// A depth is read although it is not known what the surface faces.
#[test]
fn a_faulty_depth_beside_an_unknown_space_is_told() {
    let text = cellar_with(&[(
        "area: 25.3 m2, u_value: 0.3 W/m2K, faces: ground, depth: 1.2 m",
        "area: 25.3 m2, u_value: 0.3 W/m2K, faces: grount, depth: 1,2 km, warmer_by: 2",
    )]);
    let (_, diagnostics) = examine(&text, "cellar.yaml", |_| Ok(super::weather()));
    let codes: Vec<_> = diagnostics.iter().map(|one| one.code).collect();
    assert!(codes.contains(&"S109"), "{codes:?}");
    let told: Vec<_> = diagnostics.iter().map(|one| one.what.as_str()).collect();
    for key in ["depth", "warmer_by"] {
        assert!(told.iter().any(|what| what.starts_with(&format!("`room.surfaces[1].{key}`"))), "{told:?}");
    }
}

/// Mains water that is out of its range is not compared with the dump: one slip, one fault.
#[test]
fn faulty_mains_water_is_not_compared_with_the_dump() {
    for (given, broken) in
        [("warmest: 18 degC", "warmest: 180 degC"), ("coldest: 6 degC", "coldest: 600 degC")]
    {
        let text = cellar_with(&[(given, broken)]);
        let (_, diagnostics) = examine(&text, "cellar.yaml", |_| Ok(super::weather()));
        let codes: Vec<_> = diagnostics.iter().map(|one| one.code).collect();
        assert_eq!(codes, ["S108"], "{broken}");
    }
}

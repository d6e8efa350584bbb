//! Keys of a scenario that are left open, each with the values that it may take.

use super::keys::{Key, SCENARIO, Takes};
use super::tree::{Entry, Node, Shape};
use crate::units::{Kind, plain};

/// Most values that one key may take.
pub const MOST_VALUES: usize = 50;
/// Digits of the values of a range.
const DIGITS: usize = 6;

/// A key that is left open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Variable {
    /// Its path, such as `tank.volume` or `room.doors[1].curtain`.
    pub key: String,
    /// The values, as they would be written there; two at least.
    pub values: Vec<String>,
}

/// Why a key cannot be left open so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoChoice {
    /// What is wrong.
    pub what: String,
    /// What is allowed.
    pub allowed: Option<String>,
}

impl NoChoice {
    fn new(what: String, allowed: &str) -> Self {
        Self { what, allowed: Some(allowed.to_owned()) }
    }
}

/// How values are written.
const VALUES: &str = "two values or more, such as `200 L, 300 L`, or a range such as `200 L to 400 L in 5`";

impl Variable {
    /// A key with its values: a list, or one text `FROM to TO in NUMBER`.
    ///
    /// # Errors
    /// [`NoChoice`]: a key that does not exist or that takes no single value, values that it does not take, or not enough of them.
    pub fn read(key: &str, values: &[&str]) -> Result<Self, NoChoice> {
        let key = key.trim();
        let takes = takes_of(key)?;
        let values: Vec<String> = match values {
            [range] => spread(key, takes, range)?,
            _ => values.iter().map(|value| value.trim().to_owned()).collect(),
        };
        if !(2..=MOST_VALUES).contains(&values.len()) {
            let what = format!("`{key}` is left open with {} values", values.len());
            return Err(NoChoice::new(what, "2 to 50 values"));
        }
        for (index, value) in values.iter().enumerate() {
            taken(key, takes, value)?;
            if values[..index].contains(value) {
                return Err(NoChoice::new(
                    format!("`{key}` has the value `{value}` twice"),
                    "values that differ",
                ));
            }
        }
        Ok(Self { key: key.to_owned(), values })
    }
}

/// What the key of a path takes.
fn takes_of(path: &str) -> Result<&'static Takes, NoChoice> {
    let unknown = || {
        NoChoice::new(
            format!("`{path}` is not the path of a key"),
            "a path such as `tank.volume` or `room.doors[1].curtain`",
        )
    };
    if path.starts_with("weather") || path.starts_with("choices") || path == "name" || path == "units" {
        return Err(NoChoice::new(format!("`{path}` cannot be left open"), "a key of the installation"));
    }
    let mut keys: &'static [Key] = SCENARIO;
    let mut parts = path.split('.');
    let mut takes: Option<&'static Takes> = None;
    while let Some(part) = parts.next() {
        let (name, index) = name_and_index(part).ok_or_else(unknown)?;
        let key = keys.iter().find(|key| key.name == name).ok_or_else(unknown)?;
        takes = Some(&key.takes);
        keys = match (&key.takes, index) {
            (Takes::Table(keys), None) | (Takes::List(keys), Some(_)) => keys,
            (Takes::Named(keys), None) => {
                // The next part is a name of the household's own.
                parts.next().ok_or_else(unknown)?;
                keys
            }
            (_, None) => &[],
            (_, Some(_)) => return Err(unknown()),
        };
    }
    match takes {
        Some(Takes::Table(_) | Takes::List(_) | Takes::Named(_) | Takes::Choices) | None => {
            Err(NoChoice::new(
                format!("`{path}` does not take a single value"),
                "the path of a key that takes one value",
            ))
        }
        Some(Takes::Twelve(..) | Takes::Hours(..) | Takes::Months) => {
            Err(NoChoice::new(format!("`{path}` takes a list"), "the path of a key that takes one value"))
        }
        Some(takes) => Ok(takes),
    }
}

/// `doors[1]` as name and position from 0.
fn name_and_index(part: &str) -> Option<(&str, Option<usize>)> {
    let Some((name, rest)) = part.split_once('[') else { return Some((part, None)) };
    let index: usize = rest.strip_suffix(']')?.parse().ok()?;
    Some((name, Some(index.checked_sub(1)?)))
}

fn limits(takes: &Takes) -> Option<(Kind, &'static str, &'static str)> {
    match takes {
        Takes::Value(kind, low, high) | Takes::Monthly(kind, low, high) => Some((*kind, low, high)),
        _ => None,
    }
}

/// Whether the key takes the value; words that depend on the scenario are left to its check.
fn taken(key: &str, takes: &Takes, value: &str) -> Result<(), NoChoice> {
    let not_taken =
        |why: String, allowed: Option<String>| NoChoice { what: format!("`{key}`: {why}"), allowed };
    if let Some((kind, low, high)) = limits(takes) {
        let reading = kind.read(value).map_err(|error| not_taken(error.to_string(), error.allowed()))?;
        let (low, high) = (kind.read(low), kind.read(high));
        let within = |limit: f64, sign: f64| sign * (reading.si - limit) >= -1e-9 * limit.abs();
        let inside = low.is_ok_and(|low| within(low.si, 1.0)) && high.is_ok_and(|high| within(high.si, -1.0));
        return if inside {
            Ok(())
        } else {
            Err(not_taken(format!("`{value}` is out of its range"), Some(takes.words())))
        };
    }
    let fits = match takes {
        Takes::Number(low, high) => value.parse::<f64>().is_ok_and(|number| (*low..=*high).contains(&number)),
        Takes::Count(low, high) => value.parse::<u32>().is_ok_and(|number| (*low..=*high).contains(&number)),
        Takes::Words(words) => words.contains(&value),
        _ => true,
    };
    if fits { Ok(()) } else { Err(not_taken(format!("`{value}` is not taken"), Some(takes.words()))) }
}

/// `FROM to TO in NUMBER` as so many values with equal steps between them, in the unit of `FROM`.
fn spread(key: &str, takes: &Takes, range: &str) -> Result<Vec<String>, NoChoice> {
    let wrong = || NoChoice::new(format!("`{range}` does not leave `{key}` open"), VALUES);
    let (from, rest) = range.split_once(" to ").ok_or_else(wrong)?;
    let (to, number) = rest.rsplit_once(" in ").ok_or_else(wrong)?;
    let number: usize = number.trim().parse().map_err(|_| wrong())?;
    let (kind, ..) = limits(takes).ok_or_else(|| {
        NoChoice::new(format!("`{key}` takes no quantity, so no range"), "its values one by one")
    })?;
    let read = |text: &str| {
        kind.read(text)
            .map_err(|error| NoChoice { what: format!("`{key}`: {error}"), allowed: error.allowed() })
    };
    let (first, last) = (read(from)?, read(to)?);
    if !(2..=MOST_VALUES).contains(&number) {
        return Err(NoChoice::new(format!("`{key}` is left open with {number} values"), "2 to 50 values"));
    }
    let unit = first.unit;
    let (first, last) = (unit.value(first.si), unit.value(last.si));
    let value = |index: usize| first + (last - first) * index as f64 / (number - 1) as f64;
    let written = |value: f64| match kind {
        Kind::Clock => unit.write(unit.si(value)),
        _ => format!("{} {}", plain(value, DIGITS), unit.symbol).trim_end().to_owned(),
    };
    Ok((0..number).map(|index| written(value(index))).collect())
}

/// Writes a value under a key of the tree; tables on the way that are not there are made.
///
/// # Errors
/// In words, where the path leads through something that is no table or list, or to an item that is not there.
pub(super) fn write(root: &mut Node, path: &str, value: &str) -> Result<(), String> {
    let mut node = root;
    for part in path.split('.') {
        let (name, index) =
            name_and_index(part).ok_or_else(|| format!("`{path}` is not the path of a key"))?;
        let Shape::Table(entries) = &mut node.shape else {
            return Err(format!("`{path}` leads through something that is no table"));
        };
        let at = entries.iter().position(|entry| entry.key == name).unwrap_or_else(|| {
            let value = Node { span: 0..0, shape: Shape::Table(Vec::new()) };
            entries.push(Entry { key: name.to_owned(), span: 0..0, value });
            entries.len() - 1
        });
        node = &mut entries[at].value;
        if let Some(index) = index {
            node = match &mut node.shape {
                Shape::List(items) if index < items.len() => &mut items[index],
                _ => return Err(format!("`{path}`: there is no item {} in `{name}`", index + 1)),
            };
        }
    }
    *node = Node { span: node.span.clone(), shape: Shape::Text(Some(value.to_owned())) };
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_listed_or_spread_evenly() {
        let listed = Variable::read("tank.volume", &["200 L", " 80 gal"]).expect("two volumes");
        assert_eq!(listed.values, ["200 L", "80 gal"]);
        let spread = Variable::read("dump.opens_at", &["45 degC to 60 degC in 4"]).expect("a range");
        assert_eq!(spread.values, ["45 degC", "50 degC", "55 degC", "60 degC"]);
        let curtain = Variable::read("room.doors[2].curtain", &["0 % to 90 % in 3"]).expect("a range");
        assert_eq!(curtain.values, ["0 %", "45 %", "90 %"]);
        let space = Variable::read("spaces.my cellar.temperature", &["10 degC", "50 degF"])
            .expect("two temperatures");
        assert_eq!(space.key, "spaces.my cellar.temperature");
    }

    #[test]
    fn what_cannot_be_left_open_is_told() {
        for (key, values, what) in [
            ("tank.size", &["1 L", "2 L"][..], "`tank.size` is not the path of a key"),
            ("tank", &["1 L", "2 L"], "`tank` does not take a single value"),
            ("weather.file", &["a", "b"], "`weather.file` cannot be left open"),
            ("tank.volume", &["200 L"], "`200 L` does not leave `tank.volume` open"),
            ("tank.volume", &["200 L", "200 L"], "`tank.volume` has the value `200 L` twice"),
            (
                "tank.volume",
                &["200 L", "20 degC"],
                "`tank.volume`: `20 degC` is a temperature; a volume is needed",
            ),
            ("tank.volume", &["200 L", "900 m3"], "`tank.volume`: `900 m3` is out of its range"),
            ("tank.volume", &["200 L to 400 L in 1"], "`tank.volume` is left open with 1 values"),
            ("cooler.heat_pump.cycle", &["ordinary", "odd"], "`cooler.heat_pump.cycle`: `odd` is not taken"),
            ("site.rain", &["1 mm", "2 mm"], "`site.rain` takes a list"),
            ("room.doors[0].curtain", &["0 %", "90 %"], "`room.doors[0].curtain` is not the path of a key"),
        ] {
            let told = Variable::read(key, values).expect_err(key);
            assert_eq!(told.what, what);
            assert!(told.allowed.is_some());
        }
    }

    #[test]
    fn a_value_is_written_where_its_path_leads() {
        let mut notes = Vec::new();
        let mut tree = super::super::tree::read("a: {b: [{c: 1}, {c: 2}]}\n", &mut notes).expect("a tree");
        write(&mut tree, "a.b[2].c", "3").expect("it is there");
        write(&mut tree, "d.e", "4").expect("it is made");
        let expected =
            super::super::tree::read("a: {b: [{c: 1}, {c: 3}]}\nd: {e: 4}\n", &mut notes).expect("a tree");
        assert_eq!(without_places(&tree), without_places(&expected));
        assert!(write(&mut tree, "a.b[3].c", "3").is_err() && write(&mut tree, "a.b.c", "3").is_err());
    }

    fn without_places(node: &Node) -> String {
        match &node.shape {
            Shape::Table(entries) => {
                let parts: Vec<_> = entries
                    .iter()
                    .map(|entry| format!("{}: {}", entry.key, without_places(&entry.value)))
                    .collect();
                format!("{{{}}}", parts.join(", "))
            }
            Shape::List(items) => {
                format!("[{}]", items.iter().map(without_places).collect::<Vec<_>>().join(", "))
            }
            Shape::Text(text) => text.clone().unwrap_or_default(),
            Shape::Refused => "refused".to_owned(),
        }
    }
}

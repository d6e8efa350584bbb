//! The scenario as JSON Schema, draft 2020-12, made from the table of keys.
//!
//! It knows shapes, words and units. Ranges of quantities stand in the descriptions, because a quantity is
//! text with a unit, and what does not belong together is known to [`crate::scenario::check`] alone.

use serde_json::{Map, Value, json};

use super::keys::{Absent, HOURS, Key, MONTHS, SCENARIO, Takes, WEEKDAY_WORDS, WEEKDAYS};

/// A day and a month in either order; which months there are is known to the reader.
const DATE_PATTERN: &str = r"^\s*(\d{1,2}\s+[A-Za-z]{3,9}|[A-Za-z]{3,9}\s+\d{1,2})\s*$";
use crate::room::Crop;
use crate::units::Kind;

/// The schema of a whole scenario.
pub fn schema() -> Value {
    let mut schema = table(SCENARIO);
    let head = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "larderloop scenario",
        "description": "A household's cold room, heat pump, hot-water tank, taps and dump",
    });
    if let (Value::Object(schema), Value::Object(mut head)) = (&mut schema, head) {
        head.append(schema);
        return Value::Object(head);
    }
    schema
}

fn table(keys: &[Key]) -> Value {
    let properties: Map<String, Value> =
        keys.iter().map(|key| (key.name.to_owned(), property(key))).collect();
    let required: Vec<_> =
        keys.iter().filter(|key| matches!(key.absent, Absent::Needed)).map(|key| key.name).collect();
    json!({"type": "object", "properties": properties, "required": required, "additionalProperties": false})
}

fn property(key: &Key) -> Value {
    let mut shape = shape(&key.takes);
    if let Value::Object(shape) = &mut shape {
        shape.insert("description".to_owned(), description(key).into());
        if let Some(examples) = examples(key) {
            shape.insert("examples".to_owned(), examples);
        }
    }
    shape
}

fn description(key: &Key) -> String {
    let takes = match key.takes {
        Takes::Table(_) | Takes::List(_) | Takes::Named(_) | Takes::Text | Takes::Crop => String::new(),
        _ => format!(" ({})", key.takes.words()),
    };
    let units = match key.takes {
        Takes::Value(kind, ..)
        | Takes::Monthly(kind, ..)
        | Takes::Twelve(kind, ..)
        | Takes::Hours(kind, ..) => {
            format!(". Written as {}", kind.takes())
        }
        _ => String::new(),
    };
    let absent = match key.absent {
        Absent::Needed => String::new(),
        Absent::Default(value, _) => format!(". If left out: {value}"),
        Absent::Otherwise(words) => format!(". If left out: {words}"),
    };
    format!("{}{takes}{units}{absent}", key.meaning)
}

/// A default as it would be written; else the lower limit, which shows the unit.
fn examples(key: &Key) -> Option<Value> {
    match (&key.takes, &key.absent) {
        (Takes::Monthly(Kind::DailyCount, ..), _) => Some(json!(["8 per day"])),
        (Takes::Value(..) | Takes::Probe(..) | Takes::Words(_), Absent::Default(value, _)) => {
            Some(json!([value]))
        }
        (Takes::Value(_, low, high), _) => Some(json!([low, high])),
        _ => None,
    }
}

fn shape(takes: &Takes) -> Value {
    match takes {
        Takes::Table(keys) => table(keys),
        Takes::List(keys) => json!({"type": "array", "items": table(keys)}),
        Takes::Named(keys) => json!({"type": "object", "additionalProperties": table(keys)}),
        Takes::Value(kind, ..) => quantity(*kind),
        Takes::Monthly(kind, ..) => json!({"anyOf": [quantity(*kind), so_many(*kind, MONTHS.len())]}),
        Takes::Twelve(kind, ..) => so_many(*kind, MONTHS.len()),
        Takes::Hours(kind, ..) => so_many(*kind, HOURS),
        Takes::Number(low, high) => json!({"type": "number", "minimum": low, "maximum": high}),
        Takes::Count(low, high) => json!({"type": "integer", "minimum": low, "maximum": high}),
        Takes::Words(words) => one_of_words(words),
        Takes::Probe(words, ..) => {
            let words: Vec<_> = words.iter().map(|(word, _)| *word).collect();
            json!({"anyOf": [{"enum": words}, quantity(Kind::Time)]})
        }
        Takes::Months => {
            json!({"anyOf": [{"const": "all"}, {"type": "array", "items": {"enum": MONTHS}}]})
        }
        Takes::Times => {
            let time = quantity(Kind::Clock);
            json!({"anyOf": [time, {"type": "array", "items": time, "minItems": 1}]})
        }
        Takes::Weekdays => {
            let words = WEEKDAY_WORDS.map(|(word, _)| word);
            json!({"anyOf": [{"enum": words}, {"type": "array", "items": {"enum": WEEKDAYS}, "minItems": 1}]})
        }
        Takes::Date => json!({"type": "string", "pattern": DATE_PATTERN}),
        Takes::Choices => {
            let values = json!({"type": "array", "minItems": 2, "items": {"type": ["string", "number"]}});
            json!({"type": "object", "additionalProperties": {"anyOf": [{"type": "string"}, values]}})
        }
        Takes::Crop => json!({"enum": Crop::names()}),
        // A name from `spaces` is any text: which names there are is known to the reader alone.
        Takes::Beyond(_) | Takes::Text => json!({"type": "string"}),
    }
}

/// Editors of YAML 1.1 take a bare `yes` for true and `no` for false; the reader takes the words.
fn one_of_words(words: &[&str]) -> Value {
    if words.contains(&"yes") {
        json!({"anyOf": [{"enum": words}, {"type": "boolean"}]})
    } else {
        json!({"enum": words})
    }
}

fn quantity(kind: Kind) -> Value {
    let text = json!({"type": "string", "pattern": kind.pattern()});
    match kind {
        Kind::Share => json!({"anyOf": [text, {"type": "number", "minimum": 0, "maximum": 1}]}),
        _ => text,
    }
}

fn so_many(kind: Kind, count: usize) -> Value {
    json!({"type": "array", "items": quantity(kind), "minItems": count, "maxItems": count})
}

//! Every key of a scenario: meaning, what it takes, and what holds when it is left out.
//!
//! The reader, the suggestions for misspelt keys and the table in `docs/SCENARIO.md` all come from here.

mod alternatives;
mod cooler;
mod dump;
mod hot_water;
mod prices;
mod room;
mod tank;

pub use cooler::{
    CALLERS, CONTACTS, CYCLES, EXCHANGERS, FORMER_KEYS, FormerKey, REFRIGERANTS, SENSOR_PLACES,
};
pub use hot_water::{MIDDLE_STUDY, STUDIES};
pub use tank::BUILT_AS;

use crate::household::UnitSystem;
use crate::units::{Kind, either, written_in};

/// A key.
#[derive(Debug)]
pub struct Key {
    /// As it is written.
    pub name: &'static str,
    /// What it means.
    pub meaning: &'static str,
    /// What may stand there.
    pub takes: Takes,
    /// What holds when it is left out.
    pub absent: Absent,
}

/// What may stand under a key. Limits are written as a household would write them.
#[derive(Debug)]
pub enum Takes {
    /// A table with these keys.
    Table(&'static [Key]),
    /// A list of tables with these keys.
    List(&'static [Key]),
    /// A table whose keys are names chosen by the household, each with a table of these keys.
    Named(&'static [Key]),
    /// A quantity from the first to the second limit.
    Value(Kind, &'static str, &'static str),
    /// A quantity, or a list of twelve, one for each month.
    Monthly(Kind, &'static str, &'static str),
    /// A list of twelve quantities.
    Twelve(Kind, &'static str, &'static str),
    /// A list of twenty-four quantities, one for each hour of the day.
    Hours(Kind, &'static str, &'static str),
    /// A plain number from the first to the second limit.
    Number(f64, f64),
    /// A whole number from the first to the second limit.
    Count(u32, u32),
    /// One of these words.
    Words(&'static [&'static str]),
    /// How a probe is mounted, with the time constant that stands for, or a time constant itself.
    Probe(&'static [(&'static str, &'static str)], &'static str, &'static str),
    /// Months, or `all`.
    Months,
    /// Times of day.
    Times,
    /// Weekdays, or words for some of them.
    Weekdays,
    /// A day of the year.
    Date,
    /// What lies beyond: a space, or one of these.
    Beyond(&'static [&'static str]),
    /// A crop.
    Crop,
    /// Free text.
    Text,
    /// A table whose keys are paths of other keys, each with the values that it may take.
    Choices,
}

/// What holds when a key is left out.
#[derive(Debug)]
pub enum Absent {
    /// It has to be given.
    Needed,
    /// This value, as it would be written, for this reason.
    Default(&'static str, &'static str),
    /// A value reckoned from others, or a different meaning: said here for the reader of the table.
    Otherwise(&'static str),
}

use Absent::{Default, Needed, Otherwise};
use Takes::{
    Beyond, Choices, Count, Crop, Date, Hours, List, Monthly, Months, Named, Number, Probe, Table, Text,
    Times, Twelve, Value, Weekdays, Words,
};

const fn key(name: &'static str, takes: Takes, absent: Absent, meaning: &'static str) -> Key {
    Key { name, meaning, takes, absent }
}

pub use crate::wording::SHORT_MONTHS as MONTHS;

/// Hours of a day.
pub const HOURS: usize = 24;

/// Weekdays as they are written, Monday first.
pub const WEEKDAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
/// Words for several weekdays, Monday first.
pub const WEEKDAY_WORDS: [(&str, [bool; 7]); 3] = [
    ("every day", [true; 7]),
    ("working days", [true, true, true, true, true, false, false]),
    ("weekend", [false, false, false, false, false, true, true]),
];

/// Outdoor air, as a place.
pub const OUTDOORS: &str = "outdoors";
/// The ground, as a place.
pub const GROUND: &str = "ground";
/// The cold room, as a place.
pub const COLD_ROOM: &str = "cold room";

/// Keys of a whole scenario.
pub static SCENARIO: &[Key] = &[
    key("name", Text, Needed, "what the household calls this installation"),
    key(
        "units",
        Words(&["metric", "us"]),
        Default("metric", "Common practice, no source: the report is metric unless US units are asked for"),
        "units of the report; values in this file may have any unit",
    ),
    key("weather", Table(WEATHER), Needed, "the weather year"),
    key("site", Table(SITE), Otherwise("as its keys say"), "ground and cold water"),
    key(
        "spaces",
        Named(SPACE),
        Otherwise("no neighbour spaces"),
        "neighbour spaces by name, such as `kitchen`",
    ),
    key("room", Table(room::ROOM), Needed, "the cold room"),
    key("cooler", Table(cooler::COOLER), Needed, "what cools the room"),
    key("thermostat", Table(THERMOSTAT), Needed, "the room thermostat, which rules the cooler"),
    key("tank", Table(tank::TANK), Needed, "the hot-water tank"),
    key("hot_water", Table(hot_water::HOT_WATER), Needed, "the hot water used"),
    key("booster", Table(hot_water::BOOSTER), Otherwise("no booster"), "a tankless heater after the tank"),
    key(
        "element",
        Table(hot_water::ELEMENT),
        Otherwise("no element"),
        "an electric element in the tank with its own thermostat",
    ),
    key("dump", Table(dump::DUMP), Otherwise("no dump"), "the overflow dump opened by an aquastat"),
    key("prices", Table(prices::PRICES), Otherwise("nothing is told in money"), "what energy and water cost"),
    key(
        "alternatives",
        Table(alternatives::ALTERNATIVES),
        Otherwise("as its keys say"),
        "other ways of cooling the same room, for `larderloop compare`; `check` does not look at them",
    ),
    key(
        "choices",
        Choices,
        Otherwise("nothing is left open"),
        "keys that `larderloop choose` may change, and the values that it may take for each; `check` takes what stands under the key itself",
    ),
];

static WEATHER: &[Key] = &[
    key(
        "file",
        Text,
        Otherwise("either this or `months`"),
        "EPW or TMY3 file of 8760 or 8784 hours, relative to the scenario file",
    ),
    key(
        "months",
        Table(WEATHER_MONTHS),
        Otherwise("either this or `file`"),
        "monthly means of a place without a weather file; the year made from them has no cold or hot spells",
    ),
];

static WEATHER_MONTHS: &[Key] = &[
    key("place", Text, Otherwise("its latitude and elevation"), "name of the place in the report"),
    key(
        "latitude",
        Number(-90.0, 90.0),
        Needed,
        "degrees, north positive: it says which half of the year is winter for the mains water",
    ),
    key(
        "elevation",
        Value(Kind::Length, "-430 m", "6000 m"),
        Needed,
        "height above sea level: it gives the air pressure",
    ),
    key(
        "mean",
        Twelve(Kind::Temperature, "-60 degC", "45 degC"),
        Needed,
        "mean outdoor air of each month, January first",
    ),
    key(
        "daily_range",
        Twelve(Kind::Difference, "0 K", "30 K"),
        Needed,
        "mean daily range of each month: daily maximum less daily minimum",
    ),
    key(
        "humidity",
        Monthly(Kind::Share, "1 %", "100 %"),
        Default(
            "75 %",
            "Common practice, no source: monthly means of most inhabited places lie between 60 and 85 %",
        ),
        "mean relative humidity of outdoor air, or twelve monthly means",
    ),
];

static SITE: &[Key] = &[
    key(
        "soil_diffusivity",
        Value(Kind::Diffusivity, "0.005 m2/day", "0.3 m2/day"),
        Default(
            "0.05 m2/day",
            "Second hand: between clay 0.043 and sand 0.086 m2/day, from the soils of ISO 13370 as given in a public data file",
        ),
        "thermal diffusivity of the soil",
    ),
    key(
        "mains_water",
        Table(MAINS),
        Otherwise("from the year's outdoor air (Burch and Christensen)"),
        "mains water temperature: coldest and warmest, or constant, or monthly",
    ),
    key(
        "hardness",
        Value(Kind::Hardness, "0 mg/L", "1500 mg/L"),
        Otherwise("not known; a caution asks"),
        "hardness of the cold water that enters the tank, behind a softener if there is one; the water supplier tells it. mg/L is that of calcium carbonate",
    ),
    key(
        "rain",
        Twelve(Kind::Length, "0 mm", "3 m"),
        Otherwise("none is counted: what the garden takes of dumped water is then at its most"),
        "mean rain of each month, January first; only the garden that takes dumped water asks for it",
    ),
    key(
        "well",
        Table(WELL),
        Otherwise("the water is a supplier's"),
        "the household's own well: the report then says what the dump asks of it",
    ),
    key(
        "supply_pressure",
        Value(Kind::Pressure, "20 kPa", "800 kPa"),
        Default(
            "400 kPa",
            "Common practice, no source: houses have 300 to 550 kPa; a higher one asks for a larger expansion vessel",
        ),
        "pressure of the house's cold water while no tap runs, behind a pressure reducer if there is one: from that of a header tank two metres up to what leaves a relief valve of 1035 kPa some room",
    ),
];

static WELL: &[Key] = &[
    key(
        "yield",
        Value(Kind::Flow, "0.2 L/min", "2000 L/min"),
        Needed,
        "what the well gives for days on end, as its driller's record or a pumping test tells",
    ),
    key(
        "pump_flow",
        Value(Kind::Flow, "2 L/min", "2000 L/min"),
        Needed,
        "what its pump gives at the house's pressure",
    ),
    key(
        "drawdown",
        Value(Kind::Volume, "1 L", "2000 L"),
        Needed,
        "water that the pressure tank gives between two starts of the pump: a bucket under a tap tells",
    ),
    key(
        "pump_power",
        Value(Kind::Power, "100 W", "50 kW"),
        Otherwise("not known: nothing is said of how often its motor may start"),
        "power of the pump's motor, from its nameplate",
    ),
];

static MAINS: &[Key] = &[
    key(
        "coldest",
        Value(Kind::Temperature, "0.5 degC", "35 degC"),
        Otherwise("see `mains_water`"),
        "coldest mains water measured in the year",
    ),
    key(
        "warmest",
        Value(Kind::Temperature, "0.5 degC", "35 degC"),
        Otherwise("see `mains_water`"),
        "warmest mains water measured in the year",
    ),
    key(
        "constant",
        Value(Kind::Temperature, "0.5 degC", "35 degC"),
        Otherwise("see `mains_water`"),
        "the same all year, as from a deep well",
    ),
    key(
        "monthly",
        Twelve(Kind::Temperature, "0.5 degC", "35 degC"),
        Otherwise("see `mains_water`"),
        "twelve monthly means",
    ),
];

static SPACE: &[Key] = &[
    key(
        "temperature",
        Monthly(Kind::Temperature, "-30 degC", "50 degC"),
        Needed,
        "air temperature, or twelve monthly means; with `outdoor_share` that of the house beside it",
    ),
    key(
        "outdoor_share",
        Value(Kind::Share, "0 %", "100 %"),
        Otherwise("its air is at `temperature`"),
        "how far its air stands from `temperature` toward the outdoor air, hour by hour: an unheated cellar has some 50 %, a garage 80 %, an attic under bare tiles 90 % (common practice, no source)",
    ),
    key(
        "humidity",
        Value(Kind::Share, "1 %", "100 %"),
        Default(
            "50 %",
            "Common practice, no source: a lived-in room has 40 to 60 %; damper air brings more vapour through door and leaks",
        ),
        "relative humidity",
    ),
    key(
        "heated_in",
        Months,
        Otherwise("not heated, or its heat is free"),
        "months in which the house's heating makes up what the cold room takes from it, such as `[Oct, Nov, Dec, Jan, Feb, Mar, Apr]`",
    ),
];

/// Other names under which words of scenarios go, and the word: suggested where they are given.
pub const OTHER_NAMES: &[(&str, &str)] = &[
    ("propane", "R290"),
    ("carbon dioxide", "R744"),
    ("CO2", "R744"),
    ("imperial", "us"),
    ("SI", "metric"),
    ("electric heater", "electric water heater"),
    ("gas heater", "gas water heater"),
    ("tank", "storage tank"),
];

/// A thermostat's probe in air, and the time constants its mounting stands for.
pub const AIR_PROBES: &[(&str, &str)] = &[("bare", "90 s"), ("in a bottle of water", "30 min")];
/// An aquastat's probe at the tank, and the time constants its mounting stands for.
pub const TANK_PROBES: &[(&str, &str)] = &[("in a well", "20 s"), ("strapped on", "180 s")];

static THERMOSTAT: &[Key] = &[
    key("set", Value(Kind::Temperature, "-5 degC", "20 degC"), Needed, "middle of its band"),
    key(
        "band",
        Value(Kind::Difference, "0.1 K", "10 K"),
        Default("1.5 K", "Common practice, no source: cold-room thermostats switch over 1 to 2 K"),
        "on at set + half of it, off at set - half of it",
    ),
    key(
        "probe",
        Probe(AIR_PROBES, "1 s", "4 h"),
        Default(
            "bare",
            "Common practice, no source: a bare probe follows the air in 60 to 120 s, one in a bottle of water in 20 to 40 min",
        ),
        "how its probe is mounted, or its time constant",
    ),
    key(
        "least_run",
        Value(Kind::Time, "0 s", "1 h"),
        Default("5 min", "Second hand: commercial refrigeration notes; 5 to 10 min is usual"),
        "shortest run",
    ),
    key(
        "least_rest",
        Value(Kind::Time, "0 s", "1 h"),
        Default("5 min", "Second hand: trade pages; 3 to 5 min is usual"),
        "shortest rest",
    ),
    key(
        "off_in",
        Months,
        Otherwise("on all year"),
        "months in which the cooler is switched off and the room given up, such as `[Jul]`: what is stored then gets warm, an empty room is no matter; the unit stays under power, with its standby, frost protection and defrosting",
    ),
    key(
        "contact",
        Words(CONTACTS),
        Otherwise("not known"),
        "whether its closed contact makes the unit run, or only permits it to run when the unit's own control wants to",
    ),
];

impl Takes {
    /// What may stand there, in words, limits as they are written in the table.
    pub fn words(&self) -> String {
        self.words_in(UnitSystem::Metric)
    }

    /// What may stand there, in words, limits in the units of a report.
    pub fn words_in(&self, units: UnitSystem) -> String {
        let range = |kind: &Kind, low: &str, high: &str| {
            format!("{} to {}", written_in(*kind, low, units), written_in(*kind, high, units))
        };
        match self {
            Table(_) => "keys".to_owned(),
            List(_) => "a list of tables".to_owned(),
            Named(_) => "names, each with keys".to_owned(),
            Value(kind, low, high) => format!("{}, {}", kind.name(), range(kind, low, high)),
            Monthly(kind, low, high) => {
                format!("{}, or a list of twelve, {}", kind.name(), range(kind, low, high))
            }
            Twelve(kind, low, high) => format!("twelve times {}, {}", kind.name(), range(kind, low, high)),
            Hours(kind, low, high) => format!("24 times {}, {}", kind.name(), range(kind, low, high)),
            Number(low, high) => format!("a number, {low} to {high}"),
            Count(low, high) => format!("a whole number, {low} to {high}"),
            Words(words) => quoted(words.iter().copied()),
            Probe(words, low, high) => {
                let words = words.iter().map(|(word, time)| format!("`{word}` ({time})"));
                let all: Vec<_> = words.chain([format!("a time, {low} to {high}")]).collect();
                either(&all)
            }
            Months => "a list of months, or `all`".to_owned(),
            Times => "a time of day in quotes, or a list of them".to_owned(),
            Weekdays => format!(
                "a list of weekdays, or {}",
                either(&WEEKDAY_WORDS.map(|(word, _)| format!("`{word}`")))
            ),
            Date => "a day and a month, such as `24 Dec`".to_owned(),
            Beyond(places) => {
                let all: Vec<_> = places
                    .iter()
                    .map(|place| format!("`{place}`"))
                    .chain(["a name from `spaces`".to_owned()])
                    .collect();
                either(&all)
            }
            Crop => "a name from the crop table".to_owned(),
            Text => "text".to_owned(),
            Choices => {
                "paths of keys, each with a list of values or a range `FROM to TO in NUMBER`".to_owned()
            }
        }
    }

    /// Keys inside it.
    pub fn keys(&self) -> &'static [Key] {
        match self {
            Table(keys) | List(keys) | Named(keys) => keys,
            _ => &[],
        }
    }
}

/// A limit or default of the key table in SI.
pub(super) fn si_of(kind: Kind, text: &str) -> f64 {
    kind.read(text).expect("a test reads every limit and default of the key table").si
}

/// Smallest and largest tank, m3.
pub fn tank_volume_limits_m3() -> (f64, f64) {
    let volume = tank::TANK.iter().find(|key| key.name == "volume").map(|key| &key.takes);
    match volume {
        Some(Value(kind, least, most)) => (si_of(*kind, least), si_of(*kind, most)),
        _ => unreachable!("the table of keys gives limits for the volume of the tank"),
    }
}

/// Words in backticks as a list.
pub fn quoted<'a>(words: impl Iterator<Item = &'a str>) -> String {
    either(&words.map(|word| format!("`{word}`")).collect::<Vec<_>>())
}

/// The table of all keys for `docs/SCENARIO.md`.
pub fn table() -> String {
    let mut text = String::from("| Key | Meaning | Takes | If left out |\n|---|---|---|---|\n");
    rows(SCENARIO, "", &mut text);
    text
}

fn rows(keys: &'static [Key], path: &str, text: &mut String) {
    for key in keys {
        let path = if path.is_empty() { key.name.to_owned() } else { format!("{path}.{}", key.name) };
        let (path, absent) = match (&key.takes, &key.absent) {
            (List(_), absent) => (format!("{path}[]"), absent),
            (Named(_), absent) => (format!("{path}.NAME"), absent),
            (_, absent) => (path, absent),
        };
        let absent = match absent {
            Needed => "**has to be given**".to_owned(),
            Default(value, reason) => format!("{value}. {reason}"),
            Otherwise(text) => (*text).to_owned(),
        };
        text.push_str(&format!("| `{path}` | {} | {} | {absent} |\n", key.meaning, key.takes.words()));
        rows(key.takes.keys(), &path, text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn each(keys: &'static [Key], visit: &mut dyn FnMut(&'static Key)) {
        for key in keys {
            visit(key);
            each(key.takes.keys(), visit);
        }
    }

    #[test]
    fn limits_and_defaults_can_be_read_and_stand_in_order() {
        each(SCENARIO, &mut |key| {
            let limits = match key.takes {
                Value(kind, low, high)
                | Monthly(kind, low, high)
                | Twelve(kind, low, high)
                | Hours(kind, low, high) => Some((kind, low, high)),
                Probe(_, low, high) => Some((Kind::Time, low, high)),
                _ => None,
            };
            if let Some((kind, low, high)) = limits {
                let si = |text| kind.read(text).unwrap_or_else(|error| panic!("{}: {error}", key.name)).si;
                assert!(si(low) < si(high), "{}", key.name);
                if let (Default(value, _), Value(..)) = (&key.absent, &key.takes) {
                    assert!(si(low) <= si(value) && si(value) <= si(high), "{}: {value}", key.name);
                }
            }
        });
    }

    #[test]
    fn every_default_says_how_far_it_can_be_trusted() {
        let trust = [
            "Checked: original read",
            "Second hand:",
            "Derived here:",
            "Common practice, no source:",
            "From memory, to be verified:",
        ];
        each(SCENARIO, &mut |key| {
            if let Default(_, reason) = key.absent {
                assert!(trust.iter().any(|word| reason.starts_with(word)), "{}: {reason}", key.name);
            }
        });
    }
}

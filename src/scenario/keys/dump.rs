//! The keys of the overflow dump.

use super::Absent::{Default, Needed, Otherwise};
use super::Takes::{Count, List, Months, Probe, Table, Text, Value, Words};
use super::{Key, TANK_PROBES, key};
use crate::irrigation::{PLANTS, SOILS, WATERINGS};
use crate::pipe::{MATERIALS, TUBES};
use crate::units::Kind;

/// Makes a list of the names in a table.
macro_rules! names {
    ($table:ident, $name:tt) => {{
        const NAMES: [&str; $table.len()] = {
            let mut names = [""; $table.len()];
            let mut index = 0;
            while index < names.len() {
                names[index] = $table[index].$name;
                index += 1;
            }
            names
        };
        &NAMES
    }};
}

/// Words of the places that take dumped water.
const DESTINATIONS: &[&str] = &["drain", "irrigation", "barrel"];

pub(super) static DUMP: &[Key] = &[
    key(
        "opens_at",
        Value(Kind::Temperature, "15 degC", "90 degC"),
        Needed,
        "aquastat opens at or above this temperature",
    ),
    key(
        "closes_at",
        Value(Kind::Temperature, "5 degC", "89 degC"),
        Otherwise("5 K below `opens_at`"),
        "aquastat closes at or below this temperature",
    ),
    key(
        "probe_height",
        Value(Kind::Share, "0 %", "100 %"),
        Needed,
        "height of its probe as a share of the tank's height",
    ),
    key(
        "probe",
        Probe(TANK_PROBES, "1 s", "1 h"),
        Default("60 s", "Common practice, no source: 20 s in a well, 180 s strapped on"),
        "how the probe is mounted, or its time constant",
    ),
    key(
        "least_open",
        Value(Kind::Time, "0 s", "1 h"),
        Default("60 s", "Common practice, no source: keeps a motorised valve from hunting"),
        "shortest opening",
    ),
    key(
        "longest_open",
        Value(Kind::Time, "5 min", "24 h"),
        Otherwise("no guard: a valve that sticks runs until somebody sees it"),
        "a guard shuts the dump when it has run so long without a break, until the aquastat has closed once",
    ),
    key(
        "timer",
        Table(TIMER),
        Otherwise("at any time of the day"),
        "a timer in series with the aquastat, as where the garden is watered by night",
    ),
    key(
        "flow",
        Value(Kind::Flow, "0.1 L/min", "200 L/min"),
        Otherwise("what the house's pressure drives through `line`; one of the two is needed"),
        "flow while it is open, as a bucket and a clock tell it",
    ),
    key(
        "line",
        Table(LINE),
        Otherwise("not known: nothing is said of speed and pressure in it"),
        "the pipes, valves and outlet between tank and place; beside a measured `flow` it tells where the pressure goes",
    ),
    key(
        "port_height",
        Value(Kind::Share, "0 %", "100 %"),
        Default("100 %", "Common practice, no source: the hottest water carries the most heat a litre"),
        "height of its port as a share of the tank's height",
    ),
    key(
        "months",
        Months,
        Default("all", "Common practice, no source: the aquastat alone decides"),
        "months in which it may open, such as `[May, Jun, Jul]`, or `all`",
    ),
    key(
        "leads_to",
        Words(DESTINATIONS),
        Otherwise("either this or `destinations`"),
        "where the water goes, if that takes all that comes",
    ),
    key(
        "destinations",
        List(DESTINATION),
        Otherwise("either this or `leads_to`"),
        "up to four places that take the water, the first in the list first; what none of them can take stays in the tank",
    ),
];

static TIMER: &[Key] = &[
    key("from", Value(Kind::Clock, "00:00", "24:00"), Needed, "time from which it lets the dump run"),
    key("lasts", Value(Kind::Time, "1 min", "24 h"), Needed, "for how long, past midnight too"),
];

static LINE: &[Key] = &[
    key("runs", List(RUN), Needed, "runs of pipe in the order of the water, each of one size"),
    key(
        "valves",
        List(VALVE),
        Otherwise("nothing but pipe takes pressure"),
        "valves, strainer, backflow preventer and the like",
    ),
    key(
        "outlet_above",
        Value(Kind::Length, "-30 m", "50 m"),
        Default("0 m", "Common practice, no source: the outlet as high as the pressure gauge"),
        "height of the outlet above the place where the supply's pressure is told; negative where it lies lower",
    ),
    key(
        "emitters",
        Table(EMITTERS),
        Otherwise("an open end"),
        "drip emitters or small sprinklers at the end",
    ),
];

static RUN: &[Key] = &[
    key("name", Text, Otherwise("its tube"), "its name in the report"),
    key(
        "tube",
        Words(names!(TUBES, name)),
        Otherwise("either this or `bore` with `material`"),
        "a common tube",
    ),
    key(
        "bore",
        Value(Kind::Length, "4 mm", "60 mm"),
        Otherwise("either this or `tube`"),
        "inner diameter of another tube",
    ),
    key(
        "material",
        Words(names!(MATERIALS, 0)),
        Otherwise("needed with `bore`"),
        "what that tube is made of",
    ),
    key("length", Value(Kind::Length, "0 m", "500 m"), Needed, "its length"),
    key(
        "bends",
        Count(0, 100),
        Default("0", "Common practice, no source: none was told"),
        "number of bends of 90 degrees in it",
    ),
    key(
        "buried",
        Value(Kind::Length, "0.1 m", "3 m"),
        Otherwise("it does not lie in the ground"),
        "depth at which it lies in the ground: the report says how far the water cools there",
    ),
];

static VALVE: &[Key] = &[
    key("name", Text, Needed, "its name in the report"),
    key(
        "kv",
        Value(Kind::Flow, "0.05 m3/h", "50 m3/h"),
        Otherwise("either this or `cv`"),
        "flow with 1 bar across it, as its papers give it: Kv",
    ),
    key(
        "cv",
        Value(Kind::Flow, "0.05 gpm", "60 gpm"),
        Otherwise("either this or `kv`"),
        "flow with 1 psi across it, as its papers give it: Cv",
    ),
];

static EMITTERS: &[Key] = &[
    key("count", Count(1, 5000), Needed, "how many"),
    key("flow", Value(Kind::Flow, "0.2 L/h", "20 L/min"), Needed, "flow of each"),
    key("at", Value(Kind::Pressure, "20 kPa", "500 kPa"), Needed, "pressure for which that flow is told"),
];

static DESTINATION: &[Key] = &[
    key("to", Words(DESTINATIONS), Needed, "what it is"),
    key("name", Text, Otherwise("what it is"), "its name in the report"),
    key(
        "months",
        Months,
        Default("all", "Common practice, no source: no month was left out"),
        "months in which it takes water, such as `[May, Jun, Jul]`, or `all`",
    ),
    key(
        "temper_to",
        Value(Kind::Temperature, "15 degC", "70 degC"),
        Otherwise("as hot as it left the tank"),
        "a thermostatic mixing valve in the line mixes it with cold water down to this",
    ),
    key(
        "area",
        Value(Kind::Area, "1 m2", "20000 m2"),
        Otherwise("irrigation only; without it the ground takes all that comes"),
        "planted area that is watered",
    ),
    key(
        "soil",
        Words(names!(SOILS, name)),
        Default("loam", "Common practice, no source: the middle of the kinds"),
        "its soil; with `area` only",
    ),
    key(
        "plants",
        Words(names!(PLANTS, name)),
        Default("cool-season lawn", "Common practice, no source: the commonest garden"),
        "what grows there; with `area` only",
    ),
    key(
        "watered_by",
        Words(names!(WATERINGS, name)),
        Default("drip", "Common practice, no source: warm stored water should not be sprayed"),
        "how the water gets there; with `area` only",
    ),
    key(
        "slope",
        Value(Kind::Share, "0 %", "60 %"),
        Default("0 %", "Common practice, no source: level ground"),
        "slope of the ground, rise over run; with `area` only",
    ),
    key(
        "volume",
        Value(Kind::Volume, "20 L", "50 m3"),
        Otherwise("barrel only; without it the barrel takes all that comes"),
        "volume of the barrel",
    ),
    key(
        "used",
        Value(Kind::DailyVolume, "0 L/day", "5000 L/day"),
        Otherwise("needed with `volume`"),
        "what is used out of the barrel each day",
    ),
];

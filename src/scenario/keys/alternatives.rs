//! Keys of other ways of cooling the same room.

use super::Absent::Otherwise;
use super::Takes::{Count, Number, Table, Value, Words};
use super::{Key, key};
use crate::units::Kind;

/// What holds where nothing is said of an investment.
const NO_INVESTMENT: &str = "no investment is counted, and no payback told";

/// Dearest thing that may be built.
const DEAREST: f64 = 1e8;

pub(super) static ALTERNATIVES: &[Key] = &[
    key("years", Count(1, 50), Otherwise("15"), "years over which investments are counted"),
    key("heat_pump", Table(HEAT_PUMP), Otherwise("as its keys say"), "the installation of this scenario"),
    key(
        "outdoor_fans",
        Table(OUTDOOR_FANS),
        Otherwise("as its keys say"),
        "fans that blow in outdoor air while it is cold enough",
    ),
    key(
        "air_conditioner",
        Table(AIR_CONDITIONER),
        Otherwise("as its keys say"),
        "a room air conditioner whose own thermostat is overridden by a controller with a probe on its coil",
    ),
];

static HEAT_PUMP: &[Key] = &[key(
    "investment",
    Number(0.0, DEAREST),
    Otherwise(NO_INVESTMENT),
    "what heat pump, tank, pipes and dump cost to build, in the currency of the prices",
)];

static OUTDOOR_FANS: &[Key] = &[
    key(
        "flow",
        Value(Kind::Flow, "10 m3/h", "50000 m3/h"),
        Otherwise("what carries the heaviest day's load away with outdoor air 4 K colder than the room"),
        "outdoor air that they blow in",
    ),
    key(
        "power",
        Value(Kind::Power, "0 W", "20 kW"),
        Otherwise("286 W for each cubic metre a second: 100 Pa at an efficiency of 0.35"),
        "electric power of all of them",
    ),
    key(
        "margin",
        Value(Kind::Difference, "0.5 K", "20 K"),
        Otherwise("2 K"),
        "how much colder than the room the outdoor air has to be; they go on until half of it is left",
    ),
    key(
        "coldest",
        Value(Kind::Temperature, "-30 degC", "15 degC"),
        Otherwise("the highest freezing point of what is stored"),
        "coldest air that may be blown in",
    ),
    key(
        "in_colder_air",
        Words(&["mix", "rest"]),
        Otherwise("`mix`"),
        "what happens in outdoor air colder than that: a mixing damper adds air of the room, or the fans rest",
    ),
    key(
        "helped_from",
        Value(Kind::Difference, "0.1 K", "10 K"),
        Otherwise("1 K"),
        "how far the probe rises over the thermostat's switching-on point until the machine beside the fans helps",
    ),
    key(
        "investment",
        Number(0.0, DEAREST),
        Otherwise(NO_INVESTMENT),
        "what they cost to build, in the currency of the prices",
    ),
];

static AIR_CONDITIONER: &[Key] = &[
    key(
        "cooling",
        Value(Kind::Power, "500 W", "60 kW"),
        Otherwise("the smallest common size that carries one and a quarter of the heaviest day's load away"),
        "cooling on its nameplate: indoor air 26.7 degC and 19.4 degC wet bulb, outdoor air 35 degC",
    ),
    key(
        "power",
        Value(Kind::Power, "100 W", "30 kW"),
        Otherwise(
            "the cooling over a COP of 3.19, a minimum of US law for room air conditioners made up to 2026",
        ),
        "electric power on its nameplate",
    ),
    key(
        "fans",
        Value(Kind::Power, "0 W", "5 kW"),
        Otherwise("12 % of its power"),
        "the part of it that its fans take, indoors and outdoors together",
    ),
    key(
        "frost",
        Value(Kind::Mass, "0.01 kg", "20 kg"),
        Otherwise("0.1 kg for each kilowatt of its nameplate"),
        "frost that its coil bears until the probe on it stops the compressor and the fan thaws it",
    ),
    key(
        "investment",
        Number(0.0, DEAREST),
        Otherwise(NO_INVESTMENT),
        "what it costs to build in, in the currency of the prices",
    ),
];

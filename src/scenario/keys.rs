//! Every key of a scenario: meaning, what it takes, and what holds when it is left out.
//!
//! The reader, the suggestions for misspelt keys and the table in `docs/SCENARIO.md` all come from here.

mod alternatives;
mod dump;
mod prices;

use crate::draw::Pattern;
use crate::household::UnitSystem;
use crate::room::MATERIAL_NAMES;
use crate::tank::loss::CLASSES;
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

/// Months as they are written.
pub const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

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
    key("room", Table(ROOM), Needed, "the cold room"),
    key("cooler", Table(COOLER), Needed, "what cools the room"),
    key("thermostat", Table(THERMOSTAT), Needed, "the room thermostat, which rules the cooler"),
    key("tank", Table(TANK), Needed, "the hot-water tank"),
    key("hot_water", Table(HOT_WATER), Needed, "the hot water used"),
    key("booster", Table(BOOSTER), Otherwise("no booster"), "a tankless heater after the tank"),
    key(
        "element",
        Table(ELEMENT),
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

static ROOM: &[Key] = &[
    key("length", Value(Kind::Length, "0.5 m", "30 m"), Needed, "inner length"),
    key("width", Value(Kind::Length, "0.5 m", "30 m"), Needed, "inner width"),
    key("height", Value(Kind::Length, "1 m", "6 m"), Needed, "inner height"),
    key("surfaces", List(SURFACE), Needed, "walls, floor and ceiling, each with what it faces"),
    key("leakage", Table(LEAKAGE), Otherwise("as its keys say"), "air that leaks in"),
    key("doors", List(DOOR), Otherwise("no door is ever opened"), "doors"),
    key("people", Table(PEOPLE), Otherwise("nobody works in the room"), "people at work in the room"),
    key("lights", Table(LIGHTS), Otherwise("no lights"), "lights"),
    key("produce", List(PRODUCE), Otherwise("nothing is stored that breathes"), "what is stored"),
    key(
        "contents",
        Table(CONTENTS),
        Otherwise("as its keys say"),
        "heat stored in crates, shelves and the inner skin of the room",
    ),
    key("food", Table(FOOD), Otherwise("as its keys say"), "temperatures that the food may have"),
    key(
        "frost_heater",
        Table(FROST_HEATER),
        Otherwise("no heater"),
        "an electric heater that keeps the room from freezing; a contact keeps it off while the cooler runs",
    ),
    key(
        "condensate_bucket",
        Value(Kind::Volume, "0.5 L", "500 L"),
        Otherwise("the water off the coil runs to a drain"),
        "bucket in which the water off the coil is caught",
    ),
    key(
        "opens_from_inside",
        Words(&["yes", "no"]),
        Otherwise("not known, and asked for"),
        "whether every door opens from inside, locked or not",
    ),
    key(
        "alarm",
        Words(&["none", "too warm", "too cold", "both"]),
        Otherwise("not known, and asked for"),
        "what the room's own alarms, apart from thermostat and cooler, tell of",
    ),
];

static SURFACE: &[Key] = &[
    key("name", Text, Needed, "its name in the report"),
    key("area", Value(Kind::Area, "0.01 m2", "1000 m2"), Needed, "area, measured inside"),
    key(
        "u_value",
        Value(Kind::UValue, "0.01 W/m2K", "10 W/m2K"),
        Otherwise("one of this, `r_value`, `layers`, `slab` and `basement_wall`"),
        "U value from air to air, or from air to ground",
    ),
    key(
        "r_value",
        Value(Kind::RValue, "0.05 m2K/W", "20 m2K/W"),
        Otherwise("one of this, `u_value`, `layers`, `slab` and `basement_wall`"),
        "R value from air to air, films included",
    ),
    key(
        "layers",
        List(LAYER),
        Otherwise("one of this, `u_value`, `r_value`, `slab` and `basement_wall`"),
        "what it is made of; films of air are added by ISO 6946",
    ),
    key(
        "slab",
        Table(SLAB),
        Otherwise("one of this, `u_value`, `r_value`, `layers` and `basement_wall`"),
        "a floor that rests on the ground, reckoned by ISO 13370 against the outdoor air of the whole year",
    ),
    key(
        "basement_wall",
        Table(BASEMENT_WALL),
        Otherwise("one of this, `u_value`, `r_value`, `layers` and `slab`"),
        "a wall below ground, reckoned by ISO 13370 against the outdoor air of the whole year",
    ),
    key(
        "lies",
        Words(&["wall", "ceiling", "floor"]),
        Otherwise("needed with `layers`"),
        "how it lies: air clings to it more where the heat flows down",
    ),
    key(
        "bridges",
        List(BRIDGE),
        Otherwise("no seams are reckoned"),
        "seams along which heat passes the insulation: edges, sills, a slab that runs through",
    ),
    key(
        "penetrations",
        List(PENETRATION),
        Otherwise("nothing is reckoned to pass through"),
        "single things that carry heat through the insulation: pipes, anchors, ducts",
    ),
    key("faces", Beyond(&[OUTDOORS, GROUND]), Needed, "what lies on its other side"),
    key(
        "sun",
        Table(SUN),
        Otherwise("neither sun nor night sky is reckoned: its outer side is as warm as the outdoor air"),
        "sun and night sky on its outer side, where it faces outdoors; needs a weather file with radiation",
    ),
    key(
        "depth",
        Value(Kind::Length, "0 m", "10 m"),
        Otherwise("needed where it faces the ground and is neither `slab` nor `basement_wall`"),
        "depth of the ground it touches: the slab's for a floor, the middle of the wall for a wall",
    ),
    key(
        "warmer_by",
        Value(Kind::Difference, "0 K", "15 K"),
        Default(
            "0 K",
            "Common practice, no source: as undisturbed ground; under a heated house it is some 2 to 5 K warmer",
        ),
        "how much warmer the ground is than undisturbed ground",
    ),
];

static BRIDGE: &[Key] = &[
    key("name", Text, Needed, "what it is"),
    key("length", Value(Kind::Length, "1 cm", "1000 m"), Needed, "its length"),
    key(
        "per_length",
        Value(Kind::LinearLoss, "0.001 W/mK", "5 W/mK"),
        Needed,
        "heat that passes along it beside what the U value counts (linear thermal transmittance)",
    ),
];

static PENETRATION: &[Key] = &[
    key("name", Text, Needed, "what it is"),
    key("count", Count(1, 10_000), Otherwise("one"), "how many"),
    key(
        "each",
        Value(Kind::Conductance, "0.0001 W/K", "50 W/K"),
        Needed,
        "heat that each carries beside what the U value counts (point thermal transmittance)",
    ),
];

static SUN: &[Key] = &[
    key(
        "azimuth",
        Number(0.0, 360.0),
        Otherwise("needed unless `slope` is 0"),
        "compass direction that it looks to, degrees from north: east 90, south 180, west 270",
    ),
    key(
        "slope",
        Number(0.0, 90.0),
        Otherwise("90, an upright wall"),
        "degrees from level: 90 an upright wall, 0 a flat roof",
    ),
    key(
        "color",
        Words(&["light", "medium", "dark"]),
        Otherwise("either this or `absorptance`; dark if neither is said"),
        "its color outside, for the share of the sun that it takes up: light 45 %, medium 67.5 %, dark 90 %",
    ),
    key(
        "absorptance",
        Value(Kind::Share, "5 %", "98 %"),
        Otherwise("either this or `color`"),
        "share of the sun that it takes up",
    ),
    key(
        "ground_reflects",
        Value(Kind::Share, "0 %", "90 %"),
        Default("20 %", "Common practice, no source: grass and soil; fresh snow has about 70 %"),
        "share of the sun that the ground before it throws back",
    ),
    key(
        "shade",
        Value(Kind::Share, "0 %", "100 %"),
        Default("0 %", "Common practice, no source: nothing stands before it unless something is named"),
        "share of the sun's direct beam that trees, eaves or neighbours keep off through the year",
    ),
    key(
        "film",
        Value(Kind::RValue, "0.02 m2K/W", "0.15 m2K/W"),
        Default(
            "0.04 m2K/W",
            "Second hand: ISO 6946:2017, table 7, as in the U value of layers; in still summer air it is more, and the sun warms more (0.059 at 17 W/m2K)",
        ),
        "resistance of the air at its outer side",
    ),
];

static SLAB: &[Key] = &[
    key(
        "perimeter",
        Value(Kind::Length, "0.1 m", "200 m"),
        Needed,
        "length of its edge toward outdoors; edges inside the house do not count",
    ),
    key(
        "wall_thickness",
        Value(Kind::Length, "1 cm", "2 m"),
        Needed,
        "thickness of the outer walls at the ground",
    ),
    key(
        "below",
        Value(Kind::Length, "0 m", "5 m"),
        Default(
            "0 m",
            "Common practice, no source: a slab on the ground; a basement's floor lies 1.5 to 2.5 m below",
        ),
        "depth of the floor below the ground outside",
    ),
    key(
        "soil",
        Words(&["clay", "sand", "rock"]),
        Default(
            "sand",
            "Common practice, no source: 2.0 W/mK where the soil is not known; clay has 1.5, rock 3.5",
        ),
        "soil: clay or silt, sand or gravel, rock",
    ),
    key("layers", List(LAYER), Otherwise("no insulation is reckoned"), "what the floor is made of"),
];

static BASEMENT_WALL: &[Key] = &[
    key(
        "below",
        Value(Kind::Length, "10 cm", "5 m"),
        Needed,
        "depth of its foot below the ground outside; a wall's part above ground is a surface of its own",
    ),
    key(
        "soil",
        Words(&["clay", "sand", "rock"]),
        Default(
            "sand",
            "Common practice, no source: 2.0 W/mK where the soil is not known; clay has 1.5, rock 3.5",
        ),
        "soil: clay or silt, sand or gravel, rock",
    ),
    key("layers", List(LAYER), Needed, "what the wall is made of"),
    key(
        "floor",
        Value(Kind::RValue, "0.1 m2K/W", "20 m2K/W"),
        Otherwise("as the wall's own: it counts for little"),
        "R value of the floor at its foot, films included",
    ),
];

static LAYER: &[Key] = &[
    key("thickness", Value(Kind::Length, "0.1 mm", "2 m"), Needed, "its thickness"),
    key(
        "material",
        Words(&MATERIAL_NAMES),
        Otherwise("either this or `conductivity`"),
        "its material, for a conductivity from the table",
    ),
    key(
        "conductivity",
        Value(Kind::LinearLoss, "0.005 W/mK", "100 W/mK"),
        Otherwise("either this or `material`"),
        "its conductivity",
    ),
    key(
        "framing",
        Table(FRAMING),
        Otherwise("nothing interrupts the layer"),
        "studs, joists or battens of wood that take a share of its area",
    ),
];

static FRAMING: &[Key] = &[
    key(
        "share",
        Value(Kind::Share, "0.1 %", "60 %"),
        Needed,
        "share of the area: stud width over spacing, and plates and headers with it; studs of 38 mm every 400 mm with plates make some 15 % (common practice, no source)",
    ),
    key(
        "material",
        Words(&MATERIAL_NAMES),
        Otherwise("either this or `conductivity`"),
        "its material, for a conductivity from the table",
    ),
    key(
        "conductivity",
        Value(Kind::LinearLoss, "0.005 W/mK", "100 W/mK"),
        Otherwise("either this or `material`"),
        "its conductivity",
    ),
];

static LEAKAGE: &[Key] = &[
    key(
        "air_changes",
        Value(Kind::Rate, "0 per hour", "20 per hour"),
        Default("0.3 per hour", "Common practice, no source: 0.05 in a sealed room, 1 with a loose door"),
        "air changes of the room's volume",
    ),
    key(
        "from",
        Beyond(&[OUTDOORS]),
        Otherwise("where the first door opens to; without a door, outdoors"),
        "where the air comes from",
    ),
];

static DOOR: &[Key] = &[
    key("width", Value(Kind::Length, "0.3 m", "4 m"), Needed, "clear width"),
    key("height", Value(Kind::Length, "0.3 m", "4 m"), Needed, "clear height"),
    key("opens_to", Beyond(&[OUTDOORS]), Needed, "where it leads"),
    key(
        "openings",
        Monthly(Kind::DailyCount, "0 per day", "500 per day"),
        Needed,
        "openings a day, or twelve values for the days of each month",
    ),
    key("open_for", Value(Kind::Time, "1 s", "1 h"), Needed, "how long each opening lasts"),
    key(
        "first",
        Value(Kind::Clock, "00:00", "24:00"),
        Default("07:00", "Common practice, no source: openings are spread evenly over the waking day"),
        "time of the first opening",
    ),
    key(
        "last",
        Value(Kind::Clock, "00:00", "24:00"),
        Default("21:00", "Common practice, no source: openings are spread evenly over the waking day"),
        "time of the last opening",
    ),
    key(
        "flow_factor",
        Value(Kind::Share, "1 %", "120 %"),
        Default(
            "80 %",
            "From memory, to be verified: doorway flow factor 0.8 for air at least 11 K apart, 1.1 below (ASHRAE Handbook Refrigeration, chapter 24)",
        ),
        "share of the fully developed exchange that an opening reaches",
    ),
    key(
        "curtain",
        Value(Kind::Share, "0 %", "100 %"),
        Default(
            "0 %",
            "Common practice, no source: no strip curtain unless one is named; a good one stops about 90 %",
        ),
        "share of the exchange that a strip curtain stops",
    ),
    key(
        "curtain_in",
        Months,
        Default("all", "Common practice, no source: nobody takes it down"),
        "months in which the curtain hangs there",
    ),
    key(
        "propped_open",
        Table(PROPPED_OPEN),
        Otherwise("never"),
        "a time each day at which it stands open, as while the harvest is carried in",
    ),
];

static PROPPED_OPEN: &[Key] = &[
    key("from", Value(Kind::Clock, "00:00", "24:00"), Needed, "when it is opened"),
    key("lasts", Value(Kind::Time, "1 min", "24 h"), Needed, "how long it stays open"),
    key("months", Months, Needed, "in which months, such as `[Sep, Oct]`, or `all`"),
];

static PEOPLE: &[Key] = &[key(
    "time",
    Value(Kind::DailyTime, "0 min/day", "24 h/day"),
    Needed,
    "time that somebody works in the room",
)];

static LIGHTS: &[Key] = &[
    key("power", Value(Kind::Power, "0 W", "5 kW"), Needed, "power of the lights"),
    key("time", Value(Kind::DailyTime, "0 min/day", "24 h/day"), Needed, "time they burn"),
];

static PRODUCE: &[Key] = &[
    key("crop", Crop, Needed, "crop, by its name in the crop table"),
    key(
        "mass",
        Monthly(Kind::Mass, "0 kg", "50000 kg"),
        Needed,
        "mass stored, or twelve masses, one for each month",
    ),
    key(
        "arrives_at",
        Value(Kind::Temperature, "-5 degC", "45 degC"),
        Otherwise("needed where the mass changes"),
        "temperature at which it is carried in",
    ),
    key(
        "carried_in",
        List(CARRIED_IN),
        Otherwise("by the twelve masses"),
        "what is carried in, by date; `mass` is then what is there at the turn of the year",
    ),
    key(
        "taken_out",
        List(TAKEN_OUT),
        Otherwise("by the twelve masses"),
        "what is taken out, by date; through the year as much as is carried in",
    ),
];

static CARRIED_IN: &[Key] = &[
    key("on", Date, Needed, "day, at its first instant"),
    key("mass", Value(Kind::Mass, "0.1 kg", "50000 kg"), Needed, "mass carried in"),
    key(
        "arrives_at",
        Value(Kind::Temperature, "-5 degC", "45 degC"),
        Otherwise("`arrives_at` of the crop"),
        "temperature at which this load is carried in",
    ),
];

static TAKEN_OUT: &[Key] = &[
    key("on", Date, Needed, "day, at its first instant"),
    key("mass", Value(Kind::Mass, "0.1 kg", "50000 kg"), Needed, "mass taken out"),
];

static CONTENTS: &[Key] = &[
    key(
        "crates",
        Value(Kind::HeatCapacity, "0 kJ/K", "20000 kJ/K"),
        Otherwise("0.16 kJ/K for each kilogram of the fullest month"),
        "heat capacity of crates and heavy shelves",
    ),
    key(
        "inner_skin",
        Value(Kind::ArealCapacity, "0 kJ/m2K", "500 kJ/m2K"),
        Default(
            "20 kJ/m2K",
            "Common practice, no source: some 20 mm of board or 10 mm of concrete inside the insulation",
        ),
        "heat capacity of what lies inside the insulation, per area of the room",
    ),
    key(
        "shelving",
        Value(Kind::HeatCapacity, "0 kJ/K", "1000 kJ/K"),
        Default("10 kJ/K", "Common practice, no source: some 20 kg of thin steel that follows the air"),
        "heat capacity of light shelving that follows the air",
    ),
    key(
        "exchange",
        Value(Kind::UValue, "0.5 W/m2K", "50 W/m2K"),
        Default(
            "8 W/m2K",
            "Common practice, no source: still air with some stirring by the fan, radiation included",
        ),
        "heat transfer between air and contents",
    ),
    key(
        "exchange_area",
        Value(Kind::Area, "0.1 m2", "5000 m2"),
        Otherwise("inner surface of the room and 0.04 m2 for each kilogram stored"),
        "area of that transfer",
    ),
    key(
        "half_cooling",
        Value(Kind::Time, "1 h", "96 h"),
        Default(
            "12 h",
            "Common practice, no source: 6 to 12 h for boxes stacked loose, 12 to 36 h for bins and sacks",
        ),
        "time in which what is carried in comes half the way to the air's temperature",
    ),
    key(
        "respiration",
        Words(&["low", "middle", "high"]),
        Default(
            "middle",
            "Common practice, no source: the middle of the printed range; sources differ by a factor of about two",
        ),
        "which value of the printed range of respiration is taken; a crop without a range keeps its middle",
    ),
];

static FOOD: &[Key] = &[
    key(
        "warmest",
        Value(Kind::Temperature, "-5 degC", "25 degC"),
        Default(
            "7 degC",
            "Common practice, no source: roots and cabbage keep for months up to about 7 °C; milk and meat want 5 °C or less",
        ),
        "warmest that the food may become",
    ),
    key(
        "coldest",
        Value(Kind::Temperature, "-10 degC", "20 degC"),
        Otherwise("the highest freezing point of what is stored; 0 degC if nothing is"),
        "coldest that the food may become",
    ),
    key(
        "perishable",
        Words(&["yes", "no"]),
        Otherwise("not known"),
        "whether milk, meat, fish, eggs or cooked food are kept there too",
    ),
];

static COOLER: &[Key] =
    &[key("heat_pump", Table(HEAT_PUMP), Needed, "a heat pump that stands in the room and heats the tank")];

/// Refrigerants.
pub const REFRIGERANTS: &[&str] = &["R744", "R134a", "R290", "R1234yf", "R32", "R410A"];
/// Ways of running the cycle.
pub const CYCLES: &[&str] = &["plain", "suction exchanger", "110 bar", "ordinary", "deep subcooling"];

/// How the heat gets into the water.
pub const EXCHANGERS: &[&str] = &["plate", "tank coil"];

/// Whose thermostat makes the pump run.
pub const CALLERS: &[&str] = &["room", "tank", "both"];
/// What is wired to the unit's input for its tank sensor.
pub const SENSOR_PLACES: &[&str] = &["tank", "fixed resistor"];
/// What the room thermostat's contact does to the unit.
pub const CONTACTS: &[&str] = &["calls", "permits"];

static CLOSED_LOOP: &[Key] = &[
    key(
        "effectiveness",
        Value(Kind::Share, "20 %", "99 %"),
        Otherwise("75 % with a plate exchanger, 50 % with a coil in the tank"),
        "of the exchanger at the running flows, which are taken as alike on both sides: what the loop's water cools by over how much warmer than the tank's it enters",
    ),
    key(
        "coil_from",
        Value(Kind::Share, "0 %", "90 %"),
        Otherwise("a plate exchanger outside the tank"),
        "height of the lower end of a coil within the tank, in place of a plate exchanger, as a share of the tank's height; the ports of the pump are then without use",
    ),
];

static TANK_SENSOR: &[Key] = &[
    key(
        "height",
        Value(Kind::Share, "0 %", "100 %"),
        Default("50 %", "Common practice, no source: sensor pockets sit half-way up"),
        "height of its sensor as a share of the tank's, from the bottom",
    ),
    key(
        "calls_at",
        Value(Kind::Temperature, "5 degC", "85 degC"),
        Otherwise("5 K below `enough_at`"),
        "it calls for heat at or below this",
    ),
    key(
        "enough_at",
        Value(Kind::Temperature, "10 degC", "90 degC"),
        Otherwise("50 degC, or 5 K below the pump's outlet or highest inlet where that is lower"),
        "it has enough at or above this",
    ),
    key(
        "unit_reads",
        Words(SENSOR_PLACES),
        Otherwise("not known"),
        "what the unit's own input for a tank sensor is wired to",
    ),
];

static SLOW_RUNNING: &[Key] = &[
    key("least_output", Value(Kind::Share, "10 %", "95 %"), Needed, "smallest share of its full output"),
    key(
        "gain_at_half",
        Value(Kind::Share, "0 %", "60 %"),
        Default(
            "0 %",
            "Second hand: summary of laboratory tests of 2003, in which variable-speed units came out no better than on-off ones; about 10 % is possible with a suitable compressor",
        ),
        "how much better its COP is at half output",
    ),
];

static DEFROST: &[Key] = &[
    key(
        "every",
        Value(Kind::Time, "10 min", "24 h"),
        Otherwise("60 min, where neither `by_clock` nor `at_frost` is given"),
        "a timer that counts running: time that it runs with a frosted coil before it melts the frost",
    ),
    key(
        "by_clock",
        Value(Kind::Time, "10 min", "48 h"),
        Otherwise("either this, `every` or `at_frost`"),
        "a timer that goes by the clock: from one beginning to the next, whether it runs or rests and with or without frost",
    ),
    key(
        "at_frost",
        Value(Kind::Mass, "10 g", "50 kg"),
        Otherwise("either this, `every` or `by_clock`"),
        "on demand, by what a sensor at the coil sees: frost at which it begins. Weigh the water that one defrost drains; not known: some 0.5 kg for each kilowatt that it takes from the room",
    ),
    key(
        "takes",
        Value(Kind::Time, "1 min", "60 min"),
        Default(
            "5 min",
            "Checked: original read (abstract), Kropas, Streckiene and Bielskus, Energies 14(18) 2021, 5737: about 5 min",
        ),
        "how long it does not cool then",
    ),
    key(
        "power",
        Value(Kind::Power, "0 W", "20 kW"),
        Default("0 W", "Common practice, no source: above freezing the room's air melts the frost"),
        "power drawn in that time: 0 W where it waits, the heater's, or the compressor's for hot gas",
    ),
    key(
        "thaws_in",
        Value(Kind::Time, "1 min", "24 h"),
        Otherwise("`takes` where `power` is 0 W, else 30 min"),
        "rest in room air above freezing after which the frost has thawed by itself; `every` and `at_frost` then count from nothing",
    ),
];

static COIL_PROBE: &[Key] = &[
    key(
        "on",
        Words(&["fins", "refrigerant pipe"]),
        Needed,
        "what it is fixed to: the pipe in which the refrigerant evaporates is some degrees colder than the fins",
    ),
    key(
        "stops_below",
        Value(Kind::Temperature, "-25 degC", "10 degC"),
        Needed,
        "temperature of the probe at or below which the unit stops",
    ),
    key(
        "starts_above",
        Value(Kind::Temperature, "-20 degC", "15 degC"),
        Needed,
        "temperature of the probe at or above which it may run again; its fan turns until then",
    ),
    key(
        "follows_in",
        Value(Kind::Time, "5 s", "30 min"),
        Default(
            "3 min",
            "Common practice, no source: a probe between fins follows in 2 to 5 min while the fan turns",
        ),
        "its time constant",
    ),
];

static FROST_PROTECTION: &[Key] = &[
    key(
        "below",
        Value(Kind::Temperature, "-10 degC", "15 degC"),
        Default("4 degC", "Common practice, no source: often on below 3 to 5 °C of air"),
        "room air below which it acts",
    ),
    key(
        "heater",
        Value(Kind::Power, "1 W", "2 kW"),
        Otherwise("either this or `circulation`"),
        "power of the heater that is switched on",
    ),
    key(
        "circulation",
        Table(CIRCULATION),
        Otherwise("either this or `heater`"),
        "the circulator turns now and then",
    ),
];

static CIRCULATION: &[Key] = &[
    key("share", Value(Kind::Share, "1 %", "100 %"), Needed, "share of the time in which it turns"),
    key(
        "flow",
        Value(Kind::Flow, "0.1 L/min", "300 L/min"),
        Otherwise("that of `multi_pass`; 1.5 L/min in single pass"),
        "water flow while it turns",
    ),
];

static HEAT_PUMP: &[Key] = &[
    key("refrigerant", Words(REFRIGERANTS), Needed, "refrigerant, from the nameplate"),
    key(
        "cycle",
        Words(CYCLES),
        Otherwise("`plain` for R744, `ordinary` for the others"),
        "R744: `plain`, `suction exchanger` or `110 bar`; others: `ordinary` (5 K of subcooling) or `deep subcooling`",
    ),
    key(
        "exchanger",
        Words(EXCHANGERS),
        Default(
            "plate",
            "Common practice, no source: a unit with a circulator has a plate or tube-in-tube exchanger",
        ),
        "how its heat gets into the water: `plate`, where the water passes through the unit, or `tank coil`, where the refrigerant passes through a coil around or in the tank",
    ),
    key(
        "data_sheet",
        List(SHEET_POINT),
        Otherwise("either this or `nominal_heat`"),
        "lines of its data sheet, one or more; one with cold and one with warm water tell most",
    ),
    key(
        "nominal_heat",
        Value(Kind::Power, "100 W", "200 kW"),
        Otherwise("either this or `data_sheet`"),
        "heat output it is sold under, where there is no data sheet: taken at room air 7 degC, water 10 to 55 degC",
    ),
    key(
        "nameplate_power",
        Value(Kind::Power, "30 W", "100 kW"),
        Otherwise("not known"),
        "largest power drawn, from the nameplate: no line of the data sheet may be above it",
    ),
    key(
        "single_pass",
        Table(SINGLE_PASS),
        Otherwise("either this or `multi_pass`"),
        "the water is heated to its final temperature in one pass",
    ),
    key(
        "multi_pass",
        Table(MULTI_PASS),
        Otherwise("either this or `single_pass`"),
        "the water is heated a few degrees in each of many passes",
    ),
    key(
        "circulator",
        Value(Kind::Power, "0 W", "1 kW"),
        Otherwise("10 W single pass, 40 W multi pass"),
        "power of the pump that moves the water",
    ),
    key(
        "closed_loop",
        Table(CLOSED_LOOP),
        Otherwise("the tank's own water passes the pump"),
        "a closed loop of its own water between pump and tank, with a plate exchanger and a second circulator at the tank, or a coil in the tank",
    ),
    key(
        "called_by",
        Words(CALLERS),
        Default(
            "room",
            "Common practice, no source: the room's thermostat rules where the pump stands there to cool the room",
        ),
        "whose thermostat makes it run: the room's, one at the tank, or both in series",
    ),
    key(
        "tank_sensor",
        Table(TANK_SENSOR),
        Otherwise("as its keys say"),
        "thermostat at the tank; it rules with `called_by` of `tank` or `both`, else the report only compares",
    ),
    key(
        "slow_running",
        Table(SLOW_RUNNING),
        Otherwise("it runs at full output or not at all"),
        "how slowly it can run, if its compressor has a variable speed",
    ),
    key(
        "frosted_output",
        Value(Kind::Share, "40 %", "100 %"),
        Default("95 %", "Common practice, no source: field and laboratory papers found 86 to 100 %"),
        "share of heat and of COP that it keeps while its coil is frosted",
    ),
    key(
        "defrost",
        Table(DEFROST),
        Otherwise("not known: frost melts while it rests"),
        "its own way of getting rid of frost, from its manual: after so much running, by the clock, or on demand",
    ),
    key(
        "coil_probe",
        Table(COIL_PROBE),
        Otherwise("none, or one that never acts"),
        "a probe on the coil that stops the unit when the coil gets too cold, as in controllers added to it",
    ),
    key(
        "frost_protection",
        Table(FROST_PROTECTION),
        Otherwise("not known: none"),
        "how it keeps the water in it from freezing while it rests, from its manual; often on below 3 to 5 °C of air, so always in a cold room",
    ),
    key(
        "standby",
        Value(Kind::Power, "0 W", "500 W"),
        Default(
            "10 W",
            "Common practice, no source: controls and crankcase warmth of 5 to 30 W, drawn all year inside the room",
        ),
        "power drawn all year, running or not",
    ),
    key(
        "start_lag",
        Value(Kind::Time, "0 s", "10 min"),
        Default(
            "30 s",
            "Derived here: measured cycling losses (degradation 0.09 to 0.21) mean 27 to 63 s at three starts an hour",
        ),
        "time constant with which its heat builds up after a start",
    ),
    key(
        "resting_fan",
        Value(Kind::Power, "0 W", "2 kW"),
        Default("0 W", "Common practice, no source: the evaporator fan stops with the compressor"),
        "fan power while it rests",
    ),
    key(
        "airflow",
        Value(Kind::Flow, "20 m3/h", "50000 m3/h"),
        Otherwise("450 m3/h for each kilowatt taken from the room at the first line of the data sheet"),
        "air over its evaporator",
    ),
    key(
        "highest_inlet",
        Value(Kind::Temperature, "15 degC", "80 degC"),
        Otherwise("45 degC for R744, 55 degC for the others"),
        "water from the tank that stops it",
    ),
    key(
        "inlet_differential",
        Value(Kind::Difference, "0.5 K", "30 K"),
        Default("5 K", "Common practice, no source: limit switches have 3 to 8 K"),
        "how far that water must cool before it may run again",
    ),
    key(
        "lowest_air",
        Value(Kind::Temperature, "-30 degC", "20 degC"),
        Default(
            "-5 degC",
            "Common practice, no source: units with a defrost run below -10 °C, units without one stop between 5 and 8 °C and cannot keep a cold room: see the nameplate",
        ),
        "coldest room air it runs at",
    ),
    key(
        "highest_air",
        Value(Kind::Temperature, "0 degC", "50 degC"),
        Default("35 degC", "Common practice, no source: sheets allow 32 to 43 °C"),
        "warmest room air it runs at",
    ),
    key("hot_pipe", Table(HOT_PIPE), Otherwise("as its keys say"), "hot pipe inside the room"),
    key(
        "shell_outside",
        Value(Kind::Share, "0 %", "100 %"),
        Default("0 %", "Common practice, no source: it stands wholly inside the room"),
        "share of its casing that stands outside the room",
    ),
    key(
        "charge",
        Value(Kind::Mass, "20 g", "20 kg"),
        Otherwise("not known"),
        "refrigerant charge, from the nameplate",
    ),
    key(
        "listed_for_room",
        Words(&["yes", "no"]),
        Otherwise("not known"),
        "whether its papers allow it in a room of this size and kind",
    ),
];

static SHEET_POINT: &[Key] = &[
    key("room_air", Value(Kind::Temperature, "-20 degC", "45 degC"), Needed, "air at its evaporator"),
    key("water_in", Value(Kind::Temperature, "0 degC", "70 degC"), Needed, "water entering"),
    key("water_out", Value(Kind::Temperature, "20 degC", "95 degC"), Needed, "water leaving"),
    key("heat_output", Value(Kind::Power, "100 W", "200 kW"), Needed, "heat to the water"),
    key(
        "cop",
        Number(1.05, 10.0),
        Otherwise("from `power`; without either, from the cycle calculated for its refrigerant"),
        "heat to the water over power drawn; beside `power` the two have to agree",
    ),
    key(
        "power",
        Value(Kind::Power, "30 W", "100 kW"),
        Otherwise("from `cop`"),
        "power of compressor, fan and controls",
    ),
    key(
        "defrost",
        Words(&["included", "not included"]),
        Otherwise("`included` where the air is below 7 degC"),
        "whether heat and power are means over frosting and defrosting",
    ),
];

/// A key of a former version: the table it stood in, its name, its name now and how that is written.
pub struct FormerKey {
    /// Path of the table.
    pub table: &'static str,
    /// Its former name.
    pub name: &'static str,
    /// The list whose only item it has become.
    pub now: &'static str,
    /// How it is written now.
    pub help: &'static str,
}

/// Keys of former versions.
pub static FORMER_KEYS: &[FormerKey] = &[FormerKey {
    table: "cooler.heat_pump",
    name: "rated",
    now: "data_sheet",
    help: "it is now a list of lines of the data sheet: write `data_sheet:` and put `- ` before the line's first key",
}];

static SINGLE_PASS: &[Key] = &[
    key("outlet", Value(Kind::Temperature, "30 degC", "90 degC"), Needed, "water temperature aimed at"),
    key(
        "least_rise",
        Value(Kind::Difference, "1 K", "40 K"),
        Default("5 K", "Common practice, no source: the least flow control of such units"),
        "least rise; with warm water the outlet passes its aim",
    ),
    key(
        "highest_outlet",
        Value(Kind::Temperature, "30 degC", "95 degC"),
        Otherwise("90 degC for R744, 65 degC for the others, or `outlet` where that is more"),
        "outlet that stops it",
    ),
];

static MULTI_PASS: &[Key] = &[
    key(
        "flow",
        Value(Kind::Flow, "0.5 L/min", "300 L/min"),
        Otherwise("needed; with a tank coil, what the full heat warms by 5 K"),
        "water flow",
    ),
    key(
        "highest_outlet",
        Value(Kind::Temperature, "30 degC", "90 degC"),
        Default("60 degC", "Common practice, no source: high-pressure limits act at 60 to 65 °C of water"),
        "outlet that stops it",
    ),
];

static HOT_PIPE: &[Key] = &[
    key(
        "length",
        Value(Kind::Length, "0 m", "100 m"),
        Otherwise("3 m; with a tank coil 0 m"),
        "its length inside the room",
    ),
    key(
        "loss",
        Value(Kind::LinearLoss, "0 W/mK", "5 W/mK"),
        Default(
            "0.21 W/mK",
            "Derived here: 15 mm tube, 13 mm foam of 0.040 W/mK, film 9 W/m2K; bare tube 0.47",
        ),
        "its heat loss per length",
    ),
    key(
        "heat_capacity",
        Value(Kind::LinearCapacity, "0.01 kJ/mK", "20 kJ/mK"),
        Default(
            "0.74 kJ/mK",
            "Derived here: 0.15 L of water and 0.28 kg of copper a metre in a half-inch tube",
        ),
        "heat capacity of tube and water per length",
    ),
    key(
        "exchanger_capacity",
        Value(Kind::HeatCapacity, "0.1 kJ/K", "200 kJ/K"),
        Default("2.6 kJ/K", "Derived here: 1 kg of steel plates and half a litre of water"),
        "heat capacity of the unit's exchanger and the water in it, which cool with the pipe after each stop",
    ),
    key(
        "exchanger_loss",
        Value(Kind::Conductance, "0 W/K", "20 W/K"),
        Otherwise("0.2 W/K; with a tank coil 0 W/K"),
        "heat that the exchanger loses to the room per degree",
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
        "months in which the cooler is switched off and the room given up, such as `[Jul]`: what is stored then gets warm, an empty room is no matter",
    ),
    key(
        "contact",
        Words(CONTACTS),
        Otherwise("not known"),
        "whether its closed contact makes the unit run, or only permits it to run when the unit's own control wants to",
    ),
];

/// What a tank was built as.
pub const BUILT_AS: &[&str] = &["storage tank", "electric water heater", "gas water heater"];

// What is said of one tank, and of a second one alike.
const TANK_VOLUME: Key = key("volume", Value(Kind::Volume, "30 L", "10000 L"), Needed, "volume of water");
const TANK_HEIGHT: Key = key(
    "height",
    Value(Kind::Length, "0.3 m", "5 m"),
    Otherwise("2.5 times the diameter"),
    "height of the water",
);
const TANK_STANDING_LOSS: Key = key(
    "standing_loss",
    Value(Kind::Power, "5 W", "1000 W"),
    Otherwise("class C unless `energy_class`, `loss` or `insulation` is given"),
    "heat lost at 45 K over its surroundings, as on its label; W or kWh/day",
);
const TANK_ENERGY_CLASS: Key = key(
    "energy_class",
    Words(CLASSES),
    Otherwise("see `standing_loss`"),
    "letter on its label by Regulation (EU) 812/2013, taken at its upper edge; class G has none: give its `standing_loss`",
);
const TANK_LOSS: Key = key(
    "loss",
    Value(Kind::Conductance, "0.1 W/K", "50 W/K"),
    Otherwise("see `standing_loss`"),
    "heat lost per degree",
);
const TANK_INSULATION: Key = key(
    "insulation",
    Value(Kind::RValue, "0.1 m2K/W", "10 m2K/W"),
    Otherwise("see `standing_loss`"),
    "R value of its insulation; fittings not counted",
);
const TANK_HEAT_BRIDGES: Key = key(
    "heat_bridges",
    Value(Kind::Conductance, "0.01 W/K", "20 W/K"),
    Otherwise("none unless `bare_connections` are counted"),
    "heat per degree that bare pipes, valves and fittings lose beside what is said of the tank itself",
);
const TANK_BARE_CONNECTIONS: Key = key(
    "bare_connections",
    Count(1, 30),
    Otherwise("see `heat_bridges`"),
    "bare pipes that leave the tank, each a heat bridge of 0.13 W/K",
);

/// A second tank in series.
static SECOND_TANK: &[Key] = &[
    TANK_VOLUME,
    TANK_HEIGHT,
    TANK_STANDING_LOSS,
    TANK_ENERGY_CLASS,
    TANK_LOSS,
    TANK_INSULATION,
    TANK_HEAT_BRIDGES,
    TANK_BARE_CONNECTIONS,
];

static TANK: &[Key] = &[
    TANK_VOLUME,
    TANK_HEIGHT,
    TANK_STANDING_LOSS,
    TANK_ENERGY_CLASS,
    TANK_LOSS,
    TANK_INSULATION,
    TANK_HEAT_BRIDGES,
    TANK_BARE_CONNECTIONS,
    key(
        "followed_by",
        Table(SECOND_TANK),
        Otherwise("no second tank"),
        "a second tank in series, in the same place: its bottom is joined to the top of the first, which the cold water enters",
    ),
    key(
        "circling_stopped_by",
        Words(&["check valve", "heat trap", "nothing"]),
        Otherwise("not known; a caution asks"),
        "what keeps warm water from circling through the pump's pipes while the pump rests",
    ),
    key(
        "built_as",
        Words(BUILT_AS),
        Otherwise("not known; a caution speaks of what an old water heater would need"),
        "what it was built as: a storage tank without heating of its own, or a water heater whose heating is out of use",
    ),
    key("stands_in", Beyond(&[OUTDOORS, COLD_ROOM]), Needed, "where it stands"),
    key(
        "conductivity",
        Value(Kind::LinearLoss, "0.4 W/mK", "50 W/mK"),
        Default(
            "1.8 W/mK",
            "Derived here: water 0.63 W/mK and the steel wall's share of 1.2 W/mK (3 mm, 0.5 m across)",
        ),
        "effective vertical conductivity of water and wall",
    ),
    key(
        "ports",
        Table(PORTS),
        Otherwise("as its keys say"),
        "heights of its ports as shares of its height, from the bottom; of two tanks in series, as shares of all their water, from the bottom of the first through both",
    ),
];

static PORTS: &[Key] = &[
    key(
        "cold_in",
        Value(Kind::Share, "0 %", "100 %"),
        Default("0 %", "Common practice, no source: a dip tube or bottom port"),
        "where the cold water really comes in: the end of its dip tube, or its port where the tube is missing",
    ),
    key(
        "cold_in_stirs",
        Value(Kind::Share, "0 %", "50 %"),
        Default(
            "0 %",
            "Common practice, no source: the end of the dip tube or a diffuser lets the water in slowly",
        ),
        "share of the height that the jet of cold water stirs while it comes in",
    ),
    key(
        "pump_out",
        Value(Kind::Share, "0 %", "100 %"),
        Default("2 %", "Common practice, no source: just above the bottom"),
        "out to the heat pump",
    ),
    key(
        "pump_return",
        Value(Kind::Share, "0 %", "100 %"),
        Default("100 %", "Common practice, no source: hot water returns to the top"),
        "back from the heat pump",
    ),
    key(
        "draw",
        Value(Kind::Share, "0 %", "100 %"),
        Default("100 %", "Common practice, no source: taps draw from the top"),
        "out to the taps",
    ),
];

static HOT_WATER: &[Key] = &[
    key(
        "daily",
        Value(Kind::DailyVolume, "0 L/day", "20000 L/day"),
        Otherwise("one of this, `study` and `uses`; with a `pattern` that is named, else its own amount"),
        "mixed water used at the taps on an ordinary day",
    ),
    key(
        "study",
        Words(STUDIES),
        Otherwise("see `daily`"),
        "the study, by its country, that tells how much so many `people` use, or the middle of all five",
    ),
    key(
        "uses",
        List(TAP_USE),
        Otherwise("see `daily`"),
        "what hot water is used for, one by one, in place of a pattern",
    ),
    key(
        "use_at",
        Value(Kind::Temperature, "30 degC", "60 degC"),
        Default(
            "40 degC",
            "Second hand: 105 °F of mixed water at fixtures, ANSI/RESNET 301, rounded to 40 °C",
        ),
        "its temperature at the tap",
    ),
    key(
        "pattern",
        Words(&Pattern::NAMES),
        Default(
            "M",
            "Checked: original read: load profile M of Regulation (EU) 814/2013, showers without a bath, scaled to the daily volume",
        ),
        "how it is spread over the day: load profile S to XL of Regulation (EU) 814/2013; `very small` to `high` of 10 CFR 430, Appendix E, from 6:00 on; or `hourly` shares of ASHRAE 90.2",
    ),
    key(
        "by_hour",
        Hours(Kind::Share, "0 %", "100 %"),
        Otherwise("as `pattern` says"),
        "the household's own shares of the day's water, in place of a pattern: a list of 24, that from 0:00 to 1:00 first, which together make 100 %",
    ),
    key("people", Count(1, 200), Otherwise("not known"), "people in the household, for figures per person"),
    key(
        "by_month",
        Monthly(Kind::Share, "0 %", "300 %"),
        Otherwise("100 % in every month"),
        "water of a month's days as a share of that of ordinary days, or twelve shares",
    ),
    key(
        "weekend",
        Value(Kind::Share, "0 %", "300 %"),
        Otherwise("100 %: as on other days"),
        "water of a Saturday or Sunday as a share of that of other days",
    ),
    key(
        "first_weekday",
        Words(&WEEKDAYS),
        Default(
            "Mon",
            "Common practice, no source: a typical year has no weekdays of its own, its months come from different years",
        ),
        "weekday of 1 January; it matters only with `weekend` or with uses on some weekdays",
    ),
    key("guests", List(GUESTS), Otherwise("none"), "times with guests; `people` has to be given"),
    key(
        "absences",
        List(ABSENCE),
        Otherwise("none"),
        "times in which nobody is at home: no tap runs, no door of the cold room is opened",
    ),
    key(
        "day_to_day",
        Table(DAY_TO_DAY),
        Otherwise("every day is like the others"),
        "how days differ by chance; the same number gives the same year",
    ),
    key(
        "mixing_valve",
        Value(Kind::Temperature, "30 degC", "65 degC"),
        Otherwise("none"),
        "set point of a thermostatic mixing valve after the tank",
    ),
    key(
        "past_valve",
        Words(&["no", "yes"]),
        Default("no", "Common practice, no source: one valve at the tank serves every tap"),
        "whether some taps are fed from before that valve, such as the kitchen's",
    ),
    key(
        "pipes",
        Table(TAP_PIPES),
        Otherwise("what is lost in the pipes to the taps is not reckoned"),
        "the pipes to the taps",
    ),
];

/// Studies of hot water used, by their countries; last the middle of them.
pub const STUDIES: &[&str] =
    &["Switzerland", "Germany", "Canada", "United Kingdom", "United States", MIDDLE_STUDY];
/// The word for the middle of all studies.
pub const MIDDLE_STUDY: &str = "middle";

static TAP_USE: &[Key] = &[
    key("name", Text, Needed, "what it is, such as `shower`"),
    key("water", Value(Kind::Volume, "0.1 L", "5000 L"), Needed, "mixed water of one time"),
    key(
        "temperature",
        Value(Kind::Temperature, "30 degC", "70 degC"),
        Otherwise("`use_at`"),
        "its temperature at the tap",
    ),
    key(
        "flow",
        Value(Kind::Flow, "0.5 L/min", "200 L/min"),
        Needed,
        "flow at the tap: a bucket and a watch tell it",
    ),
    key("at", Times, Needed, "when it begins"),
    key(
        "days",
        Weekdays,
        Default("every day", "Common practice, no source: a use is daily unless its days are named"),
        "weekdays on which it happens",
    ),
    key(
        "past_valve",
        Words(&["no", "yes"]),
        Otherwise("as `hot_water.past_valve`"),
        "whether its tap is fed from before the mixing valve",
    ),
];

static GUESTS: &[Key] = &[
    key("from", Date, Needed, "first day"),
    key("to", Date, Needed, "last day; before the first it is in the next year"),
    key("people", Count(1, 200), Needed, "how many, each with as much water as one of the household"),
];

static ABSENCE: &[Key] = &[
    key("from", Date, Needed, "first day"),
    key("to", Date, Needed, "last day; before the first it is in the next year"),
];

static DAY_TO_DAY: &[Key] = &[
    key(
        "spread",
        Value(Kind::Share, "0 %", "40 %"),
        Default(
            "25 %",
            "Common practice, no source: households differ by 15 to 40 % from one day to the next",
        ),
        "standard deviation of a day's water",
    ),
    key(
        "times",
        Value(Kind::Time, "0 min", "2 h"),
        Default("15 min", "Common practice, no source: some minutes on working days, more at the weekend"),
        "standard deviation of the time at which a draw begins",
    ),
    key(
        "seed",
        Count(1, 1_000_000),
        Otherwise("1"),
        "which of the possible years it is: two numbers show how much chance alone does",
    ),
];

static TAP_PIPES: &[Key] = &[
    key(
        "runs_before_warm",
        Value(Kind::Volume, "0.1 L", "50 L"),
        Needed,
        "water that runs in the morning before it is warm, caught in a bucket: the mean of the taps",
    ),
    key(
        "cools_in",
        Value(Kind::Time, "1 min", "6 h"),
        Default(
            "30 min",
            "Derived here: 0.74 kJ/mK of water and copper over 0.47 W/mK of a bare half-inch tube are 26 min, over 0.21 W/mK of an insulated one 59 min",
        ),
        "time constant with which the water in them cools",
    ),
];

static ELEMENT: &[Key] = &[
    key("power", Value(Kind::Power, "100 W", "50 kW"), Needed, "its power, from its plate"),
    key(
        "height",
        Value(Kind::Share, "0 %", "95 %"),
        Needed,
        "height at which it and its thermostat sit as a share of the tank's: only water above it is heated",
    ),
    key("set", Value(Kind::Temperature, "20 degC", "85 degC"), Needed, "it stops at or above this"),
    key(
        "differential",
        Value(Kind::Difference, "1 K", "25 K"),
        Default("5 K", "Common practice, no source: thermostats of elements switch over 4 to 8 K"),
        "how far the water cools before it heats again",
    ),
];

static FROST_HEATER: &[Key] = &[
    key("power", Value(Kind::Power, "10 W", "10 kW"), Needed, "its power; all of it warms the room's air"),
    key(
        "on_below",
        Value(Kind::Temperature, "-5 degC", "15 degC"),
        Default(
            "1 degC",
            "Common practice, no source: a degree above freezing, below every thermostat of a cold room",
        ),
        "room air at which it switches on; below the room thermostat's lower switching point, or the two work against each other",
    ),
    key(
        "differential",
        Value(Kind::Difference, "0.2 K", "5 K"),
        Default("1 K", "Common practice, no source: 0.5 to 2 K for plug-in thermostats"),
        "how far the air warms before it switches off",
    ),
];

static BOOSTER: &[Key] = &[
    key("set", Value(Kind::Temperature, "30 degC", "75 degC"), Needed, "its outlet set point"),
    key("most", Value(Kind::Power, "500 W", "200 kW"), Needed, "most heat to the water"),
    key(
        "least",
        Value(Kind::Power, "0 W", "50 kW"),
        Default(
            "3 kW",
            "Common practice, no source: gas heaters fire from 2.5 to 5 kW up; many electric ones start at 0",
        ),
        "smallest fire: it stays off below",
    ),
    key(
        "efficiency",
        Value(Kind::Share, "20 %", "110 %"),
        Default("85 %", "Common practice, no source: gas 80 to 95 %, electric 98 %"),
        "heat to the water over energy bought",
    ),
    key(
        "highest_inlet",
        Value(Kind::Temperature, "15 degC", "90 degC"),
        Otherwise("not known: it takes water of any temperature"),
        "hottest water that may enter it, from its papers: it stays off above",
    ),
    key(
        "energy",
        Text,
        Default("gas", "Common practice, no source: most tankless boosters burn gas"),
        "what it uses",
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
    let volume = TANK.iter().find(|key| key.name == "volume").map(|key| &key.takes);
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

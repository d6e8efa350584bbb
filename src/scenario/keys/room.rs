//! The keys of the room: what it is made of, its doors, what is stored in it.

use super::Absent::{Default, Needed, Otherwise};
use super::Takes::{Beyond, Count, Crop, Date, List, Monthly, Months, Number, Table, Text, Value, Words};
use super::{GROUND, Key, OUTDOORS, key};
use crate::room::MATERIAL_NAMES;
use crate::units::Kind;

pub(super) static ROOM: &[Key] = &[
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

//! Codes of faults in a scenario. A code keeps its meaning for good.

/// The file is not YAML.
pub const NOT_YAML: &str = "S101";
/// A part of YAML, or a size, that scenarios do not take.
pub const YAML_FEATURE: &str = "S102";
/// A key is given twice.
pub const KEY_TWICE: &str = "S103";
/// A key that is not known.
pub const UNKNOWN_KEY: &str = "S104";
/// A list where a table is needed, and so on.
pub const SHAPE: &str = "S105";
/// A key that is needed is missing.
pub const MISSING: &str = "S106";
/// A value that cannot be read.
pub const UNREADABLE: &str = "S107";
/// A value outside the allowed range.
pub const RANGE: &str = "S108";
/// A word or name that is not known here.
pub const UNKNOWN_WORD: &str = "S109";
/// Keys of which only one may, or one has to, be given.
pub const ONE_OF: &str = "S110";
/// The weather file cannot be opened.
pub const WEATHER_UNREADABLE: &str = "S111";
/// The weather file does not hold a year of weather.
pub const WEATHER_CONTENT: &str = "S112";

/// All codes and what they mean, those of what does not belong together included.
pub const ALL: &[(&str, &str)] = &[
    (NOT_YAML, "the file is not YAML"),
    (YAML_FEATURE, "a part of YAML, or a size, that scenarios do not take"),
    (KEY_TWICE, "a key is given twice"),
    (UNKNOWN_KEY, "a key that is not known"),
    (SHAPE, "a list where a table is needed, an empty value and the like"),
    (MISSING, "a key that is needed is missing"),
    (UNREADABLE, "a value that cannot be read"),
    (RANGE, "a value outside its range"),
    (UNKNOWN_WORD, "a word or name that is not known here"),
    (ONE_OF, "keys of which only one may, or one has to, be given"),
    (WEATHER_UNREADABLE, "the weather file cannot be opened"),
    (WEATHER_CONTENT, "the weather file does not hold a year of weather"),
    ("S120", "the heat pump's return is not above its outlet"),
    ("S121", "the heat pump's return is below the aquastat's probe"),
    ("S122", "the dump's port is below the aquastat's probe"),
    ("S123", "the dump closes no lower than it opens"),
    ("S124", "the booster is set below the temperature used"),
    ("S125", "the food's limits are exchanged"),
    ("S126", "the set point is outside what the food may become"),
    ("S127", "the surfaces do not add up to the room"),
    ("S128", "a door is higher than the room"),
    ("S129", "openings of a door do not fit into the day"),
    ("S130", "the mains' coldest is warmer than its warmest"),
    ("S131", "warning: the dump opens above the water that stops the heat pump"),
    (
        "S132",
        "the heat pump's air limits and the thermostat do not meet (a warning where it stops too early)",
    ),
    ("S133", "the heat pump's air limits are exchanged"),
    ("S134", "the rated point does not warm water"),
    ("S135", "the rated point has a COP that no heat pump has"),
    ("S136", "warning: the dump opens above the hottest water that can be made"),
    ("S137", "the mixing valve is set below the temperature used"),
    ("S138", "the booster's smallest fire is not below its largest"),
    ("S139", "a port is not above the cold inlet"),
    ("S140", "the dump may open in no month"),
    ("S141", "once stopped by warm water the heat pump might never run again"),
    ("S142", "the heat pump's flow is too small for its heat"),
    ("S143", "the dump closes below the warmest mains water"),
    ("S144", "mains water cannot be reckoned from the year's outdoor air"),
];

/// The table of all codes for `docs/SCENARIO.md`.
pub fn table() -> String {
    let mut text = String::from("| Code | Meaning |\n|---|---|\n");
    for (code, meaning) in ALL {
        text.push_str(&format!("| {code} | {meaning} |\n"));
    }
    text
}

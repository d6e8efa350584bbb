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

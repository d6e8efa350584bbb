//! Codes of faults in a scenario. A code keeps its meaning for good.

use crate::explanation::Explanation;

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
/// A line through which the house's pressure drives too little, or too much.
pub const LINE_FLOW: &str = "S191";
/// A key that belongs to something else.
pub const DOES_NOT_BELONG: &str = "S192";
/// Too few or too many places for dumped water.
pub const DESTINATIONS: &str = "S193";
/// A key left open in a way that it cannot be.
pub const NO_CHOICE: &str = "S195";
/// Sun on a surface in a year without radiation.
pub const NO_RADIATION: &str = "S184";

const fn fault(
    code: &'static str,
    title: &'static str,
    why: &'static str,
    what_to_do: &'static str,
) -> Explanation {
    Explanation { code, title, says: SAYS, why, what_to_do, silent: None, source: None }
}

/// What a fault says is its title; where, the message says itself.
const SAYS: &str =
    "The message names the place, what stands there and, where it can be said, what is allowed.";

/// All codes and what they mean, those of what does not belong together included.
pub const EXPLANATIONS: &[Explanation] = &[
    fault(
        NOT_YAML,
        "the file is not YAML",
        "Nothing of it can be read.",
        "Look at the place named; most often a bracket, a quote or an indentation is wrong.",
    ),
    fault(
        YAML_FEATURE,
        "a part of YAML, or a size, that scenarios do not take",
        "Anchors, tags and the like let one text mean two things.",
        "Write the value out where it is used.",
    ),
    fault(
        KEY_TWICE,
        "a key is given twice",
        "Only one of the two could hold, and nobody could tell which.",
        "Remove one of them.",
    ),
    fault(
        UNKNOWN_KEY,
        "a key that is not known",
        "A misspelt key would silently leave its default in force.",
        "Take the spelling that is suggested, or see the table of keys.",
    ),
    fault(
        SHAPE,
        "a list where a table is needed, an empty value and the like",
        "What is meant cannot be told from it.",
        "Write the value in the shape that the message names.",
    ),
    fault(
        MISSING,
        "a key that is needed is missing",
        "There is no fair default for it: it decides the result.",
        "Measure it or read it from a nameplate; the table of keys says what it means.",
    ),
    fault(
        UNREADABLE,
        "a value that cannot be read",
        "A number without its unit may be anything.",
        "Write number and unit, such as `300 L` or `4 degC`.",
    ),
    fault(
        RANGE,
        "a value outside its range",
        "Such a value is nearly always a slip of a digit or a unit.",
        "Check number and unit against the range that is named.",
    ),
    fault(
        UNKNOWN_WORD,
        "a word or name that is not known here",
        "Only the words listed have a meaning here.",
        "Take one of the words that the message lists.",
    ),
    fault(
        ONE_OF,
        "keys of which only one may, or one has to, be given",
        "Two answers to one question cannot both hold.",
        "Keep the one that you measured.",
    ),
    fault(
        WEATHER_UNREADABLE,
        "the weather file cannot be opened",
        "Without a year of weather there is no year to run.",
        "Check the path; it is taken from the folder of the scenario file.",
    ),
    fault(
        WEATHER_CONTENT,
        "the weather file does not hold a year of weather",
        "Missing hours would have to be invented.",
        "Take a whole EPW or TMY3 file of 8760 or 8784 hours.",
    ),
    fault(
        "S113",
        "a coil at the tank with a cycle that it does not suit",
        "Carbon dioxide, and liquid cooled far below boiling, need water that passes in counterflow.",
        "Set `exchanger` to `plate`, or read the refrigerant from the nameplate again.",
    ),
    fault(
        "S120",
        "the heat pump's return is not above its outlet",
        "The pump would draw in the water that it has just warmed.",
        "Set `tank.ports.pump_return` above `tank.ports.pump_out`.",
    ),
    fault(
        "S121",
        "the heat pump's return is below the aquastat's probe",
        "The probe would not see the hot water that the pump makes.",
        "Lower `dump.probe_height` or raise `tank.ports.pump_return`.",
    ),
    fault(
        "S122",
        "the dump's port is below the aquastat's probe",
        "The dump would let cold water go while the probe stays hot.",
        "Raise `dump.port_height` or lower `dump.probe_height`.",
    ),
    fault(
        "S123",
        "the dump closes no lower than it opens",
        "The valve would open and close without end.",
        "Set `dump.closes_at` some degrees below `dump.opens_at`.",
    ),
    fault(
        "S124",
        "the booster is set below the temperature used",
        "It could never warm the water enough.",
        "Raise `booster.set` to `hot_water.use_at` or more.",
    ),
    fault(
        "S125",
        "the food's limits are exchanged",
        "No temperature lies between them.",
        "Exchange `room.food.warmest` and `room.food.coldest`.",
    ),
    fault(
        "S126",
        "the set point is outside what the food may become",
        "The thermostat would spoil the food by doing its work.",
        "Set `thermostat.set` between the food's limits.",
    ),
    fault(
        "S127",
        "the surfaces do not add up to the room",
        "Heat would come in through walls that are not there, or not through some that are.",
        "Measure again; the message names both sums.",
    ),
    fault(
        "S128",
        "a door is higher than the room",
        "One of the two heights is wrong.",
        "Measure door and room from the floor.",
    ),
    fault(
        "S129",
        "openings of a door do not fit into the day",
        "The door would have to open again before it is shut.",
        "Lower `openings` or `open_for`, or lengthen the time from `first` to `last`.",
    ),
    fault(
        "S130",
        "the mains' coldest is warmer than its warmest",
        "No year has such water.",
        "Exchange the two values.",
    ),
    fault(
        "S131",
        "warning: the dump opens above the water that stops the heat pump",
        "The pump stops before the dump can help, and the room stays warm.",
        "Lower `dump.opens_at` or lower the probe.",
    ),
    fault(
        "S132",
        "the heat pump's air limits and the thermostat do not meet (a warning where it stops too early)",
        "The pump would stop before the room is as cold as the thermostat asks.",
        "Check `lowest_air` on the nameplate; a unit that stops early cannot keep a cold room.",
    ),
    fault(
        "S133",
        "the heat pump's air limits are exchanged",
        "The pump could never run.",
        "Exchange `lowest_air` and `highest_air`.",
    ),
    fault(
        "S134",
        "a line of the data sheet does not warm water",
        "The line tells how strong the pump is.",
        "Read `water_in` and `water_out` again on the data sheet.",
    ),
    fault(
        "S135",
        "a line of the data sheet has a COP that no heat pump has",
        "All electricity of the year follows from it.",
        "Check `cop`, `power` and `heat_output`, and that all three belong to the same line of the sheet.",
    ),
    fault(
        "S136",
        "warning: the dump opens above the hottest water that can be made",
        "It would never open.",
        "Lower `dump.opens_at`.",
    ),
    fault(
        "S137",
        "the mixing valve is set below the temperature used",
        "The taps could never be as warm as wanted.",
        "Raise `hot_water.mixing_valve` or lower `hot_water.use_at`.",
    ),
    fault(
        "S138",
        "the booster's smallest fire is not below its largest",
        "It could never burn.",
        "Read both powers again on the nameplate.",
    ),
    fault(
        "S139",
        "a port is not above the cold inlet",
        "Cold water would leave the tank before it is warmed.",
        "Set the port above `tank.ports.cold_in`.",
    ),
    fault(
        "S140",
        "the dump may open in no month",
        "A dump that never opens is none.",
        "Name months, or leave the dump out.",
    ),
    fault(
        "S141",
        "once stopped by warm water the heat pump might never run again",
        "The water would have to become colder than it ever does.",
        "Raise `highest_inlet` or lower `inlet_differential`.",
    ),
    fault(
        "S142",
        "the heat pump's flow is too small for its heat",
        "The water would leave hotter than the unit allows.",
        "Read `multi_pass.flow` and `heat_output` again.",
    ),
    fault(
        "S143",
        "the dump closes below the warmest mains water",
        "Once open it would never close again.",
        "Raise `dump.closes_at` above the warmest mains water.",
    ),
    fault(
        "S144",
        "mains water cannot be reckoned from the year's outdoor air",
        "Without the water's temperature neither demand nor tank can be followed.",
        "Measure it and give `site.mains_water`: coldest and warmest, or one value for a well.",
    ),
    fault(
        "S145",
        "a coil at the tank with a single pass",
        "A single pass takes the tank's water through the unit once; around a coil the tank's water warms as a whole.",
        "Take `single_pass` out, or set `exchanger` to `plate`.",
    ),
    fault(
        "S146",
        "a closed loop beside a coil at the tank",
        "With a coil at the tank the refrigerant itself goes there: no water passes the unit that a loop could carry.",
        "Take `closed_loop` out, or set `exchanger` to `plate`.",
    ),
    fault(
        "S147",
        "one of two tanks in series is far smaller than the other",
        "Its water changes with every draw: it is part of the pipe, not a tank, and the year would have to be followed by the second.",
        "Leave the smaller tank out.",
    ),
    fault(
        "S148",
        "of two tanks in series, the cold water does not enter the first",
        "Heights count through both tanks, from the bottom of the one that the cold water enters.",
        "Lower `tank.ports.cold_in` or `cold_in_stirs`, or change the two tanks round.",
    ),
    fault(
        "S149",
        "a port of the pump beside a coil in the tank",
        "With a coil in the tank no water leaves the tank for the pump.",
        "Take the port out, or `closed_loop.coil_from`.",
    ),
    fault(
        "S150",
        "COP and power of a line of the data sheet do not agree",
        "One of them belongs to something else, and nobody could tell which.",
        "Take heat output, power and COP from the same line; leave out the COP of a season.",
    ),
    fault(
        "S151",
        "a line of the data sheet has a COP that no machine can reach",
        "The second law sets a limit between the air and the water; no unit comes near it.",
        "Look which air and which water the COP belongs to; a COP of a season belongs to no line.",
    ),
    fault(
        "S152",
        "a line of the data sheet draws more than the nameplate allows",
        "The nameplate shows the largest power; the line is that of another unit, or one of the two is misread.",
        "Read `nameplate_power` and the line's power again.",
    ),
    fault(
        "S153",
        "a line of the data sheet is outside the cycles calculated",
        "There the calculated cycle is not known, and the line cannot be held against it.",
        "Take another line of the sheet, and check that °F was not written as °C.",
    ),
    fault(
        "S154",
        "two lines of the data sheet contradict one another",
        "The same air and the same water cannot give two heat outputs.",
        "Keep the line that belongs to your unit at full speed.",
    ),
    fault(
        "S155",
        "the lines of the data sheet together lead past what any machine can reach",
        "Each is possible by itself, but together they bend the calculated cycle too far.",
        "Check refrigerant and cycle, and that all lines are those of one unit at one speed.",
    ),
    fault(
        "S156",
        "a line of the data sheet does not agree with the unit's defrosting",
        "The line is a mean over frosting and defrosting, and the defrosting told of takes too much or too little of it.",
        "Write `defrost: not included` at the line, or check the power and the times of `defrost`.",
    ),
    fault(
        "S160",
        "the highest outlet is below what the heat pump makes",
        "It would stop before it had warmed any water.",
        "Read `single_pass.highest_outlet` and `single_pass.outlet` again.",
    ),
    fault(
        "S161",
        "the thermostat at the tank calls where it already has enough",
        "It could not switch.",
        "Set `tank_sensor.calls_at` some 5 K below `tank_sensor.enough_at`.",
    ),
    fault(
        "S162",
        "the tank's thermostat wants hotter water than the heat pump makes",
        "The pump would be called for ever.",
        "Lower `tank_sensor.enough_at`.",
    ),
    fault(
        "S163",
        "the room's contact only permits, yet the room alone is said to rule",
        "A unit that is only permitted to run stops when its own tank sensor has enough.",
        "Write `called_by: both`, or say that its sensor input is wired to a fixed resistor.",
    ),
    fault(
        "S164",
        "frost is to melt in air that may be freezing",
        "The coil would stay iced.",
        "Give the power of the unit's defrost heater or hot gas, or a warmer thermostat.",
    ),
    fault(
        "S165",
        "the clock begins the next defrost before the last is over",
        "The unit would never run.",
        "Read `defrost.by_clock` and `defrost.takes` again: a clock is set to some hours.",
    ),
    fault(
        "S166",
        "the probe on the coil lets the unit run at a temperature at which it stops it",
        "It would switch without end.",
        "Read `coil_probe.stops_below` and `coil_probe.starts_above` again: the release lies some degrees above the stop.",
    ),
    fault(
        "S167",
        "the cooler is switched off in every month",
        "Nothing would ever be cooled, and there is no year to calculate.",
        "Leave a month out of `thermostat.off_in` in which it runs.",
    ),
    fault(
        "S180",
        "warning: a use wants hotter water than the booster gives",
        "In every hour in which the tank is not hot enough itself the water comes too cold.",
        "Lower the use's `temperature`, or raise `booster.set` behind a mixing valve.",
    ),
    fault(
        "S181",
        "a use wants hotter water than the mixing valve lets through",
        "It could never be as warm as wanted.",
        "Lower the use's `temperature`, or say `past_valve: yes` if its tap is fed from before the valve.",
    ),
    fault(
        "S182",
        "warning: the electric element heats the water that the heat pump takes",
        "The pump finds hot water at its inlet, stops, and the room stays warm.",
        "Set the element's `height` above `tank.ports.pump_out`, or its `set` below the pump's highest inlet.",
    ),
    fault(
        "S183",
        "the shares of the hours do not make a whole day",
        "Water of the day would be left over or be used twice.",
        "Divide each share by the sum that the message names; together they are 100 %, or 1.",
    ),
    fault(
        NO_RADIATION,
        "a surface is in the sun, but the weather year has no radiation",
        "How much the sun warms it is not known; a table of monthly means has no radiation, and some files have holes in it.",
        "Take a weather file with direct and diffuse radiation in every hour, or leave out `sun`.",
    ),
    fault(
        "S185",
        "warning: the electric element heats what the dump lets out",
        "The element heats the water at the dump's probe above the dump's opening: cold water follows, and the element heats again.",
        "Set the element's `height` above `dump.probe_height`, or its `set` below `dump.opens_at`.",
    ),
    fault(
        "S190",
        "what is carried in and taken out does not add up",
        "The year is calculated as one that comes again: what is carried in has to leave, and nothing can be taken out that is not there.",
        "Bring the sums of `carried_in` and `taken_out` together, and give in `mass` what is there at the turn of the year.",
    ),
    fault(
        LINE_FLOW,
        "the dump's line gives too little water, or more than the year is made for",
        "An outlet higher than the pressure reaches gives none at all.",
        "Check `outlet_above`, the bores, valves and emitters of `dump.line`, and `site.supply_pressure`; or measure the flow and give `dump.flow`.",
    ),
    fault(
        DOES_NOT_BELONG,
        "a key that counts for nothing where it stands",
        "It would be read over, and the household would believe that it was heeded.",
        "Leave it out, or give the key that it goes with.",
    ),
    fault(
        DESTINATIONS,
        "too few or too many places that take dumped water",
        "The year keeps a list of four at most, and one at least.",
        "Name those that take most of it.",
    ),
    fault(
        "S194",
        "dumped water cannot be tempered with mains water as warm",
        "To mix water down to a temperature takes colder water.",
        "Raise `temper_to` above the warmest mains water, or leave it out.",
    ),
    fault(
        NO_CHOICE,
        "a key that cannot be left open so",
        "`larderloop choose` would have nothing to choose from, or would try what no scenario takes.",
        "Give the path of a key that takes one value, and two values or more that it takes.",
    ),
    fault(
        "S196",
        "the room's heater and the cooler would work against each other",
        "Each would undo what the other pays for.",
        "Lower `room.frost_heater.on_below`, or raise the thermostat's `set`; the food's freezing point is what counts.",
    ),
];

/// The table of all codes for `docs/SCENARIO.md`.
pub fn table() -> String {
    let mut text = String::from("| Code | Meaning |\n|---|---|\n");
    for one in EXPLANATIONS {
        text.push_str(&format!("| {} | {} |\n", one.code, one.title));
    }
    text
}

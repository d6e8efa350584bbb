//! The keys of the heat pump.

use super::Absent::{Default, Needed, Otherwise};
use super::Takes::{List, Number, Table, Value, Words};
use super::{Key, key};
use crate::units::Kind;

pub(super) static COOLER: &[Key] =
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

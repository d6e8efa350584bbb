//! The keys of the tank.

use super::Absent::{Default, Needed, Otherwise};
use super::Takes::{Beyond, Count, Table, Value, Words};
use super::{COLD_ROOM, Key, OUTDOORS, key};
use crate::tank::loss::CLASSES;
use crate::units::Kind;

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

pub(super) static TANK: &[Key] = &[
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
        "cold_in_bore",
        Value(Kind::Length, "5 mm", "200 mm"),
        Otherwise("the jet stirs what `cold_in_stirs` says"),
        "bore of the opening through which the cold water comes in: how far its jet stirs then follows from the flow and from how warm the tank is, taken as a jet that blows straight up, which stirs most",
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
        "pump_return_bore",
        Value(Kind::Length, "5 mm", "200 mm"),
        Otherwise("what comes back lies down at its height without stirring"),
        "bore of the opening through which the heat pump's water comes back: how far its jet stirs follows from the flow and from how cold the tank is, taken as a jet that blows straight down",
    ),
    key(
        "draw",
        Value(Kind::Share, "0 %", "100 %"),
        Default("100 %", "Common practice, no source: taps draw from the top"),
        "out to the taps",
    ),
];

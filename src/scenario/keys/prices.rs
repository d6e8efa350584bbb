//! Keys of what energy and water cost.

use super::Absent::{Default, Needed, Otherwise};
use super::Takes::{Hours, Text, Value};
use super::{Key, key};
use crate::units::Kind;

/// Why a price that is left out is none.
const NOTHING: &str = "Common practice, no source: no price is named, so it costs nothing";

pub(super) static PRICES: &[Key] = &[
    key("currency", Text, Needed, "money that the prices are in, such as `EUR`, as it is to be printed"),
    key(
        "electricity",
        Value(Kind::EnergyPrice, "0 per kWh", "1000000 per kWh"),
        Otherwise("either this or `electricity_by_hour`"),
        "electricity, the same all day; a tariff without its standing charge, which stays as it is",
    ),
    key(
        "electricity_by_hour",
        Hours(Kind::EnergyPrice, "0 per kWh", "1000000 per kWh"),
        Otherwise("either this or `electricity`"),
        "electricity in each hour of the day from midnight, on the clock without summer time",
    ),
    key(
        "fuel",
        Value(Kind::EnergyPrice, "0 per kWh", "1000000 per kWh"),
        Otherwise("needed where a booster burns something else than electricity"),
        "what the booster burns, by the heat of combustion that its efficiency is given for",
    ),
    key(
        "house_heat",
        Value(Kind::EnergyPrice, "0 per kWh", "1000000 per kWh"),
        Otherwise("needed where a space has `heated_in`"),
        "a unit of heat in the house, as its heating delivers it: fuel price over efficiency, electricity price over COP",
    ),
    key(
        "water",
        Value(Kind::VolumePrice, "0 per m3", "1000000 per m3"),
        Default("0 per m3", NOTHING),
        "cold water",
    ),
    key(
        "sewer",
        Value(Kind::VolumePrice, "0 per m3", "1000000 per m3"),
        Default("0 per m3", NOTHING),
        "water that goes down a drain",
    ),
];

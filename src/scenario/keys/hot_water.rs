//! The keys of the hot water: its use, the element in the tank, the booster.

use super::Absent::{Default, Needed, Otherwise};
use super::Takes::{Count, Date, Hours, List, Monthly, Table, Text, Times, Value, Weekdays, Words};
use super::{Key, WEEKDAYS, key};
use crate::draw::Pattern;
use crate::units::Kind;

pub(super) static HOT_WATER: &[Key] = &[
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

pub(super) static ELEMENT: &[Key] = &[
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

pub(super) static BOOSTER: &[Key] = &[
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

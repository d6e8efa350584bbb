//! The overflow dump: aquastat, line, and what takes the water.

use crate::irrigation::{Plants, Soil, Watering};
use crate::pipe::Line;
use uom::si::f64::{Area, Ratio, ThermodynamicTemperature, Time, Volume, VolumeRate};

/// Overflow dump.
#[derive(Debug, Clone)]
pub struct DumpLine {
    /// Opens at.
    pub opens_at: ThermodynamicTemperature,
    /// Closes at.
    pub closes_at: ThermodynamicTemperature,
    /// Height of the aquastat's probe.
    pub probe: Ratio,
    /// Time constant of the probe.
    pub probe_lag: Time,
    /// Shortest opening.
    pub min_open: Time,
    /// Times of the day in which a timer lets it run; `None` at any time.
    pub timer: Option<DailyTimer>,
    /// Longest time for which it runs without a break before a guard shuts it; `None` without a guard.
    pub longest_open: Option<Time>,
    /// Flow while open: as it was measured, or what the house's pressure drives through the line.
    pub flow: VolumeRate,
    /// The line itself, if it was described.
    pub line: Option<Line>,
    /// Height of the port.
    pub port: Ratio,
    /// Months in which it may open.
    pub months: [bool; 12],
    /// What takes the water, the first in the list first; at least one.
    pub destinations: Vec<WaterTaker>,
}

impl DumpLine {
    /// Whether water may go to a kind of place.
    pub fn leads_to(&self, kind: Destination) -> bool {
        self.destinations.iter().any(|taker| taker.kind == kind)
    }

    /// Hottest water that comes to a kind of place, or with `None` to any, from a tank of a temperature, K; `None` where none comes.
    pub fn hottest_at_k(&self, kind: Option<Destination>, tank_k: f64) -> Option<f64> {
        let places = self.destinations.iter().filter(|taker| kind.is_none_or(|kind| taker.kind == kind));
        let arrives_k =
            |taker: &WaterTaker| taker.temper_to.map_or(tank_k, |wanted| tank_k.min(wanted.value));
        places.map(arrives_k).reduce(f64::max)
    }

    /// Whether it may open in a month, 0 to 11: the valve may, and something takes the water.
    pub fn may_open(&self, month: usize) -> bool {
        self.months[month] && self.destinations.iter().any(|taker| taker.months[month])
    }
}

/// A timer in series with the aquastat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DailyTimer {
    /// Time of day at which it lets the dump run.
    pub from: Time,
    /// For how long, up to a day.
    pub lasts: Time,
}

/// Where dumped water goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Destination {
    /// A building drain.
    Drain,
    /// Lawn, beds or trees.
    Irrigation,
    /// A barrel or second tank.
    Barrel,
}

impl Destination {
    /// Its word in a scenario.
    pub fn name(self) -> &'static str {
        match self {
            Self::Drain => "drain",
            Self::Irrigation => "irrigation",
            Self::Barrel => "barrel",
        }
    }
}

/// Something that takes dumped water.
#[derive(Debug, Clone)]
pub struct WaterTaker {
    /// Its name in the report.
    pub name: String,
    /// What it is.
    pub kind: Destination,
    /// Months in which it takes water.
    pub months: [bool; 12],
    /// Temperature that it is mixed down to with cold water; `None` where it comes as hot as it left the tank.
    pub temper_to: Option<ThermodynamicTemperature>,
    /// How much it takes.
    pub takes: Takes,
}

impl WaterTaker {
    /// A drain that takes all that comes, all year.
    pub fn drain() -> Self {
        Self {
            name: Destination::Drain.name().to_owned(),
            kind: Destination::Drain,
            months: [true; 12],
            temper_to: None,
            takes: Takes::All,
        }
    }
}

/// How much a place takes.
#[derive(Debug, Clone)]
pub enum Takes {
    /// All that comes.
    All,
    /// What a barrel has room for.
    Barrel {
        /// Its volume.
        volume: Volume,
        /// What is used of it each day.
        used_per_day: Volume,
    },
    /// What the ground lacks.
    Ground {
        /// Planted area.
        area: Area,
        /// Its soil.
        soil: Soil,
        /// What grows there.
        plants: Plants,
        /// How the water gets there.
        watering: Watering,
        /// Slope of the ground, rise over run.
        slope: Ratio,
    },
}

//! The installation as plain numbers in SI, ready for the year's loop.
//!
//! A [`Plant`] is made once from a checked [`crate::household::Household`]; nothing in it needs a
//! unit word any more. Temperatures are absolute kelvin, `_dk` are differences, fractions run 0 to 1.
//! Every hourly series has `hours + 1` entries: entry `i` is the instant `i`:00 counted from the
//! start of the year in local standard time, entry 0 equals entry `hours` (the year closes on
//! itself), and values between two instants are linear.

mod build;
mod outdoor_air;

#[cfg(test)]
pub(crate) use build::example;
pub use build::mains_year;
pub use outdoor_air::{AirCooled, OutdoorFans};

use crate::draw::{MOST_AT_ONCE, TapShare};
use crate::heat_pump::CycleMap;

/// Seconds in an hour.
pub const HOUR_S: f64 = 3600.0;
/// Seconds in a day.
pub const DAY_S: f64 = 86_400.0;

/// The household's installation and its climate in SI units.
#[derive(Debug, Clone)]
pub struct Plant {
    /// Length of the year and of its months.
    pub calendar: Calendar,
    /// Mean air pressure at the site, Pa; it fixes air densities.
    pub pressure_pa: f64,
    /// What the room's surfaces, doors and leaks, and the tank's loss, exchange heat with.
    /// Index 0 is always the outdoor air.
    pub boundaries: Vec<Boundary>,
    /// Mains water temperature, K, one value a day, constant through the day.
    pub mains_k: Vec<f64>,
    /// The cold room.
    pub room: Room,
    /// The room thermostat that rules the cooler.
    pub thermostat: Thermostat,
    /// What cools the room.
    pub cooler: Cooler,
    /// Fans that blow in outdoor air before the cooler is called, if any.
    pub fans: Option<OutdoorFans>,
    /// The hot-water tank.
    pub tank: Tank,
    /// Kinds of days: what happens at which time of the day: taps, doors, people, lights.
    pub days: Vec<Vec<DaySegment>>,
    /// Which of them each day of the year is.
    pub day_kinds: Vec<usize>,
    /// Temperature that the household's mixed water is reckoned at, K; each draw has its own.
    pub use_k: f64,
    /// Set point of the mixing valve after the tank, K, if there is one.
    pub valve_k: Option<f64>,
    /// Booster after the tank, if any.
    pub booster: Option<Booster>,
    /// Electric element in the tank, if any.
    pub element: Option<Element>,
    /// Overflow dump, if any.
    pub dump: Option<Dump>,
}

impl Plant {
    /// What happens on a day of the year, from 0.
    pub fn day(&self, day_of_year: usize) -> &[DaySegment] {
        &self.days[self.day_kinds[day_of_year]]
    }

    /// Coldest outdoor air of a month (0 to 11), K.
    pub fn coldest_outdoors_k(&self, month: usize) -> f64 {
        self.coldest_k(0, month)
    }

    /// Coldest of a boundary in a month (0 to 11), K.
    pub fn coldest_k(&self, boundary: usize, month: usize) -> f64 {
        let starts_h = &self.calendar.month_starts_h;
        let hours = &self.boundaries[boundary].temperature_k[starts_h[month]..=starts_h[month + 1]];
        hours.iter().copied().fold(f64::INFINITY, f64::min)
    }
}

/// Hours of the year and of each month; the year starts on 1 January at 0:00.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Calendar {
    /// First hour of each month, and the number of hours of the year as the 13th entry.
    pub month_starts_h: [usize; 13],
}

impl Calendar {
    /// A year of 8760 or, with a 29 February, 8784 hours.
    pub fn new(leap_year: bool) -> Self {
        let days = [31, if leap_year { 29 } else { 28 }, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
        let mut month_starts_h = [0; 13];
        for (month, length) in days.into_iter().enumerate() {
            month_starts_h[month + 1] = month_starts_h[month] + 24 * length;
        }
        Self { month_starts_h }
    }

    /// Hours in the year.
    pub fn hours(&self) -> usize {
        self.month_starts_h[12]
    }

    /// Month 0 to 11 in which the hour that begins at `hour`:00 lies.
    pub fn month_of_hour(&self, hour: usize) -> usize {
        self.month_starts_h[1..12].iter().filter(|&&start| hour >= start).count()
    }
}

/// Air or ground on the other side of a surface, door or leak.
#[derive(Debug, Clone)]
pub struct Boundary {
    /// The household's name for it.
    pub name: String,
    /// Temperature, K, hourly instants.
    pub temperature_k: Vec<f64>,
    /// Humidity ratio, kg water per kg dry air, hourly instants; empty for ground.
    pub humidity_ratio: Vec<f64>,
}

/// Why heat comes into the room. The order is the order of the report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// Through surfaces that face the outdoor air.
    OutdoorSurfaces,
    /// Through surfaces that touch the ground.
    GroundSurfaces,
    /// Through surfaces toward neighbour spaces.
    NeighbourSurfaces,
    /// With the air exchanged through open doors, sensible and latent.
    Doors,
    /// With the air that leaks in, sensible and latent.
    Leakage,
    /// People at work in the room, sensible and latent.
    People,
    /// Lights.
    Lights,
    /// Respiration of stored produce.
    Respiration,
    /// Produce carried in warmer (positive) than what the room holds.
    ProduceIn,
    /// The hot pipe between cooler and tank, and the tank itself if it stands in the room.
    HotWater,
}

impl Cause {
    /// Number of causes.
    pub const COUNT: usize = 10;
    /// All causes in report order.
    pub const ALL: [Cause; Self::COUNT] = [
        Cause::OutdoorSurfaces,
        Cause::GroundSurfaces,
        Cause::NeighbourSurfaces,
        Cause::Doors,
        Cause::Leakage,
        Cause::People,
        Cause::Lights,
        Cause::Respiration,
        Cause::ProduceIn,
        Cause::HotWater,
    ];
}

/// What draws electricity. The order is the order of the report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Load {
    /// Compressor, fan and controls while the pump runs: a data sheet's power.
    Running,
    /// The circulator between pump and tank; all of it ends in the water.
    Circulator,
    /// What the pump draws all year, running or not.
    Standby,
    /// An evaporator fan that keeps turning while the pump rests.
    RestingFan,
    /// Melting the frost off the coil.
    Defrost,
    /// Keeping the water in the resting pump from freezing.
    FrostGuard,
    /// A heater that keeps the room from freezing.
    RoomHeater,
    /// Fans that blow in outdoor air.
    OutdoorFans,
}

impl Load {
    /// Number of loads.
    pub const COUNT: usize = 8;
    /// All loads in report order.
    pub const ALL: [Load; Self::COUNT] = [
        Load::Running,
        Load::Circulator,
        Load::Standby,
        Load::RestingFan,
        Load::Defrost,
        Load::FrostGuard,
        Load::RoomHeater,
        Load::OutdoorFans,
    ];
}

/// The cold room: a light air node, a heavy contents node and one humidity.
#[derive(Debug, Clone)]
pub struct Room {
    /// Inner volume, m3.
    pub volume_m3: f64,
    /// Mass of dry air in the room, kg.
    pub air_mass_kg: f64,
    /// Heat capacity of air and light shelving, J/K.
    pub air_capacity_j_per_k: f64,
    /// Heat capacity of crates and of the inner skin of walls and slab, J/K, without produce.
    pub fixed_capacity_j_per_k: f64,
    /// Heat exchange between air and contents without produce, W/K.
    pub exchange_w_per_k: f64,
    /// What each kilogram of settled produce adds to it, W/(kg K).
    pub exchange_w_per_kg_k: f64,
    /// Time in which what was carried in comes half the way to the air's temperature, s.
    pub half_cooling_s: f64,
    /// Surfaces.
    pub surfaces: Vec<Surface>,
    /// Air that leaks in, kg dry air per second, and where it comes from.
    pub leakage_kg_s: f64,
    /// Boundary that the leakage comes from.
    pub leakage_from: usize,
    /// Doors.
    pub doors: Vec<Door>,
    /// Stored produce.
    pub produce: Vec<Produce>,
    /// Contents warmer than this are counted as "over the band", K.
    pub warm_limit_k: f64,
    /// Highest freezing point of what is stored, K.
    pub freezing_k: f64,
    /// Heater against frost, if any; it heats only while the cooler rests.
    pub heater: Option<RoomHeater>,
}

/// A heater in the room against frost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoomHeater {
    /// Power, W; all of it goes into the room's air.
    pub power_w: f64,
    /// Switches on at or below this air, K.
    pub on_at_k: f64,
    /// Switches off at or above this air, K.
    pub off_at_k: f64,
}

/// One surface of the room.
#[derive(Debug, Clone)]
pub struct Surface {
    /// The household's name for it.
    pub name: String,
    /// Area times U, W/K.
    pub ua_w_per_k: f64,
    /// Boundary it faces.
    pub boundary: usize,
    /// The cause its heat is booked under.
    pub cause: Cause,
}

/// A door through which air is exchanged while it stands open.
#[derive(Debug, Clone)]
pub struct Door {
    /// Boundary it opens to.
    pub boundary: usize,
    /// Opening area, m2.
    pub area_m2: f64,
    /// Opening height, m.
    pub height_m: f64,
    /// Share of the full exchange that is let through in each month: door-flow factor times (1 - curtain effectiveness).
    pub open_frac: [f64; 12],
    /// Most air one opening can exchange: what the room holds below the door head, kg dry air.
    pub most_exchange_kg: f64,
}

/// One kind of stored produce.
#[derive(Debug, Clone)]
pub struct Produce {
    /// Name of the crop.
    pub name: String,
    /// Masses in the room, in order of their days; one at least. Before the first of them the last holds: the year closes.
    pub stock: Vec<Stock>,
    /// Specific heat, J/(kg K).
    pub specific_heat_j_per_kg_k: f64,
    /// Respiration heat at [`RESPIRATION_AT_K`], W/kg, log-linear between, held at the ends.
    pub respiration_w_per_kg: [f64; 5],
    /// Transpiration coefficient, kg/(kg s Pa).
    pub transpiration_per_s_pa: f64,
}

/// What there is of a crop from the first instant of a day on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stock {
    /// Day of the year, from 0.
    pub day: usize,
    /// Mass, kg.
    pub mass_kg: f64,
    /// Temperature at which it comes, where the mass grows, K.
    pub arrives_k: f64,
}

impl Stock {
    /// Masses of twelve months as stock: one entry for each month with another mass than the month before, or one in all.
    pub fn of_months(calendar: &Calendar, mass_kg: &[f64; 12], arrives_k: f64) -> Vec<Self> {
        let first = |month: usize| Self {
            day: calendar.month_starts_h[month] / 24,
            mass_kg: mass_kg[month],
            arrives_k,
        };
        let changes: Vec<_> =
            (0..12).filter(|&month| mass_kg[month] != mass_kg[(month + 11) % 12]).map(first).collect();
        if changes.is_empty() { vec![first(0)] } else { changes }
    }
}

impl Produce {
    /// Mass on a day of the year, kg.
    pub fn mass_on_kg(&self, day: usize) -> f64 {
        let (before, last) = (self.stock.iter().rfind(|stock| stock.day <= day), self.stock.last());
        before.or(last).map_or(0.0, |stock| stock.mass_kg)
    }

    /// Every entry of the stock with the change that it brings, kg.
    pub fn changes(&self) -> impl Iterator<Item = (&Stock, f64)> {
        let before = self.stock.iter().cycle().skip(self.stock.len().max(1) - 1);
        self.stock.iter().zip(before).map(|(stock, before)| (stock, stock.mass_kg - before.mass_kg))
    }
}

impl Room {
    /// Rate at which what was carried in nears the air's temperature, 1/s.
    ///
    /// `ln 2/Z`, Z the half-cooling time. Checked: original read, the definition in an abstract of a chapter on cooling
    /// parameters (Dinçer, heat transfer in food cooling, chapter 6); lag factor 1.
    pub fn cooling_per_s(&self) -> f64 {
        std::f64::consts::LN_2 / self.half_cooling_s
    }
}

/// Half-cooling times after which what was carried in counts as settled: of its warmth 1/128 is left, 0.1 K of 16 K.
/// Common practice, no source.
pub const SETTLED_AFTER_HALVINGS: f64 = 7.0;

/// Temperatures of the respiration table: 0, 5, 10, 15 and 20 °C.
pub const RESPIRATION_AT_K: [f64; 5] = [273.15, 278.15, 283.15, 288.15, 293.15];

/// Respiration heat between the table's temperatures (K), log-linear, held at the ends, W/kg; 0 for a crop whose respiration no source gives.
pub fn respiration_at_w_per_kg(table: &[f64; 5], temperature_k: f64) -> f64 {
    if table[0] == 0.0 {
        return 0.0;
    }
    let last = RESPIRATION_AT_K.len() - 1;
    let cell = RESPIRATION_AT_K[1..last].iter().filter(|&&node| temperature_k >= node).count();
    let width_dk = RESPIRATION_AT_K[cell + 1] - RESPIRATION_AT_K[cell];
    let share = ((temperature_k - RESPIRATION_AT_K[cell]) / width_dk).clamp(0.0, 1.0);
    table[cell] * libm::pow(table[cell + 1] / table[cell], share)
}

/// The room thermostat and the limits of the cooler's clock.
#[derive(Debug, Clone)]
pub struct Thermostat {
    /// Switches on at or above this probe temperature, K.
    pub on_at_k: f64,
    /// Switches off at or below this probe temperature, K.
    pub off_at_k: f64,
    /// Time constant of the probe in the room air, s.
    pub probe_lag_s: f64,
    /// Shortest run, s.
    pub min_run_s: f64,
    /// Shortest rest, s.
    pub min_rest_s: f64,
    /// Months in which the cooler is switched off.
    pub off_in: [bool; 12],
}

/// What cools the room.
#[derive(Debug, Clone)]
pub enum Cooler {
    /// A heat pump in the room that heats the tank.
    HeatPump(HeatPump),
}

/// Who calls the pump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Caller {
    /// The room's thermostat.
    Room,
    /// A thermostat at the tank; the room's counts for nothing.
    Tank(TankThermostat),
    /// Both in series: it runs only while room and tank call.
    Both(TankThermostat),
    /// Nobody: it never runs.
    Nobody,
}

impl Caller {
    /// The thermostat at the tank, where it has a say.
    pub fn tank(&self) -> Option<&TankThermostat> {
        match self {
            Caller::Room | Caller::Nobody => None,
            Caller::Tank(thermostat) | Caller::Both(thermostat) => Some(thermostat),
        }
    }

    /// Whether the room's thermostat has a say.
    pub fn asks_room(&self) -> bool {
        matches!(self, Caller::Room | Caller::Both(_))
    }
}

/// A thermostat at the tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TankThermostat {
    /// Calls at or below this temperature of its sensor, K.
    pub calls_k: f64,
    /// Has enough at or above it, K.
    pub enough_k: f64,
    /// Height of its sensor, fraction.
    pub sensor: f64,
}

/// A unit whose compressor can turn more slowly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlowRunning {
    /// Smallest share of full output.
    pub least_frac: f64,
    /// How much better its COP is at half output, fraction; in proportion to the output left off.
    pub gain_at_half_frac: f64,
}

/// How the unit keeps the water in it from freezing while it rests.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrostGuard {
    /// Acts in room air below this, K.
    pub below_k: f64,
    /// Power of its heater, W; all of it stays in the room.
    pub heater_w: f64,
    /// Power of the circulator on average over its turns, W; all of it ends in the water.
    pub circulator_w: f64,
    /// Flow through the pump on average over its turns, kg/s.
    pub flow_kg_s: f64,
}

/// How the unit gets rid of frost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Defrost {
    /// What makes it begin.
    pub begins: DefrostBegins,
    /// How long it does not cool then, s.
    pub takes_s: f64,
    /// Power drawn in that time, all of which stays in the room, W.
    pub power_w: f64,
    /// Time in room air above freezing after which the frost has thawed by itself while the pump rests, s.
    pub thaws_s: f64,
}

/// A probe on the coil that stops the pump when the coil is too cold, and keeps the fan turning until it is warm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoilProbe {
    /// What it is fixed to, as a share of the way from the air to the evaporating refrigerant.
    pub below_air_frac: f64,
    /// Stops the pump at or below this, K.
    pub stop_k: f64,
    /// Lets it run again at or above this, K.
    pub restart_k: f64,
    /// Time constant, s.
    pub lag_s: f64,
    /// Fan that turns while the probe holds the pump, W, inside the room.
    pub fan_w: f64,
}

/// What makes a defrost begin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DefrostBegins {
    /// So much running with a frosted coil, s.
    Running(f64),
    /// The clock, whatever pump and coil do: from one beginning to the next, s.
    Clock(f64),
    /// So much frost on the coil, kg.
    Frost(f64),
}

/// An air-source heat pump standing in the room.
#[derive(Debug, Clone)]
pub struct HeatPump {
    /// Node table of COP and relative capacity.
    pub map: CycleMap,
    /// Heat to the water where the map's relative capacity is 1, W.
    pub capacity_w: f64,
    /// Factor on the map's COP that reproduces the rated point.
    pub cop_factor: f64,
    /// Who calls it.
    pub caller: Caller,
    /// How slowly it can run; `None`: full output or none.
    pub slow_running: Option<SlowRunning>,
    /// Factor on capacity and COP while the coil is frosted.
    pub frosted_factor: f64,
    /// How it gets rid of frost; `None`: only the factor counts.
    pub defrost: Option<Defrost>,
    /// A probe on the coil that stops it, if there is one.
    pub coil_probe: Option<CoilProbe>,
    /// How it keeps its water from freezing while it rests, if it does.
    pub frost_guard: Option<FrostGuard>,
    /// How water passes the pump.
    pub circuit: Circuit,
    /// With a closed loop between pump and tank: how much warmer than the tank's water the loop comes back to the pump,
    /// per kelvin of rise; 0 where the tank's own water passes the pump.
    pub loop_gap: f64,
    /// Circulator power while running, W; all of it ends in the water.
    pub circulator_w: f64,
    /// Power drawn all year inside the room, W.
    pub standby_w: f64,
    /// Evaporator fan power while the pump rests, W, inside the room.
    pub resting_fan_w: f64,
    /// Start-up time constant, s; 0 for none.
    pub start_lag_s: f64,
    /// Share of the shell that stands outside the room.
    pub shell_outside_frac: f64,
    /// Air over the evaporator, m3/s, for the blown-air temperature.
    pub airflow_m3_s: f64,
    /// Water inlet at or above which the pump locks out, K.
    pub inlet_stop_k: f64,
    /// Inlet at or below which the lock-out ends, K.
    pub inlet_restart_k: f64,
    /// Room air below which the pump locks out, K.
    pub air_stop_low_k: f64,
    /// Room air above which the pump locks out, K.
    pub air_stop_high_k: f64,
    /// Differential of the two air limits, K.
    pub air_restart_dk: f64,
    /// Hot pipe between pump and tank inside the room.
    pub hot_pipe: HotPipe,
}

/// How water passes the pump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Circuit {
    /// One pass: flow follows the heat so that the outlet meets a target.
    SinglePass {
        /// Outlet aimed at, K.
        outlet_k: f64,
        /// Least rise, K; with a warm inlet the outlet then passes the target.
        min_rise_dk: f64,
        /// Outlet at or above which the pump locks out, K.
        outlet_stop_k: f64,
    },
    /// Many passes: the circulator fixes the flow.
    MultiPass {
        /// Water flow, kg/s.
        flow_kg_s: f64,
        /// Outlet at or above which the pump locks out, K.
        outlet_stop_k: f64,
    },
    /// None: the heat goes to the outdoor air, as that of a room air conditioner does.
    OutdoorAir(AirCooled),
}

/// Hot pipe inside the room, as one well-mixed body of water and metal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HotPipe {
    /// Loss to the room air, W/K; 0 without a pipe in the room.
    pub loss_w_per_k: f64,
    /// Heat capacity of water and metal, J/K; above 0 wherever the loss is.
    pub capacity_j_per_k: f64,
}

/// Stratified tank. Heights are fractions of the water's height, 0 bottom to 1 top.
#[derive(Debug, Clone)]
pub struct Tank {
    /// The tank that the cold water enters.
    pub first: Vessel,
    /// A second one in series, its bottom joined to the top of the first.
    pub second: Option<Vessel>,
    /// What surrounds the tank.
    pub surroundings: Surroundings,
    /// Effective vertical conductivity of water and wall, W/(m K).
    pub conductivity_w_per_m_k: f64,
    /// Cold (mains) inlet.
    pub cold_in: f64,
    /// Share of the water, from the cold inlet upward, that is kept stirred while cold water comes in.
    pub cold_in_stirs: f64,
    /// Bore of the opening through which the cold water blows upward, m, if its jet is reckoned instead.
    pub cold_in_bore_m: Option<f64>,
    /// Bore of the opening through which the pump's water blows downward, m, if its jet is reckoned.
    pub return_bore_m: Option<f64>,
    /// Outlet to the pump; the lock-out is sensed here.
    pub pump_out: f64,
    /// Return from the pump.
    pub pump_return: f64,
    /// Outlet to the taps.
    pub draw: f64,
    /// Whether its water circles through the pump's pipes while the pump rests.
    pub circles: bool,
    /// Temperature of the whole tank at the start of the warm-up month, K.
    pub start_k: f64,
}

impl Tank {
    /// The vessels, in the order in which cold water passes them.
    pub fn vessels(&self) -> impl Iterator<Item = &Vessel> {
        std::iter::once(&self.first).chain(&self.second)
    }

    /// Mass of all water, kg.
    pub fn mass_kg(&self) -> f64 {
        self.first.mass_kg + self.second.map_or(0.0, |second| second.mass_kg)
    }

    /// Loss coefficient of all vessels together, W/K.
    pub fn loss_w_per_k(&self) -> f64 {
        self.vessels().map(|vessel| vessel.loss_w_per_k).sum()
    }

    /// Share of all water that the first vessel holds: heights count through both, so that its top is there.
    pub fn first_frac(&self) -> f64 {
        self.first.mass_kg / self.mass_kg()
    }
}

/// An upright vessel full of water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vessel {
    /// Mass of water, kg.
    pub mass_kg: f64,
    /// Height of the water, m.
    pub height_m: f64,
    /// Loss coefficient, W/K, spread evenly over the water.
    pub loss_w_per_k: f64,
}

/// What the tank loses heat to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surroundings {
    /// A boundary of the plant.
    Boundary(usize),
    /// The cold room's own air.
    ColdRoom,
}

/// A stretch of the day in which taps, doors, people and lights do not change.
#[derive(Debug, Clone, PartialEq)]
pub struct DaySegment {
    /// Start, s after midnight; the first segment starts at 0, the last ends at 24 h.
    pub start_s: f64,
    /// Mixed water that the taps take, kg/s.
    pub tap_kg_s: f64,
    /// Temperature that it should have on the mean of its taps, K.
    pub use_k: f64,
    /// Its taps, where they want different temperatures; else empty.
    pub at_once: [TapShare; MOST_AT_ONCE],
    /// The part of it that nobody uses, because it is still cold from the pipe, kg/s.
    pub waiting_kg_s: f64,
    /// Whether some of it runs at a tap that is fed from before the mixing valve.
    pub past_valve: bool,
    /// Which doors stand open (same order as [`Room::doors`]).
    pub doors_open: Vec<bool>,
    /// Which of them stand propped open: then the exchange goes on past what the room holds.
    pub doors_propped: Vec<bool>,
    /// People in the room (may be a fraction).
    pub people: f64,
    /// Lights, W.
    pub lights_w: f64,
}

impl DaySegment {
    /// The taps that want different temperatures at once; none where all want the same.
    pub fn taps_at_once(&self) -> impl Iterator<Item = &TapShare> {
        self.at_once.iter().filter(|tap| tap.frac > 0.0)
    }

    /// What its taps want over mains water, mean of their flow, K; what is wanted colder than that takes nothing.
    pub fn wanted_dk(&self, mains_k: f64) -> f64 {
        self.taps_at_once()
            .map(|tap| tap.frac * (tap.use_k - mains_k).max(0.0))
            .reduce(|one, other| one + other)
            .unwrap_or_else(|| (self.use_k - mains_k).max(0.0))
    }

    /// The hottest water that a tap wants, K.
    pub fn hottest_use_k(&self) -> f64 {
        self.taps_at_once().map(|tap| tap.use_k).reduce(f64::max).unwrap_or(self.use_k)
    }
}

/// Booster after the tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Booster {
    /// Outlet set point, K; at or above the use temperature.
    pub set_k: f64,
    /// Most heat to the water, W.
    pub most_w: f64,
    /// Smallest fire: below this heat demand it stays off, W.
    pub least_w: f64,
    /// Heat to the water per energy bought.
    pub efficiency: f64,
    /// Water hotter than this it does not heat, K; infinite where nothing is said.
    pub highest_inlet_k: f64,
}

/// An electric element in the tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Element {
    /// Power, W; all of it goes into the water.
    pub power_w: f64,
    /// Height at which it and its thermostat sit, fraction.
    pub height: f64,
    /// Switches on at or below this, K.
    pub on_at_k: f64,
    /// Switches off at or above this, K.
    pub off_at_k: f64,
}

/// Overflow dump opened by an aquastat.
#[derive(Debug, Clone, PartialEq)]
pub struct Dump {
    /// Opens at or above this probe temperature, K.
    pub opens_k: f64,
    /// Closes at or below this probe temperature, K.
    pub closes_k: f64,
    /// Height of the aquastat's probe, fraction.
    pub probe: f64,
    /// Time constant of the probe, s.
    pub probe_lag_s: f64,
    /// Shortest opening, s.
    pub min_open_s: f64,
    /// When on each day it may run; always without a timer.
    pub timer: Option<DailyWindow>,
    /// Longest time for which it runs without a break before its guard shuts it, s; infinite without a guard.
    pub longest_open_s: f64,
    /// Flow while open, kg/s.
    pub flow_kg_s: f64,
    /// Height of the port, fraction.
    pub port: f64,
    /// Months in which the dump may open.
    pub months: [bool; 12],
    /// What takes the water, the first in the list first; at least one and at most [`MOST_TAKERS`].
    pub takers: Vec<Taker>,
}

/// A stretch of every day, over midnight where it reaches so far.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DailyWindow {
    /// Its begin, s after midnight.
    pub from_s: f64,
    /// How long it lasts, s, up to a day.
    pub lasts_s: f64,
}

impl DailyWindow {
    /// Whether a time of day lies in it, and how long that stays so, s.
    pub fn at(&self, day_s: f64) -> (bool, f64) {
        let since_s = (day_s - self.from_s).rem_euclid(DAY_S);
        if self.lasts_s >= DAY_S {
            (true, f64::INFINITY)
        } else if since_s < self.lasts_s {
            (true, self.lasts_s - since_s)
        } else {
            (false, DAY_S - since_s)
        }
    }
}

/// Most places that may take dumped water.
pub const MOST_TAKERS: usize = 4;

/// A place that takes dumped water, as a store that each day makes some room in.
#[derive(Debug, Clone, PartialEq)]
pub struct Taker {
    /// Months in which it takes water.
    pub months: [bool; 12],
    /// Temperature that hotter water is mixed down to with mains water, K; infinite where it comes as it left the tank.
    pub temper_k: f64,
    /// Water that it holds at most, kg; infinite where it takes all.
    pub holds_kg: f64,
    /// Room in it at the start, kg.
    pub start_kg: f64,
    /// Room made in it each day of the year, kg; negative where something else fills it. Empty where it takes all.
    pub freed_kg: Vec<f64>,
}

impl Taker {
    /// A place that takes all water, in every month.
    pub fn endless() -> Self {
        Self {
            months: [true; 12],
            temper_k: f64::INFINITY,
            holds_kg: f64::INFINITY,
            start_kg: f64::INFINITY,
            freed_kg: Vec::new(),
        }
    }

    /// Kilograms that arrive for each kilogram out of the tank at a temperature, with mains water to temper it; 1 where it needs none.
    pub fn mixed(&self, water_k: f64, mains_k: f64) -> f64 {
        if water_k <= self.temper_k { 1.0 } else { (water_k - mains_k) / (self.temper_k - mains_k) }
    }

    /// Room in it after a night in which some was made, kg.
    pub fn room_kg(&self, left_kg: f64, day: usize) -> f64 {
        match self.freed_kg.get(day) {
            Some(freed_kg) => (left_kg + freed_kg).clamp(0.0, self.holds_kg),
            None => self.holds_kg,
        }
    }
}

//! The household's installation as it was described and checked: quantities with units, names, and
//! the list of everything that was not said and had to be assumed.

mod alternatives;
mod data_sheet;
mod dump;
mod faults;
mod hot_water;
mod machine_faults;
mod prices;
mod safeguards;

pub use alternatives::{Alternatives, ConditionerTold, FansTold};
pub use data_sheet::{NOMINAL_AT_K, SheetPoint, UnitSize, coil_freezes};
pub use dump::{DailyTimer, Destination, DumpLine, Takes, WaterTaker};
pub use faults::Fault;
pub(crate) use faults::Parts;
pub use hot_water::{Date, Guests, HotWater, Period, TapPipes, TapUse, UseCalendar, WEEK, mean_of_uses};
pub use prices::Prices;
pub use safeguards::{RoomAlarm, Safeguards};

use uom::si::f64::{
    Area, DiffusionCoefficient, HeatCapacity, HeatTransfer, Length, Mass, MassDensity, Power, Pressure,
    Ratio, TemperatureInterval, ThermalConductance, ThermalConductivity, ThermodynamicTemperature, Time,
    Volume, VolumeRate,
};

use crate::heat_pump::Cycle;
use crate::scenario::Variable;
use crate::sun::SunnySide;
use crate::weather::WeatherYear;

/// A household's cold room, cooler, tank and taps, checked.
#[derive(Debug, Clone)]
pub struct Household {
    /// Its name.
    pub name: String,
    /// The unit system its report is printed in when nothing else is asked for.
    pub units: UnitSystem,
    /// The weather year, as read.
    pub weather: WeatherYear,
    /// Ground and mains.
    pub site: Site,
    /// Neighbour spaces by name.
    pub spaces: Vec<Space>,
    /// The cold room.
    pub room: ColdRoom,
    /// What the room has for the safety of people and food.
    pub safeguards: Safeguards,
    /// What cools it.
    pub cooler: CoolerUnit,
    /// The thermostat.
    pub thermostat: RoomThermostat,
    /// The tank.
    pub tank: HotWaterTank,
    /// Hot water used.
    pub hot_water: HotWater,
    /// Booster.
    pub booster: Option<BoosterUnit>,
    /// Electric element in the tank.
    pub element: Option<ElectricElement>,
    /// Overflow dump.
    pub dump: Option<DumpLine>,
    /// What energy and water cost, if said.
    pub prices: Option<Prices>,
    /// What is said about other ways of cooling.
    pub alternatives: Alternatives,
    /// Keys of the scenario that are left open, with the values that they may take.
    pub choices: Vec<Variable>,
    /// Everything that was assumed.
    pub defaults: Vec<DefaultUsed>,
}

/// Units of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnitSystem {
    /// °C, L, kWh, W.
    #[default]
    Metric,
    /// °F, US gallons, kWh, BTU/h.
    Us,
}

/// A value that the scenario did not give.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DefaultUsed {
    /// Where it would stand in the scenario, for example `thermostat.probe_lag`.
    pub key: String,
    /// The value, as it would be written there.
    pub value: String,
    /// Why this value: source with trust word, or "common practice, no source".
    pub reason: String,
}

/// A temperature through the year.
#[derive(Debug, Clone, PartialEq)]
pub enum Seasonal {
    /// The same all year.
    Constant(ThermodynamicTemperature),
    /// Twelve monthly means, linear between mid-months.
    Monthly([ThermodynamicTemperature; 12]),
}

/// Ground and cold water at the site.
#[derive(Debug, Clone)]
pub struct Site {
    /// Thermal diffusivity of the soil.
    pub soil_diffusivity: DiffusionCoefficient,
    /// Mains water temperature.
    pub mains: Mains,
    /// Hardness of the cold water that enters the tank, as calcium carbonate, if said.
    pub hardness: Option<MassDensity>,
    /// Pressure of the house's cold water, over that of the air.
    pub supply_pressure: Pressure,
    /// Mean rain of each month, if it was told.
    pub rain: Option<[Length; 12]>,
    /// The household's own well, if the water comes from one.
    pub well: Option<Well>,
}

/// A well with its pump and pressure tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Well {
    /// What it gives for days on end.
    pub yields: VolumeRate,
    /// What its pump gives at the house's pressure.
    pub pump_flow: VolumeRate,
    /// Water that the pressure tank gives between two starts.
    pub drawdown: Volume,
    /// Power of the pump's motor, if it is known.
    pub pump_power: Option<Power>,
}

/// Where the mains water temperature comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum Mains {
    /// From the year's own outdoor air.
    FromWeather,
    /// From the coldest and warmest water measured in the year; the phase comes from the outdoor air.
    Measured {
        /// Coldest of the year.
        coldest: ThermodynamicTemperature,
        /// Warmest of the year.
        warmest: ThermodynamicTemperature,
    },
    /// Given.
    Given(Seasonal),
}

/// A neighbour space.
#[derive(Debug, Clone)]
pub struct Space {
    /// Name.
    pub name: String,
    /// Temperature; with a share of the outdoors that of the house beside it.
    pub temperature: Seasonal,
    /// How far its air stands from that temperature toward the outdoor air.
    pub outdoor_share: Ratio,
    /// Relative humidity at that temperature.
    pub humidity: Ratio,
    /// Months in which the house's heating keeps it warm.
    pub heated: [bool; 12],
}

/// What lies on the other side of a surface, a door, a leak or the tank's insulation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Beyond {
    /// Outdoor air.
    Outdoors,
    /// Ground at a depth.
    Ground {
        /// Depth at which the ground's temperature is taken.
        depth: Length,
        /// How much warmer the ground is than undisturbed ground (under a heated house).
        warmer_by: TemperatureInterval,
    },
    /// Ground under a floor or beside a wall whose U value reaches through the soil to the outdoor air (ISO 13370).
    GroundSlab {
        /// Share of the outdoor air's yearly swing that is felt.
        swing: Ratio,
        /// How much later it is felt.
        lag: Time,
    },
    /// A space of [`Household::spaces`], by index.
    Space(usize),
    /// The cold room itself (for the tank only).
    ColdRoom,
}

/// The cold room.
#[derive(Debug, Clone)]
pub struct ColdRoom {
    /// Inner length.
    pub length: Length,
    /// Inner width.
    pub width: Length,
    /// Inner height.
    pub height: Length,
    /// Surfaces.
    pub surfaces: Vec<RoomSurface>,
    /// Air changes per hour of leakage, and where the air comes from.
    pub leakage_changes_per_hour: f64,
    /// Where the leaking air comes from.
    pub leakage_from: Beyond,
    /// Doors.
    pub doors: Vec<RoomDoor>,
    /// Time that somebody works in the room, each day.
    pub people_time: Time,
    /// Lights while somebody is there or as long as given.
    pub lights: Power,
    /// Time the lights burn, each day.
    pub lights_time: Time,
    /// Stored produce.
    pub produce: Vec<StoredProduce>,
    /// Time in which what was carried in comes half the way to the air's temperature.
    pub half_cooling: Time,
    /// Which value of the printed ranges of respiration is taken.
    pub respiration: crate::room::RespirationLevel,
    /// Mass of crates and shelving that follow the contents, as heat capacity.
    pub crates: HeatCapacity,
    /// Heat capacity of the inner skin of walls, ceiling and floor, per area (as a number in J/(m2 K)).
    pub inner_skin_j_per_m2_k: f64,
    /// Heat capacity of light shelving that follows the air.
    pub shelving: HeatCapacity,
    /// Heat-transfer coefficient between air and contents.
    pub exchange: HeatTransfer,
    /// Area it acts on; `None`: inner surface plus 0.04 m2 per kilogram stored.
    pub exchange_area: Option<Area>,
    /// Warmest that the contents may become.
    pub warm_limit: ThermodynamicTemperature,
    /// Coldest that the contents may become: the highest freezing point stored, or the household's own.
    pub cold_limit: ThermodynamicTemperature,
    /// Heater against frost, if there is one.
    pub heater: Option<FrostHeater>,
    /// Bucket under the coil; `None` where its water runs to a drain.
    pub condensate_bucket: Option<Volume>,
}

/// A heater in the room against frost; a contact keeps it off while the cooler runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrostHeater {
    /// Power.
    pub power: Power,
    /// Switches on at or below this air.
    pub on_below: ThermodynamicTemperature,
    /// How far the air has to warm before it switches off.
    pub differential: TemperatureInterval,
}

impl ColdRoom {
    /// Inner volume.
    pub fn volume(&self) -> Volume {
        self.length * self.width * self.height
    }

    /// Inner surface: floor, ceiling and walls.
    pub fn inner_surface(&self) -> Area {
        2.0 * (self.length * self.width + self.length * self.height + self.width * self.height)
    }
}

/// A surface of the room.
#[derive(Debug, Clone)]
pub struct RoomSurface {
    /// Name.
    pub name: String,
    /// Area.
    pub area: Area,
    /// U value, air to air (or air to ground).
    pub u_value: HeatTransfer,
    /// What seams, pipes and anchors carry past the insulation.
    pub bridges: ThermalConductance,
    /// Sun and night sky on its outer side, where they are reckoned.
    pub sun: Option<SunnySide>,
    /// What it faces.
    pub faces: Beyond,
}

impl RoomDoor {
    /// Openings on a day of the month with most of them.
    pub fn most_openings_per_day(&self) -> u32 {
        self.openings_per_day.into_iter().fold(0, u32::max)
    }
}

/// A time of day at which a door stands propped open, in some months.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ProppedOpen {
    /// From this time of day, after midnight.
    pub from: Time,
    /// For so long.
    pub lasts: Time,
    /// In these months.
    pub months: [bool; 12],
}

/// A door.
#[derive(Debug, Clone)]
pub struct RoomDoor {
    /// Clear width.
    pub width: Length,
    /// Clear height.
    pub height: Length,
    /// Where it leads.
    pub opens_to: Beyond,
    /// Openings a day, in each month.
    pub openings_per_day: [u32; 12],
    /// Time each opening lasts.
    pub open_time: Time,
    /// First opening of the day, after midnight.
    pub first_opening: Time,
    /// Last opening of the day, after midnight.
    pub last_opening: Time,
    /// Share of the fully developed exchange that an opening reaches.
    pub flow_factor: Ratio,
    /// Share of it that a strip curtain stops.
    pub curtain: Ratio,
    /// Months in which it hangs there.
    pub curtain_months: [bool; 12],
    /// When it stands propped open, if it does.
    pub propped: Option<ProppedOpen>,
}

/// Stored produce.
#[derive(Debug, Clone)]
pub struct StoredProduce {
    /// The crop, by its name in the crop table.
    pub crop: crate::room::Crop,
    /// Mass in each month.
    pub mass: [Mass; 12],
    /// Temperature at which it is carried in.
    pub arrives_at: ThermodynamicTemperature,
    /// What is carried in and out by date; where there is any, `mass` is what is there at the turn of the year.
    pub carried: Vec<Carried>,
}

/// Produce carried in or out on a day.
#[derive(Debug, Clone)]
pub struct Carried {
    /// The day, at its first instant.
    pub on: Date,
    /// How much more there is, negative for what is taken out.
    pub change: Mass,
    /// Temperature at which it comes.
    pub arrives_at: ThermodynamicTemperature,
}

impl StoredProduce {
    /// Whether there is any of it at some time of a month.
    pub fn is_there_in(&self, month: usize) -> bool {
        self.most_in(month).value > 0.0
    }

    /// The most that there is of it at some time of a month.
    pub fn most_in(&self, month: usize) -> Mass {
        if self.carried.is_empty() {
            return self.mass[month];
        }
        let sum = |until: &dyn Fn(Date) -> bool| -> Mass {
            self.carried.iter().filter(|one| until(one.on)).map(|one| one.change).sum()
        };
        let begins = sum(&|on| on.month < month);
        let days = self.carried.iter().map(|one| one.on).filter(|on| on.month == month);
        let most = days
            .map(|day| sum(&|on| (on.month, on.day) <= (month, day.day)))
            .fold(begins, |most, there| if there > most { there } else { most });
        self.mass[0] + most
    }
}

/// What cools the room.
#[derive(Debug, Clone)]
pub enum CoolerUnit {
    /// A heat pump in the room that heats the tank.
    HeatPump(Box<HeatPumpUnit>),
}

/// The heat pump as described by its owner.
#[derive(Debug, Clone)]
pub struct HeatPumpUnit {
    /// Refrigerant and cycle.
    pub cycle: Cycle,
    /// Whether the cycle was said; else the plain one of the refrigerant was assumed.
    pub cycle_given: bool,
    /// Its size and efficiency, from its data sheet or its nominal heat.
    pub size: UnitSize,
    /// Largest power on its nameplate, if said.
    pub nameplate_power: Option<Power>,
    /// Who calls it.
    pub called_by: CalledBy,
    /// The thermostat at the tank: what it would be set to where it has no say.
    pub tank_sensor: TankSensor,
    /// What is wired in place of the unit's own tank sensor, if said.
    pub sensor_place: Option<SensorPlace>,
    /// How slowly it can run, if it can.
    pub slow_running: Option<SlowRunning>,
    /// Share of capacity and COP that a frosted coil keeps.
    pub frosted_output: Ratio,
    /// Its own way of getting rid of frost, if said.
    pub defrost: Option<DefrostMethod>,
    /// A probe on its coil that stops it, if there is one.
    pub coil_probe: Option<CoilProbe>,
    /// How it keeps the water in it from freezing, if it does.
    pub frost_guard: Option<FrostGuard>,
    /// How water passes it.
    pub circuit: WaterCircuit,
    /// Circulator power.
    pub circulator: Power,
    /// Effectiveness of the exchanger of a closed loop between pump and tank; `None`: the tank's own water passes the pump.
    pub closed_loop: Option<ClosedLoop>,
    /// Standby power.
    pub standby: Power,
    /// Evaporator fan power while it rests.
    pub resting_fan: Power,
    /// Start-up time constant.
    pub start_lag: Time,
    /// Share of its shell outside the room.
    pub shell_outside: Ratio,
    /// Air over the evaporator.
    pub airflow: VolumeRate,
    /// Water inlet that stops it.
    pub inlet_stop: ThermodynamicTemperature,
    /// How far the inlet must fall before it may run again.
    pub inlet_differential: TemperatureInterval,
    /// Lowest room air it may run at.
    pub lowest_air: ThermodynamicTemperature,
    /// Highest room air it may run at.
    pub highest_air: ThermodynamicTemperature,
    /// Length of hot pipe inside the room.
    pub hot_pipe_length: Length,
    /// Heat loss of the hot pipe per length (W/(m K), same dimension as conductivity).
    pub hot_pipe_loss: ThermalConductivity,
    /// Heat capacity of pipe and water per length, J/(m K).
    pub hot_pipe_capacity_j_per_m_k: f64,
    /// Heat capacity of the unit's exchanger with the water in it, which cools with the pipe after each stop.
    pub exchanger_capacity: HeatCapacity,
    /// Heat that the exchanger loses to the room per degree.
    pub exchanger_loss: ThermalConductance,
    /// Refrigerant charge, if said.
    pub charge: Option<Mass>,
    /// Whether it is listed for the place it stands in, if said.
    pub listed_for_room: Option<bool>,
}

/// A probe on the coil that stops the unit when the coil is too cold; its fan then turns until the coil is warm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoilProbe {
    /// What it is fixed to.
    pub on: ProbedPart,
    /// Stops the unit at or below this.
    pub stops_below: ThermodynamicTemperature,
    /// Lets it run again at or above this.
    pub starts_above: ThermodynamicTemperature,
    /// Time constant with which it follows.
    pub follows_in: Time,
}

/// What a probe on the coil is fixed to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProbedPart {
    /// Its fins.
    Fins,
    /// The pipe in which the refrigerant evaporates.
    Pipe,
}

impl ProbedPart {
    /// How much of the difference between air and refrigerant lies between the air and it.
    ///
    /// # Source
    /// Pipe: by definition. Fins 70 %: Common practice, no source; most of the resistance is on the air's side, and a fin is warmer than its pipe.
    pub fn below_air_frac(self) -> f64 {
        match self {
            Self::Fins => 0.7,
            Self::Pipe => 1.0,
        }
    }
}

/// Who calls the pump.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CalledBy {
    /// The room's thermostat alone.
    Room,
    /// A thermostat at the tank alone.
    Tank,
    /// Both in series.
    Both,
}

impl CalledBy {
    /// Every way, in the order of reports.
    pub const ALL: [CalledBy; 3] = [CalledBy::Room, CalledBy::Tank, CalledBy::Both];
}

/// What the room thermostat's contact does to the unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Contact {
    /// Closed, it makes the unit run.
    Calls,
    /// Closed, it lets the unit run when the unit's own control wants to.
    Permits,
}

/// What the unit's input for its tank sensor is connected to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SensorPlace {
    /// The unit's own sensor at the tank.
    Tank,
    /// A fixed resistor that always reads the same temperature.
    Resistor,
}

/// A thermostat at the tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TankSensor {
    /// Height of its sensor.
    pub height: Ratio,
    /// Calls at or below this.
    pub calls_at: ThermodynamicTemperature,
    /// Has enough at or above this.
    pub enough_at: ThermodynamicTemperature,
}

/// How slowly the unit can run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlowRunning {
    /// Smallest share of full output.
    pub least: Ratio,
    /// How much better its COP is at half output.
    pub gain_at_half: Ratio,
}

/// How the unit gets rid of frost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DefrostMethod {
    /// What makes it begin.
    pub begins: DefrostStart,
    /// How long it takes.
    pub takes: Time,
    /// Power drawn in that time.
    pub power: Power,
    /// Rest in air above freezing after which the frost has thawed by itself.
    pub thaws_in: Time,
}

/// What makes a defrost begin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DefrostStart {
    /// A timer that counts running with a frosted coil.
    Running(Time),
    /// A timer that goes by the clock, from one beginning to the next.
    Clock(Time),
    /// Frost on the coil: on demand.
    Frost(Mass),
}

/// How the unit keeps the water in it from freezing while it rests.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrostGuard {
    /// Room air below which it acts.
    pub below: ThermodynamicTemperature,
    /// What it does.
    pub by: GuardMeans,
}

/// What the unit does against freezing water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GuardMeans {
    /// A heater is switched on.
    Heater {
        /// Its power.
        power: Power,
    },
    /// The circulator turns now and then.
    Circulator {
        /// Share of the time.
        share: Ratio,
        /// Flow while it turns.
        flow: VolumeRate,
    },
}

/// How water passes the pump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WaterCircuit {
    /// Flow follows the heat so that the outlet meets a target.
    SinglePass {
        /// The outlet aimed at.
        outlet: ThermodynamicTemperature,
        /// Least rise.
        min_rise: TemperatureInterval,
        /// Highest outlet.
        outlet_stop: ThermodynamicTemperature,
    },
    /// The circulator fixes the flow.
    MultiPass {
        /// Water flow.
        flow: VolumeRate,
        /// Highest outlet.
        outlet_stop: ThermodynamicTemperature,
    },
}

/// The room thermostat.
#[derive(Debug, Clone)]
pub struct RoomThermostat {
    /// Middle of the band.
    pub set: ThermodynamicTemperature,
    /// Width of the band: on at set + half, off at set - half.
    pub band: TemperatureInterval,
    /// Time constant of the probe.
    pub probe_lag: Time,
    /// Shortest run.
    pub min_run: Time,
    /// Shortest rest.
    pub min_rest: Time,
    /// Months in which the cooler is switched off.
    pub off_in: [bool; 12],
    /// Whether its contact calls the unit or only permits it to run, if said.
    pub contact: Option<Contact>,
}

/// What keeps warm water from circling through the pipes of a resting pump.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CirclingStop {
    /// A check valve.
    CheckValve,
    /// A pipe that first leads down from the tank.
    HeatTrap,
    /// Nothing.
    Nothing,
}

/// What a tank was built as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BuiltAs {
    /// A storage tank without heating of its own.
    StorageTank,
    /// An electric water heater.
    ElectricHeater,
    /// A gas water heater.
    GasHeater,
}

/// The tank. Heights are fractions of its water height.
#[derive(Debug, Clone)]
pub struct HotWaterTank {
    /// Its water and what it loses; of two in series, the one that the cold water enters.
    pub storage: Storage,
    /// A second tank in series: its bottom is joined to the top of the first.
    pub followed_by: Option<Storage>,
    /// What keeps its water from circling through the resting pump's pipes, if said.
    pub circling_stopped_by: Option<CirclingStop>,
    /// What it was built as, if said.
    pub built_as: Option<BuiltAs>,
    /// Where it stands.
    pub stands_in: Beyond,
    /// Effective vertical conductivity.
    pub conductivity: ThermalConductivity,
    /// Height of the cold inlet. Heights of ports, probes and an element are shares of the column of all water: of two tanks in series,
    /// from the bottom of the first through both.
    pub cold_in: Ratio,
    /// Share of the height that its jet stirs.
    pub cold_in_stirs: Ratio,
    /// Bore of the opening through which it comes in, if its jet is to be reckoned from that.
    pub cold_in_bore: Option<Length>,
    /// Bore of the opening through which the pump's water comes back, if its jet is to be reckoned.
    pub return_bore: Option<Length>,
    /// Height of the outlet to the pump.
    pub pump_out: Ratio,
    /// Height of the return from the pump.
    pub pump_return: Ratio,
    /// Height of the outlet to the taps.
    pub draw: Ratio,
}

impl HeatPumpUnit {
    /// Lower end of a coil in the tank through which its closed loop passes, if it does.
    pub fn loop_coil_from(&self) -> Option<Ratio> {
        self.closed_loop.and_then(|closed| closed.coil_from)
    }
}

impl HotWaterTank {
    /// Where the water that a pump warms leaves the tank and returns to it. A coil in the tank warms the water at its lower end, and that rises:
    /// both are there.
    pub fn pump_ports(&self, unit: &HeatPumpUnit) -> (Ratio, Ratio) {
        unit.loop_coil_from().map_or((self.pump_out, self.pump_return), |from| (from, from))
    }

    /// Whether its water circles through the pipes of a resting pump, as the year reckons it: where nothing stops it and no closed loop lies
    /// between.
    pub fn circles(&self, unit: &HeatPumpUnit) -> bool {
        self.circling_stopped_by == Some(CirclingStop::Nothing) && unit.closed_loop.is_none()
    }

    /// Water in it, or in both.
    pub fn water_volume(&self) -> Volume {
        self.storage.volume + self.followed_by.map_or(Volume::default(), |second| second.volume)
    }

    /// Share of the column of all water at which the first tank ends.
    pub fn first_share(&self) -> Ratio {
        self.storage.volume / self.water_volume()
    }
}

/// An upright tank of water and what it loses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Storage {
    /// Volume.
    pub volume: Volume,
    /// Height of the water.
    pub height: Length,
    /// Loss coefficient of the tank and its insulation.
    pub loss: ThermalConductance,
    /// What bare pipes and fittings lose beside it.
    pub heat_bridges: ThermalConductance,
}

/// Booster after the tank.
#[derive(Debug, Clone)]
pub struct BoosterUnit {
    /// Set point.
    pub set: ThermodynamicTemperature,
    /// Most heat to the water.
    pub most: Power,
    /// Smallest fire.
    pub least: Power,
    /// Heat to the water per energy bought.
    pub efficiency: Ratio,
    /// Hottest water that may enter it, if its maker says.
    pub highest_inlet: Option<ThermodynamicTemperature>,
    /// What it burns, in the household's words.
    pub energy: String,
}

impl BoosterUnit {
    /// Whether it heats with electricity, by the household's words for what it burns.
    pub fn is_electric(&self) -> bool {
        self.energy.to_lowercase().starts_with("electric")
    }
}

/// A loop of its own water between pump and tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClosedLoop {
    /// What the loop's water cools by over how much warmer than the tank's it enters the exchanger.
    pub effectiveness: Ratio,
    /// Lower end of a coil within the tank; a plate exchanger outside where there is none.
    pub coil_from: Option<Ratio>,
}

/// An electric element in the tank with its own thermostat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ElectricElement {
    /// Power.
    pub power: Power,
    /// Height at which it and its thermostat sit.
    pub height: Ratio,
    /// Switches off at or above this.
    pub set: ThermodynamicTemperature,
    /// Switches on that far below.
    pub differential: TemperatureInterval,
}

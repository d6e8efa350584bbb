//! What cannot be right about an installation although each value alone could be.
//!
//! The scenario reader shows these at their place in the file; a changed household is checked by the same rules.

mod sheet;

use uom::si::{area, length, power, ratio, thermodynamic_temperature, time, volume_rate};

use super::{
    BoosterUnit, ColdRoom, CoolerUnit, DumpLine, ElectricElement, HeatPumpUnit, HotWater, HotWaterTank,
    Household, Mains, RoomDoor, RoomThermostat, Seasonal, Site, UnitSystem, WaterCircuit,
};
use crate::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K;
use crate::diagnostic::Severity;
use crate::units::{Kind, celsius, interval, write};

/// The surfaces of a room add up to its inner surface within these shares: a door leaf may be left out, and walls
/// may be measured outside; a forgotten floor is 15 % or more. Common practice, no source.
const SURFACES_FROM_FRAC: f64 = 0.88;
/// See [`SURFACES_FROM_FRAC`].
const SURFACES_TO_FRAC: f64 = 1.25;
/// How near a missing area must come to that of a floor or wall to be named after it. Common practice, no source.
const NEAR_FRAC: f64 = 0.1;
/// Least that one of two tanks in series holds of their water: a step moves up to a thirtieth for the pump and as much for taps and dump.
const LEAST_OF_TWO_FRAC: f64 = 0.1;
/// Water that a tank holds after a day of heavy use: a heat pump that does not run with it never runs.
/// Common practice, no source: mains water of 5 to 20 °C.
pub(super) const COLD_TANK_DEGC: f64 = 10.0;
/// Seconds in a day.
const DAY_S: f64 = 86_400.0;
/// Lowest and highest COP that a data sheet may show: as for the key `cop`.
const COP_RANGE: std::ops::RangeInclusive<f64> = 1.05..=10.0;

/// Something that cannot be right, or is probably not meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Stable code.
    pub code: &'static str,
    /// Errors keep the year from being run; warnings do not.
    pub severity: Severity,
    /// The key it is about, as in the scenario, for example `dump.opens_at`. Items of lists are counted from 1.
    pub key: String,
    /// The other keys that take part in it.
    pub with: Vec<String>,
    /// What is wrong.
    pub what: String,
    /// What is allowed.
    pub allowed: Option<String>,
    /// How to mend it.
    pub help: Option<String>,
}

impl Fault {
    pub(super) fn error(code: &'static str, key: &str, with: &[&str], what: String) -> Self {
        let with = with.iter().map(|key| (*key).to_owned()).collect();
        Self { code, severity: Severity::Error, key: key.to_owned(), with, what, allowed: None, help: None }
    }

    pub(super) fn warning(self) -> Self {
        Self { severity: Severity::Warning, ..self }
    }

    pub(super) fn allowed(self, allowed: String) -> Self {
        Self { allowed: Some(allowed), ..self }
    }

    pub(super) fn help(self, help: impl Into<String>) -> Self {
        Self { help: Some(help.into()), ..self }
    }
}

impl Household {
    /// Everything that cannot be right, or is probably not meant, about this installation: errors, which keep its
    /// year from being run, and warnings, told apart by [`Fault::severity`].
    ///
    /// Each value is taken to lie in the range of its own key; only what belongs together is compared.
    pub fn faults(&self) -> Vec<Fault> {
        Parts {
            units: self.units,
            site: &self.site,
            room: &self.room,
            cooler: &self.cooler,
            thermostat: &self.thermostat,
            tank: &self.tank,
            hot_water: &self.hot_water,
            booster: self.booster.as_ref(),
            element: self.element.as_ref(),
            dump: self.dump.as_ref(),
        }
        .faults()
    }
}

/// A household without its weather: what the comparisons need.
pub(crate) struct Parts<'a> {
    pub units: UnitSystem,
    pub site: &'a Site,
    pub room: &'a ColdRoom,
    pub cooler: &'a CoolerUnit,
    pub thermostat: &'a RoomThermostat,
    pub tank: &'a HotWaterTank,
    pub hot_water: &'a HotWater,
    pub booster: Option<&'a BoosterUnit>,
    pub element: Option<&'a ElectricElement>,
    pub dump: Option<&'a DumpLine>,
}

type Temperature = uom::si::f64::ThermodynamicTemperature;

fn percent(share: uom::si::f64::Ratio) -> String {
    Kind::Share.report_unit(UnitSystem::Metric).write(share.get::<ratio::ratio>())
}

/// A time in the unit in which it is a handy number.
pub(super) fn duration(seconds: f64) -> String {
    let symbol = if seconds >= 120.0 { "min" } else { "s" };
    Kind::Time.unit(symbol).unwrap_or(&Kind::Time.units()[0]).write_rounded(seconds, 3)
}

impl Parts<'_> {
    /// All faults, in the order of the scenario's keys.
    pub(crate) fn faults(&self) -> Vec<Fault> {
        let CoolerUnit::HeatPump(pump) = self.cooler;
        let mut faults = Vec::new();
        self.site(&mut faults);
        self.surfaces(&mut faults);
        for (index, door) in self.room.doors.iter().enumerate() {
            self.door(&format!("room.doors[{}]", index + 1), door, &mut faults);
        }
        self.food(&mut faults);
        self.heater(&mut faults);
        self.data_sheet(pump, &mut faults);
        self.air_limits(pump, &mut faults);
        self.water_limits(pump, &mut faults);
        self.single_pass(pump, &mut faults);
        self.tank_sensor(pump, &mut faults);
        self.contact(pump, &mut faults);
        self.defrost(pump, &mut faults);
        self.coil_probe(pump, &mut faults);
        self.off_all_year(&mut faults);
        self.ports(pump, &mut faults);
        self.taps(&mut faults);
        if let Some(booster) = self.booster {
            self.booster(booster, &mut faults);
        }
        if let Some(element) = self.element {
            self.element(element, pump, &mut faults);
        }
        if let Some(dump) = self.dump {
            self.dump_heights(dump, pump, &mut faults);
            self.dump_temperatures(dump, pump, &mut faults);
            self.tempering(dump, &mut faults);
        }
        faults
    }

    pub(super) fn degrees(&self, temperature: Temperature) -> String {
        write(Kind::Temperature, temperature.get::<thermodynamic_temperature::kelvin>(), self.units)
    }

    fn kelvins(&self, difference_dk: f64) -> String {
        write(Kind::Difference, difference_dk, self.units)
    }

    fn area(&self, square_metres: f64) -> String {
        write(Kind::Area, square_metres, self.units)
    }

    fn watts(&self, power: uom::si::f64::Power) -> String {
        let watts = power.get::<power::watt>();
        let symbol = if watts >= 1000.0 { "kW" } else { "W" };
        Kind::Power.unit(symbol).unwrap_or(&Kind::Power.units()[0]).write(watts)
    }

    fn site(&self, faults: &mut Vec<Fault>) {
        if let Mains::Measured { coldest, warmest } = &self.site.mains
            && coldest > warmest
        {
            let (cold, warm) = (self.degrees(*coldest), self.degrees(*warmest));
            let (key, other) = ("site.mains_water.coldest", "site.mains_water.warmest");
            faults.push(
                Fault::error(
                    "S130",
                    key,
                    &[other],
                    format!("`coldest` of {cold} is warmer than `warmest` of {warm}"),
                )
                .allowed(format!("at most {warm}"))
                .help("were the two exchanged?"),
            );
        }
    }

    fn surfaces(&self, faults: &mut Vec<Fault>) {
        let room = self.room.inner_surface().get::<area::square_meter>();
        let given: f64 =
            self.room.surfaces.iter().map(|surface| surface.area.get::<area::square_meter>()).sum();
        let (low, high) = (SURFACES_FROM_FRAC * room, SURFACES_TO_FRAC * room);
        if (low..=high).contains(&given) {
            return;
        }
        let what = format!(
            "the surfaces add up to {}, but a room of this size has {} of walls, floor and ceiling",
            self.area(given),
            self.area(room)
        );
        let areas = (1..=self.room.surfaces.len()).map(|place| format!("room.surfaces[{place}].area"));
        let with: Vec<String> = ["room.length", "room.width", "room.height"]
            .map(str::to_owned)
            .into_iter()
            .chain(areas)
            .collect();
        let with: Vec<&str> = with.iter().map(String::as_str).collect();
        faults.push(
            Fault::error("S127", "room.surfaces", &with, what)
                .allowed(format!("{} to {}", self.area(low), self.area(high)))
                .help(self.surfaces_cause(given, room)),
        );
    }

    /// The likely slip behind areas that do not add up.
    fn surfaces_cause(&self, given: f64, room: f64) -> String {
        const SQUARE_FEET: f64 = 10.763_910_417;
        let close = |a: f64, b: f64| (a - b).abs() <= NEAR_FRAC * b;
        let (length, width, height) = self.sides();
        let missing = room - given;
        let named = [
            (length * width, "the floor or the ceiling"),
            (2.0 * length * width, "floor and ceiling together"),
            (length * height, "one of the long walls"),
            (width * height, "one of the short walls"),
            (2.0 * (length + width) * height, "the four walls"),
        ];
        if close(given / SQUARE_FEET, room) {
            return "the areas look like square feet written as square metres".to_owned();
        }
        if close(given * SQUARE_FEET, room) {
            return "the areas look like square metres written as square feet".to_owned();
        }
        if let Some((_, name)) = named.iter().find(|(area, _)| missing > 0.0 && close(missing, *area)) {
            return format!("{} is missing: as much as {name}", self.area(missing));
        }
        if let Some(wall) = self.wall_given_as_floor(length * width) {
            return format!("`{wall}` has the area of the floor: was the floor's area given for the walls?");
        }
        if missing > 0.0 {
            return format!("{} of walls, floor or ceiling is not described", self.area(missing));
        }
        "a surface may be given twice, or measured outside".to_owned()
    }

    /// A surface called a wall with exactly the floor's area.
    fn wall_given_as_floor(&self, floor: f64) -> Option<&str> {
        let is = |surface: &&super::RoomSurface| {
            surface.name.to_lowercase().contains("wall")
                && (surface.area.get::<area::square_meter>() - floor).abs() < 0.01 * floor
        };
        self.room.surfaces.iter().find(is).map(|surface| surface.name.as_str())
    }

    fn sides(&self) -> (f64, f64, f64) {
        let metres = |side: uom::si::f64::Length| side.get::<length::meter>();
        let (a, b) = (metres(self.room.length), metres(self.room.width));
        (a.max(b), a.min(b), metres(self.room.height))
    }

    fn door(&self, key: &str, door: &RoomDoor, faults: &mut Vec<Fault>) {
        let key_of = |name: &str| format!("{key}.{name}");
        if door.height > self.room.height {
            let metres =
                |side: uom::si::f64::Length| write(Kind::Length, side.get::<length::meter>(), self.units);
            let what = format!("the door's height of {} is more than the room's", metres(door.height));
            faults.push(
                Fault::error("S128", &key_of("height"), &["room.height"], what)
                    .allowed(format!("at most {}", metres(self.room.height))),
            );
        }
        let seconds = |time: uom::si::f64::Time| time.get::<time::second>();
        let clock = |time| Kind::Clock.report_unit(UnitSystem::Metric).write(seconds(time));
        let (first, last) = (seconds(door.first_opening), seconds(door.last_opening));
        let (first_key, last_key, for_key) = (key_of("first"), key_of("last"), key_of("open_for"));
        if first > last {
            let what = format!(
                "the first opening at {} is after the last at {}",
                clock(door.first_opening),
                clock(door.last_opening)
            );
            faults.push(Fault::error("S129", &first_key, &[&last_key], what).help("were the two exchanged?"));
            return;
        }
        if last + seconds(door.open_time) > DAY_S {
            let what = format!("the last opening at {} goes on after midnight", clock(door.last_opening));
            let latest = Kind::Clock.report_unit(UnitSystem::Metric).write(DAY_S - seconds(door.open_time));
            faults.push(
                Fault::error("S129", &last_key, &[&for_key], what).allowed(format!("at most {latest}")),
            );
            return;
        }
        let most = door.most_openings_per_day();
        let needed = f64::from(most) * seconds(door.open_time);
        let available = last - first + seconds(door.open_time);
        if most > 1 && needed > available {
            let what = format!(
                "{} openings of {} do not fit between {} and {}",
                most,
                duration(seconds(door.open_time)),
                clock(door.first_opening),
                clock(door.last_opening)
            );
            let longest = (last - first) / f64::from(most - 1);
            let openings = key_of("openings");
            faults.push(
                Fault::error("S129", &for_key, &[&first_key, &last_key, &openings], what)
                    .allowed(format!("at most {} each", duration(longest))),
            );
        }
    }

    fn food(&self, faults: &mut Vec<Fault>) {
        let (cold, warm) = (self.room.cold_limit, self.room.warm_limit);
        let set = self.thermostat.set;
        if cold >= warm {
            let what = format!(
                "`warmest` of {} is not above `coldest` of {}",
                self.degrees(warm),
                self.degrees(cold)
            );
            faults.push(
                Fault::error("S125", "room.food.warmest", &["room.food.coldest"], what)
                    .allowed(format!("above {}", self.degrees(cold))),
            );
        } else if set < cold || set > warm {
            let side =
                if set < cold { "below what the food may become" } else { "above what the food may become" };
            let what = format!("the set point of {} is {side}", self.degrees(set));
            faults.push(
                Fault::error("S126", "thermostat.set", &["room.food.warmest", "room.food.coldest"], what)
                    .allowed(format!("{} to {}, set by `room.food`", self.degrees(cold), self.degrees(warm)))
                    .help("move the set point, or give the food other limits"),
            );
        }
    }

    /// A heater that still heats where the cooler already cools.
    fn heater(&self, faults: &mut Vec<Fault>) {
        let Some(heater) = self.room.heater else { return };
        let cools_to = self.thermostat.set - self.thermostat.band / 2.0;
        let heats_to = heater.on_below + heater.differential;
        if heats_to > cools_to {
            let (key, with) = ("room.frost_heater.on_below", ["thermostat.set", "thermostat.band"]);
            let what = format!(
                "the heater heats the air up to {}, but the cooler cools it down to {}",
                self.degrees(heats_to),
                self.degrees(cools_to)
            );
            let highest = cools_to - heater.differential;
            faults.push(
                Fault::error("S196", key, &with, what).allowed(format!("at most {}", self.degrees(highest))),
            );
        }
    }

    fn air_limits(&self, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let (low, high) = ("cooler.heat_pump.lowest_air", "cooler.heat_pump.highest_air");
        let (set, half) = (self.thermostat.set, self.thermostat.band / 2.0);
        if pump.lowest_air >= pump.highest_air {
            let what = format!(
                "the coldest air of {} is not below the warmest of {}",
                self.degrees(pump.lowest_air),
                self.degrees(pump.highest_air)
            );
            faults.push(Fault::error("S133", low, &[high], what).help("were the two exchanged?"));
        } else if pump.lowest_air > set - half {
            let what = format!(
                "the heat pump stops at {} of room air, before the thermostat lets it at {}",
                self.degrees(pump.lowest_air),
                self.degrees(set - half)
            );
            faults.push(
                Fault::error("S132", low, &["thermostat.set", "thermostat.band"], what).warning().help(
                    "the room cannot be kept at its set point: a unit for colder air, or a warmer room",
                ),
            );
        } else if pump.highest_air < set + half {
            let what = format!(
                "the heat pump does not run above {} of room air, where the thermostat calls at {}",
                self.degrees(pump.highest_air),
                self.degrees(set + half)
            );
            faults.push(Fault::error("S132", high, &["thermostat.set", "thermostat.band"], what));
        }
    }

    /// Limits on the water that would keep the heat pump off even with a cold tank.
    fn water_limits(&self, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let cold = celsius(COLD_TANK_DEGC);
        let restart = pump.inlet_stop - pump.inlet_differential;
        if restart < cold {
            let what = format!(
                "once stopped by warm water the heat pump waits until it has cooled to {}",
                self.degrees(restart)
            );
            let with = ["cooler.heat_pump.highest_inlet"];
            faults.push(
                Fault::error("S141", "cooler.heat_pump.inlet_differential", &with, what)
                    .allowed(format!("to {} or warmer", self.degrees(cold)))
                    .help("mains water is hardly colder than that, so it might never run again"),
            );
        }
        if let WaterCircuit::MultiPass { flow, outlet_stop } = pump.circuit {
            let heat_w = pump.size.heat_output().get::<power::watt>();
            let kg_s = flow.get::<volume_rate::cubic_meter_per_second>() * 1000.0;
            let rise = interval(heat_w / (kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K));
            if outlet_stop - rise < cold {
                let what = format!(
                    "at this flow each pass heats the water by {}, past the highest outlet of {}",
                    write(Kind::Difference, rise.value, self.units),
                    self.degrees(outlet_stop)
                );
                let with = ["cooler.heat_pump.data_sheet", "cooler.heat_pump.multi_pass.highest_outlet"];
                faults.push(Fault::error("S142", "cooler.heat_pump.multi_pass.flow", &with, what).help(
                    format!(
                        "multi-pass units heat by about {} a pass: more flow, or `single_pass`",
                        self.kelvins(5.0)
                    ),
                ));
            }
        }
    }

    /// The warmest mains water, where the household has said it.
    fn warmest_mains(&self) -> Option<Temperature> {
        match &self.site.mains {
            Mains::FromWeather => None,
            Mains::Measured { warmest, .. } => Some(*warmest),
            Mains::Given(Seasonal::Constant(always)) => Some(*always),
            Mains::Given(Seasonal::Monthly(months)) => months.iter().copied().reduce(Temperature::max),
        }
    }

    /// Two tanks in series: neither a mere widening of the pipe, and the cold water enters the first.
    fn two_tanks(&self, faults: &mut Vec<Fault>) {
        let tank = self.tank;
        if tank.followed_by.is_none() {
            return;
        }
        let first = tank.first_share();
        let least = LEAST_OF_TWO_FRAC;
        if !(least..=1.0 - least).contains(&first.value) {
            let times = first.value.max(1.0 - first.value) / first.value.min(1.0 - first.value);
            let what = format!("one of the two tanks holds {times:.0} times as much as the other");
            let [to, from] = [least, 1.0 - least].map(|share| {
                write(Kind::Volume, tank.storage.volume.value * (1.0 - share) / share, self.units)
            });
            faults.push(
                Fault::error("S147", "tank.followed_by.volume", &["tank.volume"], what)
                    .allowed(format!("{from} to {to}"))
                    .help("leave the smaller one out: it is little more than a wide pipe"),
            );
        }
        let cold = [("cold_in", "enters at", tank.cold_in), ("cold_in_stirs", "stirs", tank.cold_in_stirs)];
        for (key, does, share) in cold.into_iter().filter(|(.., share)| *share > first) {
            let what = format!(
                "the cold water {does} {} of all the water, and the first tank ends at {}",
                percent(share),
                percent(first)
            );
            let path = format!("tank.ports.{key}");
            faults.push(
                Fault::error("S148", &path, &["tank.volume", "tank.followed_by.volume"], what)
                    .allowed(format!("up to {}", percent(first)))
                    .help("`tank` is the one that the cold water enters, `followed_by` the one after it"),
            );
        }
    }

    fn ports(&self, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let tank = self.tank;
        if pump.loop_coil_from().is_none() && tank.pump_return <= tank.pump_out {
            let what = format!(
                "water returns from the heat pump at {}, not above the {} at which it leaves",
                percent(tank.pump_return),
                percent(tank.pump_out)
            );
            faults.push(
                Fault::error("S120", "tank.ports.pump_return", &["tank.ports.pump_out"], what)
                    .allowed(format!("above {}", percent(tank.pump_out))),
            );
        }
        self.two_tanks(faults);
        if tank.draw <= tank.cold_in {
            let what = format!(
                "taps draw at {}, not above the cold inlet at {}",
                percent(tank.draw),
                percent(tank.cold_in)
            );
            faults.push(
                Fault::error("S139", "tank.ports.draw", &["tank.ports.cold_in"], what)
                    .allowed(format!("above {}", percent(tank.cold_in))),
            );
        }
    }

    fn taps(&self, faults: &mut Vec<Fault>) {
        if let Some(valve) = self.hot_water.mixing_valve
            && valve < self.hot_water.use_at
        {
            let (valve, used) = (self.degrees(valve), self.degrees(self.hot_water.use_at));
            let what = format!("the mixing valve's {valve} is below the {used} used at the taps");
            faults.push(
                Fault::error("S137", "hot_water.mixing_valve", &["hot_water.use_at"], what)
                    .allowed(format!("at least {used}")),
            );
        }
        for (index, one) in self.hot_water.uses.iter().enumerate() {
            let key = format!("hot_water.uses[{}].temperature", index + 1);
            let (name, used) = (&one.name, self.degrees(one.wanted_at));
            if let Some(valve) = self.hot_water.mixing_valve.filter(|valve| *valve < one.wanted_at)
                && !one.past_valve
            {
                let valve = self.degrees(valve);
                let what =
                    format!("`{name}` wants {used}, but the mixing valve lets no more than {valve} through");
                faults.push(
                    Fault::error("S181", &key, &["hot_water.mixing_valve"], what)
                        .allowed(format!("at most {valve}"))
                        .help("if its tap is fed from before the valve, say `past_valve: yes`"),
                );
            } else if let Some(booster) = self.booster.filter(|booster| booster.set < one.wanted_at) {
                let what =
                    format!("`{name}` wants {used}, but the booster is set to {}", self.degrees(booster.set));
                faults.push(
                    Fault::error("S180", &key, &["booster.set"], what)
                        .warning()
                        .help("only the tank can give that; what is missing is counted as too cold"),
                );
            }
        }
    }

    fn element(&self, element: &ElectricElement, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let (pump_out, _) = self.tank.pump_ports(pump);
        if element.height <= pump_out && element.set >= pump.inlet_stop {
            let what = format!(
                "the element heats the water that the heat pump takes at {} to {}, and {} stops the pump",
                percent(pump_out),
                self.degrees(element.set),
                self.degrees(pump.inlet_stop)
            );
            let with = ["tank.ports.pump_out", "cooler.heat_pump.highest_inlet", "element.set"];
            faults.push(
                Fault::error("S182", "element.height", &with, what)
                    .warning()
                    .help("an element in the upper third leaves the lower part to the heat pump"),
            );
        } else if let Some(line) =
            self.dump.filter(|line| element.height <= line.probe && element.set > line.opens_at)
        {
            let what = format!(
                "the element heats the water at the dump's probe to {}, and the dump lets it out from {} on",
                self.degrees(element.set),
                self.degrees(line.opens_at)
            );
            let with = ["dump.probe_height", "dump.opens_at", "element.set"];
            faults.push(
                Fault::error("S185", "element.height", &with, what)
                    .warning()
                    .help("bought heat then runs down the drain day and night: put the element above the dump's probe, or set it below the dump's opening"),
            );
        }
    }

    fn booster(&self, booster: &BoosterUnit, faults: &mut Vec<Fault>) {
        let used = self.hot_water.use_at;
        if booster.set < used {
            let what = format!(
                "the booster's {} is below the {} used at the taps",
                self.degrees(booster.set),
                self.degrees(used)
            );
            faults.push(
                Fault::error("S124", "booster.set", &["hot_water.use_at"], what)
                    .allowed(format!("at least {}", self.degrees(used)))
                    .help("raise `booster.set`: cold water is mixed in at the tap"),
            );
        }
        if booster.least >= booster.most {
            let (least, most) = (self.watts(booster.least), self.watts(booster.most));
            let what = format!("the booster's smallest fire of {least} is not below its largest of {most}");
            faults.push(
                Fault::error("S138", "booster.least", &["booster.most"], what)
                    .allowed(format!("below {most}")),
            );
        }
    }

    fn dump_heights(&self, dump: &DumpLine, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let tank = self.tank;
        if pump.loop_coil_from().is_none() && tank.pump_return < dump.probe {
            let what = format!(
                "water returns from the heat pump at {}, below the aquastat's probe at {}",
                percent(tank.pump_return),
                percent(dump.probe)
            );
            faults.push(
                Fault::error("S121", "tank.ports.pump_return", &["dump.probe_height"], what)
                    .allowed(format!("at least {}", percent(dump.probe)))
                    .help("else the probe never sees the hot water: raise the return or lower the probe"),
            );
        }
        if dump.port < dump.probe {
            let what = format!(
                "the dump's port at {} is below its probe at {}",
                percent(dump.port),
                percent(dump.probe)
            );
            faults.push(
                Fault::error("S122", "dump.port_height", &["dump.probe_height"], what)
                    .allowed(format!("at least {}", percent(dump.probe)))
                    .help("else it dumps cold water and never closes: take the water above the probe"),
            );
        }
        if dump.port <= tank.cold_in {
            let what = format!(
                "the dump's port at {} is not above the cold inlet at {}",
                percent(dump.port),
                percent(tank.cold_in)
            );
            faults.push(
                Fault::error("S139", "dump.port_height", &["tank.ports.cold_in"], what)
                    .allowed(format!("above {}", percent(tank.cold_in))),
            );
        }
        if (0..12).all(|month| !dump.may_open(month)) {
            let what = "the dump may open in no month".to_owned();
            faults.push(
                Fault::error("S140", "dump.months", &[], what).help("name its months, or leave `dump` out"),
            );
        }
    }

    /// Tempering takes colder water, in every month.
    fn tempering(&self, dump: &DumpLine, faults: &mut Vec<Fault>) {
        let Some(mains) = self.warmest_mains() else { return };
        for (index, taker) in dump.destinations.iter().enumerate() {
            let Some(wanted) = taker.temper_to.filter(|wanted| *wanted <= mains) else { continue };
            let key = format!("dump.destinations[{}].temper_to", index + 1);
            let what = format!(
                "water for \"{}\" is tempered to {}, but mains water is as warm as {}",
                taker.name,
                self.degrees(wanted),
                self.degrees(mains)
            );
            faults.push(
                Fault::error("S194", &key, &["site.mains_water"], what)
                    .allowed(format!("above {}", self.degrees(mains)))
                    .help("cold water as warm as that cannot cool it: raise it, or leave it out"),
            );
        }
    }

    fn dump_temperatures(&self, dump: &DumpLine, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let opens = self.degrees(dump.opens_at);
        if dump.closes_at >= dump.opens_at {
            let what = format!(
                "the dump closes at {}, not below the {opens} at which it opens",
                self.degrees(dump.closes_at)
            );
            faults.push(
                Fault::error("S123", "dump.closes_at", &["dump.opens_at"], what)
                    .allowed(format!("below {opens}"))
                    .help(format!("a differential of {} is usual", self.kelvins(5.0))),
            );
        }
        if let Some(mains) = self.warmest_mains().filter(|mains| dump.closes_at <= *mains) {
            let what = format!(
                "the dump closes at {}, but mains water is as warm as {}",
                self.degrees(dump.closes_at),
                self.degrees(mains)
            );
            let with = [
                "dump.opens_at",
                "site.mains_water",
                "site.mains_water.coldest",
                "site.mains_water.warmest",
                "site.mains_water.constant",
                "site.mains_water.monthly",
            ];
            faults.push(
                Fault::error("S143", "dump.closes_at", &with, what)
                    .allowed(format!("above {}", self.degrees(mains)))
                    .help("else it never closes in summer: the water that replaces what is dumped keeps it open"),
            );
        }
        let (hottest, limit) = match pump.circuit {
            WaterCircuit::SinglePass { outlet, min_rise, outlet_stop } => (
                outlet.max((pump.inlet_stop + min_rise).min(outlet_stop)),
                "cooler.heat_pump.single_pass.outlet",
            ),
            WaterCircuit::MultiPass { outlet_stop, .. } => {
                (outlet_stop, "cooler.heat_pump.multi_pass.highest_outlet")
            }
        };
        if dump.opens_at > hottest {
            let what = format!(
                "the dump opens at {opens}, but the heat pump makes water of {} at most",
                self.degrees(hottest)
            );
            faults.push(
                Fault::error("S136", "dump.opens_at", &[limit], what)
                    .warning()
                    .help("so it never opens: lower `dump.opens_at`, or leave `dump` out"),
            );
        } else if dump.opens_at > pump.inlet_stop {
            let stop = self.degrees(pump.inlet_stop);
            let what =
                format!("the dump opens at {opens}, above the {stop} of water at which the heat pump stops");
            faults.push(
                Fault::error("S131", "dump.opens_at", &["cooler.heat_pump.highest_inlet"], what)
                    .warning()
                    .allowed(format!("best below {stop}"))
                    .help("a tank that is warm throughout stops the heat pump before the dump opens"),
            );
        }
    }
}

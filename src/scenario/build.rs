//! From the tree to the household's installation, part by part.

mod alternatives;
mod cycle;
mod data_sheet;
mod dump;
mod envelope;
mod heat_pump;
mod hot_water;
mod prices;

use self::envelope::{beyond, room_surface};
use self::heat_pump::heat_pump;
use super::checker::{Checker, Section};
use super::choices::Variable;
use super::keys::{MONTHS, si_of};
use super::machine;
use crate::constants::ZERO_CELSIUS_K;
use crate::household::{
    Alternatives, Beyond, BoosterUnit, BuiltAs, Carried, CirclingStop, ColdRoom, CoolerUnit, DefaultUsed,
    DumpLine, ElectricElement, FrostHeater, HotWater, HotWaterTank, Household, Mains, Parts, Prices,
    ProppedOpen, RoomAlarm, RoomDoor, RoomThermostat, Safeguards, Seasonal, Site, Space, Storage,
    StoredProduce, UnitSystem, Well,
};
use crate::room::{Crop, RespirationLevel};
use crate::tank::loss::{BARE_CONNECTION, STANDING_LOSS_DK, class_edge_w};
use crate::units::{
    Kind, conductance, conductivity, cubic_metres, diffusivity, flow, fraction, interval, joules_per_kelvin,
    kelvin, kilograms, kilograms_per_cubic_metre, metres, pascals, plain, seconds, square_metres, u_value,
    watts,
};
use crate::weather::{MonthlyTable, WeatherYear};

/// Seconds in an hour.
const HOUR_S: f64 = 3600.0;
/// Heat capacity of crates for each kilogram stored, J/(kg K): a tenth of the produce's mass in wood of 1.6 kJ/(kg K).
/// Common practice, no source.
const CRATES_J_PER_KG_K: f64 = 160.0;
/// Energy class of a tank of which nothing is said: the worst that has been sold in the European Union since 26 Sep 2017.
/// Checked: original read for the date, Regulation (EU) 814/2013, Annex II, 2.1.
const ASSUMED_CLASS: &str = "C";
/// Where the loss of a bare connection comes from.
const BARE_CONNECTION_SOURCE: &str = "Derived here: 0.13 W/K for each bare connection, a long bare pipe as a fin (copper 22 x 0.9 mm or steel of 1 inch, 10 W/m2K around it: Common practice, no source)";
/// Height of a tank over its diameter. Common practice, no source: 2 to 3.
const SLENDERNESS: f64 = 2.5;

/// Code of a calendar of produce that does not add up.
const CALENDAR: &str = "S190";
/// So far a calendar may be off, kg: rounding of masses given in pounds.
const CLOSES_KG: f64 = 0.05;

/// Why nothing is counted for a crop, or not the end of a range.
const NO_SOURCE: &str = "no source was found that gives it for this crop";

/// Where the weather comes from.
pub enum WeatherSource {
    /// A file, as the scenario names it.
    File(String),
    /// A table of monthly means.
    Months(Box<MonthlyTable>),
}

/// A household whose weather is not read yet.
pub struct Draft {
    name: String,
    units: UnitSystem,
    /// Where its weather comes from; `None` if that is not said, which is a fault already noted.
    pub weather: Option<WeatherSource>,
    site: Site,
    spaces: Vec<Space>,
    room: ColdRoom,
    safeguards: Safeguards,
    cooler: CoolerUnit,
    thermostat: RoomThermostat,
    tank: HotWaterTank,
    hot_water: HotWater,
    booster: Option<BoosterUnit>,
    element: Option<ElectricElement>,
    dump: Option<DumpLine>,
    prices: Option<Prices>,
    alternatives: Alternatives,
    choices: Vec<Variable>,
}

impl Draft {
    /// The parts that are compared with each other.
    pub fn parts(&self) -> Parts<'_> {
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
    }

    /// The household with its weather.
    pub fn with(self, weather: WeatherYear, defaults: Vec<DefaultUsed>) -> Household {
        Household {
            name: self.name,
            units: self.units,
            weather,
            site: self.site,
            spaces: self.spaces,
            room: self.room,
            safeguards: self.safeguards,
            cooler: self.cooler,
            thermostat: self.thermostat,
            tank: self.tank,
            hot_water: self.hot_water,
            booster: self.booster,
            element: self.element,
            dump: self.dump,
            prices: self.prices,
            alternatives: self.alternatives,
            choices: self.choices,
            defaults,
        }
    }
}

/// Takes everything out of the outermost table.
pub fn draft(at: &mut Checker, top: &Section<'_>) -> Draft {
    let name = at.text(top, "name");
    let units = match at.word(top, "units") {
        Some("us") => UnitSystem::Us,
        _ => UnitSystem::Metric,
    };
    let weather = at.section(top, "weather");
    let weather = weather_source(at, &weather);
    let site = site(at, top);
    let spaces = spaces(at, top);
    let thermostat = thermostat(at, top);
    let room = room(at, top, &thermostat);
    let safeguards = safeguards(at, top);
    let cooler = at.section(top, "cooler");
    let cooler = CoolerUnit::HeatPump(Box::new(heat_pump(at, &cooler)));
    let tank = tank(at, top);
    ports_beside_a_coil(at, top, &cooler);
    let hot_water = hot_water::hot_water(at, top);
    let element = element(at, top);
    let booster = booster(at, top);
    let dump = dump::dump(at, top, site.supply_pressure.value);
    let prices = prices::prices(at, top, booster.as_ref(), &spaces);
    Draft {
        name,
        units,
        weather,
        site,
        spaces,
        room,
        safeguards,
        cooler,
        thermostat,
        tank,
        hot_water,
        booster,
        element,
        dump,
        prices,
        alternatives: alternatives::alternatives(at, top),
        choices: at.choices(top, "choices"),
    }
}

/// File or table; beside a file a table is a fault, and is not looked into.
fn weather_source(at: &mut Checker, section: &Section<'_>) -> Option<WeatherSource> {
    if at.one_of(section, &["file", "months"], true)? == "file" {
        return Some(WeatherSource::File(at.text(section, "file")));
    }
    let months = at.section(section, "months");
    Some(WeatherSource::Months(Box::new(monthly_table(at, &months))))
}

fn monthly_table(at: &mut Checker, months: &Section<'_>) -> MonthlyTable {
    MonthlyTable {
        place: at.text(months, "place"),
        latitude_deg: at.number(months, "latitude").unwrap_or_default(),
        elevation_m: at.value(months, "elevation"),
        mean_k: twelve(&at.quantities(months, "mean")),
        daily_range_dk: twelve(&at.quantities(months, "daily_range")),
        humidity_frac: twelve(&at.quantities(months, "humidity")),
    }
}

/// Twelve values; one stands for all months.
fn twelve(values: &[f64]) -> [f64; 12] {
    <[f64; 12]>::try_from(values).unwrap_or([values.first().copied().unwrap_or(0.0); 12])
}

fn site(at: &mut Checker, top: &Section<'_>) -> Site {
    let site = at.section(top, "site");
    let soil_diffusivity = diffusivity(at.value(&site, "soil_diffusivity"));
    let mains = match at.optional_section(&site, "mains_water") {
        Some(mains) => measured_mains(at, &mains),
        None => {
            at.assume(
                site.path_of("mains_water"),
                "from the weather".to_owned(),
                "Second hand: Burch and Christensen 2007, from the year's outdoor air, as given in public code",
            );
            Mains::FromWeather
        }
    };
    Site {
        soil_diffusivity,
        mains,
        hardness: at.optional(&site, "hardness").map(kilograms_per_cubic_metre),
        supply_pressure: pascals(at.value(&site, "supply_pressure")),
        well: at.optional_section(&site, "well").map(|well| Well {
            yields: flow(at.value(&well, "yield")),
            pump_flow: flow(at.value(&well, "pump_flow")),
            drawdown: cubic_metres(at.value(&well, "drawdown")),
            pump_power: at.optional(&well, "pump_power").map(watts),
        }),
        rain: site.has("rain").then(|| twelve(&at.quantities(&site, "rain")).map(metres)),
    }
}

fn measured_mains(at: &mut Checker, mains: &Section<'_>) -> Mains {
    let names: &[&str] = if mains.has("coldest") || !mains.has("warmest") {
        &["constant", "monthly", "coldest"]
    } else {
        &["constant", "monthly", "warmest"]
    };
    match at.one_of(mains, names, true) {
        Some("constant") => Mains::Given(Seasonal::Constant(kelvin(at.value(mains, "constant")))),
        Some("monthly") => Mains::Given(seasonal(&at.quantities(mains, "monthly"))),
        _ => {
            for (name, other) in [("coldest", "warmest"), ("warmest", "coldest")] {
                if mains.has(other) && !mains.has(name) {
                    at.need(mains, name);
                }
            }
            Mains::Measured {
                coldest: kelvin(at.value(mains, "coldest")),
                warmest: kelvin(at.value(mains, "warmest")),
            }
        }
    }
}

/// One value is constant, twelve are months.
fn seasonal(values: &[f64]) -> Seasonal {
    match <[f64; 12]>::try_from(values) {
        Ok(months) => Seasonal::Monthly(months.map(kelvin)),
        Err(_) => Seasonal::Constant(kelvin(values.first().copied().unwrap_or(ZERO_CELSIUS_K))),
    }
}

fn spaces(at: &mut Checker, top: &Section<'_>) -> Vec<Space> {
    let sections = at.named(top, "spaces");
    at.spaces = sections.iter().map(|(name, _)| name.clone()).collect();
    sections
        .into_iter()
        .map(|(name, section)| Space {
            name,
            temperature: seasonal(&at.quantities(&section, "temperature")),
            outdoor_share: fraction(at.optional(&section, "outdoor_share").unwrap_or(0.0)),
            humidity: fraction(at.value(&section, "humidity")),
            heated: if section.has("heated_in") { at.months(&section, "heated_in") } else { [false; 12] },
        })
        .collect()
}

fn thermostat(at: &mut Checker, top: &Section<'_>) -> RoomThermostat {
    let section = at.section(top, "thermostat");
    RoomThermostat {
        set: kelvin(at.value(&section, "set")),
        band: interval(at.value(&section, "band")),
        probe_lag: seconds(at.probe(&section, "probe")),
        min_run: seconds(at.value(&section, "least_run")),
        min_rest: seconds(at.value(&section, "least_rest")),
        off_in: if section.has("off_in") { at.months(&section, "off_in") } else { [false; 12] },
        contact: machine::contact(at, &section),
    }
}

/// What the room has for the safety of people and food.
fn safeguards(at: &mut Checker, top: &Section<'_>) -> Safeguards {
    let room = at.section(top, "room");
    let alarm = at.word(&room, "alarm").map(|word| match word {
        "too warm" => RoomAlarm::TooWarm,
        "too cold" => RoomAlarm::TooCold,
        "both" => RoomAlarm::Both,
        _ => RoomAlarm::None,
    });
    let food = at.section(&room, "food");
    Safeguards {
        opens_from_inside: at.word(&room, "opens_from_inside").map(|word| word == "yes"),
        alarm,
        perishable: at.word(&food, "perishable").map(|word| word == "yes"),
    }
}

fn room(at: &mut Checker, top: &Section<'_>, thermostat: &RoomThermostat) -> ColdRoom {
    let section = at.section(top, "room");
    let (length, width) = (metres(at.value(&section, "length")), metres(at.value(&section, "width")));
    let height = metres(at.value(&section, "height"));
    let surfaces = at.list(&section, "surfaces").iter().map(|surface| room_surface(at, surface)).collect();
    let doors: Vec<_> = at.list(&section, "doors").iter().map(|door| room_door(at, door)).collect();
    if !section.has("doors") {
        at.assume(
            section.path_of("doors"),
            "[]".to_owned(),
            "Common practice, no source: no door is named, so none is opened",
        );
    }
    let (leakage_changes_per_hour, leakage_from) = leakage(at, &section, &doors);
    let people_time = people(at, &section);
    let (lights, lights_time) = lights(at, &section);
    let produce: Vec<_> =
        at.list(&section, "produce").iter().map(|produce| stored(at, produce, thermostat)).collect();
    let contents = at.section(&section, "contents");
    let crates = crates(at, &contents, &produce);
    let exchange_area = at.optional(&contents, "exchange_area");
    if exchange_area.is_none() {
        let reason =
            "Common practice, no source: inner surface of the room and 0.04 m2 for each kilogram stored";
        at.assume(contents.path_of("exchange_area"), "from the room and what is stored".to_owned(), reason);
    }
    let half_cooling = seconds(at.value(&contents, "half_cooling"));
    let respiration = respiration(at, &contents, &produce);
    let (warm_limit, cold_limit) = food(at, &section, &produce);
    let heater = at.optional_section(&section, "frost_heater").map(|heater| FrostHeater {
        power: watts(at.value(&heater, "power")),
        on_below: kelvin(at.value(&heater, "on_below")),
        differential: interval(at.value(&heater, "differential")),
    });
    let condensate_bucket = at.optional(&section, "condensate_bucket").map(cubic_metres);
    ColdRoom {
        heater,
        condensate_bucket,
        length,
        width,
        height,
        surfaces,
        leakage_changes_per_hour,
        leakage_from,
        doors,
        people_time: seconds(people_time),
        lights: watts(lights),
        lights_time: seconds(lights_time),
        produce,
        half_cooling,
        respiration,
        crates: joules_per_kelvin(crates),
        inner_skin_j_per_m2_k: at.value(&contents, "inner_skin"),
        shelving: joules_per_kelvin(at.value(&contents, "shelving")),
        exchange: u_value(at.value(&contents, "exchange")),
        exchange_area: exchange_area.map(square_metres),
        warm_limit: kelvin(warm_limit),
        cold_limit: kelvin(cold_limit),
    }
}

fn room_door(at: &mut Checker, section: &Section<'_>) -> RoomDoor {
    RoomDoor {
        width: metres(at.value(section, "width")),
        height: metres(at.value(section, "height")),
        opens_to: at.beyond(section, "opens_to").map_or(Beyond::Outdoors, beyond),
        openings_per_day: twelve(&at.quantities(section, "openings")).map(|count| count as u32),
        open_time: seconds(at.value(section, "open_for")),
        first_opening: seconds(at.value(section, "first")),
        last_opening: seconds(at.value(section, "last")),
        flow_factor: fraction(at.value(section, "flow_factor")),
        curtain: fraction(at.value(section, "curtain")),
        curtain_months: at.months(section, "curtain_in"),
        propped: at.optional_section(section, "propped_open").map(|propped| ProppedOpen {
            from: seconds(at.value(&propped, "from")),
            lasts: seconds(at.value(&propped, "lasts")),
            months: at.months(&propped, "months"),
        }),
    }
}

fn leakage(at: &mut Checker, room: &Section<'_>, doors: &[RoomDoor]) -> (f64, Beyond) {
    let section = at.section(room, "leakage");
    let per_hour = at.value(&section, "air_changes") * HOUR_S;
    let from = match at.beyond(&section, "from") {
        Some(place) => beyond(place),
        None => {
            let from = doors.first().map_or(Beyond::Outdoors, |door| door.opens_to);
            if !section.has("from") {
                let name = place_name(at, from);
                at.assume(
                    section.path_of("from"),
                    name,
                    "Common practice, no source: air leaks in where the first door opens to",
                );
            }
            from
        }
    };
    (per_hour, from)
}

fn place_name(at: &Checker, place: Beyond) -> String {
    match place {
        Beyond::Space(index) => at.spaces[index].clone(),
        Beyond::ColdRoom => super::keys::COLD_ROOM.to_owned(),
        Beyond::Outdoors | Beyond::Ground { .. } | Beyond::GroundSlab { .. } => {
            super::keys::OUTDOORS.to_owned()
        }
    }
}

fn people(at: &mut Checker, room: &Section<'_>) -> f64 {
    match at.optional_section(room, "people") {
        Some(section) => at.value(&section, "time"),
        None => {
            let reason = "Common practice, no source: nobody is named, so nobody works in the room";
            at.assume(room.path_of("people.time"), "0 min/day".to_owned(), reason);
            0.0
        }
    }
}

fn lights(at: &mut Checker, room: &Section<'_>) -> (f64, f64) {
    match at.optional_section(room, "lights") {
        Some(section) => (at.value(&section, "power"), at.value(&section, "time")),
        None => {
            let reason = "Common practice, no source: no lights are named";
            at.assume(room.path_of("lights.power"), "0 W".to_owned(), reason);
            (0.0, 0.0)
        }
    }
}

fn stored(at: &mut Checker, section: &Section<'_>, thermostat: &RoomThermostat) -> StoredProduce {
    let crop = at.crop(section, "crop").or_else(|| Crop::all().next()).expect("the crop table has rows");
    let masses = at.quantities(section, "mass");
    let mass = twelve(&masses);
    let changes = mass.iter().any(|month| *month != mass[0]);
    let loads = at.list(section, "carried_in");
    let unsaid = |load: &Section<'_>| !load.has("arrives_at");
    if (changes || loads.iter().any(unsaid)) && !section.has("arrives_at") {
        at.need(section, "arrives_at");
    }
    // Where the mass never changes nothing is carried in, and this temperature is not used.
    let arrives_at = at.optional(section, "arrives_at").map_or(thermostat.set, kelvin);
    let mut carried: Vec<Carried> = loads
        .iter()
        .map(|load| Carried {
            on: at.date(load, "on"),
            change: kilograms(at.value(load, "mass")),
            arrives_at: at.optional(load, "arrives_at").map_or(arrives_at, kelvin),
        })
        .collect();
    carried.extend(at.list(section, "taken_out").iter().map(|load| Carried {
        on: at.date(load, "on"),
        change: -kilograms(at.value(load, "mass")),
        arrives_at,
    }));
    let stored = StoredProduce { crop, mass: mass.map(kilograms), arrives_at, carried };
    calendar_adds_up(at, section, &stored, masses.len());
    stored
}

/// Notes a calendar beside twelve masses, one that does not close on itself, or one that takes out what is not there.
fn calendar_adds_up(at: &mut Checker, section: &Section<'_>, stored: &StoredProduce, masses: usize) {
    let list = if section.has("carried_in") { "carried_in" } else { "taken_out" };
    let path = section.path_of(list);
    let parts = ["mass", "carried_in", "taken_out"].map(|key| section.path_of(key));
    if stored.carried.is_empty() || at.has_fault_within(&section.path_of("")) {
        return;
    }
    let units = at.units;
    let write = |mass_kg: f64| Kind::Mass.report_unit(units).write_rounded(mass_kg, 1);
    if masses > 1 {
        let what = format!("`{path}` is given beside twelve masses in `{}`", parts[0]);
        let help = "give one `mass`, that at the turn of the year, or leave the dates out";
        return at.fault(&path, CALENDAR, what, Some("one mass".to_owned()), Some(help.to_owned()));
    }
    let sum = |sign: f64| -> f64 {
        stored.carried.iter().map(|one| sign * one.change.value).filter(|mass_kg| *mass_kg > 0.0).sum()
    };
    let (in_kg, out_kg) = (sum(1.0), sum(-1.0));
    if (in_kg - out_kg).abs() > CLOSES_KG {
        let what = format!(
            "{} are carried in and {} are taken out in a year, but the year begins again with what it began with",
            write(in_kg),
            write(out_kg)
        );
        let more = if in_kg > out_kg { "take out" } else { "carry in" };
        let help = format!("{more} {} more, on the day on which that is so", write((in_kg - out_kg).abs()));
        return at.fault(&path, CALENDAR, what, Some("as much out as in".to_owned()), Some(help));
    }
    let mut loads: Vec<_> = stored.carried.iter().collect();
    loads.sort_by(|one, other| {
        let day = |load: &Carried| (load.on.month, load.on.day);
        day(one).cmp(&day(other)).then(one.change.value.total_cmp(&other.change.value))
    });
    let mut there_kg = stored.mass[0].value;
    for load in loads {
        if there_kg + load.change.value < -CLOSES_KG {
            let what = format!(
                "on {} {} {} are taken out, but {} are there",
                load.on.day,
                MONTHS[load.on.month],
                write(-load.change.value),
                write(there_kg.max(0.0))
            );
            let help =
                format!("raise `{}`, what is there at the turn of the year, or take out less", parts[0]);
            let allowed = Some(format!("0 kg to {}", write(there_kg.max(0.0))));
            return at.fault(&parts[2], CALENDAR, what, allowed, Some(help));
        }
        there_kg += load.change.value;
    }
}

/// The level of respiration; crops of which a source says too little are listed among what is assumed.
fn respiration(at: &mut Checker, contents: &Section<'_>, produce: &[StoredProduce]) -> RespirationLevel {
    let level = match at.word(contents, "respiration") {
        Some("low") => RespirationLevel::Low,
        Some("high") => RespirationLevel::High,
        _ => RespirationLevel::Middle,
    };
    let mut without = |what: &str, key: &str, lacks: &dyn Fn(Crop) -> bool| {
        let mut names: Vec<&str> =
            produce.iter().map(|one| one.crop).filter(|crop| lacks(*crop)).map(Crop::name).collect();
        names.sort_unstable();
        names.dedup();
        if !names.is_empty() {
            at.assume(
                format!("{} ({})", contents.path_of(key), names.join(", ")),
                what.to_owned(),
                NO_SOURCE,
            );
        }
    };
    without("none counted", "respiration", &|crop| !crop.respires());
    without("none counted", "transpiration", &|crop| !crop.transpires());
    if level != RespirationLevel::Middle {
        without("middle", "respiration", &|crop| crop.respires() && !crop.has_respiration_range());
    }
    level
}

/// Kilograms stored in the fullest month.
fn fullest_kg(produce: &[StoredProduce]) -> f64 {
    let month = |month: usize| -> f64 { produce.iter().map(|one| one.most_in(month).value).sum() };
    (0..12).map(month).fold(0.0, f64::max)
}

fn crates(at: &mut Checker, contents: &Section<'_>, produce: &[StoredProduce]) -> f64 {
    at.optional(contents, "crates").unwrap_or_else(|| {
        let crates = CRATES_J_PER_KG_K * fullest_kg(produce);
        let reason =
            "Common practice, no source: crates weigh a tenth of the produce of the fullest month, in wood";
        at.assume(contents.path_of("crates"), Kind::HeatCapacity.units()[0].write(crates), reason);
        crates
    })
}

/// Warmest and coldest that the food may become, K.
fn food(at: &mut Checker, room: &Section<'_>, produce: &[StoredProduce]) -> (f64, f64) {
    let section = at.section(room, "food");
    let warmest = at.value(&section, "warmest");
    let coldest = at.optional(&section, "coldest").unwrap_or_else(|| {
        let highest = produce.iter().map(|one| one.crop.freezing_k()).reduce(f64::max);
        let (coldest, reason) = match highest {
            Some(freezing) => {
                (freezing, "Second hand: the highest freezing point of what is stored, from the crop table")
            }
            None => (
                ZERO_CELSIUS_K,
                "Common practice, no source: nothing is named that is stored, so water must not freeze",
            ),
        };
        at.assume(section.path_of("coldest"), Kind::Temperature.units()[0].write(coldest), reason);
        coldest
    });
    (warmest, coldest)
}

/// With a coil in the tank the pump has no ports there.
fn ports_beside_a_coil(at: &mut Checker, top: &Section<'_>, cooler: &CoolerUnit) {
    let CoolerUnit::HeatPump(unit) = cooler;
    let tank = at.section(top, "tank");
    let ports = at.section(&tank, "ports");
    for key in ["pump_out", "pump_return", "pump_return_bore"] {
        if unit.loop_coil_from().is_some() && ports.has(key) {
            let path = ports.path_of(key);
            let what = format!("`{path}` is without use where a coil in the tank takes the pump's heat");
            let help = "take it out, or take `coil_from` out of `closed_loop`";
            at.fault(&path, "S149", what, None, Some(help.to_owned()));
        }
    }
}

fn tank(at: &mut Checker, top: &Section<'_>) -> HotWaterTank {
    let section = at.section(top, "tank");
    let storage = storage(at, &section);
    let followed_by = at.optional_section(&section, "followed_by").map(|second| self::storage(at, &second));
    let stands_in = at.beyond(&section, "stands_in").map_or(Beyond::ColdRoom, beyond);
    let ports = at.section(&section, "ports");
    let stirs = match at.one_of(&ports, &["cold_in_stirs", "cold_in_bore"], false) {
        Some("cold_in_bore") => 0.0,
        _ => at.value(&ports, "cold_in_stirs"),
    };
    HotWaterTank {
        storage,
        followed_by,
        circling_stopped_by: at.word(&section, "circling_stopped_by").map(|word| match word {
            "check valve" => CirclingStop::CheckValve,
            "heat trap" => CirclingStop::HeatTrap,
            _ => CirclingStop::Nothing,
        }),
        built_as: at.word(&section, "built_as").map(|word| match word {
            "electric water heater" => BuiltAs::ElectricHeater,
            "gas water heater" => BuiltAs::GasHeater,
            _ => BuiltAs::StorageTank,
        }),
        stands_in,
        conductivity: conductivity(at.value(&section, "conductivity")),
        cold_in: fraction(at.value(&ports, "cold_in")),
        cold_in_stirs: fraction(stirs),
        cold_in_bore: at.optional(&ports, "cold_in_bore").map(metres),
        return_bore: at.optional(&ports, "pump_return_bore").map(metres),
        pump_out: fraction(at.value(&ports, "pump_out")),
        pump_return: fraction(at.value(&ports, "pump_return")),
        draw: fraction(at.value(&ports, "draw")),
    }
}

/// Height of an upright cylinder [`SLENDERNESS`] times as high as it is wide, m.
fn slender_height_m(volume_m3: f64) -> f64 {
    SLENDERNESS * libm::cbrt(4.0 * volume_m3 / (SLENDERNESS * std::f64::consts::PI))
}

/// One tank's water and what it loses.
fn storage(at: &mut Checker, section: &Section<'_>) -> Storage {
    let volume = at.value(section, "volume");
    let height = at.optional(section, "height").unwrap_or_else(|| {
        let height = slender_height_m(volume);
        let reason = "Common practice, no source: 2.5 times the diameter";
        at.assume(section.path_of("height"), Kind::Length.units()[0].write_rounded(height, 3), reason);
        height
    });
    Storage {
        volume: cubic_metres(volume),
        height: metres(height),
        loss: conductance(tank_loss(at, section, volume, height)),
        heat_bridges: conductance(heat_bridges(at, section)),
    }
}

/// Loss per degree, W/K.
fn tank_loss(at: &mut Checker, section: &Section<'_>, volume_m3: f64, height_m: f64) -> f64 {
    match at.one_of(section, &["standing_loss", "energy_class", "loss", "insulation"], false) {
        Some("standing_loss") => at.value(section, "standing_loss") / STANDING_LOSS_DK,
        Some("energy_class") => {
            let class = at.word(section, "energy_class").unwrap_or(ASSUMED_CLASS);
            class_loss(at, section, class, volume_m3)
        }
        Some("loss") => at.value(section, "loss"),
        Some(_) => cylinder_surface_m2(volume_m3, height_m) / at.value(section, "insulation"),
        None => class_loss(at, section, ASSUMED_CLASS, volume_m3),
    }
}

/// Loss at the upper edge of an energy class, W/K, noted as assumed.
fn class_loss(at: &mut Checker, section: &Section<'_>, class: &str, volume_m3: f64) -> f64 {
    let edge_w = class_edge_w(class, volume_m3).expect("the table of keys takes no class without an edge");
    let loss = edge_w / STANDING_LOSS_DK;
    let reason = format!(
        "Second hand: upper edge of class {class}, Regulation (EU) 812/2013, Annex II, Table 2, as given in three public copies"
    );
    at.assume(section.path_of("loss"), format!("{} W/K", plain(loss, 3)), &reason);
    loss
}

/// What bare pipes and fittings lose, W/K.
fn heat_bridges(at: &mut Checker, section: &Section<'_>) -> f64 {
    if at.one_of(section, &["heat_bridges", "bare_connections"], false) != Some("bare_connections") {
        return at.optional(section, "heat_bridges").unwrap_or(0.0);
    }
    let count = at.number(section, "bare_connections").unwrap_or(0.0);
    let loss = count * si_of(Kind::Conductance, BARE_CONNECTION);
    at.assume(section.path_of("heat_bridges"), format!("{} W/K", plain(loss, 3)), BARE_CONNECTION_SOURCE);
    loss
}

/// Outer surface of an upright cylinder, m2.
fn cylinder_surface_m2(volume_m3: f64, height_m: f64) -> f64 {
    let base = volume_m3 / height_m;
    let diameter = (4.0 * base / std::f64::consts::PI).sqrt();
    2.0 * base + std::f64::consts::PI * diameter * height_m
}

fn booster(at: &mut Checker, top: &Section<'_>) -> Option<BoosterUnit> {
    let section = at.optional_section(top, "booster")?;
    Some(BoosterUnit {
        set: kelvin(at.value(&section, "set")),
        most: watts(at.value(&section, "most")),
        least: watts(at.value(&section, "least")),
        efficiency: fraction(at.value(&section, "efficiency")),
        highest_inlet: at.optional(&section, "highest_inlet").map(kelvin),
        energy: at.text(&section, "energy"),
    })
}

fn element(at: &mut Checker, top: &Section<'_>) -> Option<ElectricElement> {
    let section = at.optional_section(top, "element")?;
    Some(ElectricElement {
        power: watts(at.value(&section, "power")),
        height: fraction(at.value(&section, "height")),
        set: kelvin(at.value(&section, "set")),
        differential: interval(at.value(&section, "differential")),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// A 300 L cylinder 2.5 times as high as wide is 0.5346 m across with a surface of 2.694 m2; around it loses 1.224 W/K.
    /// Source: 10 CFR 431.110(a) for. Derived here: geometry. Tolerance: the printed digits.
    #[test]
    fn loss_through_r_12_5_insulation() {
        let height = slender_height_m(0.3);
        assert_relative_eq!(height / SLENDERNESS, 0.5346, epsilon = 5e-5);
        let surface = cylinder_surface_m2(0.3, height);
        assert_relative_eq!(surface, 2.694, epsilon = 5e-4);
        assert_relative_eq!(surface / si_of(Kind::RValue, "R-12.5"), 1.224, epsilon = 5e-4);
    }
}

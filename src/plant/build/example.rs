//! A household for tests: a basement room with two neighbours, two kinds of ground, two doors.

use crate::draw::Pattern;
use crate::heat_pump::Cycle;
use crate::household::*;
use crate::plant::Calendar;
use crate::room::Crop;
use crate::units::{
    celsius as degc, conductance, conductivity, cubic_metres, diffusivity, flow, fraction, interval,
    joules_per_kelvin, kilograms, metres, pascals, seconds, square_metres, u_value, watts,
};
use crate::weather::{WeatherHour, WeatherYear};

/// A year whose air swings by 12 K about 9 °C through the year and by 4 K through the day; coldest
/// at the end of January, half a year later in the south.
pub fn weather(latitude_deg: f64, leap_year: bool) -> WeatherYear {
    let hours = Calendar::new(leap_year).hours();
    let phase = if latitude_deg < 0.0 { 0.5 } else { 0.0 };
    let hour = |index: usize| {
        let day = (index + 1) as f64 / 24.0;
        let season = libm::cos(2.0 * std::f64::consts::PI * ((day - 30.0) / (hours as f64 / 24.0) - phase));
        let time_of_day = libm::cos(2.0 * std::f64::consts::PI * (day - 0.2));
        WeatherHour {
            dry_bulb_k: 282.15 - 12.0 * season - 4.0 * time_of_day,
            humidity_ratio: 0.005 - 0.002 * season,
            pressure_pa: 98_000.0 + 500.0 * season,
            global_w_m2: None,
            direct_w_m2: None,
            diffuse_w_m2: None,
        }
    };
    WeatherYear {
        place: "Waves".to_owned(),
        origin: "two cosines".to_owned(),
        latitude_deg,
        longitude_deg: 0.0,
        utc_offset_h: 0.0,
        elevation_m: 280.0,
        leap_year,
        hours: (0..hours).map(hour).collect(),
        notes: Vec::new(),
    }
}

pub fn household() -> Household {
    Household {
        name: "example".to_owned(),
        units: UnitSystem::Metric,
        weather: weather(50.0, false),
        site: Site {
            soil_diffusivity: diffusivity(0.6e-6),
            mains: Mains::FromWeather,
            hardness: None,
            supply_pressure: pascals(4.0e5),
            well: None,
            rain: None,
        },
        spaces: vec![
            space("hall", Seasonal::Constant(degc(19.0))),
            space("cellar", Seasonal::Monthly(std::array::from_fn(|month| degc(8.0 + month as f64)))),
        ],
        room: cold_room(),
        cooler: CoolerUnit::HeatPump(Box::new(heat_pump())),
        thermostat: RoomThermostat {
            set: degc(4.0),
            band: interval(1.5),
            probe_lag: seconds(90.0),
            min_run: seconds(300.0),
            min_rest: seconds(240.0),
            off_in: [false; 12],
            contact: None,
        },
        tank: HotWaterTank {
            storage: Storage {
                volume: cubic_metres(0.3),
                height: metres(1.5),
                loss: conductance(1.9),
                heat_bridges: conductance(0.25),
            },
            followed_by: None,
            circling_stopped_by: None,
            built_as: None,
            stands_in: Beyond::Space(0),
            conductivity: conductivity(1.8),
            cold_in: fraction(0.0),
            cold_in_stirs: fraction(0.1),
            cold_in_bore: None,
            return_bore: None,
            pump_out: fraction(0.02),
            pump_return: fraction(0.97),
            draw: fraction(1.0),
        },
        hot_water: HotWater {
            daily: cubic_metres(0.18),
            use_at: degc(42.0),
            pattern: Pattern::M,
            by_hour: None,
            uses: Vec::new(),
            people: Some(3),
            calendar: UseCalendar::default(),
            mixing_valve: Some(degc(48.0)),
            past_valve: false,
            pipes: None,
        },
        booster: Some(BoosterUnit {
            set: degc(48.0),
            most: watts(18_000.0),
            least: watts(1500.0),
            efficiency: fraction(0.98),
            highest_inlet: None,
            energy: "electricity".to_owned(),
        }),
        element: None,
        dump: Some(dump_line()),
        prices: None,
        alternatives: Default::default(),
        safeguards: Default::default(),
        choices: Vec::new(),
        defaults: Vec::new(),
    }
}

pub fn dump_line() -> DumpLine {
    DumpLine {
        opens_at: degc(55.0),
        closes_at: degc(50.0),
        probe: fraction(0.4),
        probe_lag: seconds(60.0),
        min_open: seconds(60.0),
        timer: None,
        longest_open: None,
        flow: flow(4.0 / 60_000.0),
        port: fraction(1.0),
        months: [true; 12],
        line: None,
        destinations: vec![WaterTaker {
            name: "irrigation".to_owned(),
            kind: Destination::Irrigation,
            months: [true; 12],
            temper_to: None,
            takes: Takes::All,
        }],
    }
}

fn space(name: &str, temperature: Seasonal) -> Space {
    Space {
        name: name.to_owned(),
        temperature,
        outdoor_share: fraction(0.0),
        humidity: fraction(0.5),
        heated: [false; 12],
    }
}

pub fn ground(depth_m: f64, warmer_dk: f64) -> Beyond {
    Beyond::Ground { depth: metres(depth_m), warmer_by: interval(warmer_dk) }
}

fn surface(name: &str, area_m2: f64, u_w_per_m2_k: f64, faces: Beyond) -> RoomSurface {
    RoomSurface {
        name: name.to_owned(),
        area: square_metres(area_m2),
        u_value: u_value(u_w_per_m2_k),
        bridges: conductance(0.0),
        sun: None,
        faces,
    }
}

pub fn door(opens_to: Beyond, openings_per_day: u32, first_h: f64, last_h: f64) -> RoomDoor {
    RoomDoor {
        width: metres(0.8),
        height: metres(1.9),
        opens_to,
        openings_per_day: [openings_per_day; 12],
        open_time: seconds(20.0),
        first_opening: seconds(3600.0 * first_h),
        last_opening: seconds(3600.0 * last_h),
        flow_factor: fraction(0.8),
        curtain: fraction(0.0),
        curtain_months: [true; 12],
        propped: None,
    }
}

fn cold_room() -> ColdRoom {
    ColdRoom {
        heater: None,
        condensate_bucket: None,
        length: metres(3.0),
        width: metres(2.5),
        height: metres(2.2),
        surfaces: vec![
            surface("outer wall", 6.6, 0.3, Beyond::Outdoors),
            surface("floor", 7.5, 0.35, ground(2.4, 0.0)),
            surface("buried wall", 5.5, 0.35, ground(1.3, 0.0)),
            surface("second buried wall", 3.0, 0.35, ground(1.3, 0.0)),
            surface("inner wall", 6.6, 0.4, Beyond::Space(0)),
            surface("ceiling", 7.5, 0.25, Beyond::Space(1)),
        ],
        leakage_changes_per_hour: 0.3,
        leakage_from: Beyond::Space(0),
        doors: vec![door(Beyond::Space(0), 6, 7.0, 21.0), door(Beyond::Space(1), 1, 12.0, 12.0)],
        people_time: seconds(1200.0),
        lights: watts(30.0),
        lights_time: seconds(1500.0),
        produce: vec![
            stored("carrot", |month| if (3..9).contains(&month) { 0.0 } else { 80.0 }),
            stored("apple", |month| 10.0 * (12 - month) as f64),
        ],
        half_cooling: seconds(43_200.0),
        respiration: crate::room::RespirationLevel::Middle,
        crates: joules_per_kelvin(60_000.0),
        inner_skin_j_per_m2_k: 20_000.0,
        shelving: joules_per_kelvin(8000.0),
        exchange: u_value(8.0),
        exchange_area: None,
        warm_limit: degc(7.0),
        cold_limit: degc(-0.5),
    }
}

fn stored(crop: &str, mass_kg: impl Fn(usize) -> f64) -> StoredProduce {
    StoredProduce {
        crop: Crop::by_name(crop).expect("a crop of the table"),
        mass: std::array::from_fn(|month| kilograms(mass_kg(month))),
        arrives_at: degc(12.0),
        carried: Vec::new(),
    }
}

fn heat_pump() -> HeatPumpUnit {
    HeatPumpUnit {
        cycle: Cycle::R744,
        cycle_given: true,
        size: UnitSize::DataSheet(vec![SheetPoint {
            room_air: degc(7.0),
            water_in: degc(15.0),
            water_out: degc(60.0),
            heat_output: watts(3500.0),
            power: Some(watts(1050.0)),
            defrost_included: false,
        }]),
        nameplate_power: None,
        called_by: CalledBy::Room,
        tank_sensor: TankSensor { height: fraction(0.5), calls_at: degc(45.0), enough_at: degc(50.0) },
        sensor_place: None,
        slow_running: None,
        frosted_output: fraction(0.95),
        defrost: None,
        coil_probe: None,
        frost_guard: None,
        circuit: WaterCircuit::SinglePass {
            outlet: degc(60.0),
            min_rise: interval(5.0),
            outlet_stop: degc(90.0),
        },
        closed_loop: None,
        circulator: watts(25.0),
        standby: watts(8.0),
        resting_fan: watts(5.0),
        start_lag: seconds(30.0),
        shell_outside: fraction(0.25),
        airflow: flow(1.0 / 3.0),
        inlet_stop: degc(45.0),
        inlet_differential: interval(5.0),
        lowest_air: degc(-2.0),
        highest_air: degc(30.0),
        hot_pipe_length: metres(4.0),
        hot_pipe_loss: conductivity(0.25),
        hot_pipe_capacity_j_per_m_k: 700.0,
        exchanger_capacity: joules_per_kelvin(0.0),
        exchanger_loss: conductance(0.0),
        charge: None,
        listed_for_room: None,
    }
}

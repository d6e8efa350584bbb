//! An invented installation, made directly as a [`Plant`]: a basement cold room of 16.5 m3, a 4.5 kW
//! R744 unit and a 300 kg tank under a synthetic weather year. Nothing in it is measured.

use larderloop::heat_pump::{Cycle, CycleMap};
use larderloop::plant::{
    Booster, Boundary, Calendar, Caller, Cause, Circuit, Cooler, DaySegment, Door, Dump, HeatPump, HotPipe,
    Plant, Produce, Room, Stock, Surface, Surroundings, Taker, Tank, Thermostat, Vessel,
};

const ICE_K: f64 = 273.15;
const PRESSURE_PA: f64 = 101_325.0;
const OUTDOORS: usize = 0;
const BASEMENT: usize = 1;
const GROUND: usize = 2;

/// The installation, with the water passing the pump once (outlet 60 °C) or many times.
pub fn plant(single_pass: bool) -> Plant {
    let calendar = Calendar::new(false);
    let hours = calendar.hours();
    Plant {
        boundaries: boundaries(hours),
        mains_k: (0..hours / 24).map(|day| ICE_K + 11.0 - 5.0 * season(24.0 * day as f64, 45.0)).collect(),
        calendar,
        pressure_pa: PRESSURE_PA,
        room: room(),
        thermostat: Thermostat {
            on_at_k: ICE_K + 5.0,
            off_at_k: ICE_K + 3.5,
            probe_lag_s: 90.0,
            min_run_s: 300.0,
            min_rest_s: 300.0,
            off_in: [false; 12],
        },
        cooler: Cooler::HeatPump(heat_pump(single_pass)),
        fans: None,
        tank: tank(),
        days: vec![day()],
        day_kinds: vec![0; hours / 24],
        use_k: ICE_K + 40.0,
        valve_k: None,
        element: None,
        booster: Some(Booster {
            set_k: ICE_K + 45.0,
            most_w: 18_000.0,
            least_w: 2_000.0,
            efficiency: 0.9,
            highest_inlet_k: f64::INFINITY,
        }),
        dump: Some(Dump {
            opens_k: ICE_K + 50.0,
            closes_k: ICE_K + 45.0,
            probe: 0.4,
            probe_lag_s: 60.0,
            min_open_s: 60.0,
            timer: None,
            longest_open_s: f64::INFINITY,
            flow_kg_s: 0.165,
            port: 1.0,
            months: [true; 12],
            takers: vec![Taker::endless()],
        }),
    }
}

/// Cosine of the year that is 1 on the given day.
fn season(hour: f64, day: f64) -> f64 {
    libm::cos(std::f64::consts::TAU * (hour / 24.0 - day) / 365.0)
}

/// Humidity ratio from temperature and relative humidity; a Magnus formula is near enough for invented weather.
fn humidity_ratio(temperature_k: f64, relative: f64) -> f64 {
    let t = temperature_k - ICE_K;
    let vapour_pa = relative * 611.2 * libm::exp(17.62 * t / (243.12 + t));
    0.621945 * vapour_pa / (PRESSURE_PA - vapour_pa)
}

/// Hourly instants; the last closes the year with the value of the first.
fn hourly(hours: usize, at: impl Fn(f64) -> f64) -> Vec<f64> {
    (0..=hours).map(|hour| at((hour % hours) as f64)).collect()
}

fn air_space(name: &str, hours: usize, relative: f64, temperature_k: impl Fn(f64) -> f64) -> Boundary {
    Boundary {
        name: name.to_owned(),
        humidity_ratio: hourly(hours, |hour| humidity_ratio(temperature_k(hour), relative)),
        temperature_k: hourly(hours, temperature_k),
    }
}

fn boundaries(hours: usize) -> Vec<Boundary> {
    let day_swing = |hour: f64| libm::cos(std::f64::consts::TAU * (hour - 15.0) / 24.0);
    vec![
        air_space("outdoors", hours, 0.75, |hour| {
            ICE_K + 9.0 - 11.0 * season(hour, 20.0) + 4.0 * day_swing(hour)
        }),
        air_space("basement", hours, 0.60, |hour| ICE_K + 15.0 - 4.0 * season(hour, 35.0)),
        Boundary {
            name: "ground".to_owned(),
            temperature_k: hourly(hours, |hour| ICE_K + 10.5 - 4.0 * season(hour, 75.0)),
            humidity_ratio: Vec::new(),
        },
    ]
}

/// 3.0 x 2.5 x 2.2 m: inner surface 39.2 m2, dry air 1.26 kg/m3.
fn room() -> Room {
    let volume_m3 = 16.5;
    let air_mass_kg = 1.26 * volume_m3;
    let produce = produce();
    let surface = |name: &str, ua_w_per_k, boundary, cause| Surface {
        name: name.to_owned(),
        ua_w_per_k,
        boundary,
        cause,
    };
    Room {
        volume_m3,
        air_mass_kg,
        air_capacity_j_per_k: air_mass_kg * 1006.0 + 25_000.0,
        fixed_capacity_j_per_k: 39.2 * 8_000.0 + 120_000.0,
        exchange_w_per_k: 8.0 * 39.2,
        exchange_w_per_kg_k: 8.0 * 0.04,
        half_cooling_s: 10.0 * 3600.0,
        surfaces: vec![
            surface("outer wall", 1.4, OUTDOORS, Cause::OutdoorSurfaces),
            surface("floor and back wall", 4.1, GROUND, Cause::GroundSurfaces),
            surface("inner walls and ceiling", 5.5, BASEMENT, Cause::NeighbourSurfaces),
        ],
        leakage_kg_s: 0.3 * air_mass_kg / 3600.0,
        leakage_from: BASEMENT,
        doors: vec![Door {
            boundary: BASEMENT,
            area_m2: 0.8 * 1.9,
            height_m: 1.9,
            open_frac: [0.8; 12],
            most_exchange_kg: air_mass_kg * 1.9 / 2.2,
        }],
        produce,
        warm_limit_k: ICE_K + 7.0,
        freezing_k: ICE_K - 0.6,
        heater: None,
    }
}

fn produce() -> Vec<Produce> {
    vec![
        Produce {
            name: "potatoes".to_owned(),
            stock: Stock::of_months(
                &Calendar::new(false),
                &[220.0, 170.0, 120.0, 70.0, 30.0, 10.0, 0.0, 20.0, 150.0, 300.0, 290.0, 260.0],
                ICE_K + 14.0,
            ),
            specific_heat_j_per_kg_k: 3_500.0,
            respiration_w_per_kg: [0.010, 0.012, 0.018, 0.025, 0.035],
            transpiration_per_s_pa: 2.5e-11,
        },
        Produce {
            name: "carrots".to_owned(),
            stock: carrots(),
            specific_heat_j_per_kg_k: 3_900.0,
            respiration_w_per_kg: [0.045, 0.058, 0.093, 0.117, 0.209],
            transpiration_per_s_pa: 1.2e-9,
        },
    ]
}

/// Carrots by date: eaten day by day in spring, dug in three loads, the second and third of them while the one before still cools, and some
/// taken out again on a day on which others are carried in.
fn carrots() -> Vec<Stock> {
    let at = |day, mass_kg, degc: f64| Stock { day, mass_kg, arrives_k: ICE_K + degc };
    vec![
        at(40, 30.0, 0.0),
        at(75, 12.0, 0.0),
        at(130, 0.0, 0.0),
        at(255, 25.0, 21.0),
        at(277, 60.0, 16.0),
        at(279, 85.0, 13.0),
        at(280, 10.0, 0.0),
        at(280, 70.0, 18.0),
        at(340, 50.0, 0.0),
    ]
}

fn heat_pump(single_pass: bool) -> HeatPump {
    let map = CycleMap::of(Cycle::R744);
    let rated = map.at(ICE_K + 7.0, ICE_K + 10.0, 50.0);
    HeatPump {
        capacity_w: 4_500.0 / rated.capacity,
        cop_factor: 3.6 / rated.cop,
        map,
        caller: Caller::Room,
        slow_running: None,
        frosted_factor: 0.95,
        defrost: None,
        coil_probe: None,
        frost_guard: None,
        circuit: if single_pass {
            Circuit::SinglePass { outlet_k: ICE_K + 60.0, min_rise_dk: 10.0, outlet_stop_k: ICE_K + 90.0 }
        } else {
            Circuit::MultiPass { flow_kg_s: 0.12, outlet_stop_k: ICE_K + 60.0 }
        },
        loop_gap: 0.0,
        circulator_w: 25.0,
        standby_w: 8.0,
        resting_fan_w: 5.0,
        start_lag_s: 30.0,
        shell_outside_frac: 0.2,
        airflow_m3_s: 0.45,
        inlet_stop_k: ICE_K + if single_pass { 45.0 } else { 55.0 },
        inlet_restart_k: ICE_K + if single_pass { 40.0 } else { 50.0 },
        air_stop_low_k: ICE_K - 3.0,
        air_stop_high_k: ICE_K + 30.0,
        air_restart_dk: 2.0,
        hot_pipe: HotPipe { loss_w_per_k: 0.8, capacity_j_per_k: 4_000.0 },
    }
}

fn tank() -> Tank {
    Tank {
        first: Vessel { mass_kg: 300.0, height_m: 1.5, loss_w_per_k: 2.0 },
        second: None,
        surroundings: Surroundings::Boundary(BASEMENT),
        conductivity_w_per_m_k: 1.8,
        cold_in: 0.0,
        cold_in_stirs: 0.0,
        cold_in_bore_m: None,
        return_bore_m: None,
        circles: false,
        pump_out: 0.0,
        pump_return: 1.0,
        draw: 1.0,
        start_k: ICE_K + 40.0,
    }
}

/// What happens when: start and length, s, with the tap flow, an open door, people and lights it adds.
struct Event {
    start_s: f64,
    lasts_s: f64,
    tap_kg_s: f64,
    door_opens: bool,
    people: f64,
    lights_w: f64,
}

/// A day like that of a family of three: two showers, washing and dishes, 190 kg at 40 °C, 8 visits to the room.
fn day() -> Vec<DaySegment> {
    let nothing =
        Event { start_s: 0.0, lasts_s: 0.0, tap_kg_s: 0.0, door_opens: false, people: 0.0, lights_w: 0.0 };
    let clock = |hour: f64, minute: f64| 3600.0 * hour + 60.0 * minute;
    let mut events = Vec::new();
    let draws = [
        (7.0, 0.0, 37.0, 0.05),
        (7.0, 5.0, 360.0, 0.10),
        (7.0, 45.0, 48.0, 0.05),
        (8.0, 5.0, 330.0, 0.10),
        (9.0, 30.0, 60.0, 0.05),
        (11.0, 45.0, 75.0, 0.05),
        (12.0, 45.0, 120.0, 0.07),
        (15.0, 30.0, 60.0, 0.05),
        (18.0, 15.0, 75.0, 0.05),
        (20.0, 30.0, 200.0, 0.09),
        (21.0, 30.0, 612.5, 0.12),
    ];
    for (hour, minute, lasts_s, tap_kg_s) in draws {
        events.push(Event { start_s: clock(hour, minute), lasts_s, tap_kg_s, ..nothing });
    }
    for visit in 0..8 {
        let start_s = clock(7.0, 10.0) + f64::from(visit) * clock(1.0, 50.0);
        events.push(Event {
            start_s,
            lasts_s: 17.0,
            door_opens: true,
            people: 1.0,
            lights_w: 20.0,
            ..nothing
        });
        events.push(Event {
            start_s: start_s + 17.0,
            lasts_s: 150.0,
            people: 1.0,
            lights_w: 20.0,
            ..nothing
        });
        events.push(Event {
            start_s: start_s + 167.0,
            lasts_s: 17.0,
            door_opens: true,
            people: 1.0,
            lights_w: 20.0,
            ..nothing
        });
    }
    segments(&events)
}

/// Cuts the day at every start and end of an event.
fn segments(events: &[Event]) -> Vec<DaySegment> {
    let mut edges: Vec<f64> =
        events.iter().flat_map(|event| [event.start_s, event.start_s + event.lasts_s]).collect();
    edges.push(0.0);
    edges.sort_by(f64::total_cmp);
    edges.dedup();
    edges.into_iter().map(|start_s| segment(events, start_s)).collect()
}

fn segment(events: &[Event], start_s: f64) -> DaySegment {
    let now =
        || events.iter().filter(|event| event.start_s <= start_s && start_s < event.start_s + event.lasts_s);
    DaySegment {
        start_s,
        tap_kg_s: now().map(|event| event.tap_kg_s).sum(),
        use_k: ICE_K + 40.0,
        at_once: Default::default(),
        waiting_kg_s: 0.0,
        past_valve: false,
        doors_open: vec![now().any(|event| event.door_opens)],
        doors_propped: vec![false],
        people: now().map(|event| event.people).sum(),
        lights_w: now().map(|event| event.lights_w).sum(),
    }
}

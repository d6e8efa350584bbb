//! A whole room by hand, cause by cause, against a month of the engine in the same steady surroundings.
//!
//! Inside 3.0 x 2.5 x 2.3 m at 4 °C and 90 %. Walls 25.3 m2 and ceiling 7.5 m2 of U 0.2398 toward 25 °C and 60 %: 127.4 and 37.8 W. Floor of U 0.2827 over ground of 10 °C:
//! 12.7 W. Door of 0.9 x 2.0 m, eight openings of 15 s, door-flow factor 0.8: 26.7 W. 60 kg of carrots, 60 kg of apples and 40 kg of cabbage: 5.42 W. A person for ten
//! minutes a day: 1.72 W; a lamp of 20 W as long: 0.14 W. Together 211.9 W. Derived here: sums of the formulas that the other modules of this directory
//! check one by one, with densities and enthalpies of psychrolib 2.5.0. 1 %, the thermostat's band and the humidity that settles by itself included; of the door 4 %, since
//! its latent part hangs on that humidity, and of the produce 8 %, since crop tables differ by that.

use approx::assert_relative_eq;
use larderloop::air;
use larderloop::plant::{Boundary, Cause, DaySegment, Door, Plant, Produce, Stock, Surface};
use larderloop::resolution::Resolution;
use larderloop::room::{Crop, RespirationLevel};
use larderloop::simulate::simulate_months;

const ICE_K: f64 = 273.15;
const SEA_LEVEL_PA: f64 = 101_325.0;
/// How many times as heavy as it is the room's air is made.
const HEAVY: f64 = 200.0;

fn surface(name: &str, ua_w_per_k: f64, boundary: usize, cause: Cause) -> Surface {
    Surface { name: name.to_owned(), ua_w_per_k, boundary, cause }
}

fn crop(name: &str, mass_kg: f64) -> Produce {
    let crop = Crop::by_name(name).expect("a crop of the table");
    Produce {
        name: name.to_owned(),
        stock: vec![Stock { day: 0, mass_kg, arrives_k: ICE_K + 4.0 }],
        specific_heat_j_per_kg_k: 3800.0,
        respiration_w_per_kg: crop.respiration_w_per_kg(RespirationLevel::Middle),
        // What keeps the air at 90 %, whatever the coil takes.
        transpiration_per_s_pa: 3e-9,
    }
}

/// A day with eight openings, somebody in the room for ten minutes, and a little hot water all the time.
fn day() -> Vec<DaySegment> {
    let still = DaySegment {
        start_s: 0.0,
        tap_kg_s: 0.006,
        use_k: ICE_K + 40.0,
        at_once: Default::default(),
        waiting_kg_s: 0.0,
        past_valve: false,
        doors_open: vec![false],
        doors_propped: vec![false],
        people: 0.0,
        lights_w: 0.0,
    };
    let mut day = vec![still.clone()];
    for opening in 0..8 {
        let start_s = 3600.0 * f64::from(8 + opening);
        day.push(DaySegment { start_s, doors_open: vec![true], ..still.clone() });
        day.push(DaySegment { start_s: start_s + 15.0, ..still.clone() });
    }
    day.push(DaySegment { start_s: 61_200.0, people: 1.0, lights_w: 20.0, ..still.clone() });
    day.push(DaySegment { start_s: 61_800.0, ..still });
    day
}

fn plant() -> Plant {
    let household = larderloop::scenario::read(std::path::Path::new("scenarios/grower-po-plain.yaml"))
        .unwrap_or_else(|failure| panic!("{}", failure.render(false)));
    let mut plant = Plant::new(&household);
    plant.pressure_pa = SEA_LEVEL_PA;
    let instants = plant.calendar.hours() + 1;
    let outside = air::humidity_ratio_from_relative_humidity(ICE_K + 25.0, 0.6, SEA_LEVEL_PA);
    let steady = |name: &str, degc: f64, humidity: Option<f64>| Boundary {
        name: name.to_owned(),
        temperature_k: vec![ICE_K + degc; instants],
        humidity_ratio: humidity.map_or_else(Vec::new, |humidity| vec![humidity; instants]),
    };
    plant.boundaries.truncate(0);
    plant.boundaries.push(steady("outdoors", 25.0, Some(outside)));
    plant.boundaries.push(steady("ground", 10.0, None));
    plant.tank.surroundings = larderloop::plant::Surroundings::Boundary(0);
    plant.mains_k.fill(ICE_K + 10.0);
    plant.thermostat.on_at_k = ICE_K + 4.1;
    plant.thermostat.off_at_k = ICE_K + 3.9;
    plant.thermostat.probe_lag_s = 60.0;
    (plant.thermostat.min_run_s, plant.thermostat.min_rest_s) = (60.0, 60.0);
    plant.days = vec![day()];
    plant.day_kinds.fill(0);
    let larderloop::plant::Cooler::HeatPump(pump) = &mut plant.cooler;
    // Small enough to keep within its band; a pipe would be a cause of its own.
    pump.capacity_w *= 0.1;
    pump.hot_pipe = larderloop::plant::HotPipe { loss_w_per_k: 0.0, capacity_j_per_k: 0.0 };
    let room = &mut plant.room;
    room.volume_m3 = 3.0 * 2.5 * 2.3;
    room.air_mass_kg = room.volume_m3 * air::dry_air_density_kg_m3(ICE_K + 4.0, 0.0045, SEA_LEVEL_PA);
    // The hand calculation has the air stay as it is while the door stands open: air so heavy that an opening hardly changes it.
    let let_in_kg = room.air_mass_kg * 2.0 / 2.3;
    room.air_mass_kg *= HEAVY;
    room.air_capacity_j_per_k *= HEAVY;
    room.leakage_kg_s = 0.0;
    room.leakage_from = 0;
    room.surfaces = vec![
        surface("walls", 25.3 * 0.2398, 0, Cause::OutdoorSurfaces),
        surface("ceiling", 7.5 * 0.2398, 0, Cause::NeighbourSurfaces),
        surface("floor", 7.5 * 0.2827, 1, Cause::GroundSurfaces),
    ];
    room.doors = vec![Door {
        boundary: 0,
        area_m2: 1.8,
        height_m: 2.0,
        open_frac: [0.8; 12],
        most_exchange_kg: let_in_kg,
    }];
    room.produce = vec![crop("carrot", 60.0), crop("apple", 60.0), crop("cabbage", 40.0)];
    plant
}

#[test]
fn a_month_of_the_room_is_what_the_hand_calculation_says() {
    let plant = plant();
    let month = simulate_months(&plant, &Resolution::default(), 5, 5, &mut ()).expect("it can be run").total;
    let mean = |cause: Cause| month.gain_j[cause as usize] / month.duration_s;
    let air_k = month.air_k_s / month.duration_s;
    assert!((air_k - ICE_K - 4.0).abs() < 0.1, "{}", air_k - ICE_K);
    for (cause, watts, tolerance) in [
        (Cause::OutdoorSurfaces, 127.4, 0.01),
        (Cause::NeighbourSurfaces, 37.8, 0.01),
        (Cause::GroundSurfaces, 12.7, 0.02),
        (Cause::Doors, 26.7, 0.04),
        (Cause::Respiration, 5.42, 0.08),
        (Cause::People, 1.72, 0.01),
        (Cause::Lights, 0.14, 0.01),
    ] {
        let ours = mean(cause);
        assert!((ours / watts - 1.0).abs() < tolerance, "{cause:?}: {ours} and by hand {watts}");
    }
    let together = month.gain_total_j() / month.duration_s;
    assert_relative_eq!(together, 211.9, max_relative = 0.01);
}

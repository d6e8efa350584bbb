use approx::assert_relative_eq;

use super::example::{door, ground, household, weather};
use crate::constants::WATER_DENSITY_KG_M3;
use crate::household::ProppedOpen;
use crate::household::{Beyond, ClosedLoop, CoolerUnit, Household, Mains, Seasonal, WaterCircuit};
use crate::plant::{Cause, Circuit, Cooler, DAY_S, DaySegment, HeatPump, Plant, Surroundings};
use crate::units::{celsius as degc, cubic_metres, flow, fraction, seconds};
use crate::{air, water};

/// Sum over the day of segment length times a value.
fn day_sum(plant: &Plant, value: impl Fn(&DaySegment) -> f64) -> f64 {
    let ends = plant.days[0].iter().skip(1).map(|segment| segment.start_s).chain([DAY_S]);
    plant.days[0].iter().zip(ends).map(|(segment, end_s)| (end_s - segment.start_s) * value(segment)).sum()
}

/// An exchanger of 75 %: the loop comes back by a third of its rise warmer than the tank's water. In one pass from 20 to 56 °C the loop
/// rises by 0.75 x 36 = 27 K from 29 °C, and the tank's water as much, to 47 °C. Source: effectiveness by its definition; by hand.
#[test]
fn a_closed_loop_comes_back_warmer_than_the_tank() {
    let mut home = household();
    let CoolerUnit::HeatPump(unit) = &mut home.cooler;
    unit.closed_loop = Some(ClosedLoop { effectiveness: fraction(0.75), coil_from: None });
    let mut pump = heat_pump(&Plant::new(&home)).clone();
    assert_relative_eq!(pump.loop_gap, 1.0 / 3.0, max_relative = 1e-15);
    pump.circuit =
        Circuit::SinglePass { outlet_k: degc(56.0).value, min_rise_dk: 5.0, outlet_stop_k: degc(90.0).value };
    assert_relative_eq!(pump.inlet_from_tank_k(degc(20.0).value), degc(29.0).value, max_relative = 1e-12);
    assert_relative_eq!(pump.tank_at_inlet_k(degc(29.0).value), degc(20.0).value, max_relative = 1e-12);
    // Near the target the least rise holds: 54 °C of the tank come back as 55.7 °C.
    assert_relative_eq!(
        pump.inlet_from_tank_k(degc(54.0).value),
        degc(54.0).value + 5.0 / 3.0,
        max_relative = 1e-12
    );
    pump.circuit = Circuit::MultiPass { flow_kg_s: 0.2, outlet_stop_k: degc(60.0).value };
    let rise_dk = (pump.capacity_w + pump.circulator_w) / (0.2 * 4181.6);
    assert_relative_eq!(
        pump.inlet_from_tank_k(degc(20.0).value),
        degc(20.0).value + rise_dk / 3.0,
        max_relative = 1e-9
    );
}

fn heat_pump(plant: &Plant) -> &HeatPump {
    let Cooler::HeatPump(unit) = &plant.cooler;
    unit
}

fn assert_day_is_whole(plant: &Plant) {
    assert_eq!(plant.days[0][0].start_s, 0.0);
    assert!(plant.days[0].windows(2).all(|pair| pair[0].start_s < pair[1].start_s));
    assert!(plant.days[0].iter().all(|segment| (0.0..DAY_S).contains(&segment.start_s)));
}

#[test]
fn the_data_sheet_s_point_of_the_unit_is_reproduced() {
    let plant = Plant::new(&household());
    let unit = heat_pump(&plant);
    let operation = unit.operate(degc(7.0).value, degc(15.0).value, false);
    // 1e-12: rounding of the anchors; the circuit's outlet of 60 degC is the rated one.
    assert_relative_eq!(operation.heat_w, 3500.0, max_relative = 1e-12);
    assert_relative_eq!(operation.power_w, 1050.0, max_relative = 1e-12);
    assert_relative_eq!(operation.rise_dk, 45.0, max_relative = 1e-12);
}

#[test]
fn the_day_holds_the_household_s_water_open_times_people_and_lights() {
    let home = household();
    let plant = Plant::new(&home);
    assert_day_is_whole(&plant);
    // 1e-12: sums of rounded times of day; open times of 20 s lose some 1e-11 s of 7 times 20 s.
    let daily_kg = 0.180 * water::density_kg_m3(degc(42.0).value);
    assert_relative_eq!(day_sum(&plant, |segment| segment.tap_kg_s), daily_kg, max_relative = 1e-12);
    let open_s = |door: usize| day_sum(&plant, |segment| f64::from(u8::from(segment.doors_open[door])));
    assert_relative_eq!(open_s(0), 120.0, max_relative = 1e-11);
    assert_relative_eq!(open_s(1), 20.0, max_relative = 1e-11);
    assert_relative_eq!(day_sum(&plant, |segment| segment.people), 1200.0, max_relative = 1e-11);
    assert_relative_eq!(day_sum(&plant, |segment| segment.lights_w), 1500.0 * 30.0, max_relative = 1e-11);
}

/// Open from 22:00 for five hours in October alone, beside its openings; its curtain hangs from May to September.
#[test]
fn a_door_stands_propped_open_and_its_curtain_hangs_in_their_months() {
    let mut home = household();
    let only = |wanted: [usize; 2]| std::array::from_fn(|month| (wanted[0]..=wanted[1]).contains(&month));
    home.room.doors[0].propped = Some(ProppedOpen {
        from: seconds(22.0 * 3600.0),
        lasts: seconds(5.0 * 3600.0),
        months: only([9, 9]),
    });
    home.room.doors[0].curtain = fraction(0.9);
    home.room.doors[0].curtain_months = only([4, 8]);
    let plant = Plant::new(&home);
    let propped_s = |day: usize| -> f64 {
        let day = plant.day(day);
        let ends = day.iter().skip(1).map(|segment| segment.start_s).chain([DAY_S]);
        let span = |(segment, end_s): (&DaySegment, f64)| {
            assert!(segment.doors_open[0] || !segment.doors_propped[0]);
            if segment.doors_propped[0] { end_s - segment.start_s } else { 0.0 }
        };
        day.iter().zip(ends).map(span).sum()
    };
    assert_relative_eq!(propped_s(280), 18_000.0, max_relative = 1e-12);
    assert_eq!((propped_s(100), propped_s(310)), (0.0, 0.0));
    let open_frac = plant.room.doors[0].open_frac;
    // 1e-12: a product.
    assert_relative_eq!(open_frac[4], 0.08, max_relative = 1e-12);
    assert_relative_eq!(open_frac[9], 0.8, max_relative = 1e-12);
}

/// A door that is opened often at the harvest and hardly in spring, and one that is always opened alike.
#[test]
fn openings_follow_the_months() {
    let mut home = household();
    let counts = [2, 2, 0, 0, 2, 2, 2, 12, 30, 12, 2, 2];
    home.room.doors[0].openings_per_day = counts;
    let plant = Plant::new(&home);
    assert_eq!(plant.days.len(), 4);
    for (month, count) in counts.into_iter().enumerate() {
        for hour in [plant.calendar.month_starts_h[month], plant.calendar.month_starts_h[month + 1] - 1] {
            let day = plant.day(hour / 24);
            let begins = |door: usize| {
                let open: Vec<bool> = day.iter().map(|segment| segment.doors_open[door]).collect();
                open.windows(2).filter(|pair| !pair[0] && pair[1]).count()
            };
            assert_eq!((begins(0), begins(1)), (count as usize, 1), "month {month}");
        }
    }
    // Whoever works in the room works as long in every month.
    for day in &plant.days {
        let ends = day.iter().skip(1).map(|segment| segment.start_s).chain([DAY_S]);
        let people_s: f64 = day.iter().zip(ends).map(|(one, end_s)| (end_s - one.start_s) * one.people).sum();
        assert_relative_eq!(people_s, 1200.0, max_relative = 1e-11);
    }
}

#[test]
fn a_room_without_doors_has_one_stay_at_noon() {
    let mut home = household();
    home.room.doors.clear();
    let plant = Plant::new(&home);
    let busy: Vec<&DaySegment> = plant.days[0].iter().filter(|segment| segment.people > 0.0).collect();
    assert_eq!(busy[0].start_s, 0.5 * DAY_S);
    assert!(plant.days[0].iter().all(|segment| segment.doors_open.is_empty()));
    assert_relative_eq!(day_sum(&plant, |segment| segment.people), 1200.0, max_relative = 1e-11);
}

#[test]
fn visits_that_overlap_are_people_together_but_one_door_and_one_lamp() {
    let mut home = household();
    // Three openings within two minutes, each three minutes long, and half an hour of work.
    home.room.doors = vec![door(Beyond::Space(0), 3, 10.0, 10.0 + 2.0 / 60.0)];
    home.room.doors[0].open_time = seconds(180.0);
    home.room.people_time = seconds(1800.0);
    home.room.lights_time = seconds(1800.0);
    let plant = Plant::new(&home);
    assert_relative_eq!(day_sum(&plant, |segment| segment.people), 1800.0, max_relative = 1e-11);
    assert_eq!(plant.days[0].iter().map(|segment| segment.people).fold(0.0, f64::max), 3.0);
    let open_s = day_sum(&plant, |segment| f64::from(u8::from(segment.doors_open[0])));
    assert_relative_eq!(open_s, 300.0, max_relative = 1e-11);
    assert_eq!(plant.days[0].iter().map(|segment| segment.lights_w).fold(0.0, f64::max), 30.0);
    assert_relative_eq!(day_sum(&plant, |segment| segment.lights_w), 1800.0 * 30.0, max_relative = 1e-11);
}

#[test]
fn a_door_opened_before_midnight_stays_open_after_it() {
    let mut home = household();
    home.room.doors = vec![door(Beyond::Space(0), 1, 23.999, 23.999)];
    home.room.doors[0].open_time = seconds(60.0);
    let plant = Plant::new(&home);
    assert_day_is_whole(&plant);
    assert!(plant.days[0][0].doors_open[0] && plant.days[0][plant.days[0].len() - 1].doors_open[0]);
    let open_s = day_sum(&plant, |segment| f64::from(u8::from(segment.doors_open[0])));
    assert_relative_eq!(open_s, 60.0, max_relative = 1e-11);
}

#[test]
fn boundaries_are_outdoors_then_spaces_then_each_ground_once() {
    let plant = Plant::new(&household());
    let names: Vec<&str> = plant.boundaries.iter().map(|boundary| boundary.name.as_str()).collect();
    assert_eq!(names, ["outdoors", "hall", "cellar", "ground at 2.40 m", "ground at 1.30 m"]);
    let faces: Vec<usize> = plant.room.surfaces.iter().map(|surface| surface.boundary).collect();
    assert_eq!(faces, [0, 3, 4, 4, 1, 2]);
    let causes: Vec<Cause> = plant.room.surfaces.iter().map(|surface| surface.cause).collect();
    use Cause::{GroundSurfaces as Ground, NeighbourSurfaces as Neighbour, OutdoorSurfaces as Outdoor};
    assert_eq!(causes, [Outdoor, Ground, Ground, Ground, Neighbour, Neighbour]);
    assert_eq!(plant.tank.surroundings, Surroundings::Boundary(1));
    assert_eq!(plant.tank.cold_in_stirs, 0.1);
    // 1.9 W/K of the tank itself and 0.25 W/K of its pipes.
    assert_relative_eq!(plant.tank.loss_w_per_k(), 2.15, max_relative = 1e-12);
    assert_eq!((plant.room.leakage_from, plant.room.doors[1].boundary), (1, 2));
    for boundary in &plant.boundaries {
        assert_eq!(boundary.temperature_k.len(), plant.calendar.hours() + 1);
        assert_eq!(boundary.temperature_k[0], boundary.temperature_k[plant.calendar.hours()]);
        let ground = boundary.name.starts_with("ground");
        assert_eq!(boundary.humidity_ratio.is_empty(), ground, "{}", boundary.name);
    }
}

#[test]
fn ground_under_a_heated_house_is_warmer_by_what_was_said() {
    let mut home = household();
    home.room.surfaces[1].faces = ground(1.3, 3.0);
    let plant = Plant::new(&home);
    assert_eq!(plant.boundaries[3].name, "ground at 1.30 m, +3.0 K");
    for (warm_k, plain_k) in plant.boundaries[3].temperature_k.iter().zip(&plant.boundaries[4].temperature_k)
    {
        assert_relative_eq!(warm_k - plain_k, 3.0, max_relative = 1e-10);
    }
}

#[test]
fn the_ground_s_wave_is_smaller_and_later_than_the_air_s() {
    let plant = Plant::new(&household());
    let coldest = |boundary: usize| {
        let series = &plant.boundaries[boundary].temperature_k;
        (0..series.len()).min_by(|&a, &b| series[a].total_cmp(&series[b])).expect("a year has hours")
    };
    // Weather: 12 K coldest on day 30. At 0.6e-6 m2/s the damping depth is 2.454 m and the wave runs
    // 365/(2 pi 2.454) = 23.7 days a metre (Kusuda and Achenbach): 30.8 days to 1.3 m, 56.8 to 2.4 m.
    assert_relative_eq!(coldest(4) as f64 / 24.0, 30.0 + 30.8, epsilon = 0.6);
    assert_relative_eq!(coldest(3) as f64 / 24.0, 30.0 + 56.8, epsilon = 0.6);
}

#[test]
fn a_space_of_constant_temperature_has_the_humidity_that_was_said() {
    let plant = Plant::new(&household());
    let hall = &plant.boundaries[1];
    let humidity =
        air::relative_humidity_frac(hall.temperature_k[17], hall.humidity_ratio[17], plant.pressure_pa);
    assert_relative_eq!(humidity, 0.5, max_relative = 1e-12);
}

#[test]
fn southern_water_is_coldest_half_a_year_later() {
    let coldest_day = |latitude_deg: f64| {
        let home = Household { weather: weather(latitude_deg, false), ..household() };
        let mains_k = Plant::new(&home).mains_k;
        (0..mains_k.len()).min_by(|&a, &b| mains_k[a].total_cmp(&mains_k[b])).expect("a year has days")
    };
    let (north, south) = (coldest_day(50.0), coldest_day(-35.0));
    // 0.986 degrees a day: half a turn is 182.6 days.
    assert!((182..=183).contains(&north.abs_diff(south)), "day {north} in the north, {south} in the south");
    // Mean air 9 degC = 48.2 degF: lag 30.8 days, coldest on day 45.8 (Burch and Christensen), counted here from 0.
    assert!((44..=46).contains(&north), "day {north}");
}

#[test]
fn a_leap_year_has_a_day_more_everywhere() {
    let home = Household { weather: weather(50.0, true), ..household() };
    let plant = Plant::new(&home);
    assert_eq!(plant.calendar.hours(), 8784);
    assert_eq!(plant.mains_k.len(), 366);
    assert!(plant.boundaries.iter().all(|boundary| boundary.temperature_k.len() == 8785));
}

#[test]
fn given_and_measured_mains_are_taken_as_they_are() {
    let mut home = household();
    home.site.mains = Mains::Given(Seasonal::Constant(degc(11.0)));
    let plant = Plant::new(&home);
    assert!(plant.mains_k.iter().all(|&mains_k| mains_k == degc(11.0).value));
    assert_relative_eq!(plant.tank.start_k, 0.5 * (degc(11.0).value + plant.use_k), max_relative = 1e-12);

    home.site.mains = Mains::Measured { coldest: degc(6.0), warmest: degc(15.0) };
    let mains_k = Plant::new(&home).mains_k;
    let extremes = mains_k.iter().fold((f64::MAX, f64::MIN), |(low, high), &t| (low.min(t), high.max(t)));
    // Whole days miss the crest by at most half a day: 4.5 K (1 - cos 0.5 degrees).
    assert_relative_eq!(extremes.0, degc(6.0).value, epsilon = 2e-4);
    assert_relative_eq!(extremes.1, degc(15.0).value, epsilon = 2e-4);
}

#[test]
fn the_room_s_numbers_follow_the_model() {
    let home = household();
    let plant = Plant::new(&home);
    let room = &plant.room;
    // Dry air by the gas law: 98 000 Pa mean (the swing has mean 0 within 1 Pa), 277.15 K, 16.5 m3.
    assert_relative_eq!(room.air_mass_kg, 98_000.0 / (287.042 * 277.15) * 16.5, max_relative = 1e-5);
    assert_relative_eq!(room.air_capacity_j_per_k, room.air_mass_kg * 1006.0 + 8000.0, max_relative = 1e-12);
    // Inner surface 2 (7.5 + 6.6 + 5.5) = 39.2 m2.
    assert_relative_eq!(room.fixed_capacity_j_per_k, 60_000.0 + 20_000.0 * 39.2, max_relative = 1e-12);
    // January 80 kg carrots and 120 kg apples, June 70 kg apples.
    let stored_kg = |day: usize| room.produce.iter().map(|one| one.mass_on_kg(day)).sum::<f64>();
    assert_eq!([0, 30, 31, 151, 364].map(stored_kg), [200.0, 200.0, 190.0, 70.0, 90.0]);
    assert_relative_eq!(room.exchange_w_per_k, 8.0 * 39.2, max_relative = 1e-12);
    assert_relative_eq!(room.exchange_w_per_kg_k, 8.0 * 0.04, max_relative = 1e-12);
    assert_relative_eq!(room.leakage_kg_s, 0.3 * room.air_mass_kg / 3600.0, max_relative = 1e-12);
    assert_relative_eq!(room.surfaces[1].ua_w_per_k, 7.5 * 0.35, max_relative = 1e-12);
    assert_relative_eq!(room.doors[0].most_exchange_kg, room.air_mass_kg * 1.9 / 2.2, max_relative = 1e-12);
    assert_relative_eq!(room.doors[0].open_frac[0], 0.8, max_relative = 1e-12);
}

#[test]
fn a_given_exchange_area_and_a_door_taller_than_the_room_are_respected() {
    let mut home = household();
    home.room.exchange_area = Some(home.room.surfaces[0].area);
    home.room.doors[0].height = home.room.height * fraction(1.5);
    home.room.doors[0].curtain = fraction(0.75);
    let room = Plant::new(&home).room;
    assert_eq!((room.exchange_w_per_k, room.exchange_w_per_kg_k), (8.0 * 6.6, 0.0));
    assert_relative_eq!(room.doors[0].most_exchange_kg, room.air_mass_kg, max_relative = 1e-12);
    assert_relative_eq!(room.doors[0].open_frac[0], 0.8 * 0.25, max_relative = 1e-12);
}

#[test]
fn thermostat_limits_and_water_side_keep_their_values() {
    let home = household();
    let plant = Plant::new(&home);
    assert_relative_eq!(plant.thermostat.on_at_k, degc(4.75).value, max_relative = 1e-12);
    assert_relative_eq!(plant.thermostat.off_at_k, degc(3.25).value, max_relative = 1e-12);
    let unit = heat_pump(&plant);
    assert_relative_eq!(unit.inlet_restart_k, degc(40.0).value, max_relative = 1e-12);
    assert_relative_eq!(unit.hot_pipe.loss_w_per_k, 1.0, max_relative = 1e-12);
    assert_relative_eq!(unit.hot_pipe.capacity_j_per_k, 2800.0, max_relative = 1e-12);
    assert_relative_eq!(plant.tank.mass_kg(), 0.3 * WATER_DENSITY_KG_M3, max_relative = 1e-12);
    let dump = plant.dump.expect("the example has a dump");
    assert_relative_eq!(
        dump.flow_kg_s,
        4.0 / 60_000.0 * water::density_kg_m3(degc(55.0).value),
        max_relative = 1e-12
    );
    assert_eq!(plant.booster.map(|booster| booster.most_w), Some(18_000.0));
}

#[test]
fn a_multi_pass_circulator_moves_a_mass() {
    let mut home = household();
    let CoolerUnit::HeatPump(unit) = &mut home.cooler;
    unit.circuit = WaterCircuit::MultiPass { flow: flow(9.0 / 60_000.0), outlet_stop: degc(62.0) };
    let plant = Plant::new(&home);
    let Circuit::MultiPass { flow_kg_s, outlet_stop_k } = heat_pump(&plant).circuit else {
        panic!("the circuit became single pass");
    };
    assert_relative_eq!(flow_kg_s, 9.0 / 60_000.0 * WATER_DENSITY_KG_M3, max_relative = 1e-12);
    assert_eq!(outlet_stop_k, degc(62.0).value);
}

#[test]
fn a_household_that_uses_no_hot_water_has_dry_taps_all_day() {
    let mut home = household();
    home.hot_water.daily = cubic_metres(0.0);
    let plant = Plant::new(&home);
    assert!(plant.days[0].iter().all(|segment| segment.tap_kg_s == 0.0));
}

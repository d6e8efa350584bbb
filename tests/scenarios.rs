//! Every scenario that ships with the program is read without a fault.

use std::path::{Path, PathBuf};

use larderloop::ground::GroundClimate;
use larderloop::heat_pump::Cycle;
use larderloop::household::{Beyond, CoolerUnit, Household, Mains, UnitSystem};
use larderloop::scenario;
use larderloop::units::to_degc;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios")
}

fn read(name: &str) -> Household {
    match scenario::open(&folder().join(name)) {
        Ok(scenario) => {
            let warnings: Vec<_> =
                scenario.warnings.iter().map(|one| one.render(&scenario.source, false)).collect();
            assert!(warnings.is_empty(), "{}", warnings.join("\n\n"));
            scenario.household
        }
        Err(failure) => panic!("{}", failure.render(false)),
    }
}

#[test]
fn every_scenario_is_read_without_faults_or_warnings() {
    let mut names: Vec<_> = std::fs::read_dir(folder())
        .expect("the folder is part of the project")
        .map(|entry| entry.expect("its files can be listed").file_name().into_string().expect("plain names"))
        .filter(|name| name.ends_with(".yaml"))
        .collect();
    names.sort();
    assert!(names.len() >= 3);
    for name in names {
        assert!(read(&name).faults().is_empty(), "{name}");
    }
}

#[test]
fn the_couple_s_us_units_arrive_as_quantities() {
    let household = read("couple-no-dump.yaml");
    assert_eq!(household.units, UnitSystem::Us);
    assert!(household.dump.is_none());
    // 40 US gallons of 3.785411784 L and 104 °F = 40 °C: exact definitions; 1e-12 for the arithmetic.
    approx::assert_relative_eq!(household.tank.water_volume().value, 0.151_416_471_36, max_relative = 1e-12);
    approx::assert_relative_eq!(to_degc(household.hot_water.use_at), 40.0, epsilon = 1e-10);
    approx::assert_relative_eq!(to_degc(household.thermostat.set), 40.0 / 9.0, epsilon = 1e-10);
    assert_eq!(household.spaces[1].name, "cellar");
    assert_eq!(household.tank.stands_in, Beyond::Space(1));
    assert!(matches!(household.site.mains, Mains::Given(_)));
    let CoolerUnit::HeatPump(pump) = &household.cooler;
    assert_eq!(pump.cycle, Cycle::R290);
}

#[test]
fn everything_that_was_left_out_is_listed_once_with_its_reason() {
    let household = read("couple-no-dump.yaml");
    let keys: Vec<_> = household.defaults.iter().map(|one| one.key.as_str()).collect();
    let mut unique = keys.clone();
    unique.sort_unstable();
    unique.dedup();
    assert_eq!(unique.len(), keys.len(), "{keys:?}");
    for key in [
        "site.soil_diffusivity",
        "room.doors[1].first",
        "room.doors[1].flow_factor",
        "room.contents.crates",
        "cooler.heat_pump.cycle",
        "cooler.heat_pump.airflow",
        "cooler.heat_pump.hot_pipe.loss",
        "thermostat.least_run",
        "tank.ports.draw",
    ] {
        assert!(keys.contains(&key), "`{key}` is not among {keys:?}");
    }
    assert!(!keys.contains(&"units") && !keys.contains(&"thermostat.probe"));
    assert!(household.defaults.iter().all(|one| !one.value.is_empty() && one.reason.contains(':')));
}

/// A floor on the ground and a layered ceiling in a scenario arrive as U values of the standards, and the ground under the floor has the mean of the
/// year's air, with less of its swing.
#[test]
fn layers_and_slab_arrive_as_u_values() {
    let path = folder().join("basement-chicago.yaml");
    let text = std::fs::read_to_string(&path).expect("the scenario is part of the project");
    let weather = std::fs::read(folder().join("weather/chicago-tmy3.epw")).expect("so is the weather");
    let text = text.replace(
        "u_value: 0.25 W/m2K, faces: ground, depth: 2.3 m, warmer_by: 2 K",
        "faces: ground, slab: {perimeter: 5.5 m, wall_thickness: 0.2 m, soil: clay, below: 2.1 m, layers: [{conductivity: 0.034 W/mK, thickness: 100 mm}]}",
    );
    let text = text.replace(
        "u_value: 0.20 W/m2K, faces: kitchen",
        "faces: kitchen, lies: ceiling, layers: [{material: plywood, thickness: 12 mm}, {material: mineral wool, thickness: 150 mm}]",
    );
    let (household, diagnostics) = scenario::examine(&text, "basement.yaml", |_| Ok(weather));
    let household = household.unwrap_or_else(|| panic!("{diagnostics:?}"));
    assert!(household.faults().is_empty());
    let [_, floor, .., ceiling] = &household.room.surfaces[..] else { panic!("five surfaces") };
    // ISO 6946 by hand: 0.17 + 0.012/0.12 + 0.150/0.039 + 0.17 m2K/W.
    approx::assert_relative_eq!(ceiling.u_value.value, 1.0 / 4.286_153_846, max_relative = 1e-9);
    assert!(household.defaults.iter().any(|one| one.key == "room.surfaces[5].layers[2].conductivity"));
    assert!(
        household
            .defaults
            .iter()
            .any(|one| one.key == "room.surfaces[5].u_value" && one.value == "0.233 W/m2K")
    );
    // ISO 13370 by hand: B 2.7273, d 0.2 + 1.5 (0.14 + 0.1/0.034) + 1.05 = 5.8718 m; 1.5/(0.457 B + d).
    approx::assert_relative_eq!(
        floor.u_value.value,
        1.5 / (0.457 * 2.727_273 + 5.871_765),
        max_relative = 1e-6
    );
    let Beyond::GroundSlab { swing, .. } = floor.faces else { panic!("a floor on the ground") };
    let plant = larderloop::plant::Plant::new(&household);
    let under = &plant.boundaries[plant.room.surfaces[1].boundary].temperature_k;
    let mean = under[1..].iter().sum::<f64>() / 8760.0;
    approx::assert_relative_eq!(mean, household.weather.mean_dry_bulb_k(), epsilon = 1e-6);
    let extremes = under.iter().fold((f64::MAX, f64::MIN), |(low, high), &t| (low.min(t), high.max(t)));
    // First harmonic of the Chicago year: the monthly means 13.3 to 14.4 K from their mean.
    let amplitude = 0.5 * (extremes.1 - extremes.0) / swing.value;
    assert!((12.5..15.0).contains(&amplitude), "{amplitude} K");
    // Coldest a twelfth of a year after the air.
    let coldest = (0..8760).min_by(|&a, &b| under[a].total_cmp(&under[b])).expect("a year has hours");
    let air = GroundClimate::from_daily_means(&household.weather.daily_mean_dry_bulb_k());
    approx::assert_relative_eq!(coldest as f64 / 24.0, air.coldest_day + 365.0 / 12.0, epsilon = 0.05);
    assert_eq!(under[0], under[8760]);
}

/// A wall of the same basement below ground: its U value by ISO 13370, and the seasons that it feels.
#[test]
fn a_basement_wall_arrives_as_u_value_and_share_of_the_seasons() {
    let path = folder().join("basement-chicago.yaml");
    let text = std::fs::read_to_string(&path).expect("the scenario is part of the project");
    let weather = std::fs::read(folder().join("weather/chicago-tmy3.epw")).expect("so is the weather");
    let wall = "faces: ground, basement_wall: {below: 2.1 m, soil: clay, floor: 3 m2K/W, layers: [{conductivity: 0.034 W/mK, thickness: 100 mm}, {material: dense concrete, thickness: 200 mm}]}";
    let text = text.replace("u_value: 0.25 W/m2K, faces: ground, depth: 1.1 m, warmer_by: 2 K", wall);
    let (household, diagnostics) = scenario::examine(&text, "basement.yaml", |_| Ok(weather));
    let household = household.unwrap_or_else(|| panic!("{diagnostics:?}"));
    let surface = &household.room.surfaces[0];
    let concrete = household
        .defaults
        .iter()
        .find(|one| one.key == "room.surfaces[1].basement_wall.layers[2].conductivity")
        .and_then(|one| one.value.strip_suffix(" W/mK")?.parse::<f64>().ok())
        .expect("its conductivity is told");
    // By hand: d_w = 1.5 (0.17 + 0.1/0.034 + 0.2/concrete), d_t = 1.5 x 3 below it, so d_t counts.
    let wall_m = 1.5 * (0.17 + 0.1 / 0.034 + 0.2 / concrete);
    let floor_m = wall_m.min(4.5);
    let expected = 3.0 / (std::f64::consts::PI * 2.1)
        * (1.0 + 0.5 * floor_m / (floor_m + 2.1))
        * libm::log(2.1 / wall_m + 1.0);
    approx::assert_relative_eq!(surface.u_value.value, expected, max_relative = 1e-9);
    let Beyond::GroundSlab { swing, .. } = surface.faces else { panic!("a wall in the ground") };
    assert!((0.5..1.0).contains(&swing.value), "{}", swing.value);
}

/// Studs, a sill, pipes and the sun on an outer wall, and a pantry half-way outdoors, arrive as conductances and temperatures.
#[test]
fn framing_bridges_sun_and_a_half_open_space_arrive() {
    let path = folder().join("family-own-uses.yaml");
    let text = std::fs::read_to_string(&path).expect("the scenario is part of the project");
    let weather = std::fs::read(folder().join("weather/chicago-tmy3.epw")).expect("so is the weather");
    let text = text.replacen(
        "u_value: 0.22 W/m2K, faces: kitchen",
        "faces: outdoors, sun: {azimuth: 225, color: light}, lies: wall, layers: [{material: plywood, thickness: 12 mm}, \
         {material: mineral wool, thickness: 140 mm, framing: {share: 15 %, material: softwood}}], \
         bridges: [{name: sill, length: 2.5 m, per_length: 0.08 W/mK}], penetrations: [{name: pipes, count: 3, each: 0.05 W/K}]",
        1,
    );
    let text = text.replacen("  pantry:\n", "  pantry:\n    outdoor_share: 50 %\n", 1);
    let read = |text: &str| {
        let (household, diagnostics) = scenario::examine(text, "family.yaml", |_| Ok(weather.clone()));
        household.unwrap_or_else(|| panic!("{diagnostics:?}"))
    };
    let household = read(&text);
    let wall = &household.room.surfaces[1];
    // ISO 6946 by hand: sections of 0.27 + 0.140/0.039 and 0.27 + 0.140/0.13 m2K/W, the layer of 0.05265 W/mK.
    let upper = 1.0 / (0.85 / (0.27 + 0.140 / 0.039) + 0.15 / (0.27 + 0.140 / 0.13));
    let lower = 0.27 + 0.140 / 0.05265;
    approx::assert_relative_eq!(wall.u_value.value, 2.0 / (upper + lower), max_relative = 1e-9);
    approx::assert_relative_eq!(wall.bridges.value, 2.5 * 0.08 + 3.0 * 0.05, max_relative = 1e-12);
    assert!(
        household
            .defaults
            .iter()
            .any(|one| one.key == "room.surfaces[2].sun.absorptance" && one.value == "45 %")
    );

    let plant = larderloop::plant::Plant::new(&household);
    let surface = &plant.room.surfaces[1];
    approx::assert_relative_eq!(
        surface.ua_w_per_k,
        wall.area.value * wall.u_value.value + 0.35,
        max_relative = 1e-12
    );
    let (outdoors, sunny) = (&plant.boundaries[0], &plant.boundaries[surface.boundary]);
    let rise = |instant: usize| sunny.temperature_k[instant] - outdoors.temperature_k[instant];
    // At night nothing, on an upright wall; the most on a winter or autumn afternoon, by less than 1000 W/m2 x 0.45 x 0.04 m2K/W.
    assert!((0..3).all(|hour| rise(hour).abs() < 1e-9));
    let sunniest = (0..8760).max_by(|&a, &b| rise(a).total_cmp(&rise(b))).expect("a year has hours");
    assert!((13..18).contains(&(sunniest % 24)) && (10.0..18.0).contains(&rise(sunniest)), "{sunniest}");

    // The pantry lies in the middle between its own temperature and the outdoor air; its air is never above saturation.
    let before = larderloop::plant::Plant::new(&read(&text.replacen("    outdoor_share: 50 %\n", "", 1)));
    let index = plant.boundaries.iter().position(|one| one.name == "pantry").expect("the pantry");
    let (half, whole) = (&plant.boundaries[index], &before.boundaries[index]);
    for hour in (0..8760).step_by(97) {
        let middle = 0.5 * (whole.temperature_k[hour] + outdoors.temperature_k[hour]);
        approx::assert_relative_eq!(half.temperature_k[hour], middle, max_relative = 1e-12);
        let most = larderloop::air::saturation_humidity_ratio_over_water(middle, plant.pressure_pa);
        let mixed = 0.5 * (whole.humidity_ratio[hour] + outdoors.humidity_ratio[hour]);
        approx::assert_relative_eq!(half.humidity_ratio[hour], mixed.min(most), max_relative = 1e-12);
    }
}

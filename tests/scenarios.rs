//! Every scenario that ships with the program is read without a fault.

use std::path::{Path, PathBuf};

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
    approx::assert_relative_eq!(household.tank.volume.value, 0.151_416_471_36, max_relative = 1e-12);
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

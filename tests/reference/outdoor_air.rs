//! Fans and air conditioner: the engine against the plain program, one month for each.

use super::agreement::{Tolerance, agree, both};
use approx::assert_relative_eq;
use larderloop::heat_pump::{AIR_CONDITIONER_CYCLE, CycleMap, RatedUnit, Rating};
use larderloop::plant::{
    Caller, Circuit, Cooler, Defrost, DefrostBegins, HeatPump, HotPipe, Load, OutdoorFans, Plant,
};

const ICE_K: f64 = 273.15;

fn fans(mixes: bool) -> OutdoorFans {
    OutdoorFans {
        flow_m3_s: 0.08,
        power_w: 25.0,
        margin_dk: 2.0,
        coldest_k: ICE_K,
        mixes,
        helped_from_dk: 0.8,
    }
}

fn pump(plant: &mut Plant) -> &mut HeatPump {
    let Cooler::HeatPump(pump) = &mut plant.cooler;
    pump
}

/// An air conditioner in place of the heat pump.
fn with_conditioner(plant: &mut Plant) {
    let map = CycleMap::of(AIR_CONDITIONER_CYCLE);
    let rating = Rating { cooling_w: 2000.0, power_w: 650.0, fan_w: 80.0 };
    let rated = RatedUnit::new(&map, &rating).expect("a unit like any");
    *pump(plant) = HeatPump {
        map,
        capacity_w: rated.capacity_w,
        cop_factor: rated.cop_factor,
        caller: Caller::Room,
        frosted_factor: 0.9,
        defrost: Some(Defrost {
            begins: DefrostBegins::Frost(0.05),
            takes_s: 240.0,
            power_w: 80.0,
            thaws_s: 1800.0,
        }),
        frost_guard: None,
        circuit: Circuit::OutdoorAir(rated.air_side),
        loop_gap: 0.0,
        circulator_w: 0.0,
        standby_w: 5.0,
        resting_fan_w: 0.0,
        shell_outside_frac: 0.0,
        inlet_stop_k: 1000.0,
        inlet_restart_k: 999.0,
        air_stop_low_k: ICE_K + 0.5,
        air_stop_high_k: ICE_K + 50.0,
        hot_pipe: HotPipe { loss_w_per_k: 0.0, capacity_j_per_k: 0.0 },
        ..pump(plant).clone()
    };
    plant.dump = None;
}

const SCENARIO: &str = "basement-chicago.yaml";
const JANUARY: usize = 0;
const MARCH: usize = 2;
const MAY: usize = 4;

/// Fans alone, in a month with outdoor air far below freezing: mixed, and resting in it.
#[test]
fn fans_alone() {
    for mixes in [true, false] {
        let (_, engine, plain) = both(SCENARIO, 48, MARCH, MARCH, |plant| {
            pump(plant).caller = Caller::Nobody;
            plant.fans = Some(fans(mixes));
        });
        assert!(engine.fans_s > 100_000.0 && engine.starts == 0.0);
        assert_relative_eq!(engine.fans_s, plain.fans_s, max_relative = 0.01);
        assert_relative_eq!(engine.aired_j, plain.aired_j, max_relative = 0.01);
        assert_relative_eq!(engine.air_k_s / engine.duration_s, plain.mean_k(plain.air), epsilon = 0.02);
        let load = Load::OutdoorFans as usize;
        assert_relative_eq!(engine.electricity_j[load], plain.electricity_j[load], max_relative = 0.01);
        assert_relative_eq!(engine.vapour_in_kg, plain.vapour_in_kg, max_relative = 0.02);
    }
}

/// The pump helps where the fans do not hold the room, and takes over in warmer air.
#[test]
fn fans_come_before_the_pump() {
    let (plant, engine, plain) = both(SCENARIO, 96, MARCH, MARCH, |plant| plant.fans = Some(fans(true)));
    assert!(engine.fans_s > 50_000.0 && engine.starts > 50.0);
    assert_relative_eq!(engine.fans_s, plain.fans_s, max_relative = 0.02);
    assert_relative_eq!(engine.aired_j, plain.aired_j, max_relative = 0.02);
    agree(&plant, &engine, &plain, Tolerance { all: 0.02, ..Tolerance::default() });
}

/// In May its coil frosts and thaws; in January the outdoor air is colder than any of the map's nodes.
#[test]
fn an_air_conditioner() {
    for month in [JANUARY, MAY] {
        let (_, engine, plain) = both(SCENARIO, 48, month, month, with_conditioner);
        assert!(
            engine.starts > 50.0 && (month == JANUARY || engine.defrosts > 30.0),
            "{} {}",
            engine.starts,
            engine.defrosts
        );
        assert_relative_eq!(engine.electricity_total_j(), plain.electricity_total_j(), max_relative = 0.01);
        assert_relative_eq!(engine.heat_from_room_j, plain.heat_from_room_j, max_relative = 0.01);
        assert_relative_eq!(engine.rejected_j, plain.rejected_j, max_relative = 0.01);
        assert_relative_eq!(engine.condensate_kg, plain.condensate_kg, max_relative = 0.02);
        assert_relative_eq!(engine.defrosts, plain.defrosts, max_relative = 0.03, epsilon = 5.0);
        assert_relative_eq!(engine.starts, plain.starts, max_relative = 0.02, epsilon = 5.0);
    }
}

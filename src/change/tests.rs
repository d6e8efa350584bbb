use approx::assert_relative_eq;

use super::{Change, ChangeError};
use crate::diagnostic::Severity;
use crate::household::{
    CirclingStop, CoolerUnit, Destination, DumpLine, FrostGuard, GuardMeans, HeatPumpUnit, Household,
    SlowRunning, Storage, UnitSystem, WaterCircuit, WaterTaker,
};
use crate::plant::example::{dump_line, household};
use crate::units::{celsius as degc, conductance, cubic_metres, flow, fraction, interval, seconds, watts};

/// Everything of a household in one text.
fn text(household: &Household) -> String {
    let mut short = household.clone();
    short.weather.hours.clear();
    format!("{short:#?}")
}

/// Makes the change and checks that giving back what `changed` names gives back the household as it was.
fn changes_only(change: Change, changed: impl Fn(&mut Household, &Household)) -> Household {
    let before = household();
    let after = change.apply(&before).unwrap_or_else(|refused| panic!("{refused}"));
    assert_eq!(after.weather, before.weather, "{change:?}");
    assert_ne!(text(&after), text(&before), "{change:?} changes nothing");
    let mut undone = after.clone();
    changed(&mut undone, &before);
    assert_eq!(text(&undone), text(&before), "{change:?} changes more than it says");
    after
}

fn unit(household: &Household) -> &HeatPumpUnit {
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    unit
}

fn unit_mut(household: &mut Household) -> &mut HeatPumpUnit {
    let CoolerUnit::HeatPump(unit) = &mut household.cooler;
    unit
}

fn multi_pass() -> Household {
    let mut home = household();
    unit_mut(&mut home).circuit =
        WaterCircuit::MultiPass { flow: flow(9.0 / 60_000.0), outlet_stop: degc(62.0) };
    home
}

#[test]
fn several_changes_are_made_together_and_told_in_one_sentence() {
    let both =
        Change::Together(vec![Change::ThermostatBand(interval(3.0)), Change::ProbeLag(seconds(1800.0))]);
    let after = changes_only(both.clone(), |home, before| {
        (home.thermostat.band, home.thermostat.probe_lag) =
            (before.thermostat.band, before.thermostat.probe_lag);
    });
    assert_eq!((after.thermostat.band, after.thermostat.probe_lag), (interval(3.0), seconds(1800.0)));
    assert_eq!(
        both.words(),
        "give the room thermostat a band of 3 degrees C and give the thermostat's probe a time constant of 30 min, as in a bottle of water"
    );
    // One that is refused refuses all.
    let refused = Change::Together(vec![Change::ThermostatBand(interval(3.0)), Change::FullOutput]);
    assert!(matches!(refused.apply(&household()), Err(ChangeError::NothingToChange { .. })));
}

#[test]
fn frost_protection_is_changed_where_there_is_one_and_slow_running_taken_away() {
    let guard = FrostGuard { below: degc(2.0), by: GuardMeans::Heater { power: watts(60.0) } };
    let change = Change::FrostProtection(guard);
    assert!(matches!(change.apply(&household()), Err(ChangeError::NothingToChange { .. })));
    let mut home = household();
    unit_mut(&mut home).frost_guard = Some(FrostGuard { below: degc(4.0), ..guard });
    unit_mut(&mut home).slow_running =
        Some(SlowRunning { least: fraction(0.3), gain_at_half: fraction(0.0) });
    let after = change.apply(&home).expect("a lower limit is allowed");
    assert_eq!(unit(&after).frost_guard, Some(guard));
    assert_eq!(unit(&Change::FullOutput.apply(&home).expect("it can run slowly")).slow_running, None);
    assert_eq!(
        change.words(),
        "if its maker allows it, let the unit's frost protection act below 2 °C of room air"
    );
}

#[test]
fn the_thermostat_is_changed_in_one_thing_at_a_time() {
    let after = changes_only(Change::ThermostatSet(degc(3.0)), |home, before| {
        home.thermostat.set = before.thermostat.set;
    });
    assert_eq!(after.thermostat.set, degc(3.0));
    let after = changes_only(Change::ThermostatBand(interval(3.0)), |home, before| {
        home.thermostat.band = before.thermostat.band;
    });
    assert_eq!(after.thermostat.band, interval(3.0));
    let after = changes_only(Change::ProbeLag(seconds(1800.0)), |home, before| {
        home.thermostat.probe_lag = before.thermostat.probe_lag;
    });
    assert_eq!(after.thermostat.probe_lag, seconds(1800.0));
    let after = changes_only(Change::LeastRun(seconds(600.0)), |home, before| {
        home.thermostat.min_run = before.thermostat.min_run;
    });
    assert_eq!(after.thermostat.min_run, seconds(600.0));
    let after = changes_only(Change::LeastRest(seconds(700.0)), |home, before| {
        home.thermostat.min_rest = before.thermostat.min_rest;
    });
    assert_eq!(after.thermostat.min_rest, seconds(700.0));
}

#[test]
fn a_smaller_unit_keeps_its_cop_and_its_rise() {
    let after = changes_only(Change::RatedOutputTimes(0.5), |home, before| {
        let before = unit(before).clone();
        let unit = unit_mut(home);
        unit.size = before.size;
        unit.circulator = before.circulator;
        unit.airflow = before.airflow;
    });
    let (large, small) = (household(), unit(&after));
    let large = unit(&large);
    let (large_point, small_point) = (large.size.sheet()[0], small.size.sheet()[0]);
    assert_eq!(small_point.heat_output * 2.0, large_point.heat_output);
    assert_eq!(small_point.power.map(|power| power * 2.0), large_point.power);
    assert_eq!((small_point.water_out, small_point.room_air), (large_point.water_out, large_point.room_air));
    assert_eq!((small.circulator * 2.0, small.airflow * 2.0), (large.circulator, large.airflow));

    let after = Change::RatedOutputTimes(0.5).apply(&multi_pass()).expect("half a unit is a unit");
    let WaterCircuit::MultiPass { flow: halved, outlet_stop } = unit(&after).circuit else {
        panic!("the circuit became single pass");
    };
    assert_eq!((halved, outlet_stop), (flow(4.5 / 60_000.0), degc(62.0)));
}

#[test]
fn the_outlet_of_a_single_pass_circuit_is_changed_and_no_other() {
    let after = changes_only(Change::SinglePassOutlet(degc(55.0)), |home, before| {
        unit_mut(home).circuit = unit(before).circuit;
    });
    let WaterCircuit::SinglePass { outlet, min_rise, .. } = unit(&after).circuit else {
        panic!("the circuit became multi pass");
    };
    assert_eq!((outlet, min_rise), (degc(55.0), interval(5.0)));
    let refused = Change::SinglePassOutlet(degc(55.0)).apply(&multi_pass()).expect_err("no outlet target");
    assert_eq!(
        refused.to_string(),
        "cannot let the pump heat the water to 55 °C: a multi-pass circuit has no outlet target"
    );
}

#[test]
fn every_door_gets_its_curtain_and_its_openings() {
    let after = changes_only(Change::StripCurtain(fraction(0.85)), |home, before| {
        for (door, old) in home.room.doors.iter_mut().zip(&before.room.doors) {
            door.curtain = old.curtain;
        }
    });
    assert!(after.room.doors.iter().all(|door| door.curtain == fraction(0.85)));
    let mut good = household();
    good.room.doors[0].curtain = fraction(0.9);
    let kept = Change::StripCurtain(fraction(0.85)).apply(&good).expect("a curtain can be hung");
    assert_eq!(kept.room.doors[0].curtain, fraction(0.9));
    let after = changes_only(Change::DoorOpeningsTimes(0.5), |home, before| {
        for (door, old) in home.room.doors.iter_mut().zip(&before.room.doors) {
            door.openings_per_day = old.openings_per_day;
        }
    });
    // 6 and 1 openings; half of one rounds away from zero.
    let openings: Vec<_> = after.room.doors.iter().map(|door| door.openings_per_day).collect();
    assert_eq!(openings, [[3; 12], [1; 12]]);
    let away = Change::DoorOpeningsTimes(0.0).apply(&household()).expect("nobody has to come");
    assert!(away.room.doors.iter().all(|door| door.openings_per_day == [0; 12]));
}

#[test]
fn a_room_without_doors_takes_no_curtain() {
    let mut home = household();
    home.room.doors.clear();
    let refused = Change::StripCurtain(fraction(0.85)).apply(&home).expect_err("no door");
    assert_eq!(
        refused.to_string(),
        "cannot hang a strip curtain in every door that stops 85 % of the exchange: the room has no door"
    );
}

#[test]
fn surfaces_are_insulated_by_name_or_all_together() {
    let named = Change::SurfaceUTimes { surface: Some("floor".to_owned()), factor: 0.5 };
    let after = changes_only(named, |home, before| {
        home.room.surfaces[1].u_value = before.room.surfaces[1].u_value;
    });
    assert_relative_eq!(after.room.surfaces[1].u_value.value, 0.175, max_relative = 1e-12);
    let all = Change::SurfaceUTimes { surface: None, factor: 0.5 };
    let after = changes_only(all, |home, before| {
        for (surface, old) in home.room.surfaces.iter_mut().zip(&before.room.surfaces) {
            surface.u_value = old.u_value;
        }
    });
    for (surface, old) in after.room.surfaces.iter().zip(&household().room.surfaces) {
        assert_eq!(surface.u_value * 2.0, old.u_value);
    }
    let unknown = Change::SurfaceUTimes { surface: Some("roof".to_owned()), factor: 0.5 };
    let refused = unknown.apply(&household()).expect_err("there is no roof");
    assert_eq!(
        refused.to_string(),
        "cannot bring the U value of `roof` to 0.5 times what it is: the room has no such surface"
    );
}

#[test]
fn a_unit_that_can_run_slowly_is_held_to_its_keys_ranges() {
    let slow =
        |least: f64| Change::SlowRunning(SlowRunning { least: fraction(least), gain_at_half: fraction(0.0) });
    let after = changes_only(slow(0.3), |home, before| {
        let (CoolerUnit::HeatPump(after), CoolerUnit::HeatPump(before)) = (&mut home.cooler, &before.cooler);
        after.slow_running = before.slow_running;
    });
    let CoolerUnit::HeatPump(unit) = &after.cooler;
    assert_eq!(unit.slow_running.map(|slow| slow.least), Some(fraction(0.3)));
    let refused = slow(0.05).apply(&household()).expect_err("slower than any unit");
    assert!(refused.to_string().contains("slow_running.least_output"), "{refused}");
}

#[test]
fn leakage_is_changed_alone() {
    let after = changes_only(Change::Leakage(0.1), |home, before| {
        home.room.leakage_changes_per_hour = before.room.leakage_changes_per_hour;
    });
    assert_eq!(after.room.leakage_changes_per_hour, 0.1);
}

/// A second tank like the first: what is at the top goes to the top of the second, the rest stays where it is in the first.
#[test]
fn a_second_tank_halves_the_heights_of_the_first() {
    let before = household();
    let after = Change::SecondTank(before.tank.storage).apply(&before).expect("fits");
    assert_eq!(after.tank.followed_by, Some(before.tank.storage));
    assert_relative_eq!(after.tank.pump_out.value, 0.5 * before.tank.pump_out.value);
    assert_eq!((after.tank.draw, before.tank.draw), (fraction(1.0), fraction(1.0)));
    let probe = |home: &Household| home.dump.as_ref().expect("there is a dump").probe.value;
    assert_relative_eq!(probe(&after), 0.5 * probe(&before));
    // Both of them eight times as large.
    let volume = 8.0 * after.tank.water_volume();
    let larger = Change::tank_volume_times(&after.tank, 8.0).apply(&after).expect("fits");
    assert_relative_eq!(larger.tank.water_volume().value, volume.value, max_relative = 1e-12);
    let second = larger.tank.followed_by.expect("there are two");
    assert_relative_eq!(second.height.value, 2.0 * before.tank.storage.height.value, max_relative = 1e-12);
    assert_relative_eq!(second.loss.value, 4.0 * before.tank.storage.loss.value, max_relative = 1e-12);
    assert!(Change::TankPairVolume(volume).apply(&before).is_err());
}

#[test]
fn a_larger_tank_of_the_same_shape_is_taller_and_loses_more() {
    let after = changes_only(Change::TankVolume(cubic_metres(2.4)), |home, before| {
        home.tank.storage.volume = before.tank.storage.volume;
        home.tank.storage.height = before.tank.storage.height;
        home.tank.storage.loss = before.tank.storage.loss;
    });
    // Eight times the volume: twice the height, four times the surface.
    assert_eq!(after.tank.storage.volume, cubic_metres(2.4));
    assert_relative_eq!(after.tank.storage.height.value, 3.0, max_relative = 1e-12);
    assert_relative_eq!(after.tank.storage.loss.value, 7.6, max_relative = 1e-12);
    let after = changes_only(Change::TankLoss(conductance(1.1)), |home, before| {
        home.tank.storage.loss = before.tank.storage.loss;
    });
    assert_eq!(after.tank.storage.loss, conductance(1.1));
}

#[test]
fn the_tanks_ports_are_moved_one_at_a_time() {
    type Undo = fn(&mut Household, &Household);
    let cases: [(Change, &str, Undo); 5] = [
        (
            Change::PumpOutlet(fraction(0.15)),
            "let the pump take its water at 15 % of the tank's height",
            |home, old| {
                home.tank.pump_out = old.tank.pump_out;
            },
        ),
        (
            Change::PumpReturn(fraction(0.7)),
            "let the pump's water return at 70 % of the tank's height",
            |home, old| {
                home.tank.pump_return = old.tank.pump_return;
            },
        ),
        (Change::TapsDraw(fraction(0.9)), "let the taps draw at 90 % of the tank's height", |home, old| {
            home.tank.draw = old.tank.draw;
        }),
        (Change::ColdInlet(fraction(0.05)), "let cold water in at 5 % of the tank's height", |home, old| {
            home.tank.cold_in = old.tank.cold_in;
        }),
        (
            Change::ColdInletStirs(fraction(0.05)),
            "let the cold water stir 5 % of the tank, as with a diffuser",
            |home, old| home.tank.cold_in_stirs = old.tank.cold_in_stirs,
        ),
    ];
    for (change, words, undo) in cases {
        assert_eq!(change.words(), words);
        changes_only(change, undo);
    }
    // The taps would draw below the cold inlet; the water would return below where it leaves; no port is above the top.
    for change in
        [Change::ColdInlet(fraction(1.0)), Change::PumpReturn(fraction(0.0)), Change::TapsDraw(fraction(1.1))]
    {
        assert!(matches!(change.apply(&household()), Err(ChangeError::Refused { .. })), "{change:?}");
    }
}

#[test]
fn the_dump_is_changed_in_one_thing_at_a_time() {
    let aquastat = Change::Aquastat { opens_at: degc(58.0), closes_at: degc(52.0) };
    let after = changes_only(aquastat, |home, _| {
        let line = home.dump.as_mut().expect("kept");
        (line.opens_at, line.closes_at) = (degc(55.0), degc(50.0));
    });
    let line = after.dump.expect("kept");
    assert_eq!((line.opens_at, line.closes_at), (degc(58.0), degc(52.0)));

    let summer = std::array::from_fn(|month| (4..9).contains(&month));
    type Undo = fn(&mut DumpLine);
    let changes: [(Change, Undo); 4] = [
        (Change::AquastatProbe(fraction(0.3)), |line| line.probe = fraction(0.4)),
        (Change::DumpFlow(flow(6.0 / 60_000.0)), |line| line.flow = flow(4.0 / 60_000.0)),
        (Change::DumpPort(fraction(0.9)), |line| line.port = fraction(1.0)),
        (Change::DumpMonths(summer), |line| line.months = [true; 12]),
    ];
    for (change, undo) in changes {
        changes_only(change, |home, _| undo(home.dump.as_mut().expect("kept")));
    }
}

#[test]
fn timer_and_guard_go_together() {
    let mut home = household();
    let line = home.dump.as_mut().expect("it has a dump");
    line.timer = Some(crate::household::DailyTimer { from: seconds(0.0), lasts: seconds(3600.0) });
    line.longest_open = Some(seconds(1800.0));
    let after = Change::DumpUnhindered.apply(&home).expect("nothing hinders it");
    let line = after.dump.expect("kept");
    assert_eq!((line.timer, line.longest_open), (None, None));
}

#[test]
fn the_probe_on_the_coil_is_turned_where_there_is_one() {
    let turn = Change::CoilProbe { stops_below: degc(-6.0), starts_above: degc(2.0) };
    let refused = turn.apply(&household()).expect_err("it has none");
    assert!(refused.to_string().ends_with("there is no probe on its coil"), "{refused}");
    let mut home = household();
    let CoolerUnit::HeatPump(unit) = &mut home.cooler;
    unit.coil_probe = Some(crate::household::CoilProbe {
        on: crate::household::ProbedPart::Fins,
        stops_below: degc(0.0),
        starts_above: degc(6.0),
        follows_in: seconds(180.0),
    });
    let after = turn.apply(&home).expect("it is turned");
    let CoolerUnit::HeatPump(unit) = after.cooler;
    let probe = unit.coil_probe.expect("kept");
    assert_eq!(
        (probe.stops_below, probe.starts_above, probe.follows_in),
        (degc(-6.0), degc(2.0), seconds(180.0))
    );
}

#[test]
fn the_cooler_is_switched_off_by_months() {
    let july = std::array::from_fn(|month| month == 6);
    let after = changes_only(Change::CoolerOffIn(july), |home, _| home.thermostat.off_in = [false; 12]);
    assert_eq!(after.thermostat.off_in, july);
    assert_eq!(
        Change::CoolerOffIn(july).words(),
        "switch the cooler off in Jul, with nothing in the room that could spoil"
    );
    assert_eq!(Change::CoolerOffIn([false; 12]).words(), "let the cooler run all year");
}

#[test]
fn places_outdoors_are_shut_by_months_and_a_drain_stays() {
    let mut home = household();
    let line = home.dump.as_mut().expect("it has a dump");
    line.destinations = [Destination::Irrigation, Destination::Barrel, Destination::Drain]
        .map(|kind| WaterTaker { kind, ..WaterTaker::drain() })
        .to_vec();
    line.destinations[1].months = std::array::from_fn(|month| month < 6);
    let summer = std::array::from_fn(|month| (4..9).contains(&month));
    let after = Change::OutdoorsIn(summer).apply(&home).unwrap_or_else(|refused| panic!("{refused}"));
    let months: Vec<[bool; 12]> =
        after.dump.expect("kept").destinations.iter().map(|place| place.months).collect();
    assert_eq!(months, [summer, std::array::from_fn(|month| (4..6).contains(&month)), [true; 12]]);
}

#[test]
fn a_drain_takes_what_is_left_over() {
    let after = changes_only(Change::DumpToDrain, |home, _| {
        home.dump.as_mut().expect("kept").destinations.pop();
    });
    let places = &after.dump.as_ref().expect("kept").destinations;
    assert_eq!(places.last().map(|place| place.kind), Some(Destination::Drain));
}

#[test]
fn a_dump_is_taken_away_and_fitted_again() {
    let without = changes_only(Change::RemoveDump, |home, before| home.dump = before.dump.clone());
    assert!(without.dump.is_none());
    let with = Change::AddDump(dump_line()).apply(&without).expect("the tank takes it");
    assert_eq!(text(&with), text(&household()));
    for change in [Change::RemoveDump, Change::DumpFlow(flow(1e-4)), Change::AquastatProbe(fraction(0.3))] {
        let refused = change.apply(&without).expect_err("no dump");
        assert!(refused.to_string().ends_with(": there is no overflow dump"), "{refused}");
    }
}

#[test]
fn hot_water_goes_with_a_factor_or_with_the_people() {
    let after = changes_only(Change::HotWaterTimes(1.5), |home, before| {
        home.hot_water.daily = before.hot_water.daily;
    });
    assert_relative_eq!(after.hot_water.daily.value, 0.27, max_relative = 1e-12);
    let after = changes_only(Change::HotWaterPeople(4), |home, before| {
        home.hot_water.daily = before.hot_water.daily;
        home.hot_water.people = before.hot_water.people;
    });
    assert_eq!(after.hot_water.people, Some(4));
    assert_relative_eq!(after.hot_water.daily.value, 0.24, max_relative = 1e-12);

    let mut unsaid = household();
    unsaid.hot_water.people = None;
    let refused = Change::HotWaterPeople(1).apply(&unsaid).expect_err("nobody knows how many there are");
    assert_eq!(
        refused.to_string(),
        "cannot be 1 person, each with as much hot water as now: it is not said how many people there are now"
    );
}

#[test]
fn the_booster_is_set_where_there_is_one() {
    let after = changes_only(Change::BoosterSet(degc(50.0)), |home, before| {
        home.booster.as_mut().expect("kept").set = before.booster.as_ref().expect("has one").set;
    });
    assert_eq!(after.booster.map(|booster| booster.set), Some(degc(50.0)));
    let without = Household { booster: None, ..household() };
    assert!(matches!(
        Change::BoosterSet(degc(50.0)).apply(&without),
        Err(ChangeError::NothingToChange { .. })
    ));
}

#[test]
fn what_is_no_factor_is_refused_with_what_is_allowed() {
    for factor in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        for change in [
            Change::RatedOutputTimes(factor),
            Change::SurfaceUTimes { surface: None, factor },
            Change::TankVolume(cubic_metres(0.3 * factor)),
        ] {
            let refused = change.apply(&household());
            assert!(matches!(refused, Err(ChangeError::Factor { allowed: "above 0", .. })), "{refused:?}");
        }
    }
    for factor in [-0.1, f64::NAN] {
        let refused = Change::HotWaterTimes(factor).apply(&household());
        assert!(matches!(refused, Err(ChangeError::Factor { allowed: "0 or more", .. })), "{refused:?}");
    }
}

#[test]
fn a_household_that_its_check_would_refuse_is_not_made() {
    let refused = Change::ThermostatSet(degc(-60.0)).apply(&household()).expect_err("no larder is so cold");
    assert_eq!(
        refused.to_string(),
        "cannot set the room thermostat to -60 °C: `thermostat.set` would be -60 degC; allowed: -5 degC to 20 degC; \
         the set point of -60 degC is below what the food may become; allowed: -0.5 degC to 7 degC, set by `room.food` \
         (`thermostat.set`)"
    );
    let refused = Change::DumpPort(fraction(0.2)).apply(&household()).expect_err("below the probe");
    assert_eq!(
        refused.to_string(),
        "cannot move the dump's port to 20 % of the tank's height: the dump's port at 20 % is below its probe at 40 %; \
         allowed: at least 40 % (`dump.port_height`)"
    );
    for change in [
        Change::DoorOpeningsTimes(1e12),
        Change::Leakage(f64::NAN),
        Change::StripCurtain(fraction(-0.1)),
        Change::HotWaterPeople(0),
        Change::ThermostatBand(interval(0.0)),
    ] {
        let refused = change.apply(&household()).expect_err("out of the key's range");
        assert!(matches!(refused, ChangeError::Refused { .. }), "{refused}");
    }
}

#[test]
fn what_a_scenario_only_warns_of_is_let_through() {
    // The example's pump stops at 45 degC of water; the aquastat above it is a warning.
    let warnings = household().faults();
    assert!(!warnings.is_empty() && warnings.iter().all(|fault| fault.severity == Severity::Warning));
    assert!(Change::ThermostatSet(degc(3.0)).apply(&household()).is_ok());
}

#[test]
fn words_name_the_value_and_its_unit() {
    let summer = std::array::from_fn(|month| (4..9).contains(&month));
    let cases = [
        (Change::ThermostatBand(interval(3.0)), "give the room thermostat a band of 3 degrees C"),
        (
            Change::ProbeLag(seconds(1800.0)),
            "give the thermostat's probe a time constant of 30 min, as in a bottle of water",
        ),
        (
            Change::ProbeLag(seconds(90.0)),
            "give the thermostat's probe a time constant of 90 s, as bare in the air",
        ),
        (Change::LeastRest(seconds(90.0)), "let the pump rest at least 90 s"),
        (Change::RatedOutputTimes(0.5), "take a heat pump of 0.5 times the rated output"),
        (Change::TankVolume(cubic_metres(0.5)), "take a tank of 500 L"),
        (Change::TankPairVolume(cubic_metres(0.5)), "take two tanks of 500 L in all"),
        (
            Change::SecondTank(Storage { volume: cubic_metres(0.2), ..household().tank.storage }),
            "put a second tank of 200 L in series after the first",
        ),
        (Change::TankLoss(conductance(1.25)), "bring the tank's loss to 1.25 W/K"),
        (
            Change::Leakage(0.15),
            "bring the room's leakage to 0.15 air changes an hour, with a door seal and closed gaps",
        ),
        (Change::DumpFlow(flow(6.0 / 60_000.0)), "set the dump's flow to 6 L/min"),
        (Change::DumpMonths(summer), "let the dump open in May to Sep"),
        (Change::OutdoorsIn(summer), "lead dumped water outdoors in May to Sep only"),
        (Change::OutdoorsIn([false; 12]), "lead no dumped water outdoors"),
        (Change::AquastatProbe(fraction(0.35)), "move the aquastat's probe to 35 % of the tank's height"),
        (
            Change::Aquastat { opens_at: degc(55.0), closes_at: degc(50.0) },
            "let the aquastat open at 55 °C and close at 50 °C",
        ),
        (Change::HotWaterTimes(1.2), "use 1.2 times as much hot water"),
        (
            Change::AddDump(dump_line()),
            "fit an overflow dump: 4 L/min from 100 % of the tank's height, opened at 55 °C and closed at 50 °C \
             of the water at 40 %, all year",
        ),
    ];
    for (change, words) in cases {
        assert_eq!(change.words(), words);
    }
    assert_eq!(Change::TankVolume(cubic_metres(0.3)).words_in(UnitSystem::Us), "take a tank of 79.25 gal");
}

#[test]
fn jets_that_are_reckoned_are_taken_away() {
    let mut home = household();
    let bore = Some(uom::si::f64::Length::new::<uom::si::length::meter>(0.02));
    (home.tank.cold_in_bore, home.tank.return_bore) = (bore, bore);
    let calm = Change::ReturnWithoutJet.apply(&home).unwrap_or_else(|refused| panic!("{refused}"));
    assert_eq!((calm.tank.cold_in_bore, calm.tank.return_bore), (bore, None));
    let calm =
        Change::ColdInletStirs(fraction(0.0)).apply(&home).unwrap_or_else(|refused| panic!("{refused}"));
    assert_eq!((calm.tank.cold_in_bore, calm.tank.return_bore), (None, bore));
    let stopped = Change::CheckValve.apply(&home).unwrap_or_else(|refused| panic!("{refused}"));
    assert_eq!(stopped.tank.circling_stopped_by, Some(CirclingStop::CheckValve));
}

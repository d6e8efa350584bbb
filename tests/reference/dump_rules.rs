//! The engine against the plain fixed-step program, for what holds the dump besides its aquastat: a timer, a guard; and for a month in which the
//! cooler is switched off.
//!
//! Tolerances: those of [`super::agreement`]; where the timer keeps the tank full the lock-out switches the pump, and starts have 2 % (engine 502, plain program
//! 494 with 192 layers; with 96 its own leanest day is 6 % off). How often a guard acts hangs on openings that last about as long as it: one in fifty.

use super::agreement::{Tolerance, agree, both};
use approx::assert_relative_eq;
use larderloop::plant::{DailyWindow, Dump, Plant};

const SCENARIO: &str = "basement-chicago.yaml";
const JUNE: usize = 5;
const JULY: usize = 6;

fn dump(plant: &mut Plant) -> &mut Dump {
    plant.dump.as_mut().expect("the scenario has a dump")
}

/// Over midnight, and so short that the aquastat waits for it every day.
#[test]
fn a_timer_lets_the_dump_run_at_night() {
    let (plant, engine, plain) = both(SCENARIO, 192, JULY, JULY, |plant| {
        dump(plant).timer = Some(DailyWindow { from_s: 22.5 * 3600.0, lasts_s: 4.0 * 3600.0 });
    });
    assert!(engine.dump_held_s > 100.0 * 3600.0, "{} h", engine.dump_held_s / 3600.0);
    assert!(engine.dump_longest_s <= 4.0 * 3600.0 + 1.0);
    agree(&plant, &engine, &plain, Tolerance { starts: 0.02 * plain.starts, ..Tolerance::default() });
    assert_relative_eq!(engine.dump_held_s, plain.dump_held_s, max_relative = 0.02);
}

/// Where it would run longer the guard shuts it until the aquastat has closed.
#[test]
fn a_guard_shuts_a_dump_that_runs_too_long() {
    let free = both(SCENARIO, 48, JULY, JULY, |_| {}).1;
    let longest_s = (0.8 * free.dump_longest_s).floor();
    let (plant, engine, plain) =
        both(SCENARIO, 96, JULY, JULY, |plant| dump(plant).longest_open_s = longest_s);
    assert!(engine.dump_guarded >= 1.0 && free.dump_guarded == 0.0);
    assert!(engine.dump_longest_s <= longest_s + 1.0, "{} of {longest_s} s", engine.dump_longest_s);
    agree(&plant, &engine, &plain, Tolerance::default());
    assert_relative_eq!(
        engine.dump_guarded,
        plain.dump_guarded,
        epsilon = (0.02 * plain.dump_guarded).max(2.0)
    );
}

/// June with, July without: in the second month nothing runs and nothing is refused.
#[test]
fn a_cooler_that_is_switched_off_rests_for_the_month() {
    let (plant, engine, plain) = both(SCENARIO, 48, JUNE, JULY, |plant| plant.thermostat.off_in[JULY] = true);
    assert!(engine.run_s > 0.0 && engine.contents_k.max > 283.15, "{}", engine.contents_k.max);
    agree(&plant, &engine, &plain, Tolerance::default());
    let (_, off, _) = both(SCENARIO, 8, JULY, JULY, |plant| plant.thermostat.off_in[JULY] = true);
    assert_eq!((off.run_s, off.starts, off.missed_s, off.uncalled_s), (0.0, 0.0, 0.0, 0.0));
}

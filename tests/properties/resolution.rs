//! The shipped scenarios calculated four times finer on every knob.
//!
//! Tolerance: the claim of `Resolution::default`. Derived here: electricity and booster heat within 1 %; dumped litres within 1 %
//! or three openings, whichever is more. An opening empties the tank down to the probe: probe height times volume. Whether
//! the tank is full a minute before or after a draw is chance: the grower's year has 109 to 113 openings and 41.3 to 42.3 m3
//! at seven resolutions up to five times finer, in no order.

use larderloop::household::Household;
use larderloop::plant::Plant;
use larderloop::resolution::Resolution;
use larderloop::simulate::simulate;
use larderloop::year::Interval;

use crate::shipped;

fn total(household: &Household, resolution: &Resolution) -> Interval {
    simulate(&Plant::new(household), resolution, &mut ()).expect("a checked household can be run").total
}

fn within(name: &str, what: &str, coarse: f64, fine: f64, least: f64) {
    let allowed = f64::max(0.01 * fine.abs(), least);
    assert!((coarse - fine).abs() <= allowed, "{name}, {what}: {coarse} and, finer, {fine}");
}

fn check(name: &str) {
    let household = shipped::household(&shipped::text(name), None);
    let coarse = total(&household, &Resolution::default());
    let fine = total(&household, &Resolution::default().finer(4.0));
    within(name, "electricity", coarse.electricity_total_j(), fine.electricity_total_j(), 0.0);
    within(name, "booster heat", coarse.booster_j, fine.booster_j, 0.0);
    let three_openings_m3 =
        household.dump.as_ref().map_or(0.0, |dump| 3.0 * dump.probe.value * household.tank.volume.value);
    within(name, "dumped water", coarse.dump_m3, fine.dump_m3, three_openings_m3);
}

#[test]
fn the_basement_does_not_hang_on_the_resolution() {
    check("basement-chicago");
}

#[test]
fn the_couple_does_not_hang_on_the_resolution() {
    check("couple-no-dump");
}

#[test]
fn the_grower_does_not_hang_on_the_resolution() {
    check("grower-po-plain");
}

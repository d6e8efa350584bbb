//! Other ways of cooling: their years do not hang on the resolution, and their books close for any household.

use larderloop::alternatives::{Way, plants};
use larderloop::plant::Plant;
use larderloop::resolution::Resolution;
use larderloop::simulate::simulate;
use larderloop::year::Interval;

use crate::shipped;

fn total(plant: &Plant, resolution: &Resolution) -> Interval {
    let year = simulate(plant, resolution, &mut ()).expect("a checked household can be run");
    assert!(year.ledger.worst() < 1e-9, "{:?}", year.ledger);
    year.total
}

/// Four times finer on every knob: electricity, heat out of the room and condensate within 1 %, and of what fans carry out within 1 % of what comes in.
fn check(name: &str) {
    let household = shipped::household(&shipped::text(name), None);
    let plant = Plant::new(&household);
    let own = simulate(&plant, &Resolution::default(), &mut ()).expect("it can be run");
    for (way, other) in plants(&household, &plant, &own) {
        if matches!(way, Way::HeatPump | Way::Nothing) {
            continue;
        }
        let (coarse, fine) =
            (total(&other, &Resolution::default()), total(&other, &Resolution::default().finer(4.0)));
        let gained_j = fine.gain_total_j().abs();
        for (what, coarse, fine, least) in [
            ("electricity", coarse.electricity_total_j(), fine.electricity_total_j(), 0.0),
            ("heat from the room", coarse.heat_from_room_j, fine.heat_from_room_j, 0.01 * gained_j),
            ("condensate", coarse.condensate_kg, fine.condensate_kg, 1.0),
            ("carried out by fans", coarse.aired_j, fine.aired_j, 0.01 * gained_j),
            ("too warm", coarse.over_band_s, fine.over_band_s, 12.0 * 3600.0),
        ] {
            let allowed = f64::max(0.01 * fine.abs(), least);
            assert!((coarse - fine).abs() <= allowed, "{name}, {way:?}, {what}: {coarse} and, finer, {fine}");
        }
    }
}

#[test]
fn the_basements_other_ways_do_not_hang_on_the_resolution() {
    check("basement-chicago");
}

#[test]
fn the_growers_other_ways_do_not_hang_on_the_resolution() {
    check("grower-po-plain");
}

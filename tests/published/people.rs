//! Heat of a person at work in a cold room.

use std::path::Path;

use larderloop::constants::ZERO_CELSIUS_K;
use larderloop::household::{Household, WaterTaker};
use larderloop::plant::{Cause, Plant};
use larderloop::resolution::Resolution;
use larderloop::scenario;
use larderloop::simulate::simulate;
use larderloop::units::{celsius, seconds};

/// Room air, °C, and heat of a person, W. Second hand: public vocational course (distance learning, unit on internal loads).
const COURSE: [(f64, f64); 4] = [(-5.0, 300.0), (0.0, 270.0), (5.0, 240.0), (10.0, 210.0)];

fn household() -> Household {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/basement-chicago.yaml");
    scenario::open(&file).expect("a scenario of the project").household
}

/// The table between its rows; nothing beyond them.
fn course_w(air_degc: f64) -> Option<f64> {
    let upper = COURSE.iter().position(|row| row.0 >= air_degc).filter(|&upper| upper > 0)?;
    let ((low, low_w), (high, high_w)) = (COURSE[upper - 1], COURSE[upper]);
    Some(low_w + (air_degc - low) / (high - low) * (high_w - low_w))
}

/// The course's table follows ASHRAE Handbook Refrigeration, "Refrigerated-Facility Loads" (From memory, to be verified: 272 - 6 t, and 211.0 and
/// 246.2 W at 50 and 40 °F), from which it differs by 2 W. Each month of a year with somebody in the room all day has the heat of its mean air; 2.2 W: the
/// difference of the two, and a mean.
#[test]
fn people_at_work() {
    for set_degc in [2.0, 6.0] {
        let mut household = household();
        household.thermostat.set = celsius(set_degc);
        // One person all day, not several who come in by the door at once.
        household.room.people_time = seconds(86_400.0);
        household.room.doors.clear();
        // So much heat is more water than its lawn can take.
        household.dump.as_mut().expect("it has a dump").destinations.push(WaterTaker::drain());
        let year = simulate(&Plant::new(&household), &Resolution::default(), &mut ()).expect("it can be run");
        let mut compared = 0;
        for month in &year.months {
            let air_degc = month.air_k_s / month.duration_s - ZERO_CELSIUS_K;
            let heat_w = month.gain_j[Cause::People as usize] / month.duration_s;
            // With somebody in it all day the room gets warmer than the table in months in which the pump is refused.
            let Some(printed_w) = course_w(air_degc) else { continue };
            compared += 1;
            assert!(
                (heat_w - printed_w).abs() < 2.2,
                "month {}: {heat_w} W at {air_degc} °C, printed {printed_w} W",
                month.month
            );
        }
        assert!(compared >= 6, "only {compared} months lie inside the table");
    }
}

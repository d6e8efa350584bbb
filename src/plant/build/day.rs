//! The household's day as segments: taps, doors, people and lights.

use crate::draw::{DaySpan, cut_day, tap_flows};
use crate::household::{Household, RoomDoor};
use crate::plant::{DAY_S, DaySegment};
use crate::water;

/// Noon, s after midnight: when somebody is in a room without doors.
const NOON_S: f64 = 0.5 * DAY_S;

/// The day from 0:00 to 24:00 in segments in which nothing changes.
///
/// - Openings of a door are evenly spaced from its first to its last; openings of the same door that overlap are one.
/// - The time that people work in the room is shared out over all openings of all doors and begins at each; stays that
///   overlap are people who work there together.
/// - The lights burn by the same rule, but one lamp does not burn twice: what overlaps burns on afterwards.
/// - In a room without openings both have one stay that begins at noon.
pub(super) fn day_segments(household: &Household) -> Vec<DaySegment> {
    let room = &household.room;
    let doors: Vec<Vec<DaySpan>> = room.doors.iter().map(open_spans).collect();
    let stays_s = stay_starts_s(&room.doors);
    let people = shared_out(&stays_s, room.people_time.value);
    let lights = one_after_another(&shared_out(&stays_s, room.lights_time.value));
    let taps = taps(household);

    let spans = doors.iter().flatten().chain(&people).chain(&lights);
    let edges = spans.flat_map(|span| span.edges()).chain(taps.iter().map(|flow| flow.0));
    let mut segments: Vec<DaySegment> = cut_day(edges)
        .into_iter()
        .map(|(start_s, end_s)| {
            let middle_s = 0.5 * (start_s + end_s);
            let count = |spans: &[DaySpan]| spans.iter().map(|span| span.cover(middle_s)).sum::<f64>();
            DaySegment {
                start_s,
                tap_kg_s: flow_at(&taps, middle_s),
                doors_open: doors.iter().map(|spans| count(spans) > 0.0).collect(),
                people: count(&people),
                lights_w: count(&lights) * room.lights.value,
            }
        })
        .collect();
    segments.dedup_by(|later, earlier| {
        (later.tap_kg_s, &later.doors_open) == (earlier.tap_kg_s, &earlier.doors_open)
            && (later.people, later.lights_w) == (earlier.people, earlier.lights_w)
    });
    segments
}

/// Flow at the taps, kg/s at use temperature.
fn taps(household: &Household) -> Vec<(f64, f64)> {
    let water = &household.hot_water;
    let density_kg_m3 = water::density_kg_m3(water.use_at.value);
    tap_flows(water.pattern, water.daily.value * density_kg_m3, density_kg_m3 / 1000.0)
}

/// Value of a daily series of starts and values at a time of day.
fn flow_at(flows: &[(f64, f64)], time_s: f64) -> f64 {
    let begun = flows.iter().filter(|flow| flow.0 <= time_s).count();
    flows[begun - 1].1
}

/// Times at which a door is opened, s after midnight.
fn opening_times_s(door: &RoomDoor) -> impl Iterator<Item = f64> {
    let first_s = door.first_opening.value;
    let gaps = f64::from(door.openings_per_day.max(2) - 1);
    let gap_s = (door.last_opening.value - first_s) / gaps;
    (0..door.openings_per_day).map(move |opening| first_s + f64::from(opening) * gap_s)
}

fn open_spans(door: &RoomDoor) -> Vec<DaySpan> {
    let length_s = door.open_time.value;
    opening_times_s(door).map(|start_s| DaySpan { start_s, length_s }).collect()
}

/// When somebody comes in: every opening of every door, in order; noon when there is none.
fn stay_starts_s(doors: &[RoomDoor]) -> Vec<f64> {
    let mut starts_s: Vec<f64> = doors.iter().flat_map(opening_times_s).collect();
    starts_s.sort_by(f64::total_cmp);
    if starts_s.is_empty() {
        starts_s.push(NOON_S);
    }
    starts_s
}

/// A time shared out evenly over the starts.
fn shared_out(starts_s: &[f64], time_s: f64) -> Vec<DaySpan> {
    let length_s = time_s / starts_s.len() as f64;
    starts_s.iter().map(|&start_s| DaySpan { start_s, length_s }).collect()
}

/// The spans put off until none overlaps another, their lengths kept; together at most a day.
///
/// Two turns of the day: what the first carries over midnight delays the second, and as the
/// spans together are no longer than a day, every later turn would be like the second.
fn one_after_another(spans: &[DaySpan]) -> Vec<DaySpan> {
    let mut free_s = f64::NEG_INFINITY;
    let mut turn = |shift_s: f64| -> Vec<DaySpan> {
        spans
            .iter()
            .map(|span| {
                let start_s = free_s.max(span.start_s + shift_s);
                free_s = start_s + span.length_s;
                DaySpan { start_s: start_s - shift_s, length_s: span.length_s }
            })
            .collect()
    };
    turn(0.0);
    turn(DAY_S)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn covered(spans: &[DaySpan], time_s: f64) -> f64 {
        spans.iter().map(|span| span.cover(time_s)).sum()
    }

    #[test]
    fn lamps_that_would_burn_twice_burn_on_afterwards() {
        let wanted: Vec<DaySpan> =
            [0.0, 1800.0, 7200.0].map(|start_s| DaySpan { start_s, length_s: 3600.0 }).into();
        let burning = one_after_another(&wanted);
        assert_eq!(burning.iter().map(|span| span.start_s).collect::<Vec<_>>(), [0.0, 3600.0, 7200.0]);
    }

    #[test]
    fn lamps_asked_for_the_whole_day_burn_the_whole_day_once() {
        let wanted = shared_out(&[8.0 * 3600.0, 9.0 * 3600.0, 21.0 * 3600.0], DAY_S);
        let burning = one_after_another(&wanted);
        for (start_s, end_s) in cut_day(burning.iter().flat_map(|span| span.edges())) {
            assert_eq!(covered(&burning, 0.5 * (start_s + end_s)), 1.0, "from {start_s} s");
        }
    }

    #[test]
    fn lamps_carried_over_midnight_delay_the_morning() {
        // Ten hours each from 20:00 and 21:00: the second begins at 6:00 and holds up nothing before 20:00.
        let wanted = shared_out(&[20.0 * 3600.0, 21.0 * 3600.0], 20.0 * 3600.0);
        let burning = one_after_another(&wanted);
        assert_relative_eq!(burning[1].edges()[0], 6.0 * 3600.0, max_relative = 1e-12);
        assert_relative_eq!(burning[1].edges()[1], 16.0 * 3600.0, max_relative = 1e-12);
    }
}

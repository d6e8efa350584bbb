//! The household's day as segments: taps, doors, people and lights.

use super::taps;
use crate::draw::{DaySpan, TapFlow, cut_day};
use crate::household::{ColdRoom, Household, RoomDoor};
use crate::plant::{Calendar, DAY_S, DaySegment};

/// Noon, s after midnight: when somebody is in a room without doors.
const NOON_S: f64 = 0.5 * DAY_S;

/// Kinds of days, and which of them each day of the year is.
///
/// Days on which taps and room see the same are one kind.
pub(super) fn days(household: &Household, calendar: &Calendar) -> (Vec<Vec<DaySegment>>, Vec<usize>) {
    let room = &household.room;
    let openings = |month: usize| {
        room.doors.iter().map(move |door| (door.openings_per_day[month], propped_span(door, month)))
    };
    let first_alike = |month: usize| (0..month).find(|&earlier| openings(earlier).eq(openings(month)));
    // Months in which the doors are opened alike are one to the room.
    let seasons: [usize; 12] = std::array::from_fn(|month| first_alike(month).unwrap_or(month));
    let mut orders: Vec<(taps::DayOrder, Option<usize>)> = Vec::new();
    let mut kinds: Vec<Vec<DaySegment>> = Vec::new();
    let kind_of = |(day, order): (usize, taps::DayOrder)| {
        let month = (!order.away).then(|| seasons[calendar.month_of_hour(24 * day)]);
        let order = (order, month);
        orders.iter().position(|known| *known == order).unwrap_or_else(|| {
            kinds.push(RoomDay::of(room, month).segments(room, &taps::taps(&household.hot_water, &order.0)));
            orders.push(order);
            kinds.len() - 1
        })
    };
    let of_day =
        taps::day_orders(&household.hot_water, calendar).into_iter().enumerate().map(kind_of).collect();
    (kinds, of_day)
}

/// Doors, people and lights of a day.
///
/// - Openings of a door are evenly spaced from its first to its last; openings of the same door that overlap are one.
/// - The time that people work in the room is shared out over all openings of all doors and begins at each; stays that
///   overlap are people who work there together.
/// - The lights burn by the same rule, but one lamp does not burn twice: what overlaps burns on afterwards.
/// - In a room without openings both have one stay that begins at noon.
/// - While nobody is at home nothing of it happens.
struct RoomDay {
    doors: Vec<Vec<DaySpan>>,
    propped: Vec<Option<DaySpan>>,
    people: Vec<DaySpan>,
    lights: Vec<DaySpan>,
}

impl RoomDay {
    /// Of a day in a month in which somebody is at home; `None` while nobody is.
    fn of(room: &ColdRoom, month: Option<usize>) -> Self {
        let Some(month) = month else {
            let doors = vec![Vec::new(); room.doors.len()];
            let propped = vec![None; room.doors.len()];
            return Self { doors, propped, people: Vec::new(), lights: Vec::new() };
        };
        let stays_s = stay_starts_s(&room.doors, month);
        Self {
            doors: room.doors.iter().map(|door| open_spans(door, month)).collect(),
            propped: room.doors.iter().map(|door| propped_span(door, month)).collect(),
            people: shared_out(&stays_s, room.people_time.value),
            lights: one_after_another(&shared_out(&stays_s, room.lights_time.value)),
        }
    }

    /// The day from 0:00 to 24:00 in segments in which nothing changes.
    fn segments(&self, room: &ColdRoom, taps: &[TapFlow]) -> Vec<DaySegment> {
        let doors = self.doors.iter().flatten().chain(self.propped.iter().flatten());
        let spans = doors.chain(&self.people).chain(&self.lights);
        let edges = spans.flat_map(|span| span.edges()).chain(taps.iter().map(|flow| flow.start_s));
        let mut segments: Vec<DaySegment> = cut_day(edges)
            .into_iter()
            .map(|(start_s, end_s)| {
                let middle_s = 0.5 * (start_s + end_s);
                let count = |spans: &[DaySpan]| spans.iter().map(|span| span.cover(middle_s)).sum::<f64>();
                let tap = flow_at(taps, middle_s);
                let stands = |span: &Option<DaySpan>| span.is_some_and(|span| span.cover(middle_s) > 0.0);
                let propped: Vec<bool> = self.propped.iter().map(stands).collect();
                let doors_open =
                    self.doors.iter().zip(&propped).map(|(spans, propped)| *propped || count(spans) > 0.0);
                let doors_open: Vec<bool> = doors_open.collect();
                DaySegment {
                    start_s,
                    tap_kg_s: tap.kg_s,
                    use_k: tap.use_k,
                    at_once: tap.at_once,
                    waiting_kg_s: tap.waiting_kg_s,
                    past_valve: tap.past_valve,
                    doors_open,
                    doors_propped: propped,
                    people: count(&self.people),
                    lights_w: count(&self.lights) * room.lights.value,
                }
            })
            .collect();
        segments.dedup_by(|later, earlier| {
            let start_s = std::mem::replace(&mut later.start_s, earlier.start_s);
            let same = *later == *earlier;
            later.start_s = start_s;
            same
        });
        segments
    }
}

/// What the taps take at a time of day.
fn flow_at(flows: &[TapFlow], time_s: f64) -> TapFlow {
    let begun = flows.iter().filter(|flow| flow.start_s <= time_s).count();
    flows[begun - 1]
}

/// Times at which a door is opened on a day of a month, s after midnight.
fn opening_times_s(door: &RoomDoor, month: usize) -> impl Iterator<Item = f64> {
    let first_s = door.first_opening.value;
    let openings = door.openings_per_day[month];
    let gaps = f64::from(openings.max(2) - 1);
    let gap_s = (door.last_opening.value - first_s) / gaps;
    (0..openings).map(move |opening| first_s + f64::from(opening) * gap_s)
}

/// When a door stands propped open on a day of a month.
fn propped_span(door: &RoomDoor, month: usize) -> Option<DaySpan> {
    let propped = door.propped.filter(|propped| propped.months[month])?;
    Some(DaySpan { start_s: propped.from.value, length_s: propped.lasts.value })
}

fn open_spans(door: &RoomDoor, month: usize) -> Vec<DaySpan> {
    let length_s = door.open_time.value;
    opening_times_s(door, month).map(|start_s| DaySpan { start_s, length_s }).collect()
}

/// When somebody comes in: every opening of every door, in order; noon when there is none.
fn stay_starts_s(doors: &[RoomDoor], month: usize) -> Vec<f64> {
    let mut starts_s: Vec<f64> = doors.iter().flat_map(|door| opening_times_s(door, month)).collect();
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

//! The course of the year: day by day, its warmest week hour by hour, and how long the contents were how warm.

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::plant::{Calendar, HOUR_S};
use crate::year::{Interval, Sink};

/// Hours of a day and of a week.
const DAY_H: usize = 24;
const WEEK_H: usize = 7 * DAY_H;
/// Litres in a cubic metre.
const L_PER_M3: f64 = 1000.0;
/// Points of the curve of durations, beside its first.
const DURATIONS: usize = 50;

/// What is kept of an hour.
#[derive(Debug, Clone, Copy)]
struct Hour {
    contents_degc: f64,
    /// Whether the room serves, or holds something, at any time of it.
    serves: bool,
    air_min_degc: f64,
    air_max_degc: f64,
    tank_top_degc: f64,
    tank_bottom_degc: f64,
    running_percent: f64,
    dump_l: f64,
    used_kg: f64,
}

/// Collects the hours of a year.
#[derive(Debug, Clone, Default)]
pub struct Hours(Vec<Hour>);

impl Sink for Hours {
    fn take(&mut self, interval: &Interval) {
        let mean = |integral: f64| interval.mean(integral) - ZERO_CELSIUS_K;
        self.0.push(Hour {
            contents_degc: mean(interval.contents_k_s),
            serves: interval.food_k.max.is_finite(),
            air_min_degc: interval.air_k.min - ZERO_CELSIUS_K,
            air_max_degc: interval.air_k.max - ZERO_CELSIUS_K,
            tank_top_degc: mean(interval.tank_top_k_s),
            tank_bottom_degc: mean(interval.tank_bottom_k_s),
            running_percent: 100.0 * interval.run_s / HOUR_S,
            dump_l: interval.dump_m3 * L_PER_M3,
            used_kg: interval.demand_kg,
        });
    }
}

/// The days of the year, in order.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Days {
    /// Contents, mean, degC.
    pub contents_mean_degc: Vec<f64>,
    /// Room air, coldest, degC.
    pub air_min_degc: Vec<f64>,
    /// Room air, warmest, degC.
    pub air_max_degc: Vec<f64>,
    /// Tank top, mean, degC.
    pub tank_top_mean_degc: Vec<f64>,
    /// Tank bottom, mean, degC.
    pub tank_bottom_mean_degc: Vec<f64>,
}

/// The hardest week: that with most hours of the contents above the warm limit, but for hours in which the room is given up and empty; where
/// there is none, that with the warmest tank bottom.
#[derive(Debug, Clone, Default, Serialize)]
pub struct HardWeek {
    /// Hours in it with the contents above the warm limit.
    pub over_band_h: usize,
    /// Month of its first day, 1 to 12.
    pub month: usize,
    /// Its first day in that month, from 1.
    pub day: usize,
    /// Contents, mean of each hour, degC.
    pub contents_degc: Vec<f64>,
    /// Tank bottom, mean of each hour, degC.
    pub tank_bottom_degc: Vec<f64>,
    /// Share of each hour in which the pump ran, per cent.
    pub running_percent: Vec<f64>,
    /// Water dumped in each hour, L.
    pub dump_l: Vec<f64>,
    /// Water used at the taps in each hour, kg.
    pub used_kg: Vec<f64>,
}

/// For how long the contents were at least so warm, of the hours in which the room serves.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Duration {
    /// At least so many hours.
    pub h: f64,
    /// So warm, degC.
    pub degc: f64,
}

/// The course of the year.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Course {
    /// Day by day.
    pub days: Days,
    /// The hardest week, hour by hour.
    pub hardest_week: HardWeek,
    /// The hours in which the room serves in order of the contents' temperature, the warmest first.
    pub contents_durations: Vec<Duration>,
}

/// To a hundredth, as it is printed.
fn rounded(value: f64) -> f64 {
    (100.0 * value).round() / 100.0
}

impl Course {
    /// From the hours of a whole year; `warm_degc` is the warmest that the contents may become.
    pub fn of(hours: &Hours, calendar: &Calendar, warm_degc: f64) -> Self {
        let hours = &hours.0;
        if hours.len() < WEEK_H {
            return Self::default();
        }
        let daily = |of: &dyn Fn(&[Hour]) -> f64| hours.chunks(DAY_H).map(|day| rounded(of(day))).collect();
        let mean = |of: fn(&Hour) -> f64| {
            daily(&move |day: &[Hour]| day.iter().map(of).sum::<f64>() / day.len() as f64)
        };
        let mut sorted: Vec<f64> =
            hours.iter().filter(|hour| hour.serves).map(|hour| hour.contents_degc).collect();
        sorted.sort_by(|one, other| other.total_cmp(one));
        let duration = |point: usize| {
            let index = point * (sorted.len() - 1) / DURATIONS;
            Duration { h: index as f64, degc: rounded(sorted[index]) }
        };
        let contents_durations =
            if sorted.is_empty() { Vec::new() } else { (0..=DURATIONS).map(duration).collect() };
        Self {
            days: Days {
                contents_mean_degc: mean(|hour| hour.contents_degc),
                air_min_degc: daily(&|day| {
                    day.iter().map(|hour| hour.air_min_degc).fold(f64::INFINITY, f64::min)
                }),
                air_max_degc: daily(&|day| {
                    day.iter().map(|hour| hour.air_max_degc).fold(f64::NEG_INFINITY, f64::max)
                }),
                tank_top_mean_degc: mean(|hour| hour.tank_top_degc),
                tank_bottom_mean_degc: mean(|hour| hour.tank_bottom_degc),
            },
            hardest_week: hardest_week(hours, calendar, warm_degc),
            contents_durations,
        }
    }
}

fn hardest_week(hours: &[Hour], calendar: &Calendar, warm_degc: f64) -> HardWeek {
    let week_from = |day: usize| &hours[day * DAY_H..day * DAY_H + WEEK_H];
    let too_warm = |hour: &&Hour| hour.serves && hour.contents_degc > warm_degc;
    let over = |day: usize| week_from(day).iter().filter(too_warm).count();
    let bottom = |day: usize| week_from(day).iter().map(|hour| hour.tank_bottom_degc).sum::<f64>();
    let days = hours.len() / DAY_H - WEEK_H / DAY_H;
    let harder = |one: usize, other: usize| {
        over(one).cmp(&over(other)).then(bottom(one).total_cmp(&bottom(other))).is_gt()
    };
    let day = (1..=days).fold(0, |hardest, day| if harder(day, hardest) { day } else { hardest });
    let month = calendar.month_of_hour(day * DAY_H);
    let week = week_from(day);
    let each = |of: fn(&Hour) -> f64| week.iter().map(|hour| rounded(of(hour))).collect();
    HardWeek {
        over_band_h: over(day),
        month: month + 1,
        day: day - calendar.month_starts_h[month] / DAY_H + 1,
        contents_degc: each(|hour| hour.contents_degc),
        tank_bottom_degc: each(|hour| hour.tank_bottom_degc),
        running_percent: each(|hour| hour.running_percent),
        dump_l: each(|hour| hour.dump_l),
        used_kg: each(|hour| hour.used_kg),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn year(contents_degc: impl Fn(usize) -> f64) -> Hours {
        let mut hours = Hours::default();
        for hour in 0..8760 {
            let k = contents_degc(hour) + ZERO_CELSIUS_K;
            let mut interval = Interval {
                first_hour: hour,
                duration_s: HOUR_S,
                contents_k_s: k * HOUR_S,
                ..Interval::default()
            };
            interval.food_k.see(k);
            interval.air_k.see(k - 1.0);
            interval.air_k.see(k + 1.0);
            hours.take(&interval);
        }
        hours
    }

    #[test]
    fn days_are_means_and_extremes_of_their_hours() {
        let course = Course::of(&year(|hour| (hour % 24) as f64), &Calendar::new(false), 30.0);
        assert_eq!(course.days.contents_mean_degc.len(), 365);
        assert_eq!(course.days.contents_mean_degc[100], 11.5);
        assert_eq!((course.days.air_min_degc[7], course.days.air_max_degc[7]), (-1.0, 24.0));
    }

    #[test]
    fn the_hardest_week_has_most_warm_hours_or_the_warmest_tank() {
        let calendar = Calendar::new(false);
        // 20 July is day 200 from 0: the first week with all its warm hours ends with it.
        let warm = |hour: usize| if hour / 24 == 200 { 9.0 } else { 4.0 };
        let week = Course::of(&year(warm), &calendar, 7.0).hardest_week;
        assert_eq!((week.month, week.day, week.over_band_h), (7, 14, 24));
        assert_eq!((week.contents_degc[6 * 24], week.contents_degc[6 * 24 - 1]), (9.0, 4.0));
        let mut hours = year(|_| 4.0);
        for hour in &mut hours.0[8760 - 24..] {
            hour.tank_bottom_degc = 40.0;
        }
        let week = Course::of(&hours, &calendar, 7.0).hardest_week;
        assert_eq!((week.month, week.day, week.over_band_h), (12, 25, 0));
    }

    #[test]
    fn what_a_room_that_is_given_up_and_empty_is_like_counts_for_nothing() {
        let mut hours = year(|hour| if hour / 24 < 200 { 20.0 } else { 4.0 });
        for hour in &mut hours.0[..200 * 24] {
            hour.serves = false;
        }
        let course = Course::of(&hours, &Calendar::new(false), 7.0);
        assert_eq!(course.hardest_week.over_band_h, 0);
        assert!(course.contents_durations.iter().all(|point| point.degc == 4.0));
        assert_eq!(course.contents_durations.last().map(|last| last.h), Some((165 * 24 - 1) as f64));
    }

    #[test]
    fn durations_fall_from_the_warmest_hour_to_the_coldest() {
        let course = Course::of(&year(|hour| hour as f64 / 1000.0), &Calendar::new(false), 30.0);
        let durations = &course.contents_durations;
        assert_eq!((durations[0].h, durations[0].degc), (0.0, 8.76));
        assert_eq!(durations.last().map(|last| (last.h, last.degc)), Some((8759.0, 0.0)));
        assert!(durations.windows(2).all(|pair| pair[0].degc >= pair[1].degc));
    }
}

//! Hot water used by the household: how much, when, how warm, and on which days.

use uom::si::f64::{Ratio, ThermodynamicTemperature, Time, Volume, VolumeRate};

use crate::draw::{DaySpread, Pattern};
use crate::plant::Calendar;
use crate::units::fraction;

/// Days of a week.
pub const WEEK: usize = 7;

/// Hot water used by the household.
#[derive(Debug, Clone)]
pub struct HotWater {
    /// Water a day at the taps, at use temperature: the mean of a week of ordinary days.
    pub daily: Volume,
    /// Temperature at the tap.
    pub use_at: ThermodynamicTemperature,
    /// How it is spread over the day, where there are neither own shares of the hours nor a list of uses.
    pub pattern: Pattern,
    /// The household's own shares of the hours, in place of the pattern.
    pub by_hour: Option<[Ratio; 24]>,
    /// The household's own list of uses; empty: the shares of the hours or the pattern tell.
    pub uses: Vec<TapUse>,
    /// People, if said; for per-person figures.
    pub people: Option<u32>,
    /// How days differ from one another.
    pub calendar: UseCalendar,
    /// Set point of a thermostatic mixing valve after the tank, if there is one.
    pub mixing_valve: Option<ThermodynamicTemperature>,
    /// Whether some taps are fed from before that valve. A list of uses tells it of each use instead.
    pub past_valve: bool,
    /// What stands in the pipes to the taps, if it is to be reckoned with.
    pub pipes: Option<TapPipes>,
}

impl HotWater {
    /// Factor that brings the listed uses to [`HotWater::daily`]: 1 as they were read, something else after a change of the amount.
    pub fn uses_factor(&self) -> f64 {
        let listed = mean_of_uses(&self.uses).value;
        if listed > 0.0 { self.daily.value / listed } else { 1.0 }
    }
}

/// Mixed water a day of a list of uses, mean of a week.
pub fn mean_of_uses(uses: &[TapUse]) -> Volume {
    let weekly = |one: &TapUse| {
        let days = one.days.iter().filter(|on| **on).count();
        one.water * (days * one.at.len()) as f64
    };
    uses.iter().map(weekly).sum::<Volume>() / WEEK as f64
}

/// One use of hot water.
#[derive(Debug, Clone, PartialEq)]
pub struct TapUse {
    /// Name.
    pub name: String,
    /// Mixed water of one time.
    pub water: Volume,
    /// Its temperature.
    pub wanted_at: ThermodynamicTemperature,
    /// Flow at the tap.
    pub flow: VolumeRate,
    /// Times of day at which it begins, after midnight.
    pub at: Vec<Time>,
    /// Weekdays, Monday first.
    pub days: [bool; WEEK],
    /// Whether its tap is fed from before the mixing valve.
    pub past_valve: bool,
}

/// How days differ from one another.
#[derive(Debug, Clone, PartialEq)]
pub struct UseCalendar {
    /// Weekday of the year's first day, 0 for Monday.
    pub first_weekday: usize,
    /// Water of a Saturday or Sunday, share of that of other days.
    pub weekend: Ratio,
    /// Water of each month's days, share of that of ordinary days.
    pub months: [Ratio; 12],
    /// Times with guests.
    pub guests: Vec<Guests>,
    /// Times in which nobody is at home: no tap runs, no door is opened.
    pub absences: Vec<Period>,
    /// How much days differ by chance, if they do.
    pub spread: Option<DaySpread>,
}

impl Default for UseCalendar {
    /// Every day is like every other; the year begins on a Monday.
    fn default() -> Self {
        Self {
            first_weekday: 0,
            weekend: fraction(1.0),
            months: [fraction(1.0); 12],
            guests: Vec::new(),
            absences: Vec::new(),
            spread: None,
        }
    }
}

impl UseCalendar {
    /// Weekday of a day of the year, 0 for Monday.
    pub fn weekday(&self, day_of_year: usize) -> usize {
        (self.first_weekday + day_of_year) % WEEK
    }

    /// Whether nobody is at home.
    pub fn is_away(&self, day_of_year: usize, calendar: &Calendar) -> bool {
        self.absences.iter().any(|period| period.holds(day_of_year, calendar))
    }

    /// Factor on a day's water by month, weekday and guests; chance and absence are not in it.
    pub fn factor(&self, day_of_year: usize, calendar: &Calendar, people: Option<u32>) -> f64 {
        let month = self.months[calendar.month_of_hour(24 * day_of_year)].value;
        let weekend = if self.weekday(day_of_year) >= 5 { self.weekend.value } else { 1.0 };
        let here = self.guests.iter().filter(|guests| guests.period.holds(day_of_year, calendar));
        let guests: u32 = here.map(|guests| guests.people).sum();
        let people = people.unwrap_or(1);
        month * weekend * (f64::from(people + guests) / f64::from(people))
    }
}

/// A day of the year without its year.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Date {
    /// Month 0 to 11.
    pub month: usize,
    /// Day of the month, from 1.
    pub day: usize,
}

impl Date {
    /// Day of the year from 0; 29 February counts as the 28th where there is none.
    pub fn day_of_year(self, calendar: &Calendar) -> usize {
        let [first, next] = [self.month, self.month + 1].map(|month| calendar.month_starts_h[month] / 24);
        (first + self.day - 1).min(next - 1)
    }
}

/// Days from a first to a last, both in it; across the turn of the year where the last is the earlier one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Period {
    /// First day.
    pub first: Date,
    /// Last day.
    pub last: Date,
}

impl Period {
    /// Whether a day of the year is in it.
    pub fn holds(&self, day_of_year: usize, calendar: &Calendar) -> bool {
        let (first, last) = (self.first.day_of_year(calendar), self.last.day_of_year(calendar));
        if first <= last {
            (first..=last).contains(&day_of_year)
        } else {
            day_of_year >= first || day_of_year <= last
        }
    }
}

/// Guests.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Guests {
    /// When they are there.
    pub period: Period,
    /// How many, each with as much water as one of the household.
    pub people: u32,
}

/// What stands in the pipes to the taps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TapPipes {
    /// Mixed water that runs before it is warm, after hours of rest.
    pub runs_before_warm: Volume,
    /// Time constant with which the water in them cools.
    pub cools_in: Time,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(month: usize, day: usize) -> Date {
        Date { month, day }
    }

    #[test]
    fn a_period_holds_both_its_ends_and_may_pass_the_new_year() {
        let calendar = Calendar::new(false);
        let july = Period { first: date(6, 1), last: date(6, 31) };
        let held = |period: &Period| (0..365).filter(|day| period.holds(*day, &calendar)).count();
        assert_eq!(held(&july), 31);
        let new_year = Period { first: date(11, 24), last: date(0, 2) };
        assert_eq!(held(&new_year), 8 + 2);
        assert!(
            new_year.holds(0, &calendar) && new_year.holds(364, &calendar) && !new_year.holds(2, &calendar)
        );
        let one = Period { first: date(1, 29), last: date(1, 29) };
        assert_eq!((held(&one), one.holds(58, &calendar)), (1, true));
        assert!(one.holds(59, &Calendar::new(true)));
    }

    #[test]
    fn months_weekends_and_guests_multiply() {
        let calendar = Calendar::new(false);
        let mut days = UseCalendar { first_weekday: 4, weekend: fraction(1.5), ..UseCalendar::default() };
        days.months[0] = fraction(0.8);
        let guests = Guests { period: Period { first: date(0, 2), last: date(0, 2) }, people: 2 };
        days.guests = vec![guests];
        // 1 January is a Friday, the 2nd a Saturday with two guests beside four people.
        assert_eq!(days.factor(0, &calendar, Some(4)), 0.8);
        assert_eq!(days.factor(1, &calendar, Some(4)), 0.8 * 1.5 * 1.5);
        assert_eq!(days.factor(2, &calendar, Some(4)), 0.8 * 1.5);
        assert_eq!(days.factor(31, &calendar, Some(4)), 1.0);
    }
}

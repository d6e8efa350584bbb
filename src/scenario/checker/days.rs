//! Months, weekdays, dates and times of day.

use super::{Checker, Found, Section, nearest, text_of};
use crate::household::{Date, WEEK};
use crate::plant::Calendar;
use crate::scenario::codes;
use crate::scenario::fault::Note;
use crate::scenario::keys::{MONTHS, WEEKDAY_WORDS, WEEKDAYS, quoted};
use crate::scenario::tree::{Node, Shape};
use crate::units::Kind;

/// Full names, of which three letters are enough.
const FULL_MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

const FULL_WEEKDAYS: [&str; WEEK] =
    ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];

/// First and last time of a day.
const DAY: (&str, &str) = ("00:00", "24:00");

/// Which of the full names is meant by a text of three letters or more.
fn named(text: &str, full: &[&str]) -> Option<usize> {
    let text = text.trim().to_lowercase();
    full.iter().position(|name| text.len() >= 3 && name.starts_with(&text))
}

impl Checker {
    /// Months in which something may happen.
    pub fn months(&mut self, section: &Section<'_>, name: &str) -> [bool; 12] {
        match self.find(section, section.key(name)) {
            Found::Given(Node { shape: Shape::List(items), .. }) => {
                let mut months = [false; 12];
                for item in items {
                    if let Some(month) = self.month(section, name, item) {
                        months[month] = true;
                    }
                }
                months
            }
            Found::Given(node) if text_of(node).eq_ignore_ascii_case("all") => [true; 12],
            Found::Given(node) => {
                let path = section.path_of(name);
                let what = format!("`{path}` of `{}` is not a list of months", text_of(node));
                self.fault(
                    &path,
                    codes::UNKNOWN_WORD,
                    what,
                    Some(section.key(name).takes.words_in(self.units)),
                    None,
                );
                [true; 12]
            }
            Found::Absent | Found::Bad => {
                self.default_of(section, name);
                [true; 12]
            }
        }
    }

    /// Month 0 to 11 from its name, of which three letters are enough.
    fn month(&mut self, section: &Section<'_>, name: &str, item: &Node) -> Option<usize> {
        let text = text_of(item).trim().to_lowercase();
        let month = FULL_MONTHS.iter().position(|full| text.len() >= 3 && full.starts_with(&text));
        if month.is_none() {
            self.tainted.insert(section.path_of(name));
            let what = format!("`{}` is not a month", text_of(item));
            let note = Note::error(codes::UNKNOWN_WORD, item.span.clone(), what);
            let near = nearest(&text, FULL_MONTHS.iter().copied())
                .and_then(|near| FULL_MONTHS.iter().position(|full| *full == near));
            let near = near.map(|month| format!("did you mean `{}`?", MONTHS[month]));
            self.notes.push(note.allowed(Some(quoted(MONTHS.iter().copied()))).helped(near));
        }
        month
    }

    /// Times of day, s after midnight; one or a list.
    pub fn times(&mut self, section: &Section<'_>, name: &str) -> Vec<f64> {
        let path = section.path_of(name);
        let Found::Given(node) = self.find(section, section.key(name)) else { return Vec::new() };
        let mut time = |item: &Node| self.quantity(&path, item, Kind::Clock, DAY.0, DAY.1);
        match &node.shape {
            Shape::List(items) if items.is_empty() => {
                self.names_nothing(section, name);
                Vec::new()
            }
            Shape::List(items) => items.iter().filter_map(time).collect(),
            _ => time(node).into_iter().collect(),
        }
    }

    fn names_nothing(&mut self, section: &Section<'_>, name: &str) {
        let path = section.path_of(name);
        let allowed = Some(section.key(name).takes.words_in(self.units));
        self.fault(&path, codes::UNREADABLE, format!("`{path}` is an empty list"), allowed, None);
    }

    /// Weekdays, Monday first.
    pub fn weekdays(&mut self, section: &Section<'_>, name: &str) -> [bool; WEEK] {
        let node = match self.find(section, section.key(name)) {
            Found::Given(node) => node,
            Found::Absent | Found::Bad => {
                self.default_of(section, name);
                return [true; WEEK];
            }
        };
        let Shape::List(items) = &node.shape else {
            let text = text_of(node).trim();
            if let Some((_, days)) = WEEKDAY_WORDS.iter().find(|(word, _)| word.eq_ignore_ascii_case(text)) {
                return *days;
            }
            return self
                .weekday(section, name, node)
                .map_or([true; WEEK], |day| std::array::from_fn(|one| one == day));
        };
        if items.is_empty() {
            self.names_nothing(section, name);
        }
        let mut days = [false; WEEK];
        for item in items {
            if let Some(day) = self.weekday(section, name, item) {
                days[day] = true;
            }
        }
        days
    }

    /// Weekday 0 to 6 from its name.
    fn weekday(&mut self, section: &Section<'_>, name: &str, item: &Node) -> Option<usize> {
        let day = named(text_of(item), &FULL_WEEKDAYS);
        if day.is_none() {
            self.tainted.insert(section.path_of(name));
            let what = format!("`{}`: `{}` is not a weekday", section.path_of(name), text_of(item));
            let words = WEEKDAY_WORDS.iter().map(|(word, _)| *word);
            let near = nearest(text_of(item), FULL_WEEKDAYS.into_iter().chain(words.clone()))
                .map(|near| named(near, &FULL_WEEKDAYS).map_or(near, |day| WEEKDAYS[day]))
                .map(|near| format!("did you mean `{near}`?"));
            let note = Note::error(codes::UNKNOWN_WORD, item.span.clone(), what);
            self.notes.push(note.allowed(Some(quoted(WEEKDAYS.into_iter().chain(words)))).helped(near));
        }
        day
    }

    /// A day of the year, `24 Dec` or `Dec 24`.
    pub fn date(&mut self, section: &Section<'_>, name: &str) -> Date {
        let first = Date { month: 0, day: 1 };
        let Found::Given(node) = self.find(section, section.key(name)) else { return first };
        let text = text_of(node);
        let path = section.path_of(name);
        let Some((month, day)) = month_and_day(text) else {
            let what = format!("`{path}`: `{text}` is not a day of the year");
            let allowed = Some(section.key(name).takes.words_in(self.units));
            self.fault(&path, codes::UNREADABLE, what, allowed, None);
            return first;
        };
        let starts = Calendar::new(true).month_starts_h;
        let days = (starts[month + 1] - starts[month]) / 24;
        if !(1..=days).contains(&day) {
            let what = format!("`{path}` of `{text}` is outside its month");
            self.fault(&path, codes::RANGE, what, Some(format!("1 to {days} {}", MONTHS[month])), None);
            return first;
        }
        Date { month, day }
    }
}

/// Month from 0 and day from 1 of `24 Dec` or `Dec 24`.
fn month_and_day(text: &str) -> Option<(usize, usize)> {
    let mut parts = text.split_whitespace();
    let (first, second) = (parts.next()?, parts.next()?);
    if parts.next().is_some() {
        return None;
    }
    let (day, month) =
        if first.starts_with(|sign: char| sign.is_ascii_digit()) { (first, second) } else { (second, first) };
    let month = named(month, &FULL_MONTHS)?;
    Some((month, day.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::month_and_day;

    #[test]
    fn a_date_is_read_in_both_orders_and_nothing_else() {
        for text in ["24 Dec", "Dec 24", " december  24 ", "24 DECEMBER"] {
            assert_eq!(month_and_day(text), Some((11, 24)), "{text}");
        }
        for text in ["24", "Dec", "24.12.", "12-24", "24 Dec 2020", "24 De", "x Dec", "-1 Jan", ""] {
            assert_eq!(month_and_day(text), None, "{text}");
        }
    }
}

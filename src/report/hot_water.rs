//! How much hot water there is: what the tank alone gives in the morning and in the evening, and how many people would use all that is made.

use serde::Serialize;

use crate::household::UnitSystem;
use crate::report::MONTHS;
use crate::report::block::{Block, Column, Table};
use crate::report::delivery::Delivery;
use crate::report::measure::Measure;
use crate::year::{LEAN_ONE_DAY_IN, USABLE_AT_H, Year};

/// Litres in a cubic metre.
const CUBIC_METRE_L: f64 = 1000.0;

/// What the tank alone gives at 7:00 and at 18:00, mixed to the use temperature; `None` where cold water is as warm all the time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Usable {
    /// Mean of the days at 7:00, L.
    pub usable_at_7_mean_l: Option<f64>,
    /// What no more than one day in ten has less of, at 7:00, L.
    pub usable_at_7_lean_day_l: Option<f64>,
    /// Mean of the days at 18:00, L.
    pub usable_at_18_mean_l: Option<f64>,
    /// What no more than one day in ten has less of, at 18:00, L.
    pub usable_at_18_lean_day_l: Option<f64>,
}

impl Usable {
    /// Of a month (0 to 11), or of the year.
    pub fn of(year: &Year, month: Option<usize>) -> Self {
        let litres = |m3: Option<f64>| m3.map(|m3| m3 * CUBIC_METRE_L);
        let [morning, evening] = [0, 1].map(|moment| {
            (litres(year.usable.mean_m3(month, moment)), litres(year.usable.lean_m3(month, moment)))
        });
        Self {
            usable_at_7_mean_l: morning.0,
            usable_at_7_lean_day_l: morning.1,
            usable_at_18_mean_l: evening.0,
            usable_at_18_lean_day_l: evening.1,
        }
    }
}

/// The section.
pub(super) fn section(year: &Year, delivery: &Delivery, units: UnitSystem) -> Vec<Block> {
    vec![
        Block::Heading("How much hot water there is".to_owned()),
        Block::Table(usable(year, delivery, units)),
        Block::Table(users(delivery, units)),
    ]
}

fn cell(measure: Measure, value: Option<f64>, units: UnitSystem) -> String {
    value.map_or_else(|| "-".to_owned(), |value| measure.rounded(value, units).to_string())
}

fn usable(year: &Year, delivery: &Delivery, units: UnitSystem) -> Table {
    let row = |name: &str, month: Option<usize>| {
        let usable = Usable::of(year, month);
        let litres = [
            usable.usable_at_7_mean_l,
            usable.usable_at_7_lean_day_l,
            usable.usable_at_18_mean_l,
            usable.usable_at_18_lean_day_l,
        ];
        let cells = litres.map(|litres| cell(Measure::Volume, litres, units));
        [name.to_owned()].into_iter().chain(cells).collect()
    };
    let columns = USABLE_AT_H.iter().flat_map(|at_h| {
        ["on the mean", "on a lean day"]
            .map(|what| Column::number(&format!("at {at_h}:00\n{what}"), Measure::Volume.unit(units)))
    });
    Table {
        title: "What the tank alone can give".to_owned(),
        columns: [Column::words("Month")].into_iter().chain(columns).collect(),
        rows: (0..MONTHS.len()).map(|month| row(MONTHS[month], Some(month))).collect(),
        year: Some(row("Year", None)),
        notes: vec![format!(
            "Water of {}, mixed from the tank and cold water, that taps could draw in one go with booster and pump off. On a lean \
             day: no more than one day in {LEAN_ONE_DAY_IN} has less. The clock is that of the draws and of the weather file, without summer time.",
            Measure::Temperature.words(delivery.use_degc, units)
        )],
    }
}

/// Whom all the hot water would do for, by month.
fn users(delivery: &Delivery, units: UnitSystem) -> Table {
    let people = delivery.studies.is_some();
    let row = |name: &str, used_l_per_day: f64, times: Option<f64>, of_people: Option<f64>| {
        let all_l_per_day = times.map(|times| times * used_l_per_day);
        let mut cells = vec![name.to_owned()];
        cells.extend(
            [Some(used_l_per_day), all_l_per_day].map(|litres| cell(Measure::VolumePerDay, litres, units)),
        );
        cells.extend(people.then(|| cell(Measure::PerDay, of_people, units)));
        cells
    };
    let mut columns = vec![
        Column::words("Month"),
        Column::number("you use", Measure::VolumePerDay.unit(units)),
        Column::number("all of it\nwould be", Measure::VolumePerDay.unit(units)),
    ];
    let mut note = "All of it: what the pump makes less what tank and pipes lose, mixed as you mix it, on the mean of all days. Where it is \
                    less than you use, the rest is bought or missed; where it is more, it is dumped, or the tank stays full and the pump \
                    stops. -: the losses leave nothing, or nothing is used."
        .to_owned();
    if people {
        columns.push(Column::number("enough\nfor", "people"));
        note += " People: each with as much as one of you uses in that month.";
    }
    let months = delivery.months.iter().map(|month| {
        row(
            MONTHS[month.month - 1],
            month.used_l_per_day,
            month.use_at_balance_times,
            month.people_at_balance,
        )
    });
    Table {
        title: if people {
            "How many people would use all of it"
        } else {
            "How much a day would use all of it"
        }
        .to_owned(),
        columns,
        rows: months.collect(),
        year: Some(row(
            "Year",
            delivery.used_l_per_day,
            delivery.use_at_balance_times,
            delivery.people_at_balance,
        )),
        notes: vec![note],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::assessment::sample;
    use crate::report::{Report, text};

    #[test]
    fn the_section_fits_the_width_in_both_systems_with_and_without_people() {
        let mut assessment = sample::assessment();
        for people in [true, false] {
            if !people {
                assessment.delivery.studies = None;
            }
            for units in [UnitSystem::Metric, UnitSystem::Us] {
                let blocks = section(&assessment.year, &assessment.delivery, units);
                let text = text::plain(&Report { blocks });
                assert!(text.lines().all(|line| line.chars().count() <= text::WIDTH), "{text}");
                assert_eq!(text.contains("enough"), people, "{text}");
            }
        }
    }

    #[test]
    fn months_and_year_are_those_of_the_days() {
        let year = sample::year();
        // The sample's evening is half its morning.
        for month in [None, Some(0), Some(11)] {
            let usable = Usable::of(&year, month);
            let [mean, lean] =
                [usable.usable_at_7_mean_l, usable.usable_at_7_lean_day_l].map(|l| l.expect("days"));
            assert!((100.0..=200.0).contains(&lean) && lean < mean && mean <= 200.0, "{usable:?}");
            let evening = usable.usable_at_18_mean_l.expect("days");
            approx::assert_relative_eq!(evening, 0.5 * mean, max_relative = 1e-12);
        }
    }

    #[test]
    fn a_year_without_days_says_so() {
        let mut year = sample::year();
        year.usable.0.clear();
        let table = usable(&year, &sample::assessment().delivery, UnitSystem::Metric);
        assert!(table.rows.iter().all(|row| row[1..].iter().all(|cell| cell == "-")), "{:?}", table.rows);
    }
}

//! The pump's size by months: the room's load against what the pump can take out.

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::household::UnitSystem;
use crate::plant::Calendar;
use crate::report::MONTHS;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::size::{
    FULL_H_PER_DAY, HALF_WOULD_DO_H_PER_DAY, MonthSize, QUARTER_WOULD_DO_H_PER_DAY, RESERVE_H_PER_DAY, Size,
    Verdict,
};
use crate::year::Year;

/// Seconds in a minute.
const MINUTE_S: f64 = 60.0;

/// Load and capacity of a month.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SizeMonth {
    /// Month 1 to 12.
    pub month: usize,
    /// Heat to be cooled away, mean, W.
    pub load_w: f64,
    /// Day of the month with the heaviest load, from 1.
    pub heaviest_day: Option<usize>,
    /// Load of that day, mean, W.
    pub heaviest_day_load_w: Option<f64>,
    /// What the started-up pump took out of the room at full output, W; `None` where it never ran.
    pub capacity_w: Option<f64>,
    /// Mean water inlet while running, degC.
    pub inlet_degc: Option<f64>,
    /// Hours that the pump would have to run on the heaviest day.
    pub needed_h_per_day: Option<f64>,
    /// Hours a day that it ran.
    pub run_h_per_day: f64,
    /// Starts a day.
    pub starts_per_day: f64,
    /// Mean length of a run, min.
    pub mean_run_min: Option<f64>,
    /// Heat lost to starting, share of what would have been made without.
    pub start_loss_frac: Option<f64>,
}

impl SizeMonth {
    fn of(month: &MonthSize, calendar: &Calendar) -> Self {
        let first_day = calendar.month_starts_h[month.month] / 24;
        Self {
            month: month.month + 1,
            load_w: month.load_w,
            heaviest_day: month.heaviest_day.map(|heaviest| heaviest.day - first_day + 1),
            heaviest_day_load_w: month.heaviest_w(),
            capacity_w: month.capacity_w,
            inlet_degc: month.inlet_k.map(|inlet_k| inlet_k - ZERO_CELSIUS_K),
            needed_h_per_day: month.needed_h(),
            run_h_per_day: 24.0 * month.run_frac,
            starts_per_day: month.starts_per_day,
            mean_run_min: month.mean_run_s.map(|run_s| run_s / MINUTE_S),
            start_loss_frac: month.start_loss_frac,
        }
    }
}

/// The limits of the verdict, hours on the heaviest day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SizeLimits {
    /// Above it the pump is too small.
    pub too_small_above_h: f64,
    /// Above it little is left.
    pub only_just_above_h: f64,
    /// Below it half the pump would do.
    pub too_big_below_h: f64,
    /// Below it a quarter of the pump would do.
    pub far_too_big_below_h: f64,
}

/// The size of the pump.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SizeReport {
    /// What it comes to.
    pub verdict: Verdict,
    /// Hours that the pump would have to run on the heaviest day of the hardest month.
    pub needed_h_per_day: Option<f64>,
    /// Month of that day, 1 to 12.
    pub hardest_month: Option<usize>,
    /// The limits of the verdict.
    pub limits: SizeLimits,
    /// The months.
    pub months: Vec<SizeMonth>,
}

impl SizeReport {
    /// The size as a year shows it.
    pub fn of(year: &Year) -> Self {
        let size = Size::of(year);
        Self {
            verdict: size.verdict,
            needed_h_per_day: size.needed_h(),
            hardest_month: size.hardest().map(|month| month.month + 1),
            limits: SizeLimits {
                too_small_above_h: FULL_H_PER_DAY,
                only_just_above_h: RESERVE_H_PER_DAY,
                too_big_below_h: HALF_WOULD_DO_H_PER_DAY,
                far_too_big_below_h: QUARTER_WOULD_DO_H_PER_DAY,
            },
            months: size.months.iter().map(|month| SizeMonth::of(month, &year.calendar)).collect(),
        }
    }
}

/// The table of load and capacity. The verdict is the finding's.
pub(super) fn table(year: &Year, units: UnitSystem) -> Vec<Block> {
    let power = Measure::Power.unit(units);
    let size = SizeReport::of(year);
    vec![
        Block::Heading("The room's load against the pump".to_owned()),
        Block::Table(Table {
            title: "What comes into the room and what the running pump takes out".to_owned(),
            columns: vec![
                Column::words("Month"),
                Column::number("load\nmean", power),
                Column::number("heav-\niest\nday", power),
                Column::number("on\nthe", ""),
                Column::number("pump\ntakes\nout", power),
                Column::number("water\nin\nmean", Measure::Temperature.unit(units)),
                Column::number("needed\nthat\nday", Measure::Duration.unit(units)),
                Column::number("ran\na day", Measure::Duration.unit(units)),
                Column::number("starts\na day", ""),
                Column::number("mean\nrun", Measure::Minutes.unit(units)),
                Column::number("lost\nto\nstarts", Measure::Fraction.unit(units)),
            ],
            rows: size.months.iter().map(|month| row(month, units)).collect(),
            year: None,
            notes: vec![
                "Load: heat into the room by all causes, and what the resting machine gives off. Pump takes out: \
                 at full output, at the month's own water, air and frost, without what starting lost."
                    .to_owned(),
            ],
        }),
    ]
}

fn row(month: &SizeMonth, units: UnitSystem) -> Vec<String> {
    let cell = |measure: Measure, value: Option<f64>| {
        value.map_or_else(|| "-".to_owned(), |value| measure.rounded(value, units).to_string())
    };
    vec![
        MONTHS[month.month - 1].to_owned(),
        cell(Measure::Power, Some(month.load_w)),
        cell(Measure::Power, month.heaviest_day_load_w),
        month.heaviest_day.map_or_else(|| "-".to_owned(), |day| format!("{day}")),
        cell(Measure::Power, month.capacity_w),
        cell(Measure::Temperature, month.inlet_degc),
        cell(Measure::Duration, month.needed_h_per_day),
        cell(Measure::HoursPerDay, Some(month.run_h_per_day)),
        cell(Measure::PerDay, Some(month.starts_per_day)),
        cell(Measure::Minutes, month.mean_run_min),
        cell(Measure::Fraction, month.start_loss_frac),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::assessment::sample;
    use crate::report::{Report, text};
    use crate::year::Interval;

    #[test]
    fn the_table_fits_the_width_and_shows_what_the_document_has() {
        let year = sample::year();
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            let blocks = table(&year, units);
            let text = text::plain(&Report { blocks });
            assert!(text.lines().all(|line| line.chars().count() <= text::WIDTH), "{text}");
            assert_eq!(
                text.lines().filter(|line| MONTHS.iter().any(|month| line.starts_with(month))).count(),
                12
            );
        }
        let size = SizeReport::of(&year);
        assert_eq!((size.months.len(), size.months[2].heaviest_day), (12, Some(1)));
        // Hours run a day over the year's hours: the year's own running time.
        let run_h: f64 = size
            .months
            .iter()
            .zip(&year.months)
            .map(|(size, month)| size.run_h_per_day * month.duration_s / 86_400.0)
            .sum();
        approx::assert_relative_eq!(run_h, year.total.run_s / 3600.0, max_relative = 1e-12);
    }

    #[test]
    fn a_month_in_which_the_pump_never_ran_shows_dashes() {
        let mut year = sample::year();
        year.months[0] = Interval { run_s: 0.0, output_frac_s: 0.0, starts: 0.0, ..year.months[0].clone() };
        let month = &SizeReport::of(&year).months[0];
        assert_eq!((month.capacity_w, month.needed_h_per_day, month.mean_run_min), (None, None, None));
        assert_eq!(row(month, UnitSystem::Metric).iter().filter(|cell| *cell == "-").count(), 4);
    }
}

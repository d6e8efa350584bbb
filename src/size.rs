//! The pump's size: the room's load against what the pump can take out, month by month.

use serde::Serialize;

use crate::plant::DAY_S;
use crate::year::{DayLoad, Interval, Year};

/// Running time on the day with the heaviest load that leaves a reserve, h. Common practice, no source: rooms above
/// freezing are laid out for 16 to 18 hours.
pub const RESERVE_H_PER_DAY: f64 = 18.0;
/// Running time on that day from which nothing is left, h. Common practice, no source.
pub const FULL_H_PER_DAY: f64 = 22.0;
/// Running time on that day below which half the pump would do, h. Derived here: half of [`RESERVE_H_PER_DAY`].
pub const HALF_WOULD_DO_H_PER_DAY: f64 = 0.5 * RESERVE_H_PER_DAY;
/// Running time on that day below which a quarter of the pump would do, h. Derived here: a quarter of [`RESERVE_H_PER_DAY`].
pub const QUARTER_WOULD_DO_H_PER_DAY: f64 = 0.25 * RESERVE_H_PER_DAY;

/// What the size comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The heaviest day has no hours left: more than [`FULL_H_PER_DAY`].
    TooSmall,
    /// Little reserve: more than [`RESERVE_H_PER_DAY`].
    OnlyJust,
    /// Neither too small nor too big.
    Right,
    /// Half the pump would do: less than [`HALF_WOULD_DO_H_PER_DAY`].
    TooBig,
    /// A quarter of the pump would do: less than [`QUARTER_WOULD_DO_H_PER_DAY`].
    FarTooBig,
    /// The pump never ran and the room never asked for it.
    NothingToCool,
    /// The pump never ran although the room asked for it: what it can do is not known.
    Unknown,
}

impl Verdict {
    /// The verdict for the hours needed on the heaviest day; a limit belongs to the better verdict.
    fn of(needed_h: f64) -> Self {
        match needed_h {
            hours if hours > FULL_H_PER_DAY => Verdict::TooSmall,
            hours if hours > RESERVE_H_PER_DAY => Verdict::OnlyJust,
            hours if hours >= HALF_WOULD_DO_H_PER_DAY => Verdict::Right,
            hours if hours >= QUARTER_WOULD_DO_H_PER_DAY => Verdict::TooBig,
            _ => Verdict::FarTooBig,
        }
    }
}

/// A month's load against the pump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthSize {
    /// Month 0 to 11.
    pub month: usize,
    /// Heat to be cooled away, mean of the month, W; negative where the room loses heat.
    pub load_w: f64,
    /// The day of the heaviest load; `None` for a month without a whole day.
    pub heaviest_day: Option<DayLoad>,
    /// What the started-up pump took out of the room at full output, W, at the month's own water, air and frost; `None` where
    /// it never ran. Cooling is taken as going with the output; a unit whose COP is better when slow cools a little more.
    pub capacity_w: Option<f64>,
    /// Share of the time that it ran.
    pub run_frac: f64,
    /// Starts a day.
    pub starts_per_day: f64,
    /// Mean length of a run, s; `None` without a start.
    pub mean_run_s: Option<f64>,
    /// Heat lost to starting as a share of what would have been made without; `None` where nothing was made.
    pub start_loss_frac: Option<f64>,
    /// Mean water inlet while running, K; `None` where the pump never ran.
    pub inlet_k: Option<f64>,
}

impl MonthSize {
    /// A month of a year.
    pub fn of(month: &Interval, heaviest_day: Option<DayLoad>) -> Self {
        let full_output_s = month.output_frac_s;
        Self {
            month: month.month,
            load_w: month.mean(month.to_be_cooled_j()),
            heaviest_day,
            capacity_w: (full_output_s > 0.0).then(|| cooled_j(month) / full_output_s),
            run_frac: month.mean(month.run_s),
            starts_per_day: month.mean(month.starts) * DAY_S,
            mean_run_s: (month.starts > 0.0).then(|| month.run_s / month.starts),
            start_loss_frac: start_loss_frac(month),
            inlet_k: month.mean_inlet_k(),
        }
    }

    /// Load of the heaviest day, W.
    pub fn heaviest_w(&self) -> Option<f64> {
        self.heaviest_day.map(|day| day.load_j / DAY_S)
    }

    /// Hours that the started-up pump would have to run on the heaviest day: 0 where that day loses heat, `None` where the
    /// pump never ran or does not cool.
    pub fn needed_h(&self) -> Option<f64> {
        let capacity_w = self.capacity_w.filter(|&capacity_w| capacity_w > 0.0)?;
        Some(24.0 * self.heaviest_w()?.max(0.0) / capacity_w)
    }
}

/// Time in which the room asked for cooling and the pump was locked out or not called by the tank, s.
fn refused_s(year: &Year) -> f64 {
    year.total.missed_s + year.total.uncalled_s
}

/// Heat that the month's running pump took out of the room, with what its starts lost, J.
fn cooled_j(month: &Interval) -> f64 {
    month.heat_from_room_j + month.resting_machine_j + month.start_loss_j
}

/// Heat lost to starting as a share of what would have been made without; `None` where nothing was made.
pub fn start_loss_frac(interval: &Interval) -> Option<f64> {
    let whole_j = interval.heat_to_water_j + interval.start_loss_j;
    (whole_j > 0.0).then(|| interval.start_loss_j / whole_j)
}

/// The size of a household's pump.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// The months that were run.
    pub months: Vec<MonthSize>,
    /// Which of them has the day that needs most hours; `None` where the pump never ran.
    hardest: Option<usize>,
    /// What it comes to.
    pub verdict: Verdict,
}

impl Size {
    /// The size as a year shows it.
    pub fn of(year: &Year) -> Self {
        let months: Vec<MonthSize> = year
            .months
            .iter()
            .zip(year.heaviest_days)
            .filter(|(month, _)| month.duration_s > 0.0)
            .map(|(month, heaviest_day)| MonthSize::of(month, heaviest_day))
            .collect();
        let hardest = hardest(&months);
        let verdict = match hardest.and_then(|month| months[month].needed_h()) {
            Some(needed_h) => Verdict::of(needed_h),
            None if refused_s(year) > 0.0 || year.total.run_s > 0.0 => Verdict::Unknown,
            None => Verdict::NothingToCool,
        };
        Self { months, hardest, verdict }
    }

    /// The month whose heaviest day needs most hours; `None` where the pump never ran.
    pub fn hardest(&self) -> Option<&MonthSize> {
        self.hardest.map(|index| &self.months[index])
    }

    /// Hours that the pump would have to run on that day; `None` where it never ran.
    pub fn needed_h(&self) -> Option<f64> {
        self.hardest()?.needed_h()
    }
}

/// Which month has the day that needs most hours, the earlier one of equals.
fn hardest(months: &[MonthSize]) -> Option<usize> {
    let mut hardest: Option<(usize, f64)> = None;
    for (month, needed_h) in
        months.iter().enumerate().filter_map(|(month, size)| Some((month, size.needed_h()?)))
    {
        if hardest.is_none_or(|(_, most_h)| needed_h > most_h) {
            hardest = Some((month, needed_h));
        }
    }
    hardest.map(|(month, _)| month)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use approx::assert_relative_eq;

    #[test]
    fn a_limit_belongs_to_the_better_verdict() {
        for (hours, verdict) in [
            (22.1, Verdict::TooSmall),
            (22.0, Verdict::OnlyJust),
            (18.1, Verdict::OnlyJust),
            (18.0, Verdict::Right),
            (9.0, Verdict::Right),
            (8.9, Verdict::TooBig),
            (4.5, Verdict::TooBig),
            (4.4, Verdict::FarTooBig),
            (0.0, Verdict::FarTooBig),
        ] {
            assert_eq!(Verdict::of(hours), verdict, "{hours}");
        }
    }

    /// By hand: 30 days, 2 h of running a day, 5.5 kWh net a day with 30 W of standby and resting fan in 22 h of rest, 0.1 kWh lost in
    /// starting: (5.5 + 0.66 + 0.1) kWh in 2 h are 3.13 kW. A day of 31.3 kWh needs 10 h.
    #[test]
    fn a_month_by_hand() {
        let days = 30.0;
        let mut month = Interval { duration_s: days * DAY_S, run_s: days * 7200.0, ..Interval::default() };
        month.heat_from_room_j = days * 5.5 * 3.6e6;
        month.output_frac_s = month.run_s;
        month.resting_machine_j = days * 0.66 * 3.6e6;
        (month.start_loss_j, month.heat_to_water_j) = (days * 0.1 * 3.6e6, days * 7.9 * 3.6e6);
        month.starts = 4.0 * days;
        let size =
            MonthSize::of(&month, Some(DayLoad { day: 3, load_j: 31.3 * 3.6e6, gain_j: Default::default() }));
        // 1e-9: a few products.
        assert_relative_eq!(size.capacity_w.unwrap(), 3130.0, max_relative = 1e-9);
        assert_relative_eq!(size.needed_h().unwrap(), 10.0, max_relative = 1e-9);
        assert_relative_eq!(size.start_loss_frac.unwrap(), 0.0125, max_relative = 1e-9);
        assert_eq!((size.mean_run_s, size.starts_per_day), (Some(1800.0), 4.0));
        // The same at half output all the time: twice that at full output.
        month.output_frac_s *= 0.5;
        assert_relative_eq!(MonthSize::of(&month, None).capacity_w.unwrap(), 6260.0, max_relative = 1e-9);
    }

    #[test]
    fn a_pump_that_never_ran_has_no_capacity() {
        let mut still = example::year();
        for month in still.months.iter_mut().chain([&mut still.total]) {
            (month.run_s, month.output_frac_s, month.starts) = (0.0, 0.0, 0.0);
        }
        let size = Size::of(&still);
        assert_eq!((size.verdict, size.hardest(), size.needed_h()), (Verdict::NothingToCool, None, None));
        assert_eq!((size.months[0].capacity_w, size.months[0].mean_run_s), (None, None));
        still.total.missed_s = 1.0;
        assert_eq!(Size::of(&still).verdict, Verdict::Unknown);
    }

    #[test]
    fn the_hardest_month_decides() {
        let mut year = example::year();
        year.heaviest_days[4] = year.heaviest_days[4].map(|day| DayLoad { load_j: 2.0 * day.load_j, ..day });
        let size = Size::of(&year);
        assert_eq!((size.hardest().map(|month| month.month), size.verdict), (Some(4), Verdict::OnlyJust));
        assert_relative_eq!(size.needed_h().unwrap(), 20.0, max_relative = 1e-9);
    }
}

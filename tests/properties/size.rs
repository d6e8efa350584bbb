//! The pump's size against the hours of the same year and against the pump itself.

use approx::assert_relative_eq;
use larderloop::heat_pump::Running;
use larderloop::plant::{Cooler, DAY_S, Load, Plant};
use larderloop::resolution::Resolution;
use larderloop::simulate::simulate;
use larderloop::size::{MonthSize, Size};
use larderloop::year::{Interval, Sink, Year};

use crate::shipped::{SCENARIOS, household, text};

/// Keeps every hour.
#[derive(Default)]
struct Hours(Vec<Interval>);

impl Sink for Hours {
    fn take(&mut self, interval: &Interval) {
        self.0.push(interval.clone());
    }
}

fn run(name: &str) -> (Plant, Year, Vec<Interval>) {
    let plant = Plant::new(&household(&text(name), None));
    let mut hours = Hours::default();
    let year = simulate(&plant, &Resolution::default(), &mut hours).expect("a shipped household can be run");
    (plant, year, hours.0)
}

/// Heat to be cooled away in some hours, J: all gains, standby while the pump rests, the resting fan.
fn load_j(hours: &[Interval]) -> f64 {
    hours
        .iter()
        .map(|hour| {
            let rest_s = hour.duration_s - hour.run_s;
            hour.gain_j.iter().sum::<f64>()
                + hour.electricity_j[Load::Standby as usize] * rest_s / hour.duration_s
                + hour.electricity_j[Load::RestingFan as usize]
                + hour.electricity_j[Load::Defrost as usize]
        })
        .sum()
}

/// The heaviest day of each month is the largest of the sums over its days of the hours that the year gave.
#[test]
fn the_heaviest_days_are_those_of_the_hours() {
    for name in SCENARIOS {
        let (_, year, hours) = run(name);
        let days: Vec<f64> = hours.chunks(24).map(load_j).collect();
        for (month, heaviest) in year.heaviest_days.iter().enumerate() {
            let starts = &year.calendar.month_starts_h;
            let heaviest = heaviest.expect("a whole month has days");
            let (first, end) = (starts[month] / 24, starts[month + 1] / 24);
            let most_j = days[first..end].iter().copied().fold(f64::NEG_INFINITY, f64::max);
            // 1e-9: rests added step by step or taken from the hour.
            assert_relative_eq!(heaviest.load_j, most_j, max_relative = 1e-9);
            assert_relative_eq!(days[heaviest.day], most_j, max_relative = 1e-9);
        }
    }
}

/// What the running pump took out is what the map gives at the month's mean water and air. 2 %: the mean of a curve is
/// not the curve of the mean, and some of the time the coil is frosted (no more than 5 % of the heat, 12 % of the cooling: allowed for by the
/// bounds of both states).
#[test]
fn the_capacity_is_the_pump_s_at_its_mean_inlet() {
    for name in SCENARIOS {
        let (plant, year, _) = run(name);
        let Cooler::HeatPump(pump) = &plant.cooler;
        for (month, size) in year.months.iter().zip(Size::of(&year).months) {
            let Some(capacity_w) = size.capacity_w else {
                assert_eq!(month.run_s, 0.0, "{name} {}", size.month);
                continue;
            };
            let (inlet_k, air_k) = (month.inlet_k_s / month.run_s, month.running_air_k_s / month.run_s);
            let cooling_w = |frosted| {
                let Running { heat_from_room_w, .. } = pump.running(air_k, inlet_k, frosted);
                heat_from_room_w + pump.standby_w
            };
            let (least_w, most_w) = (cooling_w(true), cooling_w(false));
            assert!(
                (0.98 * least_w..=1.02 * most_w).contains(&capacity_w),
                "{name} {}: {capacity_w} against {least_w} to {most_w}",
                size.month
            );
        }
    }
}

/// Over the year the load is what the pump took out, less what its starts lost; the room stores nothing worth naming. 2 %:
/// produce that is carried out takes its own heat along.
#[test]
fn the_load_is_what_the_pump_took_out() {
    for name in SCENARIOS {
        let (_, year, _) = run(name);
        let months = Size::of(&year).months;
        let sum = |of: &dyn Fn(&MonthSize, &Interval) -> f64| -> f64 {
            months.iter().zip(&year.months).map(|(size, month)| of(size, month)).sum()
        };
        let loads_j = sum(&|size, month| size.load_w * month.duration_s);
        let taken_j = sum(&|size, month| {
            size.capacity_w.map_or(0.0, |w| w * size.run_frac * month.duration_s) - month.start_loss_j
        });
        assert_relative_eq!(loads_j, taken_j, max_relative = 0.02);
        let starts = sum(&|size, month| size.starts_per_day * month.duration_s / DAY_S);
        assert_relative_eq!(starts, year.total.starts, max_relative = 1e-12);
    }
}

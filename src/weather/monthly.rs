//! An hourly year from a table of twelve monthly means, for a place without a weather file.
//!
//! Outdoor air is a smooth course through the year with a wave through each day on it. The course is the
//! periodic quadratic spline whose integral over each month is the table's mean times the month's length;
//! each hour takes the course's mean over that hour, so that the hours of a month add up to its mean without
//! a remainder. The wave is a cosine of half the month's daily range; over 24 hours it adds up to nothing.
//!
//! # Source
//! Derived here: a quadratic on each month is fixed by its two end values and its mean; equal slopes on both
//! sides of each month's end give twelve equations for the twelve end values.

use crate::air;
use crate::plant::Calendar;

use super::{WeatherHour, WeatherYear};

/// Hour of the day at which the wave is warmest, local standard time. Common practice, no source: some three
/// hours after noon; the coldest hour is then 3:00, where a real day has it at sunrise.
const WARMEST_HOUR: usize = 15;

const HOURS_A_DAY: usize = 24;

/// What a table cannot show.
const LIMITS: &str = "the year is made from twelve monthly means: it has no cold or hot spells, so the \
    coldest and warmest days, and the hours below freezing, are understated; use a weather file to judge them";

/// Monthly means of a place, as climate normals print them.
#[derive(Debug, Clone, PartialEq)]
pub struct MonthlyTable {
    /// Place; empty if not said.
    pub place: String,
    /// Latitude, degrees, north positive.
    pub latitude_deg: f64,
    /// Height above sea level, m, inside the standard atmosphere ([`air::STANDARD_ELEVATIONS_M`]).
    pub elevation_m: f64,
    /// Mean dry bulb of each month, K.
    pub mean_k: [f64; 12],
    /// Mean daily range (daily maximum less daily minimum) of each month, K.
    pub daily_range_dk: [f64; 12],
    /// Mean relative humidity of each month over water, fraction.
    pub humidity_frac: [f64; 12],
}

impl WeatherYear {
    /// A year of 365 days from a table of monthly means.
    ///
    /// The vapour of an hour is that of the month's relative humidity at the temperature that the smooth course has
    /// then, so the dew point stays through the day while the air warms and cools around it. Where the night is colder
    /// than that, the air is saturated. The pressure is that of the standard atmosphere. There is no radiation.
    ///
    /// # Panics
    /// When the elevation is outside the standard atmosphere; the scenario's reader lets none through.
    pub fn from_monthly_table(table: &MonthlyTable) -> Self {
        let calendar = Calendar::new(false);
        let pressure_pa = air::standard_pressure_pa(table.elevation_m)
            .expect("the elevation was checked to lie inside the standard atmosphere");
        let course_k = Course::through(&table.mean_k, &calendar);
        let mut saturated_h = 0;
        let hours = (0..calendar.hours())
            .map(|hour| {
                let month = calendar.month_of_hour(hour);
                let daily_mean_k = course_k.hour_mean(hour);
                let dry_bulb_k = daily_mean_k + daily_wave(hour, table.daily_range_dk[month]);
                let humidity_frac = table.humidity_frac[month];
                let of_the_day =
                    air::humidity_ratio_from_relative_humidity(daily_mean_k, humidity_frac, pressure_pa);
                let most = air::saturation_humidity_ratio_over_water(dry_bulb_k, pressure_pa);
                saturated_h += usize::from(of_the_day > most);
                let humidity_ratio = of_the_day.min(most);
                WeatherHour {
                    dry_bulb_k,
                    humidity_ratio,
                    pressure_pa,
                    global_w_m2: None,
                    direct_w_m2: None,
                    diffuse_w_m2: None,
                }
            })
            .collect();
        Self {
            place: place(table),
            origin: "table of monthly means in the scenario".to_owned(),
            latitude_deg: table.latitude_deg,
            longitude_deg: 0.0,
            utc_offset_h: 0.0,
            elevation_m: table.elevation_m,
            leap_year: false,
            hours,
            notes: notes(saturated_h),
        }
    }
}

fn place(table: &MonthlyTable) -> String {
    let half = if table.latitude_deg < 0.0 { "S" } else { "N" };
    let named = match table.place.as_str() {
        "" => format!("{:.1}° {half}, {:.0} m", table.latitude_deg.abs(), table.elevation_m),
        name => name.to_owned(),
    };
    format!("{named}, from monthly means")
}

fn notes(saturated_h: usize) -> Vec<String> {
    let mut notes = vec![LIMITS.to_owned()];
    if saturated_h > 0 {
        notes.push(format!(
            "in {saturated_h} hours the night is colder than the month's dew point: the air is taken as saturated"
        ));
    }
    notes
}

/// Deviation from the day's mean at the end of an hour of the year, K.
fn daily_wave(hour: usize, range_dk: f64) -> f64 {
    let of_day = (hour + 1) % HOURS_A_DAY;
    let since_warmest = (of_day + HOURS_A_DAY - WARMEST_HOUR) as f64 / HOURS_A_DAY as f64;
    0.5 * range_dk * libm::cos(core::f64::consts::TAU * since_warmest)
}

/// A smooth periodic course through the year with given monthly means.
struct Course<'a> {
    calendar: &'a Calendar,
    means: &'a [f64; 12],
    /// Value at the start of each month.
    starts: [f64; 12],
}

impl<'a> Course<'a> {
    /// The course through `means`.
    fn through(means: &'a [f64; 12], calendar: &'a Calendar) -> Self {
        Self { calendar, means, starts: month_starts(means, calendar) }
    }

    /// Mean over an hour of the year.
    fn hour_mean(&self, hour: usize) -> f64 {
        let month = self.calendar.month_of_hour(hour);
        let (begin, length) =
            (self.calendar.month_starts_h[month] as f64, month_length(self.calendar, month));
        let share = |hours: f64| (hours - begin) / length;
        length * (self.integral(month, share(hour as f64 + 1.0)) - self.integral(month, share(hour as f64)))
    }

    /// Integral of a month's course from its start to a share of its length, per length.
    fn integral(&self, month: usize, share: f64) -> f64 {
        let (left, right) = (self.starts[month], self.starts[(month + 1) % 12]);
        let bulge = 6.0 * (self.means[month] - 0.5 * (left + right));
        share * (left + share * (0.5 * (right - left) + bulge * (0.5 - share / 3.0)))
    }
}

fn month_length(calendar: &Calendar, month: usize) -> f64 {
    (calendar.month_starts_h[month + 1] - calendar.month_starts_h[month]) as f64
}

/// Values at the starts of the months for which slopes are equal on both sides.
///
/// `s[m-1]/h[m-1] + 2 s[m] (1/h[m-1] + 1/h[m]) + s[m+1]/h[m] = 3 (a[m-1]/h[m-1] + a[m]/h[m])`, solved by
/// Gauss-Seidel sweeps: each row's diagonal is twice the sum of the others, so every sweep at least halves the error.
fn month_starts(means: &[f64; 12], calendar: &Calendar) -> [f64; 12] {
    const SWEEPS: usize = 64;
    let per_hour: [f64; 12] = std::array::from_fn(|month| 1.0 / month_length(calendar, month));
    let mut starts = *means;
    for _ in 0..SWEEPS {
        for month in 0..12 {
            let (before, after) = ((month + 11) % 12, (month + 1) % 12);
            let wanted = 3.0 * (means[before] * per_hour[before] + means[month] * per_hour[month]);
            let others = starts[before] * per_hour[before] + starts[after] * per_hour[month];
            starts[month] = (wanted - others) / (2.0 * (per_hour[before] + per_hour[month]));
        }
    }
    starts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::constants::ZERO_CELSIUS_K;
    use approx::assert_abs_diff_eq;

    fn kelvin(degc: [f64; 12]) -> [f64; 12] {
        degc.map(|degc| degc + ZERO_CELSIUS_K)
    }

    /// Edmonton International Airport. Checked: original read: Canadian Climate Normals 1971-2000; the ranges are
    /// daily maximum less daily minimum. Latitude and elevation: From memory, to be verified.
    fn edmonton() -> MonthlyTable {
        MonthlyTable {
            place: "Edmonton".to_owned(),
            latitude_deg: 53.3,
            elevation_m: 715.0,
            mean_k: kelvin([-13.5, -10.5, -4.5, 4.3, 10.4, 14.1, 15.9, 15.1, 10.1, 4.3, -5.7, -11.3]),
            daily_range_dk: [11.1, 11.6, 10.9, 12.9, 14.0, 12.8, 12.7, 13.4, 13.6, 13.3, 10.6, 10.8],
            humidity_frac: [0.75; 12],
        }
    }

    /// Victoria Gonzales Heights. Checked: original read: Canadian Climate Normals 1971-2000.
    fn victoria() -> MonthlyTable {
        MonthlyTable {
            place: "Victoria".to_owned(),
            latitude_deg: 48.4,
            elevation_m: 70.0,
            mean_k: kelvin([5.0, 6.2, 7.6, 9.6, 12.1, 14.0, 15.6, 15.9, 14.6, 10.9, 7.2, 5.2]),
            daily_range_dk: [4.0, 4.9, 6.1, 7.1, 7.7, 7.9, 8.5, 8.4, 7.8, 5.9, 4.4, 3.9],
            humidity_frac: [0.8; 12],
        }
    }

    /// The table half a year later: the same place on the other side of the equator.
    fn southern(table: MonthlyTable) -> MonthlyTable {
        let moved = |months: [f64; 12]| std::array::from_fn(|month| months[(month + 6) % 12]);
        MonthlyTable {
            latitude_deg: -table.latitude_deg,
            mean_k: moved(table.mean_k),
            daily_range_dk: moved(table.daily_range_dk),
            ..table
        }
    }

    fn mean_daily_ranges_dk(year: &WeatherYear) -> [f64; 12] {
        let starts = year.calendar().month_starts_h;
        std::array::from_fn(|month| {
            let days = year.hours[starts[month]..starts[month + 1]].chunks_exact(24);
            let count = days.len() as f64;
            let range = |day: &[WeatherHour]| {
                let hours = || day.iter().map(|hour| hour.dry_bulb_k);
                hours().fold(f64::NEG_INFINITY, f64::max) - hours().fold(f64::INFINITY, f64::min)
            };
            days.map(range).sum::<f64>() / count
        })
    }

    #[test]
    fn published_normals_come_back_out_of_the_year() {
        for table in [edmonton(), victoria(), southern(edmonton()), southern(victoria())] {
            let year = WeatherYear::from_monthly_table(&table);
            assert_eq!(year.hours.len(), 8760);
            for (found, given) in year.monthly_mean_dry_bulb_k().into_iter().zip(table.mean_k) {
                // Equal by construction; what is left is rounding.
                assert_abs_diff_eq!(found, given, epsilon = 1e-8);
            }
            for (found, given) in mean_daily_ranges_dk(&year).into_iter().zip(table.daily_range_dk) {
                // The season goes on under the wave: up to 0.45 K a day, half of it from coldest to warmest hour.
                assert_abs_diff_eq!(found, given, epsilon = 0.3);
            }
        }
    }

    /// The printed means of Edmonton weighted by the days of their months give 2.46 °C; the source prints 2.4.
    #[test]
    fn the_year_s_mean_is_that_of_its_months_by_days() {
        let year = WeatherYear::from_monthly_table(&edmonton());
        assert_abs_diff_eq!(year.mean_dry_bulb_k() - ZERO_CELSIUS_K, 2.46, epsilon = 0.005);
    }

    #[test]
    fn the_course_has_no_step_and_the_year_closes() {
        let table = edmonton();
        let calendar = Calendar::new(false);
        let course = Course::through(&table.mean_k, &calendar);
        for hour in 0..8760 {
            let step_dk = course.hour_mean((hour + 1) % 8760) - course.hour_mean(hour);
            // Edmonton's months differ by at most 10 K in 30 days; the spline's steepest hour is less than twice that.
            assert!(step_dk.abs() < 2.0 * 10.0 / 720.0, "hour {hour}: {step_dk}");
        }
    }

    #[test]
    fn days_are_warmest_in_the_afternoon_and_air_is_never_oversaturated() {
        let table = edmonton();
        let year = WeatherYear::from_monthly_table(&table);
        for day in year.hours.chunks_exact(24) {
            let warmest = day.iter().map(|hour| hour.dry_bulb_k).fold(f64::NEG_INFINITY, f64::max);
            assert_eq!(day[WARMEST_HOUR - 1].dry_bulb_k, warmest);
            for hour in day {
                let most = air::saturation_humidity_ratio_over_water(hour.dry_bulb_k, hour.pressure_pa);
                assert!(hour.humidity_ratio > 0.0 && hour.humidity_ratio <= most);
            }
        }
        assert_eq!(year.notes.len(), 2, "{:?}", year.notes);
        let dry = MonthlyTable { humidity_frac: [0.3; 12], ..table };
        assert_eq!(WeatherYear::from_monthly_table(&dry).notes, [LIMITS]);
    }

    #[test]
    fn a_place_without_a_name_has_its_coordinates() {
        let unnamed = MonthlyTable { place: String::new(), ..southern(edmonton()) };
        assert_eq!(WeatherYear::from_monthly_table(&unnamed).place, "53.3° S, 715 m, from monthly means");
    }
}

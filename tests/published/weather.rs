//! The weather readers against sums taken over the published files' rows.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use larderloop::air;
use larderloop::constants::ZERO_CELSIUS_K;
use larderloop::weather::WeatherYear;

const CHICAGO: &[u8] = include_bytes!("../../scenarios/weather/chicago-tmy3.epw");
const PO_PLAIN: &[u8] = include_bytes!("../../scenarios/weather/po-plain-45n8e.epw");
const GREENSBORO: &str = include_str!("../data/greensboro-tmy3-three-days.csv");

fn read(name: &str, bytes: &[u8]) -> WeatherYear {
    WeatherYear::read(name, bytes).expect("a published file")
}

/// What was counted over a file's rows with a spreadsheet's means, away from this program.
struct Counted {
    monthly_mean_degc: [f64; 12],
    mean_degc: f64,
    coldest_degc: f64,
    warmest_degc: f64,
    hours_below_zero: usize,
    kelvin_hours_above_4: f64,
    global_kwh_m2: f64,
}

fn check(year: &WeatherYear, counted: &Counted) {
    assert_eq!(year.hours.len(), 8760);
    assert!(!year.leap_year);
    let degc = |t: f64| t - ZERO_CELSIUS_K;
    // Half of the last printed digit.
    for (mean_k, expected) in year.monthly_mean_dry_bulb_k().iter().zip(counted.monthly_mean_degc) {
        assert_abs_diff_eq!(degc(*mean_k), expected, epsilon = 5.01e-3);
    }
    assert_abs_diff_eq!(degc(year.mean_dry_bulb_k()), counted.mean_degc, epsilon = 1e-3);
    let (coldest_k, warmest_k) = year.dry_bulb_extremes_k();
    // One or two decimals in the file; kelvin and back rounds at 1e-13.
    assert_abs_diff_eq!(degc(coldest_k), counted.coldest_degc, epsilon = 1e-9);
    assert_abs_diff_eq!(degc(warmest_k), counted.warmest_degc, epsilon = 1e-9);
    let below = year.hours.iter().filter(|hour| degc(hour.dry_bulb_k) < -1e-9).count();
    assert_eq!(below, counted.hours_below_zero);
    let above: f64 = year.hours.iter().map(|hour| (degc(hour.dry_bulb_k) - 4.0).max(0.0)).sum();
    assert_abs_diff_eq!(above, counted.kelvin_hours_above_4, epsilon = 0.06);
    let global_wh_m2: f64 =
        year.hours.iter().map(|hour| hour.global_w_m2.expect("no hole in this column")).sum();
    assert_abs_diff_eq!(global_wh_m2 * 1e-3, counted.global_kwh_m2, epsilon = 5.01e-3);
}

/// US DOE/NREL TMY3, Chicago O'Hare, as EPW. Derived here: sums over the file's rows.
#[test]
fn chicago() {
    let year = read("chicago-tmy3.epw", CHICAGO);
    check(
        &year,
        &Counted {
            monthly_mean_degc: [
                -4.65, -2.52, 3.82, 9.95, 15.31, 21.11, 24.13, 21.77, 18.13, 10.98, 4.73, -3.69,
            ],
            mean_degc: 9.988,
            coldest_degc: -22.8,
            warmest_degc: 35.0,
            hours_below_zero: 1788,
            kelvin_hours_above_4: 74_039.6,
            global_kwh_m2: 1406.65,
        },
    );
    assert_eq!(year.place, "Chicago OHare Intl AP, IL, USA");
    assert_eq!(year.origin, "EPW file chicago-tmy3.epw, TMY3, station 725300, months of 1977 to 2002");
    assert_eq!(year.notes, Vec::<String>::new());
    assert_eq!((year.latitude_deg, year.longitude_deg), (41.983, -87.917));
    assert_eq!((year.utc_offset_h, year.elevation_m), (-6.0, 201.0));
    let first = year.hours[0];
    assert_abs_diff_eq!(first.dry_bulb_k, 260.95, epsilon = 1e-9);
    assert_eq!((first.pressure_pa, first.global_w_m2), (99_500.0, Some(0.0)));
}

/// European Commission PVGIS typical year at 45 N 8 E, in which unused columns hold 9999 and 999999. Derived here: sums over the file's rows.
#[test]
fn po_plain() {
    let year = read("po-plain-45n8e.epw", PO_PLAIN);
    check(
        &year,
        &Counted {
            monthly_mean_degc: [
                5.20, 6.96, 8.73, 12.37, 17.04, 22.46, 21.92, 22.15, 20.20, 14.97, 6.31, 4.05,
            ],
            mean_degc: 13.564,
            coldest_degc: -2.34,
            warmest_degc: 34.33,
            hours_below_zero: 164,
            kelvin_hours_above_4: 86_242.3,
            global_kwh_m2: 1435.86,
        },
    );
    assert_eq!(year.place, "45.00 N, 8.00 E");
    assert_eq!(year.origin, "EPW file po-plain-45n8e.epw, ECMWF/ERA, months of 2006 to 2020");
    assert_eq!(year.notes, Vec::<String>::new());
}

/// Both files give dew point and relative humidity, made by their publishers from one another. Read over water the two agree
/// also below 0 °C: 0.5 points in the mean of the cold hours, while dew points meant over ice would be 7 and 2 points off.
/// Single hours have tenths of a kelvin and whole per cents (1.3 points) and up to 4.3 points in spells of April that the publisher smoothed. A day to
/// either side of each month's end is left out: there every column was smoothed by itself.
#[test]
fn dew_points_of_the_files_are_over_water() {
    for (name, bytes) in [("chicago-tmy3.epw", CHICAGO), ("po-plain-45n8e.epw", PO_PLAIN)] {
        let year = read(name, bytes);
        let text = std::str::from_utf8(bytes).expect("these files are ASCII");
        let starts = year.calendar().month_starts_h;
        let mut cold_points = Vec::new();
        for ((index, hour), line) in year.hours.iter().enumerate().zip(text.lines().skip(8)) {
            if starts.iter().any(|&start| start.abs_diff(index) <= 24) {
                continue;
            }
            let printed: f64 = line.split(',').nth(8).expect("column 9").parse().expect("relative humidity");
            let frac = air::relative_humidity_frac(hour.dry_bulb_k, hour.humidity_ratio, hour.pressure_pa);
            assert_abs_diff_eq!(frac * 100.0, printed, epsilon = 4.5);
            if hour.dry_bulb_k < ZERO_CELSIUS_K {
                cold_points.push(frac * 100.0 - printed);
            }
        }
        assert!(cold_points.len() > 100, "{name} has {} hours below 0 °C", cold_points.len());
        let mean = cold_points.iter().sum::<f64>() / cold_points.len() as f64;
        assert_abs_diff_eq!(mean, 0.0, epsilon = 0.5);
    }
}

/// The Chicago year rewritten as TMY3 CSV with the header of a published TMY3 file: 71 columns, pressure in mbar.
fn chicago_as_tmy3() -> String {
    let mut names = GREENSBORO.lines().skip(1);
    let header = names.next().expect("the line of column names");
    let template: Vec<&str> = names.next().expect("the first hour").split(',').collect();
    let text = std::str::from_utf8(CHICAGO).expect("this file is ASCII");
    let rows = text.lines().skip(8).map(|line| {
        let epw: Vec<&str> = line.trim_end().split(',').collect();
        let number = |index: usize| epw[index].parse::<usize>().expect("a whole number");
        let mbar = epw[9].parse::<f64>().expect("a pressure") / 100.0;
        let mut tmy3: Vec<String> = template.iter().map(|&field| field.to_owned()).collect();
        tmy3[0] = format!("{:02}/{:02}/{}", number(1), number(2), epw[0]);
        tmy3[1] = format!("{:02}:00", number(3));
        for (to, from) in [(4, 13), (7, 14), (10, 15), (31, 6), (34, 7), (37, 8)] {
            tmy3[to] = epw[from].to_owned();
        }
        tmy3[40] = format!("{mbar}");
        tmy3.join(",")
    });
    let station = "725300,\"CHICAGO OHARE INTL AP\",IL,-6.0,41.983,-87.917,201".to_owned();
    let lines: Vec<String> = [station, header.to_owned()].into_iter().chain(rows).collect();
    lines.join("\r\n") + "\r\n"
}

/// Both readers make the same year of the same numbers; columns of the TMY3 form as in the published Greensboro file.
#[test]
fn the_same_year_in_both_forms() {
    let epw = read("chicago-tmy3.epw", CHICAGO);
    let tmy3 = read("chicago.csv", chicago_as_tmy3().as_bytes());
    assert_eq!(tmy3.place, "CHICAGO OHARE INTL AP, IL");
    assert_eq!(tmy3.origin, "TMY3 file chicago.csv, station 725300, months of 1977 to 2002");
    assert_eq!(tmy3.notes, Vec::<String>::new());
    assert_eq!(tmy3.utc_offset_h, epw.utc_offset_h);
    assert_eq!((tmy3.latitude_deg, tmy3.longitude_deg), (epw.latitude_deg, epw.longitude_deg));
    assert_eq!(tmy3.elevation_m, epw.elevation_m);
    for (one, other) in tmy3.hours.iter().zip(&epw.hours) {
        assert_eq!(one.dry_bulb_k, other.dry_bulb_k);
        // Pascal to mbar and back rounds in the last bit.
        assert_relative_eq!(one.pressure_pa, other.pressure_pa, max_relative = 1e-14);
        assert_relative_eq!(one.humidity_ratio, other.humidity_ratio, max_relative = 1e-13);
        assert_eq!(one.global_w_m2, other.global_w_m2);
        assert_eq!(one.direct_w_m2, other.direct_w_m2);
        assert_eq!(one.diffuse_w_m2, other.diffuse_w_m2);
    }
}

/// The first three days of the published Greensboro file, carried on by Chicago's hours: the first rows are read where their publisher put them.
/// Row 1: 10.0 °C, dew point 6.1 °C, 77 %, 993 mbar. Checked: original read (the file). Row 72 (3 January, 24:00) is the last of them.
#[test]
fn first_hours_of_a_published_tmy3_file() {
    let chicago = chicago_as_tmy3();
    let joined: Vec<&str> = GREENSBORO.lines().chain(chicago.lines().skip(2 + 72)).collect();
    let year = read("joined.csv", joined.join("\n").as_bytes());
    assert_eq!(year.place, "GREENSBORO PIEDMONT TRIAD INT, NC");
    assert_eq!((year.latitude_deg, year.longitude_deg), (36.1, -79.95));
    assert_eq!((year.utc_offset_h, year.elevation_m), (-5.0, 273.0));
    let first = year.hours[0];
    assert_abs_diff_eq!(first.dry_bulb_k, 283.15, epsilon = 1e-9);
    assert_abs_diff_eq!(first.pressure_pa, 99_300.0, epsilon = 1e-6);
    let humidity = air::relative_humidity_frac(first.dry_bulb_k, first.humidity_ratio, first.pressure_pa);
    // Tenths of a kelvin and whole per cents.
    assert_abs_diff_eq!(humidity, 0.77, epsilon = 0.01);
}

//! What the readers accept, repair with a note, and refuse: files made here, an hour a line.

use std::sync::OnceLock;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use proptest::prelude::*;

use super::*;
use crate::air;
use crate::constants::ZERO_CELSIUS_K;
use crate::plant::Calendar;

const HEADER_LINES: usize = 8;
const DRY_BULB: usize = 7;
const DEW_POINT: usize = 8;
const RELATIVE_HUMIDITY: usize = 9;
const PRESSURE: usize = 10;
const GLOBAL: usize = 14;

/// An EPW file as lines of fields that a test can spoil.
struct Epw {
    header: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Epw {
    /// A calm year at 200 m: a yearly and a daily wave, 75 % humidity by dew point and relative humidity.
    fn new(leap_year: bool) -> Self {
        let header = [
            "LOCATION,Hilltown,Upland,XX,made for a test,000001,45.5,-7.25,1.0,200",
            "DESIGN CONDITIONS,0",
            "TYPICAL/EXTREME PERIODS,1,Winter,Extreme,1/27,2/ 2",
            "GROUND TEMPERATURES,0",
            "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
            "COMMENTS 1,\"a comma, in quotes\"",
            "COMMENTS 2,a 5\" pipe",
            "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
        ];
        Self { header: header.map(str::to_owned).to_vec(), rows: calm_rows(leap_year).to_vec() }
    }

    fn set(mut self, hour: usize, column: usize, value: &str) -> Self {
        self.rows[hour][column - 1] = value.to_owned();
        self
    }

    fn set_all(mut self, column: usize, value: &str) -> Self {
        for row in &mut self.rows {
            row[column - 1] = value.to_owned();
        }
        self
    }

    fn header(mut self, line: usize, text: &str) -> Self {
        self.header[line - 1] = text.to_owned();
        self
    }

    fn text(&self, line_end: &str) -> String {
        let rows = self.rows.iter().map(|row| row.join(","));
        let lines: Vec<String> = self.header.iter().cloned().chain(rows).collect();
        lines.join(line_end) + line_end
    }

    fn read(&self) -> Result<WeatherYear, WeatherError> {
        WeatherYear::read("made.epw", self.text("\n").as_bytes())
    }

    fn year(&self) -> WeatherYear {
        self.read().expect("a file without faults that are refused")
    }

    fn error(&self) -> WeatherError {
        self.read().expect_err("a file with a fault")
    }
}

fn dry_bulb_degc(hour: usize) -> f64 {
    let day = hour as f64 / 24.0;
    let year = -10.0 * libm::cos(2.0 * std::f64::consts::PI * (day - 20.0) / 365.0);
    let noon = -4.0 * libm::cos(2.0 * std::f64::consts::PI * (day - 0.17));
    ((10.0 + year + noon) * 10.0).round() / 10.0
}

/// The rows of the calm year, made once: each has a dew point to be searched.
fn calm_rows(leap_year: bool) -> &'static [Vec<String>] {
    static ROWS: [OnceLock<Vec<Vec<String>>>; 2] = [OnceLock::new(), OnceLock::new()];
    ROWS[usize::from(leap_year)].get_or_init(|| {
        let calendar = Calendar::new(leap_year);
        (0..calendar.hours()).map(|hour| row(hour, &calendar)).collect()
    })
}

fn row(hour: usize, calendar: &Calendar) -> Vec<String> {
    let month = calendar.month_of_hour(hour);
    let hour_of_month = hour - calendar.month_starts_h[month];
    let t = dry_bulb_degc(hour);
    let vapour_pa = 0.75 * air::saturation_pressure_over_water_pa(t + ZERO_CELSIUS_K);
    let dew_point_k = air::dew_point_over_water_k(vapour_pa).expect("moist air has a dew point");
    let mut fields: Vec<String> = vec![
        "2001".into(),
        (month + 1).to_string(),
        (hour_of_month / 24 + 1).to_string(),
        (hour_of_month % 24 + 1).to_string(),
        "0".into(),
        "?9?9".into(),
        format!("{t:.1}"),
        format!("{:.3}", dew_point_k - ZERO_CELSIUS_K),
        "75".into(),
        "99000".into(),
    ];
    fields.resize(35, "0".into());
    fields
}

/// Line of an hour's row.
fn line_of(hour: usize) -> usize {
    HEADER_LINES + hour + 1
}

#[test]
fn a_clean_file_is_read_without_a_note() {
    let year = Epw::new(false).year();
    assert_eq!(year.notes, Vec::<String>::new());
    assert_eq!(year.place, "Hilltown, Upland, XX");
    assert_eq!(year.origin, "EPW file made.epw, made for a test, station 000001, year 2001");
    assert_eq!((year.latitude_deg, year.longitude_deg), (45.5, -7.25));
    assert_eq!((year.utc_offset_h, year.elevation_m), (1.0, 200.0));
    assert!(!year.leap_year);
    assert_eq!(year.hours.len(), 8760);
    for (hour, air) in year.hours.iter().enumerate() {
        // One decimal is written and read.
        assert_abs_diff_eq!(air.dry_bulb_k, dry_bulb_degc(hour) + ZERO_CELSIUS_K, epsilon = 1e-9);
        let humidity = air::relative_humidity_frac(air.dry_bulb_k, air.humidity_ratio, air.pressure_pa);
        // The dew point was written with three decimals: 0.0005 K x 0.09/K.
        assert_abs_diff_eq!(humidity, 0.75, epsilon = 5e-5);
        assert_eq!(air.pressure_pa, 99_000.0);
        assert_eq!(air.global_w_m2, Some(0.0));
    }
}

#[test]
fn line_ends_byte_order_mark_blank_lines_and_latin_1_make_no_difference() {
    let plain = Epw::new(false);
    let expected = plain.year();
    let crlf = plain.text("\r\n");
    let marked = format!("\u{feff}{}\n\n  \n", plain.text("\n"));
    for text in [crlf, marked] {
        assert_eq!(WeatherYear::read("made.epw", text.as_bytes()), Ok(expected.clone()));
    }
    let umlaut = plain.text("\n").replace("Hilltown", "H\u{fc}gelstadt");
    let latin_1: Vec<u8> = umlaut.chars().map(|c| u8::try_from(u32::from(c)).expect("Latin-1")).collect();
    assert!(std::str::from_utf8(&latin_1).is_err());
    for bytes in [umlaut.as_bytes(), &latin_1] {
        let year = WeatherYear::read("made.epw", bytes).expect("both encodings are read");
        assert_eq!(year.place, "H\u{fc}gelstadt, Upland, XX");
    }
}

#[test]
fn a_stray_quote_in_the_header_spoils_no_hour() {
    let year = Epw::new(false).header(6, "COMMENTS 1,\"never closed").year();
    assert_eq!(year.hours.len(), 8760);
}

#[test]
fn minute_60_blanks_around_fields_and_quotes_are_read() {
    let epw = Epw::new(false)
        .set_all(5, "60")
        .set(1000, DRY_BULB, "  12.5 ")
        .set(1001, DRY_BULB, "\"12.5\"")
        .set(1002, 3, " 11");
    let year = epw.set(1003, DRY_BULB, "+1.25e1").year();
    for hour in [1000, 1001, 1003] {
        assert_abs_diff_eq!(year.hours[hour].dry_bulb_k, 285.65, epsilon = 1e-9);
    }
}

#[test]
fn months_of_different_years_are_one_year_and_say_so() {
    let mut epw = Epw::new(false);
    for row in &mut epw.rows {
        row[0] = if row[1] == "2" { "1988".into() } else { "2003".into() };
    }
    assert!(epw.year().origin.ends_with("months of 1988 to 2003"));
}

#[test]
fn a_leap_year_has_8784_hours() {
    let year = Epw::new(true).year();
    assert!(year.leap_year);
    assert_eq!(year.hours.len(), 8784);
    assert_eq!(year.daily_mean_dry_bulb_k().len(), 366);
    assert_eq!(year.dry_bulb_instants_k().len(), 8785);
}

#[test]
fn a_place_without_a_name_is_named_by_its_coordinates() {
    let year = Epw::new(false).header(1, "LOCATION,unknown,-,,,,-33.5,151.25,10,20").year();
    assert_eq!(year.place, "33.50 S, 151.25 E");
    assert_eq!(year.origin, "EPW file made.epw, year 2001");
}

#[test]
fn nothing_at_all_is_refused() {
    for bytes in [&b""[..], b"\n\r\n  \n", b"\xEF\xBB\xBF\n"] {
        let error = WeatherYear::read("empty.epw", bytes).expect_err("no content");
        assert_eq!(error.to_string(), "the weather file is empty; fetch the file again");
    }
}

#[test]
fn what_is_not_text_is_refused() {
    let error = WeatherYear::read("packed.epw", b"PK\x03\x04\n\0\0").expect_err("a zip file");
    assert_eq!(
        error.to_string(),
        "line 2: the weather file is not a text file; allowed: UTF-8 or Latin-1 text; unpack the file, or save it as plain text"
    );
}

#[test]
fn another_kind_of_file_is_refused_with_its_first_words() {
    let error = WeatherYear::read("x.csv", b"hour;temperature\n1;20\n").expect_err("another kind");
    let text = error.to_string();
    assert!(text.contains("`hour;temperature`") && text.contains("LOCATION"), "{text}");
    let long = WeatherYear::read("x.csv", "\u{e4}".repeat(500).as_bytes()).expect_err("another kind");
    assert!(long.to_string().contains(&format!("`{}...`", "\u{e4}".repeat(40))));
}

#[test]
fn a_missing_dry_bulb_is_refused_with_line_and_column() {
    for mark in ["99.9", "999", "9999", "", "-9900", "-99.9", "99.90"] {
        let error = Epw::new(false).set(100, DRY_BULB, mark).error();
        assert_eq!(
            error.to_string(),
            format!(
                "line 109, column 7 (dry bulb): the value is missing (`{mark}`); allowed: -90 to 60 degC; \
                 correct the file, or take another year or station"
            )
        );
        assert_eq!((error.line(), error.column()), (Some(109), Some(7)));
    }
}

#[test]
fn words_nan_and_infinity_are_not_numbers() {
    for word in ["warm", "NaN", "inf", "-infinity", "12.5.1", "0x10", "1e999", "12 5"] {
        let error = Epw::new(false).set(7, DRY_BULB, word).error();
        assert_eq!(
            error.to_string(),
            format!(
                "line 16, column 7 (dry bulb): `{word}` is not a number; allowed: -90 to 60 degC; \
                 correct the file, or take another year or station"
            )
        );
    }
    for column in [DEW_POINT, RELATIVE_HUMIDITY, PRESSURE, GLOBAL, 15, 16, 1, 2, 3, 4, 5] {
        let error = Epw::new(false).set(7, column, "NaN").error();
        assert!(
            matches!(error, WeatherError::NotANumber { line: 16, column: at, .. } if at == column),
            "{error}"
        );
    }
}

#[test]
fn numbers_that_no_weather_has_are_refused() {
    let cases = [
        (DRY_BULB, "60.1"),
        (DRY_BULB, "-90.1"),
        (DRY_BULB, "285.4"),
        (DEW_POINT, "-100.1"),
        (RELATIVE_HUMIDITY, "110.5"),
        (RELATIVE_HUMIDITY, "-1"),
        (PRESSURE, "993"),
        (PRESSURE, "130000"),
        (1, "0"),
        (2, "13"),
        (3, "32"),
        (4, "0"),
        (4, "25"),
        (5, "30"),
        (5, "61"),
    ];
    for (column, value) in cases {
        let error = Epw::new(false).set(50, column, value).error();
        let WeatherError::OutOfRange { line, column: at, value: shown, .. } = &error else {
            panic!("column {column} `{value}`: {error}");
        };
        assert_eq!((*line, *at, shown.as_str()), (line_of(50), column, value));
        assert!(error.to_string().contains("allowed: "), "{error}");
    }
}

#[test]
fn values_that_look_like_marks_in_other_columns_are_values() {
    let year = Epw::new(false)
        .set(10, RELATIVE_HUMIDITY, "99.9")
        .set(10, DEW_POINT, "99.9")
        .set(11, PRESSURE, "99999")
        .set(12, GLOBAL, "999")
        .year();
    let air = year.hours[10];
    let humidity = air::relative_humidity_frac(air.dry_bulb_k, air.humidity_ratio, air.pressure_pa);
    assert_relative_eq!(humidity, 0.999, max_relative = 1e-12);
    assert_eq!(year.hours[11].pressure_pa, 99_999.0);
    assert_eq!(year.hours[12].global_w_m2, Some(999.0));
    assert_eq!(year.notes.len(), 1, "{:?}", year.notes);
}

#[test]
fn relative_humidity_stands_in_for_a_missing_dew_point_with_a_note() {
    let year = Epw::new(false).set(5, DEW_POINT, "99.9").set(6, DEW_POINT, "").year();
    assert_eq!(
        year.notes,
        ["2 of 8760 hours have no dew point: their humidity is from the relative humidity"]
    );
    let clean = Epw::new(false).year();
    for hour in [5, 6] {
        // Both were made from 75 %; the dew point has three decimals.
        assert_relative_eq!(
            year.hours[hour].humidity_ratio,
            clean.hours[hour].humidity_ratio,
            max_relative = 1e-4
        );
    }
}

#[test]
fn a_missing_relative_humidity_changes_nothing_while_the_dew_point_is_there() {
    let year = Epw::new(false).set_all(RELATIVE_HUMIDITY, "999").year();
    assert_eq!(year, Epw::new(false).year());
}

fn without_humidity(mut epw: Epw, hours: impl IntoIterator<Item = usize>) -> Epw {
    for hour in hours {
        epw = epw.set(hour, DEW_POINT, "99.9").set(hour, RELATIVE_HUMIDITY, "999");
    }
    epw
}

#[test]
fn a_short_hole_in_the_humidity_is_bridged_with_a_note_also_over_the_years_end() {
    let clean = Epw::new(false).year();
    let vapour = |year: &WeatherYear, hour: usize| {
        air::vapour_pressure_pa(year.hours[hour].humidity_ratio, year.hours[hour].pressure_pa)
    };
    let saturated = |hour: usize| air::saturation_pressure_over_water_pa(clean.hours[hour].dry_bulb_k);
    for gap in [[4000, 4001, 4002], [8758, 8759, 0]] {
        let year = without_humidity(Epw::new(false), gap).year();
        assert_eq!(
            year.notes,
            [
                "3 of 8760 hours have neither dew point nor relative humidity: vapour pressure is bridged by a \
              straight line (no more than 3 hours in a row)"
            ]
        );
        let (before, after) = ((gap[0] + 8759) % 8760, (gap[2] + 1) % 8760);
        for (step, &hour) in gap.iter().enumerate() {
            let share = (step + 1) as f64 / 4.0;
            let line = vapour(&clean, before) * (1.0 - share) + vapour(&clean, after) * share;
            assert_relative_eq!(vapour(&year, hour), line.min(saturated(hour)), max_relative = 1e-12);
        }
    }
}

#[test]
fn a_long_hole_in_the_humidity_is_refused_also_over_the_years_end() {
    let error = without_humidity(Epw::new(false), 4000..4004).error();
    assert_eq!(
        error.to_string(),
        "line 4009: 4 hours in a row have neither dew point nor relative humidity; allowed: 3; \
         fill them in the file, or take another year or station"
    );
    let around = without_humidity(Epw::new(false), [8758, 8759, 0, 1]).error();
    assert!(matches!(around, WeatherError::HumidityGap { value: 4, .. }), "{around}");
    let never = without_humidity(Epw::new(false), 0..8760).error();
    assert!(matches!(never, WeatherError::HumidityGap { line: 9, value: 8760, .. }), "{never}");
}

#[test]
fn a_missing_pressure_is_that_of_the_elevation_with_a_note() {
    let year = Epw::new(false).set(9, PRESSURE, "999999").year();
    let standard_pa = air::standard_pressure_pa(200.0).expect("inside the standard atmosphere");
    assert_eq!(year.hours[9].pressure_pa, standard_pa);
    assert_eq!(
        year.notes,
        ["1 of 8760 hours have no station pressure: the standard atmosphere at 200 m (98945 Pa) is used"]
    );
}

#[test]
fn a_pressure_reduced_to_sea_level_is_noted() {
    let year = Epw::new(false).set_all(PRESSURE, "101400").year();
    assert_eq!(year.notes.len(), 1);
    assert!(year.notes[0].contains("101400 Pa") && year.notes[0].contains("200 m"), "{:?}", year.notes);
}

#[test]
fn air_slightly_moister_than_saturated_is_held_there_with_a_note() {
    let t = dry_bulb_degc(2000);
    let slightly = format!("{:.1}", t + 0.9);
    let year = Epw::new(false)
        .set(2000, DEW_POINT, &slightly)
        .set(2000, RELATIVE_HUMIDITY, "100")
        .set(2001, DEW_POINT, "99.9")
        .set(2001, RELATIVE_HUMIDITY, "110")
        .year();
    assert_eq!(
        year.notes,
        [
            "1 of 8760 hours have no dew point: their humidity is from the relative humidity",
            "2 of 8760 hours have air moister than saturated over water: it is held at saturation",
        ]
    );
    for hour in [2000, 2001] {
        let air = year.hours[hour];
        let saturated = air::saturation_humidity_ratio_over_water(air.dry_bulb_k, air.pressure_pa);
        assert_eq!(air.humidity_ratio, saturated);
    }
}

#[test]
fn a_dew_point_far_above_the_dry_bulb_is_refused() {
    let epw = Epw::new(false).set(2000, DRY_BULB, "10.0").set(2000, DEW_POINT, "11.1");
    let error = epw.error();
    assert_eq!(
        error.to_string(),
        "line 2009, column 8 (dew point): the dew point 11.1 degC is above the dry bulb 10 degC; \
         allowed: at most 1 K above, which is taken as saturated; correct the file, or take another year or station"
    );
}

#[test]
fn dew_point_and_relative_humidity_that_disagree_are_noted_beyond_the_seams_of_the_months() {
    let clean = Epw::new(false).year();
    for (hours, noted) in [(87, false), (88, true)] {
        let mut epw = Epw::new(false);
        for hour in 2000..2000 + hours {
            epw = epw.set(hour, RELATIVE_HUMIDITY, "50");
        }
        let year = epw.year();
        let note = format!(
            "{hours} of 8760 hours have a dew point and a relative humidity that disagree by more than \
             10 points: the dew point is used"
        );
        assert_eq!(year.notes, if noted { vec![note] } else { vec![] });
        assert_eq!(year.hours, clean.hours);
    }
}

#[test]
fn impossible_radiation_is_left_out_with_a_note_and_missing_radiation_is_none() {
    let year = Epw::new(false)
        .set(1, GLOBAL, "-5")
        .set(2, GLOBAL, "1601")
        .set(3, 15, "9999")
        .set(4, 16, "-0.00")
        .year();
    assert_eq!(
        year.notes,
        ["2 of 8760 hours have a global horizontal radiation outside 0 to 1600 Wh/m2: it is left out"]
    );
    assert_eq!((year.hours[1].global_w_m2, year.hours[2].global_w_m2), (None, None));
    assert_eq!(year.hours[3].direct_w_m2, None);
    assert!(year.hours[4].diffuse_w_m2.is_some_and(f64::is_sign_positive));
}

#[test]
fn hours_missing_repeated_or_out_of_order_are_refused() {
    let mut gap = Epw::new(false);
    gap.rows.remove(30);
    assert_eq!(
        gap.error().to_string(),
        "line 39: hours are missing before `month 1 day 2 hour 8`; allowed: month 1 day 2 hour 7; \
         a weather year runs from 1 January hour 1 to 31 December hour 24 without holes"
    );
    let mut repeated = Epw::new(false);
    repeated.rows.insert(31, repeated.rows[30].clone());
    assert_eq!(
        repeated.error().to_string(),
        "line 40: repeated hour `month 1 day 2 hour 7`; allowed: month 1 day 2 hour 8; \
         a weather year runs from 1 January hour 1 to 31 December hour 24 without holes"
    );
    let mut swapped = Epw::new(false);
    swapped.rows.swap(30, 31);
    let error = swapped.error();
    assert!(matches!(error, WeatherError::Sequence { line: 39, fault: SequenceFault::Gap, .. }), "{error}");
    let mut back = Epw::new(false);
    back.rows.insert(31, back.rows[3].clone());
    let error = back.error();
    assert!(
        matches!(error, WeatherError::Sequence { line: 40, fault: SequenceFault::OutOfOrder, .. }),
        "{error}"
    );
    let mut turned = Epw::new(false);
    turned.rows.rotate_left(4344);
    let error = turned.error();
    assert!(matches!(error, WeatherError::Sequence { line: 9, .. }), "{error}");
}

#[test]
fn half_a_29_february_is_a_gap() {
    let mut epw = Epw::new(true);
    let first_of_march = Calendar::new(true).month_starts_h[2];
    epw.rows.drain(first_of_march - 12..first_of_march);
    let error = epw.error();
    assert!(matches!(error, WeatherError::Sequence { fault: SequenceFault::Gap, .. }), "{error}");
}

#[test]
fn a_file_that_ends_early_or_goes_on_is_refused() {
    let mut short = Epw::new(false);
    short.rows.truncate(8759);
    assert_eq!(
        short.error().to_string(),
        "line 8767: the file ends after 8759 hours; allowed: 8760 hours, or 8784 with a 29 February; \
         a weather year runs from 1 January hour 1 to 31 December hour 24 without holes"
    );
    short.rows.clear();
    let none = short.error();
    assert!(matches!(none, WeatherError::TooShort { line: 8, value: 0, .. }), "{none}");
    let mut long = Epw::new(false);
    long.rows.push(long.rows[0].clone());
    assert_eq!(
        long.error().to_string(),
        "line 8769: `month 1 day 1 hour 1` follows the last hour of the year; allowed: 8760 hours; \
         a weather year runs from 1 January hour 1 to 31 December hour 24 without holes"
    );
}

#[test]
fn a_cut_line_is_refused() {
    let mut epw = Epw::new(false);
    epw.rows[8759].truncate(16);
    assert_eq!(
        epw.error().to_string(),
        "line 8768: the line has 16 fields; allowed: 35 or more; fetch the file again: a line is cut"
    );
    let mut first = Epw::new(false);
    first.rows[0].truncate(15);
    let error = first.error();
    assert!(matches!(error, WeatherError::ShortLine { line: 9, value: 15, allowed: 16, .. }), "{error}");
    let header = Epw::new(false).header(1, "LOCATION,Hilltown").error();
    assert!(matches!(header, WeatherError::ShortLine { line: 1, value: 2, allowed: 10, .. }), "{header}");
}

#[test]
fn headers_without_numbers_or_without_their_last_line_are_refused() {
    for (location, column) in [
        ("LOCATION,a,b,c,d,e,north,-7,1,200", 7),
        ("LOCATION,a,b,c,d,e,95,-7,1,200", 7),
        ("LOCATION,a,b,c,d,e,45,-181,1,200", 8),
        ("LOCATION,a,b,c,d,e,45,-7,15,200", 9),
        ("LOCATION,a,b,c,d,e,45,-7,1,", 10),
        ("LOCATION,a,b,c,d,e,45,-7,1,9999.9", 10),
        ("LOCATION,a,b,c,d,e,45,-7,1,NaN", 10),
    ] {
        let error = Epw::new(false).header(1, location).error();
        assert_eq!((error.line(), error.column()), (Some(1), Some(column)), "{error}");
    }
    let error = Epw::new(false).header(8, "COMMENTS 3,no periods").error();
    assert_eq!(
        error.to_string(),
        "line 9: the header's `DATA PERIODS` is missing; allowed: the line before the first hour; \
         fetch the file again, or correct its header"
    );
    let alone = WeatherYear::read("made.epw", Epw::new(false).header[0].as_bytes());
    assert!(matches!(alone, Err(WeatherError::MissingHeader { line: 1, .. })), "{alone:?}");
}

#[test]
fn more_than_one_record_an_hour_is_refused() {
    let error = Epw::new(false).header(8, "DATA PERIODS,1,4,Data,Sunday, 1/ 1,12/31").error();
    assert_eq!(
        error.to_string(),
        "line 8, column 3 (records per hour): `4` is out of range; allowed: 1; \
         take a file with one period of hourly records"
    );
}

#[test]
fn daylight_saving_in_the_header_is_noted() {
    let year = Epw::new(false).header(5, "HOLIDAYS/DAYLIGHT SAVING,No,3/ 9,11/ 2,0").year();
    assert_eq!(year.notes.len(), 1);
    assert!(year.notes[0].contains("3/ 9") && year.notes[0].contains("11/ 2"), "{:?}", year.notes);
}

#[test]
fn means_extremes_and_instants_agree_with_the_hours() {
    let year = Epw::new(false).year();
    let months = year.monthly_mean_dry_bulb_k();
    let days = year.daily_mean_dry_bulb_k();
    // Sums of 8760 numbers near 283 in another order.
    let january = days[..31].iter().sum::<f64>() / 31.0;
    assert_relative_eq!(months[0], january, max_relative = 1e-12);
    let december = days[334..].iter().sum::<f64>() / 31.0;
    assert_relative_eq!(months[11], december, max_relative = 1e-12);
    assert_relative_eq!(days.iter().sum::<f64>() / 365.0, year.mean_dry_bulb_k(), max_relative = 1e-12);
    let instants = year.dry_bulb_instants_k();
    assert_eq!(instants.len(), 8761);
    assert_eq!((instants[0], instants[1]), (instants[8760], year.hours[0].dry_bulb_k));
    let humidity = year.humidity_ratio_instants();
    assert_eq!((humidity[0], humidity[8760]), (year.hours[8759].humidity_ratio, humidity[0]));
    let (coldest_k, warmest_k) = year.dry_bulb_extremes_k();
    assert!(instants.iter().all(|t| (coldest_k..=warmest_k).contains(t)));
    assert!(instants.contains(&coldest_k) && instants.contains(&warmest_k));
    assert_eq!(year.mean_pressure_pa(), 99_000.0);
}

/// Numbers of a year that any reader of it may rely on.
fn is_sound(year: &WeatherYear) -> bool {
    let sound = |hour: &WeatherHour| {
        let most =
            air::saturation_humidity_ratio_over_water(hour.dry_bulb_k, hour.pressure_pa) * (1.0 + 1e-12);
        (183.15..=333.15).contains(&hour.dry_bulb_k)
            && (31_000.0..=120_000.0).contains(&hour.pressure_pa)
            && (0.0..=most).contains(&hour.humidity_ratio)
    };
    matches!(year.hours.len(), 8760 | 8784) && year.hours.iter().all(sound)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(48) })]

    /// Bytes of a good file replaced at random, most of them in its header and first hours.
    #[test]
    fn a_spoilt_file_is_read_soundly_or_refused_with_a_place(
        faults in proptest::collection::vec((0..4000_usize, any::<u8>()), 1..6),
        cut in proptest::option::of(0..4000_usize),
    ) {
        let mut bytes = Epw::new(false).text("\n").into_bytes();
        for (at, byte) in faults {
            bytes[at] = byte;
        }
        if let Some(cut) = cut {
            bytes.truncate(cut);
        }
        let lines = bytes.iter().filter(|&&byte| byte == b'\n').count() + 1;
        match WeatherYear::read("spoilt.epw", &bytes) {
            Ok(year) => prop_assert!(is_sound(&year)),
            Err(error) => {
                prop_assert!(error.line().is_none_or(|line| (1..=lines).contains(&line)), "{error}");
                prop_assert!(!error.to_string().chars().any(char::is_control), "{error}");
            }
        }
    }

    /// Anything at all.
    #[test]
    fn no_bytes_bring_a_reader_down(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        for start in [&b""[..], b"LOCATION,", b"1,a,b,1,2,3,4\nDate (MM/DD/YYYY),"] {
            prop_assert!(WeatherYear::read("x", &[start, &bytes].concat()).is_err());
        }
    }
}

mod tmy3 {
    use super::*;

    const THREE_DAYS: &str = include_str!("../../tests/data/greensboro-tmy3-three-days.csv");

    fn error(text: &str) -> WeatherError {
        WeatherYear::read("made.csv", text.as_bytes()).expect_err("a file with a fault")
    }

    /// Replaces a field of the third line, the first hour.
    fn with_first_hour(column: usize, value: &str) -> String {
        let mut lines: Vec<String> = THREE_DAYS.lines().map(str::to_owned).collect();
        let mut fields: Vec<&str> = lines[2].split(',').collect();
        fields[column - 1] = value;
        lines[2] = fields.join(",");
        lines.join("\r\n")
    }

    #[test]
    fn three_days_are_a_short_year() {
        assert_eq!(
            error(THREE_DAYS),
            WeatherError::TooShort {
                line: 74,
                value: 72,
                allowed: "8760 hours, or 8784 with a 29 February",
                fix: "a weather year runs from 1 January hour 1 to 31 December hour 24 without holes",
            }
        );
    }

    #[test]
    fn dates_and_times_of_spreadsheets_are_refused() {
        for (column, value, field) in [
            (1, "1988-01-01", "date"),
            (1, "13/01/1988", "month"),
            (1, "01/32/1988", "day"),
            (1, "", "date"),
            (2, "00:00", "hour"),
            (2, "25:00", "hour"),
            (2, "01:30", "minute"),
            (2, "1", "time"),
            (2, "01:00:00", "time"),
        ] {
            let error = error(&with_first_hour(column, value));
            assert_eq!((error.line(), error.column()), (Some(3), Some(column)), "{error}");
            assert!(error.to_string().contains(&format!("({field})")), "{error}");
        }
    }

    #[test]
    fn marks_and_words_are_refused_with_line_and_column() {
        let missing = error(&with_first_hour(32, "-9900"));
        assert!(matches!(missing, WeatherError::Missing { line: 3, column: 32, .. }), "{missing}");
        let word = error(&with_first_hour(41, "low"));
        assert!(matches!(word, WeatherError::NotANumber { line: 3, column: 41, .. }), "{word}");
        let pascal = error(&with_first_hour(41, "99300"));
        assert!(pascal.to_string().contains("allowed: 310 to 1200 mbar"), "{pascal}");
    }

    #[test]
    fn a_column_name_that_is_not_there_is_named() {
        let error = error(&THREE_DAYS.replace("Dew-point (C)", "Dew-point (F)"));
        assert_eq!(
            error.to_string(),
            "line 2: the header's `Dew-point (C)` is missing; allowed: a column name of the second line; \
             fetch the file again, or correct its header"
        );
    }

    #[test]
    fn cut_lines_and_a_bad_station_line_are_refused() {
        let cut = &THREE_DAYS[..THREE_DAYS.len() - 30];
        let short = error(cut);
        assert!(matches!(short, WeatherError::ShortLine { line: 74, allowed: 71, .. }), "{short}");
        let station = error(&THREE_DAYS.replace("-79.950,273", "-79.950,high"));
        assert_eq!((station.line(), station.column()), (Some(1), Some(7)), "{station}");
    }
}

//! Sun and night sky on outer sides: positions and radiation against a general solar library, sol-air temperatures against printed ones.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use larderloop::sun::{
    SKY_LOSS_LEVEL_W_M2, SunPosition, SunlitHour, SunnySide, absorptance_of, sun_position_grena,
};
use larderloop::weather::WeatherYear;

const SIDE: SunnySide = SunnySide {
    azimuth_deg: 180.0,
    slope_deg: 90.0,
    absorptance_frac: 0.9,
    ground_reflects_frac: 0.2,
    shade_frac: 0.0,
    film_m2_k_per_w: 0.04,
};

fn side(slope_deg: f64, azimuth_deg: f64) -> SunnySide {
    SunnySide { slope_deg, azimuth_deg, ..SIDE }
}

/// Sun's positions over Chicago, Edmonton and Sydney in 2011 by NREL's algorithm. pvlib 0.16.1, `tests/data/sun.py`. The formula used here is good to 0.01° by its author; the same again for the
/// library's parallax, which it leaves out at no height.
#[test]
fn positions_against_another_algorithm() {
    for (latitude, longitude, hour_ut, zenith, azimuth) in [
        (41.98, -87.92, 351.5, 72.0990, 143.1051),
        (41.98, -87.92, 1917.0, 58.1902, 236.7497),
        (41.98, -87.92, 4122.0, 18.5934, 184.7148),
        (41.98, -87.92, 5328.75, 88.3452, 289.3805),
        (41.98, -87.92, 8538.0, 65.4572, 182.4701),
        (53.3, -113.6, 352.5, 85.3426, 135.5364),
        (53.3, -113.6, 1918.0, 60.1967, 220.8900),
        (53.3, -113.6, 4123.0, 30.6393, 163.5576),
        (53.3, -113.6, 5329.75, 78.4775, 280.3821),
        (53.3, -113.6, 8539.0, 77.0707, 172.2495),
        (-33.9, 151.2, 335.5, 36.2205, 79.6761),
        (-33.9, 151.2, 1901.0, 53.6659, 299.7813),
        (-33.9, 151.2, 4106.0, 57.3430, 359.1358),
        (-33.9, 151.2, 5312.75, 107.6956, 277.2429),
        (-33.9, 151.2, 8522.0, 10.5631, 351.7036),
    ] {
        let sun = sun_position_grena(latitude, longitude, false, hour_ut);
        assert_abs_diff_eq!(sun.zenith_deg, zenith, epsilon = 0.02);
        // Near straight up a degree of azimuth is a small part of a degree in the sky.
        let shrunk = zenith.to_radians().sin();
        assert_abs_diff_eq!(shrunk * sun.azimuth_deg, shrunk * azimuth, epsilon = 0.02);
    }
}

/// On 29 February 2012 the sun stands where it stood on the last quarter of 1 March 2011 and the first of 28 February: between the two. Derived here: the calendar.
#[test]
fn a_leap_year_has_its_own_calendar() {
    let noon = |leap, day: f64| sun_position_grena(41.98, -87.92, leap, 24.0 * day + 18.0).zenith_deg;
    assert!(noon(false, 58.0) > noon(true, 59.0) && noon(true, 59.0) > noon(false, 59.0));
    // New Year's Eve of both.
    assert_abs_diff_eq!(noon(false, 364.0), noon(true, 365.0), epsilon = 0.1);
}

/// Direct, sky and ground light on planes by Hay and Davies. pvlib 0.16.1, `tests/data/sun.py`, three decimals: [sun's zenith, azimuth], [slope, azimuth], [direct, diffuse, outside the air],
/// [beam, sky, ground of 20 %]. The program's own beam holds the light around the sun, so sums are compared; and with the sun kept off what the library calls dome.
#[test]
fn radiation_on_planes() {
    for ([zenith_deg, azimuth_deg], [slope, plane], [direct_w_m2, diffuse_w_m2, outside_air_w_m2], parts) in [
        ([60.0, 120.0], [90.0, 180.0], [600.0, 100.0, 1400.0], [259.808, 65.687, 40.000]),
        ([30.0, 180.0], [0.0, 0.0], [800.0, 120.0, 1330.0], [692.820, 120.000, 0.000]),
        ([30.0, 180.0], [90.0, 180.0], [800.0, 120.0, 1330.0], [400.000, 65.583, 81.282]),
        ([75.0, 265.0], [90.0, 270.0], [400.0, 80.0, 1360.0], [384.900, 115.714, 18.353]),
        ([50.0, 90.0], [90.0, 270.0], [700.0, 90.0, 1350.0], [0.000, 21.667, 53.995]),
        ([50.0, 200.0], [30.0, 135.0], [500.0, 200.0, 1361.0], [359.271, 200.184, 6.985]),
        ([88.9, 240.0], [90.0, 250.0], [20.0, 15.0, 1390.0], [19.693, 18.462, 1.538]),
    ] {
        let side = side(slope, plane);
        let sun = SunPosition { zenith_deg, azimuth_deg };
        let hour = SunlitHour {
            direct_w_m2,
            diffuse_w_m2,
            outside_air_w_m2,
            cos_zenith: zenith_deg.to_radians().cos(),
            cos_incidence: side.cos_incidence(sun),
        };
        assert_abs_diff_eq!(direct_w_m2 * hour.cos_incidence, parts[0], epsilon = 6e-4);
        assert_abs_diff_eq!(side.radiation_hay_davies_w_m2(&hour), parts.iter().sum(), epsilon = 2e-3);
        let shaded = SunnySide { shade_frac: 1.0, ..side }.radiation_hay_davies_w_m2(&hour);
        let dome =
            diffuse_w_m2 * (1.0 - direct_w_m2 / outside_air_w_m2) * 0.5 * (1.0 + slope.to_radians().cos());
        assert_abs_diff_eq!(shaded, dome + parts[2], epsilon = 2e-3);
    }
}

/// A year on planes in Chicago from the file's direct and diffuse light, kWh/m2. pvlib 0.16.1, `tests/data/sun.py`, with the sun at the middle of each hour; this program looks at four times in the
/// sunlit part of it. 0.7 %: hours of sunrise and sunset.
#[test]
fn a_year_on_planes() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/weather/chicago-tmy3.epw");
    let weather =
        WeatherYear::read("chicago", &std::fs::read(path).expect("part of the project")).expect("a year");
    for (slope, azimuth, kwh_m2) in [
        (90.0, 180.0, 1035.11),
        (90.0, 270.0, 797.53),
        (90.0, 0.0, 424.23),
        (0.0, 0.0, 1402.66),
        (30.0, 135.0, 1506.32),
    ] {
        let radiation = side(slope, azimuth).hourly_radiation_w_m2(&weather).expect("no holes");
        assert!(radiation.iter().all(|w_m2| (0.0..1400.0).contains(w_m2)));
        assert_relative_eq!(radiation.iter().sum::<f64>() / 1000.0, kwh_m2, max_relative = 7e-3);
        // Instants keep the year's sum, and the year closes on itself.
        let rise = side(slope, azimuth).hourly_rise_instants_dk(&weather).expect("no holes");
        let sky = SKY_LOSS_LEVEL_W_M2 * slope.to_radians().cos();
        let sum = radiation.iter().map(|w_m2| 0.04 * (0.9 * w_m2 - sky)).sum::<f64>();
        assert_eq!((rise.len(), rise[0]), (8761, rise[8760]));
        assert_relative_eq!(rise[1..].iter().sum::<f64>(), sum, max_relative = 1e-9, epsilon = 1e-6);
    }
    // Level ground gets what the file's own global column has. Checked: original read (the file): 1406.65 kWh/m2; the file is not closed better than 1 %.
    let level: f64 = side(0.0, 0.0).hourly_radiation_w_m2(&weather).expect("no holes").iter().sum();
    assert_relative_eq!(level / 1000.0, 1406.65, max_relative = 0.01);
}

/// Sol-air temperatures of ASHRAE Handbook Fundamentals: absorptance over the outer coefficient 0.052 (dark) and 0.026 m2K/W (light); air of 30 °C and 600 W/m2 on a wall:
/// 61.2 and 45.6 °C. From memory, to be verified, in SI; Second hand in inch-pound units: 0.30 and 0.15. A level surface under a clear sky 4 K below: Second hand.
#[test]
fn sol_air_temperatures() {
    // 3.0 Btu/(h ft2 °F) is 17.03 W/m2K; printed to two digits.
    let handbook = |color| SunnySide {
        absorptance_frac: absorptance_of(color).expect("a color"),
        film_m2_k_per_w: 1.0 / 17.03,
        ..SIDE
    };
    for (color, wall_degc, over_coefficient) in [("dark", 61.2, 0.052), ("light", 45.6, 0.026)] {
        let wall = handbook(color);
        assert_abs_diff_eq!(wall.absorptance_frac * wall.film_m2_k_per_w, over_coefficient, epsilon = 1e-3);
        assert_abs_diff_eq!(30.0 + wall.sol_air_rise_dk(600.0), wall_degc, epsilon = 0.6);
    }
    let roof = SunnySide { slope_deg: 0.0, ..handbook("dark") };
    assert_abs_diff_eq!(roof.sol_air_rise_dk(0.0), -4.0, epsilon = 0.5);
    // 30 + 0.052 x 900 - 4; twice the rounding of the wall, and that of the 4 K.
    assert_abs_diff_eq!(30.0 + roof.sol_air_rise_dk(900.0), 72.8, epsilon = 1.2);
    assert_abs_diff_eq!(handbook("dark").sol_air_rise_dk(0.0), 0.0, epsilon = 1e-12);
    assert!(absorptance_of("tartan").is_none());
}

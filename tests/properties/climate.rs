//! Weather years that the tests write themselves, as the text of a weather file.

use std::fmt::Write;

/// A made-up climate: sine waves of the year and of the day.
#[derive(Debug, Clone, Copy)]
pub struct Climate {
    /// Mean of the year, degC.
    pub mean_degc: f64,
    /// Half the difference between the warmest and the coldest day, K.
    pub season_dk: f64,
    /// Half the difference between afternoon and night, K.
    pub day_dk: f64,
    /// Dew point below the dry bulb, K.
    pub dew_point_below_dk: f64,
    /// Height above the sea, m.
    pub elevation_m: f64,
    /// South of the equator: January is the warmest month.
    pub southern: bool,
    /// A year with a 29 February.
    pub leap_year: bool,
}

impl Climate {
    /// A temperate lowland.
    pub const TEMPERATE: Self = Self {
        mean_degc: 11.0,
        season_dk: 10.0,
        day_dk: 4.0,
        dew_point_below_dk: 4.0,
        elevation_m: 200.0,
        southern: false,
        leap_year: false,
    };

    /// Pressure of the standard atmosphere at its height, Pa. Source: ICAO Doc 7488, troposphere, by ISO 2533's formula.
    /// From memory, to be verified.
    pub fn pressure_pa(&self) -> f64 {
        101_325.0 * (1.0 - 2.255_88e-5 * self.elevation_m).powf(5.255_88)
    }

    /// Dry bulb at an hour of the year, degC.
    fn dry_bulb_degc(&self, hour: usize) -> f64 {
        let turn = |hours: f64| std::f64::consts::TAU * hours / 8760.0;
        let coldest_h = if self.southern { 200.0 * 24.0 } else { 18.0 * 24.0 };
        let hour = hour as f64;
        self.mean_degc
            - self.season_dk * turn(hour - coldest_h).cos()
            - self.day_dk * (std::f64::consts::TAU * (hour % 24.0 - 4.0) / 24.0).cos()
    }

    /// The text of a weather file of this climate.
    pub fn epw(&self) -> String {
        let latitude = if self.southern { -42.0 } else { 42.0 };
        let mut text = format!(
            "LOCATION,Nowhere,-,-,synthetic,-,{latitude:.3},0.000,0.0,{:.1}\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\n",
            self.elevation_m
        );
        let february = if self.leap_year { 29 } else { 28 };
        let mut hour = 0;
        for (month, days) in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31].into_iter().enumerate() {
            for day in 1..=days {
                for stamp in 1..=24 {
                    // A stamp is the end of its hour.
                    hour += 1;
                    let dry = self.dry_bulb_degc(hour);
                    let dew = dry - self.dew_point_below_dk;
                    writeln!(
                        text,
                        "2001,{},{day},{stamp},60,-,{dry:.3},{dew:.3},999,{:.1},0,0,0,0,0,0",
                        month + 1,
                        self.pressure_pa()
                    )
                    .expect("a string takes any text");
                }
            }
        }
        text
    }
}

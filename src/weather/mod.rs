//! A year of outdoor air, read from an EPW file or a TMY3 CSV file, or made from monthly means.
//!
//! Nothing is used that was not read, and nothing is repaired in silence: a hole that is filled leaves a note,
//! a hole that cannot be filled is refused with its line and column.

mod epw;
mod error;
mod field;
mod hours;
mod monthly;
mod statistics;
mod text;
mod tmy3;

pub use error::{SequenceFault, Stamp, WeatherError};
pub use monthly::MonthlyTable;

/// A year of outdoor air at one place, in local standard time.
#[derive(Debug, Clone, PartialEq)]
pub struct WeatherYear {
    /// Place, as the file names it, or its coordinates.
    pub place: String,
    /// File, data set, station and years the months come from.
    pub origin: String,
    /// Latitude, degrees, north positive.
    pub latitude_deg: f64,
    /// Longitude, degrees, east positive; 0 in a year made from monthly means, which need none.
    pub longitude_deg: f64,
    /// Local standard time less universal time, h; 0 in a year made from monthly means, which need none.
    pub utc_offset_h: f64,
    /// Height above sea level, m.
    pub elevation_m: f64,
    /// Whether there is a 29 February.
    pub leap_year: bool,
    /// 8760 or 8784 hours; entry i is the instant (i + 1):00 since the start of the year.
    pub hours: Vec<WeatherHour>,
    /// Everything that was filled, held or left out, with counts.
    pub notes: Vec<String>,
}

/// Outdoor air at a full hour. Radiation is the mean of the hour that ends there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeatherHour {
    /// Dry bulb, K.
    pub dry_bulb_k: f64,
    /// Humidity ratio, kg water per kg dry air.
    pub humidity_ratio: f64,
    /// Pressure at the station, Pa.
    pub pressure_pa: f64,
    /// Global horizontal radiation, W/m2.
    pub global_w_m2: Option<f64>,
    /// Direct normal radiation, W/m2.
    pub direct_w_m2: Option<f64>,
    /// Diffuse horizontal radiation, W/m2.
    pub diffuse_w_m2: Option<f64>,
}

impl WeatherYear {
    /// Reads an EPW or a TMY3 CSV file; which of the two is seen from its content.
    ///
    /// # Arguments
    /// - name: how the file is called, for [`WeatherYear::origin`].
    /// - bytes: its content, UTF-8 (with or without byte-order mark) or Latin-1, lines ended by LF or CRLF.
    ///
    /// # Errors
    /// [`WeatherError`], with the line and where possible the column.
    pub fn read(name: &str, bytes: &[u8]) -> Result<Self, WeatherError> {
        let text = text::decode(bytes)?;
        if epw::recognises(&text) {
            epw::read(name, &text)
        } else if tmy3::recognises(&text) {
            tmy3::read(name, &text)
        } else {
            Err(text::unknown_kind(&text))
        }
    }
}

#[cfg(test)]
mod tests;

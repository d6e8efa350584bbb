//! What the year did to each crop, as the JSON document tells it.

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::household::Household;
use crate::stored::{CropYear, Mixed, crops};
use crate::year::Year;

/// Crops and what they do not bear of each other.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StoredReport {
    /// Every crop that is stored at some time.
    pub crops: Vec<CropReport>,
    /// Crops that give off ethylene, and those that it harms.
    pub ethylene: [Vec<&'static str>; 2],
    /// Crops that want to be near freezing, and those that cold injures.
    pub cold: [Vec<&'static str>; 2],
    /// Crops that want damper air than others bear, and those others.
    pub humidity: [Vec<&'static str>; 2],
}

/// A crop's year.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CropReport {
    /// Its name.
    pub crop: &'static str,
    /// Lowest and highest temperature advised.
    pub advised_degc: [f64; 2],
    /// Lowest and highest relative humidity advised.
    pub advised_humidity_frac: [f64; 2],
    /// Its highest freezing point.
    pub freezing_degc: f64,
    /// Injured by cold below; `None` where no source calls it injured.
    pub injured_below_degc: Option<f64>,
    /// Mean temperature while it is stored.
    pub mean_degc: f64,
    /// Mean relative humidity while it is stored.
    pub humidity_frac: f64,
    /// Weeks that it keeps at this temperature; `None` where no source tells.
    pub keeps_weeks: Option<[f64; 2]>,
    /// Weeks that it keeps as advised.
    pub keeps_as_advised_weeks: [f64; 2],
    /// Times as fast as it breathes as advised; `None` where no source gives its respiration.
    pub breathes_times: Option<f64>,
    /// Share of its mass that it loses to the air in a week, uncovered; `None` where no source gives its transpiration.
    pub lost_a_week_frac: Option<f64>,
    /// The months in which it is stored.
    pub months: Vec<CropMonthReport>,
}

/// A month of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CropMonthReport {
    /// Month, from 1.
    pub month: usize,
    /// Coldest.
    pub min_degc: f64,
    /// Mean.
    pub mean_degc: f64,
    /// Warmest.
    pub max_degc: f64,
    /// Mean relative humidity.
    pub humidity_frac: f64,
    /// Below its freezing point at some time.
    pub freezes: bool,
    /// Injured by cold on the mean.
    pub injured: bool,
}

impl StoredReport {
    /// Of a household's year.
    pub fn of(household: &Household, year: &Year) -> Self {
        let crops = crops(household, year);
        let mixed = Mixed::of(&crops);
        let sides = |(ones, others): (Vec<&'static str>, Vec<&'static str>)| [ones, others];
        Self {
            crops: crops.iter().map(CropReport::of).collect(),
            ethylene: sides(mixed.ethylene),
            cold: sides(mixed.cold),
            humidity: sides(mixed.humidity),
        }
    }
}

impl CropReport {
    fn of(crop: &CropYear) -> Self {
        let degc = |temperature_k: f64| temperature_k - ZERO_CELSIUS_K;
        let (low_k, high_k) = crop.crop.store_k();
        let (dry, damp) = crop.crop.store_humidity_frac();
        let both = |(short, long): (f64, f64)| [short, long];
        Self {
            crop: crop.crop.name(),
            advised_degc: [degc(low_k), degc(high_k)],
            advised_humidity_frac: [dry, damp],
            freezing_degc: degc(crop.crop.freezing_k()),
            injured_below_degc: crop.crop.chilling_k().map(degc),
            mean_degc: degc(crop.mean_k()),
            humidity_frac: crop.humidity_frac(),
            keeps_weeks: crop.keeps_weeks().map(both),
            keeps_as_advised_weeks: both(crop.crop.life_weeks()),
            breathes_times: crop.breathes_times(),
            lost_a_week_frac: crop.lost_a_week_frac(),
            months: crop
                .months
                .iter()
                .map(|month| CropMonthReport {
                    month: month.month + 1,
                    min_degc: degc(month.min_k),
                    mean_degc: degc(month.mean_k),
                    max_degc: degc(month.max_k),
                    humidity_frac: month.humidity_frac,
                    freezes: crop.is_frozen_in(month.month),
                    injured: crop.is_chilled_in(month.month),
                })
                .collect(),
        }
    }
}

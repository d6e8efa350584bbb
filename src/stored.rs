//! What a year does to each crop that is stored: from the year's months, crop by crop.

use crate::air;
use crate::household::{Household, StoredProduce};
use crate::plant::respiration_at_w_per_kg;
use crate::room::{Crop, Ethylene, RespirationLevel};
use crate::year::{Interval, Year};

/// Seconds of a day.
const DAY_S: f64 = 86_400.0;

/// Seconds of a week.
const WEEK_S: f64 = 7.0 * DAY_S;

/// Distance from the advised temperature within which a crop counts as stored as advised, K. Common practice, no source: the
/// advice itself is printed in whole and half degrees, and most boxes differ by as much.
pub const BORNE_DK: f64 = 1.0;

/// A crop advised to be stored no warmer than this wants a cold room, K: 2.5 °C, the warm end of the three groups of 0 to 2 °C that
/// USDA Agriculture Handbook 668 (McGregor 1989) makes, and of Chinese cabbage. Second hand: pages that quote the groups.
const COLD_STORE_K: f64 = 275.65;

/// One month of a crop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CropMonth {
    /// Month, from 0.
    pub month: usize,
    /// Length, s.
    pub duration_s: f64,
    /// Mean temperature of the contents, K.
    pub mean_k: f64,
    /// Coldest, K.
    pub min_k: f64,
    /// Warmest, K.
    pub max_k: f64,
    /// Mean relative humidity of the room's air.
    pub humidity_frac: f64,
    /// Share of its mass that the crop loses to the air, uncovered.
    pub lost_frac: f64,
}

/// A crop through the months in which it is stored.
#[derive(Debug, Clone, PartialEq)]
pub struct CropYear {
    /// The crop.
    pub crop: Crop,
    /// The months.
    pub months: Vec<CropMonth>,
}

impl CropYear {
    /// A crop's year; `None` where it is never there.
    fn of(year: &Year, produce: &StoredProduce) -> Option<Self> {
        let crop = produce.crop;
        let months: Vec<CropMonth> = year
            .months
            .iter()
            .filter(|month| month.duration_s > 0.0 && produce.is_there_in(month.month))
            .map(|month| crop_month(crop, month))
            .collect();
        (!months.is_empty()).then_some(Self { crop, months })
    }

    fn duration_s(&self) -> f64 {
        self.months.iter().map(|month| month.duration_s).sum()
    }

    fn mean(&self, of: impl Fn(&CropMonth) -> f64) -> f64 {
        self.months.iter().map(|month| of(month) * month.duration_s).sum::<f64>() / self.duration_s()
    }

    /// Mean temperature while it is stored, K.
    pub fn mean_k(&self) -> f64 {
        self.mean(|month| month.mean_k)
    }

    /// Coldest and warmest, K.
    pub fn extremes_k(&self) -> (f64, f64) {
        let coldest = self.months.iter().map(|month| month.min_k).fold(f64::INFINITY, f64::min);
        let warmest = self.months.iter().map(|month| month.max_k).fold(f64::NEG_INFINITY, f64::max);
        (coldest, warmest)
    }

    /// Mean relative humidity while it is stored.
    pub fn humidity_frac(&self) -> f64 {
        self.mean(|month| month.humidity_frac)
    }

    /// Share of its fresh mass that it loses in a week, uncovered; `None` where no source gives its transpiration.
    pub fn lost_a_week_frac(&self) -> Option<f64> {
        let lost: f64 = self.months.iter().map(|month| month.lost_frac).sum();
        self.crop.transpires().then(|| lost / self.duration_s() * WEEK_S)
    }

    /// How far its mean temperature is from what is advised, K: above 0 too warm, below 0 too cold.
    pub fn off_dk(&self) -> f64 {
        let (low_k, high_k) = self.crop.store_k();
        let mean_k = self.mean_k();
        (mean_k - high_k).max(0.0) - (low_k - mean_k).max(0.0)
    }

    /// Weeks that it keeps, shortest and longest, where the source allows to say: it tells of the advised temperature only.
    pub fn keeps_weeks(&self) -> Option<(f64, f64)> {
        (self.off_dk().abs() <= BORNE_DK && !self.is_chilled_in_some_month()).then(|| self.crop.life_weeks())
    }

    /// How many times as fast it breathes as at the nearest advised temperature; `None` where no source gives its respiration.
    ///
    /// Derived here: from the table of respiration, log-linear between its temperatures.
    pub fn breathes_times(&self) -> Option<f64> {
        let (low_k, high_k) = self.crop.store_k();
        let table = self.crop.respiration_w_per_kg(RespirationLevel::Middle);
        let at = |temperature_k| respiration_at_w_per_kg(&table, temperature_k);
        let mean_k = self.mean_k();
        self.crop.respires().then(|| at(mean_k) / at(mean_k.clamp(low_k, high_k)))
    }

    /// Whether the crop is injured by cold in a month: its mean is below what the source names.
    pub fn is_chilled_in(&self, month: usize) -> bool {
        let limit_k = self.crop.chilling_k();
        self.months.iter().any(|one| one.month == month && limit_k.is_some_and(|k| one.mean_k < k))
    }

    /// Whether it is in some month.
    pub fn is_chilled_in_some_month(&self) -> bool {
        (0..12).any(|month| self.is_chilled_in(month))
    }

    /// Whether it is below its own freezing point at some time of a month.
    pub fn is_frozen_in(&self, month: usize) -> bool {
        self.months.iter().any(|one| one.month == month && one.min_k < self.crop.freezing_k())
    }

    /// Whether it is at some time.
    pub fn is_frozen_in_some_month(&self) -> bool {
        (0..12).any(|month| self.is_frozen_in(month))
    }

    fn is_there_in(&self, month: usize) -> bool {
        self.months.iter().any(|one| one.month == month)
    }
}

/// One month: transpiration at the month's means, as in `docs/MODEL.md`, section 2. Derived here: monthly means in place of steps.
fn crop_month(crop: Crop, month: &Interval) -> CropMonth {
    let (mean_k, air_k) = (month.mean(month.contents_k_s), month.mean(month.air_k_s));
    let humidity_frac = month.mean(month.humidity_frac_s);
    let vapour_pa = humidity_frac * air::saturation_pressure_pa(air_k);
    let deficit_pa = (air::saturation_pressure_over_water_pa(mean_k) - vapour_pa).max(0.0);
    CropMonth {
        month: month.month,
        duration_s: month.duration_s,
        mean_k,
        min_k: month.food_k.min,
        max_k: month.food_k.max,
        humidity_frac,
        lost_frac: crop.transpiration_per_s_pa() * deficit_pa * month.duration_s,
    }
}

/// Every crop that is stored at some time, once, in the household's order.
pub fn crops(household: &Household, year: &Year) -> Vec<CropYear> {
    let mut crops: Vec<CropYear> = Vec::new();
    for produce in &household.room.produce {
        let Some(mut crop) = CropYear::of(year, produce) else { continue };
        match crops.iter_mut().find(|known| known.crop == crop.crop) {
            Some(known) => {
                crop.months.retain(|month| !known.is_there_in(month.month));
                known.months.append(&mut crop.months);
                known.months.sort_by_key(|month| month.month);
            }
            None => crops.push(crop),
        }
    }
    crops
}

/// What crops that are stored together in some month do not bear of each other, by their names.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Mixed {
    /// Crops that give off ethylene while others suffer from it, and those others.
    pub ethylene: (Vec<&'static str>, Vec<&'static str>),
    /// Crops that want to be near freezing while others are injured by cold, and those others.
    pub cold: (Vec<&'static str>, Vec<&'static str>),
    /// Crops that want damp air while others want it dry, and those others.
    pub humidity: (Vec<&'static str>, Vec<&'static str>),
}

impl Mixed {
    /// Of the crops of a year.
    pub fn of(crops: &[CropYear]) -> Self {
        Self {
            ethylene: pairs(crops, |one, other| {
                one.ethylene() == Some(Ethylene::Gives) && other.ethylene() == Some(Ethylene::Suffers)
            }),
            cold: pairs(crops, |one, other| {
                one.store_k().1 <= COLD_STORE_K
                    && other.chilling_k().is_some_and(|k| k > COLD_STORE_K + BORNE_DK)
            }),
            humidity: pairs(crops, |one, other| one.store_humidity_frac().0 > other.store_humidity_frac().1),
        }
    }

    /// Whether there is nothing of the kind.
    pub fn is_at_peace(&self) -> bool {
        *self == Self::default()
    }
}

/// The crops on both sides of a conflict in some month.
fn pairs(
    crops: &[CropYear],
    conflict: impl Fn(Crop, Crop) -> bool,
) -> (Vec<&'static str>, Vec<&'static str>) {
    let meets = |one: &CropYear, other: &CropYear| {
        (0..12).any(|month| one.is_there_in(month) && other.is_there_in(month))
    };
    let against = |one: &CropYear, other: &CropYear| conflict(one.crop, other.crop) && meets(one, other);
    let name = |crop: &CropYear| crop.crop.name();
    let ones = crops.iter().filter(|one| crops.iter().any(|other| against(one, other))).map(name).collect();
    let others = crops.iter().filter(|other| crops.iter().any(|one| against(one, other))).map(name).collect();
    (ones, others)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::constants::ZERO_CELSIUS_K;
    use approx::assert_relative_eq;

    fn steady(name: &str, months: &[usize], degc: f64) -> CropYear {
        let crop = Crop::by_name(name).expect("a crop of the table");
        let month = |&month: &usize| CropMonth {
            month,
            duration_s: 30.0 * DAY_S,
            mean_k: degc + ZERO_CELSIUS_K,
            min_k: degc - 0.5 + ZERO_CELSIUS_K,
            max_k: degc + 0.5 + ZERO_CELSIUS_K,
            humidity_frac: 0.9,
            lost_frac: 0.0,
        };
        CropYear { crop, months: months.iter().map(month).collect() }
    }

    /// Water lost by 100 kg of carrots at 4 °C in air of 4 °C and 90 %: 0.848 kg a day, with the transpiration coefficients after Sastry and
    /// others 1978 (from memory) and a deficit of 81.35 Pa: a week makes 5.9 %, about what roots bear; 1 % for the digits.
    #[test]
    fn carrots_shrink_at_the_rate_of_their_coefficient() {
        let duration_s = 30.0 * DAY_S;
        let kelvin = 4.0 + ZERO_CELSIUS_K;
        let mut month = Interval {
            month: 1,
            duration_s,
            contents_k_s: kelvin * duration_s,
            air_k_s: kelvin * duration_s,
            humidity_frac_s: 0.9 * duration_s,
            ..Interval::default()
        };
        month.food_k.see(kelvin);
        let crop = Crop::by_name("carrot").expect("a crop of the table");
        let carrots = CropYear { crop, months: vec![crop_month(crop, &month)] };
        let lost = carrots.lost_a_week_frac().expect("carrots have a coefficient");
        assert_relative_eq!(lost, 0.00848 * 7.0, max_relative = 0.01);
    }

    #[test]
    fn the_weeks_of_the_source_hold_near_the_advised_temperature_only() {
        assert_eq!(steady("cabbage", &[0], 0.9).keeps_weeks(), Some((21.7, 26.1)));
        assert_eq!(steady("cabbage", &[0], 1.1).keeps_weeks(), None);
        assert_eq!(steady("potato", &[0], 4.0).off_dk(), 0.0);
        assert_eq!(steady("potato", &[0], 3.0).keeps_weeks(), None);
        assert_relative_eq!(steady("winter squash", &[0], 4.0).off_dk(), -8.5, max_relative = 1e-9);
    }

    /// Handbook 66: cabbage breathes 5 mg at 0 and 11 mg at 5 °C: 2.2 times as much.
    #[test]
    fn what_is_too_warm_breathes_faster() {
        let times = steady("cabbage", &[0], 5.0).breathes_times().expect("its respiration is known");
        assert_relative_eq!(times, 11.0 / 5.0, max_relative = 1e-9);
        assert_relative_eq!(
            steady("potato", &[0], 4.0).breathes_times().expect("its respiration is known"),
            1.0,
            max_relative = 1e-12
        );
        assert_eq!(steady("kale", &[0], 4.0).breathes_times(), None);
    }

    #[test]
    fn cold_injures_below_its_limit_and_ice_below_the_freezing_point() {
        for (degc, chilled) in [(9.9, true), (10.0, false), (10.1, false)] {
            assert_eq!(steady("winter squash", &[3], degc).is_chilled_in(3), chilled, "{degc}");
        }
        assert!(!steady("winter squash", &[3], 4.0).is_chilled_in(4));
        assert!(!steady("carrot", &[3], 0.0).is_chilled_in_some_month());
        // Half a degree below the mean: lettuce freezes at -0.2, cabbage at -0.9 °C.
        assert!(steady("lettuce", &[3], 0.2).is_frozen_in_some_month());
        assert!(!steady("cabbage", &[3], 0.2).is_frozen_in_some_month());
    }

    #[test]
    fn crops_quarrel_only_in_months_in_which_they_meet() {
        let apart = Mixed::of(&[steady("apple", &[9, 10], 2.0), steady("carrot", &[0, 1], 2.0)]);
        assert!(apart.is_at_peace(), "{apart:?}");
        let together = Mixed::of(&[steady("apple", &[9, 10], 2.0), steady("carrot", &[10], 2.0)]);
        assert_eq!(together.ethylene, (vec!["apple"], vec!["carrot"]));
        assert_eq!(together.cold, (vec![], vec![]));
        let dry = Mixed::of(&[
            steady("onion", &[1], 2.0),
            steady("beet", &[1], 2.0),
            steady("winter squash", &[1], 2.0),
            steady("potato", &[1], 2.0),
        ]);
        assert_eq!(dry.humidity, (vec!["beet", "potato"], vec!["onion", "winter squash"]));
        assert_eq!(dry.cold, (vec!["onion", "beet"], vec!["winter squash"]));
        assert!(dry.ethylene.0.is_empty());
    }
}

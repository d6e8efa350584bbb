//! What the year did to each crop, in the text report and in the JSON document.

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::household::{Household, UnitSystem};
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::stored::{CropYear, Mixed, crops};
use crate::wording::{decimals, percent};
use crate::year::Year;

/// Crops and what they do not bear of each other.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StoredReport {
    /// Every crop that is stored at some time; in the document under `room`.
    #[serde(skip)]
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
    /// Coldest while it is stored.
    pub coldest_degc: f64,
    /// Warmest.
    pub warmest_degc: f64,
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
        let (coldest_k, warmest_k) = crop.extremes_k();
        let both = |(short, long): (f64, f64)| [short, long];
        Self {
            crop: crop.crop.name(),
            advised_degc: [degc(low_k), degc(high_k)],
            advised_humidity_frac: [dry, damp],
            freezing_degc: degc(crop.crop.freezing_k()),
            injured_below_degc: crop.crop.chilling_k().map(degc),
            coldest_degc: degc(coldest_k),
            warmest_degc: degc(warmest_k),
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

/// The crops as a table; nothing where nothing is stored.
pub(super) fn section(stored: &StoredReport, units: UnitSystem) -> Vec<Block> {
    if stored.crops.is_empty() {
        return Vec::new();
    }
    let degrees = |degc: f64| Measure::Temperature.rounded(degc, units).to_string();
    let range = |[low, high]: [f64; 2], write: &dyn Fn(f64) -> String| {
        if low == high { write(low) } else { format!("{} to {}", write(low), write(high)) }
    };
    let weeks = |both: [f64; 2]| range(both, &|weeks| decimals(weeks, 0));
    let row = |crop: &CropReport| {
        vec![
            crop.crop.to_owned(),
            range(crop.advised_degc, &degrees),
            degrees(crop.coldest_degc),
            degrees(crop.mean_degc),
            degrees(crop.warmest_degc),
            match crop.keeps_weeks {
                Some(here) => weeks(here),
                None => format!("{} *", weeks(crop.keeps_as_advised_weeks)),
            },
            crop.breathes_times.map_or_else(|| "?".to_owned(), |times| decimals(times, 1)),
            crop.lost_a_week_frac.map_or_else(|| "?".to_owned(), percent),
        ]
    };
    let degree = Measure::Temperature.unit(units);
    vec![
        Block::Heading("What you store".to_owned()),
        Block::Table(Table {
            title: "Crop by crop, over the months in which it is there".to_owned(),
            columns: vec![
                Column::words("crop"),
                Column { unit: degree, ..Column::words("advised") },
                Column::number("cold-\nest", degree),
                Column::number("mean", degree),
                Column::number("warm-\nest", degree),
                Column::number("keeps", "weeks"),
                Column::number("brea-\nthes", "times"),
                Column::number("loses\na week", ""),
            ],
            rows: stored.crops.iter().map(row).collect(),
            year: None,
            notes: vec![
                "*: as advised; no source says how long it keeps here, and the faster it breathes (times as fast as advised) the shorter it does. Loses: of its fresh weight to the air, uncovered; a lidded box or damp sand saves most of it. ?: no source tells."
                    .to_owned(),
            ],
        }),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::report::{Report, text};
    use crate::room::Crop;

    #[test]
    fn the_table_fits_the_width_in_both_systems_with_the_longest_names() {
        let mut household = example::household();
        let sample = household.room.produce[0].clone();
        household.room.produce =
            ["chinese cabbage", "brussels sprouts", "jerusalem artichoke", "apple", "winter squash"]
                .iter()
                .map(|name| crate::household::StoredProduce {
                    crop: Crop::by_name(name).expect("a crop of the table"),
                    ..sample.clone()
                })
                .collect();
        let stored = StoredReport::of(&household, &example::year());
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            let text = text::plain(&Report { blocks: section(&stored, units) });
            assert!(text.lines().all(|line| line.chars().count() <= text::WIDTH), "{text}");
            assert!(text.contains("17 to 22 *") && text.contains("13 to 35  "), "{text}");
        }
        household.room.produce.clear();
        assert!(section(&StoredReport::of(&household, &example::year()), UnitSystem::Metric).is_empty());
    }
}

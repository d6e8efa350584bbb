//! What is stored: heat capacity, freezing point, respiration and transpiration of each crop.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::constants::ZERO_CELSIUS_K;

/// Heat of respiration for each milligram of carbon dioxide, J. The same as 2.972 mW/kg for each mg/(kg h).
///
/// Source: Becker and Fricke, Transpiration and respiration of fruits and vegetables, Science et Technique
/// du Froid 1996-6, 110-121. From memory, to be verified: the number; USDA Agriculture Handbook 66 reckons 61 kcal/(t day)
/// for each mg/(kg h), 0.6 % less.
pub const RESPIRATION_HEAT_J_PER_MG: f64 = 10.7;

/// Specific heat above freezing of what holds a share of water, J/(kg K).
///
/// `c = 0.84 + 3.35 x` kJ/(kg K), x the share of water by mass. A newer formula (Chen 1985) gives
/// 0.4 kJ/(kg K) more for the driest crop, 0.05 to 0.25 for the others.
///
/// # Source
/// Siebel's rule, in the form 0.008 a + 0.200 Btu/(lb °F) with a in per cent. Checked: original read, UC Davis
/// Postharvest Center, Ask the Produce Docs (Thompson). It is what USDA Agriculture Handbook 66 prints.
pub fn specific_heat_siebel_j_per_kg_k(water_frac: f64) -> f64 {
    840.0 + 3350.0 * water_frac
}

/// Heat of respiration, W/kg, of what gives off so much carbon dioxide, mg/(kg h).
///
/// # Source
/// [`RESPIRATION_HEAT_J_PER_MG`].
pub fn respiration_heat_w_per_kg(carbon_dioxide_mg_per_kg_h: f64) -> f64 {
    carbon_dioxide_mg_per_kg_h * RESPIRATION_HEAT_J_PER_MG / 3600.0
}

/// Crops of the table.
const CROPS: &str = include_str!("crops.csv");

/// A row of the table, as it stands there. The head of the file explains the columns.
#[derive(Debug, Clone, Deserialize)]
struct Row {
    name: String,
    water_percent: f64,
    freezing_degc: f64,
    chilling_degc: Option<f64>,
    store_degc: String,
    store_rh_percent: String,
    life: String,
    weeks_low: f64,
    weeks_high: f64,
    mg_0: Option<f64>,
    mg_5: Option<f64>,
    mg_10: Option<f64>,
    mg_15: Option<f64>,
    mg_20: Option<f64>,
    low_0: Option<f64>,
    low_5: Option<f64>,
    low_10: Option<f64>,
    low_15: Option<f64>,
    low_20: Option<f64>,
    high_0: Option<f64>,
    high_5: Option<f64>,
    high_10: Option<f64>,
    high_15: Option<f64>,
    high_20: Option<f64>,
    transpiration: Option<f64>,
    kin: Option<String>,
    ethylene: Option<Ethylene>,
    water_source: String,
    storage_source: String,
    chilling_source: String,
    respiration_source: String,
    range_source: String,
    transpiration_source: String,
    ethylene_source: String,
}

/// What a crop has to do with ethylene, the gas with which fruit ripens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Ethylene {
    /// Gives off much of it.
    Gives,
    /// Is harmed by it: turns yellow, bitter or soft.
    Suffers,
}

/// Which value of the printed range of respiration is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum RespirationLevel {
    /// The lowest printed.
    Low,
    /// The middle.
    #[default]
    Middle,
    /// The highest printed.
    High,
}

impl Row {
    fn respiration_mg(&self) -> [Option<f64>; 5] {
        [self.mg_0, self.mg_5, self.mg_10, self.mg_15, self.mg_20]
    }

    /// The printed end of the range; none in the middle.
    fn end_mg(&self, level: RespirationLevel) -> [Option<f64>; 5] {
        match level {
            RespirationLevel::Low => [self.low_0, self.low_5, self.low_10, self.low_15, self.low_20],
            RespirationLevel::Middle => [None; 5],
            RespirationLevel::High => [self.high_0, self.high_5, self.high_10, self.high_15, self.high_20],
        }
    }
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_rows(CROPS).expect("the table is part of the program and a test reads every row"));

fn read_rows(table: &str) -> Result<Vec<Row>, csv::Error> {
    csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(table.as_bytes()).deserialize().collect()
}

/// Fills the cells that no source gave, five degrees apart: between two given cells and beyond the
/// last of them along the straight line of the logarithms through the two nearest given ones.
///
/// Common practice, no source: respiration grows by about the same factor with each step of
/// temperature. At least two cells have to be given, else the missing ones stay missing.
fn fill_log_linear(cells: [Option<f64>; 5]) -> [Option<f64>; 5] {
    let given: Vec<(f64, f64)> = cells
        .iter()
        .enumerate()
        .filter_map(|(place, cell)| cell.map(|value| (place as f64, libm::log(value))))
        .collect();
    let mut places = 0..5;
    cells.map(|cell| {
        let place = places.next().expect("five cells, five places") as f64;
        cell.or_else(|| {
            let above = given.iter().filter(|(at, _)| *at < place).count().clamp(1, given.len().max(2) - 1);
            let (from, to) = (given.get(above - 1)?, given.get(above)?);
            let share = (place - from.0) / (to.0 - from.0);
            Some(libm::exp(from.1 + share * (to.1 - from.1)))
        })
    })
}

/// The share of the middle at an end of the range, five degrees apart: where the end is not printed, the share at the nearest
/// printed cell, the colder of two as near; 1 where none is.
///
/// Common practice, no source: a lot that breathes little when cold breathes little when warm.
fn shares_of_the_middle(ends: [Option<f64>; 5], middles: [f64; 5]) -> [f64; 5] {
    let printed: Vec<(usize, f64)> =
        (0..5).filter_map(|place| ends[place].map(|end| (place, end / middles[place]))).collect();
    std::array::from_fn(|place| {
        printed.iter().min_by_key(|(at, _)| at.abs_diff(place)).map_or(1.0, |(_, share)| *share)
    })
}

/// Numbers of an advice such as `-1 to 4`: lowest and highest.
fn ends_of_advice(advice: &str) -> Option<(f64, f64)> {
    let (low, high) = advice.split_once(" to ").unwrap_or((advice, advice));
    Some((low.parse().ok()?, high.parse().ok()?))
}

/// A crop of the table: a handle to its row.
///
/// Of all these numbers **respiration is the least certain, by a factor of about two** either way:
/// mature stored potatoes near 5 °C are put anywhere from 9 to 36 mW/kg, by cultivar, maturity,
/// injury and time in store. Transpiration depends as much on the skin's state.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Crop(usize);

impl std::fmt::Debug for Crop {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Crop({})", self.name())
    }
}

/// How a crop is advised to be stored, in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StorageAdvice {
    /// Temperature, °C.
    pub temperature_degc: &'static str,
    /// Relative humidity, %.
    pub humidity_percent: &'static str,
    /// How long it keeps so.
    pub life: &'static str,
}

/// Where a crop's numbers come from; each text begins with its trust word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CropSources {
    /// Water content, and with it the specific heat.
    pub water: &'static str,
    /// Storage advice and freezing point.
    pub storage: &'static str,
    /// Injury by cold; empty where none is told.
    pub chilling: &'static str,
    /// Respiration; empty where none was found.
    pub respiration: &'static str,
    /// The range of respiration; empty where none was found.
    pub range: &'static str,
    /// Transpiration; empty where none was found.
    pub transpiration: &'static str,
    /// Ethylene; empty where nothing is told.
    pub ethylene: &'static str,
}

impl Crop {
    fn row(self) -> &'static Row {
        &ROWS[self.0]
    }

    /// Every crop, in order of name.
    pub fn all() -> impl Iterator<Item = Crop> {
        (0..ROWS.len()).map(Crop)
    }

    /// The crop of that name, if there is one.
    pub fn by_name(name: &str) -> Option<Self> {
        Self::all().find(|crop| crop.name() == name)
    }

    /// The names of all crops, in order.
    pub fn names() -> Vec<&'static str> {
        Self::all().map(Self::name).collect()
    }

    /// The crop's name.
    pub fn name(self) -> &'static str {
        &self.row().name
    }

    /// Specific heat above freezing, J/(kg K), by [`specific_heat_siebel_j_per_kg_k`].
    pub fn specific_heat_j_per_kg_k(self) -> f64 {
        specific_heat_siebel_j_per_kg_k(self.row().water_percent / 100.0)
    }

    /// Heat of respiration, W/kg, at 0, 5, 10, 15 and 20 °C, at a level of the printed range; the middle where no range is
    /// printed, 0 where no source gives any (see [`Crop::respires`]). Uncertain by a factor of about two either way.
    pub fn respiration_w_per_kg(self, level: RespirationLevel) -> [f64; 5] {
        let row = self.row();
        if !self.respires() {
            return [0.0; 5];
        }
        let middles = fill_log_linear(row.respiration_mg())
            .map(|mg_per_kg_h| mg_per_kg_h.expect("a test finds two cells or none in every row"));
        let shares = shares_of_the_middle(row.end_mg(level), middles);
        std::array::from_fn(|place| respiration_heat_w_per_kg(middles[place] * shares[place]))
    }

    /// Whether a source gives its respiration.
    pub fn respires(self) -> bool {
        self.row().respiration_mg().iter().any(Option::is_some)
    }

    /// Whether a range of its respiration is printed.
    pub fn has_respiration_range(self) -> bool {
        self.row().end_mg(RespirationLevel::High).iter().any(Option::is_some)
    }

    /// Highest freezing point, K; where sources disagree the highest.
    pub fn freezing_k(self) -> f64 {
        self.row().freezing_degc + ZERO_CELSIUS_K
    }

    /// Temperature below which it is injured by cold though it does not freeze, K; none where no source calls it injured.
    pub fn chilling_k(self) -> Option<f64> {
        self.row().chilling_degc.map(|degc| degc + ZERO_CELSIUS_K)
    }

    /// Lowest and highest temperature advised for storage, K.
    pub fn store_k(self) -> (f64, f64) {
        let (low, high) = ends_of_advice(&self.row().store_degc).expect("a test reads every advice");
        (low + ZERO_CELSIUS_K, high + ZERO_CELSIUS_K)
    }

    /// Lowest and highest relative humidity advised for storage, as fractions.
    pub fn store_humidity_frac(self) -> (f64, f64) {
        let (low, high) = ends_of_advice(&self.row().store_rh_percent).expect("a test reads every advice");
        (low / 100.0, high / 100.0)
    }

    /// Shortest and longest time that it keeps as advised, weeks.
    pub fn life_weeks(self) -> (f64, f64) {
        (self.row().weeks_low, self.row().weeks_high)
    }

    /// What it has to do with ethylene, where a source tells.
    pub fn ethylene(self) -> Option<Ethylene> {
        self.row().ethylene
    }

    /// Transpiration coefficient, kg of water for each kg of crop, second and Pa of vapour pressure below saturation; 0 where
    /// none was found (see [`Crop::transpires`]).
    pub fn transpiration_per_s_pa(self) -> f64 {
        self.row().transpiration.unwrap_or(0.0) * 1e-12
    }

    /// Whether a source gives its transpiration or that of its kin.
    pub fn transpires(self) -> bool {
        self.row().transpiration.is_some()
    }

    /// The crop whose transpiration coefficient stands in where its own was not found.
    pub fn transpiration_kin(self) -> Option<&'static str> {
        self.row().kin.as_deref()
    }

    /// How it is advised to be stored.
    pub fn storage_advice(self) -> StorageAdvice {
        let row = self.row();
        StorageAdvice {
            temperature_degc: &row.store_degc,
            humidity_percent: &row.store_rh_percent,
            life: &row.life,
        }
    }

    /// Where its numbers come from.
    pub fn sources(self) -> CropSources {
        let row = self.row();
        CropSources {
            water: &row.water_source,
            storage: &row.storage_source,
            chilling: &row.chilling_source,
            respiration: &row.respiration_source,
            range: &row.range_source,
            transpiration: &row.transpiration_source,
            ethylene: &row.ethylene_source,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const TRUST_WORDS: [&str; 5] = [
        "Checked: original read",
        "Second hand: ",
        "Derived here:",
        "Common practice, no source:",
        "From memory, to be verified:",
    ];

    #[test]
    fn every_row_is_read() {
        let rows = read_rows(CROPS).expect("the table is well formed");
        let lines = CROPS.lines().filter(|line| !line.starts_with('#')).count() - 1;
        assert_eq!(rows.len(), lines);
        assert!(rows.len() >= 25);
        assert!(rows.windows(2).all(|pair| pair[0].name < pair[1].name), "not in order of name");
    }

    #[test]
    fn every_value_has_a_source_with_a_trust_word_and_every_source_a_value() {
        for crop in Crop::all() {
            let (row, sources) = (crop.row(), crop.sources());
            let told = [
                (sources.water, true),
                (sources.storage, true),
                (sources.chilling, row.chilling_degc.is_some()),
                (sources.respiration, crop.respires()),
                (sources.range, crop.has_respiration_range()),
                (sources.transpiration, crop.transpires()),
                (sources.ethylene, crop.ethylene().is_some()),
            ];
            for (text, has_value) in told {
                assert_eq!(!text.is_empty(), has_value, "{crop:?}: {text}");
                assert!(
                    text.is_empty() || TRUST_WORDS.iter().any(|word| text.starts_with(word)),
                    "{crop:?}: {text}"
                );
            }
            assert!(!crop.storage_advice().life.is_empty(), "{crop:?}");
        }
    }

    #[test]
    fn what_is_written_for_people_is_what_is_reckoned_with() {
        for crop in Crop::all() {
            let advice = crop.storage_advice();
            assert!(ends_of_advice(advice.temperature_degc).is_some(), "{crop:?}");
            assert!(ends_of_advice(advice.humidity_percent).is_some(), "{crop:?}");
            let (span, unit) = advice.life.rsplit_once(' ').expect("a span and its unit");
            let weeks = match unit {
                "days" => 1.0 / 7.0,
                "weeks" => 1.0,
                "months" => 365.25 / 7.0 / 12.0,
                other => panic!("{crop:?} keeps so many {other}"),
            };
            let (low, high) = ends_of_advice(span).expect("one or two numbers");
            // One decimal is written.
            assert_relative_eq!(crop.life_weeks().0, low * weeks, epsilon = 0.051);
            assert_relative_eq!(crop.life_weeks().1, high * weeks, epsilon = 0.051);
        }
    }

    #[test]
    fn advice_lies_between_freezing_and_a_warm_cellar() {
        for crop in Crop::all() {
            let (low_k, high_k) = crop.store_k();
            // Advised close to freezing at most: pears are held 0.1 K and garlic 0.2 K below the highest freezing point
            // that any source has.
            assert!(low_k >= crop.freezing_k() - 0.21 && low_k <= high_k, "{crop:?}");
            assert!(high_k <= ZERO_CELSIUS_K + 16.0, "{crop:?}");
            let (dry, damp) = crop.store_humidity_frac();
            assert!((0.5..=damp).contains(&dry) && damp <= 1.0, "{crop:?}");
            // Nobody is advised to store where the crop is injured.
            assert!(crop.chilling_k().is_none_or(|k| k > ZERO_CELSIUS_K && k <= low_k), "{crop:?}");
            let (short, long) = crop.life_weeks();
            assert!((1.0..=long).contains(&short) && long < 55.0, "{crop:?}");
        }
    }

    #[test]
    fn low_and_high_respiration_enclose_the_middle() {
        use RespirationLevel::{High, Low, Middle};
        for crop in Crop::all() {
            let [low, middle, high] = [Low, Middle, High].map(|level| crop.respiration_w_per_kg(level));
            for place in 0..5 {
                // 0.5 %: ends turned from mW/kg and ml are written with two decimals.
                assert!(low[place] <= 1.005 * middle[place], "{crop:?} at {place}");
                assert!(high[place] >= 0.995 * middle[place], "{crop:?} at {place}");
                assert!(high[place] <= 5.0 * low[place], "{crop:?} at {place}: wider than any printed range");
            }
            assert_eq!(low != high, crop.has_respiration_range(), "{crop:?}");
        }
    }

    #[test]
    fn an_end_that_is_not_printed_keeps_the_share_of_the_nearest() {
        let middles = [1.0, 2.0, 4.0, 8.0, 16.0];
        let shares = shares_of_the_middle([Some(0.5), None, None, Some(6.0), None], middles);
        assert_eq!(shares, [0.5, 0.5, 0.75, 0.75, 0.75]);
        assert_eq!(shares_of_the_middle([None; 5], middles), [1.0; 5]);
    }

    #[test]
    fn every_row_is_in_its_physical_range() {
        for crop in Crop::all() {
            let row = crop.row();
            // Fresh produce is mostly water; garlic is the driest of all.
            assert!((55.0..96.0).contains(&row.water_percent), "{crop:?}");
            // Between ice and dry matter, and below water.
            assert!((2700.0..4100.0).contains(&crop.specific_heat_j_per_kg_k()), "{crop:?}");
            // Dissolved matter lowers the freezing point of water, by 1.86 K for each mole in a kilogram.
            assert!((-2.5..=-0.2).contains(&row.freezing_degc), "{crop:?}");
            // From sleeping apples to growing shoots.
            let respiration = crop.respiration_w_per_kg(RespirationLevel::Middle);
            assert!(
                !crop.respires() || respiration.iter().all(|heat| (0.007..1.0).contains(heat)),
                "{crop:?} {respiration:?}"
            );
            // From an apple's wax to a lettuce leaf.
            assert!(
                !crop.transpires() || (40e-12..8000e-12).contains(&crop.transpiration_per_s_pa()),
                "{crop:?}"
            );
            let cells = row.respiration_mg().iter().flatten().count();
            assert!(cells == 0 || cells >= 3, "{crop:?} has too few cells");
        }
    }

    #[test]
    fn every_row_grows_like_its_neighbours() {
        for crop in Crop::all().filter(|crop| crop.respires()) {
            let respiration = crop.respiration_w_per_kg(RespirationLevel::Middle);
            for pair in respiration.windows(2) {
                // Up to threefold in 5 K, the steepest that is printed (pears between 0 and 5 °C); garlic
                // and onion sleep so deep that they slow down or stay when warm.
                let sleeps = ["garlic", "onion"].contains(&crop.name());
                let least = if sleeps { 0.9 } else { 1.0 };
                let growth = pair[1] / pair[0];
                assert!((least..3.0).contains(&growth), "{crop:?} grows {growth} in 5 K: {respiration:?}");
            }
            // From cold store to kitchen: two to sixteen times in 20 K, bulbs and potatoes a little more than once.
            let whole = respiration[4] / respiration[0];
            assert!((1.5..16.0).contains(&whole), "{crop:?} grows {whole} in 20 K");
        }
    }

    #[test]
    fn kin_stand_in_with_their_own_coefficient() {
        for crop in Crop::all() {
            let Some(kin) = crop.transpiration_kin() else { continue };
            let kin = Crop::by_name(kin).expect("kin is a crop of the table");
            assert_eq!(kin.transpiration_kin(), None, "{crop:?} leans on a crop that leans on another");
            assert_eq!(crop.transpiration_per_s_pa(), kin.transpiration_per_s_pa(), "{crop:?}");
        }
    }

    #[test]
    fn missing_cells_lie_on_the_straight_line_of_logarithms() {
        let filled = fill_log_linear([None, Some(2.0), None, Some(8.0), None]).map(Option::unwrap);
        for (value, expected) in filled.into_iter().zip([1.0, 2.0, 4.0, 8.0, 16.0]) {
            // 1e-12: one logarithm and one exponential.
            assert_relative_eq!(value, expected, max_relative = 1e-12);
        }
        assert_eq!(fill_log_linear([None, Some(2.0), None, None, None])[0], None);
        assert_eq!(fill_log_linear([None; 5]), [None; 5]);
    }

    #[test]
    fn given_cells_are_kept_as_they_are() {
        let cells = [Some(8.0), Some(16.0), Some(24.0), Some(22.0), Some(20.0)];
        assert_eq!(fill_log_linear(cells), cells);
    }

    #[test]
    fn names_lead_back_to_their_crops() {
        for crop in Crop::all() {
            assert_eq!(Crop::by_name(crop.name()), Some(crop));
        }
        assert_eq!(Crop::by_name("mammoth"), None);
    }
}

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
    store_degc: String,
    store_rh_percent: String,
    life: String,
    mg_0: Option<f64>,
    mg_5: Option<f64>,
    mg_10: Option<f64>,
    mg_15: Option<f64>,
    mg_20: Option<f64>,
    transpiration: f64,
    kin: Option<String>,
    water_source: String,
    storage_source: String,
    respiration_source: String,
    transpiration_source: String,
}

impl Row {
    fn respiration_mg(&self) -> [Option<f64>; 5] {
        [self.mg_0, self.mg_5, self.mg_10, self.mg_15, self.mg_20]
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
    /// Respiration.
    pub respiration: &'static str,
    /// Transpiration.
    pub transpiration: &'static str,
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

    /// Heat of respiration, W/kg, at 0, 5, 10, 15 and 20 °C. Uncertain by a factor of about two either way.
    pub fn respiration_w_per_kg(self) -> [f64; 5] {
        fill_log_linear(self.row().respiration_mg()).map(|mg_per_kg_h| {
            respiration_heat_w_per_kg(mg_per_kg_h.expect("a test finds at least two cells in every row"))
        })
    }

    /// Highest freezing point, K; where sources disagree the highest.
    pub fn freezing_k(self) -> f64 {
        self.row().freezing_degc + ZERO_CELSIUS_K
    }

    /// Transpiration coefficient, kg of water for each kg of crop, second and Pa of vapour pressure below saturation.
    pub fn transpiration_per_s_pa(self) -> f64 {
        self.row().transpiration * 1e-12
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
            respiration: &row.respiration_source,
            transpiration: &row.transpiration_source,
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
        assert!(rows.len() >= 20);
        assert!(rows.windows(2).all(|pair| pair[0].name < pair[1].name), "not in order of name");
    }

    #[test]
    fn every_value_has_a_source_with_a_trust_word() {
        for crop in Crop::all() {
            let sources = crop.sources();
            for text in [sources.water, sources.storage, sources.respiration, sources.transpiration] {
                assert!(TRUST_WORDS.iter().any(|word| text.starts_with(word)), "{crop:?}: {text}");
            }
            let advice = crop.storage_advice();
            assert!(
                ![advice.temperature_degc, advice.humidity_percent, advice.life].contains(&""),
                "{crop:?}"
            );
        }
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
            assert!((-2.5..-0.2).contains(&row.freezing_degc), "{crop:?}");
            // From sleeping apples to growing shoots.
            let respiration = crop.respiration_w_per_kg();
            assert!(respiration.iter().all(|heat| (0.008..1.0).contains(heat)), "{crop:?} {respiration:?}");
            // From an apple's wax to a lettuce leaf.
            assert!((40e-12..8000e-12).contains(&crop.transpiration_per_s_pa()), "{crop:?}");
            assert!(row.respiration_mg().iter().flatten().count() >= 3, "{crop:?} has too few cells");
        }
    }

    #[test]
    fn every_row_grows_like_its_neighbours() {
        for crop in Crop::all() {
            let respiration = crop.respiration_w_per_kg();
            for pair in respiration.windows(2) {
                // Up to threefold in 5 K, the steepest that is printed (pears between 0 and 5 °C); garlic
                // and onion sleep so deep that they slow down or stay when warm.
                let sleeps = ["garlic", "onion"].contains(&crop.name());
                let least = if sleeps { 0.9 } else { 1.0 };
                let growth = pair[1] / pair[0];
                assert!((least..3.0).contains(&growth), "{crop:?} grows {growth} in 5 K: {respiration:?}");
            }
            // From cold store to kitchen: two to fifteen times in 20 K, bulbs and potatoes a little more than once.
            let whole = respiration[4] / respiration[0];
            assert!((1.5..15.0).contains(&whole), "{crop:?} grows {whole} in 20 K");
        }
    }

    #[test]
    fn kin_stand_in_with_their_own_coefficient() {
        for crop in Crop::all() {
            let Some(kin) = crop.transpiration_kin() else { continue };
            // Lettuce has a coefficient in the source, but no row here.
            if kin == "lettuce" {
                continue;
            }
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

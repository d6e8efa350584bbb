//! Lime that the year's cold water carries into the tank: an upper bound, because most of it leaves again with the water.

use serde::Serialize;

use crate::household::Household;
use crate::plant::Plant;
use crate::water::density_kg_m3;
use crate::year::Year;

/// Class of a water by its hardness.
///
/// Source: the scale of the US Geological Survey in whole mg/L of calcium carbonate: soft to 60, moderately hard from 61 to 120,
/// hard from 121 to 180, above that very hard. Second hand: three pages that quote it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WaterClass {
    /// To [`SOFT_UP_TO_KG_M3`].
    Soft,
    /// To [`MODERATELY_HARD_UP_TO_KG_M3`].
    ModeratelyHard,
    /// To [`HARD_UP_TO_KG_M3`].
    Hard,
    /// Above.
    VeryHard,
}

/// Upper edge of soft water, kg of calcium carbonate in a cubic metre. Source: as [`WaterClass`].
pub const SOFT_UP_TO_KG_M3: f64 = 0.060;
/// Upper edge of moderately hard water, kg/m3. Source: as [`WaterClass`].
pub const MODERATELY_HARD_UP_TO_KG_M3: f64 = 0.120;
/// Upper edge of hard water, kg/m3. Source: as [`WaterClass`].
pub const HARD_UP_TO_KG_M3: f64 = 0.180;

/// A hardness is in a class up to its edge and this much of it: a hardness in other units is a product of rounded numbers.
const EDGE_FRAC: f64 = 1e-9;

/// Share of the lime carried in that stayed in a household's storage heater in a year.
///
/// Source: a test for a water-treatment association (2009), 0.4 lb a year for each 5 grains per gallon. Second hand and weak: quoted by
/// a plumber's page, paid for by the association. Derived here: of 86 g/m3 in 50 gal/day (From memory, to be verified) it is 3 %.
pub const STAYED_FRAC: f64 = 0.03;

impl WaterClass {
    /// The class of a hardness, kg of calcium carbonate in a cubic metre, 0 or more.
    pub fn of(hardness_kg_m3: f64) -> Self {
        let up_to = |edge_kg_m3: f64| hardness_kg_m3 <= edge_kg_m3 * (1.0 + EDGE_FRAC);
        if up_to(SOFT_UP_TO_KG_M3) {
            Self::Soft
        } else if up_to(MODERATELY_HARD_UP_TO_KG_M3) {
            Self::ModeratelyHard
        } else if up_to(HARD_UP_TO_KG_M3) {
            Self::Hard
        } else {
            Self::VeryHard
        }
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Soft => "soft",
            Self::ModeratelyHard => "moderately hard",
            Self::Hard => "hard",
            Self::VeryHard => "very hard",
        }
    }
}

/// The year's cold water into the tank, and what of it is lime.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lime {
    /// Hardness of the water, kg of calcium carbonate in a cubic metre; `None` where it is not said.
    pub hardness_kg_m3: Option<f64>,
    /// Cold water that entered the tank for the taps, m3, measured cold.
    pub used_m3: f64,
    /// Cold water that entered it in the place of what was dumped, m3, measured cold.
    pub dumped_m3: f64,
    /// Hottest water that left the running pump, K; `None` where it never ran.
    pub made_k: Option<f64>,
    /// Hottest water in the tank, K; not finite of no time at all.
    pub tank_k: f64,
}

impl Lime {
    /// Of a household's year. As much cold water enters as is drawn and dumped.
    pub fn of(household: &Household, plant: &Plant, year: &Year) -> Self {
        let cold_k = plant.mains_k.iter().sum::<f64>() / plant.mains_k.len() as f64;
        let cold_kg_m3 = density_kg_m3(cold_k);
        let total = &year.total;
        Self {
            hardness_kg_m3: household.site.hardness.map(|hardness| hardness.value),
            used_m3: (total.mains_kg - total.dump_kg).max(0.0) / cold_kg_m3,
            dumped_m3: total.dump_kg / cold_kg_m3,
            made_k: (total.hottest_made_k > 0.0).then_some(total.hottest_made_k),
            tank_k: total.tank_top_k.max,
        }
    }

    /// All cold water that entered the tank, m3.
    pub fn water_m3(&self) -> f64 {
        self.used_m3 + self.dumped_m3
    }

    /// The hottest that the water became, K.
    pub fn hottest_k(&self) -> f64 {
        self.made_k.map_or(self.tank_k, |made_k| made_k.max(self.tank_k))
    }

    /// Most lime that a volume of such water, m3, can leave behind, kg: all that it carries. `None` where its hardness is not said.
    pub fn carried_kg(&self, water_m3: f64) -> Option<f64> {
        self.hardness_kg_m3.map(|hardness_kg_m3| hardness_kg_m3 * water_m3)
    }

    /// Class of the water; `None` where its hardness is not said.
    pub fn class(&self) -> Option<WaterClass> {
        self.hardness_kg_m3.map(WaterClass::of)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::units::{Kind, kilograms_per_cubic_metre};
    use approx::assert_relative_eq;

    /// The edges of the scale as printed in whole mg/L, and in the other units of a scenario.
    #[test]
    fn classes_of_the_geological_survey() {
        use WaterClass::{Hard, ModeratelyHard, Soft, VeryHard};
        for (text, class) in [
            ("0 mg/L", Soft),
            ("60 mg/L", Soft),
            ("61 mg/L", ModeratelyHard),
            ("120 mg/L", ModeratelyHard),
            ("121 mg/L", Hard),
            ("180 mg/L", Hard),
            ("181 mg/L", VeryHard),
            // 3.5 grains are 59.9, 10.5 grains 179.7 and 2 mmol/L 200.2 mg/L.
            ("3.5 gpg", Soft),
            ("10.5 gpg", Hard),
            ("2 mmol/L", VeryHard),
        ] {
            let kg_m3 = Kind::Hardness.read(text).expect("a hardness").si;
            assert_eq!(WaterClass::of(kg_m3), class, "{text}");
        }
    }

    /// By hand: 200 g/m3 in 200 L a day are 14.6 kg a year. What is dumped brings its own.
    #[test]
    fn lime_is_hardness_times_cold_water() {
        let (mut household, plant, mut year) = (example::household(), example::plant(), example::year());
        household.site.hardness = Some(kilograms_per_cubic_metre(0.200));
        // Water of 10 °C: 999.80 kg/m3 by IAPWS-IF97 at 0.3 MPa. 1e-4 for the pressure.
        year.total.mains_kg = 999.80 * (73.0 + 20.0);
        year.total.dump_kg = 999.80 * 20.0;
        let lime = Lime::of(&household, &plant, &year);
        assert_relative_eq!(lime.carried_kg(lime.used_m3).expect("it is said"), 14.6, max_relative = 1e-4);
        assert_relative_eq!(lime.carried_kg(lime.dumped_m3).expect("it is said"), 4.0, max_relative = 1e-4);
        assert_relative_eq!(lime.water_m3(), 93.0, max_relative = 1e-4);
        household.site.hardness = None;
        let lime = Lime::of(&household, &plant, &year);
        assert_eq!((lime.carried_kg(lime.used_m3), lime.class()), (None, None));
        year.total.hottest_made_k = 0.0;
        assert_eq!(Lime::of(&household, &plant, &year).hottest_k(), year.total.tank_top_k.max);
    }

    /// 0.4 lb of deposit a year for each 5 grains per gallon, at 50 gal a day: 3.1 % of what is carried in.
    #[test]
    fn the_share_that_stayed_follows_from_the_test() {
        let si = |kind: Kind, text: &str| kind.read(text).expect("a quantity").si;
        let carried_kg = si(Kind::Hardness, "5 gpg") * 365.0 * si(Kind::DailyVolume, "50 gal/day");
        // 0.4 and 5 are printed with one digit: an eighth of it.
        assert_relative_eq!(si(Kind::Mass, "0.4 lb") / carried_kg, STAYED_FRAC, max_relative = 0.125);
    }
}

//! How much hot water people use: what published studies counted, as mixed water at the tap.

use crate::constants::ZERO_CELSIUS_K;

/// Litres of a US gallon of 231 cubic inches.
const GALLON_L: f64 = 3.785_411_784;

/// Cold water that volumes of hot water are reckoned over where a study names none, °C. Common practice, no source: 10 °C, as in tests
/// of water heaters.
const COLD_DEGC: f64 = 10.0;

/// A published study, or a planning value of a standard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Study {
    /// Planning value for dwellings of medium comfort: 45 L at 60 °C for each person and day (40 simple, 55 high), cold water 10 °C.
    /// SIA 385/2:2015. Second hand: as given in a public planning text.
    Switzerland,
    /// 64 L for each person and day, 35 K warmer than cold: 2.6 kWh. IEA ECBCS Annex 42, Subtask A. Second hand: a text that quotes it.
    Germany,
    /// 139, 84, 67, 60, 59 and 58 L for each person and day with 1 to 6 occupants. Evarts and Swan 2013, Energy and Buildings 58, 58-65. Second
    /// hand: summaries of it. The temperature of that water is not in them: 55 °C, common practice, no source.
    Canada,
    /// 36 + 25 N L a day. UK Standard Assessment Procedure, SAP 2009. Second hand: copies of it; its mean rise of 37 K from memory, to be
    /// verified.
    UnitedKingdom,
    /// -4.84 + 18.6 N US gallons a day of mixed water at 105 °F, N occupants. Parker, Fairey and Lutz 2015, ASHRAE Transactions 121(2), equation 14.
    /// Second hand: FSEC-PF-464-15 as given in a summary.
    UnitedStates,
}

/// Litres for each person and day in Canadian homes with 1 to 6 occupants; more are taken as 6. Source: [`Study::Canada`].
const CANADA_L: [f64; 6] = [139.0, 84.0, 67.0, 60.0, 59.0, 58.0];

impl Study {
    /// Every study.
    pub const ALL: [Study; 5] =
        [Study::Switzerland, Study::Germany, Study::Canada, Study::UnitedKingdom, Study::UnitedStates];

    /// The country it comes from, in the order of [`Study::ALL`].
    pub const NAMES: [&'static str; 5] =
        ["Switzerland", "Germany", "Canada", "United Kingdom", "United States"];

    /// The country it comes from.
    pub fn name(self) -> &'static str {
        Self::NAMES[self as usize]
    }

    /// Where it was published, and how far that was read.
    pub fn source(self) -> &'static str {
        match self {
            Study::Switzerland => {
                "Second hand: SIA 385/2:2015, medium comfort, 45 L at 60 °C for each person (40 simple, 55 high)"
            }
            Study::Germany => "Second hand: IEA ECBCS Annex 42, 64 L for each person, 35 K warmer than cold",
            Study::Canada => {
                "Second hand: Evarts and Swan 2013, by number of occupants; taken as water of 55 °C"
            }
            Study::UnitedKingdom => {
                "Second hand: SAP 2009, 36 + 25 N litres; its mean rise of 37 K from memory, to be verified"
            }
            Study::UnitedStates => "Second hand: Parker, Fairey and Lutz 2015, mixed water of 105 °F",
        }
    }

    /// Hot water a day and how much warmer than cold it is: L and K.
    fn litres_and_rise(self, people: u32) -> (f64, f64) {
        let n = f64::from(people);
        match self {
            Study::Switzerland => (45.0 * n, 60.0 - COLD_DEGC),
            Study::Germany => (64.0 * n, 35.0),
            Study::Canada => (CANADA_L[people.clamp(1, 6) as usize - 1] * n, 55.0 - COLD_DEGC),
            Study::UnitedKingdom => (36.0 + 25.0 * n, 37.0),
            Study::UnitedStates => ((-4.84 + 18.6 * n) * GALLON_L, (105.0 - 32.0) / 1.8 - COLD_DEGC),
        }
    }

    /// Mixed water a day that carries the same heat at the tap, m3: `V (T_hot - T_cold)/(T_use - T_cold)`.
    ///
    /// # Arguments
    /// people: 1 or more; `use_k`: temperature at the tap, K, above 10 °C
    pub fn daily_m3(self, people: u32, use_k: f64) -> f64 {
        let (litres, rise_dk) = self.litres_and_rise(people);
        litres * rise_dk / (use_k - ZERO_CELSIUS_K - COLD_DEGC) / 1000.0
    }
}

/// Least, middle and most mixed water a day of all studies, m3: how far they lie apart is the best that is known of how far one household
/// may be from another.
///
/// # Arguments
/// people: 1 or more; `use_k`: temperature at the tap, K, above 10 °C
pub fn range_of_studies_m3(people: u32, use_k: f64) -> [f64; 3] {
    let mut all = Study::ALL.map(|study| study.daily_m3(people, use_k));
    all.sort_by(f64::total_cmp);
    [all[0], all[2], all[4]]
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// SIA 385/2: 40 L at 60 °C are 57.14 L at 45 °C over 10 °C, `V2 = V60 x 50/(T - Tc)`. 1e-4: the printed digits. The medium value of
    /// 45 L is 64.29 L.
    #[test]
    fn a_litre_of_hot_water_is_more_of_mixed_water() {
        let litres = 1000.0 * Study::Switzerland.daily_m3(1, ZERO_CELSIUS_K + 45.0);
        assert_relative_eq!(litres * 40.0 / 45.0, 57.14, max_relative = 1e-4);
    }

    /// Printed: 139, 168, 201, 240, 295, 348 L for households of 1 to 6 (Canada); 122 L is the UK mean at 2.4 to 3 people, between 36 + 25 N
    /// of 2 and of 4; 2.6 kWh for each person (Germany) at 1.163 kWh/(m3 K).
    #[test]
    fn households_use_what_is_printed() {
        let heat = |study: Study, people| study.litres_and_rise(people);
        for (people, litres) in [(1, 139.0), (2, 168.0), (3, 201.0), (4, 240.0), (5, 295.0), (6, 348.0)] {
            assert_eq!(heat(Study::Canada, people).0, litres);
        }
        assert!(heat(Study::UnitedKingdom, 2).0 < 122.0 && 122.0 < heat(Study::UnitedKingdom, 4).0);
        let (litres, rise_dk) = heat(Study::Germany, 1);
        assert_relative_eq!(litres / 1000.0 * rise_dk * 1.163, 2.6, epsilon = 0.05);
        // 18.6 gal more for each person: 70.4 L.
        let us = |people| heat(Study::UnitedStates, people).0;
        assert_relative_eq!(us(4) - us(3), 70.41, epsilon = 0.005);
    }

    #[test]
    fn the_range_holds_every_study_and_grows_with_the_people() {
        let use_k = ZERO_CELSIUS_K + 40.0;
        let mut before = 0.0;
        for people in 1..=8 {
            let [least, middle, most] = range_of_studies_m3(people, use_k);
            assert!(least <= middle && middle <= most && least > 0.0);
            let inside = |study: Study| (least..=most).contains(&study.daily_m3(people, use_k));
            assert!(Study::ALL.into_iter().all(inside));
            assert!(middle > before);
            before = middle;
        }
    }
}

//! Tapping patterns of standards: when in the day hot water is drawn, and in which shares.

use crate::constants::ZERO_CELSIUS_K;
use crate::water;

use super::TapDraw;

/// Litres of a US gallon of 231 cubic inches.
const GALLON_L: f64 = 3.785_411_784;

/// Joules of a kilowatt hour.
const KILOWATT_HOUR_J: f64 = 3.6e6;

/// Seconds of an hour.
const HOUR_S: f64 = 3600.0;

/// One draw of a tapping pattern.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draw {
    /// Start, s after midnight.
    pub start_s: f64,
    /// Useful energy of the draw in the pattern, kWh.
    pub energy_kwh: f64,
    /// Flow at the tap, L/min.
    pub flow_l_per_min: f64,
    /// Temperature from which on the pattern counts the heat as useful, °C. Not used for the flow.
    pub useful_degc: f64,
    /// Temperature that the pattern wants to be reached during the draw, °C; `None`: nothing wanted.
    /// Not used for the flow.
    pub peak_degc: Option<f64>,
}

const fn draw(hour: u32, minute: u32, energy_kwh: f64, flow: f64, useful: f64, peak: Option<f64>) -> Draw {
    Draw {
        start_s: (hour * 3600 + minute * 60) as f64,
        energy_kwh,
        flow_l_per_min: flow,
        useful_degc: useful,
        peak_degc: peak,
    }
}

/// The small draw that all load profiles repeat all day.
const fn small(hour: u32, minute: u32) -> Draw {
    draw(hour, minute, 0.105, 3.0, 25.0, None)
}

/// Load profile S. Source: Commission Regulation (EU) No 814/2013, Annex III, Table 1. Checked: original read, every cell.
const PROFILE_S: [Draw; 11] = [
    small(7, 0),
    small(7, 30),
    small(8, 30),
    small(9, 30),
    small(11, 30),
    small(11, 45),
    draw(12, 45, 0.315, 4.0, 10.0, Some(55.0)),
    small(18, 0),
    draw(18, 15, 0.105, 3.0, 40.0, None),
    draw(20, 30, 0.42, 4.0, 10.0, Some(55.0)),
    draw(21, 30, 0.525, 5.0, 45.0, None),
];

/// Load profile M. Source: Commission Regulation (EU) No 814/2013, Annex III, Table 1. Checked: original read, every cell.
const PROFILE_M: [Draw; 23] = [
    small(7, 0),
    draw(7, 5, 1.4, 6.0, 40.0, None),
    small(7, 30),
    small(8, 1),
    small(8, 15),
    small(8, 30),
    small(8, 45),
    small(9, 0),
    small(9, 30),
    draw(10, 30, 0.105, 3.0, 10.0, Some(40.0)),
    small(11, 30),
    small(11, 45),
    draw(12, 45, 0.315, 4.0, 10.0, Some(55.0)),
    small(14, 30),
    small(15, 30),
    small(16, 30),
    small(18, 0),
    draw(18, 15, 0.105, 3.0, 40.0, None),
    draw(18, 30, 0.105, 3.0, 40.0, None),
    small(19, 0),
    draw(20, 30, 0.735, 4.0, 10.0, Some(55.0)),
    small(21, 15),
    draw(21, 30, 1.4, 6.0, 40.0, None),
];

/// Load profile L. Source: Commission Regulation (EU) No 814/2013, Annex III, Table 1. Checked: original read, every cell.
const PROFILE_L: [Draw; 24] = [
    small(7, 0),
    draw(7, 5, 1.4, 6.0, 40.0, None),
    small(7, 30),
    small(7, 45),
    draw(8, 5, 3.605, 10.0, 10.0, Some(40.0)),
    small(8, 25),
    small(8, 30),
    small(8, 45),
    small(9, 0),
    small(9, 30),
    draw(10, 30, 0.105, 3.0, 10.0, Some(40.0)),
    small(11, 30),
    small(11, 45),
    draw(12, 45, 0.315, 4.0, 10.0, Some(55.0)),
    small(14, 30),
    small(15, 30),
    small(16, 30),
    small(18, 0),
    draw(18, 15, 0.105, 3.0, 40.0, None),
    draw(18, 30, 0.105, 3.0, 40.0, None),
    small(19, 0),
    draw(20, 30, 0.735, 4.0, 10.0, Some(55.0)),
    draw(21, 0, 3.605, 10.0, 10.0, Some(40.0)),
    small(21, 30),
];

/// Load profile XL. Source: Commission Regulation (EU) No 814/2013, Annex III, Table 1. Checked: original read, every cell.
const PROFILE_XL: [Draw; 30] = [
    small(7, 0),
    draw(7, 15, 1.82, 6.0, 40.0, None),
    small(7, 26),
    draw(7, 45, 4.42, 10.0, 10.0, Some(40.0)),
    small(8, 1),
    small(8, 15),
    small(8, 30),
    small(8, 45),
    small(9, 0),
    small(9, 30),
    small(10, 0),
    draw(10, 30, 0.105, 3.0, 10.0, Some(40.0)),
    small(11, 0),
    small(11, 30),
    small(11, 45),
    draw(12, 45, 0.735, 4.0, 10.0, Some(55.0)),
    small(14, 30),
    small(15, 0),
    small(15, 30),
    small(16, 0),
    small(16, 30),
    small(17, 0),
    small(18, 0),
    draw(18, 15, 0.105, 3.0, 40.0, None),
    draw(18, 30, 0.105, 3.0, 40.0, None),
    small(19, 0),
    draw(20, 30, 0.735, 4.0, 10.0, Some(55.0)),
    draw(20, 46, 4.42, 10.0, 10.0, Some(40.0)),
    small(21, 15),
    draw(21, 30, 4.42, 10.0, 10.0, Some(40.0)),
];

/// Draw of a pattern that counts gallons of hot water.
///
/// # Source
/// US DOE test procedure, 10 CFR 430 Subpart B Appendix E, Tables III.1 to III.4. Second hand: the totals of the day, 10, 38, 55 and 84 gal, as
/// given in a public library of house models. From memory, to be verified: the single draws, which add up to them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GallonDraw {
    /// Start, s after the first draw.
    pub start_s: f64,
    /// Hot water, gal.
    pub gal: f64,
    /// Flow, gal/min.
    pub gal_per_min: f64,
}

const fn gallons(hour: u32, minute: u32, gal: f64, gal_per_min: f64) -> GallonDraw {
    GallonDraw { start_s: (hour * 3600 + minute * 60) as f64, gal, gal_per_min }
}

/// Draw pattern "very small". Source: as [`GallonDraw`].
const VERY_SMALL: [GallonDraw; 9] = [
    gallons(0, 0, 2.0, 1.0),
    gallons(1, 0, 1.0, 1.0),
    gallons(1, 5, 0.5, 1.0),
    gallons(1, 10, 0.5, 1.0),
    gallons(1, 15, 0.5, 1.0),
    gallons(8, 0, 1.0, 1.0),
    gallons(8, 15, 2.0, 1.0),
    gallons(9, 0, 1.5, 1.0),
    gallons(9, 15, 1.0, 1.0),
];

/// Draw pattern "low". Source: as [`GallonDraw`].
const LOW: [GallonDraw; 11] = [
    gallons(0, 0, 15.0, 1.7),
    gallons(0, 30, 2.0, 1.0),
    gallons(1, 0, 1.0, 1.0),
    gallons(10, 30, 6.0, 1.7),
    gallons(11, 30, 4.0, 1.7),
    gallons(12, 0, 1.0, 1.0),
    gallons(12, 45, 1.0, 1.0),
    gallons(12, 50, 1.0, 1.0),
    gallons(16, 15, 2.0, 1.0),
    gallons(16, 45, 2.0, 1.7),
    gallons(17, 0, 3.0, 1.7),
];

/// Draw pattern "medium". Source: as [`GallonDraw`].
const MEDIUM: [GallonDraw; 12] = [
    gallons(0, 0, 15.0, 1.7),
    gallons(0, 30, 2.0, 1.0),
    gallons(1, 40, 9.0, 1.7),
    gallons(10, 30, 9.0, 1.7),
    gallons(11, 30, 5.0, 1.7),
    gallons(12, 0, 1.0, 1.0),
    gallons(12, 45, 1.0, 1.0),
    gallons(12, 50, 1.0, 1.0),
    gallons(16, 0, 1.0, 1.0),
    gallons(16, 15, 2.0, 1.0),
    gallons(16, 45, 2.0, 1.7),
    gallons(17, 0, 7.0, 1.7),
];

/// Draw pattern "high". Source: as [`GallonDraw`].
const HIGH: [GallonDraw; 14] = [
    gallons(0, 0, 27.0, 3.0),
    gallons(0, 30, 2.0, 1.0),
    gallons(0, 40, 1.0, 1.0),
    gallons(1, 40, 9.0, 1.7),
    gallons(10, 30, 15.0, 3.0),
    gallons(11, 30, 5.0, 1.7),
    gallons(12, 0, 1.0, 1.0),
    gallons(12, 45, 1.0, 1.0),
    gallons(12, 50, 1.0, 1.0),
    gallons(16, 0, 2.0, 1.0),
    gallons(16, 15, 2.0, 1.0),
    gallons(16, 30, 2.0, 1.7),
    gallons(16, 45, 2.0, 1.7),
    gallons(17, 0, 14.0, 3.0),
];

/// Time of day at which a pattern in gallons begins, s: the procedure counts from its first draw, whatever the clock.
/// Common practice, no source: with the first shower; 5:00 to 7:00.
const FIRST_DRAW_S: f64 = 6.0 * HOUR_S;

/// Share of the day's water in each hour, the hour that ends at 1:00 first.
///
/// # Source
/// ASHRAE 90.2, Table 4.6.1.1(1). Second hand: the row as given in public code that quotes the table.
pub const HOURLY_SHARES: [f64; 24] = [
    0.0085, 0.0085, 0.0085, 0.0085, 0.0085, 0.0100, 0.0750, 0.0750, 0.0650, 0.0650, 0.0650, 0.0460, 0.0460,
    0.0370, 0.0370, 0.0370, 0.0370, 0.0630, 0.0630, 0.0630, 0.0630, 0.0510, 0.0510, 0.0085,
];

/// Flow at which the water of an hour runs, L/min. Common practice, no source: a shower or an open tap, 4 to 10; an hour's
/// water that dripped all hour long would light no burner.
const HOURLY_FLOW_L_PER_MIN: f64 = 6.0;

/// A tapping pattern: when in the day hot water is drawn, and in which shares.
///
/// A pattern gives the shape of the day. How much is drawn is the household's own figure, or the pattern's
/// own amount where it has one ([`Pattern::own_daily_m3`]).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pattern {
    /// 11 draws, dishes by hand, no shower.
    S,
    /// 23 draws, two of them showers; no bath.
    M,
    /// 24 draws with two baths, morning and evening.
    L,
    /// 30 draws with three baths.
    Xl,
    /// 9 small draws of the test procedure.
    VerySmall,
    /// 11 draws.
    Low,
    /// 12 draws.
    Medium,
    /// 14 draws.
    High,
    /// One draw every hour, with its share of the day.
    Hourly,
}

/// What a pattern is made of.
#[derive(Debug, Clone, Copy)]
enum Rows {
    /// Load profile: energies.
    Profile(&'static [Draw]),
    /// Test procedure: gallons of hot water.
    Gallons(&'static [GallonDraw]),
    /// Shares of the hours.
    Hours,
}

impl Pattern {
    /// Every pattern.
    pub const ALL: [Pattern; 9] = [
        Pattern::S,
        Pattern::M,
        Pattern::L,
        Pattern::Xl,
        Pattern::VerySmall,
        Pattern::Low,
        Pattern::Medium,
        Pattern::High,
        Pattern::Hourly,
    ];

    /// The patterns' names in their standards, in the order of [`Pattern::ALL`]; the hourly shares have none there.
    pub const NAMES: [&'static str; 9] =
        ["S", "M", "L", "XL", "very small", "low", "medium", "high", "hourly"];

    /// The pattern's name.
    pub fn name(self) -> &'static str {
        Self::NAMES[self as usize]
    }

    /// The pattern of that name, if there is one.
    pub fn by_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|pattern| pattern.name() == name)
    }

    fn rows(self) -> Rows {
        match self {
            Pattern::S => Rows::Profile(&PROFILE_S),
            Pattern::M => Rows::Profile(&PROFILE_M),
            Pattern::L => Rows::Profile(&PROFILE_L),
            Pattern::Xl => Rows::Profile(&PROFILE_XL),
            Pattern::VerySmall => Rows::Gallons(&VERY_SMALL),
            Pattern::Low => Rows::Gallons(&LOW),
            Pattern::Medium => Rows::Gallons(&MEDIUM),
            Pattern::High => Rows::Gallons(&HIGH),
            Pattern::Hourly => Rows::Hours,
        }
    }

    /// The draws of a load profile in order of time; none for the other patterns.
    pub fn draws(self) -> &'static [Draw] {
        match self.rows() {
            Rows::Profile(draws) => draws,
            _ => &[],
        }
    }

    /// The draws of a pattern in gallons in order of time; none for the others.
    pub fn gallon_draws(self) -> &'static [GallonDraw] {
        match self.rows() {
            Rows::Gallons(draws) => draws,
            _ => &[],
        }
    }

    /// Energy of a load profile's whole day, kWh: the regulation's Qref. 0 for the other patterns.
    pub fn reference_energy_kwh(self) -> f64 {
        self.draws().iter().map(|draw| draw.energy_kwh).sum()
    }

    /// Hot water of the whole day of a pattern in gallons. 0 for the others.
    pub fn reference_gal(self) -> f64 {
        self.gallon_draws().iter().map(|draw| draw.gal).sum()
    }

    /// Heat that the pattern's own day carries, J, and the cold water it counts from, K; `None` for hourly shares.
    ///
    /// # Source
    /// Load profiles: Qref of the regulation; cold water of 10 °C (EN 16147. From memory, to be verified). Gallons: 125 °F over
    /// 58 °F (Appendix E, section 2. From memory, to be verified), measured hot.
    fn own_heat(self) -> Option<(f64, f64)> {
        match self.rows() {
            Rows::Profile(_) => Some((self.reference_energy_kwh() * KILOWATT_HOUR_J, ZERO_CELSIUS_K + 10.0)),
            Rows::Gallons(_) => {
                let kelvin = |degf: f64| (degf - 32.0) / 1.8 + ZERO_CELSIUS_K;
                let (cold_k, hot_k) = (kelvin(58.0), kelvin(125.0));
                let kg = self.reference_gal() * GALLON_L / 1000.0 * water::density_kg_m3(hot_k);
                Some((kg * (water::enthalpy_j_per_kg(hot_k) - water::enthalpy_j_per_kg(cold_k)), cold_k))
            }
            Rows::Hours => None,
        }
    }

    /// Mixed water a day that carries the pattern's own heat, m3; `None` for hourly shares, which have no amount.
    ///
    /// # Arguments
    /// `use_k`: temperature of the mixed water, K, above the pattern's cold water of 10 or 14.4 °C
    pub fn own_daily_m3(self, use_k: f64) -> Option<f64> {
        let (heat_j, cold_k) = self.own_heat()?;
        let kg = heat_j / (water::enthalpy_j_per_kg(use_k) - water::enthalpy_j_per_kg(cold_k));
        Some(kg / water::density_kg_m3(use_k))
    }

    /// The draws of a day of `daily_kg` at use temperature.
    ///
    /// Every draw has the share of the day's water that it has of the pattern's energy, gallons or hours; its flow is
    /// the pattern's, and its length follows. So the draws are **volume-limited**: the same water runs however warm it
    /// comes. All of it is wanted at `use_k`: what a load profile calls its peak, up to 55 °C, is a condition of its
    /// test, and a household whose taps give 40 °C mixes no hotter water.
    ///
    /// # Arguments
    /// - `daily_kg`: water a day at the tap, kg, 0 or more
    /// - `litre_kg`: mass of a litre at use temperature, kg, above 0
    /// - `use_k`: temperature wanted, K
    pub fn taps(self, daily_kg: f64, litre_kg: f64, use_k: f64) -> Vec<TapDraw> {
        let day = DayWater { daily_kg, litre_kg, use_k };
        match self.rows() {
            Rows::Profile(draws) => {
                let day_kwh = self.reference_energy_kwh();
                draws
                    .iter()
                    .map(|one| day.draw(one.start_s, (one.energy_kwh, day_kwh), one.flow_l_per_min))
                    .collect()
            }
            Rows::Gallons(draws) => {
                let day_gal = self.reference_gal();
                draws
                    .iter()
                    .map(|one| {
                        day.draw(FIRST_DRAW_S + one.start_s, (one.gal, day_gal), one.gal_per_min * GALLON_L)
                    })
                    .collect()
            }
            Rows::Hours => hourly_taps(&HOURLY_SHARES, daily_kg, litre_kg, use_k),
        }
    }
}

/// The draws of a day whose hours have the given shares: one of 6 L/min in the middle of each hour that has
/// a share.
///
/// # Arguments
/// - `shares`: of the day's water, the hour that ends at 1:00 first; 0 or more, at least one above 0. They count by what they are of
///   their sum.
/// - `daily_kg`, `litre_kg`, `use_k`: as for [`Pattern::taps`]
pub fn hourly_taps(shares: &[f64; 24], daily_kg: f64, litre_kg: f64, use_k: f64) -> Vec<TapDraw> {
    let day = DayWater { daily_kg, litre_kg, use_k };
    let sum: f64 = shares.iter().sum();
    let drawn = shares.iter().enumerate().filter(|(_, share)| **share > 0.0);
    drawn
        .map(|(hour, share)| day.draw((hour as f64 + 0.5) * HOUR_S, (*share, sum), HOURLY_FLOW_L_PER_MIN))
        .collect()
}

/// A day's water at the taps.
#[derive(Debug, Clone, Copy)]
struct DayWater {
    daily_kg: f64,
    litre_kg: f64,
    use_k: f64,
}

impl DayWater {
    /// A draw of a share, given as a part and the whole.
    fn draw(self, start_s: f64, share: (f64, f64), l_per_min: f64) -> TapDraw {
        let kg_s = l_per_min * self.litre_kg / 60.0;
        // Multiplied first: a share of the whole is exact where it is the whole.
        let length_s = self.daily_kg * share.0 / share.1 / kg_s;
        TapDraw { start_s, length_s, kg_s, use_k: self.use_k, ..TapDraw::default() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lead_back_to_their_patterns() {
        for pattern in Pattern::ALL {
            assert_eq!(Pattern::by_name(pattern.name()), Some(pattern));
        }
        assert_eq!(Pattern::by_name("XXL"), None);
    }

    #[test]
    fn every_row_is_in_order_and_in_range() {
        for pattern in Pattern::ALL {
            assert!(pattern.draws().windows(2).all(|pair| pair[0].start_s < pair[1].start_s));
            assert!(pattern.gallon_draws().windows(2).all(|pair| pair[0].start_s < pair[1].start_s));
            for draw in pattern.draws() {
                assert!((7.0 * 3600.0..22.0 * 3600.0).contains(&draw.start_s), "{draw:?}");
                assert!((0.1..4.5).contains(&draw.energy_kwh), "{draw:?}");
                assert!((3.0..=10.0).contains(&draw.flow_l_per_min), "{draw:?}");
                assert!([10.0, 25.0, 40.0, 45.0].contains(&draw.useful_degc), "{draw:?}");
                // A draw that must reach a peak counts its heat from the cold water on.
                assert_eq!(draw.peak_degc.is_some(), draw.useful_degc == 10.0, "{draw:?}");
            }
            for draw in pattern.gallon_draws() {
                assert!([1.0, 1.7, 3.0].contains(&draw.gal_per_min) && (0.5..=27.0).contains(&draw.gal));
            }
        }
    }
}

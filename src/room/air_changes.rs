//! Air changes of commercial cold rooms, as an upper bound for a household's.

/// Cubic metres in a cubic foot.
const M3_PER_FT3: f64 = 0.028_316_846_592;

/// Volume (cubic feet) and mean air changes in 24 h of rooms above freezing.
const PER_DAY: [(f64, f64); 16] = [
    (200.0, 44.0),
    (250.0, 38.0),
    (300.0, 34.5),
    (400.0, 29.5),
    (500.0, 26.0),
    (600.0, 23.0),
    (800.0, 20.0),
    (1000.0, 17.5),
    (1500.0, 14.0),
    (2000.0, 12.0),
    (3000.0, 9.5),
    (4000.0, 8.2),
    (5000.0, 7.2),
    (6000.0, 6.5),
    (8000.0, 5.5),
    (10_000.0, 4.9),
];

/// Mean air changes a day, through doors and leaks together, of a commercial cold room above freezing in ordinary use; straight between the table's points
/// in logarithms, held at its ends.
///
/// # Arguments
/// volume_m3: inner volume, m3, above 0; the table goes from 5.7 to 283 m3.
///
/// # Source
/// Table of average air changes in refrigeration-load chapters of older handbooks. From memory, to be verified. Heavy use is told to be twice that, long storage 0.6 times.
pub fn commercial_air_changes_per_day(volume_m3: f64) -> f64 {
    let ft3 = (volume_m3 / M3_PER_FT3).clamp(PER_DAY[0].0, PER_DAY[PER_DAY.len() - 1].0);
    let above = PER_DAY.iter().position(|(volume, _)| ft3 <= *volume).unwrap_or(PER_DAY.len() - 1).max(1);
    let ((low, from), (high, to)) = (PER_DAY[above - 1], PER_DAY[above]);
    let share = libm::log(ft3 / low) / libm::log(high / low);
    from * libm::pow(to / from, share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn points_of_the_table_are_met_and_its_ends_held() {
        for (ft3, changes) in PER_DAY {
            assert_relative_eq!(
                commercial_air_changes_per_day(ft3 * M3_PER_FT3),
                changes,
                max_relative = 1e-9
            );
        }
        assert_eq!(commercial_air_changes_per_day(1.0), 44.0);
        assert_relative_eq!(commercial_air_changes_per_day(1000.0), 4.9, max_relative = 1e-12);
    }

    /// 20 m3 lie between 17.0 and 22.7: 23 (20/23)^0.566 = 21.25, by hand.
    #[test]
    fn between_points_it_goes_by_logarithms() {
        assert_relative_eq!(commercial_air_changes_per_day(20.0), 21.25, max_relative = 5e-4);
    }
}

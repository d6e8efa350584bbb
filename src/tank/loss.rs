//! What a standing tank loses: the energy classes of labels, and bare pipes as heat bridges.

/// Over-temperature of the standing-loss test, K. From memory, to be verified: EN 12897, water 65 °C in a room of 20 °C.
pub const STANDING_LOSS_DK: f64 = 45.0;

/// Heat lost by one bare pipe connection, W/K, as a scenario writes it: [`long_fin_w_per_k`] of a copper tube of 22 x 0.9 mm, or of
/// a steel nipple of one inch, with 10 W/(m2 K) around it. Derived here; the film is Common practice, no source (8 to 12).
pub const BARE_CONNECTION: &str = "0.13 W/K";

/// Energy classes of storage tanks that have an upper edge, as on the label. Class G has none.
pub const CLASSES: &[&str] = &["A+", "A", "B", "C", "D", "E", "F"];

/// Summands and factors of the upper edges, W, in the order of [`CLASSES`].
const EDGES_W: [(f64, f64); 7] =
    [(5.5, 3.16), (8.5, 4.25), (12.0, 5.93), (16.66, 8.33), (21.0, 10.33), (26.0, 13.66), (31.0, 16.66)];

/// Standing loss at the upper edge of an energy class, W: `a + b V^0.4`, V in litres. `None` for a letter without an edge.
///
/// # Arguments
/// - `class`: one of [`CLASSES`].
/// - `volume_m3`: volume of the tank, above 0.
///
/// # Source
/// Regulation (EU) 812/2013, Annex II, Table 2. Second hand: the formulas as given in three public copies.
pub fn class_edge_w(class: &str, volume_m3: f64) -> Option<f64> {
    let place = CLASSES.iter().position(|known| *known == class)?;
    let (least_w, factor_w) = EDGES_W[place];
    Some(least_w + factor_w * libm::pow(volume_m3 * 1000.0, 0.4))
}

/// Heat that a long bare pipe carries away from the tank, W/K: `sqrt(h P k A)`, the fin without end.
///
/// # Arguments
/// - `film_w_per_m2_k`: heat transfer from the pipe to the air, radiation included.
/// - `perimeter_m`: outer perimeter.
/// - `conductivity_w_per_m_k`: of the wall.
/// - `section_m2`: cross-section of the wall. The water's own conduction adds 1 % to copper and is left out; water that circulates
///   in a pipe that rises from the tank can carry more.
///
/// # Source
/// Derived here: `k A T'' = h P (T - T_air)`, T bounded far away.
pub fn long_fin_w_per_k(
    film_w_per_m2_k: f64,
    perimeter_m: f64,
    conductivity_w_per_m_k: f64,
    section_m2: f64,
) -> f64 {
    libm::sqrt(film_w_per_m2_k * perimeter_m * conductivity_w_per_m_k * section_m2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::f64::consts::PI;

    /// Standing loss at the upper edges of classes for 200, 300 and 500 L, and UA of class C over 45 K.
    /// Source: Regulation (EU) 812/2013, Annex II, Table 2, formulas. Tolerance: the digits shown.
    #[test]
    fn edges_of_energy_classes() {
        let rows = [
            ("A+", [31.81, 36.44, 43.46]),
            ("A", [43.88, 50.11, 59.55]),
            ("B", [61.37, 70.06, 83.23]),
            ("C", [86.01, 98.22, 116.71]),
        ];
        for (class, watts) in rows {
            for (litres, watts) in [200.0, 300.0, 500.0].into_iter().zip(watts) {
                assert_relative_eq!(
                    class_edge_w(class, litres / 1000.0).unwrap(),
                    watts,
                    epsilon = 0.005_000_1
                );
            }
        }
        assert_relative_eq!(class_edge_w("C", 0.3).unwrap() / STANDING_LOSS_DK, 2.183, epsilon = 5e-4);
    }

    /// Annex II writes D as 21 + 10.33 V^0.4, E as 26 + 13.66 V^0.4, F as 31 + 16.66 V^0.4: at 1 L these are the sums.
    #[test]
    fn each_class_loses_more_than_the_one_before() {
        let edges: Vec<f64> = CLASSES.iter().filter_map(|class| class_edge_w(class, 0.001)).collect();
        assert_relative_eq!(edges[4], 31.33, max_relative = 1e-12);
        assert_relative_eq!(edges[5], 39.66, max_relative = 1e-12);
        assert_relative_eq!(edges[6], 47.66, max_relative = 1e-12);
        for volume_m3 in [0.03, 0.3, 10.0] {
            let edges: Vec<f64> = CLASSES.iter().filter_map(|class| class_edge_w(class, volume_m3)).collect();
            assert_eq!(edges.len(), CLASSES.len());
            assert!(edges.windows(2).all(|pair| pair[0] < pair[1]), "{edges:?}");
        }
        assert_eq!(class_edge_w("G", 0.3), None);
    }

    /// Copper tube 22 x 0.9 mm of 390 W/(m K) and a steel nipple of one inch (33.4 x 3.4 mm) of 50 W/(m K), sizes and
    /// conductivities from memory: both within a twentieth of [`BARE_CONNECTION`].
    #[test]
    fn a_bare_connection_of_copper_or_steel() {
        let pipe = |outer_m: f64, wall_m: f64, conductivity: f64| {
            let inner_m = outer_m - 2.0 * wall_m;
            let section_m2 = PI / 4.0 * (outer_m * outer_m - inner_m * inner_m);
            long_fin_w_per_k(10.0, PI * outer_m, conductivity, section_m2)
        };
        assert_eq!(BARE_CONNECTION, "0.13 W/K");
        assert_relative_eq!(pipe(0.022, 0.0009, 390.0), 0.13, max_relative = 0.05);
        assert_relative_eq!(pipe(0.0334, 0.0034, 50.0), 0.13, max_relative = 0.05);
    }
}

//! Tubes that a dump line is made of: bores, roughness, what heat they bear.

use crate::constants::ZERO_CELSIUS_K;

/// Length of an inch, m.
const INCH_M: f64 = 0.0254;
const MM_M: f64 = 0.001;

/// What a tube is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Material {
    /// Drawn copper.
    Copper,
    /// Cross-linked polyethylene, for hot water.
    Pex,
    /// Chlorinated PVC, for hot water.
    Cpvc,
    /// PVC for cold water.
    Pvc,
    /// Polyethylene for cold water: service, irrigation and drip pipe.
    Pe,
    /// Galvanised steel.
    Steel,
}

/// Every material with its word in a scenario.
pub const MATERIALS: [(&str, Material); 6] = [
    ("copper", Material::Copper),
    ("PEX", Material::Pex),
    ("CPVC", Material::Cpvc),
    ("PVC", Material::Pvc),
    ("PE", Material::Pe),
    ("galvanised steel", Material::Steel),
];

impl Material {
    /// Its word.
    pub fn name(self) -> &'static str {
        MATERIALS.iter().find(|(_, material)| *material == self).map_or("", |(name, _)| name)
    }

    /// Roughness of its bore when new, m.
    ///
    /// # Source
    /// Copper 0.0015 mm, plastics 0.007 mm as the rougher end of what tables give: engineering reference after Binder (1973) and two other public tables. Second hand.
    /// PEX as smooth plastic: Common practice, no source. Galvanised steel 0.15 mm: From memory, to be verified.
    pub fn roughness_m(self) -> f64 {
        match self {
            Self::Copper => 1.5e-6,
            Self::Pex | Self::Cpvc | Self::Pvc | Self::Pe => 7.0e-6,
            Self::Steel => 1.5e-4,
        }
    }

    /// Hottest water that it may carry under pressure, K; `None` where the hot water of a house is no matter.
    ///
    /// # Source
    /// PEX and CPVC 82 °C (180 °F): IRC P2904.5 and ASTM D2846. PVC 60 °C (140 °F), with little strength left: Machinery's Handbook, 31st edition, plastic pipe, table 14.
    /// PE 38 °C (100 °F): AWWA Manual M55, table 4-6. All Second hand.
    pub fn hottest_k(self) -> Option<f64> {
        match self {
            Self::Copper | Self::Steel => None,
            Self::Pex | Self::Cpvc => Some(ZERO_CELSIUS_K + 82.0),
            Self::Pvc => Some(ZERO_CELSIUS_K + 60.0),
            Self::Pe => Some(ZERO_CELSIUS_K + 38.0),
        }
    }

    /// Share of its cold strength that it keeps at a temperature, 0 to 1; `None` for metals, and for PEX, which is rated hot.
    ///
    /// Straight between the points of its table, 0 beyond the last.
    ///
    /// # Source
    /// PVC: Machinery's Handbook, 31st edition, plastic pipe, table 14, at 73 to 140 °F. CPVC: a technical manual of ASTM D2846 pipe. PE: AWWA Manual M55, table 4-6. All
    /// Second hand.
    pub fn strength_frac(self, temperature_k: f64) -> Option<f64> {
        const PVC: &[(f64, f64)] = &[
            (73.0, 1.0),
            (80.0, 0.88),
            (90.0, 0.75),
            (100.0, 0.62),
            (110.0, 0.50),
            (120.0, 0.40),
            (130.0, 0.30),
            (140.0, 0.22),
        ];
        const CPVC: &[(f64, f64)] = &[
            (80.0, 1.0),
            (90.0, 0.91),
            (100.0, 0.82),
            (120.0, 0.65),
            (140.0, 0.50),
            (160.0, 0.40),
            (180.0, 0.25),
        ];
        const PE: &[(f64, f64)] = &[(81.0, 1.0), (90.0, 0.9), (100.0, 0.8)];
        let points = match self {
            Self::Pvc => PVC,
            Self::Cpvc => CPVC,
            Self::Pe => PE,
            Self::Copper | Self::Pex | Self::Steel => return None,
        };
        let degf = (temperature_k - ZERO_CELSIUS_K) * 1.8 + 32.0;
        if degf <= points[0].0 {
            return Some(1.0);
        }
        let between = points.windows(2).find(|pair| degf <= pair[1].0);
        Some(between.map_or(0.0, |pair| {
            let [(low, from), (high, to)] = [pair[0], pair[1]];
            from + (to - from) * (degf - low) / (high - low)
        }))
    }

    /// Fastest that water of a temperature should flow in it, m/s.
    ///
    /// # Source
    /// Copper: 2.44 m/s (8 ft/s) cold, 1.52 (5 ft/s) to 60 °C, 0.91 (3 ft/s) above: Copper Tube Handbook, pressure-system sizing. Second hand: two copies. What is cold, to 30 °C:
    /// Common practice, no source. Others have their maker's figure; 2.44 m/s taken, as for cold copper: Common practice, no source.
    pub fn fastest_m_s(self, temperature_k: f64) -> f64 {
        let degc = temperature_k - ZERO_CELSIUS_K;
        match self {
            Self::Copper if degc > 60.0 => 0.9144,
            Self::Copper if degc > 30.0 => 1.524,
            _ => 2.4384,
        }
    }
}

/// A tube as it is bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tube {
    /// Its word in a scenario: material and size.
    pub name: &'static str,
    /// What it is made of.
    pub material: Material,
    /// Inner diameter, m.
    pub bore_m: f64,
}

const fn inch(name: &'static str, material: Material, bore_in: f64) -> Tube {
    Tube { name, material, bore_m: bore_in * INCH_M }
}

const fn metric(name: &'static str, material: Material, bore_mm: f64) -> Tube {
    Tube { name, material, bore_m: bore_mm * MM_M }
}

/// Common tubes, of each kind the narrow ones first.
///
/// # Source
/// Copper in inches: type L, ASTM B88. PEX in inches: SDR 9, ASTM F876 (bores follow from the least walls). Second hand: several makers' tables. From memory, to be verified: PVC in inches
/// (schedule 40, ASTM D1785), copper in millimetres (EN 1057: 15 x 1, 18 x 1, 22 x 1, 28 x 1.5), PEX in millimetres (16 x 2, 20 x 2, 25 x 2.3), PE in millimetres (drip pipe 16, 20 x 2, 25 x 2, 32 x 2.4) and in inches
/// (bore as of schedule 40), galvanised steel (schedule 40 and EN 10255 medium have nearly the same bores).
pub const TUBES: [Tube; 28] = [
    inch("copper 3/8 in", Material::Copper, 0.430),
    inch("copper 1/2 in", Material::Copper, 0.545),
    inch("copper 3/4 in", Material::Copper, 0.785),
    inch("copper 1 in", Material::Copper, 1.025),
    metric("copper 15 mm", Material::Copper, 13.0),
    metric("copper 18 mm", Material::Copper, 16.0),
    metric("copper 22 mm", Material::Copper, 20.0),
    metric("copper 28 mm", Material::Copper, 25.0),
    inch("PEX 3/8 in", Material::Pex, 0.360),
    inch("PEX 1/2 in", Material::Pex, 0.485),
    inch("PEX 3/4 in", Material::Pex, 0.681),
    inch("PEX 1 in", Material::Pex, 0.875),
    metric("PEX 16 mm", Material::Pex, 12.0),
    metric("PEX 20 mm", Material::Pex, 16.0),
    metric("PEX 25 mm", Material::Pex, 20.4),
    inch("PVC 1/2 in", Material::Pvc, 0.622),
    inch("PVC 3/4 in", Material::Pvc, 0.824),
    inch("PVC 1 in", Material::Pvc, 1.049),
    metric("PE 16 mm", Material::Pe, 13.6),
    metric("PE 20 mm", Material::Pe, 16.0),
    metric("PE 25 mm", Material::Pe, 21.0),
    metric("PE 32 mm", Material::Pe, 27.2),
    inch("PE 1/2 in", Material::Pe, 0.622),
    inch("PE 3/4 in", Material::Pe, 0.824),
    inch("PE 1 in", Material::Pe, 1.049),
    inch("galvanised steel 1/2 in", Material::Steel, 0.622),
    inch("galvanised steel 3/4 in", Material::Steel, 0.824),
    inch("galvanised steel 1 in", Material::Steel, 1.049),
];

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn within_a_kind_wider_names_have_wider_bores_and_names_begin_with_their_material() {
        for pair in TUBES.windows(2) {
            let unit = |tube: &Tube| tube.name.rsplit(' ').next();
            if pair[0].material == pair[1].material && unit(&pair[0]) == unit(&pair[1]) {
                assert!(pair[0].bore_m < pair[1].bore_m, "{} {}", pair[0].name, pair[1].name);
            }
        }
        for tube in TUBES {
            assert!(tube.name.starts_with(tube.material.name()), "{}", tube.name);
            assert!((0.008..0.03).contains(&tube.bore_m), "{}", tube.name);
        }
    }

    #[test]
    fn plastic_loses_strength_by_its_table_and_beyond_it_all() {
        let at = |material: Material, degf: f64| material.strength_frac((degf - 32.0) / 1.8 + ZERO_CELSIUS_K);
        // 1e-9: sums and products alone.
        assert_relative_eq!(at(Material::Pvc, 110.0).unwrap(), 0.50, max_relative = 1e-9);
        assert_relative_eq!(at(Material::Pvc, 115.0).unwrap(), 0.45, max_relative = 1e-9);
        assert_eq!((at(Material::Pvc, 60.0), at(Material::Pvc, 141.0)), (Some(1.0), Some(0.0)));
        assert_relative_eq!(at(Material::Cpvc, 170.0).unwrap(), 0.325, max_relative = 1e-9);
        assert_eq!((at(Material::Pe, 104.0), at(Material::Copper, 150.0)), (Some(0.0), None));
    }
}

//! Conductivity of what walls, floors and ceilings are made of.

/// A building or insulating material.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Its name in a scenario.
    pub name: &'static str,
    /// Conductivity, W/(m K), dry and at about 10 °C.
    pub conductivity_w_per_m_k: f64,
    /// Where the number comes from, with its trust word.
    pub source: &'static str,
}

const COLD_STORE_TABLE: &str =
    "Second hand: table of cold-store insulation as given in a public slide set of refrigeration tables";
const CIBSE: &str = "Second hand: CIBSE Guide A, table 3.37 (design value, aged) as given in a public copy";
const ISO_10456: &str = "Second hand: ISO 10456:2007, table 3, as given in a public copy";

/// Every material, insulation first.
pub const MATERIALS: [Material; 17] = [
    material("polyurethane", 0.025, COLD_STORE_TABLE),
    material("aged polyurethane", 0.028, CIBSE),
    material("aged polyisocyanurate", 0.030, CIBSE),
    material(
        "extruded polystyrene",
        0.034,
        "Common practice, no source: declared 0.029 to 0.036 W/mK; a cold-store table has 0.029 for fresh board",
    ),
    material("expanded polystyrene", 0.036, COLD_STORE_TABLE),
    material("mineral wool", 0.039, COLD_STORE_TABLE),
    material("glass fibre", 0.039, COLD_STORE_TABLE),
    material("cork board", 0.043, COLD_STORE_TABLE),
    material("cellular glass", 0.058, COLD_STORE_TABLE),
    material("sawdust", 0.065, COLD_STORE_TABLE),
    material(
        "plywood",
        0.12,
        "Derived here: 9.09 W/m2K through 13 mm, as given in a public slide set of refrigeration tables",
    ),
    material(
        "softwood",
        0.13,
        "Second hand: softwood of 500 kg/m3 as given in a public slide set of refrigeration tables",
    ),
    material("brick", 0.72, COLD_STORE_TABLE),
    material("light concrete", 1.15, ISO_10456),
    material("medium concrete", 1.65, ISO_10456),
    material("dense concrete", 2.00, ISO_10456),
    material("reinforced concrete", 2.30, ISO_10456),
];

/// Names of [`MATERIALS`].
pub const MATERIAL_NAMES: [&str; MATERIALS.len()] = {
    let mut names = [""; MATERIALS.len()];
    let mut index = 0;
    while index < names.len() {
        names[index] = MATERIALS[index].name;
        index += 1;
    }
    names
};

const fn material(name: &'static str, conductivity_w_per_m_k: f64, source: &'static str) -> Material {
    Material { name, conductivity_w_per_m_k, source }
}

impl Material {
    /// The material of a name.
    pub fn by_name(name: &str) -> Option<Self> {
        MATERIALS.into_iter().find(|material| material.name == name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_material_is_found_by_its_name_and_says_how_far_it_can_be_trusted() {
        for material in MATERIALS {
            assert_eq!(Material::by_name(material.name), Some(material));
            assert!(
                ["Second hand:", "Derived here:", "Common practice, no source:"]
                    .iter()
                    .any(|word| material.source.starts_with(word))
            );
        }
        assert_eq!(Material::by_name("straw"), None);
    }
}

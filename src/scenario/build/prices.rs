//! What energy and water cost.

use super::super::checker::{Checker, Section};
use crate::household::{BoosterUnit, Prices, Space};

/// The prices, if any are given.
pub(super) fn prices(
    at: &mut Checker,
    top: &Section<'_>,
    booster: Option<&BoosterUnit>,
    spaces: &[Space],
) -> Option<Prices> {
    let section = at.optional_section(top, "prices")?;
    let currency = at.text(&section, "currency");
    let electricity_per_j = match at.one_of(&section, &["electricity", "electricity_by_hour"], true) {
        Some("electricity_by_hour") => {
            let hours = at.quantities(&section, "electricity_by_hour");
            <[f64; 24]>::try_from(hours).unwrap_or([0.0; 24])
        }
        Some(_) => [at.value(&section, "electricity"); 24],
        None => [0.0; 24],
    };
    let mut needed = |name: &'static str, needed: bool| {
        if needed && !section.has(name) {
            at.need(&section, name);
        }
        at.optional(&section, name)
    };
    Some(Prices {
        currency,
        electricity_per_j,
        fuel_per_j: needed("fuel", booster.is_some_and(|booster| !booster.is_electric())),
        house_heat_per_j: needed("house_heat", spaces.iter().any(|space| space.heated.contains(&true))),
        water_per_m3: at.value(&section, "water"),
        sewer_per_m3: at.value(&section, "sewer"),
    })
}

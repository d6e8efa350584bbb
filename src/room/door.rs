//! Air exchanged through an open door.

use crate::constants::GRAVITY_M_S2;

/// Leading constant of the Gosney and Olama equation.
const GOSNEY_OLAMA: f64 = 0.221;

/// Air that an open door exchanges at fully developed flow, kg of moist air of the denser side per second.
///
/// `m = 0.221 A (g H)^0.5 rho_h (1 - rho_s/rho_h)^0.5 Fm`, `Fm = (2/(1 + (rho_h/rho_s)^(1/3)))^1.5`, with the larger
/// density rho_h and the smaller rho_s. The handbook writes it for air that is denser in the room; taking larger and
/// smaller instead makes it hold for a room warmer than its surroundings too. Equal densities give 0.
///
/// # Arguments
/// area (m2) and height (m) of the opening, densities of moist air on both sides (kg/m3), all above 0.
/// # Source
/// Gosney and Olama 1975, Proc. Inst. Refrig. 72, as used in ASHRAE Handbook Refrigeration, "Refrigerated-Facility Loads".
/// Second hand: form and exponents as given in a university research-forum slide set of 2017; the SI layout From memory, to be verified.
pub fn exchange_gosney_olama_kg_s(area_m2: f64, height_m: f64, one_kg_m3: f64, other_kg_m3: f64) -> f64 {
    let (dense, light) =
        if one_kg_m3 > other_kg_m3 { (one_kg_m3, other_kg_m3) } else { (other_kg_m3, one_kg_m3) };
    let density_factor = 2.0 / (1.0 + libm::cbrt(dense / light));
    let density_factor = density_factor * density_factor.sqrt();
    GOSNEY_OLAMA
        * area_m2
        * (GRAVITY_M_S2 * height_m).sqrt()
        * dense
        * (1.0 - light / dense).sqrt()
        * density_factor
}

//! Water in pipes: friction, valves, and the flow that a pressure drives through a line.

mod line;
mod tube;

pub use line::{Drop, Emitters, Line, Run, Stage};
pub use tube::{MATERIALS, Material, TUBES, Tube};

/// Reynolds number below which the flow in a pipe is laminar. Source: as [`friction_factor_colebrook`].
pub const LAMINAR_BELOW: f64 = 2000.0;
/// Reynolds number from which it is turbulent. Source: as [`friction_factor_colebrook`].
pub const TURBULENT_FROM: f64 = 4000.0;

/// Kv of a valve with Cv 1, m3/h at 1 bar.
/// Derived here: a US gallon a minute is 0.227125 m3/h, a pound-force on a square inch 0.0689476 bar. IEC 60534-2-1 writes 0.865 (From memory, to be verified).
pub const KV_PER_CV: f64 = 0.864_98;

/// Density at which a Kv is told, kg/m3. Source: as [`valve_drop_pa`].
const KV_DENSITY_KG_M3: f64 = 1000.0;
/// Pressure at which a Kv is told, Pa.
const KV_DROP_PA: f64 = 1.0e5;

/// Darcy's friction factor of a pipe that runs full.
///
/// Turbulent: `1/sqrt(f) = -2 log10(e/(3.7 D) + 2.51/(Re sqrt(f)))`. Laminar, below 2000: `64/Re`. Between 2000 and 4000, where the flow is
/// neither, straight from the one to the other, so that more flow always needs more pressure.
///
/// # Arguments
/// - `reynolds`: above 0
/// - `roughness_frac`: roughness over inner diameter, 0 to 0.05
///
/// # Source
/// C. F. Colebrook, Journal of the Institution of Civil Engineers 11 (1939). From memory, to be verified: the equation; its values are checked against worked
/// examples.
pub fn friction_factor_colebrook(reynolds: f64, roughness_frac: f64) -> f64 {
    if reynolds < LAMINAR_BELOW {
        return 64.0 / reynolds;
    }
    let turbulent = turbulent_factor(reynolds.max(TURBULENT_FROM), roughness_frac);
    if reynolds >= TURBULENT_FROM {
        return turbulent;
    }
    let along = (reynolds - LAMINAR_BELOW) / (TURBULENT_FROM - LAMINAR_BELOW);
    let laminar = 64.0 / LAMINAR_BELOW;
    laminar + along * (turbulent - laminar)
}

fn turbulent_factor(reynolds: f64, roughness_frac: f64) -> f64 {
    /// Each turn gains a digit or more; 1e-12 is reached after ten at the slowest corner of the range.
    const TURNS: usize = 30;
    let mut inverse_root = 6.0;
    for _ in 0..TURNS {
        let next = -2.0 * libm::log10(roughness_frac / 3.7 + 2.51 * inverse_root / reynolds);
        if (next - inverse_root).abs() < 1e-13 * next {
            inverse_root = next;
            break;
        }
        inverse_root = next;
    }
    1.0 / (inverse_root * inverse_root)
}

/// Pressure that friction in a straight pipe takes, Pa: `f L/D rho v2/2` (Darcy and Weisbach).
///
/// # Arguments
/// - `flow_m3_s`: 0 or more
/// - `bore_m`, `length_m`: inner diameter above 0, length 0 or more
/// - `roughness_m`: 0 or more
/// - `density_kg_m3`, `viscosity_pa_s`: of the water
pub fn friction_pa(
    flow_m3_s: f64,
    bore_m: f64,
    length_m: f64,
    roughness_m: f64,
    (density_kg_m3, viscosity_pa_s): (f64, f64),
) -> f64 {
    if flow_m3_s == 0.0 {
        return 0.0;
    }
    let velocity = velocity_m_s(flow_m3_s, bore_m);
    let reynolds = density_kg_m3 * velocity * bore_m / viscosity_pa_s;
    let factor = friction_factor_colebrook(reynolds, roughness_m / bore_m);
    factor * length_m / bore_m * velocity_pressure_pa(velocity, density_kg_m3)
}

/// Pressure that corresponds to a velocity, Pa: `rho v2/2`.
pub fn velocity_pressure_pa(velocity_m_s: f64, density_kg_m3: f64) -> f64 {
    0.5 * density_kg_m3 * velocity_m_s * velocity_m_s
}

/// Mean velocity in a round pipe, m/s.
pub fn velocity_m_s(flow_m3_s: f64, bore_m: f64) -> f64 {
    flow_m3_s / (0.25 * std::f64::consts::PI * bore_m * bore_m)
}

/// Pressure that a valve or device takes, Pa: `(Q/Kv)^2 rho/rho0` bar with Q in m3/h and rho0 1000 kg/m3.
///
/// # Arguments
/// - `flow_m3_s`: 0 or more
/// - `kv_m3_s`: flow at 1 bar, m3/s, above 0
/// - `density_kg_m3`: of the water
///
/// # Source
/// Definition of the flow coefficient after IEC 534-1. Second hand: a valve selection handbook, "Flow coefficient Kv". Without cavitation: at the pressures of a
/// house and below 90 °C a valve is far from it unless it is nearly shut.
pub fn valve_drop_pa(flow_m3_s: f64, kv_m3_s: f64, density_kg_m3: f64) -> f64 {
    let ratio = flow_m3_s / kv_m3_s;
    KV_DROP_PA * ratio * ratio * density_kg_m3 / KV_DENSITY_KG_M3
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn more_flow_always_needs_more_pressure() {
        let water = (988.0, 5.5e-4);
        let mut before = 0.0;
        for step in 1..2000 {
            let drop = friction_pa(step as f64 * 2e-7, 0.0138, 10.0, 1.5e-6, water);
            assert!(drop > before, "step {step}");
            before = drop;
        }
    }

    #[test]
    fn laminar_flow_follows_hagen_and_poiseuille() {
        // 128 mu L Q/(pi D4), exact for laminar flow.
        let (flow, bore, mu) = (1.0e-6, 0.0138, 1.0e-3);
        let exact = 128.0 * mu * 10.0 * flow / (std::f64::consts::PI * bore * bore * bore * bore);
        assert_relative_eq!(friction_pa(flow, bore, 10.0, 1e-6, (998.0, mu)), exact, max_relative = 1e-12);
    }
}

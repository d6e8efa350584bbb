//! How far a jet that enters the tank reaches into water that holds it back, and so how much of the tank it stirs.

use crate::constants::GRAVITY_M_S2;
use crate::water::density_kg_m3;

/// Rise over the radius of the opening per Froude number, of a strong fountain.
const STRONG: f64 = 2.46;
/// The same per square of the Froude number, of a weak one.
const WEAK: f64 = 0.90;
/// The same per two-thirds power of the Froude number, of one that hardly rises.
const VERY_WEAK: f64 = 0.94;
/// Halvings of the stretch in which the end of a jet's reach is looked for: to a ten-thousandth of it.
const HALVINGS: usize = 14;

/// Height to which a round turbulent jet rises that is heavier than the still water into which it blows upward; or sinks, one that is lighter and
/// blows downward: `z/r = 2.46 Fr` where that is least, with `Fr = w/sqrt(g' r)`, w the mean speed in the opening and r its radius; for smaller Fr
/// `0.90 Fr^2`, and from about 1 down `0.94 Fr^(2/3)`. Without end where nothing holds it back.
///
/// # Arguments
/// - `flow_m3_s`: flow, m3/s, 0 or more
/// - `bore_m`: bore of the opening, m, above 0
/// - `reduced_gravity_m_s2`: free fall times the difference of density over the density of what is around, m/s2; 0 or less holds nothing back
///
/// # Source
/// Turner, Jets and plumes with negative or reversing buoyancy, J. Fluid Mech. 26 (1966), for 2.46; Kaye and Hunt, Weak fountains, J. Fluid Mech. 558
/// (2006), for the weaker ones. From memory, to be verified. The lesser and the greater of neighbouring laws are taken, so that the height does not jump: Derived here.
pub fn fountain_m(flow_m3_s: f64, bore_m: f64, reduced_gravity_m_s2: f64) -> f64 {
    if flow_m3_s <= 0.0 {
        return 0.0;
    }
    if reduced_gravity_m_s2 <= 0.0 {
        return f64::INFINITY;
    }
    let radius_m = 0.5 * bore_m;
    let speed_m_s = flow_m3_s / (std::f64::consts::PI * radius_m * radius_m);
    let froude = speed_m_s / (reduced_gravity_m_s2 * radius_m).sqrt();
    let weak = (VERY_WEAK * libm::cbrt(froude * froude)).max(WEAK * froude * froude);
    radius_m * if froude > 1.0 { weak.min(STRONG * froude) } else { weak }
}

/// A jet that enters the tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jet {
    /// Its flow, m3/s.
    pub flow_m3_s: f64,
    /// Bore of the opening, m.
    pub bore_m: f64,
    /// Its temperature, K.
    pub temperature_k: f64,
    /// Whether it is the cold water, which blows upward and is held back by lighter water; else what returns hot, which blows downward and
    /// is held back by heavier water.
    pub upward: bool,
}

impl Jet {
    /// Water that it stirs, kg, from its opening on: as far as a fountain rises in water of the mean temperature of just this stretch, at most
    /// `room_kg`. None where the water floats or sinks away by itself.
    ///
    /// # Arguments
    /// - `room_kg`: water between the opening and the end of the tank, kg, 0 or more
    /// - `kg_per_m`: water per height, kg/m, above 0
    /// - `mean_k`: mean temperature, K, of so many kg from the opening on
    ///
    /// # Source
    /// [`fountain_m`]; the mean in place of uniform water: Derived here.
    pub fn stirs_kg(&self, room_kg: f64, kg_per_m: f64, mean_k: impl Fn(f64) -> f64) -> f64 {
        let own_kg_m3 = density_kg_m3(self.temperature_k);
        let held_back_m_s2 = |kg: f64| {
            let around_kg_m3 = density_kg_m3(mean_k(kg));
            let over_kg_m3 = own_kg_m3 - around_kg_m3;
            GRAVITY_M_S2 * if self.upward { over_kg_m3 } else { -over_kg_m3 } / around_kg_m3
        };
        if room_kg <= 0.0 || held_back_m_s2(room_kg) < 0.0 {
            return 0.0;
        }
        let reaches = |kg: f64| fountain_m(self.flow_m3_s, self.bore_m, held_back_m_s2(kg)) * kg_per_m >= kg;
        if reaches(room_kg) {
            return room_kg;
        }
        let (mut low_kg, mut high_kg) = (0.0, room_kg);
        for _ in 0..HALVINGS {
            let middle_kg = 0.5 * (low_kg + high_kg);
            if reaches(middle_kg) { low_kg = middle_kg } else { high_kg = middle_kg }
        }
        0.5 * (low_kg + high_kg)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::constants::ZERO_CELSIUS_K;
    use approx::assert_relative_eq;

    /// 6 L/min.
    const FLOW_M3_S: f64 = 1e-4;

    fn cold(flow_m3_s: f64) -> Jet {
        Jet { flow_m3_s, bore_m: 0.02, temperature_k: ZERO_CELSIUS_K + 10.0, upward: true }
    }

    /// By hand: 6 L/min through 20 mm are 0.3183 m/s; 988.13 and 999.80 kg/m3 at 50 and 10 °C make g' = 0.1158 m/s2, Fr = 9.35, and 2.46 x 9.35 x 0.01 m.
    #[test]
    fn cold_water_rises_as_a_fountain_into_a_hot_tank() {
        let rise_m = cold(FLOW_M3_S).stirs_kg(300.0, 200.0, |_| ZERO_CELSIUS_K + 50.0) / 200.0;
        assert_relative_eq!(rise_m, 0.2301, max_relative = 2e-3);
    }

    #[test]
    fn hot_water_sinks_into_a_cold_tank_as_far_as_cold_water_rises_into_a_hot_one() {
        let hot = Jet { temperature_k: ZERO_CELSIUS_K + 50.0, upward: false, ..cold(FLOW_M3_S) };
        let sinks_m = hot.stirs_kg(300.0, 200.0, |_| ZERO_CELSIUS_K + 10.0) / 200.0;
        // The same difference of density over a density that is 1.2 % larger.
        assert_relative_eq!(sinks_m, 0.2301 * (999.80_f64 / 988.13).sqrt(), max_relative = 2e-3);
    }

    #[test]
    fn the_height_never_falls_with_the_flow_and_never_jumps() {
        let heights: Vec<f64> =
            (1..=400).map(|tenths| fountain_m(f64::from(tenths) * 1e-6, 0.02, 0.1)).collect();
        assert!(heights.windows(2).all(|pair| pair[0] < pair[1] && pair[1] < pair[0] * 1.6));
        // Twice the flow, twice the height; half the bore, a flow of four times the speed through half the radius.
        assert_relative_eq!(
            fountain_m(4e-4, 0.02, 0.1),
            2.0 * fountain_m(2e-4, 0.02, 0.1),
            max_relative = 1e-12
        );
        assert_relative_eq!(
            fountain_m(2e-4, 0.01, 0.1),
            4.0 * f64::sqrt(2.0) * 0.5 * fountain_m(2e-4, 0.02, 0.1),
            max_relative = 1e-12
        );
    }

    #[test]
    fn a_jet_is_stopped_by_warm_water_above_a_cold_zone() {
        // 20 kg at the jet's own temperature, hot above: it passes the first freely and comes to rest in the second.
        let mean_k = |kg: f64| {
            let hot_kg = f64::max(0.0, kg - 20.0);
            ZERO_CELSIUS_K + 10.0 + if kg > 0.0 { 50.0 * hot_kg / kg } else { 0.0 }
        };
        let free_kg = cold(FLOW_M3_S).stirs_kg(300.0, 200.0, |_| ZERO_CELSIUS_K + 60.0);
        let stirs_kg = cold(FLOW_M3_S).stirs_kg(300.0, 200.0, mean_k);
        assert!(stirs_kg > free_kg && stirs_kg > 20.0 && stirs_kg < 20.0 + free_kg, "{stirs_kg} {free_kg}");
    }

    #[test]
    fn nothing_holds_back_water_of_the_tanks_own_and_warmer_water_floats_away() {
        let same_k = ZERO_CELSIUS_K + 10.0;
        assert_eq!(cold(FLOW_M3_S).stirs_kg(300.0, 200.0, |_| same_k), 300.0);
        assert_eq!(cold(FLOW_M3_S).stirs_kg(300.0, 200.0, |_| same_k - 4.0), 0.0);
        assert_eq!(cold(FLOW_M3_S).stirs_kg(0.0, 200.0, |_| same_k + 30.0), 0.0);
        assert!(cold(0.0).stirs_kg(300.0, 200.0, |_| same_k + 30.0) < 0.1);
    }
}

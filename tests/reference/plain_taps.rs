//! The plain program's taps of several temperatures that run at once, from docs/MODEL.md, section 5: by the temperature of their hot side.

use super::{AtDrawPort, Between, Tap, WATER_J_PER_KG_K};

/// Halvings of a range of temperatures.
const HALVINGS: usize = 50;
/// Hotter than any water on the hot side, K over mains.
const HOTTEST_DK: f64 = 1e5;

/// Taps at one instant, each kg/s and K.
pub struct AtOnce<'a> {
    pub taps: &'a [(f64, f64)],
    pub mains_k: f64,
    pub between: Between,
    pub port: AtDrawPort,
}

impl AtOnce<'_> {
    /// What they take of a hot side so warm, kg/s.
    fn flow(&self, hot_k: f64) -> f64 {
        let of = |&(kg_s, use_k): &(f64, f64)| match use_k {
            _ if use_k <= self.mains_k => 0.0,
            _ if use_k >= hot_k => kg_s,
            _ => kg_s * (use_k - self.mains_k) / (hot_k - self.mains_k),
        };
        self.taps.iter().map(of).sum()
    }

    /// Heat that a fire has to give for a hot side so warm, W.
    fn fire_w(&self, hot_k: f64) -> f64 {
        let kg_s = self.flow(hot_k);
        WATER_J_PER_KG_K * kg_s * (hot_k - self.behind_valve_k(kg_s))
    }

    fn behind_valve_k(&self, kg_s: f64) -> f64 {
        let valve_k = self.between.valve_k.unwrap_or(f64::INFINITY).max(self.mains_k);
        self.port.mixed_k(kg_s).min(valve_k)
    }

    /// How warm a fire makes the hot side, K.
    fn fired_k(&self, fire_w: f64) -> f64 {
        let (mut low_k, mut high_k) =
            (self.mains_k.min(self.port.tank_k).min(self.port.return_k) - 1.0, self.mains_k + HOTTEST_DK);
        for _ in 0..HALVINGS {
            let middle_k = 0.5 * (low_k + high_k);
            if self.fire_w(middle_k) < fire_w { low_k = middle_k } else { high_k = middle_k }
        }
        high_k
    }

    pub fn take(&self) -> Tap {
        let wanted_kg_k_s: f64 =
            self.taps.iter().map(|(kg_s, use_k)| kg_s * (use_k - self.mains_k).max(0.0)).sum();
        let unaided_k = self.fired_k(0.0);
        let booster =
            self.between.booster.filter(|one| unaided_k < one.set_k && unaided_k <= one.highest_inlet_k);
        let hot_k = match booster {
            Some(one) if self.fire_w(one.set_k) >= one.least_w => one.set_k.min(self.fired_k(one.most_w)),
            _ => unaided_k,
        };
        let kg_s = self.flow(hot_k);
        let passes_k = self.behind_valve_k(kg_s);
        let from_tank = if self.port.mixed_k(kg_s) > passes_k {
            self.port.flow_carrying(kg_s * (passes_k - self.mains_k), self.mains_k, kg_s)
        } else {
            kg_s
        };
        // Without a fire it is what passes the valve, to the last digit.
        let (fire_w, hot_k) = if hot_k == unaided_k { (0.0, passes_k) } else { (self.fire_w(hot_k), hot_k) };
        Tap {
            wanted_w: WATER_J_PER_KG_K * wanted_kg_k_s,
            flow_kg_s: from_tank,
            drawn_k: self.port.mixed_k(from_tank),
            booster_w: fire_w,
            hot_side_k: hot_k,
        }
    }
}

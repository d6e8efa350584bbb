//! The plain program's jets: how many layers the water that enters the tank stirs, from docs/MODEL.md, section 4, alone.

use super::{GRAVITY, water_kg_m3};

/// Parts of a layer by which the reach is looked for.
const PARTS: usize = 16;

/// Water that blows into the tank through a round opening.
pub struct Blown {
    pub kg_s: f64,
    pub bore_m: f64,
    pub temperature_k: f64,
    /// Cold water blows up, what comes back hot blows down.
    pub up: bool,
}

impl Blown {
    /// Layers that it stirs, of those from the opening on, each so high.
    pub fn stirs(&self, layers_k: impl Iterator<Item = f64>, layer_m: f64) -> f64 {
        let own = water_kg_m3(self.temperature_k);
        let (mut sum_k, mut reach, mut stopped, mut last) = (0.0, 0, false, 0.0);
        for (part, layer_k) in layers_k.flat_map(|layer_k| [layer_k; PARTS]).enumerate() {
            sum_k += layer_k;
            let parts = part as f64 + 1.0;
            let around = water_kg_m3(sum_k / parts);
            let held_back = GRAVITY * if self.up { own - around } else { around - own } / around;
            last = held_back;
            stopped |= parts * layer_m / PARTS as f64 > rise_m(self.kg_s, self.bore_m, held_back);
            if !stopped {
                reach = part + 1;
            }
        }
        if last < 0.0 { 0.0 } else { reach as f64 / PARTS as f64 }
    }
}

fn rise_m(kg_s: f64, bore_m: f64, held_back: f64) -> f64 {
    if held_back <= 0.0 {
        return f64::INFINITY;
    }
    let radius = bore_m / 2.0;
    let speed = kg_s / 992.31 / (std::f64::consts::PI * radius.powi(2));
    let froude = speed / (held_back * radius).sqrt();
    let radii = if froude > 2.46 / 0.9 {
        2.46 * froude
    } else if froude > (0.94_f64 / 0.9).powf(0.75) {
        0.9 * froude.powi(2)
    } else {
        0.94 * froude.powf(2.0 / 3.0)
    };
    radius * radii
}

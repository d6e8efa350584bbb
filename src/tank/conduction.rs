//! Vertical conduction between parcels, implicit in time.

/// Working arrays, kept between calls.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scratch {
    mass_kg: Vec<f64>,
    temperature_k: Vec<f64>,
    face_kg: Vec<f64>,
    upper: Vec<f64>,
    new_k: Vec<f64>,
}

impl Scratch {
    /// Forgets all layers.
    pub fn clear(&mut self) {
        self.mass_kg.clear();
        self.temperature_k.clear();
    }

    /// Adds a layer above the others.
    pub fn push(&mut self, mass_kg: f64, temperature_k: f64) {
        self.mass_kg.push(mass_kg);
        self.temperature_k.push(temperature_k);
    }

    /// One implicit step: `m_i (T_i' - T_i) = g_i-1 (T_i-1' - T_i') + g_i (T_i+1' - T_i')`, where a face between two
    /// parcels passes `g = spread/(half the sum of their masses)`. The new temperatures serve to find the face flows, which
    /// are then applied, so that what leaves one parcel enters the next to the last digit.
    pub fn solve(&mut self, spread_kg2: f64) {
        let n = self.mass_kg.len();
        let m = &self.mass_kg;
        self.face_kg.clear();
        self.face_kg.extend(m.windows(2).map(|pair| 2.0 * spread_kg2 / (pair[0] + pair[1])));
        let g = &self.face_kg;
        self.upper.clear();
        self.new_k.clear();
        // Thomas algorithm; the matrix is diagonally dominant, so no pivoting is needed.
        let (mut upper, mut right) = (0.0, 0.0);
        for i in 0..n {
            let below = if i > 0 { g[i - 1] } else { 0.0 };
            let above = if i + 1 < n { g[i] } else { 0.0 };
            let pivot = m[i] + below + above - below * upper;
            right = (m[i] * self.temperature_k[i] + below * right) / pivot;
            upper = above / pivot;
            self.upper.push(upper);
            self.new_k.push(right);
        }
        for i in (0..n - 1).rev() {
            self.new_k[i] += self.upper[i] * self.new_k[i + 1];
        }
        for (i, face_kg) in g.iter().enumerate() {
            let flow = face_kg * (self.new_k[i + 1] - self.new_k[i]);
            self.temperature_k[i] += flow / m[i];
            self.temperature_k[i + 1] -= flow / m[i + 1];
        }
    }

    /// Masses and temperatures, bottom first.
    pub fn layers(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.mass_kg.iter().copied().zip(self.temperature_k.iter().copied())
    }
}

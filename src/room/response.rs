//! Air, contents and thermostat probe in closed form.
//!
//! With constant conductances and a forcing that is linear in time the two-temperature room is a
//! linear system. It is made symmetric by the square roots of the capacities, so that its two modes
//! are orthogonal, and each mode is advanced exactly. Derived here: `docs/NUMERICS.md`, section 1.

/// Below this size of `rate x time` the functions of [`Phi`] are summed as series, because their
/// closed forms lose digits to cancellation.
const SERIES_BELOW: f64 = 0.05;

/// Closest that the probe's rate may come to a mode's, relative; nearer, the probe's lag is moved by
/// this much, so that the divided differences keep at least ten digits.
const RESONANCE_REL: f64 = 1e-5;

/// Temperatures of the room, K.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Temperatures {
    /// Air node.
    pub air_k: f64,
    /// Contents node.
    pub contents_k: f64,
    /// Thermostat probe.
    pub probe_k: f64,
}

/// What drives the room through a step, constant but for a ramp on the air.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Forcing {
    /// Into the air at the start of the step: conductances times outside temperatures plus heat, W.
    pub air_w: f64,
    /// Its change per second, W/s.
    pub air_w_per_s: f64,
    /// Into the contents, W.
    pub contents_w: f64,
}

/// The room after a step and on average over it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trajectory {
    /// At the end.
    pub end: Temperatures,
    /// Mean air temperature, K.
    pub air_mean_k: f64,
    /// Mean temperature of the contents, K.
    pub contents_mean_k: f64,
}

/// `exp(z)` and its first three divided integrals: `phi0 = e^(r t)`, `phi1 = int phi0`, ... over a time t at rate r.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Phi([f64; 4]);

impl Phi {
    fn new(rate: f64, time_s: f64) -> Self {
        let z = rate * time_s;
        let phi0 = libm::exp(z);
        if z.abs() < SERIES_BELOW {
            let t = time_s;
            return Self([phi0, t * series(z, 1), t * t * series(z, 2), t * t * t * series(z, 3)]);
        }
        let phi1 = (phi0 - 1.0) / rate;
        let phi2 = (phi1 - time_s) / rate;
        let phi3 = (phi2 - 0.5 * time_s * time_s) / rate;
        Self([phi0, phi1, phi2, phi3])
    }
}

/// 1/n! for n = 0 to 10.
const INVERSE_FACTORIAL: [f64; 11] = [
    1.0,
    1.0,
    1.0 / 2.0,
    1.0 / 6.0,
    1.0 / 24.0,
    1.0 / 120.0,
    1.0 / 720.0,
    1.0 / 5_040.0,
    1.0 / 40_320.0,
    1.0 / 362_880.0,
    1.0 / 3_628_800.0,
];

/// `sum z^k/(k + n)!` for n = 1 to 3; the terms left out are below 1e-15 of the first.
fn series(z: f64, n: usize) -> f64 {
    INVERSE_FACTORIAL[n..n + 8].iter().rev().fold(0.0, |sum, coefficient| sum * z + coefficient)
}

/// The room's two modes for given capacities and conductances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Modes {
    rate: [f64; 2],
    /// Unit vectors of the modes in the scaled coordinates (air, contents).
    vector: [[f64; 2]; 2],
    root_capacity: [f64; 2],
    probe_rate: f64,
}

impl Modes {
    /// Modes of a room with heat capacities `air` and `contents` (J/K, above 0), conductance `outside` from
    /// the air to everything outside (W/K, 0 or more), `exchange` between air and contents (W/K, above 0) and
    /// the probe's lag (s, above 0).
    pub fn new(
        air_j_per_k: f64,
        contents_j_per_k: f64,
        outside_w_per_k: f64,
        exchange_w_per_k: f64,
        probe_lag_s: f64,
    ) -> Self {
        let a = (outside_w_per_k + exchange_w_per_k) / air_j_per_k;
        let d = exchange_w_per_k / contents_j_per_k;
        let root_capacity = [air_j_per_k.sqrt(), contents_j_per_k.sqrt()];
        let s = exchange_w_per_k / (root_capacity[0] * root_capacity[1]);
        let middle = -0.5 * (a + d);
        let half = 0.5 * (d - a);
        let radius = (half * half + s * s).sqrt();
        let fast = middle - radius;
        // The determinant is known without cancellation: G H/(Ca Cc).
        let slow = -(outside_w_per_k / air_j_per_k) * d / (radius - middle);
        // Vector of the slow mode: (cos, sin) of half the angle with cos 2x = half/radius, sin 2x = s/radius.
        let (cosine, sine) = if half >= 0.0 {
            let cosine = (0.5 * (1.0 + half / radius)).sqrt();
            (cosine, s / (2.0 * radius * cosine))
        } else {
            let sine = (0.5 * (1.0 - half / radius)).sqrt();
            (s / (2.0 * radius * sine), sine)
        };
        let mut probe_rate = -1.0 / probe_lag_s;
        for rate in [slow, fast] {
            if (probe_rate - rate).abs() < RESONANCE_REL * rate.abs() {
                probe_rate = rate * (1.0 + RESONANCE_REL);
            }
        }
        Self { rate: [slow, fast], vector: [[cosine, sine], [-sine, cosine]], root_capacity, probe_rate }
    }

    /// Everything that only depends on the length of the step.
    pub fn over(&self, step_s: f64) -> Propagator<'_> {
        let phi = [Phi::new(self.rate[0], step_s), Phi::new(self.rate[1], step_s)];
        let probe = Phi::new(self.probe_rate, step_s);
        let mut lagged = [[0.0; 3]; 2];
        for mode in 0..2 {
            let gap = self.rate[mode] - self.probe_rate;
            for (n, value) in lagged[mode].iter_mut().enumerate() {
                *value = -self.probe_rate * (phi[mode].0[n] - probe.0[n]) / gap;
            }
        }
        Propagator { modes: self, step_s, phi, probe_decay: probe.0[0], lagged }
    }
}

/// Advances the room by a fixed time.
#[derive(Debug, Clone, Copy)]
pub struct Propagator<'a> {
    modes: &'a Modes,
    step_s: f64,
    phi: [Phi; 2],
    probe_decay: f64,
    lagged: [[f64; 3]; 2],
}

impl Propagator<'_> {
    /// The room after the step.
    pub fn advance(&self, start: &Temperatures, forcing: &Forcing) -> Trajectory {
        let [root_air, root_contents] = self.modes.root_capacity;
        let scaled = [start.air_k * root_air, start.contents_k * root_contents];
        let constant = [forcing.air_w / root_air, forcing.contents_w / root_contents];
        let ramp = forcing.air_w_per_s / root_air;
        let (mut end, mut integral, mut probe) = ([0.0; 2], [0.0; 2], self.probe_decay * start.probe_k);
        for mode in 0..2 {
            let vector = self.modes.vector[mode];
            let y = vector[0] * scaled[0] + vector[1] * scaled[1];
            let g = vector[0] * constant[0] + vector[1] * constant[1];
            let r = vector[0] * ramp;
            let phi = &self.phi[mode].0;
            let at_end = phi[0] * y + phi[1] * g + phi[2] * r;
            let over_time = phi[1] * y + phi[2] * g + phi[3] * r;
            let lagged = &self.lagged[mode];
            probe += vector[0] / root_air * (lagged[0] * y + lagged[1] * g + lagged[2] * r);
            for node in 0..2 {
                end[node] += vector[node] * at_end;
                integral[node] += vector[node] * over_time;
            }
        }
        Trajectory {
            end: Temperatures {
                air_k: end[0] / root_air,
                contents_k: end[1] / root_contents,
                probe_k: probe,
            },
            air_mean_k: integral[0] / (root_air * self.step_s),
            contents_mean_k: integral[1] / (root_contents * self.step_s),
        }
    }

    /// How much warmer the air is on average for one more watt into it all through the step, K/W.
    pub fn air_mean_per_watt(&self) -> f64 {
        self.air_per_watt(2) / self.step_s
    }

    /// How much warmer the air is at the end for one more watt into it all through the step, K/W.
    pub fn air_end_per_watt(&self) -> f64 {
        self.air_per_watt(1)
    }

    fn air_per_watt(&self, integral: usize) -> f64 {
        let root_air = self.modes.root_capacity[0];
        let share = |mode: usize| {
            let part = self.modes.vector[mode][0];
            part * part * self.phi[mode].0[integral]
        };
        (share(0) + share(1)) / (root_air * root_air)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const START: Temperatures = Temperatures { air_k: 279.0, contents_k: 277.0, probe_k: 278.0 };
    const FORCING: Forcing = Forcing { air_w: 20.0 * 285.0 - 900.0, air_w_per_s: 0.02, contents_w: 15.0 };

    /// The same three equations by classical Runge-Kutta in small steps: nothing shared but the equations.
    fn by_small_steps(
        capacity: [f64; 2],
        outside: f64,
        exchange: f64,
        lag: f64,
        time_s: f64,
    ) -> ([f64; 3], [f64; 2]) {
        let slope = |t: f64, x: [f64; 3]| {
            let air = FORCING.air_w + FORCING.air_w_per_s * t - outside * x[0] + exchange * (x[1] - x[0]);
            let contents = FORCING.contents_w + exchange * (x[0] - x[1]);
            [air / capacity[0], contents / capacity[1], (x[0] - x[2]) / lag]
        };
        let n = 20_000;
        let dt = time_s / f64::from(n);
        let mut x = [START.air_k, START.contents_k, START.probe_k];
        let mut integral = [0.0; 2];
        let plus = |x: [f64; 3], k: [f64; 3], f: f64| [x[0] + f * k[0], x[1] + f * k[1], x[2] + f * k[2]];
        for i in 0..n {
            let t = f64::from(i) * dt;
            let k1 = slope(t, x);
            let k2 = slope(t + dt / 2.0, plus(x, k1, dt / 2.0));
            let k3 = slope(t + dt / 2.0, plus(x, k2, dt / 2.0));
            let k4 = slope(t + dt, plus(x, k3, dt));
            let before = x;
            for j in 0..3 {
                x[j] += dt / 6.0 * (k1[j] + 2.0 * k2[j] + 2.0 * k3[j] + k4[j]);
            }
            // Corrected trapezium with the end slopes: fourth order as well.
            let k_end = slope(t + dt, x);
            for j in 0..2 {
                integral[j] += dt * 0.5 * (before[j] + x[j]) + dt * dt / 12.0 * (k1[j] - k_end[j]);
            }
        }
        (x, integral)
    }

    #[test]
    fn closed_form_agrees_with_runge_kutta() {
        for (capacity, outside, exchange, lag) in [
            ([30e3, 900e3], 20.0, 400.0, 90.0),
            ([30e3, 900e3], 0.0, 400.0, 1800.0),
            ([500e3, 40e3], 35.0, 100.0, 90.0),
            ([30e3, 900e3], 500.0, 400.0, 33.0),
        ] {
            let modes = Modes::new(capacity[0], capacity[1], outside, exchange, lag);
            for time_s in [1.0, 15.0, 300.0, 3600.0] {
                let got = modes.over(time_s).advance(&START, &FORCING);
                let (x, integral) = by_small_steps(capacity, outside, exchange, lag, time_s);
                // 1e-10: rounding of 20 000 additions; the method error of the small steps is far below it.
                assert_relative_eq!(got.end.air_k, x[0], max_relative = 1e-10);
                assert_relative_eq!(got.end.contents_k, x[1], max_relative = 1e-10);
                assert_relative_eq!(got.end.probe_k, x[2], max_relative = 1e-10);
                assert_relative_eq!(got.air_mean_k, integral[0] / time_s, max_relative = 1e-10);
                assert_relative_eq!(got.contents_mean_k, integral[1] / time_s, max_relative = 1e-10);
            }
        }
    }

    #[test]
    fn a_probe_as_fast_as_the_room_makes_no_nan() {
        let modes = Modes::new(30e3, 900e3, 20.0, 400.0, 90.0);
        let resonant = Modes::new(30e3, 900e3, 20.0, 400.0, -1.0 / modes.rate[1]);
        let near = Modes::new(30e3, 900e3, 20.0, 400.0, -1.001 / modes.rate[1]);
        let (one, other) =
            (resonant.over(60.0).advance(&START, &FORCING), near.over(60.0).advance(&START, &FORCING));
        // The lag differs by 0.1 %, the probe by a fraction of that of its 1 K swing.
        assert_relative_eq!(one.end.probe_k, other.end.probe_k, epsilon = 1e-3);
    }

    #[test]
    fn the_books_of_a_step_close() {
        let modes = Modes::new(30e3, 900e3, 20.0, 400.0, 90.0);
        for time_s in [0.01, 3.0, 120.0, 3600.0] {
            let got = modes.over(time_s).advance(&START, &FORCING);
            let stored =
                30e3 * (got.end.air_k - START.air_k) + 900e3 * (got.end.contents_k - START.contents_k);
            let came = (FORCING.air_w + FORCING.contents_w) * time_s
                + 0.5 * FORCING.air_w_per_s * time_s * time_s
                - 20.0 * got.air_mean_k * time_s;
            // Stored energy is a difference of numbers near 2.5e8 J: a few 1e-8 J of rounding.
            assert_relative_eq!(stored, came, epsilon = 1e-6);
        }
    }
}

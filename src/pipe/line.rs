//! A line of pipes, bends, valves and an outlet, and the flow that a pressure drives through it.

use super::tube::Material;
use super::{friction_pa, valve_drop_pa, velocity_m_s, velocity_pressure_pa};
use crate::constants::{GRAVITY_M_S2, WATER_SPECIFIC_HEAT_J_PER_KG_K};
use crate::water::{density_kg_m3, viscosity_pa_s};

/// Loss of a bend of 90 degrees, in velocity pressures.
/// From memory, to be verified: handbooks give 0.7 to 1.5 for screwed elbows, 0.3 to 0.5 for long ones.
const BEND_LOSS: f64 = 0.9;
/// Narrowest interval of flow in which the root is taken as found, share of the flow.
const FLOW_FRAC: f64 = 1e-12;

/// A run of one tube.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Its name in the report.
    pub name: String,
    /// What it is made of.
    pub material: Material,
    /// Inner diameter, m.
    pub bore_m: f64,
    /// Length, m.
    pub length_m: f64,
    /// Number of bends.
    pub bends: f64,
    /// Depth of its middle in the ground, m; `None` where it does not lie there.
    pub buried_m: Option<f64>,
}

/// What the water comes out of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Emitters {
    /// How many.
    pub count: f64,
    /// Flow of each at the pressure it is told for, m3/s.
    pub flow_m3_s: f64,
    /// That pressure, Pa.
    pub at_pa: f64,
}

/// A line from the tank to its outlet.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Pressure at its beginning over that of the air, Pa.
    pub supply_pa: f64,
    /// Height of the outlet over the beginning, m; negative where it lies lower.
    pub rise_m: f64,
    /// Runs of tube in the order of the water.
    pub runs: Vec<Run>,
    /// Valves and devices: name, and flow at 1 bar, m3/s.
    pub valves: Vec<(String, f64)>,
    /// Emitters; `None` for an open end.
    pub emitters: Option<Emitters>,
}

/// A place where pressure goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Height.
    Rise,
    /// Friction and bends of the run of this index.
    Run(usize),
    /// The valve or device of this index.
    Valve(usize),
    /// The outlet: the speed of the leaving water, or the emitters.
    Outlet,
}

/// The pressure that goes there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drop {
    /// Where.
    pub stage: Stage,
    /// How much, Pa; negative where a lower outlet gives pressure.
    pub pa: f64,
}

impl Line {
    /// What each place takes at a flow of water of a temperature, in the order height, runs, valves, outlet.
    ///
    /// # Arguments
    /// - `flow_m3_s`: 0 or more
    /// - `temperature_k`: of the water, 0 to 100 °C
    pub fn drops(&self, flow_m3_s: f64, temperature_k: f64) -> Vec<Drop> {
        let density = density_kg_m3(temperature_k);
        let rise = Drop { stage: Stage::Rise, pa: density * GRAVITY_M_S2 * self.rise_m };
        let runs = (0..self.runs.len()).map(|index| Drop {
            stage: Stage::Run(index),
            pa: self.runs[index].drop_pa(flow_m3_s, temperature_k),
        });
        let valves = self.valves.iter().enumerate().map(|(index, (_, kv_m3_s))| Drop {
            stage: Stage::Valve(index),
            pa: valve_drop_pa(flow_m3_s, *kv_m3_s, density),
        });
        let outlet = Drop { stage: Stage::Outlet, pa: self.outlet_pa(flow_m3_s, density) };
        [rise].into_iter().chain(runs).chain(valves).chain([outlet]).collect()
    }

    fn outlet_pa(&self, flow_m3_s: f64, density: f64) -> f64 {
        match (self.emitters, self.runs.last()) {
            (Some(emitters), _) => {
                let ratio = flow_m3_s / (emitters.count * emitters.flow_m3_s);
                emitters.at_pa * ratio * ratio
            }
            (None, Some(last)) => velocity_pressure_pa(velocity_m_s(flow_m3_s, last.bore_m), density),
            (None, None) => 0.0,
        }
    }

    /// Flow of water of a temperature that the supply's pressure drives through the line, m3/s; 0 where the outlet is higher than the
    /// pressure reaches.
    ///
    /// The pressure that the line takes rises with the flow, so there is one flow at which it is what the supply gives; bisection finds it.
    ///
    /// # Arguments
    /// temperature_k: of the water, 0 to 100 °C.
    pub fn flow_m3_s(&self, temperature_k: f64) -> f64 {
        let left_pa = |flow_m3_s: f64| {
            self.supply_pa - self.drops(flow_m3_s, temperature_k).iter().map(|drop| drop.pa).sum::<f64>()
        };
        if left_pa(0.0) <= 0.0 {
            return 0.0;
        }
        let (mut low, mut high) = (0.0, 1.0e-5);
        while left_pa(high) > 0.0 {
            (low, high) = (high, 2.0 * high);
        }
        while high - low > FLOW_FRAC * high {
            let middle = 0.5 * (low + high);
            if middle <= low || middle >= high {
                break;
            }
            if left_pa(middle) > 0.0 { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    /// The run in which the water flows fastest, and how fast, m/s; `None` without a run.
    pub fn fastest(&self, flow_m3_s: f64) -> Option<(usize, f64)> {
        let narrowest = |best: Option<usize>, index: usize| match best {
            Some(best) if self.runs[best].bore_m <= self.runs[index].bore_m => Some(best),
            _ => Some(index),
        };
        let index = (0..self.runs.len()).fold(None, narrowest)?;
        Some((index, velocity_m_s(flow_m3_s, self.runs[index].bore_m)))
    }
}

impl Run {
    /// What friction and bends take at a flow of water of a temperature, Pa.
    fn drop_pa(&self, flow_m3_s: f64, temperature_k: f64) -> f64 {
        let density = density_kg_m3(temperature_k);
        let water = (density, viscosity_pa_s(temperature_k));
        let straight = friction_pa(flow_m3_s, self.bore_m, self.length_m, self.material.roughness_m(), water);
        let bends =
            self.bends * BEND_LOSS * velocity_pressure_pa(velocity_m_s(flow_m3_s, self.bore_m), density);
        straight + bends
    }

    /// Share of the water's excess of temperature over the ground that is left at its end, after it has run for long.
    ///
    /// `exp(-U' L/(m c))`, `U' = 2 pi l/arcosh(2 z/D)`: a long pipe whose middle lies z deep. The bore is taken for D and the tube's wall for nothing, so
    /// that a thick wall cools less. 1 where it does not lie in the ground.
    ///
    /// # Arguments
    /// - `flow_kg_s`: above 0
    /// - `soil_w_mk`: conductivity of the soil, above 0
    ///
    /// # Source
    /// Shape factor of a horizontal cylinder in a half-space. From memory, to be verified; far from the surface it is that of a pipe
    /// and its mirror image, `2 pi/ln(4 z/D)`.
    pub fn left_over_soil_frac(&self, flow_kg_s: f64, soil_w_mk: f64) -> f64 {
        let Some(depth_m) = self.buried_m else { return 1.0 };
        let per_metre = 2.0 * std::f64::consts::PI * soil_w_mk / libm::acosh(2.0 * depth_m / self.bore_m);
        libm::exp(-per_metre * self.length_m / (flow_kg_s * WATER_SPECIFIC_HEAT_J_PER_KG_K))
    }

    /// Water that stands in it, m3.
    pub fn holds_m3(&self) -> f64 {
        0.25 * std::f64::consts::PI * self.bore_m * self.bore_m * self.length_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::constants::ZERO_CELSIUS_K;
    use approx::assert_relative_eq;

    const HOT_K: f64 = ZERO_CELSIUS_K + 55.0;

    fn line() -> Line {
        let run = |name: &str, material: Material, bore_m: f64, length_m: f64| Run {
            name: name.to_owned(),
            material,
            bore_m,
            length_m,
            bends: 4.0,
            buried_m: None,
        };
        Line {
            supply_pa: 4.0e5,
            rise_m: 1.5,
            runs: vec![
                run("in the house", Material::Copper, 0.0138, 6.0),
                run("outside", Material::Pe, 0.016, 20.0),
            ],
            valves: vec![("valve".to_owned(), 1.7 / 3600.0)],
            emitters: None,
        }
    }

    #[test]
    fn the_drops_add_up_to_the_supply() {
        let line = line();
        let flow = line.flow_m3_s(HOT_K);
        let sum: f64 = line.drops(flow, HOT_K).iter().map(|drop| drop.pa).sum();
        // The root is found to 1e-12 of the flow, and pressure goes with its square at most.
        assert_relative_eq!(sum, line.supply_pa, max_relative = 1e-10);
    }

    #[test]
    fn a_wider_pipe_a_larger_valve_and_more_pressure_never_lower_the_flow() {
        let flow = line().flow_m3_s(HOT_K);
        for change in [
            (|line: &mut Line| line.runs[1].bore_m *= 1.2) as fn(&mut Line),
            |line| line.valves[0].1 *= 1.5,
            |line| line.supply_pa *= 1.1,
            |line| line.runs[0].length_m *= 0.5,
            |line| line.rise_m = -1.0,
        ] {
            let mut changed = line();
            change(&mut changed);
            assert!(changed.flow_m3_s(HOT_K) > flow);
        }
    }

    /// Hand calculation: 30 m of 16 mm, 0.4 m deep in soil of 1 W/mK: 2 pi/arcosh(50) = 6.283/4.605 = 1.364 W/mK, of 10 L/min (0.1667 kg/s)
    /// exp(-1.364 x 30/(0.1667 x 4181.6)) = 0.943. A pipe and its mirror image, 2 pi/ln(4 z/D) = 6.283/ln(100), differ by 1e-4 there.
    #[test]
    fn a_buried_line_cools_the_water_little() {
        let mut run = line().runs[1].clone();
        assert_eq!(run.left_over_soil_frac(10.0 / 60.0, 1.0), 1.0);
        (run.length_m, run.buried_m) = (30.0, Some(0.4));
        let left = run.left_over_soil_frac(10.0 / 60.0, 1.0);
        assert_relative_eq!(left, 0.943, max_relative = 1e-3);
        let mirrored = 2.0 * std::f64::consts::PI / libm::log(4.0 * 0.4 / 0.016);
        let by_image = libm::exp(-mirrored * 30.0 / (10.0 / 60.0 * WATER_SPECIFIC_HEAT_J_PER_KG_K));
        assert_relative_eq!(left, by_image, max_relative = 1e-4);
    }

    #[test]
    fn an_outlet_above_the_pressure_s_reach_gives_nothing() {
        let mut high = line();
        high.rise_m = 45.0;
        assert_eq!(high.flow_m3_s(HOT_K), 0.0);
    }

    #[test]
    fn emitters_alone_give_what_they_are_told_for_at_their_pressure() {
        let emitters = Emitters { count: 50.0, flow_m3_s: 4.0e-3 / 3600.0, at_pa: 1.0e5 };
        let alone = Line {
            supply_pa: 1.0e5,
            rise_m: 0.0,
            runs: Vec::new(),
            valves: Vec::new(),
            emitters: Some(emitters),
        };
        assert_relative_eq!(alone.flow_m3_s(HOT_K), 0.2 / 3600.0, max_relative = 1e-9);
    }
}

//! The vapour-compression cycle that heats water from a room's air, at the discharge pressure with the highest COP.
//!
//! Per kilogram of refrigerant, with `r` the ratio of discharge to suction pressure:
//!
//! ```text
//! p1 = p_dew(T_room - approach),  T1 = T_dew + superheat
//! w  = (h2s - h1)/(eta_is(r) eta_motor),  h2 = h1 + (1 - shell loss) w
//! h3 = the lowest enthalpy that leaves T_refrigerant - T_water >= pinch everywhere in counterflow;
//!      with ordinary subcooling no lower than 5 K below boiling
//! q  = h2 - h3,  q_e = h1 - h3,  P = w + fan q_e,  COP = q/P
//! ```
//!
//! With a suction exchanger the gas is warmed by a share of the difference to the liquid before it is compressed, and the liquid gives that heat.
//! Source of the equations: any textbook of refrigeration. The parameters are listed in `docs/CYCLE_MAPS.md`.

use std::sync::Arc;

use crate::fluid::{Fluid, Isobar, ZERO_CELSIUS_K};

/// Part of the compressor's input that leaves through its shell.
pub const SHELL_LOSS_FRAC: f64 = 0.10;
/// Fan power for each watt of the evaporator.
pub const FAN_FRAC: f64 = 0.025;
/// Superheat without and with a suction exchanger, K.
const SUPERHEAT_DK: f64 = 5.0;
const SUPERHEAT_BEFORE_EXCHANGER_DK: f64 = 2.0;
/// Share of the difference between liquid and gas that a suction exchanger makes up.
const EXCHANGER_FRAC: f64 = 0.5;
/// Ordinary subcooling, K.
const SUBCOOLING_DK: f64 = 5.0;
/// Smallest ratio of discharge to suction pressure.
const LEAST_RATIO: f64 = 1.25;
/// Neighbouring discharge pressures: apart by this in saturation temperature, K, which is a thousandth in pressure; above the
/// critical point by this ratio.
const SATURATION_STEP_DK: f64 = 0.04;
const PRESSURE_STEP: f64 = 1.001;

/// How water and air meet the refrigerant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exchanger {
    /// Least difference between refrigerant and water, K.
    pub pinch_dk: f64,
    /// Room air over evaporating temperature, K.
    pub approach_dk: f64,
}

/// What is done to the liquid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Liquid {
    /// At most 5 K of subcooling.
    Ordinary,
    /// As cold as the pinch allows.
    Deep,
    /// As cold as the pinch allows, and then warming the suction gas.
    SuctionExchanger,
}

/// A compressor's efficiencies over its pressure ratio.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Compressor {
    /// For carbon dioxide.
    Transcritical,
    /// For the others.
    Subcritical,
}

impl Compressor {
    /// Isentropic efficiency.
    ///
    /// Source: carbon dioxide, S. M. Liao, T. S. Zhao and A. Jakobsen, Applied Thermal Engineering 20(9), 2000, 831; others, F. Brunin,
    /// M. Feidt and B. Hivet, International Journal of Refrigeration 20(5), 1997, 308. Second hand: coefficients in public code.
    fn isentropic(self, ratio: f64) -> f64 {
        match self {
            Compressor::Transcritical => 1.003 - 0.121 * ratio,
            Compressor::Subcritical => 0.874 - 0.0135 * ratio,
        }
    }

    /// Motor and mechanics. Carbon dioxide: chosen so that the cycle meets the prototype of Nekså and others 1998 (COP 4.3 from 9 to
    /// 60 °C); the others: common practice, no source.
    fn motor(self) -> f64 {
        match self {
            Compressor::Transcritical => 0.90,
            Compressor::Subcritical => 0.80,
        }
    }

    /// Volumetric efficiency: re-expansion from 4 % of clearance, 3 % lost. Source: the textbook formula. Common practice, no source, for the figures.
    fn volumetric(self, ratio: f64) -> f64 {
        let exponent = match self {
            Compressor::Transcritical => 1.3,
            Compressor::Subcritical => 1.1,
        };
        0.97 * (1.0 - 0.04 * (ratio.powf(1.0 / exponent) - 1.0))
    }
}

/// A machine: refrigerant, compressor, exchangers, highest discharge pressure.
pub struct Machine {
    pub fluid: Arc<Fluid>,
    pub compressor: Compressor,
    pub exchanger: Exchanger,
    pub liquid: Liquid,
    /// Isobars of the discharge pressures that may be chosen, lowest first.
    pub isobars: Arc<Vec<Isobar>>,
}

/// The machine at one room air, ready for any water.
pub struct InRoom<'a> {
    machine: &'a Machine,
    suction_pa: f64,
    /// Enthalpy of the gas leaving the evaporator, J/kg.
    evaporator_out_j_kg: f64,
    /// Suction gas by temperature, from the evaporator's outlet up: one state unless there is a suction exchanger.
    suction: Vec<crate::fluid::Point>,
}

/// What the cycle does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Work {
    pub cop: f64,
    /// Heat to the water for each cubic metre that the compressor sweeps, J/m3.
    pub swept_j_m3: f64,
    pub discharge_pa: f64,
    pub discharge_k: f64,
    /// Whether the highest discharge pressure was the best.
    pub at_highest_pressure: bool,
}

/// Isobars from saturation at 8 °C to the highest pressure, which is one of them.
pub fn isobars(fluid: &Fluid, highest_pa: f64) -> Vec<Isobar> {
    let lowest_k = ZERO_CELSIUS_K + 8.0;
    let below_highest = |temperature_k: f64| {
        fluid.dew_pressure_pa(temperature_k).is_some_and(|pressure_pa| pressure_pa < highest_pa)
    };
    // The hottest saturation below the highest pressure or the critical point, to a millionth of a kelvin.
    let (mut hottest_k, mut beyond_k) = (lowest_k, lowest_k + 200.0);
    while beyond_k - hottest_k > 1e-6 {
        let middle_k = 0.5 * (hottest_k + beyond_k);
        if below_highest(middle_k) {
            hottest_k = middle_k;
        } else {
            beyond_k = middle_k;
        }
    }
    let steps = ((hottest_k - lowest_k) / SATURATION_STEP_DK).floor() as usize;
    let boiling = (0..=steps).rev().map(|step| hottest_k - SATURATION_STEP_DK * step as f64);
    let mut isobars: Vec<_> = boiling.filter_map(|boiling_k| fluid.isobar_boiling_at(boiling_k)).collect();
    if highest_pa > fluid.critical_pa() {
        let steps = ((highest_pa / fluid.critical_pa()).ln() / PRESSURE_STEP.ln()).floor() as i32;
        let pressures = (0..=steps).rev().map(|step| highest_pa / PRESSURE_STEP.powi(step));
        isobars.extend(pressures.filter_map(|pressure_pa| fluid.isobar_above_critical(pressure_pa)));
    }
    isobars
}

impl Machine {
    /// The machine in room air of a temperature, K.
    pub fn in_room(&self, air_k: f64) -> InRoom<'_> {
        let evaporating_k = air_k - self.exchanger.approach_dk;
        let suction_pa = self.fluid.dew_pressure_pa(evaporating_k).expect("air is below the critical point");
        let gas = |superheat_dk: f64| self.fluid.superheated(evaporating_k, superheat_dk);
        let suction: Vec<_> = match self.liquid {
            // The exchanger warms the gas by less than 40 K: the hottest liquid leaves at some 60 °C.
            Liquid::SuctionExchanger => {
                (0..=80).map(|half| gas(SUPERHEAT_BEFORE_EXCHANGER_DK + 0.5 * f64::from(half))).collect()
            }
            Liquid::Ordinary | Liquid::Deep => vec![gas(SUPERHEAT_DK)],
        };
        InRoom { machine: self, suction_pa, evaporator_out_j_kg: suction[0].enthalpy_j_kg, suction }
    }
}

impl InRoom<'_> {
    /// The cycle with water from one temperature to another, K, at its best pressure; none if no pressure reaches the outlet.
    pub fn heat_water(&self, in_k: f64, out_k: f64) -> Option<Work> {
        let isobars = &self.machine.isobars;
        let at = |(index, isobar): (usize, &Isobar)| {
            let work = self.at_pressure(isobar, in_k, out_k)?;
            Some(Work { at_highest_pressure: index + 1 == isobars.len(), ..work })
        };
        isobars
            .iter()
            .enumerate()
            .filter(|(_, isobar)| isobar.pressure_pa > LEAST_RATIO * self.suction_pa)
            .filter_map(at)
            .max_by(|a, b| a.cop.total_cmp(&b.cop))
    }

    fn at_pressure(&self, isobar: &Isobar, in_k: f64, out_k: f64) -> Option<Work> {
        let Machine { compressor, exchanger, liquid, .. } = self.machine;
        let ratio = isobar.pressure_pa / self.suction_pa;
        // Where the suction gas is: a place in its list, from a guess until the liquid's temperature fits.
        let (mut place, mut settled) = (0.25 * (self.suction.len() - 1) as f64, None);
        for _ in 0..40 {
            let gas = self.suction_at(place);
            let isentropic_j_kg = isobar.enthalpy_at_entropy_j_kg(gas.entropy_j_kg_k);
            let work_j_kg =
                (isentropic_j_kg - gas.enthalpy_j_kg) / (compressor.isentropic(ratio) * compressor.motor());
            let hot_j_kg = gas.enthalpy_j_kg + (1.0 - SHELL_LOSS_FRAC) * work_j_kg;
            if work_j_kg <= 0.0 || !isobar.reaches(hot_j_kg) {
                return None;
            }
            let mut heat_j_kg = most_heat_j_kg(isobar, hot_j_kg, in_k, out_k, exchanger.pinch_dk)?;
            if let (Liquid::Ordinary, Some(bubble_k)) = (liquid, isobar.bubble_k) {
                let coldest_j_kg = isobar.enthalpy_at_temperature_j_kg(bubble_k - SUBCOOLING_DK);
                heat_j_kg = heat_j_kg.min(hot_j_kg - coldest_j_kg);
            }
            settled = Some((gas, work_j_kg, hot_j_kg, heat_j_kg));
            if *liquid != Liquid::SuctionExchanger {
                break;
            }
            let liquid_k = isobar.temperature_at_enthalpy_k(hot_j_kg - heat_j_kg);
            let warmed_dk = EXCHANGER_FRAC * (liquid_k - self.suction[0].temperature_k).max(0.0);
            let step_dk = self.suction[1].temperature_k - self.suction[0].temperature_k;
            let next = (warmed_dk / step_dk).min((self.suction.len() - 1) as f64);
            if (next - place).abs() * step_dk < 1e-3 {
                break;
            }
            place = next;
        }
        let (gas, work_j_kg, hot_j_kg, heat_j_kg) = settled?;
        let evaporator_j_kg = heat_j_kg - (hot_j_kg - gas.enthalpy_j_kg);
        debug_assert!(gas.enthalpy_j_kg >= self.evaporator_out_j_kg);
        if heat_j_kg <= 0.0 || evaporator_j_kg <= 0.0 {
            return None;
        }
        Some(Work {
            cop: heat_j_kg / (work_j_kg + FAN_FRAC * evaporator_j_kg),
            swept_j_m3: compressor.volumetric(ratio) * gas.density_kg_m3 * heat_j_kg,
            discharge_pa: isobar.pressure_pa,
            discharge_k: isobar.temperature_at_enthalpy_k(hot_j_kg),
            at_highest_pressure: false,
        })
    }

    fn suction_at(&self, place: f64) -> crate::fluid::Point {
        let lower = (place.floor() as usize).min(self.suction.len() - 1);
        let upper = (lower + 1).min(self.suction.len() - 1);
        let share = place - lower as f64;
        let between = |pick: fn(&crate::fluid::Point) -> f64| {
            pick(&self.suction[lower]) + share * (pick(&self.suction[upper]) - pick(&self.suction[lower]))
        };
        crate::fluid::Point {
            temperature_k: between(|point| point.temperature_k),
            enthalpy_j_kg: between(|point| point.enthalpy_j_kg),
            entropy_j_kg_k: between(|point| point.entropy_j_kg_k),
            density_kg_m3: between(|point| point.density_kg_m3),
        }
    }
}

/// Most heat, J/kg, that the refrigerant gives from an enthalpy down while it stays warmer than the water by the pinch everywhere in counterflow; none if
/// it is too cold at the hot end.
///
/// After it has given `x` of the heat `q`, the water there is at `out - x/q (out - in)`. Warmer by the pinch means `q <= x (out - in)/need`
/// with `need = out + pinch - T(x)`, for every `x` up to `q`.
fn most_heat_j_kg(isobar: &Isobar, hot_j_kg: f64, in_k: f64, out_k: f64, pinch_dk: f64) -> Option<f64> {
    if isobar.temperature_at_enthalpy_k(hot_j_kg) < out_k + pinch_dk {
        return None;
    }
    let below = isobar.points.partition_point(|point| point.enthalpy_j_kg < hot_j_kg);
    let (mut most, mut before) = (f64::INFINITY, (0.0, f64::INFINITY));
    for point in isobar.points[..below].iter().rev() {
        let given = hot_j_kg - point.enthalpy_j_kg;
        let need_dk = out_k + pinch_dk - point.temperature_k;
        let here = if need_dk > 0.0 { given * (out_k - in_k) / need_dk } else { f64::INFINITY };
        if here < given && before.1.is_finite() {
            // The cold end: what may be given falls below what is given between this state and the one before.
            let (given_before, here_before) = before;
            let slope = (here - here_before) / (given - given_before);
            let crossing = (here_before - slope * given_before) / (1.0 - slope);
            return Some(most.min(crossing.clamp(given_before, given)));
        }
        most = most.min(here);
        if most < given {
            return Some(most);
        }
        before = (given, here);
    }
    Some(most.min(before.0))
}

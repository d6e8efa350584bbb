//! Refrigerants: states along lines of constant pressure, from published equations of state.
//!
//! `fluids.json` has the terms of each equation as printed in the paper that it names. Second hand: copied from the fluid files of
//! CoolProp 8.0.0 (MIT), a general property library. The equations are evaluated by `feos`.

use feos::core::parameter::{Parameters, PureRecord};
use feos::core::{Contributions, DensityInitialization, PhaseEquilibrium, SolverOptions, State};
use feos::multiparameter::{MultiParameter, MultiParameterEquationOfState, MultiParameterRecord};
use quantity::{Density, JOULE, KELVIN, KILOGRAM, METER, MOL, PASCAL};
use serde_json::Value;

pub const ZERO_CELSIUS_K: f64 = 273.15;

/// Coldest and hottest state of an isobar, K: water of 5 °C less than its pinch above, and beyond every discharge.
const COLDEST_K: f64 = ZERO_CELSIUS_K + 8.0;
const HOTTEST_K: f64 = ZERO_CELSIUS_K + 260.0;

type FluidState<'a> = State<&'a MultiParameterEquationOfState>;

type FluidEquilibrium<'a> = PhaseEquilibrium<&'a MultiParameterEquationOfState, 2>;

/// A refrigerant.
pub struct Fluid {
    equation: MultiParameterEquationOfState,
    critical_pa: f64,
}

/// A state in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    pub temperature_k: f64,
    pub enthalpy_j_kg: f64,
    pub entropy_j_kg_k: f64,
    pub density_kg_m3: f64,
}

/// States of one pressure from cold to hot.
pub struct Isobar {
    pub pressure_pa: f64,
    pub points: Vec<Point>,
    /// Temperature of the boiling liquid, K; none above the critical pressure.
    pub bubble_k: Option<f64>,
}

impl Fluid {
    /// The refrigerant of this name in `fluids.json`.
    pub fn named(name: &str) -> Self {
        let records: Vec<Value> =
            serde_json::from_str(include_str!("fluids.json")).expect("a list of fluids");
        let record = records.into_iter().find(|record| record["identifier"]["name"] == name);
        let record = record.expect("a fluid of the list");
        let number = |key: &str| record[key].as_f64().expect("a number");
        // The equations are written in terms of the critical temperature and density.
        let (critical_k, critical_mol_m3) = (number("tc"), number("rhoc"));
        let record: PureRecord<MultiParameterRecord, ()> =
            serde_json::from_value(record).expect("the terms of an equation");
        let parameters = Parameters::new_pure(record).expect("a pure fluid");
        let equation = MultiParameter::new(parameters);
        let density = critical_mol_m3 * MOL / (METER * METER * METER);
        let critical: FluidState<'_> =
            State::new_pure(&&equation, critical_k * KELVIN, density).expect("the critical point");
        let critical_pa = pressure_pa(&critical);
        Self { equation, critical_pa }
    }

    /// Critical pressure, Pa.
    pub fn critical_pa(&self) -> f64 {
        self.critical_pa
    }

    /// Boiling liquid and saturated vapour of a temperature; none so close to the critical point that they cannot be told apart
    /// numerically.
    fn saturated(&self, temperature_k: f64) -> Option<[FluidState<'_>; 2]> {
        // From far away the solver may settle on something that is no equilibrium; from a neighbouring one it does not.
        let neighbours = [0.3, -0.3, 1.0, -1.0, 3.0, -3.0].into_iter().filter_map(|distance_dk| {
            let near = self.equilibrium(temperature_k + distance_dk, None).filter(in_equilibrium)?;
            self.equilibrium(temperature_k, Some(&near))
        });
        let both =
            self.equilibrium(temperature_k, None).into_iter().chain(neighbours).find(in_equilibrium)?;
        Some([both.liquid().clone(), both.vapor().clone()])
    }

    fn equilibrium<'a>(
        &'a self,
        temperature_k: f64,
        near: Option<&FluidEquilibrium<'a>>,
    ) -> Option<FluidEquilibrium<'a>> {
        let temperature = temperature_k * KELVIN;
        PhaseEquilibrium::pure(&&self.equation, temperature, near, SolverOptions::default()).ok()
    }

    /// Pressure of the saturated vapour, Pa; none at the critical point and beyond.
    pub fn dew_pressure_pa(&self, temperature_k: f64) -> Option<f64> {
        self.saturated(temperature_k).map(|[_, vapour]| pressure_pa(&vapour))
    }

    /// The gas that boiled at a temperature, that many kelvin warmer.
    pub fn superheated(&self, boiling_k: f64, superheat_dk: f64) -> Point {
        let [_, vapour] = self.saturated(boiling_k).expect("below the critical temperature");
        let (pressure_pa, near) =
            (pressure_pa(&vapour), DensityInitialization::InitialDensity(vapour.density));
        point(&self.state(pressure_pa, boiling_k + superheat_dk, near).expect("a gas"))
    }

    fn state(
        &self,
        pressure_pa: f64,
        temperature_k: f64,
        near: DensityInitialization,
    ) -> Option<FluidState<'_>> {
        State::new_npt(&&self.equation, temperature_k * KELVIN, pressure_pa * PASCAL, (), Some(near)).ok()
    }

    /// States of the pressure at which the fluid boils at a temperature.
    pub fn isobar_boiling_at(&self, saturation_k: f64) -> Option<Isobar> {
        let [liquid, vapour] = self.saturated(saturation_k)?;
        let pressure_pa = pressure_pa(&vapour);
        let mut points = vec![point(&liquid)];
        if saturation_k > COLDEST_K {
            self.line(pressure_pa, liquid.density, (saturation_k, COLDEST_K), 1.0, &mut points)?;
        }
        points.reverse();
        points.push(point(&vapour));
        let near_k = saturation_k + 20.0;
        let density = self.line(pressure_pa, vapour.density, (saturation_k, near_k), 0.5, &mut points)?;
        self.line(pressure_pa, density, (near_k, HOTTEST_K), 1.0, &mut points)?;
        Isobar { pressure_pa, points, bubble_k: Some(saturation_k) }.checked()
    }

    /// States of a pressure above the critical one.
    pub fn isobar_above_critical(&self, pressure_pa: f64) -> Option<Isobar> {
        let coldest = self.state(pressure_pa, COLDEST_K, DensityInitialization::Liquid)?;
        let mut points = vec![point(&coldest)];
        let mut density = coldest.density;
        // Dense around the pseudo-critical temperature, where the specific heat peaks.
        for (from_degc, to_degc, step_dk) in [(8.0, 25.0, 0.5), (25.0, 60.0, 0.1), (60.0, 260.0, 1.0)] {
            let ends = (from_degc + ZERO_CELSIUS_K, to_degc + ZERO_CELSIUS_K);
            density = self.line(pressure_pa, density, ends, step_dk, &mut points)?;
        }
        Isobar { pressure_pa, points, bubble_k: None }.checked()
    }

    /// States from one temperature, whose density is known, to another in equal steps, the first left out, each sought from the density before.
    fn line(
        &self,
        pressure_pa: f64,
        mut density: Density,
        (from_k, to_k): (f64, f64),
        step_dk: f64,
        points: &mut Vec<Point>,
    ) -> Option<Density> {
        let steps = ((to_k - from_k).abs() / step_dk).ceil();
        for step in 1..=steps as usize {
            let temperature_k = from_k + (to_k - from_k) * step as f64 / steps;
            let near = DensityInitialization::InitialDensity(density);
            let state = self.state(pressure_pa, temperature_k, near)?;
            density = state.density;
            points.push(point(&state));
        }
        Some(density)
    }
}

/// Whether both phases have the same pressure and Gibbs energy and are not the same.
fn in_equilibrium(both: &FluidEquilibrium<'_>) -> bool {
    let (liquid, vapour) = (point(both.liquid()), point(both.vapor()));
    let (low_pa, high_pa) = (pressure_pa(both.liquid()), pressure_pa(both.vapor()));
    let gibbs = |point: &Point| point.enthalpy_j_kg - point.temperature_k * point.entropy_j_kg_k;
    let latent_j_kg = vapour.enthalpy_j_kg - liquid.enthalpy_j_kg;
    // 1e-4 of the latent heat and of the pressure: an equation of state that is met, beside numerical noise near the critical point.
    latent_j_kg > 1000.0
        && (gibbs(&vapour) - gibbs(&liquid)).abs() < 1e-4 * latent_j_kg
        && (high_pa / low_pa - 1.0).abs() < 1e-4
}

fn pressure_pa(state: &FluidState<'_>) -> f64 {
    state.pressure(Contributions::Total).convert_into(PASCAL)
}

fn point(state: &FluidState<'_>) -> Point {
    Point {
        temperature_k: state.temperature.convert_into(KELVIN),
        enthalpy_j_kg: state.specific_enthalpy(Contributions::Total).convert_into(JOULE / KILOGRAM),
        entropy_j_kg_k: state.specific_entropy(Contributions::Total).convert_into(JOULE / KILOGRAM / KELVIN),
        density_kg_m3: state.mass_density().convert_into(KILOGRAM / (METER * METER * METER)),
    }
}

impl Isobar {
    /// The isobar, unless a density belongs to the other phase: that would show as a fall.
    fn checked(self) -> Option<Self> {
        let rises = |pair: &[Point]| {
            pair[1].enthalpy_j_kg > pair[0].enthalpy_j_kg && pair[1].temperature_k >= pair[0].temperature_k
        };
        self.points.windows(2).all(rises).then_some(self)
    }

    /// The value of one quantity where another has a value; both rise along the isobar.
    fn between(&self, at: f64, known: impl Fn(&Point) -> f64, sought: impl Fn(&Point) -> f64) -> f64 {
        let upper = self.points.partition_point(|point| known(point) < at).clamp(1, self.points.len() - 1);
        let (low, high) = (&self.points[upper - 1], &self.points[upper]);
        let share = (at - known(low)) / (known(high) - known(low));
        sought(low) + share * (sought(high) - sought(low))
    }

    pub fn enthalpy_at_entropy_j_kg(&self, entropy_j_kg_k: f64) -> f64 {
        self.between(entropy_j_kg_k, |point| point.entropy_j_kg_k, |point| point.enthalpy_j_kg)
    }

    pub fn enthalpy_at_temperature_j_kg(&self, temperature_k: f64) -> f64 {
        self.between(temperature_k, |point| point.temperature_k, |point| point.enthalpy_j_kg)
    }

    pub fn temperature_at_enthalpy_k(&self, enthalpy_j_kg: f64) -> f64 {
        self.between(enthalpy_j_kg, |point| point.enthalpy_j_kg, |point| point.temperature_k)
    }

    /// Whether the isobar has states of this enthalpy.
    pub fn reaches(&self, enthalpy_j_kg: f64) -> bool {
        self.points.last().is_some_and(|hottest| enthalpy_j_kg <= hottest.enthalpy_j_kg)
    }
}

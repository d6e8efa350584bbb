//! The year by small fixed steps: a second program for `docs/MODEL.md`, as plain as it can be.
//!
//! It is written from that page alone and shares no arithmetic with the engine: it reads the fields
//! of [`Plant`] and the raw nodes of the cycle map, and brings its own properties, interpolation and
//! integration. Every step is explicit. The room goes by the midpoint rule, the tank is a column of
//! equal layers whose water moves with a second-order flux limiter, everything else is Euler's rule.
//! (Against the midpoint rule at 1.25 s, a year of the example plant with the water passing once: at 5 s
//! Euler's rule for the room as well errs by 0.15 % in electricity and 0.8 % in condensate, the midpoint
//! rule by less than 0.05 % and by 0.13 %.)
//!
//! A step ends at the next multiple of [`Steps::step_s`], and earlier where a known edge lies before
//! it: the hour, an edge of the day's segments, the expiry of a shortest run, rest or opening. A
//! door that stands open for 17 s is therefore open for 17 s. Crossings of temperatures are not
//! searched for: they are seen at the next step.

#![allow(dead_code, reason = "each user of this module reads only some of the sums")]

#[path = "plain_jets.rs"]
mod jets;
#[path = "plain_outdoor_air.rs"]
mod outdoor_air;
#[path = "plain_taps.rs"]
mod taps;

use std::cell::Cell;

use jets::Blown;
use larderloop::heat_pump::CycleMap;
use larderloop::plant::{
    AirCooled, Booster, Boundary, Caller, Cause, Circuit, Cooler, DaySegment, DefrostBegins, Door, Dump,
    HeatPump, Load, Plant, Produce, Surroundings, Tank, TankThermostat, Vessel,
};
use outdoor_air::{Airs, Cooled, blown_kg_s, cooled, may_blow};
use taps::AtOnce;

/// Specific heat of water, J/(kg K). Source: `docs/MODEL.md` section 4.
const WATER_J_PER_KG_K: f64 = 4181.6;
/// Density that turns the tank's mass into a cross-section, kg/m3. Source: `docs/MODEL.md` section 4.
const TANK_WATER_KG_M3: f64 = 992.31;
/// Latent heat, J/kg. Source: `docs/MODEL.md` section 2.
const LATENT_J_PER_KG: f64 = 2.4914e6;
/// Specific heats of dry air and of vapour, J/(kg K). Source: `docs/MODEL.md` section 2.
const AIR_J_PER_KG_K: f64 = 1006.0;
const VAPOUR_J_PER_KG_K: f64 = 1860.0;
/// Coil surface below the room air at full output, K. Source: `docs/MODEL.md` sections 2 and 3.
const COIL_DK: f64 = 7.0;
const COIL_WITH_TANK_COIL_DK: f64 = 10.0;
/// How often a slow-running unit looks at its probe, s, and the most it then changes its share of full output.
/// Source: `docs/MODEL.md` section 3.
const LOOKS_EVERY_S: f64 = 300.0;
const MOST_CHANGE: f64 = 0.1;
/// Shell loss per compressor power and fan power per evaporator duty of the cycle maps. Source: head of each map file.
const SHELL: f64 = 0.10;
const FAN: f64 = 0.025;
/// 0 °C and the gravity of the door equation. Source: `docs/MODEL.md` section 2 and the definition of the degree Celsius.
const ICE_K: f64 = 273.15;
const GRAVITY: f64 = 9.81;
/// Molar mass of water over that of dry air. Source: `docs/MODEL.md` section 2.
const VAPOUR_RATIO: f64 = 0.621945;
/// Two instants closer than this are one, s.
const INSTANT_S: f64 = 1e-6;
/// Largest share of a layer, and of the hot pipe, that may flow out in a step.
const LARGEST_SHARE_OUT: f64 = 0.5;
const LARGEST_PIPE_SHARE: f64 = 0.1;

// ---------------------------------------------------------------------------------------------
// Properties

/// Saturation pressure over liquid water, Pa; below 0 °C continued over supercooled water.
///
/// `ln(p/pc) = Tc/T (a1 v + a2 v^1.5 + a3 v^3 + a4 v^3.5 + a5 v^4 + a6 v^7.5)`, `v = 1 - T/Tc`.
///
/// # Source
/// Wagner and Pruss 1993, as in IAPWS SR1-86(1992). From memory, to be verified: the coefficients;
/// the test compares them with a handbook table.
pub fn saturation_over_water_pa(temperature_k: f64) -> f64 {
    let v = 1.0 - temperature_k / 647.096;
    let root = v.sqrt();
    let (v2, v3) = (v * v, v * v * v);
    let sum = -7.85951783 * v + 1.84408259 * v * root - 11.7866497 * v3 + 22.6807411 * v3 * root
        - 15.9618719 * v2 * v2
        + 1.80122502 * v2 * v2 * v3 * root;
    22.064e6 * libm::exp(647.096 / temperature_k * sum)
}

/// Saturation pressure over ice, Pa, 50 to 273.16 K.
///
/// `ln(p/pt) = 1/u (a1 u^b1 + a2 u^b2 + a3 u^b3)`, `u = T/Tt`.
///
/// # Source
/// IAPWS R14-08(2011), sublimation pressure. From memory, to be verified: the coefficients; the
/// test compares them with a handbook table.
pub fn saturation_over_ice_pa(temperature_k: f64) -> f64 {
    let u = temperature_k / 273.16;
    let log = libm::log(u);
    let power = |exponent: f64| libm::exp(exponent * log);
    let sum =
        -21.2144006 * power(0.00333333333) + 27.3203819 * power(1.20666667) - 6.10598130 * power(1.70333333);
    611.657 * libm::exp(sum / u)
}

/// Humidity ratio of air in which vapour has the pressure `vapour_pa`.
fn humidity_ratio(vapour_pa: f64, pressure_pa: f64) -> f64 {
    VAPOUR_RATIO * vapour_pa / (pressure_pa - vapour_pa)
}

/// Humidity ratio of air saturated over water.
fn saturated_over_water(temperature_k: f64, pressure_pa: f64) -> f64 {
    humidity_ratio(saturation_over_water_pa(temperature_k), pressure_pa)
}

/// Humidity ratio at the coil's surface: saturated over ice below 0 °C, over water above.
pub fn saturated_at_coil(surface_k: f64, pressure_pa: f64) -> f64 {
    if surface_k < ICE_K {
        humidity_ratio(saturation_over_ice_pa(surface_k), pressure_pa)
    } else {
        saturated_over_water(surface_k, pressure_pa)
    }
}

/// Density of moist air, kg/m3: two ideal gases.
///
/// # Source
/// ASHRAE Handbook Fundamentals, chapter 1: `v = 287.042 T (1 + 1.607858 W)/p`, density `(1 + W)/v`. From memory, to be
/// verified: the constants; the test compares with values from a reference library.
pub fn moist_air_kg_m3(temperature_k: f64, humidity: f64, pressure_pa: f64) -> f64 {
    pressure_pa * (1.0 + humidity) / (287.042 * temperature_k * (1.0 + 1.607858 * humidity))
}

/// Density of water at atmospheric pressure, kg/m3, 0 to 100 °C.
///
/// # Source
/// Kell 1975, Journal of Chemical and Engineering Data 20, 97. From memory, to be verified: the
/// coefficients; the test compares them with IAPWS-IF97 values.
pub fn water_kg_m3(temperature_k: f64) -> f64 {
    let t = temperature_k - ICE_K;
    let above = 999.83952
        + t * (16.945176
            + t * (-7.987_040_1e-3 + t * (-46.170_461e-6 + t * (105.563_02e-9 - t * 280.542_53e-12))));
    above / (1.0 + 16.879_850e-3 * t)
}

// ---------------------------------------------------------------------------------------------
// Sums

/// How finely the plain program goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steps {
    /// Longest step, s.
    pub step_s: f64,
    /// Equal layers of the tank.
    pub layers: usize,
}

impl Default for Steps {
    fn default() -> Self {
        Self { step_s: 5.0, layers: 48 }
    }
}

/// Time integral and extremes of a temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Track {
    /// Integral, K s.
    pub integral_k_s: f64,
    /// Lowest, K.
    pub min_k: f64,
    /// Highest, K.
    pub max_k: f64,
}

impl Default for Track {
    fn default() -> Self {
        Self { integral_k_s: 0.0, min_k: f64::INFINITY, max_k: f64::NEG_INFINITY }
    }
}

impl Track {
    fn see(&mut self, before_k: f64, after_k: f64, step_s: f64) {
        self.integral_k_s += 0.5 * (before_k + after_k) * step_s;
        self.min_k = self.min_k.min(before_k).min(after_k);
        self.max_k = self.max_k.max(before_k).max(after_k);
    }

    fn join(&mut self, other: &Self) {
        self.integral_k_s += other.integral_k_s;
        self.min_k = self.min_k.min(other.min_k);
        self.max_k = self.max_k.max(other.max_k);
    }
}

/// What happened in a month: J, kg, m3, s.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Month {
    /// Duration.
    pub duration_s: f64,
    /// Refrigerant heat and circulator, into the water.
    pub heat_to_water_j: f64,
    /// Electricity by load, indexed by `Load as usize`.
    pub electricity_j: [f64; Load::COUNT],
    /// Heat from the room, net.
    pub heat_from_room_j: f64,
    /// Shell loss outside the room.
    pub casing_outside_j: f64,
    /// Hot pipe to room.
    pub pipe_loss_j: f64,
    pub circled_j: f64,
    /// Wanted at the taps over mains.
    pub demand_j: f64,
    /// Delivered at the taps over mains.
    pub delivered_j: f64,
    /// Drawn from the tank by the taps.
    pub drawn_kg: f64,
    /// The same at the density drawn.
    pub drawn_m3: f64,
    /// Heat over mains in it.
    pub drawn_j: f64,
    /// Booster to water.
    pub booster_j: f64,
    /// Wanted less delivered.
    pub shortfall_j: f64,
    /// Delivered over mains before it was warm, and used by nobody.
    pub unused_j: f64,
    /// Time in which water above 49 °C was on the hot side of a tap that ran; and if there were no mixing valve.
    pub scalding_s: f64,
    pub scalding_without_valve_s: f64,
    /// Electric element to water.
    pub element_j: f64,
    /// Tank to surroundings.
    pub tank_loss_j: f64,
    /// Dumped.
    pub dump_kg: f64,
    /// The same at the density dumped.
    pub dump_m3: f64,
    /// Heat over mains in it.
    pub dump_j: f64,
    /// Times the dump opened.
    pub dump_openings: f64,
    /// Time it stood open.
    pub dump_open_s: f64,
    /// Dumped water with what tempered it, by the place that took it; and what tempered it.
    pub dump_placed_kg: [f64; 4],
    pub dump_tempering_kg: f64,
    /// Longest time without a break, and how often the guard shut it.
    pub dump_longest_s: f64,
    pub dump_guarded: f64,
    /// Time in which the aquastat called and no place had room, and the pump's heat to water in it.
    pub dump_held_s: f64,
    pub dump_held_j: f64,
    /// Time in which outdoor air was blown in, and the heat that it carried out.
    pub fans_s: f64,
    pub aired_j: f64,
    /// Heat of a condenser outdoors.
    pub rejected_j: f64,
    /// Starts of the pump.
    pub starts: f64,
    /// Time it ran.
    pub run_s: f64,
    /// Time in which a lock-out held.
    /// How often the probe on the coil stopped the pump.
    pub coil_stops: f64,
    pub locked_out_s: f64,
    /// Share of full output, over the time running.
    pub share_s: f64,
    /// Times the unit rested to melt its frost, and how long.
    pub defrosts: f64,
    pub defrost_s: f64,
    /// Heat into the room by cause, indexed by `Cause as usize`.
    pub gain_j: [f64; Cause::COUNT],
    /// Vapour into the room's air.
    pub vapour_in_kg: f64,
    /// Water off the coil.
    pub condensate_kg: f64,
    /// The part of it that was frost first.
    pub frost_kg: f64,
    /// Water condensed on walls and produce.
    pub wall_condensate_kg: f64,
    /// Room air.
    pub air: Track,
    /// Contents.
    pub contents: Track,
    /// Air blown from the coil while the pump runs; its integral is over the running time.
    pub blown: Track,
    /// Integral of the humidity ratio, s.
    pub humidity_s: f64,
    /// Topmost layer of the tank.
    pub tank_top: Track,
    /// Lowest layer of the tank.
    pub tank_bottom: Track,
    /// Layers of the tank from 25 to 45 °C: their share, over time.
    pub lukewarm_s: f64,
    /// Water at half the tank's height, integral, K s.
    pub middle_k_s: f64,
    /// Topmost and lowest layer above 49, 50, 55 and 60 °C.
    pub top_hot_s: [f64; 4],
    pub bottom_hot_s: [f64; 4],
    /// Longest time without 60 °C in every layer, since the warm-up.
    pub longest_cool_s: f64,
    /// Hottest water that left the running pump, K.
    pub hottest_made_k: f64,
    /// Mixed water of the use temperature that the tank alone could give at 7:00 and at 18:00, kg, a number for every day.
    pub usable_kg: [Vec<f64>; 2],
}

impl Month {
    /// All electricity, J.
    pub fn electricity_total_j(&self) -> f64 {
        self.electricity_j.iter().sum()
    }

    /// Time mean of a track of this month, K.
    pub fn mean_k(&self, track: Track) -> f64 {
        track.integral_k_s / self.duration_s
    }

    fn add(&mut self, other: &Self) {
        macro_rules! sum {
            ($($field:ident),* $(,)?) => { $( self.$field += other.$field; )* };
        }
        sum!(
            duration_s,
            heat_to_water_j,
            heat_from_room_j,
            casing_outside_j,
            pipe_loss_j,
            circled_j,
            demand_j,
            delivered_j,
            drawn_kg,
            drawn_m3,
            drawn_j,
            booster_j,
            shortfall_j,
            unused_j,
            scalding_s,
            scalding_without_valve_s,
            element_j,
            tank_loss_j,
            dump_kg,
            dump_m3,
            dump_j,
            dump_openings,
            dump_open_s,
            dump_tempering_kg,
            dump_held_s,
            dump_held_j,
            dump_guarded,
            fans_s,
            aired_j,
            rejected_j,
            starts,
            run_s,
            coil_stops,
            locked_out_s,
            share_s,
            defrosts,
            defrost_s,
            humidity_s,
            vapour_in_kg,
            condensate_kg,
            frost_kg,
            wall_condensate_kg,
            lukewarm_s,
            middle_k_s,
        );
        for index in 0..4 {
            self.dump_placed_kg[index] += other.dump_placed_kg[index];
            self.top_hot_s[index] += other.top_hot_s[index];
            self.bottom_hot_s[index] += other.bottom_hot_s[index];
        }
        self.longest_cool_s = self.longest_cool_s.max(other.longest_cool_s);
        self.dump_longest_s = self.dump_longest_s.max(other.dump_longest_s);
        self.hottest_made_k = self.hottest_made_k.max(other.hottest_made_k);
        for (days, more) in self.usable_kg.iter_mut().zip(&other.usable_kg) {
            days.extend(more);
        }
        for (sum, part) in self.electricity_j.iter_mut().zip(other.electricity_j) {
            *sum += part;
        }
        for (sum, part) in self.gain_j.iter_mut().zip(other.gain_j) {
            *sum += part;
        }
        self.air.join(&other.air);
        self.contents.join(&other.contents);
        self.blown.join(&other.blown);
        self.tank_top.join(&other.tank_top);
        self.tank_bottom.join(&other.tank_bottom);
    }
}

/// The months that were asked for, in order, and how well their books close.
#[derive(Debug, Clone, PartialEq)]
pub struct Sums {
    /// One entry a month.
    pub months: Vec<Month>,
    /// Residuals over throughputs.
    pub books: Books,
}

impl Sums {
    /// All months together.
    pub fn total(&self) -> Month {
        let mut total = Month::default();
        for month in &self.months {
            total.add(month);
        }
        total
    }
}

/// Residual over throughput of each book, dimensionless.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Books {
    /// Gains less heat taken less stored.
    pub room: f64,
    /// Heat to water less all that left less stored.
    pub tank: f64,
    /// Heat to water and casing loss less electricity less heat from the room.
    pub machine: f64,
    /// Vapour in less water out less stored.
    pub moisture: f64,
}

impl Books {
    /// The largest by size.
    pub fn worst(&self) -> f64 {
        [self.room, self.tank, self.machine, self.moisture]
            .into_iter()
            .fold(0.0, |worst: f64, each| worst.max(each.abs()))
    }
}

// ---------------------------------------------------------------------------------------------
// Tank

/// A column of equal layers, the lowest first.
#[derive(Debug, Clone)]
pub struct Column {
    /// Temperatures, K.
    pub layers_k: Vec<f64>,
    layer_kg: f64,
    /// Conductance between each layer and the one above, W/K.
    between_w_per_k: Vec<f64>,
    /// Loss coefficient of each layer, W/K.
    loss_w_per_k: Vec<f64>,
    /// Layers of the lower of two tanks in series: through the pipe above them water flows, but none rises or sinks by itself.
    lower: usize,
    inflow_kg_s: Vec<f64>,
    inflow_kg_k_s: Vec<f64>,
    /// Temperatures at the start of a step, K.
    before_k: Vec<f64>,
}

impl Column {
    /// A uniform tank.
    pub fn new(
        layers: usize,
        mass_kg: f64,
        height_m: f64,
        conductivity_w_per_m_k: f64,
        loss_w_per_k: f64,
        start_k: f64,
    ) -> Self {
        let section_m2 = mass_kg / (TANK_WATER_KG_M3 * height_m);
        Self {
            layers_k: vec![start_k; layers],
            layer_kg: mass_kg / layers as f64,
            between_w_per_k: vec![conductivity_w_per_m_k * section_m2 / (height_m / layers as f64); layers],
            loss_w_per_k: vec![loss_w_per_k / layers as f64; layers],
            lower: layers,
            inflow_kg_s: vec![0.0; layers],
            inflow_kg_k_s: vec![0.0; layers],
            before_k: vec![start_k; layers],
        }
    }

    /// One tank above another, joined by a pipe. Their layers must be of one size.
    pub fn on_top_of(self, below: Self) -> Self {
        assert!(
            (self.layer_kg / below.layer_kg - 1.0).abs() < 1e-9,
            "{} and {} kg a layer",
            self.layer_kg,
            below.layer_kg
        );
        let joined = |mut first: Vec<f64>, second: Vec<f64>| {
            first.extend(second);
            first
        };
        let lower = below.layers_k.len();
        let mut between_w_per_k = joined(below.between_w_per_k, self.between_w_per_k);
        between_w_per_k[lower - 1] = 0.0;
        Self {
            layers_k: joined(below.layers_k, self.layers_k),
            layer_kg: below.layer_kg,
            between_w_per_k,
            loss_w_per_k: joined(below.loss_w_per_k, self.loss_w_per_k),
            lower,
            inflow_kg_s: joined(below.inflow_kg_s, self.inflow_kg_s),
            inflow_kg_k_s: joined(below.inflow_kg_k_s, self.inflow_kg_k_s),
            before_k: joined(below.before_k, self.before_k),
        }
    }

    /// The tank or tanks of a plant, in so many layers.
    fn of(tank: &Tank, layers: usize) -> Self {
        let vessel = |vessel: &Vessel, layers: usize| {
            let Vessel { mass_kg, height_m, loss_w_per_k } = *vessel;
            Self::new(layers, mass_kg, height_m, tank.conductivity_w_per_m_k, loss_w_per_k, tank.start_k)
        };
        let Some(second) = &tank.second else { return vessel(&tank.first, layers) };
        let first_layers = (layers as f64 * tank.first.mass_kg / tank.mass_kg()).round() as usize;
        vessel(second, layers - first_layers).on_top_of(vessel(&tank.first, first_layers))
    }

    /// Heat lost to surroundings, W.
    fn loss_w(&self, surroundings_k: f64) -> f64 {
        let parts = self.loss_w_per_k.iter().zip(&self.layers_k);
        parts.map(|(loss_w_per_k, layer_k)| loss_w_per_k * (layer_k - surroundings_k)).sum()
    }

    /// Index of the layer at a height (fraction). A height on a boundary belongs to the upper layer.
    pub fn layer_at(&self, height: f64) -> usize {
        ((height * self.layers_k.len() as f64) as usize).min(self.layers_k.len() - 1)
    }

    /// Temperature at a height, K.
    pub fn at_k(&self, height: f64) -> f64 {
        self.layers_k[self.layer_at(height)]
    }

    /// Mean temperature, K.
    pub fn mean_k(&self) -> f64 {
        self.layers_k.iter().sum::<f64>() / self.layers_k.len() as f64
    }

    /// Mean temperature between two heights, K.
    pub fn mean_between_k(&self, low: f64, high: f64) -> f64 {
        let count = self.layers_k.len() as f64;
        let (mut sum, mut shares) = (0.0, 0.0);
        for (index, layer_k) in self.layers_k.iter().enumerate() {
            let bottom = index as f64 / count;
            let share = (high.min(bottom + 1.0 / count) - low.max(bottom)).max(0.0);
            sum += share * layer_k;
            shares += share;
        }
        sum / shares
    }

    /// Mixed water of `use_k` that the layers between two heights hold, the warm ones from the top down, kg.
    pub fn usable_kg(&self, low: f64, high: f64, use_k: f64, mains_k: f64) -> f64 {
        let count = self.layers_k.len() as f64;
        let mut mixed_kg = 0.0;
        for (index, layer_k) in self.layers_k.iter().enumerate().rev() {
            if *layer_k < use_k {
                break;
            }
            let (bottom, top) = (index as f64 / count, (index as f64 + 1.0) / count);
            let share = (high.min(top) - low.max(bottom)).max(0.0) * count;
            mixed_kg += share * self.layer_kg * (layer_k - mains_k) / (use_k - mains_k);
        }
        mixed_kg
    }

    /// Takes heat out of all layers, of each by how much warmer it is than the air.
    pub fn cool_by(&mut self, heat_j: f64, air_k: f64) {
        if heat_j > 0.0 {
            let over: f64 = self.layers_k.iter().map(|layer_k| layer_k - air_k).sum();
            let share = heat_j / (WATER_J_PER_KG_K * self.layer_kg * over);
            self.layers_k.iter_mut().for_each(|layer_k| *layer_k -= share * (*layer_k - air_k));
        }
    }

    /// Lets a stream into the layer at a height until the next [`Column::advance`].
    pub fn let_in(&mut self, height: f64, flow_kg_s: f64, temperature_k: f64) {
        let layer = self.layer_at(height);
        self.inflow_kg_s[layer] += flow_kg_s;
        self.inflow_kg_k_s[layer] += flow_kg_s * temperature_k;
    }

    /// Heats the layer at a height until the next [`Column::advance`].
    pub fn warm(&mut self, height: f64, power_w: f64) {
        let layer = self.layer_at(height);
        self.inflow_kg_k_s[layer] += power_w / WATER_J_PER_KG_K;
    }

    /// Takes a stream out of the layer at a height, at that layer's present temperature.
    pub fn take_out(&mut self, height: f64, flow_kg_s: f64) {
        self.let_in(height, -flow_kg_s, self.at_k(height));
    }

    /// Longest step, s, in which the streams move at most half a layer.
    fn longest_step_s(&self, flow_kg_s: f64) -> f64 {
        if flow_kg_s > 0.0 { LARGEST_SHARE_OUT * self.layer_kg / flow_kg_s } else { f64::INFINITY }
    }

    /// Moves the water by the streams let in and taken out (which must cancel), loses heat,
    /// conducts, and mixes inversions. Returns the heat lost, J.
    pub fn advance(&mut self, step_s: f64, surroundings_k: f64) -> f64 {
        let lost_j = self.loss_w(surroundings_k) * step_s;
        let per_w_per_k = step_s / (self.layer_kg * WATER_J_PER_KG_K);
        let mut before = std::mem::take(&mut self.before_k);
        before.copy_from_slice(&self.layers_k);
        for (layer, loss_w_per_k) in self.layers_k.iter_mut().zip(&self.loss_w_per_k) {
            *layer -= loss_w_per_k * per_w_per_k * (*layer - surroundings_k);
        }
        self.conduct(&before, step_s);
        if self.inflow_kg_s.iter().zip(&self.inflow_kg_k_s).any(|(kg, kg_k)| *kg != 0.0 || *kg_k != 0.0) {
            self.move_water(&before, step_s);
            self.inflow_kg_s.fill(0.0);
            self.inflow_kg_k_s.fill(0.0);
        }
        self.before_k = before;
        self.mix_inversions();
        lost_j
    }

    fn conduct(&mut self, before: &[f64], step_s: f64) {
        for lower in 0..before.len() - 1 {
            let number = self.between_w_per_k[lower] * step_s / (self.layer_kg * WATER_J_PER_KG_K);
            assert!(number < 0.5, "explicit conduction in the tank: step {step_s} s is too long");
            let moved_k = number * (before[lower + 1] - before[lower]);
            self.layers_k[lower] += moved_k;
            self.layers_k[lower + 1] -= moved_k;
        }
    }

    fn move_water(&mut self, before: &[f64], step_s: f64) {
        let per_kg = step_s / self.layer_kg;
        let mut upward_kg_s = 0.0;
        for lower in 0..before.len() {
            self.layers_k[lower] +=
                per_kg * (self.inflow_kg_k_s[lower] - self.inflow_kg_s[lower] * before[lower]);
            upward_kg_s += self.inflow_kg_s[lower];
            if lower + 1 < before.len() && upward_kg_s != 0.0 {
                // The layer's mass stays: what flows through a face replaces water of the layer's own temperature.
                let face_k = face_k(before, lower, upward_kg_s * per_kg);
                self.layers_k[lower] -= per_kg * upward_kg_s * (face_k - before[lower]);
                self.layers_k[lower + 1] += per_kg * upward_kg_s * (face_k - before[lower + 1]);
            }
        }
        let scale = self.inflow_kg_s.iter().fold(0.0, |most: f64, flow| most.max(flow.abs()));
        assert!(
            upward_kg_s.abs() <= 1e-9 * scale + 1e-15,
            "the tank's streams do not cancel: {upward_kg_s} kg/s"
        );
    }

    /// Mixes the layers between two heights.
    pub fn stir(&mut self, from: f64, to: f64) {
        let count = self.layers_k.len() as f64;
        let (first, last) = ((from * count).round() as usize, (to * count).round() as usize);
        if first == last {
            return;
        }
        let mixed_k = self.layers_k[first..last].iter().sum::<f64>() / (last - first) as f64;
        self.layers_k[first..last].fill(mixed_k);
        self.mix_inversions();
    }

    /// Pools adjacent layers of a tank until none is warmer than the one above.
    fn mix_inversions(&mut self) {
        let (lower, upper) = self.layers_k.split_at_mut(self.lower);
        mix_inversions(lower);
        mix_inversions(upper);
    }
}

/// Pools adjacent layers until none is warmer than the one above.
fn mix_inversions(layers_k: &mut [f64]) {
    if layers_k.windows(2).all(|pair| pair[0] <= pair[1]) {
        return;
    }
    let mut pools: Vec<(f64, usize)> = Vec::with_capacity(layers_k.len());
    for &layer_k in &*layers_k {
        let mut pool = (layer_k, 1);
        while let Some(&(below_k, below)) = pools.last() {
            if below_k <= pool.0 / pool.1 as f64 * below as f64 {
                break;
            }
            pools.pop();
            pool = (pool.0 + below_k, pool.1 + below);
        }
        pools.push(pool);
    }
    let mut layer = 0;
    for (sum_k, count) in pools {
        layers_k[layer..layer + count].fill(sum_k / count as f64);
        layer += count;
    }
}

/// Temperature of the water that crosses the face above `lower` in a step.
///
/// Second order, limited by superbee: `T_up + 1/2 phi(r) (1 - |nu|) (T_down - T_up)` with the
/// Courant number nu. Source: Roe 1985; the form as in Sweby 1984. From memory, to be verified.
fn face_k(layers_k: &[f64], lower: usize, courant: f64) -> f64 {
    let (from, to, behind) = if courant > 0.0 {
        (lower, lower + 1, lower.checked_sub(1))
    } else {
        (lower + 1, lower, Some(lower + 2).filter(|&layer| layer < layers_k.len()))
    };
    let ahead_dk = layers_k[to] - layers_k[from];
    let behind_dk = behind.map_or(0.0, |layer| layers_k[from] - layers_k[layer]);
    layers_k[from] + 0.5 * (1.0 - courant.abs()) * superbee(behind_dk, ahead_dk)
}

/// `phi(behind/ahead) x ahead`, written without the quotient.
fn superbee(behind_dk: f64, ahead_dk: f64) -> f64 {
    if behind_dk * ahead_dk <= 0.0 {
        return 0.0;
    }
    let (behind, ahead) = (behind_dk.abs(), ahead_dk.abs());
    let size = (2.0 * behind).min(ahead).max(behind.min(2.0 * ahead));
    if ahead_dk > 0.0 { size } else { -size }
}

// ---------------------------------------------------------------------------------------------
// Taps

/// Water at the draw port: first the pump's return where it enters at the same height, then the tank.
#[derive(Debug, Clone, Copy)]
pub struct AtDrawPort {
    /// Return stream that passes the port, kg/s; 0 where it enters elsewhere or the pump rests.
    pub return_kg_s: f64,
    /// Its temperature, K.
    pub return_k: f64,
    /// Tank water at the port, K.
    pub tank_k: f64,
}

impl AtDrawPort {
    fn mixed_k(&self, flow_kg_s: f64) -> f64 {
        if flow_kg_s <= self.return_kg_s {
            return if self.return_kg_s > 0.0 { self.return_k } else { self.tank_k };
        }
        (self.return_kg_s * self.return_k + (flow_kg_s - self.return_kg_s) * self.tank_k) / flow_kg_s
    }

    /// The flow that carries `carried` kg K/s over mains, at most `most_kg_s`.
    fn flow_carrying(&self, carried: f64, mains_k: f64, most_kg_s: f64) -> f64 {
        let return_dk = self.return_k - mains_k;
        if self.return_kg_s > 0.0 && return_dk > 0.0 && carried <= self.return_kg_s * return_dk {
            return (carried / return_dk).min(most_kg_s);
        }
        let tank_dk = self.tank_k - mains_k;
        if tank_dk <= 0.0 {
            return most_kg_s;
        }
        (self.return_kg_s + (carried - self.return_kg_s * return_dk) / tank_dk).min(most_kg_s)
    }
}

/// What the taps take and what the booster adds.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Tap {
    /// Wanted over mains, W.
    pub wanted_w: f64,
    /// Water from the draw port, kg/s.
    pub flow_kg_s: f64,
    /// Its temperature, K.
    pub drawn_k: f64,
    /// Booster heat to the water, W.
    pub booster_w: f64,
    /// Water on the hot side of the tap, K.
    pub hot_side_k: f64,
}

/// Mixing valve and booster.
#[derive(Debug, Clone, Copy)]
pub struct Between {
    /// Set point of the valve, K.
    pub valve_k: Option<f64>,
    /// The booster.
    pub booster: Option<Booster>,
}

/// The taps of `docs/MODEL.md` section 5 at one instant.
pub fn tap(flow_kg_s: f64, use_k: f64, mains_k: f64, between: Between, port: AtDrawPort) -> Tap {
    if flow_kg_s <= 0.0 || use_k <= mains_k {
        return Tap::default();
    }
    let valve_k = between.valve_k.unwrap_or(f64::INFINITY).max(mains_k);
    let carried = flow_kg_s * (use_k - mains_k);
    let wanted_w = WATER_J_PER_KG_K * carried;
    let with = |from_tank_kg_s: f64, booster_w: f64, hot_side_k: f64| Tap {
        wanted_w,
        flow_kg_s: from_tank_kg_s,
        drawn_k: port.mixed_k(from_tank_kg_s),
        booster_w,
        hot_side_k,
    };
    // A flow that passes the valve, its temperature, and what the tank gives of it.
    let passes_k = |kg_s: f64| port.mixed_k(kg_s).min(valve_k);
    let from_tank = |kg_s: f64| {
        if port.mixed_k(kg_s) > valve_k {
            port.flow_carrying(kg_s * (valve_k - mains_k), mains_k, kg_s)
        } else {
            kg_s
        }
    };
    let let_through = carried.min(flow_kg_s * (valve_k - mains_k));
    let unaided_kg_s = port.flow_carrying(let_through, mains_k, flow_kg_s);
    let unaided = with(unaided_kg_s, 0.0, passes_k(unaided_kg_s));
    let enters_k = unaided.hot_side_k;
    let Some(booster) =
        between.booster.filter(|booster| enters_k < booster.set_k && enters_k <= booster.highest_inlet_k)
    else {
        return unaided;
    };
    let lifted_kg_s = carried / (booster.set_k - mains_k);
    let heat_w = lifted_kg_s * WATER_J_PER_KG_K * (booster.set_k - passes_k(lifted_kg_s));
    if heat_w < booster.least_w {
        return unaided;
    }
    if heat_w <= booster.most_w {
        return with(from_tank(lifted_kg_s), heat_w, booster.set_k);
    }
    let left = (carried - booster.most_w / WATER_J_PER_KG_K).max(0.0);
    let flow = if port.mixed_k(lifted_kg_s) > mains_k {
        port.flow_carrying(left.min(let_through), mains_k, flow_kg_s)
    } else {
        flow_kg_s
    };
    // Tank water colder than mains can leave the whole flow in need of less than the booster's most.
    let missing_w = wanted_w - flow * WATER_J_PER_KG_K * (port.mixed_k(flow) - mains_k);
    let heat_w = booster.most_w.min(missing_w);
    // What the tap gets over mains, in the flow that passed valve and booster.
    let passing_kg_s = if passes_k(flow) > mains_k {
        (flow * (port.mixed_k(flow) - mains_k) / (passes_k(flow) - mains_k)).min(flow_kg_s)
    } else {
        flow_kg_s
    };
    with(flow, heat_w, passes_k(flow) + heat_w / (WATER_J_PER_KG_K * passing_kg_s))
}

// ---------------------------------------------------------------------------------------------
// Heat pump

/// Logarithms of COP and capacity at a point of the map: trilinear, the nearest edge outside.
pub fn interpolate(map: &CycleMap, room_air_k: f64, inlet_k: f64, rise_dk: f64) -> (f64, f64) {
    let air = weights(&larderloop::heat_pump::ROOM_AIR_DEGC, room_air_k - ICE_K);
    let inlet = weights(&larderloop::heat_pump::WATER_IN_DEGC, inlet_k - ICE_K);
    let rise = weights(&larderloop::heat_pump::WATER_RISE_DK, rise_dk);
    let (mut ln_cop, mut ln_capacity) = (0.0, 0.0);
    for (a, at_air) in air {
        for (i, at_inlet) in inlet {
            for (r, at_rise) in rise {
                let node = map.node(a, i, r);
                ln_cop += at_air * at_inlet * at_rise * node.ln_cop;
                ln_capacity += at_air * at_inlet * at_rise * node.ln_capacity;
            }
        }
    }
    (ln_cop, ln_capacity)
}

/// The two nodes around a value and their weights.
fn weights(axis: &[f64], value: f64) -> [(usize, f64); 2] {
    let held = value.max(axis[0]).min(axis[axis.len() - 1]);
    let mut upper = 1;
    while upper + 1 < axis.len() && axis[upper] < held {
        upper += 1;
    }
    let share = (held - axis[upper - 1]) / (axis[upper] - axis[upper - 1]);
    [(upper - 1, 1.0 - share), (upper, share)]
}

/// The unit fully started up.
#[derive(Debug, Clone, Copy)]
struct Full {
    heat_w: f64,
    power_w: f64,
    flow_kg_s: f64,
    rise_dk: f64,
}

/// At a share of full output; in many passes the map's rise is the one that this share gives.
fn full_operation(pump: &HeatPump, room_air_k: f64, inlet_k: f64, frosted: bool, share: f64) -> Full {
    let keeps = if frosted { pump.frosted_factor } else { 1.0 };
    let slow_gain = pump.slow_running.map_or(1.0, |slow| 1.0 + 2.0 * slow.gain_at_half_frac * (1.0 - share));
    let at = |rise_dk: f64| {
        let (ln_cop, ln_capacity) = interpolate(&pump.map, room_air_k, inlet_k, rise_dk);
        let heat_w = pump.capacity_w * libm::exp(ln_capacity) * keeps * share;
        (heat_w, heat_w / (pump.cop_factor * libm::exp(ln_cop) * keeps * slow_gain))
    };
    match pump.circuit {
        Circuit::SinglePass { outlet_k, min_rise_dk, .. } => {
            let rise_dk = (outlet_k - inlet_k).max(min_rise_dk);
            let (heat_w, power_w) = at(rise_dk);
            let flow_kg_s = (heat_w + pump.circulator_w) / (WATER_J_PER_KG_K * rise_dk);
            Full { heat_w, power_w, flow_kg_s, rise_dk }
        }
        Circuit::MultiPass { flow_kg_s, .. } => {
            let mut rise_dk = (share * pump.capacity_w + pump.circulator_w) / (WATER_J_PER_KG_K * flow_kg_s);
            for _ in 0..50 {
                let next_dk = (at(rise_dk).0 + pump.circulator_w) / (WATER_J_PER_KG_K * flow_kg_s);
                let moved_dk = (next_dk - rise_dk).abs();
                rise_dk = next_dk;
                if moved_dk < 1e-9 {
                    break;
                }
            }
            let (heat_w, power_w) = at(rise_dk);
            Full { heat_w, power_w, flow_kg_s, rise_dk }
        }
        Circuit::OutdoorAir(_) => panic!("an air conditioner heats no water"),
    }
}

/// The unit fully started up behind a closed loop: the inlet that the loop brings back is sought by halving, since the rise falls as
/// the inlet grows. With `gap` 0 the tank's own water enters.
fn behind_loop(pump: &HeatPump, room_air_k: f64, tank_k: f64, frosted: bool, share: f64) -> (f64, Full) {
    let at = |inlet_k: f64| {
        let full = full_operation(pump, room_air_k, inlet_k, frosted, share);
        (tank_k + pump.loop_gap * full.rise_dk - inlet_k, full)
    };
    if pump.loop_gap == 0.0 {
        return (tank_k, at(tank_k).1);
    }
    let (mut low_k, mut high_k) = (tank_k, tank_k + 120.0);
    for _ in 0..60 {
        let middle_k = 0.5 * (low_k + high_k);
        if at(middle_k).0 > 0.0 { low_k = middle_k } else { high_k = middle_k }
    }
    (low_k, at(low_k).1)
}

/// What the machine does to room and water in a step.
#[derive(Debug, Clone, Copy, Default)]
struct Machine {
    electricity_w: [f64; Load::COUNT],
    to_water_w: f64,
    flow_kg_s: f64,
    outlet_k: f64,
    /// How much warmer than the tank's water the pump's inlet is, behind a closed loop.
    gap_dk: f64,
    from_room_w: f64,
    /// Cooling by the machine alone, without standby and resting fan.
    evaporator_w: f64,
    casing_outside_w: f64,
    /// Heat of a condenser outdoors.
    rejected_w: f64,
}

/// A rest: `melting` while it gets rid of its frost, `guarded` while its water is kept from freezing.
fn resting(pump: &HeatPump, inlet_k: f64, melting: bool, guarded: bool, heater_w: f64) -> Machine {
    let mut machine = Machine::default();
    machine.electricity_w[Load::Standby as usize] = pump.standby_w;
    machine.electricity_w[Load::RestingFan as usize] = pump.resting_fan_w;
    machine.electricity_w[Load::RoomHeater as usize] = heater_w;
    machine.from_room_w = -(pump.standby_w + pump.resting_fan_w + heater_w);
    if let Some(defrost) = pump.defrost.filter(|_| melting) {
        machine.electricity_w[Load::Defrost as usize] = defrost.power_w;
        machine.from_room_w -= defrost.power_w;
    }
    if let Some(guard) = pump.frost_guard.filter(|_| guarded) {
        machine.electricity_w[Load::FrostGuard as usize] = guard.heater_w + guard.circulator_w;
        machine.from_room_w -= guard.heater_w;
        machine.to_water_w = guard.circulator_w;
        machine.flow_kg_s = guard.flow_kg_s;
        machine.outlet_k = warmed_k(inlet_k, guard.circulator_w, guard.flow_kg_s);
    }
    machine
}

/// A stream that takes up a heat.
fn warmed_k(inlet_k: f64, heat_w: f64, flow_kg_s: f64) -> f64 {
    if flow_kg_s > 0.0 { inlet_k + heat_w / (WATER_J_PER_KG_K * flow_kg_s) } else { inlet_k }
}

fn running(pump: &HeatPump, full: Full, inlet_k: f64, started: f64) -> Machine {
    let heat_w = full.heat_w * started;
    let to_water_w = heat_w + pump.circulator_w;
    let flow_kg_s = match pump.circuit {
        Circuit::SinglePass { .. } => to_water_w / (WATER_J_PER_KG_K * full.rise_dk),
        Circuit::MultiPass { flow_kg_s, .. } => flow_kg_s,
        Circuit::OutdoorAir(_) => panic!("an air conditioner heats no water"),
    };
    // The map's own balance: heat = evaporator + (1 - shell) compressor, power = compressor + fan x evaporator.
    let compressor_w = (full.power_w - FAN * full.heat_w) / (1.0 - FAN * (1.0 - SHELL));
    let casing_outside_w = pump.shell_outside_frac * SHELL * compressor_w;
    let evaporator_w = heat_w - full.power_w + casing_outside_w;
    let mut electricity_w = [0.0; Load::COUNT];
    electricity_w[Load::Running as usize] = full.power_w;
    electricity_w[Load::Circulator as usize] = pump.circulator_w;
    electricity_w[Load::Standby as usize] = pump.standby_w;
    Machine {
        electricity_w,
        to_water_w,
        flow_kg_s,
        outlet_k: warmed_k(inlet_k, to_water_w, flow_kg_s),
        gap_dk: 0.0,
        from_room_w: evaporator_w - pump.standby_w,
        evaporator_w,
        casing_outside_w,
        rejected_w: 0.0,
    }
}

// ---------------------------------------------------------------------------------------------
// Room

/// Temperatures of air, contents and probe, and the humidity ratio.
#[derive(Debug, Clone, Copy)]
struct RoomState {
    air_k: f64,
    contents_k: f64,
    /// What was carried in and still cools down.
    cooling_k: f64,
    probe_k: f64,
    humidity: f64,
}

/// What happens in the room at an instant.
#[derive(Debug, Clone, Default)]
struct RoomRates {
    air_w: f64,
    contents_w: f64,
    cooling_w: f64,
    gain_w: [f64; Cause::COUNT],
    vapour_in_kg_s: f64,
    condensate_kg_s: f64,
    /// Dry air through each open door: its index and kg/s.
    doors_kg_s: Vec<(usize, f64)>,
    /// Everything that ties the air to something else, W/K.
    tie_w_per_k: f64,
    /// Heat that blown outdoor air carries out, W.
    aired_w: f64,
}

/// Dry air through a fully open door, kg/s.
pub fn door_kg_s(area_m2: f64, height_m: f64, room: (f64, f64), beyond: (f64, f64), pressure_pa: f64) -> f64 {
    let inside = moist_air_kg_m3(room.0, room.1, pressure_pa);
    let outside = moist_air_kg_m3(beyond.0, beyond.1, pressure_pa);
    let (heavy, light) = if inside > outside { (inside, outside) } else { (outside, inside) };
    let factor = libm::pow(2.0 / (1.0 + libm::cbrt(heavy / light)), 1.5);
    0.221 * area_m2 * (GRAVITY * height_m).sqrt() * heavy * (1.0 - light / heavy).sqrt() * factor
        / (1.0 + room.1)
}

/// Respiration heat, W/kg: log-linear between the table's temperatures, held at the ends.
pub fn respiration_w_per_kg(table: &[f64; 5], temperature_k: f64) -> f64 {
    let place = ((temperature_k - ICE_K) / 5.0).clamp(0.0, 4.0);
    let lower = (place as usize).min(3);
    let share = place - lower as f64;
    let (low, high) = (table[lower], table[lower + 1]);
    if low > 0.0 && high > 0.0 { low * libm::pow(high / low, share) } else { low + share * (high - low) }
}

/// Kilograms of a crop on a day: by the last change of the year so far, else by the last of the year before.
fn stored_kg(crop: &Produce, day: usize) -> f64 {
    let mut there = crop.stock.last().expect("a crop has a stock").mass_kg;
    for stock in crop.stock.iter().filter(|stock| stock.day <= day) {
        there = stock.mass_kg;
    }
    there
}

/// The other side of every surface, door and leak at an instant.
#[derive(Debug, Clone, Copy)]
struct Instant {
    hour: usize,
    /// Share of the hour gone.
    share: f64,
}

impl Instant {
    fn linear(&self, series: &[f64]) -> f64 {
        series[self.hour] + self.share * (series[self.hour + 1] - series[self.hour])
    }

    fn temperature_k(&self, boundary: &Boundary) -> f64 {
        self.linear(&boundary.temperature_k)
    }

    fn humidity(&self, boundary: &Boundary) -> f64 {
        self.linear(&boundary.humidity_ratio)
    }
}

// ---------------------------------------------------------------------------------------------
// The year

/// Runs `start_month` to `last_month` (0 to 11, both included) after the whole month before it as warm-up.
pub fn run(plant: &Plant, steps: Steps, start_month: usize, last_month: usize) -> Sums {
    assert!(start_month <= last_month && last_month < 12, "months {start_month} to {last_month}");
    let warm_up = (start_month + 11) % 12;
    let mut year = Year::new(plant, steps, warm_up);
    year.run_month(warm_up);
    let opening = year.stored();
    year.transfer_j = 0.0;
    year.cool_s = 0.0;
    let mut months = Vec::new();
    for month in start_month..=last_month {
        year.enter_month(month);
        year.run_month(month);
        months.push(std::mem::take(&mut year.sums));
    }
    let closing = year.stored();
    let mut sums = Sums { months, books: Books { room: 0.0, tank: 0.0, machine: 0.0, moisture: 0.0 } };
    sums.books = books(&sums.total(), opening, closing, year.transfer_j);
    sums
}

/// What is stored at an instant.
#[derive(Debug, Clone, Copy)]
struct Stored {
    room_j: f64,
    water_j: f64,
    vapour_kg: f64,
}

fn books(total: &Month, opening: Stored, closing: Stored, transfer_j: f64) -> Books {
    let without_produce_j: f64 = total.gain_j.iter().sum::<f64>() - total.gain_j[Cause::ProduceIn as usize];
    let went_j = total.heat_from_room_j + total.aired_j;
    let room_j = without_produce_j + transfer_j - went_j - (closing.room_j - opening.room_j);
    let room_through_j = total.gain_j.iter().map(|gain| gain.abs()).sum::<f64>();
    let tank_j = total.heat_to_water_j + total.element_j
        - total.pipe_loss_j
        - total.drawn_j
        - total.dump_j
        - total.tank_loss_j
        - (closing.water_j - opening.water_j);
    let tank_through_j = total.heat_to_water_j.abs() + total.drawn_j.abs();
    let machine_j = total.heat_to_water_j + total.casing_outside_j + total.rejected_j
        - total.electricity_total_j()
        - total.heat_from_room_j;
    let moisture_kg = total.vapour_in_kg
        - total.condensate_kg
        - total.wall_condensate_kg
        - (closing.vapour_kg - opening.vapour_kg);
    let over = |residual: f64, through: f64| {
        if residual == 0.0 { 0.0 } else { residual / through }
    };
    Books {
        room: over(room_j, room_through_j),
        tank: over(tank_j, tank_through_j),
        machine: over(machine_j, total.electricity_total_j() + total.heat_to_water_j.abs()),
        moisture: over(
            moisture_kg,
            total.vapour_in_kg.abs() + total.condensate_kg + total.wall_condensate_kg,
        ),
    }
}

/// Contents are counted from here, so that a change of capacity is a transfer at a temperature, K.
const STORED_FROM_K: f64 = ICE_K;

/// From one defrost to the next of a unit that goes by the clock.
fn clock_of(pump: &HeatPump) -> Option<f64> {
    match pump.defrost?.begins {
        DefrostBegins::Clock(every_s) => Some(every_s),
        _ => None,
    }
}

/// What the air conditioner does in a state of the room.
#[derive(Debug, Clone, Copy)]
struct Conditioned {
    /// Room air, humidity and outdoor air.
    asked: [f64; 3],
    cooled: Cooled,
    frosts: bool,
}

struct Year<'a> {
    plant: &'a Plant,
    pump: &'a HeatPump,
    steps: Steps,
    month: usize,
    room: RoomState,
    tank: Column,
    pipe_k: f64,
    running: bool,
    since_switch_s: f64,
    /// Time without 60 °C in every layer of the tank.
    cool_s: f64,
    /// The tank's thermostat calls.
    tank_calls: bool,
    /// Share of full output, and the next look at the probe, s after the start.
    share: f64,
    next_look_s: f64,
    /// Time run with a frosted coil, and the frost that settled in it, not forgotten yet.
    frosted_s: f64,
    frost_kg: f64,
    /// Time until the clock calls for the next defrost.
    to_clock_s: f64,
    /// Time of this rest in which the room's air was above freezing.
    thawing_s: f64,
    melting: bool,
    /// When on the clock of the present rest the defrost ends, and whether it broke off a run.
    melted_at_s: f64,
    resumes: bool,
    guarded: bool,
    /// The room's heater heats.
    heated: bool,
    /// Outdoor air is blown in; and its temperature in this step, K.
    blows: bool,
    outdoor_k: f64,
    /// The last answer of the air conditioner, with what it was asked.
    conditioned: Cell<Option<Conditioned>>,
    inlet_locks: bool,
    air_low_locks: bool,
    air_high_locks: bool,
    /// The probe on the coil, and whether it holds the pump.
    coil_probe_k: f64,
    coil_locks: bool,
    aquastat_k: f64,
    dump_open: bool,
    /// Whether the dump ran in the last step, and the room in the places that take its water.
    dump_ran: bool,
    room_kg: Vec<f64>,
    since_open_s: f64,
    /// Second of the day.
    of_day_s: f64,
    /// Seconds for which the dump has run without a break; its guard has shut it.
    flowed_s: f64,
    shut_by_guard: bool,
    element_on: bool,
    exchanged_kg: Vec<f64>,
    transfer_j: f64,
    /// Kilograms of each crop that count as contents, and that still cool down.
    settled_kg: Vec<f64>,
    cooling_kg: Vec<f64>,
    days_since_carried_in: usize,
    sums: Month,
}

impl<'a> Year<'a> {
    fn new(plant: &'a Plant, steps: Steps, month: usize) -> Self {
        let Cooler::HeatPump(pump) = &plant.cooler;
        let tank = &plant.tank;
        let start_k = 0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k);
        let vapour_pa = 0.85 * saturation_over_water_pa(start_k);
        Self {
            plant,
            pump,
            steps,
            month,
            room: RoomState {
                air_k: start_k,
                contents_k: start_k,
                cooling_k: start_k,
                probe_k: start_k,
                humidity: humidity_ratio(vapour_pa, plant.pressure_pa),
            },
            tank: Column::of(tank, steps.layers),
            pipe_k: start_k,
            running: false,
            since_switch_s: plant.thermostat.min_rest_s,
            cool_s: 0.0,
            tank_calls: true,
            share: 1.0,
            next_look_s: LOOKS_EVERY_S,
            frosted_s: 0.0,
            frost_kg: 0.0,
            to_clock_s: clock_of(pump).unwrap_or(f64::INFINITY),
            thawing_s: 0.0,
            melting: false,
            melted_at_s: 0.0,
            resumes: false,
            guarded: false,
            heated: false,
            blows: false,
            conditioned: Cell::new(None),
            outdoor_k: plant.boundaries[0].temperature_k[plant.calendar.month_starts_h[month]],
            inlet_locks: false,
            air_low_locks: false,
            air_high_locks: false,
            coil_probe_k: start_k,
            coil_locks: false,
            aquastat_k: tank.start_k,
            dump_open: false,
            dump_ran: false,
            room_kg: plant.dump.iter().flat_map(|dump| &dump.takers).map(|taker| taker.start_kg).collect(),
            since_open_s: 0.0,
            of_day_s: 0.0,
            flowed_s: 0.0,
            shut_by_guard: false,
            element_on: false,
            exchanged_kg: vec![0.0; plant.room.doors.len()],
            transfer_j: 0.0,
            settled_kg: plant
                .room
                .produce
                .iter()
                .map(|crop| stored_kg(crop, plant.calendar.month_starts_h[month] / 24))
                .collect(),
            cooling_kg: vec![0.0; plant.room.produce.len()],
            days_since_carried_in: 0,
            sums: Month::default(),
        }
    }

    fn capacity_of(&self, masses_kg: &[f64]) -> f64 {
        let crops = self.plant.room.produce.iter().zip(masses_kg);
        crops.map(|(crop, mass_kg)| mass_kg * crop.specific_heat_j_per_kg_k).sum()
    }

    fn contents_capacity(&self) -> f64 {
        self.plant.room.fixed_capacity_j_per_k + self.capacity_of(&self.settled_kg)
    }

    fn cooling_capacity(&self) -> f64 {
        self.capacity_of(&self.cooling_kg)
    }

    fn stored(&self) -> Stored {
        let room = &self.plant.room;
        let vapour_kg = room.air_mass_kg * self.room.humidity;
        Stored {
            room_j: room.air_capacity_j_per_k * self.room.air_k
                + self.contents_capacity() * (self.room.contents_k - STORED_FROM_K)
                + self.cooling_capacity() * (self.room.cooling_k - STORED_FROM_K)
                + LATENT_J_PER_KG * vapour_kg,
            water_j: WATER_J_PER_KG_K * self.plant.tank.mass_kg() * self.tank.mean_k()
                + self.pump.hot_pipe.capacity_j_per_k * self.pipe_k,
            vapour_kg,
        }
    }

    /// The first instant of a month: the dump may be shut for the month.
    fn enter_month(&mut self, month: usize) {
        self.sums = Month::default();
        self.month = month;
    }

    /// The first instant of a day: what has cooled down for seven half-cooling times is contents; produce is carried in and out.
    fn enter_day(&mut self, day: usize) {
        for (room_kg, taker) in
            self.room_kg.iter_mut().zip(self.plant.dump.iter().flat_map(|dump| &dump.takers))
        {
            if !taker.freed_kg.is_empty() {
                *room_kg = (*room_kg + taker.freed_kg[day]).min(taker.holds_kg).max(0.0);
            }
        }
        self.days_since_carried_in += 1;
        let since_s = 86_400.0 * self.days_since_carried_in as f64;
        let (contents, cooling) = (self.contents_capacity(), self.cooling_capacity());
        if cooling > 0.0 && since_s >= 7.0 * self.plant.room.half_cooling_s {
            let heat = contents * self.room.contents_k + cooling * self.room.cooling_k;
            self.room.contents_k = heat / (contents + cooling);
            for index in 0..self.settled_kg.len() {
                self.settled_kg[index] += self.cooling_kg[index];
                self.cooling_kg[index] = 0.0;
            }
        }
        let plant = self.plant;
        for (index, crop) in plant.room.produce.iter().enumerate() {
            for stock in crop.stock.iter().filter(|stock| stock.day == day) {
                let change_kg = stock.mass_kg - self.settled_kg[index] - self.cooling_kg[index];
                if change_kg > 0.0 {
                    self.carry_in(index, change_kg, stock.arrives_k);
                } else {
                    self.carry_out(index, -change_kg);
                }
            }
        }
    }

    fn carry_in(&mut self, index: usize, mass_kg: f64, arrives_k: f64) {
        let new = mass_kg * self.plant.room.produce[index].specific_heat_j_per_kg_k;
        self.sums.gain_j[Cause::ProduceIn as usize] += new * (arrives_k - self.room.contents_k);
        self.transfer_j += new * (arrives_k - STORED_FROM_K);
        let with = |capacity: f64, temperature_k: f64| {
            (capacity * temperature_k + new * arrives_k) / (capacity + new)
        };
        if self.plant.room.fixed_capacity_j_per_k > 0.0 {
            self.room.cooling_k = with(self.cooling_capacity(), self.room.cooling_k);
            self.cooling_kg[index] += mass_kg;
            self.days_since_carried_in = 0;
        } else {
            self.room.contents_k = with(self.contents_capacity(), self.room.contents_k);
            self.settled_kg[index] += mass_kg;
        }
    }

    fn carry_out(&mut self, index: usize, mass_kg: f64) {
        let specific_heat = self.plant.room.produce[index].specific_heat_j_per_kg_k;
        let settled_kg = mass_kg.min(self.settled_kg[index]);
        let cooling_kg = mass_kg - settled_kg;
        self.transfer_j -= specific_heat * settled_kg * (self.room.contents_k - STORED_FROM_K);
        self.transfer_j -= specific_heat * cooling_kg * (self.room.cooling_k - STORED_FROM_K);
        self.settled_kg[index] -= settled_kg;
        self.cooling_kg[index] -= cooling_kg;
    }

    fn run_month(&mut self, month: usize) {
        let starts = &self.plant.calendar.month_starts_h;
        for hour in starts[month]..starts[month + 1] {
            if hour % 24 == 0 {
                self.enter_day(hour / 24);
            }
            let mut second = 0.0;
            while second < 3600.0 - INSTANT_S {
                second = self.step(hour, second);
            }
            self.count_usable(hour);
        }
    }

    /// What the tank alone could give, where it has become 7:00 or 18:00.
    fn count_usable(&mut self, hour: usize) {
        let (plant, mains_k) = (self.plant, self.plant.mains_k[hour / 24]);
        let moment = match hour % 24 {
            6 => 0,
            17 => 1,
            _ => return,
        };
        if plant.use_k > mains_k {
            let kg = self.tank.usable_kg(plant.tank.cold_in, plant.tank.draw, plant.use_k, mains_k);
            self.sums.usable_kg[moment].push(kg);
        }
    }

    /// One step from `second` of the hour; returns the second at which it ended.
    fn step(&mut self, hour: usize, second: f64) -> f64 {
        let plant = self.plant;
        let of_day_s = 3600.0 * (hour % 24) as f64 + second;
        let day = &plant.days[plant.day_kinds[hour / 24]];
        let (segment, segment_end_s) = segment_at(day, of_day_s);
        let mains_k = plant.mains_k[hour / 24];
        self.of_day_s = of_day_s;
        self.switch_dump();
        self.switch_element();
        self.outdoor_k = Instant { hour, share: second / 3600.0 }.temperature_k(&plant.boundaries[0]);
        self.switch_pump();
        self.shut_doors(segment);
        let step_s = self.length_s(second, segment_end_s - of_day_s, segment.tap_kg_s);
        let instant = Instant { hour, share: (second + 0.5 * step_s) / 3600.0 };
        self.outdoor_k = instant.temperature_k(&plant.boundaries[0]);
        self.advance(step_s, segment, instant, mains_k);
        second + step_s
    }

    /// To the next multiple of the step, or to the first edge before it; shorter where much water flows.
    fn length_s(&self, second: f64, to_segment_end_s: f64, tap_kg_s: f64) -> f64 {
        let grid_s =
            ((second + INSTANT_S) / self.steps.step_s).floor() * self.steps.step_s + self.steps.step_s;
        let thermostat = &self.plant.thermostat;
        let shortest_s = if self.running { thermostat.min_run_s } else { thermostat.min_rest_s };
        let mut step_s = (grid_s.min(3600.0) - second).min(to_segment_end_s);
        let mut cut_at = |left_s: f64| {
            if left_s > INSTANT_S {
                step_s = step_s.min(left_s);
            }
        };
        cut_at(shortest_s - self.since_switch_s);
        if self.running && self.slows_down() {
            cut_at(self.next_look_s - self.since_switch_s);
        }
        if let Some(DefrostBegins::Running(every_s)) = self.pump.defrost.map(|defrost| defrost.begins)
            && self.running
            && self.frosted(self.room)
        {
            cut_at(every_s - self.frosted_s);
        }
        cut_at(self.to_clock_s);
        if self.melting {
            cut_at(self.melted_at_s - self.since_switch_s);
        }
        if let Some(dump) = self.plant.dump.as_ref().filter(|_| self.dump_open) {
            cut_at(dump.min_open_s - self.since_open_s);
            cut_at(dump.longest_open_s - self.flowed_s);
            if let Some(timer) = dump.timer {
                let end_s = timer.from_s + timer.lasts_s;
                for edge_s in [timer.from_s, end_s, end_s - 86_400.0] {
                    cut_at(edge_s - self.of_day_s);
                }
            }
        }
        let pump_kg_s = if self.air_cooled().is_some() {
            0.0
        } else if self.running {
            self.full(self.room).1.flow_kg_s
        } else {
            self.pump.frost_guard.filter(|_| self.guarded).map_or(0.0, |guard| guard.flow_kg_s)
        };
        step_s.min(self.tank.longest_step_s(pump_kg_s + tap_kg_s + self.dump_flow_kg_s()))
    }

    // --- switches

    fn switch_dump(&mut self) {
        let Some(dump) = &self.plant.dump else { return };
        let allowed = dump.months[self.month];
        if self.dump_open {
            let enough = self.since_open_s >= dump.min_open_s - INSTANT_S;
            self.dump_open = allowed && !(enough && self.aquastat_k <= dump.closes_k);
            if !self.dump_open {
                self.shut_by_guard = false;
            } else if self.flowed_s >= dump.longest_open_s - INSTANT_S {
                self.shut_by_guard = true;
                self.sums.dump_guarded += 1.0;
                self.flowed_s = 0.0;
            }
        } else if allowed && self.aquastat_k >= dump.opens_k {
            self.dump_open = true;
            self.since_open_s = 0.0;
        }
        let runs = self.dump_flow_kg_s() > 0.0;
        if runs && !self.dump_ran {
            self.sums.dump_openings += 1.0;
        }
        self.dump_ran = runs;
    }

    /// The first place in the list that takes water this month and has a millilitre of room.
    fn taking(&self) -> Option<usize> {
        let dump = self.plant.dump.as_ref()?;
        (0..dump.takers.len())
            .find(|&index| dump.takers[index].months[self.month] && self.room_kg[index] > 0.001)
    }

    fn switch_element(&mut self) {
        let Some(element) = self.plant.element else { return };
        let water_k = self.tank.at_k(element.height);
        if water_k >= element.off_at_k {
            self.element_on = false;
        } else if water_k <= element.on_at_k {
            self.element_on = true;
        }
    }

    fn dump_flow_kg_s(&self) -> f64 {
        let timed = self.plant.dump.as_ref().and_then(|dump| dump.timer).is_none_or(|timer| {
            // Whole days after its begin, the day before or this one.
            [0.0, 86_400.0].iter().any(|before_s| {
                let since_s = self.of_day_s + before_s - timer.from_s;
                since_s >= -INSTANT_S && since_s < timer.lasts_s - INSTANT_S
            })
        });
        let runs = self.dump_open && timed && !self.shut_by_guard && self.taking().is_some();
        self.plant.dump.as_ref().filter(|_| runs).map_or(0.0, |dump: &Dump| dump.flow_kg_s)
    }

    fn switch_pump(&mut self) {
        self.update_locks();
        self.update_tank_call();
        self.switch_fans();
        if self.running {
            self.look_at_probe();
            let enough =
                self.has_enough() && self.since_switch_s >= self.plant.thermostat.min_run_s - INSTANT_S;
            let stops = self.locked() || enough || self.is_off();
            let melts = self.clock_calls() || (!stops && self.coil_is_full());
            if stops {
                self.rest();
            }
            if melts {
                self.melt(!stops);
            }
        } else if self.melting {
            self.end_melting();
        } else if self.clock_calls() {
            self.melt(false);
        } else {
            let rested = self.since_switch_s >= self.plant.thermostat.min_rest_s - INSTANT_S;
            if rested && self.is_called() && !self.locked() {
                self.start();
            }
        }
        self.forget_frost();
        self.heated = !self.running
            && self.plant.room.heater.is_some_and(|heater| {
                let mark_k = if self.heated { heater.off_at_k } else { heater.on_at_k };
                self.room.air_k < mark_k
            });
        self.guarded =
            !self.running && self.pump.frost_guard.is_some_and(|guard| self.room.air_k < guard.below_k);
    }

    /// Fans come before a resting pump.
    fn switch_fans(&mut self) {
        let Some(fans) = &self.plant.fans else { return };
        let thermostat = &self.plant.thermostat;
        let called = if self.blows {
            self.room.probe_k > thermostat.off_at_k
        } else {
            !self.running && self.room.probe_k >= thermostat.on_at_k
        };
        self.blows = called && !self.is_off() && may_blow(fans, self.room.air_k, self.outdoor_k, self.blows);
    }

    fn air_cooled(&self) -> Option<&AirCooled> {
        match &self.pump.circuit {
            Circuit::OutdoorAir(unit) => Some(unit),
            _ => None,
        }
    }

    /// The running air conditioner at a state of the room: clean, and with frost where its clean surface gathers some.
    fn conditioned(&self, unit: &AirCooled, room: RoomState) -> (Cooled, bool) {
        let asked = [room.air_k, room.humidity, self.outdoor_k];
        if let Some(last) = self.conditioned.get().filter(|last| last.asked == asked) {
            return (last.cooled, last.frosts);
        }
        let airs = Airs {
            room_k: room.air_k,
            humidity: room.humidity,
            outdoor_k: self.outdoor_k,
            pressure_pa: self.plant.pressure_pa,
        };
        let clean = cooled(self.pump, unit, airs, 1.0);
        let frosts =
            clean.coil_k < ICE_K && room.humidity > saturated_at_coil(clean.coil_k, self.plant.pressure_pa);
        let point = if frosts { cooled(self.pump, unit, airs, self.pump.frosted_factor) } else { clean };
        self.conditioned.set(Some(Conditioned { asked, cooled: point, frosts }));
        (point, frosts)
    }

    fn start(&mut self) {
        self.running = true;
        self.since_switch_s = 0.0;
        self.thawing_s = 0.0;
        self.next_look_s = LOOKS_EVERY_S;
        self.share = match self.pump.slow_running {
            Some(slow) if self.slows_down() => slow.least_frac,
            _ => 1.0,
        };
        self.sums.starts += 1.0;
    }

    fn rest(&mut self) {
        self.running = false;
        self.since_switch_s = 0.0;
    }

    /// Begins a defrost in a rest that may just have begun for its sake.
    fn melt(&mut self, resumes: bool) {
        let Some(defrost) = self.pump.defrost else { return };
        self.running = false;
        if resumes {
            self.since_switch_s = 0.0;
        }
        self.melting = true;
        self.melted_at_s = self.since_switch_s + defrost.takes_s;
        self.resumes = resumes;
        if let Some(every_s) = clock_of(self.pump) {
            self.to_clock_s += every_s;
        }
        self.sums.defrosts += 1.0;
    }

    /// Once the frost is off, the unit goes on with the run that was broken off, whatever the shortest rest is.
    fn end_melting(&mut self) {
        if self.since_switch_s < self.melted_at_s - INSTANT_S {
            return;
        }
        self.melting = false;
        self.frosted_s = 0.0;
        self.frost_kg = 0.0;
        let goes_on = self.resumes && !self.has_enough() && !self.is_off();
        let rested = self.since_switch_s >= self.plant.thermostat.min_rest_s - INSTANT_S;
        if (goes_on || (rested && self.is_called())) && !self.locked() {
            self.start();
        }
    }

    fn coil_is_full(&self) -> bool {
        match self.pump.defrost.map(|defrost| defrost.begins) {
            Some(DefrostBegins::Running(every_s)) => self.frosted_s >= every_s - INSTANT_S,
            Some(DefrostBegins::Frost(kg)) => self.frost_kg >= kg,
            _ => false,
        }
    }

    fn clock_calls(&self) -> bool {
        self.to_clock_s <= INSTANT_S
    }

    fn forget_frost(&mut self) {
        let Some(defrost) = self.pump.defrost else { return };
        if !self.running && !self.melting && self.thawing_s >= defrost.thaws_s - INSTANT_S {
            self.frosted_s = 0.0;
            self.frost_kg = 0.0;
        }
    }

    // --- who calls

    fn tank_thermostat(&self) -> Option<TankThermostat> {
        match self.pump.caller {
            Caller::Room | Caller::Nobody => None,
            Caller::Tank(thermostat) | Caller::Both(thermostat) => Some(thermostat),
        }
    }

    fn update_tank_call(&mut self) {
        let Some(thermostat) = self.tank_thermostat() else { return };
        let sensor_k = self.tank.at_k(thermostat.sensor);
        self.tank_calls =
            if self.tank_calls { sensor_k < thermostat.enough_k } else { sensor_k <= thermostat.calls_k };
    }

    /// Whether a resting pump is to start.
    /// The cooler is switched off in this month.
    fn is_off(&self) -> bool {
        self.plant.thermostat.off_in[self.month]
    }

    fn is_called(&self) -> bool {
        if self.is_off() {
            return false;
        }
        let helped_dk =
            self.plant.fans.as_ref().filter(|_| self.blows).map_or(0.0, |fans| fans.helped_from_dk);
        let room_wants = self.room.probe_k >= self.plant.thermostat.on_at_k + helped_dk;
        match self.pump.caller {
            Caller::Nobody => false,
            Caller::Room => room_wants,
            Caller::Tank(_) => self.tank_calls,
            Caller::Both(_) => room_wants && self.tank_calls,
        }
    }

    /// Whether a running pump is to stop.
    fn has_enough(&self) -> bool {
        let room_has = self.room.probe_k <= self.plant.thermostat.off_at_k;
        match self.pump.caller {
            Caller::Room | Caller::Nobody => room_has,
            Caller::Tank(_) => !self.tank_calls,
            Caller::Both(_) => room_has || !self.tank_calls,
        }
    }

    // --- slow running

    fn slows_down(&self) -> bool {
        self.pump.slow_running.is_some() && !matches!(self.pump.caller, Caller::Tank(_))
    }

    fn look_at_probe(&mut self) {
        let Some(slow) = self.pump.slow_running.filter(|_| self.slows_down()) else { return };
        if self.since_switch_s < self.next_look_s - INSTANT_S {
            return;
        }
        self.next_look_s += LOOKS_EVERY_S;
        let thermostat = &self.plant.thermostat;
        let middle_k = 0.5 * (thermostat.on_at_k + thermostat.off_at_k);
        let half_band_dk = 0.5 * (thermostat.on_at_k - thermostat.off_at_k);
        let off_middle = ((self.room.probe_k - middle_k) / half_band_dk).clamp(-1.0, 1.0);
        self.share = (self.share + MOST_CHANGE * off_middle).clamp(slow.least_frac, 1.0);
    }

    fn locked(&self) -> bool {
        self.inlet_locks || self.air_low_locks || self.air_high_locks || self.coil_locks
    }

    fn update_locks(&mut self) {
        let pump = self.pump;
        let (stop_k, restart_k) = inlet_limits_k(pump);
        let inlet_k = self.tank.at_k(self.plant.tank.pump_out);
        let air_k = self.room.air_k;
        self.inlet_locks = if self.inlet_locks { inlet_k > restart_k } else { inlet_k >= stop_k };
        if let Some(probe) = pump.coil_probe {
            let held = self.coil_locks;
            self.coil_locks =
                if held { self.coil_probe_k < probe.restart_k } else { self.coil_probe_k <= probe.stop_k };
            self.sums.coil_stops += if self.coil_locks && !held { 1.0 } else { 0.0 };
        }
        self.air_low_locks = if self.air_low_locks {
            air_k < pump.air_stop_low_k + pump.air_restart_dk
        } else {
            air_k < pump.air_stop_low_k
        };
        self.air_high_locks = if self.air_high_locks {
            air_k > pump.air_stop_high_k - pump.air_restart_dk
        } else {
            air_k > pump.air_stop_high_k
        };
    }

    /// A door that is shut has a whole room of air again for its next opening.
    fn shut_doors(&mut self, segment: &DaySegment) {
        for (exchanged_kg, open) in self.exchanged_kg.iter_mut().zip(&segment.doors_open) {
            if !open {
                *exchanged_kg = 0.0;
            }
        }
    }

    // --- rates

    fn coil_k(&self, room: RoomState) -> f64 {
        room.air_k - self.coil_below_air_dk(room)
    }

    fn coil_below_air_dk(&self, room: RoomState) -> f64 {
        if let Some(unit) = self.air_cooled() {
            return if self.running { room.air_k - self.conditioned(unit, room).0.coil_k } else { 0.0 };
        }
        let Cooler::HeatPump(pump) = &self.plant.cooler;
        let full_dk = if pump.map.cycle().tank_coil() { COIL_WITH_TANK_COIL_DK } else { COIL_DK };
        full_dk * self.share
    }

    fn frosted(&self, room: RoomState) -> bool {
        if let Some(unit) = self.air_cooled() {
            return self.running && self.conditioned(unit, room).1;
        }
        let coil_k = self.coil_k(room);
        coil_k < ICE_K && room.humidity > saturated_at_coil(coil_k, self.plant.pressure_pa)
    }

    fn inlet_k(&self) -> f64 {
        self.tank.at_k(self.plant.tank.pump_out)
    }

    /// Inlet of the pump and what it does.
    fn full(&self, room: RoomState) -> (f64, Full) {
        behind_loop(self.pump, room.air_k, self.inlet_k(), self.frosted(room), self.share)
    }

    /// The machine over a step, at a state of the room.
    fn machine(&self, room: RoomState, step_s: f64) -> Machine {
        let mut machine = self.cooler(room, step_s);
        if let Some(fans) = self.plant.fans.as_ref().filter(|_| self.blows) {
            machine.electricity_w[Load::OutdoorFans as usize] = fans.power_w;
            machine.from_room_w -= fans.power_w;
        }
        machine
    }

    fn cooler(&self, room: RoomState, step_s: f64) -> Machine {
        if !self.running {
            let heater_w =
                self.plant.room.heater.filter(|_| self.heated).map_or(0.0, |heater| heater.power_w);
            let mut machine = resting(self.pump, self.inlet_k(), self.melting, self.guarded, heater_w);
            if let Some(probe) = self.pump.coil_probe.filter(|_| self.coil_locks) {
                // Its fan turns until the coil is warm.
                let more_w = (probe.fan_w - self.pump.resting_fan_w).max(0.0);
                machine.electricity_w[Load::RestingFan as usize] += more_w;
                machine.from_room_w -= more_w;
            }
            return machine;
        }
        let middle_s = self.since_switch_s + 0.5 * step_s;
        let lag_s = self.pump.start_lag_s;
        let started = if lag_s > 0.0 { 1.0 - libm::exp(-middle_s / lag_s) } else { 1.0 };
        if let Some(unit) = self.air_cooled() {
            let (cooled, _) = self.conditioned(unit, room);
            let mut machine = Machine::default();
            let power_w = cooled.compressor_w + unit.fan_w;
            machine.electricity_w[Load::Running as usize] = power_w;
            machine.electricity_w[Load::Standby as usize] = self.pump.standby_w;
            machine.evaporator_w = cooled.surface_w * started;
            let net_w = machine.evaporator_w - unit.fan_inside_w;
            machine.from_room_w = net_w - self.pump.standby_w;
            machine.rejected_w = net_w + power_w;
            return machine;
        }
        let (inlet_k, full) = self.full(room);
        let machine = running(self.pump, full, inlet_k, started);
        // The exchanger's two sides carry alike: what the pump's water keeps above the tank's, it brings back.
        let rise_dk = machine.outlet_k - inlet_k;
        let gap_dk = self.pump.loop_gap * rise_dk;
        Machine { gap_dk, outlet_k: self.inlet_k() + gap_dk + rise_dk, ..machine }
    }

    fn surroundings_k(&self, instant: Instant) -> f64 {
        match self.plant.tank.surroundings {
            Surroundings::Boundary(boundary) => instant.temperature_k(&self.plant.boundaries[boundary]),
            Surroundings::ColdRoom => self.room.air_k,
        }
    }

    /// Heat from the tank to the room's air, W.
    fn tank_to_room_w(&self) -> f64 {
        match self.plant.tank.surroundings {
            Surroundings::Boundary(_) => 0.0,
            Surroundings::ColdRoom => self.tank.loss_w(self.room.air_k),
        }
    }

    fn room_rates(
        &self,
        room: RoomState,
        machine: &Machine,
        hot_water_w: f64,
        segment: &DaySegment,
        instant: Instant,
        step_s: f64,
    ) -> RoomRates {
        let plant = self.plant;
        let mut rates = RoomRates::default();
        for surface in &plant.room.surfaces {
            let beyond_k = instant.temperature_k(&plant.boundaries[surface.boundary]);
            rates.add_sensible(surface.cause, surface.ua_w_per_k * (beyond_k - room.air_k));
            rates.tie_w_per_k += surface.ua_w_per_k;
        }
        self.leak(room, instant, &mut rates);
        for (index, door) in
            plant.room.doors.iter().enumerate().filter(|&(index, _)| segment.doors_open[index])
        {
            let exchanged_kg =
                if segment.doors_propped[index] { f64::NEG_INFINITY } else { self.exchanged_kg[index] };
            let flow_kg_s = self.through_door(door, room, instant, exchanged_kg, step_s);
            let beyond = &plant.boundaries[door.boundary];
            let humidity = instant.humidity(beyond);
            rates.add_air(Cause::Doors, flow_kg_s, instant.temperature_k(beyond), humidity, humidity, room);
            rates.doors_kg_s.push((index, flow_kg_s));
        }
        if let Some(fans) = plant.fans.as_ref().filter(|_| self.blows) {
            let outdoors = &plant.boundaries[0];
            let (outdoor_k, humidity) = (instant.temperature_k(outdoors), instant.humidity(outdoors));
            let flow_kg_s = blown_kg_s(fans, room.air_k, outdoor_k, humidity, plant.pressure_pa);
            // Booked under doors and taken out again: it is no cause of the load.
            let before = rates.gain_w[Cause::Doors as usize];
            rates.add_air(Cause::Doors, flow_kg_s, outdoor_k, humidity, humidity, room);
            rates.aired_w = before - rates.gain_w[Cause::Doors as usize];
            rates.gain_w[Cause::Doors as usize] = before;
        }
        rates.add_sensible(Cause::People, segment.people * (272.0 - 6.0 * (room.air_k - ICE_K)));
        rates.add_sensible(Cause::Lights, segment.lights_w);
        rates.add_sensible(Cause::HotWater, hot_water_w);
        let exchange_w_per_k = plant.room.exchange_w_per_k
            + plant.room.exchange_w_per_kg_k * self.settled_kg.iter().sum::<f64>();
        let to_contents_w = exchange_w_per_k * (room.air_k - room.contents_k);
        rates.air_w -= to_contents_w;
        rates.contents_w += to_contents_w;
        rates.tie_w_per_k += exchange_w_per_k;
        for (index, crop) in plant.room.produce.iter().enumerate() {
            self.produce(crop, index, room, &mut rates);
        }
        let cooling_w_per_k = libm::log(2.0) / plant.room.half_cooling_s * self.cooling_capacity();
        let from_cooling_w = cooling_w_per_k * (room.cooling_k - room.air_k);
        rates.air_w += from_cooling_w;
        rates.cooling_w -= from_cooling_w;
        rates.tie_w_per_k += cooling_w_per_k;
        let coil_humidity = saturated_at_coil(self.coil_k(room), plant.pressure_pa);
        if machine.evaporator_w > 0.0 && room.humidity > coil_humidity {
            let excess = room.humidity - coil_humidity;
            let coil_dk = self.coil_below_air_dk(room);
            rates.condensate_kg_s =
                machine.evaporator_w * excess / (AIR_J_PER_KG_K * coil_dk + LATENT_J_PER_KG * excess);
        }
        rates.air_w -= machine.from_room_w - LATENT_J_PER_KG * rates.condensate_kg_s;
        rates
    }

    fn leak(&self, room: RoomState, instant: Instant, rates: &mut RoomRates) {
        let beyond = &self.plant.boundaries[self.plant.room.leakage_from];
        let stamps = &beyond.humidity_ratio[instant.hour..instant.hour + 2];
        let hour_mean = 0.5 * (stamps[0] + stamps[1]);
        let flow_kg_s = self.plant.room.leakage_kg_s;
        let humidity = instant.humidity(beyond);
        rates.add_air(Cause::Leakage, flow_kg_s, instant.temperature_k(beyond), hour_mean, humidity, room);
    }

    fn through_door(
        &self,
        door: &Door,
        room: RoomState,
        instant: Instant,
        exchanged_kg: f64,
        step_s: f64,
    ) -> f64 {
        let beyond = &self.plant.boundaries[door.boundary];
        let outside = (instant.temperature_k(beyond), instant.humidity(beyond));
        let inside = (room.air_k, room.humidity);
        let flow_kg_s = door.open_frac[self.month]
            * door_kg_s(door.area_m2, door.height_m, inside, outside, self.plant.pressure_pa);
        flow_kg_s.min(((door.most_exchange_kg - exchanged_kg) / step_s).max(0.0))
    }

    fn produce(&self, crop: &Produce, index: usize, room: RoomState, rates: &mut RoomRates) {
        let (settled_kg, cooling_kg) = (self.settled_kg[index], self.cooling_kg[index]);
        let respiration_w = settled_kg * respiration_w_per_kg(&crop.respiration_w_per_kg, room.contents_k);
        let warm_respiration_w =
            cooling_kg * respiration_w_per_kg(&crop.respiration_w_per_kg, room.cooling_k);
        rates.gain_w[Cause::Respiration as usize] += warm_respiration_w;
        rates.cooling_w += warm_respiration_w;
        let vapour_pa = room.humidity * self.plant.pressure_pa / (VAPOUR_RATIO + room.humidity);
        let deficit_pa = (saturation_over_water_pa(room.contents_k) - vapour_pa).max(0.0);
        let transpired_kg_s = crop.transpiration_per_s_pa * (settled_kg + cooling_kg) * deficit_pa;
        rates.gain_w[Cause::Respiration as usize] += respiration_w;
        rates.contents_w += respiration_w - LATENT_J_PER_KG * transpired_kg_s;
        rates.vapour_in_kg_s += transpired_kg_s;
    }

    // --- one step

    fn advance(&mut self, step_s: f64, segment: &DaySegment, instant: Instant, mains_k: f64) {
        let (tank_w, surroundings_k) = (self.tank_to_room_w(), self.surroundings_k(instant));
        let pipe_w = self.pump.hot_pipe.loss_w_per_k * (self.pipe_k - self.room.air_k);
        let machine = self.machine(self.room, step_s);
        let rates = self.room_rates(self.room, &machine, tank_w + pipe_w, segment, instant, step_s);
        let middle = self.moved(&rates, 0.5 * step_s);

        let machine = self.machine(middle, step_s);
        let (return_k, pipe_loss_j) = self.advance_pipe(&machine, middle.air_k, step_s);
        let return_k = return_k - machine.gap_dk;
        let rates =
            self.room_rates(middle, &machine, tank_w + pipe_loss_j / step_s, segment, instant, step_s);
        self.book_machine(&machine, step_s);
        self.count_frost(middle, rates.condensate_kg_s, step_s);
        self.sums.pipe_loss_j += pipe_loss_j;
        self.book_blown(&machine, &rates, middle, step_s);
        if let Some(probe) = self.pump.coil_probe {
            let below_dk =
                if self.running { probe.below_air_frac * self.coil_below_air_dk(middle) } else { 0.0 };
            let nears_k = middle.air_k - below_dk;
            self.coil_probe_k += (step_s / probe.lag_s).min(1.0) * (nears_k - self.coil_probe_k);
        }
        self.advance_room(&rates, middle, step_s);
        self.advance_water(&machine, return_k, segment, mains_k, surroundings_k, step_s);
        self.since_switch_s += step_s;
        self.since_open_s += step_s;
        self.sums.duration_s += step_s;
    }

    /// The time that loads the coil with frost and the time that frees it.
    fn count_frost(&mut self, middle: RoomState, condensate_kg_s: f64, step_s: f64) {
        self.to_clock_s -= step_s;
        if self.running && self.frosted(middle) {
            self.frosted_s += step_s;
            self.frost_kg += condensate_kg_s * step_s;
        } else if !self.running && middle.air_k > ICE_K {
            self.thawing_s += step_s;
        }
    }

    fn book_blown(&mut self, machine: &Machine, rates: &RoomRates, middle: RoomState, step_s: f64) {
        if self.running {
            let room = &self.plant.room;
            let stream_w_per_k = self.pump.airflow_m3_s * room.air_mass_kg / room.volume_m3 * AIR_J_PER_KG_K;
            let sensible_w = machine.evaporator_w - LATENT_J_PER_KG * rates.condensate_kg_s;
            let blown_k = middle.air_k - sensible_w / stream_w_per_k;
            self.sums.blown.see(blown_k, blown_k, step_s);
        }
    }

    /// The room after some time at constant rates.
    fn moved(&self, rates: &RoomRates, time_s: f64) -> RoomState {
        let (room, before) = (&self.plant.room, self.room);
        let vapour_kg_s = rates.vapour_in_kg_s - rates.condensate_kg_s;
        let followed = (time_s / self.plant.thermostat.probe_lag_s).min(1.0);
        RoomState {
            air_k: before.air_k + time_s * rates.air_w / room.air_capacity_j_per_k,
            contents_k: before.contents_k + time_s * rates.contents_w / self.contents_capacity(),
            cooling_k: if self.cooling_capacity() > 0.0 {
                before.cooling_k + time_s * rates.cooling_w / self.cooling_capacity()
            } else {
                before.contents_k
            },
            probe_k: before.probe_k + followed * (before.air_k - before.probe_k),
            humidity: before.humidity + time_s * vapour_kg_s / room.air_mass_kg,
        }
    }

    fn advance_room(&mut self, rates: &RoomRates, middle: RoomState, step_s: f64) {
        let capacity = self.plant.room.air_capacity_j_per_k;
        assert!(rates.tie_w_per_k * step_s < capacity, "explicit room air: step {step_s} s is too long");
        let before = self.room;
        let mut after = self.moved(rates, step_s);
        let followed = (step_s / self.plant.thermostat.probe_lag_s).min(1.0);
        after.probe_k = before.probe_k + followed * (middle.air_k - middle.probe_k);
        let wall_kg = self.condense_on_walls(&mut after);
        self.room = after;
        for &(index, flow_kg_s) in &rates.doors_kg_s {
            self.exchanged_kg[index] += flow_kg_s * step_s;
        }
        let coil_k = self.coil_k(middle);
        let sums = &mut self.sums;
        for (sum, rate) in sums.gain_j.iter_mut().zip(rates.gain_w) {
            *sum += rate * step_s;
        }
        sums.aired_j += rates.aired_w * step_s;
        sums.vapour_in_kg += rates.vapour_in_kg_s * step_s;
        sums.condensate_kg += rates.condensate_kg_s * step_s;
        if coil_k < ICE_K {
            sums.frost_kg += rates.condensate_kg_s * step_s;
        }
        sums.wall_condensate_kg += wall_kg;
        sums.humidity_s += 0.5 * (before.humidity + after.humidity) * step_s;
        sums.air.see(before.air_k, after.air_k, step_s);
        sums.contents.see(before.contents_k, after.contents_k, step_s);
    }

    /// Brings air above saturation back to it; its heat warms the air, which therefore holds a little more.
    fn condense_on_walls(&self, room: &mut RoomState) -> f64 {
        let (air_kg, pressure_pa) = (self.plant.room.air_mass_kg, self.plant.pressure_pa);
        let per_ratio_k = LATENT_J_PER_KG * air_kg / self.plant.room.air_capacity_j_per_k;
        let mut condensed_kg = 0.0;
        for _ in 0..20 {
            let saturated = saturated_over_water(room.air_k, pressure_pa);
            let excess = room.humidity - saturated;
            if (condensed_kg == 0.0 && excess <= 0.0) || excess.abs() < 1e-13 {
                break;
            }
            let slope = (saturated_over_water(room.air_k + 0.01, pressure_pa) - saturated) / 0.01;
            let condensed = excess / (1.0 + per_ratio_k * slope);
            room.humidity -= condensed;
            room.air_k += per_ratio_k * condensed;
            condensed_kg += air_kg * condensed;
        }
        condensed_kg
    }

    /// The hot pipe in as many parts of the step as its small body needs. Returns the mean
    /// temperature of the water that leaves it and the heat that it lost.
    fn advance_pipe(&mut self, machine: &Machine, air_k: f64, step_s: f64) -> (f64, f64) {
        let pipe = self.pump.hot_pipe;
        if pipe.capacity_j_per_k <= 0.0 {
            return (machine.outlet_k, 0.0);
        }
        let stream_w_per_k = WATER_J_PER_KG_K * machine.flow_kg_s;
        let share = step_s * (stream_w_per_k + pipe.loss_w_per_k) / pipe.capacity_j_per_k;
        let parts = (share / LARGEST_PIPE_SHARE).ceil().max(1.0);
        let part_s = step_s / parts;
        let (mut sum_k, mut lost_j) = (0.0, 0.0);
        let tank_k = self.tank.mean_k();
        let rests = !self.running && machine.flow_kg_s == 0.0;
        let held_k =
            if self.plant.tank.circles && rests && tank_k > air_k + 0.5 { tank_k } else { f64::NEG_INFINITY };
        let mut circled_j = 0.0;
        for _ in 0..parts as usize {
            let loss_w = pipe.loss_w_per_k * (self.pipe_k - air_k);
            sum_k += self.pipe_k;
            lost_j += loss_w * part_s;
            self.pipe_k +=
                part_s * (stream_w_per_k * (machine.outlet_k - self.pipe_k) - loss_w) / pipe.capacity_j_per_k;
            if self.pipe_k < held_k {
                circled_j += pipe.capacity_j_per_k * (held_k - self.pipe_k);
                self.pipe_k = held_k;
            }
        }
        self.sums.circled_j += circled_j;
        self.tank.cool_by(circled_j, air_k);
        (sum_k / parts, lost_j)
    }

    fn book_machine(&mut self, machine: &Machine, step_s: f64) {
        let sums = &mut self.sums;
        for (sum, power_w) in sums.electricity_j.iter_mut().zip(machine.electricity_w) {
            *sum += power_w * step_s;
        }
        sums.heat_to_water_j += machine.to_water_w * step_s;
        sums.heat_from_room_j += machine.from_room_w * step_s;
        sums.casing_outside_j += machine.casing_outside_w * step_s;
        sums.rejected_j += machine.rejected_w * step_s;
        sums.fans_s += if self.blows { step_s } else { 0.0 };
        if self.running {
            sums.run_s += step_s;
            sums.share_s += self.share * step_s;
            sums.hottest_made_k = sums.hottest_made_k.max(machine.outlet_k);
        }
        if self.melting {
            sums.defrost_s += step_s;
        }
        if self.locked() {
            self.sums.locked_out_s += step_s;
        }
    }

    fn advance_water(
        &mut self,
        machine: &Machine,
        return_k: f64,
        segment: &DaySegment,
        mains_k: f64,
        surroundings_k: f64,
        step_s: f64,
    ) {
        let plant = self.plant;
        let ports = &plant.tank;
        let shared = ports.pump_return == ports.draw;
        let port = AtDrawPort {
            return_kg_s: if shared { machine.flow_kg_s } else { 0.0 },
            return_k,
            tank_k: self.tank.at_k(ports.draw),
        };
        let between = Between { valve_k: plant.valve_k, booster: plant.booster };
        let at_once: Vec<_> =
            segment.taps_at_once().map(|one| (one.frac * segment.tap_kg_s, one.use_k)).collect();
        let tap = if at_once.is_empty() {
            tap(segment.tap_kg_s, segment.use_k, mains_k, between, port)
        } else {
            AtOnce { taps: &at_once, mains_k, between, port }.take()
        };
        let past_tank_kg_s = tap.flow_kg_s.min(port.return_kg_s);
        self.book_tap(tap, segment, mains_k, step_s);
        if let Some(element) = plant.element.filter(|_| self.element_on) {
            self.tank.warm(element.height, element.power_w);
            self.sums.element_j += element.power_w * step_s;
        }

        let dump_kg_s = self.dump_flow_kg_s();
        self.tank.take_out(ports.pump_out, machine.flow_kg_s);
        self.tank.let_in(ports.pump_return, machine.flow_kg_s - past_tank_kg_s, return_k);
        self.tank.take_out(ports.draw, tap.flow_kg_s - past_tank_kg_s);
        if let Some(dump) = &plant.dump {
            self.book_dump(dump, dump_kg_s, (mains_k, machine.to_water_w), step_s);
            self.tank.take_out(dump.port, dump_kg_s);
        }
        self.tank.let_in(ports.cold_in, tap.flow_kg_s + dump_kg_s, mains_k);

        let (top_k, bottom_k) = (self.tank.at_k(1.0), self.tank.at_k(0.0));
        self.sums.tank_loss_j += self.tank.advance(step_s, surroundings_k);
        if ports.cold_in_stirs > 0.0 && tap.flow_kg_s + dump_kg_s > 0.0 {
            let lowest = ports.cold_in.min(ports.first.mass_kg / ports.mass_kg() - ports.cold_in_stirs);
            self.tank.stir(lowest, lowest + ports.cold_in_stirs);
        }
        let returns_kg_s = machine.flow_kg_s - past_tank_kg_s;
        self.let_jets_stir((tap.flow_kg_s + dump_kg_s, mains_k), (returns_kg_s, return_k));
        self.sums.tank_top.see(top_k, self.tank.at_k(1.0), step_s);
        self.sums.tank_bottom.see(bottom_k, self.tank.at_k(0.0), step_s);
        self.book_layers(step_s);
    }

    /// The jets of cold water and of what returns, each kg/s and K, stir what lies before them.
    fn let_jets_stir(&mut self, cold: (f64, f64), returning: (f64, f64)) {
        let tank = &self.plant.tank;
        let count = self.tank.layers_k.len() as f64;
        let lower = self.tank.lower;
        let at = |height: f64| (height * count).round() as usize;
        if let Some(bore_m) = tank.cold_in_bore_m.filter(|_| cold.0 > 0.0) {
            let blown = Blown { kg_s: cold.0, bore_m, temperature_k: cold.1, up: true };
            let layer_m = tank.first.height_m / lower as f64;
            let before = self.tank.layers_k[at(tank.cold_in)..lower].iter().copied();
            let stirred = blown.stirs(before, layer_m) / count;
            self.tank.stir(tank.cold_in, tank.cold_in + stirred);
        }
        if let Some(bore_m) = tank.return_bore_m.filter(|_| returning.0 > 0.0) {
            let blown = Blown { kg_s: returning.0, bore_m, temperature_k: returning.1, up: false };
            let from = at(tank.pump_return);
            let (end, vessel, layers) = match &tank.second {
                Some(second) if from > lower => (lower, second, self.tank.layers_k.len() - lower),
                _ => (0, &tank.first, lower),
            };
            let before = self.tank.layers_k[end..from].iter().rev().copied();
            let stirred = blown.stirs(before, vessel.height_m / layers as f64) / count;
            self.tank.stir(tank.pump_return - stirred, tank.pump_return);
        }
    }

    /// Counts the layers by their temperature at the end of the step.
    fn book_layers(&mut self, step_s: f64) {
        let layers_k = &self.tank.layers_k;
        let growing = layers_k.iter().filter(|&&layer_k| (298.15..=318.15).contains(&layer_k)).count();
        let sums = &mut self.sums;
        sums.lukewarm_s += step_s * growing as f64 / layers_k.len() as f64;
        sums.middle_k_s += step_s * self.tank.mean_between_k(0.45, 0.55);
        for (index, hot_degc) in [49.0, 50.0, 55.0, 60.0].into_iter().enumerate() {
            let hot_s = |layer_k: f64| if layer_k > 273.15 + hot_degc { step_s } else { 0.0 };
            sums.top_hot_s[index] += hot_s(self.tank.mean_between_k(0.9, 1.0));
            sums.bottom_hot_s[index] += hot_s(self.tank.mean_between_k(0.0, 0.1));
        }
        let hot_throughout = layers_k.iter().all(|&layer_k| layer_k >= 333.15);
        self.cool_s = if hot_throughout { 0.0 } else { self.cool_s + step_s };
        sums.longest_cool_s = sums.longest_cool_s.max(self.cool_s);
    }

    fn book_tap(&mut self, tap: Tap, segment: &DaySegment, mains_k: f64, step_s: f64) {
        let drawn_w = WATER_J_PER_KG_K * tap.flow_kg_s * (tap.drawn_k - mains_k);
        let sums = &mut self.sums;
        let used = if segment.tap_kg_s > 0.0 { 1.0 - segment.waiting_kg_s / segment.tap_kg_s } else { 1.0 };
        sums.demand_j += used * tap.wanted_w * step_s;
        sums.delivered_j += used * (drawn_w + tap.booster_w) * step_s;
        sums.unused_j += (1.0 - used) * (drawn_w + tap.booster_w) * step_s;
        sums.shortfall_j += used * (tap.wanted_w - drawn_w - tap.booster_w) * step_s;
        if tap.flow_kg_s > 0.0 {
            let bare_k = tap.drawn_k.max(tap.hot_side_k);
            let hot_side_k = if segment.past_valve { bare_k } else { tap.hot_side_k };
            sums.scalding_s += if hot_side_k > ICE_K + 49.0 { step_s } else { 0.0 };
            sums.scalding_without_valve_s += if bare_k > ICE_K + 49.0 { step_s } else { 0.0 };
        }
        sums.booster_j += tap.booster_w * step_s;
        sums.drawn_kg += tap.flow_kg_s * step_s;
        sums.drawn_j += drawn_w * step_s;
        if tap.flow_kg_s > 0.0 {
            sums.drawn_m3 += tap.flow_kg_s * step_s / water_kg_m3(tap.drawn_k);
        }
    }

    /// Books the open dump and lets the aquastat's probe follow the water.
    fn book_dump(&mut self, dump: &Dump, flow_kg_s: f64, (mains_k, pump_w): (f64, f64), step_s: f64) {
        let followed = (step_s / dump.probe_lag_s).min(1.0);
        self.aquastat_k += followed * (self.tank.at_k(dump.probe) - self.aquastat_k);
        if !self.dump_open {
            self.flowed_s = 0.0;
            return;
        }
        self.flowed_s = if flow_kg_s > 0.0 { self.flowed_s + step_s } else { 0.0 };
        self.sums.dump_longest_s = self.sums.dump_longest_s.max(self.flowed_s);
        let Some(taking) = self.taking().filter(|_| flow_kg_s > 0.0) else {
            self.sums.dump_held_s += step_s;
            self.sums.dump_held_j += pump_w * step_s;
            return;
        };
        let dumped_k = self.tank.at_k(dump.port);
        let wanted_k = dump.takers[taking].temper_k;
        let mix = if dumped_k > wanted_k { (dumped_k - mains_k) / (wanted_k - mains_k) } else { 1.0 };
        let arrives_kg = mix * flow_kg_s * step_s;
        self.room_kg[taking] = (self.room_kg[taking] - arrives_kg).max(0.0);
        self.sums.dump_placed_kg[taking] += arrives_kg;
        self.sums.dump_tempering_kg += arrives_kg - flow_kg_s * step_s;
        let sums = &mut self.sums;
        sums.dump_open_s += step_s;
        sums.dump_kg += flow_kg_s * step_s;
        sums.dump_m3 += flow_kg_s * step_s / water_kg_m3(dumped_k);
        sums.dump_j += WATER_J_PER_KG_K * flow_kg_s * (dumped_k - mains_k) * step_s;
    }
}

impl RoomRates {
    fn add_sensible(&mut self, cause: Cause, heat_w: f64) {
        self.gain_w[cause as usize] += heat_w;
        self.air_w += heat_w;
    }

    /// Air that comes in while as much room air leaves: `carrier` is the humidity ratio in its specific heat.
    fn add_air(
        &mut self,
        cause: Cause,
        flow_kg_s: f64,
        from_k: f64,
        carrier: f64,
        humidity: f64,
        room: RoomState,
    ) {
        let tie_w_per_k = flow_kg_s * (AIR_J_PER_KG_K + VAPOUR_J_PER_KG_K * carrier);
        let vapour_kg_s = flow_kg_s * (humidity - room.humidity);
        self.add_sensible(cause, tie_w_per_k * (from_k - room.air_k));
        self.gain_w[cause as usize] += LATENT_J_PER_KG * vapour_kg_s;
        self.vapour_in_kg_s += vapour_kg_s;
        self.tie_w_per_k += tie_w_per_k;
    }
}

/// Water at the pump-out port that stops the pump and that releases it, K.
fn inlet_limits_k(pump: &HeatPump) -> (f64, f64) {
    let differential_dk = pump.inlet_stop_k - pump.inlet_restart_k;
    let stop_k = match pump.circuit {
        Circuit::SinglePass { min_rise_dk, outlet_stop_k, .. } => {
            pump.inlet_stop_k.min(outlet_stop_k - min_rise_dk)
        }
        Circuit::MultiPass { flow_kg_s, outlet_stop_k } => {
            let rise_dk = (pump.capacity_w + pump.circulator_w) / (WATER_J_PER_KG_K * flow_kg_s);
            pump.inlet_stop_k.min(outlet_stop_k - rise_dk)
        }
        Circuit::OutdoorAir(_) => pump.inlet_stop_k,
    };
    // Behind a closed loop the tank may only be so much colder that the loop comes back no warmer than that.
    let rise_dk = match pump.circuit {
        Circuit::SinglePass { outlet_k, min_rise_dk, .. } => (outlet_k - stop_k).max(min_rise_dk),
        Circuit::MultiPass { flow_kg_s, .. } => {
            (pump.capacity_w + pump.circulator_w) / (WATER_J_PER_KG_K * flow_kg_s)
        }
        Circuit::OutdoorAir(_) => 0.0,
    };
    let stop_k = stop_k - pump.loop_gap * rise_dk;
    (stop_k, stop_k - differential_dk)
}

/// The segment of the day at an instant, and when it ends, s after midnight.
fn segment_at(day: &[DaySegment], of_day_s: f64) -> (&DaySegment, f64) {
    let next = day.partition_point(|segment| segment.start_s <= of_day_s + INSTANT_S);
    (&day[next - 1], day.get(next).map_or(86_400.0, |segment| segment.start_s))
}

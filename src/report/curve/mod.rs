//! COP and room cooling against the water that the pump takes in and against the room's air.

mod blocks;

pub(super) use blocks::blocks;

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::heat_pump::{Running, inlet_below};
use crate::household::Household;
use crate::plant::{Cooler, DefrostBegins, HOUR_S, HeatPump, Plant};
use crate::report::quantity::CUBIC_METRE_L;
use crate::water::density_kg_m3;

/// Coldest inlet of the table, °C: the coldest of the cycle maps.
const COLDEST_INLET_DEGC: f64 = 5.0;
/// Step of the inlets, K.
const INLET_STEP_DK: f64 = 5.0;
/// Inlet that others are held against, °C: mains water.
const COLD_INLET_DEGC: f64 = 10.0;
/// Inlet of a tank that is warm to its bottom, °C, for the surplus that it makes.
const WARM_INLET_DEGC: f64 = 40.0;
/// COP below which a row is marked. Common practice, no source: below it more than half of the heat to the water is
/// bought as electricity.
const LEAST_COP: f64 = 2.0;
/// Share of the cooling at [`COLD_INLET_DEGC`] below which a row is marked. Common practice, no source.
const LEAST_COOLING_FRAC: f64 = 0.5;
/// Warmest room of the table, °C.
const WARMEST_ROOM_DEGC: f64 = 20.0;
/// Step of the rooms, K.
const ROOM_STEP_DK: f64 = 2.0;
/// Seconds in a minute.
const MINUTE_S: f64 = 60.0;

/// What is to be seen in a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    /// The running COP is below 2.
    CopUnder2,
    /// The cooling is below half of that at the cold inlet.
    CoolingUnderHalf,
    /// At this inlet the pump locks out.
    LockOut,
    /// The room's set point.
    SetPoint,
    /// The coil is below freezing: in humid air it gathers frost.
    CoilBelowFreezing,
    /// The nearest edge of the cycle map was used.
    OutsideMap,
}

/// What the pump does at one operating point, started up, with a clean coil.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OperatingPoint {
    /// Room air, degC.
    pub room_air_degc: f64,
    /// Water into the pump: the water at the tank's pump-out port, degC.
    pub water_in_degc: f64,
    /// Water out of the pump, degC.
    pub water_out_degc: f64,
    /// Water through the pump, L/min.
    pub flow_l_min: f64,
    /// Running COP: heat to water over running and circulator power.
    pub cop: f64,
    /// How far the true COP may be off either way, share of it; `None` where nothing is known of it.
    pub cop_band_frac: Option<f64>,
    /// Heat to the water, circulator included, W.
    pub heat_to_water_w: f64,
    /// How far the true heat to the water may be off either way, share of it; `None` where nothing is known of it.
    pub heat_to_water_band_frac: Option<f64>,
    /// Heat taken from the room, less everything that the machine returns to it, standby included, W.
    pub heat_from_room_w: f64,
    /// Running and circulator power, W.
    pub electricity_w: f64,
    /// Heat to water for each unit of heat from the room; `None` where the room is not cooled.
    pub hot_per_cold: Option<f64>,
    /// What is to be seen here.
    pub marks: Vec<Mark>,
}

impl OperatingPoint {
    fn of(running: &Running, marks: Vec<Mark>) -> Self {
        Self {
            room_air_degc: running.room_air_k - ZERO_CELSIUS_K,
            water_in_degc: running.inlet_k - ZERO_CELSIUS_K,
            water_out_degc: running.outlet_k - ZERO_CELSIUS_K,
            flow_l_min: running.flow_kg_s / density_kg_m3(running.inlet_k) * CUBIC_METRE_L * MINUTE_S,
            cop: running.cop(),
            cop_band_frac: None,
            heat_to_water_w: running.heat_to_water_w,
            heat_to_water_band_frac: None,
            heat_from_room_w: running.heat_from_room_w,
            electricity_w: running.power_w,
            hot_per_cold: running.hot_per_cold(),
            marks,
        }
    }
}

/// What decides about the inlet, what a colder room costs and what frost takes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CurveLimits {
    /// Room air of the rows by inlet: the thermostat's set point, degC.
    pub room_air_degc: f64,
    /// Inlet of the rows by room air, and that to which the cooling is held: mains water, degC.
    pub cold_inlet_degc: f64,
    /// Inlet of a tank that is warm to its bottom, degC.
    pub warm_inlet_degc: f64,
    /// Heat to water for each unit of cold at the cold inlet; `None` where the room is not cooled.
    pub hot_per_cold_at_cold_inlet: Option<f64>,
    /// The same at the warm inlet.
    pub hot_per_cold_at_warm_inlet: Option<f64>,
    /// COP that is marked when it is not reached.
    pub least_cop: f64,
    /// Inlet above which the COP is below that; `None` where the pump locks out before, degC.
    pub least_cop_inlet_degc: Option<f64>,
    /// Inlet above which the cooling is below half of that at the cold inlet; `None` where the pump locks out before, degC.
    pub half_cooling_inlet_degc: Option<f64>,
    /// Half of the cooling at the cold inlet, W.
    pub half_cooling_w: f64,
    /// Inlet that locks the pump out, degC.
    pub lock_out_inlet_degc: f64,
    /// Change of the COP with a room 1 K colder, share.
    pub colder_room_cop_frac: f64,
    /// Change of the heat to water with it, share.
    pub colder_room_heat_to_water_frac: f64,
    /// Change of the heat from the room with it, share; `None` where the room is not cooled.
    pub colder_room_heat_from_room_frac: Option<f64>,
    /// Whether the coil is below freezing at the set point.
    pub coil_below_freezing: bool,
    /// Change of the COP at the cold inlet when the coil is frosted, share.
    pub frost_cop_frac: f64,
    /// Change of the heat to the water with it, share.
    pub frost_heat_to_water_frac: f64,
    /// Change of the heat from the room with it, share; `None` where the room is not cooled.
    pub frost_heat_from_room_frac: Option<f64>,
    /// The same at the warm inlet.
    pub frost_heat_from_room_warm_frac: Option<f64>,
    /// Running with a frosted coil after which the unit defrosts, h; `None` where it does not count that.
    pub defrost_every_h: Option<f64>,
    /// From the beginning of one defrost to that of the next where it goes by the clock, h.
    pub defrost_clock_h: Option<f64>,
    /// Frost at which it defrosts where it does so on demand, kg.
    pub defrost_frost_kg: Option<f64>,
    /// How long it does not cool then, min.
    pub defrost_takes_min: Option<f64>,
}

/// The pump against its water inlet and against the room's air.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Curve {
    /// At the room's set point, by water inlet up to the lock-out.
    pub cop_by_inlet: Vec<OperatingPoint>,
    /// At the cold inlet, by room air from the lowest allowed.
    pub cop_by_room: Vec<OperatingPoint>,
    /// Limits that are passed on the way.
    pub cop_limits: CurveLimits,
}

impl Curve {
    /// The pump of a plant.
    pub fn of(plant: &Plant) -> Self {
        let at = Looked::at(plant);
        Self { cop_by_inlet: at.by_inlet(), cop_by_room: at.by_room(), cop_limits: at.limits() }
    }

    /// The unit of a household, with how far it may be off by what is known of it.
    pub fn of_household(household: &Household, plant: &Plant) -> Self {
        let band = household.evidence().band();
        Self::of(plant).with_bands(band.cop_frac, band.heat_frac)
    }

    /// The same with how far the real unit's COP and heat to the water may be off either way, shares of each.
    pub fn with_bands(mut self, cop_frac: f64, heat_frac: f64) -> Self {
        for point in self.cop_by_inlet.iter_mut().chain(&mut self.cop_by_room) {
            (point.cop_band_frac, point.heat_to_water_band_frac) = (Some(cop_frac), Some(heat_frac));
        }
        self
    }
}

/// A pump and the conditions that it is looked at in.
struct Looked<'a> {
    pump: &'a HeatPump,
    set_k: f64,
    lock_out_k: f64,
    coldest_k: f64,
    cold_k: f64,
    warm_k: f64,
}

impl<'a> Looked<'a> {
    fn at(plant: &'a Plant) -> Self {
        let Cooler::HeatPump(pump) = &plant.cooler;
        let lock_out_k = pump.lock_out_inlet_k();
        let below_lock_out = |degc: f64| (degc + ZERO_CELSIUS_K).min(lock_out_k);
        Self {
            pump,
            set_k: 0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k),
            lock_out_k,
            coldest_k: below_lock_out(COLDEST_INLET_DEGC),
            cold_k: below_lock_out(COLD_INLET_DEGC),
            warm_k: below_lock_out(WARM_INLET_DEGC),
        }
    }

    /// The pump with a clean coil in the room at its set point.
    fn with_inlet(&self, inlet_k: f64) -> Running {
        self.pump.running(self.set_k, inlet_k, false)
    }

    /// The pump with a clean coil and cold water.
    fn with_room(&self, room_air_k: f64) -> Running {
        self.pump.running(room_air_k, self.cold_k, false)
    }

    fn half_cooling_w(&self) -> f64 {
        LEAST_COOLING_FRAC * self.with_inlet(self.cold_k).heat_from_room_w
    }

    fn by_inlet(&self) -> Vec<OperatingPoint> {
        let half_w = self.half_cooling_w();
        let point = |inlet_k: f64| {
            let running = self.with_inlet(inlet_k);
            let seen = [
                (running.cop() < LEAST_COP, Mark::CopUnder2),
                (running.heat_from_room_w < half_w, Mark::CoolingUnderHalf),
                (inlet_k >= self.lock_out_k, Mark::LockOut),
                (running.outside_map(), Mark::OutsideMap),
            ];
            OperatingPoint::of(&running, marks(seen))
        };
        stations_k(self.coldest_k, INLET_STEP_DK, self.lock_out_k).into_iter().map(point).collect()
    }

    fn by_room(&self) -> Vec<OperatingPoint> {
        let highest_k = self.pump.air_stop_high_k.min(WARMEST_ROOM_DEGC + ZERO_CELSIUS_K);
        let lowest_k = self.pump.air_stop_low_k.min(self.set_k);
        let first_k = ZERO_CELSIUS_K + ROOM_STEP_DK * libm::ceil((lowest_k - ZERO_CELSIUS_K) / ROOM_STEP_DK);
        let mut rooms_k = stations_k(first_k, ROOM_STEP_DK, highest_k.max(self.set_k));
        rooms_k.extend([lowest_k, self.set_k]);
        rooms_k.sort_by(f64::total_cmp);
        rooms_k.dedup_by(|next, one| *next - *one < SAME_TEMPERATURE_DK);
        let point = |room_air_k: f64| {
            let running = self.with_room(room_air_k);
            let seen = [
                ((room_air_k - self.set_k).abs() < SAME_TEMPERATURE_DK, Mark::SetPoint),
                (self.coil_below_freezing(room_air_k), Mark::CoilBelowFreezing),
                (running.outside_map(), Mark::OutsideMap),
            ];
            OperatingPoint::of(&running, marks(seen))
        };
        rooms_k.into_iter().map(point).collect()
    }

    fn coil_below_freezing(&self, room_air_k: f64) -> bool {
        room_air_k - self.pump.coil_below_air_dk(1.0) < ZERO_CELSIUS_K
    }

    fn limits(&self) -> CurveLimits {
        let begins = self.pump.defrost.map(|defrost| defrost.begins);
        let range = (self.coldest_k, self.lock_out_k);
        let degc = |k: f64| k - ZERO_CELSIUS_K;
        let cop = |inlet_k: f64| self.with_inlet(inlet_k).cop();
        let cooling_w = |inlet_k: f64| self.with_inlet(inlet_k).heat_from_room_w;
        let frosted = |inlet_k: f64| self.pump.running(self.set_k, inlet_k, true);
        let (cold, warm) = (self.with_inlet(self.cold_k), self.with_inlet(self.warm_k));
        let (colder, iced) = (self.with_room(self.set_k - 1.0), frosted(self.cold_k));
        CurveLimits {
            room_air_degc: degc(self.set_k),
            cold_inlet_degc: degc(self.cold_k),
            warm_inlet_degc: degc(self.warm_k),
            hot_per_cold_at_cold_inlet: cold.hot_per_cold(),
            hot_per_cold_at_warm_inlet: warm.hot_per_cold(),
            least_cop: LEAST_COP,
            least_cop_inlet_degc: inlet_below(cop, LEAST_COP, range).map(degc),
            half_cooling_inlet_degc: inlet_below(cooling_w, self.half_cooling_w(), range).map(degc),
            half_cooling_w: self.half_cooling_w(),
            lock_out_inlet_degc: degc(self.lock_out_k),
            colder_room_cop_frac: change(cold.cop(), colder.cop()),
            colder_room_heat_to_water_frac: change(cold.heat_to_water_w, colder.heat_to_water_w),
            colder_room_heat_from_room_frac: cooling_change(&cold, &colder),
            coil_below_freezing: self.coil_below_freezing(self.set_k),
            frost_cop_frac: change(cold.cop(), iced.cop()),
            frost_heat_to_water_frac: change(cold.heat_to_water_w, iced.heat_to_water_w),
            frost_heat_from_room_frac: cooling_change(&cold, &iced),
            frost_heat_from_room_warm_frac: cooling_change(&warm, &frosted(self.warm_k)),
            defrost_every_h: begins.and_then(|begins| match begins {
                DefrostBegins::Running(every_s) => Some(every_s / HOUR_S),
                _ => None,
            }),
            defrost_clock_h: begins.and_then(|begins| match begins {
                DefrostBegins::Clock(every_s) => Some(every_s / HOUR_S),
                _ => None,
            }),
            defrost_frost_kg: begins.and_then(|begins| match begins {
                DefrostBegins::Frost(kg) => Some(kg),
                _ => None,
            }),
            defrost_takes_min: self.pump.defrost.map(|defrost| defrost.takes_s / MINUTE_S),
        }
    }
}

/// Two temperatures closer than this are one, K.
const SAME_TEMPERATURE_DK: f64 = 1e-6;

/// Every step from the first temperature that lies below the last one, and the last one itself, K.
fn stations_k(first_k: f64, step_dk: f64, last_k: f64) -> Vec<f64> {
    let mut stations: Vec<f64> = (0..)
        .map(|step| first_k + f64::from(step) * step_dk)
        .take_while(|&station| station < last_k - SAME_TEMPERATURE_DK)
        .collect();
    stations.push(last_k);
    stations
}

/// Change of a quantity above 0 as a share of what it was before.
fn change(before: f64, after: f64) -> f64 {
    (after - before) / before
}

/// Change of the cooling, where there is some.
fn cooling_change(before: &Running, after: &Running) -> Option<f64> {
    (before.heat_from_room_w > 0.0).then(|| change(before.heat_from_room_w, after.heat_from_room_w))
}

/// The marks that hold.
fn marks<const N: usize>(seen: [(bool, Mark); N]) -> Vec<Mark> {
    seen.into_iter().filter_map(|(holds, mark)| holds.then_some(mark)).collect()
}

//! The room air conditioner: a refrigerating cycle whose heat goes to the outdoor air.
//!
//! The cycle maps give heat and compressor work against evaporating and condensing temperature; here these follow from two surfaces:
//! the evaporator's, on which a fixed stream of air is cooled and dried (apparatus dew point), and the condenser's, whose distance to the
//! outdoor air grows with the heat that it gives off.

use crate::air;
use crate::constants::{
    DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K, LATENT_HEAT_J_PER_KG, SHELL_LOSS_FRAC, ZERO_CELSIUS_K,
};
use crate::plant::{AirCooled, HeatPump};
use crate::root::{self, Near};

use super::{Cycle, CycleMap, compressor_power_w};

/// The cycle that air conditioners are taken to have: R32 with 5 K subcooling.
pub const CYCLE: Cycle = Cycle::R32;

/// The rated point: indoor air 80 °F dry bulb and 67 °F wet bulb, outdoor air 95 °F. From memory, to be verified: ANSI/ASHRAE 16 and
/// AHAM RAC-1.
pub const RATED_INDOOR_K: f64 = ZERO_CELSIUS_K + 26.7;
/// Wet bulb of the indoor air there.
pub const RATED_WET_BULB_K: f64 = ZERO_CELSIUS_K + 19.4;
/// Outdoor air there.
pub const RATED_OUTDOOR_K: f64 = ZERO_CELSIUS_K + 35.0;

/// Pressure at which units are rated, Pa.
const RATED_PRESSURE_PA: f64 = 101_325.0;

/// Evaporator surface at the rated point. Common practice, no source: 8 to 12 °C, so that it dries the air and does not freeze.
const RATED_COIL_K: f64 = ZERO_CELSIUS_K + 10.0;

/// How much the outdoor air warms up in the condenser at the rated heat, K. Common practice, no source: 8 to 12 K.
const CONDENSER_RISE_DK: f64 = 10.0;

/// How much farther the condensing refrigerant is from the air than the maps' plate exchanger from its water, at the rated heat, K.
/// Common practice, no source: with it R32 condenses near 50 °C at the rated point, 15 K over the outdoor air.
const CONDENSER_FARTHER_DK: f64 = 4.0;

/// Coil and cycle agree when their heats differ by less than this share of the rated heat.
const BALANCE_FRAC: f64 = 1e-8;

/// The surface is found when it is this well known, K.
const SURFACE_TOLERANCE_DK: f64 = 1e-6;

/// Farthest that the evaporator's surface can be below the air, K.
const FARTHEST_BELOW_DK: f64 = 60.0;

/// Why no unit has such a rating.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum NoSuchUnit {
    /// Its fans leave nothing for the compressor.
    #[error("the fans alone take {fan_w:.0} W of the rated {rated_w:.0} W")]
    OnlyFans {
        /// Fans, W.
        fan_w: f64,
        /// Rated power, W.
        rated_w: f64,
    },
    /// Its compressor would need less than the calculated cycle without any loss in motor and compression.
    #[error("its COP of {cop:.2} is higher than that of the cycle without a loss in motor and compression")]
    TooGood {
        /// Rated COP.
        cop: f64,
    },
}

/// Share of the ideal compressor's work that the maps' compressor has at the rated point, about: isentropic 0.84, motor 0.80.
const MAP_EFFICIENCY: f64 = 0.67;

/// What the unit does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirCooledPoint {
    /// Heat taken from the air at the evaporator, sensible and latent, W.
    pub cooling_w: f64,
    /// Compressor and fans, W.
    pub power_w: f64,
    /// Evaporator surface, K.
    pub coil_k: f64,
}

/// Air on both sides of the unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirOnBothSides {
    /// Room air, K.
    pub room_k: f64,
    /// Its humidity ratio.
    pub humidity: f64,
    /// Outdoor air, K.
    pub outdoor_k: f64,
    /// Air pressure, Pa.
    pub pressure_pa: f64,
}

/// A unit by its rating: what it takes out of the air (net of its indoor fan), W, its power, W, and its fans' share of that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rating {
    /// Total cooling at the rated point, W.
    pub cooling_w: f64,
    /// Power there, W.
    pub power_w: f64,
    /// Fan power, W; half of it stays in the room.
    pub fan_w: f64,
}

/// What a rating makes of the cycle map: heat at the map's unit capacity, W, factor on the compressor's COP, and the air side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatedUnit {
    /// Heat at the map's capacity of 1, W, with the map's own compressor.
    pub capacity_w: f64,
    /// Factor by which the compressor needs less than the map's.
    pub cop_factor: f64,
    /// Air side.
    pub air_side: AirCooled,
}

/// The cycle at a pair of surfaces, for a unit of the map's capacity 1: heat taken up and compressor power.
struct Cycled {
    taken_up: f64,
    compressor: f64,
}

fn cycled(map: &CycleMap, coil_k: f64, outdoor_k: f64, heat_share: f64) -> Cycled {
    let air_k = coil_k + map.cycle().coil_below_air_dk();
    let point = map.at(air_k, outdoor_k + CONDENSER_FARTHER_DK * heat_share, CONDENSER_RISE_DK * heat_share);
    let compressor = compressor_power_w(point.capacity, point.capacity / point.cop);
    Cycled { taken_up: point.capacity - (1.0 - SHELL_LOSS_FRAC) * compressor, compressor }
}

/// Heat that a kilogram of air gives to a surface, J/kg.
fn given_j_per_kg(air: &AirOnBothSides, coil_k: f64) -> f64 {
    let saturated =
        air::humidity_ratio_from_vapour_pressure(air::saturation_pressure_fast_pa(coil_k), air.pressure_pa);
    DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K * (air.room_k - coil_k)
        + LATENT_HEAT_J_PER_KG * (air.humidity - saturated).max(0.0)
}

impl RatedUnit {
    /// The unit that meets a rating with a cycle.
    ///
    /// # Errors
    /// [`NoSuchUnit`].
    pub fn new(map: &CycleMap, rating: &Rating) -> Result<Self, NoSuchUnit> {
        let Rating { cooling_w, power_w, fan_w } = *rating;
        let compressor_w = power_w - fan_w;
        if compressor_w <= 0.0 {
            return Err(NoSuchUnit::OnlyFans { fan_w, rated_w: power_w });
        }
        let fan_inside_w = 0.5 * fan_w;
        let taken_up_w = cooling_w + fan_inside_w;
        let cycle = cycled(map, RATED_COIL_K, RATED_OUTDOOR_K, 1.0);
        let capacity_w = taken_up_w / cycle.taken_up;
        let cop_factor = capacity_w * cycle.compressor / compressor_w;
        if cop_factor >= 1.0 / MAP_EFFICIENCY {
            return Err(NoSuchUnit::TooGood { cop: cooling_w / power_w });
        }
        let humidity = air::humidity_ratio_from_wet_bulb(RATED_INDOOR_K, RATED_WET_BULB_K, RATED_PRESSURE_PA);
        let indoor = AirOnBothSides {
            room_k: RATED_INDOOR_K,
            humidity,
            outdoor_k: RATED_OUTDOOR_K,
            pressure_pa: RATED_PRESSURE_PA,
        };
        let air_side = AirCooled {
            contact_kg_s: taken_up_w / given_j_per_kg(&indoor, RATED_COIL_K),
            rated_heat_w: taken_up_w + compressor_w,
            fan_w,
            fan_inside_w,
        };
        Ok(Self { capacity_w, cop_factor, air_side })
    }
}

impl AirCooled {
    /// The unit started up, between two airs; `frost_factor` is what frost leaves of the heat taken up.
    ///
    /// Its evaporator's surface is where the heat that the contact air gives is what the cycle takes up: the one falls and the other
    /// rises with it, so there is one such surface.
    pub fn operate(&self, pump: &HeatPump, air: &AirOnBothSides, frost_factor: f64) -> AirCooledPoint {
        let mut heat_share = 1.0;
        let mut at = |coil_k: f64| {
            let mut cycle = cycled(&pump.map, coil_k, air.outdoor_k, heat_share);
            for _ in 0..2 {
                let heat_w =
                    pump.capacity_w * (frost_factor * cycle.taken_up + cycle.compressor / pump.cop_factor);
                heat_share = heat_w / self.rated_heat_w;
                cycle = cycled(&pump.map, coil_k, air.outdoor_k, heat_share);
            }
            let cooling_w = frost_factor * pump.capacity_w * cycle.taken_up;
            let compressor_w = pump.capacity_w * cycle.compressor / pump.cop_factor;
            (self.contact_kg_s * given_j_per_kg(air, coil_k) - cooling_w, cooling_w, compressor_w)
        };
        let near = Near { value: BALANCE_FRAC * self.rated_heat_w, width: SURFACE_TOLERANCE_DK };
        let coil_k = root::falling(air.room_k - FARTHEST_BELOW_DK, air.room_k, near, |coil_k| at(coil_k).0);
        let (_, cooling_w, compressor_w) = at(coil_k);
        AirCooledPoint { cooling_w, power_w: compressor_w + self.fan_w, coil_k }
    }
}

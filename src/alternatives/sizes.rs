//! How large the other machines would be: what the household says, and for the rest what its year asks for.

use super::NotBuilt;
use crate::air;
use crate::constants::{
    DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K, LATENT_HEAT_J_PER_KG, VAPOUR_SPECIFIC_HEAT_J_PER_KG_K, ZERO_CELSIUS_K,
};
use crate::heat_pump::{AIR_CONDITIONER_CYCLE, AirOnBothSides, CycleMap, RatedUnit, Rating};
use crate::household::Household;
use crate::plant::{Caller, Circuit, Cooler, Defrost, DefrostBegins, HeatPump, HotPipe, OutdoorFans, Plant};
use crate::year::Year;

/// How much colder than the room the outdoor air is that fans are sized for, K. Common practice, no source.
const SIZED_AT_DK: f64 = 4.0;
/// Pressure that fans work against, Pa, and their efficiency. Common practice, no source.
const FAN_PRESSURE_PA: f64 = 100.0;
const FAN_EFFICIENCY: f64 = 0.35;
/// How much colder the outdoor air has to be, K. Common practice, no source: less costs more electricity than it cools.
const MARGIN_DK: f64 = 2.0;
/// Where the machine beside the fans helps, K over the thermostat's switching-on point. Common practice, no source.
const HELPED_FROM_DK: f64 = 1.0;

/// Common sizes of room air conditioners, W: 5000, 6000, 8000, 10 000, 12 000, 15 000, 18 000 and 24 000 BTU/h. Common practice, no source.
const COMMON_SIZES_W: [f64; 8] = [1465.0, 1758.0, 2345.0, 2931.0, 3517.0, 4396.0, 5275.0, LARGEST_COMMON_W];
const LARGEST_COMMON_W: f64 = 7034.0;
/// How much more than the heaviest day's load a unit should carry away. Common practice, no source.
const OVERSIZE: f64 = 1.25;
/// Rated COP: 10.9 BTU/(W h). Second hand: 10 CFR 430.32(b)(1), units of 8000 to 13 999 BTU/h made from June 2014 to May 2026, as quoted
/// in a public data script.
const RATED_COP: f64 = 3.19;
/// Share of the fans in its power. Common practice, no source: 10 to 15 %.
const FAN_FRAC: f64 = 0.12;
/// Frost that a coil bears until its probe stops it, kg for each watt of rated cooling. Common practice, no source: some 2 m2 of fins a kilowatt, 0.3 mm
/// of frost on both sides.
const FROST_KG_PER_W: f64 = 1e-4;
/// What frost leaves of the heat taken up, on average over its growth. Common practice, no source.
const FROSTED_FACTOR: f64 = 0.9;
/// Coldest room air in which it runs, K: below, the air could not thaw the coil.
const LOWEST_AIR_K: f64 = ZERO_CELSIUS_K + 0.5;
/// Warmest, K: that of the outdoor air that such units are built for. Common practice, no source.
const HIGHEST_AIR_K: f64 = ZERO_CELSIUS_K + 50.0;
/// Its controller, W. Common practice, no source.
const STANDBY_W: f64 = 5.0;
/// Air over its evaporator, m3/s for each watt: 400 cubic feet a minute for 12 000 BTU/h. Common practice, no source.
const AIRFLOW_M3_S_PER_W: f64 = 5.37e-5;
/// Time until it cools in full. Common practice, no source.
const START_LAG_S: f64 = 30.0;
/// Time in air above freezing after which a resting coil is free of frost, s. Common practice, no source.
const THAWS_S: f64 = 1800.0;
/// Heat of melting and of warming the water to a few degrees, J/kg. IAPWS: 333.4 kJ/kg at 0 °C. Derived here: and 10 kJ/kg for 2.5 K.
const THAW_J_PER_KG: f64 = 344e3;
/// Latent share of what a coil a few kelvin below freezing takes from air of 4 °C and 90 %. Derived here: 0.35 at a surface of -1 °C.
const LATENT_SHARE: f64 = 0.35;
/// Differential of its limits on room air, K. Common practice, no source.
const AIR_LIMIT_DIFFERENTIAL_DK: f64 = 1.0;

/// Where a size comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum SizedBy {
    /// The scenario says it.
    Scenario,
    /// The year of the installation as it is.
    Year,
    /// The year asks for more than the largest common size.
    LargestCommon,
}

/// The fans, and where their flow comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SizedFans {
    /// The fans.
    pub fans: OutdoorFans,
    /// Where the flow comes from.
    pub flow_from: SizedBy,
}

/// The air conditioner, and where its size comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct SizedConditioner {
    /// Its rating.
    pub rating: Rating,
    /// Where the rated cooling comes from.
    pub cooling_from: SizedBy,
    /// Frost that its coil bears, kg.
    pub frost_kg: f64,
    /// How long it takes to thaw, s.
    pub thaw_s: f64,
    /// What it takes out of the room's air at the set point with the year's warmest outdoor air, clean, thawing left out, W.
    pub hottest_w: f64,
    /// Evaporator surface then, K.
    pub hottest_coil_k: f64,
    rated: RatedUnit,
}

/// Mean load of the heaviest day of the year, W.
pub fn heaviest_day_w(year: &Year) -> f64 {
    year.heaviest_days.iter().flatten().map(|day| day.load_j / 86_400.0).fold(0.0, f64::max)
}

fn set_k(plant: &Plant) -> f64 {
    0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k)
}

/// Outdoor air that carries a load away, m3/s at its own density: `V = Q/(rho c (T_room - T_out))`, with air of 80 % relative humidity;
/// temperatures in K, pressure in Pa. Source: energy balance. Derived here: sensible heat alone, so that it errs on the side of more air.
pub fn outdoor_air_m3_s(load_w: f64, room_k: f64, outdoor_k: f64, pressure_pa: f64) -> f64 {
    let humidity = air::humidity_ratio_from_relative_humidity(outdoor_k, 0.8, pressure_pa);
    let density = air::dry_air_density_kg_m3(outdoor_k, humidity, pressure_pa);
    let heat = DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K + VAPOUR_SPECIFIC_HEAT_J_PER_KG_K * humidity;
    load_w / (density * heat * (room_k - outdoor_k))
}

/// Power of fans that move so much air, m3/s, W: 100 Pa at an efficiency of 0.35. Common practice, no source.
pub fn fan_power_w(flow_m3_s: f64) -> f64 {
    flow_m3_s * FAN_PRESSURE_PA / FAN_EFFICIENCY
}

/// Fans for a household with its year.
pub fn fans(household: &Household, plant: &Plant, year: &Year) -> SizedFans {
    let told = &household.alternatives.fans;
    let room_k = set_k(plant);
    let asked_m3_s = outdoor_air_m3_s(heaviest_day_w(year), room_k, room_k - SIZED_AT_DK, plant.pressure_pa);
    let flow_m3_s = told.flow.map_or(asked_m3_s, |flow| flow.value);
    let fans = OutdoorFans {
        flow_m3_s,
        power_w: told.power.map_or(fan_power_w(flow_m3_s), |power| power.value),
        margin_dk: told.margin.map_or(MARGIN_DK, |margin| margin.value),
        coldest_k: told.coldest.map_or(plant.room.freezing_k, |coldest| coldest.value),
        mixes: told.mixes.unwrap_or(true),
        helped_from_dk: told.helped_from.map_or(HELPED_FROM_DK, |from| from.value),
    };
    SizedFans { fans, flow_from: if told.flow.is_some() { SizedBy::Scenario } else { SizedBy::Year } }
}

/// An air conditioner for a household with its year.
///
/// # Errors
/// [`NotBuilt`], in words.
pub fn conditioner(household: &Household, plant: &Plant, year: &Year) -> Result<SizedConditioner, NotBuilt> {
    let told = &household.alternatives.conditioner;
    if plant.thermostat.off_at_k <= LOWEST_AIR_K {
        return Err(NotBuilt(
            "An air conditioner is not compared: its coil is thawed by the room's air, and the thermostat lets that get down to the freezing \
             point of water."
                .to_owned(),
        ));
    }
    let map = CycleMap::of(AIR_CONDITIONER_CYCLE);
    let of_size = |cooling_w: f64| {
        let power_w = told.power.map_or(cooling_w / RATED_COP, |power| power.value);
        let fan_w = told.fans.map_or(FAN_FRAC * power_w, |fans| fans.value);
        let rating = Rating { cooling_w, power_w, fan_w };
        let rated = RatedUnit::new(&map, &rating).map_err(|error| {
            NotBuilt(format!(
                "An air conditioner as described in `alternatives.air_conditioner` is not compared: {error}."
            ))
        })?;
        let frost_kg = told.frost.map_or(FROST_KG_PER_W * cooling_w, |frost| frost.value);
        let warmth_k = set_k(plant) - ZERO_CELSIUS_K;
        let thawing_w = rated.air_side.contact_kg_s * DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K * warmth_k
            + rated.air_side.fan_inside_w;
        let pump = machine(&map, &rated, cooling_w, frost_kg, 0.0);
        let hottest_k = plant.boundaries[0].temperature_k.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let humidity = air::humidity_ratio_from_relative_humidity(set_k(plant), 0.9, plant.pressure_pa);
        let both = AirOnBothSides {
            room_k: set_k(plant),
            humidity,
            outdoor_k: hottest_k,
            pressure_pa: plant.pressure_pa,
        };
        let hottest = rated.air_side.operate(&pump, &both, 1.0);
        Ok(SizedConditioner {
            rating,
            cooling_from: if told.cooling.is_some() { SizedBy::Scenario } else { SizedBy::Year },
            frost_kg,
            thaw_s: frost_kg * THAW_J_PER_KG / thawing_w,
            hottest_w: hottest.cooling_w - rated.air_side.fan_inside_w,
            hottest_coil_k: hottest.coil_k,
            rated,
        })
    };
    if let Some(cooling) = told.cooling {
        return of_size(cooling.value);
    }
    let asked_w = OVERSIZE * heaviest_day_w(year);
    for size_w in COMMON_SIZES_W {
        let unit = of_size(size_w)?;
        if unit.hottest_w * unit.cooling_share() >= asked_w {
            return Ok(unit);
        }
    }
    Ok(SizedConditioner { cooling_from: SizedBy::LargestCommon, ..of_size(LARGEST_COMMON_W)? })
}

fn machine(map: &CycleMap, rated: &RatedUnit, cooling_w: f64, frost_kg: f64, thaw_s: f64) -> HeatPump {
    HeatPump {
        map: map.clone(),
        capacity_w: rated.capacity_w,
        cop_factor: rated.cop_factor,
        caller: Caller::Room,
        slow_running: None,
        frosted_factor: FROSTED_FACTOR,
        defrost: Some(Defrost {
            begins: DefrostBegins::Frost(frost_kg),
            takes_s: thaw_s,
            power_w: rated.air_side.fan_w,
            thaws_s: THAWS_S,
        }),
        coil_probe: None,
        frost_guard: None,
        circuit: Circuit::OutdoorAir(rated.air_side),
        loop_gap: 0.0,
        circulator_w: 0.0,
        standby_w: STANDBY_W,
        resting_fan_w: 0.0,
        start_lag_s: START_LAG_S,
        shell_outside_frac: 0.0,
        airflow_m3_s: AIRFLOW_M3_S_PER_W * cooling_w,
        // No water stops it.
        inlet_stop_k: 1000.0,
        inlet_restart_k: 999.0,
        air_stop_low_k: LOWEST_AIR_K,
        air_stop_high_k: HIGHEST_AIR_K,
        air_restart_dk: AIR_LIMIT_DIFFERENTIAL_DK,
        hot_pipe: HotPipe { loss_w_per_k: 0.0, capacity_j_per_k: 0.0 },
    }
}

impl SizedConditioner {
    /// Share of its clean cooling that is left while it runs without a rest: it frosts and thaws where its surface is below freezing.
    fn cooling_share(&self) -> f64 {
        if self.hottest_coil_k >= ZERO_CELSIUS_K {
            return 1.0;
        }
        let frosting_kg_s = LATENT_SHARE * self.hottest_w / LATENT_HEAT_J_PER_KG;
        let runs_s = self.frost_kg / frosting_kg_s;
        FROSTED_FACTOR * runs_s / (runs_s + self.thaw_s)
    }

    /// The machine.
    pub fn machine(&self) -> HeatPump {
        machine(
            &CycleMap::of(AIR_CONDITIONER_CYCLE),
            &self.rated,
            self.rating.cooling_w,
            self.frost_kg,
            self.thaw_s,
        )
    }
}

/// The plant with no machine at all, and so without a tank that would be heated by it: its water is that of the mains, unless an
/// element of its own heats it.
pub fn without_machine(plant: &Plant) -> Plant {
    let mut bare = plant.clone();
    let Cooler::HeatPump(pump) = &mut bare.cooler;
    pump.caller = Caller::Nobody;
    pump.defrost = None;
    pump.coil_probe = None;
    pump.frost_guard = None;
    (pump.standby_w, pump.resting_fan_w) = (0.0, 0.0);
    pump.hot_pipe = HotPipe { loss_w_per_k: 0.0, capacity_j_per_k: 0.0 };
    bare.dump = None;
    if bare.element.is_none() {
        bare.tank.first.loss_w_per_k = 0.0;
        if let Some(second) = &mut bare.tank.second {
            second.loss_w_per_k = 0.0;
        }
        bare.tank.start_k = bare.mains_k[0];
    }
    bare
}

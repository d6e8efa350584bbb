//! The JSON document about ways of cooling.

use serde::Serialize;

use super::{HOLE_M_S, HOUR_S, J_PER_KWH};
use crate::alternatives::{
    NotBuilt, Payback, SizedBy, SizedConditioner, SizedFans, Way, WayYear, Ways, payback,
};
use crate::constants::ZERO_CELSIUS_K;
use crate::finding::Answer;
use crate::household::Household;
use crate::report::costs::Costs;
use crate::report::json::{SCHEMA, pretty};
use crate::report::quantity::CONDENSATE_L_PER_KG;

/// What a year of a way comes to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WayFigures {
    /// The way.
    pub way: Way,
    /// Whether the food keeps.
    pub holds: Answer,
    /// Contents above the warm limit, h.
    pub over_band_h: f64,
    /// Warmest contents, °C.
    pub contents_warmest_degc: f64,
    /// Contents below the highest freezing point stored, h.
    pub frozen_contents_h: f64,
    /// Coldest contents, °C.
    pub contents_coldest_degc: f64,
    /// Mean relative humidity, %.
    pub humidity_mean_pct: f64,
    /// Heat that has to be taken out of the room in the year, kWh.
    pub gains_kwh: f64,
    /// Heat that outdoor air carried away, kWh.
    pub carried_out_by_fans_kwh: f64,
    /// Electricity of machine and fans, kWh.
    pub electricity_kwh: f64,
    /// The fans' part of it, kWh.
    pub fans_kwh: f64,
    /// Time in which they blow, h.
    pub fans_h: f64,
    /// Time in which the machine runs, h.
    pub machine_h: f64,
    /// Starts of the machine.
    pub machine_starts: f64,
    /// Times that frost on the air conditioner's coil was thawed.
    pub thaws: f64,
    /// Water that ran off the coil, L.
    pub condensate_l: f64,
    /// Heat that the machine gave the hot water, kWh.
    pub heat_to_water_kwh: f64,
    /// Energy that the booster bought, kWh.
    pub booster_bought_kwh: f64,
    /// Energy of the electric element in the tank, kWh.
    pub element_kwh: f64,
    /// Time with water colder than wanted, h.
    pub shortfall_h: f64,
    /// Heat missing at the taps, kWh.
    pub shortfall_kwh: f64,
    /// Water dumped, L.
    pub dump_l: f64,
    /// Heat taken out of heated rooms, kWh.
    pub house_heat_kwh: f64,
    /// Money of the year; `null` without prices.
    pub costs: Option<Costs>,
    /// What building it costs; `null` where that is not said.
    pub investment: Option<f64>,
    /// Building and the stated years; `null` where a part is not known.
    pub cost_over_years: Option<f64>,
    /// Years after which the heat pump has paid back what it costs more to build than this way: 0 at once; `null` where never or not known.
    pub heat_pump_pays_back_years: Option<f64>,
}

impl WayFigures {
    fn of(one: &WayYear, ways: &Ways) -> Self {
        let total = &one.year.total;
        let degc = |k: f64| k - ZERO_CELSIUS_K;
        let pump = ways.of(Way::HeatPump).filter(|_| one.way != Way::HeatPump);
        Self {
            way: one.way,
            holds: one.holds(),
            over_band_h: total.over_band_s / HOUR_S,
            contents_warmest_degc: degc(total.food_k.max),
            frozen_contents_h: total.frozen_contents_s / HOUR_S,
            contents_coldest_degc: degc(total.food_k.min),
            humidity_mean_pct: 100.0 * total.mean(total.humidity_frac_s),
            gains_kwh: total.gain_total_j() / J_PER_KWH,
            carried_out_by_fans_kwh: total.aired_j / J_PER_KWH,
            electricity_kwh: one.electricity_kwh(),
            fans_kwh: one.fan_kwh(),
            fans_h: one.fan_h(),
            machine_h: total.run_s / HOUR_S,
            machine_starts: total.starts,
            thaws: if one.way.conditioner() { total.defrosts } else { 0.0 },
            condensate_l: total.condensate_kg * CONDENSATE_L_PER_KG,
            heat_to_water_kwh: total.heat_to_water_j / J_PER_KWH,
            booster_bought_kwh: total.booster_bought_j / J_PER_KWH,
            element_kwh: total.element_j / J_PER_KWH,
            shortfall_h: total.shortfall_s / HOUR_S,
            shortfall_kwh: total.shortfall_j / J_PER_KWH,
            dump_l: 1000.0 * total.dump_m3,
            house_heat_kwh: one.house_heat_j / J_PER_KWH,
            costs: one.bill.as_ref().map(Costs::of),
            investment: one.investment,
            cost_over_years: one.cost_over(ways.over_years),
            heat_pump_pays_back_years: pump.and_then(|pump| payback(pump, one)).and_then(|payback| {
                match payback {
                    Payback::AtOnce => Some(0.0),
                    Payback::Years(years) => Some(years),
                    Payback::Never | Payback::UsedUp(_) => None,
                }
            }),
        }
    }
}

/// The fans as they were taken.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct FansTaken {
    flow_m3_h: f64,
    flow_from: SizedBy,
    power_w: f64,
    margin_k: f64,
    coldest_degc: f64,
    mixes: bool,
    helped_from_k: f64,
    hole_m2: f64,
}

/// The air conditioner as it was taken.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct ConditionerTaken {
    cooling_w: f64,
    cooling_from: SizedBy,
    power_w: f64,
    fans_w: f64,
    frost_kg: f64,
    thaw_min: f64,
    cooling_at_set_point_w: f64,
    coil_at_set_point_degc: f64,
}

/// The document about ways of cooling.
#[derive(Debug, Serialize)]
pub struct WaysDocument<'a> {
    schema: u32,
    version: &'static str,
    scenario: &'a str,
    household: &'a str,
    currency: Option<&'a str>,
    years: f64,
    heaviest_day_w: f64,
    outdoor_fans: FansTaken,
    air_conditioner: Option<ConditionerTaken>,
    air_conditioner_refused: Option<&'a str>,
    ways: Vec<WayFigures>,
}

impl<'a> WaysDocument<'a> {
    /// The document about a household's ways of cooling.
    pub fn of(scenario: &'a str, household: &'a Household, ways: &'a Ways) -> Self {
        let SizedFans { fans, flow_from } = &ways.fans;
        let unit = |unit: &SizedConditioner| ConditionerTaken {
            cooling_w: unit.rating.cooling_w,
            cooling_from: unit.cooling_from,
            power_w: unit.rating.power_w,
            fans_w: unit.rating.fan_w,
            frost_kg: unit.frost_kg,
            thaw_min: unit.thaw_s / 60.0,
            cooling_at_set_point_w: unit.hottest_w,
            coil_at_set_point_degc: unit.hottest_coil_k - ZERO_CELSIUS_K,
        };
        Self {
            schema: SCHEMA,
            version: env!("CARGO_PKG_VERSION"),
            scenario,
            household: &household.name,
            currency: household.prices.as_ref().map(|prices| prices.currency.as_str()),
            years: ways.over_years,
            heaviest_day_w: ways.heaviest_day_w,
            outdoor_fans: FansTaken {
                flow_m3_h: fans.flow_m3_s * HOUR_S,
                flow_from: *flow_from,
                power_w: fans.power_w,
                margin_k: fans.margin_dk,
                coldest_degc: fans.coldest_k - ZERO_CELSIUS_K,
                mixes: fans.mixes,
                helped_from_k: fans.helped_from_dk,
                hole_m2: fans.flow_m3_s / HOLE_M_S,
            },
            air_conditioner: ways.conditioner.as_ref().ok().map(unit),
            air_conditioner_refused: ways.conditioner.as_ref().err().map(|NotBuilt(why)| why.as_str()),
            ways: ways.years.iter().map(|one| WayFigures::of(one, ways)).collect(),
        }
    }

    /// The document as text, ended by a line break.
    ///
    /// # Errors
    /// When a number is not finite, which is a fault of the program.
    pub fn text(&self) -> Result<String, serde_json::Error> {
        pretty(self)
    }
}

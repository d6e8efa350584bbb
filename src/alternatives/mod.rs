//! The same room and weather under other ways of cooling: nothing, fans that blow in outdoor air, a room air conditioner, the heat
//! pump, and fans together with either machine. Each is a whole year of the same model.

mod sizes;

use rayon::prelude::*;
use serde::Serialize;

use crate::cost::{Bill, Bills};
use crate::finding::{Answer, stays_cold, stays_unfrozen};
use crate::house_heat;
use crate::household::Household;
use crate::plant::{Cooler, Load, OutdoorFans, Plant};
use crate::resolution::Resolution;
use crate::simulate::{SimulationError, simulate};
use crate::year::Year;

pub use sizes::{SizedBy, SizedConditioner, SizedFans, fan_power_w, heaviest_day_w, outdoor_air_m3_s};

/// Years over which investments are counted where nothing else is said. Common practice, no source.
pub const YEARS: f64 = 15.0;

const J_PER_KWH: f64 = 3.6e6;
const HOUR_S: f64 = 3600.0;

/// Why a way is not compared, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotBuilt(pub String);

/// A way of cooling the room.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// No machine.
    Nothing,
    /// Fans that blow in outdoor air.
    OutdoorFans,
    /// A room air conditioner.
    AirConditioner,
    /// Both: the fans first.
    FansAndAirConditioner,
    /// The installation of the scenario.
    HeatPump,
    /// It, and fans that come first.
    FansAndHeatPump,
}

impl Way {
    /// Every way, the simplest first.
    pub const ALL: [Way; 6] = [
        Way::Nothing,
        Way::OutdoorFans,
        Way::AirConditioner,
        Way::FansAndAirConditioner,
        Way::HeatPump,
        Way::FansAndHeatPump,
    ];

    /// Whether it has fans.
    pub fn fans(self) -> bool {
        matches!(self, Way::OutdoorFans | Way::FansAndAirConditioner | Way::FansAndHeatPump)
    }

    /// Whether it has the air conditioner.
    pub fn conditioner(self) -> bool {
        matches!(self, Way::AirConditioner | Way::FansAndAirConditioner)
    }

    /// Whether it has the heat pump.
    pub fn heat_pump(self) -> bool {
        matches!(self, Way::HeatPump | Way::FansAndHeatPump)
    }
}

/// What the year of a way comes to.
#[derive(Debug, Clone)]
pub struct WayYear {
    /// The way.
    pub way: Way,
    /// Its year.
    pub year: Year,
    /// Its bills; `None` without prices.
    pub bill: Option<Bill>,
    /// Heat that it takes out of heated rooms, J.
    pub house_heat_j: f64,
    /// What building it costs; `None` where a part of it is not said.
    pub investment: Option<f64>,
}

impl WayYear {
    /// Whether the food keeps: the worse of the two sides.
    pub fn holds(&self) -> Answer {
        let total = &self.year.total;
        match (stays_cold(total), stays_unfrozen(total)) {
            (Answer::Yes, Answer::Yes) => Answer::Yes,
            (Answer::No, _) | (_, Answer::No) => Answer::No,
            _ => Answer::Barely,
        }
    }

    /// Electricity of machine and fans, kWh.
    pub fn electricity_kwh(&self) -> f64 {
        self.year.total.electricity_total_j() / J_PER_KWH
    }

    /// Electricity of the fans alone, kWh.
    pub fn fan_kwh(&self) -> f64 {
        self.year.total.electricity_j[Load::OutdoorFans as usize] / J_PER_KWH
    }

    /// Hours in which fans blow.
    pub fn fan_h(&self) -> f64 {
        self.year.total.fans_s / HOUR_S
    }

    /// Cost of the stated years, building included; `None` where a part is not known.
    pub fn cost_over(&self, years: f64) -> Option<f64> {
        Some(self.investment? + years * self.bill?.total())
    }
}

/// When one of two ways has paid back what it costs more to build.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Payback {
    /// It costs no more to build, nor by the year.
    AtOnce,
    /// It costs more to build and less by the year: after so many years.
    Years(f64),
    /// It costs more to build, and by the year no less.
    Never,
    /// It costs less to build and more by the year, which has used that up after so many years.
    UsedUp(f64),
}

/// When `one` has paid back what it costs more to build than `other`; `None` where prices or an investment are missing.
pub fn payback(one: &WayYear, other: &WayYear) -> Option<Payback> {
    let more = one.investment? - other.investment?;
    let saved = other.bill?.total() - one.bill?.total();
    Some(match (more > 0.0, saved > 0.0) {
        (true, true) => Payback::Years(more / saved),
        (true, false) => Payback::Never,
        (false, _) if saved < 0.0 => Payback::UsedUp(more / saved),
        (false, _) => Payback::AtOnce,
    })
}

/// The ways of a household, each through its year.
#[derive(Debug, Clone)]
pub struct Ways {
    /// The fans.
    pub fans: SizedFans,
    /// The air conditioner, or why there is none.
    pub conditioner: Result<SizedConditioner, NotBuilt>,
    /// The years, in the order of [`Way::ALL`].
    pub years: Vec<WayYear>,
    /// Years over which investments are counted.
    pub over_years: f64,
    /// Mean load of the heaviest day, W.
    pub heaviest_day_w: f64,
    /// Highest freezing point of what is stored, K.
    pub freezing_k: f64,
}

impl Ways {
    /// The year of a way, if it was run.
    pub fn of(&self, way: Way) -> Option<&WayYear> {
        self.years.iter().find(|one| one.way == way)
    }
}

/// The machines that are sized by a household's own year.
fn machines(
    household: &Household,
    plant: &Plant,
    own: &Year,
) -> (SizedFans, Result<SizedConditioner, NotBuilt>) {
    (sizes::fans(household, plant, own), sizes::conditioner(household, plant, own))
}

/// The plant of every way that can be built, the simplest first; `own` is the year of the installation as it is, by which the other machines
/// are sized.
pub fn plants(household: &Household, plant: &Plant, own: &Year) -> Vec<(Way, Plant)> {
    let (fans, conditioner) = machines(household, plant, own);
    built(plant, &fans.fans, conditioner.as_ref().ok())
}

fn built(plant: &Plant, fans: &OutdoorFans, conditioner: Option<&SizedConditioner>) -> Vec<(Way, Plant)> {
    let of = |way: Way| {
        let mut other = if way.heat_pump() { plant.clone() } else { sizes::without_machine(plant) };
        if let Some(unit) = conditioner.filter(|_| way.conditioner()) {
            other.cooler = Cooler::HeatPump(unit.machine());
        }
        other.fans = way.fans().then_some(*fans);
        (way, other)
    };
    let can = |way: &Way| conditioner.is_some() || !way.conditioner();
    Way::ALL.into_iter().filter(can).map(of).collect()
}

/// What building a way costs: the parts that it has.
fn investment(way: Way, household: &Household) -> Option<f64> {
    let told = &household.alternatives;
    let parts = [
        (way.fans(), told.fans.investment),
        (way.conditioner(), told.conditioner.investment),
        (way.heat_pump(), told.heat_pump_investment),
    ];
    parts.into_iter().filter(|(has, _)| *has).try_fold(0.0, |sum, (_, cost)| Some(sum + cost?))
}

/// Runs every way through the year; `step` is told of each that is done.
///
/// # Errors
/// When a year cannot be calculated.
pub fn compare(household: &Household, step: &(dyn Fn() + Sync)) -> Result<Ways, SimulationError> {
    let plant = Plant::new(household);
    let resolution = Resolution::default();
    let told = |way: Way, plant: &Plant, year: Year| WayYear {
        way,
        bill: Bills::of(household, plant, &year).map(|bills| bills.year()),
        house_heat_j: house_heat::months_j(household, plant, &year).map_or(0.0, |months| months.iter().sum()),
        investment: investment(way, household),
        year,
    };
    let own = simulate(&plant, &resolution, &mut ())?;
    step();
    let (fans, conditioner) = machines(household, &plant, &own);
    let heaviest_day_w = heaviest_day_w(&own);
    let mut others = built(&plant, &fans.fans, conditioner.as_ref().ok());
    others.retain(|(way, _)| *way != Way::HeatPump);
    let years: Result<Vec<WayYear>, SimulationError> = others
        .par_iter()
        .map(|(way, other)| {
            let year = simulate(other, &resolution, &mut ())?;
            step();
            Ok(told(*way, other, year))
        })
        .collect();
    let mut years = years?;
    years.push(told(Way::HeatPump, &plant, own));
    years.sort_by_key(|one| one.way);
    let over_years = household.alternatives.years.unwrap_or(YEARS);
    let freezing_k = plant.room.freezing_k;
    Ok(Ways { fans, conditioner, years, over_years, heaviest_day_w, freezing_k })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn shed() -> Household {
        crate::scenario::read(std::path::Path::new("scenarios/cider-shed.yaml"))
            .expect("it is checked elsewhere")
    }

    fn way(way: Way, cost: Option<f64>, investment: Option<f64>) -> WayYear {
        let year = crate::caution::example::year();
        let bill = cost.map(|cooler| Bill { cooler, ..Bill::default() });
        WayYear { way, year, bill, house_heat_j: 0.0, investment }
    }

    /// Hand calculation: 3000 more to build, 200 a year less.
    #[test]
    fn what_costs_more_to_build_is_paid_back_by_the_years() {
        let unit = way(Way::AirConditioner, Some(500.0), Some(1000.0));
        let pump = way(Way::HeatPump, Some(300.0), Some(4000.0));
        assert_eq!(payback(&pump, &unit), Some(Payback::Years(15.0)));
        assert_eq!(payback(&unit, &pump), Some(Payback::UsedUp(15.0)));
        assert_eq!(payback(&way(Way::HeatPump, Some(500.0), Some(4000.0)), &unit), Some(Payback::Never));
        assert_eq!(payback(&way(Way::HeatPump, Some(300.0), Some(900.0)), &unit), Some(Payback::AtOnce));
        assert_eq!(payback(&way(Way::HeatPump, Some(300.0), None), &unit), None);
        assert_eq!(payback(&way(Way::HeatPump, None, Some(4000.0)), &unit), None);
        assert_eq!(pump.cost_over(15.0), Some(8500.0));
        // 100 less to build and 100 dearer every year.
        assert_eq!(payback(&way(Way::HeatPump, Some(600.0), Some(900.0)), &unit), Some(Payback::UsedUp(1.0)));
    }

    #[test]
    fn what_building_a_way_costs_is_the_sum_of_its_parts() {
        let mut household = shed();
        household.alternatives.heat_pump_investment = Some(4000.0);
        household.alternatives.fans.investment = Some(300.0);
        household.alternatives.conditioner.investment = None;
        assert_eq!(investment(Way::Nothing, &household), Some(0.0));
        assert_eq!(investment(Way::OutdoorFans, &household), Some(300.0));
        assert_eq!(investment(Way::FansAndHeatPump, &household), Some(4300.0));
        assert_eq!(investment(Way::FansAndAirConditioner, &household), None);
    }

    /// Where every way is run, the books of each close, and the way of the scenario is the year that `check` runs.
    #[test]
    fn every_way_closes_its_books_and_the_heat_pump_is_the_scenario_as_it_is() {
        let household = shed();
        let ways = compare(&household, &|| ()).expect("they can be run");
        assert_eq!(ways.years.iter().map(|one| one.way).collect::<Vec<_>>(), Way::ALL);
        for one in &ways.years {
            assert!(one.year.ledger.worst() < 1e-9, "{:?}: {:?}", one.way, one.year.ledger);
        }
        let own = simulate(&Plant::new(&household), &Resolution::default(), &mut ()).expect("it can be run");
        let pump = ways.of(Way::HeatPump).expect("it is there");
        assert_eq!(pump.year.total, own.total);
        let nothing = &ways.of(Way::Nothing).expect("it is there").year.total;
        assert_eq!(
            (nothing.electricity_total_j(), nothing.heat_from_room_j, nothing.dump_kg),
            (0.0, 0.0, 0.0)
        );
        // Without a tank that is heated, what the taps get is mains water that the booster heats.
        assert_relative_eq!(nothing.booster_j + nothing.shortfall_j, nothing.demand_j, max_relative = 0.02);
        let fans = &ways.of(Way::OutdoorFans).expect("it is there").year.total;
        assert!(fans.aired_j > 0.0 && fans.contents_k_s < nothing.contents_k_s);
    }

    #[test]
    fn an_air_conditioner_that_the_room_could_not_thaw_is_not_compared() {
        let mut household = shed();
        household.thermostat.set = crate::units::celsius(0.8);
        household.thermostat.band = crate::units::interval(1.0);
        let plant = Plant::new(&household);
        let refused = sizes::conditioner(&household, &plant, &crate::caution::example::year());
        assert!(refused.expect_err("it is too cold").0.contains("freezing point of water"));
    }
}

//! The overflow dump's size: the flow that carries the pump's heat away, and what is worth a year with another one.

use uom::si::f64::{Ratio, TemperatureInterval, ThermodynamicTemperature, Time, VolumeRate};
use uom::si::ratio::ratio;
use uom::si::temperature_interval::kelvin as kelvins;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::time::second;
use uom::si::volume_rate::cubic_meter_per_second;

use crate::change::Change;
use crate::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K;
use crate::household::{DumpLine, Household, WaterTaker};
use crate::plant::{Cooler, Plant};
use crate::water::density_kg_m3;
use crate::year::{Interval, Year};

/// Margin of a dump's flow over the heat to be carried, and of the aquastat below the lock-out. Common practice, no source.
pub const FLOW_MARGIN: f64 = 1.25;
const AQUASTAT_BELOW_LOCK_OUT_DK: f64 = 5.0;
/// Step in which the flow of a new dump is tried, m3/s: half a litre a minute. Common practice, no source: a smaller
/// opening clogs with scale.
const VALVE_STEP_M3_S: f64 = 0.5e-3 / 60.0;
/// Differential of an aquastat, K. Common practice, no source.
const AQUASTAT_DIFFERENTIAL_DK: f64 = 5.0;
/// Where a new aquastat's probe is put between pump outlet and return. Common practice, no source.
const NEW_PROBE_FRAC: f64 = 0.25;
/// Lag and shortest opening of a new aquastat, s. Common practice, no source.
const NEW_AQUASTAT_S: f64 = 60.0;
/// Flows of a table of sizes, in those that carry the pump's whole heat away. Common practice, no source.
const SIZES: [f64; 5] = [0.25, 0.5, 1.0, FLOW_MARGIN, 2.0];
/// By how much the aquastat is turned in the table of what changes the dump, K. Common practice, no source.
const AQUASTAT_BY_DK: f64 = 5.0;
/// By how much the room's band is widened there, K. Common practice, no source.
const BAND_BY_DK: f64 = 2.0;
/// How many more people are thought of there, and how many there are where nobody said. Common practice, no source.
const MORE_PEOPLE: f64 = 2.0;
const PEOPLE: f64 = 4.0;

/// Sizes that are worth a year: the flow of the dump that there is, or of one that is fitted. Empty where no flow carries heat away.
pub fn sizes(household: &Household, plant: &Plant, year: &Year) -> Vec<Change> {
    let required_kg_s = required_kg_s(plant, year);
    let change = |times: &f64| {
        let line = new_line(plant, year, times * required_kg_s)?;
        Some(if household.dump.is_some() { Change::DumpFlow(line.flow) } else { Change::AddDump(line) })
    };
    let mut changes: Vec<Change> = SIZES.iter().filter_map(change).collect();
    // Steps of the valve make equals of small flows.
    changes.dedup_by_key(|change| change.words());
    changes
}

/// What else changes how much is dumped: its port high or low, aquastat, tank, band, use of hot water, and a pause of the cooler in the month that
/// dumps most. Empty without a dump.
pub fn other_changes(household: &Household, year: &Year) -> Vec<Change> {
    let Some(line) = &household.dump else { return Vec::new() };
    let turned = |dk: f64| {
        let by = TemperatureInterval::new::<kelvins>(dk);
        Change::Aquastat { opens_at: line.opens_at + by, closes_at: line.closes_at + by }
    };
    let people = household.hot_water.people.map_or(PEOPLE, f64::from);
    // Hot water leaves high, warm water low; just above the probe, so that it does not let out what keeps the valve open.
    let other_port = if line.port.value > 0.5 { line.probe.value } else { 1.0 };
    let mut off_in = household.thermostat.off_in;
    off_in[worst_month(year, |month| month.dump_m3)] = true;
    vec![
        Change::DumpPort(Ratio::new::<ratio>(other_port)),
        turned(-AQUASTAT_BY_DK),
        turned(AQUASTAT_BY_DK),
        Change::tank_volume_times(&household.tank, 2.0),
        Change::ThermostatBand(household.thermostat.band + TemperatureInterval::new::<kelvins>(BAND_BY_DK)),
        Change::HotWaterTimes((people + MORE_PEOPLE) / people),
        Change::CoolerOffIn(off_in),
    ]
}

/// The month with the largest of a quantity, the earlier one of equals.
fn worst_month(year: &Year, of: impl Fn(&Interval) -> f64) -> usize {
    let more = |worst: usize, month: usize| {
        if of(&year.months[month]) > of(&year.months[worst]) { month } else { worst }
    };
    (1..year.months.len()).fold(0, more)
}

/// A dump for a household without one, of a flow (kg/s); `None` where its aquastat would open on mains water.
pub fn new_line(plant: &Plant, year: &Year, flow_kg_s: f64) -> Option<DumpLine> {
    let Cooler::HeatPump(pump) = &plant.cooler;
    let opens_k = pump.tank_stop_k() - AQUASTAT_BELOW_LOCK_OUT_DK;
    let closes_k = opens_k - AQUASTAT_DIFFERENTIAL_DK;
    let tank = &plant.tank;
    let probe = tank.pump_out + NEW_PROBE_FRAC * (tank.pump_return - tank.pump_out);
    (closes_k > warmest_mains_k(plant) && flow_kg_s.is_finite()).then(|| DumpLine {
        opens_at: ThermodynamicTemperature::new::<kelvin>(opens_k),
        closes_at: ThermodynamicTemperature::new::<kelvin>(closes_k),
        probe: Ratio::new::<ratio>(probe),
        probe_lag: Time::new::<second>(NEW_AQUASTAT_S),
        min_open: Time::new::<second>(NEW_AQUASTAT_S),
        timer: None,
        longest_open: None,
        flow: VolumeRate::new::<cubic_meter_per_second>(valve_flow_m3_s(
            flow_kg_s / density_kg_m3(port_k(plant, year)),
        )),
        port: Ratio::new::<ratio>(1.0),
        months: [true; 12],
        line: None,
        destinations: vec![WaterTaker::drain()],
    })
}

/// The dump that is named to a household without one: for the pump's whole heat, with a reserve.
pub fn line_with_reserve(plant: &Plant, year: &Year) -> Option<DumpLine> {
    new_line(plant, year, required_kg_s(plant, year) * FLOW_MARGIN)
}

/// A flow rounded up to a step of [`VALVE_STEP_M3_S`], one step at least.
fn valve_flow_m3_s(m3_s: f64) -> f64 {
    libm::ceil(m3_s / VALVE_STEP_M3_S).max(1.0) * VALVE_STEP_M3_S
}

/// Warmest mains water of the year, K.
pub fn warmest_mains_k(plant: &Plant) -> f64 {
    plant.mains_k.iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

/// Temperature at the dump's port in the month that dumps most, K: from the heat and the mass that were dumped; without
/// a dump the mean temperature of the tank's top in its hottest month.
pub fn port_k(plant: &Plant, year: &Year) -> f64 {
    let month = &year.months[worst_month(year, |month| month.dump_j)];
    if month.dump_kg > 0.0 {
        let mains_k = mean_mains_k(plant, month.month);
        mains_k + month.dump_j / (WATER_SPECIFIC_HEAT_J_PER_KG_K * month.dump_kg)
    } else {
        let hottest = &year.months[worst_month(year, |month| month.mean(month.tank_top_k_s))];
        hottest.mean(hottest.tank_top_k_s)
    }
}

fn mean_mains_k(plant: &Plant, month: usize) -> f64 {
    let starts = &plant.calendar.month_starts_h;
    let days = &plant.mains_k[starts[month] / 24..starts[month + 1] / 24];
    days.iter().sum::<f64>() / days.len() as f64
}

/// Flow that carries away all heat to water while the pump runs without a rest on a warm tank, kg/s:
/// `(Q + P_circulator)/(c (T_port - T_mains))` with the pump's heat at the aquastat's opening (without a dump: where one
/// would open) and the warmest mains water. Infinite where the port is no warmer than mains.
pub fn required_kg_s(plant: &Plant, year: &Year) -> f64 {
    let Cooler::HeatPump(pump) = &plant.cooler;
    let opens_k =
        plant.dump.as_ref().map_or(pump.tank_stop_k() - AQUASTAT_BELOW_LOCK_OUT_DK, |dump| dump.opens_k);
    let inlet_k = pump.inlet_from_tank_k(opens_k.min(pump.tank_stop_k()));
    let heat_w = pump.operate(plant.thermostat.on_at_k, inlet_k, false).heat_w;
    let over_mains_dk = port_k(plant, year) - warmest_mains_k(plant);
    if over_mains_dk > 0.0 {
        (heat_w + pump.circulator_w) / (WATER_SPECIFIC_HEAT_J_PER_KG_K * over_mains_dk)
    } else {
        f64::INFINITY
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use approx::assert_relative_eq;

    #[test]
    fn the_dump_flow_is_sized_by_the_water_at_its_port() {
        // Example unit: 4.5 kW where the map's capacity is 1. With a 60 °C outlet the cycle (published R744 properties) gives
        // 1.01 of that at 4 °C air and 10 °C water, and 72 % of it with 40 °C water. Port 48 °C, mains 10 °C.
        let mut plant = example::plant();
        plant.dump.as_mut().unwrap().opens_k = 313.15;
        plant.thermostat.on_at_k = 277.15;
        let year = example::year();
        let expected = (4500.0 * 1.01 * 0.72 + 10.0) / (4181.6 * 38.0);
        // 2 %: two digits are printed.
        assert_relative_eq!(required_kg_s(&plant, &year), expected, max_relative = 0.02);
    }

    #[test]
    fn sizes_are_flows_of_the_dump_that_is_there_or_dumps_to_fit() {
        let (mut household, plant, year) = (example::household(), example::plant(), example::year());
        let tried = sizes(&household, &plant, &year);
        assert!(tried.len() >= 3 && tried.iter().all(|change| matches!(change, Change::DumpFlow(_))));
        assert!(!other_changes(&household, &year).is_empty());
        household.dump = None;
        assert!(sizes(&household, &plant, &year).iter().all(|change| matches!(change, Change::AddDump(_))));
        assert!(other_changes(&household, &year).is_empty());
    }

    #[test]
    fn a_valve_has_half_a_litre_a_minute_or_a_multiple_of_it() {
        for (litres_a_minute, tried) in [(0.01, 0.5), (0.49, 0.5), (0.51, 1.0), (1.2, 1.5)] {
            let flow = valve_flow_m3_s(litres_a_minute * 1e-3 / 60.0) * 60.0e3;
            assert_relative_eq!(flow, tried, max_relative = 1e-12);
        }
    }
}

//! Limits of single values: those of the scenario's keys, so that a change is held to what a
//! household could have written.

use crate::household::{CoolerUnit, DumpLine, HeatPumpUnit, Household, UnitSize, WaterCircuit};
use crate::plant::HOUR_S;
use crate::scenario::keys::{Key, SCENARIO, Takes};
use crate::units::{Kind, write, written_in};

/// A value with its key, items of lists counted from 1, in SI.
type Keyed = (String, f64);

/// Values of `after` that differ from those of `before` and are outside the range of their key, one text each.
pub(super) fn out_of_range(before: &Household, after: &Household) -> Vec<String> {
    let old = changeable_values(before);
    changeable_values(after)
        .iter()
        .filter(|value| !old.contains(value))
        .filter_map(|(key, si)| fault(key, *si, after))
        .collect()
}

/// Every value that some change can set.
fn changeable_values(household: &Household) -> Vec<Keyed> {
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let (thermostat, tank, water) = (&household.thermostat, &household.tank, &household.hot_water);
    let mut values = vec![
        ("thermostat.set".to_owned(), thermostat.set.value),
        ("thermostat.band".to_owned(), thermostat.band.value),
        ("thermostat.probe".to_owned(), thermostat.probe_lag.value),
        ("thermostat.least_run".to_owned(), thermostat.min_run.value),
        ("thermostat.least_rest".to_owned(), thermostat.min_rest.value),
        ("room.leakage.air_changes".to_owned(), household.room.leakage_changes_per_hour / HOUR_S),
        ("hot_water.daily".to_owned(), water.daily.value),
        ("tank.ports.cold_in".to_owned(), tank.cold_in.value),
        ("tank.ports.cold_in_stirs".to_owned(), tank.cold_in_stirs.value),
        ("tank.ports.pump_out".to_owned(), tank.pump_out.value),
        ("tank.ports.pump_return".to_owned(), tank.pump_return.value),
        ("tank.ports.draw".to_owned(), tank.draw.value),
    ];
    values.extend(water.people.map(|people| ("hot_water.people".to_owned(), f64::from(people))));
    let storages = [("tank", Some(&tank.storage)), ("tank.followed_by", tank.followed_by.as_ref())];
    for (path, storage) in storages.into_iter().filter_map(|(path, storage)| Some((path, storage?))) {
        values.push((format!("{path}.volume"), storage.volume.value));
        values.push((format!("{path}.height"), storage.height.value));
        values.push((format!("{path}.loss"), storage.loss.value));
        let bridges = storage.heat_bridges.value;
        values.extend((bridges != 0.0).then(|| (format!("{path}.heat_bridges"), bridges)));
    }
    values.extend(household.booster.iter().map(|booster| ("booster.set".to_owned(), booster.set.value)));
    values.extend(heat_pump_values(unit));
    for (index, door) in household.room.doors.iter().enumerate() {
        let key = |name: &str| format!("room.doors[{}].{name}", index + 1);
        values.push((key("curtain"), door.curtain.value));
        values.push((key("openings"), f64::from(door.most_openings_per_day())));
    }
    if let Some(heater) = household.room.heater {
        values.push(("room.frost_heater.power".to_owned(), heater.power.value));
        values.push(("room.frost_heater.on_below".to_owned(), heater.on_below.value));
    }
    for (index, surface) in household.room.surfaces.iter().enumerate() {
        values.push((format!("room.surfaces[{}].u_value", index + 1), surface.u_value.value));
    }
    values.extend(household.dump.iter().flat_map(dump_values));
    values
}

fn heat_pump_values(unit: &HeatPumpUnit) -> Vec<Keyed> {
    let key = |name: &str| format!("cooler.heat_pump.{name}");
    let mut values = vec![(key("circulator"), unit.circulator.value), (key("airflow"), unit.airflow.value)];
    values.extend(unit.nameplate_power.map(|power| (key("nameplate_power"), power.value)));
    match &unit.size {
        UnitSize::Nominal(heat_output) => values.push((key("nominal_heat"), heat_output.value)),
        UnitSize::DataSheet(points) => {
            for (index, point) in points.iter().enumerate() {
                let key = |name: &str| key(&format!("data_sheet[{}].{name}", index + 1));
                values.push((key("heat_output"), point.heat_output.value));
                values.extend(point.power.map(|power| (key("power"), power.value)));
            }
        }
    }
    if let Some(slow) = unit.slow_running {
        values.push((key("slow_running.least_output"), slow.least.value));
        values.push((key("slow_running.gain_at_half"), slow.gain_at_half.value));
    }
    values.push(match unit.circuit {
        WaterCircuit::SinglePass { outlet, .. } => (key("single_pass.outlet"), outlet.value),
        WaterCircuit::MultiPass { flow, .. } => (key("multi_pass.flow"), flow.value),
    });
    values
}

fn dump_values(line: &DumpLine) -> Vec<Keyed> {
    [
        ("opens_at", line.opens_at.value),
        ("closes_at", line.closes_at.value),
        ("probe_height", line.probe.value),
        ("probe", line.probe_lag.value),
        ("least_open", line.min_open.value),
        ("flow", line.flow.value),
        ("port_height", line.port.value),
    ]
    .into_iter()
    .map(|(name, si)| (format!("dump.{name}"), si))
    .collect()
}

/// What is wrong with a value, if it is outside the range of its key.
fn fault(key: &str, si: f64, household: &Household) -> Option<String> {
    let (kind, low, high) = match range_of(key).expect("a test looks up every key") {
        Takes::Value(kind, low, high) | Takes::Monthly(kind, low, high) => (*kind, *low, *high),
        Takes::Probe(_, low, high) => (Kind::Time, *low, *high),
        Takes::Count(low, high) => {
            let inside = (f64::from(*low)..=f64::from(*high)).contains(&si);
            return (!inside).then(|| format!("`{key}` would be {si}; allowed: {low} to {high}"));
        }
        _ => return None,
    };
    let limit = |text: &str| kind.read(text).map(|reading| reading.si).expect("a test reads every limit");
    let inside = (limit(low)..=limit(high)).contains(&si);
    let units = household.units;
    (!inside).then(|| {
        let (value, low, high) =
            (write(kind, si, units), written_in(kind, low, units), written_in(kind, high, units));
        format!("`{key}` would be {value}; allowed: {low} to {high}")
    })
}

/// What the scenario takes under a key.
fn range_of(path: &str) -> Option<&'static Takes> {
    let mut keys: &'static [Key] = SCENARIO;
    let mut takes = None;
    for part in path.split('.') {
        let name = part.split('[').next()?;
        let found = &keys.iter().find(|key| key.name == name)?.takes;
        takes = Some(found);
        keys = match found {
            Takes::Table(keys) | Takes::List(keys) | Takes::Named(keys) => keys,
            _ => &[],
        };
    }
    takes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plant::example::household;

    #[test]
    fn every_changeable_value_has_a_readable_range_and_the_example_is_inside() {
        let mut multi_pass = household();
        let CoolerUnit::HeatPump(unit) = &mut multi_pass.cooler;
        unit.circuit = WaterCircuit::MultiPass {
            flow: crate::units::flow(9.0 / 60_000.0),
            outlet_stop: crate::units::celsius(60.0),
        };
        for home in [household(), multi_pass] {
            for (key, si) in changeable_values(&home) {
                let takes = range_of(&key).unwrap_or_else(|| panic!("no key `{key}`"));
                let ranged = matches!(
                    takes,
                    Takes::Value(..) | Takes::Monthly(..) | Takes::Probe(..) | Takes::Count(..)
                );
                assert!(ranged, "`{key}` takes {takes:?}");
                assert_eq!(fault(&key, si, &home), None);
                assert!(fault(&key, f64::NAN, &home).is_some(), "`{key}`");
                assert!(fault(&key, f64::INFINITY, &home).is_some(), "`{key}`");
            }
        }
    }

    #[test]
    fn what_was_out_of_range_before_does_not_keep_other_changes_out() {
        let mut before = household();
        before.room.surfaces[0].u_value *= 100.0;
        let mut after = before.clone();
        after.thermostat.set = crate::units::celsius(3.0);
        assert_eq!(out_of_range(&before, &after), Vec::<String>::new());
        after.room.doors[1].curtain = crate::units::fraction(1.5);
        assert_eq!(
            out_of_range(&before, &after),
            ["`room.doors[2].curtain` would be 150 %; allowed: 0 % to 100 %"]
        );
    }
}

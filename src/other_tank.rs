//! What another tank, or another place of its ports and of the aquastat, would change: which changes are worth a year.

use uom::si::f64::{Ratio, TemperatureInterval};
use uom::si::ratio::ratio;
use uom::si::temperature_interval::kelvin;

use crate::change::Change;
use crate::household::{CoolerUnit, DumpLine, Household};

/// Factors on the tank's volume. Common practice, no source: the next sizes that are sold are nearer, but say less.
const VOLUME_TIMES: [f64; 2] = [2.0, 0.5];
/// By how much the aquastat is turned, K. Common practice, no source: twice the error of a dial.
const AQUASTAT_BY_DK: f64 = 5.0;
/// By how much of the tank's height a probe or an outlet is moved. Common practice, no source: the distance of two fittings.
const MOVED_BY_FRAC: f64 = 0.15;
/// Effectiveness of an exchanger that a household might take. Common practice, no source: plate exchangers are chosen for some 70 to 90 %.
const EXCHANGER_FRAC: f64 = 0.75;
/// Ports closer together than this are one, of the tank's height.
const SAME_PLACE_FRAC: f64 = 0.005;

/// Changes of the tank and of what is fitted to it that a household may think of, one at a time, in the order of the table. What would change
/// nothing is not among them; what the household's check would refuse is.
pub fn changes(household: &Household) -> Vec<Change> {
    let tank = &household.tank;
    let mut changes: Vec<Change> =
        VOLUME_TIMES.iter().map(|times| Change::tank_volume_times(tank, *times)).collect();
    changes.extend(tank.followed_by.is_none().then_some(Change::SecondTank(tank.storage)));
    changes.extend(household.dump.iter().flat_map(of_dump));
    changes.extend(of_ports(household));
    changes.extend(of_loop(household));
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    changes.extend(tank.circles(unit).then_some(Change::CheckValve));
    changes
}

/// A closed loop where there is none, and none where there is one; nothing where the water does not pass the unit.
fn of_loop(household: &Household) -> Option<Change> {
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let other = match unit.closed_loop {
        Some(_) => None,
        None => Some(share(EXCHANGER_FRAC)),
    };
    (!unit.cycle.tank_coil()).then_some(Change::ClosedLoop(other))
}

fn of_dump(line: &DumpLine) -> Vec<Change> {
    let mut changes: Vec<Change> = [AQUASTAT_BY_DK, -AQUASTAT_BY_DK]
        .iter()
        .map(|dk| {
            let by = TemperatureInterval::new::<kelvin>(*dk);
            Change::Aquastat { opens_at: line.opens_at + by, closes_at: line.closes_at + by }
        })
        .collect();
    changes.extend([MOVED_BY_FRAC, -MOVED_BY_FRAC].map(|by| Change::AquastatProbe(line.probe + share(by))));
    // From the top, and from as low as its probe lets it.
    changes.extend(moved(line.port, [share(1.0), line.probe]).map(Change::DumpPort));
    changes
}

fn of_ports(household: &Household) -> Vec<Change> {
    let (tank, CoolerUnit::HeatPump(unit)) = (&household.tank, &household.cooler);
    let mut changes = Vec::new();
    if unit.loop_coil_from().is_none() {
        changes.extend(moved(tank.pump_return, [share(1.0), share(0.5)]).map(Change::PumpReturn));
        changes.push(Change::PumpOutlet(tank.pump_out + share(MOVED_BY_FRAC)));
    }
    changes.extend(moved(tank.draw, [share(1.0)]).map(Change::TapsDraw));
    changes.extend(moved(tank.cold_in, [share(0.0)]).map(Change::ColdInlet));
    if tank.cold_in_bore.is_some() || tank.cold_in_stirs.get::<ratio>() > 0.0 {
        changes.push(Change::ColdInletStirs(share(0.0)));
    }
    changes.extend(tank.return_bore.is_some().then_some(Change::ReturnWithoutJet));
    changes
}

/// Those of some heights that are not where a port is already.
fn moved<const N: usize>(now: Ratio, to: [Ratio; N]) -> impl Iterator<Item = Ratio> {
    to.into_iter().filter(move |height| (*height - now).get::<ratio>().abs() > SAME_PLACE_FRAC)
}

fn share(frac: f64) -> Ratio {
    Ratio::new::<ratio>(frac)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::household::CirclingStop;
    use crate::plant::example::household;
    use uom::si::f64::Length;
    use uom::si::length::meter;

    fn words(household: &Household) -> Vec<String> {
        changes(household).iter().map(Change::words).collect()
    }

    #[test]
    fn only_what_would_change_something_is_tried() {
        let mut home = household();
        let all = words(&home);
        assert!(all[0].starts_with("take a tank of "), "{all:?}");
        // Ports at their usual places: taps and dump at the top, cold water at the bottom without stirring.
        (home.tank.draw, home.tank.pump_return) = (share(1.0), share(1.0));
        (home.tank.cold_in, home.tank.cold_in_stirs) = (share(0.0), share(0.0));
        let tried = |household: &Household, part: &str| {
            words(household).iter().filter(|words| words.contains(part)).count()
        };
        assert_eq!(tried(&home, "taps draw") + tried(&home, "cold water"), 0);
        assert_eq!(tried(&home, "water return"), 1);
        (home.tank.draw, home.tank.pump_return) = (share(0.8), share(0.6));
        (home.tank.cold_in, home.tank.cold_in_stirs) = (share(0.9), share(0.1));
        assert_eq!((tried(&home, "taps draw"), tried(&home, "cold water")), (1, 2));
        assert_eq!(tried(&home, "water return"), 2);
        assert_eq!(tried(&home, "check valve"), 0);
        home.tank.circling_stopped_by = Some(CirclingStop::Nothing);
        assert_eq!(tried(&home, "check valve"), 1);
        // A jet that is reckoned from its opening may be taken away, be it of cold water or of what returns.
        let bore = Some(Length::new::<meter>(0.02));
        (home.tank.cold_in_stirs, home.tank.cold_in_bore, home.tank.return_bore) = (share(0.0), bore, bore);
        assert_eq!(tried(&home, "as with a diffuser") + tried(&home, "as through a diffuser"), 2);
    }

    #[test]
    fn without_a_dump_nothing_of_it_is_tried() {
        let mut home = household();
        let with = changes(&home).len();
        home.dump = None;
        let without = words(&home);
        assert!(without.len() + 4 <= with, "{without:?}");
        assert!(without.iter().all(|words| !words.contains("aquastat") && !words.contains("dump")));
    }
}

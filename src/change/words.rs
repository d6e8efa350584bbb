//! Each change in plain words with its units.

use uom::si::f64::{Ratio, ThermodynamicTemperature, Time, VolumeRate};

use super::Change;
use crate::household::{CalledBy, DumpLine, FrostGuard, GuardMeans, UnitSystem};
use crate::units::{DIGITS, Kind, plain, write};
use crate::wording::{SHORT_MONTHS, Wording, list, percent};

/// Times from here on are told in minutes, s.
const TOLD_IN_MINUTES_S: f64 = 180.0;

/// Time constants of a probe from here on are those of one in water, s.
const QUICK_PROBE_S: f64 = 600.0;

impl Change {
    /// What is changed, in plain words with metric units, as an order: "set the room thermostat to 3 °C".
    pub fn words(&self) -> String {
        self.words_in(UnitSystem::Metric)
    }

    /// What is changed, in plain words with the units of a report.
    pub fn words_in(&self, units: UnitSystem) -> String {
        let words = Words(units);
        match self {
            Change::ThermostatSet(set) => format!("set the room thermostat to {}", words.temperature(*set)),
            Change::ThermostatBand(band) => {
                format!("give the room thermostat a band of {}", Wording(units).difference(band.value))
            }
            Change::ProbeLag(lag) => {
                let hung =
                    if lag.value < QUICK_PROBE_S { "as bare in the air" } else { "as in a bottle of water" };
                format!("give the thermostat's probe a time constant of {}, {hung}", words.time(*lag))
            }
            Change::CoolerOffIn(off) if *off == [false; 12] => "let the cooler run all year".to_owned(),
            Change::CoolerOffIn(off) => format!("switch the cooler off {}, with nothing in the room that could spoil", months(off)),
            Change::LeastRun(least) => format!("let the pump run at least {}", words.time(*least)),
            Change::LeastRest(least) => format!("let the pump rest at least {}", words.time(*least)),
            Change::RatedOutputTimes(factor) => {
                format!("take a heat pump of {} times the rated output", plain(*factor, DIGITS))
            }
            Change::CalledBy(caller) => match caller {
                CalledBy::Room => "let the room's thermostat alone call the pump".to_owned(),
                CalledBy::Tank => "let a thermostat at the tank alone call the pump".to_owned(),
                CalledBy::Both => "let the thermostats of room and tank call the pump in series".to_owned(),
            },
            Change::SlowRunning(slow) => {
                format!("take a heat pump that can slow down to {} of its output", words.share(slow.least))
            }
            Change::FullOutput => "let the pump run at full output or not at all".to_owned(),
            Change::CoilProbe { stops_below, starts_above } => format!(
                "let the probe on the coil stop the unit at {} and release it at {}",
                words.temperature(*stops_below),
                words.temperature(*starts_above)
            ),
            Change::FrostProtection(guard) => words.frost_protection(guard),
            Change::FrostHeater(heater) => format!(
                "put an electric heater of {} into the room, on below {} of air",
                Wording(words.0).electric_power(heater.power.value),
                words.temperature(heater.on_below)
            ),
            Change::SinglePassOutlet(outlet) => {
                format!("let the pump heat the water to {}", words.temperature(*outlet))
            }
            Change::StripCurtain(stops) => {
                format!(
                    "hang a strip curtain in every door that stops {} of the exchange",
                    words.share(*stops)
                )
            }
            Change::DoorOpeningsTimes(factor) => {
                format!("open every door {} times as often", plain(*factor, DIGITS))
            }
            Change::SurfaceUTimes { surface, factor } => {
                let what = surface.as_ref().map_or("every surface".to_owned(), |name| format!("`{name}`"));
                format!("bring the U value of {what} to {} times what it is", plain(*factor, DIGITS))
            }
            Change::Leakage(changes) => {
                format!(
                    "bring the room's leakage to {} air changes an hour, with a door seal and closed gaps",
                    plain(*changes, DIGITS)
                )
            }
            Change::TankVolume(volume) => {
                format!("take a tank of {}", write(Kind::Volume, volume.value, units))
            }
            Change::TankPairVolume(volume) => {
                format!("take two tanks of {} in all", write(Kind::Volume, volume.value, units))
            }
            Change::SecondTank(second) => {
                let volume = write(Kind::Volume, second.volume.value, units);
                format!("put a second tank of {volume} in series after the first")
            }
            Change::TankLoss(loss) => {
                format!("bring the tank's loss to {}", write(Kind::Conductance, loss.value, units))
            }
            Change::ClosedLoop(Some(effectiveness)) => format!(
                "put a closed loop with an exchanger of {} effectiveness between pump and tank",
                words.share(*effectiveness)
            ),
            Change::ClosedLoop(None) => "let the tank's own water pass the pump".to_owned(),
            Change::PumpOutlet(height) => {
                format!("let the pump take its water at {} of the tank's height", words.share(*height))
            }
            Change::PumpReturn(height) => {
                format!("let the pump's water return at {} of the tank's height", words.share(*height))
            }
            Change::TapsDraw(height) => {
                format!("let the taps draw at {} of the tank's height", words.share(*height))
            }
            Change::ColdInlet(height) => {
                format!("let cold water in at {} of the tank's height", words.share(*height))
            }
            Change::ColdInletStirs(share) => {
                format!("let the cold water stir {} of the tank, as with a diffuser", words.share(*share))
            }
            Change::CheckValve => {
                "fit a check valve against water that circles while the pump rests".to_owned()
            }
            Change::ReturnWithoutJet => {
                "let the pump's water come back slowly, as through a diffuser".to_owned()
            }
            Change::AddDump(line) => format!("fit an overflow dump: {}", words.dump(line)),
            Change::DumpUnhindered => {
                "let the dump run at any time, as long as the aquastat calls (with a guard that only a stuck valve meets)".to_owned()
            }
            Change::OutdoorsIn(may) if may.contains(&true) => {
                format!("lead dumped water outdoors {} only", months(may))
            }
            Change::OutdoorsIn(_) => "lead no dumped water outdoors".to_owned(),
            Change::DumpToDrain => "lead what no place has room for to a drain".to_owned(),
            Change::RemoveDump => "take the overflow dump away".to_owned(),
            Change::Aquastat { opens_at, closes_at } => format!(
                "let the aquastat open at {} and close at {}",
                words.temperature(*opens_at),
                words.temperature(*closes_at)
            ),
            Change::AquastatProbe(height) => {
                format!("move the aquastat's probe to {} of the tank's height", words.share(*height))
            }
            Change::DumpFlow(rate) => format!("set the dump's flow to {}", words.flow(*rate)),
            Change::DumpPort(height) => {
                format!("move the dump's port to {} of the tank's height", words.share(*height))
            }
            Change::DumpMonths(open) => format!("let the dump open {}", months(open)),
            Change::HotWaterTimes(factor) => {
                format!("use {} times as much hot water", plain(*factor, DIGITS))
            }
            Change::HotWaterPeople(people) => {
                let noun = if *people == 1 { "person" } else { "people" };
                format!("be {people} {noun}, each with as much hot water as now")
            }
            Change::BoosterSet(set) => format!("set the booster to {}", words.temperature(*set)),
            Change::Together(changes) => {
                let all: Vec<String> = changes.iter().map(|change| change.words_in(units)).collect();
                list(&all)
            }
        }
    }
}

/// Writes values in the units of a report.
struct Words(UnitSystem);

impl Words {
    fn temperature(&self, temperature: ThermodynamicTemperature) -> String {
        Wording(self.0).temperature(temperature.value)
    }

    fn share(&self, share: Ratio) -> String {
        percent(share.value)
    }

    fn flow(&self, flow: VolumeRate) -> String {
        Wording(self.0).flow(flow.value)
    }

    fn frost_protection(&self, guard: &FrostGuard) -> String {
        let below = self.temperature(guard.below);
        match guard.by {
            GuardMeans::Heater { .. } => {
                format!(
                    "if its maker allows it, let the unit's frost protection act below {below} of room air"
                )
            }
            GuardMeans::Circulator { share, .. } => format!(
                "where the maker has it so, let the unit's frost protection turn the circulator for {} of the time below {below} of room air",
                self.share(share)
            ),
        }
    }

    fn time(&self, time: Time) -> String {
        let wanted = if time.value < TOLD_IN_MINUTES_S { "s" } else { "min" };
        let unit = Kind::Time.unit(wanted).unwrap_or(Kind::Time.report_unit(self.0));
        unit.write(time.value)
    }

    fn dump(&self, line: &DumpLine) -> String {
        format!(
            "{} from {} of the tank's height, opened at {} and closed at {} of the water at {}, {}",
            self.flow(line.flow),
            self.share(line.port),
            self.temperature(line.opens_at),
            self.temperature(line.closes_at),
            self.share(line.probe),
            months(&line.months)
        )
    }
}

/// The months in which something may open, runs of them as from-to.
fn months(open: &[bool; 12]) -> String {
    if open.iter().all(|&open| open) {
        return "all year".to_owned();
    }
    let mut runs = Vec::new();
    for first in (0..12).filter(|&month| open[month] && !open[(month + 11) % 12]) {
        let last = (first..first + 12).take_while(|month| open[month % 12]).last().unwrap_or(first) % 12;
        let to = if last == first { String::new() } else { format!(" to {}", SHORT_MONTHS[last]) };
        runs.push(format!("{}{to}", SHORT_MONTHS[first]));
    }
    if runs.is_empty() { "in no month".to_owned() } else { format!("in {}", runs.join(" and ")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn months_are_told_in_runs_even_over_new_year() {
        let only = |wanted: &[usize]| std::array::from_fn(|month| wanted.contains(&month));
        assert_eq!(months(&[true; 12]), "all year");
        assert_eq!(months(&[false; 12]), "in no month");
        assert_eq!(months(&only(&[4, 5, 6])), "in May to Jul");
        assert_eq!(months(&only(&[10, 11, 0, 1])), "in Nov to Feb");
        assert_eq!(months(&only(&[2, 8, 9])), "in Mar and Sep to Oct");
    }
}

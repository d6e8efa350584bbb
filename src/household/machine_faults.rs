//! What cannot be right about who calls the pump and how it deals with hot water and frost.

use super::faults::{COLD_TANK_DEGC, Fault, Parts, duration};
use super::{CalledBy, Contact, DefrostMethod, DefrostStart, HeatPumpUnit, SensorPlace, WaterCircuit};
use crate::constants::ZERO_CELSIUS_K;
use crate::units::{Kind, celsius, interval, write};

const ENOUGH_AT: &str = "cooler.heat_pump.tank_sensor.enough_at";
const CALLED_BY: &str = "cooler.heat_pump.called_by";

impl Parts<'_> {
    /// A highest outlet that the unit's own aim or a cold tank already passes.
    pub(super) fn single_pass(&self, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let WaterCircuit::SinglePass { outlet, min_rise, outlet_stop } = pump.circuit else { return };
        let least = outlet.max(celsius(COLD_TANK_DEGC) + min_rise);
        if outlet_stop < least {
            let what = format!(
                "the heat pump stops where its water leaves at {}, but it aims at {} and heats by {} at least",
                self.degrees(outlet_stop),
                self.degrees(outlet),
                write(Kind::Difference, min_rise.value, self.units)
            );
            let with = ["cooler.heat_pump.single_pass.outlet", "cooler.heat_pump.single_pass.least_rise"];
            faults.push(
                Fault::error("S160", "cooler.heat_pump.single_pass.highest_outlet", &with, what)
                    .allowed(format!("{} or more", self.degrees(least)))
                    .help("with less it would never run: see its manual for the highest water temperature"),
            );
        }
    }

    /// A thermostat at the tank that could not switch, or not both ways.
    pub(super) fn tank_sensor(&self, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let sensor = &pump.tank_sensor;
        if sensor.calls_at >= sensor.enough_at {
            let what = format!(
                "the thermostat at the tank calls at {} and has enough at {}",
                self.degrees(sensor.calls_at),
                self.degrees(sensor.enough_at)
            );
            faults.push(
                Fault::error("S161", "cooler.heat_pump.tank_sensor.calls_at", &[ENOUGH_AT], what)
                    .allowed(format!("below {}", self.degrees(sensor.enough_at)))
                    .help("a differential of 5 K is usual"),
            );
        }
        let (hottest, limit) = match pump.circuit {
            WaterCircuit::SinglePass { outlet, .. } => (outlet, "cooler.heat_pump.single_pass.outlet"),
            WaterCircuit::MultiPass { outlet_stop, .. } => {
                (outlet_stop, "cooler.heat_pump.multi_pass.highest_outlet")
            }
        };
        if pump.called_by != CalledBy::Room && sensor.enough_at >= hottest {
            let what = format!(
                "the tank has enough at {}, but the heat pump makes water of {} at most",
                self.degrees(sensor.enough_at),
                self.degrees(hottest)
            );
            faults.push(
                Fault::error("S162", ENOUGH_AT, &[CALLED_BY, limit], what)
                    .allowed(format!("below {}", self.degrees(hottest)))
                    .help("else the pump is called for ever: set it some 5 K lower"),
            );
        }
    }

    /// A contact that only permits leaves the decision to the unit's own control.
    pub(super) fn contact(&self, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let permits = self.thermostat.contact == Some(Contact::Permits);
        let fooled = pump.sensor_place == Some(SensorPlace::Resistor);
        if permits && !fooled && pump.called_by == CalledBy::Room {
            let what = "the room thermostat's contact only permits the heat pump to run, so its own tank sensor calls as \
                        well, but `called_by` is `room`"
                .to_owned();
            faults.push(
                Fault::error("S163", "thermostat.contact", &[CALLED_BY], what)
                    .allowed("`called_by: both`, or `tank_sensor: {unit_reads: fixed resistor}`".to_owned())
                    .help(
                        "a unit that is only permitted stops when its tank is hot, whatever the room wants",
                    ),
            );
        }
    }

    /// A clock that calls for the next defrost before the last is over.
    fn defrost_clock(&self, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let Some(DefrostMethod { begins: DefrostStart::Clock(every), takes, .. }) = pump.defrost else {
            return;
        };
        if every > takes {
            return;
        }
        let what = format!(
            "a defrost takes {} and the clock begins the next after {}",
            duration(takes.value),
            duration(every.value)
        );
        let with = ["cooler.heat_pump.defrost.takes"];
        faults.push(
            Fault::error("S165", "cooler.heat_pump.defrost.by_clock", &with, what)
                .allowed(format!("more than {}", duration(takes.value)))
                .help("the unit would never run; timers are set to some hours"),
        );
    }

    /// A cooler that never runs.
    pub(super) fn off_all_year(&self, faults: &mut Vec<Fault>) {
        if self.thermostat.off_in == [true; 12] {
            let what = "the cooler is switched off in all twelve months".to_owned();
            faults.push(
                Fault::error("S167", "thermostat.off_in", &[], what)
                    .allowed("eleven months at most".to_owned())
                    .help("leave it out where the cooler runs all year"),
            );
        }
    }

    /// A probe on the coil that lets the unit run where it stops it.
    pub(super) fn coil_probe(&self, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let Some(probe) = pump.coil_probe.filter(|probe| probe.starts_above <= probe.stops_below) else {
            return;
        };
        let what = format!(
            "the probe on the coil stops the unit at {} and lets it run again at {}",
            self.degrees(probe.stops_below),
            self.degrees(probe.starts_above)
        );
        let with = ["cooler.heat_pump.coil_probe.stops_below"];
        faults.push(
            Fault::error("S166", "cooler.heat_pump.coil_probe.starts_above", &with, what)
                .allowed(format!("above {}", self.degrees(probe.stops_below)))
                .help("5 K between the two are usual"),
        );
    }

    /// A way of defrosting that leaves no time, and frost that is to melt in air that freezes.
    pub(super) fn defrost(&self, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        self.defrost_clock(pump, faults);
        let Some(defrost) = pump.defrost.filter(|defrost| defrost.power.value == 0.0) else { return };
        let coldest = self.thermostat.set - interval(0.5 * self.thermostat.band.value);
        if coldest.value <= ZERO_CELSIUS_K {
            let what = format!(
                "frost is to melt in the room's air within {} min, but the thermostat lets that air go down to {}",
                crate::units::plain(defrost.takes.value / 60.0, 3),
                self.degrees(coldest)
            );
            let with = ["thermostat.set", "thermostat.band"];
            faults.push(
                Fault::error("S164", "cooler.heat_pump.defrost.power", &with, what)
                    .warning()
                    .help("air at or below freezing melts nothing: give the power of its heater or hot gas"),
            );
        }
    }
}

//! What each change does to the household, before the check.

use super::{Change, ChangeError};
use crate::household::{
    BoosterUnit, CirclingStop, ClosedLoop, CoolerUnit, DefrostStart, Destination, DumpLine, HeatPumpUnit,
    Household, Storage, WaterCircuit, WaterTaker,
};
use uom::si::f64::Ratio;
use uom::si::ratio::ratio;

impl Change {
    /// Makes the change; on an error the household may be half edited and is to be dropped.
    pub(super) fn edit(&self, household: &mut Household) -> Result<(), ChangeError> {
        match self {
            Change::ThermostatSet(set) => household.thermostat.set = *set,
            Change::ThermostatBand(band) => household.thermostat.band = *band,
            Change::ProbeLag(lag) => household.thermostat.probe_lag = *lag,
            Change::CoolerOffIn(months) => household.thermostat.off_in = *months,
            Change::LeastRun(time) => household.thermostat.min_run = *time,
            Change::LeastRest(time) => household.thermostat.min_rest = *time,
            Change::RatedOutputTimes(factor) => {
                let factor = self.factor(*factor)?;
                let CoolerUnit::HeatPump(unit) = &mut household.cooler;
                resize(unit, factor);
            }
            Change::CalledBy(caller) => {
                let CoolerUnit::HeatPump(unit) = &mut household.cooler;
                unit.called_by = *caller;
            }
            Change::ClosedLoop(effectiveness) => {
                let CoolerUnit::HeatPump(unit) = &mut household.cooler;
                unit.closed_loop =
                    effectiveness.map(|effectiveness| ClosedLoop { effectiveness, coil_from: None });
            }
            Change::SlowRunning(slow) => {
                let CoolerUnit::HeatPump(unit) = &mut household.cooler;
                unit.slow_running = Some(*slow);
            }
            Change::FullOutput => {
                let CoolerUnit::HeatPump(unit) = &mut household.cooler;
                if unit.slow_running.take().is_none() {
                    return Err(self.nothing("it runs at full output or not at all as it is"));
                }
            }
            Change::CoilProbe { stops_below, starts_above } => {
                let CoolerUnit::HeatPump(unit) = &mut household.cooler;
                let Some(probe) = &mut unit.coil_probe else {
                    return Err(self.nothing("there is no probe on its coil"));
                };
                (probe.stops_below, probe.starts_above) = (*stops_below, *starts_above);
            }
            Change::FrostProtection(guard) => {
                let CoolerUnit::HeatPump(unit) = &mut household.cooler;
                if unit.frost_guard.replace(*guard).is_none() {
                    return Err(self.nothing("the heat pump has no frost protection"));
                }
            }
            Change::FrostHeater(heater) => household.room.heater = Some(*heater),
            Change::SinglePassOutlet(target) => {
                let CoolerUnit::HeatPump(unit) = &mut household.cooler;
                match &mut unit.circuit {
                    WaterCircuit::SinglePass { outlet, .. } => *outlet = *target,
                    WaterCircuit::MultiPass { .. } => {
                        return Err(self.nothing("a multi-pass circuit has no outlet target"));
                    }
                }
            }
            Change::StripCurtain(_) | Change::DoorOpeningsTimes(_) => self.edit_doors(household)?,
            Change::SurfaceUTimes { surface, factor } => {
                self.edit_surfaces(household, surface.as_deref(), self.factor(*factor)?)?;
            }
            Change::Leakage(changes) => household.room.leakage_changes_per_hour = *changes,
            Change::TankVolume(volume) => {
                let tank = &mut household.tank.storage;
                resize_tank(tank, self.factor(volume.value / tank.volume.value)?);
                // Without the rounding of the factor.
                tank.volume = *volume;
            }
            Change::TankPairVolume(volume) => {
                let factor = self.factor(volume.value / household.tank.water_volume().value)?;
                let Some(second) = &mut household.tank.followed_by else {
                    return Err(self.nothing("there is no second tank"));
                };
                resize_tank(second, factor);
                resize_tank(&mut household.tank.storage, factor);
            }
            Change::SecondTank(second) => add_tank(household, second),
            Change::TankLoss(loss) => household.tank.storage.loss = *loss,
            Change::PumpOutlet(height) => household.tank.pump_out = *height,
            Change::PumpReturn(height) => household.tank.pump_return = *height,
            Change::TapsDraw(height) => household.tank.draw = *height,
            Change::ColdInlet(height) => household.tank.cold_in = *height,
            Change::ColdInletStirs(share) => {
                (household.tank.cold_in_stirs, household.tank.cold_in_bore) = (*share, None);
            }
            Change::ReturnWithoutJet => household.tank.return_bore = None,
            Change::CheckValve => household.tank.circling_stopped_by = Some(CirclingStop::CheckValve),
            Change::AddDump(line) => household.dump = Some(line.clone()),
            Change::RemoveDump => {
                self.dump(household)?;
                household.dump = None;
            }
            Change::Aquastat { .. }
            | Change::AquastatProbe(_)
            | Change::DumpFlow(_)
            | Change::DumpPort(_)
            | Change::OutdoorsIn(_)
            | Change::DumpToDrain
            | Change::DumpUnhindered
            | Change::DumpMonths(_) => self.edit_dump(self.dump(household)?),
            Change::HotWaterTimes(factor) => {
                household.hot_water.daily *= self.factor_or_none(*factor)?;
            }
            Change::HotWaterPeople(people) => self.edit_people(household, *people)?,
            Change::BoosterSet(set) => self.booster(household)?.set = *set,
            Change::Together(changes) => {
                for change in changes {
                    change.edit(household)?;
                }
            }
        }
        Ok(())
    }

    fn edit_doors(&self, household: &mut Household) -> Result<(), ChangeError> {
        let doors = &mut household.room.doors;
        if doors.is_empty() {
            return Err(self.nothing("the room has no door"));
        }
        for door in doors {
            match self {
                // One that stops more already stays.
                Change::StripCurtain(stops) if stops.value >= 0.0 && door.curtain > *stops => {}
                Change::StripCurtain(stops) => door.curtain = *stops,
                Change::DoorOpeningsTimes(factor) => {
                    let factor = self.factor_or_none(*factor)?;
                    // Beyond what 32 bits hold it stays at their largest, which is far out of the key's range.
                    door.openings_per_day =
                        door.openings_per_day.map(|count| (f64::from(count) * factor).round() as u32);
                }
                _ => {}
            }
        }
        Ok(())
    }

    fn edit_surfaces(
        &self,
        household: &mut Household,
        name: Option<&str>,
        factor: f64,
    ) -> Result<(), ChangeError> {
        let mut changed = 0;
        for surface in &mut household.room.surfaces {
            if name.is_none_or(|name| name == surface.name) {
                surface.u_value *= factor;
                changed += 1;
            }
        }
        if changed == 0 { Err(self.nothing("the room has no such surface")) } else { Ok(()) }
    }

    fn edit_dump(&self, line: &mut DumpLine) {
        match self {
            Change::Aquastat { opens_at, closes_at } => {
                line.opens_at = *opens_at;
                line.closes_at = *closes_at;
            }
            Change::AquastatProbe(height) => line.probe = *height,
            Change::DumpFlow(flow) => line.flow = *flow,
            Change::DumpPort(height) => line.port = *height,
            Change::DumpMonths(months) => line.months = *months,
            Change::DumpUnhindered => (line.timer, line.longest_open) = (None, None),
            Change::OutdoorsIn(months) => {
                let outdoors = line.destinations.iter_mut().filter(|place| place.kind != Destination::Drain);
                for place in outdoors {
                    place.months = std::array::from_fn(|month| place.months[month] && months[month]);
                }
            }
            Change::DumpToDrain => line.destinations.push(WaterTaker::drain()),
            _ => {}
        }
    }

    fn edit_people(&self, household: &mut Household, people: u32) -> Result<(), ChangeError> {
        let water = &mut household.hot_water;
        let now = water.people.filter(|now| *now > 0);
        let now = now.ok_or_else(|| self.nothing("it is not said how many people there are now"))?;
        water.daily *= f64::from(people) / f64::from(now);
        water.people = Some(people);
        Ok(())
    }

    fn dump<'a>(&self, household: &'a mut Household) -> Result<&'a mut DumpLine, ChangeError> {
        household.dump.as_mut().ok_or_else(|| self.nothing("there is no overflow dump"))
    }

    fn booster<'a>(&self, household: &'a mut Household) -> Result<&'a mut BoosterUnit, ChangeError> {
        household.booster.as_mut().ok_or_else(|| self.nothing("there is no booster"))
    }

    fn nothing(&self, missing: &str) -> ChangeError {
        ChangeError::NothingToChange { change: self.words(), missing: missing.to_owned() }
    }

    /// The factor if it is above 0.
    fn factor(&self, factor: f64) -> Result<f64, ChangeError> {
        self.checked(factor, factor > 0.0, "above 0")
    }

    /// The factor if it is 0 or more: how often or how much may come to nothing while nobody is at home.
    fn factor_or_none(&self, factor: f64) -> Result<f64, ChangeError> {
        self.checked(factor, factor >= 0.0, "0 or more")
    }

    fn checked(&self, factor: f64, possible: bool, allowed: &'static str) -> Result<f64, ChangeError> {
        if possible && factor.is_finite() {
            Ok(factor)
        } else {
            Err(ChangeError::Factor { change: self.words(), factor: factor.to_string(), allowed })
        }
    }
}

/// The same make of unit in another size.
fn resize(unit: &mut HeatPumpUnit, factor: f64) {
    unit.size.scale(factor);
    unit.nameplate_power = unit.nameplate_power.map(|power| power * factor);
    unit.circulator *= factor;
    unit.airflow *= factor;
    if let WaterCircuit::MultiPass { flow, .. } = &mut unit.circuit {
        *flow *= factor;
    }
    if let Some(defrost) = &mut unit.defrost {
        defrost.power *= factor;
        if let DefrostStart::Frost(frost) = &mut defrost.begins {
            *frost *= factor;
        }
    }
}

/// A tank of the same shape and insulation with `factor` times the volume.
fn resize_tank(tank: &mut Storage, factor: f64) {
    let length_factor = libm::cbrt(factor);
    tank.volume *= factor;
    tank.height *= length_factor;
    tank.loss *= length_factor * length_factor;
}

/// A second tank after the first. What is at the very top moves to the top of the second; all other places stay where they are in
/// the first, which is now so much less of the column.
fn add_tank(household: &mut Household, second: &Storage) {
    let Household { tank, dump, element, cooler: CoolerUnit::HeatPump(unit), .. } = household;
    tank.followed_by = Some(*second);
    let first = tank.first_share();
    let top = Ratio::new::<ratio>(1.0);
    let mut heights = vec![
        &mut tank.cold_in,
        &mut tank.cold_in_stirs,
        &mut tank.pump_out,
        &mut tank.pump_return,
        &mut tank.draw,
        &mut unit.tank_sensor.height,
    ];
    heights.extend(dump.iter_mut().flat_map(|line| [&mut line.probe, &mut line.port]));
    heights.extend(element.iter_mut().map(|element| &mut element.height));
    for height in heights.into_iter().filter(|height| **height < top) {
        *height *= first.value;
    }
}

//! Edits of a household: one thing is changed, everything else stays, and the result is checked again.
//!
//! Remedies, choices and faults are all told as changes, so that each of them can be calculated
//! through the whole year and compared with the household as it is.

mod edit;
mod effort;
mod limits;
mod words;

pub use effort::Effort;

use uom::si::f64::{
    Ratio, TemperatureInterval, ThermalConductance, ThermodynamicTemperature, Time, Volume, VolumeRate,
};

use crate::diagnostic::Severity;
use crate::household::{
    CalledBy, DumpLine, Fault, FrostGuard, FrostHeater, HotWaterTank, Household, SlowRunning, Storage,
};

/// One edit of a household.
///
/// A list of assumed values ([`Household::defaults`]) stays that of the household before the edit.
#[derive(Debug, Clone)]
pub enum Change {
    /// Turn the room thermostat to another middle of its band.
    ThermostatSet(ThermodynamicTemperature),
    /// Give the room thermostat another band, on to off.
    ThermostatBand(TemperatureInterval),
    /// Give the thermostat's probe another time constant, as in a bottle of water.
    ProbeLag(Time),
    /// Switch the cooler off in these months.
    CoolerOffIn([bool; 12]),
    /// Shortest run of the pump.
    LeastRun(Time),
    /// Shortest rest of the pump.
    LeastRest(Time),
    /// A unit of the same make and another size: heat and power of its data sheet, circulator, air flow, power and frost of its
    /// defrosting and, in a multi-pass circuit, water flow all times this factor. Standby and resting fan stay.
    RatedOutputTimes(f64),
    /// Let another thermostat call the pump.
    CalledBy(CalledBy),
    /// A unit of the same make whose compressor can run slowly.
    SlowRunning(SlowRunning),
    /// The same unit, run at full output or not at all.
    FullOutput,
    /// Turn the probe on the coil.
    CoilProbe {
        /// Stops the unit at or below this.
        stops_below: ThermodynamicTemperature,
        /// Lets it run again at or above this.
        starts_above: ThermodynamicTemperature,
    },
    /// Another frost protection of the resting unit, in the place of the one it has.
    FrostProtection(FrostGuard),
    /// Put an electric heater into the room against frost; one that is there is replaced.
    FrostHeater(FrostHeater),
    /// Target of the outlet in a single-pass circuit.
    SinglePassOutlet(ThermodynamicTemperature),
    /// Hang a strip curtain in every door; the share of the exchange it stops.
    StripCurtain(Ratio),
    /// Open every door this many times as often, rounded to whole openings.
    DoorOpeningsTimes(f64),
    /// Make a surface's U value this many times what it is; without a name every surface's.
    SurfaceUTimes {
        /// The surface's name in the household.
        surface: Option<String>,
        /// Factor on U.
        factor: f64,
    },
    /// Air changes an hour through leaks.
    Leakage(f64),
    /// A tank of the same shape and insulation, and another volume: its height goes with the cube root of the
    /// volume, its loss with the surface (the power 2/3).
    TankVolume(Volume),
    /// Two tanks in series of this volume in all, each of the same shape and insulation as it is.
    TankPairVolume(Volume),
    /// A second tank, after the one there is.
    SecondTank(Storage),
    /// Connect the pump through a closed loop with an exchanger of this effectiveness; `None`: let the tank's own water pass it.
    ClosedLoop(Option<Ratio>),
    /// Another loss coefficient of the tank, as by more insulation.
    TankLoss(ThermalConductance),
    /// Let the pump take its water at another height of the tank.
    PumpOutlet(Ratio),
    /// Let the pump's water return at another height of the tank.
    PumpReturn(Ratio),
    /// Let the taps draw at another height of the tank.
    TapsDraw(Ratio),
    /// Let cold water in at another height of the tank, as by a new dip tube.
    ColdInlet(Ratio),
    /// Let the jet of cold water stir another share of the tank, as by a diffuser.
    ColdInletStirs(Ratio),
    /// Let the pump's water come back without stirring, as through a diffuser.
    ReturnWithoutJet,
    /// Keep the tank's water from circling through the resting pump's pipes.
    CheckValve,
    /// Turn the aquastat.
    Aquastat {
        /// Opens at.
        opens_at: ThermodynamicTemperature,
        /// Closes at.
        closes_at: ThermodynamicTemperature,
    },
    /// Move the aquastat's probe to another height of the tank.
    AquastatProbe(Ratio),
    /// Flow of the open dump.
    DumpFlow(VolumeRate),
    /// Move the dump's port to another height of the tank.
    DumpPort(Ratio),
    /// Let the dump open in these months alone.
    DumpMonths([bool; 12]),
    /// Fit an overflow dump; one that is there is replaced.
    AddDump(DumpLine),
    /// Let no timer hold the dump, and no guard that it meets in ordinary running.
    DumpUnhindered,
    /// Lead dumped water to places outdoors in these months alone, of those in which they take any.
    OutdoorsIn([bool; 12]),
    /// Lead what no place takes to a drain.
    DumpToDrain,
    /// Take the overflow dump away.
    RemoveDump,
    /// Use this many times as much hot water a day.
    HotWaterTimes(f64),
    /// Be that many people, each with as much hot water as now.
    HotWaterPeople(u32),
    /// Set point of the booster.
    BoosterSet(ThermodynamicTemperature),
    /// Several changes at once, made one after the other.
    Together(Vec<Change>),
}

/// Why a change was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ChangeError {
    /// The household has nothing that the change could act on.
    #[error("cannot {change}: {missing}")]
    NothingToChange {
        /// The change in words.
        change: String,
        /// What is missing.
        missing: String,
    },
    /// A factor that is no factor.
    #[error("cannot {change}: the factor is {factor}; allowed: {allowed}")]
    Factor {
        /// The change in words.
        change: String,
        /// The factor given.
        factor: String,
        /// Which factors there are.
        allowed: &'static str,
    },
    /// The household would be refused after the change.
    #[error("cannot {change}: {}", faults.join("; "))]
    Refused {
        /// The change in words.
        change: String,
        /// Each fault of the changed household, in its own words.
        faults: Vec<String>,
    },
}

impl Change {
    /// The tank, or both of two in series, so many times as large.
    pub fn tank_volume_times(tank: &HotWaterTank, times: f64) -> Self {
        let volume = times * tank.water_volume();
        if tank.followed_by.is_some() { Change::TankPairVolume(volume) } else { Change::TankVolume(volume) }
    }

    /// The household with this change made and nothing else.
    ///
    /// What a scenario would only warn of is let through.
    ///
    /// # Errors
    /// [`ChangeError`] when there is nothing to change, or when a scenario with these values would be refused.
    pub fn apply(&self, household: &Household) -> Result<Household, ChangeError> {
        let mut edited = household.clone();
        self.edit(&mut edited)?;
        let mut faults = limits::out_of_range(household, &edited);
        let errors = edited.faults().into_iter().filter(|fault| fault.severity == Severity::Error);
        faults.extend(errors.map(|fault| fault_text(&fault)));
        if faults.is_empty() {
            Ok(edited)
        } else {
            Err(ChangeError::Refused { change: self.words(), faults })
        }
    }
}

/// What is wrong, where, and what is allowed there.
fn fault_text(fault: &Fault) -> String {
    let allowed = fault.allowed.as_ref().map_or(String::new(), |allowed| format!("; allowed: {allowed}"));
    format!("{}{allowed} (`{}`)", fault.what, fault.key)
}

#[cfg(test)]
mod tests;

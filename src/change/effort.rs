//! What a change takes to be made, roughly.

use serde::Serialize;

use super::Change;

/// Rough class of what a change costs to make. Common practice, no source: prices differ by place and year, the order hardly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Effort {
    /// A dial, a habit: nothing.
    Setting,
    /// Small parts and an afternoon.
    SmallParts,
    /// Parts, and work that local code may leave to a licensed trade.
    Trade,
    /// A new tank.
    NewTank,
    /// A new machine.
    NewMachine,
}

impl Effort {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Effort::Setting => "costs nothing: a setting or a habit",
            Effort::SmallParts => "costs small parts and an afternoon",
            Effort::Trade => "costs parts and a trade's work",
            Effort::NewTank => "costs a new tank",
            Effort::NewMachine => "costs a new machine",
        }
    }
}

impl Change {
    /// What it takes to make it.
    pub fn effort(&self) -> Effort {
        match self {
            Change::ThermostatSet(_)
            | Change::ThermostatBand(_)
            | Change::LeastRun(_)
            | Change::LeastRest(_)
            | Change::FullOutput
            | Change::SinglePassOutlet(_)
            | Change::DoorOpeningsTimes(_)
            | Change::Aquastat { .. }
            | Change::DumpMonths(_)
            | Change::OutdoorsIn(_)
            | Change::DumpUnhindered
            | Change::CoolerOffIn(_)
            | Change::CoilProbe { .. }
            | Change::HotWaterTimes(_)
            | Change::HotWaterPeople(_)
            | Change::BoosterSet(_) => Effort::Setting,
            Change::ProbeLag(_)
            | Change::FrostHeater(_)
            | Change::StripCurtain(_)
            | Change::Leakage(_)
            | Change::TankLoss(_)
            | Change::AquastatProbe(_) => Effort::SmallParts,
            Change::CalledBy(_)
            | Change::FrostProtection(_)
            | Change::SurfaceUTimes { .. }
            | Change::ClosedLoop(_)
            | Change::PumpOutlet(_)
            | Change::PumpReturn(_)
            | Change::TapsDraw(_)
            | Change::ColdInlet(_)
            | Change::ColdInletStirs(_)
            | Change::ReturnWithoutJet
            | Change::CheckValve
            | Change::DumpFlow(_)
            | Change::DumpPort(_)
            | Change::AddDump(_)
            | Change::DumpToDrain
            | Change::RemoveDump => Effort::Trade,
            Change::TankVolume(_) | Change::TankPairVolume(_) | Change::SecondTank(_) => Effort::NewTank,
            Change::RatedOutputTimes(_) | Change::SlowRunning(_) => Effort::NewMachine,
            Change::Together(changes) => changes.iter().map(Change::effort).max().unwrap_or(Effort::Setting),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_together_cost_what_the_dearest_of_them_costs() {
        let dial = Change::HotWaterTimes(1.5);
        assert_eq!(dial.effort(), Effort::Setting);
        let both = Change::Together(vec![dial, Change::RemoveDump, Change::Leakage(0.1)]);
        assert_eq!(both.effort(), Effort::Trade);
    }
}

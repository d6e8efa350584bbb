//! A scenario that other values are written into, again and again, with its weather read once.

use std::path::Path;

use super::checker::Checker;
use super::tree::Node;
use super::{Failure, Scenario, choices, errors, household_of, open, tree};
use crate::household::Household;
use crate::weather::WeatherYear;

/// A checked scenario to write other values into.
#[derive(Debug)]
pub struct Workbench {
    /// The scenario as it is.
    pub scenario: Scenario,
    root: Node,
    weather: WeatherYear,
}

impl Workbench {
    /// Opens a scenario file.
    ///
    /// # Errors
    /// As [`open`].
    pub fn open(path: &Path) -> Result<Self, Failure> {
        Ok(Self::of(open(path)?))
    }

    /// Takes a checked scenario.
    pub fn of(scenario: Scenario) -> Self {
        let mut notes = Vec::new();
        let root = tree::read(&scenario.source, &mut notes).expect("a checked scenario can be read");
        let weather = scenario.household.weather.clone();
        Self { scenario, root, weather }
    }

    /// The household of the scenario with these values (path of a key, value) written into it, checked as a file with them would be.
    ///
    /// # Errors
    /// Every fault of such a file, in words.
    pub fn household(&self, settings: &[(&str, &str)]) -> Result<Household, Vec<String>> {
        let mut root = self.root.clone();
        for (path, value) in settings {
            choices::write(&mut root, path, value).map_err(|fault| vec![fault])?;
        }
        let mut at = Checker::default();
        let household = household_of(&mut root, &mut at, |_, _| Some(self.weather.clone()));
        let diagnostics: Vec<_> =
            at.notes.into_iter().map(|note| note.in_file("", &self.scenario.source)).collect();
        let faults: Vec<String> = errors(&diagnostics)
            .map(|one| match &one.allowed {
                Some(allowed) => format!("{}; allowed: {allowed}", one.what),
                None => one.what.clone(),
            })
            .collect();
        household.filter(|_| faults.is_empty()).ok_or(faults)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::read;
    use uom::si::volume::liter;

    /// A value written into the tree gives the household of a file with that value.
    #[test]
    fn a_written_value_is_a_file_with_that_value() {
        let bench =
            Workbench::open(Path::new("scenarios/grower-po-plain.yaml")).expect("it is checked elsewhere");
        let same = bench.household(&[]).expect("nothing is written");
        let read = read(Path::new("scenarios/grower-po-plain.yaml")).expect("it is checked elsewhere");
        assert_eq!(format!("{same:?}"), format!("{read:?}"));
        let larger = bench.household(&[("tank.volume", "777 L")]).expect("a tank of 777 L can be run");
        assert!((larger.tank.storage.volume.get::<liter>() - 777.0).abs() < 1e-9);
        let faults = bench.household(&[("dump.closes_at", "70 degC")]).expect_err("it would never close");
        assert!(faults[0].contains("closes at 70 degC"), "{faults:?}");
    }
}

//! Units of the report: what a number is measured in, in metric and in US customary units.
//!
//! Numbers arrive in the unit of the JSON keys (kWh, L, degC, W, h) and are turned at the last
//! moment, so that both systems are printed from the same number.

use crate::household::UnitSystem;
use crate::report::rounding::Rounded;
use crate::units::Kind;

/// What a number is: it fixes the unit, the conversion and the rounding.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Energy, kWh in both systems: electricity is bought in it everywhere.
    Energy,
    /// Energy a day, kWh/day.
    EnergyPerDay,
    /// Power: W, BTU/h.
    Power,
    /// Volume: L, gal.
    Volume,
    /// Volume a day: L/day, gal/day.
    VolumePerDay,
    /// Volume a minute: L/min, gal/min.
    VolumePerMinute,
    /// Water through the pump: L/min, gal/min.
    PumpFlow,
    /// Mass: kg, lb.
    Mass,
    /// Temperature: degC, degF.
    Temperature,
    /// Temperature difference: K, degF as a difference.
    Difference,
    /// Hours.
    Duration,
    /// Minutes.
    Minutes,
    /// Events.
    Count,
    /// Events a day.
    PerDay,
    /// Coefficient of performance.
    Cop,
    /// Heat to water for each unit of heat from the room.
    PerCold,
    /// Per cent.
    Percent,
    /// A fraction of one, printed as per cent.
    Fraction,
    /// Hours a day.
    HoursPerDay,
}

impl Measure {
    /// The unit in words, as printed.
    pub fn unit(self, units: UnitSystem) -> &'static str {
        use UnitSystem::{Metric, Us};
        match (self, units) {
            (Measure::Energy, _) => "kWh",
            (Measure::EnergyPerDay, _) => "kWh/day",
            (Measure::Power, Metric) => "W",
            (Measure::Power, Us) => "BTU/h",
            (Measure::Volume, Metric) => "L",
            (Measure::Volume, Us) => "gal",
            (Measure::VolumePerDay, Metric) => "L/day",
            (Measure::VolumePerDay, Us) => "gal/day",
            (Measure::VolumePerMinute | Measure::PumpFlow, Metric) => "L/min",
            (Measure::VolumePerMinute | Measure::PumpFlow, Us) => "gal/min",
            (Measure::Mass, Metric) => "kg",
            (Measure::Mass, Us) => "lb",
            (Measure::Temperature, Metric) => "°C",
            (Measure::Temperature | Measure::Difference, Us) => "°F",
            (Measure::Difference, Metric) => "K",
            (Measure::Duration, _) => "h",
            (Measure::Minutes, _) => "min",
            (Measure::Count | Measure::Cop | Measure::PerCold, _) => "",
            (Measure::PerDay, _) => "per day",
            (Measure::Percent | Measure::Fraction, _) => "%",
            (Measure::HoursPerDay, _) => "h/day",
        }
    }

    /// A number in the unit of the JSON keys, turned into the printed unit.
    pub fn convert(self, value: f64, units: UnitSystem) -> f64 {
        match (units, self.kind()) {
            (UnitSystem::Us, Some(kind)) => {
                let si = kind.report_unit(UnitSystem::Metric).si(value);
                kind.report_unit(UnitSystem::Us).value(si)
            }
            _ if self == Measure::Fraction => 100.0 * value,
            _ => value,
        }
    }

    /// What has to be converted between the systems; `None` for what both measure alike. Volumes a
    /// day or a minute convert as volumes.
    fn kind(self) -> Option<Kind> {
        match self {
            Measure::Power => Some(Kind::Power),
            Measure::Volume | Measure::VolumePerDay | Measure::VolumePerMinute | Measure::PumpFlow => {
                Some(Kind::Volume)
            }
            Measure::Mass => Some(Kind::Mass),
            Measure::Temperature => Some(Kind::Temperature),
            Measure::Difference => Some(Kind::Difference),
            Measure::Energy
            | Measure::EnergyPerDay
            | Measure::Duration
            | Measure::Minutes
            | Measure::Count
            | Measure::PerDay
            | Measure::Cop
            | Measure::PerCold
            | Measure::Percent
            | Measure::Fraction
            | Measure::HoursPerDay => None,
        }
    }

    /// The number as it is printed, without its unit.
    pub fn rounded(self, value: f64, units: UnitSystem) -> Rounded {
        Rounded::new(self.convert(value, units), self.decimals())
    }

    /// The number as it is printed, with its unit.
    pub fn words(self, value: f64, units: UnitSystem) -> String {
        let number = self.rounded(value, units);
        match self.unit(units) {
            "" => number.to_string(),
            unit => format!("{number} {unit}"),
        }
    }

    /// The measure that belongs to the unit of a finding (`h`, `1/day`, `kwh`, `l/day`, `degc`, `frac`), if it is one of ours.
    pub fn of_unit(unit: &str) -> Option<Self> {
        Some(match unit {
            "kwh" => Measure::Energy,
            "kwh/day" => Measure::EnergyPerDay,
            "w" => Measure::Power,
            "l" => Measure::Volume,
            "l/day" => Measure::VolumePerDay,
            "l/min" => Measure::VolumePerMinute,
            "kg" => Measure::Mass,
            "degc" => Measure::Temperature,
            "k" | "dk" => Measure::Difference,
            "h" => Measure::Duration,
            "min" => Measure::Minutes,
            "1/day" => Measure::PerDay,
            "h/day" => Measure::HoursPerDay,
            "frac" => Measure::Fraction,
            "1" => Measure::Count,
            _ => return None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Both ends of the water scale; 100 gallons of 231 cubic inches; 100 pounds of 0.45359237 kg (NIST Handbook 44,
    /// appendix C); 1 kW of 3412 BTU/h (NIST Special Publication 811, appendix B). From memory, to be verified.
    #[test]
    fn us_units_follow_their_definitions() {
        let us = |measure: Measure, value| measure.words(value, UnitSystem::Us);
        assert_eq!(us(Measure::Temperature, 0.0), "32.0 °F");
        assert_eq!(us(Measure::Temperature, 100.0), "212.0 °F");
        assert_eq!(us(Measure::Difference, 5.0), "9.0 °F");
        assert_eq!(us(Measure::Volume, 378.541_178_4), "100 gal");
        assert_eq!(us(Measure::Power, 1000.0), "3412 BTU/h");
        assert_eq!(us(Measure::Mass, 45.359_237), "100.0 lb");
        assert_eq!(us(Measure::Energy, 12.0), "12.0 kWh");
    }

    #[test]
    fn fractions_are_printed_as_per_cent() {
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            assert_eq!(Measure::Fraction.words(0.125, units), "12.5 %");
        }
    }
}

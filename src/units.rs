//! The only place that knows unit words: values as people write them ("4 °C", "80 gal", "R-30") to SI
//! and back, and differences of temperatures.
//!
//! A number alone is refused wherever a unit is needed; the error lists the units that are taken.
//! Exact factors: international foot, inch and pound, US gallon of 231 cubic inches, BTU of the
//! International Steam Table (1055.05585262 J). Source: NIST Special Publication 811 (2008), appendix B.
//! From memory, to be verified.

use std::sync::LazyLock;

use thiserror::Error;
use uom::si::f64::{
    Area, DiffusionCoefficient, HeatCapacity, HeatTransfer, Length, Mass, MassDensity, Power, Pressure,
    Ratio, TemperatureInterval, ThermalConductance, ThermalConductivity, ThermodynamicTemperature, Time,
    Volume, VolumeRate,
};
use uom::si::{
    area, diffusion_coefficient, heat_capacity, heat_transfer, length, mass, mass_density, power, pressure,
    ratio, temperature_interval, thermal_conductance, thermal_conductivity, thermodynamic_temperature, time,
    volume, volume_rate,
};

use crate::constants::ZERO_CELSIUS_K;
use crate::household::UnitSystem;

/// Joules in a BTU (International Steam Table).
const BTU_J: f64 = 1_055.055_852_62;
/// Metres in a foot.
const FOOT_M: f64 = 0.3048;
/// Cubic metres in a US gallon.
const GALLON_M3: f64 = 3.785_411_784e-3;
/// Kilograms in a pound.
const POUND_KG: f64 = 0.453_592_37;
/// Standard acceleration of free fall, m/s2: it makes a pound a force. Exact.
const FREE_FALL_M_S2: f64 = 9.806_65;
/// Kilograms in a grain, 1/7000 pound.
const GRAIN_KG: f64 = POUND_KG / 7000.0;
/// Mass of a mole of calcium carbonate and of calcium oxide, kg. Derived here: from the abridged atomic weights Ca 40.078,
/// C 12.011 and O 15.999 (From memory, to be verified: IUPAC).
const CALCIUM_CARBONATE_KG_PER_MOL: f64 = 1e-3 * (40.078 + 12.011 + 3.0 * 15.999);
const CALCIUM_OXIDE_KG_PER_MOL: f64 = 1e-3 * (40.078 + 15.999);
/// Calcium carbonate for the calcium oxide of a German degree of hardness: that degree is 10 mg of calcium oxide in a litre.
/// Second hand: a converter's page, which prints 17.848 mg of calcium carbonate.
const GERMAN_DEGREE_KG_M3: f64 = 0.010 * CALCIUM_CARBONATE_KG_PER_MOL / CALCIUM_OXIDE_KG_PER_MOL;
/// Kelvins in a degree Fahrenheit.
const FAHRENHEIT_DK: f64 = 5.0 / 9.0;
/// 0 °F in kelvin.
const ZERO_FAHRENHEIT_K: f64 = 459.67 * 5.0 / 9.0;
/// Pascals in a pound-force per square inch.
pub const PSI_PA: f64 = POUND_KG * FREE_FALL_M_S2 * 144.0 / (FOOT_M * FOOT_M);
/// Seconds in a minute, an hour and a day.
const MINUTE_S: f64 = 60.0;
const HOUR_S: f64 = 3600.0;
const DAY_S: f64 = 86_400.0;

/// What a written value measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A temperature on a scale; SI: kelvin.
    Temperature,
    /// A difference of temperatures; SI: kelvin.
    Difference,
    /// A length; SI: metre.
    Length,
    /// An area; SI: square metre.
    Area,
    /// A volume; SI: cubic metre.
    Volume,
    /// A flow of air or water; SI: cubic metre per second.
    Flow,
    /// A volume a day; SI: cubic metre (each day).
    DailyVolume,
    /// A power; SI: watt. Data sheets of tanks give it in kWh a day.
    Power,
    /// An energy; SI: joule.
    Energy,
    /// A heat loss per degree; SI: watt per kelvin.
    Conductance,
    /// A U value; SI: W/(m2 K).
    UValue,
    /// An R value; SI: m2 K/W.
    RValue,
    /// Heat per length and degree, also a conductivity; SI: W/(m K).
    LinearLoss,
    /// A mass; SI: kilogram.
    Mass,
    /// A time; SI: second.
    Time,
    /// A time each day; SI: second (each day).
    DailyTime,
    /// A time of day, `07:00`; SI: second after midnight.
    Clock,
    /// A share, `30 %` or a bare number from 0 to 1; SI: fraction.
    Share,
    /// A number of times an hour; SI: per second.
    Rate,
    /// A whole number of times a day; as that number.
    DailyCount,
    /// Thermal diffusivity of soil; SI: m2/s.
    Diffusivity,
    /// A heat capacity; SI: J/K.
    HeatCapacity,
    /// A heat capacity per area; SI: J/(m2 K).
    ArealCapacity,
    /// A heat capacity per length; SI: J/(m K).
    LinearCapacity,
    /// A pressure over that of the air; SI: pascal.
    Pressure,
    /// The hardness of water, as its weight of calcium carbonate; SI: kg/m3.
    Hardness,
    /// Money for energy, the currency left open; SI: for each joule.
    EnergyPrice,
    /// Money for water, the currency left open; SI: for each cubic metre.
    VolumePrice,
}

/// A unit people write. `si = value x scale + zero`.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// How it is printed.
    pub symbol: &'static str,
    /// Other spellings that are taken, without spaces.
    also: &'static [&'static str],
    scale: f64,
    zero: f64,
}

/// A value as it was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// In the SI unit of its kind.
    pub si: f64,
    /// The unit in which it was written: messages about the value use it.
    pub unit: &'static Unit,
}

/// Why a written value could not be read.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum UnitError {
    /// No number where one is needed.
    #[error("`{given}` does not begin with a number; {wanted} is needed")]
    NoNumber {
        /// What was written.
        given: String,
        /// What was wanted, with its article.
        wanted: &'static str,
        /// Units that are taken.
        takes: String,
    },
    /// A bare number where a unit is needed.
    #[error("`{given}` has no unit; {wanted} is needed")]
    NoUnit {
        /// What was written.
        given: String,
        /// What was wanted, with its article.
        wanted: &'static str,
        /// Units that are taken.
        takes: String,
    },
    /// A unit that is not known.
    #[error("the unit `{unit}` of `{given}` is not one for {wanted}")]
    UnknownUnit {
        /// What was written.
        given: String,
        /// Its unit.
        unit: String,
        /// What was wanted, with its article.
        wanted: &'static str,
        /// Units that are taken.
        takes: String,
    },
    /// A unit of another kind of quantity.
    #[error("`{given}` is {is}; {wanted} is needed")]
    OtherKind {
        /// What was written.
        given: String,
        /// What it is, with its article.
        is: &'static str,
        /// What was wanted, with its article.
        wanted: &'static str,
        /// Units that are taken.
        takes: String,
        /// What was probably meant.
        cause: Option<String>,
    },
    /// A comma inside a number.
    #[error("`{given}` has a comma in its number")]
    Comma {
        /// What was written.
        given: String,
        /// The ways it can be written instead.
        instead: String,
    },
    /// A number beyond all measure.
    #[error("the number of `{given}` is too large to be read")]
    TooLarge {
        /// What was written.
        given: String,
    },
    /// A bare number above 1 for a share.
    #[error("`{given}` without a unit is read as a share from 0 to 1")]
    PercentMeant {
        /// What was written.
        given: String,
    },
    /// Not a time of day.
    #[error("`{given}` is not a time of day")]
    NotAClockTime {
        /// What was written.
        given: String,
    },
    /// Parts that cannot be added up, such as `7 in 6 ft`.
    #[error("the parts of `{given}` cannot be added up")]
    MixedParts {
        /// What was written.
        given: String,
    },
    /// Not a whole number.
    #[error("`{given}` is not a whole number of times")]
    NotWhole {
        /// What was written.
        given: String,
    },
}

impl UnitError {
    /// What is taken instead, for the line `allowed`.
    pub fn allowed(&self) -> Option<String> {
        match self {
            Self::NoNumber { takes, .. }
            | Self::NoUnit { takes, .. }
            | Self::UnknownUnit { takes, .. }
            | Self::OtherKind { takes, .. } => Some(takes.clone()),
            Self::PercentMeant { .. } => Some("0 % to 100 %, or 0 to 1".to_owned()),
            Self::NotAClockTime { .. } => Some("\"00:00\" to \"24:00\"".to_owned()),
            Self::MixedParts { .. } => Some("the larger unit first, `7 ft 6 in` or `1 h 30 min`".to_owned()),
            Self::Comma { .. } | Self::TooLarge { .. } | Self::NotWhole { .. } => None,
        }
    }

    /// How to mend it, where that can be said.
    pub fn help(&self) -> Option<String> {
        match self {
            Self::OtherKind { cause, .. } => cause.clone(),
            Self::Comma { instead, .. } => {
                Some(format!("the decimal mark is a point and thousands stand together: write {instead}"))
            }
            Self::PercentMeant { given } => Some(format!("for {given} percent write `{given} %`")),
            Self::NotWhole { .. } => Some("write a whole number, such as `8 per day`".to_owned()),
            _ => None,
        }
    }
}

macro_rules! units {
    ($($symbol:literal [$($also:literal),*] $scale:expr $(, $zero:expr)?;)*) => {
        &[$(Unit { symbol: $symbol, also: &[$($also),*], scale: $scale, zero: 0.0 $(+ $zero)? }),*]
    };
}

const BARE: Unit = Unit { symbol: "", also: &[], scale: 1.0, zero: 0.0 };
static BARE_UNIT: Unit = BARE;

static TEMPERATURE: &[Unit] = units! {
    "degC" ["C", "celsius"] 1.0, ZERO_CELSIUS_K;
    "degF" ["F", "fahrenheit"] FAHRENHEIT_DK, ZERO_FAHRENHEIT_K;
    "K" ["kelvin"] 1.0;
};
static DIFFERENCE: &[Unit] = units! {
    "K" ["kelvin", "degC", "C"] 1.0;
    "degF" ["F"] FAHRENHEIT_DK;
};
static LENGTH: &[Unit] = units! {
    "m" ["metre", "metres", "meter", "meters"] 1.0;
    "cm" [] 0.01;
    "mm" [] 0.001;
    "ft" ["foot", "feet", "'"] FOOT_M;
    "in" ["inch", "inches", "\""] FOOT_M / 12.0;
};
static AREA: &[Unit] = units! {
    "m2" ["sqm"] 1.0;
    "ft2" ["sqft", "squarefeet"] FOOT_M * FOOT_M;
    "cm2" [] 1e-4;
};
static VOLUME: &[Unit] = units! {
    "L" ["l", "litre", "litres", "liter", "liters"] 1e-3;
    "m3" [] 1.0;
    "gal" ["USgal", "gallon", "gallons"] GALLON_M3;
    "ft3" ["cuft"] FOOT_M * FOOT_M * FOOT_M;
};
static FLOW: &[Unit] = units! {
    "L/min" ["lpm", "l/minute"] 1e-3 / MINUTE_S;
    "L/s" [] 1e-3;
    "L/h" [] 1e-3 / HOUR_S;
    "m3/h" [] 1.0 / HOUR_S;
    "gpm" ["gal/min"] GALLON_M3 / MINUTE_S;
    "cfm" ["ft3/min"] FOOT_M * FOOT_M * FOOT_M / MINUTE_S;
};
static DAILY_VOLUME: &[Unit] = units! {
    "L/day" ["L/d", "litres/day", "liters/day"] 1e-3;
    "gal/day" ["gal/d", "gpd", "gallons/day"] GALLON_M3;
    "m3/day" ["m3/d"] 1.0;
};
static POWER: &[Unit] = units! {
    "W" ["watt", "watts"] 1.0;
    "kW" [] 1e3;
    "BTU/h" ["BTU/hr", "BTUH"] BTU_J / HOUR_S;
    "kWh/day" ["kWh/d", "kWh/24h"] 1e3 * HOUR_S / DAY_S;
};
static ENERGY: &[Unit] = units! {
    "kWh" [] 1e3 * HOUR_S;
    "Wh" [] HOUR_S;
    "MJ" [] 1e6;
    "kJ" [] 1e3;
    "BTU" [] BTU_J;
};
static CONDUCTANCE: &[Unit] = units! {
    "W/K" ["W/degC", "W/C"] 1.0;
    "BTU/(h F)" ["BTU/hdegF", "BTU/hrF", "BTU/hrdegF"] BTU_J / HOUR_S / FAHRENHEIT_DK;
};
static U_VALUE: &[Unit] = units! {
    "W/m2K" ["W/m2/K", "W/m2degC", "W/m2C"] 1.0;
    "BTU/(h ft2 F)" ["BTU/hft2degF", "BTU/hrft2F", "BTU/hrft2degF", "BTU/h/ft2/F"]
        BTU_J / HOUR_S / (FOOT_M * FOOT_M * FAHRENHEIT_DK);
};
static R_VALUE: &[Unit] = units! {
    "m2K/W" ["m2degC/W", "m2C/W"] 1.0;
    "h ft2 F/BTU" ["hft2degF/BTU", "hrft2F/BTU", "hrft2degF/BTU", "ft2Fh/BTU", "ft2degFh/BTU"]
        HOUR_S * FOOT_M * FOOT_M * FAHRENHEIT_DK / BTU_J;
};
static LINEAR_LOSS: &[Unit] = units! {
    "W/mK" ["W/m/K", "W/mdegC"] 1.0;
    "BTU/(h ft F)" ["BTU/hftdegF", "BTU/hrftF", "BTU/hrftdegF"]
        BTU_J / HOUR_S / (FOOT_M * FAHRENHEIT_DK);
};
static MASS: &[Unit] = units! {
    "kg" [] 1.0;
    "g" [] 1e-3;
    "t" ["tonne", "tonnes"] 1e3;
    "lb" ["lbs", "pound", "pounds"] POUND_KG;
    "oz" [] POUND_KG / 16.0;
};
static TIME: &[Unit] = units! {
    "s" ["sec", "second", "seconds"] 1.0;
    "min" ["minute", "minutes"] MINUTE_S;
    "h" ["hr", "hour", "hours"] HOUR_S;
};
static DAILY_TIME: &[Unit] = units! {
    "min/day" ["min/d", "minutes/day"] MINUTE_S;
    "h/day" ["h/d", "hr/day", "hours/day"] HOUR_S;
    "s/day" ["s/d", "seconds/day"] 1.0;
};
static CLOCK: &[Unit] = units! { "hh:mm" [] 1.0; };
static SHARE: &[Unit] = units! { "%" ["percent"] 0.01; };
static RATE: &[Unit] = units! {
    "per hour" ["/h", "/hr", "ACH"] 1.0 / HOUR_S;
    "per day" ["/d"] 1.0 / DAY_S;
};
static DAILY_COUNT: &[Unit] = units! { "per day" ["/d", "times/day"] 1.0; };
static DIFFUSIVITY: &[Unit] = units! {
    "m2/day" ["m2/d"] 1.0 / DAY_S;
    "mm2/s" [] 1e-6;
    "m2/s" [] 1.0;
    "ft2/day" ["ft2/d"] FOOT_M * FOOT_M / DAY_S;
    "ft2/h" ["ft2/hr"] FOOT_M * FOOT_M / HOUR_S;
};
static HEAT_CAPACITY: &[Unit] = units! {
    "kJ/K" [] 1e3;
    "J/K" [] 1.0;
    "Wh/K" [] HOUR_S;
    "BTU/F" ["BTU/degF"] BTU_J / FAHRENHEIT_DK;
};
static AREAL_CAPACITY: &[Unit] = units! {
    "kJ/m2K" [] 1e3;
    "BTU/(ft2 F)" ["BTU/ft2degF"] BTU_J / (FOOT_M * FOOT_M * FAHRENHEIT_DK);
};
static LINEAR_CAPACITY: &[Unit] = units! {
    "kJ/mK" [] 1e3;
    "J/mK" [] 1.0;
    "BTU/(ft F)" ["BTU/ftdegF"] BTU_J / (FOOT_M * FAHRENHEIT_DK);
};
static PRESSURE: &[Unit] = units! {
    "kPa" [] 1e3;
    "bar" [] 1e5;
    "psi" ["psig", "lbf/in2"] PSI_PA;
    "MPa" [] 1e6;
};
static HARDNESS: &[Unit] = units! {
    "mg/L" ["ppm", "mg/LCaCO3", "mg/LasCaCO3", "g/m3"] 1e-3;
    "mmol/L" ["mol/m3"] CALCIUM_CARBONATE_KG_PER_MOL;
    "dH" ["degdH"] GERMAN_DEGREE_KG_M3;
    "gpg" ["grains/gal", "grains/USgal", "grains/gallon", "grains/USgallon", "grain/gallon", "gr/gal"]
        GRAIN_KG / GALLON_M3;
};

static ENERGY_PRICE: &[Unit] = units! {
    "per kWh" [] 1.0 / (1e3 * HOUR_S);
    "per MWh" [] 1.0 / (1e6 * HOUR_S);
    "per MJ" [] 1e-6;
    "per therm" [] 1.0 / (1e5 * BTU_J);
};
static VOLUME_PRICE: &[Unit] = units! {
    "per m3" [] 1.0;
    "per L" [] 1e3;
    "per 1000 gal" ["perkgal"] 1e-3 / GALLON_M3;
    "per 100 ft3" ["perCCF"] 1e-2 / (FOOT_M * FOOT_M * FOOT_M);
};

/// A unit's spelling in the form in which spellings are compared.
#[derive(Debug)]
struct Spelling {
    /// As [`normal`] makes it.
    exact: String,
    /// The same without regard to case.
    folded: String,
}

impl Spelling {
    fn of(unit: &str) -> Self {
        let exact = normal(unit);
        Self { folded: exact.to_lowercase(), exact }
    }
}

/// The spellings of every kind's units, kinds in the order of [`Kind::ALL`].
static SPELLINGS: LazyLock<[Vec<(Spelling, &Unit)>; Kind::ALL.len()]> = LazyLock::new(|| {
    Kind::ALL.map(|kind| {
        kind.units()
            .iter()
            .flat_map(|unit| unit.written().map(move |text| (Spelling::of(text), unit)))
            .collect()
    })
});

impl Kind {
    /// Every kind, in the order in which they are declared.
    pub const ALL: [Kind; 28] = [
        Kind::Temperature,
        Kind::Difference,
        Kind::Length,
        Kind::Area,
        Kind::Volume,
        Kind::Flow,
        Kind::DailyVolume,
        Kind::Power,
        Kind::Energy,
        Kind::Conductance,
        Kind::UValue,
        Kind::RValue,
        Kind::LinearLoss,
        Kind::Mass,
        Kind::Time,
        Kind::DailyTime,
        Kind::Clock,
        Kind::Share,
        Kind::Rate,
        Kind::DailyCount,
        Kind::Diffusivity,
        Kind::HeatCapacity,
        Kind::ArealCapacity,
        Kind::LinearCapacity,
        Kind::Pressure,
        Kind::Hardness,
        Kind::EnergyPrice,
        Kind::VolumePrice,
    ];

    /// Its name with an article, for messages.
    pub fn name(self) -> &'static str {
        match self {
            Kind::Temperature => "a temperature",
            Kind::Difference => "a temperature difference",
            Kind::Length => "a length",
            Kind::Area => "an area",
            Kind::Volume => "a volume",
            Kind::Flow => "a flow",
            Kind::DailyVolume => "a volume a day",
            Kind::Power => "a power",
            Kind::Energy => "an energy",
            Kind::Conductance => "a heat loss per degree",
            Kind::UValue => "a U value",
            Kind::RValue => "an R value",
            Kind::LinearLoss => "a heat loss per length and degree",
            Kind::Mass => "a mass",
            Kind::Time => "a time",
            Kind::DailyTime => "a time a day",
            Kind::Clock => "a time of day",
            Kind::Share => "a share",
            Kind::Rate => "a number of times an hour",
            Kind::DailyCount => "a number of times a day",
            Kind::Diffusivity => "a thermal diffusivity",
            Kind::HeatCapacity => "a heat capacity",
            Kind::ArealCapacity => "a heat capacity per area",
            Kind::LinearCapacity => "a heat capacity per length",
            Kind::Pressure => "a pressure",
            Kind::Hardness => "a hardness of water",
            Kind::EnergyPrice => "a price of energy",
            Kind::VolumePrice => "a price of water",
        }
    }

    /// The units that are taken, the metric one first.
    pub fn units(self) -> &'static [Unit] {
        match self {
            Kind::Temperature => TEMPERATURE,
            Kind::Difference => DIFFERENCE,
            Kind::Length => LENGTH,
            Kind::Area => AREA,
            Kind::Volume => VOLUME,
            Kind::Flow => FLOW,
            Kind::DailyVolume => DAILY_VOLUME,
            Kind::Power => POWER,
            Kind::Energy => ENERGY,
            Kind::Conductance => CONDUCTANCE,
            Kind::UValue => U_VALUE,
            Kind::RValue => R_VALUE,
            Kind::LinearLoss => LINEAR_LOSS,
            Kind::Mass => MASS,
            Kind::Time => TIME,
            Kind::DailyTime => DAILY_TIME,
            Kind::Clock => CLOCK,
            Kind::Share => SHARE,
            Kind::Rate => RATE,
            Kind::DailyCount => DAILY_COUNT,
            Kind::Diffusivity => DIFFUSIVITY,
            Kind::HeatCapacity => HEAT_CAPACITY,
            Kind::ArealCapacity => AREAL_CAPACITY,
            Kind::LinearCapacity => LINEAR_CAPACITY,
            Kind::Pressure => PRESSURE,
            Kind::Hardness => HARDNESS,
            Kind::EnergyPrice => ENERGY_PRICE,
            Kind::VolumePrice => VOLUME_PRICE,
        }
    }

    /// The unit reports use for it.
    pub fn report_unit(self, system: UnitSystem) -> &'static Unit {
        let symbol = match (self, system) {
            (_, UnitSystem::Metric) | (Kind::Time | Kind::Share | Kind::Energy | Kind::Clock, _) => {
                return &self.units()[0];
            }
            (Kind::Temperature | Kind::Difference, UnitSystem::Us) => "degF",
            (Kind::Length, UnitSystem::Us) => "ft",
            (Kind::Area, UnitSystem::Us) => "ft2",
            (Kind::Volume, UnitSystem::Us) => "gal",
            (Kind::Flow, UnitSystem::Us) => "gpm",
            (Kind::DailyVolume, UnitSystem::Us) => "gal/day",
            (Kind::Power, UnitSystem::Us) => "BTU/h",
            (Kind::Mass, UnitSystem::Us) => "lb",
            (Kind::Diffusivity, UnitSystem::Us) => "ft2/day",
            (Kind::Pressure, UnitSystem::Us) => "psi",
            (Kind::Hardness, UnitSystem::Us) => "gpg",
            (Kind::VolumePrice, UnitSystem::Us) => "per 1000 gal",
            (Kind::EnergyPrice, UnitSystem::Us) => "per kWh",
            (_, UnitSystem::Us) => {
                return self
                    .units()
                    .iter()
                    .find(|unit| unit.symbol.contains("BTU"))
                    .unwrap_or(&self.units()[0]);
            }
        };
        self.unit(symbol).unwrap_or(&self.units()[0])
    }

    /// The unit with this spelling: as written first, then without regard to case if only one unit fits.
    pub fn unit(self, spelling: &str) -> Option<&'static Unit> {
        self.unit_spelt(&Spelling::of(spelling))
    }

    fn unit_spelt(self, wanted: &Spelling) -> Option<&'static Unit> {
        let known = &SPELLINGS[self as usize];
        if let Some((_, unit)) = known.iter().find(|(spelling, _)| spelling.exact == wanted.exact) {
            return Some(unit);
        }
        let mut fitting =
            known.iter().filter(|(spelling, _)| spelling.folded == wanted.folded).map(|&(_, unit)| unit);
        let first = fitting.next()?;
        fitting.all(|unit| std::ptr::eq(unit, first)).then_some(first)
    }

    /// Reads a value as people write it.
    ///
    /// # Errors
    /// No number, no unit, a unit of another kind, a comma in the number and the like: [`UnitError`].
    ///
    /// # Example
    /// ```
    /// use larderloop::units::Kind;
    /// let door = Kind::Length.read("6 ft 8 in")?;
    /// assert!((door.si - 2.032).abs() < 1e-12); // 80 inches of 25.4 mm
    /// assert_eq!(Kind::Temperature.read("4").unwrap_err().to_string(), "`4` has no unit; a temperature is needed");
    /// # Ok::<(), larderloop::units::UnitError>(())
    /// ```
    pub fn read(self, text: &str) -> Result<Reading, UnitError> {
        let given = text.trim();
        match self {
            Kind::Clock => clock(given),
            Kind::RValue => match r_value(given)? {
                Some(reading) => Ok(reading),
                None => self.parts(given),
            },
            Kind::Share => self.share(given),
            Kind::DailyCount => {
                let reading = self.parts(given)?;
                if reading.si.fract() == 0.0 {
                    Ok(reading)
                } else {
                    Err(UnitError::NotWhole { given: given.to_owned() })
                }
            }
            _ => self.parts(given),
        }
    }

    /// The units taken, as a list for a message.
    pub fn takes(self) -> String {
        match self {
            Kind::Clock => "a time of day in quotes, such as \"07:00\"".to_owned(),
            Kind::Share => "a percentage such as `30 %`, or a bare number from 0 to 1".to_owned(),
            Kind::RValue => "`R-30`, `RSI 5.3`, or a number with m2K/W or h ft2 F/BTU".to_owned(),
            _ => {
                let symbols: Vec<_> = self.units().iter().map(|unit| unit.symbol).collect();
                format!("a number with {}", either(&symbols))
            }
        }
    }

    /// A regular expression (ECMA 262) for what [`Kind::read`] takes; ranges are not in it.
    ///
    /// A bare number from 0 to 1, which is a share too, is no text and is not in it either.
    pub fn pattern(self) -> String {
        let units: Vec<_> = self.units().iter().flat_map(Unit::spellings).map(|one| loose(&one)).collect();
        let value = format!(r"{NUMBER}{FILL}({})\s*", units.join("|"));
        match self {
            Kind::Clock => r"^\s*\d{1,2}:[0-5]\d\s*$".to_owned(),
            Kind::Share => format!(r"^\s*({value}|[01](\.\d*)?|\.\d+)\s*$"),
            Kind::RValue => format!(r"^\s*({value}|[rR]([sS][iI])?\s*[-=]*\s*{NUMBER})\s*$"),
            _ if self.adds_up() => format!(r"^\s*({value}){{1,2}}$"),
            _ => format!(r"^\s*{value}$"),
        }
    }

    fn share(self, given: &str) -> Result<Reading, UnitError> {
        match number(given)? {
            Some((value, "")) if value > 1.0 => Err(UnitError::PercentMeant { given: given.to_owned() }),
            Some((value, "")) => Ok(Reading { si: value, unit: &BARE_UNIT }),
            _ => self.parts(given),
        }
    }

    /// One or, for lengths and times, several numbers with units.
    fn parts(self, given: &str) -> Result<Reading, UnitError> {
        let Some((value, rest)) = number(given)? else {
            if let Some(reading) = r_value(given)? {
                let cause =
                    self.likely_cause(Kind::RValue, reading.unit.value(reading.si), reading.unit.symbol);
                return Err(UnitError::OtherKind {
                    given: given.to_owned(),
                    is: Kind::RValue.name(),
                    wanted: self.name(),
                    takes: self.takes(),
                    cause,
                });
            }
            return Err(UnitError::NoNumber {
                given: given.to_owned(),
                wanted: self.name(),
                takes: self.takes(),
            });
        };
        let (word, more) = split_unit(rest);
        if self.adds_up() && !more.is_empty() {
            let first = self.with_unit(given, value, word)?;
            return self.add(given, first, more);
        }
        self.with_unit(given, value, rest)
    }

    /// Whether values such as `7 ft 6 in` are written in several parts.
    fn adds_up(self) -> bool {
        matches!(self, Kind::Length | Kind::Time)
    }

    fn add(self, given: &str, first: Reading, rest: &str) -> Result<Reading, UnitError> {
        let mixed = || UnitError::MixedParts { given: given.to_owned() };
        let Some((value, rest)) = number(rest)? else { return Err(mixed()) };
        let second = self.with_unit(given, value, rest)?;
        let fits = first.si >= 0.0 && value >= 0.0 && second.unit.scale < first.unit.scale;
        if !fits || second.si >= first.unit.scale {
            return Err(mixed());
        }
        Ok(Reading { si: first.si + second.si, unit: first.unit })
    }

    fn with_unit(self, given: &str, value: f64, unit: &str) -> Result<Reading, UnitError> {
        if unit.is_empty() {
            return Err(UnitError::NoUnit {
                given: given.to_owned(),
                wanted: self.name(),
                takes: self.takes(),
            });
        }
        let spelling = Spelling::of(unit);
        let Some(unit) = self.unit_spelt(&spelling) else {
            return Err(self.unit_of_another_kind(given, value, unit, &spelling));
        };
        let si = unit.si(value);
        if si.is_finite() {
            Ok(Reading { si, unit })
        } else {
            Err(UnitError::TooLarge { given: given.to_owned() })
        }
    }

    fn unit_of_another_kind(self, given: &str, value: f64, unit: &str, spelling: &Spelling) -> UnitError {
        let (given, takes, wanted) = (given.to_owned(), self.takes(), self.name());
        match Kind::ALL.into_iter().find(|kind| kind.unit_spelt(spelling).is_some()) {
            Some(other) => {
                let cause = self.likely_cause(other, value, unit);
                UnitError::OtherKind { given, is: other.name(), wanted, takes, cause }
            }
            None => UnitError::UnknownUnit { given, unit: unit.to_owned(), wanted, takes },
        }
    }

    /// What was probably meant by a value of another kind.
    fn likely_cause(self, given: Kind, value: f64, unit: &str) -> Option<String> {
        let value = plain(value, DIGITS);
        match (self, given) {
            (Kind::Power, Kind::Energy) if unit.eq_ignore_ascii_case("BTU") => {
                Some(format!("if these are BTU an hour, as on nameplates, write `{value} BTU/h`"))
            }
            (Kind::Power, Kind::Energy) => Some(format!(
                "if this is the energy of a day write `{value} {unit}/day`; if it is the power itself leave out the h"
            )),
            (Kind::DailyVolume, Kind::Volume) | (Kind::DailyTime, Kind::Time) => {
                Some(format!("if this is for each day write `{value} {unit}/day`"))
            }
            (Kind::Volume, Kind::DailyVolume) | (Kind::Time, Kind::DailyTime) => {
                Some("this is for the thing itself, not for each day".to_owned())
            }
            (Kind::UValue, Kind::RValue) => Some("an R value goes under `r_value`".to_owned()),
            (Kind::RValue, Kind::UValue) => Some("a U value goes under `u_value`".to_owned()),
            (Kind::UValue, Kind::LinearLoss) => {
                Some("this is the conductivity of a material; the U value is conductivity over thickness, with films".to_owned())
            }
            (Kind::Conductance, Kind::Power) => {
                Some("a loss given in watts belongs under `standing_loss`".to_owned())
            }
            (Kind::EnergyPrice, Kind::Energy) | (Kind::VolumePrice, Kind::Volume) => {
                Some(format!("this is the price of one unit: write `{value} per {unit}`"))
            }
            (Kind::Power, Kind::Conductance) => Some("a loss given per kelvin belongs under `loss`".to_owned()),
            _ => None,
        }
    }
}

/// Significant digits of numbers in messages and defaults.
pub const DIGITS: usize = 4;

impl Unit {
    /// All spellings as they stand in the table.
    fn written(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.symbol).chain(self.also.iter().copied())
    }

    /// All spellings, normalised.
    fn spellings(&self) -> impl Iterator<Item = String> {
        self.written().map(normal)
    }

    /// The number in this unit.
    pub fn value(&self, si: f64) -> f64 {
        (si - self.zero) / self.scale
    }

    /// The value in SI of a number in this unit.
    pub fn si(&self, value: f64) -> f64 {
        value * self.scale + self.zero
    }

    /// Number and unit, rounded to `digits` significant digits.
    pub fn write_rounded(&self, si: f64, digits: usize) -> String {
        if self.symbol == "hh:mm" {
            return write_clock(si);
        }
        let number = plain(self.value(si), digits);
        if self.symbol.is_empty() { number } else { format!("{number} {}", self.symbol) }
    }

    /// Number and unit, rounded to [`DIGITS`] significant digits.
    pub fn write(&self, si: f64) -> String {
        self.write_rounded(si, DIGITS)
    }
}

/// A written value in the units of a report, as it could be written there; one that cannot be read stays.
///
/// Watts stay watts, because nameplates give them everywhere; flows by the hour are of air, which US practice counts in
/// cubic feet a minute.
pub fn written_in(kind: Kind, text: &str, system: UnitSystem) -> String {
    let metric = kind.report_unit(UnitSystem::Metric);
    let unit = match kind {
        Kind::Flow if system == UnitSystem::Us && text.ends_with("m3/h") => {
            kind.unit("cfm").unwrap_or(metric)
        }
        Kind::Power if text.ends_with('W') => metric,
        _ => kind.report_unit(system),
    };
    match kind.read(text) {
        Ok(reading) if !std::ptr::eq(unit, metric) => unit.write(reading.si),
        _ => text.to_owned(),
    }
}

/// A value in the unit of a report.
pub fn write(kind: Kind, si: f64, system: UnitSystem) -> String {
    kind.report_unit(system).write(si)
}

/// A number with so many significant digits, without trailing zeros and without an exponent.
pub fn plain(value: f64, digits: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".to_owned() } else { value.to_string() };
    }
    let magnitude = libm::floor(libm::log10(value.abs()));
    let decimals = (digits as f64 - 1.0 - magnitude).clamp(0.0, 18.0) as usize;
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A list for a message: `a, b or c`.
pub fn either<S: AsRef<str>>(items: &[S]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<_> = first.iter().map(AsRef::as_ref).collect();
            format!("{} or {}", first.join(", "), last.as_ref())
        }
    }
}

/// A unit's spelling in the form in which spellings are compared: `W/(m² K)` and `W / m2 K` become `W/m2K`.
fn normal(unit: &str) -> String {
    let words: String = unit
        .split_whitespace()
        .map(|word| if matches!(word, "per" | "a" | "each" | "every") { "/" } else { word })
        .collect();
    let mut text = String::new();
    for sign in words.chars() {
        match sign {
            '²' => text.push('2'),
            '³' => text.push('3'),
            '°' | 'º' => text.push_str("deg"),
            '(' | ')' | '·' | '⋅' | '*' | '^' => {}
            other => text.push(other),
        }
    }
    text
}

/// A number, as [`number`] reads it.
const NUMBER: &str = r"[+\-−]?(\d+\.?\d*|\.\d+)([eE][+\-]?\d+)?";
/// What [`normal`] leaves out of a unit.
const FILL: &str = r"[\s()·⋅*^]*";

/// A regular expression for every way to write a normalised spelling, without regard to case.
fn loose(spelling: &str) -> String {
    let signs = spelling.chars().map(|sign| match sign {
        '2' => "[2²]".to_owned(),
        '3' => "[3³]".to_owned(),
        '/' => "(/|per|a|each|every)".to_owned(),
        letter if letter.is_ascii_alphabetic() => {
            format!("[{}{}]", letter.to_ascii_lowercase(), letter.to_ascii_uppercase())
        }
        other => format!("[{other}]"),
    });
    let pattern = signs.collect::<Vec<_>>().join(FILL);
    let degree = ["[dD]", "[eE]", "[gG]"].join(FILL);
    format!("{}{FILL}", pattern.replace(&degree, &format!("({degree}|[°º])")))
}

/// The number at the start and the rest, trimmed; `None` if there is no number.
fn number(text: &str) -> Result<Option<(f64, &str)>, UnitError> {
    let text = text.trim_start();
    let length = number_length(text);
    let (digits, rest) = text.split_at(length);
    if comma_follows(digits, rest) {
        return Err(comma(text, digits, rest));
    }
    let Ok(value) = digits.replace('−', "-").parse::<f64>() else { return Ok(None) };
    if !value.is_finite() {
        return Err(UnitError::TooLarge { given: text.to_owned() });
    }
    Ok(Some((value, rest.trim())))
}

/// Length in bytes of the number at the start: sign, digits, point, digits, exponent.
fn number_length(text: &str) -> usize {
    let sign = text.chars().next().filter(|c| matches!(c, '+' | '-' | '−')).map_or(0, char::len_utf8);
    let mut length = sign + digits_at(&text[sign..]);
    if text[length..].starts_with('.') {
        length += 1 + digits_at(&text[length + 1..]);
    }
    if text[length..].starts_with(['e', 'E']) {
        let after = &text[length + 1..];
        let sign = usize::from(after.starts_with(['+', '-']));
        let digits = digits_at(&after[sign..]);
        if digits > 0 {
            length += 1 + sign + digits;
        }
    }
    length
}

fn digits_at(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

fn comma_follows(digits: &str, rest: &str) -> bool {
    !digits.is_empty() && rest.strip_prefix(',').is_some_and(|after| digits_at(after) > 0)
}

/// The refusal of `1,5 K` and `1,000 L`, with what may have been meant.
fn comma(given: &str, before: &str, rest: &str) -> UnitError {
    let after = &rest[1..];
    let decimals = digits_at(after);
    let unit = &after[decimals..];
    let mut ways = vec![format!("`{before}.{after}`")];
    if decimals == 3 && !unit.starts_with(',') {
        ways.push(format!("`{before}{after}`"));
    }
    UnitError::Comma { given: given.to_owned(), instead: either(&ways) }
}

/// The unit at the start and what follows it from the next digit on.
///
/// A digit belongs to the unit when it follows a letter (`m2`); it starts a new part after a space, `'` or `"`.
fn split_unit(text: &str) -> (&str, &str) {
    let mut before = ' ';
    for (index, sign) in text.char_indices() {
        if index > 0 && sign.is_ascii_digit() && (before.is_whitespace() || before == '\'') {
            return (text[..index].trim(), &text[index..]);
        }
        before = sign;
    }
    (text.trim(), "")
}

/// `R-30`, `R30`, `RSI 5.3`; `None` if it is not written so.
fn r_value(given: &str) -> Result<Option<Reading>, UnitError> {
    let folded = given.to_uppercase();
    let (unit, prefix) = if folded.starts_with("RSI") {
        (&R_VALUE[0], 3)
    } else if folded.starts_with('R') {
        (&R_VALUE[1], 1)
    } else {
        return Ok(None);
    };
    let Some(rest) = given.get(prefix..) else { return Ok(None) };
    let rest = rest.trim_start().trim_start_matches(['-', '=']).trim_start();
    Ok(match number(rest)? {
        Some((value, "")) => Some(Reading { si: unit.si(value), unit }),
        _ => None,
    })
}

/// `07:00` to seconds after midnight.
fn clock(given: &str) -> Result<Reading, UnitError> {
    let two_numbers = given.split_once(':').and_then(|(hours, minutes)| {
        let short = |text: &str| !text.is_empty() && text.len() <= 2 && digits_at(text) == text.len();
        if !short(hours) || minutes.len() != 2 || !short(minutes) {
            return None;
        }
        Some((hours.parse::<u32>().ok()?, minutes.parse::<u32>().ok()?))
    });
    match two_numbers {
        Some((hours, minutes)) if minutes < 60 && hours * 60 + minutes <= 24 * 60 => {
            Ok(Reading { si: f64::from(hours * 60 + minutes) * MINUTE_S, unit: &CLOCK[0] })
        }
        _ => Err(UnitError::NotAClockTime { given: given.to_owned() }),
    }
}

fn write_clock(si: f64) -> String {
    let minutes = libm::floor(si / MINUTE_S + 1e-9) as u32;
    format!("\"{:02}:{:02}\"", minutes / 60, minutes % 60)
}

/// `a - b`: uom has no subtraction of two absolute temperatures.
pub fn difference(a: ThermodynamicTemperature, b: ThermodynamicTemperature) -> TemperatureInterval {
    interval(to_kelvin(a) - to_kelvin(b))
}

/// Degrees Celsius of a temperature.
pub fn to_degc(temperature: ThermodynamicTemperature) -> f64 {
    to_kelvin(temperature) - ZERO_CELSIUS_K
}

/// Kelvin of a temperature.
pub fn to_kelvin(temperature: ThermodynamicTemperature) -> f64 {
    temperature.get::<thermodynamic_temperature::kelvin>()
}

/// A temperature from degrees Celsius.
pub fn celsius(degc: f64) -> ThermodynamicTemperature {
    kelvin(degc + ZERO_CELSIUS_K)
}

macro_rules! from_si {
    ($($(#[$doc:meta])* $name:ident: $quantity:ident, $unit:path;)*) => {
        $($(#[$doc])* pub fn $name(si: f64) -> $quantity { $quantity::new::<$unit>(si) })*
    };
}

from_si! {
    /// A temperature from kelvin.
    kelvin: ThermodynamicTemperature, thermodynamic_temperature::kelvin;
    /// A temperature difference from kelvin.
    interval: TemperatureInterval, temperature_interval::kelvin;
    /// A length from metres.
    metres: Length, length::meter;
    /// An area from square metres.
    square_metres: Area, area::square_meter;
    /// A volume from cubic metres.
    cubic_metres: Volume, volume::cubic_meter;
    /// A flow from cubic metres per second.
    flow: VolumeRate, volume_rate::cubic_meter_per_second;
    /// A power from watts.
    watts: Power, power::watt;
    /// A heat loss per degree from W/K.
    conductance: ThermalConductance, thermal_conductance::watt_per_kelvin;
    /// A U value from W/(m2 K).
    u_value: HeatTransfer, heat_transfer::watt_per_square_meter_kelvin;
    /// A conductivity or loss per length from W/(m K).
    conductivity: ThermalConductivity, thermal_conductivity::watt_per_meter_kelvin;
    /// A mass from kilograms.
    kilograms: Mass, mass::kilogram;
    /// A time from seconds.
    seconds: Time, time::second;
    /// A share from a fraction.
    fraction: Ratio, ratio::ratio;
    /// A diffusivity from m2/s.
    diffusivity: DiffusionCoefficient, diffusion_coefficient::square_meter_per_second;
    /// A heat capacity from J/K.
    joules_per_kelvin: HeatCapacity, heat_capacity::joule_per_kelvin;
    /// A pressure from pascals.
    pascals: Pressure, pressure::pascal;
    /// A hardness of water, or another mass in a volume, from kg/m3.
    kilograms_per_cubic_metre: MassDensity, mass_density::kilogram_per_cubic_meter;
}

#[cfg(test)]
mod tests;

//! How quantities are said to the household: one rounding rule each, in the household's own units.

use crate::household::UnitSystem;
use crate::plant::HOUR_S;
use crate::units::Kind;

/// Seconds in a minute.
const MINUTE_S: f64 = 60.0;
/// Temperature from which Fahrenheit is said in whole degrees, K: hot water needs no tenths, a cold room does.
const WHOLE_FAHRENHEIT_FROM_K: f64 = 288.15;
/// Below this a duration is said in minutes, s.
const SHORT_S: f64 = 2.0 * HOUR_S;

/// English names of the months.
pub const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The same in three letters, as they are written in a scenario and in tables.
pub const SHORT_MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/// Says quantities in one unit system.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wording(pub UnitSystem);

impl Wording {
    /// The number in the household's unit.
    fn value(self, kind: Kind, si: f64) -> f64 {
        kind.report_unit(self.0).value(si)
    }

    /// One of two words, by unit system.
    fn word(self, metric: &'static str, us: &'static str) -> &'static str {
        match self.0 {
            UnitSystem::Metric => metric,
            UnitSystem::Us => us,
        }
    }

    /// An absolute temperature (K): one decimal, but whole °F above 15 °C.
    pub fn temperature(self, k: f64) -> String {
        let places = if self.0 == UnitSystem::Us && k >= WHOLE_FAHRENHEIT_FROM_K { 0 } else { 1 };
        format!("{} {}", decimals(self.value(Kind::Temperature, k), places), self.word("°C", "°F"))
    }

    /// A temperature difference (K): one decimal.
    pub fn difference(self, dk: f64) -> String {
        format!("{} {}", decimals(self.value(Kind::Difference, dk), 1), self.word("degrees C", "degrees F"))
    }

    /// One degree of the household's scale, as a difference, K.
    pub fn one_degree_dk(self) -> f64 {
        Kind::Difference.report_unit(self.0).si(1.0)
    }

    /// A pressure (Pa): kilopascals, or pounds-force per square inch.
    pub fn pressure(self, pa: f64) -> String {
        format!("{} {}", decimals(self.value(Kind::Pressure, pa), 0), self.word("kPa", "psi"))
    }

    /// A hardness of water (kg/m3 of calcium carbonate): milligrams in a litre, in US units grains in a gallon before them.
    pub fn hardness(self, kg_m3: f64) -> String {
        let metric = format!("{} mg/L", number(1000.0 * kg_m3));
        match self.0 {
            UnitSystem::Metric => metric,
            UnitSystem::Us => {
                format!("{} grains per gallon ({metric})", number(self.value(Kind::Hardness, kg_m3)))
            }
        }
    }

    /// A volume of water (m3).
    pub fn volume(self, m3: f64) -> String {
        format!("{} {}", number(self.value(Kind::Volume, m3)), self.word("L", "gal"))
    }

    /// A flow of water (m3/s).
    pub fn flow(self, m3_s: f64) -> String {
        format!("{}/min", self.volume(m3_s * MINUTE_S))
    }

    /// The volume of a room (m3).
    pub fn space(self, m3: f64) -> String {
        match self.0 {
            UnitSystem::Metric => format!("{} m³", number(m3)),
            UnitSystem::Us => {
                format!("{} ft³", number(Kind::Volume.unit("ft3").map_or(m3, |unit| unit.value(m3))))
            }
        }
    }

    /// A mass in a volume of air (kg/m3), as limits for refrigerants are given: by the cubic metre, in US units by the
    /// thousand cubic feet with the metric number behind.
    pub fn concentration(self, kg_m3: f64) -> String {
        let metric = format!("{} g/m³", number(kg_m3 * 1000.0));
        match self.0 {
            UnitSystem::Metric => metric,
            UnitSystem::Us => {
                let cubic_feet_m3 = Kind::Volume.unit("ft3").map_or(1.0, |unit| unit.si(1000.0));
                format!("{} per 1,000 ft³ ({metric})", self.mass(kg_m3 * cubic_feet_m3))
            }
        }
    }

    /// A mass (kg).
    pub fn mass(self, kg: f64) -> String {
        format!("{} {}", number(self.value(Kind::Mass, kg)), self.word("kg", "lb"))
    }

    /// A mass (kg) to a tenth, for parts that are told beside their whole.
    pub fn mass_in_tenths(self, kg: f64) -> String {
        format!("{} {}", decimals(self.value(Kind::Mass, kg), 1), self.word("kg", "lb"))
    }

    /// Heat or electricity (J), always in kWh.
    pub fn energy(self, j: f64) -> String {
        format!("{} kWh", number(self.value(Kind::Energy, j)))
    }

    /// A rate of heat (W): watts, or BTU/h.
    pub fn heat_rate(self, w: f64) -> String {
        match self.0 {
            UnitSystem::Metric => self.electric_power(w),
            UnitSystem::Us => format!("{} BTU/h", number(self.value(Kind::Power, w))),
        }
    }

    /// Electric power (W): watts in both unit systems, kilowatts from 1000 W.
    pub fn electric_power(self, w: f64) -> String {
        if w.abs() < 1000.0 { format!("{} W", number(w)) } else { format!("{} kW", decimals(w / 1000.0, 1)) }
    }

    /// A duration (s): minutes below two hours, else hours.
    pub fn duration(self, s: f64) -> String {
        if s < SHORT_S {
            let minutes = number(s / MINUTE_S);
            let unit = if minutes == "1" { "minute" } else { "minutes" };
            format!("{minutes} {unit}")
        } else {
            self.hours(s)
        }
    }

    /// A duration (s), always in hours.
    pub fn hours(self, s: f64) -> String {
        let hours = number(s / HOUR_S);
        let unit = if hours == "1" { "hour" } else { "hours" };
        format!("{hours} {unit}")
    }
}

/// A number with about three digits: one or two decimals when small, rounded to three digits when
/// large, thousands separated.
pub fn number(value: f64) -> String {
    match value.abs() {
        size if size < 0.95 => decimals(value, 2),
        size if size < 9.95 => decimals(value, 1),
        size if size < 999.5 => decimals(value, 0),
        size => {
            let unit = libm::pow(10.0, libm::floor(libm::log10(size)) - 2.0);
            decimals((value / unit).round() * unit, 0)
        }
    }
}

/// A number rounded to `places` decimals, trailing zeros and a minus before zero dropped, thousands separated by commas.
pub fn decimals(value: f64, places: usize) -> String {
    let plain = format!("{value:.places$}");
    let plain = if plain.contains('.') { plain.trim_end_matches('0').trim_end_matches('.') } else { &plain };
    let (sign, digits) = plain.strip_prefix('-').map_or(("", plain), |digits| ("-", digits));
    let (whole, fraction) =
        digits.split_once('.').map_or((digits, None), |(whole, part)| (whole, Some(part)));
    let mut grouped = String::new();
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    let sign = if digits == "0" { "" } else { sign };
    match fraction {
        Some(part) => format!("{sign}{grouped}.{part}"),
        None => format!("{sign}{grouped}"),
    }
}

/// A fraction (0 to 1) in per cent: one decimal below 10 %.
pub fn percent(fraction: f64) -> String {
    let percent = fraction * 100.0;
    format!("{} %", if percent.abs() < 9.95 { decimals(percent, 1) } else { decimals(percent, 0) })
}

/// A count with its noun in singular or plural (`s` added).
pub fn count(amount: f64, noun: &str) -> String {
    let said = number(amount);
    let ending = if said == "1" { "" } else { "s" };
    format!("{said} {noun}{ending}")
}

/// Words joined by commas and a last "and".
pub fn list(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// The months for which `holds` is true, runs of three and more as "June to September"; a run over
/// the turn of the year is one run. "every month" for all, the empty string for none.
pub fn months(holds: impl Fn(usize) -> bool) -> String {
    if (0..12).all(&holds) {
        return "every month".to_owned();
    }
    let Some(gap) = (0..12).find(|&month| !holds(month)) else {
        return String::new();
    };
    let mut runs: Vec<(usize, usize)> = Vec::new();
    let mut month = gap + 1;
    while month < gap + 12 {
        if holds(month % 12) {
            let first = month;
            while holds((month + 1) % 12) {
                month += 1;
            }
            runs.push((first, month));
        }
        month += 1;
    }
    runs.sort_by_key(|&(first, _)| first % 12);
    let mut words = Vec::new();
    for (first, last) in runs {
        match last - first {
            0 => words.push(MONTHS[first % 12].to_owned()),
            1 => words.extend([MONTHS[first % 12].to_owned(), MONTHS[last % 12].to_owned()]),
            _ => words.push(format!("{} to {}", MONTHS[first % 12], MONTHS[last % 12])),
        }
    }
    list(&words)
}

#[cfg(test)]
mod tests {
    use super::*;

    const METRIC: Wording = Wording(UnitSystem::Metric);
    const US: Wording = Wording(UnitSystem::Us);

    #[test]
    fn temperatures_are_said_in_the_households_degrees() {
        assert_eq!(METRIC.temperature(277.15), "4 °C");
        assert_eq!(METRIC.temperature(322.25), "49.1 °C");
        assert_eq!(METRIC.temperature(273.12), "0 °C");
        assert_eq!(METRIC.temperature(272.05), "-1.1 °C");
        // 49 °C and 120 °F are printed as equals in US and Canadian plumbing codes (IRC P2708; NPC 2.2.10.7).
        assert_eq!(US.temperature(322.15), "120 °F");
        assert_eq!(US.temperature(277.15), "39.2 °F");
        assert_eq!(US.difference(5.0), "9 degrees F");
        assert_eq!(METRIC.difference(2.5), "2.5 degrees C");
    }

    #[test]
    fn volumes_flows_and_energies_keep_about_three_digits() {
        // 80 US gallons are 302.8 L: NIST Handbook 44, Appendix C, 1 gallon = 3.785 411 784 L.
        assert_eq!(METRIC.volume(0.302_832_942_72), "303 L");
        assert_eq!(US.volume(0.302_832_942_72), "80 gal");
        assert_eq!(METRIC.flow(1.0e-4), "6 L/min");
        assert_eq!(US.flow(1.0e-4), "1.6 gal/min");
        // 1000 ft3 are 28.3 m3: US consumer guidance prints both.
        assert_eq!(US.space(28.316_846_592), "1,000 ft³");
        assert_eq!(METRIC.space(8.0), "8 m³");
        // 1 lb/ft3 is 16.018 46 kg/m3: NIST Special Publication 811, appendix B. From memory, to be verified.
        assert_eq!(US.concentration(0.25), "16 lb per 1,000 ft³ (250 g/m³)");
        assert_eq!(US.concentration(0.008), "0.5 lb per 1,000 ft³ (8 g/m³)");
        assert_eq!(METRIC.concentration(0.0355), "36 g/m³");
        assert_eq!(METRIC.energy(4.4424e9), "1,230 kWh");
        assert_eq!(METRIC.energy(3.5982e9), "1,000 kWh");
        assert_eq!(METRIC.volume(12.351), "12,400 L");
        assert_eq!(METRIC.heat_rate(4500.0), "4.5 kW");
        // 12 000 Btu/h (one ton of refrigeration) is 3.517 kW.
        assert_eq!(US.heat_rate(3516.85), "12,000 BTU/h");
        assert_eq!(US.electric_power(1243.0), "1.2 kW");
        assert_eq!(METRIC.electric_power(10.0), "10 W");
    }

    #[test]
    fn pressures_are_said_in_kilopascals_or_psi() {
        // 150 psi are 1035 kPa: printed side by side in US and Canadian plumbing codes.
        assert_eq!(METRIC.pressure(1.035e6), "1,035 kPa");
        assert_eq!(US.pressure(1.035e6), "150 psi");
        assert_eq!(METRIC.pressure(4.0e5), "400 kPa");
    }

    #[test]
    fn hardness_is_said_in_mg_per_litre_and_in_grains() {
        // 1 grain in a US gallon is 17.118 mg/L. Second hand: a converter's page.
        assert_eq!(METRIC.hardness(0.17118), "171 mg/L");
        assert_eq!(US.hardness(0.17118), "10 grains per gallon (171 mg/L)");
    }

    #[test]
    fn durations_are_minutes_while_short_and_hours_after() {
        assert_eq!(METRIC.duration(60.0), "1 minute");
        assert_eq!(METRIC.duration(315.0), "5.2 minutes");
        assert_eq!(METRIC.duration(7199.0), "120 minutes");
        assert_eq!(METRIC.duration(7200.0), "2 hours");
        assert_eq!(METRIC.hours(3600.0), "1 hour");
        assert_eq!(METRIC.hours(0.0), "0 hours");
    }

    #[test]
    fn counts_agree_with_their_nouns() {
        assert_eq!(count(1.0, "start"), "1 start");
        assert_eq!(count(0.0, "start"), "0 starts");
        assert_eq!(count(1.04, "person-day"), "1 person-day");
        assert_eq!(count(12_345.6, "start"), "12,300 starts");
    }

    #[test]
    fn numbers_never_show_a_negative_zero() {
        assert_eq!(number(-0.001), "0");
        assert_eq!(decimals(-0.04, 1), "0");
        assert_eq!(decimals(-1234.5, 1), "-1,234.5");
        assert_eq!(percent(0.0525), "5.2 %");
        assert_eq!(percent(0.35), "35 %");
    }

    #[test]
    fn months_are_listed_as_runs_around_the_turn_of_the_year() {
        assert_eq!(months(|_| false), "");
        assert_eq!(months(|_| true), "every month");
        assert_eq!(months(|month| month == 6), "July");
        assert_eq!(months(|month| (5..=8).contains(&month)), "June to September");
        assert_eq!(months(|month| month >= 10 || month <= 1), "November to February");
        assert_eq!(months(|month| [0, 4, 5].contains(&month)), "January, May and June");
        assert_eq!(months(|month| month != 0), "February to December");
    }
}

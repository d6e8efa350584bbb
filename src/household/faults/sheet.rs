//! Lines of a data sheet that no unit can have, each with the likely slip behind it.

use uom::si::power;

use super::{COP_RANGE, Fault, Parts};
use crate::constants::ZERO_CELSIUS_K;
use crate::heat_pump::{
    Anchoring, CycleMap, Outside, ROOM_AIR_DEGC, WATER_IN_DEGC, WATER_RISE_DK, cop_lorenz, log_mean_k,
};
use crate::household::{HeatPumpUnit, SheetPoint, UnitSize};
use crate::units::{Kind, difference, interval, plain, write};

/// Two lines closer than this in room air, water in and water out speak of the same condition, K.
const SAME_CONDITION_DK: f64 = 0.5;
/// How far their heat or COP may then differ. Common practice, no source: what rounding does to small numbers.
const SAME_VALUE_FRAC: f64 = 0.05;
/// COP that is plausible behind a slip. Common practice, no source.
const PLAUSIBLE_COP: std::ops::RangeInclusive<f64> = 1.5..=7.0;
/// BTU/h in a watt.
const BTU_H_PER_W: f64 = 3.412_14;
/// A machine whose water is, in its log mean, closer than this to the room's air is left out where all of the map is held against
/// the second law, K: there the limit itself runs away.
const LEAST_LIFT_DK: f64 = 10.0;

/// Least share of the time in which a unit heats in air that frosts its coil. Common practice, no source: nothing is sold that
/// defrosts for most of it.
const LEAST_HEATING_FRAC: f64 = 0.1;
/// Keys that say how the unit defrosts.
const DEFROST_KEYS: [&str; 5] = ["every", "by_clock", "at_frost", "takes", "power"];

/// The key of a line, counted from 1.
fn key(line: usize, name: &str) -> String {
    format!("cooler.heat_pump.data_sheet[{}].{name}", line + 1)
}

/// A fault of a line and the other keys of that line that take part in it.
fn line_fault(code: &'static str, line: usize, name: &str, with: &[&str], what: String) -> Fault {
    let mut fault = Fault::error(code, &key(line, name), &[], what);
    fault.with = with.iter().map(|name| key(line, name)).collect();
    fault
}

impl Parts<'_> {
    /// Faults of the lines one by one, then of the lines together.
    pub(super) fn data_sheet(&self, pump: &HeatPumpUnit, faults: &mut Vec<Fault>) {
        let before = faults.len();
        let UnitSize::DataSheet(points) = &pump.size else { return };
        let map = CycleMap::of(pump.cycle);
        for (line, point) in points.iter().enumerate() {
            let fault = self
                .not_warming(line, point)
                .or_else(|| self.no_such_cop(line, point))
                .or_else(|| self.beyond_second_law(line, point))
                .or_else(|| self.over_nameplate(line, point, pump))
                .or_else(|| self.outside_map(line, point, &map))
                .or_else(|| self.only_defrosting(line, point, pump));
            faults.extend(fault);
        }
        faults.extend(self.contradiction(points));
        if faults.len() == before {
            faults.extend(self.bent_too_far(pump));
        }
    }

    fn not_warming(&self, line: usize, point: &SheetPoint) -> Option<Fault> {
        if difference(point.water_out, point.water_in) >= interval(1.0) {
            return None;
        }
        let (cold, warm) = (self.degrees(point.water_in), self.degrees(point.water_out));
        let what = format!("this line of the data sheet heats water from {cold} to {warm}");
        Some(
            line_fault("S134", line, "water_out", &["water_in"], what)
                .allowed(format!("at least {} above {cold}", self.kelvins(1.0)))
                .help("were the two exchanged?"),
        )
    }

    fn no_such_cop(&self, line: usize, point: &SheetPoint) -> Option<Fault> {
        let cop = point.cop()?;
        // A COP given as such comes back from the division with its last digit changed.
        if cop >= COP_RANGE.start() * (1.0 - 1e-9) && cop <= COP_RANGE.end() * (1.0 + 1e-9) {
            return None;
        }
        let what = format!("{} is a COP of {}", self.quotient(point), plain(cop, 3));
        let fault = line_fault("S135", line, "power", &["heat_output", "cop"], what).allowed(format!(
            "a COP of {} to {}",
            COP_RANGE.start(),
            COP_RANGE.end()
        ));
        Some(fault.help(self.cop_cause(point, cop)))
    }

    /// `4.5 kW of heat from 1.2 kW of power`.
    fn quotient(&self, point: &SheetPoint) -> String {
        let power = point.power.unwrap_or_default();
        format!("{} of heat from {} of power", self.watts(point.heat_output), self.watts(power))
    }

    /// The slip that would make the COP a plausible one.
    fn cop_cause(&self, point: &SheetPoint, cop: f64) -> String {
        let plausible = |cop: f64| PLAUSIBLE_COP.contains(&cop);
        let heat_w = point.heat_output.get::<power::watt>();
        let heat = |symbol: &str| {
            let watts = &Kind::Power.units()[0];
            Kind::Power.unit(symbol).map_or(String::new(), |unit| unit.write(unit.si(watts.value(heat_w))))
        };
        if plausible(cop / BTU_H_PER_W) {
            format!("if the heat is in BTU/h, write `{}`", heat("BTU/h"))
        } else if plausible(cop / 24.0) {
            "if the heat is in kWh a day, divide it by 24 hours".to_owned()
        } else if plausible(cop / 1000.0) || plausible(cop * 1000.0) {
            "is one of the two in W and the other in kW?".to_owned()
        } else if plausible(1.0 / cop) {
            "were heat and power exchanged?".to_owned()
        } else if cop <= *COP_RANGE.start() {
            "is the power that of an electric heating rod, or the heat what is taken from the room and not what the water gets?".to_owned()
        } else {
            "is the power that of the fan or the controls alone?".to_owned()
        }
    }

    fn beyond_second_law(&self, line: usize, point: &SheetPoint) -> Option<Fault> {
        let cop = point.cop()?;
        let limit = cop_lorenz(point.room_air.value, point.water_in.value, point.water_out.value)?;
        if cop < limit {
            return None;
        }
        let what = format!(
            "a COP of {} from air of {} to water of {} to {} is more than any machine can reach",
            plain(cop, 3),
            self.degrees(point.room_air),
            self.degrees(point.water_in),
            self.degrees(point.water_out)
        );
        let help = "is it the COP of a season, of another line, or with warmer air?";
        let with = ["heat_output", "cop", "room_air", "water_in", "water_out"];
        Some(
            line_fault("S151", line, "power", &with, what)
                .allowed(format!(
                    "below {}, the limit of Lorenz; good units reach a third of it",
                    plain(limit, 3)
                ))
                .help(help),
        )
    }

    fn over_nameplate(&self, line: usize, point: &SheetPoint, pump: &HeatPumpUnit) -> Option<Fault> {
        let (power, most) = (point.power?, pump.nameplate_power?);
        // A power made of heat and COP has its last digits changed.
        if power <= most * (1.0 + 1e-9) {
            return None;
        }
        let what = format!(
            "the line's power of {} is above the nameplate's {}",
            self.watts(power),
            self.watts(most)
        );
        let mut fault = line_fault("S152", line, "power", &["heat_output", "cop"], what);
        fault.with.push("cooler.heat_pump.nameplate_power".to_owned());
        Some(fault.allowed(format!("at most {}", self.watts(most))).help(
            "are heat and power of the same unit and line? A nameplate shows the largest power that is drawn",
        ))
    }

    fn outside_map(&self, line: usize, point: &SheetPoint, map: &CycleMap) -> Option<Fault> {
        let anchor = point.anchor(map.cycle(), 1.0, None);
        let rise_dk = anchor.water_out_k - anchor.water_in_k;
        let outside = map.at(anchor.room_air_k, anchor.water_in_k, rise_dk).outside;
        let (air, inlet) = (self.degrees(point.room_air), self.degrees(point.water_in));
        let edges = |axis: &[f64]| (axis[0] + ZERO_CELSIUS_K, axis[axis.len() - 1] + ZERO_CELSIUS_K);
        let most_rise_dk = WATER_RISE_DK[WATER_RISE_DK.len() - 1];
        let fault = |name: &str, what: String| {
            line_fault("S153", line, name, &["room_air", "water_in", "water_out"], what)
        };
        let another = "take another line of the sheet";
        match outside {
            Outside { room_air: true, .. } => {
                let range = edges(&ROOM_AIR_DEGC);
                let what = format!("room air of {air} is outside the cycles calculated");
                Some(
                    fault("room_air", what)
                        .allowed(self.range(range))
                        .help(fahrenheit(anchor.room_air_k, range).unwrap_or_else(|| another.to_owned())),
                )
            }
            Outside { inlet: true, .. } => {
                let range = edges(&WATER_IN_DEGC);
                let what = format!("water entering at {inlet} is outside the cycles calculated");
                Some(
                    fault("water_in", what)
                        .allowed(self.range(range))
                        .help(fahrenheit(anchor.water_in_k, range).unwrap_or_else(|| another.to_owned())),
                )
            }
            Outside { rise: true, .. } if rise_dk > most_rise_dk => {
                let most = write(Kind::Difference, most_rise_dk, self.units);
                let what = format!(
                    "water heated from {inlet} to {} is outside the cycles calculated",
                    self.degrees(point.water_out)
                );
                Some(
                    fault("water_out", what)
                        .allowed(format!("at most {most} above the water entering"))
                        .help(another),
                )
            }
            Outside { unreachable: true, .. } => {
                let what = format!(
                    "the cycle of this refrigerant does not reach water of {} from {inlet} in air of {air}",
                    self.degrees(point.water_out)
                );
                Some(
                    fault("water_out", what).help(
                        "is the refrigerant the one on the nameplate? Else take a line with cooler water",
                    ),
                )
            }
            // Less rise than the map has is taken at its smallest: half a kelvin of mean water for each kelvin, some 2 % of COP at most.
            _ => None,
        }
    }

    /// A line that, without the time and power of the unit's defrosting, has a COP that no heat pump has.
    fn only_defrosting(&self, line: usize, point: &SheetPoint, pump: &HeatPumpUnit) -> Option<Fault> {
        if let Some(method) = pump.defrost.filter(|_| point.defrost_included)
            && point.heating_frac(pump.cycle, &method) < LEAST_HEATING_FRAC
        {
            let what = "with the defrosting that `cooler.heat_pump.defrost` tells of, the unit would hardly heat in the air of this line"
                .to_owned();
            let mut fault = line_fault("S156", line, "room_air", &["defrost"], what);
            fault.with.extend(DEFROST_KEYS.map(|name| format!("cooler.heat_pump.defrost.{name}")));
            return Some(
                fault
                    .allowed(format!("heating for {} % of the time or more", 100.0 * LEAST_HEATING_FRAC))
                    .help("check the times of the defrosting and its `at_frost`"),
            );
        }
        let anchor = point.anchor(pump.cycle, pump.frosted_output.value, pump.defrost);
        let power_w = anchor.power_w?;
        let (least, most) = (anchor.heat_w / COP_RANGE.end(), anchor.heat_w / COP_RANGE.start());
        if anchor.power_w == point.power.map(|power| power.value) || (least..=most).contains(&power_w) {
            return None;
        }
        let watts = |power_w: f64| write(Kind::Power, power_w, crate::household::UnitSystem::Metric);
        let what = format!(
            "without the defrosting that `cooler.heat_pump.defrost` tells of, this line's {} of heat would take {} of power",
            watts(anchor.heat_w),
            watts(power_w)
        );
        let mut fault =
            line_fault("S156", line, "power", &["heat_output", "cop", "room_air", "defrost"], what);
        fault.with.extend(DEFROST_KEYS.map(|name| format!("cooler.heat_pump.defrost.{name}")));
        Some(
            fault
                .allowed(format!("{} to {}", watts(least), watts(most)))
                .help("if the line is one of a dry coil, write `defrost: not included`; else check power and times of the defrosting"),
        )
    }

    fn range(&self, (low_k, high_k): (f64, f64)) -> String {
        format!(
            "{} to {}",
            write(Kind::Temperature, low_k, self.units),
            write(Kind::Temperature, high_k, self.units)
        )
    }

    /// The first two lines that give one condition two values.
    fn contradiction(&self, points: &[SheetPoint]) -> Option<Fault> {
        points.iter().enumerate().find_map(|(later, point)| {
            let earlier = points[..later].iter().position(|other| same_condition(point, other) && !same_values(point, other))?;
            let words = |point: &SheetPoint| match point.power {
                Some(_) => self.quotient(point),
                None => format!("{} of heat", self.watts(point.heat_output)),
            };
            let what = format!(
                "lines {} and {} speak of the same air and water, but one has {} and the other {}",
                earlier + 1,
                later + 1,
                words(&points[earlier]),
                words(point)
            );
            let mut fault = line_fault("S154", later, "heat_output", &["power", "cop"], what);
            fault.with.extend(["heat_output", "power", "cop"].map(|name| key(earlier, name)));
            Some(
                fault
                    .allowed("one value for one condition".to_owned())
                    .help("does one belong to another speed, another unit, or to a run with defrosting? Keep the one at full speed"),
            )
        })
    }

    /// Lines that are possible each by itself, but bend the map past the second law elsewhere.
    fn bent_too_far(&self, pump: &HeatPumpUnit) -> Option<Fault> {
        let anchored = pump.anchoring();
        let (air_k, inlet_k, outlet_k, cop, limit) = first_past_second_law(&anchored)?;
        let degrees = |kelvin| write(Kind::Temperature, kelvin, self.units);
        let what = format!(
            "with these lines the unit would have a COP of {} from air of {} to water of {} to {}, more than any machine can reach",
            plain(cop, 3),
            degrees(air_k),
            degrees(inlet_k),
            degrees(outlet_k)
        );
        Some(
            Fault::error("S155", "cooler.heat_pump.data_sheet", &["cooler.heat_pump.refrigerant"], what)
                .allowed(format!("below {} there", plain(limit, 3)))
                .help("are refrigerant and cycle those of the nameplate, and all lines those of one unit at one speed?"),
        )
    }
}

fn same_condition(one: &SheetPoint, other: &SheetPoint) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() < SAME_CONDITION_DK;
    near(one.room_air.value, other.room_air.value)
        && near(one.water_in.value, other.water_in.value)
        && near(one.water_out.value, other.water_out.value)
}

fn same_values(one: &SheetPoint, other: &SheetPoint) -> bool {
    let near = |a: f64, b: f64| (a / b - 1.0).abs() <= SAME_VALUE_FRAC;
    let cops = one.cop().zip(other.cop());
    near(one.heat_output.value, other.heat_output.value) && cops.is_none_or(|(one, other)| near(one, other))
}

/// Degrees Fahrenheit written as degrees Celsius, if the number then lies within the range.
fn fahrenheit(kelvin: f64, (low_k, high_k): (f64, f64)) -> Option<String> {
    let unit = Kind::Temperature.unit("degF")?;
    let meant_k = unit.si(kelvin - ZERO_CELSIUS_K);
    (low_k..=high_k).contains(&meant_k).then(|| format!("if °F is meant, write `{}`", unit.write(meant_k)))
}

/// Room air, water in, water out (K), COP and limit at the first node past the limit of Lorenz.
fn first_past_second_law(anchored: &Anchoring) -> Option<(f64, f64, f64, f64, f64)> {
    for (a, air) in ROOM_AIR_DEGC.iter().enumerate() {
        for (i, inlet) in WATER_IN_DEGC.iter().enumerate() {
            for (r, rise_dk) in WATER_RISE_DK.iter().enumerate() {
                let (air_k, inlet_k) = (air + ZERO_CELSIUS_K, inlet + ZERO_CELSIUS_K);
                let (node, outlet_k) = (anchored.map.node(a, i, r), inlet_k + rise_dk);
                if !node.reachable || log_mean_k(inlet_k, outlet_k) - air_k < LEAST_LIFT_DK {
                    continue;
                }
                let (cop, limit) =
                    (anchored.cop_factor * libm::exp(node.ln_cop), cop_lorenz(air_k, inlet_k, outlet_k)?);
                if cop >= limit {
                    return Some((air_k, inlet_k, outlet_k, cop, limit));
                }
            }
        }
    }
    None
}

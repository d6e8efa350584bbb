//! The pump's limits: where they lie, how long each was passed, and what the household would see.

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::household::UnitSystem;
use crate::plant::{Circuit, Cooler, HOUR_S, Load, Plant};
use crate::report::Assessment;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::units::PSI_PA;
use crate::wording::{Wording, count};
use crate::year::{Interval, Year};

const PA_PER_BAR: f64 = 1e5;

/// A limit of the pump or of what is known about it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Limit {
    /// Which limit.
    pub limit: LimitKind,
    /// Where it lies, degC; `None` where it is no single temperature.
    pub at_degc: Option<f64>,
    /// Where it lies, bar (absolute), if it is a pressure.
    pub at_bar: Option<f64>,
    /// Time in which it held the pump, or in which it was passed, h.
    pub hours: f64,
}

/// The limits that are watched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum LimitKind {
    /// Water at the pump's inlet.
    HighestInlet,
    /// Water at its outlet, applied to the inlet that leads to it.
    HighestOutlet,
    /// Room air too cold.
    LowestRoomAir,
    /// Room air too warm.
    HighestRoomAir,
    /// The probe on the coil.
    CoilProbe,
    /// Outlet above what a single-pass unit aims at.
    OutletOverTarget,
    /// Discharge gas hotter than oil and compressor like, by the calculated cycle.
    HotDischarge,
    /// Discharge pressure at the highest of the calculated cycle.
    HighestPressure,
    /// Room air outside the cycle map.
    MapRoomAir,
    /// Water inlet outside the cycle map.
    MapInlet,
    /// Water rise outside the cycle map.
    MapRise,
    /// Hotter than the cycle reaches.
    MapUnreachable,
}

impl LimitKind {
    fn name(self) -> &'static str {
        match self {
            LimitKind::HighestInlet => "highest inlet",
            LimitKind::HighestOutlet => "highest outlet",
            LimitKind::LowestRoomAir => "lowest room air",
            LimitKind::HighestRoomAir => "highest room air",
            LimitKind::CoilProbe => "probe on the coil",
            LimitKind::OutletOverTarget => "outlet over its aim",
            LimitKind::HotDischarge => "hot discharge gas",
            LimitKind::HighestPressure => "discharge pressure",
            LimitKind::MapRoomAir => "cycle map: room air",
            LimitKind::MapInlet => "cycle map: inlet",
            LimitKind::MapRise => "cycle map: rise",
            LimitKind::MapUnreachable => "cycle map: outlet",
        }
    }

    /// What somebody standing in front of it would see.
    fn seen(self) -> &'static str {
        match self {
            LimitKind::HighestInlet => "stands still; the tank is warm to its foot",
            LimitKind::HighestOutlet => "stops on pressure or water temperature",
            LimitKind::LowestRoomAir => "stands still, or ice on the coil",
            LimitKind::HighestRoomAir => "stands still in a warm room",
            LimitKind::CoilProbe => "stops with a cold coil, its fan turning",
            LimitKind::OutletOverTarget => "hotter water than it was set to",
            LimitKind::HotDischarge => "may stop by itself; its oil ages",
            LimitKind::HighestPressure => "less heat and cold, or a stop on pressure",
            LimitKind::MapRoomAir | LimitKind::MapInlet | LimitKind::MapRise | LimitKind::MapUnreachable => {
                "nothing: the nearest edge is used"
            }
        }
    }
}

/// Every limit with its hours.
pub(super) fn limits(plant: &Plant, year: &Year) -> Vec<Limit> {
    let Cooler::HeatPump(pump) = &plant.cooler;
    let total = &year.total;
    let inlet_at_outlet_stop_k = pump.inlet_at_outlet_stop_k();
    let outlet_binds = inlet_at_outlet_stop_k < pump.inlet_stop_k;
    let (outlet_stop_k, aim_k) = match pump.circuit {
        Circuit::SinglePass { outlet_k, outlet_stop_k, .. } => (outlet_stop_k, Some(outlet_k)),
        Circuit::MultiPass { outlet_stop_k, .. } => (outlet_stop_k, None),
        Circuit::OutdoorAir(_) => return Vec::new(),
    };
    let held = |binds: bool| if binds { total.locked_by_inlet_s } else { 0.0 };
    let limit = |limit, at_k: Option<f64>, duration_s: f64| Limit {
        limit,
        at_degc: at_k.map(|k| k - ZERO_CELSIUS_K),
        at_bar: None,
        hours: duration_s / HOUR_S,
    };
    let mut all = vec![
        limit(LimitKind::HighestInlet, Some(pump.inlet_stop_k), held(!outlet_binds)),
        limit(LimitKind::HighestOutlet, Some(outlet_stop_k), held(outlet_binds)),
        limit(LimitKind::LowestRoomAir, Some(pump.air_stop_low_k), total.locked_by_cold_air_s),
        limit(LimitKind::HighestRoomAir, Some(pump.air_stop_high_k), total.locked_by_warm_air_s),
    ];
    all.extend(
        pump.coil_probe.map(|probe| limit(LimitKind::CoilProbe, Some(probe.stop_k), total.locked_by_coil_s)),
    );
    all.extend(aim_k.map(|aim_k| limit(LimitKind::OutletOverTarget, Some(aim_k), total.over_outlet_s)));
    let cycle = pump.map.cycle();
    all.push(limit(LimitKind::HotDischarge, Some(cycle.hottest_discharge_k()), total.hot_discharge_s));
    all.push(Limit {
        at_bar: Some(cycle.highest_pressure_pa() / PA_PER_BAR),
        ..limit(LimitKind::HighestPressure, None, total.highest_pressure_s)
    });
    all.extend(map_edges(total).map(|(kind, duration_s)| limit(kind, None, duration_s)));
    all
}

fn map_edges(total: &Interval) -> [(LimitKind, f64); 4] {
    let outside = &total.outside_map;
    [
        (LimitKind::MapRoomAir, outside.room_air_s),
        (LimitKind::MapInlet, outside.inlet_s),
        (LimitKind::MapRise, outside.rise_s),
        (LimitKind::MapUnreachable, outside.unreachable_s),
    ]
}

impl LimitKind {
    /// Whether it belongs to the cycle map, not to the machine.
    fn of_the_map(self) -> bool {
        matches!(
            self,
            LimitKind::MapRoomAir | LimitKind::MapInlet | LimitKind::MapRise | LimitKind::MapUnreachable
        )
    }
}

/// The limits that were reached in the year, and that the others were not.
pub(super) fn table(assessment: &Assessment, units: UnitSystem) -> Vec<Block> {
    let machine = |limit: &&Limit| !limit.limit.of_the_map();
    let rows: Vec<_> = assessment
        .limits
        .iter()
        .filter(|limit| machine(limit) || limit.hours > 0.0)
        .map(|limit| row(limit, units))
        .collect();
    let edges_h: f64 =
        assessment.limits.iter().filter(|limit| !machine(limit)).map(|limit| limit.hours).sum();
    let mut notes = vec![
        "Hours: the time in which the limit kept the pump from running, whether or not the room asked for it; of \
         the outlet over its aim and of the discharge gas, running time. Discharge temperature and pressure are those of \
         the calculated cycle, not measured ones; the unit's own controls may stop it earlier."
            .to_owned(),
    ];
    if edges_h == 0.0 {
        notes.push("The pump never left the cycle map.".to_owned());
    }
    if assessment.curve.cop_limits.defrost_takes_min.is_some() {
        notes.push(defrost_words(&assessment.year.total, units));
    }
    vec![
        Block::Heading("The pump's limits".to_owned()),
        Block::Table(Table {
            title: "Where it stops, and for how long in the year".to_owned(),
            columns: vec![
                Column::words("limit"),
                Column::number("at", Measure::Temperature.unit(units)),
                Column::number("time", "h"),
                Column::words("what one would see"),
            ],
            rows,
            year: None,
            notes,
        }),
    ]
}

/// An absolute pressure as printed.
fn pressure(bar: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{bar:.0} bar"),
        UnitSystem::Us => format!("{:.0} psi", bar * PA_PER_BAR / PSI_PA),
    }
}

/// How often a unit with a way of defrosting used it.
fn defrost_words(total: &Interval, units: UnitSystem) -> String {
    let say = Wording(units);
    if total.defrosts > 0.0 {
        format!(
            "The unit defrosts {} in the year: {} without cooling, {}.",
            count(total.defrosts, "time"),
            say.hours(total.defrost_s),
            say.energy(total.electricity_j[Load::Defrost as usize])
        )
    } else if total.frosted_s > 0.0 {
        "The unit never begins a defrost: in every rest the frost thaws by itself before one is due."
            .to_owned()
    } else {
        "The unit never begins a defrost: no frost forms.".to_owned()
    }
}

fn row(limit: &Limit, units: UnitSystem) -> Vec<String> {
    let at =
        limit.at_degc.map_or_else(String::new, |degc| Measure::Temperature.rounded(degc, units).to_string());
    let seen = if limit.hours > 0.0 { limit.limit.seen() } else { "not reached" };
    let name = match limit.at_bar {
        Some(bar) => format!("{} {}", limit.limit.name(), pressure(bar, units)),
        None => limit.limit.name().to_owned(),
    };
    vec![name, at, Measure::Duration.rounded(limit.hours, units).to_string(), seen.to_owned()]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;

    fn hours(limits: &[Limit], kind: LimitKind) -> f64 {
        limits.iter().find(|limit| limit.limit == kind).expect("every limit is listed").hours
    }

    #[test]
    fn the_years_defrosts_are_told_and_that_there_are_none() {
        let mut total = example::year().total;
        (total.defrosts, total.defrost_s, total.frosted_s) = (0.0, 0.0, 0.0);
        assert!(defrost_words(&total, UnitSystem::Metric).contains("no frost forms"));
        total.frosted_s = 3600.0;
        assert!(defrost_words(&total, UnitSystem::Metric).contains("thaws by itself before one is due"));
        (total.defrosts, total.defrost_s) = (812.0, 68.0 * HOUR_S);
        total.electricity_j[Load::Defrost as usize] = 40.0 * 3.6e6;
        assert_eq!(
            defrost_words(&total, UnitSystem::Metric),
            "The unit defrosts 812 times in the year: 68 hours without cooling, 40 kWh."
        );
    }

    #[test]
    fn hours_are_told_under_the_limit_that_holds() {
        let mut plant = example::plant();
        let mut year = example::year();
        year.total.locked_by_inlet_s = 7200.0;
        let inlet = limits(&plant, &year);
        assert_eq!(hours(&inlet, LimitKind::HighestInlet), 2.0);
        assert_eq!(hours(&inlet, LimitKind::HighestOutlet), 0.0);
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        let Circuit::SinglePass { min_rise_dk, outlet_stop_k, .. } = &mut pump.circuit else {
            panic!("the example heats in one pass")
        };
        *outlet_stop_k = pump.inlet_stop_k + *min_rise_dk - 1.0;
        let outlet = limits(&plant, &year);
        assert_eq!(hours(&outlet, LimitKind::HighestInlet), 0.0);
        assert_eq!(hours(&outlet, LimitKind::HighestOutlet), 2.0);
    }
}

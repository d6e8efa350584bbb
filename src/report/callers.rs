//! The year under each thermostat that may call the pump, side by side.

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::household::{CalledBy, CoolerUnit, Household, UnitSystem};
use crate::report::Assessment;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::report::quantity::{self, Quantity};
use crate::year::Year;

/// The year under one way of calling the pump.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CallerYear {
    /// Whose thermostat calls.
    pub called_by: &'static str,
    /// Whether it is the household's own.
    pub own: bool,
    /// Contents over the warm limit, h.
    pub over_band_h: f64,
    /// Contents or room air below the highest freezing point stored, h: the longer of the two.
    pub frozen_h: f64,
    /// Electricity, kWh.
    pub electricity_kwh: f64,
    /// Heat to the water, kWh.
    pub heat_to_water_kwh: f64,
    /// Booster heat, kWh.
    pub booster_kwh: f64,
    /// Water dumped, L.
    pub dump_l: f64,
    /// Starts.
    pub starts: f64,
}

impl CallerYear {
    /// A year under a way of calling.
    pub fn of(caller: CalledBy, household: &Household, year: &Year) -> Self {
        let CoolerUnit::HeatPump(unit) = &household.cooler;
        let value = |quantity: &Quantity| quantity.of(&year.total).unwrap_or_default();
        Self {
            called_by: word(caller),
            own: unit.called_by == caller,
            over_band_h: value(&quantity::OVER_BAND),
            frozen_h: value(&quantity::FROZEN_CONTENTS).max(value(&quantity::FROZEN_AIR)),
            electricity_kwh: value(&quantity::ELECTRICITY),
            heat_to_water_kwh: value(&quantity::HEAT_TO_WATER),
            booster_kwh: value(&quantity::BOOSTER),
            dump_l: value(&quantity::DUMP),
            starts: value(&quantity::STARTS),
        }
    }
}

fn word(caller: CalledBy) -> &'static str {
    match caller {
        CalledBy::Room => "room",
        CalledBy::Tank => "tank",
        CalledBy::Both => "both",
    }
}

/// The table, and what each way means.
pub(super) fn table(assessment: &Assessment, units: UnitSystem) -> Vec<Block> {
    let years = &assessment.caller_years;
    if years.len() < 2 {
        return Vec::new();
    }
    let sensor = &assessment.tank_sensor;
    let told = |k: f64| Measure::Temperature.words(k - ZERO_CELSIUS_K, units);
    let notes = vec![
        "room: the room's thermostat alone makes the pump run. tank: a thermostat at the tank alone. both: in series, \
         the pump runs only while room and tank call. * as it is."
            .to_owned(),
        format!(
            "The tank's thermostat calls at {} and has enough at {}, at {} of the height.",
            told(sensor.calls_at.value),
            told(sensor.enough_at.value),
            crate::wording::percent(sensor.height.value)
        ),
        "Whose contact does what is for the electrician to find out in the unit's manual: a contact may call the unit \
         or only permit it to run, and then its own tank sensor still decides."
            .to_owned(),
    ];
    vec![
        Block::Heading("Who rules the pump".to_owned()),
        Block::Table(Table {
            title: "The year with the room's thermostat, the tank's, or both".to_owned(),
            columns: vec![
                Column::words("called\nby"),
                Column::number("food\ntoo warm", "h"),
                Column::number("food or\nair freezes", "h"),
                Column::number("elec-\ntricity", Measure::Energy.unit(units)),
                Column::number("heat to\nwater", Measure::Energy.unit(units)),
                Column::number("booster\nheat", Measure::Energy.unit(units)),
                Column::number("dumped", Measure::Volume.unit(units)),
                Column::number("starts", ""),
            ],
            rows: years.iter().map(|year| row(year, units)).collect(),
            year: None,
            notes,
        }),
    ]
}

fn row(year: &CallerYear, units: UnitSystem) -> Vec<String> {
    let cell = |measure: Measure, value: f64| measure.rounded(value, units).to_string();
    vec![
        format!("{}{}", year.called_by, if year.own { " *" } else { "" }),
        cell(Measure::Duration, year.over_band_h),
        cell(Measure::Duration, year.frozen_h),
        cell(Measure::Energy, year.electricity_kwh),
        cell(Measure::Energy, year.heat_to_water_kwh),
        cell(Measure::Energy, year.booster_kwh),
        cell(Measure::Volume, year.dump_l),
        cell(Measure::Count, year.starts),
    ]
}

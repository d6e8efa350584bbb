//! The year with another tank, or with its ports and the aquastat in other places, side by side.

use serde::Serialize;

use crate::change::Change;
use crate::household::UnitSystem;
use crate::report::Usable;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::report::quantity::{self, Quantity};
use crate::units::{Kind, write};
use crate::wording::{Wording, percent};
use crate::year::Year;

/// The years that were tried.
#[derive(Debug, Clone, Default, Serialize)]
pub struct OtherTanks {
    /// The household as it is, then one thing changed at a time.
    pub years: Vec<TankYear>,
    /// Changes that the household's own check refuses.
    pub left_out: Vec<LeftOut>,
}

/// The year after one change.
#[derive(Debug, Clone, Serialize)]
pub struct TankYear {
    /// The change in words; `None` for the household as it is.
    #[serde(rename = "change", serialize_with = "words")]
    pub change: Option<Change>,
    /// Water dumped, L.
    pub dump_l: f64,
    /// Energy that the booster buys, kWh.
    pub booster_bought_kwh: f64,
    /// Heat missing at the taps, kWh.
    pub shortfall_kwh: f64,
    /// Electricity, kWh.
    pub electricity_kwh: f64,
    /// Contents over the warm limit, h.
    pub over_band_h: f64,
    /// Time in which a limit held the pump while the room asked for cooling, h.
    pub refused_h: f64,
    /// What the tank alone gives at 7:00 on a lean day of the year, L.
    pub usable_at_7_lean_day_l: Option<f64>,
}

/// A change that was not tried.
#[derive(Debug, Clone, Serialize)]
pub struct LeftOut {
    /// The change in words.
    #[serde(rename = "change", serialize_with = "order")]
    pub change: Change,
    /// Why, each fault in its own words; the report tells the first.
    pub reasons: Vec<String>,
}

fn words<S: serde::Serializer>(change: &Option<Change>, serializer: S) -> Result<S::Ok, S::Error> {
    change.as_ref().map(Change::words).serialize(serializer)
}

fn order<S: serde::Serializer>(change: &Change, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(&change.words())
}

impl TankYear {
    /// The year after a change; `None` for the household as it is.
    pub fn of(change: Option<Change>, year: &Year) -> Self {
        let value = |quantity: &Quantity| quantity.of(&year.total).unwrap_or_default();
        Self {
            change,
            dump_l: value(&quantity::DUMP),
            booster_bought_kwh: value(&quantity::BOOSTER_BOUGHT),
            shortfall_kwh: value(&quantity::SHORTFALL),
            electricity_kwh: value(&quantity::ELECTRICITY),
            over_band_h: value(&quantity::OVER_BAND),
            refused_h: value(&quantity::MISSED),
            usable_at_7_lean_day_l: Usable::of(year, None).usable_at_7_lean_day_l,
        }
    }
}

/// The table, and what was left out of it.
pub(super) fn table(tanks: &OtherTanks, units: UnitSystem) -> Vec<Block> {
    if tanks.years.len() < 2 && tanks.left_out.is_empty() {
        return Vec::new();
    }
    let energy = Measure::Energy.unit(units);
    let mut notes = vec![
        "One thing is changed at a time, everything else stays; a tank of another size has the same shape and insulation. At 7:00: what \
         the tank alone gives then, all but one day in ten of the year. Refused: a limit holds the pump while the room asks for \
         cooling."
            .to_owned(),
        "The answers and cautions of this report are those of the household as it is: write the change into the scenario and check \
         it again before anything is built. Work on ports, valves and relief lines is a plumber's, on the pump's circuit under its \
         maker's rules."
            .to_owned(),
    ];
    notes.extend(tanks.left_out.iter().map(|left_out| {
        let reason = left_out.reasons.first().map_or("", String::as_str);
        format!("Not tried: {}; {reason}.", label(&left_out.change, units))
    }));
    vec![
        Block::Heading("Another tank, or other places of its ports".to_owned()),
        Block::Table(Table {
            title: "What it would change in the year".to_owned(),
            columns: vec![
                Column::words("changed"),
                Column::number("dumped", Measure::Volume.unit(units)),
                Column::number("booster\nbuys", energy),
                Column::number("missing\nheat", energy),
                Column::number("elec-\ntricity", energy),
                Column::number("food\ntoo\nwarm", Measure::Duration.unit(units)),
                Column::number("cooling\nrefused", Measure::Duration.unit(units)),
                Column::number("at\n7:00", Measure::Volume.unit(units)),
            ],
            rows: tanks.years.iter().map(|year| row(year, units)).collect(),
            year: None,
            notes,
        }),
    ]
}

fn row(year: &TankYear, units: UnitSystem) -> Vec<String> {
    let cell = |measure: Measure, value: f64| measure.rounded(value, units).to_string();
    vec![
        year.change.as_ref().map_or_else(|| "as it is".to_owned(), |change| label(change, units)),
        cell(Measure::Volume, year.dump_l),
        cell(Measure::Energy, year.booster_bought_kwh),
        cell(Measure::Energy, year.shortfall_kwh),
        cell(Measure::Energy, year.electricity_kwh),
        cell(Measure::Duration, year.over_band_h),
        cell(Measure::Duration, year.refused_h),
        year.usable_at_7_lean_day_l.map_or_else(|| "-".to_owned(), |litres| cell(Measure::Volume, litres)),
    ]
}

/// The change as the head of a row.
fn label(change: &Change, units: UnitSystem) -> String {
    match change {
        Change::TankVolume(volume) => format!("tank of {}", write(Kind::Volume, volume.value, units)),
        Change::TankPairVolume(volume) => {
            format!("tanks of {} in all", write(Kind::Volume, volume.value, units))
        }
        Change::SecondTank(second) => {
            format!("second tank, {}", write(Kind::Volume, second.volume.value, units))
        }
        Change::Aquastat { opens_at, .. } => {
            format!("aquastat at {}", Wording(units).temperature(opens_at.value))
        }
        Change::AquastatProbe(height) => format!("dump probe at {}", percent(height.value)),
        Change::DumpPort(height) => format!("dump from {}", percent(height.value)),
        Change::PumpReturn(height) => format!("return at {}", percent(height.value)),
        Change::ClosedLoop(Some(effectiveness)) => {
            format!("closed loop, {}", percent(effectiveness.value))
        }
        Change::ClosedLoop(None) => "no closed loop".to_owned(),
        Change::PumpOutlet(height) => format!("pump takes at {}", percent(height.value)),
        Change::TapsDraw(height) => format!("taps draw at {}", percent(height.value)),
        Change::ColdInlet(height) => format!("cold inlet at {}", percent(height.value)),
        Change::ColdInletStirs(share) => format!("inlet stirs {}", percent(share.value)),
        Change::CheckValve => "check valve".to_owned(),
        Change::ReturnWithoutJet => "return by a diffuser".to_owned(),
        other => other.words_in(units),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plant::example::household;
    use crate::report::assessment::sample;
    use crate::report::{Report, text};

    fn tanks() -> OtherTanks {
        let year = sample::year();
        let changes = crate::other_tank::changes(&household());
        let left_out = LeftOut { change: changes[0].clone(), reasons: vec!["it is too large".to_owned()] };
        let changed = changes.into_iter().map(Some);
        OtherTanks {
            years: [None].into_iter().chain(changed).map(|change| TankYear::of(change, &year)).collect(),
            left_out: vec![left_out],
        }
    }

    #[test]
    fn the_table_fits_the_width_and_names_what_was_left_out() {
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            let text = text::plain(&Report { blocks: table(&tanks(), units) });
            assert!(text.lines().all(|line| line.chars().count() <= text::WIDTH), "{text}");
            assert!(text.contains("as it is") && text.contains("it is too large."), "{text}");
            assert!(units == UnitSystem::Metric || !text.contains("°C"), "{text}");
        }
    }

    #[test]
    fn a_change_is_words_in_the_document_and_the_own_year_null() {
        let value = serde_json::to_value(tanks()).expect("finite");
        assert!(value["years"][0]["change"].is_null());
        let words = value["years"][1]["change"].as_str().expect("words");
        assert!(words.starts_with("take a tank of "), "{words}");
        assert_eq!(value["left_out"][0]["change"].as_str(), Some(words));
    }
}

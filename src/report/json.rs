//! The JSON document: one object, the unit in every key's name, metric whatever the report's units are.

use serde::ser::{Error as _, SerializeMap};
use serde::{Serialize, Serializer};

use crate::caution::Caution;
use crate::finding::{Answer, Confidence, Finding};
use crate::report::assessment::{Assessment, Climate};
use crate::report::callers::CallerYear;
use crate::report::certainty::{AnchorLine, Certainty};
use crate::report::commissioning::Commissioning;
use crate::report::costs::CostReport;
use crate::report::course::Course;
use crate::report::curve::Curve;
use crate::report::delivery::Delivery;
use crate::report::dump::DumpReport;
use crate::report::hot_water::Usable;
use crate::report::lime::LimeReport;
use crate::report::limits::Limit;
use crate::report::other_tanks::OtherTanks;
use crate::report::quantity::{self, Quantity};
use crate::report::room::RoomReport;
use crate::report::side_by_side::{HandDifference, HandMonth};
use crate::report::size::SizeReport;
use crate::report::stored::{CropReport, StoredReport};
use crate::report::summary::Summary;
use crate::report::surfaces::SurfaceYear;
use crate::year::Interval;

/// Number of the document's schema: it rises when a key is renamed or its meaning changes.
pub const SCHEMA: u32 = 2;

/// The room, and the crops in it.
#[derive(Debug, Serialize)]
struct RoomOf<'a> {
    #[serde(flatten)]
    room: &'a RoomReport,
    /// Every crop that is stored at some time.
    crops: &'a [CropReport],
}

/// The whole document.
#[derive(Debug, Serialize)]
pub struct Document<'a> {
    schema: u32,
    version: &'static str,
    scenario: &'a str,
    household: &'a str,
    weather: &'a Climate,
    year: Quantities<'a>,
    months: Vec<Month<'a>>,
    delivery: &'a Delivery,
    tank: Vec<TankMonth<'a>>,
    tank_year: Usable,
    lime: &'a LimeReport,
    dump: &'a DumpReport,
    costs: Option<&'a CostReport>,
    commissioning: &'a Commissioning,
    food_band_degc: [f64; 2],
    course: &'a Course,
    room: RoomOf<'a>,
    surfaces: &'a [SurfaceYear],
    stored: &'a StoredReport,
    summary: &'a Summary,
    hand_balance: &'a [HandMonth],
    hand_balance_differences: &'a [HandDifference],
    #[serde(flatten)]
    curve: &'a Curve,
    anchors: &'a [AnchorLine],
    certainty: &'a Certainty,
    size: SizeReport,
    limits: &'a [Limit],
    called_by: &'a [CallerYear],
    other_tanks: &'a OtherTanks,
    ledger: Ledger,
    findings: Vec<SureFinding<'a>>,
    cautions: &'a [Caution],
    defaults: Vec<Default<'a>>,
}

impl<'a> Document<'a> {
    /// The document about a household.
    pub fn of(assessment: &'a Assessment) -> Self {
        let ledger = assessment.year.ledger;
        Self {
            schema: SCHEMA,
            version: env!("CARGO_PKG_VERSION"),
            scenario: &assessment.scenario,
            household: &assessment.household,
            weather: &assessment.climate,
            year: Quantities(quantity::ALL, &assessment.year.total),
            months: by_month(quantity::ALL, &assessment.year.months),
            delivery: &assessment.delivery,
            lime: &assessment.lime,
            dump: &assessment.dump,
            costs: assessment.costs.as_ref(),
            commissioning: &assessment.commissioning,
            food_band_degc: assessment.food_band_degc,
            course: &assessment.course,
            room: RoomOf { room: &assessment.room, crops: &assessment.stored.crops },
            surfaces: &assessment.surfaces,
            stored: &assessment.stored,
            summary: &assessment.summary,
            tank: by_month(quantity::TANK, &assessment.year.months)
                .into_iter()
                .enumerate()
                .map(|(index, month)| TankMonth { month, usable: Usable::of(&assessment.year, Some(index)) })
                .collect(),
            tank_year: Usable::of(&assessment.year, None),
            hand_balance: &assessment.hand_balance,
            hand_balance_differences: &assessment.differences,
            curve: &assessment.curve,
            anchors: &assessment.anchors,
            certainty: &assessment.certainty,
            size: SizeReport::of(&assessment.year),
            limits: &assessment.limits,
            called_by: &assessment.caller_years,
            other_tanks: &assessment.other_tanks,
            ledger: Ledger {
                room: ledger.room,
                tank: ledger.tank,
                machine: ledger.machine,
                house: ledger.house,
                moisture: ledger.moisture,
            },
            findings: assessment
                .findings
                .iter()
                .map(|finding| SureFinding::of(finding, &assessment.confidence))
                .collect(),
            cautions: &assessment.cautions,
            defaults: assessment
                .defaults
                .iter()
                .map(|default| Default { key: &default.key, value: &default.value, reason: &default.reason })
                .collect(),
        }
    }

    /// The document as text, ended by a line break.
    ///
    /// # Errors
    /// When a number is not finite, which is a fault of the program.
    pub fn text(&self) -> Result<String, serde_json::Error> {
        pretty(self)
    }
}

/// The document about the pump alone: the same keys as in [`Document`].
#[derive(Debug, Serialize)]
pub struct CurveDocument<'a> {
    schema: u32,
    version: &'static str,
    scenario: &'a str,
    household: &'a str,
    #[serde(flatten)]
    curve: &'a Curve,
}

impl<'a> CurveDocument<'a> {
    /// The document about a household's pump.
    pub fn of(scenario: &'a str, household: &'a str, curve: &'a Curve) -> Self {
        Self { schema: SCHEMA, version: env!("CARGO_PKG_VERSION"), scenario, household, curve }
    }

    /// The document as text, ended by a line break.
    ///
    /// # Errors
    /// When it cannot be written, which is a fault of the program.
    pub fn text(&self) -> Result<String, serde_json::Error> {
        pretty(self)
    }
}

pub(super) fn pretty(document: &impl Serialize) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(document).map(|text| text + "\n")
}

fn by_month<'a>(quantities: &'static [Quantity], months: &'a [Interval]) -> Vec<Month<'a>> {
    let month = |(index, month)| Month { month: index + 1, quantities: Quantities(quantities, month) };
    months.iter().enumerate().map(month).collect()
}

#[derive(Debug, Serialize)]
struct Month<'a> {
    month: usize,
    #[serde(flatten)]
    quantities: Quantities<'a>,
}

/// A finding, and whether its answer stands where the pump is better or worse than calculated.
#[derive(Debug, Serialize)]
struct SureFinding<'a> {
    #[serde(flatten)]
    finding: &'a Finding,
    firm: Option<bool>,
    answers_at_the_ends: &'a [Answer],
}

impl<'a> SureFinding<'a> {
    fn of(finding: &'a Finding, confidence: &'a [Confidence]) -> Self {
        let known = confidence.iter().find(|one| one.code == finding.code);
        Self {
            finding,
            firm: known.map(|one| one.firm),
            answers_at_the_ends: known.map_or(&[], |one| &one.at_the_ends),
        }
    }
}

/// A month of the tank, with what it alone could give.
#[derive(Debug, Serialize)]
struct TankMonth<'a> {
    #[serde(flatten)]
    month: Month<'a>,
    #[serde(flatten)]
    usable: Usable,
}

#[derive(Debug, Serialize)]
struct Ledger {
    room: f64,
    tank: f64,
    machine: f64,
    house: f64,
    moisture: f64,
}

#[derive(Debug, Serialize)]
struct Default<'a> {
    key: &'a str,
    value: &'a str,
    reason: &'a str,
}

/// Quantities of an interval by key; `null` where one has no meaning.
#[derive(Debug)]
struct Quantities<'a>(&'static [Quantity], &'a Interval);

impl Serialize for Quantities<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for quantity in self.0 {
            let value = quantity.of(self.1);
            if value.is_some_and(|value| !value.is_finite()) {
                return Err(S::Error::custom(format!("{} is not a finite number", quantity.key)));
            }
            map.serialize_entry(quantity.key, &value)?;
        }
        map.end()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::assessment::sample;
    use serde_json::Value;

    fn document() -> Value {
        let assessment = sample::assessment();
        let text = Document::of(&assessment).text().expect("the sample year is finite");
        serde_json::from_str(&text).expect("the document is JSON")
    }

    #[test]
    fn months_findings_and_cautions_are_in_the_document() {
        let document = document();
        assert_eq!(document["months"].as_array().expect("months").len(), 12);
        assert_eq!(document["months"][11]["month"], 12);
        assert_eq!(document["tank"][11]["month"], 12);
        assert_eq!(document["tank"][6]["tank_25_to_45_h"], document["months"][6]["tank_25_to_45_h"]);
        assert_eq!(document["weather"]["hours"], 8760);
        assert_eq!(document["findings"][0]["remedies"][0]["after"], 10.0);
        assert_eq!(document["cautions"][0]["severity"], "stop_work");
    }

    #[test]
    fn a_quantity_without_meaning_is_null() {
        let mut assessment = sample::assessment();
        assessment.year.months[0] = Interval { duration_s: 3600.0, ..Interval::default() };
        let text = Document::of(&assessment).text().expect("a rest is finite");
        let document: Value = serde_json::from_str(&text).expect("the document is JSON");
        assert_eq!(document["months"][0]["cop"], Value::Null);
        assert_eq!(document["months"][0]["electricity_kwh"], 0.0);
    }

    #[test]
    fn a_number_that_is_not_finite_is_refused() {
        let mut assessment = sample::assessment();
        assessment.year.total.booster_j = f64::NAN;
        let error = Document::of(&assessment).text().expect_err("not a number must not be written");
        assert!(error.to_string().contains("booster_kwh"));
    }
}

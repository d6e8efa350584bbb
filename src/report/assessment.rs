//! Everything that a report is made of, gathered.

use serde::Serialize;

use crate::balance::{self, Difference};
use crate::caution::Caution;
use crate::constants::ZERO_CELSIUS_K;
use crate::finding::{Answer, stays_cold};
use crate::finding::{Confidence, Finding};
use crate::household::{CoolerUnit, DefaultUsed, Household, TankSensor};
use crate::lime::Lime;
use crate::plant::Plant;
use crate::report::callers::CallerYear;
use crate::report::certainty::{AnchorLine, Certainty, ENDS, anchor_lines};
use crate::report::commissioning::Commissioning;
use crate::report::costs::CostReport;
use crate::report::course::Course;
use crate::report::curve::Curve;
use crate::report::delivery::Delivery;
use crate::report::dump::{DumpReport, DumpYear};
use crate::report::lime::LimeReport;
use crate::report::limits::{Limit, limits};
use crate::report::other_tanks::OtherTanks;
use crate::report::room::{LoadCut, RoomReport};
use crate::report::side_by_side::{HandDifference, HandMonth};
use crate::report::stored::StoredReport;
use crate::report::summary::Summary;
use crate::report::surfaces::{SurfaceYear, surfaces};
use crate::weather::WeatherYear;
use crate::year::Year;

/// What there is to report about a household and its year.
#[derive(Debug, Clone)]
pub struct Assessment {
    /// Name of the scenario's file, as it was given.
    pub scenario: String,
    /// Name of the household.
    pub household: String,
    /// The weather year in short.
    pub climate: Climate,
    /// The simulated year.
    pub year: Year,
    /// The year at the taps.
    pub delivery: Delivery,
    /// The lime that its cold water brought.
    pub lime: LimeReport,
    /// The overflow dump.
    pub dump: DumpReport,
    /// The warmest and the coldest that the food may become, degC.
    pub food_band_degc: [f64; 2],
    /// What to measure once it runs.
    pub commissioning: Commissioning,
    /// The course of the year.
    pub course: Course,
    /// What the year costs; `None` where no prices were given.
    pub costs: Option<CostReport>,
    /// The room's own year.
    pub room: RoomReport,
    /// What came through each wall, floor and ceiling.
    pub surfaces: Vec<SurfaceYear>,
    /// What it did to each crop.
    pub stored: StoredReport,
    /// The report in short.
    pub summary: Summary,
    /// The same year by hand, twelve months.
    pub hand_balance: Vec<HandMonth>,
    /// Why the two differ.
    pub differences: Vec<HandDifference>,
    /// The pump against its water inlet and the room's air.
    pub curve: Curve,
    /// The lines of the data sheet and what was made of them.
    pub anchors: Vec<AnchorLine>,
    /// How sure the year is.
    pub certainty: Certainty,
    /// The pump's limits and how long each was reached.
    pub limits: Vec<Limit>,
    /// The year under each thermostat that may call the pump; empty or the own one alone where nothing was compared.
    pub caller_years: Vec<CallerYear>,
    /// The year with another tank, or with its ports and the aquastat in other places.
    pub other_tanks: OtherTanks,
    /// The thermostat at the tank that the callers' years were calculated with.
    pub tank_sensor: TankSensor,
    /// Of two tanks in series: where the first ends in the column of all water, 0 to 1.
    pub first_tank_frac: Option<f64>,
    /// Answers to the household's questions.
    pub findings: Vec<Finding>,
    /// Whether they stand where the pump is better or worse than calculated.
    pub confidence: Vec<Confidence>,
    /// Cautions raised.
    pub cautions: Vec<Caution>,
    /// What was assumed.
    pub defaults: Vec<DefaultUsed>,
}

/// What was calculated beside the year itself.
#[derive(Debug)]
pub struct Beside<'a> {
    /// The year by hand, twelve months.
    pub hand: &'a [balance::HandMonth],
    /// Why it differs.
    pub differences: &'a [Difference],
    /// The year under each thermostat that may call the pump.
    pub caller_years: Vec<CallerYear>,
    /// The year with another tank.
    pub other_tanks: OtherTanks,
    /// The year with other sizes of the dump, and with what else changes it.
    pub dump_years: (Vec<DumpYear>, Vec<DumpYear>),
    /// What was tried against the room's load.
    pub load_cuts: Vec<LoadCut>,
    /// The course of the year.
    pub course: Course,
    /// The year at the ends of the pump's band.
    pub ends: &'a [Year; ENDS],
    /// Whether the findings stand there.
    pub confidence: Vec<Confidence>,
}

impl Assessment {
    /// Gathers what was calculated for a household: its year and what was calculated beside it, the findings and the
    /// cautions.
    pub fn new(
        scenario: String,
        household: &Household,
        plant: &Plant,
        year: Year,
        beside: Beside<'_>,
        (findings, cautions): (Vec<Finding>, Vec<Caution>),
    ) -> Self {
        let Beside {
            hand,
            differences,
            caller_years,
            other_tanks,
            dump_years,
            load_cuts,
            course,
            ends,
            confidence,
        } = beside;
        let CoolerUnit::HeatPump(unit) = &household.cooler;
        Self {
            scenario,
            household: household.name.clone(),
            climate: Climate::of(plant, &household.weather),
            anchors: anchor_lines(household),
            certainty: Certainty::of(household, &year, ends),
            limits: limits(plant, &year),
            caller_years,
            other_tanks,
            tank_sensor: unit.tank_sensor,
            first_tank_frac: household.tank.followed_by.map(|_| household.tank.first_share().value),
            delivery: Delivery::of(household, plant, &year),
            lime: LimeReport::of(&Lime::of(household, plant, &year)),
            dump: DumpReport::of(household, plant, &year, dump_years),
            food_band_degc: [household.room.warm_limit, household.room.cold_limit]
                .map(|limit| limit.value - ZERO_CELSIUS_K),
            commissioning: Commissioning::of(household, &cautions, stays_cold(&year.total) == Answer::Yes),
            course,
            costs: CostReport::of(household, plant, &year),
            room: RoomReport::of(household, plant, &year).with(load_cuts, &year),
            surfaces: surfaces(household, plant, &year),
            stored: StoredReport::of(household, &year),
            year,
            hand_balance: hand
                .iter()
                .enumerate()
                .map(|(index, month)| HandMonth::of(index, month, plant))
                .collect(),
            differences: differences.iter().map(HandDifference::of).collect(),
            curve: Curve::of_household(household, plant),
            summary: Summary::of(household, &findings, &confidence, &cautions),
            findings,
            confidence,
            cautions,
            defaults: household.defaults.clone(),
        }
    }
}

/// A weather year in short.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Climate {
    /// Where it was measured.
    pub place: String,
    /// Hours of the year.
    pub hours: usize,
    /// Outdoor air, mean of the hourly stamps, degC.
    pub mean_degc: f64,
    /// Outdoor air, coldest stamp, degC.
    pub min_degc: f64,
    /// Outdoor air, warmest stamp, degC.
    pub max_degc: f64,
    /// What was filled, held or left out in the weather year, and what it cannot show. For the text report.
    #[serde(skip)]
    pub notes: Vec<String>,
}

impl Climate {
    /// The outdoor air that the plant was simulated with.
    ///
    /// # Panics
    /// When the plant has no outdoor air: every plant has, as its first boundary.
    pub fn of(plant: &Plant, weather: &WeatherYear) -> Self {
        let stamps_k =
            &plant.boundaries.first().expect("the first boundary is the outdoor air").temperature_k[1..];
        Self {
            place: weather.place.clone(),
            notes: weather.notes.clone(),
            hours: plant.calendar.hours(),
            mean_degc: stamps_k.iter().sum::<f64>() / stamps_k.len() as f64 - ZERO_CELSIUS_K,
            min_degc: stamps_k.iter().copied().fold(f64::INFINITY, f64::min) - ZERO_CELSIUS_K,
            max_degc: stamps_k.iter().copied().fold(f64::NEG_INFINITY, f64::max) - ZERO_CELSIUS_K,
        }
    }
}

/// A made-up year for the tests of the report's layout: its numbers are arbitrary and only shaped like a year's.
#[cfg(test)]
pub(super) mod sample {
    use super::*;
    use crate::caution::{Severity, example};
    use crate::finding::{Answer, Question, Remedy};
    use crate::household::UnitSystem;
    use crate::plant::{Calendar, Cause, Load};
    use crate::report::limits::LimitKind;
    use crate::year::{
        BoughtByClock, DayLoad, DumpedDay, DumpedDays, Interval, Ledger, UsableDay, UsableDays, WetDay,
    };

    fn month(month: usize, hours: usize) -> Interval {
        let duration_s = hours as f64 * 3600.0;
        let season = [0.1, 0.13, 0.3, 0.6, 1.1, 1.7, 2.3, 2.2, 1.6, 0.9, 0.4, 0.17][month];
        let mut interval = Interval {
            first_hour: month * 730,
            month,
            duration_s,
            heat_to_water_j: 1.017e9 * season,
            heat_from_room_j: 0.713e9 * season,
            demand_j: 0.517e9,
            demand_kg: 5021.3,
            delivered_j: 0.511e9,
            drawn_m3: 2.3456,
            drawn_kg: 2320.0,
            drawn_j: 0.4123e9,
            booster_j: 0.0777e9,
            booster_bought_j: 0.0913e9,
            tank_loss_j: 0.1234e9,
            dump_m3: 1.23456 * season,
            dump_kg: 1220.0 * season,
            dump_j: 0.2e9 * season,
            starts: 211.0 * season,
            run_s: 3e5 * season,
            output_frac_s: 3e5 * season,
            locked_out_s: 1234.5 * season,
            shortfall_s: 333.3,
            inlet_k_s: 295.0 * 3e5 * season,
            condensate_kg: 33.33 * season,
            humidity_frac_s: 0.91 * duration_s,
            air_k_s: 277.3 * duration_s,
            contents_k_s: 277.1 * duration_s,
            tank_top_k_s: 319.9 * duration_s,
            tank_bottom_k_s: 295.5 * duration_s,
            tank_mean_k_s: 310.0 * duration_s,
            ..Interval::default()
        };
        interval.air_k.see(274.5);
        interval.air_k.see(279.99);
        for seen in [&mut interval.contents_k, &mut interval.food_k] {
            seen.see(276.9);
            seen.see(278.44);
        }
        interval.outside_map.inlet_s = 12_345.0 * season;
        for cause in Cause::ALL {
            interval.gain_j[cause as usize] = 0.0713e9 * season * (1.0 + cause as usize as f64 / 7.0);
        }
        for load in Load::ALL {
            interval.electricity_j[load as usize] = 0.0701e9 * season / (1.0 + load as usize as f64);
        }
        interval
    }

    fn usable_day(calendar: &Calendar, day: usize) -> UsableDay {
        let m3 = 0.1 + 0.001 * (day * 37 % 101) as f64;
        UsableDay { month: calendar.month_of_hour(24 * day), m3: [Some(m3), Some(0.5 * m3)] }
    }

    pub(crate) fn year() -> Year {
        let calendar = Calendar::new(false);
        let months: Vec<Interval> = calendar
            .month_starts_h
            .windows(2)
            .enumerate()
            .map(|(index, bounds)| month(index, bounds[1] - bounds[0]))
            .collect();
        let mut total = Interval::default();
        for month in &months {
            total.add(month);
        }
        let ledger = Ledger { room: 1e-14, tank: -2e-13, machine: 3e-16, house: 0.0, moisture: 5e-12 };
        let heaviest_days = std::array::from_fn(|index| {
            let month = &months[index];
            let load_j = 2.0 * month.to_be_cooled_j() / month.duration_s * 86_400.0;
            Some(DayLoad {
                day: calendar.month_starts_h[index] / 24,
                load_j,
                gain_j: month.gain_j.map(|gain_j| 0.06 * gain_j),
            })
        });
        let wettest_day = Some(WetDay { day: 200, condensate_kg: 4.2 });
        let dumped_day = |day: usize| {
            let m3 = 0.001 * (day * 53 % 97) as f64;
            DumpedDay { month: calendar.month_of_hour(24 * day), day, m3, most_in_hour_m3: 0.6 * m3 }
        };
        let dumped = DumpedDays((0..calendar.hours() / 24).map(dumped_day).collect());
        let usable = UsableDays((0..calendar.hours() / 24).map(|day| usable_day(&calendar, day)).collect());
        let bought = BoughtByClock::default();
        Year { calendar, months, total, heaviest_days, wettest_day, usable, dumped, bought, ledger }
    }

    pub(crate) fn assessment() -> Assessment {
        assessment_in(UnitSystem::Metric)
    }

    pub(crate) fn assessment_in(units: UnitSystem) -> Assessment {
        let hand = |month| HandMonth {
            month,
            room_load_kwh: 123.45,
            resting_machine_kwh: 7.4,
            inlet_degc: 12.3,
            heat_to_water_kwh: 234.56,
            cop: (month != 1).then_some(3.21),
            running_cop: (month != 1).then_some(3.1),
            demand_kwh: 150.0,
            tank_loss_kwh: 33.3,
            surplus_kwh: 51.3,
            dump_l: 1021.7,
        };
        let household = Household { units, ..crate::caution::example::household() };
        let words = "the contents stay above the warm limit for longer than the limit allows ".repeat(3);
        let findings = vec![Finding {
            code: "F101",
            question: Question::Food,
            answer: Answer::No,
            value: 120.0,
            unit: "h",
            limit: Some(24.0),
            text: words.clone(),
            source: "Common practice, no source: example",
            remedies: vec![Remedy {
                change: "lower the set point".to_owned(),
                before: 120.0,
                after: 10.0,
                text: words.clone(),
                effort: crate::change::Effort::SmallParts,
            }],
        }];
        let cautions = vec![Caution {
            code: "C001",
            title: "an example of a caution",
            severity: Severity::StopWork,
            text: words,
            source: "Common practice, no source: example",
        }];
        Assessment {
            scenario: "scenarios/example.yaml".to_owned(),
            household: "An example household".to_owned(),
            climate: Climate {
                place: "a place".to_owned(),
                hours: 8760,
                mean_degc: 10.123,
                min_degc: -20.5,
                max_degc: 35.0,
                notes: Vec::new(),
            },
            year: year(),
            delivery: Delivery::of(&household, &example::plant(), &year()),
            lime: LimeReport::of(&Lime::of(&household, &example::plant(), &year())),
            dump: DumpReport::of(&household, &example::plant(), &year(), (Vec::new(), Vec::new())),
            food_band_degc: [7.0, -1.0],
            commissioning: Commissioning::of(&household, &[], true),
            course: Course::default(),
            costs: None,
            room: RoomReport::of(&household, &example::plant(), &year()),
            surfaces: surfaces(&household, &example::plant(), &year()),
            stored: StoredReport::of(&household, &year()),
            hand_balance: (1..=12).map(hand).collect(),
            differences: vec![HandDifference {
                month: 10,
                difference_kwh: -38.9,
                room_temperature_kwh: -1091.04,
                load_kwh: 1014.8,
                hot_water_kwh: 12.0,
                inlet_kwh: 1012.8,
                frost_kwh: 33.6,
                starting_kwh: 12.1,
                circulator_kwh: -10.0,
                unexplained_kwh: -1012.0,
                missed_h: 659.5,
                flagged: true,
            }],
            curve: Curve::of(&example::plant()),
            limits: vec![Limit {
                limit: LimitKind::HighestInlet,
                at_degc: Some(45.0),
                at_bar: None,
                hours: 12.3,
            }],
            caller_years: Vec::new(),
            other_tanks: OtherTanks::default(),
            tank_sensor: crate::caution::example::tank_sensor(),
            first_tank_frac: None,
            anchors: anchor_lines(&household),
            certainty: Certainty::of(&household, &year(), &[(); ENDS].map(|()| year())),
            confidence: Vec::new(),
            summary: Summary::of(&household, &findings, &[], &cautions),
            findings,
            cautions,
            defaults: vec![DefaultUsed {
                key: "thermostat.probe_lag".to_owned(),
                value: "90 s".to_owned(),
                reason: "common practice, no source".to_owned(),
            }],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::sample;
    use crate::household::UnitSystem;
    use crate::report::{Block, Report, text};

    #[test]
    fn every_line_of_the_whole_report_fits_the_width_in_both_systems() {
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            let text = text::plain(&Report::of(&sample::assessment(), units));
            for line in text.lines() {
                assert!(line.chars().count() <= text::WIDTH, "{line}");
            }
        }
    }

    #[test]
    fn the_parts_come_in_the_order_in_which_they_are_read() {
        let report = Report::of(&sample::assessment(), UnitSystem::Metric);
        assert!(matches!(report.blocks[0], Block::Alarm(_)));
        let text = text::plain(&report);
        let parts = [
            "STOP WORK",
            "An example household",
            "Weather: a place",
            "1. Will the food hold?",
            "7. Can someone be hurt?",
            "The year by months",
            "At the taps",
            "The room's load against the pump",
            "The same year by hand",
            "How sure the year is",
            "The pump against the water it takes in",
            "The pump against the room's air",
            "Cautions",
            "Assumed, because",
            "Energy ledger",
            "Running outside the cycle map",
        ];
        let places: Vec<_> =
            parts.iter().map(|part| text.find(part).unwrap_or_else(|| panic!("{part} is missing"))).collect();
        assert!(places.is_sorted(), "{places:?}");
    }

    #[test]
    fn us_units_leave_no_metric_unit_behind() {
        let text = text::plain(&Report::of(&sample::assessment_in(UnitSystem::Us), UnitSystem::Us));
        for unit in ["°C", " L ", " kg "] {
            assert!(!text.contains(unit), "{unit}");
        }
    }
}

//! The cold room's own year: load by cause and month, its worst day, the water off the coil, frost, and the air that is blown.

use serde::Serialize;
use serde_json::{Map, Value};

use crate::change::Change;
use crate::constants::{DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K, LATENT_HEAT_J_PER_KG, ZERO_CELSIUS_K};
use crate::house_heat::months_j;
use crate::household::{CoolerUnit, Household, UnitSystem};
use crate::plant::{Cooler, HeatPump, Plant};
use crate::report::MONTHS;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::report::quantity::{self, Quantity};
use crate::room::commercial_air_changes_per_day;
use crate::units::Kind;
use crate::wording::{Wording, decimals, percent};
use crate::year::{Interval, Year};

/// Joules in a kilowatt hour, seconds in a day, litres in a cubic metre.
const J_PER_KWH: f64 = 3.6e6;
const DAY_S: f64 = 86_400.0;
const L_PER_M3: f64 = 1000.0;

/// Causes of the load: key, heading of their column, quantity.
const CAUSES: [(&str, &str, Quantity); 10] = [
    ("outdoor_surfaces", "out-\ndoor\nwalls", quantity::GAIN_OUTDOOR),
    ("ground_surfaces", "to\nthe\nsoil", quantity::GAIN_GROUND),
    ("neighbour_surfaces", "neigh-\nbour\nwalls", quantity::GAIN_NEIGHBOUR),
    ("doors", "doors", quantity::GAIN_DOORS),
    ("leakage", "leaks", quantity::GAIN_LEAKAGE),
    ("people", "peo-\nple", quantity::GAIN_PEOPLE),
    ("lights", "lights", quantity::GAIN_LIGHTS),
    ("respiration", "respi-\nration", quantity::GAIN_RESPIRATION),
    ("produce_in", "pro-\nduce\nin", quantity::GAIN_PRODUCE_IN),
    ("hot_water", "hot\npipe,\ntank", quantity::GAIN_HOT_WATER),
];

/// Speed of the air as it leaves a coil's fan, m/s, from which the size of the opening is reckoned. Common practice, no source: 2 to 4 m/s.
const OUTLET_M_S: f64 = 3.0;
/// Constant of a free round jet: its middle has the speed `K v0 d/x` at a distance x.
/// From memory, to be verified: ASHRAE Handbook Fundamentals, space air diffusion, gives 5 to 7 for round openings.
const JET: f64 = 6.0;
/// How much of the excess of temperature is left where the speed is a share of the first: this times that share. Source: as [`JET`], From memory, to be verified.
const JET_TEMPERATURE: f64 = 0.8;

/// The room's year.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RoomReport {
    /// Heat into the room by cause, kWh, of each month; all ten together are the month's load.
    pub load_breakdown: Vec<Map<String, Value>>,
    /// The day of the year with the heaviest load.
    pub worst_day: Option<HeavyDay>,
    /// Water off the coil, mean of each month, L/day.
    pub condensate_l_per_day: Vec<f64>,
    /// The day with most of it.
    pub wettest_day: Option<WettestDay>,
    /// For how many days the bucket lasts in the wettest month and on the wettest day; `None` without a bucket.
    pub bucket_days: Option<[f64; 2]>,
    /// Time running on a frosted coil, h, of each month.
    pub frost_h: Vec<f64>,
    /// Relative humidity, mean of each month, %.
    pub humidity_mean_pct: Vec<f64>,
    /// Air changes a day through doors and leaks, mean of each month.
    pub air_changes_per_day: Vec<f64>,
    /// Those that commercial rooms of its size are reckoned with: an upper bound for a household.
    pub air_changes_of_commercial_rooms: f64,
    /// The air that is blown from the coil.
    pub supply_air: SupplyAir,
    /// The bucket, L.
    pub bucket_l: Option<f64>,
    /// The measures that cut most of what has to be cooled away, the best first.
    pub measures: Vec<LoadCut>,
    /// Heat out of heated spaces in their heated months, kWh, of each month; `None` where none is heated.
    pub house_heat_kwh: Option<Vec<f64>>,
}

/// The day of the year with the heaviest load.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HeavyDay {
    /// Month 1 to 12.
    pub month: usize,
    /// Day of the month, from 1.
    pub day: usize,
    /// Heat to be cooled away, kWh: all causes and what the resting machine gave off.
    pub load_kwh: f64,
    /// The causes' part of it, kWh.
    pub by_cause: Map<String, Value>,
}

/// The day with most water off the coil.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WettestDay {
    /// Month 1 to 12.
    pub month: usize,
    /// Day of the month, from 1.
    pub day: usize,
    /// Water, L.
    pub l: f64,
}

/// The air that is blown from the coil.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SupplyAir {
    /// Coldest of the year, degC; `None` where the pump never ran.
    pub coldest_degc: Option<f64>,
    /// That, below the year's mean of the contents, K.
    pub below_contents_k: Option<f64>,
    /// Surface of the coil at the thermostat's set point: where the air that touches it ends (apparatus dew point), degC.
    pub coil_degc: f64,
    /// Share of the air that passes the coil untouched, in the year's mean run at the set point; below 0 where so little air could not carry the cold. `None`
    /// where the pump never ran.
    pub bypass_frac: Option<f64>,
    /// Coldest air of the room itself, as at the end of a run, degC.
    pub coldest_room_air_degc: f64,
    /// Highest freezing point of what is stored, degC.
    pub freezing_point_degc: f64,
    /// Time in which the blown air is below it, h, of each month.
    pub below_freezing_point_h: Vec<f64>,
    /// Distance from the coil's outlet within which the coldest stream is still below it, m; 0 where it never is, `None` where the room's own air is.
    pub keep_clear_m: Option<f64>,
}

/// Measures that are told.
const MEASURES: usize = 3;
/// Share of the load that a measure has to cut to be told.
const LEAST_CUT_FRAC: f64 = 0.01;

/// A measure against the room's load, and what its year came to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LoadCut {
    /// The measure, in the household's units.
    pub change: String,
    /// How much less has to be cooled away in the year, kWh.
    pub cut_kwh: f64,
    /// The same of its heaviest month, kWh.
    pub cut_in_worst_month_kwh: f64,
    /// Electricity of the year with it, kWh.
    pub electricity_kwh: f64,
    /// Water dumped in the year with it, L.
    pub dump_l: f64,
    /// Time with the contents below the highest freezing point stored in the year with it, h.
    pub frozen_contents_h: f64,
}

impl LoadCut {
    /// The year `changed` by a measure beside the year as it is.
    pub fn of(change: &Change, household: &Household, year: &Year, changed: &Year) -> Self {
        let worst = (0..12).fold(0, |worst, month| {
            if year.months[month].to_be_cooled_j() > year.months[worst].to_be_cooled_j() {
                month
            } else {
                worst
            }
        });
        let cut = |before: &Interval, after: &Interval| {
            (before.to_be_cooled_j() - after.to_be_cooled_j()) / J_PER_KWH
        };
        let value = |quantity: &Quantity| quantity.of(&changed.total).unwrap_or_default();
        Self {
            change: change.words_in(household.units),
            cut_kwh: cut(&year.total, &changed.total),
            cut_in_worst_month_kwh: cut(&year.months[worst], &changed.months[worst]),
            electricity_kwh: value(&quantity::ELECTRICITY),
            dump_l: value(&quantity::DUMP),
            frozen_contents_h: value(&quantity::FROZEN_CONTENTS),
        }
    }
}

impl RoomReport {
    /// With the best of the measures that were tried.
    pub fn with(mut self, mut measures: Vec<LoadCut>, year: &Year) -> Self {
        let least_kwh = LEAST_CUT_FRAC * year.total.to_be_cooled_j() / J_PER_KWH;
        measures.retain(|measure| measure.cut_kwh > least_kwh);
        measures.sort_by(|one, other| other.cut_kwh.total_cmp(&one.cut_kwh));
        measures.truncate(MEASURES);
        self.measures = measures;
        self
    }

    /// Of a household's year.
    pub fn of(household: &Household, plant: &Plant, year: &Year) -> Self {
        let months = || year.months.iter();
        let per_day = |month: &Interval, total: f64| {
            if month.duration_s > 0.0 { total / month.duration_s * DAY_S } else { 0.0 }
        };
        let value = |quantity: &Quantity, month: &Interval| quantity.of(month).unwrap_or_default();
        let condensate_l_per_day: Vec<f64> =
            months().map(|month| per_day(month, value(&quantity::CONDENSATE, month))).collect();
        let wettest_day = year.wettest_day.map(|wettest| {
            let [month, day] = date(year, wettest.day);
            WettestDay { month, day, l: wettest.condensate_kg }
        });
        let bucket_l = household.room.condensate_bucket.map(|bucket| bucket.value * L_PER_M3);
        let most_l = condensate_l_per_day.iter().copied().fold(0.0, f64::max);
        let wettest_l = wettest_day.as_ref().map_or(0.0, |day| day.l);
        Self {
            load_breakdown: months().map(|month| breakdown(&month.gain_j)).collect(),
            worst_day: worst_day(year),
            bucket_days: bucket_l
                .filter(|_| most_l > 0.0 && wettest_l > 0.0)
                .map(|bucket_l| [bucket_l / most_l, bucket_l / wettest_l]),
            condensate_l_per_day,
            wettest_day,
            frost_h: months().map(|month| value(&quantity::FROSTED, month)).collect(),
            humidity_mean_pct: months()
                .map(
                    |month| {
                        if month.duration_s > 0.0 { 100.0 * month.mean(month.humidity_frac_s) } else { 0.0 }
                    },
                )
                .collect(),
            air_changes_per_day: months()
                .map(|month| {
                    let leaked_kg = plant.room.leakage_kg_s * month.duration_s;
                    per_day(month, (month.door_air_kg + leaked_kg) / plant.room.air_mass_kg)
                })
                .collect(),
            air_changes_of_commercial_rooms: commercial_air_changes_per_day(plant.room.volume_m3),
            supply_air: supply_air(household, plant, year),
            bucket_l,
            measures: Vec::new(),
            house_heat_kwh: months_j(household, plant, year)
                .map(|months| months.map(|j| j / J_PER_KWH).to_vec()),
        }
    }
}

/// Heat by cause, kWh, by its key.
fn breakdown(gain_j: &[f64; 10]) -> Map<String, Value> {
    CAUSES
        .iter()
        .zip(gain_j)
        .map(|((key, ..), gain_j)| ((*key).to_owned(), Value::from(gain_j / J_PER_KWH)))
        .collect()
}

/// Month 1 to 12 and day from 1 of a day of the year.
fn date(year: &Year, day: usize) -> [usize; 2] {
    let month = year.calendar.month_of_hour(24 * day);
    [month + 1, day - year.calendar.month_starts_h[month] / 24 + 1]
}

fn worst_day(year: &Year) -> Option<HeavyDay> {
    let heavier = |a: &crate::year::DayLoad, b: &crate::year::DayLoad| a.load_j.total_cmp(&b.load_j);
    let worst = year.heaviest_days.into_iter().flatten().max_by(heavier)?;
    let [month, day] = date(year, worst.day);
    Some(HeavyDay { month, day, load_kwh: worst.load_j / J_PER_KWH, by_cause: breakdown(&worst.gain_j) })
}

fn supply_air(household: &Household, plant: &Plant, year: &Year) -> SupplyAir {
    let total = &year.total;
    let blown = (!total.blown_k.is_empty()).then_some(total.blown_k.min);
    let limit_k = plant.room.freezing_k;
    let contents_k = total.mean(total.contents_k_s);
    let air_k = total.mean(total.air_k_s);
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let Cooler::HeatPump(pump) = &plant.cooler;
    let set_k = 0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k);
    SupplyAir {
        coil_degc: set_k - pump.coil_below_air_dk(1.0) - ZERO_CELSIUS_K,
        bypass_frac: bypass_frac(plant, pump, set_k, year),
        coldest_degc: blown.map(|k| k - ZERO_CELSIUS_K),
        below_contents_k: blown.map(|k| contents_k - k),
        coldest_room_air_degc: total.air_k.min - ZERO_CELSIUS_K,
        freezing_point_degc: limit_k - ZERO_CELSIUS_K,
        below_freezing_point_h: year
            .months
            .iter()
            .map(|month| quantity::FROZEN_BLOWN.of(month).unwrap_or_default())
            .collect(),
        keep_clear_m: blown
            .map_or(Some(0.0), |blown_k| keep_clear_m(unit.airflow.value, blown_k, air_k, limit_k)),
    }
}

/// Share of the air that passes the coil untouched: `1 - S/(rho cp V (T_air - T_coil))`, S the net cooling at the set point and the year's mean inlet less the
/// mean heat of its condensate.
///
/// # Source
/// Bypass factor by definition: the blown air lies between the room's and that at the coil's surface. Derived here.
fn bypass_frac(plant: &Plant, pump: &HeatPump, set_k: f64, year: &Year) -> Option<f64> {
    let total = &year.total;
    let inlet_k = total.mean_inlet_k()?;
    let operation = pump.operate(set_k, inlet_k, false);
    let latent_w = LATENT_HEAT_J_PER_KG * total.condensate_kg / total.run_s;
    let sensible_w = operation.heat_w - operation.power_w - latent_w;
    let density = plant.room.air_mass_kg / plant.room.volume_m3;
    let stream_w_per_k = pump.airflow_m3_s * density * DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K;
    Some(1.0 - sensible_w / (stream_w_per_k * pump.coil_below_air_dk(1.0)))
}

/// Distance within which the middle of the cold stream is below a limit, m, as of a free round jet: `0.8 K d (T_room - T_blown)/(T_room - T_limit)`.
///
/// 0 where the blown air is not below the limit; `None` where the room's own air is.
///
/// # Source
/// See [`JET`]; the opening's diameter d from the air flow and [`OUTLET_M_S`]. A jet along a ceiling reaches about 1.4 times as far; one that meets shelves or walls spreads there.
fn keep_clear_m(airflow_m3_s: f64, blown_k: f64, air_k: f64, limit_k: f64) -> Option<f64> {
    if blown_k >= limit_k {
        return Some(0.0);
    }
    if air_k <= limit_k {
        return None;
    }
    let diameter_m = (4.0 * airflow_m3_s / (std::f64::consts::PI * OUTLET_M_S)).sqrt();
    Some(JET_TEMPERATURE * JET * diameter_m * (air_k - blown_k) / (air_k - limit_k))
}

/// The section.
pub(super) fn section(room: &RoomReport, units: UnitSystem) -> Vec<Block> {
    let mut blocks = vec![Block::Heading("The room's heat, water and air".to_owned()), load(room, units)];
    blocks.extend(measures(room, units));
    blocks.extend(house(room, units));
    blocks.push(air(room));
    blocks.extend(water(room, units));
    blocks.extend(stream(room, units));
    blocks
}

fn load(room: &RoomReport, units: UnitSystem) -> Block {
    let number =
        |map: &Map<String, Value>, key: &str| map.get(key).and_then(Value::as_f64).unwrap_or_default();
    let kept: Vec<_> = CAUSES
        .iter()
        .filter(|(key, ..)| room.load_breakdown.iter().any(|month| number(month, key) != 0.0))
        .collect();
    let cells = |name: String, map: &Map<String, Value>| {
        let energy = |kwh: f64| Measure::Energy.rounded(kwh, units).to_string();
        let mut cells = vec![name];
        cells.extend(kept.iter().map(|(key, ..)| energy(number(map, key))));
        cells
    };
    let rows = room.load_breakdown.iter().enumerate();
    let mut columns = vec![Column::words("Month")];
    columns.extend(kept.iter().map(|(_, head, _)| Column::number(head, Measure::Energy.unit(units))));
    let mut notes = Vec::new();
    let worst = room.worst_day.as_ref().map(|worst| {
        notes.push(format!(
            "The last line is the day with the heaviest load, {}: {} to be cooled away, with what the resting machine gives off.",
            day_words([worst.month, worst.day]),
            Measure::Energy.words(worst.load_kwh, units)
        ));
        cells(day_words([worst.month, worst.day]), &worst.by_cause)
    });
    Block::Table(Table {
        title: "Where the room's heat comes from, by month".to_owned(),
        columns,
        rows: rows.map(|(index, month)| cells(MONTHS[index].to_owned(), month)).collect(),
        year: worst,
        notes,
    })
}

/// The measures that cut most.
fn measures(room: &RoomReport, units: UnitSystem) -> Option<Block> {
    let cell = |measure: Measure, value: f64| measure.rounded(value, units).to_string();
    let row = |one: &LoadCut| {
        vec![
            textwrap::fill(&one.change, 30),
            cell(Measure::Energy, one.cut_kwh),
            cell(Measure::Energy, one.cut_in_worst_month_kwh),
            cell(Measure::Energy, one.electricity_kwh),
            cell(Measure::Volume, one.dump_l),
            cell(Measure::Duration, one.frozen_contents_h),
        ]
    };
    let energy = Measure::Energy.unit(units);
    (!room.measures.is_empty()).then(|| {
        Block::Table(Table {
            title: "What would cut most of it, each by running its year".to_owned(),
            columns: vec![
                Column::words("Measure"),
                Column::number("cut in\nthe year", energy),
                Column::number("worst\nmonth", energy),
                Column::number("elec-\ntricity", energy),
                Column::number("dumped", Measure::Volume.unit(units)),
                Column::number("food\nfrozen", "h"),
            ],
            rows: room.measures.iter().map(row).collect(),
            year: None,
            notes: vec![
                "Cut: of the heat to be cooled away. What is not taken from the room is no hot water either: with less load the booster may buy more."
                    .to_owned(),
            ],
        })
    })
}

fn day_words([month, day]: [usize; 2]) -> String {
    format!("{day} {}", MONTHS[month - 1])
}

/// What the heated house gives.
fn house(room: &RoomReport, units: UnitSystem) -> Option<Block> {
    let months = room.house_heat_kwh.as_ref()?;
    let most = (0..12).fold(0, |most, month| if months[month] > months[most] { month } else { most });
    Some(Block::Paragraph(format!(
        "Heat out of the heated house: {} in the months in which it is heated, most of it in {} ({}). Walls, leaks and doors toward heated \
         rooms bring it in, and the house's heating makes it up again: so much of the heat pump's hot water has been paid for once already, \
         at the price of that heating. An unheated room between loses to the cold room too, and the house to it; that is not in this figure.",
        Measure::Energy.words(months.iter().sum(), units),
        MONTHS[most],
        Measure::Energy.words(months[most], units)
    )))
}

/// Air that doors and leaks exchange, beside what commercial rooms are reckoned with.
fn air(room: &RoomReport) -> Block {
    let changes = &room.air_changes_per_day;
    let most = changes.iter().copied().fold(0.0, f64::max);
    let worst = changes.iter().position(|&one| one == most).unwrap_or(0);
    let bound = room.air_changes_of_commercial_rooms;
    let verdict = if most > bound {
        "yours is more than that: look at openings, their seconds and the leakage again, or hang a strip curtain"
    } else {
        "a household's door should stay below it, and yours does"
    };
    Block::Paragraph(format!(
        "Air changes: doors and leaks together exchange the room's air {} times a day on the mean of the year, {} times in {}. Commercial rooms of this size are \
         reckoned with {} (tables of older handbooks, From memory, to be verified); {verdict}.",
        decimals(changes.iter().sum::<f64>() / 12.0, 1),
        decimals(most, 1),
        MONTHS[worst],
        decimals(bound, 0)
    ))
}

fn water(room: &RoomReport, units: UnitSystem) -> Option<Block> {
    let wettest = room.wettest_day.as_ref().filter(|day| day.l > 0.0)?;
    let litres = |l: f64| Wording(units).volume(l / L_PER_M3);
    let most = room.condensate_l_per_day.iter().copied().fold(0.0, f64::max);
    let worst = room.condensate_l_per_day.iter().position(|&l| l == most)?;
    let mean = room.condensate_l_per_day.iter().sum::<f64>() / 12.0;
    let catch = match (room.bucket_l, room.bucket_days) {
        (Some(bucket), Some([month, day])) => format!(
            "Your bucket of {} lasts {} days in that month and {} on that day: a bucket is forgotten, so give it a float that calls, or better a drain.",
            litres(bucket),
            decimals(month, 1),
            decimals(day, 1)
        ),
        _ => "Lead it to a drain, with a trap that the fan cannot blow or suck dry and that does not freeze, a fall of 1 in 50, and a second pan or \
              a float switch under the first for the day on which it clogs (Common practice, no source)."
            .to_owned(),
    };
    Some(Block::Paragraph(format!(
        "Water off the coil: {} a day on the mean of the year, {} in {}, and {} on the wettest day, {}. {catch}",
        litres(mean),
        litres(most),
        MONTHS[worst],
        litres(wettest.l),
        day_words([wettest.month, wettest.day])
    )))
}

fn stream(room: &RoomReport, units: UnitSystem) -> Option<Block> {
    let air = &room.supply_air;
    let (coldest, below) = air.coldest_degc.zip(air.below_contents_k)?;
    let say = Wording(units);
    let degrees = |degc: f64| say.temperature(degc + ZERO_CELSIUS_K);
    let hours: f64 = air.below_freezing_point_h.iter().sum();
    let clear = match air.keep_clear_m {
        Some(0.0) => String::new(),
        Some(distance) => format!(
            " In its middle it is below {} as far as {} from the coil, as a free jet: keep tender things out of its way, let it blow \
             along the ceiling or against a baffle, and never against a shelf (ASHRAE Handbook Fundamentals, space air diffusion, From memory, \
             to be verified; 3 m/s at the outlet: Common practice, no source).",
            degrees(air.freezing_point_degc),
            Kind::Length.report_unit(units).write_rounded(distance, 1)
        ),
        None => " The room's own air is below it on the mean of the year.".to_owned(),
    };
    let touched = match air.bypass_frac {
        None => String::new(),
        Some(bypass) if bypass < 0.0 => format!(
            " So little air cannot carry its cold past a coil at {}: the real coil is colder and frosts sooner, or more air passes. Look up the unit's air flow \
             and give it as `airflow`.",
            degrees(air.coil_degc)
        ),
        Some(bypass) => format!(
            " The coil is at about {} (apparatus dew point) with the room at its set point, and {} of the air pass it untouched.",
            degrees(air.coil_degc),
            percent(bypass)
        ),
    };
    Some(Block::Paragraph(format!(
        "Air from the coil: down to {}, {} below the mean of what is stored, and for {} below {}, where the first of it freezes. The room's air \
         itself falls to {} at the end of a run.{touched}{clear}",
        degrees(coldest),
        say.difference(below),
        say.hours(3600.0 * hours),
        degrees(air.freezing_point_degc),
        degrees(air.coldest_room_air_degc)
    )))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::report::assessment::sample;
    use crate::report::{Report, text};
    use approx::assert_relative_eq;

    #[test]
    fn the_causes_of_a_month_are_its_load() {
        let year = sample::year();
        let room = RoomReport::of(&example::household(), &example::plant(), &year);
        for (month, causes) in year.months.iter().zip(&room.load_breakdown) {
            let sum: f64 = causes.values().filter_map(Value::as_f64).sum();
            assert_eq!(causes.len(), 10);
            assert_relative_eq!(sum, month.gain_total_j() / J_PER_KWH, max_relative = 1e-12);
        }
        // 33.33 kg times 2.3 in the 31 days of July.
        assert_relative_eq!(room.condensate_l_per_day[6], 33.33 * 2.3 / 31.0, max_relative = 1e-12);
        assert_relative_eq!(room.humidity_mean_pct[0], 91.0, max_relative = 1e-12);
        assert_eq!(room.wettest_day.map(|day| (day.month, day.day)), Some((7, 20)));
    }

    /// By hand: leaks of 0.0005 kg/s and 3 x 30 kg through the door of a room with 20 kg of air: 2.16 + 4.5/31 x 31 in a month of 31 days.
    #[test]
    fn air_changes_are_told_against_those_of_commercial_rooms() {
        let (household, mut plant, mut year) = (example::household(), example::plant(), sample::year());
        (plant.room.leakage_kg_s, plant.room.air_mass_kg) = (0.0005, 20.0);
        year.months[6].door_air_kg = 31.0 * 90.0;
        let told = |year: &Year| {
            let room = RoomReport::of(&household, &plant, year);
            let Block::Paragraph(text) = air(&room) else { panic!("a paragraph") };
            (room.air_changes_per_day[6], text)
        };
        let (changes, text) = told(&year);
        assert_relative_eq!(changes, 0.0005 * 86_400.0 / 20.0 + 90.0 / 20.0, max_relative = 1e-12);
        assert!(text.contains("6.7 times in Jul") && text.contains("yours does"), "{text}");
        year.months[6].door_air_kg *= 20.0;
        assert!(told(&year).1.contains("more than that"));
    }

    #[test]
    fn a_bucket_lasts_by_the_month_and_by_the_day() {
        let (mut household, year) = (example::household(), sample::year());
        household.room.condensate_bucket = Some(crate::units::cubic_metres(0.01));
        let room = RoomReport::of(&household, &example::plant(), &year);
        let [month, day] = room.bucket_days.expect("there is a bucket");
        assert_relative_eq!(month, 10.0 / (33.33 * 2.3 / 31.0), max_relative = 1e-12);
        assert_relative_eq!(day, 10.0 / 4.2, max_relative = 1e-12);
    }

    /// By hand: 0.2 m3/s at 3 m/s leave an opening of 0.2913 m; 12 K below a room of 4 °C, to 0 °C: 0.8 x 6 x 0.2913 x 12/4 = 4.195 m.
    #[test]
    fn the_stream_reaches_as_far_as_a_free_jet() {
        let k = |degc: f64| degc + ZERO_CELSIUS_K;
        assert_relative_eq!(keep_clear_m(0.2, k(-8.0), k(4.0), k(0.0)).unwrap(), 4.195, epsilon = 5e-4);
        assert_eq!(keep_clear_m(0.2, k(0.0), k(4.0), k(0.0)), Some(0.0));
        assert_eq!(keep_clear_m(0.2, k(-8.0), k(0.0), k(0.0)), None);
    }

    /// By hand, of the example (0.4 m3/s of 1.25 kg/m3, coil 7 K below the air): the share follows from what its run takes out of the air, and twice the air
    /// leaves 1 - (1 - share)/2 untouched.
    #[test]
    fn twice_the_air_halves_what_touches_the_coil() {
        let (household, mut plant, mut year) = (example::household(), example::plant(), sample::year());
        year.total.blown_k.see(ZERO_CELSIUS_K - 2.0);
        let share = |plant: &Plant| {
            RoomReport::of(&household, plant, &year).supply_air.bypass_frac.expect("the pump ran")
        };
        let one = share(&plant);
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.airflow_m3_s *= 2.0;
        assert_relative_eq!(share(&plant), 1.0 - 0.5 * (1.0 - one), max_relative = 1e-12);
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.airflow_m3_s = 0.01;
        let room = RoomReport::of(&household, &plant, &year);
        let text = text::plain(&Report { blocks: section(&room, UnitSystem::Metric) });
        let words: Vec<&str> = text.split_whitespace().collect();
        assert!(words.join(" ").contains("cannot carry its cold"), "{text}");
    }

    #[test]
    fn the_section_fits_the_width_in_both_systems() {
        let room = RoomReport::of(&example::household(), &example::plant(), &sample::year());
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            let text = text::plain(&Report { blocks: section(&room, units) });
            assert!(text.lines().all(|line| line.chars().count() <= text::WIDTH), "{text}");
            assert!(text.contains("Water off the coil") && text.contains("20 Jul"), "{text}");
        }
    }
}

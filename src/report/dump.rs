//! The overflow dump: how much, how fast, through what, where to, and what would change it.

mod parts;
mod tables;
mod well;

use std::collections::BTreeMap;

use serde::Serialize;

use crate::change::Change;
use crate::constants::{WATER_DENSITY_KG_M3, ZERO_CELSIUS_K};
use crate::finding::ONE_EVENT_S;
use crate::ground::GroundClimate;
use crate::household::{Destination, DumpLine, Household, UnitSystem};
use crate::irrigation::{PLANTS, WATERINGS, drying_mm};
use crate::overflow::required_kg_s;
use crate::pipe::{Line, Stage};
use crate::plant::{Calendar, Plant};
use crate::report::quantity::{self, Quantity};
use crate::water::density_kg_m3;
use crate::wording::Wording;
use crate::year::Year;

pub use well::WellShare;

pub(super) use tables::section;

/// Litres in a cubic metre, seconds in a minute, joules in a kilowatt hour, pascals in a kilopascal.
const L_PER_M3: f64 = 1000.0;
const MINUTE_S: f64 = 60.0;
const J_PER_KWH: f64 = 3.6e6;
const PA_PER_KPA: f64 = 1000.0;
/// Hours and seconds of a day.
const DAY_H: usize = 24;
const DAY_S: f64 = 86_400.0;
/// Conductivity of garden soil, W/mK. Common practice, no source: from 0.5 where it is dry to 1.5 where it is moist.
const GARDEN_SOIL_W_MK: f64 = 1.0;
/// One day in so many has more water than the heavy day.
const HEAVY_ONE_DAY_IN: usize = 20;
/// The lawn that is told for every month: a cool-season lawn that is drip-watered, see [`PLANTS`] and [`WATERINGS`].
const LAWN: usize = 0;
const DRIP: usize = 3;

/// Everything about the dump.
#[derive(Debug, Clone, Serialize)]
pub struct DumpReport {
    /// Water at the aquastat's probe at which the dump opens, and at which it closes, °C; `None` without a dump.
    pub opens_at_degc: Option<f64>,
    /// See there.
    pub closes_at_degc: Option<f64>,
    /// Flow that carries the pump's whole heat away in its worst hour, L/min; `None` where no flow does.
    pub required_flow_l_min: Option<f64>,
    /// Flow of the dump, L/min; `None` without one, as all that follows to `worst_day`.
    pub flow_l_min: Option<f64>,
    /// Flow that the house's pressure drives through the line, L/min; `None` where the line was not described.
    pub line_flow_l_min: Option<f64>,
    /// Fastest water in the line at the dump's flow, m/s.
    pub velocity_m_s: Option<f64>,
    /// Fastest that it should be there, m/s.
    pub velocity_limit_m_s: Option<f64>,
    /// Where the pressure goes at the dump's flow.
    pub pressure_drop_kpa: Vec<PartDrop>,
    /// Water that stands in the line, L.
    pub line_holds_l: Option<f64>,
    /// The day that dumped most.
    pub worst_day: Option<WorstDay>,
    /// Most water in one hour of the clock, L.
    pub worst_hour_l: f64,
    /// Longest time for which it ran without a break, min; 0 where it never did.
    pub longest_open_min: f64,
    /// Times its guard shut it; `None` without one.
    pub guard_shut: Option<f64>,
    /// Hottest water at the end of the line, °C, at the dump's flow and over the year's warmest ground; `None` where none of the line is buried.
    pub line_arrives_degc: Option<f64>,
    /// What it asks of the household's own well; `None` without one.
    pub well: Option<WellShare>,
    /// The longest stretch of the year without frost outdoors, where part of the line lies there.
    pub frost_free: Option<FrostFree>,
    /// The months.
    pub months: Vec<DumpMonth>,
    /// The year with other flows, or with a dump where there is none.
    pub sizes: Vec<DumpYear>,
    /// The year with other things changed, one at a time.
    pub changes: Vec<DumpYear>,
    /// What has to be bought and fitted.
    pub parts: Vec<String>,
}

/// Pressure that a part of the line takes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartDrop {
    /// The part.
    pub part: String,
    /// What it takes, kPa; negative where a lower outlet gives pressure.
    pub kpa: f64,
}

/// The day that dumped most.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WorstDay {
    /// Month 1 to 12.
    pub month: usize,
    /// Day of the month, from 1.
    pub day: usize,
    /// Water dumped, L.
    pub l: f64,
}

/// The longest stretch without frost outdoors.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FrostFree {
    /// Its first and last day: month 1 to 12 and day from 1.
    pub first: [usize; 2],
    /// See `first`.
    pub last: [usize; 2],
    /// Days on which something was dumped outside of it, and how much, L.
    pub dumps_outside: usize,
    /// See `dumps_outside`.
    pub dumped_outside_l: f64,
}

/// A month of the dump.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DumpMonth {
    /// Month 1 to 12.
    pub month: usize,
    /// Mean of its days, L/day.
    pub l_per_day_mean: f64,
    /// No more than one of twenty days has more, L/day.
    pub l_per_day_p95: f64,
    /// Its worst day, L.
    pub l_worst_day: f64,
    /// Most in one hour of the clock, L.
    pub l_worst_hour: f64,
    /// How long the valve stood open, min/day.
    pub open_min_per_day: f64,
    /// Times it opened.
    pub openings: f64,
    /// Heat thrown away, kWh.
    pub heat_kwh: f64,
    /// Water that each place took, with what tempered it, L, by name.
    pub placed_l: BTreeMap<String, f64>,
    /// Cold water that tempered it, L.
    pub tempering_l: f64,
    /// Time in which the aquastat called and no water could leave: no place had room, or timer or guard held the dump, h.
    pub unplaced_h: f64,
    /// Heat that the pump made in it and that stayed in the tank, kWh.
    pub unplaced_kwh: f64,
    /// Drip-watered lawn that would take all of the month's water, m2; `None` where lawns need none or nothing was dumped.
    pub lawn_m2: Option<f64>,
}

/// A year with something changed.
#[derive(Debug, Clone, Serialize)]
pub struct DumpYear {
    /// The change in words.
    #[serde(rename = "change", serialize_with = "order")]
    pub change: Change,
    /// Water dumped in the year, L.
    pub dump_l: f64,
    /// The same in the worst month, L/day.
    pub worst_month_l_per_day: f64,
    /// How long the valve stood open in the worst month, min/day.
    pub open_min_per_day: f64,
    /// Food over its warm limit, h.
    pub over_band_h: f64,
    /// Time in which a limit held the pump while the room asked for cooling, h.
    pub refused_h: f64,
    /// Electricity, kWh.
    pub electricity_kwh: f64,
    /// Energy that the booster buys, kWh.
    pub booster_bought_kwh: f64,
    /// Whether food and pump are held up for no more than one event of four hours each.
    pub enough: bool,
}

fn order<S: serde::Serializer>(change: &Change, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(&change.words())
}

impl DumpYear {
    /// The year after a change.
    pub fn of(change: Change, year: &Year) -> Self {
        let value = |quantity: &Quantity| quantity.of(&year.total).unwrap_or_default();
        let most = |of: fn(&crate::year::Interval) -> f64| {
            let daily = |month: &crate::year::Interval| of(month) / month.duration_s * DAY_S;
            year.months.iter().filter(|month| month.duration_s > 0.0).map(daily).fold(0.0, f64::max)
        };
        let total = &year.total;
        Self {
            change,
            dump_l: value(&quantity::DUMP),
            worst_month_l_per_day: most(|month| month.dump_m3) * L_PER_M3,
            open_min_per_day: most(|month| month.dump_open_s) / MINUTE_S,
            over_band_h: value(&quantity::OVER_BAND),
            refused_h: value(&quantity::MISSED),
            electricity_kwh: value(&quantity::ELECTRICITY),
            booster_bought_kwh: value(&quantity::BOOSTER_BOUGHT),
            enough: total.missed_s <= ONE_EVENT_S && total.over_band_s <= ONE_EVENT_S,
        }
    }
}

impl DumpReport {
    /// Of a household's year, and of the years with other sizes and changes.
    pub(super) fn of(
        household: &Household,
        plant: &Plant,
        year: &Year,
        (sizes, changes): (Vec<DumpYear>, Vec<DumpYear>),
    ) -> Self {
        let line = household.dump.as_ref();
        let required = required_kg_s(plant, year);
        let opens_k = line.map_or(ZERO_CELSIUS_K + 50.0, |line| line.opens_at.value);
        let pipes = line.and_then(|line| Some((line, line.line.as_ref()?)));
        let fastest = pipes.and_then(|(line, pipes)| pipes.fastest(line.flow.value));
        let hottest_k = year.total.tank_top_k.max;
        Self {
            opens_at_degc: line.map(|line| line.opens_at.value - ZERO_CELSIUS_K),
            closes_at_degc: line.map(|line| line.closes_at.value - ZERO_CELSIUS_K),
            required_flow_l_min: required
                .is_finite()
                .then(|| required / density_kg_m3(opens_k) * L_PER_M3 * MINUTE_S),
            flow_l_min: line.map(|line| line.flow.value * L_PER_M3 * MINUTE_S),
            line_flow_l_min: pipes.map(|(_, pipes)| pipes.flow_m3_s(opens_k) * L_PER_M3 * MINUTE_S),
            velocity_m_s: fastest.map(|(_, velocity)| velocity),
            velocity_limit_m_s: pipes
                .zip(fastest)
                .map(|((_, pipes), (run, _))| pipes.runs[run].material.fastest_m_s(hottest_k)),
            pressure_drop_kpa: line.map_or_else(Vec::new, |line| drops(line, opens_k)),
            line_holds_l: pipes
                .map(|(_, pipes)| pipes.runs.iter().map(|run| run.holds_m3()).sum::<f64>() * L_PER_M3),
            worst_day: worst_day(year),
            worst_hour_l: year.dumped.worst_hour_m3(None) * L_PER_M3,
            longest_open_min: year.total.dump_longest_s / MINUTE_S,
            guard_shut: line.and_then(|line| line.longest_open).map(|_| year.total.dump_guarded),
            line_arrives_degc: pipes
                .and_then(|(line, pipes)| arrives_k(household, line, pipes, hottest_k))
                .map(|arrives_k| arrives_k - ZERO_CELSIUS_K),
            well: line.and_then(|line| WellShare::of(household.site.well.as_ref()?, line, year)),
            frost_free: line.filter(|line| leads_outdoors(line)).and_then(|_| frost_free(plant, year)),
            months: months(household, plant, year),
            sizes,
            changes,
            parts: line
                .map_or_else(Vec::new, |line| parts::list(household, line, year, Wording(household.units))),
        }
    }
}

/// Whether some place lies outdoors.
fn leads_outdoors(line: &DumpLine) -> bool {
    line.leads_to(Destination::Irrigation) || line.leads_to(Destination::Barrel)
}

/// Hottest water at the end of a line of which some lies in the ground, K: at its warmest there.
fn arrives_k(household: &Household, line: &DumpLine, pipes: &Line, hottest_k: f64) -> Option<f64> {
    pipes.runs.iter().any(|run| run.buried_m.is_some()).then_some(())?;
    let climate = GroundClimate::from_daily_means(&household.weather.daily_mean_dry_bulb_k());
    let diffusivity_m2_s = household.site.soil_diffusivity.value;
    let flow_kg_s = line.flow.value * density_kg_m3(line.opens_at.value);
    let leaves_k = line.hottest_at_k(None, hottest_k)?;
    Some(pipes.runs.iter().fold(leaves_k, |water_k, run| {
        let soil_k = climate.warmest_k(run.buried_m.unwrap_or(0.0), diffusivity_m2_s);
        let left = run.left_over_soil_frac(flow_kg_s, GARDEN_SOIL_W_MK);
        soil_k + (water_k - soil_k) * left
    }))
}

/// Where the pressure goes at the dump's flow.
fn drops(line: &DumpLine, opens_k: f64) -> Vec<PartDrop> {
    let Some(pipes) = &line.line else { return Vec::new() };
    let name = |stage: Stage| match stage {
        Stage::Rise => "height".to_owned(),
        Stage::Run(index) => pipes.runs[index].name.clone(),
        Stage::Valve(index) => pipes.valves[index].0.clone(),
        Stage::Outlet if pipes.emitters.is_some() => "emitters".to_owned(),
        Stage::Outlet => "open end".to_owned(),
    };
    let part = |drop: crate::pipe::Drop| PartDrop { part: name(drop.stage), kpa: drop.pa / PA_PER_KPA };
    pipes.drops(line.flow.value, opens_k).into_iter().map(part).collect()
}

/// Month 1 to 12 and day from 1 of a day of the year.
fn date(calendar: &Calendar, day: usize) -> [usize; 2] {
    let month = calendar.month_of_hour(day * DAY_H);
    [month + 1, day - calendar.month_starts_h[month] / DAY_H + 1]
}

fn worst_day(year: &Year) -> Option<WorstDay> {
    let worst = year.dumped.worst(None)?;
    let [month, day] = date(&year.calendar, worst.day);
    Some(WorstDay { month, day, l: worst.m3 * L_PER_M3 })
}

/// The longest run of days without frost, over the turn of the year too; `None` where it never freezes or always does.
fn frost_free(plant: &Plant, year: &Year) -> Option<FrostFree> {
    let stamps_k = &plant.boundaries[0].temperature_k;
    let days = year.calendar.hours() / DAY_H;
    let freezes = |day: usize| {
        stamps_k[day * DAY_H..=(day + 1) * DAY_H].iter().any(|&stamp_k| stamp_k < ZERO_CELSIUS_K)
    };
    let frosty: Vec<bool> = (0..days).map(freezes).collect();
    let length = |first: usize| (0..days).take_while(|after| !frosty[(first + after) % days]).count();
    let begins = (0..days).filter(|&day| !frosty[day] && frosty[(day + days - 1) % days]);
    let (first, length) = begins.map(|first| (first, length(first))).max_by_key(|(_, length)| *length)?;
    let inside = |day: usize| (day + days - first) % days < length;
    let outside = || year.dumped.0.iter().filter(|day| day.m3 > 0.0 && !inside(day.day));
    Some(FrostFree {
        first: date(&year.calendar, first),
        last: date(&year.calendar, (first + length - 1) % days),
        dumps_outside: outside().count(),
        dumped_outside_l: outside().map(|day| day.m3).sum::<f64>() * L_PER_M3,
    })
}

fn months(household: &Household, plant: &Plant, year: &Year) -> Vec<DumpMonth> {
    let rain = household.site.rain.map(|rain| rain.map(|month| month.value * 1000.0));
    let starts_h = plant.calendar.month_starts_h;
    let dries_mm = drying_mm(&household.weather, starts_h, rain, PLANTS[LAWN].crop_coefficient);
    let month = |index: usize| {
        let month = &year.months[index];
        let days = month.duration_s / DAY_S;
        let per_day = |total: f64| if days > 0.0 { total / days } else { 0.0 };
        let heavy_m3 = year.dumped.exceeded_one_day_in_m3(Some(index), HEAVY_ONE_DAY_IN);
        let dries = dries_mm.get(starts_h[index] / DAY_H..starts_h[index + 1] / DAY_H);
        let needs_mm: f64 = dries.map_or(0.0, |dries| dries.iter().sum());
        DumpMonth {
            month: index + 1,
            l_per_day_mean: per_day(month.dump_m3) * L_PER_M3,
            l_per_day_p95: heavy_m3.unwrap_or(0.0) * L_PER_M3,
            l_worst_day: year.dumped.worst(Some(index)).map_or(0.0, |day| day.m3 * L_PER_M3),
            l_worst_hour: year.dumped.worst_hour_m3(Some(index)) * L_PER_M3,
            open_min_per_day: per_day(month.dump_open_s) / MINUTE_S,
            openings: month.dump_openings,
            heat_kwh: month.dump_j / J_PER_KWH,
            placed_l: placed(household, month),
            tempering_l: litres(month.dump_tempering_kg),
            unplaced_h: month.dump_held_s / 3600.0,
            unplaced_kwh: month.dump_held_j / J_PER_KWH,
            // A litre on a square metre is a millimetre.
            lawn_m2: (month.dump_m3 > 0.0 && needs_mm > 0.0)
                .then(|| month.dump_m3 * L_PER_M3 * WATERINGS[DRIP].used_frac / needs_mm),
        }
    };
    (0..12).map(month).collect()
}

fn litres(kg: f64) -> f64 {
    kg / WATER_DENSITY_KG_M3 * L_PER_M3
}

/// Water that each place took; places of the same name together.
fn placed(household: &Household, month: &crate::year::Interval) -> BTreeMap<String, f64> {
    let mut placed = BTreeMap::new();
    let places = household.dump.iter().flat_map(|line| &line.destinations);
    for (place, kg) in places.zip(month.dump_placed_kg) {
        *placed.entry(place.name.clone()).or_insert(0.0) += litres(kg);
    }
    placed
}

/// Whether US customary units are asked for.
fn is_us(units: UnitSystem) -> bool {
    units == UnitSystem::Us
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::report::assessment::sample;
    use approx::assert_relative_eq;

    #[test]
    fn litres_of_a_month_by_hand() {
        let (household, plant, year) = (example::household(), example::plant(), sample::year());
        let report = DumpReport::of(&household, &plant, &year, (Vec::new(), Vec::new()));
        let july = &report.months[6];
        assert_relative_eq!(
            july.l_per_day_mean,
            year.months[6].dump_m3 * 1000.0 / 31.0,
            max_relative = 1e-12
        );
        assert!(july.l_per_day_p95 <= july.l_worst_day && july.l_worst_hour <= july.l_worst_day);
        assert_eq!(july.placed_l.keys().collect::<Vec<_>>(), ["drain"]);
    }

    /// July of a place at 45 degrees north with 26.6 and 14.8 °C every day: FAO 56, example 20, gives 5.0 mm a day on the fifteenth; 0.95 of it for a lawn, and
    /// 1/0.9 for drip. Second hand: as in tests/published. 3 %: the sun's month is not its fifteenth, and two digits are printed.
    #[test]
    fn a_lawn_that_takes_all() {
        let (mut household, plant, mut year) = (example::household(), example::plant(), sample::year());
        household.weather.latitude_deg = 45.72;
        let hour = |hour: usize| crate::weather::WeatherHour {
            dry_bulb_k: ZERO_CELSIUS_K + if hour % DAY_H < 12 { 14.8 } else { 26.6 },
            humidity_ratio: 0.008,
            pressure_pa: 1.0e5,
            global_w_m2: None,
            direct_w_m2: None,
            diffuse_w_m2: None,
        };
        household.weather.hours = (0..8760).map(hour).collect();
        year.months[6].dump_m3 = 3.1;
        let report = DumpReport::of(&household, &plant, &year, (Vec::new(), Vec::new()));
        let lawn_m2 = report.months[6].lawn_m2.expect("a lawn needs water in July");
        assert_relative_eq!(lawn_m2, 100.0 * 0.9 / (0.95 * 5.0), max_relative = 0.03);
    }

    #[test]
    fn the_frost_free_stretch_runs_over_the_turn_of_the_year_where_summer_does() {
        let (mut plant, mut year) = (example::plant(), sample::year());
        let stamps_k = &mut plant.boundaries[0].temperature_k;
        *stamps_k = vec![ZERO_CELSIUS_K + 10.0; year.calendar.hours() + 1];
        assert_eq!(frost_free(&plant, &year), None);
        // Frost from 1 June to 31 August: days 151 to 242.
        plant.boundaries[0].temperature_k[151 * DAY_H + 1..243 * DAY_H].fill(ZERO_CELSIUS_K - 1.0);
        for day in &mut year.dumped.0 {
            day.m3 = if day.day == 200 { 0.05 } else { 0.0 };
        }
        let free = frost_free(&plant, &year).expect("there is frost");
        assert_eq!((free.first, free.last), ([9, 1], [5, 31]));
        assert_eq!((free.dumps_outside, free.dumped_outside_l), (1, 50.0));
    }

    #[test]
    fn a_flow_that_holds_food_and_pump_is_enough_to_four_hours() {
        let mut year = sample::year();
        let enough = |year: &Year| DumpYear::of(Change::RemoveDump, year).enough;
        for (missed_s, over_band_s, held) in
            [(4.0 * 3600.0, 4.0 * 3600.0, true), (14_401.0, 0.0, false), (0.0, 14_401.0, false)]
        {
            (year.total.missed_s, year.total.over_band_s) = (missed_s, over_band_s);
            assert_eq!(enough(&year), held);
        }
    }
}

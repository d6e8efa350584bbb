//! What came out of the taps: enough, warm enough, too hot, and what the booster did for it.

use serde::Serialize;

use crate::constants::ZERO_CELSIUS_K;
use crate::draw::range_of_studies_m3;
use crate::finding::balance_factor;
use crate::household::{Household, UnitSystem};
use crate::plant::{DAY_S, Plant};
use crate::report::MONTHS;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::report::quantity::{self, Quantity};
use crate::scald::{HOTTEST_AT_TAP_K, burn_row, shortest_burn_s};
use crate::water::density_kg_m3;
use crate::year::{Interval, Year};

/// Litres in a cubic metre.
const CUBIC_METRE_L: f64 = 1000.0;
/// Seconds in a minute.
const MINUTE_S: f64 = 60.0;

/// What the taps got in a stretch of time.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Delivered {
    /// Time with water colder than wanted, min.
    pub shortfall_min: f64,
    /// Water colder than wanted, L.
    pub shortfall_l: f64,
    /// How much too cold it was at most, K.
    pub shortfall_most_k: f64,
    /// How much too cold it was on average, K; `None` where none was.
    pub shortfall_mean_k: Option<f64>,
    /// Heat missing, kWh.
    pub shortfall_kwh: f64,
    /// Time in which the taps ran with water above 49 degC on their hot side, min.
    pub scalding_min: f64,
    /// The same without the mixing valve, min.
    pub scalding_without_valve_min: f64,
    /// Hottest water on the hot side of a tap, degC; `None` where none was drawn.
    pub hottest_degc: Option<f64>,
    /// The same without the mixing valve, degC.
    pub hottest_without_valve_degc: Option<f64>,
    /// Heat of the booster to the water, kWh.
    pub booster_kwh: f64,
    /// Energy that it bought, kWh.
    pub booster_bought_kwh: f64,
    /// Most heat that it gave at any time, W.
    pub booster_peak_w: f64,
    /// Times it was lit.
    pub booster_fires: f64,
    /// Mean length of a fire, min; `None` where it was never lit.
    pub booster_mean_fire_min: Option<f64>,
    /// Time it stayed off because less was wanted of it than its smallest fire, min.
    pub booster_unlit_min: f64,
    /// Time in which water hotter than it allows entered it, min.
    pub booster_too_hot_inlet_min: f64,
    /// Heat of the electric element to the tank, and its electricity, kWh.
    pub element_kwh: f64,
    /// Mixed water that ran before it was warm, L.
    pub unused_l: f64,
    /// Heat over mains temperature in it, kWh.
    pub unused_kwh: f64,
}

impl Delivered {
    fn of(interval: &Interval, use_k: f64) -> Self {
        let value = |quantity: &Quantity| quantity.of(interval).unwrap_or_default();
        let minutes = |seconds: f64| seconds / MINUTE_S;
        let litres = |kg: f64| kg / density_kg_m3(use_k) * CUBIC_METRE_L;
        let mean = |sum: f64, of: f64| (of > 0.0).then(|| sum / of);
        Self {
            shortfall_min: minutes(interval.shortfall_s),
            shortfall_l: litres(interval.shortfall_kg),
            shortfall_most_k: interval.shortfall_most_dk,
            shortfall_mean_k: mean(
                interval.shortfall_j / crate::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K,
                interval.shortfall_kg,
            ),
            shortfall_kwh: value(&quantity::SHORTFALL),
            scalding_min: minutes(interval.scalding_s),
            scalding_without_valve_min: minutes(interval.scalding_without_valve_s),
            hottest_degc: quantity::HOTTEST_AT_TAP.of(interval),
            hottest_without_valve_degc: quantity::HOTTEST_WITHOUT_VALVE.of(interval),
            booster_kwh: value(&quantity::BOOSTER),
            booster_bought_kwh: value(&quantity::BOOSTER_BOUGHT),
            booster_peak_w: value(&quantity::BOOSTER_PEAK),
            booster_fires: interval.booster_fires,
            booster_mean_fire_min: mean(minutes(interval.booster_s), interval.booster_fires),
            booster_unlit_min: minutes(interval.booster_unlit_s),
            booster_too_hot_inlet_min: minutes(interval.booster_too_hot_s),
            element_kwh: value(&quantity::ELEMENT),
            unused_l: litres(interval.unused_kg),
            unused_kwh: value(&quantity::UNUSED_HEAT),
        }
    }
}

/// A month of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DeliveryMonth {
    /// Month 1 to 12.
    pub month: usize,
    /// What the taps got.
    #[serde(flatten)]
    pub delivered: Delivered,
    /// Mixed water used, mean of all days, L/day.
    pub used_l_per_day: f64,
    /// How many times as much would take all the heat made in the month and not lost; `None` where nothing is left or none is wanted.
    pub use_at_balance_times: Option<f64>,
    /// Mixed water a day that would take all the heat made in the month and not lost, L/day; `None` where nothing is left or none is wanted.
    pub use_at_balance_l_per_day: Option<f64>,
    /// People that would use it, each as much as now in that month; `None` where it is not said how many there are.
    pub people_at_balance: Option<f64>,
}

/// What published studies count for so many people.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Studies {
    /// People.
    pub people: u32,
    /// The lowest of them, mixed water, L/day.
    pub least_l_per_day: f64,
    /// The middle one, L/day.
    pub middle_l_per_day: f64,
    /// The highest, L/day.
    pub most_l_per_day: f64,
}

/// The year at the taps.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Delivery {
    /// Temperature of the mixed water, degC.
    pub use_degc: f64,
    /// Set point of the mixing valve, degC; `None` without one.
    pub mixing_valve_degc: Option<f64>,
    /// What the taps got in the year.
    #[serde(flatten)]
    pub year: Delivered,
    /// Shortest time in which the hottest water of a tap burns, s; `None` where it does not scald.
    pub burns_in_s: Option<f64>,
    /// The same without the mixing valve, s.
    pub burns_without_valve_in_s: Option<f64>,
    /// Mixed water used, mean of all days, L/day.
    pub used_l_per_day: f64,
    /// How many times as much would take all the heat made and not lost; `None` where nothing is left or none is wanted.
    pub use_at_balance_times: Option<f64>,
    /// The same as mixed water on a day without guests or absences, L/day; `None` where none is wanted.
    pub use_at_balance_l_per_day: Option<f64>,
    /// People that would use it, each as much as now; `None` where it is not said how many there are.
    pub people_at_balance: Option<f64>,
    /// What studies count for the people of the household.
    pub studies: Option<Studies>,
    /// The months.
    pub months: Vec<DeliveryMonth>,
}

impl Delivery {
    /// The taps of a year.
    pub fn of(household: &Household, plant: &Plant, year: &Year) -> Self {
        let water = &household.hot_water;
        let total = &year.total;
        let factor = balance_factor(total);
        let burn = |hottest_k: f64| shortest_burn_s(hottest_k);
        let used_l_per_day = |interval: &Interval| {
            let used_m3 = (interval.demand_kg + interval.unused_kg) / density_kg_m3(plant.use_k);
            used_m3 * CUBIC_METRE_L / (interval.duration_s / DAY_S)
        };
        let month = |(index, interval): (usize, &Interval)| {
            let factor = balance_factor(interval);
            DeliveryMonth {
                month: index + 1,
                delivered: Delivered::of(interval, plant.use_k),
                used_l_per_day: used_l_per_day(interval),
                use_at_balance_times: factor,
                use_at_balance_l_per_day: factor.map(|factor| factor * used_l_per_day(interval)),
                people_at_balance: factor
                    .zip(water.people)
                    .map(|(factor, people)| factor * f64::from(people)),
            }
        };
        Self {
            use_degc: plant.use_k - ZERO_CELSIUS_K,
            mixing_valve_degc: plant.valve_k.map(|valve_k| valve_k - ZERO_CELSIUS_K),
            year: Delivered::of(total, plant.use_k),
            burns_in_s: burn(total.hottest_at_tap_k),
            burns_without_valve_in_s: burn(total.hottest_without_valve_k),
            used_l_per_day: used_l_per_day(total),
            use_at_balance_times: factor,
            use_at_balance_l_per_day: factor.map(|factor| factor * water.daily.value * CUBIC_METRE_L),
            people_at_balance: factor.zip(water.people).map(|(factor, people)| factor * f64::from(people)),
            studies: water.people.map(|people| {
                let [least, middle, most] =
                    range_of_studies_m3(people, plant.use_k).map(|daily_m3| daily_m3 * CUBIC_METRE_L);
                Studies { people, least_l_per_day: least, middle_l_per_day: middle, most_l_per_day: most }
            }),
            months: year.months.iter().enumerate().map(month).collect(),
        }
    }
}

/// The table of the taps, and what its words mean.
pub(super) fn table(delivery: &Delivery, units: UnitSystem) -> Vec<Block> {
    let of = |measure: Measure| measure.unit(units);
    let mut columns = vec![
        Column::words("Month"),
        Column::number("too\ncold", of(Measure::Minutes)),
        Column::number("that\nwater", of(Measure::Volume)),
        Column::number("by at\nmost", of(Measure::Difference)),
    ];
    let booster = delivery.year.booster_fires > 0.0;
    if booster {
        columns.push(Column::number("booster\npeak", of(Measure::Power)));
        columns.push(Column::number("fires", ""));
    }
    columns.extend([
        Column::number("able\nto\nscald", of(Measure::Minutes)),
        Column::number("without\nvalve", of(Measure::Minutes)),
        Column::number("hottest\nat tap", of(Measure::Temperature)),
    ]);
    let element = delivery.year.element_kwh > 0.0;
    if element {
        columns.push(Column::number("ele-\nment", of(Measure::Energy)));
    }
    let row = |name: &str, delivered: &Delivered| {
        let cell = |measure: Measure, value: Option<f64>| {
            value.map_or_else(|| "-".to_owned(), |value| measure.rounded(value, units).to_string())
        };
        let mut cells = vec![
            name.to_owned(),
            cell(Measure::Minutes, Some(delivered.shortfall_min)),
            cell(Measure::Volume, Some(delivered.shortfall_l)),
            cell(Measure::Difference, Some(delivered.shortfall_most_k)),
        ];
        if booster {
            cells.push(cell(Measure::Power, Some(delivered.booster_peak_w)));
            cells.push(cell(Measure::Count, Some(delivered.booster_fires)));
        }
        cells.extend([
            cell(Measure::Minutes, Some(delivered.scalding_min)),
            cell(Measure::Minutes, Some(delivered.scalding_without_valve_min)),
            cell(Measure::Temperature, delivered.hottest_degc),
        ]);
        if element {
            cells.push(cell(Measure::Energy, Some(delivered.element_kwh)));
        }
        cells
    };
    let rows = delivery.months.iter().map(|month| row(MONTHS[month.month - 1], &month.delivered)).collect();
    vec![
        Block::Heading("At the taps".to_owned()),
        Block::Table(Table {
            title: "Water too cold, and water that can scald".to_owned(),
            columns,
            rows,
            year: Some(row("Year", &delivery.year)),
            notes: notes(delivery, units),
        }),
    ]
}

fn notes(delivery: &Delivery, units: UnitSystem) -> Vec<String> {
    let degrees = |k: f64| Measure::Temperature.words(k - ZERO_CELSIUS_K, units);
    let mut notes = vec![format!(
        "Able to scald: the taps run and water above {} stands on their hot side, behind mixing valve and booster; without \
         valve: the same if there were none. What is too cold is colder than the use it is for asks.",
        degrees(HOTTEST_AT_TAP_K)
    )];
    let hottest_degc = delivery.year.hottest_without_valve_degc;
    if let (Some(hottest_degc), Some(seconds)) = (hottest_degc, delivery.burns_without_valve_in_s) {
        let (row_k, _, words) = burn_row(hottest_degc + ZERO_CELSIUS_K);
        let who = if delivery.mixing_valve_degc.is_some() { "Without the valve the" } else { "The" };
        notes.push(format!(
            "{who} hottest water would be {}: water of {} burns most adults to the third degree in {words} (US CPSC 5098), \
             this in {} seconds or less; children and the old sooner.",
            Measure::Temperature.words(hottest_degc, units),
            degrees(row_k),
            crate::wording::number(seconds.max(1.0)),
        ));
    }
    if delivery.year.unused_l > 0.0 {
        notes.push(format!(
            "In the year {} of mixed water ran before it was warm and took {} with it.",
            Measure::Volume.words(delivery.year.unused_l, units),
            Measure::Energy.words(delivery.year.unused_kwh, units)
        ));
    }
    notes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::report::{Report, text};
    use approx::assert_relative_eq;

    fn delivery(edit: impl Fn(&mut Interval)) -> Delivery {
        let mut months = example::year().months;
        months.iter_mut().for_each(edit);
        Delivery::of(&example::household(), &example::plant(), &example::year_of(months))
    }

    #[test]
    fn shortfall_is_told_in_minutes_degrees_and_litres() {
        // 300 kg too cold by 3 K on average: 300 x 4181.6 x 3 J. 992.3 kg/m3 at 40 °C (IAPWS-IF97): 302.3 L.
        let told = delivery(|month| {
            (month.shortfall_s, month.shortfall_kg, month.shortfall_most_dk) = (600.0, 300.0, 5.0);
            month.shortfall_j = 300.0 * 4181.6 * 3.0;
        });
        let year = &told.year;
        assert_relative_eq!(year.shortfall_min, 120.0, max_relative = 1e-12);
        assert_relative_eq!(year.shortfall_l, 12.0 * 302.3, max_relative = 1e-4);
        assert_relative_eq!(year.shortfall_mean_k.expect("it was short"), 3.0, max_relative = 1e-12);
        assert_eq!((year.shortfall_most_k, told.months[3].delivered.shortfall_most_k), (5.0, 5.0));
    }

    #[test]
    fn a_year_without_shortfall_fire_or_scald_says_nothing_of_them() {
        let told = delivery(|_| ());
        assert_eq!((told.year.shortfall_mean_k, told.year.booster_mean_fire_min), (None, None));
        assert_eq!((told.burns_in_s, told.year.hottest_degc), (None, None));
    }

    #[test]
    fn what_would_burn_without_the_valve_is_told_with_its_time() {
        let told = delivery(|month| {
            (month.hottest_at_tap_k, month.hottest_without_valve_k) =
                (ZERO_CELSIUS_K + 48.0, ZERO_CELSIUS_K + 60.0);
            (month.scalding_s, month.scalding_without_valve_s) = (0.0, 3600.0);
        });
        // 60 °C, 140 °F: 6 s, CPSC 5098.
        assert_eq!((told.burns_in_s, told.burns_without_valve_in_s), (None, Some(6.0)));
        assert_eq!(told.year.scalding_without_valve_min, 720.0);
        let text = text::plain(&Report { blocks: table(&told, UnitSystem::Metric) });
        assert!(text.contains("60.0 °C burns most adults"), "{text}");
    }

    #[test]
    fn the_balance_is_people_and_litres() {
        // 8 kWh a day made, 1 lost, 7 wanted with 200 L by 4 people: even.
        let told = delivery(|_| ());
        assert_relative_eq!(
            told.use_at_balance_l_per_day.expect("water is used"),
            200.0,
            max_relative = 1e-12
        );
        assert_relative_eq!(told.people_at_balance.expect("4 people"), 4.0, max_relative = 1e-12);
        let studies = told.studies.expect("4 people");
        assert!(
            studies.least_l_per_day < studies.middle_l_per_day
                && studies.middle_l_per_day < studies.most_l_per_day
        );
    }

    #[test]
    fn the_table_fits_the_width_in_both_systems_with_and_without_an_element() {
        for element_j in [0.0, 3.6e8] {
            let told = delivery(|month| {
                (month.element_j, month.booster_most_w, month.booster_fires) = (element_j, 23_456.7, 1234.0);
                (month.booster_s, month.shortfall_kg, month.unused_kg) = (123_456.0, 4567.8, 12.0);
                (month.scalding_s, month.scalding_without_valve_s) = (12_345.6, 123_456.0);
                (month.hottest_at_tap_k, month.hottest_without_valve_k) = (330.0, 345.0);
            });
            for units in [UnitSystem::Metric, UnitSystem::Us] {
                let text = text::plain(&Report { blocks: table(&told, units) });
                assert!(text.lines().all(|line| line.chars().count() <= text::WIDTH), "{text}");
                assert_eq!(text.contains("ment"), element_j > 0.0);
            }
        }
    }
}

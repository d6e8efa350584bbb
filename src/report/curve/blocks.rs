//! The curve in words, tables and bars.

use crate::household::UnitSystem;
use crate::report::block::{Block, Chart, Column, Series, Table};
use crate::report::curve::{Curve, CurveLimits, Mark, OperatingPoint};
use crate::report::measure::Measure;
use crate::wording::{number, percent};

/// What the numbers come from.
const SOURCE: &str = "Source: calculated cycle of the refrigerant, set to the unit's data sheet (Derived here); the marks' limits: Common \
    practice, no source.";

/// What the pump does against its inlet and the room's air.
pub(in crate::report) fn blocks(curve: &Curve, units: UnitSystem) -> Vec<Block> {
    let limits = &curve.cop_limits;
    vec![
        Block::Heading("The pump against the water it takes in".to_owned()),
        Block::Paragraph(
            "The pump sees the water at the tank's pump-out port, near the bottom, and not what the thermometer at \
             the top shows. It is told here started up, at full output, with a clean coil."
                .to_owned(),
        ),
        Block::Paragraph(passed_words(limits, units)),
        Block::Paragraph(surplus_words(limits, units)),
        Block::Table(by_inlet(curve, units)),
        Block::Chart(chart(curve, units)),
        Block::Heading("The pump against the room's air".to_owned()),
        Block::Paragraph(colder_words(limits, units)),
        Block::Paragraph(frost_words(limits, units)),
        Block::Table(by_room(curve, units)),
    ]
}

fn degrees(degc: f64, units: UnitSystem) -> String {
    Measure::Temperature.words(degc, units)
}

/// At which inlets the limits are passed.
fn passed_words(limits: &CurveLimits, units: UnitSystem) -> String {
    let lock_out = degrees(limits.lock_out_inlet_degc, units);
    let passes = |limit: String, inlet: Option<f64>| match inlet {
        Some(degc) => format!("falls below {limit} with water warmer than {}", degrees(degc, units)),
        None => format!("stays at {limit} or more until the pump locks out"),
    };
    let half = format!("half of that at {}", degrees(limits.cold_inlet_degc, units));
    format!(
        "Limits with the room at {}: the running COP {}; the cooling {}. At {lock_out} the pump locks out.",
        degrees(limits.room_air_degc, units),
        passes(number(limits.least_cop), limits.least_cop_inlet_degc),
        passes(half, limits.half_cooling_inlet_degc),
    )
}

/// How much hot water comes with the cold.
fn surplus_words(limits: &CurveLimits, units: UnitSystem) -> String {
    let warm = degrees(limits.warm_inlet_degc, units);
    match (limits.hot_per_cold_at_cold_inlet, limits.hot_per_cold_at_warm_inlet) {
        (Some(cold), Some(hot)) => format!(
            "A warm tank makes the surplus larger: with water at {} going in, the pump makes {} kWh of hot water for each kWh \
             of cold, at {warm} {} kWh.",
            degrees(limits.cold_inlet_degc, units),
            Measure::PerCold.rounded(cold, units),
            Measure::PerCold.rounded(hot, units),
        ),
        _ => format!("At the latest with water at {warm} going in the pump no longer cools the room."),
    }
}

/// What a colder room costs.
fn colder_words(limits: &CurveLimits, units: UnitSystem) -> String {
    let cooling = limits
        .colder_room_heat_from_room_frac
        .map_or_else(String::new, |share| format!(", and the cooling by {}", percent(-share)));
    format!(
        "Keeping the room {} colder than {} lowers the running COP by {} and the heat to water by {}{cooling}, with water at {} \
         going in.",
        Measure::Difference.words(1.0, units),
        degrees(limits.room_air_degc, units),
        percent(-limits.colder_room_cop_frac),
        percent(-limits.colder_room_heat_to_water_frac),
        degrees(limits.cold_inlet_degc, units),
    )
}

/// What a frosted coil takes off the numbers for a clean one.
fn frost_words(limits: &CurveLimits, units: UnitSystem) -> String {
    let state = if limits.coil_below_freezing {
        "The coil is below freezing at the set point and gathers frost in damp air."
    } else {
        "The coil stays above freezing at the set point; in a colder room it gathers frost."
    };
    let cooling = match (limits.frost_heat_from_room_frac, limits.frost_heat_from_room_warm_frac) {
        (Some(cold), Some(warm)) => format!(
            ", and off the cooling {} with water at {}, {} at {}",
            percent(-cold),
            degrees(limits.cold_inlet_degc, units),
            percent(-warm),
            degrees(limits.warm_inlet_degc, units)
        ),
        _ => String::new(),
    };
    let defrost = match (defrost_turn(limits, units), limits.defrost_takes_min) {
        (Some(turn), Some(takes_min)) => format!(
            " On top comes defrosting, {} without cooling {turn}.",
            Measure::Minutes.words(takes_min, units)
        ),
        _ => String::new(),
    };
    format!(
        "{state} The tables hold for a clean coil: frost takes {} off the heat to water and {} off the running COP{cooling}.{defrost}",
        percent(-limits.frost_heat_to_water_frac),
        percent(-limits.frost_cop_frac),
    )
}

/// When the unit defrosts, if it does.
fn defrost_turn(limits: &CurveLimits, units: UnitSystem) -> Option<String> {
    let running = limits.defrost_every_h.map(|every_h| {
        format!("after each {} of running with frost", Measure::Duration.words(every_h, units))
    });
    let clock = limits.defrost_clock_h.map(|every_h| {
        format!("every {}, by the clock, frost or none", Measure::Duration.words(every_h, units))
    });
    let frost =
        limits.defrost_frost_kg.map(|kg| format!("after each {} of frost", Measure::Mass.words(kg, units)));
    running.or(clock).or(frost)
}

fn by_inlet(curve: &Curve, units: UnitSystem) -> Table {
    let room = degrees(curve.cop_limits.room_air_degc, units);
    let first = Column::number("water\nin", Measure::Temperature.unit(units));
    let mut notes = vec![
        "Running COP: heat to water over the power of pump and circulator. Heat from the room: less all that the \
         running unit returns to it, standby included."
            .to_owned(),
        "Hot per cold: kWh of hot water for each kWh taken from the room.".to_owned(),
    ];
    notes.extend(outside_note(&curve.cop_by_inlet));
    notes.push(SOURCE.to_owned());
    table(format!("Room air {room}"), first, |point| point.water_in_degc, &curve.cop_by_inlet, notes, units)
}

fn by_room(curve: &Curve, units: UnitSystem) -> Table {
    let inlet = degrees(curve.cop_limits.cold_inlet_degc, units);
    let first = Column::number("room\nair", Measure::Temperature.unit(units));
    let notes = outside_note(&curve.cop_by_room).into_iter().collect();
    table(format!("Water in {inlet}"), first, |point| point.room_air_degc, &curve.cop_by_room, notes, units)
}

/// What a mark outside the map means, where there is one.
fn outside_note(points: &[OperatingPoint]) -> Option<String> {
    let outside = points.iter().any(|point| point.marks.contains(&Mark::OutsideMap));
    outside.then(|| "Outside map: beyond the calculated cycle, whose nearest edge is used.".to_owned())
}

fn table(
    title: String,
    first: Column,
    first_of: fn(&OperatingPoint) -> f64,
    points: &[OperatingPoint],
    notes: Vec<String>,
    units: UnitSystem,
) -> Table {
    let power = Measure::Power.unit(units);
    Table {
        title,
        columns: vec![
            first,
            Column::number("water\nout", Measure::Temperature.unit(units)),
            Column::number("running\nCOP", ""),
            Column::number("heat to\nwater", power),
            Column::number("heat\nfrom\nroom", power),
            Column::number("power", power),
            Column::number("water\nflow", Measure::PumpFlow.unit(units)),
            Column::number("hot\nper\ncold", ""),
            Column::words(""),
        ],
        rows: points.iter().map(|point| row(point, first_of, units)).collect(),
        year: None,
        notes,
    }
}

fn row(point: &OperatingPoint, first_of: fn(&OperatingPoint) -> f64, units: UnitSystem) -> Vec<String> {
    let cell = |measure: Measure, value: f64| measure.rounded(value, units).to_string();
    let with_band = |measure: Measure, value: f64, band_frac: Option<f64>| match band_frac {
        Some(share) => format!("{} ±{}", cell(measure, value), cell(measure, share * value)),
        None => cell(measure, value),
    };
    vec![
        cell(Measure::Temperature, first_of(point)),
        cell(Measure::Temperature, point.water_out_degc),
        with_band(Measure::Cop, point.cop, point.cop_band_frac),
        with_band(Measure::Power, point.heat_to_water_w, point.heat_to_water_band_frac),
        cell(Measure::Power, point.heat_from_room_w),
        cell(Measure::Power, point.electricity_w),
        cell(Measure::PumpFlow, point.flow_l_min),
        point.hot_per_cold.map_or_else(|| "-".to_owned(), |ratio| cell(Measure::PerCold, ratio)),
        marks(point),
    ]
}

/// Columns for the marks, and where bands take some of them.
const MARKS_WIDTH: usize = 19;
const MARKS_WIDTH_BESIDE_BANDS: usize = 12;

/// The marks of a row in words.
fn marks(point: &OperatingPoint) -> String {
    let words = point.marks.iter().map(|&mark| words(mark)).collect::<Vec<_>>().join(", ");
    let bands = point.cop_band_frac.is_some() || point.heat_to_water_band_frac.is_some();
    textwrap::fill(&words, if bands { MARKS_WIDTH_BESIDE_BANDS } else { MARKS_WIDTH })
}

fn words(mark: Mark) -> &'static str {
    match mark {
        Mark::CopUnder2 => "COP under 2",
        Mark::CoolingUnderHalf => "cooling under half",
        Mark::LockOut => "lock-out",
        Mark::SetPoint => "set point",
        Mark::CoilBelowFreezing => "frost possible",
        Mark::OutsideMap => "outside map",
    }
}

fn chart(curve: &Curve, units: UnitSystem) -> Chart {
    let points = &curve.cop_by_inlet;
    let limits = &curve.cop_limits;
    let series =
        |name: String, measure: Measure, of: fn(&OperatingPoint) -> f64, limit: Option<f64>| Series {
            name,
            values: points.iter().map(of).collect(),
            shown: points.iter().map(|point| measure.rounded(of(point), units).to_string()).collect(),
            limit,
        };
    let half_w = Some(limits.half_cooling_w).filter(|&half_w| half_w > 0.0);
    Chart {
        title: "Running COP and cooling against the water taken in".to_owned(),
        label: format!("in {}", Measure::Temperature.unit(units)),
        labels: points
            .iter()
            .map(|point| Measure::Temperature.rounded(point.water_in_degc, units).to_string())
            .collect(),
        series: vec![
            series("COP".to_owned(), Measure::Cop, |point| point.cop, Some(limits.least_cop)),
            series(
                format!("heat from room, {}", Measure::Power.unit(units)),
                Measure::Power,
                |point| point.heat_from_room_w,
                half_w,
            ),
        ],
        notes: vec![format!(
            "Bars begin at 0. | stands at COP {} and at half of the cooling at {}.",
            number(limits.least_cop),
            degrees(limits.cold_inlet_degc, units)
        )],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::constants::ZERO_CELSIUS_K;
    use crate::plant::{Cooler, Defrost, DefrostBegins, HeatPump};
    use crate::report::{Report, text};

    fn curve(edit: impl Fn(&mut HeatPump)) -> Curve {
        let mut plant = example::plant();
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        edit(pump);
        Curve::of(&plant)
    }

    /// The section's text; every line fits, and the words are joined for a search.
    fn printed(curve: &Curve, units: UnitSystem) -> String {
        let text = text::plain(&Report { blocks: blocks(curve, units) });
        for line in text.lines() {
            assert!(line.chars().count() <= text::WIDTH, "{line}");
        }
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn bands_stand_beside_what_they_belong_to_and_everything_still_fits() {
        let bare = curve(|pump| pump.inlet_stop_k = ZERO_CELSIUS_K + 50.0);
        let banded = bare.clone().with_bands(0.1, 0.2);
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            assert!(!printed(&bare, units).contains('±'));
            assert!(printed(&banded, units).contains('±'));
        }
        let cells = row(&banded.cop_by_inlet[1], |point| point.water_in_degc, UnitSystem::Metric);
        let point = &bare.cop_by_inlet[1];
        assert_eq!(cells[2], format!("{:.2} ±{:.2}", point.cop, 0.1 * point.cop));
        assert_eq!(cells[3], format!("{:.0} ±{:.0}", point.heat_to_water_w, 0.2 * point.heat_to_water_w));
    }

    #[test]
    fn a_unit_that_does_not_cool_is_said_so() {
        let warming = curve(|pump| pump.standby_w = 10_000.0);
        let text = printed(&warming, UnitSystem::Metric);
        assert!(text.contains("no longer cools the room"), "{text}");
        assert_eq!(row(&warming.cop_by_inlet[0], |point| point.water_in_degc, UnitSystem::Us)[7], "-");
        assert!(!text.contains("NaN") && !text.contains("off the cooling"), "{text}");
    }

    #[test]
    fn a_unit_for_cold_water_alone_ends_at_its_own_limit() {
        let early = curve(|pump| pump.inlet_stop_k = ZERO_CELSIUS_K + 8.0);
        let inlets: Vec<_> = early.cop_by_inlet.iter().map(|point| point.water_in_degc.round()).collect();
        assert_eq!(inlets, [5.0, 8.0]);
        assert!(printed(&early, UnitSystem::Metric).contains("At 8.0 °C the pump locks out."));
        let earlier = curve(|pump| pump.inlet_stop_k = ZERO_CELSIUS_K + 3.0);
        assert_eq!(earlier.cop_by_inlet.len(), 1);
        assert!(printed(&earlier, UnitSystem::Us).contains("At 37.4 °F the pump locks out."));
    }

    #[test]
    fn defrosting_is_told_where_the_unit_does_it() {
        let told = |defrost| printed(&curve(|pump| pump.defrost = defrost), UnitSystem::Metric);
        let after = |begins| told(Some(Defrost { begins, takes_s: 300.0, power_w: 100.0, thaws_s: 1800.0 }));
        assert!(
            after(DefrostBegins::Running(5400.0))
                .contains("5.0 min without cooling after each 1.5 h of running with frost")
        );
        assert!(
            after(DefrostBegins::Clock(21_600.0))
                .contains("5.0 min without cooling every 6.0 h, by the clock, frost or none")
        );
        assert!(
            after(DefrostBegins::Frost(0.5)).contains("5.0 min without cooling after each 0.5 kg of frost")
        );
        assert!(!told(None).contains("On top comes defrosting"));
    }
}

//! The year by months: three tables side by theme, and where the room's heat comes from.

use crate::household::UnitSystem;
use crate::report::MONTHS;
use crate::report::block::{Block, Column, Table};
use crate::report::measure::Measure;
use crate::report::quantity::{self, Over, Quantity};
use crate::report::rounding::Rounded;
use crate::wording::percent;
use crate::year::{Interval, Year};

/// Heading and quantity of a column.
type Columns<'a> = &'a [(&'a str, Quantity)];

const ROOM: Columns<'static> = &[
    ("room\nload", quantity::ROOM_LOAD),
    ("heat\nfrom\nroom", quantity::HEAT_FROM_ROOM),
    ("room\nair\nmean", quantity::ROOM_MEAN),
    ("room\nair\nmost", quantity::ROOM_MOST),
    ("contents\nleast", quantity::CONTENTS_LEAST),
    ("contents\nmost", quantity::CONTENTS_MOST),
    ("humid-\nity\nmean", quantity::HUMIDITY_MEAN),
    ("off the\ncoil", quantity::CONDENSATE),
];

const MACHINE: Columns<'static> = &[
    ("heat to\nwater", quantity::HEAT_TO_WATER),
    ("elec-\ntricity", quantity::ELECTRICITY),
    ("COP", quantity::COP),
    ("running\nCOP", quantity::RUNNING_COP),
    ("running", quantity::RUN),
    ("starts", quantity::STARTS_PER_DAY),
    ("locked\nout", quantity::LOCKED_OUT),
];

/// Columns of the tank: temperatures in headings stand in the report's units.
fn tank_columns(units: UnitSystem) -> [(&'static str, Quantity); 9] {
    let us = units == UnitSystem::Us;
    let [lukewarm, top_49, top_55, top_60, bottom_50, bottom_60] = if us {
        [
            "water at\n77 to\n113 °F",
            "top\nover\n120 °F",
            "top\nover\n131 °F",
            "top\nover\n140 °F",
            "bottom\nover\n122 °F",
            "bottom\nover\n140 °F",
        ]
    } else {
        [
            "water at\n25 to\n45 °C",
            "top\nover\n49 °C",
            "top\nover\n55 °C",
            "top\nover\n60 °C",
            "bottom\nover\n50 °C",
            "bottom\nover\n60 °C",
        ]
    };
    [
        ("top\nmean", quantity::TANK_TOP_MEAN),
        ("middle\nmean", quantity::TANK_MIDDLE_MEAN),
        ("bottom\nmean", quantity::TANK_BOTTOM_MEAN),
        (lukewarm, quantity::TANK_LUKEWARM),
        (top_49, quantity::TANK_TOP_OVER_49),
        (top_55, quantity::TANK_TOP_OVER_55),
        (top_60, quantity::TANK_TOP_OVER_60),
        (bottom_50, quantity::TANK_BOTTOM_OVER_50),
        (bottom_60, quantity::TANK_BOTTOM_OVER_60),
    ]
}

/// What the hours of lukewarm water are.
const LUKEWARM_NOTE: &str = "Water at such temperatures: its share of the tank times the hours; it is where Legionella grow \
                             (C002). Over a mark: the mean of the tank's uppermost or lowest tenth.";

const WATER: Columns<'static> = &[
    ("wanted\nheat", quantity::DEMAND),
    ("drawn", quantity::DRAWN),
    ("drawn\nheat", quantity::DRAWN_HEAT),
    ("standing\nloss", quantity::TANK_LOSS),
    ("booster\nheat", quantity::BOOSTER),
    ("too cold\nat tap", quantity::SHORTFALL_TIME),
    ("dumped", quantity::DUMP),
    ("dumped\nheat", quantity::DUMP_HEAT),
];

/// The tables of the months and the causes of the room's heat.
pub(super) fn tables(year: &Year, first_tank_frac: Option<f64>, units: UnitSystem) -> Vec<Block> {
    vec![
        Block::Heading("The year by months".to_owned()),
        Block::Paragraph(
            "Yearly and monthly COP: heat to water over all electricity, standby and resting fan included. \
             Running COP: heat to water over the power of pump and circulator. In the year's row kWh, volumes \
             and hours are the sum of the months shown; means, extremes and COP are those of the year."
                .to_owned(),
        ),
        Block::Table(table("Room", ROOM, year, units)),
        Block::Table(Table { notes: lock_out_note(year), ..table("Machine", MACHINE, year, units) }),
        Block::Table(Table {
            notes: std::iter::once(LUKEWARM_NOTE.to_owned())
                .chain(first_tank_frac.map(two_tanks_note))
                .chain(jets_note(year))
                .collect(),
            ..table("Tank", &tank_columns(units), year, units)
        }),
        Block::Table(Table { notes: standing_loss_note(year), ..table("Hot water", WATER, year, units) }),
        Block::Table(causes(year, units)),
    ]
}

/// How heights count where there are two tanks.
fn two_tanks_note(first_tank_frac: f64) -> String {
    format!(
        "Two tanks in series: heights, bottom, middle and top count through both; the first, which the cold water enters, ends at {}.",
        percent(first_tank_frac)
    )
}

/// How much of the tank the jets stir, where they are reckoned.
fn jets_note(year: &Year) -> Option<String> {
    let one = |name: &str, quantity: &Quantity| {
        let mean = quantity.of(&year.total)?;
        let months = year.months.iter().enumerate();
        let (month, most) = months
            .filter_map(|(month, of)| Some((month, quantity.of(of)?)))
            .max_by(|one, other| one.1.total_cmp(&other.1))?;
        let [mean, most] = [mean, most].map(|share| percent(share / 100.0));
        Some(format!("{name} {mean} of its water (most in {}, {most})", MONTHS[month]))
    };
    let cold = one("the cold water", &quantity::COLD_JET);
    let back = one("the water that comes back from the pump", &quantity::RETURN_JET);
    let jets: Vec<_> = cold.into_iter().chain(back).collect();
    (!jets.is_empty()).then(|| {
        format!(
            "What its jets stir, on the mean of the water that comes in: {}. A wider opening or a diffuser stirs less (Turner 1966, \
             Kaye and Hunt 2006, on fountains; From memory, to be verified; a jet straight up or down, which stirs most).",
            jets.join(", ")
        )
    })
}

/// How the hours of lock-out differ from those of refused cooling, where there are any.
fn lock_out_note(year: &Year) -> Vec<String> {
    let words = "Locked out: a limit holds the pump, whether or not the room asks for cooling; cooling is refused only \
                 where it asks.";
    if year.total.locked_out_s > 0.0 { vec![words.to_owned()] } else { Vec::new() }
}

/// What a negative standing loss is, where a month has one.
fn standing_loss_note(year: &Year) -> Vec<String> {
    let words =
        "A negative standing loss is heat that a tank colder than the space it stands in takes from there.";
    if year.months.iter().any(|month| month.tank_loss_j < 0.0) { vec![words.to_owned()] } else { Vec::new() }
}

fn table(title: &str, columns: Columns, year: &Year, units: UnitSystem) -> Table {
    let mut heading = vec![Column::words("Month")];
    heading.extend(columns.iter().map(|(name, q)| Column::number(name, q.measure.unit(units))));
    let rows = year.months.iter().zip(MONTHS).map(|(month, name)| row(name, columns, month, units));
    let mut total = vec!["Year".to_owned()];
    total.extend(columns.iter().map(|(_, q)| of_year(q, year, units)));
    Table {
        title: title.to_owned(),
        columns: heading,
        rows: rows.collect(),
        year: Some(total),
        notes: Vec::new(),
    }
}

fn row(name: &str, columns: Columns, month: &Interval, units: UnitSystem) -> Vec<String> {
    let mut cells = vec![name.to_owned()];
    cells.extend(columns.iter().map(|(_, q)| cell(shown(q, month, units))));
    cells
}

fn shown(quantity: &Quantity, interval: &Interval, units: UnitSystem) -> Option<Rounded> {
    quantity.of(interval).map(|value| quantity.measure.rounded(value, units))
}

fn cell(number: Option<Rounded>) -> String {
    number.map_or_else(|| "-".to_owned(), |number| number.to_string())
}

/// What stands in the year's row: see [`crate::report::rounding`].
fn of_year(quantity: &Quantity, year: &Year, units: UnitSystem) -> String {
    match quantity.over {
        Over::Sum => {
            year.months.iter().filter_map(|month| shown(quantity, month, units)).sum::<Rounded>().to_string()
        }
        Over::Mean | Over::Least | Over::Most | Over::Quotient => cell(shown(quantity, &year.total, units)),
    }
}

const CAUSES: Columns<'static> = &[
    ("surfaces facing outdoors", quantity::GAIN_OUTDOOR),
    ("surfaces touching the ground", quantity::GAIN_GROUND),
    ("surfaces toward neighbour spaces", quantity::GAIN_NEIGHBOUR),
    ("open doors", quantity::GAIN_DOORS),
    ("air leakage", quantity::GAIN_LEAKAGE),
    ("people", quantity::GAIN_PEOPLE),
    ("lights", quantity::GAIN_LIGHTS),
    ("respiration of produce", quantity::GAIN_RESPIRATION),
    ("produce carried in", quantity::GAIN_PRODUCE_IN),
    ("hot pipe and tank in the room", quantity::GAIN_HOT_WATER),
];

/// A row for every cause that brought or took heat, summed as shown.
fn causes(year: &Year, units: UnitSystem) -> Table {
    let kept = |(_, q): &&(&str, Quantity)| q.of(&year.total).is_some_and(|gain| gain != 0.0);
    let rows: Vec<(&str, Rounded)> = CAUSES
        .iter()
        .filter(kept)
        .filter_map(|(name, quantity)| Some((*name, shown(quantity, &year.total, units)?)))
        .collect();
    let all: Rounded = rows.iter().map(|&(_, gain)| gain).sum();
    Table {
        title: "Where the room's heat comes from, in the year".to_owned(),
        columns: vec![Column::words("Cause"), Column::number("heat", Measure::Energy.unit(units))],
        rows: rows.into_iter().map(|(name, gain)| vec![name.to_owned(), gain.to_string()]).collect(),
        year: Some(vec!["all".to_owned(), all.to_string()]),
        notes: vec!["Summed as shown; against the months it can differ in the last digit.".to_owned()],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::assessment::sample;
    use crate::report::block::Report;
    use crate::report::text;

    fn parsed(cell: &str) -> f64 {
        cell.parse().unwrap_or(0.0)
    }

    /// Adds up what is printed, in either system of units.
    /// Two tanks are told where heights are read.
    #[test]
    fn of_two_tanks_the_first_one_s_end_is_told() {
        let lines = |first: Option<f64>| {
            let blocks = tables(&sample::year(), first, UnitSystem::Metric);
            text::plain(&Report { blocks }).split_whitespace().collect::<Vec<_>>().join(" ")
        };
        assert!(lines(Some(0.4)).contains("the first, which the cold water enters, ends at 40 %"));
        assert!(!lines(None).contains("Two tanks"));
    }

    #[test]
    fn the_years_row_is_the_sum_of_the_rows_shown() {
        let year = sample::year();
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            for columns in [ROOM, MACHINE, &tank_columns(units), WATER] {
                let table = table("", columns, &year, units);
                let total = table.year.expect("a table of months has a year");
                for (index, (_, quantity)) in
                    columns.iter().enumerate().filter(|(_, c)| c.1.over == Over::Sum)
                {
                    let sum: f64 = table.rows.iter().map(|row| parsed(&row[index + 1])).sum();
                    let shown = format!("{:.1$}", sum, quantity.measure.decimals() as usize);
                    assert_eq!(shown, total[index + 1], "{}", quantity.key);
                }
            }
            let causes = causes(&year, units);
            let sum: f64 = causes.rows.iter().map(|row| parsed(&row[1])).sum();
            assert_eq!(format!("{sum:.1}"), causes.year.expect("causes are summed")[1]);
        }
    }

    #[test]
    fn a_month_without_running_has_no_cop() {
        let mut year = sample::year();
        year.months[0] = Interval { duration_s: 31.0 * 86_400.0, ..Interval::default() };
        let machine = table("", MACHINE, &year, UnitSystem::Metric);
        assert_eq!(machine.rows[0][3], "-");
    }

    #[test]
    fn tables_fit_the_width() {
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            let text = text::plain(&Report { blocks: tables(&sample::year(), None, units) });
            for line in text.lines() {
                assert!(line.chars().count() <= text::WIDTH, "{line}");
            }
        }
    }
}

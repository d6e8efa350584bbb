//! The plots of the page, from the same numbers as the JSON document.

use std::ops::Range;

use plotters::coord::ranged1d::{DefaultFormatting, KeyPointHint, Ranged, ValueFormatter};
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::*;

use crate::household::UnitSystem;
use crate::plant::Cause;
use crate::report::{Assessment, MONTHS, Measure, QUANTITIES, Quantity};
use crate::year::Interval;

/// Width and height of a plot, units of its own; letters of 15 of them can be read on a phone.
const SIZE: (u32, u32) = (560, 300);
const LETTERS: (&str, i32) = ("sans-serif", 15);
/// Days of the year that plots by days show.
const YEAR_DAYS: f64 = 365.0;
/// Days at which months begin in a year of 365 days.
const MONTH_STARTS: [f64; 12] =
    [0.0, 31.0, 59.0, 90.0, 120.0, 151.0, 181.0, 212.0, 243.0, 273.0, 304.0, 334.0];

/// Ink and grid; the style sheet replaces them, and the inks of the series, in the dark.
const INK: RGBColor = RGBColor(0x23, 0x2b, 0x2f);
const GRID: RGBColor = RGBColor(0xd9, 0xdd, 0xd6);
/// Inks of series, as `--s0` to `--s9` of the style sheet.
pub const INKS: [RGBColor; 10] = [
    RGBColor(0x1b, 0x6a, 0x8a),
    RGBColor(0xb8, 0x50, 0x2b),
    RGBColor(0x53, 0x7d, 0x2c),
    RGBColor(0x86, 0x54, 0x9c),
    RGBColor(0x9a, 0x74, 0x10),
    RGBColor(0x5d, 0x68, 0x70),
    RGBColor(0xb3, 0x4b, 0x78),
    RGBColor(0x1f, 0x85, 0x7a),
    RGBColor(0x7a, 0x56, 0x36),
    RGBColor(0x4d, 0x5f, 0xb0),
];

/// A plot with what is to be known to read it.
#[derive(Debug, Clone)]
pub struct Plot {
    /// What it shows.
    pub title: String,
    /// What is to be seen in it, in words.
    pub says: String,
    /// The inks by their number, with what each stands for.
    pub legend: Vec<(usize, String)>,
    /// The drawing.
    pub svg: String,
}

/// Every plot of the page that this year gives something for.
pub fn plots(assessment: &Assessment, units: UnitSystem) -> Vec<Plot> {
    let about = About { assessment, units };
    [
        Some(about.room()),
        Some(about.tank()),
        Some(about.hot_water()),
        about.dump(),
        Some(about.load()),
        about.hardest_week(),
        Some(about.durations()),
        Some(about.pump()),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// A line of a plot.
struct Line {
    ink: usize,
    points: Vec<(f64, f64)>,
}

struct About<'a> {
    assessment: &'a Assessment,
    units: UnitSystem,
}

impl About<'_> {
    fn degrees(&self, degc: &[f64]) -> Vec<f64> {
        degc.iter().map(|&degc| Measure::Temperature.convert(degc, self.units)).collect()
    }

    fn by_day(&self, ink: usize, degc: &[f64]) -> Line {
        let days = self.degrees(degc).into_iter().enumerate();
        Line { ink, points: days.map(|(day, value)| (day as f64 + 0.5, value)).collect() }
    }

    /// A level across the year.
    fn level(&self, ink: usize, degc: f64) -> Line {
        let value = Measure::Temperature.convert(degc, self.units);
        Line { ink, points: vec![(0.0, value), (YEAR_DAYS, value)] }
    }

    fn temperature_unit(&self) -> &'static str {
        Measure::Temperature.unit(self.units)
    }

    fn room(&self) -> Plot {
        let days = &self.assessment.course.days;
        let mut lines = vec![
            self.by_day(5, &days.air_max_degc),
            self.by_day(5, &days.air_min_degc),
            self.by_day(0, &days.contents_mean_degc),
        ];
        let [warm, cold] = self.assessment.food_band_degc;
        lines.extend([self.level(1, warm), self.level(9, cold)]);
        let measured = |degc: f64| Measure::Temperature.words(degc, self.units);
        Plot {
            title: "The room through the year".to_owned(),
            says: format!(
                "Daily mean of the contents, between the warmest and the coldest air of each day. The limits of {} and {} are the food's: air swings past them between two runs without harm to it.",
                measured(warm),
                measured(cold)
            ),
            legend: vec![
                (0, "contents, daily mean".to_owned()),
                (5, "air, warmest and coldest of the day".to_owned()),
                (1, "too warm above".to_owned()),
                (9, "freezes below".to_owned()),
            ],
            svg: lines_by_day(&lines, self.temperature_unit()),
        }
    }

    fn tank(&self) -> Plot {
        let days = &self.assessment.course.days;
        let mut lines =
            vec![self.by_day(1, &days.tank_top_mean_degc), self.by_day(0, &days.tank_bottom_mean_degc)];
        let mut legend = vec![(1, "top, daily mean".to_owned()), (0, "bottom, daily mean".to_owned())];
        let lock_out =
            self.assessment.limits.iter().find(|limit| {
                limit.limit == crate::report::LimitKind::HighestInlet && limit.at_degc.is_some()
            });
        let mut says = "Daily means at the top and at the bottom of the tank.".to_owned();
        if let Some(degc) = lock_out.and_then(|limit| limit.at_degc) {
            lines.push(self.level(3, degc));
            legend.push((3, "the pump stops above".to_owned()));
            says += &format!(
                " Water warmer than {} at its outlet to the pump stops the pump.",
                Measure::Temperature.words(degc, self.units)
            );
        }
        if let Some(degc) = self.assessment.dump.opens_at_degc {
            lines.push(self.level(4, degc));
            legend.push((4, "the dump opens above, at its probe".to_owned()));
        }
        Plot {
            title: "The tank through the year".to_owned(),
            says,
            legend,
            svg: lines_by_day(&lines, self.temperature_unit()),
        }
    }

    fn monthly(&self, of: impl Fn(&Interval) -> f64) -> [f64; 12] {
        std::array::from_fn(|month| of(&self.assessment.year.months[month]))
    }

    fn hot_water(&self) -> Plot {
        let value = |key: &'static str| {
            let quantity = QUANTITIES.iter().find(|quantity| quantity.key == key);
            self.monthly(|month| quantity.and_then(|one: &Quantity| one.of(month)).unwrap_or_default())
        };
        let series = [
            (0, "made by the pump", value("heat_to_water_kwh")),
            (2, "used at the taps", value("delivered_kwh")),
            (4, "added by the booster", value("booster_kwh")),
            (1, "dumped", value("dump_kwh")),
            (5, "lost by the tank", value("tank_loss_kwh")),
        ];
        let series: Vec<_> =
            series.into_iter().filter(|(.., months)| months.iter().any(|&one| one > 0.0)).collect();
        Plot {
            title: "Hot water by month".to_owned(),
            says: "Heat over cold mains water: what the pump made, what the taps used, and where the rest came from and went.".to_owned(),
            legend: series.iter().map(|(ink, name, _)| (*ink, (*name).to_owned())).collect(),
            svg: bars_side_by_side(
                &series.iter().map(|(ink, _, months)| (*ink, *months)).collect::<Vec<_>>(),
                "kWh",
            ),
        }
    }

    fn dump(&self) -> Option<Plot> {
        let dump = &self.assessment.dump;
        let names: Vec<&String> = dump.months.first()?.placed_l.keys().collect();
        let series: Vec<(usize, [f64; 12])> = names
            .iter()
            .enumerate()
            .map(|(index, name)| {
                let litres = |month: usize| {
                    let placed = dump.months[month].placed_l.get(*name).copied().unwrap_or_default();
                    Measure::Volume.convert(placed, self.units)
                };
                ([2, 5, 4, 7][index % 4], std::array::from_fn(litres))
            })
            .collect();
        let any = series.iter().any(|(_, months)| months.iter().any(|&one| one > 0.0));
        any.then(|| Plot {
            title: "Water dumped by month".to_owned(),
            says: "By the place that took it, with the cold water that tempered it.".to_owned(),
            legend: names.iter().zip(&series).map(|(name, (ink, _))| (*ink, (*name).clone())).collect(),
            svg: bars_stacked(&series, Measure::Volume.unit(self.units)),
        })
    }

    fn load(&self) -> Plot {
        let kwh = |cause: Cause| self.monthly(|month| f64::max(0.0, month.gain_j[cause as usize]) / 3.6e6);
        let series: Vec<(usize, &str, [f64; 12])> = Cause::ALL
            .iter()
            .map(|&cause| (cause as usize, cause_words(cause), kwh(cause)))
            .filter(|(.., months)| months.iter().sum::<f64>() > 0.5)
            .collect();
        Plot {
            title: "What warms the room, by month".to_owned(),
            says:
                "Heat into the room by its causes; what leaves it through a cold wall in winter is not drawn."
                    .to_owned(),
            legend: series.iter().map(|(ink, name, _)| (*ink, (*name).to_owned())).collect(),
            svg: bars_stacked(
                &series.iter().map(|(ink, _, months)| (*ink, *months)).collect::<Vec<_>>(),
                "kWh",
            ),
        }
    }

    fn hardest_week(&self) -> Option<Plot> {
        let week = &self.assessment.course.hardest_week;
        if week.contents_degc.is_empty() {
            return None;
        }
        let litres = |values: &[f64]| -> Vec<f64> {
            values.iter().map(|&value| Measure::Volume.convert(value, self.units)).collect()
        };
        let (used, dumped) = (litres(&week.used_kg), litres(&week.dump_l));
        Some(Plot {
            title: format!("The hardest week, from {} {}", week.day, MONTHS[week.month - 1]),
            says: format!(
                "{} Hour by hour: above, temperatures ({}); in the middle, the share of each hour in which the pump ran; below, water used and dumped ({} an hour).",
                match week.over_band_h {
                    0 => "The food is never too warm; this is the week with the warmest water in the tank's bottom.".to_owned(),
                    hours => format!("The food is too warm for {hours} of its 168 hours, in no week longer."),
                },
                self.temperature_unit(),
                Measure::Volume.unit(self.units)
            ),
            legend: vec![
                (0, "contents".to_owned()),
                (1, "tank bottom".to_owned()),
                (3, "pump running".to_owned()),
                (2, "water used".to_owned()),
                (4, "water dumped".to_owned()),
            ],
            svg: week_drawing(
                &self.degrees(&week.contents_degc),
                &self.degrees(&week.tank_bottom_degc),
                &week.running_percent,
                (&used, &dumped),
            ),
        })
    }

    fn durations(&self) -> Plot {
        let points = &self.assessment.course.contents_durations;
        let [warm, cold] = self.assessment.food_band_degc;
        let line = Line {
            ink: 0,
            points: points
                .iter()
                .map(|point| (point.h, Measure::Temperature.convert(point.degc, self.units)))
                .collect(),
        };
        let hours = points.last().map_or(1.0, |last| last.h.max(1.0));
        let level = |ink: usize, degc: f64| {
            let value = Measure::Temperature.convert(degc, self.units);
            Line { ink, points: vec![(0.0, value), (hours, value)] }
        };
        let lines = [line, level(1, warm), level(9, cold)];
        Plot {
            title: "For how long the contents are how warm".to_owned(),
            says: "The hours in which the room serves, in order of the contents' temperature, the warmest at the left."
                .to_owned(),
            legend: vec![
                (0, "contents".to_owned()),
                (1, "too warm above".to_owned()),
                (9, "freezes below".to_owned()),
            ],
            svg: drawn(|area| {
                let values = range(lines.iter().flat_map(|line| line.points.iter().map(|point| point.1)));
                let mut chart =
                    frame(area, 0.0..hours, values, ["hours", self.temperature_unit()], &|hours| {
                        format!("{hours:.0}")
                    })?;
                draw_lines(&mut chart, &lines)
            }),
        }
    }

    fn pump(&self) -> Plot {
        let points = &self.assessment.curve.cop_by_inlet;
        let inlet = |degc: f64| Measure::Temperature.convert(degc, self.units);
        let of = |ink: usize, value: &dyn Fn(&crate::report::OperatingPoint) -> f64| Line {
            ink,
            points: points.iter().map(|point| (inlet(point.water_in_degc), value(point))).collect(),
        };
        let band = |sign: f64| {
            move |point: &crate::report::OperatingPoint| {
                point.cop * (1.0 + sign * point.cop_band_frac.unwrap_or_default())
            }
        };
        let lines = [
            of(0, &|point| point.cop),
            of(5, &band(1.0)),
            of(5, &band(-1.0)),
            of(2, &|point| point.heat_from_room_w / 1000.0),
        ];
        let across_name = format!("water into the pump, {}", self.temperature_unit());
        let across = range_of(lines[0].points.iter().map(|point| point.0));
        Plot {
            title: "What warm water does to the pump".to_owned(),
            says: "COP and cooling against the water that the pump takes in, at the room's set point."
                .to_owned(),
            legend: vec![
                (0, "COP".to_owned()),
                (5, "COP, as far as it may be off".to_owned()),
                (2, "cooling, kW".to_owned()),
            ],
            svg: drawn(|area| {
                let top = lines.iter().flat_map(|line| line.points.iter().map(|point| point.1));
                let top = top.fold(1.0, f64::max) * 1.05;
                let mut chart = frame(area, across.clone(), 0.0..top, [&across_name, ""], &|value| {
                    format!("{value:.0}")
                })?;
                draw_lines(&mut chart, &lines)
            }),
        }
    }
}

/// The cause in a word or two.
fn cause_words(cause: Cause) -> &'static str {
    match cause {
        Cause::OutdoorSurfaces => "walls outdoors",
        Cause::GroundSurfaces => "the ground",
        Cause::NeighbourSurfaces => "walls to neighbours",
        Cause::Doors => "doors",
        Cause::Leakage => "leaks",
        Cause::People => "people",
        Cause::Lights => "lights",
        Cause::Respiration => "respiration",
        Cause::ProduceIn => "warm produce",
        Cause::HotWater => "hot pipe and tank",
    }
}

/// An axis with labels at points of its own.
struct Marked {
    across: Range<f64>,
    at: Vec<f64>,
}

impl Ranged for Marked {
    type FormatOption = DefaultFormatting;
    type ValueType = f64;

    fn map(&self, value: &f64, (first, last): (i32, i32)) -> i32 {
        let share = (value - self.across.start) / (self.across.end - self.across.start);
        first + (share * f64::from(last - first)).round() as i32
    }

    fn key_points<Hint: KeyPointHint>(&self, _hint: Hint) -> Vec<f64> {
        self.at.clone()
    }

    fn range(&self) -> Range<f64> {
        self.across.clone()
    }
}

type Drawing<'a> = DrawingArea<SVGBackend<'a>, plotters::coord::Shift>;
type Failed<'a> = DrawingAreaErrorKind<<SVGBackend<'a> as DrawingBackend>::ErrorType>;

/// Draws into text. Drawing into memory does not fail; should it, the plot stays empty and its words remain.
fn drawn(draw: impl for<'a> FnOnce(&Drawing<'a>) -> Result<(), Failed<'a>>) -> String {
    let mut svg = String::new();
    let area = SVGBackend::with_string(&mut svg, SIZE).into_drawing_area();
    let done = draw(&area).and_then(|()| area.present());
    drop(area);
    if done.is_ok() { svg } else { String::new() }
}

type Chart<'b, 'a> = ChartContext<'b, SVGBackend<'a>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;

/// Axes with numbers.
fn frame<'b, 'a>(
    area: &'b Drawing<'a>,
    across: Range<f64>,
    up: Range<f64>,
    [x_name, unit]: [&str; 2],
    x_label: &dyn Fn(&f64) -> String,
) -> Result<Chart<'b, 'a>, Failed<'a>> {
    let mut chart = ChartBuilder::on(area)
        .margin(8)
        .x_label_area_size(if x_name.is_empty() { 24 } else { 42 })
        .y_label_area_size(58)
        .build_cartesian_2d(across, up)?;
    mesh(&mut chart, [x_name, unit], x_label)?;
    Ok(chart)
}

fn mesh<'a, X, Y>(
    chart: &mut ChartContext<'_, SVGBackend<'a>, Cartesian2d<X, Y>>,
    [x_name, unit]: [&str; 2],
    x_label: &dyn Fn(&f64) -> String,
) -> Result<(), Failed<'a>>
where
    X: Ranged<ValueType = f64> + ValueFormatter<f64>,
    Y: Ranged<ValueType = f64> + ValueFormatter<f64>,
{
    let letters = LETTERS.into_font().color(&INK);
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(GRID)
        .axis_style(INK)
        .x_desc(x_name)
        .y_desc(unit)
        .label_style(letters.clone())
        .axis_desc_style(letters)
        .x_label_formatter(x_label)
        .y_label_formatter(&label)
        .y_labels(6)
        .draw()
}

/// A number at an axis: no more decimals than the step between such numbers asks for.
fn label(value: &f64) -> String {
    let rounded = (value * 10.0).round() / 10.0;
    if (rounded - rounded.round()).abs() < 0.05 { format!("{rounded:.0}") } else { format!("{rounded:.1}") }
}

fn draw_lines<'a, X, Y>(
    chart: &mut ChartContext<'_, SVGBackend<'a>, Cartesian2d<X, Y>>,
    lines: &[Line],
) -> Result<(), Failed<'a>>
where
    X: Ranged<ValueType = f64>,
    Y: Ranged<ValueType = f64>,
{
    for line in lines {
        chart.draw_series(LineSeries::new(line.points.iter().copied(), INKS[line.ink].stroke_width(2)))?;
    }
    Ok(())
}

/// The least and the most, with a little room around them.
fn range(values: impl Iterator<Item = f64> + Clone) -> Range<f64> {
    let Range { start, end } = range_of(values);
    let room = f64::max(0.5, 0.06 * (end - start));
    start - room..end + room
}

fn range_of(values: impl Iterator<Item = f64> + Clone) -> Range<f64> {
    let least = values.clone().fold(f64::INFINITY, f64::min);
    let most = values.fold(f64::NEG_INFINITY, f64::max);
    if least < most { least..most } else { 0.0..1.0 }
}

fn lines_by_day(lines: &[Line], unit: &str) -> String {
    drawn(|area| {
        let values = range(lines.iter().flat_map(|line| line.points.iter().map(|point| point.1)));
        let days = Marked { across: 0.0..YEAR_DAYS, at: MONTH_STARTS.to_vec() };
        let mut chart = ChartBuilder::on(area)
            .margin(8)
            .x_label_area_size(24)
            .y_label_area_size(58)
            .build_cartesian_2d(days, values)?;
        mesh(&mut chart, ["", unit], &|day| {
            let month = MONTH_STARTS.iter().position(|start| (start - day).abs() < 0.5);
            month.map_or_else(String::new, |month| MONTHS[month].to_owned())
        })?;
        draw_lines(&mut chart, lines)
    })
}

/// Axes of a plot by months: the middle of each month at a whole number.
fn frame_by_month<'b, 'a>(
    area: &'b Drawing<'a>,
    most: f64,
    unit: &str,
) -> Result<ChartContext<'b, SVGBackend<'a>, Cartesian2d<Marked, RangedCoordf64>>, Failed<'a>> {
    let months = Marked { across: -0.5..11.5, at: (0..12).map(f64::from).collect() };
    let mut chart = ChartBuilder::on(area)
        .margin(8)
        .x_label_area_size(24)
        .y_label_area_size(58)
        .build_cartesian_2d(months, 0.0..most * 1.05)?;
    mesh(&mut chart, ["", unit], &|month| {
        MONTHS.get(month.round().max(0.0) as usize).map_or_else(String::new, |&name| name.to_owned())
    })?;
    Ok(chart)
}

fn bars_side_by_side(series: &[(usize, [f64; 12])], unit: &str) -> String {
    let most = series.iter().flat_map(|(_, months)| months).copied().fold(1e-9, f64::max);
    let width = 0.84 / series.len().max(1) as f64;
    drawn(|area| {
        let mut chart = frame_by_month(area, most, unit)?;
        for (position, (ink, months)) in series.iter().enumerate() {
            chart.draw_series(months.iter().enumerate().map(|(month, value)| {
                let left = month as f64 - 0.42 + width * position as f64;
                Rectangle::new([(left, 0.0), (left + width, *value)], INKS[*ink].filled())
            }))?;
        }
        Ok(())
    })
}

fn bars_stacked(series: &[(usize, [f64; 12])], unit: &str) -> String {
    let height = |month: usize| series.iter().map(|(_, months)| months[month]).sum::<f64>();
    let most = (0..12).map(height).fold(1e-9, f64::max);
    drawn(|area| {
        let mut chart = frame_by_month(area, most, unit)?;
        let mut below = [0.0; 12];
        for (ink, months) in series {
            for month in 0..12 {
                let top = below[month] + months[month];
                let (left, right) = (month as f64 - 0.38, month as f64 + 0.38);
                let bar = Rectangle::new([(left, below[month]), (right, top)], INKS[*ink].filled());
                chart.draw_series(std::iter::once(bar))?;
                below[month] = top;
            }
        }
        Ok(())
    })
}

fn week_drawing(contents: &[f64], bottom: &[f64], running: &[f64], water: (&[f64], &[f64])) -> String {
    drawn(|area| {
        let (above, below) = area.split_vertically(160);
        let (middle, below) = below.split_vertically(50);
        let hours = contents.len() as f64;
        let by_hour = |values: &[f64]| -> Vec<(f64, f64)> {
            values.iter().enumerate().map(|(hour, &value)| (hour as f64 + 0.5, value)).collect()
        };
        let temperatures = range(contents.iter().chain(bottom).copied());
        let mut chart = ChartBuilder::on(&above)
            .margin(8)
            .y_label_area_size(50)
            .build_cartesian_2d(week(hours), temperatures)?;
        mesh(&mut chart, ["", ""], &|_| String::new())?;
        draw_lines(
            &mut chart,
            &[Line { ink: 0, points: by_hour(contents) }, Line { ink: 1, points: by_hour(bottom) }],
        )?;
        bars_by_hour(&middle, hours, &[(3, running)], 0)?;
        bars_by_hour(&below, hours, &[(2, water.0), (4, water.1)], 24)
    })
}

fn week(hours: f64) -> Marked {
    Marked { across: 0.0..hours, at: (0..7).map(|day| f64::from(24 * day)).collect() }
}

fn bars_by_hour<'a>(
    area: &Drawing<'a>,
    hours: f64,
    series: &[(usize, &[f64])],
    labels: i32,
) -> Result<(), Failed<'a>> {
    let most = series.iter().flat_map(|(_, values)| values.iter()).copied().fold(1e-9, f64::max);
    let mut chart = ChartBuilder::on(area)
        .margin(4)
        .margin_left(8)
        .margin_right(8)
        .x_label_area_size(labels)
        .y_label_area_size(50)
        .build_cartesian_2d(week(hours), 0.0..most * 1.05)?;
    let letters = LETTERS.into_font().color(&INK);
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(GRID)
        .axis_style(INK)
        .label_style(letters)
        .y_labels(2)
        .x_label_formatter(&|hour| format!("day {:.0}", hour / 24.0 + 1.0))
        .y_label_formatter(&label)
        .draw()?;
    for (ink, values) in series {
        let bars = values.iter().enumerate().filter(|(_, value)| **value > 0.0);
        chart.draw_series(bars.map(|(hour, &value)| {
            Rectangle::new([(hour as f64 + 0.05, 0.0), (hour as f64 + 0.95, value)], INKS[*ink].filled())
        }))?;
    }
    Ok(())
}

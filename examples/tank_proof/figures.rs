//! The figures of `docs/TANK.md`: what is exact as a line, what the parcels give as marks.

use plotters::coord::ranged1d::{AsRangedCoord, Ranged, ValueFormatter};
use plotters::prelude::*;

use crate::proof::{
    CONVERGENCE, REFINED, centimetre_degc, diffused, exact_degc, mixed_at, plug_at, standing_at,
    step_error_dk,
};

/// Paper, ink, grid, and the two colours of marks, told apart by their shape as well. In the dark each is replaced by the one beside it.
const PAPER: (RGBColor, &str) = (RGBColor(255, 255, 255), "#15181C");
const INK: (RGBColor, &str) = (RGBColor(32, 32, 32), "#E8E8E8");
const GRID: (RGBColor, &str) = (RGBColor(214, 214, 214), "#3A4048");
const FIRST: (RGBColor, &str) = (RGBColor(178, 70, 0), "#FFA25E");
const SECOND: (RGBColor, &str) = (RGBColor(0, 90, 160), "#7CC0FF");
const COLOURS: [(RGBColor, &str); 5] = [PAPER, INK, GRID, FIRST, SECOND];

const SIZE: (u32, u32) = (680, 400);
const LETTERS: (&str, u32) = ("sans-serif", 18);
const MARK: i32 = 4;

/// A figure and where it stands.
pub struct Figure {
    /// Heading of the case it stands under.
    pub under: &'static str,
    /// Name of its file.
    pub file: &'static str,
    /// What it shows, for whoever does not see it.
    pub alt: &'static str,
    /// The drawing.
    pub svg: String,
}

impl Figure {
    /// The figure in the page, with the empty line after it.
    pub fn markdown(&self) -> String {
        format!("![{}](figures/{})\n\n", self.alt, self.file)
    }
}

/// One series: its name, whether it is a line or marks and of which kind, and its points.
struct Series {
    name: &'static str,
    look: Look,
    points: Vec<(f64, f64)>,
}

#[derive(Clone, Copy)]
enum Look {
    Line,
    Circles,
    Crosses,
}

impl Series {
    fn new(name: &'static str, look: Look, points: impl IntoIterator<Item = (f64, f64)>) -> Self {
        Self { name, look, points: points.into_iter().collect() }
    }
}

/// All figures, in the order of the page.
pub fn figures() -> Vec<Figure> {
    vec![standing(), mixed(), plug(), thermocline(), convergence()]
}

fn standing() -> Figure {
    let hours: [i32; 17] = std::array::from_fn(|index| 12 * index as i32);
    let rows = standing_at(hours).into_iter().zip(hours).map(|(row, hours)| (f64::from(hours), row));
    let (exact, parcels) =
        rows.map(|(at, row)| ((at, row.exact), (at, row.parcels))).unzip::<_, _, Vec<_>, Vec<_>>();
    let series = [Series::new("exact", Look::Line, exact), Series::new("parcels", Look::Circles, parcels)];
    drawn(
        Place {
            key: SeriesLabelPosition::UpperRight,
            under: "A standing tank",
            file: "tank-standing.svg",
            alt: "Mean temperature of a tank of 60 °C that stands in 20 °C for eight days: it falls along an exponential to 33 °C; the marks of the parcels lie \
                  on the exact line.",
        },
        ["time, h", "mean temperature, °C"],
        (0.0..200.0, 20.0..65.0),
        &series,
    )
}

fn mixed() -> Figure {
    let volumes: [f64; 11] = std::array::from_fn(|index| 0.2 * index as f64);
    let rows = mixed_at(volumes).into_iter().zip(volumes);
    let (exact, parcels) =
        rows.map(|(row, at)| ((at, row.exact), (at, row.parcels))).unzip::<_, _, Vec<_>, Vec<_>>();
    let series = [Series::new("exact", Look::Line, exact), Series::new("parcels", Look::Circles, parcels)];
    drawn(
        Place {
            key: SeriesLabelPosition::UpperRight,
            under: "A tank that is stirred",
            file: "tank-stirred.svg",
            alt: "Temperature of a stirred tank of 60 °C while 15 °C flows in: it falls along an exponential to 21 °C after two volumes; the marks of the parcels \
                  lie on the exact line.",
        },
        ["drawn, volumes of the tank", "temperature, °C"],
        (0.0..2.1, 10.0..65.0),
        &series,
    )
}

fn plug() -> Figure {
    let volumes: [f64; 33] = std::array::from_fn(|index| 0.03 * (index + 1) as f64);
    let rows: Vec<_> = plug_at(volumes).into_iter().zip(volumes).collect();
    let of = |which: usize| rows.iter().map(move |(pair, at)| (*at, pair[which].parcels));
    let exact_mean = rows.iter().map(|(pair, at)| (*at, pair[1].exact));
    let exact = [(0.0, 60.0), (1.0, 60.0), (1.0, 15.0)];
    let series = [
        Series::new("exact", Look::Line, exact),
        Series::new("", Look::Line, [(0.0, 60.0)].into_iter().chain(exact_mean)),
        Series::new("water drawn", Look::Circles, of(0)),
        Series::new("mean of the tank", Look::Crosses, of(1)),
    ];
    drawn(
        Place {
            key: SeriesLabelPosition::LowerLeft,
            under: "Plug flow",
            file: "tank-plug.svg",
            alt: "Plug flow: the water drawn stays at 60 °C until one volume has been drawn, while the mean of the tank falls along a straight line from 60 to \
                  15 °C; the marks of the parcels lie on both exact lines.",
        },
        ["drawn, volumes of the tank", "temperature, °C"],
        (0.0..1.1, 10.0..65.0),
        &series,
    )
}

fn thermocline() -> Figure {
    let heights_m: Vec<f64> = (-40..=40).map(|centimetre| 0.01 * f64::from(centimetre)).collect();
    let profile = |parcels: usize, interval_s: f64, every: usize| {
        let tank = diffused(parcels, interval_s, 12.0);
        let points =
            heights_m.iter().step_by(every).map(|&above_m| (centimetre_degc(&tank, above_m), above_m));
        points.collect::<Vec<_>>()
    };
    let series = [
        Series::new(
            "exact (erf)",
            Look::Line,
            heights_m.iter().map(|&above_m| (exact_degc(above_m, 12.0), above_m)),
        ),
        Series::new("160 parcels", Look::Circles, profile(160, 225.0, 4)),
        Series::new("48, as in the year", Look::Crosses, profile(48, 1800.0, 2)),
    ];
    drawn(
        Place {
            key: SeriesLabelPosition::LowerRight,
            under: "The same as the year divides it",
            file: "tank-thermocline.svg",
            alt: "Height over the step against temperature twelve hours after 10 °C lay sharply under 60 °C: an S along the error function, 35 °C in the \
                  middle and level from some 30 cm on; the marks of 160 parcels lie on it, those of 48 in short stairs beside it.",
        },
        ["temperature, °C", "height above the step, m"],
        (5.0..65.0, -0.4..0.4),
        &series,
    )
}

fn convergence() -> Figure {
    let errors: Vec<(f64, f64)> = REFINED
        .iter()
        .map(|&(parcels, interval_s)| (parcels as f64, step_error_dk(parcels, interval_s)))
        .collect();
    let (first_parcels, first_dk) = errors[0];
    let one_over =
        REFINED.iter().map(|&(parcels, _)| (parcels as f64, first_dk * first_parcels / parcels as f64));
    let series = [
        Series::new("half for twice as many", Look::Line, one_over),
        Series::new("parcels", Look::Circles, errors.iter().copied()),
    ];
    let place = Place {
        key: SeriesLabelPosition::UpperRight,
        under: CONVERGENCE,
        file: "tank-convergence.svg",
        alt: "Root mean square error against the number of parcels, both logarithmic: from 0.56 K with 24 to under 0.01 K with 192; a line halves the error with \
              twice as many.",
    };
    let x = (20.0..220.0).log_scale().with_key_points(REFINED.map(|(parcels, _)| parcels as f64).to_vec());
    let y = (0.005..1.0).log_scale().with_key_points(vec![0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0]);
    drawn(place, ["parcels", "root mean square error, K"], (x, y), &series)
}

struct Place {
    /// Where its series are named.
    key: SeriesLabelPosition,
    under: &'static str,
    file: &'static str,
    alt: &'static str,
}

fn drawn<X, Y>(place: Place, titles: [&str; 2], axes: (X, Y), series: &[Series]) -> Figure
where
    X: AsRangedCoord<Value = f64>,
    Y: AsRangedCoord<Value = f64>,
    X::CoordDescType: Ranged<ValueType = f64> + ValueFormatter<f64>,
    Y::CoordDescType: Ranged<ValueType = f64> + ValueFormatter<f64>,
{
    let Place { key, under, file, alt } = place;
    let mut svg = String::new();
    draw(&mut svg, key, titles, axes, series)
        .expect("a string can be drawn on, and every point lies inside the axes");
    Figure { under, file, alt, svg: for_light_and_dark(&svg, alt) }
}

/// Both ends belong to an axis.
fn inside(axis: &std::ops::Range<f64>, value: f64) -> bool {
    (axis.start..=axis.end).contains(&value)
}

fn draw<X, Y>(
    svg: &mut String,
    key: SeriesLabelPosition,
    [x_title, y_title]: [&str; 2],
    (x, y): (X, Y),
    series: &[Series],
) -> Result<(), Box<dyn std::error::Error>>
where
    X: AsRangedCoord<Value = f64>,
    Y: AsRangedCoord<Value = f64>,
    X::CoordDescType: Ranged<ValueType = f64> + ValueFormatter<f64>,
    Y::CoordDescType: Ranged<ValueType = f64> + ValueFormatter<f64>,
{
    let area = SVGBackend::with_string(svg, SIZE).into_drawing_area();
    area.fill(&PAPER.0)?;
    let letters = || LETTERS.into_font().color(&INK.0);
    let mut chart = ChartBuilder::on(&area)
        .margin(14)
        .margin_right(28)
        .x_label_area_size(48)
        .y_label_area_size(64)
        .build_cartesian_2d(x, y)?;
    chart
        .configure_mesh()
        .axis_style(INK.0)
        .bold_line_style(GRID.0)
        .light_line_style(TRANSPARENT)
        .label_style(letters())
        .axis_desc_style(letters())
        .x_label_formatter(&|value| number(*value))
        .y_label_formatter(&|value| number(*value))
        .x_desc(x_title)
        .y_desc(y_title)
        .draw()?;
    let (across, up) = (chart.x_range(), chart.y_range());
    for Series { name, look, points } in series {
        // A point beyond the axes would be drawn on their edge, as if it were there.
        if let Some(beyond) = points.iter().find(|(x, y)| !(inside(&across, *x) && inside(&up, *y))) {
            return Err(format!("{name}: {beyond:?} lies outside the axes").into());
        }
        let points = points.iter().copied();
        let drawn = match look {
            Look::Line => chart.draw_series(LineSeries::new(points, INK.0.stroke_width(2)))?,
            Look::Circles => {
                chart.draw_series(points.map(|at| Circle::new(at, MARK, FIRST.0.stroke_width(2))))?
            }
            Look::Crosses => {
                chart.draw_series(points.map(|at| Cross::new(at, MARK, SECOND.0.stroke_width(2))))?
            }
        };
        if name.is_empty() {
            continue;
        }
        match look {
            Look::Line => drawn.label(*name).legend(|(x, y)| {
                PathElement::new([(x - 8, y), (x + 8, y)], INK.0.stroke_width(2)).into_dyn()
            }),
            Look::Circles => {
                drawn.label(*name).legend(|at| Circle::new(at, MARK, FIRST.0.stroke_width(2)).into_dyn())
            }
            Look::Crosses => {
                drawn.label(*name).legend(|at| Cross::new(at, MARK, SECOND.0.stroke_width(2)).into_dyn())
            }
        };
    }
    chart
        .configure_series_labels()
        .position(key)
        .label_font(letters())
        .background_style(PAPER.0)
        .border_style(GRID.0)
        .margin(12)
        .draw()?;
    area.present()?;
    Ok(())
}

/// A number at an axis: no more decimals than it needs, and none of those of rounding.
fn number(value: f64) -> String {
    // Adding 0 takes the sign from a rounded -0.
    let text = format!("{:.3}", (1000.0 * value).round() / 1000.0 + 0.0);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Gives a drawing its text alternative, and other colours where the reader's screen is dark.
fn for_light_and_dark(svg: &str, alt: &str) -> String {
    let (head, body) = svg.split_once('>').expect("a drawing begins with its element");
    let hex = |colour: RGBColor| format!("#{:02X}{:02X}{:02X}", colour.0, colour.1, colour.2);
    let rules: String = COLOURS
        .iter()
        .map(|(light, dark)| {
            let light = hex(*light);
            format!("[fill=\"{light}\"]{{fill:{dark}}}[stroke=\"{light}\"]{{stroke:{dark}}}")
        })
        .collect();
    format!(
        "{head} role=\"img\" style=\"max-width:100%;height:auto\">\n<title>{alt}</title>\n<style>@media (prefers-color-scheme:dark){{{rules}}}</style>{body}"
    )
}

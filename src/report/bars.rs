//! A chart drawn in plain characters, readable without colour and aloud.

use crate::report::block::{Chart, Series};

/// Between label, numbers and bars.
const GAP: &str = "  ";
/// A bar is made of these.
const BAR: char = '#';
/// The limit of a series.
const LIMIT: char = '|';

/// The chart in lines of at most `width` columns: the heading, then a line for each label.
pub(super) fn drawn(chart: &Chart, width: usize) -> String {
    let label_width = widest(chart.labels.iter().chain([&chart.label]));
    let numbers: Vec<usize> = chart.series.iter().map(|series| widest(series.shown.iter())).collect();
    let taken = label_width + numbers.iter().map(|number| number + 2 * GAP.len()).sum::<usize>();
    let bar_width = width.saturating_sub(taken) / chart.series.len().max(1);
    let mut text = format!("{:>label_width$}", chart.label);
    for (series, number) in chart.series.iter().zip(&numbers) {
        let cell = number + GAP.len() + bar_width;
        text.push_str(&format!("{GAP}{:cell$}", series.name));
    }
    for (row, label) in chart.labels.iter().enumerate() {
        text.push_str(&format!("\n{label:>label_width$}"));
        for (series, number) in chart.series.iter().zip(&numbers) {
            text.push_str(&format!(
                "{GAP}{:>number$}{GAP}{}",
                series.shown[row],
                bar(series, row, bar_width)
            ));
        }
    }
    text
}

fn widest<'a>(words: impl Iterator<Item = &'a String>) -> usize {
    words.map(|word| word.chars().count()).max().unwrap_or(0)
}

/// The bar of a row, filled up with spaces; half a character and more is drawn.
fn bar(series: &Series, row: usize, width: usize) -> String {
    let largest = series.values.iter().copied().chain(series.limit).fold(0.0, f64::max);
    let places = |value: f64| if largest > 0.0 { value / largest * width as f64 } else { 0.0 };
    let end = places(series.values[row]).round();
    let limit = series.limit.map(|limit| places(limit).round() - 1.0);
    let place = |place: usize| match place as f64 {
        place if limit == Some(place) => LIMIT,
        place if place < end => BAR,
        _ => ' ',
    };
    (0..width).map(place).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chart() -> Chart {
        let words = |words: [&str; 3]| words.map(str::to_owned).to_vec();
        Chart {
            title: "Two series".to_owned(),
            label: "in".to_owned(),
            labels: words(["5", "10", "15"]),
            series: vec![
                Series {
                    name: "COP".to_owned(),
                    values: vec![4.0, 2.0, 1.0],
                    shown: words(["4", "2", "1"]),
                    limit: Some(2.0),
                },
                Series {
                    name: "cooling".to_owned(),
                    values: vec![100.0, 50.0, -10.0],
                    shown: words(["100", "50", "-10"]),
                    limit: None,
                },
            ],
            notes: Vec::new(),
        }
    }

    #[test]
    fn bars_begin_at_zero_and_end_at_the_largest_number() {
        let expected = "in  COP          cooling      \n \
             5  4  ###|####  100  ########\n\
             10  2  ###|       50  ####    \n\
             15  1  ## |      -10          ";
        assert_eq!(drawn(&chart(), 30), expected);
    }

    #[test]
    fn no_width_is_too_small_and_nothing_is_divided_by_zero() {
        let mut flat = chart();
        flat.series[0] = Series { values: vec![0.0; 3], limit: None, ..flat.series[0].clone() };
        assert!(!drawn(&flat, 80).contains(LIMIT));
        assert_eq!(drawn(&chart(), 5).lines().count(), 4);
        assert_eq!(drawn(&Chart::default(), 80), "");
    }
}

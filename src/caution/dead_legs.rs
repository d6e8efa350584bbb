use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::Household;
use crate::plant::{Cooler, DAY_S, Plant};
use crate::wording::{count, list, months};
use crate::year::Year;

const SOURCE: &str = "Growth at 25 to 45 °C: WHO, Legionella and the prevention of legionellosis, 2007, chapter 2 (Second hand: \
    texts that quote it). Standing pipes kept short, flushed or drained: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C010",
    title: "Pipes in which warm water stands",
    says: "In which months no water passes the dump line, and how much of the day the pump's pipes stand still.",
    why: "Both hang on the tank and are filled by it: water stands in them lukewarm, for days or months, and Legionella \
        and rust grow there. The first water out of a dump line then sprays what grew.",
    what_to_do: "Short lines, valves close to the tank, a line that drains itself behind its valve, and flushing without \
        spray before the first use of the season; a licensed plumber lays them as the local code asks.",
    silent: Some("Without a dump line, where the pump runs all the time."),
    source: Some(SOURCE),
};

/// C010, dump line and pump pipes as warm dead legs.
///
/// Limit: none; any line in which water stands.
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let Cooler::HeatPump(pump) = &plant.cooler;
    let mut standing = Vec::new();
    if household.dump.is_some() {
        standing.push(dump_words(year));
    }
    let rest_s = year.total.duration_s - year.total.run_s;
    // Of a coil at the tank no water leaves the tank.
    if rest_s > 0.0 && !pump.map.cycle().tank_coil() {
        let hours = 24.0 * rest_s / year.total.duration_s;
        standing.push(format!("in the pump's pipes for {} of the day on average", count(hours, "hour")));
    }
    if standing.is_empty() {
        return None;
    }
    let flush = if household.dump.is_some() {
        " Put the dump's valve close to the tank, let the line drain itself behind it, and flush it without spray before the \
         first use of the season."
    } else {
        ""
    };
    Some(EXPLANATION.raised(Severity::Know, format!(
            "Warm water from the tank stands {}. Such dead legs are where Legionella bacteria grow: keep them short, without \
             unused branches.{flush} A licensed plumber lays them as your local code asks.",
            list(&standing),
        )))
}

/// How long water stands in the dump line.
fn dump_words(year: &Year) -> String {
    let unused = months(|month| year.months[month].dump_openings <= 0.0);
    match unused.as_str() {
        "" => {
            let apart_s = year.total.duration_s / year.total.dump_openings;
            format!("in the dump line for {} between two openings on average", count(apart_s / DAY_S, "day"))
        }
        "every month" => "in the dump line all year, as it never opens".to_owned(),
        _ => format!("in the dump line unused through {unused}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};

    /// A year in which the dump opened in some months, and the pump ran for a share of the time.
    fn with(dump: bool, opens: impl Fn(usize) -> bool, run_frac: f64) -> Option<Caution> {
        let (mut household, mut year) = (household(), year());
        if !dump {
            household.dump = None;
        }
        for (index, month) in year.months.iter_mut().enumerate() {
            month.dump_openings = if opens(index) { 10.0 } else { 0.0 };
        }
        year.total.dump_openings = year.months.iter().map(|month| month.dump_openings).sum();
        year.total.run_s = run_frac * year.total.duration_s;
        caution(&household, &plant(), &year)
    }

    #[test]
    fn where_no_water_stands_it_is_silent() {
        assert_eq!(with(false, |_| false, 1.0), None);
    }

    #[test]
    fn a_pump_that_hardly_rests_and_one_that_rests_half_the_day() {
        assert!(with(false, |_| false, 0.999).is_some());
        let text = with(false, |_| false, 0.5).unwrap().text;
        assert!(text.contains("12 hours of the day") && !text.contains("dump"), "{text}");
    }

    #[test]
    fn the_months_without_an_opening_are_named() {
        let text = with(true, |month| (4..=8).contains(&month), 0.5).unwrap().text;
        assert!(text.contains("unused through October to April"), "{text}");
        assert!(with(true, |_| false, 0.5).unwrap().text.contains("never opens"));
        let text = with(true, |_| true, 0.5).unwrap().text;
        // 120 openings in 365 days.
        assert!(text.contains("for 3 days between"), "{text}");
    }
}

//! Choosing among whole years: the values that a scenario leaves open, tried together, and which of them to take.

mod search;

use std::cmp::Ordering;
use std::collections::BTreeMap;

use serde::Serialize;

use crate::caution::{self, Severity};
use crate::cost::Bills;
use crate::finding::{self, Answer};
use crate::household::Household;
use crate::plant::Plant;
use crate::resolution::Resolution;
use crate::scenario::{Variable, Workbench};
use crate::simulate::simulate;
use crate::year::Year;

pub use search::Point;

/// Most keys that may be left open.
pub const MOST_VARIABLES: usize = 8;

/// Choices within so much of the best one's cost count as equally good. Common practice, no source.
pub const FLAT_FRAC: f64 = 0.02;

/// Joules in a kilowatt hour.
const J_PER_KWH: f64 = 3.6e6;
/// Seconds in an hour.
const HOUR_S: f64 = 3600.0;

/// The question whether the taps get hot water.
const TAPS: &str = "F601";
/// Answers that a choice must not have `no` to: too warm, too cold, short of hot water.
const MUST_HOLD: [&str; 3] = ["F101", "F102", TAPS];

/// What a year comes to, as far as a choice goes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Figures {
    /// What the year costs, in the scenario's currency; `None` without prices.
    pub cost: Option<f64>,
    /// Electricity of cooler and element, kWh.
    pub electricity_kwh: f64,
    /// Energy that the booster bought, kWh.
    pub booster_bought_kwh: f64,
    /// Water dumped, L, at the temperature dumped.
    pub dump_l: f64,
    /// Time with the contents above the warm limit, h.
    pub over_band_h: f64,
    /// Time with contents below the highest freezing point stored, h.
    pub frozen_contents_h: f64,
    /// Time with water colder than wanted, h.
    pub shortfall_h: f64,
    /// Starts of the pump.
    pub starts: f64,
    /// Codes of the questions that must not be answered with no, and are.
    pub fails: Vec<&'static str>,
    /// Codes of the cautions that stop work.
    pub stops_work: Vec<&'static str>,
}

impl Figures {
    /// The figures of a year.
    pub fn of(household: &Household, plant: &Plant, year: &Year) -> Self {
        let total = &year.total;
        let never = |_: &crate::change::Change| Ok::<_, std::convert::Infallible>(None);
        let findings =
            finding::findings(household, plant, year, &never).unwrap_or_else(|never| match never {});
        let stops = caution::cautions(household, plant, year);
        Self {
            cost: Bills::of(household, plant, year).map(|bills| bills.year().total()),
            electricity_kwh: (total.electricity_total_j() + total.element_j) / J_PER_KWH,
            booster_bought_kwh: total.booster_bought_j / J_PER_KWH,
            dump_l: 1000.0 * total.dump_m3,
            over_band_h: total.over_band_s / HOUR_S,
            frozen_contents_h: total.frozen_contents_s / HOUR_S,
            shortfall_h: total.shortfall_s / HOUR_S,
            starts: total.starts,
            fails: findings
                .iter()
                .filter(|finding| MUST_HOLD.contains(&finding.code) && finding.answer == Answer::No)
                .map(|finding| finding.code)
                .collect(),
            stops_work: stops
                .iter()
                .filter(|caution| caution.severity == Severity::StopWork)
                .map(|caution| caution.code)
                .collect(),
        }
    }

    /// What is made small: the year's cost, or, without prices, all energy bought.
    pub fn goal(&self) -> f64 {
        self.cost.unwrap_or(self.electricity_kwh + self.booster_bought_kwh)
    }

    /// What is traded against each other: cost, water dumped, hours too warm, energy of the booster.
    fn traded(&self) -> [f64; 4] {
        [self.goal(), self.dump_l, self.over_band_h, self.booster_bought_kwh]
    }

    /// Whether it is nowhere worse than another and somewhere better.
    fn beats(&self, other: &Self) -> bool {
        let pairs: Vec<_> = self.traded().into_iter().zip(other.traded()).collect();
        pairs.iter().all(|(own, other)| own <= other) && pairs.iter().any(|(own, other)| own < other)
    }
}

/// A choice that was tried.
#[derive(Debug, Clone, PartialEq)]
pub enum Tried {
    /// No scenario may have these values; or its year cannot be calculated.
    Refused(Vec<String>),
    /// What its year came to.
    Ran(Figures),
}

impl Tried {
    /// The figures, if there is a year.
    pub fn figures(&self) -> Option<&Figures> {
        match self {
            Tried::Refused(_) => None,
            Tried::Ran(figures) => Some(figures),
        }
    }

    /// Those that hold first, then those that fail least; among equals the cheaper.
    fn order(&self, other: &Self) -> Ordering {
        match (self, other) {
            (Tried::Refused(_), Tried::Refused(_)) => Ordering::Equal,
            (Tried::Refused(_), Tried::Ran(_)) => Ordering::Greater,
            (Tried::Ran(_), Tried::Refused(_)) => Ordering::Less,
            (Tried::Ran(one), Tried::Ran(other)) => {
                let bad = |figures: &Figures| (figures.fails.len(), figures.stops_work.len());
                let hours = |figures: &Figures| {
                    if figures.fails.is_empty() {
                        0.0
                    } else {
                        figures.over_band_h + figures.frozen_contents_h + figures.shortfall_h
                    }
                };
                bad(one)
                    .cmp(&bad(other))
                    .then(hours(one).total_cmp(&hours(other)))
                    .then(one.goal().total_cmp(&other.goal()))
            }
        }
    }
}

/// Everything that was tried.
#[derive(Debug, Clone)]
pub struct Choices {
    /// What was left open.
    pub variables: Vec<Variable>,
    /// The scenario as it is.
    pub own: Figures,
    /// The points looked at.
    pub tried: BTreeMap<Point, Tried>,
    /// How many points there are.
    pub points: usize,
}

/// Tries the values of the variables, at most `most` years of them; `step` is told of each that is done.
///
/// # Errors
/// In words, where the scenario's own year cannot be calculated.
pub fn choose(
    bench: &Workbench,
    variables: Vec<Variable>,
    most: usize,
    step: &(dyn Fn() + Sync),
) -> Result<Choices, crate::simulate::SimulationError> {
    let year = |household: &Household| {
        let plant = Plant::new(household);
        simulate(&plant, &Resolution::default(), &mut ()).map(|year| Figures::of(household, &plant, &year))
    };
    let own = year(&bench.scenario.household)?;
    let look = |point: &Point| {
        let settings: Vec<(&str, &str)> = settings(&variables, point).collect();
        let tried = match bench.household(&settings) {
            Err(faults) => Tried::Refused(faults),
            Ok(household) => match year(&household) {
                Ok(figures) => Tried::Ran(figures),
                Err(error) => Tried::Refused(vec![error.to_string()]),
            },
        };
        step();
        Ok::<_, std::convert::Infallible>(tried)
    };
    let sizes: Vec<usize> = variables.iter().map(|variable| variable.values.len()).collect();
    let tried = search::search(&sizes, most, &look, &Tried::order).unwrap_or_else(|never| match never {});
    let points = sizes.iter().fold(1_usize, |points, &size| points.saturating_mul(size));
    Ok(Choices { variables, own, tried, points })
}

/// Keys and values of a point.
pub fn settings<'a>(variables: &'a [Variable], point: &'a Point) -> impl Iterator<Item = (&'a str, &'a str)> {
    variables.iter().zip(point).map(|(variable, &at)| (variable.key.as_str(), variable.values[at].as_str()))
}

/// One way off the recommended choice that would be cheaper, and why it is not taken.
#[derive(Debug, Clone, PartialEq)]
pub struct Binding<'a> {
    /// Position of the variable that is moved.
    pub variable: usize,
    /// Where it is moved to.
    pub point: &'a Point,
    /// What it came to.
    pub figures: &'a Figures,
}

impl Choices {
    /// What every year raises, so that no choice among these can help against it: cautions that stop work, and taps short of hot
    /// water. Food that does not hold is never borne.
    pub fn unavoidable(&self) -> Vec<&'static str> {
        let against = |figures: &Figures| {
            let taps = figures.fails.iter().filter(|code| **code == TAPS);
            taps.chain(&figures.stops_work).copied().collect::<Vec<_>>()
        };
        let mut ran = self.ran();
        let Some((_, first)) = ran.next() else { return Vec::new() };
        let mut codes = against(first);
        for (_, figures) in ran {
            let other = against(figures);
            codes.retain(|code| other.contains(code));
        }
        codes
    }

    /// The choices whose year was run.
    pub fn ran(&self) -> impl Iterator<Item = (&Point, &Figures)> {
        self.tried.iter().filter_map(|(point, tried)| Some((point, tried.figures()?)))
    }

    /// The choices that hold room and taps and raise no caution that stops work but the unavoidable ones, the cheapest first.
    pub fn ranked(&self) -> Vec<(&Point, &Figures)> {
        let unavoidable = self.unavoidable();
        let holds = |figures: &Figures| {
            figures.fails.iter().chain(&figures.stops_work).all(|code| unavoidable.contains(code))
        };
        let mut ranked: Vec<_> = self.ran().filter(|(_, figures)| holds(figures)).collect();
        ranked.sort_by(|one, other| one.1.goal().total_cmp(&other.1.goal()));
        ranked
    }

    /// Where none holds: the one that fails least.
    pub fn nearest(&self) -> Option<(&Point, &Figures)> {
        let best = self
            .tried
            .iter()
            .reduce(|best, one| if one.1.order(best.1) == Ordering::Less { one } else { best })?;
        Some((best.0, best.1.figures()?))
    }

    /// Of the choices that hold, those that no other beats, the cheapest first.
    pub fn front<'a>(&self, ranked: &[(&'a Point, &'a Figures)]) -> Vec<(&'a Point, &'a Figures)> {
        let beaten = |one: &Figures| ranked.iter().any(|(_, other)| other.beats(one));
        let mut front: Vec<(&Point, &Figures)> = Vec::new();
        for &(point, figures) in ranked {
            // Of equals the first will do.
            if !beaten(figures) && !front.iter().any(|(_, other)| other.traded() == figures.traded()) {
                front.push((point, figures));
            }
        }
        front
    }

    /// The values of each variable among the choices that cost at most [`FLAT_FRAC`] more than the best.
    pub fn flat(&self, ranked: &[(&Point, &Figures)]) -> Vec<Vec<&str>> {
        let Some((_, best)) = ranked.first() else { return Vec::new() };
        let near: Vec<_> = ranked
            .iter()
            .filter(|(_, figures)| figures.goal() <= best.goal() + FLAT_FRAC * best.goal().abs())
            .collect();
        let of = |(index, variable): (usize, &'_ Variable)| -> Vec<usize> {
            (0..variable.values.len())
                .filter(|&at| near.iter().any(|(point, _)| point[index] == at))
                .collect()
        };
        self.variables
            .iter()
            .enumerate()
            .map(|(index, variable)| {
                of((index, variable)).into_iter().map(|at| variable.values[at].as_str()).collect()
            })
            .collect()
    }

    /// The cheaper neighbours of a choice that do not hold: each is a limit that binds.
    pub fn binding<'a>(&'a self, best: &Point, figures: &Figures) -> Vec<Binding<'a>> {
        let held: Vec<&Point> = self.ranked().iter().map(|(point, _)| *point).collect();
        let mut binding = Vec::new();
        for variable in 0..self.variables.len() {
            let along = |(point, _): &(&'a Point, &'a Figures)| {
                point.iter().zip(best).enumerate().all(|(index, (one, own))| index == variable || one == own)
            };
            for below in [true, false] {
                let side =
                    |(point, _): &(&'a Point, &'a Figures)| (point[variable] < best[variable]) == below;
                let nearest = self
                    .ran()
                    .filter(|one| one.0 != best && along(one) && side(one))
                    .min_by_key(|(point, _)| point[variable].abs_diff(best[variable]));
                if let Some((point, other)) = nearest
                    && other.goal() < figures.goal()
                    && !held.contains(&point)
                {
                    binding.push(Binding { variable, point, figures: other });
                }
            }
        }
        binding
    }

    /// Variables whose best value is the first or last that it may take, though others would be possible beyond.
    pub fn at_an_end(&self, best: &Point) -> Vec<usize> {
        (0..self.variables.len())
            .filter(|&index| best[index] == 0 || best[index] + 1 == self.variables[index].values.len())
            .collect()
    }
}

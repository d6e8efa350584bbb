//! What came of trying the values that a scenario leaves open.

use serde::Serialize;
use serde_json::{Map, Value};

use crate::choose::{Choices, FLAT_FRAC, Figures, Point, Tried, settings};
use crate::household::{Household, UnitSystem};
use crate::report::block::{Block, Column, Entry, Report, Table, Tone};
use crate::report::costs;
use crate::report::json::{SCHEMA, pretty};
use crate::report::measure::Measure;
use crate::report::rounding::Rounded;
use crate::scenario::Variable;
use crate::wording::{count, list};

/// Rows of each table.
const ROWS: usize = 10;
/// Days of a year, for means by the day.
const YEAR_DAYS: f64 = 365.0;

/// A choice with its figures.
#[derive(Debug, Clone, Serialize)]
pub struct Choice<'a> {
    /// Values by key.
    pub settings: Map<String, Value>,
    /// What its year came to.
    #[serde(flatten)]
    pub figures: &'a Figures,
}

/// A choice that would be cheaper and does not hold.
#[derive(Debug, Clone, Serialize)]
pub struct Bound<'a> {
    /// The key that is changed against the recommended choice.
    pub key: &'a str,
    /// The choice.
    #[serde(flatten)]
    pub choice: Choice<'a>,
}

/// A choice that was refused.
#[derive(Debug, Clone, Serialize)]
pub struct Refused<'a> {
    /// Values by key.
    pub settings: Map<String, Value>,
    /// Why.
    pub reasons: &'a [String],
}

/// The document about choices.
#[derive(Debug, Serialize)]
pub struct ChoicesDocument<'a> {
    schema: u32,
    version: &'static str,
    scenario: &'a str,
    household: &'a str,
    /// The currency of `cost`; `null` without prices.
    currency: Option<&'a str>,
    /// Values by key.
    variables: Map<String, Value>,
    combinations: usize,
    years_run: usize,
    as_it_is: &'a Figures,
    unavoidable_cautions: Vec<&'static str>,
    recommended: Option<Choice<'a>>,
    nearest: Option<Choice<'a>>,
    bounds: Vec<Bound<'a>>,
    as_good: Map<String, Value>,
    ranked: Vec<Choice<'a>>,
    front: Vec<Choice<'a>>,
    refused: Vec<Refused<'a>>,
}

fn by_key(variables: &[Variable], point: &Point) -> Map<String, Value> {
    settings(variables, point).map(|(key, value)| (key.to_owned(), value.into())).collect()
}

impl<'a> ChoicesDocument<'a> {
    /// The document about a household's choices.
    pub fn of(scenario: &'a str, household: &'a Household, choices: &'a Choices) -> Self {
        let variables = &choices.variables;
        let choice = |(point, figures): (&'a Point, &'a Figures)| Choice {
            settings: by_key(variables, point),
            figures,
        };
        let ranked = choices.ranked();
        let best = ranked.first().copied();
        let bounds = best.map_or_else(Vec::new, |(point, figures)| {
            let bound = |one: crate::choose::Binding<'a>| Bound {
                key: &variables[one.variable].key,
                choice: choice((one.point, one.figures)),
            };
            choices.binding(point, figures).into_iter().map(bound).collect()
        });
        let refused = |(point, tried): (&'a Point, &'a Tried)| match tried {
            Tried::Refused(reasons) => Some(Refused { settings: by_key(variables, point), reasons }),
            Tried::Ran(_) => None,
        };
        Self {
            schema: SCHEMA,
            version: env!("CARGO_PKG_VERSION"),
            scenario,
            household: &household.name,
            currency: household.prices.as_ref().map(|prices| prices.currency.as_str()),
            variables: variables.iter().map(|one| (one.key.clone(), one.values.clone().into())).collect(),
            combinations: choices.points,
            years_run: choices.ran().count(),
            as_it_is: &choices.own,
            unavoidable_cautions: choices.unavoidable(),
            recommended: best.map(choice),
            nearest: if best.is_none() { choices.nearest().map(choice) } else { None },
            bounds,
            as_good: variables
                .iter()
                .zip(choices.flat(&ranked))
                .map(|(variable, values)| (variable.key.clone(), values.into()))
                .collect(),
            front: choices.front(&ranked).into_iter().map(choice).collect(),
            ranked: ranked.into_iter().map(choice).collect(),
            refused: choices.tried.iter().filter_map(refused).collect(),
        }
    }

    /// The document as text, ended by a line break.
    ///
    /// # Errors
    /// When a number is not finite, which is a fault of the program.
    pub fn text(&self) -> Result<String, serde_json::Error> {
        pretty(self)
    }
}

impl Report {
    /// What came of the choices.
    pub fn of_choices(scenario: &str, household: &Household, choices: &Choices) -> Self {
        let told = Told { household, choices, units: household.units };
        let mut blocks = vec![
            Block::Line(format!("{} ({scenario})", household.name)),
            Block::Heading("Choices".to_owned()),
            Block::Paragraph(told.tried()),
        ];
        let unavoidable = choices.unavoidable();
        if !unavoidable.is_empty() {
            blocks.push(Block::Entry(Entry {
                mark: unavoidable.join(", "),
                verdict: "in every year".to_owned(),
                tone: Tone::Bad,
                text: "no choice here helps against it, and it comes first: `larderloop check` says what it asks for."
                    .to_owned(),
                details: Vec::new(),
            }));
        }
        let ranked = choices.ranked();
        match ranked.first() {
            Some(&(point, figures)) => {
                blocks.push(Block::Entry(told.recommended(point, figures, &ranked)));
                blocks.push(Block::Table(told.table(
                    if household.prices.is_some() {
                        "The cheapest that hold"
                    } else {
                        "Those that hold, by energy bought"
                    },
                    &ranked,
                )));
                let front = choices.front(&ranked);
                if front.len() > 1 {
                    let mut table = told.table("What can be traded for what", &spread(&front));
                    table.notes = vec![
                        "Each of these is better than every other that holds in at least one of cost, water dumped, hours too warm and \
                         the booster's energy."
                            .to_owned(),
                    ];
                    blocks.push(Block::Table(table));
                }
            }
            None => blocks.extend(told.none_holds()),
        }
        Self { blocks }
    }
}

/// At most so many rows, the first and the last among them.
fn spread<'a>(rows: &[(&'a Point, &'a Figures)]) -> Vec<(&'a Point, &'a Figures)> {
    if rows.len() <= ROWS {
        return rows.to_vec();
    }
    (0..ROWS).map(|row| rows[row * (rows.len() - 1) / (ROWS - 1)]).collect()
}

struct Told<'a> {
    household: &'a Household,
    choices: &'a Choices,
    units: UnitSystem,
}

impl Told<'_> {
    fn tried(&self) -> String {
        let choices = self.choices;
        let keys: Vec<String> = choices
            .variables
            .iter()
            .map(|one| format!("`{}` ({} values)", one.key, one.values.len()))
            .collect();
        let (ran, refused) = (choices.ran().count(), choices.tried.len() - choices.ran().count());
        let mut words = format!("Left open: {}. ", list(&keys));
        words += &if choices.tried.len() == choices.points {
            format!("All {} were tried", count(choices.points as f64, "combination"))
        } else {
            format!(
                "Of {} {} were tried: a coarse grid, and then what lies around the best",
                count(choices.points as f64, "combination"),
                choices.tried.len()
            )
        };
        words += &match refused {
            0 => ", each through the whole year".to_owned(),
            _ => format!(", {ran} of them through the whole year"),
        };
        if refused > 0 {
            words += &format!("; {refused} no scenario may have, because their values do not fit together");
        }
        words += ". A choice holds if the food gets neither too warm nor too cold, the taps get hot water, and no caution stops work.";
        words
    }

    /// What a year costs, with its unit.
    fn goal(&self, figures: &Figures) -> String {
        self.money(figures.goal())
    }

    fn money(&self, amount: f64) -> String {
        let number = Rounded::new(amount, costs::decimals(self.choices.own.goal()));
        match &self.household.prices {
            Some(prices) => format!("{number} {}", prices.currency),
            None => format!("{number} kWh"),
        }
    }

    fn said(&self, point: &Point) -> String {
        let parts: Vec<String> = settings(&self.choices.variables, point)
            .map(|(key, value)| format!("`{key}: {value}`"))
            .collect();
        list(&parts)
    }

    fn why_not(&self, figures: &Figures) -> String {
        let unavoidable = self.choices.unavoidable();
        let hours = |hours: f64| Measure::Duration.words(hours, self.units);
        let fails = figures.fails.iter().filter(|code| !unavoidable.contains(code));
        let fails = fails.map(|code| match *code {
            "F101" => format!("the food is too warm for {}", hours(figures.over_band_h)),
            "F102" => {
                format!("the food may freeze ({} with frozen contents)", hours(figures.frozen_contents_h))
            }
            _ => format!("the taps are short of hot water for {}", hours(figures.shortfall_h)),
        });
        let stops = figures.stops_work.iter().filter(|code| !unavoidable.contains(code));
        let all: Vec<String> = fails.chain(stops.map(|code| format!("caution {code} stops work"))).collect();
        list(&all)
    }

    fn recommended(&self, point: &Point, figures: &Figures, ranked: &[(&Point, &Figures)]) -> Entry {
        let choices = self.choices;
        let own = &choices.own;
        let saved = own.goal() - figures.goal();
        let against = if own.fails.is_empty() {
            let less = if saved >= 0.0 { "less" } else { "more" };
            format!(", {} {less} than the scenario as it is", self.money(saved.abs()))
        } else {
            format!("; the scenario as it is comes to {}, but {}", self.goal(own), self.why_not(own))
        };
        let keep = own.fails.is_empty() && saved.abs() <= FLAT_FRAC * own.goal().abs();
        let bought = if self.household.prices.is_some() { "costs" } else { "buys" };
        let mut details = Vec::new();
        if keep {
            details.push(
                "That is less than such a year can be known to: what stands in the scenario is as good, and costs nothing to build."
                    .to_owned(),
            );
        }
        for bound in choices.binding(point, figures) {
            let key = &choices.variables[bound.variable].key;
            let value = &choices.variables[bound.variable].values[bound.point[bound.variable]];
            details.push(format!(
                "What binds: with `{key}: {value}` it would be {} less, but {}.",
                self.money(figures.goal() - bound.figures.goal()),
                self.why_not(bound.figures)
            ));
        }
        let number = |value: &str| value.starts_with(|first: char| first.is_ascii_digit() || first == '-');
        let ends = choices.at_an_end(point).into_iter().filter(|&index| {
            let variable = &choices.variables[index];
            variable.values.len() > 1 && variable.values.iter().all(|value| number(value))
        });
        let ends: Vec<String> = ends.map(|index| format!("`{}`", choices.variables[index].key)).collect();
        if !ends.is_empty() {
            let (stands, it) = if ends.len() == 1 { ("stands", "it") } else { ("stand", "they") };
            details.push(format!(
                "{} {stands} at the end of what {it} may be: beyond, there may be a better choice.",
                list(&ends)
            ));
        }
        if let Some((next, other)) = ranked.get(1) {
            details.push(format!(
                "The next best, {}, gives up {}.",
                self.said(next),
                self.money(other.goal() - figures.goal())
            ));
        }
        details.push(self.as_good(ranked));
        if self.household.prices.is_none() {
            details.insert(
                0,
                "Without `prices` the kilowatt hours of electricity and of the booster's fuel count alike, though they do not cost alike: give `prices` before you choose by this."
                    .to_owned(),
            );
        }
        Entry {
            mark: if self.household.prices.is_some() { "recommended" } else { "least energy" }.to_owned(),
            verdict: String::new(),
            tone: Tone::Good,
            text: format!("{}. Its year {bought} {}{against}.", self.said(point), self.goal(figures)),
            details,
        }
    }

    /// How flat the optimum is.
    fn as_good(&self, ranked: &[(&Point, &Figures)]) -> String {
        let variables = &self.choices.variables;
        let values: Vec<String> = variables
            .iter()
            .zip(self.choices.flat(ranked))
            .map(|(variable, values)| match values[..] {
                [only] => format!("`{}` only with {only}", variable.key),
                [first, .., last] if values.len() > 2 => {
                    format!("`{}` with {} values, {first} to {last}", variable.key, values.len())
                }
                _ => format!("`{}` with {}", variable.key, values.join(" or ")),
            })
            .collect();
        format!(
            "Within {} % of its {}, which is less than such a year can be known to: {}.",
            100.0 * FLAT_FRAC,
            if self.household.prices.is_some() { "cost" } else { "energy" },
            list(&values)
        )
    }

    fn none_holds(&self) -> Vec<Block> {
        let Some((point, figures)) = self.choices.nearest() else {
            let words = "None of these can be run: their values do not fit together. The reasons stand in the JSON document (`refused`).";
            return vec![Block::Paragraph(words.to_owned())];
        };
        let entry = Entry {
            mark: "none holds".to_owned(),
            text: format!("the nearest is {}, but {}.", self.said(point), self.why_not(figures)),
            details: vec![
                "`larderloop check` names remedies of other kinds; leave their keys open too.".to_owned(),
            ],
            tone: Tone::Bad,
            ..Entry::default()
        };
        let mut all: Vec<_> = self.choices.ran().collect();
        all.sort_by(|one, other| {
            one.1.over_band_h.total_cmp(&other.1.over_band_h).then(one.1.goal().total_cmp(&other.1.goal()))
        });
        vec![Block::Entry(entry), Block::Table(self.table("Those with the fewest hours too warm", &all))]
    }

    fn table(&self, title: &str, rows: &[(&Point, &Figures)]) -> Table {
        let (units, variables) = (self.units, &self.choices.variables);
        let decimals = costs::decimals(self.choices.own.goal());
        let mut columns: Vec<Column> =
            variables.iter().map(|variable| Column::number(&heading(variable, variables), "")).collect();
        columns.push(match &self.household.prices {
            Some(_) => Column::number("cost", ""),
            None => Column::number("energy\nbought", "kWh"),
        });
        columns.extend([
            Column::number("dumped", Measure::VolumePerDay.unit(units)),
            Column::number("too\nwarm", "h"),
            Column::number("elec-\ntricity", "kWh"),
            Column::number("booster\nbuys", "kWh"),
        ]);
        let figures_of = |figures: &Figures| {
            [
                Rounded::new(figures.goal(), decimals).to_string(),
                Measure::VolumePerDay.rounded(figures.dump_l / YEAR_DAYS, units).to_string(),
                Measure::Duration.rounded(figures.over_band_h, units).to_string(),
                Rounded::new(figures.electricity_kwh, 0).to_string(),
                Rounded::new(figures.booster_bought_kwh, 0).to_string(),
            ]
        };
        let row = |(point, figures): &(&Point, &Figures)| -> Vec<String> {
            let values = settings(variables, point).map(|(_, value)| value.to_owned());
            values.chain(figures_of(figures)).collect()
        };
        let own = (0..variables.len()).map(|index| if index == 0 { "as it is" } else { "" }.to_owned());
        let mut notes = Vec::new();
        if rows.len() > ROWS {
            notes.push(format!("The first {ROWS} of {}; all stand in the JSON document.", rows.len()));
        }
        Table {
            title: title.to_owned(),
            columns,
            rows: rows.iter().take(ROWS).map(row).collect(),
            year: Some(own.chain(figures_of(&self.choices.own)).collect()),
            notes,
        }
    }
}

/// The last part of a key, unless two share it.
fn heading(variable: &Variable, all: &[Variable]) -> String {
    let last = |variable: &Variable| variable.key.rsplit('.').next().unwrap_or_default().to_owned();
    let own = last(variable);
    if all.iter().filter(|other| last(other) == own).count() > 1 {
        variable.key.replace(['.', '_'], "\n")
    } else {
        own.replace('_', "\n")
    }
}

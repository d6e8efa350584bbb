//! The same room under other ways of cooling, side by side.

mod document;
mod tables;
mod takes;

pub use document::{WayFigures, WaysDocument};

use crate::alternatives::{Payback, Way, WayYear, Ways, payback};
use crate::finding::Answer;
use crate::household::{Household, UnitSystem};
use crate::report::block::{Block, Entry, Report, Tone};
use crate::report::costs;
use crate::report::rounding::Rounded;
use crate::wording::{Wording, decimals, list};

const J_PER_KWH: f64 = 3.6e6;
const HOUR_S: f64 = 3600.0;
const YEAR_DAYS: f64 = 365.0;

/// Speed of air through the holes that fans need, m/s. Common practice, no source: 2 to 3 m/s, so that it makes little noise.
const HOLE_M_S: f64 = 2.5;

impl Report {
    /// The ways of cooling of a household, side by side.
    pub fn of_ways(scenario: &str, household: &Household, ways: &Ways) -> Self {
        let told = Told { household, ways, units: household.units, say: Wording(household.units) };
        let mut blocks = vec![
            Block::Line(format!("{} ({scenario})", household.name)),
            Block::Heading("Ways of cooling".to_owned()),
            Block::Paragraph(told.opening()),
            Block::Entry(told.verdict()),
        ];
        blocks.extend(told.against_pump().map(Block::Entry));
        blocks.push(Block::Table(told.food()));
        blocks.push(Block::Table(told.energy()));
        blocks.extend(told.money().map(Block::Table));
        blocks.push(Block::Heading("What each of them takes".to_owned()));
        blocks.push(Block::Entry(told.fans()));
        blocks.push(Block::Entry(told.conditioner()));
        blocks.push(Block::Entry(told.pump()));
        blocks.push(Block::Paragraph(
            "Local codes and licensed trades decide over electricity, refrigerant, drinking water and walls. Nothing here replaces an independent \
             alarm for a room that gets too warm or too cold."
                .to_owned(),
        ));
        Self { blocks }
    }
}

/// A way in words.
fn name(way: Way) -> &'static str {
    match way {
        Way::Nothing => "nothing",
        Way::OutdoorFans => "outdoor-air fans",
        Way::AirConditioner => "air conditioner",
        Way::FansAndAirConditioner => "fans with air conditioner",
        Way::HeatPump => "heat pump",
        Way::FansAndHeatPump => "fans with heat pump",
    }
}

struct Told<'a> {
    household: &'a Household,
    ways: &'a Ways,
    units: UnitSystem,
    say: Wording,
}

impl Told<'_> {
    fn opening(&self) -> String {
        let machines = if self.ways.conditioner.is_ok() { "" } else { " (no air conditioner: see below)" };
        format!(
            "The same room, weather, food and taps, each way through its whole year by the same model{machines}. Where fans and a machine stand \
             together, the fans come first and the machine helps. Without the heat pump there is no tank: the booster heats all hot water{}.",
            if self.household.element.is_some() {
                ", with the electric element in a tank of its own"
            } else {
                ""
            }
        )
    }

    fn money_of(&self, amount: f64) -> String {
        let currency = self.household.prices.as_ref().map_or("", |prices| prices.currency.as_str());
        format!("{} {currency}", Rounded::new(amount, costs::decimals(self.year_total())))
    }

    /// What tells how many decimals money has.
    fn year_total(&self) -> f64 {
        self.ways.of(Way::HeatPump).and_then(|one| one.bill).map_or(0.0, |bill| bill.total())
    }

    /// Which ways keep the food, and which of them is the cheapest.
    fn verdict(&self) -> Entry {
        let held: Vec<&WayYear> = self.ways.years.iter().filter(|one| one.holds() != Answer::No).collect();
        let names =
            |ways: &[&WayYear]| list(&ways.iter().map(|one| name(one.way).to_owned()).collect::<Vec<_>>());
        if held.is_empty() {
            let least = self.ways.years.iter().min_by(|one, other| {
                let bad = |one: &WayYear| one.year.total.over_band_s + one.year.total.frozen_contents_s;
                bad(one).total_cmp(&bad(other))
            });
            let nearest = least.map_or_else(String::new, |one| {
                format!(
                    " Nearest is: {}, with {} too warm and {} freezing.",
                    name(one.way),
                    self.say.hours(one.year.total.over_band_s),
                    self.say.hours(one.year.total.frozen_contents_s)
                )
            });
            return Entry {
                mark: "the food".to_owned(),
                verdict: "no".to_owned(),
                tone: Tone::Bad,
                text: format!("none of these ways keeps it.{nearest} `larderloop check` names remedies."),
                details: Vec::new(),
            };
        }
        let lost: Vec<&WayYear> = self.ways.years.iter().filter(|one| one.holds() == Answer::No).collect();
        let mut text = format!("it keeps with: {}.", names(&held));
        if !lost.is_empty() {
            text += &format!(" It does not with: {}.", names(&lost));
        }
        let mut details = Vec::new();
        let by = |cost: &dyn Fn(&WayYear) -> Option<f64>| -> Option<(Way, f64)> {
            let known: Option<Vec<(Way, f64)>> = held.iter().map(|one| Some((one.way, cost(one)?))).collect();
            known?.into_iter().min_by(|one, other| one.1.total_cmp(&other.1))
        };
        if let Some((way, cost)) = by(&|one| Some(one.bill?.total())) {
            details.push(format!("The cheapest year of these: {}, {}.", name(way), self.money_of(cost)));
        }
        if let Some((way, cost)) = by(&|one| one.cost_over(self.ways.over_years)) {
            details.push(format!(
                "The cheapest over {} years, building included and no interest counted: {}, {}.",
                decimals(self.ways.over_years, 0),
                name(way),
                self.money_of(cost)
            ));
        } else if self.household.prices.is_some() {
            details.push(
                "With `investment` under `alternatives` (heat pump, fans, air conditioner) this also tells costs over the years and payback."
                    .to_owned(),
            );
        } else {
            details.push("With `prices` in the scenario this also tells what each way costs.".to_owned());
        }
        Entry { mark: "the food".to_owned(), verdict: "yes".to_owned(), tone: Tone::Good, text, details }
    }

    /// The heat pump against the air conditioner, or against fans where there is none.
    fn against_pump(&self) -> Option<Entry> {
        let pump = self.ways.of(Way::HeatPump)?;
        let other = self.ways.of(Way::AirConditioner).or_else(|| self.ways.of(Way::OutdoorFans))?;
        let bought = |one: &WayYear| (one.year.total.booster_bought_j + one.year.total.element_j) / J_PER_KWH;
        let apart = |amount: f64, what: &str| {
            let less = if amount < 0.0 { "less" } else { "more" };
            format!("{} kWh {less} {what}", Rounded::new(amount.abs(), 0))
        };
        let mut text = format!(
            "in a year the heat pump draws {} than the {} and buys {}.",
            apart(pump.electricity_kwh() - other.electricity_kwh(), "electricity"),
            name(other.way),
            apart(bought(pump) - bought(other), "energy for hot water")
        );
        if let (Some(own), Some(others)) = (pump.bill, other.bill) {
            let apart = own.total() - others.total();
            let less = if apart < 0.0 { "less" } else { "more" };
            text += &format!(" Its year costs {} {less}.", self.money_of(apart.abs()));
        }
        let mut details = Vec::new();
        if pump.holds() == Answer::No && other.holds() != Answer::No {
            details.push(
                "As it is, the heat pump does not keep the food: `larderloop check` says what would, and only then do these figures compare \
                 like with like."
                    .to_owned(),
            );
        }
        if other.holds() == Answer::No && pump.holds() != Answer::No {
            details.push(format!(
                "With {} the food does not keep: what is saved there is no saving.",
                name(other.way)
            ));
        }
        match payback(pump, other) {
            Some(Payback::AtOnce) => {
                details.push("It costs no more to build, and its year no more.".to_owned())
            }
            Some(Payback::Years(years)) => details
                .push(format!("What it costs more to build is paid back in {} years.", decimals(years, 1))),
            Some(Payback::Never) => {
                details.push("What it costs more to build is never paid back at these prices.".to_owned());
            }
            Some(Payback::UsedUp(years)) => details.push(format!(
                "It costs less to build; its dearer years have used that up after {} years.",
                decimals(years, 1)
            )),
            None => {}
        }
        let short = pump.year.total.shortfall_j > 1.5 * other.year.total.shortfall_j + J_PER_KWH;
        if short {
            details.push(
                "The taps are shorter of hot water with it: `larderloop check` says why and what helps."
                    .to_owned(),
            );
        }
        Some(Entry { mark: "the heat pump".to_owned(), text, details, ..Entry::default() })
    }
}

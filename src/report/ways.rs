//! The same room under other ways of cooling, side by side.

use serde::Serialize;

use crate::alternatives::{
    NotBuilt, Payback, SizedBy, SizedConditioner, SizedFans, Way, WayYear, Ways, payback,
};
use crate::constants::ZERO_CELSIUS_K;
use crate::finding::Answer;
use crate::household::{Household, UnitSystem};
use crate::plant::Cause;
use crate::report::block::{Block, Column, Entry, Report, Table, Tone};
use crate::report::costs::{self, Costs};
use crate::report::json::{SCHEMA, pretty};
use crate::report::measure::Measure;
use crate::report::quantity::CONDENSATE_L_PER_KG;
use crate::report::rounding::Rounded;
use crate::wording::{Wording, count, decimals, list};

const J_PER_KWH: f64 = 3.6e6;
const HOUR_S: f64 = 3600.0;
const YEAR_DAYS: f64 = 365.0;

/// Speed of air through the holes that fans need, m/s. Common practice, no source: 2 to 3 m/s, so that it makes little noise.
const HOLE_M_S: f64 = 2.5;

/// What a year of a way comes to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WayFigures {
    /// The way.
    pub way: Way,
    /// Whether the food keeps.
    pub holds: Answer,
    /// Contents above the warm limit, h.
    pub over_band_h: f64,
    /// Warmest contents, °C.
    pub contents_warmest_degc: f64,
    /// Contents below the highest freezing point stored, h.
    pub frozen_contents_h: f64,
    /// Coldest contents, °C.
    pub contents_coldest_degc: f64,
    /// Mean relative humidity, %.
    pub humidity_mean_pct: f64,
    /// Heat that has to be taken out of the room in the year, kWh.
    pub gains_kwh: f64,
    /// Heat that outdoor air carried away, kWh.
    pub carried_out_by_fans_kwh: f64,
    /// Electricity of machine and fans, kWh.
    pub electricity_kwh: f64,
    /// The fans' part of it, kWh.
    pub fans_kwh: f64,
    /// Time in which they blow, h.
    pub fans_h: f64,
    /// Time in which the machine runs, h.
    pub machine_h: f64,
    /// Starts of the machine.
    pub machine_starts: f64,
    /// Times that frost on the air conditioner's coil was thawed.
    pub thaws: f64,
    /// Water that ran off the coil, L.
    pub condensate_l: f64,
    /// Heat that the machine gave the hot water, kWh.
    pub heat_to_water_kwh: f64,
    /// Energy that the booster bought, kWh.
    pub booster_bought_kwh: f64,
    /// Energy of the electric element in the tank, kWh.
    pub element_kwh: f64,
    /// Time with water colder than wanted, h.
    pub shortfall_h: f64,
    /// Heat missing at the taps, kWh.
    pub shortfall_kwh: f64,
    /// Water dumped, L.
    pub dump_l: f64,
    /// Heat taken out of heated rooms, kWh.
    pub house_heat_kwh: f64,
    /// Money of the year; `null` without prices.
    pub costs: Option<Costs>,
    /// What building it costs; `null` where that is not said.
    pub investment: Option<f64>,
    /// Building and the stated years; `null` where a part is not known.
    pub cost_over_years: Option<f64>,
    /// Years after which the heat pump has paid back what it costs more to build than this way: 0 at once; `null` where never or not known.
    pub heat_pump_pays_back_years: Option<f64>,
}

impl WayFigures {
    fn of(one: &WayYear, ways: &Ways) -> Self {
        let total = &one.year.total;
        let degc = |k: f64| k - ZERO_CELSIUS_K;
        let pump = ways.of(Way::HeatPump).filter(|_| one.way != Way::HeatPump);
        Self {
            way: one.way,
            holds: one.holds(),
            over_band_h: total.over_band_s / HOUR_S,
            contents_warmest_degc: degc(total.contents_k.max),
            frozen_contents_h: total.frozen_contents_s / HOUR_S,
            contents_coldest_degc: degc(total.contents_k.min),
            humidity_mean_pct: 100.0 * total.mean(total.humidity_frac_s),
            gains_kwh: total.gain_total_j() / J_PER_KWH,
            carried_out_by_fans_kwh: total.aired_j / J_PER_KWH,
            electricity_kwh: one.electricity_kwh(),
            fans_kwh: one.fan_kwh(),
            fans_h: one.fan_h(),
            machine_h: total.run_s / HOUR_S,
            machine_starts: total.starts,
            thaws: if one.way.conditioner() { total.defrosts } else { 0.0 },
            condensate_l: total.condensate_kg * CONDENSATE_L_PER_KG,
            heat_to_water_kwh: total.heat_to_water_j / J_PER_KWH,
            booster_bought_kwh: total.booster_bought_j / J_PER_KWH,
            element_kwh: total.element_j / J_PER_KWH,
            shortfall_h: total.shortfall_s / HOUR_S,
            shortfall_kwh: total.shortfall_j / J_PER_KWH,
            dump_l: 1000.0 * total.dump_m3,
            house_heat_kwh: one.house_heat_j / J_PER_KWH,
            costs: one.bill.as_ref().map(Costs::of),
            investment: one.investment,
            cost_over_years: one.cost_over(ways.over_years),
            heat_pump_pays_back_years: pump.and_then(|pump| payback(pump, one)).and_then(|payback| {
                match payback {
                    Payback::AtOnce => Some(0.0),
                    Payback::Years(years) => Some(years),
                    Payback::Never | Payback::UsedUp(_) => None,
                }
            }),
        }
    }
}

/// The fans as they were taken.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct FansTaken {
    flow_m3_h: f64,
    flow_from: SizedBy,
    power_w: f64,
    margin_k: f64,
    coldest_degc: f64,
    mixes: bool,
    helped_from_k: f64,
    hole_m2: f64,
}

/// The air conditioner as it was taken.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct ConditionerTaken {
    cooling_w: f64,
    cooling_from: SizedBy,
    power_w: f64,
    fans_w: f64,
    frost_kg: f64,
    thaw_min: f64,
    cooling_at_set_point_w: f64,
    coil_at_set_point_degc: f64,
}

/// The document about ways of cooling.
#[derive(Debug, Serialize)]
pub struct WaysDocument<'a> {
    schema: u32,
    version: &'static str,
    scenario: &'a str,
    household: &'a str,
    currency: Option<&'a str>,
    years: f64,
    heaviest_day_w: f64,
    outdoor_fans: FansTaken,
    air_conditioner: Option<ConditionerTaken>,
    air_conditioner_refused: Option<&'a str>,
    ways: Vec<WayFigures>,
}

impl<'a> WaysDocument<'a> {
    /// The document about a household's ways of cooling.
    pub fn of(scenario: &'a str, household: &'a Household, ways: &'a Ways) -> Self {
        let SizedFans { fans, flow_from } = &ways.fans;
        let unit = |unit: &SizedConditioner| ConditionerTaken {
            cooling_w: unit.rating.cooling_w,
            cooling_from: unit.cooling_from,
            power_w: unit.rating.power_w,
            fans_w: unit.rating.fan_w,
            frost_kg: unit.frost_kg,
            thaw_min: unit.thaw_s / 60.0,
            cooling_at_set_point_w: unit.hottest_w,
            coil_at_set_point_degc: unit.hottest_coil_k - ZERO_CELSIUS_K,
        };
        Self {
            schema: SCHEMA,
            version: env!("CARGO_PKG_VERSION"),
            scenario,
            household: &household.name,
            currency: household.prices.as_ref().map(|prices| prices.currency.as_str()),
            years: ways.over_years,
            heaviest_day_w: ways.heaviest_day_w,
            outdoor_fans: FansTaken {
                flow_m3_h: fans.flow_m3_s * HOUR_S,
                flow_from: *flow_from,
                power_w: fans.power_w,
                margin_k: fans.margin_dk,
                coldest_degc: fans.coldest_k - ZERO_CELSIUS_K,
                mixes: fans.mixes,
                helped_from_k: fans.helped_from_dk,
                hole_m2: fans.flow_m3_s / HOLE_M_S,
            },
            air_conditioner: ways.conditioner.as_ref().ok().map(unit),
            air_conditioner_refused: ways.conditioner.as_ref().err().map(|NotBuilt(why)| why.as_str()),
            ways: ways.years.iter().map(|one| WayFigures::of(one, ways)).collect(),
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

    fn table(&self, title: &str, columns: Vec<Column>, row: impl Fn(&WayYear) -> Vec<String>) -> Table {
        let mut all = vec![Column::words("Way")];
        all.extend(columns);
        let rows = self
            .ways
            .years
            .iter()
            .map(|one| std::iter::once(name(one.way).to_owned()).chain(row(one)).collect());
        Table { title: title.to_owned(), columns: all, rows: rows.collect(), year: None, notes: Vec::new() }
    }

    fn food(&self) -> Table {
        let units = self.units;
        let degc = |k: f64| Measure::Temperature.rounded(k - ZERO_CELSIUS_K, units).to_string();
        let hours = |s: f64| Rounded::new(s / HOUR_S, 0).to_string();
        let columns = vec![
            Column::number("too\nwarm", "h"),
            Column::number("warmest\nfood", Measure::Temperature.unit(units)),
            Column::number("freezing\nfood", "h"),
            Column::number("coldest\nfood", Measure::Temperature.unit(units)),
            Column::number("mean\nhumidity", "%"),
            Column::number("machine\nruns", "h"),
            Column::number("starts", ""),
            Column::number("fans\nblow", "h"),
        ];
        let mut table = self.table("The food and the room", columns, |one| {
            let total = &one.year.total;
            vec![
                hours(total.over_band_s),
                degc(total.contents_k.max),
                hours(total.frozen_contents_s),
                degc(total.contents_k.min),
                Rounded::new(100.0 * total.mean(total.humidity_frac_s), 0).to_string(),
                hours(total.run_s),
                Rounded::new(total.starts, 0).to_string(),
                hours(total.fans_s),
            ]
        });
        table.notes = vec![format!(
            "Too warm: above {}; freezing: below {}, the highest freezing point of what is stored.",
            self.say.temperature(self.household.room.warm_limit.value),
            self.say.temperature(self.ways.freezing_k)
        )];
        table
    }

    fn energy(&self) -> Table {
        let units = self.units;
        let kwh = |j: f64| Rounded::new(j / J_PER_KWH, 0).to_string();
        let per_day = |l: f64| Measure::VolumePerDay.rounded(l / YEAR_DAYS, units).to_string();
        let element = self.household.element.is_some();
        let heated = self.ways.years.iter().any(|one| one.house_heat_j != 0.0);
        let mut columns = vec![
            Column::number("heat into\nthe room", "kWh"),
            Column::number("elec-\ntricity", "kWh"),
            Column::number("given to\nhot water", "kWh"),
            Column::number("booster\nbuys", "kWh"),
        ];
        if element {
            columns.push(Column::number("element", "kWh"));
        }
        columns.push(Column::number("missing\nat taps", "kWh"));
        if heated {
            columns.push(Column::number("from heated\nrooms", "kWh"));
        }
        columns.push(Column::number("dumped", Measure::VolumePerDay.unit(units)));
        columns.push(Column::number("condensate", Measure::VolumePerDay.unit(units)));
        let mut table = self.table("Energy and water of the year", columns, |one| {
            let total = &one.year.total;
            let mut row = vec![
                kwh(total.gain_total_j() - total.gain_j[Cause::HotWater as usize]),
                kwh(total.electricity_total_j()),
                kwh(total.heat_to_water_j),
                kwh(total.booster_bought_j),
            ];
            if element {
                row.push(kwh(total.element_j));
            }
            row.push(kwh(total.shortfall_j));
            if heated {
                row.push(kwh(one.house_heat_j));
            }
            row.push(per_day(1000.0 * total.dump_m3));
            row.push(per_day(total.condensate_kg * CONDENSATE_L_PER_KG));
            row
        });
        table.notes = vec![
            "Electricity: machine, circulator, standby and fans. Heat into the room: from outside, produce, people and lights; a warmer room takes \
             in less."
                .to_owned(),
        ];
        table
    }

    fn money(&self) -> Option<Table> {
        let prices = self.household.prices.as_ref()?;
        let decimals = costs::decimals(self.year_total());
        let money = |amount: f64| Rounded::new(amount, decimals).to_string();
        let built = self.ways.years.iter().any(|one| one.way != Way::Nothing && one.investment.is_some());
        let mut columns = vec![
            Column::number("machine\nand fans", ""),
            Column::number("hot\nwater", ""),
            Column::number("dumped\nwater", ""),
            Column::number("house's\nheat", ""),
            Column::number("year", ""),
        ];
        if built {
            columns.extend([
                Column::number("to build", ""),
                Column::number(&format!("{} years", crate::wording::decimals(self.ways.over_years, 0)), ""),
                Column::number("pump pays\nback in", "years"),
            ]);
        }
        let pump = self.ways.of(Way::HeatPump);
        let mut table = self.table(&format!("Money, {}", prices.currency), columns, |one| {
            let bill = one.bill.unwrap_or_default();
            let mut row = vec![
                money(bill.cooler),
                money(bill.element + bill.booster),
                money(bill.dump_water + bill.sewer),
                money(bill.house_heat),
                money(bill.total()),
            ];
            if built {
                let or_dash = |amount: Option<f64>| amount.map_or_else(|| "-".to_owned(), money);
                row.push(or_dash(one.investment));
                row.push(or_dash(one.cost_over(self.ways.over_years)));
                row.push(match pump.filter(|_| !one.way.heat_pump()).and_then(|pump| payback(pump, one)) {
                    Some(Payback::AtOnce) => "at once".to_owned(),
                    Some(Payback::Never | Payback::UsedUp(_)) => "never".to_owned(),
                    Some(Payback::Years(years)) => crate::wording::decimals(years, 1),
                    None => "-".to_owned(),
                });
            }
            row
        });
        table.notes = vec![
            "At the scenario's prices, without standing charges, interest, repairs, spoiled food, or hot water that is missing at the taps. Ways \
             that do not keep the food are no bargain."
                .to_owned(),
        ];
        Some(table)
    }

    fn air_flow(&self, m3_s: f64) -> String {
        match self.units {
            UnitSystem::Metric => format!("{} m3/h", Rounded::new(m3_s * HOUR_S, 0)),
            UnitSystem::Us => format!("{} cfm", Rounded::new(m3_s * CFM_PER_M3_S, 0)),
        }
    }

    fn length(&self, m: f64) -> String {
        match self.units {
            UnitSystem::Metric => format!("{} cm", Rounded::new(100.0 * m, 0)),
            UnitSystem::Us => format!("{} in", Rounded::new(m / 0.0254, 0)),
        }
    }

    fn speed(&self, m_s: f64) -> String {
        match self.units {
            UnitSystem::Metric => format!("{m_s} m/s"),
            UnitSystem::Us => format!("{} ft/min", Rounded::new(60.0 * m_s / 0.3048, 0)),
        }
    }

    fn sized(&self, by: SizedBy, what: &str) -> String {
        match by {
            SizedBy::Scenario => "as the scenario says".to_owned(),
            SizedBy::Year => what.to_owned(),
            SizedBy::LargestCommon => {
                "the largest common size, and less than one and a quarter of the heaviest day's load"
                    .to_owned()
            }
        }
    }

    fn fans(&self) -> Entry {
        let SizedFans { fans, flow_from } = &self.ways.fans;
        let diameter_m = (fans.flow_m3_s / HOLE_M_S * 4.0 / std::f64::consts::PI).sqrt();
        let flow_from = self.sized(
            *flow_from,
            &format!(
                "sized by the heaviest day of the year, {} on average, with outdoor air {} colder",
                self.say.heat_rate(self.ways.heaviest_day_w),
                self.say.difference(4.0)
            ),
        );
        let colder = if fans.mixes {
            format!(
                "a mixing damper keeps what is blown in at {} or above",
                self.say.temperature(fans.coldest_k)
            )
        } else {
            format!("in outdoor air below {} they rest", self.say.temperature(fans.coldest_k))
        };
        let text = format!(
            "{} with {} ({flow_from}), in outdoor air at least {} colder than the room; {colder}.",
            self.air_flow(fans.flow_m3_s),
            self.say.electric_power(fans.power_w),
            self.say.difference(fans.margin_dk)
        );
        let details = vec![
            format!(
                "Two insulated holes in the wall, some {} across for {}, each with a backdraft damper that shuts tight, a screen against insects and \
                 rodents, and a hood; a leaky damper is a leak all year.",
                self.length(diameter_m),
                self.speed(HOLE_M_S)
            ),
            "To clean: screens and filter every month, dampers every year: one that sticks open freezes the food in the first cold night, so give the \
             room a low alarm of its own."
                .to_owned(),
            "Cold outdoor air holds little water: it dries leafy and root crops. In fog, smoke or while somebody sprays it brings that in. Take it in \
             far from flues, exhausts and compost."
                .to_owned(),
            "They carry the heat away that the tank would have got: in the months in which they blow, the booster heats more.".to_owned(),
        ];
        Entry { mark: "outdoor-air fans".to_owned(), text, details, ..Entry::default() }
    }

    fn conditioner(&self) -> Entry {
        let mark = "air conditioner".to_owned();
        let unit = match &self.ways.conditioner {
            Ok(unit) => unit,
            Err(NotBuilt(why)) => return Entry { mark, text: why.clone(), ..Entry::default() },
        };
        let thaws = self.ways.of(Way::AirConditioner).map_or(0.0, |one| one.year.total.defrosts);
        let condensate_l = self
            .ways
            .of(Way::AirConditioner)
            .map_or(0.0, |one| one.year.total.condensate_kg * CONDENSATE_L_PER_KG);
        let text = format!(
            "nameplate {} cooling with {} ({}). At the room's set point and the year's hottest outdoor air it cools with {}, its coil at {}.",
            self.say.heat_rate(unit.rating.cooling_w),
            self.say.electric_power(unit.rating.power_w),
            self.sized(
                unit.cooling_from,
                "the smallest common size that carries one and a quarter of the heaviest day's load away"
            ),
            self.say.heat_rate(unit.hottest_w),
            self.say.temperature(unit.hottest_coil_k)
        );
        let details = vec![
            format!(
                "Its own thermostat stops at {} to {} (Common practice, no source), so a controller has to override it, with a probe on the coil that stops the \
                 compressor when frost closes the fins and lets the fan thaw it: reckoned with {} of frost and {} of thawing, {}.",
                self.say.temperature(ZERO_CELSIUS_K + 16.0),
                self.say.temperature(ZERO_CELSIUS_K + 18.0),
                self.say.mass(unit.frost_kg),
                self.say.duration(unit.thaw_s),
                if thaws > 0.0 {
                    format!("{} in the year", count(thaws, "time"))
                } else {
                    "which does not come about here: frost thaws in its rests".to_owned()
                }
            ),
            "A unit with a deceived or bridged sensor runs outside what it was tested and listed for: a question of fire, warranty and insurance. Ask \
             the maker in writing, let an electrician wire it through an interposing relay on a circuit of its own, and never leave a heater at \
             its sensor unwatched."
                .to_owned(),
            format!(
                "One hole in the wall or window, insulated and tight around the unit, with its back in free outdoor air. Its condensate, {} on average, goes to a \
                 drain or bucket, not into the wall.",
                Measure::VolumePerDay.words(condensate_l / YEAR_DAYS, self.units)
            ),
            "To clean: filter every month, coil and drain pan every year. In winter the outdoor side stays in the cold: the unit is a leak and a \
             cold bridge unless it is covered."
                .to_owned(),
            "Its refrigerant may be flammable: its charge against the room's volume, as `larderloop explain C004` tells for the heat pump."
                .to_owned(),
        ];
        Entry { mark, text, details, ..Entry::default() }
    }

    fn pump(&self) -> Entry {
        let dumps = self.household.dump.is_some();
        Entry {
            mark: "heat pump".to_owned(),
            text: format!(
                "as the scenario says, with its tank and {}; `larderloop check` tells all about it, its cautions included.",
                if dumps { "its dump" } else { "without a dump" }
            ),
            details: vec![format!(
                "Two holes for pipes and one for condensate{}. To clean: coil, strainer and drain pan, and the yearly list of `check`.",
                if dumps { "; a place for dumped water" } else { "" }
            )],
            ..Entry::default()
        }
    }
}

/// Cubic feet a minute in a cubic metre a second. Derived here: 60/0.3048^3.
const CFM_PER_M3_S: f64 = 2118.88;

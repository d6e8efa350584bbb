//! The years of the ways side by side: food, energy and water, money.

use super::{HOUR_S, J_PER_KWH, Told, YEAR_DAYS, name};
use crate::alternatives::{Payback, Way, WayYear, payback};
use crate::constants::ZERO_CELSIUS_K;
use crate::plant::Cause;
use crate::report::block::{Column, Table};
use crate::report::costs;
use crate::report::measure::Measure;
use crate::report::quantity::CONDENSATE_L_PER_KG;
use crate::report::rounding::Rounded;

impl Told<'_> {
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

    pub(super) fn food(&self) -> Table {
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
                degc(total.food_k.max),
                hours(total.frozen_contents_s),
                degc(total.food_k.min),
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

    pub(super) fn energy(&self) -> Table {
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

    pub(super) fn money(&self) -> Option<Table> {
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
}

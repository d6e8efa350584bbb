//! What a year costs the household, by what it is paid for.

use crate::house_heat;
use crate::household::{Household, Prices, Takes};
use crate::plant::Plant;
use crate::water::density_kg_m3;
use crate::year::Year;

/// Money for a stretch of time, in the household's currency.
///
/// What would be paid in any case is left out: standing charges, and the cold water that is used at the taps, warm or not.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Bill {
    /// Electricity of the cooler.
    pub cooler: f64,
    /// Electricity of the element in the tank.
    pub element: f64,
    /// Energy of the booster.
    pub booster: f64,
    /// Cold water that was let in for what was dumped, and to temper it.
    pub dump_water: f64,
    /// Dumped water down a drain.
    pub sewer: f64,
    /// Heat that the cold room took out of heated rooms.
    pub house_heat: f64,
}

impl Bill {
    /// All of it.
    pub fn total(&self) -> f64 {
        let Self { cooler, element, booster, dump_water, sewer, house_heat } = self;
        cooler + element + booster + dump_water + sewer + house_heat
    }

    fn plus(self, other: &Self) -> Self {
        Self {
            cooler: self.cooler + other.cooler,
            element: self.element + other.element,
            booster: self.booster + other.booster,
            dump_water: self.dump_water + other.dump_water,
            sewer: self.sewer + other.sewer,
            house_heat: self.house_heat + other.house_heat,
        }
    }
}

/// The bills of twelve months.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Bills(pub [Bill; 12]);

impl Bills {
    /// The year's bills; `None` where no prices were given.
    pub fn of(household: &Household, plant: &Plant, year: &Year) -> Option<Self> {
        let prices = household.prices.as_ref()?;
        let house_heat_j = house_heat::months_j(household, plant, year).unwrap_or_default();
        Some(Self(std::array::from_fn(|month| {
            bill(household, prices, plant, year, month, house_heat_j[month])
        })))
    }

    /// The whole year.
    pub fn year(&self) -> Bill {
        self.0.iter().fold(Bill::default(), Bill::plus)
    }
}

fn bill(
    household: &Household,
    prices: &Prices,
    plant: &Plant,
    year: &Year,
    month: usize,
    house_heat_j: f64,
) -> Bill {
    let by_clock = |bought_j: &[f64; 24]| -> f64 {
        bought_j.iter().zip(&prices.electricity_per_j).map(|(joules, price)| joules * price).sum()
    };
    let interval = &year.months[month];
    let electric_booster = household.booster.as_ref().is_some_and(|booster| booster.is_electric());
    let booster = if electric_booster {
        by_clock(&year.bought.booster_j[month])
    } else {
        interval.booster_bought_j * prices.fuel_per_j.unwrap_or_default()
    };
    let days = year.calendar.month_starts_h[month] / 24..year.calendar.month_starts_h[month + 1] / 24;
    let mains_k = plant.mains_k[days.clone()].iter().sum::<f64>() / days.len() as f64;
    let m3 = |kg: f64| kg / density_kg_m3(mains_k);
    let places = household.dump.as_ref().map_or(&[][..], |line| &line.destinations);
    let drained_kg: f64 = places
        .iter()
        .zip(interval.dump_placed_kg)
        .filter(|(place, _)| matches!(place.takes, Takes::All))
        .map(|(_, kg)| kg)
        .sum();
    Bill {
        cooler: by_clock(&year.bought.cooler_j[month]),
        element: by_clock(&year.bought.element_j[month]),
        booster,
        dump_water: m3(interval.dump_kg + interval.dump_tempering_kg) * prices.water_per_m3,
        sewer: m3(drained_kg) * prices.sewer_per_m3,
        house_heat: house_heat_j * prices.house_heat_per_j.unwrap_or_default(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::resolution::Resolution;
    use crate::simulate::simulate;
    use approx::assert_relative_eq;

    fn prices(electricity_per_j: [f64; 24]) -> Prices {
        Prices {
            currency: "coins".to_owned(),
            electricity_per_j,
            fuel_per_j: Some(0.1 / 3.6e6),
            house_heat_per_j: None,
            water_per_m3: 2.0,
            sewer_per_m3: 3.0,
        }
    }

    #[test]
    fn flat_prices_cost_what_the_year_s_sums_say() {
        let mut household = shed();
        household.prices = None;
        assert_eq!(Bills::of(&household, &Plant::new(&household), &example_year(&household)), None);
        household.prices = Some(prices([0.3 / 3.6e6; 24]));
        let (plant, year) = (Plant::new(&household), example_year(&household));
        let bill = Bills::of(&household, &plant, &year).expect("there are prices").year();
        let total = &year.total;
        assert_relative_eq!(bill.cooler, 0.3 * total.electricity_total_j() / 3.6e6, max_relative = 1e-9);
        let electric = household.booster.as_ref().is_some_and(|booster| booster.is_electric());
        let price = if electric { 0.3 } else { 0.1 };
        assert_relative_eq!(bill.booster, price * total.booster_bought_j / 3.6e6, max_relative = 1e-9);
        // Cold water weighs 0.999 to 1 kg a litre.
        assert_relative_eq!(bill.dump_water, 2.0 * total.dump_kg / 999.5, max_relative = 1e-3);
        assert!(bill.dump_water > 0.0 && bill.booster > 0.0);
        let parts =
            bill.cooler + bill.element + bill.booster + bill.dump_water + bill.sewer + bill.house_heat;
        assert_relative_eq!(bill.total(), parts);
    }

    /// Electricity that costs something from 0:00 to 1:00 alone costs what was bought then.
    #[test]
    fn each_hour_has_its_own_price() {
        let mut household = shed();
        let mut by_hour = [0.0; 24];
        by_hour[0] = 1.0 / 3.6e6;
        household.prices = Some(prices(by_hour));
        let (plant, year) = (Plant::new(&household), example_year(&household));
        let bill = Bills::of(&household, &plant, &year).expect("there are prices").year();
        let mut first_hours_j = 0.0;
        for month in &year.bought.cooler_j {
            first_hours_j += month[0];
        }
        assert_relative_eq!(bill.cooler, first_hours_j / 3.6e6, max_relative = 1e-12);
        let all_j: f64 = year.bought.cooler_j.iter().flatten().sum();
        assert_relative_eq!(all_j, year.total.electricity_total_j(), max_relative = 1e-9);
        assert!(first_hours_j > 0.0 && first_hours_j < 0.1 * all_j);
    }

    /// The cider shed: an electric booster, a barrel and a drain.
    fn shed() -> Household {
        crate::scenario::read(std::path::Path::new("scenarios/cider-shed.yaml"))
            .expect("it is checked elsewhere")
    }

    fn example_year(household: &Household) -> Year {
        simulate(&Plant::new(household), &Resolution::default(), &mut ()).expect("it can be run")
    }
}

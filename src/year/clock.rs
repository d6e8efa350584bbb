//! What was bought by the hour of the clock, for prices that change through the day.

use super::Interval;

/// Hours of a day.
pub const DAY_H: usize = 24;

/// Energy bought in each month and each hour of the clock, J; the clock is that of the weather file, without summer time.
#[derive(Debug, Clone, PartialEq)]
pub struct BoughtByClock {
    /// Electricity of the cooler: compressor, fans, circulator, standby, defrosting.
    pub cooler_j: [[f64; DAY_H]; 12],
    /// Electricity of the element in the tank.
    pub element_j: [[f64; DAY_H]; 12],
    /// Energy that the booster bought.
    pub booster_j: [[f64; DAY_H]; 12],
}

impl Default for BoughtByClock {
    fn default() -> Self {
        let none = [[0.0; DAY_H]; 12];
        Self { cooler_j: none, element_j: none, booster_j: none }
    }
}

impl BoughtByClock {
    /// Takes the next hour.
    pub fn take(&mut self, hour: &Interval) {
        let (month, clock) = (hour.month, hour.first_hour % DAY_H);
        self.cooler_j[month][clock] += hour.electricity_total_j();
        self.element_j[month][clock] += hour.element_j;
        self.booster_j[month][clock] += hour.booster_bought_j;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plant::Load;

    #[test]
    fn each_hour_goes_to_its_month_and_its_place_on_the_clock() {
        let mut bought = BoughtByClock::default();
        for first_hour in [5, 29, 30] {
            let mut hour = Interval { first_hour, month: 0, element_j: 2.0, ..Interval::default() };
            hour.electricity_j[Load::Standby as usize] = 1.0;
            hour.electricity_j[Load::Running as usize] = 3.0;
            hour.booster_bought_j = 5.0;
            bought.take(&hour);
        }
        assert_eq!((bought.cooler_j[0][5], bought.element_j[0][5], bought.booster_j[0][5]), (8.0, 4.0, 10.0));
        assert_eq!((bought.cooler_j[0][6], bought.cooler_j[1][5]), (4.0, 0.0));
    }
}

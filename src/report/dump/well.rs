//! What a dump asks of the household's own well.

use serde::Serialize;

use super::{DAY_S, L_PER_M3};
use crate::household::{DumpLine, Well};
use crate::report::measure::Measure;
use crate::wording::{Wording, count, percent};
use crate::year::Year;

/// How often in a day a submersible pump's motor of up to so many watts may start: a single-phase one, the last whatever its power.
/// Source: a motor maker's table for submersible pumps. Second hand.
const STARTS_A_DAY: [(f64, f64); 3] = [(550.0, 300.0), (4000.0, 100.0), (f64::INFINITY, 50.0)];
/// Shortest run of such a pump, s. Source: as [`STARTS_A_DAY`].
const LEAST_RUN_S: f64 = 60.0;
/// Share of a well's yield that a dump may well take on its worst day. Common practice, no source: a well's record is of its best year.
const MUCH_OF_YIELD_FRAC: f64 = 0.5;

/// What the dump asks of a well on the day that dumps most.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WellShare {
    /// Cold water for the dump and for tempering over what the well gives in a day.
    pub share_of_yield_frac: f64,
    /// Starts of the well's pump for it on that day, beside those for the taps.
    pub starts: f64,
    /// Starts that its motor bears in a day; `None` where its power was not told.
    pub starts_allowed: Option<f64>,
    /// Drawdown of the pressure tank, L.
    pub drawdown_l: f64,
    /// Drawdown with which the pump runs for a minute at each start, L.
    pub drawdown_wanted_l: f64,
    /// Flow of the open dump over the pump's.
    pub share_of_pump_frac: f64,
}

impl WellShare {
    /// Of a year's worst day; `None` where nothing was dumped.
    pub(super) fn of(well: &Well, line: &DumpLine, year: &Year) -> Option<Self> {
        let worst = year.dumped.worst(None)?;
        let total = &year.total;
        // With the cold water that tempers it, as much as in the year.
        let tempered = 1.0 + total.dump_tempering_kg / total.dump_kg;
        let day_m3 = worst.m3 * tempered;
        let share_of_pump_frac = line.flow.value * tempered / well.pump_flow.value;
        // The pump fills the tank with what the dump leaves of its flow: one start gives drawdown/(1 - share).
        let starts = day_m3 / well.drawdown.value * (1.0 - share_of_pump_frac).max(0.0);
        let allowed =
            |power_w: f64| STARTS_A_DAY.iter().find(|(to_w, _)| power_w <= *to_w).map(|(_, starts)| *starts);
        Some(Self {
            share_of_yield_frac: day_m3 / (well.yields.value * DAY_S),
            starts: starts.max(1.0),
            starts_allowed: well.pump_power.and_then(|power| allowed(power.value)),
            drawdown_l: well.drawdown.value * L_PER_M3,
            drawdown_wanted_l: well.pump_flow.value * LEAST_RUN_S * L_PER_M3,
            share_of_pump_frac,
        })
    }

    /// As a paragraph of the report.
    pub(super) fn words(&self, say: Wording) -> String {
        let mut words = format!(
            "Your well: on the worst day the dump takes {} of what it yields{}, and starts its pump {} more.",
            percent(self.share_of_yield_frac),
            if self.share_of_yield_frac > MUCH_OF_YIELD_FRAC {
                ", too much to rely on in a dry summer: lead the water back to a use, or dump less"
            } else {
                ""
            },
            count(self.starts.round(), "time")
        );
        if let Some(allowed) = self.starts_allowed {
            let verdict = if self.starts > allowed { "more than" } else { "within" };
            words.push_str(&format!(
                " That is {verdict} the {allowed} a day that such a motor bears in all (a maker's table, Second hand)."
            ));
        }
        if self.share_of_pump_frac >= 1.0 {
            words.push_str(
                " The open dump takes as much as the pump gives, or more: the house's pressure falls while it is open. Throttle it.",
            );
        } else if self.drawdown_l < self.drawdown_wanted_l {
            words.push_str(&format!(
                " The pressure tank is small: with a drawdown of {} the pump would run for a minute at each start.",
                Measure::Volume.words(self.drawdown_wanted_l, say.0)
            ));
        }
        words
    }
}

#[cfg(test)]
mod tests {
    use super::super::MINUTE_S;
    use super::*;
    use crate::caution::example;
    use crate::constants::WATER_DENSITY_KG_M3;
    use crate::units::{cubic_metres, flow, watts};
    use crate::year::{DumpedDay, DumpedDays};
    use approx::assert_relative_eq;

    fn share(l_min: f64, pump_l_min: f64, drawdown_l: f64) -> WellShare {
        let (household, mut year) = (example::household(), example::year());
        let mut line = household.dump.expect("the example has a dump");
        line.flow = flow(l_min * 1e-3 / MINUTE_S);
        year.dumped = DumpedDays(vec![DumpedDay { month: 6, day: 190, m3: 0.4, most_in_hour_m3: 0.1 }]);
        (year.total.dump_kg, year.total.dump_tempering_kg) = (0.4 * WATER_DENSITY_KG_M3, 0.0);
        let well = Well {
            yields: flow(4.0e-3 / MINUTE_S),
            pump_flow: flow(pump_l_min * 1e-3 / MINUTE_S),
            drawdown: cubic_metres(drawdown_l * 1e-3),
            pump_power: Some(watts(750.0)),
        };
        WellShare::of(&well, &line, &year).expect("something was dumped")
    }

    /// Hand calculation: 400 L of 4 L/min x 1440 min are 6.9 %. Of a pump's 40 L/min the dump's 10 leave 30 for the tank, so that a start
    /// gives 40 x 40/30 = 53.3 L: 7.5 starts; the simpler 400/40 would be 10.
    #[test]
    fn starts_and_share_by_hand() {
        let share = share(10.0, 40.0, 40.0);
        assert_relative_eq!(share.share_of_yield_frac, 400.0 / 5760.0, max_relative = 1e-12);
        assert_relative_eq!(share.starts, 7.5, max_relative = 1e-12);
        assert_eq!((share.starts_allowed, share.drawdown_wanted_l.round()), (Some(100.0), 40.0));
    }

    #[test]
    fn a_dump_as_large_as_the_pump_and_a_small_tank_are_told() {
        let say = Wording(crate::household::UnitSystem::Metric);
        let told = |share: WellShare| share.words(say);
        assert!(told(share(40.0, 40.0, 40.0)).contains("Throttle"));
        assert!(told(share(10.0, 40.0, 10.0)).contains("drawdown of 40 L"));
        let fine = told(share(10.0, 40.0, 40.0));
        assert!(
            !fine.contains("Throttle") && !fine.contains("small") && fine.contains("within the 100"),
            "{fine}"
        );
    }
}

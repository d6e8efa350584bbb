//! What each way takes: size, holes, cleaning, and what can hurt.

use super::{HOLE_M_S, HOUR_S, Told, YEAR_DAYS};
use crate::alternatives::{NotBuilt, SizedBy, SizedFans, Way};
use crate::constants::ZERO_CELSIUS_K;
use crate::household::UnitSystem;
use crate::report::block::Entry;
use crate::report::measure::Measure;
use crate::report::quantity::CONDENSATE_L_PER_KG;
use crate::report::rounding::Rounded;
use crate::wording::count;

/// Cubic feet a minute in a cubic metre a second. Derived here: 60/0.3048^3.
const CFM_PER_M3_S: f64 = 2118.88;

impl Told<'_> {
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

    pub(super) fn fans(&self) -> Entry {
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

    pub(super) fn conditioner(&self) -> Entry {
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

    pub(super) fn pump(&self) -> Entry {
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

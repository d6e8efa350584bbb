//! Remedies: changes that are tried through the whole year, and what they came to.

use uom::si::f64::{Ratio, TemperatureInterval, ThermodynamicTemperature, Time};
use uom::si::ratio::ratio;
use uom::si::temperature_interval::kelvin as kelvins;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::time::second;

use super::{Answer, Case, ONE_EVENT_S, Remedy, stays_cold};
use crate::change::Change;
use crate::constants::ZERO_CELSIUS_K;
use crate::household::{CoolerUnit, Destination, DumpLine, SlowRunning};
use crate::overflow::line_with_reserve;
use crate::plant::Cooler;
use crate::wording::{Wording, number};
use crate::year::{Interval, Year};

/// Most remedies that a finding lists.
const MOST: usize = 3;
/// Least improvement of the deciding number that makes a change a remedy, share of it before.
const LEAST_GAIN_FRAC: f64 = 0.1;
/// Two remedies whose effects differ by less than this, share of the number before, help alike.
const EQUAL_FRAC: f64 = 0.05;
/// How much longer the food may be too warm, or frozen, with a remedy for something else, share of the time before; one
/// event ([`ONE_EVENT_S`]) more is allowed in any case.
const WORSE_FRAC: f64 = 0.05;
/// Change of the starts from which it is told, share.
const MANY_STARTS_FRAC: f64 = 0.2;
/// Opening of a lowered aquastat below the water that stops the pump, K. Common practice, no source.
pub(super) const LOWERED_BY_DK: f64 = 5.0;
/// Change of a yearly sum from which it is told, share.
const TOLD_FROM_FRAC: f64 = 0.005;
/// Share of the air exchange that a strip curtain still stops when worn. From memory, to be verified: 0.85-0.90 worn; new
/// 0.93 (Pham and Oliver, 16th International Congress of Refrigeration, 1983. Checked: abstract read).
const WORN_CURTAIN_FRAC: f64 = 0.85;
/// Air changes an hour of a room that was sealed. Common practice, no source: 0.05 in a sealed room, 1 with a loose door.
const SEALED_PER_H: f64 = 0.1;
/// Time constant of a bare probe, s, as for the key `thermostat.probe`.
const BARE_LAG_S: f64 = 90.0;
/// Time constant of a probe in a bottle of water, s. Common practice, no source: 20 to 40 minutes.
const BOTTLE_LAG_S: f64 = 1800.0;
/// How far a unit of variable speed can be expected to turn down. Common practice, no source: 25 to 40 %.
const SLOWEST_FRAC: f64 = 0.3;
/// Largest factor on the use of hot water that is tried: beyond it nobody changes.
const MOST_USE_FACTOR: f64 = 2.0;
/// The factor is tried in twentieths.
const USE_STEPS: f64 = 20.0;
/// Distance of the aquastat's opening below the water that stops the pump, K. Common practice, no source: lag and error
/// of two probes.
pub(super) const AQUASTAT_MARGIN_DK: f64 = 2.0;

/// Tries changes in the order given and keeps the first few that lower the deciding number, the one that lowers it most first; of those that are within a
/// twentieth of what it was, the one that takes least.
pub(super) fn remedies(
    case: &Case<'_>,
    changes: impl IntoIterator<Item = Change>,
    measure: impl Fn(&Year) -> f64,
) -> Vec<Remedy> {
    let before = measure(case.year);
    let mut helping: Vec<Remedy> = changes
        .into_iter()
        .filter_map(|change| {
            let changed = (case.trial)(&change)?;
            let after = measure(&changed);
            let helps = after < before - LEAST_GAIN_FRAC * before.abs();
            (helps && spares_the_food(case.year, &changed) && worth_using(&change, case.year, &changed)).then(
                || Remedy {
                    change: change.words_in(case.household.units),
                    before,
                    after,
                    text: effects(case.year, &changed, case.say),
                    effort: change.effort(),
                },
            )
        })
        .take(MOST)
        .collect();
    // What helps nearly as much is the better remedy where it takes less.
    let step = |remedy: &Remedy| (remedy.after / (EQUAL_FRAC * before.abs())).round();
    helping.sort_by(|one, other| {
        let by_effect = step(one).total_cmp(&step(other));
        by_effect.then(one.effort.cmp(&other.effort)).then(one.after.total_cmp(&other.after))
    });
    helping
}

/// A dial or valve put right: the deciding number is its own setting, `before` and `after`; the year tells the rest.
pub(super) fn setting(case: &Case<'_>, change: &Change, before: f64, after: f64) -> Option<Remedy> {
    let changed = (case.trial)(change)?;
    spares_the_food(case.year, &changed).then(|| Remedy {
        change: change.words_in(case.household.units),
        before,
        after,
        text: effects(case.year, &changed, case.say),
        effort: change.effort(),
    })
}

/// Whether a change leaves the food as cold, and as little frozen, as it was: hardly longer too warm or frozen, and never so that food that stayed cold
/// no longer does.
pub(super) fn spares_the_food(before: &Year, after: &Year) -> bool {
    let (was, is) = (&before.total, &after.total);
    if stays_cold(was) == Answer::Yes && stays_cold(is) != Answer::Yes {
        return false;
    }
    [(was.over_band_s, is.over_band_s), (was.frozen_contents_s, is.frozen_contents_s)]
        .into_iter()
        .all(|(was_s, is_s)| is_s <= was_s * (1.0 + WORSE_FRAC) + ONE_EVENT_S)
}

/// Whether more hot water used is taken from what was dumped: a use that buys, or misses, more heat than it saves from
/// the dump is waste of another kind. Other changes pass.
fn worth_using(change: &Change, before: &Year, after: &Year) -> bool {
    let (was, is) = (&before.total, &after.total);
    let bought_j = |total: &Interval| total.booster_bought_j + total.shortfall_j;
    !matches!(change, Change::HotWaterTimes(factor) if *factor > 1.0)
        || bought_j(is) - bought_j(was) <= was.dump_j - is.dump_j
}

/// Starts, where there are many more or fewer.
fn starts_told(was: f64, is: f64) -> Option<String> {
    ((is - was).abs() > MANY_STARTS_FRAC * was.max(1.0))
        .then(|| format!("starts {} instead of {}", number(is), number(was)))
}

/// What else a change does to the year, as a sentence.
pub(super) fn effects(before: &Year, after: &Year, say: Wording) -> String {
    let (was, is) = (&before.total, &after.total);
    let energy = |j: f64| say.energy(j);
    let water = |m3: f64| say.volume(m3);
    let hours = |s: f64| say.hours(s);
    let told = [
        told("electricity", was.electricity_total_j(), is.electricity_total_j(), energy),
        told("the element's electricity", was.element_j, is.element_j, energy),
        starts_told(was.starts, is.starts),
        told("dumped water", was.dump_m3, is.dump_m3, water),
        told("booster energy bought", was.booster_bought_j, is.booster_bought_j, energy),
        told("food too warm", was.over_band_s, is.over_band_s, hours),
        told("food frozen", was.frozen_contents_s, is.frozen_contents_s, hours),
        told("cooling refused", was.missed_s, is.missed_s, hours),
    ];
    let told: Vec<String> = told.into_iter().flatten().collect();
    if told.is_empty() {
        "Nothing else changes.".to_owned()
    } else {
        format!("In the year: {}.", told.join("; "))
    }
}

fn told(what: &str, before: f64, after: f64, say: impl Fn(f64) -> String) -> Option<String> {
    let changed = (after - before).abs() > TOLD_FROM_FRAC * before.abs().max(after.abs());
    let (now, then) = (say(after), say(before));
    (changed && now != then).then(|| format!("{what} {now} instead of {then}"))
}

/// What keeps the tank able to take heat: a dump, a dump that may open when it is needed, a better dump, more use.
pub(super) fn keep_the_tank_open(case: &Case<'_>) -> Vec<Change> {
    let mut changes: Vec<Change> = Vec::new();
    match &case.household.dump {
        None => changes.extend(line_with_reserve(case.plant, case.year).map(Change::AddDump)),
        Some(line) => {
            changes.extend(below_the_lock_out(case, line));
            changes.extend(let_out_when_refused(case, line));
            changes.extend([turn_aquastat(line, -5.0), Change::DumpFlow(2.0 * line.flow)]);
        }
    }
    changes.push(Change::HotWaterTimes(1.5));
    changes
}

/// The aquastat below the water that stops the pump, where it opens too near or above.
fn below_the_lock_out(case: &Case<'_>, line: &DumpLine) -> Option<Change> {
    let Cooler::HeatPump(pump) = &case.plant.cooler;
    let down_dk = line.opens_at.value - (pump.tank_stop_k() - LOWERED_BY_DK);
    (line.opens_at.value > pump.tank_stop_k() - AQUASTAT_MARGIN_DK).then(|| turn_aquastat(line, -down_dk))
}

/// The dump allowed to open in the months in which cooling was refused, where it was not; a drain for what no place takes; and both, with every such
/// month open and no water led outdoors in frost. Months that are given to a place are its owner's word; where
/// one outdoors is said to take water all year, nothing is led outdoors in months with frost.
fn let_out_when_refused(case: &Case<'_>, line: &DumpLine) -> Vec<Change> {
    let opened = |may: [bool; 12]| {
        let refused = |month: usize| case.year.months[month].missed_s > 0.0 && may[month];
        let months: [bool; 12] = std::array::from_fn(|month| line.months[month] || refused(month));
        (months != line.months).then_some(Change::DumpMonths(months))
    };
    let all_year_outdoors =
        line.destinations.iter().any(|taker| taker.kind != Destination::Drain && taker.months == [true; 12]);
    let free_of_frost: [bool; 12] = std::array::from_fn(|month| {
        !all_year_outdoors || case.plant.coldest_outdoors_k(month) >= ZERO_CELSIUS_K
    });
    let mut changes: Vec<Change> = opened(free_of_frost).into_iter().collect();
    let drain = (!line.leads_to(Destination::Drain)).then_some(Change::DumpToDrain);
    changes.extend(drain.clone());
    if let Some(open) = opened([true; 12]) {
        let kept_in = free_of_frost.contains(&false).then_some(Change::OutdoorsIn(free_of_frost));
        let all: Vec<Change> = [Some(open), kept_in, drain].into_iter().flatten().collect();
        changes.extend((all.len() > 1).then_some(Change::Together(all)));
    }
    changes
}

/// More use of hot water, up to twice today's, where that brings made and used nearer to each other.
pub(super) fn use_to_balance(case: &Case<'_>) -> Option<Change> {
    let factor = balance_factor(&case.year.total)?;
    let rounded = libm::ceil(factor * USE_STEPS) / USE_STEPS;
    (rounded > 1.0).then(|| Change::HotWaterTimes(rounded.min(MOST_USE_FACTOR)))
}

/// How many times today's use would take all heat made and not lost, if making and losing stayed as they are.
pub(crate) fn balance_factor(total: &Interval) -> Option<f64> {
    let drawn_for_j = total.demand_j + total.unused_j;
    let factor = (total.heat_to_water_j - total.tank_loss_j - total.pipe_loss_j) / drawn_for_j;
    (drawn_for_j > 0.0 && factor > 0.0).then_some(factor)
}

/// Less air from outside: gaps sealed, then strip curtains.
pub(super) fn less_air(case: &Case<'_>) -> Vec<Change> {
    seal(case).into_iter().chain(curtain(case)).collect()
}

/// The door and the gaps sealed, where the room is not tight already.
pub(super) fn seal(case: &Case<'_>) -> Option<Change> {
    (case.household.room.leakage_changes_per_hour > SEALED_PER_H).then_some(Change::Leakage(SEALED_PER_H))
}

/// Strip curtains, where there are doors without good ones.
pub(super) fn curtain(case: &Case<'_>) -> Option<Change> {
    let open = case.household.room.doors.iter().any(|door| door.curtain.get::<ratio>() < WORN_CURTAIN_FRAC);
    open.then(|| Change::StripCurtain(Ratio::new::<ratio>(WORN_CURTAIN_FRAC)))
}

/// The thermostat's probe in a bottle of water, where it is not in one already.
pub(super) fn bottle(case: &Case<'_>) -> Option<Change> {
    (case.household.thermostat.probe_lag.get::<second>() < BOTTLE_LAG_S)
        .then(|| Change::ProbeLag(Time::new::<second>(BOTTLE_LAG_S)))
}

/// The thermostat's probe bare in the air, where it is slower than that.
pub(super) fn bare_probe(case: &Case<'_>) -> Option<Change> {
    (case.household.thermostat.probe_lag.get::<second>() > BARE_LAG_S)
        .then(|| Change::ProbeLag(Time::new::<second>(BARE_LAG_S)))
}

/// A unit that can run slowly, with a COP no better for it, where this one cannot.
pub(super) fn slower(case: &Case<'_>) -> Option<Change> {
    let CoolerUnit::HeatPump(unit) = &case.household.cooler;
    unit.slow_running.is_none().then(|| {
        let (least, gain_at_half) = (Ratio::new::<ratio>(SLOWEST_FRAC), Ratio::new::<ratio>(0.0));
        Change::SlowRunning(SlowRunning { least, gain_at_half })
    })
}

/// The set point moved by `dk`.
pub(super) fn turn_thermostat(case: &Case<'_>, dk: f64) -> Change {
    let set_k = case.household.thermostat.set.get::<kelvin>() + dk;
    Change::ThermostatSet(ThermodynamicTemperature::new::<kelvin>(set_k))
}

/// Twice the thermostat's band.
pub(super) fn wider_band(case: &Case<'_>) -> Change {
    let band_dk = case.household.thermostat.band.get::<kelvins>();
    Change::ThermostatBand(TemperatureInterval::new::<kelvins>(2.0 * band_dk))
}

/// The aquastat's opening and closing moved by `dk`.
pub(super) fn turn_aquastat(line: &DumpLine, dk: f64) -> Change {
    let moved = |temperature: ThermodynamicTemperature| {
        ThermodynamicTemperature::new::<kelvin>(temperature.get::<kelvin>() + dk)
    };
    Change::Aquastat { opens_at: moved(line.opens_at), closes_at: moved(line.closes_at) }
}

/// The aquastat turned up by `dk`, where it then still opens by [`AQUASTAT_MARGIN_DK`] below the water that stops the pump.
pub(super) fn raise_aquastat(case: &Case<'_>, dk: f64) -> Option<Change> {
    let Cooler::HeatPump(pump) = &case.plant.cooler;
    let line = case.household.dump.as_ref()?;
    let opens_k = line.opens_at.get::<kelvin>() + dk;
    (opens_k <= pump.tank_stop_k() - AQUASTAT_MARGIN_DK).then(|| turn_aquastat(line, dk))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;

    fn with_case<T>(trial: &dyn Fn(&Change) -> Option<Year>, look: impl FnOnce(&Case<'_>) -> T) -> T {
        let (household, plant, year) = (example::household(), example::plant(), example::year());
        let say = Wording(household.units);
        look(&Case { household: &household, plant: &plant, year: &year, trial, say })
    }

    /// The example year with so many starts.
    fn starts(starts: f64) -> Year {
        let mut year = example::year();
        year.total.starts = starts;
        year
    }

    #[test]
    fn only_changes_that_help_become_remedies_and_no_more_than_three() {
        let changes = || [0.89, 0.91, 2.0, 0.5, 0.25, 0.1].map(Change::HotWaterTimes);
        let trial = |change: &Change| match change {
            Change::HotWaterTimes(factor) => Some(starts(2190.0 * factor)),
            _ => None,
        };
        let tried = with_case(&trial, |case| remedies(case, changes(), |year| year.total.starts));
        let after: Vec<f64> = tried.iter().map(|remedy| remedy.after).collect();
        // The most effective first.
        assert_eq!(after, [547.5, 1095.0, 2190.0 * 0.89]);
    }

    /// Food that stayed cold has to stay so: not 2 h turned into 4.1, but 5 h into 8 where it was too warm already.
    #[test]
    fn no_remedy_makes_cold_food_warm() {
        let warm = |hours: f64| {
            let mut year = example::year();
            year.total.over_band_s = hours * 3600.0;
            year
        };
        assert!(spares_the_food(&warm(2.0), &warm(4.0)) && !spares_the_food(&warm(2.0), &warm(4.1)));
        assert!(spares_the_food(&warm(5.0), &warm(8.0)) && !spares_the_food(&warm(5.0), &warm(9.5)));
    }

    /// A dial that does nearly as much as a new machine comes before it.
    #[test]
    fn of_nearly_equal_remedies_the_cheaper_comes_first() {
        let trial = |change: &Change| match change {
            Change::RatedOutputTimes(_) => Some(starts(0.0)),
            Change::HotWaterTimes(_) => Some(starts(20.0)),
            Change::Leakage(_) => Some(starts(1000.0)),
            _ => None,
        };
        let changes = [Change::RatedOutputTimes(0.5), Change::Leakage(0.1), Change::HotWaterTimes(0.5)];
        let tried = with_case(&trial, |case| remedies(case, changes, |year| year.total.starts));
        assert_eq!(tried.iter().map(|remedy| remedy.after).collect::<Vec<_>>(), [20.0, 0.0, 1000.0]);
        assert!(
            tried.iter().all(|remedy| remedy.before == 2190.0 && remedy.text.contains("instead of 2,190"))
        );
    }

    #[test]
    fn a_change_that_spoils_the_food_is_no_remedy() {
        for (over_s, frozen_s, offered) in
            [(14_399.0, 0.0, true), (14_400.0, 0.0, true), (14_401.0, 0.0, false), (0.0, 14_401.0, false)]
        {
            let trial = |_: &Change| {
                let mut year = starts(100.0);
                (year.total.over_band_s, year.total.frozen_contents_s) = (over_s, frozen_s);
                Some(year)
            };
            let tried = with_case(&trial, |case| {
                remedies(case, [Change::HotWaterTimes(2.0)], |year| year.total.starts)
            });
            assert_eq!(tried.len(), usize::from(offered), "{over_s} {frozen_s}");
        }
    }

    #[test]
    fn a_refused_change_is_no_remedy() {
        let tried = with_case(&|_| None, |case| {
            remedies(case, [Change::HotWaterTimes(2.0)], |year| year.total.starts)
        });
        assert_eq!(tried, vec![]);
    }

    #[test]
    fn a_dump_shut_in_the_months_of_refusal_is_opened_first() {
        let (mut household, plant) = (example::household(), example::plant());
        household.dump.as_mut().unwrap().months = std::array::from_fn(|month| month < 9);
        let first = |year: &Year| {
            let say = Wording(household.units);
            let case = Case { household: &household, plant: &plant, year, trial: &|_| None, say };
            keep_the_tank_open(&case).remove(0)
        };
        let mut year = example::year();
        year.months[9].missed_s = 1.0;
        let open = std::array::from_fn(|month| month < 10);
        assert!(matches!(first(&year), Change::DumpMonths(months) if months == open));
        year.months[9].missed_s = 0.0;
        assert!(!matches!(first(&year), Change::DumpMonths(_)));
    }

    /// Refused in October (frost outdoors or not), with a garden that takes water all year or until September, or with a drain: of months, drain and
    /// both together, what is tried.
    #[test]
    fn no_water_is_led_outdoors_in_frost() {
        let told = |garden_until: Option<usize>, outdoor_degc: f64| {
            let (mut household, mut plant, mut year) =
                (example::household(), example::plant(), example::year());
            let line = household.dump.as_mut().unwrap();
            line.months = std::array::from_fn(|month| month < 9);
            if let Some(until) = garden_until {
                line.destinations[0].kind = Destination::Irrigation;
                line.destinations[0].months = std::array::from_fn(|month| month < until);
            } else {
                line.destinations[0].kind = Destination::Drain;
            }
            plant.boundaries[0].temperature_k.fill(ZERO_CELSIUS_K + outdoor_degc);
            year.months[9].missed_s = 1.0;
            let say = Wording(household.units);
            let case = Case { household: &household, plant: &plant, year: &year, trial: &|_| None, say };
            let changes = let_out_when_refused(&case, household.dump.as_ref().unwrap());
            // Where both are done in frost, what is outdoors is held shut.
            if let Some(Change::Together(all)) = changes.last() {
                let kept_in = all
                    .iter()
                    .any(|change| matches!(change, Change::OutdoorsIn(months) if *months == [false; 12]));
                assert_eq!(kept_in, garden_until == Some(12) && outdoor_degc < 0.0);
            }
            changes
                .iter()
                .map(|change| match change {
                    Change::DumpMonths(_) => 'm',
                    Change::DumpToDrain => 'd',
                    Change::Together(_) => 't',
                    _ => '?',
                })
                .collect::<String>()
        };
        assert_eq!(told(Some(12), 0.1), "mdt");
        assert_eq!(told(Some(12), -0.1), "dt");
        assert_eq!(told(Some(9), -0.1), "mdt");
        assert_eq!(told(None, -0.1), "m");
    }

    #[test]
    fn more_use_that_buys_more_than_it_saves_is_no_remedy() {
        for (bought_j, missed_j, offered) in
            [(1.0e9, 0.0, true), (1.01e9, 0.0, false), (0.5e9, 0.51e9, false)]
        {
            let (mut before, mut after) = (starts(100.0), starts(50.0));
            (before.total.dump_j, after.total.dump_j) = (3.0e9, 2.0e9);
            after.total.booster_bought_j = before.total.booster_bought_j + bought_j;
            after.total.shortfall_j = before.total.shortfall_j + missed_j;
            assert_eq!(
                worth_using(&Change::HotWaterTimes(1.5), &before, &after),
                offered,
                "{bought_j} {missed_j}"
            );
            assert!(worth_using(&Change::HotWaterTimes(0.5), &before, &after));
        }
    }

    #[test]
    fn the_aquastat_is_raised_only_to_the_margin_below_the_lock_out() {
        with_case(&|_| None, |case| {
            let Cooler::HeatPump(pump) = &case.plant.cooler;
            let opens_k = case.household.dump.as_ref().unwrap().opens_at.get::<kelvin>();
            let room_dk = pump.tank_stop_k() - AQUASTAT_MARGIN_DK - opens_k;
            assert!(raise_aquastat(case, room_dk - 0.01).is_some());
            assert!(raise_aquastat(case, room_dk + 0.01).is_none());
        });
    }

    #[test]
    fn an_effect_that_prints_the_same_is_not_told() {
        let print = |hours: f64| format!("{hours:.1} hours");
        assert_eq!(told("food too warm", 0.21, 0.24, print), None);
        assert_eq!(
            told("food too warm", 0.21, 0.26, print).unwrap(),
            "food too warm 0.3 hours instead of 0.2 hours"
        );
    }

    #[test]
    fn side_effects_are_told_in_both_directions() {
        let mut after = example::year();
        after.total.electricity_j[0] *= 1.1;
        after.total.over_band_s = 7200.0;
        let text = effects(&example::year(), &after, Wording(crate::household::UnitSystem::Metric));
        // 2.5 kWh a day: 912.5 kWh a year; a tenth more are 1004.
        assert_eq!(
            text,
            "In the year: electricity 1,000 kWh instead of 912 kWh; food too warm 2 hours instead of 0 hours."
        );
    }
}

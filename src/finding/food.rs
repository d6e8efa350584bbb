//! Will the food hold?

use super::remedy::{bare_probe, keep_the_tank_open, less_air, remedies, seal, turn_thermostat};
use super::{Answer, BARELY_FRAC, Case, Finding, HOURS_SOURCE, ONE_EVENT_S, Question, at_most, sentences};
use crate::change::Change;
use crate::household::{CalledBy, FrostHeater, StoredProduce};
use crate::overflow::line_with_reserve;
use crate::plant::{Cooler, HOUR_S};
use crate::units::{interval, kelvin, watts};
use crate::wording::{MONTHS, list, months, percent};
use crate::year::Year;
use uom::si::area::square_meter;

/// How far the probe on the coil is set from what it comes to in ordinary running, K. Common practice, no source.
const COIL_PROBE_MARGIN_DK: f64 = 2.0;
/// How far below the thermostat's switching-off point food has to be for the walls to have done it, K. Common practice, no source.
const BY_ITSELF_DK: f64 = 0.5;
/// Distance from the freezing point that one winter may take from another, K. Common practice, no source.
const LITTLE_SPARE_DK: f64 = 1.0;
/// Duty from which a pump is called fully used.
const FULLY_USED_FRAC: f64 = 0.9;
/// Distance from a crop's advised humidity that is borne, as a fraction. Common practice, no source.
const HUMIDITY_BORNE_FRAC: f64 = 0.05;
/// Water of a month that a wall holds before it runs, kg/m2: 200 g. From memory, to be verified: ISO 13788 on water within
/// building parts, for surfaces that do not soak it up.
const WALLS_HOLD_KG_M2: f64 = 0.2;
/// Water of a year on walls and produce that is not worth a word, kg. Common practice, no source.
const LITTLE_WALL_WATER_KG: f64 = 1.0;
/// Distance that is borne only just. Common practice, no source.
const HUMIDITY_BARELY_FRAC: f64 = 0.15;

pub(super) const FREEZING_SOURCE: &str = "Highest freezing point of what is stored: the crop table, from USDA Agriculture Handbook 66 and \
    extension pages (Second hand), or the household's own limit. No hour of it allowed: Common practice, no source.";
pub(super) const HUMIDITY_SOURCE: &str = "Advised humidity: the crop table, from USDA Agriculture Handbook 66 and extension pages (Second \
    hand). 5 points as borne, 15 as only just: Common practice, no source. 200 g/m2 as what walls hold: ISO 13788 (From \
    memory, to be verified).";

pub(super) fn findings(case: &Case<'_>) -> Vec<Finding> {
    vec![warm(case), frozen(case), frozen_by_itself(case), refused(case), humidity(case)]
}

/// F101: hours in which the contents are above the household's limit.
fn warm(case: &Case<'_>) -> Finding {
    let (say, total) = (case.say, &case.year.total);
    let answer = super::stays_cold(total);
    let limit = say.temperature(case.plant.room.warm_limit_k);
    let hours = say.hours(total.over_band_s);
    let warmest = case.worst_month(|month| month.food_k.max);
    let peak = format!("{} in {}", say.temperature(total.food_k.max), MONTHS[warmest]);
    let text = if total.over_band_s == 0.0 {
        format!(
            "The food stays cold. It is never above your limit of {limit}; the warmest it gets is {peak}."
        )
    } else if answer == Answer::Yes {
        sentences(&[
            format!(
                "The food stays cold. In the whole year it is above your limit of {limit} for {hours}; the warmest it gets is {peak}."
            ),
            after_a_pause(case, warmest),
        ])
    } else {
        let worst = case.worst_month(|month| month.over_band_s);
        let opening =
            if answer == Answer::Barely { "The food only just stays cold" } else { "The food gets too warm" };
        sentences(&[
            format!(
                "{opening}: it is above your limit of {limit} for {hours} of the year, {} of them in {}, and reaches {peak}.",
                crate::wording::number(case.year.months[worst].over_band_s / HOUR_S),
                MONTHS[worst]
            ),
            why_warm(case, worst),
            after_a_pause(case, warmest),
        ])
    };
    let changes = if answer == Answer::Yes { Vec::new() } else { against_warmth(case) };
    Finding {
        code: "F101",
        question: Question::Food,
        answer,
        value: total.over_band_s / HOUR_S,
        unit: "h",
        limit: Some(ONE_EVENT_S / HOUR_S),
        text,
        source: HOURS_SOURCE,
        remedies: remedies(case, changes, |year| year.total.over_band_s / HOUR_S),
    }
}

/// That the room is warm when the cooler is switched on again, where food is in it by then.
fn after_a_pause(case: &Case<'_>, warmest: usize) -> String {
    let off_in = &case.plant.thermostat.off_in;
    if off_in[warmest] || !off_in[(warmest + 11) % 12] {
        return String::new();
    }
    format!(
        "That is when the cooler is switched on again after {}: switch it on two days before anything is carried in.",
        MONTHS[(warmest + 11) % 12]
    )
}

/// What keeps a room warm.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum WarmBecause {
    /// The tank's thermostat alone calls the pump.
    TankAloneCalls,
    SwitchedOff,
    LockedOut,
    TooSmall,
    Dial,
    Unknown,
}

fn warm_because(case: &Case<'_>, month: usize) -> WarmBecause {
    let interval = &case.year.months[month];
    if case.plant.thermostat.off_in[month] {
        WarmBecause::SwitchedOff
    } else if case.tank_alone_calls() {
        WarmBecause::TankAloneCalls
    } else if interval.missed_s > ONE_EVENT_S {
        WarmBecause::LockedOut
    } else if interval.run_s > FULLY_USED_FRAC * interval.duration_s {
        WarmBecause::TooSmall
    } else if case.plant.thermostat.on_at_k >= case.plant.room.warm_limit_k {
        WarmBecause::Dial
    } else {
        WarmBecause::Unknown
    }
}

/// Whether only the water can have kept the pump from running: the room's air stayed within the unit's own limits.
fn water_stops_it(case: &Case<'_>, month: usize) -> bool {
    let Cooler::HeatPump(pump) = &case.plant.cooler;
    let air_k = &case.year.months[month].air_k;
    let coil_held_it = case.year.months[month].locked_by_coil_s > 0.0;
    !coil_held_it && air_k.min >= pump.air_stop_low_k && air_k.max <= pump.air_stop_high_k
}

fn why_warm(case: &Case<'_>, month: usize) -> String {
    let (say, interval) = (case.say, &case.year.months[month]);
    match warm_because(case, month) {
        WarmBecause::SwitchedOff => format!(
            "In {} the cooler is switched off (`thermostat.off_in`): what is stored then has to be somewhere else.",
            MONTHS[month]
        ),
        WarmBecause::LockedOut if water_stops_it(case, month) => format!(
            "The reason is the hot-water tank: in {} the pump was not allowed to run for {} in which the room wanted \
             cooling, because the water it would take was already too warm.",
            MONTHS[month],
            say.hours(interval.missed_s)
        ),
        WarmBecause::LockedOut => format!(
            "In {} the pump was not allowed to run for {} in which the room wanted cooling: the water it would take was too \
             warm, the room's air outside what it bears, or its coil too cold for the probe on it.",
            MONTHS[month],
            say.hours(interval.missed_s)
        ),
        WarmBecause::TooSmall => format!(
            "The pump ran {} of {} and could do no more.",
            percent(interval.run_s / interval.duration_s),
            MONTHS[month]
        ),
        WarmBecause::TankAloneCalls => {
            "The room's thermostat has no say: the tank's alone calls the pump (`called_by`).".to_owned()
        }
        WarmBecause::Dial => format!(
            "The thermostat lets it: it calls for cooling only at {}.",
            say.temperature(case.plant.thermostat.on_at_k)
        ),
        WarmBecause::Unknown => String::new(),
    }
}

/// The room's thermostat given its say: alone, with a dump where there is none, or beside the tank's.
fn let_the_room_call(case: &Case<'_>) -> impl Iterator<Item = Change> {
    let room = Change::CalledBy(CalledBy::Room);
    let relieved = case.household.dump.is_none().then(|| line_with_reserve(case.plant, case.year)).flatten();
    let relieved = relieved.map(|line| Change::Together(vec![room.clone(), Change::AddDump(line)]));
    [room, Change::CalledBy(CalledBy::Both)].into_iter().chain(relieved)
}

fn against_warmth(case: &Case<'_>) -> Vec<Change> {
    match warm_because(case, case.worst_month(|month| month.over_band_s)) {
        WarmBecause::SwitchedOff => vec![Change::CoolerOffIn([false; 12])],
        WarmBecause::TankAloneCalls => let_the_room_call(case).collect(),
        WarmBecause::LockedOut => unhinder(case),
        WarmBecause::TooSmall => {
            let mut changes = less_air(case);
            changes.extend([
                Change::SurfaceUTimes { surface: None, factor: 0.5 },
                Change::RatedOutputTimes(1.5),
            ]);
            changes
        }
        WarmBecause::Dial | WarmBecause::Unknown => {
            vec![turn_thermostat(case, -1.0), turn_thermostat(case, -2.0)]
        }
    }
}

/// What lets a pump run that its limits keep from running.
fn unhinder(case: &Case<'_>) -> Vec<Change> {
    let mut changes: Vec<Change> = turned_coil_probe(case).into_iter().collect();
    changes.extend(keep_the_tank_open(case));
    changes
}

/// The probe on the coil, set so that it stops the unit only below what a run comes to and releases it below the thermostat's switching-on point.
fn turned_coil_probe(case: &Case<'_>) -> Option<Change> {
    let Cooler::HeatPump(pump) = &case.plant.cooler;
    let probe = pump.coil_probe.filter(|_| case.year.total.locked_by_coil_s > 0.0)?;
    let thermostat = &case.plant.thermostat;
    let run_k = pump.coil_probe_runs_at_k(&probe, thermostat.off_at_k, 1.0);
    Some(Change::CoilProbe {
        stops_below: kelvin(probe.stop_k.min(run_k - COIL_PROBE_MARGIN_DK)),
        starts_above: kelvin(probe.restart_k.min(thermostat.on_at_k - COIL_PROBE_MARGIN_DK)),
    })
}

/// F102: hours below the highest freezing point stored: the contents, else the room's air or the blown air, whichever is longer.
fn frozen(case: &Case<'_>) -> Finding {
    let (say, total) = (case.say, &case.year.total);
    let limit = say.temperature(case.plant.room.freezing_k);
    let stop: fn(&Year) -> f64 = if total.frozen_contents_s > 0.0 {
        |year| year.total.frozen_contents_s / HOUR_S
    } else {
        // The room's air or the blown air, whichever is longer below it: a remedy for the one must not be the other's harm.
        |year| year.total.frozen_air_s.max(year.total.frozen_blown_s) / HOUR_S
    };
    let stream = format!(
        "The air blown from the cooler is below {limit} for {} and as cold as {}: keep what is tender out of the stream.",
        say.hours(total.frozen_blown_s),
        say.temperature(total.blown_k.min)
    );
    let answer = super::stays_unfrozen(total);
    let text = if total.frozen_contents_s > 0.0 {
        let worst = case.worst_month(|month| month.frozen_contents_s);
        format!(
            "Food freezes: for {} of the year it is below {limit}, the highest freezing point of what you store, most of it \
             in {}. The coldest it gets is {}.",
            say.hours(total.frozen_contents_s),
            MONTHS[worst],
            say.temperature(total.food_k.min)
        )
    } else if total.frozen_air_s > 0.0 {
        let text = format!(
            "The food itself does not freeze, but the air around it is below {limit}, the highest freezing point of what you \
             store, for {} of the year, so thin leaves at the edge may suffer. {}",
            say.hours(total.frozen_air_s),
            if total.frozen_blown_s > 0.0 { stream.as_str() } else { "" }
        );
        text.trim_end().to_owned()
    } else if total.frozen_blown_s > 0.0 {
        format!("Neither food nor room air freezes. {stream}")
    } else {
        format!(
            "Nothing freezes: food, room air and blown air stay above {limit}, the highest freezing point of what you store. \
             The coldest the food gets is {}.",
            say.temperature(total.food_k.min)
        )
    };
    let changes = if answer == Answer::Yes {
        vec![]
    } else {
        let mut changes = Vec::new();
        if case.tank_alone_calls() {
            changes.extend(let_the_room_call(case));
        } else {
            changes.push(turn_thermostat(case, 1.0));
            changes.extend(bare_probe(case));
        }
        changes.push(Change::RatedOutputTimes(0.5));
        changes
    };
    Finding {
        code: "F102",
        question: Question::Food,
        answer,
        value: stop(case.year),
        unit: "h",
        limit: Some(0.0),
        text,
        source: FREEZING_SOURCE,
        remedies: remedies(case, changes, stop),
    }
}

/// Time in which the room's air is below freezing although the pump rests, at least, s: what the running time cannot cover.
fn resting_frost_s(year: &Year, of: impl Fn(&crate::year::Interval) -> f64) -> f64 {
    year.months.iter().map(|month| (of(month) - month.run_s).max(0.0)).sum()
}

/// Powers of heaters that are tried against frost, W. Common practice, no source: what plug-in heaters are sold with.
const HEATERS_W: [f64; 6] = [60.0, 120.0, 250.0, 500.0, 1000.0, 2000.0];
/// How far above the food's coldest the heater switches on, and how far the air warms then, K.
const HEATS_ABOVE_DK: f64 = 0.5;

/// The smallest heater with which the deciding number becomes nothing; the largest, where none does.
fn heater_that_holds(case: &Case<'_>, value: impl Fn(&Year) -> f64) -> Option<Change> {
    let has_w = case.household.room.heater.map_or(0.0, |heater| heater.power.value);
    let above = interval(HEATS_ABOVE_DK);
    let heater = |power_w: f64| {
        let on_below = case.household.room.cold_limit + above;
        Change::FrostHeater(FrostHeater { power: watts(power_w), on_below, differential: above })
    };
    let mut last = None;
    for power_w in HEATERS_W.into_iter().filter(|power_w| *power_w > has_w) {
        let change = heater(power_w);
        let holds = (case.trial)(&change).is_some_and(|year| value(&year) == 0.0);
        last = Some(change);
        if holds {
            break;
        }
    }
    last
}

/// Whether a month is among the colder half of the year outdoors.
fn is_in_the_cold_half(case: &Case<'_>, month: usize) -> bool {
    let stamps_k = &case.plant.boundaries[0].temperature_k;
    let starts_h = &case.plant.calendar.month_starts_h;
    let mean_k = |from: usize, to: usize| stamps_k[from..to].iter().sum::<f64>() / (to - from) as f64;
    mean_k(starts_h[month], starts_h[month + 1]) <= mean_k(0, starts_h[12])
}

/// F103: winter, when the cold comes through the walls.
fn frozen_by_itself(case: &Case<'_>) -> Finding {
    let say = case.say;
    let contents_s = resting_frost_s(case.year, |month| month.frozen_contents_s);
    let air_s = resting_frost_s(case.year, |month| month.frozen_air_s);
    let when = months(|month| case.year.months[month].frozen_air_s > case.year.months[month].run_s);
    let limit = say.temperature(case.plant.room.freezing_k);
    let food_k = |month: usize| &case.year.months[month].food_k;
    let winter = |month: usize| is_in_the_cold_half(case, month) && !food_k(month).is_empty();
    let coldest_k = |month: usize| food_k(month).min;
    let coldest = (0..12).filter(|&month| winter(month)).fold(None, |coldest: Option<usize>, month| {
        if coldest.is_some_and(|known| coldest_k(known) <= coldest_k(month)) { coldest } else { Some(month) }
    });
    // Where the room is given up through all of winter, the coldest of the other months.
    let coldest = coldest.unwrap_or_else(|| case.worst_month(|month| -month.food_k.min));
    // Colder than the thermostat lets it become: then the walls did it.
    let by_itself = coldest_k(coldest) < case.plant.thermostat.off_at_k - BY_ITSELF_DK;
    let spare_dk = coldest_k(coldest) - case.plant.room.freezing_k;
    let (answer, text) = if case.tank_alone_calls() {
        let text = "Whether the room would freeze by itself in winter cannot be told: the tank's thermostat alone calls the pump, so cold that the pump \
                    made is not told from the winter's. What freezes stands in F102.";
        (Answer::Unknown, text.to_owned())
    } else if contents_s > 0.0 {
        let text = format!(
            "In {when} the food freezes without the pump: it is below {limit} for at least {} in which the pump rested, \
             because the cold comes in through walls and leaks. The pump can only cool; the room needs better insulation or \
             a little heat in those months.",
            say.hours(contents_s)
        );
        (Answer::No, text)
    } else if air_s > 0.0 {
        let text = format!(
            "In {when} the room's air is below {limit} for at least {} in which the pump rested: the cold comes in through walls \
             and leaks. The food itself stays above it.",
            say.hours(air_s)
        );
        (Answer::Barely, text)
    } else if by_itself && spare_dk < LITTLE_SPARE_DK {
        let text = format!(
            "The room hardly stays above freezing by itself in winter: in {} the food comes down to {} without the pump, {} above where the first of it \
             freezes. A colder winter than this one takes that; spaces told by monthly means have no cold nights here.",
            MONTHS[coldest],
            say.temperature(coldest_k(coldest)),
            say.difference(spare_dk)
        );
        (Answer::Barely, text)
    } else {
        let text = format!(
            "The room does not freeze by itself in winter. The coldest the food gets then is {}, in {}.",
            say.temperature(coldest_k(coldest)),
            MONTHS[coldest]
        );
        (Answer::Yes, text)
    };
    let value = |year: &Year| {
        let contents_s = resting_frost_s(year, |month| month.frozen_contents_s);
        let air_s = resting_frost_s(year, |month| month.frozen_air_s);
        (if answer == Answer::No { contents_s } else { air_s }) / HOUR_S
    };
    let mut changes = Vec::new();
    if matches!(answer, Answer::No | Answer::Barely) {
        changes.push(Change::SurfaceUTimes { surface: None, factor: 0.5 });
        changes.extend(seal(case));
        changes.extend(heater_that_holds(case, value));
    }
    Finding {
        code: "F103",
        question: Question::Food,
        answer,
        value: value(case.year),
        unit: "h",
        limit: Some(0.0),
        text,
        source: FREEZING_SOURCE,
        remedies: remedies(case, changes, value),
    }
}

/// F104: hours in which the room wanted cooling and the pump was locked out.
fn refused(case: &Case<'_>) -> Finding {
    let (say, total) = (case.say, &case.year.total);
    let answer = at_most(total.missed_s, ONE_EVENT_S, BARELY_FRAC * total.duration_s);
    let worst = case.worst_month(|month| month.missed_s);
    let text = if total.missed_s == 0.0 {
        if case.tank_alone_calls() {
            "The pump is never refused; but it is the tank that calls it, not the room (`called_by`)."
                .to_owned()
        } else {
            "The pump can cool whenever the room asks for it; it is never refused.".to_owned()
        }
    } else if answer == Answer::Yes {
        format!(
            "The pump can cool nearly whenever the room asks for it: in the whole year it was refused for {}.",
            say.hours(total.missed_s)
        )
    } else {
        format!(
            "For {} of the year the room asked for cooling and the pump was not allowed to run, {} of them in {}. A pump that \
             heats water stops when the water it takes, or the room's air, is outside what it bears{}; then nothing cools \
             the room.",
            say.hours(total.missed_s),
            crate::wording::number(case.year.months[worst].missed_s / HOUR_S),
            MONTHS[worst],
            if total.locked_by_coil_s > 0.0 {
                ", or while the probe on its coil is too cold (C021)"
            } else {
                ""
            }
        )
    };
    let changes = if answer == Answer::Yes { Vec::new() } else { unhinder(case) };
    Finding {
        code: "F104",
        question: Question::Food,
        answer,
        value: total.missed_s / HOUR_S,
        unit: "h",
        limit: Some(ONE_EVENT_S / HOUR_S),
        text,
        source: HOURS_SOURCE,
        remedies: remedies(case, changes, |year| year.total.missed_s / HOUR_S),
    }
}

/// A crop, the humidity it is advised (fractions), and the mean it gets while it is stored.
struct Humidity {
    crop: &'static str,
    low: f64,
    high: f64,
    mean: f64,
}

impl Humidity {
    fn off(&self) -> f64 {
        (self.low - self.mean).max(self.mean - self.high).max(0.0)
    }

    fn bound(&self) -> f64 {
        if self.mean < self.low { self.low } else { self.high }
    }
}

fn humidity_of(case: &Case<'_>, produce: &StoredProduce) -> Option<Humidity> {
    let (low, high) = produce.crop.store_humidity_frac();
    let (humidity, time) = case
        .year
        .months
        .iter()
        .enumerate()
        .filter(|(month, _)| produce.is_there_in(*month))
        .fold((0.0, 0.0), |(humidity, time), (_, month)| {
            (humidity + month.humidity_frac_s, time + month.duration_s)
        });
    (time > 0.0).then(|| Humidity { crop: produce.crop.name(), low, high, mean: humidity / time })
}

/// F105: the room's humidity against what each crop is advised, and the water on its walls.
fn humidity(case: &Case<'_>) -> Finding {
    let total = &case.year.total;
    let mean = total.mean(total.humidity_frac_s);
    let crops: Vec<Humidity> =
        case.household.room.produce.iter().filter_map(|produce| humidity_of(case, produce)).collect();
    let worst = crops.iter().max_by(|a, b| a.off().total_cmp(&b.off()));
    let of_crops = worst
        .map_or(Answer::Unknown, |worst| at_most(worst.off(), HUMIDITY_BORNE_FRAC, HUMIDITY_BARELY_FRAC));
    if walls_run(case) && matches!(of_crops, Answer::Yes | Answer::Unknown) {
        return wet_walls(case, mean, &crops);
    }
    Finding {
        code: "F105",
        question: Question::Food,
        answer: of_crops,
        value: worst.map_or(mean, |worst| worst.mean),
        unit: "frac",
        limit: worst.map(Humidity::bound),
        text: sentences(&[humidity_text(of_crops, mean, &crops), wall_water_words(case)]),
        source: HUMIDITY_SOURCE,
        remedies: Vec::new(),
    }
}

/// F105 where the crops are content but water runs down the walls: that decides.
fn wet_walls(case: &Case<'_>, mean: f64, crops: &[Humidity]) -> Finding {
    let answer = Answer::Barely;
    let content = if crops.is_empty() { Answer::Unknown } else { Answer::Yes };
    Finding {
        code: "F105",
        question: Question::Food,
        answer,
        value: most_wall_water_kg(case.year),
        unit: "kg",
        limit: Some(walls_hold_kg(case)),
        text: sentences(&[humidity_text(content, mean, crops), wall_water_words(case)]),
        source: HUMIDITY_SOURCE,
        remedies: remedies(case, less_air(case), most_wall_water_kg),
    }
}

/// Water that settles in the month with most of it, kg.
fn most_wall_water_kg(year: &Year) -> f64 {
    year.months.iter().map(|month| month.wall_condensate_kg).fold(0.0, f64::max)
}

/// Water of a month that the walls hold before it runs, kg.
fn walls_hold_kg(case: &Case<'_>) -> f64 {
    WALLS_HOLD_KG_M2 * case.household.room.inner_surface().get::<square_meter>()
}

fn walls_run(case: &Case<'_>) -> bool {
    most_wall_water_kg(case.year) > walls_hold_kg(case)
}

/// The water that settles on walls and produce, as a sentence; none is told of where it is next to nothing.
fn wall_water_words(case: &Case<'_>) -> String {
    let water_kg = case.year.total.wall_condensate_kg;
    if water_kg <= LITTLE_WALL_WATER_KG {
        return String::new();
    }
    let water = case.say.mass(water_kg);
    if !walls_run(case) {
        return format!("Some {water} of water a year settle on walls and produce, where mould starts.");
    }
    let worst = case.worst_month(|month| month.wall_condensate_kg);
    format!(
        "But the walls get wet: {water} of water a year settle on walls and produce, {} of them in {}, more than walls hold \
         without running, and mould starts there. Let in less damp air, wipe the walls, and give what runs off a drain.",
        case.say.mass(case.year.months[worst].wall_condensate_kg),
        MONTHS[worst]
    )
}

/// The mean while the crop that suffers most is stored, where that is told by another number than the year's.
fn while_stored(mean: f64, crops: &[Humidity]) -> String {
    let worst = crops.iter().max_by(|a, b| a.off().total_cmp(&b.off()));
    worst
        .filter(|crop| percent(crop.mean) != percent(mean))
        .map(|crop| format!(" and {} while {} is stored", percent(crop.mean), crop.crop.to_lowercase()))
        .unwrap_or_default()
}

fn humidity_text(answer: Answer, mean: f64, crops: &[Humidity]) -> String {
    let named = |holds: &dyn Fn(&Humidity) -> bool| {
        let words: Vec<String> =
            crops.iter().filter(|crop| holds(crop)).map(|crop| crop.crop.to_lowercase()).collect();
        list(&words)
    };
    let dry = named(&|crop| crop.mean < crop.low - HUMIDITY_BORNE_FRAC);
    let damp = named(&|crop| crop.mean > crop.high + HUMIDITY_BORNE_FRAC);
    if crops.is_empty() {
        return format!(
            "The room's air holds {} of the moisture it could on the mean of the year; without stored produce there is \
             nothing to hold that against.",
            percent(mean)
        );
    }
    sentences(&[
        format!(
            "The room's relative humidity is {} on the mean of the year{}{}.",
            percent(mean),
            while_stored(mean, crops),
            if answer == Answer::Yes { ", near what everything you store is advised" } else { "" }
        ),
        if dry.is_empty() {
            dry
        } else {
            format!("That is too dry for {dry}, which will shrivel: lidded boxes or damp sand help.")
        },
        if damp.is_empty() {
            damp
        } else {
            format!("It is too damp for {damp}, which will sprout or rot: store that elsewhere.")
        },
    ])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::constants::ZERO_CELSIUS_K;
    use crate::finding::tests::{all, found, one, year_with};
    use crate::plant::{Caller, TankThermostat};
    use approx::assert_relative_eq;

    /// The tank's thermostat alone calls: its frost is not the winter's, the dial has no say, and the room is given one.
    #[test]
    fn a_pump_that_the_tank_alone_calls_is_told_as_that() {
        let mut plant = example::plant();
        let Cooler::HeatPump(pump) = &mut plant.cooler;
        pump.caller = Caller::Tank(TankThermostat { calls_k: 300.0, enough_k: 305.0, sensor: 0.5 });
        let cold = year_with(|_, month| {
            month.frozen_contents_s = 3600.0;
            month.food_k.see(plant.room.freezing_k - 2.0);
        });
        let mended = example::year();
        let trial = |change: &Change| matches!(change, Change::CalledBy(_)).then(|| mended.clone());
        let findings = all(&example::household(), &plant, &cold, &trial);
        assert_eq!(one(&findings, "F103").answer, Answer::Unknown);
        let dial = one(&findings, "F501");
        assert!(dial.answer == Answer::No && dial.text.contains("has no say"), "{}", dial.text);
        let frozen = one(&findings, "F102");
        assert!(frozen.answer == Answer::No && frozen.remedies.len() == 2, "{frozen:?}");
        assert!(one(&findings, "F104").text.contains("it is the tank that calls it"));
        // Where nothing is harmed the dial still has no say.
        assert_eq!(one(&found(&plant, &example::year()), "F501").answer, Answer::Barely);
    }

    /// The example is as warm outdoors in every month, so that each counts as winter. Its thermostat switches off some degrees above freezing: what is colder, the walls did.
    #[test]
    fn a_room_that_hardly_stays_above_freezing_is_told() {
        let plant = example::plant();
        let (off_k, freezing_k) = (plant.thermostat.off_at_k, plant.room.freezing_k);
        assert!(off_k - BY_ITSELF_DK > freezing_k + LITTLE_SPARE_DK + 0.1);
        let answer = |coldest_k: f64| {
            let year = year_with(|index, month| {
                if index == 0 {
                    month.food_k.see(coldest_k);
                }
            });
            one(&found(&plant, &year), "F103").answer
        };
        assert_eq!(answer(freezing_k + LITTLE_SPARE_DK - 0.1), Answer::Barely);
        assert_eq!(answer(freezing_k + LITTLE_SPARE_DK + 0.1), Answer::Yes);
    }

    /// Nothing is in it in any month but August: no winter is told of, and no number that is none.
    #[test]
    fn a_room_that_is_given_up_through_winter_is_told_by_its_other_months() {
        let year = year_with(|index, month| {
            if index != 7 {
                month.food_k = crate::year::Extremes::default();
            }
        });
        let text = one(&found(&example::plant(), &year), "F103").text;
        assert!(text.contains("August") && !text.contains("inf"), "{text}");
    }

    /// Warm in August, after a July without the cooler: the advice belongs to the month after a pause and to no other.
    #[test]
    fn a_room_that_was_switched_off_is_to_be_cooled_before_anything_comes() {
        let (household, mut plant) = (example::household(), example::plant());
        let year = year_with(|index, month| {
            if index == 7 {
                month.food_k.see(ZERO_CELSIUS_K + 20.0);
                month.over_band_s = 2.0 * HOUR_S;
            }
        });
        let text = |plant: &crate::plant::Plant| one(&all(&household, plant, &year, &|_| None), "F101").text;
        assert!(!text(&plant).contains("switched on again"));
        plant.thermostat.off_in[6] = true;
        assert!(text(&plant).contains("switched on again after July"), "{}", text(&plant));
        plant.thermostat.off_in[7] = true;
        assert!(!text(&plant).contains("switched on again"));
    }

    fn july(hours: f64, edit: fn(&mut crate::year::Interval, f64)) -> Year {
        year_with(|index, month| {
            if index == 6 {
                edit(month, hours * HOUR_S);
            }
        })
    }

    #[test]
    fn warm_hours_around_four_hours_and_one_per_cent_of_the_year() {
        for (hours, answer) in [
            (3.9, Answer::Yes),
            (4.0, Answer::Yes),
            (4.1, Answer::Barely),
            (87.5, Answer::Barely),
            (87.6, Answer::Barely),
            (87.7, Answer::No),
        ] {
            let year = july(hours, |month, s| month.over_band_s = s);
            let finding = one(&found(&example::plant(), &year), "F101");
            assert_eq!(finding.answer, answer, "{hours} h");
            assert_relative_eq!(finding.value, hours, max_relative = 1e-12);
        }
    }

    #[test]
    fn a_warm_room_is_put_down_to_the_full_tank_and_a_bigger_dump_is_tried() {
        let year = july(200.0, |month, s| {
            month.over_band_s = s;
            month.missed_s = s;
            month.food_k.see(ZERO_CELSIUS_K + 11.3);
        });
        let mended = example::year();
        let trial = |change: &Change| matches!(change, Change::DumpFlow(_)).then(|| mended.clone());
        let finding = one(&all(&example::household(), &example::plant(), &year, &trial), "F101");
        assert_eq!(
            finding.text,
            "The food gets too warm: it is above your limit of 6 °C for 200 hours of the year, 200 of them in July, and \
             reaches 11.3 °C in July. The reason is the hot-water tank: in July the pump was not allowed to run for 200 hours \
             in which the room wanted cooling, because the water it would take was already too warm."
        );
        assert_eq!(finding.remedies.len(), 1);
        assert_eq!((finding.remedies[0].before, finding.remedies[0].after), (200.0, 0.0));
        assert!(finding.remedies[0].text.contains("cooling refused 0 hours instead of 200 hours"));
    }

    #[test]
    fn where_the_air_may_have_stopped_the_pump_the_tank_is_not_blamed() {
        // The example unit runs up to 30 °C of room air.
        for (air_degc, blamed) in [(29.9, true), (30.0, true), (30.1, false)] {
            let year = year_with(|index, month| {
                if index == 6 {
                    (month.over_band_s, month.missed_s) = (9.0e5, 9.0e5);
                    month.air_k.see(ZERO_CELSIUS_K + air_degc);
                }
            });
            let text = one(&found(&example::plant(), &year), "F101").text;
            assert_eq!(text.contains("The reason is the hot-water tank"), blamed, "{text}");
        }
    }

    #[test]
    fn freezing_is_judged_by_the_worst_place() {
        let nothing = one(&found(&example::plant(), &example::year()), "F102");
        assert_eq!((nothing.answer, nothing.value), (Answer::Yes, 0.0));
        let blown = one(&found(&example::plant(), &july(5.0, |month, s| month.frozen_blown_s = s)), "F102");
        assert_eq!((blown.answer, blown.value), (Answer::Barely, 5.0));
        let air = july(0.5, |month, s| (month.frozen_air_s, month.frozen_blown_s) = (s, 10.0 * s));
        let air = one(&found(&example::plant(), &air), "F102");
        // The blown air is below it for longer: that is the number, so that no remedy for the room's air hides it.
        assert_eq!((air.answer, air.value), (Answer::Barely, 5.0));
        let contents = july(0.1, |month, s| (month.frozen_contents_s, month.frozen_air_s) = (s, 10.0 * s));
        let contents = one(&found(&example::plant(), &contents), "F102");
        assert_eq!(contents.answer, Answer::No);
        assert!(contents.text.contains("-1.4 °C"), "{}", contents.text);
    }

    #[test]
    fn frost_longer_than_the_pump_ran_came_from_outside() {
        for (surplus_s, answer) in [(-1.0, Answer::Yes), (0.0, Answer::Yes), (3600.0, Answer::No)] {
            let year = year_with(|index, month| {
                if index == 0 {
                    month.frozen_contents_s = month.run_s + surplus_s;
                    month.frozen_air_s = month.frozen_contents_s;
                }
            });
            let finding = one(&found(&example::plant(), &year), "F103");
            assert_eq!(finding.answer, answer, "{surplus_s}");
        }
    }

    #[test]
    fn refused_cooling_around_four_hours() {
        for (hours, answer) in
            [(3.9, Answer::Yes), (4.0, Answer::Yes), (4.1, Answer::Barely), (88.0, Answer::No)]
        {
            let year = july(hours, |month, s| month.missed_s = s);
            assert_eq!(one(&found(&example::plant(), &year), "F104").answer, answer, "{hours} h");
        }
    }

    #[test]
    fn carrots_want_damp_air() {
        // Carrots: 98 to 100 %, USDA Agriculture Handbook 66 as given in the crop table; borne 5 points, only just 15.
        for (humidity, answer) in [
            (0.94, Answer::Yes),
            (0.931, Answer::Yes),
            (0.92, Answer::Barely),
            (0.84, Answer::Barely),
            (0.82, Answer::No),
        ] {
            let year = year_with(|_, month| month.humidity_frac_s = humidity * month.duration_s);
            let finding = one(&found(&example::plant(), &year), "F105");
            assert_eq!(finding.answer, answer, "{humidity}");
            assert_eq!(finding.limit, Some(0.98));
        }
    }

    #[test]
    fn walls_that_run_with_water_are_no_yes() {
        // 200 g/m2 is the limit of ISO 13788 for surfaces that do not soak water up (from memory, to be verified).
        let household = example::household();
        let limit_kg = 0.2 * household.room.inner_surface().get::<square_meter>();
        let told = |factor: f64, humidity: f64| {
            let year = year_with(|index, month| {
                month.humidity_frac_s = humidity * month.duration_s;
                if index == 7 {
                    month.wall_condensate_kg = factor * limit_kg;
                }
            });
            let dry = |change: &Change| matches!(change, Change::Leakage(_)).then(example::year);
            one(&all(&household, &example::plant(), &year, &dry), "F105")
        };
        let (under, over, dry_crop) = (told(0.999, 0.98), told(1.001, 0.98), told(1.001, 0.82));
        assert_eq!((under.answer, under.unit), (Answer::Yes, "frac"));
        assert_eq!((over.answer, over.unit, over.limit), (Answer::Barely, "kg", Some(limit_kg)));
        assert!(over.text.contains("in August, more than walls hold"), "{}", over.text);
        assert_eq!((over.remedies.len(), over.remedies[0].after), (1, 0.0));
        // What the crops suffer is told first; the walls are told all the same.
        assert_eq!((dry_crop.answer, dry_crop.unit), (Answer::No, "frac"));
        assert!(dry_crop.text.contains("the walls get wet"), "{}", dry_crop.text);
    }

    #[test]
    fn frost_is_held_against_a_quick_probe_too() {
        let year = july(0.5, |month, s| month.frozen_air_s = s);
        let trial = |change: &Change| matches!(change, Change::ProbeLag(_)).then(example::year);
        let mut household = example::household();
        for (lag_s, offered) in [(89.0, false), (90.0, false), (91.0, true)] {
            household.thermostat.probe_lag = crate::units::seconds(lag_s);
            let finding = one(&all(&household, &example::plant(), &year, &trial), "F102");
            let told: Vec<_> = finding.remedies.iter().map(|remedy| remedy.change.as_str()).collect();
            let bare = "give the thermostat's probe a time constant of 90 s, as bare in the air";
            assert_eq!(told, if offered { vec![bare] } else { vec![] }, "{lag_s} s");
        }
    }

    #[test]
    fn a_room_without_produce_has_no_answer_on_humidity() {
        let mut household = example::household();
        household.room.produce.clear();
        let finding = one(&all(&household, &example::plant(), &example::year(), &|_| None), "F105");
        assert_eq!((finding.answer, finding.limit), (Answer::Unknown, None));
    }
}

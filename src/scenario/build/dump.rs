//! The overflow dump: aquastat, line, and what takes the water.

use super::flow;
use crate::household::{DailyTimer, Destination, DumpLine, Takes, WaterTaker};
use crate::irrigation::{PLANTS, SOILS, WATERINGS};
use crate::pipe::{Emitters, KV_PER_CV, Line, MATERIALS, Material, Run, TUBES};
use crate::scenario::checker::{Checker, Section};
use crate::scenario::codes;
use crate::units::{Kind, cubic_metres, fraction, kelvin, seconds, square_metres};
use uom::si::f64::VolumeRate;

/// Flow with 1 bar across a valve over that with 1 psi, both in the same unit.
/// Derived here: Kv is told in m3/h and Cv in gpm, of which there are 4.402868 in a m3/h.
const AT_BAR_PER_AT_PSI: f64 = KV_PER_CV * 4.402_868;

/// Most places that may take the water.
const MOST_DESTINATIONS: usize = crate::plant::MOST_TAKERS;

/// Least flow that a line has to give, L/min in m3/s: as the least that `dump.flow` takes.
const LEAST_FLOW_M3_S: f64 = 0.1 / 60_000.0;
/// Most flow that the year is made for, m3/s: as the most that `dump.flow` takes.
const MOST_FLOW_M3_S: f64 = 200.0 / 60_000.0;

pub(super) fn dump(at: &mut Checker, top: &Section<'_>, supply_pa: f64) -> Option<DumpLine> {
    let section = at.optional_section(top, "dump")?;
    let opens_at = at.value(&section, "opens_at");
    let closes_at = at.optional(&section, "closes_at").unwrap_or_else(|| {
        let closes = opens_at - 5.0;
        let reason = "Common practice, no source: a differential of 5 K";
        at.assume(section.path_of("closes_at"), Kind::Temperature.units()[0].write(closes), reason);
        closes
    });
    let line = at.optional_section(&section, "line").map(|line| self::line(at, &line, supply_pa));
    Some(DumpLine {
        opens_at: kelvin(opens_at),
        closes_at: kelvin(closes_at),
        probe: fraction(at.value(&section, "probe_height")),
        probe_lag: seconds(at.probe(&section, "probe")),
        min_open: seconds(at.value(&section, "least_open")),
        timer: at.optional_section(&section, "timer").map(|timer| DailyTimer {
            from: seconds(at.value(&timer, "from")),
            lasts: seconds(at.value(&timer, "lasts")),
        }),
        longest_open: at.optional(&section, "longest_open").map(seconds),
        flow: open_flow(at, &section, line.as_ref(), opens_at),
        line,
        port: fraction(at.value(&section, "port_height")),
        months: at.months(&section, "months"),
        destinations: destinations(at, &section),
    })
}

/// The flow as it was measured, else what the line gives of water at which the aquastat opens.
fn open_flow(at: &mut Checker, section: &Section<'_>, line: Option<&Line>, opens_k: f64) -> VolumeRate {
    if let Some(measured) = at.optional(section, "flow") {
        return flow(measured);
    }
    let Some(line) = line else {
        at.need(section, "flow");
        return flow(LEAST_FLOW_M3_S);
    };
    let path = section.path_of("line");
    if at.has_fault_within(&path) || at.is_tainted(&section.path_of("opens_at")) {
        return flow(LEAST_FLOW_M3_S);
    }
    let given_m3_s = line.flow_m3_s(opens_k);
    if !(LEAST_FLOW_M3_S..=MOST_FLOW_M3_S).contains(&given_m3_s) {
        let unit = Kind::Flow.report_unit(at.units);
        let what = format!(
            "the house's pressure of {} drives {} through the dump's line",
            Kind::Pressure.report_unit(at.units).write_rounded(line.supply_pa, 0),
            unit.write_rounded(given_m3_s, 2)
        );
        let allowed = format!("{} to {}", unit.write(LEAST_FLOW_M3_S), unit.write(MOST_FLOW_M3_S));
        let help = "check `outlet_above`, bores, valves and emitters, and `site.supply_pressure`";
        at.fault(&path, codes::LINE_FLOW, what, Some(allowed), Some(help.to_owned()));
        return flow(LEAST_FLOW_M3_S);
    }
    flow(given_m3_s)
}

fn line(at: &mut Checker, section: &Section<'_>, supply_pa: f64) -> Line {
    let runs = at.list(section, "runs").iter().map(|item| run(at, item)).collect();
    let valves = at.list(section, "valves").iter().map(|item| valve(at, item)).collect();
    let emitters = at.optional_section(section, "emitters").map(|emitters| Emitters {
        count: at.number(&emitters, "count").unwrap_or(1.0),
        flow_m3_s: at.value(&emitters, "flow"),
        at_pa: at.value(&emitters, "at"),
    });
    Line { supply_pa, rise_m: at.value(section, "outlet_above"), runs, valves, emitters }
}

fn run(at: &mut Checker, item: &Section<'_>) -> Run {
    let (tube, bore_m, material) = match at.one_of(item, &["tube", "bore"], true) {
        Some("bore") => {
            if !item.has("material") {
                at.need(item, "material");
            }
            let word = at.word(item, "material");
            let material = MATERIALS.iter().find(|(name, _)| Some(*name) == word);
            let material = material.map_or(Material::Copper, |(_, material)| *material);
            (material.name(), at.value(item, "bore"), material)
        }
        _ => {
            if item.has("material") {
                let path = item.path_of("material");
                let what = format!("`{path}` is given beside `{}`", item.path_of("tube"));
                let help = "leave it out: the tube's name says its material";
                at.fault(&path, codes::DOES_NOT_BELONG, what, None, Some(help.to_owned()));
            }
            let word = at.word(item, "tube");
            let tube = TUBES.iter().find(|tube| Some(tube.name) == word).unwrap_or(&TUBES[0]);
            (tube.name, tube.bore_m, tube.material)
        }
    };
    Run {
        name: if item.has("name") { at.text(item, "name") } else { tube.to_owned() },
        material,
        bore_m,
        length_m: at.value(item, "length"),
        bends: at.number(item, "bends").unwrap_or(0.0),
        buried_m: at.optional(item, "buried"),
    }
}

/// A valve's name and its flow at 1 bar, m3/s.
fn valve(at: &mut Checker, item: &Section<'_>) -> (String, f64) {
    let name = at.text(item, "name");
    let kv_m3_s = match at.one_of(item, &["kv", "cv"], true) {
        Some("cv") => AT_BAR_PER_AT_PSI * at.value(item, "cv"),
        _ => at.value(item, "kv"),
    };
    (name, kv_m3_s)
}

fn destinations(at: &mut Checker, section: &Section<'_>) -> Vec<WaterTaker> {
    let takes_all = |kind: Destination| WaterTaker {
        name: kind.name().to_owned(),
        kind,
        months: [true; 12],
        temper_to: None,
        takes: Takes::All,
    };
    if at.one_of(section, &["leads_to", "destinations"], true) != Some("destinations") {
        return vec![takes_all(kind(at.word(section, "leads_to")))];
    }
    let path = section.path_of("destinations");
    let items = at.list(section, "destinations");
    if !at.is_tainted(&path) && !(1..=MOST_DESTINATIONS).contains(&items.len()) {
        let what = format!("`{path}` names {} places", items.len());
        let allowed = format!("1 to {MOST_DESTINATIONS}");
        at.fault(
            &path,
            codes::DESTINATIONS,
            what,
            Some(allowed),
            Some("name those that take most".to_owned()),
        );
    }
    let takers: Vec<_> = items.iter().take(MOST_DESTINATIONS).map(|item| taker(at, item)).collect();
    if takers.is_empty() { vec![takes_all(Destination::Drain)] } else { takers }
}

fn kind(word: Option<&str>) -> Destination {
    match word {
        Some("irrigation") => Destination::Irrigation,
        Some("barrel") => Destination::Barrel,
        _ => Destination::Drain,
    }
}

/// Keys that belong to one kind of place.
const OWN_KEYS: [(&str, Destination); 7] = [
    ("area", Destination::Irrigation),
    ("soil", Destination::Irrigation),
    ("plants", Destination::Irrigation),
    ("watered_by", Destination::Irrigation),
    ("slope", Destination::Irrigation),
    ("volume", Destination::Barrel),
    ("used", Destination::Barrel),
];

fn taker(at: &mut Checker, item: &Section<'_>) -> WaterTaker {
    let kind = kind(at.word(item, "to"));
    let takes = takes(at, item, kind);
    WaterTaker {
        name: if item.has("name") { at.text(item, "name") } else { kind.name().to_owned() },
        kind,
        months: at.months(item, "months"),
        temper_to: at.optional(item, "temper_to").map(kelvin),
        takes,
    }
}

/// How much the place takes. Every key that is there is read, also one that does not belong there.
fn takes(at: &mut Checker, item: &Section<'_>, kind: Destination) -> Takes {
    let area = at.optional(item, "area");
    let irrigated = kind == Destination::Irrigation && item.has("area");
    let words = ["soil", "plants", "watered_by"].map(|name| {
        // What is assumed is listed only where it counts.
        if irrigated || item.has(name) { at.word(item, name) } else { None }
    });
    let slope = if irrigated || item.has("slope") { at.value(item, "slope") } else { 0.0 };
    let ground = area.filter(|_| irrigated).map(|area| ground(area, words, slope));
    let volume = at.optional(item, "volume").filter(|_| kind == Destination::Barrel);
    if volume.is_some() && !item.has("used") {
        at.need(item, "used");
    }
    let used = at.optional(item, "used").unwrap_or(0.0);
    let barrel =
        volume.map(|volume| Takes::Barrel { volume: cubic_metres(volume), used_per_day: cubic_metres(used) });
    for (name, owner) in OWN_KEYS {
        // Soil and plants count for nothing without an area, nor the use of a barrel without a volume.
        let sizes = if owner == Destination::Barrel { "volume" } else { "area" };
        if item.has(name) && kind != owner {
            let path = item.path_of(name);
            let what = format!("`{path}` is given, but the water goes to {}", a(kind));
            at.fault(&path, codes::DOES_NOT_BELONG, what, None, Some("leave it out".to_owned()));
        } else if item.has(name) && !item.has(sizes) {
            let path = item.path_of(name);
            let what = format!("`{path}` is given without `{sizes}`");
            let help = format!("give `{sizes}`, or leave it out");
            at.fault(&path, codes::DOES_NOT_BELONG, what, None, Some(help));
        }
    }
    ground.or(barrel).unwrap_or(Takes::All)
}

fn ground(area: f64, [soil, plants, watering]: [Option<&str>; 3], slope: f64) -> Takes {
    Takes::Ground {
        area: square_metres(area),
        soil: *SOILS.iter().find(|known| Some(known.name) == soil).unwrap_or(&SOILS[0]),
        plants: *PLANTS.iter().find(|known| Some(known.name) == plants).unwrap_or(&PLANTS[0]),
        watering: *WATERINGS.iter().find(|known| Some(known.name) == watering).unwrap_or(&WATERINGS[0]),
        slope: fraction(slope),
    }
}

fn a(kind: Destination) -> &'static str {
    match kind {
        Destination::Drain => "a drain",
        Destination::Irrigation => "irrigation",
        Destination::Barrel => "a barrel",
    }
}

//! What has to be bought and fitted for a dump.

use crate::household::{Destination, DumpLine, Household, Takes, UnitSystem, WaterTaker};
use crate::irrigation::intake_left_on_slope;
use crate::pipe::{Material, TUBES, velocity_m_s};
use crate::units::{Kind, write};
use crate::wording::{Wording, decimals, list as and, months, percent};
use crate::year::Year;

/// Flow that a trap takes for long, m3/s, and its size.
/// Source: Ontario Building Code, table 7.4.10.3, semi-continuous flow: 0.090, 0.190, 0.850 L/s for 1 1/2, 2 and 3 in. Checked: original read.
const TRAPS: [(f64, &str); 3] =
    [(0.090e-3, "1 1/2 inches (40 mm)"), (0.190e-3, "2 inches (50 mm)"), (0.850e-3, "3 inches (75 mm)")];
/// Guard time over the time in which the dump's flow empties the tank. Common practice, no source.
const GUARD_TIMES: f64 = 2.0;
/// Seconds in an hour, millimetres in a metre and in an inch.
const HOUR_S: f64 = 3600.0;
const MM_PER_M: f64 = 1000.0;
const MM_PER_INCH: f64 = 25.4;

/// The list, an item a line.
pub(super) fn list(household: &Household, line: &DumpLine, year: &Year, say: Wording) -> Vec<String> {
    let hottest_k = year.total.tank_top_k.max;
    let pressure = write(Kind::Pressure, household.site.supply_pressure.value, household.units);
    let flow_m3_s = line.flow.value;
    let mut items = vec![
        format!(
            "Aquastat: closes its contact at {} and opens it at {}, its probe at {} of the tank's height, pressed to bare metal under the \
             insulation or in a well.",
            say.temperature(line.opens_at.value),
            say.temperature(line.closes_at.value),
            percent(line.probe.value)
        ),
        format!(
            "Two valves in series, both in the warm, that shut when the power fails: rated for drinking water of {} and to close \
             against {pressure}. A motorised ball valve of full bore does; a pilot solenoid only if the pressure difference it \
             needs is there; a spring-return heating zone valve does not close against the pressure of a house (from memory, to be \
             verified: 55 to 140 kPa).",
            say.temperature(hottest_k)
        ),
        format!(
            "A port at {} of the tank's height that is not the relief valve's, a shut-off valve and a strainer before the two valves, \
             the line down from there without a pocket, so that it empties by itself.",
            percent(line.port.value)
        ),
        "A dump that shares a pipe with the pump (its hot pipe as the port) needs a valve at either end of what it shares, closed in turn, so that the pump \
         never pumps into the dump's line and the dump never empties the pump; a port of its own is simpler."
            .to_owned(),
        guard(household, line, year, say),
    ];
    items.extend(tube(line, hottest_k, say));
    for place in &line.destinations {
        if let Some(wanted) = place.temper_to {
            items.push(format!(
                "For \"{}\": a thermostatic mixing valve set to {}, with check valves in both inlets and cold water at the same \
                 pressure.",
                place.name,
                say.temperature(wanted.value)
            ));
        }
    }
    if line.leads_to(Destination::Irrigation) {
        items.push(
            "For the garden: the backflow preventer of C005 downstream of the valves if it is an atmospheric vacuum breaker (no \
             valve may follow it), before them if it is a pressure vacuum breaker or reduced-pressure device; drip line or \
             seep hose rather than sprinklers, since stored warm water should not become a mist."
                .to_owned(),
        );
        let months = months(|month| {
            line.destinations.iter().any(|place| place.kind == Destination::Irrigation && place.months[month])
        });
        items.push(format!(
            "Watering bans: the dump waters in {months} whenever the tank is full, also in a drought. Ask {} whether a ban would cover it, and have a second place for \
             those weeks.",
            if household.site.well.is_some() { "the authority for wells" } else { "the supplier" }
        ));
    }
    let mixed = |place: &WaterTaker| tempering(place, line, year);
    items.extend(line.destinations.iter().filter_map(|place| intake(place, line, mixed(place), say)));
    if line.leads_to(Destination::Drain) {
        let drains = line.destinations.iter().filter(|place| place.kind == Destination::Drain);
        items.push(drain(flow_m3_s * drains.map(mixed).fold(1.0, f64::max), say));
    }
    if line.leads_to(Destination::Barrel) {
        items.push("For the barrel: an outlet above its rim, a lid, and an overflow as wide as the inlet's flow asks for.".to_owned());
    }
    items
}

/// Water that comes to a place for each litre out of the tank: with the year's cold water where it is tempered, the mean of those that are.
fn tempering(place: &WaterTaker, line: &DumpLine, year: &Year) -> f64 {
    let total = &year.total;
    let tempered =
        line.destinations.iter().zip(total.dump_placed_kg).filter(|(one, _)| one.temper_to.is_some());
    let arrived_kg: f64 = tempered.map(|(_, kg)| kg).sum();
    let from_tank_kg = arrived_kg - total.dump_tempering_kg;
    if place.temper_to.is_some() && from_tank_kg > 0.0 { arrived_kg / from_tank_kg } else { 1.0 }
}

/// Whether the ground takes the dump's flow in as fast as it comes, with the cold water that tempers it.
fn intake(place: &WaterTaker, line: &DumpLine, tempering: f64, say: Wording) -> Option<String> {
    let Takes::Ground { area, soil, slope, .. } = &place.takes else { return None };
    let takes_mm_h = soil.intake_mm_h * intake_left_on_slope(slope.value);
    let arrives_m3_h = line.flow.value * tempering * HOUR_S;
    let mm_h = arrives_m3_h / area.value * MM_PER_M;
    // Whole square metres, without the last digits of the arithmetic.
    let needed_m2 = libm::ceil(arrives_m3_h * MM_PER_M / takes_mm_h - 1e-6);
    let rate = |mm_h: f64| match say.0 {
        UnitSystem::Metric => format!("{} mm", decimals(mm_h, 1)),
        UnitSystem::Us => format!("{} in", decimals(mm_h / MM_PER_INCH, 2)),
    };
    let on_slope = if takes_mm_h < soil.intake_mm_h {
        format!(
            " on a slope of {}, where it takes {} of what level ground does (From memory, to be verified)",
            percent(slope.value),
            percent(takes_mm_h / soil.intake_mm_h)
        )
    } else {
        ", less on a slope".to_owned()
    };
    let comes = format!(
        "For \"{}\": while the dump is open {} an hour come down if they are spread over all of it; {} takes in {} an hour for long (Second hand: FAO training \
         manual){}",
        place.name,
        rate(mm_h),
        soil.name,
        rate(takes_mm_h),
        on_slope
    );
    Some(if mm_h > takes_mm_h {
        format!(
            "{comes}. It runs off or puddles: spread it over {}, or throttle the dump to {}.",
            write(Kind::Area, needed_m2, say.0),
            say.flow(line.flow.value * takes_mm_h / mm_h)
        )
    } else {
        format!("{comes}: outlets over {} at least do.", write(Kind::Area, needed_m2, say.0))
    })
}

/// What shuts off a valve that sticks: the guard that there is, else one that neither a full tank nor the year's longest opening meets.
fn guard(household: &Household, line: &DumpLine, year: &Year, say: Wording) -> String {
    let tank_m3 = household.tank.water_volume().value;
    let flow_m3_s = line.flow.value;
    let longest_s = year.total.dump_longest_s;
    let wanted_s = GUARD_TIMES * longest_s.max(tank_m3 / flow_m3_s);
    let after_s = line.longest_open.map_or(wanted_s, |longest| longest.value);
    let of_this_year = if longest_s > 0.0 {
        format!(" This year's longest opening takes {}.", say.duration(longest_s))
    } else {
        String::new()
    };
    format!(
        "A guard: a timer relay that shuts the dump and sounds an alarm when it stays open for more than {}, and a leak alarm under it: \
         stuck open it spends {} a day.{of_this_year}",
        say.duration(after_s),
        say.volume(flow_m3_s * 86_400.0)
    )
}

/// Tubes that are wide enough, where none was described.
fn tube(line: &DumpLine, hottest_k: f64, say: Wording) -> Option<String> {
    if line.line.is_some() {
        return None;
    }
    let inches = say.0 == UnitSystem::Us;
    let narrowest = |material: Material| {
        let slow = |bore_m: f64| velocity_m_s(line.flow.value, bore_m) <= material.fastest_m_s(hottest_k);
        let sold = |name: &str| name.ends_with(" in") == inches;
        TUBES.iter().find(|tube| tube.material == material && sold(tube.name) && slow(tube.bore_m))
    };
    let names: Vec<String> = [Material::Copper, Material::Pex]
        .into_iter()
        .filter_map(narrowest)
        .map(|tube| tube.name.to_owned())
        .collect();
    (!names.is_empty()).then(|| {
        format!(
            "Tube for hot water of {}, at {} not narrower than {}; describe it under `dump.line` to see the flow it gives.",
            say.temperature(hottest_k),
            say.flow(line.flow.value),
            and(&names)
        )
    })
}

fn drain(flow_m3_s: f64, say: Wording) -> String {
    let trap = TRAPS.iter().find(|(takes_m3_s, _)| flow_m3_s <= *takes_m3_s);
    let trap = trap.map_or_else(
        || "more than a trap of 3 inches takes for long".to_owned(),
        |(takes_m3_s, size)| format!("a trap of {size}, which takes {}", say.flow(*takes_m3_s)),
    );
    format!(
        "For the drain: an end above the drain with an air gap, and for {} {trap} (Ontario Building Code, table 7.4.10.3, \
         semi-continuous flow; your local code rules). Clear water does not belong into a septic tank if it can go elsewhere.",
        say.flow(flow_m3_s)
    )
}

#[cfg(test)]
mod tests {
    use super::super::{L_PER_M3, MINUTE_S};
    use super::*;
    use crate::caution::example;
    use crate::report::assessment::sample;

    #[test]
    fn only_what_the_places_ask_for_is_listed() {
        let (mut household, year) = (example::household(), sample::year());
        let items = |household: &Household| {
            let line = household.dump.as_ref().expect("it has a dump");
            list(household, line, &year, Wording(household.units)).join("\n")
        };
        let drain = items(&household);
        assert!(
            drain.contains("air gap") && !drain.contains("garden") && !drain.contains("barrel"),
            "{drain}"
        );
        let place = &mut household.dump.as_mut().expect("it has a dump").destinations[0];
        (place.kind, place.temper_to) = (Destination::Irrigation, Some(crate::units::celsius(35.0)));
        let garden = items(&household);
        assert!(
            garden.contains("backflow") && garden.contains("set to 35 °C") && !garden.contains("air gap")
        );
    }

    /// Hand calculation: 8 L/min, doubled by cold water, are 0.96 m3 an hour; on 90 m2 10.7 mm, on 96 m2 10 mm, which loam just takes.
    #[test]
    fn ground_that_takes_in_less_than_comes_is_told() {
        use crate::irrigation::{PLANTS, SOILS, WATERINGS};
        let mut household = example::household();
        let line = household.dump.as_mut().expect("it has a dump");
        line.flow = crate::units::flow(8.0 / (L_PER_M3 * MINUTE_S));
        let say = Wording(crate::household::UnitSystem::Metric);
        let told = |area_m2: f64| {
            let mut place = WaterTaker::drain();
            place.takes = Takes::Ground {
                area: crate::units::square_metres(area_m2),
                soil: SOILS[2],
                plants: PLANTS[0],
                watering: WATERINGS[3],
                slope: crate::units::fraction(0.0),
            };
            intake(&place, line, 2.0, say).expect("it is ground")
        };
        assert!(told(90.0).contains("10.7 mm an hour") && told(90.0).contains("runs off"), "{}", told(90.0));
        assert!(told(95.9).contains("runs off") && told(95.9).contains("96 m2"), "{}", told(95.9));
        assert!(!told(96.1).contains("runs off"), "{}", told(96.1));
        assert_eq!(intake(&WaterTaker::drain(), line, 2.0, say), None);
    }

    /// Of 9 kg that came to a tempered drain 4 were cold: 1.8 litres for each out of the tank. What is not tempered gets what left the tank.
    #[test]
    fn a_tempered_drain_takes_its_cold_water_too() {
        let (mut household, mut year) = (example::household(), sample::year());
        let line = household.dump.as_mut().expect("it has a dump");
        line.destinations = vec![WaterTaker::drain(), WaterTaker::drain()];
        line.destinations[1].temper_to = Some(crate::units::celsius(40.0));
        year.total.dump_placed_kg = [20.0, 9.0, 0.0, 0.0];
        year.total.dump_tempering_kg = 4.0;
        let [plain, tempered] = [0, 1].map(|index| tempering(&line.destinations[index], line, &year));
        assert_eq!((plain, tempered), (1.0, 1.8));
        line.flow = crate::units::flow(9.0 / (L_PER_M3 * MINUTE_S));
        let items = list(&household, household.dump.as_ref().expect("kept"), &year, Wording(household.units));
        assert!(items.iter().any(|item| item.contains("for 16 L/min")), "{items:?}");
    }

    /// 5.4, 11.4 and 51 L/min. Source: as [`TRAPS`].
    #[test]
    fn the_trap_is_the_smallest_that_takes_the_flow() {
        let say = Wording(crate::household::UnitSystem::Metric);
        let at = |l_min: f64| drain(l_min / (L_PER_M3 * MINUTE_S), say);
        assert!(at(5.4).contains("1 1/2 inches") && at(5.5).contains("of 2 inches"));
        assert!(at(11.4).contains("of 2 inches") && at(11.5).contains("of 3 inches"));
        assert!(at(51.1).contains("more than a trap of 3 inches"));
    }
}

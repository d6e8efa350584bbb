//! The household's own installation, drawn from its scenario, with the year's flows.

use maud::{Markup, html};

use crate::household::{CoolerUnit, Household, WaterCircuit};
use crate::plant::Cause;
use crate::report::Measure;
use crate::wording::Wording;
use crate::year::Year;

/// Top and height of the tank in the drawing.
const TANK_TOP: f64 = 70.0;
const TANK_HIGH: f64 = 230.0;
/// Where the dump's line turns away below what is said of the taps.
const PAST_TAPS: f64 = 200.0;
/// Distance of two lines side by side.
const BESIDE: f64 = 12.0;

/// The drawing, with a title that says the same in words.
pub fn diagram(household: &Household, year: &Year) -> Markup {
    let units = household.units;
    let say = Wording(units);
    let total = &year.total;
    let kwh = |joules: f64| say.energy(joules);
    let at = |share: f64| TANK_TOP + TANK_HIGH * (1.0 - share.clamp(0.0, 1.0));
    let tank = &household.tank;
    let (pump_out, pump_return, draw) =
        (at(tank.pump_out.value), at(tank.pump_return.value), at(tank.draw.value));
    let CoolerUnit::HeatPump(unit) = &household.cooler;
    let passes = match unit.circuit {
        WaterCircuit::SinglePass { .. } => "single pass",
        WaterCircuit::MultiPass { .. } => "multi-pass",
    };
    let gains: f64 = Cause::ALL.iter().map(|&cause| total.gain_j[cause as usize]).sum();
    let volume = say.volume(tank.water_volume().value);
    let tanks = if tank.followed_by.is_some() { "two tanks" } else { "tank" };
    let mean = |integral: f64| say.temperature(total.mean(integral));
    let title = format!(
        "The year's flows: {} of warmth into the cold room, {} of electricity, {} from the pump into the {tanks} of {volume}, {} used at the taps, {} from \
         the booster, {} dumped, {} lost by the tank.",
        kwh(gains),
        kwh(total.electricity_total_j()),
        kwh(total.heat_to_water_j),
        kwh(total.delivered_j),
        kwh(total.booster_j),
        kwh(total.dump_j),
        kwh(total.tank_loss_j)
    );
    html! {
        svg.diagram viewBox="0 0 460 440" role="img" aria-label=(title) {
            title { (title) }
            defs {
                marker id="tip" viewBox="0 0 8 8" refX="7" refY="4" markerWidth="4.5" markerHeight="4.5" orient="auto" {
                    path d="M0 0 8 4 0 8z" fill="context-stroke" {}
                }
                linearGradient id="layers" x1="0" y1="0" x2="0" y2="1" {
                    stop.hot offset="0" {}
                    stop.cold offset="1" {}
                }
            }
            // The room and what warms it.
            text x="8" y="30" { "warmth in" }
            text.number x="8" y="48" { (kwh(gains)) }
            path.heat d="M44 56 V84" marker-end="url(#tip)" {}
            rect.room x="8" y="88" width="190" height="172" rx="3" {}
            text.name x="18" y="110" { "Cold room" }
            text x="18" y="130" { (say.temperature(total.food_k.min)) " to" }
            text x="18" y="147" { (say.temperature(total.food_k.max)) }
            // The pump.
            rect.machine x="104" y="150" width="84" height="84" rx="3" {}
            text.name x="146" y="178" text-anchor="middle" { "heat" }
            text.name x="146" y="196" text-anchor="middle" { "pump" }
            text.small x="146" y="216" text-anchor="middle" { (passes) }
            path.electric d="M146 296 V238" marker-end="url(#tip)" {}
            text x="146" y="314" text-anchor="middle" { "electricity" }
            text.number x="146" y="332" text-anchor="middle" { (kwh(total.electricity_total_j())) }
            // Pump and tank.
            path.hot d=(format!("M188 166 H216 V{pump_return:.0} H252")) marker-end="url(#tip)" {}
            path.cold d=(format!("M256 {pump_out:.0} H226 V218 H192")) marker-end="url(#tip)" {}
            text x="206" y="30" text-anchor="middle" { "hot water made" }
            text.number x="206" y="48" text-anchor="middle" { (kwh(total.heat_to_water_j)) }
            rect.tank x="256" y=(TANK_TOP) width="82" height=(TANK_HIGH) rx="16" {}
            text.name x="297" y="128" text-anchor="middle" { (volume) }
            text.small x="297" y="150" text-anchor="middle" { "top " (mean(total.tank_top_k_s)) }
            text.small x="297" y="270" text-anchor="middle" { "low " (mean(total.tank_bottom_k_s)) }
            path.cold d="M297 340 V304" marker-end="url(#tip)" {}
            text x="297" y="358" text-anchor="middle" { "cold water" }
            path.loss d="M262 286 L232 312" marker-end="url(#tip)" {}
            text.small x="204" y="332" { "lost " (kwh(total.tank_loss_j)) }
            // Taps.
            @if household.booster.is_some() {
                path.hot d=(format!("M338 {draw:.0} H352 V44 H360")) marker-end="url(#tip)" {}
                rect.machine x="364" y="20" width="90" height="50" rx="3" {}
                text.name x="409" y="41" text-anchor="middle" { "booster" }
                text.small x="409" y="60" text-anchor="middle" { "+" (kwh(total.booster_j)) }
                path.hot d="M409 72 V98" marker-end="url(#tip)" {}
            } @else {
                path.hot d=(format!("M338 {draw:.0} H409 V98")) marker-end="url(#tip)" {}
            }
            text x="409" y="116" text-anchor="middle" { "taps" }
            text.number x="409" y="134" text-anchor="middle" { (kwh(total.delivered_j)) }
            // The dump.
            @if let Some(dump) = &household.dump {
                // At its own height, a little below the taps' where both are the same; from there down past the taps.
                @let port = if dump.port == tank.draw { draw + BESIDE } else { at(dump.port.value) }.min(TANK_TOP + TANK_HIGH - BESIDE);
                @let away = port.max(PAST_TAPS);
                path.hot d=(format!("M338 {port:.0} H346 V{away:.0} H409 V322")) marker-end="url(#tip)" {}
                path.valve d=(format!("M366 {:.0} l20 14 v-14 l-20 14z", away - 7.0)) {}
                text.small x="352" y=(format!("{:.0}", away - 13.0)) { "opens " (say.temperature(dump.opens_at.value)) }
                text x="409" y="340" text-anchor="middle" { "dumped" }
                text.number x="409" y="358" text-anchor="middle" { (kwh(total.dump_j)) }
                text x="409" y="376" text-anchor="middle" { (say.volume(total.dump_m3)) }
                @for (index, place) in dump.destinations.iter().take(3).enumerate() {
                    text.small x="452" y=(398 + 18 * index) text-anchor="end" { "to " (place.name) }
                }
            }
            text.small x="8" y="432" { "a year of " (format!("{:.0}", total.duration_s / 3600.0)) " hours, " (Measure::Energy.unit(units)) " as heat over cold water" }
        }
    }
}

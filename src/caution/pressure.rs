use super::{Caution, Severity};
use crate::constants::ZERO_CELSIUS_K;
use crate::explanation::Explanation;
use crate::household::Household;
use crate::plant::{Cooler, Plant};
use crate::water::{density_kg_m3, pressure_rise_closed_pa_per_k};
use crate::wording::Wording;
use crate::year::Year;
use uom::si::pressure::pascal;
use uom::si::volume::cubic_meter;

/// Lowest temperature at which a temperature-and-pressure relief valve is allowed to open, K (200 °F, 93.3 °C).
/// Source: Chicago Municipal Code 18-29. Checked: original read. Most codes: 210 °F (99 °C).
const RELIEF_OPENS_K: f64 = ZERO_CELSIUS_K + (200.0 - 32.0) / 1.8;
/// Expansion below which nothing is said, m3: a tenth of a litre, less than house pipes and hoses take up.
/// Common practice, no source.
const EXPANSION_FROM_M3: f64 = 1.0e-4;

/// Highest pressure at which a relief valve is allowed to open, Pa over the air: 150 psi.
/// Source: Washington WAC 296-150V-1580. Checked: original read. A tank rated for less needs a lower one.
const RELIEF_PA: f64 = 1.035e6;
/// What many tanks' relief valves open at, Pa over the air: those of a tank rated for 6 bar. From memory, to be verified.
const LOWER_RELIEF_PA: f64 = 6.0e5;
/// Share of the relief's pressure that an expansion vessel may be filled to.
/// Source: a consulting engineer's technical note on expansion vessels (135 of 150 psi). Second hand: an excerpt read.
const VESSEL_TO_FRAC: f64 = 0.9;
/// Pressure of the air, Pa. Definition: standard atmosphere.
const AIR_PA: f64 = 101_325.0;
/// Rise of pressure per degree that real house pipes, which give a little, were seen to have without a vessel, Pa/K.
/// Source: a plumbing page that names none, 50 to 250 psi from 75 to 85 °F. Second hand, weak.
const SEEN_RISE_PA_PER_K: [f64; 2] = [62e3, 310e3];

const SOURCE: &str = "Expansion control and relief: Chicago Municipal Code 18-29, IPC 607.3 and 504.4, IRC P2804 (Checked: \
    Chicago and Philadelphia texts read; second hand: the rest). Relief at 150 psi or less: Washington WAC 296-150V-1580 \
    (Checked: original read). Expansion and compressibility from IAPWS-IF97; vessel by Boyle's law (Derived here). House pipes: \
    a plumbing page (Second hand, weak). A vessel filled with air to the supply's pressure: a water utility's page (Second hand). 600 kPa as a usual lower relief: From memory, to be verified. A tenth of \
    a litre as too little to matter, and what a closed loop needs: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C006",
    title: "Pressure of heated water",
    says: "How many litres the tank's water grows between its coldest and its hottest, how large a vessel \
        takes them up at the supply's pressure (`site.supply_pressure`), and after how few degrees the relief valve opens without one.",
    why: "Behind a check valve or a pressure reducer the water cannot go back to the street: \
        pressure rises by some bar for each degree until something bursts. It is the pressure that opens the \
        relief valve, long before its temperature.",
    what_to_do: "Expansion vessel and relief valve, sized and fitted by a licensed plumber; the relief \
        valve is no expansion vessel.",
    silent: Some("When the tank's water grows by less than a tenth of a litre."),
    source: Some(SOURCE),
};

/// C006, heated water in a closed system.
///
/// Limits: [`RELIEF_OPENS_K`], [`RELIEF_PA`], [`EXPANSION_FROM_M3`].
pub fn caution(household: &Household, plant: &Plant, year: &Year) -> Option<Caution> {
    let coldest_k = plant.mains_k.iter().copied().fold(f64::INFINITY, f64::min);
    let hottest_k = year.total.tank_top_k.max;
    let volume_m3 = household.tank.water_volume().get::<cubic_meter>();
    let growth_m3 = expansion_m3(volume_m3, coldest_k, hottest_k);
    if growth_m3 < EXPANSION_FROM_M3 || year.total.tank_top_k.is_empty() {
        return None;
    }
    let say = Wording(household.units);
    let supply_pa = household.site.supply_pressure.get::<pascal>();
    let (severity, relief) = if hottest_k >= RELIEF_OPENS_K {
        (
            Severity::FixFirst,
            format!(
                "At {} its relief valve may open and spray: the pump's outlet or its limit must be set lower.",
                say.temperature(hottest_k)
            ),
        )
    } else {
        (
            Severity::Know,
            "The relief valve (pressure and temperature) needs an open drain pipe of full size, without valve or trap, \
             and must never be plugged."
                .to_owned(),
        )
    };
    Some(EXPLANATION.raised(severity, format!(
            "The {} in the tank grow by {} when they warm from {} to {}. If a check valve, pressure reducer or backflow \
             preventer sits in your supply, that needs an expansion vessel on the house side; the relief valve does not \
             count as one. At a supply of {}, its air filled to that pressure while no water presses on it, a vessel of about {} takes them{}. {} {relief} {}Have a licensed plumber size and \
             fit both as your local code asks.",
            say.volume(volume_m3),
            say.volume(growth_m3),
            say.temperature(coldest_k),
            say.temperature(hottest_k),
            say.pressure(supply_pa),
            say.volume(vessel_m3(growth_m3, supply_pa, RELIEF_PA)),
            with_lower_relief(growth_m3, supply_pa, say),
            without_vessel(0.5 * (coldest_k + hottest_k), supply_pa, say),
            if plant_has_loop(plant) { OF_THE_LOOP } else { "" },
        )))
}

/// What a closed loop between pump and tank asks for. Common practice, no source.
const OF_THE_LOOP: &str = "The loop between pump and tank is closed for itself: it needs a small vessel, a relief valve and a pressure \
    gauge of its own, and where anything but drinking water fills it, an exchanger with two walls as your code may ask. ";

fn plant_has_loop(plant: &Plant) -> bool {
    let Cooler::HeatPump(pump) = &plant.cooler;
    pump.loop_gap > 0.0
}

/// Why pressure opens the relief valve in a closed system without a vessel, and its temperature never does.
fn without_vessel(water_k: f64, supply_pa: f64, say: Wording) -> String {
    let room_pa = RELIEF_PA - supply_pa;
    let rigid_pa_per_k = pressure_rise_closed_pa_per_k(water_k);
    let [least, most] = SEEN_RISE_PA_PER_K;
    format!(
        "Without one, water that cannot get out gains {} with each degree in rigid walls; house pipes give a little, and \
         {} to {} were seen. The relief valve, set to {} or less, so drips after {} to {} of warming: its pressure opens it \
         day after day while its temperature is never reached.",
        say.pressure(rigid_pa_per_k * say.one_degree_dk()),
        say.pressure(least * say.one_degree_dk()),
        say.pressure(most * say.one_degree_dk()),
        say.pressure(RELIEF_PA),
        say.difference(room_pa / rigid_pa_per_k.max(most)),
        say.difference(room_pa / least),
    )
}

/// What size the vessel has to have under the relief valve of a tank for less pressure.
fn with_lower_relief(growth_m3: f64, supply_pa: f64, say: Wording) -> String {
    let (valve, most) = (say.pressure(LOWER_RELIEF_PA), say.pressure(RELIEF_PA));
    if supply_pa < VESSEL_TO_FRAC * LOWER_RELIEF_PA {
        let vessel = say.volume(vessel_m3(growth_m3, supply_pa, LOWER_RELIEF_PA));
        format!(
            " below a relief valve of {most}, and one of about {vessel} below a valve of {valve}: read yours"
        )
    } else {
        format!(
            " below a relief valve of {most}; below one of {valve} your supply's pressure has to be reduced first"
        )
    }
}

/// Volume of the vessel that takes up a growth, m3, filled with air to the supply's pressure, below [`VESSEL_TO_FRAC`] of the relief valve's, both Pa over
/// the air.
///
/// `V = growth/(1 - p_supply/p_most)`, pressures absolute. Source: Boyle's law; Derived here.
fn vessel_m3(growth_m3: f64, supply_pa: f64, relief_pa: f64) -> f64 {
    growth_m3 / (1.0 - (supply_pa + AIR_PA) / (VESSEL_TO_FRAC * relief_pa + AIR_PA))
}

/// How much more room the water of a tank takes hot than cold, m3.
fn expansion_m3(volume_m3: f64, cold_k: f64, hot_k: f64) -> f64 {
    volume_m3 * (density_kg_m3(cold_k) / density_kg_m3(hot_k) - 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};
    use approx::assert_relative_eq;
    use uom::si::f64::Volume;

    fn with(volume_m3: f64, hottest_degc: f64) -> Option<Caution> {
        let (mut household, mut plant, mut year) = (household(), plant(), year());
        household.tank.storage.volume = Volume::new::<cubic_meter>(volume_m3);
        plant.mains_k = vec![ZERO_CELSIUS_K + 10.0; 365];
        year.total.tank_top_k.max = ZERO_CELSIUS_K + hottest_degc;
        caution(&household, &plant, &year)
    }

    #[test]
    fn three_hundred_litres_from_10_to_60_degc_grow_by_five() {
        // IAPWS-IF97 at 0.3 MPa: 999.80 and 983.30 kg/m3, 5.03 L. 0.02 L for another formulation of the density.
        assert_relative_eq!(expansion_m3(0.3, 283.15, 333.15), 5.03e-3, epsilon = 2e-5);
        // 50 US gallons from 50 to 140 °F grow by 0.84 gallons: engineering article on IPC 607.3.
        assert_relative_eq!(expansion_m3(50.0, 283.15, 333.15), 0.84, max_relative = 0.01);
    }

    #[test]
    fn a_closed_loop_asks_for_its_own_vessel() {
        let text = |loop_gap: f64| {
            let (mut plant, mut year) = (plant(), year());
            let Cooler::HeatPump(pump) = &mut plant.cooler;
            pump.loop_gap = loop_gap;
            plant.mains_k = vec![ZERO_CELSIUS_K + 10.0; 365];
            year.total.tank_top_k.max = ZERO_CELSIUS_K + 60.0;
            caution(&household(), &plant, &year).expect("the water grows").text
        };
        assert!(text(0.25).contains("a pressure gauge of its own"));
        assert!(!text(0.0).contains("loop"));
    }

    /// Boyle's law by hand: 5.03 L between 400 and 931 kPa over the air need a vessel of 9.77 L (share taken up 0.515).
    #[test]
    fn five_litres_need_a_vessel_of_ten() {
        // Below a valve of 600 kPa at 350 kPa, by hand: 5.0 L/(1 - 451/641) = 16.9 L.
        assert_relative_eq!(vessel_m3(5.0e-3, 350e3, LOWER_RELIEF_PA), 16.9e-3, max_relative = 0.01);
        let say = Wording(crate::household::UnitSystem::Metric);
        assert!(with_lower_relief(5.0e-3, 539e3, say).contains("read yours"));
        assert!(with_lower_relief(5.0e-3, 541e3, say).contains("reduced first"));
        assert_relative_eq!(vessel_m3(5.03e-3, 400e3, RELIEF_PA), 9.77e-3, max_relative = 0.01);
    }

    /// Boyle's law by hand: at 600 kPa over the air, 701 of 1033 kPa, 0.321 of the vessel is taken up, 5.03 L need 15.7 L; 435 kPa are
    /// left below the relief's pressure, which rigid walls pass within 0.6 K (0.78 MPa/K, IAPWS-IF97). At the least and the most that
    /// `site.supply_pressure` takes: 0.883 and 0.127.
    #[test]
    fn vessel_and_warming_follow_the_supply() {
        assert_relative_eq!(vessel_m3(5.03e-3, 600e3, RELIEF_PA), 15.7e-3, max_relative = 0.01);
        assert_relative_eq!(vessel_m3(1.0, 20e3, RELIEF_PA), 1.0 / 0.883, max_relative = 0.01);
        assert_relative_eq!(vessel_m3(1.0, 800e3, RELIEF_PA), 1.0 / 0.127, max_relative = 0.01);
        let (mut household, mut plant, mut year) = (household(), plant(), year());
        household.site.supply_pressure = crate::units::pascals(600e3);
        household.tank.storage.volume = Volume::new::<cubic_meter>(0.3);
        plant.mains_k = vec![ZERO_CELSIUS_K + 10.0; 365];
        year.total.tank_top_k.max = ZERO_CELSIUS_K + 60.0;
        let text = caution(&household, &plant, &year).expect("the water grows").text;
        for part in [
            "supply of 600 kPa, its air filled to that pressure",
            "a vessel of about 16 L",
            "after 0.6 degrees C",
        ] {
            assert!(text.contains(part), "{part}: {text}");
        }
    }

    #[test]
    fn pressure_opens_the_relief_valve_within_some_degrees() {
        let text = with(0.3, 60.0).unwrap().text;
        // Water at 35 °C: 0.346e-3/K over 0.4425e-9/Pa by IAPWS-IF97, 0.78 MPa/K; 635 kPa are there after 0.8 K.
        assert!(text.contains("after 0.8 degrees C to 10.2 degrees C"), "{text}");
        assert!(text.contains("never reached"), "{text}");
    }

    #[test]
    fn around_a_tenth_of_a_litre() {
        let least = EXPANSION_FROM_M3 / expansion_m3(1.0, ZERO_CELSIUS_K + 10.0, ZERO_CELSIUS_K + 60.0);
        assert_eq!(with(least * 0.999, 60.0), None);
        assert!(with(least * (1.0 + 1e-12), 60.0).is_some());
        assert!(with(least * 1.001, 60.0).is_some());
    }

    #[test]
    fn around_the_opening_of_the_relief_valve() {
        // 200 °F = 93.333 °C, Chicago Municipal Code 18-29.
        assert_eq!(with(0.3, 93.3).unwrap().severity, Severity::Know);
        assert_eq!(with(0.3, 200.0 / 1.8 - 32.0 / 1.8 + 1e-9).unwrap().severity, Severity::FixFirst);
        assert_eq!(with(0.3, 93.4).unwrap().severity, Severity::FixFirst);
    }
}

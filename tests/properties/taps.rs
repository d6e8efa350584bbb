//! What the taps get: limits in which it is known without the program.

use approx::assert_relative_eq;
use larderloop::household::Household;
use larderloop::plant::{Booster, Element, Plant, Surroundings};
use larderloop::resolution::Resolution;
use larderloop::simulate::simulate_months;
use larderloop::year::Year;

use crate::shipped::{self, edited, without};

const WATER_J_PER_KG_K: f64 = 4181.6;
const ICE_K: f64 = 273.15;

fn run(plant: &Plant, first: usize, last: usize) -> Year {
    let year =
        simulate_months(plant, &Resolution::default(), first, last, &mut ()).expect("a checked household");
    assert!(year.ledger.worst() < 1e-9, "{:?}", year.ledger);
    year
}

/// The basement with other lines under `hot_water`, in place of its amount.
fn basement(hot_water: &str) -> Household {
    shipped::household(&edited(&shipped::text("basement-chicago"), "daily: 220 L/day", hot_water), None)
}

/// A booster set to 40 °C that is strong enough meets every draw of every load profile at 40 °C: the 55 °C that the regulation wants of a
/// water heater under test are not asked of a household's tap. Source: heat balance, exact; half a kelvin of the thirty or so that a tap
/// wants for water that changes within a step.
#[test]
fn a_booster_of_40_degrees_fails_no_load_profile() {
    for pattern in ["S", "M", "L", "XL"] {
        let text =
            edited(&shipped::text("basement-chicago"), "daily: 220 L/day", &format!("pattern: {pattern}"));
        let text = text.replace("  pattern: M                            # showers, no bath\n", "");
        let text = edited(&text, "set: 45 degC", "set: 40 degC");
        let text = edited(&edited(&text, "most: 24 kW", "most: 60 kW"), "least: 3 kW", "least: 0 W");
        let household = shipped::household(&text, None);
        let year = run(&Plant::new(&household), 0, 0);
        assert!(
            year.total.booster_j > 0.0 || pattern == "S",
            "only the least of them lives on the tank alone"
        );
        assert!(year.total.shortfall_j < 1e-3 * year.total.demand_j, "{pattern}: {:?}", year.total);
        // The pattern's own day: Qref over 10 °C, here over colder water, 31 times.
        let litres = 1000.0 * household.hot_water.daily.value;
        let kg = 31.0 * litres * 0.9922;
        assert_relative_eq!(year.total.demand_kg, kg, max_relative = 1e-3);
    }
}

/// An endless draw: the tank is mains water, and all of the heat that the taps get is the booster's at full fire. Source: heat balance.
/// 2 %: what the heat pump adds to 20 000 L a day.
#[test]
fn an_endless_draw_leaves_the_booster_alone() {
    let plant = {
        let mut plant = Plant::new(&basement("daily: 20000 L/day"));
        for segment in plant.days.iter_mut().flatten() {
            segment.tap_kg_s = 0.3;
        }
        plant
    };
    let total = run(&plant, 0, 0).total;
    assert_eq!(total.tap_s, total.duration_s);
    assert_eq!(total.shortfall_s, total.duration_s);
    let booster = plant.booster.expect("the basement has a booster");
    assert_relative_eq!(total.booster_j, booster.most_w * total.duration_s, max_relative = 1e-9);
    assert_eq!(total.booster_most_w, booster.most_w);
    assert_eq!(total.booster_fires, 0.0, "it was lit in the warm-up and never went out");
    assert_relative_eq!(total.delivered_j, total.booster_j, max_relative = 0.02);
    assert_relative_eq!(total.delivered_j, total.drawn_j + total.booster_j, max_relative = 1e-9);
}

/// Nobody at home: no tap runs, no door opens, nobody works; what is drawn is nothing. Exact.
#[test]
fn a_month_away_draws_nothing() {
    let away = basement("daily: 220 L/day\n  absences: [{from: 1 Feb, to: 28 Feb}]");
    let total = run(&Plant::new(&away), 1, 1).total;
    assert_eq!((total.tap_s, total.demand_kg, total.drawn_kg, total.booster_j), (0.0, 0.0, 0.0, 0.0));
    let door = larderloop::plant::Cause::Doors as usize;
    let people = larderloop::plant::Cause::People as usize;
    assert_eq!((total.gain_j[door], total.gain_j[people]), (0.0, 0.0));
    assert!(total.run_s > 0.0, "the cold room stays on");
}

/// A mixing valve no lower than the booster's set point moves no heat: the taps mix what it leaves over. What it changes is
/// how hot the water at the tap can be. Exact.
#[test]
fn a_mixing_valve_changes_what_can_scald_and_no_heat() {
    let plant = Plant::new(&basement("daily: 220 L/day"));
    let bare = Plant { valve_k: None, ..plant.clone() };
    let (with, bare) = (run(&plant, 6, 6).total, run(&bare, 6, 6).total);
    assert_eq!((with.drawn_j, with.booster_j, with.dump_j), (bare.drawn_j, bare.booster_j, bare.dump_j));
    assert!(bare.scalding_s > 0.0);
    assert_eq!((with.scalding_s, with.scalding_without_valve_s), (0.0, bare.scalding_s));
    assert_eq!(with.hottest_at_tap_k, ICE_K + 49.0);
    assert_relative_eq!(bare.hottest_at_tap_k, bare.hottest_drawn_k, max_relative = 1e-14);
}

/// A tap fed from before the valve sees what the tank gives. Exact.
#[test]
fn a_tap_before_the_valve_is_no_safer_than_without() {
    let past = run(&Plant::new(&basement("daily: 220 L/day\n  past_valve: yes")), 6, 6).total;
    assert!(past.scalding_s > 0.0);
    assert_eq!(past.scalding_s, past.scalding_without_valve_s);
}

/// What stands in the pipes is drawn beside what is wanted: the same water is wanted, more is drawn, and delivered, unused and booster close the
/// balance. Exact.
#[test]
fn water_that_waits_in_pipes_is_drawn_beside_what_is_wanted() {
    let plain = run(&Plant::new(&basement("daily: 220 L/day")), 0, 0).total;
    let long = basement("daily: 220 L/day\n  pipes: {runs_before_warm: 3 L, cools_in: 30 min}");
    let piped = run(&Plant::new(&long), 0, 0).total;
    assert_relative_eq!(piped.demand_kg, plain.demand_kg, max_relative = 1e-5);
    // 23 draws a day of at most 3 L each.
    assert!(piped.unused_kg > 31.0 * 23.0 && piped.unused_kg < 31.0 * 23.0 * 3.0, "{} kg", piped.unused_kg);
    assert_relative_eq!(
        piped.delivered_j + piped.unused_j,
        piped.drawn_j + piped.booster_j,
        max_relative = 1e-9
    );
    assert!(piped.booster_j > plain.booster_j);
}

/// A tank at rest with an element: the water above it is held between its two switching points, the water below it is left alone, and what it
/// gave is what the tank lost and stored. Source: heat balance; bounds exact but for what one step of it gives.
#[test]
fn an_element_holds_the_water_above_it() {
    let mut plant = Plant::new(&basement("daily: 0 L/day"));
    plant.dump = None;
    plant.booster = None;
    let larderloop::plant::Cooler::HeatPump(pump) = &mut plant.cooler;
    pump.air_stop_high_k = ICE_K - 40.0;
    plant.tank.conductivity_w_per_m_k = 0.0;
    plant.tank.start_k = ICE_K + 20.0;
    let around = match plant.tank.surroundings {
        Surroundings::Boundary(index) => index,
        Surroundings::ColdRoom => unreachable!("the basement's tank stands in the basement"),
    };
    plant.boundaries[around].temperature_k.fill(ICE_K + 20.0);
    plant.element =
        Some(Element { power_w: 1500.0, height: 0.6, on_at_k: ICE_K + 50.0, off_at_k: ICE_K + 55.0 });
    let total = run(&plant, 1, 1).total;
    assert!(total.run_s == 0.0 && total.element_j > 0.0);
    assert!((ICE_K + 49.9..=ICE_K + 55.1).contains(&total.tank_top_k.max), "{:?}", total.tank_top_k);
    assert!(total.tank_top_k.min >= ICE_K + 49.9, "{:?}", total.tank_top_k);
    let bottom_k = total.mean(total.tank_bottom_k_s);
    assert_relative_eq!(bottom_k, ICE_K + 20.0, epsilon = 1e-6);
    // Above 0.6 of the height it loses 0.4 U (T - 20) all month; at most the differential is stored meanwhile.
    let stored_j = 0.4 * plant.tank.mass_kg() * WATER_J_PER_KG_K * 5.0;
    assert!(
        (total.element_j - total.tank_loss_j).abs() <= stored_j,
        "{} {}",
        total.element_j,
        total.tank_loss_j
    );
}

/// The booster's smallest fire leaves what needs less than it as it is, and water hotter than it allows passes it unheated: both are counted.
/// Source: the rule itself; a tank held between use and set point by hand.
#[test]
fn a_booster_that_stays_off_is_counted() {
    let mut plant = Plant::new(&basement("daily: 220 L/day"));
    plant.booster = Some(Booster { least_w: 23_000.0, ..plant.booster.expect("the basement has a booster") });
    let total = run(&plant, 0, 0).total;
    assert!(total.booster_unlit_s > 0.0 && total.booster_unlit_s <= total.tap_s);
    plant.booster =
        plant.booster.map(|booster| Booster { least_w: 0.0, highest_inlet_k: ICE_K + 20.0, ..booster });
    let total = run(&plant, 6, 6).total;
    assert!(total.booster_too_hot_s > 0.9 * total.tap_s, "{:?}", total.booster_too_hot_s);
    assert_eq!(total.booster_unlit_s, 0.0);
}

/// The same seed is the same year to the bit; another is another year with the same water.
#[test]
fn chance_is_repeated_by_its_seed() {
    let year = |seed: u32| {
        let line = format!("daily: 220 L/day\n  day_to_day: {{spread: 30 %, times: 20 min, seed: {seed}}}");
        run(&Plant::new(&basement(&line)), 3, 3).total
    };
    let (one, again, other) = (year(1), year(1), year(2));
    assert_eq!(one, again);
    assert_ne!(one.drawn_kg, other.drawn_kg);
    assert!((one.demand_kg / other.demand_kg - 1.0).abs() < 0.2);
}

/// Without a booster and without an element the taps get the tank's water and no more. Exact.
#[test]
fn nothing_but_the_tank_feeds_the_taps() {
    let household = shipped::household(&without(&shipped::text("basement-chicago"), "booster"), None);
    let total = run(&Plant::new(&household), 0, 0).total;
    assert_eq!((total.booster_j, total.element_j, total.booster_fires), (0.0, 0.0, 0.0));
    assert_relative_eq!(total.delivered_j, total.drawn_j, max_relative = 1e-9);
    assert!(total.shortfall_kg > 0.0 && total.shortfall_most_dk > 0.0);
    let mean_dk = total.shortfall_j / (WATER_J_PER_KG_K * total.shortfall_kg);
    assert!(mean_dk <= total.shortfall_most_dk, "{mean_dk} {}", total.shortfall_most_dk);
}

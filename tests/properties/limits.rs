//! Limits with exact answers: the standing tank, plug flow, the diffusing step, and what must not flow at all.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use larderloop::air;
use larderloop::household::Household;
use larderloop::plant::{Booster, Cause, Circuit, Cooler, Plant, Surroundings, Vessel};
use larderloop::resolution::Resolution;
use larderloop::simulate::{simulate, simulate_months};
use larderloop::tank::{Parcels, Series};
use larderloop::water;
use larderloop::year::Interval;

use crate::shipped;

const ICE_K: f64 = 273.15;
const WATER_J_PER_KG_K: f64 = 4181.6;
const KWH_J: f64 = 3.6e6;
/// Thermal diffusivity of water near 35 °C, m2/s. Source: IAPWS conductivity, density and heat capacity. Derived here.
const DIFFUSIVITY_M2_S: f64 = 1.51618e-7;

fn basement() -> Household {
    shipped::household(&shipped::text("basement-chicago"), None)
}

/// The basement's plant with everything that it is surrounded by at one temperature and humidity ratio.
fn in_one_climate(temperature_k: f64, humidity_ratio: f64) -> Plant {
    let mut plant = Plant::new(&basement());
    for boundary in &mut plant.boundaries {
        boundary.temperature_k.fill(temperature_k);
        boundary.humidity_ratio.fill(humidity_ratio);
    }
    plant
}

/// Takes everything out of the plant that makes heat or water move by itself.
fn at_rest(mut plant: Plant, temperature_k: f64) -> Plant {
    let Cooler::HeatPump(pump) = &mut plant.cooler;
    (pump.standby_w, pump.resting_fan_w) = (0.0, 0.0);
    (pump.inlet_stop_k, pump.inlet_restart_k) = (200.0, 199.0);
    plant.thermostat.on_at_k = temperature_k + 0.5;
    plant.thermostat.off_at_k = temperature_k - 0.5;
    plant.room.produce.clear();
    plant.tank.start_k = temperature_k;
    plant.mains_k.fill(temperature_k);
    (plant.booster, plant.dump) = (None, None);
    for segment in plant.days.iter_mut().flatten() {
        (segment.people, segment.lights_w, segment.tap_kg_s) = (0.0, 0.0, 0.0);
    }
    plant
}

/// 300 kg at 60 °C with 2 W/K in 20 °C: after a day 54.851 °C with c = 4180 J/(kg K), 54.853 °C with 4181.6.
/// Source: exact exponential of the energy balance of a tank at rest (Duffie and Beckman, Solar Engineering of Thermal
/// Processes). Derived here. Tolerance 0.01 K on the parcels; through the whole year's loop 1e-9 of the heat lost.
#[test]
fn a_standing_tank_cools_exponentially() {
    let mut tank = Parcels::uniform(300.0, ICE_K + 60.0, 48, 0.002, 0.02);
    let kept = libm::exp(-2.0 * 3600.0 / (300.0 * WATER_J_PER_KG_K));
    for _ in 0..24 {
        tank.lose(ICE_K + 20.0, kept);
    }
    let mean_k = tank.mass_temperature_kg_k() / tank.mass_kg();
    assert_abs_diff_eq!(mean_k - ICE_K, 54.851, epsilon = 0.01);

    // The same through the year's loop: a warm-up month of 31 days, then February.
    let mut plant = at_rest(in_one_climate(ICE_K + 20.0, 0.005), ICE_K + 20.0);
    plant.tank.start_k = ICE_K + 60.0;
    plant.tank.first = Vessel { mass_kg: 300.0, loss_w_per_k: 2.0, ..plant.tank.first };
    plant.tank.conductivity_w_per_m_k = 0.0;
    assert!(matches!(plant.tank.surroundings, Surroundings::Boundary(_)));
    let year = simulate_months(&plant, &Resolution::default(), 1, 1, &mut ()).expect("runs");
    let capacity = 300.0 * WATER_J_PER_KG_K;
    let excess_dk = |days: f64| 40.0 * (-2.0 * days * 86_400.0 / capacity).exp();
    assert_relative_eq!(
        year.total.tank_loss_j,
        capacity * (excess_dk(31.0) - excess_dk(59.0)),
        max_relative = 1e-9
    );
    assert_eq!((year.total.run_s, year.total.mains_kg), (0.0, 0.0));
}

/// Half a volume of 15 °C under 60 °C without conduction, loss or mixing: what comes out has 60 °C, the bottom half 15 °C,
/// the mean is 37.5 °C. Source: plug flow, exact. Tolerance 1e-9 K.
#[test]
fn water_moves_as_a_plug() {
    let mut tank = Parcels::uniform(300.0, ICE_K + 60.0, 48, 0.002, 0.02);
    for _ in 0..50 {
        let taken = tank.take(tank.mass_kg() - 3.0, 3.0);
        assert_abs_diff_eq!(taken.temperature_k, ICE_K + 60.0, epsilon = 1e-9);
        tank.insert(0.0, 3.0, ICE_K + 15.0);
    }
    assert_abs_diff_eq!(tank.mean_k(0.0, 149.0), ICE_K + 15.0, epsilon = 1e-9);
    assert_abs_diff_eq!(tank.mean_k(151.0, 300.0), ICE_K + 60.0, epsilon = 1e-9);
    assert_abs_diff_eq!(tank.mass_temperature_kg_k() / 300.0, ICE_K + 37.5, epsilon = 1e-9);
}

/// A tank mixed throughout, fed with 15 °C and emptied at the same rate: 42.294, 31.555 and 21.090 °C after half, one and
/// two volumes. Source: exact exponential. One parcel is a mixed tank; Euler's rule with 1500 steps a volume errs by 0.01 K.
#[test]
fn one_parcel_is_a_mixed_tank() {
    let mut tank = Parcels::uniform(300.0, ICE_K + 60.0, 1, 0.0, 0.0);
    for (half_volumes, expected) in [(1, 42.294), (1, 31.555), (2, 21.090)] {
        for _ in 0..half_volumes * 750 {
            tank.take(tank.mass_kg() - 0.2, 0.2);
            tank.insert(0.0, 0.2, ICE_K + 15.0);
        }
        assert_abs_diff_eq!(tank.mass_temperature_kg_k() / tank.mass_kg() - ICE_K, expected, epsilon = 0.02);
    }
}

/// Two tanks of 150 kg in series, each mixed throughout, fed with 15 °C and emptied from the second at the same rate: after `theta` volumes of
/// one the first is at `exp(-theta)` of its excess, the second at `(1 + theta) exp(-theta)`. Source: tanks-in-series model (Levenspiel,
/// Chemical Reaction Engineering). From memory, to be verified; Derived here: `dT2/dtheta = T1 - T2`. Euler's rule with 750 steps a volume errs by 0.03 K.
#[test]
fn two_mixed_tanks_in_series() {
    let mixed = || Parcels::uniform(150.0, ICE_K + 60.0, 1, 0.0, 0.0);
    let mut tanks = Series::pair(mixed(), mixed());
    for volumes in 1..=3 {
        for _ in 0..750 {
            tanks.take(tanks.mass_kg() - 0.2, 0.2);
            tanks.insert(0.0, 0.2, ICE_K + 15.0);
        }
        let theta = f64::from(volumes);
        let first_degc = 15.0 + 45.0 * (-theta).exp();
        let second_degc = 15.0 + 45.0 * (1.0 + theta) * (-theta).exp();
        assert_abs_diff_eq!(tanks.at_k(75.0) - ICE_K, first_degc, epsilon = 0.03);
        assert_abs_diff_eq!(tanks.at_k(225.0) - ICE_K, second_degc, epsilon = 0.03);
    }
}

/// Water moves through two tanks as through one, up and down; only warm water under the pipe stays there until it is pushed.
#[test]
fn a_pipe_between_two_tanks_lets_water_pass_and_nothing_rise() {
    let full = || Parcels::uniform(150.0, ICE_K + 60.0, 48, 0.004, 0.02);
    let (mut two, mut one) =
        (Series::pair(full(), full()), Parcels::uniform(300.0, ICE_K + 60.0, 96, 0.002, 0.02));
    for _ in 0..60 {
        two.take(two.mass_kg() - 3.0, 3.0);
        one.take(one.mass_kg() - 3.0, 3.0);
        two.insert(0.0, 3.0, ICE_K + 15.0);
        one.insert(0.0, 3.0, ICE_K + 15.0);
    }
    for position_kg in [0.0, 149.0, 151.0, 179.0, 181.0, 299.0] {
        assert_abs_diff_eq!(two.at_k(position_kg), one.at_k(position_kg), epsilon = 1e-9);
    }
    assert_abs_diff_eq!(two.mean_k(120.0, 200.0), one.mean_k(120.0, 200.0), epsilon = 1e-9);
    assert_eq!(
        two.mass_to_change_kg(100.0, true, 1.0, &[]),
        one.mass_to_change_kg(100.0, true, 1.0, &[], None)
    );
    // Back down: the pump takes 60 kg at the bottom and returns them at the top.
    for _ in 0..20 {
        let taken = two.take(0.0, 3.0);
        assert_abs_diff_eq!(taken.temperature_k, ICE_K + 15.0, epsilon = 1e-9);
        two.insert(two.mass_kg(), 3.0, ICE_K + 60.0);
    }
    assert_abs_diff_eq!(two.mean_k(0.0, 119.0), ICE_K + 15.0, epsilon = 1e-9);
    assert_abs_diff_eq!(two.mean_k(121.0, 300.0), ICE_K + 60.0, epsilon = 1e-9);

    // Hot water let in at the foot of the first tank rises to the pipe and no further.
    let cold = || Parcels::uniform(150.0, ICE_K + 15.0, 48, 0.004, 0.02);
    let mut tanks = Series::pair(cold(), cold());
    let taken = tanks.take(0.0, 30.0);
    tanks.insert(0.0, taken.mass_kg, ICE_K + 60.0);
    assert_abs_diff_eq!(tanks.mean_k(0.0, 150.0), ICE_K + 24.0, epsilon = 1e-9);
    assert_abs_diff_eq!(tanks.mean_k(151.0, 300.0), ICE_K + 15.0, epsilon = 1e-9);
    tanks.conduct(1.0, 1.0, 3600.0);
    assert_abs_diff_eq!(tanks.mean_k(151.0, 300.0), ICE_K + 15.0, epsilon = 1e-9);
    assert_abs_diff_eq!(tanks.mass_temperature_kg_k() / 300.0, ICE_K + 19.5, epsilon = 1e-9);
}

/// A step of 60 over 10 °C in the middle of a tank of 1.6 m.
fn step_in_temperature(parcels: usize) -> Parcels {
    let mut tank = Parcels::uniform(300.0, ICE_K + 60.0, parcels, 0.05 / parcels as f64, 0.02);
    tank.take(0.0, 150.0);
    tank.insert(0.0, 150.0, ICE_K + 10.0);
    tank
}

/// `k A M/(H c)` with `k = alpha rho c` and `rho A H = M`: `alpha (M/H)^2`, kg2/s.
fn spread_kg2_s() -> f64 {
    let per_metre = 300.0 / 1.6;
    DIFFUSIVITY_M2_S * per_metre * per_metre
}

/// 43.445, 50.443 and 57.986 °C at 0.05, 0.10 and 0.20 m above a step of 60/10 °C after 12 hours.
/// Source: `35 + 25 erf(z/(2 sqrt(alpha t)))`, exact in an endless tank. Tolerance 0.2 K with layers of 1 cm and steps
/// of a sixteenth of an hour; at the year's own 48 parcels and half hours 1 K.
#[test]
fn a_step_diffuses_as_the_error_function() {
    for (parcels, step_s, tolerance_dk) in [(160, 225.0, 0.2), (48, 1800.0, 1.0)] {
        let mut tank = step_in_temperature(parcels);
        for _ in 0..(43_200.0 / step_s) as usize {
            tank.conduct(spread_kg2_s(), step_s);
        }
        for (above_m, expected) in [(0.05, 43.445), (0.10, 50.443), (0.20, 57.986)] {
            let half_kg = 300.0 / 160.0 / 2.0;
            let at_kg = 150.0 + above_m * 300.0 / 1.6;
            let here_k = tank.mean_k(at_kg - half_kg, at_kg + half_kg);
            assert_abs_diff_eq!(here_k - ICE_K, expected, epsilon = tolerance_dk);
        }
        assert_relative_eq!(tank.mass_temperature_kg_k() / 300.0, ICE_K + 35.0, max_relative = 1e-12);
    }
}

/// Height from a tenth to nine tenths of the step after 1, 6 and 24 hours: 0.0847, 0.2074, 0.4149 m.
/// Source: `3.625 sqrt(alpha t)`. Tolerance 3 %, and a layer where the step is still thin.
#[test]
fn a_step_grows_with_the_root_of_time() {
    let mut tank = step_in_temperature(320);
    let mut hours_gone = 0;
    for (hours, thickness_m) in [(1, 0.0847), (6, 0.2074), (24, 0.4149)] {
        for _ in 0..(hours - hours_gone) * 60 {
            tank.conduct(spread_kg2_s(), 60.0);
        }
        hours_gone = hours;
        let height_of = |temperature_k: f64| {
            let kg = (0..3200).map(|tenth| 0.1 * f64::from(tenth) * 300.0 / 320.0);
            kg.take_while(|&kg| tank.at_k(kg) < temperature_k).count() as f64 * 0.1 / 320.0 * 1.6
        };
        let measured_m = height_of(ICE_K + 55.0) - height_of(ICE_K + 15.0);
        assert_abs_diff_eq!(measured_m, thickness_m, epsilon = 0.03 * thickness_m + 0.005);
    }
}

/// 100 L measured hot at 60 over 10, 55 over 15 and 65 over 20 °C carry 5.711, 4.579 and 5.124 kWh; 5 kWh at 55 over 15 °C
/// are 109.2 L, 8 kWh at 55 over 18 °C 188.9 L. Source: IAPWS-IF97 enthalpies and densities. Derived here.
/// Tolerance 0.3 %: one specific heat for all water.
#[test]
fn dumped_litres_carry_their_enthalpy() {
    let kwh = |m3: f64, hot: f64, cold: f64| {
        m3 * water::density_kg_m3(ICE_K + hot)
            * larderloop::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K
            * (hot - cold)
            / KWH_J
    };
    for (hot, cold, expected) in [(60.0, 10.0, 5.711), (55.0, 15.0, 4.579), (65.0, 20.0, 5.124)] {
        assert_relative_eq!(kwh(0.1, hot, cold), expected, max_relative = 3e-3);
    }
    for (litres, hot, cold, expected) in [(109.2, 55.0, 15.0, 5.0), (188.9, 55.0, 18.0, 8.0)] {
        assert_relative_eq!(kwh(litres / 1000.0, hot, cold), expected, max_relative = 3e-3);
    }
}

/// The same from a year: the dump's heat is its litres at the temperature between its probe's points and the pump's outlet.
/// Source: energy balance. Tolerance: the bounds themselves.
#[test]
fn the_dump_s_heat_and_litres_belong_together() {
    let household = basement();
    let plant = Plant::new(&household);
    let year = shipped::year(&household);
    let dumping: Vec<&Interval> = year.months.iter().filter(|month| month.dump_kg > 100.0).collect();
    assert!(!dumping.is_empty());
    for month in dumping {
        let density = month.dump_kg / month.dump_m3;
        let over_mains_dk = month.dump_j / (month.dump_kg * WATER_J_PER_KG_K);
        let mains = &plant.mains_k;
        let (first, last) = (
            plant.calendar.month_starts_h[month.month] / 24,
            plant.calendar.month_starts_h[month.month + 1] / 24,
        );
        let mean_mains_k = mains[first..last].iter().sum::<f64>() / (last - first) as f64;
        let hot_k = mean_mains_k + over_mains_dk;
        assert!((ICE_K + 30.0..ICE_K + 70.0).contains(&hot_k), "{} K", hot_k);
        // Mains moves by 1 K in a month: 0.05 % of density.
        assert_relative_eq!(density, water::density_kg_m3(hot_k), max_relative = 2e-3);
    }
}

/// Where everything has one temperature and one humidity nothing flows. Source: second law. Tolerance 1 J a month.
#[test]
fn equal_temperatures_move_no_heat() {
    let temperature_k = ICE_K + 12.0;
    let mut plant = in_one_climate(temperature_k, 0.0);
    let humidity = air::humidity_ratio_from_relative_humidity(temperature_k, 0.85, plant.pressure_pa);
    for boundary in &mut plant.boundaries {
        boundary.humidity_ratio.fill(humidity);
    }
    let plant = at_rest(plant, temperature_k);
    let total = simulate_months(&plant, &Resolution::default(), 5, 5, &mut ()).expect("runs").total;
    for cause in Cause::ALL {
        assert_abs_diff_eq!(total.gain_j[cause as usize], 0.0, epsilon = 1.0);
    }
    for joule in
        [total.tank_loss_j, total.heat_to_water_j, total.heat_from_room_j, total.electricity_total_j()]
    {
        assert_abs_diff_eq!(joule, 0.0, epsilon = 1.0);
    }
    assert_abs_diff_eq!(total.vapour_in_kg, 0.0, epsilon = 1e-6);
}

/// A door that is never opened brings nothing in, and a curtain that stops all of it neither. Exact.
#[test]
fn a_door_never_opened_lets_nothing_in() {
    let text = shipped::text("basement-chicago");
    let shut = shipped::edited(&text, "openings:", "openings: 0 per day");
    let curtained = shipped::edited(&text, "curtain:", "curtain: 100 %");
    for text in [shut, curtained] {
        let plant = Plant::new(&shipped::household(&text, None));
        let total = simulate_months(&plant, &Resolution::default(), 6, 6, &mut ()).expect("runs").total;
        assert_eq!(total.gain_j[Cause::Doors as usize], 0.0);
        assert!(total.gain_j[Cause::Leakage as usize] > 0.0);
    }
}

/// Bone-dry air brings no water: all that the room loses or the coil catches was there at the start. Saturated warm air
/// wets coil or walls. Source: conservation of water; psychrometrics for the sign. Tolerance: what the air can hold.
#[test]
fn dry_air_brings_no_water_and_saturated_air_does() {
    let july = |humidity_ratio: f64| {
        let mut plant = in_one_climate(ICE_K + 20.0, humidity_ratio);
        plant.room.produce.clear();
        let total = simulate_months(&plant, &Resolution::default(), 6, 6, &mut ()).expect("runs").total;
        (plant, total)
    };
    let (plant, dry) = july(0.0);
    let holds_kg =
        plant.room.air_mass_kg * air::saturation_humidity_ratio_over_water(dry.air_k.max, plant.pressure_pa);
    assert!(dry.run_s > 0.0);
    assert!(dry.vapour_in_kg <= 0.0, "{} kg of vapour out of nothing", dry.vapour_in_kg);
    assert!(dry.condensate_kg + dry.wall_condensate_kg <= holds_kg);
    let saturated = air::saturation_humidity_ratio_over_water(ICE_K + 20.0, plant.pressure_pa);
    let (_, wet) = july(saturated);
    assert!(wet.condensate_kg + wet.wall_condensate_kg > 10.0 * holds_kg, "{wet:?}");
    assert_abs_diff_eq!(wet.vapour_in_kg, wet.condensate_kg + wet.wall_condensate_kg, epsilon = holds_kg);
}

/// An R744 unit whose aquastat is turned from 50 down to 35 °C sees colder water: its COP rises, it draws less, more litres
/// are dumped. Source: R744 cycles lose COP with warmer water (Nekså 2002; cycle calculations). Second hand. Sign only.
#[test]
fn a_lower_aquastat_trades_litres_for_cop() {
    let of = |opens: u32, closes: u32| {
        let text = shipped::text("basement-chicago");
        let text = shipped::edited(&text, "opens_at:", &format!("opens_at: {opens} degC"));
        let text = shipped::edited(&text, "closes_at:", &format!("closes_at: {closes} degC"));
        // Both stay below the water that stops the pump.
        let text = shipped::edited(&text, "highest_inlet:", "highest_inlet: 55 degC");
        let household = shipped::household(&text, None);
        simulate(&Plant::new(&household), &Resolution::default(), &mut ()).expect("runs").total
    };
    let (warm, cool) = (of(50, 45), of(35, 30));
    assert!(cool.cop() > warm.cop(), "{:?} and {:?}", cool.cop(), warm.cop());
    assert!(cool.electricity_total_j() < warm.electricity_total_j());
    assert!(cool.dump_m3 > warm.dump_m3);
    assert!(cool.mean_inlet_k() < warm.mean_inlet_k());
}

/// Without a booster the taps get what the tank has; with one that cannot fire neither more nor less. Exact to 1e-12.
#[test]
fn a_booster_without_fire_is_no_booster() {
    let household = basement();
    let mut plant = Plant::new(&household);
    plant.booster = None;
    let without = simulate_months(&plant, &Resolution::default(), 0, 0, &mut ()).expect("runs").total;
    plant.booster = Some(Booster {
        set_k: plant.use_k,
        most_w: 1e9,
        least_w: 1e9,
        efficiency: 1.0,
        highest_inlet_k: f64::INFINITY,
    });
    let unlit = simulate_months(&plant, &Resolution::default(), 0, 0, &mut ()).expect("runs").total;
    assert_eq!(unlit.booster_j, 0.0);
    assert_relative_eq!(unlit.delivered_j, without.delivered_j, max_relative = 1e-12);
    let Cooler::HeatPump(pump) = &plant.cooler;
    assert!(matches!(pump.circuit, Circuit::SinglePass { .. }));
}

/// Mains let in above the pump's outlet never reaches it from below: the inlet is water of the tank, and no hour's top is
/// hotter than the outlet aimed at. Exact bounds; 0.5 K for the inlet foretold for a step.
#[test]
fn mains_above_the_pump_s_outlet_leave_its_inlet_in_bounds() {
    let mut plant = Plant::new(&basement());
    (plant.tank.cold_in, plant.tank.pump_out, plant.tank.pump_return, plant.tank.draw) =
        (0.8, 0.33, 0.51, 0.9);
    let year = simulate_months(&plant, &Resolution::default(), 6, 6, &mut ()).expect("runs");
    let coldest_k = plant.mains_k.iter().copied().fold(f64::INFINITY, f64::min);
    let Cooler::HeatPump(pump) = &plant.cooler;
    let inlet_k = year.total.mean_inlet_k().expect("it runs in July");
    assert!((coldest_k..=pump.inlet_stop_k).contains(&inlet_k), "{inlet_k} K");
    let Circuit::SinglePass { outlet_k, .. } = pump.circuit else {
        panic!("the basement's unit is single pass")
    };
    assert!(year.total.tank_top_k.max <= outlet_k + 0.5, "{:?}", year.total.tank_top_k);
}

/// The basement in a power cut of two months, the second of which is told, with a tank that loses nothing.
fn without_power(tank_kg: f64, tank_degc: f64, mains_degc: f64) -> Plant {
    let mut plant = Plant::new(&basement());
    let Cooler::HeatPump(pump) = &mut plant.cooler;
    (pump.standby_w, pump.resting_fan_w) = (0.0, 0.0);
    plant.thermostat.off_in = [true; 12];
    (plant.booster, plant.element, plant.dump) = (None, None, None);
    plant.mains_k.fill(ICE_K + mains_degc);
    plant.tank.start_k = ICE_K + tank_degc;
    plant.tank.first = Vessel { mass_kg: tank_kg, loss_w_per_k: 0.0, ..plant.tank.first };
    plant
}

/// In a power cut no machine runs, nothing is drawn from the net, the hot water of before is soon used up, and the taps get the mains' water
/// alone: all heat that is wanted is missing. Exact; 1e-9 for the order of adding.
#[test]
fn a_power_cut_leaves_the_mains_water() {
    let plant = without_power(300.0, 50.0, 10.0);
    let total = simulate_months(&plant, &Resolution::default(), 1, 1, &mut ()).expect("runs").total;
    assert_eq!((total.electricity_total_j(), total.heat_to_water_j, total.starts), (0.0, 0.0, 0.0));
    assert!(total.demand_j > 0.0 && total.tap_s > 0.0);
    assert_abs_diff_eq!(total.delivered_j / total.demand_j, 0.0, epsilon = 1e-9);
    assert_relative_eq!(total.shortfall_j, total.demand_j, max_relative = 1e-9);
    assert_relative_eq!(total.shortfall_s, total.tap_s, max_relative = 1e-9);
}

/// A tank of 100,000 m3 that is 5 K colder than the mains takes heat out of what is drawn; a booster of any power makes good for that too.
/// Exact: the heat balance at the tap; 1e-9 for the order of adding, 0.1 % where the tank warms.
#[test]
fn a_tank_colder_than_the_mains_costs_the_booster_more_than_is_wanted() {
    let mut plant = without_power(1e8, 10.0, 15.0);
    plant.valve_k = None;
    let bare = simulate_months(&plant, &Resolution::default(), 1, 1, &mut ()).expect("runs").total;
    // All that runs comes from the tank, which what enters warms by a ten-thousandth of the difference.
    assert_relative_eq!(bare.drawn_j, -5.0 * WATER_J_PER_KG_K * bare.drawn_kg, max_relative = 1e-3);
    assert_relative_eq!(bare.delivered_j + bare.unused_j, bare.drawn_j, max_relative = 1e-9);
    assert!(bare.shortfall_j > bare.demand_j);
    plant.booster = Some(Booster {
        set_k: plant.use_k,
        most_w: 1e9,
        least_w: 0.0,
        efficiency: 1.0,
        highest_inlet_k: f64::INFINITY,
    });
    let boosted = simulate_months(&plant, &Resolution::default(), 1, 1, &mut ()).expect("runs").total;
    // The water drawn is foretold for each step.
    assert_relative_eq!(boosted.delivered_j, boosted.demand_j, max_relative = 1e-6);
    assert_eq!(boosted.shortfall_s, 0.0);
    let got_j = boosted.delivered_j + boosted.unused_j;
    assert_relative_eq!(boosted.booster_j, got_j - boosted.drawn_j, max_relative = 1e-9);
    assert!(boosted.booster_j > got_j && boosted.drawn_j < 0.0);
}

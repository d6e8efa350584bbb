//! Fans and air conditioner of the plain program, and the engine against it: one month for each.
//!
//! Written from `docs/MODEL.md` section 7c, by halving where the engine solves.

use super::agreement::{Tolerance, agree, both};
use super::plain::{interpolate, moist_air_kg_m3, saturated_at_coil};
use approx::assert_relative_eq;
use larderloop::heat_pump::{AIR_CONDITIONER_CYCLE, CycleMap, RatedUnit, Rating};
use larderloop::plant::{
    AirCooled, Caller, Circuit, Cooler, Defrost, DefrostBegins, HeatPump, HotPipe, Load, OutdoorFans, Plant,
};

const ICE_K: f64 = 273.15;
/// Specific and latent heat as in `docs/MODEL.md` section 2.
const AIR_J_PER_KG_K: f64 = 1006.0;
const LATENT_J_PER_KG: f64 = 2.4914e6;
/// Assumptions of the cycle maps: approach, shell loss and fan.
const COIL_DK: f64 = 7.0;
const SHELL: f64 = 0.10;
const FAN: f64 = 0.025;
/// The condenser of `docs/MODEL.md` section 7c.
const CONDENSER_FARTHER_DK: f64 = 4.0;
const CONDENSER_RISE_DK: f64 = 10.0;

/// Air on both sides.
#[derive(Debug, Clone, Copy)]
pub struct Airs {
    pub room_k: f64,
    pub humidity: f64,
    pub outdoor_k: f64,
    pub pressure_pa: f64,
}

/// What the air conditioner takes from the air at its surface, what its compressor draws, and how cold the surface is.
#[derive(Debug, Clone, Copy)]
pub struct Cooled {
    pub surface_w: f64,
    pub compressor_w: f64,
    pub coil_k: f64,
}

/// The air conditioner with a share of the heat that frost leaves: its surface is sought by halving, its condenser's share of the
/// rated heat by putting it in again.
pub fn cooled(pump: &HeatPump, unit: &AirCooled, airs: Airs, keeps: f64) -> Cooled {
    let at = |coil_k: f64, share: f64| {
        let (ln_cop, ln_capacity) = interpolate(
            &pump.map,
            coil_k + COIL_DK,
            airs.outdoor_k + CONDENSER_FARTHER_DK * share,
            CONDENSER_RISE_DK * share,
        );
        let heat = libm::exp(ln_capacity);
        let power = heat / libm::exp(ln_cop);
        let compressor = (power - FAN * heat) / (1.0 - FAN * (1.0 - SHELL));
        let taken_up = heat - (1.0 - SHELL) * compressor;
        (keeps * pump.capacity_w * taken_up, pump.capacity_w * compressor / pump.cop_factor)
    };
    let settled = |coil_k: f64| {
        // The share moves the heat by a tenth of itself.
        let mut share = 1.0;
        for _ in 0..5 {
            let (surface_w, compressor_w) = at(coil_k, share);
            share = (surface_w + compressor_w) / unit.rated_heat_w;
        }
        at(coil_k, share)
    };
    let given_w = |coil_k: f64| {
        let excess = (airs.humidity - saturated_at_coil(coil_k, airs.pressure_pa)).max(0.0);
        unit.contact_kg_s * (AIR_J_PER_KG_K * (airs.room_k - coil_k) + LATENT_J_PER_KG * excess)
    };
    let (mut low_k, mut high_k) = (airs.room_k - 60.0, airs.room_k);
    for _ in 0..24 {
        let coil_k = 0.5 * (low_k + high_k);
        if given_w(coil_k) > settled(coil_k).0 { low_k = coil_k } else { high_k = coil_k }
    }
    let (surface_w, compressor_w) = settled(low_k);
    Cooled { surface_w, compressor_w, coil_k: low_k }
}

/// Dry outdoor air that the fans blow in, kg/s.
pub fn blown_kg_s(fans: &OutdoorFans, room_k: f64, outdoor_k: f64, humidity: f64, pressure_pa: f64) -> f64 {
    let dry_kg_m3 = moist_air_kg_m3(outdoor_k, humidity, pressure_pa) / (1.0 + humidity);
    let share = if fans.mixes && outdoor_k < fans.coldest_k {
        (room_k - fans.coldest_k) / (room_k - outdoor_k)
    } else {
        1.0
    };
    fans.flow_m3_s * dry_kg_m3 * share.clamp(0.0, 1.0)
}

/// Whether outdoor air may be blown in.
pub fn may_blow(fans: &OutdoorFans, room_k: f64, outdoor_k: f64, blowing: bool) -> bool {
    let margin_dk = if blowing { fans.margin_dk / 2.0 } else { fans.margin_dk };
    let not_too_cold = if fans.mixes {
        room_k > fans.coldest_k || outdoor_k >= fans.coldest_k
    } else {
        outdoor_k >= fans.coldest_k
    };
    room_k - outdoor_k >= margin_dk && not_too_cold
}

fn fans(mixes: bool) -> OutdoorFans {
    OutdoorFans {
        flow_m3_s: 0.08,
        power_w: 25.0,
        margin_dk: 2.0,
        coldest_k: ICE_K,
        mixes,
        helped_from_dk: 0.8,
    }
}

fn pump(plant: &mut Plant) -> &mut HeatPump {
    let Cooler::HeatPump(pump) = &mut plant.cooler;
    pump
}

/// An air conditioner in place of the heat pump.
fn with_conditioner(plant: &mut Plant) {
    let map = CycleMap::of(AIR_CONDITIONER_CYCLE);
    let rating = Rating { cooling_w: 2000.0, power_w: 650.0, fan_w: 80.0 };
    let rated = RatedUnit::new(&map, &rating).expect("a unit like any");
    *pump(plant) = HeatPump {
        map,
        capacity_w: rated.capacity_w,
        cop_factor: rated.cop_factor,
        caller: Caller::Room,
        frosted_factor: 0.9,
        defrost: Some(Defrost {
            begins: DefrostBegins::Frost(0.05),
            takes_s: 240.0,
            power_w: 80.0,
            thaws_s: 1800.0,
        }),
        frost_guard: None,
        circuit: Circuit::OutdoorAir(rated.air_side),
        loop_gap: 0.0,
        circulator_w: 0.0,
        standby_w: 5.0,
        resting_fan_w: 0.0,
        shell_outside_frac: 0.0,
        inlet_stop_k: 1000.0,
        inlet_restart_k: 999.0,
        air_stop_low_k: ICE_K + 0.5,
        air_stop_high_k: ICE_K + 50.0,
        hot_pipe: HotPipe { loss_w_per_k: 0.0, capacity_j_per_k: 0.0 },
        ..pump(plant).clone()
    };
    plant.dump = None;
}

const SCENARIO: &str = "basement-chicago.yaml";
const JANUARY: usize = 0;
const MARCH: usize = 2;
const MAY: usize = 4;

/// Fans alone, in a month with outdoor air far below freezing: mixed, and resting in it.
#[test]
fn fans_alone() {
    for mixes in [true, false] {
        let (plant, engine, plain) = both(SCENARIO, 48, MARCH, MARCH, |plant| {
            pump(plant).caller = Caller::Nobody;
            plant.fans = Some(fans(mixes));
        });
        assert!(engine.fans_s > 100_000.0 && engine.starts == 0.0);
        assert_relative_eq!(engine.fans_s, plain.fans_s, max_relative = 0.01);
        assert_relative_eq!(engine.aired_j, plain.aired_j, max_relative = 0.01);
        assert_relative_eq!(engine.air_k_s / engine.duration_s, plain.mean_k(plain.air), epsilon = 0.02);
        let load = Load::OutdoorFans as usize;
        assert_relative_eq!(engine.electricity_j[load], plain.electricity_j[load], max_relative = 0.01);
        assert_relative_eq!(engine.vapour_in_kg, plain.vapour_in_kg, max_relative = 0.02);
        assert_eq!(plant.fans.map(|fans| fans.mixes), Some(mixes));
    }
}

/// The pump helps where the fans do not hold the room, and takes over in warmer air.
#[test]
fn fans_come_before_the_pump() {
    let (plant, engine, plain) = both(SCENARIO, 96, MARCH, MARCH, |plant| plant.fans = Some(fans(true)));
    assert!(engine.fans_s > 50_000.0 && engine.starts > 50.0);
    assert_relative_eq!(engine.fans_s, plain.fans_s, max_relative = 0.02);
    assert_relative_eq!(engine.aired_j, plain.aired_j, max_relative = 0.02);
    agree(&plant, &engine, &plain, Tolerance { all: 0.02, ..Tolerance::default() });
}

/// In May its coil frosts and thaws; in January the outdoor air is colder than any of the map's nodes.
#[test]
fn an_air_conditioner() {
    for month in [JANUARY, MAY] {
        let (_, engine, plain) = both(SCENARIO, 48, month, month, with_conditioner);
        assert!(
            engine.starts > 50.0 && (month == JANUARY || engine.defrosts > 30.0),
            "{} {}",
            engine.starts,
            engine.defrosts
        );
        assert_relative_eq!(engine.electricity_total_j(), plain.electricity_total_j(), max_relative = 0.01);
        assert_relative_eq!(engine.heat_from_room_j, plain.heat_from_room_j, max_relative = 0.01);
        assert_relative_eq!(engine.rejected_j, plain.rejected_j, max_relative = 0.01);
        assert_relative_eq!(engine.condensate_kg, plain.condensate_kg, max_relative = 0.02);
        assert_relative_eq!(engine.defrosts, plain.defrosts, max_relative = 0.03, epsilon = 5.0);
        assert_relative_eq!(engine.starts, plain.starts, max_relative = 0.02, epsilon = 5.0);
    }
}

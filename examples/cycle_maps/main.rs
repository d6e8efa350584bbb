//! Calculates the cycle maps of `src/heat_pump/maps`.
//!
//!     cargo run --release --example cycle_maps                  writes all maps
//!     cargo run --release --example cycle_maps -- --between 500 compares the maps with cycles at random places between their nodes
//!
//! `docs/CYCLE_MAPS.md` says what is calculated and from what.
#![allow(clippy::print_stdout, reason = "a program for the terminal")]

mod cycle;
mod fluid;
mod machines;

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use clap::Parser;
use larderloop::heat_pump::{Cycle, CycleMap, ROOM_AIR_DEGC, WATER_IN_DEGC, WATER_RISE_DK, log_mean_k};
use rayon::prelude::*;

use crate::cycle::{Liquid, Machine, Work};
use crate::fluid::ZERO_CELSIUS_K;
use crate::machines::{REFERENCE_DEGC, Recipe, Store, recipe};

#[derive(Parser)]
struct Arguments {
    /// Only the maps whose file name contains this.
    #[arg(long, default_value = "")]
    only: String,
    /// Compare the maps with this many cycles each at random places between their nodes, and write nothing.
    #[arg(long)]
    between: Option<usize>,
    /// Where to write.
    #[arg(long, default_value = "src/heat_pump/maps")]
    into: PathBuf,
}

fn main() -> std::io::Result<()> {
    let arguments = Arguments::parse();
    let mut store = Store::default();
    for cycle in Cycle::ALL.into_iter().filter(|cycle| cycle.file_name().contains(&arguments.only)) {
        let recipe = recipe(cycle);
        let machine = store.machine(&recipe);
        match arguments.between {
            Some(points) => println!("{}", between(&recipe, &machine, points)),
            None => write(&recipe, &machine, &arguments.into)?,
        }
    }
    Ok(())
}

fn kelvin(degc: f64) -> f64 {
    degc + ZERO_CELSIUS_K
}

fn reference(machine: &Machine) -> Work {
    let (air, water_in, water_out) = REFERENCE_DEGC;
    let work = machine.in_room(kelvin(air)).heat_water(kelvin(water_in), kelvin(water_out));
    work.expect("every machine heats water from 10 to 55 °C")
}

fn write(recipe: &Recipe, machine: &Machine, into: &Path) -> std::io::Result<()> {
    let reference = reference(machine);
    let rows: Vec<String> = ROOM_AIR_DEGC
        .par_iter()
        .map(|&air| {
            let room = machine.in_room(kelvin(air));
            let mut rows = String::new();
            for water_in in WATER_IN_DEGC {
                for rise in WATER_RISE_DK {
                    let _ = write!(rows, "{air},{water_in},{rise},");
                    let work = room.heat_water(kelvin(water_in), kelvin(water_in) + rise);
                    let _ = match work {
                        Some(work) => writeln!(
                            rows,
                            "{:.4},{:.4},{:.2},{:.2},{}",
                            work.cop,
                            work.swept_j_m3 / reference.swept_j_m3,
                            work.discharge_pa / 1e5,
                            work.discharge_k - ZERO_CELSIUS_K,
                            u8::from(work.at_highest_pressure),
                        ),
                        None => writeln!(rows, ",,,,"),
                    };
                }
            }
            rows
        })
        .collect();
    let path = into.join(recipe.cycle.file_name());
    std::fs::write(&path, head(recipe) + &rows.concat())?;
    println!("{} (COP {:.3} at the reference)", path.display(), reference.cop);
    Ok(())
}

fn head(recipe: &Recipe) -> String {
    let version = env!("CARGO_PKG_VERSION");
    let liquid = match recipe.liquid {
        Liquid::Ordinary => "subcooling at most 5 K",
        Liquid::Deep => "subcooling as deep as the pinch allows",
        Liquid::SuctionExchanger => {
            "subcooling as deep as the pinch allows, suction exchanger of effectiveness 0.5"
        }
    };
    let superheat = if recipe.liquid == Liquid::SuctionExchanger { 2 } else { 5 };
    let efficiency = match recipe.compressor {
        cycle::Compressor::Transcritical => "eta_is = 1.003 - 0.121 r, motor and mechanical 0.90",
        cycle::Compressor::Subcritical => "eta_is = 0.874 - 0.0135 r, motor and mechanical 0.80",
    };
    let exchanger =
        if recipe.cycle.tank_coil() { "coil at the tank" } else { "plate exchanger in counterflow" };
    format!(
        "# {refrigerant}, {liquid}, discharge up to {highest} bar, {exchanger}\n\
         # made by larderloop {version}, examples/cycle_maps, with the equation of state named in examples/cycle_maps/fluids.json\n\
         # approach {approach} K, pinch {pinch} K, superheat {superheat} K, {efficiency}, shell loss 10 %, fan 25 W per kW of evaporator duty\n\
         # capacity is heat to water relative to room air 4 degC, water 10 to 55 degC; an empty node cannot be reached by the cycle\n\
         room_air_degc,water_in_degc,water_rise_k,cop,capacity,discharge_bar,discharge_degc,at_highest_pressure\n",
        refrigerant = recipe.refrigerant,
        highest = recipe.highest_bar,
        approach = recipe.exchanger.approach_dk,
        pinch = recipe.exchanger.pinch_dk,
    )
}

/// Water that is, in its log mean, nearer to the room's air than this has a COP that runs away, K.
const LEAST_LIFT_DK: f64 = 10.0;

/// Root mean square and largest error of COP and capacity off the nodes, per cent.
fn between(recipe: &Recipe, machine: &Machine, points: usize) -> String {
    let (map, reference) = (CycleMap::of(recipe.cycle), reference(machine));
    let spread = |axis: &[f64], share: f64| axis[0] + share * (axis[axis.len() - 1] - axis[0]);
    let errors: Vec<(f64, f64, bool, String)> = (0..points)
        .into_par_iter()
        .filter_map(|index| {
            let [a, i, r] = share(index);
            let (air, water_in) = (spread(&ROOM_AIR_DEGC, a), spread(&WATER_IN_DEGC, i));
            let rise = spread(&WATER_RISE_DK, r * r);
            let (in_k, out_k) = (kelvin(water_in), kelvin(water_in) + rise);
            let point = map.at(kelvin(air), in_k, rise);
            if point.outside.unreachable || log_mean_k(in_k, out_k) - kelvin(air) < LEAST_LIFT_DK {
                return None;
            }
            let work = machine.in_room(kelvin(air)).heat_water(in_k, out_k)?;
            let capacity = work.swept_j_m3 / reference.swept_j_m3;
            let place = format!("air {air:.1}, water {water_in:.1} to {:.1} degC", water_in + rise);
            Some((
                100.0 * (point.cop / work.cop - 1.0),
                100.0 * (point.capacity / capacity - 1.0),
                work.at_highest_pressure,
                place,
            ))
        })
        .collect();
    let of = |limited: Option<bool>| {
        let chosen: Vec<_> = errors.iter().filter(|e| limited.is_none_or(|l| e.2 == l)).collect();
        let rms = |pick: fn(&(f64, f64, bool, String)) -> f64| {
            (chosen.iter().map(|e| pick(e).powi(2)).sum::<f64>() / chosen.len() as f64).sqrt()
        };
        let worst = chosen.iter().max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
        let worst = worst.map_or(String::new(), |e| format!("{:+.2} at {}", e.0, e.3));
        format!(
            "{} points: COP {:.2} rms, {worst}; capacity {:.2} rms",
            chosen.len(),
            rms(|e| e.0),
            rms(|e| e.1)
        )
    };
    format!(
        "{}\n  all: {}\n  at the highest pressure: {}",
        recipe.cycle.file_name(),
        of(None),
        of(Some(true))
    )
}

/// Three shares from 0 to 1 that fill the cube evenly: the additive recurrence of the plastic number's cubic kin.
///
/// Source: the generalised golden ratio, root of `x^4 = x + 1`. Derived here.
fn share(index: usize) -> [f64; 3] {
    const ROOT: f64 = 1.220_744_084_605_76;
    [1, 2, 3].map(|power| (0.5 + (index + 1) as f64 / ROOT.powi(power)).fract())
}

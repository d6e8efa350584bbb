//! How long a year takes: the engine against the plain fixed-step reference, in one process.
//!
//! `cargo bench --bench year` times both with divan and then prints ratios that were measured in turn, so that
//! whatever else the machine does strikes both alike. `LARDERLOOP_REFINE=1` also refines the plain reference until
//! it is as exact as the engine (minutes).

#[path = "../tests/reference/plain.rs"]
mod plain;

use larderloop::household::{CoolerUnit, Household, UnitSize};
use larderloop::plant::Plant;
use larderloop::resolution::Resolution;
use larderloop::scenario;
use larderloop::simulate::simulate;
use plain::Steps;
use std::path::Path;
use std::time::Instant;

const SCENARIOS: [&str; 2] = ["scenarios/basement-chicago.yaml", "scenarios/grower-po-plain.yaml"];

/// Times each ratio is measured; the middle one is printed.
const TURNS: usize = 3;

/// Times the anchored map is compared.
const ANCHORING_TURNS: usize = 15;

/// Finer than this the engine no longer moves by a tenth of a per cent: what errors are held against.
const FINEST: f64 = 8.0;

fn household(file: &str) -> Household {
    scenario::read(Path::new(file)).unwrap_or_else(|failure| panic!("{}", failure.render(false)))
}

fn plant(file: &str) -> Plant {
    Plant::new(&household(file))
}

#[divan::bench(args = SCENARIOS, sample_count = 10)]
fn engine(bencher: divan::Bencher, file: &str) {
    let plant = plant(file);
    bencher.bench_local(|| simulate(&plant, &Resolution::default(), &mut ()));
}

#[divan::bench(args = SCENARIOS, sample_count = 1)]
fn plain_5_s_48_layers(bencher: divan::Bencher, file: &str) {
    let plant = plant(file);
    bencher.bench_local(|| plain::run(&plant, Steps { step_s: 5.0, layers: 48 }, 0, 11));
}

/// Electricity, heat to water and booster heat of a year, J: what is compared.
type Totals = [f64; 3];

fn by_engine(plant: &Plant, resolution: &Resolution) -> (Totals, f64) {
    let start = Instant::now();
    let total = simulate(plant, resolution, &mut ()).unwrap_or_else(|error| panic!("{error}")).total;
    ([total.electricity_total_j(), total.heat_to_water_j, total.booster_j], start.elapsed().as_secs_f64())
}

fn by_plain(plant: &Plant, steps: Steps) -> (Totals, f64) {
    let start = Instant::now();
    let total = plain::run(plant, steps, 0, 11).total();
    ([total.electricity_total_j(), total.heat_to_water_j, total.booster_j], start.elapsed().as_secs_f64())
}

/// Largest relative difference of the totals.
fn error(totals: &Totals, exact: &Totals) -> f64 {
    totals.iter().zip(exact).map(|(one, other)| (one - other).abs() / other.abs()).fold(0.0, f64::max)
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

fn print_ratios(file: &str) {
    let plant = plant(file);
    let ratios = (0..TURNS).map(|_| {
        let (_, engine_s) = by_engine(&plant, &Resolution::default());
        by_plain(&plant, Steps { step_s: 5.0, layers: 48 }).1 / engine_s
    });
    say(&format!(
        "{file}: plain 5 s, 48 layers takes {:.0} times the engine's time",
        median(ratios.collect())
    ));
}

fn print_equal_error(file: &str) {
    let plant = plant(file);
    let (exact, _) = by_engine(&plant, &Resolution::default().finer(FINEST));
    let (engine, engine_s) = by_engine(&plant, &Resolution::default());
    let engine_error = error(&engine, &exact);
    say(&format!("{file}: engine error {:.2} %", 100.0 * engine_error));
    for (step_s, layers) in [(5.0, 48), (2.5, 96), (2.5, 192), (1.25, 384)] {
        let (plain, plain_s) = by_plain(&plant, Steps { step_s, layers });
        let plain_error = error(&plain, &exact);
        say(&format!(
            "  plain {step_s} s, {layers} layers: error {:.2} %, {:.0} times the engine's time",
            100.0 * plain_error,
            plain_s / engine_s
        ));
        if plain_error <= engine_error {
            break;
        }
    }
}

/// What bending the map to a second line of the data sheet costs in the year: the same unit with one line and with two.
fn print_anchoring(file: &str) {
    let mut household = household(file);
    let two = Plant::new(&household);
    let CoolerUnit::HeatPump(unit) = &mut household.cooler;
    let UnitSize::DataSheet(points) = &mut unit.size else { return };
    points.truncate(1);
    let one = Plant::new(&household);
    let ratios = (0..ANCHORING_TURNS).map(|_| {
        let (_, one_s) = by_engine(&one, &Resolution::default());
        by_engine(&two, &Resolution::default()).1 / one_s
    });
    say(&format!(
        "{file}: all lines of the data sheet take {:.2} times the first line's time",
        median(ratios.collect())
    ));
}

#[expect(clippy::print_stdout, reason = "a benchmark reports on stdout")]
fn say(line: &str) {
    println!("{line}");
}

fn main() {
    divan::main();
    for file in SCENARIOS {
        print_ratios(file);
        print_anchoring(file);
    }
    if std::env::var_os("LARDERLOOP_REFINE").is_some() {
        for file in SCENARIOS {
            print_equal_error(file);
        }
    }
}

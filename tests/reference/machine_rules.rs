//! Exploration.
use super::plain::{self, Month, Steps};
use larderloop::plant::*;
use larderloop::resolution::Resolution;
use larderloop::simulate::simulate_months;
use std::path::Path;

fn household(name: &str) -> Plant {
    let household = larderloop::scenario::read(&Path::new("scenarios").join(name))
        .unwrap_or_else(|failure| panic!("{}", failure.render(false)));
    Plant::new(&household)
}
fn pump(plant: &mut Plant) -> &mut HeatPump {
    let Cooler::HeatPump(pump) = &mut plant.cooler;
    pump
}

fn show(name: &str, plant: &Plant, first: usize, last: usize, grids: &[(f64, usize)]) {
    let t = std::time::Instant::now();
    let e = simulate_months(plant, &Resolution::default(), first, last, &mut ()).unwrap().total;
    println!("{name} engine {:.1}s", t.elapsed().as_secs_f64());
    let row = |v: [f64; 16]| println!("  {}", v.map(|x| format!("{x:10.3}")).join(" "));
    println!(
        "  {}",
        [
            "elec", "Qw", "Qroom", "cond", "frost", "starts", "booster", "dumpL", "guard", "dfr", "n_dfr",
            "share h", "run h", "lock h", "tloss", "pipe"
        ]
        .map(|x| format!("{x:>10}"))
        .join(" ")
    );
    let m = 1e6;
    row([
        e.electricity_total_j() / m,
        e.heat_to_water_j / m,
        e.heat_from_room_j / m,
        e.condensate_kg,
        e.frost_kg,
        e.starts,
        e.booster_j / m,
        1000.0 * e.dump_m3,
        e.electricity_j[Load::FrostGuard as usize] / m,
        e.electricity_j[Load::Defrost as usize] / m,
        e.defrosts,
        e.output_frac_s / 3600.0,
        e.run_s / 3600.0,
        e.locked_out_s / 3600.0,
        e.tank_loss_j / m,
        e.pipe_loss_j / m,
    ]);
    for &(step_s, layers) in grids {
        let t = std::time::Instant::now();
        let s = plain::run(plant, Steps { step_s, layers }, first, last);
        let p: Month = s.total();
        row([
            p.electricity_total_j() / m,
            p.heat_to_water_j / m,
            p.heat_from_room_j / m,
            p.condensate_kg,
            p.frost_kg,
            p.starts,
            p.booster_j / m,
            1000.0 * p.dump_m3,
            p.electricity_j[Load::FrostGuard as usize] / m,
            p.electricity_j[Load::Defrost as usize] / m,
            p.defrosts,
            p.share_s / 3600.0,
            p.run_s / 3600.0,
            p.locked_out_s / 3600.0,
            p.tank_loss_j / m,
            p.pipe_loss_j / m,
        ]);
        println!(
            "      {step_s} s {layers}: {:.1}s books {:.1e}",
            t.elapsed().as_secs_f64(),
            s.books.worst()
        );
    }
}

#[test]
#[ignore]
fn explore() {
    let only = std::env::var("ONLY").unwrap_or_default();
    let grids: Vec<(f64, usize)> = std::env::var("GRIDS")
        .unwrap_or("5:48".into())
        .split(',')
        .map(|g| {
            let (a, b) = g.split_once(':').unwrap();
            (a.parse().unwrap(), b.parse().unwrap())
        })
        .collect();
    let months = std::env::var("MONTHS").ok().map(|m| {
        let (a, b) = m.split_once('-').unwrap();
        (a.parse().unwrap(), b.parse().unwrap())
    });
    let go = |name: &str, file: &str, first: usize, last: usize, change: &dyn Fn(&mut Plant)| {
        if !name.contains(&only) {
            return;
        }
        let (first, last) = months.unwrap_or((first, last));
        let mut plant = household(file);
        change(&mut plant);
        show(name, &plant, first, last, &grids);
    };
    let c = 273.15;
    let tank = TankThermostat { calls_k: c + 30.0, enough_k: c + 40.0, sensor: 0.5 };
    go("base", "basement-chicago.yaml", 4, 4, &|_| {});
    go("tank", "basement-chicago.yaml", 3, 3, &|p| pump(p).caller = Caller::Tank(tank));
    go("both", "basement-chicago.yaml", 4, 4, &|p| pump(p).caller = Caller::Both(tank));
    go("slow", "basement-chicago.yaml", 4, 4, &|p| {
        pump(p).slow_running = Some(SlowRunning { least_frac: 0.3, gain_at_half_frac: 0.10 })
    });
    go("mslow", "grower-po-plain.yaml", 0, 0, &|p| {
        pump(p).slow_running = Some(SlowRunning { least_frac: 0.3, gain_at_half_frac: 0.10 })
    });
    go("defrost", "basement-chicago.yaml", 4, 4, &|p| {
        pump(p).frosted_factor = 0.9;
        pump(p).defrost = Some(Defrost { every_s: 500.0, takes_s: 300.0, power_w: 600.0 })
    });
    go("mdefrost", "grower-po-plain.yaml", 1, 1, &|p| {
        pump(p).frosted_factor = 0.9;
        pump(p).defrost = Some(Defrost { every_s: 900.0, takes_s: 300.0, power_w: 600.0 })
    });
    go("heater", "basement-chicago.yaml", 1, 1, &|p| {
        pump(p).frost_guard =
            Some(FrostGuard { below_k: c + 4.0, heater_w: 60.0, circulator_w: 0.0, flow_kg_s: 0.0 })
    });
    go("circul", "basement-chicago.yaml", 1, 1, &|p| {
        pump(p).frost_guard =
            Some(FrostGuard { below_k: c + 4.0, heater_w: 0.0, circulator_w: 1.0, flow_kg_s: 0.0025 })
    });
    go("outlet", "basement-chicago.yaml", 6, 6, &|p| {
        pump(p).circuit =
            Circuit::SinglePass { outlet_k: c + 45.0, min_rise_dk: 12.0, outlet_stop_k: c + 48.0 }
    });
}

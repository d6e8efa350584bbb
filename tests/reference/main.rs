//! The plain fixed-step reference tested against itself and against exact limits.

mod example;
mod plain;

use plain::{Month, Steps, run};

#[test]
#[ignore]
fn explore() {
    let single = std::env::var("SINGLE").as_deref() != Ok("0");
    let f = |n: &str, d: f64| std::env::var(n).ok().map_or(d, |s| s.parse().unwrap());
    let steps = Steps { step_s: f("STEP", 5.0), layers: f("LAYERS", 48.0) as usize };
    let t = std::time::Instant::now();
    let sums = run(&example::plant(single), steps, f("FROM", 0.0) as usize, f("TO", 11.0) as usize);
    println!("{:.2} s  books {:?}", t.elapsed().as_secs_f64(), sums.books);
    let show = |name: &str, m: &Month| {
        println!(
            "{name} el {:.3} q {:.3} room {:.3} starts {} run_h {:.2} lock_h {:.2} draw_kg {:.1} dump_kg {:.1} n {} boost {:.3} short {:.3} loss {:.3} pipe {:.3} cond {:.3} frost {:.3} wall {:.4} air {:.3} [{:.2} {:.2}] cont {:.3} [{:.2} {:.2}] top {:.3} bot {:.3}",
            m.electricity_total_j() / 3.6e6,
            m.heat_to_water_j / 3.6e6,
            m.heat_from_room_j / 3.6e6,
            m.starts,
            m.run_s / 3600.0,
            m.locked_out_s / 3600.0,
            m.drawn_kg,
            m.dump_kg,
            m.dump_openings,
            m.booster_j / 3.6e6,
            m.shortfall_j / 3.6e6,
            m.tank_loss_j / 3.6e6,
            m.pipe_loss_j / 3.6e6,
            m.condensate_kg,
            m.frost_kg,
            m.wall_condensate_kg,
            m.mean_k(m.air) - 273.15,
            m.air.min_k - 273.15,
            m.air.max_k - 273.15,
            m.mean_k(m.contents) - 273.15,
            m.contents.min_k - 273.15,
            m.contents.max_k - 273.15,
            m.mean_k(m.tank_top) - 273.15,
            m.mean_k(m.tank_bottom) - 273.15
        );
    };
    for (i, m) in sums.months.iter().enumerate() {
        show(&format!("{i:2}"), m);
    }
    show("all", &sums.total());
    println!("gains kWh {:?}", sums.total().gain_j.map(|g| (g / 3.6e4).round() / 100.0));
}

//! The dump's flow in closed form against the simulated year.

use crate::shipped::{household, text};
use larderloop::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K;
use larderloop::overflow::{port_k, required_kg_s, warmest_mains_k};
use larderloop::plant::Plant;
use larderloop::resolution::Resolution;
use larderloop::simulate::simulate;
use larderloop::year::{Interval, Sink};

/// Most heat that a pump gave the water in an hour of the year, W while it ran.
#[derive(Default)]
struct WorstHour(f64);

impl Sink for WorstHour {
    fn take(&mut self, hour: &Interval) {
        // Runs long enough for the start to be forgotten.
        if hour.run_s > 1200.0 {
            self.0 = self.0.max((hour.heat_to_water_j + hour.start_loss_j) / hour.output_frac_s);
        }
    }
}

/// The heat that the required flow carries away is that of the pump's worst hour in the year. Within 10 %: it is taken for water at which the aquastat opens and the
/// room's switching point; a tank that is cooler in that hour, or a room that is warmer, moves a heat pump's heat by some per cent. The family's is 10 % above, on the safe
/// side: its aquastat opens early, and the worst hour meets a hotter tank. The basement's pump never runs that long.
#[test]
fn the_required_flow_carries_the_worst_hour_away() {
    for (scenario, above) in [("grower-po-plain", 1.10), ("cider-shed", 1.10), ("family-own-uses", 1.12)] {
        let plant = Plant::new(&household(&text(scenario), None));
        let mut worst = WorstHour::default();
        let year = simulate(&plant, &Resolution::default(), &mut worst).expect("it can be run");
        let over_dk = port_k(&plant, &year) - warmest_mains_k(&plant);
        let closed_w = required_kg_s(&plant, &year) * WATER_SPECIFIC_HEAT_J_PER_KG_K * over_dk;
        assert!((0.90..above).contains(&(closed_w / worst.0)), "{scenario}: {closed_w} W, {} W", worst.0);
    }
}

//! Cases with exact answers, run on the parcels that the year uses.

use std::fmt::Write as _;

use larderloop::constants::WATER_SPECIFIC_HEAT_J_PER_KG_K;
use larderloop::resolution::Resolution;
use larderloop::tank::Parcels;
use larderloop::tank::jet::fountain_m;
use larderloop::tank::loss::{CLASSES, class_edge_w};
use larderloop::water::density_kg_m3;

use crate::figures::Figure;

const ICE_K: f64 = 273.15;
const HOUR_S: f64 = 3600.0;
/// Water of the tank in all cases, kg.
const MASS_KG: f64 = 300.0;
/// Thermal diffusivity of water near 35 °C, m2/s. Source: IAPWS conductivity, density and heat capacity. Derived here.
const DIFFUSIVITY_M2_S: f64 = 1.51618e-7;
/// Height of the tank with a step in temperature, m: so high that its ends do not matter for a day.
const HEIGHT_M: f64 = 1.6;

/// A value that is known and what the parcels give for it.
pub struct Row {
    /// Where or when.
    pub at: String,
    /// Known, in the unit of its table.
    pub exact: f64,
    /// From the parcels.
    pub parcels: f64,
    /// How far apart the two may be.
    pub tolerance: f64,
}

/// A case: its name, what is done, what the columns hold, and its rows.
pub struct Case {
    /// Heading.
    pub name: &'static str,
    /// What is done and where the exact answer is from.
    pub text: &'static str,
    /// Heads of the first column and of the two that follow.
    pub heads: [&'static str; 3],
    /// Rows.
    pub rows: Vec<Row>,
}

/// A tank as the year divides it.
fn tank_at(degc: f64) -> Parcels {
    let resolution = Resolution::default();
    Parcels::uniform(
        MASS_KG,
        ICE_K + degc,
        resolution.parcels,
        resolution.smallest_parcel_frac,
        resolution.merge_dk,
    )
}

fn mean_degc(tank: &Parcels) -> f64 {
    tank.mass_temperature_kg_k() / tank.mass_kg() - ICE_K
}

/// A standing tank's mean temperature at some hours, in order.
pub fn standing_at<const N: usize>(hours: [i32; N]) -> [Row; N] {
    let mut tank = tank_at(60.0);
    let capacity_j_per_k = MASS_KG * WATER_SPECIFIC_HEAT_J_PER_KG_K;
    let mut hours_gone = 0;
    hours.map(|hours| {
        for _ in hours_gone..hours {
            tank.lose(ICE_K + 20.0, libm::exp(-2.0 * HOUR_S / capacity_j_per_k));
        }
        hours_gone = hours;
        let exact = 20.0 + 40.0 * libm::exp(-2.0 * HOUR_S * f64::from(hours) / capacity_j_per_k);
        Row { at: format!("{hours} h"), exact, parcels: mean_degc(&tank), tolerance: 1e-9 }
    })
}

fn standing() -> Case {
    Case {
        name: "A standing tank",
        text: "300 kg at 60 °C that lose 2 W/K to 20 °C, nothing drawn, loss applied every hour. Exact: the exponential of the energy \
               balance (Duffie and Beckman, Solar Engineering of Thermal Processes; From memory for the layout, Derived here).",
        heads: ["After", "exact, °C", "parcels, °C"],
        rows: standing_at([24, 48, 96, 192]).into(),
    }
}

/// A stirred tank's mean temperature after some volumes drawn, in order.
pub fn mixed_at<const N: usize>(volumes: [f64; N]) -> [Row; N] {
    let mut tank = Parcels::uniform(MASS_KG, ICE_K + 60.0, 1, 0.0, 0.0);
    let mut drawn_kg = 0.0;
    volumes.map(|volumes| {
        while drawn_kg < volumes * MASS_KG - 1e-6 {
            tank.take(tank.mass_kg() - 0.2, 0.2);
            tank.insert(0.0, 0.2, ICE_K + 15.0);
            drawn_kg += 0.2;
        }
        let exact = 15.0 + 45.0 * libm::exp(-volumes);
        Row { at: format!("{volumes} volumes"), exact, parcels: mean_degc(&tank), tolerance: 0.02 }
    })
}

fn mixed() -> Case {
    Case {
        name: "A tank that is stirred",
        text: "300 kg at 60 °C, one parcel only, fed with 15 °C in sips of 0.2 kg. Exact: the exponential of the energy balance. The \
               difference is that of Euler's rule with 1500 sips a volume.",
        heads: ["Drawn", "exact, °C", "parcels, °C"],
        rows: mixed_at([0.5, 1.0, 2.0]).into(),
    }
}

/// What comes out of a tank in plug flow, and the mean of what stays, after some volumes drawn, in order.
pub fn plug_at<const N: usize>(volumes: [f64; N]) -> [[Row; 2]; N] {
    let mut tank = tank_at(60.0);
    let mut drawn_kg = 0.0;
    volumes.map(|volumes| {
        let mut last_k = 0.0;
        while drawn_kg < volumes * MASS_KG - 1e-6 {
            last_k = tank.take(tank.mass_kg() - 3.0, 3.0).temperature_k;
            tank.insert(0.0, 3.0, ICE_K + 15.0);
            drawn_kg += 3.0;
        }
        let mean = Row {
            at: format!("{volumes} volumes: mean of the tank"),
            exact: 60.0 - 45.0 * volumes,
            parcels: mean_degc(&tank),
            tolerance: 1e-9,
        };
        let drawn = Row {
            at: format!("{volumes} volumes: water drawn"),
            exact: 60.0,
            parcels: last_k - ICE_K,
            tolerance: 1e-9,
        };
        [drawn, mean]
    })
}

fn plug() -> Case {
    Case {
        name: "Plug flow",
        text: "300 kg at 60 °C, drawn from the top in steps of 3 kg while 15 °C enters at the bottom; no loss, no conduction. Exact: what \
               comes out stays at 60 °C until the last of it is gone.",
        heads: ["Drawn", "exact, °C", "parcels, °C"],
        rows: plug_at([0.25, 0.5, 0.75, 0.99]).into_iter().flatten().collect(),
    }
}

/// Share of the tank that the jet stirs in its case.
const STIRRED: f64 = 0.125;

fn jet() -> Case {
    let mut tank = tank_at(60.0);
    let zone_kg = STIRRED * MASS_KG;
    let mut drawn_kg = 0.0;
    let rows = [0.1, 0.25, 0.5].map(|volumes| {
        while drawn_kg < volumes * MASS_KG - 1e-6 {
            tank.take(tank.mass_kg() - 1.0, 1.0);
            tank.insert(0.0, 1.0, ICE_K + 15.0);
            tank.stir(0.0, zone_kg);
            drawn_kg += 1.0;
        }
        // What is y above the zone left it when V - y had been drawn.
        let exact =
            |above_kg: f64| 15.0 + 45.0 * libm::exp(-(volumes * MASS_KG - above_kg).max(0.0) / zone_kg);
        [0.0, 0.05].map(|above| {
            let above_kg = above * MASS_KG;
            let here_kg = if above > 0.0 { zone_kg + above_kg } else { 0.5 * zone_kg };
            let place =
                if above > 0.0 { "5 % of the tank above the stirred water" } else { "in the stirred water" };
            Row {
                at: format!("{volumes} volumes: {place}"),
                exact: exact(above_kg),
                parcels: tank.mean_k(here_kg - 0.5, here_kg + 0.5) - ICE_K,
                tolerance: 0.3,
            }
        })
    });
    Case {
        name: "A jet that stirs",
        text: "300 kg at 60 °C, drawn from the top in steps of 1 kg while 15 °C enters at the bottom and stirs the lowest eighth; no loss, no \
               conduction. Exact: 15 + 45 exp(-V/Z) °C in the stirred water Z after V is drawn; above it lies what left it before. Derived here.",
        heads: ["Drawn", "exact, °C", "parcels, °C"],
        rows: rows.into_iter().flatten().collect(),
    }
}

/// A step of 60 over 10 °C in the middle of the tank, left alone for some hours. Smallest parcel and merging go with the number of
/// parcels as in [`Resolution`].
pub fn diffused(parcels: usize, interval_s: f64, hours: f64) -> Parcels {
    let mut tank =
        Parcels::uniform(MASS_KG, ICE_K + 60.0, parcels, 0.05 / parcels as f64, 0.96 / parcels as f64);
    tank.take(0.0, 0.5 * MASS_KG);
    tank.insert(0.0, 0.5 * MASS_KG, ICE_K + 10.0);
    let per_metre = MASS_KG / HEIGHT_M;
    for _ in 0..(hours * HOUR_S / interval_s).round() as usize {
        tank.conduct(DIFFUSIVITY_M2_S * per_metre * per_metre, interval_s);
    }
    tank
}

/// Exact temperature at a height over the step, °C.
pub fn exact_degc(above_m: f64, hours: f64) -> f64 {
    35.0 + 25.0 * libm::erf(above_m / (2.0 * libm::sqrt(DIFFUSIVITY_M2_S * hours * HOUR_S)))
}

/// Mean temperature of the centimetre at a height over the middle, °C.
pub fn centimetre_degc(tank: &Parcels, above_m: f64) -> f64 {
    let kg = |height_m: f64| (0.5 * HEIGHT_M + height_m) * MASS_KG / HEIGHT_M;
    tank.mean_k(kg(above_m - 0.005), kg(above_m + 0.005)) - ICE_K
}

fn step(parcels: usize, interval_s: f64, tolerance: f64) -> Vec<Row> {
    let tank = diffused(parcels, interval_s, 12.0);
    let heights_m = [-0.20, -0.10, -0.05, 0.05, 0.10, 0.20];
    heights_m
        .map(|above_m| Row {
            at: format!("{above_m:+.2} m"),
            exact: exact_degc(above_m, 12.0),
            parcels: centimetre_degc(&tank, above_m),
            tolerance,
        })
        .into()
}

fn fine_step() -> Case {
    Case {
        name: "A step that diffuses, in layers of a centimetre",
        text: "10 °C under 60 °C in a tank of 1.6 m, nothing drawn, still water without a wall (1.516e-7 m2/s, IAPWS), 12 hours later; 160 \
               parcels, conduction every 225 s. Exact: 35 + 25 erf(z/(2 sqrt(a t))) °C at z above the step.",
        heads: ["Above the step", "exact, °C", "parcels, °C"],
        rows: step(160, 225.0, 0.2),
    }
}

fn year_step() -> Case {
    Case {
        name: "The same as the year divides it",
        text: "48 parcels, conduction every half hour.",
        heads: ["Above the step", "exact, °C", "parcels, °C"],
        rows: step(48, 1800.0, 1.0),
    }
}

fn thickness() -> Case {
    let rows = [1.0, 6.0, 24.0].map(|hours| {
        let tank = diffused(320, 60.0, hours);
        let height_m = |degc: f64| {
            let count =
                (0..3200).take_while(|&tenth| tank.at_k(f64::from(tenth) * MASS_KG / 3200.0) < ICE_K + degc);
            count.count() as f64 / 3200.0 * HEIGHT_M
        };
        let exact = 3.625 * libm::sqrt(DIFFUSIVITY_M2_S * hours * HOUR_S);
        Row {
            at: format!("{hours} h"),
            exact,
            parcels: height_m(55.0) - height_m(15.0),
            // A layer of half a centimetre where the step is still thin.
            tolerance: 0.03 * exact + 0.005,
        }
    });
    Case {
        name: "How thick the step grows",
        text: "From a tenth to nine tenths of the same step; 320 parcels, conduction every minute. Exact: 3.625 sqrt(a t).",
        heads: ["After", "exact, m", "parcels, m"],
        rows: rows.into(),
    }
}

/// Root of the mean square by which the step of 12 hours is off, K, over 40 cm either side.
pub fn step_error_dk(parcels: usize, interval_s: f64) -> f64 {
    let tank = diffused(parcels, interval_s, 12.0);
    let squares = (-40..=40).map(|centimetre| {
        let above_m = 0.01 * f64::from(centimetre);
        let off_dk = centimetre_degc(&tank, above_m) - exact_degc(above_m, 12.0);
        off_dk * off_dk
    });
    libm::sqrt(squares.sum::<f64>() / 81.0)
}

/// All cases with an exact answer.
pub fn cases() -> Vec<Case> {
    vec![standing(), mixed(), plug(), fine_step(), year_step(), thickness(), jet()]
}

/// Numbers of parcels and the seconds between two conductions with which convergence is shown.
pub const REFINED: [(usize, f64); 4] = [(24, 3600.0), (48, 900.0), (96, 225.0), (192, 56.25)];

/// What is told of the tank before the proof.
const HEAD: &str = "# The tank

Made by a program: `cargo run --example tank_proof -- docs/TANK.md` writes this page and its figures, and a test holds them together. The equations are
in [MODEL.md](MODEL.md), section 4; the keys in [SCENARIO.md](SCENARIO.md).

The tank is a stack of up to 48 parcels of water, each of one temperature and any mass. The pump takes from its port and returns to its
port, taps and dump take from theirs, and cold water comes in at its own; between the ports water moves as a plug. Water that would lie
under colder water is mixed with it. Every half hour each parcel loses its heat to what surrounds the tank and passes heat to its neighbours.

## What it stands in

`tank.stands_in` is outdoors, the cold room, or one of the `spaces`, whose temperature is constant or twelve monthly means. In the cold
room the tank's loss warms the room, and the pump has to take it out again.

## How cold water comes in

At `tank.ports.cold_in`: the end of the dip tube. Where the tube is missing or has broken off, give the height of the port itself: from the
top, cold water falls and mixes with all the warmer water on its way.

Water that comes in fast stirs a part of the tank. Tests with a tank of 50 gallons found that a one-dimensional model without it misses by more than
4 K and with it by near 2 K (Checked: original read, the abstract of an Argonne publication by Rendall and others; how much its model stirs at which
flow could not be read). There are two ways to say it, and nothing is stirred unless one is taken:

- `tank.ports.cold_in_bore`: how wide the opening is. The jet is then reckoned at every step from the flow and from how warm the tank is, as a fountain of
  cold water that rises in warm (Turner 1966; Kaye and Hunt 2006; From memory, to be verified). An opening that points sideways or down, or a diffuser, stirs less.
- `tank.ports.cold_in_stirs`: the share of the height in which a thermometer falls as soon as a tap opens, whatever the flow.

`tank.ports.pump_return_bore` does the same for what comes back from the heat pump, which blows down into colder water.

Height to which water of 10 °C rises in water of 50 °C, and so how much of the tank it stirs:

";

/// What is told after the jets.
const LOSS: &str = "
## What it loses

From the label in watts (`standing_loss`), from its energy class (`energy_class`), measured (`loss`), or from the R value of its insulation
(`insulation`); if nothing is said, class C. Bare pipes, valves and fittings come on top: `heat_bridges`, or `bare_connections` of 0.13 W/K each.
Labels do not count them, so an installed tank loses more than its label says (Common practice, no source).

Upper edges of the classes, Regulation (EU) 812/2013, Annex II, Table 2 (Second hand: three public copies), and what they are per kelvin:

";

/// What is told after it.
const TAIL: &str = "
## What is not in it

- Which way a jet blows: it is taken as straight up or down, which stirs most.
- Friction in the pipes that keeps warm water from circling through the resting pump freely; a heat trap that lets some through (C013 tells the most it can be).
- Where the bare pipes leave: their heat comes from all layers alike.
";

/// Heading of the last part.
pub const CONVERGENCE: &str = "Convergence";

/// The page.
pub fn page(figures: &[Figure]) -> String {
    let mut page = HEAD.to_owned();
    page += "| Opening | 3 L/min | 6 L/min | 12 L/min |\n|---|---|---|---|\n";
    for bore_m in [0.013, 0.020, 0.025, 0.050] {
        let rise = |l_min: f64| format!("{:.2} m", rise_m(l_min, bore_m));
        let _ =
            writeln!(page, "| {:.0} mm | {} | {} | {} |", 1000.0 * bore_m, rise(3.0), rise(6.0), rise(12.0));
    }
    page += LOSS;
    page += "| Class | 200 L | 300 L | 500 L | 300 L, W/K |\n|---|---|---|---|---|\n";
    for class in CLASSES {
        let edge_w = |volume_m3: f64| class_edge_w(class, volume_m3).expect("every class listed has an edge");
        let per_k = edge_w(0.3) / larderloop::tank::loss::STANDING_LOSS_DK;
        let _ = writeln!(
            page,
            "| {class} | {:.1} W | {:.1} W | {:.1} W | {per_k:.2} |",
            edge_w(0.2),
            edge_w(0.3),
            edge_w(0.5)
        );
    }
    page += "\n## The proof\n";
    for Case { name, text, heads: [at, exact, parcels], rows } in cases() {
        let figure =
            figures.iter().find(|figure| figure.under == name).map_or_else(String::new, Figure::markdown);
        let _ = write!(
            page,
            "\n### {name}\n\n{text}\n\n{figure}| {at} | {exact} | {parcels} | apart | allowed |\n|---|---|---|---|---|\n"
        );
        for row in rows {
            let Row { at, exact, parcels, tolerance } = row;
            let apart = (parcels - exact).abs();
            let apart = if apart < 5e-5 { "less than 0.0001".to_owned() } else { format!("{apart:.4}") };
            let _ = writeln!(page, "| {at} | {exact:.3} | {parcels:.3} | {apart} | {} |", allowed(tolerance));
        }
    }
    let _ = write!(page, "\n### {CONVERGENCE}\n\n");
    page += "Root of the mean square by which the step of 12 hours is off, over 40 cm either side of it. That the whole year \
             moves by less than 1 % when everything is four times finer is a test of its own (`tests/properties/resolution.rs`).\n\n";
    page.extend(figures.iter().filter(|figure| figure.under == CONVERGENCE).map(Figure::markdown));
    page += "| Parcels | conduction every | off by |\n|---|---|---|\n";
    for (parcels, interval_s) in REFINED {
        let _ = writeln!(
            page,
            "| {parcels} | {} | {:.3} K |",
            format_args!("{interval_s} s"),
            step_error_dk(parcels, interval_s)
        );
    }
    page + TAIL
}

/// How far a jet of 10 °C rises in water of 50 °C, m, so many litres a minute through a bore.
fn rise_m(l_min: f64, bore_m: f64) -> f64 {
    const GRAVITY_M_S2: f64 = 9.81;
    let [cold, hot] = [10.0, 50.0].map(|degc| density_kg_m3(degc + 273.15));
    fountain_m(l_min / 60_000.0, bore_m, GRAVITY_M_S2 * (cold - hot) / hot)
}

fn allowed(tolerance: f64) -> String {
    if tolerance < 1e-6 { "0.000000001".to_owned() } else { format!("{tolerance:.3}") }
}

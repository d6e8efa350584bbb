//! Random households over the whole range of a scenario's keys, as the text of a scenario.
//!
//! Every value is drawn from what its key allows and what the values before it leave; nothing is repaired afterwards,
//! so a text that the reader refuses is a finding, not a case to be thrown away.

use larderloop::heat_pump::{Cycle, CycleMap};
use larderloop::scenario::keys;
use larderloop::tank::loss::CLASSES;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

use crate::climate::Climate;

/// A random household and its climate.
#[derive(Debug, Clone)]
pub struct Case {
    /// The scenario.
    pub text: String,
    /// Its climate.
    pub climate: Climate,
    /// First month run, 0 to 11.
    pub first: usize,
    /// Last month run.
    pub last: usize,
}

/// 0 °C in kelvin.
const ICE_K: f64 = 273.15;

/// Warmest mains water that a generated household names, degC.
const WARMEST_MAINS_DEGC: f64 = 28.0;

const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const CROPS: [&str; 12] = [
    "apple", "beet", "cabbage", "carrot", "celery", "garlic", "onion", "pear", "potato", "spinach", "leek",
    "grape",
];

/// A random household in a random climate, and one or two months of its year.
pub fn case() -> impl Strategy<Value = Case> {
    (household(), climate(), 0..12_usize, 0..2_usize).prop_map(|(text, climate, first, more)| Case {
        text,
        climate,
        first,
        last: (first + more).min(11),
    })
}

fn climate() -> impl Strategy<Value = Climate> {
    (-6.0..26.0, 0.0..16.0, 0.0..9.0, 0.0..15.0, 0.0..3500.0, any::<bool>(), any::<bool>()).prop_map(
        |(mean_degc, season_dk, day_dk, dew_point_below_dk, elevation_m, southern, leap_year)| Climate {
            mean_degc,
            season_dk,
            day_dk,
            dew_point_below_dk,
            elevation_m,
            southern,
            leap_year,
        },
    )
}

fn household() -> impl Strategy<Value = String> {
    let set = 1.0..12.0;
    set.prop_flat_map(|set_degc| {
        (
            (mains(), cold_water()).prop_map(|(mains, water)| mains + &water),
            spaces(),
            room(set_degc),
            heat_pump(set_degc),
            thermostat(set_degc),
            tank_and_dump(),
            taps_and_booster(),
        )
            .prop_map(|(mains, spaces, room, pump, thermostat, tank, taps)| {
                let tank = if pump.contains("coil_from") { without_pump_ports(&tank) } else { tank };
                format!(
                    "name: random\nweather: {{file: random.epw}}\nsite:\n  soil_diffusivity: 0.05 m2/day\n{mains}{spaces}{room}{pump}{thermostat}{tank}{taps}"
                )
            })
    })
}

fn twelve(values: &[f64], unit: &str) -> String {
    let values: Vec<_> = values.iter().map(|value| format!("{value:.2} {unit}")).collect();
    format!("[{}]", values.join(", "))
}

fn mains() -> impl Strategy<Value = String> {
    let warmest = WARMEST_MAINS_DEGC;
    prop_oneof![
        Just(String::new()),
        (0.5..warmest).prop_map(|t| format!("  mains_water: {{constant: {t:.2} degC}}\n")),
        (0.5..warmest, 0.5..warmest).prop_map(|(a, b): (f64, f64)| {
            format!("  mains_water: {{coldest: {:.2} degC, warmest: {:.2} degC}}\n", a.min(b), a.max(b))
        }),
        vec(0.5..warmest, 12)
            .prop_map(|months| format!("  mains_water: {{monthly: {}}}\n", twelve(&months, "degC"))),
    ]
}

/// What the cold water is like beside its temperature.
fn cold_water() -> impl Strategy<Value = String> {
    let hardness = prop_oneof![
        Just(String::new()),
        (0.0..1500.0).prop_map(|mg_per_l| format!("  hardness: {mg_per_l:.1} mg/L\n")),
    ];
    let pressure = prop_oneof![
        Just(String::new()),
        (20.0..800.0).prop_map(|kpa| format!("  supply_pressure: {kpa:.0} kPa\n")),
    ];
    (hardness, pressure).prop_map(|(hardness, pressure)| hardness + &pressure)
}

fn spaces() -> impl Strategy<Value = String> {
    (-5.0..30.0, 1..=100_u32, vec(-15.0..40.0, 12), 1..=100_u32).prop_map(|(store, dry, attic, damp)| {
        format!(
            "spaces:\n  store: {{temperature: {store:.2} degC, humidity: {dry} %}}\n  attic: {{temperature: {}, humidity: {damp} %}}\n",
            twelve(&attic, "degC")
        )
    })
}

fn room(set_degc: f64) -> impl Strategy<Value = String> {
    let size = (1.0..8.0, 1.0..6.0, 1.9..3.5);
    size.prop_flat_map(move |(length, width, height)| {
        let inner_m2: f64 = 2.0 * (length * width + length * height + width * height);
        (
            surfaces(inner_m2),
            leakage(),
            vec(door(height), 0..=2),
            people_and_lights(),
            vec(produce(60.0 * length * width * height), 0..=4),
            (contents(), frost_heater(set_degc)).prop_map(|(contents, heater)| contents + &heater).boxed(),
            (0.5..5.0, 0.5..3.0),
        )
            .prop_map(move |(surfaces, leakage, doors, people, produce, contents, (above, below))| {
                let list = |name: &str, items: &[String]| {
                    if items.is_empty() { String::new() } else { format!("  {name}:\n{}", items.concat()) }
                };
                format!(
                    "room:\n  length: {length:.3} m\n  width: {width:.3} m\n  height: {height:.3} m\n  surfaces:\n{surfaces}{leakage}{}{people}{}{contents}  food: {{warmest: {:.2} degC, coldest: {:.2} degC}}\n",
                    list("doors", &doors),
                    list("produce", &produce),
                    set_degc + above,
                    set_degc - below,
                )
            })
    })
}

fn surfaces(inner_m2: f64) -> impl Strategy<Value = String> {
    let face = select(vec!["outdoors", "store", "attic", "ground"]);
    let surface = (0.05..1.0, 0.08..2.0, face, 0.0..3.0, 0.0..6.0);
    (0.9..1.2, vec(surface, 1..=5)).prop_map(move |(fit, surfaces)| {
        let all: f64 = surfaces.iter().map(|surface| surface.0).sum();
        let mut text = String::new();
        for (index, (share, u, face, depth, warmer)) in surfaces.into_iter().enumerate() {
            let ground = if face == "ground" {
                format!(", depth: {depth:.2} m, warmer_by: {warmer:.2} K")
            } else {
                String::new()
            };
            text += &format!(
                "    - {{name: part {index}, area: {:.3} m2, u_value: {u:.3} W/m2K, faces: {face}{ground}}}\n",
                share / all * inner_m2 * fit
            );
        }
        text
    })
}

fn leakage() -> impl Strategy<Value = String> {
    (0.0..3.0, select(vec!["outdoors", "store", "attic"])).prop_map(|(changes, from)| {
        format!("  leakage: {{air_changes: {changes:.3} per hour, from: {from}}}\n")
    })
}

/// A door propped open for a while in some months, and the months of its curtain; mostly neither.
fn propped_open() -> impl Strategy<Value = String> {
    let months = || {
        proptest::sample::subsequence(MONTHS.to_vec(), 1..=12)
            .prop_map(|months| format!("[{}]", months.join(", ")))
    };
    prop_oneof![
        4 => Just(String::new()),
        1 => (0..=23_u32, 1..=180_u32, months(), months()).prop_map(|(from, minutes, propped, curtain)| format!(
            ", propped_open: {{from: \"{from:02}:00\", lasts: {minutes} min, months: {propped}}}, curtain_in: {curtain}"
        )),
    ]
}

fn door(room_height_m: f64) -> impl Strategy<Value = String> {
    (
        0.5..2.0,
        0.5..1.0,
        select(vec!["outdoors", "store", "attic"]),
        0..=120_u32,
        1..=200_u32,
        (0..=9_u32, 17..=22_u32),
        (1..=120_u32, 0..=100_u32),
        propped_open(),
    )
        .prop_map(move |(width, tall, to, openings, seconds, (first, last), (factor, curtain), propped)| {
            format!(
                "    - {{width: {width:.2} m, height: {:.2} m, opens_to: {to}, openings: {openings} per day, open_for: {seconds} s, first: \"{first:02}:00\", last: \"{last:02}:30\", flow_factor: {factor} %, curtain: {curtain} %{propped}}}\n",
                f64::max(tall * room_height_m, 0.4) - 0.005
            )
        })
}

fn people_and_lights() -> impl Strategy<Value = String> {
    (0..=300_u32, 0..=200_u32, 0..=600_u32).prop_map(|(people, watts, minutes)| {
        format!(
            "  people: {{time: {people} min/day}}\n  lights: {{power: {watts} W, time: {minutes} min/day}}\n"
        )
    })
}

/// Up to so many kilograms of one crop: four of them fill a room.
fn produce(most_kg: f64) -> impl Strategy<Value = String> {
    let mass = prop_oneof![
        (0.0..most_kg).prop_map(|mass: f64| format!("{mass:.1} kg")),
        vec(0.0..most_kg, 12).prop_map(|months| twelve(&months, "kg")),
    ];
    let months = (select(CROPS.to_vec()), mass, -2.0..35.0).prop_map(|(crop, mass, arrives)| {
        format!("    - {{crop: {crop}, mass: {mass}, arrives_at: {arrives:.1} degC}}\n")
    });
    prop_oneof![months, produce_by_date(most_kg)]
}

/// Two loads carried in close to each other and taken out again, some of it while it still cools.
fn produce_by_date(most_kg: f64) -> impl Strategy<Value = String> {
    let loads = (0.1..0.4 * most_kg.max(1.0), 0.1..0.4 * most_kg.max(1.0), 1..20_u32, 1..8_u32);
    (select(CROPS.to_vec()), 0.0..0.2 * most_kg.max(1.0), loads, -2.0..35.0).prop_map(
        |(crop, turn, (one, other, day, later), arrives)| {
            let sum: f64 = format!("{one:.1}").parse::<f64>().expect("a number")
                + format!("{other:.1}").parse::<f64>().expect("a number");
            format!(
                "    - {{crop: {crop}, mass: {turn:.1} kg, arrives_at: {arrives:.1} degC, carried_in: [{{on: {day} Sep, mass: {one:.1} kg}}, {{on: {} Sep, mass: {other:.1} kg, arrives_at: 12 degC}}], taken_out: [{{on: {} Sep, mass: {sum:.1} kg}}]}}\n",
                day + later,
                day + later + 1
            )
        },
    )
}

/// A heater against frost, which stays below the coldest that any thermostat's band of 4 K lets the cooler make.
fn frost_heater(set_degc: f64) -> impl Strategy<Value = String> {
    let heater = (10.0..2000.0, -5.0..set_degc - 2.3, 0.2..5.0).prop_map(
        move |(watts, on, differential): (f64, f64, f64)| {
            let differential = differential.min(set_degc - 2.05 - on);
            format!(
                "  frost_heater: {{power: {watts:.0} W, on_below: {on:.2} degC, differential: {differential:.2} K}}\n"
            )
        },
    );
    prop_oneof![2 => Just(String::new()), 1 => heater]
}

fn contents() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        (0.0..500.0, 0.0..80.0, 0.0..60.0, 1.0..20.0).prop_map(|(crates, skin, shelving, exchange)| {
            format!(
                "  contents: {{crates: {crates:.1} kJ/K, inner_skin: {skin:.1} kJ/m2K, shelving: {shelving:.1} kJ/K, exchange: {exchange:.2} W/m2K}}\n"
            )
        }),
    ]
}

fn heat_pump(set_degc: f64) -> impl Strategy<Value = String> {
    let refrigerant =
        select(vec!["R744", "R134a", "R290", "R1234yf", "R32", "R410A"]).prop_flat_map(|refrigerant| {
            let cycles = if refrigerant == "R744" {
                vec!["plain", "suction exchanger", "110 bar"]
            } else {
                vec!["ordinary", "deep subcooling", TANK_COIL]
            };
            (Just(refrigerant), select(cycles))
        });
    (refrigerant, 0.5..12.0).prop_flat_map(move |((refrigerant, cycle), kilowatts)| {
        let rest = (circuit(kilowatts, cycle == TANK_COIL), closed_loop(cycle == TANK_COIL), small_loads(), limits(set_degc), hot_pipe(), (caller(), ways()));
        (size(refrigerant, cycle, kilowatts), rest).prop_map(
            move |(size, (circuit, closed_loop, loads, limits, pipe, (caller, ways)))| {
                let cycle = if cycle == TANK_COIL { "ordinary\n    exchanger: tank coil" } else { cycle };
                format!(
                    "cooler:\n  heat_pump:\n    refrigerant: {refrigerant}\n    cycle: {cycle}\n{size}{circuit}{closed_loop}{loads}{limits}{pipe}{caller}{ways}"
                )
            },
        )
    })
}

/// Its nominal heat, or one to three lines of a data sheet. As the reader has it: the lines lie on the cycle's map, speak of different
/// conditions, and are near a unit that is a little better or worse than the cycle.
fn size(refrigerant: &'static str, cycle: &'static str, kilowatts: f64) -> impl Strategy<Value = String> {
    let map = CycleMap::of(cycle_named(refrigerant, cycle));
    // The hottest water that every refrigerant reaches below its highest pressure.
    let hottest = if cycle == TANK_COIL { 48.0 } else { 65.0 };
    let line =
        (5.0..44.0, 5.0..45.0, 0.9..1.1, prop_oneof![Just(None), (0.95..1.05).prop_map(Some)], any::<bool>());
    let lines = (-2.0..18.0, 0.6..1.2, vec(line, 1..4)).prop_map(move |(air, level, lines): (f64, f64, Vec<_>)| {
        let mut text = "    data_sheet:\n".to_owned();
        for (index, (water_in, rise, larger, better, as_power)) in lines.into_iter().enumerate() {
            // A kelvin between the lines keeps their conditions apart.
            let air = air + index as f64;
            let water_out = f64::clamp(water_in + rise, 20.0, hottest);
            let point = map.at(ICE_K + air, ICE_K + water_in, water_out - water_in);
            let (watts, cop) = (1000.0 * kilowatts * larger, better.map(|better: f64| (level * better * point.cop).clamp(1.2, 9.0)));
            let cop = match cop {
                None => String::new(),
                Some(cop) if as_power => format!(", power: {:.1} W", watts / cop),
                Some(cop) => format!(", cop: {cop:.3}"),
            };
            text += &format!(
                "      - {{room_air: {air:.1} degC, water_in: {water_in:.1} degC, water_out: {water_out:.1} degC, heat_output: {watts:.1} W{cop}, defrost: not included}}\n"
            );
        }
        text
    });
    prop_oneof![1 => Just(format!("    nominal_heat: {kilowatts:.2} kW\n")), 4 => lines]
}

/// How the generator calls the cycle of a coil at the tank.
const TANK_COIL: &str = "tank coil";

fn cycle_named(refrigerant: &str, cycle: &str) -> Cycle {
    match (refrigerant, cycle) {
        ("R744", "110 bar") => Cycle::R744Low,
        ("R744", "suction exchanger") => Cycle::R744SuctionExchanger,
        ("R744", _) => Cycle::R744,
        ("R134a", TANK_COIL) => Cycle::R134aTankCoil,
        ("R290", TANK_COIL) => Cycle::R290TankCoil,
        ("R1234yf", TANK_COIL) => Cycle::R1234yfTankCoil,
        ("R32", TANK_COIL) => Cycle::R32TankCoil,
        (_, TANK_COIL) => Cycle::R410ATankCoil,
        ("R134a", "ordinary") => Cycle::R134a,
        ("R134a", _) => Cycle::R134aDeep,
        ("R290", "ordinary") => Cycle::R290,
        ("R290", _) => Cycle::R290Deep,
        ("R1234yf", "ordinary") => Cycle::R1234yf,
        ("R1234yf", _) => Cycle::R1234yfDeep,
        ("R32", "ordinary") => Cycle::R32,
        ("R32", _) => Cycle::R32Deep,
        (_, "ordinary") => Cycle::R410A,
        _ => Cycle::R410ADeep,
    }
}

/// A single pass or many, or around a coil at the tank, where neither need be said.
fn circuit(kilowatts: f64, tank_coil: bool) -> impl Strategy<Value = String> {
    let single_pass = if tank_coil {
        Just(String::new()).boxed()
    } else {
        (31.0..85.0, 1.0..15.0)
            .prop_map(|(outlet, rise)| {
                format!("    single_pass: {{outlet: {outlet:.1} degC, least_rise: {rise:.1} K}}\n")
            })
            .boxed()
    };
    prop_oneof![
        single_pass,
        (1.0..15.0, 35.0..75.0).prop_map(move |(rise, highest)| {
            let litres_min = kilowatts * 60.0 / (4.1816 * rise);
            format!(
                "    multi_pass: {{flow: {:.3} L/min, highest_outlet: {highest:.1} degC}}\n",
                f64::max(litres_min, 0.5)
            )
        }),
    ]
}

/// Who calls it; the tank's thermostat stays below every outlet that is drawn.
fn caller() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => Just(String::new()),
        1 => (select(vec!["room", "tank", "both"]), 0..=100_u32, 12.0..30.0, 0.5..6.0).prop_map(
            |(caller, height, enough, differential)| {
                format!(
                    "    called_by: {caller}\n    tank_sensor: {{height: {height} %, enough_at: {enough:.1} degC, calls_at: {:.1} degC}}\n",
                    enough - differential
                )
            }
        ),
    ]
}

/// A defrost that counts running, the clock or the frost, by the first of three numbers; those with much power tell how long a thaw takes.
fn defrost(every_min: f64, takes_min: f64, power_w: f64) -> String {
    let begins = match every_min {
        ..130.0 => format!("every: {every_min:.1} min"),
        ..210.0 => format!("by_clock: {every_min:.1} min"),
        _ => format!("at_frost: {:.0} g", 20.0 + 20.0 * (every_min - 210.0)),
    };
    let thaws =
        if power_w > 1500.0 { format!(", thaws_in: {:.1} min", 3.0 * takes_min) } else { String::new() };
    format!("    defrost: {{{begins}, takes: {takes_min:.1} min, power: {power_w:.1} W{thaws}}}\n")
}

/// How slowly it runs, and how it deals with frost.
fn ways() -> impl Strategy<Value = String> {
    let none = || Just(String::new());
    let slow = (10..=95_u32, 0..=60_u32).prop_map(|(least, gain)| {
        format!("    slow_running: {{least_output: {least} %, gain_at_half: {gain} %}}\n")
    });
    let defrost =
        (10.0..300.0, 1.0..60.0, 0.0..3000.0).prop_map(|(every, takes, power)| defrost(every, takes, power));
    let heater = (-5.0..12.0, 1.0..200.0).prop_map(|(below, watts)| {
        format!("    frost_protection: {{below: {below:.1} degC, heater: {watts:.1} W}}\n")
    });
    let circulates = (-5.0..12.0, 1..=20_u32, 0.5..6.0).prop_map(|(below, share, litres)| {
        format!("    frost_protection: {{below: {below:.1} degC, circulation: {{share: {share} %, flow: {litres:.2} L/min}}}}\n")
    });
    (
        prop_oneof![2 => none(), 1 => slow],
        prop_oneof![1 => none(), 1 => defrost],
        prop_oneof![2 => none(), 1 => heater, 1 => circulates],
        prop_oneof![2 => none(), 1 => (40..=100_u32).prop_map(|kept| format!("    frosted_output: {kept} %\n"))],
        prop_oneof![3 => none(), 1 => coil_probe()].boxed(),
    )
        .prop_map(|(slow, defrost, guard, frosted, probe)| slow + &defrost + &guard + &frosted + &probe)
}

/// A probe on the coil, from one that never acts to one that nearly always does.
fn coil_probe() -> impl Strategy<Value = String> {
    let on = select(vec!["fins", "refrigerant pipe"]);
    (on, -20.0..5.0, 0.5..9.0, 20..=1800_u32).prop_map(|(on, stops, more, lag): (_, f64, f64, _)| {
        format!(
            "    coil_probe: {{on: {on}, stops_below: {stops:.2} degC, starts_above: {:.2} degC, follows_in: {lag} s}}\n",
            stops + more
        )
    })
}

fn small_loads() -> impl Strategy<Value = String> {
    (0.0..120.0, 0.0..60.0, 0.0..120.0, 0.0..150.0, 0..=100_u32, prop_oneof![
        Just(String::new()),
        (100.0..6000.0).prop_map(|airflow: f64| format!("    airflow: {airflow:.0} m3/h\n"))
    ])
        .prop_map(|(circulator, standby, fan, lag, shell, airflow)| {
            format!(
                "    circulator: {circulator:.1} W\n    standby: {standby:.1} W\n    resting_fan: {fan:.1} W\n    start_lag: {lag:.1} s\n    shell_outside: {shell} %\n{airflow}"
            )
        })
}

/// None where the refrigerant itself goes to the tank.
fn closed_loop(coil: bool) -> impl Strategy<Value = String> {
    (20..=99_u32, 0..8_u32, 0..=90_u32).prop_map(move |(share, chance, height)| match chance {
        _ if coil => String::new(),
        0 => format!("    closed_loop: {{effectiveness: {share} %}}\n"),
        1 => format!("    closed_loop: {{effectiveness: {share} %, coil_from: {height} %}}\n"),
        _ => String::new(),
    })
}

/// With a coil of the loop in the tank the pump has no ports there.
fn without_pump_ports(tank: &str) -> String {
    let from = tank.find("pump_out").expect("a tank has ports");
    let to = from + tank[from..].find("draw").expect("the taps' port follows those of the pump");
    format!("{}{}", &tank[..from], &tank[to..])
}

/// Its lock-outs; the thermostat's band is at most 4 K.
fn limits(set_degc: f64) -> impl Strategy<Value = String> {
    (25.0..70.0, 0.5..14.0, -20.0..5.0, 3.0..30.0).prop_map(move |(inlet, differential, lowest, above)| {
        format!(
            "    highest_inlet: {inlet:.1} degC\n    inlet_differential: {differential:.1} K\n    lowest_air: {lowest:.1} degC\n    highest_air: {:.1} degC\n",
            f64::max(set_degc + above, lowest + 1.0)
        )
    })
}

fn hot_pipe() -> impl Strategy<Value = String> {
    let length = prop_oneof![1 => Just(0.0), 4 => 0.0..20.0_f64];
    let loss = prop_oneof![1 => Just(0.0), 4 => 0.0..1.0_f64];
    (length, loss, 0.05..3.0).prop_map(|(length, loss, capacity)| {
        format!(
            "    hot_pipe: {{length: {length:.2} m, loss: {loss:.3} W/mK, heat_capacity: {capacity:.3} kJ/mK}}\n"
        )
    })
}

fn thermostat(set_degc: f64) -> impl Strategy<Value = String> {
    let probe = prop_oneof![
        Just("bare".to_owned()),
        Just("in a bottle of water".to_owned()),
        (1..=7200_u32).prop_map(|seconds| format!("{seconds} s")),
    ];
    let off_in = prop_oneof![
        4 => Just(String::new()),
        1 => proptest::sample::subsequence(MONTHS.to_vec(), 1..=6)
            .prop_map(|months| format!(", off_in: [{}]", months.join(", "))),
    ];
    (0.1..4.0, probe, 0..=1200_u32, 0..=1200_u32, off_in).prop_map(move |(band, probe, run, rest, off_in)| {
        format!(
            "thermostat: {{set: {set_degc:.2} degC, band: {band:.2} K, probe: {probe}, least_run: {run} s, least_rest: {rest} s{off_in}}}\n"
        )
    })
}

/// Heights of the tank's ports, %.
#[derive(Debug, Clone, Copy)]
struct Ports {
    cold_in: u32,
    pump_out: u32,
    pump_return: u32,
    draw: u32,
}

/// As the reader has it: the return above the outlet to the pump, the draw above the cold inlet; the ends are common.
fn ports() -> impl Strategy<Value = Ports> {
    let low = || prop_oneof![2 => Just(0), 1 => 0..=99_u32];
    (low(), low()).prop_flat_map(|(cold_in, pump_out)| {
        let above = |port: u32| prop_oneof![2 => Just(100), 1 => port + 1..=100];
        (above(pump_out), above(cold_in)).prop_map(move |(pump_return, draw)| Ports {
            cold_in,
            pump_out,
            pump_return,
            draw,
        })
    })
}

fn tank_and_dump() -> impl Strategy<Value = String> {
    ports().prop_flat_map(|ports| {
        let dump = prop_oneof![1 => Just(String::new()).boxed(), 3 => dump(ports).boxed()];
        (tank(ports), dump).prop_map(|(tank, dump)| tank + &dump)
    })
}

fn tank(ports: Ports) -> impl Strategy<Value = String> {
    let height =
        prop_oneof![Just(String::new()), (0.5..2.5).prop_map(|height| format!("  height: {height:.2} m\n"))];
    let loss = prop_oneof![
        Just(String::new()),
        (0.2..10.0).prop_map(|loss| format!("  loss: {loss:.2} W/K\n")),
        (10.0..400.0).prop_map(|watts| format!("  standing_loss: {watts:.0} W\n")),
        (0.3..8.0).prop_map(|r| format!("  insulation: {r:.2} m2K/W\n")),
        select(CLASSES.to_vec()).prop_map(|class| format!("  energy_class: {class}\n")),
    ];
    let bridges = prop_oneof![
        2 => Just(String::new()),
        1 => (0.05..2.0).prop_map(|loss| format!("  heat_bridges: {loss:.2} W/K\n")),
        1 => (1..=8_u32).prop_map(|count| format!("  bare_connections: {count}\n")),
    ];
    // The cold water stirs a share of the tank, or as its opening makes it; so does what the pump returns.
    let stirs = prop_oneof![
        2 => Just((0_u32, "cold_in_stirs: 0 %".to_owned())),
        1 => (1..=50_u32).prop_map(|share| (share, format!("cold_in_stirs: {share} %"))),
        1 => (6.0..60.0).prop_map(|bore| (0, format!("cold_in_bore: {bore:.0} mm"))),
    ];
    let returned = prop_oneof![
        2 => Just(String::new()),
        1 => (6.0..60.0).prop_map(|bore| format!(" pump_return_bore: {bore:.0} mm,")),
    ];
    let stirs = (stirs, returned).prop_map(|((share, stirs), returned)| (share, stirs, returned)).boxed();
    let stop = prop_oneof![
        Just(String::new()),
        select(vec!["check valve", "heat trap", "nothing"])
            .prop_map(|stop| format!("  circling_stopped_by: {stop}\n")),
    ];
    let built = prop_oneof![
        Just(String::new()),
        select(keys::BUILT_AS.to_vec()).prop_map(|built| format!("  built_as: {built}\n")),
    ];
    // The cold water enters the first and stirs no further than its top, and neither is a mere pipe.
    let second = prop_oneof![
        3 => Just(None),
        1 => (0.5..4.0, 0.3..6.0).prop_map(Some),
    ];
    let loss = (loss, bridges, stop, built)
        .prop_map(|(loss, bridges, stop, built)| loss + &bridges + &stop + &built);
    let place = select(vec!["store", "attic", "outdoors", "cold room"]);
    (80.0..1500.0, height, loss, place, 0.4..10.0, stirs, second).prop_map(move |(litres, height, loss, place, conductivity, (stirs, cold, returned), second): (f64, _, _, _, _, _, _)| {
        let Ports { cold_in, pump_out, pump_return, draw } = ports;
        let second = second.map_or(String::new(), |(times, loss): (f64, f64)| {
            let first_frac = 1.0 / (1.0 + times);
            if f64::from(cold_in.max(stirs)) > 99.0 * first_frac {
                return String::new();
            }
            format!("  followed_by: {{volume: {:.0} L, loss: {loss:.2} W/K}}\n", litres * times)
        });
        format!(
            "tank:\n  volume: {litres:.0} L\n{height}{loss}{second}  stands_in: {place}\n  conductivity: {conductivity:.2} W/mK\n  ports: {{cold_in: {cold_in} %, {cold}, pump_out: {pump_out} %, pump_return: {pump_return} %,{returned} draw: {draw} %}}\n"
        )
    })
}

/// A dump that suits the ports: the probe not above the return, the port not below the probe and above the cold inlet.
fn dump(ports: Ports) -> impl Strategy<Value = String> {
    (0..=ports.pump_return).prop_flat_map(move |probe| {
        let lowest = probe.max(ports.cold_in + 1);
        let port = prop_oneof![Just(lowest), Just(100), lowest..=100];
        let mounting = prop_oneof![
            Just("in a well".to_owned()),
            Just("strapped on".to_owned()),
            (1..=900_u32).prop_map(|seconds| format!("{seconds} s")),
        ];
        let months = prop_oneof![
            Just("all".to_owned()),
            proptest::sample::subsequence(MONTHS.to_vec(), 1..=12)
                .prop_map(|months| format!("[{}]", months.join(", "))),
        ];
        let opens = (WARMEST_MAINS_DEGC + 2.0..65.0)
            .prop_flat_map(|opens| (Just(opens), 0.5..opens - WARMEST_MAINS_DEGC - 1.0));
        (opens, port, mounting, 0..=900_u32, 0.3..40.0, months, (places(), holds()).boxed()).prop_map(
            move |((opens, below), port, mounting, least, flow, months, (places, holds))| {
                format!(
                    "dump: {{opens_at: {opens:.2} degC, closes_at: {:.2} degC, probe_height: {probe} %, probe: {mounting}, least_open: {least} s, flow: {flow:.2} L/min, port_height: {port} %, months: {months}, {holds}{places}}}\n",
                    opens - below
                )
            },
        )
    })
}

/// A timer in series with the aquastat, and a guard against a valve that sticks.
fn holds() -> impl Strategy<Value = String> {
    let timer = (0..24_u32, 1..=1440_u32)
        .prop_map(|(hour, minutes)| format!("timer: {{from: \"{hour:02}:30\", lasts: {minutes} min}}, "));
    let guard = (16..=1440_u32).prop_map(|minutes| format!("longest_open: {minutes} min, "));
    (prop_oneof![3 => Just(String::new()), 1 => timer], prop_oneof![3 => Just(String::new()), 1 => guard])
        .prop_map(|(timer, guard)| timer + &guard)
}

/// What takes the dumped water. The first takes it in every month, so that the dump may open in one at least.
fn places() -> impl Strategy<Value = String> {
    let temper = prop_oneof![
        Just(String::new()),
        (WARMEST_MAINS_DEGC + 0.1..70.0).prop_map(|degc| format!(", temper_to: {degc:.2} degC")),
    ];
    let kind = prop_oneof![
        Just("to: drain".to_owned()),
        Just("to: irrigation".to_owned()),
        (
            1.0..500.0,
            select(vec!["sand", "loam", "clay"]),
            select(vec!["fruit trees", "vegetable beds"]),
            select(vec!["drip", "open hose"])
        )
            .prop_map(|(area, soil, plants, by)| format!(
                "to: irrigation, area: {area:.2} m2, soil: {soil}, plants: {plants}, watered_by: {by}"
            )),
        (20.0..2000.0, 0.0..300.0)
            .prop_map(|(volume, used)| format!("to: barrel, volume: {volume:.2} L, used: {used:.2} L/day")),
    ];
    let months = prop_oneof![
        Just(String::new()),
        proptest::sample::subsequence(MONTHS.to_vec(), 1..=12)
            .prop_map(|months| format!(", months: [{}]", months.join(", "))),
    ];
    let first = (kind.clone(), temper.clone()).prop_map(|(kind, temper)| format!("{{{kind}{temper}}}"));
    let more = proptest::collection::vec(
        (kind, temper, months).prop_map(|(kind, temper, months)| format!("{{{kind}{temper}{months}}}")),
        0..4,
    );
    let listed = (first, more).prop_map(|(first, more)| {
        let all: Vec<_> = [first].into_iter().chain(more).collect();
        format!("destinations: [{}]", all.join(", "))
    });
    prop_oneof![Just("leads_to: drain".to_owned()), listed]
}

fn taps_and_booster() -> impl Strategy<Value = String> {
    (30.0..55.0, any::<bool>()).prop_flat_map(|(used, valve)| {
        let valve = if valve { (used + 0.01..64.0).prop_map(Some).boxed() } else { Just(None).boxed() };
        (taps(used), calendar(), valve, pipes(), booster(used), element()).prop_map(
            |(taps, calendar, valve, pipes, booster, element)| {
                let valve = valve.map_or(String::new(), |valve| format!("  mixing_valve: {valve:.2} degC\n"));
                format!("hot_water:\n{taps}{calendar}{valve}{pipes}{booster}{element}")
            },
        )
    })
}

/// How much water and when: a pattern with the household's own amount or its own, a study, or a list of uses.
fn taps(used: f64) -> impl Strategy<Value = String> {
    let patterns = vec!["S", "M", "L", "XL", "very small", "low", "medium", "high", "hourly"];
    let daily = prop_oneof![1 => Just(0.0), 6 => 0.0..800.0_f64];
    let amount = prop_oneof![
        4 => daily.prop_map(|daily| format!("  daily: {daily:.1} L/day\n")),
        1 => select(vec!["middle", "Canada", "United Kingdom"]).prop_map(|study| format!("  study: {study}\n")),
    ];
    let by_pattern =
        (amount, select(patterns)).prop_map(|(amount, pattern)| format!("{amount}  pattern: {pattern}\n"));
    let by_hour = (0.0..400.0_f64, vec(0..100_u32, keys::HOURS), 0..keys::HOURS).prop_map(
        |(daily, mut parts, full)| {
            parts[full] += 1;
            let sum: u32 = parts.iter().sum();
            let shares: Vec<_> =
                parts.iter().map(|part| format!("{:.4}", f64::from(*part) / f64::from(sum))).collect();
            format!("  daily: {daily:.1} L/day\n  by_hour: [{}]\n", shares.join(", "))
        },
    );
    let own = select(vec!["S", "M", "L", "XL", "low", "high"])
        .prop_map(|pattern| format!("  pattern: {pattern}\n"));
    let one_use = (0.5..150.0, 30.0..used.max(30.001), 0.5..14.0, 0..24_u32, 0..24_u32, select(vec!["every day", "weekend", "[Mon, Thu]"]))
        .prop_map(|(litres, degc, flow, first, second, days): (f64, f64, f64, u32, u32, &str)| {
            format!("    - {{name: use, water: {litres:.1} L, temperature: {degc:.2} degC, flow: {flow:.1} L/min, at: [\"{first:02}:15\", \"{second:02}:40\"], days: {days}}}\n")
        });
    let uses = vec(one_use, 1..5).prop_map(|uses| format!("  uses:\n{}", uses.concat()));
    let how = prop_oneof![4 => by_pattern.boxed(), 1 => own.boxed(), 3 => uses.boxed(), 1 => by_hour.boxed()];
    (how, 1..8_u32)
        .prop_map(move |(how, people)| format!("  use_at: {used:.2} degC\n  people: {people}\n{how}"))
}

fn calendar() -> impl Strategy<Value = String> {
    let plain = Just(String::new());
    let varied = (0..=300_u32, 0..=250_u32, 1..=1000_u32, 0..=40_u32, 0..=90_u32, 1..=28_u32, 1..=28_u32).prop_map(
        |(january, weekend, seed, spread, minutes, from, to)| {
            let months = [vec![january; 1], vec![100; 11]].concat();
            let months: Vec<_> = months.iter().map(|share| format!("{share} %")).collect();
            format!(
                "  by_month: [{}]\n  weekend: {weekend} %\n  first_weekday: Thu\n  day_to_day: {{spread: {spread} %, times: {minutes} min, seed: {seed}}}\n  guests: [{{from: {from} Mar, to: {to} Apr, people: 3}}]\n  absences: [{{from: {from} Dec, to: {to} Jan}}]\n",
                months.join(", ")
            )
        },
    );
    prop_oneof![2 => plain.boxed(), 1 => varied.boxed()]
}

fn pipes() -> impl Strategy<Value = String> {
    let some = (0.1..8.0, 5..120_u32).prop_map(|(litres, minutes): (f64, u32)| {
        format!("  pipes: {{runs_before_warm: {litres:.2} L, cools_in: {minutes} min}}\n")
    });
    prop_oneof![2 => Just(String::new()).boxed(), 1 => some.boxed()]
}

fn booster(used: f64) -> impl Strategy<Value = String> {
    let hot = prop_oneof![
        Just(String::new()),
        (20.0..80.0).prop_map(|t: f64| format!(", highest_inlet: {t:.2} degC"))
    ];
    let booster = (0.0..20.0, 1.0..40.0, 0.0..0.9, 20..=110_u32, hot).prop_map(
        move |(above, most, least, efficiency, hot): (f64, f64, f64, u32, String)| {
            format!(
                "booster: {{set: {:.2} degC, most: {:.0} W, least: {:.0} W, efficiency: {efficiency} %{hot}}}\n",
                used + above + 0.01,
                1000.0 * most,
                1000.0 * most * least
            )
        },
    );
    prop_oneof![1 => Just(String::new()).boxed(), 3 => booster.boxed()]
}

fn element() -> impl Strategy<Value = String> {
    let some = (300..9000_u32, 0..=95_u32, 25.0..75.0, 1.0..15.0).prop_map(
        |(watts, height, set, differential): (u32, u32, f64, f64)| {
            format!("element: {{power: {watts} W, height: {height} %, set: {set:.2} degC, differential: {differential:.2} K}}\n")
        },
    );
    prop_oneof![2 => Just(String::new()).boxed(), 1 => some.boxed()]
}

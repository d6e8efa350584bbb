//! The page on measuring says what a wrong reading does to the starter scenario's year: here each is run.

use std::path::Path;
use std::process::Command;

use larderloop::plant::Plant;
use larderloop::resolution::Resolution;
use larderloop::scenario;
use larderloop::simulate::simulate;
use larderloop::wording::number;
use larderloop::year::Year;

/// What is read wrong, its key, and the edits that make it so: what stands in the starter and what stands there instead.
struct Slip {
    what: &'static str,
    key: &'static str,
    edits: &'static [(&'static str, &'static str)],
}

const fn slip(what: &'static str, key: &'static str, edits: &'static [(&'static str, &'static str)]) -> Slip {
    Slip { what, key, edits }
}

/// Each by about as much as the tool of that section can be off, or as a guess is off where nothing was measured.
const SLIPS: &[Slip] = &[
    slip("one wall 9.9 m² instead of 9.4", "room.surfaces[].area", &[("area: 9.4 m2", "area: 9.9 m2")]),
    slip(
        "walls and floor 0.35 W/m²K instead of 0.25",
        "room.surfaces[].u_value",
        &[("u_value: 0.25 W/m2K", "u_value: 0.35 W/m2K")],
    ),
    slip(
        "an ordinary door leaf, 2 W/m²K instead of 0.5",
        "room.surfaces[].u_value",
        &[("u_value: 0.5 W/m2K", "u_value: 2 W/m2K")],
    ),
    slip(
        "a loose door, 1 air change an hour instead of 0.3",
        "room.leakage.air_changes",
        &[("  height: 2.2 m\n", "  height: 2.2 m\n  leakage: {air_changes: 1 per hour}\n")],
    ),
    slip(
        "the basement 1 K warmer all year",
        "spaces.NAME.temperature",
        &[(
            "[14 degC, 14 degC, 15 degC, 16 degC, 17 degC, 19 degC, 20 degC, 20 degC, 18 degC, 16 degC, 15 degC, 14 degC]",
            "[15 degC, 15 degC, 16 degC, 17 degC, 18 degC, 20 degC, 21 degC, 21 degC, 19 degC, 17 degC, 16 degC, 15 degC]",
        )],
    ),
    slip("9 door openings a day instead of 6", "room.doors[].openings", &[("6 per day", "9 per day")]),
    slip(
        "the door open for 30 s instead of 15",
        "room.doors[].open_for",
        &[("open_for: 15 s", "open_for: 30 s")],
    ),
    slip("66 kg of potatoes instead of 60", "room.produce[].mass", &[("mass: 60 kg", "mass: 66 kg")]),
    slip("the room's dial 1 K off: 5 °C instead of 4", "thermostat.set", &[("set: 4 degC ", "set: 5 degC ")]),
    slip("COP 2.9 instead of 3.2", "cooler.heat_pump.data_sheet[].cop", &[("cop: 3.2", "cop: 2.9")]),
    slip(
        "20 W at rest instead of 10",
        "cooler.heat_pump.standby",
        &[("      outlet: 55 degC\n", "      outlet: 55 degC\n    standby: 20 W\n")],
    ),
    slip(
        "mains water 2 K warmer all year",
        "site.mains_water",
        &[("\nspaces:", "\nsite:\n  mains_water: {coldest: 8.7 degC, warmest: 21.9 degC}\n\nspaces:")],
    ),
    slip("a tank of 270 L instead of 300", "tank.volume", &[("volume: 300 L", "volume: 270 L")]),
    slip(
        "a tank that loses 70 W, from its label",
        "tank.standing_loss",
        &[("# standing_loss: 70 W", "standing_loss: 70 W")],
    ),
    slip(
        "88 L of hot water a day instead of 80",
        "hot_water.daily",
        &[("daily: 80 L/day", "daily: 88 L/day")],
    ),
    slip(
        "water wanted at 42 °C instead of 40",
        "hot_water.use_at",
        &[("people: 2\n", "people: 2\n  use_at: 42 degC\n")],
    ),
    slip(
        "the aquastat opens at 40 °C instead of 38",
        "dump.opens_at",
        &[("opens_at: 38 degC", "opens_at: 40 degC")],
    ),
    slip(
        "its probe at 40 % instead of 30",
        "dump.probe_height",
        &[("probe_height: 30 %", "probe_height: 40 %")],
    ),
    slip("the dump gives 6 L/min instead of 8", "dump.flow", &[("flow: 8 L/min", "flow: 6 L/min")]),
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// What `larderloop new` writes.
fn starter() -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let done = Command::new(env!("CARGO_BIN_EXE_larderloop"))
        .current_dir(folder.path())
        .args(["new", "cellar.yaml"])
        .output()
        .expect("it runs");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    std::fs::read_to_string(folder.path().join("cellar.yaml")).expect("written")
}

fn year_of(text: &str) -> Year {
    let weather =
        std::fs::read(root().join("scenarios/weather/chicago-tmy3.epw")).expect("part of the project");
    let household = scenario::check(text, "cellar.yaml", |_| Ok(weather.clone()));
    let household = household.unwrap_or_else(|faults| panic!("{faults:?}"));
    simulate(&Plant::new(&household), &Resolution::default(), &mut ())
        .expect("a checked household can be run")
}

fn with(slip: &Slip, starter: &str) -> String {
    slip.edits.iter().fold(starter.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "`{from}` is not in the starter");
        text.replace(from, to)
    })
}

/// The change of a number from one year to another, with its sign.
fn change(before: f64, after: f64) -> String {
    let said = number(after - before);
    if said.starts_with('-') || said == "0" { said } else { format!("+{said}") }
}

fn litres(year: &Year) -> f64 {
    year.total.dump_m3 * 1000.0
}

fn kwh(year: &Year) -> f64 {
    year.total.electricity_total_j() / 3.6e6
}

fn table() -> String {
    let starter = starter();
    let year = year_of(&starter);
    let mut text = format!(
        "\n| Read wrong | Key | Dumped in the year, L | Electricity in the year, kWh |\n|---|---|---:|---:|\n\
         | nothing: the starter as it is | | {} | {} |\n",
        number(litres(&year)),
        number(kwh(&year))
    );
    for slip in SLIPS {
        let other = year_of(&with(slip, &starter));
        text.push_str(&format!(
            "| {} | `{}` | {} | {} |\n",
            slip.what,
            slip.key,
            change(litres(&year), litres(&other)),
            change(kwh(&year), kwh(&other))
        ));
    }
    text
}

#[test]
fn the_table_of_wrong_readings_is_what_the_program_computes() {
    const BEGIN: &str = "<!-- wrong readings -->\n";
    const END: &str = "\n<!-- end -->";
    let path = root().join("docs/MEASURING.md");
    let page = std::fs::read_to_string(&path).expect("the page is part of the project");
    let (before, rest) = page.split_once(BEGIN).expect("the table begins");
    let (printed, after) = rest.split_once(END).expect("the table ends");
    let table = table();
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(&path, format!("{before}{BEGIN}{table}{END}{after}")).expect("written");
    } else {
        assert_eq!(printed, table, "UPDATE_DOCS=1 writes it anew");
    }
}

/// Every key that the page names is one that a scenario takes.
#[test]
fn every_key_of_the_page_is_in_the_table_of_keys() {
    let read =
        |name: &str| std::fs::read_to_string(root().join("docs").join(name)).expect("part of the project");
    let (page, keys) = (read("MEASURING.md"), read("SCENARIO.md"));
    let named: Vec<_> = page
        .split('`')
        .skip(1)
        .step_by(2)
        .filter(|word| {
            word.split_once('.').is_some_and(|(first, _)| keys.contains(&format!("| `{first}` |")))
        })
        .collect();
    assert!(named.len() > 50, "{named:?}");
    for key in named {
        assert!(keys.contains(&format!("| `{key}` |")), "`{key}` is not a key");
    }
}

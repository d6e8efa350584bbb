//! `docs/VALIDATION.md`: formulas against published figures, side by side. `UPDATE_DOCS=1 cargo test --test validation` writes it.
//!
//! Each row is calculated here and now by the program's own functions, and held to its tolerance. More checks of the same kind, whole tables
//! and curves among them, are in `tests/published`.

use std::path::Path;

use larderloop::alternatives::{fan_power_w, outdoor_air_m3_s};
use larderloop::constants::ZERO_CELSIUS_K;
use larderloop::ground::GroundClimate;
use larderloop::heat_pump::cop_lorenz;
use larderloop::irrigation::{extraterrestrial_mj_m2, reference_et_hargreaves_mm};
use larderloop::mains::MainsAir;
use larderloop::pipe::{friction_factor_colebrook, valve_drop_pa};
use larderloop::plant::DAY_S;
use larderloop::room::{
    Crop, GroundFloor, Layer, Lies, OtherSide, RespirationLevel, exchange_gosney_olama_kg_s,
    respiration_heat_w_per_kg, specific_heat_siebel_j_per_kg_k, u_value_iso_6946_w_per_m2_k,
};
use larderloop::weather::WeatherYear;
use larderloop::{air, water};

/// A row: what, its unit, the published figure, ours, the tolerance in the same unit, and the source with its trust word.
struct Row {
    theme: &'static str,
    what: &'static str,
    unit: &'static str,
    published: f64,
    ours: f64,
    tolerance: f64,
    digits: usize,
    source: &'static str,
}

/// Makes the rows of a theme: what, unit, published figure, ours, tolerance, digits, source.
fn of_theme(
    theme: &'static str,
) -> impl Fn(&'static str, &'static str, f64, f64, f64, usize, &'static str) -> Row {
    move |what, unit, published, ours, tolerance, digits, source| Row {
        theme,
        what,
        unit,
        published,
        ours,
        tolerance,
        digits,
        source,
    }
}

const ASHRAE: &str =
    "ASHRAE Handbook Fundamentals 2017, chapter 1. Second hand: an open psychrometric library's tests";
const IF97: &str = "IAPWS-IF97 at 0.3 MPa. Derived here: evaluated with the open library iapws 1.5.5";
const SEA_LEVEL_PA: f64 = 101_325.0;

fn kelvin(degc: f64) -> f64 {
    degc + ZERO_CELSIUS_K
}

fn air_and_water() -> Vec<Row> {
    let wet = air::humidity_ratio_from_wet_bulb(kelvin(40.0), kelvin(20.0), SEA_LEVEL_PA);
    let row = of_theme("Air and water");
    vec![
        row(
            "air pressure at 1000 m",
            "Pa",
            89_875.0,
            air::standard_pressure_pa(1000.0).expect("in range"),
            1.0,
            0,
            ASHRAE,
        ),
        row(
            "saturation over ice, -5 °C",
            "Pa",
            401.74,
            air::saturation_pressure_pa(kelvin(-5.0)),
            0.12,
            2,
            ASHRAE,
        ),
        row(
            "saturation over water, 25 °C",
            "Pa",
            3169.7,
            air::saturation_pressure_pa(kelvin(25.0)),
            0.95,
            1,
            ASHRAE,
        ),
        row("humidity ratio, 40 °C dry and 20 °C wet bulb", "g/kg", 6.5, 1e3 * wet, 0.1, 2, ASHRAE),
        row(
            "enthalpy of that air",
            "kJ/kg",
            56.7,
            1e-3 * air::enthalpy_j_per_kg(kelvin(40.0), wet),
            0.1,
            2,
            ASHRAE,
        ),
        row("density of water, 55 °C", "kg/m3", 985.79, water::density_kg_m3(kelvin(55.0)), 0.02, 2, IF97),
        row(
            "specific heat of water, 55 °C",
            "J/(kg K)",
            4180.4,
            water::specific_heat_j_per_kg_k(kelvin(55.0)),
            0.5,
            1,
            IF97,
        ),
    ]
}

fn room() -> Vec<Row> {
    let row = of_theme("Room and ground");
    let foam = [Layer { thickness_m: 0.1, conductivity_w_per_m_k: 0.025, framing: None }];
    let floor = GroundFloor {
        area_m2: 200.0,
        perimeter_m: 60.0,
        wall_m: 0.3,
        depth_m: 0.0,
        soil_w_per_m_k: 1.4,
        resistance_m2_k_per_w: 0.21,
    };
    let humid =
        |degc: f64, share: f64| air::humidity_ratio_from_relative_humidity(kelvin(degc), share, SEA_LEVEL_PA);
    let density =
        |degc: f64, share: f64| air::moist_air_density_kg_m3(kelvin(degc), humid(degc, share), SEA_LEVEL_PA);
    let (inside, outside) = (density(4.0, 0.9), density(25.0, 0.6));
    let door_m3_s = exchange_gosney_olama_kg_s(1.8, 2.0, inside, outside) / inside;
    let climate =
        GroundClimate { mean_k: kelvin(10.0), amplitude_dk: 12.0, coldest_day: 35.0, year_days: 365.0 };
    let ground = |depth_m: f64, day: f64| {
        climate.temperature_kusuda_achenbach_k(depth_m, 0.05 / DAY_S, day) - ZERO_CELSIUS_K
    };
    let cabbage = Crop::by_name("cabbage").expect("it is in the table");
    let cabbage = 1000.0 * cabbage.respiration_w_per_kg(RespirationLevel::Middle)[0];
    vec![
        row(
            "U of 100 mm of 0.025 W/mK, a wall",
            "W/(m2 K)",
            0.2398,
            u_value_iso_6946_w_per_m2_k(&foam, Lies::Wall, OtherSide::Outdoors),
            1e-4,
            4,
            "ISO 6946. Second hand: the films; Derived here: the sum",
        ),
        row(
            "U of a solid floor of 20 x 10 m",
            "W/(m2 K)",
            0.482,
            floor.u_value_iso_13370_w_per_m2_k(),
            0.024,
            4,
            "CIBSE Guide A, worked case. Checked: original read; an older formula than ISO 13370's",
        ),
        row(
            "air through an open door of 0.9 x 2 m, 4 to 25 °C",
            "m3/s",
            0.4717,
            door_m3_s,
            0.0047,
            4,
            "Gosney and Olama 1975, as in ASHRAE Refrigeration. Second hand: the form; Derived here: the value",
        ),
        row(
            "ground at 1 m on day 200",
            "°C",
            15.978,
            ground(1.0, 200.0),
            1e-3,
            3,
            "Kusuda and Achenbach 1965. Derived here: the form by hand",
        ),
        row(
            "specific heat of apples, 84.1 % water",
            "kJ/(kg K)",
            0.87 * 4.1868,
            1e-3 * specific_heat_siebel_j_per_kg_k(0.841),
            0.03,
            2,
            "USDA Agriculture Handbook 66, 1968. Checked: read in copies",
        ),
        row(
            "heat of 1 mg of carbon dioxide an hour",
            "mW",
            0.5 * 5.908,
            1e3 * respiration_heat_w_per_kg(1.0),
            0.021,
            3,
            "UC Davis Produce Facts, 122 kcal/(t day) for each ml/(kg h). Checked: original read",
        ),
        row(
            "respiration of cabbage at 0 °C",
            "mW/kg",
            14.9,
            cabbage,
            0.15,
            1,
            "USDA Agriculture Handbook 66, draft of 2002. Second hand: Produce Degradation, table 20.2",
        ),
    ]
}

fn machines() -> Vec<Row> {
    let row = of_theme("Machines");
    let outdoor = outdoor_air_m3_s(1000.0, kelvin(4.0), kelvin(1.0), SEA_LEVEL_PA);
    vec![
        row(
            "reversible COP, air 4 °C, water 10 to 60 °C",
            "",
            10.140,
            cop_lorenz(kelvin(4.0), kelvin(10.0), kelvin(60.0)).expect("the water is warmer"),
            5e-4,
            3,
            "First and second law. Derived here: entropy balance by hand",
        ),
        row(
            "outdoor air of 1 °C for a kilowatt out of 4 °C",
            "m3/s",
            0.2578,
            outdoor,
            0.0018,
            4,
            "Energy balance. Derived here: moist-air properties of psychrolib 2.5.0",
        ),
        row("its fans at 100 Pa and 35 %", "W", 73.7, fan_power_w(outdoor), 0.6, 1, "The same"),
    ]
}

fn outside() -> Vec<Row> {
    let row = of_theme("Weather, mains and garden");
    let bytes = include_bytes!("../scenarios/weather/chicago-tmy3.epw");
    let chicago = WeatherYear::read("chicago-tmy3.epw", bytes).expect("a published file");
    let july = chicago.monthly_mean_dry_bulb_k()[6];
    let mains = MainsAir { mean_k: kelvin(10.0), monthly_range_dk: 25.0, southern: false };
    let mains = mains.burch_christensen(365).expect("inside the formula").daily_k;
    let coldest_mains_k = mains.into_iter().fold(f64::INFINITY, f64::min);
    vec![
        row(
            "mean air of the Chicago file",
            "°C",
            9.988,
            chicago.mean_dry_bulb_k() - ZERO_CELSIUS_K,
            1e-3,
            3,
            "The file's own hours. Derived here: with a general data library",
        ),
        row("its July", "°C", 24.13, july - ZERO_CELSIUS_K, 0.005, 2, "The same"),
        row(
            "radiation above the air, 20° S, 3 September",
            "MJ/m2",
            32.2,
            extraterrestrial_mj_m2(-20.0, 246.0),
            0.05,
            2,
            "FAO 56, example 8. Second hand: tests of open programs",
        ),
        row(
            "reference evapotranspiration, Lyon in July",
            "mm/day",
            5.0,
            reference_et_hargreaves_mm(kelvin(26.6), kelvin(14.8), 40.6),
            0.05,
            2,
            "FAO 56, example 20. Second hand: tests of open programs",
        ),
        row(
            "friction factor, Re 2.7e5, roughness 0.0008",
            "",
            0.0198,
            friction_factor_colebrook(2.7e5, 8e-4),
            5e-5,
            5,
            "White, Fluid Mechanics, asphalted cast iron. From memory, to be verified",
        ),
        row(
            "drop over a valve of Kv 165 with 360 m3/h",
            "kPa",
            460.0,
            1e-3 * valve_drop_pa(0.1, 165.0 / 3600.0, 965.4),
            0.46,
            1,
            "IEC 60534-2-1, example 1. Second hand: tests of an open library",
        ),
        row(
            "coldest mains water of a year, air 10 °C and 25 K",
            "°C",
            7.583,
            coldest_mains_k - ZERO_CELSIUS_K,
            1e-3,
            3,
            "Burch and Christensen. Derived here: the published form by hand",
        ),
    ]
}

fn table(rows: &[Row]) -> String {
    let mut text = String::from(
        "# Formulas against published figures\n\nMade by `tests/validation.rs`, which calculates every row with the program's own functions and fails where one is beyond its tolerance. \
         Whole tables and curves are checked in `tests/published`, the year as a whole against a second program in `tests/reference`.\n",
    );
    let mut theme = "";
    for row in rows {
        if row.theme != theme {
            theme = row.theme;
            text += &format!(
                "\n## {theme}\n\n| What | Published | Here | Allowed | Unit | Source |\n|---|---|---|---|---|---|\n"
            );
        }
        let digits = row.digits;
        let allowed = format!("{:.1e}", row.tolerance).parse::<f64>().expect("a number");
        text += &format!(
            "| {} | {:.digits$} | {:.digits$} | ±{allowed} | {} | {} |\n",
            row.what, row.published, row.ours, row.unit, row.source
        );
    }
    text
}

#[test]
fn every_formula_meets_its_published_figure_and_the_page_says_so() {
    let rows: Vec<Row> = [air_and_water(), room(), machines(), outside()].into_iter().flatten().collect();
    for row in &rows {
        let off = (row.ours - row.published).abs();
        assert!(
            off <= row.tolerance,
            "{}: {} against {}, allowed {}",
            row.what,
            row.ours,
            row.published,
            row.tolerance
        );
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/VALIDATION.md");
    let text = table(&rows);
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(&path, &text).expect("the page can be written");
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default().replace("\r\n", "\n");
    assert!(kept == text, "docs/VALIDATION.md is out of date: run with UPDATE_DOCS=1");
}

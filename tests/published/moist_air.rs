//! Moist air against the handbook's tables and an independent library.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use larderloop::air;
use larderloop::constants::{LATENT_HEAT_J_PER_KG, ZERO_CELSIUS_K};

const SEA_LEVEL_PA: f64 = 101_325.0;

fn kelvin(degc: f64) -> f64 {
    degc + ZERO_CELSIUS_K
}

/// ASHRAE Handbook Fundamentals 2017, chapter 1, table 1 (standard atmosphere). Second hand: as given
/// in an open psychrometric library's tests. Whole pascals are printed at 500 and 1000 m, tens at 4000 m; the handbook's table and
/// its equation 3 agree to 1 Pa.
#[test]
fn standard_atmosphere() {
    for (elevation_m, printed_pa) in [(500.0, 95_461.0), (1000.0, 89_875.0), (4000.0, 61_640.0)] {
        let pressure_pa = air::standard_pressure_pa(elevation_m).expect("inside the table");
        assert_abs_diff_eq!(pressure_pa, printed_pa, epsilon = 1.0);
    }
}

/// The same chapter, table 3 (water at saturation): -5 °C over ice. Second hand: as given in the same tests.
/// Tolerance 0.03 %: the table is of a later formulation than equations 5 and 6, the two differ by up to that.
#[test]
fn saturation_pressure() {
    for (t, printed_pa) in [(-5.0, 401.74), (5.0, 872.6), (25.0, 3169.7), (50.0, 12_351.3)] {
        let t = kelvin(t);
        assert_relative_eq!(air::saturation_pressure_pa(t), printed_pa, max_relative = 3e-4);
        // The fast form adds at most 0.006 % over ice and 0.001 % over water.
        assert_relative_eq!(air::saturation_pressure_fast_pa(t), printed_pa, max_relative = 3.6e-4);
    }
}

/// The same chapter, table 2 (moist air saturated at 101 325 Pa). Second hand: as given in the same tests.
/// Tolerance 0.5 %: the table is of real air, the functions are of ideal gases, which hold less vapour.
#[test]
fn humidity_ratio_at_saturation() {
    for (t, printed) in [(-5.0, 0.002_486_3), (5.0, 0.005_425), (25.0, 0.020_173)] {
        let ideal = air::saturation_humidity_ratio(kelvin(t), SEA_LEVEL_PA);
        assert_relative_eq!(ideal, printed, max_relative = 5e-3);
        assert!(ideal < printed, "real air holds more than ideal air at {t} °C");
    }
}

/// The same chapter, example 1: 40 °C dry bulb, 20 °C wet bulb, 101 325 Pa. Second hand: as given in the same tests.
/// Printed: W 0.0065, relative humidity 14 %, dew point 7 °C, enthalpy 56.7 kJ/kg, 0.896 m3/kg, read from a chart; hence
/// 1e-4, 1 point, 0.5 K, 0.1 kJ/kg and 1 %.
#[test]
fn example_of_a_wet_bulb() {
    let (dry_bulb, wet_bulb) = (40.0, 20.0);
    // Equation 33, psychrometer above freezing.
    let w = air::humidity_ratio_from_wet_bulb(kelvin(dry_bulb), kelvin(wet_bulb), SEA_LEVEL_PA);
    assert_abs_diff_eq!(w, 0.0065, epsilon = 1e-4);
    let t = kelvin(dry_bulb);
    let humidity = air::relative_humidity_frac(t, w, SEA_LEVEL_PA);
    assert_abs_diff_eq!(humidity, 0.14, epsilon = 0.01);
    let dew_point = air::dew_point_k(air::vapour_pressure_pa(w, SEA_LEVEL_PA)).expect("moist air");
    assert_abs_diff_eq!(dew_point, kelvin(7.0), epsilon = 0.5);
    assert_abs_diff_eq!(air::enthalpy_j_per_kg(t, w), 56_700.0, epsilon = 100.0);
    let volume_m3_per_kg = 1.0 / air::dry_air_density_kg_m3(t, w, SEA_LEVEL_PA);
    assert_relative_eq!(volume_m3_per_kg, 0.896, max_relative = 0.01);
}

/// The same chapter, equation 30 at 30 °C and W 0.020: 81.316 kJ/kg. Second hand: as given in the same tests.
/// Tolerance 0.03 %, that of those tests.
#[test]
fn enthalpy() {
    assert_relative_eq!(air::enthalpy_j_per_kg(kelvin(30.0), 0.020), 81_316.0, max_relative = 3e-4);
}

/// Second source: PsychroLib 2.5.0, SI, evaluated with its own functions. Derived here: the numbers are that library's output.
/// Columns: t °C, relative humidity, pressure Pa, W g/kg, dew point °C, enthalpy kJ/kg, density of moist air kg/m3.
/// Tolerances: half of the last printed digit, and 0.01 % for the ratio of the molar masses.
#[test]
fn worked_points_of_an_independent_library() {
    let points = [
        (4.0, 0.90, 101_325.0, 4.5266, 2.511, 15.379, 1.270_19),
        (4.0, 0.85, 101_325.0, 4.2734, 1.710, 14.744, 1.270_38),
        (10.0, 0.80, 101_325.0, 6.0891, 6.713, 25.402, 1.242_11),
        (20.0, 0.50, 101_325.0, 7.2617, 9.272, 38.552, 1.198_90),
        (25.0, 0.60, 101_325.0, 11.8950, 16.701, 55.453, 1.175_56),
        (30.0, 0.50, 101_325.0, 13.3102, 18.447, 64.212, 1.155_21),
        (4.0, 0.90, 89_874.5, 5.1081, 2.511, 16.837, 1.126_25),
        (2.0, 0.95, 89_874.5, 4.6759, 1.284, 13.724, 1.134_74),
        (25.0, 0.60, 89_874.5, 13.4433, 16.701, 59.397, 1.041_76),
    ];
    for (t, humidity, pressure_pa, w_g, dew_point_degc, enthalpy_kj, density) in points {
        let t = kelvin(t);
        let w = air::humidity_ratio_from_relative_humidity(t, humidity, pressure_pa);
        assert_relative_eq!(w * 1e3, w_g, max_relative = 1e-4);
        let vapour_pa = air::vapour_pressure_pa(w, pressure_pa);
        for dew_point in [air::dew_point_k(vapour_pa), air::dew_point_over_water_k(vapour_pa)] {
            let dew_point = dew_point.expect("moist air");
            assert_abs_diff_eq!(dew_point, kelvin(dew_point_degc), epsilon = 1e-3);
        }
        let enthalpy = air::enthalpy_j_per_kg(t, w);
        assert_abs_diff_eq!(enthalpy * 1e-3, enthalpy_kj, epsilon = 2e-3);
        let moist = air::moist_air_density_kg_m3(t, w, pressure_pa);
        assert_relative_eq!(moist, density, max_relative = 1e-5);
    }
}

/// The same library below 0 °C, where it takes the frost point: 0 °C and 95 %, frost point -0.621 °C. That library's
/// relative humidity at 0 °C is over ice, which differs by 0.01 %, 0.001 K; tolerance 0.003 K.
#[test]
fn frost_point_below_freezing() {
    let w = air::humidity_ratio_from_relative_humidity(kelvin(0.0), 0.95, SEA_LEVEL_PA);
    let frost_point = air::dew_point_k(air::vapour_pressure_pa(w, SEA_LEVEL_PA)).expect("moist air");
    assert_abs_diff_eq!(frost_point, kelvin(-0.621), epsilon = 3e-3);
}

/// Latent heat at 4 °C: IAPWS-IF97, saturated, 2491.4 kJ/kg, so a kilowatt hour is 1.445 kg of condensate. Derived here:
/// 3600/2491.42. Tolerance 0.3 %, far above the printed digits. As frost, 1.270 kg by IAPWS-95 and the ice equation of 2006 (2834.4 kJ/kg at 0 °C):
/// the model does not use it, because the room gives the heat of fusion back in the rests.
#[test]
fn condensate_of_a_kilowatt_hour() {
    let condensate_kg = 3.6e6 / LATENT_HEAT_J_PER_KG;
    assert_relative_eq!(condensate_kg, 1.445, max_relative = 3e-3);
    let frost_kg = condensate_kg * LATENT_HEAT_J_PER_KG / 2834.4e3;
    assert_relative_eq!(frost_kg, 1.270, max_relative = 3e-3);
}

/// Room air of 4 °C has its dew point at freezing with 75.1 % relative humidity; drier than that, whatever settles on a coil is frost.
/// Derived here: 611.2/813.6 with the handbook's equations, by the same independent library. Tolerance 0.05 K for 0.05 points.
/// At 90 % a coil of 1 °C is wet and one of -1 °C frosts.
#[test]
fn where_a_coil_gathers_frost() {
    let at = |humidity| {
        let w = air::humidity_ratio_from_relative_humidity(kelvin(4.0), humidity, SEA_LEVEL_PA);
        (w, air::dew_point_k(air::vapour_pressure_pa(w, SEA_LEVEL_PA)).expect("moist air"))
    };
    assert_abs_diff_eq!(at(0.751).1, ZERO_CELSIUS_K, epsilon = 0.05);
    let (w, dew_point) = at(0.90);
    for coil in [kelvin(1.0), kelvin(-1.0)] {
        assert!(coil < dew_point && air::saturation_humidity_ratio(coil, SEA_LEVEL_PA) < w);
    }
    let dry = at(0.70).0;
    assert!(air::saturation_humidity_ratio(kelvin(1.0), SEA_LEVEL_PA) > dry, "nothing settles at 1 °C");
    assert!(air::saturation_humidity_ratio(kelvin(-3.0), SEA_LEVEL_PA) < dry, "frost at -3 °C");
}

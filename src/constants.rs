//! Physical constants, each with unit and source. A number is written here once.

/// 0 °C in kelvin. Definition of the degree Celsius (BIPM, The International System of Units, 9th edition, 2019).
pub const ZERO_CELSIUS_K: f64 = 273.15;

/// Specific heat of water used inside the year's loop, J/(kg K): the mean between 10 and 60 °C,
/// (251.390 - 42.312)/50 kJ/(kg K). Against the true value it errs by -0.3 % at 10 °C and +0.1 % at 40 °C.
///
/// Source: IAPWS-IF97 enthalpies at 0.3 MPa. Derived here: the quotient above.
pub const WATER_SPECIFIC_HEAT_J_PER_KG_K: f64 = 4181.6;

/// Density of water used inside the year's loop, kg/m3: at 40 °C and 0.3 MPa. Litres at the boundary are
/// calculated with the density at their own temperature.
///
/// Source: IAPWS-IF97 at 40 °C, 992.31 kg/m3. Derived here: evaluated from the formulation.
pub const WATER_DENSITY_KG_M3: f64 = 992.31;

/// Latent heat taken out of the room with each kilogram of vapour that condenses, J/kg: water at 4 °C.
///
/// Source: IAPWS-IF97, saturated water at 4 °C, 2491.4 kJ/kg. Derived here: evaluated from the formulation.
pub const LATENT_HEAT_J_PER_KG: f64 = 2.491_4e6;

/// Specific heat of dry air, J/(kg K). Source: ASHRAE Handbook Fundamentals 2017, chapter 1, the
/// moist-air enthalpy equation 1.006 t + W (2501 + 1.86 t). Second hand: the equation as given in an open library's test suite.
pub const DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K: f64 = 1006.0;

/// Specific heat of water vapour, J/(kg K). Source: as [`DRY_AIR_SPECIFIC_HEAT_J_PER_KG_K`].
pub const VAPOUR_SPECIFIC_HEAT_J_PER_KG_K: f64 = 1860.0;

/// Evaporator surface below the room air, K: the assumption that the cycle maps were calculated with.
pub const COIL_BELOW_AIR_DK: f64 = 7.0;

/// The same of the maps for a coil around or in the tank, K.
pub const COIL_BELOW_AIR_TANK_COIL_DK: f64 = 10.0;

/// Share of the compressor's electric input that leaves through its shell. The assumption that the cycle maps were calculated with.
pub const SHELL_LOSS_FRAC: f64 = 0.10;

/// Evaporator fan power per evaporator duty. The assumption that the cycle maps were calculated with.
pub const FAN_PER_EVAPORATOR_FRAC: f64 = 0.025;

/// Standard acceleration of gravity rounded as handbooks use it, m/s2.
pub const GRAVITY_M_S2: f64 = 9.81;

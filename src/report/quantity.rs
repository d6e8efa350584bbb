//! Every quantity that the year is reported in: its key with the unit in it, how it adds up over
//! time, and how it is read from an [`Interval`]. JSON, hourly CSV and text are all made from this
//! one list, so that they cannot drift apart.

use crate::constants::ZERO_CELSIUS_K;
use crate::plant::{Cause, DAY_S, HOUR_S, Load};
use crate::report::measure::Measure;
use crate::year::{Extremes, Interval};

/// Joules in a kilowatt-hour. Definition: 1000 W for 3600 s.
pub(super) const KILOWATT_HOUR_J: f64 = 3.6e6;
/// Litres in a cubic metre. Definition.
pub(super) const CUBIC_METRE_L: f64 = 1000.0;
/// Volume of a kilogram of water as it leaves the coil, L. Source: IAPWS-IF97, 999.97 kg/m3 at 4 °C and 0.1 MPa,
/// rounded to a whole litre. Derived here: the error is 0.003 %.
pub(super) const CONDENSATE_L_PER_KG: f64 = 1.0;

/// How a quantity of a longer stretch follows from those of its parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    /// The parts are added.
    Sum,
    /// The mean over time of the parts.
    Mean,
    /// The smallest of the parts.
    Least,
    /// The largest of the parts.
    Most,
    /// A quotient of sums, or a mean over part of the time: not to be had from the parts alone.
    Quotient,
}

/// A quantity of the year.
#[derive(Debug, Clone, Copy)]
pub struct Quantity {
    /// Name with its unit, as in the JSON document and the heading of the CSV.
    pub key: &'static str,
    /// How it adds up.
    pub over: Over,
    /// Unit and rounding in the text report.
    pub measure: Measure,
    /// Its value in the unit of the key; `None` where it has no meaning.
    value: fn(&Interval) -> Option<f64>,
}

impl Quantity {
    /// The value over an interval, in the unit of [`Quantity::key`]; `None` where it has no meaning,
    /// for example the COP of a month in which nothing ran.
    pub fn of(&self, interval: &Interval) -> Option<f64> {
        (self.value)(interval)
    }
}

/// The first number of the year that is neither finite nor absent, if there is one: always a fault of the program.
pub fn first_not_finite<'a>(intervals: impl IntoIterator<Item = &'a Interval>) -> Option<&'static str> {
    intervals.into_iter().find_map(|interval| {
        ALL.iter().find(|q| q.of(interval).is_some_and(|value| !value.is_finite())).map(|q| q.key)
    })
}

fn kwh(energy_j: f64) -> Option<f64> {
    Some(energy_j / KILOWATT_HOUR_J)
}

fn hours(duration_s: f64) -> Option<f64> {
    Some(duration_s / HOUR_S)
}

fn litres(volume_m3: f64) -> Option<f64> {
    Some(volume_m3 * CUBIC_METRE_L)
}

fn gain(interval: &Interval, cause: Cause) -> Option<f64> {
    kwh(interval.gain_j[cause as usize])
}

fn load(interval: &Interval, load: Load) -> Option<f64> {
    kwh(interval.electricity_j[load as usize])
}

/// Share that a jet stirs, per cent; nothing where none is reckoned.
fn stirs(stirred_kg: f64, kg: f64) -> Option<f64> {
    quotient(100.0 * stirred_kg, kg).filter(|percent| *percent > 0.0)
}

fn quotient(dividend: f64, divisor: f64) -> Option<f64> {
    (divisor > 0.0).then(|| dividend / divisor)
}

/// Mean over `duration_s` of an integral in K s, as degC.
fn mean_degc(integral_k_s: f64, duration_s: f64) -> Option<f64> {
    quotient(integral_k_s, duration_s).map(|mean_k| mean_k - ZERO_CELSIUS_K)
}

fn least_degc(extremes: &Extremes) -> Option<f64> {
    (!extremes.is_empty()).then_some(extremes.min - ZERO_CELSIUS_K)
}

fn most_degc(extremes: &Extremes) -> Option<f64> {
    (!extremes.is_empty()).then_some(extremes.max - ZERO_CELSIUS_K)
}

/// Hottest water of a stretch in which there may have been none, degC.
fn hottest_degc(hottest_k: f64) -> Option<f64> {
    (hottest_k > 0.0).then_some(hottest_k - ZERO_CELSIUS_K)
}

/// Heat to the water over what the pump and its circulator drew while it ran: standby and the
/// resting fan are left out. `None` where it never ran.
fn running_cop(interval: &Interval) -> Option<f64> {
    let running_j =
        interval.electricity_j[Load::Running as usize] + interval.electricity_j[Load::Circulator as usize];
    quotient(interval.heat_to_water_j, running_j)
}

macro_rules! quantities {
    ($(#[doc = $meaning:literal] $name:ident $key:literal $over:ident $measure:ident $value:expr,)*) => {
        $(
            #[doc = $meaning]
            pub const $name: Quantity =
                Quantity { key: $key, over: Over::$over, measure: Measure::$measure, value: $value };
        )*
        /// Every quantity, in the order of the JSON document and of the CSV.
        pub const ALL: &[Quantity] = &[$($name),*];
    };
}

quantities! {
    /// Heat taken from the room, less everything the machine returns to it.
    HEAT_FROM_ROOM "heat_from_room_kwh" Sum Energy |i| kwh(i.heat_from_room_j),
    /// Heat given to the water by the pump and its circulator.
    HEAT_TO_WATER "heat_to_water_kwh" Sum Energy |i| kwh(i.heat_to_water_j),
    /// All electricity.
    ELECTRICITY "electricity_kwh" Sum Energy |i| kwh(i.electricity_total_j()),
    /// Heat to water over all electricity.
    COP "cop" Quotient Cop Interval::cop,
    /// Heat to water over running and circulator power.
    RUNNING_COP "running_cop" Quotient Cop running_cop,
    /// Heat wanted at the taps over mains temperature.
    DEMAND "demand_kwh" Sum Energy |i| kwh(i.demand_j),
    /// Water drawn from the tank by the taps, measured at the temperature drawn.
    DRAWN "drawn_l" Sum Volume |i| litres(i.drawn_m3),
    /// Heat over mains temperature that it carried.
    DRAWN_HEAT "drawn_kwh" Sum Energy |i| kwh(i.drawn_j),
    /// Heat that the booster gave the water.
    BOOSTER "booster_kwh" Sum Energy |i| kwh(i.booster_j),
    /// Heat that the tank lost to its surroundings.
    TANK_LOSS "tank_loss_kwh" Sum Energy |i| kwh(i.tank_loss_j),
    /// Water dumped, measured at the temperature dumped.
    DUMP "dump_l" Sum Volume |i| litres(i.dump_m3),
    /// Heat over mains temperature that it carried.
    DUMP_HEAT "dump_kwh" Sum Energy |i| kwh(i.dump_j),
    /// Starts of the pump.
    STARTS "starts" Sum Count |i| Some(i.starts),
    /// Time running.
    RUN "run_h" Sum Duration |i| hours(i.run_s),
    /// Time in which a lock-out held.
    LOCKED_OUT "locked_out_h" Sum Duration |i| hours(i.locked_out_s),
    /// Time with the contents above the warm limit.
    OVER_BAND "over_band_h" Sum Duration |i| hours(i.over_band_s),
    /// Room air, mean.
    ROOM_MEAN "room_mean_degc" Mean Temperature |i| mean_degc(i.air_k_s, i.duration_s),
    /// Room air, coldest.
    ROOM_LEAST "room_min_degc" Least Temperature |i| least_degc(&i.air_k),
    /// Room air, warmest.
    ROOM_MOST "room_max_degc" Most Temperature |i| most_degc(&i.air_k),
    /// Contents, coldest.
    CONTENTS_LEAST "contents_min_degc" Least Temperature |i| least_degc(&i.contents_k),
    /// Contents, warmest.
    CONTENTS_MOST "contents_max_degc" Most Temperature |i| most_degc(&i.contents_k),
    /// Tank top, mean.
    TANK_TOP_MEAN "tank_top_mean_degc" Mean Temperature |i| mean_degc(i.tank_top_k_s, i.duration_s),
    /// Tank bottom, mean.
    TANK_BOTTOM_MEAN "tank_bottom_mean_degc" Mean Temperature |i| mean_degc(i.tank_bottom_k_s, i.duration_s),
    /// Water that ran off the coil.
    CONDENSATE "condensate_l" Sum Volume |i| Some(i.condensate_kg * CONDENSATE_L_PER_KG),
    /// Heat into the room, all causes.
    ROOM_LOAD "room_load_kwh" Sum Energy |i| kwh(i.gain_total_j()),
    /// Through surfaces facing outdoors.
    GAIN_OUTDOOR "gain_outdoor_surfaces_kwh" Sum Energy |i| gain(i, Cause::OutdoorSurfaces),
    /// Through surfaces touching the ground.
    GAIN_GROUND "gain_ground_surfaces_kwh" Sum Energy |i| gain(i, Cause::GroundSurfaces),
    /// Through surfaces toward neighbour spaces.
    GAIN_NEIGHBOUR "gain_neighbour_surfaces_kwh" Sum Energy |i| gain(i, Cause::NeighbourSurfaces),
    /// Through open doors.
    GAIN_DOORS "gain_doors_kwh" Sum Energy |i| gain(i, Cause::Doors),
    /// With air that leaks in.
    GAIN_LEAKAGE "gain_leakage_kwh" Sum Energy |i| gain(i, Cause::Leakage),
    /// From people in the room.
    GAIN_PEOPLE "gain_people_kwh" Sum Energy |i| gain(i, Cause::People),
    /// From lights.
    GAIN_LIGHTS "gain_lights_kwh" Sum Energy |i| gain(i, Cause::Lights),
    /// From respiration of produce.
    GAIN_RESPIRATION "gain_respiration_kwh" Sum Energy |i| gain(i, Cause::Respiration),
    /// Carried in with warm produce.
    GAIN_PRODUCE_IN "gain_produce_in_kwh" Sum Energy |i| gain(i, Cause::ProduceIn),
    /// From hot pipe and tank in the room.
    GAIN_HOT_WATER "gain_hot_water_kwh" Sum Energy |i| gain(i, Cause::HotWater),
    /// Compressor, fan and controls while running.
    ELECTRICITY_RUNNING "electricity_running_kwh" Sum Energy |i| load(i, Load::Running),
    /// Circulator.
    ELECTRICITY_CIRCULATOR "electricity_circulator_kwh" Sum Energy |i| load(i, Load::Circulator),
    /// Standby.
    ELECTRICITY_STANDBY "electricity_standby_kwh" Sum Energy |i| load(i, Load::Standby),
    /// Fan while the pump rests.
    ELECTRICITY_RESTING_FAN "electricity_resting_fan_kwh" Sum Energy |i| load(i, Load::RestingFan),
    /// Melting frost off the coil.
    ELECTRICITY_DEFROST "electricity_defrost_kwh" Sum Energy |i| load(i, Load::Defrost),
    /// Keeping the resting pump's water from freezing.
    ELECTRICITY_FROST_PROTECTION "electricity_frost_protection_kwh" Sum Energy |i| load(i, Load::FrostGuard),
    /// The room's heater against frost.
    ELECTRICITY_ROOM_HEATER "electricity_room_heater_kwh" Sum Energy |i| load(i, Load::RoomHeater),
    /// Starts a day.
    STARTS_PER_DAY "starts_per_day" Mean PerDay |i| quotient(i.starts * DAY_S, i.duration_s),
    /// Time locked out while the thermostat wanted cooling.
    MISSED "missed_h" Sum Duration |i| hours(i.missed_s),
    /// Time locked out because the water at the inlet was too warm.
    LOCKED_BY_INLET "locked_by_inlet_h" Sum Duration |i| hours(i.locked_by_inlet_s),
    /// Time locked out because the room's air was too cold for the pump.
    LOCKED_BY_COLD_AIR "locked_by_cold_air_h" Sum Duration |i| hours(i.locked_by_cold_air_s),
    /// Time locked out because the room's air was too warm for the pump.
    LOCKED_BY_WARM_AIR "locked_by_warm_air_h" Sum Duration |i| hours(i.locked_by_warm_air_s),
    /// The part in which the probe on the coil held it.
    LOCKED_BY_COIL "locked_by_coil_probe_h" Sum Duration |i| hours(i.locked_by_coil_s),
    /// Time in which the room wanted cooling and the tank's thermostat did not call.
    UNCALLED "uncalled_h" Sum Duration |i| hours(i.uncalled_s),
    /// Time spent on melting frost off the coil.
    DEFROST_TIME "defrost_h" Sum Duration |i| hours(i.defrost_s),
    /// Times that it was begun.
    DEFROSTS "defrosts" Sum Count |i| Some(i.defrosts),
    /// Share of full output, mean while running.
    OUTPUT_MEAN "running_output_mean_percent" Quotient Percent |i| quotient(100.0 * i.output_frac_s, i.run_s),
    /// Heat to water that starting cost.
    START_LOSS "start_loss_kwh" Sum Energy |i| kwh(i.start_loss_j),
    /// Water inlet, mean while running.
    INLET_MEAN "running_inlet_mean_degc" Quotient Temperature |i| mean_degc(i.inlet_k_s, i.run_s),
    /// Room air, mean while running.
    RUNNING_AIR_MEAN "running_air_mean_degc" Quotient Temperature |i| mean_degc(i.running_air_k_s, i.run_s),
    /// Time running with a frosted coil.
    FROSTED "frosted_h" Sum Duration |i| hours(i.frosted_s),
    /// Time running with the outlet above its target.
    OVER_OUTLET "over_outlet_h" Sum Duration |i| hours(i.over_outlet_s),
    /// Time running with the discharge gas hotter than it should be, by the calculated cycle.
    HOT_DISCHARGE "hot_discharge_h" Sum Duration |i| hours(i.hot_discharge_s),
    /// Time running at the highest discharge pressure of the calculated cycle.
    HIGHEST_PRESSURE "highest_pressure_h" Sum Duration |i| hours(i.highest_pressure_s),
    /// Water wanted at the taps.
    DEMAND_MASS "demand_kg" Sum Mass |i| Some(i.demand_kg),
    /// Heat delivered at the taps over mains temperature.
    DELIVERED "delivered_kwh" Sum Energy |i| kwh(i.delivered_j),
    /// Energy that the booster bought.
    BOOSTER_BOUGHT "booster_bought_kwh" Sum Energy |i| kwh(i.booster_bought_j),
    /// Most heat that the booster gave at any time.
    BOOSTER_PEAK "booster_peak_w" Most Power |i| Some(i.booster_most_w),
    /// Time the booster fired.
    BOOSTER_TIME "booster_h" Sum Duration |i| hours(i.booster_s),
    /// Times the booster was lit.
    BOOSTER_FIRES "booster_fires" Sum Count |i| Some(i.booster_fires),
    /// Time it stayed off because less was wanted of it than its smallest fire.
    BOOSTER_UNLIT "booster_unlit_h" Sum Duration |i| hours(i.booster_unlit_s),
    /// Time in which water hotter than it allows entered it.
    BOOSTER_TOO_HOT "booster_too_hot_inlet_h" Sum Duration |i| hours(i.booster_too_hot_s),
    /// Heat of the electric element to the tank.
    ELEMENT "element_kwh" Sum Energy |i| kwh(i.element_j),
    /// Time it heated.
    ELEMENT_TIME "element_h" Sum Duration |i| hours(i.element_s),
    /// Heat missing at the taps.
    SHORTFALL "shortfall_kwh" Sum Energy |i| kwh(i.shortfall_j),
    /// Time with water colder than wanted.
    SHORTFALL_TIME "shortfall_h" Sum Duration |i| hours(i.shortfall_s),
    /// Water that came out colder than wanted.
    SHORTFALL_WATER "shortfall_kg" Sum Mass |i| Some(i.shortfall_kg),
    /// How much too cold it was at most.
    SHORTFALL_MOST "shortfall_most_k" Most Difference |i| Some(i.shortfall_most_dk),
    /// Mixed water that ran before it was warm.
    UNUSED_WATER "unused_kg" Sum Mass |i| Some(i.unused_kg),
    /// Heat over mains temperature in it.
    UNUSED_HEAT "unused_kwh" Sum Energy |i| kwh(i.unused_j),
    /// Time in which the taps ran with water above 49 degC on their hot side.
    SCALDING "scalding_h" Sum Duration |i| hours(i.scalding_s),
    /// The same without the mixing valve.
    SCALDING_WITHOUT_VALVE "scalding_without_valve_h" Sum Duration |i| hours(i.scalding_without_valve_s),
    /// Hottest water on the hot side of a tap.
    HOTTEST_AT_TAP "hottest_at_tap_degc" Most Temperature |i| hottest_degc(i.hottest_at_tap_k),
    /// The same without the mixing valve.
    HOTTEST_WITHOUT_VALVE "hottest_without_valve_degc" Most Temperature |i| hottest_degc(i.hottest_without_valve_k),
    /// Time in which the taps ran.
    TAPS "tap_h" Sum Duration |i| hours(i.tap_s),
    /// Heat that the hot pipe lost to the room.
    PIPE_LOSS "pipe_loss_kwh" Sum Energy |i| kwh(i.pipe_loss_j),
    /// Heat that water took out of the tank by circling through the resting pump's pipes.
    CIRCLED "circled_kwh" Sum Energy |i| kwh(i.circled_j),
    /// Times the dump opened.
    DUMP_OPENINGS "dump_openings" Sum Count |i| Some(i.dump_openings),
    /// Time the dump stood open.
    DUMP_OPEN "dump_open_h" Sum Duration |i| hours(i.dump_open_s),
    /// Mains water into the tank.
    MAINS "mains_kg" Sum Mass |i| Some(i.mains_kg),
    /// Share of the tank that the jet of cold water stirs, mean of the water that comes in.
    COLD_JET "cold_jet_stirs_percent" Quotient Percent |i| stirs(i.cold_in_stirred_kg, i.mains_kg),
    /// The same of the water that comes back from the pump.
    RETURN_JET "return_jet_stirs_percent" Quotient Percent |i| stirs(i.return_stirred_kg, i.returned_kg),
    /// Tank, mean.
    TANK_MEAN "tank_mean_degc" Mean Temperature |i| mean_degc(i.tank_mean_k_s, i.duration_s),
    /// Tank top, coldest.
    TANK_TOP_LEAST "tank_top_min_degc" Least Temperature |i| least_degc(&i.tank_top_k),
    /// Tank top, hottest.
    TANK_TOP_MOST "tank_top_max_degc" Most Temperature |i| most_degc(&i.tank_top_k),
    /// Tank at half its height, mean.
    TANK_MIDDLE_MEAN "tank_middle_mean_degc" Mean Temperature |i| mean_degc(i.layers.middle_k_s, i.duration_s),
    /// Share of the tank's water at 25 to 45 °C, times hours.
    TANK_LUKEWARM "tank_25_to_45_h" Sum Duration |i| hours(i.layers.lukewarm_s),
    /// Tank top over 49 °C.
    TANK_TOP_OVER_49 "tank_top_over_49_h" Sum Duration |i| hours(i.layers.top_hot_s[0]),
    /// Tank top over 50 °C.
    TANK_TOP_OVER_50 "tank_top_over_50_h" Sum Duration |i| hours(i.layers.top_hot_s[1]),
    /// Tank top over 55 °C.
    TANK_TOP_OVER_55 "tank_top_over_55_h" Sum Duration |i| hours(i.layers.top_hot_s[2]),
    /// Tank top over 60 °C.
    TANK_TOP_OVER_60 "tank_top_over_60_h" Sum Duration |i| hours(i.layers.top_hot_s[3]),
    /// Tank bottom over 50 °C.
    TANK_BOTTOM_OVER_50 "tank_bottom_over_50_h" Sum Duration |i| hours(i.layers.bottom_hot_s[1]),
    /// Tank bottom over 55 °C.
    TANK_BOTTOM_OVER_55 "tank_bottom_over_55_h" Sum Duration |i| hours(i.layers.bottom_hot_s[2]),
    /// Tank bottom over 60 °C.
    TANK_BOTTOM_OVER_60 "tank_bottom_over_60_h" Sum Duration |i| hours(i.layers.bottom_hot_s[3]),
    /// Longest time, from the start of the year up to then, without 60 °C in the whole tank.
    TANK_LONGEST_BELOW_60 "tank_longest_below_60_h" Most Duration |i| hours(i.layers.longest_cool_s),
    /// Hottest water that the taps took.
    HOTTEST_DRAWN "hottest_drawn_degc" Most Temperature |i| hottest_degc(i.hottest_drawn_k),
    /// Hottest water that left the running pump.
    HOTTEST_MADE "hottest_made_degc" Most Temperature |i| hottest_degc(i.hottest_made_k),
    /// Contents, mean.
    CONTENTS_MEAN "contents_mean_degc" Mean Temperature |i| mean_degc(i.contents_k_s, i.duration_s),
    /// Air blown from the coil, coldest.
    BLOWN_LEAST "blown_min_degc" Least Temperature |i| least_degc(&i.blown_k),
    /// Air blown from the coil, warmest.
    BLOWN_MOST "blown_max_degc" Most Temperature |i| most_degc(&i.blown_k),
    /// Relative humidity of the room, mean.
    HUMIDITY_MEAN "humidity_mean_percent" Mean Percent |i| quotient(100.0 * i.humidity_frac_s, i.duration_s),
    /// Vapour into the room's air.
    VAPOUR_IN "vapour_in_kg" Sum Mass |i| Some(i.vapour_in_kg),
    /// The part of the condensate caught as frost first.
    FROST "frost_kg" Sum Mass |i| Some(i.frost_kg),
    /// Water condensed on walls and produce.
    WALL_CONDENSATE "wall_condensate_kg" Sum Mass |i| Some(i.wall_condensate_kg),
    /// Heat of the casing to the outside of the room.
    CASING_OUTSIDE "casing_outside_kwh" Sum Energy |i| kwh(i.casing_outside_j),
    /// Time with contents below the highest freezing point stored.
    FROZEN_CONTENTS "frozen_contents_h" Sum Duration |i| hours(i.frozen_contents_s),
    /// Time with room air below it.
    FROZEN_AIR "frozen_air_h" Sum Duration |i| hours(i.frozen_air_s),
    /// Time running with blown air below it.
    FROZEN_BLOWN "frozen_blown_h" Sum Duration |i| hours(i.frozen_blown_s),
    /// Time running with room air outside the cycle map.
    MAP_ROOM_AIR "map_outside_room_air_h" Sum Duration |i| hours(i.outside_map.room_air_s),
    /// Time running with the inlet outside the cycle map.
    MAP_INLET "map_outside_inlet_h" Sum Duration |i| hours(i.outside_map.inlet_s),
    /// Time running with the water rise outside the cycle map.
    MAP_RISE "map_outside_rise_h" Sum Duration |i| hours(i.outside_map.rise_s),
    /// Time running where the cycle cannot reach the outlet.
    MAP_UNREACHABLE "map_unreachable_h" Sum Duration |i| hours(i.outside_map.unreachable_s),
    /// Duration.
    DURATION "duration_h" Sum Duration |i| hours(i.duration_s),
}

/// What the JSON document tells of the tank by month.
pub const TANK: &[Quantity] = &[
    TANK_TOP_MEAN,
    TANK_MIDDLE_MEAN,
    TANK_BOTTOM_MEAN,
    TANK_LUKEWARM,
    TANK_TOP_OVER_49,
    TANK_TOP_OVER_50,
    TANK_TOP_OVER_55,
    TANK_TOP_OVER_60,
    TANK_BOTTOM_OVER_50,
    TANK_BOTTOM_OVER_55,
    TANK_BOTTOM_OVER_60,
    TANK_LONGEST_BELOW_60,
    COLD_JET,
    RETURN_JET,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_unique() {
        let mut keys: Vec<_> = ALL.iter().map(|q| q.key).collect();
        keys.sort_unstable();
        let count = keys.len();
        keys.dedup();
        assert_eq!(keys.len(), count);
    }

    #[test]
    fn nothing_is_meant_by_the_cop_of_a_rest() {
        let rest = Interval { duration_s: 3600.0, ..Interval::default() };
        for quantity in [COP, RUNNING_COP, INLET_MEAN, BLOWN_LEAST, HOTTEST_DRAWN, ROOM_LEAST] {
            assert_eq!(quantity.of(&rest), None, "{}", quantity.key);
        }
        assert_eq!(first_not_finite([&rest]), None);
    }

    #[test]
    fn a_number_that_is_not_finite_is_found() {
        let broken = Interval { duration_s: 3600.0, dump_j: f64::NAN, ..Interval::default() };
        assert_eq!(first_not_finite([&Interval::default(), &broken]), Some("dump_kwh"));
    }

    #[test]
    fn the_two_cops_differ_by_standby_and_resting_fan() {
        let mut interval = Interval { heat_to_water_j: 12.0, ..Interval::default() };
        interval.electricity_j[Load::Running as usize] = 3.0;
        interval.electricity_j[Load::Circulator as usize] = 1.0;
        interval.electricity_j[Load::Standby as usize] = 1.5;
        interval.electricity_j[Load::RestingFan as usize] = 0.5;
        assert_eq!((RUNNING_COP.of(&interval), COP.of(&interval)), (Some(3.0), Some(2.0)));
    }
}

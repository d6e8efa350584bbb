//! A household of our own invention, its plant and an eventless year, for tests of findings and cautions.

use uom::si::area::square_meter;
use uom::si::diffusion_coefficient::square_meter_per_second;
use uom::si::f64::{
    DiffusionCoefficient, HeatCapacity, HeatTransfer, Length, Mass, Power, Ratio, TemperatureInterval,
    ThermalConductance, ThermalConductivity, ThermodynamicTemperature, Time, Volume, VolumeRate,
};
use uom::si::heat_capacity::joule_per_kelvin;
use uom::si::heat_transfer::watt_per_square_meter_kelvin;
use uom::si::length::meter;
use uom::si::mass::kilogram;
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::temperature_interval::kelvin as kelvins;
use uom::si::thermal_conductance::watt_per_kelvin;
use uom::si::thermal_conductivity::watt_per_meter_kelvin;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::second;
use uom::si::volume::liter;
use uom::si::volume_rate::cubic_meter_per_second;

use crate::constants::ZERO_CELSIUS_K;
use crate::draw::Pattern;
use crate::heat_pump::{Cycle, CycleMap};
use crate::household::{
    Beyond, BoosterUnit, CalledBy, ColdRoom, CoolerUnit, DumpLine, HeatPumpUnit, HotWater, HotWaterTank,
    Household, Mains, RoomSurface, RoomThermostat, SheetPoint, Site, Storage, StoredProduce, TankSensor,
    UnitSize, UnitSystem, UseCalendar, WaterCircuit, WaterTaker,
};
use crate::plant::{
    Booster, Boundary, Calendar, Caller, Cause, Circuit, Cooler, DaySegment, Dump, HeatPump, HotPipe, Plant,
    Room, Surface, Surroundings, Taker, Tank, Thermostat, Vessel,
};
use crate::room::Crop;
use crate::weather::WeatherYear;
use crate::year::{DayLoad, Interval, Layers, Ledger, Year};

fn degc(value: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(value)
}

fn frac(value: f64) -> Ratio {
    Ratio::new::<ratio>(value)
}

fn seconds(value: f64) -> Time {
    Time::new::<second>(value)
}

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn dk(value: f64) -> TemperatureInterval {
    TemperatureInterval::new::<kelvins>(value)
}

fn watts(value: f64) -> Power {
    Power::new::<watt>(value)
}

fn weather() -> WeatherYear {
    WeatherYear {
        place: "Nowhere".to_owned(),
        origin: "invented".to_owned(),
        latitude_deg: 45.0,
        longitude_deg: 0.0,
        utc_offset_h: 0.0,
        elevation_m: 0.0,
        leap_year: false,
        hours: Vec::new(),
        notes: Vec::new(),
    }
}

/// A room of 3.0 x 2.5 x 2.3 m at 4 °C beside a 300 L tank; 4.5 kW of carbon-dioxide heat pump, booster at 45 °C, dump to a drain.
pub(crate) fn household() -> Household {
    Household {
        name: "Example".to_owned(),
        units: UnitSystem::Metric,
        weather: weather(),
        site: Site {
            soil_diffusivity: DiffusionCoefficient::new::<square_meter_per_second>(0.05 / 86_400.0),
            mains: Mains::FromWeather,
            hardness: None,
            supply_pressure: crate::units::pascals(4.0e5),
            well: None,
            rain: None,
        },
        spaces: Vec::new(),
        room: room(),
        cooler: CoolerUnit::HeatPump(Box::new(unit())),
        thermostat: RoomThermostat {
            set: degc(4.0),
            band: dk(1.0),
            probe_lag: seconds(90.0),
            min_run: seconds(300.0),
            min_rest: seconds(300.0),
            off_in: [false; 12],
            contact: None,
        },
        tank: HotWaterTank {
            storage: Storage {
                volume: Volume::new::<liter>(300.0),
                height: metres(1.6),
                loss: ThermalConductance::new::<watt_per_kelvin>(2.0),
                heat_bridges: ThermalConductance::new::<watt_per_kelvin>(0.0),
            },
            followed_by: None,
            circling_stopped_by: None,
            built_as: None,
            stands_in: Beyond::Outdoors,
            conductivity: ThermalConductivity::new::<watt_per_meter_kelvin>(1.8),
            cold_in: frac(0.0),
            cold_in_stirs: frac(0.0),
            cold_in_bore: None,
            return_bore: None,
            pump_out: frac(0.0),
            pump_return: frac(1.0),
            draw: frac(1.0),
        },
        hot_water: HotWater {
            daily: Volume::new::<liter>(200.0),
            use_at: degc(40.0),
            pattern: Pattern::M,
            by_hour: None,
            uses: Vec::new(),
            people: Some(4),
            calendar: UseCalendar::default(),
            mixing_valve: None,
            past_valve: false,
            pipes: None,
        },
        booster: Some(BoosterUnit {
            set: degc(45.0),
            most: watts(18_000.0),
            least: watts(0.0),
            efficiency: frac(0.9),
            highest_inlet: None,
            energy: "gas".to_owned(),
        }),
        element: None,
        dump: Some(DumpLine {
            opens_at: degc(35.0),
            closes_at: degc(30.0),
            probe: frac(0.25),
            probe_lag: seconds(60.0),
            min_open: seconds(60.0),
            timer: None,
            longest_open: None,
            flow: VolumeRate::new::<cubic_meter_per_second>(1.0e-4),
            port: frac(1.0),
            months: [true; 12],
            line: None,
            destinations: vec![WaterTaker::drain()],
        }),
        prices: None,
        alternatives: Default::default(),
        safeguards: Default::default(),
        choices: Vec::new(),
        defaults: Vec::new(),
    }
}

fn room() -> ColdRoom {
    ColdRoom {
        heater: None,
        condensate_bucket: None,
        length: metres(3.0),
        width: metres(2.5),
        height: metres(2.3),
        surfaces: vec![RoomSurface {
            name: "walls".to_owned(),
            area: uom::si::f64::Area::new::<square_meter>(25.3),
            u_value: HeatTransfer::new::<watt_per_square_meter_kelvin>(0.24),
            bridges: ThermalConductance::new::<watt_per_kelvin>(0.0),
            sun: None,
            faces: Beyond::Outdoors,
        }],
        leakage_changes_per_hour: 0.3,
        leakage_from: Beyond::Outdoors,
        doors: Vec::new(),
        people_time: seconds(600.0),
        lights: watts(20.0),
        lights_time: seconds(600.0),
        produce: vec![StoredProduce {
            crop: Crop::by_name("carrot").expect("carrots are in the crop table"),
            mass: [Mass::new::<kilogram>(60.0); 12],
            arrives_at: degc(15.0),
            carried: Vec::new(),
        }],
        half_cooling: seconds(43_200.0),
        respiration: crate::room::RespirationLevel::Middle,
        crates: HeatCapacity::new::<joule_per_kelvin>(2.0e4),
        inner_skin_j_per_m2_k: 5.0e3,
        shelving: HeatCapacity::new::<joule_per_kelvin>(5.0e3),
        exchange: HeatTransfer::new::<watt_per_square_meter_kelvin>(8.0),
        exchange_area: None,
        warm_limit: degc(6.0),
        cold_limit: degc(-1.4),
    }
}

/// A thermostat half-way up the tank.
pub(crate) fn tank_sensor() -> TankSensor {
    TankSensor { height: frac(0.5), calls_at: degc(45.0), enough_at: degc(50.0) }
}

fn unit() -> HeatPumpUnit {
    HeatPumpUnit {
        cycle: Cycle::R744,
        cycle_given: true,
        size: UnitSize::DataSheet(vec![SheetPoint {
            room_air: degc(4.0),
            water_in: degc(10.0),
            water_out: degc(55.0),
            heat_output: watts(4500.0),
            power: None,
            defrost_included: true,
        }]),
        nameplate_power: None,
        called_by: CalledBy::Room,
        tank_sensor: tank_sensor(),
        sensor_place: None,
        slow_running: None,
        frosted_output: frac(0.95),
        defrost: None,
        coil_probe: None,
        frost_guard: None,
        circuit: WaterCircuit::SinglePass { outlet: degc(60.0), min_rise: dk(10.0), outlet_stop: degc(90.0) },
        closed_loop: None,
        circulator: watts(10.0),
        standby: watts(10.0),
        resting_fan: watts(0.0),
        start_lag: seconds(30.0),
        shell_outside: frac(0.0),
        airflow: VolumeRate::new::<cubic_meter_per_second>(0.4),
        inlet_stop: degc(40.0),
        inlet_differential: dk(5.0),
        lowest_air: degc(-2.0),
        highest_air: degc(30.0),
        hot_pipe_length: metres(0.0),
        hot_pipe_loss: ThermalConductivity::new::<watt_per_meter_kelvin>(0.2),
        hot_pipe_capacity_j_per_m_k: 700.0,
        exchanger_capacity: HeatCapacity::new::<joule_per_kelvin>(0.0),
        exchanger_loss: ThermalConductance::new::<watt_per_kelvin>(0.0),
        charge: Some(Mass::new::<kilogram>(0.7)),
        listed_for_room: None,
    }
}

/// The same household's plant: outdoors 25 °C and 60 % all year, mains 10 °C.
pub(crate) fn plant() -> Plant {
    let calendar = Calendar::new(false);
    let instants = calendar.hours() + 1;
    Plant {
        pressure_pa: 101_325.0,
        boundaries: vec![Boundary {
            name: "outdoors".to_owned(),
            temperature_k: vec![ZERO_CELSIUS_K + 25.0; instants],
            humidity_ratio: vec![0.011_93; instants],
        }],
        mains_k: vec![ZERO_CELSIUS_K + 10.0; 365],
        room: plain_room(),
        thermostat: Thermostat {
            on_at_k: ZERO_CELSIUS_K + 4.5,
            off_at_k: ZERO_CELSIUS_K + 3.5,
            probe_lag_s: 90.0,
            min_run_s: 300.0,
            min_rest_s: 300.0,
            off_in: [false; 12],
        },
        cooler: Cooler::HeatPump(pump()),
        fans: None,
        tank: Tank {
            first: Vessel { mass_kg: 299.0, height_m: 1.6, loss_w_per_k: 2.0 },
            second: None,
            surroundings: Surroundings::Boundary(0),
            conductivity_w_per_m_k: 1.8,
            cold_in: 0.0,
            cold_in_stirs: 0.0,
            cold_in_bore_m: None,
            return_bore_m: None,
            circles: false,
            pump_out: 0.0,
            pump_return: 1.0,
            draw: 1.0,
            start_k: ZERO_CELSIUS_K + 40.0,
        },
        days: vec![vec![DaySegment {
            start_s: 0.0,
            tap_kg_s: 200.0 / 86_400.0,
            use_k: ZERO_CELSIUS_K + 40.0,
            at_once: Default::default(),
            waiting_kg_s: 0.0,
            past_valve: false,
            doors_open: Vec::new(),
            doors_propped: Vec::new(),
            people: 0.0,
            lights_w: 0.0,
        }]],
        day_kinds: vec![0; 365],
        use_k: ZERO_CELSIUS_K + 40.0,
        valve_k: None,
        element: None,
        booster: Some(Booster {
            set_k: ZERO_CELSIUS_K + 45.0,
            most_w: 18_000.0,
            least_w: 0.0,
            efficiency: 0.9,
            highest_inlet_k: f64::INFINITY,
        }),
        dump: Some(Dump {
            opens_k: ZERO_CELSIUS_K + 35.0,
            closes_k: ZERO_CELSIUS_K + 30.0,
            probe: 0.25,
            probe_lag_s: 60.0,
            min_open_s: 60.0,
            timer: None,
            longest_open_s: f64::INFINITY,
            flow_kg_s: 0.1,
            port: 1.0,
            months: [true; 12],
            takers: vec![Taker::endless()],
        }),
        calendar,
    }
}

fn plain_room() -> Room {
    Room {
        volume_m3: 17.25,
        air_mass_kg: 21.9,
        air_capacity_j_per_k: 2.7e4,
        fixed_capacity_j_per_k: 2.8e5,
        exchange_w_per_k: 330.0,
        exchange_w_per_kg_k: 0.0,
        half_cooling_s: 43_200.0,
        surfaces: vec![Surface {
            name: "walls".to_owned(),
            ua_w_per_k: 6.07,
            boundary: 0,
            cause: Cause::OutdoorSurfaces,
        }],
        leakage_kg_s: 0.0,
        leakage_from: 0,
        doors: Vec::new(),
        produce: Vec::new(),
        warm_limit_k: ZERO_CELSIUS_K + 6.0,
        freezing_k: ZERO_CELSIUS_K - 1.4,
        heater: None,
    }
}

fn pump() -> HeatPump {
    HeatPump {
        map: CycleMap::of(Cycle::R744),
        capacity_w: 4500.0,
        cop_factor: 1.0,
        caller: Caller::Room,
        slow_running: None,
        frosted_factor: 0.95,
        defrost: None,
        coil_probe: None,
        frost_guard: None,
        circuit: Circuit::SinglePass {
            outlet_k: ZERO_CELSIUS_K + 60.0,
            min_rise_dk: 10.0,
            outlet_stop_k: ZERO_CELSIUS_K + 90.0,
        },
        loop_gap: 0.0,
        circulator_w: 10.0,
        standby_w: 10.0,
        resting_fan_w: 0.0,
        start_lag_s: 30.0,
        shell_outside_frac: 0.0,
        airflow_m3_s: 0.4,
        inlet_stop_k: ZERO_CELSIUS_K + 40.0,
        inlet_restart_k: ZERO_CELSIUS_K + 35.0,
        air_stop_low_k: ZERO_CELSIUS_K - 2.0,
        air_stop_high_k: ZERO_CELSIUS_K + 30.0,
        air_restart_dk: 1.0,
        hot_pipe: HotPipe { loss_w_per_k: 0.0, capacity_j_per_k: 0.0 },
    }
}

/// A month in which nothing is amiss: room at 4 °C, tank 48 °C above and 15 °C below, 2 kWh a day made and used, 6 runs a day of 20 minutes.
fn month(calendar: &Calendar, month: usize) -> Interval {
    let first_hour = calendar.month_starts_h[month];
    let duration_s = (calendar.month_starts_h[month + 1] - first_hour) as f64 * 3600.0;
    let days = duration_s / 86_400.0;
    let mut interval = Interval { first_hour, month, duration_s, ..Interval::default() };
    interval.heat_to_water_j = 8.0 * 3.6e6 * days;
    interval.demand_j = 7.0 * 3.6e6 * days;
    interval.demand_kg = 200.0 * days;
    interval.delivered_j = interval.demand_j;
    interval.drawn_j = interval.demand_j;
    interval.tank_loss_j = 3.6e6 * days;
    interval.tap_s = 3600.0 * days;
    interval.electricity_j[0] = 2.5 * 3.6e6 * days;
    interval.heat_from_room_j = 5.5 * 3.6e6 * days;
    interval.gain_j[Cause::OutdoorSurfaces as usize] = interval.heat_from_room_j;
    interval.starts = 6.0 * days;
    interval.run_s = 6.0 * 1200.0 * days;
    interval.output_frac_s = interval.run_s;
    interval.inlet_k_s = interval.run_s * (ZERO_CELSIUS_K + 12.0);
    interval.running_air_k_s = interval.run_s * (ZERO_CELSIUS_K + 4.0);
    interval.air_k_s = (ZERO_CELSIUS_K + 4.0) * duration_s;
    interval.contents_k_s = (ZERO_CELSIUS_K + 4.0) * duration_s;
    interval.humidity_frac_s = 0.95 * duration_s;
    interval.tank_top_k_s = (ZERO_CELSIUS_K + 48.0) * duration_s;
    interval.tank_bottom_k_s = (ZERO_CELSIUS_K + 15.0) * duration_s;
    interval.tank_mean_k_s = (ZERO_CELSIUS_K + 30.0) * duration_s;
    interval.layers = Layers {
        middle_k_s: interval.tank_mean_k_s,
        lukewarm_s: 0.3 * duration_s,
        longest_cool_s: 3600.0 * first_hour as f64 + duration_s,
        ..Layers::default()
    };
    interval.hottest_drawn_k = ZERO_CELSIUS_K + 48.5;
    for degc in [2.0, 5.0] {
        interval.air_k.see(ZERO_CELSIUS_K + degc);
    }
    for degc in [3.5, 4.5] {
        interval.contents_k.see(ZERO_CELSIUS_K + degc);
        interval.food_k.see(ZERO_CELSIUS_K + degc);
    }
    interval.blown_k.see(ZERO_CELSIUS_K + 0.5);
    interval.tank_top_k.see(ZERO_CELSIUS_K + 48.5);
    interval
}

/// A year of such months.
pub(crate) fn year() -> Year {
    let calendar = Calendar::new(false);
    let months = (0..12).map(|index| month(&calendar, index)).collect();
    year_of(months)
}

/// The last day of a month, with ten hours' worth of what the month's running pump takes out of the room.
fn heaviest_day(month: &Interval) -> DayLoad {
    let last_hour = month.first_hour + (month.duration_s / 3600.0) as usize - 1;
    DayLoad {
        day: last_hour / 24,
        load_j: 36_000.0 * month.heat_from_room_j / month.run_s.max(1.0),
        gain_j: month.gain_j,
    }
}

/// A year of the given months.
pub(crate) fn year_of(months: Vec<Interval>) -> Year {
    let mut total = Interval::default();
    for month in &months {
        total.add(month);
    }
    let heaviest_days = std::array::from_fn(|index| Some(heaviest_day(&months[index])));
    Year {
        calendar: Calendar::new(false),
        months,
        total,
        heaviest_days,
        wettest_day: None,
        usable: Default::default(),
        dumped: Default::default(),
        bought: Default::default(),
        ledger: Ledger { room: 0.0, tank: 0.0, machine: 0.0, house: 0.0, moisture: 0.0 },
    }
}

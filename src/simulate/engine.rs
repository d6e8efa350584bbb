//! The state of the installation and the clock.

use super::SimulationError;
use super::frost::{Frost, Melting};
use super::hour::Hour;
use super::larder::Larder;
use super::layers::LayerWatch;
use crate::air;
use crate::plant::{Cooler, DaySegment, HOUR_S, HeatPump, MOST_TAKERS, Plant, Vessel};
use crate::resolution::Resolution;
use crate::room::Temperatures;
use crate::tank::{Parcels, Series};
use crate::year::Interval;

/// More steps than this in one hour mean that the clock stands: a tenth of a second each.
const MOST_STEPS_PER_HOUR: usize = 40_000;

/// Hours of a day.
const DAY_H: usize = 24;

/// Shortest step, s; events closer together than this are taken together.
pub(super) const SHORTEST_STEP_S: f64 = 1e-3;

/// Temperatures beyond which the calculation has gone wrong, whatever the plant, K.
const POSSIBLE_K: (f64, f64) = (150.0, 450.0);

/// The same of the room, K: towards its boiling point saturated air holds vapour without end.
const POSSIBLE_ROOM_K: (f64, f64) = (150.0, 363.15);

/// Humidity ratios beyond which it has.
const POSSIBLE_HUMIDITY: (f64, f64) = (0.0, 0.5);

/// Relative humidity at the start of the warm-up month.
const START_HUMIDITY_FRAC: f64 = 0.85;

/// What the pump is doing and since when.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PumpClock {
    pub running: bool,
    /// Time since the last start or stop, s.
    pub since_s: f64,
    /// Longest next step, s: short after a start, then doubling.
    pub next_step_s: f64,
    /// Share of full output while it runs.
    pub output_frac: f64,
    /// Time since that share was last looked at, s.
    pub reviewed_s: f64,
    /// The unit is getting rid of its frost.
    pub melting: Option<Melting>,
    /// Time of this rest in which the room's air thawed the frost, s.
    pub thawed_s: f64,
}

impl PumpClock {
    /// A pump that has just been switched on.
    pub fn started(next_step_s: f64, output_frac: f64) -> Self {
        Self { running: true, output_frac, ..Self::resting(0.0, next_step_s) }
    }

    /// A pump that has been resting for a while.
    pub fn resting(since_s: f64, next_step_s: f64) -> Self {
        Self {
            running: false,
            since_s,
            next_step_s,
            output_frac: 1.0,
            reviewed_s: 0.0,
            melting: None,
            thawed_s: 0.0,
        }
    }
}

/// Which limits hold the pump.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Lockouts {
    pub inlet: bool,
    pub air_low: bool,
    pub air_high: bool,
    /// The probe on the coil.
    pub coil: bool,
}

impl Lockouts {
    pub fn any(&self) -> bool {
        self.inlet || self.air_low || self.air_high || self.coil
    }
}

/// The dump valve and its aquastat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Aquastat {
    pub probe_k: f64,
    pub open: bool,
    /// Time since the valve opened, s.
    pub since_s: f64,
    /// Time for which water has run without a break, s.
    pub flowed_s: f64,
    /// The guard has shut the dump, and the contact has not opened since.
    pub guarded: bool,
}

/// Tank loss and conduction, applied together at intervals.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct TankClock {
    /// Time since the last application, s.
    pub elapsed_s: f64,
    /// Integral of the surroundings' temperature since then, K s.
    pub surroundings_k_s: f64,
    /// Heat of the last application on its way into the cold room, W, if the tank stands there.
    pub to_room_w: f64,
    /// For how much longer, s.
    pub to_room_left_s: f64,
    /// What steps that ended a moment early or late left over of it, J; it goes with the next.
    pub left_over_j: f64,
}

pub(super) struct Engine<'a> {
    pub plant: &'a Plant,
    pub pump: &'a HeatPump,
    pub resolution: &'a Resolution,

    pub room: Temperatures,
    /// Humidity ratio of the room's air.
    pub humidity: f64,
    pub tank: Series,
    /// Water that the tank holds when full, kg.
    pub full_kg: f64,
    pub pipe_k: f64,

    pub clock: PumpClock,
    pub lockouts: Lockouts,
    /// Water that the running pump took out of the tank in the last step, K; below every limit before its first.
    pub taken_k: f64,
    /// Temperature of the probe on the coil, K.
    pub coil_probe_k: f64,
    /// Whether the tank's thermostat calls; always, where it has no say.
    pub tank_calls: bool,
    pub frost: Frost,
    pub aquastat: Option<Aquastat>,
    /// Whether the dump ran in the last step.
    pub dump_ran: bool,
    /// Room left in the places that take dumped water, kg.
    pub dump_left_kg: [f64; MOST_TAKERS],
    /// Whether the electric element in the tank heats.
    pub element_on: bool,
    /// Whether outdoor air is blown in.
    pub fans_on: bool,
    /// Whether the room's heater heats.
    pub heater_on: bool,
    /// Whether the booster fired in the last step.
    pub booster_lit: bool,
    pub tank_clock: TankClock,
    pub layers: LayerWatch,
    /// Dry air that each door has exchanged since it was opened, kg.
    pub door_exchanged_kg: Vec<f64>,

    pub hour: Hour,
    /// Time since the start of the hour, s.
    pub offset_s: f64,
    /// The day that runs.
    pub today: &'a [DaySegment],
    pub segment: usize,
    /// Sums of the present hour.
    pub sums: Interval,
    /// Integral of the humidity ratio over the present hour, s.
    pub humidity_s: f64,
    /// What is stored.
    pub larder: Larder,
    /// Energy that produce carried through the door at the contents' own temperature or, leaving, at its own, J.
    pub produce_transfer_j: f64,
}

impl<'a> Engine<'a> {
    pub fn new(plant: &'a Plant, resolution: &'a Resolution, month: usize) -> Self {
        let Cooler::HeatPump(pump) = &plant.cooler;
        let set_k = 0.5 * (plant.thermostat.on_at_k + plant.thermostat.off_at_k);
        let tank = &plant.tank;
        let full = |vessel: &Vessel| {
            let smallest_frac = resolution.smallest_parcel_frac * tank.mass_kg() / vessel.mass_kg;
            Parcels::uniform(
                vessel.mass_kg,
                tank.start_k,
                resolution.parcels,
                smallest_frac,
                resolution.merge_dk,
            )
        };
        let water = match &tank.second {
            None => Series::single(full(&tank.first)),
            Some(second) => Series::pair(full(&tank.first), full(second)),
        };
        let mut engine = Self {
            plant,
            pump,
            resolution,
            room: Temperatures { air_k: set_k, contents_k: set_k, probe_k: set_k },
            humidity: air::humidity_ratio_from_relative_humidity(
                set_k,
                START_HUMIDITY_FRAC,
                plant.pressure_pa,
            ),
            layers: LayerWatch::new(&water, plant),
            tank: water,
            full_kg: tank.mass_kg(),
            pipe_k: set_k,
            clock: PumpClock::resting(plant.thermostat.min_rest_s, resolution.first_step_s),
            lockouts: Lockouts::default(),
            taken_k: f64::NEG_INFINITY,
            coil_probe_k: set_k,
            tank_calls: true,
            frost: Frost::none(pump),
            aquastat: plant.dump.as_ref().map(|_| Aquastat {
                probe_k: tank.start_k,
                open: false,
                since_s: 0.0,
                flowed_s: 0.0,
                guarded: false,
            }),
            dump_ran: false,
            dump_left_kg: std::array::from_fn(|index| {
                plant
                    .dump
                    .as_ref()
                    .and_then(|dump| dump.takers.get(index))
                    .map_or(0.0, |taker| taker.start_kg)
            }),
            element_on: false,
            fans_on: false,
            heater_on: false,
            booster_lit: false,
            tank_clock: TankClock::default(),
            door_exchanged_kg: vec![0.0; plant.room.doors.len()],
            hour: Hour::of(plant, plant.calendar.month_starts_h[month]),
            offset_s: 0.0,
            today: plant.day(plant.calendar.month_starts_h[month] / DAY_H),
            segment: 0,
            sums: Interval::default(),
            humidity_s: 0.0,
            larder: Larder::settled(plant, plant.calendar.month_starts_h[month] / DAY_H, set_k),
            produce_transfer_j: 0.0,
        };
        engine.sense_limits();
        engine
    }

    /// Runs one hour of the year and returns its sums.
    pub fn run_hour(&mut self, hour: usize) -> Result<Interval, SimulationError> {
        self.hour = Hour::of(self.plant, hour);
        self.offset_s = 0.0;
        if hour.is_multiple_of(DAY_H) {
            self.today = self.plant.day(hour / DAY_H);
            self.segment = 0;
            self.shut_doors();
            self.begin_day(hour / DAY_H);
            self.make_room_for_dump(hour / DAY_H);
        }
        let mut steps = 0;
        while self.offset_s < HOUR_S {
            self.step();
            steps += 1;
            if steps > MOST_STEPS_PER_HOUR {
                return Err(SimulationError::NoProgress { hour, steps });
            }
        }
        self.check_state(hour)?;
        self.book_hour();
        let mut sums = std::mem::take(&mut self.sums);
        sums.first_hour = hour;
        sums.month = self.hour.month;
        sums.duration_s = HOUR_S;
        self.humidity_s = 0.0;
        Ok(sums)
    }

    fn check_state(&self, hour: usize) -> Result<(), SimulationError> {
        let tank = &self.tank;
        let states = [
            ("room air temperature", self.room.air_k, POSSIBLE_ROOM_K),
            ("contents temperature", self.room.contents_k, POSSIBLE_ROOM_K),
            ("temperature of what cools down", self.larder.cooling_k, POSSIBLE_ROOM_K),
            ("tank top temperature", tank.top_k(), POSSIBLE_K),
            ("tank bottom temperature", tank.bottom_k(), POSSIBLE_K),
            ("hot pipe temperature", self.pipe_k, POSSIBLE_K),
            ("room humidity ratio", self.humidity, POSSIBLE_HUMIDITY),
        ];
        match states.into_iter().find(|(_, value, (least, most))| !(*least..=*most).contains(value)) {
            Some((what, value, _)) => Err(SimulationError::Runaway { hour, what, value }),
            None => Ok(()),
        }
    }

    /// Position of a port in the tank, kg of water below it.
    pub fn position_kg(&self, height: f64) -> f64 {
        height * self.full_kg
    }
}

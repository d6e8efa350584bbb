//! How finely the year is calculated: all accuracy knobs together.

/// All accuracy knobs of [`crate::simulate`], scaled together by [`Resolution::finer`].
///
/// Raising one alone proves nothing: the step caps limit the error of the coupling, the parcels
/// that of the tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resolution {
    /// Most parcels that the tank is divided into.
    pub parcels: usize,
    /// Smallest parcel, share of the tank.
    pub smallest_parcel_frac: f64,
    /// Adjacent parcels closer than this are one, K.
    pub merge_dk: f64,
    /// Longest step while the pump rests, s.
    pub rest_step_s: f64,
    /// Longest step while a door is open, s.
    pub door_step_s: f64,
    /// Longest step while the pump runs, s.
    pub run_step_s: f64,
    /// First step after a start, s; later ones may be twice as long each time.
    pub first_step_s: f64,
    /// Most water the pump moves in a step, share of the tank.
    pub pumped_frac: f64,
    /// Longest step while the taps or the dump run, share of the tank that passes.
    pub drawn_frac: f64,
    /// Time between two applications of the tank's loss and conduction, s.
    pub tank_interval_s: f64,
    /// Tolerance of a switching instant, s.
    pub instant_s: f64,
}

impl Default for Resolution {
    /// The resolution that [`crate::simulate`] is checked at: four times finer on every knob
    /// moves yearly electricity, dump litres and booster heat by less than one per cent.
    fn default() -> Self {
        Self {
            parcels: 48,
            smallest_parcel_frac: 0.002,
            merge_dk: 0.02,
            rest_step_s: 3600.0,
            door_step_s: 10.0,
            run_step_s: 120.0,
            first_step_s: 15.0,
            pumped_frac: 1.0 / 30.0,
            drawn_frac: 1.0 / 30.0,
            tank_interval_s: 1800.0,
            instant_s: 0.01,
        }
    }
}

impl Resolution {
    /// Every knob finer by `factor` (1 or more).
    ///
    /// # Panics
    /// When `factor` is below 1 or not finite: a coarser year is not offered.
    pub fn finer(self, factor: f64) -> Self {
        assert!(factor.is_finite() && factor >= 1.0, "resolution factor {factor} is below 1");
        Self {
            parcels: (self.parcels as f64 * factor).round() as usize,
            smallest_parcel_frac: self.smallest_parcel_frac / factor,
            merge_dk: self.merge_dk / factor,
            rest_step_s: self.rest_step_s / factor,
            door_step_s: self.door_step_s / factor,
            run_step_s: self.run_step_s / factor,
            first_step_s: self.first_step_s / factor,
            pumped_frac: self.pumped_frac / factor,
            drawn_frac: self.drawn_frac / factor,
            tank_interval_s: self.tank_interval_s / factor,
            instant_s: self.instant_s / factor,
        }
    }
}

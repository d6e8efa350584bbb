//! One tank, or two in series: the water of both in one column.
//!
//! Positions count through both, kg from the bottom of the first. A pipe joins the top of the first to the bottom of the
//! second: what enters or leaves the second pushes as much water through it, either way. No heat is conducted and nothing
//! rises or sinks through it, so that the water below the pipe may be warmer than the water above.

use super::parcels::{Parcels, Taken};

/// A position no further above the pipe than this share of the first tank's water is that tank's top: dust of rounding.
const AT_PIPE_FRAC: f64 = 1e-9;

/// The water of one tank or of two in series.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    first: Parcels,
    second: Option<Second>,
}

/// The tank that follows the first.
#[derive(Debug, Clone, PartialEq)]
struct Second {
    water: Parcels,
    /// What it holds, kg.
    full_kg: f64,
}

impl Series {
    /// One tank.
    pub fn single(water: Parcels) -> Self {
        Self { first: water, second: None }
    }

    /// Two tanks, `second` after `first`.
    pub fn pair(first: Parcels, second: Parcels) -> Self {
        let full_kg = second.mass_kg();
        Self { first, second: Some(Second { water: second, full_kg }) }
    }

    /// The tanks, the first one first.
    fn tanks(&self) -> impl DoubleEndedIterator<Item = &Parcels> {
        std::iter::once(&self.first).chain(self.second.as_ref().map(|second| &second.water))
    }

    /// Mass of all water, kg.
    pub fn mass_kg(&self) -> f64 {
        self.first.mass_kg() + self.second.as_ref().map_or(0.0, |second| second.water.mass_kg())
    }

    /// Sum of mass times temperature, kg K.
    pub fn mass_temperature_kg_k(&self) -> f64 {
        let second = self.second.as_ref().map_or(0.0, |second| second.water.mass_temperature_kg_k());
        self.first.mass_temperature_kg_k() + second
    }

    /// Temperature at the very top of the last tank, K.
    pub fn top_k(&self) -> f64 {
        self.second.as_ref().map_or(&self.first, |second| &second.water).top_k()
    }

    /// Temperature at the very bottom of the first tank, K.
    pub fn bottom_k(&self) -> f64 {
        self.first.bottom_k()
    }

    /// The coldest water there is, K.
    pub fn coldest_k(&self) -> f64 {
        self.tanks().map(Parcels::bottom_k).fold(f64::INFINITY, f64::min)
    }

    /// Mass of the water from one temperature to another, both included, kg.
    pub fn mass_between_kg(&self, range_k: [f64; 2]) -> f64 {
        self.tanks().map(|water| water.mass_between_kg(range_k)).sum()
    }

    /// Sum of mass times temperature over `base_k` of the water between two positions that is at `least_k` or warmer, kg K.
    pub fn warm_kg_k(&self, from_kg: f64, to_kg: f64, least_k: f64, base_k: f64) -> f64 {
        let first = self.first.warm_kg_k(from_kg, to_kg, least_k, base_k);
        let Some(second) = &self.second else { return first };
        let pipe_kg = self.first.mass_kg();
        first + second.water.warm_kg_k(from_kg - pipe_kg, to_kg - pipe_kg, least_k, base_k)
    }

    /// The second tank and the position within it, where a position lies there; the pipe is the first tank's top.
    fn in_second(&self, position_kg: f64) -> Option<(&Second, f64)> {
        let second = self.second.as_ref()?;
        let pipe_kg = self.first.mass_kg();
        (position_kg > (1.0 + AT_PIPE_FRAC) * pipe_kg).then_some((second, position_kg - pipe_kg))
    }

    /// Temperature at a position, K.
    #[inline]
    pub fn at_k(&self, position_kg: f64) -> f64 {
        match self.in_second(position_kg) {
            Some((second, within_kg)) => second.water.at_k(within_kg),
            None => self.first.at_k(position_kg),
        }
    }

    /// Temperature that a sensor sees, K; see [`Parcels::sensed_k`].
    pub fn sensed_k(&self, position_kg: f64) -> f64 {
        match self.in_second(position_kg) {
            Some((second, within_kg)) => second.water.sensed_k(within_kg),
            None => self.first.sensed_k(position_kg),
        }
    }

    /// Mean temperature of the water between two positions, K; the one at `from` where they coincide.
    #[inline]
    pub fn mean_k(&self, from_kg: f64, to_kg: f64) -> f64 {
        match &self.second {
            None => self.first.mean_k(from_kg, to_kg),
            Some(second) => self.mean_of_both_k(second, from_kg, to_kg),
        }
    }

    fn mean_of_both_k(&self, second: &Second, from_kg: f64, to_kg: f64) -> f64 {
        let pipe_kg = self.first.mass_kg();
        if from_kg >= pipe_kg {
            return second.water.mean_k(from_kg - pipe_kg, to_kg - pipe_kg);
        }
        let below_k = self.first.mean_k(from_kg, to_kg.min(pipe_kg));
        if to_kg <= pipe_kg {
            return below_k;
        }
        let above_k = second.water.mean_k(0.0, to_kg - pipe_kg);
        below_k + (above_k - below_k) * (to_kg - pipe_kg) / (to_kg - from_kg)
    }

    /// How much water above (`upward`) or below a position has to pass before the temperature there has
    /// changed by more than `jump_dk` or has crossed one of `marks_k`; parcels smaller than the smallest are looked
    /// through. `None` if none does.
    #[inline]
    pub fn mass_to_change_kg(
        &self,
        position_kg: f64,
        upward: bool,
        jump_dk: f64,
        marks_k: &[f64],
    ) -> Option<f64> {
        let (water, within_kg, beyond) = match (self.in_second(position_kg), &self.second) {
            (Some((second, within_kg)), _) => (&second.water, within_kg, (!upward).then_some(&self.first)),
            (None, Some(second)) => (&self.first, position_kg, upward.then_some(&second.water)),
            (None, None) => (&self.first, position_kg, None),
        };
        water.mass_to_change_kg(within_kg, upward, jump_dk, marks_k, beyond)
    }

    /// Most water that can be heated from a position up without any passing from one tank to the other, kg.
    pub fn above_in_tank_kg(&self, position_kg: f64) -> f64 {
        match self.in_second(position_kg) {
            Some((second, within_kg)) => second.water.mass_kg() - within_kg,
            None => self.first.mass_kg() - position_kg,
        }
    }

    /// Takes the water between two positions out. The second tank stays full.
    #[inline]
    pub fn take(&mut self, from_kg: f64, mass_kg: f64) -> Taken {
        let Some(second) = &mut self.second else { return self.first.take(from_kg, mass_kg) };
        let pipe_kg = self.first.mass_kg();
        if from_kg >= pipe_kg {
            let taken = second.water.take(from_kg - pipe_kg, mass_kg);
            self.fill_second();
            return taken;
        }
        let below_kg = mass_kg.min(pipe_kg - from_kg);
        let below = self.first.take(from_kg, below_kg);
        if below_kg >= mass_kg {
            return below;
        }
        let above = second.water.take(0.0, mass_kg - below_kg);
        self.fill_second();
        let mass_kg = below.mass_kg + above.mass_kg;
        let step_dk = above.temperature_k - below.temperature_k;
        Taken { mass_kg, temperature_k: below.temperature_k + step_dk * (above.mass_kg / mass_kg) }
    }

    /// Lets water in at a position; it mixes with its neighbours where it would lie unstably. The second tank stays full.
    #[inline]
    pub fn insert(&mut self, position_kg: f64, mass_kg: f64, temperature_k: f64) {
        match (self.in_second(position_kg).map(|(_, within_kg)| within_kg), &mut self.second) {
            (Some(within_kg), Some(second)) => {
                second.water.insert(within_kg, mass_kg, temperature_k);
                self.fill_second();
            }
            _ => self.first.insert(position_kg, mass_kg, temperature_k),
        }
    }

    /// Moves through the pipe what the second tank lacks or has too much.
    fn fill_second(&mut self) {
        let Some(second) = &mut self.second else { return };
        let lacking_kg = second.full_kg - second.water.mass_kg();
        if lacking_kg > 0.0 {
            let first_kg = self.first.mass_kg();
            let moved = self.first.take(first_kg - lacking_kg, lacking_kg);
            second.water.insert(0.0, moved.mass_kg, moved.temperature_k);
        } else if lacking_kg < 0.0 {
            let moved = second.water.take(0.0, -lacking_kg);
            self.first.insert(self.first.mass_kg(), moved.mass_kg, moved.temperature_k);
        }
    }

    /// Mixes all water of one tank, that in which it ends, from a position on.
    pub fn stir(&mut self, from_kg: f64, mass_kg: f64) {
        match (self.in_second(from_kg + mass_kg).map(|(second, _)| second.full_kg), &mut self.second) {
            (Some(full_kg), Some(second)) => {
                let within_kg = (from_kg - self.first.mass_kg()).min(full_kg - mass_kg).max(0.0);
                second.water.stir(within_kg, mass_kg);
            }
            _ => self.first.stir(from_kg, mass_kg),
        }
    }

    /// Each tank loses heat towards `surroundings_k`: its water keeps a share of its difference. Returns the sum of mass times
    /// temperature lost, kg K.
    pub fn lose(&mut self, surroundings_k: f64, kept_frac: f64, kept_second_frac: f64) -> f64 {
        let lost = self.first.lose(surroundings_k, kept_frac);
        lost + self.second.as_mut().map_or(0.0, |second| second.water.lose(surroundings_k, kept_second_frac))
    }

    /// Conduction within each tank over a time; what it spreads is explained at [`Parcels::conduct`].
    pub fn conduct(&mut self, spread_kg2_s: f64, spread_second_kg2_s: f64, time_s: f64) {
        self.first.conduct(spread_kg2_s, time_s);
        if let Some(second) = &mut self.second {
            second.water.conduct(spread_second_kg2_s, time_s);
        }
    }
}

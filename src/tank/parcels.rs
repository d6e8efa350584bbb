//! Water in the tank as a stack of parcels of any size.
//!
//! Water that enters keeps its temperature until it is drawn, mixed by buoyancy or merged with a
//! neighbour; nothing is smeared by a fixed grid. Positions are masses from the bottom, kg.

use super::conduction;

/// One parcel.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Parcel {
    mass_kg: f64,
    temperature_k: f64,
}

impl Parcel {
    fn with(self, other: Parcel) -> Parcel {
        let mass_kg = self.mass_kg + other.mass_kg;
        // Written as a step from one temperature towards the other: equal temperatures stay equal to the bit.
        let temperature_k =
            self.temperature_k + (other.temperature_k - self.temperature_k) * (other.mass_kg / mass_kg);
        Parcel { mass_kg, temperature_k }
    }
}

/// A remainder below this share of the tank is dust of rounding: it joins its neighbour.
const DUST_FRAC: f64 = 1e-9;

/// Neighbours further apart than this many times what is merged have a step between them: 4 K. Across smaller ones the flux from
/// middle to middle is good enough.
const STEP_OF_MERGE: f64 = 200.0;

/// The slice next to a step, as a share of how deep heat gets (the root of diffusivity times time) until conduction is next
/// applied.
const THINNEST_OF_REACH: f64 = 0.5;

/// Most slices that are cut on a side of a parcel; together they are seven times the thinnest.
const MOST_SLICES: u32 = 3;

/// The same beside a thick parcel: 0.2 K.
const SMALL_STEP_OF_MERGE: f64 = 10.0;

/// From this many times the thinnest slice on a parcel is thick: it has room for all slices on one side and a middle.
const THICK_OF_THINNEST: f64 = 15.0;

/// Water around a sensor, as a share of the smallest parcel: what is thinner does not hide from it what lies behind.
const SENSED_OF_SMALLEST: f64 = 0.25;

/// Fewer parcels too many than this are merged one by one.
const FEW: usize = 3;

/// A stack of parcels, bottom first, never warmer below than above.
#[derive(Debug, Clone, PartialEq)]
pub struct Parcels {
    stack: Vec<Parcel>,
    most: usize,
    smallest_kg: f64,
    dust_kg: f64,
    merge_dk: f64,
    scratch: conduction::Scratch,
    costs: Vec<f64>,
}

/// What was taken out: mass and mean temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Taken {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Mean temperature, K.
    pub temperature_k: f64,
}

impl Parcels {
    /// A tank of one temperature.
    pub fn uniform(mass_kg: f64, temperature_k: f64, most: usize, smallest_frac: f64, merge_dk: f64) -> Self {
        let mut stack = Vec::with_capacity(most + 8);
        stack.push(Parcel { mass_kg, temperature_k });
        Self {
            stack,
            most,
            smallest_kg: smallest_frac * mass_kg,
            dust_kg: DUST_FRAC * mass_kg,
            merge_dk,
            scratch: conduction::Scratch::default(),
            costs: Vec::new(),
        }
    }

    /// Mass of all water, kg.
    pub fn mass_kg(&self) -> f64 {
        self.stack.iter().map(|parcel| parcel.mass_kg).sum()
    }

    /// Sum of mass times temperature, kg K.
    pub fn mass_temperature_kg_k(&self) -> f64 {
        self.stack.iter().map(|parcel| parcel.mass_kg * parcel.temperature_k).sum()
    }

    /// Temperature at the very top, K.
    pub fn top_k(&self) -> f64 {
        self.stack[self.stack.len() - 1].temperature_k
    }

    /// Temperature at the very bottom, K.
    pub fn bottom_k(&self) -> f64 {
        self.stack[0].temperature_k
    }

    /// Mass of the water from one temperature to another, both included, kg.
    pub fn mass_between_kg(&self, [from_k, to_k]: [f64; 2]) -> f64 {
        let between = |parcel: &&Parcel| (from_k..=to_k).contains(&parcel.temperature_k);
        self.stack.iter().filter(between).map(|parcel| parcel.mass_kg).sum()
    }

    /// Sum of mass times temperature over `base_k` of the water between two positions that is at `least_k` or warmer, kg K.
    pub fn warm_kg_k(&self, from_kg: f64, to_kg: f64, least_k: f64, base_k: f64) -> f64 {
        let (mut below_kg, mut sum) = (0.0, 0.0);
        for parcel in &self.stack {
            let above_kg = below_kg + parcel.mass_kg;
            if parcel.temperature_k >= least_k {
                let part_kg = above_kg.min(to_kg) - below_kg.max(from_kg);
                sum += part_kg.max(0.0) * (parcel.temperature_k - base_k);
            }
            below_kg = above_kg;
        }
        sum
    }

    /// Number of parcels.
    pub fn count(&self) -> usize {
        self.stack.len()
    }

    /// Parcel at a position, and how much of it lies below and above the position. At a boundary the
    /// parcel above is meant, at the top the topmost.
    fn locate(&self, position_kg: f64) -> (usize, f64) {
        let mut below = 0.0;
        let last = self.stack.len() - 1;
        for (index, parcel) in self.stack[..last].iter().enumerate() {
            if position_kg < below + parcel.mass_kg {
                return (index, position_kg - below);
            }
            below += parcel.mass_kg;
        }
        (last, (position_kg - below).min(self.stack[last].mass_kg))
    }

    /// Temperature at a position, K.
    pub fn at_k(&self, position_kg: f64) -> f64 {
        self.stack[self.locate(position_kg).0].temperature_k
    }

    /// Temperature that a sensor sees, K: that at its position, or where a sliver lies there, of the sliver and what comes next above.
    pub fn sensed_k(&self, position_kg: f64) -> f64 {
        let seen_kg = SENSED_OF_SMALLEST * self.smallest_kg;
        let (index, offset) = self.locate(position_kg);
        let Parcel { mass_kg, temperature_k } = self.stack[index];
        if mass_kg - offset >= seen_kg || index + 1 == self.stack.len() {
            return temperature_k;
        }
        self.mean_k(position_kg, position_kg + seen_kg)
    }

    /// Mean temperature of the water between two positions, K; the one at `from` where they coincide.
    #[inline]
    pub fn mean_k(&self, from_kg: f64, to_kg: f64) -> f64 {
        let width = to_kg - from_kg;
        let (mut index, offset) = self.locate(from_kg);
        let first = self.stack[index];
        let mut left = width - (first.mass_kg - offset);
        if left <= 0.0 {
            return first.temperature_k;
        }
        let mut sum = (first.mass_kg - offset) * first.temperature_k;
        while left > 0.0 && index + 1 < self.stack.len() {
            index += 1;
            let part = self.stack[index].mass_kg.min(left);
            sum += part * self.stack[index].temperature_k;
            left -= part;
        }
        sum / (width - left)
    }

    /// How much water above (`upward`) or below a position has to pass before the temperature there has
    /// changed by more than `jump_dk` or has crossed one of `marks_k`; parcels smaller than the smallest are looked
    /// through. `beyond` is another stack that follows above, or below. `None` if none does.
    pub fn mass_to_change_kg(
        &self,
        position_kg: f64,
        upward: bool,
        jump_dk: f64,
        marks_k: &[f64],
        beyond: Option<&Self>,
    ) -> Option<f64> {
        let (index, offset) = self.locate(position_kg);
        let (index, offset) = if !upward && offset == 0.0 && index > 0 {
            (index - 1, self.stack[index - 1].mass_kg)
        } else {
            (index, offset)
        };
        let here = self.stack[index].temperature_k;
        let changes = |temperature_k: f64| {
            (temperature_k - here).abs() > jump_dk
                || marks_k.iter().any(|&mark_k| (temperature_k >= mark_k) != (here >= mark_k))
        };
        let changed = |passed_kg: &mut f64, parcel: &Parcel| {
            if changes(parcel.temperature_k) && *passed_kg >= self.smallest_kg {
                return true;
            }
            *passed_kg += parcel.mass_kg;
            false
        };
        let further = beyond.map_or(&[][..], |beyond| &beyond.stack);
        let mut passed_kg = if upward { self.stack[index].mass_kg - offset } else { offset };
        let found = if upward {
            self.stack[index + 1..].iter().any(|parcel| changed(&mut passed_kg, parcel))
                || further.iter().any(|parcel| changed(&mut passed_kg, parcel))
        } else {
            self.stack[..index].iter().rev().any(|parcel| changed(&mut passed_kg, parcel))
                || further.iter().rev().any(|parcel| changed(&mut passed_kg, parcel))
        };
        found.then_some(passed_kg)
    }

    /// Takes the water between two positions out.
    pub fn take(&mut self, from_kg: f64, mass_kg: f64) -> Taken {
        if mass_kg <= 0.0 {
            return Taken { mass_kg: 0.0, temperature_k: self.at_k(from_kg) };
        }
        let (first, offset) = self.locate(from_kg);
        let available = self.stack[first].mass_kg - offset;
        if mass_kg < available {
            let temperature_k = self.stack[first].temperature_k;
            self.stack[first].mass_kg -= mass_kg;
            self.sweep(first);
            return Taken { mass_kg, temperature_k };
        }
        let mut sum = available * self.stack[first].temperature_k;
        let mut left = mass_kg - available;
        self.stack[first].mass_kg = offset;
        let mut next = first + 1;
        while left > 0.0 && next < self.stack.len() {
            let parcel = &mut self.stack[next];
            if parcel.mass_kg > left {
                sum += left * parcel.temperature_k;
                parcel.mass_kg -= left;
                left = 0.0;
            } else {
                sum += parcel.mass_kg * parcel.temperature_k;
                left -= parcel.mass_kg;
                next += 1;
            }
        }
        self.stack.drain(first + 1..next);
        if first + 1 < self.stack.len() {
            self.sweep(first + 1);
        }
        self.sweep(first);
        Taken { mass_kg: mass_kg - left, temperature_k: sum / (mass_kg - left) }
    }

    /// Joins a parcel that is only dust to a neighbour, or drops it where nothing is left of it.
    fn sweep(&mut self, index: usize) {
        if self.stack[index].mass_kg > self.dust_kg {
            return;
        }
        let dust = self.stack.remove(index);
        if dust.mass_kg <= 0.0 || self.stack.is_empty() {
            return;
        }
        let neighbour = index.saturating_sub(1);
        self.stack[neighbour] = self.stack[neighbour].with(dust);
    }

    /// Lets water in at a position; it mixes with its neighbours where it would lie unstably.
    pub fn insert(&mut self, position_kg: f64, mass_kg: f64, temperature_k: f64) {
        if mass_kg <= 0.0 {
            return;
        }
        let new = Parcel { mass_kg, temperature_k };
        if self.stack.is_empty() {
            self.stack.push(new);
            return;
        }
        let (index, offset) = self.locate(position_kg);
        let here = self.stack[index];
        let at = if offset <= self.dust_kg {
            index
        } else if offset >= here.mass_kg - self.dust_kg {
            index + 1
        } else if (here.temperature_k - temperature_k).abs() <= self.merge_dk {
            self.stack[index] = here.with(new);
            self.settle(index);
            return;
        } else {
            self.stack[index].mass_kg = offset;
            self.stack.insert(index + 1, Parcel { mass_kg: here.mass_kg - offset, ..here });
            index + 1
        };
        let joins = |neighbour: &Parcel| {
            (neighbour.temperature_k - temperature_k).abs() <= self.merge_dk
                || neighbour.mass_kg < self.smallest_kg
        };
        let settled_at = if at > 0 && joins(&self.stack[at - 1]) {
            self.stack[at - 1] = self.stack[at - 1].with(new);
            at - 1
        } else if at < self.stack.len() && joins(&self.stack[at]) {
            self.stack[at] = self.stack[at].with(new);
            at
        } else {
            self.stack.insert(at, new);
            at
        };
        self.settle(settled_at);
        while self.stack.len() > self.most {
            self.merge_cheapest(0);
        }
    }

    /// Mixes all water between two positions, which leave some of it out.
    pub fn stir(&mut self, from_kg: f64, mass_kg: f64) {
        if mass_kg <= self.dust_kg {
            return;
        }
        let taken = self.take(from_kg, mass_kg);
        let (mass_kg, temperature_k) = (taken.mass_kg, taken.temperature_k);
        if self.stack.is_empty() {
            self.stack.push(Parcel { mass_kg, temperature_k });
            return;
        }
        let (index, offset) = self.locate(from_kg);
        let here = self.stack[index];
        let mut at = if offset <= self.dust_kg {
            index
        } else if offset >= here.mass_kg - self.dust_kg {
            index + 1
        } else {
            self.stack[index].mass_kg = offset;
            self.stack.insert(index + 1, Parcel { mass_kg: here.mass_kg - offset, ..here });
            index + 1
        };
        self.stack.insert(at, Parcel { mass_kg, temperature_k });
        // What has left the stirred water joins what lies beyond, however like the stirred water it still is: else it would go back.
        if at + 2 < self.stack.len() && self.joins(self.stack[at + 1], self.stack[at + 2]) {
            self.stack[at + 1] = self.stack[at + 1].with(self.stack[at + 2]);
            self.stack.remove(at + 2);
        }
        if at >= 2 && self.joins(self.stack[at - 1], self.stack[at - 2]) {
            self.stack[at - 1] = self.stack[at - 1].with(self.stack[at - 2]);
            self.stack.remove(at - 2);
            at -= 1;
        }
        self.settle(at);
        // With room for the next cold water, which would else push the stirred water together with what has left it.
        while self.stack.len() >= self.most && at + 2 < self.stack.len() {
            self.merge_cheapest(at + 1);
        }
    }

    /// Whether a parcel is so like its neighbour, or so small, that it becomes part of it.
    fn joins(&self, one: Parcel, neighbour: Parcel) -> bool {
        (neighbour.temperature_k - one.temperature_k).abs() <= self.merge_dk || one.mass_kg < self.smallest_kg
    }

    /// Mixes the parcel at `index` with its neighbours until none is warmer below than above.
    fn settle(&mut self, mut index: usize) {
        loop {
            if index > 0 && self.stack[index - 1].temperature_k > self.stack[index].temperature_k {
                self.stack[index - 1] = self.stack[index - 1].with(self.stack[index]);
                self.stack.remove(index);
                index -= 1;
            } else if index + 1 < self.stack.len()
                && self.stack[index].temperature_k > self.stack[index + 1].temperature_k
            {
                self.stack[index] = self.stack[index].with(self.stack[index + 1]);
                self.stack.remove(index + 1);
            } else {
                return;
            }
        }
    }

    /// Merges the adjacent pair, of those from `first` on, whose mixing loses least.
    fn merge_cheapest(&mut self, first: usize) {
        let mut cheapest = (f64::INFINITY, first);
        for (index, pair) in self.stack.windows(2).enumerate().skip(first) {
            let cost = cost(pair);
            if cost < cheapest.0 {
                cheapest = (cost, index);
            }
        }
        let index = cheapest.1;
        self.stack[index] = self.stack[index].with(self.stack[index + 1]);
        self.stack.remove(index + 1);
    }

    /// Every parcel loses heat towards `surroundings_k`: it keeps the share `kept_frac` of its difference.
    /// Returns the sum of mass times temperature lost, kg K.
    pub fn lose(&mut self, surroundings_k: f64, kept_frac: f64) -> f64 {
        let mut lost = 0.0;
        for parcel in &mut self.stack {
            let change_dk = (parcel.temperature_k - surroundings_k) * (1.0 - kept_frac);
            parcel.temperature_k -= change_dk;
            lost += parcel.mass_kg * change_dk;
        }
        lost
    }

    /// Conduction between neighbours over a time.
    ///
    /// Parcels are cut finer next to every step in temperature first, so that heat conducted across it does not
    /// spread over a whole thick parcel at once, nor has its whole depth to cross; neighbours that hardly differ
    /// afterwards are merged.
    ///
    /// `spread_kg2_s` is `conductivity x area x (mass per height) / specific heat`: for a tank of mass M, height H and
    /// cross-section A it is `k A M/(H c)`, kg2/s.
    pub fn conduct(&mut self, spread_kg2_s: f64, time_s: f64) {
        let spread_kg2 = spread_kg2_s * time_s;
        if self.stack.len() < 2 || spread_kg2 <= 0.0 {
            return;
        }
        self.load_slices(spread_kg2);
        self.scratch.solve();
        self.stack.clear();
        let scratch = std::mem::take(&mut self.scratch);
        for (mass_kg, temperature_k) in scratch.layers() {
            let new = Parcel { mass_kg, temperature_k };
            match self.stack.last_mut() {
                Some(last) if temperature_k - last.temperature_k <= self.merge_dk => {
                    *last = last.with(new);
                    if temperature_k < last.temperature_k {
                        self.settle(self.stack.len() - 1);
                    }
                }
                _ => self.stack.push(new),
            }
        }
        self.scratch = scratch;
        self.merge_to_most();
    }

    /// Copies the stack for conduction, parcels cut next to steps in temperature: the slice at the step is half as
    /// thick as heat gets in the time, each further one twice as thick. A thick parcel is cut next to smaller
    /// steps too: heat that comes in at its edge has no say in its middle yet.
    fn load_slices(&mut self, spread_kg2: f64) {
        let Self { stack, scratch, merge_dk, .. } = self;
        let (step_dk, small_dk) = (STEP_OF_MERGE * *merge_dk, SMALL_STEP_OF_MERGE * *merge_dk);
        scratch.clear();
        let thinnest_kg = THINNEST_OF_REACH * spread_kg2.sqrt();
        let thick_kg = THICK_OF_THINNEST * thinnest_kg;
        let mut gap_below_dk = 0.0;
        for (index, parcel) in stack.iter().enumerate() {
            let gap_above_dk =
                stack.get(index + 1).map_or(0.0, |above| above.temperature_k - parcel.temperature_k);
            let least_dk = if parcel.mass_kg > thick_kg { small_dk } else { step_dk };
            let slices =
                [gap_below_dk, gap_above_dk].map(|gap_dk| if gap_dk > least_dk { MOST_SLICES } else { 0 });
            push_cut(scratch, parcel, slices, thinnest_kg, spread_kg2);
            gap_below_dk = gap_above_dk;
        }
    }

    /// Merges pairs, those first whose mixing loses least, until there are no more parcels than may be. Many at a
    /// time: as many pairs as are too many, of those that do not touch.
    fn merge_to_most(&mut self) {
        while self.stack.len() > self.most {
            let surplus = self.stack.len() - self.most;
            if surplus < FEW {
                self.merge_cheapest(0);
                continue;
            }
            self.costs.clear();
            self.costs.extend(self.stack.windows(2).map(cost));
            let (_, &mut limit, _) = self.costs.select_nth_unstable_by(surplus - 1, f64::total_cmp);
            let (mut kept, mut read, mut merged) = (0, 0, 0);
            while read < self.stack.len() {
                let pair =
                    self.stack.get(read..read + 2).filter(|pair| merged < surplus && cost(pair) <= limit);
                let (parcel, used) = match pair {
                    Some(pair) => (pair[0].with(pair[1]), 2),
                    None => (self.stack[read], 1),
                };
                merged += used - 1;
                self.stack[kept] = parcel;
                kept += 1;
                read += used;
            }
            self.stack.truncate(kept);
        }
    }
}

/// Adds a parcel, cut from below and from above into up to so many slices, each twice as thick as the one before. As many slices as
/// leave a middle at least as thick as the next would have been.
fn push_cut(
    scratch: &mut conduction::Scratch,
    parcel: &Parcel,
    [mut below, mut above]: [u32; 2],
    thinnest_kg: f64,
    spread_kg2: f64,
) {
    let thickness = |slice: u32| f64::from(1_u32 << slice) * thinnest_kg;
    let together = |slices: u32| f64::from((1_u32 << slices) - 1) * thinnest_kg;
    while below.max(above) > 0
        && parcel.mass_kg <= together(below) + together(above) + thickness(below.max(above))
    {
        (below, above) = (below.saturating_sub(1), above.saturating_sub(1));
    }
    for slice in 0..below {
        scratch.push(thickness(slice), parcel.temperature_k, spread_kg2);
    }
    scratch.push(parcel.mass_kg - together(below) - together(above), parcel.temperature_k, spread_kg2);
    for slice in (0..above).rev() {
        scratch.push(thickness(slice), parcel.temperature_k, spread_kg2);
    }
}

/// What mixing a pair of neighbours loses: `m1 m2/(m1 + m2) dT^2`.
fn cost(pair: &[Parcel]) -> f64 {
    let gap = pair[1].temperature_k - pair[0].temperature_k;
    pair[0].mass_kg * pair[1].mass_kg / (pair[0].mass_kg + pair[1].mass_kg) * gap * gap
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn tank(layers: &[(f64, f64)]) -> Parcels {
        let mut parcels = Parcels::uniform(layers[0].0, layers[0].1, 48, 0.0, 0.0);
        for &(mass_kg, temperature_k) in &layers[1..] {
            let top = parcels.mass_kg();
            parcels.insert(top, mass_kg, temperature_k);
        }
        parcels
    }

    /// Exact: 100 kg at 60 °C over 50 kg at 40 and 50 kg at 20, mains at 10, for a use of 40 °C: 100 (60 - 10)/30 + 50 kg of mixed water, less what
    /// lies above the draw port or below the cold inlet.
    #[test]
    fn warm_water_is_counted_between_the_ports_and_from_the_use_temperature_on() {
        let parcels = tank(&[(50.0, 293.15), (50.0, 313.15), (100.0, 333.15)]);
        let mixed_kg = |from_kg: f64, to_kg: f64, use_k: f64| {
            parcels.warm_kg_k(from_kg, to_kg, use_k, 283.15) / (use_k - 283.15)
        };
        assert_relative_eq!(mixed_kg(0.0, 200.0, 313.15), 500.0 / 3.0 + 50.0, max_relative = 1e-12);
        assert_relative_eq!(mixed_kg(0.0, 180.0, 313.15), 400.0 / 3.0 + 50.0, max_relative = 1e-12);
        assert_relative_eq!(mixed_kg(70.0, 200.0, 313.15), 500.0 / 3.0 + 30.0, max_relative = 1e-12);
        // The water of 40 °C is too cold for a use of 41: it gives nothing, not a part.
        assert_relative_eq!(mixed_kg(0.0, 200.0, 314.15), 100.0 * 50.0 / 31.0, max_relative = 1e-12);
        assert_eq!(mixed_kg(120.0, 110.0, 313.15), 0.0);
    }

    /// Drawing it in sips at the port while mains water comes in below gives the mixed water that was counted before, until what comes is colder than the use.
    /// Tolerance: one sip of the hottest water.
    #[test]
    fn the_warm_water_counted_is_what_a_draw_in_one_go_gives() {
        for (cold_in, draw) in [(0.0, 1.0), (0.1, 0.9), (0.3, 0.6)] {
            let mut parcels =
                tank(&[(40.0, 285.15), (30.0, 308.15), (50.0, 316.15), (30.0, 325.15), (50.0, 335.15)]);
            let (use_k, mains_k, sip_kg) = (313.15, 283.15, 0.05);
            let (low_kg, port_kg) = (cold_in * 200.0, draw * 200.0);
            let counted_kg = parcels.warm_kg_k(low_kg, port_kg, use_k, mains_k) / (use_k - mains_k);
            let mut mixed_kg = 0.0;
            loop {
                let sip = parcels.take(port_kg - sip_kg, sip_kg);
                if sip.temperature_k < use_k {
                    break;
                }
                mixed_kg += sip_kg * (sip.temperature_k - mains_k) / (use_k - mains_k);
                parcels.insert(low_kg, sip_kg, mains_k);
            }
            assert!((mixed_kg - counted_kg).abs() <= sip_kg * 52.0 / 30.0, "{mixed_kg} {counted_kg}");
            assert!(counted_kg > 50.0, "{counted_kg}");
        }
    }

    #[test]
    fn taking_spans_parcels_and_keeps_mass_and_heat() {
        let mut parcels = tank(&[(10.0, 285.0), (20.0, 300.0), (5.0, 330.0)]);
        let taken = parcels.take(8.0, 23.0);
        assert_relative_eq!(taken.mass_kg, 23.0);
        assert_relative_eq!(
            taken.temperature_k,
            (2.0 * 285.0 + 20.0 * 300.0 + 330.0) / 23.0,
            max_relative = 1e-15
        );
        assert_relative_eq!(parcels.mass_kg(), 12.0);
        assert_relative_eq!(parcels.mass_temperature_kg_k(), 8.0 * 285.0 + 4.0 * 330.0, max_relative = 1e-15);
    }

    #[test]
    fn water_that_would_lie_unstably_is_mixed_until_it_does_not() {
        let mut parcels = tank(&[(10.0, 285.0), (10.0, 300.0), (10.0, 310.0)]);
        parcels.insert(0.0, 10.0, 305.0);
        // 305 over nothing, under 285: mixed with it to 295, which lies under 300.
        assert_eq!(parcels.count(), 3);
        assert_relative_eq!(parcels.bottom_k(), 295.0);
        parcels.insert(parcels.mass_kg(), 10.0, 290.0);
        // 290 on top of 310: mixed to 300, which is not warmer than the 300 below.
        assert_relative_eq!(parcels.top_k(), 300.0);
    }

    #[test]
    fn merging_keeps_mass_and_heat_and_takes_the_cheapest_pair() {
        let mut parcels = Parcels::uniform(10.0, 280.0, 3, 0.0, 0.0);
        for (mass_kg, temperature_k) in [(10.0, 300.0), (10.0, 301.0), (10.0, 330.0)] {
            parcels.insert(parcels.mass_kg(), mass_kg, temperature_k);
        }
        assert_eq!(parcels.count(), 3);
        assert_relative_eq!(parcels.at_k(15.0), 300.5);
        assert_relative_eq!(parcels.mass_temperature_kg_k(), 12_110.0, max_relative = 1e-15);
    }

    #[test]
    fn stirring_mixes_its_zone_and_keeps_mass_and_heat() {
        let mut parcels = tank(&[(10.0, 285.0), (10.0, 300.0), (10.0, 310.0)]);
        parcels.stir(0.0, 15.0);
        // 10 kg of 285 and 5 kg of 300 K.
        assert_relative_eq!(parcels.at_k(0.0), 290.0, max_relative = 1e-15);
        assert_relative_eq!(parcels.at_k(14.9), 290.0, max_relative = 1e-15);
        assert_relative_eq!(parcels.at_k(15.1), 300.0, max_relative = 1e-15);
        assert_relative_eq!(parcels.mass_kg(), 30.0, max_relative = 1e-15);
        assert_relative_eq!(parcels.mass_temperature_kg_k(), 8950.0, max_relative = 1e-15);
        parcels.stir(25.0, 5.0);
        assert_relative_eq!(parcels.top_k(), 310.0, max_relative = 1e-15);
        // All of it.
        parcels.stir(0.0, 30.0);
        assert_eq!(parcels.count(), 1);
        assert_relative_eq!(parcels.top_k(), 8950.0 / 30.0, max_relative = 1e-15);
    }

    /// 10 kg at the top of 30, kept stirred while 330 K come in there and as much leaves at the bottom: `330 - 30 exp(-m/10)`.
    #[test]
    fn a_zone_that_is_fed_from_above_approaches_what_comes_in() {
        let mut parcels = Parcels::uniform(30.0, 300.0, 48, 0.05, 0.1);
        for _ in 0..1000 {
            parcels.insert(30.0, 0.01, 330.0);
            parcels.take(0.0, 0.01);
            parcels.stir(20.0, 10.0);
        }
        assert_relative_eq!(parcels.top_k(), 330.0 - 30.0 * f64::exp(-1.0), max_relative = 1e-4);
        assert_relative_eq!(parcels.mass_kg(), 30.0, max_relative = 1e-12);
    }

    #[test]
    fn both_ends_of_a_range_of_temperatures_belong_to_it() {
        let parcels = tank(&[(10.0, 285.0), (20.0, 298.15), (4.0, 310.0), (8.0, 318.15), (16.0, 330.0)]);
        assert_relative_eq!(parcels.mass_between_kg([298.15, 318.15]), 32.0);
        assert_relative_eq!(parcels.mass_between_kg([298.16, 318.14]), 4.0);
        assert_relative_eq!(parcels.mass_between_kg([340.0, 350.0]), 0.0);
    }

    #[test]
    fn mass_to_change_looks_both_ways() {
        let parcels = tank(&[(10.0, 285.0), (10.0, 285.2), (10.0, 310.0)]);
        assert_eq!(parcels.mass_to_change_kg(4.0, true, 0.5, &[], None), Some(16.0));
        assert_eq!(parcels.mass_to_change_kg(4.0, true, 0.5, &[285.1], None), Some(6.0));
        assert_eq!(parcels.mass_to_change_kg(25.0, false, 0.5, &[], None), Some(5.0));
        assert_eq!(parcels.mass_to_change_kg(25.0, true, 0.5, &[], None), None);
        assert_eq!(parcels.mass_to_change_kg(30.0, false, 0.5, &[], None), Some(10.0));
    }
}

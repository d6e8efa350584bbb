//! Anchoring: the cycle map bent until it says what the unit's own data sheet says.
//!
//! `COP(x) = COP_map(x) exp(k0 + k1 (T_in - 30)/25 + k2 (T_room - 7)/10)`, and the same for the capacity. One point gives
//! the level k0 alone and is reproduced exactly; from two points on all three come from least squares in which the slopes are
//! held back a little. The exponent is linear in water inlet and room air, and so is the interpolation between the nodes of the
//! map: added to the nodes it is exact everywhere inside the map and costs nothing in the year. Outside, the map's nearest edge is
//! used, the correction included.

use crate::constants::ZERO_CELSIUS_K;
use crate::heat_pump::{CycleMap, MapPoint};

/// Water inlet at which the correction is its level, K, and the difference over which it changes by one slope, K.
const INLET_K: (f64, f64) = (ZERO_CELSIUS_K + 30.0, 25.0);
/// Room air at which the correction is its level, K, and the difference over which it changes by one slope, K.
const AIR_K: (f64, f64) = (ZERO_CELSIUS_K + 7.0, 10.0);
/// How strongly the two slopes are held back, in squares of the logarithm. Derived here: with 0.02 two points that lie close
/// together bend the map by less than their own difference, and two that lie far apart come back within 1 %.
const SLOPE_PENALTY: f64 = 0.02;

/// One line of a data sheet in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AnchorPoint {
    /// Air at the evaporator, K.
    pub room_air_k: f64,
    /// Water in, K.
    pub water_in_k: f64,
    /// Water out, K.
    pub water_out_k: f64,
    /// Heat to the water, W.
    pub heat_w: f64,
    /// Compressor, fan and controls, W; `None` if the sheet does not say.
    pub power_w: Option<f64>,
    /// Share of capacity and COP that the coil keeps there: below 1 where heat and power are those of a frosted coil.
    pub frost_factor: f64,
}

impl AnchorPoint {
    /// Heat to the water over power.
    pub fn cop(&self) -> Option<f64> {
        self.power_w.map(|power_w| self.heat_w / power_w)
    }

    /// What the map says there. The frost factor of a frosted point is in it, so that the year, which takes the coil as frosted
    /// there, gives the sheet's value and not less.
    fn on(&self, map: &CycleMap) -> MapPoint {
        let point = map.at(self.room_air_k, self.water_in_k, self.water_out_k - self.water_in_k);
        MapPoint { cop: point.cop * self.frost_factor, capacity: point.capacity * self.frost_factor, ..point }
    }
}

/// The exponent of a correction: `level + per_inlet (T_in - 30 °C)/25 K + per_air (T_room - 7 °C)/10 K`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Correction {
    /// k0.
    pub level: f64,
    /// k1.
    pub per_inlet: f64,
    /// k2.
    pub per_air: f64,
}

impl Correction {
    /// The part of the exponent that the slopes make at room air and water inlet, K.
    pub fn slope_at(&self, room_air_k: f64, water_in_k: f64) -> f64 {
        let (inlet, air) = coordinates(room_air_k, water_in_k);
        self.per_inlet * inlet + self.per_air * air
    }

    /// From coordinates and wanted factors.
    fn of_factors(wanted: &[(Coordinates, f64)]) -> Self {
        let exponents: Vec<_> = wanted.iter().map(|(place, factor)| (*place, libm::log(*factor))).collect();
        Self::fitted(&exponents)
    }

    /// The factor of the level; of a single wanted factor just that, without the digits that logarithm and exponential lose.
    fn level_factor(&self, wanted: &[(Coordinates, f64)]) -> f64 {
        match wanted {
            [(_, only)] => *only,
            _ => libm::exp(self.level),
        }
    }

    /// Least squares with the penalty on the slopes, from coordinates and wanted exponents; no correction without a point.
    ///
    /// The normal equations in closed form: the level is free, so it drops out when everything is counted from its mean, and
    /// two equations stay. With one point they give no slope and the level is the point's own exponent.
    fn fitted(wanted: &[(Coordinates, f64)]) -> Self {
        if wanted.is_empty() {
            return Self::default();
        }
        let count = wanted.len() as f64;
        let mean = |of: &dyn Fn(&(Coordinates, f64)) -> f64| wanted.iter().map(of).sum::<f64>() / count;
        let (inlet, air, exponent) = (mean(&|one| one.0.0), mean(&|one| one.0.1), mean(&|one| one.1));
        let (mut ii, mut aa, mut ia, mut ie, mut ae) = (SLOPE_PENALTY, SLOPE_PENALTY, 0.0, 0.0, 0.0);
        for ((one_inlet, one_air), one_exponent) in wanted {
            let (i, a, e) = (one_inlet - inlet, one_air - air, one_exponent - exponent);
            ii += i * i;
            aa += a * a;
            ia += i * a;
            ie += i * e;
            ae += a * e;
        }
        // The penalty keeps it above its own square.
        let determinant = ii * aa - ia * ia;
        let per_inlet = (ie * aa - ae * ia) / determinant;
        let per_air = (ae * ii - ie * ia) / determinant;
        Self { level: exponent - per_inlet * inlet - per_air * air, per_inlet, per_air }
    }
}

/// Water inlet and room air as the exponent has them, without a unit.
type Coordinates = (f64, f64);

fn coordinates(room_air_k: f64, water_in_k: f64) -> Coordinates {
    ((water_in_k - INLET_K.0) / INLET_K.1, (room_air_k - AIR_K.0) / AIR_K.1)
}

/// A map anchored at the points of a data sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Anchoring {
    /// The map with the slopes of both corrections in its nodes.
    pub map: CycleMap,
    /// Heat to the water, W, where the bent map's relative capacity is 1.
    pub capacity_w: f64,
    /// Factor on the bent map's COP.
    pub cop_factor: f64,
    /// What was done to the COP.
    pub cop: Correction,
    /// What was done to the capacity; its level is the logarithm of watts.
    pub capacity: Correction,
    /// The points, in their order.
    pub points: Vec<Anchored>,
}

/// A point of the data sheet beside what the map made of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Anchored {
    /// As the sheet has it.
    pub sheet: AnchorPoint,
    /// COP of the map as it was calculated for the refrigerant.
    pub raw_cop: f64,
    /// Heat of that map, W, sized by the first point.
    pub raw_heat_w: f64,
    /// COP of the anchored map.
    pub cop: f64,
    /// Heat of the anchored map, W.
    pub heat_w: f64,
}

impl Anchored {
    /// Anchored COP over the sheet's, less 1.
    pub fn cop_residual_frac(&self) -> Option<f64> {
        self.sheet.cop().map(|sheet| self.cop / sheet - 1.0)
    }

    /// Anchored heat over the sheet's, less 1.
    pub fn heat_residual_frac(&self) -> f64 {
        self.heat_w / self.sheet.heat_w - 1.0
    }
}

impl Anchoring {
    /// The map anchored at points that lie on it. Points without power anchor the capacity alone.
    ///
    /// # Panics
    /// Without a point: nothing would tell the unit's size.
    pub fn of(map: &CycleMap, points: &[AnchorPoint]) -> Self {
        assert!(!points.is_empty(), "a map is anchored at one point or more");
        let place = |point: &AnchorPoint| coordinates(point.room_air_k, point.water_in_k);
        let heats: Vec<_> =
            points.iter().map(|point| (place(point), point.heat_w / point.on(map).capacity)).collect();
        let cops: Vec<_> = points
            .iter()
            .filter_map(|point| point.cop().map(|cop| (place(point), cop / point.on(map).cop)))
            .collect();
        let (capacity, cop) = (Correction::of_factors(&heats), Correction::of_factors(&cops));
        let bent = map.bent(
            |air_k, inlet_k| cop.slope_at(air_k, inlet_k),
            |air_k, inlet_k| capacity.slope_at(air_k, inlet_k),
        );
        let raw_capacity_w = heats[0].1;
        let (capacity_w, cop_factor) = (capacity.level_factor(&heats), cop.level_factor(&cops));
        let anchored = |sheet: &AnchorPoint| {
            let (raw, fitted) = (sheet.on(map), sheet.on(&bent));
            Anchored {
                sheet: *sheet,
                raw_cop: raw.cop,
                raw_heat_w: raw.capacity * raw_capacity_w,
                cop: fitted.cop * cop_factor,
                heat_w: fitted.capacity * capacity_w,
            }
        };
        let points = points.iter().map(anchored).collect();
        Self { map: bent, capacity_w, cop_factor, cop, capacity, points }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::heat_pump::Cycle;
    use approx::assert_relative_eq;

    fn degc(celsius: f64) -> f64 {
        celsius + ZERO_CELSIUS_K
    }

    fn point(room_air: f64, water_in: f64, water_out: f64, heat_w: f64, cop: Option<f64>) -> AnchorPoint {
        AnchorPoint {
            room_air_k: degc(room_air),
            water_in_k: degc(water_in),
            water_out_k: degc(water_out),
            heat_w,
            power_w: cop.map(|cop| heat_w / cop),
            frost_factor: 1.0,
        }
    }

    /// The anchored map at a point of its own.
    fn at(anchored: &Anchoring, room_air: f64, water_in: f64, water_out: f64) -> (f64, f64) {
        let point = anchored.map.at(degc(room_air), degc(water_in), water_out - water_in);
        (anchored.cop_factor * point.cop, anchored.capacity_w * point.capacity)
    }

    /// Four made-up exponents; the solution is that of an ordinary least-squares solver given the penalty as two more equations
    /// (`numpy.linalg.lstsq`, a general library). Tolerance: the printed digits.
    #[test]
    fn the_normal_equations_give_what_a_general_solver_gives() {
        let wanted = [((-0.8, 0.0), 0.12), ((0.6, 0.0), -0.05), ((-0.6, 1.3), 0.2), ((0.2, -0.3), 0.03)];
        let correction = Correction::fitted(&wanted);
        assert_relative_eq!(correction.level, 0.042_198_18, epsilon = 5e-9);
        assert_relative_eq!(correction.per_inlet, -0.114_046_93, epsilon = 5e-9);
        assert_relative_eq!(correction.per_air, 0.062_779_11, epsilon = 5e-9);
    }

    /// 1e-12: rounding. The point lies between the nodes of the map.
    #[test]
    fn one_point_is_reproduced_exactly_and_bends_nothing() {
        for cycle in Cycle::ALL {
            let map = CycleMap::of(cycle);
            let anchored = Anchoring::of(&map, &[point(7.3, 17.0, 63.5, 4500.0, Some(3.4))]);
            let (cop, heat_w) = at(&anchored, 7.3, 17.0, 63.5);
            assert_relative_eq!(cop, 3.4, max_relative = 1e-12);
            assert_relative_eq!(heat_w, 4500.0, max_relative = 1e-12);
            assert!(anchored.map == map);
            assert!(anchored.points[0].cop_residual_frac().is_some_and(|residual| residual.abs() < 1e-12));
            assert!(anchored.points[0].heat_residual_frac().abs() < 1e-12);
        }
    }

    #[test]
    fn without_a_power_the_map_keeps_its_own_cop() {
        let anchored = Anchoring::of(&CycleMap::of(Cycle::R290), &[point(7.0, 15.0, 55.0, 3000.0, None)]);
        assert_eq!(anchored.cop_factor, 1.0);
        assert_eq!(anchored.cop, Correction::default());
        assert_eq!(anchored.points[0].cop_residual_frac(), None);
        assert_eq!(anchored.points[0].cop, anchored.points[0].raw_cop);
    }

    /// The exponent is linear in inlet and air, so the nodes carry it everywhere between them, to the rounding of the products.
    #[test]
    fn the_bent_map_is_the_map_times_the_correction_between_the_nodes_too() {
        let map = CycleMap::of(Cycle::R744);
        let points = [
            point(7.0, 10.0, 60.0, 4500.0, Some(3.6)),
            point(7.0, 45.0, 55.0, 2600.0, Some(1.8)),
            point(20.0, 15.0, 60.0, 6000.0, Some(4.6)),
        ];
        let anchored = Anchoring::of(&map, &points);
        assert!(anchored.cop.per_inlet != 0.0 && anchored.capacity.per_air != 0.0);
        for (air, inlet, outlet) in
            [(3.3, 11.7, 58.0), (-1.2, 47.1, 55.5), (13.9, 28.8, 41.0), (24.0, 6.0, 60.0)]
        {
            let raw = map.at(degc(air), degc(inlet), outlet - inlet);
            let expected = |correction: &Correction, raw: f64| {
                raw * libm::exp(correction.level + correction.slope_at(degc(air), degc(inlet)))
            };
            let (cop, heat_w) = at(&anchored, air, inlet, outlet);
            assert_relative_eq!(cop, expected(&anchored.cop, raw.cop), max_relative = 1e-12);
            assert_relative_eq!(heat_w, expected(&anchored.capacity, raw.capacity), max_relative = 1e-12);
        }
    }

    /// Beyond the map its nearest edge is used, the correction of that edge included.
    #[test]
    fn beyond_the_map_the_correction_is_that_of_the_edge() {
        let points = [point(7.0, 10.0, 60.0, 4500.0, Some(3.6)), point(7.0, 45.0, 55.0, 2600.0, Some(1.8))];
        let anchored = Anchoring::of(&CycleMap::of(Cycle::R744), &points);
        assert_eq!(at(&anchored, 4.0, 62.0, 67.0), at(&anchored, 4.0, 55.0, 60.0));
        assert_eq!(at(&anchored, -9.0, 20.0, 50.0), at(&anchored, -2.0, 20.0, 50.0));
    }

    /// A unit that is the map times a factor linear in the exponent comes back nearly: the penalty takes a few per cent of the slope.
    #[test]
    fn two_far_points_come_back_within_one_per_cent() {
        let map = CycleMap::of(Cycle::R134a);
        let [cold, warm] = [(10.0, 60.0), (45.0, 55.0)].map(|(inlet, outlet): (f64, f64)| {
            let raw = map.at(degc(7.0), degc(inlet), outlet - inlet);
            point(
                7.0,
                inlet,
                outlet,
                4000.0 * raw.capacity,
                Some(raw.cop * if inlet > 30.0 { 0.8 } else { 1.0 }),
            )
        });
        let anchored = Anchoring::of(&map, &[cold, warm]);
        for residual in &anchored.points {
            let cop = residual.cop_residual_frac().expect("a power is given");
            assert!(cop.abs() > 1e-6 && cop.abs() < 0.01, "{cop}");
        }
        assert!(anchored.cop.per_inlet < 0.0);
    }

    /// The year takes a coil below freezing as frosted and multiplies by the frost factor; a line with defrosting in it has that
    /// factor already, so the running unit gives the line's values. 1e-12: rounding.
    #[test]
    fn a_line_with_defrosting_in_it_is_met_by_the_frosted_coil() {
        let dry = point(2.0, 10.0, 55.0, 3000.0, Some(2.5));
        let frosted = AnchorPoint { frost_factor: 0.9, ..dry };
        let map = CycleMap::of(Cycle::R290);
        let (cop, heat_w) = at(&Anchoring::of(&map, &[frosted]), 2.0, 10.0, 55.0);
        assert_relative_eq!(cop * 0.9, 2.5, max_relative = 1e-12);
        assert_relative_eq!(heat_w * 0.9, 3000.0, max_relative = 1e-12);
        assert_relative_eq!(at(&Anchoring::of(&map, &[dry]), 2.0, 10.0, 55.0).0, 2.5, max_relative = 1e-12);
    }
}

//! Cycle maps: COP and relative capacity against room air, water inlet and water rise.
//!
//! A map is a table of nodes calculated from a vapour-compression cycle with published fluid properties by `examples/cycle_maps`;
//! `docs/CYCLE_MAPS.md` says how. Between the nodes the logarithms of COP and capacity are interpolated linearly in the three axes; off the
//! nodes that reproduces the cycle within 0.5 % rms of COP where the water's log mean is 10 K or more above the room air. With less
//! lift the COP runs away, and a point may be several per cent off.

use crate::constants::{COIL_BELOW_AIR_DK, COIL_BELOW_AIR_TANK_COIL_DK, ZERO_CELSIUS_K};

const PA_PER_BAR: f64 = 1e5;

/// Room air of the nodes, °C.
pub const ROOM_AIR_DEGC: [f64; 7] = [-2.0, 2.0, 6.0, 10.0, 15.0, 20.0, 25.0];
/// Water inlet of the nodes, °C.
pub const WATER_IN_DEGC: [f64; 17] =
    [5.0, 10.0, 15.0, 20.0, 25.0, 27.5, 30.0, 32.5, 35.0, 37.5, 40.0, 42.5, 45.0, 47.5, 50.0, 52.5, 55.0];
/// Water rise of the nodes, K.
pub const WATER_RISE_DK: [f64; 12] = [2.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 52.5, 60.0];

/// How far the next inlet and the next room air are in the list of nodes.
const NEXT_INLET: usize = WATER_RISE_DK.len();
const NEXT_AIR: usize = WATER_IN_DEGC.len() * NEXT_INLET;
const NODES: usize = ROOM_AIR_DEGC.len() * WATER_IN_DEGC.len() * WATER_RISE_DK.len();

/// The cycles for which there is a map.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cycle {
    /// Carbon dioxide, transcritical, discharge up to 130 bar.
    R744,
    /// Carbon dioxide with a suction-line heat exchanger.
    R744SuctionExchanger,
    /// Carbon dioxide, discharge up to 110 bar.
    R744Low,
    /// R134a, 5 K subcooling.
    R134a,
    /// R134a, subcooling as deep as the pinch allows.
    R134aDeep,
    /// R134a, 5 K subcooling, in a coil around or in the tank.
    R134aTankCoil,
    /// Propane, 5 K subcooling.
    R290,
    /// Propane, subcooling as deep as the pinch allows.
    R290Deep,
    /// Propane, 5 K subcooling, in a coil around or in the tank.
    R290TankCoil,
    /// R1234yf, 5 K subcooling.
    R1234yf,
    /// R1234yf, subcooling as deep as the pinch allows.
    R1234yfDeep,
    /// R1234yf, 5 K subcooling, in a coil around or in the tank.
    R1234yfTankCoil,
    /// R32, 5 K subcooling.
    R32,
    /// R32, subcooling as deep as the pinch allows.
    R32Deep,
    /// R32, 5 K subcooling, in a coil around or in the tank.
    R32TankCoil,
    /// R410A, 5 K subcooling.
    R410A,
    /// R410A, subcooling as deep as the pinch allows.
    R410ADeep,
    /// R410A, 5 K subcooling, in a coil around or in the tank.
    R410ATankCoil,
}

impl Cycle {
    /// Every cycle.
    pub const ALL: [Cycle; 18] = [
        Cycle::R744,
        Cycle::R744SuctionExchanger,
        Cycle::R744Low,
        Cycle::R134a,
        Cycle::R134aDeep,
        Cycle::R134aTankCoil,
        Cycle::R290,
        Cycle::R290Deep,
        Cycle::R290TankCoil,
        Cycle::R1234yf,
        Cycle::R1234yfDeep,
        Cycle::R1234yfTankCoil,
        Cycle::R32,
        Cycle::R32Deep,
        Cycle::R32TankCoil,
        Cycle::R410A,
        Cycle::R410ADeep,
        Cycle::R410ATankCoil,
    ];

    /// Name of the map's file.
    pub fn file_name(self) -> &'static str {
        self.file().0
    }

    /// How far the coil is below the room's air at full output, K, in the calculated cycle.
    pub fn coil_below_air_dk(self) -> f64 {
        if self.tank_coil() { COIL_BELOW_AIR_TANK_COIL_DK } else { COIL_BELOW_AIR_DK }
    }

    /// Highest discharge pressure of the calculated cycle, Pa.
    pub fn highest_pressure_pa(self) -> f64 {
        let bar = match self {
            Cycle::R744 | Cycle::R744SuctionExchanger => 130.0,
            Cycle::R744Low => 110.0,
            Cycle::R134a
            | Cycle::R134aDeep
            | Cycle::R134aTankCoil
            | Cycle::R1234yf
            | Cycle::R1234yfDeep
            | Cycle::R1234yfTankCoil => 25.0,
            Cycle::R290 | Cycle::R290Deep | Cycle::R290TankCoil => 31.0,
            Cycle::R32
            | Cycle::R32Deep
            | Cycle::R32TankCoil
            | Cycle::R410A
            | Cycle::R410ADeep
            | Cycle::R410ATankCoil => 45.0,
        };
        bar * PA_PER_BAR
    }

    /// Discharge pressure from which the calculated cycle counts as being at its highest, Pa: 1.5 % below it.
    pub fn near_highest_pressure_pa(self) -> f64 {
        0.985 * self.highest_pressure_pa()
    }

    /// Discharge temperature above which oil and compressor suffer, K. Common practice, no source: 140 °C for carbon dioxide, 120 °C for the others.
    pub fn hottest_discharge_k(self) -> f64 {
        ZERO_CELSIUS_K + if self.carbon_dioxide() { 140.0 } else { 120.0 }
    }

    /// Whether the refrigerant is carbon dioxide.
    pub fn carbon_dioxide(self) -> bool {
        matches!(self, Cycle::R744 | Cycle::R744SuctionExchanger | Cycle::R744Low)
    }

    /// Whether the water is heated by a coil around or in the tank instead of a plate exchanger.
    pub fn tank_coil(self) -> bool {
        matches!(
            self,
            Cycle::R134aTankCoil
                | Cycle::R290TankCoil
                | Cycle::R1234yfTankCoil
                | Cycle::R32TankCoil
                | Cycle::R410ATankCoil
        )
    }

    fn file(self) -> (&'static str, &'static str) {
        macro_rules! map {
            ($name:literal) => {
                ($name, include_str!(concat!("maps/", $name)))
            };
        }
        match self {
            Cycle::R744 => map!("R744.csv"),
            Cycle::R744SuctionExchanger => map!("R744-suction-exchanger.csv"),
            Cycle::R744Low => map!("R744-110bar.csv"),
            Cycle::R134a => map!("R134a.csv"),
            Cycle::R134aDeep => map!("R134a-deep.csv"),
            Cycle::R134aTankCoil => map!("R134a-tank-coil.csv"),
            Cycle::R290 => map!("R290.csv"),
            Cycle::R290Deep => map!("R290-deep.csv"),
            Cycle::R290TankCoil => map!("R290-tank-coil.csv"),
            Cycle::R1234yf => map!("R1234yf.csv"),
            Cycle::R1234yfDeep => map!("R1234yf-deep.csv"),
            Cycle::R1234yfTankCoil => map!("R1234yf-tank-coil.csv"),
            Cycle::R32 => map!("R32.csv"),
            Cycle::R32Deep => map!("R32-deep.csv"),
            Cycle::R32TankCoil => map!("R32-tank-coil.csv"),
            Cycle::R410A => map!("R410A.csv"),
            Cycle::R410ADeep => map!("R410A-deep.csv"),
            Cycle::R410ATankCoil => map!("R410A-tank-coil.csv"),
        }
    }
}

/// One node of a map. The logarithms are stored because they are what is interpolated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Node {
    /// Natural logarithm of COP.
    pub ln_cop: f64,
    /// Natural logarithm of the relative capacity.
    pub ln_capacity: f64,
    /// Whether the cycle reaches this node; if not, the values are those of the last rise it reaches.
    pub reachable: bool,
}

/// Which edges of the map a point lies beyond.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Outside {
    /// Room air.
    pub room_air: bool,
    /// Water inlet.
    pub inlet: bool,
    /// Water rise.
    pub rise: bool,
    /// A node that was used cannot be reached by the cycle.
    pub unreachable: bool,
}

/// What the map says at a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MapPoint {
    /// Heat to water over compressor and fan power.
    pub cop: f64,
    /// Heat to water relative to room air 4 °C, water 10 to 55 °C.
    pub capacity: f64,
    /// Whether the nearest edge had to be used.
    pub outside: Outside,
    /// Whether the discharge gas may be hotter than [`Cycle::hottest_discharge_k`] or at the highest pressure: it is so at a node of
    /// the cell.
    pub strained: bool,
}

/// The gas that leaves the compressor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Discharge {
    /// Its temperature, K.
    pub temperature_k: f64,
    /// Its pressure, Pa.
    pub pressure_pa: f64,
}

/// A cycle map.
#[derive(Clone, PartialEq)]
pub struct CycleMap {
    cycle: Cycle,
    nodes: Box<[Node; NODES]>,
    discharges: Box<[Discharge; NODES]>,
    /// For each node whether it and the seven that make a cell with it upwards can all be reached.
    whole: Box<[bool; NODES]>,
    /// For the same cells whether a node has hot discharge gas or the highest pressure.
    strained: Box<[bool; NODES]>,
}

impl std::fmt::Debug for CycleMap {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_tuple("CycleMap").field(&self.cycle).finish()
    }
}

impl CycleMap {
    /// The map of a cycle.
    pub fn of(cycle: Cycle) -> Self {
        let (mut nodes, mut discharges) = (Vec::with_capacity(NODES), Vec::with_capacity(NODES));
        let mut last: Option<(Node, Discharge)> = None;
        for (index, line) in cycle.file().1.lines().filter(|line| !line.starts_with('#')).skip(1).enumerate()
        {
            let mut fields = line.split(',').skip(3).map(str::parse::<f64>);
            let mut next = || fields.next().and_then(Result::ok);
            if index % WATER_RISE_DK.len() == 0 {
                last = None;
            }
            let reached = match (next(), next(), next(), next(), next()) {
                (Some(cop), Some(capacity), Some(bar), Some(degc), Some(at_highest_pressure)) => {
                    // Carbon dioxide goes on at its highest pressure, with less heat; the others are stopped there.
                    let reachable = at_highest_pressure == 0.0 || cycle.carbon_dioxide();
                    let node = Node { ln_cop: libm::log(cop), ln_capacity: libm::log(capacity), reachable };
                    Some((
                        node,
                        Discharge { temperature_k: degc + ZERO_CELSIUS_K, pressure_pa: bar * PA_PER_BAR },
                    ))
                }
                _ => None,
            };
            let (node, discharge) = match (reached, last) {
                (Some(one), _) if one.0.reachable => one,
                (_, Some((node, discharge))) => (Node { reachable: false, ..node }, discharge),
                (Some(one), None) => one,
                (None, None) => panic!("every map has its smallest rise: tested for all cycles"),
            };
            last = Some((node, discharge));
            nodes.push(node);
            discharges.push(discharge);
        }
        let all_there = "every map has all nodes: tested for all cycles";
        let nodes: Box<[Node; NODES]> = nodes.into_boxed_slice().try_into().expect(all_there);
        let discharges: Box<[Discharge; NODES]> = discharges.into_boxed_slice().try_into().expect(all_there);
        let (mut whole, mut strained) = (Box::new([false; NODES]), Box::new([false; NODES]));
        for corner in 0..NODES {
            let up = [0, NEXT_INLET, NEXT_AIR, NEXT_AIR + NEXT_INLET];
            let corners = || up.into_iter().flat_map(|up| [corner + up, corner + up + 1]);
            whole[corner] = corners().all(|index| nodes.get(index).is_some_and(|node| node.reachable));
            strained[corner] = corners().any(|index| {
                discharges.get(index).is_some_and(|gas| {
                    gas.temperature_k > cycle.hottest_discharge_k()
                        || gas.pressure_pa > cycle.near_highest_pressure_pa()
                })
            });
        }
        Self { cycle, nodes, discharges, whole, strained }
    }

    /// The cycle this map belongs to.
    pub fn cycle(&self) -> Cycle {
        self.cycle
    }

    /// The node at the given positions of [`ROOM_AIR_DEGC`], [`WATER_IN_DEGC`] and [`WATER_RISE_DK`].
    pub fn node(&self, room_air: usize, water_in: usize, rise: usize) -> Node {
        self.nodes[(room_air * WATER_IN_DEGC.len() + water_in) * WATER_RISE_DK.len() + rise]
    }

    /// The map with these added to the logarithms of COP and relative capacity, each a function of room air and water inlet, K.
    pub fn bent(&self, ln_cop: impl Fn(f64, f64) -> f64, ln_capacity: impl Fn(f64, f64) -> f64) -> Self {
        let mut bent = self.clone();
        let places = ROOM_AIR_DEGC.iter().flat_map(|air| WATER_IN_DEGC.iter().map(move |inlet| (air, inlet)));
        for (nodes, (air, inlet)) in bent.nodes.chunks_exact_mut(WATER_RISE_DK.len()).zip(places) {
            let (air_k, inlet_k) = (air + ZERO_CELSIUS_K, inlet + ZERO_CELSIUS_K);
            for node in nodes {
                node.ln_cop += ln_cop(air_k, inlet_k);
                node.ln_capacity += ln_capacity(air_k, inlet_k);
            }
        }
        bent
    }

    /// The gas that leaves the compressor at room air, water inlet (K) and water rise (K difference), by the calculated cycle.
    ///
    /// Beyond the map its nearest edge is used.
    pub fn discharge_at(&self, room_air_k: f64, water_in_k: f64, rise_dk: f64) -> Discharge {
        let air = locate(&ROOM_AIR_DEGC, room_air_k - ZERO_CELSIUS_K);
        let inlet = locate(&WATER_IN_DEGC, water_in_k - ZERO_CELSIUS_K);
        let rise = locate(&WATER_RISE_DK, rise_dk);
        let (mut temperature_k, mut pressure_pa) = (0.0, 0.0);
        for corner in 0..8 {
            let [a, i, r] = [corner >> 2, (corner >> 1) & 1, corner & 1];
            let weight = air.weight(a) * inlet.weight(i) * rise.weight(r);
            let row = (air.cell + a) * WATER_IN_DEGC.len() + inlet.cell + i;
            let node = &self.discharges[row * WATER_RISE_DK.len() + rise.cell + r];
            temperature_k += weight * node.temperature_k;
            pressure_pa += weight * node.pressure_pa;
        }
        Discharge { temperature_k, pressure_pa }
    }

    /// Whether a node that the cycle cannot reach has a share in a place.
    fn needs_unreachable(&self, air: &Position, inlet: &Position, rise: &Position) -> bool {
        (0..8).any(|corner| {
            let [a, i, r] = [corner >> 2, (corner >> 1) & 1, corner & 1];
            let weight = air.weight(a) * inlet.weight(i) * rise.weight(r);
            weight > 0.0 && !self.node(air.cell + a, inlet.cell + i, rise.cell + r).reachable
        })
    }

    /// COP and relative capacity at room air, water inlet (K) and water rise (K difference).
    ///
    /// Beyond the map its nearest edge is used and flagged.
    pub fn at(&self, room_air_k: f64, water_in_k: f64, rise_dk: f64) -> MapPoint {
        let air = locate(&ROOM_AIR_DEGC, room_air_k - ZERO_CELSIUS_K);
        let inlet = locate(&WATER_IN_DEGC, water_in_k - ZERO_CELSIUS_K);
        let rise = locate(&WATER_RISE_DK, rise_dk);
        let corner = (air.cell * WATER_IN_DEGC.len() + inlet.cell) * WATER_RISE_DK.len() + rise.cell;
        let edge = |start: usize| {
            let [low, high] = &self.nodes[start..start + 2] else { unreachable!("two nodes were taken") };
            (
                low.ln_cop + rise.share * (high.ln_cop - low.ln_cop),
                low.ln_capacity + rise.share * (high.ln_capacity - low.ln_capacity),
            )
        };
        let face = |start: usize| {
            let (low, high) = (edge(start), edge(start + NEXT_INLET));
            (low.0 + inlet.share * (high.0 - low.0), low.1 + inlet.share * (high.1 - low.1))
        };
        let (low, high) = (face(corner), face(corner + NEXT_AIR));
        let ln_cop = low.0 + air.share * (high.0 - low.0);
        let ln_capacity = low.1 + air.share * (high.1 - low.1);
        let unreachable = !self.whole[corner] && self.needs_unreachable(&air, &inlet, &rise);
        MapPoint {
            cop: libm::exp(ln_cop),
            capacity: libm::exp(ln_capacity),
            outside: Outside { room_air: air.outside, inlet: inlet.outside, rise: rise.outside, unreachable },
            strained: self.strained[corner],
        }
    }
}

/// A position on an axis: the cell, the share of the way to its upper end, and whether the edge was used.
struct Position {
    cell: usize,
    share: f64,
    outside: bool,
}

impl Position {
    /// Weight of the cell's lower (0) or upper (1) end.
    fn weight(&self, end: usize) -> f64 {
        if end == 0 { 1.0 - self.share } else { self.share }
    }
}

fn locate(axis: &[f64], value: f64) -> Position {
    let last = axis.len() - 1;
    let cell = axis[1..last].partition_point(|&node| value >= node);
    let share = (value - axis[cell]) / (axis[cell + 1] - axis[cell]);
    Position { cell, share: share.clamp(0.0, 1.0), outside: value < axis[0] || value > axis[last] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn every_cycle_has_a_whole_map_and_returns_its_own_nodes() {
        for cycle in Cycle::ALL {
            let map = CycleMap::of(cycle);
            for (a, &air) in ROOM_AIR_DEGC.iter().enumerate() {
                for (i, &inlet) in WATER_IN_DEGC.iter().enumerate() {
                    for (r, &rise) in WATER_RISE_DK.iter().enumerate() {
                        let point = map.at(air + ZERO_CELSIUS_K, inlet + ZERO_CELSIUS_K, rise);
                        // 1e-12: the same numbers through one exponential, and Celsius that does not survive
                        // the addition of 273.15 to the last digit.
                        let node = map.node(a, i, r);
                        assert_relative_eq!(point.cop.ln(), node.ln_cop, epsilon = 1e-12);
                        assert_relative_eq!(point.capacity.ln(), node.ln_capacity, epsilon = 1e-12);
                    }
                }
            }
        }
    }

    #[test]
    fn beyond_the_map_the_nearest_edge_is_used_and_flagged() {
        let map = CycleMap::of(Cycle::R290);
        let beyond = map.at(ZERO_CELSIUS_K - 10.0, ZERO_CELSIUS_K + 3.0, 1.0);
        let edge = map.at(ZERO_CELSIUS_K - 2.0, ZERO_CELSIUS_K + 5.0, 2.0);
        assert_eq!((beyond.cop, beyond.capacity), (edge.cop, edge.capacity));
        assert_eq!(beyond.outside, Outside { room_air: true, inlet: true, rise: true, unreachable: false });
        assert_eq!(edge.outside, Outside::default());
    }

    #[test]
    fn an_outlet_the_cycle_cannot_reach_is_flagged() {
        let map = CycleMap::of(Cycle::R744);
        assert!(map.at(ZERO_CELSIUS_K + 25.0, ZERO_CELSIUS_K + 45.0, 50.0).outside.unreachable);
        assert!(!map.at(ZERO_CELSIUS_K + 4.0, ZERO_CELSIUS_K + 10.0, 50.0).outside.unreachable);
    }
}

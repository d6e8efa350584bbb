//! U values of walls, floors and ceilings from their layers, and of floors and walls in the ground.
//!
//! A cold room turns a house's usual directions round: heat flows into it, so it comes down through the ceiling and up
//! through the floor.

use std::f64::consts::PI;

/// How a surface lies, seen from the cold room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lies {
    /// Heat flows across.
    Wall,
    /// Heat flows down into the room.
    Ceiling,
    /// Heat flows up into the room.
    Floor,
}

/// What is on a surface's other side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OtherSide {
    /// Outdoor air.
    Outdoors,
    /// Still air of a neighbour space.
    Space,
    /// Soil.
    Ground,
}

/// Film between wind and an outer surface, m2 K/W.
///
/// ISO 6946:2017, 6.8, table 7. Second hand: as quoted in public documentation of R values and in a Spanish code source.
pub const OUTDOOR_FILM_M2_K_PER_W: f64 = 0.04;

impl Lies {
    /// Film between still air and the surface, m2 K/W: 0.13 across, 0.17 where heat flows down, 0.10 where it flows up.
    ///
    /// # Source
    /// ISO 6946:2017, 6.8, table 7. Second hand: as [`OUTDOOR_FILM_M2_K_PER_W`].
    pub fn film_m2_k_per_w(self) -> f64 {
        match self {
            Lies::Wall => 0.13,
            Lies::Ceiling => 0.17,
            Lies::Floor => 0.10,
        }
    }
}

/// A layer of one material, or of one between studs of another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Thickness, m.
    pub thickness_m: f64,
    /// Conductivity, W/(m K), above 0.
    pub conductivity_w_per_m_k: f64,
    /// What interrupts it over its whole thickness, if anything.
    pub framing: Option<Framing>,
}

/// Studs, joists or battens that interrupt a layer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Framing {
    /// Share of the area, fraction, from 0 to 1.
    pub share_frac: f64,
    /// Conductivity, W/(m K), above 0.
    pub conductivity_w_per_m_k: f64,
}

impl Layer {
    /// Its parts side by side: share of the area and conductivity.
    fn parts(&self) -> impl Iterator<Item = (f64, f64)> {
        let framed = self.framing.map(|framing| (framing.share_frac, framing.conductivity_w_per_m_k));
        let rest = 1.0 - framed.map_or(0.0, |(share, _)| share);
        [Some((rest, self.conductivity_w_per_m_k)), framed].into_iter().flatten()
    }
}

/// Most framed layers of one surface: their sections double with each.
pub const MOST_FRAMED_LAYERS: usize = 6;

/// Highest ratio of upper to lower limit up to which the combined method holds.
///
/// # Source
/// From memory, to be verified: ISO 6946:2017, 6.7.2.1. It also keeps out metal through insulation, for which the method is not made.
pub const MOST_LIMITS_RATIO: f64 = 1.5;

/// Between what two limits the total resistance of layers with framing lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ResistanceLimits {
    /// Heat that only flows straight through, m2 K/W.
    pub upper_m2_k_per_w: f64,
    /// Every plane parallel to the surface at one temperature, m2 K/W.
    pub lower_m2_k_per_w: f64,
}

impl ResistanceLimits {
    /// Limits of layers and both films together.
    ///
    /// Upper: `1/R' = sum f_q/R_q` over the sections q that lie side by side, each with the resistance `R_q` of what lies behind one another there.
    /// Lower: `R'' = R_si + sum d_j/(sum f l) + R_se`. Framings of different layers are taken to cross each other: the share of
    /// a section is the product of its shares.
    ///
    /// # Panics
    /// With more than [`MOST_FRAMED_LAYERS`] framed layers; the scenario's reader lets none through.
    /// # Source
    /// ISO 6946:2017, 6.7.2 (combined method). From memory, to be verified; the method itself Derived here: the two limits are those of heat that flows only straight
    /// through, and of heat that spreads freely along each layer.
    pub fn iso_6946(layers: &[Layer], films_m2_k_per_w: f64) -> Self {
        let framed = layers.iter().filter(|layer| layer.framing.is_some()).count();
        assert!(framed <= MOST_FRAMED_LAYERS, "{framed} framed layers");
        let mut sections = vec![(1.0, films_m2_k_per_w)];
        let mut lower_m2_k_per_w = films_m2_k_per_w;
        for layer in layers {
            let through = |(share, resistance): (f64, f64)| {
                layer.parts().map(move |(part, l)| (share * part, resistance + layer.thickness_m / l))
            };
            sections = sections.into_iter().flat_map(through).collect();
            lower_m2_k_per_w += layer.thickness_m / layer.parts().map(|(share, l)| share * l).sum::<f64>();
        }
        let straight: f64 = sections.iter().map(|(share, resistance)| share / resistance).sum();
        Self { upper_m2_k_per_w: 1.0 / straight, lower_m2_k_per_w }
    }

    /// Their mean, m2 K/W, which the standard takes as the resistance.
    ///
    /// # Source
    /// As [`ResistanceLimits::iso_6946`].
    pub fn mean_m2_k_per_w(&self) -> f64 {
        0.5 * (self.upper_m2_k_per_w + self.lower_m2_k_per_w)
    }

    /// How much of the mean the resistance may be off at most, fraction: half the distance of the limits.
    ///
    /// # Source
    /// As [`ResistanceLimits::iso_6946`].
    pub fn most_error_frac(&self) -> f64 {
        0.5 * (self.upper_m2_k_per_w - self.lower_m2_k_per_w) / self.mean_m2_k_per_w()
    }

    /// Whether the method holds: the upper limit is at most [`MOST_LIMITS_RATIO`] times the lower.
    pub fn hold(&self) -> bool {
        self.upper_m2_k_per_w <= MOST_LIMITS_RATIO * self.lower_m2_k_per_w
    }
}

/// Films on both sides of a surface together, m2 K/W.
///
/// The film on the far side is that of wind outdoors, that of still air toward a neighbour space (the same as inside: the heat flows the same
/// way on both sides), and none toward soil.
pub fn films_m2_k_per_w(lies: Lies, beyond: OtherSide) -> f64 {
    let far_film = match beyond {
        OtherSide::Outdoors => OUTDOOR_FILM_M2_K_PER_W,
        OtherSide::Space => lies.film_m2_k_per_w(),
        OtherSide::Ground => 0.0,
    };
    lies.film_m2_k_per_w() + far_film
}

/// U value, W/(m2 K), of layers from the room's air to the air beyond, or to the soil.
///
/// Without framing the two limits of the resistance are one: films and layers one behind the other. Fixings are left out: they are point bridges.
///
/// # Source
/// ISO 6946:2017, 6.7 and 6.8. Second hand: as [`OUTDOOR_FILM_M2_K_PER_W`]; framing as [`ResistanceLimits::iso_6946`].
pub fn u_value_iso_6946_w_per_m2_k(layers: &[Layer], lies: Lies, beyond: OtherSide) -> f64 {
    1.0 / ResistanceLimits::iso_6946(layers, films_m2_k_per_w(lies, beyond)).mean_m2_k_per_w()
}

/// Soil as ISO 13370 sorts it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Soil {
    /// Clay or silt.
    Clay,
    /// Sand or gravel.
    Sand,
    /// Rock.
    Rock,
}

impl Soil {
    /// Conductivity, W/(m K).
    ///
    /// # Source
    /// ISO 13370. Second hand: a Norwegian table of guide values in a public data file.
    pub fn conductivity_w_per_m_k(self) -> f64 {
        match self {
            Soil::Clay => 1.5,
            Soil::Sand => 2.0,
            Soil::Rock => 3.5,
        }
    }

    /// Depth by which the year's swing has fallen to 1/e, m.
    ///
    /// # Source
    /// As [`Soil::conductivity_w_per_m_k`].
    pub fn penetration_m(self) -> f64 {
        match self {
            Soil::Clay => 2.2,
            Soil::Sand => 3.2,
            Soil::Rock => 4.2,
        }
    }
}

/// A floor in contact with the ground all over, on it or below it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroundFloor {
    /// Area, m2.
    pub area_m2: f64,
    /// Length of its edge toward outdoors, m.
    pub perimeter_m: f64,
    /// Thickness of the outer walls at the ground, m.
    pub wall_m: f64,
    /// Depth of the floor below the ground outside, m; 0 for a slab on it.
    pub depth_m: f64,
    /// Soil's conductivity, W/(m K).
    pub soil_w_per_m_k: f64,
    /// Films inside and outdoors and the floor's layers together, m2 K/W.
    pub resistance_m2_k_per_w: f64,
}

impl GroundFloor {
    /// Characteristic dimension: area over half the perimeter, m.
    pub fn characteristic_m(&self) -> f64 {
        self.area_m2 / (0.5 * self.perimeter_m)
    }

    /// Thickness of soil with the resistance of wall, films and layers, m.
    pub fn equivalent_m(&self) -> f64 {
        self.wall_m + self.soil_w_per_m_k * self.resistance_m2_k_per_w
    }

    /// U value between the room and the outdoor air's mean of the year, W/(m2 K).
    ///
    /// `2 l/(pi B + d) ln(pi B/d + 1)` with `d = d_t + z/2` below B, else `l/(0.457 B + d)`.
    ///
    /// # Source
    /// ISO 13370, clauses 8.1 and 9.3.2. Second hand: several public calculation sources naming it.
    pub fn u_value_iso_13370_w_per_m2_k(&self) -> f64 {
        let (b_m, d_m) = (self.characteristic_m(), self.equivalent_m() + 0.5 * self.depth_m);
        let soil = self.soil_w_per_m_k;
        if d_m < b_m {
            2.0 * soil / (PI * b_m + d_m) * libm::log(PI * b_m / d_m + 1.0)
        } else {
            soil / (0.457 * b_m + d_m)
        }
    }
}

/// How much later than the outdoor air a floor feels the seasons, months.
///
/// From memory, to be verified: ISO 13370:2007, annex A, table A.1: a floor without edge insulation, or with it inside.
pub const SLAB_LAG_MONTHS: f64 = 1.0;

impl GroundFloor {
    /// Share of the outdoor air's yearly swing that comes through, 0 to 1, relative to the heat that a steady difference drives.
    ///
    /// `H_pe/(A U)` with `H_pe = 0.37 P l exp(-z/delta) ln(delta/d_t + 1)`, delta the soil's penetration depth. The equation is of a strip along the edge; on a floor
    /// narrower than the strip it gives more than 1, and 1 is kept: a wave never passes conducting soil better than a steady difference does.
    ///
    /// # Source
    /// From memory, to be verified: ISO 13370:2007, annex A, external periodic coefficient of a slab and of a basement's floor.
    pub fn swing_iso_13370_frac(&self, penetration_m: f64) -> f64 {
        let edge_w_per_k = 0.37
            * self.perimeter_m
            * self.soil_w_per_m_k
            * libm::exp(-self.depth_m / penetration_m)
            * libm::log(penetration_m / self.equivalent_m() + 1.0);
        (edge_w_per_k / (self.area_m2 * self.u_value_iso_13370_w_per_m2_k())).min(1.0)
    }
}

/// A basement's wall below ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BasementWall {
    /// Depth of its foot below ground, m, above 0: what is above ground is another surface.
    pub depth_m: f64,
    /// Resistance of its layers and both films, m2 K/W.
    pub resistance_m2_k_per_w: f64,
    /// Equivalent thickness of the floor at its foot, m; see [`GroundFloor::equivalent_m`].
    pub floor_equivalent_m: f64,
    /// Soil's conductivity, W/(m K).
    pub soil_w_per_m_k: f64,
}

impl BasementWall {
    /// Thickness of soil with the resistance of wall and films, m.
    pub fn equivalent_m(&self) -> f64 {
        self.soil_w_per_m_k * self.resistance_m2_k_per_w
    }

    /// U value between the room and the outdoor air's mean of the year, W/(m2 K).
    ///
    /// `2 l/(pi z) (1 + d_t/2/(d_t + z)) ln(z/d_w + 1)`, `d_w = l R` with the resistance of the wall and both films; `d_w` stands
    /// for the floor's `d_t` where it is smaller.
    ///
    /// # Source
    /// ISO 13370, clause 9.3.3. Second hand: a Spanish code source naming UNE-EN ISO 13370:2010 and a Bulgarian one.
    pub fn u_value_iso_13370_w_per_m2_k(&self) -> f64 {
        let (z_m, wall_m) = (self.depth_m, self.equivalent_m());
        let floor_m = self.floor_equivalent_m.min(wall_m);
        2.0 * self.soil_w_per_m_k / (PI * z_m)
            * (1.0 + 0.5 * floor_m / (floor_m + z_m))
            * libm::log(z_m / wall_m + 1.0)
    }

    /// Share of the outdoor air's yearly swing that comes through, 0 to 1, relative to the heat that a steady difference drives.
    ///
    /// Heat reaches a strip of the wall at a depth y along a quarter circle of soil, `l/(d_w + pi y/2)`; the swing that far down has fallen to `exp(-y/delta)`. The share
    /// is the mean of the latter over the strips, weighted by the former.
    ///
    /// # Arguments
    /// penetration_m: depth delta by which the swing has fallen to 1/e, above 0; see [`Soil::penetration_m`].
    ///
    /// # Source
    /// Derived here. The external periodic coefficient of ISO 13370:2007, annex A (From memory, to be verified), is a twelfth lower for a whole storey, but falls with less depth,
    /// where the swing comes through whole.
    pub fn swing_frac(&self, penetration_m: f64) -> f64 {
        /// Pairs of strips; 1e-6 is reached with some 30 of them at the thinnest wall.
        const PAIRS: usize = 200;
        let step_m = self.depth_m / (2 * PAIRS) as f64;
        let (mut passed, mut swung) = (0.0, 0.0);
        for index in 0..=2 * PAIRS {
            // Simpson's rule.
            let weight = match index {
                0 => 1.0,
                _ if index == 2 * PAIRS => 1.0,
                _ if index % 2 == 1 => 4.0,
                _ => 2.0,
            };
            let depth_m = index as f64 * step_m;
            let conductance = weight / (self.equivalent_m() + 0.5 * PI * depth_m);
            passed += conductance;
            swung += conductance * libm::exp(-depth_m / penetration_m);
        }
        swung / passed
    }
}

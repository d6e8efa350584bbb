//! The machines of which there is a map.

use std::sync::Arc;

use larderloop::heat_pump::Cycle;

use crate::cycle::{Compressor, Exchanger, Liquid, Machine, isobars};
use crate::fluid::{Fluid, Isobar};

/// A plate or tube-in-tube exchanger with a circulator. Common practice, no source.
const PLATE: Exchanger = Exchanger { pinch_dk: 4.0, approach_dk: 7.0 };
/// A coil around or in the tank. Derived here: with these the cycle meets the measured mean COP of coil-heated tanks.
const TANK_COIL: Exchanger = Exchanger { pinch_dk: 12.0, approach_dk: 10.0 };

/// What a map is made of.
#[derive(Debug, Clone, Copy)]
pub struct Recipe {
    pub cycle: Cycle,
    pub refrigerant: &'static str,
    pub compressor: Compressor,
    pub exchanger: Exchanger,
    pub liquid: Liquid,
    /// Highest discharge pressure, bar. Common practice, no source.
    pub highest_bar: f64,
}

/// The recipe of a cycle's map.
pub fn recipe(cycle: Cycle) -> Recipe {
    let (refrigerant, highest_bar) = match cycle {
        Cycle::R744 | Cycle::R744SuctionExchanger => ("R744", 130.0),
        Cycle::R744Low => ("R744", 110.0),
        Cycle::R134a | Cycle::R134aDeep | Cycle::R134aTankCoil => ("R134a", 25.0),
        Cycle::R290 | Cycle::R290Deep | Cycle::R290TankCoil => ("R290", 31.0),
        Cycle::R1234yf | Cycle::R1234yfDeep | Cycle::R1234yfTankCoil => ("R1234yf", 25.0),
        Cycle::R32 | Cycle::R32Deep | Cycle::R32TankCoil => ("R32", 45.0),
        Cycle::R410A | Cycle::R410ADeep | Cycle::R410ATankCoil => ("R410A", 45.0),
    };
    let liquid = match cycle {
        Cycle::R744SuctionExchanger => Liquid::SuctionExchanger,
        Cycle::R744
        | Cycle::R744Low
        | Cycle::R134aDeep
        | Cycle::R290Deep
        | Cycle::R1234yfDeep
        | Cycle::R32Deep
        | Cycle::R410ADeep => Liquid::Deep,
        _ => Liquid::Ordinary,
    };
    Recipe {
        cycle,
        refrigerant,
        compressor: if refrigerant == "R744" { Compressor::Transcritical } else { Compressor::Subcritical },
        exchanger: if cycle.tank_coil() { TANK_COIL } else { PLATE },
        liquid,
        highest_bar,
    }
}

/// A refrigerant and its isobars up to a highest pressure.
struct Made {
    refrigerant: &'static str,
    highest_bar: f64,
    fluid: Arc<Fluid>,
    isobars: Arc<Vec<Isobar>>,
}

/// Refrigerants and their isobars, each made once.
#[derive(Default)]
pub struct Store {
    made: Vec<Made>,
}

impl Store {
    /// The machine of a recipe.
    pub fn machine(&mut self, recipe: &Recipe) -> Machine {
        let Recipe { refrigerant, highest_bar, .. } = *recipe;
        let same = |made: &Made| made.refrigerant == refrigerant && made.highest_bar == highest_bar;
        let index = self.made.iter().position(same).unwrap_or_else(|| {
            let fluid = Fluid::named(refrigerant);
            let isobars = Arc::new(isobars(&fluid, highest_bar * 1e5));
            self.made.push(Made { refrigerant, highest_bar, fluid: Arc::new(fluid), isobars });
            self.made.len() - 1
        });
        let made = &self.made[index];
        Machine {
            fluid: Arc::clone(&made.fluid),
            compressor: recipe.compressor,
            exchanger: recipe.exchanger,
            liquid: recipe.liquid,
            isobars: Arc::clone(&made.isobars),
        }
    }
}

/// Capacity is relative to this: room air, water in and out, °C.
pub const REFERENCE_DEGC: (f64, f64, f64) = (4.0, 10.0, 55.0);

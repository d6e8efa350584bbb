//! Fans and air conditioner of the plain program, written from `docs/MODEL.md` section 7c: by halving where the engine solves.

use super::{interpolate, moist_air_kg_m3, saturated_at_coil};
use larderloop::plant::{AirCooled, HeatPump, OutdoorFans};

/// Specific and latent heat as in `docs/MODEL.md` section 2.
const AIR_J_PER_KG_K: f64 = 1006.0;
const LATENT_J_PER_KG: f64 = 2.4914e6;
/// Assumptions of the cycle maps: approach, shell loss and fan.
const COIL_DK: f64 = 7.0;
const SHELL: f64 = 0.10;
const FAN: f64 = 0.025;
/// The condenser of `docs/MODEL.md` section 7c.
const CONDENSER_FARTHER_DK: f64 = 4.0;
const CONDENSER_RISE_DK: f64 = 10.0;

/// Air on both sides.
#[derive(Debug, Clone, Copy)]
pub struct Airs {
    pub room_k: f64,
    pub humidity: f64,
    pub outdoor_k: f64,
    pub pressure_pa: f64,
}

/// What the air conditioner takes from the air at its surface, what its compressor draws, and how cold the surface is.
#[derive(Debug, Clone, Copy)]
pub struct Cooled {
    pub surface_w: f64,
    pub compressor_w: f64,
    pub coil_k: f64,
}

/// The air conditioner with a share of the heat that frost leaves: its surface is sought by halving, its condenser's share of the
/// rated heat by putting it in again.
pub fn cooled(pump: &HeatPump, unit: &AirCooled, airs: Airs, keeps: f64) -> Cooled {
    let at = |coil_k: f64, share: f64| {
        let (ln_cop, ln_capacity) = interpolate(
            &pump.map,
            coil_k + COIL_DK,
            airs.outdoor_k + CONDENSER_FARTHER_DK * share,
            CONDENSER_RISE_DK * share,
        );
        let heat = libm::exp(ln_capacity);
        let power = heat / libm::exp(ln_cop);
        let compressor = (power - FAN * heat) / (1.0 - FAN * (1.0 - SHELL));
        let taken_up = heat - (1.0 - SHELL) * compressor;
        (keeps * pump.capacity_w * taken_up, pump.capacity_w * compressor / pump.cop_factor)
    };
    let settled = |coil_k: f64| {
        // The share moves the heat by a tenth of itself.
        let mut share = 1.0;
        for _ in 0..5 {
            let (surface_w, compressor_w) = at(coil_k, share);
            share = (surface_w + compressor_w) / unit.rated_heat_w;
        }
        at(coil_k, share)
    };
    let given_w = |coil_k: f64| {
        let excess = (airs.humidity - saturated_at_coil(coil_k, airs.pressure_pa)).max(0.0);
        unit.contact_kg_s * (AIR_J_PER_KG_K * (airs.room_k - coil_k) + LATENT_J_PER_KG * excess)
    };
    let (mut low_k, mut high_k) = (airs.room_k - 60.0, airs.room_k);
    for _ in 0..24 {
        let coil_k = 0.5 * (low_k + high_k);
        if given_w(coil_k) > settled(coil_k).0 { low_k = coil_k } else { high_k = coil_k }
    }
    let (surface_w, compressor_w) = settled(low_k);
    Cooled { surface_w, compressor_w, coil_k: low_k }
}

/// Dry outdoor air that the fans blow in, kg/s.
pub fn blown_kg_s(fans: &OutdoorFans, room_k: f64, outdoor_k: f64, humidity: f64, pressure_pa: f64) -> f64 {
    let dry_kg_m3 = moist_air_kg_m3(outdoor_k, humidity, pressure_pa) / (1.0 + humidity);
    let share = if fans.mixes && outdoor_k < fans.coldest_k {
        (room_k - fans.coldest_k) / (room_k - outdoor_k)
    } else {
        1.0
    };
    fans.flow_m3_s * dry_kg_m3 * share.clamp(0.0, 1.0)
}

/// Whether outdoor air may be blown in.
pub fn may_blow(fans: &OutdoorFans, room_k: f64, outdoor_k: f64, blowing: bool) -> bool {
    let margin_dk = if blowing { fans.margin_dk / 2.0 } else { fans.margin_dk };
    let not_too_cold = if fans.mixes {
        room_k > fans.coldest_k || outdoor_k >= fans.coldest_k
    } else {
        outdoor_k >= fans.coldest_k
    };
    room_k - outdoor_k >= margin_dk && not_too_cold
}

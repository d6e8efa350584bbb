//! Ways of cooling that give the room's heat to the outdoor air instead of to water.

/// Fans that blow outdoor air into the room while the thermostat calls and the outdoor air is cold enough; as much leaves through
/// dampers that are tight otherwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutdoorFans {
    /// Air that they move, m3/s.
    pub flow_m3_s: f64,
    /// Electric power, W; all of it ends in the air that they blow in.
    pub power_w: f64,
    /// They start in outdoor air colder than the room's by this, K, and go on until half of it is left.
    pub margin_dk: f64,
    /// Coldest air that they may blow in, K.
    pub coldest_k: f64,
    /// Whether colder outdoor air is mixed with the room's own until it is as warm as that; else the fans rest.
    pub mixes: bool,
    /// The cooler helps once the thermostat's probe is so far above its switching-on point in spite of the fans, K.
    pub helped_from_dk: f64,
}

impl OutdoorFans {
    /// Share of the air they move that comes from outdoors.
    pub fn outdoor_share(&self, room_air_k: f64, outdoor_k: f64) -> f64 {
        if !self.mixes || outdoor_k >= self.coldest_k {
            return 1.0;
        }
        ((room_air_k - self.coldest_k) / (room_air_k - outdoor_k)).clamp(0.0, 1.0)
    }

    /// Whether outdoor air of this temperature may be blown into the room's, K; `running`: whether it is being done.
    pub fn may_blow(&self, room_air_k: f64, outdoor_k: f64, running: bool) -> bool {
        let margin_dk = if running { 0.5 * self.margin_dk } else { self.margin_dk };
        outdoor_k <= room_air_k - margin_dk
            && (outdoor_k >= self.coldest_k || (self.mixes && room_air_k > self.coldest_k))
    }
}

/// The air side of a room air conditioner: its condenser stands in the outdoor air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirCooled {
    /// Dry air that comes as cold and as dry as the evaporator's surface, kg/s; the rest of the airflow passes it by.
    pub contact_kg_s: f64,
    /// Heat that the condenser gives off at the rated point, W.
    pub rated_heat_w: f64,
    /// Fan power while it runs or thaws, W, indoor and outdoor side together.
    pub fan_w: f64,
    /// The part of it that stays in the room, W.
    pub fan_inside_w: f64,
}

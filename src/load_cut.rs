//! What could be done about the room's load, to be tried through the year.

use uom::si::f64::{Ratio, TemperatureInterval};
use uom::si::{ratio::ratio, temperature_interval};

use crate::change::Change;
use crate::household::Household;

/// How many of the surfaces that lose most are tried.
const SURFACES: usize = 3;
/// U value of a surface with twice its insulation, as a share of what it was. Common practice, no source: the films count for little.
const TWICE_INSULATED: f64 = 0.5;
/// Share of the leaks that sealing leaves. Common practice, no source.
const SEALED: f64 = 0.5;
/// What a curtain that is kept in order stops. Second hand: handbooks give 85 to 95 % when new; that it wears is common practice, no source.
const CURTAIN_FRAC: f64 = 0.75;
/// Share of the openings that a list at the door leaves. Common practice, no source.
const FEWER_OPENINGS: f64 = 0.5;
/// How much warmer the room may be set, K.
const WARMER_DK: f64 = 1.0;
/// Air changes an hour below which there is nothing to seal.
const TIGHT_PER_H: f64 = 0.05;

/// Changes that would lower what has to be cooled away; each is possible, whether it helps is for the year to say.
pub fn changes(household: &Household) -> Vec<Change> {
    let room = &household.room;
    let mut surfaces: Vec<_> = room.surfaces.iter().collect();
    let ua = |surface: &crate::household::RoomSurface| surface.area.value * surface.u_value.value;
    surfaces.sort_by(|one, other| ua(other).total_cmp(&ua(one)));
    let mut changes: Vec<Change> = surfaces
        .iter()
        .take(SURFACES)
        .map(|surface| Change::SurfaceUTimes { surface: Some(surface.name.clone()), factor: TWICE_INSULATED })
        .collect();
    if room.leakage_changes_per_hour > TIGHT_PER_H {
        changes.push(Change::Leakage(SEALED * room.leakage_changes_per_hour));
    }
    let opened = |door: &crate::household::RoomDoor| door.most_openings_per_day() > 0;
    if room.doors.iter().any(|door| opened(door) && door.curtain.value < CURTAIN_FRAC) {
        changes.push(Change::StripCurtain(Ratio::new::<ratio>(CURTAIN_FRAC)));
    }
    if room.doors.iter().any(opened) {
        changes.push(Change::DoorOpeningsTimes(FEWER_OPENINGS));
    }
    let warmer =
        household.thermostat.set + TemperatureInterval::new::<temperature_interval::kelvin>(WARMER_DK);
    if warmer + household.thermostat.band / 2.0 <= room.warm_limit {
        changes.push(Change::ThermostatSet(warmer));
    }
    changes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plant::example::household;

    #[test]
    fn what_there_is_can_be_changed_and_each_change_is_possible() {
        let mut home = household();
        let all = changes(&home);
        assert!(all.len() >= 3, "{all:?}");
        for change in &all {
            change.apply(&home).unwrap_or_else(|error| panic!("{error}"));
        }
        home.room.doors.clear();
        home.room.leakage_changes_per_hour = 0.0;
        home.room.warm_limit = home.thermostat.set;
        assert!(changes(&home).iter().all(|change| matches!(change, Change::SurfaceUTimes { .. })));
    }
}

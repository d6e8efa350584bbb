//! What the household has for the safety of the room, its food and its people.

/// An alarm of the room that does not depend on the thermostat or the cooler.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RoomAlarm {
    /// None.
    None,
    /// When it gets too warm.
    TooWarm,
    /// When it gets too cold.
    TooCold,
    /// Both.
    Both,
}

impl RoomAlarm {
    /// Whether it tells of a room that gets too warm.
    pub fn warm(self) -> bool {
        matches!(self, RoomAlarm::TooWarm | RoomAlarm::Both)
    }

    /// Whether it tells of a room that gets too cold.
    pub fn cold(self) -> bool {
        matches!(self, RoomAlarm::TooCold | RoomAlarm::Both)
    }
}

/// What the household says about it; `None` where it says nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Safeguards {
    /// Whether every door of the room opens from inside, locked or not.
    pub opens_from_inside: Option<bool>,
    /// Alarm of the room.
    pub alarm: Option<RoomAlarm>,
    /// Whether milk, meat, fish, eggs or cooked food are kept there too.
    pub perishable: Option<bool>,
}

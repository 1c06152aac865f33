//! The room that pieces are made in.

use crate::climate_log::ClimateLog;

/// Warmth, damp and air of the room.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    /// How warm and damp it is, by day and night.
    pub climate: Climate,
    /// Volume, m³.
    pub volume_m3: f64,
    /// How often an hour its air is replaced by fresh air.
    pub air_changes_per_h: f64,
    /// Both of these were typed, and not taken as usual.
    pub air_stated: bool,
}

/// How warm and damp a room is.
#[derive(Debug, Clone, PartialEq)]
pub enum Climate {
    /// The same always.
    Constant(Air),
    /// Warmest at 15:00 and coldest at 05:00.
    DayNight {
        /// At 15:00.
        day: Air,
        /// At 05:00.
        night: Air,
    },
    /// As a logger measured it.
    Log(ClimateLog),
}

/// Air at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Temperature, °C.
    pub temperature_c: f64,
    /// Relative humidity, %.
    pub humidity_pct: f64,
}

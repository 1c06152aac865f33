//! The room that pieces are made in, as it is typed.

use crate::file::scalars::{FileName, Share, Space, Temperature};
use schemars::JsonSchema;
use serde::Deserialize;

/// Warmth, damp and air of the room.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RoomFile {
    /// Temperature all day and night; left out without `day` and `log`, that of
    /// the resin's sheet, `sheet_at`.
    pub temperature: Option<Temperature>,
    /// Humidity all day and night; left out without `day_humidity` and `log`, 50 %.
    pub humidity: Option<Share>,
    /// Temperature at its warmest, 15:00.
    pub day: Option<Temperature>,
    /// Temperature at its coldest, 05:00.
    pub night: Option<Temperature>,
    /// Humidity at 15:00.
    pub day_humidity: Option<Share>,
    /// Humidity at 05:00.
    pub night_humidity: Option<Share>,
    /// A table of what a logger measured, beside this file: columns `time`, `temperature_c` or
    /// `temperature_f`, and `humidity_pct`.
    pub log: Option<FileName>,
    /// Volume of the room; left out, 30 m3.
    pub volume: Option<Space>,
    /// How often an hour its air is replaced by fresh air; left out, 0.5.
    #[schemars(range(min = 0.0, max = 100.0))]
    pub air_changes_per_h: Option<f64>,
}

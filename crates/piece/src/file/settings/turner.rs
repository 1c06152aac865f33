//! The turner as it is typed.

use crate::file::scalars::{Angle, Share};
use schemars::JsonSchema;
use serde::Deserialize;

/// What turns the cup, its axis level, while a coat sets.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TurnerFile {
    /// Turns a minute; left out, 6. A turner that stands still holds no coat.
    // Two minutes for a turn are the slowest that still counts as turning (our own choice).
    #[schemars(range(min = 0.5, max = 60.0))]
    pub rpm: Option<f64>,
    /// How far the axis is out of level; left out, 0.2 deg.
    pub out_of_level: Option<Angle>,
    /// Share of the greatest film that the turner can carry which counts as safe; left out, 60 %.
    pub share: Option<Share>,
}

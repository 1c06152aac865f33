//! What turns a cup, its axis level, while a coat sets.

/// A turner as it stands in the studio.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turner {
    /// Turns a minute; more than 0.
    pub rpm: f64,
    /// How far its axis is out of level, radians.
    pub out_of_level_rad: f64,
    /// Share of the greatest film that it can carry which counts as safe; more than 0, at most 1.
    pub share: f64,
}

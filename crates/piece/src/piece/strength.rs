//! A strength of a design: how much of each zone of stones it keeps.

/// One strength that a piece offers beside the whole design.
#[derive(Debug, Clone, PartialEq)]
pub struct Strength {
    /// Its name, unique in the piece.
    pub name: String,
    /// Zones of stones (by index into [`crate::Piece::zones`]) with the share of each that keeps its
    /// stones, from 0 (bare) to 1 (whole); zones that are not here are whole.
    pub shares: Vec<(usize, f64)>,
}

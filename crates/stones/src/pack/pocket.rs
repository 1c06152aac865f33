//! Places that wait to be filled, and which of them comes first.

use std::cmp::Ordering;

/// A place beside laid stones that waits to be filled.
#[derive(Debug, Clone, Copy)]
pub struct Pocket {
    /// Where the smallest size would lie, as in [`Place`]; kept short, for there are many.
    pub turn: f64,
    pub down_mm: f64,
    pub a: u32,
    /// The other stone; `u32::MAX` for an edge.
    pub b: u32,
    /// Left or right of the way from `a` to `b`.
    pub side: u8,
    /// Nearness to an edge; 0 comes first.
    pub layer: u32,
}

pub const EDGE: u32 = u32::MAX;

impl Ord for Pocket {
    fn cmp(&self, other: &Self) -> Ordering {
        (other.layer.cmp(&self.layer))
            .then(other.down_mm.total_cmp(&self.down_mm))
            .then(other.turn.total_cmp(&self.turn))
            .then(other.a.cmp(&self.a))
            .then(other.b.cmp(&self.b))
    }
}
impl PartialOrd for Pocket {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl PartialEq for Pocket {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Pocket {}

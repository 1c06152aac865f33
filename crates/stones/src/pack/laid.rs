//! Stones on a board, found by where they lie.

use crate::pack::board::{Board, Disc};
use crate::pack::cells::Kept;
use crate::pack::chart::Place;
use glam::DVec3;

/// Stones on a board.
#[derive(Debug, Clone)]
pub struct Laid {
    /// The fixed ones first, then ours.
    pub discs: Vec<Disc>,
    /// Centre and reach of each, mm: what most looks are for, and near in memory.
    pub seen: Vec<(DVec3, f64)>,
    /// How many of each size.
    pub counts: Vec<usize>,
    kept: Kept,
}

impl Laid {
    /// Only the stones of other zones.
    pub fn new(board: &Board<'_>) -> Self {
        let mut laid = Self::empty(board);
        for disc in &board.fixed {
            laid.add(board, *disc);
        }
        laid
    }

    /// Nothing at all.
    pub fn empty(board: &Board<'_>) -> Self {
        Self {
            discs: Vec::new(),
            seen: Vec::new(),
            counts: vec![0; board.radii_mm.len()],
            kept: Kept::new(board.cells.count()),
        }
    }

    /// The same with these stones.
    pub fn with(board: &Board<'_>, ours: &[Disc]) -> Self {
        let mut laid = Self::new(board);
        for disc in ours {
            laid.add(board, *disc);
        }
        laid
    }

    /// How many are ours.
    pub fn total(&self) -> usize {
        self.counts.iter().sum()
    }

    /// Adds a stone, free or not; gives its number.
    pub fn add(&mut self, board: &Board<'_>, disc: Disc) -> usize {
        let number = self.discs.len();
        self.kept.add(number, board.cells.cell(disc.place.turn, disc.place.down_mm));
        self.discs.push(disc);
        self.seen.push((disc.place.centre_mm, disc.reach_mm));
        if let Some(count) = self.counts.get_mut(disc.size) {
            *count += 1;
        }
        number
    }

    /// Calls `see` with numbers of stones whose centres may lie within `reach_mm` of a place.
    pub fn near(
        &self,
        board: &Board<'_>,
        place: &Place,
        reach_mm: f64,
        see: impl FnMut(usize) -> bool,
    ) {
        board.cells.numbers_near(&self.kept, place, reach_mm, see);
    }

    /// Whether a stone of this reach keeps its gaps here.
    pub fn is_free(&self, board: &Board<'_>, place: &Place, reach_mm: f64, widest_mm: f64) -> bool {
        let mut free = true;
        self.near(board, place, reach_mm + widest_mm, |number| {
            let (centre_mm, other_mm) = self.seen[number];
            let least = reach_mm + other_mm - 1e-7;
            free = place.centre_mm.distance_squared(centre_mm) >= least * least;
            free
        });
        free
    }
}

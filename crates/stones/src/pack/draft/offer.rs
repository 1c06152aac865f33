//! Pockets beside a stone that was laid: where it and another, or an edge, hold one more.

use super::Draft;
use crate::pack::board::Board;
use crate::pack::chart::Place;
use crate::pack::pocket::{EDGE, Pocket};
use glam::DVec3;
use std::f64::consts::TAU;

/// Places whose nearest edge is within so many widest reaches come first, in layers so thick (mm), so
/// that stones line the edges.
const EDGES_FIRST: (f64, f64) = (1.2, 0.1);

/// A start that overlaps another stone by so much, mm, is not where a stone fits: the surface bends
/// less. Where it lies flush with an edge that may bend more.
const OVERLAP_MM: f64 = 0.25;
const FLUSH_OVERLAP_MM: f64 = 0.8;

/// Places nearer to an edge than so many radii of the smallest size line it, and layers round the part.
const LINED: f64 = 1.6;
const ROUND: f64 = 4000.0;

/// Which places are filled first.
#[derive(Debug, Clone, Copy)]
pub enum Course {
    /// Those near the edges, the nearest first, then from the rim down.
    Down,
    /// Those along the edges, then round the part (across a flat one): in a narrow ring two short fronts
    /// meet once, where fronts from both edges would meet all the way round.
    Round,
    /// Those along the edges, then up to the rim.
    Up,
}

/// A stone near another: its number, centre and reach.
#[derive(Debug, Clone, Copy)]
pub(super) struct Near {
    number: usize,
    centre_mm: DVec3,
    reach_mm: f64,
}

impl Near {
    /// Whether a stone keeps its gap to it, but for an overlap, mm.
    fn leaves(&self, place: &Place, reach_mm: f64, overlap_mm: f64) -> bool {
        let least = reach_mm + self.reach_mm - overlap_mm;
        place.centre_mm.distance_squared(self.centre_mm) >= least * least
    }
}

impl Draft<'_, '_> {
    /// Adds the pockets beside a stone.
    pub(super) fn offer(&mut self, number: usize) {
        let board = self.board;
        let own = self.laid.discs[number];
        let reach_mm = board.reach_mm(self.smallest);
        let mut near = std::mem::take(&mut self.near);
        near.clear();
        // All that a pocket beside this stone may touch or overlap.
        let far_mm = own.reach_mm + 2.0 * reach_mm + self.widest_mm;
        self.laid.near(board, &own.place, far_mm, |number| {
            let (centre_mm, reach_mm) = self.laid.seen[number];
            near.push(Near { number, centre_mm, reach_mm });
            true
        });
        let leaves = |place: &Place, overlap_mm| {
            near.iter().all(|near| near.leaves(place, reach_mm, overlap_mm))
        };
        for other in &near {
            let between_mm = own.reach_mm + other.reach_mm + 2.0 * reach_mm;
            let apart = own.place.centre_mm.distance_squared(other.centre_mm);
            if other.number == number || apart >= between_mm * between_mm {
                continue;
            }
            let disc = self.laid.discs[other.number];
            let (ra, rb) = (own.reach_mm + reach_mm, disc.reach_mm + reach_mm);
            for side in 0..2 {
                let start = board.meeting_start(&own.place, ra, &disc.place, rb, side);
                let Some(start) = start.filter(|start| leaves(start, OVERLAP_MM)) else { continue };
                let place = board.settle(start, &own.place, ra, &disc.place, rb);
                if let Some(place) = place
                    && leaves(&place, 1e-7)
                    && board.holds(&place, self.smallest)
                {
                    let (a, b, side) = (number as u32, other.number as u32, side as u8);
                    let layer = self.course.layer(board, &place);
                    let Place { turn, down_mm, .. } = place;
                    self.pockets.push(Pocket { turn, down_mm, a, b, side, layer });
                }
            }
        }
        let mut flush = std::mem::take(&mut self.flush);
        let may = |start: &Place| leaves(start, FLUSH_OVERLAP_MM);
        board.flush(&own.place, own.reach_mm + reach_mm, self.smallest, may, &mut flush);
        for place in flush.drain(..) {
            if leaves(&place, 1e-7) && board.holds(&place, self.smallest) {
                let layer = self.course.layer(board, &place);
                let Place { turn, down_mm, .. } = place;
                let (a, b) = (number as u32, EDGE);
                self.pockets.push(Pocket { turn, down_mm, a, b, side: 0, layer });
            }
        }
        self.near = near;
        self.flush = flush;
    }
}

impl Course {
    /// The course of one of several drafts.
    pub fn of(draft: u64) -> Self {
        [Self::Down, Self::Round, Self::Up][(draft % 3) as usize]
    }

    /// When a place is filled; 0 comes first.
    fn layer(self, board: &Board<'_>, place: &Place) -> u32 {
        let (reaches, thick_mm) = EDGES_FIRST;
        let edge_mm = board.walls.room_mm(place);
        if matches!(self, Self::Down) {
            return (edge_mm.min(reaches * board.widest_reach_mm) / thick_mm) as u32;
        }
        if edge_mm < LINED * board.radii_mm[board.smallest()] {
            return 0;
        }
        let (from, to) = board.ground.around;
        // Where the zone lies across the back, angles come round again.
        let back = place.turn < from && board.chart.is_revolved();
        let turn = if back { place.turn + TAU } else { place.turn };
        1 + match self {
            Self::Round => (ROUND * (turn - from) / (to - from)) as u32,
            _ => ((board.down_mm.1 - place.down_mm) / thick_mm) as u32,
        }
    }
}

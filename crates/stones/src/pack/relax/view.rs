//! What each stone has in view: the others and the edges that it may touch before it is looked at again.

use super::{ALONE, Relax, SPARE_MM};
use crate::pack::board::Board;
use crate::pack::chart::Place;
use rayon::prelude::*;
use std::ops::Range;

/// Pairs are kept in view up to this far beyond touching, mm, until a stone has gone half as far.
pub(super) const SKIN_MM: f64 = 0.5;
/// Of so few stones every pair is looked at.
const FEW: usize = 250;

/// What the stones of a block have in view.
#[derive(Debug, Default)]
pub(super) struct View {
    /// Where the others and the edges in view of each stone begin; one more of these than stones.
    starts: Vec<[u32; 2]>,
    /// Numbers of stones after it.
    others: Vec<u32>,
    edges: Vec<u32>,
}

impl View {
    pub(super) fn others(&self, index: usize) -> &[u32] {
        &self.others[self.starts[index][0] as usize..self.starts[index + 1][0] as usize]
    }

    pub(super) fn edges(&self, index: usize) -> &[u32] {
        &self.edges[self.starts[index][1] as usize..self.starts[index + 1][1] as usize]
    }
}

impl Relax<'_, '_> {
    /// Finds the pairs in view.
    pub(super) fn look(&mut self) {
        let (block, count) = (self.block(), self.moving.len());
        let few = count + self.still.len() <= FEW;
        let (firsts, sorted) = if few {
            (Vec::new(), Vec::new())
        } else {
            let still = self.still.iter().map(|disc| disc.place);
            by_cell(self.board, self.moving.iter().copied().chain(still))
        };
        let mut views = std::mem::take(&mut self.views);
        views.resize_with(count.div_ceil(block), View::default);
        let of_block = |(index, view): (usize, &mut View)| {
            let numbers = index * block..count.min((index + 1) * block);
            self.look_block(numbers, &firsts, &sorted, view);
        };
        if count > ALONE {
            views.par_iter_mut().enumerate().for_each(of_block);
        } else {
            views.iter_mut().enumerate().for_each(of_block);
        }
        self.views = views;
        self.seen_at.clear();
        self.seen_at.extend(self.balls[..count].iter().map(|ball| ball.centre_mm));
        self.stale = false;
    }

    /// What these stones have in view; of few, every pair is looked at, else those of cells nearby.
    fn look_block(&self, numbers: Range<usize>, firsts: &[u32], sorted: &[u32], view: &mut View) {
        let board = self.board;
        let widest_mm = board.widest_reach_mm + SPARE_MM;
        let View { starts, others, edges } = view;
        starts.clear();
        others.clear();
        edges.clear();
        starts.push([0, 0]);
        for number in numbers {
            let (place, own_mm) = (&self.moving[number], self.balls[number].reach_mm + SKIN_MM);
            let balls = &self.balls;
            let mut see = |other: usize| {
                let within = own_mm + balls[other].reach_mm;
                if place.centre_mm.distance_squared(balls[other].centre_mm) < within * within {
                    others.push(other as u32);
                }
            };
            if firsts.is_empty() {
                (number + 1..balls.len()).for_each(see);
            } else {
                let (turn, down) = ((place.turn, place.turn), (place.down_mm, place.down_mm));
                board.cells.near(turn, down, place.radius_mm, own_mm + widest_mm, |cell| {
                    // In order within a cell, so those that come before come last.
                    let of_cell = &sorted[firsts[cell] as usize..firsts[cell + 1] as usize];
                    let later = of_cell.iter().rev().take_while(|other| **other as usize > number);
                    later.for_each(|other| see(*other as usize));
                    true
                });
            }
            let reach_mm = board.radii_mm[self.sizes[number]] + SKIN_MM;
            let near = |edge: &&u32| {
                let piece = board.walls.piece(**edge);
                piece.away_squared(place.centre_mm) < reach_mm * reach_mm
            };
            edges.extend(board.walls.list(place).iter().filter(near));
            starts.push([others.len() as u32, edges.len() as u32]);
        }
    }
}

/// Numbers of places sorted by cell, and where each cell's begin; one more of these than cells.
pub(super) fn by_cell(
    board: &Board<'_>,
    places: impl Iterator<Item = Place>,
) -> (Vec<u32>, Vec<u32>) {
    let cells: Vec<usize> =
        places.map(|place| board.cells.cell(place.turn, place.down_mm)).collect();
    let mut firsts = vec![0_u32; board.cells.count() + 1];
    for cell in &cells {
        firsts[cell + 1] += 1;
    }
    for cell in 0..board.cells.count() {
        firsts[cell + 1] += firsts[cell];
    }
    let mut next = firsts.clone();
    let mut sorted = vec![0; cells.len()];
    for (number, cell) in cells.iter().enumerate() {
        let place = &mut next[*cell];
        sorted[*place as usize] = number as u32;
        *place += 1;
    }
    (firsts, sorted)
}

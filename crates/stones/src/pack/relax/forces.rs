//! Forces of stones that overlap.

use super::view::View;
use super::{ALONE, Relax, SPARE_MM};
use crate::pack::walls;
use crate::steps::step;
use glam::DVec3;
use rayon::prelude::*;

impl Relax<'_, '_> {
    /// Forces of all overlaps; gives the largest overlap, mm, with the spare in it.
    pub(super) fn push(&mut self) -> f64 {
        let block = self.block();
        let (mut forces, mut spills) =
            (std::mem::take(&mut self.forces), std::mem::take(&mut self.spills));
        spills.resize(self.moving.len().div_ceil(block), Vec::new());
        let of_block = |(index, (forces, spill)): (usize, (&mut [DVec3], &mut Vec<_>))| {
            self.push_block(index * block, &self.views[index], forces, spill)
        };
        let largest = if self.moving.len() > ALONE {
            let blocks = forces.par_chunks_mut(block).zip(&mut spills).enumerate();
            blocks.map(of_block).reduce(|| 0.0, f64::max)
        } else {
            let blocks = forces.chunks_mut(block).zip(&mut spills).enumerate();
            blocks.map(of_block).fold(0.0, f64::max)
        };
        for spill in &mut spills {
            for (number, push) in spill.drain(..) {
                forces[number as usize] += push;
            }
        }
        self.forces = forces;
        self.spills = spills;
        largest
    }

    /// Forces on a block of stones from `first` on, and what it gives to those of later blocks.
    fn push_block(
        &self,
        first: usize,
        view: &View,
        forces: &mut [DVec3],
        spill: &mut Vec<(u32, DVec3)>,
    ) -> f64 {
        let (moving, end) = (self.moving.len(), first + forces.len());
        let mut largest: f64 = 0.0;
        forces.fill(DVec3::ZERO);
        for number in first..end {
            let own = self.balls[number];
            let mut force = DVec3::ZERO;
            step();
            for other in view.others(number - first) {
                let other = *other as usize;
                let its = &self.balls[other];
                let off = own.centre_mm - its.centre_mm;
                let touching = own.reach_mm + its.reach_mm;
                // Without a branch: about every other pair touches, which no processor foretells.
                let apart = off.length_squared().sqrt().max(1e-9);
                let overlap = (touching - apart).max(0.0);
                largest = largest.max(overlap);
                let push = off * (overlap / apart);
                force += push;
                if other < end {
                    forces[other - first] -= push;
                } else if other < moving && overlap > 0.0 {
                    spill.push((other as u32, -push));
                }
            }
            let need_mm =
                self.board.radii_mm[self.sizes[number]] + walls::ROUNDING_MM + 2.0 * SPARE_MM;
            let edges = view.edges(number - first);
            for touch in self.touches(number, edges, need_mm).into_iter().flatten() {
                let overlap = need_mm - touch.distance_mm;
                let place = &self.moving[number];
                largest = largest.max(overlap);
                force += overlap * (touch.away.0 * place.right + touch.away.1 * place.down);
            }
            if self.board.ground.limits.is_some()
                && let Some((right_mm, down_mm)) =
                    self.board.off_limits_mm(&self.moving[number], self.sizes[number])
            {
                let place = &self.moving[number];
                largest = largest.max(right_mm.abs().max(down_mm.abs()) + 2.0 * SPARE_MM);
                force += right_mm * place.right + down_mm * place.down;
            }
            forces[number - first] += force;
        }
        largest
    }
}

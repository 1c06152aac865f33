//! Steps of FIRE: how fast stones go, and how far.

use super::view::SKIN_MM;
use super::{ALONE, Ball, Relax};
use crate::pack::chart::{Chart, Place};
use glam::DVec3;
use rayon::prelude::*;

/// Farthest a stone goes in one step, mm.
const MOST_MM: f64 = 0.15;

impl Relax<'_, '_> {
    /// Turns the forces into right and down, and sums.
    pub(super) fn sums(&mut self) -> Sums {
        let (block, count) = (self.block(), self.moving.len());
        let (moving, speeds) = (&self.moving, &self.speeds);
        let of_block = |(index, forces): (usize, &mut [DVec3])| {
            let mut sums = Sums::default();
            let first = index * block;
            for (k, f) in forces.iter_mut().enumerate() {
                let (place, v) = (&moving[first + k], speeds[first + k]);
                let (right, down) = (f.dot(place.right), f.dot(place.down));
                *f = DVec3::new(right, down, 0.0);
                sums.power += v[0] * right + v[1] * down;
                sums.speed += v[0] * v[0] + v[1] * v[1];
                sums.force += right * right + down * down;
            }
            sums
        };
        // Summed block by block, so that any number of hands comes to the same.
        let of_blocks: Vec<Sums> = if count > ALONE {
            self.forces.par_chunks_mut(block).enumerate().map(of_block).collect()
        } else {
            self.forces.chunks_mut(block).enumerate().map(of_block).collect()
        };
        of_blocks.into_iter().fold(Sums::default(), |a, b| Sums {
            power: a.power + b.power,
            speed: a.speed + b.speed,
            force: a.force + b.force,
        })
    }

    /// Moves every stone by one step.
    pub(super) fn advance(&mut self, stride: Stride) {
        let (block, count) = (self.block(), self.moving.len());
        let (chart, forces, seen_at) = (&self.board.chart, &self.forces, &self.seen_at);
        let balls = &mut self.balls[..count];
        // Whether the pairs in view of a block are out of date.
        let step =
            |index: usize, moving: &mut [Place], speeds: &mut [[f64; 2]], balls: &mut [Ball]| {
                let first = index * block;
                let mut stale = false;
                for (k, place) in moving.iter_mut().enumerate() {
                    if !stride.moves(chart, place, &mut speeds[k], forces[first + k]) {
                        continue;
                    }
                    balls[k].centre_mm = place.centre_mm;
                    let gone = place.centre_mm.distance_squared(seen_at[first + k]);
                    stale |= gone > 0.25 * SKIN_MM * SKIN_MM;
                }
                stale
            };
        if count > ALONE {
            let blocks = self.moving.par_chunks_mut(block).zip(self.speeds.par_chunks_mut(block));
            self.stale = blocks
                .zip(balls.par_chunks_mut(block))
                .enumerate()
                .map(|(index, ((moving, speeds), balls))| step(index, moving, speeds, balls))
                .reduce(|| false, |a, b| a || b);
        } else {
            self.stale = step(0, &mut self.moving, &mut self.speeds, balls);
        }
    }
}

/// One step of FIRE.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stride {
    pub(super) step: f64,
    pub(super) mix: f64,
    /// Share of the force that turns the speed towards it.
    pub(super) toward: f64,
}

impl Stride {
    /// Moves a stone; false if it stays.
    fn moves(&self, chart: &Chart, place: &mut Place, v: &mut [f64; 2], f: DVec3) -> bool {
        if f.x == 0.0 && f.y == 0.0 {
            // What nothing touches need not go anywhere.
            *v = [0.5 * v[0], 0.5 * v[1]];
            if v[0].abs() + v[1].abs() < 1e-4 {
                *v = [0.0; 2];
                return false;
            }
        }
        v[0] = (1.0 - self.mix) * v[0] + (self.toward + self.step) * f.x;
        v[1] = (1.0 - self.mix) * v[1] + (self.toward + self.step) * f.y;
        let far = self.step * (v[0] * v[0] + v[1] * v[1]).sqrt();
        if far > MOST_MM {
            v[0] *= MOST_MM / far;
            v[1] *= MOST_MM / far;
        }
        *place = chart.moved(place, self.step * v[0], self.step * v[1]);
        true
    }
}

/// What FIRE steers by.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Sums {
    /// Force times speed.
    pub(super) power: f64,
    /// Squares of the speeds.
    pub(super) speed: f64,
    /// Squares of the forces.
    pub(super) force: f64,
}

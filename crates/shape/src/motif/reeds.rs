//! Reeds: tapered blades that stand on the lower edge, some with the head of a bulrush.
//!
//! Every blade has its true height and width; its foot keeps its share of the round.

use super::chance::Chance;
use super::ground::Ground;
use crate::boolean::Loop;
use glam::DVec2;
use piece::{Diagnostic, FieldPath};
use std::f64::consts::PI;

/// Steps along a blade.
const STEPS: u32 = 60;
/// How far a foot may stray from its even place, as a share of the distance to the next.
const STRAY: f64 = 0.38;
/// Feet reach so far below the edge, mm, to be cut off level.
const BELOW_MM: f64 = 0.5;
/// Where a head begins and ends along its stalk.
const HEAD: (f64, f64) = (0.7, 0.92);
/// Widths of a stalk and of a head, as shares of that of a blade.
const STALK: f64 = 0.4;
const HEAD_WIDTH: f64 = 1.5;
/// A head is at most so wide for its length.
const STOUT: f64 = 0.4;

pub(super) struct Reeds {
    pub(super) count: u32,
    pub(super) height_mm: (f64, f64),
    pub(super) width_mm: f64,
    pub(super) lean_rad: f64,
    pub(super) heads: f64,
}

impl Reeds {
    pub(super) fn loops(
        &self,
        ground: &Ground<'_>,
        at: &FieldPath,
        chance: &mut Chance,
    ) -> Result<Vec<Loop>, Diagnostic> {
        let foot_mm = ground.along_mm.1;
        let high_mm = foot_mm - ground.along_mm.0;
        if self.height_mm.1 > high_mm + 1.0e-6 {
            let message = format!(
                "blades of up to {} mm are higher than the zone, which is {high_mm:.1} mm high",
                self.height_mm.1
            );
            return Err(Diagnostic::error(at.key("height"), message)
                .hint("Make them lower, or let the zone reach farther up."));
        }
        ground.off_axis(at)?;
        let span_mm = (foot_mm - self.height_mm.1, foot_mm);
        let scale_mm = ground.scales_mm(span_mm).0;
        let room_mm = ground.width_mm(span_mm);
        let aside_mm =
            self.height_mm.1 * libm::tan(self.lean_rad.abs()) + HEAD_WIDTH * self.width_mm;
        let fits = if ground.all_round { 0.5 * PI * scale_mm } else { 0.5 * room_mm };
        if aside_mm > fits {
            let message = format!(
                "blades that lean so far reach up to {aside_mm:.0} mm to one side, more than the {fits:.0} mm there are"
            );
            return Err(Diagnostic::error(at.clone(), message)
                .hint("Let them lean less, or make them lower or narrower."));
        }
        let count = self.count as usize;
        let heights = chance.spread(self.height_mm, count);
        let leans = chance.spread((-self.lean_rad.abs(), self.lean_rad.abs()), count);
        let bears = chance.spread((0.0, 1.0), count);
        let step_mm = room_mm / count as f64;
        let mut loops = Vec::with_capacity(count);
        for blade in 0..count {
            let stray = STRAY * (2.0 * chance.unit() - 1.0);
            let (height_mm, tip_mm) = (heights[blade], heights[blade] * libm::tan(leans[blade]));
            let mut x_mm = step_mm * (blade as f64 + 0.5 + stray);
            if !ground.all_round {
                let wide_mm = HEAD_WIDTH * self.width_mm;
                let (left, right) = (wide_mm + (-tip_mm).max(0.0), wide_mm + tip_mm.max(0.0));
                x_mm = x_mm.clamp(left, (room_mm - right).max(left));
            }
            let head = bears[blade] < self.heads;
            let outline = self.blade(height_mm, tip_mm, head);
            loops.push(ground.hung(ground.around.0 + x_mm / scale_mm, foot_mm, &outline));
        }
        Ok(loops)
    }

    /// A blade whose foot is the origin, y down: along a curve that leaves upright and bends aside.
    pub(super) fn blade(&self, height_mm: f64, tip_mm: f64, head: bool) -> Vec<DVec2> {
        let (foot, bow, tip) = (
            DVec2::new(0.0, BELOW_MM),
            DVec2::new(0.1 * tip_mm, -0.55 * height_mm),
            DVec2::new(tip_mm, -height_mm),
        );
        let stout = HEAD_WIDTH.min(STOUT * (HEAD.1 - HEAD.0) * height_mm / self.width_mm);
        let (mut left, mut right) = (Vec::new(), Vec::new());
        for step in 0..STEPS {
            let t = f64::from(step) / f64::from(STEPS);
            let at = foot * ((1.0 - t) * (1.0 - t)) + bow * (2.0 * t * (1.0 - t)) + tip * (t * t);
            let way = ((bow - foot) * (1.0 - t) + (tip - bow) * t).normalize_or_zero();
            let half = 0.5 * self.width_mm * if head { bulrush(t, stout) } else { 1.0 - t * t };
            let side = way.perp() * half;
            right.push(at + side);
            left.push(at - side);
        }
        left.push(tip);
        left.extend(right.into_iter().rev());
        left
    }
}

/// Width of a bulrush at a share of its height, as a share of that of a blade; `head` is that of its
/// head.
fn bulrush(t: f64, head: f64) -> f64 {
    let stalk = STALK * (1.0 - 0.6 * t) * ((1.0 - t) * 20.0).min(1.0);
    let within = (t - HEAD.0) / (HEAD.1 - HEAD.0);
    if !(0.0..=1.0).contains(&within) {
        return stalk;
    }
    // Nearly straight sides with round ends.
    let out = 2.0 * within - 1.0;
    let square = out * out;
    (head * (1.0 - square * square * square * square).max(0.0).sqrt()).max(stalk)
}

//! A collar on the page: where places of the wall lie on it, and words along its parallels.

use super::Cut;
use super::windows::Decal;
use crate::Plan;
use crate::drawing::{Anchor, INK, Ink, Layer, Letters, Mark, Trace};
use crate::unrolled::{Occupied, STEP_RAD, Unrolled};
use glam::DVec2;
use shape::SurfacePoint;
use std::f64::consts::{PI, TAU};

/// Height of capitals, mm.
const CAPITAL_MM: f64 = 1.7;
/// What words along a parallel must not lie on is looked up so far above and below their middle, mm.
const HALF_LINE_MM: f64 = 0.8;

/// A collar on the page, its middle opposite to where it is closed.
pub(super) struct Frame<'a> {
    pub(super) plan: &'a Plan,
    pub(super) cut: &'a Cut<'a>,
    pub(super) on: Unrolled,
    pub(super) letters: &'a Letters,
}

/// Where the form of a decal lies on the page.
#[derive(Clone, Copy)]
pub(super) struct Laid {
    /// The place that it is counted from.
    pub(super) at: DVec2,
    /// To the right along the parallel there, of length 1.
    pub(super) right: DVec2,
}

impl Laid {
    /// A place of the form on the page.
    pub(super) fn page(self, place: DVec2) -> DVec2 {
        self.at + self.right.rotate(place)
    }
}

impl Frame<'_> {
    /// An angle from the front as one from the middle of the sheet, within half a turn.
    pub(super) fn off_middle(&self, around: f64) -> f64 {
        let off = around - self.cut.seam_rad - PI;
        off - TAU * (off / TAU).round()
    }

    pub(super) fn page(&self, around: f64, along_mm: f64) -> DVec2 {
        self.on.page(SurfacePoint { around, along_mm })
    }

    /// To the right along the parallel at a place.
    pub(super) fn right(&self, around: f64, along_mm: f64) -> DVec2 {
        (self.page(around + 1e-3, along_mm) - self.page(around - 1e-3, along_mm))
            .normalize_or(DVec2::X)
    }

    /// A stretch of a parallel.
    pub(super) fn arc(&self, from: f64, to: f64, along_mm: f64) -> Vec<DVec2> {
        let steps = ((to - from).abs() / STEP_RAD).ceil().max(1.0);
        let at = |step: u32| from + (to - from) * f64::from(step) / steps;
        (0..=steps as u32).map(|step| self.page(at(step), along_mm)).collect()
    }

    /// The line down the wall at an angle from the middle.
    pub(super) fn seam(&self, around: f64) -> [DVec2; 2] {
        let (from, to) = self.cut.along_mm;
        [self.page(around, from), self.page(around, to)]
    }

    /// From left to right as angles from the middle, whole windows within the sheet.
    pub(super) fn span(&self, around: (f64, f64)) -> (f64, f64) {
        let middle = f64::midpoint(around.0, around.1);
        let turn = self.off_middle(middle) - middle;
        (around.0 + turn, around.1 + turn)
    }

    /// Where the form of a decal lies.
    pub(super) fn laid(&self, decal: &Decal) -> Laid {
        let (around, along_mm) = decal.form.middle;
        let around = self.off_middle(around);
        Laid { at: self.page(around, along_mm), right: self.right(around, along_mm) }
    }

    pub(super) fn write(&self, text: &str, at: DVec2, turn_rad: f64) -> Trace {
        self.letters.write(text, CAPITAL_MM, Anchor::Middle, at, turn_rad)
    }

    /// Words that run along the parallel, if nothing lies there.
    pub(super) fn word(
        &self,
        layer: &mut Layer,
        occupied: &mut Occupied,
        text: &str,
        at: DVec2,
        around: f64,
        along_mm: f64,
    ) -> bool {
        let right = self.right(around, along_mm);
        let words = self.write(text, at, libm::atan2(right.y, right.x));
        let half = right * (self.write(text, at, 0.0).bounds().size().x / 2.0);
        // Turned words fill little of their rectangle: looked up along three lines.
        let down = right.perp();
        let free = [-HALF_LINE_MM, 0.0, HALF_LINE_MM].into_iter().all(|off| {
            let at = at + down * off;
            occupied.covered_mm(at - half, at + half) == 0.0
        });
        if free {
            for off in [-HALF_LINE_MM, 0.0, HALF_LINE_MM] {
                occupied.line(&[at - half + down * off, at + half + down * off]);
            }
            layer.marks.push(Mark::path(words, Ink::fill(INK)));
        }
        free
    }
}

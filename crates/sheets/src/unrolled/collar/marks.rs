//! Strokes on the paper round each window, to lay decals by.

use super::frame::Frame;
use super::windows::{Decal, Window};
use crate::drawing::{ACCENT, Ink, Layer, Mark, Trace};
use crate::unrolled::Occupied;
use glam::DVec2;

/// Length of the strokes, mm.
const STROKE_MM: f64 = 6.0;
/// The ink of what is laid to meet something.
pub(super) const STROKE: Ink = Ink::line(ACCENT, 0.3);

impl Frame<'_> {
    /// Strokes on the paper round each window: where the middle and the level line of each decal are.
    pub(super) fn marks(&self, occupied: &mut Occupied) -> Layer {
        let mut layer =
            Layer::new("marks", "Strokes at the middle and on the level line of each decal");
        let mut named = Vec::new();
        for window in &self.cut.windows {
            for (side, out) in
                [(self.span(window.around).0, -1.0), (self.span(window.around).1, 1.0)]
            {
                for decal in nearest(window, out) {
                    let Some(along_mm) = self.level_at(decal, side, window.along_mm) else {
                        continue;
                    };
                    let at = self.page(side, along_mm);
                    stroke(&mut layer, occupied, at, at + self.laid(decal).right * out * STROKE_MM);
                    if window.decals.len() > 1 {
                        named.push((decal.zone, side, out, along_mm));
                    }
                }
            }
            let (from, to) = self.cut.along_mm;
            for decal in &window.decals {
                let middle = self.middle(decal);
                for (along_mm, out) in [(window.along_mm.0, -1.0), (window.along_mm.1, 1.0)] {
                    let end = (along_mm + out * STROKE_MM).clamp(from, to);
                    let ends = [along_mm, end].map(|along_mm| self.page(middle, along_mm));
                    stroke(&mut layer, occupied, ends[0], ends[1]);
                }
            }
        }
        // Several level lines at one window are told apart by name.
        for (zone, side, out, along_mm) in named {
            let name = &self.plan.piece.zones[zone].name;
            let wide = self.write(name, DVec2::ZERO, 0.0).bounds().size().x / 2.0;
            let radius_mm = self.cut.surface.around_scale_mm(along_mm).max(1.0);
            let around = side + out * (STROKE_MM + wide + 1.0) / radius_mm;
            let at = self.page(around, along_mm);
            self.word(&mut layer, occupied, name, at, around, along_mm);
        }
        layer
    }

    /// The middle of a decal as an angle from the middle of the sheet.
    fn middle(&self, decal: &Decal) -> f64 {
        self.off_middle(f64::midpoint(decal.around.0, decal.around.1))
    }

    /// How far along the wall the level line through the middle of a decal meets the line down the wall at
    /// `side`: the line of the crosses in the cut file, which is straight on the sheet where a parallel is
    /// an arc. `None` if it has no crosses there.
    fn level_at(&self, decal: &Decal, side: f64, along_mm: (f64, f64)) -> Option<f64> {
        let level_mm = decal.form.level_mm?;
        let laid = self.laid(decal);
        let below_mm = |along_mm: f64| (self.page(side, along_mm) - laid.at).dot(laid.right.perp());
        // Down the wall heights on the sheet grow evenly, but for the stretch of a smooth band.
        let (mut top, mut bottom) = along_mm;
        for _ in 0..40 {
            let half = f64::midpoint(top, bottom);
            if below_mm(half) < level_mm { top = half } else { bottom = half }
        }
        Some(f64::midpoint(top, bottom))
    }
}

fn stroke(layer: &mut Layer, occupied: &mut Occupied, from: DVec2, to: DVec2) {
    layer.marks.push(Mark::path(Trace::line([from, to]), STROKE));
    occupied.line(&[from, to]);
}

/// Of each zone's decals in one row of a window the one that is nearest to its left side (`out` below
/// 0) or its right one.
fn nearest(window: &Window, out: f64) -> Vec<&Decal> {
    let mut found: Vec<&Decal> = Vec::new();
    for decal in &window.decals {
        let reach = |decal: &Decal| (decal.around.0 + decal.around.1) * out;
        let row = |other: &&Decal| {
            other.zone == decal.zone && (other.along_mm.0 - decal.along_mm.0).abs() < 0.05
        };
        match found.iter().position(row) {
            Some(at) if reach(decal) > reach(found[at]) => found[at] = decal,
            Some(_) => {}
            None => found.push(decal),
        }
    }
    found
}

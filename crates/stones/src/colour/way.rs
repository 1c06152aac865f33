//! How far along a way across a zone a place lies.

use piece::Way;
use shape::{Surface, SurfacePoint};
use std::f64::consts::TAU;

/// Longest piece of a line that is measured with one radius, mm.
const PIECE_MM: f64 = 2.0;

/// A way on one part, ready to be asked. Ways are drawn on the bare part, as zones are.
#[derive(Debug)]
pub struct Course {
    bare: Surface,
    kind: Kind,
}

#[derive(Debug)]
enum Kind {
    Wall(f64, f64),
    Around(f64, f64),
    /// Points of the line with the length up to each, mm.
    Line(Vec<(SurfacePoint, f64)>),
}

impl Course {
    /// The way on a part with this surface, bare or grown.
    pub fn new(way: &Way, surface: &Surface) -> Self {
        let bare = surface.grown(-surface.thickness_mm());
        let kind = match way {
            Way::Wall { along_mm } => Kind::Wall(along_mm.0, along_mm.1),
            Way::Around { around } => Kind::Around(around.0, around.1),
            Way::Line { corners } => Kind::Line(line(corners, &bare)),
        };
        Self { bare, kind }
    }

    /// From 0 at the beginning of the way to 1 at its end; before and beyond it stays the same. Round
    /// a part, what lies behind the way belongs to its nearer end. On a line the nearest point counts.
    pub fn share(&self, at: SurfacePoint) -> f64 {
        let share = match &self.kind {
            Kind::Wall(from, to) => between(*from, *to, at.along_mm),
            Kind::Around(from, to) => {
                let middle = (from + to) / 2.0;
                between(*from, *to, middle + self.turn(at.around - middle))
            }
            Kind::Line(points) => self.along_line(points, at),
        };
        share.clamp(0.0, 1.0)
    }

    /// A difference of `around` by the shorter way.
    fn turn(&self, around: f64) -> f64 {
        if self.bare.period().is_some() { around - TAU * (around / TAU).round() } else { around }
    }

    fn along_line(&self, points: &[(SurfacePoint, f64)], at: SurfacePoint) -> f64 {
        let here_mm = self.bare.around_scale_mm(at.along_mm);
        let mut best = (f64::INFINITY, 0.0);
        for pair in points.windows(2) {
            let ((a, start_mm), (b, end_mm)) = (pair[0], pair[1]);
            // Round the part with the radius half way between the place and the line: exact on a
            // cylinder, and near by on every other part.
            let there_mm = self.bare.around_scale_mm((a.along_mm + b.along_mm) / 2.0);
            let scale_mm = (here_mm + there_mm) / 2.0;
            let x = self.turn(a.around - at.around) * scale_mm;
            let y = a.along_mm - at.along_mm;
            let (dx, dy) = ((b.around - a.around) * scale_mm, b.along_mm - a.along_mm);
            let length_squared = dx * dx + dy * dy;
            let part = if length_squared > 0.0 {
                (-(x * dx + y * dy) / length_squared).clamp(0.0, 1.0)
            } else {
                0.0
            };
            let (x, y) = (x + part * dx, y + part * dy);
            let away = x * x + y * y;
            if away < best.0 {
                best = (away, start_mm + part * (end_mm - start_mm));
            }
        }
        let length_mm = points.last().map_or(0.0, |last| last.1);
        if length_mm > 0.0 { best.1 / length_mm } else { 0.0 }
    }
}

fn between(from: f64, to: f64, at: f64) -> f64 {
    if from == to { f64::from(u8::from(at >= to)) } else { (at - from) / (to - from) }
}

/// The corners and enough points between, with the length up to each.
fn line(corners: &[(f64, f64)], bare: &Surface) -> Vec<(SurfacePoint, f64)> {
    let point = |(around, along_mm): (f64, f64)| SurfacePoint { around, along_mm };
    let mut points: Vec<(SurfacePoint, f64)> = Vec::new();
    if let Some(first) = corners.first() {
        points.push((point(*first), 0.0));
    }
    for pair in corners.windows(2) {
        let ((around, along_mm), (to_around, to_along_mm)) = (pair[0], pair[1]);
        let (round, down_mm) = (to_around - around, to_along_mm - along_mm);
        let widest_mm = bare.around_scale_mm(along_mm).max(bare.around_scale_mm(to_along_mm));
        let about_mm = (round * widest_mm).abs() + down_mm.abs();
        let pieces = (about_mm / PIECE_MM).ceil().clamp(1.0, 1e4) as u32;
        for k in 1..=pieces {
            let part = f64::from(k) / f64::from(pieces);
            let middle = along_mm + (part - 0.5 / f64::from(pieces)) * down_mm;
            let dx = round / f64::from(pieces) * bare.around_scale_mm(middle);
            let dy = down_mm / f64::from(pieces);
            let before_mm = points.last().map_or(0.0, |last| last.1);
            let at = point((around + part * round, along_mm + part * down_mm));
            points.push((at, before_mm + (dx * dx + dy * dy).sqrt()));
        }
    }
    points
}

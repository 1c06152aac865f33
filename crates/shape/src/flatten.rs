//! Curves as polylines that are the same on every machine.

use glam::DVec2;
use kurbo::{BezPath, ParamCurve, PathSeg, Point};

/// Coordinates are rounded to this, so that the last digit of a sine on one machine or another
/// makes no difference.
const GRID: f64 = 1e-9;

/// The subpaths of a path as polylines no farther than `tolerance` from it, without repeated points,
/// and without the first point again at the end. Open subpaths are taken as closed.
pub(crate) fn closed_loops(path: &BezPath, tolerance: f64) -> Vec<Vec<DVec2>> {
    let mut loops = polylines(path, tolerance);
    for current in &mut loops {
        if current.len() > 1 && current.first() == current.last() {
            current.pop();
        }
    }
    loops
}

/// The same, but closed subpaths repeat their first point at the end and open ones stay open.
///
/// The number of pieces is Wang's bound for Bézier curves (G. Wang, "The subdivision method for
/// finding the intersection between two Bézier curves or surfaces", 1984): n² = d(d-1)/8 · M / tol,
/// with M the largest second difference of the control points.
pub(crate) fn polylines(path: &BezPath, tolerance: f64) -> Vec<Vec<DVec2>> {
    let mut loops: Vec<Vec<DVec2>> = Vec::new();
    let mut pen: Option<Point> = None;
    for segment in path.segments() {
        if pen != Some(segment.start()) {
            loops.push(vec![rounded(segment.start())]);
        }
        pen = Some(segment.end());
        let pieces = pieces(&segment, tolerance);
        if let Some(current) = loops.last_mut() {
            for k in 1..=pieces {
                let at = if k == pieces {
                    segment.end()
                } else {
                    segment.eval(k as f64 / pieces as f64)
                };
                let at = rounded(at);
                if current.last() != Some(&at) {
                    current.push(at);
                }
            }
        }
    }
    loops
}

/// Without negative zeros, so that the same places have the same bits.
fn rounded(at: Point) -> DVec2 {
    let on_grid = |value: f64| (value / GRID).round() * GRID + 0.0;
    DVec2::new(on_grid(at.x), on_grid(at.y))
}

fn pieces(segment: &PathSeg, tolerance: f64) -> usize {
    let bend = |a: Point, b: Point, c: Point| {
        DVec2::new(a.x - 2.0 * b.x + c.x, a.y - 2.0 * b.y + c.y).length()
    };
    let (factor, most) = match segment {
        PathSeg::Line(_) => return 1,
        PathSeg::Quad(q) => (0.25, bend(q.p0, q.p1, q.p2)),
        PathSeg::Cubic(c) => (0.75, bend(c.p0, c.p1, c.p2).max(bend(c.p1, c.p2, c.p3))),
    };
    ((factor * most / tolerance).sqrt().ceil() as usize).clamp(1, 4096)
}

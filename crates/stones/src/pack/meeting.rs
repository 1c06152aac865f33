//! Where a stone touches two others, or one and an edge.

use crate::pack::board::Board;
use crate::pack::chart::{Place, distance_squared, slopes};
use crate::pack::walls;

impl Board<'_> {
    /// Where two circles of these radii about two places meet: left (side 0) or right of the way from
    /// `a` to `b`.
    pub fn meeting(&self, a: &Place, ra: f64, b: &Place, rb: f64, side: usize) -> Option<Place> {
        let start = self.meeting_start(a, ra, b, rb, side)?;
        self.settle(start, a, ra, b, rb)
    }

    /// About where they meet: as on the plane that touches the surface at `a`.
    pub fn meeting_start(
        &self,
        a: &Place,
        ra: f64,
        b: &Place,
        rb: f64,
        side: usize,
    ) -> Option<Place> {
        let (squared, left, up) = slopes(a, b);
        let apart = squared.sqrt();
        if apart >= ra + rb || apart <= (ra - rb).abs() || apart < 1e-9 {
            return None;
        }
        // The slopes point from b to a along the tangent plane at a.
        let flat = (left * left + up * up).sqrt().max(1e-12);
        let (ex, ey) = (-left / flat, -up / flat);
        let along = (squared + ra * ra - rb * rb) / (2.0 * apart);
        let aside = (ra * ra - along * along).max(0.0).sqrt();
        let aside = if side == 0 { aside } else { -aside };
        Some(self.chart.moved(a, along * ex + aside * ey, along * ey - aside * ex))
    }

    /// Newton's method on the squares of both distances.
    pub fn settle(&self, mut at: Place, a: &Place, ra: f64, b: &Place, rb: f64) -> Option<Place> {
        for _ in 0..6 {
            let (da, ax, ay) = slopes(&at, a);
            let (db, bx, by) = slopes(&at, b);
            let (fa, fb) = (0.5 * (da - ra * ra), 0.5 * (db - rb * rb));
            if fa.abs() < 2e-7 && fb.abs() < 2e-7 {
                return Some(at);
            }
            let (right, down) = newton((fa, ax, ay), (fb, bx, by))?;
            at = self.chart.moved(&at, right.clamp(-ra, ra), down.clamp(-ra, ra));
        }
        None
    }

    /// Places where a stone of a size lies flush with an edge and its centre `ra` from a place; only
    /// those near which `may` says that a stone may lie.
    pub fn flush(
        &self,
        a: &Place,
        ra: f64,
        size: usize,
        may: impl Fn(&Place) -> bool,
        found: &mut Vec<Place>,
    ) {
        found.clear();
        let off_mm = self.radii_mm[size] + walls::ROUNDING_MM;
        for touch in self.walls.faced(a, ra + off_mm).into_iter().flatten() {
            // The line that flush centres lie on, as seen from the stone.
            let to_line = touch.distance_mm - off_mm;
            let aside = (ra * ra - to_line * to_line).max(0.0).sqrt();
            let (x, y) = touch.away;
            for side in [1.0, -1.0] {
                let right = -to_line * x + side * aside * y;
                let down = -to_line * y - side * aside * x;
                let start = self.chart.moved(a, right, down);
                if !may(&start) {
                    continue;
                }
                let Some(place) = self.settle_flush(start, a, ra, off_mm) else { continue };
                let new = |other: &Place| distance_squared(other, &place) > 1e-4;
                if found.iter().all(new) {
                    found.push(place);
                }
            }
        }
    }

    /// Newton's method on the distances from a place and from the nearest edge.
    fn settle_flush(&self, mut at: Place, a: &Place, ra: f64, off_mm: f64) -> Option<Place> {
        for _ in 0..6 {
            let touch = self.walls.touch(&at, 2.0 * off_mm)?;
            let (da, ax, ay) = slopes(&at, a);
            let (fa, fb) = (0.5 * (da - ra * ra), touch.distance_mm - off_mm);
            if fa.abs() < 2e-7 && fb.abs() < 1e-7 {
                return Some(at);
            }
            let (bx, by) = touch.away;
            let (right, down) = newton((fa, ax, ay), (fb, bx, by))?;
            at = self.chart.moved(&at, right.clamp(-ra, ra), down.clamp(-ra, ra));
        }
        None
    }
}

/// The step right and down that brings two values to nothing, each told with its slopes right and down;
/// `None` where both fall the same way.
#[inline(always)]
fn newton((fa, ax, ay): (f64, f64, f64), (fb, bx, by): (f64, f64, f64)) -> Option<(f64, f64)> {
    let det = ax * by - ay * bx;
    (det.abs() >= 1e-6).then(|| ((ay * fb - by * fa) / det, (bx * fa - ax * fb) / det))
}

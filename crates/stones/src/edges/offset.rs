//! Lines at a distance from the edges of a zone: where the centres of stones lie that are flush.
//!
//! Traced cell by cell on a grid (marching squares: Lorensen & Cline 1987, in the plane), then put on
//! the line by Newton's method, so that every hole and every island of the zone has its line.

use crate::fill::Ground;
use crate::steps::step;
use glam::DVec3;
use shape::SurfacePoint;
use std::f64::consts::PI;

mod grid;

/// Points of a line are about so far apart, in radii.
const STEP: f64 = 0.05;
/// Points worked out before asking whether to go on.
const AT_ONCE: usize = 512;
/// Turn of a line that makes a corner, rad (35 degrees; own trials).
const CORNER_RAD: f64 = 0.6;

/// A point of a line.
#[derive(Debug, Clone, Copy)]
pub struct Point {
    /// Its place.
    pub at: SurfacePoint,
    /// In space, mm.
    pub mm: DVec3,
}

/// A closed line; its first point is not repeated.
#[derive(Debug, Clone)]
pub struct Line {
    /// Close enough together to be taken as straight.
    pub points: Vec<Point>,
    /// Indices of those in sharp corners, ascending.
    pub corners: Vec<usize>,
}

/// The lines at a distance from the edges, for stones of a radius; fewer when no longer `going`.
pub fn lines(
    ground: &Ground<'_>,
    level_mm: f64,
    radius_mm: f64,
    going: &mut dyn FnMut() -> bool,
) -> Vec<Line> {
    let tracer = Tracer { ground, level_mm, radius_mm };
    let rings = tracer.loops(going);
    rings.into_iter().map_while(|ring| tracer.line(&ring, going)).collect()
}

struct Tracer<'a> {
    ground: &'a Ground<'a>,
    level_mm: f64,
    radius_mm: f64,
}

impl Tracer<'_> {
    fn spare_mm(&self, at: SurfacePoint) -> f64 {
        step();
        self.ground.field.clearance_mm(at) - self.level_mm
    }

    fn point(&self, at: SurfacePoint) -> Point {
        Point { at, mm: self.ground.surface.world_from_surface(at) }
    }

    fn crossing(&self, [a, b]: [SurfacePoint; 2]) -> SurfacePoint {
        let inside = self.spare_mm(a) >= 0.0;
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..24 {
            let middle = (low + high) / 2.0;
            let at = self.between(a, b, middle);
            if (self.spare_mm(at) >= 0.0) == inside { low = middle } else { high = middle }
        }
        self.between(a, b, if inside { low } else { high })
    }

    fn between(&self, a: SurfacePoint, b: SurfacePoint, share: f64) -> SurfacePoint {
        let turn = self.ground.wrapped(b.around - a.around);
        SurfacePoint {
            around: self.ground.wrapped(a.around + share * turn),
            along_mm: a.along_mm + share * (b.along_mm - a.along_mm),
        }
    }

    /// Where the room grows, as right and down.
    fn slope(&self, at: SurfacePoint) -> (f64, f64) {
        const BY_MM: f64 = 1e-4;
        let frame = self.ground.frame(at);
        let room = |x: f64, y: f64| self.spare_mm(self.ground.moved(&frame, x, y));
        (
            (room(BY_MM, 0.0) - room(-BY_MM, 0.0)) / (2.0 * BY_MM),
            (room(0.0, BY_MM) - room(0.0, -BY_MM)) / (2.0 * BY_MM),
        )
    }

    /// The same in space, of length 1.
    fn inward(&self, at: SurfacePoint) -> DVec3 {
        let (x, y) = self.slope(at);
        let frame = self.ground.frame(at);
        (frame.right * x + frame.down * y).normalize_or_zero()
    }

    /// The line through rough points, with its corners; `None` when no longer `going`.
    fn line(&self, ring: &[SurfacePoint], going: &mut dyn FnMut() -> bool) -> Option<Line> {
        let rough: Vec<Point> = ring.iter().map(|at| self.point(*at)).collect();
        let mut inward: Vec<DVec3> = Vec::with_capacity(ring.len());
        for some in ring.chunks(AT_ONCE) {
            if !going() {
                return None;
            }
            inward.extend(some.iter().map(|at| self.inward(*at)));
        }
        let count = rough.len();
        let angle = |a: DVec3, b: DVec3| libm::acos(a.dot(b).clamp(-1.0, 1.0));
        let foot = |k: usize| rough[k].mm - inward[k] * self.level_mm;
        let mut points: Vec<Point> = Vec::new();
        let mut corners = Vec::new();
        let bent = bends(count, &foot, &|a, b| angle(inward[a], inward[b]), self.radius_mm);
        for k in 0..count {
            if k % AT_ONCE == 0 && !going() {
                return None;
            }
            let next = (k + 1) % count;
            if bent.binary_search(&k).is_ok() {
                corners.push(points.len());
            }
            points.push(rough[k]);
            let apart_mm = rough[k].mm.distance(rough[next].mm);
            // The feet of both leap round a corner of the zone.
            let leap = angle(inward[k], inward[next]) > CORNER_RAD
                && foot(k).distance(foot(next)) > apart_mm;
            let tip = leap.then(|| self.tip(ring[k], ring[next], inward[k] + inward[next]));
            let via: Vec<SurfacePoint> =
                [ring[k]].into_iter().chain(tip).chain([ring[next]]).collect();
            for (leg, pair) in via.windows(2).enumerate() {
                if leg == 1 {
                    corners.push(points.len());
                    points.push(self.point(pair[0]));
                }
                let (a, b) = (self.point(pair[0]), self.point(pair[1]));
                let steps = (a.mm.distance(b.mm) / (STEP * self.radius_mm)).ceil() as usize;
                points.extend((1..steps).map(|step| {
                    let share = step as f64 / steps as f64;
                    self.point(self.onto(self.between(pair[0], pair[1], share)))
                }));
            }
        }
        let near = |a: usize, b: usize| points[a].mm.distance(points[b].mm) < self.radius_mm;
        corners.dedup_by(|b, a| near(*a, *b));
        if corners.len() > 1 && near(corners[0], corners[corners.len() - 1]) {
            corners.pop();
        }
        Some(Line { points, corners })
    }

    /// The tip of a corner of the line between two of its points.
    fn tip(&self, a: SurfacePoint, b: SurfacePoint, inward: DVec3) -> SurfacePoint {
        let ground = self.ground;
        let frame = ground.frame(a);
        let over = ground.surface.world_from_surface(b) - frame.centre_mm;
        let over = (over.dot(frame.right), over.dot(frame.down));
        let out = (-inward.dot(frame.right), -inward.dot(frame.down));
        let length = (out.0 * out.0 + out.1 * out.1).sqrt().max(1e-9);
        let out = (out.0 / length, out.1 / length);
        let at = |share: f64, far_mm: f64| {
            let (x, y) = (share * over.0 + far_mm * out.0, share * over.1 + far_mm * out.1);
            ground.moved(&frame, x, y)
        };
        let reach = |share: f64| {
            let (mut low, mut high) = (-self.radius_mm, 2.0 * self.radius_mm);
            for _ in 0..40 {
                let middle = (low + high) / 2.0;
                if self.spare_mm(at(share, middle)) >= 0.0 { low = middle } else { high = middle }
            }
            low
        };
        // Golden section: how far the line reaches out rises to the tip and falls beyond.
        let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
        let (mut low, mut high) = (-0.5, 1.5);
        for _ in 0..40 {
            let (one, other) = (high - golden * (high - low), low + golden * (high - low));
            if reach(one) < reach(other) { low = one } else { high = other }
        }
        let share = (low + high) / 2.0;
        at(share, reach(share))
    }

    /// The nearest place on the line.
    pub fn onto(&self, mut at: SurfacePoint) -> SurfacePoint {
        for _ in 0..4 {
            let off_mm = self.spare_mm(at);
            if off_mm.abs() < 1e-8 {
                break;
            }
            let (x, y) = self.slope(at);
            let squared = (x * x + y * y).max(0.1);
            let frame = self.ground.frame(at);
            at = self.ground.moved(&frame, -off_mm * x / squared, -off_mm * y / squared);
        }
        at
    }
}

/// A place put on the line at a distance from the edges.
pub fn onto(ground: &Ground<'_>, level_mm: f64, at: SurfacePoint) -> SurfacePoint {
    Tracer { ground, level_mm, radius_mm: level_mm }.onto(at)
}

/// Where the line bends round a corner that juts into the zone: the middle of each run of points whose
/// nearest place on the edge is the same.
fn bends(
    count: usize,
    foot: &dyn Fn(usize) -> DVec3,
    angle: &dyn Fn(usize, usize) -> f64,
    radius_mm: f64,
) -> Vec<usize> {
    let stays = |k: usize| foot(k % count).distance(foot((k + 1) % count)) < 0.02 * radius_mm;
    let Some(start) = (0..count).find(|k| !stays(*k)) else { return Vec::new() };
    let mut out = Vec::new();
    let mut k = start + 1;
    while k <= start + count {
        let first = k;
        while k < start + count && stays(k) {
            k += 1;
        }
        let turn: f64 = (first..k).map(|k| angle(k % count, (k + 1) % count)).sum();
        if turn > CORNER_RAD && turn < PI {
            let mut half = 0.0;
            let middle = (first..k).find(|k| {
                half += angle(k % count, (k + 1) % count);
                half >= turn / 2.0
            });
            out.extend(middle.map(|k| k % count));
        }
        k += 1;
    }
    out.sort_unstable();
    out
}

//! Stones being laid on a ground, and the spots that touch what is already laid.

use crate::fill::{Frame, Ground, Spot};
use crate::space::Space;
use shape::SurfacePoint;
use std::f64::consts::TAU;

/// Added to every gap so that rounding never lets two stones come too near, mm.
const SAFETY_MM: f64 = 1e-7;

/// A laid stone.
#[derive(Debug, Clone, Copy)]
pub struct Laid {
    /// Its place with its directions.
    pub frame: Frame,
    /// Diameter, mm.
    pub diameter_mm: f64,
    /// What is handed out for it.
    pub spot: Spot,
}

/// Ground with the stones laid so far.
#[derive(Debug)]
pub struct Bed<'a> {
    /// The ground.
    pub ground: &'a Ground<'a>,
    /// Stones laid here, in order.
    pub laid: Vec<Laid>,
    /// Gap to keep, mm, with a hair of safety.
    pub gap_mm: f64,
    /// Room needed around the widest stone, mm.
    pub reach_mm: f64,
    taken: Space,
    ours: Space,
}

impl<'a> Bed<'a> {
    /// Ground with only the stones of other zones.
    pub fn new(ground: &'a Ground<'a>, widest_mm: f64, gap_mm: f64, count: usize) -> Self {
        let reach_mm = widest_mm + gap_mm;
        let mut taken = Space::new(reach_mm, count + ground.obstacles.len());
        for obstacle in ground.obstacles {
            taken.set(obstacle.centre_mm, obstacle.diameter_mm, obstacle.gap_mm);
        }
        Self {
            ground,
            laid: Vec::with_capacity(count),
            gap_mm: gap_mm + SAFETY_MM,
            reach_mm,
            taken,
            ours: Space::new(reach_mm, count),
        }
    }

    /// Whether a stone of this diameter can be laid here.
    pub fn takes(&self, at: SurfacePoint, diameter_mm: f64) -> bool {
        let centre_mm = self.ground.surface.world_from_surface(at);
        self.taken.is_free(centre_mm, diameter_mm, self.gap_mm)
            && self.ground.holds(at, diameter_mm)
    }

    /// How much more room than it needs a stone of this diameter has here, mm; negative where it does
    /// not fit. It changes by no more than the way in space from one place to another. Sees no farther
    /// than `most_mm`.
    pub fn room_mm(&self, at: SurfacePoint, diameter_mm: f64, most_mm: f64) -> f64 {
        let edge_mm = (self.ground.field.clearance_mm(at) - diameter_mm / 2.0).min(most_mm);
        if edge_mm < -diameter_mm {
            return edge_mm;
        }
        let centre_mm = self.ground.surface.world_from_surface(at);
        self.taken.room_mm(centre_mm, diameter_mm, self.gap_mm, edge_mm)
    }

    /// Numbers of laid stones within `radius_mm` of a place.
    pub fn beside_place(&self, at: SurfacePoint, radius_mm: f64, found: &mut Vec<usize>) {
        self.ours.within(self.ground.surface.world_from_surface(at), radius_mm, found);
    }

    /// Lays a stone, without asking whether there is room; gives its number.
    pub fn lay(&mut self, spot: Spot, diameter_mm: f64) -> usize {
        let frame = self.ground.frame(spot.at);
        // Rounding may have taken a hair: the gap that others must keep is the one asked for.
        self.taken.set(frame.centre_mm, diameter_mm, self.gap_mm);
        self.ours.set(frame.centre_mm, diameter_mm, self.gap_mm);
        self.laid.push(Laid { frame, diameter_mm, spot });
        self.laid.len() - 1
    }

    /// Moves a laid stone some mm right and down if there is room, else part of the way; gives how
    /// far it went, mm.
    pub fn nudge(&mut self, number: usize, right_mm: f64, down_mm: f64) -> f64 {
        self.slide(number, [1.0, 0.5, 0.2].map(|part| (part * right_mm, part * down_mm)))
    }

    /// Moves a laid stone by the first of some ways, mm right and down, for which there is room; gives
    /// how far it went, mm.
    pub fn slide(&mut self, number: usize, ways: impl IntoIterator<Item = (f64, f64)>) -> f64 {
        let Laid { frame, diameter_mm, .. } = self.laid[number];
        let among_all = self.ground.obstacles.len() + number;
        self.taken.lift(among_all);
        let mut places =
            ways.into_iter().map(|(right, down)| self.ground.moved(&frame, right, down));
        let to = places.find(|at| self.takes(*at, diameter_mm));
        let frame_now = to.map_or(frame, |at| self.ground.frame(at));
        self.taken.put(among_all, frame_now.centre_mm);
        self.ours.lift(number);
        self.ours.put(number, frame_now.centre_mm);
        self.laid[number].frame = frame_now;
        self.laid[number].spot.at = frame_now.at;
        frame_now.centre_mm.distance(frame.centre_mm)
    }

    /// Takes up all stones but the first so many.
    pub fn keep(&mut self, count: usize) {
        while self.laid.len() > count {
            self.taken.take_last();
            self.ours.take_last();
            self.laid.pop();
        }
    }

    /// Lays a stone if there is room.
    pub fn try_lay(&mut self, spot: Spot, diameter_mm: f64) -> Option<usize> {
        self.takes(spot.at, diameter_mm).then(|| self.lay(spot, diameter_mm))
    }

    /// Numbers of laid stones within `radius_mm` of a laid one, without itself.
    pub fn neighbours(&self, number: usize, radius_mm: f64, found: &mut Vec<usize>) {
        self.ours.within(self.laid[number].frame.centre_mm, radius_mm, found);
        found.retain(|other| *other != number);
    }

    /// Distance between the centres of a stone of this diameter and a laid one that touch but for
    /// the gap, mm.
    pub fn touching_mm(&self, number: usize, diameter_mm: f64) -> f64 {
        (self.laid[number].diameter_mm + diameter_mm) / 2.0 + self.gap_mm
    }

    /// The two spots where a stone touches two laid ones (but for the gap): to the left and to the
    /// right of the way from the first to the second.
    pub fn spots_on_two(&self, a: usize, b: usize, diameter_mm: f64) -> [Option<SurfacePoint>; 2] {
        let (ra, rb) = (self.touching_mm(a, diameter_mm), self.touching_mm(b, diameter_mm));
        let (a, b) = (&self.laid[a].frame, &self.laid[b].frame);
        let apart = b.centre_mm - a.centre_mm;
        let d = apart.length();
        if d >= ra + rb || d <= (ra - rb).abs() {
            return [None, None];
        }
        // Meeting points of two circles in the tangent plane, then Newton on the true surface.
        let (ex, ey) = (apart.dot(a.right), apart.dot(a.down));
        let flat = (ex * ex + ey * ey).sqrt().max(1e-9);
        let (ex, ey) = (ex / flat, ey / flat);
        let along = (d * d + ra * ra - rb * rb) / (2.0 * d);
        let aside = (ra * ra - along * along).max(0.0).sqrt();
        [1.0, -1.0].map(|side| {
            let start = self.ground.moved(
                a,
                along * ex + side * aside * ey,
                along * ey - side * aside * ex,
            );
            self.settle(start, a, ra, b, rb)
        })
    }

    /// Newton's method on the two distances in space.
    fn settle(
        &self,
        mut at: SurfacePoint,
        a: &Frame,
        ra: f64,
        b: &Frame,
        rb: f64,
    ) -> Option<SurfacePoint> {
        for _ in 0..8 {
            let here = self.ground.frame(at);
            let (va, vb) = (here.centre_mm - a.centre_mm, here.centre_mm - b.centre_mm);
            let (fa, fb) = (va.length_squared() - ra * ra, vb.length_squared() - rb * rb);
            if fa.abs() < 1e-10 && fb.abs() < 1e-10 {
                return Some(at);
            }
            let (ax, ay) = (2.0 * va.dot(here.right), 2.0 * va.dot(here.down));
            let (bx, by) = (2.0 * vb.dot(here.right), 2.0 * vb.dot(here.down));
            let det = ax * by - ay * bx;
            if det.abs() < 1e-9 {
                return None;
            }
            let step = ((ay * fb - by * fa) / det, (bx * fa - ax * fb) / det);
            let most = self.reach_mm;
            at = self.ground.moved(&here, step.0.clamp(-most, most), step.1.clamp(-most, most));
        }
        None
    }

    /// The place at a distance in space from a laid stone, in a direction from its right (0) over
    /// its down (quarter turn).
    fn beside(&self, from: &Frame, distance_mm: f64, direction: f64) -> SurfacePoint {
        let (x, y) = (libm::cos(direction), libm::sin(direction));
        let mut reach = distance_mm;
        let mut at = self.ground.moved(from, x * reach, y * reach);
        for _ in 0..4 {
            let is = self.ground.surface.world_from_surface(at).distance(from.centre_mm);
            if (is - distance_mm).abs() < 1e-9 || is < 1e-6 {
                break;
            }
            reach *= distance_mm / is;
            at = self.ground.moved(from, x * reach, y * reach);
        }
        at
    }

    /// The spots where a stone touches a laid one and lies flush with an edge.
    pub fn spots_on_edge(&self, a: usize, diameter_mm: f64, found: &mut Vec<SurfacePoint>) {
        found.clear();
        let reach_mm = self.touching_mm(a, diameter_mm);
        let from = &self.laid[a].frame;
        let radius_mm = diameter_mm / 2.0;
        if self.ground.field.clearance_mm(from.at) > reach_mm + radius_mm + 0.1 {
            return;
        }
        const LOOKS: u32 = 20;
        let spare = |direction: f64| {
            let at = self.beside(from, reach_mm, direction);
            (self.ground.field.clearance_mm(at) - radius_mm, at)
        };
        let mut before = spare(0.0);
        for look in 0..LOOKS {
            let (mut low, mut high) = (
                TAU * f64::from(look) / f64::from(LOOKS),
                TAU * f64::from(look + 1) / f64::from(LOOKS),
            );
            let after = spare(high);
            if (before.0 >= 0.0) != (after.0 >= 0.0) {
                let inside_low = before.0 >= 0.0;
                let mut best = if inside_low { before } else { after };
                for _ in 0..26 {
                    let middle = (low + high) / 2.0;
                    let here = spare(middle);
                    if here.0 >= 0.0 {
                        best = here;
                    }
                    if (here.0 >= 0.0) == inside_low {
                        low = middle;
                    } else {
                        high = middle;
                    }
                    if here.0 >= 0.0 && here.0 < 1e-6 {
                        break;
                    }
                }
                found.push(best.1);
            }
            before = after;
        }
    }
}

//! A stretch of wall unrolled about its front: exactly where it is straight, else as the widest cone
//! that fits under it.
//!
//! On a cone that is nowhere outside the wall no way is longer than on the wall itself, so stones that
//! keep their distance on the unrolled cone keep it on the wall. Of all such cones the one is taken
//! that leaves least: the edge of the lower convex hull of the profile over its middle.

use crate::fill::Ground;
use libm::{atan2, cos, hypot, sin};
use shape::SurfacePoint;
use std::f64::consts::{FRAC_PI_2, PI};

/// Step of the profile's table, mm.
const STEP_MM: f64 = 0.25;
/// A wall that is wider than its cone by more than this is parted in two.
const WIDER: f64 = 0.08;
/// Shorter stretches than this are not parted, mm.
const SHORT_MM: f64 = 12.0;
/// A slope below this is taken for it: a cylinder is a very slim cone.
const SLIM: f64 = 1e-7;

/// A place of the profile.
#[derive(Debug, Clone, Copy)]
struct Mark {
    along_mm: f64,
    /// On the wall from the beginning of the stretch, mm.
    way_mm: f64,
    radius_mm: f64,
}

/// A stretch of wall in the plane.
#[derive(Debug)]
pub struct Unrolled {
    /// Sine of the cone's half angle: above 0 where the wall widens away from the rim.
    pub slope: f64,
    marks: Vec<Mark>,
    /// Radius of the cone at the beginning, mm.
    radius_mm: f64,
    /// `around` of the line that is unrolled upright.
    front: f64,
}

impl Unrolled {
    /// The wall between two distances along it, in as many stretches as it takes.
    pub fn stretches(ground: &Ground<'_>, along_mm: (f64, f64), front: f64) -> Vec<Self> {
        let marks = marks(ground, along_mm);
        let (slope, radius_mm) = under(&marks);
        let wider = |mark: &Mark| mark.radius_mm / (radius_mm + slope * mark.way_mm).max(1e-9);
        let widest = marks.iter().max_by(|a, b| wider(a).total_cmp(&wider(b)));
        if let Some(widest) = widest.filter(|mark| wider(mark) > 1.0 + WIDER) {
            let middle_mm = (along_mm.0 + along_mm.1) / 2.0;
            let at_end = widest.along_mm - along_mm.0 < SHORT_MM / 2.0
                || along_mm.1 - widest.along_mm < SHORT_MM / 2.0;
            let part_mm = if at_end { middle_mm } else { widest.along_mm };
            if along_mm.1 - along_mm.0 > SHORT_MM {
                let mut parts = Self::stretches(ground, (along_mm.0, part_mm), front);
                parts.extend(Self::stretches(ground, (part_mm, along_mm.1), front));
                return parts;
            }
        }
        let slope = if slope.abs() < SLIM { SLIM } else { slope.clamp(-1.0, 1.0) };
        vec![Self { slope, marks, radius_mm, front }]
    }

    /// From the tip of the cone to the beginning, mm.
    fn tip_mm(&self) -> f64 {
        self.radius_mm / self.slope.abs()
    }

    fn long_mm(&self) -> f64 {
        self.marks[self.marks.len() - 1].way_mm
    }

    /// Angle of half the sector, rad.
    pub fn half_rad(&self) -> f64 {
        PI * self.slope.abs()
    }

    /// Bounds in the plane, from the front at the beginning: right of the front at most, and from
    /// the least to the greatest down, mm.
    pub fn extent_mm(&self) -> (f64, (f64, f64)) {
        let (start, end) = (self.tip_mm(), self.tip_mm() + self.slope.signum() * self.long_mm());
        let (near, far) = (start.min(end).max(0.0), start.max(end));
        let half = self.half_rad();
        let least = if half > FRAC_PI_2 { far * cos(half) } else { near * cos(half) };
        let right = far * sin(half.min(FRAC_PI_2));
        if self.slope < 0.0 {
            (right, (0.0, start - least))
        } else {
            (right, (least - start, far - start))
        }
    }

    /// The place on the wall; its `around` may be more than half a turn from the front. `None` beyond
    /// the stretch.
    pub fn surface_from_plane(&self, right_mm: f64, down_mm: f64) -> Option<SurfacePoint> {
        let tip_mm = self.tip_mm();
        let upright = if self.slope < 0.0 { tip_mm - down_mm } else { tip_mm + down_mm };
        let from_tip_mm = hypot(right_mm, upright);
        let way_mm = (from_tip_mm - tip_mm) * self.slope.signum();
        if way_mm < -1e-6 || way_mm > self.long_mm() + 1e-6 {
            return None;
        }
        let next = self.marks.partition_point(|mark| mark.way_mm < way_mm);
        let next = next.clamp(1, self.marks.len() - 1);
        let (a, b) = (self.marks[next - 1], self.marks[next]);
        let part = ((way_mm - a.way_mm) / (b.way_mm - a.way_mm).max(1e-12)).clamp(0.0, 1.0);
        Some(SurfacePoint {
            around: self.front + atan2(right_mm, upright) / self.slope.abs(),
            along_mm: a.along_mm + part * (b.along_mm - a.along_mm),
        })
    }
}

/// The profile in small steps.
fn marks(ground: &Ground<'_>, along_mm: (f64, f64)) -> Vec<Mark> {
    let steps = ((along_mm.1 - along_mm.0) / STEP_MM).ceil().max(1.0) as u32;
    let at = |k: f64| along_mm.0 + (along_mm.1 - along_mm.0) * k / f64::from(steps);
    let mut way_mm = 0.0;
    (0..=steps)
        .map(|k| {
            let along = at(f64::from(k));
            if k > 0 {
                let scale = ground.surface.along_scale(at(f64::from(k) - 0.5));
                way_mm += scale * (along - at(f64::from(k) - 1.0));
            }
            Mark { along_mm: along, way_mm, radius_mm: ground.surface.around_scale_mm(along) }
        })
        .collect()
}

/// The widest cone under a profile: its slope and its radius at the beginning.
fn under(marks: &[Mark]) -> (f64, f64) {
    let turns_up = |a: &Mark, b: &Mark, c: &Mark| {
        (b.way_mm - a.way_mm) * (c.radius_mm - a.radius_mm)
            > (b.radius_mm - a.radius_mm) * (c.way_mm - a.way_mm)
    };
    // Lower convex hull (Andrew 1979).
    let mut hull: Vec<Mark> = Vec::new();
    for mark in marks {
        while let [.., a, b] = hull[..]
            && !turns_up(&a, &b, mark)
        {
            hull.pop();
        }
        hull.push(*mark);
    }
    let middle_mm = marks[marks.len() - 1].way_mm / 2.0;
    let next = hull.partition_point(|mark| mark.way_mm < middle_mm).clamp(1, hull.len() - 1);
    let (a, b) = (hull[next - 1], hull[next]);
    let slope = (b.radius_mm - a.radius_mm) / (b.way_mm - a.way_mm).max(1e-9);
    (slope, a.radius_mm - slope * a.way_mm)
}

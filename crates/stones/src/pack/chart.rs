//! Places as a packing reckons with them: an angle round the part and a length down the grown wall.

use glam::DVec3;
use libm::{atan2, cos, hypot, sin};
use shape::{Surface, SurfacePoint};
use std::f64::consts::{PI, TAU};

/// Longest step between two knots of the wall, mm.
const KNOT_MM: f64 = 0.1;

/// Nearer to the axis than this, mm, moves are turned with the wall instead of being taken as small.
const NEAR_AXIS_MM: f64 = 12.0;

/// A place on the surface, with all that distances need. The radius is 1 on a flat part, whose angle
/// is mm to the right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Round the axis, radians in [-pi, pi]; on a flat part mm right of the centre.
    pub turn: f64,
    /// Down the grown wall, mm.
    pub down_mm: f64,
    /// Distance from the axis, mm; 1 on a flat part.
    pub radius_mm: f64,
    /// Height, mm.
    pub z_mm: f64,
    /// Change of radius for each mm down.
    pub radius_slope: f64,
    /// Change of height for each mm down.
    pub z_slope: f64,
}

/// The surface as a chart in which the straight distance through space has a closed form.
///
/// Two places at radii r, s, heights apart by h and turned apart by a lie
/// sqrt((r - s)² + h² + 4 r s sin²(a/2)) apart: the law of cosines. So no place needs a sine of its
/// own, and there is no seam.
#[derive(Debug)]
pub struct Chart {
    revolved: bool,
    straight: bool,
    /// Wall in equal steps: along, radius, height.
    steps: Vec<[f64; 3]>,
    step_mm: f64,
    /// (along, down) of the wall's knots.
    knots: Vec<(f64, f64)>,
}

impl Chart {
    /// The chart of a surface.
    pub fn new(surface: &Surface) -> Self {
        let mut wall = Vec::new();
        let mut down_mm = 0.0;
        let stops = surface.along_stops_mm(KNOT_MM);
        for (index, band) in surface.bands().iter().enumerate() {
            let mut last: Option<DVec3> = None;
            for along_mm in stops.iter().copied() {
                if along_mm < band.along_mm.0 || along_mm > band.along_mm.1 {
                    continue;
                }
                let at = surface.place_in_band(index, SurfacePoint { around: 0.0, along_mm }).0;
                down_mm += last.map_or(0.0, |last| last.distance(at));
                last = Some(at);
                wall.push((down_mm, along_mm, at));
            }
        }
        let revolved = surface.period().is_some();
        let count = (down_mm / KNOT_MM).ceil().max(1.0) as usize;
        let step_mm = down_mm / count as f64;
        let mut steps = Vec::with_capacity(count + 1);
        let mut next = 1;
        for k in 0..=count {
            let down = step_mm * k as f64;
            while next + 1 < wall.len() && wall[next].0 < down {
                next += 1;
            }
            let (a, b) = (&wall[next - 1], &wall[next.min(wall.len() - 1)]);
            let share = ((down - a.0) / (b.0 - a.0).max(1e-12)).clamp(0.0, 1.0);
            let at = a.2.lerp(b.2, share);
            let radius_mm = if revolved { at.x } else { 1.0 };
            steps.push([a.1 + share * (b.1 - a.1), radius_mm, if revolved { at.z } else { at.y }]);
        }
        let knots = wall.iter().map(|knot| (knot.1, knot.0)).collect();
        let straight = surface.bands().len() == 1 && surface.bands()[0].straight;
        Self { revolved, straight, steps, step_mm, knots }
    }

    /// Whether a full turn comes back to the same place.
    pub fn is_revolved(&self) -> bool {
        self.revolved
    }

    /// How many times as long as straight the way down the wall between two neighbours may be: round
    /// a square crease it is the square root of 2.
    pub fn bend(&self) -> f64 {
        if self.straight { 1.0 } else { std::f64::consts::SQRT_2 }
    }

    /// The same angle within half a turn.
    pub fn wrapped(&self, turn: f64) -> f64 {
        if self.revolved && turn.abs() > PI { turn - TAU * (turn / TAU).round() } else { turn }
    }

    /// The place at an angle and a length; beyond an end of the wall it is the end.
    pub fn place(&self, turn: f64, down_mm: f64) -> Place {
        let last = self.steps.len() - 1;
        let down_mm = down_mm.clamp(0.0, self.step_mm * last as f64);
        let at = down_mm / self.step_mm;
        let low = (at as usize).min(last - 1);
        let share = at - low as f64;
        let (a, b) = (self.steps[low], self.steps[low + 1]);
        let (radius_step, z_step) = (b[1] - a[1], b[2] - a[2]);
        Place {
            turn: self.wrapped(turn),
            down_mm,
            radius_mm: a[1] + share * radius_step,
            z_mm: a[2] + share * z_step,
            radius_slope: radius_step / self.step_mm,
            z_slope: z_step / self.step_mm,
        }
    }

    /// How far down the grown wall a place of the bare wall lies, mm; at a crease, the band below.
    pub fn down_mm(&self, along_mm: f64) -> f64 {
        let after =
            self.knots.partition_point(|knot| knot.0 <= along_mm).clamp(1, self.knots.len() - 1);
        let (a, b) = (self.knots[after - 1], self.knots[after]);
        a.1 + (b.1 - a.1) * ((along_mm - a.0) / (b.0 - a.0).max(1e-12)).clamp(0.0, 1.0)
    }

    /// The place of a point of the surface.
    pub fn from_surface(&self, point: SurfacePoint) -> Place {
        self.place(point.around, self.down_mm(point.along_mm))
    }

    /// The point of the surface at a place.
    pub fn to_surface(&self, place: &Place) -> SurfacePoint {
        let last = self.steps.len() - 1;
        let at = place.down_mm / self.step_mm;
        let low = (at as usize).min(last - 1);
        let (a, b) = (self.steps[low][0], self.steps[low + 1][0]);
        SurfacePoint { around: place.turn, along_mm: a + (at - low as f64) * (b - a) }
    }

    /// The place nearest on the wall to a point in space, keeping the point's own radius and height.
    pub fn beside(&self, point: DVec3) -> Place {
        let (turn, radius_mm, z_mm) = if self.revolved {
            (atan2(point.y, point.x), hypot(point.x, point.y), point.z)
        } else {
            (point.x, 1.0, point.y)
        };
        let away = |step: &[f64; 3]| {
            let (r, z) = (step[1] - radius_mm, step[2] - z_mm);
            r * r + z * z
        };
        let nearest = (0..self.steps.len())
            .min_by(|a, b| away(&self.steps[*a]).total_cmp(&away(&self.steps[*b])))
            .unwrap_or(0);
        let place = self.place(turn, self.step_mm * nearest as f64);
        Place { radius_mm, z_mm, ..place }
    }

    /// Angle from `b` to `a`, the short way.
    pub fn turn_between(&self, a: f64, b: f64) -> f64 {
        let turn = a - b;
        if !self.revolved {
            turn
        } else if turn > PI {
            turn - TAU
        } else if turn < -PI {
            turn + TAU
        } else {
            turn
        }
    }

    /// 4 sin²(a/2) and sin(a) of an angle; its square and itself on a flat part.
    fn bent(&self, turn: f64) -> (f64, f64) {
        let q = turn * turn;
        if !self.revolved {
            (q, turn)
        } else if q < 0.09 {
            // Taylor series; the next terms are below 1e-9 of the value.
            (
                q * (1.0 - q / 12.0 * (1.0 - q / 30.0 * (1.0 - q / 56.0))),
                turn * (1.0 - q / 6.0 * (1.0 - q / 20.0 * (1.0 - q / 42.0))),
            )
        } else {
            (2.0 - 2.0 * cos(turn), sin(turn))
        }
    }

    /// Square of the straight distance between two places, mm².
    pub fn distance_squared(&self, a: &Place, b: &Place) -> f64 {
        let (radius, z) = (a.radius_mm - b.radius_mm, a.z_mm - b.z_mm);
        let chord = self.bent(self.turn_between(a.turn, b.turn)).0;
        radius * radius + z * z + a.radius_mm * b.radius_mm * chord
    }

    /// Square of the straight distance, and half of its slopes at `a`: for a mm to the right, and for
    /// a mm down.
    pub fn slopes(&self, a: &Place, b: &Place) -> (f64, f64, f64) {
        let (radius, z) = (a.radius_mm - b.radius_mm, a.z_mm - b.z_mm);
        let (chord, sine) = self.bent(self.turn_between(a.turn, b.turn));
        (
            radius * radius + z * z + a.radius_mm * b.radius_mm * chord,
            b.radius_mm * sine,
            radius * a.radius_slope + z * a.z_slope + 0.5 * b.radius_mm * chord * a.radius_slope,
        )
    }

    /// Square of the straight distance to a place `turn` to the left, at this radius and height, mm².
    pub fn distance_apart(&self, a: &Place, turn: f64, radius_mm: f64, z_mm: f64) -> f64 {
        let (radius, z) = (a.radius_mm - radius_mm, a.z_mm - z_mm);
        radius * radius + z * z + a.radius_mm * radius_mm * self.bent(turn).0
    }

    /// Half of the slopes of [`Self::distance_apart`] at `a`: for a mm to the right, and down.
    pub fn slopes_apart(&self, a: &Place, turn: f64, radius_mm: f64, z_mm: f64) -> (f64, f64) {
        let (chord, sine) = self.bent(turn);
        let (radius, z) = (a.radius_mm - radius_mm, a.z_mm - z_mm);
        let down =
            radius * a.radius_slope + z * a.z_slope + 0.5 * radius_mm * chord * a.radius_slope;
        (radius_mm * sine, down)
    }

    /// The place some mm right and down.
    pub fn moved(&self, from: &Place, right_mm: f64, down_mm: f64) -> Place {
        if self.revolved && from.radius_mm < NEAR_AXIS_MM && from.radius_slope.abs() > 0.3 {
            // As on the level disc below the wall.
            let out = from.radius_mm + down_mm * from.radius_slope;
            let radius_mm = hypot(out, right_mm);
            let down = from.down_mm + (radius_mm - from.radius_mm) / from.radius_slope;
            return self.place(from.turn + atan2(right_mm, out), down);
        }
        self.place(from.turn + right_mm / from.radius_mm.max(1e-3), from.down_mm + down_mm)
    }
}

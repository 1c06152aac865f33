//! Places as a packing reckons with them: an angle round the part and a length down the grown wall.

use glam::{DVec2, DVec3};
use libm::{atan2, cos, hypot, sin};
use shape::{Surface, SurfacePoint};
use std::f64::consts::{PI, TAU};

/// Longest step between two knots of the wall, mm.
const KNOT_MM: f64 = 0.1;

/// Nearer to the axis than this, mm, moves are turned with the wall instead of being taken as small.
const NEAR_AXIS_MM: f64 = 12.0;

/// A place on the surface, with all that distances and moves need. A flat part is taken as standing
/// upright before the axis, its angle being mm to the right and its radius 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Round the axis, radians in [-pi, pi]; on a flat part mm right of the centre.
    pub turn: f64,
    /// Down the grown wall, mm.
    pub down_mm: f64,
    /// In the space of the chart, mm: equal to the part's own up to a rigid motion.
    pub centre_mm: DVec3,
    /// Distance from the axis, mm; 1 on a flat part.
    pub radius_mm: f64,
    /// Unit vector to the right.
    pub right: DVec3,
    /// Unit vector down the wall.
    pub down: DVec3,
}

/// The surface as a chart: every place has an angle and a length down the wall, and knows where it
/// lies in space, so that distances are straight ones and there is no seam.
#[derive(Debug)]
pub struct Chart {
    revolved: bool,
    straight: bool,
    /// Wall in steps: along, radius, height.
    steps: Vec<[f64; 3]>,
    /// How radius and height change over each step, and for each mm of it.
    changes: Vec<Change>,
    /// Steps are about so long: all of them on one straight band.
    step_mm: f64,
    /// Elsewhere they end where pieces of the wall do, so that the chart is the surface itself and not
    /// its chords; how far down each begins, and the first of those in every `step_mm`.
    pieces: Option<(Vec<f64>, Vec<usize>)>,
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
        let pieces = (!straight && revolved).then(|| {
            steps = wall.iter().map(|(_, along_mm, at)| [*along_mm, at.x, at.z]).collect();
            let begins: Vec<f64> = wall.iter().map(|knot| knot.0).collect();
            let first = |k: usize| begins.partition_point(|down| *down <= step_mm * k as f64);
            let firsts = (0..=count).map(|k| first(k).saturating_sub(1)).collect();
            (begins, firsts)
        });
        let mut chart =
            Self { revolved, straight, steps, changes: Vec::new(), step_mm, pieces, knots };
        chart.changes = (0..chart.steps.len() - 1).map(|low| chart.change(low)).collect();
        chart
    }

    fn change(&self, low: usize) -> Change {
        let (a, b) = (self.steps[low], self.steps[low + 1]);
        let step_mm = match &self.pieces {
            None => self.step_mm,
            Some((begins, _)) => (begins[low + 1] - begins[low]).max(1e-12),
        };
        let (radius_mm, z_mm) = (b[1] - a[1], b[2] - a[2]);
        Change {
            step_mm,
            radius_mm,
            z_mm,
            radius_slope: radius_mm / step_mm,
            z_slope: z_mm / step_mm,
        }
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
        let turn = self.wrapped(turn);
        let right = if self.revolved { DVec2::new(-sin(turn), cos(turn)) } else { DVec2::X };
        self.facing(turn, right, down_mm)
    }

    /// The place at an angle whose direction to the right is known.
    #[inline]
    fn facing(&self, turn: f64, right: DVec2, down_mm: f64) -> Place {
        let wall = self.wall(down_mm);
        let out = if self.revolved { DVec2::new(right.y, -right.x) } else { DVec2::ZERO };
        let centre = if self.revolved { wall.radius_mm * out } else { DVec2::new(turn, 0.0) };
        Place {
            turn,
            down_mm: wall.down_mm,
            centre_mm: centre.extend(wall.z_mm),
            radius_mm: wall.radius_mm,
            right: right.extend(0.0),
            down: (wall.radius_slope * out).extend(wall.z_slope),
        }
    }

    /// The wall at a length; beyond an end it is the end.
    #[inline]
    fn wall(&self, down_mm: f64) -> Wall {
        let down_mm = down_mm.clamp(0.0, self.begins_mm(self.steps.len() - 1));
        let (low, share) = self.step_at(down_mm);
        let (begin, change) = (&self.steps[low], &self.changes[low]);
        Wall {
            down_mm,
            radius_mm: begin[1] + share * change.radius_mm,
            z_mm: begin[2] + share * change.z_mm,
            radius_slope: change.radius_slope,
            z_slope: change.z_slope,
        }
    }

    /// How far down the wall a step begins, mm.
    fn begins_mm(&self, step: usize) -> f64 {
        self.pieces.as_ref().map_or(self.step_mm * step as f64, |pieces| pieces.0[step])
    }

    /// The step at a length, and which share of it lies above.
    #[inline]
    fn step_at(&self, down_mm: f64) -> (usize, f64) {
        let last = self.steps.len() - 2;
        let at = down_mm / self.step_mm;
        let Some((begins, firsts)) = &self.pieces else {
            let low = (at as usize).min(last);
            return (low, at - low as f64);
        };
        let mut low = firsts[(at as usize).min(firsts.len() - 1)].min(last);
        while low < last && begins[low + 1] <= down_mm {
            low += 1;
        }
        (low, (down_mm - begins[low]) / self.changes[low].step_mm)
    }

    /// How far down the grown wall a place of the bare wall lies, mm; at a crease, the band below.
    pub fn down_mm(&self, along_mm: f64) -> f64 {
        let after =
            self.knots.partition_point(|knot| knot.0 <= along_mm).clamp(1, self.knots.len() - 1);
        let (a, b) = (self.knots[after - 1], self.knots[after]);
        a.1 + (b.1 - a.1) * ((along_mm - a.0) / (b.0 - a.0).max(1e-12)).clamp(0.0, 1.0)
    }

    /// The place of a point of the surface.
    pub fn place_at(&self, point: SurfacePoint) -> Place {
        self.place(point.around, self.down_mm(point.along_mm))
    }

    /// The point of the surface at a place.
    pub fn to_surface(&self, place: &Place) -> SurfacePoint {
        let (low, share) = self.step_at(place.down_mm);
        let (a, b) = (self.steps[low][0], self.steps[low + 1][0]);
        SurfacePoint { around: place.turn, along_mm: a + share * (b - a) }
    }

    /// A point of the part in the space of the chart, mm.
    pub fn placed(&self, point: DVec3) -> DVec3 {
        if self.revolved { point } else { DVec3::new(point.x, 0.0, point.y) }
    }

    /// The place nearest on the wall to a point in space, keeping the point itself as its centre.
    pub fn beside(&self, point: DVec3) -> Place {
        let centre_mm = self.placed(point);
        let (turn, radius_mm) = if self.revolved {
            (atan2(point.y, point.x), hypot(point.x, point.y))
        } else {
            (point.x, 1.0)
        };
        let away = |step: &[f64; 3]| {
            let (r, z) = (step[1] - radius_mm, step[2] - centre_mm.z);
            r * r + z * z
        };
        let nearest = (0..self.steps.len())
            .min_by(|a, b| away(&self.steps[*a]).total_cmp(&away(&self.steps[*b])))
            .unwrap_or(0);
        Place { centre_mm, radius_mm, ..self.place(turn, self.begins_mm(nearest)) }
    }

    /// The place some mm right and down.
    #[inline]
    pub fn moved(&self, from: &Place, right_mm: f64, down_mm: f64) -> Place {
        if !self.revolved {
            return self.facing(from.turn + right_mm, DVec2::X, from.down_mm + down_mm);
        }
        let slope = from.down.x * from.right.y - from.down.y * from.right.x;
        if from.radius_mm < NEAR_AXIS_MM && slope.abs() > 0.3 {
            // As on the level disc below the wall.
            let out = from.radius_mm + down_mm * slope;
            let radius_mm = hypot(out, right_mm);
            let down = from.down_mm + (radius_mm - from.radius_mm) / slope;
            return self.place(from.turn + atan2(right_mm, out), down);
        }
        let by = right_mm / from.radius_mm.max(1e-3);
        if by.abs() > 0.5 {
            return self.place(from.turn + by, from.down_mm + down_mm);
        }
        // Sine and cosine of a small angle by their series: the next terms are below 1e-12.
        let q = by * by;
        let sine = by * (1.0 - q / 6.0 * (1.0 - q / 20.0 * (1.0 - q / 42.0 * (1.0 - q / 72.0))));
        let cosine = 1.0 - q / 2.0 * (1.0 - q / 12.0 * (1.0 - q / 30.0 * (1.0 - q / 56.0)));
        let right = DVec2::new(
            from.right.x * cosine - from.right.y * sine,
            from.right.x * sine + from.right.y * cosine,
        );
        // One step of Newton's method keeps its length 1 over any number of moves.
        let right = right * (1.5 - 0.5 * right.length_squared());
        self.facing(self.wrapped(from.turn + by), right, from.down_mm + down_mm)
    }
}

/// How the wall changes over one of its steps.
#[derive(Debug, Clone, Copy)]
struct Change {
    step_mm: f64,
    radius_mm: f64,
    z_mm: f64,
    radius_slope: f64,
    z_slope: f64,
}

/// A place of the wall: down it, radius, height and their changes for each mm down.
struct Wall {
    down_mm: f64,
    radius_mm: f64,
    z_mm: f64,
    radius_slope: f64,
    z_slope: f64,
}

/// Square of the straight distance between two places, mm², and half of its slopes at `a`: for a mm
/// to the right, and for a mm down.
pub fn slopes(a: &Place, b: &Place) -> (f64, f64, f64) {
    let apart = a.centre_mm - b.centre_mm;
    (apart.length_squared(), apart.dot(a.right), apart.dot(a.down))
}

/// Square of the straight distance between two places, mm².
pub fn distance_squared(a: &Place, b: &Place) -> f64 {
    a.centre_mm.distance_squared(b.centre_mm)
}

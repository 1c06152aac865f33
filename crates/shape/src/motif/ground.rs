//! What a motif is laid on: the zone as band, window and inset bound it.

use crate::Surface;
use crate::boolean::{Loop, Plane, Region};
use crate::sketch::Sketch;
use glam::DVec2;
use piece::fnv::{EMPTY, fnv1a_64};
use piece::{Diagnostic, FieldPath, Motif};
use std::f64::consts::PI;

/// Patterns need at least this distance from the axis, mm.
const LEAST_RADIUS_MM: f64 = 3.0;

/// The zone without its motif.
pub(crate) struct Ground<'a> {
    pub(super) plane: &'a Plane,
    pub(super) surface: &'a Surface,
    pub(super) region: &'a Region,
    /// Of the motif.
    pub(super) path: FieldPath,
    /// Nearest to and farthest from the rim, mm.
    pub(super) along_mm: (f64, f64),
    /// From where to where round the part, radians; on a flat part mm.
    pub(super) around: (f64, f64),
    /// It has no left and no right end.
    pub(super) all_round: bool,
    seed: u64,
    name: &'a str,
}

impl<'a> Ground<'a> {
    /// `region` is not empty.
    pub(crate) fn new(sketch: &Sketch<'a>, region: &'a Region) -> Self {
        let places = || region.loops.iter().flatten().map(|corner| sketch.plane.place(*corner));
        let extent = |value: &dyn Fn(crate::SurfacePoint) -> f64| {
            places().map(value).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| {
                (low.min(one), high.max(one))
            })
        };
        let turn = sketch.surface.period();
        let window = sketch.zone.region.window_rad.filter(|(from, to)| to - from < 2.0 * PI - 1e-9);
        let around = match (turn, window) {
            (None, _) => extent(&|place| place.around),
            (Some(_), None) => (-PI, PI),
            (Some(turn), Some((from, to))) => {
                let begin = (from + PI).rem_euclid(turn) - PI;
                (begin, begin + (to - from))
            }
        };
        Self {
            plane: sketch.plane,
            surface: sketch.surface,
            region,
            path: sketch.path.key("motif"),
            along_mm: extent(&|place| place.along_mm),
            around,
            all_round: turn.is_some() && window.is_none(),
            seed: sketch.seed,
            name: &sketch.zone.name,
        }
    }

    /// The seed of what is random in the motif.
    pub(super) fn seed(&self, motif: &Motif) -> u64 {
        let own = || fnv1a_64(fnv1a_64(EMPTY, &self.seed.to_le_bytes()), self.name.as_bytes());
        motif.seed.unwrap_or_else(own)
    }

    /// Millimetres for one unit of `around`.
    pub(super) fn scale_mm(&self, along_mm: f64) -> f64 {
        let (start, end) = self.surface.along_range_mm();
        self.surface.around_scale_mm(along_mm.clamp(start, end))
    }

    /// Least and greatest of that between two distances from the rim.
    pub(super) fn scales_mm(&self, (from, to): (f64, f64)) -> (f64, f64) {
        let samples = 128;
        (0..=samples)
            .map(|i| self.scale_mm(from + (to - from) * f64::from(i) / f64::from(samples)))
            .fold((f64::INFINITY, 0.0), |(low, high), one| (low.min(one), high.max(one)))
    }

    /// Complains where the zone comes too near to the axis for a pattern that goes round it.
    pub(super) fn off_axis(&self, at: &FieldPath) -> Result<(), Diagnostic> {
        let (least, _) = self.scales_mm(self.along_mm);
        if self.surface.period().is_none() || least >= LEAST_RADIUS_MM {
            return Ok(());
        }
        let message = format!(
            "the zone comes within {least:.1} mm of the axis of its part; this motif must stay {LEAST_RADIUS_MM} mm away"
        );
        Err(Diagnostic::error(at.clone(), message).hint("Let `band` begin farther out."))
    }

    /// Room from left to right where it is narrowest between two distances from the rim, mm.
    pub(super) fn width_mm(&self, along_mm: (f64, f64)) -> f64 {
        (self.around.1 - self.around.0) * self.scales_mm(along_mm).0
    }

    /// The same place round the part, on the grid exactly, so that what begins and what ends there
    /// meet.
    pub(super) fn snapped(&self, around: f64) -> f64 {
        self.plane.place(self.plane.corner(around, 0.0)).around
    }

    /// Brings a drawing in mm (x to the right, y down) onto the surface so that its y axis runs down
    /// the wall from a place and every width is true: for what hangs or stands.
    pub(super) fn hung(&self, around: f64, along_mm: f64, drawing: &[DVec2]) -> Loop {
        drawing
            .iter()
            .map(|at| {
                let along = along_mm + at.y;
                self.plane.corner(around + at.x / self.scale_mm(along), along)
            })
            .collect()
    }
}

/// The same closed drawing in straight pieces of at most `longest`.
pub(super) fn in_pieces(drawing: &[DVec2], longest: f64) -> Vec<DVec2> {
    let closed: Vec<DVec2> = drawing.iter().chain(drawing.first()).copied().collect();
    let mut fine = line_in_pieces(&closed, longest);
    fine.pop();
    fine
}

/// The same line in straight pieces of at most `longest`.
pub(super) fn line_in_pieces(line: &[DVec2], longest: f64) -> Vec<DVec2> {
    let mut fine = Vec::with_capacity(2 * line.len());
    for pair in line.windows(2) {
        let steps = (pair[0].distance(pair[1]) / longest).ceil().clamp(1.0, 1.0e4) as u32;
        let share = |step: u32| f64::from(step) / f64::from(steps);
        fine.extend((0..steps).map(|step| pair[0].lerp(pair[1], share(step))));
    }
    fine.extend(line.last());
    fine
}

/// Largest step round an arc, radians: a polygon in a circle lacks a sixth of the square of its step,
/// here 0.1 % of the area.
const ARC_STEP: f64 = 0.075;

/// Points of an arc, both ends too, within [`super::TOLERANCE_MM`] of it: a chord over an angle a lies
/// r(1 - cos(a/2)) off. `unit_mm` is the length of one unit of the radius. Angles run from x to y.
pub(super) fn arc(centre: DVec2, radius: f64, from: f64, to: f64, unit_mm: f64) -> Vec<DVec2> {
    let off = (1.0 - super::TOLERANCE_MM / (radius * unit_mm).max(1.0e-6)).max(0.0);
    let step = ARC_STEP.min(2.0 * libm::acos(off));
    let steps = ((to - from).abs() / step).ceil().clamp(4.0, 800.0) as u32;
    (0..=steps)
        .map(|step| {
            let angle = from + (to - from) * f64::from(step) / f64::from(steps);
            centre + radius * DVec2::new(libm::cos(angle), libm::sin(angle))
        })
        .collect()
}

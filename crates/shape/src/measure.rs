//! Areas, lengths and volumes of a surface.
//!
//! A revolved surface is a chain of frusta of cones: lateral area π (r1 + r2) · slant and volume
//! π h (r1² + r1 r2 + r2²) / 3 (Zwillinger, CRC Standard Mathematical Tables and Formulae, "Frustum
//! of a right circular cone"). Between the bands of a grown part, level or sloping strips close the
//! gaps at creases for the volume; they are no part of the area.

use crate::profile::Segment;
use crate::revolved::Revolved;
use crate::surface::Surface;
use glam::DVec2;
use std::f64::consts::{PI, TAU};

const MM3_IN_ML: f64 = 1_000.0;

impl Surface {
    /// Area, mm² (one side of a flat part).
    pub fn area_mm2(&self) -> f64 {
        match self {
            Self::Revolved(revolved) => {
                let (first, last) = revolved.along_range_mm();
                area_between(revolved, first, last)
            }
            Self::Flat(flat) => flat.area_mm2(),
        }
    }

    /// Area of a revolved part all round between two places along the bare wall, mm²; of a flat
    /// part, all of it.
    pub fn area_between_mm2(&self, from_mm: f64, to_mm: f64) -> f64 {
        match self {
            Self::Revolved(revolved) => area_between(revolved, from_mm, to_mm),
            Self::Flat(flat) => flat.area_mm2(),
        }
    }

    /// Length along this surface from start to end, mm; height of the outline of a flat part.
    pub fn wall_mm(&self) -> f64 {
        match self {
            Self::Revolved(revolved) => {
                revolved.segments().iter().map(|segment| slant_mm(revolved, segment)).sum()
            }
            Self::Flat(flat) => flat.size_mm().y,
        }
    }

    /// From the lowest to the highest place, mm; 0 for a flat part.
    pub fn height_mm(&self) -> f64 {
        let (low_mm, high_mm) = self.z_range_mm();
        high_mm - low_mm
    }

    /// Lowest and highest z in the part frame, mm.
    pub fn z_range_mm(&self) -> (f64, f64) {
        match self {
            Self::Revolved(revolved) => meridian(revolved)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                    (low.min(at.y), high.max(at.y))
                }),
            Self::Flat(flat) => (flat.thickness_mm(), flat.thickness_mm()),
        }
    }

    /// Largest distance from the axis, mm; on a flat part half of its width.
    pub fn widest_mm(&self) -> f64 {
        match self {
            Self::Revolved(revolved) => meridian(revolved).fold(0.0, |widest, at| at.x.max(widest)),
            Self::Flat(flat) => flat.size_mm().x / 2.0,
        }
    }

    /// Volume enclosed by the surface and level discs at its ends, ml; 0 for a flat part.
    pub fn volume_ml(&self) -> f64 {
        match self {
            Self::Revolved(revolved) => {
                let points: Vec<DVec2> = meridian(revolved).collect();
                let frusta = points.windows(2).map(|pair| {
                    let (a, b) = (pair[0], pair[1]);
                    PI * (a.y - b.y) * (a.x * a.x + a.x * b.x + b.x * b.x) / 3.0
                });
                frusta.sum::<f64>() / MM3_IN_ML
            }
            Self::Flat(_) => 0.0,
        }
    }

    /// Length of the parallel through a place, mm; `None` on a flat part.
    pub fn girth_mm(&self, along_mm: f64) -> Option<f64> {
        self.period().map(|_| TAU * self.around_scale_mm(along_mm))
    }
}

/// Every corner of the meridian in order, as (radius, z).
fn meridian(revolved: &Revolved) -> impl Iterator<Item = DVec2> {
    revolved.segments().iter().flat_map(|segment| {
        let (start, end) = revolved.segment_ends_mm(segment);
        [start, end]
    })
}

fn slant_mm(revolved: &Revolved, segment: &Segment) -> f64 {
    (segment.along_mm.1 - segment.along_mm.0) * revolved.segment_scale(segment)
}

fn area_between(revolved: &Revolved, from_mm: f64, to_mm: f64) -> f64 {
    let parts = revolved.segments().iter().map(|segment| {
        let (start_mm, end_mm) = segment.along_mm;
        let (low_mm, high_mm) = (from_mm.max(start_mm), to_mm.min(end_mm));
        if high_mm <= low_mm {
            return 0.0;
        }
        let length_mm = end_mm - start_mm;
        let (low, high) = ((low_mm - start_mm) / length_mm, (high_mm - start_mm) / length_mm);
        let (start, end) = revolved.segment_ends_mm(segment);
        let radii = start.lerp(end, low).x + start.lerp(end, high).x;
        PI * radii * (high - low) * slant_mm(revolved, segment)
    });
    parts.sum()
}

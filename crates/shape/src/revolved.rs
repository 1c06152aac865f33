//! A surface of revolution, bare or grown.

use crate::profile::{Profile, Segment};
use crate::surface::{Band, SurfacePoint};
use glam::{DVec2, DVec3};
use std::sync::Arc;

/// Least share of its bare length that a place is taken to keep when a narrow hollow fills up.
const LEAST_ALONG_SCALE: f64 = 0.01;

/// A surface of revolution.
///
/// The bare meridian is a chain of straight pieces, each a cone, cylinder or level ring; smooth runs
/// are cut into pieces of at most 0.1 mm. Growing moves every place along its normal, band by band:
/// at an outer crease the two bands part, at an inner one they cross. In a smooth hollow narrower
/// than the growth the surface would turn back on itself; there `along_scale` is held at 0.01, and a
/// radius is never taken below 0.
#[derive(Debug, Clone, PartialEq)]
pub struct Revolved {
    profile: Arc<Profile>,
    thickness_mm: f64,
}

impl Revolved {
    pub(crate) fn bare(profile: Profile) -> Self {
        Self { profile: Arc::new(profile), thickness_mm: 0.0 }
    }

    /// The same surface moved outward along its normal by `thickness_mm` more.
    #[must_use]
    pub fn grown(&self, thickness_mm: f64) -> Self {
        Self { profile: Arc::clone(&self.profile), thickness_mm: self.thickness_mm + thickness_mm }
    }

    /// How far it has grown from the bare surface, mm.
    pub fn thickness_mm(&self) -> f64 {
        self.thickness_mm
    }

    /// The stretches between creases, from the start.
    pub fn bands(&self) -> &[Band] {
        &self.profile.bands
    }

    /// First and last place along the bare wall, mm.
    pub fn along_range_mm(&self) -> (f64, f64) {
        let segments = &self.profile.segments;
        (segments[0].along_mm.0, segments[segments.len() - 1].along_mm.1)
    }

    /// Place in space, part frame, mm. Beyond an end it is the end; at a crease, the band below.
    pub fn world_from_surface(&self, point: SurfacePoint) -> DVec3 {
        let at = self.meridian_mm(self.find(point.along_mm), point.along_mm);
        turned(at, point.around)
    }

    /// Outward unit normal; at a crease, that of the band below.
    pub fn normal(&self, point: SurfacePoint) -> DVec3 {
        turned(meridian_normal(self.find(point.along_mm), point.along_mm), point.around)
    }

    /// Place (mm) and normal on one band, whose ends are reached exactly: for meshes, which need
    /// both sides of a crease.
    pub fn place_in_band(&self, band: usize, point: SurfacePoint) -> (DVec3, DVec3) {
        let segment = self.find_in_band(band, point.along_mm);
        (
            turned(self.meridian_mm(segment, point.along_mm), point.around),
            turned(meridian_normal(segment, point.along_mm), point.around),
        )
    }

    /// Radius, mm.
    pub fn radius_mm(&self, along_mm: f64) -> f64 {
        self.meridian_mm(self.find(along_mm), along_mm).x
    }

    /// Height above the lowest point of the bare part, mm.
    pub fn z_mm(&self, along_mm: f64) -> f64 {
        self.meridian_mm(self.find(along_mm), along_mm).y
    }

    /// Millimetres on this surface for one mm along the bare wall: 1 on straight bands,
    /// 1 + curvature × growth on smooth ones (parallel curves; do Carmo, Differential Geometry of
    /// Curves and Surfaces, section 1-7, from memory).
    pub fn along_scale(&self, along_mm: f64) -> f64 {
        self.segment_scale(self.find(along_mm))
    }

    pub(crate) fn segment_scale(&self, segment: &Segment) -> f64 {
        if self.thickness_mm == 0.0 || segment.push.0 == segment.push.1 {
            return 1.0;
        }
        let bare = segment.bare_mm.1 - segment.bare_mm.0;
        let grown = bare + self.thickness_mm * (segment.push.1 - segment.push.0);
        let scale = grown.dot(bare) / bare.length_squared();
        scale.max(LEAST_ALONG_SCALE)
    }

    /// Ends of the grown meridian of a segment, (radius, z), mm.
    pub(crate) fn segment_ends_mm(&self, segment: &Segment) -> (DVec2, DVec2) {
        let move_out = |bare: DVec2, push: DVec2| {
            let at = bare + self.thickness_mm * push;
            DVec2::new(at.x.max(0.0), at.y)
        };
        (move_out(segment.bare_mm.0, segment.push.0), move_out(segment.bare_mm.1, segment.push.1))
    }

    pub(crate) fn segments(&self) -> &[Segment] {
        &self.profile.segments
    }

    pub(crate) fn band_segments(&self, band: usize) -> &[Segment] {
        let segments = &self.profile.segments;
        let band = band.min(self.profile.bands.len() - 1);
        let start = segments.partition_point(|segment| segment.band < band);
        let end = segments.partition_point(|segment| segment.band <= band);
        &segments[start..end]
    }

    /// Places along the wall to put rings of a mesh at: both ends of every band, every kink, and
    /// enough between that no two are farther apart than `max_step_mm` (at least 0.1).
    pub fn along_stops_mm(&self, max_step_mm: f64) -> Vec<f64> {
        let max_step_mm = max_step_mm.max(0.1);
        let mut stops = vec![self.along_range_mm().0];
        let mut last_mm = stops[0];
        for (i, segment) in self.profile.segments.iter().enumerate() {
            let end_mm = segment.along_mm.1;
            let next = self.profile.segments.get(i + 1);
            let corner = next
                .is_none_or(|next| next.band != segment.band || next.normal.0 != segment.normal.1);
            // Smooth runs come in pieces shorter than a step: take as many at a time as fit.
            let full = next.is_some_and(|next| next.along_mm.1 - last_mm > max_step_mm);
            if corner || full {
                let span_mm = end_mm - last_mm;
                let steps = (span_mm / max_step_mm - 1e-9).ceil().max(1.0) as usize;
                stops.extend((1..steps).map(|k| last_mm + span_mm * k as f64 / steps as f64));
                stops.push(end_mm);
                last_mm = end_mm;
            }
        }
        stops
    }

    fn find(&self, along_mm: f64) -> &Segment {
        pick(&self.profile.segments, along_mm)
    }

    fn find_in_band(&self, band: usize, along_mm: f64) -> &Segment {
        pick(self.band_segments(band), along_mm)
    }

    fn meridian_mm(&self, segment: &Segment, along_mm: f64) -> DVec2 {
        let (start, end) = self.segment_ends_mm(segment);
        start.lerp(end, fraction(segment, along_mm))
    }
}

/// The segment that holds a place; the later one where two meet.
fn pick(segments: &[Segment], along_mm: f64) -> &Segment {
    let after = segments.partition_point(|segment| segment.along_mm.0 <= along_mm);
    &segments[after.max(1) - 1]
}

fn fraction(segment: &Segment, along_mm: f64) -> f64 {
    let (start, end) = segment.along_mm;
    ((along_mm - start) / (end - start)).clamp(0.0, 1.0)
}

fn meridian_normal(segment: &Segment, along_mm: f64) -> DVec2 {
    if segment.normal.0 == segment.normal.1 {
        return segment.normal.0;
    }
    segment.normal.0.lerp(segment.normal.1, fraction(segment, along_mm)).normalize()
}

/// A point or direction of the meridian turned round the axis.
fn turned(meridian: DVec2, around: f64) -> DVec3 {
    DVec3::new(meridian.x * libm::cos(around), meridian.x * libm::sin(around), meridian.y)
}

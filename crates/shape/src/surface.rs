//! What a surface can answer about itself.

use crate::flat::Flat;
use crate::profile::Profile;
use crate::revolved::Revolved;
use glam::DVec3;
use piece::{Diagnostic, FieldPath, Form, Measure, Outline, PartRole};
use std::f64::consts::TAU;

/// A place on a part, named by its bare surface: growing by coats moves the place outward along the
/// normal and keeps its name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurfacePoint {
    /// Round the axis from the front, positive to the right as seen from outside, radians; on a flat
    /// part mm right of the centre.
    pub around: f64,
    /// Along the bare wall from the start (rim), mm; on a flat part mm down from the centre.
    pub along_mm: f64,
}

/// A surface of a part, bare or grown. Part frame: z up, axis on z, lowest point at z = 0, front at
/// +x, so that +y is to the right for someone who looks at the front. Flat: in the plane z = 0,
/// normal +z, x right, y up, outline centred on the origin.
#[derive(Debug, Clone, PartialEq)]
pub enum Surface {
    /// A surface of revolution.
    Revolved(Revolved),
    /// A flat plate.
    Flat(Flat),
}

/// A stretch of a part between two creases.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// `wall`, `shoulder`, `lid top`, `skirt`, `plate`; unique within a part.
    pub name: String,
    /// Where it begins and ends along the bare wall, mm.
    pub along_mm: (f64, f64),
    /// One cone, cylinder or plane: unrolls exactly.
    pub straight: bool,
}

impl Surface {
    /// The bare surface of a part. `part` is the part's place in the piece.
    ///
    /// # Errors
    /// See [`Surface::revolved`] and [`Flat::new`].
    pub fn new(form: &Form, role: PartRole, part: &FieldPath) -> Result<Self, Vec<Diagnostic>> {
        match form {
            Form::Revolved(measures) => {
                let profile = Profile::new(measures, role, &part.key("revolved"))?;
                Ok(Self::Revolved(Revolved::bare(profile)))
            }
            Form::Flat(outline) => Ok(Self::Flat(Flat::new(outline, &part.key("flat"))?)),
        }
    }

    /// The bare surface of a body with these measurements, from the rim down.
    ///
    /// # Errors
    /// Fewer than two measurements, sizes that are no numbers, negative or over 2 m, distances that
    /// do not grow, a wall whose radius changes by more than its length, a smooth run that would
    /// have to.
    pub fn revolved(measures: &[Measure]) -> Result<Self, Vec<Diagnostic>> {
        let profile = Profile::new(measures, PartRole::Body, &FieldPath::root().key("revolved"))?;
        Ok(Self::Revolved(Revolved::bare(profile)))
    }

    /// The bare face of a plate with this outline.
    ///
    /// # Errors
    /// See [`Flat::new`].
    pub fn flat(outline: &Outline) -> Result<Self, Vec<Diagnostic>> {
        Ok(Self::Flat(Flat::new(outline, &FieldPath::root().key("flat"))?))
    }

    /// The same surface moved outward along its normal by `thickness_mm` more.
    #[must_use]
    pub fn grown(&self, thickness_mm: f64) -> Self {
        match self {
            Self::Revolved(revolved) => Self::Revolved(revolved.grown(thickness_mm)),
            Self::Flat(flat) => Self::Flat(flat.grown(thickness_mm)),
        }
    }

    /// How far it has grown from the bare surface, mm.
    pub fn thickness_mm(&self) -> f64 {
        match self {
            Self::Revolved(revolved) => revolved.thickness_mm(),
            Self::Flat(flat) => flat.thickness_mm(),
        }
    }

    /// Place in space, part frame, mm. Beyond an end of a revolved part it is the end; at a crease
    /// it is on the band below.
    pub fn world_from_surface(&self, point: SurfacePoint) -> DVec3 {
        match self {
            Self::Revolved(revolved) => revolved.world_from_surface(point),
            Self::Flat(flat) => flat.world_from_surface(point),
        }
    }

    /// Outward unit normal; at a crease, of the band below.
    pub fn normal(&self, point: SurfacePoint) -> DVec3 {
        match self {
            Self::Revolved(revolved) => revolved.normal(point),
            Self::Flat(_) => DVec3::Z,
        }
    }

    /// Place (part frame, mm) and outward normal on the band with this index, whose ends are reached
    /// exactly: for meshes, which need both sides of a crease.
    pub fn place_in_band(&self, band: usize, point: SurfacePoint) -> (DVec3, DVec3) {
        match self {
            Self::Revolved(revolved) => revolved.place_in_band(band, point),
            Self::Flat(flat) => (flat.world_from_surface(point), DVec3::Z),
        }
    }

    /// Millimetres on this surface for one unit of `around`: its radius there; 1 on a flat part.
    pub fn around_scale_mm(&self, along_mm: f64) -> f64 {
        match self {
            Self::Revolved(revolved) => revolved.radius_mm(along_mm),
            Self::Flat(_) => 1.0,
        }
    }

    /// Millimetres on this surface for one mm along the bare wall: 1 on straight bands.
    pub fn along_scale(&self, along_mm: f64) -> f64 {
        match self {
            Self::Revolved(revolved) => revolved.along_scale(along_mm),
            Self::Flat(_) => 1.0,
        }
    }

    /// A full turn of `around` (2 pi), or `None` on a flat part.
    pub fn period(&self) -> Option<f64> {
        match self {
            Self::Revolved(_) => Some(TAU),
            Self::Flat(_) => None,
        }
    }

    /// First and last `along_mm`.
    pub fn along_range_mm(&self) -> (f64, f64) {
        match self {
            Self::Revolved(revolved) => revolved.along_range_mm(),
            Self::Flat(flat) => flat.bands()[0].along_mm,
        }
    }

    /// The stretches between creases, from the start.
    pub fn bands(&self) -> &[Band] {
        match self {
            Self::Revolved(revolved) => revolved.bands(),
            Self::Flat(flat) => flat.bands(),
        }
    }

    /// The band that holds a place, by index; at a crease, the one below.
    pub fn band_at(&self, along_mm: f64) -> usize {
        let bands = self.bands();
        bands.partition_point(|band| band.along_mm.0 <= along_mm).max(1) - 1
    }

    /// Places along the wall to put rings of a mesh at: both ends of every band, every kink, and
    /// enough between that no two are farther apart than `max_step_mm` (at least 0.1). On a flat
    /// part, its top and bottom.
    pub fn along_stops_mm(&self, max_step_mm: f64) -> Vec<f64> {
        match self {
            Self::Revolved(revolved) => revolved.along_stops_mm(max_step_mm),
            Self::Flat(_) => {
                let (first, last) = self.along_range_mm();
                vec![first, last]
            }
        }
    }
}

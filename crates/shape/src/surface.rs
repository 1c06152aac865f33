//! What a surface can answer about itself.

use glam::DVec3;

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
#[derive(Debug, Clone)]
pub enum Surface {
    /// A surface of revolution.
    Revolved(Revolved),
    /// A flat plate.
    Flat(Flat),
}

/// A surface of revolution.
#[derive(Debug, Clone)]
pub struct Revolved {}

/// A flat plate.
#[derive(Debug, Clone)]
pub struct Flat {}

/// A stretch of a part between two creases.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// `wall`, `shoulder`, `lid top`, `skirt`, `plate`.
    pub name: String,
    /// Where it begins and ends along the bare wall, mm.
    pub along_mm: (f64, f64),
    /// One cone, cylinder or plane: unrolls exactly.
    pub straight: bool,
}

impl Surface {
    /// The same surface moved outward along its normal by `thickness_mm` more.
    #[must_use]
    pub fn grown(&self, thickness_mm: f64) -> Self {
        let _ = thickness_mm;
        todo!()
    }

    /// Place in space, part frame, mm.
    pub fn world_from_surface(&self, point: SurfacePoint) -> DVec3 {
        let _ = point;
        todo!()
    }

    /// Outward unit normal.
    pub fn normal(&self, point: SurfacePoint) -> DVec3 {
        let _ = point;
        todo!()
    }

    /// Millimetres on this surface for one unit of `around`: its radius there; 1 on a flat part.
    pub fn around_scale_mm(&self, along_mm: f64) -> f64 {
        let _ = along_mm;
        todo!()
    }

    /// Millimetres on this surface for one mm along the bare wall: 1 on straight bands.
    pub fn along_scale(&self, along_mm: f64) -> f64 {
        let _ = along_mm;
        todo!()
    }

    /// A full turn of `around` (2 pi), or `None` on a flat part.
    pub fn period(&self) -> Option<f64> {
        todo!()
    }

    /// First and last `along_mm`.
    pub fn along_range_mm(&self) -> (f64, f64) {
        todo!()
    }

    /// The stretches between creases, from the start.
    pub fn bands(&self) -> &[Band] {
        todo!()
    }
}

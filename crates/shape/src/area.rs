//! Regions of a part, and how far a place is from their edges.

use crate::{Surface, SurfacePoint};

/// A region in the (around, along) coordinates of a part. On a revolved part `around` lies in
/// [-pi, pi]; a region that runs across the back is stored cut there, and the cut is no edge.
#[derive(Debug, Clone, Default)]
pub struct Area {
    /// Closed loops, even-odd, without a repeated last point, fine enough to be taken as straight.
    pub loops: Vec<Vec<SurfacePoint>>,
    /// Its real edges (never the cut at the back), each a polyline; closed ones repeat their first
    /// point, modulo a full turn.
    pub edges: Vec<Vec<SurfacePoint>>,
}

/// Answers distance questions about an area on a surface.
#[derive(Debug)]
pub struct Field {}

impl Field {
    /// Prepares an area. Creases and the ends of the part count as edges.
    pub fn new(surface: &Surface, area: &Area) -> Self {
        let _ = (surface, area);
        todo!()
    }

    /// Distance in space from a place on the surface to the nearest edge, mm; negative outside the
    /// area. Never more than the distance along the surface.
    pub fn clearance_mm(&self, point: SurfacePoint) -> f64 {
        let _ = point;
        todo!()
    }

    /// Whether a place is in the area.
    pub fn contains(&self, point: SurfacePoint) -> bool {
        let _ = point;
        todo!()
    }
}

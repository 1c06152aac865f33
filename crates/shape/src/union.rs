//! Several regions of a part as one, without the borders between them.

use crate::boolean::{Corner, Loop, Plane, Region};
use crate::{Area, Surface, SurfacePoint};

/// Regions that lie no farther apart than this, mm, touch: less than anyone can measure or paint.
const TOUCHING_MM: f64 = 0.01;

/// Seams shorter than this, mm, are no seams but corners that point into the region.
const LEAST_SEAM_MM: f64 = 0.02;

/// What a filled seam overlaps both sides by, mm: some steps of the grid.
const OVERLAP_MM: f64 = 1.5e-5;

impl Area {
    /// What lies in any of these areas of a part, as one area: borders between them are no edges.
    /// `surface` is the part's bare surface. Areas that lie within 0.01 mm of each other touch; beyond
    /// that their edges stay where they are to 0.00002 mm.
    #[must_use]
    pub fn united(areas: &[&Self], surface: &Surface) -> Self {
        let plane = Plane::new(surface);
        let corners = |one: &Vec<SurfacePoint>| -> Loop {
            one.iter().map(|place| plane.corner(place.around, place.along_mm)).collect()
        };
        let loops: Vec<Loop> = areas.iter().flat_map(|area| &area.loops).map(corners).collect();
        let united = Region::filled(&plane, &loops);
        Self::new(&plane, &united.without_seams(&plane), surface)
    }

    /// Length of the border that two areas of a part share, mm along its bare surface.
    pub fn border_mm(&self, other: &Self, surface: &Surface) -> f64 {
        let united = Self::united(&[self, other], surface);
        // Of a shared border both have an edge, and together they have none.
        let edges_mm = [self, other, &united].map(|area| area.edge_length_mm(surface));
        (0.5 * (edges_mm[0] + edges_mm[1] - edges_mm[2])).max(0.0)
    }
}

impl Region {
    /// The same with every seam narrower than [`TOUCHING_MM`] filled: what comes in when the region is
    /// grown and shrunk again (a closing).
    fn without_seams(&self, plane: &Plane) -> Self {
        // With what lies a turn on beside it, so that the cut at the back is no edge.
        let turned = |shift: i64| {
            self.loops.iter().map(move |one| -> Loop {
                one.iter().map(|corner| Corner::new(corner.x + shift, corner.y)).collect()
            })
        };
        let around = match plane.half_turn {
            Some(half) => {
                let copies: Vec<Loop> =
                    [-2 * half, 0, 2 * half].into_iter().flat_map(turned).collect();
                Self::filled(plane, &copies)
            }
            None => self.clone(),
        };
        let reach_mm = 0.5 * TOUCHING_MM;
        let closed = around.inset(plane, -reach_mm).inset(plane, reach_mm);
        let least = plane.steps(LEAST_SEAM_MM);
        let mut seams = closed.rest(&around);
        seams.loops.retain(|one| longest_side(one) > least);
        // Rounded to the grid a seam might again leave a seam of one step.
        let seams = seams.inset(plane, -OVERLAP_MM);
        if seams.is_empty() {
            return self.clone();
        }
        plane.wrapped(&[self.loops.as_slice(), &seams.loops].concat())
    }
}

/// The longer side of the upright box that holds a loop, grid steps.
fn longest_side(one: &Loop) -> i64 {
    let side = |values: &mut dyn Iterator<Item = i64>| {
        let first = values.next().unwrap_or_default();
        let (low, high) = values.fold((first, first), |(low, high), v| (low.min(v), high.max(v)));
        high - low
    };
    side(&mut one.iter().map(|corner| corner.x)).max(side(&mut one.iter().map(|corner| corner.y)))
}

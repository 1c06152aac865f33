//! The greatest thickness along the true profile of a part, and the planned coat against it.

use super::Turning;
use shape::{Surface, SurfacePoint};
use std::f64::consts::FRAC_1_SQRT_2;

/// Places lie at most this far from each other, mm along the wall.
const STEP_MM: f64 = 2.0;

/// A place along the wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Along the bare wall from the start (of a body: the rim), mm.
    pub along_mm: f64,
    /// Radius of the surface there, mm.
    pub radius_mm: f64,
    /// Greatest mean thickness that stays there, mm.
    pub most_mm: f64,
    /// Planned thickness there, mm; 0 where no coat goes.
    pub planned_mm: f64,
}

impl Place {
    /// Planned over greatest.
    pub fn share(&self) -> f64 {
        self.planned_mm / self.most_mm
    }
}

/// A coat along a wall.
#[derive(Debug, Clone, PartialEq)]
pub struct Along {
    /// Places from the start, at most 2 mm apart, both ends of every band among them.
    pub places: Vec<Place>,
    /// The place that uses most of what stays there; of several, the one nearest the start.
    pub worst: Place,
}

/// What stays along the wall of a part on the turner, and `planned` (mm at a place in mm along the
/// wall) against it. `surface` is the one that the coat goes on.
///
/// The greatest thickness goes with the root of the radius, slice by slice. Stretches that face along
/// the axis rather than away from it (by more than 45 degrees) are left out, since no slice turns
/// beneath its film there; they lie level ([`super::flat`]). `None` on a flat part, or if nothing is left.
pub fn allowed_along(
    surface: &Surface,
    turning: &Turning,
    planned: &dyn Fn(f64) -> f64,
) -> Option<Along> {
    surface.period()?;
    let stops = surface.along_stops_mm(STEP_MM);
    let mut places: Vec<Place> = Vec::new();
    // Band by band, so that both sides of a crease are looked at.
    for (band, ends) in surface.bands().iter().map(|band| band.along_mm).enumerate() {
        let inside = stops.iter().filter(|&&stop| ends.0 <= stop && stop <= ends.1);
        places.extend(inside.filter_map(|&along_mm| {
            let at = SurfacePoint { around: 0.0, along_mm };
            let (place, normal) = surface.place_in_band(band, at);
            let turns = normal.z.abs() <= FRAC_1_SQRT_2 && place.x > 0.0;
            turns.then(|| Place {
                along_mm,
                radius_mm: place.x,
                most_mm: turning.most_film_mm(place.x),
                planned_mm: planned(along_mm),
            })
        }));
    }
    let worst = places
        .iter()
        .copied()
        .reduce(|worst, place| if place.share() > worst.share() { place } else { worst })?;
    Some(Along { places, worst })
}

//! How much of a zone a layout left bare that should have covered it.

use crate::asked::Asked;
use crate::fill::{Ground, Spot};
use crate::room;
use crate::space::Space;
use piece::Layout;
use shape::SurfacePoint;

/// Share of a zone that lies bare before it is worth a word.
const WORTH: f64 = 0.03;

/// Share of the places for which `is_own` says yes that lie farther from every stone than where stones
/// lie close: half the smallest stone and its gap. `None` where that is too little to tell of, and of
/// layouts that are not meant to cover their zone.
pub fn share(
    ground: &Ground<'_>,
    asked: &Asked<'_>,
    spots: &[Spot],
    is_own: &dyn Fn(SurfacePoint) -> bool,
) -> Option<f64> {
    match asked.layer.layout {
        Layout::Rows { .. } | Layout::Scatter { .. } | Layout::Rings => {}
        Layout::Outline { .. } | Layout::Line | Layout::Sparse { .. } | Layout::Pockets => {
            return None;
        }
    }
    let sizes = asked.sizes();
    let widest_mm = sizes.first().map_or(0.0, |(size, _)| size.diameter_mm);
    let near_mm = sizes.last()?.0.diameter_mm / 2.0 + asked.layer.gap_mm;
    let mut space = Space::new(widest_mm + near_mm, spots.len() + ground.obstacles.len());
    for spot in spots {
        let centre_mm = ground.surface.world_from_surface(spot.at);
        space.set(centre_mm, sizes[spot.size].0.diameter_mm, 0.0);
    }
    for obstacle in ground.obstacles {
        space.set(obstacle.centre_mm, obstacle.diameter_mm, 0.0);
    }
    let (mut places, mut bare) = (0_u32, 0_u32);
    for (at, clear_mm) in room::samples(ground) {
        if clear_mm <= 0.0 || !is_own(at) {
            continue;
        }
        places += 1;
        let centre_mm = ground.surface.world_from_surface(at);
        bare += u32::from(space.room_mm(centre_mm, 0.0, 0.0, 2.0 * near_mm) > near_mm);
    }
    let share = f64::from(bare) / f64::from(places.max(1));
    (share > WORTH).then_some(share)
}

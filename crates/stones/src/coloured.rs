//! Spots become stones: on the surface of their zone, in its colours.

use crate::drawer::Drawer;
use crate::fill::Spot;
use crate::going::Going;
use crate::joins::Zoned;
use crate::{Stone, colour};
use glam::DVec3;
use piece::Piece;
use piece::fnv::{EMPTY, fnv1a_64};
use rand_pcg::Pcg64;
use std::collections::BTreeMap;

/// Stones, and of each size and colour how many the drawer lacked, so that they have another.
pub struct Coloured {
    pub stones: Vec<Stone>,
    pub changed: BTreeMap<(usize, usize), usize>,
}

/// The stones of a layer that belong to one zone, on its own surface and in its colours, before
/// they are put in setting order; in any colours when no longer `going`.
pub fn coloured(
    piece: &Piece,
    zoned: &Zoned<'_>,
    layer: usize,
    spots: &[Spot],
    drawer: &Drawer<'_>,
    going: Going<'_>,
) -> Coloured {
    if spots.is_empty() {
        return Coloured { stones: Vec::new(), changed: BTreeMap::new() };
    }
    let (asked, surface) = (zoned.asked(layer), &zoned.shape.surface);
    // From the rim down, so that colours grow from one front.
    let mut spots = spots.to_vec();
    spots.sort_by(|a, b| {
        (a.row.cmp(&b.row))
            .then(a.at.along_mm.total_cmp(&b.at.along_mm))
            .then(a.at.around.total_cmp(&b.at.around))
    });
    let centres: Vec<DVec3> =
        spots.iter().map(|spot| surface.world_from_surface(spot.at)).collect();
    let sizes = asked.sizes();
    let diameter = |spot: &Spot| sizes[spot.size].0.diameter_mm;
    let mean_mm = spots.iter().map(&diameter).sum::<f64>() / spots.len() as f64;
    let chance = Pcg64::new(u128::from(piece.seed), u128::from(dice(piece, zoned, layer)));
    let uncoloured = colour::Uncoloured {
        surface,
        at: &spots.iter().map(|spot| spot.at).collect::<Vec<_>>(),
        centres_mm: &centres,
        diameters_mm: &spots.iter().map(&diameter).collect::<Vec<_>>(),
        pitch_mm: mean_mm + asked.layer.gap_mm,
        going,
    };
    let mut colours = colour::give(&uncoloured, asked.layer, &piece.colours, chance);
    let changed = drawer.recolour(&asked, &spots, &mut colours);
    let stone = |(index, spot): (usize, &Spot)| Stone {
        zone: zoned.zone,
        part: zoned.shape.part,
        layer,
        patch: 0,
        row: spot.row,
        size: asked.layer.sizes[spot.size].0,
        diameter_mm: diameter(spot),
        colour: colours[index],
        at: spot.at,
        centre_mm: centres[index],
        normal: surface.normal(spot.at),
        around_mm: spot.at.around * surface.around_scale_mm(spot.at.along_mm),
    };
    Coloured { stones: spots.iter().enumerate().map(stone).collect(), changed }
}

/// A zone draws by its name, so that it keeps its stones when others come and go.
pub fn dice(piece: &Piece, zoned: &Zoned<'_>, layer: usize) -> u64 {
    let of_zone = fnv1a_64(EMPTY, piece.zones[zoned.zone].name.as_bytes());
    if layer == 0 { of_zone } else { fnv1a_64(of_zone, &(layer as u64).to_le_bytes()) }
}

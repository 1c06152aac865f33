//! How well each of the zones that were filled together is filled.

use crate::colour::picture_difference_while;
use crate::fill::Ground;
use crate::going::Going;
use crate::joins::Zoned;
use crate::quality::Seen;
use crate::{Stone, ZoneStones};
use piece::Piece;
use shape::SurfacePoint;
use std::f64::consts::PI;

/// Measures each zone. `ground` is all of them together with the stones of others about it; `stones`
/// are those that lie on it, and `zone_of` tells which zone a place of it belongs to. A stone counts in
/// full for the zone under its centre. The figures mean nothing when no longer `going`.
pub fn measured(
    piece: &Piece,
    ground: &Ground<'_>,
    zones: &[Zoned<'_>],
    stones: &[Stone],
    zone_of: &dyn Fn(SurfacePoint) -> usize,
    going: Going<'_>,
) -> Vec<ZoneStones> {
    let seen = Seen::new(ground, zones[0].finish, stones, zone_of, going);
    zones.iter().map(|zoned| of_zone(piece, zoned, stones, &seen, going)).collect()
}

fn of_zone(
    piece: &Piece,
    zoned: &Zoned<'_>,
    stones: &[Stone],
    seen: &Seen,
    going: Going<'_>,
) -> ZoneStones {
    let area_mm2 = zoned.shape.area_mm2;
    let gap_mm = |stone: &Stone| zoned.finish.layers[stone.layer].gap_mm;
    let own = || stones.iter().filter(|stone| stone.zone == zoned.zone);
    let covered = |grown: &dyn Fn(&Stone) -> f64| {
        let circle = |diameter_mm: f64| PI / 4.0 * diameter_mm * diameter_mm;
        own().map(|stone| circle(stone.diameter_mm + grown(stone))).sum::<f64>() / area_mm2
    };
    let words: Vec<&str> = zoned.finish.layers.iter().map(|layer| layer.layout.word()).collect();
    let mut quality = seen.quality(zoned.zone, zoned.finish, stones, going);
    quality.picture =
        picture_difference_while(piece, &zoned.shape.surface, zoned.zone, stones, going);
    ZoneStones {
        zone: zoned.zone,
        layout: words.join("+"),
        area_mm2,
        count: own().count(),
        coverage: covered(&|_| 0.0),
        effective_coverage: covered(&gap_mm),
        quality,
    }
}

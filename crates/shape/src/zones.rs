//! Zones: from what a maker wrote to regions of the surface as it has grown.

use crate::area::Area;
use crate::boolean::{Plane, Region};
use crate::handle::keep_out;
use crate::likely_slips::{hidden, wide_gap};
use crate::lip::lip_cautions;
use crate::margin::grown;
use crate::sketch::Sketch;
use crate::trap::join_films;
use crate::watch::Watch;
use crate::{PartShape, Surface, ZoneShape};
use piece::settings::GLITTER_BED_MM;
use piece::{Diagnostic, FieldPath, Finish, Piece, Settings};

/// How many layers of flakes a glitter coat holds on average (pour on, shake off; simulated).
const FLAKE_LAYERS: f64 = 1.5;

/// Lengths closer than this, mm, are equal to a maker.
pub(crate) const SAME_MM: f64 = 1.0e-6;

/// Shares of the work that drawing the zones, leaving out of them and measuring them take, roughly.
const DRAWING: (f64, f64) = (0.0, 0.5);
const LEAVING_OUT: (f64, f64) = (0.5, 0.7);
const MEASURING: (f64, f64) = (0.7, 1.0);

/// Brings every zone onto its part. Cautions about the lip go to `notes`.
///
/// # Errors
/// All that is wrong with the zones at once: reaching outside the part, crossing edges, nothing left,
/// unreadable art, letters a typeface lacks. Once `watch` is stopped, anything.
pub(crate) fn shape_zones(
    piece: &Piece,
    settings: &Settings,
    parts: &[PartShape],
    notes: &mut Vec<Diagnostic>,
    watch: &mut Watch<'_>,
) -> Result<Vec<ZoneShape>, Vec<Diagnostic>> {
    let mut wrong = Vec::new();
    let planes: Vec<Plane> = parts.iter().map(|part| Plane::new(&part.surface)).collect();
    let n_zones = piece.zones.len();
    let mut drawn = Vec::with_capacity(n_zones);
    let mut strokes = Vec::with_capacity(n_zones);
    for (index, zone) in piece.zones.iter().enumerate() {
        if !watch.at(DRAWING, index, n_zones) {
            return Err(wrong);
        }
        let sketch = Sketch {
            zone,
            path: FieldPath::root().key("zone").index(index),
            surface: &parts[zone.part].surface,
            plane: &planes[zone.part],
            settings,
            seed: piece.seed,
        };
        let (region, lines) = sketch.region(&mut wrong, notes, watch).unwrap_or_default();
        drawn.push(region);
        strokes.push(lines);
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    keep_out(piece, parts, &planes, &mut drawn, notes, &mut wrong);
    let mut regions = left_over(piece, parts, &planes, &drawn, &mut wrong, watch);
    join_films(piece, settings, (parts, &planes), &mut regions, &mut wrong, watch);
    if !wrong.is_empty() || watch.stopped() {
        return Err(wrong);
    }
    notes.extend(hidden(piece, parts, &planes, &regions, watch));
    let mut shapes = Vec::with_capacity(n_zones);
    for ((index, zone), strokes) in piece.zones.iter().enumerate().zip(strokes) {
        if !watch.at(MEASURING, index, n_zones) {
            return Err(wrong);
        }
        let area = Area::new(&planes[zone.part], &regions[index], &parts[zone.part].surface);
        let bare = &parts[zone.part].surface;
        notes.extend(wide_gap(zone, index));
        let below = Below { piece, settings, regions: &regions, plane: &planes[zone.part], bare };
        let below_mm = below.thickness_mm(index, area.area_mm2(bare), watch);
        let surface = bare.grown(below_mm);
        let area_mm2 = area.area_mm2(&surface);
        shapes.push(ZoneShape { part: zone.part, surface, below_mm, area, area_mm2, strokes });
    }
    notes.extend(lip_cautions(piece, &shapes, settings));
    Ok(shapes)
}

/// What is left of each drawn region: without the zones it leaves out (as they are drawn, grown by
/// their margin), and, for stones, without every later zone of stones on the same part.
fn left_over(
    piece: &Piece,
    parts: &[PartShape],
    planes: &[Plane],
    drawn: &[Region],
    wrong: &mut Vec<Diagnostic>,
    watch: &mut Watch<'_>,
) -> Vec<Region> {
    let mut left = drawn.to_vec();
    let n_zones = piece.zones.len();
    for (index, zone) in piece.zones.iter().enumerate().rev() {
        if !watch.at(LEAVING_OUT, n_zones - index, n_zones) {
            break;
        }
        let (plane, surface) = (&planes[zone.part], &parts[zone.part].surface);
        let path = FieldPath::root().key("zone").index(index);
        for (entry, (other, margin_mm)) in zone.region.leave_out.iter().enumerate() {
            let at = path.key("leave_out").index(entry);
            if *other == index {
                wrong
                    .push(Diagnostic::error(at, format!("zone `{}` leaves out itself", zone.name)));
            } else if piece.zones[*other].part != zone.part {
                let (theirs, ours) =
                    (&piece.parts[piece.zones[*other].part].name, &piece.parts[zone.part].name);
                let name = &piece.zones[*other].name;
                wrong.push(
                    Diagnostic::error(
                        at,
                        format!("zone `{name}` lies on part `{theirs}`, not on `{ours}`"),
                    )
                    .hint("Leave out zones of the same part."),
                );
            } else {
                let bare = grown(plane, surface, &drawn[*other], *margin_mm);
                left[index] = left[index].without(plane, &bare);
            }
            if !watch.going() {
                return left;
            }
        }
        if matches!(zone.finish, Finish::Stones(_)) {
            for (other, later) in piece.zones.iter().enumerate().skip(index + 1) {
                if later.part == zone.part && matches!(later.finish, Finish::Stones(_)) {
                    if !watch.going() {
                        return left;
                    }
                    left[index] = left[index].without(plane, &left[other].clone());
                }
            }
        }
        if left[index].is_empty() && wrong.is_empty() {
            wrong.push(
                Diagnostic::error(path, format!("nothing is left of zone `{}`", zone.name))
                    .hint("Other zones cover it or are left out of it; move it, or make a margin smaller."),
            );
        }
    }
    left
}

/// What lies beneath the zones of one part.
struct Below<'a> {
    piece: &'a Piece,
    settings: &'a Settings,
    /// Of all zones.
    regions: &'a [Region],
    plane: &'a Plane,
    bare: &'a Surface,
}

impl Below<'_> {
    /// Mean thickness of the finishes beneath a zone, mm, weighted by the area on which they lie.
    fn thickness_mm(&self, index: usize, area_mm2: f64, watch: &mut Watch<'_>) -> f64 {
        let part = self.piece.zones[index].part;
        let mut volume = 0.0;
        for (earlier, region) in self.piece.zones[..index].iter().zip(self.regions) {
            let thickness = thickness_mm(&earlier.finish, self.settings);
            if earlier.part == part && thickness > 0.0 && watch.going() {
                let shared = self.regions[index].intersected(self.plane, region);
                let area = Area::new(self.plane, &shared, self.bare);
                volume += thickness * area.area_mm2(self.bare);
            }
        }
        volume / area_mm2.max(f64::MIN_POSITIVE)
    }
}

/// Thickness a finish adds to the surface, mm. Glitter counts as 1.5 flakes for each time it is
/// sprinkled, not its peaks, with a thin bed for each time but the first; stones add none, since nothing is laid over them.
pub fn thickness_mm(finish: &Finish, settings: &Settings) -> f64 {
    match finish {
        Finish::Paint { coats, .. } => f64::from(*coats) * settings.paint.film_mm,
        Finish::Resin { coats, film_mm } => f64::from(*coats) * film_mm,
        Finish::Vinyl { .. } => settings.vinyl.film_mm,
        Finish::Glitter { layers, .. } => {
            f64::from(*layers) * FLAKE_LAYERS * settings.glitter.flake_thickness_mm
                + f64::from(layers.saturating_sub(1)) * GLITTER_BED_MM
        }
        Finish::Stones(_) => 0.0,
    }
}

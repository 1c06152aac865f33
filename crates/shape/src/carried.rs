//! What a design could not keep when it was carried from one blank to another.

use crate::boolean::{Plane, Region};
use crate::readable::SEEN_RAD;
use crate::zones::SAME_MM;
use crate::{Area, Shape, Surface};
use piece::{Art, ArtSize, Diagnostic, FieldPath, Finish, Piece, Zone};

/// A bare strip at the foot that grew by less than this, mm, is not told.
const STRIP_MM: f64 = 0.5;
/// A design reaches down to the foot if no more than this share of the wall is bare below it (own choice).
const STRIP_SHARE: f64 = 0.2;
/// Places that differ by less than this, mm, are the same.
const SAME_PLACE_MM: f64 = 0.01;
/// A rim that is off by less than this across, mm, still takes the same lid (common practice, no source:
/// what gives of a seal).
const RIM_MM: f64 = 0.5;
/// Share of the smaller of two zones from which they count as lying on each other.
const ON_EACH_OTHER: f64 = 0.01;
/// Share of its area from which art counts as cut; on a cone the same drawing changes by less.
const CUT: f64 = 0.03;

/// A piece in space.
#[derive(Debug, Clone, Copy)]
pub struct Laid<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// Its shape.
    pub shape: &'a Shape,
}

impl Laid<'_> {
    fn surface(&self, part: usize) -> &Surface {
        &self.shape.parts[part].surface
    }

    fn area(&self, zone: usize) -> &Area {
        &self.shape.zones[zone].area
    }

    /// The region of a zone on the bare part.
    fn region(&self, zone: usize) -> (Plane, Region) {
        let plane = Plane::new(self.surface(self.piece.zones[zone].part));
        let corners = |one: &Vec<crate::SurfacePoint>| {
            one.iter().map(|place| plane.corner(place.around, place.along_mm)).collect()
        };
        let loops: Vec<_> = self.area(zone).loops.iter().map(corners).collect();
        let region = Region::even_odd(&plane, &loops);
        (plane, region)
    }
}

/// What is otherwise than before in a way that a maker may not want, with the paths of the carried piece:
/// the wall below the lowest zone, art wider than what one sees, copies and zones that now lie on each
/// other, art that is cut, lids of another rim, a handle that is gone. `parts` are those that were
/// carried. Both pieces have the same parts and zones.
pub fn not_kept(before: Laid<'_>, after: Laid<'_>, parts: &[usize]) -> Vec<Diagnostic> {
    let zones: Vec<usize> = (0..after.piece.zones.len())
        .filter(|zone| parts.contains(&after.piece.zones[*zone].part))
        .collect();
    let mut notes = Vec::new();
    for part in parts {
        notes.extend(bare_foot(before, after, *part));
        notes.extend(handle_gone(before, after, *part));
    }
    notes.extend(other_rims(before, after, parts));
    for zone in &zones {
        notes.extend(unseen(before, after, *zone));
        notes.extend(cut(before, after, *zone));
    }
    notes.extend(on_each_other(before, after, &zones));
    notes
}

fn at(zone: usize) -> FieldPath {
    FieldPath::root().key("zone").index(zone)
}

/// More bare wall below a design that reached down to the foot, since its lowest zone counts from the rim.
fn bare_foot(before: Laid<'_>, after: Laid<'_>, part: usize) -> Option<Diagnostic> {
    after.surface(part).period()?;
    let lowest = |laid: Laid<'_>| {
        let ends = (0..laid.piece.zones.len()).filter(|zone| laid.piece.zones[*zone].part == part);
        let ends = ends.filter_map(|zone| Some((zone, laid.area(zone).along_range_mm()?.1)));
        // Of equals the last, which lies on top.
        ends.reduce(|low, one| if one.1 >= low.1 - SAME_MM { one } else { low })
    };
    let (was_zone, was_end) = lowest(before)?;
    let (_, end) = lowest(after)?;
    let was_foot_mm = before.surface(part).along_range_mm().1;
    let was_mm = was_foot_mm - was_end;
    let reached = was_mm <= STRIP_SHARE * was_foot_mm && (end - was_end).abs() < SAME_PLACE_MM;
    let bare_mm = after.surface(part).along_range_mm().1 - end;
    (reached && bare_mm > was_mm + STRIP_MM).then(|| {
        let zone = &after.piece.zones[was_zone];
        let message = format!(
            "{bare_mm:.1} mm of wall stay bare at the foot of `{}`, and were {was_mm:.1} mm: `{}` does not reach as far down",
            after.piece.parts[part].name, zone.name
        );
        let path =
            if zone.region.band.is_some() { at(was_zone).key("band").key("to") } else { at(was_zone) };
        Diagnostic::warning(path, message)
            .hint("let what belongs to the foot count from it, or by a share of the wall")
    })
}

/// A cup without a handle in place of one with it.
fn handle_gone(before: Laid<'_>, after: Laid<'_>, part: usize) -> Option<Diagnostic> {
    let (was, is) = (&before.piece.parts[part].handle, &after.piece.parts[part].handle);
    (was.is_some() && is.is_none()).then(|| {
        let message = format!(
            "`{}` has no handle any more: what was cut out for it runs all round",
            after.piece.parts[part].name
        );
        Diagnostic::warning(FieldPath::root().key("part").index(part), message).hint(
            "look whether zones that ended at the handle should meet, and where their seam is",
        )
    })
}

/// Parts that sit on each other, of which only one was carried.
fn other_rims(before: Laid<'_>, after: Laid<'_>, parts: &[usize]) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    for (index, part) in after.piece.parts.iter().enumerate() {
        let Some(seat) = &part.seat else { continue };
        let (of_this, of_that) = (parts.contains(&index), parts.contains(&seat.on_part));
        let round = |part: usize| after.surface(part).period().is_some();
        if of_this == of_that || !round(index) || !round(seat.on_part) {
            continue;
        }
        let beneath = &after.piece.parts[seat.on_part].name;
        let path = FieldPath::root().key("part").index(index).key("sits_on");
        // A lid that is far too wide or narrow is told of already.
        if after.shape.notes.iter().any(|note| note.path == path) {
            continue;
        }
        let rim = |laid: Laid<'_>| 2.0 * laid.surface(seat.on_part).around_scale_mm(0.0);
        let widest = |laid: Laid<'_>| 2.0 * laid.surface(index).widest_mm();
        let (was, is) =
            if of_that { (rim(before), rim(after)) } else { (widest(before), widest(after)) };
        if (is - was).abs() <= RIM_MM {
            continue;
        }
        let message = if of_that {
            format!(
                "`{}` is still the one for a rim {was:.1} mm across, and that of `{beneath}` is now {is:.1} mm",
                part.name
            )
        } else {
            format!(
                "`{}` is now {is:.1} mm across where it is widest, and was {was:.1} mm; `{beneath}` is still the old one",
                part.name
            )
        };
        notes.push(
            Diagnostic::warning(path, message)
                .hint("measure both parts of the new cup in one file, and carry both"),
        );
    }
    notes
}

/// Drawings that one no longer sees at once; words are told of with all other lettering.
fn unseen(before: Laid<'_>, after: Laid<'_>, zone: usize) -> Option<Diagnostic> {
    let placed = after.piece.zones[zone].region.art.as_ref()?;
    if placed.repeat > 1 || matches!(placed.art, Art::Lettering { .. }) {
        return None;
    }
    let span = |laid: Laid<'_>| {
        let surface = laid.surface(laid.piece.zones[zone].part);
        surface.period()?;
        let (from, to) = laid.area(zone).extent(surface)?.around;
        Some(to - from)
    };
    let (was, is) = (span(before)?, span(after)?);
    (was <= 2.0 * SEEN_RAD && is > 2.0 * SEEN_RAD).then(|| {
        let message = format!(
            "the drawing of zone `{}` now reaches over {:.0} degrees of the round, and one sees about {:.0} at once; it was {:.0}",
            after.piece.zones[zone].name,
            is.to_degrees(),
            2.0 * SEEN_RAD.to_degrees(),
            was.to_degrees()
        );
        Diagnostic::warning(at(zone).key("art"), message)
            .hint("make it smaller, or give its width as a share of the way round with `round`")
    })
}

/// Art of a fixed size of which less is left.
fn cut(before: Laid<'_>, after: Laid<'_>, zone: usize) -> Option<Diagnostic> {
    let placed = after.piece.zones[zone].region.art.as_ref()?;
    let was = before.piece.zones[zone].region.art.as_ref()?;
    if was.size != placed.size || matches!(placed.size, ArtSize::RoundShare(_)) {
        return None;
    }
    let area = |laid: Laid<'_>| laid.area(zone).area_mm2(laid.surface(laid.piece.zones[zone].part));
    let lost = 1.0 - area(after) / area(before).max(f64::MIN_POSITIVE);
    (lost > CUT).then(|| {
        let message = format!(
            "{:.0} % of the art of zone `{}` is cut away: it now meets its band, a handle or what it leaves out",
            lost * 100.0,
            after.piece.zones[zone].name
        );
        Diagnostic::warning(at(zone), message).hint("move it, or make it smaller")
    })
}

/// Art, film and stones that did not lie on each other and now do.
fn on_each_other(before: Laid<'_>, after: Laid<'_>, zones: &[usize]) -> Vec<Diagnostic> {
    let drawn: Vec<usize> =
        zones.iter().copied().filter(|zone| figure(&after.piece.zones[*zone])).collect();
    let shared = |laid: Laid<'_>, one: usize, other: usize| {
        let surface = laid.surface(laid.piece.zones[one].part);
        let area =
            |region: &Region, plane: &Plane| Area::new(plane, region, surface).area_mm2(surface);
        if !near(laid.area(one), laid.area(other)) {
            return (0.0, 0.0);
        }
        let ((plane, first), (_, second)) = (laid.region(one), laid.region(other));
        let both = area(&first.intersected(&plane, &second), &plane);
        let least = area(&first, &plane).min(area(&second, &plane));
        (both / least.max(f64::MIN_POSITIVE), both)
    };
    let mut notes = Vec::new();
    for (index, one) in drawn.iter().enumerate() {
        for other in &drawn[index + 1..] {
            if after.piece.zones[*one].part != after.piece.zones[*other].part {
                continue;
            }
            let (share, mm2) = shared(after, *one, *other);
            if share <= ON_EACH_OTHER || shared(before, *one, *other).0 > ON_EACH_OTHER {
                continue;
            }
            let message = format!(
                "zone `{}` now lies on zone `{}`, over {:.1} cm²; before, they were clear of each other",
                after.piece.zones[*other].name,
                after.piece.zones[*one].name,
                mm2 / 100.0
            );
            notes.push(
                Diagnostic::warning(at(*other), message)
                    .hint("move one of them, let both count from the same end of the wall, or give one a `leave_out`"),
            );
        }
    }
    notes
}

/// Whether a zone is something to be seen as a whole, rather than a ground.
fn figure(zone: &Zone) -> bool {
    zone.region.art.is_some()
        || zone.region.motif.is_some()
        || matches!(zone.finish, Finish::Stones(_) | Finish::Vinyl { .. })
}

/// Whether two areas have stretches of wall in common.
fn near(one: &Area, other: &Area) -> bool {
    match (one.along_range_mm(), other.along_range_mm()) {
        (Some(one), Some(other)) => one.0 < other.1 && other.0 < one.1,
        _ => false,
    }
}

//! Rows of one size: level rings that close exactly, or lines that follow the zone's edge.

mod below;
pub(crate) mod edge_rows;
mod first_row;
mod rings;
pub(crate) mod settle;
mod shares;
pub(crate) mod sight;
pub(crate) mod spiral;
pub(crate) mod tidy;
mod unrolled;
mod wedge;

use crate::bed::Bed;
use crate::fill::{Engine, Ground, Obstacle, Order, Spot};
use crate::rows::rings::{Rings, stones_of};
use crate::rows::settle::even_out;
use crate::rows::spiral::{Thread, begins_mm};
use crate::rows::tidy::fill_holes;
use piece::{Follow, Layout, Stagger, Taper};
use shape::SurfacePoint;
use std::f64::consts::{PI, TAU};

/// Rows of one size.
#[derive(Debug, Clone, Copy)]
pub struct Rows;

impl Engine for Rows {
    fn fill(
        &self,
        ground: &Ground<'_>,
        order: &Order,
        progress: &mut dyn FnMut(f64) -> bool,
    ) -> Vec<Spot> {
        let Some(&(diameter_mm, _)) = order.sizes.first() else { return Vec::new() };
        let mut bed = Bed::new(ground, diameter_mm, order.gap_mm, 4096);
        // About as many as rows hold; only the progress shown depends on it.
        let pitch_mm = diameter_mm + order.gap_mm;
        let most = ground.area_mm2 / (0.866 * pitch_mm * pitch_mm);
        let mut going = |bed: &Bed<'_>| progress((bed.laid.len() as f64 / most).min(0.99));
        let (follow, kind) = match order.layout {
            Layout::Rows { follow, stagger, taper } => (follow, (stagger, taper)),
            _ => (Follow::Level, (Stagger::Offset, Taper::Spread)),
        };
        match follow {
            Follow::Level if kind.1 == Taper::Wedge && ground.surface.period().is_some() => {
                let stagger = kind.0;
                by_stretch(&mut bed, diameter_mm, &mut going, |bed, along_mm, row, going| {
                    wedge::lay(bed, order, stagger, along_mm, row, going)
                });
                fill_holes(&mut bed, diameter_mm, 0, &mut going);
                wedge::fill(&mut bed, order, progress);
            }
            Follow::Spiral if ground.surface.period().is_some() => {
                by_stretch(&mut bed, diameter_mm, &mut going, |bed, along_mm, row, going| {
                    spiral(bed, diameter_mm, kind.0, along_mm, row, going)
                });
                fill_holes(&mut bed, diameter_mm, 0, &mut going);
            }
            Follow::Level | Follow::Spiral => {
                by_stretch(&mut bed, diameter_mm, &mut going, |bed, along_mm, row, going| {
                    level(bed, diameter_mm, kind, along_mm, row, going)
                });
                fill_holes(&mut bed, diameter_mm, 0, &mut going);
            }
            Follow::Edge if kind.0 == Stagger::Aligned => {
                edge_rows::lay_aligned(&mut bed, diameter_mm, &mut going);
                fill_holes(&mut bed, diameter_mm, 0, &mut going);
            }
            Follow::Edge => {
                edge_rows::lay(&mut bed, diameter_mm, &mut going);
                fill_holes(&mut bed, diameter_mm, 0, &mut going);
                // The first row stays flush with its edge.
                let inner = |bed: &Bed<'_>, number: usize| bed.laid[number].spot.row > 1;
                even_out(&mut bed, 24, inner, &mut going);
                fill_holes(&mut bed, diameter_mm, 0, &mut going);
                if ground.surface.period().is_some() {
                    edge_rows::spread(&mut bed, diameter_mm, &mut going);
                    fill_holes(&mut bed, diameter_mm, 0, &mut going);
                }
            }
        }
        bed.laid.iter().map(|laid| laid.spot).collect()
    }
}

/// A row moves away from stones of another zone by no more than the gap, and this for the lean of the wall
/// and the chords of the border.
const FARTHEST: f64 = 1.5;

/// Asks whether to go on with what is laid so far.
type Going<'a> = dyn FnMut(&Bed<'_>) -> bool + 'a;

/// Lays each stretch between creases, from the first to the last distance at which a stone fits, while
/// it is `going`. `lay` is told the last row number so far and gives the last of its own.
fn by_stretch(
    bed: &mut Bed<'_>,
    diameter_mm: f64,
    going: &mut Going<'_>,
    lay: impl Fn(&mut Bed<'_>, (f64, f64), u32, &mut Going<'_>) -> u32,
) {
    let ground = bed.ground;
    let mut row = 0;
    for band in ground.surface.bands() {
        let stretch =
            (band.along_mm.0.max(ground.along_mm.0), band.along_mm.1.min(ground.along_mm.1));
        if stretch.0 >= stretch.1 {
            continue;
        }
        let Some(along_mm) = room_along(ground, diameter_mm, stretch) else { continue };
        let along_mm = beside_others(bed, diameter_mm, along_mm);
        row = lay(bed, along_mm, row, going);
        if !going(bed) {
            return;
        }
    }
}

/// Level rows.
fn level(
    bed: &mut Bed<'_>,
    diameter_mm: f64,
    kind: (Stagger, Taper),
    along_mm: (f64, f64),
    mut row: u32,
    going: &mut Going<'_>,
) -> u32 {
    let ground = bed.ground;
    let pitch_mm = diameter_mm + bed.gap_mm;
    let rings = Rings::new(ground, diameter_mm, pitch_mm, along_mm, kind);
    let rings = rings.best(&mut || going(bed));
    for ring in rings {
        let before = bed.laid.len();
        for around in stones_of(&ring, ground) {
            let at = SurfacePoint { around: ground.wrapped(around), along_mm: ring.along_mm };
            bed.try_lay(Spot { at, size: 0, row: row + 1 }, diameter_mm);
        }
        row += u32::from(bed.laid.len() > before);
        if !going(bed) {
            break;
        }
    }
    row
}

/// A thread that begins at the back; a row is one turn of it.
fn spiral(
    bed: &mut Bed<'_>,
    diameter_mm: f64,
    stagger: Stagger,
    along_mm: (f64, f64),
    row: u32,
    going: &mut Going<'_>,
) -> u32 {
    let ground = bed.ground;
    let pitch_mm = diameter_mm + bed.gap_mm;
    let along_mm = (begins_mm(ground, pitch_mm, along_mm).unwrap_or(along_mm.0), along_mm.1);
    let thread = Thread { ground, pitch_mm, along_mm, stagger };
    let mut last = row;
    let wound = thread.best(&mut || going(bed));
    for stone in wound {
        let at = SurfacePoint {
            around: ground.wrapped(stone.wound - PI),
            along_mm: stone.along_mm.min(along_mm.1),
        };
        // Rounding must not keep the first stone of a turn in the one before.
        let number = row + 1 + (stone.wound / TAU + 1e-9) as u32;
        let is_new = number > last;
        if bed.try_lay(Spot { at, size: 0, row: number }, diameter_mm).is_some() && is_new {
            last = number;
            if !going(bed) {
                break;
            }
        }
    }
    last
}

/// The same two distances, moved apart from stones of other zones where these lie flush with the same
/// border: no farther than the gap that they ask for, and only where every stone of the row then keeps it.
fn beside_others(bed: &Bed<'_>, diameter_mm: f64, (first, last): (f64, f64)) -> (f64, f64) {
    let ground = bed.ground;
    let turned = ground.surface.period().is_some();
    let about = |set: &Obstacle| {
        let place = set.centre_mm;
        if turned { libm::atan2(place.y, place.x) } else { place.x }
    };
    // A stone straight below another needs the most room.
    let blocked = |along_mm: f64| {
        ground.obstacles.iter().any(|set| {
            let at = SurfacePoint { around: about(set), along_mm };
            let near_mm = (diameter_mm + set.diameter_mm) / 2.0 + bed.gap_mm.max(set.gap_mm);
            let apart_mm = ground.surface.world_from_surface(at).distance(set.centre_mm);
            apart_mm < near_mm && ground.holds(at, diameter_mm)
        })
    };
    let widest_mm = ground.obstacles.iter().map(|set| set.gap_mm).fold(bed.gap_mm, f64::max);
    let moved = |from: f64, way: f64| {
        let (mut miss, mut hit) = (0.0, FARTHEST * widest_mm);
        if !blocked(from) || blocked(from + way * hit) {
            return from;
        }
        for _ in 0..32 {
            let middle = (hit + miss) / 2.0;
            *(if blocked(from + way * middle) { &mut miss } else { &mut hit }) = middle;
        }
        from + way * hit
    };
    let moved = (moved(first, 1.0), moved(last, -1.0));
    if moved.0 <= moved.1 { moved } else { (first, last) }
}

/// First and last distance along the wall at which a stone fits.
fn room_along(ground: &Ground<'_>, diameter_mm: f64, stretch: (f64, f64)) -> Option<(f64, f64)> {
    const ROUND: u32 = 240;
    let fits = |along_mm: f64| {
        let (low, high) = ground.around;
        (0..=ROUND)
            .filter(|look| {
                let around =
                    ground.wrapped(low + (high - low) * f64::from(*look) / f64::from(ROUND));
                ground.holds(SurfacePoint { around, along_mm }, diameter_mm)
            })
            .count() as u32
    };
    let nearest = |from: f64, to: f64| {
        // A stone nearly as wide as its zone fits only close to one place: look closer until found.
        // An even number of steps looks in the middle too.
        let (step, hit) = [8.0, 32.0, 128.0].into_iter().find_map(|looks| {
            let steps = 2.0 * ((to - from).abs() / (diameter_mm / looks) / 2.0).ceil().max(1.0);
            let step = (to - from) / steps;
            let hit = (0..=steps as u32).find(|look| fits(from + step * f64::from(*look)) > 0)?;
            Some((step, hit))
        })?;
        let refine = |mut hit: f64, mut miss: f64, enough: u32| {
            for _ in 0..32 {
                let middle = (hit + miss) / 2.0;
                *(if fits(middle) >= enough { &mut hit } else { &mut miss }) = middle;
            }
            hit
        };
        let hit = from + step * f64::from(hit);
        let first = refine(hit, hit - step, 1);
        // A level edge admits a whole row at once but for the straightness of its short chords.
        let nudged = first + step.signum() * diameter_mm / 200.0;
        let most = fits(nudged);
        Some(if most > fits(first) { refine(nudged, first, most) } else { first })
    };
    let (from, to) = (nearest(stretch.0, stretch.1)?, nearest(stretch.1, stretch.0)?);
    (from <= to).then_some((from, to))
}

//! Rows that keep their columns: one honeycomb (or square grid) grown from the front both ways.
//!
//! The wall is unrolled about its front and laid with one lattice, level at the front. What does not
//! close lies in a narrow wedge at the back, where both halves meet; stones of the smaller sizes that
//! are listed fill it, and the edges that the lattice cuts askew.

use crate::bed::Bed;
use crate::fill::{Order, Spot};
use crate::pockets::{self, Lot};
use crate::rows::rings::{Rings, stones_of};
use crate::rows::unrolled::Unrolled;
use crate::space::Space;
use glam::DVec3;
use piece::{Stagger, Taper};
use shape::SurfacePoint;
use std::f64::consts::PI;

/// So near to the back, in pitches, stones of both halves may meet.
const MEET: f64 = 1.5;
/// The border between both halves is tried in so many places about the back.
const BORDERS: i32 = 6;
/// The lattice is tried at so many heights on the front.
const LOOKS: u32 = 6;
/// Stones laid before asking whether to go on.
const AT_ONCE: usize = 512;

/// A stone of the lattice.
#[derive(Debug, Clone, Copy)]
struct Knot {
    at: SurfacePoint,
    row: i32,
    centre_mm: DVec3,
    /// How far it lies from the back, on the wall, mm; below 0 beyond it.
    from_back_mm: f64,
    is_right: bool,
}

/// Lays one stretch between creases, from the first to the last distance at which a stone fits, rows
/// numbered from `row` on; gives the last number.
pub fn lay(
    bed: &mut Bed<'_>,
    order: &Order,
    stagger: Stagger,
    along_mm: (f64, f64),
    mut row: u32,
    going: &mut dyn FnMut(&Bed<'_>) -> bool,
) -> u32 {
    let ground = bed.ground;
    let diameter_mm = order.sizes[0].0;
    let pitch_mm = diameter_mm + bed.gap_mm;
    let rings = Rings::new(ground, diameter_mm, pitch_mm, along_mm, (stagger, Taper::Spread))
        .best(&mut || going(bed));
    if ground.all_round() && rings.windows(2).all(|pair| pair[0].step == pair[1].step) {
        // Nothing has to be dropped: level rows close by themselves.
        for ring in rings {
            row += 1;
            for around in stones_of(&ring, ground) {
                let at = SurfacePoint { around: ground.wrapped(around), along_mm: ring.along_mm };
                bed.try_lay(Spot { at, size: 0, row }, diameter_mm);
            }
        }
        return row;
    }
    let front = if ground.all_round() { 0.0 } else { (ground.around.0 + ground.around.1) / 2.0 };
    for stretch in Unrolled::stretches(ground, along_mm, front) {
        if !going(bed) {
            return row;
        }
        let knots = lattice(bed, &stretch, pitch_mm, (stagger, front), &mut || going(bed));
        let first = knots.iter().map(|knot| knot.row).min().unwrap_or(0);
        let numbered = |knot: &Knot| row + 1 + (knot.row - first) as u32;
        let mut last = row;
        let knots = closed(knots, pitch_mm, ground.all_round(), &mut || going(bed));
        for (number, knot) in knots.into_iter().enumerate() {
            if number % AT_ONCE == 0 && !going(bed) {
                return last;
            }
            let at = SurfacePoint { around: ground.wrapped(knot.at.around), ..knot.at };
            let spot = Spot { at, size: 0, row: numbered(&knot) };
            if bed.try_lay(spot, diameter_mm).is_some() {
                last = last.max(spot.row);
            }
        }
        row = last;
    }
    row
}

/// Fills what the lattice leaves with the smaller sizes listed, the largest first.
pub fn fill(bed: &mut Bed<'_>, order: &Order, progress: &mut dyn FnMut(f64) -> bool) {
    let from = bed.laid.len();
    for (size, (diameter_mm, _)) in order.sizes.iter().enumerate().skip(1) {
        let most = order.most.get(size).copied().flatten().unwrap_or(usize::MAX);
        let lot = Lot { diameter_mm: *diameter_mm, size, row: 0, most };
        if !pockets::fill(bed, lot, &|_| true, &mut |_| progress(0.99)) {
            break;
        }
    }
    let mut near = Vec::new();
    for number in from..bed.laid.len() {
        let here = bed.laid[number].frame;
        bed.beside_place(here.at, 3.0 * bed.reach_mm, &mut near);
        let away = |other: usize| bed.laid[other].frame.centre_mm.distance(here.centre_mm);
        let nearest = near.iter().copied().filter(|other| *other < from);
        let nearest = nearest.min_by(|a, b| away(*a).total_cmp(&away(*b)));
        bed.laid[number].spot.row = nearest.map_or(1, |other| bed.laid[other].spot.row);
    }
}

/// The lattice on a stretch, as tight as the pitch allows in space, while it is `going`.
fn lattice(
    bed: &Bed<'_>,
    stretch: &Unrolled,
    pitch_mm: f64,
    (stagger, front): (Stagger, f64),
    going: &mut dyn FnMut() -> bool,
) -> Vec<Knot> {
    let whole = |rows: &Lattice| {
        let knots = rows.iter().flat_map(|(_, knots)| knots);
        let fits = |knot: &&(i32, Knot)| knot.1.from_back_mm >= 0.0;
        knots.filter(fits).count()
    };
    // Rows that climb or sink towards the back cut the edges askew: as high on the front as holds most.
    let mut lower = (0, 0.0);
    for part in 0..LOOKS {
        let part = f64::from(part) / f64::from(LOOKS);
        let found = whole(&rows(bed, stretch, (pitch_mm, part), (stagger, front), going));
        if found > lower.0 {
            lower = (found, part);
        }
    }
    // Chords are shorter than ways on the wall: the lattice is widened until the shortest fits.
    let mut wide_mm = pitch_mm;
    for _ in 0..6 {
        let rows = rows(bed, stretch, (wide_mm, lower.1), (stagger, front), going);
        let least_mm = least_apart(&rows, stagger);
        if least_mm >= pitch_mm {
            return rows.into_iter().flat_map(|(_, knots)| knots).map(|(_, knot)| knot).collect();
        }
        wide_mm *= pitch_mm / least_mm * (1.0 + 1e-9);
    }
    let rows = rows(bed, stretch, (wide_mm, lower.1), (stagger, front), going);
    rows.into_iter().flat_map(|(_, knots)| knots).map(|(_, knot)| knot).collect()
}

/// Rows of the lattice, each with its stones by their number from the front.
type Lattice = Vec<(i32, Vec<(i32, Knot)>)>;

/// The lattice with this pitch, its first row on the front so many rows below the beginning; as many rows
/// as it is `going`.
fn rows(
    bed: &Bed<'_>,
    stretch: &Unrolled,
    (wide_mm, lower): (f64, f64),
    (stagger, front): (Stagger, f64),
    going: &mut dyn FnMut() -> bool,
) -> Lattice {
    let ground = bed.ground;
    let (right_mm, (least_mm, most_mm)) = stretch.extent_mm();
    let down_mm = match stagger {
        Stagger::Offset => wide_mm * 0.75_f64.sqrt(),
        Stagger::Aligned => wide_mm,
    };
    let most = (right_mm / wide_mm).ceil() as i32 + 1;
    let (first, last) =
        ((least_mm / down_mm).floor() as i32 - 1, (most_mm / down_mm).ceil() as i32);
    let knot = |row: i32, k: i32| {
        let shift =
            if stagger == Stagger::Offset { f64::from(row.rem_euclid(2)) / 2.0 } else { 0.0 };
        let right_mm = (f64::from(k) + shift) * wide_mm;
        let at = stretch.surface_from_plane(right_mm, (f64::from(row) + lower) * down_mm)?;
        let turn = at.around - front;
        let from_back_mm = (PI - turn.abs()) * ground.surface.around_scale_mm(at.along_mm);
        (from_back_mm > -0.5 * wide_mm).then(|| Knot {
            at,
            row,
            centre_mm: ground.surface.world_from_surface(at),
            from_back_mm,
            is_right: turn >= 0.0,
        })
    };
    (first..=last)
        .take_while(|_| going())
        .map(|row| {
            (row, (-most..=most).filter_map(|k| knot(row, k).map(|knot| (k, knot))).collect())
        })
        .collect()
}

/// Least distance in space between neighbours of a lattice, mm.
fn least_apart(rows: &Lattice, stagger: Stagger) -> f64 {
    let mut least_mm = f64::INFINITY;
    let mut see = |a: &Knot, b: &Knot| {
        // Neighbours on both sides of the tip or of the back are none on the wall.
        if (a.at.around - b.at.around).abs() < PI {
            least_mm = least_mm.min(a.centre_mm.distance(b.centre_mm));
        }
    };
    for (i, (row, knots)) in rows.iter().enumerate() {
        knots
            .windows(2)
            .filter(|two| two[1].0 == two[0].0 + 1)
            .for_each(|two| see(&two[0].1, &two[1].1));
        let Some((_, under)) = rows.get(i + 1) else { continue };
        let steps: &[i32] = match (stagger, row.rem_euclid(2)) {
            (Stagger::Aligned, _) => &[0],
            (Stagger::Offset, 0) => &[-1, 0],
            (Stagger::Offset, _) => &[0, 1],
        };
        for (k, knot) in knots {
            for step in steps {
                let found = under.binary_search_by_key(&(k + step), |(other, _)| *other);
                if let Ok(found) = found {
                    see(knot, &under[found].1);
                }
            }
        }
    }
    least_mm
}

/// The knots in the order to lay them: those near the back last, so that as many as can find room
/// where both halves meet, of the borders tried while it is `going`.
fn closed(
    knots: Vec<Knot>,
    pitch_mm: f64,
    all_round: bool,
    going: &mut dyn FnMut() -> bool,
) -> Vec<Knot> {
    let meets = |knot: &Knot| all_round && knot.from_back_mm < MEET * pitch_mm;
    let (near, mut out): (Vec<Knot>, Vec<Knot>) = knots.into_iter().partition(meets);
    out.retain(|knot| knot.from_back_mm >= 0.0);
    let mut best: (usize, Vec<Knot>) = (0, Vec::new());
    for border in (-BORDERS..=BORDERS).take_while(|_| going()) {
        let over_mm = 0.5 * pitch_mm * f64::from(border) / f64::from(BORDERS);
        let own = |knot: &Knot| knot.from_back_mm >= if knot.is_right { -over_mm } else { over_mm };
        let (mut order, rest): (Vec<Knot>, Vec<Knot>) = near.iter().partition(|knot| own(knot));
        // Of the half that gives way, what is farthest from the border comes first.
        order.sort_by(|a, b| {
            b.is_right.cmp(&a.is_right).then(b.from_back_mm.total_cmp(&a.from_back_mm))
        });
        order.extend(rest);
        let mut space = Space::new(pitch_mm, order.len());
        let mut kept = Vec::with_capacity(order.len());
        for knot in order {
            if space.is_free(knot.centre_mm, pitch_mm, 0.0) {
                space.set(knot.centre_mm, pitch_mm, 0.0);
                kept.push(knot);
            }
        }
        if kept.len() > best.0 {
            best = (kept.len(), kept);
        }
    }
    out.extend(best.1);
    out
}

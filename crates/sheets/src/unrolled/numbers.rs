//! Numbers of the patches on a page: beside their patch where nothing lies, else on its stones.

use super::Occupied;
use super::stone_marks::PageStone;
use crate::drawing::{ACCENT, Anchor, Bounds, Ink, Layer, Letters, Mark, Trace, WHITE};
use glam::DVec2;
use std::collections::BTreeMap;

/// Height of a number, mm.
const HIGH_MM: f64 = 2.6;

/// So near to a stone of its patch a number stands beside it, mm.
const BESIDE_MM: f64 = 3.0;

/// Farthest from its patch that a number may stand, mm.
const FARTHEST_MM: f64 = 120.0;

/// Clear room about a number, mm.
const ROOM_MM: f64 = 0.4;

/// Halves of one patch whose middles lie farther apart, mm, are on either side of where the part is cut open:
/// at the front those of a quarter turn do so from 480 mm of girth on, and at the back from 80 mm.
const PARTED_MM: f64 = 60.0;

/// The white edge of a number that lies on stones, on both sides of its outline, mm.
const EDGE_MM: f64 = 1.2;

/// The numbers of the patches: beside their patch where nothing lies; else on their own stones where that
/// takes no stone or border of another patch; else in the nearest spot where nothing lies, with a thin line to
/// the patch.
pub(super) fn numbers(
    stones: &[PageStone],
    borders: &[[DVec2; 2]],
    occupied: &mut Occupied,
    letters: &Letters,
) -> Layer {
    let mut layer = Layer::new("numbers", "Numbers of the patches in the order to set them");
    layer.words_whole = true;
    let mut taken: Vec<Bounds> = Vec::new();
    for (patch, own) in sides(stones) {
        let text = patch.to_string();
        let nearest = nearest(&own, middle(&own));
        let free = free_spot(&text, nearest, occupied, &taken, letters);
        let beside = free.clone().filter(|number| is_beside(&number.bounds(), &own));
        if beside.is_none()
            && let Some(number) = on_stones(&text, &own, (stones, borders, &taken), letters)
        {
            taken.push(number.bounds());
            layer.marks.push(Mark::path(number.clone(), Ink::line(WHITE, EDGE_MM)));
            layer.marks.push(Mark::path(number, Ink::fill(ACCENT)));
            continue;
        }
        let Some(number) = free else { continue };
        let bounds = number.bounds();
        occupied.rectangle(bounds.grown(0.6));
        taken.push(bounds);
        if beside.is_none() {
            let start = nearest.clamp(bounds.min - 0.5, bounds.max + 0.5);
            layer.marks.push(Mark::path(Trace::line([start, nearest]), Ink::line(ACCENT, 0.15)));
            layer.marks.push(Mark::circle(nearest, 0.45, Ink::fill(ACCENT)));
        }
        layer.marks.push(Mark::path(number, Ink::fill(ACCENT)));
    }
    layer
}

/// Whether a number stands at one of these stones.
fn is_beside(number: &Bounds, own: &[PageStone]) -> bool {
    own.iter().any(|stone| {
        let off = stone.centre.clamp(number.min, number.max).distance(stone.centre);
        off < stone.diameter_mm / 2.0 + BESIDE_MM
    })
}

/// A number that lies on stones of its own patch, near their middle.
fn on_stones(
    text: &str,
    own: &[PageStone],
    (stones, borders, taken): (&[PageStone], &[[DVec2; 2]], &[Bounds]),
    letters: &Letters,
) -> Option<Trace> {
    let middle = middle(own);
    let mut spots: Vec<DVec2> = own.iter().map(|stone| stone.centre).chain([middle]).collect();
    spots.sort_by(|a, b| {
        let far = |at: &DVec2| at.distance_squared(middle);
        far(a).total_cmp(&far(b)).then(a.x.total_cmp(&b.x)).then(a.y.total_cmp(&b.y))
    });
    let patch = own.first()?.patch;
    let shape = letters.write(text, HIGH_MM, Anchor::Middle, DVec2::ZERO, 0.0).bounds();
    let about =
        own.iter().fold(Bounds::EMPTY, |all, stone| all.with(stone.centre)).grown(shape.size().x);
    let is_near = |at: DVec2| Bounds::new(at, at).meets(&about);
    let others: Vec<&PageStone> =
        stones.iter().filter(|stone| stone.patch != patch && is_near(stone.centre)).collect();
    let borders: Vec<&[DVec2; 2]> = borders.iter().filter(|side| is_near(side[0])).collect();
    let fits = |at: &DVec2| {
        let room = Bounds::new(shape.min + *at, shape.max + *at).grown(ROOM_MM);
        let covers = |stone: &&PageStone| {
            stone.centre.clamp(room.min, room.max).distance(stone.centre) < stone.diameter_mm / 2.0
        };
        !taken.iter().any(|other| other.meets(&room))
            && !others.iter().any(covers)
            && !borders.iter().any(|side| crosses(side, &room))
    };
    let at = spots.into_iter().find(fits)?;
    Some(letters.write(text, HIGH_MM, Anchor::Middle, at, 0.0))
}

/// Whether any of a straight line lies in a rectangle (Liang and Barsky 1984).
fn crosses([from, to]: &[DVec2; 2], room: &Bounds) -> bool {
    let way = *to - *from;
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    for (start, step, low, high) in
        [(from.x, way.x, room.min.x, room.max.x), (from.y, way.y, room.min.y, room.max.y)]
    {
        if step == 0.0 {
            if start < low || start > high {
                return false;
            }
            continue;
        }
        let (a, b) = ((low - start) / step, (high - start) / step);
        first = first.max(a.min(b));
        last = last.min(a.max(b));
    }
    first <= last
}

/// The nearest spot above or below a place where a number lies on nothing.
fn free_spot(
    number: &str,
    middle: DVec2,
    occupied: &Occupied,
    taken: &[Bounds],
    letters: &Letters,
) -> Option<Trace> {
    let room =
        letters.write(number, HIGH_MM, Anchor::Middle, DVec2::ZERO, 0.0).bounds().grown(ROOM_MM);
    let steps = (FARTHEST_MM / 0.5) as u32;
    (0..=steps).map(|step| f64::from(step) * 0.5).find_map(|rise| {
        let mut spots = [0.0, 2.0, -2.0, 4.0, -4.0]
            .into_iter()
            .flat_map(|shift| [-rise, rise].map(|drop| middle + DVec2::new(shift, drop)));
        let at = spots.find(|&at| {
            let here = Bounds { min: room.min + at, max: room.max + at };
            occupied.is_free(here) && !taken.iter().any(|other| other.meets(&here))
        })?;
        Some(letters.write(number, HIGH_MM, Anchor::Middle, at, 0.0))
    })
}

/// Each patch with its stones; one that lies on both sides of where the part is cut open stands twice.
fn sides(stones: &[PageStone]) -> Vec<(u32, Vec<PageStone>)> {
    let mut of_patch: BTreeMap<u32, [Vec<PageStone>; 2]> = BTreeMap::new();
    for stone in stones {
        let [left, right] = of_patch.entry(stone.patch).or_default();
        if stone.centre.x > 0.0 { right.push(*stone) } else { left.push(*stone) }
    }
    let mut sides = Vec::new();
    for (patch, [left, right]) in of_patch {
        let parted = !left.is_empty()
            && !right.is_empty()
            && middle(&left).distance(middle(&right)) > PARTED_MM;
        if parted {
            sides.extend([(patch, left), (patch, right)]);
        } else {
            sides.push((patch, [left, right].concat()));
        }
    }
    sides
}

fn middle(stones: &[PageStone]) -> DVec2 {
    stones.iter().map(|stone| stone.centre).sum::<DVec2>() / stones.len().max(1) as f64
}

/// The middle of the stone that lies nearest to a place.
fn nearest(stones: &[PageStone], at: DVec2) -> DVec2 {
    let centres = stones.iter().map(|stone| stone.centre);
    centres.min_by(|a, b| a.distance_squared(at).total_cmp(&b.distance_squared(at))).unwrap_or(at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unrolled::borders::borders;

    fn stone(x: f64, y: f64, patch: u32) -> PageStone {
        PageStone { centre: DVec2::new(x, y), diameter_mm: 2.0, colour: 0, layer: 0, patch }
    }

    /// What the numbers of these patches take up, in the order of patches.
    fn placed(stones: &[PageStone]) -> Vec<Bounds> {
        let mut occupied = Occupied::default();
        for stone in stones {
            occupied.disc(stone.centre, stone.diameter_mm / 2.0);
        }
        let layer = numbers(stones, &borders(stones), &mut occupied, &Letters::new());
        let words = layer.marks.iter().filter(|mark| {
            matches!(mark.form, crate::drawing::Form::Path(_)) && mark.ink.fill.is_some()
        });
        words.map(|mark| mark.bounds).collect()
    }

    #[test]
    fn numbers_lie_on_no_stone_of_another_patch_and_on_no_border() {
        // Twelve patches of five by four stones each.
        let stones: Vec<_> = (0..240)
            .map(|place| {
                let (column, row) = (place % 20, place / 20);
                stone(f64::from(column) * 2.1, f64::from(row) * 2.1, 1 + column / 5 + row / 4 * 4)
            })
            .collect();
        let found = placed(&stones);
        assert_eq!(found.len(), 12);
        for (number, own) in found.iter().zip(1_u32..) {
            assert!(number.size().y > 2.0, "{number:?}");
            for stone in stones.iter().filter(|stone| stone.patch != own) {
                let off = stone.centre.clamp(number.min, number.max).distance(stone.centre);
                assert!(off > stone.diameter_mm / 2.0, "{own}: {off}");
            }
            assert!(!borders(&stones).iter().any(|side| crosses(side, number)), "{own}");
        }
        for (place, one) in found.iter().enumerate() {
            assert!(!found[..place].iter().any(|other| other.meets(one)));
        }
    }

    #[test]
    fn a_number_too_large_for_its_patch_stands_beside_it_on_no_stone() {
        // Stones one by one in patches of their own, among those of another.
        let stones: Vec<_> = (0..200)
            .map(|place| {
                let (column, row) = (place % 20, place / 20);
                let single = column % 6 == 3 && row == 5;
                let patch = if single { 2 + column as u32 } else { 1 };
                stone(f64::from(column) * 2.1, f64::from(row) * 2.1, patch)
            })
            .collect();
        let found = placed(&stones);
        assert_eq!(found.len(), 4);
        for number in &found[1..] {
            let off = |stone: &PageStone| {
                stone.centre.clamp(number.min, number.max).distance(stone.centre)
            };
            assert!(stones.iter().all(|stone| off(stone) > 1.0), "{number:?}");
        }
    }

    #[test]
    fn a_patch_across_the_back_has_its_number_on_both_sides() {
        let block = |x: f64| {
            (0..36).map(move |k| stone(x + f64::from(k % 6) * 2.1, f64::from(k / 6) * 2.1, 3))
        };
        let found = placed(&block(-130.0).chain(block(120.0)).collect::<Vec<_>>());
        assert_eq!(found.len(), 2);
        assert!(found[0].max.x < -100.0 && found[1].min.x > 100.0, "{found:?}");
    }
}

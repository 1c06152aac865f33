//! Borders and numbers of the patches that stones are set in.

use super::occupied::Occupied;
use super::stone_marks::PageStone;
use crate::drawing::{ACCENT, Anchor, Bounds, Ink, Layer, Letters, Mark, Trace};
use glam::DVec2;
use std::collections::BTreeMap;

/// Two stones are neighbours if their middles lie no farther apart than this many times what they
/// would if they touched.
const NEIGHBOUR: f64 = 1.4;

/// Height of a patch's number, mm.
const NUMBER_MM: f64 = 2.4;

/// Farthest from the middle of a patch that its number may stand, mm.
const FARTHEST_MM: f64 = 120.0;

/// Lines between neighbouring stones of different patches, and each patch's number in the nearest
/// spot where no stone lies, with a thin line to the patch unless it stands beside it.
pub(crate) fn patch_layer(
    stones: &[PageStone],
    occupied: &mut Occupied,
    letters: &Letters,
) -> Layer {
    let mut layer = Layer::new("patches", "Patches in the order to set them");
    let mut borders = Trace::new();
    for (one, other) in neighbours(stones) {
        if one.patch != other.patch {
            let across = other.centre - one.centre;
            let share = one.diameter_mm / (one.diameter_mm + other.diameter_mm);
            let middle = one.centre + across * share;
            // Half the side of a honeycomb cell is 0.289 of the distance between its middles.
            let half = across.perp() * 0.31;
            borders.polyline([middle - half, middle + half]);
        }
    }
    if !borders.is_empty() {
        layer.marks.push(Mark::path(borders, Ink::line(ACCENT, 0.3)));
    }
    for (patch, (sum, count)) in middles(stones) {
        let middle = sum / count;
        let Some((at, number)) = free_spot(&patch.to_string(), middle, occupied, letters) else {
            continue;
        };
        let bounds = number.bounds();
        occupied.rectangle(bounds.grown(0.6));
        let off = |stone: &&PageStone| {
            (stone.centre - stone.centre.clamp(bounds.min, bounds.max)).length()
                - stone.diameter_mm / 2.0
        };
        let nearest = stones.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
        if nearest.is_some_and(|stone| stone.patch != patch || off(&stone) > 2.5)
            || (middle - at).length() > 12.0
        {
            let start = middle.clamp(bounds.min - 0.5, bounds.max + 0.5);
            layer.marks.push(Mark::path(Trace::line([start, middle]), Ink::line(ACCENT, 0.15)));
            layer.marks.push(Mark::circle(middle, 0.45, Ink::fill(ACCENT)));
        }
        layer.marks.push(Mark::path(number, Ink::fill(ACCENT)));
    }
    layer
}

/// The nearest spot above or below a place where a number lies on nothing.
fn free_spot(
    number: &str,
    middle: DVec2,
    occupied: &Occupied,
    letters: &Letters,
) -> Option<(DVec2, Trace)> {
    let room =
        letters.write(number, NUMBER_MM, Anchor::Middle, DVec2::ZERO, 0.0).bounds().grown(0.4);
    let steps = (FARTHEST_MM / 0.5) as u32;
    (0..=steps).map(|step| f64::from(step) * 0.5).find_map(|rise| {
        let mut spots = [0.0, 2.0, -2.0, 4.0, -4.0]
            .into_iter()
            .flat_map(|shift| [-rise, rise].map(|drop| middle + DVec2::new(shift, drop)));
        let at = spots.find(|&at| {
            let here = Bounds { min: room.min + at, max: room.max + at };
            occupied.is_free(here)
        })?;
        Some((at, letters.write(number, NUMBER_MM, Anchor::Middle, at, 0.0)))
    })
}

/// Sum of the middles of each patch's stones and their count. A patch that lies across the back is
/// labelled on the side where most of it is.
fn middles(stones: &[PageStone]) -> BTreeMap<u32, (DVec2, f64)> {
    let mut sides: BTreeMap<(u32, bool), (DVec2, f64)> = BTreeMap::new();
    for stone in stones {
        let (sum, count) = sides.entry((stone.patch, stone.centre.x > 0.0)).or_default();
        *sum += stone.centre;
        *count += 1.0;
    }
    let mut patches: BTreeMap<u32, (DVec2, f64)> = BTreeMap::new();
    for (&(patch, right), &(sum, count)) in &sides {
        let Some(&(other, others)) = sides.get(&(patch, !right)) else {
            patches.insert(patch, (sum, count));
            continue;
        };
        let apart = (sum / count - other / others).length() > 120.0;
        let larger = (count, right) > (others, !right);
        if apart && larger {
            patches.insert(patch, (sum, count));
        } else if !apart {
            patches.insert(patch, (sum + other, count + others));
        }
    }
    patches
}

/// Every pair of neighbours once, found through a grid of cells.
fn neighbours(stones: &[PageStone]) -> Vec<(PageStone, PageStone)> {
    let largest = stones.iter().map(|stone| stone.diameter_mm).fold(0.1, f64::max);
    let cell = largest * NEIGHBOUR;
    let key = |at: DVec2| ((at.x / cell).floor() as i64, (at.y / cell).floor() as i64);
    let mut cells: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for (index, stone) in stones.iter().enumerate() {
        cells.entry(key(stone.centre)).or_default().push(index);
    }
    let mut pairs = Vec::new();
    for (index, stone) in stones.iter().enumerate() {
        let (column, row) = key(stone.centre);
        let near = (-1..=1).flat_map(|x| (-1..=1).map(move |y| (column + x, row + y)));
        for other in
            near.filter_map(|cell| cells.get(&cell)).flatten().filter(|other| **other > index)
        {
            let other = stones[*other];
            let touching = (stone.diameter_mm + other.diameter_mm) / 2.0;
            if (stone.centre - other.centre).length() <= touching * NEIGHBOUR {
                pairs.push((*stone, other));
            }
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stone(x: f64, y: f64, patch: u32) -> PageStone {
        PageStone { centre: DVec2::new(x, y), diameter_mm: 2.0, colour: 0, patch }
    }

    #[test]
    fn a_honeycomb_stone_has_six_neighbours() {
        // Six touching discs round a disc: common geometry.
        let mut stones = vec![stone(0.0, 0.0, 1)];
        for turn in 0..6 {
            let (sine, cosine) = libm::sincos(f64::from(turn) * std::f64::consts::FRAC_PI_3);
            let at = DVec2::new(cosine, sine) * 2.1;
            stones.push(stone(at.x, at.y, 1));
        }
        let with_first = |pair: &&(PageStone, PageStone)| pair.0.centre == DVec2::ZERO;
        assert_eq!(neighbours(&stones).iter().filter(with_first).count(), 6);
    }

    #[test]
    fn a_number_stands_on_no_stone() {
        let stones: Vec<_> = (0..200)
            .map(|place| stone(f64::from(place % 20) * 2.1, f64::from(place / 20) * 2.1, 7))
            .collect();
        let mut occupied = Occupied::default();
        for stone in &stones {
            occupied.disc(stone.centre, stone.diameter_mm / 2.0);
        }
        let layer = patch_layer(&stones, &mut occupied, &Letters::new());
        let number = layer.marks.last().expect("a number").bounds;
        for stone in &stones {
            let nearest = stone.centre.clamp(number.min, number.max);
            assert!((nearest - stone.centre).length() > 1.0, "{number:?}");
        }
    }

    #[test]
    fn a_patch_across_the_back_is_labelled_once_on_its_larger_side() {
        let stones = [stone(-130.0, 0.0, 3), stone(130.0, 0.0, 3), stone(128.0, 0.0, 3)];
        let middles = middles(&stones);
        assert_eq!(middles[&3], (DVec2::new(258.0, 0.0), 2.0));
    }
}

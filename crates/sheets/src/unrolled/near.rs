//! Stones that lie beside each other on a page, found through a grid of cells.

use super::stone_marks::PageStone;
use glam::DVec2;
use std::collections::BTreeMap;

/// Two stones are neighbours if their middles lie no farther apart than this many times what they
/// would if they touched.
const NEIGHBOUR: f64 = 1.4;

/// Stones in cells as wide as is looked at most.
pub(super) struct Cells {
    cell_mm: f64,
    cells: BTreeMap<(i64, i64), Vec<usize>>,
}

impl Cells {
    pub(super) fn new(stones: &[PageStone], cell_mm: f64) -> Self {
        let mut cells: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
        for (index, stone) in stones.iter().enumerate() {
            cells.entry(key(stone.centre, cell_mm)).or_default().push(index);
        }
        Self { cell_mm, cells }
    }

    /// Numbers of the stones in the cell of a place and those about it: all within the width of a cell.
    pub(super) fn about(&self, at: DVec2) -> impl Iterator<Item = usize> {
        let (column, row) = key(at, self.cell_mm);
        let cells = (-1..=1).flat_map(move |x| (-1..=1).map(move |y| (column + x, row + y)));
        cells.filter_map(|cell| self.cells.get(&cell)).flatten().copied()
    }
}

fn key(at: DVec2, cell_mm: f64) -> (i64, i64) {
    ((at.x / cell_mm).floor() as i64, (at.y / cell_mm).floor() as i64)
}

/// Every pair of neighbours once, by their numbers.
pub(super) fn pairs(stones: &[PageStone]) -> Vec<(usize, usize)> {
    let largest_mm = stones.iter().map(|stone| stone.diameter_mm).fold(0.1, f64::max);
    let cells = Cells::new(stones, largest_mm * NEIGHBOUR);
    let mut pairs = Vec::new();
    for (index, stone) in stones.iter().enumerate() {
        for other in cells.about(stone.centre).filter(|other| *other > index) {
            let touching_mm = (stone.diameter_mm + stones[other].diameter_mm) / 2.0;
            if (stone.centre - stones[other].centre).length() <= touching_mm * NEIGHBOUR {
                pairs.push((index, other));
            }
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_honeycomb_stone_has_six_neighbours() {
        let stone = |centre| PageStone { centre, diameter_mm: 2.0, colour: 0, layer: 0, patch: 1 };
        // Six touching discs round a disc: common geometry.
        let mut stones = vec![stone(DVec2::ZERO)];
        for turn in 0..6 {
            let (sine, cosine) = libm::sincos(f64::from(turn) * std::f64::consts::FRAC_PI_3);
            stones.push(stone(DVec2::new(cosine, sine) * 2.1));
        }
        assert_eq!(pairs(&stones).iter().filter(|pair| pair.0 == 0).count(), 6);
    }
}

//! Which stones of a zone are drawn together: patches that lie in each other's way get sheets of their
//! own.

use super::near::pairs;
use super::stone_marks::PageStone;
use std::collections::{BTreeMap, BTreeSet};

/// From so many pairs of neighbours on, for each stone of the smaller of two patches, they are tangled:
/// blocks beside each other share one or two pairs for each stone of their border, a row along a block has as
/// many for each of its stones, single stones among others have four and more.
const TANGLED: f64 = 0.8;

/// Stones that are drawn together.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct View {
    /// Layers that they belong to, from 0.
    pub(crate) layers: BTreeSet<usize>,
    /// Patches that they are set in.
    pub(crate) patches: BTreeSet<u32>,
}

/// The fewest views in which no patches of unlike layers are tangled, in the order of work. Patches of the
/// same layers are always drawn together: they were cut side by side.
pub(crate) fn views(stones: &[PageStone]) -> Vec<View> {
    let mut layers_of: BTreeMap<u32, BTreeSet<usize>> = BTreeMap::new();
    let mut counts: BTreeMap<u32, f64> = BTreeMap::new();
    for stone in stones {
        layers_of.entry(stone.patch).or_default().insert(stone.layer);
        *counts.entry(stone.patch).or_default() += 1.0;
    }
    let mut shared: BTreeMap<(u32, u32), f64> = BTreeMap::new();
    for (one, other) in pairs(stones) {
        let (a, b) = (stones[one].patch, stones[other].patch);
        if a != b {
            *shared.entry((a.min(b), a.max(b))).or_default() += 1.0;
        }
    }
    let tangled: BTreeSet<(u32, u32)> = shared
        .into_iter()
        .filter(|((a, b), pairs)| *pairs > TANGLED * counts[a].min(counts[b]))
        .map(|(patches, _)| patches)
        .collect();
    let in_the_way = |view: &View, patches: &BTreeSet<u32>| {
        view.patches
            .iter()
            .any(|a| patches.iter().any(|b| tangled.contains(&(*a.min(b), *a.max(b)))))
    };
    // As they are begun.
    let mut groups: Vec<View> = Vec::new();
    for (patch, layers) in layers_of {
        match groups.iter_mut().find(|group| group.layers == layers) {
            Some(group) => drop(group.patches.insert(patch)),
            None => groups.push(View { layers, patches: BTreeSet::from([patch]) }),
        }
    }
    let mut views: Vec<View> = Vec::new();
    for group in groups {
        match views.iter_mut().find(|view| !in_the_way(view, &group.patches)) {
            Some(view) => {
                view.layers.extend(group.layers);
                view.patches.extend(group.patches);
            }
            None => views.push(group),
        }
    }
    views
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec2;

    fn stone(column: u32, row: u32, layer: usize, patch: u32) -> PageStone {
        let centre = DVec2::new(f64::from(column), f64::from(row)) * 2.1;
        PageStone { centre, diameter_mm: 2.0, colour: 0, layer, patch }
    }

    /// A square grid of 20 by 10, whose layers and patches are told by column and row.
    fn grid(of: impl Fn(u32, u32) -> (usize, u32)) -> Vec<View> {
        let places = (0..20).flat_map(|column| (0..10).map(move |row| (column, row)));
        let stones: Vec<_> = places
            .map(|(column, row)| {
                let (layer, patch) = of(column, row);
                stone(column, row, layer, patch)
            })
            .collect();
        views(&stones)
    }

    fn layers(views: &[View]) -> Vec<Vec<usize>> {
        views.iter().map(|view| view.layers.iter().copied().collect()).collect()
    }

    #[test]
    fn patches_side_by_side_share_a_sheet() {
        let halves = grid(|column, _| if column < 10 { (0, 1) } else { (1, 2) });
        assert_eq!(layers(&halves), [[0, 1]]);
    }

    #[test]
    fn a_row_along_the_edge_and_stones_among_others_get_their_own() {
        let outlined = grid(|_, row| if row == 0 || row == 9 { (0, 1) } else { (1, 2) });
        assert_eq!(layers(&outlined), [[0], [1]]);
        let strewn = |column, row| if column % 4 == 1 && row % 4 == 1 { (1, 2) } else { (0, 1) };
        assert_eq!(layers(&grid(strewn)), [[0], [1]]);
    }

    #[test]
    fn sectors_that_hold_all_layers_share_a_sheet() {
        let sectors = grid(|column, row| (usize::from(row % 3 == 1), 1 + column / 5));
        assert_eq!(layers(&sectors), [[0, 1]]);
        // Also where one of them lacks a layer.
        let mixed = grid(|column, row| (usize::from(row % 3 == 1 && column < 15), 1 + column / 5));
        assert_eq!(layers(&mixed), [[0, 1]]);
    }
}

//! The ways to set a zone that `compare` tries.

use crate::args::{LayoutWord, SizeSet};
use piece::{
    Blend, Finish, Follow, Layout, Piece, Settings, Stagger, StoneFinish, StoneLayer, StoneSize,
    Taper,
};
use std::ops::Range;

/// How many sizes are tried in rows if nobody says which.
const ROWS_TRIED: usize = 7;
/// How many sizes lie in the scatter that is tried if nobody says which.
const MIXED: usize = 3;

/// A piece with one zone set in another way.
pub struct Tried {
    /// `rows, SS8`.
    pub name: String,
    /// It is as the piece file says.
    pub present: bool,
    /// The piece so.
    pub piece: Piece,
}

/// The zone as it is, first, and in every way asked for; `main` is the layer that most of its stones
/// belong to, whose colours and gap the others keep.
///
/// # Errors
/// In words: several sizes and no layout that mixes them.
pub fn ways(
    piece: &Piece,
    settings: &Settings,
    zone: usize,
    main: usize,
    sizes: &[SizeSet],
    layouts: &[LayoutWord],
) -> Result<Vec<Tried>, String> {
    let Finish::Stones(finish) = &piece.zones[zone].finish else { return Ok(Vec::new()) };
    let mut tried = vec![Tried { name: present_name(finish), present: true, piece: piece.clone() }];
    for (layout, set) in asked(finish, main, settings, sizes, layouts)? {
        let other = set_in(finish, main, &set, layout);
        let name = format!("{}, {}", words(&other), set.name());
        let known = |one: &Tried| {
            one.name == name || one.piece.zones[zone].finish == Finish::Stones(other.clone())
        };
        if tried.iter().any(known) {
            continue;
        }
        let mut piece = piece.clone();
        piece.zones[zone].finish = Finish::Stones(other);
        tried.push(Tried { name, present: false, piece });
    }
    Ok(tried)
}

/// Which layout with which sizes.
fn asked(
    finish: &StoneFinish,
    main: usize,
    settings: &Settings,
    sizes: &[SizeSet],
    layouts: &[LayoutWord],
) -> Result<Vec<(LayoutWord, SizeSet)>, String> {
    let rows = match finish.layers[main].layout {
        Layout::Rows { follow: Follow::Edge, .. } => LayoutWord::EdgeRows,
        Layout::Line => LayoutWord::Line,
        _ => LayoutWord::Rows,
    };
    let stocked = stocked(finish, settings);
    if sizes.is_empty() && layouts.is_empty() {
        let mut asked: Vec<(LayoutWord, SizeSet)> = nearest(finish, main, &stocked, ROWS_TRIED)
            .into_iter()
            .map(|size| (rows, SizeSet(vec![size])))
            .collect();
        let mixed = beside(finish, main, &stocked);
        asked.extend(
            nearest(finish, main, &stocked, 1)
                .into_iter()
                .map(|size| (LayoutWord::Rings, SizeSet(vec![size]))),
        );
        if mixed.len() > 1 {
            asked.push((LayoutWord::Scatter, SizeSet(mixed.clone())));
            asked.push((LayoutWord::Layered, SizeSet(mixed)));
        }
        return Ok(asked);
    }
    let present = |layer: &StoneLayer| {
        SizeSet(layer.sizes.iter().map(|(size, _)| finish.sizes[*size].clone()).collect())
    };
    let sets = if sizes.is_empty() { vec![present(&finish.layers[main])] } else { sizes.to_vec() };
    let mut asked = Vec::new();
    for set in sets {
        let mixed = set.0.len() > 1;
        let usual = [if mixed { LayoutWord::Scatter } else { rows }];
        for layout in if layouts.is_empty() { &usual[..] } else { layouts } {
            if mixes(*layout) || !mixed {
                asked.push((*layout, set.clone()));
            } else if sizes.is_empty() {
                // Each of the sizes that are there now.
                asked.extend(set.0.iter().map(|size| (*layout, SizeSet(vec![size.clone()]))));
            } else if !layouts.iter().any(|layout| mixes(*layout)) {
                return Err(format!(
                    "rows, rings and lines are of one size; `{}` has {}",
                    set.name(),
                    set.0.len()
                ));
            }
        }
    }
    Ok(asked)
}

/// Whether a layout takes several sizes.
fn mixes(layout: LayoutWord) -> bool {
    matches!(layout, LayoutWord::Scatter | LayoutWord::Free | LayoutWord::Layered)
}

/// Sizes that the studio has a price for in this material, smallest first.
fn stocked(finish: &StoneFinish, settings: &Settings) -> Vec<StoneSize> {
    let of_material = settings.stones.iter().filter(|one| one.material == finish.material);
    let mut sizes: Vec<StoneSize> =
        of_material.filter_map(|one| StoneSize::read(&one.size).ok()).collect();
    sizes.sort_by(|a, b| a.diameter_mm.total_cmp(&b.diameter_mm));
    sizes
}

/// Those sizes that are most like the present ones, smallest first: nearest by ratio to the mean of
/// the layer.
fn nearest(
    finish: &StoneFinish,
    main: usize,
    stocked: &[StoneSize],
    count: usize,
) -> Vec<StoneSize> {
    let present = finish.layers[main].sizes.iter();
    let present_mm: f64 =
        present.map(|(size, share)| share * finish.sizes[*size].diameter_mm).sum();
    let times =
        |size: &StoneSize| (size.diameter_mm / present_mm).max(present_mm / size.diameter_mm);
    let mut sizes = stocked.to_vec();
    sizes.sort_by(|a, b| times(a).total_cmp(&times(b)));
    sizes.truncate(count);
    sizes.sort_by(|a, b| a.diameter_mm.total_cmp(&b.diameter_mm));
    sizes
}

/// The size most like the present one with the next smaller and the next larger, largest first.
fn beside(finish: &StoneFinish, main: usize, stocked: &[StoneSize]) -> Vec<StoneSize> {
    let like = nearest(finish, main, stocked, 1);
    let at = stocked.iter().position(|size| like.contains(size)).unwrap_or(0);
    let few = stocked.iter().skip(at.saturating_sub(1)).take(MIXED.min(at + 2));
    let mut sizes: Vec<StoneSize> = few.cloned().collect();
    sizes.reverse();
    sizes
}

/// The finish with these sizes in equal numbers instead of its own layers.
fn set_in(finish: &StoneFinish, main: usize, set: &SizeSet, layout: LayoutWord) -> StoneFinish {
    let present = &finish.layers[main];
    let rows = |follow| match present.layout {
        // As it is but for the line that they follow; only level rows drop stones in their own way.
        Layout::Rows { stagger, taper, .. } if follow == Follow::Level => {
            Layout::Rows { follow, stagger, taper }
        }
        Layout::Rows { stagger, .. } => Layout::Rows { follow, stagger, taper: Taper::Spread },
        _ => Layout::Rows { follow, stagger: Stagger::Offset, taper: Taper::Spread },
    };
    let layer = |layout: Layout, sizes: Range<usize>, blend: Blend| {
        let share = 1.0 / sizes.len() as f64;
        let sizes = sizes.map(|size| (size, share)).collect();
        StoneLayer { layout, sizes, blend, grade: None, ..present.clone() }
    };
    let count = set.0.len();
    let all = |layout: Layout| layer(layout, 0..count, Blend::Count);
    let layers = match layout {
        LayoutWord::Rows => vec![all(rows(Follow::Level))],
        LayoutWord::EdgeRows => vec![all(rows(Follow::Edge))],
        LayoutWord::Rings => vec![all(Layout::Rings)],
        LayoutWord::Line => vec![all(Layout::Line)],
        LayoutWord::Scatter => vec![all(Layout::Scatter { rounds: None })],
        LayoutWord::Free => vec![layer(Layout::Scatter { rounds: None }, 0..count, Blend::Free)],
        LayoutWord::Layered => {
            let edge = layer(Layout::Outline { rows: 1 }, 0..1, Blend::Count);
            let pockets = layer(Layout::Pockets, count - 1..count, Blend::Free);
            let few = if count > 1 { Some(pockets) } else { None };
            [edge, all(Layout::Scatter { rounds: None })].into_iter().chain(few).collect()
        }
    };
    StoneFinish { layers, sizes: set.0.clone(), ..finish.clone() }
}

fn present_name(finish: &StoneFinish) -> String {
    let names: Vec<&str> = finish.sizes.iter().rev().map(|size| size.name.as_str()).collect();
    format!("{}, {}", words(finish), names.join("+"))
}

/// Its layouts, as the piece file and the tables call them.
fn words(finish: &StoneFinish) -> String {
    let words: Vec<&str> = finish
        .layers
        .iter()
        .map(|layer| match layer.layout {
            Layout::Rows { follow: Follow::Edge, .. } => "edge rows",
            Layout::Rows { follow: Follow::Spiral, .. } => "spiral rows",
            Layout::Rows { taper: Taper::Wedge, .. } => "wedge rows",
            Layout::Scatter { .. } if layer.blend == Blend::Free && layer.sizes.len() > 1 => {
                "free scatter"
            }
            other => other.word(),
        })
        .collect();
    words.join("+")
}

//! Rectangles on shelves: the plan that is always possible.
//!
//! Pieces stand on shelves, the tallest first, each on the first shelf with room; shelves lie on
//! sheets, each on the first with room. The sheets are known to be at most 2.125 times the fewest
//! possible, asymptotically (hybrid first fit; Chung, Garey and Johnson 1982, from memory).
//! Equal pieces are laid in runs and the first with room is found in a tree, so that the time grows
//! hardly faster than the count.

use super::{CutSheet, Laid, Order};

/// Pieces upright or on their long side, whichever takes fewer sheets.
pub(super) fn on_shelves(order: &Order<'_>) -> Vec<CutSheet> {
    let kinds = |lying: bool| -> Vec<Kind> {
        order.pieces().map(|at| Kind::new(order, at, lying)).collect()
    };
    let upright = packed(kinds(false), order);
    let lying = packed(kinds(true), order);
    let count =
        |sheets: &[CutSheet]| sheets.iter().map(|sheet| u64::from(sheet.times)).sum::<u64>();
    if count(&lying) < count(&upright) { lying } else { upright }
}

/// A piece as it will lie.
#[derive(Clone, Copy)]
struct Kind {
    film: usize,
    piece: usize,
    quarter: u8,
    width: f64,
    height: f64,
}

impl Kind {
    fn new(order: &Order<'_>, (film, piece): (usize, usize), lying: bool) -> Self {
        let (width, height) = order.films[film].pieces[piece].size_mm;
        let (across_mm, down_mm) = order.sheet_mm();
        let on = |across: f64, down: f64| across <= across_mm + HAIR && down <= down_mm + HAIR;
        let better = lying && height > width && on(height, width);
        let turned = (better || !on(width, height)) && order.quarters(film).contains(&1);
        let (width, height) = if turned { (height, width) } else { (width, height) };
        Self { film, piece, quarter: u8::from(turned), width, height }
    }
}

const HAIR: f64 = 1e-9;

/// A shelf: runs of a kind, and how many of each.
struct Shelf {
    height: f64,
    runs: Vec<(usize, u32)>,
}

fn packed(mut kinds: Vec<Kind>, order: &Order<'_>) -> Vec<CutSheet> {
    let (quantity, sheet) = (order.quantity, order.sheet_mm());
    kinds.sort_by(|a, b| b.height.total_cmp(&a.height).then(b.width.total_cmp(&a.width)));
    let mut shelves: Vec<Shelf> = Vec::new();
    let mut room = Rooms::default();
    for (index, kind) in kinds.iter().enumerate() {
        let mut left = quantity;
        while left > 0 {
            let at = room.first_with(kind.width - HAIR).unwrap_or_else(|| {
                shelves.push(Shelf { height: kind.height, runs: Vec::new() });
                room.push(sheet.0)
            });
            let most = ((room.at(at) + HAIR) / kind.width.max(HAIR)) as u32;
            let laid = left.min(most.max(1));
            shelves[at].runs.push((index, laid));
            room.set(at, room.at(at) - f64::from(laid) * kind.width);
            left -= laid;
        }
    }
    let mut sheets: Vec<Vec<usize>> = Vec::new();
    let mut room = Rooms::default();
    for (index, shelf) in shelves.iter().enumerate() {
        let at = room.first_with(shelf.height - HAIR).unwrap_or_else(|| {
            sheets.push(Vec::new());
            room.push(sheet.1)
        });
        sheets[at].push(index);
        room.set(at, room.at(at) - shelf.height);
    }
    let alike = |one: &[usize], other: &[usize]| {
        one.len() == other.len()
            && one.iter().zip(other).all(|(&a, &b)| shelves[a].runs == shelves[b].runs)
    };
    let of_alike = sheets.chunk_by(|one, other| alike(one, other));
    let sheets = of_alike.map(|run| {
        let length_mm = run[0].iter().map(|&shelf| shelves[shelf].height).sum();
        order.sheets(run.len(), laid_out(&kinds, &shelves, &run[0]), length_mm)
    });
    sheets.collect()
}

fn laid_out(kinds: &[Kind], shelves: &[Shelf], on_sheet: &[usize]) -> Vec<Laid> {
    let mut pieces = Vec::new();
    let mut y = 0.0;
    for shelf in on_sheet.iter().map(|&shelf| &shelves[shelf]) {
        let mut x = 0.0;
        for &(kind, count) in &shelf.runs {
            let Kind { film, piece, quarter, width, .. } = kinds[kind];
            for _ in 0..count {
                pieces.push(Laid { film, piece, at_mm: (x, y), quarter });
                x += width;
            }
        }
        y += shelf.height;
    }
    pieces
}

/// Room left in each of a row of places, in a binary tree of the largest room below each node.
#[derive(Default)]
struct Rooms {
    /// Node 1 is the top, node `n` has `2 n` and `2 n + 1` below it; the places are the last `leaves`.
    tree: Vec<f64>,
    leaves: usize,
    len: usize,
}

impl Rooms {
    fn push(&mut self, room: f64) -> usize {
        if self.len == self.leaves {
            let places: Vec<f64> = (0..self.len).map(|place| self.at(place)).collect();
            self.leaves = (self.leaves * 2).max(16);
            self.tree = vec![f64::NEG_INFINITY; 2 * self.leaves];
            self.tree[self.leaves..self.leaves + places.len()].copy_from_slice(&places);
            for node in (1..self.leaves).rev() {
                self.tree[node] = self.tree[2 * node].max(self.tree[2 * node + 1]);
            }
        }
        self.len += 1;
        self.set(self.len - 1, room);
        self.len - 1
    }

    fn at(&self, place: usize) -> f64 {
        self.tree[self.leaves + place]
    }

    fn set(&mut self, place: usize, room: f64) {
        let mut node = self.leaves + place;
        self.tree[node] = room;
        while node > 1 {
            node /= 2;
            self.tree[node] = self.tree[2 * node].max(self.tree[2 * node + 1]);
        }
    }

    /// The first place with at least so much room.
    fn first_with(&self, least: f64) -> Option<usize> {
        if self.tree.get(1).is_none_or(|most| *most < least) {
            return None;
        }
        let mut node = 1;
        while node < self.leaves {
            node *= 2;
            if self.tree[node] < least {
                node += 1;
            }
        }
        Some(node - self.leaves)
    }
}

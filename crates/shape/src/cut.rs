//! The real edges of a region: its loops without the cut at the back, joined across it.

use crate::boolean::{Corner, Plane, Region};
use std::collections::BTreeMap;

/// Places on the cut closer than this, in grid steps, are one place: cutting at both sides of the
/// back may round them apart.
const SAME_PLACE: i64 = 6;

/// A directed edge piece; the region lies on its left (x to the right, y upwards).
type Piece = (Corner, Corner);

/// The edges as polylines, each continuous: `x` runs on past half a turn where an edge crosses the
/// back. Closed ones repeat their first corner, modulo a full turn.
pub(crate) fn real_edges(plane: &Plane, region: &Region) -> Vec<Vec<Corner>> {
    let pieces = match plane.half_turn {
        Some(half) => pieces_without_cut(region, half),
        None => pieces_of(region).collect(),
    };
    joined(&pieces, plane.half_turn)
}

fn pieces_of(region: &Region) -> impl Iterator<Item = Piece> {
    region
        .loops
        .iter()
        .flat_map(|one| one.iter().zip(one.iter().cycle().skip(1)).map(|(a, b)| (*a, *b)))
}

fn pieces_without_cut(region: &Region, half: i64) -> Vec<Piece> {
    let mut pieces = Vec::new();
    // On the right side of the turn the region's edge runs upwards, on the left side downwards.
    let (mut right, mut left) = (Vec::new(), Vec::new());
    for (a, b) in pieces_of(region) {
        let span = (a.y.min(b.y), a.y.max(b.y));
        if a.x == half && b.x == half {
            right.push(span);
        } else if a.x == -half && b.x == -half {
            left.push(span);
        } else {
            pieces.push((a, b));
        }
    }
    let snap = Snap::new(
        pieces_of(region).flat_map(|(a, b)| [a, b]).filter(|c| c.x.abs() == half).map(|c| c.y),
    );
    for (a, b) in &mut pieces {
        for corner in [a, b] {
            if corner.x.abs() == half {
                corner.y = snap.to(corner.y);
            }
        }
    }
    for span in right.iter_mut().chain(&mut left) {
        *span = (snap.to(span.0), snap.to(span.1));
    }
    let (mut right, mut left) = (Covered::by(right), Covered::by(left));
    for step in snap.places.windows(2) {
        let (low, high) = (step[0], step[1]);
        match (right.covers(low, high), left.covers(low, high)) {
            (true, false) => pieces.push((Corner::new(half, low), Corner::new(half, high))),
            (false, true) => pieces.push((Corner::new(-half, high), Corner::new(-half, low))),
            _ => {}
        }
    }
    pieces
}

/// What spans cover, asked from low to high.
struct Covered {
    /// By where they begin, the lowest last.
    ahead: Vec<(i64, i64)>,
    /// Farthest end of those that began.
    reached: i64,
}

impl Covered {
    fn by(mut spans: Vec<(i64, i64)>) -> Self {
        spans.sort_unstable_by(|a, b| b.cmp(a));
        Self { ahead: spans, reached: i64::MIN }
    }

    /// Whether one span covers all from `low` to `high`; `low` never falls.
    fn covers(&mut self, low: i64, high: i64) -> bool {
        while let Some(span) = self.ahead.pop_if(|span| span.0 <= low) {
            self.reached = self.reached.max(span.1);
        }
        high <= self.reached
    }
}

/// Places on the cut, those that differ only by rounding brought together.
struct Snap {
    places: Vec<i64>,
}

impl Snap {
    fn new(ys: impl Iterator<Item = i64>) -> Self {
        let mut all: Vec<i64> = ys.collect();
        all.sort_unstable();
        let mut places: Vec<i64> = Vec::new();
        for y in all {
            if places.last().is_none_or(|last| y - last > SAME_PLACE) {
                places.push(y);
            }
        }
        Self { places }
    }

    fn to(&self, y: i64) -> i64 {
        let after = self.places.partition_point(|place| *place <= y);
        self.places[after.saturating_sub(1)]
    }
}

fn joined(pieces: &[Piece], half: Option<i64>) -> Vec<Vec<Corner>> {
    // Both sides of the cut are one place.
    let key = |corner: Corner| match half {
        Some(half) if corner.x == -half => (half, corner.y),
        _ => (corner.x, corner.y),
    };
    let mut leaving: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for (index, piece) in pieces.iter().enumerate().rev() {
        if piece.0 != piece.1 {
            leaving.entry(key(piece.0)).or_default().push(index);
        }
    }
    let mut used = vec![false; pieces.len()];
    let mut edges = Vec::new();
    for start in 0..pieces.len() {
        if used[start] || pieces[start].0 == pieces[start].1 {
            continue;
        }
        let mut edge = vec![pieces[start].0];
        let mut next = Some(start);
        while let Some(index) = next {
            used[index] = true;
            let (from, to) = pieces[index];
            let last = edge[edge.len() - 1];
            edge.push(Corner::new(to.x + last.x - from.x, to.y));
            next = leaving.get_mut(&key(to)).and_then(|list| {
                while list.last().is_some_and(|candidate| used[*candidate]) {
                    list.pop();
                }
                list.pop()
            });
        }
        edges.push(edge);
    }
    edges
}

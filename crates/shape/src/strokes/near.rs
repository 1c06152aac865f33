//! The circles within a shape that touch its outline twice, found through a grid of its edges.

use super::Thin;
use glam::DVec2;

/// Two places of an outline that one circle touches are the sides of a stroke if they lie at least this
/// far round it from each other: the cosine of 160 degrees. Nearer together they are a corner or a
/// round end.
const OPPOSITE: f64 = -0.939_692_620_785_908_4;

/// A circle within the shape that touches its outline twice.
#[derive(Clone, Copy)]
pub(super) struct Circle {
    pub(super) thin: Thin,
    /// It touches both sides of a stroke, and not the sides of a corner.
    pub(super) stroke: bool,
}

/// Edges by the squares of a grid that they pass, row after row.
pub(super) struct Near {
    cell_mm: f64,
    edges: Vec<Edge>,
}

/// An edge, or a piece of it, in one square (row, column).
struct Edge {
    square: (i64, i64),
    from: DVec2,
    to: DVec2,
}

impl Near {
    pub(super) fn new(outlines: &[Vec<DVec2>], cell_mm: f64) -> Self {
        let mut edges = Vec::new();
        for one in outlines {
            for edge in one.windows(2) {
                let (from, to) = (edge[0], edge[1]);
                // In pieces no longer than a square, so that each lies in few squares.
                let pieces = ((to - from).length() / cell_mm).ceil().clamp(1.0, 1.0e4) as u32;
                let at = |piece: u32| from.lerp(to, f64::from(piece) / f64::from(pieces));
                for piece in 0..pieces {
                    let (a, b) = (at(piece), at(piece + 1));
                    let (low, high) = (a.min(b) / cell_mm, a.max(b) / cell_mm);
                    for x in low.x.floor() as i64..=high.x.floor() as i64 {
                        for y in low.y.floor() as i64..=high.y.floor() as i64 {
                            edges.push(Edge { square: (y, x), from: a, to: b });
                        }
                    }
                }
            }
        }
        edges.sort_by_key(|edge| edge.square);
        Self { cell_mm, edges }
    }

    /// Edges in a square and the two beside it.
    fn beside(&self, row: i64, column: i64) -> &[Edge] {
        let from = self.edges.partition_point(|edge| edge.square < (row, column - 1));
        let count = self.edges[from..].partition_point(|edge| edge.square <= (row, column + 1));
        &self.edges[from..from + count]
    }

    /// How many edges are looked at for one place, on the mean over all edges.
    pub(super) fn looks(&self) -> f64 {
        let squares = self.edges.chunk_by(|a, b| a.square == b.square);
        let looks = squares.map(|square| {
            let (row, column) = square[0].square;
            let about = (row - 1..=row + 1).map(|row| self.beside(row, column).len());
            square.len() as f64 * about.sum::<usize>() as f64
        });
        looks.sum::<f64>() / (self.edges.len() as f64).max(1.0)
    }

    /// The circle that touches the outline at a place and, on the other side of a stroke, another; no
    /// larger than `most_mm` in radius. The circle through the place and a point that is `d` from it has
    /// the radius d² / (2 d · inward).
    pub(super) fn circle(&self, place: DVec2, inward: DVec2, most_mm: f64) -> Option<Circle> {
        let (mut radius, mut touch) = (most_mm, None);
        let square = |at: f64| (at / self.cell_mm).floor() as i64;
        // A circle of at most half a square's width in radius lies within the squares around.
        for row in square(place.y) - 1..=square(place.y) + 1 {
            for edge in self.beside(row, square(place.x)) {
                let (a, b) = (edge.from - place, edge.to - place);
                // What lies behind the place, or farther off than the circle is wide, touches nothing.
                let reaches = a.dot(inward).max(b.dot(inward)) > 1e-9
                    && a.min(b).max(-a.max(b)).max_element() <= 2.0 * radius;
                if !reaches {
                    continue;
                }
                for point in candidates(a, b - a, inward) {
                    let depth = point.dot(inward);
                    let reach = 0.5 * point.length_squared() / depth;
                    if depth > 1e-9 && reach < radius {
                        (radius, touch) = (reach, Some(point));
                    }
                }
            }
        }
        let middle = inward * radius;
        let round = (touch? - middle).dot(-middle) / (radius * radius);
        let thin = Thin { width_mm: 2.0 * radius, at: place + middle };
        Some(Circle { thin, stroke: round <= OPPOSITE })
    }
}

/// Where on an edge from `a` along `way` the circle can be least: its ends, and where the derivative of
/// |d|² / (d · inward) is zero, a quadratic in the share of the way.
fn candidates(a: DVec2, way: DVec2, inward: DVec2) -> impl Iterator<Item = DVec2> {
    let (c0, c1, c2) = (a.length_squared(), 2.0 * a.dot(way), way.length_squared());
    let (e0, e1) = (a.dot(inward), way.dot(inward));
    let (p, q, r) = (c2 * e1, 2.0 * c2 * e0, c1 * e0 - e1 * c0);
    let root = (q * q - 4.0 * p * r).max(0.0).sqrt();
    // The form that loses no digits where the edge runs along the other side (p = 0).
    let half = -0.5 * (q + q.signum() * root);
    [0.0, 1.0, half / p, r / half]
        .into_iter()
        .filter(|share| (0.0..=1.0).contains(share))
        .map(move |share| a + way * share)
}

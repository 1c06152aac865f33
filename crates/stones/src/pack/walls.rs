//! Edges of a zone near a place: how far they are and which way is away from them.

use crate::fill::Ground;
use crate::pack::cells::Cells;
use crate::pack::chart::{Chart, Place};
use glam::DVec3;

/// Side of the cells that edges are sorted into, mm.
const CELL_MM: f64 = 0.8;

/// Rounding that a stone flush with an edge is kept clear of, mm.
pub const ROUNDING_MM: f64 = 1e-6;

/// Edges that push ways less alike than this (cosine) make a corner.
const ALIKE: f64 = 0.7;

/// The nearest place of an edge, as seen from a stone's centre.
#[derive(Debug, Clone, Copy)]
pub struct Touch {
    /// Straight distance, mm.
    pub distance_mm: f64,
    /// Unit direction away from it, right and down.
    pub away: (f64, f64),
}

/// A straight piece of an edge.
#[derive(Debug, Clone, Copy)]
pub struct Piece {
    from_mm: DVec3,
    along_mm: DVec3,
    /// One over the square of its length, 1/mm².
    inverse: f64,
    middle_mm: DVec3,
    half_mm: f64,
}

impl Piece {
    fn new([a, b]: [DVec3; 2]) -> Self {
        let along_mm = b - a;
        let squared = along_mm.length_squared();
        Self {
            from_mm: a,
            along_mm,
            inverse: 1.0 / squared.max(f64::MIN_POSITIVE),
            middle_mm: 0.5 * (a + b),
            half_mm: 0.5 * squared.sqrt(),
        }
    }

    /// Its point nearest to another, and which share of its length that is.
    fn nearest(&self, point: DVec3) -> (DVec3, f64) {
        let share = ((point - self.from_mm).dot(self.along_mm) * self.inverse).clamp(0.0, 1.0);
        (self.from_mm + self.along_mm * share, share)
    }

    /// Square of the distance to a point, mm².
    pub fn away_squared(&self, point: DVec3) -> f64 {
        self.nearest(point).0.distance_squared(point)
    }

    /// Whether none of it is nearer to a point than this; sees at once what is far.
    fn is_beyond(&self, point: DVec3, reach_mm: f64) -> bool {
        let most_mm = reach_mm + self.half_mm;
        self.middle_mm.distance_squared(point) >= most_mm * most_mm
    }
}

/// The edges, straight pieces in space, by cell.
#[derive(Debug)]
pub struct Walls {
    pieces: Vec<Piece>,
    cells: Cells,
    starts: Vec<u32>,
    lists: Vec<u32>,
    /// Whether a cell without edges lies in the zone.
    inside: Vec<bool>,
}

impl Walls {
    /// The edges of a ground that matter to places within `reach_mm` of them.
    pub fn new(ground: &Ground<'_>, chart: &Chart, down_mm: (f64, f64), reach_mm: f64) -> Self {
        let cells = Cells::new(chart, down_mm, ground.around, CELL_MM);
        let edges = ground.field.edges();
        let pieces: Vec<Piece> =
            edges.iter().map(|ends| Piece::new(ends.map(|end| chart.placed(end.1)))).collect();
        let middle = |cell: usize| {
            let (turn, down_mm) = cells.middle(cell);
            chart.place(turn, down_mm)
        };
        let half_mm = cells.half_mm();
        let mut by_cell: Vec<(u32, u32)> = Vec::new();
        for (number, [a, b]) in edges.iter().enumerate() {
            let ends = [a.0, b.0].map(|end| chart.down_mm(end.along_mm));
            let beyond = chart.bend() * reach_mm + half_mm;
            let down = (ends[0].min(ends[1]), ends[0].max(ends[1]));
            if down.1 < down_mm.0 - beyond || down.0 > down_mm.1 + beyond {
                continue;
            }
            let ahead = chart.wrapped(b.0.around - a.0.around);
            let from = chart.wrapped(a.0.around);
            let turn = (from + ahead.min(0.0), from + ahead.max(0.0));
            let radius_mm =
                chart.place(0.0, down.0).radius_mm.min(chart.place(0.0, down.1).radius_mm);
            cells.near(turn, down, radius_mm, reach_mm + 2.0 * half_mm, |cell| {
                by_cell.push((cell as u32, number as u32));
                true
            });
        }
        by_cell.sort_unstable();
        by_cell.dedup();
        let mut starts = vec![0_u32; cells.count() + 1];
        let mut lists = Vec::new();
        for of_cell in by_cell.chunk_by(|a, b| a.0 == b.0) {
            let cell = of_cell[0].0 as usize;
            let middle = middle(cell);
            let away =
                |pair: &(u32, u32)| pieces[pair.1 as usize].away_squared(middle.centre_mm).sqrt();
            let apart: Vec<f64> = of_cell.iter().map(away).collect();
            // What lies so much farther off than the nearest is never the nearest one in the cell.
            let closest_mm = apart.iter().copied().fold(f64::INFINITY, f64::min);
            let most_mm = (closest_mm + 2.0 * half_mm).min(reach_mm + half_mm) + 0.4;
            let kept = of_cell.iter().zip(&apart).filter(|(_, apart)| **apart <= most_mm);
            let before = lists.len();
            lists.extend(kept.map(|(pair, _)| pair.1));
            starts[cell + 1] = (lists.len() - before) as u32;
        }
        for cell in 0..cells.count() {
            starts[cell + 1] += starts[cell];
        }
        // Between two cells side by side without edges in reach there is no edge either.
        let as_beside = reach_mm > 1.25 * CELL_MM;
        let mut inside: Vec<bool> = Vec::with_capacity(cells.count());
        for cell in 0..cells.count() {
            let bare = starts[cell] == starts[cell + 1];
            let follows = as_beside && cell > 0 && starts[cell - 1] == starts[cell];
            inside.push(match bare {
                true if follows && !cells.begins_row(cell) => inside[cell - 1],
                true => ground.field.contains(chart.to_surface(&middle(cell))),
                false => false,
            });
        }
        Self { pieces, cells, starts, lists, inside }
    }

    /// Numbers of the edge pieces that matter near a place.
    pub fn list(&self, place: &Place) -> &[u32] {
        let cell = self.cells.cell(place.turn, place.down_mm);
        &self.lists[self.starts[cell] as usize..self.starts[cell + 1] as usize]
    }

    /// A piece.
    pub fn piece(&self, number: u32) -> &Piece {
        &self.pieces[number as usize]
    }

    fn pieces(&self, place: &Place) -> impl Iterator<Item = &Piece> + Clone {
        self.list(place).iter().map(|number| &self.pieces[*number as usize])
    }

    /// Whether a place is in the zone and at least `least_mm` from its edges.
    pub fn clear(&self, ground: &Ground<'_>, chart: &Chart, place: &Place, least_mm: f64) -> bool {
        let cell = self.cells.cell(place.turn, place.down_mm);
        if self.starts[cell] == self.starts[cell + 1] {
            return self.inside[cell];
        }
        let (centre_mm, least) = (place.centre_mm, least_mm * least_mm);
        let far = |piece: &Piece| {
            piece.is_beyond(centre_mm, least_mm) || piece.away_squared(centre_mm) >= least
        };
        self.pieces(place).all(far) && ground.field.contains(chart.to_surface(place))
    }

    /// Distance to the nearest edge within reach, mm; infinite if there is none.
    pub fn room_mm(&self, place: &Place) -> f64 {
        let away = nearest(self.pieces(place), place.centre_mm, f64::INFINITY);
        away.map_or(f64::INFINITY, |from| from.length())
    }

    /// The nearest edge nearer than `reach_mm`.
    pub fn touch(&self, place: &Place, reach_mm: f64) -> Option<Touch> {
        let from = nearest(self.pieces(place), place.centre_mm, reach_mm)?;
        Some(touch(from, place.right, place.down))
    }

    /// The edges that a place faces nearer than `reach_mm`: the nearest one, and the nearest of those
    /// that push another way and that a perpendicular from the place meets.
    pub fn faced(&self, place: &Place, reach_mm: f64) -> [Option<Touch>; 2] {
        let Some(first) = self.touch(place, reach_mm) else { return [None, None] };
        let (mut second, mut near_mm) = (None, reach_mm);
        for piece in self.pieces(place) {
            if piece.is_beyond(place.centre_mm, near_mm) {
                continue;
            }
            let (point, share) = piece.nearest(place.centre_mm);
            let from = place.centre_mm - point;
            if share > 0.0 && share < 1.0 && from.length_squared() < near_mm * near_mm {
                let seen = touch(from, place.right, place.down);
                if seen.away.0 * first.away.0 + seen.away.1 * first.away.1 < ALIKE {
                    (second, near_mm) = (Some(seen), seen.distance_mm);
                }
            }
        }
        [Some(first), second]
    }
}

/// From the nearest of these pieces nearer than `reach_mm`.
fn nearest<'a>(
    pieces: impl Iterator<Item = &'a Piece>,
    centre_mm: DVec3,
    reach_mm: f64,
) -> Option<DVec3> {
    let (mut first, mut near_mm) = (None, reach_mm);
    for piece in pieces {
        if piece.is_beyond(centre_mm, near_mm) {
            continue;
        }
        let from = centre_mm - piece.nearest(centre_mm).0;
        let away = from.length_squared();
        if away < near_mm * near_mm {
            (first, near_mm) = (Some(from), away.sqrt());
        }
    }
    first
}

fn touch(from: DVec3, right: DVec3, down: DVec3) -> Touch {
    let (x, y) = (from.dot(right), from.dot(down));
    let steep = (x * x + y * y).sqrt().max(1e-12);
    Touch { distance_mm: from.length(), away: (x / steep, y / steep) }
}

/// Of these pieces nearer to a centre than `reach_mm`: the nearest one, and the nearest of those that
/// push another way.
pub fn touches<'a>(
    pieces: impl Iterator<Item = &'a Piece> + Clone,
    centre_mm: DVec3,
    right: DVec3,
    down: DVec3,
    reach_mm: f64,
) -> [Option<Touch>; 2] {
    let Some(first) = nearest(pieces.clone(), centre_mm, reach_mm) else { return [None, None] };
    let first = touch(first, right, down);
    let (mut second, mut near_mm) = (None, reach_mm);
    for piece in pieces {
        if piece.is_beyond(centre_mm, near_mm) {
            continue;
        }
        let from = centre_mm - piece.nearest(centre_mm).0;
        if from.length_squared() >= near_mm * near_mm {
            continue;
        }
        let (x, y) = (from.dot(right), from.dot(down));
        let along = x * first.away.0 + y * first.away.1;
        // Less alike than ALIKE, without a root.
        if along <= 0.0 || along * along < ALIKE * ALIKE * (x * x + y * y) {
            let seen = touch(from, right, down);
            (second, near_mm) = (Some(seen), seen.distance_mm);
        }
    }
    [Some(first), second]
}

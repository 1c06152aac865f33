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

/// The edges, straight pieces in space, by cell.
#[derive(Debug)]
pub struct Walls {
    pieces: Vec<[DVec3; 2]>,
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
        let pieces: Vec<[DVec3; 2]> =
            edges.iter().map(|ends| ends.map(|end| chart.placed(end.1))).collect();
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
            let away = |pair: &(u32, u32)| {
                nearest(&pieces[pair.1 as usize], middle.centre_mm).distance(middle.centre_mm)
            };
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

    /// A piece, mm.
    pub fn piece(&self, number: u32) -> [DVec3; 2] {
        self.pieces[number as usize]
    }

    /// Whether a place is in the zone and at least `least_mm` from its edges.
    pub fn clear(&self, ground: &Ground<'_>, chart: &Chart, place: &Place, least_mm: f64) -> bool {
        let cell = self.cells.cell(place.turn, place.down_mm);
        let list = &self.lists[self.starts[cell] as usize..self.starts[cell + 1] as usize];
        if list.is_empty() {
            return self.inside[cell];
        }
        let least = least_mm * least_mm;
        let far = |number: &u32| {
            let piece = &self.pieces[*number as usize];
            nearest(piece, place.centre_mm).distance_squared(place.centre_mm) >= least
        };
        list.iter().all(far) && ground.field.contains(chart.to_surface(place))
    }

    /// Distance to the nearest edge within reach, mm; infinite if there is none.
    pub fn room_mm(&self, place: &Place) -> f64 {
        let away = |number: &u32| {
            let piece = &self.pieces[*number as usize];
            nearest(piece, place.centre_mm).distance_squared(place.centre_mm)
        };
        self.list(place).iter().map(away).fold(f64::INFINITY, f64::min).sqrt()
    }

    /// The edges nearer than `reach_mm`: the nearest one, and the nearest of those that push another
    /// way, as in a corner.
    pub fn touches(&self, place: &Place, reach_mm: f64) -> [Option<Touch>; 2] {
        let pieces = self.list(place).iter().map(|number| self.pieces[*number as usize]);
        touches(pieces, place.centre_mm, place.right, place.down, reach_mm)
    }
}

/// The point of a piece nearest to another.
fn nearest([a, b]: &[DVec3; 2], point: DVec3) -> DVec3 {
    let (along, to) = (*b - *a, point - *a);
    let share = (to.dot(along) / along.length_squared().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
    *a + along * share
}

/// Square of the distance from a piece to a point, mm².
pub fn away_squared(piece: &[DVec3; 2], point: DVec3) -> f64 {
    nearest(piece, point).distance_squared(point)
}

fn touch(from: DVec3, right: DVec3, down: DVec3) -> Touch {
    let (x, y) = (from.dot(right), from.dot(down));
    let steep = (x * x + y * y).sqrt().max(1e-12);
    Touch { distance_mm: from.length(), away: (x / steep, y / steep) }
}

/// Of these pieces nearer to a centre than `reach_mm`: the nearest one, and the nearest of those that
/// push another way.
pub fn touches(
    pieces: impl Iterator<Item = [DVec3; 2]> + Clone,
    centre_mm: DVec3,
    right: DVec3,
    down: DVec3,
    reach_mm: f64,
) -> [Option<Touch>; 2] {
    let reach = reach_mm * reach_mm;
    let (mut first, mut least, mut count) = (DVec3::ZERO, reach, 0);
    for piece in pieces.clone() {
        let from = centre_mm - nearest(&piece, centre_mm);
        let away = from.length_squared();
        if away < reach {
            count += 1;
            if away < least {
                (first, least) = (from, away);
            }
        }
    }
    if count == 0 {
        return [None, None];
    }
    let first = touch(first, right, down);
    if count == 1 {
        return [Some(first), None];
    }
    let mut second: Option<Touch> = None;
    for piece in pieces {
        let from = centre_mm - nearest(&piece, centre_mm);
        if from.length_squared() < reach {
            let seen = touch(from, right, down);
            let alike = seen.away.0 * first.away.0 + seen.away.1 * first.away.1;
            if alike < ALIKE && second.is_none_or(|second| seen.distance_mm < second.distance_mm) {
                second = Some(seen);
            }
        }
    }
    [Some(first), second]
}

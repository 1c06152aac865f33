//! The rough lines, cell by cell of a grid; of the grid no more than a strip is held at a time.

use super::{AT_ONCE, Tracer};
use crate::fill::Ground;
use shape::SurfacePoint;
use std::collections::BTreeMap;

/// Side of the grid's cells, in radii.
const SIDE: f64 = 0.25;
/// Nodes along the side of a block of the grid that is looked at as a whole first.
const BLOCK: usize = 16;
const NONE: usize = usize::MAX;

/// For each side of the grid that the line crosses, the one or two sides where it goes on. A side is
/// told by twice the node it begins at, one more if it goes down.
type Links = BTreeMap<usize, [usize; 2]>;

/// A grid over the ground.
struct Grid<'a> {
    ground: &'a Ground<'a>,
    /// Cells.
    rows: usize,
    columns: usize,
    /// Nodes of a row.
    width: usize,
}

impl<'a> Grid<'a> {
    fn new(ground: &'a Ground<'a>, side_mm: f64) -> Self {
        let (top, bottom) = ground.along_mm;
        let (from, to) = ground.around;
        let along = |k: u32| top + (bottom - top) * f64::from(k) / 16.0;
        let wide_mm =
            (0..=16).map(|k| ground.surface.around_scale_mm(along(k))).fold(0.0, f64::max);
        let rows = ((bottom - top) / side_mm).ceil().clamp(4.0, 4000.0) as usize;
        let columns = ((to - from) * wide_mm / side_mm).ceil().clamp(8.0, 8000.0) as usize;
        let width = if ground.all_round() { columns } else { columns + 1 };
        Self { ground, rows, columns, width }
    }

    fn place(&self, row: usize, column: usize) -> SurfacePoint {
        let (top, bottom) = self.ground.along_mm;
        let (from, to) = self.ground.around;
        SurfacePoint {
            around: self.ground.wrapped(from + (to - from) * column as f64 / self.columns as f64),
            along_mm: top + (bottom - top) * row as f64 / self.rows as f64,
        }
    }

    /// Both ends of a side.
    fn ends(&self, side: usize) -> [SurfacePoint; 2] {
        let node = side / 2;
        let (row, column) = (node / self.width, node % self.width);
        let (down, right) = if side.is_multiple_of(2) { (0, 1) } else { (1, 0) };
        [self.place(row, column), self.place(row + down, column + right)]
    }

    /// How the line runs through a row of cells, from the rooms of the nodes above and below.
    fn link(&self, row: usize, above: &[f64], below: &[f64], links: &mut Links) {
        for column in 0..self.columns {
            let next = (column + 1) % self.width;
            let rooms = [above[column], above[next], below[next], below[column]];
            let inside = rooms.map(|room| room >= 0.0);
            let crossed = |side: &usize| inside[*side] != inside[(side + 1) % 4];
            let crossed: Vec<usize> = (0..4).filter(crossed).collect();
            let pairs: &[[usize; 2]] = match crossed.len() {
                2 => &[[crossed[0], crossed[1]]],
                // Two corners inside across from each other: joined if the middle is inside.
                4 if (rooms.iter().sum::<f64>() >= 0.0) == inside[0] => &[[0, 1], [2, 3]],
                4 => &[[3, 0], [1, 2]],
                _ => &[],
            };
            let node = |row: usize, column: usize| row * self.width + column;
            let sides = [
                2 * node(row, column),
                2 * node(row, next) + 1,
                2 * node(row + 1, column),
                2 * node(row, column) + 1,
            ];
            for [a, b] in pairs {
                for (one, other) in [(sides[*a], sides[*b]), (sides[*b], sides[*a])] {
                    let ways = links.entry(one).or_insert([NONE; 2]);
                    ways[usize::from(ways[0] != NONE)] = other;
                }
            }
        }
    }
}

impl Tracer<'_> {
    /// Rough closed lines; none when no longer `going`.
    pub(super) fn loops(&self, going: &mut dyn FnMut() -> bool) -> Vec<Vec<SurfacePoint>> {
        let grid = Grid::new(self.ground, SIDE * self.radius_mm);
        let mut links = Links::new();
        let (mut strip, mut above) = (Vec::new(), Vec::new());
        for row in 0..=grid.rows {
            if row % BLOCK == 0 {
                if !going() {
                    return Vec::new();
                }
                strip = self.rooms(&grid, row);
            }
            let here = &strip[(row % BLOCK) * grid.width..][..grid.width];
            if row > 0 {
                grid.link(row - 1, &above, here, &mut links);
            }
            above = here.to_vec();
        }
        let mut out = Vec::new();
        while let Some((&start, _)) = links.first_key_value() {
            let mut ring = Vec::new();
            let (mut before, mut at) = (NONE, start);
            while let Some([a, b]) = links.remove(&at) {
                if ring.len() % AT_ONCE == 0 && !going() {
                    return Vec::new();
                }
                ring.push(self.crossing(grid.ends(at)));
                (before, at) = (at, if a == before { b } else { a });
            }
            if ring.len() > 3 {
                out.push(ring);
            }
        }
        out
    }

    /// The room at every node of a strip one block high, row by row; far from the line only its sign is
    /// right.
    fn rooms(&self, grid: &Grid<'_>, top: usize) -> Vec<f64> {
        let foot = (top + BLOCK - 1).min(grid.rows);
        let mut rooms = vec![0.0; (foot - top + 1) * grid.width];
        for left in (0..grid.width).step_by(BLOCK) {
            let right = (left + BLOCK).min(grid.width) - 1;
            let middle = grid.place((top + foot) / 2, (left + right) / 2);
            let room = self.spare_mm(middle);
            let corners = [(top, left), (top, right), (foot, left), (foot, right)]
                .map(|(row, column)| grid.place(row, column));
            // The room changes by no more than the way along the surface from the middle.
            let whole = room.abs() > self.way_mm(middle, &corners);
            for (row, column) in
                (top..=foot).flat_map(|row| (left..=right).map(move |column| (row, column)))
            {
                rooms[(row - top) * grid.width + column] =
                    if whole { room } else { self.spare_mm(grid.place(row, column)) };
            }
        }
        rooms
    }

    /// At least the way along the surface from the middle of a block to any place in it, mm.
    fn way_mm(&self, middle: SurfacePoint, corners: &[SurfacePoint]) -> f64 {
        let surface = self.ground.surface;
        let alongs = || corners.iter().chain([&middle]).map(|at| at.along_mm);
        let wide = alongs().map(|along| surface.around_scale_mm(along)).fold(0.0, f64::max);
        let deep = alongs().map(|along| surface.along_scale(along)).fold(1.0, f64::max);
        let far = |at: &SurfacePoint| {
            let turn = self.ground.wrapped(at.around - middle.around);
            libm::hypot(wide * turn, deep * (at.along_mm - middle.along_mm))
        };
        // A bulging band may be a little wider between the places looked at.
        1.2 * corners.iter().map(far).fold(0.0, f64::max)
    }
}

//! The rough lines, cell by cell of a grid.

use super::Tracer;
use shape::SurfacePoint;

/// Side of the grid's cells, in radii.
const SIDE: f64 = 0.25;
/// Nodes along the side of a block of the grid that is looked at as a whole first.
const BLOCK: usize = 16;
const NONE: usize = usize::MAX;

impl Tracer<'_> {
    /// Rough closed lines.
    pub(super) fn loops(&self) -> Vec<Vec<SurfacePoint>> {
        let ground = self.ground;
        let (top, bottom) = ground.along_mm;
        let (from, to) = ground.around;
        let side_mm = SIDE * self.radius_mm;
        let along = |k: usize, of: usize| top + (bottom - top) * k as f64 / of as f64;
        let wide_mm =
            (0..=16).map(|k| ground.surface.around_scale_mm(along(k, 16))).fold(0.0, f64::max);
        let rows = ((bottom - top) / side_mm).ceil().clamp(4.0, 4000.0) as usize;
        let columns = ((to - from) * wide_mm / side_mm).ceil().clamp(8.0, 8000.0) as usize;
        let closed = ground.all_round();
        let width = if closed { columns } else { columns + 1 };
        let place = |row: usize, column: usize| SurfacePoint {
            around: ground.wrapped(from + (to - from) * column as f64 / columns as f64),
            along_mm: along(row, rows),
        };
        let rooms = self.rooms((rows + 1, width), &place);
        // Sides of the grid: twice the node they begin at, one more for those that go down.
        let mut links = vec![[NONE; 2]; 2 * rooms.len()];
        for row in 0..rows {
            for column in 0..columns {
                let next = (column + 1) % width;
                let nodes = [
                    row * width + column,
                    row * width + next,
                    (row + 1) * width + next,
                    (row + 1) * width + column,
                ];
                let inside = nodes.map(|node| rooms[node] >= 0.0);
                let sides = [2 * nodes[0], 2 * nodes[1] + 1, 2 * nodes[3], 2 * nodes[0] + 1];
                let crossed: Vec<usize> =
                    (0..4).filter(|side| inside[*side] != inside[(side + 1) % 4]).collect();
                let pairs: &[[usize; 2]] = match crossed.len() {
                    2 => &[[crossed[0], crossed[1]]],
                    // Two corners inside across from each other: joined if the middle is inside.
                    4 => {
                        let middle = nodes.iter().map(|node| rooms[*node]).sum::<f64>() >= 0.0;
                        if middle == inside[0] { &[[0, 1], [2, 3]] } else { &[[3, 0], [1, 2]] }
                    }
                    _ => &[],
                };
                for [a, b] in pairs {
                    for (one, other) in [(sides[*a], sides[*b]), (sides[*b], sides[*a])] {
                        let slot = usize::from(links[one][0] != NONE);
                        links[one][slot] = other;
                    }
                }
            }
        }
        let crossing = |side: usize| {
            let node = side / 2;
            let (row, column) = (node / width, node % width);
            let ends = if side.is_multiple_of(2) {
                [(row, column), (row, column + 1)]
            } else {
                [(row, column), (row + 1, column)]
            };
            self.crossing(ends.map(|(row, column)| place(row, column)))
        };
        let mut seen = vec![false; links.len()];
        let mut out = Vec::new();
        for start in 0..links.len() {
            if links[start][0] == NONE || seen[start] {
                continue;
            }
            let mut ring = Vec::new();
            let (mut before, mut at) = (NONE, start);
            while at != NONE && !seen[at] {
                seen[at] = true;
                ring.push(crossing(at));
                let [a, b] = links[at];
                (before, at) = (at, if a == before { b } else { a });
            }
            if ring.len() > 3 {
                out.push(ring);
            }
        }
        out
    }

    /// The room at every node of a grid, row by row; far from the line only its sign is right.
    fn rooms(
        &self,
        (rows, columns): (usize, usize),
        place: &dyn Fn(usize, usize) -> SurfacePoint,
    ) -> Vec<f64> {
        let mut rooms = vec![0.0; rows * columns];
        for (top, left) in (0..rows)
            .step_by(BLOCK)
            .flat_map(|row| (0..columns).step_by(BLOCK).map(move |c| (row, c)))
        {
            let (foot, right) = ((top + BLOCK).min(rows) - 1, (left + BLOCK).min(columns) - 1);
            let middle = place((top + foot) / 2, (left + right) / 2);
            let room = self.spare_mm(middle);
            let corners =
                [(top, left), (top, right), (foot, left), (foot, right)].map(|(r, c)| place(r, c));
            // The room changes by no more than the way along the surface from the middle.
            let whole = room.abs() > self.way_mm(middle, &corners);
            for (row, column) in
                (top..=foot).flat_map(|row| (left..=right).map(move |column| (row, column)))
            {
                rooms[row * columns + column] =
                    if whole { room } else { self.spare_mm(place(row, column)) };
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

//! Looking for places with room, so that none is missed.
//!
//! The room of a stone changes by no more than the way between two places, so a cell whose middle has
//! less room than minus half its diagonal holds no place (branch and bound with a Lipschitz constant
//! of 1: Piyavskii 1972; Shubert 1972).

use crate::fill::Ground;
use shape::SurfacePoint;

/// Cells with less than this from middle to corner are not halved any more, mm: a place in which a
/// stone has less room to spare may be missed.
const FINE_MM: f64 = 2e-4;
/// The same where there is room but a rule forbids the place, mm.
const FORBIDDEN_MM: f64 = 0.05;

/// A piece of the ground: from the least to the greatest coordinate.
#[derive(Debug, Clone, Copy)]
pub struct Cell {
    around: (f64, f64),
    along_mm: (f64, f64),
}

impl Cell {
    /// Its middle.
    pub fn middle(&self, ground: &Ground<'_>) -> SurfacePoint {
        SurfacePoint {
            around: ground.wrapped((self.around.0 + self.around.1) / 2.0),
            along_mm: (self.along_mm.0 + self.along_mm.1) / 2.0,
        }
    }

    /// From its middle to its farthest corner, mm.
    pub fn half_mm(&self, ground: &Ground<'_>) -> f64 {
        let (low, high) = self.along_mm;
        let places = [low, (low + high) / 2.0, high];
        let wide = places.map(|at| ground.surface.around_scale_mm(at)).into_iter();
        let deep = places.map(|at| ground.surface.along_scale(at)).into_iter();
        let wide_mm = wide.fold(0.0, f64::max) * (self.around.1 - self.around.0);
        let deep_mm = deep.fold(0.0, f64::max) * (high - low);
        0.5 * (wide_mm * wide_mm + deep_mm * deep_mm).sqrt() + 1e-9
    }

    /// Its area, mm².
    pub fn area_mm2(&self, ground: &Ground<'_>) -> f64 {
        let middle = (self.along_mm.0 + self.along_mm.1) / 2.0;
        let scale = ground.surface.around_scale_mm(middle) * ground.surface.along_scale(middle);
        scale * (self.around.1 - self.around.0) * (self.along_mm.1 - self.along_mm.0)
    }

    /// The place so far across and down it, from 0 to 1.
    pub fn at(&self, ground: &Ground<'_>, across: f64, down: f64) -> SurfacePoint {
        SurfacePoint {
            around: ground.wrapped(self.around.0 + across * (self.around.1 - self.around.0)),
            along_mm: self.along_mm.0 + down * (self.along_mm.1 - self.along_mm.0),
        }
    }

    fn quarters(&self) -> [Self; 4] {
        let halves = |(low, high): (f64, f64)| {
            let middle = (low + high) / 2.0;
            [(low, middle), (middle, high)]
        };
        let (across, down) = (halves(self.around), halves(self.along_mm));
        [(1, 1), (1, 0), (0, 1), (0, 0)].map(|(i, j)| Self { around: across[i], along_mm: down[j] })
    }
}

/// The ground in cells about `side_mm` wide, row by row from the rim.
pub fn cells(ground: &Ground<'_>, side_mm: f64) -> Vec<Vec<Cell>> {
    let (top, bottom) = ground.along_mm;
    let middle = (top + bottom) / 2.0;
    let scale = [top, middle, bottom].map(|at| ground.surface.along_scale(at));
    let deep_mm = (bottom - top) * scale.into_iter().fold(1.0, f64::max);
    let part = |range: (f64, f64), k: usize, of: usize| {
        let at = |k: usize| range.0 + (range.1 - range.0) * k as f64 / of as f64;
        (at(k), at(k + 1))
    };
    let rows = (deep_mm / side_mm).ceil().max(1.0) as usize;
    (0..rows)
        .map(|row| {
            let along_mm = part(ground.along_mm, row, rows);
            let wide = |at| ground.surface.around_scale_mm(at);
            let wide_mm =
                wide(along_mm.0).max(wide(along_mm.1)) * (ground.around.1 - ground.around.0);
            let columns = (wide_mm / side_mm).ceil().max(1.0) as usize;
            (0..columns)
                .map(|column| Cell { around: part(ground.around, column, columns), along_mm })
                .collect()
        })
        .collect()
}

/// A place in a cell that has room and that `may` allows.
pub fn find(
    ground: &Ground<'_>,
    cell: Cell,
    room_mm: &dyn Fn(SurfacePoint) -> f64,
    may: &dyn Fn(SurfacePoint) -> bool,
) -> Option<SurfacePoint> {
    let mut waiting = vec![cell];
    while let Some(cell) = waiting.pop() {
        let at = cell.middle(ground);
        let room = room_mm(at);
        let half_mm = cell.half_mm(ground);
        if room + half_mm < 0.0 {
            continue;
        }
        if room >= 0.0 && may(at) {
            return Some(at);
        }
        if half_mm > if room >= 0.0 { FORBIDDEN_MM } else { FINE_MM } {
            waiting.extend(cell.quarters());
        }
    }
    None
}

/// From a place towards more room, until there is `enough_mm` or none of eight ways gives more.
pub fn climb(
    ground: &Ground<'_>,
    from: SurfacePoint,
    enough_mm: f64,
    room_mm: &dyn Fn(SurfacePoint) -> f64,
) -> SurfacePoint {
    const DIAGONAL: f64 = std::f64::consts::FRAC_1_SQRT_2;
    const WAYS: [(f64, f64); 8] = [
        (1.0, 0.0),
        (-1.0, 0.0),
        (0.0, 1.0),
        (0.0, -1.0),
        (DIAGONAL, DIAGONAL),
        (-DIAGONAL, DIAGONAL),
        (DIAGONAL, -DIAGONAL),
        (-DIAGONAL, -DIAGONAL),
    ];
    let (mut at, mut most) = (from, room_mm(from));
    let mut step_mm = 0.1;
    while step_mm > 5e-4 && most < enough_mm {
        let frame = ground.frame(at);
        let tried = WAYS.map(|(x, y)| ground.moved(&frame, step_mm * x, step_mm * y));
        let better = tried.into_iter().map(|to| (to, room_mm(to)));
        match better.reduce(|a, b| if b.1 > a.1 { b } else { a }).filter(|to| to.1 > most) {
            Some(to) => (at, most) = to,
            None => step_mm /= 2.0,
        }
    }
    at
}

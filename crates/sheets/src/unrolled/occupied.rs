//! What of a drawing is taken already, so that words and numbers are put where nothing else lies.

use crate::drawing::Bounds;
use glam::DVec2;
use std::collections::{BTreeMap, BTreeSet};

/// Side of a cell, mm.
const CELL_MM: f64 = 0.5;

/// Cells of a page on which something lies.
#[derive(Debug, Clone, Default)]
pub(crate) struct Occupied {
    /// Columns cut into runs of sixty-four cells, a bit for each.
    runs: BTreeMap<(i32, i32), u64>,
}

/// Cells in a run.
const RUN: i32 = 64;

impl Occupied {
    pub(crate) fn disc(&mut self, centre: DVec2, radius_mm: f64) {
        let (low, high) = (cell(centre - radius_mm), cell(centre + radius_mm));
        for x in low.0..=high.0 {
            for y in low.1..=high.1 {
                let middle = (DVec2::new(f64::from(x), f64::from(y)) + 0.5) * CELL_MM;
                if (middle - centre).length() <= radius_mm + CELL_MM / 2.0 {
                    self.take((x, y));
                }
            }
        }
    }

    fn take(&mut self, (x, y): (i32, i32)) {
        *self.runs.entry((x, y.div_euclid(RUN))).or_default() |= 1 << y.rem_euclid(RUN);
    }

    pub(crate) fn line(&mut self, points: &[DVec2]) {
        for pair in points.windows(2) {
            along(pair[0], pair[1]).for_each(|cell| self.take(cell));
        }
    }

    pub(crate) fn rectangle(&mut self, bounds: Bounds) {
        let (low, high) = (cell(bounds.min), cell(bounds.max));
        for x in low.0..=high.0 {
            for (run, bits) in runs(low.1, high.1) {
                *self.runs.entry((x, run)).or_default() |= bits;
            }
        }
    }

    /// The inside of closed outlines, by the even-odd rule, and their lines.
    pub(crate) fn shapes(&mut self, outlines: &[Vec<DVec2>]) {
        let mut crossings: BTreeSet<(i32, i64)> = BTreeSet::new();
        for outline in outlines {
            for (place, &from) in outline.iter().enumerate() {
                let to = outline[(place + 1) % outline.len()];
                along(from, to).for_each(|cell| self.take(cell));
                let (top, bottom) = if from.y < to.y { (from, to) } else { (to, from) };
                for row in cell(top).1..=cell(bottom).1 {
                    let y = (f64::from(row) + 0.5) * CELL_MM;
                    if top.y <= y && y < bottom.y {
                        let x = top.x + (bottom.x - top.x) * (y - top.y) / (bottom.y - top.y);
                        // In thousandths of a cell: two crossings nearer than that are one line.
                        crossings.insert((row, (x / CELL_MM * 1000.0).round() as i64));
                    }
                }
            }
        }
        let crossings: Vec<_> = crossings.into_iter().collect();
        for row in crossings.chunk_by(|a, b| a.0 == b.0) {
            for pair in row.chunks_exact(2) {
                let (from, to) = (pair[0].1.div_euclid(1000), pair[1].1.div_euclid(1000));
                (from..=to).for_each(|x| self.take((x as i32, pair[0].0)));
            }
        }
    }

    pub(crate) fn is_free(&self, bounds: Bounds) -> bool {
        let (low, high) = (cell(bounds.min), cell(bounds.max));
        (low.0..=high.0).all(|x| {
            runs(low.1, high.1)
                .all(|(run, bits)| self.runs.get(&(x, run)).is_none_or(|taken| taken & bits == 0))
        })
    }

    /// How much of a straight line lies on something, mm.
    pub(crate) fn covered_mm(&self, from: DVec2, to: DVec2) -> f64 {
        let taken = |&(x, y): &(i32, i32)| {
            let run = self.runs.get(&(x, y.div_euclid(RUN)));
            run.is_some_and(|taken| taken >> y.rem_euclid(RUN) & 1 == 1)
        };
        along(from, to).filter(taken).count() as f64 * CELL_MM / 2.0
    }
}

fn cell(at: DVec2) -> (i32, i32) {
    ((at.x / CELL_MM).floor() as i32, (at.y / CELL_MM).floor() as i32)
}

/// Cells of a line at steps of half a cell.
fn along(from: DVec2, to: DVec2) -> impl Iterator<Item = (i32, i32)> {
    let count = ((to - from).length() / (CELL_MM / 2.0)).ceil().max(1.0) as u32;
    (0..=count).map(move |step| cell(from.lerp(to, f64::from(step) / f64::from(count))))
}

/// The runs that hold the cells from `low` to `high` of a column, with a bit for each of those.
fn runs(low: i32, high: i32) -> impl Iterator<Item = (i32, u64)> {
    (low.div_euclid(RUN)..=high.div_euclid(RUN)).map(move |run| {
        let first = (low - run * RUN).max(0);
        let last = (high - run * RUN).min(RUN - 1);
        (run, u64::MAX >> (RUN - 1 - last) & u64::MAX << first)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spot(x: f64, y: f64) -> Bounds {
        Bounds::new(DVec2::new(x, y), DVec2::new(x + 0.1, y + 0.1))
    }

    #[test]
    fn a_ring_is_taken_but_not_its_hole() {
        let square = |half: f64| {
            [(-half, -half), (half, -half), (half, half), (-half, half)]
                .map(|(x, y)| DVec2::new(x, y))
                .to_vec()
        };
        let mut occupied = Occupied::default();
        occupied.shapes(&[square(10.2), square(5.2)]);
        assert!(occupied.is_free(spot(0.0, 0.0)) && occupied.is_free(spot(12.0, 0.0)));
        assert!(!occupied.is_free(spot(7.6, 0.0)) && !occupied.is_free(spot(-0.1, -8.1)));
    }

    #[test]
    fn a_rectangle_is_taken_to_its_last_cell_and_no_further() {
        let mut occupied = Occupied::default();
        occupied.rectangle(Bounds::new(DVec2::new(-3.2, -80.2), DVec2::new(1.2, 71.2)));
        for y in [-80.4, -64.3, -32.2, 0.2, 31.9, 32.1, 71.3] {
            assert!(!occupied.is_free(spot(1.1, y)) && occupied.is_free(spot(1.6, y)), "{y}");
        }
        let across = Bounds::new(DVec2::new(-9.0, 71.6), DVec2::new(9.0, 90.0));
        assert!(occupied.is_free(across) && occupied.is_free(spot(0.0, -80.7)));
        let long = occupied.covered_mm(DVec2::new(0.1, -100.0), DVec2::new(0.1, 100.0));
        // Cells are taken whole: 80.2 + 71.2 mm and at most a cell at either end.
        assert!((151.4..=152.9).contains(&long), "{long}");
    }

    #[test]
    fn a_line_through_a_disc_is_covered_for_its_diameter() {
        let mut occupied = Occupied::default();
        occupied.disc(DVec2::new(20.0, 0.0), 4.0);
        let covered_mm = occupied.covered_mm(DVec2::ZERO, DVec2::new(40.0, 0.0));
        assert!((covered_mm - 8.0).abs() <= 1.0, "{covered_mm}");
    }
}

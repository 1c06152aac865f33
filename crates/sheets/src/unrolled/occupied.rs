//! What of a drawing is taken already, so that words and numbers are put where nothing else lies.

use crate::drawing::Bounds;
use glam::DVec2;
use std::collections::BTreeSet;

/// Side of a cell, mm.
const CELL_MM: f64 = 0.5;

/// Cells of a page on which something lies.
#[derive(Debug, Clone, Default)]
pub(crate) struct Occupied {
    cells: BTreeSet<(i32, i32)>,
}

impl Occupied {
    pub(crate) fn disc(&mut self, centre: DVec2, radius_mm: f64) {
        let (low, high) = (cell(centre - radius_mm), cell(centre + radius_mm));
        for x in low.0..=high.0 {
            for y in low.1..=high.1 {
                let middle = (DVec2::new(f64::from(x), f64::from(y)) + 0.5) * CELL_MM;
                if (middle - centre).length() <= radius_mm + CELL_MM / 2.0 {
                    self.cells.insert((x, y));
                }
            }
        }
    }

    pub(crate) fn line(&mut self, points: &[DVec2]) {
        for pair in points.windows(2) {
            self.cells.extend(along(pair[0], pair[1]));
        }
    }

    pub(crate) fn rectangle(&mut self, bounds: Bounds) {
        self.cells.extend(within(bounds));
    }

    /// The inside of closed outlines, by the even-odd rule, and their lines.
    pub(crate) fn shapes(&mut self, outlines: &[Vec<DVec2>]) {
        let mut crossings: BTreeSet<(i32, i64)> = BTreeSet::new();
        for outline in outlines {
            for (place, &from) in outline.iter().enumerate() {
                let to = outline[(place + 1) % outline.len()];
                self.cells.extend(along(from, to));
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
                self.cells.extend((from..=to).map(|x| (x as i32, pair[0].0)));
            }
        }
    }

    pub(crate) fn is_free(&self, bounds: Bounds) -> bool {
        let (low, high) = (cell(bounds.min), cell(bounds.max));
        (low.0..=high.0).all(|x| self.cells.range((x, low.1)..=(x, high.1)).next().is_none())
    }

    /// How much of a straight line lies on something, mm.
    pub(crate) fn covered_mm(&self, from: DVec2, to: DVec2) -> f64 {
        along(from, to).filter(|cell| self.cells.contains(cell)).count() as f64 * CELL_MM / 2.0
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

fn within(bounds: Bounds) -> impl Iterator<Item = (i32, i32)> {
    let (low, high) = (cell(bounds.min), cell(bounds.max));
    (low.0..=high.0).flat_map(move |x| (low.1..=high.1).map(move |y| (x, y)))
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
    fn a_line_through_a_disc_is_covered_for_its_diameter() {
        let mut occupied = Occupied::default();
        occupied.disc(DVec2::new(20.0, 0.0), 4.0);
        let covered_mm = occupied.covered_mm(DVec2::ZERO, DVec2::new(40.0, 0.0));
        assert!((covered_mm - 8.0).abs() <= 1.0, "{covered_mm}");
    }
}

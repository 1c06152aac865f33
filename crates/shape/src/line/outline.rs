//! Outlines of a shape, asked whether a place lies within and how near they are.

use glam::DVec2;

/// Most rows.
const MOST_ROWS: usize = 20_000;

/// Straight edges by the rows of a grid that they pass.
pub(super) struct Outline {
    top_mm: f64,
    row_mm: f64,
    rows: Vec<Vec<[DVec2; 2]>>,
}

impl Outline {
    /// Of outlines that repeat their first place at the end, in rows about so high.
    pub(super) fn new(outlines: &[Vec<DVec2>], row_mm: f64) -> Self {
        let heights = || outlines.iter().flatten().map(|p| p.y);
        let (top_mm, bottom) =
            (heights().fold(f64::INFINITY, f64::min), heights().fold(f64::NEG_INFINITY, f64::max));
        let high_mm = (bottom - top_mm).max(0.0);
        let row_mm = row_mm.max(high_mm / MOST_ROWS as f64).max(1e-6);
        let mut rows = vec![Vec::new(); (high_mm / row_mm) as usize + 1];
        let row = |y: f64| ((y - top_mm) / row_mm) as usize;
        for edge in outlines.iter().flat_map(|one| one.windows(2)) {
            let (from, to) = (edge[0], edge[1]);
            for own in &mut rows[row(from.y.min(to.y))..=row(from.y.max(to.y))] {
                own.push([from, to]);
            }
        }
        Self { top_mm, row_mm, rows }
    }

    fn row(&self, y: f64) -> usize {
        (((y - self.top_mm) / self.row_mm).max(0.0) as usize).min(self.rows.len() - 1)
    }

    /// Whether a place lies within (even-odd rule).
    pub(super) fn holds(&self, place: DVec2) -> bool {
        self.rows[self.row(place.y)].iter().fold(false, |within, [a, b]| {
            let spans = (a.y > place.y) != (b.y > place.y);
            within != (spans && place.x < a.x + (place.y - a.y) / (b.y - a.y) * (b.x - a.x))
        })
    }

    /// Whether a disc lies within.
    pub(super) fn holds_disc(&self, middle: DVec2, radius_mm: f64) -> bool {
        let rows = self.row(middle.y - radius_mm)..=self.row(middle.y + radius_mm);
        self.holds(middle)
            && self.rows[rows].iter().flatten().all(|[a, b]| {
                let (way, to) = (*b - *a, middle - *a);
                let share = (to.dot(way) / way.length_squared().max(1e-18)).clamp(0.0, 1.0);
                (to - way * share).length() >= radius_mm
            })
    }
}

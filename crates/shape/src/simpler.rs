//! Lines with fewer corners.

use kurbo::{ParamCurveNearest as _, Point};

/// Corners that are looked at together to be fewer.
const STRETCH: usize = 200;

/// A line with fewer corners, nowhere farther from the line than `off` (Douglas and
/// Peucker, "Algorithms for the reduction of the number of points", 1973), stretch by stretch, so that
/// no line takes long. Its last place is left out.
pub(crate) fn simpler(line: &[Point], off: f64) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for begin in (0..line.len().saturating_sub(1)).step_by(STRETCH) {
        let stretch = &line[begin..line.len().min(begin + STRETCH + 1)];
        let mut keep = vec![false; stretch.len()];
        let mut open = vec![(0, stretch.len() - 1)];
        keep[0] = true;
        while let Some((from, to)) = open.pop() {
            let chord = kurbo::Line::new(stretch[from], stretch[to]);
            let off_squared = |index: &usize| chord.nearest(stretch[*index], 1e-9).distance_sq;
            let farthest = (from + 1..to).max_by(|a, b| off_squared(a).total_cmp(&off_squared(b)));
            let far = farthest.filter(|index| off_squared(index) > off * off);
            if let Some(index) = far {
                keep[index] = true;
                open.extend([(from, index), (index, to)]);
            }
        }
        let last = keep.len() - 1;
        kept.extend(stretch[..last].iter().zip(&keep).filter(|(_, keep)| **keep).map(|(p, _)| *p));
    }
    kept
}

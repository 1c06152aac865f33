//! Outlines with fewer corners, for lines that keep a margin from them.

use glam::DVec2;

/// The same closed outline, nowhere farther than `off_mm` from it (D. Douglas and T. Peucker, "Algorithms for
/// the reduction of the number of points", 1973), stretch by stretch, so that no outline takes long.
pub(crate) fn thinned(outline: &[[f64; 2]], off_mm: f64) -> Vec<[f64; 2]> {
    let closed: Vec<DVec2> =
        outline.iter().chain(outline.first()).map(|&p| DVec2::from(p)).collect();
    let mut kept = Vec::new();
    for begin in (0..closed.len().saturating_sub(1)).step_by(STRETCH) {
        let stretch = &closed[begin..closed.len().min(begin + STRETCH + 1)];
        let mut keep = vec![false; stretch.len()];
        keep[0] = true;
        let mut open = vec![(0, stretch.len() - 1)];
        while let Some((from, to)) = open.pop() {
            let off = |index: &usize| off_line_mm(stretch[*index], stretch[from], stretch[to]);
            let farthest = (from + 1..to).max_by(|a, b| off(a).total_cmp(&off(b)));
            if let Some(index) = farthest.filter(|index| off(index) > off_mm) {
                keep[index] = true;
                open.extend([(from, index), (index, to)]);
            }
        }
        let corners = stretch.iter().zip(&keep).filter(|(_, keep)| **keep);
        kept.extend(corners.map(|(point, _)| point.to_array()));
    }
    kept
}

/// Corners that are looked at together.
const STRETCH: usize = 200;

/// How far a place is from a straight line between two others, mm.
fn off_line_mm(place: DVec2, from: DVec2, to: DVec2) -> f64 {
    let way = to - from;
    let share = (place - from).dot(way) / way.length_squared().max(f64::MIN_POSITIVE);
    place.distance(from + way * share.clamp(0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    /// A chord that lies `s` off a circle of radius `r` spans the angle 2 acos(1 - s / r) (common geometry).
    #[test]
    fn a_circle_keeps_about_as_many_corners_as_its_chords_need() {
        let angle = |step: u32| TAU * f64::from(step) / 2000.0;
        let place = |step: u32| [20.0 * libm::cos(angle(step)), 20.0 * libm::sin(angle(step))];
        let circle: Vec<[f64; 2]> = (0..2000).map(place).collect();
        let fewer = thinned(&circle, 0.05);
        let least = TAU / (2.0 * libm::acos(1.0 - 0.05 / 20.0));
        assert!((least..3.0 * least).contains(&(fewer.len() as f64)), "{} {least}", fewer.len());
        for place in &circle {
            let place = DVec2::from(*place);
            let sides = fewer.iter().zip(fewer.iter().cycle().skip(1));
            let off = sides.map(|(a, b)| off_line_mm(place, DVec2::from(*a), DVec2::from(*b)));
            assert!(off.fold(f64::INFINITY, f64::min) <= 0.05 + 1e-9);
        }
        let square = [[0.0, 0.0], [5.0, 0.0], [5.0, 5.0], [0.0, 5.0]];
        assert_eq!(thinned(&square, 0.05), square);
    }
}

//! Lines with fewer corners.

use glam::DVec2;
use kurbo::{ParamCurveNearest as _, Point};

/// Corners that are looked at together to be fewer.
const STRETCH: usize = 200;

/// A line with fewer corners, nowhere farther from the line than `off` (Douglas and
/// Peucker, "Algorithms for the reduction of the number of points", 1973), stretch by stretch, so that
/// no line takes long. Its last place is left out; `off` is in the units of the line.
pub fn simpler(line: &[DVec2], off: f64) -> Vec<DVec2> {
    let point = |index: usize, stretch: &[DVec2]| Point::new(stretch[index].x, stretch[index].y);
    let mut kept: Vec<DVec2> = Vec::new();
    for begin in (0..line.len().saturating_sub(1)).step_by(STRETCH) {
        let stretch = &line[begin..line.len().min(begin + STRETCH + 1)];
        let mut keep = vec![false; stretch.len()];
        let mut open = vec![(0, stretch.len() - 1)];
        keep[0] = true;
        while let Some((from, to)) = open.pop() {
            let chord = kurbo::Line::new(point(from, stretch), point(to, stretch));
            let off_squared =
                |index: &usize| chord.nearest(point(*index, stretch), 1e-9).distance_sq;
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

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    /// The closed outline with fewer corners.
    fn thinned(outline: &[[f64; 2]], off: f64) -> Vec<[f64; 2]> {
        let closed: Vec<DVec2> =
            outline.iter().chain(outline.first()).map(|&p| DVec2::from(p)).collect();
        simpler(&closed, off).into_iter().map(<[f64; 2]>::from).collect()
    }

    fn off_line_mm(place: DVec2, from: DVec2, to: DVec2) -> f64 {
        let way = to - from;
        let share = (place - from).dot(way) / way.length_squared().max(f64::MIN_POSITIVE);
        place.distance(from + way * share.clamp(0.0, 1.0))
    }

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

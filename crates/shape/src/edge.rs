//! Simple edges that run once round a part: level, sine, zigzag and scallop.

use crate::SurfacePoint;
use piece::{Edge, Wave};
use std::f64::consts::PI;

/// Corners of one wave; a sine of 10 mm amplitude and 50 mm length then lies within 0.01 mm.
const CORNERS_PER_WAVE: u32 = 96;

/// Where on a part an edge lies at one angle, mm along from the rim. The edge stays between
/// `along - amplitude` (a crest, nearest to the rim) and `along + amplitude` (a trough); for a
/// scallop `along` is the middle between the two.
pub fn edge_along_mm(edge: &Edge, around: f64) -> f64 {
    let turn = (f64::from(edge.count) * (around - edge.crest_rad)).rem_euclid(2.0 * PI);
    edge.along_mm - amplitude_mm(edge) * rise(edge.wave, turn)
}

fn amplitude_mm(edge: &Edge) -> f64 {
    if edge.wave == Wave::Level || edge.count == 0 { 0.0 } else { edge.amplitude_mm }
}

/// 1 at a crest (`turn` 0), -1 at a trough (`turn` pi).
fn rise(wave: Wave, turn: f64) -> f64 {
    // 0 at a crest, 1 at a trough.
    let down = 1.0 - (turn / PI - 1.0).abs();
    match wave {
        Wave::Level => 0.0,
        Wave::Sine => libm::cos(turn),
        Wave::Zigzag => 1.0 - 2.0 * down,
        // A half circle through both neighbouring points, hanging away from the rim.
        Wave::Scallop => 1.0 - 2.0 * (1.0 - (1.0 - down) * (1.0 - down)).sqrt(),
    }
}

/// Nearest to and farthest from the rim, mm.
pub(crate) fn reach_mm(edge: &Edge) -> (f64, f64) {
    let amplitude = amplitude_mm(edge).abs();
    (edge.along_mm - amplitude, edge.along_mm + amplitude)
}

/// The angles, sorted, from -pi to pi, at which an edge has a corner or bends: between them it is
/// straight within 0.01 mm for waves up to 10 mm high and 50 mm long, less for smaller ones.
pub(crate) fn angles(edge: &Edge) -> Vec<f64> {
    let mut angles = vec![-PI, PI];
    if amplitude_mm(edge) != 0.0 {
        let length = 2.0 * PI / f64::from(edge.count);
        for wave in 0..edge.count {
            for corner in 0..CORNERS_PER_WAVE {
                let share = f64::from(corner) / f64::from(CORNERS_PER_WAVE);
                let share = match edge.wave {
                    Wave::Zigzag if corner % (CORNERS_PER_WAVE / 2) != 0 => continue,
                    // Even steps on the circle: close together where it is steep.
                    Wave::Scallop => 0.5 - 0.5 * libm::cos(PI * share),
                    _ => share,
                };
                let around = edge.crest_rad + length * (f64::from(wave) + share);
                angles.push((around + PI).rem_euclid(2.0 * PI) - PI);
            }
        }
    }
    angles.sort_by(f64::total_cmp);
    angles.dedup();
    angles
}

/// The closed loop between two edges that do not cross: along `from` and back along `to`.
pub(crate) fn between(from: &Edge, to: &Edge) -> Vec<SurfacePoint> {
    let point =
        |edge: &Edge, around: f64| SurfacePoint { around, along_mm: edge_along_mm(edge, around) };
    let upper = angles(from).into_iter().map(|around| point(from, around));
    let lower = angles(to).into_iter().rev().map(|around| point(to, around));
    upper.chain(lower).collect()
}

/// Where two edges cross the deepest: the angle and by how many mm `from` lies below `to`; `None` if
/// they nowhere cross.
pub(crate) fn crossing(from: &Edge, to: &Edge) -> Option<(f64, f64)> {
    let mut all = angles(from);
    all.extend(angles(to));
    all.into_iter()
        .map(|around| (around, edge_along_mm(from, around) - edge_along_mm(to, around)))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|deepest| deepest.1 > 1.0e-9)
}

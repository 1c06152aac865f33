//! Pieces of confetti.

use super::PIECE_MM;
use super::ground::{arc, in_pieces};
use super::strewn::Made;
use glam::DVec2;
use piece::Confetto;
use std::f64::consts::PI;

/// How many times as long as wide a strip is.
const STRIP: f64 = 4.0;

/// A shape that a circle of this diameter just holds, turned by a share of a full turn.
pub(super) fn shape(shape: Confetto, size_mm: f64, turn: f64) -> Made {
    let radius_mm = 0.5 * size_mm;
    let at = |angle: f64| {
        let angle = angle + 2.0 * PI * turn;
        radius_mm * DVec2::new(libm::cos(angle), libm::sin(angle))
    };
    let regular = |corners: u32| -> Vec<DVec2> {
        (0..corners).map(|corner| at(2.0 * PI * f64::from(corner) / f64::from(corners))).collect()
    };
    let outline = match shape {
        Confetto::Disc => {
            let mut disc = arc(DVec2::ZERO, radius_mm, 0.0, 2.0 * PI, 1.0);
            disc.pop();
            disc
        }
        Confetto::Square => regular(4),
        Confetto::Triangle => regular(3),
        Confetto::Strip => {
            let half = libm::atan2(1.0, STRIP);
            vec![at(half), at(PI - half), at(PI + half), at(-half)]
        }
    };
    Made { discs: vec![(DVec2::ZERO, radius_mm)], loops: vec![in_pieces(&outline, PIECE_MM)] }
}

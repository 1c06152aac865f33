//! A star.

use super::PIECE_MM;
use super::ground::in_pieces;
use super::strewn::Made;
use glam::DVec2;
use std::f64::consts::{FRAC_PI_2, PI};

/// A star with one point up, tilted to the right.
pub(super) fn star(points: u32, size_mm: f64, inner: f64, tilt_rad: f64) -> Made {
    let corner = |number: u32| {
        let angle = PI * f64::from(number) / f64::from(points) - FRAC_PI_2 + tilt_rad;
        let radius = 0.5 * size_mm * if number.is_multiple_of(2) { 1.0 } else { inner };
        radius * DVec2::new(libm::cos(angle), libm::sin(angle))
    };
    let corners: Vec<DVec2> = (0..2 * points).map(corner).collect();
    Made { discs: vec![(DVec2::ZERO, 0.5 * size_mm)], loops: vec![in_pieces(&corners, PIECE_MM)] }
}

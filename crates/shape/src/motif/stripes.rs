//! Stripes down the wall, straight or twisted.
//!
//! A stripe keeps its share of the girth. Twisted, it goes round by the same angle for each mm along
//! the wall: a helix on a cylinder, a conical helix of constant pitch on a cone.

use super::ground::Ground;
use super::pitch::Columns;
use crate::boolean::{Corner, Loop};
use piece::{Diagnostic, FieldPath, Pitch};
use std::f64::consts::FRAC_PI_2;

/// The middle of the first stripe begins at the front of the upper edge.
pub(super) fn loops(
    pitch: Pitch,
    share: f64,
    twist_rad: f64,
    ground: &Ground<'_>,
    at: &FieldPath,
    notes: &mut Vec<Diagnostic>,
) -> Result<Vec<Loop>, Diagnostic> {
    ground.off_axis(at)?;
    let columns = Columns::new(pitch, 1, "stripes", ground, at, notes)?;
    // In lengths short enough to lie within a turn.
    let lengths = (twist_rad.abs() / FRAC_PI_2).ceil().max(1.0);
    columns.check(lengths, at)?;
    let half = 0.5 * share * columns.step;
    let (top, bottom) = ground.along_mm;
    let mut loops = Vec::new();
    for middle in &columns.middles {
        for length in 0..lengths as u32 {
            let corner = |side: f64, done: u32| {
                let done = f64::from(done) / lengths;
                let around = middle + side * half + twist_rad * done;
                ground.plane.corner(around, top + (bottom - top) * done)
            };
            let one = vec![
                corner(-1.0, length),
                corner(1.0, length),
                corner(1.0, length + 1),
                corner(-1.0, length + 1),
            ];
            loops.push(within_a_turn(one, ground));
        }
    }
    Ok(loops)
}

/// The same moved by whole turns, to begin in the turn to the left of the back.
fn within_a_turn(one: Loop, ground: &Ground<'_>) -> Loop {
    let (Some(half), Some(left)) =
        (ground.plane.half_turn, one.iter().map(|corner| corner.x).min())
    else {
        return one;
    };
    let shift = (left + 2 * half).div_euclid(2 * half) * 2 * half;
    one.iter().map(|corner| Corner::new(corner.x - shift, corner.y)).collect()
}

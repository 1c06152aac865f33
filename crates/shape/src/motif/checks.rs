//! A chessboard: whole rows from edge to edge, each check as nearly square as whole rows allow.

use super::even::Even;
use super::ground::Ground;
use super::pitch::Columns;
use crate::SurfacePoint;
use crate::boolean::Loop;
use piece::{Diagnostic, FieldPath, Pitch};

/// Of each row every other check, so that half of every girth is covered.
pub(super) fn loops(
    pitch: Pitch,
    ground: &Ground<'_>,
    at: &FieldPath,
    notes: &mut Vec<Diagnostic>,
) -> Result<Vec<Loop>, Diagnostic> {
    ground.off_axis(at)?;
    let columns = Columns::new(pitch, 2, "checks", ground, at, notes)?;
    let even = Even::new(ground.surface, ground.along_mm);
    let rows = (even.whole() / columns.step).round().max(1.0);
    columns.check(rows, at)?;
    let edge_mm = |row: u32| even.along_mm(even.whole() * f64::from(row) / rows);
    let half = 0.5 * columns.step;
    let mut loops = Vec::new();
    for row in 0..rows as u32 {
        let (from_mm, to_mm) = (edge_mm(row), edge_mm(row + 1));
        for middle in columns.middles.iter().skip(row as usize % 2).step_by(2) {
            loops.push(ground.plane.rectangle(
                SurfacePoint { around: middle - half, along_mm: from_mm },
                SurfacePoint { around: middle + half, along_mm: to_mm },
            ));
        }
    }
    Ok(loops)
}

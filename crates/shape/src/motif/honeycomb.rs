//! Six-sided cells with bars between: two sides upright, rows shifted by half a cell.
//!
//! Cells shrink with the girth and stay regular; the bars keep their width. On a cylinder cells cover
//! (1 - bar/pitch)² of the zone, since each is a hexagon whose width across its sides is pitch - bar,
//! and hexagons of the width of the pitch leave nothing.

use super::even::Even;
use super::ground::{Ground, in_pieces};
use super::pitch::Columns;
use super::{PIECE_MM, SLACK_MM};
use crate::boolean::Loop;
use glam::DVec2;
use piece::{Diagnostic, FieldPath, Pitch};

/// Narrowest cell that is left, as a share of the pitch.
const LEAST_CELL: f64 = 0.02;

pub(super) fn loops(
    pitch: Pitch,
    bar_mm: f64,
    whole: bool,
    ground: &Ground<'_>,
    at: &FieldPath,
    notes: &mut Vec<Diagnostic>,
) -> Result<Vec<Loop>, Diagnostic> {
    ground.off_axis(at)?;
    let columns = Columns::new(pitch, 1, "cells", ground, at, notes)?;
    let narrowest_mm = columns.step * ground.scales_mm(ground.along_mm).0;
    if bar_mm > (1.0 - LEAST_CELL) * narrowest_mm {
        let message = format!(
            "bars of {bar_mm} mm leave nothing of cells that are {narrowest_mm:.1} mm from one to the next where the zone is narrowest"
        );
        return Err(Diagnostic::error(at.key("bar"), message)
            .hint("Make the bars narrower, or the cells fewer."));
    }
    let even = Even::new(ground.surface, ground.along_mm);
    let row = columns.step * 0.75_f64.sqrt();
    let rows = (even.whole() / row).ceil() + 2.0;
    columns.check(rows, at)?;
    let shifted = columns.shifted();
    // The first row stands with its tips on the upper edge.
    let first = columns.step / 3.0_f64.sqrt();
    let mut loops = Vec::new();
    for number in 0..rows as u32 {
        let depth = first + row * (f64::from(number) - 1.0);
        let scale_mm = ground.scale_mm(even.along_mm(depth));
        let cell = cell(columns.step - bar_mm / scale_mm, scale_mm);
        let tips_mm = cell.iter().map(|at| even.along_mm(depth + at.y));
        let (top, bottom) = ground.along_mm;
        let cut = |along: f64| along < top - SLACK_MM || along > bottom + SLACK_MM;
        if whole && tips_mm.clone().any(cut) {
            continue;
        }
        let middles = if number % 2 == 1 { &columns.middles } else { &shifted };
        for middle in middles {
            let corner = |(at, along): (&DVec2, f64)| ground.plane.corner(middle + at.x, along);
            loops.push(cell.iter().zip(tips_mm.clone()).map(corner).collect());
        }
    }
    Ok(loops)
}

/// A hexagon of this width across its upright sides, in units of `around`, tips up and down.
fn cell(width: f64, scale_mm: f64) -> Vec<DVec2> {
    let (half, tip) = (0.5 * width, width / 3.0_f64.sqrt());
    let corners = [
        DVec2::new(0.0, -tip),
        DVec2::new(half, -0.5 * tip),
        DVec2::new(half, 0.5 * tip),
        DVec2::new(0.0, tip),
        DVec2::new(-half, 0.5 * tip),
        DVec2::new(-half, -0.5 * tip),
    ];
    in_pieces(&corners, PIECE_MM / scale_mm)
}

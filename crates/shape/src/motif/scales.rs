//! Rows of round scales: each hangs as a half circle over the gap between two of the row below.
//!
//! Scales shrink with the girth and stay round; the bare line between them keeps its width.

use super::SLACK_MM;
use super::even::Even;
use super::ground::{Ground, arc};
use super::pitch::Columns;
use crate::boolean::Loop;
use glam::DVec2;
use piece::{Diagnostic, FieldPath, Pitch};
use std::f64::consts::{FRAC_PI_2, PI, SQRT_2};

/// Widest bare line, as a share of the pitch.
const WIDEST_GAP: f64 = 0.3;

pub(super) fn loops(
    pitch: Pitch,
    gap_mm: f64,
    whole: bool,
    ground: &Ground<'_>,
    at: &FieldPath,
    notes: &mut Vec<Diagnostic>,
) -> Result<Vec<Loop>, Diagnostic> {
    ground.off_axis(at)?;
    let columns = Columns::new(pitch, 1, "scales", ground, at, notes)?;
    let narrowest_mm = columns.step * ground.scales_mm(ground.along_mm).0;
    if gap_mm > WIDEST_GAP * narrowest_mm {
        let message = format!(
            "lines of {gap_mm} mm are too wide for scales that are {narrowest_mm:.1} mm from one to the next where the zone is narrowest"
        );
        let most = (WIDEST_GAP * narrowest_mm * 10.0).floor() / 10.0;
        return Err(Diagnostic::error(at.key("gap"), message)
            .hint(format!("Make them at most {most} mm wide, or the scales fewer.")));
    }
    let even = Even::new(ground.surface, ground.along_mm);
    let radius = 0.5 * columns.step;
    let rows = (even.whole() / radius).ceil() + 1.0;
    columns.check(rows, at)?;
    let shifted = columns.shifted();
    let mut loops = Vec::new();
    for row in 0..rows as u32 {
        let depth = radius * f64::from(row);
        let scale_mm = ground.scale_mm(even.along_mm(depth));
        let tile = scale(radius, 0.5 * gap_mm / scale_mm, scale_mm);
        let along_mm: Vec<f64> = tile.iter().map(|at| even.along_mm(depth + at.y)).collect();
        if whole && along_mm.iter().any(|along| *along > ground.along_mm.1 + SLACK_MM) {
            continue;
        }
        for middle in if row.is_multiple_of(2) { &columns.middles } else { &shifted } {
            let corner = |(at, along): (&DVec2, &f64)| ground.plane.corner(middle + at.x, *along);
            loops.push(tile.iter().zip(&along_mm).map(corner).collect());
        }
    }
    Ok(loops)
}

/// What is seen of one scale, y down from the line on which its half circle hangs: inside its own
/// circle made smaller by half the gap, outside those of the two above it made larger by as much.
fn scale(radius: f64, half_gap: f64, scale_mm: f64) -> Vec<DVec2> {
    let (own, above) = (radius - half_gap, radius + half_gap);
    // Where its circle meets the one above to the right, in the direction of that one's centre and
    // across it (two circles whose centres lie `apart`).
    let apart = radius * SQRT_2;
    let toward = (own * own - above * above + apart * apart) / (2.0 * apart);
    let across = (own * own - toward * toward).max(0.0).sqrt();
    let meet = DVec2::new(toward + across, across - toward) / SQRT_2;
    let centre = DVec2::new(radius, -radius);
    // Both circles above meet over its middle.
    let tip = DVec2::new(0.0, (above * above - radius * radius).max(0.0).sqrt() - radius);
    let angle = |at: DVec2| libm::atan2(at.y, at.x);
    let turned = |at: DVec2| (angle(at) + 2.0 * PI) % (2.0 * PI);
    // From its lowest place up the right side and over to the tip; the left side is its mirror.
    let mut right = arc(DVec2::ZERO, own, FRAC_PI_2, angle(meet), scale_mm);
    right.pop();
    right.extend(arc(centre, above, turned(meet - centre), turned(tip - centre), scale_mm));
    let mirrored: Vec<DVec2> =
        right[1..right.len() - 1].iter().rev().map(|at| DVec2::new(-at.x, at.y)).collect();
    right.extend(mirrored);
    right
}

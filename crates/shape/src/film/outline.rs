//! Outlines in the plane of a wall: brought to the sheet, and slit.

use super::grid::{Shape, extent};
use crate::SurfacePoint;
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;

/// Farthest that two places of an outline may lie apart along the wall, mm, and round it, radians: on
/// the sheet its straight steps then follow the curve within 0.01 mm on radii over 15 mm.
const STEP_MM: f64 = 1.0;
const STEP_RAD: f64 = 0.03;
/// How wide slits are at their open ends before the film is brought to the sheet, mm. There they open
/// as far as the sheet asks.
const HAIR_MM: f64 = 0.002;

/// A closed outline on the sheet.
pub(super) fn followed(
    one: &[SurfacePoint],
    place: &dyn Fn(SurfacePoint) -> [f64; 2],
) -> Vec<[f64; 2]> {
    let mut page = Vec::with_capacity(one.len());
    for (from, to) in one.iter().zip(one.iter().cycle().skip(1)) {
        let (turn, rise) = (to.around - from.around, to.along_mm - from.along_mm);
        let steps = (rise.abs() / STEP_MM).max(turn.abs() / STEP_RAD).ceil().clamp(1.0, 1e4) as u32;
        page.extend((0..steps).map(|step| {
            let share = f64::from(step) / f64::from(steps);
            place(SurfacePoint {
                around: from.around + turn * share,
                along_mm: from.along_mm + rise * share,
            })
        }));
    }
    page
}

/// What is left of a shape between slits: each from one end of the shape to the strip between two
/// distances along the wall, or right through.
pub(super) fn slit(
    shape: &Shape,
    slits: &[f64],
    strip_mm: Option<(f64, f64)>,
    scale_mm: f64,
) -> Vec<Shape> {
    let (low, high) = extent(shape);
    let (top, bottom) = (low.along_mm - 1.0, high.along_mm + 1.0);
    let half = 0.5 * HAIR_MM;
    let mut gaps: Vec<Vec<[f64; 2]>> = Vec::new();
    for slit in slits {
        let x = slit * scale_mm;
        match strip_mm {
            Some((from, to)) => {
                gaps.push(vec![[x - half, top], [x + half, top], [x, from]]);
                gaps.push(vec![[x - half, bottom], [x, to], [x + half, bottom]]);
            }
            None => gaps.push(vec![
                [x - half, top],
                [x + half, top],
                [x + half, bottom],
                [x - half, bottom],
            ]),
        }
    }
    let plane: Vec<Vec<[f64; 2]>> = shape
        .iter()
        .map(|one| one.iter().map(|p| [p.around * scale_mm, p.along_mm]).collect())
        .collect();
    let left = plane.overlay(&gaps, OverlayRule::Difference, FillRule::EvenOdd);
    let back = |p: &[f64; 2]| SurfacePoint { around: p[0] / scale_mm, along_mm: p[1] };
    left.iter()
        .map(|shape| shape.iter().map(|one| one.iter().map(back).collect()).collect())
        .collect()
}

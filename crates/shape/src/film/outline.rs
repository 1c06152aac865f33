//! Outlines in the plane of a wall: brought to the sheet, and slit.

use super::grid::{Parting, Shape};
use super::samples::{Window, down};
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

/// What is left of a shape between slits.
pub(super) fn slit(shape: &Shape, parting: &Parting, scale_mm: f64) -> Vec<Shape> {
    let half = 0.5 * HAIR_MM;
    let mut gaps: Vec<Vec<[f64; 2]>> = Vec::new();
    for slit in &parting.slits {
        let x = slit.around * scale_mm;
        let film = down(shape, slit.around);
        for &(top, bottom) in &slit.cut_mm {
            let (from, to) = (outside(&film, top, -1.0), outside(&film, bottom, 1.0));
            gaps.push(match parting.strip_mm {
                Some((strip, _)) if bottom <= strip => {
                    vec![[x - half, from], [x + half, from], [x, bottom]]
                }
                Some(_) => vec![[x - half, to], [x, top], [x + half, to]],
                None => vec![[x - half, from], [x + half, from], [x + half, to], [x - half, to]],
            });
        }
    }
    let left = plane(shape, scale_mm).overlay(&gaps, OverlayRule::Difference, FillRule::EvenOdd);
    left.iter().map(|one| on_wall(one, scale_mm)).collect()
}

/// A place outside the film, past the edge of it at `edge_mm` on a line down: 1 mm, or half-way to the next
/// film where that is nearer. `way` is 1 down the wall, -1 up.
fn outside(film: &[(f64, f64)], edge_mm: f64, way: f64) -> f64 {
    let beyond = film.iter().flat_map(|(top, bottom)| [top, bottom]);
    let next = beyond.map(|place| way * (place - edge_mm)).filter(|off| *off > 1e-9);
    edge_mm + way * 0.5 * next.fold(2.0, f64::min)
}

/// What of a shape lies in a window, all in one.
pub(super) fn clipped(shape: &Shape, (low, high): Window, scale_mm: f64) -> Shape {
    let (left, right) = (low.around * scale_mm, high.around * scale_mm);
    let (top, bottom) = (low.along_mm, high.along_mm);
    let window = vec![vec![[left, top], [right, top], [right, bottom], [left, bottom]]];
    let within = plane(shape, scale_mm).overlay(&window, OverlayRule::Intersect, FillRule::EvenOdd);
    within.iter().flat_map(|one| on_wall(one, scale_mm)).collect()
}

/// Everything that lies in any of some shapes, whose holes turn the other way about.
pub(super) fn united<'a>(shapes: impl Iterator<Item = &'a Shape>, scale_mm: f64) -> Shape {
    let all: Vec<Vec<[f64; 2]>> = shapes.flat_map(|shape| plane(shape, scale_mm)).collect();
    let none: Vec<Vec<[f64; 2]>> = Vec::new();
    let united = all.overlay(&none, OverlayRule::Subject, FillRule::NonZero);
    united.iter().flat_map(|one| on_wall(one, scale_mm)).collect()
}

/// Outlines in a plane of mm by mm, so that its grid is as fine both ways.
fn plane(shape: &Shape, scale_mm: f64) -> Vec<Vec<[f64; 2]>> {
    let place = |p: &SurfacePoint| [p.around * scale_mm, p.along_mm];
    shape.iter().map(|one| one.iter().map(place).collect()).collect()
}

fn on_wall(outlines: &[Vec<[f64; 2]>], scale_mm: f64) -> Shape {
    let place = |p: &[f64; 2]| SurfacePoint { around: p[0] / scale_mm, along_mm: p[1] };
    outlines.iter().map(|one| one.iter().map(place).collect()).collect()
}

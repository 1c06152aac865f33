//! Whether art stays on its part, and has no more corners than a knife should follow.

use crate::SurfacePoint;
use crate::art::Place;
use crate::boolean::{Corner, Region};
use crate::copies::Row;
use crate::ink::MOST_CORNERS;
use crate::lie::middle_scale;
use crate::watch::Watch;
use glam::DVec2;
use piece::{Diagnostic, FieldPath};
use std::f64::consts::TAU;

/// Reaching past the part by less than this, mm, is rounding.
const SLACK_MM: f64 = 1.0e-3;

/// What a maker calls the art at a path.
fn what(at: &FieldPath) -> &'static str {
    if at.0.ends_with("lettering") { "lettering" } else { "drawing" }
}

/// More corners in all copies than any knife should follow.
pub(crate) fn check_corners(
    laid: &[Vec<SurfacePoint>],
    copies: usize,
    at: &FieldPath,
) -> Result<(), Vec<Diagnostic>> {
    let corners: usize = laid.iter().map(Vec::len).sum();
    if corners * copies <= MOST_CORNERS {
        return Ok(());
    }
    let message = format!(
        "{copies} copies of this drawing of {corners} corners have {} corners, more than {MOST_CORNERS}",
        corners * copies
    );
    let fits = MOST_CORNERS / corners.max(1);
    Err(vec![
        Diagnostic::error(at.key("repeat"), message)
            .hint(format!("Use at most {fits}, or simplify its paths in a drawing program.")),
    ])
}

/// Art beyond the ends of a revolved part, or wider than once round. `at` is the path of the art,
/// `row_at` of what puts this row where it is.
pub(crate) fn check_outside(
    laid: &[Vec<SurfacePoint>],
    row: &Row,
    place: &Place,
    at: &FieldPath,
    row_at: &FieldPath,
) -> Result<(), Vec<Diagnostic>> {
    if place.plane.half_turn.is_none() {
        return Ok(());
    }
    let low = f64::INFINITY;
    let ((left, right), (up, down)) =
        laid.iter().flatten().fold(((low, -low), (low, -low)), |((left, right), (up, down)), p| {
            let around = (left.min(p.around), right.max(p.around));
            (around, (up.min(p.along_mm), down.max(p.along_mm)))
        });
    let mut wrong = Vec::new();
    let what = what(at);
    let along_at = if at == row_at { at.key("along") } else { row_at.clone() };
    let (start, end) = place.surface.along_range_mm();
    let (top, bottom) = (row.along_mm + up, row.along_mm + down);
    if top < start - SLACK_MM {
        let message =
            format!("the {what} reaches {:.1} mm above the rim (start) of its part", start - top);
        wrong.push(
            Diagnostic::error(along_at.clone(), message).hint("Move it down or make it smaller."),
        );
    }
    if bottom > end + SLACK_MM {
        let message = format!("the {what} reaches {:.1} mm past the end of its part", bottom - end);
        wrong.push(Diagnostic::error(along_at, message).hint("Move it up or make it smaller."));
    }
    let scale = middle_scale(place.surface, row.along_mm);
    let (width, girth) = ((right - left) * scale, TAU * scale);
    if width > girth + SLACK_MM {
        let message = format!(
            "the {what} is {width:.1} mm wide, but the part is only {girth:.1} mm round at {:.1} mm from the rim",
            row.along_mm
        );
        wrong.push(
            Diagnostic::error(row_at.clone(), message)
                .hint("Make it smaller so that it does not lap over itself."),
        );
    }
    if wrong.is_empty() { Ok(()) } else { Err(wrong) }
}

/// Art beyond the outline of a flat part.
pub(crate) fn check_plate(
    region: &Region,
    place: &Place,
    at: &FieldPath,
    watch: &mut Watch<'_>,
) -> Result<(), Vec<Diagnostic>> {
    let outside = region.without(place.plane, place.part);
    let farthest = outside
        .loops
        .iter()
        .flatten()
        .take_while(|_| watch.going())
        .map(|corner| distance_steps(*corner, place.part))
        .fold(0.0, f64::max)
        / place.plane.steps(1.0) as f64;
    if farthest <= SLACK_MM {
        return Ok(());
    }
    let what = what(at);
    let message = format!("the {what} reaches {farthest:.1} mm past the outline of its part");
    Err(vec![Diagnostic::error(at.clone(), message).hint("Move it or make it smaller.")])
}

fn distance_steps(corner: Corner, region: &Region) -> f64 {
    let point = |c: Corner| DVec2::new(c.x as f64, c.y as f64);
    let from = point(corner);
    let mut best = f64::INFINITY;
    for one in &region.loops {
        for (a, b) in one.iter().zip(one.iter().cycle().skip(1)) {
            let (along, to) = (point(*b) - point(*a), from - point(*a));
            let share = (to.dot(along) / along.length_squared().max(1.0)).clamp(0.0, 1.0);
            best = best.min((to - along * share).length());
        }
    }
    best
}

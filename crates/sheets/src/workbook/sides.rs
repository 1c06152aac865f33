//! The four sides in pictures, with the same art unrolled below.

use super::{Files, MARGIN_MM, paper_mm};
use crate::drawing::{Bounds, Letters};
use crate::unrolled::{coloured_band, coloured_bands};
use crate::words;
use crate::{Plan, views};
use glam::DVec2;
use picture::sides::{Side, Sides};
use serde_json::{Value, json};
use shape::Surface;

/// Height that margins, title, pictures at their tallest and words of the page take, mm.
const TAKEN_MM: f64 = 172.0;
/// Room round each band on the page, mm; the same as in `pages/sides.typ`.
const APART_MM: DVec2 = DVec2::new(6.0, 5.0);
/// Words above a band and what its lines reach beyond it, mm.
const WORDS_MM: f64 = 10.0;
/// Bands are printed one to so many.
const REDUCED: [f64; 11] = [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 20.0];

/// Whether a piece has sides: one of plates alone is all in its portrait.
pub(crate) fn has_sides(plan: &Plan) -> bool {
    plan.shape.parts.iter().any(|part| part.surface.period().is_some())
}

/// Data of the unrolled bands; null for a piece without sides.
pub(super) fn unrolled(plan: &Plan, letters: &Letters, files: &mut Files) -> Value {
    if !has_sides(plan) {
        return Value::Null;
    }
    let bands: Vec<(usize, usize, Bounds)> = (0..plan.piece.parts.len())
        .flat_map(|part| {
            coloured_bands(plan, part).into_iter().map(move |(band, bounds)| (part, band, bounds))
        })
        .collect();
    let paper = paper_mm(&plan.settings);
    let room = DVec2::new(paper.x - 2.0 * MARGIN_MM, paper.y - TAKEN_MM);
    let sizes: Vec<DVec2> = bands.iter().map(|(.., bounds)| bounds.size()).collect();
    let fitting = REDUCED.into_iter().find(|reduced| fits(&sizes, 1.0 / reduced, room));
    let reduced = fitting.unwrap_or(REDUCED[REDUCED.len() - 1]);
    let shown: Vec<Value> = bands
        .iter()
        .map(|&(part, band, _)| {
            let drawing = coloured_band(plan, part, band, 1.0 / reduced, letters);
            let view = drawing.bounds().grown(0.3 * reduced);
            let file = format!("sides-{}.svg", files.len());
            files.insert(file.clone(), drawing.tile(view).into_bytes());
            let surface = &plan.shape.parts[part].surface;
            json!({
                "part": plan.piece.parts[part].name,
                "band": surface.bands()[band].name,
                "file": file,
                "width_mm": view.size().x / reduced,
            })
        })
        .collect();
    json!({ "reduced": words::trimmed(reduced, 1), "bands": shown })
}

/// Whether rectangles side by side, row below row, find room at a scale.
fn fits(sizes: &[DVec2], scale: f64, room: DVec2) -> bool {
    let (mut across_mm, mut row_mm, mut down_mm) = (0.0, 0.0, 0.0);
    for size in sizes {
        let size = *size * scale + APART_MM + DVec2::new(0.0, WORDS_MM);
        if size.x > room.x + APART_MM.x {
            return false;
        }
        if across_mm + size.x > room.x + APART_MM.x {
            down_mm += row_mm;
            (across_mm, row_mm) = (0.0, 0.0);
        }
        across_mm += size.x;
        row_mm = f64::max(row_mm, size.y);
    }
    down_mm + row_mm <= room.y
}

/// Data of the pictures, in the order in which the unrolled sheet has the sides from left to right.
pub(crate) fn pictures(plan: &Plan, sides: &Sides) -> Value {
    let ring = widest_ring(plan);
    let shown = [Side::Left, Side::Front, Side::Right, Side::Back].map(|side| {
        let view = sides.views.iter().find(|(other, ..)| *other == side);
        let ticks = match (view, ring) {
            (Some((_, camera, _)), Some((radius_mm, z_mm))) => {
                views::ticks(side, camera, radius_mm, z_mm)
            }
            _ => Vec::new(),
        };
        let ticks: Vec<Value> = ticks
            .into_iter()
            .map(|(x, degrees)| json!({ "x": x, "name": words::trimmed(degrees, 0) }))
            .collect();
        json!({ "name": views::name(side), "file": file(side), "ticks": ticks })
    });
    json!(shown)
}

/// Name of the picture of a side among the files of the workbook.
pub(crate) fn file(side: Side) -> String {
    format!("side-{}.jpg", side.degrees())
}

/// Radius and height of the widest ring of the first round part on the axis, mm.
fn widest_ring(plan: &Plan) -> Option<(f64, f64)> {
    let on_axis = |part: &&shape::PartShape| {
        let at = part.piece_from_part.translation;
        part.surface.period().is_some() && libm::hypot(at.x, at.y) < 1e-6
    };
    let part = plan.shape.parts.iter().find(on_axis)?;
    let widest = |surface: &Surface| {
        let stops = surface.along_stops_mm(4.0);
        let radius = |along_mm: f64| surface.around_scale_mm(along_mm);
        stops.into_iter().max_by(|a, b| radius(*a).total_cmp(&radius(*b)))
    };
    let along_mm = widest(&part.surface)?;
    let point = shape::SurfacePoint { around: 0.0, along_mm };
    let place = part.piece_from_part.transform_point3(part.surface.world_from_surface(point));
    Some((place.x, place.z))
}

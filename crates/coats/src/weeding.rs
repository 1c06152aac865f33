//! What is cut round the shapes of a piece to weed inside, and the crosses by which it is laid level.

use crate::film_piece::{FilmPiece, Outlines, extent, rectangle};
use crate::ground::{Ground, crossings};
use crate::registration::REACH_MM;
use glam::DVec2;
use piece::film::Weeding;
use piece::settings::VinylProduct;

/// Hollows of an outline narrower than twice this, mm, are weeded as part of it (own choice).
const HOLLOW_MM: f64 = 8.0;
/// How far the line to weed inside may be from its margin, mm, so that it has few corners (own choice).
const FINE_MM: f64 = 0.05;
/// Shapes farther apart than twice this, mm, stand in a rectangle.
const WIDEST_HOLLOW_MM: f64 = 64.0;
/// Arm of a cross on the level line, mm, where the margin is wide enough for it.
const ARM_MM: f64 = 1.5;
/// Between two strips to weed one after the other, mm, so that no line is cut twice.
const BETWEEN_STRIPS_MM: f64 = 0.6;
/// Least way from a shape to the cut between two strips, mm.
const CLEAR_MM: f64 = 1.0;

/// Shapes moved into a rectangle of their own, with all that is cut round them. Marks are the middles of
/// registration crosses, in the places of the shapes.
pub(crate) fn dressed(
    mut shapes: Vec<Outlines>,
    marks: &[[f64; 2]],
    strip: bool,
    vinyl: &VinylProduct,
) -> FilmPiece {
    let pads: Outlines = marks
        .iter()
        .map(|&mark| rectangle(DVec2::from(mark) - REACH_MM, DVec2::from(mark) + REACH_MM))
        .collect();
    let (low, high) = extent(shapes.iter().flatten().chain(&pads).flatten());
    let moved = |point: [f64; 2]| (DVec2::from(point) - low + vinyl.margin_mm()).to_array();
    let move_all = |outlines: &mut Outlines| {
        outlines.iter_mut().flatten().for_each(|point| *point = moved(*point));
    };
    shapes.iter_mut().for_each(move_all);
    let mut pads = pads;
    move_all(&mut pads);
    let size = high - low + 2.0 * vinyl.margin_mm();
    let (half, weed) = (0.5 * vinyl.spacing_mm, vinyl.weed_margin_mm);
    let whole = rectangle(DVec2::splat(half), size - half);
    let mut piece = FilmPiece::rectangle(size.x, size.y);
    match vinyl.weeding {
        Weeding::Box => piece.frame = vec![whole],
        Weeding::Strips => piece.frame = weeding_strips(&shapes, &pads, size, vinyl),
        Weeding::Outline | Weeding::None => {
            let all = shapes.iter().flatten().chain(&pads);
            match one_outline(&Ground::thinned(all, FINE_MM), weed) {
                Some(outline) => {
                    piece.body = outline.grown(half).outlines();
                    piece.frame = outline.outlines();
                }
                None => piece.frame = vec![whole],
            }
        }
    }
    piece.level = if marks.is_empty() { level(&piece.frame, size, weed) } else { Vec::new() };
    if vinyl.weeding == Weeding::None {
        piece.frame.clear();
    }
    piece.registration = marks.iter().map(|&mark| moved(mark)).collect();
    piece.shapes = shapes;
    piece.strip = strip;
    piece
}

/// One line round everything, at the margin, with narrow hollows filled: as wide ones as it takes to be
/// one, if that is possible at all.
fn one_outline(ground: &Ground, margin_mm: f64) -> Option<Ground> {
    let mut hollow_mm = HOLLOW_MM;
    while hollow_mm <= WIDEST_HOLLOW_MM {
        let outline = ground.grown_far(margin_mm + hollow_mm).grown(-hollow_mm);
        if outline.shapes() == 1 {
            return Some(outline);
        }
        hollow_mm *= 2.0;
    }
    None
}

/// Half the length of a cross on the level line, mm.
pub fn level_arm_mm(vinyl: &VinylProduct) -> f64 {
    arm_mm(vinyl.weed_margin_mm)
}

fn arm_mm(weed_margin_mm: f64) -> f64 {
    ARM_MM.min(0.4 * weed_margin_mm)
}

/// The first and the last place on the level line through the middle where a cross lies whole between
/// the frame and the shapes.
fn level(frame: &Outlines, size: DVec2, weed_margin_mm: f64) -> Vec<[f64; 2]> {
    let inside = Ground::of(frame.iter()).grown(-arm_mm(weed_margin_mm) - 0.1).outlines();
    let middle = 0.5 * size.y;
    let places = crossings(&inside, middle);
    match (places.first(), places.last()) {
        (Some(first), Some(last)) => vec![[*first, middle], [*last, middle]],
        _ => Vec::new(),
    }
}

/// The rectangle round a piece, cut across in every level gap between its shapes: each part is weeded
/// by itself, with less sticky waste in the hand.
fn weeding_strips(
    shapes: &[Outlines],
    pads: &Outlines,
    size: DVec2,
    vinyl: &VinylProduct,
) -> Outlines {
    let half = 0.5 * vinyl.spacing_mm;
    let middle = 0.5 * size.y;
    let keep = arm_mm(vinyl.weed_margin_mm) + BETWEEN_STRIPS_MM;
    let mut spans: Vec<(f64, f64)> = shapes
        .iter()
        .map(|shape| extent(shape.iter().flatten()))
        .chain(pads.iter().map(|pad| extent(pad.iter())))
        .map(|(low, high)| (low.y, high.y))
        .collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut strips = Vec::new();
    let (mut top, mut reach) = (half, f64::NEG_INFINITY);
    for (low, high) in spans {
        let (from, to) = (reach + CLEAR_MM, low - CLEAR_MM);
        let mut at = 0.5 * (from + to);
        // The crosses on the level line stay whole.
        if (at - middle).abs() < keep {
            at = if middle - keep >= from { middle - keep } else { middle + keep };
        }
        if reach.is_finite() && from <= at && at <= to {
            let end = at - 0.5 * BETWEEN_STRIPS_MM;
            strips.push(rectangle(DVec2::new(half, top), DVec2::new(size.x - half, end)));
            top = at + 0.5 * BETWEEN_STRIPS_MM;
        }
        reach = reach.max(high);
    }
    strips.push(rectangle(DVec2::new(half, top), size - half));
    strips
}

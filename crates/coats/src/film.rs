//! The pieces of adhesive film that a zone is cut in.
//!
//! A copy of repeated art is a piece of its own, and so is what lies on either side of a crease.
//! What does not fit on a sheet comes apart first where its shapes lie far from each other, then in
//! strips that meet edge to edge.

use crate::film_piece::{FilmPiece, Outlines, extent, mirror, rectangle};
use crate::registration::marks;
use crate::unrolling::{Unrolled, unrolled};
use crate::weeding::dressed;
use crate::{Film, FilmLie};
use glam::{DVec2, Vec2Swizzles};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use piece::settings::VinylProduct;
use piece::{FilmTurns, Finish, Piece};
use shape::Shape;

/// Shapes nearer to each other than this keep their places to each other, mm (common practice, no
/// source).
const TOGETHER_MM: f64 = 15.0;

/// What is cut for every zone of film, for one cup, each piece small enough for a sheet.
pub fn films(piece: &Piece, shape: &Shape, vinyl: &VinylProduct) -> Vec<Film> {
    let mut layers: Vec<Vec<Unrolled>> = Vec::new();
    let zones: Vec<usize> = (0..piece.zones.len())
        .filter(|&zone| matches!(piece.zones[zone].finish, Finish::Vinyl { .. }))
        .collect();
    for &zone in &zones {
        layers.push(unrolled(&piece.zones[zone], &shape.zones[zone], vinyl.stretch));
    }
    let marks = marks(piece, shape, vinyl, &zones, &mut layers);
    zones
        .iter()
        .zip(layers)
        .zip(marks)
        .filter_map(|((&zone, mut layer), marks)| {
            let Finish::Vinyl { colour, cut } = &piece.zones[zone].finish else { return None };
            let shaped = &shape.zones[zone];
            let lie = layer.iter().filter_map(|laid| laid.lie).reduce(FilmLie::with);
            let mut pieces: Vec<FilmPiece> = Vec::new();
            for (laid, marks) in layer.iter_mut().zip(marks) {
                let cut = fitted(laid.shapes.clone(), &marks, vinyl, cut.turns);
                laid.crosses = matches!(cut.as_slice(), [only] if !only.level.is_empty());
                pieces.extend(cut);
            }
            if cut.mirrored {
                pieces.iter_mut().for_each(mirror);
            }
            Some(Film {
                zone,
                part: shaped.part,
                colour: *colour,
                turns: cut.turns,
                mirrored: cut.mirrored,
                area_mm2: shaped.area_mm2,
                pieces,
                copies: layer,
                lie,
                shapes: shaped.area.shapes(&shaped.surface),
            })
        })
        .collect()
}

/// Shapes as one piece, or as several if they do not fit on a sheet together. Marks are only for what
/// lies on a sheet as one.
fn fitted(
    shapes: Vec<Outlines>,
    marks: &[[f64; 2]],
    vinyl: &VinylProduct,
    turns: FilmTurns,
) -> Vec<FilmPiece> {
    let whole = dressed(shapes, marks, false, vinyl);
    if fits(whole.size_mm, vinyl, turns) {
        return vec![whole];
    }
    let groups = gathered(whole.shapes);
    let one = |group: Vec<Outlines>| {
        let piece = dressed(group, &[], false, vinyl);
        if fits(piece.size_mm, vinyl, turns) { vec![piece] } else { strips(&piece, vinyl, turns) }
    };
    groups.into_iter().flat_map(one).collect()
}

/// Whether a rectangle fits on a sheet, upright or, if it may be, turned by a quarter.
pub(crate) fn fits((width, height): (f64, f64), vinyl: &VinylProduct, turns: FilmTurns) -> bool {
    const HAIR: f64 = 1e-9;
    let on = |across: f64, down: f64| {
        across <= vinyl.sheet_width_mm + HAIR && down <= vinyl.sheet_height_mm + HAIR
    };
    on(width, height) || (turns == FilmTurns::Quarter && on(height, width))
}

/// Shapes gathered into groups by nearness, from left to right.
fn gathered(shapes: Vec<Outlines>) -> Vec<Vec<Outlines>> {
    type Group = ((DVec2, DVec2), Vec<Outlines>);
    let mut groups: Vec<Group> = Vec::new();
    for shape in shapes {
        let mut group: Group = (extent(shape.iter().flatten()), vec![shape]);
        let near = |group: &Group, other: &Group| {
            let (a, b) = (group.0, other.0);
            (a.0 - TOGETHER_MM).cmple(b.1).all() && (b.0 - TOGETHER_MM).cmple(a.1).all()
        };
        // Whatever the new shape comes near to becomes one with it; that may reach yet others.
        while let Some(at) = groups.iter().position(|other| near(&group, other)) {
            let other = groups.swap_remove(at);
            group.0 = (group.0.0.min(other.0.0), group.0.1.max(other.0.1));
            group.1.extend(other.1);
        }
        groups.push(group);
    }
    groups.sort_by(|a, b| a.0.0.x.total_cmp(&b.0.0.x).then(a.0.0.y.total_cmp(&b.0.0.y)));
    groups.into_iter().map(|(_, shapes)| shapes).collect()
}

/// A piece that is too large, in the fewest equal strips that fit.
fn strips(piece: &FilmPiece, vinyl: &VinylProduct, turns: FilmTurns) -> Vec<FilmPiece> {
    let room = |mm: f64| (mm - 2.0 * vinyl.margin_mm()).max(1.0);
    let sheet = DVec2::new(room(vinyl.sheet_width_mm), room(vinyl.sheet_height_mm));
    let (low, high) = extent(piece.shapes.iter().flatten().flatten());
    // A hair is taken off so that rounding noise makes no further strip.
    let counts = |sheet: DVec2| ((high - low) / sheet - 1e-9).ceil().max(DVec2::ONE);
    let (upright, turned) = (counts(sheet), counts(sheet.yx()));
    let fewer = turned.element_product() < upright.element_product();
    let count = if fewer && turns == FilmTurns::Quarter { turned } else { upright };
    let cell = (high - low) / count;
    let subject: Vec<Vec<[f64; 2]>> = piece.shapes.iter().flatten().cloned().collect();
    let mut strips = Vec::new();
    for row in 0..count.y as u32 {
        for column in 0..count.x as u32 {
            let corner = low + cell * DVec2::new(f64::from(column), f64::from(row));
            let window = rectangle(corner, corner + cell);
            let shapes = subject.overlay(&vec![window], OverlayRule::Intersect, FillRule::EvenOdd);
            if !shapes.is_empty() {
                strips.push(dressed(shapes, &[], true, vinyl));
            }
        }
    }
    strips
}

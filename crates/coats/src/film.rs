//! The pieces of adhesive film that a zone is cut in.
//!
//! A copy of repeated art is a piece of its own, and so is what lies on either side of a crease.
//! What does not fit on a sheet comes apart first where its shapes lie far from each other, then in
//! strips that meet edge to edge.

use glam::{DVec2, Vec2Swizzles};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use piece::Zone;
use piece::settings::VinylProduct;
use shape::{Sheet, Surface, SurfacePoint, ZoneShape};
use std::f64::consts::{PI, TAU};

/// Film left on each side of a cut shape, to hold it on the mat and to weed it by, mm (common
/// practice, no source).
pub const WEEDING_MARGIN_MM: f64 = 8.0;
/// Shapes nearer to each other than this keep their places to each other, mm (common practice, no
/// source).
const TOGETHER_MM: f64 = 15.0;
/// Farthest that two points of an outline lie apart round the part, radians: on a flat ring of 60 mm
/// radius the chord then lies less than 0.01 mm off its arc.
const STEP_RAD: f64 = 0.03;
/// The same along a wall that is curved, mm.
const STEP_MM: f64 = 2.0;

/// An outer outline and its holes, mm.
pub type Outlines = Vec<Vec<[f64; 2]>>;

/// One piece of film, cut, weeded and laid by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmPiece {
    /// Width and height of the rectangle it is cut from, weeding margin included, mm.
    pub size_mm: (f64, f64),
    /// What is cut, in mm from the upper left corner of the rectangle, y downwards.
    pub shapes: Vec<Outlines>,
    /// It is a strip of something too large for one sheet.
    pub strip: bool,
}

/// The pieces that a zone is cut in, for one cup, each small enough for a sheet.
pub fn pieces(zone: &Zone, shaped: &ZoneShape, vinyl: &VinylProduct) -> Vec<FilmPiece> {
    let surface = &shaped.surface;
    let middles = zone.region.art.as_ref().map(|art| shape::copies(art, surface));
    let middles = middles.unwrap_or_default();
    let mut rings: Vec<Vec<&[SurfacePoint]>> = vec![Vec::new(); middles.len().max(1)];
    for ring in &shaped.area.loops {
        let Some(middle) = middle(ring) else { continue };
        rings[nearest_copy(&middles, middle, surface)].push(ring);
    }
    let mut pieces = Vec::new();
    for rings in rings.iter().filter(|rings| !rings.is_empty()) {
        for band in 0..surface.bands().len() {
            pieces.extend(fitted(unrolled(rings, surface, band), vinyl));
        }
    }
    pieces
}

/// The rings of one copy in one band, turned to the front so that an arc lies level, on the sheet.
fn unrolled(rings: &[&[SurfacePoint]], surface: &Surface, band: usize) -> Vec<Outlines> {
    let revolved = surface.period().is_some();
    let centre = if revolved { middle_of_all(rings) } else { 0.0 };
    // In a plane of mm by mm, so that its grid is as fine both ways.
    let (from, to) = surface.bands()[band].along_mm;
    let scale =
        if revolved { surface.around_scale_mm(f64::midpoint(from, to)).max(1.0) } else { 1.0 };
    let plane: Outlines = rings
        .iter()
        .map(|ring| {
            ring.iter()
                .map(|point| [wrapped(point.around - centre, surface) * scale, point.along_mm])
                .collect()
        })
        .collect();
    let extent = extent(plane.iter().flatten());
    let (low, high) = if revolved { (from, to) } else { (extent.0.y - 1.0, extent.1.y + 1.0) };
    let window = rectangle(DVec2::new(extent.0.x - 1.0, low), DVec2::new(extent.1.x + 1.0, high));
    let shapes = plane.overlay(&vec![window], OverlayRule::Intersect, FillRule::EvenOdd);
    let sheet = surface.sheet(band);
    let place = |outline: &Vec<[f64; 2]>| {
        let points: Vec<SurfacePoint> =
            outline.iter().map(|&[x, y]| SurfacePoint { around: x / scale, along_mm: y }).collect();
        on_sheet(&points, &sheet, revolved)
    };
    shapes.iter().map(|shape| shape.iter().map(place).collect()).collect()
}

/// A closed outline on the sheet, with points close enough that its straight steps follow it.
fn on_sheet(points: &[SurfacePoint], sheet: &Sheet, revolved: bool) -> Vec<[f64; 2]> {
    let mut page = Vec::with_capacity(points.len());
    for (place, from) in points.iter().enumerate() {
        let to = points[(place + 1) % points.len()];
        let (turn, rise) = (to.around - from.around, to.along_mm - from.along_mm);
        let mut steps = 1.0_f64;
        if revolved {
            steps = steps.max((turn.abs() / STEP_RAD).ceil());
            if sheet.error_mm() > 0.0 {
                steps = steps.max((rise.abs() / STEP_MM).ceil());
            }
        }
        for step in 0..steps as u32 {
            let share = f64::from(step) / steps;
            page.push(
                sheet
                    .sheet_from_surface(SurfacePoint {
                        around: from.around + turn * share,
                        along_mm: from.along_mm + rise * share,
                    })
                    .to_array(),
            );
        }
    }
    page
}

/// Shapes as one piece, or as several if they do not fit on a sheet together.
fn fitted(shapes: Vec<Outlines>, vinyl: &VinylProduct) -> Vec<FilmPiece> {
    if shapes.is_empty() {
        return Vec::new();
    }
    let whole = piece_of(shapes, false);
    if fits(whole.size_mm, vinyl) {
        return vec![whole];
    }
    let groups = gathered(whole.shapes);
    let one = |group: Vec<Outlines>| {
        let piece = piece_of(group, false);
        if fits(piece.size_mm, vinyl) { vec![piece] } else { strips(&piece, vinyl) }
    };
    groups.into_iter().flat_map(one).collect()
}

/// Whether a rectangle fits on a sheet, upright or turned by a quarter.
pub(crate) fn fits((width, height): (f64, f64), vinyl: &VinylProduct) -> bool {
    const HAIR: f64 = 1e-9;
    let on = |across: f64, down: f64| {
        across <= vinyl.sheet_width_mm + HAIR && down <= vinyl.sheet_height_mm + HAIR
    };
    on(width, height) || on(height, width)
}

/// Shapes moved into a rectangle of their own with its margin.
fn piece_of(mut shapes: Vec<Outlines>, strip: bool) -> FilmPiece {
    let (low, high) = extent(shapes.iter().flatten().flatten());
    for point in shapes.iter_mut().flatten().flatten() {
        let moved = DVec2::from(*point) - low + WEEDING_MARGIN_MM;
        *point = moved.to_array();
    }
    let size = high - low + 2.0 * WEEDING_MARGIN_MM;
    FilmPiece { size_mm: (size.x, size.y), shapes, strip }
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
fn strips(piece: &FilmPiece, vinyl: &VinylProduct) -> Vec<FilmPiece> {
    let room = |mm: f64| (mm - 2.0 * WEEDING_MARGIN_MM).max(1.0);
    let sheet = DVec2::new(room(vinyl.sheet_width_mm), room(vinyl.sheet_height_mm));
    let (low, high) = extent(piece.shapes.iter().flatten().flatten());
    // A hair is taken off so that rounding noise makes no further strip.
    let counts = |sheet: DVec2| ((high - low) / sheet - 1e-9).ceil().max(DVec2::ONE);
    let (upright, turned) = (counts(sheet), counts(sheet.yx()));
    let count =
        if upright.element_product() <= turned.element_product() { upright } else { turned };
    let cell = (high - low) / count;
    let subject: Vec<Vec<[f64; 2]>> = piece.shapes.iter().flatten().cloned().collect();
    let mut strips = Vec::new();
    for row in 0..count.y as u32 {
        for column in 0..count.x as u32 {
            let corner = low + cell * DVec2::new(f64::from(column), f64::from(row));
            let window = rectangle(corner, corner + cell);
            let shapes = subject.overlay(&vec![window], OverlayRule::Intersect, FillRule::EvenOdd);
            if !shapes.is_empty() {
                strips.push(piece_of(shapes, true));
            }
        }
    }
    strips
}

fn rectangle(low: DVec2, high: DVec2) -> Vec<[f64; 2]> {
    vec![[low.x, low.y], [high.x, low.y], [high.x, high.y], [low.x, high.y]]
}

/// Least and largest corner of points.
fn extent<'a>(points: impl Iterator<Item = &'a [f64; 2]>) -> (DVec2, DVec2) {
    points.fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), &point| {
        (low.min(DVec2::from(point)), high.max(DVec2::from(point)))
    })
}

fn span(ring: &[SurfacePoint]) -> (f64, f64) {
    ring.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), point| {
        (low.min(point.around), high.max(point.around))
    })
}

fn middle(ring: &[SurfacePoint]) -> Option<SurfacePoint> {
    let first = ring.first()?;
    let (low, high) = span(ring);
    let along = ring.iter().fold((first.along_mm, first.along_mm), |along, point| {
        (along.0.min(point.along_mm), along.1.max(point.along_mm))
    });
    Some(SurfacePoint {
        around: f64::midpoint(low, high),
        along_mm: f64::midpoint(along.0, along.1),
    })
}

/// The angle opposite to the middle of the widest gap that rings leave round the part: what lies on
/// both sides of the cut at the back comes together again. A full ring has no gap and stays cut at
/// the back.
fn middle_of_all(rings: &[&[SurfacePoint]]) -> f64 {
    let mut spans: Vec<(f64, f64)> = rings.iter().map(|ring| span(ring)).collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let Some(&(first, mut reach)) = spans.first() else { return 0.0 };
    let mut widest = (1e-6, None);
    let mut gap = |from: f64, to: f64| {
        if to - from > widest.0 {
            widest = (to - from, Some(f64::midpoint(from, to)));
        }
    };
    for &(low, high) in &spans[1..] {
        gap(reach, low);
        reach = reach.max(high);
    }
    gap(reach, first + TAU);
    widest.1.map_or(0.0, |cut| cut - PI)
}

/// `around` moved by whole turns into half a turn either way of 0; the cut at the back stays put, and
/// so does everything on a flat part.
fn wrapped(around: f64, surface: &Surface) -> f64 {
    const HAIR: f64 = 1e-9;
    if surface.period().is_none() || around.abs() <= PI + HAIR {
        around
    } else {
        around - TAU * (around / TAU).round()
    }
}

/// The copy whose row lies nearest, and in that row the one nearest round the part.
fn nearest_copy(copies: &[SurfacePoint], middle: SurfacePoint, surface: &Surface) -> usize {
    let off = |copy: &SurfacePoint| {
        let around = wrapped(middle.around - copy.around, surface);
        ((middle.along_mm - copy.along_mm).abs(), around.abs())
    };
    let order = |a: &SurfacePoint, b: &SurfacePoint| {
        let (a, b) = (off(a), off(b));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
    };
    (0..copies.len()).min_by(|&a, &b| order(&copies[a], &copies[b])).unwrap_or(0)
}

//! The pieces of adhesive film that a zone is cut in.
//!
//! A copy of repeated art is a piece of its own, and so is what lies on either side of a crease.
//! What does not fit on a sheet comes apart first where its shapes lie far from each other, then in
//! strips that meet edge to edge.

use crate::Film;
use crate::registration::marks;
use crate::weeding::dressed;
use glam::{DVec2, Vec2Swizzles};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use piece::settings::VinylProduct;
use piece::{FilmTurns, Finish, Piece, Zone};
use shape::{Shape, Sheet, Surface, SurfacePoint, ZoneShape};
use std::f64::consts::{PI, TAU};

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

/// One piece of film, cut, weeded and laid by itself. Places are in mm from the upper left corner of
/// its rectangle, y downwards; film that is cut from its back is mirrored here already.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmPiece {
    /// Width and height of the rectangle round it, its margin included, mm.
    pub size_mm: (f64, f64),
    /// What is cut and stays.
    pub shapes: Vec<Outlines>,
    /// Closed lines that are cut round it to weed inside; none where the studio wants none.
    pub frame: Outlines,
    /// What nothing else on the sheet may reach into, even-odd: the frame and half the spacing.
    pub body: Outlines,
    /// Middles of two crosses on the level line through its middle.
    pub level: Vec<[f64; 2]>,
    /// Middles of the crosses that lie in the same places beside each layer of one art.
    pub registration: Vec<[f64; 2]>,
    /// It is a strip of something too large for one sheet.
    pub strip: bool,
}

impl FilmPiece {
    /// A bare rectangle.
    pub fn rectangle(width_mm: f64, height_mm: f64) -> Self {
        let corners = rectangle(DVec2::ZERO, DVec2::new(width_mm, height_mm));
        Self {
            size_mm: (width_mm, height_mm),
            shapes: Vec::new(),
            frame: Vec::new(),
            body: vec![corners],
            level: Vec::new(),
            registration: Vec::new(),
            strip: false,
        }
    }

    /// Film that its body takes up, mm².
    pub fn body_mm2(&self) -> f64 {
        covered_mm2(&self.body)
    }

    /// Film that stays, mm².
    pub fn shapes_mm2(&self) -> f64 {
        self.shapes.iter().map(covered_mm2).sum()
    }
}

/// What outlines cover, holes turning the other way, mm².
pub(crate) fn covered_mm2(outlines: &Outlines) -> f64 {
    let twice: f64 = outlines
        .iter()
        .flat_map(|one| one.iter().zip(one.iter().cycle().skip(1)))
        .map(|(a, b)| a[0] * b[1] - b[0] * a[1])
        .sum();
    0.5 * twice.abs()
}

/// What is cut for every zone of film, for one cup, each piece small enough for a sheet.
pub fn films(piece: &Piece, shape: &Shape, vinyl: &VinylProduct) -> Vec<Film> {
    let mut layers: Vec<Vec<Laid>> = Vec::new();
    let zones: Vec<usize> = (0..piece.zones.len())
        .filter(|&zone| matches!(piece.zones[zone].finish, Finish::Vinyl { .. }))
        .collect();
    for &zone in &zones {
        layers.push(laid(&piece.zones[zone], &shape.zones[zone]));
    }
    let marks = marks(piece, shape, vinyl, &zones, &layers);
    zones
        .iter()
        .zip(layers)
        .zip(marks)
        .filter_map(|((&zone, layer), marks)| {
            let Finish::Vinyl { colour, cut } = &piece.zones[zone].finish else { return None };
            let shaped = &shape.zones[zone];
            let mut pieces: Vec<FilmPiece> = layer
                .into_iter()
                .zip(marks)
                .flat_map(|(laid, marks)| fitted(laid.shapes, &marks, vinyl, cut.turns))
                .collect();
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
                shapes: shaped.area.shapes(&shaped.surface),
            })
        })
        .collect()
}

/// The shapes of one copy of a zone in one band of its part, unrolled.
pub(crate) struct Laid {
    /// Which copy.
    pub(crate) copy: usize,
    /// In which band.
    pub(crate) band: usize,
    /// What lies at the front of the sheet, radians.
    pub(crate) centre: f64,
    /// From where to where its rings run round the part, counted from `centre`, radians (on a flat part
    /// mm), and along the band, mm.
    pub(crate) extent: ((f64, f64), (f64, f64)),
    /// What is cut, mm.
    pub(crate) shapes: Vec<Outlines>,
}

/// The copies and bands of a zone that hold something.
fn laid(zone: &Zone, shaped: &ZoneShape) -> Vec<Laid> {
    let surface = &shaped.surface;
    let middles = zone.region.art.as_ref().map(|art| shape::copies(art, surface));
    let middles = middles.unwrap_or_default();
    let mut rings: Vec<Vec<&[SurfacePoint]>> = vec![Vec::new(); middles.len().max(1)];
    for ring in &shaped.area.loops {
        let Some(middle) = middle(ring) else { continue };
        rings[nearest_copy(&middles, middle, surface)].push(ring);
    }
    let mut laid = Vec::new();
    for (copy, rings) in rings.iter().enumerate().filter(|(_, rings)| !rings.is_empty()) {
        let centre = if surface.period().is_some() { middle_of_all(rings) } else { 0.0 };
        for band in 0..surface.bands().len() {
            let shapes = unrolled(rings, surface, band, centre);
            if !shapes.is_empty() {
                let extent = extent_in(rings, surface, band, centre);
                laid.push(Laid { copy, band, centre, extent, shapes });
            }
        }
    }
    laid
}

/// How far rings reach round from `centre` and along one band.
fn extent_in(
    rings: &[&[SurfacePoint]],
    surface: &Surface,
    band: usize,
    centre: f64,
) -> ((f64, f64), (f64, f64)) {
    let (from, to) = match surface.period() {
        Some(_) => surface.bands()[band].along_mm,
        None => (f64::NEG_INFINITY, f64::INFINITY),
    };
    let place = |point: &SurfacePoint| {
        [wrapped(point.around - centre, surface), point.along_mm.clamp(from, to)]
    };
    let places: Vec<[f64; 2]> = rings.iter().flat_map(|ring| ring.iter().map(place)).collect();
    let (low, high) = extent(places.iter());
    ((low.x, high.x), (low.y, high.y))
}

/// Turns a piece over.
fn mirror(piece: &mut FilmPiece) {
    let width = piece.size_mm.0;
    let outlines = piece.shapes.iter_mut().flatten().chain(&mut piece.frame).chain(&mut piece.body);
    for one in outlines {
        for point in one.iter_mut() {
            point[0] = width - point[0];
        }
        // So that outer outlines turn the same way as before.
        one.reverse();
    }
    for point in piece.level.iter_mut().chain(&mut piece.registration) {
        point[0] = width - point[0];
    }
}

/// The rings of one copy in one band, turned to the front so that an arc lies level, on the sheet.
fn unrolled(
    rings: &[&[SurfacePoint]],
    surface: &Surface,
    band: usize,
    centre: f64,
) -> Vec<Outlines> {
    let revolved = surface.period().is_some();
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

pub(crate) fn rectangle(low: DVec2, high: DVec2) -> Vec<[f64; 2]> {
    vec![[low.x, low.y], [high.x, low.y], [high.x, high.y], [low.x, high.y]]
}

/// Least and largest corner of points.
pub(crate) fn extent<'a>(points: impl Iterator<Item = &'a [f64; 2]>) -> (DVec2, DVec2) {
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
pub(crate) fn wrapped(around: f64, surface: &Surface) -> f64 {
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

//! The copies of a zone of film, unrolled band by band.

use crate::FilmLie;
use crate::film_piece::{Outlines, extent, rectangle};
use glam::DVec2;
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use piece::{Finish, Zone};
use shape::film::{Relief, lie_flat};
use shape::{Sheet, Surface, SurfacePoint, ZoneShape};
use std::f64::consts::{PI, TAU};

/// Farthest that two points of an outline lie apart round the part, radians: on a flat ring of 60 mm
/// radius the chord then lies less than 0.01 mm off its arc.
const STEP_RAD: f64 = 0.03;

/// The shapes of one copy of a zone in one band of its part, unrolled.
#[derive(Debug, Clone, PartialEq)]
pub struct Unrolled {
    /// Which copy.
    pub copy: usize,
    /// In which band.
    pub band: usize,
    /// What lies at the front of the sheet, radians.
    pub centre: f64,
    /// From where to where it reaches in the band: round the part, counted from `centre`, radians (on a
    /// flat part mm), and along it, mm.
    pub extent: ((f64, f64), (f64, f64)),
    /// What is cut, mm, on the sheet of the band; where that is curved both ways, on that of a stretch of
    /// it ([`shape::Surface::sheet_over`]).
    pub shapes: Vec<Outlines>,
    /// That stretch, mm along the wall.
    pub sheet_mm: (f64, f64),
    /// How all of the copy in this band lies, where that is curved both ways; told once.
    pub lie: Option<FilmLie>,
    /// Whether it is cut as one piece that has crosses on the level line through the middle of its height.
    pub crosses: bool,
    /// Where the wall is curved both ways, all of the copy in this band as it lies on it, `around` counted
    /// from `centre`.
    pub(crate) on_wall: Vec<Vec<Vec<SurfacePoint>>>,
}

/// The copies and bands of a zone that hold something; what relief cuts cut right through is apart.
/// `bears` is how far its film may be stretched, as a share.
pub fn unrolled(zone: &Zone, shaped: &ZoneShape, bears: f64) -> Vec<Unrolled> {
    let relief = match zone.finish {
        Finish::Vinyl { cut, .. } if cut.relief => Relief::Below(bears),
        _ => Relief::None,
    };
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
            let Some(flat) = in_band(rings, surface, (band, centre), relief) else { continue };
            let (extent, mut lie) = (flat.extent, flat.lie);
            for shapes in flat.groups {
                let lie = lie.take();
                laid.push(Unrolled {
                    copy,
                    band,
                    centre,
                    extent,
                    shapes,
                    sheet_mm: extent.1,
                    lie,
                    crosses: false,
                    on_wall: flat.on_wall.clone(),
                });
            }
        }
    }
    laid
}

/// One copy in one band on the sheet.
struct InBand {
    /// As [`Unrolled::extent`].
    extent: ((f64, f64), (f64, f64)),
    /// Shapes that keep their places to each other.
    groups: Vec<Vec<Outlines>>,
    lie: Option<FilmLie>,
    /// As [`Unrolled::on_wall`].
    on_wall: Vec<Vec<Vec<SurfacePoint>>>,
}

/// The rings of one copy in one band, turned to the front so that an arc lies level, on the sheet; `None`
/// if nothing of them lies there.
fn in_band(
    rings: &[&[SurfacePoint]],
    surface: &Surface,
    (band, centre): (usize, f64),
    relief: Relief,
) -> Option<InBand> {
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
    let all = extent(plane.iter().flatten());
    let (low, high) = if revolved { (from, to) } else { (all.0.y - 1.0, all.1.y + 1.0) };
    let window = rectangle(DVec2::new(all.0.x - 1.0, low), DVec2::new(all.1.x + 1.0, high));
    let shapes = plane.overlay(&vec![window], OverlayRule::Intersect, FillRule::EvenOdd);
    if shapes.is_empty() {
        return None;
    }
    let (low, high) = extent(shapes.iter().flatten().flatten());
    let extent = ((low.x / scale, high.x / scale), (low.y, high.y));
    let points = |outline: &Vec<[f64; 2]>| -> Vec<SurfacePoint> {
        outline.iter().map(|&[x, y]| SurfacePoint { around: x / scale, along_mm: y }).collect()
    };
    if revolved && !surface.bands()[band].straight {
        let shapes: Vec<Vec<Vec<SurfacePoint>>> =
            shapes.iter().map(|shape| shape.iter().map(points).collect()).collect();
        let flat = lie_flat(surface, band, &shapes, relief);
        let lie = flat.strain.map(|strain| {
            FilmLie { strain, cuts: flat.cuts, wedge_mm: flat.wedge_mm }.about_front(centre)
        });
        return Some(InBand { extent, groups: flat.groups, lie, on_wall: shapes });
    }
    let sheet = surface.sheet(band);
    let place = |outline: &Vec<[f64; 2]>| on_sheet(&points(outline), &sheet, revolved);
    let group = shapes.iter().map(|shape| shape.iter().map(place).collect()).collect();
    Some(InBand { extent, groups: vec![group], lie: None, on_wall: Vec::new() })
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

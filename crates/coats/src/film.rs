//! The rectangle of adhesive film that a zone is cut from.

use piece::{PlacedArt, Zone};
use shape::{Surface, SurfacePoint, ZoneShape};
use std::f64::consts::{PI, TAU};

/// Film left on each side of a cut shape, to hold it on the mat and to weed it by, mm (common
/// practice, no source).
pub const WEEDING_MARGIN_MM: f64 = 8.0;

/// What a zone of film needs: the rectangle for one copy, how many copies, how many separate shapes.
pub struct Blank {
    /// Width and height, weeding margin included, mm.
    pub size_mm: (f64, f64),
    /// Copies.
    pub copies: usize,
    /// Separate shapes in all copies.
    pub shapes: usize,
}

/// Measures the film that a zone is cut from.
pub fn blank(zone: &Zone, shaped: &ZoneShape) -> Blank {
    let copies = zone.region.art.as_ref().map_or(1, |art| art.repeat.max(1) as usize);
    let mut boxes = vec![Extent::EMPTY; copies];
    for ring in &shaped.area.loops {
        let Some(middle) = middle(ring) else { continue };
        let copy = nearest_copy(zone.region.art.as_ref(), copies, middle, &shaped.surface);
        let centre = copy_centre(zone, copy, copies, &shaped.surface);
        // Turned to the front, so that an arc lies level in its rectangle.
        let sheet = shaped.surface.sheet(shaped.surface.band_at(middle.along_mm));
        for point in ring {
            let around = wrapped(point.around - centre, &shaped.surface);
            boxes[copy].take(sheet.sheet_from_surface(SurfacePoint { around, ..*point }));
        }
    }
    let width = boxes.iter().map(|b| b.width()).fold(0.0, f64::max);
    let height = boxes.iter().map(|b| b.height()).fold(0.0, f64::max);
    Blank {
        size_mm: (width + 2.0 * WEEDING_MARGIN_MM, height + 2.0 * WEEDING_MARGIN_MM),
        copies,
        shapes: shaped.area.shapes(&shaped.surface),
    }
}

/// A bounding box on the sheet.
#[derive(Clone, Copy)]
struct Extent {
    x: (f64, f64),
    y: (f64, f64),
}

impl Extent {
    const EMPTY: Self =
        Self { x: (f64::INFINITY, f64::NEG_INFINITY), y: (f64::INFINITY, f64::NEG_INFINITY) };

    fn take(&mut self, place: glam::DVec2) {
        self.x = (self.x.0.min(place.x), self.x.1.max(place.x));
        self.y = (self.y.0.min(place.y), self.y.1.max(place.y));
    }

    fn width(&self) -> f64 {
        (self.x.1 - self.x.0).max(0.0)
    }

    fn height(&self) -> f64 {
        (self.y.1 - self.y.0).max(0.0)
    }
}

fn middle(ring: &[SurfacePoint]) -> Option<SurfacePoint> {
    let (first, rest) = ring.split_first()?;
    let (mut around, mut along) = ((first.around, first.around), (first.along_mm, first.along_mm));
    for point in rest {
        around = (around.0.min(point.around), around.1.max(point.around));
        along = (along.0.min(point.along_mm), along.1.max(point.along_mm));
    }
    Some(SurfacePoint {
        around: f64::midpoint(around.0, around.1),
        along_mm: f64::midpoint(along.0, along.1),
    })
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

/// Middle of a copy, radians round the part (mm on a flat part).
fn copy_centre(zone: &Zone, copy: usize, copies: usize, surface: &Surface) -> f64 {
    match (&zone.region.art, zone.region.window_rad) {
        (Some(art), _) => wrapped(art.around + TAU * copy as f64 / copies as f64, surface),
        (None, Some((from, to))) => wrapped(f64::midpoint(from, to), surface),
        (None, None) => 0.0,
    }
}

fn nearest_copy(
    art: Option<&PlacedArt>,
    copies: usize,
    middle: SurfacePoint,
    surface: &Surface,
) -> usize {
    let Some(art) = art else { return 0 };
    if copies == 1 || surface.period().is_none() {
        return 0;
    }
    let turn = wrapped(middle.around - art.around, surface) * copies as f64 / TAU;
    (turn.round() as i64).rem_euclid(copies as i64) as usize
}

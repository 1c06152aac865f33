//! Drawings brought to their size in mm on a flat sheet.

use crate::art::{Drawing, Filled};
use crate::boolean::{FARTHEST_MM, Loop, Plane, Region};
use crate::flatten::closed_loops;
use crate::layers::{self, Layer};
use crate::watch::Watch;
use glam::DVec2;
use kurbo::{Affine, Rect, Shape as _};
use piece::{ArtOutline, Diagnostic, FieldPath};
use std::rc::Rc;

/// Farthest that polylines may lie from the curves, mm.
pub(crate) const TOLERANCE_MM: f64 = 0.005;

/// More corners than this are no drawing for a cutter.
pub(crate) const MOST_CORNERS: usize = 400_000;

/// A drawing at its true size in mm, y downwards.
#[derive(Debug, Clone)]
pub(crate) struct Ink {
    pub(crate) loops: Vec<Vec<DVec2>>,
    /// From the units of the drawing.
    pub(crate) to_mm: Affine,
}

/// What a drawing is scaled to, mm.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Size {
    /// The width of what is seen.
    Width(f64),
    /// The height of what is seen, or of a capital H.
    Height(f64),
}

/// What of a drawing is taken, and how large.
#[derive(Clone, Copy)]
pub(crate) struct Cut<'a> {
    pub(crate) size: Size,
    /// `None` is all that is seen.
    pub(crate) layer: Option<&'a Layer>,
    /// Islands and holes smaller than a disc of this width are left out, mm.
    pub(crate) least_mm: f64,
}

impl Ink {
    /// The same with a border, or the border alone. It is moved on the flat sheet, so it is as wide on
    /// the bare part as told where the art has its true size.
    #[must_use]
    pub(crate) fn outlined(&self, outline: ArtOutline) -> Self {
        let paper = Plane::paper();
        let corner = |p: &DVec2| paper.corner(p.x, p.y);
        let own: Vec<Loop> =
            self.loops.iter().map(|one| one.iter().map(corner).collect()).collect();
        let own = Region::filled(&paper, &own);
        let mut grown = own.inset(&paper, -outline.width_mm);
        if outline.only {
            grown = grown.without(&paper, &own);
        }
        Self { loops: lines(&paper, &grown), to_mm: self.to_mm }
    }

    /// Its loops with their first corner again at the end.
    pub(crate) fn outlines(&self) -> Vec<Vec<DVec2>> {
        let closed = |one: &Vec<DVec2>| one.iter().chain(one.first()).copied().collect();
        self.loops.iter().map(closed).collect()
    }

    /// Least rectangle about it.
    pub(crate) fn bounds(&self) -> Rect {
        bounds(&self.loops)
    }
}

/// The loops of a region on paper, mm.
fn lines(paper: &Plane, region: &Region) -> Vec<Vec<DVec2>> {
    let point = |place: crate::SurfacePoint| DVec2::new(place.around, place.along_mm);
    region
        .loops
        .iter()
        .map(|one| one.iter().map(|corner| point(paper.place(*corner))).collect())
        .collect()
}

/// A drawing at its size: its middle at the origin, or, for a line of lettering, the middle of its
/// capitals. Of a `layer` only what is seen, at the place and size that it has in the whole.
///
/// # Errors
/// Nothing that covers anything, too large, too many corners; nothing once `watch` is stopped.
pub(crate) fn ink(
    drawing: &Drawing,
    cut: Cut<'_>,
    at: &FieldPath,
    watch: &mut Watch<'_>,
) -> Result<Ink, Vec<Diagnostic>> {
    let Cut { size, layer, least_mm } = cut;
    let nothing = || {
        let wrong = Diagnostic::error(at.clone(), "the drawing encloses no area");
        vec![wrong.hint("Use closed, filled shapes; lines need a stroke width (in an SVG file) to cover anything.")]
    };
    let rough = drawing
        .filled
        .iter()
        .filter(|filled| filled.path.elements().len() > 1)
        .map(|filled| filled.path.bounding_box())
        .reduce(|a, b| a.union(b))
        .ok_or_else(nothing)?;
    if !(rough.is_finite() && rough.width() > 0.0 && rough.height() > 0.0) {
        return Err(nothing());
    }
    let scale = match size {
        Size::Width(width) => width / rough.width(),
        Size::Height(height) => height / drawing.capital.unwrap_or(rough.height()),
    };
    let (width, height) = (rough.width() * scale, rough.height() * scale);
    let sound = width.is_finite() && height.is_finite();
    if !sound || width.max(height) >= 0.1 * FARTHEST_MM {
        let message = format!("the drawing would be {width:.0} mm wide and {height:.0} mm high");
        return Err(vec![Diagnostic::error(at.clone(), message).hint(
            "Check its size, and whether the drawing is much longer one way than the other.",
        )]);
    }
    let origin = match drawing.capital {
        Some(capital) if !drawing.stacked => DVec2::new(rough.center().x, -0.5 * capital),
        _ => DVec2::new(rough.center().x, rough.center().y),
    };
    let to_mm = Affine::scale(scale) * Affine::translate((-origin.x, -origin.y));
    let paper = Plane::paper();
    let mut press = Press { to_mm, paper: &paper, corners: 0, clips: Vec::new() };
    let mut painted = Vec::with_capacity(drawing.filled.len());
    for filled in &drawing.filled {
        if !watch.going() {
            return Err(Vec::new());
        }
        painted.push((press.covered(filled), layer.is_some_and(|layer| layer.holds(filled))));
        if press.corners > MOST_CORNERS {
            let message = format!("the drawing has more than {MOST_CORNERS} corners");
            return Err(vec![Diagnostic::error(at.clone(), message).hint(
                "Simplify its paths in a drawing program; traced photographs make poor film.",
            )]);
        }
    }
    let all: Vec<Loop> =
        painted.iter().flat_map(|(region, _)| region.loops.iter().cloned()).collect();
    let united = Region::filled(&paper, &all).without_specks(&paper, least_mm);
    if united.is_empty() {
        return Err(nothing());
    }
    let mut loops = lines(&paper, &united);
    // What is seen may be smaller than the paths: clipped, or covered by no fill.
    let seen = bounds(&loops);
    let middle = match drawing.capital {
        Some(_) if !drawing.stacked => kurbo::Point::new(seen.center().x, 0.0),
        _ => seen.center(),
    };
    let again = match (size, drawing.capital) {
        (Size::Width(width), _) => width / seen.width(),
        (Size::Height(height), None) => height / seen.height(),
        (Size::Height(_), Some(_)) => 1.0,
    };
    if layer.is_some() {
        loops = lines(&paper, &seen_of_layer(&paper, &painted, at)?);
    }
    for point in loops.iter_mut().flatten() {
        *point = (*point - DVec2::new(middle.x, middle.y)) * again;
    }
    let to_mm = Affine::scale(again) * Affine::translate((-middle.x, -middle.y)) * to_mm;
    Ok(Ink { loops, to_mm })
}

/// What is seen of a layer.
fn seen_of_layer(
    paper: &Plane,
    painted: &[(Region, bool)],
    at: &FieldPath,
) -> Result<Region, Vec<Diagnostic>> {
    let at = at.key("layer");
    let seen = layers::seen(paper, painted).ok_or_else(|| {
        let message = "paths of this layer and of others lie on each other by turns, too often";
        vec![
            Diagnostic::error(at.clone(), message)
                .hint("Put the paths of one colour together in a drawing program."),
        ]
    })?;
    if seen.is_empty() {
        let message = "nothing of this layer can be seen: later shapes cover it";
        return Err(vec![
            Diagnostic::error(at, message).hint("Move it to the front in a drawing program."),
        ]);
    }
    Ok(seen)
}

/// What filled paths cover together, from the units of their drawing.
pub(crate) fn covered(filled: &[&Filled], to_mm: Affine) -> Vec<Vec<DVec2>> {
    let paper = Plane::paper();
    let mut press = Press { to_mm, paper: &paper, corners: 0, clips: Vec::new() };
    let loops: Vec<Loop> = filled.iter().flat_map(|one| press.covered(one).loops).collect();
    lines(&paper, &Region::filled(&paper, &loops))
}

/// Brings paths to paper at their size in mm.
struct Press<'a> {
    to_mm: Affine,
    paper: &'a Plane,
    /// Corners so far.
    corners: usize,
    /// Clips already worked out.
    clips: Vec<(Rc<Vec<Filled>>, Region)>,
}

impl Press<'_> {
    /// What one filled path covers.
    fn covered(&mut self, filled: &Filled) -> Region {
        let loops: Vec<Loop> = closed_loops(&(self.to_mm * filled.path.clone()), TOLERANCE_MM)
            .iter()
            .map(|one| one.iter().map(|p| self.paper.corner(p.x, p.y)).collect())
            .collect();
        self.corners += loops.iter().map(Vec::len).sum::<usize>();
        if self.corners > MOST_CORNERS {
            return Region::default();
        }
        let mut region = if filled.even_odd {
            Region::even_odd(self.paper, &loops)
        } else {
            Region::filled(self.paper, &loops)
        };
        for clip in &filled.clips {
            region = region.intersected(self.paper, &self.clip(clip));
        }
        region
    }

    fn clip(&mut self, clip: &Rc<Vec<Filled>>) -> Region {
        if let Some((_, known)) = self.clips.iter().find(|(one, _)| Rc::ptr_eq(one, clip)) {
            return known.clone();
        }
        let loops: Vec<Loop> = clip.iter().flat_map(|one| self.covered(one).loops).collect();
        let region = Region::filled(self.paper, &loops);
        self.clips.push((Rc::clone(clip), region.clone()));
        region
    }
}

fn bounds(loops: &[Vec<DVec2>]) -> Rect {
    let mut points = loops.iter().flatten();
    let first = points.next().copied().unwrap_or_default();
    let rect = Rect::new(first.x, first.y, first.x, first.y);
    points.fold(rect, |rect, p| rect.union_pt((p.x, p.y)))
}

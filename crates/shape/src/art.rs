//! Art on the surface: drawings scaled, turned and laid round a part.
//!
//! Art lies "level": its horizontal runs along parallels of the part, its vertical along the wall. At
//! its middle it has its true size; on a cone it follows the parallel, a little wider where the cone is
//! wider.

use crate::boolean::{Corner, FARTHEST_MM, Loop, Plane, Region};
use crate::flatten::closed_loops;
use crate::watch::Watch;
use crate::{Surface, lettering, svg};
use glam::DVec2;
use kurbo::{Affine, BezPath, Rect, Shape as _};
use piece::{Art, ArtSize, Diagnostic, FieldPath, PlacedArt};
use std::f64::consts::PI;
use std::rc::Rc;

/// Farthest that polylines may lie from the curves, mm.
const TOLERANCE_MM: f64 = 0.005;

/// More corners than this are no drawing for a cutter.
const MOST_CORNERS: usize = 400_000;

/// Copies closer than this, middle to middle, mm, are a slip of the pen.
const LEAST_PITCH_MM: f64 = 1.0;

/// Reaching past the part by less than this, mm, is rounding.
const SLACK_MM: f64 = 1.0e-3;

/// One filled path of a drawing, y downwards.
#[derive(Debug, Clone)]
pub(crate) struct Filled {
    pub(crate) path: BezPath,
    pub(crate) even_odd: bool,
    /// What it is clipped to: each is a union of paths, and all of them apply. Many paths share one.
    pub(crate) clips: Vec<Rc<Vec<Filled>>>,
}

/// A drawing in its own units, y downwards.
#[derive(Debug, Clone, Default)]
pub(crate) struct Drawing {
    pub(crate) filled: Vec<Filled>,
    /// Height of a capital H above the baseline y = 0, for lettering.
    pub(crate) capital: Option<f64>,
}

/// The part that art is laid on.
pub(crate) struct Place<'a> {
    pub(crate) plane: &'a Plane,
    pub(crate) surface: &'a Surface,
    /// The whole part.
    pub(crate) part: &'a Region,
}

/// A drawing at its true size in mm, its middle at the origin, y downwards.
struct Ink {
    loops: Vec<Vec<DVec2>>,
}

/// The region that placed art covers. `zone` is the path of its zone.
///
/// # Errors
/// What is wrong with it; nothing once `watch` is stopped.
pub(crate) fn placed(
    art: &PlacedArt,
    place: &Place,
    zone: &FieldPath,
    watch: &mut Watch<'_>,
) -> Result<Region, Vec<Diagnostic>> {
    let at = zone.key(if matches!(art.art, Art::Lettering { .. }) { "lettering" } else { "art" });
    let drawing = match &art.art {
        Art::Path(data) => {
            svg::from_path_data(data, &at.key("path")).map_err(|wrong| vec![wrong])?
        }
        Art::Svg { file, text } => {
            svg::from_file(file, text, &at.key("file")).map_err(|wrong| vec![wrong])?
        }
        Art::Lettering { text, font } => lettering::drawing(text, font, &at)?,
    };
    let mut ink = ink(&drawing, art.size, &at, watch)?;
    let (sin, cos) = (libm::sin(art.turn_rad), libm::cos(art.turn_rad));
    for point in ink.loops.iter_mut().flatten() {
        let across = if art.mirror { -point.x } else { point.x };
        // y grows downwards, so this turns clockwise for one who looks at it.
        *point = DVec2::new(across * cos - point.y * sin, across * sin + point.y * cos);
    }
    check_outside(art, &ink, place, &at)?;
    let middles = middles(art, place, &at)?;
    check_corners(&ink, middles.len(), &at)?;
    let scale = middle_scale(art, place);
    let loops: Vec<Loop> = middles
        .iter()
        .flat_map(|around| {
            ink.loops.iter().map(move |one| {
                one.iter()
                    .map(|p| place.plane.corner(around + p.x / scale, art.along_mm + p.y))
                    .collect::<Loop>()
            })
        })
        .collect();
    let region = place.plane.wrapped(&loops);
    if place.plane.half_turn.is_none() {
        check_plate(&region, place, &at, watch)?;
    }
    Ok(region)
}

/// Millimetres for one unit of `around` at the middle of the art.
fn middle_scale(art: &PlacedArt, place: &Place) -> f64 {
    let (start, end) = place.surface.along_range_mm();
    place.surface.around_scale_mm(art.along_mm.clamp(start, end))
}

/// Where the middles of the copies lie round the part.
fn middles(art: &PlacedArt, place: &Place, at: &FieldPath) -> Result<Vec<f64>, Vec<Diagnostic>> {
    let copies = art.repeat.max(1);
    if place.plane.half_turn.is_none() {
        if copies > 1 {
            return Err(vec![
                Diagnostic::error(
                    at.key("repeat"),
                    "copies are spread round a revolved part, but this part is flat",
                )
                .hint("Write one zone for each copy."),
            ]);
        }
        return Ok(vec![art.around]);
    }
    let girth = 2.0 * PI * middle_scale(art, place);
    if girth < LEAST_PITCH_MM * f64::from(copies) {
        let message = format!("{copies} copies do not fit round a girth of {girth:.0} mm");
        return Err(vec![Diagnostic::error(at.key("repeat"), message).hint("Use fewer copies.")]);
    }
    let turn = |around: f64| (around + PI).rem_euclid(2.0 * PI) - PI;
    Ok((0..copies)
        .map(|copy| turn(art.around + 2.0 * PI * f64::from(copy) / f64::from(copies)))
        .collect())
}

/// What a maker calls the art at a path.
fn what(at: &FieldPath) -> &'static str {
    if at.0.ends_with("lettering") { "lettering" } else { "drawing" }
}

/// More corners in all copies than any knife should follow.
fn check_corners(ink: &Ink, copies: usize, at: &FieldPath) -> Result<(), Vec<Diagnostic>> {
    let corners: usize = ink.loops.iter().map(Vec::len).sum();
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

/// Art beyond the ends of a revolved part, or wider than once round.
fn check_outside(
    art: &PlacedArt,
    ink: &Ink,
    place: &Place,
    at: &FieldPath,
) -> Result<(), Vec<Diagnostic>> {
    let bounds = bounds(&ink.loops);
    if place.plane.half_turn.is_none() {
        return Ok(());
    }
    let mut wrong = Vec::new();
    let what = what(at);
    let (start, end) = place.surface.along_range_mm();
    let (top, bottom) = (art.along_mm + bounds.y0, art.along_mm + bounds.y1);
    if top < start - SLACK_MM {
        let message =
            format!("the {what} reaches {:.1} mm above the rim (start) of its part", start - top);
        wrong.push(
            Diagnostic::error(at.key("along"), message).hint("Move it down or make it smaller."),
        );
    }
    if bottom > end + SLACK_MM {
        let message = format!("the {what} reaches {:.1} mm past the end of its part", bottom - end);
        wrong.push(
            Diagnostic::error(at.key("along"), message).hint("Move it up or make it smaller."),
        );
    }
    let girth = 2.0 * PI * middle_scale(art, place);
    if bounds.width() > girth + SLACK_MM {
        let message = format!(
            "the {what} is {:.1} mm wide, but the part is only {girth:.1} mm round at {:.1} mm from the rim",
            bounds.width(),
            art.along_mm
        );
        wrong.push(
            Diagnostic::error(at.clone(), message)
                .hint("Make it smaller so that it does not lap over itself."),
        );
    }
    if wrong.is_empty() { Ok(()) } else { Err(wrong) }
}

/// Art beyond the outline of a flat part.
fn check_plate(
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

fn ink(
    drawing: &Drawing,
    size: ArtSize,
    at: &FieldPath,
    watch: &mut Watch<'_>,
) -> Result<Ink, Vec<Diagnostic>> {
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
        ArtSize::WidthMm(width) => width / rough.width(),
        ArtSize::HeightMm(height) => height / drawing.capital.unwrap_or(rough.height()),
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
        Some(capital) => DVec2::new(rough.center().x, -0.5 * capital),
        None => DVec2::new(rough.center().x, rough.center().y),
    };
    let to_mm = Affine::scale(scale) * Affine::translate((-origin.x, -origin.y));
    let paper = Plane::paper();
    let mut press = Press { to_mm, paper: &paper, corners: 0, clips: Vec::new() };
    let mut loops = Vec::new();
    for filled in &drawing.filled {
        if !watch.going() {
            return Err(Vec::new());
        }
        loops.extend(press.covered(filled).loops);
        if press.corners > MOST_CORNERS {
            let message = format!("the drawing has more than {MOST_CORNERS} corners");
            return Err(vec![Diagnostic::error(at.clone(), message).hint(
                "Simplify its paths in a drawing program; traced photographs make poor film.",
            )]);
        }
    }
    let united = Region::filled(&paper, &loops);
    if united.is_empty() {
        return Err(nothing());
    }
    let mut loops: Vec<Vec<DVec2>> = united
        .loops
        .iter()
        .map(|one| {
            one.iter().map(|c| paper.place(*c)).map(|p| DVec2::new(p.around, p.along_mm)).collect()
        })
        .collect();
    // What is seen may be smaller than the paths: clipped, or covered by no fill.
    let seen = bounds(&loops);
    let (centre, again) = match (size, drawing.capital) {
        (ArtSize::WidthMm(width), None) => (seen.center(), width / seen.width()),
        (ArtSize::HeightMm(height), None) => (seen.center(), height / seen.height()),
        (ArtSize::WidthMm(width), Some(_)) => {
            (kurbo::Point::new(seen.center().x, 0.0), width / seen.width())
        }
        (ArtSize::HeightMm(_), Some(_)) => (kurbo::Point::new(seen.center().x, 0.0), 1.0),
    };
    for point in loops.iter_mut().flatten() {
        *point = (*point - DVec2::new(centre.x, centre.y)) * again;
    }
    Ok(Ink { loops })
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

//! A flat plate: its outline and face.

use crate::flatten::closed_loops;
use crate::outline_check::{crossing, inside, signed_area};
use crate::path_numbers::largest_number;
use crate::surface::{Band, SurfacePoint};
use glam::{DVec2, DVec3};
use kurbo::{Affine, BezPath, Shape as _};
use piece::{Diagnostic, FieldPath, Outline};
use std::f64::consts::{FRAC_PI_2, PI};
use std::sync::Arc;

/// Farthest that the polygon of an outline may lie from the true curve, mm.
const TOLERANCE_MM: f64 = 0.01;
/// Plates larger than this are taken for a slip of the pen, mm.
const LARGEST_MM: f64 = 2_000.0;
/// Numbers in path data larger than this draw no plate.
const LARGEST_NUMBER: f64 = 1_000_000.0;
/// More points than this are no outline of a plate but a picture.
const MOST_POINTS: usize = 50_000;

/// A flat plate, seen face on; growth lifts the face.
#[derive(Debug, Clone, PartialEq)]
pub struct Flat {
    plate: Arc<Plate>,
    thickness_mm: f64,
}

#[derive(Debug, PartialEq)]
struct Plate {
    loops: Vec<Vec<DVec2>>,
    size_mm: DVec2,
    area_mm2: f64,
    bands: Vec<Band>,
}

impl Flat {
    /// A plate with this outline. `path` is where it lives in the piece.
    ///
    /// # Errors
    /// Sizes that are not positive or over 2 m; path data that cannot be read, crosses itself, or
    /// makes more than one plate.
    pub fn new(outline: &Outline, path: &FieldPath) -> Result<Self, Vec<Diagnostic>> {
        let (loops, area_mm2) = match outline {
            Outline::Circle { diameter_mm } => {
                check_size(*diameter_mm, "diameter", &path.key("circle"))?;
                let radius_mm = diameter_mm / 2.0;
                let mut points = Vec::new();
                arc(&mut points, DVec2::ZERO, radius_mm, 0.0, 2.0 * PI);
                points.pop();
                (vec![points], PI * radius_mm * radius_mm)
            }
            Outline::Rectangle { width_mm, height_mm, corner_mm } => {
                rectangle(*width_mm, *height_mm, *corner_mm, path)?
            }
            Outline::Path { data, width_mm } => {
                check_size(*width_mm, "width", &path.key("width"))?;
                from_path(data, *width_mm, &path.key("path")).map_err(|fault| vec![fault])?
            }
        };
        let (low, high) = bounds(&loops);
        let size_mm = high - low;
        let bands = vec![Band {
            name: "plate".to_owned(),
            along_mm: (-size_mm.y / 2.0, size_mm.y / 2.0),
            straight: true,
        }];
        let plate = Plate { loops, size_mm, area_mm2, bands };
        Ok(Self { plate: Arc::new(plate), thickness_mm: 0.0 })
    }

    /// The same face lifted by `thickness_mm` more; its outline stays.
    #[must_use]
    pub fn grown(&self, thickness_mm: f64) -> Self {
        Self { plate: Arc::clone(&self.plate), thickness_mm: self.thickness_mm + thickness_mm }
    }

    /// How far the face has been lifted, mm.
    pub fn thickness_mm(&self) -> f64 {
        self.thickness_mm
    }

    /// Outline polygons in mm, x right, y up, centred on the origin; the first is the plate
    /// (counter-clockwise), the others are holes in it (clockwise). Within 0.01 mm of the curve.
    pub fn outline(&self) -> &[Vec<DVec2>] {
        &self.plate.loops
    }

    /// Width and height of the outline, mm.
    pub fn size_mm(&self) -> DVec2 {
        self.plate.size_mm
    }

    /// Area of the face, mm²: exact for discs and rounded rectangles and for the curves of a path.
    pub fn area_mm2(&self) -> f64 {
        self.plate.area_mm2
    }

    pub(crate) fn bands(&self) -> &[Band] {
        &self.plate.bands
    }

    pub(crate) fn world_from_surface(&self, point: SurfacePoint) -> DVec3 {
        DVec3::new(point.around, -point.along_mm, self.thickness_mm)
    }
}

fn check_size(size_mm: f64, what: &str, path: &FieldPath) -> Result<(), Vec<Diagnostic>> {
    if size_mm > 0.0 && size_mm <= LARGEST_MM {
        return Ok(());
    }
    Err(vec![Diagnostic::error(
        path.clone(),
        format!(
            "found a {what} of {size_mm} mm, it must be more than 0 and at most {LARGEST_MM} mm"
        ),
    )])
}

fn rectangle(
    width_mm: f64,
    height_mm: f64,
    corner_mm: f64,
    path: &FieldPath,
) -> Result<(Vec<Vec<DVec2>>, f64), Vec<Diagnostic>> {
    let mut faults = Vec::new();
    faults.extend(check_size(width_mm, "width", &path.key("width")).err().into_iter().flatten());
    faults.extend(check_size(height_mm, "height", &path.key("height")).err().into_iter().flatten());
    let largest_mm = width_mm.min(height_mm) / 2.0;
    if faults.is_empty() && !(0.0..=largest_mm).contains(&corner_mm) {
        faults.push(Diagnostic::error(
            path.key("corner"),
            format!("found a corner of {corner_mm} mm, it must be between 0 and half the shorter side ({largest_mm} mm)"),
        ));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let inner = DVec2::new(width_mm / 2.0 - corner_mm, height_mm / 2.0 - corner_mm);
    let mut points = Vec::new();
    for (quarter, (x, y)) in [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)].iter().enumerate()
    {
        let from = quarter as f64 * FRAC_PI_2;
        arc(&mut points, inner * DVec2::new(*x, *y), corner_mm, from, from + FRAC_PI_2);
    }
    points.dedup_by(|a, b| a.distance(*b) < 1e-9);
    if points.len() > 1 && points[0].distance(points[points.len() - 1]) < 1e-9 {
        points.pop();
    }
    let area_mm2 = width_mm * height_mm - (4.0 - PI) * corner_mm * corner_mm;
    Ok((vec![points], area_mm2))
}

/// Adds points of an arc, both ends too; a chord of angle a lies r(1 - cos(a/2)) off its arc.
fn arc(points: &mut Vec<DVec2>, centre: DVec2, radius_mm: f64, from: f64, to: f64) {
    if radius_mm <= 0.0 {
        points.push(centre);
        return;
    }
    let step = 2.0 * libm::acos((1.0 - TOLERANCE_MM / radius_mm).max(0.0));
    // A multiple of 4 puts points on the outermost places, so that the size comes out exact.
    let pieces = (((to - from) / step / 4.0).ceil() as usize).max(1) * 4;
    for k in 0..=pieces {
        let angle = from + (to - from) * k as f64 / pieces as f64;
        points.push(centre + radius_mm * DVec2::new(libm::cos(angle), libm::sin(angle)));
    }
}

fn from_path(
    data: &str,
    width_mm: f64,
    at: &FieldPath,
) -> Result<(Vec<Vec<DVec2>>, f64), Diagnostic> {
    let refuse = |message: String, hint: &str| Diagnostic::error(at.clone(), message).hint(hint);
    let largest = largest_number(data);
    if largest > LARGEST_NUMBER {
        return Err(refuse(
            format!(
                "the outline holds the number {largest:.3e}, at most {LARGEST_NUMBER} is possible"
            ),
            "scale the drawing down; `width` sets its true size",
        ));
    }
    let drawn = BezPath::from_svg(data).map_err(|why| {
        refuse(
            format!("the outline cannot be read as SVG path data: {why}"),
            "copy the `d` of one closed path, such as \"M 0 0 L 30 0 L 15 20 Z\"",
        )
    })?;
    let bounds_drawn =
        if drawn.elements().len() > 1 { drawn.bounding_box() } else { kurbo::Rect::ZERO };
    let scale = width_mm / bounds_drawn.width();
    if !(drawn.is_finite() && scale.is_finite() && bounds_drawn.height() > 0.0) {
        return Err(refuse(
            "the outline has no width or no height".to_owned(),
            "draw one closed path round the whole plate",
        ));
    }
    let height_mm = bounds_drawn.height() * scale;
    if height_mm > LARGEST_MM {
        return Err(refuse(
            format!(
                "scaled to its width the outline is {height_mm:.0} mm high, at most {LARGEST_MM} mm are possible"
            ),
            "check that `width` is the width of the drawing and not its height",
        ));
    }
    let centre = bounds_drawn.center();
    let path = Affine::scale_non_uniform(scale, -scale)
        * (Affine::translate((-centre.x, -centre.y)) * drawn);
    let mut loops = closed_loops(&path, TOLERANCE_MM);
    loops.retain(|points| points.len() > 2);
    let count: usize = loops.iter().map(Vec::len).sum();
    if count > MOST_POINTS {
        return Err(refuse(
            format!("the outline has {count} points, at most {MOST_POINTS} are possible"),
            "simplify the path in your drawing program",
        ));
    }
    // Adding 0 takes the sign off a zero.
    let tenths = |value: f64| (value * 10.0).round() / 10.0 + 0.0;
    if let Some(place) = crossing(&loops) {
        return Err(refuse(
            format!(
                "the outline crosses or touches itself {:.1} mm right and {:.1} mm down from the centre",
                tenths(place.x),
                tenths(-place.y)
            ),
            "unite the shapes in your drawing program so that one line runs round the plate",
        ));
    }
    loops.sort_by(|a, b| signed_area(b).abs().total_cmp(&signed_area(a).abs()));
    let lone = |k: usize| {
        !inside(&loops[0], loops[k][0])
            || loops[1..]
                .iter()
                .enumerate()
                .any(|(j, hole)| j + 1 != k && inside(hole, loops[k][0]))
    };
    if loops.is_empty() || (1..loops.len()).any(lone) {
        return Err(refuse(
            "the outline is not one plate: it needs one line round the outside, and may have holes inside".to_owned(),
            "make each separate plate a part of its own",
        ));
    }
    for (k, points) in loops.iter_mut().enumerate() {
        if (signed_area(points) > 0.0) != (k == 0) {
            points.reverse();
        }
    }
    Ok((loops, exact_area(&path)))
}

/// Area between the curves: the largest subpath less the holes in it.
fn exact_area(path: &BezPath) -> f64 {
    let mut parts: Vec<f64> = Vec::new();
    let mut one = BezPath::new();
    for element in path.elements() {
        if matches!(element, kurbo::PathEl::MoveTo(_)) && !one.elements().is_empty() {
            parts.push(closed_area(&one));
            one = BezPath::new();
        }
        one.push(*element);
    }
    parts.push(closed_area(&one));
    let largest = parts.iter().copied().fold(0.0, f64::max);
    2.0 * largest - parts.iter().sum::<f64>()
}

/// Area of one subpath, closed by a line if it is open.
fn closed_area(path: &BezPath) -> f64 {
    let mut closed = path.clone();
    if !matches!(closed.elements().last(), Some(kurbo::PathEl::ClosePath)) {
        closed.close_path();
    }
    closed.area().abs()
}

fn bounds(loops: &[Vec<DVec2>]) -> (DVec2, DVec2) {
    let mut points = loops.iter().flatten();
    let first = points.next().copied().unwrap_or_default();
    points.fold((first, first), |(low, high), at| (low.min(*at), high.max(*at)))
}

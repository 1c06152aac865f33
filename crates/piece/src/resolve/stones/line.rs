//! A drawn line as corners on a part.

use crate::file::scalars::{Length, Share};
use crate::file::way::LineFile;
use crate::resolve::places::{Heights, Wall};
use crate::resolve::zones::LARGEST_MM;
use crate::resolve::{Bench, art};
use crate::{FieldPath, Form, Measure, Way};
use kurbo::{BezPath, ParamCurve, PathSeg, Point, Shape};
use std::f64::consts::TAU;
use svgtypes::{PathParser, PathSegment};

/// A line's chords may lie this far from it, mm.
const TOLERANCE_MM: f64 = 0.05;
/// Corners are rounded to this, so that the last digit of a sine on one machine or another makes no
/// difference.
const GRID_MM: f64 = 1e-6;
/// Most corners.
const MOST_CORNERS: usize = 20_000;
/// Largest number in path data; an arc is drawn in more pieces the larger it is.
const LARGEST_NUMBER: f64 = 1e6;

/// The line scaled to its size and laid on the part. On a revolved part a mm across becomes an angle
/// at the radius through the line's middle, as for a drawing; between two measures the radius is
/// taken to change evenly.
pub(super) fn line(
    file: &LineFile,
    form: Option<&Form>,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Way {
    let wall = Wall::of(form);
    let flat = wall.is_flat();
    let middle = (
        art::around(file.around.as_ref(), flat, &path.key("around"), bench),
        art::along(file.along, wall, path, bench),
    );
    let width_mm = width_mm(file.width, file.round, (form, middle.1), path, bench);
    let height_mm = file.height.map(|height| {
        let path = path.key("height");
        let height_mm = Heights::of_wall(wall).mm(height, &path, bench);
        bench.size_mm(&path, "the height", height_mm, LARGEST_MM)
    });
    let right_mm = match form {
        Some(Form::Revolved(measures)) => radius_mm(measures, middle.1),
        _ => 1.0,
    };
    let corners = match scaled(&file.line, width_mm, height_mm) {
        Ok(corners) if right_mm > 0.0 => corners
            .into_iter()
            .map(|(x_mm, y_mm)| {
                let along_mm = middle.1 + y_mm;
                // Nothing lies above the rim.
                let along_mm = if flat { along_mm } else { along_mm.max(0.0) };
                (middle.0 + x_mm / right_mm, along_mm)
            })
            .collect(),
        Ok(_) => {
            bench.error_hint(
                path,
                "the middle of the line lies where the part has no width",
                "give it another `along`",
            );
            Vec::new()
        }
        Err((message, hint)) => {
            bench.error_hint(&path.key("line"), message, hint);
            Vec::new()
        }
    };
    Way::Line { corners }
}

/// Width as typed, or that of a share of the way round the part at this distance from the rim, mm; `None`
/// if neither is typed.
pub(super) fn width_mm(
    width: Option<Length>,
    share: Option<Share>,
    (form, along_mm): (Option<&Form>, f64),
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Option<f64> {
    if let Some(width) = width {
        return Some(bench.size_mm(&path.key("width"), "the width", width.0, LARGEST_MM));
    }
    let flat = Wall::of(form).is_flat();
    let hint = "write its `width` instead";
    let share = art::round(share?.0, flat, &path.key("round"), hint, bench);
    Some(match form {
        Some(Form::Revolved(measures)) => share * TAU * radius_mm(measures, along_mm),
        _ => 1.0,
    })
}

/// Corners in mm from the middle of the line's bounding box, right and down; or what is wrong and
/// what to do.
fn scaled(
    data: &str,
    width_mm: Option<f64>,
    height_mm: Option<f64>,
) -> Result<Vec<(f64, f64)>, (String, &'static str)> {
    let such_as = "copy the `d` of one open path, such as \"M 0 0 L 30 10\"";
    if largest_number(data) > LARGEST_NUMBER {
        let message = format!("the line holds a number above {LARGEST_NUMBER}");
        return Err((message, "scale the drawing down; `width` sets its true size"));
    }
    let path = BezPath::from_svg(data)
        .map_err(|why| (format!("the line cannot be read as SVG path data: {why}"), such_as))?;
    let strokes =
        path.elements().iter().filter(|one| matches!(one, kurbo::PathEl::MoveTo(_))).count();
    if strokes > 1 {
        let message = format!("the path has {strokes} strokes; a way is one");
        return Err((message, "join them in your drawing program, or keep one"));
    }
    let bounds = path.bounding_box();
    let scale = match (width_mm, height_mm) {
        (Some(width_mm), _) => width_mm / bounds.width(),
        (None, Some(height_mm)) => height_mm / bounds.height(),
        (None, None) => 0.0,
    };
    if !(path.is_finite() && scale.is_finite() && scale > 0.0) {
        let hint = "draw one stroke; for a level one give `width`, for an upright one `height`";
        return Err(("the line has no extent to be scaled by".to_owned(), hint));
    }
    let centre = bounds.center();
    let mut corners: Vec<(f64, f64)> = Vec::new();
    let mut put = |at: Point| {
        let round = |value: f64| (value * scale / GRID_MM).round() * GRID_MM;
        let at = (round(at.x - centre.x), round(at.y - centre.y));
        if corners.last() != Some(&at) {
            corners.push(at);
        }
        corners.len()
    };
    for (index, segment) in path.segments().enumerate() {
        if index == 0 {
            put(segment.start());
        }
        let pieces = pieces(&segment, TOLERANCE_MM / scale);
        for k in 1..=pieces {
            if put(segment.eval(k as f64 / pieces as f64)) > MOST_CORNERS {
                let message = format!("the line has more than {MOST_CORNERS} corners");
                return Err((message, "simplify the path in your drawing program"));
            }
        }
    }
    if corners.len() < 2 {
        Err(("the line has no length".to_owned(), such_as))
    } else {
        Ok(corners)
    }
}

/// Chords of a curve by Wang's bound (G. Wang, "The subdivision method for finding the intersection
/// between two Bézier curves or surfaces", 1984): n² = d(d-1)/8 · M / tolerance, with M the largest
/// second difference of the control points.
fn pieces(segment: &PathSeg, tolerance: f64) -> usize {
    let bend =
        |a: Point, b: Point, c: Point| libm::hypot(a.x - 2.0 * b.x + c.x, a.y - 2.0 * b.y + c.y);
    let (factor, most) = match segment {
        PathSeg::Line(_) => return 1,
        PathSeg::Quad(q) => (0.25, bend(q.p0, q.p1, q.p2)),
        PathSeg::Cubic(c) => (0.75, bend(c.p0, c.p1, c.p2).max(bend(c.p1, c.p2, c.p3))),
    };
    ((factor * most / tolerance).sqrt().ceil() as usize).clamp(1, 4096)
}

/// Radius of the bare wall at a distance from the rim, mm, read evenly between two measures.
fn radius_mm(measures: &[Measure], along_mm: f64) -> f64 {
    let after = measures.partition_point(|one| one.along_mm < along_mm);
    match (after.checked_sub(1).and_then(|at| measures.get(at)), measures.get(after)) {
        (Some(a), Some(b)) => {
            let share = (along_mm - a.along_mm) / (b.along_mm - a.along_mm);
            a.radius_mm + share * (b.radius_mm - a.radius_mm)
        }
        (Some(only), None) | (None, Some(only)) => only.radius_mm,
        (None, None) => 0.0,
    }
}

/// The largest size of a number in path data, as far as it can be read.
fn largest_number(data: &str) -> f64 {
    let sizes = PathParser::from(data).map_while(Result::ok).map(|segment| {
        let numbers = match segment {
            PathSegment::MoveTo { x, y, .. }
            | PathSegment::LineTo { x, y, .. }
            | PathSegment::SmoothQuadratic { x, y, .. } => [x, y, 0.0, 0.0, 0.0, 0.0],
            PathSegment::HorizontalLineTo { x, .. } => [x, 0.0, 0.0, 0.0, 0.0, 0.0],
            PathSegment::VerticalLineTo { y, .. } => [0.0, y, 0.0, 0.0, 0.0, 0.0],
            PathSegment::CurveTo { x1, y1, x2, y2, x, y, .. } => [x1, y1, x2, y2, x, y],
            PathSegment::SmoothCurveTo { x2, y2, x, y, .. } => [x2, y2, x, y, 0.0, 0.0],
            PathSegment::Quadratic { x1, y1, x, y, .. } => [x1, y1, x, y, 0.0, 0.0],
            PathSegment::EllipticalArc { rx, ry, x, y, .. } => [rx, ry, x, y, 0.0, 0.0],
            PathSegment::ClosePath { .. } => [0.0; 6],
        };
        numbers.into_iter().fold(0.0, |most: f64, number| most.max(number.abs()))
    });
    sizes.fold(0.0, f64::max)
}

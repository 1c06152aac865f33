//! How large the numbers in path data are, before anything is drawn from them.

use svgtypes::{PathParser, PathSegment};

/// The largest size of a number in SVG path data, as far as it can be read. An arc is drawn in more
/// pieces the larger it is, so that a single large number could fill the memory.
pub(crate) fn largest_number(data: &str) -> f64 {
    let sizes = PathParser::from(data).map_while(Result::ok).map(|segment| {
        let (a, b, c) = match segment {
            PathSegment::MoveTo { x, y, .. }
            | PathSegment::LineTo { x, y, .. }
            | PathSegment::SmoothQuadratic { x, y, .. } => ((x, y), (0.0, 0.0), (0.0, 0.0)),
            PathSegment::HorizontalLineTo { x, .. } => ((x, 0.0), (0.0, 0.0), (0.0, 0.0)),
            PathSegment::VerticalLineTo { y, .. } => ((0.0, y), (0.0, 0.0), (0.0, 0.0)),
            PathSegment::CurveTo { x1, y1, x2, y2, x, y, .. } => ((x1, y1), (x2, y2), (x, y)),
            PathSegment::SmoothCurveTo { x2, y2, x, y, .. } => ((x2, y2), (x, y), (0.0, 0.0)),
            PathSegment::Quadratic { x1, y1, x, y, .. } => ((x1, y1), (x, y), (0.0, 0.0)),
            PathSegment::EllipticalArc { rx, ry, x, y, .. } => ((rx, ry), (x, y), (0.0, 0.0)),
            PathSegment::ClosePath { .. } => ((0.0, 0.0), (0.0, 0.0), (0.0, 0.0)),
        };
        [a.0, a.1, b.0, b.1, c.0, c.1].into_iter().fold(0.0, |most: f64, n| most.max(n.abs()))
    });
    sizes.fold(0.0, f64::max)
}

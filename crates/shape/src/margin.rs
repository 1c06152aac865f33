//! Growing a region by a margin measured on the surface.

use crate::boolean::{Loop, Plane, Region};
use crate::cut::real_edges;
use crate::{Surface, SurfacePoint};
use std::f64::consts::PI;

/// Longest piece of an edge that is grown at once, mm.
const PIECE_MM: f64 = 1.0;

/// Corners of the disc about each point; the disc is drawn round the true one, so a margin is never
/// too small, and at most 0.3 % too large.
const CORNERS: u32 = 40;

/// Everything in the region and within `margin_mm` of it, measured along the bare surface.
///
/// Each short piece of an edge is covered by discs about its ends and all between them. A disc is
/// exact on a cylinder, cone or plate: it is drawn on the unrolled surface and rolled back. Where it
/// reaches past a crease or along a curved profile it is drawn on the cone that touches the surface
/// at its middle: with a margin of 3 mm the error stays below 0.1 mm on radii over 20 mm.
pub(crate) fn grown(plane: &Plane, surface: &Surface, region: &Region, margin_mm: f64) -> Region {
    if margin_mm <= 0.0 || region.is_empty() {
        return region.clone();
    }
    let mut loops = region.loops.clone();
    for edge in real_edges(plane, region) {
        let places: Vec<SurfacePoint> = edge.iter().map(|corner| plane.place(*corner)).collect();
        for pair in places.windows(2) {
            loops.extend(capsules(plane, surface, pair[0], pair[1], margin_mm));
        }
    }
    plane.wrapped(&loops)
}

fn capsules(plane: &Plane, surface: &Surface, a: SurfacePoint, b: SurfacePoint, margin: f64) -> Vec<Loop> {
    let scale = surface.around_scale_mm(a.along_mm).max(surface.around_scale_mm(b.along_mm));
    let length = libm::hypot((b.around - a.around) * scale, b.along_mm - a.along_mm);
    let steps = (length / PIECE_MM).ceil().clamp(1.0, 1.0e5) as u32;
    let place = |step: u32| {
        let share = f64::from(step) / f64::from(steps);
        SurfacePoint {
            around: a.around + (b.around - a.around) * share,
            along_mm: a.along_mm + (b.along_mm - a.along_mm) * share,
        }
    };
    let discs: Vec<Vec<SurfacePoint>> = (0..=steps).map(|step| disc(surface, place(step), margin)).collect();
    discs
        .windows(2)
        .map(|pair| {
            let both = pair[0].iter().chain(&pair[1]);
            hull(both.map(|p| (p.around, p.along_mm)).collect())
                .into_iter()
                .map(|(around, along)| plane.corner(around, along))
                .collect()
        })
        .collect()
}

/// A circle about a place with its radius measured on the cone that touches the surface there.
fn disc(surface: &Surface, middle: SurfacePoint, radius_mm: f64) -> Vec<SurfacePoint> {
    let radius = radius_mm / libm::cos(PI / f64::from(CORNERS));
    let scale = surface.around_scale_mm(middle.along_mm);
    let slope = if surface.period().is_some() { slope(surface, middle.along_mm) } else { 0.0 };
    let place = |around: f64, along: f64| SurfacePoint {
        // A disc about the axis covers the whole turn, not more.
        around: middle.around + if surface.period().is_some() { around.clamp(-PI, PI) } else { around },
        along_mm: middle.along_mm + along,
    };
    // Unrolled, the middle lies `apex` from the tip of the cone.
    let apex = scale / slope.abs().max(1.0e-6);
    let corner = |corner: u32| {
        let angle = 2.0 * PI * f64::from(corner) / f64::from(CORNERS);
        let (across, down) = (radius * libm::sin(angle), radius * libm::cos(angle));
        if slope.abs() < 1.0e-6 {
            return place(across / scale.max(1.0e-3), down);
        }
        let out = apex + down * slope.signum();
        place(libm::atan2(across, out) / slope.abs(), (libm::hypot(out, across) - apex) * slope.signum())
    };
    let mut corners: Vec<SurfacePoint> = (0..CORNERS).map(corner).collect();
    if slope.abs() >= 1.0e-6 && radius >= apex {
        let tip = -apex * slope.signum();
        corners.extend([place(-PI, tip), place(PI, tip)]);
    }
    corners
}

/// How much the radius grows for one mm along the wall.
fn slope(surface: &Surface, along_mm: f64) -> f64 {
    let (start, end) = surface.along_range_mm();
    let (from, to) = ((along_mm - 0.05).max(start), (along_mm + 0.05).min(end));
    let rise = surface.around_scale_mm(to) - surface.around_scale_mm(from);
    (rise / (to - from).max(1.0e-9)).clamp(-1.0, 1.0)
}

/// Convex hull, counterclockwise: the monotone chain of Andrew (1979).
fn hull(mut points: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    points.dedup();
    let mut hull: Vec<(f64, f64)> = Vec::with_capacity(points.len() + 1);
    for pass in 0..2 {
        let base = hull.len();
        for point in &points {
            while hull.len() >= base + 2 {
                let (a, b) = (hull[hull.len() - 2], hull[hull.len() - 1]);
                if (b.0 - a.0) * (point.1 - a.1) - (b.1 - a.1) * (point.0 - a.0) > 0.0 {
                    break;
                }
                hull.pop();
            }
            hull.push(*point);
        }
        hull.pop();
        if pass == 0 {
            points.reverse();
        }
    }
    hull
}

//! The medial axis of a shape, without the branches that only lead into its corners.
//!
//! Places along the outlines are joined into triangles (Delaunay). The circle through the corners of a
//! triangle within the shape touches its outline, and the middles of these circles, from triangle to
//! triangle, are the medial axis (H. Blum, "A transformation for extracting new descriptors of shape",
//! 1967; by triangles: J. W. Brandt and V. R. Algazi, "Continuous skeleton computation by Voronoi
//! diagram", CVGIP: Image Understanding 55, 1992). It goes once round every hole.

use super::outline::Outline;
use delaunator::{EMPTY, Point, triangulate};
use glam::DVec2;
use std::collections::BTreeSet;

/// More places than this are not taken along outlines; their distance grows instead.
const MOST_PLACES: f64 = 300_000.0;

/// A branch ends where its circle touches sides that lie at least so far round it from each other, as the
/// sine of half the angle: 150 degrees (own trials on four typefaces). In a corner of 60 degrees it is 120.
const OPPOSITE: f64 = 0.965_925_826_289_068_3;

/// A place of the axis.
#[derive(Debug, Clone)]
pub(super) struct Spot {
    pub(super) at: DVec2,
    /// Of the circle that touches the outline, mm.
    pub(super) radius_mm: f64,
    /// Its neighbours, with the distance of the two places of the outline between which one goes there.
    pub(super) beside: Vec<(usize, f64)>,
    /// How far beyond its circle a branch went from here that led into a corner, mm.
    pub(super) lost_mm: f64,
    /// Whether it was not on such a branch.
    pub(super) kept: bool,
}

/// The axis of a shape whose outlines do not cross and repeat their first place at the end; about
/// `step_mm` lie between two places that are taken along them.
pub(super) fn axis(outlines: &[Vec<DVec2>], step_mm: f64) -> Vec<Spot> {
    let length = |one: &Vec<DVec2>| one.windows(2).map(|w| w[0].distance(w[1])).sum::<f64>();
    let step_mm = step_mm.max(outlines.iter().map(length).sum::<f64>() / MOST_PLACES);
    let (places, next) = places(outlines, step_mm);
    let found = triangulate(&places);
    let outline = Outline::new(outlines, 4.0 * step_mm);
    let along = |a: usize, b: usize| next[a] == b || next[b] == a;
    let at = |place: usize| DVec2::new(places[place].x, places[place].y);
    let mut numbers = vec![None; found.triangles.len() / 3];
    let mut spots: Vec<Spot> = Vec::new();
    let mut corners: Vec<usize> = Vec::new();
    for (triangle, of) in found.triangles.chunks_exact(3).enumerate() {
        let [a, b, c] = [at(of[0]), at(of[1]), at(of[2])];
        let Some(middle) = circle(a, b, c) else { continue };
        if outline.holds((a + b + c) / 3.0) {
            numbers[triangle] = Some(spots.len());
            corners.push(3 * triangle);
            let radius_mm = middle.distance(a);
            spots.push(Spot {
                at: middle,
                radius_mm,
                beside: Vec::new(),
                lost_mm: 0.0,
                kept: true,
            });
        }
    }
    for (number, first) in corners.into_iter().enumerate() {
        for side in 0..3 {
            let (from, to) =
                (found.triangles[first + side], found.triangles[first + (side + 1) % 3]);
            let twin = found.halfedges[first + side];
            let other = if twin == EMPTY { None } else { numbers[twin / 3] };
            if let Some(other) = other.filter(|_| !along(from, to)) {
                spots[number].beside.push((other, at(from).distance(at(to))));
            }
        }
    }
    without_corners(&mut spots);
    spots
}

/// Places along the outlines, and to each the number of the next.
fn places(outlines: &[Vec<DVec2>], step_mm: f64) -> (Vec<Point>, Vec<usize>) {
    let (mut places, mut next) = (Vec::new(), Vec::new());
    for one in outlines {
        let first = places.len();
        for edge in one.windows(2) {
            let pieces = (edge[0].distance(edge[1]) / step_mm).ceil().clamp(1.0, 1.0e6) as u32;
            for piece in 0..pieces {
                let place = edge[0].lerp(edge[1], f64::from(piece) / f64::from(pieces));
                places.push(Point { x: place.x, y: place.y });
                next.push(places.len());
            }
        }
        if let Some(last) = next[first..].last_mut() {
            *last = first;
        }
    }
    (places, next)
}

/// The middle of the circle through three places.
fn circle(a: DVec2, b: DVec2, c: DVec2) -> Option<DVec2> {
    let (u, v) = (b - a, c - a);
    let twice = 2.0 * u.perp_dot(v);
    let middle = (u.length_squared() * v.perp() - v.length_squared() * u.perp()) / -twice;
    (twice.abs() > 1e-12 && middle.is_finite()).then_some(a + middle)
}

/// Takes away branches from their ends, the narrowest first, as long as their circles touch sides that do
/// not lie opposite each other. The last spot of a shape stays.
fn without_corners(spots: &mut [Spot]) {
    // Three places of the outline one after the other: its own tip, whatever the angle there.
    let tips: Vec<bool> = spots.iter().map(|spot| spot.beside.len() == 1).collect();
    let narrow = |spots: &[Spot], index: usize| match spots[index].beside[..] {
        [(_, chord_mm)] => tips[index] || chord_mm < OPPOSITE * 2.0 * spots[index].radius_mm,
        _ => false,
    };
    // Radii are positive, so their bits are in the order of their values.
    let key = |spots: &[Spot], index: usize| (spots[index].radius_mm.to_bits(), index);
    let ends = (0..spots.len()).filter(|index| narrow(spots, *index));
    let mut ends: BTreeSet<(u64, usize)> = ends.map(|index| key(spots, index)).collect();
    while let Some((_, index)) = ends.pop_first() {
        if !narrow(spots, index) {
            continue;
        }
        let next = spots[index].beside[0].0;
        let way_mm = spots[index].at.distance(spots[next].at);
        let beyond_mm = way_mm + spots[index].radius_mm - spots[next].radius_mm;
        let far_mm = spots[index].lost_mm + beyond_mm;
        spots[index].kept = false;
        spots[next].lost_mm = spots[next].lost_mm.max(far_mm);
        spots[next].beside.retain(|(other, _)| *other != index);
        if narrow(spots, next) {
            ends.insert(key(spots, next));
        }
    }
}

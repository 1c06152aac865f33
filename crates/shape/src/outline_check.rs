//! Whether closed polygons cross, and what they hold.

use glam::DVec2;

/// Area of a polygon, positive when it runs counter-clockwise (shoelace formula).
pub(crate) fn signed_area(points: &[DVec2]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| a.perp_dot(*b)).sum::<f64>() / 2.0
}

/// Whether a place lies in a polygon (even-odd rule).
pub(crate) fn inside(points: &[DVec2], place: DVec2) -> bool {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).fold(false, |within, (a, b)| {
        let spans = (a.y > place.y) != (b.y > place.y);
        within != (spans && place.x < a.x + (place.y - a.y) / (b.y - a.y) * (b.x - a.x))
    })
}

struct Side {
    of: usize,
    index: usize,
    from: DVec2,
    to: DVec2,
}

/// A place where two sides of the polygons cross or touch, other than neighbours at their common
/// corner.
pub(crate) fn crossing(loops: &[Vec<DVec2>]) -> Option<DVec2> {
    let mut sides: Vec<Side> = Vec::new();
    for (of, points) in loops.iter().enumerate() {
        for (index, from) in points.iter().enumerate() {
            let to = points[(index + 1) % points.len()];
            sides.push(Side { of, index, from: *from, to });
        }
    }
    let left = |side: &Side| side.from.x.min(side.to.x);
    sides.sort_by(|a, b| {
        left(a).total_cmp(&left(b)).then(a.of.cmp(&b.of)).then(a.index.cmp(&b.index))
    });
    for (i, a) in sides.iter().enumerate() {
        let right = a.from.x.max(a.to.x);
        for b in sides[i + 1..].iter().take_while(|b| left(b) <= right) {
            let found = if neighbours(a, b, loops) { folded(a, b) } else { meeting(a, b) };
            if found.is_some() {
                return found;
            }
        }
    }
    None
}

fn neighbours(a: &Side, b: &Side, loops: &[Vec<DVec2>]) -> bool {
    let count = loops[a.of].len();
    a.of == b.of && ((a.index + 1) % count == b.index || (b.index + 1) % count == a.index)
}

/// Two sides that share a corner and run back over each other.
fn folded(a: &Side, b: &Side) -> Option<DVec2> {
    let (first, second) = if a.to == b.from { (a, b) } else { (b, a) };
    let (u, v) = (first.to - first.from, second.to - second.from);
    (u.perp_dot(v) == 0.0 && u.dot(v) < 0.0).then_some(first.to)
}

fn meeting(a: &Side, b: &Side) -> Option<DVec2> {
    let (low, high) = (b.from.y.min(b.to.y), b.from.y.max(b.to.y));
    if a.from.y.max(a.to.y) < low || a.from.y.min(a.to.y) > high {
        return None;
    }
    let side_of = |s: &Side, p: DVec2| (s.to - s.from).perp_dot(p - s.from);
    let (b0, b1) = (side_of(a, b.from), side_of(a, b.to));
    let (a0, a1) = (side_of(b, a.from), side_of(b, a.to));
    if b0 * b1 < 0.0 && a0 * a1 < 0.0 {
        return Some(b.from.lerp(b.to, b0 / (b0 - b1)));
    }
    let on = |s: &Side, p: DVec2, cross: f64| {
        let (low, high) = (s.from.min(s.to), s.from.max(s.to));
        cross == 0.0 && p.cmpge(low).all() && p.cmple(high).all()
    };
    [(a, b.from, b0), (a, b.to, b1), (b, a.from, a0), (b, a.to, a1)]
        .into_iter()
        .find(|(s, p, cross)| on(s, *p, *cross))
        .map(|(_, p, _)| p)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn polygon(points: &[(f64, f64)]) -> Vec<DVec2> {
        points.iter().map(|(x, y)| DVec2::new(*x, *y)).collect()
    }

    #[test]
    fn a_bow_tie_crosses_in_its_middle() {
        let tie = polygon(&[(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)]);
        assert_eq!(crossing(&[tie]), Some(DVec2::new(1.0, 1.0)));
    }

    #[test]
    fn a_square_with_a_hole_does_not_cross() {
        let square = polygon(&[(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)]);
        let hole = polygon(&[(3.0, 3.0), (6.0, 3.0), (6.0, 6.0), (3.0, 6.0)]);
        assert!(inside(&square, hole[0]) && !inside(&hole, square[0]));
        assert_eq!(signed_area(&square), 81.0);
        assert_eq!(crossing(&[square, hole]), None);
    }

    #[test]
    fn a_corner_that_touches_another_side_is_found() {
        let touching = polygon(&[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (0.0, 4.0)]);
        assert_eq!(crossing(&[touching]), Some(DVec2::new(2.0, 0.0)));
    }
}

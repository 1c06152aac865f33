//! Where the name of each point of a plot stands: beside it, over nothing else.

use glam::DVec2;

/// A point with the space that its name takes, pixels.
#[derive(Debug, Clone, Copy)]
pub(super) struct Named {
    pub(super) at: DVec2,
    /// Half the width of its mark.
    pub(super) radius: f64,
    /// Width and height of its name.
    pub(super) size: DVec2,
}

/// A rectangle: top left and bottom right.
type Rect = [DVec2; 2];

fn overlap(a: &Rect, b: &Rect) -> f64 {
    let size = (a[1].min(b[1]) - a[0].max(b[0])).max(DVec2::ZERO);
    size.x * size.y
}

/// Top left corners of the names, in the order of the points: each takes the place about its point
/// that covers least of the marks, of the names before it and of what lies outside `room`.
pub(super) fn places(points: &[Named], room: Rect) -> Vec<DVec2> {
    let marks: Vec<Rect> =
        points.iter().map(|point| [point.at - point.radius, point.at + point.radius]).collect();
    let mut taken: Vec<Rect> = Vec::new();
    for (index, point) in points.iter().enumerate() {
        let rect = |corner: DVec2| [corner, corner + point.size];
        let hidden = |candidate: &Rect| {
            let outside = point.size.x * point.size.y - overlap(candidate, &room);
            let marks = marks.iter().enumerate().filter(|(other, _)| *other != index);
            marks.map(|(_, mark)| 2.0 * overlap(candidate, mark)).sum::<f64>()
                + taken.iter().map(|name| overlap(candidate, name)).sum::<f64>()
                + 4.0 * outside
        };
        let candidates = about(point).into_iter().map(rect);
        // The first of those that are as good.
        let best = candidates.fold(None, |best: Option<(Rect, f64)>, candidate| {
            let cost = hidden(&candidate);
            if best.is_some_and(|best| best.1 <= cost + 1e-9) {
                best
            } else {
                Some((candidate, cost))
            }
        });
        taken.extend(best.map(|best| best.0));
    }
    taken.into_iter().map(|rect| rect[0]).collect()
}

/// Corners of a name right, left, above and below its point, then farther off, best first.
fn about(point: &Named) -> Vec<DVec2> {
    let (size, mut found) = (point.size, Vec::new());
    for away in [4.0, 10.0, 18.0] {
        let off = point.radius + away;
        let middle = -size / 2.0;
        let ways = [
            DVec2::new(off, middle.y),
            DVec2::new(-off - size.x, middle.y),
            DVec2::new(middle.x, -off - size.y),
            DVec2::new(middle.x, off),
            DVec2::new(off * 0.7, -off * 0.7 - size.y),
            DVec2::new(off * 0.7, off * 0.7),
            DVec2::new(-off * 0.7 - size.x, -off * 0.7 - size.y),
            DVec2::new(-off * 0.7 - size.x, off * 0.7),
        ];
        found.extend(ways.map(|way| point.at + way));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lie_over_no_mark_and_no_other_name_where_there_is_room() {
        let room = [DVec2::ZERO, DVec2::new(400.0, 200.0)];
        let point = |x: f64, y: f64| Named {
            at: DVec2::new(x, y),
            radius: 4.0,
            size: DVec2::new(60.0, 12.0),
        };
        // Two close together, one in a corner.
        let points = [point(100.0, 100.0), point(112.0, 103.0), point(396.0, 4.0)];
        let names: Vec<Rect> =
            places(&points, room).iter().map(|at| [*at, *at + points[0].size]).collect();
        for (index, name) in names.iter().enumerate() {
            assert!(overlap(name, &room) > 60.0 * 12.0 - 1e-9, "{name:?} is cut");
            for other in &names[..index] {
                assert_eq!(overlap(name, other), 0.0);
            }
            for other in &points {
                let mark = [other.at - other.radius, other.at + other.radius];
                assert_eq!(overlap(name, &mark), 0.0, "{name:?} over {other:?}");
            }
        }
    }
}

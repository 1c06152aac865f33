//! How thin the strokes of a shape are, and where.

mod near;

use glam::DVec2;
use near::{Circle, Near};

/// Longest piece of an outline that one place stands for, mm; longer where the drawing has so many
/// edges that more than `MOST_LOOKS` would be looked at.
const PIECE_MM: f64 = 0.25;
const MOST_LOOKS: f64 = 2.0e7;

/// How far a stroke goes on to both sides of its thinnest place, mm, and how much narrower, as a share,
/// it may be there.
const GOES_ON_MM: f64 = 1.0;
const NARROWS: f64 = 0.97;

/// The thinnest place of a shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Thin {
    /// Width there: diameter of the circle that touches both sides, mm.
    pub(crate) width_mm: f64,
    /// Its middle, mm.
    pub(crate) at: DVec2,
}

/// The thinnest stroke of a shape that is thinner than `limit_mm`. Its outlines do not cross, repeat
/// their first place at the end, and turn from x to y about the shape, the other way about its holes.
///
/// At each place of an outline the largest circle within the shape that touches it there is sought
/// (the medial axis transform: H. Blum, "A transformation for extracting new descriptors of shape",
/// 1967); only circles smaller than the limit matter, so only what lies near is looked at.
pub(crate) fn thinnest(outlines: &[Vec<DVec2>], limit_mm: f64) -> Option<Thin> {
    let near = Near::new(outlines, limit_mm);
    let length: f64 =
        outlines.iter().flat_map(|one| one.windows(2)).map(|e| (e[1] - e[0]).length()).sum();
    let step_mm = PIECE_MM.max(length * near.looks() / MOST_LOOKS);
    let found = outlines.iter().flat_map(|one| {
        let places = places(one, &near, limit_mm, step_mm);
        (0..places.len()).filter_map(|index| stroke(&places, index)).collect::<Vec<_>>()
    });
    found.min_by(|a, b| a.width_mm.total_cmp(&b.width_mm))
}

/// A place of an outline.
struct Place {
    at: DVec2,
    /// Where the outline runs there, a unit vector.
    way: DVec2,
    /// The circle that touches it there, if it is a small one.
    circle: Option<Circle>,
}

/// Places all along an outline.
fn places(one: &[DVec2], near: &Near, limit_mm: f64, step_mm: f64) -> Vec<Place> {
    let mut places = Vec::new();
    // Of edges shorter than a step one stands for those that follow.
    let mut since_mm = step_mm;
    for edge in one.windows(2) {
        let (from, whole) = (edge[0], edge[1] - edge[0]);
        let length = whole.length();
        since_mm += length;
        if length < 1e-6 || since_mm < step_mm {
            continue;
        }
        since_mm = 0.0;
        let way = whole / length;
        let pieces = (length / step_mm).ceil().clamp(1.0, 1.0e4) as u32;
        places.extend((0..pieces).map(|piece| {
            let at = from + whole * ((f64::from(piece) + 0.5) / f64::from(pieces));
            Place { at, way, circle: near.circle(at, way.perp(), 0.5 * limit_mm) }
        }));
    }
    places
}

/// The circle at a place if a stroke goes on from there to both sides and is nowhere near thinner: a
/// stroke that runs out to a point is no thinner than where it begins to.
fn stroke(places: &[Place], index: usize) -> Option<Thin> {
    let here = &places[index];
    let thin = here.circle.filter(|circle| circle.stroke)?.thin;
    let goes_on = |step: usize| {
        let (mut far, mut last) = (0.0, index);
        while far < GOES_ON_MM {
            let next = (last + step) % places.len();
            far += (places[next].at - places[last].at).length();
            let around_a_corner = here.way.dot(places[next].way) < 0.5;
            if next == index || around_a_corner {
                return false;
            }
            last = next;
        }
        let other = places[last].circle;
        other.is_none_or(|other| other.thin.width_mm >= NARROWS * thin.width_mm)
    };
    (goes_on(1) && goes_on(places.len() - 1)).then_some(thin)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{PI, TAU};

    fn closed(mut outline: Vec<DVec2>) -> Vec<DVec2> {
        outline.extend(outline.first().copied());
        outline
    }

    fn ring(radius: f64, middle: DVec2, steps: u32, way: f64) -> Vec<DVec2> {
        let angle = |step: u32| way * TAU * f64::from(step) / f64::from(steps);
        let at = |step| DVec2::new(libm::cos(angle(step)), libm::sin(angle(step))) * radius;
        closed((0..steps).map(|step| middle + at(step)).collect())
    }

    #[test]
    fn a_bar_is_as_thin_as_it_is_wide_and_its_corners_do_not_count() {
        for turn in [0.0, 0.3, 1.9] {
            let turned = DVec2::new(libm::cos(turn), libm::sin(turn));
            let bar = [(0.0, 0.0), (20.0, 0.0), (20.0, 0.8), (0.0, 0.8)];
            let bar = vec![closed(bar.map(|(x, y)| turned.rotate(DVec2::new(x, y))).to_vec())];
            let thin = thinnest(&bar, 1.5).expect("it is thin");
            assert!((thin.width_mm - 0.8).abs() < 1e-9, "{thin:?}");
            assert_eq!(thinnest(&bar, 0.79), None);
        }
        let square = [(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)];
        let square = vec![closed(square.map(|(x, y)| DVec2::new(x, y)).to_vec())];
        assert_eq!(thinnest(&square, 3.0), None);
    }

    #[test]
    fn a_ring_off_its_middle_is_thinnest_where_both_circles_come_near() {
        // Circles of 10 and 8 mm radius whose middles lie 1.4 mm apart leave 10 - 8 - 1.4 mm.
        let hole = ring(8.0, DVec2::new(1.4, 0.0), 400, -1.0);
        let ring = vec![ring(10.0, DVec2::ZERO, 400, 1.0), hole];
        let thin = thinnest(&ring, 1.0).expect("it is thin");
        assert!((thin.width_mm - 0.6).abs() < 0.003, "{thin:?}");
        assert!((thin.at - DVec2::new(9.7, 0.0)).length() < 0.3, "{thin:?}");
    }

    #[test]
    fn a_stroke_that_runs_out_to_a_point_is_not_thin() {
        // A reed 3 mm wide and 40 mm high.
        let reed = [(0.0, 0.0), (3.0, 0.0), (1.5, 40.0)].map(|(x, y)| DVec2::new(x, y));
        assert_eq!(thinnest(&[closed(reed.to_vec())], 1.0), None);
        // A short hook that ends within a millimetre of where it is thin.
        let hook = [(0.0, 0.0), (3.0, 0.0), (3.6, 3.0), (4.2, 4.0), (2.5, 3.1), (0.0, 3.0)];
        let hook = closed(hook.map(|(x, y)| DVec2::new(x, y)).to_vec());
        assert_eq!(thinnest(&[hook], 0.6), None);
        // Two such points that meet in a neck of 0.5 mm.
        let neck = [(0.0, 0.0), (6.0, 0.0), (3.25, 18.0), (6.0, 36.0), (0.0, 36.0), (2.75, 18.0)];
        let neck = closed(neck.map(|(x, y)| DVec2::new(x, y)).to_vec());
        let thin = thinnest(&[neck], 1.0).expect("a neck");
        assert!((thin.width_mm - 0.5).abs() < 0.1, "{thin:?}");
    }

    #[test]
    fn a_drawing_of_many_short_edges_is_looked_at_in_bounded_time() {
        // 400 rings of 1000 edges, all as thin as 0.4 mm: 400,000 corners as a drawing may have them at
        // most, and a limit that makes each place look far.
        let mut rings = Vec::new();
        for n in 0..200 {
            let middle = DVec2::new(f64::from(n % 20) * 4.0, f64::from(n / 20) * 4.0);
            rings.push(ring(1.9, middle, 1000, 1.0));
            rings.push(ring(1.5, middle, 1000, -1.0));
        }
        for limit_mm in [1.0, 20.0] {
            let near = Near::new(&rings, limit_mm);
            let length: f64 = 200.0 * TAU * 3.4;
            let step_mm = PIECE_MM.max(length * near.looks() / MOST_LOOKS);
            let looked: usize =
                rings.iter().map(|one| places(one, &near, limit_mm, step_mm).len()).sum();
            // At least one place of each outline is looked at.
            let few = looked <= rings.len() || looked as f64 * near.looks() <= 1.5 * MOST_LOOKS;
            assert!(few, "{limit_mm}: {looked}");
        }
        let thin = thinnest(&rings, 1.0).expect("it is thin");
        assert!((thin.width_mm - 0.4).abs() < 0.01, "{thin:?}");
    }

    #[test]
    fn a_round_end_and_a_disc_are_no_strokes_thinner_than_they_are() {
        // A disc of 2 mm across is 2 mm wide everywhere.
        let disc = vec![ring(1.0, DVec2::ZERO, 200, 1.0)];
        let thin = thinnest(&disc, 3.0);
        assert!(thin.is_none_or(|thin| (thin.width_mm - 2.0).abs() < 0.01), "{thin:?}");
        let mut stadium: Vec<DVec2> = Vec::new();
        for step in 0..=60 {
            let angle = -0.5 * PI + PI * f64::from(step) / 60.0;
            stadium.push(DVec2::new(5.0 + libm::cos(angle), libm::sin(angle)));
        }
        stadium.extend(stadium.clone().iter().map(|p| -*p));
        let thin = thinnest(&[closed(stadium)], 3.0).expect("it is thinner than the limit");
        assert!((thin.width_mm - 2.0).abs() < 0.01, "{thin:?}");
    }
}

//! Outlines as a cutter takes them: in whole thousandths of a mm as they are written, without steps of
//! no length, without lines cut there and back.

use glam::DVec2;

/// Steps that a file tells apart in one mm.
const STEPS_PER_MM: f64 = 1000.0;

/// An outline on the steps of the file; `None` where nothing is left of it.
pub(super) fn clean(outline: impl IntoIterator<Item = DVec2>) -> Option<Vec<DVec2>> {
    let mut kept: Vec<[i64; 2]> = Vec::new();
    for place in outline {
        let step = (place * STEPS_PER_MM).round();
        add(&mut kept, [step.x as i64, step.y as i64]);
    }
    // The end meets the beginning.
    let mut first = 0;
    while kept.len() - first > 2 {
        let last = kept.len() - 1;
        if kept[last] == kept[first] || goes_back(kept[last - 1], kept[last], kept[first]) {
            kept.pop();
        } else if goes_back(kept[last], kept[first], kept[first + 1]) {
            first += 1;
        } else {
            break;
        }
    }
    let kept = &kept[first..];
    let place = |&[x, y]: &[i64; 2]| DVec2::new(x as f64, y as f64) / STEPS_PER_MM;
    (kept.len() > 2).then(|| kept.iter().map(place).collect())
}

/// Adds a place and takes away what it makes needless.
fn add(kept: &mut Vec<[i64; 2]>, place: [i64; 2]) {
    while let [.., before, last] = kept[..] {
        if last != place && goes_back(before, last, place) {
            kept.pop();
        } else {
            break;
        }
    }
    if kept.last() != Some(&place) {
        kept.push(place);
    }
}

/// Whether the way from `b` to `c` runs back over that from `a` to `b`.
fn goes_back(a: [i64; 2], b: [i64; 2], c: [i64; 2]) -> bool {
    let (u, v) = ([b[0] - a[0], b[1] - a[1]], [c[0] - b[0], c[1] - b[1]]);
    let (cross, along) = (u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1]);
    cross == 0 && along < 0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cleaned(places: &[(f64, f64)]) -> Option<Vec<(f64, f64)>> {
        let cleaned = clean(places.iter().map(|&place| DVec2::from(place)));
        cleaned.map(|all| all.iter().map(|place| (place.x, place.y)).collect())
    }

    #[test]
    fn places_that_the_file_cannot_tell_apart_are_one() {
        let square =
            [(0.0, 0.0), (1.0, 0.0), (1.0002, 0.0003), (1.0, 1.0), (0.0, 1.0), (0.0001, 0.0)];
        let corners = vec![(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        assert_eq!(cleaned(&square), Some(corners));
        assert_eq!(cleaned(&[(0.0, 0.0), (0.0002, 0.0), (0.0, 0.0003)]), None);
    }

    #[test]
    fn nothing_is_cut_there_and_back() {
        let spike = [(0.0, 0.0), (2.0, 0.0), (1.0, 0.0), (1.0, 1.0)];
        assert_eq!(cleaned(&spike), Some(vec![(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)]));
        // At the end and at the beginning.
        let spike = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 0.0), (-1.0, -1.0)];
        assert_eq!(cleaned(&spike), Some(vec![(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)]));
        assert_eq!(cleaned(&[(0.0, 0.0), (1.0, 0.0), (0.5, 0.0)]), None);
    }
}

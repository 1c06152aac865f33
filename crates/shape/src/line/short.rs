//! Whether strokes are long enough for stones along them to show what they are.

use super::network::length_mm;
use glam::DVec2;
use std::collections::BTreeMap;

/// Art is at least so wide or high from the first middle of a stone to the last, in stones and gaps: three
/// stones, fewer than which show no shape (common practice, no source).
const LEAST: f64 = 2.0;
/// At least this share of the length of all strokes is not too short for stones (own trials).
const LEFT: f64 = 0.5;

/// A place in art whose strokes, the `whole` of them, are too short for stones that take `pitch_mm`, of which
/// those that are `left` have room for stones. Dots are one stone whatever their size: what is no longer than
/// strokes are wide, `wide_mm`.
pub(super) fn too_short(
    whole: &[Vec<DVec2>],
    left: &[Vec<DVec2>],
    pitch_mm: f64,
    wide_mm: f64,
) -> Option<DVec2> {
    let (low, high) = largest(whole, wide_mm)?;
    let all_mm = |lines: &[Vec<DVec2>]| lines.iter().map(|line| length_mm(line)).sum::<f64>();
    let small = (high - low).max_element() < LEAST * pitch_mm * (1.0 - 1e-6);
    (small || all_mm(left) < LEFT * all_mm(whole)).then_some(0.5 * (low + high))
}

/// The upright rectangle about the largest of the shapes that lines make which meet at their ends; `None` where
/// none is larger than `wide_mm`.
fn largest(lines: &[Vec<DVec2>], wide_mm: f64) -> Option<(DVec2, DVec2)> {
    let mut first: Vec<usize> = (0..lines.len()).collect();
    let mut ending: BTreeMap<(u64, u64), usize> = BTreeMap::new();
    for (index, line) in lines.iter().enumerate() {
        for end in [line.first(), line.last()].into_iter().flatten() {
            let met = *ending.entry((end.x.to_bits(), end.y.to_bits())).or_insert(index);
            let (one, other) = (root(&mut first, met), root(&mut first, index));
            first[one.max(other)] = one.min(other);
        }
    }
    let mut about: BTreeMap<usize, (DVec2, DVec2)> = BTreeMap::new();
    for (index, line) in lines.iter().enumerate().filter(|(_, line)| line.len() > 1) {
        let (low, high) = about.entry(root(&mut first, index)).or_insert((line[0], line[0]));
        for at in line {
            (*low, *high) = (low.min(*at), high.max(*at));
        }
    }
    let side_mm = |(low, high): &(DVec2, DVec2)| (*high - *low).max_element();
    let found = about.into_values().max_by(|a, b| side_mm(a).total_cmp(&side_mm(b)))?;
    (side_mm(&found) > wide_mm).then_some(found)
}

/// The first line of the shape that a line belongs to.
fn root(first: &mut [usize], mut line: usize) -> usize {
    while first[line] != line {
        first[line] = first[first[line]];
        line = first[line];
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(places: &[(f64, f64)]) -> Vec<DVec2> {
        places.iter().map(|(x, y)| DVec2::new(*x, *y)).collect()
    }

    #[test]
    fn a_shape_is_as_large_as_all_lines_of_it_together() {
        // An L of 3 and 2 mm and a bar of 4 mm beside it.
        let lines = [
            line(&[(0.0, 0.0), (0.0, 3.0)]),
            line(&[(10.0, 0.0), (14.0, 0.0)]),
            line(&[(2.0, 3.0), (0.0, 3.0)]),
            line(&[(30.0, 0.0)]),
        ];
        assert_eq!(largest(&lines, 1.0), Some((DVec2::new(10.0, 0.0), DVec2::new(14.0, 0.0))));
        let met = [&lines[..], &[line(&[(2.0, 3.0), (4.5, 3.0)])]].concat();
        assert_eq!(largest(&met, 1.0), Some((DVec2::ZERO, DVec2::new(4.5, 3.0))));
        assert_eq!(largest(&lines[3..], 0.0), None);
        assert_eq!(largest(&met, 4.5), None);
    }

    #[test]
    fn three_stones_in_a_row_are_not_too_short_and_dots_never_are() {
        let bar = [line(&[(0.0, 0.0), (4.2, 0.0)])];
        assert_eq!(too_short(&bar, &bar, 2.1, 1.0), None);
        assert_eq!(too_short(&bar, &bar, 2.11, 1.0), Some(DVec2::new(2.1, 0.0)));
        let dots = [line(&[(0.0, 0.0)]), line(&[(9.0, 0.0)])];
        assert_eq!(too_short(&dots, &dots, 20.0, 0.0), None);
        // Most of it is left out.
        let long = [bar[0].clone(), line(&[(4.2, 0.0), (4.2, 3.0), (8.0, 3.0)])];
        assert!(too_short(&long, &bar, 2.0, 1.0).is_some());
    }
}

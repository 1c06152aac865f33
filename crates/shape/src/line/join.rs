//! Strokes that go on into each other, made one with a curve where they meet.

use glam::DVec2;

/// Steps of the curve.
const STEPS: u32 = 12;

/// Joins lines that go on into each other where two of them end at a smooth knot.
pub(super) fn joined(mut lines: Vec<(Vec<DVec2>, [Option<usize>; 2])>) -> Vec<Vec<DVec2>> {
    let mut done = Vec::new();
    while let Some((mut line, mut smooth)) = lines.pop() {
        loop {
            if smooth[1].is_none() && smooth[0].is_some() {
                line.reverse();
                smooth.swap(0, 1);
            }
            let Some(knot) = smooth[1] else { break };
            if smooth[0] == Some(knot) && !lines.iter().any(|(_, ends)| ends.contains(&Some(knot)))
            {
                line = rounded_ring(&line);
                break;
            }
            let next = lines.iter().position(|(_, ends)| ends.contains(&Some(knot)));
            let Some(next) = next else { break };
            let (mut other, mut ends) = lines.remove(next);
            if ends[0] != Some(knot) {
                other.reverse();
                ends.swap(0, 1);
            }
            line = rounded(&line, &other);
            smooth = [smooth[0], ends[1]];
        }
        done.push(line);
    }
    done.reverse();
    done
}

/// Two lines, the second going on where the first ends, with a curve in place of the knot.
fn rounded(one: &[DVec2], other: &[DVec2]) -> Vec<DVec2> {
    let (Some((knot, before)), Some(after)) = (one.split_last(), other.get(1..)) else {
        return one.to_vec();
    };
    let mut line = before.to_vec();
    if let (Some(from), Some(to)) = (before.last(), after.first()) {
        line.extend(
            (1..STEPS).map(|step| curve(*from, *knot, *to, f64::from(step) / f64::from(STEPS))),
        );
    }
    line.extend(after);
    line
}

/// A closed line with a curve in place of the knot at which it begins and ends.
fn rounded_ring(line: &[DVec2]) -> Vec<DVec2> {
    let [knot, from_here @ .., _] = line else { return line.to_vec() };
    let (Some(first), Some(last)) = (from_here.first(), from_here.last()) else {
        return line.to_vec();
    };
    let bend =
        (1..=STEPS).map(|step| curve(*last, *knot, *first, f64::from(step) / f64::from(STEPS)));
    from_here.iter().copied().chain(bend).collect()
}

/// A place on a quadratic Bézier curve.
fn curve(from: DVec2, bend: DVec2, to: DVec2, share: f64) -> DVec2 {
    from.lerp(bend, share).lerp(bend.lerp(to, share), share)
}

//! An area cut into strips with two upright sides, exact at its edges.
//!
//! A line sweeps round the part; between two events the edges it meets keep their order, and those
//! of an even-odd area pair up into strips. Areas laid over it split strips where they begin and end.

use shape::SurfacePoint;
use std::collections::BTreeMap;

/// A trapezium in (around, along): upright sides, straight top and bottom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Strip {
    /// `around` of its sides.
    pub(crate) sides: [f64; 2],
    /// `along_mm` of its upper edge at both sides.
    pub(crate) upper: [f64; 2],
    /// `along_mm` of its lower edge at both sides.
    pub(crate) lower: [f64; 2],
    /// Which of the covering areas lie over it, a bit for each.
    pub(crate) covers: u64,
}

/// Thinner strips than this are rounding, mm.
const THIN_MM: f64 = 1e-7;
/// Narrower steps than this are rounding, radians or mm.
const NARROW: f64 = 1e-11;

type Loops = [Vec<SurfacePoint>];

#[derive(Debug, Clone, Copy)]
struct Edge {
    from: SurfacePoint,
    to: SurfacePoint,
    /// 0 is the area itself, k the covering area k - 1.
    of: usize,
}

impl Edge {
    fn at(&self, around: f64) -> f64 {
        let share = (around - self.from.around) / (self.to.around - self.from.around);
        self.from.along_mm + (self.to.along_mm - self.from.along_mm) * share.clamp(0.0, 1.0)
    }
}

/// A strip that the sweep has not left yet: upper and lower edge, and what covers it.
type Open = (usize, usize, u64);

struct Sweep<'a> {
    edges: &'a [Edge],
    open: BTreeMap<Open, f64>,
    strips: Vec<Strip>,
}

/// Cuts an area into strips no wider than from one of `cuts` (ascending) to the next. At most 63
/// areas can cover it; more are left out of account.
pub(crate) fn strips(area: &Loops, covers: &[&Loops], cuts: &[f64]) -> Vec<Strip> {
    let mut edges = Vec::new();
    for (of, loops) in std::iter::once(&area).chain(covers.iter().take(63)).enumerate() {
        for points in loops.iter() {
            for (i, a) in points.iter().enumerate() {
                let b = points[(i + 1) % points.len()];
                if (a.around - b.around).abs() > NARROW {
                    let (from, to) = if a.around < b.around { (*a, b) } else { (b, *a) };
                    edges.push(Edge { from, to, of });
                }
            }
        }
    }
    edges.sort_by(|a, b| a.from.around.total_cmp(&b.from.around));
    let own = |side: fn(&Edge) -> f64| edges.iter().filter(|e| e.of == 0).map(side);
    let first = own(|e| e.from.around).fold(f64::INFINITY, f64::min);
    let last = own(|e| e.to.around).fold(f64::NEG_INFINITY, f64::max);
    let mut events: Vec<f64> = edges.iter().flat_map(|e| [e.from.around, e.to.around]).collect();
    events.extend(cuts);
    events.retain(|e| (first..=last).contains(e));
    events.sort_by(f64::total_cmp);
    events.dedup_by(|a, b| *a - *b < NARROW);

    let mut sweep = Sweep { edges: &edges, open: BTreeMap::new(), strips: Vec::new() };
    let (mut next, mut met) = (0, Vec::new());
    for pair in events.windows(2) {
        let (left, right) = (pair[0], pair[1]);
        if cuts.binary_search_by(|c| c.total_cmp(&left)).is_ok() {
            sweep.close(left);
        }
        let middle = 0.5 * (left + right);
        while next < edges.len() && edges[next].from.around <= middle {
            met.push(next);
            next += 1;
        }
        met.retain(|i| edges[*i].to.around >= middle);
        sweep.pass(left, right, &met, 0);
    }
    sweep.close(last);
    sweep.strips
}

impl Sweep<'_> {
    /// Goes from one event to the next; where edges cross between them, in two steps.
    fn pass(&mut self, left: f64, right: f64, met: &[usize], depth: u32) {
        let ends = |i: usize| (self.edges[i].at(left), self.edges[i].at(right));
        let mut order: Vec<(f64, f64, usize)> = met
            .iter()
            .map(|i| {
                let (a, b) = ends(*i);
                (a, b, *i)
            })
            .collect();
        order.sort_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)).then(a.2.cmp(&b.2)));
        let crossing = order.windows(2).find_map(|pair| {
            let (before, after) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
            let crosses = before.min(after) < -THIN_MM && before.max(after) > THIN_MM;
            crosses.then(|| left + (right - left) * before / (before - after))
        });
        if let Some(at) = crossing
            && depth < 24
            && at - left > NARROW
            && right - at > NARROW
        {
            self.pass(left, at, met, depth + 1);
            self.pass(at, right, met, depth + 1);
            return;
        }
        let mut now: Vec<Open> = Vec::new();
        let (mut inside, mut covers) = (false, 0_u64);
        for (k, (a, b, i)) in order.iter().enumerate() {
            if inside && k > 0 {
                let (upper_a, upper_b, upper) = order[k - 1];
                if (a - upper_a).max(b - upper_b) > THIN_MM {
                    now.push((upper, *i, covers));
                }
            }
            match self.edges[*i].of {
                0 => inside = !inside,
                of => covers ^= 1 << (of - 1),
            }
        }
        now.sort_unstable();
        let ended: Vec<Open> =
            self.open.keys().filter(|key| now.binary_search(key).is_err()).copied().collect();
        for key in ended {
            self.end(key, left);
        }
        for key in now {
            self.open.entry(key).or_insert(left);
        }
    }

    fn close(&mut self, at: f64) {
        for key in self.open.keys().copied().collect::<Vec<_>>() {
            self.end(key, at);
        }
    }

    fn end(&mut self, key: Open, right: f64) {
        let Some(left) = self.open.remove(&key) else { return };
        if right - left <= NARROW {
            return;
        }
        let (upper, lower, covers) = key;
        let ends = |i: usize| [self.edges[i].at(left), self.edges[i].at(right)];
        let (upper, lower) = (ends(upper), ends(lower));
        self.strips.push(Strip { sides: [left, right], upper, lower, covers });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(list: &[(f64, f64)]) -> Vec<SurfacePoint> {
        list.iter()
            .map(|(around, along_mm)| SurfacePoint { around: *around, along_mm: *along_mm })
            .collect()
    }

    fn area(strips: &[Strip]) -> f64 {
        let of = |s: &Strip| {
            (s.sides[1] - s.sides[0]) * (s.lower[0] - s.upper[0] + s.lower[1] - s.upper[1]) / 2.0
        };
        strips.iter().map(of).sum()
    }

    #[test]
    fn a_square_with_a_round_hole_keeps_its_area() {
        let square = points(&[(-2.0, 0.0), (2.0, 0.0), (2.0, 4.0), (-2.0, 4.0)]);
        let hole: Vec<(f64, f64)> = (0..200)
            .map(|i| {
                let a = f64::from(i) / 200.0 * std::f64::consts::TAU;
                (libm::cos(a), 2.0 + libm::sin(a))
            })
            .collect();
        let cut = strips(&[square, points(&hole)], &[], &[-1.5, -0.3, 0.2, 1.9]);
        // Area of a regular polygon of 200 corners: n/2 sin(2 pi/n) (geometry).
        let polygon = 100.0 * libm::sin(std::f64::consts::TAU / 200.0);
        assert!((area(&cut) - (16.0 - polygon)).abs() < 1e-9, "{}", area(&cut));
    }

    #[test]
    fn what_is_covered_is_split_exactly_along_the_cover_s_edge() {
        let square = points(&[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]);
        let triangle = points(&[(-1.0, 5.0), (2.0, -1.0), (5.0, 5.0)]);
        let cut = strips(&[square], &[&[triangle]], &[]);
        let covered: Vec<Strip> = cut.iter().filter(|s| s.covers == 1).copied().collect();
        // The triangle's sides have slope 2 and enter the square at (1.5, 0), (2.5, 0) and leave it
        // at (0, 3), (4, 3): 16 less two corner triangles of 1.5 by 3.
        assert!((area(&cut) - 16.0).abs() < 1e-9);
        assert!(
            (area(&covered) - (16.0 - 2.0 * 1.5 * 3.0 / 2.0)).abs() < 1e-9,
            "{}",
            area(&covered)
        );
    }

    #[test]
    fn strips_meet_every_cut_and_never_turn_over() {
        let saw: Vec<(f64, f64)> =
            (0..=60).map(|i| (f64::from(i) * 0.1, f64::from(i % 2) * 3.0)).collect();
        let mut outline = saw.clone();
        outline.extend([(6.0, 9.0), (0.0, 9.0)]);
        let cuts: Vec<f64> = (0..=20).map(|i| f64::from(i) * 0.31).collect();
        for s in strips(&[points(&outline)], &[], &cuts) {
            assert!(s.sides[1] > s.sides[0]);
            assert!(s.upper[0] <= s.lower[0] && s.upper[1] <= s.lower[1]);
            assert!(!cuts.iter().any(|c| *c > s.sides[0] + 1e-9 && *c < s.sides[1] - 1e-9));
        }
    }

    #[test]
    fn an_area_covered_by_itself_has_no_slivers() {
        let wave: Vec<(f64, f64)> =
            (0..100).map(|i| (f64::from(i) * 0.06, libm::sin(f64::from(i) * 0.4))).collect();
        let mut outline = wave;
        outline.extend([(6.0, 9.0), (0.0, 9.0)]);
        let outline = [points(&outline)];
        assert!(strips(&outline, &[&outline], &[]).iter().all(|s| s.covers == 1));
    }
}

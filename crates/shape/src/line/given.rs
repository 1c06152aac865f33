//! Lines that a drawing gives itself: split where they cross, touch or bend.

use super::network::length_mm;
use glam::DVec2;
use std::collections::BTreeMap;

/// Lines that turn by more than this have a corner: the cosine of 35 degrees.
const CORNER: f64 = 0.819_152_044_288_991_8;
/// Places nearer than this, mm, are one: less than anyone can set by hand.
const SAME_MM: f64 = 0.05;
/// Pieces of one line that lie no farther apart along it, mm, do not cross.
const BESIDE_MM: f64 = 0.5;

/// The same lines in pieces that meet only at their ends, which those that meet share exactly. A line that
/// is closed repeats its first place at the end.
pub(super) fn split(lines: &[Vec<DVec2>]) -> Vec<Vec<DVec2>> {
    let lines: Vec<Vec<DVec2>> = lines.iter().map(|line| without_repeats(line)).collect();
    // Of every line the places at which it is cut, as the piece and the share of it.
    let mut cuts: Vec<Vec<(usize, f64)>> = lines.iter().map(|line| corners(line)).collect();
    let begins: Vec<Vec<f64>> = lines.iter().map(|line| begins(line)).collect();
    let mut sides: Vec<(usize, usize, DVec2, DVec2)> = Vec::new();
    for (number, line) in lines.iter().enumerate() {
        let own = line.windows(2).enumerate();
        sides.extend(own.map(|(piece, ends)| (number, piece, ends[0], ends[1])));
    }
    sides.sort_by(|a, b| a.2.x.min(a.3.x).total_cmp(&b.2.x.min(b.3.x)));
    for (index, (of, piece, a, b)) in sides.iter().enumerate() {
        let right = a.x.max(b.x) + SAME_MM;
        for (other, their, c, d) in
            sides[index + 1..].iter().take_while(|side| side.2.x.min(side.3.x) <= right)
        {
            let beside = of == other && beside(*piece, *their, &begins[*of], closed(&lines[*of]));
            if a.y.max(b.y) + SAME_MM < c.y.min(d.y) || c.y.max(d.y) + SAME_MM < a.y.min(b.y) {
                continue;
            }
            if let Some((share, theirs)) = crossing([*a, *b], [*c, *d]).filter(|_| !beside) {
                cuts[*of].push((*piece, share));
                cuts[*other].push((*their, theirs));
            }
        }
    }
    let mut shared = Shared::default();
    lines.iter().zip(&mut cuts).flat_map(|(line, cuts)| pieces(line, cuts, &mut shared)).collect()
}

fn without_repeats(line: &[DVec2]) -> Vec<DVec2> {
    let mut line = line.to_vec();
    line.dedup_by(|b, a| b.distance(*a) < 1e-9);
    line
}

fn closed(line: &[DVec2]) -> bool {
    line.len() > 2 && line.first() == line.last()
}

/// How far along a line each of its places lies, mm.
fn begins(line: &[DVec2]) -> Vec<f64> {
    let mut far_mm = 0.0;
    let steps = line.windows(2).map(|w| {
        far_mm += w[0].distance(w[1]);
        far_mm
    });
    [0.0].into_iter().chain(steps).collect()
}

/// Whether two pieces of a line lie beside each other along it.
fn beside(one: usize, other: usize, begins: &[f64], closed: bool) -> bool {
    let (first, second) = (one.min(other), one.max(other));
    let whole_mm = begins[begins.len() - 1];
    let over_end_mm = whole_mm - begins[second + 1] + begins[first];
    second <= first + 1
        || begins[second] - begins[first + 1] < BESIDE_MM
        || (closed && over_end_mm < BESIDE_MM)
}

/// Where a line turns sharply: a closed one perhaps at its first place.
fn corners(line: &[DVec2]) -> Vec<(usize, f64)> {
    let turns = |a: DVec2, b: DVec2, c: DVec2| {
        (b - a).normalize_or_zero().dot((c - b).normalize_or_zero()) < CORNER
    };
    let inner = (1..line.len().saturating_sub(1))
        .filter(|at| turns(line[at - 1], line[*at], line[at + 1]))
        .map(|at| (at, 0.0));
    let count = line.len();
    let first = (closed(line) && turns(line[count - 2], line[0], line[1])).then_some((0, 0.0));
    first.into_iter().chain(inner).collect()
}

/// Where two straight pieces cross, or where an end of one lies on the other: shares of both.
fn crossing([a, b]: [DVec2; 2], [c, d]: [DVec2; 2]) -> Option<(f64, f64)> {
    let (u, v) = (b - a, d - c);
    let cross = u.perp_dot(v);
    if cross.abs() > 1e-9 * u.length() * v.length() {
        let (share, theirs) = ((c - a).perp_dot(v) / cross, (c - a).perp_dot(u) / cross);
        let (slack, their_slack) = (SAME_MM / u.length(), SAME_MM / v.length());
        if (-slack..=1.0 + slack).contains(&share)
            && (-their_slack..=1.0 + their_slack).contains(&theirs)
        {
            return Some((share.clamp(0.0, 1.0), theirs.clamp(0.0, 1.0)));
        }
        return None;
    }
    // Side by side they meet where an end of one is an end of the other.
    let ends = [(0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)];
    ends.into_iter().find(|(one, other)| a.lerp(b, *one).distance(c.lerp(d, *other)) < SAME_MM)
}

/// The ends of all pieces so far, by cells as wide as what counts as one place.
#[derive(Default)]
struct Shared {
    ends: Vec<DVec2>,
    cells: BTreeMap<(i64, i64), Vec<usize>>,
}

impl Shared {
    /// The first end that is one with a place; where there is none, the place itself from now on.
    fn end(&mut self, at: DVec2) -> DVec2 {
        let (x, y) = ((at.x / SAME_MM).floor() as i64, (at.y / SAME_MM).floor() as i64);
        let about = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y)));
        let near = about.filter_map(|cell| self.cells.get(&cell)).flatten().copied();
        let first = near.filter(|end| self.ends[*end].distance(at) < SAME_MM).min();
        if let Some(first) = first {
            return self.ends[first];
        }
        self.cells.entry((x, y)).or_default().push(self.ends.len());
        self.ends.push(at);
        at
    }
}

/// A line cut at places; `shared` are the ends of all pieces so far.
fn pieces(line: &[DVec2], cuts: &mut Vec<(usize, f64)>, shared: &mut Shared) -> Vec<Vec<DVec2>> {
    let Some(last) = line.len().checked_sub(2) else { return vec![line.to_vec()] };
    if closed(line) && cuts.is_empty() {
        return vec![line.to_vec()];
    }
    if !closed(line) {
        cuts.extend([(0, 0.0), (last, 1.0)]);
    }
    cuts.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let place = |(piece, share): (usize, f64)| line[piece].lerp(line[piece + 1], share);
    let mut out = Vec::new();
    let mut add = |from: (usize, f64), inner: Vec<DVec2>, to: (usize, f64)| {
        let (from, to) = (shared.end(place(from)), shared.end(place(to)));
        let inner =
            inner.into_iter().filter(|at| at.distance(from) > 1e-9 && at.distance(to) > 1e-9);
        let piece: Vec<DVec2> = [from].into_iter().chain(inner).chain([to]).collect();
        if length_mm(&piece) > SAME_MM {
            out.push(piece);
        }
    };
    for pair in cuts.windows(2) {
        let inner = line[pair[0].0 + 1..=pair[1].0].to_vec();
        add(pair[0], inner, pair[1]);
    }
    if let (true, Some(first), Some(end)) = (closed(line), cuts.first(), cuts.last()) {
        let inner = line[end.0 + 1..].iter().chain(&line[1..=first.0]).copied().collect();
        add(*end, inner, *first);
    }
    out
}

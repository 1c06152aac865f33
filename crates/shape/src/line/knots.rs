//! Junctions and corners of middle lines, cleaned: strokes run on straight to where they meet.
//!
//! Near a junction the axis bends towards the corners between the strokes. It is cut there, and what is
//! left of every stroke goes on in its own direction to the place that is nearest to all of them.

use super::join::joined;
use super::network::{Chain, Knot, Network, length_mm};
use super::outline::Outline;
use super::stub::{Stub, stub};
use glam::{DMat2, DVec2};
use std::collections::BTreeMap;

/// Strokes are cut so far from the middle of a junction, as a share of its radius: a corner between two
/// strokes bears on the axis no farther away than that.
const CUT: f64 = 1.05;
/// How long a stretch beyond tells the direction of a stroke, as a share of the radius.
const AIM: f64 = 0.6;
/// A branch no longer than this share of the radius of the junction it leaves is a corner of the outline.
const SPUR: f64 = 1.0;
/// One of three branches that is no longer than this share and ends so much narrower is a serif; the
/// middle bar of a slab E is longer.
const SERIF: f64 = 2.2;
const NARROW: f64 = 0.65;
/// A stroke that has no room for a second stone, as a share of a stone and its gap, is left out, and
/// junctions so near together are one.
const NO_ROOM: f64 = 0.9;
const ONE: f64 = 0.6;
/// Two strokes that meet and turn by more than this make a corner: the cosine of 40 degrees.
const CORNER: f64 = 0.766_044_443_118_978;
/// Strokes whose directions differ by less than this do not tell where they meet: the square of the
/// sine of 13 degrees, and a share of it for each stroke more.
const TELLS: f64 = 0.05;
/// Farthest that a junction is moved, as a share of its radius.
const FARTHEST: f64 = 1.3;
/// What must be left about a moved junction, as a share of half the width of the strokes.
const WITHIN: f64 = 0.85;

/// The lines of a network for stones that take `pitch_mm`, each from knot to knot; a dot is one place. Lines
/// that meet share their ends exactly.
pub(super) fn lines(mut network: Network, pitch_mm: f64, outline: &Outline) -> Vec<Vec<DVec2>> {
    merge(&mut network, pitch_mm);
    drop_spurs(&mut network, pitch_mm);
    let meeting = network.meeting();
    let mut lines: Vec<(Vec<DVec2>, [Option<usize>; 2])> = Vec::new();
    let cuts: Vec<[Option<usize>; 2]> =
        network.chains.iter().map(|chain| cuts(chain, &network.knots, &meeting)).collect();
    let settled: Vec<Settled> = (0..network.knots.len())
        .map(|knot| settled(&network, knot, &meeting, &cuts, outline))
        .collect();
    for (chain, cuts) in network.chains.iter().zip(&cuts) {
        let ends = chain.ends.map(|knot| settled[knot].at);
        let mut line = vec![ends[0]];
        if let [Some(from), Some(to)] = *cuts {
            line.extend(&chain.places[from..=to]);
        }
        line.push(ends[1]);
        let smooth = chain.ends.map(|knot| settled[knot].smooth.then_some(knot));
        lines.push((line, smooth));
    }
    lines.retain(|(line, _)| length_mm(line) > 0.0);
    let mut out = joined(lines);
    out.extend(network.rings);
    let alone = meeting.iter().zip(&settled).filter(|(ends, _)| ends.is_empty());
    // Knots that were merged or dropped have no place.
    out.extend(alone.map(|(_, dot)| vec![dot.at]).filter(|dot| dot[0].is_finite()));
    // Zeros differ in sign.
    let key = |at: &DVec2| ((at.x + 0.0).to_bits(), (at.y + 0.0).to_bits());
    let mut knots: BTreeMap<(u64, u64), usize> = BTreeMap::new();
    for (knot, one) in settled.iter().enumerate() {
        knots.entry(key(&one.at)).or_insert(knot);
    }
    let free = |place: Option<&DVec2>| {
        let knot = place.and_then(|place| knots.get(&key(place)));
        knot.is_some_and(|knot| meeting[*knot].len() == 1)
    };
    for line in &mut out {
        if length_mm(line) < pitch_mm && free(line.first()) && free(line.last()) {
            *line = vec![halfway(line)];
        }
    }
    out
}

/// The place in the middle of a line.
fn halfway(line: &[DVec2]) -> DVec2 {
    let mut left_mm = 0.5 * length_mm(line);
    for pair in line.windows(2) {
        let piece_mm = pair[0].distance(pair[1]);
        if piece_mm >= left_mm {
            return pair[0].lerp(pair[1], left_mm / piece_mm.max(f64::MIN_POSITIVE));
        }
        left_mm -= piece_mm;
    }
    line[0]
}

/// Makes one of junctions that lie within each other's circles or leave no room for stones between them.
fn merge(network: &mut Network, pitch_mm: f64) {
    loop {
        let counts: Vec<usize> = network.meeting().iter().map(Vec::len).collect();
        let found = network.chains.iter().position(|chain| {
            let [a, b] = chain.ends;
            let radius_mm = network.knots[a].radius_mm.max(network.knots[b].radius_mm);
            let near_mm = radius_mm.max(ONE * pitch_mm);
            a != b && counts[a] > 1 && counts[b] > 1 && chain.length_mm() < near_mm
        });
        let Some(found) = found else { return };
        let chain = network.chains.remove(found);
        let [a, b] = chain.ends;
        let (one, other) = (network.knots[a], network.knots[b]);
        let at = 0.5 * (one.at + other.at);
        let radius_mm = one.radius_mm.max(other.radius_mm) + 0.5 * one.at.distance(other.at);
        let stroke_mm = one.stroke_mm.max(other.stroke_mm);
        network.knots[a] = Knot { at, radius_mm, stroke_mm };
        for end in network.chains.iter_mut().flat_map(|chain| &mut chain.ends) {
            if *end == b {
                *end = a;
            }
        }
        // Its number stays, with nothing that meets there.
        network.knots[b] = Knot { at: DVec2::NAN, radius_mm: 0.0, stroke_mm: 0.0 };
    }
}

/// Takes away branches that are corners of the outline or serifs, or have no room for a stone, and moves
/// the ends of short strokes to where there is. Gives the strokes whose ends went.
fn drop_spurs(network: &mut Network, pitch_mm: f64) -> Vec<Stub> {
    let meeting = network.meeting();
    let mut stubs: Vec<(usize, Stub)> = Vec::new();
    let is_spur = |chain: &Chain| {
        let [a, b] = chain.ends;
        let branch = match (meeting[a].len(), meeting[b].len()) {
            (1, more) if more > 2 => Some((b, a)),
            (more, 1) if more > 2 => Some((a, b)),
            _ => None,
        };
        branch.is_some_and(|(knot, tip)| {
            let radius_mm = network.knots[knot].stroke_mm;
            let narrow = network.knots[tip].radius_mm < NARROW * radius_mm;
            let least = if narrow && meeting[knot].len() == 3 { SERIF } else { SPUR };
            let short = chain.length_mm() < (least * radius_mm).max(NO_ROOM * pitch_mm);
            let Some(found) = stub(network, chain, (knot, tip), pitch_mm).filter(|_| short) else {
                return short;
            };
            let goes = found.at.is_none();
            stubs.push((tip, found));
            goes
        })
    };
    let spurs: Vec<bool> = network.chains.iter().map(is_spur).collect();
    for (chain, _) in network.chains.iter().zip(&spurs).filter(|(_, spur)| **spur) {
        for knot in chain.ends {
            if meeting[knot].len() == 1 {
                network.knots[knot].at = DVec2::NAN;
            }
        }
    }
    let mut keep = spurs.iter().map(|spur| !spur);
    network.chains.retain(|_| keep.next().unwrap_or(true));
    for (tip, stub) in &stubs {
        if let Some(at) = stub.at {
            network.knots[*tip].at = at;
        }
    }
    stubs.into_iter().map(|(_, stub)| stub).filter(|stub| stub.at.is_none()).collect()
}

/// The ends of strokes that have no room for a stone of their own: where, and how many times as large the
/// art must be for it.
pub(super) fn cut_short(mut network: Network, pitch_mm: f64) -> Vec<(DVec2, f64)> {
    merge(&mut network, pitch_mm);
    drop_spurs(&mut network, pitch_mm).into_iter().map(|stub| (stub.tip, stub.times)).collect()
}

/// Where a chain leaves the circles of its knots; `None` where it never does.
fn cuts(chain: &Chain, knots: &[Knot], meeting: &[Vec<(usize, usize)>]) -> [Option<usize>; 2] {
    let last = chain.places.len() - 1;
    let outside = |end: usize, index: usize| {
        let knot = &knots[chain.ends[end]];
        let reach_mm = if meeting[chain.ends[end]].len() > 1 { CUT * knot.radius_mm } else { 0.0 };
        chain.places[index].distance(knot.at) >= reach_mm
    };
    let from = (0..=last).find(|index| outside(0, *index));
    let to = (0..=last).rev().find(|index| outside(1, *index));
    match (from, to) {
        (Some(from), Some(to)) if from < to => [Some(from), Some(to)],
        _ => [None, None],
    }
}

/// A knot in its place.
struct Settled {
    at: DVec2,
    /// Two strokes go on into each other here, so that there is no corner.
    smooth: bool,
}

fn settled(
    network: &Network,
    knot: usize,
    meeting: &[Vec<(usize, usize)>],
    cuts: &[[Option<usize>; 2]],
    outline: &Outline,
) -> Settled {
    let ends = &meeting[knot];
    let Knot { at, radius_mm, .. } = network.knots[knot];
    if ends.len() < 2 {
        return Settled { at, smooth: false };
    }
    // A stroke that ends so near has no direction of its own.
    let at_end = |(chain, end): &(usize, usize)| {
        let chain = &network.chains[*chain];
        meeting[chain.ends[1 - end]].len() == 1 && chain.length_mm() < SPUR * radius_mm
    };
    if ends.len() == 2 && ends.iter().any(at_end) {
        return Settled { at, smooth: true };
    }
    let rays: Vec<(DVec2, DVec2)> =
        ends.iter().map(|(chain, end)| ray(network, *chain, *end, cuts[*chain], knot)).collect();
    if let [(_, one), (_, other)] = rays[..]
        && -one.dot(other) > CORNER
    {
        let middle = 0.5 * (rays[0].0 + rays[1].0);
        return Settled { at: meeting_place(&rays).unwrap_or(middle), smooth: true };
    }
    let Some(meet) = meeting_place(&rays) else { return Settled { at, smooth: false } };
    let way = (meet - at).clamp_length_max(FARTHEST * radius_mm);
    let stroke_mm =
        ends.iter().map(|(chain, end)| half_width(network, *chain, *end, outline, radius_mm));
    let room_mm = WITHIN * stroke_mm.fold(radius_mm, f64::min);
    let steps = (0..=10).rev().map(|step| at + way * (f64::from(step) / 10.0));
    let fits = steps.into_iter().find(|place| outline.holds_disc(*place, room_mm));
    Settled { at: fits.unwrap_or(at), smooth: false }
}

/// Where a stroke leaves a junction and its direction away from there.
fn ray(
    network: &Network,
    chain: usize,
    end: usize,
    cuts: [Option<usize>; 2],
    knot: usize,
) -> (DVec2, DVec2) {
    let places = &network.chains[chain].places;
    let Knot { at, radius_mm, .. } = network.knots[knot];
    let [Some(from), Some(to)] = cuts else {
        let other = network.knots[network.chains[chain].ends[1 - end]].at;
        let far = if other.distance(at) > 1e-9 { other } else { places[places.len() / 2] };
        return (at, (far - at).normalize_or_zero());
    };
    let mut inner: Vec<DVec2> = places[from..=to].to_vec();
    if end == 1 {
        inner.reverse();
    }
    let begin = inner[0];
    let far = inner.iter().find(|place| place.distance(begin) >= AIM * radius_mm);
    let far = far.or(inner.last()).copied().unwrap_or(begin);
    (begin, (far - begin).normalize_or_zero())
}

/// Half the width of a stroke in its middle, mm, at most that of its junction.
fn half_width(network: &Network, chain: usize, end: usize, outline: &Outline, most_mm: f64) -> f64 {
    let places = &network.chains[chain].places;
    let middle = places[if end == 0 { places.len() / 2 } else { (places.len() - 1) / 2 }];
    let (mut low, mut high) = (0.0, most_mm);
    for _ in 0..12 {
        let half = 0.5 * (low + high);
        if outline.holds_disc(middle, half) { low = half } else { high = half }
    }
    low
}

/// The place nearest to all lines (least squares); `None` where their directions do not tell.
fn meeting_place(rays: &[(DVec2, DVec2)]) -> Option<DVec2> {
    let (mut squares, mut sums) = (DMat2::ZERO, DVec2::ZERO);
    for (from, way) in rays {
        let across = way.perp();
        let outer = DMat2::from_cols(across * across.x, across * across.y);
        squares += outer;
        sums += outer * *from;
    }
    (squares.determinant() > TELLS * rays.len() as f64 / 2.0).then(|| squares.inverse() * sums)
}

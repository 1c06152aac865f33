//! Whether stones along lines keep what the lines enclose open, so that letters can be read.

use super::network::length_mm;
use glam::DVec2;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

/// Places are looked at so often for each stone and its gap.
const OFTEN: f64 = 8.0;
/// Two places of a line nearer than a stone and its gap are neighbours if the way along the lines is no
/// longer than this many: half round a bend in which both sides just touch it is π/2.
const ROUND: f64 = 1.65;
/// A closed line is open in its middle if it is at least so long, in stones: a ring whose sides lie one
/// apart, π, less what sampling takes.
const LEAST_RING: f64 = 3.1;

/// A place where stones that take `pitch_mm` along lines close what should stay open: two strokes nearer
/// than a stone and its gap, or a ring with nothing in it.
pub(super) fn crowded(lines: &[Vec<DVec2>], pitch_mm: f64) -> Option<DVec2> {
    let net = Net::new(lines, pitch_mm / OFTEN);
    net.close_ring(pitch_mm).or_else(|| net.close_strokes(pitch_mm))
}

/// Lines as places with the ways between them.
struct Net {
    at: Vec<DVec2>,
    ways: Vec<Vec<(usize, f64)>>,
    /// Of every place the line it lies on and how far along it from its ends; a knot lies on none.
    on: Vec<Option<(usize, [f64; 2])>>,
    /// Of every line the places along it.
    lines: Vec<Vec<usize>>,
}

impl Net {
    fn new(lines: &[Vec<DVec2>], step_mm: f64) -> Self {
        let mut out = Self { at: Vec::new(), ways: Vec::new(), on: Vec::new(), lines: Vec::new() };
        let mut ends: BTreeMap<(u64, u64), usize> = BTreeMap::new();
        for (index, line) in lines.iter().enumerate() {
            let places = in_steps(line, step_mm);
            let whole_mm = length_mm(&places);
            let (last, mut far_mm) = (places.len() - 1, 0.0);
            let mut own: Vec<usize> = Vec::with_capacity(places.len());
            for (order, place) in places.iter().enumerate() {
                let new = out.at.len();
                let number = if order == 0 || order == last {
                    *ends.entry((place.x.to_bits(), place.y.to_bits())).or_insert(new)
                } else {
                    new
                };
                let step_mm = if order == 0 { 0.0 } else { place.distance(places[order - 1]) };
                far_mm += step_mm;
                if number == new {
                    let knot = order == 0 || order == last;
                    out.at.push(*place);
                    out.ways.push(Vec::new());
                    out.on.push((!knot).then_some((index, [far_mm, whole_mm - far_mm])));
                }
                if let Some(before) = own.last().copied().filter(|before| *before != number) {
                    out.ways[number].push((before, step_mm));
                    out.ways[before].push((number, step_mm));
                }
                own.push(number);
            }
            out.lines.push(own);
        }
        out
    }

    /// Lengths of the shortest ways from a place to those no farther than `most_mm`, without passing from
    /// one place straight to another.
    fn ways_from(
        &self,
        from: usize,
        most_mm: f64,
        but: Option<(usize, usize)>,
    ) -> BTreeMap<usize, f64> {
        let mut found = BTreeMap::new();
        // Lengths are positive, so their bits are in the order of their values.
        let mut heap = BinaryHeap::from([Reverse((0.0_f64.to_bits(), from))]);
        while let Some(Reverse((bits, here))) = heap.pop() {
            if found.contains_key(&here) {
                continue;
            }
            let far_mm = f64::from_bits(bits);
            found.insert(here, far_mm);
            for (next, way_mm) in &self.ways[here] {
                let barred = but == Some((here, *next)) || but == Some((*next, here));
                if !barred && far_mm + way_mm <= most_mm && !found.contains_key(next) {
                    heap.push(Reverse(((far_mm + way_mm).to_bits(), *next)));
                }
            }
        }
        found
    }

    /// A ring, or a ring of several lines, that is too short to be open.
    fn close_ring(&self, pitch_mm: f64) -> Option<DVec2> {
        let least_mm = LEAST_RING * pitch_mm;
        self.lines.iter().filter(|line| line.len() > 1).find_map(|line| {
            let (begin, next) = (line[0], line[1]);
            let way_mm = self.at[begin].distance(self.at[next]);
            // A ring leaves its beginning one way and comes back another.
            let round = self.ways_from(begin, least_mm, Some((begin, next)));
            let back = round.get(&next).is_some_and(|far_mm| far_mm + way_mm < least_mm);
            back.then_some(self.at[next])
        })
    }

    /// Two strokes that come too near to each other.
    fn close_strokes(&self, pitch_mm: f64) -> Option<DVec2> {
        let cell = |at: DVec2| ((at.x / pitch_mm).floor() as i64, (at.y / pitch_mm).floor() as i64);
        let mut cells: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
        for (number, at) in self.at.iter().enumerate() {
            cells.entry(cell(*at)).or_default().push(number);
        }
        let parting = self.parting(pitch_mm);
        let near_mm = pitch_mm * (1.0 - 1e-6);
        (0..self.at.len()).find_map(|one| {
            let (x, y) = cell(self.at[one]);
            let around = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y)));
            let others = around.flat_map(|key| cells.get(&key).into_iter().flatten().copied());
            let near: Vec<usize> = others
                .filter(|other| *other > one && self.at[*other].distance(self.at[one]) < near_mm)
                .filter(|other| !self.part(one, *other, &parting, pitch_mm))
                .collect();
            if near.is_empty() {
                return None;
            }
            let beside = self.ways_from(one, ROUND * pitch_mm, None);
            let close = near.into_iter().find(|other| !beside.contains_key(other));
            close.map(|other| 0.5 * (self.at[one] + self.at[other]))
        })
    }

    /// Whether two places lie on lines that have not parted yet since they met.
    fn part(&self, one: usize, other: usize, parting: &Parting, pitch_mm: f64) -> bool {
        let (Some((a, from_a)), Some((b, from_b))) = (self.on[one], self.on[other]) else {
            return false;
        };
        [(0, 0), (0, 1), (1, 0), (1, 1)].into_iter().any(|(end, other_end)| {
            parting.get(&((a, end), (b, other_end))).is_some_and(|far_mm| {
                from_a[end].max(from_b[other_end]) <= far_mm + 0.25 * pitch_mm
            })
        })
    }

    /// To two ends of lines that meet how far they go until they are a stone and its gap apart; nothing
    /// where they never are.
    fn parting(&self, pitch_mm: f64) -> Parting {
        let mut meeting: BTreeMap<usize, Vec<(usize, usize)>> = BTreeMap::new();
        for (index, line) in self.lines.iter().enumerate().filter(|(_, line)| line.len() > 1) {
            meeting.entry(line[0]).or_default().push((index, 0));
            meeting.entry(line[line.len() - 1]).or_default().push((index, 1));
        }
        let along = |(line, end): (usize, usize)| -> Vec<usize> {
            let line = &self.lines[line];
            if end == 0 { line.clone() } else { line.iter().rev().copied().collect() }
        };
        let mut out = Parting::new();
        for ends in meeting.values() {
            for one in ends {
                for other in ends.iter().filter(|other| *other != one) {
                    let (a, b) = (along(*one), along(*other));
                    // Steps along both are about as long.
                    let apart = a
                        .iter()
                        .zip(&b)
                        .position(|(a, b)| self.at[*a].distance(self.at[*b]) >= pitch_mm);
                    let far_mm = |steps: usize| {
                        a[..=steps]
                            .windows(2)
                            .map(|w| self.at[w[0]].distance(self.at[w[1]]))
                            .sum::<f64>()
                    };
                    if let Some(steps) = apart {
                        out.insert((*one, *other), far_mm(steps));
                    }
                }
            }
        }
        out
    }
}

/// To two ends of lines, each a line and which of its ends, a length, mm.
type Parting = BTreeMap<((usize, usize), (usize, usize)), f64>;

/// The places of a line in even steps of at most so much along it; a dot is one place.
fn in_steps(line: &[DVec2], step_mm: f64) -> Vec<DVec2> {
    let whole_mm = length_mm(line);
    let steps = (whole_mm / step_mm).ceil().clamp(1.0, 1.0e6);
    let mut places = vec![line[0]];
    let (mut begun_mm, mut next) = (0.0, 1.0);
    for pair in line.windows(2) {
        let piece_mm = pair[0].distance(pair[1]);
        while next < steps && begun_mm + piece_mm >= next * whole_mm / steps {
            let share = (next * whole_mm / steps - begun_mm) / piece_mm.max(f64::MIN_POSITIVE);
            places.push(pair[0].lerp(pair[1], share.clamp(0.0, 1.0)));
            next += 1.0;
        }
        begun_mm += piece_mm;
    }
    if line.len() > 1 {
        places.push(line[line.len() - 1]);
    }
    places
}

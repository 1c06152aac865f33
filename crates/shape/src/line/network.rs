//! Middle lines as a network: knots, and the chains between them.

use super::axis::Spot;
use glam::DVec2;

/// A corner that reaches so far beyond the circle about the axis, as a share of its radius, may bend the
/// axis: one of 90 degrees reaches 0.41 beyond, one of 140 degrees 0.06.
const BENDS: f64 = 0.07;

/// An end, a junction, a place that may be a corner, or a dot.
#[derive(Debug, Clone, Copy)]
pub(super) struct Knot {
    pub(super) at: DVec2,
    /// Of the circle about it that touches the outline, mm.
    pub(super) radius_mm: f64,
    /// The same of the widest stroke that meets there, mm: less where several junctions became one.
    pub(super) stroke_mm: f64,
}

/// A stretch of the axis between two knots.
#[derive(Debug, Clone)]
pub(super) struct Chain {
    /// Its knots.
    pub(super) ends: [usize; 2],
    /// From the one to the other.
    pub(super) places: Vec<DVec2>,
}

impl Chain {
    pub(super) fn length_mm(&self) -> f64 {
        length_mm(&self.places)
    }
}

pub(super) fn length_mm(line: &[DVec2]) -> f64 {
    line.windows(2).map(|w| w[0].distance(w[1])).sum()
}

/// The axis of a shape in its parts.
#[derive(Debug, Clone, Default)]
pub(super) struct Network {
    pub(super) knots: Vec<Knot>,
    pub(super) chains: Vec<Chain>,
    /// Closed lines without a knot, their first place repeated at the end.
    pub(super) rings: Vec<Vec<DVec2>>,
}

impl Network {
    /// What the spots of an axis make.
    pub(super) fn new(spots: &[Spot]) -> Self {
        let knotted = |spot: &Spot| spot.beside.len() != 2 || spot.lost_mm > BENDS * spot.radius_mm;
        let mut numbers = vec![None; spots.len()];
        let mut out = Self::default();
        for (index, spot) in spots.iter().enumerate().filter(|(_, spot)| spot.kept) {
            if knotted(spot) {
                numbers[index] = Some(out.knots.len());
                out.knots.push(Knot {
                    at: spot.at,
                    radius_mm: spot.radius_mm,
                    stroke_mm: spot.radius_mm,
                });
            }
        }
        let mut passed = vec![false; spots.len()];
        for start in (0..spots.len()).filter(|index| numbers[*index].is_some()) {
            for (next, _) in &spots[start].beside {
                // Between two knots side by side one goes from the first.
                let taken = if numbers[*next].is_some() { *next < start } else { passed[*next] };
                if !taken {
                    let way = way(spots, start, *next, &numbers, &mut passed);
                    let end = way.last().copied().and_then(|last| numbers[last]);
                    let (Some(from), Some(to)) = (numbers[start], end) else { continue };
                    let places = way.iter().map(|index| spots[*index].at).collect();
                    out.chains.push(Chain { ends: [from, to], places });
                }
            }
        }
        for start in 0..spots.len() {
            if spots[start].kept && numbers[start].is_none() && !passed[start] {
                passed[start] = true;
                let next = spots[start].beside[0].0;
                let way = way(spots, start, next, &numbers, &mut passed);
                out.rings.push(way.iter().chain([&start]).map(|index| spots[*index].at).collect());
            }
        }
        out
    }

    /// Of every knot the ends of chains that meet there: which chain, and which of its ends.
    pub(super) fn meeting(&self) -> Vec<Vec<(usize, usize)>> {
        let mut meeting = vec![Vec::new(); self.knots.len()];
        for (index, chain) in self.chains.iter().enumerate() {
            for end in 0..2 {
                meeting[chain.ends[end]].push((index, end));
            }
        }
        meeting
    }
}

/// From one spot over its neighbour to the next knot, or to where it was before.
fn way(
    spots: &[Spot],
    start: usize,
    next: usize,
    numbers: &[Option<usize>],
    passed: &mut [bool],
) -> Vec<usize> {
    let (mut way, mut before, mut here) = (vec![start], start, next);
    loop {
        if numbers[here].is_some() {
            way.push(here);
            return way;
        }
        if passed[here] {
            return way;
        }
        passed[here] = true;
        way.push(here);
        let on = spots[here].beside.iter().map(|(other, _)| *other).find(|other| *other != before);
        let Some(on) = on else { return way };
        (before, here) = (here, on);
    }
}

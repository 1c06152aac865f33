//! Rows that follow the zone's edge nearest to the rim (on a flat part its outline), then inward.
//!
//! The first row lies flush with the edge at even gaps. Every next row sinks into the pockets of
//! the row before. Where the line bends so that pockets crowd or part, the row grows stone by stone
//! from both sides, each touching the last and the row above, until both sides meet.

use crate::bed::Bed;
use crate::fill::Spot;
use crate::rows::first_row;
use crate::rows::sight::Sight;
use crate::space::Space;
use glam::DVec3;
use shape::SurfacePoint;
use std::collections::VecDeque;

mod aligned;
mod share_out;
mod spread;

pub use aligned::lay as lay_aligned;
pub use spread::spread;

/// A stone lies in the next pocket rather than against its neighbour if that leaves it no farther
/// off than this, in pitches.
const LOCKS: f64 = 1.16;
/// Stones of the row above that the end of a row may roll on at once.
const LOOK_AHEAD: usize = 3;

/// A place of a row while it is traced.
#[derive(Debug, Clone, Copy)]
pub struct InRow {
    /// Its line of sight.
    pub across: f64,
    /// How deep on that line, mm.
    pub deep_mm: f64,
    /// In space, mm.
    pub centre_mm: DVec3,
}

/// Lays rows of one size from the edge inward until nothing more of a row fits, while it is `going`.
pub fn lay(bed: &mut Bed<'_>, diameter_mm: f64, going: &mut dyn FnMut(&Bed<'_>) -> bool) {
    let sight = Sight::new(bed.ground);
    let pitch_mm = diameter_mm + bed.gap_mm;
    let mut number = 0;
    // Parts of the zone hidden behind others come to light when those in front are full.
    for _ in 0..8 {
        let stretches = first_row::stretches(bed, &sight, diameter_mm, going);
        if stretches.is_empty() {
            return;
        }
        number += 1;
        // Where each would rest by itself: its neighbours keep their distance already, and one of
        // them must not push it off the line.
        let places: Vec<SurfacePoint> = stretches
            .iter()
            .flat_map(|stretch| first_row::even(&sight, stretch, pitch_mm))
            .filter_map(|(across, deep_mm)| {
                let from = deep_mm - 0.3 * pitch_mm;
                let rest = sight.rest(bed, diameter_mm, across, from, deep_mm + 0.3 * pitch_mm)?;
                Some(sight.place(bed.ground, across, rest))
            })
            .collect();
        let mut above: Vec<usize> = places
            .into_iter()
            .filter_map(|at| bed.try_lay(Spot { at, size: 0, row: number }, diameter_mm))
            .collect();
        while !above.is_empty() {
            if !going(bed) {
                return;
            }
            number += 1;
            let mut row = Row { bed, diameter_mm, pitch_mm, number, closed: sight.closed };
            above = row.below(&above);
        }
    }
}

/// Lays one row into the pockets of a row above, which runs so that the free ground is to its right, and
/// gives its stones in the same order.
pub fn below(
    bed: &mut Bed<'_>,
    diameter_mm: f64,
    number: u32,
    above: &[usize],
    closed: bool,
) -> Vec<usize> {
    let pitch_mm = diameter_mm + bed.gap_mm;
    Row { bed, diameter_mm, pitch_mm, number, closed }.below(above)
}

struct Row<'a, 'b> {
    bed: &'a mut Bed<'b>,
    diameter_mm: f64,
    pitch_mm: f64,
    number: u32,
    closed: bool,
}

/// The pocket between one stone of the row above and the next.
#[derive(Debug, Clone, Copy)]
struct Pocket {
    at: SurfacePoint,
    centre_mm: DVec3,
}

/// Stones side by side, each within a step of the next.
struct Chain {
    stones: VecDeque<usize>,
    /// The first pocket it was begun with.
    begun: usize,
}

impl Row<'_, '_> {
    fn centre(&self, stone: usize) -> DVec3 {
        self.bed.laid[stone].frame.centre_mm
    }

    /// Lays the row below `above` and gives its stones from left to right.
    fn below(&mut self, above: &[usize]) -> Vec<usize> {
        let count = above.len();
        // The inner spot between each stone and the next, while it is free.
        let mut pockets: Vec<Option<Pocket>> = (0..count)
            .map(|i| {
                let last = i + 1 == count && !self.closed;
                if last { None } else { self.pocket(above[i], above[(i + 1) % count]) }
            })
            .collect();
        let held: Vec<usize> = (0..count).filter(|i| pockets[*i].is_some()).collect();
        let mut places = Space::new(self.pitch_mm, held.len());
        for pocket in pockets.iter().flatten() {
            places.set(pocket.centre_mm, 0.0, 0.0);
        }
        let mut near = Vec::new();
        let mut chains: Vec<Chain> = Vec::new();
        while let Some(run) = self.longest_run(above, &pockets) {
            let chain = self.grown(above, &pockets, &run);
            for stone in &chain.stones {
                places.within(self.centre(*stone), self.pitch_mm, &mut near);
                for taken in near.iter().map(|number| held[*number]) {
                    let free = |pocket: &Pocket| self.bed.takes(pocket.at, self.diameter_mm);
                    pockets[taken] = pockets[taken].filter(free);
                }
            }
            chains.push(chain);
        }
        chains.sort_by_key(|chain| chain.begun);
        chains.into_iter().flat_map(|chain| chain.stones).collect()
    }

    fn pocket(&self, a: usize, b: usize) -> Option<Pocket> {
        let at = self.bed.spots_on_two(a, b, self.diameter_mm)[1]?;
        self.bed
            .takes(at, self.diameter_mm)
            .then(|| Pocket { at, centre_mm: self.bed.ground.surface.world_from_surface(at) })
    }

    /// The most pockets side by side that neither crowd nor part; if all do, the widest pocket. Of
    /// equals the first.
    fn longest_run(&self, above: &[usize], pockets: &[Option<Pocket>]) -> Option<Vec<usize>> {
        let count = above.len();
        let apart = |i: usize, j: usize| match (pockets[i % count], pockets[j % count]) {
            (Some(a), Some(b)) if i % count != j % count => a.centre_mm.distance(b.centre_mm),
            _ => f64::INFINITY,
        };
        let roomy = |i: usize| {
            pockets[i % count].is_some()
                && apart(i + count - 1, i) >= self.pitch_mm
                && apart(i, i + 1) >= self.pitch_mm
        };
        let linked =
            |i: usize| roomy(i) && roomy(i + 1) && apart(i, i + 1) <= LOCKS * self.pitch_mm;
        if (0..count).all(linked) {
            return Some((0..count).collect());
        }
        let mut best: Option<Vec<usize>> = None;
        for start in 0..count {
            if !roomy(start) || linked(start + count - 1) {
                continue;
            }
            let length = 1 + (start..start + count).take_while(|i| linked(*i)).count();
            if best.as_ref().is_none_or(|run| length > run.len()) {
                best = Some((start..start + length).collect());
            }
        }
        if best.is_some() {
            return best;
        }
        let width = |i: usize| self.centre(above[i]).distance(self.centre(above[(i + 1) % count]));
        (0..count)
            .filter(|i| pockets[*i].is_some())
            .fold(None, |best: Option<usize>, i| match best {
                Some(widest) if width(widest) >= width(i) - 1e-6 => best,
                _ => Some(i),
            })
            .map(|i| vec![i])
    }

    /// Lays a run of pockets and grows it to both sides, by turns, until nothing fits.
    fn grown(&mut self, above: &[usize], pockets: &[Option<Pocket>], run: &[usize]) -> Chain {
        let count = above.len();
        let mut chain = Chain { stones: VecDeque::new(), begun: run[0] % count };
        for pocket in run.iter().filter_map(|i| pockets[i % count]) {
            let spot = Spot { at: pocket.at, size: 0, row: self.number };
            chain.stones.extend(self.bed.try_lay(spot, self.diameter_mm));
        }
        // The pocket that either end lies nearest to; `None` once an end is stuck.
        let mut ends = [run.last().copied(), run.first().copied()];
        while ends.iter().any(Option::is_some) {
            for (to_right, reached) in [true, false].into_iter().zip(&mut ends) {
                let end = if to_right { chain.stones.back() } else { chain.stones.front() };
                let (Some(end), Some(from)) = (end.copied(), *reached) else {
                    *reached = None;
                    continue;
                };
                let step = self.step(above, pockets, end, from % count, to_right);
                *reached = step.map(|(_, pocket)| pocket);
                let Some((at, _)) = step else { continue };
                let stone = self.bed.lay(Spot { at, size: 0, row: self.number }, self.diameter_mm);
                if to_right {
                    chain.stones.push_back(stone)
                } else {
                    chain.stones.push_front(stone)
                }
            }
        }
        chain
    }

    /// The next place beside the end of a chain, and the pocket it lies nearest to: in the pocket if
    /// it is near enough, else against the end and a stone of the row above.
    fn step(
        &self,
        above: &[usize],
        pockets: &[Option<Pocket>],
        end: usize,
        from: usize,
        to_right: bool,
    ) -> Option<(SurfacePoint, usize)> {
        let count = above.len();
        let here = self.centre(end);
        for k in 0..LOOK_AHEAD {
            let index = if to_right { from + k } else { from + LOOK_AHEAD * count - k } % count;
            if let Some(pocket) = pockets[index] {
                let away = pocket.centre_mm.distance(here);
                let near = (self.pitch_mm - 1e-9..=LOCKS * self.pitch_mm).contains(&away);
                if near && self.bed.takes(pocket.at, self.diameter_mm) {
                    return Some((pocket.at, index));
                }
            }
            if to_right && index + 1 == count && !self.closed {
                continue;
            }
            let over = above[if to_right { (index + 1) % count } else { index }];
            let rolled = self.bed.spots_on_two(over, end, self.diameter_mm);
            for at in rolled.into_iter().flatten() {
                let way = self.bed.ground.surface.world_from_surface(at) - here;
                if self.leads_on(above, index, way, to_right)
                    && self.bed.takes(at, self.diameter_mm)
                {
                    return Some((at, index));
                }
            }
        }
        None
    }

    /// Whether a direction leads on along the row above.
    fn leads_on(&self, above: &[usize], index: usize, way: DVec3, to_right: bool) -> bool {
        let next = (index + 1) % above.len();
        let run = self.centre(above[next]) - self.centre(above[index]);
        (way.dot(run) > 0.0) == to_right
    }
}

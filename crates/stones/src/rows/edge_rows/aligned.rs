//! Rows along an edge, stone under stone.
//!
//! Every row runs on a line a whole pitch inside the one before (its parallel curve), and each stone
//! lies square to the line under the one above. Where the line bends inward stones crowd until one is
//! dropped, where it bends outward they part until one more fits; gaps are shared out along the line
//! as far as stones stay under theirs.

use crate::bed::Bed;
use crate::fill::Spot;
use crate::rows::edge_rows::share_out::shared_out;
use crate::rows::first_row::{self, Stretch};
use crate::rows::sight::Sight;
use glam::DVec3;
use std::f64::consts::TAU;

/// A stone may lie so far off its line, in pitches, to keep its distance.
const GIVES: f64 = 0.3;

/// Lays rows of one size, stone under stone, from the edge inward until no more of a row fits, while it
/// is `going`.
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
        let first = number;
        for stretch in stretches {
            let mut row = first + 1;
            let places = first_row::even(&sight, &stretch, pitch_mm);
            let mut lines = Lines { sight: &sight, bed, diameter_mm, pitch_mm };
            if !lines.lay(&places, row) {
                continue;
            }
            let mut line = Line::new(stretch);
            let mut stones: Vec<f64> = places.iter().map(|place| line.way_at(place.0)).collect();
            stones.sort_by(f64::total_cmp);
            loop {
                number = number.max(row);
                if !going(lines.bed) {
                    return;
                }
                let Some(next) = lines.inside(&line) else { break };
                let feet: Vec<f64> =
                    stones.iter().map(|at| next.foot(&line, *at, pitch_mm)).collect();
                stones = shared_out(&next, feet, pitch_mm);
                row += 1;
                let places: Vec<(f64, f64)> = stones.iter().map(|at| next.place(*at)).collect();
                if !lines.lay(&places, row) {
                    break;
                }
                line = next;
            }
        }
    }
}

/// A line of centres: samples on lines of sight that are the same for all rows under one another.
pub struct Line {
    /// Lines of sight, growing.
    across: Vec<f64>,
    deep_mm: Vec<f64>,
    centre_mm: Vec<DVec3>,
    /// From the first sample along the line, mm; one more if closed.
    way_mm: Vec<f64>,
    /// Whether the first sample comes after the last.
    pub closed: bool,
}

impl Line {
    fn new(stretch: Stretch) -> Self {
        let Stretch { mut points, closed } = stretch;
        if closed {
            points.pop();
        }
        let mut turns = 0.0;
        let mut across: Vec<f64> = Vec::with_capacity(points.len());
        for point in &points {
            // Tracing may pass the back, where lines begin anew.
            if across.last().is_some_and(|last| point.across + turns < *last) {
                turns += TAU;
            }
            across.push(point.across + turns);
        }
        let deep_mm = points.iter().map(|point| point.deep_mm).collect();
        Self::through(across, deep_mm, points.iter().map(|point| point.centre_mm).collect(), closed)
    }

    fn through(across: Vec<f64>, deep_mm: Vec<f64>, centre_mm: Vec<DVec3>, closed: bool) -> Self {
        let mut way_mm = vec![0.0];
        for k in 1..centre_mm.len() + usize::from(closed) {
            let step_mm = centre_mm[k % centre_mm.len()].distance(centre_mm[k - 1]);
            way_mm.push(way_mm[k - 1] + step_mm);
        }
        Self { across, deep_mm, centre_mm, way_mm, closed }
    }

    /// Its length, mm.
    pub fn long_mm(&self) -> f64 {
        self.way_mm[self.way_mm.len() - 1]
    }

    fn count(&self) -> usize {
        self.across.len()
    }

    /// Line of sight and depth of sample `k`, counted on past the last if closed.
    fn sample(&self, k: usize) -> (f64, f64) {
        let turns = TAU * (k / self.count()) as f64;
        (self.across[k % self.count()] + turns, self.deep_mm[k % self.count()])
    }

    /// The piece between two samples that holds a place, and which part of it is before.
    fn piece(&self, way_mm: f64) -> (usize, f64) {
        let next = self.way_mm.partition_point(|way| *way <= way_mm);
        let k = next.clamp(1, (self.way_mm.len() - 1).max(1)) - 1;
        let (a, b) = (self.way_mm[k], self.way_mm[(k + 1).min(self.way_mm.len() - 1)]);
        (k, ((way_mm - a) / (b - a).max(1e-12)).clamp(0.0, 1.0))
    }

    fn within(&self, way_mm: f64) -> f64 {
        if self.closed { way_mm.rem_euclid(self.long_mm()) } else { way_mm }
    }

    /// Line of sight and depth so far along.
    fn place(&self, way_mm: f64) -> (f64, f64) {
        let (k, part) = self.piece(self.within(way_mm));
        let a = self.sample(k);
        let b = if self.closed || k + 1 < self.count() { self.sample(k + 1) } else { a };
        (a.0 + (b.0 - a.0) * part, a.1 + (b.1 - a.1) * part)
    }

    /// In space, mm.
    pub fn centre(&self, way_mm: f64) -> DVec3 {
        let (k, part) = self.piece(self.within(way_mm));
        let next = if self.closed { (k + 1) % self.count() } else { (k + 1).min(self.count() - 1) };
        self.centre_mm[k].lerp(self.centre_mm[next], part)
    }

    /// How far along it crosses a line of sight, mm.
    fn way_at(&self, across: f64) -> f64 {
        let first = self.across[0];
        let across = if self.closed { first + (across - first).rem_euclid(TAU) } else { across };
        let k = self.across.partition_point(|line| *line <= across).clamp(1, self.count()) - 1;
        let end = if self.closed || k + 1 < self.count() { self.sample(k + 1).0 } else { across };
        let part = (across - self.across[k]) / (end - self.across[k]).max(1e-12);
        let to = self.way_mm[(k + 1).min(self.way_mm.len() - 1)];
        self.way_mm[k] + part.clamp(0.0, 1.0) * (to - self.way_mm[k])
    }

    /// The place of this line nearest to a place of the line before, mm along.
    fn foot(&self, before: &Line, way_mm: f64, pitch_mm: f64) -> f64 {
        let from = before.centre(way_mm);
        let (k, _) = before.piece(before.within(way_mm));
        let mut best = (f64::INFINITY, 0.0);
        for piece in self.around(k, 1.5 * pitch_mm) {
            let next = if self.closed { (piece + 1) % self.count() } else { piece + 1 };
            if next >= self.count() {
                continue;
            }
            let (a, b) = (self.centre_mm[piece], self.centre_mm[next]);
            let part =
                ((from - a).dot(b - a) / (b - a).length_squared().max(1e-18)).clamp(0.0, 1.0);
            let away = a.lerp(b, part).distance(from);
            if away < best.0 - 1e-9 {
                let (low, high) = (self.way_mm[piece], self.way_mm[piece + 1]);
                best = (away, low + part * (high - low));
            }
        }
        best.1
    }

    /// Samples within some mm of one, by number.
    fn around(&self, k: usize, reach_mm: f64) -> Vec<usize> {
        let count = self.count();
        let mut found = vec![k];
        let near = |other: usize| self.centre_mm[other].distance(self.centre_mm[k]) < reach_mm;
        for to_right in [true, false] {
            for step in 1..count {
                let other = match (to_right, self.closed) {
                    (true, true) => (k + step) % count,
                    (false, true) => (k + count - step) % count,
                    (true, false) if k + step < count => k + step,
                    (false, false) if step <= k => k - step,
                    _ => break,
                };
                if !near(other) {
                    break;
                }
                found.push(other);
            }
        }
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// What lies on lines.
struct Lines<'a, 'b> {
    sight: &'a Sight,
    bed: &'a mut Bed<'b>,
    diameter_mm: f64,
    pitch_mm: f64,
}

impl Lines<'_, '_> {
    /// Lays a row of stones; whether any found room.
    fn lay(&mut self, places: &[(f64, f64)], row: u32) -> bool {
        let before = self.bed.laid.len();
        for &(across, deep_mm) in places {
            let (from, to) = (deep_mm - 0.01 * self.pitch_mm, deep_mm + GIVES * self.pitch_mm);
            let Some(rest) = self.sight.rest(self.bed, self.diameter_mm, across, from, to) else {
                continue;
            };
            let at = self.sight.place(self.bed.ground, across, rest);
            self.bed.try_lay(Spot { at, size: 0, row }, self.diameter_mm);
        }
        self.bed.laid.len() > before
    }

    /// The line a pitch inside another; `None` once it would close up in the middle or leave the zone.
    fn inside(&self, line: &Line) -> Option<Line> {
        let ground = self.bed.ground;
        let pitch_mm = self.pitch_mm;
        let mut deep_mm = Vec::with_capacity(line.count());
        for k in 0..line.count() {
            let across = line.across[k];
            let under = line.around(k, 1.5 * pitch_mm).into_iter().filter_map(|other| {
                let (mut from, deep_mm) = line.sample(other);
                // Past the first or the last sample of a closed line.
                from += TAU * ((across - from) / TAU).round();
                self.sight.under(ground, (from, deep_mm), across, pitch_mm)
            });
            deep_mm.push(under.fold(f64::NEG_INFINITY, f64::max));
        }
        let least = deep_mm.iter().copied().fold(f64::INFINITY, f64::min);
        let most = deep_mm.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let middle = self.sight.deep_mm.1 - pitch_mm / 2.0;
        let over = if ground.surface.period().is_some() {
            least > self.sight.deep_mm.1
        } else {
            most > middle
        };
        if over {
            return None;
        }
        let (_, foot) = ground.surface.along_range_mm();
        let centre = |(across, deep_mm): (&f64, &mut f64)| {
            if ground.surface.period().is_some() {
                *deep_mm = deep_mm.min(foot);
            }
            ground.surface.world_from_surface(self.sight.place(ground, *across, *deep_mm))
        };
        let centre_mm = line.across.iter().zip(&mut deep_mm).map(centre).collect();
        Some(Line::through(line.across.clone(), deep_mm, centre_mm, line.closed))
    }
}

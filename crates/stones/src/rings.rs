//! Level rows planned on the true surface: how many stones each holds and where it lies.
//!
//! Rows of equal count nest like a honeycomb. On a taper the count must change; where it does, two
//! rows cannot nest and lie almost a whole stone apart. Few changes waste pitch, many waste rows:
//! the plan searches for the groups of equal rows that hold the most stones.

use crate::fill::Ground;
use libm::asin;
use shape::SurfacePoint;
use std::f64::consts::{PI, TAU};

/// One level row: stones at `phase + k step` for every whole `k` (within the zone).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Distance along the wall, mm.
    pub along_mm: f64,
    /// A stone's `around`.
    pub phase: f64,
    /// From stone to stone, in `around`.
    pub step: f64,
    /// Stones from side to side.
    pub count: usize,
}

/// Plans level rows for one size between two distances along the wall.
#[derive(Debug)]
pub struct Rings<'a> {
    ground: &'a Ground<'a>,
    diameter_mm: f64,
    /// Least distance between two centres, mm.
    pitch_mm: f64,
    /// First and last `along_mm` of a row.
    along_mm: (f64, f64),
    /// Sides of rows at even steps along the wall, for the search; empty all round.
    sides: Vec<Option<(f64, f64)>>,
}

/// Width kept free where rows end flush with a side, so that a last move of the row leaves it room, mm.
const SIDE_MM: f64 = 2e-3;

/// Stones that may be lost, as a share, so that the last row ends the zone.
const WORTH_AN_END: f64 = 0.02;

/// How the rows of one group share the round.
#[derive(Debug, Clone, Copy)]
struct Share {
    count: usize,
    step: f64,
    /// `around` of a stone in even rows; odd rows are half a step on.
    phase: f64,
}

impl<'a> Rings<'a> {
    /// Rows of stones whose centres keep `pitch_mm`, the first and the last no farther out than
    /// `along_mm`.
    pub fn new(
        ground: &'a Ground<'a>,
        diameter_mm: f64,
        pitch_mm: f64,
        along_mm: (f64, f64),
    ) -> Self {
        let mut rings = Self { ground, diameter_mm, pitch_mm, along_mm, sides: Vec::new() };
        if !ground.all_round() {
            let steps = rings.side_steps();
            rings.sides = (0..=steps)
                .map(|k| along_mm.0 + (along_mm.1 - along_mm.0) * f64::from(k) / f64::from(steps))
                .map(|along_mm| rings.sides(along_mm))
                .collect();
        }
        rings
    }

    fn side_steps(&self) -> u32 {
        ((self.along_mm.1 - self.along_mm.0) / (self.diameter_mm / 3.0)).ceil().max(1.0) as u32
    }

    /// [`Rings::sides`] from the table, good enough to search with.
    fn sides_about(&self, along_mm: f64) -> Option<(f64, f64)> {
        let span = (self.along_mm.1 - self.along_mm.0).max(1e-9);
        let at = ((along_mm - self.along_mm.0) / span).clamp(0.0, 1.0)
            * f64::from(self.side_steps());
        let low = at.floor() as usize;
        let high = (low + 1).min(self.sides.len() - 1);
        let (a, b) = (self.sides[low]?, self.sides[high]?);
        let part = at - at.floor();
        Some((a.0 + (b.0 - a.0) * part, a.1 + (b.1 - a.1) * part))
    }

    /// The plan that holds the most stones, spread evenly so that the last row ends the zone.
    pub fn best(&self) -> Vec<Ring> {
        let stones = |rings: &[Ring]| {
            let changes = rings.windows(2).filter(|pair| pair[0].step != pair[1].step).count();
            // A change of count shows: it must win more than one stone.
            rings.iter().map(|ring| ring.count).sum::<usize>() as f64 - changes as f64
        };
        let mut best = Vec::new();
        let mut groups = Vec::new();
        for most_lost in 0..=16 {
            let (rings, found) = self.grouped(|spread, _| spread <= most_lost);
            if best.is_empty() || stones(&rings) > stones(&best) {
                (best, groups) = (rings, found);
            }
        }
        for most_rows in 1..=16 {
            let (rings, found) = self.grouped(|_, rows| rows <= most_rows);
            if stones(&rings) > stones(&best) {
                (best, groups) = (rings, found);
            }
        }
        // Move each border between groups by a row while that wins stones.
        let mut better = groups.len() > 1;
        while better {
            better = false;
            for border in 0..groups.len() - 1 {
                for (grows, shrinks) in [(border, border + 1), (border + 1, border)] {
                    if groups[shrinks] < 2 {
                        continue;
                    }
                    groups[grows] += 1;
                    groups[shrinks] -= 1;
                    let rings = self.with_groups(&groups);
                    if stones(&rings) > stones(&best) {
                        best = rings;
                        better = true;
                    } else {
                        groups[grows] -= 1;
                        groups[shrinks] += 1;
                    }
                }
            }
        }
        self.spread(best)
    }

    /// Least step between stones of one row.
    fn least_step(&self, along_mm: f64) -> f64 {
        if self.ground.surface.period().is_none() {
            return self.pitch_mm;
        }
        let radius_mm = self.ground.surface.around_scale_mm(along_mm);
        let sine = self.pitch_mm / (2.0 * radius_mm).max(1e-9);
        if sine >= 1.0 { TAU } else { 2.0 * asin(sine) }
    }

    /// How many stones fit side by side in a row.
    fn room(&self, along_mm: f64) -> usize {
        let step = self.least_step(along_mm);
        if self.ground.all_round() {
            ((TAU / step + 1e-9).floor() as usize).max(1)
        } else {
            let (low, high) = self.sides_about(along_mm).unwrap_or(self.ground.around);
            ((high - low) / step + 1e-9).floor().max(0.0) as usize + 1
        }
    }

    /// Least and greatest `around` of a stone's centre where the zone's outermost sides bound this
    /// row; `None` where they don't.
    fn sides(&self, along_mm: f64) -> Option<(f64, f64)> {
        let (low, high) = self.ground.around;
        let reach = 3.0 * self.diameter_mm / self.ground.surface.around_scale_mm(along_mm).max(1.0);
        let inside = |around: f64| {
            let at = SurfacePoint { around: self.ground.wrapped(around), along_mm };
            self.ground.field.clearance_mm(at) >= self.diameter_mm / 2.0
        };
        let first = |from: f64, towards: f64| {
            const LOOKS: u32 = 24;
            let step = (towards - from) / f64::from(LOOKS);
            let look = (0..=LOOKS).find(|look| inside(from + step * f64::from(*look)))?;
            let mut hit = from + step * f64::from(look);
            let mut miss = hit - step;
            for _ in 0..30 {
                let middle = (hit + miss) / 2.0;
                *(if inside(middle) { &mut hit } else { &mut miss }) = middle;
            }
            Some(hit)
        };
        let left = first(low, (low + reach).min((low + high) / 2.0))?;
        let right = first(high, (high - reach).max((low + high) / 2.0))?;
        let spare = SIDE_MM / self.ground.surface.around_scale_mm(along_mm).max(1.0);
        (left + spare <= right - spare).then_some((left + spare, right - spare))
    }

    /// How rows at these distances share the round when all have the same step.
    fn share(
        &self,
        alongs_mm: &[f64],
        sides_of: impl Fn(f64) -> Option<(f64, f64)>,
        most: usize,
    ) -> Share {
        let least = alongs_mm.iter().map(|along| self.least_step(*along)).fold(0.0, f64::max);
        if self.ground.all_round() {
            let count = ((TAU / least + 1e-9).floor() as usize).clamp(1, most.max(1));
            return Share { count, step: TAU / count as f64, phase: 0.0 };
        }
        let sides: Vec<_> = alongs_mm.iter().filter_map(|along| sides_of(*along)).collect();
        let widest = sides.iter().map(|side| side.1 - side.0).fold(0.0, f64::max);
        // Rows that are nearly as wide as the widest end flush with both sides; those cut short by
        // a corner lose their last stone.
        let (low, high) = sides
            .into_iter()
            .filter(|side| side.1 - side.0 >= widest - least / 4.0)
            .reduce(|a, b| (a.0.max(b.0), a.1.min(b.1)))
            .filter(|side| side.0 <= side.1)
            .unwrap_or(self.ground.around);
        let (middle, width) = ((low + high) / 2.0, high - low);
        let whole = (width / least + 1e-9).floor().min(most.saturating_sub(1) as f64);
        if width < least || whole < 1.0 {
            return Share { count: 1, step: least, phase: middle };
        }
        if width / least - whole >= 0.5 {
            // Room for a half stone more: every row has the same count, flush left, then right.
            Share { count: whole as usize + 1, step: width / (whole + 0.5), phase: low }
        } else {
            Share { count: whole as usize + 1, step: width / whole, phase: low }
        }
    }

    /// Where the next row lies that keeps the pitch to the rows before it, mm.
    fn nested(&self, before: &[Ring], phase: f64, step: f64) -> f64 {
        let next = Ring { along_mm: 0.0, phase, step, count: 0 };
        before
            .iter()
            .rev()
            .take(4)
            .map(|ring| self.below(ring.along_mm, self.offset(ring, &next)))
            .fold(self.along_mm.0, f64::max)
    }

    /// Least difference in `around` between stones of two rows.
    fn offset(&self, a: &Ring, b: &Ring) -> f64 {
        let off = |around: f64| {
            let turns = (around - b.phase) / b.step;
            (turns - turns.round()).abs() * b.step
        };
        if (a.step - b.step).abs() < 1e-12 {
            return off(a.phase);
        }
        let (low, high) = self.ground.around;
        let first = ((low - a.phase) / a.step).ceil() as i64;
        let last = ((high - a.phase) / a.step).floor() as i64;
        (first..=last).map(|k| off(a.phase + k as f64 * a.step)).fold(b.step / 2.0, f64::min)
    }

    /// The nearest place below a stone, `offset` round from it, that keeps the pitch in space, mm
    /// along the wall.
    fn below(&self, along_mm: f64, offset: f64) -> f64 {
        let surface = self.ground.surface;
        let stone = surface.world_from_surface(SurfacePoint { around: 0.0, along_mm });
        let spare = |along_mm: f64| {
            let at = SurfacePoint { around: offset, along_mm };
            surface.world_from_surface(at).distance(stone) - self.pitch_mm
        };
        let (mut low, mut high) = (along_mm, along_mm + 1.2 * self.pitch_mm);
        let (mut at_low, mut at_high) = (spare(low), spare(high));
        if at_low >= 0.0 {
            return along_mm;
        }
        let mut widened = 0;
        while at_high < 0.0 && widened < 8 {
            (low, at_low) = (high, at_high);
            high += self.pitch_mm;
            at_high = spare(high);
            widened += 1;
        }
        // Regula falsi, Illinois variant, ending on the far side.
        for _ in 0..40 {
            if at_high < 1e-10 {
                break;
            }
            let middle = (low * at_high - high * at_low) / (at_high - at_low);
            let here = spare(middle);
            if here >= 0.0 {
                (high, at_high) = (middle, here);
                at_low /= 2.0;
            } else {
                (low, at_low) = (middle, here);
                at_high /= 2.0;
            }
            if high - low < 1e-11 {
                break;
            }
        }
        high
    }

    fn row(&self, before: &[Ring], share: &Share) -> Ring {
        let phase = share.phase + if before.len() % 2 == 1 { share.step / 2.0 } else { 0.0 };
        Ring {
            along_mm: self.nested(before, phase, share.step),
            phase,
            step: share.step,
            count: self.inside(share, phase),
        }
    }

    fn inside(&self, share: &Share, phase: f64) -> usize {
        if self.ground.all_round() || phase == share.phase {
            return share.count;
        }
        let high = share.phase + share.step * (share.count as f64 - 1.0);
        let (_, side) = self.ground.around;
        // The shifted row has as many stones only if its last still clears the side.
        let radius = self.diameter_mm / 2.0
            / self.ground.surface.around_scale_mm(self.along_mm.0).max(1e-9);
        if high + share.step / 2.0 <= side - radius + 1e-9 {
            share.count
        } else {
            share.count - 1
        }
    }

    /// Lays `rows` rows of one share after those before; fewer if the zone ends.
    fn group(&self, before: &[Ring], rows: usize) -> Vec<Ring> {
        let about = |along_mm: f64| self.sides_about(along_mm);
        let start = before.last().map_or(self.along_mm.0, |ring| ring.along_mm);
        let mut share = self.share(&[start], about, usize::MAX);
        let mut rings = before.to_vec();
        // A share changes where its rows come to lie, and they change the share: it settles, since
        // after the first look a share only loses stones.
        let mut most = usize::MAX;
        loop {
            rings.truncate(before.len());
            for _ in 0..rows {
                let ring = self.row(&rings, &share);
                if ring.along_mm > self.along_mm.1 {
                    break;
                }
                rings.push(ring);
            }
            let alongs: Vec<f64> = rings[before.len()..].iter().map(|ring| ring.along_mm).collect();
            if alongs.is_empty() {
                break;
            }
            let asked = self.share(&alongs, about, most);
            let settled = asked.count == share.count
                && (most < usize::MAX || (asked.step - share.step).abs() < 1e-9);
            if settled {
                break;
            }
            share = asked;
            most = asked.count;
        }
        rings
    }

    /// Grows each group for as long as `keep(spread, rows)` holds, where `spread` is how many more
    /// stones its roomiest row could hold than its tightest.
    fn grouped(&self, keep: impl Fn(usize, usize) -> bool) -> (Vec<Ring>, Vec<usize>) {
        let mut rings: Vec<Ring> = Vec::new();
        let mut groups = Vec::new();
        loop {
            let start = rings.len();
            let mut grown = self.group(&rings, 1);
            if grown.len() == start {
                return (rings, groups);
            }
            loop {
                let next = self.group(&rings, grown.len() - start + 1);
                let room = next[start..].iter().map(|ring| self.room(ring.along_mm));
                let (least, most) =
                    room.fold((usize::MAX, 0), |(low, high), n| (low.min(n), high.max(n)));
                if next.len() <= grown.len() || !keep(most - least, next.len() - start) {
                    break;
                }
                grown = next;
            }
            groups.push(grown.len() - start);
            rings = grown;
        }
    }

    /// Groups of these many rows, and then as many rows of the last kind as fit.
    fn with_groups(&self, groups: &[usize]) -> Vec<Ring> {
        let mut rings = Vec::new();
        for (i, rows) in groups.iter().enumerate() {
            let rows = if i + 1 == groups.len() { usize::MAX } else { *rows };
            rings = self.group(&rings, rows);
        }
        rings
    }

    /// Moves rows apart evenly until the last one lies at the end of the zone, and shares the round
    /// anew where they come to lie.
    fn spread(&self, rings: Vec<Ring>) -> Vec<Ring> {
        let stones = |rings: &[Ring]| rings.iter().map(|ring| ring.count).sum::<usize>() as f64;
        let fits = |rings: &[Ring]| {
            rings.iter().all(|ring| {
                ring.step >= self.least_step(ring.along_mm) - 1e-12
                    && ring.along_mm <= self.along_mm.1 + 1e-6
            })
        };
        let mut spread = rings.clone();
        for _ in 0..6 {
            let extra_mm = self.extra_to_end(&spread);
            spread = self.reshared(&self.nested_anew(&spread, extra_mm));
            // Rows keep their distance for the shares they have now.
            spread = self.nested_anew(&spread, extra_mm);
            let ends = spread.last().is_some_and(|ring| {
                (ring.along_mm - self.along_mm.1).abs() < self.diameter_mm / 500.0
            });
            if ends && fits(&spread) {
                break;
            }
        }
        let worth = stones(&spread) >= stones(&rings) * (1.0 - WORTH_AN_END);
        if worth && fits(&spread) { spread } else { self.nested_anew(&rings, 0.0) }
    }

    /// The same groups of rows, each sharing the round as its rows now lie; with no more stones.
    fn reshared(&self, rings: &[Ring]) -> Vec<Ring> {
        let mut out: Vec<Ring> = Vec::with_capacity(rings.len());
        for group in rings.chunk_by(|a, b| a.step == b.step) {
            let alongs: Vec<f64> = group.iter().map(|ring| ring.along_mm).collect();
            let most = group.iter().map(|ring| ring.count).max().unwrap_or(1);
            let share = self.share(&alongs, |along_mm| self.sides(along_mm), most);
            for ring in group {
                let phase = share.phase + if out.len() % 2 == 1 { share.step / 2.0 } else { 0.0 };
                let count = self.inside(&share, phase);
                out.push(Ring { along_mm: ring.along_mm, phase, step: share.step, count });
            }
        }
        out
    }

    /// The same rows laid again, each `extra_mm` farther from the one before than it must be.
    fn nested_anew(&self, rings: &[Ring], extra_mm: f64) -> Vec<Ring> {
        let mut out: Vec<Ring> = Vec::with_capacity(rings.len());
        for ring in rings {
            let mut along_mm = self.nested(&out, ring.phase, ring.step);
            if !out.is_empty() {
                along_mm += extra_mm;
            }
            out.push(Ring { along_mm, ..*ring });
        }
        out
    }

    /// How much farther apart than they must be the rows lie that end the zone, mm.
    fn extra_to_end(&self, rings: &[Ring]) -> f64 {
        if rings.len() < 2 {
            return 0.0;
        }
        let last = |extra_mm: f64| {
            let laid = self.nested_anew(rings, extra_mm);
            laid[laid.len() - 1].along_mm
        };
        let (mut low, mut high) = (0.0, self.pitch_mm / (rings.len() - 1) as f64);
        while last(high) < self.along_mm.1 && high < self.pitch_mm {
            high *= 2.0;
        }
        for _ in 0..36 {
            let middle = (low + high) / 2.0;
            if last(middle) > self.along_mm.1 { high = middle } else { low = middle }
        }
        low
    }
}

/// Angles or places of a ring's stones between two sides.
pub fn stones_of(ring: &Ring, ground: &Ground<'_>) -> Vec<f64> {
    if ground.all_round() {
        return (0..ring.count)
            .map(|k| ground.wrapped(-PI + (ring.phase + PI).rem_euclid(ring.step) + k as f64 * ring.step))
            .collect();
    }
    let (low, high) = ground.around;
    let first = ((low - ring.phase) / ring.step).ceil() as i64;
    let last = ((high - ring.phase) / ring.step).floor() as i64;
    (first..=last).map(|k| ring.phase + k as f64 * ring.step).collect()
}

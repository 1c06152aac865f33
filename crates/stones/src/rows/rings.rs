//! Level rows planned on the true surface: how many stones each holds and where it lies.
//!
//! Rows of equal count nest like a honeycomb. On a taper the count must change; where it does, two
//! rows cannot nest and lie almost a whole stone apart. Few changes waste pitch, many waste rows:
//! the plan searches for the groups of equal rows that hold the most stones.

mod spread;

use crate::fill::Ground;
use crate::rows::below::below;
use crate::rows::shares::{Share, Shares};
use piece::{Stagger, Taper};
use std::f64::consts::PI;

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
    /// Least distance between two centres, mm.
    pitch_mm: f64,
    /// First and last `along_mm` of a row.
    along_mm: (f64, f64),
    stagger: Stagger,
    taper: Taper,
    shares: Shares<'a>,
}

/// Part of a row that a change of count must win where stones lie under stones: it breaks every column.
pub const WORTH_A_BREAK: f64 = 0.2;
/// Turn from one place where columns break to that of the next change, as a part of the way
/// from one such place to the next: the golden section spreads any number of them.
const GOLDEN: f64 = 0.381_966_011_250_105;

impl<'a> Rings<'a> {
    /// Rows of stones whose centres keep `pitch_mm`, the first and the last no farther out than
    /// `along_mm`.
    pub fn new(
        ground: &'a Ground<'a>,
        diameter_mm: f64,
        pitch_mm: f64,
        along_mm: (f64, f64),
        (stagger, taper): (Stagger, Taper),
    ) -> Self {
        let aligned = stagger == Stagger::Aligned;
        Self {
            ground,
            pitch_mm,
            along_mm,
            stagger,
            taper,
            shares: Shares::new(ground, diameter_mm, pitch_mm, along_mm, aligned),
        }
    }

    /// The plan that holds the most stones of those tried while it is `going`, spread evenly so that the
    /// last row ends the zone.
    pub fn best(&self, going: &mut dyn FnMut() -> bool) -> Vec<Ring> {
        if let Taper::Groups { rows: Some(rows) } = self.taper {
            let (rings, _) = self.grouped(|_, grown| grown <= rows.max(1) as usize, going);
            return self.spread(rings);
        }
        let stones = |rings: &[Ring]| {
            // A change of count shows: it must win more than one stone.
            let worth = |pair: &[Ring]| match self.stagger {
                Stagger::Offset => 1.0,
                Stagger::Aligned => (WORTH_A_BREAK * pair[0].count as f64).max(1.0),
            };
            let changes = rings.windows(2).filter(|pair| pair[0].step != pair[1].step);
            rings.iter().map(|ring| ring.count).sum::<usize>() as f64
                - changes.map(worth).sum::<f64>()
        };
        let mut best = Vec::new();
        let mut groups = Vec::new();
        for most_lost in 0..=16 {
            let (rings, found) = self.grouped(|spread, _| spread <= most_lost, going);
            if best.is_empty() || stones(&rings) > stones(&best) {
                (best, groups) = (rings, found);
            }
        }
        for most_rows in 1..=16 {
            let (rings, found) = self.grouped(|_, rows| rows <= most_rows, going);
            if stones(&rings) > stones(&best) {
                (best, groups) = (rings, found);
            }
        }
        // Move each border between groups by a row while that wins stones.
        let mut better = groups.len() > 1;
        while better && going() {
            better = false;
            for border in 0..groups.len() - 1 {
                for (grows, shrinks) in [(border, border + 1), (border + 1, border)] {
                    if groups[shrinks] < 2 || !going() {
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

    /// Where the next row lies that keeps the pitch to the rows before it, mm.
    fn nested(&self, before: &[Ring], phase: f64, step: f64) -> f64 {
        let next = Ring { along_mm: 0.0, phase, step, count: 0 };
        before
            .iter()
            .rev()
            .take(4)
            .map(|ring| {
                let offset = self.offset(ring, &next);
                below(self.ground, self.pitch_mm, ring.along_mm, offset)
            })
            .fold(self.along_mm.0, f64::max)
    }

    /// Least difference in `around` between stones of two rows.
    fn offset(&self, a: &Ring, b: &Ring) -> f64 {
        if self.stagger == Stagger::Aligned {
            // No row sinks between columns, even where a shorter one could.
            return 0.0;
        }
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

    /// How far row `number` is shifted against the even ones, in `around`.
    fn shift(&self, number: usize, step: f64) -> f64 {
        if self.stagger == Stagger::Offset && number % 2 == 1 { step / 2.0 } else { 0.0 }
    }

    /// A share turned so that the place where its first row's columns break against the row before
    /// lies a golden section on from that of the last change.
    fn turned(&self, before: &[Ring], share: Share) -> Share {
        let spreads = self.taper == Taper::Spread && self.stagger == Stagger::Offset;
        let (true, true, Some(last)) = (spreads, self.ground.all_round(), before.last()) else {
            return share;
        };
        let changes = before.windows(2).filter(|pair| pair[0].step != pair[1].step).count();
        // Columns break where stones of both rows count the same part of a step: as often in the
        // round as stones are lost, so it is that stretch that is cut in the golden section.
        let part = (last.phase / last.step - GOLDEN * changes as f64).rem_euclid(1.0);
        Share { phase: part * share.step - self.shift(before.len(), share.step), ..share }
    }

    fn row(&self, before: &[Ring], share: &Share) -> Ring {
        let phase = share.phase + self.shift(before.len(), share.step);
        Ring {
            along_mm: self.nested(before, phase, share.step),
            phase,
            step: share.step,
            count: self.shares.inside(share, phase),
        }
    }

    /// Lays `rows` rows of one share after those before; fewer if the zone ends.
    fn group(&self, before: &[Ring], rows: usize) -> Vec<Ring> {
        let about = |along_mm: f64| self.shares.sides_about(along_mm);
        let start = before.last().map_or(self.along_mm.0, |ring| ring.along_mm);
        let mut share = self.turned(before, self.shares.of(&[start], about, usize::MAX));
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
            let asked = self.shares.of(&alongs, about, most);
            let settled = asked.count == share.count
                && (most < usize::MAX || (asked.step - share.step).abs() < 1e-9);
            if settled {
                break;
            }
            share = self.turned(before, asked);
            most = asked.count;
        }
        rings
    }

    /// Grows each group for as long as `keep(spread, rows)` holds, where `spread` is how many more
    /// stones its roomiest row could hold than its tightest. Ends early when no longer `going`.
    fn grouped(
        &self,
        keep: impl Fn(usize, usize) -> bool,
        going: &mut dyn FnMut() -> bool,
    ) -> (Vec<Ring>, Vec<usize>) {
        let mut rings: Vec<Ring> = Vec::new();
        let mut groups = Vec::new();
        loop {
            let start = rings.len();
            let mut grown = self.group(&rings, 1);
            if grown.len() == start || !going() {
                return (rings, groups);
            }
            loop {
                let next = self.group(&rings, grown.len() - start + 1);
                let room = next[start..].iter().map(|ring| self.shares.room(ring.along_mm));
                let (least, most) =
                    room.fold((usize::MAX, 0), |(low, high), n| (low.min(n), high.max(n)));
                if next.len() <= grown.len() || !keep(most - least, next.len() - start) || !going()
                {
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
}

/// Angles or places of a ring's stones between two sides.
pub fn stones_of(ring: &Ring, ground: &Ground<'_>) -> Vec<f64> {
    if ground.all_round() {
        return (0..ring.count)
            .map(|k| {
                ground.wrapped(-PI + (ring.phase + PI).rem_euclid(ring.step) + k as f64 * ring.step)
            })
            .collect();
    }
    let (low, high) = ground.around;
    let first = ((low - ring.phase) / ring.step).ceil() as i64;
    let last = ((high - ring.phase) / ring.step).floor() as i64;
    (first..=last).map(|k| ring.phase + k as f64 * ring.step).collect()
}

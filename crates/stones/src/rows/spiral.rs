//! One row that sinks round a part like a thread.
//!
//! The thread begins flush with the upper edge at the back, and in one turn sinks by the distance
//! between two rows (its lead); from then on it rests on its own turn before, but for an equal share of
//! what the zone has over when the thread ends at the back too. Stones stand at equal
//! angles. Offset, a turn holds so many stones and about a half, so that every stone lies in a pocket
//! of the turn above; aligned, it holds so many. On a taper the thread keeps its angles, and with
//! them its columns, until stones come too near; then it shares the round anew, and for one turn lies
//! a whole pitch under the turn above. How many turns it goes on is tried out.

use crate::fill::Ground;
use crate::rows::below::below;
use crate::rows::rings::WORTH_A_BREAK;
use crate::rows::shares::least_step;
use piece::Stagger;
use std::f64::consts::TAU;

/// How soon the thread, after a turn that could not sink between stones, comes back to resting: this
/// part of what it sinks from stone to stone, so that it never rises.
const COMES_BACK: f64 = 0.8;
/// Turns to go with equal angles on a taper: all of these are tried.
const TURNS: std::ops::RangeInclusive<u32> = 1..=16;
/// Where a part widens, stones stand no farther apart than this, in their least step.
const LOOSE: f64 = 1.4;
/// A turn sinks at least by this part of the first lead, however wide the pockets are.
const SINKS: f64 = 0.5;
/// A lead smaller than this, in pitches, is none: the thread would not come down.
const LEAST_LEAD: f64 = 0.2;
/// A thread that ends so near to a whole turn, rad, has it.
const SHORT_OF: f64 = 0.15;
/// Stones that turns moved apart may have fewer.
const ALIKE: usize = 2;
/// Times that what is left between the turns is halved to see how much fits.
const HALVINGS: u32 = 12;
/// Stones wound before asking whether to go on.
const AT_ONCE: usize = 512;
/// With fewer stones round the part there is no thread to speak of.
const LEAST_ROUND: f64 = 5.0;
/// So many go round a single one.
const FIRST_ROUND: f64 = 6.0;

/// A stone of the thread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnThread {
    /// Round from the beginning, counting whole turns, rad.
    pub wound: f64,
    /// Along the wall, mm.
    pub along_mm: f64,
}

/// Winds threads for one size between two distances along the wall.
#[derive(Debug)]
pub struct Thread<'a> {
    /// Where it is wound.
    pub ground: &'a Ground<'a>,
    /// Least distance between two centres, mm.
    pub pitch_mm: f64,
    /// `along_mm` of the first stone, and the most of the last.
    pub along_mm: (f64, f64),
    /// How a turn lies against the one above.
    pub stagger: Stagger,
}

/// How stones share the round for some turns.
#[derive(Debug, Clone, Copy)]
struct Lap {
    /// From stone to stone, rad.
    step: f64,
    /// Stones to a turn.
    per_turn: f64,
    /// Where it may end, mm.
    until_mm: f64,
}

/// Where a thread from the top may begin, mm along the wall: near the axis, where fewer than six stones go
/// round, it begins as soon as six do, and what is above is filled like any hole. `None` where they
/// nowhere do.
pub fn begins_mm(ground: &Ground<'_>, pitch_mm: f64, (top, foot): (f64, f64)) -> Option<f64> {
    let round = |along_mm: f64| TAU / least_step(ground, pitch_mm, along_mm) + 1e-9 >= FIRST_ROUND;
    let mut miss = top;
    while !round(miss) {
        let mut hit = miss + pitch_mm / 8.0;
        if hit > foot {
            return None;
        }
        if round(hit) {
            for _ in 0..32 {
                let middle = (hit + miss) / 2.0;
                *(if round(middle) { &mut hit } else { &mut miss }) = middle;
            }
            return Some(hit);
        }
        miss = hit;
    }
    Some(top)
}

impl Thread<'_> {
    /// The thread that holds the most stones, of those tried while it is `going`.
    pub fn best(&self, going: &mut dyn FnMut() -> bool) -> Vec<OnThread> {
        let mut best: (f64, u32, Vec<OnThread>) = (f64::NEG_INFINITY, 1, Vec::new());
        let (top, foot) = self.along_mm;
        let tapers = {
            let round = |along_mm: f64| (TAU / self.least_step(along_mm)).floor();
            (0..=16).any(|k| round(top + (foot - top) * f64::from(k) / 16.0) != round(top))
        };
        // Of equals the one that changes least often.
        for turns in TURNS.rev().take(if tapers { usize::MAX } else { 1 }) {
            let (wound, broken) = self.wound(f64::from(turns), 0.0, going);
            let worth = wound.len() as f64 - broken;
            if worth > best.0 {
                best = (worth, turns, wound);
            }
            // Each takes as long as the stones of the whole zone.
            if !going() {
                break;
            }
        }
        self.whole_turns(f64::from(best.1), best.2, going)
    }

    /// The thread shortened to whole turns, so that it ends at the back too, and what is left of the
    /// zone shared among them.
    fn whole_turns(
        &self,
        turns: f64,
        thread: Vec<OnThread>,
        going: &mut dyn FnMut() -> bool,
    ) -> Vec<OnThread> {
        let wound = thread.last().map_or(0.0, |last| last.wound);
        let whole = TAU * ((wound + SHORT_OF) / TAU).floor();
        let cut = |mut thread: Vec<OnThread>| {
            thread.retain(|stone| stone.wound < whole + 1e-9);
            thread
        };
        let mut best = cut(thread);
        let Some(end_mm) = best.last().map(|last| last.along_mm).filter(|_| whole > 0.0) else {
            return best;
        };
        // From nothing to all that is left; on a taper turns do not keep their stones when they move.
        let (mut less_mm, mut more_mm) = (0.0, TAU * (self.along_mm.1 - end_mm) / whole);
        for halving in 0..HALVINGS {
            // What is left itself comes first: on a straight cup that is all there is to do.
            let extra_mm = if halving == 0 { more_mm } else { (less_mm + more_mm) / 2.0 };
            let found = cut(self.wound(turns, extra_mm, going).0);
            let ends = found.last().is_some_and(|last| last.wound > whole - SHORT_OF);
            if ends && found.len() + ALIKE >= best.len() {
                (less_mm, best) = (extra_mm, found);
            } else {
                more_mm = extra_mm;
            }
            if more_mm - less_mm < 1e-6 || !going() {
                break;
            }
        }
        best
    }

    fn least_step(&self, along_mm: f64) -> f64 {
        least_step(self.ground, self.pitch_mm, along_mm)
    }

    /// How far a turn lies under the one above when stones keep this step, mm.
    fn sinks_mm(&self, along_mm: f64, step: f64) -> f64 {
        let offset = if self.stagger == Stagger::Offset { step / 2.0 } else { 0.0 };
        below(self.ground, self.pitch_mm, along_mm, offset) - along_mm
    }

    /// How stones share the round from here on so that it lasts so many turns.
    fn lap(&self, along_mm: f64, turns: f64) -> Lap {
        let sinks_mm = self.sinks_mm(along_mm, self.least_step(along_mm));
        let first = self.least_step(along_mm);
        let end_mm = (along_mm + turns * sinks_mm).min(self.along_mm.1);
        let at = |k: u32| along_mm + (end_mm - along_mm) * f64::from(k) / 8.0;
        // Where the part narrows by much it ends sooner: stones so far apart as the narrow end asks for
        // would leave a turn at the wide one nothing to rest on.
        let (mut least, mut until_mm) = (first, along_mm);
        for k in 1..=8 {
            let here = self.least_step(at(k));
            if here > LOOSE * first {
                break;
            }
            (least, until_mm) = (least.max(here), at(k));
        }
        let most = TAU / least + 1e-9;
        let per_turn = match self.stagger {
            Stagger::Aligned => most.floor(),
            Stagger::Offset => {
                // The turn above rises by one part in so many between the two stones it rests on: to
                // touch both, a stone lies a little nearer to the lower one. In the unrolled wall, with
                // s the step and y the lead, (f s)² + (y n / (n + f))² = ((1 - f) s)² + (y (n + 1) /
                // (n + f))², so f is close to 1/2 + (y / s)² / n, and (y / s)² = 3/4 in a honeycomb.
                let whole = (most - 0.5).floor().max(1.0);
                let with = |whole: f64| whole + 0.5 + 0.75 / whole;
                if with(whole) > most { with((whole - 1.0).max(1.0)) } else { with(whole) }
            }
        };
        Lap { step: TAU / per_turn, per_turn, until_mm }
    }

    /// The thread that keeps its angles for so many turns, where a taper lets it, its turns so much
    /// farther apart than they need be, and how many stones its changes of angle must win.
    /// Ends early when no longer `going`.
    fn wound(
        &self,
        turns: f64,
        extra_mm: f64,
        going: &mut dyn FnMut() -> bool,
    ) -> (Vec<OnThread>, f64) {
        let (top_mm, foot_mm) = self.along_mm;
        let mut lap = self.lap(top_mm, turns);
        let first_mm = self.sinks_mm(top_mm, lap.step) + extra_mm;
        if first_mm < LEAST_LEAD * self.pitch_mm {
            return (Vec::new(), 0.0);
        }
        let mut stones: Vec<OnThread> = Vec::new();
        let (mut wound, mut depth_mm) = (0.0, first_mm);
        // Until then the turn above has other angles.
        let mut slips_until = 0.0;
        // The first stone of the turn above that is not far behind.
        let mut above = 0;
        let mut along_mm = top_mm;
        let mut broken = 0.0;
        while along_mm <= foot_mm + 1e-9 && lap.per_turn >= LEAST_ROUND {
            if stones.len().is_multiple_of(AT_ONCE) && !going() {
                break;
            }
            let over = wound - TAU;
            while above < stones.len() && stones[above].wound < over - 1.6 * lap.step {
                above += 1;
            }
            // The line of the turn above, as if one more had come before the first.
            let line_mm = if over <= 0.0 {
                top_mm + first_mm * over / TAU
            } else {
                line_at(&stones[above..], over)
            };
            let near = stones[above..].iter();
            let near = near.take_while(|stone| stone.wound < over + 1.6 * lap.step);
            let touching_mm = near
                .map(|stone| {
                    let offset = (stone.wound - over).abs();
                    below(self.ground, self.pitch_mm, stone.along_mm, offset) - line_mm
                })
                .fold(0.0, f64::max);
            let need_mm = match self.stagger {
                // No turn sinks between columns, even where it could.
                Stagger::Aligned => touching_mm.max(self.sinks_mm(line_mm.max(top_mm), lap.step)),
                Stagger::Offset => touching_mm,
            } + extra_mm;
            depth_mm = if over <= -lap.step {
                first_mm
            } else if self.stagger == Stagger::Aligned {
                need_mm
            } else if wound < slips_until {
                need_mm.max(depth_mm)
            } else {
                need_mm.max(depth_mm - COMES_BACK * first_mm / lap.per_turn)
            };
            depth_mm = depth_mm.max(SINKS * first_mm);
            // Where the turn above was coming back, this one must not rise.
            along_mm = (line_mm + depth_mm).max(along_mm);
            depth_mm = along_mm - line_mm;
            if along_mm > foot_mm + 1e-9 {
                break;
            }
            stones.push(OnThread { wound, along_mm });
            let least = self.least_step(along_mm);
            let crowded = lap.step < least - 1e-12;
            if crowded || lap.step > LOOSE * least || along_mm >= lap.until_mm {
                let next = self.lap(along_mm, turns);
                if crowded || next.per_turn >= lap.per_turn + 0.9 {
                    slips_until = wound + next.step + TAU;
                    broken += match self.stagger {
                        Stagger::Offset => 1.0,
                        Stagger::Aligned => WORTH_A_BREAK * lap.per_turn,
                    };
                    lap = next;
                } else {
                    lap.until_mm = along_mm + depth_mm;
                }
            }
            wound += lap.step;
        }
        (stones, broken)
    }
}

/// The line through stones of a thread, mm along the wall.
fn line_at(stones: &[OnThread], wound: f64) -> f64 {
    let next = stones.partition_point(|stone| stone.wound < wound);
    match (next.checked_sub(1).map(|before| stones[before]), stones.get(next)) {
        (Some(a), Some(b)) => {
            let part = (wound - a.wound) / (b.wound - a.wound).max(1e-12);
            a.along_mm + (b.along_mm - a.along_mm) * part
        }
        (Some(only), None) => only.along_mm,
        (None, Some(only)) => only.along_mm,
        (None, None) => 0.0,
    }
}

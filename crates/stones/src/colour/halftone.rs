//! Few colours for many: each stone gets one of a few colours so that, seen from a little way off,
//! stones together show what was wanted.
//!
//! For pictures error diffusion (Floyd and Steinberg 1976) on irregular sites gives the first draft: what a stone
//! fails to show is handed on to those beside it that have no colour yet. Direct binary search
//! (Analoui and Allebach 1992, "Model-based halftoning using direct binary search") then changes and
//! swaps colours as long as the error that is left after blurring grows smaller, which takes out the
//! worms and the direction that error diffusion leaves.

use crate::colour::Uncoloured;
use crate::colour::near::{Near, serpentine};
use crate::going::Going;
use crate::steps::step;

/// Up to how many pitches away a stone hands on its error.
const HAND_ON: f64 = 1.9;
/// Width (standard deviation) of the blur through which stones are judged, pitches; the kernel below
/// is the blur with itself, and is cut off at [`REACH`].
const BLUR: f64 = 0.9;
/// Where the kernel is cut off, pitches.
const REACH: f64 = 3.2;
/// Most walks over all stones; far fewer are needed.
const WALKS: usize = 12;

/// What the search may change.
#[derive(Debug, Clone, Copy)]
pub enum Changes {
    /// Colours swap places, if what is wanted at both differs by no more than this in any number.
    Swaps(f64),
    /// Colours swap places or give way to others.
    All,
}

/// What is wanted of stones, in a space where colours side by side add up.
#[derive(Debug)]
pub struct Wanted {
    /// How many numbers a colour has.
    pub depth: usize,
    /// Numbers of each stone, one after the other.
    pub targets: Vec<f64>,
    /// How much each stone counts.
    pub weights: Vec<f64>,
    /// Numbers of each colour that can be chosen.
    pub colours: Vec<Vec<f64>>,
    /// What the search may change.
    pub changes: Changes,
}

impl Wanted {
    fn target(&self, number: usize) -> &[f64] {
        &self.targets[number * self.depth..(number + 1) * self.depth]
    }
}

/// Error diffusion along a serpentine: a colour (index into [`Wanted::colours`]) for each stone.
/// `choose` picks the best colour for the numbers of a stone with the error handed on to it.
pub fn diffused(
    stones: &Uncoloured<'_>,
    wanted: &Wanted,
    choose: impl Fn(usize, &[f64]) -> usize,
) -> Vec<usize> {
    let count = stones.at.len();
    let near = Near::new(
        stones.centres_mm,
        stones.pitch_mm,
        HAND_ON,
        |away| 1.0 / (away * away).max(0.1),
        stones.going,
    );
    let mut errors = vec![0.0; count * wanted.depth];
    let mut done = vec![false; count];
    let mut chosen = vec![0; count];
    let mut shown = vec![0.0; wanted.depth];
    for (step, number) in serpentine(stones).into_iter().enumerate() {
        if !stones.going.at(step) {
            break;
        }
        let first = number * wanted.depth;
        for (part, shown) in shown.iter_mut().enumerate() {
            *shown = wanted.targets[first + part] + errors[first + part] / wanted.weights[number];
        }
        chosen[number] = choose(number, &shown);
        done[number] = true;
        let waiting = || near.of(number).filter(|(other, _)| !done[*other]);
        let total: f64 = waiting().map(|(_, weight)| weight).sum();
        for (other, weight) in waiting() {
            for part in 0..wanted.depth {
                let missed = shown[part] - wanted.colours[chosen[number]][part];
                errors[other * wanted.depth + part] +=
                    wanted.weights[number] * missed * weight / total;
            }
        }
    }
    chosen
}

/// Direct binary search from a first draft. `allowed` says whether a stone may have a colour.
pub fn searched(
    stones: &Uncoloured<'_>,
    wanted: &Wanted,
    mut chosen: Vec<usize>,
    allowed: impl Fn(usize, usize) -> bool,
) -> Vec<usize> {
    // A Gaussian blurred by itself is one of twice its variance.
    let kernel = |away: f64| libm::exp(-away * away / (4.0 * BLUR * BLUR));
    let near = Near::new(stones.centres_mm, stones.pitch_mm, REACH, kernel, stones.going);
    Search::new(wanted, near, &chosen).run(wanted, &mut chosen, allowed, stones.going);
    chosen
}

/// Direct binary search: the error of each stone, and the blurred error about it.
struct Search {
    near: Near,
    /// The sum over all stones of weight times error times kernel.
    blurred: Vec<f64>,
    depth: usize,
}

impl Search {
    fn new(wanted: &Wanted, near: Near, chosen: &[usize]) -> Self {
        let depth = wanted.depth;
        let error = |number: usize, part: usize| {
            let missed = wanted.target(number)[part] - wanted.colours[chosen[number]][part];
            wanted.weights[number] * missed
        };
        let mut blurred = vec![0.0; chosen.len() * depth];
        for number in 0..chosen.len() {
            for part in 0..depth {
                let own = error(number, part);
                blurred[number * depth + part] += own;
                for (other, weight) in near.of(number) {
                    blurred[other * depth + part] += weight * own;
                }
            }
        }
        Self { near, blurred, depth }
    }

    fn run(
        mut self,
        wanted: &Wanted,
        chosen: &mut [usize],
        allowed: impl Fn(usize, usize) -> bool,
        going: Going<'_>,
    ) {
        let colours = wanted.colours.len();
        let (turns, most_apart) = match wanted.changes {
            Changes::Swaps(most_apart) => (false, most_apart),
            Changes::All => (true, f64::INFINITY),
        };
        let like = |a: usize, b: usize| {
            let both = wanted.target(a).iter().zip(wanted.target(b));
            both.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max) <= most_apart
        };
        for _ in 0..WALKS {
            let mut changes = 0;
            for number in 0..chosen.len() {
                if !going.at(number) {
                    return;
                }
                let was = chosen[number];
                // The least change of the blurred error squared that is worth it.
                let mut best = (-1e-9, None);
                for now in (0..colours).filter(|now| turns && *now != was && allowed(number, *now))
                {
                    let change = self.turned(wanted, number, was, now);
                    if change < best.0 {
                        best = (change, Some((now, None)));
                    }
                }
                for (other, kernel) in self.near.of(number) {
                    let now = chosen[other];
                    if now == was
                        || !allowed(number, now)
                        || !allowed(other, was)
                        || !like(number, other)
                    {
                        continue;
                    }
                    let together = 2.0
                        * kernel
                        * wanted.weights[number]
                        * wanted.weights[other]
                        * -apart_squared(&wanted.colours[was], &wanted.colours[now]);
                    let change = self.turned(wanted, number, was, now)
                        + self.turned(wanted, other, now, was)
                        + together;
                    if change < best.0 {
                        best = (change, Some((now, Some(other))));
                    }
                }
                if let (_, Some((now, partner))) = best {
                    changes += 1;
                    self.turn(wanted, number, chosen, now);
                    if let Some(other) = partner {
                        self.turn(wanted, other, chosen, was);
                    }
                }
            }
            if changes * 500 < chosen.len() {
                break;
            }
        }
    }

    /// How the blurred error squared changes when a stone turns from one colour to another.
    fn turned(&self, wanted: &Wanted, number: usize, was: usize, now: usize) -> f64 {
        step();
        let (was, now) = (&wanted.colours[was], &wanted.colours[now]);
        let weight = wanted.weights[number];
        let blurred = &self.blurred[number * self.depth..(number + 1) * self.depth];
        let along: f64 =
            blurred.iter().zip(was.iter().zip(now)).map(|(f, (was, now))| f * (was - now)).sum();
        2.0 * weight * along + weight * weight * apart_squared(was, now)
    }

    fn turn(&mut self, wanted: &Wanted, number: usize, chosen: &mut [usize], now: usize) {
        let was = chosen[number];
        chosen[number] = now;
        for part in 0..self.depth {
            let change =
                wanted.weights[number] * (wanted.colours[was][part] - wanted.colours[now][part]);
            if change == 0.0 {
                continue;
            }
            self.blurred[number * self.depth + part] += change;
            for (other, weight) in self.near.of(number) {
                self.blurred[other * self.depth + part] += weight * change;
            }
        }
    }
}

fn apart_squared(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| (a - b) * (a - b)).sum()
}

//! Denser place by place: around every hole the nearest stones are moved about with one more or a
//! larger one among them, while all the others lie still; what finds room stays.
//!
//! Windows that do not touch are tried side by side and taken over in a fixed order, each with dice of
//! its own, so that any number of threads lays the same.

mod even;
mod plug;

use crate::chance::{one_of, unit};
use crate::pack::board::{Board, Disc};
use crate::pack::chart::{Place, distance_squared};
use crate::pack::laid::Laid;
use crate::pack::relax::Relax;
use crate::pack::squeeze::{FELT_MM, counts, worth};
use crate::pack::voids::{Void, voids};
use crate::pack::window::{Window, take_over};
use rand_pcg::Pcg64;
use rayon::prelude::*;

/// Holes of at least this share of the smallest reach are tried.
const HOLE: f64 = 0.3;
/// Stones that move about a hole.
const MOVING: f64 = 30.0;
/// Exchanges of sizes, steps of relaxing before each, and most steps after the last one.
const EXCHANGES: u32 = 8;
const STEPS: u32 = 30;
const LAST_STEPS: u32 = 240;
/// Overlap that is not worth the last steps, mm.
const HOPE_MM: f64 = 0.06;
/// Times that wide holes are tried, where there is at most one for so many stones.
const CLOSINGS: u32 = 16;
const FEW_WIDE: usize = 50;
/// Windows tried side by side.
const SIDE_BY_SIDE: usize = 32;

/// A layout being made denser.
#[derive(Debug)]
pub struct Windows<'a, 'b> {
    board: &'b Board<'a>,
    ours: Vec<Disc>,
    shares: &'b [f64],
    counts: Vec<f64>,
    seed: [u64; 2],
    tried: u64,
    /// Whether wide holes are to be closed, rather than any made denser.
    closing: bool,
}

/// What a window came to: stones of it after, in the order of before; one more may follow.
type Found = Option<Vec<Disc>>;

impl<'a, 'b> Windows<'a, 'b> {
    /// Begins with a sound layout.
    pub fn new(board: &'b Board<'a>, ours: Vec<Disc>, shares: &'b [f64], seed: [u64; 2]) -> Self {
        let counts = counts(board, ours.iter().map(|disc| disc.size));
        Self { board, ours, shares, counts, seed, tried: 0, closing: false }
    }

    /// The layout.
    pub fn ours(self) -> Vec<Disc> {
        self.ours
    }

    /// Tries a window about every hole once; `going` is asked now and then and stops it by returning
    /// false.
    pub fn round(&mut self, going: &mut dyn FnMut() -> bool) {
        let least_mm = HOLE * self.board.reach_mm(self.board.smallest());
        let holes = voids(self.board, &Laid::with(self.board, &self.ours), least_mm, 0.0, going);
        self.try_about(holes, going);
    }

    /// Tries windows about the holes between girdles at least so wide, some of them several times.
    pub fn close(&mut self, width_mm: f64, going: &mut dyn FnMut() -> bool) {
        self.closing = true;
        for _ in 0..CLOSINGS {
            let laid = Laid::with(self.board, &self.ours);
            let wide = voids(self.board, &laid, width_mm / 2.0, self.board.half_gap_mm, going);
            if wide.is_empty() || wide.len() * FEW_WIDE > self.ours.len() || !going() {
                return;
            }
            self.try_about(wide, going);
        }
    }

    fn try_about(&mut self, holes: Vec<Void>, going: &mut dyn FnMut() -> bool) {
        let board = self.board;
        let each_mm2 = board.ground.area_mm2 / self.ours.len().max(1) as f64;
        let within_mm = (MOVING * each_mm2 / std::f64::consts::PI).sqrt();
        let mut left: Vec<Place> = holes.iter().map(|hole| hole.place).collect();
        while !left.is_empty() {
            if !going() {
                return;
            }
            let apart_mm = 2.0 * (within_mm + 2.0 * board.widest_reach_mm);
            let mut now: Vec<Place> = Vec::new();
            let mut later = Vec::new();
            for place in left {
                let near = |other: &Place| distance_squared(other, &place) < apart_mm * apart_mm;
                if now.len() < SIDE_BY_SIDE && !now.iter().any(near) {
                    now.push(place);
                } else {
                    later.push(place);
                }
            }
            left = later;
            self.side_by_side(&now, within_mm);
        }
    }

    fn side_by_side(&mut self, middles: &[Place], within_mm: f64) {
        let board = self.board;
        let laid = Laid::with(board, &self.ours);
        let tried = self.tried;
        self.tried += middles.len() as u64;
        let this = &*self;
        let found: Vec<(Window, Found)> = middles
            .par_iter()
            .enumerate()
            .map(|(k, middle)| {
                let beyond_mm = within_mm + 2.0 * board.widest_reach_mm + 1.0;
                let window = Window::about(board, &laid, middle, within_mm, beyond_mm);
                let dice = this.seed[1].wrapping_add(tried + k as u64);
                let mut chance = Pcg64::new(u128::from(this.seed[0]), u128::from(dice));
                let evened = this.closing.then(|| this.evened(&window, &mut chance)).flatten();
                let found = evened.or_else(|| this.denser(&window, &mut chance));
                (window, found)
            })
            .collect();
        let mut better = Vec::new();
        for (window, found) in found {
            let Some(found) = found else { continue };
            let mut counts = self.counts.clone();
            for number in &window.moving {
                counts[self.ours[*number].size] -= 1.0;
            }
            for disc in &found {
                counts[disc.size] += 1.0;
            }
            // Evened it may be worth as much as before.
            let is_better = self.worth(&counts) > self.worth(&self.counts);
            if !(is_better || self.closing && counts == self.counts) || !board.in_stock(&counts) {
                continue;
            }
            self.counts = counts;
            better.push((window.moving, found));
        }
        take_over(&mut self.ours, better.into_iter());
    }

    fn worth(&self, counts: &[f64]) -> f64 {
        worth(self.board, self.shares, counts)
    }

    /// Tries to lay the window's stones with one more or a larger one among them.
    fn denser(&self, window: &Window, chance: &mut Pcg64) -> Found {
        let mut discs: Vec<Disc> = window.moving.iter().map(|number| self.ours[*number]).collect();
        if discs.len() < 2 {
            return None;
        }
        if self.closing {
            self.plug(window, &mut discs, chance)?;
        } else {
            self.more(window, &mut discs, chance)?;
        }
        self.relaxed(window, &discs, chance)
    }

    /// These stones moved about until all have room.
    fn relaxed(&self, window: &Window, discs: &[Disc], chance: &mut Pcg64) -> Found {
        let board = self.board;
        let mut tight = Relax::window(board, discs, window.still.clone());
        for _ in 0..EXCHANGES {
            if tight.run(STEPS, &mut || true) < 0.0 {
                break;
            }
            exchange(board, &mut tight, chance);
        }
        if tight.largest_mm() > HOPE_MM || tight.run(LAST_STEPS, &mut || true) >= 0.0 {
            return None;
        }
        let discs = tight.ours();
        let inside = |disc: &Disc| board.holds_centre(&disc.place);
        discs.iter().all(inside).then_some(discs)
    }

    /// One more small stone in the hole, or a larger one in the place of one near it: by chance
    /// something that would be worth it.
    fn more(&self, window: &Window, discs: &mut Vec<Disc>, chance: &mut Pcg64) -> Option<()> {
        let board = self.board;
        let now = self.worth(&self.counts);
        let better = |change: &dyn Fn(&mut Vec<f64>)| {
            let mut counts = self.counts.clone();
            change(&mut counts);
            self.worth(&counts) > now && board.in_stock(&counts)
        };
        let mut ways: Vec<(Option<usize>, usize)> = Vec::new();
        for size in board.ladder.iter().rev().take(2) {
            if board.may(&window.middle, *size) && better(&|counts| counts[*size] += 1.0) {
                ways.push((None, *size));
            }
        }
        for step in 1..board.ladder.len() {
            let (larger, smaller) = (board.ladder[step - 1], board.ladder[step]);
            let of_size =
                |k: &usize| discs[*k].size == smaller && board.may(&discs[*k].place, larger);
            let any: Vec<usize> = (0..discs.len()).filter(of_size).collect();
            if !any.is_empty()
                && better(&|counts| {
                    counts[smaller] -= 1.0;
                    counts[larger] += 1.0;
                })
            {
                ways.push((Some(any[one_of(chance, any.len())]), larger));
            }
        }
        if ways.is_empty() {
            return None;
        }
        let (which, size) = ways[one_of(chance, ways.len())];
        let reach_mm = board.reach_mm(size);
        match which {
            Some(which) => discs[which] = Disc { reach_mm, size, ..discs[which] },
            None => discs.push(Disc { place: window.middle, reach_mm, size }),
        }
        Some(())
    }
}

/// Exchanges the sizes of the most crowded stone and a loose smaller one.
fn exchange(board: &Board<'_>, tight: &mut Relax<'_, '_>, chance: &mut Pcg64) {
    let crowding = tight.crowding(FELT_MM);
    let sizes = tight.sizes();
    let mut best: Option<(f64, usize, usize)> = None;
    for step in 1..board.ladder.len() {
        let (larger, smaller) = (board.ladder[step - 1], board.ladder[step]);
        let of = |size: usize| (0..sizes.len()).filter(move |i| sizes[*i] == size);
        let crowded = of(larger).max_by(|a, b| crowding[*a].total_cmp(&crowding[*b]));
        let loose = of(smaller).min_by(|a, b| crowding[*a].total_cmp(&crowding[*b]));
        if let (Some(a), Some(b)) = (crowded, loose) {
            let dice = unit(chance);
            let gain = (crowding[a] - crowding[b]) * (0.5 + dice);
            if gain > 0.0
                && best.is_none_or(|best| gain > best.0)
                && board.may(tight.place(a), smaller)
                && board.may(tight.place(b), larger)
            {
                best = Some((gain, a, b));
            }
        }
    }
    if let Some((_, a, b)) = best {
        let (of_a, of_b) = (tight.sizes()[a], tight.sizes()[b]);
        tight.resize(a, of_b);
        tight.resize(b, of_a);
    }
}

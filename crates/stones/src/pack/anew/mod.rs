//! Denser where any size will do: a few stones are taken away and others laid there, over and over.
//!
//! Ruin and recreate (Schrimpf, Schneider, Stamm-Wilbrandt, Dueck 2000) with the acceptance of simulated
//! annealing (Kirkpatrick, Gelatt, Vecchi 1983). Windows that do not touch are worked on side by side,
//! each with dice of its own, and taken over in a fixed order, so that any number of threads lays the
//! same.

mod bay;
mod lay;

use crate::chance::one_of;
use crate::pack::board::{Board, Disc};
use crate::pack::chart::{Place, distance_squared};
use crate::pack::laid::Laid;
use crate::pack::window::{Window, take_over};
use bay::Bay;
use rand_pcg::Pcg64;
use rayon::prelude::*;

/// Stones of a window.
const WINDOW: f64 = 40.0;
/// Trials in a sweep, and the least and most of them for each stone.
const TRIALS: (f64, f64, f64) = (2500.0, 2.0, 10.0);
/// Sweeps of a round, and the loss (square of a radius, mm²) that is taken once in e times at first.
const SWEEPS: u32 = 2;
const HEAT_MM2: f64 = 0.3;
/// Windows side by side, and draws for the middle of each.
const SIDE_BY_SIDE: usize = 16;
const DRAWS: usize = 4;
/// Trials in each of them before asking whether to go on.
const AT_ONCE: usize = 32;

/// A layout being laid anew place by place.
#[derive(Debug)]
pub struct Anew<'a, 'b> {
    board: &'b Board<'a>,
    ours: Vec<Disc>,
    seed: [u64; 2],
    /// Windows so far, in rounds before this one too.
    tried: u64,
    chance: Pcg64,
}

impl<'a, 'b> Anew<'a, 'b> {
    /// Begins the round of this number with a sound layout.
    pub fn new(board: &'b Board<'a>, ours: Vec<Disc>, seed: [u64; 2], round: u32) -> Self {
        let tried = u64::from(round) << 32;
        let chance = dice(seed, tried);
        Self { board, ours, seed, tried: tried + 1, chance }
    }

    /// The layout.
    pub fn ours(self) -> Vec<Disc> {
        self.ours
    }

    /// A few sweeps; `heat` falls from 1 to nothing over all rounds. What comes out may be worse than what
    /// went in. `going` is asked now and then and stops it by returning false.
    pub fn round(&mut self, heat: f64, going: &mut dyn FnMut() -> bool) {
        for _ in 0..SWEEPS {
            self.sweep(HEAT_MM2 * heat, going);
        }
    }

    /// A few trials for each stone, all over the ground; a loss of `heat_mm2` is taken once in e times.
    fn sweep(&mut self, heat_mm2: f64, going: &mut dyn FnMut() -> bool) {
        let board = self.board;
        let count = self.ours.len();
        if count < 2 {
            return;
        }
        let trials = (TRIALS.0 / count as f64).clamp(TRIALS.1, TRIALS.2);
        let window = WINDOW.min(count as f64);
        let each_mm2 = board.ground.area_mm2 / count as f64;
        let within_mm = (window * each_mm2 / std::f64::consts::PI).sqrt();
        let apart_mm = 2.0 * (within_mm + board.widest_reach_mm);
        let mut left = (count as f64 / window).ceil() as usize;
        while left > 0 {
            if self.ours.is_empty() || !going() {
                return;
            }
            let mut middles: Vec<Place> = Vec::new();
            let most = left.min(SIDE_BY_SIDE);
            for _ in 0..DRAWS * most {
                let place = self.ours[one_of(&mut self.chance, self.ours.len())].place;
                let near = |other: &Place| distance_squared(other, &place) < apart_mm * apart_mm;
                if middles.len() < most && !middles.iter().any(near) {
                    middles.push(place);
                }
            }
            left -= middles.len();
            self.side_by_side(&middles, within_mm, (trials, heat_mm2), going);
        }
    }

    /// So many trials for each stone in windows about these places; nothing when no longer `going`.
    fn side_by_side(
        &mut self,
        middles: &[Place],
        within_mm: f64,
        (trials, heat_mm2): (f64, f64),
        going: &mut dyn FnMut() -> bool,
    ) {
        let board = self.board;
        let laid = Laid::with(board, &self.ours);
        let spare: Vec<usize> = (board.most.iter().zip(&laid.counts))
            .map(|(most, count)| most.saturating_sub(*count) / middles.len().max(1))
            .collect();
        let (seed, tried) = (self.seed, self.tried);
        self.tried += middles.len() as u64;
        let mut bays: Vec<Worked> = middles
            .par_iter()
            .enumerate()
            .map(|(k, middle)| {
                let beyond_mm = within_mm + 2.0 * board.widest_reach_mm;
                let Window { moving, still, .. } =
                    Window::about(board, &laid, middle, within_mm, beyond_mm);
                let own: Vec<Disc> = moving.iter().map(|number| self.ours[*number]).collect();
                let left = (trials * own.len() as f64).ceil() as usize;
                let chance = dice(seed, tried + k as u64);
                let bay = Bay::new(board, *middle, within_mm, &own, &still, &spare, chance);
                Worked { moving, bay, left }
            })
            .collect();
        while bays.iter().any(|worked| worked.left > 0) {
            if !going() {
                return;
            }
            bays.par_iter_mut().for_each(|Worked { bay, left, .. }| {
                let now = AT_ONCE.min(*left);
                (0..now).for_each(|_| bay.trial(heat_mm2));
                *left -= now;
            });
        }
        take_over(&mut self.ours, bays.into_iter().map(|one| (one.moving, one.bay.ours())));
    }
}

/// A window being worked on.
struct Worked<'a, 'b> {
    /// Its stones, as indices into those of the zone.
    moving: Vec<usize>,
    bay: Bay<'a, 'b>,
    /// Trials to come.
    left: usize,
}

/// Dice of each window's own.
fn dice(seed: [u64; 2], window: u64) -> Pcg64 {
    Pcg64::new(u128::from(seed[0]) | u128::from(window) << 64, u128::from(seed[1]))
}

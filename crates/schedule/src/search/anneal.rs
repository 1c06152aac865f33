//! Simulated annealing over the choices (Kirkpatrick, Gelatt, Vecchi 1983).

use super::chance::Chance;
use super::start::starts;
use super::trail::Trail;
use crate::decode::{Choices, Compiled, Score};
use crate::plan::Placed;

/// How the parts of a cost are weighed against each other while the search goes uphill; what is kept as
/// best is compared part by part.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Weights {
    pub lost: f64,
    pub late: f64,
    pub extra: f64,
    pub finish: f64,
    /// A slot of lateness as it would be if the post went at any time: it shows the way between two
    /// posts.
    pub smooth: f64,
}

impl Weights {
    fn energy(&self, score: Score) -> f64 {
        let cost = score.cost;
        self.lost * f64::from(score.lost)
            + self.late * cost.late as f64
            + self.extra * f64::from(cost.extras)
            + self.finish * cost.finishes as f64
            + self.smooth * score.smooth as f64
    }
}

/// One search.
#[derive(Debug, Clone)]
pub(crate) struct Annealer<'a> {
    trail: Trail<'a>,
    chance: Chance,
    weights: Weights,
    energy: f64,
    /// Best choices, and what they come to.
    pub best: (Score, Choices),
    /// Temperature to begin with.
    hot: f64,
}

/// How much later a task is placed to share a mix, to begin with: not at all, three hours, a day.
const PATIENCE: [i32; 3] = [0, 36, 288];

/// Temperatures to begin with, for a small book and a large one, and to end with: in the weights of a
/// cost, found by trial on made-up studios.
const HOT: (f64, f64) = (300.0, 35.0);
const COLD: f64 = 3.0;
/// A book of fewer tasks is small: there is time to try many orders of its jobs.
const SMALL: usize = 600;

impl<'a> Annealer<'a> {
    /// Begins with the first rule alone, for a plan at once.
    pub fn new(compiled: &'a Compiled<'a>, weights: Weights, seed: u64) -> Self {
        let mut trail = Trail::new(compiled, &[]);
        let now = starts(compiled).next().unwrap_or_else(|| Choices::none(compiled));
        let score = trail.decoder.place_all(&now);
        Self {
            trail,
            chance: Chance::new(seed),
            weights,
            energy: weights.energy(score),
            best: (score, now),
            hot: 0.0,
        }
    }

    /// Goes on from the best of all rules.
    pub fn try_rules(&mut self) {
        for rule in starts(self.trail.decoder.compiled) {
            for keep in [false, true] {
                for patience in PATIENCE {
                    let mut choices = rule.clone();
                    choices.keep.fill(keep);
                    choices.patience = patience;
                    let score = self.trail.decoder.place_all(&choices);
                    if score < self.best.0 {
                        self.best = (score, choices);
                    }
                }
            }
        }
        self.energy = self.weights.energy(self.best.0);
        self.trail.begin(&self.best.1);
        self.hot = self.heat();
    }

    /// The same search with other chance.
    pub fn with_seed(&self, seed: u64) -> Self {
        Self { chance: Chance::new(seed), ..self.clone() }
    }

    /// A temperature at which a usual change for the worse is taken often: the median of some.
    fn heat(&mut self) -> f64 {
        let mut worse: Vec<f64> = Vec::new();
        if !self.trail.mover.can_move() {
            return 0.0;
        }
        let tries = (20_000 / self.trail.decoder.compiled.len().max(1)).clamp(4, 60);
        for _ in 0..tries {
            self.trail
                .change(|mover, choices, begins| mover.change(choices, &mut self.chance, begins));
            if let Some(score) = self.trail.place(|_, _| true).filter(|score| score.lost == 0) {
                let by = self.weights.energy(score) - self.energy;
                worse.extend(Some(by).filter(|by| *by > 0.0));
            }
            self.trail.undo();
        }
        worse.sort_by(f64::total_cmp);
        worse.get(worse.len() / 2).copied().unwrap_or(1.0)
    }

    /// Some changes at one temperature; `share` is how much of the whole search is behind, 0 to 1.
    pub fn round(&mut self, changes: u32, share: f64) {
        if !self.trail.mover.can_move() {
            return;
        }
        let hot = if self.trail.decoder.compiled.len() < SMALL { HOT.0 } else { HOT.1 };
        let (from, to) = (hot.min(self.hot), COLD.min(self.hot));
        let temperature = from * libm::pow(to / from.max(1e-9), share.clamp(0.0, 1.0));
        for _ in 0..changes {
            self.trail
                .change(|mover, choices, begins| mover.change(choices, &mut self.chance, begins));
            // What would be refused in the end is given up as soon as that is certain.
            let most = self.energy - temperature * libm::log(self.chance.share().max(1e-300));
            let weights = self.weights;
            let placed = self.trail.place(|so_far, _| weights.energy(so_far) <= most);
            if let Some(score) = placed.filter(|score| weights.energy(*score) <= most) {
                self.energy = weights.energy(score);
                self.trail.keep();
                if score < self.best.0 {
                    self.best = (score, self.trail.choices.clone());
                }
            } else {
                self.trail.undo();
            }
        }
    }

    /// Goes on from the best of another search, if that is better than its own.
    pub fn go_on_from(&mut self, other: &(Score, Choices)) {
        if other.0 < self.best.0 {
            self.best.clone_from(other);
            self.energy = self.weights.energy(other.0);
            self.trail.begin(&other.1);
        }
    }

    /// Tasks that have no place in the best plan.
    pub fn lost(&mut self) -> Vec<usize> {
        let decoder = &mut self.trail.decoder;
        decoder.place_all(&self.best.1);
        decoder.lost()
    }

    /// Where everything stands in the best plan.
    pub fn plan(&mut self) -> Vec<Option<Placed>> {
        let decoder = &mut self.trail.decoder;
        decoder.place_all(&self.best.1);
        decoder.now.state.plan(decoder.compiled)
    }
}

//! Betters a plan that is known, by any measure, without leaving it further than that pays: simulated
//! annealing from the plan itself (Kirkpatrick, Gelatt, Vecchi 1983), begun nearly cold.

use super::chance::Chance;
use super::homing::Homing;
use super::stand::standing;
use super::trail::Trail;
use crate::book::Slot;
use crate::decode::{Choices, Compiled, Score};
use crate::plan::Placed;

/// What a placing comes to, or comes to at least while it is not at its end.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Found<'a> {
    pub score: Score,
    /// When each job is done.
    pub finish: &'a [Slot],
}

/// Between which temperatures the search cools, in what the measure counts, unless told otherwise.
const HOT: f64 = 300.0;
const COLD: f64 = 3.0;

/// One search.
pub(crate) struct Mender<'a> {
    trail: Trail<'a>,
    chance: Chance,
    homing: Homing,
    /// The temperature to begin with.
    pub hot: f64,
    worth: f64,
    /// Best choices so far, and what they measure.
    pub best: Choices,
    pub least: f64,
}

impl<'a> Mender<'a> {
    /// A search that has not begun; `home` is the plan in force.
    pub fn new(compiled: &'a Compiled<'a>, home: &[Option<Placed>], seed: u64) -> Self {
        let ranks = standing(compiled, home, 0).key;
        Self {
            trail: Trail::new(compiled, home),
            chance: Chance::new(seed),
            homing: Homing::new(compiled, home, &ranks),
            hot: HOT,
            worth: f64::INFINITY,
            best: Choices::none(compiled),
            least: f64::INFINITY,
        }
    }

    /// Whether there is anything to change.
    pub fn can_move(&self) -> bool {
        !self.homing.free.is_empty()
    }

    /// Tries these tasks more often than the others.
    pub fn focus(&mut self, tasks: Vec<usize>) {
        self.homing.focus = tasks;
    }

    /// Looks at choices, and goes on from them if they are the best so far.
    pub fn offer(&mut self, choices: Choices, measure: &dyn Fn(Found) -> f64) {
        let score = self.trail.decoder.place_all(&choices);
        let worth = measure(Found { score, finish: &self.trail.decoder.now.finish });
        if worth < self.least || self.least.is_infinite() {
            (self.least, self.worth) = (worth, worth);
            self.trail.begin(&choices);
            self.best = choices;
        }
    }

    /// Tries some changes; `share` is how much of the search is behind, 0 to 1. The measure must not fall
    /// as more tasks are placed.
    pub fn round(&mut self, changes: u32, share: f64, measure: &dyn Fn(Found) -> f64) {
        if !self.can_move() {
            return;
        }
        let temperature = self.hot * libm::pow(COLD / self.hot, share.clamp(0.0, 1.0));
        for _ in 0..changes {
            let (homing, chance) = (&self.homing, &mut self.chance);
            self.trail
                .change(|mover, choices, begins| homing.change(mover, choices, chance, begins));
            let most = self.worth - temperature * libm::log(self.chance.share().max(1e-300));
            let placed = self.trail.place(|score, finish| measure(Found { score, finish }) <= most);
            let worth = placed.map_or(f64::INFINITY, |score| {
                measure(Found { score, finish: &self.trail.decoder.now.finish })
            });
            if worth <= most {
                self.worth = worth;
                self.trail.keep();
                if worth < self.least {
                    self.least = worth;
                    self.best.clone_from(&self.trail.choices);
                }
            } else {
                self.trail.undo();
            }
        }
    }

    /// Where everything stands in the best plan.
    ///
    /// # Errors
    /// Tasks that have no place.
    pub fn plan(&mut self) -> Result<Vec<Option<Placed>>, Vec<usize>> {
        let decoder = &mut self.trail.decoder;
        if decoder.place_all(&self.best).lost > 0 {
            return Err(decoder.lost());
        }
        Ok(decoder.now.state.plan(decoder.compiled))
    }
}

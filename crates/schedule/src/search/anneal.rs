//! Simulated annealing over the choices (Kirkpatrick, Gelatt, Vecchi 1983).

use super::chance::Chance;
use super::moves::Mover;
use super::start::starts;
use crate::book::Slot;
use crate::decode::{Choices, Compiled, Course, Decoder, Score, Turns};
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
    decoder: Decoder<'a>,
    mover: Mover<'a>,
    chance: Chance,
    weights: Weights,
    now: Choices,
    energy: f64,
    /// Best choices, and what they come to.
    pub best: (Score, Choices),
    /// Temperature to begin with.
    hot: f64,
    /// Where the choices of now let each task begin.
    begins: Vec<Slot>,
    /// In which order the choices of now place the tasks.
    turns: Turns,
    /// How far the placing is at some turns with the choices of now, and whether that still holds.
    marks: Vec<(u32, Course)>,
    holds: Vec<bool>,
    /// Changes tried since the marks were last made anew.
    tried: u32,
}

/// How much later a task is placed to share a mix, to begin with: not at all, three hours, a day.
const PATIENCE: [i32; 3] = [0, 36, 288];

/// Temperatures to begin with, for a small book and a large one, and to end with: in the weights of a
/// cost, found by trial on made-up studios.
const HOT: (f64, f64) = (1000.0, 300.0);
const COLD: f64 = 3.0;
/// A book of fewer tasks is small: there is time to try many orders of its jobs.
const SMALL: usize = 600;

/// How many courses are kept on the way, to begin from.
const MARKS: u32 = 7;

impl<'a> Annealer<'a> {
    /// Begins with the first rule alone, for a plan at once.
    pub fn new(compiled: &'a Compiled<'a>, weights: Weights, seed: u64) -> Self {
        let mut decoder = Decoder::new(compiled);
        let now = starts(compiled).next().unwrap_or_else(|| Choices::none(compiled));
        let score = decoder.place_all(&now);
        Self {
            mover: Mover::new(compiled),
            chance: Chance::new(seed),
            decoder,
            weights,
            energy: weights.energy(score),
            best: (score, now.clone()),
            now,
            hot: 0.0,
            begins: Vec::new(),
            turns: Turns::default(),
            marks: Vec::new(),
            holds: Vec::new(),
            tried: 0,
        }
    }

    /// Goes on from the best of all rules.
    pub fn try_rules(&mut self) {
        for rule in starts(self.decoder.compiled) {
            for keep in [false, true] {
                for patience in PATIENCE {
                    let mut choices = rule.clone();
                    choices.keep.fill(keep);
                    choices.patience = patience;
                    let score = self.decoder.place_all(&choices);
                    if score < self.best.0 {
                        self.best = (score, choices);
                    }
                }
            }
        }
        self.now.clone_from(&self.best.1);
        self.energy = self.weights.energy(self.best.0);
        self.hot = self.heat();
        self.mark_all();
    }

    /// The same search with other chance.
    pub fn with_seed(&self, seed: u64) -> Self {
        Self { chance: Chance::new(seed), ..self.clone() }
    }

    /// A temperature at which a usual change for the worse is taken often: the median of some.
    fn heat(&mut self) -> f64 {
        let mut worse: Vec<f64> = Vec::new();
        if !self.mover.can_move() {
            return 0.0;
        }
        let tries = (20_000 / self.decoder.compiled.len().max(1)).clamp(4, 60);
        self.decoder.place_all(&self.now);
        let begins = self.decoder.now.state.begins.clone();
        for _ in 0..tries {
            self.mover.change(&mut self.now, &mut self.chance, &begins);
            let score = self.decoder.place_all(&self.now);
            let by = self.weights.energy(score) - self.energy;
            if by > 0.0 && score.lost == 0 {
                worse.push(by);
            }
            self.mover.undo(&mut self.now);
        }
        worse.sort_by(f64::total_cmp);
        worse.get(worse.len() / 2).copied().unwrap_or(1.0)
    }

    /// Some changes at one temperature; `share` is how much of the whole search is behind, 0 to 1.
    pub fn round(&mut self, changes: u32, share: f64) {
        if !self.mover.can_move() {
            return;
        }
        let hot = if self.decoder.compiled.len() < SMALL { HOT.0 } else { HOT.1 };
        let (from, to) = (hot.min(self.hot), COLD.min(self.hot));
        let temperature = from * libm::pow(to / from.max(1e-9), share.clamp(0.0, 1.0));
        for _ in 0..changes {
            self.refresh();
            self.mover.change(&mut self.now, &mut self.chance, &self.begins);
            // What would be refused in the end is given up as soon as that is certain.
            let most = self.energy - temperature * libm::log(self.chance.share().max(1e-300));
            let first = self.mover.first_turn(&self.now, &self.turns);
            let weights = self.weights;
            let placed = self.place_from_turn(first, |so_far| weights.energy(so_far) <= most);
            if let Some(score) = placed.filter(|score| weights.energy(*score) <= most) {
                self.energy = weights.energy(score);
                self.mover.accept();
                self.begins.copy_from_slice(&self.decoder.now.state.begins);
                self.mover.tell_late(&self.decoder.now.finish);
                self.turns.copy_from(&self.decoder.turns);
                for (holds, mark) in self.holds.iter_mut().zip(&self.marks) {
                    *holds &= mark.0 <= first;
                }
                if score < self.best.0 {
                    self.best = (score, self.now.clone());
                }
            } else {
                self.mover.undo(&mut self.now);
            }
        }
    }

    /// Places what the turns before `first` do not settle.
    fn place_from_turn(&mut self, first: u32, wanted: impl Fn(Score) -> bool) -> Option<Score> {
        self.decoder.turns.copy_from(&self.turns);
        let from = self.marks.iter().zip(&self.holds).rev();
        let mut from = from.filter(|(mark, holds)| **holds && mark.0 <= first);
        self.decoder.place_from(&self.now, from.next().map(|(mark, _)| &mark.1), &mut [], wanted)
    }

    /// Makes the marks anew that do not hold any more, once it pays: each placing since has had to go a
    /// longer way for want of them.
    fn refresh(&mut self) {
        let stale = self.holds.iter().filter(|holds| !**holds).count() as u32;
        self.tried += stale;
        if self.tried < 4 * MARKS {
            return;
        }
        self.tried = 0;
        let held = self.holds.iter().take_while(|holds| **holds).count();
        let (hold, stale) = self.marks.split_at_mut(held);
        self.decoder.turns.copy_from(&self.turns);
        self.decoder.place_from(&self.now, hold.last().map(|mark| &mark.1), stale, |_| true);
        let turns = self.turns.key.len() as u32;
        for (holds, mark) in self.holds.iter_mut().zip(&self.marks) {
            *holds = mark.0 > 0 && mark.0 <= turns;
        }
    }

    /// Places choices that are new, and keeps where that leads and how far it is at some turns.
    fn mark_all(&mut self) {
        if self.marks.is_empty() {
            self.marks = (0..MARKS).map(|_| (0, self.decoder.blank())).collect();
        }
        let turns = self.turns.key.len().max(self.decoder.compiled.len() / 2) as u32;
        for (at, mark) in self.marks.iter_mut().enumerate() {
            mark.0 = (at as u32 + 1) * turns / (MARKS + 1);
        }
        self.decoder.place_from(&self.now, None, &mut self.marks, |_| true);
        self.begins.clone_from(&self.decoder.now.state.begins);
        self.mover.tell_late(&self.decoder.now.finish);
        self.turns.copy_from(&self.decoder.turns);
        let turns = self.turns.key.len() as u32;
        self.holds = self.marks.iter().map(|mark| mark.0 > 0 && mark.0 <= turns).collect();
        self.tried = 0;
    }

    /// Goes on from the best of another search, if that is better than its own.
    pub fn go_on_from(&mut self, other: &(Score, Choices)) {
        if other.0 < self.best.0 {
            self.best.clone_from(other);
            self.now.clone_from(&other.1);
            self.energy = self.weights.energy(other.0);
            self.mark_all();
        }
    }

    /// Where everything stands in the best plan.
    pub fn plan(&mut self) -> Vec<Option<Placed>> {
        self.decoder.place_all(&self.best.1);
        self.decoder.now.state.plan(self.decoder.compiled)
    }
}

#[cfg(test)]
#[path = "../../tests/studio_books/mod.rs"]
mod studio_books;

#[cfg(test)]
mod tests {
    use super::studio_books::{Due, Kind, Makers, random_studio};
    use super::*;

    const WEIGHTS: Weights =
        Weights { lost: 1e9, late: 100.0, smooth: 100.0, extra: 1000.0, finish: 1.0 };

    #[test]
    fn placing_from_where_a_change_matters_gives_what_placing_all_gives() {
        for makers in [Makers::Evenings, Makers::WholeDays, Makers::Two, Makers::Four] {
            let book = random_studio(1, 6, Kind::new(makers, Due::Tight));
            let compiled = Compiled::new(&book);
            let mut search = Annealer::new(&compiled, WEIGHTS, 5);
            search.try_rules();
            let mut whole = Decoder::new(&compiled);
            for change in 0..400 {
                search.refresh();
                let begins = search.decoder.now.state.begins.clone();
                search.mover.change(&mut search.now, &mut search.chance, &begins);
                let first = search.mover.first_turn(&search.now, &search.turns);
                let part = search.place_from_turn(first, |_| true);
                assert_eq!(part, Some(whole.place_all(&search.now)), "{makers:?}, change {change}");
                assert_eq!(search.decoder.now.state.begins, whole.now.state.begins);
                if change % 3 == 0 {
                    search.mover.accept();
                    search.turns.copy_from(&search.decoder.turns);
                    for (holds, mark) in search.holds.iter_mut().zip(&search.marks) {
                        *holds &= mark.0 <= first;
                    }
                } else {
                    search.mover.undo(&mut search.now);
                }
            }
        }
    }
}

//! Betters a plan that is known, by any measure, without leaving it further than that pays: simulated
//! annealing from the plan itself (Kirkpatrick, Gelatt, Vecchi 1983), begun nearly cold.

use super::chance::Chance;
use super::moves::Mover;
use crate::book::Slot;
use crate::decode::compiled::NONE;
use crate::decode::{Choices, Compiled, Decoder, Score};
use crate::plan::Placed;

/// What a placing comes to.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Found<'a> {
    pub score: Score,
    /// When each job is done.
    pub finish: &'a [Slot],
    /// Tasks that stand elsewhere than at home, or are done by someone else.
    pub moved: u32,
}

/// Between which temperatures the search cools, in what the measure counts, unless told otherwise.
const HOT: f64 = 300.0;
const COLD: f64 = 3.0;

/// One search.
pub(crate) struct Mender<'a> {
    decoder: Decoder<'a>,
    mover: Mover<'a>,
    chance: Chance,
    home: Vec<Option<(Slot, u32)>>,
    /// Tasks that may move.
    free: Vec<usize>,
    /// Tasks that are tried more often.
    pub focus: Vec<usize>,
    /// The temperature to begin with.
    pub hot: f64,
    now: Choices,
    worth: f64,
    /// Best choices so far, and what they measure.
    pub best: Choices,
    pub least: f64,
}

impl<'a> Mender<'a> {
    /// A search that has not begun; `home` is the plan in force.
    pub fn new(compiled: &'a Compiled<'a>, home: &[Option<Placed>], seed: u64) -> Self {
        let told =
            |placed: &Placed| (placed.begins(), placed.person.map_or(NONE, |person| person as u32));
        let may_move = |task: &usize| compiled.book.tasks[*task].is_open();
        let none = Choices::none(compiled);
        Self {
            decoder: Decoder::new(compiled),
            mover: Mover::new(compiled),
            chance: Chance::new(seed),
            home: (0..compiled.len()).map(|task| home.get(task)?.as_ref().map(told)).collect(),
            free: (0..compiled.len()).filter(may_move).collect(),
            focus: Vec::new(),
            hot: HOT,
            now: none.clone(),
            worth: f64::INFINITY,
            best: none,
            least: f64::INFINITY,
        }
    }

    /// Whether there is anything to change.
    pub fn can_move(&self) -> bool {
        !self.free.is_empty()
    }

    /// Looks at choices, and goes on from them if they are the best so far.
    pub fn offer(&mut self, choices: Choices, measure: &dyn Fn(Found) -> f64) -> f64 {
        let worth = self.look_at(&choices, measure, f64::INFINITY);
        if worth < self.least || self.least.is_infinite() {
            (self.least, self.worth) = (worth, worth);
            self.best.clone_from(&choices);
            self.now = choices;
        }
        worth
    }

    /// What choices measure. The measure must not fall as more tasks are placed when it is only asked
    /// whether it is above `most`.
    fn look_at(&mut self, choices: &Choices, measure: &dyn Fn(Found) -> f64, most: f64) -> f64 {
        let over = |score: Score| {
            // No measure is below what it says of a plan with nothing done and nothing moved.
            most.is_finite() && measure(Found { score, finish: &[], moved: 0 }) > most
        };
        let Some(score) = self.decoder.place_from(choices, None, &mut [], |least| !over(least))
        else {
            return f64::INFINITY;
        };
        let state = &self.decoder.now.state;
        let mut moved = 0;
        for (task, home) in self.home.iter().enumerate() {
            let Some(home) = home else { continue };
            let stands = (state.begins[task], state.person[task]);
            moved += u32::from(!state.placed[task] || stands != *home);
        }
        measure(Found { score, finish: &self.decoder.now.finish, moved })
    }

    /// Tries some changes; `share` is how much of the search is behind, 0 to 1.
    pub fn round(&mut self, changes: u32, share: f64, measure: &dyn Fn(Found) -> f64) {
        if !self.can_move() {
            return;
        }
        let temperature = self.hot * libm::pow(COLD / self.hot, share.clamp(0.0, 1.0));
        self.look_at(&self.now.clone(), measure, f64::INFINITY);
        let mut begins = self.decoder.now.state.begins.clone();
        let mut ends = self.decoder.now.state.ends.clone();
        let mut trial = self.now.clone();
        for _ in 0..changes {
            self.vary(&mut trial, &begins, &ends);
            let most = self.worth - temperature * libm::log(self.chance.share().max(1e-300));
            let worth = self.look_at(&trial, measure, most);
            if worth <= most {
                self.worth = worth;
                self.now.clone_from(&trial);
                begins.copy_from_slice(&self.decoder.now.state.begins);
                ends.copy_from_slice(&self.decoder.now.state.ends);
                if worth < self.least {
                    self.least = worth;
                    self.best.clone_from(&trial);
                }
            } else {
                trial.clone_from(&self.now);
            }
        }
    }

    fn pick(&mut self) -> usize {
        let from = if self.focus.is_empty() || self.chance.happens(0.2) {
            &self.free
        } else {
            &self.focus
        };
        from[self.chance.below(from.len())]
    }

    /// Changes something.
    fn vary(&mut self, trial: &mut Choices, begins: &[Slot], ends: &[Slot]) {
        let task = self.pick();
        let many = self.chance.happens(0.5);
        match self.chance.below(11) {
            0 => self.each(task, many, |task, _| trial.delay[task] = 0),
            1..=3 => self.each(task, many, |task, home| {
                if let Some((begins, person)) = home {
                    (trial.delay[task], trial.person[task]) = (begins, person);
                }
            }),
            4 => {
                let other = self.pick();
                let at = if many { begins[other] } else { ends[other] };
                trial.delay[task] = at;
            }
            5 => {
                let share = self.chance.share() as f32;
                let last = self.home.len() as f32;
                self.each(task, true, |task, _| {
                    let key = trial.key[task];
                    trial.key[task] =
                        if many { key * share } else { key + share * (last - key).max(0.0) };
                });
            }
            6 => {
                let other = self.pick();
                trial.key[task] = (trial.key[other] + self.chance.share() as f32 - 0.5).max(0.0);
                if many {
                    trial.delay[task] = 0;
                }
            }
            7 => {
                // After all others, or before.
                let last = trial.key.iter().copied().fold(0.0, f32::max);
                self.each(task, many, |task, _| {
                    trial.key[task] = if trial.key[task] > 0.5 * last { 0.0 } else { last + 1.0 };
                });
            }
            _ => {
                self.mover.change(trial, &mut self.chance, begins);
                self.mover.accept();
            }
        }
    }

    /// Does something to a task, and maybe to all that come after it.
    fn each(&self, task: usize, many: bool, mut change: impl FnMut(usize, Option<(Slot, u32)>)) {
        let (mut todo, mut seen) = (vec![task], vec![task]);
        while let Some(task) = todo.pop() {
            change(task, self.home[task]);
            if !many {
                return;
            }
            for &(after, _) in self.decoder.compiled.after(task) {
                let after = after as usize;
                if !seen.contains(&after) {
                    seen.push(after);
                    todo.push(after);
                }
            }
        }
    }

    /// Where everything stands in the best plan; `None` if something has no place.
    pub fn plan(&mut self) -> Option<Vec<Option<Placed>>> {
        let best = self.best.clone();
        let score = self.decoder.place_all(&best);
        (score.lost == 0).then(|| self.decoder.now.state.plan(self.decoder.compiled))
    }
}

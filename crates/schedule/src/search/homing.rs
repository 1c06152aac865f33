//! Changes against a plan that is known: back to where a task stood, or out of the way.

use super::chance::Chance;
use super::moves::{Mover, Was};
use crate::book::Slot;
use crate::decode::compiled::NONE;
use crate::decode::{Choices, Compiled};
use crate::plan::Placed;

/// Where tasks stood, and which of them a search tries most.
#[derive(Debug, Clone)]
pub(crate) struct Homing {
    /// Of each task, if it stood anywhere: its rank in time, its beginning and its person.
    home: Vec<Option<(f32, Slot, u32)>>,
    /// Tasks that may move.
    pub free: Vec<usize>,
    /// Tasks that are tried more often.
    pub focus: Vec<usize>,
}

impl Homing {
    /// For a plan in force; `ranks` are the keys that keep it.
    pub fn new(compiled: &Compiled, home: &[Option<Placed>], ranks: &[f32]) -> Self {
        let told = |task: usize| {
            let placed = home.get(task)?.as_ref()?;
            let person = placed.person.map_or(NONE, |person| person as u32);
            Some((ranks[task], placed.begins(), person))
        };
        let may_move = |task: &usize| compiled.book.tasks[*task].is_open();
        Self {
            home: (0..compiled.len()).map(told).collect(),
            free: (0..compiled.len()).filter(may_move).collect(),
            focus: Vec::new(),
        }
    }

    fn pick(&self, chance: &mut Chance) -> usize {
        let from =
            if self.focus.is_empty() || chance.happens(0.2) { &self.free } else { &self.focus };
        from[chance.below(from.len())]
    }

    /// Changes something.
    pub fn change(
        &self,
        mover: &mut Mover,
        choices: &mut Choices,
        chance: &mut Chance,
        begins: &[Slot],
    ) {
        let task = self.pick(chance);
        let many = chance.happens(0.5);
        match chance.below(11) {
            0 => self.each(mover.compiled, task, many, |task| mover.set_delay(choices, task, 0)),
            1..=3 => self.each(mover.compiled, task, many, |task| {
                if let Some((rank, begins, person)) = self.home[task] {
                    mover.set_delay(choices, task, begins);
                    mover.set_person(choices, task, person);
                    if many {
                        mover.set_key(choices, task as u32, rank);
                    }
                }
            }),
            4 => {
                let other = self.pick(chance);
                let work = if many { 0 } else { mover.compiled.work[other] };
                mover.set_delay(choices, task, begins[other] + work);
            }
            5 => {
                let share = chance.share() as f32;
                let last = self.home.len() as f32;
                self.each(mover.compiled, task, true, |task| {
                    let key = choices.key[task];
                    let other =
                        if many { key * share } else { key + share * (last - key).max(0.0) };
                    mover.set_key(choices, task as u32, other);
                });
            }
            6 => {
                let other = self.pick(chance);
                let key = choices.key[other] + chance.share() as f32 - 0.5;
                mover.set_key(choices, task as u32, key);
                if many {
                    mover.set_delay(choices, task, 0);
                }
            }
            7 => {
                // After all others, or before.
                let last = choices.key.iter().copied().fold(0.0, f32::max);
                self.each(mover.compiled, task, many, |task| {
                    let key = if choices.key[task] > 0.5 * last { 0.0 } else { last + 1.0 };
                    mover.set_key(choices, task as u32, key);
                });
            }
            _ => mover.change(choices, chance, begins),
        }
    }

    /// Does something to a task, and maybe to all that come after it.
    fn each(&self, compiled: &Compiled, task: usize, many: bool, mut change: impl FnMut(usize)) {
        let (mut todo, mut seen) = (vec![task], vec![task]);
        while let Some(task) = todo.pop() {
            change(task);
            if !many {
                return;
            }
            for &(after, _) in compiled.after(task) {
                let after = after as usize;
                if !seen.contains(&after) {
                    seen.push(after);
                    todo.push(after);
                }
            }
        }
    }
}

impl Mover<'_> {
    fn set_delay(&mut self, choices: &mut Choices, task: usize, delay: Slot) {
        self.log.push(Was::Delay(task as u32, choices.delay[task]));
        choices.delay[task] = delay;
    }

    fn set_person(&mut self, choices: &mut Choices, task: usize, person: u32) {
        self.log.push(Was::Person(task as u32, choices.person[task]));
        choices.person[task] = person;
    }
}

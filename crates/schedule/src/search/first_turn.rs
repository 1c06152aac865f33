//! From which turn on a change matters.

use super::moves::{Mover, Was};
use crate::decode::compiled::Before;
use crate::decode::{Choices, Turns};

impl Mover<'_> {
    /// The first turn that what was changed can make different; `turns` are those before the change.
    pub fn first_turn(&self, choices: &Choices, turns: &Turns) -> u32 {
        let first = self.log.iter().map(|was| match *was {
            Was::Key(task, key) => {
                let first = choices.first[task as usize];
                if choices.key[task as usize] > key {
                    turns.of[task as usize]
                } else {
                    self.comes_up(turns, first, choices.key[task as usize])
                }
            }
            Was::Keep(link, _) => turns.of[self.compiled.book.links[link as usize].from],
            Was::Delay(task, _) | Was::Person(task, _) => turns.of[task as usize],
            Was::Next(task, _) | Was::First(task, _) => {
                // Untied it may follow at once what it is kept near.
                let mut kept = self.compiled.before(task as usize).iter();
                let kept = kept.any(|gap| choices.keep[gap.link as usize]);
                let turn = self.comes_up(turns, task, choices.key[task as usize]);
                if kept { turn.min(self.opens(turns, task).saturating_sub(1)) } else { turn }
            }
            Was::Patience(_) => 0,
        });
        first.min().unwrap_or(u32::MAX)
    }

    /// The turn in which a task would come up by its key, all before being as it was; not later than it
    /// did.
    fn comes_up(&self, turns: &Turns, task: u32, key: f32) -> u32 {
        let opens = self.opens(turns, task);
        let came = turns.of[task as usize];
        let key = key.to_bits();
        (opens..came).find(|&turn| turns.key[turn as usize] >= key).unwrap_or(came).min(came)
    }

    /// The turn after all forerunners of a task.
    fn opens(&self, turns: &Turns, task: u32) -> u32 {
        let book = self.compiled.book;
        let placed_in = |gap: &Before| {
            let fixed = book.tasks[gap.task as usize].fixed.is_some();
            if fixed { 0 } else { turns.of[gap.task as usize] + 1 }
        };
        self.compiled.before(task as usize).iter().map(placed_in).max().unwrap_or(0)
    }
}

//! From which turn on a change matters.

use super::moves::{Mover, Was};
use crate::decode::compiled::{Before, NONE};
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
            Was::Delay(task, _) | Was::Person(task, _) => self.tried(choices, turns, task),
            Was::Next(task, _) | Was::First(task, _) => {
                let turn = self.comes_up(turns, task, choices.key[task as usize]);
                turn.min(self.tried(choices, turns, task))
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

    /// The first turn in which a task or one of its mix is placed, or tried after what it is kept near.
    fn tried(&self, choices: &Choices, turns: &Turns, task: u32) -> u32 {
        let mut turn = turns.of[task as usize];
        // Mixes that wait for each other lead round in a circle: each is looked at once.
        let mut mixes = vec![choices.first[task as usize]];
        let mut at = 0;
        while at < mixes.len() {
            let mut member = mixes[at];
            while member != NONE {
                turn = turn.min(turns.of[member as usize]);
                for gap in self.compiled.before(member as usize) {
                    let first = choices.first[gap.task as usize];
                    if choices.keep[gap.link as usize] && !mixes.contains(&first) {
                        mixes.push(first);
                    }
                }
                member = choices.next[member as usize];
            }
            at += 1;
        }
        turn
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

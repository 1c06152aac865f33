//! Ties tasks to one mix.

use super::chance::Chance;
use super::moves::Mover;
use crate::book::Slot;
use crate::decode::Choices;
use crate::decode::compiled::NONE;

impl Mover<'_> {
    /// Ties two tasks to one mix, or unties one.
    pub(super) fn tie(&mut self, choices: &mut Choices, chance: &mut Chance, begins: &[Slot]) {
        let kind = chance.below(self.by_kind.len());
        let tasks = &self.by_kind[kind];
        let task = tasks[chance.below(tasks.len())];
        if choices.first[task as usize] != task || choices.next[task as usize] != NONE {
            self.untie(choices, choices.first[task as usize]);
            return;
        }
        // The nearest in time of a few, so that most ties make sense.
        let mut mate = NONE;
        for _ in 0..4 {
            let other = tasks[chance.below(tasks.len())];
            let far = |other: u32| (begins[other as usize] - begins[task as usize]).abs();
            if other != task
                && choices.first[other as usize] != task
                && (mate == NONE || far(other) < far(mate))
            {
                mate = other;
            }
        }
        if mate != NONE {
            self.add_to(choices, choices.first[mate as usize], task);
        }
    }

    fn untie(&mut self, choices: &mut Choices, first: u32) {
        let mut member = first;
        while member != NONE {
            let next = choices.next[member as usize];
            self.set_next(choices, member, NONE);
            self.set_first(choices, member, member);
            member = next;
        }
    }

    /// Adds a single task at the end of a mix, if it fits in.
    fn add_to(&mut self, choices: &mut Choices, first: u32, task: u32) {
        let of = |task: u32| self.compiled.mixes[task as usize];
        let Some(leader) = of(first) else { return };
        let (mut member, mut last, mut offset, mut amount) = (first, first, 0, 0);
        let length = |task: u32, leads: bool| {
            let mix = of(task);
            let own = mix.map_or(0, |mix| if leads { mix.watch } else { mix.watch + mix.stir });
            self.compiled.work[task as usize] - own
        };
        let same_job = |other: u32| {
            let job = |task: u32| self.compiled.book.tasks[task as usize].job;
            job(other) == job(task) && self.before(other, task)
        };
        while member != NONE {
            if same_job(member) {
                return;
            }
            offset += length(member, member == first);
            amount += of(member).map_or(0, |mix| mix.amount);
            last = member;
            member = choices.next[member as usize];
        }
        let Some(mix) = of(task) else { return };
        let stands = offset + length(task, false) - leader.stir;
        if stands <= mix.stands.min(leader.stands)
            && amount + mix.amount <= mix.most.min(leader.most)
        {
            self.set_next(choices, last, task);
            self.set_first(choices, task, first);
        }
    }

    /// Whether two tasks of one job wait for each other: both directions, however far.
    fn before(&self, a: u32, b: u32) -> bool {
        let reaches = |from: u32, to: u32| {
            let mut todo = vec![from];
            let mut seen = std::collections::BTreeSet::new();
            while let Some(task) = todo.pop() {
                if task == to {
                    return true;
                }
                for &(after, _) in self.compiled.after(task as usize) {
                    if seen.insert(after) {
                        todo.push(after);
                    }
                }
            }
            false
        };
        reaches(a, b) || reaches(b, a)
    }
}

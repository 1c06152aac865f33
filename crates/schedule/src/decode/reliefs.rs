//! What is done where a window is missed.

use super::compiled::NONE;
use super::course::Choices;
use super::serial::Decoder;
use crate::book::Slot;

impl Decoder<'_> {
    /// Looks at the windows before a task that would begin at a slot. Where one is missed its relief is
    /// placed: then the slot from which the task may begin. `None` if it may begin as it is; gaps too
    /// long and without relief are counted.
    pub(super) fn relieve(&mut self, task: usize, begins: Slot, broken: &mut u32) -> Option<Slot> {
        let mut later = None;
        for at in 0..self.compiled.before(task).len() {
            let gap = self.compiled.before(task)[at];
            let ended = self.now.state.ends[gap.task as usize];
            if begins <= ended.saturating_add(gap.most) {
                continue;
            }
            if gap.relief == NONE {
                *broken += 1;
                continue;
            }
            let relief = gap.relief as usize;
            // It may have taken the very time that was meant for the task: that is looked for again.
            let newly = !self.now.state.placed[relief];
            if newly {
                let from = (ended + gap.around.0).max(self.compiled.book.tasks[relief].not_before);
                let Some((relief_begins, person)) = self.earliest(relief, from, None) else {
                    *broken += 1;
                    continue;
                };
                self.set_down(relief, relief_begins, person);
                self.now.state.relieved += 1;
            }
            let from = self.now.state.ends[relief] + gap.around.1;
            if from > begins || newly {
                later = Some(later.map_or(from, |later: Slot| later.max(from)));
            }
        }
        later
    }

    /// Undoes the reliefs that were placed for a task.
    pub(super) fn unrelieve(&mut self, task: usize, were: u32) {
        for at in 0..self.compiled.before(task).len() {
            let relief = self.compiled.before(task)[at].relief;
            if self.now.state.relieved > were
                && relief != NONE
                && self.now.state.placed[relief as usize]
            {
                let relief = relief as usize;
                if self.compiled.book.tasks[relief].fixed.is_some() {
                    continue;
                }
                self.lift_time(relief);
                self.now.state.relieved -= 1;
            }
        }
    }

    pub(super) fn lift_time(&mut self, task: usize) {
        self.now.state.vacate(self.compiled, task);
        if self.now.state.person[task] != NONE {
            let stretch = (self.now.state.begins[task], self.now.state.ends[task]);
            self.now.state.free[self.now.state.person[task] as usize].give(stretch);
        }
        self.now.state.placed[task] = false;
    }

    pub(super) fn unrelieve_all(&mut self, choices: &Choices, first: u32, were: u32) {
        let mut member = first;
        while member != NONE {
            self.unrelieve(member as usize, were);
            member = choices.next[member as usize];
        }
    }
}

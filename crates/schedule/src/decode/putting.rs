//! Puts the tasks of one mix where they go, and takes them back.

use super::compiled::NONE;
use super::course::Choices;
use super::serial::Decoder;
use super::spots::Spot;
use crate::book::Slot;

impl Decoder<'_> {
    pub(super) fn commit_one(&mut self, task: usize, spot: Spot) {
        self.set_down(task, spot.begins, spot.person);
        if let Some(mix) = self.compiled.mixes[task] {
            self.stir(task, mix);
        }
    }

    pub(super) fn set_down(&mut self, task: usize, begins: Slot, person: u32) {
        let state = &mut self.now.state;
        let ends = begins + self.compiled.work[task];
        if person != NONE {
            state.free[person as usize].take((begins, ends));
        }
        state.occupy(self.compiled, task, begins);
        state.placed[task] = true;
        state.begins[task] = begins;
        state.ends[task] = ends;
        state.person[task] = person;
    }

    pub(super) fn commit(&mut self, choices: &Choices, first: u32, spot: Spot) {
        let task = first as usize;
        let mut member = first;
        while member != NONE {
            self.fresh.push(member);
            member = choices.next[member as usize];
        }
        let mix = self.compiled.mixes[task];
        if let (Some(mix), true) = (mix, spot.joins != NONE) {
            let was = self.now.state.stirred[mix.kind as usize][spot.joins as usize];
            self.joined.push(Some(was));
            self.follow(task, mix, spot.joins);
            return;
        }
        self.joined.push(None);
        self.commit_one(task, spot);
        let mut member = choices.next[task];
        while member != NONE {
            if let Some(mix) = self.compiled.mixes[member as usize] {
                self.follow(member as usize, mix, self.now.state.mix[task]);
            }
            member = choices.next[member as usize];
        }
    }

    fn follow(&mut self, task: usize, mix: crate::book::Mix, index: u32) {
        self.add_to_mix(task, mix, index);
        self.now.state.placed[task] = true;
        self.now.state.occupy(self.compiled, task, self.now.state.begins[task]);
    }

    /// Takes back what was placed last.
    pub(super) fn lift(&mut self, choices: &Choices, first: u32) {
        let task = first as usize;
        let mut member = first;
        while member != NONE {
            self.fresh.pop();
            member = choices.next[member as usize];
        }
        let was = self.joined.pop().flatten();
        let Some(mix) = self.compiled.mixes[task] else {
            self.lift_time(task);
            return;
        };
        if let Some(was) = was {
            self.now.state.vacate(self.compiled, task);
            self.now.state.placed[task] = false;
            self.take_from_mix(task, mix, Some(was));
            return;
        }
        member = choices.next[task];
        while member != NONE {
            self.now.state.vacate(self.compiled, member as usize);
            self.now.state.placed[member as usize] = false;
            self.now.state.mix[member as usize] = NONE;
            member = choices.next[member as usize];
        }
        self.now.state.vacate(self.compiled, task);
        self.now.state.placed[task] = false;
        self.take_from_mix(task, mix, None);
    }
}

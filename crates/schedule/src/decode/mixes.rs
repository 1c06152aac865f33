//! Tasks that share a mix.

use super::compiled::NONE;
use super::serial::Decoder;
use super::state::Stirred;
use crate::book::{Mix, Slot};

/// A place in a mix that stands already.
#[derive(Debug, Clone, Copy)]
pub(super) struct Join {
    pub mix: u32,
    pub person: u32,
    pub begins: Slot,
}

impl Decoder<'_> {
    /// The earliest place in a mix that stands, from a slot on and not after `latest`.
    pub(super) fn join(&self, task: usize, mix: Mix, from: Slot, latest: Slot) -> Option<Join> {
        let state = &self.now.state;
        let mut best: Option<Join> = None;
        for (index, stirred) in state.stirred[mix.kind as usize].iter().enumerate() {
            let begins = stirred.tail;
            if begins < from
                || begins > best.map_or(latest, |best| best.begins - 1)
                || stirred.amount + mix.amount > mix.most
                || !self.compiled.hands(task).contains(&stirred.person)
            {
                continue;
            }
            let ends = begins + self.compiled.work[task] - mix.stir;
            let person = &state.free[stirred.person as usize];
            if ends - mix.watch - stirred.ready <= mix.stands
                && person.is_free((stirred.busy_until, ends))
                && state.machines_from(self.compiled, task, begins) == begins
            {
                best = Some(Join { mix: index as u32, person: stirred.person, begins });
            }
        }
        best
    }

    /// Stirs a mix for a task that is placed.
    pub(super) fn stir(&mut self, task: usize, mix: Mix) {
        let state = &mut self.now.state;
        let of_kind = &mut state.stirred[mix.kind as usize];
        state.mix[task] = of_kind.len() as u32;
        of_kind.push(Stirred {
            person: state.person[task],
            ready: state.begins[task] + mix.stir,
            tail: state.ends[task] - mix.watch,
            busy_until: state.ends[task],
            amount: mix.amount,
        });
    }

    /// Adds a task to a mix that stands, at its tail; takes the person's time.
    pub(super) fn add_to_mix(&mut self, task: usize, mix: Mix, index: u32) {
        let work = self.compiled.work[task];
        let state = &mut self.now.state;
        let stirred = &mut state.stirred[mix.kind as usize][index as usize];
        let (begins, ends) = (stirred.tail, stirred.tail + work - mix.stir);
        state.free[stirred.person as usize].take((stirred.busy_until, ends));
        stirred.tail = ends - mix.watch;
        stirred.busy_until = stirred.busy_until.max(ends);
        stirred.amount += mix.amount;
        state.person[task] = stirred.person;
        state.begins[task] = begins;
        state.ends[task] = ends;
        state.mix[task] = index;
    }

    /// Takes back the last task of a mix, which `was` is without it; or all of the mix that was stirred
    /// last, by its first task.
    pub(super) fn take_from_mix(&mut self, task: usize, mix: Mix, was: Option<Stirred>) {
        let state = &mut self.now.state;
        let of_kind = &mut state.stirred[mix.kind as usize];
        let index = state.mix[task] as usize;
        match was {
            Some(was) => {
                let now = of_kind[index];
                state.free[now.person as usize].give((was.busy_until, now.busy_until));
                of_kind[index] = was;
            }
            None => {
                let now = of_kind[index];
                let all = (state.begins[task], now.busy_until);
                state.free[now.person as usize].give(all);
                of_kind.truncate(index);
            }
        }
        state.mix[task] = NONE;
    }
}

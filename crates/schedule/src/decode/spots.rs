//! Where the tasks of one mix can stand.

use super::compiled::NONE;
use super::course::Choices;
use super::serial::Decoder;
use crate::book::Slot;

/// Where a task and those tied to it go.
#[derive(Clone, Copy)]
pub(super) struct Spot {
    pub begins: Slot,
    pub person: u32,
    /// Mix that is joined.
    pub joins: u32,
}

impl Decoder<'_> {
    /// From the beginning of a task to the beginning of the next one of its mix.
    pub(super) fn step_in_mix(&self, task: usize, joins: bool) -> Slot {
        self.compiled.mixes[task].map_or(0, |mix| {
            self.compiled.work[task] - mix.watch - if joins { mix.stir } else { 0 }
        })
    }

    pub(super) fn earliest_of_all(&self, choices: &Choices, first: u32) -> Slot {
        let (mut member, mut offset, mut from) = (first, 0, 0);
        while member != NONE {
            from = from.max(self.from(choices, member as usize) - offset);
            offset += self.step_in_mix(member as usize, member != first);
            member = choices.next[member as usize];
        }
        from
    }

    /// By how much the tasks of a mix come too late for the window of a link.
    pub(super) fn late_for(&self, choices: &Choices, first: u32, begins: Slot, link: u32) -> Slot {
        let told = &self.compiled.book.links[link as usize];
        let (mut member, mut offset) = (first, 0);
        while member != NONE && member as usize != told.to {
            offset += self.step_in_mix(member as usize, member != first);
            member = choices.next[member as usize];
        }
        let closes = told.most.map_or(Slot::MAX, |most| self.now.state.ends[told.from] + most);
        begins + offset - closes
    }

    /// The earliest spot of the tasks of one mix.
    pub(super) fn spot(&self, choices: &Choices, first: u32, from: Slot) -> Option<Spot> {
        let task = first as usize;
        let only = self.only(choices, task);
        if choices.next[task] == NONE {
            let (begins, person) = self.earliest(task, from, only)?;
            let alone = Spot { begins, person, joins: NONE };
            let Some(mix) = self.compiled.mixes[task] else { return Some(alone) };
            let joined = self.join(task, mix, from, begins.saturating_add(choices.patience));
            return Some(joined.map_or(alone, |join| Spot {
                begins: join.begins,
                person: join.person,
                joins: join.mix,
            }));
        }
        let mut best: Option<Spot> = None;
        let length = self.length_of_all(choices, first);
        for &person in self.compiled.hands(task) {
            if only.is_some_and(|only| only != person) || !self.all_may(choices, first, person) {
                continue;
            }
            let mut at = from;
            while let Some(begins) = self.now.state.free[person as usize].find(at, length) {
                if best.is_some_and(|best| best.begins <= begins) {
                    break;
                }
                let (mut member, mut offset, mut next) = (first, 0, begins);
                while member != NONE {
                    let own = begins + offset;
                    let could = self.now.state.machines_from(self.compiled, member as usize, own);
                    next = next.max(could - offset);
                    offset += self.step_in_mix(member as usize, member != first);
                    member = choices.next[member as usize];
                }
                if next == begins && self.room_for_all(choices, first, begins) {
                    best = Some(Spot { begins, person, joins: NONE });
                    break;
                }
                at = next.max(begins + 1);
            }
        }
        best
    }

    /// Whether machines have room for all of a mix at once, not only for each by itself.
    fn room_for_all(&self, choices: &Choices, first: u32, begins: Slot) -> bool {
        let (mut member, mut offset) = (first, 0);
        let mut taken: Vec<(usize, Slot, Slot, u16)> = Vec::new();
        while member != NONE {
            for used in self.compiled.uses(member as usize) {
                let from = begins + offset + used.from;
                taken.push((used.machine, from, from + used.length, used.amount));
            }
            offset += self.step_in_mix(member as usize, member != first);
            member = choices.next[member as usize];
        }
        // Between two moments at which one of them begins or ends, as much is needed all the time.
        taken.iter().all(|&(machine, _, _, _)| {
            let own = || taken.iter().filter(|other| other.0 == machine);
            let mut marks: Vec<Slot> = own().flat_map(|other| [other.1, other.2]).collect();
            marks.sort_unstable();
            marks.dedup();
            marks.windows(2).all(|pair| {
                let (from, to) = (pair[0], pair[1]);
                let within = own().filter(|other| other.1 <= from && to <= other.2);
                let together: u16 = within.map(|other| other.3).sum();
                self.now.state.room[machine].last_lack((from, to), together).is_none()
            })
        })
    }

    fn length_of_all(&self, choices: &Choices, first: u32) -> Slot {
        let (mut member, mut offset, mut length) = (first, 0, 0);
        while member != NONE {
            let mix = self.compiled.mixes[member as usize];
            let stir = if member == first { 0 } else { mix.map_or(0, |mix| mix.stir) };
            length = length.max(offset + self.compiled.work[member as usize] - stir);
            offset += self.step_in_mix(member as usize, member != first);
            member = choices.next[member as usize];
        }
        length
    }

    fn all_may(&self, choices: &Choices, first: u32, person: u32) -> bool {
        let mut member = first;
        while member != NONE {
            if !self.compiled.hands(member as usize).contains(&person) {
                return false;
            }
            member = choices.next[member as usize];
        }
        true
    }
}

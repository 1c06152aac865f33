//! Places a task, those tied to it in one mix, and those that must follow within a window.

use super::compiled::NONE;
use super::serial::{Choices, Decoder};
use crate::book::Slot;

/// How often the beginning of a chain is put off before its windows are given up.
const TRIES: u32 = 24;

/// What came of placing a task whose window before it is to be kept.
enum Came {
    Placed,
    /// The task before must be put off by so many slots.
    TooLate(Slot),
    NoRoom,
}

/// Where a task and those tied to it go.
#[derive(Clone, Copy)]
struct Spot {
    begins: Slot,
    person: u32,
    /// Mix that is joined.
    joins: u32,
}

impl Decoder<'_> {
    /// Places the tasks of one mix, or counts them as lost; gives the number of gaps that are too long.
    pub(super) fn place_or_lose(&mut self, choices: &Choices, first: u32) -> u32 {
        let mut broken = 0;
        let (mut member, mut none_placed) = (first, true);
        while member != NONE {
            none_placed &= !self.now.state.placed[member as usize];
            member = choices.next[member as usize];
        }
        if none_placed && matches!(self.place(choices, first, None, &mut broken), Came::Placed) {
            return broken;
        }
        member = first;
        while member != NONE {
            broken += self.place_alone(choices, member as usize);
            member = choices.next[member as usize];
        }
        broken
    }

    /// Places one task whatever it is tied to; without any room it is lost.
    pub(super) fn place_alone(&mut self, choices: &Choices, task: usize) -> u32 {
        if self.now.state.placed[task] {
            return 0;
        }
        let mut broken = 0;
        let from = self.from(choices, task);
        let sits = self.compiled.sittings[task].is_some();
        if sits && self.place_sittings(task, from, self.only(choices, task)) {
        } else if let Some(spot) =
            self.begin_after_windows(choices, task, from, &mut broken).filter(|_| !sits)
        {
            self.commit_one(task, spot);
        } else {
            let state = &mut self.now.state;
            state.lost += 1;
            state.placed[task] = true;
            state.begins[task] = self.compiled.book.horizon;
            state.ends[task] = self.compiled.book.horizon;
            state.sat_at[task] = (0, 0);
        }
        self.fresh.push(task as u32);
        self.joined.push(None);
        broken
    }

    fn begin_after_windows(
        &mut self,
        choices: &Choices,
        task: usize,
        mut from: Slot,
        broken: &mut u32,
    ) -> Option<Spot> {
        let only = self.only(choices, task);
        loop {
            let (begins, person) = self.earliest(task, from, only)?;
            match self.relieve(task, begins, broken) {
                Some(later) => from = from.max(later),
                None => return Some(Spot { begins, person, joins: NONE }),
            }
        }
    }

    fn commit_one(&mut self, task: usize, spot: Spot) {
        self.set_down(task, spot.begins, spot.person);
        if let Some(mix) = self.compiled.mixes[task] {
            self.stir(task, mix);
        }
    }

    fn set_down(&mut self, task: usize, begins: Slot, person: u32) {
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

    fn only(&self, choices: &Choices, task: usize) -> Option<u32> {
        (choices.person[task] != NONE).then_some(choices.person[task])
    }

    /// Looks at the windows before a task that would begin at a slot. Where one is missed its relief is
    /// placed: then the slot from which the task may begin. `None` if it may begin as it is; gaps too
    /// long and without relief are counted.
    fn relieve(&mut self, task: usize, begins: Slot, broken: &mut u32) -> Option<Slot> {
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
    fn unrelieve(&mut self, task: usize, were: u32) {
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

    fn lift_time(&mut self, task: usize) {
        self.now.state.vacate(self.compiled, task);
        if self.now.state.person[task] != NONE {
            let stretch = (self.now.state.begins[task], self.now.state.ends[task]);
            self.now.state.free[self.now.state.person[task] as usize].give(stretch);
        }
        self.now.state.placed[task] = false;
    }

    /// Places the tasks of one mix, and then what shall follow them within a window. `kept` is the link
    /// by which they follow another in turn.
    fn place(
        &mut self,
        choices: &Choices,
        first: u32,
        kept: Option<u32>,
        broken: &mut u32,
    ) -> Came {
        let task = first as usize;
        if self.compiled.sittings[task].is_some() {
            let from = self.from(choices, task);
            if !self.place_sittings(task, from, self.only(choices, task)) {
                return Came::NoRoom;
            }
            self.fresh.push(first);
            self.joined.push(None);
            return Came::Placed;
        }
        let mut from = self.from_of_all(choices, first);
        let were = self.now.state.relieved;
        let mut tries = 0;
        loop {
            let Some(spot) = self.spot(choices, first, from) else {
                self.unrelieve_all(choices, first, were);
                return Came::NoRoom;
            };
            if let Some(link) = kept {
                let late = self.late_for(choices, first, spot.begins, link);
                if late > 0 {
                    self.unrelieve_all(choices, first, were);
                    return Came::TooLate(late);
                }
            }
            let mut later: Option<Slot> = None;
            let (mut member, mut offset) = (first, 0);
            while member != NONE {
                let begins = spot.begins + offset;
                if let Some(needed) = self.relieve(member as usize, begins, broken) {
                    later = Some(later.unwrap_or(0).max(needed - offset));
                }
                offset += self.step_in_mix(member as usize, member != first);
                member = choices.next[member as usize];
            }
            if let Some(later) = later {
                from = from.max(later);
                continue;
            }
            self.commit(choices, first, spot);
            let Some((next, link)) = self.kept_after(choices, first) else { return Came::Placed };
            if tries >= TRIES {
                return Came::Placed;
            }
            match self.place(choices, next, Some(link), broken) {
                Came::TooLate(by) if tries + 1 < TRIES => {
                    tries += 1;
                    self.lift(choices, first);
                    self.unrelieve_all(choices, first, were);
                    from = spot.begins + by;
                }
                // Given up: what follows is placed by itself later.
                _ => return Came::Placed,
            }
        }
    }

    fn unrelieve_all(&mut self, choices: &Choices, first: u32, were: u32) {
        let mut member = first;
        while member != NONE {
            self.unrelieve(member as usize, were);
            member = choices.next[member as usize];
        }
    }

    /// From the beginning of a task to the beginning of the next one of its mix.
    fn step_in_mix(&self, task: usize, joins: bool) -> Slot {
        self.compiled.mixes[task].map_or(0, |mix| {
            self.compiled.work[task] - mix.watch - if joins { mix.stir } else { 0 }
        })
    }

    fn from_of_all(&self, choices: &Choices, first: u32) -> Slot {
        let (mut member, mut offset, mut from) = (first, 0, 0);
        while member != NONE {
            from = from.max(self.from(choices, member as usize) - offset);
            offset += self.step_in_mix(member as usize, member != first);
            member = choices.next[member as usize];
        }
        from
    }

    /// By how much the tasks of a mix come too late for the window of a link.
    fn late_for(&self, choices: &Choices, first: u32, begins: Slot, link: u32) -> Slot {
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
    fn spot(&self, choices: &Choices, first: u32, from: Slot) -> Option<Spot> {
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
        taken.iter().all(|&(machine, from, to, _)| {
            let together: u16 = taken
                .iter()
                .filter(|other| other.0 == machine && other.1 < to && from < other.2)
                .map(|other| other.3)
                .sum();
            self.now.state.room[machine].last_lack((from, to), together).is_none()
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

    fn commit(&mut self, choices: &Choices, first: u32, spot: Spot) {
        let task = first as usize;
        let mut member = first;
        while member != NONE {
            self.fresh.push(member);
            member = choices.next[member as usize];
        }
        let mix = self.compiled.mixes[task];
        if let (Some(mix), true) = (mix, spot.joins != NONE) {
            let was = self.now.state.stirred[mix.kind as usize][spot.joins as usize];
            self.joined.push(Some((spot.joins, was)));
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
    fn lift(&mut self, choices: &Choices, first: u32) {
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
        if let Some((_, was)) = was {
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

    /// What shall follow within a window the tasks that were just placed, and may.
    fn kept_after(&self, choices: &Choices, first: u32) -> Option<(u32, u32)> {
        let mut member = first;
        while member != NONE {
            for &(after, link) in self.compiled.after(member as usize) {
                if !choices.keep[link as usize] {
                    continue;
                }
                let next = choices.first[after as usize];
                let (mut other, mut ready) = (next, true);
                while other != NONE {
                    ready &= self.may_be_placed(other as usize);
                    other = choices.next[other as usize];
                }
                if ready {
                    return Some((next, link));
                }
            }
            member = choices.next[member as usize];
        }
        None
    }
}

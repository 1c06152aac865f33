//! Places a task, those tied to it in one mix, and those that must follow within a window.

use super::compiled::NONE;
use super::course::Choices;
use super::serial::Decoder;
use super::spots::Spot;
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

    pub(super) fn only(&self, choices: &Choices, task: usize) -> Option<u32> {
        (choices.person[task] != NONE).then_some(choices.person[task])
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
        let mut from = self.earliest_of_all(choices, first);
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

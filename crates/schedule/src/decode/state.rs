//! What is placed so far.

use super::compiled::{Compiled, NONE};
use super::free::Free;
use super::room::Room;
use crate::book::Slot;
use crate::plan::{Placed, Stretch};

/// One mix and how far it is used.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stirred {
    /// Who stirred it.
    pub person: u32,
    /// When its stirring ended.
    pub ready: Slot,
    /// When the next task may begin.
    pub tail: Slot,
    /// When the person is free again.
    pub busy_until: Slot,
    /// How much is used.
    pub amount: u32,
}

/// Where everything stands.
#[derive(Debug, Clone)]
pub(crate) struct State {
    pub free: Vec<Free>,
    pub room: Vec<Room>,
    pub placed: Vec<bool>,
    pub begins: Vec<Slot>,
    pub ends: Vec<Slot>,
    /// [`NONE`] if nobody is needed.
    pub person: Vec<u32>,
    /// Index into the mixes of its kind, or [`NONE`].
    pub mix: Vec<u32>,
    /// Where the sittings of a task begin in `sat`, and how many there are.
    pub sat_at: Vec<(u32, u32)>,
    pub sat: Vec<Stretch>,
    /// Mixes of each kind.
    pub stirred: Vec<Vec<Stirred>>,
    /// Optional tasks that were needed.
    pub relieved: u32,
    /// Tasks for which there was no place.
    pub lost: u32,
    /// Mixes made by fixed tasks.
    fixed_mixes: u32,
}

impl State {
    /// With the fixed tasks in their places.
    pub fn new(compiled: &Compiled) -> Self {
        let book = compiled.book;
        let n = compiled.len();
        let mut state = Self {
            free: book.people.iter().map(|person| Free::new(&person.open, book.horizon)).collect(),
            room: book.machines.iter().map(|machine| Room::new(machine, book.horizon)).collect(),
            placed: vec![false; n],
            begins: vec![0; n],
            ends: vec![0; n],
            person: vec![NONE; n],
            mix: vec![NONE; n],
            sat_at: vec![(0, 0); n],
            sat: Vec::new(),
            stirred: vec![Vec::new(); compiled.kinds],
            relieved: 0,
            lost: 0,
            fixed_mixes: 0,
        };
        let mut mixes = Vec::new();
        for (index, task) in book.tasks.iter().enumerate() {
            let Some(fixed) = &task.fixed else { continue };
            state.placed[index] = true;
            state.begins[index] = fixed.begins();
            state.ends[index] = fixed.ends();
            state.relieved += u32::from(task.optional);
            mixes.extend(fixed.mix);
            if let Some(person) = fixed.person {
                state.person[index] = person as u32;
                for &stretch in &fixed.stretches {
                    let ahead = (stretch.0.max(0), stretch.1.max(0));
                    state.free[person].take(ahead);
                    if let Some(sittings) = task.sittings {
                        state.free[person].calm_around(ahead, sittings.rest);
                    }
                }
            }
            for taken in &task.uses {
                let from = fixed.begins() + taken.from;
                state.room[taken.machine].take((from, from + taken.length), taken.amount);
            }
        }
        mixes.sort_unstable();
        mixes.dedup();
        state.free.iter_mut().for_each(Free::keep);
        state.room.iter_mut().for_each(Room::keep);
        state.fixed_mixes = mixes.len() as u32;
        state
    }

    /// As another stands, which began alike.
    pub fn copy_from(&mut self, other: &Self) {
        for (free, other) in self.free.iter_mut().zip(&other.free) {
            free.copy_from(other);
        }
        for (room, other) in self.room.iter_mut().zip(&other.room) {
            room.copy_from(other);
        }
        self.placed.copy_from_slice(&other.placed);
        self.begins.copy_from_slice(&other.begins);
        self.ends.copy_from_slice(&other.ends);
        self.person.copy_from_slice(&other.person);
        self.mix.copy_from_slice(&other.mix);
        self.sat_at.copy_from_slice(&other.sat_at);
        self.sat.clone_from(&other.sat);
        for (stirred, other) in self.stirred.iter_mut().zip(&other.stirred) {
            stirred.clone_from(other);
        }
        (self.relieved, self.lost) = (other.relieved, other.lost);
    }

    /// Mixes made.
    pub fn mixes(&self) -> u32 {
        self.fixed_mixes + self.stirred.iter().map(|kind| kind.len() as u32).sum::<u32>()
    }

    /// Takes room on machines for a task.
    pub fn occupy(&mut self, compiled: &Compiled, task: usize, begins: Slot) {
        for taken in compiled.uses(task) {
            let from = begins + taken.from;
            self.room[taken.machine].take((from, from + taken.length), taken.amount);
        }
    }

    /// Gives it back.
    pub fn vacate(&mut self, compiled: &Compiled, task: usize) {
        for taken in compiled.uses(task) {
            let from = self.begins[task] + taken.from;
            self.room[taken.machine].give((from, from + taken.length), taken.amount);
        }
    }

    /// The earliest beginning at or after `from` that machines allow, as far as one pass can tell: it
    /// is `from` itself only if they do.
    pub fn machines_from(&self, compiled: &Compiled, task: usize, from: Slot) -> Slot {
        let mut begins = from;
        for taken in compiled.uses(task) {
            let at = from + taken.from;
            let lack = self.room[taken.machine].last_lack((at, at + taken.length), taken.amount);
            begins = lack.map_or(begins, |lack| begins.max(lack + 1 - taken.from));
        }
        begins
    }

    /// Where everything stands, for people.
    pub fn plan(&self, compiled: &Compiled) -> Vec<Option<Placed>> {
        let book = compiled.book;
        let mut firsts: Vec<(Slot, usize, u32)> = Vec::new();
        for task in 0..compiled.len() {
            if let (Some(mix), true) = (compiled.mixes[task], self.mix[task] != NONE) {
                let stirred = &self.stirred[mix.kind as usize][self.mix[task] as usize];
                firsts.push((stirred.ready, mix.kind as usize, self.mix[task]));
            }
        }
        firsts.sort_unstable();
        firsts.dedup();
        // The fixed ones keep their numbers; the others follow.
        let fixed = book.tasks.iter().filter_map(|task| task.fixed.as_ref()?.mix).max();
        let base = fixed.map_or(0, |mix| mix + 1);
        let number = |task: usize| {
            let mix = compiled.mixes[task].filter(|_| self.mix[task] != NONE)?;
            let at = firsts.iter().position(|&(_, kind, index)| {
                kind == mix.kind as usize && index == self.mix[task]
            })?;
            Some(base + at as u32)
        };
        let told = |task: usize| {
            if let Some(fixed) = &book.tasks[task].fixed {
                return Some(fixed.clone());
            }
            let (at, sittings) = self.sat_at[task];
            let stretches = if compiled.sittings[task].is_some() {
                self.sat[at as usize..(at + sittings) as usize].to_vec()
            } else {
                vec![(self.begins[task], self.ends[task])]
            };
            let person = (self.person[task] != NONE).then_some(self.person[task] as usize);
            self.placed[task].then(|| Placed { person, stretches, mix: number(task) })
        };
        (0..compiled.len()).map(told).collect()
    }
}

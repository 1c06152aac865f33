//! Lives through a plan once, with other durations: the order and the people stay, the times give way.

use super::spread::{Factors, Spread};
use crate::book::{Book, Link, Slot};
use crate::plan::Plan;

/// A stretch of work.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stint {
    pub task: usize,
    pub begins: Slot,
    pub length: Slot,
    pub first: bool,
    pub last: bool,
}

/// A plan in the form that replaying needs.
pub(super) struct Replay<'a> {
    pub(super) book: &'a Book,
    plan: &'a Plan,
    spread: &'a Spread,
    stints: Vec<Stint>,
    /// The links before each task whose both tasks are in the plan.
    before: Vec<Vec<&'a Link>>,
}

/// How it went.
#[derive(Debug, Clone, Default)]
pub(super) struct Lived {
    /// When each task ended.
    pub ends: Vec<f64>,
    /// When each task began.
    pub begins: Vec<f64>,
    /// Of each job, whether a window without a relief was missed.
    pub missed: Vec<bool>,
    /// Of each task in sittings, work that is still to be done.
    pub(super) left: Vec<f64>,
    /// When each person works: who waits for one thing does another meanwhile.
    pub(super) busy: Vec<Vec<(f64, f64)>>,
    /// When each person's last sitting began and ended, and the rest about it.
    sat: Vec<(f64, f64, Slot)>,
    /// When the next task of each mix may begin.
    tails: Vec<Option<f64>>,
    /// What is taken of each machine, and from when to when.
    taken: Vec<Vec<(f64, f64, u16)>>,
}

impl<'a> Replay<'a> {
    pub fn new(book: &'a Book, plan: &'a Plan, spread: &'a Spread) -> Self {
        let mut stints = Vec::new();
        for (task, placed) in plan.tasks.iter().enumerate() {
            let Some(placed) = placed else { continue };
            for (at, &(from, to)) in placed.stretches.iter().enumerate() {
                let last = at + 1 == placed.stretches.len();
                stints.push(Stint { task, begins: from, length: to - from, first: at == 0, last });
            }
        }
        let mut rank = vec![0; book.tasks.len()];
        for (at, task) in crate::decode::in_order(book).into_iter().enumerate() {
            rank[task] = at;
        }
        stints.sort_by_key(|stint| (stint.begins, rank[stint.task], stint.length));
        let mut before = vec![Vec::new(); book.tasks.len()];
        for link in &book.links {
            if plan.tasks[link.from].is_some() && plan.tasks[link.to].is_some() {
                before[link.to].push(link);
            }
        }
        Self { book, plan, spread, stints, before }
    }

    /// Lives through it once.
    pub fn live(&self, factors: &mut Factors, lived: &mut Lived) {
        let works: Vec<f64> = self.spread.tasks.iter().map(|&cv| factors.factor(cv)).collect();
        let warmth = factors.factor(self.spread.warmth);
        let people = &self.book.people;
        let paces: Vec<f64> = people.iter().map(|_| factors.factor(self.spread.pace)).collect();
        self.clear(lived);
        for &stint in &self.stints {
            let task = &self.book.tasks[stint.task];
            let Some(placed) = &self.plan.tasks[stint.task] else { continue };
            let person = placed.person;
            if task.fixed.is_some() {
                let begins = f64::from(stint.begins);
                self.set_down(stint, begins, begins + f64::from(stint.length), lived);
                continue;
            }
            let mut at = f64::from(task.not_before.max(0));
            if self.spread.keeps_times {
                at = at.max(f64::from(stint.begins));
            }
            at = at.max(if stint.first {
                self.after_gaps(stint, warmth, at, lived)
            } else {
                lived.ends[stint.task]
            });
            let work = works.get(stint.task).copied().unwrap_or(1.0);
            let pace = person.map_or(1.0, |person| paces[person]);
            if let (Some(rules), Some(person)) = (task.sittings, person) {
                if stint.first {
                    let sat = |(from, to): &(Slot, Slot)| f64::from(to - from - rules.set_up);
                    let whole: f64 = placed.stretches.iter().map(sat).sum();
                    lived.left[stint.task] = whole * work * pace;
                }
                self.sit(stint, person, rules, at, lived);
                continue;
            }
            at = self.earliest(stint, at, stint.length - self.spread.stays, lived);
            if stint.first && self.relieve(stint, warmth, at, &works, lived) {
                let after = self.after_gaps(stint, warmth, at, lived);
                at = self.earliest(stint, at.max(after), stint.length - self.spread.stays, lived);
            }
            let ends = at + f64::from(stint.length) * work * pace;
            self.set_down(stint, at, ends, lived);
        }
    }

    fn clear(&self, lived: &mut Lived) {
        let n = self.book.tasks.len();
        let reset = |list: &mut Vec<f64>, length: usize| {
            list.clear();
            list.resize(length, f64::NEG_INFINITY);
        };
        reset(&mut lived.begins, n);
        reset(&mut lived.ends, n);
        reset(&mut lived.left, n);
        lived.busy = vec![Vec::new(); self.book.people.len()];
        lived.sat = vec![(f64::NEG_INFINITY, f64::NEG_INFINITY, 0); self.book.people.len()];
        lived.missed = vec![false; self.book.jobs.len()];
        let mixes = self.plan.tasks.iter().flatten().filter_map(|placed| placed.mix).max();
        lived.tails = vec![None; mixes.map_or(0, |mix| mix as usize + 1)];
        let outages = self.book.machines.iter().map(|machine| {
            let of = machine.outages.iter();
            let least = |amount: u16| amount.min(machine.capacity);
            of.map(|out| (f64::from(out.from), f64::from(out.to), least(out.amount))).collect()
        });
        lived.taken = outages.collect();
    }

    /// When the gaps before a task are over, those after pours stretched by warmth.
    fn after_gaps(&self, stint: Stint, warmth: f64, from: f64, lived: &Lived) -> f64 {
        let mut at = from;
        for link in &self.before[stint.task] {
            let stretch = self.stretch(link, warmth);
            at = at.max(lived.ends[link.from] + f64::from(link.least) * stretch);
            if let Some(relief) = link.relief
                && lived.ends[relief.task].is_finite()
            {
                at = at.max(lived.ends[relief.task] + f64::from(relief.after));
            }
        }
        // An optional task in the plan waits as long as its link says.
        for link in &self.book.links {
            let Some(relief) = link.relief.filter(|relief| relief.task == stint.task) else {
                continue;
            };
            if self.plan.tasks[link.from].is_some() {
                let stretch = self.stretch(link, warmth);
                at = at.max(lived.ends[link.from] + f64::from(relief.before) * stretch);
            }
        }
        at
    }

    fn stretch(&self, link: &Link, warmth: f64) -> f64 {
        if self.book.tasks[link.from].mix.is_some() { warmth } else { 1.0 }
    }

    /// Does what relieves the windows that a task would miss; true if something was done.
    fn relieve(
        &self,
        stint: Stint,
        warmth: f64,
        at: f64,
        works: &[f64],
        lived: &mut Lived,
    ) -> bool {
        let mut done = false;
        for link in &self.before[stint.task] {
            let Some(most) = link.most else { continue };
            let ended = lived.ends[link.from];
            let stretch = self.stretch(link, warmth);
            if at - ended <= f64::from(most) * stretch {
                continue;
            }
            let Some(relief) = link.relief else {
                lived.missed[self.book.tasks[stint.task].job] = true;
                continue;
            };
            if lived.ends[relief.task].is_finite() {
                continue;
            }
            let task = &self.book.tasks[relief.task];
            let from = ended + f64::from(relief.before) * stretch;
            let by = |person: usize| (self.free_from(person, from, task.work, lived), person);
            let first =
                task.hands.iter().map(|&person| by(person)).min_by(|a, b| a.0.total_cmp(&b.0));
            let begins = first.map_or(from, |first| first.0);
            let work = works.get(relief.task).copied().unwrap_or(1.0);
            let ends = begins + f64::from(task.work) * work;
            (lived.begins[relief.task], lived.ends[relief.task]) = (begins, ends);
            if let Some((_, person)) = first {
                lived.busy[person].push((begins, ends));
            }
            done = true;
        }
        done
    }

    /// The earliest time from `at` on that hands, for so many slots, and machines allow.
    pub(super) fn earliest(&self, stint: Stint, mut at: f64, length: Slot, lived: &Lived) -> f64 {
        let task = &self.book.tasks[stint.task];
        let placed = self.plan.tasks[stint.task].as_ref();
        let mut tail = None;
        if let Some(person) = placed.and_then(|placed| placed.person) {
            let mix = placed.and_then(|placed| placed.mix);
            tail = mix.and_then(|mix| lived.tails[mix as usize]);
            at = at.max(tail.unwrap_or(at));
            if let Some(sittings) = task.sittings {
                let (began, ended, rest) = lived.sat[person];
                let rest = f64::from(rest.max(sittings.rest));
                if at + f64::from(length) > began - rest {
                    at = at.max(ended + rest);
                }
            }
        }
        loop {
            let open = placed.and_then(|placed| placed.person).map_or(at, |person| match tail {
                // The next of a mix is poured while the one before is only watched.
                Some(_) => self.open_from(person, at, length.max(1)),
                None => self.free_from(person, at, length.max(1), lived),
            });
            let room = if stint.first { self.room_from(stint.task, open, lived) } else { open };
            if room == open {
                return open;
            }
            at = room;
        }
    }

    /// `from` if machines have room for a task that begins then; else a time at which that may change.
    fn room_from(&self, task: usize, from: f64, lived: &Lived) -> f64 {
        for used in &self.book.tasks[task].uses {
            let taken = &lived.taken[used.machine];
            let begins = from + f64::from(used.from);
            let ends = begins + f64::from(used.length);
            let within = || taken.iter().filter(move |it| it.0 < ends && begins < it.1);
            let capacity = self.book.machines[used.machine].capacity;
            let marks = within().map(|it| it.0.max(begins)).chain([begins]);
            for mark in marks {
                let there = || within().filter(move |it| it.0 <= mark && mark < it.1);
                let sum: u16 = there().map(|it| it.2).sum();
                if sum + used.amount > capacity {
                    let end = there().map(|it| it.1).fold(f64::INFINITY, f64::min);
                    if end.is_finite() {
                        return end - f64::from(used.from);
                    }
                }
            }
        }
        from
    }

    pub(super) fn set_down(&self, stint: Stint, begins: f64, ends: f64, lived: &mut Lived) {
        let task = &self.book.tasks[stint.task];
        if stint.first {
            lived.begins[stint.task] = begins;
            for used in &task.uses {
                let taken = &mut lived.taken[used.machine];
                if self.spread.keeps_times {
                    // Nothing begins before what is looked at now.
                    taken.retain(|it| it.1 > f64::from(stint.begins));
                }
                let from = begins + f64::from(used.from);
                taken.push((from, from + f64::from(used.length), used.amount));
            }
        }
        lived.ends[stint.task] = ends;
        let Some(placed) = &self.plan.tasks[stint.task] else { return };
        if let (Some(number), Some(mix)) = (placed.mix, task.mix) {
            lived.tails[number as usize] = Some((ends - f64::from(mix.watch)).max(begins));
        }
        if let Some(person) = placed.person {
            lived.busy[person].push((begins, ends));
            if let Some(sittings) = task.sittings {
                lived.sat[person] = (begins, ends, sittings.rest);
            }
        }
    }
}

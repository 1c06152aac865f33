//! Takes the tasks in order of their keys, each once everything before it is placed.

use super::compiled::{Compiled, EVER, NONE};
use super::course::{Choices, Course, Score, Turns, ways_after};
use super::state::{State, Stirred};
use crate::book::{Job, LONG_AGO, Slot};
use crate::plan::{Cost, Placed, Stretch};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Places tasks, again and again.
#[derive(Debug, Clone)]
pub(crate) struct Decoder<'a> {
    pub compiled: &'a Compiled<'a>,
    pub now: Course,
    /// Nothing placed but the fixed tasks.
    first: Course,
    /// Of the last placing.
    pub turns: Turns,
    heap: BinaryHeap<Reverse<(u32, u32)>>,
    /// What was placed since the heap was last looked at.
    pub(super) fresh: Vec<u32>,
    /// Of each placing since then, the mix that was joined as it was before.
    pub(super) joined: Vec<Option<Stirred>>,
    pub(super) trial: Vec<Stretch>,
    pub(super) chosen: Vec<Stretch>,
    /// From the end of each task to the end of its job at least.
    tails: Vec<Slot>,
    /// Where tasks stand in the plan in force, and who does them.
    pub home: Vec<Option<(Slot, u32)>>,
}

impl<'a> Decoder<'a> {
    /// Ready to place; `home` is the plan against which moved tasks are counted.
    pub fn new(compiled: &'a Compiled<'a>, home: &[Option<Placed>]) -> Self {
        let n = compiled.len();
        let told =
            |placed: &Placed| (placed.begins(), placed.person.map_or(NONE, |person| person as u32));
        let state = State::new(compiled);
        let open = |task: usize| {
            let gaps = compiled.before(task).iter();
            gaps.filter(|gap| !state.placed[gap.task as usize]).count() as u32
        };
        let first = Course {
            open_gaps: (0..n).map(open).collect(),
            finish: vec![LONG_AGO; compiled.book.jobs.len()],
            so_far: (0, 0, 0),
            broken: 0,
            moved: 0,
            turns: 0,
            state,
        };
        Self {
            compiled,
            now: first.clone(),
            first,
            turns: Turns { of: vec![0; n], key: Vec::new() },
            heap: BinaryHeap::with_capacity(n),
            fresh: Vec::new(),
            joined: Vec::new(),
            trial: Vec::new(),
            chosen: Vec::new(),
            // Shared work is shorter by the stirring.
            tails: ways_after(compiled, |task| {
                compiled.work[task] - compiled.mixes[task].map_or(0, |mix| mix.stir)
            }),
            home: (0..n).map(|task| home.get(task)?.as_ref().map(told)).collect(),
        }
    }

    /// A course to be filled by [`Decoder::place_from`].
    pub fn blank(&self) -> Course {
        self.first.clone()
    }

    /// Places everything.
    pub fn place_all(&mut self, choices: &Choices) -> Score {
        let none = Score { lost: u32::MAX, cost: Cost::default(), smooth: 0 };
        self.place_from(choices, None, &mut [], |_, _| true).unwrap_or(none)
    }

    /// Places everything that is not placed at a mark yet, as long as what it comes to at least and when
    /// each job is done at the earliest, told after each turn, is wanted. Each of `marks` is filled on the way when its turn, which comes with
    /// it, is reached.
    pub fn place_from(
        &mut self,
        choices: &Choices,
        from: Option<&Course>,
        marks: &mut [(u32, Course)],
        wanted: impl Fn(Score, &[Slot]) -> bool,
    ) -> Option<Score> {
        self.now.copy_from(from.unwrap_or(&self.first));
        self.turns.key.truncate(self.now.turns as usize);
        self.heap.clear();
        for task in 0..self.compiled.len() {
            // A mix comes in once, by the first of its tasks that is still to be placed.
            if self.now.open_gaps[task] == 0 && self.first_to_place(choices, task) == task as u32 {
                self.push(choices, task);
            }
        }
        loop {
            while let Some(Reverse((key, first))) = self.heap.pop() {
                if self.first_to_place(choices, first as usize) == NONE {
                    continue;
                }
                self.now.broken += self.place_or_lose(choices, first);
                self.settle(choices, key);
                for mark in marks.iter_mut().filter(|mark| mark.0 == self.now.turns) {
                    mark.1.copy_from(&self.now);
                }
                if !wanted(self.at_least(), &self.now.finish) {
                    return None;
                }
            }
            // Tied tasks that wait for each other's followers: the ties of one are undone.
            let stuck = (0..self.compiled.len()).find(|&task| {
                !self.now.state.placed[task]
                    && self.now.open_gaps[task] == 0
                    && !self.compiled.book.tasks[task].optional
            });
            let Some(stuck) = stuck else { break };
            self.now.broken += self.place_alone(choices, stuck);
            self.settle(choices, u32::MAX);
        }
        Some(self.score())
    }

    /// The first task of a mix that is not placed; [`NONE`] if all are.
    fn first_to_place(&self, choices: &Choices, task: usize) -> u32 {
        let mut member = choices.first[task];
        while member != NONE && self.now.state.placed[member as usize] {
            member = choices.next[member as usize];
        }
        member
    }

    fn at_least(&self) -> Score {
        let cost = Cost {
            late: self.now.so_far.0,
            extras: self.now.state.relieved + self.now.state.mixes(),
            finishes: self.now.so_far.1,
            moved: self.now.moved,
        };
        Score { lost: self.now.state.lost + self.now.broken, cost, smooth: self.now.so_far.2 }
    }

    /// Opens what waited for the fresh ones.
    fn settle(&mut self, choices: &Choices, key: u32) {
        let turn = self.now.turns;
        self.now.turns += 1;
        self.turns.key.push(key);
        for at in 0..self.fresh.len() {
            let task = self.fresh[at] as usize;
            self.turns.of[task] = turn;
            self.now.moved += u32::from(self.has_moved(task));
            let job = self.compiled.book.tasks[task].job;
            let least = self.now.state.ends[task] + self.tails[task];
            if least > self.now.finish[job] {
                let told = &self.compiled.book.jobs[job];
                let was = told.late(self.now.finish[job]);
                let late = (told.late(least) - was) as u64 * u64::from(told.weight);
                self.now.so_far.0 += late;
                let past = |ends: Slot| told.due.map_or(0, |due| (ends - due).max(0));
                let smooth = past(least) - past(self.now.finish[job]);
                self.now.so_far.2 += smooth as u64 * u64::from(told.weight);
                self.now.so_far.1 += (least - self.now.finish[job].max(0)) as u64;
                self.now.finish[job] = least;
            }
            for &(after, _) in self.compiled.after(self.fresh[at] as usize) {
                let after = after as usize;
                self.now.open_gaps[after] -= 1;
                if self.now.open_gaps[after] == 0 {
                    self.push(choices, after);
                }
            }
        }
        self.fresh.clear();
        self.joined.clear();
    }

    /// Tasks without a place, once everything is placed.
    pub fn lost(&self) -> Vec<usize> {
        let horizon = self.compiled.book.horizon;
        let state = &self.now.state;
        (0..self.compiled.len())
            .filter(|&task| state.placed[task] && state.begins[task] >= horizon)
            .collect()
    }

    /// Whether a task that has a home stands elsewhere, or is done by someone else.
    fn has_moved(&self, task: usize) -> bool {
        let state = &self.now.state;
        let stands = (state.begins[task], state.person[task]);
        self.home[task].is_some_and(|home| !state.placed[task] || stands != home)
    }

    /// Puts a task on the heap, if nothing else of its mix is still to come.
    fn push(&mut self, choices: &Choices, task: usize) {
        if self.now.state.placed[task] || self.compiled.book.tasks[task].optional {
            return;
        }
        let first = choices.first[task];
        let mut key = f32::INFINITY;
        let mut member = first;
        while member != NONE {
            if self.now.open_gaps[member as usize] > 0 {
                return;
            }
            key = key.min(choices.key[member as usize]);
            member = choices.next[member as usize];
        }
        self.heap.push(Reverse((key.to_bits(), first)));
    }

    fn score(&mut self) -> Score {
        let book = self.compiled.book;
        self.now.finish.fill(LONG_AGO);
        for (index, task) in book.tasks.iter().enumerate() {
            if self.now.state.placed[index] {
                let finish = &mut self.now.finish[task.job];
                *finish = (*finish).max(self.now.state.ends[index]);
            }
        }
        self.now.finish.iter_mut().filter(|ends| **ends == LONG_AGO).for_each(|ends| *ends = 0);
        let jobs = book.jobs.iter().zip(&self.now.finish);
        let late = jobs.map(|(job, &ends)| u64::from(job.weight) * job.late(ends) as u64).sum();
        let finishes = self.now.finish.iter().map(|&ends| ends.max(0) as u64).sum();
        let extras = self.now.state.relieved + self.now.state.mixes();
        let lost = self.now.state.lost + self.now.broken;
        let past = |job: &Job, ends: Slot| job.due.map_or(0, |due| (ends - due).max(0)) as u64;
        let jobs = book.jobs.iter().zip(&self.now.finish);
        let smooth = jobs.map(|(job, &ends)| u64::from(job.weight) * past(job, ends)).sum();
        let moved = (0..self.home.len()).filter(|&task| self.has_moved(task)).count() as u32;
        Score { lost, smooth, cost: Cost { late, extras, finishes, moved } }
    }

    /// The earliest slot that forerunners and choices leave to a task.
    pub(super) fn from(&self, choices: &Choices, task: usize) -> Slot {
        let mut from = choices.delay[task].max(self.compiled.book.tasks[task].not_before).max(0);
        for gap in self.compiled.before(task) {
            let ended = self.now.state.ends[gap.task as usize];
            from = from.max(ended + gap.least);
            // A relief that is done already: under way, or called for by another gap.
            if gap.relief != NONE && self.now.state.placed[gap.relief as usize] {
                from = from.max(self.now.state.ends[gap.relief as usize] + gap.around.1);
            }
        }
        from
    }

    /// Whether every forerunner of a task is placed.
    pub(super) fn may_be_placed(&self, task: usize) -> bool {
        let placed = &self.now.state.placed;
        !placed[task] && self.compiled.before(task).iter().all(|gap| placed[gap.task as usize])
    }

    /// The earliest beginning of a task that is done in one go, and by whom.
    pub(super) fn earliest(
        &self,
        task: usize,
        from: Slot,
        only: Option<u32>,
    ) -> Option<(Slot, u32)> {
        let work = self.compiled.work[task];
        let hands = self.compiled.hands(task);
        if hands.is_empty() {
            let mut begins = from;
            loop {
                let next = self.now.state.machines_from(self.compiled, task, begins);
                if next == begins {
                    let fits = begins + work <= self.compiled.book.horizon;
                    return fits.then_some((begins, NONE));
                }
                if next + work > self.compiled.book.horizon {
                    return None;
                }
                begins = next;
            }
        }
        let mut best: Option<(Slot, u32)> = None;
        for &person in hands {
            if only.is_some_and(|only| only != person) {
                continue;
            }
            let free = &self.now.state.free[person as usize];
            let latest = best.map_or(EVER, |(begins, _)| begins - 1);
            let mut at = from;
            while let Some(begins) = free.find(at, work) {
                if begins > latest {
                    break;
                }
                let next = self.now.state.machines_from(self.compiled, task, begins);
                if next == begins {
                    best = Some((begins, person));
                    break;
                }
                at = next;
            }
        }
        best
    }
}

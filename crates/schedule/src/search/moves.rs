//! Small changes of choices, and how to take them back.

use super::chance::Chance;
use crate::book::Slot;
use crate::decode::compiled::NONE;
use crate::decode::{Choices, Compiled};

/// How often a job that is late is chosen, rather than any.
const LATE_FIRST: f64 = 0.3;

/// What a choice was before.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Was {
    Key(u32, f32),
    Keep(u32, bool),
    Delay(u32, Slot),
    Person(u32, u32),
    Next(u32, u32),
    First(u32, u32),
    Patience(Slot),
}

/// Makes changes and takes them back.
#[derive(Debug, Clone)]
pub(crate) struct Mover<'a> {
    pub(super) compiled: &'a Compiled<'a>,
    pub(super) log: Vec<Was>,
    /// Tasks that are placed by key, of each job.
    of_job: Vec<Vec<u32>>,
    /// Links whose window may be kept.
    windows: Vec<u32>,
    /// Tasks that may share a mix, by kind.
    pub(super) by_kind: Vec<Vec<u32>>,
    /// Tasks that more than one person may do.
    shared: Vec<u32>,
    all: Vec<u32>,
    /// Jobs that are late, as far as they have tasks to move.
    late: Vec<u32>,
}

impl<'a> Mover<'a> {
    /// For a book.
    pub fn new(compiled: &'a Compiled<'a>) -> Self {
        let book = compiled.book;
        let may_move = |task: &&u32| book.tasks[**task as usize].is_open();
        let ids: Vec<u32> = (0..compiled.len() as u32).collect();
        let all: Vec<u32> = ids.iter().filter(may_move).copied().collect();
        let mut of_job = vec![Vec::new(); book.jobs.len()];
        let mut by_kind = vec![Vec::new(); compiled.kinds];
        for &task in &all {
            of_job[book.tasks[task as usize].job].push(task);
            if let Some(mix) = compiled.mixes[task as usize] {
                by_kind[mix.kind as usize].push(task);
            }
        }
        of_job.retain(|tasks| !tasks.is_empty());
        by_kind.retain(|tasks| tasks.len() > 1);
        let windows = book
            .links
            .iter()
            .enumerate()
            .filter(|(_, link)| link.relief.is_some() && book.tasks[link.to].fixed.is_none())
            .map(|(index, _)| index as u32);
        Self {
            compiled,
            log: Vec::new(),
            of_job,
            windows: windows.collect(),
            by_kind,
            shared: all
                .iter()
                .copied()
                .filter(|&task| compiled.hands(task as usize).len() > 1)
                .collect(),
            all,
            late: Vec::new(),
        }
    }

    /// Whether there is anything to change.
    pub fn can_move(&self) -> bool {
        !self.all.is_empty()
    }

    /// Forgets what was changed.
    pub fn accept(&mut self) {
        self.log.clear();
    }

    /// Takes back what was changed.
    pub fn undo(&mut self, choices: &mut Choices) {
        while let Some(was) = self.log.pop() {
            match was {
                Was::Key(task, key) => choices.key[task as usize] = key,
                Was::Keep(link, keep) => choices.keep[link as usize] = keep,
                Was::Delay(task, delay) => choices.delay[task as usize] = delay,
                Was::Person(task, person) => choices.person[task as usize] = person,
                Was::Next(task, next) => choices.next[task as usize] = next,
                Was::First(task, first) => choices.first[task as usize] = first,
                Was::Patience(patience) => choices.patience = patience,
            }
        }
    }

    pub(super) fn set_key(&mut self, choices: &mut Choices, task: u32, key: f32) {
        self.log.push(Was::Key(task, choices.key[task as usize]));
        choices.key[task as usize] = key.max(0.0);
    }

    pub(super) fn set_next(&mut self, choices: &mut Choices, task: u32, next: u32) {
        self.log.push(Was::Next(task, choices.next[task as usize]));
        choices.next[task as usize] = next;
    }

    pub(super) fn set_first(&mut self, choices: &mut Choices, task: u32, first: u32) {
        self.log.push(Was::First(task, choices.first[task as usize]));
        choices.first[task as usize] = first;
    }

    /// Changes something. `begins` and `ends` tell where everything stands now, `late` which jobs are.
    pub fn change(&mut self, choices: &mut Choices, chance: &mut Chance, begins: &[Slot]) {
        let share = chance.share();
        if share < 0.40 {
            self.beside(choices, chance);
        } else if share < 0.58 {
            self.job(choices, chance);
        } else if share < 0.68 {
            self.swap_jobs(choices, chance);
        } else if share < 0.76 && !self.windows.is_empty() {
            let link = self.windows[chance.below(self.windows.len())];
            self.log.push(Was::Keep(link, choices.keep[link as usize]));
            choices.keep[link as usize] = !choices.keep[link as usize];
        } else if share < 0.86 && !self.by_kind.is_empty() {
            self.tie(choices, chance, begins);
        } else if share < 0.92 {
            self.delay(choices, chance, begins);
        } else if share < 0.97 && !self.shared.is_empty() {
            let task = self.shared[chance.below(self.shared.len())];
            let hands = self.compiled.hands(task as usize);
            let pick = chance.below(hands.len() + 1);
            self.log.push(Was::Person(task, choices.person[task as usize]));
            choices.person[task as usize] = hands.get(pick).copied().unwrap_or(NONE);
        } else if share < 0.98 && !self.by_kind.is_empty() {
            self.log.push(Was::Patience(choices.patience));
            choices.patience = [0, 6, 24, 144, 288][chance.below(5)];
        } else {
            self.beside(choices, chance);
        }
    }

    /// Says which jobs are late now: they are moved more often.
    pub fn tell_late(&mut self, finish: &[Slot]) {
        let book = self.compiled.book;
        self.late.clear();
        for (at, tasks) in self.of_job.iter().enumerate() {
            let job = book.tasks[tasks[0] as usize].job;
            if book.jobs[job].late(finish[job]) > 0 {
                self.late.push(at as u32);
            }
        }
    }

    fn pick_job(&self, chance: &mut Chance) -> usize {
        if !self.late.is_empty() && chance.happens(LATE_FIRST) {
            return self.late[chance.below(self.late.len())] as usize;
        }
        chance.below(self.of_job.len())
    }

    fn pick_task(&self, chance: &mut Chance) -> u32 {
        if !self.late.is_empty() && chance.happens(LATE_FIRST) {
            let tasks = &self.of_job[self.late[chance.below(self.late.len())] as usize];
            return tasks[chance.below(tasks.len())];
        }
        self.all[chance.below(self.all.len())]
    }

    /// One task just before or after another.
    fn beside(&mut self, choices: &mut Choices, chance: &mut Chance) {
        let task = self.pick_task(chance);
        let other = self.all[chance.below(self.all.len())];
        let near = chance.share() as f32 * 2.0 - 1.0;
        self.set_key(choices, task, choices.key[other as usize] + near);
    }

    /// All tasks of a job earlier or later together.
    fn job(&mut self, choices: &mut Choices, chance: &mut Chance) {
        let job = self.pick_job(chance);
        let span = self.all.len() as f64;
        let by = (chance.share() - 0.5) * span * [0.02, 0.1, 0.4, 1.0][chance.below(4)];
        for at in 0..self.of_job[job].len() {
            let task = self.of_job[job][at];
            self.set_key(choices, task, choices.key[task as usize] + by as f32);
        }
    }

    /// Two jobs change places.
    fn swap_jobs(&mut self, choices: &mut Choices, chance: &mut Chance) {
        let (a, b) = (self.pick_job(chance), chance.below(self.of_job.len()));
        if a == b {
            return self.beside(choices, chance);
        }
        let mean = |mover: &Self, choices: &Choices, job: usize| {
            let tasks = &mover.of_job[job];
            tasks.iter().map(|&task| choices.key[task as usize]).sum::<f32>() / tasks.len() as f32
        };
        let by = mean(self, choices, b) - mean(self, choices, a);
        for (job, by) in [(a, by), (b, -by)] {
            for at in 0..self.of_job[job].len() {
                let task = self.of_job[job][at];
                self.set_key(choices, task, choices.key[task as usize] + by);
            }
        }
    }

    /// Puts off a task to the next time that someone comes in, or no longer.
    fn delay(&mut self, choices: &mut Choices, chance: &mut Chance, begins: &[Slot]) {
        let task = self.all[chance.below(self.all.len())];
        let now = choices.delay[task as usize];
        self.log.push(Was::Delay(task, now));
        choices.delay[task as usize] = if now > 0 && chance.happens(0.5) {
            0
        } else {
            let by = [1, 3, 6, 12, 24, 48, 96, 288][chance.below(8)];
            begins[task as usize] + by
        };
    }
}

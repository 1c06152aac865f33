//! What is to be timed: tasks, the gaps between them, who and what they need, and when jobs are due.

use crate::open::Open;
use crate::plan::Placed;
use serde::{Deserialize, Serialize};

/// A count of slots since the beginning of the book, or a length in slots. Negative only as a gap.
pub type Slot = i32;

/// Everything that is timed together.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Book {
    /// Nothing is placed at or after this slot.
    pub horizon: Slot,
    /// Who works.
    pub people: Vec<Person>,
    /// What else is needed: spindles, racks.
    pub machines: Vec<Machine>,
    /// What is to be done.
    pub tasks: Vec<Task>,
    /// Gaps between tasks.
    pub links: Vec<Link>,
    /// What the tasks are part of.
    pub jobs: Vec<Job>,
}

/// Someone who works.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Person {
    /// Name.
    pub name: String,
    /// The slots in which this person works.
    pub open: Open,
}

/// Something that several tasks share at a time, up to its capacity.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Machine {
    /// Name.
    pub name: String,
    /// How much of it there is.
    pub capacity: u16,
    /// When there is less of it.
    pub outages: Vec<Outage>,
}

/// A time in which there is less of a machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Outage {
    /// First slot.
    pub from: Slot,
    /// First slot after it.
    pub to: Slot,
    /// How much less.
    pub amount: u16,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Task {
    /// Name, for explanations.
    pub name: String,
    /// Index of the job it is part of.
    pub job: usize,
    /// How long it takes, slots; of a task with sittings, without their set-up.
    pub work: Slot,
    /// Who may do it, by index; nobody is needed if empty. One person does all of it.
    pub hands: Vec<usize>,
    /// If it may be split. Others run from beginning to end.
    pub sittings: Option<Sittings>,
    /// What it occupies.
    pub uses: Vec<Use>,
    /// It may not begin before this slot.
    pub not_before: Slot,
    /// Done only where a [`Relief`] calls for it.
    pub optional: bool,
    /// What it may share with other tasks.
    pub mix: Option<Mix>,
    /// Where it stands already: done, under way or not to be moved.
    pub fixed: Option<Placed>,
}

impl Task {
    /// Whether it is to be done for certain, and still to be placed.
    pub fn is_open(&self) -> bool {
        !self.optional && self.fixed.is_none()
    }
}

/// How a task is split.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sittings {
    /// Least work worth sitting down for, slots, without set-up; the last sitting may be shorter.
    pub least: Slot,
    /// Longest sitting, slots, set-up included.
    pub longest: Slot,
    /// Set-up at the beginning of each sitting, slots.
    pub set_up: Slot,
    /// Rest of the same person before and after each sitting from sittings of the same kind, slots.
    /// Other work may fill it.
    pub rest: Slot,
}

/// What a task occupies of a machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Use {
    /// Index of the machine.
    pub machine: usize,
    /// How much of it.
    pub amount: u16,
    /// From so many slots after the task begins.
    pub from: Slot,
    /// For so many slots; it may outlast the task.
    pub length: Slot,
}

/// A preparation that tasks done by one person one after the other can share: resin stirred once.
///
/// Tasks that share are placed back to back. Each but the first takes `stir` less, and begins as
/// soon as the one before it has nothing left but its `watch`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Mix {
    /// Only tasks of the same kind share.
    pub kind: u32,
    /// The preparation at the beginning of the task, slots.
    pub stir: Slot,
    /// Watching at the end of the task, which other work of the same mix may overlap, slots.
    pub watch: Slot,
    /// How long the mix stands from the end of its stirring until the last of it is used (`watch`
    /// not included), slots.
    pub stands: Slot,
    /// How much this task takes of the mix.
    pub amount: u32,
    /// Most that may be mixed at once.
    pub most: u32,
}

/// A gap between two tasks: `to` begins at least `least` and at most `most` slots after `from` ends.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Link {
    /// Index of the task before.
    pub from: usize,
    /// Index of the task after.
    pub to: usize,
    /// Least gap, slots; may be negative.
    pub least: Slot,
    /// Most gap, slots.
    pub most: Option<Slot>,
    /// What to do if the gap gets longer than `most`; without it, it may not.
    pub relief: Option<Relief>,
}

/// An optional task done between the two of a link, if the gap gets too long.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Relief {
    /// Index of the optional task.
    pub task: usize,
    /// Least gap from the end of the link's first task to it, slots.
    pub before: Slot,
    /// Least gap from its end to the link's second task, slots.
    pub after: Slot,
}

/// Tasks that are wanted together: one piece, or pieces made together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Job {
    /// Name.
    pub name: String,
    /// It should leave by this slot.
    pub due: Option<Slot>,
    /// How much a slot of lateness weighs.
    pub weight: u32,
    /// Slots in which it may leave, in order: the post goes then. It leaves as soon as it is done if
    /// empty, and never before its last task has ended.
    pub leaves: Vec<Slot>,
}

/// Before anything that is done.
pub(crate) const LONG_AGO: Slot = Slot::MIN / 4;

impl Book {
    /// When each job is done, if its tasks stand so; 0 without any task.
    pub fn finishes(&self, tasks: &[Option<Placed>]) -> Vec<Slot> {
        let mut ends = vec![None; self.jobs.len()];
        for (task, placed) in self.tasks.iter().zip(tasks) {
            // What is fixed may have been done before the first slot.
            ends[task.job] = ends[task.job].max(placed.as_ref().map(Placed::ends));
        }
        ends.into_iter().map(|ends| ends.unwrap_or(0)).collect()
    }
}

impl Job {
    /// When it leaves if its last task ends at `ends`; past the last known leave it leaves at once.
    pub fn leaves_at(&self, ends: Slot) -> Slot {
        let next = self.leaves.partition_point(|&leave| leave < ends);
        self.leaves.get(next).copied().unwrap_or(ends)
    }

    /// Slots late, if its last task ends at `ends`.
    pub fn late(&self, ends: Slot) -> Slot {
        self.due.map_or(0, |due| (self.leaves_at(ends) - due).max(0))
    }
}

//! What a search decides, and how far a placing is.

use super::compiled::{Compiled, NONE};
use super::state::State;
use crate::book::{Book, Slot};
use crate::plan::Cost;

/// What a search decides; placing follows from it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Choices {
    /// Of each task; the least is placed first among those whose forerunners are placed. Not negative.
    pub key: Vec<f32>,
    /// Of each link with a relief: put off the task before it until the one after can follow in time.
    pub keep: Vec<bool>,
    /// Of each task: do not begin it before this slot.
    pub delay: Vec<Slot>,
    /// Of each task: the one person who shall do it, or [`NONE`].
    pub person: Vec<u32>,
    /// Of each task: the task that follows it in the same mix, or [`NONE`].
    pub next: Vec<u32>,
    /// Of each task: the first task of its mix; itself if it is not tied.
    pub first: Vec<u32>,
    /// How much later than alone a task may be placed to share a mix that stands, slots.
    pub patience: Slot,
}

impl Choices {
    /// Nothing chosen: keys all equal.
    pub fn none(compiled: &Compiled) -> Self {
        let n = compiled.len();
        Self {
            key: vec![0.0; n],
            keep: vec![false; compiled.book.links.len()],
            delay: vec![0; n],
            person: vec![NONE; n],
            next: vec![NONE; n],
            first: (0..n as u32).collect(),
            patience: 0,
        }
    }
}

/// What a plan comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Score {
    /// Tasks without a place and gaps that are too long.
    pub lost: u32,
    /// The rest.
    pub cost: Cost,
    /// Weighted lateness if the post went at any time.
    pub smooth: u64,
}

/// Everything that changes while tasks are placed.
#[derive(Debug, Clone)]
pub(crate) struct Course {
    pub state: State,
    /// Gaps before each task whose forerunner is not placed yet.
    pub(super) open_gaps: Vec<u32>,
    /// When each job is done; while placing, the least that follows so far.
    pub finish: Vec<Slot>,
    /// Least weighted lateness and sum of finishes that follow so far.
    pub(super) so_far: (u64, u64, u64),
    /// Gaps that are too long and have no relief.
    pub(super) broken: u32,
    /// Tasks so far that stand elsewhere than at home.
    pub(super) moved: u32,
    /// Turns so far: in each, what the heap gave was placed.
    pub(super) turns: u32,
}

impl Course {
    pub(super) fn copy_from(&mut self, other: &Self) {
        self.state.copy_from(&other.state);
        self.open_gaps.copy_from_slice(&other.open_gaps);
        self.finish.copy_from_slice(&other.finish);
        (self.so_far, self.broken) = (other.so_far, other.broken);
        (self.moved, self.turns) = (other.moved, other.turns);
    }
}

/// In which order tasks were placed.
#[derive(Debug, Clone, Default)]
pub(crate) struct Turns {
    /// The turn in which each task was placed.
    pub of: Vec<u32>,
    /// The key that each turn had.
    pub key: Vec<u32>,
}

impl Turns {
    /// As others.
    pub fn copy_from(&mut self, other: &Self) {
        self.of.clone_from(&other.of);
        self.key.clone_from(&other.key);
    }
}

/// The longest way from the end of each task to the end of its job, hands and machines not looked at,
/// if each task takes so long.
pub(crate) fn ways_after(compiled: &Compiled, length: impl Fn(usize) -> Slot) -> Vec<Slot> {
    let book = compiled.book;
    let mut tails = vec![0; compiled.len()];
    for task in in_order(book).into_iter().rev() {
        for &(after, link) in compiled.after(task) {
            let after = after as usize;
            let work = length(after) + book.links[link as usize].least;
            if book.tasks[after].job == book.tasks[task].job {
                tails[task] = tails[task].max(work + tails[after]);
            }
        }
    }
    tails
}

/// The tasks so that each stands after its forerunners; tasks on a cycle come last.
pub(crate) fn in_order(book: &Book) -> Vec<usize> {
    let n = book.tasks.len();
    let mut waits = vec![0_u32; n];
    let mut after: Vec<Vec<usize>> = vec![Vec::new(); n];
    for link in &book.links {
        waits[link.to] += 1;
        after[link.from].push(link.to);
    }
    let mut order: Vec<usize> = (0..n).filter(|&task| waits[task] == 0).collect();
    let mut at = 0;
    while at < order.len() {
        for &next in &after[order[at]] {
            waits[next] -= 1;
            if waits[next] == 0 {
                order.push(next);
            }
        }
        at += 1;
    }
    let mut rest: Vec<usize> = (0..n).filter(|&task| waits[task] > 0).collect();
    order.append(&mut rest);
    order
}

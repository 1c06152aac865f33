//! From an order of tasks to a plan: each is placed as early as it can be, one after the other.
//!
//! The serial schedule generation of resource-constrained projects. Where a greatest gap cannot be
//! kept, the task that asks for it is put off by what was missing, and all is placed anew:
//! unscheduling, after Franck, Neumann and Schwindt, "Truncated branch-and-bound, schedule-
//! construction, and schedule-improvement procedures for resource-constrained project scheduling",
//! OR Spektrum 23, 2001 (from memory), in a plainer form.

use super::plain::{Arc, Plain};
use super::room::Room;
use crate::book::Slot;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Places tasks in a given order; keeps its tables from one order to the next.
#[derive(Debug)]
pub(super) struct Decoder<'a> {
    plain: &'a Plain<'a>,
    early: Vec<Slot>,
    late: Vec<Slot>,
    ahead: Vec<Vec<Arc>>,
    behind: Vec<Vec<Arc>>,
    /// How many tasks have to be placed before each.
    waits: Vec<usize>,
    work: Work,
    /// Slots by which tasks were put off in the present run.
    floor: Vec<Slot>,
}

/// Where the present run stands.
#[derive(Debug, Default)]
struct Work {
    early: Vec<Slot>,
    late: Vec<Slot>,
    /// The placed task to which the latest slot of each is due.
    by: Vec<Option<usize>>,
    waits: Vec<usize>,
    rooms: Vec<Room>,
    begins: Vec<Option<Slot>>,
}

/// How an order of tasks came out.
#[derive(Debug)]
pub(super) enum Outcome {
    /// When each task begins.
    Placed(Vec<Slot>),
    /// Most tasks that could be placed.
    Stuck(usize),
}

impl<'a> Decoder<'a> {
    /// A decoder; the windows are those of the gaps alone.
    pub fn new(plain: &'a Plain<'a>, early: Vec<Slot>, late: Vec<Slot>) -> Self {
        let tasks = plain.items.len();
        let mut ahead = vec![Vec::new(); tasks];
        let mut behind = vec![Vec::new(); tasks];
        let mut waits = vec![0; tasks];
        for arc in &plain.arcs {
            ahead[arc.from].push(*arc);
            behind[arc.to].push(*arc);
            waits[arc.to] += usize::from(arc.lag > 0);
        }
        let floor = vec![Slot::MIN; tasks];
        Self { plain, early, late, ahead, behind, waits, work: Work::default(), floor }
    }

    /// Latest slots at which tasks can begin for the gaps alone.
    pub fn late(&self) -> &[Slot] {
        &self.late
    }

    /// The plan of an order: `rank[task]`, the least first, after what it has to wait for.
    pub fn place(&mut self, rank: &[u32]) -> Outcome {
        self.floor.fill(Slot::MIN);
        let mut most = 0;
        // As often as there are tasks: plenty on published instances, where two or three do.
        for _ in 0..=rank.len() {
            match self.run(rank) {
                Ok(begins) => return Outcome::Placed(begins),
                Err((placed, delay)) => {
                    most = most.max(placed);
                    let Some((task, until)) = delay else { break };
                    self.floor[task] = until;
                }
            }
        }
        Outcome::Stuck(most)
    }

    /// One run: when tasks begin, or how many were placed and which task to put off until when.
    #[allow(clippy::type_complexity, reason = "named in the line above, and used once")]
    fn run(&mut self, rank: &[u32]) -> Result<Vec<Slot>, (usize, Option<(usize, Slot)>)> {
        let work = &mut self.work;
        work.early.clone_from(&self.early);
        work.late.clone_from(&self.late);
        work.by.clear();
        work.by.resize(rank.len(), None);
        work.waits.clone_from(&self.waits);
        work.rooms.clone_from(&self.plain.rooms);
        work.begins.clear();
        work.begins.resize(rank.len(), None);
        let mut ready: BinaryHeap<Reverse<(u32, usize)>> = BinaryHeap::with_capacity(rank.len());
        let open = (0..rank.len()).filter(|&task| self.waits[task] == 0);
        ready.extend(open.map(|task| Reverse((rank[task], task))));
        let mut placed = 0;
        while let Some(Reverse((_, task))) = ready.pop() {
            let from = self.work.early[task].max(self.floor[task]);
            let begins = self.plain.fits(&self.work.rooms, task, from);
            let late = self.work.late[task];
            match begins {
                Some(begins) if begins <= late => self.put(task, begins),
                // What asked for it too early is put off by what was missing, if it may be.
                Some(begins) => return Err((placed, self.put_off(task, begins - late))),
                None => return Err((placed, None)),
            }
            placed += 1;
            for arc in self.ahead[task].iter().filter(|arc| arc.lag > 0) {
                self.work.waits[arc.to] -= 1;
                if self.work.waits[arc.to] == 0 {
                    ready.push(Reverse((rank[arc.to], arc.to)));
                }
            }
        }
        Ok(self.work.begins.iter().map(|begins| begins.expect("all were placed")).collect())
    }

    fn put_off(&self, task: usize, missing: Slot) -> Option<(usize, Slot)> {
        let asks = self.work.by[task]?;
        let until = self.work.begins[asks]?.saturating_add(missing);
        (!self.plain.items[asks].fixed && until <= self.late[asks]).then_some((asks, until))
    }

    fn put(&mut self, task: usize, begins: Slot) {
        let work = &mut self.work;
        self.plain.take(&mut work.rooms, task, begins);
        work.begins[task] = Some(begins);
        work.early[task] = begins;
        work.late[task] = begins;
        work.by[task] = Some(task);
        let mut stack = vec![task];
        while let Some(at) = stack.pop() {
            for arc in &self.ahead[at] {
                let asked = work.early[at].saturating_add(arc.lag);
                if asked > work.early[arc.to] && work.begins[arc.to].is_none() {
                    work.early[arc.to] = asked;
                    stack.push(arc.to);
                }
            }
        }
        stack.push(task);
        while let Some(at) = stack.pop() {
            for arc in &self.behind[at] {
                let asked = work.late[at].saturating_sub(arc.lag);
                if asked < work.late[arc.from] && work.begins[arc.from].is_none() {
                    work.late[arc.from] = asked;
                    work.by[arc.from] = Some(task);
                    stack.push(arc.from);
                }
            }
        }
    }
}

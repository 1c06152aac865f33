//! By when a new job can be promised.

use super::clock::{Clock, LOST};
use super::near::{from_now, near};
use super::reckon;
use crate::book::{Book, Slot};
use crate::decode::{Choices, Compiled, in_order};
use crate::plan::{Cost, Placed, Plan};
use crate::search::{Found, Mender, standing};
use crate::solve::Progress;

/// A plan that holds the new job, and when the job leaves by it.
#[derive(Debug, Clone, PartialEq)]
pub struct Promised {
    /// The whole plan; its `moved` counts against the plan in force.
    pub plan: Plan,
    /// When the new job leaves.
    pub leaves: Slot,
}

/// A job that leaves later than it may: than it is due and than it would leave now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Later {
    /// Index of the job.
    pub job: usize,
    /// When it leaves.
    pub leaves: Slot,
    /// Slots after the later of its due time and its leave in the plan in force.
    pub by: Slot,
}

/// What it takes to have the new job by a slot.
#[derive(Debug, Clone, PartialEq)]
pub struct Early {
    /// The slot.
    pub due: Slot,
    /// The plan; the job may leave after `due` all the same if that cannot be.
    pub promised: Promised,
    /// Other jobs that get later.
    pub later: Vec<Later>,
    /// Weighted slots late of all other jobs.
    pub weighted: u64,
}

/// What can be promised.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Promise {
    /// With nothing moved that is planned; `None` if there is no room before the horizon.
    pub as_it_is: Option<Promised>,
    /// With the others moved, but no other job later than it is due and than it would leave now.
    pub making_room: Option<Promised>,
    /// For earlier slots that were asked for, in the order asked.
    pub early: Vec<Early>,
}

/// What is asked.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// Index of the new job in the book; its tasks are those that the plan in force lacks.
    pub job: usize,
    /// Nothing that is not fixed begins before this slot.
    pub now: Slot,
    /// Earlier slots by which it may be wanted.
    pub dues: &'a [Slot],
    /// Seed of chance.
    pub seed: u64,
}

/// Which share of the effort goes to the first question, and to the first two.
const SHARES: (f64, f64) = (0.15, 0.6);
/// What a slot by which another job gets too late, and a slot of the new job's leave measure against a
/// slot of a finish.
const TOO_LATE: f64 = 1e5;
const LEAVE: f64 = 100.0;
/// What a moved task measures, so that nothing moves for nothing.
const MOVED: f64 = 20.0;

/// When a new job can leave: as the plan in force stands, with others making room, and at whose cost
/// earlier. The book holds the new job, its tasks after those of the plan in force. `going` is told after
/// each round how it stands and says how much of the effort is behind, 0 to 1. Each answer comes with a
/// whole plan, and the second is never later than the first.
pub fn promise(
    book: &Book,
    in_force: &Plan,
    asked: Asked,
    going: &mut dyn FnMut(&Progress) -> f64,
) -> Promise {
    let mut open = near(book, in_force, asked.now);
    let mut clock = Clock { going, round: 0, share: 0.0 };
    let mut promise = Promise::default();
    let mut as_it_is = alone(&open, in_force, asked, &mut clock);
    if as_it_is.is_none() {
        open = from_now(book, asked.now);
        clock.share = 0.0;
        as_it_is = alone(&open, in_force, asked, &mut clock);
    }
    let Some(as_it_is) = as_it_is else {
        return promise;
    };
    let may_leave = may_leave(&open, in_force);
    let room = making_room(&open, in_force, asked, &as_it_is, &may_leave, &mut clock);
    let room = room.unwrap_or_else(|| as_it_is.clone());
    let count = asked.dues.len().max(1) as f64;
    for (at, &due) in asked.dues.iter().enumerate() {
        let until = SHARES.1 + (1.0 - SHARES.1) * (at + 1) as f64 / count;
        let starts = [&room, &as_it_is];
        let early = early(&open, in_force, asked, due, starts, &may_leave, (&mut clock, until));
        promise.early.push(early);
    }
    promise.as_it_is = Some(as_it_is);
    promise.making_room = Some(room);
    promise
}

/// When each job leaves at the latest without getting later: when it is due, or when it leaves now.
fn may_leave(book: &Book, in_force: &Plan) -> Vec<Slot> {
    let known = in_force.tasks.len().min(book.tasks.len());
    let now = reckon::leaves(book, &in_force.tasks[..known]);
    book.jobs.iter().zip(now).map(|(job, now)| job.due.map_or(now, |due| due.max(now))).collect()
}

fn promised(book: &Book, in_force: &Plan, job: usize, mut tasks: Vec<Option<Placed>>) -> Promised {
    reckon::renumber(&mut tasks);
    let cost = reckon::cost(book, &tasks, &in_force.tasks);
    let leaves = reckon::leaves(book, &tasks)[job];
    Promised { plan: Plan { tasks, cost, bound: Cost::default() }, leaves }
}

/// How much the leave and the finish of the new job measure.
fn of_job(book: &Book, job: usize, found: Found) -> f64 {
    let ends = found.finish.get(job).copied().unwrap_or(0);
    LEAVE * f64::from(book.jobs[job].leaves_at(ends)) + f64::from(ends)
}

fn alone(book: &Book, in_force: &Plan, asked: Asked, clock: &mut Clock) -> Option<Promised> {
    let mut pinned = book.clone();
    for (task, placed) in pinned.tasks.iter_mut().zip(&in_force.tasks) {
        if task.fixed.is_none() {
            task.fixed.clone_from(placed);
        }
    }
    let measure = |found: Found| {
        LOST * f64::from(found.score.lost)
            + of_job(book, asked.job, found)
            + 12.0 * f64::from(found.score.cost.extras)
    };
    let compiled = Compiled::new(&pinned);
    let mut mender = Mender::new(&compiled, &in_force.tasks, asked.seed);
    let mut choices = Choices::none(&compiled);
    for (rank, task) in in_order(&pinned).into_iter().enumerate() {
        choices.key[task] = rank as f32 + 1.0;
    }
    mender.offer(choices.clone(), &measure);
    choices.keep.fill(true);
    mender.offer(choices, &measure);
    let free = pinned.tasks.iter().filter(|task| task.fixed.is_none()).count();
    // Copying what is fixed takes as long as placing some.
    clock.search(&mut mender, free + book.tasks.len() / 8, SHARES.0, &measure);
    Some(promised(book, in_force, asked.job, mender.plan().ok()?))
}

fn making_room(
    book: &Book,
    in_force: &Plan,
    asked: Asked,
    start: &Promised,
    may_leave: &[Slot],
    clock: &mut Clock,
) -> Option<Promised> {
    let excess = |found: Found| -> f64 {
        let others = found.finish.iter().enumerate().filter(|(job, _)| *job != asked.job);
        let over =
            others.map(|(job, &ends)| (book.jobs[job].leaves_at(ends) - may_leave[job]).max(0));
        over.map(f64::from).sum()
    };
    let measure = |found: Found| {
        LOST * f64::from(found.score.lost)
            + TOO_LATE * excess(found)
            + of_job(book, asked.job, found)
            + 12.0 * f64::from(found.score.cost.extras)
            + MOVED * f64::from(found.score.cost.moved)
    };
    let compiled = Compiled::new(book);
    let mut mender = Mender::new(&compiled, &in_force.tasks, asked.seed ^ 1);
    mender.focus(open_tasks(book, asked.job));
    let choices = standing(&compiled, &start.plan.tasks, asked.now);
    mender.offer(choices.clone(), &measure);
    // The new job earlier by some shares of its wait, the others as they can.
    for share in 1..16 {
        let by = (start.leaves - asked.now) / 16 * share;
        mender.offer(pulled(&choices, book, asked, by), &measure);
    }
    clock.search(&mut mender, book.tasks.len(), SHARES.1, &measure);
    let room = promised(book, in_force, asked.job, mender.plan().ok()?);
    let leaves = reckon::leaves(book, &room.plan.tasks);
    let safe = (0..leaves.len()).all(|job| job == asked.job || leaves[job] <= may_leave[job]);
    (safe && room.leaves <= start.leaves).then_some(room)
}

/// The tasks of a job that are still to be placed.
fn open_tasks(book: &Book, job: usize) -> Vec<usize> {
    let tasks = book.tasks.iter().enumerate();
    tasks.filter(|(_, task)| task.job == job && task.is_open()).map(|(index, _)| index).collect()
}

/// Choices that place the new job first, each of its tasks earlier by so many slots.
fn pulled(choices: &Choices, book: &Book, asked: Asked, by: Slot) -> Choices {
    let mut choices = choices.clone();
    for task in (0..book.tasks.len()).filter(|&task| book.tasks[task].job == asked.job) {
        choices.key[task] = 0.0;
        choices.delay[task] = (choices.delay[task] - by).max(asked.now);
    }
    choices
}

fn early(
    book: &Book,
    in_force: &Plan,
    asked: Asked,
    due: Slot,
    starts: [&Promised; 2],
    may_leave: &[Slot],
    (clock, until): (&mut Clock, f64),
) -> Early {
    let measure = |found: Found| {
        let ends = found.finish.get(asked.job).copied().unwrap_or(0);
        let over = (book.jobs[asked.job].leaves_at(ends) - due).max(0);
        let cost = found.score.cost;
        LOST * f64::from(found.score.lost)
            + TOO_LATE * f64::from(over)
            + f64::from((ends - due).max(0))
            + 10.0 * cost.late as f64
            + 12.0 * f64::from(cost.extras)
            + cost.finishes as f64
            + MOVED * f64::from(found.score.cost.moved)
    };
    // The new job is late by the slot asked for alone.
    let mut wanted = book.clone();
    wanted.jobs[asked.job].due = None;
    let compiled = Compiled::new(&wanted);
    let mut mender = Mender::new(&compiled, &in_force.tasks, asked.seed ^ 2);
    mender.focus(open_tasks(&wanted, asked.job));
    for start in starts {
        let choices = standing(&compiled, &start.plan.tasks, asked.now);
        mender.offer(choices.clone(), &measure);
        // The new job earlier, by as much as is asked and by more.
        for percent in [100, 105, 110, 120, 140, 200] {
            let by = (start.leaves - due).max(0) / 100 * percent;
            mender.offer(pulled(&choices, &wanted, asked, by), &measure);
        }
    }
    clock.search(&mut mender, wanted.tasks.len(), until, &measure);
    let found = mender.plan().ok().map(|tasks| promised(book, in_force, asked.job, tasks));
    let promised = found.unwrap_or_else(|| starts[0].clone());
    let leaves = reckon::leaves(book, &promised.plan.tasks);
    let others = || (0..book.jobs.len()).filter(|&job| job != asked.job);
    let later = others().filter(|&job| leaves[job] > may_leave[job]).map(|job| Later {
        job,
        leaves: leaves[job],
        by: leaves[job] - may_leave[job],
    });
    let late = others().map(|job| {
        let told = &book.jobs[job];
        u64::from(told.weight) * told.due.map_or(0, |due| (leaves[job] - due).max(0)) as u64
    });
    Early { due, later: later.collect(), weighted: late.sum(), promised }
}

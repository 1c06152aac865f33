//! What a plan costs, and how its mixes are numbered.

use crate::book::{Book, Slot};
use crate::plan::{Cost, Placed};

/// When each job leaves.
pub(super) fn leaves(book: &Book, tasks: &[Option<Placed>]) -> Vec<Slot> {
    let ends = book.finishes(tasks);
    book.jobs.iter().zip(ends).map(|(job, ends)| job.leaves_at(ends)).collect()
}

/// Whether a task stands elsewhere than in the plan in force, or is done by someone else. One that is
/// new, or has become needed, has not moved.
pub(super) fn has_moved(stood: Option<&Placed>, stands: Option<&Placed>) -> bool {
    let told = |placed: &Placed| (placed.begins(), placed.person);
    stood.is_some_and(|stood| stands.map(told) != Some(told(stood)))
}

/// What a plan costs against the plan in force.
pub(super) fn cost(book: &Book, tasks: &[Option<Placed>], in_force: &[Option<Placed>]) -> Cost {
    let ends = book.finishes(tasks);
    let mut mixes: Vec<u32> = tasks.iter().flatten().filter_map(|placed| placed.mix).collect();
    mixes.sort_unstable();
    mixes.dedup();
    let optional = book.tasks.iter().zip(tasks).filter(|(task, at)| task.optional && at.is_some());
    let jobs = book.jobs.iter().zip(&ends);
    let moved = (0..tasks.len()).filter(|&task| {
        has_moved(in_force.get(task).and_then(Option::as_ref), tasks[task].as_ref())
    });
    Cost {
        late: jobs.map(|(job, &ends)| u64::from(job.weight) * job.late(ends) as u64).sum(),
        extras: (optional.count() + mixes.len()) as u32,
        finishes: ends.iter().map(|&ends| ends.max(0) as u64).sum(),
        moved: moved.count() as u32,
    }
}

/// Numbers the mixes anew, from 0 in order of time.
pub(super) fn renumber(tasks: &mut [Option<Placed>]) {
    let mut firsts: Vec<(Slot, u32)> = Vec::new();
    for placed in tasks.iter().flatten() {
        let Some(mix) = placed.mix else { continue };
        match firsts.iter_mut().find(|first| first.1 == mix) {
            Some(first) => first.0 = first.0.min(placed.begins()),
            None => firsts.push((placed.begins(), mix)),
        }
    }
    firsts.sort_unstable();
    for placed in tasks.iter_mut().flatten() {
        let at = placed.mix.and_then(|mix| firsts.iter().position(|first| first.1 == mix));
        placed.mix = at.map(|at| at as u32);
    }
}

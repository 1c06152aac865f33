//! What a plan costs, reckoned anew.

use super::Case;
use schedule::{Cost, Slot};
use std::collections::BTreeSet;

/// What a plan costs; `moved` is taken from the plan.
pub fn cost(case: Case) -> Cost {
    let Case { book, plan } = case;
    let mut ends: Vec<Option<Slot>> = vec![None; book.jobs.len()];
    let mut mixes = BTreeSet::new();
    let mut done = 0;
    for (task, placed) in book.tasks.iter().zip(&plan.tasks) {
        let Some(placed) = placed else { continue };
        done += u32::from(task.optional);
        mixes.extend(placed.mix);
        ends[task.job] = ends[task.job].max(placed.stretches.last().map(|stretch| stretch.1));
    }
    let (mut late, mut finishes) = (0, 0);
    for (job, ends) in book.jobs.iter().zip(ends) {
        let Some(ends) = ends else { continue };
        finishes += u64::from(ends.max(0).unsigned_abs());
        let leaves = job.leaves.iter().copied().find(|&leave| leave >= ends).unwrap_or(ends);
        if let Some(due) = job.due.filter(|&due| leaves > due) {
            late += u64::from(job.weight) * u64::from((leaves - due).unsigned_abs());
        }
    }
    Cost { late, extras: done + mixes.len() as u32, finishes, moved: plan.cost.moved }
}

/// What is wrong.
pub fn faults(case: Case) -> Vec<String> {
    let mut faults = Vec::new();
    let (told, reckoned) = (case.plan.cost, cost(case));
    if told != reckoned {
        faults.push(format!("the cost is {reckoned:?}, not {told:?}"));
    }
    if case.plan.bound > told {
        faults.push(format!("the bound {:?} is above the cost {told:?}", case.plan.bound));
    }
    faults
}

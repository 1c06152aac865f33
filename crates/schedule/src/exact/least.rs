//! What is made as small as can be: lateness, then the slots at which jobs are done.

use super::model::{Bounds, Model};
use super::plain::Plain;
use super::solve::{Asking, Least, least};
use crate::book::{Job, Slot};
use crate::plan::Cost;
use pumpkin_constraints as constraints;
use pumpkin_core::predicate;
use pumpkin_core::proof::ConstraintTag;
use pumpkin_core::variables::{DomainId, TransformableVariable};

/// Sums in the solver stay below this: it counts in 32 bits, and adds two such.
const GREATEST: u64 = 1 << 29;

/// A plan that nothing, or perhaps nothing, is better than.
#[derive(Debug)]
pub(super) struct Best {
    pub begins: Vec<Slot>,
    pub bound: Cost,
}

/// The best plan, from one that is known; `bound` is what is known to be the least cost.
pub(super) fn best(
    plain: &Plain,
    window: &Bounds,
    begins: Vec<Slot>,
    bound: Cost,
    asking: &mut Asking,
) -> Best {
    let mut best = Best { begins, bound };
    // The sooner a single job ends, the less late it is: one figure is enough.
    let jobs = &plain.book.jobs;
    if jobs.len() > 1 {
        if let Some(least) = least_late(plain, window, &best, asking) {
            best = least;
        }
        if plain.cost(&best.begins).late > best.bound.late {
            return best;
        }
    }
    let Some(least) = least_finishes(plain, window, &best, asking) else { return best };
    best.begins = least.begins;
    let cost = plain.cost(&best.begins);
    let finishes =
        if least.proved { cost.finishes } else { best.bound.finishes.max(least.bound as u64) };
    let late = if jobs.len() == 1 {
        let job = &jobs[0];
        u64::from(job.weight) * job.late(Slot::try_from(finishes).unwrap_or(Slot::MAX)) as u64
    } else {
        best.bound.late
    };
    best.bound = Cost { late, finishes, ..best.bound };
    best
}

/// Last slot at which a job may end to be so late and no later.
fn last_end(job: &Job, late: Slot, horizon: Slot) -> Slot {
    let Some(due) = job.due else { return horizon };
    let leaves_by = due.saturating_add(late);
    let end = match job.leaves.last() {
        Some(&last) if leaves_by < last => {
            let known = job.leaves.partition_point(|&leave| leave <= leaves_by);
            if known == 0 { Slot::MIN } else { job.leaves[known - 1] }
        }
        _ => leaves_by,
    };
    end.min(horizon)
}

/// How much a slot of each job's lateness weighs, in the greatest unit that divides all.
fn weights(jobs: &[Job]) -> (Vec<u64>, u64) {
    let gcd = |a: u64, b: u64| {
        let (mut a, mut b) = (a, b);
        while b > 0 {
            (a, b) = (b, a % b);
        }
        a
    };
    let weights = jobs.iter().map(|job| if job.due.is_some() { u64::from(job.weight) } else { 0 });
    let weights: Vec<u64> = weights.collect();
    let unit = weights.iter().fold(0, |unit, &weight| gcd(unit, weight)).max(1);
    (weights.iter().map(|weight| weight / unit).collect(), unit)
}

/// The model in which jobs are late by no more than `late` units in all, with the lateness of each
/// job that can be late. Nothing if the figures are too large.
fn late_model(plain: &Plain, window: &Bounds, late: u64) -> Option<(Model, Vec<(i32, DomainId)>)> {
    let jobs = &plain.book.jobs;
    let (weights, _) = weights(jobs);
    let mut bounds = window.clone();
    let allowed = |weight: u64| Slot::try_from(late.checked_div(weight)?).ok();
    for ((job, &weight), end) in jobs.iter().zip(&weights).zip(&mut bounds.ends) {
        if let Some(allowed) = allowed(weight) {
            *end = last_end(job, allowed, *end);
        }
    }
    let mut model = Model::new(plain, &plain.arcs, &bounds)?;
    let tag = model.solver.new_constraint_tag();
    let mut terms = Vec::new();
    for (at, (job, &weight)) in jobs.iter().zip(&weights).enumerate() {
        let (Some(due), true) = (job.due, weight > 0) else { continue };
        let end = model.ends[at];
        let most = job.late(model.solver.upper_bound(&end)).min(allowed(weight)?);
        if most == 0 {
            continue;
        }
        let least = job.late(model.solver.lower_bound(&end)).min(most);
        let slots = model.solver.new_bounded_integer(least, most);
        add_lateness(&mut model, job, due, end, slots, tag);
        terms.push((i32::try_from(weight).ok()?, slots));
    }
    Some((model, terms))
}

/// A job's lateness is no less than its end says.
fn add_lateness(
    model: &mut Model,
    job: &Job,
    due: Slot,
    end: DomainId,
    slots: DomainId,
    tag: ConstraintTag,
) {
    let terms = [end.scaled(1), slots.scaled(-1)];
    model.solver.add_constraint(constraints::less_than_or_equals(terms, due, tag)).post();
    for pair in job.leaves.windows(2).filter(|pair| pair[1] > due) {
        if model.solver.is_inconsistent() {
            return;
        }
        let missed = predicate![slots >= pair[1] - due];
        model.solver.add_clause([predicate![end <= pair[0]], missed], tag);
    }
}

/// Makes the weighted lateness least. Nothing if it is so already, or cannot be counted.
fn least_late(plain: &Plain, window: &Bounds, best: &Best, asking: &mut Asking) -> Option<Best> {
    let cost = plain.cost(&best.begins);
    let (_, unit) = weights(&plain.book.jobs);
    let late = cost.late / unit;
    if cost.late <= best.bound.late || late >= GREATEST {
        return None;
    }
    let (mut model, terms) = late_model(plain, window, late)?;
    let tag = model.solver.new_constraint_tag();
    let sum = model.solver.new_bounded_integer(0, i32::try_from(late).ok()?);
    let mut all: Vec<_> = terms.iter().map(|(weight, slots)| slots.scaled(*weight)).collect();
    all.push(sum.scaled(-1));
    model.solver.add_constraint(constraints::less_than_or_equals(all, 0, tag)).post();
    let mut extra: Vec<DomainId> = terms.iter().map(|term| term.1).collect();
    extra.push(sum);
    let cost = |begins: &[Slot]| plain.cost(begins);
    let Least { begins, bound, proved } = least(model, sum, &extra, &best.begins, asking, cost);
    let reached = plain.cost(&begins).late;
    let late = if proved { reached } else { best.bound.late.max(bound as u64 * unit) };
    Some(Best { begins, bound: Cost { late, ..best.bound } })
}

/// Makes the sum of the jobs' ends least, with no more lateness than there is.
fn least_finishes(
    plain: &Plain,
    window: &Bounds,
    best: &Best,
    asking: &mut Asking,
) -> Option<Least> {
    let cost = plain.cost(&best.begins);
    let (_, unit) = weights(&plain.book.jobs);
    if cost.finishes <= best.bound.finishes
        || cost.finishes >= GREATEST
        || cost.late / unit >= GREATEST
    {
        return None;
    }
    let finishes = i32::try_from(cost.finishes).ok()?;
    let price = |begins: &[Slot]| plain.cost(begins);
    if plain.book.jobs.len() == 1 {
        let mut bounds = window.clone();
        bounds.ends[0] = bounds.ends[0].min(finishes);
        let model = Model::new(plain, &plain.arcs, &bounds)?;
        let figure = model.ends[0];
        return Some(least(model, figure, &[], &best.begins, asking, price));
    }
    let (mut model, terms) = late_model(plain, window, cost.late / unit)?;
    let tag = model.solver.new_constraint_tag();
    let late: Vec<_> = terms.iter().map(|(weight, slots)| slots.scaled(*weight)).collect();
    if !late.is_empty() {
        let most = i32::try_from(cost.late / unit).ok()?;
        model.solver.add_constraint(constraints::less_than_or_equals(late, most, tag)).post();
    }
    let sum = model.solver.new_bounded_integer(0, finishes);
    let mut all: Vec<_> = model.ends.iter().map(|end| end.scaled(1)).collect();
    all.push(sum.scaled(-1));
    model.solver.add_constraint(constraints::less_than_or_equals(all, 0, tag)).post();
    let mut extra: Vec<DomainId> = terms.iter().map(|term| term.1).collect();
    extra.push(sum);
    Some(least(model, sum, &extra, &best.begins, asking, price))
}

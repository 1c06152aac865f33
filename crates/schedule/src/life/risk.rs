//! How sure the days of a plan are: it is lived through many times, with durations that vary.

use super::replay::{Lived, Replay};
use super::spread::{Factors, Spread};
use crate::book::{Book, Job, Slot};
use crate::plan::Plan;

/// How often a plan is lived through.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sampling {
    /// Times.
    pub samples: u32,
    /// Seed of chance.
    pub seed: u64,
}

/// How sure one job is.
#[derive(Debug, Clone, PartialEq)]
pub struct JobRisk {
    /// The chance to leave by its due time, 0 to 1; `None` without a due time.
    pub in_time: Option<f64>,
    /// How many slots earlier it would have to be done, each time, to leave by its due time nine times
    /// in ten; `None` if it has no due time, or no leave by then.
    pub buffer: Option<Slot>,
    /// When it leaves at the latest one, five and nine times in ten, slots.
    pub leaves: [Slot; 3],
    /// Mean of when it is done, slots.
    pub mean: f64,
    /// Standard deviation of when it is done, slots.
    pub deviation: f64,
    /// The chance that a gap without relief gets too long, 0 to 1.
    pub missed: f64,
}

/// How often a job shall be in time.
const SURE: f64 = 0.9;

/// How sure each job of a plan is, by replay (Monte Carlo): each task keeps its person and its place in
/// their order, and begins at the earliest time at or after its time in the plan that the tasks before
/// it, hours, hands and machines allow; where a window is missed, what relieves it is done. The same
/// seed gives the same answer.
pub fn risk(book: &Book, plan: &Plan, spread: &Spread, sampling: Sampling) -> Vec<JobRisk> {
    let replay = Replay::new(book, plan, spread);
    let mut factors = Factors::new(sampling.seed);
    let mut lived = Lived::default();
    let mut ends: Vec<Vec<f64>> = vec![Vec::new(); book.jobs.len()];
    let mut missed = vec![0_u32; book.jobs.len()];
    for _ in 0..sampling.samples.max(1) {
        replay.live(&mut factors, &mut lived);
        let mut last = vec![f64::NEG_INFINITY; book.jobs.len()];
        for (task, &ends) in book.tasks.iter().zip(&lived.ends) {
            last[task.job] = last[task.job].max(ends);
        }
        for job in 0..book.jobs.len() {
            ends[job].push(last[job]);
            missed[job] += u32::from(lived.missed[job]);
        }
    }
    let told = book.jobs.iter().zip(ends).zip(missed);
    told.map(|((job, ends), missed)| of_job(job, ends, missed)).collect()
}

fn of_job(job: &Job, mut ends: Vec<f64>, missed: u32) -> JobRisk {
    let count = ends.len() as f64;
    ends.sort_by(f64::total_cmp);
    // The least of the sample that so large a share of it does not exceed.
    let quantile = |share: f64| ends[((share * count).ceil() as usize).clamp(1, ends.len()) - 1];
    let leaves = |ends: f64| job.leaves_at(ends.ceil() as Slot);
    let in_time =
        job.due.map(|due| ends.iter().filter(|&&ends| leaves(ends) <= due).count() as f64 / count);
    let over = |by: Slot| (quantile(SURE) - f64::from(by)).ceil().max(0.0) as Slot;
    let mean = ends.iter().sum::<f64>() / count;
    let squares: f64 = ends.iter().map(|ends| (ends - mean) * (ends - mean)).sum();
    JobRisk {
        in_time,
        buffer: done_by(job).map(over),
        leaves: [0.1, 0.5, 0.9].map(|share| leaves(quantile(share))),
        mean,
        deviation: (squares / (count - 1.0).max(1.0)).sqrt(),
        missed: f64::from(missed) / count,
    }
}

/// By when a job must be done to leave by its due time.
fn done_by(job: &Job) -> Option<Slot> {
    let due = job.due?;
    let leaves = job.leaves.partition_point(|&leave| leave <= due);
    if leaves == job.leaves.len() {
        return Some(due);
    }
    leaves.checked_sub(1).map(|last| job.leaves[last])
}

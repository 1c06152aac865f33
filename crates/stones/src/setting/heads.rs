//! Idle time that heads and tails force.
//!
//! A patch has a head, the earliest it can begin: the patches that must come before it are done by then,
//! and where one of these holds it up, its glue has set. It has a tail likewise: what must follow. One
//! pair of hands that may lay any patch aside and take it up again, and that is free of all else, is done
//! soonest if it always works on the patch with the longest tail of those whose head is past (Jackson's
//! preemptive schedule: Carlier, European Journal of Operational Research 11, 1982, from memory). Every
//! order of the patches is such a schedule, so none is done sooner.

use crate::setting::turning::{Glue, Task};
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// Idle time that no order avoids which keeps what must come first (`before`, for each patch), min.
pub fn idle_by_heads_min(tasks: &[Task], glue: &Glue, before: &[Vec<usize>]) -> f64 {
    let all_min: f64 = tasks.iter().map(|task| task.work_min).sum();
    // Each after what must come before it.
    let mut order: Vec<usize> = (0..tasks.len()).collect();
    order.sort_by(|a, b| {
        let (a, b) = (tasks[*a].place(), tasks[*b].place());
        (a.0, a.1).cmp(&(b.0, b.1)).then(a.2.total_cmp(&b.2))
    });
    let glued =
        |a: usize, b: usize| if tasks[a].holds_up(&tasks[b], glue) { glue.set_min } else { 0.0 };
    let mut head = vec![0.0_f64; tasks.len()];
    let mut tail = vec![0.0_f64; tasks.len()];
    for &task in &order {
        // All work right before it, by one pair of hands, and each with its glue.
        let work: f64 = before[task].iter().map(|&one| tasks[one].work_min).sum();
        let each =
            before[task].iter().map(|&one| head[one] + tasks[one].work_min + glued(one, task));
        head[task] = each.fold(work, f64::max);
    }
    for &task in order.iter().rev() {
        for &one in &before[task] {
            tail[one] = tail[one].max(glued(one, task) + tasks[task].work_min + tail[task]);
        }
    }
    (preemptive_min(tasks, &head, &tail) - all_min).max(0.0)
}

/// Patches whose head is past, the longest tail first.
#[derive(PartialEq)]
struct Open {
    tail_min: f64,
    left_min: f64,
}

impl Eq for Open {}

impl PartialOrd for Open {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Open {
    fn cmp(&self, other: &Self) -> Ordering {
        self.tail_min.total_cmp(&other.tail_min).then(self.left_min.total_cmp(&other.left_min))
    }
}

/// When the last tail of Jackson's schedule is over, min.
fn preemptive_min(tasks: &[Task], head: &[f64], tail: &[f64]) -> f64 {
    let mut by_head: Vec<usize> = (0..tasks.len()).collect();
    by_head.sort_by(|a, b| head[*a].total_cmp(&head[*b]).then(a.cmp(b)));
    let mut coming = by_head.into_iter().peekable();
    let mut open: BinaryHeap<Open> = BinaryHeap::new();
    let (mut now, mut done) = (0.0_f64, 0.0_f64);
    loop {
        while let Some(task) = coming.next_if(|&task| head[task] <= now) {
            open.push(Open { tail_min: tail[task], left_min: tasks[task].work_min });
        }
        let next = coming.peek().map(|&task| head[task]);
        match (open.pop(), next) {
            (None, None) => return done,
            (None, Some(begins)) => now = begins,
            (Some(one), Some(begins)) if begins < now + one.left_min => {
                open.push(Open { left_min: one.left_min - (begins - now), ..one });
                now = begins;
            }
            (Some(one), _) => {
                now += one.left_min;
                done = done.max(now + one.tail_min);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec3;

    fn task(work_min: f64) -> Task {
        Task {
            zone: 0,
            level: 0,
            around: (0.0, 0.1),
            round: true,
            along_mm: (0.0, 10.0),
            widest_mm: 3.0,
            up: DVec3::X,
            spread_rad: 0.1,
            work_min,
        }
    }

    #[test]
    fn the_preemptive_schedule_is_as_long_as_the_hardest_of_all_sets() {
        // Carlier 1982, the example of seven jobs (heads, times, tails), from memory: no schedule is over
        // before 50. The preemptive one takes the most of least head + work + least tail over all sets.
        let jobs = [
            (10.0, 5.0, 7.0),
            (13.0, 6.0, 26.0),
            (11.0, 7.0, 24.0),
            (20.0, 4.0, 21.0),
            (30.0, 3.0, 8.0),
            (0.0, 6.0, 17.0),
            (30.0, 2.0, 0.0),
        ];
        let tasks: Vec<Task> = jobs.iter().map(|job| task(job.1)).collect();
        let head: Vec<f64> = jobs.iter().map(|job| job.0).collect();
        let tail: Vec<f64> = jobs.iter().map(|job| job.2).collect();
        let mut hardest = 0.0_f64;
        for set in 1_u32..1 << jobs.len() {
            let jobs: Vec<_> =
                (0..jobs.len()).filter(|job| set & 1 << job != 0).map(|job| jobs[job]).collect();
            let least =
                |of: fn(&(f64, f64, f64)) -> f64| jobs.iter().map(of).fold(f64::INFINITY, f64::min);
            let work: f64 = jobs.iter().map(|job| job.1).sum();
            hardest = hardest.max(least(|job| job.0) + work + least(|job| job.2));
        }
        let over_min = preemptive_min(&tasks, &head, &tail);
        assert!((over_min - hardest).abs() < 1e-9, "{over_min} instead of {hardest}");
        assert!(over_min <= 50.0);
    }
}

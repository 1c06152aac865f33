//! The best of all orders of a few patches.
//!
//! What is still to come depends on an order begun only through which patches are set, how late it is
//! and when each patch to come may be begun. Of two that set the same patches, one that is nowhere later
//! is kept and the other dropped, so all orders are weighed without walking each (dynamic programming
//! over sets: Held and Karp, J. SIAM 10, 1962, from memory).

use crate::setting::turning::{Glue, Task};
use std::collections::BTreeMap;

/// Of more patches not every order is weighed.
pub const MOST: usize = 12;
/// Orders begun that are kept side by side, at most; beyond, the search is given up.
const KEPT: usize = 40_000;

/// An order begun.
#[derive(Clone)]
struct Begun {
    now_min: f64,
    /// When each patch may be begun at the earliest, min; 0 for those set.
    ready_min: [f64; MOST],
    order: Vec<usize>,
}

impl Begun {
    fn nowhere_later(&self, other: &Self) -> bool {
        let ready = self.ready_min.iter().zip(&other.ready_min);
        self.now_min <= other.now_min
            && ready.into_iter().all(|(a, b)| a.max(self.now_min) <= b.max(other.now_min))
    }
}

/// An order that idles least of all that keep what must come first (`before`, for each patch), and its
/// idle time, min; `None` where there are too many to weigh.
pub fn best_order(tasks: &[Task], glue: &Glue, before: &[Vec<usize>]) -> Option<(Vec<usize>, f64)> {
    if tasks.len() > MOST {
        return None;
    }
    let mask = |list: &Vec<usize>| list.iter().fold(0_u32, |mask, task| mask | 1 << task);
    let first: Vec<u32> = before.iter().map(mask).collect();
    let start = Begun { now_min: 0.0, ready_min: [0.0; MOST], order: Vec::new() };
    let mut of_set = BTreeMap::from([(0_u32, vec![start])]);
    for _ in 0..tasks.len() {
        let mut next: BTreeMap<u32, Vec<Begun>> = BTreeMap::new();
        let mut kept = 0;
        for (set, all) in &of_set {
            let may = |task: &usize| set & (1 << task) == 0 && first[*task] & !set == 0;
            for task in (0..tasks.len()).filter(may) {
                let fronts = next.entry(set | 1 << task).or_default();
                for begun in all {
                    let more = after(begun, tasks, glue, *set, task);
                    if fronts.iter().any(|other| other.nowhere_later(&more)) {
                        continue;
                    }
                    kept -= fronts.len();
                    fronts.retain(|other| !more.nowhere_later(other));
                    fronts.push(more);
                    kept += fronts.len();
                }
                if kept > KEPT {
                    return None;
                }
            }
        }
        of_set = next;
    }
    let all_min: f64 = tasks.iter().map(|task| task.work_min).sum();
    let done = of_set.into_values().flatten();
    let best = done.min_by(|a, b| a.now_min.total_cmp(&b.now_min))?;
    Some((best.order, (best.now_min - all_min).max(0.0)))
}

fn after(begun: &Begun, tasks: &[Task], glue: &Glue, set: u32, task: usize) -> Begun {
    let now_min = begun.now_min.max(begun.ready_min[task]) + tasks[task].work_min;
    let mut ready_min = begun.ready_min;
    ready_min[task] = 0.0;
    for (other, ready) in ready_min.iter_mut().enumerate().take(tasks.len()) {
        let to_come = other != task && set & (1 << other) == 0;
        if to_come && tasks[task].holds_up(&tasks[other], glue) {
            *ready = ready.max(now_min + glue.set_min);
        }
    }
    let mut order = begun.order.clone();
    order.push(task);
    Begun { now_min, ready_min, order }
}

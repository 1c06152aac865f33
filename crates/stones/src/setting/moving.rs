//! Betters an order of patches: one patch after another is moved to where it makes the hand wait less.

use crate::going::Going;
use crate::setting::sequence::rank;
use crate::setting::turning::{Glue, Task, timed};
use crate::steps::step;

/// More patches than this are left as they are.
const MOST: usize = 400;
/// Steps looked at, at most: places tried, times patches behind them.
const EFFORT: usize = 30_000_000;

/// Moves single patches for as long as that shortens the idle time (or, without lengthening it, the
/// turning), idles more than `least_min`, and is `going`. `before` lists for each patch what must come
/// first. The order and its idle time, min.
pub fn moved(
    tasks: &[Task],
    glue: &Glue,
    before: &[Vec<usize>],
    (order, least_min): (Vec<usize>, f64),
    going: Going<'_>,
) -> (Vec<usize>, f64) {
    let n = tasks.len();
    if n > MOST {
        let idle_min = timed(tasks, &order, glue).iter().map(|at| at.wait_min).sum();
        return (order, idle_min);
    }
    let bench = Bench::new(tasks, glue);
    let mut best = order;
    let (mut idle_min, mut turned) = bench.price(&best);
    let mut effort = 0;
    let mut at_rest = 0;
    let mut task = 0;
    while at_rest < n && effort < EFFORT && idle_min > least_min + 1e-3 && going.on() {
        let Some(from) = best.iter().position(|&one| one == task) else { break };
        let mut without = best.clone();
        without.remove(from);
        let place = |other: usize| without.iter().position(|&one| one == other);
        let first = before[task].iter().filter_map(|&one| place(one)).max().map_or(0, |at| at + 1);
        let last = without.iter().position(|&one| before[one].contains(&task)).unwrap_or(n - 1);
        let mut better = None;
        for to in (first..=last).filter(|&to| to != from) {
            let mut tried = without.clone();
            tried.insert(to, task);
            let price = bench.price(&tried);
            effort += n;
            if rank(price.0, price.1) < rank(idle_min, turned) {
                (idle_min, turned) = price;
                better = Some(tried);
            }
        }
        at_rest = if better.is_some() { 0 } else { at_rest + 1 };
        best = better.unwrap_or(best);
        task = (task + 1) % n;
    }
    (best, idle_min)
}

/// What is asked again and again, worked out once.
struct Bench {
    n: usize,
    set_min: f64,
    work_min: Vec<f64>,
    /// Whether the first of a pair holds up the second.
    holds_up: Vec<bool>,
    /// Turn from one to the other, as a chord of a unit circle.
    turn: Vec<f64>,
}

impl Bench {
    fn new(tasks: &[Task], glue: &Glue) -> Self {
        let pairs = || tasks.iter().flat_map(|a| tasks.iter().map(move |b| (a, b)));
        Self {
            n: tasks.len(),
            set_min: glue.set_min,
            work_min: tasks.iter().map(|task| task.work_min).collect(),
            holds_up: pairs().map(|(a, b)| a.holds_up(b, glue)).collect(),
            turn: pairs().map(|(a, b)| a.turn_to(b)).collect(),
        }
    }

    /// Idle time, min, and turning of an order.
    fn price(&self, order: &[usize]) -> (f64, f64) {
        step();
        let (mut now, mut idle_min, mut turned) = (0.0, 0.0, 0.0);
        // Patches still wet, from that which dries first.
        let mut ends: Vec<f64> = Vec::with_capacity(order.len());
        let mut wet_from = 0;
        for (place, &task) in order.iter().enumerate() {
            while wet_from < place && ends[wet_from] + self.set_min <= now {
                wet_from += 1;
            }
            // The latest that holds it up dries last.
            let holding =
                (wet_from..place).rev().find(|&wet| self.holds_up[order[wet] * self.n + task]);
            let ready = holding.map_or(now, |wet| now.max(ends[wet] + self.set_min));
            idle_min += ready - now;
            now = ready + self.work_min[task];
            ends.push(now);
            if place > 0 {
                turned += self.turn[order[place - 1] * self.n + task];
            }
        }
        (idle_min, turned)
    }
}

//! Idle time that no order of the patches avoids: of few patches the least there is, of more the largest
//! of three bounds.
//!
//! Two are by spells. Cut any order into spells: a spell ends before the first patch that may not follow
//! one of its patches while that is wet. Let `S` be the patches of a spell, `W` their work and `L` the
//! work of the shortest of them and the setting of the glue. From the beginning of a spell to that of the
//! next it takes at least `L`, since one of its patches must be done and set; so each spell but the last
//! idles for at least `max(0, L - W)`. Of any two patches of a spell at least one may follow the other
//! while it is wet, and where one must come first, it is the other that may follow.
//! - All work is done in at least so many spells as the heaviest set of patches that get along goes into
//!   it, and each but the last lasts at least the shortest `L`.
//! - Let `H` of a patch be the work of the heaviest set that it gets along in, and `l` its shortest `L`.
//!   Then `W <= H` and `L >= l`, so `max(0, L - W) = sum of p (L/W - 1)+ >= sum of p (l/H - 1)+` over the
//!   patches of a spell with their work `p`. Over all patches, less the most that one spell can hold of
//!   it (the last need not wait), this bounds the idle time from below. It sees a crowded side and a bare
//!   one apart, where the first takes all sides alike.
//!
//! The proofs are ours. The third bound is by heads and tails, see [`crate::setting::heads`].

use crate::setting::exact::best_order;
use crate::setting::heads::idle_by_heads_min;
use crate::setting::turning::{Glue, HAIR, Task};

/// With more patches than this only coarser sets are looked for: all that get along with one.
const FINE: usize = 200;
/// With more patches than this spells are not looked at.
const MOST: usize = 1000;

/// Idle time that no order avoids which keeps what must come first (`before`, for each patch), min.
pub fn least_idle_min(tasks: &[Task], glue: &Glue, before: &[Vec<usize>]) -> f64 {
    let exact_min = || best_order(tasks, glue, before).map(|best| best.1);
    least_idle_beside_min(tasks, glue, before, exact_min)
}

/// The same where the idle time of the best of all orders is known already, if they are few enough.
pub fn least_idle_beside_min(
    tasks: &[Task],
    glue: &Glue,
    before: &[Vec<usize>],
    exact_min: impl FnOnce() -> Option<f64>,
) -> f64 {
    let all_min: f64 = tasks.iter().map(|task| task.work_min).sum();
    if tasks.len() < 2 || all_min <= 0.0 || glue.set_min <= 0.0 {
        return 0.0;
    }
    if let Some(exact_min) = exact_min() {
        return exact_min;
    }
    let by_heads_min = idle_by_heads_min(tasks, glue, before);
    if tasks.len() > MOST {
        by_heads_min
    } else {
        by_heads_min.max(by_spells_min(tasks, glue, before))
    }
}

/// The larger of the two bounds by spells, min.
pub fn by_spells_min(tasks: &[Task], glue: &Glue, before: &[Vec<usize>]) -> f64 {
    let along = Along::new(tasks, glue, before);
    let work = |task: usize| tasks[task].work_min;
    let all_min: f64 = (0..tasks.len()).map(work).sum();
    let shortest_min = (0..tasks.len()).map(work).fold(f64::INFINITY, f64::min);
    let mut heaviest_min = vec![0.0_f64; tasks.len()];
    along.sets(&mut |set| {
        let work_min: f64 = set.iter().map(|&task| work(task)).sum();
        set.iter().for_each(|&task| heaviest_min[task] = heaviest_min[task].max(work_min));
    });
    let most_min = heaviest_min.iter().copied().fold(0.0, f64::max);

    let spell_min = shortest_min + glue.set_min;
    // The last spell needs no wait after it.
    let waits = (all_min / most_min - HAIR).ceil().max(1.0) - 1.0;
    let alike_min = if waits > 0.0 && most_min < spell_min {
        let by_spell = waits * (spell_min - most_min);
        let by_sum = waits * spell_min - all_min + shortest_min;
        by_spell.max(by_sum)
    } else {
        0.0
    };

    let idle = |task: usize| {
        let beside = (0..tasks.len()).filter(|&other| along.pair(task, other)).map(work);
        let least_min = beside.fold(work(task), f64::min) + glue.set_min;
        work(task) * (least_min / heaviest_min[task] - 1.0).max(0.0)
    };
    let idle: Vec<f64> = (0..tasks.len()).map(idle).collect();
    let mut last_min = 0.0;
    along.sets(&mut |set| {
        last_min = f64::max(last_min, set.iter().map(|&task| idle[task]).sum());
    });
    let apart_min = idle.iter().sum::<f64>() - last_min;
    alike_min.max(apart_min - HAIR).max(0.0)
}

/// Which patches may be of one spell.
struct Along<'a> {
    tasks: &'a [Task],
    /// For each pair.
    pairs: Vec<bool>,
}

impl<'a> Along<'a> {
    fn new(tasks: &'a [Task], glue: &Glue, before: &[Vec<usize>]) -> Self {
        let n = tasks.len();
        let mut follows: Vec<bool> =
            (0..n * n).map(|pair| !tasks[pair / n].holds_up(&tasks[pair % n], glue)).collect();
        for (task, first) in before.iter().enumerate() {
            first.iter().for_each(|&one| follows[task * n + one] = false);
        }
        let pairs = (0..n * n)
            .map(|pair| {
                let (a, b) = (pair / n, pair % n);
                a == b || follows[pair] || follows[b * n + a]
            })
            .collect();
        Self { tasks, pairs }
    }

    fn pair(&self, a: usize, b: usize) -> bool {
        self.pairs[a * self.tasks.len() + b]
    }

    /// Tells of sets of patches, of which every set that gets along is part of one.
    fn sets(&self, visit: &mut dyn FnMut(&[usize])) {
        let n = self.tasks.len();
        let mut set = Vec::new();
        for a in 0..n {
            let with_a: Vec<usize> = (0..n).filter(|&other| self.pair(a, other)).collect();
            if n > FINE {
                visit(&with_a);
                continue;
            }
            // The two that face farthest from each other: all others lie no farther from either.
            for &b in with_a.iter().filter(|&&b| b >= a) {
                let apart = self.tasks[a].up.dot(self.tasks[b].up);
                let near = |of: usize, task: usize| {
                    self.tasks[of].up.dot(self.tasks[task].up) >= apart - HAIR
                };
                set.clear();
                set.extend(with_a.iter().copied().filter(|&task| {
                    self.pair(b, task)
                        && (task == a || task == b || (near(a, task) && near(b, task)))
                }));
                visit(&set);
            }
        }
    }
}

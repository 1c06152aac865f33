//! Idle time that no order of the patches avoids.
//!
//! Cut any order into spells: a spell ends before the first patch that may not follow one of its
//! patches while that is wet. A spell thus lasts at least the shortest patch and the setting of its
//! glue, while the patches in it hold each other up in no way: their work is at most that of the
//! heaviest set of patches that get along. So there are at least as many spells as that goes into all the work, and each of them
//! but the last idles for what is missing. What must come first and where the hand lies would only
//! lengthen it; both are left out.

use crate::turning::{Glue, HAIR, Task};
use std::f64::consts::PI;

/// With more patches than this only the coarser set is looked for: all that get along with one.
const FINE: usize = 300;

/// Idle time that no order avoids, min.
pub fn least_idle_min(tasks: &[Task], glue: &Glue) -> f64 {
    let all_min: f64 = tasks.iter().map(|task| task.work_min).sum();
    let shortest_min = tasks.iter().map(|task| task.work_min).fold(f64::INFINITY, f64::min);
    if tasks.len() < 2 || all_min <= 0.0 || glue.set_min <= 0.0 {
        return 0.0;
    }
    let spell_min = shortest_min + glue.set_min;
    let Some(heaviest_min) = heaviest_below(tasks, glue, spell_min.min(all_min)) else {
        return 0.0;
    };
    // The last spell needs no wait after it.
    let waits = (all_min / heaviest_min - HAIR).ceil().max(1.0) - 1.0;
    let by_spell = waits * (spell_min - heaviest_min);
    let by_sum = waits * spell_min - all_min + shortest_min;
    if waits > 0.0 { by_spell.max(by_sum).max(0.0) } else { 0.0 }
}

/// Most work in patches that all get along, min, or more than that; `None` if it reaches `enough_min`.
fn heaviest_below(tasks: &[Task], glue: &Glue, enough_min: f64) -> Option<f64> {
    let around = |middle: &Task, cosine: f64| -> f64 {
        tasks.iter().filter(|task| task.up.dot(middle.up) >= cosine).map(|task| task.work_min).sum()
    };
    let reach = |a: &Task, b: &Task| {
        (glue.lean_rad - a.spread_rad.min(b.spread_rad) + 2.0 * HAIR).clamp(0.0, PI)
    };
    let least_spread = tasks.iter().map(|task| task.spread_rad).fold(f64::INFINITY, f64::min);
    let most_spread = tasks.iter().map(|task| task.spread_rad).fold(0.0, f64::max);
    let reach_rad = (glue.lean_rad - least_spread + 2.0 * HAIR).clamp(0.0, PI);
    // Any two within half the shortest reach of a third get along: where that is enough, there is no
    // need to look closer.
    let half = libm::cos((glue.lean_rad - most_spread).clamp(0.0, PI) / 2.0);
    if tasks.iter().any(|task| around(task, half) >= enough_min) {
        return None;
    }
    let whole = libm::cos(reach_rad);
    if tasks.len() > FINE {
        let heaviest = tasks.iter().map(|task| around(task, whole)).fold(0.0, f64::max);
        return (heaviest < enough_min).then_some(heaviest);
    }
    // Of a set that gets along, take the two that face farthest from each other: all others lie no
    // farther from either.
    let mut heaviest = tasks.iter().map(|task| task.work_min).fold(0.0, f64::max);
    for (index, a) in tasks.iter().enumerate() {
        for b in &tasks[index..] {
            let apart = a.up.dot(b.up);
            if apart < libm::cos(reach(a, b)) {
                continue;
            }
            let between = |task: &&Task| task.up.dot(a.up).min(task.up.dot(b.up)) >= apart - HAIR;
            let work_min = tasks.iter().filter(between).map(|task| task.work_min).sum();
            heaviest = f64::max(heaviest, work_min);
        }
    }
    (heaviest < enough_min).then_some(heaviest)
}

//! The order of patches that waits least for glue.
//!
//! One pair of hands, patches that take a while, and for some pairs a least time between the end of one
//! and the beginning of the other: one machine with minimum delays, which is NP-hard (Wikum, Llewellyn
//! and Nemhauser, Operations Research Letters 16, 1994). Of few patches every order is weighed; of more,
//! as many part orders are kept side by side as there is time for, and the best is then mended patch by
//! patch. Among equals the part is turned least.

use crate::going::Going;
use crate::setting::exact::best_order;
use crate::setting::idle_bound::least_idle_beside_min;
use crate::setting::moving::moved;
use crate::setting::turning::{Glue, HAIR, Task, forerunners, ready_at};
use crate::steps::step;
use std::collections::BTreeSet;

/// Part orders kept side by side, at most.
const WIDEST: usize = 48;
/// Part orders kept are fewer where there are many patches: their number squared times those kept.
const EFFORT: usize = 3_000_000;

/// An order of patches that keeps what must come first, and the idle time in it, min; not the best that
/// could be found, nor of all patches, when no longer `going`.
pub fn order_of(tasks: &[Task], glue: &Glue, going: Going<'_>) -> (Vec<usize>, f64) {
    let before = forerunners(tasks);
    let mut after = vec![Vec::new(); tasks.len()];
    for (task, list) in before.iter().enumerate() {
        list.iter().for_each(|&first: &usize| after[first].push(task));
    }
    let desk = Desk { tasks, glue, after };
    let start = Half {
        now_min: 0.0,
        idle_min: 0.0,
        turned: 0.0,
        wet: Vec::new(),
        unmet: before.iter().map(|list| list.len() as u32).collect(),
        free: (0..tasks.len()).filter(|&task| before[task].is_empty()).collect(),
        order: Vec::new(),
        mark: 0,
    };
    let mut best = desk.side_by_side(start.clone(), 1, going);
    if best.idle_min <= HAIR {
        return (best.order, best.idle_min);
    }
    let of_all = best_order(tasks, glue, &before);
    let exact_min = || of_all.as_ref().map(|of_all| of_all.1);
    let least_min = least_idle_beside_min(tasks, glue, &before, exact_min);
    if best.idle_min <= least_min + HAIR {
        return (best.order, best.idle_min);
    }
    let width = (EFFORT / (tasks.len() * tasks.len())).min(WIDEST);
    if width > 1 {
        let wider = desk.side_by_side(start, width, going);
        if wider.rank() < best.rank() {
            best = wider;
        }
    }
    let better = moved(tasks, glue, &before, (best.order, least_min), going);
    match of_all {
        Some(of_all) if of_all.1 < better.1 - 1e-3 => of_all,
        _ => better,
    }
}

struct Desk<'a> {
    tasks: &'a [Task],
    glue: &'a Glue,
    /// For each patch, those that wait for it.
    after: Vec<Vec<usize>>,
}

/// An order begun.
#[derive(Clone)]
struct Half {
    now_min: f64,
    idle_min: f64,
    /// Sum of the turns, as chords of a unit circle.
    turned: f64,
    /// Patches and when their glue holds, min.
    wet: Vec<(usize, f64)>,
    /// How many forerunners each patch still waits for.
    unmet: Vec<u32>,
    /// Patches that wait for none, in order.
    free: Vec<usize>,
    order: Vec<usize>,
    /// Tells sets of patches apart.
    mark: u64,
}

impl Half {
    /// Less is better. Idle is counted in thousandths of a minute, so that rounding does not decide.
    fn rank(&self) -> (i64, i64) {
        rank(self.idle_min, self.turned)
    }
}

/// Idle time and turning as one measure: less is better.
pub fn rank(idle_min: f64, turned: f64) -> (i64, i64) {
    ((idle_min * 1e3).round() as i64, (turned * 1e6).round() as i64)
}

impl Desk<'_> {
    /// Wait before a patch and turn to it, if it comes next.
    fn price(&self, half: &Half, task: usize) -> (f64, f64) {
        step();
        let ready = ready_at(self.tasks, &half.wet, task, self.glue);
        let turn =
            half.order.last().map_or(0.0, |&last| self.tasks[last].turn_to(&self.tasks[task]));
        ((ready - half.now_min).max(0.0), turn)
    }

    fn add(&self, half: &mut Half, task: usize) {
        let (wait_min, turn) = self.price(half, task);
        half.idle_min += wait_min;
        half.turned += turn;
        half.now_min += wait_min + self.tasks[task].work_min;
        let now = half.now_min;
        half.wet.retain(|(_, dry)| *dry > now);
        half.wet.push((task, now + self.glue.set_min));
        half.free.retain(|&other| other != task);
        for &later in &self.after[task] {
            half.unmet[later] -= 1;
            if half.unmet[later] == 0 {
                let place = half.free.partition_point(|&other| other < later);
                half.free.insert(place, later);
            }
        }
        half.order.push(task);
        half.mark ^= mark_of(task);
    }

    /// Keeps the best orders of each length, so many of them.
    fn side_by_side(&self, start: Half, width: usize, going: Going<'_>) -> Half {
        let mut kept = vec![start];
        for _ in (0..self.tasks.len()).take_while(|_| going.on()) {
            let mut next: Vec<((i64, i64), usize, usize)> = Vec::new();
            for (place, half) in kept.iter().enumerate() {
                for &task in &half.free {
                    let (wait_min, turn) = self.price(half, task);
                    let rank = rank(half.idle_min + wait_min, half.turned + turn);
                    next.push((rank, place, task));
                }
            }
            if width == 1 {
                next = next.into_iter().min().into_iter().collect();
            } else {
                next.sort_unstable();
                let mut seen = BTreeSet::new();
                next.retain(|&(_, place, task)| {
                    seen.insert((kept[place].mark ^ mark_of(task), task))
                });
                next.truncate(width);
            }
            kept = match next.as_slice() {
                [(_, _, task)] if kept.len() == 1 => {
                    self.add(&mut kept[0], *task);
                    kept
                }
                chosen => chosen
                    .iter()
                    .map(|&(_, place, task)| {
                        let mut half = kept[place].clone();
                        self.add(&mut half, task);
                        half
                    })
                    .collect(),
            };
        }
        kept.swap_remove(0)
    }
}

/// A number for each patch whose combination by exclusive or tells sets apart (the finalizer of
/// SplitMix64; Steele, Lea and Flood 2014).
fn mark_of(task: usize) -> u64 {
    let mut bits = (task as u64 + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    bits ^ (bits >> 31)
}

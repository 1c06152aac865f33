//! The order of patches that waits least for glue.
//!
//! One pair of hands, patches that take a while, and for some pairs a least time between the end of one
//! and the beginning of the other: one machine with minimum delays, which is NP-hard (Wikum, Llewellyn
//! and Nemhauser, Operations Research Letters 16, 1994). Few patches are searched through to the end;
//! more, with as many part orders kept side by side as there is time for. Among equals the part is
//! turned least.

use crate::idle_bound::least_idle_min;
use crate::turning::{Glue, HAIR, Task, forerunners, ready_at};
use std::collections::BTreeSet;

/// Up to so many patches every order is looked at.
const EXACT: usize = 8;
/// Part orders kept side by side, at most.
const WIDEST: usize = 48;
/// Part orders kept are fewer where there are many patches: their number squared times those kept.
const EFFORT: usize = 3_000_000;

/// An order of patches that keeps what must come first, and the idle time in it, min.
pub fn order_of(tasks: &[Task], glue: &Glue) -> (Vec<usize>, f64) {
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
    let mut best = desk.side_by_side(start.clone(), 1);
    if best.idle_min > least_idle_min(tasks, glue) + HAIR {
        if tasks.len() <= EXACT {
            desk.all(start, &mut best);
        } else {
            let width = (EFFORT / (tasks.len() * tasks.len())).min(WIDEST);
            let wider = if width > 1 { desk.side_by_side(start, width) } else { best.clone() };
            if wider.rank() < best.rank() {
                best = wider;
            }
        }
    }
    (best.order, best.idle_min)
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

fn rank(idle_min: f64, turned: f64) -> (i64, i64) {
    ((idle_min * 1e3).round() as i64, (turned * 1e6).round() as i64)
}

impl Desk<'_> {
    /// Wait before a patch and turn to it, if it comes next.
    fn price(&self, half: &Half, task: usize) -> (f64, f64) {
        let ready = ready_at(self.tasks, &half.wet, task, self.glue);
        let turn = half.order.last().map_or(0.0, |&last| {
            (2.0 - 2.0 * self.tasks[last].up.dot(self.tasks[task].up)).max(0.0).sqrt()
        });
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
    fn side_by_side(&self, start: Half, width: usize) -> Half {
        let mut kept = vec![start];
        for _ in 0..self.tasks.len() {
            let mut next: Vec<((i64, i64), usize, usize)> = Vec::new();
            for (place, half) in kept.iter().enumerate() {
                for &task in &half.free {
                    let (wait_min, turn) = self.price(half, task);
                    let rank = rank(half.idle_min + wait_min, half.turned + turn);
                    next.push((rank, place, task));
                }
            }
            next.sort_unstable();
            let mut seen = BTreeSet::new();
            next.retain(|&(_, place, task)| seen.insert((kept[place].mark ^ mark_of(task), task)));
            next.truncate(width);
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

    /// Every order that can still become better than the best.
    fn all(&self, half: Half, best: &mut Half) {
        if half.order.len() == self.tasks.len() {
            if half.rank() < best.rank() {
                *best = half;
            }
            return;
        }
        for &task in &half.free {
            let (wait_min, turn) = self.price(&half, task);
            if rank(half.idle_min + wait_min, half.turned + turn) < best.rank() {
                let mut next = half.clone();
                self.add(&mut next, task);
                self.all(next, best);
            }
        }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::turning::{HAND_MM, IN_REST_RAD, timed};
    use glam::DVec3;
    use proptest::prelude::*;
    use std::f64::consts::PI;

    const RADIUS_MM: f64 = 40.0;

    /// A patch on a cylinder: middle and half width in degrees, from along the wall, height, layout.
    #[derive(Debug, Clone)]
    struct Patch {
        middle_deg: f64,
        half_deg: f64,
        from_mm: f64,
        height_mm: f64,
        layout: usize,
        work_min: f64,
    }

    fn task(patch: &Patch) -> Task {
        let middle = patch.middle_deg.to_radians();
        let half = patch.half_deg.to_radians();
        Task {
            fill: (0, patch.layout),
            level: (patch.from_mm / 20.0) as u32,
            around: (middle, half),
            round: true,
            radius_mm: RADIUS_MM,
            along_mm: (patch.from_mm, patch.from_mm + patch.height_mm),
            widest_mm: 3.0,
            up: DVec3::new(libm::cos(middle), libm::sin(middle), 0.0),
            spread_rad: half,
            work_min: patch.work_min,
        }
    }

    fn apart_deg(a: &Patch, b: &Patch) -> f64 {
        let turn = (a.middle_deg - b.middle_deg).rem_euclid(360.0);
        turn.min(360.0 - turn)
    }

    /// The least idle time over all permutations, from the angles alone.
    fn by_hand(patches: &[Patch], set_min: f64, tilt_deg: f64) -> f64 {
        let margin_deg = (3.0 / RADIUS_MM).to_degrees();
        let precedes = |a: &Patch, b: &Patch| {
            let (level_a, level_b) = ((a.from_mm / 20.0) as u32, (b.from_mm / 20.0) as u32);
            let margin = if a.layout == b.layout { 1e-6 } else { margin_deg };
            (a.layout, level_a) < (b.layout, level_b)
                && apart_deg(a, b) < a.half_deg + b.half_deg + margin
                && a.from_mm < b.from_mm + b.height_mm + 3.0
                && b.from_mm < a.from_mm + a.height_mm + 3.0
        };
        let blocks = |wet: &Patch, next: &Patch| {
            let leans = apart_deg(wet, next) + wet.half_deg;
            let foot_mm = next.from_mm + next.height_mm;
            let below = wet.from_mm + wet.height_mm / 2.0 > foot_mm
                && wet.from_mm < foot_mm + HAND_MM
                && apart_deg(wet, next) < wet.half_deg + next.half_deg + 1e-6;
            leans > tilt_deg.min(IN_REST_RAD.to_degrees()) + 1e-6 || below
        };
        let mut least = f64::INFINITY;
        permute(&mut (0..patches.len()).collect(), 0, &mut |order| {
            let mut ends: Vec<f64> = Vec::new();
            let (mut now, mut idle) = (0.0_f64, 0.0);
            for (place, &next) in order.iter().enumerate() {
                if order[place + 1..].iter().any(|&late| precedes(&patches[late], &patches[next])) {
                    return;
                }
                let before = order[..place].iter().zip(&ends);
                let ready = before
                    .filter(|(wet, _)| blocks(&patches[**wet], &patches[next]))
                    .map(|(_, end)| end + set_min)
                    .fold(now, f64::max);
                idle += ready - now;
                now = ready + patches[next].work_min;
                ends.push(now);
            }
            least = least.min(idle);
        });
        least
    }

    fn permute(order: &mut Vec<usize>, from: usize, visit: &mut impl FnMut(&[usize])) {
        if from == order.len() {
            return visit(order);
        }
        for other in from..order.len() {
            order.swap(from, other);
            permute(order, from + 1, visit);
            order.swap(from, other);
        }
    }

    fn patch() -> impl Strategy<Value = Patch> {
        (0..36_i32, 3..22_i32, 0..4_i32, 12..26_i32, 0..2_usize, 10..90_i32).prop_map(
            |(middle, half, level, height, layout, work)| Patch {
                // Odd angles, so that no turn lies within rounding of what the glue allows.
                middle_deg: f64::from(middle) * 10.0 + 0.37,
                half_deg: f64::from(half) + 0.11,
                from_mm: f64::from(level) * 20.0,
                height_mm: f64::from(height) + 0.5,
                layout,
                work_min: f64::from(work) / 10.0,
            },
        )
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn few_patches_wait_as_little_as_the_best_of_all_permutations(
            patches in prop::collection::vec(patch(), 1..7),
            set_min in 0.0..30.0_f64,
            tilt_deg in 25.0..130.0_f64,
        ) {
            let tasks: Vec<Task> = patches.iter().map(task).collect();
            let glue = Glue { set_min, lean_rad: tilt_deg.to_radians().min(IN_REST_RAD) };
            let (order, idle_min) = order_of(&tasks, &glue);
            let best_min = by_hand(&patches, set_min, tilt_deg);
            prop_assert!((idle_min - best_min).abs() < 2e-3, "{idle_min} instead of {best_min}");
            let bound_min = least_idle_min(&tasks, &glue);
            prop_assert!(bound_min <= best_min + 1e-6, "bound {bound_min}, best {best_min}");
            let waits: f64 = timed(&tasks, &order, &glue).iter().map(|at| at.wait_min).sum();
            prop_assert!((waits - idle_min).abs() < 1e-9);
        }

        #[test]
        fn many_patches_keep_their_forerunners_and_the_bound(
            patches in prop::collection::vec(patch(), 9..60),
            set_min in 0.0..30.0_f64,
            tilt_deg in 25.0..130.0_f64,
        ) {
            let tasks: Vec<Task> = patches.iter().map(task).collect();
            let glue = Glue { set_min, lean_rad: tilt_deg.to_radians().min(IN_REST_RAD) };
            let (order, idle_min) = order_of(&tasks, &glue);
            let mut seen = order.clone();
            seen.sort_unstable();
            prop_assert_eq!(seen, (0..tasks.len()).collect::<Vec<_>>());
            for (place, &task) in order.iter().enumerate() {
                for &later in &order[place + 1..] {
                    prop_assert!(!tasks[later].precedes(&tasks[task]));
                }
            }
            prop_assert!(least_idle_min(&tasks, &glue) <= idle_min + 1e-6);
        }
    }

    /// So many equal patches side by side all round.
    fn ring(count: usize, work_min: f64) -> Vec<Task> {
        let wide_deg = 360.0 / count as f64;
        let one = |index: usize| Patch {
            middle_deg: index as f64 * wide_deg,
            half_deg: wide_deg / 2.0,
            from_mm: 10.0,
            height_mm: 17.0,
            layout: 0,
            work_min,
        };
        (0..count).map(|index| task(&one(index))).collect()
    }

    #[test]
    fn a_ring_in_fifteen_patches_waits_four_times_four_minutes() {
        // By hand: 24 deg wide and 8 min each, glue that holds after 20 min within 60 deg. Three side by
        // side take 24 min, and from the beginning of the first to that of the fourth 8 + 20 must pass:
        // 4 min idle after each three but the last.
        let glue = Glue { set_min: 20.0, lean_rad: PI / 3.0 };
        let tasks = ring(15, 8.0);
        assert!((least_idle_min(&tasks, &glue) - 16.0).abs() < 1e-6);
        assert!((order_of(&tasks, &glue).1 - 16.0).abs() < 1e-6);
    }

    #[test]
    fn patches_that_cannot_be_seen_together_each_wait_in_full() {
        // Four quarters of a ring: the next one's far edge would hang 135 deg from up.
        let glue = Glue { set_min: 20.0, lean_rad: PI / 3.0 };
        let tasks = ring(4, 4.0);
        assert!((least_idle_min(&tasks, &glue) - 60.0).abs() < 1e-6);
        assert!((order_of(&tasks, &glue).1 - 60.0).abs() < 1e-6);
    }

    #[test]
    fn glue_that_holds_at_once_never_waits() {
        let glue = Glue { set_min: 0.0, lean_rad: PI / 3.0 };
        assert!(order_of(&ring(30, 5.0), &glue).1 < 1e-12);
    }
}

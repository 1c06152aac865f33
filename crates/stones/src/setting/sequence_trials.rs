//! Orders of patches and their bound against all permutations, and by hand.

use crate::going::Going;
use crate::setting::exact::best_order;
use crate::setting::heads::idle_by_heads_min;
use crate::setting::idle_bound::{by_spells_min, least_idle_min};
use crate::setting::sequence::order_of;
use crate::setting::turning::{Glue, HAND_MM, IN_REST_RAD, Task, forerunners, timed};
use glam::DVec3;
use proptest::prelude::*;
use std::f64::consts::PI;

/// A patch on a cylinder: middle and half width in degrees, from along the wall, height, zone.
#[derive(Debug, Clone)]
struct Patch {
    middle_deg: f64,
    half_deg: f64,
    from_mm: f64,
    height_mm: f64,
    zone: usize,
    work_min: f64,
}

fn task(patch: &Patch) -> Task {
    let middle = patch.middle_deg.to_radians();
    let half = patch.half_deg.to_radians();
    Task {
        zone: patch.zone,
        level: (patch.from_mm / 20.0) as u32,
        around: (middle, half),
        round: true,
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
    let precedes = |a: &Patch, b: &Patch| {
        let (level_a, level_b) = ((a.from_mm / 20.0) as u32, (b.from_mm / 20.0) as u32);
        let middle = |patch: &Patch| patch.from_mm + patch.height_mm / 2.0;
        (a.zone, level_a, middle(a)) < (b.zone, level_b, middle(b))
            && apart_deg(a, b) < a.half_deg + b.half_deg + 1e-6
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
        |(middle, half, level, height, zone, work)| Patch {
            // Odd angles, so that no turn lies within rounding of what the glue allows.
            middle_deg: f64::from(middle) * 10.0 + 0.37,
            half_deg: f64::from(half) + 0.11,
            from_mm: f64::from(level) * 20.0,
            height_mm: f64::from(height) + 0.5,
            zone,
            work_min: f64::from(work) / 10.0,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn few_patches_wait_as_little_as_the_best_of_all_permutations(
        patches in prop::collection::vec(patch(), 1..7),
        set_min in 0.0..30.0_f64,
        tilt_deg in 25.0..130.0_f64,
    ) {
        let tasks: Vec<Task> = patches.iter().map(task).collect();
        let glue = Glue { set_min, lean_rad: tilt_deg.to_radians().min(IN_REST_RAD) };
        let (order, idle_min) = order_of(&tasks, &glue, Going::always());
        let best_min = by_hand(&patches, set_min, tilt_deg);
        prop_assert!((idle_min - best_min).abs() < 2e-3, "{idle_min} instead of {best_min}");
        let bound_min = least_idle_min(&tasks, &glue, &forerunners(&tasks));
        prop_assert!((bound_min - best_min).abs() < 1e-6, "bound {bound_min}, best {best_min}");
        let before = forerunners(&tasks);
        let by_heads_min = idle_by_heads_min(&tasks, &glue, &before);
        prop_assert!(by_heads_min <= best_min + 1e-6, "by heads {by_heads_min}, best {best_min}");
        let by_spells_min = by_spells_min(&tasks, &glue, &before);
        prop_assert!(by_spells_min <= best_min + 1e-6, "by spells {by_spells_min}, best {best_min}");
        let waits: f64 = timed(&tasks, &order, &glue).iter().map(|at| at.wait_min).sum();
        prop_assert!((waits - idle_min).abs() < 1e-9);
    }

    #[test]
    fn no_bound_of_a_dozen_patches_lies_above_the_best_of_all_orders(
        patches in prop::collection::vec(patch(), 7..13),
        set_min in 0.0..30.0_f64,
        tilt_deg in 25.0..130.0_f64,
    ) {
        let tasks: Vec<Task> = patches.iter().map(task).collect();
        let glue = Glue { set_min, lean_rad: tilt_deg.to_radians().min(IN_REST_RAD) };
        let before = forerunners(&tasks);
        if let Some((order, best_min)) = best_order(&tasks, &glue, &before) {
            let waits_min: f64 = timed(&tasks, &order, &glue).iter().map(|at| at.wait_min).sum();
            prop_assert!((waits_min - best_min).abs() < 1e-9);
            prop_assert!(idle_by_heads_min(&tasks, &glue, &before) <= best_min + 1e-6);
            prop_assert!(by_spells_min(&tasks, &glue, &before) <= best_min + 1e-6);
            prop_assert!(order_of(&tasks, &glue, Going::always()).1 <= best_min + 2e-3);
        }
    }

    #[test]
    fn many_patches_keep_their_forerunners_and_the_bound(
        patches in prop::collection::vec(patch(), 9..60),
        set_min in 0.0..30.0_f64,
        tilt_deg in 25.0..130.0_f64,
    ) {
        let tasks: Vec<Task> = patches.iter().map(task).collect();
        let glue = Glue { set_min, lean_rad: tilt_deg.to_radians().min(IN_REST_RAD) };
        let (order, idle_min) = order_of(&tasks, &glue, Going::always());
        let mut seen = order.clone();
        seen.sort_unstable();
        prop_assert_eq!(seen, (0..tasks.len()).collect::<Vec<_>>());
        for (place, &task) in order.iter().enumerate() {
            for &later in &order[place + 1..] {
                prop_assert!(!tasks[later].precedes(&tasks[task]));
            }
        }
        prop_assert!(least_idle_min(&tasks, &glue, &forerunners(&tasks)) <= idle_min + 1e-6);
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
        zone: 0,
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
    assert!((least_idle_min(&tasks, &glue, &forerunners(&tasks)) - 16.0).abs() < 1e-6);
    assert!((order_of(&tasks, &glue, Going::always()).1 - 16.0).abs() < 1e-6);
}

#[test]
fn patches_that_cannot_be_seen_together_each_wait_in_full() {
    // Four quarters of a ring: the next one's far edge would hang 135 deg from up.
    let glue = Glue { set_min: 20.0, lean_rad: PI / 3.0 };
    let tasks = ring(4, 4.0);
    assert!((least_idle_min(&tasks, &glue, &forerunners(&tasks)) - 60.0).abs() < 1e-6);
    assert!((order_of(&tasks, &glue, Going::always()).1 - 60.0).abs() < 1e-6);
}

#[test]
fn glue_that_holds_at_once_never_waits() {
    let glue = Glue { set_min: 0.0, lean_rad: PI / 3.0 };
    assert!(order_of(&ring(30, 5.0), &glue, Going::always()).1 < 1e-12);
}

//! The setting plan, which says of each patch where it is, what it takes and when the piece may be
//! turned.

pub(crate) mod cutting;
mod exact;
mod hands;
mod heads;
mod idle_bound;
mod moving;
mod order;
mod pace;
pub(crate) mod runs;
mod sequence;
#[cfg(test)]
mod sequence_trials;
pub mod turning;

use crate::setting::cutting::Desk;
use crate::setting::hands::{Session, interleaved};
use crate::setting::idle_bound::least_idle_min;
use crate::setting::runs::runs_of;
use crate::setting::turning::{Glue, Task, Timed, forerunners, timed};
use crate::{Stone, Stones};
use glam::DVec3;
use piece::{Piece, Settings};
use std::collections::BTreeMap;

/// One patch of the setting plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    /// Index of its part.
    pub part: usize,
    /// Index of its zone.
    pub zone: usize,
    /// Its number, from 1, within its part.
    pub number: u32,
    /// Stones on this part that other finishes part from others are set apart: which time, from 1.
    pub run: u32,
    /// What faces up while it is set, round the part from the front, rad; none where the part lies flat
    /// or stands.
    pub up_rad: Option<f64>,
    /// Outward normal in its middle, part frame: up while it is set.
    pub up: DVec3,
    /// From and to along the wall, with whole stones, mm.
    pub band_mm: (f64, f64),
    /// How many of each: index into the zone's sizes, index into the piece's colours, count.
    pub counts: Vec<(usize, usize, usize)>,
    /// To set it, min.
    pub hands_on_min: f64,
    /// Idle before it, if nothing else is done meanwhile, min.
    pub wait_before_min: f64,
    /// Begun, from the first patch of its run, min.
    pub begins_min: f64,
    /// It may be turned past the glue's angle this long after it is done, min.
    pub may_turn_after_min: f64,
}

/// When each patch is set.
#[derive(Debug, Clone, PartialEq)]
pub struct SettingPlan {
    /// In setting order: by part, then number.
    pub patches: Vec<Patch>,
    /// Patches by index, as one pair of hands sets them that goes to another part where it would wait.
    pub hand: Vec<usize>,
    /// Idle in that order, min.
    pub idle_min: f64,
    /// No order of these patches idles less, min.
    pub bound_min: f64,
    /// Idle if each part is set by itself, min.
    pub idle_apart_min: f64,
    /// No order of the patches of each part by itself idles less, min.
    pub bound_apart_min: f64,
}

/// Below this share of upright a face is set with the part on its side: 45°.
const ON_SIDE: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// The plan for stones that lie in setting order, as [`crate::lay_stones`] leaves them.
pub fn plan_setting(piece: &Piece, settings: &Settings, stones: &Stones) -> SettingPlan {
    let desk = Desk::new(piece, settings);
    let of_patch = |stone: &Stone| (stone.part, stone.patch, stone.zone);
    let mut sessions: Vec<Session> = Vec::new();
    let mut patches: Vec<Patch> = Vec::new();
    for members in stones.stones.chunk_by(|a, b| of_patch(a) == of_patch(b)) {
        let members: Vec<&Stone> = members.iter().collect();
        let first = members[0];
        let runs = runs_of(piece, first.part);
        let run = runs.iter().position(|run| run.contains(&first.zone)).unwrap_or(0);
        let last_run = run + 1 == runs.len();
        let task = desk.task(&members, 0);
        let session =
            Session { part: first.part, run, last_run, first: patches.len(), tasks: Vec::new() };
        match sessions.last_mut() {
            Some(last) if (last.part, last.run) == (first.part, run) => {
                last.tasks.push(task.clone())
            }
            _ => sessions.push(Session { tasks: vec![task.clone()], ..session }),
        }
        patches.push(Patch {
            part: first.part,
            zone: first.zone,
            number: first.patch,
            run: run as u32 + 1,
            up_rad: (task.round && task.up.z.abs() < ON_SIDE)
                .then(|| libm::atan2(task.up.y, task.up.x)),
            up: task.up,
            band_mm: task.along_mm,
            counts: counts(&members),
            hands_on_min: task.work_min,
            wait_before_min: 0.0,
            begins_min: 0.0,
            may_turn_after_min: desk.glue.set_min,
        });
    }
    let mut plan = SettingPlan {
        patches,
        hand: Vec::new(),
        idle_min: 0.0,
        bound_min: 0.0,
        idle_apart_min: 0.0,
        bound_apart_min: 0.0,
    };
    let bounds_min: Vec<f64> =
        sessions.iter().map(|session| bound_min(&session.tasks, &desk.glue)).collect();
    for (session, bound_min) in sessions.iter().zip(&bounds_min) {
        let order: Vec<usize> = (0..session.tasks.len()).collect();
        plan.bound_apart_min += bound_min;
        for (index, at) in timed(&session.tasks, &order, &desk.glue).into_iter().enumerate() {
            let Timed { wait_min, from_min, .. } = at;
            let patch = &mut plan.patches[session.first + index];
            patch.wait_before_min = wait_min;
            patch.begins_min = from_min;
            plan.idle_apart_min += wait_min;
        }
        if !session.last_run {
            plan.bound_min += bound_min;
            plan.hand.extend(session.first..session.first + session.tasks.len());
            let waits = &plan.patches[session.first..session.first + session.tasks.len()];
            plan.idle_min += waits.iter().map(|patch| patch.wait_before_min).sum::<f64>();
        }
    }
    let together: Vec<&Session> = sessions.iter().filter(|session| session.last_run).collect();
    let (hand, idle_min) = interleaved(&together, &desk.glue);
    plan.hand.extend(hand);
    plan.idle_min += idle_min;
    // All work of the parts set together fits into the longest of them and its waits.
    let all_min: f64 = together.iter().map(|session| session.work_min()).sum();
    let with_waits = sessions.iter().zip(&bounds_min).filter(|(session, _)| session.last_run);
    let longest_min =
        with_waits.map(|(session, bound_min)| session.work_min() + bound_min - all_min);
    plan.bound_min += longest_min.fold(0.0, f64::max);
    plan
}

/// Idle time that no order of these patches avoids, min. Within a zone any order is let through, since
/// the levels its patches were cut in are not known here.
fn bound_min(tasks: &[Task], glue: &Glue) -> f64 {
    let order: Vec<usize> = (0..tasks.len()).collect();
    if timed(tasks, &order, glue).iter().all(|at| at.wait_min <= 0.0) {
        return 0.0;
    }
    let mut before = forerunners(tasks);
    for (task, list) in before.iter_mut().enumerate() {
        list.retain(|&first| tasks[first].zone != tasks[task].zone);
    }
    least_idle_min(tasks, glue, &before)
}

fn counts(stones: &[&Stone]) -> Vec<(usize, usize, usize)> {
    let mut counts: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for stone in stones {
        *counts.entry((stone.size, stone.colour)).or_default() += 1;
    }
    counts.into_iter().map(|((size, colour), count)| (size, colour, count)).collect()
}

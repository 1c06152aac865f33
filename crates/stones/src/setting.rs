//! Stones in setting order, and the plan that says of each patch where it is, what it takes and when the
//! piece may be turned.

use crate::idle_bound::least_idle_min;
use crate::order::{Lie, Place, patches};
use crate::pace::Pace;
use crate::runs::runs_of;
use crate::sequence::order_of;
use crate::turning::{Glue, HAIR, Task, Timed, ready_at, timed};
use crate::{Stone, Stones};
use glam::DVec3;
use piece::{Form, Piece, Settings};
use std::collections::BTreeMap;
use std::f64::consts::{FRAC_PI_2, TAU};

/// One patch of the setting plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    /// Index of its part.
    pub part: usize,
    /// Index of its zone.
    pub zone: usize,
    /// Index into the zone's layers of stones.
    pub layer: usize,
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

/// The stones of one part cut into patches, numbered and sorted in setting order. `areas_mm2` is that of
/// each zone.
pub(crate) fn in_order(
    piece: &Piece,
    settings: &Settings,
    areas_mm2: &BTreeMap<usize, f64>,
    stones: Vec<Stone>,
) -> Vec<Stone> {
    let desk = Desk { piece, pace: Pace::new(piece, settings), glue: Glue::new(&settings.glue) };
    let Some(part) = stones.first().map(|stone| stone.part) else { return stones };
    let mut left: Vec<Option<Stone>> = stones.into_iter().map(Some).collect();
    let mut out = Vec::with_capacity(left.len());
    let mut number = 0;
    for run in runs_of(piece, part) {
        let of_run: Vec<(usize, &Stone)> = (left.iter().enumerate())
            .filter_map(|(index, stone)| stone.as_ref().map(|stone| (index, stone)))
            .filter(|(_, stone)| run.contains(&stone.zone))
            .collect();
        for patch in desk.ordered(&of_run, areas_mm2, settings.glue.open_min) {
            number += 1;
            for index in patch {
                out.extend(left[index].take().map(|stone| Stone { patch: number, ..stone }));
            }
        }
    }
    out
}

/// How patches are cut: see [`Lie`].
struct Ways {
    open_min: f64,
    widest_rad: f64,
    columns: bool,
}

struct Desk<'a> {
    piece: &'a Piece,
    pace: Pace,
    glue: Glue,
}

impl Desk<'_> {
    /// The patches of one run in setting order, cut in the way that lets the hand wait least; of those
    /// alike, with the fewest patches.
    fn ordered(
        &self,
        stones: &[(usize, &Stone)],
        areas_mm2: &BTreeMap<usize, f64>,
        open_min: f64,
    ) -> Vec<Vec<usize>> {
        let wide = FRAC_PI_2.min(2.0 * self.glue.lean_rad);
        // The far edge of one patch is within reach from the middle of the next.
        let narrow = wide.min(self.glue.lean_rad * 2.0 / 3.0);
        let mut best: Option<(f64, Vec<Vec<usize>>)> = None;
        for (widest_rad, columns) in [(wide, false), (wide, true), (narrow, false), (narrow, true)]
        {
            let ways = Ways { open_min, widest_rad, columns };
            let (tasks, mut patches) = self.cut(stones, areas_mm2, &ways);
            let (order, idle_min) = order_of(&tasks, &self.glue);
            let better = best.as_ref().is_none_or(|(least_min, fewest)| {
                idle_min < least_min - 1e-3
                    || (idle_min < least_min + 1e-3 && patches.len() < fewest.len())
            });
            if better {
                let order = order.into_iter().map(|patch| std::mem::take(&mut patches[patch]));
                best = Some((idle_min, order.collect()));
            }
            if idle_min <= HAIR {
                break;
            }
        }
        best.map(|(_, order)| order).unwrap_or_default()
    }

    fn cut(
        &self,
        stones: &[(usize, &Stone)],
        areas_mm2: &BTreeMap<usize, f64>,
        ways: &Ways,
    ) -> (Vec<Task>, Vec<Vec<usize>>) {
        let mut fills: BTreeMap<(usize, usize), Vec<(usize, &Stone)>> = BTreeMap::new();
        for &(index, stone) in stones {
            fills.entry((stone.zone, stone.layer)).or_default().push((index, stone));
        }
        let (mut tasks, mut cuts) = (Vec::new(), Vec::new());
        for ((zone, _), of_fill) in fills {
            let places: Vec<Place> = of_fill
                .iter()
                .map(|(_, stone)| Place {
                    around: stone.at.around,
                    along_mm: stone.at.along_mm,
                    row: stone.row,
                    work_min: self.pace.min_of(stone),
                })
                .collect();
            let widest_mm = of_fill.iter().map(|(_, stone)| stone.diameter_mm).fold(0.0, f64::max);
            let area_mm2 = areas_mm2.get(&zone).copied().unwrap_or(0.0);
            let lie = Lie {
                round: is_round(self.piece, of_fill[0].1.part),
                stone_area_mm2: area_mm2 / of_fill.len() as f64,
                widest_mm,
                open_min: ways.open_min,
                widest_rad: ways.widest_rad,
                columns: ways.columns,
            };
            for cut in patches(&places, &lie) {
                // A patch over an edge of the part is parted until no stone leans too far while it is
                // set.
                for half in self.parted(&of_fill, cut.stones) {
                    let members: Vec<&Stone> = half.iter().map(|&place| of_fill[place].1).collect();
                    tasks.push(self.task(&members, cut.level));
                    cuts.push(half.into_iter().map(|place| of_fill[place].0).collect());
                }
            }
        }
        (tasks, cuts)
    }

    fn parted(&self, of_fill: &[(usize, &Stone)], patch: Vec<usize>) -> Vec<Vec<usize>> {
        let members: Vec<&Stone> = patch.iter().map(|&place| of_fill[place].1).collect();
        if patch.len() < 2 || self.task(&members, 0).spread_rad <= self.glue.lean_rad {
            return vec![patch];
        }
        let (first, second) = patch.split_at(patch.len() / 2);
        let mut halves = self.parted(of_fill, first.to_vec());
        halves.extend(self.parted(of_fill, second.to_vec()));
        halves
    }

    fn task(&self, stones: &[&Stone], level: u32) -> Task {
        let first = stones[0];
        let round = is_round(self.piece, first.part);
        let least_most = |values: &mut dyn Iterator<Item = f64>| {
            values.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), value| {
                (least.min(value), most.max(value))
            })
        };
        let off = |stone: &&Stone| {
            let off = stone.at.around - first.at.around;
            if round { off - TAU * (off / TAU).round() } else { off }
        };
        let (left, right) = least_most(&mut stones.iter().map(off));
        let (top_mm, _) =
            least_most(&mut stones.iter().map(|stone| stone.at.along_mm - stone.diameter_mm / 2.0));
        let (_, foot_mm) =
            least_most(&mut stones.iter().map(|stone| stone.at.along_mm + stone.diameter_mm / 2.0));
        let sum: DVec3 = stones.iter().map(|stone| stone.normal).sum();
        let up = sum.try_normalize().unwrap_or(first.normal);
        let steepest = stones.iter().map(|stone| stone.normal.dot(up)).fold(1.0, f64::min);
        let radius = |stone: &&Stone| libm::hypot(stone.centre_mm.x, stone.centre_mm.y);
        Task {
            fill: (first.zone, first.layer),
            level,
            around: (first.at.around + (left + right) / 2.0, (right - left) / 2.0),
            round,
            radius_mm: if round {
                stones.iter().map(radius).sum::<f64>() / stones.len() as f64
            } else {
                1.0
            },
            along_mm: (top_mm, foot_mm),
            widest_mm: stones.iter().map(|stone| stone.diameter_mm).fold(0.0, f64::max),
            up,
            spread_rad: libm::acos(steepest.clamp(-1.0, 1.0)),
            work_min: stones.iter().map(|stone| self.pace.min_of(stone)).sum(),
        }
    }
}

fn is_round(piece: &Piece, part: usize) -> bool {
    matches!(piece.parts[part].form, Form::Revolved(_))
}

/// The plan for stones that lie in setting order, as [`crate::lay_stones`] leaves them.
pub fn plan_setting(piece: &Piece, settings: &Settings, stones: &Stones) -> SettingPlan {
    let desk = Desk { piece, pace: Pace::new(piece, settings), glue: Glue::new(&settings.glue) };
    let of_patch = |stone: &Stone| (stone.part, stone.patch, stone.zone, stone.layer);
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
            layer: first.layer,
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
    for session in &sessions {
        let order: Vec<usize> = (0..session.tasks.len()).collect();
        let bound_min = least_idle_min(&session.tasks, &desk.glue);
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
    let longest = |session: &&Session| {
        session.work_min() + least_idle_min(&session.tasks, &desk.glue) - all_min
    };
    plan.bound_min += together.iter().map(longest).fold(0.0, f64::max);
    plan
}

/// Stones of one part that are set in one go.
struct Session {
    part: usize,
    run: usize,
    /// Whether nothing but stones follows on its part: then it may be set side by side with others.
    last_run: bool,
    /// Index of its first patch.
    first: usize,
    tasks: Vec<Task>,
}

impl Session {
    fn work_min(&self) -> f64 {
        self.tasks.iter().map(|task| task.work_min).sum()
    }
}

/// One pair of hands for all sessions, each in its own order: of the parts that are ready it takes the
/// one that would wait longest from there on, so that the waits of all run side by side; among equals it
/// stays with the one in hand. The patches in this order, and the idle time that is left, min.
fn interleaved(sessions: &[&Session], glue: &Glue) -> (Vec<usize>, f64) {
    let waits_left = |session: &&Session| -> Vec<f64> {
        let order: Vec<usize> = (0..session.tasks.len()).collect();
        let mut waits: Vec<f64> =
            timed(&session.tasks, &order, glue).iter().map(|at| at.wait_min).collect();
        (1..waits.len()).rev().for_each(|place| waits[place - 1] += waits[place]);
        waits
    };
    let waits_left: Vec<Vec<f64>> = sessions.iter().map(waits_left).collect();
    let mut next = vec![0; sessions.len()];
    let mut wet: Vec<Vec<(usize, f64)>> = vec![Vec::new(); sessions.len()];
    let (mut now, mut idle_min, mut at) = (0.0, 0.0, 0);
    let mut hand = Vec::new();
    loop {
        let begun = (0..sessions.len()).map(|step| (at + step) % sessions.len());
        let left = begun.filter(|&of| next[of] < sessions[of].tasks.len());
        let ready = left.map(|of| {
            let ready = ready_at(&sessions[of].tasks, &wet[of], next[of], glue);
            ((ready - now).max(0.0), of)
        });
        let chosen = ready.reduce(|best, other| {
            let more = waits_left[other.1][next[other.1]] > waits_left[best.1][next[best.1]] + HAIR;
            let sooner = other.0 < best.0 - HAIR;
            if sooner || (other.0 < best.0 + HAIR && more) { other } else { best }
        });
        let Some((wait_min, of)) = chosen else { return (hand, idle_min) };
        now += wait_min + sessions[of].tasks[next[of]].work_min;
        idle_min += wait_min;
        wet[of].retain(|(_, dry)| *dry > now);
        wet[of].push((next[of], now + glue.set_min));
        hand.push(sessions[of].first + next[of]);
        next[of] += 1;
        at = of;
    }
}

fn counts(stones: &[&Stone]) -> Vec<(usize, usize, usize)> {
    let mut counts: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for stone in stones {
        *counts.entry((stone.size, stone.colour)).or_default() += 1;
    }
    counts.into_iter().map(|((size, colour), count)| (size, colour, count)).collect()
}

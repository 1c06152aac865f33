//! Cuts the stones of a part into patches and puts these in order.

use crate::Stone;
use crate::going::Going;
use crate::setting::order::{IN_COLUMN, Lie, Parting, Place, Ways, patches};
use crate::setting::pace::Pace;
use crate::setting::runs::runs_of;
use crate::setting::sequence::order_of;
use crate::setting::turning::{Glue, HAIR, Task};
use glam::DVec3;
use piece::{Form, Piece, Settings};
use std::collections::BTreeMap;
use std::f64::consts::{FRAC_PI_2, TAU};

/// To begin a patch: turn the part, find the place, lay glue, min (common practice, no source).
const BEGINS_MIN: f64 = 1.0;

/// The stones of one part cut into patches, numbered and sorted in setting order. `areas_mm2` is that of
/// each zone. In any order when no longer `going`.
pub(crate) fn in_order(
    piece: &Piece,
    settings: &Settings,
    areas_mm2: &BTreeMap<usize, f64>,
    stones: Vec<Stone>,
    going: Going<'_>,
) -> Vec<Stone> {
    let desk = Desk::new(piece, settings);
    let Some(part) = stones.first().map(|stone| stone.part) else { return stones };
    let mut left: Vec<Option<Stone>> = stones.into_iter().map(Some).collect();
    let mut out = Vec::with_capacity(left.len());
    let mut number = 0;
    for run in runs_of(piece, part) {
        let of_run: Vec<(usize, &Stone)> = (left.iter().enumerate())
            .filter_map(|(index, stone)| stone.as_ref().map(|stone| (index, stone)))
            .filter(|(_, stone)| run.contains(&stone.zone))
            .collect();
        for patch in desk.ordered(&of_run, areas_mm2, settings.glue.open_min, going) {
            number += 1;
            for index in patch {
                out.extend(left[index].take().map(|stone| Stone { patch: number, ..stone }));
            }
        }
    }
    out
}

/// Cuts stones into patches at the studio's pace.
pub(crate) struct Desk<'a> {
    piece: &'a Piece,
    pace: Pace,
    /// What the studio's glue asks for.
    pub glue: Glue,
}

impl<'a> Desk<'a> {
    /// For one piece in one studio.
    pub fn new(piece: &'a Piece, settings: &Settings) -> Self {
        Self { piece, pace: Pace::new(piece, settings), glue: Glue::new(&settings.glue) }
    }

    /// The patches of one run in setting order, cut in the way that loses least time to waiting and to
    /// beginning patches; of those alike, with the fewest patches.
    fn ordered(
        &self,
        stones: &[(usize, &Stone)],
        areas_mm2: &BTreeMap<usize, f64>,
        open_min: f64,
        going: Going<'_>,
    ) -> Vec<Vec<usize>> {
        let wide = FRAC_PI_2.min(2.0 * self.glue.lean_rad);
        // The far edge of one patch is within reach from the middle of the next.
        let narrow = wide.min(self.glue.lean_rad * 2.0 / 3.0);
        // And that of the one after the next.
        let slim = wide.min(self.glue.lean_rad * 2.0 / 5.0);
        let mut best: Option<(f64, Vec<Vec<usize>>)> = None;
        let one_zone = stones.iter().all(|(_, stone)| stone.zone == stones[0].1.zone);
        let round = stones.first().is_some_and(|(_, stone)| is_round(self.piece, stone.part));
        for (widest_rad, parting) in [wide, narrow, slim].into_iter().flat_map(|widest_rad| {
            [Parting::Levels, Parting::Columns, Parting::SharedColumns]
                .map(|parting| (widest_rad, parting))
        }) {
            if one_zone && parting == Parting::SharedColumns {
                continue;
            }
            if !going.on() {
                break;
            }
            let ways = Ways { round, open_min, widest_rad, parting, going };
            let (tasks, mut patches) = self.cut(stones, areas_mm2, &ways);
            let (order, idle_min) = order_of(&tasks, &self.glue, going);
            let lost_min = idle_min + BEGINS_MIN * patches.len() as f64;
            let better = best.as_ref().is_none_or(|(least_min, fewest)| {
                lost_min < least_min - 1e-3
                    || (lost_min < least_min + 1e-3 && patches.len() < fewest.len())
            });
            if better {
                let order = order.into_iter().map(|patch| std::mem::take(&mut patches[patch]));
                best = Some((lost_min, order.collect()));
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
        ways: &Ways<'_>,
    ) -> (Vec<Task>, Vec<Vec<usize>>) {
        let mut zones: BTreeMap<usize, Vec<(usize, &Stone)>> = BTreeMap::new();
        for &(index, stone) in stones {
            zones.entry(stone.zone).or_default().push((index, stone));
        }
        let placed: Vec<(Vec<Place>, Lie)> = zones
            .iter()
            .map(|(zone, of_zone)| {
                let area_mm2 = areas_mm2.get(zone).copied().unwrap_or(0.0);
                let wide = of_zone.iter().map(|(_, stone)| stone.diameter_mm);
                let lie = Lie {
                    stone_area_mm2: area_mm2 / of_zone.len() as f64,
                    widest_mm: wide.fold(0.0, f64::max),
                };
                (of_zone.iter().map(|(_, stone)| self.place(stone)).collect(), lie)
            })
            .collect();
        let (mut tasks, mut cuts) = (Vec::new(), Vec::new());
        for (of_zone, patches) in zones.values().zip(patches(&placed, ways)) {
            for cut in patches {
                // A patch over an edge of the part is parted until no stone leans too far while it is
                // set.
                for half in self.parted(of_zone, cut.stones) {
                    let members: Vec<&Stone> = half.iter().map(|&place| of_zone[place].1).collect();
                    tasks.push(self.task(&members, cut.level));
                    cuts.push(half.into_iter().map(|place| of_zone[place].0).collect());
                }
            }
        }
        (tasks, cuts)
    }

    fn place(&self, stone: &Stone) -> Place {
        Place {
            around: stone.at.around,
            along_mm: stone.at.along_mm,
            layer: stone.layer,
            row: stone.row,
            work_min: self.pace.min_of(stone),
        }
    }

    /// The patch, halved until no stone of a half leans too far while it is set: side by side where the
    /// wall bends round the part, else by rows.
    fn parted(&self, of_zone: &[(usize, &Stone)], patch: Vec<usize>) -> Vec<Vec<usize>> {
        let members: Vec<&Stone> = patch.iter().map(|&place| of_zone[place].1).collect();
        let task = self.task(&members, 0);
        if patch.len() < 2 || task.spread_rad <= self.glue.lean_rad {
            return vec![patch];
        }
        let bends_rad = task.around.1 * libm::hypot(task.up.x, task.up.y);
        let sides = || {
            let bends = task.round && bends_rad > task.spread_rad / 2.0;
            let offs = members.iter().map(|stone| off_rad(stone, members[0]));
            bends.then(|| halves(&patch, &offs.collect::<Vec<_>>())).flatten()
        };
        let rows = || {
            let alongs = members.iter().map(|stone| stone.at.along_mm);
            halves(&patch, &alongs.collect::<Vec<_>>())
        };
        let (first, second) = sides().or_else(rows).unwrap_or_else(|| {
            let (first, second) = patch.split_at(patch.len() / 2);
            (first.to_vec(), second.to_vec())
        });
        let mut out = self.parted(of_zone, first);
        out.extend(self.parted(of_zone, second));
        out
    }

    /// Stones of one patch as a task.
    pub fn task(&self, stones: &[&Stone], level: u32) -> Task {
        let first = stones[0];
        let round = is_round(self.piece, first.part);
        let least_most = |values: &mut dyn Iterator<Item = f64>| {
            values.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), value| {
                (least.min(value), most.max(value))
            })
        };
        let off = |stone: &&Stone| {
            if round { off_rad(stone, first) } else { stone.at.around - first.at.around }
        };
        let (left, right) = least_most(&mut stones.iter().map(off));
        let (top_mm, _) =
            least_most(&mut stones.iter().map(|stone| stone.at.along_mm - stone.diameter_mm / 2.0));
        let (_, foot_mm) =
            least_most(&mut stones.iter().map(|stone| stone.at.along_mm + stone.diameter_mm / 2.0));
        let sum: DVec3 = stones.iter().map(|stone| stone.normal).sum();
        let up = sum.try_normalize().unwrap_or(first.normal);
        let steepest = stones.iter().map(|stone| stone.normal.dot(up)).fold(1.0, f64::min);
        Task {
            zone: first.zone,
            level,
            around: (first.at.around + (left + right) / 2.0, (right - left) / 2.0),
            round,
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

/// From one stone to another round the part, by the shorter way, rad.
fn off_rad(stone: &Stone, from: &Stone) -> f64 {
    let off = stone.at.around - from.at.around;
    off - TAU * (off / TAU).round()
}

/// A patch in two halves, each in the order it had, by where its stones lie in one direction; stones right
/// beside one another stay together. `None` if all are.
fn halves(patch: &[usize], at: &[f64]) -> Option<(Vec<usize>, Vec<usize>)> {
    let mut sorted = at.to_vec();
    sorted.sort_by(f64::total_cmp);
    let gap = |place: &usize| sorted[*place] - sorted[place - 1] > IN_COLUMN;
    let middle = patch.len() / 2;
    let place = (middle..patch.len()).find(gap).or_else(|| (1..middle).rev().find(gap))?;
    let (first, second): (Vec<_>, Vec<_>) =
        patch.iter().zip(at).partition(|(_, at)| **at < sorted[place]);
    let only = |half: Vec<(&usize, &f64)>| half.into_iter().map(|(stone, _)| *stone).collect();
    Some((only(first), only(second)))
}

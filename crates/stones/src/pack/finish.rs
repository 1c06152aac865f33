//! The last check on the true surface: chart and surface differ by a hair where the wall is curved,
//! and a stone that lies too near by that hair is put right or, if that fails, left out.

use crate::pack::board::{Board, Disc};
use crate::pack::cells::Kept;
use crate::pack::chart::slopes;
use glam::DVec3;
use shape::SurfacePoint;

/// Times that stones are put right before what is still wrong is left out.
const SWEEPS: u32 = 40;
/// How much a stone may lie over an edge for rounding, mm.
const FLUSH_MM: f64 = 5e-8;
/// A correction goes this much beyond what is needed, mm.
const BEYOND_MM: f64 = 1e-7;

/// A correction of one stone, mm right and down.
struct Fix {
    number: usize,
    right_mm: f64,
    down_mm: f64,
    /// Of two stones too near, the one to leave out if nothing helps.
    yields: bool,
}

/// The stones that keep their gaps and lie whole in the zone, on the true surface; some that do not when
/// no longer `going`.
pub fn finish(
    board: &Board<'_>,
    ours: &[Disc],
    going: &mut dyn FnMut() -> bool,
) -> Vec<(SurfacePoint, usize)> {
    let fixed = board.fixed.len();
    let mut discs = board.fixed.clone();
    discs.extend_from_slice(ours);
    let point = |disc: &Disc| board.chart.to_surface(&disc.place);
    let mut centres_mm = board.fixed_mm.clone();
    centres_mm.extend(ours.iter().map(|disc| board.ground.surface.world_from_surface(point(disc))));
    let mut out = vec![false; discs.len()];
    for sweep in 0..=SWEEPS {
        if !going() {
            break;
        }
        let fixes = fixes(board, &discs, &centres_mm);
        if fixes.is_empty() {
            break;
        }
        for fix in fixes {
            if sweep == SWEEPS {
                out[fix.number] |= fix.yields;
                continue;
            }
            let disc = &mut discs[fix.number];
            disc.place = board.chart.moved(&disc.place, fix.right_mm, fix.down_mm);
            centres_mm[fix.number] = board.ground.surface.world_from_surface(point(disc));
        }
    }
    (fixed..discs.len())
        .filter(|number| !out[*number])
        .map(|number| (point(&discs[number]), discs[number].size))
        .collect()
}

fn fixes(board: &Board<'_>, discs: &[Disc], centres_mm: &[DVec3]) -> Vec<Fix> {
    let mut kept = Kept::new(board.cells.count());
    let mut fixes = Vec::new();
    let widest_mm = board.widest_reach_mm;
    for (number, disc) in discs.iter().enumerate() {
        let cell = board.cells.cell(disc.place.turn, disc.place.down_mm);
        kept.add(number, cell);
        if number < board.fixed.len() {
            continue;
        }
        fixes.extend(over_edge(board, number, disc));
        let reach_mm = disc.reach_mm + widest_mm + 0.01;
        board.cells.numbers_near(&kept, &disc.place, reach_mm, |other| {
            let second = &discs[other];
            let least_mm = disc.reach_mm + second.reach_mm - BEYOND_MM;
            let apart_mm = centres_mm[number].distance(centres_mm[other]);
            if other != number && apart_mm < least_mm {
                let by = least_mm - apart_mm + BEYOND_MM;
                let share = if other < board.fixed.len() { 1.0 } else { 0.5 };
                let mut part = |a: usize, from: &Disc, to: &Disc, yields| {
                    let (_, right, down) = slopes(&from.place, &to.place);
                    let scale = share * by / (right * right + down * down).sqrt().max(1e-9);
                    let (right_mm, down_mm) = (scale * right, scale * down);
                    fixes.push(Fix { number: a, right_mm, down_mm, yields });
                };
                part(number, disc, second, true);
                if share < 1.0 {
                    part(other, second, disc, false);
                }
            }
            true
        });
    }
    fixes
}

fn over_edge(board: &Board<'_>, number: usize, disc: &Disc) -> Option<Fix> {
    if board.walls.list(&disc.place).is_empty() && board.holds_centre(&disc.place) {
        return None;
    }
    let radius_mm = board.radii_mm[disc.size];
    let room_mm = board.ground.field.clearance_mm(board.chart.to_surface(&disc.place));
    if room_mm >= radius_mm - FLUSH_MM {
        return None;
    }
    let touch = board.walls.touch(&disc.place, 2.0 * radius_mm);
    let by = radius_mm - room_mm + BEYOND_MM;
    let (right, down) = touch.map_or((0.0, 0.0), |touch| touch.away);
    Some(Fix { number, right_mm: by * right, down_mm: by * down, yields: true })
}

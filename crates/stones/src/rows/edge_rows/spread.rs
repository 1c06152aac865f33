//! What the rows leave free at the far edge, shared out between them.
//!
//! Whole rows seldom end just at the edge across. Where less than a stone is left, every row moves
//! towards it by its part: the last one lies at the edge, the first stays flush with its own, and the
//! gaps between all of them grow alike.

use crate::bed::Bed;
use crate::rows::settle::even_out;
use std::f64::consts::TAU;

/// Rounds of moving; each moves what the one before could not because a neighbour lay in the way.
const ROUNDS: u32 = 5;
/// Rounds of evening out sideways after each.
const EVEN: u32 = 3;
/// Less than this much of a stone left free is no sight to mend.
const SEEN: f64 = 0.15;

/// A stone with nothing of its zone's below it.
#[derive(Debug, Clone, Copy)]
struct Last {
    around: f64,
    along_mm: f64,
    /// How far it could go on to the edge, mm.
    free_mm: f64,
}

/// Moves rows towards the far edge of a zone on a revolved part, while it is `going`.
pub fn spread(bed: &mut Bed<'_>, diameter_mm: f64, going: &mut dyn FnMut(&Bed<'_>) -> bool) {
    for _ in 0..ROUNDS {
        let last = smoothed(&last_stones(bed, diameter_mm));
        let seen_mm = SEEN * diameter_mm;
        if !last.iter().any(|stone| stone.free_mm > seen_mm) || !going(bed) {
            return;
        }
        let first = first_row(bed);
        // The lowest first: it makes way for the next.
        let mut order: Vec<usize> =
            (0..bed.laid.len()).filter(|i| bed.laid[*i].spot.row > 1).collect();
        order.sort_by(|a, b| {
            let along = |i: usize| bed.laid[i].spot.at.along_mm;
            along(*b).total_cmp(&along(*a)).then(a.cmp(b))
        });
        for number in order {
            let at = bed.laid[number].spot.at;
            let (Some(top), Some(foot)) = (between(&first, at.around), between(&last, at.around))
            else {
                return;
            };
            let share = (at.along_mm - top.along_mm) / (foot.along_mm - top.along_mm).max(1e-9);
            let down_mm = foot.free_mm * share.clamp(0.0, 1.0);
            if down_mm > 1e-3 {
                bed.nudge(number, 0.0, down_mm);
            }
        }
        let inner = |bed: &Bed<'_>, number: usize| bed.laid[number].spot.row > 1;
        even_out(bed, EVEN, inner, going);
    }
}

/// The first row, by `around`.
fn first_row(bed: &Bed<'_>) -> Vec<Last> {
    let first = bed.laid.iter().filter(|laid| laid.spot.row == 1).map(|laid| laid.spot.at);
    let mut first: Vec<Last> =
        first.map(|at| Last { around: at.around, along_mm: at.along_mm, free_mm: 0.0 }).collect();
    first.sort_by(|a, b| a.around.total_cmp(&b.around));
    first
}

/// The stones that lie nearest to the far edge, by `around`, and how far each could go on.
fn last_stones(bed: &Bed<'_>, diameter_mm: f64) -> Vec<Last> {
    let pitch_mm = diameter_mm + bed.gap_mm;
    let mut near = Vec::new();
    let mut last = Vec::new();
    for (number, laid) in bed.laid.iter().enumerate() {
        bed.neighbours(number, 1.9 * pitch_mm, &mut near);
        let is_below = |other: &usize| {
            let way = bed.laid[*other].frame.centre_mm - laid.frame.centre_mm;
            way.dot(laid.frame.down) > 0.45 * pitch_mm
                && way.dot(laid.frame.right).abs() < 0.8 * pitch_mm
        };
        if near.iter().any(is_below) {
            continue;
        }
        let holds = |down_mm: f64| {
            bed.ground.holds(bed.ground.moved(&laid.frame, 0.0, down_mm), laid.diameter_mm)
        };
        let (mut free_mm, mut beyond_mm) = (0.0, 1.5 * pitch_mm);
        for _ in 0..14 {
            let middle_mm = (free_mm + beyond_mm) / 2.0;
            *(if holds(middle_mm) { &mut free_mm } else { &mut beyond_mm }) = middle_mm;
        }
        let at = laid.spot.at;
        last.push(Last { around: at.around, along_mm: at.along_mm, free_mm });
    }
    last.sort_by(|a, b| a.around.total_cmp(&b.around));
    last
}

/// Each with the mean of its neighbours, so that stones of one row keep beside each other.
fn smoothed(last: &[Last]) -> Vec<Last> {
    const SIDE: usize = 2;
    let count = last.len();
    let mean = |i: usize| {
        let around = (0..=2 * SIDE).map(|k| last[(i + count * SIDE + k - SIDE) % count].free_mm);
        around.sum::<f64>() / (2 * SIDE + 1) as f64
    };
    (0..count).map(|i| Last { free_mm: mean(i).min(last[i].free_mm + 0.3), ..last[i] }).collect()
}

/// A line through stones, in the round, at a place.
fn between(line: &[Last], around: f64) -> Option<Last> {
    let (front, back) = (line.first()?, line.last()?);
    let next = line.partition_point(|stone| stone.around < around);
    let shifted = |stone: &Last, turn: f64| Last { around: stone.around + turn, ..*stone };
    let a = if next == 0 { shifted(back, -TAU) } else { line[next - 1] };
    let b = line.get(next).copied().unwrap_or_else(|| shifted(front, TAU));
    let part = ((around - a.around) / (b.around - a.around).max(1e-12)).clamp(0.0, 1.0);
    let mix = |a: f64, b: f64| a + (b - a) * part;
    Some(Last { around, along_mm: mix(a.along_mm, b.along_mm), free_mm: mix(a.free_mm, b.free_mm) })
}

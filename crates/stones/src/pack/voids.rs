//! Holes between stones: where they are and how wide.

use crate::pack::board::{Board, Laid};
use crate::pack::chart::Place;

/// A hole: its centre and the distance from it to the nearest stone's girdle or edge.
#[derive(Debug, Clone, Copy)]
pub struct Void {
    /// Its centre.
    pub place: Place,
    /// Radius of the largest circle there that touches nothing, mm.
    pub radius_mm: f64,
}

/// Holes of at least this radius, the widest first, no two of them overlapping by more than a third.
pub fn voids(board: &Board<'_>, laid: &Laid, least_mm: f64) -> Vec<Void> {
    let step_mm = 0.7 * least_mm;
    let (start, end) = board.down_mm;
    let rows = ((end - start) / step_mm).ceil() as usize;
    let mut found: Vec<Void> = Vec::new();
    // A grid point at most half a step's diagonal from the centre sees at least this much.
    let seen_mm = 0.45 * least_mm;
    for row in 0..rows {
        let down_mm = start + (row as f64 + 0.5) * step_mm;
        let radius_mm = board.chart.place(0.0, down_mm).radius_mm;
        let (from, to) = board.ground.around;
        let columns = ((to - from) * radius_mm / step_mm).ceil().max(1.0) as usize;
        for column in 0..columns {
            let turn = from + (to - from) * (column as f64 + 0.5) / columns as f64;
            let place = board.chart.place(turn, down_mm);
            let wide = among_mm(board, laid, &place, seen_mm) >= seen_mm;
            if !wide
                || !board.holds_centre(&place)
                || room_mm(board, laid, &place, seen_mm) < seen_mm
            {
                continue;
            }
            let hole = climb(board, laid, place);
            if hole.radius_mm >= least_mm && board.holds_centre(&hole.place) {
                found.push(hole);
            }
        }
    }
    found.sort_by(|a, b| {
        (b.radius_mm.total_cmp(&a.radius_mm))
            .then(a.place.down_mm.total_cmp(&b.place.down_mm))
            .then(a.place.turn.total_cmp(&b.place.turn))
    });
    // The widest of those that overlap.
    let mut cells = crate::pack::cells::Kept::new(board.cells.count());
    let mut out: Vec<Void> = Vec::new();
    for hole in found {
        let mut apart = true;
        let reach_mm = 2.0 * hole.radius_mm;
        board.cells.numbers_near(&cells, &hole.place, 2.0 * reach_mm, |number| {
            let other: &Void = &out[number];
            let least = 0.67 * (hole.radius_mm + other.radius_mm);
            apart &= board.chart.distance_squared(&hole.place, &other.place) > least * least;
            apart
        });
        if apart {
            cells.add(out.len(), board.cells.cell(hole.place.turn, hole.place.down_mm));
            out.push(hole);
        }
    }
    out
}

/// Distance to the nearest girdle or edge, mm; may stop early below `enough_mm`.
fn room_mm(board: &Board<'_>, laid: &Laid, place: &Place, enough_mm: f64) -> f64 {
    let among_mm = among_mm(board, laid, place, enough_mm);
    if among_mm < enough_mm {
        return among_mm;
    }
    let cell = board.cells.cell(place.turn, place.down_mm);
    among_mm.min(board.walls.room_mm(&board.chart, cell, place))
}

/// Distance to the nearest girdle, mm; may stop early below `enough_mm`.
fn among_mm(board: &Board<'_>, laid: &Laid, place: &Place, enough_mm: f64) -> f64 {
    let widest_mm = board.widest_reach_mm - board.half_gap_mm;
    // Farther off it makes no difference.
    let mut room_mm = enough_mm.max(2.0 * widest_mm);
    laid.near(board, place, widest_mm + room_mm, |number| {
        let other = &laid.discs[number];
        let radius_mm = other.reach_mm - board.half_gap_mm;
        let away = board.chart.distance_squared(place, &other.place);
        if away < (radius_mm + room_mm) * (radius_mm + room_mm) {
            room_mm = away.sqrt() - radius_mm;
        }
        room_mm >= enough_mm
    });
    room_mm
}

/// To the middle of a hole, by steps that shrink when none of eight ways gives more room.
fn climb(board: &Board<'_>, laid: &Laid, from: Place) -> Void {
    const WAYS: [(f64, f64); 8] = [
        (1.0, 0.0),
        (0.7, 0.7),
        (0.0, 1.0),
        (-0.7, 0.7),
        (-1.0, 0.0),
        (-0.7, -0.7),
        (0.0, -1.0),
        (0.7, -0.7),
    ];
    let mut best = Void { place: from, radius_mm: room_mm(board, laid, &from, 0.0) };
    let mut step_mm = 0.2;
    while step_mm > 0.004 {
        let before = best.radius_mm;
        for (right, down) in WAYS {
            let place = board.chart.moved(&best.place, step_mm * right, step_mm * down);
            let radius_mm = room_mm(board, laid, &place, best.radius_mm);
            if radius_mm > best.radius_mm {
                best = Void { place, radius_mm };
                break;
            }
        }
        if best.radius_mm <= before {
            step_mm *= 0.5;
        }
    }
    best
}

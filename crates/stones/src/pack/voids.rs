//! Holes between stones: where they are and how wide.

use crate::pack::board::{Board, Disc};
use crate::pack::cells::Kept;
use crate::pack::chart::{Place, distance_squared};
use crate::pack::laid::Laid;

/// A hole: its centre and the distance from it to the nearest stone or edge.
#[derive(Debug, Clone, Copy)]
pub struct Void {
    /// Its centre.
    pub place: Place,
    /// Radius of the largest circle there that touches nothing, mm.
    pub radius_mm: f64,
}

/// Steps of the grid that holes are looked for on, in least radii.
const STEP: f64 = 0.6;
/// A point of the grid at most half a step's diagonal from a hole's centre sees at least this much of
/// its radius.
const SEEN: f64 = 0.5;
/// Holes nearer to each other than this share of both radii are one.
const ONE: f64 = 0.67;

/// Stones stamped and holes climbed to before asking whether to go on.
const AT_ONCE: usize = 512;
const CLIMBED_AT_ONCE: usize = 64;

/// Holes of at least this radius, the widest first, no two of them overlapping by more than a third; not
/// all of them when no longer `going`. Stones count with half of the gap round them, less `inside_mm`.
pub fn voids(
    board: &Board<'_>,
    laid: &Laid,
    least_mm: f64,
    inside_mm: f64,
    going: &mut dyn FnMut() -> bool,
) -> Vec<Void> {
    let mut grid = Grid::new(board, STEP * least_mm, least_mm);
    for (number, disc) in laid.discs.iter().enumerate() {
        if number % AT_ONCE == 0 && !going() {
            return Vec::new();
        }
        grid.stamp(board, disc, inside_mm);
    }
    grid.bound(board, SEEN * least_mm, going);
    let mut found: Vec<Void> = grid
        .tops(SEEN * least_mm)
        .into_iter()
        .enumerate()
        .take_while(|(number, _)| number % CLIMBED_AT_ONCE != 0 || going())
        .map(|(_, (turn, down_mm))| climb(board, laid, board.chart.place(turn, down_mm), inside_mm))
        .filter(|hole| hole.radius_mm >= least_mm && board.holds_centre(&hole.place))
        .collect();
    found.sort_by(|a, b| {
        (b.radius_mm.total_cmp(&a.radius_mm))
            .then(a.place.down_mm.total_cmp(&b.place.down_mm))
            .then(a.place.turn.total_cmp(&b.place.turn))
    });
    // The widest of those that overlap.
    let widest_mm = found.first().map_or(0.0, |hole| hole.radius_mm);
    let mut cells = Kept::new(board.cells.count());
    let mut out: Vec<Void> = Vec::new();
    for hole in found {
        let mut apart = true;
        let far_mm = ONE * (hole.radius_mm + widest_mm);
        board.cells.numbers_near(&cells, &hole.place, far_mm, |number| {
            let other: &Void = &out[number];
            let least = ONE * (hole.radius_mm + other.radius_mm);
            apart &= distance_squared(&hole.place, &other.place) > least * least;
            apart
        });
        if apart {
            cells.add(out.len(), board.cells.cell(hole.place.turn, hole.place.down_mm));
            out.push(hole);
        }
    }
    out
}

/// Rooms at the points of a grid over the ground, mm.
struct Grid {
    rows: Vec<Row>,
    rooms: Vec<f32>,
    start_mm: f64,
    step_mm: f64,
    from_turn: f64,
    /// Whether it goes all round.
    closed: bool,
    /// Rooms are told up to this, mm.
    cap_mm: f64,
}

struct Row {
    first: usize,
    columns: usize,
    turn_step: f64,
    radius_mm: f64,
    place: Place,
}

impl Grid {
    fn new(board: &Board<'_>, step_mm: f64, cap_mm: f64) -> Self {
        let (start_mm, end_mm) = board.down_mm;
        let (from, to) = board.ground.around;
        let mut first = 0;
        let rows = (0..((end_mm - start_mm) / step_mm).ceil() as usize).map(|row| {
            let place = board.chart.place(0.0, start_mm + (row as f64 + 0.5) * step_mm);
            let columns = ((to - from) * place.radius_mm / step_mm).ceil().max(1.0) as usize;
            let turn_step = (to - from) / columns as f64;
            first += columns;
            Row { first: first - columns, columns, turn_step, radius_mm: place.radius_mm, place }
        });
        let rows: Vec<Row> = rows.collect();
        let closed = board.ground.all_round();
        let rooms = vec![cap_mm as f32; first];
        Self { rows, rooms, start_mm, step_mm, from_turn: from, closed, cap_mm }
    }

    fn turn(&self, row: &Row, column: usize) -> f64 {
        self.from_turn + (column as f64 + 0.5) * row.turn_step
    }

    /// Lessens the rooms around a stone.
    fn stamp(&mut self, board: &Board<'_>, disc: &Disc, inside_mm: f64) {
        let own_mm = disc.reach_mm - inside_mm;
        let reach_mm = own_mm + self.cap_mm;
        let along_mm = board.chart.bend() * reach_mm;
        let at = |down_mm: f64| (down_mm - self.start_mm) / self.step_mm;
        let first = (at(disc.place.down_mm - along_mm) - 0.5).max(0.0) as usize;
        let last = (at(disc.place.down_mm + along_mm) + 0.5).max(0.0) as usize;
        let turn = board.chart.wrapped(disc.place.turn - self.from_turn);
        let whole = std::f64::consts::TAU;
        for row in &self.rows[first.min(self.rows.len())..(last + 1).min(self.rows.len())] {
            let z = row.place.centre_mm.z - disc.place.centre_mm.z;
            let off = row.radius_mm - disc.place.radius_mm;
            let flat = z * z + off * off;
            let left = reach_mm * reach_mm - flat;
            if left <= 0.0 {
                continue;
            }
            let both = row.radius_mm * disc.place.radius_mm;
            let columns = row.columns as i64;
            // Chord and arc are alike at this distance; holes are measured exactly afterwards.
            let half = (1.02 * (left / both.max(1e-6)).sqrt() / row.turn_step + 1.0) as i64;
            let middle = (turn / row.turn_step).floor() as i64;
            let half = if self.closed { half.min((columns - 1) / 2) } else { half };
            for column in middle - half..=middle + half {
                let turned = turn - (column as f64 + 0.5) * row.turn_step;
                let column = if self.closed {
                    column.rem_euclid(columns)
                } else if board.chart.is_revolved() && column < 0 {
                    // The same place, a turn on.
                    column + (whole / row.turn_step) as i64
                } else {
                    column
                };
                if !(0..columns).contains(&column) {
                    continue;
                }
                let q = turned * turned;
                let chord = if board.chart.is_revolved() { q * (1.0 - q / 12.0) } else { q };
                let room = (flat + both * chord).max(0.0).sqrt() - own_mm;
                let kept = &mut self.rooms[row.first + column as usize];
                *kept = kept.min(room as f32);
            }
        }
    }

    /// Lessens rooms of at least `least_mm` to the distance from the edges, and outside to nothing; of as
    /// many rows as it is `going`.
    fn bound(&mut self, board: &Board<'_>, least_mm: f64, going: &mut dyn FnMut() -> bool) {
        for (index, row) in self.rows.iter().enumerate().take_while(|_| going()) {
            let down_mm = self.start_mm + (index as f64 + 0.5) * self.step_mm;
            for column in 0..row.columns {
                let room = self.rooms[row.first + column];
                if f64::from(room) < least_mm {
                    continue;
                }
                let place = board.chart.place(self.turn(row, column), down_mm);
                self.rooms[row.first + column] = if board.holds_centre(&place) {
                    room.min(board.walls.room_mm(&place) as f32)
                } else {
                    -1.0
                };
            }
        }
    }

    /// Points of at least this room that have none of more beside them: angle and mm down.
    fn tops(&self, least_mm: f64) -> Vec<(f64, f64)> {
        let mut out = Vec::new();
        for (index, row) in self.rows.iter().enumerate() {
            for column in 0..row.columns {
                let room = self.rooms[row.first + column];
                if f64::from(room) < least_mm || self.is_topped(index, column, room) {
                    continue;
                }
                let down_mm = self.start_mm + (index as f64 + 0.5) * self.step_mm;
                out.push((self.turn(row, column), down_mm));
            }
        }
        out
    }

    fn is_topped(&self, index: usize, column: usize, room: f32) -> bool {
        let row = &self.rows[index];
        let beside = |row: &Row, column: i64| {
            let columns = row.columns as i64;
            let column = if self.closed { column.rem_euclid(columns) } else { column };
            if (0..columns).contains(&column) {
                self.rooms[row.first + column as usize]
            } else {
                -1.0
            }
        };
        let turn = (column as f64 + 0.5) * row.turn_step;
        // Of two alike the first is the top.
        if beside(row, column as i64 - 1) >= room || beside(row, column as i64 + 1) > room {
            return true;
        }
        let around = |other: &Row, alike: bool| {
            let middle = (turn / other.turn_step) as i64;
            (middle - 1..=middle + 1).any(|column| {
                let there = beside(other, column);
                there > room || alike && there == room
            })
        };
        index > 0 && around(&self.rows[index - 1], true)
            || index + 1 < self.rows.len() && around(&self.rows[index + 1], false)
    }
}

/// Distance to the nearest stone or edge, mm; may stop early below `enough_mm`, and sees no farther
/// than `most_mm`.
fn room_mm(
    board: &Board<'_>,
    laid: &Laid,
    place: &Place,
    inside_mm: f64,
    enough_mm: f64,
    most_mm: f64,
) -> f64 {
    let widest_mm = board.widest_reach_mm - inside_mm;
    let mut room_mm = most_mm;
    laid.near(board, place, widest_mm + most_mm, |number| {
        let other = &laid.discs[number];
        let radius_mm = other.reach_mm - inside_mm;
        let away = distance_squared(place, &other.place);
        if away < (radius_mm + room_mm) * (radius_mm + room_mm) {
            room_mm = away.sqrt() - radius_mm;
        }
        room_mm >= enough_mm
    });
    if room_mm < enough_mm { room_mm } else { room_mm.min(board.walls.room_mm(place)) }
}

/// To the middle of a hole, by steps that shrink when none of eight ways gives more room.
fn climb(board: &Board<'_>, laid: &Laid, from: Place, inside_mm: f64) -> Void {
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
    let room = |place: &Place, enough_mm: f64, most_mm: f64| {
        room_mm(board, laid, place, inside_mm, enough_mm, most_mm)
    };
    let far_mm = 2.0 * board.widest_reach_mm;
    let mut best = Void { place: from, radius_mm: room(&from, f64::NEG_INFINITY, far_mm) };
    let mut step_mm = 0.2;
    while step_mm > 0.01 {
        let before = best.radius_mm;
        for (right, down) in WAYS {
            let place = board.chart.moved(&best.place, step_mm * right, step_mm * down);
            let radius_mm = room(&place, best.radius_mm, best.radius_mm + step_mm);
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

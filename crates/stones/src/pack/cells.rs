//! Stones sorted into cells of the chart, so that neighbours are found at once.

use crate::pack::chart::{Chart, Place};
use crate::steps::step;
use std::f64::consts::{PI, TAU};

const NONE: u32 = u32::MAX;

/// Rows of cells down the wall, each cut into as many columns as its length round the part takes.
#[derive(Debug, Clone)]
pub struct Cells {
    revolved: bool,
    /// How much longer than straight the way along the wall may be.
    bend: f64,
    from_mm: f64,
    row_mm: f64,
    from_turn: f64,
    rows: Vec<Row>,
    count: usize,
}

#[derive(Debug, Clone, Copy)]
struct Row {
    first: usize,
    columns: usize,
    per_turn: f64,
    least_radius_mm: f64,
    width_mm: f64,
}

impl Cells {
    /// Cells of about `side_mm` for this stretch of the chart.
    pub fn new(chart: &Chart, down_mm: (f64, f64), turn: (f64, f64), side_mm: f64) -> Self {
        let rows = (((down_mm.1 - down_mm.0) / side_mm).ceil() as usize).clamp(1, 1 << 20);
        let row_mm = ((down_mm.1 - down_mm.0) / rows as f64).max(side_mm * 1e-3);
        let (from_turn, span) =
            if chart.is_revolved() { (-PI, TAU) } else { (turn.0, (turn.1 - turn.0).max(1e-9)) };
        let mut count = 0;
        let rows = (0..rows)
            .map(|row| {
                let top = down_mm.0 + row as f64 * row_mm;
                let radius = |k: u32| chart.place(0.0, top + row_mm * f64::from(k) / 4.0).radius_mm;
                let least_radius_mm = (0..=4).map(radius).fold(f64::INFINITY, f64::min);
                let width = span * (0..=4).map(radius).fold(0.0, f64::max);
                let columns = ((width / side_mm) as usize).clamp(1, 1 << 20);
                let first = count;
                count += columns;
                Row {
                    first,
                    columns,
                    per_turn: columns as f64 / span,
                    least_radius_mm,
                    width_mm: width,
                }
            })
            .collect();
        Self {
            revolved: chart.is_revolved(),
            bend: chart.bend(),
            from_mm: down_mm.0,
            row_mm,
            from_turn,
            rows,
            count,
        }
    }

    /// From the middle of a cell to its farthest corner, at most, mm.
    pub fn half_mm(&self) -> f64 {
        let widest = |row: &Row| row.width_mm / row.columns as f64;
        let width_mm = self.rows.iter().map(widest).fold(0.0, f64::max);
        0.5 * (self.row_mm * self.row_mm + width_mm * width_mm).sqrt()
    }

    /// How many cells there are.
    pub fn count(&self) -> usize {
        self.count
    }

    fn row(&self, down_mm: f64) -> usize {
        (((down_mm - self.from_mm) / self.row_mm).max(0.0) as usize).min(self.rows.len() - 1)
    }

    /// The cell of a place; the nearest one beyond the ends.
    pub fn cell(&self, turn: f64, down_mm: f64) -> usize {
        let row = &self.rows[self.row(down_mm)];
        let column = ((turn - self.from_turn) * row.per_turn).max(0.0) as usize;
        row.first + column.min(row.columns - 1)
    }

    /// Whether a cell is the first of its row.
    pub fn begins_row(&self, cell: usize) -> bool {
        self.rows.binary_search_by_key(&cell, |row| row.first).is_ok()
    }

    /// Middle of a cell, angle and mm down.
    pub fn middle(&self, cell: usize) -> (f64, f64) {
        let index = self.rows.partition_point(|row| row.first <= cell) - 1;
        let row = &self.rows[index];
        let turn = self.from_turn + ((cell - row.first) as f64 + 0.5) / row.per_turn;
        (turn, self.from_mm + (index as f64 + 0.5) * self.row_mm)
    }

    /// Calls `see` for every cell that may hold a place within `reach_mm` of one of radius
    /// `radius_mm` between two angles and two lengths; false from `see` ends it.
    pub fn near(
        &self,
        turn: (f64, f64),
        down_mm: (f64, f64),
        radius_mm: f64,
        reach_mm: f64,
        mut see: impl FnMut(usize) -> bool,
    ) {
        step();
        let along_mm = self.bend * reach_mm;
        for row in &self.rows[self.row(down_mm.0 - along_mm)..=self.row(down_mm.1 + along_mm)] {
            let columns = row.columns as i64;
            let (mut first, mut last) = (0, columns - 1);
            let chord = reach_mm / (2.0 * (radius_mm * row.least_radius_mm).max(1e-12).sqrt());
            // Beyond this the arcsine below is no longer near its chord: take the whole row.
            let side = if !self.revolved { reach_mm } else { 2.0 * 1.05 * chord };
            if !self.revolved || (chord < 0.45 && turn.1 - turn.0 + 2.0 * side < TAU * 0.99) {
                // Rounded down: no angle is more than a whole turn before the first column.
                let column = |turn: f64| {
                    let columns = row.columns as f64;
                    ((turn - self.from_turn) * row.per_turn + columns).max(0.0) as i64
                        - columns as i64
                };
                let (low, high) = (column(turn.0 - side), column(turn.1 + side));
                if !self.revolved {
                    first = low.clamp(0, last);
                    last = high.clamp(0, last);
                } else if high - low < last && low > -columns && high < 2 * columns {
                    first = low;
                    last = high;
                }
            }
            for column in first..=last {
                let wrapped = if column < 0 {
                    column + columns
                } else if column >= columns {
                    column - columns
                } else {
                    column
                };
                if !see(row.first + wrapped as usize) {
                    return;
                }
            }
        }
    }
}

/// Numbers kept in cells.
#[derive(Debug, Clone)]
pub struct Kept {
    heads: Vec<u32>,
    next: Vec<u32>,
}

impl Kept {
    /// Nothing in any of `count` cells.
    pub fn new(count: usize) -> Self {
        Self { heads: vec![NONE; count], next: Vec::new() }
    }

    /// Adds a number.
    pub fn add(&mut self, number: usize, cell: usize) {
        if self.next.len() <= number {
            self.next.resize(number + 1, NONE);
        }
        self.next[number] = self.heads[cell];
        self.heads[cell] = number as u32;
    }

    /// The numbers in a cell.
    pub fn numbers(&self, cell: usize) -> impl Iterator<Item = usize> {
        let mut at = self.heads[cell];
        std::iter::from_fn(move || {
            let number = (at != NONE).then_some(at as usize)?;
            at = self.next[number];
            Some(number)
        })
    }
}

impl Cells {
    /// Calls `see` with every kept number whose place may lie within `reach_mm`.
    pub fn numbers_near(
        &self,
        kept: &Kept,
        place: &Place,
        reach_mm: f64,
        mut see: impl FnMut(usize) -> bool,
    ) {
        let (turn, down) = ((place.turn, place.turn), (place.down_mm, place.down_mm));
        self.near(turn, down, place.radius_mm, reach_mm, |cell| kept.numbers(cell).all(&mut see));
    }
}

//! Pieces nested by their true shape, on the width of the sheet.
//!
//! Bottom-left fill (Burke, Hellier, Kendall and Whitwell 2006, from memory) on rows: pieces come in
//! order of size, and each takes, of the turns it may have, the place on the first sheet with room at
//! which it ends highest, as far left as it goes. Several orders are tried; the fewest sheets count, then
//! the shortest length. The work is bounded, so that a plan of any size ends; what is too large stays
//! on shelves. Whole numbers throughout, so the plan is the same on every machine.

use super::covered::{Covered, ROW_MM, STEPS_PER_MM, Stretch, steps_down};
use super::{CutSheet, Laid, Order};
use std::collections::BTreeMap;

/// Pieces of all cups beyond which nothing is nested: nobody weeds as many in one order.
const MOST_PIECES: u64 = 4_000;
/// Looks at a row of a sheet in all that is tried for one colour: two seconds at most.
const MOST_LOOKS: u64 = 60_000_000;

/// The pieces of an order nested, if that takes less than `shelves`.
pub(super) fn nested(order: &Order<'_>, shelves: &[CutSheet]) -> Option<Vec<CutSheet>> {
    let count = order.pieces().count() as u64;
    if count == 0 || count * u64::from(order.quantity) > MOST_PIECES {
        return None;
    }
    let kinds = kinds(order);
    let sheet = Size {
        width: steps_down(order.sheet_mm().0),
        height: steps_down(order.sheet_mm().1.min(2.0e7)),
    };
    let cost = |sheets: &[CutSheet]| {
        let count: u64 = sheets.iter().map(|sheet| u64::from(sheet.times)).sum();
        let length: f64 = sheets.iter().map(|s| f64::from(s.times) * s.length_mm).sum();
        (count, (length * STEPS_PER_MM) as u64)
    };
    let mut looks = MOST_LOOKS;
    let mut best: Option<Vec<CutSheet>> = None;
    for key in ORDERS {
        let mut sorted: Vec<&Kind> = kinds.iter().collect();
        sorted.sort_by_key(|kind| (std::cmp::Reverse(key(kind)), kind.places[0]));
        let Ok(sheets) = filled(order, &sorted, sheet, &mut looks) else { break };
        if cost(&sheets) < cost(best.as_deref().unwrap_or(shelves)) {
            best = Some(sheets);
        }
    }
    best
}

/// The looks are used up.
struct UsedUp;

/// By what pieces are sorted, the largest first: area, height, width.
const ORDERS: [fn(&Kind) -> i64; 4] = [
    |kind| kind.area,
    |kind| i64::from(kind.turned[0].1.height),
    |kind| i64::from(kind.turned[0].1.width),
    |kind| i64::from(kind.turned[0].1.height.max(kind.turned[0].1.width)),
];

/// A size in steps.
#[derive(Clone, Copy)]
struct Size {
    width: i32,
    height: i32,
}

/// What a piece covers, for each turn that makes a difference, with its quarters.
type Turned = Vec<(u8, Covered)>;

/// Pieces of one shape.
struct Kind {
    /// What they cover.
    turned: Turned,
    /// Steps covered in all rows.
    area: i64,
    /// Which they are: film and piece.
    places: Vec<(usize, usize)>,
}

impl Kind {
    /// Those of all cups; the same piece of each cup comes after that of the last, so that sheets are
    /// often alike.
    fn all(&self, quantity: u32) -> impl Iterator<Item = (usize, usize)> {
        self.places.iter().flat_map(move |&place| (0..quantity).map(move |_| place))
    }
}

/// The pieces of one cup by their shapes.
fn kinds(order: &Order<'_>) -> Vec<Kind> {
    let mut kinds: BTreeMap<Turned, Vec<(usize, usize)>> = BTreeMap::new();
    for (film, piece) in order.pieces() {
        let told = &order.films[film].pieces[piece];
        let (width, height) = told.size_mm;
        let mut turned: Turned = Vec::new();
        for &quarter in order.quarters(film) {
            let size = if quarter % 2 == 0 { (width, height) } else { (height, width) };
            let laid = Laid { film, piece, at_mm: (0.0, 0.0), quarter };
            let turn = |one: &Vec<[f64; 2]>| {
                one.iter().map(|&place| laid.on_sheet(told.size_mm, place)).collect()
            };
            let body: Vec<Vec<[f64; 2]>> = told.body.iter().map(turn).collect();
            let covered = Covered::new(&body, size);
            if turned.iter().all(|(_, other)| *other != covered) {
                turned.push((quarter, covered));
            }
        }
        kinds.entry(turned).or_default().push((film, piece));
    }
    let area = |covered: &Covered| {
        covered.rows.iter().flatten().map(|(from, to)| i64::from(to - from)).sum()
    };
    let kinds = kinds.into_iter();
    kinds.map(|(turned, places)| Kind { area: area(&turned[0].1), turned, places }).collect()
}

/// Everything laid, as long as there is something left of `looks`. What just fits on a sheet but not on
/// its rows stays on shelves too.
fn filled(
    order: &Order<'_>,
    kinds: &[&Kind],
    size: Size,
    looks: &mut u64,
) -> Result<Vec<CutSheet>, UsedUp> {
    let mut sheets: Vec<Sheet> = Vec::new();
    for kind in kinds {
        // A sheet that once had no room for a turn above a row never has it again.
        let mut from: Vec<Vec<Option<usize>>> = Vec::new();
        for (film, piece) in kind.all(order.quantity) {
            let mut at = 0;
            let (place, turn) = loop {
                if at == sheets.len() {
                    sheets.push(Sheet::default());
                }
                if at == from.len() {
                    from.push(vec![Some(0); kind.turned.len()]);
                }
                let found = sheets[at].best(kind, &mut from[at], size, looks)?;
                if let Some(found) = found {
                    break found;
                }
                if sheets[at].pieces.is_empty() {
                    return Err(UsedUp);
                }
                at += 1;
            };
            let (quarter, covered) = &kind.turned[turn];
            let at_mm = (f64::from(place.x) / STEPS_PER_MM, place.row as f64 * ROW_MM);
            sheets[at].lay(covered, place, Laid { film, piece, at_mm, quarter: *quarter });
        }
    }
    let alike = sheets.chunk_by(|one, other| one.pieces == other.pieces);
    let sheets = alike.map(|run| {
        let length_mm = f64::from(run[0].end) / STEPS_PER_MM;
        order.sheets(run.len(), run[0].pieces.clone(), length_mm)
    });
    Ok(sheets.collect())
}

/// Where a piece goes.
#[derive(Clone, Copy)]
struct Place {
    row: usize,
    x: i32,
}

/// A sheet that fills from its upper edge.
#[derive(Default)]
struct Sheet {
    /// What is taken of each row, from left to right.
    rows: Vec<Vec<Stretch>>,
    pieces: Vec<Laid>,
    /// Where the lowest piece ends, steps.
    end: i32,
}

impl Sheet {
    /// The place for a piece, and its turn, if there is room.
    fn best(
        &self,
        kind: &Kind,
        from: &mut [Option<usize>],
        size: Size,
        looks: &mut u64,
    ) -> Result<Option<(Place, usize)>, UsedUp> {
        let mut best: Option<(i64, Place, usize)> = None;
        for (turn, (_, covered)) in kind.turned.iter().enumerate() {
            let Some(row) = from[turn] else { continue };
            let place = self.first(covered, row, size, looks)?;
            from[turn] = place.map(|place| place.row);
            let Some(place) = place else { continue };
            let end = place.row as i64 * ROW_STEPS + i64::from(covered.height);
            if best.is_none_or(|(least, other, _)| (end, place.x) < (least, other.x)) {
                best = Some((end, place, turn));
            }
        }
        Ok(best.map(|(_, place, turn)| (place, turn)))
    }

    /// The uppermost place from a row on, as far left as it goes.
    fn first(
        &self,
        covered: &Covered,
        from: usize,
        size: Size,
        looks: &mut u64,
    ) -> Result<Option<Place>, UsedUp> {
        let mut row = from;
        while row as i64 * ROW_STEPS + i64::from(covered.height) <= i64::from(size.height) {
            let x = self.leftmost(covered, row, size.width, looks);
            if *looks == 0 {
                return Err(UsedUp);
            }
            if let Some(x) = x {
                return Ok(Some(Place { row, x }));
            }
            row += 1;
        }
        Ok(None)
    }

    /// How far left a piece goes with its upper edge on a row.
    fn leftmost(&self, covered: &Covered, row: usize, width: i32, looks: &mut u64) -> Option<i32> {
        let most = width - covered.width;
        let (mut x, mut settled, mut at) = (0, 0, 0);
        // Round and round until no row has pushed it to the right.
        while settled < covered.rows.len() {
            *looks = looks.saturating_sub(1);
            if *looks == 0 || x > most {
                return None;
            }
            let taken = self.rows.get(row + at).map_or(&[][..], Vec::as_slice);
            let pushed = pushed(taken, &covered.rows[at], x);
            settled = if pushed == x { settled + 1 } else { 1 };
            x = pushed;
            at = (at + 1) % covered.rows.len();
        }
        (x <= most).then_some(x)
    }

    fn lay(&mut self, covered: &Covered, place: Place, laid: Laid) {
        let rows = place.row + covered.rows.len();
        if self.rows.len() < rows {
            self.rows.resize(rows, Vec::new());
        }
        for (row, stretches) in self.rows[place.row..].iter_mut().zip(&covered.rows) {
            for &(from, to) in stretches {
                take(row, (from + place.x, to + place.x));
            }
        }
        let end = place.row as i64 * ROW_STEPS + i64::from(covered.height);
        self.end = self.end.max(i32::try_from(end).unwrap_or(i32::MAX));
        self.pieces.push(laid);
    }
}

/// Steps in the height of a row.
const ROW_STEPS: i64 = (ROW_MM * STEPS_PER_MM) as i64;

/// How far right of `x` a row of a piece has to go to lie clear of what is taken.
fn pushed(taken: &[Stretch], covered: &[Stretch], mut x: i32) -> i32 {
    loop {
        let before = x;
        for &(from, to) in covered {
            let mut next = taken.partition_point(|other| other.1 <= from + x);
            while let Some(other) = taken.get(next).filter(|other| other.0 < to + x) {
                x = other.1 - from;
                next += 1;
            }
        }
        if x == before || covered.len() < 2 {
            return x;
        }
    }
}

/// Takes a stretch of a row that is free, and makes one of those that meet.
fn take(row: &mut Vec<Stretch>, stretch: Stretch) {
    let at = row.partition_point(|other| other.1 < stretch.0);
    let mut end = at;
    let mut all = stretch;
    while let Some(other) = row.get(end).filter(|other| other.0 <= all.1) {
        all = (all.0.min(other.0), all.1.max(other.1));
        end += 1;
    }
    row.splice(at..end, [all]);
}

//! The road: from a piece and a studio to everything there is to know about making it.
//!
//! Nothing is computed here; each step is one function of the room it is named after.

use crate::stop::Stop;
use money::Bill;
use piece::{Diagnostic, Piece, Settings};
use shape::Shape;
use sheets::Plan;
use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard, PoisonError};
use stones::{Stone, Stones};
use work::Steps;

/// What the road is given besides the piece.
pub struct Travel<'a> {
    /// What reading the piece gave to say.
    pub notes: Vec<Diagnostic>,
    /// The studio it is made in.
    pub settings: Settings,
    /// Day to begin; `None` counts back from the day it is due.
    pub begin: Option<jiff::civil::Date>,
    /// Whether someone wants it to stop.
    pub stop: &'a Stop,
    /// Told before the stones are laid what will take long, if anything; false ends the road.
    pub long_work: &'a dyn Fn(Vec<Diagnostic>) -> bool,
    /// Told the share of the road that is behind, 0 to 1, and what is being done.
    pub progress: &'a (dyn Fn(f64, &str) + Sync),
}

/// Why the road ended before its end.
pub enum Halt {
    /// The piece cannot be made as it is described.
    Mend(Vec<Diagnostic>),
    /// Someone asked.
    Stopped,
}

/// What the stones are laid with.
pub struct Laying<'a> {
    /// The studio it is made in.
    pub settings: &'a Settings,
    /// Whether someone wants it to stop.
    pub stop: &'a Stop,
    /// As [`Travel::long_work`].
    pub long_work: &'a dyn Fn(Vec<Diagnostic>) -> bool,
    /// As [`Travel::progress`].
    pub progress: &'a (dyn Fn(f64, &str) + Sync),
}

/// A piece whose stones lie.
#[derive(Clone)]
pub struct Laid {
    /// The piece, with what keeps the lip bare.
    pub piece: Piece,
    /// Its shape.
    pub shape: Shape,
    /// Its stones.
    pub stones: Stones,
}

/// Walks the road as far as the stones.
///
/// # Errors
/// What must be mended in the piece first, or stopped.
pub fn lay(piece: Piece, laying: &Laying) -> Result<Laid, Halt> {
    let Laying { settings, stop, long_work, progress } = laying;
    let piece = piece::lip::below_lip(piece, settings).map_err(Halt::Mend)?;
    let mut measuring = |share: f64| {
        progress(0.1 * share, "measuring the parts");
        !stop.asked()
    };
    let shape = shape::shape_while(&piece, settings, &mut measuring).map_err(halted)?;

    let long = stones::long_work(&piece, &shape);
    if !long.is_empty() && !long_work(long) {
        return Err(Halt::Stopped);
    }

    // How many lie so far, by zone and layer: first layouts count at once, and grow.
    let laid = Mutex::new(BTreeMap::new());
    let mut laying = |share: f64| {
        let laid: usize = known(&laid).values().sum();
        let doing = match laid {
            0 => "laying the stones".to_owned(),
            laid => format!("laying the stones, {laid} so far"),
        };
        progress(0.1 + 0.8 * share, &doing);
        !stop.asked()
    };
    let mut show = |stones: &[Stone]| {
        if let Some(first) = stones.first() {
            known(&laid).insert((first.zone, first.layer), stones.len());
        }
    };
    let stones = stones::lay_stones_shown(&piece, &shape, settings, &mut laying, &mut show)
        .map_err(halted)?;
    Ok(Laid { piece, shape, stones })
}

/// Walks the whole road.
///
/// # Errors
/// What must be mended in the piece first, or stopped.
pub fn walk(piece: Piece, travel: Travel) -> Result<Plan, Halt> {
    let Travel { settings, stop, long_work, progress, .. } = &travel;
    let laying = Laying { settings, stop, long_work: *long_work, progress: *progress };
    let laid = lay(piece, &laying)?;
    walk_on(laid, travel)
}

/// Walks the road from the stones to its end.
///
/// # Errors
/// As [`walk`].
pub fn walk_on(laid: Laid, travel: Travel) -> Result<Plan, Halt> {
    let Travel { mut notes, settings, begin, stop, progress, .. } = travel;
    let Laid { piece, shape, stones } = laid;
    progress(0.9, "working out the coats");
    let coats = coats::plan_coats(&piece, &shape, &settings).map_err(Halt::Mend)?;
    let mut timing = |share: f64| {
        progress(0.9 + 0.1 * share, "working out times");
        !stop.asked()
    };
    let (steps, timetable) =
        work::plan_work(&piece, &settings, &coats, &stones, begin, &mut timing)
            .map_err(|work::Stopped| Halt::Stopped)?;
    let bill = money::plan_bill(&piece, &settings, &coats, &stones, &steps).map_err(Halt::Mend)?;
    let price = money::plan_price(&piece, &settings, &bill, &steps).map_err(Halt::Mend)?;

    notes.extend(sheets::letters_missing(&piece));
    notes.extend(shape.notes.iter().cloned());
    notes.extend(stones.notes.iter().cloned());
    notes.extend(coats.notes.iter().cloned());
    notes.extend(timetable.iter().flat_map(|timetable| timetable.notes.iter().cloned()));
    progress(1.0, "writing");
    Ok(Plan { piece, settings, shape, stones, coats, steps, timetable, bill, price, notes })
}

/// What a number of pieces takes.
pub struct Costed {
    /// Its steps.
    pub steps: Steps,
    /// What to buy for it.
    pub bill: Bill,
}

/// Walks from laid stones to the bill of so many pieces.
///
/// # Errors
/// What must be mended in the piece first, or stopped.
pub fn cost(laid: &Laid, pieces: u32, settings: &Settings, stop: &Stop) -> Result<Costed, Halt> {
    let piece = Piece { quantity: pieces, ..laid.piece.clone() };
    let coats = coats::plan_coats(&piece, &laid.shape, settings).map_err(Halt::Mend)?;
    let (steps, _) =
        work::plan_work(&piece, settings, &coats, &laid.stones, None, &mut |_| !stop.asked())
            .map_err(|work::Stopped| Halt::Stopped)?;
    let bill =
        money::plan_bill(&piece, settings, &coats, &laid.stones, &steps).map_err(Halt::Mend)?;
    Ok(Costed { steps, bill })
}

fn known<T>(shared: &Mutex<T>) -> MutexGuard<'_, T> {
    // A hand that panicked takes the program with it anyway.
    shared.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Rooms that were stopped have nothing to complain of.
fn halted(errors: Vec<Diagnostic>) -> Halt {
    if errors.is_empty() { Halt::Stopped } else { Halt::Mend(errors) }
}

//! How many pieces of an order are made at a time.

use super::clock::{self, Slots, slots_down};
use super::crew::Crew;
use super::unit::units;
use crate::{StepKind, Steps};
use jiff::ToSpan;
use piece::hours::{Hours, When};
use piece::{Diagnostic, FieldPath, Piece, Settings};

/// How many days of hours are looked through for the longest stretch.
const LOOK_DAYS: i64 = 366;

/// The groups in which the pieces of an order are made: as few as can be, and as alike. No group is
/// larger than the spindles that its wet parts turn on, than the racks, or than what one stretch of
/// someone's hours holds of the longest step that cannot wait; and in none of them does the recoat
/// window of the first piece close before the last one is poured.
///
/// # Errors
/// One piece alone does not fit.
pub fn group_sizes(
    hours: &Hours,
    settings: &Settings,
    piece: &Piece,
    steps: &Steps,
    begin: Option<When>,
    path: &FieldPath,
) -> Result<Vec<u32>, Diagnostic> {
    let begins = clock::begins(hours, begin)?;
    let slots = Slots::new(&hours.zone, begins);
    let day = slots.zone().to_datetime(begins).date();
    let last = day.checked_add(LOOK_DAYS.days()).unwrap_or(day);
    let crew = Crew::new(hours, settings, &slots, begins, last);
    if let Some(error) = crew.nobody(day) {
        return Err(error);
    }
    let quantity = piece.quantity.max(1);
    let mut most = quantity;
    for unit in units(steps, 1) {
        let pours = unit.turning_min().is_some();
        if pours && unit.turns(piece) {
            if hours.spindles == 0 {
                return Err(no_spindle(piece));
            }
            most = most.min(u32::from(hours.spindles));
        }
        if let (true, Some(racks)) = (pours || unit.kinds().contains(&StepKind::Paint), hours.racks)
        {
            if racks == 0 {
                return Err(no_rack(piece));
            }
            most = most.min(u32::from(racks));
        }
        if unit.may_pause() {
            continue;
        }
        let (kinds, name) = (unit.kinds(), unit.name());
        let longest = crew.longest(&kinds);
        let fits = |pieces: u32| {
            let unit = super::unit::Unit { pieces, ..unit.clone() };
            unit.work() <= longest
        };
        if !crew.who(&kinds).is_empty() && !fits(1) {
            return Err(too_long(path, &name, unit.work(), longest));
        }
        most = (1..=most).rev().find(|pieces| fits(*pieces)).unwrap_or(1);
        most = most.min(within_window(steps, unit.range.start));
    }
    let groups = quantity.div_ceil(most);
    let (each, more) = (quantity / groups, quantity % groups);
    Ok((0..groups).map(|group| each + u32::from(group < more)).collect())
}

/// How many pieces can be poured before the recoat window of the first one closes.
fn within_window(steps: &Steps, pour: usize) -> u32 {
    let step = &steps.steps[pour];
    let Some(window_min) = step.sand_after_min else { return u32::MAX };
    let room = slots_down(window_min - step.wait_min).max(0);
    let each = super::clock::slots_up(step.work_min()).max(1);
    1 + (room / each) as u32
}

fn no_spindle(piece: &Piece) -> Diagnostic {
    let message = format!("`spindles` is 0, but `{}` is poured and has to turn", piece.title);
    Diagnostic::error(FieldPath::root().key("spindles"), message)
        .hint("write how many cups can turn at once, such as spindles = 1")
}

fn no_rack(piece: &Piece) -> Diagnostic {
    let message = format!("`racks` is 0, but `{}` has to stand and dry", piece.title);
    Diagnostic::error(FieldPath::root().key("racks"), message)
        .hint("write how many parts can dry at once, or leave `racks` out")
}

fn too_long(path: &FieldPath, name: &str, needs: i32, longest: i32) -> Diagnostic {
    let span = |slots: i32| crate::words::span(f64::from(slots) * clock::SLOT_MIN as f64);
    Diagnostic::error(
        path.clone(),
        format!(
            "`{name}` takes {} without a break, and the longest stretch of hours of those who do it is {}",
            span(needs),
            span(longest)
        ),
    )
    .hint("set longer hours on one day of the week, or extra hours on one day")
}

//! Slots of real time, and the moments that civil times stand for.

use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::{AmbiguousOffset, TimeZone};
use piece::hours::{Hours, State, When};
use piece::{Diagnostic, FieldPath};
use schedule::Slot;

/// Length of a slot, min.
pub const SLOT_MIN: i64 = 5;
const SLOT_S: i64 = 60 * SLOT_MIN;

/// Where the slots of a book lie in time. They count real minutes: a day in which the clocks are put
/// forward has 276 of them.
#[derive(Debug, Clone)]
pub struct Slots {
    zone: TimeZone,
    /// Beginning of slot 0, seconds since 1970 (UTC), a multiple of a slot.
    origin_s: i64,
}

impl Slots {
    /// Slot 0 holds this moment.
    pub(crate) fn new(zone: &TimeZone, first: Timestamp) -> Self {
        let origin_s = first.as_second().div_euclid(SLOT_S) * SLOT_S;
        Self { zone: zone.clone(), origin_s }
    }

    /// Where the studio's clocks hang.
    pub fn zone(&self) -> &TimeZone {
        &self.zone
    }

    /// Beginning of a slot.
    pub fn moment(&self, slot: Slot) -> Timestamp {
        let second = self.origin_s + i64::from(slot) * SLOT_S;
        Timestamp::from_second(second).unwrap_or(Timestamp::MAX)
    }

    /// The slot that holds a moment.
    pub fn holding(&self, moment: Timestamp) -> Slot {
        slot((moment.as_second() - self.origin_s).div_euclid(SLOT_S))
    }

    /// The first slot that begins at a moment or after it.
    pub fn beginning(&self, moment: Timestamp) -> Slot {
        slot((moment.as_second() - self.origin_s + SLOT_S - 1).div_euclid(SLOT_S))
    }

    /// The moment of a civil time.
    pub fn at(&self, civil: DateTime) -> Timestamp {
        moment_of(&self.zone, civil)
    }

    /// Whether the clocks skip a civil time, and what they show instead.
    pub fn skipped(&self, civil: DateTime) -> Option<DateTime> {
        let ambiguous = self.zone.to_ambiguous_timestamp(civil);
        matches!(ambiguous.offset(), AmbiguousOffset::Gap { .. })
            .then(|| self.zone.to_datetime(self.at(civil)))
    }
}

fn slot(number: i64) -> Slot {
    number.clamp(i64::from(Slot::MIN / 4), i64::from(Slot::MAX / 4)) as Slot
}

/// Slots that so many minutes fill, the last perhaps in part.
pub(crate) fn slots_up(min: f64) -> Slot {
    // A hair is taken off so that rounding noise does not become a slot.
    slot(((min - 1e-6) / SLOT_MIN as f64).ceil() as i64)
}

/// Whole slots within so many minutes.
pub(crate) fn slots_down(min: f64) -> Slot {
    slot(((min + 1e-6) / SLOT_MIN as f64).floor() as i64)
}

/// The moment of a civil time: one that the clocks skip is taken as much later as they are put
/// forward, of one that they show twice the first is taken (RFC 5545, 3.3.5).
fn moment_of(zone: &TimeZone, civil: DateTime) -> Timestamp {
    let moment = zone.to_ambiguous_timestamp(civil).compatible();
    moment.unwrap_or(if civil.year() < 2000 { Timestamp::MIN } else { Timestamp::MAX })
}

/// The civil time at which a day or moment begins.
pub(crate) fn first_moment(when: When) -> DateTime {
    match when {
        When::Day(day) => day.at(0, 0, 0, 0),
        When::At(moment) => moment,
    }
}

/// First moment to plan: that of the command line, else that of the file.
///
/// # Errors
/// If there is neither.
pub(crate) fn begins(hours: &Hours, begin: Option<When>) -> Result<Timestamp, Diagnostic> {
    let when = begin.or(hours.begin).ok_or_else(|| {
        Diagnostic::error(FieldPath::root().key("begin"), "nobody says when to begin")
            .hint("add the first day to plan, such as begin = 2027-03-15, or give it as `--begin`")
    })?;
    Ok(moment_of(&hours.zone, first_moment(when)))
}

/// Tells if the clocks skip the moment to begin.
pub(crate) fn begin_note(hours: &Hours, begin: Option<When>) -> Option<Diagnostic> {
    let Some(When::At(civil)) = begin.or(hours.begin) else { return None };
    let slots = Slots::new(&hours.zone, Timestamp::UNIX_EPOCH);
    let shown = slots.skipped(civil)?;
    let path = FieldPath::root().key("begin");
    Some(skipped_note(path, civil, shown))
}

/// Tells of a civil time that the clocks skip.
pub(crate) fn skipped_note(path: FieldPath, civil: DateTime, shown: DateTime) -> Diagnostic {
    let message = format!(
        "on {} the clocks are put forward past {}: {} is taken",
        civil.date(),
        civil.strftime("%H:%M"),
        shown.strftime("%H:%M")
    );
    Diagnostic::warning(path, message)
}

/// The earliest moment that a book must hold: its beginning, or what happened before it.
pub(crate) fn earliest(hours: &Hours, begins: Timestamp) -> Timestamp {
    let happened = hours.happened.iter().flat_map(|one| match one.state {
        State::Done(began, ended) => vec![began.unwrap_or(ended), ended],
        State::UnderWay(began, _) => vec![began],
        State::Failed(ended) => vec![ended],
    });
    let moments = happened.map(|civil| moment_of(&hours.zone, civil));
    // Steps that went before those told are taken to be done before them, a month at most.
    let month_s = 31 * 86_400;
    moments
        .map(|moment| Timestamp::from_second(moment.as_second() - month_s).unwrap_or(moment))
        .fold(begins, Timestamp::min)
}

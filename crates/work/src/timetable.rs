//! Lays the steps into the maker's hours.
//!
//! Hands-on time lies inside the weekly hours, one thing at a time; waiting runs through nights.

use crate::hours::{DAY_MIN, HORIZON_DAYS, Hours};
use crate::serial::Desk;
use crate::{Steps, Stopped};
use jiff::SignedDuration;
use jiff::civil::{Date, DateTime};
use piece::{Diagnostic, FieldPath, Piece, Settings};

/// One stretch of hands-on time.
#[derive(Debug, Clone, PartialEq)]
pub struct Sitting {
    /// Index into [`Steps::steps`].
    pub step: usize,
    /// Which sitting of the step, from 1.
    pub number: u32,
    /// Of how many.
    pub of: u32,
    /// Local time it begins.
    pub begins: DateTime,
    /// Local time it ends.
    pub ends: DateTime,
}

/// When to do it all.
#[derive(Debug, Clone, PartialEq)]
pub struct Timetable {
    /// In order of time.
    pub sittings: Vec<Sitting>,
    /// When the last waiting ends and it may go in the post.
    pub ready: DateTime,
    /// Last day to post it, if there is a due day.
    pub post_by: Option<Date>,
    /// Warnings: late, windows missed.
    pub notes: Vec<Diagnostic>,
}

/// Whether it is ready before the day to post it, or on that day with hours of work still to come:
/// nobody takes a parcel away late in the evening.
pub(crate) fn in_time(ready: DateTime, post_by: Date, settings: &Settings) -> bool {
    let minute = ready.hour() as u16 * 60 + ready.minute() as u16;
    let left = |date: Date| {
        settings.maker.hours_on(date.weekday()).iter().any(|&(from, _)| from >= minute)
    };
    ready.date() < post_by || (ready.date() == post_by && left(post_by))
}

/// The timetable from one beginning, and the steps whose recoat window it misses, in order of time;
/// `None` if the maker has no hours at all.
///
/// # Errors
/// Stopped, as soon as `going` says so.
pub(crate) fn forward(
    piece: &Piece,
    settings: &Settings,
    steps: &Steps,
    (begin, post_by): (Date, Option<Date>),
    going: &mut dyn FnMut() -> bool,
) -> Result<Option<(Timetable, Vec<usize>)>, Stopped> {
    let Some(hours) = Hours::from(begin, &settings.maker) else { return Ok(None) };
    let mut desk = Desk::new(settings, steps, piece.quantity.max(1), hours);
    let complete = desk.place_all(going)?;
    let midnight = begin.at(0, 0, 0, 0);
    let moment =
        |min: i64| midnight.checked_add(SignedDuration::from_mins(min)).unwrap_or(DateTime::MAX);
    let mut notes = desk.notes();
    let ready = if complete {
        moment(desk.placed.iter().map(|placed| placed.at.1).max().unwrap_or(0))
    } else {
        notes.push(
            Diagnostic::warning(
                FieldPath::root().key("quantity"),
                "the work does not fit in ten years of the hours of work in the settings",
            )
            .hint("Make fewer at a time or set longer hours"),
        );
        moment(HORIZON_DAYS * DAY_MIN)
    };
    if let Some(last) = post_by.filter(|last| !in_time(ready, *last, settings)) {
        notes.push(
            Diagnostic::warning(
                FieldPath::root().key("due"),
                format!(
                    "begun on {begin} it is ready on {} at {}, too late to be posted by {last}",
                    ready.date(),
                    ready.strftime("%H:%M")
                ),
            )
            .hint("Agree a later day, begin sooner, or leave out coats or stones"),
        );
    }
    desk.placed.sort_by_key(|placed| (placed.at, placed.step));
    let mut of = vec![0_u32; steps.steps.len()];
    desk.placed.iter().for_each(|placed| of[placed.step] += 1);
    let mut number = vec![0_u32; steps.steps.len()];
    let sittings = desk
        .placed
        .iter()
        .map(|placed| {
            number[placed.step] += 1;
            Sitting {
                step: placed.step,
                number: number[placed.step],
                of: of[placed.step],
                begins: moment(placed.at.0),
                ends: moment(placed.at.1),
            }
        })
        .collect();
    let late = desk.placed.iter().filter(|placed| placed.extra_sand_min > 0);
    let missed = late.map(|placed| placed.step).collect();
    Ok(Some((Timetable { sittings, ready, post_by, notes }, missed)))
}

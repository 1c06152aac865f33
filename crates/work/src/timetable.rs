//! Lays the steps into the maker's hours.
//!
//! Hands-on time lies inside the weekly hours, one thing at a time; waiting runs through nights.
//! Counting back from a due day tries beginnings from the last day to post backwards and takes the
//! first that is ready in time, so the result is one that works by construction.

use crate::Steps;
use crate::hours::{DAY_MIN, HORIZON_DAYS, Hours};
use crate::serial::Desk;
use jiff::civil::{Date, DateTime};
use jiff::{SignedDuration, ToSpan};
use piece::{Diagnostic, FieldPath, Piece, Settings};

/// How far back a beginning is looked for, days.
const FARTHEST_BACK_DAYS: i64 = 1100;

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
    /// The recoat window before it was missed: sand first, min of it inside this sitting. Always 0 in
    /// what [`crate::plan_work`] gives, where the sanding is a step of its own.
    pub extra_sand_min: f64,
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

/// Places every step in the maker's hours. With `begin` it starts that day and goes forward;
/// without, it counts back from the piece's due day, so that it is ready in time to post: before the day
/// to post, or on it with a stretch of work still to come.
/// `None` if neither day is known, or if the maker has no hours at all.
pub fn plan_timetable(
    piece: &Piece,
    settings: &Settings,
    steps: &Steps,
    begin: Option<Date>,
) -> Option<Timetable> {
    on_some_day(piece, settings, begin, |begin, post_by| {
        let table = forward(piece, settings, steps, begin, post_by)?;
        Some(((), table))
    })
    .map(|((), table)| table)
}

/// Plans from the day to begin, or counts back: the last beginning that is ready in time, else the
/// earliest that was looked at. What is planned besides the timetable comes with it.
pub(crate) fn on_some_day<T>(
    piece: &Piece,
    settings: &Settings,
    begin: Option<Date>,
    plan: impl Fn(Date, Option<Date>) -> Option<(T, Timetable)>,
) -> Option<(T, Timetable)> {
    let post_by = piece
        .due
        .and_then(|due| due.checked_sub(i64::from(settings.times.post_days.min(3660)).days()).ok());
    if let Some(begin) = begin {
        return plan(begin, post_by);
    }
    let post_by = post_by?;
    let mut earliest = None;
    for back in 0..=FARTHEST_BACK_DAYS {
        let Ok(begin) = post_by.checked_sub(back.days()) else { break };
        let planned = plan(begin, Some(post_by))?;
        if in_time(planned.1.ready, post_by, settings) {
            return Some(planned);
        }
        earliest = Some(planned);
    }
    earliest
}

/// Whether it is ready before the day to post it, or on that day with hours of work still to come:
/// nobody takes a parcel away late in the evening.
fn in_time(ready: DateTime, post_by: Date, settings: &Settings) -> bool {
    let minute = ready.hour() as u16 * 60 + ready.minute() as u16;
    let left = |date: Date| {
        settings.maker.hours_on(date.weekday()).iter().any(|&(from, _)| from >= minute)
    };
    ready.date() < post_by || (ready.date() == post_by && left(post_by))
}

/// The timetable from one beginning.
pub(crate) fn forward(
    piece: &Piece,
    settings: &Settings,
    steps: &Steps,
    begin: Date,
    post_by: Option<Date>,
) -> Option<Timetable> {
    let hours = Hours::from(begin, &settings.maker)?;
    let mut desk = Desk::new(settings, steps, piece.quantity.max(1), hours);
    let complete = desk.place_all();
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
    let of = |step: usize| desk.placed.iter().filter(|placed| placed.step == step).count() as u32;
    let mut number = vec![0_u32; steps.steps.len()];
    let sittings = desk
        .placed
        .iter()
        .map(|placed| {
            number[placed.step] += 1;
            Sitting {
                step: placed.step,
                number: number[placed.step],
                of: of(placed.step),
                begins: moment(placed.at.0),
                ends: moment(placed.at.1),
                extra_sand_min: placed.extra_sand_min as f64,
            }
        })
        .collect();
    Some(Timetable { sittings, ready, post_by, notes })
}

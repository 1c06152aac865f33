//! Lays the steps into the maker's hours.
//!
//! Serial placement: of the steps whose forerunners are placed, the one with the longest road still
//! behind it goes first, at the earliest moment that fits. Hands-on time lies inside the weekly
//! hours, one thing at a time; waiting runs through nights. Counting back from a due day tries later
//! and later beginnings from the due day backwards and takes the first that is ready in time, so the
//! result is one that works by construction.

use crate::hours::{DAY_MIN, HORIZON_DAYS, Hours, Stretch};
use crate::place::{Chain, Placed, place_sittings, whole_min};
use crate::words::{count, span};
use crate::{StepKind, Steps};
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
    /// The recoat window before it was missed: sand first, min of it inside this sitting.
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
/// without, it counts back from the piece's due day, so that it is ready by the day to post.
/// `None` if neither day is known, or if the maker has no hours at all.
pub fn plan_timetable(
    piece: &Piece,
    settings: &Settings,
    steps: &Steps,
    begin: Option<Date>,
) -> Option<Timetable> {
    let post_by = piece
        .due
        .and_then(|due| due.checked_sub(i64::from(settings.times.post_days.min(3660)).days()).ok());
    if let Some(begin) = begin {
        return forward(piece, settings, steps, begin, post_by);
    }
    let post_by = post_by?;
    let mut earliest = None;
    for back in 0..=FARTHEST_BACK_DAYS {
        let Ok(begin) = post_by.checked_sub(back.days()) else { break };
        let plan = forward(piece, settings, steps, begin, Some(post_by))?;
        if plan.ready.date() <= post_by {
            return Some(plan);
        }
        earliest = Some(plan);
    }
    earliest
}

fn forward(
    piece: &Piece,
    settings: &Settings,
    steps: &Steps,
    begin: Date,
    post_by: Option<Date>,
) -> Option<Timetable> {
    let hours = Hours::from(begin, &settings.maker)?;
    let mut desk = Desk { settings, steps, pieces: piece.quantity.max(1), hours, set: Vec::new(), placed: Vec::new() };
    let complete = desk.place_all();
    let midnight = begin.at(0, 0, 0, 0);
    let moment = |min: i64| midnight.checked_add(SignedDuration::from_mins(min)).unwrap_or(DateTime::MAX);
    let mut notes = desk.notes();
    let ready = if complete {
        moment(desk.placed.iter().map(|placed| placed.at.1).max().unwrap_or(0))
    } else {
        notes.push(
            Diagnostic::warning(FieldPath::root().key("quantity"), "the work does not fit in ten years of the hours of work in the settings")
                .hint("Make fewer at a time or set longer hours"),
        );
        moment(HORIZON_DAYS * DAY_MIN)
    };
    if let Some(last) = post_by.filter(|last| ready.date() > *last) {
        notes.push(
            Diagnostic::warning(
                FieldPath::root().key("due"),
                format!("begun on {begin} it is ready on {}, but must be posted by {last}", ready.date()),
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

/// The placing of one plan.
struct Desk<'a> {
    settings: &'a Settings,
    steps: &'a Steps,
    pieces: u32,
    hours: Hours,
    /// Sittings of stone setting, for the rest between them.
    set: Vec<Stretch>,
    placed: Vec<Placed>,
}

impl Desk<'_> {
    /// Places every step; false if the horizon was reached.
    fn place_all(&mut self) -> bool {
        let steps = &self.steps.steps;
        let tails = self.tails();
        let mut done = vec![false; steps.len()];
        loop {
            let next = (0..steps.len())
                .filter(|&step| !done[step] && steps[step].after.iter().all(|&before| done[before]))
                .max_by_key(|&step| (tails[step], std::cmp::Reverse(step)));
            let Some(first) = next else { return true };
            let chained = steps[first + 1..].iter().take_while(|step| step.at_once).count();
            let Some(placed) = self.place(first, first + 1 + chained) else { return false };
            for sitting in placed {
                self.hours.take(sitting.at);
                if steps[sitting.step].kind == StepKind::Set {
                    self.set.push(sitting.at);
                }
                done[sitting.step] = true;
                self.placed.push(sitting);
            }
        }
    }

    /// Shortest time from the beginning of each step to the end of everything, min.
    fn tails(&self) -> Vec<i64> {
        let steps = &self.steps.steps;
        let mut tails = vec![0; steps.len()];
        for step in (0..steps.len()).rev() {
            tails[step] += whole_min(steps[step].hands_on_for_min(self.pieces));
            for &before in &steps[step].after {
                let wait = whole_min(self.steps.wait_between_min(before, step));
                tails[before] = tails[before].max(wait + tails[step]);
            }
        }
        tails
    }

    fn place(&self, first: usize, end: usize) -> Option<Vec<Placed>> {
        let steps = &self.steps.steps;
        let earliest = steps[first]
            .after
            .iter()
            .map(|&before| self.ended(before) + whole_min(self.steps.wait_between_min(before, first)))
            .fold(0, i64::max);
        if steps[first].sitting_min.is_some() {
            return place_sittings(first, &steps[first], self.pieces, &self.hours, &self.set, earliest);
        }
        let mut chain = Chain { first, steps: &steps[first..end], pieces: self.pieces, sand_min: 0.0 };
        let placed = chain.place(&self.hours, earliest)?;
        let Some((poured, window_ends)) = self.window(first) else { return Some(placed) };
        let in_window = |sitting: &Placed| sitting.step != first || sitting.at.0 <= window_ends;
        if placed.iter().all(in_window) {
            return Some(placed);
        }
        let hard_min = self.settings.resin.sandable_min - self.settings.times.watch_min;
        chain.sand_min = self.settings.times.sand_min;
        chain.place(&self.hours, earliest.max(self.ended(poured) + whole_min(hard_min)))
    }

    /// The pour before a pour, and when its recoat window closes for the piece that was poured first.
    fn window(&self, step: usize) -> Option<(usize, i64)> {
        let steps = &self.steps.steps;
        if steps[step].kind != StepKind::Pour {
            return None;
        }
        steps[step].after.iter().find_map(|&before| {
            let sand_after = steps[before].sand_after_min?;
            let first = self.placed.iter().filter(|placed| placed.step == before).min_by_key(|placed| placed.at)?;
            let one = whole_min(steps[before].work_min() + steps[before].set_up_min);
            let first_ended = (first.at.0 + first.extra_sand_min + one).min(first.at.1);
            Some((before, first_ended + sand_after.clamp(0.0, 5e6) as i64))
        })
    }

    fn ended(&self, step: usize) -> i64 {
        let ends = self.placed.iter().filter(|placed| placed.step == step).map(|placed| placed.at.1);
        ends.max().unwrap_or(0)
    }

    fn notes(&self) -> Vec<Diagnostic> {
        let mut notes = Vec::new();
        let steps = &self.steps.steps;
        let sanded: Vec<&Placed> = self.placed.iter().filter(|placed| placed.extra_sand_min > 0).collect();
        if let Some(zone) = sanded.first().and_then(|placed| steps[placed.step].zone) {
            let minutes: i64 = sanded.iter().map(|placed| placed.extra_sand_min).sum();
            let (from, to) = self.settings.resin.recoat_min;
            let coats = count(sanded.len(), "pour");
            notes.push(
                Diagnostic::warning(
                    FieldPath::root().key("zone").index(zone).key("resin"),
                    format!(
                        "in the maker's hours {coats} cannot begin {} to {} after the coat before: {} of sanding are counted in",
                        span(from),
                        span(to),
                        span(minutes as f64)
                    ),
                )
                .hint("Pour early on a long day of work, or use a resin whose recoat window fits the hours"),
            );
        }
        if let Some(over) = self.placed.iter().find(|placed| placed.over_hours) {
            let step = &steps[over.step];
            notes.push(
                Diagnostic::warning(
                    FieldPath::root(),
                    format!(
                        "`{}` takes {} without a break, longer than any stretch of the maker's hours; it runs past them",
                        step.name,
                        span((over.at.1 - over.at.0) as f64)
                    ),
                )
                .hint("Set longer hours on one day of the week"),
            );
        }
        let spindles = self.spindles();
        if spindles > 1 {
            notes.push(Diagnostic::warning(
                FieldPath::root(),
                format!("this timetable needs {spindles} spindles turning at once: one for every part that is wet"),
            ));
        }
        notes
    }

    /// Most parts of all pieces that turn at the same time.
    fn spindles(&self) -> u32 {
        let steps = &self.steps.steps;
        let mut turning: Vec<(i64, i64, Option<usize>)> = Vec::new();
        for placed in self.placed.iter().filter(|placed| steps[placed.step].turner_min > 0.0) {
            let ends = placed.at.0 + whole_min(steps[placed.step].turner_min);
            turning.push((placed.at.0, ends.max(placed.at.1), steps[placed.step].part));
        }
        let parts_at = |moment: i64| {
            let mut parts: Vec<Option<usize>> = turning
                .iter()
                .filter(|(from, to, _)| *from <= moment && moment < *to)
                .map(|(_, _, part)| *part)
                .collect();
            parts.sort_unstable();
            parts.dedup();
            parts.len() as u32
        };
        turning.iter().map(|(from, _, _)| parts_at(*from)).max().unwrap_or(0).saturating_mul(self.pieces)
    }
}

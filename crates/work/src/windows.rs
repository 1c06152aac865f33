//! Recoat windows that the maker's hours miss become sandings of their own, with their time, their
//! sandpaper and their instructions.

use crate::Steps;
use crate::how::How;
use crate::steps::steps_with_sanding;
use crate::timetable::{Timetable, forward, on_some_day};
use coats::Coats;
use jiff::civil::Date;
use piece::{Piece, Settings};
use std::collections::{BTreeMap, BTreeSet};
use stones::Stones;

/// The steps of a piece and when to do them. Wherever the hours miss the recoat window before a pour,
/// a sanding stands before it. Without a day to begin or to be done by there is no timetable, and the
/// steps are those of [`crate::plan_steps`].
pub fn plan_work(
    piece: &Piece,
    settings: &Settings,
    coats: &Coats,
    stones: &Stones,
    begin: Option<Date>,
) -> (Steps, Option<Timetable>) {
    let how = How { piece, settings, coats, stones };
    let planned =
        on_some_day(piece, settings, begin, |begin, post_by| begun_on(how, begin, post_by));
    match planned {
        Some((steps, timetable)) => (steps, Some(timetable)),
        None => (steps_with_sanding(how, &BTreeSet::new()), None),
    }
}

/// Steps and timetable from one beginning. The first missed window of each part is made up for, then
/// everything is placed anew, until none is missed: at most once for each coat.
fn begun_on(how: How, begin: Date, post_by: Option<Date>) -> Option<(Steps, Timetable)> {
    let mut sanded = BTreeSet::new();
    loop {
        let steps = steps_with_sanding(how, &sanded);
        let timetable = forward(how.piece, how.settings, &steps, begin, post_by)?;
        let mut first: BTreeMap<usize, usize> = BTreeMap::new();
        for sitting in timetable.sittings.iter().filter(|sitting| sitting.extra_sand_min > 0.0) {
            let Some(coat) = steps.steps[sitting.step].coat else { continue };
            let earliest = first.entry(how.coats.coats[coat].part).or_insert(coat);
            *earliest = coat.min(*earliest);
        }
        let known = sanded.len();
        sanded.extend(first.into_values());
        if sanded.len() == known {
            return Some((steps, timetable));
        }
    }
}

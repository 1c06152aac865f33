//! The steps of a piece and their timetable together. Recoat windows that the maker's hours miss become
//! sandings of their own, with their time, their sandpaper and their instructions.

use crate::beginning::{Planned, last_in_time};
use crate::how::How;
use crate::steps::steps_with_sanding;
use crate::timetable::{Timetable, forward};
use crate::{Steps, Stopped};
use coats::Coats;
use jiff::ToSpan;
use jiff::civil::Date;
use piece::{Piece, Settings};
use std::collections::{BTreeMap, BTreeSet};
use stones::{Stones, plan_setting};

/// The steps of a piece and when to do them. With `begin` the timetable starts that day and goes
/// forward; without, it counts back from the piece's due day, so that it is ready in time to post:
/// before the day to post, or on it with a stretch of work still to come. Wherever the hours miss the
/// recoat window before a pour, a sanding stands before it.
///
/// There is no timetable if neither day is known, or if the maker has no hours at all; the steps are
/// then those of [`crate::plan_steps`]. `progress` is told the share done, and stops the work by
/// returning false.
///
/// # Errors
/// Stopped by `progress`.
pub fn plan_work(
    piece: &Piece,
    settings: &Settings,
    coats: &Coats,
    stones: &Stones,
    begin: Option<Date>,
    progress: &mut dyn FnMut(f64) -> bool,
) -> Result<(Steps, Option<Timetable>), Stopped> {
    let setting = &plan_setting(piece, settings, stones);
    let how = How { piece, settings, coats, stones, setting };
    let post_by = piece
        .due
        .and_then(|due| due.checked_sub(i64::from(settings.times.post_days.min(3660)).days()).ok());
    let mut trials = Trials { how, post_by, known: BTreeMap::new(), n_tried: 0, progress };
    let planned = match (begin, post_by) {
        (Some(begin), _) => trials.begun_on(begin)?,
        (None, Some(post_by)) => {
            last_in_time(post_by, settings, &mut |begin| trials.begun_on(begin))?
        }
        (None, None) => None,
    };
    Ok(match planned {
        Some((steps, timetable)) => (steps, Some(timetable)),
        None => (steps_with_sanding(how, &BTreeSet::new()), None),
    })
}

/// Plans from one beginning and another.
struct Trials<'a> {
    how: How<'a>,
    post_by: Option<Date>,
    /// The steps with a sanding before each of these coats; most beginnings need the same.
    known: BTreeMap<BTreeSet<usize>, Steps>,
    n_tried: u32,
    progress: &'a mut dyn FnMut(f64) -> bool,
}

impl Trials<'_> {
    /// Steps and timetable from one beginning. The first missed window of each part is made up for,
    /// then everything is placed anew, until none is missed: at most once for each coat.
    fn begun_on(&mut self, begin: Date) -> Result<Option<Planned>, Stopped> {
        let how = self.how;
        // How many beginnings must be tried is not known before; a dozen is usual.
        let share = 1.0 - 12.0 / (12.0 + f64::from(self.n_tried));
        self.n_tried += 1;
        let mut sanded = BTreeSet::new();
        loop {
            let steps = self
                .known
                .entry(sanded.clone())
                .or_insert_with(|| steps_with_sanding(how, &sanded));
            let days = (begin, self.post_by);
            let placed =
                forward(how.piece, how.settings, steps, days, &mut || (self.progress)(share))?;
            let Some((timetable, missed)) = placed else { return Ok(None) };
            let mut first: BTreeMap<usize, usize> = BTreeMap::new();
            for coat in missed.iter().filter_map(|step| steps.steps[*step].coat) {
                let earliest = first.entry(how.coats.coats[coat].part).or_insert(coat);
                *earliest = coat.min(*earliest);
            }
            let n_sanded = sanded.len();
            sanded.extend(first.into_values());
            if sanded.len() == n_sanded {
                return Ok(Some((steps.clone(), timetable)));
            }
        }
    }
}

//! Counts back from the day to post: which day to begin, so that all is ready in time.

use crate::timetable::{Timetable, in_time};
use crate::{Steps, Stopped};
use jiff::ToSpan;
use jiff::civil::Date;
use piece::Settings;
use std::collections::BTreeSet;

/// How far back a beginning is looked for, days.
const FARTHEST_BACK_DAYS: i64 = 1100;

/// How many days after a beginning are tried one by one: a week of work is not like the next where it
/// begins on another weekday, so that a day later may be ready earlier.
const ONE_BY_ONE_DAYS: i64 = 14;

/// What is planned from one beginning.
pub(crate) type Planned = (Steps, Timetable);

/// The last beginning that is ready in time, else the earliest that is looked at; `None` if nothing
/// can be planned at all. Every beginning is planned whole, so the result works by construction.
///
/// Steps back by as many days as the last try was late, then halves what lies between that one and the
/// first in time, then goes on as long as any day of the two weeks after would do as well.
///
/// # Errors
/// Stopped, if `plan` is.
pub(crate) fn last_in_time(
    post_by: Date,
    settings: &Settings,
    plan: &mut dyn FnMut(Date) -> Result<Option<Planned>, Stopped>,
) -> Result<Option<Planned>, Stopped> {
    let days_between = |from: Date, to: Date| i64::from((to - from).get_days());
    let farthest = days_between(Date::MIN, post_by).min(FARTHEST_BACK_DAYS);
    let mut planned_from = |back: i64| -> Result<Option<(bool, Planned)>, Stopped> {
        let begin = post_by.checked_sub(back.days()).unwrap_or(Date::MIN);
        let planned = plan(begin)?;
        Ok(planned.map(|planned| (in_time(planned.1.ready, post_by, settings), planned)))
    };
    let mut late = BTreeSet::new();
    let mut back = 0;
    let mut best = loop {
        let Some((works, planned)) = planned_from(back)? else { return Ok(None) };
        if works {
            break planned;
        }
        if back == farthest {
            return Ok(Some(planned));
        }
        late.insert(back);
        back += days_between(post_by, planned.1.ready.date()).max(1);
        back = back.min(farthest);
    };
    let mut nearest_late = late.last().copied().unwrap_or(back);
    while back - nearest_late > ONE_BY_ONE_DAYS {
        let middle = nearest_late + (back - nearest_late) / 2;
        match planned_from(middle)? {
            Some((true, planned)) => (back, best) = (middle, planned),
            _ => {
                late.insert(middle);
                nearest_late = middle;
            }
        }
    }
    let mut later = (back - ONE_BY_ONE_DAYS).max(0);
    while later < back {
        if !late.contains(&later) {
            if let Some((true, planned)) = planned_from(later)? {
                (back, best) = (later, planned);
                later = (back - ONE_BY_ONE_DAYS).max(0);
                continue;
            }
            late.insert(later);
        }
        later += 1;
    }
    Ok(Some(best))
}

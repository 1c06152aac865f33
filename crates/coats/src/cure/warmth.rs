//! Whether a room is warm enough for a resin to be poured in.

use super::choices::ZERO_C_K;
use super::{Course, Sheet};
use piece::{Diagnostic, FieldPath};

/// The room is looked at every so many min.
const EVERY_MIN: u32 = 10;
/// Readings of a thermometer may be this far off, K (our choice).
const SLACK_K: f64 = 0.05;

/// Whether the room, in °C for each min after the pour, stays at or above the resin's lowest
/// temperature until the film no longer sticks.
///
/// # Errors
/// A diagnostic that says how cold it gets, when, and how warm it must be.
pub fn warm_enough(
    sheet: &Sheet,
    course: &Course,
    room_c: &dyn Fn(f64) -> f64,
) -> Result<(), Diagnostic> {
    let lowest_c = sheet.lowest_k - ZERO_C_K;
    let until_min = course.scaled_min(sheet.tack_free_s / 60.0);
    let until_min = until_min.unwrap_or(course.track.last().t_s / 60.0);
    let looks = (until_min / f64::from(EVERY_MIN)).ceil().clamp(0.0, 1e6) as u32;
    let coldest = (0..=looks)
        .map(|look| f64::from(look * EVERY_MIN).min(until_min))
        .map(|min| (room_c(min), min))
        .fold((f64::INFINITY, 0.0), |least, found| if found.0 < least.0 { found } else { least });
    if coldest.0 >= lowest_c - SLACK_K {
        return Ok(());
    }
    Err(Diagnostic::error(
        FieldPath::root().key("resin").key("lowest"),
        format!(
            "the room is at {} {:.0} min after the pour; this resin needs {} or more until it no \
             longer sticks, which takes {:.1} h there",
            both(coldest.0),
            coldest.1,
            both(lowest_c),
            until_min / 60.0
        ),
    )
    .hint(format!(
        "warm the room to {} before and after the pour, or pour when it is",
        both(lowest_c)
    ))
    .hint("heat without a flame: heaters that burn gas in the room cloud the coat"))
}

fn both(celsius: f64) -> String {
    format!("{:.0} °C ({:.0} °F)", celsius, celsius * 1.8 + 32.0)
}

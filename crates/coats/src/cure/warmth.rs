//! Whether a room is warm enough for a resin to be poured in.

use super::choices::ZERO_C_K;
use super::{Course, Sheet};
use crate::room::SLACK_K;
use piece::{Diagnostic, FieldPath};

/// The room is looked at every so many min.
const EVERY_MIN: u32 = 10;

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
    let (cold, needed) = apart(coldest.0, lowest_c);
    let when = match coldest.1.round() as u32 {
        0 => "at the pour".to_owned(),
        min => format!("{} after the pour", span(min)),
    };
    Err(Diagnostic::error(
        FieldPath::root().key("resin").key("lowest"),
        format!(
            "the room is at {cold} {when}; this resin needs {needed} or more until it no longer \
             sticks, which takes {} there",
            span(until_min.round() as u32)
        ),
    )
    .hint(format!("warm the room to {needed} before and after the pour, or pour when it is"))
    .hint("heat without a flame: heaters that burn gas in the room cloud the coat"))
}

/// Two temperatures, °C, each in both units: whole degrees, or with as many decimals as it takes to
/// tell one from the other.
fn apart(one_c: f64, other_c: f64) -> (String, String) {
    let celsius = |celsius: f64, digits: usize| format!("{celsius:.digits$} °C");
    let fahrenheit = |celsius: f64, digits: usize| format!("{:.digits$} °F", celsius * 1.8 + 32.0);
    let told = |digits: &usize| {
        celsius(one_c, *digits) != celsius(other_c, *digits)
            && fahrenheit(one_c, *digits) != fahrenheit(other_c, *digits)
    };
    let digits = (0..2).find(told).unwrap_or(2);
    let both = |at: f64| format!("{} ({})", celsius(at, digits), fahrenheit(at, digits));
    (both(one_c), both(other_c))
}

/// `45 min`, `2 h`, `5 h 51 min`.
fn span(min: u32) -> String {
    match (min / 60, min % 60) {
        (0, min) => format!("{min} min"),
        (h, 0) => format!("{h} h"),
        (h, min) => format!("{h} h {min} min"),
    }
}

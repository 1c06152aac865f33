//! Days, stretches of days, clock times and moments as typed in an hours file.

use super::read::read_day;
use super::{Form, Scalar};
use crate::units::{Complaint, shorten};
use jiff::civil::{Date, DateTime};
use serde::Deserialize;

/// A day, or a moment of a day, by the studio's own clocks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// The whole day.
    Day(Date),
    /// A moment of it.
    At(DateTime),
}

const DAY_PATTERN: &str = "[0-9]{4}-[0-9]{2}-[0-9]{2}";

word!(
    Clock(u16),
    "clock-time",
    "a time of the 24-hour clock such as \"16:30\"",
    "A time of the 24-hour clock.",
    "^([01][0-9]|2[0-3]):[0-5][0-9]$".to_owned(),
    &["16:30"],
    read_clock
);
word!(
    Days((Date, Date)),
    "days",
    "a day such as 2027-04-02, or days such as \"2027-04-02 to 2027-04-09\"",
    "A day, in TOML without quotes, or several days: the first, ` to ` and the last, in quotes.",
    format!("^{DAY_PATTERN}( to {DAY_PATTERN})?$"),
    &["2027-04-02", "2027-04-02 to 2027-04-09"],
    read_days
);
word!(
    Moment(When),
    "moment",
    "a day or a moment such as 2027-04-02T18:30",
    "A day, or a moment of it by the studio's clocks, in TOML without quotes.",
    format!("^{DAY_PATTERN}([T ]([01][0-9]|2[0-3]):[0-5][0-9](:00)?)?$"),
    &["2027-04-02", "2027-04-02T18:30"],
    read_moment
);

fn read_clock(text: &str) -> Result<u16, Complaint> {
    let two = |part: &str| -> Option<u16> {
        (part.len() == 2 && part.bytes().all(|byte| byte.is_ascii_digit()))
            .then(|| part.parse().ok())?
    };
    let parts = text.split_once(':').and_then(|(hour, minute)| Some((two(hour)?, two(minute)?)));
    match parts {
        Some((hour, minute)) if hour < 24 && minute < 60 => Ok(hour * 60 + minute),
        _ => Err(Complaint::new(format!("`{}` is not a time of the day", shorten(text)))
            .hint("write hours and minutes of the 24-hour clock, such as \"16:30\"")),
    }
}

fn read_days(text: &str) -> Result<(Date, Date), Complaint> {
    let Some((first, last)) = text.split_once(" to ") else {
        let hint = "write one day, such as 2027-04-02, or the first and the last, such as \"2027-04-02 to 2027-04-09\"";
        let day = read_day(text)
            .map_err(|complaint| Complaint { hints: Vec::new(), ..complaint }.hint(hint))?;
        return Ok((day, day));
    };
    let (first, last) = (read_day(first)?, read_day(last)?);
    if last < first {
        return Err(Complaint::new(format!("`{text}` ends before it begins")));
    }
    Ok((first, last))
}

fn read_moment(text: &str) -> Result<When, Complaint> {
    let Some((day, clock)) = text.split_once(['T', 't', ' ']) else {
        return read_day(text).map(When::Day);
    };
    let day = read_day(day)?;
    let clock = clock.strip_suffix(":00").filter(|rest| rest.len() == 5).unwrap_or(clock);
    if clock.ends_with(['Z', 'z']) || clock.contains(['+', '-']) {
        return Err(Complaint::new(format!("`{}` names an offset", shorten(text)))
            .hint("leave it away: times are those of the studio's clocks, in `time_zone`"));
    }
    let minutes = read_clock(clock).map_err(|complaint| {
        Complaint { hints: Vec::new(), ..complaint }
            .hint("write a day, or a day and a time in whole minutes, such as 2027-04-02T18:30")
    })?;
    Ok(When::At(day.at((minutes / 60) as i8, (minutes % 60) as i8, 0, 0)))
}

//! The day on which the program runs.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Today by universal time; the day that `SOURCE_DATE_EPOCH` (reproducible-builds.org) names where that
/// is set.
pub fn today() -> Date {
    let told = std::env::var("SOURCE_DATE_EPOCH").ok().and_then(|text| text.parse().ok());
    let now = told.and_then(|epoch_s| Timestamp::from_second(epoch_s).ok());
    TimeZone::UTC.to_datetime(now.unwrap_or_else(Timestamp::now)).date()
}

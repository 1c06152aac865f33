//! Where a moment lies across a week: days of one width, nights narrow.

use super::local;
use jiff::civil::{Date, DateTime};
use jiff::{Timestamp, ToSpan};
use work::rota::Rota;

/// Width of an hour of the night for one of the day.
const NIGHT: f64 = 0.2;
/// Days in a strip.
pub(super) const DAYS: usize = 7;

/// Between which hours of the clock anything is done with hands, on any day of the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Daytime {
    /// First hour, from midnight.
    pub(super) from: f64,
    /// Last hour.
    pub(super) until: f64,
}

impl Daytime {
    /// From everyone's hours and sittings, to whole hours.
    pub(super) fn of(rota: &Rota) -> Self {
        let open = rota.makers.iter().flat_map(|maker| &maker.open);
        let sittings = rota.sittings.iter().map(|sitting| &sitting.at);
        let (mut from, mut until) = (24.0_f64, 0.0_f64);
        for (begins, ends) in open.chain(sittings) {
            let (begins, ends) = (local(rota, *begins), local(rota, *ends));
            let same = begins.date() == ends.date();
            from = from.min(if same { hour(begins).floor() } else { 0.0 });
            until = until.max(if same { hour(ends).ceil() } else { 24.0 });
        }
        if from < until { Self { from, until } } else { Self { from: 9.0, until: 18.0 } }
    }

    /// Share of a day's width that lies before an hour.
    pub(super) fn share(&self, hour: f64) -> f64 {
        let weight = |hour: f64| {
            let day = hour.clamp(self.from, self.until) - self.from;
            NIGHT * (hour - day) + day
        };
        weight(hour) / weight(24.0)
    }
}

/// Seven days across the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Axis {
    /// The first of them.
    pub(super) monday: Date,
    pub(super) daytime: Daytime,
    /// Left end, mm.
    pub(super) left: f64,
    /// Width of a day, mm.
    pub(super) day_mm: f64,
}

impl Axis {
    pub(super) fn right(&self) -> f64 {
        self.left + DAYS as f64 * self.day_mm
    }

    /// Where a moment on the clock lies, mm; before the week at its left end, after it at its right.
    pub(super) fn x(&self, at: DateTime) -> f64 {
        let days = days_between(self.monday, at.date());
        if days < 0 {
            self.left
        } else if days >= DAYS as i64 {
            self.right()
        } else {
            self.left + (days as f64 + self.daytime.share(hour(at))) * self.day_mm
        }
    }

    /// The part of a span that lies in the week, mm; nothing if none does.
    pub(super) fn span(&self, from: DateTime, until: DateTime) -> Option<(f64, f64)> {
        let week = (self.monday.at(0, 0, 0, 0), day_after(self.monday, DAYS).at(0, 0, 0, 0));
        (from < week.1 && until > week.0).then(|| (self.x(from), self.x(until)))
    }

    /// Whether a moment lies in the week.
    pub(super) fn holds(&self, at: DateTime) -> bool {
        (0..DAYS as i64).contains(&days_between(self.monday, at.date()))
    }
}

/// The Mondays of all weeks from the beginning of the plan until everything has left.
pub(super) fn mondays(rota: &Rota) -> Vec<Date> {
    let begins = local(rota, rota.begins).date();
    let ends = last(rota);
    let mut monday = monday_of(begins);
    let mut mondays = Vec::new();
    while mondays.is_empty() || monday <= ends {
        mondays.push(monday);
        let Ok(next) = monday.checked_add(7.days()) else { break };
        monday = next;
    }
    mondays
}

/// The last day on which anything happens.
pub(super) fn last(rota: &Rota) -> Date {
    let ends = rota.sittings.iter().map(|sitting| sitting.at.1);
    let marks = rota.orders.iter().flat_map(|order| {
        [Some(order.done), Some(order.leaves), order.leave_by].into_iter().flatten()
    });
    let last: Timestamp = ends.chain(marks).fold(rota.begins, Timestamp::max);
    local(rota, last).date()
}

pub(super) fn monday_of(date: Date) -> Date {
    let past = i64::from(date.weekday().to_monday_zero_offset());
    date.checked_sub(past.days()).unwrap_or(date)
}

pub(super) fn day_after(date: Date, days: usize) -> Date {
    date.checked_add((days as i64).days()).unwrap_or(Date::MAX)
}

pub(super) fn days_between(from: Date, until: Date) -> i64 {
    from.duration_until(until).as_hours() / 24
}

/// Hour of the clock, from midnight.
pub(super) fn hour(at: DateTime) -> f64 {
    f64::from(at.hour()) + f64::from(at.minute()) / 60.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nights_are_narrow_and_days_of_one_width() {
        let daytime = Daytime { from: 9.0, until: 19.0 };
        // 14 hours of night at a fifth, 10 of day: 12.8.
        assert!((daytime.share(9.0) - 1.8 / 12.8).abs() < 1e-12);
        assert!((daytime.share(19.0) - 11.8 / 12.8).abs() < 1e-12);
        assert!((daytime.share(24.0) - 1.0).abs() < 1e-12);
        let monday = jiff::civil::date(2027, 3, 1);
        let axis = Axis { monday, daytime, left: 40.0, day_mm: 30.0 };
        assert_eq!(axis.x(monday.at(0, 0, 0, 0)), 40.0);
        assert_eq!(axis.x(day_after(monday, 7).at(0, 0, 0, 0)), axis.right());
        assert_eq!(axis.x(day_after(monday, 2).at(0, 0, 0, 0)), 100.0);
        assert!(
            axis.span(day_after(monday, 7).at(0, 0, 0, 0), day_after(monday, 8).at(0, 0, 0, 0))
                .is_none()
        );
    }

    #[test]
    fn weeks_begin_on_monday() {
        // 28 March 2027 is a Sunday (ISO 8601 calendar, worked out by Zeller's rule).
        assert_eq!(monday_of(jiff::civil::date(2027, 3, 28)), jiff::civil::date(2027, 3, 22));
        assert_eq!(monday_of(jiff::civil::date(2027, 3, 29)), jiff::civil::date(2027, 3, 29));
    }
}

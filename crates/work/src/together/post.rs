//! When an order leaves, and by when it has to.

use super::Ordered;
use super::clock::Slots;
use super::crew::Crew;
use jiff::civil::Date;
use jiff::{SignedDuration, Timestamp, ToSpan};
use piece::hours::Hours;
use piece::{Diagnostic, FieldPath};
use schedule::{Job, Slot};

const DAY_MIN: f64 = 1440.0;

/// What decides when orders leave.
pub(crate) struct Moments<'a> {
    pub hours: &'a Hours,
    /// Days in the post.
    pub post_days: u32,
    pub slots: &'a Slots,
    pub crew: &'a Crew,
    pub begins: Timestamp,
    pub last: Date,
}

impl Moments<'_> {
    /// The job of an order, the last moment at which it may leave to be there in time, and what to say
    /// if that is past.
    pub fn job(&self, order: &Ordered) -> (Job, Option<Timestamp>, Option<Diagnostic>) {
        let posted = self.hours.post.is_some() && !order.hand_over;
        let leave_by = order.due.map(|due| self.leave_by(due, order.hand_over));
        let note = order.due.zip(leave_by).and_then(|(due, by)| self.past(order, due, by));
        let job = Job {
            name: order.name.clone(),
            due: leave_by.map(|by| self.slots.holding(by)),
            weight: order.weight,
            // What is handed over, or may be posted in any hour of work, leaves as soon as it is packed.
            leaves: if posted { self.posts() } else { Vec::new() },
        };
        (job, leave_by, note)
    }

    /// Last moment for the post on a day.
    fn post(&self, day: Date) -> Option<Timestamp> {
        let min = self.hours.post_on(day)?;
        Some(self.slots.at(day.at((min / 60) as i8, (min % 60) as i8, 0, 0)))
    }

    /// Slots in which the post goes.
    fn posts(&self) -> Vec<Slot> {
        let mut day = self.slots.zone().to_datetime(self.begins).date();
        let mut posts = Vec::new();
        while day <= self.last {
            posts.extend(
                self.post(day)
                    .filter(|post| *post >= self.begins)
                    .map(|post| self.slots.holding(post)),
            );
            let Ok(next) = day.tomorrow() else { break };
            day = next;
        }
        posts
    }

    /// The last moment to leave so that it is there on a day, with the buffer taken off: the last post
    /// then, or the last hour of work.
    fn leave_by(&self, due: Date, hand_over: bool) -> Timestamp {
        let way_days = if hand_over { 0 } else { i64::from(self.post_days) };
        let (buffer_days, rest_min) =
            ((self.hours.buffer_min / DAY_MIN).floor(), self.hours.buffer_min % DAY_MIN);
        let days = way_days + buffer_days as i64 - 1;
        let after = due.checked_sub(days.days()).unwrap_or(Date::MIN);
        let rest = SignedDuration::from_secs((60.0 * rest_min).round() as i64);
        let end = self.slots.at(after.at(0, 0, 0, 0));
        let end = end.checked_sub(rest).unwrap_or(end);
        let found = if self.hours.post.is_some() && !hand_over {
            self.last_post(end)
        } else {
            self.last_hour(end)
        };
        found.unwrap_or(end)
    }

    /// The last post up to a moment.
    fn last_post(&self, end: Timestamp) -> Option<Timestamp> {
        let mut day = self.slots.zone().to_datetime(end).date();
        // A fortnight of days without post is found in every year; two months in none.
        for _ in 0..62 {
            if let Some(post) = self.post(day).filter(|post| *post <= end) {
                return Some(post);
            }
            day = day.yesterday().ok()?;
        }
        None
    }

    /// The end of the last hour of work up to a moment.
    fn last_hour(&self, end: Timestamp) -> Option<Timestamp> {
        let end = self.slots.holding(end);
        let open = self.crew.open.iter().flat_map(|open| open.stretches());
        let last = open.filter(|(from, _)| *from < end).map(|(_, to)| (*to).min(end)).max()?;
        Some(self.slots.moment(last))
    }

    fn past(&self, order: &Ordered, due: Date, leave_by: Timestamp) -> Option<Diagnostic> {
        if leave_by > self.begins {
            return None;
        }
        let path = if order.path == FieldPath::root() {
            order.path.clone()
        } else {
            order.path.key("due")
        };
        let begins = self.slots.zone().to_datetime(self.begins);
        let message = if due < begins.date() {
            format!("`{}` is due on {due}, and the plan begins on {}", order.name, begins.date())
        } else {
            format!(
                "to be there on {due} `{}` had to leave by {}, before the plan begins",
                order.name,
                self.slots.zone().to_datetime(leave_by).strftime("%Y-%m-%d %H:%M")
            )
        };
        Some(Diagnostic::warning(path, message).hint("agree a later day with the customer"))
    }
}

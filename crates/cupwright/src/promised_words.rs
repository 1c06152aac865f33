//! When one piece more could leave, in words and as data.

use crate::timetable_words::moment;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan};
use piece::Settings;
use piece::hours::Hours;
use schedule::life::Promise;
use serde_json::{Value, json};
use std::fmt::Write;
use work::rota::iso;
use work::together::{Ordered, SLOT_MIN, Together};
use work::words::{count, list, span};

/// An order that would leave later.
struct Later {
    order: String,
    by_min: f64,
}

/// What an earlier day would cost.
struct Early {
    by: Timestamp,
    leaves: Timestamp,
    later: Vec<Later>,
}

/// From leaving until an order is there for sure, days: post and buffer.
pub fn on_the_way_days(order: &Ordered, settings: &Settings, hours: &Hours) -> i64 {
    let post_days = if order.hand_over { 0 } else { i64::from(settings.times.post_days) };
    post_days + (hours.buffer_min / 1440.0).ceil() as i64
}

/// What can be promised of one piece.
pub struct Promised {
    order: String,
    zone: TimeZone,
    /// From leaving until it is there for sure, days: post and buffer.
    on_the_way_days: i64,
    as_it_is: Option<Timestamp>,
    making_room: Option<(Timestamp, u32)>,
    early: Vec<Early>,
}

impl Promised {
    /// Reads an answer.
    pub fn of(
        together: &Together,
        orders: &[Ordered],
        new: &Ordered,
        settings: &Settings,
        hours: &Hours,
        promise: &Promise,
    ) -> Self {
        let moment = |slot| together.slots.moment(slot);
        let early = promise.early.iter().map(|early| Early {
            by: moment(early.due),
            leaves: moment(early.promised.leaves),
            later: early
                .later
                .iter()
                .map(|later| Later {
                    order: orders[later.job].name.clone(),
                    by_min: f64::from(later.by) * SLOT_MIN as f64,
                })
                .collect(),
        });
        Self {
            order: new.name.clone(),
            zone: together.slots.zone().clone(),
            on_the_way_days: on_the_way_days(new, settings, hours),
            as_it_is: promise.as_it_is.as_ref().map(|promised| moment(promised.leaves)),
            making_room: promise
                .making_room
                .as_ref()
                .map(|promised| (moment(promised.leaves), promised.plan.cost.moved)),
            early: early.collect(),
        }
    }

    /// The day that can be promised: with nothing else moved, or else with steps of others moved; `None` if
    /// there is no room for it.
    pub fn day(&self) -> Option<Date> {
        let leaves = self.as_it_is.or(self.making_room.map(|(leaves, _)| leaves))?;
        self.zone.to_datetime(leaves).date().checked_add(self.on_the_way_days.days()).ok()
    }

    /// The day that can be promised for something that leaves at a moment.
    fn safe_day(&self, leaves: Timestamp) -> String {
        let day = self.zone.to_datetime(leaves).date();
        day.checked_add(self.on_the_way_days.days())
            .unwrap_or(day)
            .strftime("%a %Y-%m-%d")
            .to_string()
    }

    fn moment(&self, at: Timestamp) -> String {
        moment(&self.zone, at)
    }

    /// For a person.
    pub fn text(&self) -> String {
        let mut text = String::new();
        let way = count(self.on_the_way_days as usize, "day");
        // Writing to a string does not fail.
        let _ = match self.as_it_is {
            Some(leaves) => writeln!(
                text,
                "{}: promise it for {}. With nothing else moved it leaves on {}; {way} of post and buffer are allowed.",
                self.order,
                self.safe_day(leaves),
                self.moment(leaves)
            ),
            None => {
                writeln!(text, "{}: there is no room for it while nothing else moves.", self.order)
            }
        };
        if let Some((leaves, moved)) = self.making_room {
            let _ = match self.as_it_is {
                Some(as_it_is) if as_it_is <= leaves => {
                    writeln!(
                        text,
                        "Moving other steps does not bring it forward, unless other orders get late."
                    )
                }
                _ => writeln!(
                    text,
                    "If {} of other orders move, none of which gets late by it: promise it for {}; it leaves on {}.",
                    count(moved as usize, "step"),
                    self.safe_day(leaves),
                    self.moment(leaves)
                ),
            };
        }
        for early in &self.early {
            let later: Vec<String> = early
                .later
                .iter()
                .map(|later| format!("{} by {}", later.order, span(later.by_min)))
                .collect();
            let _ = if early.leaves > early.by {
                writeln!(
                    text,
                    "To leave by {}: not even by making others late.",
                    self.moment(early.by)
                )
            } else if later.is_empty() {
                writeln!(text, "To leave by {}: no other order gets later.", self.moment(early.by))
            } else {
                writeln!(
                    text,
                    "To leave by {}, these get later: {}.",
                    self.moment(early.by),
                    list(&later)
                )
            };
        }
        text
    }

    /// For a script.
    pub fn json(&self) -> Value {
        let moment = |at| iso(&self.zone, at);
        let early = self.early.iter().map(|early| {
            let later = early
                .later
                .iter()
                .map(|later| json!({ "order": later.order, "by_min": later.by_min }));
            json!({
                "by": moment(early.by),
                "leaves": moment(early.leaves),
                "later": later.collect::<Value>(),
            })
        });
        json!({
            "order": self.order,
            "on_the_way_days": self.on_the_way_days,
            "as_it_is": self.as_it_is.map(moment),
            "making_room": self.making_room.map(|(leaves, _)| moment(leaves)),
            "steps_moved": self.making_room.map(|(_, moved)| moved),
            "early": early.collect::<Value>(),
        })
    }
}

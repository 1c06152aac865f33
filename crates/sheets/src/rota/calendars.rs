//! A calendar for each maker (RFC 5545): her sittings, and as entries of their own the end of turning,
//! recoat windows, and what leaves.
//!
//! Times are in UTC, so that each is one moment wherever and by whatever calendar it is read, also in
//! the night when clocks change. The stamp is the beginning of the plan: the same plan, the same bytes.

use super::{local, said};
use crate::calendar::as_the_standard_says;
use crate::numbers::slug;
use crate::words;
use icalendar::{Alarm, Calendar, Component, Event, EventLike, Property};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use piece::fnv::{EMPTY, fnv1a_64};
use std::collections::{BTreeMap, BTreeSet};
use work::StepKind;
use work::rota::{Rota, RotaOrder, RotaSitting, Span};

/// How long the entry for taking a piece off the turner is, min: long enough to be seen.
const OFF_MIN: i64 = 10;

/// The name of every maker's file. Names that would be alike are numbered.
pub(super) fn files(rota: &Rota) -> Vec<String> {
    let mut taken = BTreeSet::new();
    let file = |maker: &work::rota::RotaMaker| {
        let slug = slug(&maker.name);
        let mut name = format!("calendar-{slug}.ics");
        let mut number = 2;
        while !taken.insert(name.clone()) {
            name = format!("calendar-{slug}-{number}.ics");
            number += 1;
        }
        name
    };
    rota.makers.iter().map(file).collect()
}

/// The calendar of one maker.
pub(super) fn calendar_ics(rota: &Rota, maker: usize) -> Vec<u8> {
    let mut desk = Desk { rota, maker, calendar: Calendar::empty(), known: BTreeMap::new() };
    let name = format!("{}: pieces to make", rota.makers[maker].name);
    for (key, value) in [
        ("VERSION", "2.0"),
        ("PRODID", "-//Cupwright//Timetable of many pieces//EN"),
        ("CALSCALE", "GREGORIAN"),
        ("METHOD", "PUBLISH"),
        ("X-WR-CALNAME", &clean(&name)),
    ] {
        desk.calendar.append_property(Property::new(key, value));
    }
    let mine = |sitting: &&RotaSitting| sitting.maker == Some(maker);
    for sitting in rota.sittings.iter().filter(mine) {
        desk.sitting(sitting);
        if let Some((spindles, until)) = &sitting.turning {
            desk.off_the_turner(sitting, spindles, *until);
        }
        if let Some(window) = sitting.recoat {
            desk.recoat(sitting, window);
        }
    }
    for (index, order) in rota.orders.iter().enumerate() {
        let hands = rota.sittings.iter().filter(|sitting| sitting.order == index);
        let last = hands.filter_map(|sitting| Some((sitting.at.1, sitting.maker?))).max();
        if last.is_some_and(|(_, last)| last == maker) {
            desk.leaves(order);
        }
    }
    as_the_standard_says(&desk.calendar.to_string()).into_bytes()
}

/// A calendar under way.
struct Desk<'a> {
    rota: &'a Rota,
    maker: usize,
    calendar: Calendar,
    /// How often something of the same description was named.
    known: BTreeMap<String, u32>,
}

impl Desk<'_> {
    fn sitting(&mut self, sitting: &RotaSitting) {
        let order = &self.rota.orders[sitting.order];
        let mut lines = Vec::new();
        if let Some((spindles, until)) = &sitting.turning {
            let until = said::moment(local(self.rota, *until));
            lines.push(format!("On {} until {until}.", said::spindles(spindles)));
        }
        if let Some(mix) = sitting.mix {
            lines.push(format!("Shares mix {mix} with another pour."));
        }
        lines.push(format!("Have ready: {}.", said::have_ready(sitting.kind)));
        lines.extend(sitting.how.iter().cloned());
        if !sitting.why.is_empty() {
            lines.push(format!("Why then: {}", sitting.why));
        }
        lines.extend(sitting.cautions.iter().map(|caution| format!("Caution: {caution}")));
        let summary = format!("{}: {}", said::which(order, sitting), said::what(sitting));
        let mut event = self.begin("sitting", sitting, &summary, &lines.join("\n"));
        span(&mut event, sitting.at);
        event.add_property("CATEGORIES", words::step_kind(sitting.kind));
        if !sitting.fixed {
            // A pour wants the room warm and the bottles standing in it beforehand.
            let minutes = if sitting.kind == StepKind::Pour { 60 } else { 30 };
            event.alarm(Alarm::display(&clean(&summary), -chrono::Duration::minutes(minutes)));
        }
        self.calendar.push(event.done());
    }

    fn off_the_turner(&mut self, sitting: &RotaSitting, spindles: &[u32], until: Timestamp) {
        let order = &self.rota.orders[sitting.order];
        let part = sitting.part.as_deref().unwrap_or("piece");
        let summary = format!(
            "{}: {part} may come off {}",
            said::which(order, sitting),
            said::spindles(spindles)
        );
        let about = format!("It has turned long enough after: {}.", said::what(sitting));
        let ends = until + jiff::SignedDuration::from_mins(OFF_MIN);
        self.short("off", sitting, (&summary, &about), (until, ends));
    }

    fn recoat(&mut self, sitting: &RotaSitting, (from, until): Span) {
        let order = &self.rota.orders[sitting.order];
        let part = sitting.part.as_deref().unwrap_or("piece");
        let [opens, closes] = [from, until].map(|at| said::moment(local(self.rota, at)));
        let summary = format!("{}: recoat window of {part}", said::which(order, sitting));
        let about = format!(
            "After {}: the next coat goes on without sanding from {opens} to {closes}. Later than that, sand first.",
            said::what(sitting)
        );
        self.short("recoat", sitting, (&summary, &about), (from, until));
    }

    /// An entry that leaves her time free. It rings only while she works: nobody is woken by a cup.
    fn short(
        &mut self,
        what: &str,
        sitting: &RotaSitting,
        (summary, about): (&str, &str),
        at: Span,
    ) {
        let mut event = self.begin(what, sitting, summary, about);
        span(&mut event, at);
        event.add_property("TRANSP", "TRANSPARENT");
        let open = &self.rota.makers[self.maker].open;
        if open.iter().any(|(from, until)| (*from..=*until).contains(&at.0)) {
            event.alarm(Alarm::display(&clean(summary), chrono::Duration::zero()));
        }
        self.calendar.push(event.done());
    }

    fn leaves(&mut self, order: &RotaOrder) {
        let mut lines = vec![format!("Ready {}.", said::moment(local(self.rota, order.done)))];
        if let Some(by) = order.leave_by {
            lines.push(format!("Must leave by {}.", said::moment(local(self.rota, by))));
        }
        if let Some(due) = order.due {
            lines.push(format!("Due {}.", words::day(due)));
        }
        let late = said::late(order);
        lines.extend(late.iter().map(|late| format!("LATE by {late}.")));
        let mark = if late.is_some() { " LATE" } else { "" };
        let summary = format!("{} \u{d7} {} leaves{mark}", order.title, order.quantity);
        let mut event = self.event(&format!("leaves\n{}", order.name), &summary, &lines.join("\n"));
        event.add_property("DTSTART", utc(order.leaves)).add_property("TRANSP", "TRANSPARENT");
        event.alarm(Alarm::display(&clean(&summary), -chrono::Duration::hours(2)));
        self.calendar.push(event.done());
    }

    fn begin(&mut self, what: &str, sitting: &RotaSitting, summary: &str, about: &str) -> Event {
        let order = &self.rota.orders[sitting.order];
        let part = sitting.part.as_deref().unwrap_or_default();
        let ((group, _), (number, _)) = (sitting.group, sitting.number);
        let named = format!("{what}\n{}\n{group}\n{part}\n{}\n{number}", order.name, sitting.step);
        self.event(&named, summary, about)
    }

    /// The same name for the same work of the same order however often it is planned anew and whoever
    /// does it, so that a calendar replaces the old event; no day or time is part of it.
    fn event(&mut self, named: &str, summary: &str, about: &str) -> Event {
        let count = self.known.entry(named.to_owned()).or_default();
        *count += 1;
        let uid = fnv1a_64(EMPTY, format!("{named}\n{count}").as_bytes());
        let mut event = Event::with_uid(&format!("{uid:016x}@cupwright.invalid"));
        event
            .add_property("DTSTAMP", utc(self.rota.begins))
            .summary(&clean(summary))
            .description(&clean(about));
        event
    }
}

fn span(event: &mut Event, (from, until): Span) {
    event.add_property("DTSTART", utc(from)).add_property("DTEND", utc(until));
}

fn utc(at: Timestamp) -> String {
    TimeZone::UTC.to_datetime(at).strftime("%Y%m%dT%H%M%SZ").to_string()
}

/// Without the signs that a text may not hold (RFC 5545, 3.1: no controls but the tab); line ends stay.
fn clean(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_control() || matches!(letter, '\n' | '\t')).collect()
}

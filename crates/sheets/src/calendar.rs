//! `calendar.ics` (RFC 5545): one event a sitting, one when the piece is ready, one on the last day
//! to post it.
//!
//! Times are local and float: they mean the maker's own clock wherever she is. The stamp is taken
//! from the plan, so that the same plan gives the same bytes.

use crate::Plan;
use crate::words;
use icalendar::{Alarm, Calendar, Component, Event, EventLike, Property};
use jiff::civil::{Date, DateTime};
use piece::fnv::{EMPTY, fnv1a_64};
use work::{Sitting, StepKind, Timetable};

/// The calendar of a plan; `None` without a timetable.
pub(crate) fn calendar_ics(plan: &Plan) -> Option<Vec<u8>> {
    let timetable = plan.timetable.as_ref()?;
    let mut calendar = Calendar::empty();
    for (key, value) in [
        ("VERSION", "2.0"),
        ("PRODID", "-//Cupwright//Timetable of a piece//EN"),
        ("CALSCALE", "GREGORIAN"),
        ("METHOD", "PUBLISH"),
        ("X-WR-CALNAME", &plan.piece.title),
    ] {
        calendar.append_property(Property::new(key, value));
    }
    let stamp = timetable.sittings.first().map_or(timetable.ready, |sitting| sitting.begins);
    for sitting in &timetable.sittings {
        calendar.push(sitting_event(plan, sitting, stamp));
    }
    calendar.push(ready_event(plan, timetable, stamp));
    if let Some(day) = timetable.post_by {
        calendar.push(post_event(plan, day, stamp));
    }
    Some(as_the_standard_says(&calendar.to_string()).into_bytes())
}

/// Longest line without its end, octets (RFC 5545, 3.1).
const LINE_OCTETS: usize = 75;

/// The printed calendar without the stamps by the clock and random names that the library gives to
/// alarms (RFC 5545, 3.6.6 knows neither), and with lines folded one octet earlier than it does.
pub(crate) fn as_the_standard_says(printed: &str) -> String {
    let mut text = String::with_capacity(printed.len());
    let mut in_alarm = false;
    for line in printed.replace("\r\n ", "").lines() {
        match line {
            "BEGIN:VALARM" => in_alarm = true,
            "END:VALARM" => in_alarm = false,
            _ if in_alarm && (line.starts_with("DTSTAMP:") || line.starts_with("UID:")) => continue,
            _ => {}
        }
        let mut octets = 0;
        for letter in line.chars() {
            if octets + letter.len_utf8() > LINE_OCTETS {
                text.push_str("\r\n ");
                octets = 1;
            }
            text.push(letter);
            octets += letter.len_utf8();
        }
        text.push_str("\r\n");
    }
    text
}

fn sitting_event(plan: &Plan, sitting: &Sitting, stamp: DateTime) -> Event {
    let step = &plan.steps.steps[sitting.step];
    let share = if sitting.of > 1 {
        format!(" ({} of {})", sitting.number, sitting.of)
    } else {
        String::new()
    };
    let mut description = step.how.clone();
    if step.wait_min > 0.0 {
        let rest = match step.kind {
            StepKind::Order | StepKind::Approve => "Then wait",
            _ => "Then let it rest",
        };
        description.push(format!("{rest} {}.", words::span(step.wait_min)));
    }
    description.extend(step.cautions.iter().map(|caution| format!("Caution: {caution}")));
    let mut event =
        begin_event(plan, &format!("{}/{}/{}", sitting.step, step.name, sitting.number), stamp);
    event
        .summary(&format!("{}: {}{share}", plan.piece.title, step.name))
        .description(&description.join("\n"))
        .add_property("DTSTART", date_time(sitting.begins))
        .add_property("DTEND", date_time(sitting.ends))
        .add_property("CATEGORIES", words::step_kind(step.kind));
    // A pour wants the room warm and the bottles standing in it beforehand.
    let minutes = if step.kind == StepKind::Pour { 60 } else { 30 };
    event.alarm(Alarm::display(&step.name, -chrono::Duration::minutes(minutes)));
    event.done()
}

fn ready_event(plan: &Plan, timetable: &Timetable, stamp: DateTime) -> Event {
    let mut event = begin_event(plan, "ready", stamp);
    event
        .summary(&format!("{}: ready, nothing left to wait for", plan.piece.title))
        .add_property("DTSTART", date_time(timetable.ready))
        .add_property("TRANSP", "TRANSPARENT");
    event.done()
}

fn post_event(plan: &Plan, day: Date, stamp: DateTime) -> Event {
    let mut event = begin_event(plan, "post", stamp);
    let all_day = |date: Date| date.strftime("%Y%m%d").to_string();
    let mut start = Property::new("DTSTART", all_day(day));
    start.add_parameter("VALUE", "DATE");
    event
        .summary(&format!("{}: last day to post", plan.piece.title))
        .append_property(start.done())
        .add_property("TRANSP", "TRANSPARENT");
    // At nine the day before.
    event.alarm(Alarm::display("Last day to post is tomorrow", -chrono::Duration::hours(15)));
    event.done()
}

fn begin_event(plan: &Plan, what: &str, stamp: DateTime) -> Event {
    let mut event = Event::with_uid(&uid(plan, what));
    event.add_property("DTSTAMP", format!("{}Z", date_time(stamp)));
    event
}

fn date_time(time: DateTime) -> String {
    time.strftime("%Y%m%dT%H%M%S").to_string()
}

/// The same for the same sitting of the same piece however often it is planned anew, so that a
/// calendar replaces the old event. No day or time is part of it, for those may change; so two
/// orders of one design are told apart by title and seed alone, and should differ in one of them.
fn uid(plan: &Plan, what: &str) -> String {
    let text = format!("{}\n{}\n{what}", plan.piece.title, plan.piece.seed);
    format!("{:016x}@cupwright.invalid", fnv1a_64(EMPTY, text.as_bytes()))
}

#[cfg(test)]
mod tests {
    use super::as_the_standard_says;

    #[test]
    fn lines_are_folded_between_letters_and_alarms_lose_their_stamps() {
        let printed = format!(
            "BEGIN:VALARM\r\nUID:x\r\nDESCRIPTION:{}\r\n é\r\nEND:VALARM\r\n",
            "é".repeat(40)
        );
        let text = as_the_standard_says(&printed);
        assert!(text.lines().all(|line| line.len() <= 75), "{text}");
        assert!(!text.contains("UID"));
        assert_eq!(text.replace("\r\n ", "").matches('é').count(), 41);
    }
}

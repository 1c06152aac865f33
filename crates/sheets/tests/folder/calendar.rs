//! The calendar, read back by a parser.

use crate::road::{REED_RING, TAPER, plan, text, written};
use icalendar::{Calendar, CalendarComponent, Component, Event};
use std::collections::BTreeSet;

fn events(text: &str) -> Vec<Event> {
    let calendar: Calendar = text.parse().expect("a calendar");
    let events = calendar.components.into_iter();
    events
        .map(|component| match component {
            CalendarComponent::Event(event) => event,
            other => panic!("no event: {other:?}"),
        })
        .collect()
}

#[test]
fn every_sitting_is_an_event_at_its_local_time() {
    let events = events(&text("calendar.ics"));
    let timetable = REED_RING.timetable.as_ref().expect("a timetable");
    // And one when it is ready.
    assert_eq!(events.len(), timetable.sittings.len() + 1);
    for (event, sitting) in events.iter().zip(&timetable.sittings) {
        let step = &REED_RING.steps.steps[sitting.step];
        let begins = sitting.begins.strftime("%Y%m%dT%H%M%S").to_string();
        assert_eq!(event.property_value("DTSTART"), Some(begins.as_str()));
        let summary = event.property_value("SUMMARY").expect("a summary");
        assert!(summary.contains(&step.name), "{summary}");
        let description = event.property_value("DESCRIPTION").expect("a description");
        for line in &step.how {
            assert!(description.contains(line), "{description} lacks {line}");
        }
        for caution in &step.cautions {
            assert!(description.contains(caution), "{description} lacks {caution}");
        }
    }
}

#[test]
fn the_calendar_is_as_rfc_5545_says() {
    let text = text("calendar.ics");
    for line in text.split("\r\n") {
        assert!(line.len() <= 75, "section 3.1: a line of {} octets", line.len());
        assert!(!line.contains('\n'), "section 3.1: lines end with CRLF");
    }
    for (property, value) in [("VERSION", "2.0"), ("CALSCALE", "GREGORIAN")] {
        assert!(text.contains(&format!("{property}:{value}\r\n")), "section 3.7");
    }
    let events = events(&text);
    let ids: BTreeSet<_> = events.iter().filter_map(|event| event.property_value("UID")).collect();
    assert_eq!(ids.len(), events.len(), "section 3.8.4.7: every event has its own UID");
    let first = &REED_RING.timetable.as_ref().expect("a timetable").sittings[0];
    let stamp = first.begins.strftime("%Y%m%dT%H%M%SZ").to_string();
    for event in &events {
        let found = event.property_value("DTSTAMP");
        assert_eq!(found, Some(stamp.as_str()), "section 3.8.7.2: in UTC");
    }
    assert!(text.contains("BEGIN:VALARM\r\n") && text.contains("TRIGGER"), "reminders");
}

/// UIDs of all events, in order.
fn uids(text: &str) -> Vec<String> {
    let uid = |event: &Event| event.property_value("UID").expect("a UID").to_owned();
    events(text).iter().map(uid).collect()
}

#[test]
fn a_changed_day_keeps_the_events_and_another_seed_has_its_own() {
    let piece = include_str!("../pieces/reed-ring.toml");
    let planned = |line: &str, begin| {
        let text = piece.replace("seed = 3", line);
        let folder = written(&plan(&text, Some(begin)));
        std::fs::read_to_string(folder.path().join("calendar.ics")).expect("a calendar")
    };
    let before = text("calendar.ics");
    let moved = planned("seed = 3\ndue = 2027-06-01", "2027-04-05");
    assert!(!moved.contains(&before[before.find("DTSTART").expect("a start")..][..24]));
    let (old, new) = (uids(&before), uids(&moved));
    // The moved plan has a last day to post too.
    assert_eq!(new.len(), old.len() + 1);
    assert!(old.iter().all(|uid| new.contains(uid)), "{old:?} {new:?}");
    let copy = uids(&planned("seed = 90", "2027-03-01"));
    assert!(copy.iter().all(|uid| !old.contains(uid)), "{old:?} {copy:?}");
}

#[test]
fn without_a_day_to_count_from_there_is_no_calendar() {
    assert!(TAPER.timetable.is_none());
    assert!(!written(&TAPER).path().join("calendar.ics").exists());
}

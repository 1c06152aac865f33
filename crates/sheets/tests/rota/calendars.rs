//! Each maker's calendar, read back by a parser, and as octets.

use crate::fixture::{SMALL, SMALL_FOLDER, at, text, written};
use icalendar::{Calendar, CalendarComponent, Component, Event};
use jiff::tz::TimeZone;
use piece::settings::Paper;
use std::collections::BTreeSet;
use work::rota::Rota;

const WREN: &str = "calendar-wren.ics";
const ONDINE: &str = "calendar-ondine-of-the-creek.ics";

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

fn value<'a>(event: &'a Event, key: &str) -> &'a str {
    event.property_value(key).unwrap_or_default()
}

fn utc(at: jiff::Timestamp) -> String {
    TimeZone::UTC.to_datetime(at).strftime("%Y%m%dT%H%M%SZ").to_string()
}

#[test]
fn every_sitting_of_a_maker_is_an_event_at_its_moment() {
    for (maker, name) in [WREN, ONDINE].into_iter().enumerate() {
        let events = events(&text(SMALL_FOLDER.path(), name));
        for sitting in SMALL.sittings.iter().filter(|sitting| sitting.maker == Some(maker)) {
            let title = &SMALL.orders[sitting.order].title;
            let found = events.iter().find(|event| {
                let summary = value(event, "SUMMARY");
                value(event, "DTSTART") == utc(sitting.at.0)
                    && value(event, "DTEND") == utc(sitting.at.1)
                    && summary.contains(&sitting.step)
                    && summary.contains(title)
            });
            let found = found.unwrap_or_else(|| panic!("{name} lacks {}", sitting.step));
            let description = value(found, "DESCRIPTION");
            for line in sitting.how.iter().chain(&sitting.cautions) {
                assert!(description.contains(line), "{description} lacks {line}");
            }
        }
    }
    // After the night in which clocks change, 13:00 on the wall is 12:00 UTC (Summer Time Act 1972).
    assert!(text(SMALL_FOLDER.path(), ONDINE).contains("DTSTART:20270329T120000Z\r\n"));
    assert!(text(SMALL_FOLDER.path(), ONDINE).contains("DTSTART:20270326T130000Z\r\n"));
}

#[test]
fn the_end_of_turning_and_the_recoat_window_are_entries_that_leave_her_free() {
    let events = events(&text(SMALL_FOLDER.path(), WREN));
    let free: Vec<_> = events
        .iter()
        .filter(|event| value(event, "TRANSP") == "TRANSPARENT")
        .map(|event| (value(event, "SUMMARY"), value(event, "DTSTART")))
        .collect();
    let times = |word: &str| -> Vec<&str> {
        free.iter().filter(|(summary, _)| summary.contains(word)).map(|(_, at)| *at).collect()
    };
    assert_eq!(times("may come off"), ["20270325T150000Z", "20270325T154000Z"]);
    assert_eq!(times("recoat window"), ["20270325T140000Z"]);
    assert_eq!(times("leaves"), [utc(SMALL.orders[0].leaves)]);
}

#[test]
fn the_calendars_are_as_rfc_5545_says() {
    let mut ids = BTreeSet::new();
    let mut count = 0;
    for name in [WREN, ONDINE] {
        let text = text(SMALL_FOLDER.path(), name);
        assert!(text.starts_with("BEGIN:VCALENDAR\r\n") && text.ends_with("END:VCALENDAR\r\n"));
        for line in text.split("\r\n") {
            assert!(line.len() <= 75, "section 3.1: a line of {} octets", line.len());
            assert!(!line.contains(['\n', '\r']), "section 3.1: lines end with CRLF");
        }
        for (property, value) in [("VERSION", "2.0"), ("CALSCALE", "GREGORIAN")] {
            assert!(text.contains(&format!("{property}:{value}\r\n")), "section 3.7");
        }
        let plain = text.replace("\r\n ", "");
        for line in plain
            .lines()
            .filter(|line| line.starts_with("SUMMARY:") || line.starts_with("DESCRIPTION:"))
        {
            // Section 3.3.11: a comma or semicolon in a text has a backslash before it, and after one
            // come only those, another backslash, or n.
            let mut escaped = false;
            for letter in line.split_once(':').expect("a value").1.chars() {
                if escaped {
                    assert!(matches!(letter, ',' | ';' | '\\' | 'n' | 'N'), "{line}");
                } else {
                    assert!(!matches!(letter, ',' | ';'), "{line}");
                }
                escaped = !escaped && letter == '\\';
            }
        }
        for event in events(&text) {
            assert_eq!(value(&event, "DTSTAMP"), utc(SMALL.begins), "section 3.8.7.2: in UTC");
            ids.insert(value(&event, "UID").to_owned());
            count += 1;
        }
        // Section 3.6.6: an alarm shows words at a time before the event.
        for alarm in plain.split("BEGIN:VALARM\r\n").skip(1) {
            let alarm = alarm.split("END:VALARM").next().expect("an end");
            for part in ["ACTION:DISPLAY", "DESCRIPTION:", "TRIGGER"] {
                assert!(alarm.contains(part), "{alarm}");
            }
        }
        assert!(plain.contains("BEGIN:VALARM"), "reminders");
    }
    assert_eq!(ids.len(), count, "section 3.8.4.7: every event has its own UID, in all calendars");
}

/// UIDs of a maker's events.
fn uids(rota: &Rota, name: &str) -> BTreeSet<String> {
    let folder = written(rota, Paper::A4);
    events(&text(folder.path(), name)).iter().map(|event| value(event, "UID").to_owned()).collect()
}

#[test]
fn work_keeps_its_name_when_it_is_moved_or_handed_over() {
    let mut moved = SMALL.clone();
    moved.begins = at("2027-03-25T09:00");
    let week = jiff::SignedDuration::from_hours(24 * 7);
    for sitting in &mut moved.sittings {
        sitting.at = (sitting.at.0 + week, sitting.at.1 + week);
    }
    assert_eq!(uids(&SMALL, ONDINE), uids(&moved, ONDINE));
    moved.sittings[5].maker = Some(0);
    let handed: Vec<_> = uids(&SMALL, ONDINE).difference(&uids(&moved, ONDINE)).cloned().collect();
    assert_eq!(handed.len(), 1);
    assert!(uids(&moved, WREN).contains(&handed[0]));
}

#[test]
fn names_of_files_are_safe_and_never_alike() {
    let mut rota = SMALL.clone();
    rota.makers[0].name = "../../Wren".to_owned();
    rota.makers[1].name = "WREN: \"/etc".to_owned();
    rota.makers.push(rota.makers[0].clone());
    let folder = written(&rota, Paper::A4);
    let names = std::fs::read_dir(folder.path()).expect("a folder");
    let names = names.map(|entry| entry.expect("a file").file_name().into_string().expect("UTF-8"));
    let names: BTreeSet<String> = names.filter(|name| name.ends_with(".ics")).collect();
    assert_eq!(
        names.into_iter().collect::<Vec<_>>(),
        ["calendar-wren-2.ics", "calendar-wren-etc.ics", "calendar-wren.ics"]
    );
}

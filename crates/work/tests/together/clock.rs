//! Slots are real time: nights in which the clocks change.

use crate::support::{STUDIO, book, hours, hours_with, named, ordered};
use jiff::civil::{DateTime, date};
use work::together::{SLOT_MIN, Together, plan_book};

/// Slots from one civil time to another.
fn between(together: &Together, from: DateTime, to: DateTime) -> i64 {
    let slot = |civil| i64::from(together.slots.beginning(together.slots.at(civil)));
    slot(to) - slot(from)
}

#[test]
fn the_nights_of_the_change_have_23_and_25_hours() {
    // Directive 2000/84/EC, kept in the UK by the Summer Time Order 2002: from 01:00 UTC on the last
    // Sunday in March to 01:00 UTC on the last Sunday in October; 28 March and 31 October in 2027.
    let (together, _) = book("frost-lid", &hours(""));
    let noon = |month, day| date(2027, month, day).at(12, 0, 0, 0);
    let hour = 60 / SLOT_MIN;
    assert_eq!(between(&together, noon(3, 27), noon(3, 28)), 23 * hour);
    assert_eq!(between(&together, noon(3, 28), noon(3, 29)), 24 * hour);
    assert_eq!(between(&together, noon(10, 30), noon(10, 31)), 25 * hour);
}

#[test]
fn hours_of_work_keep_to_the_clock_in_summer_and_winter() {
    let (together, _) = book("frost-lid", &hours(""));
    let zone = together.slots.zone().clone();
    let open = together.book.people[0].open.stretches();
    assert!(open.len() > 100);
    let mut offsets = std::collections::BTreeSet::new();
    for &(from, to) in open {
        let (from, to) = (together.slots.moment(from), together.slots.moment(to));
        offsets.insert(zone.to_offset(from).seconds());
        assert_eq!(zone.to_datetime(from).time(), jiff::civil::time(9, 0, 0, 0));
        assert_eq!(zone.to_datetime(to).time(), jiff::civil::time(17, 0, 0, 0));
    }
    assert_eq!(offsets.into_iter().collect::<Vec<_>>(), [0, 3600], "both are looked at");
}

#[test]
fn hours_that_the_clocks_skip_are_told_and_begin_later() {
    let night = "[[maker]]\nname = \"Owl\"\n[maker.hours]\n\
        monday = [\"09:00-17:00\"]\nsunday = [\"01:30-04:00\"]\n";
    let hours = hours_with("", night);
    let orders = [ordered(named("frost-lid"), 1, &hours).expect("groups")];
    let together = plan_book(&hours, &STUDIO, &orders, None).expect("a book");
    let told: Vec<_> =
        together.notes.iter().filter(|note| note.message.contains("clocks")).collect();
    assert_eq!(told.len(), 1, "{told:?}");
    assert_eq!(
        told[0].message,
        "on 2027-03-28 the clocks are put forward past 01:30: 02:30 is taken"
    );
    assert_eq!(told[0].path.0, "maker[0].hours");
    // 02:30 is then 01:30 UTC, and 04:00 is 03:00 UTC: an hour and a half.
    let from = together.slots.beginning("2027-03-28T01:30Z".parse().expect("a moment"));
    let stretch = (from, from + 90 / SLOT_MIN as i32);
    assert!(together.book.people[0].open.stretches().contains(&stretch));
    // In October the same hours are shown twice, and the first is taken: 00:30 UTC to 04:00 UTC.
    let from = together.slots.beginning("2027-10-31T00:30Z".parse().expect("a moment"));
    let stretch = (from, from + 210 / SLOT_MIN as i32);
    let open = together.book.people[0].open.stretches();
    let reaches = open.last().is_some_and(|last| last.1 > stretch.1);
    assert!(!reaches || open.contains(&stretch), "{open:?}");
}

#[test]
fn a_beginning_that_the_clocks_skip_is_told() {
    let hours = hours("begin = 2027-03-28T01:15");
    let (together, _) = book("frost-lid", &hours);
    assert_eq!(together.begins, "2027-03-28T01:15Z".parse().expect("a moment"));
    assert!(together.notes.iter().any(|note| {
        note.message == "on 2027-03-28 the clocks are put forward past 01:15: 02:15 is taken"
    }));
}

#[test]
fn days_closed_and_away_are_free_and_extra_hours_are_not() {
    let makers = "[[maker]]\nname = \"Sedge\"\naway = [\"2027-03-16 to 2027-03-17\"]\n\
        extra = [{ day = 2027-03-21, hours = [\"10:00-12:00\"] }]\n[maker.hours]\n\
        monday = [\"09:00-17:00\"]\ntuesday = [\"09:00-17:00\"]\nwednesday = [\"09:00-17:00\"]\n\
        thursday = [\"09:00-17:00\"]\nfriday = [\"09:00-17:00\"]\n";
    let hours = hours_with("closed = [2027-03-18]", makers);
    let (together, _) = book("frost-lid", &hours);
    let zone = together.slots.zone();
    let days: Vec<_> = together.book.people[0].open.stretches()[..4]
        .iter()
        .map(|(from, _)| zone.to_datetime(together.slots.moment(*from)).date())
        .collect();
    let expected = [date(2027, 3, 15), date(2027, 3, 19), date(2027, 3, 21), date(2027, 3, 22)];
    assert_eq!(days, expected);
}

#[test]
fn spindles_that_are_out_are_out_in_their_slots() {
    let more = "\n\n[[spindle_out]]\nfrom = 2027-03-16T10:02\nto = 2027-03-16T11:58\n";
    let (together, _) = book("frost-lid", &hours(more));
    let [out] = together.book.machines[0].outages.as_slice() else { panic!("one") };
    // Rounded to the safe side.
    assert_eq!(together.slots.moment(out.from), "2027-03-16T10:00Z".parse().expect("a moment"));
    assert_eq!(together.slots.moment(out.to), "2027-03-16T12:00Z".parse().expect("a moment"));
    assert_eq!((together.book.machines[0].capacity, out.amount), (2, 1));
}

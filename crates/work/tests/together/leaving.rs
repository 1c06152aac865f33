//! Posting days, days on the way, buffers, and what is handed over.

use crate::support::{STUDIO, hours, named, ordered};
use jiff::civil::{Date, DateTime, date};
use work::together::{Ordered, Together, plan_book};

const POST: &str = "\n\n[post]\nmonday = \"16:30\"\nwednesday = \"16:30\"\nsaturday = \"11:30\"\n";

/// The book of one order, due on a day.
fn due(more: &str, day: Date, edit: impl FnOnce(&mut Ordered)) -> Together {
    let hours = hours(more);
    let mut order = ordered(named("frost-lid"), 1, &hours).expect("groups");
    order.due = Some(day);
    edit(&mut order);
    plan_book(&hours, &STUDIO, &[order], None).expect("a book")
}

fn leave_by(together: &Together) -> DateTime {
    together.slots.zone().to_datetime(together.leave_by[0].expect("a due day"))
}

#[test]
fn the_last_post_that_is_there_in_time_is_found() {
    // Four days on the way (the demo studio): for Thursday 2027-04-22 it leaves by Sunday 18th at the
    // latest, so with Saturday's post.
    assert_eq!(STUDIO.times.post_days, 4);
    let together = due(POST, date(2027, 4, 22), |_| {});
    assert_eq!(leave_by(&together), date(2027, 4, 17).at(11, 30, 0, 0));
    // Due on Sunday 25th: by Wednesday 21st.
    let together = due(POST, date(2027, 4, 25), |_| {});
    assert_eq!(leave_by(&together), date(2027, 4, 21).at(16, 30, 0, 0));
    // A buffer of a day and a half takes the end of Wednesday back to noon of Tuesday: Monday's post.
    let more = format!("buffer = \"36 h\"{POST}");
    let together = due(&more, date(2027, 4, 25), |_| {});
    assert_eq!(leave_by(&together), date(2027, 4, 19).at(16, 30, 0, 0));
    // Without that post: Saturday's.
    let more = format!("buffer = \"36 h\"\nno_post = [2027-04-19]{POST}");
    let together = due(&more, date(2027, 4, 25), |_| {});
    assert_eq!(leave_by(&together), date(2027, 4, 17).at(11, 30, 0, 0));
}

#[test]
fn an_order_leaves_with_the_first_post_after_it_is_packed() {
    let together = due(POST, date(2027, 4, 22), |_| {});
    let job = &together.book.jobs[0];
    let slot = |civil: DateTime| together.slots.beginning(together.slots.at(civil));
    let (wednesday, saturday) =
        (slot(date(2027, 4, 14).at(16, 30, 0, 0)), slot(date(2027, 4, 17).at(11, 30, 0, 0)));
    assert_eq!(job.leaves_at(wednesday), wednesday, "packed at the last moment");
    assert_eq!(job.leaves_at(wednesday + 1), saturday);
    assert_eq!(job.due, Some(saturday));
    assert_eq!(job.late(saturday), 0);
    // From Saturday's post to Monday's it is two days and five hours later.
    assert_eq!(job.late(saturday + 1), (2 * 24 * 60 + 5 * 60) / 5);
}

#[test]
fn summer_time_does_not_move_the_post() {
    let together = due(POST, date(2027, 4, 22), |_| {});
    let zone = together.slots.zone();
    for &leave in &together.book.jobs[0].leaves {
        let civil = zone.to_datetime(together.slots.moment(leave));
        assert!([(16, 30), (11, 30)].contains(&(civil.hour(), civil.minute())), "{civil}");
    }
}

#[test]
fn what_is_handed_over_waits_for_no_post_and_has_no_days_on_the_way() {
    let together = due(POST, date(2027, 4, 22), |order| order.hand_over = true);
    assert!(together.book.jobs[0].leaves.is_empty());
    assert_eq!(leave_by(&together), date(2027, 4, 22).at(17, 0, 0, 0));
    // On a Sunday nobody is there: Friday evening.
    let together = due(POST, date(2027, 4, 25), |order| order.hand_over = true);
    assert_eq!(leave_by(&together), date(2027, 4, 23).at(17, 0, 0, 0));
}

#[test]
fn without_post_a_parcel_leaves_in_any_hour_of_work() {
    let together = due("", date(2027, 4, 22), |_| {});
    assert!(together.book.jobs[0].leaves.is_empty());
    // Sunday 18th is no day of work.
    assert_eq!(leave_by(&together), date(2027, 4, 16).at(17, 0, 0, 0));
}

#[test]
fn a_due_day_that_is_past_is_told() {
    let together = due(POST, date(2027, 3, 1), |_| {});
    let told: Vec<&str> = together.notes.iter().map(|note| note.message.as_str()).collect();
    assert_eq!(told, ["`frost-lid` is due on 2027-03-01, and the plan begins on 2027-03-15"]);
    assert_eq!(together.notes[0].path.0, "order[0].due");
    let together = due(POST, date(2027, 3, 17), |_| {});
    assert_eq!(
        together.notes[0].message,
        "to be there on 2027-03-17 `frost-lid` had to leave by 2027-03-13 11:30, before the plan begins"
    );
}

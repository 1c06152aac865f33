//! A timetable that is gone on with weeks later: what was done meanwhile has left when it was to leave.

use crate::support::{STUDIO, hours, named, ordered};
use jiff::civil::date;
use piece::hours::When;
use schedule::{Effort, Plan, solve};
use work::together::{Kept, carry_on, plan_book, rota};

const POST: &str = "\n\n[post]\nmonday = \"16:30\"\ntuesday = \"16:30\"\nwednesday = \"16:30\"\nthursday = \"16:30\"\nfriday = \"16:30\"\n";

#[test]
fn an_order_that_was_done_weeks_ago_left_then_and_is_not_late() {
    let hours = hours(POST);
    let mut order = ordered(named("frost-lid"), 1, &hours).expect("groups");
    order.due = Some(date(2027, 4, 22));
    let orders = [order];
    let together = plan_book(&hours, &STUDIO, &orders, None).expect("a book");
    let mut going = |so_far: &schedule::Progress| f64::from(so_far.round);
    let plan = solve(&together.book, &Effort::default(), &mut going).expect("a plan");
    let before = rota(&together, &orders, &plan);
    let kept = Kept::of(&together, &orders, &plan);

    let later = Some(When::Day(date(2027, 5, 12)));
    let mut together = plan_book(&hours, &STUDIO, &orders, later).expect("a book");
    let mut in_force = kept.in_force(&together, &orders);
    carry_on(&mut together, &hours, &mut in_force);
    assert!(together.book.tasks.iter().all(|task| task.optional || task.fixed.is_some()));
    let fixed = together.book.tasks.iter().map(|task| task.fixed.clone());
    let plan = Plan { tasks: fixed.collect(), ..in_force };
    let after = rota(&together, &orders, &plan);
    assert_eq!(after.orders[0].done, before.orders[0].done);
    // It left within a day of the last step, and in time.
    let done = together.slots.holding(after.orders[0].done);
    assert_eq!(together.slots.holding(after.orders[0].leaves), done);
    assert_eq!(together.book.jobs[0].late(done), 0);
    assert!(after.notes.iter().all(|note| !note.message.contains("after it should")));
}

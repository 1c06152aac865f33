//! What is told of hours and orders that no book can be made of.

use crate::support::{STUDIO, WEEK, hours, hours_with, named, ordered, refused};
use jiff::civil::date;
use piece::hours::When;
use work::together::plan_book;

fn error(name: &str, hours: &piece::Hours) -> (String, String) {
    let told = refused(name, 1, hours, None);
    (told[0].path.0.clone(), told[0].message.clone())
}

#[test]
fn without_a_day_to_begin_it_is_asked_for() {
    let mut without = hours("");
    without.begin = None;
    let told = refused("frost-lid", 1, &without, None);
    assert_eq!(told[0].message, "nobody says when to begin");
    assert!(told[0].hints[0].contains("`--begin`"), "{told:?}");
}

#[test]
fn the_day_of_the_command_line_goes_before_that_of_the_file() {
    let hours = hours("");
    let orders = [ordered(named("frost-lid"), 1, &hours).expect("groups")];
    let begin = Some(When::At(date(2027, 6, 1).at(10, 2, 0, 0)));
    let together = plan_book(&hours, &STUDIO, &orders, begin).expect("a book");
    assert_eq!(together.begins, "2027-06-01T09:02Z".parse().expect("a moment"), "summer time");
    // Nothing before the next whole slot.
    let first = together.slots.moment(together.book.people[0].open.stretches()[0].0);
    assert_eq!(first, "2027-06-01T09:05Z".parse().expect("a moment"));
}

#[test]
fn hours_that_are_all_closed_or_away_are_told() {
    let all = "\"2027-01-01 to 2040-12-31\"";
    let (path, message) = error("frost-lid", &hours(&format!("closed = [{all}]")));
    assert_eq!(path, "maker");
    assert_eq!(message, "nobody has any hours of work from 2027-03-15 on");
    let away = WEEK.replace("name = \"Sedge\"", &format!("name = \"Sedge\"\naway = [{all}]"));
    let (_, message) = error("frost-lid", &hours_with("", &away));
    assert_eq!(message, "nobody has any hours of work from 2027-03-15 on");
}

#[test]
fn a_kind_of_step_that_nobody_does_is_told_once() {
    let makers = WEEK.replace("name = \"Sedge\"", "name = \"Sedge\"\ndoes = [\"order\", \"prepare\", \"mask\", \"pour\", \"sand\", \"approve\", \"finish\", \"pack\"]");
    let told = refused("frost-lid", 1, &hours_with("", &makers), None);
    let messages: Vec<&str> = told.iter().map(|one| one.message.as_str()).collect();
    assert!(messages.contains(&"nobody does `set`"), "{messages:?}");
    let distinct: std::collections::BTreeSet<&str> = messages.iter().copied().collect();
    assert_eq!(distinct.len(), messages.len(), "{messages:?}");
}

#[test]
fn glitter_in_a_pour_needs_someone_who_does_both() {
    let two = "[[maker]]\nname = \"Sedge\"\ndoes = [\"order\", \"prepare\", \"mask\", \"paint\", \"pour\", \"sand\", \"film\", \"approve\", \"set\", \"finish\", \"pack\"]\n\
        hours = { monday = [\"09:00-17:00\"] }\n\
        [[maker]]\nname = \"Rush\"\ndoes = [\"glitter\"]\nhours = { monday = [\"09:00-17:00\"] }\n";
    let hours = hours_with("", two);
    let wet = crate::support::EXAMPLES.iter().find(|example| {
        let order = ordered(example, 1, &hours);
        order.is_ok_and(|order| order.groups[0].steps.steps.iter().any(|step| step.at_once))
    });
    let wet = wet.expect("an example with glitter in a pour");
    let told = refused(wet.name, 1, &hours, None);
    assert_eq!(told[0].message, "nobody does `pour` and `glitter` in one go");
}

#[test]
fn without_makers_the_maker_of_the_studio_works() {
    let hours = hours_with("", "");
    let orders = [ordered(named("frost-lid"), 1, &hours).expect("groups")];
    let together = plan_book(&hours, &STUDIO, &orders, None).expect("a book");
    let [only] = together.book.people.as_slice() else { panic!("one maker") };
    assert_eq!(only.name, STUDIO.maker.name);
    // Monday, 18:00 to 21:30 in the demo studio.
    let (from, to) = only.open.stretches()[0];
    assert_eq!(together.slots.moment(from), "2027-03-15T18:00Z".parse().expect("a moment"));
    assert_eq!(together.slots.moment(to), "2027-03-15T21:30Z".parse().expect("a moment"));
}

//! What is done, under way or failed before the rest is planned.

use crate::support::{STUDIO, hours, named, ordered};
use piece::Diagnostic;
use schedule::Task;
use work::StepKind;
use work::together::{Ordered, Together, What, plan_book};

/// The book of a bottle, of so many pieces, after what happened; the plan begins on the afternoon of
/// Thursday 2027-03-18.
fn after(pieces: u32, happened: &str) -> Result<(Together, Vec<Ordered>), Vec<Diagnostic>> {
    let more = format!("spindles = 1\nbegin = 2027-03-18T14:00\n\n{happened}");
    let hours = hours(&more);
    let orders = vec![ordered(named("samphire-bottle"), pieces, &hours).expect("groups")];
    plan_book(&hours, &STUDIO, &orders, None).map(|together| (together, orders))
}

/// The first step of a kind in the first group.
fn step(orders: &[Ordered], kind: StepKind) -> usize {
    orders[0].groups[0].steps.steps.iter().position(|step| step.kind == kind).expect("a step")
}

fn task_of(together: &Together, step: usize) -> usize {
    let found = together.meanings.iter().position(|meaning| {
        meaning.what == What::Steps && meaning.group == 0 && meaning.steps.contains(&step)
    });
    found.expect("a task")
}

fn name(kind: StepKind) -> String {
    let (_, orders) = after(1, "").expect("a book");
    orders[0].groups[0].steps.steps[step(&orders, kind)].name.clone()
}

fn told(kind: StepKind, rest: &str) -> String {
    format!("[[happened]]\norder = \"samphire-bottle\"\nstep = \"{}\"\n{rest}\n", name(kind))
}

fn moment(together: &Together, slot: i32) -> String {
    together
        .slots
        .zone()
        .to_datetime(together.slots.moment(slot))
        .strftime("%m-%dT%H:%M")
        .to_string()
}

#[test]
fn what_is_done_stands_where_it_was_and_keeps_its_room_and_its_waits() {
    let (together, orders) = after(
        1,
        &told(
            StepKind::Pour,
            "state = \"done\"\nbegan = 2027-03-18T11:02\nended = 2027-03-18T11:31\nmaker = \"Sedge\"",
        ),
    )
    .expect("a book");
    let task = task_of(&together, step(&orders, StepKind::Pour));
    let placed = together.book.tasks[task].fixed.clone().expect("it stands");
    let (from, to) = placed.stretches[0];
    assert_eq!(
        (moment(&together, from), moment(&together, to)),
        ("03-18T11:00".into(), "03-18T11:30".into())
    );
    assert_eq!(together.meanings[task].done_by, Some(0));
    // It turns for 6 h after a pour of 20 min in the demo studio, past the beginning of the plan.
    let used = together.book.tasks[task].uses[0];
    assert_eq!(moment(&together, from + used.from + used.length), "03-18T17:20");
    assert!(together.book.links.iter().any(|link| link.from == task));
    // What comes before a pour is done as well, each before the next.
    for earlier in 0..step(&orders, StepKind::Pour) {
        let earlier = &together.book.tasks[task_of(&together, earlier)];
        let ends = earlier.fixed.as_ref().expect("done").ends();
        assert!(
            ends <= from && earlier.hands.is_empty() && earlier.uses.is_empty(),
            "{}",
            earlier.name
        );
    }
    // Nothing else is.
    let fixed = |task: &Task| task.fixed.is_some();
    assert_eq!(together.book.tasks.iter().filter(|task| fixed(task)).count(), task + 1);
    assert!(together.book.links.iter().all(|link| {
        !(fixed(&together.book.tasks[link.from]) && fixed(&together.book.tasks[link.to]))
    }));
}

#[test]
fn dry_work_under_way_goes_on_with_what_is_left() {
    let started =
        told(StepKind::Set, "state = \"under-way\"\nbegan = 2027-03-18T13:00\nleft = \"42 min\"");
    let (together, orders) = after(1, &started).expect("a book");
    let set = &together.book.tasks[task_of(&together, step(&orders, StepKind::Set))];
    assert_eq!((set.work * 5, set.fixed.is_some(), set.sittings.is_some()), (45, false, true));
    let started = told(StepKind::Set, "state = \"under-way\"\nbegan = 2027-03-18T13:00");
    let (less, _) = after(1, &started).expect("a book");
    let (all, _) = after(1, "").expect("a book");
    let of = |together: &Together| {
        together.book.tasks[task_of(together, step(&orders, StepKind::Set))].work
    };
    assert_eq!((of(&all) - of(&less)) * 5, 60, "an hour is over");
}

#[test]
fn a_pour_under_way_stays_where_it_is_with_whoever_pours() {
    let poured = told(StepKind::Pour, "state = \"under-way\"\nbegan = 2027-03-18T13:50");
    let (together, orders) = after(1, &poured).expect("a book");
    let task = &together.book.tasks[task_of(&together, step(&orders, StepKind::Pour))];
    let placed = task.fixed.as_ref().expect("it stands");
    assert_eq!(placed.person, Some(0));
    assert_eq!(moment(&together, placed.begins()), "03-18T13:50");
    assert_eq!((placed.ends() - placed.begins()) * 5, 30, "20 min and the watch");
}

#[test]
fn a_coat_that_failed_is_sanded_once_it_is_hard_and_poured_again() {
    let failed = told(StepKind::Pour, "state = \"failed\"\nended = 2027-03-18T11:30");
    let (together, orders) = after(1, &failed).expect("a book");
    let pour = task_of(&together, step(&orders, StepKind::Pour));
    assert!(together.book.tasks[pour].fixed.is_none());
    let sand = together.meanings.iter().position(|meaning| meaning.what == What::SandOff);
    let sand = sand.expect("a sanding");
    let sanding = &together.book.tasks[sand];
    assert!(sanding.name.contains("Sand off and repair") && !sanding.optional);
    // Hard at 24 h after the pour, of which the watch of 10 min is over (the demo sheet).
    assert_eq!(moment(&together, sanding.not_before), "03-19T11:20");
    assert!(together.book.links.iter().any(|link| (link.from, link.to) == (sand, pour)));
    assert!(together.book.links.iter().all(|link| link.to != pour || link.relief.is_none()));
}

#[test]
fn what_cannot_have_happened_is_told_where_it_stands() {
    let pour = name(StepKind::Pour);
    let cases: [(String, &str, &str, &str); 7] = [
        (
            told(StepKind::Pour, "state = \"done\"\nended = 2027-03-18T15:00"),
            "happened[0].ended",
            "2027-03-18 15:00 is after the plan begins, on 2027-03-18 14:00",
            "under-way",
        ),
        (
            told(StepKind::Pour, "state = \"done\"\nended = 2027-03-18T11:00")
                .replace(&pour, "Poor coat 1 of 1"),
            "happened[0].step",
            "`samphire-bottle` has no step called `Poor coat 1 of 1`",
            "",
        ),
        (
            told(StepKind::Prepare, "state = \"done\"\nended = 2027-03-18T11:00")
                .replace("Prepare body", "Prepare bady"),
            "happened[0].step",
            "`samphire-bottle` has no step called `Prepare bady`",
            "Did you mean \"Prepare body\"?",
        ),
        (
            told(StepKind::Prepare, "part = \"bady\"\nstate = \"done\"\nended = 2027-03-18T11:00"),
            "happened[0].part",
            "`samphire-bottle` has no part called `bady`",
            "Did you mean \"body\"?",
        ),
        (
            told(StepKind::Prepare, "number = 2\nstate = \"done\"\nended = 2027-03-18T11:00"),
            "happened[0].number",
            "of the steps called `Prepare body` there is 1 here",
            "from 1",
        ),
        (
            told(StepKind::Prepare, "group = 2\nstate = \"done\"\nended = 2027-03-18T11:00"),
            "happened[0].group",
            "`samphire-bottle` is made in 1 group; there is no group 2",
            "",
        ),
        (
            told(StepKind::Prepare, "state = \"done\"\nended = 2027-03-18T11:00")
                .replace("samphire-bottle", "samphire-battle"),
            "happened[0].order",
            "there is no order called `samphire-battle`",
            "Did you mean \"samphire-bottle\"?",
        ),
    ];
    for (text, path, message, hint) in cases {
        let told = after(1, &text).expect_err(message);
        assert_eq!((told[0].path.0.as_str(), told[0].message.as_str()), (path, message));
        assert!(told[0].hints.join(" ").contains(hint), "{:?}", told[0]);
    }
    let prepared = told(StepKind::Prepare, "state = \"done\"\nended = 2027-03-18T11:00");
    let told_twice = after(1, &format!("{prepared}{prepared}")).expect_err("twice");
    assert!(told_twice[0].message.contains("told of twice"), "{told_twice:?}");
    // Two bottles on one spindle are two groups.
    let told_groups = after(2, &prepared).expect_err("which group?");
    assert_eq!(
        told_groups[0].message,
        "`samphire-bottle` is made in 2 groups; which of them is meant is not said"
    );
    assert!(after(2, &prepared.replace("step =", "group = 2\nstep =")).is_ok());
}

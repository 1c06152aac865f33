//! What contradicts itself in a book is told by name, one book for each kind.

use schedule::exact::Reason;
use schedule::{
    Book, Cost, Job, Link, Machine, Open, Outage, Person, Placed, Plan, Relief, Sittings, Slot,
    Task, Use, conflicts, exact,
};

/// Slots are quarter hours from Monday at midnight; a week.
const WEEK: Slot = 7 * 24 * 4;

fn task(name: &str, work: Slot, hands: &[usize]) -> Task {
    Task {
        name: name.into(),
        job: 0,
        work,
        hands: hands.to_vec(),
        sittings: None,
        uses: Vec::new(),
        not_before: 0,
        optional: false,
        mix: None,
        fixed: None,
    }
}

fn link(from: usize, to: usize, least: Slot, most: Option<Slot>) -> Link {
    Link { from, to, least, most, relief: None }
}

/// Who works from 18 to 22 each evening, and a turner with two spindles.
fn evenings(tasks: Vec<Task>, links: Vec<Link>) -> Book {
    let hours = (0..7).map(|day| (day * 96 + 72, day * 96 + 88)).collect();
    Book {
        horizon: WEEK,
        people: vec![Person { name: "Wren".into(), open: Open::from_stretches(hours) }],
        machines: vec![Machine { name: "turner".into(), capacity: 2, outages: Vec::new() }],
        tasks,
        links,
        jobs: vec![Job { name: "tern cup".into(), due: Some(90), weight: 1, leaves: Vec::new() }],
    }
}

fn only(book: &Book) -> (Reason, String) {
    let told = conflicts(book);
    assert_eq!(told.len(), 1, "{told:?}");
    assert_eq!(exact(book, None, &mut |_| true).as_ref().err(), told.first());
    (told[0].reason.clone(), told[0].to_string())
}

#[test]
fn a_least_gap_above_the_greatest() {
    let tasks = vec![task("wash", 2, &[0]), task("paint", 2, &[0])];
    let (reason, told) = only(&evenings(tasks, vec![link(0, 1, 8, Some(4))]));
    assert_eq!(reason, Reason::Gap { link: 0 });
    assert_eq!(
        told,
        "the least gap is above the greatest: “wash” to “paint”: at least 8 and at most 4 slots"
    );
}

#[test]
fn gaps_in_a_circle() {
    // Paint dries 20 slots, glitter 20 more; but the seal has to be on 30 after the paint.
    let tasks = vec![task("paint", 2, &[0]), task("glitter", 2, &[0]), task("seal", 2, &[0])];
    let links = vec![link(0, 1, 20, None), link(1, 2, 20, None), link(0, 2, 0, Some(30))];
    let (reason, told) = only(&evenings(tasks, links));
    let Reason::Cycle { steps, sum } = reason else { panic!("{reason:?}") };
    // 2 + 20 + 2 + 20 from begin to begin, of which 2 + 30 are allowed.
    assert_eq!(sum, 12);
    let mut links: Vec<_> = steps.iter().map(|step| (step.link, step.back)).collect();
    links.sort_unstable();
    assert_eq!(links, [(0, false), (1, false), (2, true)]);
    assert!(told.contains("12 slots after itself"), "{told}");
    assert!(["“paint”", "“glitter”", "“seal”"].iter().all(|name| told.contains(name)), "{told}");
}

#[test]
fn more_than_there_is() {
    let mut book = evenings(vec![task("pour", 2, &[0])], Vec::new());
    let used = Use { machine: 0, amount: 2, from: 0, length: 8 };
    book.tasks[0].uses = vec![used, Use { amount: 1, from: 4, ..used }];
    let (reason, told) = only(&book);
    assert_eq!(reason, Reason::Capacity { task: 0, machine: 0, amount: 3 });
    assert_eq!(told, "“pour” needs 3 of “turner” at a time, of which there are 2");
    book.tasks[0].uses.pop();
    book.machines[0].capacity = 0;
    assert_eq!(only(&book).0, Reason::Capacity { task: 0, machine: 0, amount: 2 });
}

#[test]
fn longer_than_any_evening() {
    let (reason, told) = only(&evenings(vec![task("set stones", 17, &[0])], Vec::new()));
    assert_eq!(reason, Reason::Alone { task: 0, longest: 16 });
    assert_eq!(
        told,
        "“set stones” takes 17 slots; the longest stretch in which Wren can do it has 16"
    );
    let mut split = task("set stones", 17, &[0]);
    split.sittings = Some(Sittings { least: 2, longest: 8, set_up: 1, rest: 1 });
    assert_eq!(conflicts(&evenings(vec![split], Vec::new())), []);
}

#[test]
fn a_machine_that_is_out_of_order_all_week() {
    let mut book = evenings(vec![task("pour", 2, &[0])], Vec::new());
    book.tasks[0].uses = vec![Use { machine: 0, amount: 1, from: 0, length: 8 }];
    book.machines[0].outages = vec![Outage { from: 0, to: WEEK, amount: 2 }];
    assert_eq!(only(&book).0, Reason::Alone { task: 0, longest: 16 });
}

#[test]
fn a_second_pour_when_nobody_is_there() {
    // The second pour has to follow within 8 hours but not before 6: from 18 to 22 nobody can.
    let tasks = vec![task("first pour", 2, &[0]), task("second pour", 2, &[0])];
    let mut book = evenings(tasks, vec![link(0, 1, 24, Some(32))]);
    let (reason, told) = only(&book);
    assert_eq!(reason, Reason::Hours { links: vec![0] });
    assert_eq!(
        told,
        "nobody's hours allow these gaps: “first pour” to “second pour”: at least 24 and at most \
         32 slots"
    );
    // Where something can be done instead, it is no contradiction.
    book.links[0].relief = Some(Relief { task: 2, before: 0, after: 0 });
    book.tasks.push(Task { optional: true, ..task("sand", 1, &[0]) });
    assert_eq!(conflicts(&book), []);
    // Within a day it goes.
    let tasks = book.tasks[..2].to_vec();
    let book = evenings(tasks, vec![link(0, 1, 24, Some(96))]);
    let found = exact(&book, None, &mut |_| true).expect("it goes");
    assert!(found.proven);
    // Monday from 18, and Tuesday from 18.
    assert_eq!(found.plan.expect("a plan").cost.finishes, 96 + 72 + 2);
}

#[test]
fn a_chain_of_gaps_of_which_each_alone_would_do() {
    // Each can follow on the same evening or the next, but not twice on the same.
    let names = ["first pour", "second pour", "third pour"];
    let tasks: Vec<_> = names.map(|name| task(name, 2, &[0])).into();
    let links = vec![link(0, 1, 6, Some(10)), link(1, 2, 6, Some(10))];
    let (reason, _) = only(&evenings(tasks, links));
    assert_eq!(reason, Reason::Hours { links: vec![0, 1] });
}

#[test]
fn a_week_that_is_too_short() {
    let tasks = vec![task("pour", 2, &[0]), task("cure", 0, &[]), task("pack", 2, &[0])];
    let book = evenings(tasks, vec![link(0, 1, 300, None), link(1, 2, 300, None)]);
    let (reason, told) = only(&book);
    assert_eq!(reason, Reason::Horizon { links: vec![0, 1], task: 2 });
    assert!(told.starts_with("“pack” cannot end before the horizon, slot 672: "), "{told}");
}

#[test]
fn gaps_that_only_a_search_finds_to_contradict_each_other() {
    // Two cups, each with a second pour the same evening; the one pair of hands can do one only.
    let names = ["first", "first again", "second", "second again", "wash"];
    let mut tasks: Vec<_> = names.map(|name| task(name, 5, &[0])).into();
    tasks[0].not_before = 6 * 96;
    tasks[2].not_before = 6 * 96;
    let links = vec![link(0, 1, 0, Some(6)), link(4, 0, 0, None), link(2, 3, 0, Some(6))];
    let book = evenings(tasks, links);
    assert_eq!(conflicts(&book), []);
    let conflict = exact(&book, None, &mut |_| true).expect_err("20 slots in an evening of 16");
    assert_eq!(conflict.reason, Reason::Links { together: vec![0, 2], loosen: vec![0] });
    assert!(conflict.to_string().contains("“first” to “first again”"), "{conflict}");
}

#[test]
fn too_much_for_the_week_whatever_the_gaps() {
    let tasks = (0..15).map(|at| task(&format!("cup {at}"), 8, &[0])).collect();
    let conflict = exact(&evenings(tasks, Vec::new()), None, &mut |_| true).expect_err("15 of 14");
    assert_eq!(conflict.reason, Reason::Full);
}

#[test]
fn what_is_not_plain_is_told() {
    let mut book = evenings(vec![task("wash", 2, &[0]), task("paint", 2, &[0])], Vec::new());
    book.tasks[1].optional = true;
    let told = exact(&book, None, &mut |_| true).expect_err("optional");
    assert_eq!(told.reason, Reason::NotPlainTask { task: 1 });
    assert!(told.to_string().starts_with("“paint” cannot be solved exactly"), "{told}");
}

#[test]
fn a_known_plan_is_never_made_worse_and_a_stop_is_heard() {
    let tasks = (0..6).map(|at| task(&format!("cup {at}"), 7, &[0])).collect();
    let book = evenings(tasks, Vec::new());
    let found = exact(&book, None, &mut |_| true).expect("it goes");
    let best = found.plan.expect("a plan");
    assert!(found.proven);
    // Two an evening: the last ends 14 slots after 18 on Wednesday.
    assert_eq!(best.cost, Cost { late: 278 - 90, finishes: 278, ..Cost::default() });
    let again = exact(&book, Some(&best), &mut |_| false).expect("it goes");
    assert_eq!(again.plan.expect("the one it was given").cost, best.cost);
    let late = |at: Slot| Placed {
        person: Some(0),
        stretches: vec![(at * 96 + 80, at * 96 + 87)],
        mix: None,
    };
    let tasks = (0..6).map(|at| Some(late(at))).collect();
    let poor = Plan { tasks, cost: Cost::default(), bound: Cost::default() };
    let stopped = exact(&book, Some(&poor), &mut |_| false).expect("it goes").plan.expect("a plan");
    assert!(stopped.cost.finishes <= 5 * 96 + 87, "{:?}", stopped.cost);
}

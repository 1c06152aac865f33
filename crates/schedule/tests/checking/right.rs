//! A small book that asks for everything that can be asked, and a plan that keeps to it.

use crate::checker::faults;
use schedule::{
    Book, Cost, Job, Link, Machine, Mix, Open, Outage, Person, Placed, Plan, Relief, Sittings,
    Slot, Task, Use,
};

/// Index of each task.
pub const PREPARE: usize = 0;
pub const POUR: usize = 1;
pub const SECOND_POUR: usize = 2;
pub const SAND: usize = 3;
pub const RECOAT: usize = 4;
pub const STONES: usize = 5;
pub const FEW_STONES: usize = 6;
pub const DONE: usize = 7;
pub const DRY: usize = 8;

fn task(name: &str, job: usize, work: Slot, hands: &[usize]) -> Task {
    Task {
        name: name.into(),
        job,
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

fn pour(name: &str, job: usize) -> Task {
    let mix = Mix { kind: 1, stir: 1, watch: 2, stands: 8, amount: 20, most: 50 };
    let uses = vec![Use { machine: 0, amount: 1, from: 0, length: 10 }];
    Task { mix: Some(mix), uses, ..task(name, job, 6, &[0]) }
}

fn stones(name: &str, work: Slot, hands: &[usize]) -> Task {
    let sittings = Some(Sittings { least: 6, longest: 12, set_up: 2, rest: 3 });
    Task { sittings, ..task(name, 1, work, hands) }
}

pub fn placed(person: Option<usize>, stretches: &[(Slot, Slot)], mix: Option<u32>) -> Placed {
    Placed { person, stretches: stretches.to_vec(), mix }
}

pub fn book() -> Book {
    let person = |name: &str, open: &[_]| Person {
        name: name.into(),
        open: Open::from_stretches(open.into()),
    };
    let link = |from, to, least, most, relief| Link { from, to, least, most, relief };
    Book {
        horizon: 100,
        people: vec![person("Samphire", &[(0, 50), (60, 100)]), person("Sedge", &[(0, 100)])],
        machines: vec![Machine {
            name: "spindle".into(),
            capacity: 2,
            outages: vec![Outage { from: 40, to: 45, amount: 1 }],
        }],
        tasks: vec![
            Task { not_before: 3, ..task("prepare", 0, 4, &[0, 1]) },
            pour("pour", 0),
            pour("second pour", 1),
            Task { optional: true, ..task("sand", 0, 2, &[0, 1]) },
            pour("recoat", 0),
            stones("stones", 20, &[1]),
            stones("few stones", 6, &[0, 1]),
            Task { fixed: Some(placed(Some(0), &[(0, 2)], None)), ..task("done", 1, 5, &[0]) },
            task("dry", 0, 3, &[]),
        ],
        links: vec![
            link(PREPARE, POUR, 0, None, None),
            link(POUR, RECOAT, 4, Some(8), Some(Relief { task: SAND, before: 20, after: 1 })),
            link(RECOAT, DRY, 5, Some(20), None),
        ],
        jobs: vec![
            Job { name: "heron".into(), due: Some(60), weight: 2, leaves: vec![50, 70] },
            Job { name: "samphire".into(), due: None, weight: 1, leaves: Vec::new() },
        ],
    }
}

pub fn plan() -> Plan {
    let tasks = vec![
        Some(placed(Some(0), &[(4, 8)], None)),
        Some(placed(Some(0), &[(8, 14)], Some(0))),
        // Without its stirring, while the first is watched.
        Some(placed(Some(0), &[(12, 17)], Some(0))),
        Some(placed(Some(1), &[(34, 36)], None)),
        Some(placed(Some(0), &[(43, 49)], Some(1))),
        Some(placed(Some(1), &[(0, 12), (15, 27)], None)),
        Some(placed(Some(1), &[(39, 47)], None)),
        Some(placed(Some(0), &[(0, 2)], None)),
        Some(placed(None, &[(60, 63)], None)),
    ];
    // The heron is done at 63, leaves at 70 and is 10 late at a weight of 2; the other is done at 47.
    let cost = Cost { late: 20, extras: 3, finishes: 110, moved: 0 };
    Plan { tasks, cost, bound: Cost::default() }
}

#[test]
fn a_right_plan_has_no_faults() {
    assert_eq!(faults(&book(), &plan()), Vec::<String>::new());
}

#[test]
fn a_last_sitting_may_be_shorter() {
    let mut plan = plan();
    plan.tasks[STONES] = Some(placed(Some(1), &[(0, 12), (15, 23), (26, 32)], None));
    assert_eq!(faults(&book(), &plan), Vec::<String>::new());
}

#[test]
fn nobody_can_help_what_is_history() {
    let mut book = book();
    // Done before the beginning of the book, shorter than asked, while someone else had the hands.
    book.tasks[PREPARE].fixed = Some(placed(Some(0), &[(-3, 1)], None));
    let mut plan = plan();
    plan.tasks[PREPARE].clone_from(&book.tasks[PREPARE].fixed);
    assert_eq!(faults(&book, &plan), Vec::<String>::new());
}

//! Every reason holds: with the task one slot earlier, the checker says the same.

use crate::checker::faults;
use crate::studio_books::random_studio;
use crate::{EVENINGS, FOUR, TWO, planned, told_anew};
use schedule::life::{Reason, why};
use schedule::{Book, Plan};
use std::collections::BTreeMap;

/// The plan with a task one slot earlier, by someone.
fn earlier(book: &Book, plan: &Plan, task: usize, person: Option<usize>) -> Plan {
    let mut plan = plan.clone();
    let placed = plan.tasks[task].as_mut().expect("it is in the plan");
    placed.stretches[0].0 -= 1;
    placed.stretches[0].1 -= 1;
    placed.person = person;
    told_anew(book, plan)
}

/// Whether a fault says what a reason says of a task.
fn says(book: &Book, fault: &str, task: usize, reason: &Reason) -> bool {
    let name = |task: usize| book.tasks[task].name.as_str();
    let has = |words: &[&str]| words.iter().all(|word| fault.contains(word));
    let person = |person: usize| book.people[person].name.as_str();
    match reason {
        Reason::NotBefore(slot) => has(&[name(task), &format!("before {slot}")]),
        Reason::Horizon(_) => has(&[name(task), "past the horizon"]),
        Reason::Gap { after, .. } => {
            has(&["slots between", name(*after), name(task), "least"])
                || has(&[name(task), "slots after the first"])
                || has(&[name(*after), "slots before the second"])
        }
        Reason::Window { then, .. } => has(&["slots between", name(task), name(*then), "most"]),
        Reason::Closed { person: who, at } => {
            has(&[person(*who), &format!("not there at {at} "), name(task)])
        }
        Reason::Busy { person: who, with, .. } => {
            has(&[person(*who), "at once", name(task), name(*with)])
        }
        Reason::Rest { .. } => has(&["too soon on"]),
        Reason::Full { machine, .. } => has(&[&format!("no {} at", book.machines[*machine].name)]),
        Reason::Mix { .. } => {
            has(&["back to back"])
                || has(&["by different people"])
                || has(&["mix stands"])
                || has(&[name(task), "takes"])
        }
        Reason::Ahead { .. } | Reason::TooLate { .. } | Reason::MayNot { .. } => false,
    }
}

#[test]
fn every_reason_is_true_and_without_one_the_task_can_begin_earlier() {
    let mut kinds: BTreeMap<String, u32> = BTreeMap::new();
    for (seed, kind, pieces) in [(1, EVENINGS, 8), (2, TWO, 10), (3, FOUR, 12), (4, TWO, 6)] {
        let book = random_studio(seed, pieces, kind);
        let plan = planned(&book, 3);
        for task in 0..book.tasks.len() {
            let Some(why) = why(&book, &plan, task) else {
                assert!(plan.tasks[task].is_none());
                continue;
            };
            if let Some(could) = &why.could {
                let mut plan = plan.clone();
                plan.tasks[task] = Some(could.placed.clone());
                could.spared.iter().for_each(|&spared| plan.tasks[spared] = None);
                let moved = told_anew(&book, plan.clone());
                crate::without_faults(&book, &moved);
                assert_eq!(could.placed.begins(), why.begins - 1);
                let cost = schedule::Cost { moved: plan.cost.moved, ..moved.cost };
                assert_eq!((could.cost, could.gains), (cost, cost < plan.cost));
                *kinds.entry("could".into()).or_default() += 1;
                continue;
            }
            let all: Vec<Option<usize>> = if why.people.is_empty() {
                vec![None]
            } else {
                why.people.iter().map(|&(person, _)| Some(person)).collect()
            };
            let mut hands = book.tasks[task].hands.clone();
            hands.retain(|person| !all.contains(&Some(*person)));
            assert!(hands.is_empty(), "nobody is left out");
            for (at, &person) in all.iter().enumerate() {
                let wrong = faults(&book, &earlier(&book, &plan, task, person));
                assert!(!wrong.is_empty(), "{why:?} and yet it can");
                let own = why.people.get(at).map_or(&[][..], |(_, own)| own);
                let whoever: &[Reason] = if at == 0 { &why.reasons } else { &[] };
                for reason in own.iter().chain(whoever) {
                    // Someone else's sittings are laid out anew, so only her first slot is compared.
                    let anew = at > 0 && book.tasks[task].sittings.is_some();
                    let told = wrong.iter().any(|fault| says(&book, fault, task, reason));
                    // A place that someone has not keeps rests from being looked at.
                    assert!(told || anew, "{reason:?} of {}: {wrong:?}", book.tasks[task].name);
                    let name = format!("{reason:?}");
                    let name = name.split([' ', '(']).next().expect("a name");
                    *kinds.entry(name.into()).or_default() += 1;
                }
            }
            let words = why.in_words(&book).to_string();
            assert!(words.contains("does not begin earlier: ") && words.len() > 50, "{words}");
        }
    }
    println!("{kinds:?}");
    for kind in ["could", "Gap", "Closed", "Busy", "Mix", "Full"] {
        assert!(kinds.contains_key(kind), "{kind} never came up: {kinds:?}");
    }
}

#[test]
fn a_task_waits_so_that_the_next_can_follow_within_its_window() {
    use schedule::{Job, Link, Open, Person, Task};
    let task = |name: &str, not_before| Task {
        name: name.into(),
        job: 0,
        work: 2,
        hands: vec![0],
        sittings: None,
        uses: Vec::new(),
        not_before,
        optional: false,
        mix: None,
        fixed: None,
    };
    let job = Job { name: "sea aster".into(), due: None, weight: 1, leaves: Vec::new() };
    let open = Open::from_stretches(vec![(0, 100)]);
    let book = Book {
        horizon: 100,
        people: vec![Person { name: "Sedge".into(), open }],
        machines: Vec::new(),
        tasks: vec![task("pour", 0), task("recoat", 50)],
        links: vec![Link { from: 0, to: 1, least: 4, most: Some(8), relief: None }],
        jobs: vec![job],
    };
    let at = |from| {
        Some(schedule::Placed { person: Some(0), stretches: vec![(from, from + 2)], mix: None })
    };
    let plan =
        Plan { tasks: vec![at(40), at(50)], cost: Default::default(), bound: Default::default() };
    let plan = told_anew(&book, plan);
    crate::without_faults(&book, &plan);
    let why = why(&book, &plan, 0).expect("it is in the plan");
    assert_eq!(why.reasons, vec![Reason::Window { then: 1, most: 8, relief: None }]);
    assert_eq!(
        why.in_words(&book).to_string(),
        "“pour” does not begin earlier: it waits so that “recoat” can follow in time"
    );
    let second = schedule::life::why(&book, &plan, 1).expect("it is in the plan");
    assert_eq!(second.reasons, vec![Reason::NotBefore(50)]);
}

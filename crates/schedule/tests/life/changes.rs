//! What can happen to a book.

use crate::studio_books::random_studio;
use crate::{TWO, planned};
use schedule::life::{Mending, Terms, done, fail, replan, spindle_out};

#[test]
fn a_failed_coat_is_sanded_and_poured_again_and_all_that_follows_waits() {
    let mut book = random_studio(11, 6, TWO);
    let plan = planned(&book, 3);
    let pours = (0..book.tasks.len()).filter(|&task| book.tasks[task].mix.is_some());
    let coat = pours.min_by_key(|&task| plan.tasks[task].as_ref().map_or(0, |at| at.begins()));
    let coat = coat.expect("a pour");
    let now = plan.tasks[coat].as_ref().expect("it is placed").ends();
    for task in 0..book.tasks.len() {
        if let Some(placed) = plan.tasks[task].as_ref().filter(|placed| placed.begins() < now) {
            done(&mut book, task, placed.clone());
        }
    }
    let sand = book.tasks.iter().find(|task| task.optional).expect("a sanding").clone();
    let before = 144;
    let (sand, again) = fail(&mut book, coat, Mending { sand, before, after: 0 });
    let terms = Terms { now, price: 500.0, seed: 1 };
    let replanned = replan(&book, &plan, terms, &mut |it| f64::from(it.round) / 3.0);
    let new = replanned.expect("a plan").plan;
    crate::without_faults(&book, &new);
    let place = |task: usize| new.tasks[task].as_ref().expect("it is placed");
    assert!(place(sand).begins() - place(coat).ends() >= before);
    assert!(place(again).begins() >= place(sand).ends());
    let after: Vec<_> = book.links.iter().filter(|link| link.from == again).collect();
    assert!(!after.is_empty() && after.iter().all(|link| link.to != sand));
    assert!(book.links.iter().all(|link| link.from != coat || link.to == sand));
}

#[test]
fn with_all_spindles_out_nothing_new_turns() {
    let mut book = random_studio(12, 6, TWO);
    let plan = planned(&book, 3);
    let (from, to) = (200, 4 * 288);
    for (task, placed) in plan.tasks.iter().enumerate() {
        if let Some(placed) = placed.as_ref().filter(|placed| placed.begins() < from) {
            done(&mut book, task, placed.clone());
        }
    }
    let capacity = book.machines[0].capacity;
    spindle_out(&mut book, 0, capacity, from, to);
    let terms = Terms { now: from, price: 500.0, seed: 1 };
    let replanned = replan(&book, &plan, terms, &mut |it| f64::from(it.round) / 3.0);
    let replanned = replanned.expect("a plan");
    crate::without_faults(&book, &replanned.plan);
    assert!(!replanned.moved.is_empty());
    let turning = |task: usize| book.tasks[task].uses.iter().any(|used| used.machine == 0);
    for (task, placed) in replanned.plan.tasks.iter().enumerate() {
        let Some(placed) =
            placed.as_ref().filter(|_| turning(task) && book.tasks[task].fixed.is_none())
        else {
            continue;
        };
        assert!(placed.begins() >= to, "{} turns at {}", book.tasks[task].name, placed.begins());
    }
}

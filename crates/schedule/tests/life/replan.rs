//! After lost days most steps stay where they are, and each that moves has its reason.

use crate::studio_books::random_studio;
use crate::{EVENINGS, TWO, planned};
use schedule::life::{Moved, Terms, done, lose_days, replan};
use schedule::{Book, Plan, Slot};

const DAY: Slot = 288;

/// The plan in force, and the book after the first maker is away for two days of the first week.
fn two_days_lost(book: &Book, plan: &Plan) -> (Book, Slot) {
    let mut book = book.clone();
    let (from, to) = (DAY, 3 * DAY);
    for (task, placed) in plan.tasks.iter().enumerate() {
        if let Some(placed) = placed.as_ref().filter(|placed| placed.begins() < from) {
            // What is under way goes on when she is back, if it is done in sittings.
            if placed.ends() <= from || book.tasks[task].sittings.is_none() {
                done(&mut book, task, placed.clone());
            }
        }
    }
    lose_days(&mut book, 0, from, to);
    (book, from)
}

#[test]
fn what_moves_has_its_reason_and_all_else_stays() {
    for (seed, kind) in [(1, EVENINGS), (2, TWO), (5, EVENINGS)] {
        let book = random_studio(seed, 10, kind);
        let plan = planned(&book, 4);
        let (changed, now) = two_days_lost(&book, &plan);
        let terms = Terms { now, price: 500.0, seed: 1 };
        let again = || replan(&changed, &plan, terms, &mut |it| f64::from(it.round) / 6.0);
        let replanned = again().expect("a plan");
        crate::without_faults(&changed, &replanned.plan);
        assert_eq!(again().as_ref(), Ok(&replanned), "the same again");
        assert_eq!(replanned.plan.cost.moved as usize, replanned.moved.len());
        for (task, (was, is)) in plan.tasks.iter().zip(&replanned.plan.tasks).enumerate() {
            let told = replanned.moved.iter().find(|it| it.task == task);
            let place =
                |it: &Option<schedule::Placed>| it.as_ref().map(|it| (it.begins(), it.person));
            assert_eq!(told.is_some(), was.is_some() && place(was) != place(is));
            if let (Some(at), None) = (is, &changed.tasks[task].fixed) {
                assert!(at.begins() >= now);
            }
        }
        for Moved { task, from, to, reasons } in &replanned.moved {
            // Put back where it was, it breaks a rule if a reason is told, and none if not.
            if to.is_none() {
                continue;
            }
            let mut back = replanned.plan.clone();
            back.tasks[*task] = Some(from.clone());
            let faults = crate::checker::faults(&changed, &crate::told_anew(&changed, back));
            let called = |fault: &String| !fault.contains("not called for");
            let wrong = faults.iter().any(called) || from.begins() < now;
            assert_eq!(wrong, !reasons.is_empty(), "{reasons:?} {faults:?}");
        }
        println!("{kind:?} {seed}: {} moved, {:?}", replanned.moved.len(), replanned.plan.cost);
    }
}

#[test]
fn where_nothing_has_happened_nothing_moves_for_nothing() {
    let book = random_studio(3, 10, TWO);
    let plan = planned(&book, 4);
    let terms = Terms { now: 0, price: 1e6, seed: 1 };
    let same = replan(&book, &plan, terms, &mut |it| f64::from(it.round) / 2.0).expect("a plan");
    assert_eq!((same.moved, same.late), (Vec::new(), Vec::new()));
    let (new, old) = (same.plan.cost, plan.cost);
    assert!(
        10 * new.late + new.finishes <= 10 * old.late + old.finishes + 12 * u64::from(old.extras)
    );
}

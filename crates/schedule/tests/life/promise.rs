//! Promises are kept by whole plans.

use crate::studio_books::{Kind, random_studio};
use crate::{EVENINGS, FOUR, TWO, planned};
use schedule::life::{Asked, promise};
use schedule::{Book, Plan, Slot};

/// A studio with a plan for all but the last piece.
fn with_a_new_job(seed: u64, pieces: usize, kind: Kind, rounds: u32) -> (Book, Plan) {
    let book = random_studio(seed, pieces, kind);
    let last = pieces - 1;
    let mut known = book.clone();
    known.tasks.retain(|task| task.job != last);
    let count = known.tasks.len();
    assert!(book.tasks[..count].iter().all(|task| task.job != last), "its tasks come last");
    known.links.retain(|link| link.from < count && link.to < count);
    known.jobs.pop();
    (book, planned(&known, rounds))
}

fn leaves(book: &Book, plan: &Plan) -> Vec<Slot> {
    let mut ends = vec![0; book.jobs.len()];
    for (task, placed) in book.tasks.iter().zip(&plan.tasks) {
        ends[task.job] = ends[task.job].max(placed.as_ref().map_or(0, |placed| placed.ends()));
    }
    book.jobs.iter().zip(ends).map(|(job, ends)| job.leaves_at(ends)).collect()
}

#[test]
fn each_promise_comes_with_a_plan_that_keeps_it() {
    for (seed, kind) in [(1, EVENINGS), (2, TWO), (3, FOUR)] {
        let (book, in_force) = with_a_new_job(seed, 10, kind, 4);
        let new = book.jobs.len() - 1;
        let before = leaves(&book, &in_force);
        let lead = before.iter().max().expect("a job");
        let dues = [lead / 2, lead / 3];
        let asked = Asked { job: new, now: 0, dues: &dues, seed: 5 };
        let promise = promise(&book, &in_force, asked, &mut |it| f64::from(it.round) / 40.0);
        let as_it_is = promise.as_it_is.expect("room");
        crate::without_faults(&book, &as_it_is.plan);
        for (was, is) in in_force.tasks.iter().zip(&as_it_is.plan.tasks) {
            let place = |it: &Option<schedule::Placed>| {
                it.as_ref().map(|it| (it.person, it.stretches.clone()))
            };
            assert_eq!(place(was), place(is), "nothing else moves");
        }
        let room = promise.making_room.expect("room");
        crate::without_faults(&book, &room.plan);
        assert!(room.leaves <= as_it_is.leaves);
        let after = leaves(&book, &room.plan);
        assert_eq!(after[new], room.leaves);
        for job in 0..new {
            let may = book.jobs[job].due.map_or(before[job], |due| due.max(before[job]));
            assert!(after[job] <= may, "{} gets later", book.jobs[job].name);
        }
        assert_eq!(promise.early.len(), 2);
        for (early, due) in promise.early.iter().zip(dues) {
            crate::without_faults(&book, &early.promised.plan);
            let after = leaves(&book, &early.promised.plan);
            assert_eq!((early.due, early.promised.leaves), (due, after[new]));
            let late = |job: usize| {
                let told = &book.jobs[job];
                u64::from(told.weight) * (after[job] - told.due.expect("a due time")).max(0) as u64
            };
            assert_eq!(early.weighted, (0..new).map(late).sum::<u64>());
            for job in 0..new {
                let may = book.jobs[job].due.map_or(before[job], |due| due.max(before[job]));
                let told = early.later.iter().find(|later| later.job == job);
                assert_eq!(told.map_or(0, |later| later.by), (after[job] - may).max(0));
            }
        }
        println!(
            "{kind:?}: as it is {}, making room {}, early {:?}",
            as_it_is.leaves,
            room.leaves,
            promise.early.iter().map(|it| (it.promised.leaves, it.later.len())).collect::<Vec<_>>()
        );
    }
}

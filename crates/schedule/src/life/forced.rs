//! What cannot stay where it stands, whatever else is done.

use super::blockers::{Reason, blockers};
use crate::book::{Book, Slot};
use crate::decode::in_order;
use crate::plan::Placed;

/// For each task whether it cannot stay at home: its hours are gone, something fixed is in its place, or
/// the tasks before it cannot be done in time even if hands and machines had nothing else to do.
pub(super) fn forced(book: &Book, home: &[Option<Placed>], now: Slot) -> Vec<bool> {
    let fixed = |task: usize| book.tasks[task].fixed.as_ref();
    // Where only fixed tasks, hours and machines stand in the way.
    let alone: Vec<Option<Placed>> = (0..home.len()).map(|task| fixed(task).cloned()).collect();
    let mut forced = vec![false; home.len()];
    let mut ends: Vec<Option<Slot>> = vec![None; home.len()];
    for task in in_order(book) {
        if let Some(fixed) = fixed(task) {
            ends[task] = Some(fixed.ends());
            continue;
        }
        let asked = &book.tasks[task];
        let mut from = asked.not_before.max(now);
        for link in book.links.iter().filter(|link| link.to == task) {
            from = ends[link.from].map_or(from, |ends| from.max(ends + link.least));
        }
        let Some(at) = &home[task] else {
            if !asked.optional {
                ends[task] = Some(from + shortest(book, task));
            }
            continue;
        };
        // Sittings but the first may be laid out anew at the same beginning.
        let first = Placed { stretches: at.stretches[..1].to_vec(), ..at.clone() };
        let stands = blockers(book, &alone, task, &first).into_iter();
        forced[task] = from > at.begins() || stands.filter(|it| !beyond(it)).count() > 0;
        let begins = if forced[task] { first_open(book, task, from) } else { at.begins() };
        ends[task] = Some(if forced[task] || at.stretches.len() > 1 {
            begins + shortest(book, task)
        } else {
            at.ends()
        });
    }
    forced
}

/// Whether a reason is not about the task's beginning.
fn beyond(reason: &Reason) -> bool {
    matches!(reason, Reason::Ahead { .. } | Reason::Window { .. } | Reason::TooLate { .. })
}

/// The least time from beginning to end.
fn shortest(book: &Book, task: usize) -> Slot {
    let task = &book.tasks[task];
    let saved = task.mix.map_or(0, |mix| mix.stir);
    task.work - saved + task.sittings.map_or(0, |sittings| sittings.set_up)
}

/// The first slot in which someone who may do a task is there.
fn first_open(book: &Book, task: usize, from: Slot) -> Slot {
    let hands = book.tasks[task].hands.iter();
    let open = hands.filter_map(|&person| {
        let stretches = book.people[person].open.stretches();
        stretches.iter().find(|stretch| stretch.1 > from).map(|stretch| stretch.0.max(from))
    });
    open.min().unwrap_or(from)
}

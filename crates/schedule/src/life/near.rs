//! The part of a book that is still open.

use crate::book::{Book, Slot};
use crate::plan::{Placed, Plan};

/// The same book, in which nothing that is not fixed begins before now.
pub(super) fn from_now(book: &Book, now: Slot) -> Book {
    let mut book = book.clone();
    for task in &mut book.tasks {
        task.not_before = task.not_before.max(now);
    }
    book
}

/// How much longer than the plan in force the time is that is looked at, because less is looked at
/// sooner; what has no place in it is given all of the book.
pub(super) fn near(book: &Book, in_force: &Plan, now: Slot) -> Book {
    let fixed = book.tasks.iter().filter_map(|task| task.fixed.as_ref());
    let ends = in_force.tasks.iter().flatten().chain(fixed).map(Placed::ends).max();
    let last = ends.unwrap_or(book.horizon).max(now);
    let uses = book.tasks.iter().flat_map(|task| &task.uses);
    let outlasts = uses.map(|used| used.from + used.length).max().unwrap_or(0);
    let far = last.saturating_add((last - now) / 2).saturating_add(4 * outlasts);
    Book { horizon: book.horizon.min(far), ..from_now(book, now) }
}
